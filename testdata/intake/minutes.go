package main

import (
	"fmt"
	"strings"
)

// minutes are times that may be in minutes where no limit says otherwise, and short times that
// are none.
func minutes() {
	// table is a table of two trainees with these times, half of them each, and what it means.
	table := func(head string, times ...string) ([]byte, string) {
		var b strings.Builder
		var truth []string
		fmt.Fprintf(&b, "trainee,attempt,%s\n", head)
		for k, v := range times {
			who, n := 1+2*k/len(times), 1+k%(len(times)/2)
			fmt.Fprintf(&b, "T%d,%d,%s\n", who, n, v)
			truth = append(truth, fmt.Sprintf("T%d %d %s done", who, n, strings.TrimSuffix(strings.TrimRight(v, "0"), ".")))
		}
		return []byte(b.String()), strings.Join(truth, "; ")
	}
	flags := func(head string) string {
		return "--trainee trainee --attempt attempt --response " + head + " --measure time"
	}
	doubt := func(name, head, more string, times ...string) {
		data, truth := table(head, times...)
		warn(name, flags(head)+more, data, "unit-not-sure", truth)
	}
	plain := func(name, head, more string, times ...string) {
		data, truth := table(head, times...)
		without(name, flags(head)+more, data, "unit-not-sure", truth)
	}
	quarters := []string{"12.25", "10.5", "8.75", "7.5", "14.75", "11.25", "9.25", "8.25"}
	below := []string{"9.4", "8.1", "6.9", "5.8", "9.9", "7.7", "6.6", "5.9"}
	doubt("minutes-in-quarters.csv", "time", "", quarters...)
	plain("minutes-in-quarters-said.csv", "time", " --times seconds", quarters...)
	doubt("below-ten.csv", "time", "", below...)
	plain("below-ten-said.csv", "time", " --times seconds", below...)
	plain("below-ten-in-head.csv", "time_s", "", below...)
	plain("below-ten-limit.csv", "time", " --limit 15", below...)
	plain("below-ten-standard.csv", "time", " --standard 6", below...)
	doubt("far-below-standard.csv", "time", " --standard 60", "4.8", "4.1", "3.9", "3.2", "5.9", "4.7", "3.6", "3.3")
	plain("reactions.csv", "time", "", "0.412", "0.387", "0.351", "0.364", "0.521", "0.478", "0.433", "0.401")
	plain("twelve-seconds.csv", "time", "", "12.4", "9.1", "8.9", "7.8", "13.9", "10.7", "9.6", "8.9")

	data, truth := table("time", below...)
	study := func(unit string) folder {
		return folder{"study.yaml": "tasks: [{name: task, measure: time, column: time, unit: " + unit + "}]\nattempts: {file: log.csv}\n", "log.csv": string(data)}
	}
	putStudy("below-ten-unit-s", study("s"), "read", "!unit-not-sure", truth)
	refuseStudy("below-ten-unit-min", study("min"), "the unit of a time to be s")

	// The experts' times say in which unit the trainees' are, and the other way round.
	const seconds, minutes = "1,138\nT1,2,121\nT1,3,98\nT1,4,87\n", "1,2.3\nT1,2,2.02\nT1,3,1.63\nT1,4,1.46\n"
	const expertSeconds, expertMinutes = "X1,1,48\nX1,2,44\nX2,1,52\nX2,2,41\n", "X1,1,0.8\nX1,2,0.73\nX2,1,0.87\nX2,2,0.68\n"
	both := func(log, experts, more string) folder {
		return folder{"study.yaml": "tasks: [{name: task, measure: time, column: time}]\nattempts: {file: log.csv}\nexperts: {file: experts.csv" + more + "}\n",
			"log.csv": "trainee,attempt,time\nT1," + log, "experts.csv": "expert,run,time\n" + experts}
	}
	inSeconds := "T1 1 138 done; T1 2 121 done; T1 3 98 done; T1 4 87 done"
	addStudy("experts-alike", both(seconds, expertSeconds, ""), inSeconds)
	refuseStudy("experts-in-minutes-no-limit", both(seconds, expertMinutes, ""), `experts.csv: column "time"`)
	addStudy("experts-in-minutes-said", both(seconds, expertMinutes, ", times: minutes"), inSeconds)
	refuseStudy("trainees-in-minutes-by-experts", both(minutes, expertSeconds, ""), `log.csv: column "time"`)
	addStudy("experts-far-quicker", both("1,300\nT1,2,290\nT1,3,280\nT1,4,260\n", "X1,1,14\nX1,2,15\nX2,1,13\nX2,2,16\n", ""), "T1 1 300 done; T1 2 290 done; T1 3 280 done; T1 4 260 done")
}
