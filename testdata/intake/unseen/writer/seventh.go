package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
)

// seventh is the seventh set: traps that the sixth did not think of, and plain files about which
// nothing should be asked.
func seventh() {
	moreNotations()
	moreColumns()
	morePeople()
	moreTables()
	moreRaters()
	plains()
}

func moreNotations() {
	l := log(31, 6, "KS", "MB", "AH", "JW")
	whole := rounded(l, 1)
	mixed := func(v float64) string {
		if int(v)%2 == 0 {
			return minutes("%d:%02d.%d")(v)
		}
		return point(v)
	}
	read("m-colon-and-seconds", "log.csv", timed, lines(timeHead, l, plain(",", mixed)), l)
	doubt("m-day-fractions-comma", "log.csv", "--trainee Name --attempt Versuch --response Zeit --measure time",
		lines("Name;Versuch;Zeit", whole, plain(";", func(v float64) string {
			return strings.ReplaceAll(fmt.Sprintf("%.9f", v/86400), ".", ",")
		})), whole, "parts of a day").Way = words("--times days")
	doubt("m-dotted-with-tenths", "log.csv", timed, lines(timeHead, l, plain(",", minutes("%d.%02d.%d"))), l, "1.23.4 is 1 min 23.4 s").Way = words("--times m.ss")
	doubt("m-head-hh-mm", "log.csv", "--trainee Name --attempt Nr --response Zeit~(hh:mm) --measure time", lines("Name;Nr;Zeit (hh:mm)", whole, plain(";", func(v float64) string {
		return fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60)
	})), nil, "hours and minutes by the head, minutes and seconds by sense")
	read("m-sek-with-point", "log.csv", "--trainee Name --attempt Nr --response Zeit --measure time", lines("Name;Nr;Zeit", l, plain(";", func(v float64) string { return comma(v) + " Sek." })), l)
	doubt("m-plus-penalty-in-cell", "log.csv", timed, lines(timeHead, l, func(a at) string {
		if a.n == 2 {
			return fmt.Sprintf("%s,%d,%v +5", a.who, a.n, a.value)
		}
		return plain(",", point)(a)
	}), nil, "a penalty behind the time")
	over := with(l, func(a *at) {
		if a.value > 130 {
			a.value, a.outcome = 130, "timeout"
		}
	})
	read("m-more-than-limit-words", "log.csv", timed+" --limit 130", lines(timeHead, over, func(a at) string {
		if a.outcome == "timeout" {
			return fmt.Sprintf("%s,%d,> 2:10", a.who, a.n)
		}
		return plain(",", minutes("%d:%02d.%d"))(a)
	}), over)
	doubt("m-points-word", "log.csv", "--trainee Name --attempt Nr --response Punkte --measure score", lines("Name;Nr;Punkte", whole, plain(";", func(v float64) string { return point(300-v) + " Pkt" })), nil, "Pkt is a unit")
	device := with(l, func(a *at) { a.value = math.Round((300 - a.value) * 5) })
	doubt("m-score-thousands-or-decimals", "log.csv", "--trainee Name --attempt Nr --response Punkte --measure score", lines("Name;Nr;Punkte", device, plain(";", func(v float64) string {
		if v >= 1000 {
			return fmt.Sprintf("%d.%03d", int(v)/1000, int(v)%1000)
		}
		return point(v)
	})), device, "1.250 beside 980: thousands, or decimals").Way = words("--decimal comma")
	read("m-pandas-timedelta", "log.csv", timed, lines(timeHead, l, plain(",", func(v float64) string { return "0 days 00:" + minutes("%02d:%02d.%d00000")(v) })), l)
	read("m-period-M-S", "log.csv", timed, lines(timeHead, l, plain(",", minutes("%dM %d.%dS"))), l)
	read("m-mins-with-unit", "log.csv", timed, lines(timeHead, whole, plain(",", func(v float64) string { return fmt.Sprintf("%.6f mins", v/60) })), whole)
	read("m-zero-before", "log.csv", long, lines(longHead, l, plain(",", func(v float64) string { return fmt.Sprintf("%05.1f", v) })), l)
	read("m-point-behind", "log.csv", long, lines(longHead, whole, plain(",", func(v float64) string { return point(v) + "." })), whole)
	doubt("m-epoch-milliseconds", "log.csv", "--trainee Trainee --attempt Attempt --response End --measure time", lines("Trainee,Attempt,End", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%d", a.who, a.n, 1770000000000+int64(a.n)*600000+int64(a.value*1000))
	}), nil, "the moment it ended, not how long it took")
	doubt("m-plus-minus", "log.csv", timed, lines(timeHead, l, plain(",", func(v float64) string { return point(v) + " ± 0.2" })), nil, "a number with what it may be off")
	doubt("m-one-trainee-tenfold", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.who == "AH" {
			return fmt.Sprintf("%s,%d,%d", a.who, a.n, int(math.Round(a.value*10)))
		}
		return plain(",", point)(a)
	}), nil, "all times of AH lack their decimal point")
	doubt("m-attempt-44", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.who == "MB" && a.n == 4 {
			return fmt.Sprintf("%s,44,%v", a.who, a.value)
		}
		return plain(",", point)(a)
	}), nil, "44 for 4")
	read("m-head-line-break", "log.csv", "--trainee Trainee --attempt Attempt --response Time~(s) --measure time", lines("Trainee,Attempt,\"Time\n(s)\"", l, plain(",", point)), l)
	doubt("m-half-second-marks", "log.csv", timed, lines(timeHead, whole, plain(",", func(v float64) string { return fmt.Sprintf("%v½", v) })), nil, "83½")
}

func moreColumns() {
	l := log(32, 6, "C1", "C2", "C3", "C4")
	two := func(head string, f func(a at) string) []byte {
		return lines(longHead+","+head, l, func(a at) string { return plain(",", point)(a) + "," + f(a) })
	}
	doubt("n-two-watches", "log.csv", "--trainee Trainee --attempt Attempt --response Watch~A --measure time", lines("Trainee,Attempt,Watch A,Watch B", l, func(a at) string {
		return fmt.Sprintf("%s,%.1f", plain(",", point)(a), a.value+float64(int(a.value*7)%9-4)/10)
	}), l, "two people stopped the same attempts; one column is not read")
	doubt("n-net-time", "log.csv", "--trainee Trainee --attempt Attempt --response Time --measure time", lines("Trainee,Attempt,Time,Pause,Net time", l, func(a at) string {
		p := 5 + int(a.value)%4
		return fmt.Sprintf("%s,%d,%.1f", plain(",", point)(a), p, a.value-float64(p))
	}), l, "the time without pauses stands beside it")
	doubt("n-seconds-old", "log.csv", long, two("Seconds old", func(a at) string {
		if a.n == 3 {
			return fmt.Sprintf("%.1f", a.value+12)
		}
		return point(a.value)
	}), l, "an older version of the column differs in some rows")
	doubt("n-repeat-flag", "log.csv", long, two("Repeat?", func(a at) string {
		if int(a.value)%5 == 0 {
			return "y"
		}
		return ""
	}), l, "some attempts are to be repeated")
	doubt("n-remark-french", "log.csv", long, two("Remarque", func(a at) string {
		if a.n == 4 && a.who == "C2" {
			return "chrono relancé après 20 s"
		}
		return ""
	}), l, "a remark says the watch was started again")
	doubt("n-helper-column", "log.csv", long, two("Help", func(a at) string { return fmt.Sprint(max(0, 3-a.n)) }), l, "how much help was given changes from attempt to attempt")
	doubt("n-observer-changes-unit", "log.csv", long, lines(longHead+",Observer", l, func(a at) string {
		if a.n > 4 {
			return fmt.Sprintf("%s,%d,%.2f,Oak", a.who, a.n, a.value/60)
		}
		return plain(",", point)(a) + ",Elm"
	}), nil, "Oak wrote minutes")
	arm := func(f func(a at) string) []byte { return two("Group", f) }
	doubt("n-ctrl-control", "log.csv", long+" --arm Group", arm(func(a at) string {
		return map[string]string{"C1": "control", "C2": "VR", "C3": "ctrl", "C4": "VR"}[a.who]
	}), nil, "ctrl is control")
	doubt("n-control-group", "log.csv", long+" --arm Group", arm(func(a at) string {
		return map[string]string{"C1": "control", "C2": "VR", "C3": "control group", "C4": "VR"}[a.who]
	}), nil, "control group is control")
	doubt("n-arm-first-row-only", "log.csv", long+" --arm Group", arm(func(a at) string {
		if a.n > 1 {
			return ""
		}
		return map[string]string{"C1": "box", "C2": "VR", "C3": "box", "C4": "VR"}[a.who]
	}), nil, "the group stands in the first row only")
	blank := with(l, func(a *at) { a.value = math.Max(0, math.Floor(a.value/30)-2) })
	doubt("n-blank-is-zero", "log.csv", "--trainee Trainee --attempt Attempt --response Errors --measure count", lines("Trainee,Attempt,Errors", blank, plain(",", func(v float64) string {
		if v == 0 {
			return ""
		}
		return point(v)
	})), nil, "a blank is no error, or not noted")
	doubt("n-nb", "log.csv", "--trainee Name --attempt Nr --response Ergebnis --measure pass-fail", lines("Name;Nr;Ergebnis", blank, plain(";", func(v float64) string { return []string{"b", "nb"}[int(v)%2] })), nil, "b and nb")
	doubt("n-epoch-date", "log.csv", long+" --date When", two("When", func(a at) string { return fmt.Sprint(1770000000 + a.n*86400) }), l, "seconds since 1970 as a date")
	doubt("n-serial-and-text-dates", "log.csv", long+" --date Date", two("Date", func(a at) string {
		if a.who > "C2" {
			return fmt.Sprint(46050 + a.n)
		}
		return fmt.Sprintf("%02d.02.2026", a.n)
	}), l, "46051 beside 01.02.2026")
}

func morePeople() {
	l := log(33, 6, "KS", "MB", "AH", "JW")
	who := func(from string, f func(n int) string) []byte {
		return lines(longHead, l, func(a at) string {
			if a.who == from {
				a.who = f(a.n)
			}
			return plain(",", point)(a)
		})
	}
	doubt("q-case-midterm", "log.csv", long, who("KS", func(n int) string { return []string{"KS", "ks"}[n/4] }), nil, "ks is KS")
	doubt("q-hyphen-kinds", "log.csv", long, who("KS", func(n int) string { return []string{"K-1", "K\u20111"}[n/4] }), nil, "two kinds of hyphen")
	doubt("q-added-name", "log.csv", long, who("KS", func(n int) string { return []string{"Smith", "Smith J"}[n/4] }), nil, "Smith and Smith J")
	doubt("q-prof-among-students", "log.csv", long, lines(longHead, with(l, func(a *at) {
		a.who = map[string]string{"KS": "S01", "MB": "S02", "AH": "S03", "JW": "Prof. Berg"}[a.who]
	}), plain(",", point)), nil, "a professor among students")
	doubt("q-name-row-then-attempts", "log.csv", "--trainee Trainee --attempt Attempt --response Seconds --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee;Attempt;Seconds\n")
		for _, a := range l {
			if a.n == 1 {
				b.WriteString(a.who + ";;\n")
			}
			fmt.Fprintf(&b, ";%d;%s\n", a.n, comma(a.value))
		}
		return b.Bytes()
	}(), l, "the name stands in a row of its own").Way = words("--fill-down Trainee")
	doubt("q-A1-B1-blocks", "log.csv", long, lines(longHead, l, func(a at) string {
		return fmt.Sprintf("%s,%s%d,%v", a.who, []string{"A", "B"}[(a.n-1)/3], (a.n-1)%3+1, a.value)
	}), nil, "A1 and B1 are of two blocks")
	doubt("q-term-column-restarts", "log.csv", long, lines("Term,"+longHead, l, func(a at) string {
		return fmt.Sprintf("%s,%s,%d,%v", []string{"autumn", "spring"}[(a.n-1)/3], a.who, (a.n-1)%3+1, a.value)
	}), nil, "attempts start again in spring")
	doubt("q-dates-against-one", "log.csv", long+" --date Date", lines(longHead+",Date", l, func(a at) string {
		d := a.n
		if a.who == "AH" {
			d = 7 - a.n
		}
		return fmt.Sprintf("%s,2026-03-%02d", plain(",", point)(a), d)
	}), l, "AH's dates fall while attempts rise")
}

func moreTables() {
	l := log(34, 6, "W1", "W2", "W3", "W4")
	doubt("v-wide-3b", "wide.csv", row, wide("Name,1,2,3,3b,4,5", ",", l, point), nil, "3b repeats 3")
	read("v-wide-week-trial", "wide.csv", row, wide("Name,Week1 T1,Week1 T2,Week1 T3,Week2 T1,Week2 T2,Week2 T3", ",", l, point), l)
	read("v-wide-unit-row", "wide.csv", row, wide("Name,T1,T2,T3,T4,T5,T6\n,s,s,s,s,s,s", ",", l, point), l)
	doubt("v-wide-count-in-brackets", "wide.csv", row, wide("Name,T1,T2,T3,T4,T5,T6", ",", l, func(v float64) string { return fmt.Sprintf("%v (%d)", v, int(v)%3) }), nil, "errors in brackets")
	doubt("v-wide-two-rows-a-trainee", "wide.csv", row, func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,1,2,3\n")
		for i := 0; i < len(l); i += 3 {
			fmt.Fprintf(&b, "%s,%v,%v,%v\n", l[i].who, l[i].value, l[i+1].value, l[i+2].value)
		}
		return b.Bytes()
	}(), nil, "each trainee has two rows: attempts 4 to 6 stand below 1 to 3")
	missed := with(l, func(a *at) {})[1:]
	read("v-wide-first-missed", "wide.csv", row, bytes.Replace(wide("Name,T1,T2,T3,T4,T5,T6", ",", l, point), []byte("W1,"+point(l[0].value)), []byte("W1,"), 1), missed)
	doubt("v-head-other-language-midway", "log.csv", long, bytes.Join([][]byte{lines(longHead, l[:12], plain(",", point)), lines("Teilnehmer,Versuch,Sekunden", l[12:], plain(",", point))}, nil), l, "a second head in another language in the middle")
	doubt("v-remark-shifts-row", "log.csv", "--trainee Trainee --attempt Attempt --response Seconds --measure time", lines("Trainee,Remark,Attempt,Seconds", l, func(a at) string {
		m := ""
		if a.who == "W3" && a.n == 6 {
			m = "pegs 7,9" // an unquoted comma: the row has five cells
		}
		return fmt.Sprintf("%s,%s,%d,%v", a.who, m, a.n, a.value)
	}), nil, "a comma in a remark shifts the row by one: attempt 9 of 6 s")
	read("v-trailing-semicolons", "log.csv", long, lines("Trainee;Attempt;Seconds;;;", l, func(a at) string { return plain(";", comma)(a) + ";;;" }), l)
	doubt("v-short-row-in-middle", "log.csv", long, bytes.Replace(lines(longHead, l, plain(",", point)), []byte("\nW2,3,"+point(l[8].value)), []byte("\nW2,3"), 1), nil, "a row without its time in the middle")
	b := newBook("Jan")
	for i, sheet := range []string{"Jan", "Feb"} {
		if i > 0 {
			b.next(sheet)
		}
		r := 4
		if i == 1 {
			r = 2
		}
		b.row(fmt.Sprint([]string{"B", "A"}[i], r-1), "Trainee", "Attempt", "Seconds")
		for _, a := range l {
			if (a.n > 3) == (i == 1) {
				b.row(fmt.Sprint([]string{"B", "A"}[i], r), a.who, (a.n-1)%3+1, a.value)
				r++
			}
		}
	}
	read("v-months-as-sheets", "log.xlsx", long+" --sheets-are session", b.bytes(), l)
	b = newBook("log")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any {
		if a.who == "W2" {
			return []any{a.who, a.n, a.value / 86400}
		}
		return []any{a.who, a.n, a.value}
	})
	for i, a := range l {
		if a.who == "W2" {
			c := fmt.Sprint("C", i+2)
			b.format(c, c, "[m]:ss.0")
		}
	}
	read("v-durations-beside-numbers", "log.xlsx", long, b.bytes(), l)
	b = newBook("log")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any {
		if a.n == 2 {
			return []any{a.who, a.n, comma(a.value)}
		}
		return []any{a.who, a.n, a.value}
	})
	read("v-some-text-with-comma", "log.xlsx", long, b.bytes(), l)
	b = newBook("log")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any { return []any{a.who, a.n, nil} })
	for i, a := range l {
		c := fmt.Sprint("C", i+2)
		must(b.SetCellValue("log", c, a.value))
		must(b.SetCellFormula("log", c, fmt.Sprintf(`TEXT(%v,"0.0")`, a.value)))
	}
	read("v-formula-text-kept", "log.xlsx", long, b.bytes(), l)
	type single struct {
		Trainee string  `parquet:"trainee"`
		Attempt int32   `parquet:"attempt"`
		Seconds float32 `parquet:"seconds"`
	}
	var rows []single
	for _, a := range l {
		rows = append(rows, single{a.who, int32(a.n), float32(a.value)})
	}
	read("v-parquet-single", "log.parquet", "--trainee trainee --attempt attempt --response seconds --measure time --limit 300", parquetOf(rows), l)
}

func moreRaters() {
	l := log(35, 5, "V1", "V2", "V3", "V4")
	base := []int{3, 2, 4, 5, 1, 3, 4, 2, 5, 3, 1, 4}
	score := func(s, r int) int { return min(5, max(1, base[s]+[]int{0, 0, 1, 0, -1, 0, 1}[(s*2+r*3)%7])) }
	wideOf := func(verdict, name, scale, about, subject, head string, cell func(s, r int) string) *truth {
		t := put(verdict, name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString(subject + "," + head + "\n")
		n := len(strings.Split(head, ","))
		for s := range 12 {
			b.WriteString(fmt.Sprint("C", s+1))
			for r := range n {
				b.WriteString("," + cell(s, r))
				if verdict == "read" {
					t.Ratings = append(t.Ratings, [4]string{fmt.Sprint("C", s+1), strings.Split(head, ",")[r], "global", cell(s, r)})
				}
			}
			b.WriteString("\n")
		}
		study(t, "ratings:\n  file: ratings.csv\n  wide: true\n  subject: "+subject+"\n  items:\n    - {name: global, scale: "+scale+"}\n", map[string][]byte{"ratings.csv": b.Bytes()})
		return t
	}
	num := func(s, r int) string { return fmt.Sprint(score(s, r)) }
	wideOf("read", "s-wide-plain-two", "ordinal", "", "video", "Ash,Elm", num)
	wideOf("read", "s-constant-rater", "ordinal", "", "video", "Ash,Elm,Fir", func(s, r int) string {
		if r == 2 {
			return "3"
		}
		return num(s, r)
	})
	wideOf("doubt", "s-one-from-zero", "ordinal", "Fir gives 0 to 4 where the others give 1 to 5", "video", "Ash,Elm,Fir", func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(score(s, r) - 1)
		}
		return num(s, r)
	})
	wideOf("doubt", "s-dash-not-rated", "ordinal", "- stands for not rated", "video", "Ash,Elm,Fir", func(s, r int) string {
		if s%5 == 1 && r == 1 {
			return "-"
		}
		return num(s, r)
	})
	wideOf("doubt", "s-percent-scores", "interval", "80% beside 4", "video", "Ash,Elm,Fir", func(s, r int) string {
		if r == 1 {
			return fmt.Sprint(score(s, r)*20, "%")
		}
		return num(s, r)
	})
	t := put("doubt", "s-raters-in-rows", ".", "", nil, l, "the rows are raters and the columns are videos")
	var b bytes.Buffer
	b.WriteString("rater")
	for s := range 12 {
		fmt.Fprintf(&b, ",V%d", s+1)
	}
	for r, name := range []string{"Ash", "Elm", "Fir"} {
		b.WriteString("\n" + name)
		for s := range 12 {
			b.WriteString("," + num(s, r))
		}
	}
	b.WriteString("\n")
	study(t, "ratings:\n  file: ratings.csv\n  wide: true\n  subject: rater\n  items:\n    - {name: global, scale: ordinal}\n", map[string][]byte{"ratings.csv": b.Bytes()})
	long := func(verdict, name, about string, row func(s, r int) string) {
		t := put(verdict, name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString("video;examiner;score\n")
		for s := range 12 {
			for r := range 2 {
				b.WriteString(row(s, r) + "\n")
			}
		}
		study(t, "ratings:\n  file: ratings.csv\n  subject: video\n  rater: examiner\n  score: score\n  scale: interval\n", map[string][]byte{"ratings.csv": b.Bytes()})
	}
	who := []string{"Ash", "Elm"}
	long("doubt", "s-comma-and-point", "4,5 and 4.5", func(s, r int) string {
		return fmt.Sprintf("C%d;%s;%d%s5", s+1, who[r], score(s, r), []string{",", "."}[r])
	})
	long("doubt", "s-subject-zero", "C01 and C1", func(s, r int) string {
		if r == 1 {
			return fmt.Sprintf("C%02d;%s;%d", s+1, who[r], score(s, r))
		}
		return fmt.Sprintf("C%d;%s;%d", s+1, who[r], score(s, r))
	})
}

func plains() {
	l := log(36, 7, "R01", "R02", "R03", "R04", "R05")
	whole := rounded(l, 1)
	read("z-plain", "log.csv", long, lines(longHead, l, plain(",", point)), l)
	read("z-plain-limit", "log.csv", long+" --limit 300", lines(longHead, l, plain(",", point)), l)
	read("z-plain-whole", "log.csv", long, lines(longHead, whole, plain(",", point)), whole)
	read("z-plain-age-hand", "log.csv", long, lines(longHead+",Age,Hand,PGY", l, func(a at) string {
		return plain(",", point)(a) + "," + fmt.Sprint(24+int(a.who[2])%5) + "," + []string{"right", "left"}[int(a.who[2])%5/4] + "," + fmt.Sprint(1+int(a.who[2])%3)
	}), l)
	read("z-plain-errors-beside", "log.csv", long, lines(longHead+",Errors", l, func(a at) string { return plain(",", point)(a) + "," + fmt.Sprint(int(a.value)/40) }), l)
	read("z-plain-dates", "log.csv", long+" --date Date", lines(longHead+",Date", l, func(a at) string { return fmt.Sprintf("%s,2026-04-%02d", plain(",", point)(a), a.n*2) }), l)
	arms := read("z-plain-arms", "log.csv", long+" --arm Arm", lines(longHead+",Arm", l, func(a at) string {
		return plain(",", point)(a) + "," + []string{"whole task", "part task"}[int(a.who[2])%2]
	}), l)
	arms.Arms = map[string]string{"R01": "part task", "R02": "whole task", "R03": "part task", "R04": "whole task", "R05": "part task"}
	s := with(l, func(a *at) { a.value = math.Round(30 - a.value/8) })
	read("z-plain-score", "log.csv", "--trainee Trainee --attempt Attempt --response Score --measure score", lines("Trainee,Attempt,Score", s, plain(",", point)), s)
	k := with(l, func(a *at) { a.value = math.Floor(a.value / 35) })
	read("z-plain-count", "log.csv", "--trainee Trainee --attempt Attempt --response Errors --measure count", lines("Trainee,Attempt,Errors", k, plain(",", point)), k)
	p := with(l, func(a *at) {
		if a.value = 0; a.n > 3 {
			a.value = 1
		}
	})
	read("z-plain-pass", "log.csv", "--trainee Trainee --attempt Attempt --response Passed --measure pass-fail", lines("Trainee,Attempt,Passed", p, plain(",", point)), p)
	read("z-plain-m-ss", "log.csv", timed+" --limit 300", lines(timeHead, whole, plain(",", func(v float64) string { return fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60) })), whole)
	read("z-plain-instructor", "log.csv", long, lines(longHead+",Instructor", l, func(a at) string { return plain(",", point)(a) + "," + []string{"Ash", "Elm"}[int(a.who[2])%2] }), l)
	read("z-plain-wide-german", "wide.csv", "--trainee Name --response Sekunden --measure time", wide("Name;Versuch 1;Versuch 2;Versuch 3;Versuch 4;Versuch 5;Versuch 6;Versuch 7", ";", l, comma), l)
	b := newBook("Sheet1")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	read("z-plain-xlsx", "log.xlsx", long, b.bytes(), l)
}
