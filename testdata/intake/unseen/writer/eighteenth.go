package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

func scaled18(l []at, f float64) []at { return rounded(with(l, func(a *at) { a.value *= f }), 0.1) }

// failed18 marks some attempts as failed and some as stopped at the limit.
func failed18(l []at, limit float64) []at {
	i := 0
	return with(l, func(a *at) {
		i++
		switch {
		case i%17 == 3:
			a.outcome = "failed"
		case a.value > limit || a.n == 1 && i%3 == 1:
			a.value, a.outcome = limit, "timeout"
		}
	})
}

func serial18(t time.Time) float64 {
	return math.Round(t.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24)
}

func eighteenth() {
	cells18()
	sheets18()
	broken18()
	numbers18()
	columns18()
	people18()
	shapes18()
	plainer18()
	ratings18()
	studies18()
}

// cells18: what a cell of a spreadsheet holds and what it shows.
func cells18() {
	long := func(sheet string, head []any, l []at, value func(a at) any, format string) *book {
		b := newBook(sheet)
		b.log(head, l, func(a at) []any { return []any{a.who, a.n, value(a)} })
		if format != "" {
			b.format("C2", fmt.Sprint("C", len(l)+1), format)
		}
		return b
	}

	l := rounded(log(1801, 7, numbered("MAT%02d", 8)...), 1)
	read("18-elapsed-seconds-cells", "sutura.xlsx", "--trainee Matrona --attempt Intento --response Tiempo --measure time --limit 300",
		long("Sutura", []any{"Matrona", "Intento", "Tiempo"}, l, func(a at) any { return a.value / 86400 }, "[ss]").bytes(), l)

	l = rounded(log(1802, 6, numbered("GM-%02d", 7)...), 1)
	doubt("18-morning-hours", "crane.xlsx", "--trainee 교육생 --attempt 회차 --response 시간 --measure time --limit 300",
		long("기록", []any{"교육생", "회차", "시간"}, l, func(a at) any { return a.value / 1440 }, "h:mm AM/PM").bytes(), l,
		"column 시간: the cells are hours and minutes of a morning (1:38 AM); minutes and seconds were typed")

	l = rounded(log(1803, 6, numbered("VK%d", 8)...), 1)
	read("18-start-stop-formula", "infuus.xlsx", "--trainee Student --attempt Poging --response Duur --measure time --limit 300",
		office("18-start-stop-formula", "infuus.xlsx", func() []byte {
			b := newBook("Infuus")
			b.row("A1", "Student", "Poging", "Start", "Stop", "Duur")
			for i, a := range l {
				start := float64(9*3600+i*420) / 86400
				b.row(fmt.Sprint("A", i+2), a.who, a.n, start, start+a.value/86400)
				must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("D%d-C%d", i+2, i+2)))
			}
			b.format("C2", fmt.Sprint("D", len(l)+1), "hh:mm:ss")
			b.format("E2", fmt.Sprint("E", len(l)+1), "[m]:ss")
			return b.bytes()
		}()), l)

	l = rounded(log(1804, 5, numbered("NRB%d", 6)...), 1)
	doubt("18-over-midnight", "night.xlsx", "--trainee Midwife --attempt Try --response Taken --measure time",
		office("18-over-midnight", "night.xlsx", func() []byte {
			b := newBook("Night shift")
			b.row("A1", "Midwife", "Try", "Started", "Finished", "Taken")
			for i, a := range l {
				start := math.Mod(float64(22*3600+30*60+i*400), 86400)
				if i == 13 {
					start = 86400 - 41
				}
				b.row(fmt.Sprint("A", i+2), a.who, a.n, start/86400, math.Mod(start+a.value, 86400)/86400)
				must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("ROUND((D%d-C%d)*86400,0)", i+2, i+2)))
			}
			b.format("C2", fmt.Sprint("D", len(l)+1), "hh:mm:ss")
			b.format("E2", fmt.Sprint("E", len(l)+1), "0")
			return b.bytes()
		}()), l, "row 15: finished after midnight, so that Taken is far below zero")

	l = log(1805, 8, numbered("T%d", 9)...)
	b := newBook("Hoja1")
	b.row("A1", "CODIGO", "Intento 1", "Intento 2", "Intento 3", "Intento 4", "Intento 5", "Intento 6", "Intento 7", "Intento 8", "Media")
	end := b.wide(2, l, value)
	for r := 2; r < end; r++ {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("J", r), fmt.Sprintf("AVERAGE(B%d:I%d)", r, r)))
	}
	read("18-mean-never-calculated", "entrenador.xlsx", "--trainee CODIGO --measure time", b.bytes(), l)

	l = log(1806, 7, numbered("SF%02d", 8)...)
	b = newBook("Taul1")
	b.row("A1", "Koodi", "Yritys 1", "Yritys 2", "Yritys 3", "Yritys 4", "Yritys 5", "Yritys 6", "Yritys 7")
	b.wide(2, l, value)
	must(b.SetColVisible(b.sheet, "E", false))
	doubt("18-column-hidden", "solmut.xlsx", "--trainee Koodi --measure time", b.bytes(), l, "column E (Yritys 4) is hidden")

	l = log(1807, 6, "7", "8", "9", "10", "11", "12")
	shown := with(l, func(a *at) { a.who = fmt.Sprintf("PT-%02s", a.who) })
	b = newBook("Tuning")
	b.log([]any{"Tuner", "Attempt", "Seconds"}, l, func(a at) []any {
		var n int
		fmt.Sscan(a.who, &n)
		return []any{n, a.n, a.value}
	})
	b.format("A2", fmt.Sprint("A", len(l)+1), `"PT-"00`)
	read("18-codes-by-format", "unison.xlsx", "--trainee Tuner --attempt Attempt --response Seconds --measure time", b.bytes(), shown)

	l = log(1808, 6, numbered("CR%d", 6)...)
	b = newBook("Mac")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"operator", "lift", "day", "seconds"}, l, func(a at) []any {
		return []any{a.who, a.n, serial18(date(3, 2)) - 1462 + float64(7*(a.n-1)), a.value}
	})
	b.format("C2", fmt.Sprint("C", len(l)+1), "yyyy-mm-dd")
	read("18-epoch-1904", "lifts.xlsx", "--trainee operator --attempt lift --date day --response seconds --measure time", b.bytes(), l)

	l = log(1809, 6, numbered("DH%d", 7)...)
	b = long("Scaling", []any{"Hygienist", "Try", "Time s"}, l, func(a at) any {
		if a.who == "DH5" && a.n > 3 {
			return math.Round(a.value*10) / 1000
		}
		return a.value
	}, "")
	b.format("C29", "C31", "0.0%")
	doubt("18-percent-typed", "scaling.xlsx", "--trainee Hygienist --attempt Try --response Time~s --measure time --limit 300", b.bytes(), l,
		"rows 29 to 31: cells formatted as percent hold a hundredth of the seconds typed")

	l = log(1810, 6, numbered("OP%02d", 8)...)
	read("18-numbers-as-text", "pipetas.ods", "--trainee técnico --attempt intento --response segundos --measure time",
		office("18-numbers-as-text", "pipetas.ods", func() []byte {
			return long("Pipetas", []any{"técnico", "intento", "segundos"}, l, func(a at) any { return oneDigit(a.value) }, "").bytes()
		}()), l)

	l = log(1811, 5, numbered("3-%d", 8)...)
	b = newBook("Grupo 3")
	b.log([]any{"Código", "Intento", "Segundos"}, l, func(a at) []any {
		var n int
		fmt.Sscanf(a.who, "3-%d", &n)
		return []any{serial18(date(time.Month(n), 3)), a.n, a.value}
	})
	b.format("A2", fmt.Sprint("A", len(l)+1), "d-mmm")
	doubt("18-codes-turned-dates", "grupo3.xlsx", "--trainee Código --attempt Intento --response Segundos --measure time", b.bytes(), l,
		"column Código: the codes 3-1 to 3-8 (group and number) were turned into dates")

	l = rounded(log(1812, 6, numbered("FA%d", 7)...), 1)
	b = long("Bandage", []any{"Volunteer", "Round", "Time"}, l, func(a at) any {
		if a.who == "FA3" && a.n == 2 {
			return a.value / 86400
		}
		return a.value
	}, "")
	b.format("C15", "C15", "m:ss")
	doubt("18-clock-among-numbers", "bandage.xlsx", "--trainee Volunteer --attempt Round --response Time --measure time", b.bytes(), l,
		"row 15: a time of day (minutes and seconds, a part of a day) among seconds")

	l = log(1813, 6, numbered("IT%d", 8)...)
	read("18-exported-clock", "export.csv", "--trainee Saldatore --attempt Prova --response Tempo --measure time",
		officeFrom("18-exported-clock", "export.csv", ".xlsx", `csv:Text - txt - csv (StarCalc):59,34,76`, func() []byte {
			return long("Foglio1", []any{"Saldatore", "Prova", "Tempo"}, l, func(a at) any { return a.value / 86400 }, "mm:ss.0").bytes()
		}()), l)

	l = rounded(log(1814, 6, numbered("ZW%02d", 7)...), 1)
	read("18-clock-in-ods", "lassen.ods", "--trainee Lasser --attempt Naad --response Tijd --measure time --limit 300",
		office("18-clock-in-ods", "lassen.ods", func() []byte {
			return long("Blad1", []any{"Lasser", "Naad", "Tijd"}, l, func(a at) any { return a.value / 86400 }, "[mm]:ss").bytes()
		}()), l)

	l = log(1815, 7, numbered("CN%02d", 6)...)
	b = newBook("成绩")
	b.row("A1", "编号", "第1次", "第2次", "第3次", "第4次", "第5次", "第6次", "第7次")
	end = b.wide(2, l, value)
	must(b.SetCellFormula(b.sheet, "D4", "AVERAGE(C4,E4)"))
	doubt("18-formula-hole", "box.xlsx", "--trainee 编号 --measure time", partChanged(b.bytes(), "xl/worksheets/sheet1.xml", func(s string) string {
		i := strings.Index(s, `<f>AVERAGE`)
		j := i + strings.Index(s[i:], "</c>")
		return s[:i] + "<f>AVERAGE(C4,E4)</f>" + s[j:]
	}), without(l, func(a at) bool { return a.who == "CN03" && a.n == 3 }), "cell D4 is a formula (the mean of its neighbours) without a kept value")
}

// sheets18: how tables lie in workbooks.
func sheets18() {
	l := log(1820, 7, "Anders", "Britta", "Cecilia", "David", "Elsa", "Fredrik")
	b := newBook("Anders")
	for i, a := range l {
		if a.n == 1 && i > 0 {
			b.next(a.who)
		}
		if a.n == 1 {
			b.row("A1", "försök", "sekunder")
		}
		b.row(fmt.Sprint("A", a.n+1), a.n, a.value)
	}
	read("18-sheet-a-tuner", "stämning.xlsx", "--sheets-are trainee --attempt försök --response sekunder --measure time", b.bytes(), l)

	sessions := func(names [3]string, head []any, l []at) *book {
		b := newBook(names[0])
		for s, name := range names {
			if s > 0 {
				b.next(name)
			}
			b.row("A1", head...)
			row := 2
			for _, a := range l {
				if (a.n-1)/3 == s {
					b.row(fmt.Sprint("A", row), a.who, a.n-3*s, a.value)
					row++
				}
			}
		}
		return b
	}
	l = log(1821, 9, numbered("HU%d", 6)...)
	doubt("18-weeks-unsaid", "hetek.xlsx", "--trainee kód --attempt próba --response mp --measure time",
		sessions([3]string{"1. hét", "2. hét", "3. hét"}, []any{"kód", "próba", "mp"}, l).bytes(), l,
		"the workbook has three sheets alike, one a week; the first alone holds a third of the attempts")
	l = log(1822, 9, numbered("AN%d", 7)...)
	read("18-days-said", "airway.xlsx", "--sheets-are session --trainee assistant --attempt try --response seconds --measure time",
		sessions([3]string{"Day 1", "Day 2", "Day 3"}, []any{"assistant", "try", "seconds"}, l).bytes(), l)

	l = rounded(log(1823, 4, numbered("B%02d", 8)...), 1)
	b = newBook("Results")
	b.row("A1", "Trainee")
	must(b.MergeCell(b.sheet, "A1", "A2"))
	for n := 1; n <= 4; n++ {
		from := cellName(2*n, 1)
		to := cellName(2*n+1, 1)
		b.row(from, fmt.Sprint("Attempt ", n))
		must(b.MergeCell(b.sheet, from, to))
		under := cellName(2*n, 2)
		b.row(under, "Time (s)", "Errors")
	}
	for i, a := range l {
		cell := cellName(2*a.n, i/4+3)
		b.row(fmt.Sprint("A", i/4+3), a.who)
		b.row(cell, a.value, int(a.value)/40)
	}
	read("18-merged-heads", "box-trainer.xlsx", "--trainee Trainee --measure time", b.bytes(), l)

	l = log(1824, 6, numbered("κ%d", 7)...)
	b = newBook("Φύλλο1")
	b.row("A1", "", "Συνεδρία 1", nil, nil, "Συνεδρία 2")
	must(b.MergeCell(b.sheet, "B1", "D1"))
	must(b.MergeCell(b.sheet, "E1", "G1"))
	b.row("A2", "", 1, 2, 3, 4, 5, 6)
	b.row("A3", "Κωδικός", "s", "s", "s", "s", "s", "s")
	b.wide(4, l, value)
	read("18-three-rows-of-heads", "ράμματα.xlsx", "--trainee Κωδικός --measure time", b.bytes(), l)

	l = log(1825, 6, numbered("H%02d", 8)...)
	b = newBook("Munka1")
	b.row("A1", "kód", "1. kísérlet", "2. kísérlet", "3. kísérlet", "4. kísérlet", "5. kísérlet", "6. kísérlet")
	end := b.wide(2, l, value)
	mean, spread := []any{"Átlag"}, []any{"Szórás"}
	for n := 1; n <= 6; n++ {
		var sum, squares float64
		for _, a := range l {
			if a.n == n {
				sum += a.value
				squares += a.value * a.value
			}
		}
		mean = append(mean, math.Round(sum/8*10)/10)
		spread = append(spread, math.Round(math.Sqrt((squares-sum*sum/8)/7)*10)/10)
	}
	b.row(fmt.Sprint("A", end), mean...)
	b.row(fmt.Sprint("A", end+1), spread...)
	read("18-mean-rows-of-another-tongue", "fogászat.xlsx", "--trainee kód --measure time", b.bytes(), l)

	l = log(1826, 5, numbered("E%02d", 7)...)
	b = newBook("Subtotales")
	b.row("A1", "Equipo", "Partida", "Segundos")
	row, sum, overall := 2, 0.0, 0.0
	for _, a := range l {
		b.row(fmt.Sprint("A", row), a.who, a.n, a.value)
		row, sum, overall = row+1, sum+a.value, overall+a.value
		if a.n == 5 {
			b.row(fmt.Sprint("A", row), "Promedio "+a.who, nil, math.Round(sum*2)/10)
			row, sum = row+1, 0
		}
	}
	b.row(fmt.Sprint("A", row), "Promedio general", nil, math.Round(overall/35*10)/10)
	read("18-subtotal-rows", "club.xlsx", "--trainee Equipo --attempt Partida --response Segundos --measure time", b.bytes(), l)

	l = log(1827, 8, numbered("L%d", 7)...)
	gone := func(a at) bool { return a.who == "L4" && a.n == 5 }
	left := without(l, gone)
	doubt("18-blank-in-the-middle", "labo.ods", "--trainee Code --measure time",
		office("18-blank-in-the-middle", "labo.ods", func() []byte {
			b := newBook("Labo")
			b.row("A1", "Code", "Essai 1", "Essai 2", "Essai 3", "Essai 4", "Essai 5", "Essai 6", "Essai 7", "Essai 8")
			b.wide(2, with(l, func(a *at) {
				if gone(*a) {
					a.value = -1
				}
			}), func(a at) any {
				if a.value < 0 {
					return nil
				}
				return a.value
			})
			return b.bytes()
		}()), left, "cell F5 (L4, Essai 5) is blank although attempts follow")

	l = log(1828, 6, numbered("AU%d", 8)...)
	b = newBook("Sheet1")
	b.row("A1", "Code", "Trial 1", "Trial 2", "Trial 3", "Trial 3", "Trial 5", "Trial 6")
	b.wide(2, l, value)
	doubt("18-head-twice", "knots.xlsx", "--trainee Code --measure time", b.bytes(), l, "columns D and E are both named Trial 3; E is the fourth")

	l = log(1829, 6, numbered("A%d", 6)...)
	b = newBook("Μαίες")
	b.log([]any{"Κωδικός", "Προσπάθεια", "Χρόνος"}, l, func(a at) []any {
		who := a.who
		if a.who == "A2" && a.n > 3 {
			who = "Α2" // typed on a Greek keyboard
		}
		return []any{who, a.n, a.value}
	})
	doubt("18-greek-letter", "μαίες.xlsx", "--trainee Κωδικός --attempt Προσπάθεια --response Χρόνος --measure time", b.bytes(), l,
		"trainee A2: from attempt 4 on the code is written with a Greek Alpha, which looks the same")

	l = rounded(log(1830, 6, numbered("PV%d", 7)...), 1)
	b = newBook("Registro")
	b.row("A1", "Primeros auxilios: colocación de torniquete")
	b.row("A2", "Sede Puebla, primavera de 2026")
	b.row("A4", "Voluntario", "Ensayo", "Tiempo (s)")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+5), a.who, a.n, a.value)
	}
	b.row(fmt.Sprint("A", len(l)+7), "Nota: el tiempo corre desde la señal hasta que se levanta la mano.")
	b.row(fmt.Sprint("A", len(l)+8), "Cronómetros revisados en enero.")
	read("18-title-and-notes", "torniquete.xlsx", "--trainee Voluntario --attempt Ensayo --response Tiempo~(s) --measure time", b.bytes(), l)

	l = log(1831, 8, "Kim", "Lee", "Park", "Choi", "Jung", "Han")
	b = newBook("기록")
	b.row("A1", "회차", "Kim", "Lee", "Park", "Choi", "Jung", "Han")
	for i, a := range l {
		b.row(fmt.Sprint("A", a.n+1), a.n)
		b.put(i/8+2, a.n+1, a.value)
	}
	read("18-column-a-trainee", "주사.xlsx", "--columns-are trainee --attempt 회차 --measure time", b.bytes(), l)

	l = log(1832, 6, numbered("KE%02d", 7)...)
	b = newBook("Data")
	b.row("C6", "welder", "attempt", "seconds")
	for i, a := range l {
		b.row(fmt.Sprint("C", i+7), a.who, a.n, a.value)
	}
	read("18-table-away-from-the-corner", "fillet.xlsx", "--trainee welder --attempt attempt --response seconds --measure time", b.bytes(), l)

	l = log(1833, 5, numbered("G%02d", 8)...)
	b = newBook("Gruppi")
	b.row("A1", "Allievo", "Prova", "Secondi", nil, "Allievo", "Prova", "Secondi")
	for i, a := range l {
		place := fmt.Sprint("A", i+2)
		if i >= 20 {
			place = fmt.Sprint("E", i-18)
		}
		b.row(place, a.who, a.n, a.value)
	}
	doubt("18-two-tables-beside", "gruppi.xlsx", "--trainee Allievo --attempt Prova --response Secondi --measure time", b.bytes(), l,
		"two tables stand beside each other, the second (G05 to G08) in columns E to G")

	l = log(1834, 8, numbered("X%d", 8)...)
	b = newBook("Crossover")
	i := 0
	b.log([]any{"id", "attempt", "device", "seconds"}, l, func(a at) []any {
		i++
		first := (i-1)/8%2 == 0
		if (a.n <= 4) == first {
			return []any{a.who, a.n, "box", a.value}
		}
		return []any{a.who, a.n, "screen", a.value}
	})
	doubt("18-crossover", "crossover.xlsx", "--trainee id --attempt attempt --arm device --response seconds --measure time", b.bytes(), l,
		"column device changes within each trainee after attempt 4: it is no arm that they were assigned to")

	l = log(1835, 6, numbered("EG%d", 7)...)
	b = newBook("اقرأني")
	b.row("A1", "بيانات تدريب القابلات، ربيع 2026")
	b.row("A2", "الجدول في الورقة التالية")
	b.next("البيانات")
	b.log([]any{"الرمز", "المحاولة", "الثواني"}, l, longRow)
	read("18-data-on-the-second-sheet", "القابلات.xlsx", "--sheet البيانات --trainee الرمز --attempt المحاولة --response الثواني --measure time", b.bytes(), l)

	l = log(1836, 6, numbered("OL%02d", 8)...)
	b = newBook("Export")
	hundredths := func(v float64) float64 { return math.Round(v/0.6) / 100 }
	b.log([]any{"Läkarkod", "Försök", "Tid (min)"}, l, func(a at) []any { return []any{a.who, a.n, hundredths(a.value)} })
	read("18-minutes-in-the-head", "lådan.xlsx", "--trainee Läkarkod --attempt Försök --response Tid~(min) --measure time", b.bytes(),
		with(l, func(a *at) { a.value = math.Round(hundredths(a.value)*600) / 10 }))

	l = log(1837, 6, numbered("M%02d", 8)...)
	b = newBook("Base")
	b.log([]any{"Clave", "Grupo", "Vez", "Segundos"}, l, func(a at) []any {
		group := "Pelvis"
		if a.who > "M04" {
			group = "Vídeo"
		}
		return []any{a.who, group, a.n, a.value}
	})
	must(b.AutoFilter(b.sheet, "A1:D49", []excelize.AutoFilterOptions{{Column: "B", Expression: "x == Pelvis"}}))
	for r := 26; r <= 49; r++ {
		must(b.SetRowVisible(b.sheet, r, false))
	}
	doubt("18-filter-left-on", "parto.xlsx", "--trainee Clave --attempt Vez --response Segundos --measure time", b.bytes(), l,
		"rows 26 to 49 (M05 to M08) are hidden by a filter on Grupo")
}

// broken18: workbooks and other files that cannot be read.
func broken18() {
	l := log(1840, 6, numbered("W%d", 8)...)
	whole := func() *book {
		b := newBook("Data")
		b.log([]any{"id", "attempt", "seconds"}, l, longRow)
		return b
	}
	flags := "--trainee id --attempt attempt --response seconds --measure time"
	data := whole().bytes()
	refuse("18-half-downloaded", "welding.xlsx", flags, data[:len(data)*3/5], "the workbook is cut off: its end is missing")
	var locked bytes.Buffer
	must(whole().Write(&locked, excelize.Options{Password: "torch"}))
	refuse("18-locked", "locked.xlsx", flags, locked.Bytes(), "the workbook is locked with a password")
	refuse("18-old-format", "seams.xlsx", flags, officeFrom("18-old-format", "seams.xlsx", ".xlsx", "xls", whole().bytes()),
		"a workbook of the old .xls format named .xlsx")
	refuse("18-control-character", "robot.xlsx", flags, partChanged(data, "xl/sharedStrings.xml", func(s string) string {
		return strings.Replace(s, "W3", "W3\x0b", 1)
	}), "a control character within a part of the workbook")
	refuse("18-sheet-cut-short", "rescued.xlsx", flags, partChanged(data, "xl/worksheets/sheet1.xml", func(s string) string {
		return s[:strings.Index(s, `<c r="B31"`)+8]
	}), "the part that holds the sheet breaks off within row 31")
	refuse("18-cell-reference", "script.xlsx", flags, partChanged(data, "xl/worksheets/sheet1.xml", func(s string) string {
		return strings.Replace(s, `r="C9"`, `r="9C"`, 1)
	}), "a cell whose place is written 9C")
	b := newBook("Log")
	b.row("A1", "id", "attempt", "start", "stop", "seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), a.who, a.n, 300*i, 300*i+int(a.value))
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("D%d-C%d", i+2, i+2)))
	}
	refuse("18-time-never-calculated", "rig.xlsx", flags, b.bytes(), "column seconds holds formulas that were never calculated")
	refuse("18-sign-in-page", "download.csv", flags, []byte("<!DOCTYPE html>\n<html lang=\"nl\">\n<head><meta charset=\"utf-8\"><title>Aanmelden</title></head>\n<body><h1>Uw sessie is verlopen</h1>\n<p>Meld u opnieuw aan om het bestand op te halen.</p></body>\n</html>\n"),
		"a web page (sign in again) saved as .csv")
	refuse("18-records-named-csv", "api.csv", flags, append(append([]byte("[\n"), bytes.TrimSuffix(bytes.TrimPrefix(lines("", l, func(a at) string {
		return fmt.Sprintf(`  {"id": %q, "attempt": %d, "seconds": %v},`, a.who, a.n, a.value)
	}), []byte("\n")), []byte(",\n"))...), "\n]\n"...), "JSON records named .csv")
	refuse("18-pointer", "attempts.parquet", flags, []byte("version https://git-lfs.github.com/spec/v1\noid sha256:4d7a214614ab2935c943f9e0ff69d22eadbb8f32b1258daaa5e2ca24d17e2393\nsize 18422\n"),
		"a pointer of a version store, not the Parquet file itself")
	text := string(lines("id,attempt,seconds", l, plain(",", point)))
	cut := strings.Index(text, "W4,1,")
	refuse("18-unfinished-merge", "merged.csv", flags, []byte(text[:cut]+"<<<<<<< HEAD\nW4,1,141.2\n=======\nW4,1,114.2\n>>>>>>> bench-2\n"+text[cut+strings.Index(text[cut:], "\n")+1:]),
		"lines 20 to 24: two versions of a row with the marks of an unfinished merge")
}

// numbers18: how times and other values are written.
func numbers18() {
	l := log(1850, 6, numbered("AF%d", 6)...)
	doubt("18-comma-in-remarks", "linea.csv", "--trainee id --attempt intento --response tiempo --measure time",
		lines("id,intento,tiempo,obs", l, plain(",", oneDigitComma)), l,
		"each time has a decimal comma in a file parted by commas: the tenths stand in the column obs")

	l = log(1851, 7, numbered("Kätilö %d", 6)...)
	read("18-quoted-comma", "kätilöt.csv", "--trainee Kätilö --attempt Yritys --response Sekuntia --measure time",
		lines("Kätilö,Yritys,Sekuntia", l, func(a at) string { return fmt.Sprintf("%q,%d,%q", a.who, a.n, oneDigitComma(a.value)) }), l)

	l = log(1852, 6, numbered("ES%02d", 8)...)
	doubt("18-thousand-points", "clics.csv", "--trainee jugador --attempt ronda --response tiempo_ms --measure time",
		lines("jugador;ronda;tiempo_ms", l, func(a at) string {
			ms := int(math.Round(a.value*1000)) + 37
			return fmt.Sprintf("%s;%d;%d.%03d", a.who, a.n, ms/1000, ms%1000)
		}), with(l, func(a *at) { a.value = math.Round(a.value*1000+37) / 1000 }), "column tiempo_ms: the point parts thousands of milliseconds (98.237 is 98,237 ms)")

	l = rounded(log(1853, 7, numbered("S%d", 7)...), 1)
	doubt("18-point-of-minutes", "spruta.csv", "--trainee kod --attempt nr --response tid --measure time --limit 300",
		lines("kod;nr;tid", l, func(a at) string { return fmt.Sprintf("%s;%d;%d,%02d", a.who, a.n, int(a.value)/60, int(a.value)%60) }), l,
		"column tid: 1,38 is one minute and 38 seconds (no value has a part of 60 or more)")

	l = log(1854, 6, numbered("V%d", 8)...)
	l = with(l, func(a *at) {
		if a.who == "V6" {
			a.value = math.Round(a.value/6) * 6
		}
	})
	doubt("18-one-in-minutes", "rcp.csv", "--trainee volontario --attempt prova --response tempo --measure time",
		lines("volontario;prova;tempo", l, func(a at) string {
			if a.who == "V6" {
				return fmt.Sprintf("%s;%d;%s", a.who, a.n, oneDigitComma(a.value/60))
			}
			return fmt.Sprintf("%s;%d;%s", a.who, a.n, oneDigitComma(a.value))
		}), l, "rows of V6: minutes, where all others have seconds")

	l = with(log(1855, 6, numbered("PI%d", 7)...), func(a *at) { a.value = math.Round((a.value+0.07)*100) / 100 })
	read("18-hundredths", "pitches.csv", "--trainee tuner --attempt string --response time --measure time --limit 300",
		lines("tuner,string,time", l, func(a at) string {
			h := int(math.Round(a.value * 100))
			return fmt.Sprintf("%s,%d,%d:%02d:%02d", a.who, a.n, h/6000, h/100%60, h%100)
		}), l)

	l = log(1856, 7, numbered("CG%d", 7)...)
	lost := func(a at) bool { return a.who == "CG3" && a.n == 4 || a.who == "CG6" && a.n == 1 }
	kept := without(l, lost)
	doubt("18-minus-nine", "grue.csv", "--trainee code --attempt essai --response secondes --measure time",
		lines("code;essai;secondes", l, func(a at) string {
			if lost(a) {
				return fmt.Sprintf("%s;%d;-9", a.who, a.n)
			}
			return fmt.Sprintf("%s;%d;%s", a.who, a.n, oneDigitComma(a.value))
		}), kept, "-9 stands twice for a time that is missing")

	l = with(scaled18(log(1857, 7, numbered("PP%02d", 8)...), 0.75), func(a *at) { a.value = min(a.value, 99.9) })
	doubt("18-display-full", "pipetting.tsv", "--trainee tech --attempt plate --response sec --measure time",
		lines("tech\tplate\tsec", l, plain("\t", oneDigit)), nil, "99.9, the largest value, stands many times: the display of the stopwatch shows no more")

	l = rounded(log(1858, 5, numbered("N%d", 6)...), 1)
	clock := 9 * 3600.0
	doubt("18-clock-of-the-end", "snelheid.csv", "--trainee speler --attempt ronde --response tijd --measure time",
		lines("speler;ronde;tijd", l, func(a at) string {
			clock += a.value + 45
			return fmt.Sprintf("%s;%d;%02d:%02d:%02d", a.who, a.n, int(clock)/3600, int(clock)/60%60, int(clock)%60)
		}), nil, "column tijd holds the time of day at which each round ended (09:01:37 and on), not how long it took")

	l = rounded(log(1859, 8, numbered("HD%d", 7)...), 1)
	l = with(l, func(a *at) {
		if a.who == "HD2" && a.n == 2 {
			a.value = 138
		}
	})
	doubt("18-point-too-many", "tandsteen.csv", "--trainee code --attempt nr --response seconden --measure time",
		lines("code;nr;seconden", l, func(a at) string {
			if a.who == "HD2" && a.n == 2 {
				return "HD2;2;13,8"
			}
			return fmt.Sprintf("%s;%d;%.0f", a.who, a.n, a.value)
		}), l, "row of HD2, attempt 2: 13,8 typed for 138, alone with a decimal")

	l = with(log(1860, 7, numbered("TR%d", 8)...), func(a *at) {
		if a.value > 150 {
			a.value, a.outcome = 150, "timeout"
		}
	})
	doubt("18-stopped-at-150", "intubation.csv", "--trainee id --attempt try --response seconds --outcome outcome --measure time --limit 300",
		lines("id,try,seconds,outcome", l, func(a at) string { return fmt.Sprintf("%s,%d,%s,%s", a.who, a.n, oneDigit(a.value), a.outcome) }), l,
		"all timeouts stand at 150 s although the limit is said to be 300 s")

	l = with(log(1861, 7, numbered("QC%d", 7)...), func(a *at) {
		if a.who == "QC5" && a.n == 1 {
			a.value = 412.6
		}
	})
	doubt("18-done-over-the-limit", "pont.csv", "--trainee grutier --attempt essai --response secondes --outcome résultat --measure time --limit 300",
		lines("grutier,essai,secondes,résultat", l, func(a at) string { return fmt.Sprintf("%s,%d,%s,done", a.who, a.n, oneDigit(a.value)) }), l,
		"row of QC5, attempt 1: 412.6 s is called done although the limit is 300 s")

	l = log(1862, 6, numbered("BP-%02d", 8)...)
	read("18-unit-in-cells", "suture.csv", "--trainee Chirurgo --attempt Prova --response Tempo --measure time",
		lines("Chirurgo;Prova;Tempo", l, func(a at) string { return fmt.Sprintf("%s;%d;%s s", a.who, a.n, oneDigitComma(a.value)) }), l)

	l = log(1863, 6, numbered("MX%d", 7)...)
	changed := with(l, func(a *at) {
		if a.who == "MX4" && a.n == 2 {
			a.value = 104.2
		}
	})
	doubt("18-letter-for-zero", "puerto.csv", "--trainee clave --attempt vez --response seg --measure time",
		lines("clave,vez,seg", changed, func(a at) string {
			return fmt.Sprintf("%s,%d,%s", a.who, a.n, strings.ReplaceAll(oneDigit(a.value), "104.2", "1O4.2"))
		}), changed, "row of MX4, attempt 2: 1O4.2 is written with the letter O")

	l = log(1864, 6, "منى", "هدى", "سارة", "ليلى", "ندى", "أمل")
	arabic := func(s string) string {
		return strings.Map(func(r rune) rune {
			switch {
			case r >= '0' && r <= '9':
				return r - '0' + '٠'
			case r == '.':
				return '٫'
			}
			return r
		}, s)
	}
	read("18-arabic-digits", "قابلات.tsv", "--trainee الاسم --attempt المحاولة --response الثواني --measure time",
		lines("الاسم\tالمحاولة\tالثواني", l, func(a at) string {
			return a.who + "\t" + arabic(fmt.Sprint(a.n)) + "\t" + arabic(oneDigit(a.value))
		}), l)

	l = rounded(log(1865, 6, numbered("QB%02d", 7)...), 1)
	read("18-minute-marks", "soudure.csv", "--trainee Soudeur --attempt Cordon --response Durée --measure time",
		lines("Soudeur;Cordon;Durée", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%d'%02d''", a.who, a.n, int(a.value)/60, int(a.value)%60)
		}), l)

	l = rounded(log(1866, 6, numbered("OR%d", 7)...), 1)
	doubt("18-parts-of-a-day", "ventilacion.csv", "--trainee id --attempt n --response tiempo --measure time --limit 300",
		lines("id;n;tiempo", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s", a.who, a.n, comma(math.Round(a.value/86400*1e9)/1e9))
		}), l,
		"column tiempo holds parts of a day (0,001134259 is 98 s), as time cells lose their format")

	l = log(1867, 6, numbered("FS%d", 7)...)
	doubt("18-limit-in-minutes", "harbour.csv", "--trainee driver --attempt lift --response seconds --measure time --limit 5",
		lines("driver,lift,seconds", l, plain(",", oneDigit)), l, "the limit of 5 is in minutes, the times are in seconds")

	l = with(log(1868, 6, numbered("ST%d", 6)...), func(a *at) { a.value = math.Round(a.value/0.6) / 100 * 60 })
	doubt("18-standard-in-seconds", "kanyl.csv", "--trainee elev --attempt gång --response tid --measure time --standard 80",
		lines("elev;gång;tid", l, func(a at) string { return fmt.Sprintf("%s;%d;%s", a.who, a.n, comma(math.Round(a.value/0.6)/100)) }),
		with(l, func(a *at) { a.value = math.Round(a.value*10) / 10 }), "the times are minutes (0,75 to 3,4), the standard of 80 is in seconds: everybody would be proficient at once")

	l = log(1869, 7, numbered("AP%d", 7)...)
	doubt("18-cut-last-line", "live.csv", "--trainee id --attempt plate --response seconds --measure time",
		bytes.TrimSuffix(lines("id,plate,seconds", l, func(a at) string {
			if a.who == "AP7" && a.n == 7 {
				return "AP7,7,7"
			}
			return plain(",", oneDigit)(a)
		}), []byte("\n")), l[:len(l)-1], "the last line is cut off while the file was being written: 7 is the beginning of a number")
}

// columns18: which columns and rows there are.
func columns18() {
	l := log(1870, 7, numbered("BM%d", 7)...)
	i := 0
	var valid []at
	text := lines("kod;försök;sekunder;giltigt", l, func(a at) string {
		i++
		word := "ja"
		if i == 9 || i == 30 {
			word = "nej"
		} else {
			valid = append(valid, a)
		}
		return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, oneDigitComma(a.value), word)
	})
	doubt("18-valid-column", "barnmorskor.csv", "--trainee kod --attempt försök --response sekunder --measure time", text, valid,
		"column giltigt (valid) is not named by a flag; it is nej (no) in two rows")

	l = log(1871, 10, numbered("LT%d", 6)...)
	doubt("18-second-task-goes-on", "bench.csv", "--trainee tech --attempt run --response seconds --measure time",
		lines("tech,run,exercise,seconds", l, func(a at) string {
			exercise := "dilution"
			if a.n > 5 {
				exercise = "plate filling"
				a.value += 70
			}
			return fmt.Sprintf("%s,%d,%s,%s", a.who, a.n, exercise, oneDigit(a.value))
		}), nil, "column exercise: runs 1 to 5 are of another exercise than runs 6 to 10")

	l = log(1872, 6, numbered("Z%d", 7)...)
	doubt("18-days-as-attempts", "lasnaden.csv", "--trainee lasser --attempt datum --response seconden --measure time",
		lines("lasser;datum;seconden", l, func(a at) string {
			return fmt.Sprintf("%s;%s;%s", a.who, date(3, 3+5*a.n).Format("20060102"), oneDigitComma(a.value))
		}), l, "column datum, named as attempt numbers, holds days (20260308)")

	l = log(1873, 6, numbered("GR%d", 8)...)
	head := "Κωδικός"
	for n := 0; n < 6; n++ {
		head += ";" + date(2, 3+7*n).Format("2006-01-02")
	}
	read("18-day-heads", "εβδομάδες.csv", "--trainee Κωδικός --measure time", wide(head, ";", l, oneDigitComma), l)

	counts := with(log(1874, 8, numbered("RD%d", 7)...), func(a *at) { a.value = math.Floor(a.value/45) - 1 })
	doubt("18-blank-counts", "errors.csv", "--trainee id --attempt n --response errors --measure count",
		lines("id,n,errors", counts, func(a at) string {
			if a.value <= 0 {
				return fmt.Sprintf("%s,%d,", a.who, a.n)
			}
			return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, a.value)
		}), with(counts, func(a *at) { a.value = max(a.value, 0) }), "column errors has many blanks and no 0: a blank is no error")

	l = failed18(log(1875, 9, numbered("KN%02d", 8)...), 240)
	read("18-outcome-named", "airway.csv", "--trainee id --attempt attempt --response seconds --outcome outcome --measure time --limit 240",
		lines("id,attempt,seconds,outcome", l, func(a at) string { return fmt.Sprintf("%s,%d,%s,%s", a.who, a.n, oneDigit(a.value), a.outcome) }), l)

	l = log(1876, 6, numbered("CO%d", 6)...)
	doubt("18-block-again", "sync.csv", "--trainee id --attempt n --response seconds --measure time",
		append(lines("id,n,seconds", l, plain(",", oneDigit)), bytes.TrimPrefix(lines("", l[18:27], plain(",", oneDigit)), []byte("\n"))...), l,
		"the last nine lines are those of CO4 and half of CO5 once more")

	l = log(1877, 8, numbered("MW%d", 6)...)
	away := func(a at) bool { return a.who == "MW2" && a.n > 5 || a.who == "MW5" && a.n > 6 }
	read("18-some-made-fewer", "matronas.csv", "--trainee CODIGO --measure time", []byte(strings.ReplaceAll(string(wide(
		"CODIGO,1.º,2.º,3.º,4.º,5.º,6.º,7.º,8.º", ",", with(l, func(a *at) {
			if away(*a) {
				a.value = -1
			}
		}), oneDigit)), "-1.0", "")), without(l, away))
}

// people18: who somebody is, and what was measured.
func people18() {
	l := log(1880, 6, "René1", "Noémie2", "Zoé3", "Marc4", "Luc5", "Ève6")
	doubt("18-letter-and-accent", "clinique.csv", "--trainee code --attempt essai --response secondes --measure time",
		lines("code,essai,secondes", l, func(a at) string {
			if a.who == "Zoé3" && a.n > 3 {
				a.who = "Zoe\u0301" + "3"
			}
			return plain(",", oneDigit)(a)
		}), l, "Zoé3 is written in two ways that look the same: with é as one sign, and as e with an accent")

	l = log(1888, 6, "GDL 1", "GDL 2", "GDL 3", "GDL 4", "GDL 5", "GDL 6")
	doubt("18-space-of-another-kind", "guadalajara.csv", "--trainee clave --attempt intento --response segundos --measure time",
		lines("clave,intento,segundos", l, func(a at) string {
			if a.who == "GDL 5" && a.n > 4 {
				a.who = "GDL\u00a05"
			}
			return plain(",", oneDigit)(a)
		}), l, "GDL 5 is written with a no-break space from attempt 5 on, which looks the same")

	l = log(1889, 5, numbered("MB%d", 7)...)
	doubt("18-measures-as-rows", "tidy.csv", "--trainee id --attempt attempt --response value --measure time",
		lines("id,attempt,variable,value", l, func(a at) string {
			return fmt.Sprintf("%s,%d,seconds,%s\n%s,%d,errors,%d", a.who, a.n, oneDigit(a.value), a.who, a.n, int(a.value)/45)
		}), l, "column variable: every other row holds errors, not seconds")

	l = log(1881, 7, "1", "2", "3", "4", "5", "6", "7")
	doubt("18-codes-with-a-point", "joined.csv", "--trainee player --attempt round --response seconds --measure time",
		lines("player,round,seconds", l, func(a at) string {
			if a.n > 4 {
				a.who += ".0"
			}
			return plain(",", oneDigit)(a)
		}), l, "players are 1 to 7 up to round 4, and 1.0 to 7.0 after it")

	l = log(1882, 6, numbered("UT%d", 8)...)
	t := doubt("18-arm-of-one-row", "arms.csv", "--trainee id --attempt n --arm groep --response sec --measure time",
		lines("id;n;groep;sec", l, func(a at) string {
			arm := "video"
			if a.who > "UT4" || a.who == "UT3" && a.n == 4 {
				arm = "docent"
			}
			return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, arm, oneDigitComma(a.value))
		}), l, "UT3 is in the arm video, but docent in the row of attempt 4")
	t.Arms = map[string]string{"UT1": "video", "UT2": "video", "UT3": "video", "UT4": "video", "UT5": "docent", "UT6": "docent", "UT7": "docent", "UT8": "docent"}

	l = log(1883, 9, numbered("SV%d", 7)...)
	doubt("18-retention-rows", "reanimación.csv", "--trainee id --attempt n --session sesión --response segundos --measure time",
		lines("id,sesión,n,segundos", l, func(a at) string {
			session := "entrenamiento"
			if a.n == 9 {
				session = "retención a 6 meses"
				a.value += 40
			}
			return fmt.Sprintf("%s,%s,%d,%s", a.who, session, a.n, oneDigit(a.value))
		}), with(l, func(a *at) {
			if a.n == 9 {
				a.value = math.Round((a.value+40)*10) / 10
			}
		}), "attempt 9 of each is a retention test half a year later, not the next attempt of training")

	points := with(log(1884, 8, numbered("TH%d", 7)...), func(a *at) { a.value = math.Round(a.value / 6) })
	doubt("18-penalty-points", "strafpunten.csv", "--trainee code --attempt nr --response strafpunten --measure score",
		lines("code;nr;strafpunten", points, plain(";", wholeHalfEven)), points, "strafpunten are penalty points: lower is better, while a score is better when higher")

	passes := with(log(1885, 8, numbered("JU%d", 7)...), func(a *at) {
		if a.value < 85 {
			a.value = 1
		} else {
			a.value = 0
		}
	})
	doubt("18-pass-unsaid", "approved.csv", "--trainee id --attempt n --response aprobado",
		lines("id,n,aprobado", passes, plain(",", wholeHalfEven)), passes, "column aprobado is 0 or 1, and no measure is said")

	l = log(1886, 6, "JAN1", "FEB2", "MAR3", "APR4", "HEL5", "OUL6")
	doubt("18-code-turned-date", "sites.csv", "--trainee site_id --attempt n --response seconds --measure time",
		lines("site_id,n,seconds", l, func(a at) string {
			if a.who == "MAR3" && a.n > 2 {
				a.who = "3-Mar"
			}
			return plain(",", oneDigit)(a)
		}), l, "MAR3 is 3-Mar in four rows: a spreadsheet took the code for a date")

	l = log(1887, 7, numbered("TO%d", 7)...)
	doubt("18-measure-forgotten", "vancouver.csv", "--trainee welder --attempt bead --response duration",
		lines("welder,bead,duration", l, plain(",", oneDigit)), l, "no measure is said: duration is a time, where lower is better, and would be read as a score")
}

// shapes18: how tables are laid out and written in text files.
func shapes18() {
	l := log(1890, 7, numbered("UM%02d", 7)...)
	read("18-swedish-long", "traverskran.csv", "--trainee Förare --attempt Lyft --response Sekunder --measure time",
		append([]byte("\xef\xbb\xbf"), crlf(lines("Förare;Lyft;Sekunder", l, plain(";", oneDigitComma)))...), l)

	l = log(1891, 6, "민준", "서연", "지우", "하윤", "도현", "수아", "예준")
	read("18-korean-heads", "납땜.csv", "--trainee 이름 --measure time", wide("이름,1차,2차,3차,4차,5차,6차", ",", l, oneDigit), l)

	l = log(1892, 6, numbered("SH%02d", 6)...)
	// The head is 编号, 次数 and 秒 as a Chinese spreadsheet saves text.
	doubt("18-chinese-encoding", "移液.csv", "--trainee 编号 --attempt 次数 --response 秒 --measure time",
		lines("\xb1\xe0\xba\xc5,\xb4\xce\xca\xfd,\xc3\xeb", l, plain(",", oneDigit)), l, "the heads are in a Chinese encoding (GBK), which is none of those known")

	l = log(1893, 5, numbered("DE%d", 7)...)
	var b bytes.Buffer
	b.WriteString("code;tijd1;fouten1;tijd2;fouten2;tijd3;fouten3;tijd4;fouten4;tijd5;fouten5")
	for _, a := range l {
		if a.n == 1 {
			b.WriteString("\n" + a.who)
		}
		fmt.Fprintf(&b, ";%s;%d", oneDigitComma(a.value), int(a.value)/50)
	}
	b.WriteString("\n")
	read("18-times-and-errors", "mondhygiëne.csv", "--trainee code --measure time", b.Bytes(), l)

	l = log(1894, 4, numbered("R_%03d", 8)...)
	b = bytes.Buffer{}
	b.WriteString("ResponseId,Q1_1,Q1_2,Q1_3,Q1_4\n" +
		`Response ID,"How long did it take (seconds)? - First attempt","How long did it take (seconds)? - Second attempt","How long did it take (seconds)? - Third attempt","How long did it take (seconds)? - Fourth attempt"` + "\n" +
		`"{""ImportId"":""_recordId""}","{""ImportId"":""QID1_1""}","{""ImportId"":""QID1_2""}","{""ImportId"":""QID1_3""}","{""ImportId"":""QID1_4""}"`)
	b.Write(wide("", ",", l, oneDigit))
	read("18-survey-export", "survey.csv", "--trainee ResponseId --measure time", b.Bytes(), l)

	l = log(1895, 6, numbered("TN%d", 7)...)
	read("18-comment-lines", "rig.dat", "--trainee id --attempt run --response seconds --measure time",
		append([]byte("# bench: crane simulator 2, harbour school\n# clock: seconds from hook-on to hook-off\n#\n"), lines("id,run,seconds", l, plain(",", oneDigit))...), l)

	l = log(1896, 6, numbered("HR%d", 7)...)
	read("18-sep-line", "kerék.csv", "--trainee kód --attempt sorszám --response másodperc --measure time",
		append([]byte("sep=;\r\n"), crlf(lines("kód;sorszám;másodperc", l, plain(";", oneDigitComma)))...), l)

	l = log(1897, 6, numbered("KS%d", 7)...)
	i := -1
	read("18-index-column", "frame.csv", "--trainee student --attempt trial --response seconds --measure time",
		lines(",student,trial,seconds", l, func(a at) string { i++; return fmt.Sprint(i, ",", plain(",", oneDigit)(a)) }), l)

	l = log(1898, 6, numbered("w%d", 7)...)
	j := 0
	read("18-names-of-rows", "table.txt", "--trainee subject --attempt trial --response seconds --measure time",
		lines(`"subject" "trial" "seconds"`, l, func(a at) string { j++; return fmt.Sprintf(`"%d" %q %d %s`, j, a.who, a.n, point(a.value)) }), l)

	l = log(1899, 6, numbered("N%02d", 6)...)
	b = bytes.Buffer{}
	b.WriteString("Trainee,Attempt 1,,Attempt 2,,Attempt 3,,Attempt 4,,Attempt 5,,Attempt 6,\n,time (s),drops,time (s),drops,time (s),drops,time (s),drops,time (s),drops,time (s),drops")
	for _, a := range l {
		if a.n == 1 {
			b.WriteString("\n" + a.who)
		}
		fmt.Fprintf(&b, ",%s,%d", oneDigit(a.value), int(a.value)/60)
	}
	b.WriteString("\n")
	read("18-attempt-above-measure", "pegs.csv", "--trainee Trainee --measure time", b.Bytes(), l)

	l = log(1900, 5, numbered("ΑΘ%d", 6)...)
	shuffled := make([]at, len(l))
	for k := range l {
		shuffled[k*7%len(l)] = l[k]
	}
	read("18-days-without-numbers", "ημέρες.csv", "--trainee κωδικός --date ημερομηνία --response δευτερόλεπτα --measure time",
		lines("κωδικός;ημερομηνία;δευτερόλεπτα", shuffled, func(a at) string {
			return fmt.Sprintf("%s;%s;%s", a.who, date(1, 6+9*a.n).Format("02/01/2006"), oneDigitComma(a.value))
		}), l)

	l = log(1901, 9, numbered("TO%02d", 6)...)
	read("18-numbers-start-again", "sedute.csv", "--trainee allievo --session seduta --attempt prova --response secondi --measure time",
		lines("allievo;seduta;prova;secondi", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%d;%s", a.who, (a.n-1)/3+1, (a.n-1)%3+1, oneDigitComma(a.value))
		}), l)

	l = log(1902, 6, numbered("AL%d", 6)...)
	examiners := with(scaled18(log(1903, 6, "PROF1", "PROF2"), 0.5), func(a *at) { a.value += 12 })
	b = bytes.Buffer{}
	b.Write(lines("clave,rol,intento,segundos", l, func(a at) string { return fmt.Sprintf("%s,alumno,%d,%s", a.who, a.n, oneDigit(a.value)) }))
	for _, a := range examiners {
		fmt.Fprintf(&b, "%s,experto,%d,%s\n", a.who, a.n, oneDigit(a.value))
	}
	doubt("18-examiners-too", "todos.csv", "--trainee clave --attempt intento --response segundos --measure time", b.Bytes(), l,
		"column rol: the rows of PROF1 and PROF2 are of experts (experto), not of trainees")

	l = log(1904, 6, numbered("MM%d", 7)...)
	read("18-two-bytes-no-mark", "logger.txt", "--trainee id --attempt n --response seconds --measure time",
		inUTF16(binary.LittleEndian, false, crlf(lines("id\tn\tseconds", l, plain("\t", oneDigit)))), l)

	l = log(1905, 6, "Åsa", "Björn", "Göran", "Märta", "Sören", "Örjan")
	read("18-old-swedish", "pianostämmare.csv", "--trainee Stämmare --attempt Försök --response Tid --measure time",
		latin(lines("Stämmare;Försök;Tid", l, plain(";", oneDigitComma))), l)

	l = log(1906, 6, numbered("BC%d", 7)...)
	read("18-carriage-returns", "mac.csv", "--trainee id --attempt n --response seconds --measure time",
		lineEnds(lines("id,n,seconds", l, plain(",", oneDigit)), "\r"), l)

	l = log(1907, 6, numbered("NK%d", 7)...)
	read("18-bars", "notes.txt", "--trainee volunteer --attempt round --response seconds --measure time",
		lines("volunteer|round|seconds", l, plain("|", oneDigit)), l)

	l = log(1908, 8, numbered("SE%02d", 7)...)
	k := 0
	read("18-head-on-each-page", "pages.csv", "--trainee Player --attempt Map --response Seconds --measure time",
		lines("Player,Map,Seconds", l, func(a at) string {
			k++
			row := plain(",", oneDigit)(a)
			if k%20 == 0 {
				row += "\nPlayer,Map,Seconds"
			}
			return row
		}), l)

	l = log(1909, 7, numbered("Q%d", 6)...)
	b = bytes.Buffer{}
	b.WriteString("code")
	for _, a := range l {
		if a.n == 1 {
			b.WriteString("," + a.who)
		}
	}
	for n := 1; n <= 7; n++ {
		fmt.Fprintf(&b, "\nattempt %d", n)
		for _, a := range l {
			if a.n == n {
				b.WriteString("," + oneDigit(a.value))
			}
		}
	}
	b.WriteString("\n")
	doubt("18-lying-on-its-side", "turned.csv", "--trainee code --measure time", b.Bytes(), l,
		"the table lies on its side: the column code holds attempt 1 to attempt 7, the trainees Q1 to Q6 are heads")

	type frame struct {
		Trainee string  `parquet:"trainee"`
		Attempt int32   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
	}
	l = log(1910, 7, numbered("pq%d", 7)...)
	var frames []frame
	for _, a := range l {
		frames = append(frames, frame{a.who, int32(a.n), a.value})
	}
	read("18-parquet", "attempts.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", parquetOf(frames), l)

	type moment struct {
		Player string    `parquet:"player,dict"`
		Ended  time.Time `parquet:"ended,timestamp(millisecond)"`
		Millis int64     `parquet:"duration_ms"`
	}
	l = log(1911, 6, numbered("gg%02d", 7)...)
	var moments []moment
	for n := 1; n <= 6; n++ {
		for _, a := range l {
			if a.n == n {
				moments = append(moments, moment{a.who, date(4, 5+2*n).Add(18 * time.Hour), int64(math.Round(a.value * 1000))})
			}
		}
	}
	read("18-parquet-moments", "matches.parquet", "--trainee player --date ended --response duration_ms --measure time", parquetOf(moments), l)

	type nullable struct {
		ID      int64    `parquet:"id"`
		Run     int64    `parquet:"run"`
		Seconds *float64 `parquet:"seconds,optional"`
	}
	l = log(1912, 6, "101", "102", "103", "104", "105", "106")
	var nulls []nullable
	var known []at
	for _, a := range l {
		var id int64
		fmt.Sscan(a.who, &id)
		row := nullable{ID: id, Run: int64(a.n), Seconds: &a.value}
		if id == 103 && a.n == 3 || id == 105 && a.n == 5 {
			row.Seconds = nil
		} else {
			known = append(known, a)
		}
		nulls = append(nulls, row)
	}
	doubt("18-parquet-nulls", "plates.parquet", "--trainee id --attempt run --response seconds --measure time", parquetOf(nulls), known,
		"two rows (103 run 3, 105 run 5) have no seconds (null)")
}

// plainer18: more tables with nothing wrong.
func plainer18() {
	l := log(1940, 6, numbered("HB%02d", 6)...)
	unicode := inUTF16(binary.LittleEndian, true, crlf(lines("学员\t次数\t用时(秒)", l, plain("\t", oneDigit))))
	for i := 0; i < len(unicode); i += 2 {
		unicode[i], unicode[i+1] = unicode[i+1], unicode[i]
	}
	read("18-two-bytes-big-end", "吊车.txt", "--trainee 学员 --attempt 次数 --response 用时(秒) --measure time", unicode, l)

	points := with(log(1941, 8, numbered("PA%d", 7)...), func(a *at) { a.value = math.Round(118 - a.value/2.2) })
	read("18-points", "soldadura.csv", "--trainee aprendiz --attempt pieza --response puntuación --measure score",
		lines("aprendiz;pieza;puntuación", points, plain(";", wholeHalfEven)), points)

	counts := with(log(1942, 8, numbered("LA%02d", 7)...), func(a *at) { a.value = math.Floor(a.value/20) - 3 })
	read("18-counts", "drops.tsv", "--trainee tech --attempt plate --response spills --measure count",
		lines("tech\tplate\tspills", counts, plain("\t", wholeHalfEven)), counts)

	l = log(1943, 7, numbered("AD%d", 8)...)
	arms := map[string]string{}
	t := read("18-two-arms", "adelaide.csv", "--trainee id --attempt attempt --arm group --response seconds --measure time",
		lines("id,group,attempt,seconds", l, func(a at) string {
			arms[a.who] = "massed"
			if a.who > "AD4" {
				arms[a.who] = "spaced"
			}
			return fmt.Sprintf("%s,%s,%d,%s", a.who, arms[a.who], a.n, oneDigit(a.value))
		}), l)
	t.Arms = arms

	l = log(1944, 6, numbered("OU%d", 7)...)
	read("18-day-and-hour", "oulu.csv", "--trainee id --attempt yritys --date aika --response sekunnit --measure time",
		lines("id;yritys;aika;sekunnit", l, func(a at) string {
			when := date(2, 2+a.n).Add(9*time.Hour + time.Duration(7*a.n)*time.Minute)
			return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, when.Format("2006-01-02 15:04"), oneDigitComma(a.value))
		}), l)

	l = log(1945, 6, numbered("D%d", 7)...)
	b := newBook("Hetek")
	b.row("A1", "Kód", "1. hét", "2. hét", "3. hét", "4. hét", "5. hét", "6. hét")
	b.wide(2, l, value)
	read("18-week-heads", "daru.xlsx", "--trainee Kód --measure time", b.bytes(), l)

	l = rounded(log(1946, 7, numbered("MKU%d", 7)...), 1)
	read("18-swahili-heads", "wakunga.csv", "--trainee Msimbo --measure time",
		wide("Msimbo,Jaribio 1,Jaribio 2,Jaribio 3,Jaribio 4,Jaribio 5,Jaribio 6,Jaribio 7", ",", l, wholeHalfEven), l)

	l = rounded(log(1947, 6, numbered("RM%d", 7)...), 1)
	read("18-hours-minutes-seconds", "roma.csv", "--trainee codice --attempt prova --response durata --measure time --limit 300",
		lines("codice,prova,durata", l, func(a at) string {
			return fmt.Sprintf("%s,%d,00:%02d:%02d", a.who, a.n, int(a.value)/60, int(a.value)%60)
		}), l)

	l = log(1948, 6, "007", "012", "019", "023", "040", "101")
	read("18-leading-zeros", "ottawa.csv", "--trainee badge --attempt attempt --response seconds --measure time",
		lines(`"badge","attempt","seconds"`, l, func(a at) string { return fmt.Sprintf(`"%s","%d","%s"`, a.who, a.n, oneDigit(a.value)) }), l)

	l = log(1949, 5, numbered("VLC%d", 7)...)
	read("18-empty-rows-after", "valencia.csv", "--trainee Cantera --attempt Ronda --response Segundos --measure time",
		append(lines("Cantera;Ronda;Segundos;;", l, func(a at) string { return fmt.Sprintf("%s;%d;%s;;", a.who, a.n, oneDigitComma(a.value)) }),
			strings.Repeat(";;;;\n", 12)...), l)

	l = log(1950, 8, numbered("bt%02d", 6)...)
	read("18-simulator-export", "simulator.csv", "--trainee user_id --attempt trial_no --response total_time_s --measure time",
		lines("user_id,trial_no,total_time_s,path_length_mm,smoothness,grasps", l, func(a at) string {
			return fmt.Sprintf("%s,%d,%s,%.0f,%.3f,%d", a.who, a.n, oneDigit(a.value), a.value*31+float64(a.n), 0.9-a.value/400, 4+int(a.value)/30)
		}), l)

	l = log(1951, 6, numbered("GÖ%d", 7)...)
	b = newBook("Data")
	b.log([]any{"Kod", "Försök", "Sekunder"}, l, longRow)
	must(b.AddTable(b.sheet, &excelize.Table{Range: fmt.Sprint("A1:C", len(l)+1), Name: "Logg", StyleName: "TableStyleMedium2"}))
	must(b.SetPanes(b.sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	b.next("Blad2")
	read("18-table-object", "svets.xlsx", "--trainee Kod --attempt Försök --response Sekunder --measure time", b.bytes(), l)

	l = log(1952, 6, numbered("TK%d", 8)...)
	read("18-mean-calculated", "turku.ods", "--trainee Koodi --measure time", office("18-mean-calculated", "turku.ods", func() []byte {
		b := newBook("Tulokset")
		b.row("A1", "Koodi", "Yritys 1", "Yritys 2", "Yritys 3", "Yritys 4", "Yritys 5", "Yritys 6", "Keskiarvo")
		end := b.wide(2, l, value)
		for r := 2; r < end; r++ {
			must(b.SetCellFormula(b.sheet, fmt.Sprint("H", r), fmt.Sprintf("ROUND(AVERAGE(B%d:G%d),1)", r, r)))
		}
		return b.bytes()
	}()), l)

	l = log(1953, 6, numbered("IN%d", 7)...)
	b = newBook("Incheon")
	b.log([]any{"이름", "회차", "초"}, l, func(a at) []any {
		if a.n == 1 {
			return []any{a.who, a.n, a.value}
		}
		return []any{nil, a.n, a.value}
	})
	for i := range 7 {
		must(b.MergeCell(b.sheet, fmt.Sprint("A", 6*i+2), fmt.Sprint("A", 6*i+7)))
	}
	read("18-merged-names", "인천.xlsx", "--trainee 이름 --attempt 회차 --response 초 --measure time", b.bytes(), l)

	l = log(1954, 6, numbered("PL%d", 7)...)
	read("18-powers-of-ten", "reader.csv", "--trainee operator --attempt run --response seconds --measure time",
		lines("operator,run,seconds", l, func(a at) string { return fmt.Sprintf("%s,%d,%.3E", a.who, a.n, a.value) }), l)

	l = log(1955, 6, numbered("θ%d", 7)...)
	read("18-tabs-and-commas", "θεσσαλονίκη.tsv", "--trainee κωδικός --attempt προσπάθεια --response χρόνος --measure time",
		lines("κωδικός\tπροσπάθεια\tχρόνος", l, plain("\t", oneDigitComma)), l)

	type side struct {
		ID                     string `parquet:"player"`
		R1, R2, R3, R4, R5, R6 float64
	}
	l = log(1956, 6, numbered("mid%d", 6)...)
	var sides []side
	for i := 0; i < len(l); i += 6 {
		sides = append(sides, side{l[i].who, l[i].value, l[i+1].value, l[i+2].value, l[i+3].value, l[i+4].value, l[i+5].value})
	}
	read("18-parquet-wide", "rounds.parquet", "--trainee player --measure time", parquetOf(sides), l)

	l = log(1957, 5, numbered("CAI%d", 7)...)
	b = newBook("Cairo")
	b.row("A1", "Needle driving, spring course")
	must(b.MergeCell(b.sheet, "A1", "C1"))
	b.row("A2", "surgeon", "throw", "seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+3), a.who, a.n, a.value)
	}
	read("18-merged-title", "cairo.ods", "--trainee surgeon --attempt throw --response seconds --measure time",
		office("18-merged-title", "cairo.ods", b.bytes()), l)
}

// marks18 are ratings: a mark of each rater for each subject (and item).
func marks18(seed, levels int, subjects, raters, items []string) [][4]string {
	var out [][4]string
	r := uint32(seed)*2654435761 + 99
	for _, s := range subjects {
		r = r*1664525 + 1013904223
		level := int(r>>16) % levels
		for _, item := range items {
			for _, rater := range raters {
				r = r*1664525 + 1013904223
				mark := min(max(level+int(r>>18)%3-1, 0), levels-1) + 1
				out = append(out, [4]string{s, rater, item, fmt.Sprint(mark)})
			}
		}
	}
	return out
}

// raters18 is a table with a row a subject, a column a rater.
func raters18(head, sep string, marks [][4]string, more func(s string) string) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i, m := range marks {
		if i == 0 || m[0] != marks[i-1][0] {
			b.WriteString("\n" + m[0])
			if more != nil {
				b.WriteString(sep + more(m[0]))
			}
		}
		b.WriteString(sep + m[3])
	}
	b.WriteString("\n")
	return b.Bytes()
}

func ratings18() {
	none := []string{""}
	rated := func(verdict, folder, file, flags string, data []byte, marks [][4]string, about string) {
		put(verdict, folder, file, flags, data, nil, about).Ratings = marks
	}

	marks := marks18(1920, 5, numbered("vid%02d", 12), []string{"Sari", "Timo", "Aino"}, none)
	var b bytes.Buffer
	b.WriteString("video;arvioija;arvosana\n")
	for _, m := range marks {
		fmt.Fprintf(&b, "%s;%s;%s\n", m[0], m[1], m[3])
	}
	rated("read", "18-ratings-long", "arviot.csv", "--subject video --rater arvioija --score arvosana --scale ordinal", bytes.Clone(b.Bytes()), marks, "")

	marks = marks18(1921, 10, numbered("pieza %d", 14), []string{"Jurado A", "Jurado B", "Jurado C", "Jurado D"}, none)
	w := newBook("Cordones")
	w.row("A1", "Pieza", "Jurado A", "Jurado B", "Jurado C", "Jurado D")
	for i, m := range marks {
		var mark int
		fmt.Sscan(m[3], &mark)
		w.row(fmt.Sprint("A", i/4+2), m[0])
		w.put(i%4+2, i/4+2, mark)
	}
	rated("read", "18-ratings-wide", "cordones.xlsx", "--wide --subject Pieza --scale interval", w.bytes(), marks, "")

	marks = marks18(1922, 6, numbered("S%02d", 8), []string{"R1", "R2"}, []string{"grip", "flow", "finish"})
	w = newBook("OSCE")
	w.row("A1", "station film", "rater", "item", "mark")
	for i, m := range marks {
		var mark int
		fmt.Sscan(m[3], &mark)
		w.row(fmt.Sprint("A", i+2), m[0], m[1], m[2], mark)
	}
	rated("read", "18-ratings-items", "films.ods", "--subject station~film --rater rater --item item --score mark --scale interval",
		office("18-ratings-items", "films.ods", w.bytes()), marks, "")

	marks = marks18(1923, 5, numbered("K%02d", 12), []string{"Maria", "Nikos", "Eleni"}, none)
	k := 0
	rated("doubt", "18-ratings-with-total", "κριτές.csv", "--wide --subject Βίντεο --scale interval",
		[]byte(strings.Join(func() []string {
			rows := strings.Split(strings.TrimSuffix(string(raters18("Βίντεο;Maria;Nikos;Eleni", ";", marks, nil)), "\n"), "\n")
			for r := range rows {
				if r == 0 {
					rows[r] += ";Σύνολο"
					continue
				}
				sum := 0
				for _, m := range marks[k : k+3] {
					var mark int
					fmt.Sscan(m[3], &mark)
					sum += mark
				}
				k += 3
				rows[r] += fmt.Sprint(";", sum)
			}
			return rows
		}(), "\n")+"\n"), marks, "column Σύνολο is the sum of the three raters, not a rater")

	marks = marks18(1924, 5, numbered("opname%d", 12), []string{"Jan", "Piet", "Klaas"}, none)
	rated("doubt", "18-ratings-with-group", "opnamen.csv", "--wide --subject Opname --scale ordinal",
		raters18("Opname,Leerling,Jan,Piet,Klaas", ",", marks, func(s string) string {
			var n int
			fmt.Sscanf(s, "opname%d", &n)
			return fmt.Sprint((n + 1) / 2)
		}), marks, "column Leerling holds the trainee's number, not marks of a rater")

	marks = marks18(1925, 7, numbered("film %d", 10), []string{"Kovács", "Nagy", "Szabó"}, none)
	var given [][4]string
	for i, m := range marks {
		if i != 13 {
			given = append(given, m)
		}
	}
	shown := append([][4]string{}, marks...)
	shown[13][3] = "n. é."
	rated("doubt", "18-ratings-not-judged", "zsűri.csv", "--wide --subject felvétel --scale interval",
		raters18("felvétel;Kovács;Nagy;Szabó", ";", shown, nil), given, "row of film 5, Nagy: n. é. (not judged) among numbers")

	marks = marks18(1926, 2, numbered("c%02d", 14), []string{"Ali", "Hoda"}, none)
	b.Reset()
	b.WriteString("case,examiner,decision\n")
	words := map[string][]string{"1": {"oui", "Oui", "OUI"}, "2": {"non", "Non", "NON"}}
	for i := range marks {
		m := &marks[i]
		word := words[m[3]][[]int{0, 0, 1, 0, 2, 0, 0}[i%7]]
		m[3] = words[m[3]][0]
		fmt.Fprintf(&b, "%s,%s,%s\n", m[0], m[1], word)
	}
	rated("doubt", "18-ratings-oui", "jury.csv", "--subject case --rater examiner --score decision --scale nominal", bytes.Clone(b.Bytes()), marks,
		"column decision: oui, Oui and OUI (and non, Non, NON) are the same answer")

	marks = marks18(1927, 10, numbered("T%02d", 12), []string{"Otieno", "Wanjiru", "Achieng"}, none)
	b.Reset()
	b.WriteString("clip,rater,mark\n")
	for _, m := range marks {
		mark := m[3]
		if m[1] == "Wanjiru" {
			mark += "0"
		}
		fmt.Fprintf(&b, "%s,%s,%s\n", m[0], m[1], mark)
	}
	rated("doubt", "18-ratings-out-of-100", "clips.csv", "--subject clip --rater rater --score mark --scale interval", bytes.Clone(b.Bytes()), marks,
		"Wanjiru gave marks out of 100, the two others out of 10")
}

func studies18() {
	task := "tasks: [{name: venopuncture, measure: time, column: seconds, limit: 300}]\n"
	folder := func(t *truth, yaml string, files map[string][]byte) *truth {
		t.files = map[string][]byte{"study.yaml": []byte(yaml)}
		for name, data := range files {
			t.files[name] = data
		}
		return t
	}
	head := "trainee,attempt,seconds"

	l := log(1930, 6, numbered("BO%d", 8)...)
	folder(read("18-study-two-sites", ".", "", nil, l), task+"attempts:\n  files: [bologna.csv, bari.csv]\n", map[string][]byte{
		"bologna.csv": lines(head, l[:24], plain(",", oneDigit)), "bari.csv": lines(head, l[24:], plain(",", oneDigit))})

	l = log(1931, 6, numbered("GO%d", 6)...)
	experts := scaled18(log(1932, 3, "X1", "X2", "X3", "X4"), 0.55)
	folder(read("18-study-with-experts", ".", "", nil, l), task+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{
		"log.csv": lines(head, l, plain(",", oneDigit)), "experts.csv": lines(head, experts, plain(",", oneDigit))}).Experts = experts

	l = log(1933, 8, numbered("SG%d", 7)...)
	var first, second []at
	for _, a := range l {
		if a.n <= 4 {
			first = append(first, a)
		} else {
			second = append(second, a)
		}
	}
	folder(doubt("18-study-small-letters", ".", "", nil, l, "spring.csv: the codes are sg1 to sg7, and SG1 to SG7 in autumn.csv; they are the same trainees"),
		task+"attempts:\n  files: [autumn.csv, spring.csv]\n", map[string][]byte{
			"autumn.csv": lines(head, first, plain(",", oneDigit)),
			"spring.csv": lines(head, with(second, func(a *at) { a.who = strings.ToLower(a.who) }), plain(",", oneDigit))})

	l = log(1934, 6, numbered("PE%d", 7)...)
	teachers := append(scaled18(log(1935, 6, "D1", "D2"), 0.6), l[12:18]...)
	folder(doubt("18-study-trainee-as-expert", ".", "", nil, l, "experts.csv: the rows of PE3 are a trainee's, the same as in log.csv"),
		task+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{
			"log.csv": lines(head, l, plain(",", oneDigit)), "experts.csv": lines(head, teachers, plain(",", oneDigit))}).Experts = teachers[:12]

	l = log(1936, 6, numbered("CB%d", 7)...)
	retyped := with(l[18:24], func(a *at) {
		if a.n == 2 {
			a.value += 9
		}
	})
	folder(doubt("18-study-typed-twice", ".", "", nil, nil, "late.csv: CB4 stands in both files, with another time of attempt 2"),
		task+"attempts:\n  files: [early.csv, late.csv]\n", map[string][]byte{
			"early.csv": lines(head, l[:24], plain(",", oneDigit)), "late.csv": lines(head, append(retyped, l[24:]...), plain(",", oneDigit))})
}
