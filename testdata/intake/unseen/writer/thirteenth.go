package main

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// The thirteenth set is what many kinds of labs have: hospital simulation centres, dental and nursing schools,
// pilot and crane simulators, music and sports, workshops, medics. About half of it is plain; the other half has
// an accident that happens when several hands keep a log, or when programs hand tables to each other.
func thirteenth() {
	logbooks13()
	devices13()
	exports13()
	handled13()
	places13()
	courses13()
	books13()
	raters13()
	standards13()
	studies13()
	idle13()
}

// table13 is a text table: a head, and a row of cells an attempt.
func table13(sep, head string, l []at, row func(a at) []any) []byte {
	return lines(head, l, func(a at) string { return joined(sep, row(a)...) })
}

// rounds13 is a log in the order in which a class works: everybody's first attempt, then everybody's second.
func rounds13(l []at) []at {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b at) int { return cmp.Compare(a.n, b.n) })
	return out
}

// day13 is a day some weeks after the start of the course, later for a later attempt.
func day13(n, every int, form string) string {
	return time.Date(2026, 2, 3, 0, 0, 0, 0, time.UTC).AddDate(0, 0, (n-1)*every).Format(form)
}

// after13 is a text table with lines put below it.
func after13(data []byte, more ...string) []byte {
	return append(bytes.Clone(data), strings.Join(more, "\n")+"\n"...)
}

// way13 is a truth that says which flag answers.
func way13(t *truth, flags string) { t.Way = words(flags) }

// logbooks13 are logs kept for months by several hands.
func logbooks13() {
	l := log(500, 7, "Abara", "Lindqvist", "Moreau", "Okonkwo", "Petrov")
	inRounds := rounds13(l)
	hands := []string{"KS", "MB", "JT"}
	read("13-book-of-months", "logbook.csv", "--trainee Resident --attempt Case~no. --response Time~(s) --measure time --date Date",
		table13(",", "Date,Bay,Resident,Case no.,Time (s),Complications,Supervised by", inRounds, func(a at) []any {
			return []any{day13(a.n, 11, "2006-01-02"), 1 + len(a.who)%3, a.who, a.n, a.value, []string{"none", "", "minor bleed", "none"}[(a.n+len(a.who))%4], hands[(a.n*2+len(a.who))%3]}
		}), l)
	read("13-book-of-months-german", "logbuch.csv", "--trainee Kürzel --attempt Nr --response Zeit --measure time --date Datum",
		table13(";", "Datum;Kürzel;Nr;Zeit;Raum;Aufsicht", inRounds, func(a at) []any {
			return []any{day13(a.n, 13, "02.01.2006"), a.who, a.n, comma(a.value), "R " + strconv.Itoa(2+a.n%2), hands[(a.n+len(a.who))%3]}
		}), l)
	read("13-book-months-headed", "logbook.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds,Date\n")
		for i, a := range inRounds {
			if i == 0 || day13(a.n, 11, "January") != day13(inRounds[i-1].n, 11, "January") {
				b.WriteString(day13(a.n, 11, "January 2006") + ",,,\n")
			}
			b.WriteString(joined(",", a.who, a.n, a.value, day13(a.n, 11, "2006-01-02")) + "\n")
		}
		return b.Bytes()
	}(), l)
	read("13-book-blank-line-a-day", "logbook.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds\n")
		for i, a := range inRounds {
			if i > 0 && a.n != inRounds[i-1].n {
				b.WriteString(",,\n")
			}
			b.WriteString(plain(",", point)(a) + "\n")
		}
		return b.Bytes()
	}(), l)
	doubt("13-book-page-totals", "logbook.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds\n")
		sum := 0.0
		for i, a := range inRounds {
			b.WriteString(plain(",", point)(a) + "\n")
			sum += a.value
			if i%10 == 9 {
				fmt.Fprintf(&b, "carried forward,%d,%.1f\n", 10, sum)
				sum = 0
			}
		}
		return b.Bytes()
	}(), l, "the rows carried forward are sums of a page")
	doubt("13-book-hand-m-ss", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds,By", rounds13(whole(l)), func(a at) []any {
		if a.n == 3 || a.n == 6 {
			return []any{a.who, a.n, minutes("%[1]d:%02[2]d")(a.value), "JT"}
		}
		return []any{a.who, a.n, a.value, "KS"}
	}), whole(l), "one hand writes minutes and seconds under a column of seconds")
	doubt("13-book-hand-minutes", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds,By", inRounds, func(a at) []any {
		if a.n == 4 || a.n == 5 {
			return []any{a.who, a.n, fmt.Sprintf("%.2f", a.value/60), "JT"}
		}
		return []any{a.who, a.n, a.value, "KS"}
	}), nil, "JT wrote minutes where the others wrote seconds")
	doubt("13-book-entered-twice", "logbook.csv", usual, func() []byte {
		second := with(l, func(a *at) { a.value = math.Round(a.value) })
		return table13(",", "Trainee,Attempt,Seconds,Entered by", append(slices.Clone(l), second[7:21]...), func(a at) []any {
			return []any{a.who, a.n, a.value, map[bool]string{true: "MB", false: "KS"}[a.value == math.Round(a.value)]}
		})
	}(), nil, "two people entered the same attempts, one of them rounded")
	doubt("13-book-new-hand-restarts", "logbook.csv", usual+" --date Date", table13(",", "Date,Trainee,Attempt,Seconds", inRounds, func(a at) []any {
		n := a.n
		if n > 4 {
			n -= 4
		}
		return []any{day13(a.n, 11, "2006-01-02"), a.who, n, a.value}
	}), nil, "a new hand began each trainee's attempts at 1 again")
	doubt("13-book-ditto", "logbook.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds\n")
		for i, a := range l {
			who := a.who
			if i > 0 && l[i-1].who == who {
				who = `"""` + `"`
			}
			b.WriteString(joined(",", who, a.n, a.value) + "\n")
		}
		return b.Bytes()
	}(), l, "ditto marks stand for the name above")
	doubt("13-book-dash-ditto", "logbook.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds\n")
		for i, a := range l {
			who := a.who
			if i > 0 && l[i-1].who == who {
				who = "-do-"
			}
			b.WriteString(joined(",", who, a.n, a.value) + "\n")
		}
		return b.Bytes()
	}(), l, "-do- stands for the name above")
	doubt("13-book-should-be", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds,Margin", l, func(a at) []any {
		s := ""
		if a.who == "Moreau" && a.n == 3 {
			s = "read 84.2"
		}
		if a.who == "Petrov" && a.n == 6 {
			s = "recte 71.5"
		}
		return []any{a.who, a.n, a.value, s}
	}), nil, "the margin corrects two times")
	doubt("13-book-alarm", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds,Margin", l, func(a at) []any {
		s := ""
		if a.who == "Abara" && a.n == 5 {
			s = "fire alarm, not counted"
		}
		return []any{a.who, a.n, a.value, s}
	}), nil, "an attempt is not to be counted")
	doubt("13-book-promoted", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds", l, func(a at) []any {
		who := "LCpl " + a.who
		if a.who == "Moreau" && a.n > 4 {
			who = "Cpl " + a.who
		}
		return []any{who, a.n, a.value}
	}), nil, "LCpl Moreau and Cpl Moreau are one person before and after a promotion")
	doubt("13-book-married", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds", inRounds, func(a at) []any {
		who := a.who
		if who == "Lindqvist" && a.n > 3 {
			who = "Lindqvist-Berg"
		}
		return []any{who, a.n, a.value}
	}), nil, "Lindqvist and Lindqvist-Berg are one person: attempts go on from 4")
	doubt("13-book-late-page", "logbook.csv", usual+" --date Date", table13(",", "Date,Trainee,Attempt,Seconds", l, func(a at) []any {
		d := day13(a.n, 11, "2006-01-02")
		if a.n == 4 {
			d = strings.Replace(d, "2026", "2025", 1)
		}
		return []any{d, a.who, a.n, a.value}
	}), nil, "one page bears the year before: dates run against attempts")
	doubt("13-book-one-letter-o", "logbook.csv", usual, []byte(strings.Replace(string(table13(",", "Trainee,Attempt,Seconds", l, longRow)), ",3,1", ",3,l", 1)), nil, "a letter l stands for a 1 in a time")
	doubt("13-book-redo", "logbook.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds\n")
		for _, a := range l {
			b.WriteString(plain(",", point)(a) + "\n")
			if a.n == 3 && a.who != "Petrov" {
				b.WriteString(joined(",", a.who, "3 (redo)", a.value-6) + "\n")
			}
		}
		return b.Bytes()
	}(), nil, "an attempt was made again under the same number")
	read("13-book-hash-numbers", "logbook.csv", usual, table13(",", "Trainee,Attempt,Seconds,Initials", l, func(a at) []any {
		return []any{a.who, fmt.Sprint("#", a.n), a.value, hands[(a.n*3+len(a.who))%3]}
	}), l)
}

// devices13 are exports of watches, trackers and box trainers.
func devices13() {
	l := log(510, 8, "Ayla", "Bruno", "Chidi", "Dara")
	hundredths := func(v float64) string {
		t := int(math.Round(v * 100))
		return fmt.Sprintf("%02d:%02d.%02d", t/6000, t/100%60, t%100)
	}
	total := map[string]float64{}
	laps := func(a at) []any {
		if a.n == 1 {
			total[a.who] = 0
		}
		total[a.who] += a.value
		return []any{a.who, a.n, hundredths(a.value), hundredths(total[a.who])}
	}
	read("13-watch-laps", "laps.csv", "--trainee Athlete --attempt Lap --response Lap~time --measure time", table13(",", "Athlete,Lap,Lap time,Total time", l, laps), l)
	doubt("13-watch-total-named", "laps.csv", "--trainee Athlete --attempt Lap --response Elapsed --measure time", table13(",", "Athlete,Lap,Split,Elapsed", l, laps), nil, "the column named runs on from lap to lap; Split holds the laps")
	read("13-watch-fastest-flag", "laps.csv", "--trainee Name --attempt Lap --response Time --measure time", table13("\t", "Name\tLap\tTime\tFastest", l, func(a at) []any {
		best := slices.MinFunc(without(l, func(b at) bool { return b.who != a.who }), func(x, y at) int { return cmp.Compare(x.value, y.value) })
		return []any{a.who, a.n, hundredths(a.value), map[bool]string{true: "*"}[best.n == a.n]}
	}), l)
	read("13-tracker-ms", "tracker.csv", "--trainee participant --attempt trial --response duration_ms --measure time", table13(",", "participant,trial,duration_ms,path_mm,movements,peak_mm_s", l, func(a at) []any {
		return []any{a.who, a.n, math.Round(a.value * 1000), math.Round(a.value*31 + float64(a.n*17%53)*11), 40 + int(a.value)/3 + a.n*7%11, 180 + a.n*37%90}
	}), l)
	doubt("13-tracker-lost", "tracker.csv", "--trainee participant --attempt trial --response duration_s --measure time", table13(",", "participant,trial,duration_s,path_mm,tracked", l, func(a at) []any {
		if a.n == 5 && a.who != "Bruno" {
			return []any{a.who, a.n, fmt.Sprintf("%.1f", a.value/9), math.Round(a.value * 3), "14%"}
		}
		return []any{a.who, a.n, a.value, math.Round(a.value * 31), fmt.Sprint(96+a.n%4, "%")}
	}), nil, "tracking was lost in three runs, whose times are a ninth of the others")
	doubt("13-tracker-zero", "tracker.csv", "--trainee participant --attempt trial --response duration_s --measure time", table13(",", "participant,trial,duration_s,path_mm", l, func(a at) []any {
		if a.n == 6 && a.who == "Dara" {
			return []any{a.who, a.n, 0, 0}
		}
		return []any{a.who, a.n, a.value, math.Round(a.value * 31)}
	}), nil, "a run of 0 s was not tracked")
	head := "Device;Box 4\nSerial;BX-0417\nFirmware;2.1.7\nExported;2026-04-30 17:12\nUnit of time;s\n\n"
	read("13-box-preamble", "box.csv", "--trainee User --attempt Run --response Duration --measure time", append([]byte(head), table13(";", "User;Run;Duration;Drops", l, func(a at) []any { return []any{a.who, a.n, comma(a.value), a.n * 5 % 4} })...), l)
	limit := with(l, func(a *at) {
		if a.n == 1 || a.n == 2 && a.who == "Ayla" {
			a.value, a.outcome = 180, "timeout"
		}
	})
	end := func(a at) []any {
		return []any{a.who, a.n, a.value, map[bool]string{true: "max time", false: "complete"}[a.outcome == "timeout"]}
	}
	read("13-box-end-named", "box.csv", "--trainee User --attempt Run --response Duration --measure time --limit 180 --outcome End --code complete=done --code max~time=timeout", table13(",", "User,Run,Duration,End", limit, end), limit)
	doubt("13-box-end-unnamed", "box.csv", "--trainee User --attempt Run --response Duration --measure time", table13(",", "User,Run,Duration,End", limit, end), nil, "attempts that ended at the box's time limit")
	doubt("13-box-stop-word", "box.csv", "--trainee Operator --attempt Lift --response Time~s --measure time", table13(",", "Operator,Lift,Time s,Swing deg", l, func(a at) []any {
		if a.who == "Chidi" && a.n == 4 {
			return []any{a.who, a.n, "E-STOP", 31}
		}
		return []any{a.who, a.n, a.value, 4 + a.n*7%9}
	}), with(l, func(a *at) {
		if a.who == "Chidi" && a.n == 4 {
			a.value, a.outcome = math.NaN(), "failed"
		}
	}), "a word for an emergency stop")
	way13(all[len(all)-1], "--code E-STOP=failed")
	read("13-crane", "crane.csv", "--trainee Operator --attempt Lift --response Time~s --measure time", table13(",", "Operator,Lift,Time s,Contacts,Swing deg,Wind sim m/s", l, func(a at) []any {
		return []any{"OP-" + a.who[:1] + "7", a.n, a.value, a.n * 3 % 3, 4 + a.n*7%9, 3 + a.n*5%4}
	}), with(l, func(a *at) { a.who = "OP-" + a.who[:1] + "7" }))
	rms := with(l, func(a *at) { a.value = math.Round(a.value*3) / 10 })
	read("13-pilot-rms", "approaches.csv", "--trainee pilot --attempt approach --response glideslope_rms_ft --better lower", table13(",", "pilot,approach,glideslope_rms_ft,localizer_rms_ft,runway", rms, func(a at) []any {
		return []any{a.who, a.n, a.value, math.Round(a.value*7+float64(a.n*13%7)) / 10, "27L"}
	}), rms)
	doubt("13-pilot-visibility", "approaches.csv", "--trainee pilot --attempt approach --response glideslope_rms_ft --better lower", table13(",", "pilot,approach,glideslope_rms_ft,visibility_m", rms, func(a at) []any {
		return []any{a.who, a.n, a.value, []int{9999, 800}[a.n%2]}
	}), nil, "every second approach was flown in fog")
	doubt("13-device-clock-reset", "export.csv", "--trainee User --attempt Run --response Duration --measure time --date Saved", table13(",", "Saved,User,Run,Duration", l, func(a at) []any {
		d := day13(a.n, 3, "2006-01-02 15:04")
		if a.n > 5 {
			d = fmt.Sprintf("1970-01-0%d 00:%02d", a.n-5, a.n*5)
		}
		return []any{d, a.who, a.n, a.value}
	}), nil, "the clock of the device was reset: dates of 1970")
	doubt("13-device-guest-user", "export.csv", "--trainee User --attempt Run --response Duration --measure time", table13(",", "User,Run,Duration", append(slices.Clone(l), with(l[3:11], func(a *at) { a.who, a.n = "default", (a.n+4)%8+1 })...), func(a at) []any {
		return []any{a.who, a.n, a.value}
	}), nil, "runs under the user default are of nobody known")
	read("13-device-run-names", "export.csv", "--trainee user_name --attempt run --response elapsed --measure time", table13(",", "session_uuid,user_name,run,elapsed,app_version", l, func(a at) []any {
		return []any{fmt.Sprintf("%08x-%04x", uint32(a.n*99991+len(a.who)*7919)*2654435761, a.n*4099%65536), a.who, a.n, a.value, "3.4." + strconv.Itoa(a.n/4)}
	}), l)
	doubt("13-device-saved-on-exit", "export.csv", "--trainee User --attempt Run --response Duration --measure time", table13(",", "User,Run,Duration,Goals hit", l, func(a at) []any {
		if a.n == 7 && a.who == "Bruno" || a.n == 3 && a.who == "Dara" {
			return []any{a.who, a.n, math.Round(a.value) / 4, "2/9"}
		}
		return []any{a.who, a.n, a.value, "9/9"}
	}), nil, "two runs were left before all goals were hit")
}

// exports13 are exports of quizzes, forms, statistics programs and databases.
func exports13() {
	l := log(520, 5, "p01", "p02", "p03", "p04", "p05", "p06")
	mail := func(a at) string { return a.who + "@school.example" }
	grade := with(l, func(a *at) { a.value = math.Round(1100-a.value*4) / 100; a.who = mail(*a) })
	quiz := func(a at) []any {
		i := int(a.who[2] - '1')
		return []any{[]string{"Alvarez", "Bakker", "Cho", "Diallo", "Eriksen", "Farah"}[i], []string{"Ana", "Bas", "Min", "Awa", "Ole", "Omar"}[i], a.who, a.n, "Finished", day13(a.n, 7, "2 January 2006  3:04 PM"), fmt.Sprintf("%d mins %d secs", 4+a.n%3, a.n*17%60), fmt.Sprintf("%.2f", a.value)}
	}
	quizHead := "Last name,First name,Email address,Attempt,State,Started on,Time taken,Grade/10.00"
	quizFlags := "--trainee Email~address --attempt Attempt --response Grade/10.00"
	read("13-quiz", "quiz.csv", quizFlags, table13(",", quizHead, grade, quiz), grade)
	doubt("13-quiz-average-row", "quiz.csv", quizFlags, after13(table13(",", quizHead, grade, quiz), "Overall average,,,,,,,7.45"), grade, "the last row is the average of all")
	doubt("13-quiz-in-progress", "quiz.csv", quizFlags, table13(",", quizHead, grade, func(a at) []any {
		c := quiz(a)
		if a.n == 5 && a.who[2] > '4' {
			c[4], c[6], c[7] = "In progress", "-", "-"
		}
		return c
	}), without(grade, func(a at) bool { return a.n == 5 && a.who[2] > '4' }), "two attempts were never handed in")
	way13(all[len(all)-1], "--code -=blank")
	doubt("13-quiz-not-graded", "quiz.csv", quizFlags, table13(",", quizHead, grade, func(a at) []any {
		c := quiz(a)
		if a.n == 4 && a.who[2] == '2' {
			c[7] = "Not yet graded"
		}
		return c
	}), nil, "an attempt is not yet graded")
	taken := whole(l)
	read("13-quiz-time-taken", "quiz.csv", "--trainee Username --attempt Attempt --response Time~taken --measure time", table13(",", "Username,Attempt,Time taken,Grade", taken, func(a at) []any {
		return []any{a.who, a.n, minutes("%[1]d min %[2]d sec")(a.value), 5 + a.n}
	}), taken)
	form := `Timestamp,Your personal code,Which attempt is this?,"How long did it take (in seconds)?",Any remarks?`
	formFlags := "--trainee Your~personal~code --attempt Which~attempt~is~this? --response How~long~did~it~take~(in~seconds)? --measure time"
	read("13-form", "responses.csv", formFlags, table13(",", form, l, func(a at) []any {
		return []any{day13(a.n, 7, "2006-01-02 15:04:05"), a.who, a.n, a.value, []string{"", "", "thanks", `"ok, fine"`, ""}[a.n%5]}
	}), l)
	doubt("13-form-codes-typed", "responses.csv", formFlags, table13(",", form, l, func(a at) []any {
		who := a.who
		switch {
		case a.who == "p02" && a.n == 3:
			who = "P 02"
		case a.who == "p04" && a.n == 5:
			who = "p-04"
		case a.who == "p05" && a.n == 2:
			who = "P05"
		}
		return []any{day13(a.n, 7, "2006-01-02 15:04:05"), who, a.n, a.value, ""}
	}), nil, "P 02, p-04 and P05 are spellings of p02, p04 and p05")
	doubt("13-form-sent-twice", "responses.csv", formFlags, func() []byte {
		text := string(table13(",", form, l, func(a at) []any { return []any{day13(a.n, 7, "2006-01-02 15:04:05"), a.who, a.n, a.value, ""} }))
		rows := strings.SplitAfter(text, "\n")
		again := strings.Replace(rows[8], ":00,", ":09,", 1)
		return []byte(strings.Join(slices.Insert(rows, 9, again), ""))
	}(), nil, "one answer was sent twice within nine seconds")
	doubt("13-form-units-typed", "responses.csv", formFlags, table13(",", form, taken, func(a at) []any {
		v := point(a.value)
		if a.n == 2 {
			v += " sec"
		}
		if a.n == 3 {
			v = minutes("%[1]d min %[2]d")(a.value)
		}
		return []any{day13(a.n, 7, "2006-01-02 15:04:05"), a.who, a.n, v, ""}
	}), taken, "people typed times as they liked")
	doubt("13-form-wrong-attempt", "responses.csv", formFlags, table13(",", form, l, func(a at) []any {
		n := a.n
		if a.who == "p03" && a.n == 4 {
			n = 3
		}
		return []any{day13(a.n, 7, "2006-01-02 15:04:05"), a.who, n, a.value, ""}
	}), nil, "p03 said attempt 3 twice, with two times")
	read("13-r-write-csv", "log.csv", "--trainee id --attempt trial --response time --measure time", func() []byte {
		i := 0
		return table13(",", `"","id","trial","time","hand"`, l, func(a at) []any {
			i++
			return []any{fmt.Sprintf(`"%d"`, i), `"` + a.who + `"`, a.n, a.value, []string{`"R"`, `"R"`, `"L"`}[int(a.who[2])%3]}
		})
	}(), l)
	read("13-r-write-csv2", "log.csv", "--trainee id --attempt trial --response time --measure time", table13(";", `"id";"trial";"time";"note"`, l, func(a at) []any {
		return []any{`"` + a.who + `"`, a.n, comma(a.value), "NA"}
	}), l)
	read("13-r-wide-dots", "wide.csv", "--trainee id --response time --measure time", wide(`"id","time.1","time.2","time.3","time.4","time.5"`, ",", l, point), l)
	left := without(l, func(a at) bool { return a.who == "p03" && a.n > 3 || a.who == "p06" && a.n > 2 })
	read("13-stats-wide-sysmis", "wide.csv", "--trainee id --response t --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("id,age,t1,t2,t3,t4,t5\n")
		for i := 0; i < len(l); i += 5 {
			fmt.Fprint(&b, l[i].who, ",", 19+i)
			for _, a := range l[i : i+5] {
				b.WriteString(",")
				if slices.Contains(left, a) {
					b.WriteString(point(a.value))
				} else {
					b.WriteString(" ")
				}
			}
			b.WriteString("\n")
		}
		return b.Bytes()
	}(), left)
	read("13-sas-dates", "log.csv", "--trainee ID --attempt VISIT --response SEC --measure time --date DT", table13(",", "ID,VISIT,DT,SEC,ERR", l, func(a at) []any {
		return []any{a.who, a.n, strings.ToUpper(day13(a.n, 14, "02Jan2006")), a.value, []string{".", "0", "1"}[a.n%3]}
	}), l)
	doubt("13-sas-point-missing", "log.csv", "--trainee ID --attempt VISIT --response SEC --measure time", table13(",", "ID,VISIT,SEC", l, func(a at) []any {
		if a.who == "p04" && a.n == 3 {
			return []any{a.who, a.n, "."}
		}
		return []any{a.who, a.n, a.value}
	}), without(l, func(a at) bool { return a.who == "p04" && a.n == 3 }), "a point stands for a missing time")
	way13(all[len(all)-1], "--code .=blank")
	doubt("13-stats-minus-seven", "log.csv", "--trainee id --attempt trial --response pts", table13(",", "id,trial,pts", grade, func(a at) []any {
		if a.n == 4 && a.who[2] < '3' {
			return []any{a.who, a.n, "-7"}
		}
		return []any{a.who, a.n, a.value}
	}), nil, "-7 is a code of a statistics program, no score")
	doubt("13-stats-aggregated", "log.csv", "--trainee id --attempt session --response time_mean --measure time", table13(",", "id,session,time_mean,time_sd,n_trials", l, func(a at) []any {
		return []any{a.who, a.n, a.value, fmt.Sprintf("%.2f", a.value/11), 4}
	}), nil, "each row is the mean of four trials, not an attempt")
	sql := "id,trainee_code,attempt_no,seconds,created_at,updated_at,deleted_at"
	sqlFlags := "--trainee trainee_code --attempt attempt_no --response seconds --measure time"
	i := 0
	dump := func(a at) []any {
		i++
		return []any{1040 + i, a.who, a.n, a.value, day13(a.n, 7, "2006-01-02 15:04:05"), day13(a.n, 7, "2006-01-02 15:04:05"), "NULL"}
	}
	read("13-sql-null", "dump.csv", sqlFlags, table13(",", sql, l, dump), l)
	i = 0
	read("13-sql-backslash-n", "dump.tsv", sqlFlags, table13("\t", strings.ReplaceAll(sql, ",", "\t"), l, func(a at) []any {
		c := dump(a)
		c[6] = `\N`
		return c
	}), l)
	i = 0
	doubt("13-sql-joined", "dump.csv", sqlFlags, func() []byte {
		var twice []at
		for _, a := range l {
			twice = append(twice, a)
			if a.who == "p02" || a.who == "p05" {
				twice = append(twice, a)
			}
		}
		k := 0
		return table13(",", "trainee_code,attempt_no,seconds,tutor", twice, func(a at) []any {
			k++
			return []any{a.who, a.n, a.value, []string{"Iversen", "Joshi"}[k%2]}
		})
	}(), nil, "who has two tutors stands in the table twice")
	doubt("13-sql-superseded", "dump.csv", sqlFlags, func() []byte {
		k := 0
		return table13(",", "id,trainee_code,attempt_no,seconds,superseded_by", l, func(a at) []any {
			k++
			s := "NULL"
			if k == 9 || k == 22 {
				s = strconv.Itoa(2000 + k)
			}
			return []any{1000 + k, a.who, a.n, a.value, s}
		})
	}(), nil, "two records were superseded by others")
	read("13-sql-timestamps-only", "dump.csv", "--trainee trainee_code --date started_at --response seconds --measure time", table13(",", "started_at,trainee_code,seconds", rounds13(l), func(a at) []any {
		return []any{day13(a.n, 7, "2006-01-02 15:04:05"), a.who, a.value}
	}), l)
	doubt("13-web-table-part", "copied.csv", usual, after13(table13(",", "Trainee,Attempt,Seconds", l, longRow), "Showing 1 to 30 of 96 entries,,"), l, "only 30 of 96 entries were copied")
	doubt("13-export-cut", "export.csv", usual, after13(table13(",", "Trainee,Attempt,Seconds", l[:27], longRow), "p06,3,"), nil, "the file breaks off within a row")
	read("13-thousands-quoted", "kiln.csv", "--trainee Potter --attempt Piece --response Seconds --measure time", table13(",", "Potter,Piece,Seconds", with(l, func(a *at) { a.value = math.Round(a.value*120) / 10 }), func(a at) []any {
		if a.value >= 1000 {
			return []any{a.who, a.n, fmt.Sprintf(`"%d,%05.1f"`, int(a.value)/1000, math.Mod(a.value, 1000))}
		}
		return []any{a.who, a.n, fmt.Sprintf("%.1f", a.value)}
	}), with(l, func(a *at) { a.value = math.Round(a.value*120) / 10 }))
}

// handled13 are files that somebody sorted, filtered, merged or corrected.
func handled13() {
	l := log(530, 6, "T11", "T12", "T13", "T14", "T15")
	row := func(a at) []any { return []any{a.who, a.n, a.value} }
	byTime := slices.SortedFunc(slices.Values(l), func(a, b at) int { return cmp.Compare(b.value, a.value) })
	read("13-sorted-by-time", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds", byTime, row), l)
	doubt("13-sorted-one-column", "log.csv", usual, func() []byte {
		k := len(l)
		return table13(",", "Trainee,Attempt,Seconds", l, func(a at) []any { k--; return []any{a.who, a.n, byTime[k].value} })
	}(), nil, "the times alone were sorted, apart from the names")
	doubt("13-filtered-passes", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Result", without(l, func(a at) bool { return a.value > 105 }), func(a at) []any { return append(row(a), "pass") }), nil, "only passes were exported: attempts are missing")
	doubt("13-merged-heads", "log.csv", usual, after13(table13(",", "Trainee,Attempt,Seconds", l[:15], row), strings.TrimSuffix(string(table13(",", "Trainee,Seconds,Attempt", l[15:], func(a at) []any { return []any{a.who, a.value, a.n} })), "\n")), nil, "the second part has its columns in another order, under its own head")
	read("13-merged-same-head", "log.csv", usual, after13(table13(",", "Trainee,Attempt,Seconds", l[:18], row), strings.TrimSuffix(string(table13(",", "Trainee,Attempt,Seconds", l[18:], row)), "\n")), l)
	doubt("13-merged-x-y", "log.csv", "--trainee Trainee --attempt Attempt --response Seconds_x --measure time", table13(",", "Trainee,Attempt,Seconds_x,Seconds_y", l, func(a at) []any {
		y := a.value
		if a.n == 4 || a.who == "T13" && a.n == 2 {
			y += 7.3
		}
		return []any{a.who, a.n, a.value, y}
	}), nil, "Seconds_y differs in some rows")
	doubt("13-filled-below", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds", l, func(a at) []any {
		if a.who == "T14" && a.n > 2 {
			return []any{a.who, a.n, l[19].value}
		}
		return row(a)
	}), nil, "the last four times of T14 are one value filled down")
	doubt("13-pivot-means", "pivot.csv", "--trainee Row~Labels --response Session --measure time", after13([]byte("Average of Seconds,Column Labels\n"), strings.TrimSuffix(string(wide("Row Labels,Session 1,Session 2,Session 3,Session 4,Session 5,Session 6", ",", l, func(v float64) string { return fmt.Sprintf("%.4f", v) })), "\n")), nil, "the cells are averages of sessions")
	doubt("13-pivot-grand-total", "pivot.csv", "--trainee Row~Labels --response Attempt --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Row Labels,Attempt 1,Attempt 2,Attempt 3,Attempt 4,Attempt 5,Attempt 6,Grand Total\n")
		col := make([]float64, 7)
		for i := 0; i < len(l); i += 6 {
			b.WriteString(l[i].who)
			s := 0.0
			for j, a := range l[i : i+6] {
				fmt.Fprintf(&b, ",%.1f", a.value)
				s += a.value
				col[j] += a.value
			}
			col[6] += s
			fmt.Fprintf(&b, ",%.1f\n", s)
		}
		b.WriteString("Grand Total")
		for _, s := range col {
			fmt.Fprintf(&b, ",%.1f", s)
		}
		b.WriteString("\n")
		return b.Bytes()
	}(), l, "the last row and column are sums")
	read("13-semicolon-tails", "log.csv", usual, after13(table13(";", "Trainee;Attempt;Seconds;;;;", l, func(a at) []any { return []any{a.who, a.n, comma(a.value), "", "", "", ""} }), strings.TrimSuffix(strings.Repeat(";;;;;;\n", 20), "\n")), l)
	read("13-units-below-head", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Force\n,,(s),(N)", l, func(a at) []any { return append(row(a), 3+a.n*7%5) }), l)
	t := doubt("13-lookup-failed", "log.csv", usual+" --arm Group", table13(",", "Trainee,Attempt,Seconds,Group", l, func(a at) []any {
		return append(row(a), map[string]string{"T11": "box", "T12": "VR", "T13": "box", "T14": "#N/A", "T15": "VR"}[a.who])
	}), nil, "the group of T14 was not found: #N/A")
	t.Arms = nil
	doubt("13-names-cut", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds", with(l, func(a *at) {
		a.who = map[string]string{"T11": "Kowalska", "T12": "Kowalski", "T13": "Kozlov", "T14": "Wagner", "T15": "Wagnerov"}[a.who]
	}), func(a at) []any { return []any{a.who[:6], a.n, a.value} }), nil, "names were cut at six letters, so that two people are one")
	read("13-arms-plain", "log.csv", usual+" --arm Group", table13(",", "Group,Trainee,Attempt,Seconds", l, func(a at) []any {
		return append([]any{map[string]string{"T11": "box", "T12": "VR", "T13": "box", "T14": "box", "T15": "VR"}[a.who]}, row(a)...)
	}), l).Arms = map[string]string{"T11": "box", "T12": "VR", "T13": "box", "T14": "box", "T15": "VR"}
	doubt("13-arm-as-received", "log.csv", usual+" --arm Group", table13(",", "Group,Trainee,Attempt,Seconds", l, func(a at) []any {
		g := map[string]string{"T11": "box", "T12": "VR", "T13": "box", "T14": "box", "T15": "VR"}[a.who]
		if a.who == "T13" && a.n > 3 {
			g = "VR"
		}
		return append([]any{g}, row(a)...)
	}), nil, "T13 changed groups half way")
	doubt("13-template-row", "log.csv", usual, []byte(strings.Replace(string(table13(",", "Trainee,Attempt,Seconds", l, row)), "Seconds\n", "Seconds\nT00 (sample),1,123.4\n", 1)), l, "the first row is a sample of how to fill in")
	doubt("13-shifted-left", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Drops", l, func(a at) []any {
		if a.who == "T12" && a.n == 4 {
			return []any{a.who, a.value, 1, ""}
		}
		return append(row(a), a.n%3)
	}), nil, "a row was moved one cell to the left")
	doubt("13-find-and-replace", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds", l, func(a at) []any {
		return []any{a.who, a.n, strings.ReplaceAll(fmt.Sprintf("%.1f", a.value), "9.", "9")}
	}), nil, "points behind a 9 were lost: times ten times as long")
	read("13-uneven", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Drops", without(l, func(a at) bool { return a.who == "T12" && a.n > 4 || a.who == "T15" && a.n > 5 }), func(a at) []any { return append(row(a), a.n*a.n%3) }), without(l, func(a at) bool { return a.who == "T12" && a.n > 4 || a.who == "T15" && a.n > 5 }))
}

// places13 are logs of other trades, and in other languages.
func places13() {
	l := log(540, 6, "Anvar", "Beate", "Cem", "Dilan")
	row := func(a at) []any { return []any{a.who, a.n, a.value} }
	count := with(l, func(a *at) { a.value = math.Round(a.value / 9) })
	read("13-music-wrong-notes", "takes.csv", "--trainee Student --attempt Take --response Wrong~notes --measure count", table13(",", "Student,Take,Wrong notes,Bars", count, func(a at) []any { return append(row(a), 32) }), count)
	doubt("13-music-metronome", "takes.csv", "--trainee Student --attempt Take --response Wrong~notes --measure count", table13(",", "Student,Take,Wrong notes,Beats per minute", count, func(a at) []any { return append(row(a), 56+8*a.n) }), nil, "every take was played faster than the one before")
	hits := with(l, func(a *at) { a.value = math.Max(0, math.Round(11-a.value/20)) })
	read("13-sports-hits", "shots.csv", "--trainee Player --attempt Set --response Hits --measure count --better higher", table13(",", "Player,Set,Hits,Shots", hits, func(a at) []any { return append(row(a), 10) }), hits)
	sprint := with(l, func(a *at) { a.value = math.Round(380+a.value) / 100 })
	read("13-sports-sprint", "sprints.csv", "--trainee Athlete --attempt Trial --response 30~m --measure time", table13(",", "Athlete,Trial,Wind m/s,10 m,20 m,30 m", sprint, func(a at) []any {
		return []any{a.who, a.n, fmt.Sprintf("%+.1f", float64(a.n*7%9-4)/5), fmt.Sprintf("%.2f", a.value*0.43), fmt.Sprintf("%.2f", a.value*0.71), a.value}
	}), sprint)
	doubt("13-sports-false-start", "sprints.csv", "--trainee Athlete --attempt Trial --response 30~m --measure time", table13(",", "Athlete,Trial,30 m", sprint, func(a at) []any {
		if a.who == "Cem" && a.n == 2 {
			return []any{a.who, a.n, "FS"}
		}
		return row(a)
	}), with(sprint, func(a *at) {
		if a.who == "Cem" && a.n == 2 {
			a.value, a.outcome = math.NaN(), "void"
		}
	}), "FS stands for a false start")
	way13(all[len(all)-1], "--code FS=void")
	points := with(l, func(a *at) {
		a.value = math.Round((115-a.value/3)*10) / 10
		a.who = map[string]string{"Anvar": "4711", "Beate": "4729", "Cem": "4733", "Dilan": "4802"}[a.who]
	})
	read("13-dental-wide", "prep.csv", "--trainee Student~no. --response Prep", wide("Student no.;Prep 1;Prep 2;Prep 3;Prep 4;Prep 5;Prep 6", ";", points, comma), points)
	doubt("13-dental-tooth", "prep.csv", "--trainee Student --attempt Prep --response Score", table13(",", "Student,Prep,Tooth,Score", points, func(a at) []any { return []any{a.who, a.n, []int{36, 11}[a.n%2], a.value} }), nil, "molars and incisors by turns")
	pass := with(l, func(a *at) { a.value = map[bool]float64{true: 1}[a.value < 110] })
	word := func(a at) string { return map[bool]string{true: "Pass", false: "Fail"}[a.value == 1] }
	read("13-nursing-pass", "cannulation.csv", "--trainee Nurse --attempt Attempt --response Result --measure pass-fail", table13(",", "Ward,Nurse,Attempt,Result", pass, func(a at) []any { return []any{"4B", a.who, a.n, word(a)} }), pass)
	doubt("13-nursing-pass-star", "cannulation.csv", "--trainee Nurse --attempt Attempt --response Result --measure pass-fail", after13(table13(",", "Nurse,Attempt,Result", pass, func(a at) []any {
		s := word(a)
		if s == "Pass" && a.n == 4 {
			s = "Pass*"
		}
		return []any{a.who, a.n, s}
	}), "* after a second puncture,,"), nil, "Pass* was a pass only at the second puncture")
	doubt("13-nursing-takeover", "cannulation.csv", "--trainee Nurse --attempt Attempt --response Seconds --measure time", table13(",", "Nurse,Attempt,Seconds,Finished by", l, func(a at) []any {
		by := a.who
		if a.n == 2 && a.who != "Cem" {
			by = "mentor"
		}
		return append(row(a), by)
	}), nil, "three attempts were finished by the mentor")
	long := with(l, func(a *at) { a.value = math.Round(a.value) * 60 })
	read("13-craft-hours", "joints.csv", "--trainee Apprentice --attempt Piece --response Time --measure time", table13(";", "Apprentice;Piece;Time;Wood", long, func(a at) []any {
		return []any{a.who, a.n, fmt.Sprintf("%d h %02d min", int(a.value)/3600, int(a.value)/60%60), "ash"}
	}), long)
	read("13-craft-minutes", "joints.csv", "--trainee Lehrling --attempt Stück --response Zeit~[min] --measure time", table13(";", "Lehrling;Stück;Zeit [min];Holz", long, func(a at) []any { return []any{a.who, a.n, a.value / 60, "Esche"} }), long)
	doubt("13-craft-two-of-a-name", "joints.csv", "--trainee Apprentice --attempt Piece --response Seconds --measure time", table13(",", "Apprentice,Piece,Seconds", l, func(a at) []any {
		if a.who == "Dilan" {
			a.who = "Cem"
		}
		return row(a)
	}), nil, "two people are called Cem")
	doubt("13-craft-scrap", "joints.csv", "--trainee Apprentice --attempt Piece --response Seconds --measure time", table13(",", "Apprentice,Piece,Seconds,Scrap", l, func(a at) []any {
		return append(row(a), map[bool]string{true: "x"}[a.n == 2 && a.who == "Beate" || a.n == 5 && a.who == "Cem" || a.n == 1 && a.who == "Anvar"])
	}), nil, "three pieces were scrapped")
	medics := with(l, func(a *at) {
		a.who = map[string]string{"Anvar": "00418823", "Beate": "00419377", "Cem": "10022045", "Dilan": "10022611"}[a.who]
	})
	read("13-medics", "tq.csv", "--trainee Service~no --attempt Iteration --response Time~to~control~(s) --measure time", table13(",", "Section,Service no,Iteration,Time to control (s),Pulse gone", medics, func(a at) []any {
		return []any{map[bool]string{true: "2", false: "3"}[a.who < "1"], a.who, a.n, a.value, "Y"}
	}), medics)
	doubt("13-medics-limb", "tq.csv", "--trainee Service~no --attempt Iteration --response Seconds --measure time", table13(",", "Service no,Iteration,Limb,Seconds", medics, func(a at) []any { return []any{a.who, a.n, []string{"leg", "arm"}[a.n%2], a.value} }), nil, "arms and legs by turns")
	doubt("13-medics-night", "tq.csv", "--trainee Service~no --attempt Iteration --response Seconds --measure time", table13(",", "Service no,Iteration,Seconds,Light", medics, func(a at) []any { return append(row(a), map[bool]string{true: "dark", false: "day"}[a.n > 4]) }), nil, "the last two iterations were made in the dark")
	doubt("13-medics-pulse-kept", "tq.csv", "--trainee Service~no --attempt Iteration --response Seconds --measure time", table13(",", "Service no,Iteration,Seconds,Pulse gone", medics, func(a at) []any {
		return append(row(a), map[bool]string{true: "N", false: "Y"}[a.n == 1 && a.who < "1" || a.n == 3 && a.who > "10022100"])
	}), nil, "in some iterations the bleeding was not controlled")
	for i, c := range []struct{ name, sep, who, n, v, more, said string }{
		{"no", ";", "Deltaker", "Forsøk", "Tid (s)", "Dominant hånd", "høyre"},
		{"sk", ";", "Účastník", "Pokus", "Čas (s)", "Poznámka", ""},
		{"id", ",", "Peserta", "Percobaan", "Waktu (detik)", "Kelas", "A2"},
		{"et", "\t", "Õppija", "Katse", "Aeg (s)", "Käsi", "parem"},
		{"ca", ";", "Alumne", "Intent", "Temps (s)", "Lateralitat", "dretà"},
	} {
		m := log(550+i, 6, c.name+"-1", c.name+"-2", c.name+"-3", c.name+"-4")
		number := comma
		if c.sep == "," {
			number = point
		}
		read("13-lang-"+c.name, "log.csv", fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", c.who, c.n, strings.ReplaceAll(c.v, " ", "~")),
			table13(c.sep, strings.Join([]string{c.who, c.n, c.v, c.more}, c.sep), m, func(a at) []any { return []any{a.who, a.n, number(a.value), c.said} }), m)
	}
	out := with(points, func(a *at) { a.value = math.Round(a.value / 5) })
	doubt("13-points-max-raised", "osce.csv", "--trainee Student --attempt Station --response Points", table13(",", "Student,Station,Points,Max", out, func(a at) []any {
		if a.n > 3 {
			return []any{a.who, a.n, math.Round(a.value * 1.5), 30}
		}
		return []any{a.who, a.n, a.value, 20}
	}), nil, "points of 20, and later of 30")
	doubt("13-time-and-errors-cell", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds", l, func(a at) []any { return []any{a.who, a.n, fmt.Sprint(a.value, " / ", a.n%3)} }), nil, "each cell holds a time and errors")
}

// courses13 are retention tests, courses of two kinds and those who leave.
func courses13() {
	l := log(560, 8, "S1", "S2", "S3", "S4")
	row := func(a at) []any { return []any{a.who, a.n, a.value} }
	session := func(a at) string { return map[bool]string{true: "Retention", false: "Training"}[a.n > 6] }
	date := func(a at) string {
		if a.n > 6 {
			return day13(a.n, 26, "2006-01-02")
		}
		return day13(a.n, 2, "2006-01-02")
	}
	read("13-retention-named", "log.csv", usual+" --session Session --date Date", table13(",", "Trainee,Session,Date,Attempt,Seconds", l, func(a at) []any { return []any{a.who, session(a), date(a), a.n, a.value} }), l)
	doubt("13-retention-unsaid", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,When", l, func(a at) []any { return append(row(a), map[bool]string{true: "6 mo", false: "course"}[a.n > 6]) }), nil, "the last two attempts were made half a year later")
	doubt("13-retention-wide", "wide.csv", "--trainee Trainee --response T --measure time", wide("Trainee,T1,T2,T3,T4,T5,T6,T6mo-1,T6mo-2", ",", l, point), without(l, func(a at) bool { return a.n > 6 }), "the last two columns are of half a year later")
	doubt("13-crossover-arm", "log.csv", usual+" --arm Trainer", table13(",", "Trainee,Trainer,Attempt,Seconds", l, func(a at) []any {
		return []any{a.who, map[bool]string{true: "box", false: "VR"}[(a.n > 4) == (a.who < "S3")], a.n, a.value}
	}), nil, "each trainee changes trainers half way")
	order := map[string]string{"S1": "box-VR", "S2": "box-VR", "S3": "VR-box", "S4": "VR-box"}
	doubt("13-crossover-order", "log.csv", usual+" --arm Order", table13(",", "Trainee,Order,Attempt,Period,Seconds", l, func(a at) []any { return []any{a.who, order[a.who], a.n, 1 + (a.n-1)/4, a.value} }), nil, "two periods, each on another trainer")
	doubt("13-left-the-course", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds", l, func(a at) []any {
		if a.who == "S3" && a.n == 6 {
			return []any{a.who, a.n, "left the course"}
		}
		if a.who == "S3" && a.n > 6 {
			return []any{a.who, a.n, ""}
		}
		return row(a)
	}), without(l, func(a at) bool { return a.who == "S3" && a.n > 5 }), "words where the time belongs")
	way13(all[len(all)-1], "--code left~the~course=blank")
	doubt("13-consent-withdrawn", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Consent withdrawn on", l, func(a at) []any { return append(row(a), map[string]string{"S2": "2026-03-18"}[a.who]) }), nil, "S2 withdrew consent")
	doubt("13-pretest-in-front", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Before teaching", l, func(a at) []any { return append(row(a), map[bool]string{true: "yes", false: "no"}[a.n == 1]) }), nil, "the first attempt was made before the teaching")
	read("13-column-a-trainee", "class.csv", "--columns-are trainee --attempt Round --response Time --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Round;S1;S2;S3;S4\n")
		for n := range 8 {
			fmt.Fprint(&b, n+1)
			for k := range 4 {
				b.WriteString(";" + comma(l[k*8+n].value))
			}
			b.WriteString("\n")
		}
		return b.Bytes()
	}(), l)
	doubt("13-sub-for-absent", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Remarks", l, func(a at) []any {
		return append(row(a), map[bool]string{true: "done by S2, S4 ill"}[a.who == "S4" && a.n == 5])
	}), nil, "an attempt of S4 was made by S2")
	read("13-remarks-idle", "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,Weather", l, func(a at) []any { return append(row(a), []string{"sun", "rain", "", "cloud"}[(a.n*3+int(a.who[1]))%4]) }), l)
	read("13-class-year-and-site", "log.csv", usual, table13(",", "Site,Class of,Trainee,Attempt,Seconds", l, func(a at) []any { return append([]any{"North", 2028 + int(a.who[1])%2}, row(a)...) }), l)
}

// books13 are workbooks.
func books13() {
	l := log(570, 6, "U1", "U2", "U3", "U4")
	head := []any{"Trainee", "Attempt", "Seconds"}
	cells := func(a at) []any { return []any{a.who, a.n, a.value} }
	b := newBook("Log")
	b.log(head, l, cells)
	must(b.AutoFilter("Log", "A1:C25", nil))
	must(b.SetPanes("Log", &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	read("13-xlsx-filter-panes", "log.xlsx", usual, b.bytes(), l)
	b = newBook("Log")
	b.log(head, l, cells)
	b.next("Groups")
	b.row("A1", "Trainee", "Group")
	for i, g := range []string{"box", "VR", "VR", "box"} {
		b.row(fmt.Sprint("A", i+2), fmt.Sprint("U", i+1), g)
	}
	doubt("13-xlsx-groups-beside", "log.xlsx", usual, b.bytes(), l, "a second sheet says of which group everybody is")
	b = newBook("Log")
	b.log(head, l, cells)
	b.next("Log corrected")
	b.log(head, with(l, func(a *at) {
		if a.n == 4 {
			a.value -= 10
		}
	}), cells)
	doubt("13-xlsx-corrected-sheet", "log.xlsx", usual, b.bytes(), nil, "a second sheet holds the corrected log")
	months := func() *book {
		b := newBook("February")
		row := 2
		for m, name := range []string{"February", "March", "April"} {
			if m > 0 {
				b.next(name)
			}
			b.row("A1", head...)
			row = 2
			for _, a := range l {
				if (a.n-1)/2 == m {
					b.row(fmt.Sprint("A", row), cells(a)...)
					row++
				}
			}
		}
		return b
	}
	read("13-xlsx-months-said", "log.xlsx", "--sheets-are session --trainee Trainee --attempt Attempt --response Seconds --measure time", months().bytes(), l)
	doubt("13-xlsx-months-unsaid", "log.xlsx", usual, months().bytes(), nil, "the months after the first stand in other sheets")
	b = newBook("Log")
	b.log(head, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", "C25", "mm:ss.0")
	read("13-xlsx-durations", "log.xlsx", usual, b.bytes(), l)
	b = newBook("Scores")
	b.row("A1", "Suture skills lab", nil, nil)
	b.row("A2", "Spring 2026, bench 1 to 4", nil, nil)
	b.row("A4", head...)
	for i, a := range l {
		b.row(fmt.Sprint("A", i+5), cells(a)...)
	}
	b.row("A30", "Times by hand watch; ask the lab manager", nil, nil)
	read("13-xlsx-title-and-foot", "log.xlsx", usual, b.bytes(), l)
	b = newBook("Grid")
	b.row("A1", "Trainee", "Week 1", nil, "Week 2", nil, "Week 3", nil)
	b.row("A2", nil, "Try 1", "Try 2", "Try 1", "Try 2", "Try 1", "Try 2")
	for _, m := range []string{"B1:C1", "D1:E1", "F1:G1", "A1:A2"} {
		from, to, _ := strings.Cut(m, ":")
		must(b.MergeCell("Grid", from, to))
	}
	for i := 0; i < len(l); i += 6 {
		r := []any{l[i].who}
		for _, a := range l[i : i+6] {
			r = append(r, a.value)
		}
		b.row(fmt.Sprint("A", i/6+3), r...)
	}
	t := doubt("13-xlsx-weeks-over-tries", "grid.xlsx", "--trainee Trainee --response Try --measure time", b.bytes(), l, "weeks over tries: 1 to 6 in all, or asked about")
	t.Way = nil
	b = newBook("Log")
	b.log(head, l, cells)
	b.row("E1", "Targets")
	b.row("E2", "Pass", 75)
	b.row("E3", "Merit", 60)
	read("13-xlsx-targets-aside", "log.xlsx", usual, b.bytes(), l)
	b = newBook("Log")
	b.log(head, l, cells)
	b.row("A26", "added later from paper:", nil, nil)
	b.row("A27", "U2", 7, 61.2)
	b.row("A28", "U3", 7, 66.4)
	doubt("13-xlsx-note-within", "log.xlsx", usual, b.bytes(), append(slices.Clone(l), at{"U2", 7, 61.2, "done"}, at{"U3", 7, 66.4, "done"}), "a note stands between attempts")
	read("13-ods", "log.ods", usual, ods(append([]string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}, func() []string {
		var rows []string
		for _, a := range l {
			rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value)))
		}
		return rows
	}()...)...), l)
}

// raters13 are examiners' sheets in studies.
func raters13() {
	l := log(580, 5, "W1", "W2", "W3")
	names := []string{"Aalto", "Brandt", "Conti"}
	items := []string{"prepares", "steadies", "closes", "global"}
	base := []int{2, 3, 4, 1, 5, 3, 2, 4, 5, 1, 3, 4, 2, 5}
	noise := []int{0, 1, 0, -1, 0, 0, 1, 0, -1, 1, 0, 0, 1, -1}
	mark := func(s, r, i int) int { return min(5, max(1, base[s]+[]int{0, -1, 1, 0}[i]+noise[(s*3+r*5+i*2)%14])) }
	yaml := "ratings:\n  file: ratings.csv\n  subject: film\n  rater: examiner\n  item: item\n  score: score\n  items:\n" +
		"    - {name: prepares, scale: ordinal}\n    - {name: steadies, scale: ordinal}\n    - {name: closes, scale: ordinal}\n    - {name: global, scale: ordinal}\n"
	long := func(verdict, name, about string, cell func(s, r, i int) string, rater func(s, r int) string, more ...string) {
		t := put(verdict, "13-rate-"+name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString("film,examiner,item,score\n")
		for s := range 12 {
			for r := range names {
				for i, item := range items {
					v := cell(s, r, i)
					b.WriteString(joined(",", fmt.Sprintf("F%02d", s+1), rater(s, r), item, v) + "\n")
					if verdict == "read" {
						t.Ratings = append(t.Ratings, [4]string{fmt.Sprintf("F%02d", s+1), rater(s, r), item, v})
					}
				}
			}
		}
		for _, m := range more {
			b.WriteString(m + "\n")
		}
		study(t, yaml, map[string][]byte{"ratings.csv": b.Bytes()})
	}
	score := func(s, r, i int) string { return strconv.Itoa(mark(s, r, i)) }
	named := func(s, r int) string { return names[r] }
	long("read", "items-long", "", score, named)
	long("doubt", "not-observed", "N/O means that the item was not observed", func(s, r, i int) string {
		if s == 4 && i == 2 {
			return "N/O"
		}
		return score(s, r, i)
	}, named)
	long("doubt", "name-turned", "B. Brandt and Brandt are one examiner", score, func(s, r int) string {
		if r == 1 && s > 6 {
			return "B. Brandt"
		}
		return names[r]
	})
	long("doubt", "two-as-one", "Aalto+Brandt are two examiners who scored together", score, func(s, r int) string {
		if r == 1 && s > 8 {
			return "Aalto+Brandt"
		}
		return names[r]
	})
	long("doubt", "total-item", "the item total is the sum of the others", score, named, func() []string {
		var out []string
		for s := range 12 {
			for r := range names {
				out = append(out, joined(",", fmt.Sprintf("F%02d", s+1), names[r], "total", mark(s, r, 0)+mark(s, r, 1)+mark(s, r, 2)+mark(s, r, 3)))
			}
		}
		return out
	}()...)
	long("doubt", "ten-of-five", "one examiner gave a 10 where 5 is the most", func(s, r, i int) string {
		if s == 7 && r == 2 && i == 3 {
			return "10"
		}
		return score(s, r, i)
	}, named)
	long("doubt", "second-sitting", "the last films were scored twice by one examiner", score, named, "F11,Conti,global,2", "F12,Conti,global,4")
	grid := func(verdict, name, about, scale, sep, head string, cell func(s, r int) string, keep bool) {
		t := put(verdict, "13-rate-"+name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString(head)
		cols := strings.Split(head, sep)
		for s := range 14 {
			b.WriteString("\n" + fmt.Sprintf("F%02d", s+1))
			for r := range len(cols) - 1 {
				v := cell(s, r)
				b.WriteString(sep + v)
				if keep {
					t.Ratings = append(t.Ratings, [4]string{fmt.Sprintf("F%02d", s+1), cols[r+1], "global", strings.ReplaceAll(v, ",", ".")})
				}
			}
		}
		b.WriteString("\n")
		study(t, "ratings:\n  file: ratings.csv\n  wide: true\n  subject: film\n  items:\n    - {name: global, scale: "+scale+"}\n", map[string][]byte{"ratings.csv": b.Bytes()})
	}
	grid("read", "grid-halves", "", "interval", ";", "film;Dr Aalto;Dr Brandt;Dr Conti", func(s, r int) string { return comma(float64(mark(s, r, 3)) + float64((s+r)%2)/2) }, true)
	grid("read", "grid-percent", "", "interval", ",", "film,Aalto,Brandt,Conti", func(s, r int) string { return strconv.Itoa(38 + s*29%50 + (s*r*5)%9) }, true)
	grid("doubt", "grid-agreed", "the last column is what they agreed on afterwards, no fourth examiner", "interval", ",", "film,Aalto,Brandt,Conti,Agreed", func(s, r int) string {
		if r == 3 {
			return strconv.Itoa(mark(s, 1, 3))
		}
		return strconv.Itoa(mark(s, r, 3))
	}, false)
	grid("doubt", "grid-date", "a column of days of scoring is no examiner", "interval", ",", "film,Aalto,Brandt,Conti,Scored on", func(s, r int) string {
		if r == 3 {
			return fmt.Sprintf("2026-05-%02d", s+1)
		}
		return strconv.Itoa(mark(s, r, 3))
	}, false)
	grid("doubt", "grid-y-and-yes", "Brandt writes y and n where the others write yes and no", "nominal", ",", "film,Aalto,Brandt,Conti", func(s, r int) string {
		yes := mark(s, r, 3) > 2
		if r == 1 {
			return map[bool]string{true: "y", false: "n"}[yes]
		}
		return map[bool]string{true: "yes", false: "no"}[yes]
	}, false)
	grid("read", "angoff", "", "interval", ",", "film,Judge 1,Judge 2,Judge 3,Judge 4,Judge 5", func(s, r int) string { return strconv.Itoa(40 + 5*((s*3+r*2+s*r)%10)) }, true)
	grid("doubt", "angoff-after-talk", "the second half of the columns is of the round after the discussion", "interval", ",", "film,J1 before,J2 before,J3 before,J1 after,J2 after,J3 after", func(s, r int) string {
		return strconv.Itoa(40 + 5*((s*3+r%3*2+s*(r%3))%10) - r/3*((s+r)%3))
	}, false)
}

// standards13 are runs of experts beside the log.
func standards13() {
	l := log(590, 6, "X1", "X2", "X3", "X4")
	x := with(log(591, 3, "E1", "E2", "E3", "E4", "E5"), func(a *at) { a.value = math.Round((40+a.value/8)*10) / 10 })
	expert := func(verdict, name, about, head string, row func(a at) []any, keep bool, more ...string) {
		t := put(verdict, "13-expert-"+name, ".", "", nil, l, about)
		if keep {
			t.Experts = x
		}
		data := table13(",", head, x, row)
		if len(more) > 0 {
			data = after13(data, more...)
		}
		study(t, "experts:\n  file: experts.csv\n", map[string][]byte{"experts.csv": data})
	}
	cells := func(a at) []any { return []any{a.who, a.n, a.value} }
	expert("read", "runs", "", "expert,run,seconds", cells, true)
	expert("read", "runs-and-years", "", "expert,run,seconds,years in practice", func(a at) []any { return append(cells(a), 7+3*int(a.who[1]-'0')) }, true)
	expert("doubt", "familiarisation", "each expert's first run was for getting to know the box", "expert,run,seconds,remark", func(a at) []any { return append(cells(a), map[bool]string{true: "familiarisation"}[a.n == 1]) }, false)
	expert("doubt", "other-hand", "every third run was made with the other hand", "expert,run,seconds,hand", func(a at) []any {
		return append(cells(a), map[bool]string{true: "non-dominant", false: "dominant"}[a.n == 3])
	}, false)
	expert("doubt", "mean-sd-rows", "the last rows are a mean and a standard deviation", "expert,run,seconds", cells, true, "Media,,55.2", "DE,,4.1")
	slow := x
	x = with(x, func(a *at) { a.value = math.Round((a.value+150)*10) / 10 })
	expert("doubt", "slower-than-trainees", "the experts take longer than any trainee: the files are swapped, or the unit is another", "expert,run,seconds", cells, false)
	x = with(slow, func(a *at) { a.value = math.Round(a.value * 10) })
	expert("doubt", "tenths", "the experts' times are in tenths of a second", "expert,run,seconds", cells, false)
}

// studies13 are study files that say something else than the tables beside them.
func studies13() {
	l := log(600, 6, "Y1", "Y2", "Y3", "Y4")
	t := read("13-study-plain", ".", "", nil, l)
	study(t, "", nil)
	change := func(t *truth, pairs ...string) {
		t.files["study.yaml"] = []byte(strings.NewReplacer(pairs...).Replace(string(t.files["study.yaml"])))
	}
	t = read("13-study-own-heads", ".", "", nil, l)
	study(t, "", nil)
	change(t, "  file: log.csv\n", "  file: log.csv\n  trainee: Student\n  attempt: Go\n", "column: seconds", "column: Time taken")
	t.files["log.csv"] = table13(",", "Student,Go,Time taken", l, longRow)
	t = doubt("13-study-minutes-in-head", ".", "", nil, nil, "the study says seconds, the head of the column minutes")
	study(t, "", nil)
	change(t, "column: seconds", "column: time (min)")
	t.files["log.csv"] = table13(",", "trainee,attempt,time (min)", l, func(a at) []any { return []any{a.who, a.n, fmt.Sprintf("%.2f", a.value/60)} })
	t = doubt("13-study-limit-lowered", ".", "", nil, nil, "times heap at 150 although the study's limit is 300")
	study(t, "", nil)
	t.files["log.csv"] = table13(",", "trainee,attempt,seconds", with(l, func(a *at) {
		if a.value > 120 || a.n < 3 {
			a.value = 150
		}
	}), longRow)
	t = doubt("13-study-better-higher", ".", "", nil, nil, "the study says that longer is better, the times fall")
	study(t, "", nil)
	change(t, "better: lower", "better: higher")
	t.Attempts = l
	t.files["log.csv"] = table13(",", "trainee,attempt,seconds", l, longRow)
	t = doubt("13-study-group-list", ".", "", nil, l, "a list of groups lies beside the log, and the study does not name it")
	study(t, "", map[string][]byte{"groups.csv": []byte("trainee,arm\nY1,box\nY2,VR\nY3,VR\nY4,box\n")})
	t = read("13-study-arms", ".", "", nil, l)
	study(t, "", nil)
	arms := map[string]string{"Y1": "box", "Y2": "VR", "Y3": "VR", "Y4": "box"}
	t.Arms = maps.Clone(arms)
	change(t, "attempts:\n", "arms: [box, VR]\nattempts:\n")
	t.files["log.csv"] = table13(",", "trainee,arm,attempt,seconds", l, func(a at) []any { return []any{a.who, arms[a.who], a.n, a.value} })
	t = doubt("13-study-arm-unlisted", ".", "", nil, nil, "the log has an arm that the study does not list")
	study(t, "", nil)
	change(t, "attempts:\n", "arms: [box, VR]\nattempts:\n")
	t.files["log.csv"] = table13(",", "trainee,arm,attempt,seconds", l, func(a at) []any {
		return []any{a.who, map[string]string{"Y1": "box", "Y2": "VR", "Y3": "video", "Y4": "box"}[a.who], a.n, a.value}
	})
	t = doubt("13-study-column-renamed", ".", "", nil, nil, "the column seconds is called time now: the study's name is not there")
	study(t, "", nil)
	t.files["log.csv"] = table13(",", "trainee,attempt,time_s", l, longRow)
	t = doubt("13-study-second-log", ".", "", nil, nil, "a second log, of the later months, lies beside the one that the study names")
	study(t, "", nil)
	t.files["log.csv"] = table13(",", "trainee,attempt,seconds", without(l, func(a at) bool { return a.n > 4 }), longRow)
	t.files["log-2.csv"] = table13(",", "trainee,attempt,seconds", without(l, func(a at) bool { return a.n <= 4 }), longRow)
}

// idle13 are plain logs with columns beside the measure that do not change what it means.
func idle13() {
	l := log(610, 7, "Z1", "Z2", "Z3", "Z4", "Z5")
	who := func(a at) int { return int(a.who[1] - '0') }
	for _, c := range []struct {
		name, head string
		cell       func(a at) any
	}{
		{"glove", "Glove size", func(a at) any { return 6 + float64(who(a)%4)/2 }},
		{"confidence", "How sure do you feel (1-10)", func(a at) any { return min(10, 2+a.n+who(a)%3) }},
		{"pulse", "Heart rate", func(a at) any { return 104 - 4*a.n + who(a)*7%11 }},
		{"errors-falling", "Errors", func(a at) any { return max(0, 6-a.n+who(a)%2) }},
		{"video", "Video", func(a at) any { return fmt.Sprintf("MVI_%04d.mp4", 1200+who(a)*40+a.n*3) }},
		{"serial", "Pad no.", func(a at) any { return 3300 + (a.n*7+who(a)*13)%40 }},
		{"lot", "Lot", func(a at) any { return fmt.Sprintf("B%d", 20+a.n/3) }},
		{"bench", "Bench", func(a at) any { return 1 + (who(a)+a.n)%4 }},
		{"slot", "Slot", func(a at) any { return []string{"09:00", "09:30", "10:00", "10:30", "11:00"}[(who(a)+a.n)%5] }},
		{"prior", "Prior cases", func(a at) any { return who(a) * 3 }},
		{"temperature", "Room °C", func(a at) any { return fmt.Sprintf("%.1f", 20.5+float64(a.n*7%5)/5) }},
		{"entered-by", "Entered by", func(a at) any { return []string{"AK", "RV", "AK", "TS"}[(a.n+who(a)*2)%4] }},
		{"feedback", "Feedback given", func(a at) any {
			return []string{"elbows lower", "", "well done", "take your time", ""}[(a.n*2+who(a))%5]
		}},
		{"strength", "Pull test N", func(a at) any { return 11 + a.n + who(a)*5%7 }},
		{"file-size", "kB", func(a at) any { return 800 + int(a.value*13) + a.n*41%97 }},
		{"language", "Language", func(a at) any { return []string{"fr", "de", "it"}[who(a)%3] }},
	} {
		read("13-idle-"+c.name, "log.csv", usual, table13(",", "Trainee,Attempt,Seconds,"+c.head, l, func(a at) []any { return []any{a.who, a.n, a.value, c.cell(a)} }), l)
	}
	clock := func(s float64) string {
		t := int(s)
		return fmt.Sprintf("%02d:%02d:%02d", t/3600, t/60%60, t%60)
	}
	w := whole(l)
	read("13-idle-start-and-end", "log.csv", usual, table13(",", "Trainee,Attempt,Start,End,Seconds", w, func(a at) []any {
		from := 32400 + float64(a.n*1500+who(a)*260)
		return []any{a.who, a.n, clock(from), clock(from + a.value), a.value}
	}), w)
	sum := with(l, func(a *at) { a.value = math.Round(a.value) + 10*float64(max(0, 4-a.n)) })
	read("13-idle-penalty-in-total", "log.csv", "--trainee Trainee --attempt Attempt --response Total --measure time", table13(",", "Trainee,Attempt,Raw time,Penalties,Total", sum, func(a at) []any {
		p := 10 * max(0, 4-a.n)
		return []any{a.who, a.n, a.value - float64(p), p, a.value}
	}), sum)
	points := with(l, func(a *at) { a.value = math.Round(36 - a.value/10) })
	read("13-idle-parts-of-score", "scores.csv", "--trainee Trainee --attempt Attempt --response Total", table13(",", "Trainee,Attempt,Handling,Flow,Result,Total", points, func(a at) []any {
		x := math.Floor(a.value / 3)
		y := math.Floor((a.value - x) / 2)
		return []any{a.who, a.n, x, y, a.value - x - y, a.value}
	}), points)
	read("13-idle-wide-people", "wide.csv", "--trainee Code --response Attempt --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Code,Sex,Age,Attempt 1,Attempt 2,Attempt 3,Attempt 4,Attempt 5,Attempt 6,Attempt 7,Comment")
		for i, a := range l {
			if a.n == 1 {
				fmt.Fprintf(&b, "\n%s,%s,%d", a.who, []string{"f", "m"}[i%2], 22+i%9)
			}
			b.WriteString("," + point(a.value))
			if a.n == 7 {
				b.WriteString("," + []string{"", "keen", ""}[who(a)%3])
			}
		}
		b.WriteString("\n")
		return b.Bytes()
	}(), l)
}
