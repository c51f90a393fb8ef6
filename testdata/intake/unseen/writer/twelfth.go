package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

// The twelfth set is of files as labs have them, with all that stands beside the times: half of them
// have one meaning, half hold an accident of the kind that happens to everybody.
func twelfth() {
	registers12()
	grids12()
	exports12()
	paper12()
	researchers12()
	scores12()
	times12()
	codes12()
	spreadsheets12()
	slips12()
	columns12()
	studies12()
	raters12()
	broken12()
}

// made12 makes up attempts whose times scatter by a factor, in tenths of a second.
func made12(seed, n int, who ...string) []at {
	var out []at
	r := uint64(seed)*0x9e3779b97f4a7c15 + 0x1234567
	next := func() float64 {
		r = r*6364136223846793005 + 1442695040888963407
		return float64(r>>33) / float64(1<<31)
	}
	for _, w := range who {
		start, plateau, rate := 120+90*next(), 45+30*next(), 0.25+0.4*next()
		for i := 1; i <= n; i++ {
			z := -6.0
			for range 12 {
				z += next()
			}
			v := (plateau + (start-plateau)*math.Exp(-rate*float64(i-1))) * math.Exp(0.12*z)
			out = append(out, at{w, i, math.Round(min(v, 285)*10) / 10, "done"})
		}
	}
	return out
}

// A table12 is a table as somebody keeps it: numbers, texts, days and empty cells.
type table12 [][]any

// made is a table with these names, parted by bars, and a row an attempt.
func made(head string, l []at, row func(a at) []any) table12 {
	t := table12{nil}
	for _, h := range strings.Split(head, "|") {
		t[0] = append(t[0], h)
	}
	for _, a := range l {
		t = append(t, row(a))
	}
	return t
}

// csv writes a table as text, days by this layout, decimals with this mark.
func (t table12) csv(sep, mark, day string) []byte {
	var b bytes.Buffer
	for _, r := range t {
		for i, c := range r {
			if i > 0 {
				b.WriteString(sep)
			}
			var s string
			switch v := c.(type) {
			case nil:
			case time.Time:
				s = v.Format(day)
			case float64:
				s = strings.ReplaceAll(fmt.Sprint(v), ".", mark)
			default:
				s = fmt.Sprint(v)
			}
			if strings.ContainsAny(s, sep+"\"\n") {
				s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
			}
			b.WriteString(s)
		}
		b.WriteString("\n")
	}
	return b.Bytes()
}

func (t table12) plain() []byte { return t.csv(",", ".", "2006-01-02") }

// book is the table as a sheet, from this row on.
func (t table12) book(sheet string, from int) *book {
	b := newBook(sheet)
	t.on(b, from)
	return b
}

func (t table12) on(b *book, from int) {
	for i, r := range t {
		b.row(fmt.Sprint("A", from+i), r...)
	}
}

// day12 is the k-th weekday of the course.
func day12(k int) time.Time {
	return time.Date(2026, 10, 5, 0, 0, 0, 0, time.UTC).AddDate(0, 0, k/5*7+k%5)
}

func pick12(k int, of ...string) string { return of[k%len(of)] }

func with12(files map[string][]byte, name string, data []byte) map[string][]byte {
	files[name] = data
	return files
}

const flags12 = "--trainee Trainee --attempt Attempt --response Time --measure time"

// registers12 are long lists that a coordinator keeps.
func registers12() {
	who := []string{"B-1041", "B-1044", "B-1052", "B-1060", "B-1063", "B-1071"}
	l := made12(1, 6, who...)
	names := map[string]string{"B-1041": "Ode, Ada", "B-1044": "Ruiz Mar, Inés", "B-1052": "Ode, Ben", "B-1060": "O'Shea, Fay", "B-1063": "van Os, Kim", "B-1071": "Łuk, Jan"}
	row := func(a at) []any {
		var remark any
		switch {
		case a.n == 2 && a.who == "B-1044":
			remark = "asked for a second gown"
		case a.n == 5 && a.who == "B-1063":
			remark = "very calm, good plan"
		}
		return []any{names[a.who], a.who, pick12(int(a.who[5]), "Tue", "Thu"), day12(a.n * 2), a.n, a.value, pick12(a.n, "KL", "MB"), remark}
	}
	t := made("Name|Badge no.|Group|Date|Attempt|Time (s)|Examiner|Remarks", l, row)
	b := newBook("Vein access")
	b.row("A1", "Skills lab – vein access course, autumn 2026")
	b.row("A2", "responsible: course office")
	t.on(b, 4)
	reg := "--trainee Badge~no. --attempt Attempt --response Time~(s) --measure time"
	read("12-register", "register.xlsx", reg, b.bytes(), l)
	read("12-register-csv", "register.csv", reg, t.csv(";", ",", "02/01/2006"), l)

	// the same, with what a year of use leaves behind
	b = newBook("Vein access")
	b.row("A1", "Skills lab – vein access course, autumn 2026")
	r := 3
	for i, row := range t {
		b.row(fmt.Sprint("A", r), row...)
		r++
		if i > 0 && i%6 == 0 && i < len(t)-1 {
			r++ // a blank row between people
		}
	}
	b.row(fmt.Sprint("A", r+1), "Signed:", nil, nil, "checked by course office")
	read("12-register-blank-rows", "register.xlsx", reg, b.bytes(), l)

	again := append(append(table12{}, t[:19]...), append(table12{t[0]}, t[19:]...)...)
	read("12-register-head-again", "register.csv", reg, again.plain(), l)

	de := made12(2, 7, "K01", "K02", "K03", "K04", "K05")
	dt := made("Kürzel|Kurs|Datum|Versuch|Zeit [s]|Punktionen|Bemerkung", de, func(a at) []any {
		var remark any
		if a.who == "K03" && a.n == 2 {
			remark = "Nadel fiel zu Boden; aufgehoben und weitergemacht"
		}
		return []any{a.who, "Herbst", day12(a.n), a.n, a.value, (a.n*3 + int(a.who[2])) % 4, remark}
	})
	deFlags := "--trainee Kürzel --attempt Versuch --response Zeit~[s] --measure time"
	read("12-register-german", "liste.csv", deFlags, append([]byte("\ufeff"), dt.csv(";", ",", "02.01.2006")...), de)
	read("12-register-german-1252", "liste.csv", deFlags+" --encoding windows-1252", encoded(charmap.Windows1252, dt.csv(";", ",", "02.01.2006")), de)

	fr := whole(made12(3, 5, "st-01", "st-02", "st-03", "st-04"))
	read("12-register-french", "suivi.csv", "--trainee Code --attempt Essai --response Temps --measure time", made("Code|Séance|Essai|Temps|Échecs|Remarque", fr, func(a at) []any {
		v := int(a.value)
		s := fmt.Sprintf("%d min %02d s", v/60, v%60)
		if v < 60 {
			s = fmt.Sprintf("%d s", v)
		}
		return []any{a.who, (a.n-1)/3 + 1, a.n, s, a.n % 2, nil}
	}).csv(";", ",", ""), fr)
	nl := made12(4, 6, "D11", "D12", "D14", "D15")
	read("12-register-dutch", "pogingen.tsv", "--trainee Deelnemer --attempt Poging --response Tijd~(sec) --measure time", made("Deelnemer|Poging|Tijd (sec)|Datum|Begeleider", nl, func(a at) []any {
		return []any{a.who, a.n, a.value, day12(a.n), pick12(a.n, "Vos", "Bos")}
	}).csv("\t", ",", "02-01-2006"), nl)
	it := made12(5, 6, "Allievo 1", "Allievo 2", "Allievo 3", "Allievo 4")
	read("12-register-italian", "prove.xlsx", "--trainee Allievo --attempt Prova --response Tempo --measure time", made("Allievo|Prova|Tempo|Note", it, func(a at) []any {
		return []any{a.who, a.n, comma(a.value), nil}
	}).book("Foglio1", 1).bytes(), it)
	read("12-register-ordinals", "log.csv", flags12, made("Trainee|Attempt|Time", l, func(a at) []any {
		return []any{a.who, pick12(a.n-1, "1st", "2nd", "3rd", "4th", "5th", "6th"), a.value}
	}).plain(), l)
	read("12-register-attempt-word", "log.csv", "--trainee Kürzel --attempt Versuch --response Zeit --measure time", made("Kürzel|Versuch|Zeit", de, func(a at) []any {
		return []any{a.who, fmt.Sprint(a.n, ". Versuch"), a.value}
	}).csv(";", ",", ""), de)
	read("12-register-name-once", "log.csv", flags12+" --fill-down Trainee", made("Trainee|Attempt|Time|Errors", l, func(a at) []any {
		var who any
		if a.n == 1 {
			who = a.who
		}
		return []any{who, a.n, a.value, a.n % 3}
	}).plain(), l)
	read("12-register-dates-for-numbers", "log.csv", "--trainee Trainee --date Date --response Time --measure time", made("Trainee|Date|Time", l, func(a at) []any {
		return []any{a.who, day12(a.n * 2), a.value}
	}).plain(), l)
	read("12-register-sessions", "log.csv", "--trainee Trainee --session Day --attempt Attempt --response Time --measure time", made("Trainee|Day|Attempt|Time", l, func(a at) []any {
		return []any{a.who, (a.n-1)/3 + 1, (a.n-1)%3 + 1, a.value}
	}).plain(), l)
	// absent people have a row
	absent := append(slices.Clone(t), []any{"Nu, Bo", "B-1080", "Tue", nil, nil, nil, nil, "did not come"}, []any{"Xi, Li", "B-1081", "Thu", nil, nil, nil, nil, "moved to spring"})
	read("12-register-absent", "register.csv", reg, absent.plain(), l)
}

// grids12 have a row a trainee, or a sheet.
func grids12() {
	who := []string{"Ada", "Ben", "Cleo", "Dan", "Eva"}
	l := made12(10, 8, who...)
	line := func(k, n int) []any {
		var r []any
		for i := range n {
			r = append(r, l[k*8+i].value)
		}
		return r
	}
	b := newBook("Times")
	b.row("A1", "Name", "Dept", "Year", "Run 1", "Run 2", "Run 3", "Run 4", "Run 5", "Run 6", "Run 7", "Run 8", "Best", "Average")
	for k, w := range who {
		r := k + 2
		b.row(fmt.Sprint("A", r), append([]any{w, pick12(k, "ED", "ICU"), k%3 + 1}, line(k, 8)...)...)
		formula12(b, fmt.Sprint("L", r), fmt.Sprintf("MIN(D%d:K%d)", r, r), least12(l[k*8:k*8+8]))
		formula12(b, fmt.Sprint("M", r), fmt.Sprintf("AVERAGE(D%d:K%d)", r, r), mean12(l[k*8:k*8+8]))
	}
	b.row("A8", "Class average")
	for i := range 8 {
		col := string(rune('D' + i))
		formula12(b, col+"8", fmt.Sprintf("AVERAGE(%s2:%s6)", col, col), (l[i].value+l[8+i].value+l[16+i].value+l[24+i].value+l[32+i].value)/5)
	}
	read("12-grid-best-average", "times.xlsx", "--trainee Name --response Run --measure time", kept12(b.bytes(), nil), l)

	// two heads: weeks, below them time and errors
	b = newBook("Log")
	b.row("A1", nil, "Week 1", nil, nil, nil, "Week 2")
	b.row("A2", nil, "Trial 1", nil, "Trial 2", nil, "Trial 1", nil, "Trial 2")
	b.row("A3", "Trainee", "Time", "Errors", "Time", "Errors", "Time", "Errors", "Time", "Errors")
	for _, m := range [][2]string{{"B1", "E1"}, {"F1", "I1"}, {"B2", "C2"}, {"D2", "E2"}, {"F2", "G2"}, {"H2", "I2"}} {
		must(b.MergeCell("Log", m[0], m[1]))
	}
	four := made12(11, 4, who...)
	for k, w := range who {
		r := []any{w}
		for i := range 4 {
			r = append(r, four[k*4+i].value, (k+i*2)%4)
		}
		b.row(fmt.Sprint("A", k+4), r...)
	}
	read("12-grid-three-heads", "log.xlsx", "--trainee Trainee --response Time --measure time", b.bytes(), four)

	b = newBook("Log")
	b.row("A1", "Trainee", "Time (s)")
	must(b.MergeCell("Log", "B1", "I1"))
	b.row("A2", nil, 1, 2, 3, 4, 5, 6, 7, 8)
	must(b.MergeCell("Log", "A1", "A2"))
	for k, w := range who {
		b.row(fmt.Sprint("A", k+3), append([]any{w}, line(k, 8)...)...)
	}
	read("12-grid-numbers-below-time", "log.xlsx", "--trainee Trainee --response Time~(s) --measure time", b.bytes(), l)

	read("12-grid-uneven", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		t := table12{{"Name", "Run 1", "Run 2", "Run 3", "Run 4", "Run 5", "Run 6", "Run 7", "Run 8"}}
		for k, w := range who {
			r := append([]any{w}, line(k, 8-k)...)
			for len(r) < 9 {
				r = append(r, nil)
			}
			t = append(t, r)
		}
		return t.plain()
	}(), only(l, func(a at) bool { return a.n <= 8-slices.Index(who, a.who) }))

	read("12-grid-people-as-columns", "times.csv", "--columns-are trainee --attempt Attempt --response Time --measure time", func() []byte {
		t := table12{{"Attempt", "Ada", "Ben", "Cleo", "Dan", "Eva"}}
		for i := range 8 {
			t = append(t, []any{i + 1, l[i].value, l[8+i].value, l[16+i].value, l[24+i].value, l[32+i].value})
		}
		return t.csv(";", ",", "")
	}(), l)

	// sheets
	b = nil
	for s, name := range []string{"Mon 5 Oct", "Mon 12 Oct"} {
		if b == nil {
			b = newBook(name)
		} else {
			b.next(name)
		}
		t := made("Trainee|Attempt|Time|Remarks", only(l, func(a at) bool { return (a.n-1)/4 == s }), func(a at) []any {
			return []any{a.who, a.n, a.value, nil}
		})
		b.row("A1", name)
		t.on(b, 3)
	}
	read("12-sheets-sessions-count-on", "log.xlsx", "--sheets-are session --trainee Trainee --attempt Attempt --response Time --measure time", b.bytes(), l)
	b = nil
	for k, w := range who {
		if b == nil {
			b = newBook(w)
		} else {
			b.next(w)
		}
		b.row("A1", "Trainee:", w)
		b.row("A2", "Examiner:", "M. Birch")
		b.row("A3", "Course:", "autumn 2026")
		t := made("Attempt|Date|Time (s)|Comment", l[k*8:k*8+8], func(a at) []any { return []any{a.n, day12(a.n), a.value, nil} })
		t.on(b, 5)
	}
	read("12-sheets-trainees", "log.xlsx", "--sheets-are trainee --attempt Attempt --response Time~(s) --measure time", b.bytes(), l)
	// one of them has one more sheet, an empty form
	b.next("Form")
	b.row("A1", "Trainee:")
	b.row("A2", "Examiner:")
	b.row("A3", "Course:")
	b.row("A5", "Attempt", "Date", "Time (s)", "Comment")
	for i := range 8 {
		b.row(fmt.Sprint("A", 6+i), i+1)
	}
	read("12-sheets-trainees-and-form", "log.xlsx", "--sheets-are trainee --attempt Attempt --response Time~(s) --measure time", b.bytes(), l)
	// and the name inside a sheet is not that of the sheet
	b = nil
	for k, w := range who {
		if b == nil {
			b = newBook(w)
		} else {
			b.next(w)
		}
		if w == "Dan" {
			b.row("A1", "Trainee:", "Cleo") // the sheet was copied, the name not changed
		} else {
			b.row("A1", "Trainee:", w)
		}
		t := made("Attempt|Date|Time (s)|Comment", l[k*8:k*8+8], func(a at) []any { return []any{a.n, day12(a.n), a.value, nil} })
		t.on(b, 3)
	}
	doubt("12-sheets-name-left", "log.xlsx", "--sheets-are trainee --attempt Attempt --response Time~(s) --measure time", b.bytes(), nil, "the sheet Dan says Trainee: Cleo")
	// a sheet copied and not filled in anew
	b = nil
	for k, w := range who {
		if b == nil {
			b = newBook(w)
		} else {
			b.next(w)
		}
		from := k
		if w == "Eva" {
			from = 1
		}
		made("Attempt|Time (s)", l[from*8:from*8+8], func(a at) []any { return []any{a.n, a.value} }).on(b, 1)
	}
	doubt("12-sheets-copied", "log.xlsx", "--sheets-are trainee --attempt Attempt --response Time~(s) --measure time", b.bytes(), nil, "the sheet Eva is Ben's")
	// one sheet has minutes
	b = nil
	for k, w := range who {
		if b == nil {
			b = newBook(w)
		} else {
			b.next(w)
		}
		made("Attempt|Time", l[k*8:k*8+8], func(a at) []any {
			if w == "Cleo" {
				return []any{a.n, math.Round(a.value/60*100) / 100}
			}
			return []any{a.n, a.value}
		}).on(b, 1)
	}
	doubt("12-sheets-one-in-minutes", "log.xlsx", "--sheets-are trainee --attempt Attempt --response Time --measure time", b.bytes(), nil, "the sheet Cleo is in minutes")
	// a roster of arms in another sheet, never joined
	b = newBook("Log")
	made("Trainee|Attempt|Time", l, longRow).on(b, 1)
	b.next("Allocation")
	b.row("A1", "Trainee", "Arm")
	for k, w := range who {
		b.row(fmt.Sprint("A", k+2), w, pick12(k, "spaced", "massed"))
	}
	read("12-sheets-allocation-apart", "log.xlsx", "--sheet Log "+flags12, b.bytes(), l)
	// days of a wide table, numbered anew
	doubt("12-grid-days-and-trials", "wide.csv", "--trainee Name --response D --measure time", func() []byte {
		t := table12{{"Name", "D1T1", "D1T2", "D1T3", "D1T4", "D2T1", "D2T2", "D2T3", "D2T4"}}
		for k, w := range who {
			t = append(t, append([]any{w}, line(k, 8)...))
		}
		return t.plain()
	}(), l, "days and trials in one name")
	doubt("12-grid-retention-column", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		t := table12{{"Name", "Run 1", "Run 2", "Run 3", "Run 4", "Run 5", "Run 6", "Run 7 (6 weeks later)"}}
		for k, w := range who {
			t = append(t, append([]any{w}, line(k, 7)...))
		}
		return t.plain()
	}(), nil, "run 7 is a retention test")
	doubt("12-grid-order-mixed", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		t := table12{{"Name", "Run 1", "Run 2", "Run 3", "Run 4", "Run 5", "Run 5", "Run 7", "Run 8"}}
		for k, w := range who {
			t = append(t, append([]any{w}, line(k, 8)...))
		}
		return t.plain()
	}(), nil, "Run 5 stands twice, the second is Run 6")
	doubt("12-grid-dnf", "wide.csv", "--trainee Name --response Run --measure time --limit 300", func() []byte {
		t := table12{{"Name", "Run 1", "Run 2", "Run 3", "Run 4", "Run 5", "Run 6", "Run 7", "Run 8"}}
		for k, w := range who {
			r := append([]any{w}, line(k, 8)...)
			if k%2 == 0 {
				r[1] = "stopped"
			}
			t = append(t, r)
		}
		return t.plain()
	}(), nil, "stopped: by the limit, or for another reason")
}

func mean12(l []at) float64 {
	s := 0.0
	for _, a := range l {
		s += a.value
	}
	return s / float64(len(l))
}

func least12(l []at) float64 {
	s := l[0].value
	for _, a := range l {
		s = min(s, a.value)
	}
	return s
}

// formula12 is a formula with the number it came to.
func formula12(b *book, cell, formula string, v any) {
	must(b.SetCellValue(b.sheet, cell, v))
	must(b.SetCellFormula(b.sheet, cell, formula))
}

// kept12 keeps what formulas came to as spreadsheet programs do: a number, or the text or error that stands for it here.
func kept12(data []byte, of map[int]string) []byte {
	return repacked(data, func(part, text string) string {
		if part != "xl/worksheets/sheet1.xml" {
			return text
		}
		text = strings.ReplaceAll(text, ` t="str"><f>`, `><f>`) // a number is not kept as a text
		for number, said := range of {
			kind := "str"
			if strings.HasPrefix(said, "#") {
				kind = "e"
			}
			cell := regexp.MustCompile(fmt.Sprintf(`<c ([^>]*)><f>([^<]*)</f><v>%d</v>`, number))
			text = cell.ReplaceAllString(text, fmt.Sprintf(`<c ${1} t="%s"><f>${2}</f><v>%s</v>`, kind, said))
		}
		return text
	})
}

// exports12 come out of programs.
func exports12() {
	who := []string{"a.ode@lab.example", "b.ruiz@lab.example", "c.os@lab.example", "d.luk@lab.example"}
	l := whole(made12(20, 5, who...))
	words12 := func(v float64) string {
		m, s := int(v)/60, int(v)%60
		switch {
		case m == 0:
			return fmt.Sprint(s, " secs")
		case m == 1:
			return fmt.Sprint("1 min ", s, " secs")
		}
		return fmt.Sprint(m, " mins ", s, " secs")
	}
	course := made("Surname|First name|E-mail|Try|Opened|Time taken|Mark/100", l, func(a at) []any {
		return []any{strings.ToUpper(a.who[2:3]) + a.who[3:5], strings.ToUpper(a.who[:1]) + "ma", a.who, a.n,
			day12(a.n).Add(9*time.Hour + time.Duration(a.n*7)*time.Minute), words12(a.value), 60 + a.n*5}
	})
	lms := "--trainee E-mail --attempt Try --response Time~taken --measure time"
	read("12-course-export", "export.csv", lms, course.csv(",", ".", "2 January 2006  3:04 PM"), l)
	end := append(slices.Clone(course), []any{"Overall average", nil, nil, nil, nil, words12(math.Round(mean12(l))), 72.5})
	read("12-course-export-average", "export.csv", lms, end.csv(",", ".", "2 January 2006  3:04 PM"), l)
	open := slices.Clone(course)
	open[12] = slices.Clone(open[12])
	open[12][5] = "5 days 2 hours"
	doubt("12-course-export-left-open", "export.csv", lms, open.csv(",", ".", "2 January 2006  3:04 PM"), nil, "one try was left open for five days")

	f := whole(made12(21, 5, "SK01", "SK02", "SK03", "SK04", "SK05"))
	m := minutes("%[1]d:%02[2]d")
	form := made("Timestamp|Your participant code|Which attempt is this?|Time on the stopwatch (mm:ss)|Did the cannula enter the vein?|Anything to add?", f, func(a at) []any {
		var more any
		if a.n == 3 && a.who == "SK02" {
			more = "Lights went off, \"romantic\"\nbut we went on"
		}
		return []any{day12(a.n).Add(10*time.Hour + time.Duration(int(a.who[3])*433+a.n*911)*time.Second), a.who, fmt.Sprint("Attempt ", a.n), m(a.value), pick12(a.n, "Yes", "Yes, second try"), more}
	})
	ff := "--trainee Your~participant~code --attempt Which~attempt~is~this? --response Time~on~the~stopwatch~(mm:ss) --measure time"
	read("12-form", "answers.csv", ff, form.csv(",", ".", "2006/01/02 3:04:05 pm"), f)
	twice := append(slices.Clone(form), slices.Clone(form[8]))
	twice[len(twice)-1][0] = day12(9)
	doubt("12-form-sent-twice", "answers.csv", ff, twice.csv(",", ".", "2006/01/02 3:04:05 pm"), nil, "SK02 sent attempt 3 twice")
	loose := slices.Clone(form)
	for i, c := range map[int]string{3: "sk01", 9: "SK 02", 14: "SK-03"} {
		loose[i] = slices.Clone(loose[i])
		loose[i][1] = c
	}
	doubt("12-form-codes-loose", "answers.csv", ff, loose.csv(",", ".", "2006/01/02 3:04:05 pm"), nil, "sk01, SK 02, SK-03 are SK01, SK02, SK03")
	wordy := slices.Clone(form)
	for i, c := range map[int]string{4: "about 2 minutes", 10: "1 min 20", 17: "forgot to look"} {
		wordy[i] = slices.Clone(wordy[i])
		wordy[i][3] = c
	}
	doubt("12-form-wordy", "answers.csv", ff, wordy.csv(",", ".", "2006/01/02 3:04:05 pm"), nil, "about 2 minutes; forgot to look")
	select12 := slices.Clone(form)
	for i := range select12 {
		select12[i] = slices.Clone(select12[i])
		if i == 6 {
			select12[i][2] = "Attempt 1, Attempt 2"
		}
	}
	doubt("12-form-two-ticked", "answers.csv", ff, select12.csv(",", ".", "2006/01/02 3:04:05 pm"), nil, "two attempts are ticked in one row")

	one := made12(22, 12, "")
	laps := made("Lap|Lap time|Total time", one, func(a at) []any {
		sum := 0.0
		for _, x := range one[:a.n] {
			sum += x.value
		}
		h := minutes("00:%02d:%02d.%d0")
		return []any{a.n, h(a.value), h(math.Round(sum*10) / 10)}
	})
	read("12-stopwatch-laps", "laps.csv", "--attempt Lap --response Lap~time --measure time", laps.plain(), one)
	doubt("12-stopwatch-total", "laps.csv", "--attempt Lap --response Total~time --measure time", laps.plain(), nil, "the total runs on from lap to lap")
	back := table12{laps[0]}
	for i := len(laps) - 1; i > 0; i-- {
		back = append(back, laps[i])
	}
	read("12-stopwatch-newest-above", "laps.csv", "--attempt Lap --response Lap~time --measure time", back.plain(), one)
	var noHead table12
	noHead = append(noHead, laps[1:]...)
	doubt("12-stopwatch-no-names", "laps.csv", "--attempt Lap --response Lap~time --measure time", noHead.plain(), one, "the file has no column names")

	v := made12(23, 5, "S01", "S02", "S03", "S04")
	var film table12
	film = append(film, []any{"Participant", "Trial", "Tier", "Begin", "End", "Duration (s)"})
	for _, a := range v {
		h := minutes("00:%02d:%02d.%d00")
		film = append(film, []any{a.who, a.n, "whole task", h(4.2), h(a.value + 4.2), a.value}, []any{a.who, a.n, "needle in tissue", h(10), h(10 + math.Round(a.value*3)/10), math.Round(a.value*3) / 10})
	}
	vf := "--trainee Participant --attempt Trial --response Duration~(s) --measure time"
	read("12-film-one-tier", "tiers.tsv", vf+" --where Tier=whole~task", film.csv("\t", ".", ""), v)
	doubt("12-film-all-tiers", "tiers.tsv", vf, film.csv("\t", ".", ""), nil, "each trial stands twice: the whole, and the needle in tissue")
	read("12-simulator", "metrics.csv", "--trainee UserID --attempt TrialNo --response TotalTime_s --measure time", func() []byte {
		t := table12{{"SessionGUID", "UserID", "TrialNo", "StartedAtUtc", "TotalTime_s", "PathLeft_mm", "PathRight_mm", "MaxForce_N", "Drops", "Smoothness", "Device", "Firmware", "Finished"}}
		for i, a := range v {
			t = append(t, []any{fmt.Sprintf("%08x-%04x", i*7919+13, i*31), a.who, a.n, day12(a.n).Add(time.Duration(8+i%5) * time.Hour).Format("2006-01-02T15:04:05Z"), a.value, 800 + i*37%400, 900 + i*53%500, math.Round(float64(i*29%50)) / 10, i % 3, math.Round(float64(i*17%97)) / 100, "BOX-2", "4.1.7", "TRUE"})
		}
		return t.plain()
	}(), v)
	doubt("12-simulator-not-finished", "metrics.csv", "--trainee UserID --attempt TrialNo --response TotalTime_s --measure time", func() []byte {
		t := table12{{"UserID", "TrialNo", "TotalTime_s", "Drops", "Finished"}}
		for i, a := range v {
			done := "TRUE"
			if i == 5 || i == 11 {
				done, a.value = "FALSE", math.Round(a.value*3)/10
			}
			t = append(t, []any{a.who, a.n, a.value, i % 3, done})
		}
		return t.plain()
	}(), nil, "two trials were not finished")
	// the simulator restarts a trial under the same number
	doubt("12-simulator-restart", "metrics.csv", "--trainee UserID --attempt TrialNo --response TotalTime_s --measure time", func() []byte {
		t := table12{{"UserID", "TrialNo", "StartedAt", "TotalTime_s"}}
		for i, a := range v {
			at := day12(a.n).Add(time.Duration(600+i) * time.Minute).Format("2006-01-02 15:04:05")
			if i == 7 {
				t = append(t, []any{a.who, a.n, at, 11.4})
				at = day12(a.n).Add(time.Duration(602+i) * time.Minute).Format("2006-01-02 15:04:05")
			}
			t = append(t, []any{a.who, a.n, at, a.value})
		}
		return t.plain()
	}(), nil, "trial 3 of S02 was restarted and stands twice")
	// user accounts of the lab itself
	doubt("12-simulator-demo-account", "metrics.csv", "--trainee UserID --attempt TrialNo --response TotalTime_s --measure time", func() []byte {
		t := table12{{"UserID", "TrialNo", "TotalTime_s", "Drops"}}
		for i, a := range append(made12(24, 2, "admin"), v...) {
			t = append(t, []any{a.who, a.n, a.value, i % 3})
		}
		return t.plain()
	}(), nil, "admin is an account of the lab")
}

// paper12 was written by hand first.
func paper12() {
	l := whole(made12(30, 5, "1", "2", "3", "4", "5", "6"))
	cand := "--trainee Cand. --attempt Try --response Time --measure time --limit 300"
	m := minutes("%[1]d:%02[2]d")
	row := func(f func(a at) string) func(a at) []any {
		return func(a at) []any {
			return []any{a.who, a.n, f(a), pick12(int(a.who[0]), "AB", "CD"), "P"}
		}
	}
	head := "Cand.|Try|Time|Ex.|P/F"
	read("12-paper", "forms.csv", cand, made(head, l, row(func(a at) string { return m(a.value) })).plain(), l)
	prime := minutes("%[1]d'%02[2]d\"")
	read("12-paper-primes", "forms.csv", cand, made(head, l, row(func(a at) string { return prime(a.value) })).plain(), l)
	read("12-paper-m-s-letters", "forms.csv", cand, made(head, l, row(func(a at) string { return minutes("%[1]dm%02[2]ds")(a.value) })).plain(), l)
	read("12-paper-0-or-not", "forms.csv", cand, made(head, l, row(func(a at) string {
		if a.n%2 == 0 {
			return minutes("0:%02[1]d:%02[2]d")(a.value)
		}
		return m(a.value)
	})).plain(), l)
	mixed := made(head, l, row(func(a at) string {
		if a.who == "4" || a.who == "5" {
			return fmt.Sprint(a.value)
		}
		return m(a.value)
	}))
	doubt("12-paper-seconds-beside-colons", "forms.csv", cand, mixed.plain(), l, "92 of one examiner beside 1:32 of the other")
	doubt("12-paper-fails", "forms.csv", cand, made(head, l, func(a at) []any {
		pf := "P"
		if (a.who == "2" || a.who == "5") && a.n == 1 || a.who == "3" && a.n == 2 {
			pf = "F"
		}
		return []any{a.who, a.n, m(a.value), "AB", pf}
	}).plain(), nil, "three attempts have F, and the column was not named")
	failed := with(l, func(a *at) {
		if (a.who == "2" || a.who == "5") && a.n == 1 || a.who == "3" && a.n == 2 {
			a.outcome = "failed"
		}
	})
	read("12-paper-fails-said", "forms.csv", cand+" --outcome P/F --code P=done --code F=failed", made(head, failed, func(a at) []any {
		return []any{a.who, a.n, m(a.value), "AB", pick12(len(a.outcome)-4, "P", "-", "F")}
	}).plain(), failed)
	doubt("12-paper-timed-out-blank", "forms.csv", cand, made(head+"|Notes", l, func(a at) []any {
		if a.n == 1 && (a.who == "2" || a.who == "6") {
			return []any{a.who, a.n, nil, "CD", "F", "ran out of time"}
		}
		return []any{a.who, a.n, m(a.value), "AB", "P", nil}
	}).plain(), nil, "blank times of attempts that ran out of time")
	over := with(l, func(a *at) {
		if a.n == 1 && (a.who == "2" || a.who == "6") {
			a.value, a.outcome = 300, "timeout"
		}
	})
	read("12-paper-over-limit", "forms.csv", cand, made(head, over, row(func(a at) string {
		if a.outcome == "timeout" {
			return ">5:00"
		}
		return m(a.value)
	})).plain(), over)
	read("12-paper-at-limit", "forms.csv", cand, made(head, over, row(func(a at) string { return m(a.value) })).plain(), over)
	doubt("12-paper-at-limit-unsaid", "forms.csv", strings.TrimSuffix(cand, " --limit 300"), made(head, with(over, func(a *at) {
		if a.n == 1 {
			a.value = 300
		}
	}), row(func(a at) string { return m(a.value) })).plain(), nil, "all first tries are 5:00: there was a limit")
	doubt("12-paper-99", "forms.csv", cand, made(head, l, row(func(a at) string {
		if a.n == 1 && a.who != "3" {
			return "99:99"
		}
		return m(a.value)
	})).plain(), nil, "99:99 is a code")
	doubt("12-paper-dashes", "forms.csv", cand, made(head, l, row(func(a at) string {
		if a.n == 2 && a.who == "3" {
			return "--:--"
		}
		return m(a.value)
	})).plain(), nil, "--:-- is a time not taken")
	doubt("12-paper-bracketed", "forms.csv", cand, made(head, l, row(func(a at) string {
		if a.n == 2 && a.who == "3" {
			return m(a.value) + " (glove tore)"
		}
		return m(a.value)
	})).plain(), nil, "a remark stands behind a time")
	doubt("12-paper-75-seconds", "forms.csv", cand, made(head, l, row(func(a at) string {
		if a.n == 3 && a.who == "3" {
			return "1:75"
		}
		return m(a.value)
	})).plain(), nil, "1:75 has 75 seconds")
	doubt("12-paper-digits", "forms.csv", cand, made(head, l, row(func(a at) string { return minutes("%[1]d%02[2]d")(a.value) })).plain(), nil, "132 is 1 min 32 s")
	doubt("12-paper-point", "forms.csv", cand, made(head, l, row(func(a at) string { return minutes("%[1]d.%02[2]d")(a.value) })).plain(), l, "1.32 is 1 min 32 s").Way = words("--times m.ss")
	doubt("12-paper-point-one-examiner", "forms.csv", cand, made(head, l, func(a at) []any {
		if a.who == "2" || a.who == "5" {
			return []any{a.who, a.n, minutes("%[1]d.%02[2]d")(a.value), "CD", "P"}
		}
		return []any{a.who, a.n, m(a.value), "AB", "P"}
	}).plain(), l, "1.32 of one examiner beside 1:32 of the other")
	doubt("12-paper-one-examiner-drops-minutes", "forms.csv", cand, made(head, l, func(a at) []any {
		if (a.who == "2" || a.who == "5") && a.value >= 60 {
			return []any{a.who, a.n, minutes(":%02[2]d")(a.value), "CD", "P"}
		}
		return []any{a.who, a.n, m(a.value), "AB", "P"}
	}).plain(), nil, ":32 may have lost its minute")
	doubt("12-paper-two-watches", "forms.csv", cand, made(head, l, func(a at) []any {
		return []any{a.who, a.n, m(a.value) + " / " + m(a.value+float64(a.n%2)), "AB", "P"}
	}).plain(), nil, "two watches in a cell")
	doubt("12-paper-number-skipped", "forms.csv", cand, made(head, l, func(a at) []any {
		n := a.n
		if a.who == "4" && a.n == 3 {
			n = 2
		}
		return []any{a.who, n, m(a.value), "AB", "P"}
	}).plain(), nil, "candidate 4 has try 2 twice and no try 3")
	doubt("12-paper-number-forgotten", "forms.csv", cand, made(head, l, func(a at) []any {
		if a.who == "4" && a.n == 3 {
			return []any{a.who, nil, m(a.value), "AB", "P"}
		}
		return []any{a.who, a.n, m(a.value), "AB", "P"}
	}).plain(), nil, "one try has no number")
	doubt("12-paper-candidate-forgotten", "forms.csv", cand, made(head, l, func(a at) []any {
		if a.who == "4" && a.n == 3 {
			return []any{nil, a.n, m(a.value), "AB", "P"}
		}
		return []any{a.who, a.n, m(a.value), "AB", "P"}
	}).plain(), nil, "one try has no candidate")
}

// researchers12 are files of people who compute.
func researchers12() {
	who := []string{"p101", "p102", "p103", "p104", "p105", "p106"}
	l := made12(40, 8, who...)
	arms := map[string]string{}
	for i, w := range who {
		arms[w] = pick12(i, "video", "tutor")
	}
	tidy := "--trainee id --attempt trial --response rt --measure time"
	t := made("|id|arm|trial|rt|errors|age|handed|sleep_h|nasa_tlx|comment", l, func(a at) []any {
		i := slices.Index(who, a.who)
		tlx := any(30 + (i*7+a.n*3)%40)
		if a.n%4 != 0 {
			tlx = "NA"
		}
		return []any{i*8 + a.n - 1, a.who, arms[a.who], a.n, a.value, (a.n + i) % 4, 22 + i, pick12(i, "right", "right", "left"), 6.5 + float64(i%3)/2, tlx, "NA"}
	})
	p := read("12-tidy", "data.csv", tidy+" --arm arm", t.plain(), l)
	p.Arms = arms
	gone := made("id|trial|rt|why", l, func(a at) []any {
		if a.who == "p103" && a.n == 4 {
			return []any{a.who, a.n, "NA", "camera off"}
		}
		return []any{a.who, a.n, a.value, "NA"}
	})
	doubt("12-tidy-na", "data.csv", tidy, gone.plain(), only(l, func(a at) bool { return a.who != "p103" || a.n != 4 }), "trial 4 of p103 has no time")
	read("12-tidy-ms", "data.csv", "--trainee id --attempt trial --response rt_ms --measure time --times milliseconds", made("id|trial|rt_ms", l, func(a at) []any {
		return []any{a.who, a.n, int(math.Round(a.value * 1000))}
	}).plain(), l)
	three := append(made("id|phase|trial|rt", l, func(a at) []any { return []any{a.who, "training", a.n, a.value} }),
		made("", made12(41, 2, who...), func(a at) []any { return []any{a.who, "retention", a.n, a.value} })[1:]...)
	read("12-tidy-phase-said", "data.csv", tidy+" --where phase=training", three.plain(), l)
	on := append(made("id|phase|trial|rt", l, func(a at) []any { return []any{a.who, "training", a.n, a.value} }),
		made("", made12(41, 2, who...), func(a at) []any { return []any{a.who, "retention", a.n + 8, a.value} })[1:]...)
	doubt("12-tidy-phase-counted-on", "data.csv", tidy, on.plain(), nil, "trials 9 and 10 are of a retention test")
	pilot := append(made("id|trial|rt|pilot", made12(42, 4, "p001", "p002"), func(a at) []any { return []any{a.who, a.n, a.value, 1} }),
		made("", l, func(a at) []any { return []any{a.who, a.n, a.value, 0} })[1:]...)
	doubt("12-tidy-pilot", "data.csv", tidy, pilot.plain(), nil, "p001 and p002 are of the pilot")
	doubt("12-tidy-excluded", "data.csv", tidy, made("id|trial|rt|exclude|reason", l, func(a at) []any {
		if a.n == 2 && (a.who == "p102" || a.who == "p105") {
			return []any{a.who, a.n, a.value, 1, "tool broke"}
		}
		return []any{a.who, a.n, a.value, 0, ""}
	}).plain(), nil, "two trials are excluded by a column")
	doubt("12-tidy-outliers-cut", "data.csv", tidy, made("id|trial|rt|rt_clean", l, func(a at) []any {
		clean := any(a.value)
		if a.value > 170 {
			clean = "NaN"
		}
		return []any{a.who, a.n, a.value, clean}
	}).plain(), nil, "rt_clean leaves out what rt has")
	doubt("12-tidy-log", "data.csv", tidy, made("id|trial|rt", l, func(a at) []any {
		return []any{a.who, a.n, math.Round(math.Log10(a.value)*1e4) / 1e4}
	}).plain(), nil, "rt is the logarithm of the time")
	doubt("12-tidy-two-tasks", "data.csv", tidy, made("id|task|trial|rt", l, func(a at) []any {
		return []any{a.who, pick12(a.n, "knot", "peg"), a.n, a.value}
	}).plain(), nil, "two tasks take turns")
	read("12-tidy-task-said", "data.csv", tidy+" --where task=peg", made("id|task|trial|rt", append(with(l, func(a *at) { a.outcome = "peg" }), with(made12(43, 8, who...), func(a *at) { a.outcome = "knot" })...), func(a at) []any {
		return []any{a.who, a.outcome, a.n, a.value}
	}).plain(), l)
	doubt("12-tidy-joined-twice", "data.csv", tidy, func() []byte {
		t := table12{{"id", "trial", "rt", "examiner", "global"}}
		for _, a := range l {
			for k, e := range []string{"Ash", "Elm"} {
				t = append(t, []any{a.who, a.n, a.value, e, 2 + (a.n+k)/3})
			}
		}
		return t.plain()
	}(), nil, "each trial stands twice, once for each examiner")
	read("12-tidy-lists", "data.csv", tidy, made("id|trial|rt|path", l, func(a at) []any {
		return []any{a.who, a.n, a.value, fmt.Sprintf("[%d, %d, %d]", a.n, a.n*2, a.n*3)}
	}).plain(), l)
	long := made12(44, 30, "r1", "r2", "r3", "r4", "r5", "r6", "r7", "r8", "r9", "r10", "r11", "r12", "r13", "r14", "r15")
	read("12-tidy-many", "data.csv", tidy, made("id|trial|rt", long, longRow).plain(), long)
	read("12-tidy-full-precision", "data.csv", tidy, made("id|trial|rt", with(l, func(a *at) { a.value = a.value + 0.000123456 }), longRow).plain(), with(l, func(a *at) { a.value = a.value + 0.000123456 }))
	read("12-tidy-from-zero", "data.csv", tidy+" --counted-from-zero", made("id|trial|rt", l, func(a at) []any { return []any{a.who, a.n - 1, a.value} }).plain(), l)
	read("12-tidy-experts-out", "data.csv", tidy+" --without level=consultant", made("id|level|trial|rt", append(slices.Clone(l), made12(45, 8, "c1", "c2")...), func(a at) []any {
		return []any{a.who, map[bool]string{true: "consultant", false: "novice"}[a.who[0] == 'c'], a.n, a.value}
	}).plain(), l)
	doubt("12-tidy-experts-in", "data.csv", tidy, made("id|level|trial|rt", append(slices.Clone(l), with(made12(45, 8, "c1", "c2"), func(a *at) { a.value = math.Round(400+a.value) / 10 })...), func(a at) []any {
		return []any{a.who, map[bool]string{true: "consultant", false: "novice"}[a.who[0] == 'c'], a.n, a.value}
	}).plain(), nil, "two consultants are among the trainees")
}

// scores12 are scores, counts, and passes.
func scores12() {
	l := with(made12(50, 6, "T1", "T2", "T3", "T4", "T5"), func(a *at) { a.value = math.Round(max(6, min(30, 34-a.value/7))) })
	f := "--trainee Trainee --attempt Attempt --response Score --measure score"
	read("12-score", "scores.csv", f, made("Trainee|Attempt|Score|Examiner", l, func(a at) []any { return []any{a.who, a.n, a.value, pick12(a.n, "Ash", "Elm")} }).plain(), l)
	item := func(a at, k int) int {
		v := int(a.value)
		return v/6 + map[bool]int{true: 1}[k < v%6]
	}
	read("12-score-items-and-total", "scores.csv", "--trainee Trainee --attempt Attempt --response Total --measure score", made("Trainee|Attempt|Respect|Motion|Handling|Flow|Plan|Tools|Total", l, func(a at) []any {
		r := []any{a.who, a.n}
		for k := range 6 {
			r = append(r, item(a, k))
		}
		return append(r, a.value)
	}).plain(), l)
	doubt("12-score-total-wrong", "scores.csv", "--trainee Trainee --attempt Attempt --response Total --measure score", made("Trainee|Attempt|Respect|Motion|Handling|Flow|Plan|Tools|Total", l, func(a at) []any {
		r := []any{a.who, a.n}
		for k := range 6 {
			r = append(r, item(a, k))
		}
		if a.who == "T3" && a.n == 4 {
			return append(r, a.value-10)
		}
		return append(r, a.value)
	}).plain(), nil, "one total is ten less than its items")
	read("12-score-of-30", "scores.csv", f, made("Trainee|Attempt|Score", l, func(a at) []any { return []any{a.who, a.n, fmt.Sprint(a.value, "/30")} }).plain(), l)
	doubt("12-score-of-two", "scores.csv", f, made("Trainee|Attempt|Score", l, func(a at) []any {
		if a.n > 3 {
			return []any{a.who, a.n, fmt.Sprint(a.value, "/30")}
		}
		return []any{a.who, a.n, fmt.Sprint(math.Round(a.value*25/30), "/25")}
	}).plain(), nil, "of 25 at first, then of 30")
	pc := with(l, func(a *at) { a.value = math.Round(a.value / 30 * 100) })
	read("12-score-percent", "scores.csv", f, made("Trainee|Attempt|Score", pc, func(a at) []any { return []any{a.who, a.n, fmt.Sprint(a.value, " %")} }).plain(), pc)
	doubt("12-score-letters", "scores.csv", f, made("Trainee|Attempt|Score", l, func(a at) []any {
		return []any{a.who, a.n, pick12(min(4, max(0, int(a.value)-16)/3), "E", "D", "C", "B", "A")}
	}).plain(), nil, "grades A to E are no numbers")
	doubt("12-score-not-rated", "scores.csv", f, made("Trainee|Attempt|Score", l, func(a at) []any {
		if a.n == 3 && a.who == "T2" {
			return []any{a.who, a.n, "not rated"}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "not rated").Way = words("--code not~rated=blank")
	doubt("12-score-zero", "scores.csv", f, made("Trainee|Attempt|Score", l, func(a at) []any {
		if a.n == 3 && (a.who == "T2" || a.who == "T4") {
			return []any{a.who, a.n, 0}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "a 0 on a scale from 6 to 30 is no score")
	c := with(made12(51, 6, "T1", "T2", "T3", "T4"), func(a *at) { a.value = math.Round(max(0, a.value/25-2)) })
	read("12-count", "errors.csv", "--trainee Trainee --attempt Attempt --response Errors --measure count", made("Trainee|Attempt|Errors", c, longRow).plain(), c)
	seconds := map[string][]float64{}
	for _, a := range made12(53, 6, "T1", "T2", "T3", "T4") {
		seconds[a.who] = append(seconds[a.who], a.value)
	}
	read("12-count-beside-time", "errors.csv", "--trainee Trainee --attempt Attempt --response Punctures --measure count", made("Trainee|Attempt|Seconds|Punctures", c, func(a at) []any { return []any{a.who, a.n, seconds[a.who][a.n-1], a.value} }).plain(), c)
	doubt("12-count-many", "errors.csv", "--trainee Trainee --attempt Attempt --response Errors --measure count", made("Trainee|Attempt|Errors", c, func(a at) []any {
		if a.n == 1 && a.who < "T3" {
			return []any{a.who, a.n, "many"}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "many is no number")
	p := with(made12(52, 8, "T1", "T2", "T3", "T4"), func(a *at) { a.value = map[bool]float64{true: 1}[a.value < 95] })
	pf := "--trainee Trainee --attempt Attempt --response Result --measure pass-fail"
	read("12-pass", "passes.csv", pf, made("Trainee|Attempt|Result", p, func(a at) []any { return []any{a.who, a.n, pick12(int(a.value), "fail", "pass")} }).plain(), p)
	read("12-pass-yes", "passes.csv", "--trainee Trainee --attempt Attempt --response Passed? --measure pass-fail", made("Trainee|Attempt|Passed?", p, func(a at) []any { return []any{a.who, a.n, pick12(int(a.value), "No", "Yes")} }).plain(), p)
	doubt("12-pass-german", "passes.csv", pf, made("Trainee|Attempt|Result", p, func(a at) []any { return []any{a.who, a.n, pick12(int(a.value), "nicht bestanden", "bestanden")} }).plain(), p, "bestanden may not be known")
	doubt("12-pass-borderline", "passes.csv", pf, made("Trainee|Attempt|Result", p, func(a at) []any {
		if a.n == 4 && a.who == "T2" {
			return []any{a.who, a.n, "borderline"}
		}
		return []any{a.who, a.n, pick12(int(a.value), "fail", "pass")}
	}).plain(), nil, "borderline is neither")
	doubt("12-pass-grid", "passes.csv", "--trainee Name --response Try --measure pass-fail", func() []byte {
		t := table12{{"Name", "Try 1", "Try 2", "Try 3", "Try 4", "Try 5", "Try 6", "Try 7", "Try 8"}}
		for k := range 4 {
			r := []any{fmt.Sprint("T", k+1)}
			for i := range 8 {
				r = append(r, pick12(int(p[k*8+i].value), "✗", "✓"))
			}
			t = append(t, r)
		}
		return t.plain()
	}(), p, "ticks and crosses may not be known")
	read("12-pass-grid-ones", "passes.csv", "--trainee Name --response Try --measure pass-fail", func() []byte {
		t := table12{{"Name", "Try 1", "Try 2", "Try 3", "Try 4", "Try 5", "Try 6", "Try 7", "Try 8", "Passed"}}
		for k := range 4 {
			r, s := []any{fmt.Sprint("T", k+1)}, 0
			for i := range 8 {
				r, s = append(r, int(p[k*8+i].value)), s+int(p[k*8+i].value)
			}
			t = append(t, append(r, s))
		}
		return t.plain()
	}(), p)
}

// times12 are times in spreadsheets.
func times12() {
	l := whole(made12(60, 6, "M1", "M2", "M3", "M4"))
	book12 := func(format string, of float64) *book {
		b := made("Trainee|Attempt|Time", l, func(a at) []any { return []any{a.who, a.n, a.value / of} }).book("Log", 1)
		b.format("C2", "C25", format)
		return b
	}
	read("12-cells-m-ss", "log.xlsx", flags12, book12("m:ss", 86400).bytes(), l)
	read("12-cells-hh-mm-ss", "log.xlsx", flags12, book12("hh:mm:ss", 86400).bytes(), l)
	read("12-cells-m-ss-tenths", "log.xlsx", flags12, book12("[m]:ss.0", 86400).bytes(), l)
	doubt("12-cells-h-mm-with-limit", "log.xlsx", flags12+" --limit 300", book12("h:mm", 1440).bytes(), l, "1:30 became an hour and a half, which the limit shows")
	doubt("12-cells-h-mm", "log.xlsx", flags12, book12("h:mm", 1440).bytes(), l, "1:30 became an hour and a half")
	some := book12("h:mm:ss", 86400)
	for i, a := range l {
		if a.who == "M3" {
			must(some.SetCellValue("Log", fmt.Sprint("C", i+2), a.value/1440))
		}
	}
	doubt("12-cells-h-mm-for-one", "log.xlsx", flags12+" --limit 300", some.bytes(), nil, "the times of M3 are hours and minutes that were minutes and seconds")
	some = book12("h:mm:ss", 86400)
	for i, a := range l {
		if a.who == "M2" {
			must(some.SetCellValue("Log", fmt.Sprint("C", i+2), a.value))
		}
	}
	doubt("12-cells-seconds-for-one", "log.xlsx", flags12, some.bytes(), l, "the times of M2 are plain seconds in cells that show hours")
	clock := made("Trainee|Attempt|Start|End|Time", l, func(a at) []any { return []any{a.who, a.n, nil, nil, nil} }).book("Log", 1)
	hms := "hh:mm:ss"
	for i, a := range l {
		r := i + 2
		begin := (9*3600 + float64(i)*420) / 86400
		must(clock.SetCellValue("Log", fmt.Sprint("C", r), begin))
		must(clock.SetCellValue("Log", fmt.Sprint("D", r), begin+a.value/86400))
		formula12(clock, fmt.Sprint("E", r), fmt.Sprintf("D%d-C%d", r, r), a.value/86400)
	}
	clock.format("C2", "E25", hms)
	read("12-cells-start-end", "log.xlsx", flags12, kept12(clock.bytes(), nil), l)
	begin := (12*3600 + 59*60 + 30) / 86400.0
	must(clock.SetCellValue("Log", "C9", begin))
	must(clock.SetCellValue("Log", "D9", begin+l[7].value/86400-0.5))
	formula12(clock, "E9", "D9-C9", l[7].value/86400-0.5)
	doubt("12-cells-end-before-start", "log.xlsx", flags12, kept12(clock.bytes(), nil), nil, "12:59 to 1:01 is a time below zero")
	empty := made("Trainee|Attempt|Minutes|Seconds|Time", l, func(a at) []any { return []any{a.who, a.n, int(a.value) / 60, int(a.value) % 60, nil} }).book("Log", 1)
	for i := range l {
		must(empty.SetCellFormula("Log", fmt.Sprint("E", i+2), fmt.Sprintf("C%d*60+D%d", i+2, i+2)))
	}
	doubt("12-cells-formula-never-computed", "log.xlsx", flags12, empty.bytes(), nil, "formulas whose results are not kept")
	bad := made("Trainee|Attempt|Time", l, longRow).book("Log", 1)
	formula12(bad, "C6", "F6-E6", 9001)
	formula12(bad, "C11", "VLOOKUP(A11,F:G,2,FALSE)", 9002)
	doubt("12-cells-error", "log.xlsx", flags12, kept12(bad.bytes(), map[int]string{9001: "#VALUE!", 9002: "#N/A"}), nil, "#VALUE! and #N/A among the times")
	hash := made("Trainee|Attempt|Time", l, func(a at) []any {
		if a.n == 1 && a.who == "M2" {
			return []any{a.who, a.n, "####"}
		}
		return []any{a.who, a.n, a.value}
	})
	doubt("12-cells-hashes", "log.csv", flags12, hash.plain(), nil, "#### is what a narrow column shows")
	var rows []string
	rows = append(rows, odsRow(odsText("Teilnehmer"), odsText("Versuch"), odsText("Zeit"), odsText("Datum"), odsText("Fehler")))
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)),
			fmt.Sprintf(`<table:table-cell office:value-type="time" office:time-value="PT00H%02dM%02dS"><text:p>%02d:%02d</text:p></table:table-cell>`, int(a.value)/60, int(a.value)%60, int(a.value)/60, int(a.value)%60),
			fmt.Sprintf(`<table:table-cell office:value-type="date" office:date-value="%s"><text:p>%s</text:p></table:table-cell>`, day12(a.n).Format("2006-01-02"), day12(a.n).Format("02.01.06")), odsNumber(float64(a.n%3))))
	}
	read("12-ods-german", "liste.ods", "--trainee Teilnehmer --attempt Versuch --response Zeit --measure time", ods(rows...), l)
	t := made12(61, 6, "M1", "M2", "M3", "M4")
	read("12-decimal-comma-text-some", "log.xlsx", flags12, made("Trainee|Attempt|Time", t, func(a at) []any {
		if a.who == "M3" {
			return []any{a.who, a.n, comma(a.value) + " "}
		}
		return []any{a.who, a.n, a.value}
	}).book("Log", 1).bytes(), t)
	doubt("12-two-keyboards", "log.csv", flags12, made("Trainee|Attempt|Time", t, func(a at) []any {
		if a.who > "M2" {
			return []any{a.who, a.n, comma(a.value)}
		}
		return []any{a.who, a.n, point(a.value)}
	}).csv(";", ".", ""), t, "decimal points and commas").Way = words("--decimal either")
	doubt("12-comma-in-comma-file", "log.csv", flags12, lines("Trainee,Attempt,Time", with(t, func(a *at) {
		if a.value == math.Trunc(a.value) {
			a.value += 0.5
		}
	}), plain(",", comma)), nil, "decimal commas in a file parted by commas")
	dec := with(l, func(a *at) { a.value = a.value - math.Mod(a.value, 3) })
	doubt("12-head-min", "log.csv", "--trainee Trainee --attempt Attempt --response Time~(min) --measure time", made("Trainee|Attempt|Time (min)", dec, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/60*100) / 100} }).plain(), dec, "decimal minutes")
	doubt("12-head-sec-cells-min", "log.csv", "--trainee Trainee --attempt Attempt --response Time~(s) --measure time --limit 300", made("Trainee|Attempt|Time (s)", dec, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/60*100) / 100} }).plain(), nil, "minutes under a head that says seconds")
	read("12-unit-in-cells", "log.csv", flags12, made("Trainee|Attempt|Time", t, func(a at) []any { return []any{a.who, a.n, point(a.value) + " s"} }).plain(), t)
	doubt("12-unit-in-cells-one-min", "log.csv", flags12, made("Trainee|Attempt|Time", t, func(a at) []any {
		if a.n == 1 && a.who == "M4" {
			return []any{a.who, a.n, fmt.Sprintf("%.2f min", a.value/60)}
		}
		return []any{a.who, a.n, point(a.value) + " s"}
	}).plain(), with(t, func(a *at) {
		if a.n == 1 && a.who == "M4" {
			a.value = math.Round(math.Round(a.value/60*100)/100*60*1000) / 1000
		}
	}), "one time is in minutes")
	doubt("12-o-for-zero", "log.csv", flags12, made("Trainee|Attempt|Time", l, func(a at) []any {
		if a.n == 2 && a.who == "M4" {
			return []any{a.who, a.n, "1O4"}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "1O4 has the letter O")
	doubt("12-tenfold", "log.csv", flags12, made("Trainee|Attempt|Time", t, func(a at) []any {
		if a.n == 5 && a.who == "M4" {
			return []any{a.who, a.n, a.value * 10}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "one decimal point is lost")
	doubt("12-negative", "log.csv", flags12, made("Trainee|Attempt|Time", t, func(a at) []any {
		if a.n == 5 && a.who == "M4" {
			return []any{a.who, a.n, -a.value}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "a time below zero")
	doubt("12-two-dots", "log.csv", flags12, made("Trainee|Attempt|Time", t, func(a at) []any {
		if a.n == 5 && a.who == "M4" {
			return []any{a.who, a.n, "67..4"}
		}
		return []any{a.who, a.n, a.value}
	}).plain(), nil, "67..4 is no number")
}

// codes12 are people's codes.
func codes12() {
	l := made12(70, 5, "C1", "C2", "C3", "C4", "C5")
	d := func(name, about string, f func(a at) any) {
		doubt("12-who-"+name, "log.csv", flags12, made("Trainee|Attempt|Time", l, func(a at) []any { return []any{f(a), a.n, a.value} }).plain(), nil, about)
	}
	to := func(of map[string]any) func(a at) any {
		return func(a at) any {
			if c, ok := of[a.who]; ok {
				return c
			}
			return a.who
		}
	}
	d("exponent", "a code such as 2E3 became 2.00E+03", to(map[string]any{"C1": "1A3", "C2": "2.00E+03", "C3": "3B1", "C4": "4D7", "C5": "5C2"}))
	d("long-numbers-cut", "student numbers were cut to 4.01234E+11, two people have one code", func(a at) any { return "4.0123" + pick12(int(a.who[1]), "1", "2", "3", "4") + "E+11" })
	d("month", "MAR2 became 2-Mar", to(map[string]any{"C1": "JOH1", "C2": "2-Mar", "C3": "ANK3", "C4": "PET1", "C5": "SOF2"}))
	d("transposed", "8241 and 8214 are one person", func(a at) any {
		c := map[string]string{"C1": "7310", "C2": "8241", "C3": "5562", "C4": "9027", "C5": "6148"}[a.who]
		if c == "8241" && a.n > 3 {
			return "8214"
		}
		return c
	})
	d("typo-name", "Jonson and Johnson are one person", func(a at) any {
		c := map[string]string{"C1": "Abara", "C2": "Johnson", "C3": "Keita", "C4": "Lund", "C5": "Moss"}[a.who]
		if c == "Johnson" && a.n == 4 {
			return "Jonson"
		}
		return c
	})
	d("order-of-names", "Fay Moss and Moss Fay are one person", func(a at) any {
		c := map[string]string{"C1": "Ada Abara", "C2": "Ben Johnson", "C3": "Cai Keita", "C4": "Dag Lund", "C5": "Fay Moss"}[a.who]
		if c == "Fay Moss" && a.n == 4 {
			return "Moss, Fay"
		}
		return c
	})
	d("married", "two codes with numbers that go on: Moss has 1 to 3, Reed 4 and 5", func(a at) any {
		c := map[string]string{"C1": "Abara", "C2": "Johnson", "C3": "Keita", "C4": "Lund", "C5": "Moss"}[a.who]
		if c == "Moss" && a.n > 3 {
			return "Reed"
		}
		return c
	})
	d("initials-of-two", "JM is Jon Moss and Jan Mik", to(map[string]any{"C1": "AB", "C2": "JM", "C3": "CK", "C4": "DL", "C5": "JM"}))
	d("unknown", "? is nobody", to(map[string]any{"C5": "?"}))
	d("test", "test is nobody", to(map[string]any{"C1": "test"}))
	names := map[string]string{"C1": "2026-P01", "C2": "2026-P02", "C3": "2026-P03", "C4": "2026-P04", "C5": "2026-P05"}
	renamed := func(m map[string]string) []at { return with(l, func(a *at) { a.who = m[a.who] }) }
	for _, c := range []struct {
		name string
		m    map[string]string
	}{
		{"year", names},
		{"zeros", map[string]string{"C1": "0007", "C2": "0012", "C3": "0031", "C4": "0107", "C5": "0112"}},
		{"names", map[string]string{"C1": "Ángel Ruiz", "C2": "Zoë Ost", "C3": "Bo O'Hara", "C4": "Ngu Yen-Lo", "C5": "Lê An"}},
		{"animals", map[string]string{"C1": "Otter", "C2": "Heron", "C3": "Lynx", "C4": "Moth", "C5": "Newt"}},
		{"siblings", map[string]string{"C1": "A. Reed", "C2": "B. Reed", "C3": "C. Reed", "C4": "A. Moss", "C5": "B. Moss"}},
	} {
		l := renamed(c.m)
		read("12-who-plain-"+c.name, "log.csv", flags12, made("Trainee|Attempt|Time", l, longRow).plain(), l)
	}
	ids := renamed(map[string]string{"C1": "0045120031", "C2": "0045120045", "C3": "0045120099", "C4": "0045121002", "C5": "0045121010"})
	read("12-who-plain-long-text", "log.xlsx", flags12, made("Trainee|Attempt|Time", ids, longRow).book("Log", 1).bytes(), ids)
	arms := map[string]string{"C1": "box", "C2": "headset", "C3": "box", "C4": "headset", "C5": "box"}
	read("12-arms", "log.csv", flags12+" --arm Group", made("Trainee|Group|Attempt|Time", l, func(a at) []any { return []any{a.who, arms[a.who], a.n, a.value} }).plain(), l).Arms = arms
	doubt("12-arms-one-row", "log.csv", flags12+" --arm Group", made("Trainee|Group|Attempt|Time", l, func(a at) []any {
		if a.who == "C3" && a.n == 4 {
			return []any{a.who, "headset", a.n, a.value}
		}
		return []any{a.who, arms[a.who], a.n, a.value}
	}).plain(), nil, "one row of C3 has the other arm")
	doubt("12-arms-total", "log.csv", flags12+" --arm Group", append(made("Trainee|Group|Attempt|Time", l, func(a at) []any { return []any{a.who, arms[a.who], a.n, a.value} }), []any{nil, "box", nil, 88.1}, []any{nil, "headset", nil, 91.7}).plain(), l, "two rows below are means of the arms")
}

// spreadsheets12 are of workbooks: what is beside, below, hidden, or marked.
func spreadsheets12() {
	l := made12(80, 6, "N1", "N2", "N3", "N4", "N5")
	t := made("Trainee|Attempt|Time", l, longRow)
	b := t.book("Log", 1)
	b.row("F1", "Mean", mean12(l))
	b.row("F2", "n", 30)
	read("12-book-summary-beside", "log.xlsx", flags12, b.bytes(), l)
	b = t.book("Log", 1)
	for i, c := range []string{"Trainee", "N1", "N2", "N3", "N4", "N5"} {
		if i == 0 {
			b.row("F1", c, "Best", "Mean")
			continue
		}
		b.row(fmt.Sprint("F", i+1), c, least12(l[i*6-6:i*6]), math.Round(mean12(l[i*6-6:i*6])*10)/10)
	}
	doubt("12-book-pivot-beside", "log.xlsx", flags12, b.bytes(), l, "a second table stands beside, with a column Trainee too")
	b = newBook("Summary")
	b.row("A1", "Trainee", "Attempt", "Time")
	for k := range 5 {
		b.row(fmt.Sprint("A", k+2), fmt.Sprint("N", k+1), 6, math.Round(mean12(l[k*6:k*6+6])*10)/10)
	}
	b.next("Data")
	t.on(b, 1)
	doubt("12-book-summary-first", "log.xlsx", flags12, b.bytes(), nil, "the first sheet, with the same names, is a summary; the attempts are in the second")
	b = t.book("2026", 1)
	b.next("2025")
	made("Trainee|Attempt|Time", made12(81, 6, "N1", "N2", "N3"), longRow).on(b, 1)
	doubt("12-book-two-years", "log.xlsx", flags12, b.bytes(), nil, "a sheet for each year, codes used anew")
	b = t.book("North", 1)
	b.next("South")
	made("Participant|Run|Seconds", made12(82, 6, "S1", "S2", "S3"), longRow).on(b, 1)
	doubt("12-book-two-sites", "log.xlsx", flags12, b.bytes(), nil, "the second sheet has more attempts under other names")
	b = t.book("Log", 1)
	must(b.AddComment("Log", excelize.Comment{Cell: "C9", Author: "lab", Text: "watch started late, about 10 s"}))
	doubt("12-book-comment", "log.xlsx", flags12, b.bytes(), nil, "a comment says that the watch started late")
	b = t.book("Log", 1)
	b.style(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFC7CE"}}}, "A9", "C9")
	b.style(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFC7CE"}}}, "A15", "C15")
	doubt("12-book-red-rows", "log.xlsx", flags12, b.bytes(), nil, "two rows are red, without a legend")
	b = t.book("Log", 1)
	for r := 2; r <= 31; r += 2 {
		b.style(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"EEF3FA"}}}, fmt.Sprint("A", r), fmt.Sprint("C", r))
	}
	read("12-book-bands", "log.xlsx", flags12, b.bytes(), l)
	b = t.book("Log", 1)
	for r := 2; r <= 31; r++ {
		if (r-2)/6%2 == 0 {
			b.style(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"EEF3FA"}}}, fmt.Sprint("A", r), fmt.Sprint("C", r))
		}
	}
	read("12-book-bands-by-person", "log.xlsx", flags12, b.bytes(), l)
	b = t.book("Log", 1)
	must(b.SetRowVisible("Log", 12, false))
	must(b.SetRowVisible("Log", 13, false))
	doubt("12-book-hidden-rows", "log.xlsx", flags12, b.bytes(), nil, "two rows are hidden")
	b = t.book("Log", 1)
	must(b.SetPanes("Log", &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	must(b.AutoFilter("Log", "A1:C31", nil))
	must(b.SetColWidth("Log", "A", "C", 18))
	read("12-book-filter-and-panes", "log.xlsx", flags12, b.bytes(), l)
	b = newBook("Log")
	b.row("A1", "Trainee", "Attempt", "Time", "Group")
	for i, a := range l {
		b.row(fmt.Sprint("B", i+2), a.n, a.value)
	}
	for k := range 5 {
		r := 2 + k*6
		must(b.SetCellValue("Log", fmt.Sprint("A", r), fmt.Sprint("N", k+1)))
		must(b.SetCellValue("Log", fmt.Sprint("D", r), pick12(k, "x", "y")))
		must(b.MergeCell("Log", fmt.Sprint("A", r), fmt.Sprint("A", r+5)))
		must(b.MergeCell("Log", fmt.Sprint("D", r), fmt.Sprint("D", r+5)))
	}
	merged := read("12-book-merged", "log.xlsx", flags12+" --arm Group", b.bytes(), l)
	merged.Arms = map[string]string{"N1": "x", "N2": "y", "N3": "x", "N4": "y", "N5": "x"}
	b = t.book("Log", 1)
	for i, a := range l {
		formula12(b, fmt.Sprint("A", i+2), fmt.Sprintf("VLOOKUP(E%d,Roster!A:B,2,FALSE)", i+2), 9000+int(a.who[1]-'0'))
	}
	doubt("12-book-lookup-failed", "log.xlsx", flags12, kept12(b.bytes(), map[int]string{9001: "N1", 9002: "N2", 9003: "N3", 9004: "#N/A", 9005: "N5"}), nil, "the code of one trainee was not found: #N/A")
	text := t.book("Log", 1)
	for i, a := range l {
		must(text.SetCellStr("Log", fmt.Sprint("B", i+2), fmt.Sprint(a.n)))
		must(text.SetCellStr("Log", fmt.Sprint("C", i+2), point(a.value)))
	}
	read("12-book-all-text", "log.xlsx", flags12, text.bytes(), l)
	b = t.book("Log", 1)
	b.row("A33", "Total attempts", 30)
	b.row("A34", "Mean time", nil, math.Round(mean12(l)*10)/10)
	read("12-book-totals", "log.xlsx", flags12, b.bytes(), l)
	b = t.book("Log", 1)
	b.row("A33", nil, nil, math.Round(mean12(l)*10)/10)
	doubt("12-book-mean-without-name", "log.xlsx", flags12, b.bytes(), l, "a mean without a name stands below")
	b = t.book("Log", 1)
	b.row("A34", "N2 attempt 4: needle bent, please leave out")
	doubt("12-book-note-below", "log.xlsx", flags12, b.bytes(), nil, "a note below says what to leave out")
	b = newBook("Log")
	b.row("A1", "All times in minutes.seconds (1.30 = 90 s)")
	made("Trainee|Attempt|Time", whole(l), func(a at) []any {
		return []any{a.who, a.n, float64(int(a.value)/60) + float64(int(a.value)%60)/100}
	}).on(b, 3)
	doubt("12-book-title-says-m-ss", "log.xlsx", flags12, b.bytes(), nil, "the title says how times are written")
}

// slips12 are accidents of copying, sorting, and saving.
func slips12() {
	l := made12(90, 6, "V1", "V2", "V3", "V4", "V5")
	t := made("Trainee|Attempt|Time|Errors", l, func(a at) []any { return []any{a.who, a.n, a.value, (a.n*5 + int(a.who[1])) % 4} })
	swap := func(i int, f func(r []any) []any) table12 {
		out := slices.Clone(t)
		out[i] = f(slices.Clone(out[i]))
		return out
	}
	doubt("12-slip-cells-swapped", "log.csv", flags12, swap(9, func(r []any) []any { r[2], r[3] = r[3], r[2]; return r }).plain(), nil, "time and errors are swapped in one row")
	doubt("12-slip-attempt-11", "log.csv", flags12, swap(7, func(r []any) []any { r[1] = 11; return r }).plain(), nil, "attempt 11 for 1: the numbers of V2 are 11, 2, 3, 4, 5, 6")
	doubt("12-slip-block-twice", "log.csv", flags12, append(slices.Clone(t), t[13:19]...).plain(), nil, "six rows were pasted twice")
	doubt("12-slip-block-twice-new-name", "log.csv", flags12, append(slices.Clone(t), made("", with(l[6:12], func(a *at) { a.who = "V6" }), func(a at) []any { return []any{a.who, a.n, a.value, (a.n*5 + int('2')) % 4} })[1:]...).plain(), nil, "V6 is a copy of V2")
	half := append(slices.Clone(t), made("", with(l[12:15], func(a *at) { a.n += 6 }), func(a at) []any { return []any{a.who, a.n, a.value, 1} })[1:]...)
	doubt("12-slip-three-rows-renumbered", "log.csv", flags12, half.plain(), nil, "attempts 7 to 9 of V3 are its first three again")
	read("12-slip-blank-columns", "log.csv", flags12, append(table12{{"Trainee", nil, "Attempt", nil, "Time", nil, nil}}, made("", l, func(a at) []any { return []any{a.who, nil, a.n, nil, a.value, nil, nil} })[1:]...).plain(), l)
	read("12-slip-trailing-commas", "log.csv", flags12, append(slices.Clone(t), []any{nil, nil, nil, nil}, []any{nil, nil, nil, nil}, []any{nil, nil, nil, nil}).plain(), l)
	two := append(slices.Clone(t[:16]), []any{"Trainee", "Errors", "Time", "Attempt"})
	for _, r := range t[16:] {
		two = append(two, []any{r[0], r[3], r[2], r[1]})
	}
	doubt("12-slip-columns-change-order", "log.csv", flags12, two.plain(), nil, "below the second head attempt and errors have changed places")
	rem := []byte("Trainee,Attempt,Time,Remark\n")
	for i, a := range l {
		r := ""
		if i == 8 {
			r = "slow start, then fine"
		}
		rem = append(rem, fmt.Sprintf("%s,%d,%v,%s\n", a.who, a.n, a.value, r)...)
	}
	doubt("12-slip-comma-in-remark", "log.csv", flags12, rem, l, "a remark with a comma and no quotes")
	front := []byte("Trainee,Remark,Attempt,Time\n")
	for i, a := range l {
		r := ""
		if i == 8 {
			r = "slow start, then fine"
		}
		front = append(front, fmt.Sprintf("%s,%s,%d,%v\n", a.who, r, a.n, a.value)...)
	}
	doubt("12-slip-comma-in-remark-before", "log.csv", flags12, front, nil, "a remark with a comma and no quotes moves what follows")
	whole24 := t.plain()
	doubt("12-slip-file-cut", "log.csv", flags12, whole24[:len(whole24)-6], nil, "the last line is cut off: its time has lost digits")
	doubt("12-slip-conflict", "log.csv", flags12, append(append([]byte(nil), bytes.Replace(whole24, []byte("V3,1"), []byte("<<<<<<< mine\nV3,1"), 1)...), ">>>>>>> theirs\n"...), nil, "marks of two versions of a file")
	read("12-slip-quoted-all", "log.csv", flags12, func() []byte {
		var b bytes.Buffer
		for _, r := range t {
			for i, c := range r {
				if i > 0 {
					b.WriteString(";")
				}
				s := fmt.Sprint(c)
				if v, ok := c.(float64); ok {
					s = comma(v)
				}
				b.WriteString(`"` + s + `"`)
			}
			b.WriteString("\r\n")
		}
		return b.Bytes()
	}(), l)
	read("12-slip-spaces", "log.txt", flags12, func() []byte {
		var b bytes.Buffer
		fmt.Fprintf(&b, "%-10s%-10s%-10s\n", "Trainee", "Attempt", "Time")
		for _, a := range l {
			fmt.Fprintf(&b, "%-10s%-10d%-10v\n", a.who, a.n, a.value)
		}
		return b.Bytes()
	}(), l)
	read("12-slip-printed-pages", "log.csv", flags12, func() []byte {
		t := table12{{"Suturing log, page 1 of 2", nil, nil}, {"Trainee", "Attempt", "Time"}}
		for i, a := range l {
			if i == 15 {
				t = append(t, []any{"Suturing log, page 2 of 2", nil, nil}, []any{"Trainee", "Attempt", "Time"})
			}
			t = append(t, []any{a.who, a.n, a.value})
		}
		return t.plain()
	}(), l)
	sorted := with(l, func(a *at) {})
	slices.SortStableFunc(sorted, func(a, b at) int { return int(a.value*10) - int(b.value*10) })
	read("12-slip-sorted-by-time", "log.csv", flags12, made("Trainee|Attempt|Time", sorted, longRow).plain(), l)
	only := make([]float64, len(l))
	for i, a := range l {
		only[i] = a.value
	}
	slices.Sort(only)
	doubt("12-slip-only-times-sorted", "log.csv", flags12, made("Trainee|Attempt|Time", l, func(a at) []any {
		return []any{a.who, a.n, only[slices.IndexFunc(l, func(b at) bool { return b.who == a.who && b.n == a.n })]}
	}).plain(), nil, "only the column of times was sorted")
	doubt("12-slip-rounded-for-one", "log.csv", flags12, made("Trainee|Attempt|Time", with(l, func(a *at) {
		if a.who == "V4" {
			a.value = math.Round(a.value/30) * 30
		}
	}), longRow).plain(), nil, "the times of V4 are half minutes")
}

// columns12 have columns beside that say what the time alone does not.
func columns12() {
	l := made12(100, 6, "H1", "H2", "H3", "H4", "H5")
	d := func(name, head, about string, f func(a at) any) {
		doubt("12-col-"+name, "log.csv", flags12, made("Trainee|Attempt|Time|"+head, l, func(a at) []any { return []any{a.who, a.n, a.value, f(a)} }).plain(), nil, about)
	}
	p := func(name, head string, f func(a at) any) {
		read("12-col-"+name, "log.csv", flags12, made("Trainee|Attempt|Time|"+head, l, func(a at) []any { return []any{a.who, a.n, a.value, f(a)} }).plain(), l)
	}
	k := func(a at) int { return a.n*3 + int(a.who[1]) }
	d("hand", "Hand", "both hands, three attempts each", func(a at) any { return pick12((a.n-1)/3, "dominant", "other") })
	d("valid", "Valid?", "two attempts are not valid", func(a at) any { return map[bool]string{true: "no", false: "yes"}[a.n == 3 && a.who < "H3"] })
	d("video-lost", "Notes", "a note says that an attempt does not count", func(a at) any {
		if a.n == 4 && a.who == "H2" {
			return "does not count - phone rang"
		}
		return nil
	})
	d("help", "Help given", "the tutor helped in first attempts", func(a at) any { return map[bool]string{true: "verbal", false: "none"}[a.n < 3] })
	d("hard-fail", "Hard fail", "two attempts were hard fails", func(a at) any { return map[bool]int{true: 1}[a.n == 1 && a.who < "H3"] })
	d("status", "Status", "aborted attempts among completed ones", func(a at) any {
		return map[bool]string{true: "aborted", false: "completed"}[a.n == 2 && (a.who == "H1" || a.who == "H4")]
	})
	d("level", "Level", "the task becomes harder after attempt 3", func(a at) any { return pick12((a.n-1)/3, "easy", "hard") })
	d("timeout-early", "Result", "a timeout long before the others' longest time", func(a at) any {
		return map[bool]string{true: "timeout", false: "ok"}[a.n == 5 && a.who == "H2"]
	})
	p("errors", "Errors", func(a at) any { return k(a) % 4 })
	p("room", "Room", func(a at) any { return pick12(int(a.who[1]), "2.14", "2.15") })
	p("examiner", "Examiner", func(a at) any { return pick12(int(a.who[1]), "Ash", "Elm", "Fir") })
	p("date", "Date", func(a at) any { return day12(a.n) })
	p("weight", "Body weight (kg)", func(a at) any { return 55 + int(a.who[1])%7*4 })
	p("confidence", "Confidence (1-5)", func(a at) any { return min(5, 1+a.n*2/3+k(a)%2) })
	p("remarks", "Remarks", func(a at) any {
		switch fmt.Sprint(a.who, a.n) {
		case "H14":
			return "calm"
		case "H25":
			return "good grip"
		case "H33":
			return "asked about needle angle"
		}
		return nil
	})
	p("consent", "Consent", func(a at) any { return "yes" })
	p("year-of-training", "Year of training", func(a at) any { return int(a.who[1])%5 + 1 })
	p("kit", "Kit no.", func(a at) any { return 300 + k(a)*7%41 })
	p("depth", "Depth (mm)", func(a at) any { return math.Round(120+float64(k(a)*13%50)) / 10 })
	p("goal-met", "Goal met", func(a at) any { return map[bool]string{true: "yes", false: "no"}[a.value < 80] })
	out := with(l, func(a *at) {
		if a.n == 1 && (a.who == "H2" || a.who == "H5") {
			a.value, a.outcome = 240, "timeout"
		}
	})
	read("12-outcome-english", "log.csv", flags12+" --limit 240 --outcome Result", made("Trainee|Attempt|Time|Result", out, func(a at) []any {
		return []any{a.who, a.n, a.value, pick12(len(a.outcome)-4, "done", "", "", "timeout")}
	}).plain(), out)
	doubt("12-outcome-spanish", "log.csv", flags12+" --limit 240 --outcome Resultado", made("Trainee|Attempt|Time|Resultado", out, func(a at) []any {
		return []any{a.who, a.n, a.value, pick12(len(a.outcome)-4, "superado", "", "", "tiempo agotado")}
	}).plain(), out, "superado and tiempo agotado are to be explained").Way = words("--code superado=done --code tiempo~agotado=timeout")
	read("12-outcome-time-blank", "log.csv", flags12+" --limit 240 --outcome Result", made("Trainee|Attempt|Time|Result", out, func(a at) []any {
		if a.outcome == "timeout" {
			return []any{a.who, a.n, nil, "timeout"}
		}
		return []any{a.who, a.n, a.value, "done"}
	}).plain(), out)
	doubt("12-outcome-contradicts", "log.csv", flags12+" --limit 240 --outcome Result", made("Trainee|Attempt|Time|Result", out, func(a at) []any {
		if a.who == "H3" && a.n == 4 {
			return []any{a.who, a.n, a.value, "timeout"}
		}
		return []any{a.who, a.n, a.value, a.outcome}
	}).plain(), nil, "a timeout at a third of the limit")
}

// studies12 are folders with a study file.
func studies12() {
	l := made12(110, 6, "J1", "J2", "J3", "J4", "J5")
	csv := made("trainee|attempt|seconds", l, longRow).plain()
	head := "title: Knots on a board\npurpose: research\ndecides: the head of the lab\nattempts:\n  file: log.csv\n"
	task := "tasks:\n  - name: knot\n    measure: time\n    column: seconds\n    unit: s\n    better: lower\n    limit: 300\n"
	put12 := func(verdict, name, about, yaml string, log []at, files map[string][]byte) *truth {
		t := put(verdict, "12-study-"+name, ".", "", nil, log, about)
		t.files = with12(files, "study.yaml", []byte(yaml))
		return t
	}
	files := func() map[string][]byte { return map[string][]byte{"log.csv": csv} }
	put12("read", "plain", "", head+task, l, files())
	put12("read", "windows-lines", "", strings.ReplaceAll("\ufeff"+head+task, "\n", "\r\n"), l, files())
	put12("doubt", "limit-in-minutes", "the limit 5 is in minutes, the times in seconds", strings.Replace(head+task, "limit: 300", "limit: 5", 1), nil, files())
	put12("doubt", "limit-with-unit", "limit: 300 s", strings.Replace(head+task, "limit: 300", "limit: 300 s", 1), l, files())
	put12("doubt", "limit-colon", "limit: 5:00", strings.Replace(head+task, "limit: 300", "limit: 5:00", 1), l, files())
	put12("doubt", "unit-min", "the study says minutes, the times are seconds", strings.Replace(head+task, "unit: s", "unit: min", 1), nil, files())
	put12("refuse", "tabs", "a tab before a key", strings.ReplaceAll(head+task, "    ", "\t"), nil, files())
	put12("refuse", "key-typed-wrong", "mesure is no key", strings.Replace(head+task, "measure:", "mesure:", 1), nil, files())
	put12("refuse", "column-not-there", "the column is seconds, not time", strings.Replace(head+task, "column: seconds", "column: time", 1), nil, files())
	put12("refuse", "file-not-there", "the file is not in the folder", strings.Replace(head+task, "log.csv", "logs.csv", 1), nil, files())
	put12("doubt", "better-wrong", "better: higher for a time", strings.Replace(head+task, "better: lower", "better: higher", 1), nil, files())
	put12("doubt", "standard-in-minutes", "a standard of 1.5 for times in seconds is never met", head+task+"    standard: {value: 1.5, method: by the course board, decided_by: the course board, decided_on: 2026-09-01}\n", nil, files())
	tasks := "tasks:\n  - name: knot\n    measure: time\n    column: seconds\n    unit: s\n    better: lower\n    limit: 300\n  - name: peg\n    measure: time\n    column: seconds\n    unit: s\n    better: lower\n    limit: 300\n"
	both := append(made("trainee|task|attempt|seconds", l, func(a at) []any { return []any{a.who, "knot", a.n, a.value} }),
		made("", made12(111, 6, "J1", "J2", "J3", "J4", "J5"), func(a at) []any { return []any{a.who, "peg", a.n, a.value} })[1:]...)
	put12("read", "two-tasks", "", head+tasks, l, map[string][]byte{"log.csv": both.plain()})
	named := slices.Clone(both)
	for i := 1; i < len(named); i++ {
		named[i] = slices.Clone(named[i])
		if i%7 == 0 {
			named[i][1] = strings.ToUpper(fmt.Sprint(named[i][1])[:1]) + fmt.Sprint(named[i][1])[1:] + " "
		}
	}
	put12("doubt", "tasks-spelled", "Knot and knot are one task", head+tasks, l, map[string][]byte{"log.csv": named.plain()})
	x := with(made12(112, 4, "E1", "E2", "E3", "E4"), func(a *at) { a.value = math.Round(350+a.value) / 10 })
	ex := func(f func(a at) float64) []byte {
		return made("expert|run|seconds", x, func(a at) []any { return []any{a.who, a.n, f(a)} }).plain()
	}
	yaml := head + "experts:\n  file: experts.csv\n" + task
	put12("read", "experts", "", yaml, l, with12(files(), "experts.csv", ex(func(a at) float64 { return a.value }))).Experts = x
	put12("doubt", "experts-in-minutes", "the experts' times are in minutes", yaml, nil, with12(files(), "experts.csv", ex(func(a at) float64 { return math.Round(a.value/60*100) / 100 })))
	put12("doubt", "experts-one-in-minutes", "the times of E3 are in minutes", yaml, nil, with12(files(), "experts.csv", ex(func(a at) float64 {
		if a.who == "E3" {
			return math.Round(a.value/60*100) / 100
		}
		return a.value
	})))
	put12("doubt", "experts-are-trainees", "J1 to J4 are trainees; the experts' file is a copy of the log", yaml, nil, with12(files(), "experts.csv", made("expert|run|seconds", l[:18], longRow).plain()))
	arms := map[string]string{"J1": "a", "J2": "b", "J3": "a", "J4": "b", "J5": "a"}
	armed := made("trainee|arm|attempt|seconds|outcome", l, func(a at) []any { return []any{a.who, arms[a.who], a.n, a.value, "done"} })
	put12("read", "arms", "", "arms: [a, b]\n"+head+task, l, map[string][]byte{"log.csv": armed.plain()}).Arms = arms
	three := slices.Clone(armed)
	for i := range three {
		three[i] = slices.Clone(three[i])
		if i > 24 {
			three[i][1] = "c"
		}
	}
	put12("doubt", "arm-not-named", "the arm c is not in the study file", "arms: [a, b]\n"+head+task, nil, map[string][]byte{"log.csv": three.plain()})
	put12("read", "columns-named", "", strings.Replace(head, "  file: log.csv\n", "  file: liste.csv\n  trainee: Kürzel\n  attempt: Versuch\n", 1)+strings.Replace(task, "column: seconds", "column: Zeit", 1), l,
		map[string][]byte{"liste.csv": made("Kürzel|Versuch|Zeit", l, longRow).csv(";", ",", "")})
}

// raters12 are ratings beside a log.
func raters12() {
	l := made12(120, 5, "Q1", "Q2", "Q3", "Q4")
	base := []int{2, 3, 4, 1, 5, 3, 2, 4, 5, 1, 3, 4, 2, 5, 3, 1}
	noise := []int{0, 1, 0, -1, 0, 0, 1, 0, -1, 1, 0, 0, 1, -1}
	score := func(s, r int) int { return min(5, max(1, base[s]+noise[(s*3+r*5)%14])) }
	name := []string{"Ash", "Elm", "Fir"}
	one := "ratings:\n  file: ratings.csv\n  subject: film\n  rater: judge\n  items:\n    - {name: flow, scale: ordinal}\n    - {name: tissue, scale: ordinal}\n"
	make12 := func(verdict, folder, about string, rows func(s, r int) [][]any) {
		t := put(verdict, "12-rate-"+folder, ".", "", nil, l, about)
		ratings := table12{{"film", "judge", "date", "flow", "tissue", "comment"}}
		for s := range 16 {
			for r := range 3 {
				ratings = append(ratings, rows(s, r)...)
				if verdict == "read" {
					for k, item := range []string{"flow", "tissue"} {
						t.Ratings = append(t.Ratings, [4]string{fmt.Sprintf("F%02d", s+1), name[r], item, fmt.Sprint(score(s, r+k))})
					}
				}
			}
		}
		study(t, one, map[string][]byte{"ratings.csv": ratings.plain()})
	}
	plainRow := func(s, r int) []any {
		return []any{fmt.Sprintf("F%02d", s+1), name[r], day12(s / 4), score(s, r), score(s, r+1), nil}
	}
	make12("read", "plain", "", func(s, r int) [][]any { return [][]any{plainRow(s, r)} })
	make12("read", "comments", "", func(s, r int) [][]any {
		row := plainRow(s, r)
		if s == 3 && r == 1 {
			row[5] = "hands shake, good plan"
		}
		return [][]any{row}
	})
	make12("doubt", "twice", "Elm rated F06 twice, differently", func(s, r int) [][]any {
		row := plainRow(s, r)
		if s == 5 && r == 1 {
			other := slices.Clone(row)
			other[2], other[3] = day12(9), 1+score(s, r)%5
			return [][]any{row, other}
		}
		return [][]any{row}
	})
	make12("doubt", "spelled", "Dr Ash, ash and Ash are one judge", func(s, r int) [][]any {
		row := plainRow(s, r)
		if r == 0 && s%4 == 1 {
			row[1] = "ash"
		} else if r == 0 && s%4 == 2 {
			row[1] = "Dr Ash"
		}
		return [][]any{row}
	})
	make12("doubt", "six", "a 6 on a scale of 1 to 5", func(s, r int) [][]any {
		row := plainRow(s, r)
		if s == 9 && r == 2 {
			row[3] = 6
		}
		return [][]any{row}
	})
	make12("doubt", "fifty-five", "55 typed for 5", func(s, r int) [][]any {
		row := plainRow(s, r)
		if s == 4 && r == 2 {
			row[3] = 55
		}
		return [][]any{row}
	})
	make12("doubt", "default-left", "Fir's tissue is always 3, as the form had it", func(s, r int) [][]any {
		row := plainRow(s, r)
		if r == 2 {
			row[4] = 3
		}
		return [][]any{row}
	})
	make12("doubt", "dash-and-na", "– and n/a among ratings", func(s, r int) [][]any {
		row := plainRow(s, r)
		if s == 2 && r == 1 {
			row[3] = "–"
		} else if s == 8 && r == 0 {
			row[4] = "n/a"
		}
		return [][]any{row}
	})
	make12("doubt", "words-in-score", "3 - good in a column of numbers", func(s, r int) [][]any {
		row := plainRow(s, r)
		if r == 2 {
			row[3] = fmt.Sprint(row[3], " - ", pick12(row[3].(int), "", "poor", "weak", "fair", "good", "very good"))
		}
		return [][]any{row}
	})
	make12("doubt", "film-code", "F7 and F07 are one film", func(s, r int) [][]any {
		row := plainRow(s, r)
		if r == 2 && s < 9 {
			row[0] = fmt.Sprint("F", s+1)
		}
		return [][]any{row}
	})
	make12("doubt", "mean-rows", "rows of a judge called consensus", func(s, r int) [][]any {
		row := plainRow(s, r)
		if r == 2 {
			return [][]any{row, {row[0], "consensus", row[2], (score(s, 0) + score(s, 1) + score(s, 2)) / 3, (score(s, 1) + score(s, 2) + score(s, 3)) / 3, nil}}
		}
		return [][]any{row}
	})
}

// broken12 are files that are not what their name says.
func broken12() {
	l := made12(130, 5, "Y1", "Y2", "Y3", "Y4")
	t := made("Trainee|Attempt|Time", l, longRow)
	var html bytes.Buffer
	html.WriteString("<html><head><meta charset=\"utf-8\"></head><body><table>\n")
	for _, r := range t {
		html.WriteString("<tr>")
		for _, c := range r {
			fmt.Fprintf(&html, "<td>%v</td>", c)
		}
		html.WriteString("</tr>\n")
	}
	html.WriteString("</table></body></html>\n")
	refuse("12-file-html-as-xls", "export.xls", flags12, html.Bytes(), "a web page under the name of a workbook: save it as XLSX or CSV")
	refuse("12-file-old-xls", "export.xls", flags12, append([]byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}, bytes.Repeat([]byte{0}, 1528)...), "an old workbook: save it as XLSX")
	refuse("12-file-locked", "log.xlsx", flags12, append([]byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}, bytes.Repeat([]byte{0}, 1528)...), "a workbook with a password, or an old one under a new name")
	book12 := t.book("Log", 1).bytes()
	doubt("12-file-xlsx-as-csv", "log.csv", flags12, book12, l, "a workbook under the name of a text file")
	doubt("12-file-csv-as-xlsx", "log.xlsx", flags12, t.plain(), l, "a text file under the name of a workbook")
	refuse("12-file-xlsx-cut", "log.xlsx", flags12, book12[:len(book12)/2], "a workbook that was cut off when it was copied")
	refuse("12-file-empty", "log.csv", flags12, nil, "an empty file")
	refuse("12-file-head-only", "log.csv", flags12, []byte("Trainee,Attempt,Time\n"), "no attempts")
	var z bytes.Buffer
	w := zip.NewWriter(&z)
	f, err := w.Create("log.csv")
	must(err)
	_, err = f.Write(t.plain())
	must(err)
	must(w.Close())
	refuse("12-file-zip", "log.zip", flags12, z.Bytes(), "an archive: unpack it")
}
