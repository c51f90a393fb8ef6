package main

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
)

// twentieth is what ten labs hand in in their first week with the program.
func twentieth() {
	surgery20()
	ultrasound20()
	veterinary20()
	paramedics20()
	optics20()
	cooking20()
	implants20()
	police20()
	robotics20()
	phlebotomy20()
}

// surgery20: residents on a peg board and at a suture block.
func surgery20() {
	who := numbered("SR-%02d", 8)
	l := with(log(2001, 9, who...), func(a *at) {
		switch {
		case a.n == 1 && (a.who == "SR-02" || a.who == "SR-07"):
			a.value, a.outcome = 300, "timeout"
		case a.n == 3 && a.who == "SR-05":
			a.outcome = "failed"
		}
	})
	read("20-surgery-long", "peg-board.csv", "--trainee resident --attempt trial --response seconds --measure time --limit 300 --outcome outcome",
		lines("resident,trial,seconds,outcome", l, func(a at) string { return plain(",", point)(a) + "," + a.outcome }), l)

	l = log(2002, 8, numbered("R%d", 6)...)
	head := "Skills laboratory - suture block\nSpring course 2026\n\nResident,Attempt,Time (s)"
	read("20-surgery-title-lines", "suture block spring.csv", "--trainee Resident --attempt Attempt --response Time~(s) --measure time --limit 300",
		lines(head, l, plain(",", point)), l)

	l = log(2003, 6, "PGY1-a", "PGY1-b", "PGY1-c", "PGY2-a", "PGY2-b", "PGY2-c", "PGY3-a")
	text := "Resident"
	for i := 1; i <= 6; i++ {
		text += fmt.Sprintf(",Time %d,Errors %d", i, i)
	}
	read("20-surgery-interleaved", "knots_time_errors.xlsx", "--trainee Resident --measure time --limit 300",
		sheet20("Knots", wide(text, ",", l, func(v float64) string { return fmt.Sprint(point(v), ",", int(v*10)%7%4) })), l)

	l = with(log(2004, 8, numbered("res%02d", 7)...), func(a *at) {
		switch {
		case a.n <= 2 && (a.who == "res03" || a.who == "res06"):
			a.value, a.outcome = 240, "timeout"
		case a.n == 5 && a.who == "res01":
			a.outcome = "failed"
		}
		a.value = math.Min(a.value, 240)
	})
	doubt("20-surgery-outcome-unnamed", "intracorporeal.xlsx", "--trainee id --attempt n --response time_s --measure time --limit 240",
		sheet20("Tabelle1", lines("id,n,time_s,outcome", l, func(a at) string { return plain(",", point)(a) + "," + a.outcome })), l,
		"The column outcome (done, timeout, failed) is there but named by no flag: the failed attempt 5 of res01 would be taken as a good one.")

	l = log(2005, 8, numbered("G%d", 6)...)
	day := func(a at) string {
		if a.n == 8 {
			return "2026-03-16"
		}
		return time.Date(2025, 9, 1+2*a.n, 0, 0, 0, 0, time.UTC).Format("2006-01-02")
	}
	doubt("20-surgery-retest", "practice with retest.xlsx", "--trainee resident --attempt attempt --response seconds --measure time --limit 300 --date day",
		sheet20("Log", lines("resident,attempt,day,seconds", l, func(a at) string { return fmt.Sprint(a.who, ",", a.n, ",", day(a), ",", a.value) })), l,
		"The last attempt (8) of everybody is half a year after attempt 7 (September 2025 to March 2026): a retest, not practice.")

	l = log(2006, 6, numbered("SR%d", 9)...)
	b := newBook("Peg transfer")
	b.row("A1", "Resident", "Session 1", nil, nil, "Session 2", nil, nil)
	b.row("A2", nil, "Trial 1", "Trial 2", "Trial 3", "Trial 1", "Trial 2", "Trial 3")
	must(b.MergeCell(b.sheet, "B1", "D1"))
	must(b.MergeCell(b.sheet, "E1", "G1"))
	must(b.MergeCell(b.sheet, "A1", "A2"))
	b.wide(3, l, value)
	read("20-surgery-merged-sessions", "Peg transfer 2 sessions.xlsx", "--trainee Resident --measure time --limit 300", b.bytes(), l)

	l = log(2007, 7, numbered("A%02d", 8)...)
	arm := func(who string) string { return []string{"Box", "VR"}[int(who[2]-'0')%2] }
	t := doubt("20-surgery-arm-case", "box_or_vr.xlsx", "--trainee resident --attempt attempt --response seconds --measure time --limit 300 --arm arm",
		sheet20("data", lines("resident,arm,attempt,seconds", l, func(a at) string {
			s := arm(a.who)
			if a.who == "A04" {
				s = "box"
			}
			return fmt.Sprint(a.who, ",", s, ",", a.n, ",", a.value)
		})), l, "The arm is written Box, but box for A04: two arms or one?")
	t.Arms = map[string]string{}
	for _, w := range numbered("A%02d", 8) {
		t.Arms[w] = arm(w)
	}

	b = newBook("Sheet1")
	b.log([]any{"resident", "attempt", "seconds"}, log(2008, 7, numbered("S%d", 5)...), longRow)
	refuse("20-surgery-old-workbook", "results.xls", "--trainee resident --attempt attempt --response seconds --measure time",
		office("20-surgery-old-workbook", "results.xls", b.bytes()),
		"The old binary workbook (.xls) cannot be read: it has to be saved as .xlsx or .csv.")

	r := rate20(2009, 1, 5, numbered("V%02d", 10), []string{"Ellis", "Okoro", "Brandt"}, []string{"tissue", "motion", "instruments", "flow"})
	rated20("read", "20-surgery-global-rating", "global rating.csv", "--subject video --rater examiner --item item --score score --scale ordinal", ratingLines("video,examiner,item,score", ",", r), r, "")
}

// ultrasound20: courses in German, French and English.
func ultrasound20() {
	l := log(2011, 7, "Böhm", "Jäger", "Krüger", "Löw", "Schütz", "Weiß")
	read("20-ultrasound-windows", "Kurs März.csv", "--trainee Teilnehmer --attempt Versuch --response Zeit~(s) --measure time --limit 300",
		latin(crlf(lines("Teilnehmer;Versuch;Zeit (s)", l, plain(";", comma)))), l)

	l = log(2012, 10, numbered("US%d", 8)...)
	b := newBook("Messung")
	b.log([]any{"Kürzel", "Durchgang", "Sekunden"}, l, longRow)
	read("20-ultrasound-ods", "FAST-Untersuchung.ods", "--trainee Kürzel --attempt Durchgang --response Sekunden --measure time --limit 300",
		office("20-ultrasound-ods", "FAST-Untersuchung.ods", b.bytes()), l)

	l = with(log(2013, 6, numbered("K%d", 7)...), func(a *at) { a.value = math.Round(2300 - 9*a.value) })
	doubt("20-ultrasound-thousands", "Punkte.csv", "--trainee Teilnehmer --attempt Versuch --response Punkte --measure score",
		lines("Teilnehmer;Versuch;Punkte", l, plain(";", func(v float64) string {
			if v >= 1000 {
				return fmt.Sprintf("%d.%03d", int(v)/1000, int(v)%1000)
			}
			return fmt.Sprint(v)
		})), l, "Points such as 1.384 stand beside points such as 980: the point parts thousands here, or is a decimal mark.")

	l = log(2014, 8, numbered("N%02d", 6)...)
	read("20-ultrasound-examiners-beside", "needle_guidance.ods", "--trainee code --attempt attempt --response seconds --measure time --limit 300",
		office("20-ultrasound-examiners-beside", "needle_guidance.ods", sheet20("Needle", lines("code,attempt,seconds,examiner 1,examiner 2", l, func(a at) string {
			return plain(",", point)(a) + fmt.Sprintf(",%d,%d", 2+min(a.n, 6)/2, 2+(a.n+int(a.value*10)%2)/3)
		}))), l)

	r := rate20(2015, 1, 10, numbered("clip %d", 9), []string{"AB", "CD", "EF"}, nil)
	head, body := grid20("clip", r)
	for i, line := range body {
		sum := 0
		for _, c := range line[1:] {
			sum += number20(c)
		}
		body[i] = append(line, fmt.Sprintf("%.2f", float64(sum)/3))
	}
	rated20("doubt", "20-ultrasound-mean-column", "clips.csv", "--subject clip --wide --scale interval", table20(",", append(head, "Mean"), body), r,
		"The last column Mean is the mean of the three raters, no rater.")

	l = log(2016, 9, numbered("P%d", 5)...)
	for s := range 3 {
		name := fmt.Sprint("Day ", s+1)
		if s == 0 {
			b = newBook(name)
		} else {
			b.next(name)
		}
		b.log([]any{"Participant", "Scan", "Seconds"}, only(l, func(a at) bool { return (a.n-1)/3 == s }), func(a at) []any { return []any{a.who, (a.n-1)%3 + 1, a.value} })
	}
	read("20-ultrasound-sheet-a-day", "three days.xlsx", "--trainee Participant --attempt Scan --response Seconds --measure time --limit 300 --sheets-are session", b.bytes(), l)

	l = rounded(log(2017, 8, numbered("T%d", 6)...), 1)
	b = newBook("Zeiten")
	b.log([]any{"Teilnehmer", "Versuch", "Zeit"}, l, func(a at) []any { return []any{a.who, a.n, a.value * 60 / 86400} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "h:mm")
	doubt("20-ultrasound-hours", "Zeiten min.xlsx", "--trainee Teilnehmer --attempt Versuch --response Zeit --measure time --limit 300", b.bytes(), l,
		"The time cells in column Zeit (format h:mm) hold hours and minutes, such as 1:38 as 1 h 38 min: minutes and seconds were typed.")

	l = log(2018, 5, numbered("E%02d", 7)...)
	survey := "ResponseId,Code,Try,Seconds\nResponse ID,What is your code?,Which try was this?,How many seconds did it take?\n" +
		`"{""ImportId"":""_recordId""}","{""ImportId"":""QID1_TEXT""}","{""ImportId"":""QID2_TEXT""}","{""ImportId"":""QID3_TEXT""}"`
	i := 0
	read("20-ultrasound-survey", "US course survey_February.csv", "--trainee Code --attempt Try --response Seconds --measure time --limit 300",
		lines(survey, l, func(a at) string {
			i++
			return fmt.Sprintf("R_%07dx%d,", i*7919%9999991, i) + plain(",", point)(a)
		}), l)
}

// veterinary20: students and a model of a dog.
func veterinary20() {
	l := log(2021, 8, numbered("étu%02d", 7)...)
	read("20-vet-unicode-text", "intubation.txt", "--trainee étudiant --attempt essai --response durée~(s) --measure time --limit 300",
		inUTF16(binary.LittleEndian, true, crlf(lines("étudiant\tessai\tdurée (s)", l, plain("\t", comma)))), l)

	l = log(2022, 7, numbered("%03d", 11)...)
	b := newBook("Catheter")
	b.log([]any{"Student", "Attempt", "Seconds"}, l, func(a at) []any { return []any{number20(a.who), a.n, a.value} })
	b.format("A2", fmt.Sprint("A", len(l)+1), "000")
	read("20-vet-number-format", "catheter.xlsx", "--trainee Student --attempt Attempt --response Seconds --measure time --limit 300", b.bytes(), l)

	l = log(2023, 7, numbered("vs%d", 8)...)
	doubt("20-vet-column-twice", "spay model.xlsx", "--trainee student --measure time --limit 300",
		sheet20("Spay", wide("student,T1,T2,T3,T4,T5,T6,T01", ",", l, point)), nil,
		"The heads T1 and T01 both say attempt 1: the last column is attempt 7, a baseline, or attempt 1 typed anew.")

	l = log(2024, 9, numbered("D%02d", 6)...)
	n := 0
	doubt("20-vet-zero-width", "bandage.csv", "--trainee student --attempt attempt --response seconds --measure time --limit 300",
		lines("student,attempt,seconds", l, func(a at) string {
			if n++; a.who == "D03" && a.n > 5 {
				a.who += "\u200b"
			}
			return plain(",", point)(a)
		}), l, "The code D03 of attempts 6 to 9 ends with an unseen zero-width space: the same student, or another.")

	l = log(2025, 8, numbered("Vet %d", 9)...)
	b = newBook("Times")
	b.row("A1", "Student", "1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th")
	b.wide(2, l, value)
	for i := range 8 {
		column, sum, squares := string(rune('B'+i)), 0.0, 0.0
		for _, a := range l {
			if a.n == i+1 {
				sum += a.value / 9
			}
		}
		for _, a := range l {
			if a.n == i+1 {
				squares += (a.value - sum) * (a.value - sum) / 8
			}
		}
		b.row(column+"11", math.Round(sum*10)/10)
		b.row(column+"12", math.Round(math.Sqrt(squares)*10)/10)
	}
	b.row("A11", "Mean")
	b.row("A12", "SD")
	read("20-vet-mean-row", "suture pad class.xlsx", "--trainee Student --measure time --limit 300", b.bytes(), l)

	l = log(2026, 12, numbered("st-%02d", 8)...)
	type stick struct {
		Student string  `parquet:"student,dict"`
		Attempt int32   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
	}
	var rows []stick
	for _, a := range l {
		rows = append(rows, stick{a.who, int32(a.n), a.value})
	}
	read("20-vet-parquet", "venipuncture.parquet", "--trainee student --attempt attempt --response seconds --measure time --limit 300",
		parquetKept("20-vet-parquet", "venipuncture.parquet", rows), l)

	l = log(2030, 5, "João", "Inês", "Mário", "Conceição", "Tomé", "Zélia")
	read("20-vet-portuguese", "sutura.ods", "--trainee Aluno --measure time --limit 300", office("20-vet-portuguese", "sutura.ods",
		sheet20("Folha1", wide("Aluno,Tentativa 1,Tentativa 2,Tentativa 3,Tentativa 4,Tentativa 5", ",", l, point))), l)

	doubt("20-vet-blank-errors", "asepsis errors.xlsx", "--trainee student --attempt attempt --response errors --measure count",
		sheet20("Errors", lines("student,attempt,errors", log(2027, 8, numbered("S%02d", 7)...), plain(",", func(v float64) string {
			if e := int((v - 75) / 25); e > 0 {
				return fmt.Sprint(e)
			}
			return ""
		}))), nil, "Counts of errors are blank in many rows and never 0: blank may mean no errors, or not counted.")

	b = newBook("log")
	b.log([]any{"student", "attempt", "seconds"}, log(2028, 10, numbered("S%d", 12)...), longRow)
	refuse("20-vet-cut", "upload.xlsx", "--trainee student --attempt attempt --response seconds --measure time", b.bytes()[:4500],
		"The workbook is cut off (the upload stopped): it has to be copied anew.")
}

// paramedics20: splints, airways and checklists.
func paramedics20() {
	l := log(2031, 9, numbered("M%02d", 7)...)
	read("20-paramedic-minutes", "airway.csv", "--trainee medic --attempt run --response time --measure time --limit 300",
		lines("medic,run,time", l, plain(",", minutes("%d:%02d.%d"))), l)

	l = log(2032, 8, numbered("Crew %d", 6)...)
	b := newBook("Splint")
	b.log([]any{"Medic", "Run", "Time"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "mm:ss.0")
	read("20-paramedic-time-cells", "splint.xlsx", "--trainee Medic --attempt Run --response Time --measure time --limit 300", b.bytes(), l)

	l = with(log(2033, 7, numbered("PM%d", 8)...), func(a *at) {
		tenths := int(math.Round(a.value * 10))
		a.value = math.Round(float64(tenths/10*10+tenths%6)) / 10 // hundredths below 60: nothing shows what they are
	})
	doubt("20-paramedic-stopwatch", "stopwatch.csv", "--trainee medic --attempt run --response time --measure time --limit 300",
		lines("medic,run,time", l, plain(",", minutes("%02d:%02d:%d0"))), l,
		"Times such as 01:38:40 in column time are minutes, seconds and hundredths of a stopwatch, or hours, minutes and seconds.")

	l = log(2034, 6, numbered("P%d", 6)...)
	clock := time.Date(2026, 5, 4, 9, 2, 10, 0, time.UTC)
	doubt("20-paramedic-clock", "station 3.csv", "--trainee medic --attempt run --response time --measure time",
		lines("medic,run,time", l, plain(",", func(v float64) string {
			clock = clock.Add(time.Duration(v+75) * time.Second)
			return clock.Format("15:04:05")
		})), nil, "The column time holds times of day (from 09:06 on, rising down the file), not durations.")

	l = with(log(2035, 10, numbered("em%02d", 8)...), func(a *at) { a.value = math.Max(30, math.Round(118-a.value*0.45)) })
	read("20-paramedic-checklist", "checklist.xlsx", "--trainee medic --attempt scenario --response score --measure score",
		sheet20("Scores", lines("medic,scenario,score", l, plain(",", point))), l)

	l = with(log(2036, 8, numbered("A%d", 7)...), func(a *at) {
		switch {
		case a.n == 1 && (a.who == "A2" || a.who == "A6"):
			a.value, a.outcome = 300, "timeout"
		case a.n == 2 && a.who == "A6":
			a.value, a.outcome = 150, "timeout"
		}
	})
	doubt("20-paramedic-early-timeout", "tourniquet.xlsx", "--trainee medic --attempt run --response seconds --measure time --limit 300 --outcome outcome",
		sheet20("Tourniquet", lines("medic,run,seconds,outcome", l, func(a at) string { return plain(",", point)(a) + "," + a.outcome })), l,
		"Attempt 2 of A6 is a timeout at 150 s, but the limit is 300 s.")

	r := rate20(2037, 1, 7, numbered("S%02d", 12), []string{"R1", "R2"}, nil)
	rated20("read", "20-paramedic-ratings", "rescue ratings.csv", "--subject scenario --rater rater --score rating --scale interval", ratingLines("scenario,rater,rating", ",", r), r, "")

	l = log(2038, 7, numbered("RS%d", 6)...)
	read("20-paramedic-sep-line", "Rettung.csv", "--trainee Name --attempt Lauf --response Sekunden --measure time --limit 300",
		lines("sep=;\nName;Lauf;Sekunden", l, plain(";", comma)), l)

	l = rounded(log(2039, 9, numbered("m%02d", 6)...), 1)
	doubt("20-paramedic-point-minutes", "board.csv", "--trainee medic --attempt run --response time --measure time --limit 300",
		lines("medic,run,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) })), l,
		"Times such as 1.38 in column time, never above .59, are minutes and seconds (m.ss), decimal minutes, or seconds.")

	b = newBook("Runs")
	b.log([]any{"medic", "run", "seconds"}, log(2040, 6, numbered("P%d", 5)...), longRow)
	refuse("20-paramedic-print", "runs.csv", "--trainee medic --attempt run --response seconds --measure time",
		officeFrom("20-paramedic-print", "runs.csv", ".xlsx", "pdf", b.bytes()), "The file is a PDF print with the name of a CSV file: the table behind it is needed.")
}

// optics20: lens assembly with logs of instruments.
func optics20() {
	l := log(2041, 12, numbered("OP%d", 6)...)
	read("20-optics-returns", "collimator.txt", "--trainee operator --attempt lens --response seconds --measure time --limit 300",
		lineEnds(lines("operator\tlens\tseconds", l, plain("\t", point)), "\r"), l)

	l = log(2042, 8, numbered("asm%02d", 6)...)
	read("20-optics-dates-only", "bench log.csv", "--trainee assembler --date started --response seconds --measure time --limit 300",
		lines("started,assembler,seconds", l, func(a at) string {
			return moment20(a).Format("2006-01-02 15:04") + "," + a.who + "," + point(a.value)
		}), l)

	l = log(2043, 15, numbered("L%d", 5)...)
	read("20-optics-milliseconds", "timer_export.csv", "--trainee operator --attempt cycle --response duration_ms --measure time",
		lines("operator,cycle,duration_ms", l, plain(",", func(v float64) string { return fmt.Sprint(int(math.Round(v * 1000))) })), l)

	l = with(log(2044, 7, numbered("T%d", 7)...), func(a *at) {
		if int(a.value*10)%7 == 0 {
			a.value = math.Round(a.value)
		}
	})
	doubt("20-optics-comma-twice", "alignment.csv", "--trainee operator --attempt run --response seconds --measure time --limit 300",
		lines("operator,run,seconds,remark", l, func(a at) string { return plain(",", comma)(a) + "," }), l,
		"Times have a decimal comma in a file parted by commas: a row such as T1,1,138,4, has a cell more than the head.")

	l = log(2045, 8, numbered("V%02d", 6)...)
	b := newBook("Sheet 1")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Operator", "Day", "Seconds"}, l, func(a at) []any {
		return []any{a.who, int(time.Date(2026, 2, a.n*2, 0, 0, 0, 0, time.UTC).Sub(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24), a.value}
	})
	b.format("B2", fmt.Sprint("B", len(l)+1), "yyyy-mm-dd")
	read("20-optics-1904", "prism bonding.xlsx", "--trainee Operator --date Day --response Seconds --measure time --limit 300", b.bytes(), l)

	l = log(2046, 9, numbered("Q%d", 6)...)
	b = newBook("Runs")
	b.log([]any{"Operator", "Trial", "Seconds"}, l, func(a at) []any {
		return []any{a.who, time.Date(2026, time.Month((a.n-1)/3+1), (a.n-1)%3+1, 0, 0, 0, 0, time.UTC), a.value}
	})
	b.format("B2", fmt.Sprint("B", len(l)+1), "d-mmm")
	doubt("20-optics-trial-became-date", "trials.xlsx", "--trainee Operator --attempt Trial --response Seconds --measure time --limit 300", b.bytes(), l,
		"Column Trial holds dates such as 1-Jan: the trials 1-1, 1-2 of a session were turned into dates by the spreadsheet.")

	l = log(2047, 5, numbered("Op %d", 8)...)
	b = newBook("Fibre")
	b.row("A1", "Operator")
	for i := range 5 {
		from, to := string(rune('B'+2*i)), string(rune('C'+2*i))
		b.row(from+"1", fmt.Sprint("Attempt ", i+1))
		b.row(from+"2", "Time (s)", "Scratches")
		must(b.MergeCell(b.sheet, from+"1", to+"1"))
	}
	for i, a := range l {
		row := 3 + i/5
		b.row(fmt.Sprint("A", row), a.who)
		b.row(fmt.Sprint(string(rune('B'+2*(a.n-1))), row), a.value, int(a.value*10)%3)
	}
	read("20-optics-attempt-above", "fibre splice.xlsx", "--trainee Operator --measure time --limit 300", b.bytes(), l)

	b = newBook("data")
	b.log([]any{"operator", "run", "seconds"}, log(2048, 6, numbered("F%d", 6)...), longRow)
	refuse("20-optics-broken-xml", "macro export.xlsx", "--trainee operator --attempt run --response seconds --measure time",
		partReplaced(b.bytes(), "xl/worksheets/sheet1.xml", `<row r="9"`, `<row r="9" & `),
		"The sheet of the workbook is broken (its XML cannot be read in row 9): it has to be saved anew.")

	l = log(2049, 7, "JE-1", "JE-2", "JE-3", "GR-1", "GR-2", "GR-3")
	t := read("20-optics-two-sites", ".", "", nil, l)
	t.files = map[string][]byte{
		"study.yaml": []byte("title: Lens seating at two sites\ntasks: [{name: seating, measure: time, column: seconds, limit: 300}]\nattempts:\n  files: [jena.csv, graz.csv]\n"),
		"jena.csv":   lines("trainee;attempt;seconds", l[:21], plain(";", comma)),
		"graz.csv":   lines("trainee,attempt,seconds", l[21:], plain(",", point)),
	}
}

// cooking20: a cooking school times a brunoise and a filleted fish.
func cooking20() {
	l := log(2051, 6, "Ada", "Bruno", "Chiara", "Dario", "Elif", "Femke", "Goran", "Hana")
	read("20-cooking-wide", "brunoise.csv", "--trainee cook --measure time",
		wide("cook,Try 1,Try 2,Try 3,Try 4,Try 5,Try 6", ",", l, point), l)

	l = log(2052, 12, numbered("c%02d", 5)...)
	read("20-cooking-restart", "filleting.xlsx", "--trainee cook --session evening --attempt try --response seconds --measure time --limit 300",
		sheet20("Evenings", lines("cook,evening,try,seconds", l, func(a at) string {
			return fmt.Sprint(a.who, ",", (a.n-1)/4+1, ",", (a.n-1)%4+1, ",", a.value)
		})), l)

	l = log(2053, 6, numbered("K%d", 4)...)
	who, number, seconds := "cook", "attempt", "seconds"
	for _, a := range l {
		who, number, seconds = who+","+a.who, number+","+fmt.Sprint(a.n), seconds+","+point(a.value)
	}
	read("20-cooking-transposed", "plating.csv", "--trainee cook --attempt attempt --response seconds --measure time --limit 300 --transposed",
		[]byte(who+"\n"+number+"\n"+seconds+"\n"), l)

	l = log(2054, 6, numbered("chef%d", 8)...)
	l = with(l, func(a *at) {
		if a.who > "chef5" {
			a.value = math.Round(math.Round(a.value/6)*60) / 10
		}
	})
	doubt("20-cooking-mixed-units", "omelette.ods", "--trainee cook --attempt try --response time --measure time --limit 300",
		office("20-cooking-mixed-units", "omelette.ods", sheet20("Omelette", lines("cook,try,time", l, func(a at) string {
			if a.who > "chef5" {
				return fmt.Sprintf("%s,%d,%.1f", a.who, a.n, a.value/60)
			}
			return plain(",", point)(a)
		}))), l, "The times of chef6 to chef8 (such as 2.3) are in minutes, those of the others in seconds.")

	l = rounded(log(2055, 7, numbered("Koch %d", 6)...), 1)
	doubt("20-cooking-day-fractions", "pastry.csv", "--trainee cook --measure time --limit 300",
		wide("cook,1,2,3,4,5,6,7", ",", l, func(v float64) string { return fmt.Sprintf("%.9f", v/86400) }), l,
		"The times (such as 0.001597222) are parts of a day as a spreadsheet keeps them, not seconds.")

	l = with(log(2056, 6, numbered("P%d", 7)...), func(a *at) { a.value = math.Max(35, math.Round(115-a.value*0.4)) })
	b := newBook("Tasting")
	b.log([]any{"Cook", "Dish", "Score"}, l, longRow)
	for i, a := range l {
		if a.who == "P3" || a.who == "P6" {
			cell := fmt.Sprint("C", i+2)
			b.row(cell, a.value/100)
			b.format(cell, cell, "0%")
		}
	}
	doubt("20-cooking-percent", "tasting.xlsx", "--trainee Cook --attempt Dish --response Score --measure score", b.bytes(), l,
		"The scores of P3 and P6 are percent cells (85 % is kept as 0.85), the others plain numbers such as 85.")

	l = log(2057, 9, "Mira", "Noor", "Otto", "Pia", "Quentin")
	for i := 0; i < len(l); i += 9 {
		if i == 0 {
			b = newBook(l[i].who)
		} else {
			b.next(l[i].who)
		}
		b.log([]any{"Attempt", "Seconds"}, l[i:i+9], func(a at) []any { return []any{a.n, a.value} })
	}
	read("20-cooking-sheet-a-cook", "one sheet each.xlsx", "--attempt Attempt --response Seconds --measure time --limit 300 --sheets-are trainee", b.bytes(), l)

	l = log(2058, 6, numbered("cook%d", 7)...)
	b = newBook("Julienne")
	b.row("A1", "Cook")
	for i := range 6 {
		b.row(string(rune('B'+i))+"1", time.Date(2026, 1, 14+7*i, 0, 0, 0, 0, time.UTC))
	}
	b.format("B1", "G1", "yyyy-mm-dd")
	b.wide(2, l, value)
	read("20-cooking-date-heads", "julienne weekly.xlsx", "--trainee Cook --measure time --limit 300", b.bytes(), l)

	l = rounded(log(2060, 7, numbered("Team %d", 6)...), 1)
	b = newBook("Plating")
	b.log([]any{"Cook", "Try", "Time"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "h:mm:ss")
	doubt("20-cooking-exported", "plated.csv", "--trainee Cook --attempt Try --response Time --measure time --limit 300",
		office("20-cooking-exported", "plated.csv", b.bytes()), l,
		"The column Time was exported as times of day just after midnight (12:02:59 AM): durations of minutes and seconds are meant.")

	r := rate20(2059, 0, 1, numbered("plate%02d", 12), []string{"juror A", "juror B"}, nil)
	for i := range r {
		word := map[string][]string{"0": {"no", "No"}, "1": {"yes", "Yes", "YES"}}[r[i][3]]
		r[i][3] = word[i%len(word)]
	}
	rated20("doubt", "20-cooking-yes", "plates.ods", "--subject plate --rater juror --score clean --scale nominal", office("20-cooking-yes", "plates.ods", sheet20("Plates", ratingLines("plate,juror,clean", ",", r))), fold20(r),
		"The answers are written yes, Yes and YES (and no, No): two categories, not five.")
}

// implants20: dental implants on jaw models.
func implants20() {
	l := log(2061, 7, "Álvaro", "Begoña", "Íñigo", "Núria", "Óscar", "Saúl")
	read("20-implant-spanish", "implantes.csv", "--trainee Alumno --measure time --limit 300",
		append([]byte("\ufeff"), wide("Alumno;Intento 1;Intento 2;Intento 3;Intento 4;Intento 5;Intento 6;Intento 7", ";", l, comma)...), l)

	l = log(2062, 8, numbered("DI%02d", 6)...)
	b := newBook("Osteotomy")
	b.row("A1", "Dentist", "Attempt", "Min", "Sec", "Seconds")
	for i, a := range l {
		tenths := int(math.Round(a.value * 10))
		b.row(fmt.Sprint("A", i+2), a.who, a.n, tenths/600, float64(tenths%600)/10)
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("C%d*60+D%d", i+2, i+2)))
	}
	read("20-implant-calculated", "osteotomy.xlsx", "--trainee Dentist --attempt Attempt --response Seconds --measure time --limit 300",
		office("20-implant-calculated", "osteotomy.xlsx", b.bytes()), l)

	l = log(2063, 5, numbered("J%d", 7)...)
	b = newBook("Drill")
	b.row("A1", "Dentist", "Try 1", "Try 2", "Try 3", "Try 4", "Try 5")
	b.wide(2, l, value)
	for i, a := range l {
		if a.n == 4 {
			must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i/5+2), fmt.Sprintf("%d*60+%.1f", int(a.value)/60, a.value-float64(int(a.value)/60*60))))
		}
	}
	doubt("20-implant-not-calculated", "drill.xlsx", "--trainee Dentist --measure time --limit 300", b.bytes(), l,
		"The cells of column Try 4 are formulas whose values were never calculated: the program that wrote the file left them blank.")

	l = log(2064, 8, numbered("imp-%d", 6)...)
	other := log(2065, 8, numbered("imp-%d", 6)...)
	i := 0
	read("20-implant-one-task", "jaw model.xlsx", "--trainee dentist --attempt attempt --response seconds --measure time --limit 300 --where region=anterior",
		sheet20("Jaw", lines("dentist,region,attempt,seconds", l, func(a at) string {
			o := other[i]
			i++
			return fmt.Sprintf("%s,anterior,%d,%v\n%s,posterior,%d,%v", a.who, a.n, a.value, o.who, o.n, o.value)
		})), l)

	r := rate20(2066, 2, 9, numbered("model %d", 11), []string{"Rater 1", "Rater 2", "Rater 3", "Rater 4"}, nil)
	b = newBook("Ratings")
	head, body := grid20("Model", r)
	b.row("A1", cells20(head)...)
	for i, line := range body {
		b.row(fmt.Sprint("A", i+2), cells20(line)...)
	}
	rated20("read", "20-implant-raters", "position of implants.xlsx", "--subject Model --wide --scale interval", b.bytes(), r, "")

	l = with(log(2067, 7, numbered("d%02d", 8)...), func(a *at) {
		if a.n == 1 && (a.who == "d03" || a.who == "d07") || a.n == 4 && a.who == "d05" {
			a.value, a.outcome = math.NaN(), "void"
		}
	})
	doubt("20-implant-999", "guided.xlsx", "--trainee dentist --attempt attempt --response seconds --measure time --limit 300",
		sheet20("Guided", lines("dentist,attempt,seconds", l, plain(",", func(v float64) string {
			if math.IsNaN(v) {
				return "999"
			}
			return point(v)
		}))), nil, "999 stands three times in column seconds (d03 and d07 attempt 1, d05 attempt 4), far above the limit: a code for no value.")

	l = log(2068, 9, numbered("I%d", 6)...)
	experts := with(log(2069, 3, "X1", "X2", "X3", "X4"), func(a *at) { a.value = math.Round((44+float64(int(a.value*10)%140)/10)*10) / 10 })
	t := read("20-implant-experts", ".", "", nil, l)
	t.Experts = experts
	t.files = map[string][]byte{
		"study.yaml":  []byte("title: Cover screw\npurpose: research\ntasks: [{name: screw, measure: time, column: seconds, unit: s, better: lower, limit: 300}]\nattempts: {file: log.csv}\nexperts: {file: experts.csv}\n"),
		"log.csv":     lines("trainee,attempt,seconds", l, plain(",", point)),
		"experts.csv": lines("expert,attempt,seconds", experts, plain(",", point)),
	}

	l = log(2070, 10, numbered("P%02d", 6)...)
	type torque struct {
		Dentist string  `parquet:"dentist"`
		Trial   int64   `parquet:"trial"`
		Time    float32 `parquet:"time_s"`
	}
	var rows []torque
	for _, a := range l {
		rows = append(rows, torque{a.who, int64(a.n), float32(a.value)})
	}
	read("20-implant-single-precision", "torque.parquet", "--trainee dentist --attempt trial --response time_s --measure time --limit 300",
		parquetKept("20-implant-single-precision", "torque.parquet", rows), l)

	r = rate20(2071, 1, 10, numbered("case%02d", 10), []string{"U", "V", "W"}, nil)
	text := bytes.Replace(ratingLines("case,rater,score", ",", r), []byte("case04,V,"+r[10][3]+"\n"), []byte("case04,V,NA\n"), 1)
	rated20("doubt", "20-implant-na", "cases.xlsx", "--subject case --rater rater --score score --scale interval", sheet20("Cases", text), append(append([][4]string{}, r[:10]...), r[11:]...),
		"The score of case04 by V is NA among numbers: no rating, or a category.")

	b = newBook("x")
	b.log([]any{"dentist", "attempt", "seconds"}, log(2072, 6, numbered("N%d", 5)...), longRow)
	refuse("20-implant-bad-reference", "from the device.xlsx", "--trainee dentist --attempt attempt --response seconds --measure time",
		partReplaced(b.bytes(), "xl/worksheets/sheet1.xml", `r="C7"`, `r="7C"`),
		"The workbook holds a cell with the place 7C, which is none: it is damaged and has to be saved anew.")
}

// police20: first aid at a police academy.
func police20() {
	l := log(2081, 6, numbered("cadet %02d", 9)...)
	read("20-police-no-mark", "tourniquet.csv", "--trainee cadet --attempt attempt --response seconds --measure time --limit 300",
		inUTF16(binary.BigEndian, false, lines("cadet,attempt,seconds", l, plain(",", point))), l)

	l = log(2082, 8, numbered("C%02d", 7)...)
	doubt("20-police-point-lost", "bandage.ods", "--trainee cadet --attempt attempt --response seconds --measure time --limit 300",
		office("20-police-point-lost", "bandage.ods", sheet20("Bandage", lines("cadet,attempt,seconds", l, func(a at) string {
			if a.who == "C05" && a.n == 6 {
				return fmt.Sprint("C05,6,", int(math.Round(a.value*10)))
			}
			return plain(",", point)(a)
		}))), l, fmt.Sprintf("Attempt 6 of C05 is %v s, far above the limit of 300 s: the decimal point was not typed.", math.Round(find20(l, "C05", 6)*10)))

	l = with(log(2083, 10, numbered("P%d", 8)...), func(a *at) {
		pass := a.value < 100
		a.value = 0
		if pass {
			a.value = 1
		}
	})
	read("20-police-pass-fail", "resuscitation.csv", "--trainee cadet --attempt attempt --response passed --measure pass-fail",
		lines("cadet,attempt,passed", l, plain(",", point)), l)

	l = with(log(2084, 9, numbered("class%02d", 7)...), func(a *at) {
		pass := a.value < 90
		a.value = 0
		if pass {
			a.value = 1
		}
	})
	doubt("20-police-zero-one", "recovery position.tsv", "--trainee cadet --attempt attempt --response result",
		lines("cadet\tattempt\tresult", l, plain("\t", point)), l,
		"The column result holds only 0 and 1 and no --measure is given: passed or not, or a score?")

	l = log(2085, 7, numbered("K%02d", 7)...)
	b := newBook("Attempts")
	b.log([]any{"Cadet", "Attempt", "Seconds"}, l, longRow)
	for i, a := range l {
		if a.who == "K03" && a.n > 4 {
			must(b.SetRowVisible(b.sheet, i+2, false))
		}
	}
	doubt("20-police-hidden-rows", "filtered.xlsx", "--trainee Cadet --attempt Attempt --response Seconds --measure time --limit 300", b.bytes(), l,
		"Rows 20 to 22 (K03, attempts 5 to 7) are hidden: meant to be left out, or only out of sight.")

	l = rounded(log(2086, 8, numbered("Z%d", 6)...), 1)
	b = newBook("Pressure")
	b.log([]any{"Cadet", "Attempt", "Time"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "[h]:mm:ss")
	read("20-police-durations", "pressure.ods", "--trainee Cadet --attempt Attempt --response Time --measure time --limit 300",
		office("20-police-durations", "pressure.ods", b.bytes()), l)

	l = log(2087, 6, "Lind, A.", "Moore, B.", "Nowak, C.", "Okafor, D.", "Perez, E.", "Quist, F.")
	read("20-police-names", "roll call.csv", "--trainee name --attempt attempt --response seconds --measure time --limit 300",
		lines(`"name","attempt","seconds"`, l, func(a at) string { return fmt.Sprintf(`"%s","%d","%v"`, a.who, a.n, a.value) }), l)

	l = log(2088, 6, numbered("PA%02d", 10)...)
	b = newBook("Squad A")
	b.log([]any{"Cadet", "Attempt", "Seconds"}, l[:30], longRow)
	b.next("Squad B")
	b.log([]any{"Cadet", "Attempt", "Seconds"}, l[30:], longRow)
	doubt("20-police-two-squads", "squads.xlsx", "--trainee Cadet --attempt Attempt --response Seconds --measure time --limit 300", b.bytes(), l,
		"The workbook has two sheets with the same columns, Squad A and Squad B: one alone leaves half of the cadets out.")

	b = newBook("log")
	b.log([]any{"cadet", "attempt", "seconds"}, log(2089, 6, numbered("C%d", 6)...), longRow)
	refuse("20-police-control-character", "scanner.xlsx", "--trainee cadet --attempt attempt --response seconds --measure time",
		partReplaced(b.bytes(), "xl/sharedStrings.xml", "C4", "C4\x02"),
		"The texts of the workbook hold a control character that no workbook may hold: it is damaged and has to be saved anew.")

	r := rate20(2090, 1, 3, numbered("V%d", 12), []string{"Instructor 1", "Instructor 2", "Instructor 3"}, nil)
	for i := range r {
		r[i][3] = []string{"", "fail", "borderline", "pass"}[number20(r[i][3])]
	}
	b = newBook("Verdicts")
	b.row("A1", "Video", "Instructor", "Verdict")
	for i, x := range r {
		b.row(fmt.Sprint("A", i+2), x[0], x[1], x[3])
	}
	rated20("read", "20-police-verdicts", "verdicts.ods", "--subject Video --rater Instructor --score Verdict --scale nominal",
		office("20-police-verdicts", "verdicts.ods", b.bytes()), r, "")

	l = only(log(2119, 8, numbered("G%02d", 8)...), func(a at) bool { return a.n <= 4 || a.who < "G05" || a.n <= 6 && a.who < "G07" })
	text, last := "", 8
	for _, a := range l {
		if a.n == 1 {
			text += strings.Repeat(",", 8-last) + "\n" + a.who
		}
		text, last = text+","+point(a.value), a.n
	}
	read("20-police-fewer-attempts", "airway positions.csv", "--trainee cadet --measure time --limit 300",
		[]byte("cadet,attempt_1,attempt_2,attempt_3,attempt_4,attempt_5,attempt_6,attempt_7,attempt_8"+text+strings.Repeat(",", 8-last)+"\n"), l)

	l = log(2091, 8, numbered("A%d", 6)...)
	t := read("20-police-file-a-day", ".", "", nil, l)
	local := func(a at) string { return fmt.Sprint(a.who, ",", (a.n-1)%4+1, ",", a.value) }
	t.files = map[string][]byte{
		"study.yaml": []byte("title: Stretcher\ntasks: [{name: stretcher, measure: time, column: seconds, limit: 300}]\nattempts:\n  files: [day1.csv, day2.csv]\n  files_are: session\n"),
		"day1.csv":   lines("trainee,attempt,seconds", only(l, func(a at) bool { return a.n <= 4 }), local),
		"day2.csv":   lines("trainee,attempt,seconds", only(l, func(a at) bool { return a.n > 4 }), local),
	}
}

// robotics20: teleoperation trainers with logs of data programs.
func robotics20() {
	l := log(2101, 10, numbered("op%02d", 8)...)
	i := -1
	read("20-robotics-index", "teleop.csv", "--trainee operator --attempt run --response duration_s --measure time --limit 300",
		lines(",operator,run,duration_s", l, func(a at) string {
			i++
			return fmt.Sprint(i, ",", plain(",", point)(a))
		}), l)

	l = log(2102, 9, "RA", "RB", "RC", "RD", "RE", "RF")
	b := newBook("Gripper")
	b.row("A1", "Run", "RA", "RB", "RC", "RD", "RE", "RF")
	for i := range 9 {
		b.row(fmt.Sprint("A", i+2), i+1)
	}
	for i, a := range l {
		b.row(fmt.Sprint(string(rune('B'+i/9)), a.n+1), a.value)
	}
	read("20-robotics-column-a-trainee", "gripper.xlsx", "--attempt Run --columns-are trainee --measure time --limit 300", b.bytes(), l)

	l = log(2103, 5, numbered("tr%d", 9)...)
	type arm struct {
		Operator string  `parquet:"operator"`
		T1       float64 `parquet:"time_1"`
		T2       float64 `parquet:"time_2"`
		T3       float64 `parquet:"time_3"`
		T4       float64 `parquet:"time_4"`
		T5       float64 `parquet:"time_5"`
	}
	var rows []arm
	for i := 0; i < len(l); i += 5 {
		rows = append(rows, arm{l[i].who, l[i].value, l[i+1].value, l[i+2].value, l[i+3].value, l[i+4].value})
	}
	read("20-robotics-wide-parquet", "pick_place.parquet", "--trainee operator --measure time --limit 300",
		parquetKept("20-robotics-wide-parquet", "pick_place.parquet", rows), l)

	l = log(2104, 8, numbered("rob%d", 7)...)
	doubt("20-robotics-no-measure", "docking.csv", "--trainee operator --attempt run --response completion_time",
		lines("operator,run,completion_time", l, plain(",", point)), l,
		"The column completion_time holds times, but no --measure is given: as a score more would be better.")

	l = log(2105, 8, numbered("B%d", 6)...)
	doubt("20-robotics-limit-in-minutes", "welding.ods", "--trainee operator --attempt run --response seconds --measure time --limit 5",
		office("20-robotics-limit-in-minutes", "welding.ods", sheet20("Welding", lines("operator,run,seconds", l, plain(",", point)))), l,
		"The limit given is 5, but the times (column seconds) are 40 to 220: the limit is in minutes.")

	type run struct {
		Operator string  `parquet:"operator"`
		Run      int32   `parquet:"run"`
		Seconds  float64 `parquet:"seconds"`
	}
	var runs []run
	for _, a := range log(2106, 15, numbered("C%02d", 12)...) {
		runs = append(runs, run{a.who, int32(a.n), a.value})
	}
	refuse("20-robotics-cut-parquet", "cable.parquet", "--trainee operator --attempt run --response seconds --measure time",
		half20(parquetKept("20-robotics-cut-parquet", "cable.parquet", runs)), "The Parquet file is cut off: its end, where the columns are described, is missing.")

	refuse("20-robotics-json", "trainer log.csv", "--trainee operator --attempt run --response seconds --measure time",
		append(bytes.TrimSuffix(lines("[", log(2107, 5, numbered("R%d", 5)...), func(a at) string {
			return fmt.Sprintf(` {"operator": "%s", "run": %d, "seconds": %v},`, a.who, a.n, a.value)
		}), []byte(",\n")), "\n]\n"...), "The file is JSON with the name of a CSV file: it has to be exported as a table.")

	l = log(2108, 8, numbered("q%d", 6)...)
	t := doubt("20-robotics-overlap", ".", "", nil, l, "Attempts 5 of everybody stand in both may.csv and june.csv: the rows were copied over and would count twice.")
	t.files = map[string][]byte{
		"study.yaml": []byte("title: Valve\ntasks: [{name: valve, measure: time, column: seconds, limit: 300}]\nattempts:\n  files: [may.csv, june.csv]\n"),
		"may.csv":    lines("trainee,attempt,seconds", only(l, func(a at) bool { return a.n <= 5 }), plain(",", point)),
		"june.csv":   lines("trainee,attempt,seconds", only(l, func(a at) bool { return a.n >= 5 }), plain(",", point)),
	}

	l = log(2109, 7, numbered("u%02d", 7)...)
	j := 0
	read("20-robotics-row-names", "dat.txt", "--trainee id --attempt trial --response secs --measure time --limit 300",
		lines(`"id" "trial" "secs"`, l, func(a at) string {
			j++
			return fmt.Sprintf(`"%d" "%s" %d %v`, j, a.who, a.n, a.value)
		}), l)

	l = log(2120, 6, numbered("Arm%d", 8)...)
	b = newBook("Insertion")
	b.row("A1", "Operator", "Week 1", nil, nil, "Week 2", nil, nil)
	b.row("A2", nil, "Run 1", "Run 2", "Run 3", "Run 4", "Run 5", "Run 6")
	b.row("A3", nil, "s", "s", "s", "s", "s", "s")
	must(b.MergeCell(b.sheet, "A1", "A3"))
	must(b.MergeCell(b.sheet, "B1", "D1"))
	must(b.MergeCell(b.sheet, "E1", "G1"))
	b.wide(4, l, value)
	read("20-robotics-three-head-rows", "insertion.xlsx", "--trainee Operator --measure time --limit 300", b.bytes(), l)

	r := rate20(2110, 1, 7, numbered("rec%02d", 12), []string{"Kim", "Lopez"}, nil)
	head, body := grid20("recording", r)
	for i := range body {
		body[i] = append(body[i][:1:1], append([]string{fmt.Sprint(i/2 + 1)}, body[i][1:]...)...)
	}
	rated20("doubt", "20-robotics-trainee-number", "recordings.csv", "--subject recording --wide --scale interval",
		table20(",", append([]string{"recording", "trainee"}, head[1:]...), body), r,
		"The column trainee holds the number of the trainee beside the raters Kim and Lopez: it is no rater.")
}

// phlebotomy20: blood draws at a laboratory.
func phlebotomy20() {
	l := log(2111, 7, numbered("PH%d", 6)...)
	b := newBook("Draws")
	b.log([]any{"Time of draw", "Trainee", "Seconds"}, l, func(a at) []any { return []any{moment20(a), a.who, a.value} })
	b.format("A2", fmt.Sprint("A", len(l)+1), "yyyy-mm-dd hh:mm")
	read("20-phlebotomy-moments", "draws.xlsx", "--trainee Trainee --date Time~of~draw --response Seconds --measure time --limit 300",
		office("20-phlebotomy-moments", "draws.xlsx", b.bytes()), l)

	l = rounded(log(2112, 9, numbered("lab%02d", 6)...), 0.6)
	read("20-phlebotomy-decimal-minutes", "butterfly.csv", "--trainee trainee --attempt draw --response time~(min) --measure time",
		lines("trainee,draw,time (min)", l, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) })), l)

	l = log(2113, 8, numbered("X%d", 6)...)
	doubt("20-phlebotomy-crossover", "arm or mannequin.csv", "--trainee trainee --attempt draw --response seconds --measure time --limit 300 --arm device",
		lines("trainee,draw,device,seconds", l, func(a at) string {
			device := []string{"arm", "mannequin"}[(int(a.who[1]-'0')+(a.n-1)/4)%2]
			return fmt.Sprint(a.who, ",", a.n, ",", device, ",", a.value)
		}), l, "Everybody has both devices, changing after draw 4 (a crossover): a trainee has no one arm.")

	l = log(2114, 8, numbered("t%02d", 8)...)
	t := read("20-phlebotomy-arms", "two courses.ods", "--trainee trainee --attempt draw --response seconds --measure time --limit 300 --arm course",
		office("20-phlebotomy-arms", "two courses.ods", sheet20("Courses", lines("trainee,course,draw,seconds", l, func(a at) string {
			return fmt.Sprint(a.who, ",", course20(a.who), ",", a.n, ",", a.value)
		}))), l)
	t.Arms = map[string]string{}
	for _, a := range l {
		t.Arms[a.who] = course20(a.who)
	}

	l = log(2115, 8, numbered("D%d", 6)...)
	experts := with(log(2116, 3, "E1", "E2", "E3"), func(a *at) { a.value = float64(39 + 3*(int(a.value*10)%6)) })
	t = doubt("20-phlebotomy-experts-in-minutes", ".", "", nil, l, "The experts' times in experts.csv (such as 0.75) are in minutes, those of the trainees in seconds.")
	t.Experts = experts
	t.files = map[string][]byte{
		"study.yaml":  []byte("title: Vacuum tube\ntasks: [{name: tube, measure: time, column: time, limit: 300}]\nattempts: {file: log.csv}\nexperts: {file: experts.csv}\n"),
		"log.csv":     lines("trainee,attempt,time", l, plain(",", point)),
		"experts.csv": lines("expert,attempt,time", experts, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) })),
	}

	l = rounded(log(2117, 10, numbered("PB-%d", 6)...), 1)
	b = newBook("Sheet1")
	b.row("A1", "Laboratory phlebotomy course")
	must(b.MergeCell(b.sheet, "A1", "C1"))
	b.row("A3", "Trainee", "Draw", "Duration")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+4), a.who, a.n, a.value/86400)
	}
	b.format("C4", fmt.Sprint("C", len(l)+3), "h:mm:ss")
	b.row(fmt.Sprint("A", len(l)+5), "Draws longer than 5 minutes would have been stopped.")
	read("20-phlebotomy-notes", "course sheet.xlsx", "--trainee Trainee --attempt Draw --response Duration --measure time --limit 300", b.bytes(), l)

	l = rounded(log(2121, 8, numbered("vp%d", 6)...), 1)
	read("20-phlebotomy-minutes-in-words", "winged set.csv", "--trainee trainee --attempt draw --response time --measure time --limit 300",
		lines("trainee,draw,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%d min %02d s", int(v)/60, int(v)%60) })), l)

	l = log(2118, 9, numbered("n%02d", 6)...)
	read("20-phlebotomy-comments", "tube.csv", "--trainee trainee --attempt draw --response seconds --measure time --limit 300",
		lines("# laboratory trainer, firmware 2.4\n# unit of time: s\ntrainee,draw,seconds", l, plain(",", point)), l)
}

func course20(who string) string {
	if who > "t04" {
		return "video first"
	}
	return "bench first"
}

func find20(l []at, who string, n int) float64 {
	return only(l, func(a at) bool { return a.who == who && a.n == n })[0].value
}

// moment20 is when an attempt was made: one a day and trainee, at another minute each.
func moment20(a at) time.Time {
	last := int(a.who[len(a.who)-1] - '0')
	return time.Date(2026, 3, 1+a.n, 9, 5+7*last, 0, 0, time.UTC)
}

// sheet20 is a workbook of one sheet with the cells of a table parted by commas.
func sheet20(sheet string, table []byte) []byte {
	rows, err := csv.NewReader(bytes.NewReader(table)).ReadAll()
	must(err)
	b := newBook(sheet)
	for i, row := range rows {
		cells := make([]any, len(row))
		for j, s := range row {
			if v, err := strconv.ParseFloat(s, 64); err == nil {
				cells[j] = v
			} else if day, err := time.Parse("2006-01-02", s); err == nil {
				cells[j] = day
			} else if s != "" {
				cells[j] = s
			}
		}
		b.row(fmt.Sprint("A", i+1), cells...)
	}
	return b.bytes()
}

// half20 cuts a Parquet file off, unless that was done before.
func half20(data []byte) []byte {
	if !bytes.HasSuffix(data, []byte("PAR1")) {
		return data
	}
	return data[:len(data)*3/5]
}

// rate20 makes up ratings from low to high: raters see much the same.
func rate20(seed, low, high int, subjects, raters, items []string) [][4]string {
	if items == nil {
		items = []string{""}
	}
	var out [][4]string
	r := uint32(seed)*2654435761 + 99
	draw := func(n int) int { r = r*1664525 + 1013904223; return int(r>>16) % n }
	for _, s := range subjects {
		able := low + draw(high-low+1)
		for _, rater := range raters {
			for _, item := range items {
				v := able
				switch draw(5) {
				case 0:
					v = min(high, v+1)
				case 1:
					v = max(low, v-1)
				}
				out = append(out, [4]string{s, rater, item, fmt.Sprint(v)})
			}
		}
	}
	return out
}

// grid20 is a row a subject and a column a rater.
func grid20(subject string, r [][4]string) (head []string, body [][]string) {
	head = []string{subject}
	for _, x := range r {
		if x[0] == r[0][0] {
			head = append(head, x[1])
		}
		if len(body) == 0 || body[len(body)-1][0] != x[0] {
			body = append(body, []string{x[0]})
		}
		body[len(body)-1] = append(body[len(body)-1], x[3])
	}
	return head, body
}

func table20(sep string, head []string, body [][]string) []byte {
	out := strings.Join(head, sep) + "\n"
	for _, line := range body {
		out += strings.Join(line, sep) + "\n"
	}
	return []byte(out)
}

// cells20 are texts as cells, numbers as numbers.
func cells20(texts []string) []any {
	var out []any
	for _, s := range texts {
		if v, err := strconv.Atoi(s); err == nil {
			out = append(out, v)
		} else {
			out = append(out, s)
		}
	}
	return out
}

func number20(s string) int {
	v, err := strconv.Atoi(s)
	must(err)
	return v
}

// fold20 is ratings with one spelling a category.
func fold20(r [][4]string) [][4]string {
	var out [][4]string
	for _, x := range r {
		x[3] = strings.ToLower(x[3])
		out = append(out, x)
	}
	return out
}

func rated20(verdict, folder, file, flags string, data []byte, r [][4]string, about string) {
	put(verdict, folder, file, flags, data, nil, about).Ratings = r
}
