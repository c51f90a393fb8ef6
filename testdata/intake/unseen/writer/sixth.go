package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"
)

const (
	long  = "--trainee Trainee --attempt Attempt --response Seconds --measure time"
	timed = "--trainee Trainee --attempt Attempt --response Time --measure time"
	row   = "--trainee Name --response seconds --measure time"
)

const longHead, timeHead = "Trainee,Attempt,Seconds", "Trainee,Attempt,Time"

// sixth is the sixth set.
func sixth() {
	notations()
	units()
	codes()
	counts()
	people()
	numbers()
	tables()
	workbooks()
	arms()
	raters()
	habits()
	opens()
}

// notations are ways to write a time.
func notations() {
	l := log(1, 5, "KS", "MB", "AH", "JW")
	read("t-prime-tenth", "watch.csv", timed, lines(timeHead, l, plain(",", minutes(`%d'%02d""%d`))), l)
	all[len(all)-1].files["watch.csv"] = lines(timeHead, l, func(a at) string {
		return fmt.Sprintf(`%s,%d,"%s"`, a.who, a.n, minutes(`%d'%02d""%d`)(a.value))
	})
	read("t-colon-comma-tenth", "uhr.csv", "--trainee Name --attempt Versuch --response Zeit --measure time --limit 300",
		lines("Name;Versuch;Zeit", l, plain(";", minutes("%d:%02d,%d"))), l)
	whole := rounded(l, 1)
	forms := []string{"%ds", "%dm %ds", "%d min %d s", "%dmin%d", "%d sec"}
	read("t-words-of-many-kinds", "app.csv", timed, lines(timeHead, whole, func(a at) string {
		s := int(a.value)
		f := forms[(a.n+len(a.who)+s)%5]
		if strings.Count(f, "%d") == 1 {
			return fmt.Sprintf("%s,%d,"+f, a.who, a.n, s)
		}
		return fmt.Sprintf("%s,%d,"+f, a.who, a.n, s/60, s%60)
	}), whole)
	lost := func(v float64) string {
		s := int(v)
		return strings.TrimSuffix(fmt.Sprintf("%d,%02d", s/60, s%60), "0")
	}
	doubt("t-m-comma-ss-lost-zero", "tabelle.csv", "--trainee Name --attempt Versuch --response Zeit~(min) --measure time",
		lines("Name;Versuch;Zeit (min)", whole, plain(";", lost)), whole,
		"1,3 is 1 min 30 s with its last zero lost, or 1.3 minutes: no decimals above ,59").Way = words("--times m.ss")
	b := newBook("Tabelle1")
	b.log([]any{"Name", "Versuch", "Zeit"}, whole, func(a at) []any {
		s := int(a.value)
		return []any{a.who, a.n, float64(s/60) + float64(s%60)/100}
	})
	doubt("t-m-ss-as-number-xlsx", "mappe.xlsx", "--trainee Name --attempt Versuch --response Zeit --measure time", b.bytes(), whole,
		"1.3 as a number: minutes.seconds, minutes, or seconds").Way = words("--times m.ss")
	doubt("t-0-83", "log.csv", timed, lines(timeHead, whole, plain(",", func(v float64) string {
		if int(v) < 100 {
			return fmt.Sprintf("0:%02d", int(v))
		}
		return fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60)
	})), whole, "0:83 is no time of a clock: 83 s, or 0 min 83 hundredths")
	doubt("t-h-mm-ss-really-m-ss-hh", "export.csv", timed, lines(timeHead, l, func(a at) string {
		v := a.value
		return fmt.Sprintf("%s,%d,%02d:%02d:%02d", a.who, a.n, int(v)/60, int(v)%60, int(math.Round(v*100))%100)
	}), l, "hh:mm:ss of a bench task would be hours; it is minutes, seconds, hundredths (some above 59)").Way = words("--times m:ss:hh")
	doubt("t-h-mm-00", "export.csv", timed, lines(timeHead, whole, func(a at) string {
		return fmt.Sprintf("%s,%d,%d:%02d:00", a.who, a.n, int(a.value)/60, int(a.value)%60)
	}), whole, "typed as m:ss, kept as h:mm, written as h:mm:00: every time is whole minutes, an hour and more")
	doubt("t-midnight-am", "export.csv", timed, lines(timeHead, whole, func(a at) string {
		return fmt.Sprintf("%s,%d,12:%02d:%02d AM", a.who, a.n, int(a.value)/60, int(a.value)%60)
	}), whole, "0:01:23 shown as a time of day after midnight")
	doubt("t-point-and-colon", "log.csv", timed, lines(timeHead, whole, func(a at) string {
		sep := ":"
		if a.who == "MB" {
			sep = "."
		}
		return fmt.Sprintf("%s,%d,%d%s%02d", a.who, a.n, int(a.value)/60, sep, int(a.value)%60)
	}), whole, "1.23 beside 1:23: minutes and seconds, seconds, or minutes")
	swiss := func(v float64) string {
		ms := int(math.Round(v * 1000))
		return fmt.Sprintf("%d'%03d", ms/1000, ms%1000)
	}
	read("t-swiss-thousands", "export.csv", "--trainee Name --attempt Versuch --response Zeit~[ms] --measure time",
		lines("Name;Versuch;Zeit [ms]", l, plain(";", swiss)), l)
	read("t-narrow-space-thousands", "export.csv", "--trainee Nom --attempt Essai --response Temps~(ms) --measure time",
		lines("Nom;Essai;Temps (ms)", l, plain(";", func(v float64) string { return strings.ReplaceAll(swiss(v), "'", "\u202f") })), l)
	read("t-comma-and-point-by-rater", "log.csv", long, lines("Trainee;Attempt;Seconds", l, func(a at) string {
		if a.who == "MB" || a.who == "JW" {
			return plain(";", comma)(a)
		}
		return plain(";", point)(a)
	}), l)
	read("t-iso-comma", "log.csv", timed, lines("Trainee;Attempt;Time", l, plain(";", func(v float64) string {
		return "PT" + minutes("%dM%02d,%dS")(v)
	})), l)
	read("t-full-width-digits", "log.csv", long, lines(longHead, l, plain(",", func(v float64) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r - '0' + '０'
			}
			return r
		}, point(v))
	})), l)
	read("t-formula-quoted", "export.csv", long, lines(longHead, l, func(a at) string {
		return fmt.Sprintf(`"=""%s""",%d,"=""%v"""`, a.who, a.n, a.value)
	}), l)
	read("t-min-without-s", "log.csv", timed, lines(timeHead, whole, plain(",", func(v float64) string {
		return fmt.Sprintf("%d min %02d", int(v)/60, int(v)%60)
	})), whole)
	doubt("t-restarted-sum", "log.csv", long, lines(longHead, whole, func(a at) string {
		if a.n == 2 {
			return fmt.Sprintf("%s,%d,%d+%d", a.who, a.n, int(a.value)-38, 38)
		}
		return plain(",", point)(a)
	}), whole, "45+38: the watch was started again")
	doubt("t-two-in-a-cell", "log.csv", long, lines(longHead, whole, func(a at) string {
		if a.n == 4 {
			return fmt.Sprintf("%s,%d,%v/%v", a.who, a.n, a.value, a.value+4)
		}
		return plain(",", point)(a)
	}), nil, "83/87: two times in a cell")
	doubt("t-about", "log.csv", long, lines(longHead, whole, func(a at) string {
		if a.n == 3 {
			return fmt.Sprintf("%s,%d,ca. %v", a.who, a.n, a.value)
		}
		if a.n == 5 {
			return fmt.Sprintf("%s,%d,~%v", a.who, a.n, a.value)
		}
		return plain(",", point)(a)
	}), whole, "ca. 85, ~85: not exact")
	doubt("t-star-footnote", "log.csv", long, append(lines(longHead, l, func(a at) string {
		if a.n == 2 && a.who == "AH" {
			return fmt.Sprintf("%s,%d,%v*", a.who, a.n, a.value)
		}
		return plain(",", point)(a)
	}), "\"* alarm in the room, repeat\",,\n"...), l, "a star and what it means")
	read("t-half-rounded", "log.csv", long, nil, with(l, func(a *at) {
		if a.who == "KS" || a.who == "AH" {
			a.value = math.Round(a.value)
		}
	}))
	last := all[len(all)-1]
	last.files["log.csv"] = lines(longHead, last.Attempts, plain(",", point))
	read("t-cells-with-own-unit", "log.csv", timed, lines(timeHead, l, plain(",", func(v float64) string {
		if v > 100 {
			return strings.TrimSuffix(fmt.Sprintf("%.6f", v/60), "0") + " min"
		}
		return point(v) + " s"
	})), l)
}

// units are times whose unit is not what it seems.
func units() {
	l := log(2, 6, "P1", "P2", "P3", "P4")
	doubt("u-countdown", "log.csv", "--trainee Trainee --attempt Attempt --response Remaining~(s) --measure time --limit 300",
		lines("Trainee,Attempt,Remaining (s)", l, plain(",", func(v float64) string { return point(math.Round((300-v)*10) / 10) })), nil,
		"time left of 300 s, not time taken")
	doubt("u-restzeit", "log.csv", "--trainee Name --attempt Nr --response Restzeit --measure time",
		lines("Name;Nr;Restzeit", l, plain(";", func(v float64) string { return comma(math.Round((300-v)*10) / 10) })), nil,
		"time left, not time taken")
	doubt("u-hundredths", "log.csv", timed, lines(timeHead, l, plain(",", func(v float64) string { return fmt.Sprint(math.Round(v * 100)) })), nil,
		"whole numbers of hundredths of a second: hours otherwise")
	doubt("u-ms-beside-s", "log.csv", timed, lines(timeHead, l, plain(",", func(v float64) string {
		if int(v*10)%3 == 0 {
			return fmt.Sprint(math.Round(v * 1000))
		}
		return point(v)
	})), l, "83400 among 83.4: another unit in some rows")
	doubt("u-ms-head-seconds-in-it", "log.csv", "--trainee Name --attempt Nr --response Zeit~[ms] --measure time --limit 300",
		lines("Name;Nr;Zeit [ms]", l, plain(";", comma)), nil, "milliseconds in the head, but the numbers are seconds: a tenth of a second for a task with a limit of 300 s").Way = nil
	doubt("u-min-head-seconds-in-it", "log.csv", "--trainee Name --attempt Nr --response Time~(min) --measure time",
		lines("Name,Nr,Time (min)", l, plain(",", point)), nil, "minutes in the head, but the numbers are seconds: three hours for a task")
	doubt("u-frames", "log.csv", "--trainee Name --attempt Nr --response Frames --measure time",
		lines("Name,Nr,Frames", l, plain(",", func(v float64) string { return fmt.Sprint(math.Round(v * 25)) })), nil, "frames of a video are no seconds")
	doubt("u-session-two-in-minutes", "log.csv", "--trainee Trainee --attempt Attempt --response Time --session Session --measure time",
		lines("Trainee,Session,Attempt,Time", l, func(a at) string {
			if a.n > 3 {
				return fmt.Sprintf("%s,2,%d,%.2f", a.who, a.n, a.value/60)
			}
			return fmt.Sprintf("%s,1,%d,%v", a.who, a.n, a.value)
		}), nil, "session 2 is in minutes")
	doubt("u-cumulative-per-session", "laps.csv", "--trainee Trainee --attempt Attempt --response Split --session Session --measure time",
		func() []byte {
			sum := 0.0
			return lines("Trainee,Session,Attempt,Split", l, func(a at) string {
				if a.n%3 == 1 {
					sum = 0
				}
				sum += a.value
				return fmt.Sprintf("%s,%d,%d,%.1f", a.who, (a.n+2)/3, a.n, sum)
			})
		}(), nil, "the watch ran on within each session: cumulative times")
	doubt("u-lap-and-total", "laps.csv", "--trainee Trainee --attempt Lap --response Total --measure time", func() []byte {
		sum := 0.0
		return lines("Trainee,Lap,Lap time,Total", l, func(a at) string {
			if a.n == 1 {
				sum = 0
			}
			sum += a.value
			return fmt.Sprintf("%s,%d,%v,%.1f", a.who, a.n, a.value, sum)
		})
	}(), nil, "the total runs on; the column beside it holds single times")
	doubt("u-unit-column", "log.csv", "--trainee Trainee --attempt Attempt --response Value --measure time",
		lines("Trainee,Attempt,Value,Unit", l, func(a at) string {
			switch int(a.value*10) % 3 {
			case 0:
				return fmt.Sprintf("%s,%d,%.4f,min", a.who, a.n, a.value/60)
			case 1:
				return fmt.Sprintf("%s,%d,%v,ms", a.who, a.n, a.value*1000)
			}
			return fmt.Sprintf("%s,%d,%v,s", a.who, a.n, a.value)
		}), l, "a unit of its own in each row, in a column nobody named")
	doubt("u-wide-one-head-in-min", "wide.csv", row, wide("Name,T1 (s),T2 (s),T3 (s),T4 (min),T5 (s),T6 (s)", ",", with(l, func(a *at) {
		if a.n == 4 {
			a.value = math.Round(a.value/60*100) / 100
		}
	}), point), nil, "the fourth column is in minutes").Way = nil
	doubt("u-limit-in-other-unit", "log.csv", "--trainee Trainee --attempt Attempt --response Minutes --measure time --limit 5",
		lines("Trainee,Attempt,Minutes", l, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) })), nil,
		"a limit of 5 is 5 minutes here: in seconds every attempt reached it")
	doubt("u-cut-last-value", "log.csv", long, []byte(strings.TrimSuffix(string(lines(longHead, rounded(l, 1), plain(",", point))), "\n")[:len(lines(longHead, rounded(l, 1), plain(",", point)))-2]),
		nil, "the file ends in the middle of its last number, without a line end")
	doubt("u-everybody-divided", "log.csv", "--trainee Trainee --attempt Attempt --response Seconds --measure time --limit 300",
		lines(longHead, l, plain(",", func(v float64) string {
			if int(v)%11 == 0 {
				return fmt.Sprint(math.Round(v*10) / 100)
			}
			return point(v)
		})), nil, "a few numbers with the point one place too far left: 8.34 among 83")
}

// codes are words, colours and columns that say what became of an attempt.
func codes() {
	l := log(3, 5, "Ash", "Elm", "Fir", "Oak", "Yew")
	marks := map[int]string{3: "DNF", 7: "DNS", 11: "TO", 13: "-", 17: "n.a.", 19: "x", 22: "?"}
	i := -1
	doubt("c-seven-codes", "log.csv", long, lines(longHead, l, func(a at) string {
		i++
		if m, ok := marks[i]; ok {
			return fmt.Sprintf("%s,%d,%s", a.who, a.n, m)
		}
		return plain(",", point)(a)
	}), nil, "DNF DNS TO - n.a. x ?: what each means must be said")
	doubt("c-5959", "log.csv", timed, lines(timeHead, rounded(l, 1), func(a at) string {
		if a.n == 1 && a.who != "Ash" {
			return fmt.Sprintf("%s,1,59:59", a.who)
		}
		return fmt.Sprintf("%s,%d,%d:%02d", a.who, a.n, int(a.value)/60, int(a.value)%60)
	}), nil, "59:59 stands for not finished")
	doubt("c-0-00", "log.csv", timed, lines(timeHead, rounded(l, 1), func(a at) string {
		if a.n == 2 && a.who != "Elm" {
			return fmt.Sprintf("%s,2,0:00", a.who)
		}
		return fmt.Sprintf("%s,%d,%d:%02d", a.who, a.n, int(a.value)/60, int(a.value)%60)
	}), nil, "0:00 stands for no time")
	doubt("c-dicht", "log.csv", "--trainee Name --attempt Versuch --response Sekunden --measure time",
		lines("Name;Versuch;Sekunden;Dicht", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, comma(a.value), []string{"ja", "ja", "nein", "ja"}[int(a.value)%4])
		}), l, "a column nobody named says which knots leaked: fails")
	doubt("c-leak-plus-minus", "log.csv", long, lines(longHead+",Leak test", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, []string{"neg", "neg", "pos", "neg"}[int(a.value)%4])
	}), l, "a column nobody named says which attempts leaked")
	doubt("c-excl", "log.csv", long, lines(longHead+",excl", l, func(a at) string {
		x := ""
		if int(a.value)%7 == 0 {
			x = "1"
		}
		return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, x)
	}), l, "a column nobody named says which attempts do not count")
	letters := "dddtdddfddvdddtdddddfdddd"
	i = -1
	doubt("c-outcome-letters", "log.csv", long+" --outcome Res --limit 300", lines(longHead+",Res", l, func(a at) string {
		i++
		return fmt.Sprintf("%s,%d,%v,%c", a.who, a.n, a.value, letters[i])
	}), nil, "d t f v must be asked about")
	i = -1
	doubt("c-outcome-numbers", "log.csv", long+" --outcome Status", lines(longHead+",Status", l, func(a at) string {
		i++
		return fmt.Sprintf("%s,%d,%v,%d", a.who, a.n, a.value, strings.IndexByte("dtfv", letters[i]))
	}), nil, "0 1 2 3 must be asked about")
	i = -1
	doubt("c-outcome-ok-nok", "log.csv", long+" --outcome OK --limit 300", lines(longHead+",OK", l, func(a at) string {
		i++
		return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, map[byte]string{'d': "OK", 't': "n.O.", 'f': "NOK", 'v': "-"}[letters[i]])
	}), nil, "OK NOK n.O. - must be asked about")
	i = -1
	failed := with(l, func(a *at) {
		i++
		switch letters[i] {
		case 't':
			a.outcome, a.value = "timeout", 300
		case 'f':
			a.outcome = "failed"
		case 'v':
			a.outcome, a.value = "void", math.NaN()
		}
	})
	read("c-outcome-mixed-case", "log.csv", long+" --outcome outcome --limit 300", lines(longHead+",outcome", failed, func(a at) string {
		v, o := point(a.value), a.outcome
		if math.IsNaN(a.value) {
			v = ""
		}
		if a.n%2 == 0 {
			o = strings.ToUpper(o[:1]) + o[1:] + " "
		}
		return fmt.Sprintf("%s,%d,%s,%s", a.who, a.n, v, o)
	}), failed)
	doubt("c-time-with-dnf-behind", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.n == 1 && a.who == "Oak" {
			return fmt.Sprintf("%s,%d,%v (DNF)", a.who, a.n, a.value)
		}
		return plain(",", point)(a)
	}), nil, "a time and DNF in a cell")
	doubt("c-month-among-times", "log.csv", "--trainee Name --attempt Versuch --response Zeit --measure time",
		lines("Name;Versuch;Zeit", rounded(l, 1), func(a at) string {
			s := int(a.value)
			if s/60 == 1 && s%60 <= 31 && s%60 > 0 {
				return fmt.Sprintf("%s;%d;%02d. Jan", a.who, a.n, s%60)
			}
			return fmt.Sprintf("%s;%d;%d,%02d", a.who, a.n, s/60, s%60)
		}), nil, "1.23 typed as m.ss was made the 23rd of January by the spreadsheet")
	b := newBook("log")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	style, err := b.NewStyle(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FF8080"}}})
	must(err)
	for _, c := range []string{"C4", "C9", "C17"} {
		must(b.SetCellStyle(b.sheet, c, c, style))
	}
	b.SetCellValue(b.sheet, "E2", "red = not passed")
	doubt("c-red-with-legend", "log.xlsx", long, b.bytes(), l, "red cells, and beside the table: red = not passed")
	doubt("c-divider-not-analysed", "log.csv", long, bytes.Join([][]byte{lines(longHead, l[:20], plain(",", point)),
		lines("not analysed:,,", l[20:], plain(",", point))}, nil), l[:20], "a line in the middle says that what follows is not analysed")
}

// counts are errors, scores, passes.
func counts() {
	l := with(log(4, 6, "A1", "A2", "A3", "A4"), func(a *at) { a.value = math.Floor(a.value / 25) })
	flags := "--trainee Trainee --attempt Attempt --response Errors --measure count"
	head := "Trainee,Attempt,Errors"
	doubt("k-ticks-as-ones", "log.csv", flags, lines(head, with(l, func(a *at) { a.value = math.Min(a.value, 5) - 1 }), plain(",", func(v float64) string {
		if v <= 0 {
			return "0"
		}
		return strings.Repeat("1", int(v))
	})), nil, "11, 111, 1111 are ticks: 2, 3, 4 errors")
	doubt("k-ticks-bars", "log.csv", flags, lines(head, l, plain(",", func(v float64) string { return strings.Repeat("|", int(v)) })), nil, "|||| are ticks; blank is none or not noted")
	doubt("k-two-plus-one", "log.csv", flags, lines(head, l, plain(",", func(v float64) string {
		if v > 2 {
			return fmt.Sprintf("%v+1", v-1)
		}
		return point(v)
	})), nil, "2+1: minor and major errors")
	doubt("k-more-than", "log.csv", flags, lines(head, l, plain(",", func(v float64) string {
		if v > 3 {
			return ">3"
		}
		return point(v)
	})), nil, ">3 is no number")
	doubt("k-one-major", "log.csv", flags, lines(head, l, plain(",", func(v float64) string {
		if v > 3 {
			return fmt.Sprintf("%v (1 major)", v)
		}
		return point(v)
	})), nil, "3 (1 major)")
	doubt("k-words", "log.csv", flags, lines(head, l, plain(",", func(v float64) string {
		return []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight"}[int(v)]
	})), nil, "numbers in words")
	doubt("k-stars", "log.csv", "--trainee Trainee --attempt Attempt --response Stars --measure score", lines("Trainee,Attempt,Stars", l,
		plain(",", func(v float64) string { return strings.Repeat("★", int(v)) })), nil, "stars as a score")
	pf := "--trainee Trainee --attempt Attempt --response Result --measure pass-fail"
	pick := func(s ...string) func(v float64) string {
		return func(v float64) string { return s[int(v)%len(s)] }
	}
	doubt("k-plus-minus", "log.csv", pf, lines("Trainee,Attempt,Result", l, plain(",", pick("+", "-", "+/-"))), nil, "+, -, +/-: half passed?")
	doubt("k-second-try", "log.csv", pf, lines("Trainee,Attempt,Result", l, plain(",", pick("pass", "fail", "pass on 2nd"))), nil, "pass on 2nd: passed or not")
	doubt("k-passed-9", "log.csv", pf, lines("Trainee,Attempt,Result", l, plain(",", pick("1", "0", "1", "9"))), nil, "9 stands for not known")
	doubt("k-teilweise", "log.csv", "--trainee Name --attempt Versuch --response Bestanden --measure pass-fail", lines("Name;Versuch;Bestanden", l,
		plain(";", pick("ja", "nein", "teilweise"))), nil, "partly")
	score := "--trainee Trainee --attempt Attempt --response Score --measure score"
	s := with(l, func(a *at) { a.value = 30 - a.value*2 })
	read("k-score-plain", "log.csv", score, lines("Trainee,Attempt,Score", s, plain(",", point)), s)
	doubt("k-score-99", "log.csv", score, lines("Trainee,Attempt,Score", s, func(a at) string {
		if a.n == 3 && a.who > "A2" {
			return fmt.Sprintf("%s,%d,99", a.who, a.n)
		}
		return plain(",", point)(a)
	}), nil, "99 among scores to 30: not known")
	doubt("k-score-minus-9", "log.csv", score, lines("Trainee,Attempt,Score", s, func(a at) string {
		if a.n == 3 && a.who > "A2" {
			return fmt.Sprintf("%s,%d,-9", a.who, a.n)
		}
		return plain(",", point)(a)
	}), nil, "-9 among scores of 14 to 30: not known")
	doubt("k-score-two-scales", "log.csv", score, lines("Trainee,Attempt,Score", s, func(a at) string {
		if a.n > 3 {
			return fmt.Sprintf("%s,%d,%d/40", a.who, a.n, int(a.value*40/30))
		}
		return fmt.Sprintf("%s,%d,%d/30", a.who, a.n, int(a.value))
	}), nil, "out of 30 first, out of 40 later")
	minus := with(l, func(a *at) { a.value = 2 - a.value })
	read("k-score-unicode-minus", "log.csv", score, lines("Trainee,Attempt,Score", minus, plain(",", func(v float64) string {
		return strings.Replace(point(v), "-", "\u2212", 1)
	})), minus)
	doubt("k-score-accounting", "log.csv", score, lines("Trainee,Attempt,Score", minus, plain(",", func(v float64) string {
		if v < 0 {
			return fmt.Sprintf("(%v)", -v)
		}
		return point(v)
	})), minus, "(3) is minus three for accountants, or a note")
	doubt("k-score-dates", "log.csv", score, lines("Trainee,Attempt,Score", s, plain(",", func(v float64) string {
		if v < 20 {
			return "4-May"
		}
		return point(v)
	})), nil, "4/5 was made the fourth of May")
	doubt("k-score-better-unsaid", "log.csv", "--trainee Trainee --attempt Attempt --response Penalty --measure score",
		lines("Trainee,Attempt,Penalty", l, plain(",", point)), l, "penalty points: lower is better, a score is better higher")
	b := newBook("data")
	b.log([]any{"Trainee", "Attempt", "Score"}, s, func(a at) []any {
		if a.n > 3 {
			return []any{a.who, a.n, a.value / 30}
		}
		return []any{a.who, a.n, math.Round(a.value / 30 * 100)}
	})
	style, err := b.NewStyle(&excelize.Style{NumFmt: 9})
	must(err)
	for i, a := range s {
		if a.n > 3 {
			c := fmt.Sprint("C", i+2)
			must(b.SetCellStyle(b.sheet, c, c, style))
		}
	}
	doubt("k-score-percent-cells", "data.xlsx", score, b.bytes(), nil, "0.85 shown as 85% beside 85")
}

// people are trainees whose code is not one.
func people() {
	l := log(5, 6, "KS", "MB", "AH", "JW")
	doubt("i-renamed-midterm", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.who == "KS" && a.n > 3 {
			a.who = "KS-new"
		}
		return plain(",", point)(a)
	}), nil, "KS stops at 3 and KS-new goes on at 4: one person")
	doubt("i-mueller", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.who == "MB" {
			a.who = "Müller"
			if a.n > 3 {
				a.who = "Mueller"
			}
		}
		return plain(",", point)(a)
	}), nil, "Müller and Mueller are one person")
	doubt("i-mojibake", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.who == "MB" {
			a.who = "Böhm"
			if a.n > 3 {
				a.who = "BÃ¶hm"
			}
		}
		return plain(",", point)(a)
	}), nil, "BÃ¶hm is Böhm read in a wrong encoding")
	doubt("i-O1-01", "log.csv", long, lines(longHead, l, func(a at) string {
		if a.who == "MB" {
			a.who = "P01"
			if a.n > 4 {
				a.who = "PO1"
			}
		}
		return plain(",", point)(a)
	}), nil, "PO1 with a letter O is P01")
	doubt("i-two-groups-numbers-go-on", "log.csv", long, lines("Group,"+longHead, l, func(a at) string {
		who, g := "1", "A"
		if a.who == "AH" || a.who == "JW" {
			who = "2"
		}
		n := a.n
		if a.who == "MB" || a.who == "JW" {
			g = "B"
			n += 6
		}
		return fmt.Sprintf("%s,%s,%d,%v", g, who, n, a.value)
	}), nil, "two groups each have a trainee 1: the group changes within a code, and nobody named it")
	doubt("i-reused-next-year", "log.csv", long+" --date Date", lines("Date,"+longHead, l, func(a at) string {
		who := "1"
		if a.who == "AH" || a.who == "JW" {
			who = "2"
		}
		y := 2024
		if a.who == "MB" || a.who == "JW" {
			y = 2025
		}
		return fmt.Sprintf("%d-03-%02d,%s,%d,%v", y, a.n, who, a.n, a.value)
	}), nil, "trainee 1 of 2024 and trainee 1 of 2025, each with attempts 1 to 6")
	doubt("i-reused-next-year-no-numbers", "log.csv", "--trainee Trainee --date Date --response Seconds --measure time", lines("Date,Trainee,Seconds", l, func(a at) string {
		who := "1"
		if a.who == "AH" || a.who == "JW" {
			who = "2"
		}
		y := 2024
		if a.who == "MB" || a.who == "JW" {
			y = 2025
		}
		return fmt.Sprintf("%d-03-%02d,%s,%v", y, a.n, who, a.value)
	}), nil, "trainee 1 of 2024 and trainee 1 of 2025, a year apart")
	b := newBook("Session 1")
	zero := with(l, func(a *at) { a.who = "00" + fmt.Sprint(len(a.who)+int(a.who[0])%7) })
	b.log([]any{"Trainee", "Attempt", "Seconds"}, zero[:3], longRow)
	r := 2
	for _, a := range zero {
		if a.n <= 3 {
			b.row(fmt.Sprint("A", r), a.who, a.n, a.value)
			r++
		}
	}
	b.next("Session 2")
	b.row("A1", "Trainee", "Attempt", "Seconds")
	r = 2
	for _, a := range zero {
		if a.n > 3 {
			b.row(fmt.Sprint("A", r), int(a.who[2]-'0'), a.n, a.value)
			r++
		}
	}
	doubt("i-zeros-lost-in-one-sheet", "log.xlsx", long+" --sheets-are session", b.bytes(), nil, "004 on one sheet, 4 on the other: one person")
	pair := with(l, func(a *at) { a.who += map[string]string{"KS": "/MB", "MB": "/KS", "AH": "/JW", "JW": " + AH"}[a.who] })
	doubt("i-pairs", "log.csv", long, lines(longHead, pair, plain(",", point)), pair, "KS/MB and MB/KS are two people working together, or one code")
	read("i-codes-like-numbers", "log.csv", long, nil, with(l, func(a *at) {
		a.who = map[string]string{"KS": "1E1", "MB": "1E2", "AH": "10", "JW": "100"}[a.who]
	}))
	t := all[len(all)-1]
	t.files["log.csv"] = lines(longHead, t.Attempts, plain(",", point))
	doubt("i-same-series-twice", "log.csv", long, lines(longHead, with(l, func(a *at) {
		if a.who == "JW" {
			a.value = l[6+a.n-1].value
		}
	}), plain(",", point)), nil, "JW has the very numbers of MB: pasted twice")
	doubt("i-dragged-series", "log.csv", long, lines(longHead, with(l, func(a *at) {
		if a.who == "AH" {
			a.value = 83 + float64(a.n)
		}
	}), plain(",", point)), nil, "84, 85, 86, … of one trainee: dragged down by the spreadsheet")
	i := 0
	doubt("i-dragged-names", "log.csv", long, lines(longHead, l, func(a at) string {
		i++
		return fmt.Sprintf("KS%d,%d,%v", i, a.n, a.value)
	}), nil, "KS1, KS2, KS3, …: every row another trainee, dragged down")
	doubt("i-test-row", "log.csv", long, lines(longHead, append([]at{{"TEST", 1, 12, "done"}, {"TEST", 2, 3, "done"}}, l...), plain(",", point)), l, "rows of a TEST trainee")
}

// numbers are ways to count attempts.
func numbers() {
	l := log(6, 5, "N1", "N2", "N3", "N4")
	cell := func(f func(a at) string) []byte {
		return lines(longHead, l, func(a at) string { return fmt.Sprintf("%s,%s,%v", a.who, f(a), a.value) })
	}
	doubt("a-warm-up-word", "log.csv", long, cell(func(a at) string {
		if a.n == 1 {
			return "warm-up"
		}
		return fmt.Sprint(a.n - 1)
	}), nil, "the first is a warm-up")
	doubt("a-zero-is-warm-up", "log.csv", long, cell(func(a at) string { return fmt.Sprint(a.n - 1) }), nil, "0 is a warm-up, or the first")
	doubt("a-W1-W2-1-2", "log.csv", long, cell(func(a at) string {
		if a.n <= 2 {
			return fmt.Sprint("W", a.n)
		}
		return fmt.Sprint(a.n - 2)
	}), nil, "W1, W2 are warm-ups before 1, 2, 3")
	doubt("a-wide-P1-P2-T1", "wide.csv", row, wide("Name,P1,P2,T1,T2,T3", ",", l, point), nil, "P1, P2 are practice, T1 to T3 the test")
	doubt("a-wide-retest-last", "wide.csv", row, wide("Name,T1,T2,T3,T4,Retest", ",", l, point), nil, "the last is a retest, later")
	doubt("a-wide-follow-up", "wide.csv", row, wide("Name,Trial 1,Trial 2,Trial 3,Trial 4,FU 3 months", ",", l, point), nil, "the last is a follow-up after 3 months")
	doubt("a-repeat-words", "log.csv", long, cell(func(a at) string {
		if a.n == 4 {
			return "3 (repeat)"
		}
		if a.n == 5 {
			return "4"
		}
		return fmt.Sprint(a.n)
	}), nil, "3 (repeat) repeats 3")
	doubt("a-3a-3b", "log.csv", long, cell(func(a at) string { return []string{"1", "2", "3a", "3b", "4"}[a.n-1] }), nil, "3a and 3b")
	doubt("a-block-dot-trial", "log.csv", long, cell(func(a at) string { return []string{"1.1", "1.2", "1.3", "2.1", "2.2"}[a.n-1] }), nil, "block.trial, no number")
	doubt("a-correction-below", "log.csv", long, append(cell(func(a at) string { return fmt.Sprint(a.n) }), "N2,3,71.5\n"...), nil, "N2 has attempt 3 twice, with another time: a correction")
	doubt("a-wide-3-twice", "wide.csv", row, wide("Name,T1,T2,T3,T3,T4", ",", l, point), nil, "T3 twice")
	doubt("a-day-as-attempt", "log.csv", "--trainee Trainee --attempt Day --response Seconds --measure time", lines("Trainee,Day,Seconds", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%v", a.who, []int{1, 1, 2, 2, 3}[a.n-1], a.value)
	}), nil, "days are no attempts: two on a day")
	gaps := with(l, func(a *at) { a.n = []int{1, 2, 5, 6, 9}[a.n-1] })
	doubt("a-gaps-for-all", "log.csv", long, lines(longHead, gaps, plain(",", point)), gaps, "3, 4, 7, 8 are missing of everybody")
	roman := func(a at) string { return []string{"I", "II", "III", "IV", "V"}[a.n-1] }
	read("a-roman", "log.csv", long, cell(roman), l)
	read("a-shuffled-columns-and-rows", "log.csv", long, lines("Seconds,Remark,Attempt,Trainee", func() []at {
		var out []at
		for i := range l {
			out = append(out, l[(i*7)%len(l)])
		}
		return out
	}(), func(a at) string { return fmt.Sprintf("%v,,%d,%s", a.value, a.n, a.who) }), l)
	swap := lines(longHead, rounded(l, 1), func(a at) string {
		if a.who == "N3" {
			return fmt.Sprintf("%s,%v,%d", a.who, a.value, a.n)
		}
		return plain(",", point)(a)
	})
	doubt("a-swapped-for-one", "log.csv", long, swap, nil, "attempt and seconds are swapped for N3")
	half := lines(longHead, rounded(l, 1), func(a at) string {
		if a.who >= "N3" {
			return fmt.Sprintf("%s,%v,%d", a.who, a.value, a.n)
		}
		return plain(",", point)(a)
	})
	doubt("a-swapped-for-half", "log.csv", long, half, nil, "attempt and seconds are swapped for half of the trainees")
	doubt("a-1-of-5-again", "log.csv", long, cell(func(a at) string { return fmt.Sprintf("%d of 5", 6-a.n) }), nil, "5 of 5 first: counted down, or sorted backwards")
}

// tables are text files whose table is not simply one.
func tables() {
	l := log(7, 6, "T01", "T02", "T03", "T04")
	first := lines(longHead, l[:12], plain(",", point))
	second := lines(longHead, l[12:], plain(",", point))
	read("x-mark-in-the-middle", "all.csv", long, bytes.Join([][]byte{[]byte("\ufeff"), first, []byte("\ufeff"), second}, nil), l)
	ends := []string{"\r\n", "\n", "\r"}
	i := 0
	mixed := strings.Map(func(r rune) rune { return r }, string(lines(longHead, l, plain(",", point))))
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimSpace(mixed), "\n") {
		b.WriteString(line + ends[i%3])
		i++
	}
	read("x-mixed-line-ends", "log.csv", long, []byte(b.String()), l)
	read("x-tabs-in-quotes", "log.tsv", long, lines("Trainee\tRemark\tAttempt\tSeconds", l, func(a at) string {
		return fmt.Sprintf("%s\t\"ok\tslow\t9\"\t%d\t%v", a.who, a.n, a.value)
	}), l)
	read("x-inch-sign", "log.csv", long, lines("Trainee,Remark,Attempt,Seconds", l, func(a at) string {
		m := ""
		if a.n == 3 {
			m = `5" needle`
		}
		return fmt.Sprintf("%s,%s,%d,%v", a.who, m, a.n, a.value)
	}), l)
	doubt("x-quote-swallows-rows", "log.csv", long, lines(longHead+",Remark", l, func(a at) string {
		m := ""
		if a.who == "T01" && a.n == 4 {
			m = `"slipped`
		}
		if a.who == "T02" && a.n == 4 {
			m = `again"`
		}
		return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, m)
	}), l, "a quote opened in one remark and closed in another swallows the six rows between them")
	doubt("x-quote-never-closed", "log.csv", long, lines(longHead+",Remark", l, func(a at) string {
		m := ""
		if a.who == "T03" && a.n == 2 {
			m = `"slipped`
		}
		return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, m)
	}), l, "a quote opened and never closed")
	doubt("x-errors-below-same-width", "log.csv", long, append(lines(longHead, l, plain(",", point)),
		lines("Trainee,Attempt,Errors", with(l, func(a *at) { a.n += 6; a.value = float64(a.n % 4) }), plain(",", point))...), nil, "a second table of errors below, with a head of its own")
	read("x-two-side-by-side", "log.csv", long, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee;Attempt;Seconds;;Trainee;Attempt;Seconds\n")
		for i := range 12 {
			fmt.Fprintf(&b, "%s;;%s\n", plain(";", comma)(l[i]), plain(";", comma)(l[12+i]))
		}
		return b.Bytes()
	}(), l)
	all[len(all)-1].Verdict, all[len(all)-1].About = "doubt", "two tables side by side, the same heads"
	read("x-units-in-second-line", "log.csv", "--trainee Trainee --attempt Attempt --response Time --measure time",
		lines("Trainee,Attempt,Time,Force\n,,(s),(N)", l, func(a at) string { return plain(",", point)(a) + fmt.Sprintf(",%d", a.n+3) }), l)
	doubt("x-units-in-second-line-min", "log.csv", "--trainee Trainee --attempt Attempt --response Time --measure time",
		lines("Trainee,Attempt,Time\n,,(min)", l, plain(",", func(v float64) string { return fmt.Sprintf("%.3f", v/60) })),
		with(l, func(a *at) { a.value = math.Round(a.value/60*1000) / 1000 * 60 }), "minutes, said in the second line only")
	doubt("x-corrected-column", "log.csv", long, lines(longHead+",Corrected,Corrected by", l, func(a at) string {
		if a.n == 3 {
			return fmt.Sprintf("%s,%d,%v,%v,VR", a.who, a.n, a.value, a.value+10)
		}
		return plain(",", point)(a) + ",,"
	}), nil, "another column holds the corrected times")
	doubt("x-time-twice", "log.csv", "--trainee Trainee --attempt Attempt --response time --measure time", lines("Trainee,Attempt,time,Time ", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%v,%.1f", a.who, a.n, a.value, a.value+2.5)
	}), nil, "time twice, with other values")
	doubt("x-shifted-by-one-row", "log.csv", long, func() []byte {
		var b bytes.Buffer
		b.WriteString(longHead + "\n")
		for i, a := range l {
			v := ""
			if i > 0 {
				v = point(l[i-1].value)
			}
			fmt.Fprintf(&b, "%s,%d,%s\n", a.who, a.n, v)
		}
		fmt.Fprintf(&b, ",,%v\n", l[len(l)-1].value)
		return b.Bytes()
	}(), nil, "the column of times slipped down by one row")
	doubt("x-one-column-sorted", "log.csv", long, func() []byte {
		v := make([]float64, len(l))
		for i, a := range l {
			v[i] = a.value
		}
		for i := range v {
			for j := i + 1; j < len(v); j++ {
				if v[j] < v[i] {
					v[i], v[j] = v[j], v[i]
				}
			}
		}
		i := -1
		return lines(longHead, l, func(a at) string { i++; return fmt.Sprintf("%s,%d,%v", a.who, a.n, v[i]) })
	}(), nil, "one column was sorted alone: times rise through the whole file")
	doubt("x-dates-two-orders", "log.csv", long+" --date Date", lines(longHead+",Date", l, func(a at) string {
		if a.who < "T03" {
			return fmt.Sprintf("%s,%d.03.2026", plain(",", point)(a), a.n+2)
		}
		return fmt.Sprintf("%s,03/%02d/2026", plain(",", point)(a), a.n+2)
	}), l, "3.03.2026 and 03/04/2026: two orders of day and month")
	read("x-apostrophe-before", "log.csv", long, lines(longHead, l, func(a at) string { return fmt.Sprintf("'%s,'%d,'%v", a.who, a.n, a.value) }), l)
	doubt("x-two-heads-pivot", "pivot.csv", "--trainee Trainee --attempt Attempt --response Seconds --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee;Attempt;Seconds\n")
		for i, a := range l {
			who := ""
			if a.n == 1 {
				who = a.who
			}
			fmt.Fprintf(&b, "%s;%d;%s\n", who, a.n, comma(a.value))
			if a.n == 6 {
				sum := 0.0
				for _, x := range l[i-5 : i+1] {
					sum += x.value
				}
				fmt.Fprintf(&b, "%s Ergebnis;;%s\n", a.who, strings.ReplaceAll(fmt.Sprintf("%.1f", sum), ".", ","))
			}
		}
		return b.Bytes()
	}(), l, "a pivot: the name once, and sums after each").Way = words("--fill-down Trainee")
	read("x-task-in-title-lines", "log.csv", long, append([]byte("Peg transfer,,\nwinter 2026,,\n,,\n"), lines(longHead, l, plain(",", point))...), l)
	read("x-null-bytes-at-end", "log.csv", long, append(lines(longHead, l, plain(",", point)), make([]byte, 64)...), l)
	all[len(all)-1].Verdict, all[len(all)-1].About = "doubt", "a tail of zero bytes: the file was not written to its end"
	doubt("x-task-column-named-station", "log.csv", long, lines("Station,"+longHead, with(l, func(a *at) {}), func(a at) string {
		s := "knot"
		if a.n > 3 {
			s = "peg"
		}
		return s + "," + plain(",", point)(a)
	}), nil, "attempts 1 to 3 are of one station, 4 to 6 of another")
}

// workbooks are spreadsheets.
func workbooks() {
	l := log(8, 5, "B1", "B2", "B3", "B4")
	head := []any{"Trainee", "Attempt", "Seconds"}
	b := newBook("log")
	b.log(append(head, "Date"), l, func(a at) []any { return []any{a.who, a.n, a.value, 46050 + a.n*7} })
	read("b-dates-as-bare-numbers", "log.xlsx", long+" --date Date", b.bytes(), l)
	all[len(all)-1].Verdict, all[len(all)-1].About = "doubt", "46057 is a date without its format"
	b = newBook("log")
	on := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &on}))
	b.log([]any{"Name", "1", "2", "3", "4", "5"}, nil, nil)
	for i, a := range l {
		r := i/5 + 2
		b.row(fmt.Sprint("A", r), a.who)
		c := cellName(a.n+1, r)
		b.row(c, a.value/86400)
		b.format(c, c, "[m]:ss.0")
	}
	read("b-1904-durations-wide", "log.xlsx", "--trainee Name --response time --measure time --limit 300", b.bytes(), l)
	b = newBook("log")
	b.log(head, l, longRow)
	b.next("log (2)")
	b.log(head, l, func(a at) []any { return []any{a.who, a.n, a.value + 1.5} })
	must(b.SetSheetVisible("log (2)", false, true))
	doubt("b-very-hidden-copy", "log.xlsx", long, b.bytes(), l, "a sheet that is hidden even from the list of hidden sheets holds other values")
	b = newBook("Task A")
	b.log(head, l[:10], longRow)
	b.next("Task B")
	b.log(head, l[10:], longRow)
	doubt("b-tasks-as-sheets", "log.xlsx", long, b.bytes(), nil, "two tasks on two sheets")
	b = newBook("Group A")
	b.log(head, with(l[:10], func(a *at) { a.who = a.who[1:] }), longRow)
	b.next("Group B")
	b.log(head, with(l[10:], func(a *at) { a.who = fmt.Sprint(int(a.who[1]-'0') - 2) }), longRow)
	doubt("b-groups-as-sheets-same-codes", "log.xlsx", long+" --sheets-are arm", b.bytes(), nil, "trainee 1 of each group is another person")
	b = newBook("log")
	b.row("A1", "Trainee", "Time", nil, nil, nil, nil, "Errors")
	b.row("A2", nil, 1, 2, 3, 4, 5, 1, 2, 3, 4, 5)
	must(b.MergeCell("log", "B1", "F1"))
	must(b.MergeCell("log", "G1", "K1"))
	must(b.MergeCell("log", "A1", "A2"))
	for i, a := range l {
		r := i/5 + 3
		b.put(1, r, a.who)
		b.put(a.n+1, r, a.value)
		b.put(a.n+6, r, int(a.value)%4)
	}
	read("b-merged-time-and-errors", "log.xlsx", "--trainee Trainee --response Time --measure time --limit 300", b.bytes(), l)
	b = newBook("log")
	b.log(head, l, longRow)
	must(b.AddDataValidation("log", &excelize.DataValidation{Sqref: "B2:B50", Type: "whole", Operator: "between", Formula1: "1", Formula2: "20"}))
	must(b.AutoFilter("log", "A1:C21", nil))
	must(b.SetRowVisible("log", 7, false))
	must(b.SetRowVisible("log", 8, false))
	doubt("b-two-rows-hidden", "log.xlsx", long, b.bytes(), l, "two rows are hidden: do they count")
	b = newBook("log")
	b.log(append(head, "Seconds"), l, func(a at) []any { return []any{a.who, a.n, a.value, a.value + 3} })
	doubt("b-seconds-twice", "log.xlsx", long, b.bytes(), nil, "two columns of one name, with other values")
	b = newBook("Übersicht")
	b.row("A1", "Trainee", "Best", "Mean")
	b.row("A2", "B1", 70.1, 82.5)
	b.next("B1")
	for i, w := range []string{"B1", "B2", "B3", "B4"} {
		if i > 0 {
			b.next(w)
		}
		b.row("A1", "Attempt", "Seconds")
		for j, a := range l[i*5 : i*5+5] {
			v := any(a.value)
			if w == "B3" {
				v = fmt.Sprintf("%d:%04.1f", int(a.value)/60, math.Mod(a.value, 60))
			}
			b.row(fmt.Sprint("A", j+2), a.n, v)
		}
	}
	read("b-trainee-sheets-one-m-ss", "log.xlsx", "--attempt Attempt --response Seconds --measure time --sheets-are trainee", b.bytes(), l)
	type parq struct {
		Trainee string `parquet:"trainee,dict"`
		Attempt int8   `parquet:"attempt"`
		Micros  int64  `parquet:"time,time(microsecond)"`
	}
	var rows []parq
	for _, a := range l {
		rows = append(rows, parq{a.who, int8(a.n), int64(math.Round(a.value*10)) * 100000})
	}
	read("b-parquet-time-micros", "log.parquet", "--trainee trainee --attempt attempt --response time --measure time", parquetOf(rows), l)
	type parqMs struct {
		Trainee  string  `parquet:"trainee"`
		Attempt  string  `parquet:"attempt"`
		Duration float64 `parquet:"duration"`
	}
	var ms []parqMs
	for _, a := range l {
		ms = append(ms, parqMs{a.who, fmt.Sprint(a.n), math.Round(a.value * 1000)})
	}
	doubt("b-parquet-ms-unsaid", "log.parquet", "--trainee trainee --attempt attempt --response duration --measure time", parquetOf(ms), nil, "whole thousands: milliseconds, a day otherwise")
}

// arms are groups.
func arms() {
	l := log(9, 5, "G1", "G2", "G3", "G4", "G5", "G6")
	of := func(f func(a at) string) []byte {
		return lines(longHead+",Group", l, func(a at) string { return plain(",", point)(a) + "," + f(a) })
	}
	flags := long + " --arm Group"
	half := func(a at) string { return []string{"1", "2"}[int(a.who[1])%2] }
	plainArms := read("g-coded-1-2", "log.csv", flags, of(half), l)
	plainArms.Arms = map[string]string{"G1": "2", "G2": "1", "G3": "2", "G4": "1", "G5": "2", "G6": "1"}
	doubt("g-9-unknown", "log.csv", flags, of(func(a at) string {
		if a.who == "G5" {
			return "9"
		}
		return half(a)
	}), nil, "9 stands for a group that is not known")
	doubt("g-blank-for-one", "log.csv", flags, of(func(a at) string {
		if a.who == "G5" {
			return ""
		}
		return half(a)
	}), nil, "no group for G5")
	doubt("g-unknown-word", "log.csv", flags, of(func(a at) string {
		if a.who == "G5" {
			return "unknown"
		}
		return map[string]string{"1": "whole", "2": "part"}[half(a)]
	}), nil, "unknown is no group")
	doubt("g-late-start", "log.csv", flags, of(func(a at) string {
		if a.who == "G5" {
			return "A (late start)"
		}
		return map[string]string{"1": "A", "2": "B"}[half(a)]
	}), nil, "A (late start) is A, or a group of one")
	doubt("g-crossover-by-period", "log.csv", flags, of(func(a at) string {
		if a.n > 3 {
			return map[string]string{"1": "2", "2": "1"}[half(a)]
		}
		return half(a)
	}), nil, "groups change over: a crossover")
	doubt("g-expert-level-column", "log.csv", long, lines(longHead+",Level", l, func(a at) string {
		return plain(",", point)(a) + "," + []string{"R1", "R2", "R2", "R1", "Consultant", "Consultant"}[a.who[1]-'1']
	}), nil, "two of six are consultants, in a column nobody named")
	doubt("g-expert-ids", "log.csv", long, lines(longHead, with(l, func(a *at) {
		if a.who > "G4" {
			a.who = "Expert " + a.who[1:]
			a.value -= 20
		}
	}), plain(",", point)), nil, "Expert 5 and Expert 6 among the trainees")
	read("g-experts-in-folder", ".", "", nil, l)
	t := all[len(all)-1]
	x := log(19, 3, "X1", "X2", "X3")
	t.Experts = x
	study(t, "experts:\n  file: experts.csv\n", map[string][]byte{"experts.csv": lines("expert,attempt,seconds", x, plain(",", point))})
}

// raters are studies with ratings.
func raters() {
	l := log(10, 5, "V1", "V2", "V3", "V4")
	wideOf := func(verdict, name, scale, about, head string, n int, score func(s, r int) string, ratings bool) *truth {
		t := put(verdict, name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString("video," + head + "\n")
		names := strings.Split(head, ",")
		for s := range n {
			b.WriteString(fmt.Sprint("C", s+1))
			for r := range names {
				cell := score(s, r)
				b.WriteString("," + cell)
				if ratings {
					t.Ratings = append(t.Ratings, [4]string{fmt.Sprint("C", s+1), names[r], "global", strings.ReplaceAll(cell, "½", ".5")})
				}
			}
			b.WriteString("\n")
		}
		study(t, `ratings:
  file: ratings.csv
  wide: true
  subject: video
  items:
    - {name: global, scale: `+scale+`}
`, map[string][]byte{"ratings.csv": b.Bytes()})
		return t
	}
	base := []int{2, 3, 4, 1, 5, 3, 2, 4, 5, 1, 3, 4}
	noise := []int{0, 1, 0, -1, 0, 0, 1, 0, -1, 1, 0, 0, 1, -1}
	score := func(s, r int) int { return min(5, max(1, base[s]+noise[(s*3+r*5)%14])) }
	num := func(s, r int) string { return fmt.Sprint(score(s, r)) }
	wideOf("read", "r-wide-plain", "ordinal", "", "Ash,Elm,Fir", 12, num, true)
	wideOf("read", "r-half-points", "interval", "", "Ash,Elm,Fir", 12, func(s, r int) string {
		if (s+r)%4 == 0 && score(s, r) < 5 {
			return fmt.Sprint(score(s, r), ".5")
		}
		return num(s, r)
	}, true)
	wideOf("doubt", "r-half-sign", "interval", "3½ is 3.5", "Ash,Elm,Fir", 12, func(s, r int) string {
		if (s+r)%4 == 0 && score(s, r) < 5 {
			return fmt.Sprint(score(s, r), "½")
		}
		return num(s, r)
	}, true)
	wideOf("doubt", "r-out-of-five", "interval", "4/5 and 4: out of five, or two numbers", "Ash,Elm,Fir", 12, func(s, r int) string {
		if r == 1 {
			return num(s, r) + "/5"
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-reversed-by-one", "ordinal", "Fir gives 1 where the others give 5: the scale is reversed", "Ash,Elm,Fir", 12, func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(6 - score(s, r))
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-copy", "ordinal", "Fir has the very scores of Elm", "Ash,Elm,Fir", 12, func(s, r int) string { return num(s, min(r, 1)) }, false)
	wideOf("doubt", "r-typed-55", "interval", "55 among 1 to 5: a key pressed twice", "Ash,Elm,Fir", 12, func(s, r int) string {
		if s == 4 && r == 1 {
			return "55"
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-zero-not-rated", "interval", "0 among 1 to 5: not rated", "Ash,Elm,Fir", 12, func(s, r int) string {
		if s == 4 || s == 7 && r == 1 {
			return "0"
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-range", "interval", "3-4 is no score", "Ash,Elm,Fir", 12, func(s, r int) string {
		if s == 2 && r == 1 {
			return "3-4"
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-range-became-date", "ordinal", "04-Mar was 3-4", "Ash,Elm,Fir", 12, func(s, r int) string {
		if s == 2 && r == 1 {
			return "04-Mar"
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-second-look", "ordinal", "Ash 2 is the second look of Ash, no third rater", "Ash,Elm,Ash 2", 12, num, false)
	wideOf("doubt", "r-self", "ordinal", "Self is the trainee's own rating", "Ash,Elm,Self", 12, num, false)
	wideOf("doubt", "r-letters-beside", "ordinal", "A, B, C by one rater, 1 to 5 by the others", "Ash,Elm,Fir", 12, func(s, r int) string {
		if r == 2 {
			return string(rune('F' - score(s, r)))
		}
		return num(s, r)
	}, false)
	wideOf("doubt", "r-hundred-beside-five", "interval", "Fir rates on 0 to 100, the others on 1 to 5", "Ash,Elm,Fir", 12, func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(score(s, r)*20 - 3)
		}
		return num(s, r)
	}, false)
	longOf := func(verdict, name, about string, rater func(s, r int) string, item func(s, r int) string) *truth {
		t := put(verdict, name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString("video,examiner,item,score\n")
		for s := range 12 {
			for r := range 2 {
				for _, it := range []string{"global", "flow"} {
					fmt.Fprintf(&b, "C%d,%s,%s,%s\n", s+1, rater(s, r), it, item(s, r))
				}
			}
		}
		study(t, `ratings:
  file: ratings.csv
  subject: video
  rater: examiner
  item: item
  score: score
  items:
    - {name: global, scale: ordinal}
    - {name: flow, scale: ordinal}
`, map[string][]byte{"ratings.csv": b.Bytes()})
		return t
	}
	two := func(s, r int) string { return []string{"Ash", "Elm"}[r] }
	t := longOf("read", "r-long-plain", "", two, num)
	for s := range 12 {
		for r := range 2 {
			for _, it := range []string{"global", "flow"} {
				t.Ratings = append(t.Ratings, [4]string{fmt.Sprint("C", s+1), two(s, r), it, num(s, r)})
			}
		}
	}
	longOf("doubt", "r-title-before-name", "Dr. Ash and Ash are one rater", func(s, r int) string {
		if r == 0 && s > 6 {
			return "Dr. Ash"
		}
		return two(s, r)
	}, num)
	longOf("doubt", "r-rater-missing-once", "Ahs is Ash", func(s, r int) string {
		if r == 0 && s == 6 {
			return "Ahs"
		}
		return two(s, r)
	}, num)
}

// habits are files of people who do it their own way.
func habits() {
	l := log(11, 6, "S1", "S2", "S3", "S4")
	doubt("h-penalty-beside", "log.csv", "--trainee Trainee --attempt Attempt --response Time --measure time", lines("Trainee,Attempt,Time,Penalty,Time total", l, func(a at) string {
		p := int(a.value) % 3 * 10
		return fmt.Sprintf("%s,%d,%v,%d,%v", a.who, a.n, a.value, p, math.Round((a.value+float64(p))*10)/10)
	}), l, "a column nobody named is the time with its penalties")
	read("h-plain-with-remarks", "log.csv", long, lines(longHead+",Remark", l, func(a at) string {
		return plain(",", point)(a) + []string{",", ",nice", ",", ",left hand first"}[int(a.value)%4]
	}), l)
	read("h-plain-semicolon-dates", "log.csv", "--trainee Name --attempt Versuch --response Sekunden --date Datum --measure time", lines("Datum;Name;Versuch;Sekunden", l, func(a at) string {
		return fmt.Sprintf("%02d.02.2026;%s", 10+a.n, plain(";", comma)(a))
	}), l)
	read("h-plain-wide", "wide.csv", row, wide("Name,T1,T2,T3,T4,T5,T6", ",", l, point), l)
	read("h-plain-limit", "log.csv", long+" --limit 180", lines(longHead, l, plain(",", func(v float64) string { return point(math.Min(v, 180)) })),
		with(l, func(a *at) {
			if a.value >= 180 {
				a.value, a.outcome = 180, "timeout"
			}
		}))
	doubt("h-best-of-two", "log.csv", long, lines("Trainee,Attempt,Try 1,Try 2,Seconds", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%v,%.1f,%v", a.who, a.n, a.value, a.value+4.2, a.value)
	}), l, "the measure is the better of two tries, which stand beside it")
	doubt("h-hand-column-alternates", "log.csv", long, lines(longHead+",Hand", l, func(a at) string {
		return plain(",", point)(a) + "," + []string{"R", "L"}[a.n%2]
	}), l, "right and left hand in turn: two tasks in one series")
	doubt("h-assisted-column", "log.csv", long, lines(longHead+",Assisted", l, func(a at) string {
		x := "no"
		if a.n <= 2 {
			x = "yes"
		}
		return plain(",", point)(a) + "," + x
	}), l, "the first two were done with help")
}

// opens are OpenDocument spreadsheets.
func opens() {
	l := log(12, 5, "L1", "L2", "L3", "L4")
	table := func(cell func(a at) string) []byte {
		rows := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
		for _, a := range l {
			rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), cell(a)))
		}
		return ods(rows...)
	}
	read("o-durations-shown-without-tenths", "log.ods", long, table(func(a at) string {
		return fmt.Sprintf(`<table:table-cell office:value-type="time" office:time-value="PT00H%02dM%04.1fS"><text:p>%02d:%02d</text:p></table:table-cell>`,
			int(a.value)/60, math.Mod(a.value, 60), int(a.value)/60, int(a.value)%60)
	}), l)
	read("o-value-fuller-than-shown", "log.ods", long, table(func(a at) string {
		return fmt.Sprintf(`<table:table-cell office:value-type="float" office:value="%v"><text:p>%.0f</text:p></table:table-cell>`, a.value, a.value)
	}), l)
	doubt("o-comment-on-cell", "log.ods", long, table(func(a at) string {
		note := ""
		if a.who == "L2" && a.n == 3 {
			note = "<office:annotation><text:p>needle broke, does not count</text:p></office:annotation>"
		}
		return fmt.Sprintf(`<table:table-cell office:value-type="float" office:value="%v">%s<text:p>%v</text:p></table:table-cell>`, a.value, note, a.value)
	}), l, "a comment on a cell says that it does not count")
	doubt("o-filtered-rows", "log.ods", long, nil, l, "rows of L3 are filtered away")
	t := all[len(all)-1]
	rows := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
	for _, a := range l {
		r := odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value))
		if a.who == "L3" {
			r = strings.Replace(r, "<table:table-row>", `<table:table-row table:visibility="filter">`, 1)
		}
		rows = append(rows, r)
	}
	t.files["log.ods"] = ods(rows...)
	read("o-name-once-merged", "log.ods", long, func() []byte {
		rows := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
		for _, a := range l {
			name := `<table:covered-table-cell/>`
			if a.n == 1 {
				name = `<table:table-cell table:number-rows-spanned="5" office:value-type="string"><text:p>` + a.who + `</text:p></table:table-cell>`
			}
			rows = append(rows, odsRow(name, odsNumber(float64(a.n)), odsNumber(a.value)))
		}
		return ods(rows...)
	}(), l)
	doubt("o-percent-and-number", "log.ods", "--trainee Trainee --attempt Attempt --response Score --measure score", func() []byte {
		rows := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Score"))}
		for _, a := range l {
			v := math.Round(200-a.value) / 2
			c := odsNumber(v)
			if a.n > 2 {
				c = fmt.Sprintf(`<table:table-cell office:value-type="percentage" office:value="%v"><text:p>%v%%</text:p></table:table-cell>`, v/100, v)
			}
			rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), c))
		}
		return ods(rows...)
	}(), nil, "0.85 shown as 85% beside 85")
}
