package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"
)

// nineteenth is a set by a reviewer who does not believe that nothing is read wrongly in silence:
// for each thing known to go wrong, the form of it that is easiest to miss.
func nineteenth() {
	plainTexts19()
	plainBooks19()
	doubtfulTexts19()
	doubtfulBooks19()
	ratings19()
	studies19()
	unreadable19()
}

// means19 is the mean and the standard deviation of each attempt.
func means19(l []at, n int) (mean, sd []float64) {
	for i := 1; i <= n; i++ {
		var sum, squares, count float64
		for _, a := range l {
			if a.n == i {
				sum, squares, count = sum+a.value, squares+a.value*a.value, count+1
			}
		}
		m := sum / count
		mean = append(mean, math.Round(m*10)/10)
		sd = append(sd, math.Round(math.Sqrt((squares-count*m*m)/(count-1))*10)/10)
	}
	return mean, sd
}

func plainTexts19() {
	// A Greek clinic's timer writes UTF-16 without a mark of it.
	l := log(1901, 7, "Α1", "Α2", "Α3", "Α4", "Α5", "Α6")
	read("19-greek-utf16", "χρόνοι.txt", "--trainee Ασκούμενος --attempt Προσπάθεια --response Χρόνος~(s) --measure time",
		inUTF16(binary.LittleEndian, false, lines("Ασκούμενος\tΠροσπάθεια\tΧρόνος (s)", l, plain("\t", oneDigit))), l)

	// French names in Windows-1252 with decimal commas.
	l = log(1902, 6, "Zoé", "Anaïs", "Loïc", "Benoît", "Maëlle", "Jérôme")
	read("19-french-1252", "durees.csv", "--trainee Prénom --attempt Essai --response Durée~(s) --measure time --limit 300",
		encoded(charmap.Windows1252, lines("Prénom;Essai;Durée (s)", l, plain(";", oneDigitComma))), l)

	// Line ends of an old computer.
	l = rounded(log(1903, 9, "M11", "M12", "M13", "M14", "M15", "M16", "M17"), 1)
	read("19-carriage-returns", "bench log", "--trainee code --attempt trial --response secs --measure time",
		lineEnds(lines("code\ttrial\tsecs", l, plain("\t", point)), "\r"), l)

	// A line that names the separator.
	l = log(1904, 8, "P-01", "P-02", "P-03", "P-04", "P-05", "P-06", "P-07", "P-08")
	read("19-sep-line", "messung.csv", "--trainee Proband --attempt Durchgang --response Zeit --measure time",
		append([]byte("sep=;\r\n"), crlf(lines("Proband;Durchgang;Zeit", l, plain(";", oneDigitComma)))...), l)

	// German ordinals as heads.
	l = log(1905, 6, "K1", "K2", "K3", "K4", "K5", "K6", "K7")
	read("19-ordinal-heads", "versuche.txt", "--trainee Kürzel --measure time",
		wide(joined("\t", headCells("Kürzel", "%d. Versuch", 6)...), "\t", l, oneDigit), l)

	// Time and errors in turn.
	l = log(1906, 5, "N01", "N02", "N03", "N04", "N05", "N06", "N07", "N08")
	var b bytes.Buffer
	b.WriteString("Deltaker;Tid 1 (s);Feil 1;Tid 2 (s);Feil 2;Tid 3 (s);Feil 3;Tid 4 (s);Feil 4;Tid 5 (s);Feil 5")
	for _, a := range l {
		if a.n == 1 {
			b.WriteString("\n" + a.who)
		}
		fmt.Fprintf(&b, ";%s;%d", oneDigitComma(a.value), int(a.value*10)%4)
	}
	b.WriteString("\n")
	read("19-norwegian-in-turn", "resultater.csv", "--trainee Deltaker --measure time", bytes.Clone(b.Bytes()), l)

	// Comment lines of a timer.
	l = log(1907, 10, "u1", "u2", "u3", "u4", "u5", "u6")
	read("19-comments-of-a-timer", "export.csv", "--trainee user --attempt run --response elapsed_s --measure time --limit 240",
		append([]byte("# bench timer export\n# firmware 2.14\n# resolution 0.1 s\n#\n"), lines("user,run,elapsed_s", l, plain(",", oneDigit))...), l)

	// A survey's export: two more head rows.
	l = rounded(log(1908, 6, "ANKA", "BORA", "CELI", "DUNA", "EMRE", "FERI"), 1)
	b.Reset()
	b.WriteString("StartDate,Progress,ResponseId,Q2,Q3,Q4\n")
	b.WriteString("Start Date,Progress,Response ID,Your code word,Which attempt was this?,\"How long did it take, in seconds?\"\n")
	b.WriteString(`"{""ImportId"":""startDate""}","{""ImportId"":""progress""}","{""ImportId"":""_recordId""}","{""ImportId"":""QID2_TEXT""}","{""ImportId"":""QID3_TEXT""}","{""ImportId"":""QID4_TEXT""}"` + "\n")
	for i, a := range l {
		fmt.Fprintf(&b, "2026-02-%02d %02d:%02d:11,100,R_%07d,%s,%d,%s\n", 2+a.n, 9+i%6, (i*13)%60, 4410023+i*977, a.who, a.n, point(a.value))
	}
	read("19-survey", "Peg_transfer_February.csv", "--trainee Q2 --attempt Q3 --response Q4 --measure time", bytes.Clone(b.Bytes()), l)

	// R's write.table: the head has one name fewer than the rows have cells.
	l = log(1909, 8, "s01", "s02", "s03", "s04", "s05")
	b.Reset()
	b.WriteString("\"id\" \"trial\" \"time\"\n")
	for i, a := range l {
		fmt.Fprintf(&b, "\"%d\" \"%s\" %d %s\n", i+1, a.who, a.n, point(a.value))
	}
	read("19-row-names", "times.txt", "--trainee id --attempt trial --response time --measure time", bytes.Clone(b.Bytes()), l)

	// A wide table of a data program, with its index in front of everything.
	l = log(1910, 7, "A17", "A22", "A31", "A38", "A40", "A56", "A61", "A77", "A80")
	b.Reset()
	b.WriteString(",code,1,2,3,4,5,6,7")
	for i, a := range l {
		if a.n == 1 {
			fmt.Fprintf(&b, "\n%d,%s", i/7, a.who)
		}
		b.WriteString("," + oneDigit(a.value))
	}
	b.WriteString("\n")
	read("19-index-before-wide", "pivot.csv", "--trainee code --measure time", bytes.Clone(b.Bytes()), l)

	// A tablet lists the newest first; attempts are not numbered.
	l = log(1911, 6, "Ida", "Jon", "Kaja", "Liv", "Nils")
	b.Reset()
	b.WriteString("finished,name,seconds\n")
	back := slices.Clone(l)
	slices.SortStableFunc(back, func(x, y at) int { return y.n - x.n })
	for i, a := range back {
		fmt.Fprintf(&b, "2026-01-%02d %02d:%02d,%s,%s\n", 7+2*a.n, 16-i%5, (i*17)%60, a.who, point(a.value))
	}
	read("19-newest-first", "history.csv", "--trainee name --date finished --response seconds --measure time", bytes.Clone(b.Bytes()), l)

	// Numbers start again in each session.
	l = log(1912, 9, "C1", "C2", "C3", "C4", "C5", "C6")
	read("19-numbers-by-session", "three_evenings.csv", "--trainee cadet --session evening --attempt try --response sec --measure time",
		lines("cadet,evening,try,sec", l, func(a at) string {
			return fmt.Sprintf("%s,%d,%d,%s", a.who, (a.n-1)/3+1, (a.n-1)%3+1, point(a.value))
		}), l)

	// A head with a line break in it, all quoted, blank lines at the end.
	l = log(1913, 5, "R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "R9")
	read("19-broken-head", "table2.csv", "--trainee Resident --measure time",
		append([]byte("\ufeff"), append(wide("\"Resident\",\"Time 1\n(s)\",\"Time 2\n(s)\",\"Time 3\n(s)\",\"Time 4\n(s)\",\"Time 5\n(s)\"", ",", l,
			func(v float64) string { return `"` + oneDigit(v) + `"` }), "\n\n"...)...), l)

	// A listing with columns held by spaces.
	l = rounded(log(1914, 6, "B07", "B08", "B11", "B12", "B15"), 1)
	read("19-listing", "listing.lst", "--trainee PERSON --attempt TRIAL --response SECONDS --measure time",
		lines("PERSON   TRIAL   SECONDS", l, func(a at) string { return fmt.Sprintf("%-6s   %5d   %7.0f", a.who, a.n, a.value) }), l)

	// The unit in each cell, in Swedish.
	l = log(1915, 7, "Elev 1", "Elev 2", "Elev 3", "Elev 4", "Elev 5", "Elev 6")
	read("19-unit-in-cells", "övning.csv", "--trainee Elev --attempt Försök --response Tid --measure time",
		lines("Elev;Försök;Tid", l, plain(";", func(v float64) string { return oneDigitComma(v) + " sek" })), l)

	// Minutes and seconds in letters.
	l = rounded(log(1916, 6, "w2", "w3", "w5", "w7", "w9", "w10"), 1)
	read("19-letters", "stopwatch.csv", "--trainee who --attempt n --response lap --measure time",
		lines("who,n,lap", l, plain(",", func(v float64) string { return fmt.Sprintf("%dm%02ds", int(v)/60, int(v)%60) })), l)

	// Hours, minutes, seconds and hundredths of a video's marks.
	l = log(1917, 8, "Pia", "Olga", "Rosa", "Sami", "Timo")
	read("19-video-marks", "clips.tsv", "--trainee person --attempt clip --response length --measure time --limit 300",
		lines("person\tclip\tlength", l, plain("\t", minutes("00:%02d:%02d.%d0"))), l)

	// A database of records: wide, heads with underscores.
	l = log(1918, 6, "1001", "1002", "1003", "1004", "1005", "1006", "1007", "1008", "1009", "1010")
	read("19-records", "DATA_2026-04-11.csv", "--trainee record_id --measure time",
		wide(joined(",", headCells("record_id", "peg_time_%d", 6)...), ",", l, oneDigit), l)

	// Outcomes in Spanish, named and explained.
	l = with(log(1919, 6, "E1", "E2", "E3", "E4", "E5", "E6", "E7"), func(a *at) {
		if a.n == 1 && (a.who == "E2" || a.who == "E5") || a.n == 2 && a.who == "E5" {
			a.value, a.outcome = 240, "timeout"
		}
	})
	read("19-spanish-outcomes", "intentos.csv", "--trainee alumno --attempt intento --response segundos --outcome resultado --code completo=done --code agotado=timeout --measure time --limit 240",
		lines("alumno;intento;segundos;resultado", l, func(a at) string {
			return fmt.Sprint(a.who, ";", a.n, ";", oneDigitComma(a.value), ";", map[string]string{"done": "completo", "timeout": "agotado"}[a.outcome])
		}), l)

	// Over the limit is written as such.
	l = with(log(1920, 6, "H1", "H2", "H3", "H4", "H5", "H6"), func(a *at) {
		if a.n == 1 && a.who != "H3" {
			a.value, a.outcome = 180, "timeout"
		}
		a.value = min(a.value, 180)
		if a.value == 180 {
			a.outcome = "timeout"
		}
	})
	read("19-over-the-limit-said", "sheet.csv", "--trainee id --measure time --limit 180",
		wideOutcome19(joined(",", headCells("id", "attempt %d", 6)...), l, ">180"), l)

	// Japanese heads.
	l = log(1921, 10, "研修医A", "研修医B", "研修医C", "研修医D")
	read("19-japanese", "記録.csv", "--trainee 受講者 --attempt 回数 --response 時間(秒) --measure time",
		lines("受講者,回数,時間(秒)", l, plain(",", oneDigit)), l)

	// A Turkish table ends with the mean and the standard deviation.
	l = log(1922, 5, "Ayşe", "Burak", "Can", "Deniz", "Elif", "Fatma", "Gül", "Hakan")
	mean, sd := means19(l, 5)
	data := wide(joined(";", headCells("Katılımcı", "Deneme %d", 5)...), ";", l, oneDigitComma)
	for _, row := range []struct {
		name   string
		values []float64
	}{{"Ortalama", mean}, {"Std. sapma", sd}} {
		line := row.name
		for _, v := range row.values {
			line += ";" + oneDigitComma(v)
		}
		data = append(data, line+"\n"...)
	}
	read("19-turkish-mean", "süreler.csv", "--trainee Katılımcı --measure time", data, l)

	// Error counts with noughts where there were none.
	l = with(log(1923, 8, "d1", "d2", "d3", "d4", "d5", "d6"), func(a *at) { a.value = math.Max(0, math.Round((a.value-60)/25)) })
	read("19-counts", "drops.csv", "--trainee diver --attempt dive --response drops --measure count", lines("diver,dive,drops", l, plain(",", point)), l)

	// One column a trainee, in Czech.
	l = log(1924, 9, "Adam", "Bára", "Cyril", "Dana", "Emil")
	b.Reset()
	b.WriteString("Pokus;Adam;Bára;Cyril;Dana;Emil\n")
	for n := 1; n <= 9; n++ {
		fmt.Fprint(&b, n)
		for _, a := range l {
			if a.n == n {
				b.WriteString(";" + oneDigitComma(a.value))
			}
		}
		b.WriteString("\n")
	}
	read("19-czech-columns", "casy.csv", "--attempt Pokus --columns-are trainee --measure time", bytes.Clone(b.Bytes()), l)
}

// wideOutcome19 is a wide table in which a timeout is a word.
func wideOutcome19(head string, l []at, timeout string) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i, a := range l {
		if i == 0 || a.who != l[i-1].who {
			b.WriteString("\n" + a.who)
		}
		cell := oneDigit(a.value)
		if a.outcome == "timeout" {
			cell = timeout
		}
		b.WriteString("," + cell)
	}
	b.WriteString("\n")
	return bytes.Clone(b.Bytes())
}

func plainBooks19() {
	// Italian, minutes and seconds as a spreadsheet keeps them.
	l := rounded(log(1931, 6, "Anna", "Bruno", "Carla", "Dario", "Elisa", "Fabio", "Gaia"), 1)
	b := newBook("Tempi")
	b.row("A1", headCells("Allievo", "Prova %d", 6)...)
	b.wide(2, l, ofDay)
	b.format("B2", "G8", "[mm]:ss")
	read("19-italian-mmss", "tempi.xlsx", "--trainee Allievo --measure time --limit 300", b.bytes(), l)

	// Days counted from 1904, attempts in the order of their days.
	l = log(1932, 6, "Q1", "Q2", "Q3", "Q4", "Q5")
	b = newBook("Log")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.row("A1", "Code", "Day", "Seconds")
	byDay := slices.Clone(l)
	slices.SortStableFunc(byDay, func(x, y at) int { return x.n - y.n })
	for i, a := range byDay {
		days := date(2, 2).AddDate(0, 0, 7*(a.n-1)).Sub(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24
		b.row(fmt.Sprint("A", i+2), a.who, int(days), a.value)
	}
	b.format("B2", fmt.Sprint("B", len(l)+1), "yyyy-mm-dd")
	read("19-days-from-1904", "log 1904.xlsx", "--trainee Code --date Day --response Seconds --measure time", b.bytes(), l)

	// Two head rows, the upper one merged over time and errors.
	l = log(1933, 4, "TR1", "TR2", "TR3", "TR4", "TR5", "TR6", "TR7", "TR8")
	b = newBook("Station 2")
	b.row("A1", "Code", "Attempt 1", nil, "Attempt 2", nil, "Attempt 3", nil, "Attempt 4")
	b.row("A2", nil, "Time (s)", "Errors", "Time (s)", "Errors", "Time (s)", "Errors", "Time (s)", "Errors")
	for _, m := range [][2]string{{"A1", "A2"}, {"B1", "C1"}, {"D1", "E1"}, {"F1", "G1"}, {"H1", "I1"}} {
		must(b.MergeCell(b.sheet, m[0], m[1]))
	}
	for i := 0; i < len(l); i += 4 {
		cells := []any{l[i].who}
		for k := range 4 {
			cells = append(cells, l[i+k].value, int(l[i+k].value*10)%5)
		}
		b.row(fmt.Sprint("A", i/4+3), cells...)
	}
	read("19-merged-heads", "station2.xlsx", "--trainee Code --measure time", b.bytes(), l)

	// A sheet a trainee.
	l = log(1934, 8, "Amir", "Beth", "Chen", "Dora", "Evan")
	b = newBook("Amir")
	for i, a := range l {
		if a.n == 1 {
			if i > 0 {
				b.next(a.who)
			}
			b.row("A1", "Attempt", "Seconds")
		}
		b.row(fmt.Sprint("A", a.n+1), a.n, a.value)
	}
	read("19-sheet-a-trainee", "everyone.xlsx", "--sheets-are trainee --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// A sheet a session, numbers from 1 in each.
	l = log(1935, 8, "V1", "V2", "V3", "V4", "V5", "V6")
	b = newBook("Session 1")
	for s := range 2 {
		if s > 0 {
			b.next("Session 2")
		}
		b.row("A1", "Code", "Trial", "Time (s)")
		row := 2
		for _, a := range l {
			if (a.n-1)/4 == s {
				b.row(fmt.Sprint("A", row), a.who, (a.n-1)%4+1, a.value)
				row++
			}
		}
	}
	read("19-sheet-a-session", "two sessions.xlsx", "--sheets-are session --trainee Code --attempt Trial --response Time~(s) --measure time", b.bytes(), l)

	// Dutch OpenDocument, as LibreOffice writes it.
	l = log(1936, 7, "Sanne", "Daan", "Femke", "Joost", "Lotte", "Ruben")
	b = newBook("Blad1")
	b.log([]any{"Deelnemer", "Poging", "Tijd (s)"}, l, longRow)
	read("19-dutch-ods", "oefening.ods", "--trainee Deelnemer --attempt Poging --response Tijd~(s) --measure time --limit 240",
		office("19-dutch-ods", "oefening.ods", b.bytes()), l)

	// Time cells in OpenDocument, long.
	l = rounded(log(1937, 6, "o1", "o2", "o3", "o4", "o5", "o6"), 1)
	b = newBook("Times")
	b.log([]any{"operator", "attempt", "time"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", "C37", "[h]:mm:ss")
	read("19-time-cells-ods", "operators.ods", "--trainee operator --attempt attempt --response time --measure time",
		office("19-time-cells-ods", "operators.ods", b.bytes()), l)

	// A title above, a note below, and the table begins in column C.
	l = log(1938, 5, "Gr-1", "Gr-2", "Gr-3", "Gr-4", "Gr-5", "Gr-6", "Gr-7")
	b = newBook("Print")
	b.row("C2", "Peg transfer, spring course")
	b.row("C4", "Student", "Trial 1", "Trial 2", "Trial 3", "Trial 4", "Trial 5")
	for i, a := range l {
		b.put(3+a.n, 5+i/5, a.value)
		must(b.SetCellValue(b.sheet, fmt.Sprint("C", 5+i/5), a.who))
	}
	b.row("C14", "All times in seconds, stopwatch of the skills room")
	read("19-begins-in-c", "print.xlsx", "--trainee Student --measure time", b.bytes(), l)

	// The code stands once, in cells merged downward.
	l = log(1939, 5, "FA", "FB", "FC", "FD", "FE", "FF")
	b = newBook("Bench")
	b.log([]any{"Fellow", "Attempt", "Time (s)"}, l, func(a at) []any {
		if a.n == 1 {
			return []any{a.who, a.n, a.value}
		}
		return []any{nil, a.n, a.value}
	})
	for i := range 6 {
		must(b.MergeCell(b.sheet, fmt.Sprint("A", 2+5*i), fmt.Sprint("A", 6+5*i)))
	}
	read("19-merged-downward", "fellows.xlsx", "--trainee Fellow --attempt Attempt --response Time~(s) --measure time", b.bytes(), l)

	// Numbers kept as text with decimal commas.
	l = log(1940, 6, "Jana", "Karol", "Lenka", "Milan", "Nina")
	b = newBook("Hárok1")
	b.log([]any{"Študent", "Pokus", "Čas (s)"}, l, func(a at) []any { return []any{a.who, fmt.Sprint(a.n), oneDigitComma(a.value)} })
	read("19-slovak-text-cells", "merania.xlsx", "--trainee Študent --attempt Pokus --response Čas~(s) --measure time", b.bytes(), l)

	// Minutes and seconds apart, added up by a formula that LibreOffice has calculated.
	l = rounded(log(1941, 6, "j1", "j2", "j3", "j4", "j5", "j6"), 1)
	b = newBook("Sheet1")
	b.log([]any{"jumper", "jump", "min", "sec", "total_s"}, l, func(a at) []any { return []any{a.who, a.n, int(a.value) / 60, int(a.value) % 60} })
	for i := range l {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("C%d*60+D%d", i+2, i+2)))
	}
	read("19-added-up", "jumps.xlsx", "--trainee jumper --attempt jump --response total_s --measure time",
		office("19-added-up", "jumps.xlsx", b.bytes()), l)

	// Ukrainian, saved by LibreOffice.
	l = log(1942, 7, "Іван", "Олена", "Петро", "Софія", "Юрій")
	b = newBook("Аркуш1")
	b.row("A1", headCells("Учасник", "Спроба %d", 7)...)
	b.wide(2, l, value)
	read("19-ukrainian", "спроби.xlsx", "--trainee Учасник --measure time",
		office("19-ukrainian", "спроби.xlsx", b.bytes()), l)

	// Some practised longer: rows of different length, with the arm.
	l = slices.DeleteFunc(log(1943, 9, "L01", "L02", "L03", "L04", "L05", "L06", "L07", "L08", "L09", "L10", "L11", "L12"), func(a at) bool {
		return a.n > 6 && strings.Contains("L02 L05 L09", a.who) || a.n > 7 && a.who == "L12"
	})
	b = newBook("Data")
	b.row("A1", append([]any{"Code", "Group"}, headCells("", "%d", 9)[1:]...)...)
	arms := map[string]string{}
	row := 1
	for _, a := range l {
		if a.n == 1 {
			row++
			arms[a.who] = []string{"massed", "spaced"}[row%2]
			b.row(fmt.Sprint("A", row), a.who, arms[a.who])
		}
		b.put(2+a.n, row, a.value)
	}
	read("19-some-longer", "practice.xlsx", "--trainee Code --arm Group --measure time", b.bytes(), l).Arms = arms

	// Days as heads, in their order, one attempt a day.
	l = log(1944, 6, "Sk1", "Sk2", "Sk3", "Sk4", "Sk5", "Sk6")
	b = newBook("Woche")
	b.row("A1", "Schüler", 46084, 46085, 46086, 46087, 46090, 46091)
	b.wide(2, l, value)
	b.format("B1", "G1", "dd.mm.yyyy")
	read("19-days-as-heads", "woche.xlsx", "--trainee Schüler --measure time", b.bytes(), l)

	// Hebrew, with a second sheet that explains.
	l = log(1945, 6, "א1", "א2", "א3", "א4", "א5")
	b = newBook("נתונים")
	b.log([]any{"קוד", "ניסיון", "זמן (שניות)"}, l, longRow)
	b.next("הסבר")
	b.row("A1", "זמן בשניות מתחילת המשימה ועד סופה")
	read("19-hebrew", "data.xlsx", "--trainee קוד --attempt ניסיון --response זמן~(שניות) --measure time", b.bytes(), l)

	// A Finnish table with the mean of each person in the last column.
	l = log(1946, 5, "Aino", "Eero", "Helmi", "Ilmari", "Kerttu", "Onni")
	b = newBook("Tulokset")
	b.row("A1", append(headCells("Opiskelija", "%d. yritys", 5), "Keskiarvo")...)
	b.wide(2, l, value)
	for i := range 6 {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("G", i+2), fmt.Sprintf("ROUND(AVERAGE(B%d:F%d),1)", i+2, i+2)))
	}
	read("19-finnish-mean-column", "tulokset.ods", "--trainee Opiskelija --measure time",
		office("19-finnish-mean-column", "tulokset.ods", b.bytes()), l)

	// One spreadsheet column a trainee, three rows above the head.
	l = log(1947, 7, "Nurse A", "Nurse B", "Nurse C", "Nurse D")
	b = newBook("IV bench")
	b.row("A1", "Vein cannulation on the gel phantom")
	b.row("A2", "Times in seconds")
	b.row("A4", "Attempt", "Nurse A", "Nurse B", "Nurse C", "Nurse D")
	for n := 1; n <= 7; n++ {
		b.row(fmt.Sprint("A", 4+n), n, l[n-1].value, l[6+n].value, l[13+n].value, l[20+n].value)
	}
	read("19-column-a-nurse", "phantom.xlsx", "--attempt Attempt --columns-are trainee --measure time", b.bytes(), l)

	// Parquet of a data program.
	l = log(1949, 9, "pq1", "pq2", "pq3", "pq4", "pq5", "pq6")
	type attempt struct {
		Trainee string  `parquet:"trainee"`
		Attempt int64   `parquet:"attempt"`
		Seconds float64 `parquet:"seconds"`
	}
	var rows []attempt
	for _, a := range l {
		rows = append(rows, attempt{a.who, int64(a.n), a.value})
	}
	read("19-parquet", "attempts.parquet", "--trainee trainee --attempt attempt --response seconds --measure time --limit 300", parquetOf(rows), l)

	// Parquet of a device that counts milliseconds and says so in the column's name.
	l = log(1950, 6, "dev-1", "dev-2", "dev-3", "dev-4", "dev-5")
	type device struct {
		User       string `parquet:"user"`
		Run        int32  `parquet:"run"`
		DurationMS int64  `parquet:"duration_ms"`
	}
	var ms []device
	for _, a := range l {
		ms = append(ms, device{a.who, int32(a.n), int64(math.Round(a.value * 1000))})
	}
	read("19-parquet-ms", "device.parquet", "--trainee user --attempt run --response duration_ms --measure time --limit 300", parquetOf(ms), l)
}

func doubtfulTexts19() {
	// A decimal comma in a comma-separated file: the tenth has slid below "remarks".
	l := with(log(1951, 6, "K1", "K2", "K3", "K4", "K5"), func(a *at) {
		if a.value == math.Trunc(a.value) {
			a.value += 0.3
		}
	})
	doubt("19-tenths-below-remarks", "log.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		lines("trainee,attempt,seconds,remarks", l, plain(",", oneDigitComma)), l,
		"every row: a single digit stands below remarks, the tenth of a time with a decimal comma")

	// Scores with the thousands' point, which only the last trainee reaches.
	l = nil
	for i, w := range []string{"S1", "S2", "S3", "S4", "S5", "S6"} {
		for n := 1; n <= 6; n++ {
			l = append(l, at{w, n, float64(540 + 55*n + 17*((i*5+n*3)%7)), "done"})
		}
	}
	for n := 1; n <= 6; n++ {
		l = append(l, at{"S7", n, float64(870 + 48*n + 13*(n%3)), "done"})
	}
	doubt("19-thousand-points", "punkte.csv", "--trainee Schüler --attempt Versuch --response Punkte --measure score",
		lines("Schüler;Versuch;Punkte", l, plain(";", func(v float64) string {
			if v >= 1000 {
				return fmt.Sprintf("%d.%03d", int(v)/1000, int(v)%1000)
			}
			return point(v)
		})), l, "the last trainee S7 has 1.014 and the like below scores of 600 to 1000: thousand or one")

	// Minutes and seconds with a point, three people, no limit.
	l = []at{{"Mo", 1, 165, "done"}, {"Mo", 2, 128, "done"}, {"Mo", 3, 105, "done"}, {"Mo", 4, 98, "done"},
		{"Lu", 1, 193, "done"}, {"Lu", 2, 137, "done"}, {"Lu", 3, 119, "done"}, {"Lu", 4, 110, "done"},
		{"Ny", 1, 142, "done"}, {"Ny", 2, 118, "done"}, {"Ny", 3, 84, "done"}, {"Ny", 4, 78, "done"}}
	doubt("19-minutes-point-seconds", "quick test.csv", "--trainee name --measure time",
		wide("name,1,2,3,4", ",", l, func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) }), l,
		"all times: 2.45 is 2 min 45 s or 2.45 minutes (or seconds); no figure behind the point passes 59")

	// The last row has hundredths behind a second colon.
	l = log(1954, 7, "r1", "r2", "r3", "r4", "r5", "r6")
	last := &l[len(l)-1]
	last.value = 58.2
	doubt("19-hundredths-in-the-last-row", "timer.csv", "--trainee rower --attempt set --response time --measure time",
		lines("rower,set,time", l, func(a at) string {
			if a == *last {
				return "r6,7,0:58:20"
			}
			return plain(",", oneDigit)(a)
		}), l, "last row, r6 attempt 7: 0:58:20 is 58 s 20 hundredths or 58 min 20 s")

	// The limit was forgotten: six attempts are 300 to the tenth.
	l = with(log(1955, 6, "Y1", "Y2", "Y3", "Y4", "Y5", "Y6", "Y7"), func(a *at) {
		if a.n == 1 && a.who != "Y4" || a.n == 2 && a.who == "Y6" {
			a.value, a.outcome = 300, "timeout"
		}
	})
	doubt("19-limit-forgotten", "pegs.csv", "--trainee id --attempt trial --response time_s --measure time",
		lines("id,trial,time_s", l, plain(",", oneDigit)), l,
		"300.0 stands seven times and is the longest time: it is likely a limit, which was not given")

	// A timeout that was stopped at half of the limit.
	l = with(log(1956, 6, "D1", "D2", "D3", "D4", "D5", "D6"), func(a *at) {
		if a.n == 1 && (a.who == "D2" || a.who == "D5") {
			a.value, a.outcome = 300, "timeout"
		}
		if a.who == "D6" && a.n == 1 {
			a.value, a.outcome = 150, "timeout"
		}
	})
	doubt("19-timeout-at-150", "attempts.tsv", "--trainee student --attempt attempt --response seconds --outcome outcome --measure time --limit 300",
		lines("student\tattempt\tseconds\toutcome", l, func(a at) string { return plain("\t", point)(a) + "\t" + a.outcome }), l,
		"D6 attempt 1: a timeout with 150 s where the limit is 300")

	// A Hungarian column says which attempts were broken off; no flag names it.
	l = with(log(1957, 7, "Ádám", "Bence", "Csilla", "Dóra", "Erik"), func(a *at) {
		if a.who == "Dóra" && a.n == 2 || a.who == "Erik" && a.n == 4 {
			a.outcome = "void"
		}
	})
	doubt("19-hungarian-outcome", "mérések.csv", "--trainee Név --attempt Kísérlet --response Idő --measure time",
		lines("Név;Kísérlet;Idő;Eredmény", l, func(a at) string {
			return plain(";", oneDigitComma)(a) + ";" + map[string]string{"done": "kész", "void": "félbehagyva"}[a.outcome]
		}), l, "column Eredmény is not named: it holds an outcome, and two attempts in it are broken off (félbehagyva)")

	// Another task carries the numbers on.
	l = with(log(1958, 10, "G1", "G2", "G3", "G4", "G5"), func(a *at) {
		if a.n > 6 {
			a.value = math.Round((a.value*0.8+40)*10) / 10
		}
	})
	doubt("19-second-task-carries-on", "day.csv", "--trainee who --attempt no --response secs --measure time",
		lines("who,no,exercise,secs", l, func(a at) string {
			return fmt.Sprint(a.who, ",", a.n, ",", map[bool]string{false: "rings", true: "thread"}[a.n > 6], ",", point(a.value))
		}), nil, "column exercise: attempts 1 to 6 are of rings, 7 to 10 of thread, another task")

	// T1 and T01 head two columns.
	l = log(2959, 6, "T1", "T2", "T3", "T01")
	var b bytes.Buffer
	b.WriteString("attempt,T1,T2,T3,T01\n")
	for n := range 6 {
		fmt.Fprintf(&b, "%d,%s,%s,%s,%s\n", n+1, point(l[n].value), point(l[6+n].value), point(l[12+n].value), point(l[18+n].value))
	}
	doubt("19-columns-t1-and-t01", "columns.csv", "--attempt attempt --columns-are trainee --measure time", bytes.Clone(b.Bytes()), nil,
		"heads of columns T1 and T01: one trainee or two")

	// One cell in the middle of a row is blank.
	l = log(1960, 6, "an", "bo", "cy", "di", "ed", "fo")
	data := wide("kid,try 1,try 2,try 3,try 4,try 5,try 6", ",", l, oneDigit)
	data = bytes.Replace(data, []byte(","+oneDigit(attemptsOf(l, "di")[2].value)+","), []byte(",,"), 1)
	doubt("19-gap-in-one-row", "kids.csv", "--trainee kid --measure time", data,
		without(l, func(a at) bool { return a.who == "di" && a.n == 3 }),
		"di has no third attempt: the cell is blank while attempts 4 to 6 are there")

	// Error counts without a single nought: where there were none the cell is blank.
	l = with(log(1961, 8, "e1", "e2", "e3", "e4", "e5"), func(a *at) { a.value = math.Max(0, math.Round((a.value-70)/20)) })
	doubt("19-no-noughts", "slips.csv", "--trainee person --attempt go --response slips --measure count",
		lines("person;go;slips", l, plain(";", func(v float64) string {
			if v == 0 {
				return ""
			}
			return point(v)
		})), l, "blank cells in slips: there is no 0 in the file, so a blank is likely no slip and not a missing count")

	// The second half was typed on another machine, which composes letters otherwise.
	l = log(1962, 8, "André", "Chloé", "Inès", "Paul")
	doubt("19-letters-composed-otherwise", "suivi.csv", "--trainee prenom --attempt essai --response secondes --measure time",
		lines("prenom,essai,secondes", l, func(a at) string {
			if a.who == "Chloé" && a.n > 6 {
				a.who = norm.NFD.String(a.who)
			}
			return plain(",", point)(a)
		}), l, "Chloé attempts 7 and 8 are written with another form of é: one trainee, who looks like two")

	// One trainee's arm has a Cyrillic letter.
	l = log(1963, 5, "z01", "z02", "z03", "z04", "z05", "z06", "z07", "z08")
	doubt("19-cyrillic-arm", "arms.csv", "--trainee id --attempt n --response s --arm arm --measure time",
		lines("id,n,s,arm", l, func(a at) string {
			arm := []string{"A", "B"}[int(a.who[2])%2]
			if a.who == "z08" {
				arm = "А" // Cyrillic
			}
			return plain(",", point)(a) + "," + arm
		}), l, "arm of z08 is a Cyrillic А, which looks like A: a third arm or a slip")

	// One person came back in autumn; the date is not named.
	l = append(log(1964, 8, "F1", "F2", "F3", "F4", "F5"), at{"F3", 9, 118.4, "done"})
	slices.SortStableFunc(l, func(x, y at) int { return strings.Compare(x.who, y.who) })
	doubt("19-back-in-autumn", "training.csv", "--trainee id --attempt attempt --response seconds --measure time",
		lines("id,attempt,date,seconds", l, func(a at) string {
			day := fmt.Sprintf("2026-03-%02d", 2+3*a.n)
			if a.n == 9 {
				day = "2026-10-14"
			}
			return fmt.Sprint(a.who, ",", a.n, ",", day, ",", point(a.value))
		}), l, "F3 attempt 9 was made on 2026-10-14, more than half a year after attempt 8: a retest, not practice")

	// The measure was forgotten; the head is Finnish.
	l = log(1965, 8, "hlö1", "hlö2", "hlö3", "hlö4", "hlö5")
	doubt("19-finnish-no-measure", "ajat.csv", "--trainee Henkilö --attempt Yritys --response Kesto",
		lines("Henkilö;Yritys;Kesto", l, plain(";", oneDigitComma)), l,
		"Kesto is a duration that falls with practice; without --measure it is a score, higher better")

	// Passed is 1 and not passed 2.
	l = nil
	for i, w := range []string{"g1", "g2", "g3", "g4", "g5", "g6"} {
		for n := 1; n <= 9; n++ {
			v := 0.0
			if n > 2+i%4 && (n+i)%5 != 0 {
				v = 1
			}
			l = append(l, at{w, n, v, "done"})
		}
	}
	doubt("19-one-and-two", "passed.csv", "--trainee id --attempt trial --response passed --measure pass-fail",
		lines("id,trial,passed", l, plain(",", func(v float64) string { return point(2 - v) })), l,
		"passed holds 1 and 2 in place of 1 and 0")

	// Only the last trainee was timed by two examiners.
	l = log(1967, 6, "Be", "Ce", "De", "Ef", "Fe")
	b.Reset()
	b.WriteString("trainee,attempt,examiner,seconds\n")
	for i, a := range l {
		fmt.Fprintf(&b, "%s,%d,%s,%s\n", a.who, a.n, []string{"KL", "MO"}[i/6%2], point(a.value))
		if a.who == "Fe" {
			fmt.Fprintf(&b, "%s,%d,MO,%.1f\n", a.who, a.n, a.value+[]float64{0.4, -0.3, 0.7, 0.2, -0.5, 0.6}[a.n-1])
		}
	}
	doubt("19-two-watches-for-one", "watches.csv", "--trainee trainee --attempt attempt --response seconds --measure time", bytes.Clone(b.Bytes()), nil,
		"Fe has every attempt twice, once by each examiner")

	// Minutes, and a standard in seconds.
	l = with(log(1968, 7, "i1", "i2", "i3", "i4", "i5", "i6"), func(a *at) { a.value = math.Round(math.Round(a.value/0.6)*600) / 1000 })
	doubt("19-standard-in-seconds", "klinik.csv", "--trainee kod --attempt omgång --response tid --measure time --standard 90",
		lines("kod;omgång;tid", l, plain(";", func(v float64) string {
			return strings.ReplaceAll(fmt.Sprintf("%.2f", v/60), ".", ",")
		})), l, "all times are 0.7 to 4 and the standard is 90: minutes, not seconds")

	// Days as fractions in a text file.
	l = log(1969, 5, "k1", "k2", "k3", "k4", "k5", "k6")
	doubt("19-fractions-of-a-day", "export.csv", "--trainee id --attempt n --response time --measure time",
		lines("id,n,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%.9f", v/86400) })), l,
		"all times are about 0.001: fractions of a day, not seconds")
}

func doubtfulBooks19() {
	// One cell in the last row was typed as minutes and seconds.
	l := log(1971, 6, "N1", "N2", "N3", "N4", "N5", "N6", "N7")
	l[len(l)-1].value = 72
	b := newBook("Log")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	must(b.SetCellValue("Log", "C43", 72.0/1440))
	b.format("C43", "C43", "h:mm")
	doubt("19-one-clock-cell-last", "log.xlsx", "--trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), l,
		"C43, the last cell: 1:12 as hours and minutes among seconds; 1 min 12 s was meant")

	// One person's scores are percent cells.
	l = nil
	for i, w := range []string{"Pa", "Pe", "Pi", "Po", "Pu"} {
		for n := 1; n <= 6; n++ {
			l = append(l, at{w, n, float64(48 + 6*n + (i*7+n*4)%9), "done"})
		}
	}
	b = newBook("Scores")
	b.log([]any{"Trainee", "Attempt", "Score"}, l, func(a at) []any {
		if a.who == "Po" {
			a.value /= 100
		}
		return longRow(a)
	})
	b.format("C20", "C25", "0%")
	doubt("19-percent-of-one", "scores.xlsx", "--trainee Trainee --attempt Attempt --response Score --measure score", b.bytes(), l,
		"C20 to C25 (Po) are percent cells, 0.61 shown as 61%, among scores of 50 to 90")

	// Start and stop, the time a formula; the last one was never calculated.
	l = rounded(log(1973, 6, "h1", "h2", "h3", "h4", "h5"), 1)
	b = newBook("Sheet1")
	b.log([]any{"hand", "attempt", "start_s", "stop_s", "seconds"}, l, func(a at) []any {
		return []any{a.who, a.n, 10 + 3*a.n, 10 + 3*float64(a.n) + a.value, a.value}
	})
	data := partChanged(b.bytes(), "xl/worksheets/sheet1.xml", func(s string) string {
		for i, a := range l {
			cell := fmt.Sprintf(`<c r="E%d"><v>%s</v></c>`, i+2, point(a.value))
			formula := fmt.Sprintf(`<c r="E%d"><f>D%d-C%d</f><v>%s</v></c>`, i+2, i+2, i+2, point(a.value))
			if i == len(l)-1 {
				formula = fmt.Sprintf(`<c r="E%d"><f>D%d-C%d</f></c>`, i+2, i+2, i+2)
			}
			if !strings.Contains(s, cell) {
				panic(cell)
			}
			s = strings.Replace(s, cell, formula, 1)
		}
		return s
	})
	doubt("19-last-formula-not-calculated", "hands.xlsx", "--trainee hand --attempt attempt --response seconds --measure time", data, l,
		"E31, the last time, is a formula that was never calculated")

	// The third attempt's column is hidden.
	l = log(1974, 6, "Ki", "Li", "Mi", "Ni", "Oi", "Pi")
	b = newBook("Table")
	b.row("A1", headCells("Name", "Trial %d", 6)...)
	b.wide(2, l, value)
	must(b.SetColVisible("Table", "D", false))
	doubt("19-hidden-column", "table.xlsx", "--trainee Name --measure time", b.bytes(), l, "column D (Trial 3) is hidden")

	// The other half of the class is in the second sheet.
	l = log(1975, 7, "mo1", "mo2", "mo3", "mo4", "tu1", "tu2", "tu3", "tu4")
	b = newBook("Monday")
	b.log([]any{"code", "attempt", "seconds"}, l[:28], longRow)
	b.next("Tuesday")
	b.log([]any{"code", "attempt", "seconds"}, l[28:], longRow)
	doubt("19-other-half-second-sheet", "class.xlsx", "--trainee code --attempt attempt --response seconds --measure time", b.bytes(), l,
		"sheet Tuesday has the same columns and other trainees: it must not be left out in silence")

	// Corrections stand in a second sheet.
	l = log(1976, 6, "ca", "cb", "cc", "cd", "ce")
	b = newBook("Log")
	b.log([]any{"code", "attempt", "seconds"}, with(l, func(a *at) {
		if a.who == "cb" && a.n == 4 || a.who == "ce" && a.n == 2 {
			a.value = math.Round((a.value+31)*10) / 10
		}
	}), longRow)
	b.next("Corrections")
	b.row("A1", "code", "attempt", "seconds")
	b.row("A2", "cb", 4, attemptsOf(l, "cb")[3].value)
	b.row("A3", "ce", 2, attemptsOf(l, "ce")[1].value)
	doubt("19-corrections-second-sheet", "log corrected.xlsx", "--trainee code --attempt attempt --response seconds --measure time", b.bytes(), l,
		"sheet Corrections has other times for cb attempt 4 and ce attempt 2")

	// One of several examiners wrote minutes.
	l = with(log(1977, 6, "B1", "B2", "B3", "B4", "B5", "B6"), func(a *at) {
		if a.who == "B5" {
			a.value = math.Round(math.Round(a.value/0.6)*600) / 1000
		}
	})
	b = newBook("Foglio1")
	b.log([]any{"Codice", "Prova", "Tempo"}, l, func(a at) []any {
		if a.who == "B5" {
			a.value = math.Round(a.value/0.6) / 100
		}
		return longRow(a)
	})
	doubt("19-minutes-of-one", "prove.ods", "--trainee Codice --attempt Prova --response Tempo --measure time --limit 300",
		office("19-minutes-of-one", "prove.ods", b.bytes()), l, "times of B5 are 0.8 to 4 where others have 50 to 200: minutes")

	// One time between the limit and five times it.
	l = with(log(1978, 5, "x1", "x2", "x3", "x4", "x5", "x6"), func(a *at) { a.value = math.Round(a.value*7.5) / 10 })
	l[15].value = 204.6
	b = newBook("Sheet1")
	b.row("A1", headCells("id", "A%d", 5)...)
	b.wide(2, l, value)
	doubt("19-one-above-the-limit", "limit.xlsx", "--trainee id --measure time --limit 180", b.bytes(), l,
		"x4 attempt 1 took 204.6 s with a limit of 180: stopped late, or the limit or the time is wrong")

	// The column of a missed day stands last.
	l = log(1979, 5, "y1", "y2", "y3", "y4", "y5")
	b = newBook("Days")
	b.row("A1", "code", "2026-03-02", "2026-03-09", "2026-03-23", "2026-03-30", "2026-03-16")
	b.wide(2, l, value)
	doubt("19-missed-day-last", "days.xlsx", "--trainee code --measure time", b.bytes(), nil,
		"the head of the last column, 2026-03-16, is earlier than those before it: order of columns or of days")

	// A row of means without a name.
	l = log(1980, 6, "Q11", "Q12", "Q13", "Q14", "Q15", "Q16")
	mean, _ := means19(l, 6)
	b = newBook("Sheet1")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	b.wide(2, l, value)
	b.row("B8", mean[0], mean[1], mean[2], mean[3], mean[4], mean[5])
	doubt("19-means-without-a-name", "averages.xlsx", "--trainee Code --measure time", b.bytes(), l,
		"row 8 has times without a trainee: they are the means of the columns")

	// The limit was given in minutes.
	l = log(1981, 6, "m1", "m2", "m3", "m4", "m5", "m6")
	b = newBook("Sheet1")
	b.log([]any{"medic", "round", "time_s"}, l, longRow)
	doubt("19-limit-in-minutes", "medics.xlsx", "--trainee medic --attempt round --response time_s --measure time --limit 5", b.bytes(), l,
		"all times lie far above the limit 5: it is in minutes, and no attempt timed out")

	// A score of 3.5 became a day in May.
	l = nil
	for i, w := range []string{"a-1", "a-2", "a-3", "a-4", "a-5"} {
		for n := 1; n <= 7; n++ {
			l = append(l, at{w, n, 1 + float64((n*2+i*3)%4+n)/2, "done"})
		}
	}
	l[18].value = 3.5
	b = newBook("Tabelle1")
	b.log([]any{"Kürzel", "Versuch", "Note"}, l, longRow)
	must(b.SetCellValue("Tabelle1", "C20", 46145))
	b.format("C20", "C20", "d. mmm")
	doubt("19-score-became-a-day", "noten.xlsx", "--trainee Kürzel --attempt Versuch --response Note --measure score", b.bytes(), l,
		"C20 (a-3 attempt 5) is the date 3 May, made of 3.5 by the spreadsheet")

	// One 999 in the last column, no limit.
	l = log(1983, 6, "St1", "St2", "St3", "St4", "St5", "St6", "St7")
	b = newBook("Export")
	b.row("A1", headCells("subject", "time%d", 6)...)
	b.wide(2, l, func(a at) any {
		if a.who == "St6" && a.n == 6 {
			return 999
		}
		return a.value
	})
	doubt("19-one-999", "wide.xlsx", "--trainee subject --measure time", b.bytes(),
		without(l, func(a at) bool { return a.who == "St6" && a.n == 6 }),
		"St6 attempt 6 is 999, a code for a missing time")

	// LibreOffice saved minutes and seconds as text, and made clock times of them.
	l = rounded(log(1948, 6, "z1", "z2", "z3", "z4", "z5"), 1)
	b = newBook("Sheet1")
	b.log([]any{"crew", "run", "time (m:ss)"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", "C31", "m:ss")
	doubt("19-clock-times-after-saving", "crew.csv", "--trainee crew --attempt run --response time~(m:ss) --measure time",
		office("19-clock-times-after-saving", "crew.csv", b.bytes()), l,
		"all times: 12:03:27 AM and the like, a clock time in form; 3 min 27 s was meant")

	// Parquet with one attempt marked as not valid, and no flag for it.
	l = log(1984, 7, "pa", "pb", "pc", "pd", "pe")
	l[33].outcome = "void"
	type run struct {
		User    string  `parquet:"user"`
		Run     int64   `parquet:"run"`
		Seconds float64 `parquet:"seconds"`
		Valid   bool    `parquet:"valid"`
	}
	var rows []run
	for _, a := range l {
		rows = append(rows, run{a.who, int64(a.n), a.value, a.outcome == "done"})
	}
	doubt("19-one-not-valid", "runs.parquet", "--trainee user --attempt run --response seconds --measure time", parquetOf(rows), l,
		"column valid is not named: it is false for pe attempt 6")
}

// marks19 makes up ratings from 1 to 5.
func marks19(seed int, subjects, raters, items []string) [][4]string {
	var out [][4]string
	r := uint32(seed)*2654435761 + 12345
	for _, s := range subjects {
		r = r*1664525 + 1013904223
		good := 2 + int(r>>20%3)
		for _, rater := range raters {
			for _, item := range items {
				r = r*1664525 + 1013904223
				out = append(out, [4]string{s, rater, item, fmt.Sprint(min(5, max(1, good+int(r>>18%3)-1)))})
			}
		}
	}
	return out
}

// wideMarks19 is a row a subject with a cell a rater.
func wideMarks19(ratings [][4]string, raters int) (rows [][]string) {
	for i := 0; i < len(ratings); i += raters {
		row := []string{ratings[i][0]}
		for k := range raters {
			row = append(row, ratings[i+k][3])
		}
		rows = append(rows, row)
	}
	return rows
}

func ratings19() {
	one := []string{""}

	// Long, three items, plain.
	marks := marks19(1991, numbered("clip%02d", 9), []string{"Abel", "Bodil"}, []string{"grip", "flow", "care"})
	var b bytes.Buffer
	b.WriteString("clip,assessor,item,mark\n")
	for _, m := range marks {
		b.WriteString(strings.Join(m[:], ",") + "\n")
	}
	read("19-ratings-items", "assessors.csv", "--subject clip --rater assessor --item item --score mark --scale ordinal", bytes.Clone(b.Bytes()), nil).Ratings = marks

	// Wide with decimal commas.
	marks = marks19(1992, numbered("Film %d", 11), []string{"Prüfer 1", "Prüfer 2", "Prüfer 3"}, one)
	for i := range marks {
		marks[i][3] += []string{"", ".5", "", ""}[i*i%7%4]
	}
	b.Reset()
	b.WriteString("Film;Prüfer 1;Prüfer 2;Prüfer 3\n")
	for _, row := range wideMarks19(marks, 3) {
		b.WriteString(strings.ReplaceAll(strings.Join(row, ";"), ".", ",") + "\n")
	}
	read("19-ratings-halves", "noten.csv", "--subject Film --wide --scale interval", bytes.Clone(b.Bytes()), nil).Ratings = marks

	// Numbers of videos shown as V007 by their format.
	marks = marks19(1993, numbered("V%03d", 8), []string{"EH", "TS"}, one)
	book := newBook("Ratings")
	book.row("A1", "Video", "EH", "TS")
	for i, row := range wideMarks19(marks, 2) {
		book.row(fmt.Sprint("A", i+2), i+1, number(row[1]), number(row[2]))
	}
	book.format("A2", "A9", `"V"000`)
	read("19-ratings-shown-numbers", "video ratings.xlsx", "--subject Video --wide --scale ordinal", book.bytes(), nil).Ratings = marks

	// The agreed mark stands beside the raters.
	raters := []string{"Jansen", "Koster", "Visser"}
	marks = marks19(1994, numbered("S%d", 10), raters, one)
	book = newBook("Blad1")
	book.row("A1", "Opname", "Jansen", "Koster", "Visser", "Consensus")
	for i, row := range wideMarks19(marks, 3) {
		m := []float64{number(row[1]), number(row[2]), number(row[3])}
		slices.Sort(m)
		book.row(fmt.Sprint("A", i+2), row[0], number(row[1]), number(row[2]), number(row[3]), m[1])
	}
	doubt("19-ratings-consensus", "opnames.ods", "--subject Opname --wide --scale ordinal",
		office("19-ratings-consensus", "opnames.ods", book.bytes()), nil,
		"column Consensus is the mark that the three agreed on, not a rater").Ratings = marks

	// The year of training looks like a mark.
	marks = marks19(1995, numbered("R%02d", 12), []string{"Alm", "Berg"}, one)
	b.Reset()
	b.WriteString("person,year,Alm,Berg\n")
	for i, row := range wideMarks19(marks, 2) {
		fmt.Fprintf(&b, "%s,%d,%s,%s\n", row[0], 1+i*7%5, row[1], row[2])
	}
	doubt("19-ratings-year", "residents.csv", "--subject person --wide --scale ordinal", bytes.Clone(b.Bytes()), nil,
		"column year is the year of training, 1 to 5, and no rater").Ratings = marks

	// One 9 for "not seen", in the last row.
	marks = marks19(1996, numbered("p%d", 10), []string{"x", "y", "z"}, one)
	b.Reset()
	b.WriteString("performance\trater\tscore\n")
	for i, m := range marks {
		if i == len(marks)-1 {
			m[3] = "9"
		}
		fmt.Fprintf(&b, "%s\t%s\t%s\n", m[0], m[1], m[3])
	}
	doubt("19-ratings-one-nine", "ratings.txt", "--subject performance --rater rater --score score --scale interval", bytes.Clone(b.Bytes()), nil,
		"last row: 9 among marks from 1 to 5, a code for not seen").Ratings = marks[:len(marks)-1]

	// One rater typed another word for yes now and then.
	marks = nil
	for i, s := range numbered("fall %d", 10) {
		for k, rater := range []string{"Ek", "Ström"} {
			marks = append(marks, [4]string{s, rater, "", []string{"ja", "nej"}[(i*3+k*(i%4/3))%5/3]})
		}
	}
	book = newBook("Blad1")
	book.row("A1", "Fall", "Ek", "Ström")
	for i, row := range wideMarks19(marks, 2) {
		if i == 6 || i == 9 {
			row[2] = strings.ToUpper(row[2][:1]) + row[2][1:]
		}
		book.row(fmt.Sprint("A", i+2), row[0], row[1], row[2])
	}
	doubt("19-ratings-ja-and-ja", "godkänt.xlsx", "--subject Fall --wide", book.bytes(), nil,
		"Ström, rows 8 and 11: Ja or Nej with a capital where all others are ja or nej").Ratings = marks

	// A sheet a rater and no column for it.
	marks = marks19(1998, numbered("v%d", 9), []string{"Rater A", "Rater B"}, one)
	book = newBook("Rater A")
	for k, rater := range []string{"Rater A", "Rater B"} {
		if k > 0 {
			book.next(rater)
		}
		book.row("A1", "video", "score")
		for i, row := range wideMarks19(marks, 2) {
			book.row(fmt.Sprint("A", i+2), row[0], number(row[1+k]))
		}
	}
	refuse("19-ratings-sheet-a-rater", "two raters.xlsx", "--subject video --rater rater --score score --scale ordinal", book.bytes(),
		"there is no column rater: each rater has a sheet; the raters must be put into one table")
}

func studies19() {
	task := "tasks: [{name: rings, measure: time, column: seconds, limit: 300}]\n"
	head := "trainee,attempt,seconds"
	folder := func(t *truth, yaml string, files map[string][]byte) *truth {
		files["study.yaml"] = []byte("title: Ring transfer\npurpose: research\n" + yaml)
		t.files = files
		return t
	}

	// Two files, one a session, numbers from 1 in both.
	l := log(2001, 8, "U1", "U2", "U3", "U4", "U5")
	session := func(second bool, sep string, cell func(v float64) string) []byte {
		return lines(strings.ReplaceAll(head, ",", sep), without(l, func(a at) bool { return (a.n > 4) != second }),
			func(a at) string { a.n = (a.n-1)%4 + 1; return plain(sep, cell)(a) })
	}
	folder(read("19-study-two-sessions", ".", "", nil, l), task+"attempts:\n  files: [first.csv, second.csv]\n  files_are: session\n",
		map[string][]byte{"first.csv": session(false, ",", oneDigit), "second.csv": session(true, ";", oneDigitComma)})

	// The log a workbook, the experts a text with decimal commas.
	l = log(2002, 7, "W1", "W2", "W3", "W4", "W5", "W6")
	experts := with(log(2003, 4, "X1", "X2", "X3"), func(a *at) { a.value = math.Round(a.value*4.5) / 10 })
	b := newBook("Log")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	t := folder(read("19-study-workbook-and-text", ".", "", nil, l), task+"attempts: {file: log.xlsx}\nexperts: {file: experts.csv}\n",
		map[string][]byte{"log.xlsx": b.bytes(), "experts.csv": lines("expert;attempt;seconds", experts, plain(";", oneDigitComma))})
	t.Experts = experts

	// A point was left out once, in the second file.
	l = log(2004, 6, "c1", "c2", "c3", "c4", "c5", "c6")
	l[28].value = 98.2
	folder(doubt("19-study-point-left-out", ".", "", nil, l, "b.csv, c5 attempt 5: 982 with a limit of 300, 98.2 was meant"),
		task+"attempts:\n  files: [a.csv, b.csv]\n", map[string][]byte{
			"a.csv": lines(head, l[:18], plain(",", point)),
			"b.csv": bytes.Replace(lines(head, l[18:], plain(",", point)), []byte("c5,5,98.2\n"), []byte("c5,5,982\n"), 1)})

	// The second file was saved by a data program, which made 3.0 of code 3.
	l = log(2005, 10, "1", "2", "3", "4", "5")
	folder(doubt("19-study-codes-with-a-nought", ".", "", nil, l, "later.csv has codes 1.0 to 5.0 for the trainees 1 to 5 of early.csv"),
		task+"attempts:\n  files: [early.csv, later.csv]\n", map[string][]byte{
			"early.csv": lines(head, without(l, func(a at) bool { return a.n > 6 }), plain(",", point)),
			"later.csv": lines(head, without(l, func(a at) bool { return a.n <= 6 }),
				func(a at) string { a.who += ".0"; return plain(",", oneDigit)(a) })})

	// One of three experts wrote minutes.
	l = log(2006, 7, "q1", "q2", "q3", "q4", "q5", "q6")
	experts = []at{{"E1", 1, 52, "done"}, {"E1", 2, 47, "done"}, {"E1", 3, 49, "done"}, {"E2", 1, 58, "done"}, {"E2", 2, 55, "done"}, {"E2", 3, 51, "done"},
		{"E3", 1, 57, "done"}, {"E3", 2, 48, "done"}, {"E3", 3, 51, "done"}}
	t = folder(doubt("19-study-one-expert-in-minutes", ".", "", nil, l, "experts.csv: E3 has 0.95, 0.8 and 0.85 where others have about 50: minutes"),
		"tasks: [{name: rings, measure: time, column: seconds}]\nattempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{
			"log.csv": lines(head, l, plain(",", point)),
			"experts.csv": lines("expert,attempt,seconds", experts, func(a at) string {
				if a.who == "E3" {
					a.value /= 60
				}
				return plain(",", point)(a)
			})})
	t.Experts = experts
}

func unreadable19() {
	l := log(2011, 8, "Aa", "Bb", "Cc", "Dd", "Ee", "Ff", "Gg", "Hh")
	b := newBook("Sheet1")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	whole := b.bytes()
	flags := "--trainee trainee --attempt attempt --response seconds --measure time"
	sheet := "xl/worksheets/sheet1.xml"

	refuse("19-cut-upload", "upload.xlsx", flags, whole[:len(whole)*3/5], "the workbook is cut off: it was not uploaded to its end")

	refuse("19-sheet-breaks-off", "log.xlsx", flags, partChanged(whole, sheet, func(s string) string {
		return s[:strings.Index(s, `<row r="60"`)]
	}), "the sheet's XML breaks off after row 59, before the last trainee's rows")

	refuse("19-control-character", "log.xlsx", flags, partChanged(whole, sheet, func(s string) string {
		return strings.Replace(s, `<c r="C63">`, "\x0b"+`<c r="C63">`, 1)
	}), "a control character in the sheet's XML in row 63")

	refuse("19-cell-twice", "log.xlsx", flags, partChanged(whole, sheet, func(s string) string {
		at := strings.Index(s, `<c r="C65">`)
		return s[:at] + `<c r="C65"><v>61.7</v></c>` + s[at:]
	}), "cell C65 is there twice with two values, in the last row")

	// Each trainee is on both devices.
	l = log(2012, 10, "k1", "k2", "k3", "k4", "k5", "k6")
	refuse("19-crossover", "both devices.csv", "--trainee code --attempt attempt --response seconds --arm device --measure time",
		lines("code,device,attempt,seconds", l, func(a at) string {
			first := (a.n <= 5) == (a.who < "k4")
			return fmt.Sprint(a.who, ",", map[bool]string{true: "box", false: "screen"}[first], ",", (a.n-1)%5+1, ",", point(a.value))
		}), "each trainee is in both devices with attempts 1 to 5 in each: only one device can be read at a time (--where device=box)")

	// The clock at the start and at the end, no duration.
	l = rounded(log(2013, 6, "t1", "t2", "t3", "t4", "t5"), 1)
	clock := date(4, 14).Add(9 * time.Hour)
	refuse("19-start-and-end", "clock.csv", "--trainee id --attempt n --response end --measure time",
		lines("id,n,start,end", l, func(a at) string {
			start := clock
			clock = clock.Add(time.Duration(a.value) * time.Second)
			end := clock
			clock = clock.Add(95 * time.Second)
			return fmt.Sprint(a.who, ",", a.n, ",", start.Format("15:04:05"), ",", end.Format("15:04:05"))
		}), "end is the clock time at which an attempt ended, not how long it took; the difference to start must be made first")

	// A workbook of the old format, and one with a password.
	l = log(2014, 6, "Ro", "Sa", "Ti", "Ul", "Va")
	b = newBook("Sheet1")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	refuse("19-old-workbook", "results.xls", flags, office("19-old-workbook", "results.xls", b.bytes()),
		"an old binary workbook (.xls): save it as .xlsx")
	var locked bytes.Buffer
	must(b.Write(&locked, excelize.Options{Password: "bench"}))
	refuse("19-password", "protected.xlsx", flags, locked.Bytes(), "the workbook is locked with a password: save it without one")
}
