package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/xuri/excelize/v2"
)

// fifteenth is a set of workbooks, Parquet tables, ratings, study folders and damaged files, as a lab that
// keeps its practice in spreadsheets has them.
func fifteenth() {
	fifteenthCells()
	fifteenthOpenDocument()
	fifteenthWide()
	fifteenthLong()
	fifteenthSheets()
	fifteenthPeople()
	fifteenthRatings()
	fifteenthStudies()
	fifteenthParquet()
	fifteenthDamaged()
}

const (
	feb2 = 46055 // 2 February 2026 as spreadsheets count days
	aDay = 86400.0
)

// slower is a log whose times are this many times as long, to tenths.
func slower(l []at, times float64) []at {
	return with(l, func(a *at) { a.value = math.Round(a.value*times*10) / 10 })
}

// paced is a log of a task of its own: some take half as long as others.
func paced(seed, n int, who ...string) []at {
	return slower(log(seed, n, who...), []float64{0.6, 0.85, 1, 1.3}[seed%4])
}

func fifteenthCells() {
	// The coordinator types 0:01:38 into cells shown as mm:ss; the lab's computer has LibreOffice.
	l := rounded(paced(1501, 8, "MW", "JK", "AS", "TR", "BD", "LN"), 1)
	b := newBook("Peg transfer")
	b.log([]any{"Trainee", "Attempt", "Time"}, l, func(a at) []any { return []any{a.who, a.n, a.value / aDay} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "mm:ss")
	read("15-cells-mm-ss", "peg.xlsx", "--trainee Trainee --attempt Attempt --response Time --measure time",
		office("15-cells-mm-ss", "peg.xlsx", b.bytes()), l)

	// A fourth day typed by somebody else: 1:38 into a cell without a format is an hour and 38 minutes.
	l = rounded(paced(1502, 6, "AK", "BS", "CW", "DL", "EM", "FR", "GT"), 1)
	b = newBook("Tabelle1")
	b.row("A1", headCells("Kürzel", "Tag %d", 6)...)
	end := b.wide(2, l, func(a at) any {
		if a.n == 4 {
			return a.value * 60 / aDay
		}
		return a.value / aDay
	})
	b.format("B2", cellName(7, end-1), "[m]:ss")
	b.format("E2", cellName(5, end-1), "h:mm")
	doubt("15-cells-one-day-h-mm", "knoten.xlsx", "--trainee Kürzel --measure time", b.bytes(), l,
		"column Tag 4: its cells show h:mm (1:38 is an hour and 38 minutes there), 60 times the other days; minutes and seconds were meant")

	// Made on an old Mac: days are counted from 1904.
	l = paced(1503, 7, numbered("M%d", 6)...)
	b = newBook("Log")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Trainee", "Attempt", "Date", "Seconds"}, l, func(a at) []any { return []any{a.who, a.n, feb2 + 7*(a.n-1) - 1462, a.value} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "yyyy-mm-dd")
	read("15-date-1904", "suture-log.xlsx", usual+" --date Date", b.bytes(), l)

	// Two people's rows were pasted from such a workbook into one that counts from 1900.
	l = paced(1504, 6, numbered("R%02d", 7)...)
	b = newBook("2026")
	b.log([]any{"Trainee", "Attempt", "Date", "Seconds"}, l, func(a at) []any {
		d := feb2 + 7*(a.n-1)
		if a.who == "R04" || a.who == "R05" {
			d -= 1462
		}
		return []any{a.who, a.n, d, a.value}
	})
	b.format("C2", fmt.Sprint("C", len(l)+1), "d mmm yyyy")
	doubt("15-date-pasted-from-1904", "all-sites.xlsx", usual+" --date Date", b.bytes(), l,
		"the dates of R04 and R05 are four years and a day before those of the others (2022, not 2026): pasted from a workbook that counts days from 1904")

	// Badge numbers are numbers shown with three digits.
	badges := []string{"007", "012", "031", "045", "102", "118"}
	l = paced(1505, 9, badges...)
	b = newBook("Data")
	b.log([]any{"Badge", "Try", "Time (s)"}, l, func(a at) []any {
		var id int
		fmt.Sscanf(strings.TrimLeft(a.who, "0"), "%d", &id)
		return []any{id, a.n, a.value}
	})
	b.format("A2", fmt.Sprint("A", len(l)+1), "000")
	read("15-ids-shown-with-zeros", "badge-times.xlsx", "--trainee Badge --attempt Try --response Time~(s) --measure time", b.bytes(), l)

	// A checklist in percent: the first examiner's cells are percent cells, the second typed whole numbers.
	l = with(log(1506, 8, numbered("S%d", 8)...), func(a *at) { a.value = 56 + 4*float64(a.n) + math.Mod(math.Round(a.value), 9) })
	b = newBook("Checklist")
	b.log([]any{"Trainee", "Attempt", "Checklist"}, l, func(a at) []any {
		if a.who < "S6" {
			return []any{a.who, a.n, a.value / 100}
		}
		return longRow(a)
	})
	b.format("C2", "C41", "0%")
	doubt("15-percent-for-some", "checklist.xlsx", "--trainee Trainee --attempt Attempt --response Checklist --measure score", b.bytes(), l,
		"column Checklist: percent cells (0.61, shown as 61%) for S1 to S5, numbers such as 61 for S6 to S8: 100 times apart")

	// A script wrote the workbook; one time was typed as a sum and never calculated.
	l = paced(1507, 7, numbered("N%d", 6)...)
	b = newBook("Runs")
	b.row("A1", headCells("Nurse", "Run %d", 7)...)
	b.wide(2, l, value)
	must(b.SetCellFormula("Runs", "D5", fmt.Sprintf("60+%.1f", l[3*7+2].value-60)))
	must(clearValue(b, "Runs", "D5"))
	doubt("15-wide-one-sum-not-calculated", "runs.xlsx", "--trainee Nurse --measure time", b.bytes(), l,
		"cell D5 (N4, Run 3) is a formula without a kept result: the attempt was made, its time must be asked for")

	// Start and stop by the clock, the seconds by a formula, saved by LibreOffice with its results.
	l = rounded(paced(1508, 6, "Ana", "Bea", "Cleo", "Dora", "Ela"), 1)
	b = newBook("Stopwatch")
	b.log([]any{"Trainee", "Attempt", "Start", "Stop", "Seconds"}, l, func(a at) []any {
		start := (9*3600 + 600*float64(a.n) + 3600*float64(a.who[0]-'A')) / aDay
		return []any{a.who, a.n, start, start + a.value/aDay}
	})
	for i := range l {
		must(b.SetCellFormula("Stopwatch", fmt.Sprint("E", i+2), fmt.Sprintf("ROUND((D%d-C%d)*86400,0)", i+2, i+2)))
	}
	b.format("C2", fmt.Sprint("D", len(l)+1), "hh:mm:ss")
	read("15-start-stop-formula-kept", "clock.xlsx", usual, office("15-start-stop-formula-kept", "clock.xlsx", b.bytes()), l)

	// One trainee's rows are hidden; nobody knows why any more.
	l = paced(1509, 8, numbered("P%02d", 7)...)
	b = newBook("Attempts")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	for i, a := range l {
		if a.who == "P05" {
			must(b.SetRowVisible("Attempts", i+2, false))
		}
	}
	doubt("15-hidden-rows-of-one", "spring.xlsx", usual, b.bytes(), l,
		"rows 34 to 41 (all of P05) are hidden in the sheet: counted or left out, it must be said")

	// Times pasted as text from a note; one was typed anew and became a time of day.
	l = rounded(paced(1510, 6, "HB", "IC", "JD", "KE", "LF"), 1)
	b = newBook("Sheet1")
	b.log([]any{"Trainee", "Attempt", "Time"}, l, func(a at) []any {
		if a.who == "JD" && a.n == 3 {
			return []any{a.who, a.n, a.value * 60 / aDay}
		}
		return []any{a.who, a.n, fmt.Sprintf("%d:%02d", int(a.value)/60, int(a.value)%60)}
	})
	b.format("C16", "C16", "h:mm")
	doubt("15-one-time-cell-among-text", "from-notes.xlsx", "--trainee Trainee --attempt Attempt --response Time --measure time", b.bytes(), l,
		"cell C16 (JD, attempt 3) is a time of day in hours and minutes; the others are the text m:ss, so it comes out 60 times too long")

	// Minutes, seconds and tenths as cells of a wide sheet.
	l = paced(1511, 8, "V1", "V2", "V3", "V4", "V5", "V6")
	b = newBook("Intubation")
	b.row("A1", headCells("Student", "Attempt %d", 8)...)
	end = b.wide(2, l, ofDay)
	b.format("B2", cellName(9, end-1), "mm:ss.0")
	read("15-cells-tenths-wide", "manikin.xlsx", "--trainee Student --measure time", b.bytes(), l)

	// Everything was formatted as text before it was typed.
	l = paced(1512, 10, "k1", "k2", "k3", "k4")
	b = newBook("typed")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any { return []any{a.who, fmt.Sprint(a.n), point(a.value)} })
	b.format("A1", fmt.Sprint("C", len(l)+1), "@")
	read("15-numbers-as-text", "typed.xlsx", usual, b.bytes(), l)

	// A tidy mind wrote the first letter of each code in bold: cells of several runs.
	l = paced(1513, 6, "Ada", "Bo", "Cy", "Di", "Ed", "Flo")
	b = newBook("Colours")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	for i, a := range l {
		must(b.SetCellRichText("Colours", fmt.Sprint("A", i+2), []excelize.RichTextRun{
			{Text: a.who[:1], Font: &excelize.Font{Bold: true, Color: "C00000"}}, {Text: a.who[1:]}}))
	}
	must(b.SetCellRichText("Colours", "C1", []excelize.RichTextRun{{Text: "Sec", Font: &excelize.Font{Italic: true}}, {Text: "onds"}}))
	read("15-rich-text", "colours.xlsx", usual, b.bytes(), l)

	// TRUE and FALSE from a form's tick box.
	l = with(log(1514, 10, numbered("C%d", 7)...), func(a *at) {
		passed := int(a.value*10)%10 < 2+a.n
		a.value = 0
		if passed {
			a.value = 1
		}
	})
	b = newBook("Chest tube")
	b.log([]any{"Candidate", "Attempt", "Passed"}, l, func(a at) []any { return []any{a.who, a.n, a.value == 1} })
	read("15-true-false-cells", "passed.xlsx", "--trainee Candidate --attempt Attempt --response Passed --measure pass-fail", b.bytes(), l)

	// Errors counted by a nurse, beside nothing else.
	l = with(log(1515, 9, numbered("E%d", 6)...), func(a *at) { a.value = math.Max(0, math.Round(a.value/12-4)) })
	b = newBook("Errors")
	b.log([]any{"Trainee", "Attempt", "Errors"}, l, longRow)
	read("15-counts", "errors.xlsx", "--trainee Trainee --attempt Attempt --response Errors --measure count", b.bytes(), l)

	// Days as plain numbers: the format was lost when the sheet was pasted as values.
	l = rounded(paced(1516, 8, numbered("W%d", 6)...), 1)
	b = newBook("values")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/aDay*1e9) / 1e9} })
	doubt("15-days-as-numbers", "values.xlsx", usual+" --limit 300", b.bytes(), l,
		"column Seconds holds about 0.001: days (86,400 times less than seconds), as the limit of 300 shows")

	// The limit is five minutes and was given as 5; the times are seconds.
	l = log(1517, 8, numbered("Q%d", 6)...)
	b = newBook("Sheet1")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	doubt("15-limit-in-minutes", "limit.xlsx", usual+" --limit 5", b.bytes(), l,
		"every time (78 to 212) is far beyond the limit of 5: the limit is in minutes, the times are seconds; nobody timed out")
}

// clearValue takes the kept result of a formula away.
func clearValue(b *book, sheet, cell string) error {
	formula, err := b.GetCellFormula(sheet, cell)
	if err != nil {
		return err
	}
	if err := b.SetCellValue(sheet, cell, nil); err != nil {
		return err
	}
	return b.SetCellFormula(sheet, cell, formula)
}

func odsTime(seconds float64) string {
	tenths := int(math.Round(seconds * 10))
	return fmt.Sprintf(`<table:table-cell office:value-type="time" office:time-value="PT%02dH%02dM%02d.%d00000000S"><text:p>%02d:%02d,%d</text:p></table:table-cell>`,
		0, tenths/600, tenths%600/10, tenths%10, tenths/600, tenths%600/10, tenths%10)
}

func fifteenthOpenDocument() {
	// Durations in an OpenDocument sheet.
	l := paced(1521, 7, "Anke", "Birte", "Carl", "Dirk", "Elke", "Fritz")
	rows := []string{odsRow(odsText("Teilnehmer"), odsText("Versuch"), odsText("Dauer"))}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsTime(a.value)))
	}
	read("15-ods-durations", "dauer.ods", "--trainee Teilnehmer --attempt Versuch --response Dauer --measure time", ods(rows...), l)

	// Notes stand on cells: who held the watch. They are no part of the cells' text.
	l = paced(1522, 8, numbered("B%d", 5)...)
	rows = []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
	for i, a := range l {
		cell := odsNumber(a.value)
		if i%11 == 3 {
			cell = strings.Replace(cell, "<text:p>", `<office:annotation><text:p>watch: Kim</text:p></office:annotation><text:p>`, 1)
		}
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), cell))
	}
	notes := repacked(ods(rows...), func(name, text string) string {
		return strings.Replace(text, `office:version="1.2">`, `xmlns:dc="http://purl.org/dc/elements/1.1/" office:version="1.2">`, 1)
	})
	read("15-ods-notes-on-cells", "watch.ods", usual, notes, l)

	// Codes with two spaces and a coloured end: spans and space elements within the text.
	l = paced(1523, 6, "Bay 1", "Bay 2", "Bay 3", "Bay 4", "Bay 5")
	rows = []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(`Bay<text:s/><text:span>`+a.who[4:]+`</text:span>`), odsNumber(float64(a.n)), odsNumber(a.value)))
	}
	read("15-ods-spans", "bays.ods", usual, ods(rows...), l)

	// A wide sheet that LibreOffice keeps with repeated cells, blank ends and a second sheet of means.
	l = rounded(paced(1524, 9, numbered("Z%d", 8)...), 5)
	b := newBook("Zeiten")
	b.row("A1", headCells("Person", "%d. Versuch", 9)...)
	b.wide(2, l, value)
	b.next("Auswertung")
	b.row("A1", "Versuch", "Mittelwert")
	for n := 1; n <= 9; n++ {
		col, err := excelize.ColumnNumberToName(n + 1)
		must(err)
		b.row(fmt.Sprint("A", n+1), n)
		must(b.SetCellFormula("Auswertung", fmt.Sprint("B", n+1), fmt.Sprintf("AVERAGE(Zeiten!%s2:%s9)", col, col)))
	}
	read("15-ods-wide-and-means-sheet", "zeiten.ods", "--trainee Person --measure time",
		office("15-ods-wide-and-means-sheet", "zeiten.ods", b.bytes()), l)

	// Errors were noted only where there were some.
	l = paced(1525, 8, "Uma", "Vic", "Wim", "Xan", "Yve")
	b = newBook("Blad1")
	b.log([]any{"Cursist", "Poging", "Seconden", "Fouten"}, l, func(a at) []any {
		if k := int(a.value*10) % 7; k > 4 {
			return []any{a.who, a.n, a.value, k - 4}
		}
		return longRow(a)
	})
	read("15-ods-blank-errors", "pogingen.ods", "--trainee Cursist --attempt Poging --response Seconden --measure time",
		office("15-ods-blank-errors", "pogingen.ods", b.bytes()), l)

}

func fifteenthWide() {
	// Spanish, some people left earlier: blank cells at the right.
	l := paced(1531, 10, "Alba", "Bruno", "Celia", "Darío", "Elsa", "Fidel")
	last := map[string]int{"Bruno": 7, "Elsa": 5}
	b := newBook("Hoja1")
	b.row("A1", headCells("Alumno", "Intento %d", 10)...)
	b.wide(2, l, func(a at) any {
		if n := last[a.who]; n > 0 && a.n > n {
			return nil
		}
		return a.value
	})
	var kept []at
	for _, a := range l {
		if n := last[a.who]; n == 0 || a.n <= n {
			kept = append(kept, a)
		}
	}
	read("15-wide-intento-uneven", "sutura.xlsx", "--trainee Alumno --measure time", b.bytes(), kept)

	// Times and errors side by side, T1 E1 T2 E2, the user says what the letters are.
	l = paced(1532, 6, numbered("L%d", 7)...)
	b = newBook("Interleaved")
	head := []any{"ID"}
	for n := 1; n <= 6; n++ {
		head = append(head, fmt.Sprint("T", n), fmt.Sprint("E", n))
	}
	b.row("A1", head...)
	for i, a := range l {
		row := i/6 + 2
		b.row(cellName(1, row), a.who)
		b.row(cellName(2*a.n, row), a.value, int(a.value)%4)
	}
	read("15-wide-times-and-errors", "t-and-e.xlsx", "--trainee ID --heads T=seconds --heads E=errors --response seconds --measure time", b.bytes(), l)

	// Two head rows: the session merged over its attempts, which count on.
	l = paced(1533, 9, numbered("G%02d", 6)...)
	b = newBook("Cohort G")
	b.row("A1", "Trainee")
	must(b.MergeCell("Cohort G", "A1", "A2"))
	for s := range 3 {
		b.row(cellName(2+3*s, 1), fmt.Sprint("Session ", s+1))
		must(b.MergeCell("Cohort G", cellName(2+3*s, 1), cellName(4+3*s, 1)))
		for n := range 3 {
			b.row(cellName(2+3*s+n, 2), fmt.Sprint("Attempt ", 3*s+n+1))
		}
	}
	b.wide(3, l, value)
	read("15-wide-sessions-merged", "cohort-g.xlsx", "--trainee Trainee --measure time", b.bytes(), l)

	// Three head rows, saved by LibreOffice: the measure, the week, the attempt.
	l = paced(1534, 8, numbered("H%d", 6)...)
	b = newBook("H")
	b.row("B1", "Time to complete (s)")
	must(b.MergeCell("H", "B1", "I1"))
	for w := range 2 {
		b.row(cellName(2+4*w, 2), fmt.Sprint("Week ", w+1))
		must(b.MergeCell("H", cellName(2+4*w, 2), cellName(5+4*w, 2)))
	}
	b.row("A3", headCells("Trainee", "Attempt %d", 8)...)
	b.wide(4, l, value)
	read("15-wide-three-head-rows", "weeks.xlsx", "--trainee Trainee --measure time",
		office("15-wide-three-head-rows", "weeks.xlsx", b.bytes()), l)

	// The attempt above, time and slips below it.
	l = paced(1535, 5, numbered("K%d", 8)...)
	b = newBook("Knots")
	b.row("A2", "Trainee")
	for n := range 5 {
		b.row(cellName(2+2*n, 1), fmt.Sprint("Attempt ", n+1))
		must(b.MergeCell("Knots", cellName(2+2*n, 1), cellName(3+2*n, 1)))
		b.row(cellName(2+2*n, 2), "Time (s)", "Slips")
	}
	for i, a := range l {
		b.row(cellName(1, i/5+3), a.who)
		b.row(cellName(2*a.n, i/5+3), a.value, int(a.value*3)%3)
	}
	read("15-wide-attempt-above-measure", "knots.xlsx", "--trainee Trainee --response Time~(s) --measure time", b.bytes(), l)

	// A column a practice day, one attempt each; the heads are date cells in order.
	days := []int{0, 3, 7, 10, 14, 17, 21}
	dated := func(order []int, l []at) *book {
		b := newBook("Feb 2026")
		b.row("A1", "Trainee")
		for i, d := range order {
			b.row(cellName(2+i, 1), feb2+days[d])
			for j := 0; j*7 < len(l); j++ {
				b.row(cellName(2+i, 2+j), l[j*7+d].value)
			}
		}
		for j := 0; j*7 < len(l); j++ {
			b.row(cellName(1, 2+j), l[j*7].who)
		}
		b.format("B1", "H1", "dd/mm/yyyy")
		return b
	}
	l = paced(1536, 7, numbered("D%d", 6)...)
	read("15-wide-dates-as-heads", "days.xlsx", "--trainee Trainee --measure time", dated([]int{0, 1, 2, 3, 4, 5, 6}, l).bytes(), l)

	// The same kind of sheet, where a forgotten day was put in at the end.
	l = paced(1537, 7, numbered("F%d", 7)...)
	doubt("15-wide-dates-out-of-order", "days-late.xlsx", "--trainee Trainee --measure time", dated([]int{0, 1, 3, 4, 5, 6, 2}, l).bytes(), l,
		"the head of the last column is 9 February, before those of the four columns left of it: the order of the attempts is by date, not by place")

	// The column of the second round was given the name T01 by a colleague.
	l = paced(1538, 5, numbered("M%d", 6)...)
	b = newBook("Rounds")
	b.row("A1", "Trainee", "T1", "T2", "T3", "T4", "T01")
	b.wide(2, l, value)
	doubt("15-wide-t1-and-t01", "rounds.xlsx", "--trainee Trainee --measure time", b.bytes(), nil,
		"the heads T1 and T01 both say attempt 1, with other times; which attempt T01 is must be asked")

	// Mean and SD below a blank row.
	l = paced(1539, 6, numbered("A%02d", 8)...)
	b = newBook("Results")
	b.row("A1", headCells("Trainee", "Trial %d", 6)...)
	end := b.wide(2, l, value)
	b.row(cellName(1, end+1), "Mean")
	b.row(cellName(1, end+2), "SD")
	for n := 1; n <= 6; n++ {
		var sum, squares float64
		for _, a := range l {
			if a.n == n {
				sum += a.value
			}
		}
		for _, a := range l {
			if a.n == n {
				squares += (a.value - sum/8) * (a.value - sum/8)
			}
		}
		b.row(cellName(n+1, end+1), math.Round(sum/8*100)/100)
		b.row(cellName(n+1, end+2), math.Round(math.Sqrt(squares/7)*100)/100)
	}
	read("15-wide-mean-and-sd-below", "results.xlsx", "--trainee Trainee --measure time", b.bytes(), l)

	// A column a trainee and a row an attempt, as the user says.
	l = paced(1540, 9, "Ida", "Jon", "Kai", "Lea", "Mia", "Nils")
	b = newBook("Side by side")
	b.row("A1", "Attempt", "Ida", "Jon", "Kai", "Lea", "Mia", "Nils")
	for i, a := range l {
		b.row(cellName(1, a.n+1), a.n)
		b.row(cellName(2+i/9, a.n+1), a.value)
	}
	read("15-column-a-trainee", "side-by-side.xlsx", "--columns-are trainee --attempt Attempt --measure time", b.bytes(), l)

	// Turned on its side for a slide: names of columns below each other.
	l = paced(1541, 5, "X1", "X2", "X3", "X4")
	b = newBook("Slide")
	b.row("A1", "Trainee")
	b.row("A2", "Attempt")
	b.row("A3", "Seconds")
	for i, a := range l {
		b.row(cellName(i+2, 1), a.who)
		b.row(cellName(i+2, 2), a.n)
		b.row(cellName(i+2, 3), a.value)
	}
	read("15-transposed", "slide.xlsx", "--transposed "+usual, b.bytes(), l)
}

func fifteenthLong() {
	// A survey's export as a workbook: below the names the questions and the import marks.
	l := paced(1551, 6, numbered("R_%d", 7)...)
	b := newBook("Sheet0")
	b.row("A1", "StartDate", "Finished", "Q1", "Q2", "Q3")
	b.row("A2", "Start Date", "Finished", "Your trainee code", "Which attempt is this?", "Time needed, in seconds")
	b.row("A3", `{"ImportId":"startDate"}`, `{"ImportId":"finished"}`, `{"ImportId":"QID1_TEXT"}`, `{"ImportId":"QID2_TEXT"}`, `{"ImportId":"QID3_TEXT"}`)
	for i, a := range l {
		at := time.Date(2026, 3, 2+7*(a.n-1), 9, 5*(i/6), 12, 0, time.UTC)
		b.row(fmt.Sprint("A", i+4), at.Format("2006-01-02 15:04:05"), "True", a.who, a.n, a.value)
	}
	read("15-survey-three-heads", "survey.xlsx", "--trainee Q1 --attempt Q2 --response Q3 --measure time", b.bytes(), l)

	// A title, who made it and a blank row above the names.
	l = paced(1552, 7, "AB1", "AB2", "AB3", "AB4", "AB5", "AB6")
	b = newBook("Export")
	b.row("A1", "Skills lab, basic suturing, spring term")
	b.row("A2", "Exported by the lab office")
	b.row("A4", "Trainee", "Attempt", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+5), longRow(a)...)
	}
	must(b.MergeCell("Export", "A1", "C1"))
	read("15-title-above", "export.xlsx", usual, b.bytes(), l)

	// A data program wrote its row numbers in front, under no name.
	l = paced(1553, 8, numbered("u%d", 5)...)
	b = newBook("Sheet1")
	b.row("A1", nil, "trainee", "attempt", "seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), i, a.who, a.n, a.value)
	}
	read("15-index-column", "frame.xlsx", "--trainee trainee --attempt attempt --response seconds --measure time", b.bytes(), l)

	// Below the table stand two lines of text.
	l = paced(1554, 6, "P-11", "P-12", "P-13", "P-14", "P-15", "P-16")
	b = newBook("Blatt 1")
	b.log([]any{"Proband", "Durchgang", "Zeit in s"}, l, longRow)
	b.row(fmt.Sprint("A", len(l)+3), "Erfasst im Trainingszentrum, Raum 4")
	b.row(fmt.Sprint("A", len(l)+4), "Quelle: Protokollbögen")
	read("15-notes-below", "durchgaenge.xlsx", "--trainee Proband --attempt Durchgang --response Zeit~in~s --measure time",
		office("15-notes-below", "durchgaenge.xlsx", b.bytes()), l)

	// No numbers: the moment of each attempt gives its order; the newest stands above.
	l = paced(1555, 7, numbered("O%d", 6)...)
	b = newBook("Clock in")
	b.row("A1", "Trainee", "When", "Seconds")
	for i := range l {
		a := l[len(l)-1-i]
		b.row(fmt.Sprint("A", i+2), a.who, float64(feb2+3*a.n)+(9+float64(a.who[1]-'0'))/24, a.value)
	}
	b.format("B2", fmt.Sprint("B", len(l)+1), "yyyy-mm-dd hh:mm")
	read("15-moments-newest-above", "clock-in.xlsx", "--trainee Trainee --date When --response Seconds --measure time", b.bytes(), l)

	// A trainee's name merged over all rows of theirs, saved by LibreOffice.
	l = paced(1556, 6, "Ines", "João", "Kátia", "Luís", "Marta")
	b = newBook("Folha1")
	b.log([]any{"Formando", "Tentativa", "Segundos"}, l, longRow)
	for i := range 5 {
		for k := 1; k < 6; k++ {
			must(b.SetCellValue("Folha1", fmt.Sprint("A", 2+6*i+k), nil))
		}
		must(b.MergeCell("Folha1", fmt.Sprint("A", 2+6*i), fmt.Sprint("A", 7+6*i)))
	}
	read("15-names-merged-down", "tentativas.xlsx", "--trainee Formando --attempt Tentativa --response Segundos --measure time",
		office("15-names-merged-down", "tentativas.xlsx", b.bytes()), l)

	// Outcomes named, with a limit: those stopped stand at it.
	l = stopped(slower(log(1557, 9, numbered("J%d", 7)...), 1.25), 180)
	l[23].outcome, l[40].outcome = "failed", "failed"
	b = newBook("Lumbar puncture")
	b.log([]any{"Trainee", "Attempt", "Seconds", "Outcome"}, l, func(a at) []any { return append(longRow(a), a.outcome) })
	read("15-outcomes-and-limit", "lumbar.xlsx", usual+" --outcome Outcome --limit 180", b.bytes(), l)

	// A column says which attempts were given up, and no flag names it.
	l = paced(1558, 8, numbered("Y%d", 6)...)
	l[9].outcome, l[10].outcome, l[26].outcome, l[33].outcome = "failed", "failed", "failed", "failed"
	b = newBook("Airway")
	b.log([]any{"Trainee", "Attempt", "Seconds", "Outcome"}, l, func(a at) []any { return append(longRow(a), a.outcome) })
	doubt("15-outcomes-not-named", "airway.xlsx", usual, b.bytes(), l,
		"column Outcome says failed for four attempts and no flag names it: their times would count as passes")

	// Everybody practised on both devices, half of them on the box first, the others on the screen.
	l = paced(1559, 8, "Red 1", "Red 2", "Blue 1", "Blue 2", "Green 1", "Green 2")
	b = newBook("Both devices")
	b.log([]any{"Trainee", "Attempt", "Device", "Seconds"}, l, func(a at) []any {
		device := []string{"box", "screen"}
		first := int(a.who[len(a.who)-1]-'1') % 2
		return []any{a.who, a.n, device[(first+(a.n-1)/4)%2], a.value}
	})
	doubt("15-crossover", "both.xlsx", usual+" --arm Device", b.bytes(), l,
		"column Device changes after attempt 4 for everybody (box then screen, or screen then box): no arm of a trainee but a change over")

	// Two examiners each held a watch: two rows an attempt, a little apart.
	l = paced(1560, 6, numbered("V%02d", 6)...)
	b = newBook("Two watches")
	b.row("A1", "Trainee", "Attempt", "Examiner", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", 2*i+2), a.who, a.n, "Arden", a.value)
		b.row(fmt.Sprint("A", 2*i+3), a.who, a.n, "Brook", math.Round(a.value*10+float64(i*7%9)-3)/10)
	}
	doubt("15-two-examiners", "two-watches.xlsx", usual, b.bytes(), nil,
		"every attempt stands in two rows, by the examiners Arden and Brook, with times up to half a second apart: one attempt each, not two")

	// Two tasks in one sheet, each with attempts from 1; the user names the task.
	l = paced(1547, 6, numbered("TT%d", 6)...)
	pegs := paced(1549, 6, numbered("TT%d", 6)...)
	b = newBook("Both tasks")
	b.row("A1", "Trainee", "Task", "Attempt", "Seconds")
	for i := range l {
		b.row(fmt.Sprint("A", 2*i+2), l[i].who, "knot", l[i].n, l[i].value)
		b.row(fmt.Sprint("A", 2*i+3), pegs[i].who, "peg", pegs[i].n, pegs[i].value)
	}
	read("15-one-task-of-two", "both-tasks.xlsx", "--where Task=knot "+usual, b.bytes(), l)
}

func fifteenthSheets() {
	people := []string{"Pat", "Quin", "Rae", "Sol", "Tal"}
	// A sheet a trainee, which the user says.
	l := paced(1561, 8, people...)
	b := newBook("Pat")
	for i, who := range people {
		if i > 0 {
			b.next(who)
		}
		b.log([]any{"Attempt", "Seconds"}, l[8*i:8*i+8], func(a at) []any { return []any{a.n, a.value} })
	}
	read("15-sheet-a-trainee", "people.xlsx", "--sheets-are trainee --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// The same, but the user does not know that there is a flag for it.
	l = paced(1562, 7, people...)
	b = newBook("Pat")
	for i, who := range people {
		if i > 0 {
			b.next(who)
		}
		b.log([]any{"Try", "Time (s)"}, l[7*i:7*i+7], func(a at) []any { return []any{a.n, a.value} })
	}
	doubt("15-sheet-a-trainee-unsaid", "people-ods.ods", "--attempt Try --response Time~(s) --measure time",
		office("15-sheet-a-trainee-unsaid", "people-ods.ods", b.bytes()), l,
		"the workbook has five sheets with the same columns, Pat, Quin, Rae, Sol and Tal: a sheet a trainee; the first alone is not the file")

	// A sheet a session; the attempts count from 1 in each.
	l = paced(1563, 9, numbered("B%02d", 6)...)
	session := func(b *book, s int, l []at) {
		var part []at
		for _, a := range l {
			if (a.n-1)/3 == s-1 {
				part = append(part, a)
			}
		}
		b.log([]any{"Trainee", "Attempt", "Seconds"}, part, func(a at) []any { return []any{a.who, (a.n-1)%3 + 1, a.value} })
	}
	b = newBook("Session 1")
	session(b, 1, l)
	for s := 2; s <= 3; s++ {
		b.next(fmt.Sprint("Session ", s))
		session(b, s, l)
	}
	read("15-sheet-a-session", "sessions.xlsx", "--sheets-are session "+usual, b.bytes(), l)

	// The third session was made as a copy of the second; one of its trainees was typed anew, the rest never were.
	l = paced(1564, 9, numbered("N%02d", 6)...)
	stale := with(l, func(a *at) {})
	for i, a := range stale {
		if a.n > 6 && a.who != "N01" {
			stale[i].value = stale[i-3].value
		}
	}
	b = newBook("Session 1")
	session(b, 1, stale)
	b.next("Session 2")
	session(b, 2, stale)
	b.next("Session 2 (2)")
	session(b, 3, stale)
	doubt("15-sheet-copied", "sessions-copied.xlsx", "--sheets-are session "+usual, b.bytes(), nil,
		"sheet Session 2 (2) repeats the times of Session 2 for N02 to N06: a copy in which only N01 was typed anew")

	// Session and attempt in columns, the attempts count from 1 in each session.
	l = paced(1565, 8, numbered("I%d", 6)...)
	b = newBook("Log")
	b.log([]any{"Trainee", "Session", "Attempt", "Seconds"}, l, func(a at) []any { return []any{a.who, (a.n-1)/4 + 1, (a.n-1)%4 + 1, a.value} })
	read("15-attempts-restart", "restart.xlsx", usual+" --session Session", b.bytes(), l)

	// A cover sheet first and lists last; the user names the sheet.
	l = paced(1566, 6, numbered("Cov%d", 6)...)
	b = newBook("Read me")
	b.row("A1", "This workbook holds the times of the peg task.")
	b.row("A2", "Please type only into the sheet Attempts.")
	b.next("Attempts")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.next("Lists")
	b.row("A1", "Trainees")
	for i, who := range numbered("Cov%d", 6) {
		b.row(fmt.Sprint("A", i+2), who)
	}
	read("15-cover-and-lists", "with-cover.xlsx", "--sheet Attempts "+usual, b.bytes(), l)
}

func fifteenthPeople() {
	// Half of the codes were copied from a web page, with a zero-width space behind them.
	l := paced(1571, 8, "AX", "BX", "CX", "DX", "EX", "FX")
	b := newBook("Sheet1")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, func(a at) []any {
		if a.n > 4 {
			return []any{a.who + "\u200b", a.n, a.value}
		}
		return longRow(a)
	})
	doubt("15-zero-width", "from-web.xlsx", usual, b.bytes(), l,
		"from attempt 5 on every code has an invisible zero-width space behind it: six trainees, not twelve")

	// Two computers, two ways to write the accent.
	l = paced(1572, 8, "José", "Zoë", "André", "Nina", "Otto")
	b = newBook("Feuil1")
	b.log([]any{"Stagiaire", "Essai", "Secondes"}, l, func(a at) []any {
		if a.n > 5 {
			return []any{strings.NewReplacer("é", "e\u0301", "ë", "e\u0308").Replace(a.who), a.n, a.value}
		}
		return longRow(a)
	})
	doubt("15-accents-two-ways", "deux-postes.ods", "--trainee Stagiaire --attempt Essai --response Secondes --measure time",
		office("15-accents-two-ways", "deux-postes.ods", b.bytes()), l,
		"José, Zoë and André are written with one character for the accented letter up to attempt 5 and with two from attempt 6 on: the same people")

	// Arms typed by two hands.
	l = paced(1573, 6, numbered("T%02d", 8)...)
	arms := map[string]string{}
	b = newBook("Arms")
	b.log([]any{"Trainee", "Arm", "Attempt", "Seconds"}, l, func(a at) []any {
		i := int(a.who[2] - '0')
		arm := []string{"Video", "Box", "Video", "Box", "box", "Video", "box", "Video"}[i-1]
		arms[a.who] = strings.ReplaceAll(arm, "b", "B")
		return []any{a.who, arm, a.n, a.value}
	})
	doubt("15-arms-box-and-box", "arms.xlsx", usual+" --arm Arm", b.bytes(), l,
		"arms Box (T02, T04) and box (T05, T07) differ only by a capital: one arm").Arms = arms

	// Half a year later everybody came once more, and was entered as the next attempt.
	l = paced(1574, 9, numbered("RT%d", 6)...)
	for i := range l {
		if l[i].n == 9 {
			l[i].value = math.Round(l[i].value*13.5) / 10
		}
	}
	b = newBook("Log")
	b.log([]any{"Trainee", "Attempt", "Date", "Seconds"}, l, func(a at) []any {
		d := feb2 + 3*(a.n-1)
		if a.n == 9 {
			d = feb2 + 205
		}
		return []any{a.who, a.n, d, a.value}
	})
	b.format("C2", fmt.Sprint("C", len(l)+1), "yyyy-mm-dd")
	doubt("15-retest-as-next-attempt", "with-retest.xlsx", usual+" --date Date", b.bytes(), l,
		"attempt 9 of everybody was made six months after attempt 8: a retention test, not the next attempt of practice")

	// The measure is forgotten: times would be read as scores, higher better.
	l = paced(1575, 8, numbered("FG%d", 6)...)
	b = newBook("Times")
	b.log([]any{"Trainee", "Attempt", "Time_s"}, l, longRow)
	doubt("15-measure-forgotten", "times.xlsx", "--trainee Trainee --attempt Attempt --response Time_s", b.bytes(), l,
		"Time_s is a time in seconds and --measure is not given: as a score, higher would be better")

	// 0 and 1 for failed and passed, measure forgotten.
	l = with(log(1576, 10, numbered("OSC%d", 6)...), func(a *at) {
		if int(a.value*10)%10 < 1+a.n {
			a.value = 1
		} else {
			a.value = 0
		}
	})
	b = newBook("Stations")
	b.log([]any{"Student", "Attempt", "Result"}, l, longRow)
	doubt("15-results-0-1", "stations.xlsx", "--trainee Student --attempt Attempt --response Result", b.bytes(), l,
		"column Result holds only 0 and 1, failed and passed, and --measure is not given: not a score")
}

// marks makes up the marks that raters give films, from 1 to 5: seldom far apart.
func marks(seed, films int, raters ...string) [][4]string {
	var out [][4]string
	r := uint32(seed) * 2654435761
	for f := range films {
		r = r*1664525 + 1013904223
		good := 1 + int(r>>16%5)
		for _, rater := range raters {
			r = r*1664525 + 1013904223
			mark := min(5, max(1, good+int(r>>20%8)/3-1))
			out = append(out, [4]string{fmt.Sprintf("F%02d", f+1), rater, "", fmt.Sprint(mark)})
		}
	}
	return out
}

// grid writes ratings with a row a film and a column a rater.
func (b *book) grid(head []any, ratings [][4]string, raters int, more func(film int) []any) {
	b.row("A1", head...)
	for f := 0; f*raters < len(ratings); f++ {
		row := []any{ratings[f*raters][0]}
		for _, r := range ratings[f*raters : (f+1)*raters] {
			row = append(row, cell(r[3]))
		}
		if more != nil {
			row = append(row, more(f)...)
		}
		b.row(fmt.Sprint("A", f+2), row...)
	}
}

// cell is a number where the text is one, nothing where it is empty.
func cell(s string) any {
	var v float64
	if s == "" {
		return nil
	}
	if _, err := fmt.Sscanf(s, "%g", &v); err != nil {
		return s
	}
	return v
}

func fifteenthRatings() {
	rated := func(t *truth, r [][4]string) {
		for _, x := range r {
			if x[3] != "" {
				t.Ratings = append(t.Ratings, x)
			}
		}
	}
	// Three examiners, a column each.
	r := marks(1581, 14, "Ahn", "Bode", "Cruz")
	b := newBook("Global rating")
	b.grid([]any{"Film", "Ahn", "Bode", "Cruz"}, r, 3, nil)
	rated(read("15-rate-wide", "global.xlsx", "--wide --subject Film --scale ordinal", b.bytes(), nil), r)

	// Not everybody saw every film: blank cells.
	r = marks(1582, 15, "East", "Ford", "Gray", "Hill")
	for i := range r {
		if i%7 == 4 {
			r[i][3] = ""
		}
	}
	b = newBook("Sheet1")
	b.grid([]any{"Film", "East", "Ford", "Gray", "Hill"}, r, 4, nil)
	rated(read("15-rate-gaps", "gaps.xlsx", "--wide --subject Film --scale interval",
		office("15-rate-gaps", "gaps.xlsx", b.bytes()), nil), r)

	// Ja and nein by two examiners, a row a rating, in an OpenDocument sheet.
	r = marks(1583, 16, "Prüfer 1", "Prüfer 2")
	rows := []string{odsRow(odsText("Video"), odsText("Prüfer"), odsText("Bestanden"))}
	for i := range r {
		r[i][3] = map[bool]string{true: "ja", false: "nein"}[r[i][3] > "2"]
		rows = append(rows, odsRow(odsText(r[i][0]), odsText(r[i][1]), odsText(r[i][3])))
	}
	rated(read("15-rate-ods-ja-nein", "bestanden.ods", "--subject Video --rater Prüfer --score Bestanden --scale nominal", ods(rows...), nil), r)

	// A row a rating in Parquet.
	type rating struct {
		Video string `parquet:"video"`
		Rater string `parquet:"rater"`
		Score int32  `parquet:"score"`
	}
	r = marks(1584, 18, "r1", "r2", "r3")
	var table []rating
	for _, x := range r {
		table = append(table, rating{x[0], x[1], int32(cell(x[3]).(float64))})
	}
	rated(read("15-rate-parquet", "ratings.parquet", "--subject video --rater rater --score score --scale ordinal", parquetOf(table, parquet.Compression(&parquet.Snappy)), nil), r)

	// The mean of the three stands beside them, as if it were a rater.
	r = marks(1585, 12, "Ito", "Jung", "Katz")
	b = newBook("Ratings")
	b.grid([]any{"Film", "Ito", "Jung", "Katz", "Mean"}, r, 3, func(f int) []any {
		var sum float64
		for _, x := range r[3*f : 3*f+3] {
			sum += cell(x[3]).(float64)
		}
		return []any{math.Round(sum/3*100) / 100}
	})
	rated(doubt("15-rate-mean-column", "with-mean.xlsx", "--wide --subject Film --scale interval", b.bytes(), nil,
		"column Mean is the mean of Ito, Jung and Katz: no fourth rater"), r)

	// A candidate number stands between the film and the raters.
	r = marks(1586, 13, "Lund", "Moor")
	b = newBook("OSATS")
	b.row("A1", "Film", "Candidate no.", "Lund", "Moor")
	for f := range 13 {
		b.row(fmt.Sprint("A", f+2), r[2*f][0], 201+(f*5)%13, cell(r[2*f][3]), cell(r[2*f+1][3]))
	}
	rated(doubt("15-rate-number-beside-raters", "candidates.xlsx", "--wide --subject Film --scale interval", b.bytes(), nil,
		"column Candidate no. holds 201 to 213, a number of the candidate: no rater"), r)

	// One mark is NA, written as text.
	r = marks(1587, 12, "Nash", "Orr", "Pike")
	r[16][3] = ""
	b = newBook("Long")
	b.row("A1", "Film", "Rater", "Mark")
	for i, x := range r {
		mark := cell(x[3])
		if mark == nil {
			mark = "NA"
		}
		b.row(fmt.Sprint("A", i+2), x[0], x[1], mark)
	}
	rated(doubt("15-rate-one-na", "one-na.xlsx", "--subject Film --rater Rater --score Mark --scale interval", b.bytes(), nil,
		"row 18 (F06, Orr): NA on a scale of numbers, not rated; it must be said that a rating is left out, not a category"), r)

	// Yes, yes and YES.
	r = marks(1588, 14, "Quist", "Ruiz", "Sato")
	b = newBook("Competent")
	b.row("A1", "Film", "Rater", "Competent")
	for i := range r {
		yes := r[i][3] > "2"
		shown := map[bool][]string{true: {"yes", "Yes", "YES"}, false: {"no", "No", "NO"}}[yes][i%3]
		r[i][3] = map[bool]string{true: "yes", false: "no"}[yes]
		b.row(fmt.Sprint("A", i+2), r[i][0], r[i][1], shown)
	}
	rated(doubt("15-rate-yes-three-ways", "competent.xlsx", "--subject Film --rater Rater --score Competent --scale nominal", b.bytes(), nil,
		"column Competent: yes, Yes and YES (and no, No and NO) are one category each, written in three ways by three raters"), r)
}

func fifteenthStudies() {
	folder := func(t *truth, files map[string][]byte) *truth {
		t.files = files
		return t
	}
	task := `tasks:
  - name: suture
    measure: time
    column: seconds
    unit: s
    better: lower
    limit: 300
`
	intro := "title: Practice at the bench\npurpose: research\ndecides: the head of the skills lab\n"
	heads := []any{"trainee", "attempt", "seconds"}
	site := func(l []at) []byte {
		b := newBook("Log")
		b.log(heads, l, longRow)
		return b.bytes()
	}
	text := func(l []at) []byte { return lines("trainee,attempt,seconds", l, plain(",", point)) }

	// Two sites, a workbook each.
	l := paced(1591, 8, "N1", "N2", "N3", "N4", "S1", "S2", "S3", "S4")
	folder(read("15-study-two-workbooks", ".", "", nil, l), map[string][]byte{
		"study.yaml": []byte(intro + "attempts:\n  files: [north.xlsx, south.xlsx]\n" + task), "north.xlsx": site(l[:32]), "south.xlsx": site(l[32:])})

	// A file a session; attempts count from 1 in each.
	l = paced(1592, 9, numbered("W%d", 6)...)
	files := map[string][]byte{"study.yaml": []byte(intro + "attempts:\n  files: [day1.csv, day2.csv, day3.csv]\n  files_are: session\n" + task)}
	for s := range 3 {
		var part []at
		for _, a := range l {
			if (a.n-1)/3 == s {
				part = append(part, at{a.who, (a.n-1)%3 + 1, a.value, a.outcome})
			}
		}
		files[fmt.Sprintf("day%d.csv", s+1)] = text(part)
	}
	folder(read("15-study-file-a-session", ".", "", nil, l), files)

	// Trainees in a workbook, experts in an OpenDocument sheet.
	l = log(1593, 8, numbered("T%02d", 7)...)
	experts := with(log(1594, 3, "E1", "E2", "E3", "E4", "E5"), func(a *at) { a.value = math.Round(380+a.value*2) / 10 })
	b := newBook("Experts")
	b.log([]any{"expert", "run", "seconds"}, experts, longRow)
	t := folder(read("15-study-experts-ods", ".", "", nil, l), map[string][]byte{
		"study.yaml":    []byte(intro + "attempts:\n  file: trainees.xlsx\nexperts:\n  file: experts.ods\n" + task),
		"trainees.xlsx": site(l), "experts.ods": office("15-study-experts-ods", "experts.ods", b.bytes())})
	t.Experts = experts

	// A whole study: arms, counts, a standard, a rule, ratings of two items.
	l = stopped(slower(log(1595, 8, numbered("C%02d", 8)...), 1.2), 200)
	arms := map[string]string{}
	for i, who := range numbered("C%02d", 8) {
		arms[who] = []string{"blocked", "mixed"}[i%2]
	}
	b = newBook("Attempts")
	b.log([]any{"trainee", "arm", "attempt", "seconds", "slips", "outcome"}, l, func(a at) []any {
		return []any{a.who, arms[a.who], a.n, a.value, int(a.value*10) % 4, a.outcome}
	})
	r := marks(1596, 12, "Voss", "Wu", "Yates")
	ratings := "performance,examiner,global,passed\n"
	t = read("15-study-whole", ".", "", nil, l)
	for _, x := range r {
		passed := map[bool]string{true: "yes", false: "no"}[x[3] > "2"]
		ratings += x[0] + "," + x[1] + "," + x[3] + "," + passed + "\n"
		t.Ratings = append(t.Ratings, [4]string{x[0], x[1], "global", x[3]}, [4]string{x[0], x[1], "passed", passed})
	}
	t.Arms = arms
	folder(t, map[string][]byte{"attempts.xlsx": b.bytes(), "ratings.csv": []byte(ratings), "study.yaml": []byte(`title: Blocked against mixed practice of knots
purpose: research
decides: the education board of the lab
arms: [blocked, mixed]
attempts:
  file: attempts.xlsx
ratings:
  file: ratings.csv
  subject: performance
  rater: examiner
  items:
    - {name: global, scale: ordinal}
    - {name: passed, scale: nominal, levels: ["no", "yes"]}
tasks:
  - name: knots
    measure: time
    column: seconds
    unit: s
    better: lower
    limit: 200
    counts: [slips]
    standard:
      value: 120
      method: set by three teachers of the lab
      decided_by: the education board
      decided_on: 2026-01-20
    rule: 2 in a row
    horizon: 40
`)})

	// The log was saved as Unicode text: UTF-16, tabs.
	l = paced(1597, 7, "Åse", "Bjørn", "Øyvind", "Zoë", "Đorđe")
	folder(read("15-study-unicode-text", ".", "", nil, l), map[string][]byte{
		"study.yaml": []byte(intro + "attempts:\n  file: log.txt\n" + task), "log.txt": inUTF16(binary.LittleEndian, true, crlf(lines("trainee\tattempt\tseconds", l, plain("\t", point))))})

	// Decimal commas, semicolons and a line that tells a spreadsheet so.
	l = paced(1598, 8, numbered("D%d", 6)...)
	folder(read("15-study-sep-line", ".", "", nil, l), map[string][]byte{
		"study.yaml": []byte(intro + "attempts:\n  file: log.csv\n" + task),
		"log.csv":    append([]byte("sep=;\r\n"), crlf(lines("trainee;attempt;seconds", l, plain(";", comma)))...)})

	// The second site kept minutes, which the study file does not say.
	l = log(1599, 8, "N1", "N2", "N3", "N4", "S1", "S2", "S3", "S4")
	hundredth := func(v float64) float64 { return math.Round(v/60*100) / 100 }
	south := with(l[32:], func(a *at) { a.value = hundredth(a.value) })
	meant := with(l, func(a *at) {
		if a.who[0] == 'S' {
			a.value = math.Round(hundredth(a.value)*600) / 10
		}
	})
	folder(doubt("15-study-one-site-in-minutes", ".", "", nil, meant, "all times of south.xlsx (S1 to S4) are 60 times shorter than those of north.xlsx: minutes, not seconds"),
		map[string][]byte{"study.yaml": []byte(intro + "attempts:\n  files: [north.xlsx, south.xlsx]\n" + task), "north.xlsx": site(l[:32]), "south.xlsx": site(south)})

	// Both sites number their trainees from 1.
	l = paced(1600, 7, "1", "2", "3", "4", "5")
	other := paced(1601, 7, "1", "2", "3", "4", "5")
	folder(doubt("15-study-same-codes-at-two-sites", ".", "", nil, nil, "trainees 1 to 5 and attempts 1 to 7 stand in both east.xlsx and west.xlsx with other times: ten people, or five twice"),
		map[string][]byte{"study.yaml": []byte(intro + "attempts:\n  files: [east.xlsx, west.xlsx]\n" + task), "east.xlsx": site(l), "west.xlsx": site(other)})

	// The standard is in minutes, the times are in seconds.
	l = log(1602, 8, numbered("ST%d", 6)...)
	folder(doubt("15-study-standard-in-minutes", ".", "", nil, l, "the standard of 1.2 is 60 times below the times (86 to 185 s): minutes, not seconds; nobody could ever reach it"),
		map[string][]byte{"log.xlsx": site(l), "study.yaml": []byte(intro + "attempts:\n  file: log.xlsx\n" + task +
			"    standard:\n      value: 1.2\n      method: set by the teachers\n      decided_by: the lab\n      decided_on: 2026-02-01\n    rule: 2 in a row\n")})
}

// tabled is a row an attempt.
func tabled[T any](l []at, f func(i int, a at) T) []byte {
	var rows []T
	for i, a := range l {
		rows = append(rows, f(i, a))
	}
	return parquetOf(rows, parquet.Compression(&parquet.Snappy))
}

func fifteenthParquet() {
	flags := "--trainee trainee --attempt attempt --response seconds --measure time"
	type long struct {
		Trainee string  `parquet:"trainee,dict"`
		Attempt int64   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
	}
	l := paced(1611, 12, numbered("pq%02d", 10)...)
	read("15-parquet-long", "attempts.parquet", flags, tabled(l, func(_ int, a at) long { return long{a.who, int64(a.n), a.value} }), l)

	// A row a trainee.
	type row struct {
		ID string  `parquet:"participant"`
		A1 float32 `parquet:"attempt_1"`
		A2 float32 `parquet:"attempt_2"`
		A3 float32 `parquet:"attempt_3"`
		A4 float32 `parquet:"attempt_4"`
		A5 float32 `parquet:"attempt_5"`
	}
	l = rounded(paced(1612, 5, numbered("sub-%02d", 9)...), 0.5)
	var rows []row
	for i := 0; i < len(l); i += 5 {
		v := func(k int) float32 { return float32(l[i+k].value) }
		rows = append(rows, row{l[i].who, v(0), v(1), v(2), v(3), v(4)})
	}
	read("15-parquet-wide", "wide.parquet", "--trainee participant --measure time", parquetOf(rows, parquet.Compression(&parquet.Snappy)), l)

	// Optional columns, outcomes, a limit.
	type outcomes struct {
		Trainee *string  `parquet:"trainee,optional,dict"`
		Attempt *int32   `parquet:"attempt,optional"`
		Seconds *float64 `parquet:"seconds,optional"`
		Result  *string  `parquet:"result,optional,dict"`
		Remark  *string  `parquet:"remark,optional"`
	}
	l = stopped(slower(log(1613, 8, numbered("t%d", 7)...), 1.3), 210)
	read("15-parquet-optional", "warehouse.parquet", flags+" --outcome result --limit 210", tabled(l, func(_ int, a at) outcomes {
		n := int32(a.n)
		return outcomes{&a.who, &n, &a.value, &a.outcome, nil}
	}), l)

	// The order is that of the moments; no numbers.
	type moments struct {
		Trainee string    `parquet:"trainee"`
		When    time.Time `parquet:"when,timestamp(microsecond)"`
		Seconds float64   `parquet:"seconds"`
	}
	l = paced(1614, 7, numbered("m%d", 6)...)
	read("15-parquet-moments", "events.parquet", "--trainee trainee --date when --response seconds --measure time", tabled(l, func(i int, a at) moments {
		return moments{a.who, time.Date(2026, 4, 6+2*(a.n-1), 8+int(a.who[1]-'0'), 20, 5, 0, time.UTC), a.value}
	}), l)

	// Texts without the mark that they are texts, as some query engines write them.
	type bare struct {
		Trainee []byte  `parquet:"trainee"`
		Attempt int32   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
	}
	l = paced(1615, 9, "alfa", "bravo", "charlie", "delta")
	read("15-parquet-bare-text", "engine.parquet", flags, tabled(l, func(_ int, a at) bare { return bare{[]byte(a.who), int32(a.n), a.value} }), l)

	// A data frame with its index, cut by a filter so that the index has gaps.
	type framed struct {
		Trainee string  `parquet:"trainee"`
		Attempt int64   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
		Index   int64   `parquet:"__index_level_0__"`
	}
	l = paced(1616, 8, numbered("fr%d", 6)...)
	read("15-parquet-frame-index", "frame.parquet", flags, tabled(l, func(i int, a at) framed {
		return framed{a.who, int64(a.n), a.value, int64(i + i/8*4 + 3)}
	}), l)
}

func fifteenthDamaged() {
	book := func(seed int) ([]at, []byte) {
		l := log(seed, 7, numbered("X%02d", 6)...)
		b := newBook("Log")
		b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
		return l, b.bytes()
	}
	sheet1 := "xl/worksheets/sheet1.xml"

	// A script joined two sheets by hand: an element is never closed.
	_, data := book(1621)
	refuse("15-xml-not-closed", "joined.xlsx", usual, partChanged(data, sheet1, func(s string) string {
		return strings.Replace(s, "</row><row r=\"20\"", "<row r=\"20\"", 1)
	}), "the sheet's XML is malformed (row 19 is never closed): open it in a spreadsheet program and save it again")

	// A bar code scanner put a control character into a code, and a script wrote it as it came.
	_, data = book(1622)
	refuse("15-xml-control-character", "scanner.xlsx", usual, partChanged(data, "xl/sharedStrings.xml", func(s string) string {
		return strings.Replace(s, "<t>X03</t>", "<t>X03\x1d</t>", 1)
	}), "a control character (0x1D) in the shared texts, which XML does not allow: the workbook is damaged")

	// The download ended early.
	_, data = book(1623)
	refuse("15-workbook-cut", "download.xlsx", usual, data[:len(data)*6/10], "the workbook is cut off (no directory at its end): get it again")

	// A home-made exporter counts rows from 0.
	_, data = book(1624)
	refuse("15-bad-cell-reference", "exporter.xlsx", usual, partChanged(data, sheet1, func(s string) string {
		for row := range 43 {
			s = strings.ReplaceAll(s, fmt.Sprintf(`<row r="%d"`, row+1), fmt.Sprintf(`<row r="%d"`, row))
			for _, col := range []string{"A", "B", "C"} {
				s = strings.ReplaceAll(s, fmt.Sprintf(`r="%s%d"`, col, row+1), fmt.Sprintf(`r="%s%d"`, col, row))
			}
		}
		return s
	}), "cells A0, B0 and C0: no cell has row 0, the workbook is damaged")

	// The disk was full while LibreOffice saved: the content ends in the middle of a row.
	l := paced(1625, 7, numbered("X%02d", 6)...)
	rows := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value)))
	}
	refuse("15-ods-content-cut", "full-disk.ods", usual, partChanged(ods(rows...), "content.xml", func(s string) string {
		return s[:len(s)*2/3]
	}), "content.xml ends in the middle of a row: the file is damaged, a third of the rows is missing")

	// A copy to a stick that was pulled out: no end, so no table of columns.
	type long struct {
		Trainee string  `parquet:"trainee"`
		Attempt int64   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
	}
	whole := tabled(log(1626, 12, numbered("X%02d", 9)...), func(_ int, a at) long { return long{a.who, int64(a.n), a.value} })
	refuse("15-parquet-cut", "stick.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", whole[:len(whole)*3/4],
		"the Parquet file is cut off: its end with the list of columns is missing; get it again")

	// Locked with a password by the lab office.
	l = paced(1627, 7, numbered("X%02d", 6)...)
	b := newBook("Log")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	var locked bytes.Buffer
	must(b.Write(&locked, excelize.Options{Password: "bench"}))
	refuse("15-workbook-locked", "locked.xlsx", usual, locked.Bytes(), "the workbook is locked with a password: save it without one")

	// An old binary workbook.
	_, data = book(1628)
	refuse("15-old-workbook", "archive.xls", usual, office("15-old-workbook", "archive.xls", data),
		"an old binary workbook (.xls): save it as .xlsx, .ods or CSV")

	// A strict workbook is none of these: it has other names for the same things.
	l, data = book(1629)
	read("15-strict-workbook", "strict.xlsx", usual, repacked(data, func(name, s string) string {
		s = strings.ReplaceAll(s, "http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main")
		return strings.ReplaceAll(s, "http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships")
	}), l)
}
