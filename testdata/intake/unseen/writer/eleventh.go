package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"
)

// The eleventh set was made after what the tenth showed was mended.
func eleventh() {
	kitchen11()
	grids11()
	hands11()
	plain11()
}

// kitchen11 are logs in long form as people keep them.
func kitchen11() {
	l := log(600, 6, "Z1", "Z2", "Z3", "Z4", "Z5")
	w := whole(l)
	long := "--trainee pp --attempt trial --response rt --measure time"
	d := func(name, head, about string, l []at, f func(a at) string) {
		doubt("11-"+name, "log.csv", long, lines("pp,trial,rt"+head, l, f), nil, about)
	}
	and := func(f func(a at) string) func(a at) string {
		return func(a at) string { return plain(",", point)(a) + "," + f(a) }
	}
	d("warmup-first-of-day", ",day,warm", "the first trial of each day is a warm-up", l, and(func(a at) string {
		return fmt.Sprint((a.n-1)/3+1, ",", map[bool]string{true: "y", false: "n"}[a.n%3 == 1])
	}))
	d("rt-net", ",rt_raw,lag", "rt has the lag of a machine taken off", l, and(func(a at) string { return fmt.Sprint(math.Round((a.value+2.5)*10)/10, ",2.5") }))
	d("needle-size", ",needle", "three needles", l, and(func(a at) string { return []string{"22G", "25G", "27G"}[(a.n+int(a.who[1]))%3] }))
	d("repeat-of", ",repeats", "trial 4 of Z2 repeats trial 3", l, and(func(a at) string {
		if a.who == "Z2" && a.n == 4 {
			return "3"
		}
		return ""
	}))
	d("valid-codes", ",v", "v is 1 for valid, 0 and 2 for two kinds of void", l, and(func(a at) string {
		switch {
		case a.who == "Z2" && a.n == 4:
			return "0"
		case a.who == "Z4" && a.n == 1:
			return "2"
		}
		return "1"
	}))
	d("partner", ",with", "some worked with a partner", l, and(func(a at) string {
		if a.n > 4 {
			return "Z" + fmt.Sprint(1+(int(a.who[1])-'0')%5)
		}
		return "-"
	}))
	d("watch-late", ",start,stop", "stop less start is rt less 60 in three rows", w, func(a at) string {
		s := 32400 + a.n*600 + int(a.who[1])*7
		e := s + int(a.value)
		if a.n == 2 && a.who > "Z2" {
			e -= 60
		}
		return fmt.Sprintf("%s,%d,%v,%02d:%02d:%02d,%02d:%02d:%02d", a.who, a.n, a.value, s/3600, s/60%60, s%60, e/3600, e/60%60, e%60)
	})
	d("in-quarter-minutes", "", "rt counts quarters of a minute", l, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/15) }))
	d("half-of-people-tenths", "", "Z4 and Z5 were written in tenths", l, func(a at) string {
		if a.who > "Z3" {
			return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, a.value*10)
		}
		return plain(",", point)(a)
	})
	d("last-two-tenths", "", "the last two trials of everybody were written in tenths", l, func(a at) string {
		if a.n > 4 {
			return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, a.value*10)
		}
		return plain(",", point)(a)
	})
	d("typed-240-for-140", "", "one digit is wrong by 300", l, func(a at) string {
		if a.who == "Z3" && a.n == 6 {
			return fmt.Sprint("Z3,6,", a.value+300)
		}
		return plain(",", point)(a)
	})
	d("decimal-shift-down", "", "two times of Z1 are a tenth", l, func(a at) string {
		if a.who == "Z1" && (a.n == 3 || a.n == 5) {
			return fmt.Sprintf("Z1,%d,%.2f", a.n, a.value/10)
		}
		return plain(",", point)(a)
	})
	d("block-of-zeros-point-one", "", "1 stands for nothing in four rows", l, func(a at) string {
		if a.n == 4 && a.who < "Z5" {
			return a.who + ",4,1"
		}
		return plain(",", point)(a)
	})
	d("limit-heap-in-middle", "", "stopped at 100 in session 2 alone", l, func(a at) string {
		if a.n > 3 {
			a.value = min(a.value, 100)
		}
		return plain(",", point)(a)
	})
	d("two-limits", "", "stopped at 150 first and at 100 later", log(601, 8, "Z1", "Z2", "Z3", "Z4", "Z5"), func(a at) string {
		a.value = min(a.value, map[bool]float64{true: 130, false: 90}[a.n < 4])
		return plain(",", point)(a)
	})
	d("same-day-twice", ",date", "Z3 has two trials 5 dated before trial 4", l, and(func(a at) string {
		n := a.n
		if a.who == "Z3" && a.n == 5 {
			n = 2
		}
		return fmt.Sprintf("%d March 2026", 2+n)
	}))
	d("years-apart", ",date", "Z5 practised a year before", l, and(func(a at) string {
		return fmt.Sprintf("%d-05-%02d", map[bool]int{true: 2025, false: 2026}[a.who == "Z5"], 3+a.n)
	}))
	d("break-of-months", ",date", "three months between trial 3 and 4", l, and(func(a at) string {
		return fmt.Sprintf("2026-%02d-%02d", map[bool]int{true: 2, false: 6}[a.n < 4], 3+a.n)
	}))
	d("gender-changes", ",sex", "sex differs within Z2: rows of somebody else", l, and(func(a at) string {
		if a.who == "Z2" && a.n > 4 || a.who > "Z3" {
			return "f"
		}
		return "m"
	}))
	d("age-jumps", ",age", "the age of Z4 jumps by 12", l, and(func(a at) string {
		age := 20 + int(a.who[1]-'0')
		if a.who == "Z4" && a.n > 3 {
			age += 12
		}
		return fmt.Sprint(age)
	}))
	d("order-column", ",seq", "seq is the true order, and trial is not", l, and(func(a at) string { return fmt.Sprint([]int{0, 3, 1, 2, 6, 4, 5}[a.n]) }))
	score := with(log(602, 8, "Z1", "Z2", "Z3", "Z4"), func(a *at) { a.value = math.Round(130 - a.value/2) })
	doubt("11-score-negative-code", "log.csv", "--trainee pp --attempt trial --response s --measure score", lines("pp,trial,s", score, func(a at) string {
		if a.n == 3 && a.who == "Z2" {
			return "Z2,3,-77"
		}
		return plain(",", point)(a)
	}), nil, "-77 is a code")
	doubt("11-score-999", "log.csv", "--trainee pp --attempt trial --response s --measure score", lines("pp,trial,s", score, func(a at) string {
		if a.n == 3 && a.who < "Z3" {
			return a.who + ",3,999"
		}
		return plain(",", point)(a)
	}), nil, "999 is a code")
	doubt("11-score-one-examiner-of-ten", "log.csv", "--trainee pp --attempt trial --response s --measure score", lines("pp,trial,s,ex", score, func(a at) string {
		if a.n%2 == 0 {
			return fmt.Sprintf("%s,%d,%.1f,B", a.who, a.n, a.value/10)
		}
		return plain(",", point)(a) + ",A"
	}), nil, "examiner B marks out of ten")
	doubt("11-score-sum-of-items", "log.csv", "--trainee pp --attempt trial --response s --measure score", lines("pp,trial,s,i1,i2,i3", score, func(a at) string {
		x, y := math.Round(a.value/3), math.Round(a.value/4)
		z := a.value - x - y
		if a.who == "Z1" && a.n == 2 {
			z += 10
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", x, ",", y, ",", z)
	}), nil, "s is the sum of i1 to i3 but in one row")
	doubt("11-count-99", "log.csv", "--trainee pp --attempt trial --response errors --measure count", lines("pp,trial,errors", with(score, func(a *at) { a.value = math.Round(9 / float64(a.n)) }), func(a at) string {
		if a.n == 3 && a.who == "Z2" {
			return "Z2,3,99"
		}
		return plain(",", point)(a)
	}), nil, "99 is a code")
	doubt("11-count-per-minute", "log.csv", "--trainee pp --attempt trial --response errors --measure count", lines("pp,trial,errors", score, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/31) })), nil, "errors per minute are no counts")
}

func grids11() {
	l := log(610, 6, "G1", "G2", "G3", "G4")
	table := func(head string, cell func(k, n int) string) []byte {
		var b bytes.Buffer
		b.WriteString(head + "\n")
		for k := range 4 {
			b.WriteString(l[k*6].who)
			for n := range 6 {
				b.WriteString("," + cell(k, n))
			}
			b.WriteString("\n")
		}
		return b.Bytes()
	}
	value := func(k, n int) string { return point(l[k*6+n].value) }
	name := "--trainee Name --response Try --measure time"
	d := func(kind, about string, data []byte) { doubt("11-grid-"+kind, "wide.csv", name, data, nil, about) }
	head := "Name,Try 1,Try 2,Try 3,Try 4,Try 5,Try 6"
	d("numbers-backwards", "the columns run from the last to the first", table("Name,Try 1,Try 2,Try 3,Try 4,Try 5,Try 6", func(k, n int) string { return value(k, 5-n) }))
	d("cumulative", "every column adds up those before it", table(head, func(k, n int) string {
		s := 0.0
		for i := range n + 1 {
			s += l[k*6+i].value
		}
		return fmt.Sprintf("%.1f", s)
	}))
	d("last-is-difference", "Try 6 is the gain from first to last", table(head, func(k, n int) string {
		if n == 5 {
			return fmt.Sprintf("%.1f", l[k*6].value-l[k*6+4].value)
		}
		return value(k, n)
	}))
	d("last-is-best", "Try 6 is the best of the others", table(head, func(k, n int) string {
		if n == 5 {
			best := math.Inf(1)
			for i := range 5 {
				best = min(best, l[k*6+i].value)
			}
			return point(best)
		}
		return value(k, n)
	}))
	d("first-is-mean", "Try 1 is the mean of the others", table(head, func(k, n int) string {
		if n == 0 {
			s := 0.0
			for i := 1; i < 6; i++ {
				s += l[k*6+i].value
			}
			return fmt.Sprintf("%.1f", s/5)
		}
		return value(k, n)
	}))
	d("sum-row-middle", "a row in the middle is the mean of the two above it", func() []byte {
		rows := strings.SplitAfter(string(table(head, value)), "\n")
		m := "Mo"
		for n := range 6 {
			m += fmt.Sprintf(",%.2f", (l[n].value+l[6+n].value)/2)
		}
		return []byte(rows[0] + rows[1] + rows[2] + m + "\n" + rows[3] + rows[4])
	}())
	d("row-twice", "G2 stands there twice under two names", append(table(head, value), []byte("G22,"+strings.Join([]string{value(1, 0), value(1, 1), value(1, 2), value(1, 3), value(1, 4), value(1, 5)}, ",")+"\n")...))
	d("row-in-minutes", "G3 is in minutes", table(head, func(k, n int) string {
		if k == 2 {
			return fmt.Sprintf("%.2f", l[k*6+n].value/60)
		}
		return value(k, n)
	}))
	d("row-in-tenths", "G3 is in tenths", table(head, func(k, n int) string {
		if k == 2 {
			return fmt.Sprintf("%.0f", l[k*6+n].value*10)
		}
		return value(k, n)
	}))
	d("column-in-tenths", "Try 4 is in tenths", table(head, func(k, n int) string {
		if n == 3 {
			return fmt.Sprintf("%.0f", l[k*6+n].value*10)
		}
		return value(k, n)
	}))
	d("codes-777", "777 stands for not finished", table(head, func(k, n int) string {
		if n == 0 && k < 2 {
			return "777"
		}
		return value(k, n)
	}))
	d("note-column", "a column of notes says that the needle was changed", table(head+",", value))
	all = all[:len(all)-1]
	d("expert-row-last", "the last row is an expert", append(table(head, value), []byte("consultant,61.2,60.1,59.8,60.4,60.9,59.7\n")...))
	d("date-row", "a row below the names holds dates", func() []byte {
		rows := strings.SplitAfter(string(table(head, value)), "\n")
		return []byte(rows[0] + "Date,2026-03-01,2026-03-02,2026-03-03,2026-03-02,2026-03-05,2026-03-06\n" + strings.Join(rows[1:], ""))
	}())
	d("device-row", "a row below the names says which device", func() []byte {
		rows := strings.SplitAfter(string(table(head, value)), "\n")
		return []byte(rows[0] + "Device,A,A,A,B,B,B\n" + strings.Join(rows[1:], ""))
	}())
}

func hands11() {
	l := log(620, 6, "H1", "H2", "H3", "H4")
	b := newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.style(&excelize.Style{Font: &excelize.Font{Underline: "single"}}, "C8", "C8")
	doubt("11-book-underlined", "log.xlsx", usual, b.bytes(), nil, "one time is underlined")
	b = newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	must(b.SetCellValue("data", "F3", "H2 was ill from attempt 4 on"))
	doubt("11-book-note-aside", "log.xlsx", usual, b.bytes(), nil, "a note stands beside the table")
	b = newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	must(b.SetCellFormula("data", "C5", "C4"))
	must(b.SetCellValue("data", "C5", l[2].value))
	b.row("E1", "Trainee", "Attempt", "Seconds")
	b.row("E2", "H5", 1, 140.2)
	b.row("E3", "H5", 2, 120.2)
	doubt("11-book-table-beside", "log.xlsx", usual, b.bytes(), nil, "H5 stands in a second table beside")
	b = newBook("Plan")
	b.row("A1", "Trainee", "Attempt", "Seconds")
	b.row("A2", "H1", 1, 100)
	b.row("A3", "H1", 2, 90)
	b.next("Ist")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	doubt("11-book-plan-and-actual", "log.xlsx", usual, b.bytes(), nil, "one sheet is a plan")
	b = newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any {
		if a.who == "H3" {
			return []any{a.who, a.n, fmt.Sprintf("%.1f", a.value)}
		}
		return []any{a.who, a.n, a.value}
	})
	read("11-book-text-numbers", "log.xlsx", usual, b.bytes(), l)
	r := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
	for i, a := range l {
		c := odsNumber(a.value)
		if i == 4 {
			c = strings.Replace(c, "<table:table-cell ", `<table:table-cell table:style-name="struck" `, 1)
		}
		r = append(r, odsRow(odsText(a.who), odsNumber(float64(a.n)), c))
	}
	data := ods(r...)
	doubt("11-book-ods-style", "log.ods", usual, data, nil, "one time has a style called struck")
	file9("tmp", "Hand", "", l, func(a at) string { return []string{"dom", "nondom"}[(a.n+int(a.who[1]))%2] })
	all[len(all)-1].Folder, all[len(all)-1].About = "11-hand-words", "dominant hand and the other in turn"
	file9("tmp", "Side", "", l, func(a at) string { return []string{"+1", "-1"}[(a.n*a.n+int(a.who[1])/2)%2] })
	all[len(all)-1].Folder, all[len(all)-1].About = "11-side-signs", "+1 and -1 are two sides"
	file9("tmp", "Bahn", "", l, func(a at) string { return fmt.Sprint(1 + (a.n*a.n*3+int(a.who[1])*5)%4) })
	all[len(all)-1].Folder, all[len(all)-1].About = "11-lane-numbers", "four lanes, by number, in no order"
	file9("tmp", "Betreuer", "", l, func(a at) string {
		return []string{"ka", "lo", "mi", "nu", "pe", "ri", "so"}[(a.n*5+int(a.who[1])*3)%7]
	})
	all[len(all)-1].Folder, all[len(all)-1].About = "11-tutors", "seven tutors took the times"
}

// plain11 are plain files with more beside them than is needed.
func plain11() {
	l := log(630, 7, "R1", "R2", "R3", "R4", "R5")
	p := func(name, head string, more func(a at) string) {
		read("11-plain-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds,"+head, l, row8(more)), l)
	}
	p("drops", "Drops", func(a at) string { return fmt.Sprint((a.n*a.n + int(a.who[1])) % 3) })
	p("leak", "Leak (ml)", func(a at) string { return fmt.Sprintf("%.1f", float64((a.n*31+int(a.who[1])*17)%40)/10) })
	p("stitches", "Stitches", func(a at) string { return "6" })
	p("bmi", "BMI", func(a at) string { return fmt.Sprintf("%.1f", 20+float64(int(a.who[1])%9)/3) })
	p("pulse", "Pulse before,Pulse after", func(a at) string {
		return fmt.Sprint(66+(a.n*7+int(a.who[1]))%13, ",", 80+(a.n*11+int(a.who[1])*3)%21)
	})
	p("saved", "Timestamp", func(a at) string {
		return fmt.Sprintf("2026-05-%02d 1%d:%02d:%02d", a.n*3, a.n%8, (a.n*23)%60, (a.n*37)%60)
	})
	p("weekday", "Day", func(a at) string { return []string{"Mon", "Tue", "Wed", "Thu", "Fri"}[a.n%5] })
	p("file", "File", func(a at) string { return fmt.Sprintf("video_%s_%d.mp4", a.who, a.n) })
	p("arm", "Arm", func(a at) string { return []string{"sim", "box"}[int(a.who[1])%2] })
	p("empty", "Remarks,", func(a at) string { return "," })
	for i, c := range []struct{ sep, head string }{{";", "Name;Durchgang;Zeit in Sekunden"}, {"\t", "Name\tDurchgang\tZeit in Sekunden"}, {",", "Name,Durchgang,Zeit in Sekunden"}} {
		number := comma
		if c.sep == "," {
			number = point
		}
		read(fmt.Sprint("11-plain-german-", i), "log.csv", "--trainee Name --attempt Durchgang --response Zeit~in~Sekunden --measure time --standard 90", lines(c.head, l, plain(c.sep, number)), l)
	}
	many := log(631, 20, "R01", "R02", "R03", "R04", "R05", "R06", "R07", "R08", "R09", "R10", "R11", "R12", "R13", "R14", "R15", "R16", "R17", "R18", "R19", "R20")
	read("11-plain-long-whole", "log.csv", usual, lines("Trainee,Attempt,Seconds", whole(many), plain(",", point)), whole(many))
	read("11-plain-long-five", "log.csv", usual, lines("Trainee,Attempt,Seconds", rounded(many, 5), plain(",", point)), rounded(many, 5))
	read("11-plain-long-arms", "log.csv", usual+" --arm Arm --limit 180", lines("Trainee,Attempt,Seconds,Arm", many, row8(func(a at) string { return []string{"A", "B"}[int(a.who[2])%2] })), with(many, func(a *at) {
		if a.value >= 180 {
			a.value, a.outcome = 180, "timeout"
		}
	}))
}
