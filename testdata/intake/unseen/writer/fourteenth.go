package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
)

// fourteenth is of text files alone: what a new user with a skills lab has on the disk, spread over how times
// are written, which columns and rows there are, who is who, ratings, and the shapes of a text table.
func fourteenth() {
	timesRead14()
	timesDoubt14()
	columnsRead14()
	columnsDoubt14()
	people14()
	ratings14()
	shapes14()
	encodings14()
	unreadable14()
}

const usual14 = "--trainee trainee --attempt attempt --response seconds --measure time"

// practised14 makes up times to the millisecond: they fall with practice from about start to about plateau and
// scatter by an eighth, between 40 and 280 s; the trainees make so many attempts in turn.
func practised14(seed uint64, start, plateau float64, counts []int, who ...string) []at {
	r := rand.New(rand.NewPCG(seed, 14))
	var out []at
	for i, w := range who {
		person, rate := math.Exp(0.1*r.NormFloat64()), 0.5+0.4*r.Float64()
		for n := 1; n <= counts[i%len(counts)]; n++ {
			v := 0.0
			for v < 40 || v > 280 {
				v = person * (plateau + (start-plateau)*math.Pow(float64(n), -rate)) * math.Exp(0.12*r.NormFloat64())
			}
			out = append(out, at{w, n, math.Round(v*1000) / 1000, "done"})
		}
	}
	return out
}

// clock14 writes whole seconds as minutes and seconds by a format.
func clock14(format string) func(v float64) string {
	return func(v float64) string { s := int(math.Round(v)); return fmt.Sprintf(format, s/60, s%60) }
}

// later14 puts everybody's attempts after this one below all others.
func later14(l []at, last int) []at {
	var first, then []at
	for _, a := range l {
		if a.n <= last {
			first = append(first, a)
		} else {
			then = append(then, a)
		}
	}
	return append(first, then...)
}

// timesRead14: times written in one way that can be told.
func timesRead14() {
	// A teaching assistant in Germany, saved from a spreadsheet as CSV on a desk computer.
	l := rounded(practised14(101, 170, 70, []int{9, 8, 10}, numbered("K%02d", 8)...), 0.1)
	read("14-semikolon-komma", "Zeiten.csv", "--trainee Kürzel --attempt Durchgang --response Zeit~(s) --measure time --limit 300",
		encoded(charmap.Windows1252, crlf(lines("Kürzel;Durchgang;Zeit (s)", l, plain(";", fixedComma(1))))), l)

	// An Italian lab's stopwatch program writes minutes, seconds and hundredths with colons and says so in the head.
	l = rounded(practised14(102, 150, 62, []int{7}, numbered("spec%d", 7)...), 0.01)
	read("14-centesimi", "cronometro.csv", "--trainee allievo --attempt prova --response tempo~(mm:ss:cc) --measure time --limit 300",
		lines("allievo;prova;tempo (mm:ss:cc)", l, plain(";", func(v float64) string {
			h := int(math.Round(v * 100))
			return fmt.Sprintf("%02d:%02d:%02d", h/6000, h%6000/100, h%100)
		})), l)

	// A nurse educator typed minutes and seconds into a sheet and pasted it into a text file: tabs.
	l = rounded(practised14(103, 210, 95, []int{8, 8, 6}, numbered("N-%d", 9)...), 1)
	read("14-minutes-seconds", "line placement.tsv", "--trainee Nurse --attempt Try --response Time --measure time --limit 300",
		lines("Nurse\tTry\tTime", l, plain("\t", clock14("%d:%02d"))), l)

	// A Spanish workshop's phone form writes 1m38s and 58s.
	l = rounded(practised14(104, 140, 55, []int{10}, numbered("al%02d", 6)...), 1)
	read("14-m-s-letters", "taller.csv", "--trainee alumno --attempt intento --response tiempo --measure time --limit 240",
		lines("alumno,intento,tiempo", l, plain(",", func(v float64) string {
			if v < 60 {
				return fmt.Sprintf("%.0fs", v)
			}
			return clock14("%dm%02ds")(v)
		})), l)

	// A French lab writes 1'38" as it does on paper, parted by tabs.
	l = rounded(practised14(105, 190, 85, []int{6, 7}, numbered("E%d", 8)...), 1)
	read("14-prime-marks", "chrono.txt", "--trainee étudiant --attempt essai --response temps --measure time --limit 300",
		lines("étudiant\tessai\ttemps", l, plain("\t", clock14("%d'%02d\""))), l)

	// A free office program's cells with hours, minutes and seconds, saved as CSV.
	l = rounded(practised14(106, 230, 110, []int{8}, numberedFrom("R%d", 11, 6)...), 1)
	read("14-h-mm-ss", "suturing.csv", "--trainee resident --attempt attempt --response duration --measure time --limit 600",
		lines("resident,attempt,duration", l, plain(",", clock14("0:%02d:%02d"))), l)

	// A hand-held stopwatch with tenths, typed in Austria.
	l = rounded(practised14(107, 130, 58, []int{9}, numbered("TN%d", 7)...), 0.1)
	read("14-mm-ss-tenths", "Naht.csv", "--trainee Teilnehmer --attempt Versuch --response Zeit --measure time --limit 300",
		crlf(lines("Teilnehmer;Versuch;Zeit", l, plain(";", minutes("%02d:%02d,%d")))), l)

	// A bench box with a switch writes milliseconds.
	l = practised14(108, 120, 52, []int{12}, numberedFrom("card%03d", 17, 6)...)
	read("14-milliseconds", "box_7.csv", "--trainee card --attempt run --response duration_ms --measure time",
		lines("card,run,duration_ms", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*1000) })), l)

	// Whole seconds, one line a trainee; whoever was stopped has the limit itself.
	l = with(rounded(practised14(109, 275, 150, []int{8}, numbered("S%d", 8)...), 1), func(a *at) {
		if a.value >= 240 {
			a.value, a.outcome = 240, "timeout"
		}
	})
	read("14-at-the-limit", "knot_wide.csv", "--trainee id --measure time --limit 240", wide(headLine("id", ",", "Attempt %d", 8), ",", l, point), l)

	// A Dutch tutor writes the unit behind every number.
	l = rounded(practised14(110, 160, 75, []int{7, 9}, numbered("d%02d", 6)...), 0.1)
	read("14-unit-in-cells", "tijden.csv", "--trainee deelnemer --attempt poging --response tijd --measure time --limit 300",
		lines("deelnemer;poging;tijd", l, plain(";", func(v float64) string { return fixedComma(1)(v) + " s" })), l)

	// Stopped attempts are written >300.
	l = rounded(practised14(111, 250, 120, []int{8}, numbered("P%d", 7)...), 1)
	for _, i := range []int{0, 8, 9, 24, 40} {
		l[i].value, l[i].outcome = 300, "timeout"
	}
	read("14-more-than-limit", "cannulation.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a.outcome == "timeout" {
				return fmt.Sprintf("%s,%d,>300", a.who, a.n)
			}
			return plain(",", point)(a)
		}), l)
}

// timesDoubt14: times that could mean two things, or are likely mistyped.
func timesDoubt14() {
	// Typed in a text editor by somebody who writes decimal commas, into a file parted by commas.
	l := rounded(practised14(121, 165, 80, []int{6}, numbered("T%d", 7)...), 0.1)
	doubt("14-decimal-comma-in-commas", "pegs.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds,note", l, func(a at) string { return plain(",", fixedComma(1))(a) + "," }), l,
		"every row: 138,4 is cut in two by the separator, so that rows have five cells under four heads")

	// 98,200 in quotes: three decimals after a comma, or thousands.
	l = practised14(122, 150, 66, []int{8}, numbered("G%d", 6)...)
	doubt("14-quoted-98,200", "export (2).csv", "--trainee user --attempt no --response time --measure time",
		lines("user,no,time", l, plain(",", func(v float64) string { return `"` + fixedComma(3)(v) + `"` })), l,
		"column time: 98,200 is 98.2 with a decimal comma or 98200 with a mark of thousands")

	// 1.38 for one minute 38, typed so for speed.
	l = rounded(practised14(123, 185, 72, []int{8, 7}, numbered("B%d", 8)...), 1)
	doubt("14-point-for-colon", "drill times.csv", "--trainee Name --attempt Go --response Time --measure time",
		lines("Name,Go,Time", l, plain(",", clock14("%d.%02d"))), l,
		"column Time: 1.38 is 1 min 38 s, for no figure after the point is above 59")

	// One trainee's sheet was kept by somebody who counts in minutes.
	l = rounded(practised14(124, 200, 90, []int{8}, numbered("A%d", 7)...), 1)
	l = with(l, func(a *at) {
		if a.who == "A4" {
			a.value = math.Round(math.Round(a.value/60*100)/100*600) / 10
		}
	})
	doubt("14-one-in-minutes", "merged.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a.who == "A4" {
				return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/60)
			}
			return plain(",", point)(a)
		}), l, "trainee A4: all times are between 1 and 4, minutes among seconds")

	// A statistics program's code for a missing value stayed in the export.
	l = rounded(practised14(125, 155, 68, []int{9}, numberedFrom("%d", 201, 7)...), 1)
	var meant []at
	gone := func(a at) bool {
		return a.who == "203" && a.n == 6 || a.who == "205" && a.n == 9 || a.who == "206" && a.n == 2
	}
	for _, a := range l {
		if !gone(a) {
			meant = append(meant, a)
		}
	}
	doubt("14-code-999", "trials_out.csv", "--trainee ID --attempt TRIAL --response TIME --measure time --limit 300",
		lines("ID,TRIAL,TIME", l, func(a at) string {
			if gone(a) {
				a.value = 999
			}
			return plain(",", point)(a)
		}), meant, "column TIME, three rows: 999 is above the limit and a code for missing")

	// The point was not typed once.
	l = rounded(practised14(126, 140, 64, []int{10}, numbered("L%d", 6)...), 0.1)
	l[27].value = 98.2
	doubt("14-point-lost", "week 5.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a == l[27] {
				return plain(",", fixed(0))(at{a.who, a.n, 982, ""})
			}
			return plain(",", fixed(1))(a)
		}), l, "trainee L3, attempt 8: 982 is 98.2 without its point, not an attempt that reached the limit")

	// The course changed its limit; the user gives the new one, these were stopped at the old one.
	l = with(rounded(practised14(127, 150, 85, []int{8}, numbered("M%d", 8)...), 0.1), func(a *at) {
		if a.value > 149 || a.n == 1 && a.value > 120 {
			a.value, a.outcome = 150, "timeout"
		}
	})
	doubt("14-old-limit", "spring.csv", usual14+" --outcome outcome --limit 300",
		lines("trainee,attempt,seconds,outcome", l, func(a at) string { return plain(",", point)(a) + "," + a.outcome }), l,
		"the attempts with outcome timeout have 150 s, half of the limit of 300 s")

	// The tutor let two go on after the limit.
	l = rounded(practised14(128, 160, 78, []int{7}, numbered("W%d", 7)...), 0.1)
	l = with(l, func(a *at) {
		if a.value > 178 {
			a.value = math.Round(10*(150+math.Mod(a.value, 27))) / 10
		}
	})
	l[7].value, l[21].value = 203.4, 214.8
	doubt("14-went-on", "transfer.csv", usual14+" --limit 180", lines("trainee,attempt,seconds", l, plain(",", point)), nil,
		"W2 attempt 1 (203.4) and W4 attempt 1 (214.8) are above the limit of 180 s: finished late, or stopped")
}

// columnsRead14: more columns and rows than the attempts, all plain.
func columnsRead14() {
	// A research nurse keeps an outcome with every attempt, and names it.
	l := rounded(practised14(141, 220, 100, []int{8}, numbered("Z%02d", 8)...), 1)
	for i, o := range map[int]string{0: "timeout", 16: "timeout", 3: "failed", 26: "failed", 45: "void"} {
		l[i].outcome = o
		switch o {
		case "timeout":
			l[i].value = 300
		case "void":
			l[i].value = math.NaN()
		}
	}
	read("14-outcome-named", "attempts.csv", usual14+" --outcome outcome --limit 300",
		lines("trainee,attempt,seconds,outcome", l, func(a at) string {
			if math.IsNaN(a.value) {
				return fmt.Sprintf("%s,%d,,%s", a.who, a.n, a.outcome)
			}
			return plain(",", point)(a) + "," + a.outcome
		}), l)

	// One attempt each week; the heads are the days.
	l = rounded(practised14(142, 180, 88, []int{6}, numbered("V%d", 8)...), 1)
	read("14-days-as-heads", "weekly.csv", "--trainee code --measure time --limit 300",
		wide("code,2026-02-03,2026-02-10,2026-02-17,2026-02-24,2026-03-03,2026-03-10", ",", l, point), l)

	// The same in Portugal, days first.
	l = rounded(practised14(143, 165, 82, []int{7}, numbered("p%d", 6)...), 0.1)
	read("14-dias-como-colunas", "tempos.csv", "--trainee código --measure time --limit 300",
		wide("código;13/04/2026;20/04/2026;27/04/2026;04/05/2026;11/05/2026;18/05/2026;25/05/2026", ";", l, fixedComma(1)), l)

	// A teacher's table with means and spreads below.
	l = rounded(practised14(144, 195, 92, []int{7}, numbered("Azubi %d", 8)...), 1)
	var b bytes.Buffer
	b.Write(wide(headLine("Name", ";", "Versuch %d", 7), ";", l, point))
	b.WriteString("Mittelwert")
	for n := 1; n <= 7; n++ {
		mean, _ := spread14(l, n)
		b.WriteString(";" + fixedComma(1)(mean))
	}
	b.WriteString("\nStandardabweichung")
	for n := 1; n <= 7; n++ {
		_, sd := spread14(l, n)
		b.WriteString(";" + fixedComma(1)(sd))
	}
	b.WriteString("\n")
	read("14-mittelwert-unten", "Werkstatt.csv", "--trainee Name --measure time --limit 300", b.Bytes(), l)

	// Sums at the right.
	l = rounded(practised14(145, 150, 70, []int{6}, numbered("C%d", 9)...), 1)
	b = bytes.Buffer{}
	b.WriteString("Cadet,1,2,3,4,5,6,Total,Mean,Best\n")
	for _, w := range traineesOf(l) {
		b.WriteString(w)
		total, best := 0.0, math.Inf(1)
		for _, a := range attemptsOf(l, w) {
			b.WriteString("," + point(a.value))
			total, best = total+a.value, math.Min(best, a.value)
		}
		fmt.Fprintf(&b, ",%v,%.1f,%v\n", total, total/6, best)
	}
	read("14-totals-at-the-right", "cadets.csv", "--trainee Cadet --measure time --limit 300", bytes.Clone(b.Bytes()), l)

	// Some stopped earlier: blank cells at the end of their line.
	counts := []int{10, 7, 10, 5, 9, 10, 8}
	l = rounded(practised14(146, 145, 60, counts, numbered("Y%d", 7)...), 0.1)
	b = bytes.Buffer{}
	b.WriteString(headLine("subject", ",", "trial%d", 10) + "\n")
	for i, w := range traineesOf(l) {
		b.WriteString(w)
		for _, a := range attemptsOf(l, w) {
			b.WriteString("," + point(a.value))
		}
		b.WriteString(strings.Repeat(",", 10-counts[i]) + "\n")
	}
	read("14-stopped-earlier", "trials.csv", "--trainee subject --measure time --limit 300", bytes.Clone(b.Bytes()), l)

	// The code stands only in the first row of each trainee.
	l = rounded(practised14(147, 175, 84, []int{6, 8}, numbered("Lab-%d", 7)...), 0.1)
	read("14-code-once", "report table.csv", "--trainee Trainee --attempt Attempt --response Seconds --measure time --limit 300",
		lines("Trainee,Attempt,Seconds", l, func(a at) string {
			if a.n > 1 {
				return strings.TrimPrefix(plain(",", point)(a), a.who)
			}
			return plain(",", point)(a)
		}), l)

	// Drops are counted, and where there are none 0 is written.
	r := rand.New(rand.NewPCG(148, 14))
	l = with(practised14(148, 100, 60, []int{10}, numbered("J%d", 6)...), func(a *at) {
		a.value = math.Floor(8*math.Pow(float64(a.n), -0.7) + 3*r.Float64() - 1.6)
		a.value = math.Max(a.value, 0)
	})
	read("14-errors-counted", "drops.csv", "--trainee id --attempt attempt --response drops --measure count",
		lines("id,attempt,drops", l, plain(",", point)), l)

	// A course office's export: more columns that stay the same for everybody or say who a trainee is.
	l = rounded(practised14(149, 160, 74, []int{8}, numbered("ST%02d", 7)...), 0.1)
	read("14-more-columns", "course_export.csv", "--trainee trainee_code --attempt attempt_no --response time_s --measure time --limit 300",
		lines("course,year_of_training,trainee_code,attempt_no,task,time_s", l, func(a at) string {
			return fmt.Sprintf("Basic skills A,%d,%s,%d,ring transfer,%v", 1+int(a.who[3]-'0')%3, a.who, a.n, a.value)
		}), l)
}

// spread14 is mean and standard deviation of everybody's attempt with this number.
func spread14(l []at, n int) (mean, sd float64) {
	k, sum, squares := 0.0, 0.0, 0.0
	for _, a := range l {
		if a.n == n {
			k, sum, squares = k+1, sum+a.value, squares+a.value*a.value
		}
	}
	return sum / k, math.Sqrt((squares - sum*sum/k) / (k - 1))
}

// columnsDoubt14: columns and rows that say more than the flags.
func columnsDoubt14() {
	// Outcome is there, but no flag names it.
	l := rounded(practised14(161, 190, 90, []int{8}, numbered("F%d", 7)...), 1)
	for _, i := range []int{2, 11, 17, 33, 50} {
		l[i].outcome = "failed"
	}
	doubt("14-outcome-not-named", "anastomosis.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds,outcome", l, func(a at) string { return plain(",", point)(a) + "," + a.outcome }), l,
		"column outcome, not named by a flag: five attempts failed")

	// Two tasks in one file, each numbered on its own; nobody says which is meant.
	l = rounded(practised14(162, 150, 70, []int{6}, numbered("H%d", 6)...), 0.1)
	other := rounded(practised14(163, 260, 170, []int{6}, numbered("H%d", 6)...), 0.1)
	both := lines("trainee,task,attempt,seconds", l, func(a at) string { return fmt.Sprintf("%s,peg,%d,%v", a.who, a.n, a.value) })
	both = append(both, lines("", other, func(a at) string { return fmt.Sprintf("%s,knot,%d,%v", a.who, a.n, a.value) })[1:]...)
	doubt("14-two-tasks", "both tasks.csv", usual14+" --limit 300", both, nil,
		"column task: peg and knot, so that every trainee has each attempt number twice")

	// The user gives the day for the attempt: days written in eight digits are whole numbers.
	l = rounded(practised14(164, 170, 80, []int{7}, numbered("D%d", 6)...), 1)
	first := time.Date(2026, 1, 12, 0, 0, 0, 0, time.UTC)
	doubt("14-day-as-attempt", "log2026.csv", "--trainee trainee --attempt day --response seconds --measure time --limit 300",
		lines("trainee,day,seconds", l, func(a at) string {
			day := first.AddDate(0, 0, 7*(a.n-1)+int(a.who[1]-'0')%4)
			return fmt.Sprintf("%s,%s,%v", a.who, day.Format("20060102"), a.value)
		}), l, "column day: 20260112 is a date, not the number of an attempt")

	// A row that is the mean of the others, under a name like a group's.
	l = rounded(practised14(165, 155, 72, []int{6}, numbered("K%d", 7)...), 1)
	var b bytes.Buffer
	b.Write(wide(headLine("Gruppe", ";", "V%d", 6), ";", l, point))
	b.WriteString("Kohorte 3")
	for n := 1; n <= 6; n++ {
		mean, _ := spread14(l, n)
		b.WriteString(";" + fixed(0)(mean))
	}
	b.WriteString("\n")
	doubt("14-cohort-row", "Kohorte3.csv", "--trainee Gruppe --measure time --limit 300", b.Bytes(), l,
		"last row, Kohorte 3: the mean of the rows above, not a trainee")

	// Two people's sheets side by side: the one writes T01, the other T1.
	l = rounded(practised14(166, 180, 86, []int{6}, numbered("r%d", 7)...), 1)
	doubt("14-T01-and-T1", "joined.csv", "--trainee id --measure time --limit 300", wide("id,T01,T02,T03,T1,T2,T3", ",", l, point), nil,
		"heads T01, T02, T03 and T1, T2, T3: attempts 1 to 3 twice, or 1 to 6")

	// Errors were written only where there were some; in some rows nobody looked.
	r := rand.New(rand.NewPCG(167, 14))
	l = practised14(167, 100, 60, []int{9}, numbered("Q%d", 6)...)
	doubt("14-blank-errors", "errors.csv", "--trainee trainee --attempt attempt --response errors --measure count",
		lines("trainee,attempt,errors", l, func(a at) string {
			if e := math.Floor(7*math.Pow(float64(a.n), -0.9) + 2.4*r.Float64() - 1); e > 0 {
				return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, e)
			}
			return fmt.Sprintf("%s,%d,", a.who, a.n)
		}), nil, "column errors: blank in 11 rows and never 0: no errors, or not counted")
}

// people14: who is who, arms, and what the numbers are.
func people14() {
	// Two arms, each trainee in one.
	l := rounded(practised14(181, 165, 78, []int{8}, numbered("X%02d", 10)...), 0.1)
	arm := func(w string) string { return []string{"video", "tutor"}[int(w[2]-'0')%2] }
	t := read("14-two-arms", "trial.csv", usual14+" --arm arm --limit 300",
		lines("trainee,arm,attempt,seconds", l, func(a at) string { return fmt.Sprintf("%s,%s,%d,%v", a.who, arm(a.who), a.n, a.value) }), l)
	t.Arms = map[string]string{}
	for _, w := range traineesOf(l) {
		t.Arms[w] = arm(w)
	}

	// Passed or not, 1 or 0, and the user says so.
	passes := func(seed uint64, n int, who ...string) []at {
		r := rand.New(rand.NewPCG(seed, 14))
		return with(practised14(seed, 100, 60, []int{n}, who...), func(a *at) {
			a.value = 0
			if r.Float64() < 0.9-0.75*math.Pow(float64(a.n), -0.5) {
				a.value = 1
			}
		})
	}
	l = passes(182, 12, numbered("i%d", 8)...)
	read("14-pass-1-0", "intubation.csv", "--trainee id --attempt attempt --response success --measure pass-fail",
		lines("id,attempt,success", l, plain(",", point)), l)

	// Passed or not in words.
	l = passes(183, 10, numbered("EMT-%d", 7)...)
	read("14-pass-words", "checkoff.tsv", "--trainee Student --attempt Attempt --response Result --measure pass-fail",
		lines("Student\tAttempt\tResult", l, plain("\t", func(v float64) string { return []string{"fail", "pass"}[int(v)] })), l)

	// Codes with noughts before them, always.
	l = rounded(practised14(184, 140, 66, []int{9}, "007", "012", "031", "044", "058", "103"), 0.1)
	read("14-noughts-before", "badges.csv", "--trainee badge --attempt attempt --response seconds --measure time --limit 300",
		lines("badge,attempt,seconds", l, plain(",", point)), l)

	// A Greek dental school, saved as UTF-8 with a mark by a spreadsheet.
	l = rounded(practised14(185, 240, 130, []int{7}, "Φ01", "Φ02", "Φ03", "Φ04", "Φ05", "Φ06"), 0.1)
	read("14-greek", "χρόνοι.csv", "--trainee Κωδικός --attempt Προσπάθεια --response Χρόνος --measure time --limit 300",
		append([]byte("\ufeff"), crlf(lines("Κωδικός;Προσπάθεια;Χρόνος", l, plain(";", fixedComma(1))))...), l)

	// Codes are a word and a number, in quotes, with a comma within.
	l = rounded(practised14(186, 155, 70, []int{8}, "Bench A, 1", "Bench A, 2", "Bench A, 3", "Bench B, 1", "Bench B, 2", "Bench B, 3"), 0.1)
	read("14-comma-in-codes", "benches.csv", usual14+" --limit 300",
		lines(`"trainee","attempt","seconds"`, l, func(a at) string { return fmt.Sprintf(`"%s","%d","%v"`, a.who, a.n, a.value) }), l)

	// The second tutor wrote T1 where the first wrote T01.
	l = rounded(practised14(187, 175, 80, []int{10}, numbered("T%02d", 6)...), 0.1)
	l = later14(l, 6)
	doubt("14-T1-for-T01", "two tutors.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a.n > 6 {
				a.who = strings.Replace(a.who, "0", "", 1)
			}
			return plain(",", point)(a)
		}), l, "attempts 1 to 6 are of T01, 7 to 10 of T1, and so for everybody: the same people")

	// Pasted from a web page: some codes end in a character without width.
	l = rounded(practised14(188, 160, 77, []int{8}, numbered("AB%d", 6)...), 0.1)
	doubt("14-zero-width", "from the wiki.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a.who == "AB3" && a.n > 5 {
				a.who += "\u200b"
			}
			return plain(",", point)(a)
		}), l, "AB3, attempts 6 to 8: the code ends in a zero-width space, the same person")

	// A data program made 1.0 of 1 in one of two files that were joined.
	l = rounded(practised14(189, 150, 69, []int{9}, numbered("%d", 7)...), 0.1)
	l = later14(l, 5)
	doubt("14-1-and-1.0", "concat.csv", "--trainee pid --attempt attempt --response seconds --measure time --limit 300",
		lines("pid,attempt,seconds", l, func(a at) string {
			if a.n <= 5 {
				a.who += ".0"
			}
			return plain(",", point)(a)
		}), l, "column pid: 1.0 in attempts 1 to 5 and 1 in 6 to 9, the same people")

	// Arms typed by hand.
	l = rounded(practised14(190, 170, 79, []int{6}, numbered("u%d", 9)...), 0.1)
	doubt("14-arm-Box-box", "arms.csv", usual14+" --arm arm --limit 300",
		lines("trainee,attempt,seconds,arm", l, func(a at) string {
			arm := []string{"Box", "Virtual", "box", "Virtual"}[int(a.who[1]-'0')%4]
			return plain(",", point)(a) + "," + arm
		}), l, "column arm: Box and box are one arm")

	// After half a year everybody was tested again; the number just went on.
	l = rounded(practised14(191, 160, 70, []int{9}, numbered("Ret%d", 6)...), 0.1)
	l = with(l, func(a *at) {
		if a.n == 9 {
			a.value = math.Round(a.value*13.5) / 10
		}
	})
	day := time.Date(2025, 10, 6, 0, 0, 0, 0, time.UTC)
	doubt("14-retest", "follow-up.csv", usual14+" --date date --limit 300",
		lines("trainee,attempt,date,seconds", l, func(a at) string {
			d := day.AddDate(0, 0, 2*(a.n-1))
			if a.n == 9 {
				d = day.AddDate(0, 6, 3)
			}
			return fmt.Sprintf("%s,%d,%s,%v", a.who, a.n, d.Format("2006-01-02"), a.value)
		}), l, "attempt 9 of everybody is half a year after attempt 8: a retest, not the next attempt")

	// The user forgot to say that it is a time.
	l = rounded(practised14(192, 180, 83, []int{8}, numbered("new%d", 7)...), 0.1)
	doubt("14-measure-forgotten", "first try.csv", "--trainee trainee --attempt attempt --response seconds",
		lines("trainee,attempt,seconds", l, plain(",", point)), l,
		"no --measure: column seconds falls with practice and is a time, not a score where more is better")

	// And here that it is passed or not.
	l = passes(193, 10, numbered("cpr%d", 7)...)
	doubt("14-0-1-forgotten", "passed.csv", "--trainee trainee --attempt attempt --response passed",
		lines("trainee,attempt,passed", l, plain(",", point)), l, "no --measure: column passed holds only 0 and 1, passed or not")
}

// rated14 makes up ratings: subjects differ, raters agree mostly; from 1 to most.
func rated14(seed uint64, most int, subjects, raters, items []string) [][4]string {
	r := rand.New(rand.NewPCG(seed, 14))
	var out [][4]string
	for _, s := range subjects {
		level := 1 + float64(most-1)*r.Float64()
		for _, w := range raters {
			for _, i := range items {
				v := math.Round(level + 0.6*r.NormFloat64())
				out = append(out, [4]string{s, w, i, fmt.Sprint(math.Max(1, math.Min(float64(most), v)))})
			}
		}
	}
	return out
}

// besides14 is a table of ratings with a column a rater; more is written behind each subject, end behind the last rater.
func besides14(head, sep string, l [][4]string, more, end func(k int, marks []string) string) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	k := 0
	for i := 0; i < len(l); {
		subject := l[i][0]
		var marks []string
		for ; i < len(l) && l[i][0] == subject; i++ {
			marks = append(marks, l[i][3])
		}
		b.WriteString(subject)
		if more != nil {
			b.WriteString(sep + more(k, marks))
		}
		b.WriteString(sep + strings.Join(marks, sep))
		if end != nil {
			b.WriteString(sep + end(k, marks))
		}
		b.WriteString("\n")
		k++
	}
	return b.Bytes()
}

// ratings14: examiners' marks.
func ratings14() {
	none := []string{""}
	rated := func(t *truth, l [][4]string) {
		for _, r := range l {
			if r[3] != "" {
				t.Ratings = append(t.Ratings, r)
			}
		}
	}

	// Three examiners beside each other.
	l := rated14(201, 5, numbered("v%02d", 12), []string{"Ex1", "Ex2", "Ex3"}, none)
	rated(read("14-three-examiners", "videos.csv", "--subject video --wide --scale ordinal", besides14("video,Ex1,Ex2,Ex3", ",", l, nil, nil), nil), l)

	// A row for each mark, with items.
	l = rated14(202, 5, numbered("P%d", 8), []string{"north", "south"}, []string{"flow", "tissue", "instruments"})
	rated(read("14-items", "marks_long.csv", "--subject performance --rater examiner --item item --score mark --scale ordinal",
		lines("performance,examiner,item,mark", l, func(r [4]string) string { return strings.Join(r[:], ",") }), nil), l)

	// Pass or fail in German, semicolons.
	l = rated14(203, 2, numbered("Film %d", 14), []string{"P1", "P2", "P3"}, none)
	for i := range l {
		l[i][3] = map[string]string{"1": "nicht bestanden", "2": "bestanden"}[l[i][3]]
	}
	rated(read("14-bestanden", "Urteile.csv", "--subject Film --rater Prüfer --score Urteil --scale nominal",
		crlf(lines("Film;Prüfer;Urteil", l, func(r [4]string) string { return r[0] + ";" + r[1] + ";" + r[3] })), nil), l)

	// Not everybody saw every film: blank.
	l = rated14(204, 7, numbered("clip%02d", 15), numbered("R%d", 4), none)
	for _, i := range []int{3, 8, 21, 30, 47, 53} {
		l[i][3] = ""
	}
	rated(read("14-not-all-seen", "clips.tsv", "--subject clip --wide --scale ordinal", besides14("clip\tR1\tR2\tR3\tR4", "\t", l, nil, nil), nil), l)

	// Marks with halves and a decimal comma, saved as what a spreadsheet calls text in two bytes.
	r := rand.New(rand.NewPCG(205, 14))
	l = rated14(205, 9, numbered("S%d", 10), []string{"Anna", "Bea"}, none)
	for i := range l {
		if r.IntN(2) == 1 {
			l[i][3] += ".5"
		}
	}
	rated(read("14-half-marks", "Unicode text.txt", "--subject Probe --rater Jury --score Note --scale interval",
		inUTF16(binary.LittleEndian, true, crlf(lines("Probe\tJury\tNote", l, func(r [4]string) string {
			return r[0] + "\t" + r[1] + "\t" + strings.Replace(r[3], ".", ",", 1)
		}))), nil), l)

	// A mean beside the raters.
	l = rated14(206, 5, numbered("stn%d", 11), []string{"A", "B", "C"}, none)
	rated(doubt("14-mean-column", "global rating.csv", "--subject station --wide", besides14("station,A,B,C,Mean", ",", l, nil, func(_ int, m []string) string {
		sum := 0
		for _, s := range m {
			sum += int(s[0] - '0')
		}
		return fmt.Sprintf("%.2f", float64(sum)/3)
	}), nil, "column Mean: the mean of A, B and C, not a rater"), l)

	// The trainee's number beside the raters.
	l = rated14(207, 10, numbered("rec-%02d", 10), []string{"Kim", "Lou", "Max"}, none)
	rated(doubt("14-trainee-beside", "recordings.csv", "--subject recording --wide", besides14("recording,trainee,Kim,Lou,Max", ",", l,
		func(k int, _ []string) string { return fmt.Sprint(1 + k*7%10) }, nil), nil, "column trainee: the number of a trainee, not marks of a rater"), l)

	// One NA among numbers.
	l = rated14(208, 20, numbered("c%d", 10), []string{"r1", "r2"}, none)
	l[13][3] = "NA"
	kept := append(append([][4]string{}, l[:13]...), l[14:]...)
	rated(doubt("14-one-NA", "scores.csv", "--subject case --rater rater --score score --scale interval",
		lines("case,rater,score", l, func(r [4]string) string { return r[0] + "," + r[1] + "," + r[3] }), nil,
		"c7, rater r2: NA among numbers, no score"), kept)

	// yes, Yes and YES.
	l = rated14(209, 2, numbered("s%02d", 12), []string{"J1", "J2"}, none)
	typed := lines("sample;judge;acceptable", l, func(r [4]string) string {
		word := map[string]string{"1": "no", "2": "yes"}[r[3]]
		switch n := r[0][2]; {
		case r[1] == "J2" && n%3 == 0:
			word = strings.ToUpper(word)
		case r[1] == "J2" && n%3 == 1:
			word = strings.ToUpper(word[:1]) + word[1:]
		}
		return r[0] + ";" + r[1] + ";" + word
	})
	for i := range l {
		l[i][3] = map[string]string{"1": "no", "2": "yes"}[l[i][3]]
	}
	rated(doubt("14-yes-Yes-YES", "acceptable.csv", "--subject sample --rater judge --score acceptable --scale nominal", typed, nil,
		"column acceptable: yes, Yes and YES are one category, as are no, No and NO"), l)

	// One examiner under two spellings, so that three raters seem to be four.
	l = rated14(210, 5, numbered("ps%d", 9), []string{"Ost", "West", "Nord"}, none)
	rated(doubt("14-rater-twice", "panel.csv", "--subject session --rater by --score grade --scale ordinal",
		lines("session,by,grade", l, func(r [4]string) string {
			if r[1] == "West" && r[0] >= "ps6" {
				r[1] = "west "
			}
			return r[0] + "," + r[1] + "," + r[3]
		}), nil, "column by: West up to ps5 and 'west ' after it are one rater"), l)
}

// shapes14: the shapes of a text table.
func shapes14() {
	// Time and errors in turn.
	r := rand.New(rand.NewPCG(221, 14))
	drops := func(n int) int { return int(6*math.Pow(float64(n), -0.6) + 2*r.Float64()) }
	pair := func(sep string) func(a at) string {
		return func(a at) string { return sep + point(a.value) + sep + fmt.Sprint(drops(a.n)) }
	}
	rows := func(l []at, cells func(a at) string) string {
		var b strings.Builder
		for _, w := range traineesOf(l) {
			b.WriteString(w)
			for _, a := range attemptsOf(l, w) {
				b.WriteString(cells(a))
			}
			b.WriteString("\n")
		}
		return b.String()
	}
	l := rounded(practised14(221, 150, 72, []int{6}, numbered("ws%d", 8)...), 1)
	head := "Code"
	for n := range 6 {
		head += fmt.Sprintf(",Time %d,Errors %d", n+1, n+1)
	}
	read("14-in-turn", "time and errors.csv", "--trainee Code --response Time --measure time --limit 300", []byte(head+"\n"+rows(l, pair(","))), l)

	// Two rows of heads: the attempt above, its measures below.
	l = rounded(practised14(222, 165, 75, []int{5}, numbered("tr%d", 7)...), 0.1)
	head = ""
	for n := range 5 {
		head += fmt.Sprintf(",Attempt %d,", n+1)
	}
	read("14-two-head-rows", "merged heads.csv", "--trainee Trainee --response time --measure time --limit 300",
		[]byte(head+"\nTrainee"+strings.Repeat(",time,errors", 5)+"\n"+rows(l, pair(","))), l)

	// Three rows of heads: day, attempt, measure.
	l = rounded(practised14(223, 155, 68, []int{6}, numbered("Nr %d", 6)...), 1)
	head = ";Tag 1;;;;;;Tag 2;;;;;\n"
	for n := range 6 {
		head += fmt.Sprintf(";Versuch %d;", n+1)
	}
	read("14-three-head-rows", "Kurs.csv", "--trainee Code --response Zeit --measure time --limit 300",
		[]byte(head+"\nCode"+strings.Repeat(";Zeit;Fehler", 6)+"\n"+rows(l, pair(";"))), l)

	// The measure above, the attempts below.
	l = rounded(practised14(224, 175, 86, []int{5}, numbered("o%d", 8)...), 1)
	text := ",Time,,,,,Errors,,,,\nID,1,2,3,4,5,1,2,3,4,5\n"
	for _, w := range traineesOf(l) {
		text += w
		for _, a := range attemptsOf(l, w) {
			text += "," + point(a.value)
		}
		for n := range 5 {
			text += fmt.Sprint(",", drops(n+1))
		}
		text += "\n"
	}
	read("14-measure-above", "summary.csv", "--trainee ID --response Time --measure time --limit 300", []byte(text), l)

	// A survey tool's export: names, the questions, and its own ids.
	l = rounded(practised14(225, 160, 80, []int{6}, "B714", "B722", "B725", "B731", "B740", "B746"), 1)
	names, questions, ids := "StartDate,ResponseId,Q1", `"Start Date","Response ID","Your code"`, `"{""ImportId"":""startDate""}","{""ImportId"":""_recordId""}","{""ImportId"":""QID1_TEXT""}"`
	for n := range 6 {
		names += fmt.Sprintf(",Q2_%d", n+1)
		questions += fmt.Sprintf(`,"How long did each attempt take (in seconds)? - Attempt %d"`, n+1)
		ids += fmt.Sprintf(`,"{""ImportId"":""QID2_%d""}"`, n+1)
	}
	text = names + "\n" + questions + "\n" + ids + "\n"
	for i, w := range traineesOf(l) {
		text += fmt.Sprintf("2026-03-%02d 10:%02d:31,R_%dxK%dq,%s", 9+i, 12+5*i, 3+i, 81-7*i, w)
		for _, a := range attemptsOf(l, w) {
			text += "," + point(a.value)
		}
		text += "\n"
	}
	read("14-survey", "Skills+log_March.csv", "--trainee Q1 --measure time --limit 300", []byte(text), l)

	// A title, who made it, and comments.
	l = rounded(practised14(226, 140, 64, []int{8}, numbered("k%d", 7)...), 0.1)
	read("14-title-and-comments", "bench3.csv", usual14+" --limit 300",
		append([]byte("# Bench 3, spring course\n# times in seconds, by stopwatch\n#\n"), lines("trainee,attempt,seconds", l, plain(",", point))...), l)

	// The line that tells a spreadsheet the separator.
	l = rounded(practised14(227, 165, 71, []int{7}, numbered("CH%d", 7)...), 0.1)
	read("14-sep-line", "Auswertung.csv", "--trainee Person --attempt Nr --response Sekunden --measure time --limit 300",
		crlf(append([]byte("sep=;\n"), lines("Person;Nr;Sekunden", l, plain(";", fixed(1)))...)), l)

	// A data program wrote its index without a head.
	l = practised14(228, 150, 67, []int{9}, numbered("sub-%02d", 6)...)
	k := -1
	read("14-index-column", "df.csv", usual14+" --limit 300",
		lines(",trainee,attempt,seconds", l, func(a at) string { k++; return fmt.Sprint(k, ",", plain(",", point)(a)) }), l)

	// A statistics program wrote names of rows, so that the head has a cell less.
	l = rounded(practised14(229, 160, 73, []int{8}, numbered("g%d", 6)...), 0.01)
	k = 0
	read("14-row-names", "dat.txt", usual14+" --limit 300",
		lines(`"trainee" "attempt" "seconds"`, l, func(a at) string { k++; return fmt.Sprintf(`"%d" "%s" %d %v`, k, a.who, a.n, a.value) }), l)

	// A column a trainee, a row an attempt.
	l = rounded(practised14(230, 170, 82, []int{9}, numbered("Bx%d", 6)...), 0.1)
	text = "Attempt," + strings.Join(traineesOf(l), ",") + "\n"
	for n := 1; n <= 9; n++ {
		text += fmt.Sprint(n)
		for _, a := range l {
			if a.n == n {
				text += "," + point(a.value)
			}
		}
		text += "\n"
	}
	read("14-column-a-trainee", "wall chart.csv", "--attempt Attempt --measure time --limit 300", []byte(text), l)

	// The heads stand below each other.
	l = rounded(practised14(231, 145, 63, []int{5}, numbered("m%d", 6)...), 0.1)
	cols := [3]string{"trainee", "attempt", "seconds"}
	for _, a := range l {
		for i, s := range strings.Split(plain(",", point)(a), ",") {
			cols[i] += "," + s
		}
	}
	read("14-heads-below", "turned.csv", usual14+" --limit 300", []byte(strings.Join(cols[:], "\n")+"\n"), l)

	// A device's log by the clock, without numbers: the order is that of the moments.
	l = practised14(232, 135, 58, []int{10}, "red", "green", "blue", "white", "black", "grey")
	text = "timestamp,user,duration_s\n"
	moment := time.Date(2026, 2, 3, 9, 14, 22, 0, time.UTC)
	for n := 1; n <= 10; n++ {
		for _, a := range l {
			if a.n == n {
				text += fmt.Sprintf("%s,%s,%v\n", moment.Format("2006-01-02 15:04:05"), a.who, a.value)
				moment = moment.Add(time.Duration(math.Round(a.value)+47) * time.Second)
			}
		}
		if n%3 == 0 {
			moment = moment.AddDate(0, 0, 7).Truncate(24 * time.Hour).Add(9*time.Hour + time.Duration(n)*77*time.Second)
		}
	}
	read("14-by-the-clock", "device.log.csv", "--trainee user --date timestamp --response duration_s --measure time", []byte(text), l)

	// Numbers begin anew in each session, and the session is named.
	l = rounded(practised14(233, 185, 87, []int{12}, numbered("ph%d", 6)...), 1)
	read("14-sessions", "sessions.csv", "--trainee student --session session --attempt attempt --response seconds --measure time --limit 300",
		lines("student,session,attempt,seconds", l, func(a at) string {
			return fmt.Sprintf("%s,%d,%d,%v", a.who, (a.n-1)/4+1, (a.n-1)%4+1, a.value)
		}), l)

	// A listing in fixed columns.
	l = rounded(practised14(234, 150, 74, []int{7}, numbered("SUB%02d", 7)...), 0.1)
	k = 0
	read("14-listing", "listing.lst", "--trainee id --attempt attempt --response seconds --measure time --limit 300",
		lines("Obs    id       attempt    seconds", l, func(a at) string { k++; return fmt.Sprintf("%3d    %-9s%4d    %10.1f", k, a.who, a.n, a.value) }), l)

	// What a database shell prints.
	l = rounded(practised14(235, 155, 65, []int{8}, numberedFrom("u%03d", 41, 6)...), 0.1)
	table := lines(" trainee | attempt | seconds \n---------+---------+---------", l,
		func(a at) string { return fmt.Sprintf(" %-7s | %7d | %7.1f", a.who, a.n, a.value) })
	read("14-database-shell", "query.txt", usual14+" --limit 300", fmt.Appendf(table, "(%d rows)\n\n", len(l)), l)

	// Blank columns at the right and blank rows below, as a spreadsheet leaves them.
	l = rounded(practised14(236, 165, 79, []int{7}, numbered("tt%d", 6)...), 0.1)
	read("14-blanks-around", "Sheet1.csv", usual14+" --limit 300",
		crlf(append(lines("trainee,attempt,seconds,,,", l, func(a at) string { return plain(",", point)(a) + ",,," }), strings.Repeat(",,,,,\n", 9)...)), l)

	// Notes with line breaks within quotes.
	l = rounded(practised14(237, 145, 70, []int{8}, numbered("hk%d", 6)...), 0.1)
	read("14-notes-with-breaks", "with notes.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds,note", l, func(a at) string {
			note := map[int]string{1: "\"bench by the window,\nmorning\"", 5: "\"bench by the door,\nmorning\""}[a.n]
			return plain(",", point)(a) + "," + note
		}), l)

	// Two periods, two devices: numbers begin anew, and everybody has both arms.
	l = rounded(practised14(238, 160, 76, []int{5}, numbered("co%d", 8)...), 0.1)
	second := rounded(practised14(239, 130, 66, []int{5}, numbered("co%d", 8)...), 0.1)
	text = "code,period,device,attempt,seconds\n"
	for p, part := range [][]at{l, second} {
		for _, a := range part {
			device := []string{"box", "virtual"}[(int(a.who[2]-'0')+p)%2]
			text += fmt.Sprintf("%s,%d,%s,%d,%v\n", a.who, p+1, device, a.n, a.value)
		}
	}
	doubt("14-crossover", "crossover.csv", "--trainee code --attempt attempt --response seconds --measure time --arm device --limit 300", []byte(text), nil,
		"columns period and device: everybody practises on both devices, and attempts are numbered anew in period 2")

	// Experts' runs among the trainees'.
	l = rounded(practised14(240, 170, 88, []int{7}, numbered("N%d", 7)...), 0.1)
	experts := rounded(practised14(241, 64, 60, []int{3}, numbered("X%d", 3)...), 0.1)
	text = string(lines("person,role,attempt,seconds", l, func(a at) string { return fmt.Sprintf("%s,novice,%d,%v", a.who, a.n, a.value) }))
	for _, a := range experts {
		text += fmt.Sprintf("%s,expert,%d,%v\n", a.who, a.n, a.value)
	}
	doubt("14-experts-among-them", "all runs.csv", "--trainee person --attempt attempt --response seconds --measure time --limit 300", []byte(text), l,
		"column role: X1, X2 and X3 are experts, not trainees")
}

// encodings14: the same kind of table in other bytes.
func encodings14() {
	// Two bytes a character and no mark.
	l := rounded(practised14(251, 155, 72, []int{8}, numbered("TQ%d", 7)...), 0.1)
	read("14-two-bytes-no-mark", "rig.tsv", usual14+" --limit 300",
		inUTF16(binary.LittleEndian, false, crlf(lines("trainee\tattempt\tseconds", l, plain("\t", point)))), l)

	// Two bytes the other way round, with a mark, from a Czech lab.
	l = rounded(practised14(252, 180, 90, []int{7}, numbered("Ú%d", 6)...), 0.1)
	read("14-czech-two-bytes", "časy.csv", "--trainee Účastník --attempt Pokus --response Čas --measure time --limit 300",
		inUTF16(binary.BigEndian, true, lines("Účastník;Pokus;Čas", l, plain(";", fixedComma(1)))), l)

	// Lines that end in a carriage return alone.
	l = rounded(practised14(253, 145, 62, []int{9}, numbered("mac%d", 6)...), 0.1)
	read("14-old-line-ends", "data.txt", usual14+" --limit 300",
		lineEnds(lines("trainee,attempt,seconds", l, plain(",", point)), "\r"), l)

	// A Polish lab's old program writes Latin-2: Ł is the byte of £ elsewhere.
	l = rounded(practised14(254, 165, 81, []int{8}, "Ł1", "Ł2", "Ł3", "Ś1", "Ś2", "Ś3"), 0.1)
	doubt("14-latin-2", "wyniki.csv", "--trainee kod --attempt proba --response czas --measure time --limit 300",
		encoded(charmap.ISO8859_2, lines("kod;proba;czas", l, plain(";", fixedComma(1)))), l,
		"column kod: the bytes are Latin-2 (Ł, Ś); read as Windows-1252 the codes become £ and ¦")
}

// unreadable14: nothing can be taken from these as they are.
func unreadable14() {
	// When they began and when they ended, by the clock on the wall; no time was worked out.
	text := "id,run,begin,end\n"
	begin := time.Date(2026, 1, 1, 9, 2, 0, 0, time.UTC)
	for _, a := range practised14(261, 200, 90, []int{6}, numbered("st%d", 6)...) {
		text += fmt.Sprintf("%s,%d,%s,", a.who, a.n, begin.Format("15:04:05"))
		begin = begin.Add(time.Duration(a.value) * time.Second)
		text += begin.Format("15:04:05") + "\n"
		begin = begin.Add(95 * time.Second)
	}
	refuse("14-begin-and-end", "clock.csv", "--trainee id --attempt run --response end --measure time", []byte(text),
		"column end holds times of day, not how long an attempt took: work out end less begin")

	// A form asked how long it took and let people write.
	told := []string{"about a minute and a half", "just under two min", "quicker than last time", "same", "maybe 80 or 90", "forgot to look", "long!", "a bit over one minute"}
	text = "who,go,how long did it take?\n"
	for i := range 40 {
		text += fmt.Sprintf("p%d,%d,%s\n", i/8+1, i%8+1, told[(i*5+i/8)%8])
	}
	refuse("14-in-words", "form answers.csv", "--trainee who --attempt go --response how~long~did~it~take? --measure time", []byte(text),
		"the times are words of people's own: no cell is a time")

	// Made nameless by writing xxx over every code.
	l := rounded(practised14(262, 150, 70, []int{8}, numbered("q%d", 7)...), 0.1)
	refuse("14-all-xxx", "anonymised.csv", usual14+" --limit 300",
		lines("trainee,attempt,seconds", with(l, func(a *at) { a.who = "xxx" }), plain(",", point)),
		"every trainee is xxx, so that each attempt number is there seven times: give each a code of their own")

	// A Japanese spreadsheet's CSV.
	l = rounded(practised14(263, 160, 75, []int{7}, "佐1", "佐2", "田1", "田2", "森1", "森2"), 0.1)
	refuse("14-shift-jis", "記録.csv", "--trainee 研修者 --attempt 回数 --response 秒 --measure time --limit 300",
		encoded(japanese.ShiftJIS, crlf(lines("研修者,回数,秒", l, plain(",", point)))),
		"the bytes are Shift-JIS: save the file as UTF-8")

	// The page to sign in to a shared drive, saved under the table's name.
	refuse("14-sign-in-page", "times.csv", usual14+" --limit 300", []byte(`<!DOCTYPE html>
<html lang="en">
<head><meta charset="utf-8"><title>Sign in</title></head>
<body><form method="post" action="/login">
<label>Name <input name="user"></label>, <label>Password <input type="password" name="pw"></label>
<button>Sign in</button></form></body>
</html>
`), "a web page, not a table: download the file again after signing in")

	// A word processor's file with a table typed by hand, given the ending .csv.
	text = `{\rtf1\ansi\deff0{\fonttbl{\f0 Serif;}}` + "\n" + `\f0\fs24 trainee, attempt, seconds\par` + "\n"
	for _, a := range rounded(practised14(264, 150, 70, []int{5}, numbered("w%d", 4)...), 1) {
		text += fmt.Sprintf(`%s, %d, %v\par`+"\n", a.who, a.n, a.value)
	}
	refuse("14-word-processor", "times typed.csv", usual14, []byte(text+"}\n"), "a rich text file of a word processor: save it as plain text or CSV")

	// The export ran before anybody practised.
	refuse("14-head-alone", "export_2026-01-07.csv", usual14+" --limit 300", []byte("trainee,attempt,seconds,outcome\n"), "only a head, no attempts")

	// A web service's answer kept as .csv.
	text = `{"results":[`
	for i, a := range rounded(practised14(265, 150, 70, []int{6}, numbered("api%d", 4)...), 0.1) {
		if i > 0 {
			text += ","
		}
		text += fmt.Sprintf("\n  {\"trainee\": %q, \"attempt\": %d, \"seconds\": %v}", a.who, a.n, a.value)
	}
	refuse("14-web-answer", "download.csv", usual14+" --limit 300", []byte(text+"\n]}\n"), "JSON, not a table: export as CSV")
}
