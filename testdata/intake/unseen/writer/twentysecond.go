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

// twentysecond is the drawer of a skills centre's secretary: ten years of tables from teachers
// of catheters, knots, intubation, bandages, drills, microscopes, pipettes and driving simulators.
func twentysecond() {
	plainText22()
	plainBooks22()
	plainRest22()
	doubtText22()
	doubtBooks22()
	doubtRest22()
	refuse22()
	ratings22()
}

// day22 is a weekday for the n-th attempt: late in the month, so that its order is plain.
func day22(n int) time.Time { return time.Date(2025, 3, 13+n, 0, 0, 0, 0, time.UTC) }

func days22(a at) any { return math.Round(a.value) / 86400 }

func plainText22() {
	// The urology teacher's own list, typed in a plain editor.
	l := log(2201, 8, numbered("UC%02d", 7)...)
	read("22-catheter-long", "catheters.csv", "--trainee student --attempt attempt --response seconds --measure time",
		lines("student,attempt,date,seconds", l, func(a at) string {
			return fmt.Sprint(a.who, ",", a.n, ",", day22(a.n).Format("2006-01-02"), ",", oneDigit(a.value))
		}), l)

	// Bandaging course, saved by an old German spreadsheet.
	l = log(2202, 6, numbered("V-%d", 9)...)
	read("22-verband-1252", "verbände.csv", "--trainee Prüfling --attempt Versuch --response Zeit~(s) --measure time",
		latin(crlf(lines("Prüfling;Versuch;Datum;Zeit (s)", l, func(a at) string {
			return fmt.Sprint(a.who, ";", a.n, ";", day22(a.n).Format("02.01.2006"), ";", oneDigitComma(a.value))
		}))), l)

	// Intubation, "Unicode text" of a French spreadsheet.
	l = log(2203, 10, numbered("élève %d", 6)...)
	read("22-intubation-utf16", "intubation.txt", "--trainee Élève --attempt Essai --response Durée~(s) --measure time",
		inUTF16(binary.LittleEndian, true, crlf(lines("Élève\tEssai\tDurée (s)", l, plain("\t", oneDigitComma)))), l)

	// The driving simulator's console writes UTF-16 without a mark.
	l = log(2204, 7, numbered("DRV%03d", 8)...)
	read("22-parking-utf16-bare", "parking.txt", "--trainee driver --attempt run --response duration_s --measure time",
		inUTF16(binary.LittleEndian, false, lines("driver\trun\tduration_s", l, plain("\t", oneDigit))), l)

	// A teacher's first computer: line ends of CR alone.
	l = log(2205, 12, numbered("kn%d", 6)...)
	read("22-knots-old-line-ends", "KNOTS", "--trainee who --attempt knot --response sec --measure time",
		bytes.TrimSuffix(lineEnds(lines("who\tknot\tsec", l, plain("\t", oneDigit)), "\r"), []byte("\r")), l)

	// Dental drilling, a file with a sep= line so that a double click opens it well.
	l = log(2206, 6, numbered("ZM%02d", 8)...)
	read("22-drill-sep-line", "boren.csv", "--trainee Student --attempt Poging --response Seconden --measure time",
		append([]byte("\xef\xbb\xbfsep=;\r\n"), crlf(lines("Student;Poging;Seconden", l, plain(";", oneDigitComma)))...), l)

	// Pipettes: the counting program writes what it is above the table.
	r := counts22(7, 8, numbered("PIP-%d", 6)...)
	read("22-pipette-comments", "spills.csv", "--trainee code --attempt plate --response wrong_wells --measure count",
		append([]byte("# Plate reader log, room 4\n# wrong_wells: wells of 96 outside 5 % of the volume\n#\n"),
			lines("code,plate,wrong_wells", r, plain(",", wholeHalfUp))...), r)

	// Time and errors of each try beside each other, from the microscope teacher.
	l = log(2208, 6, numbered("M%02d", 10)...)
	read("22-microscope-interleaved", "focus times.csv", "--trainee Code --response Time --measure time",
		wide("Code,Time 1,Errors 1,Time 2,Errors 2,Time 3,Errors 3,Time 4,Errors 4,Time 5,Errors 5,Time 6,Errors 6", ",", l, func(v float64) string {
			return fmt.Sprint(oneDigit(v), ",", int(v)%3+int(v)/90)
		}), l)

	// One column a trainee, as the board on the wall has it.
	l = log(2210, 8, "Ash", "Birch", "Cedar", "Elm", "Hazel", "Larch", "Maple")
	read("22-board-on-the-wall", "splint board.csv", "--columns-are trainee --attempt Attempt --measure time",
		board22(l, 8), l)

	// Names of fields below each other.
	l = log(2211, 5, numbered("B%d", 6)...)
	read("22-transposed", "sling.csv", "--transposed --trainee Code --attempt Attempt --response Seconds --measure time",
		transposed22(l), l)

	// A data program's index stands first, its head blank.
	l = log(2213, 9, numbered("s%02d", 8)...)
	i := -1
	read("22-index-column", "df_lines.csv", "--trainee id --attempt trial --response time_s --measure time",
		lines(",id,trial,time_s", l, func(a at) string {
			i++
			return fmt.Sprint(i, ",", a.who, ",", a.n, ",", oneDigit(a.value))
		}), l)

	// The survey program's export: two more rows below the names.
	l = rounded(log(2214, 6, numbered("nurse%02d", 7)...), 1)
	i = 0
	read("22-survey", "IV_line_survey.csv", "--trainee Q1 --attempt Q2 --response Q3 --measure time",
		lines("RecordedDate,ResponseId,Q1,Q2,Q3\nRecorded Date,Response ID,Your course code,Which attempt is this?,Time on the stopwatch (seconds)\n"+
			`"{""ImportId"":""recordedDate"",""timeZone"":""Europe/Berlin""}","{""ImportId"":""_recordId""}","{""ImportId"":""QID1_TEXT""}","{""ImportId"":""QID2_TEXT""}","{""ImportId"":""QID3_TEXT""}"`,
			l, func(a at) string {
				i++
				return fmt.Sprintf("%s %02d:%02d:12,R_%04x%04x,%s,%d,%s", day22(a.n).Format("2006-01-02"), 9+i%7, 10+i, i*40503%65536, i*30011%65536, a.who, a.n, wholeHalfUp(a.value))
			}), l)

	// Stopwatch readings copied from paper: minutes:seconds with tenths.
	l = log(2215, 7, numbered("RS %d", 8)...)
	read("22-stopwatch-minutes", "rettung.csv", "--trainee Teilnehmer --attempt Durchgang --response Zeit~(min:s) --measure time --limit 300",
		lines("Teilnehmer;Durchgang;Zeit (min:s)", l, plain(";", minutes("%d:%02d,%d"))), l)

	// Chest drains with a limit of 180 s; the outcome has a column of its own.
	l = with(log(2216, 8, numbered("CD%d", 8)...), func(a *at) {
		a.value *= 1.25
		a.value = math.Round(a.value*10) / 10
		if a.value >= 180 {
			a.value, a.outcome = 180, "timeout"
		} else if a.who == "CD3" && a.n == 4 || a.who == "CD6" && a.n == 2 {
			a.outcome = "failed"
		}
	})
	read("22-outcome-column", "chest_drain.csv", "--trainee trainee --attempt attempt --response time_s --outcome outcome --measure time --limit 180",
		lines("trainee,attempt,time_s,outcome", l, func(a at) string { return plain(",", oneDigit)(a) + "," + a.outcome }), l)

	// Cannulas: in or not in.
	p := passes22(17, 10, numbered("N%02d", 9)...)
	read("22-cannula-pass", "cannula.csv", "--trainee nurse --attempt try_no --response in_vein --measure pass-fail",
		lines("nurse,try_no,in_vein", p, plain(",", wholeHalfUp)), p)

	// The driving simulator's score out of 100.
	sc := scores22(18, 8, numbered("Car%d", 8)...)
	read("22-driving-score", "night_drive.tsv", "--trainee Learner --attempt Drive --response Score~(0-100) --measure score",
		lines("Learner\tDrive\tScore (0-100)", sc, plain("\t", wholeHalfUp)), sc)

	// Crossover: everybody used both blades; the new user asks for one.
	l = log(2221, 5, numbered("A%d", 8)...)
	other := log(2299, 5, numbered("A%d", 8)...)
	var both []byte
	both = append(both, "trainee,period,device,attempt,seconds\n"...)
	for i, a := range l {
		v, d := "1", "2"
		if i/5%2 == 1 {
			v, d = d, v
		}
		both = append(both, fmt.Sprintf("%s,%s,video,%d,%.1f\n%s,%s,direct,%d,%.1f\n", a.who, v, a.n, a.value, a.who, d, a.n, other[i].value)...)
	}
	read("22-crossover-one-device", "blades.csv", "--trainee trainee --attempt attempt --response seconds --measure time --where device=video", both, l)

	// Minutes with decimals, as its head says.
	l = rounded(with(log(2224, 7, numbered("G%02d", 7)...), func(a *at) { a.value = math.Round(a.value/60*1000) / 1000 }), 0.01)
	m := with(l, func(a *at) { a.value = math.Round(a.value*60*100) / 100 })
	read("22-minutes-by-head", "casts.csv", "--trainee student --attempt cast --response time_min --measure time --limit 300",
		lines("student,cast,time_min", l, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v) })), m)
}

// counts22 makes up counts that fall with practice.
func counts22(seed, n int, who ...string) []at {
	return with(log(2200+seed, n, who...), func(a *at) { a.value = math.Round(a.value / 14) })
}

// passes22 makes up 0 and 1, more often 1 with practice.
func passes22(seed, n int, who ...string) []at {
	return with(log(2200+seed, n, who...), func(a *at) {
		if a.value < 85+float64(int(a.value*10)%40) {
			a.value = 1
		} else {
			a.value = 0
		}
	})
}

// scores22 makes up scores of 100 that rise with practice.
func scores22(seed, n int, who ...string) []at {
	return with(log(2200+seed, n, who...), func(a *at) { a.value = math.Round(118 - a.value*0.42) })
}

// board22 is a text table of a column a trainee and a row an attempt.
func board22(l []at, n int) []byte {
	var b bytes.Buffer
	b.WriteString("Attempt")
	for i := 0; i < len(l); i += n {
		b.WriteString("," + l[i].who)
	}
	for k := range n {
		fmt.Fprintf(&b, "\n%d", k+1)
		for i := k; i < len(l); i += n {
			b.WriteString("," + oneDigit(l[i].value))
		}
	}
	b.WriteString("\n")
	return b.Bytes()
}

// transposed22 is a text table whose names stand below each other.
func transposed22(l []at) []byte {
	rows := []string{"Code", "Attempt", "Seconds"}
	for _, a := range l {
		rows[0] += "," + a.who
		rows[1] += fmt.Sprint(",", a.n)
		rows[2] += "," + oneDigit(a.value)
	}
	return []byte(strings.Join(rows, "\n") + "\n")
}

func plainBooks22() {
	// Two sessions of four; the session stands merged above its attempts.
	l := log(2232, 8, numbered("E%02d", 8)...)
	b := newBook("Suture")
	b.row("A1", "Code", "Session 1", nil, nil, nil, "Session 2")
	b.row("A2", nil, "Attempt 1", "Attempt 2", "Attempt 3", "Attempt 4", "Attempt 5", "Attempt 6", "Attempt 7", "Attempt 8")
	must(b.MergeCell(b.sheet, "A1", "A2"))
	must(b.MergeCell(b.sheet, "B1", "E1"))
	must(b.MergeCell(b.sheet, "F1", "I1"))
	b.wide(3, l, value)
	read("22-merged-sessions", "suture.xlsx", "--trainee Code --measure time", b.bytes(), l)

	// A sheet a trainee.
	who := numbered("Fenna%d", 6)
	l = log(2233, 10, who...)
	b = newBook(who[0])
	for k, w := range who {
		if k > 0 {
			b.next(w)
		}
		b.log([]any{"Attempt", "Date", "Seconds"}, l[k*10:k*10+10], func(a at) []any { return []any{a.n, day22(a.n), a.value} })
		b.format("B2", "B11", "yyyy-mm-dd")
	}
	read("22-sheet-a-trainee", "bronchoscopy.xlsx", "--sheets-are trainee --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// A sheet a session, the numbers running on.
	l = log(2234, 9, numbered("Q%d", 7)...)
	b = newBook("Session 1")
	for s := range 3 {
		if s > 0 {
			b.next(fmt.Sprint("Session ", s+1))
		}
		var part []at
		for _, a := range l {
			if (a.n-1)/3 == s {
				part = append(part, a)
			}
		}
		b.log([]any{"Code", "Attempt", "Seconds"}, part, longRow)
	}
	read("22-sheet-a-session", "laryngoscope.xlsx", "--sheets-are session --trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// Times typed as 0:01:38 and shown as minutes and seconds.
	l = rounded(log(2235, 7, numbered("Le%02d", 8)...), 1)
	b = newBook("Tijden")
	b.row("A1", "Code", "Poging 1", "Poging 2", "Poging 3", "Poging 4", "Poging 5", "Poging 6", "Poging 7")
	b.wide(2, l, days22)
	b.format("B2", "H9", "[m]:ss")
	read("22-time-cells", "infuus.xlsx", "--trainee Code --measure time --limit 300", b.bytes(), l)

	// Made on an old computer whose days count from 1904; the dates order the attempts.
	l = log(2236, 6, numbered("H%d", 6)...)
	b = newBook("Sheet A")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Initials", "Day", "Seconds"}, l, func(a at) []any { return []any{a.who, 40250 + 7*a.n, a.value} })
	b.format("B2", "B37", "d mmm yyyy")
	read("22-days-from-1904", "tendon.xlsx", "--trainee Initials --date Day --response Seconds --measure time", b.bytes(), l)

	// The time is the sum of two halves; saved by the office program with its values.
	l = log(2238, 6, "RK", "SV", "TW", "UA", "VD", "WE", "XO")
	b = newBook("Both halves")
	b.row("A1", "Student", "Attempt", "First half (s)", "Second half (s)", "Total (s)")
	for i, a := range l {
		half := math.Round(a.value*4) / 10
		b.row(fmt.Sprint("A", i+2), a.who, a.n, half, math.Round((a.value-half)*10)/10)
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("C%d+D%d", i+2, i+2)))
	}
	read("22-sum-of-halves", "halves.xlsx", "--trainee Student --attempt Attempt --response Total~(s) --measure time", office("22-sum-of-halves", "halves.xlsx", b.bytes()), l)

	// Wide with the means of each attempt below.
	l = log(2240, 6, numbered("Z%02d", 9)...)
	b = newBook("Peg")
	b.row("A1", "Code", "Attempt 1", "Attempt 2", "Attempt 3", "Attempt 4", "Attempt 5", "Attempt 6")
	b.wide(2, l, value)
	b.put(1, 12, "Mean")
	for c := 2; c <= 7; c++ {
		must(b.SetCellFormula(b.sheet, cellName(c, 12), fmt.Sprintf("ROUND(AVERAGE(%s:%s),1)", cellName(c, 2), cellName(c, 10))))
	}
	read("22-means-below", "pegs.ods", "--trainee Code --measure time", office("22-means-below", "pegs.ods", b.bytes()), l)

	// A workbook of times that the secretary saved as text.
	l = rounded(log(2241, 8, numbered("Kt%d", 6)...), 1)
	b = newBook("Knots")
	b.log([]any{"Code", "Attempt", "Time (mm:ss)"}, l, func(a at) []any { return []any{a.who, a.n, days22(a)} })
	b.format("C2", "C49", "mm:ss")
	read("22-saved-as-text", "one hand knot.csv", "--trainee Code --attempt Attempt --response Time~(mm:ss) --measure time --limit 300",
		officeFrom("22-saved-as-text", "one hand knot.csv", ".xlsx", "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false", b.bytes()), l)

	// A title above, a note below.
	l = log(2242, 5, numbered("St%02d", 10)...)
	b = newBook("2019")
	b.row("A1", "Skills centre, urinary catheters, spring course")
	b.row("A3", "Code", "Attempt", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+4), longRow(a)...)
	}
	b.row("A56", "Times by stopwatch, from the opening of the set to the filled balloon.")
	read("22-title-and-note", "spring course.xlsx", "--trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// Pasted from an e-mail: every number is text.
	l = log(2243, 6, numbered("Pa%d", 8)...)
	b = newBook("Blad1")
	b.log([]any{"Cursist", "Poging", "Seconden"}, l, func(a at) []any { return []any{a.who, fmt.Sprint(a.n), oneDigit(a.value)} })
	read("22-numbers-as-text", "pasted.xlsx", "--trainee Cursist --attempt Poging --response Seconden --measure time", b.bytes(), l)

	// Badge numbers shown with three digits.
	l = log(2244, 7, numbered("%03d", 9)...)
	b = newBook("Badges")
	b.log([]any{"Badge", "Attempt", "Seconds"}, l, func(a at) []any {
		var n int
		_, err := fmt.Sscanf(a.who, "%03d", &n)
		must(err)
		return []any{n, a.n, a.value}
	})
	b.format("A2", "A64", "000")
	read("22-badges", "badges.xlsx", "--trainee Badge --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// The code is merged down over its attempts.
	l = log(2245, 5, numbered("WD%d", 7)...)
	b = newBook("Dressing")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	for i := 0; i < len(l); i += 5 {
		must(b.MergeCell(b.sheet, fmt.Sprint("A", i+2), fmt.Sprint("A", i+6)))
	}
	read("22-code-merged-down", "dressing.xlsx", "--trainee Code --attempt Attempt --response Seconds --measure time --fill-down Code", b.bytes(), l)

	// The attempt stands above the measure: time and slips beside each other.
	l = log(2247, 5, numbered("Lap%d", 7)...)
	b = newBook("Box")
	b.row("A1", nil, "Attempt 1", nil, "Attempt 2", nil, "Attempt 3", nil, "Attempt 4", nil, "Attempt 5")
	b.row("A2", "Code", "Time (s)", "Slips", "Time (s)", "Slips", "Time (s)", "Slips", "Time (s)", "Slips", "Time (s)", "Slips")
	for c := 2; c <= 10; c += 2 {
		must(b.MergeCell(b.sheet, cellName(c, 1), cellName(c+1, 1)))
	}
	for i, a := range l {
		row := i/5 + 3
		b.put(1, row, a.who)
		b.put(2*a.n, row, a.value)
		b.put(2*a.n+1, row, int(a.value)%4)
	}
	read("22-attempt-above-measure", "box.xlsx", "--trainee Code --measure time --response Time~(s)", b.bytes(), l)

	// Dutch words for the outcome, which the user says.
	l = with(log(2249, 7, numbered("Med%02d", 8)...), func(a *at) {
		a.value = math.Round(a.value*13) / 10
		if a.value >= 200 {
			a.value, a.outcome = 200, "timeout"
		}
	})
	b = newBook("Resultaten")
	b.log([]any{"Student", "Poging", "Seconden", "Resultaat"}, l, func(a at) []any {
		word := "gehaald"
		if a.outcome == "timeout" {
			word = "tijd om"
		}
		return append(longRow(a), word)
	})
	read("22-dutch-outcomes", "resultaten.xlsx", "--trainee Student --attempt Poging --response Seconden --outcome Resultaat --measure time --limit 200 --code gehaald=done --code tijd~om=timeout", b.bytes(), l)

	// Durations of the free office program.
	l = rounded(log(2250, 6, numbered("O%d", 8)...), 1)
	b = newBook("Zeiten")
	b.log([]any{"Kürzel", "Versuch", "Dauer"}, l, func(a at) []any { return []any{a.who, a.n, days22(a)} })
	b.format("C2", "C49", "[h]:mm:ss")
	read("22-durations", "zeiten.ods", "--trainee Kürzel --attempt Versuch --response Dauer --measure time --limit 300", office("22-durations", "zeiten.ods", b.bytes()), l)

	// The tries are counted anew in each session.
	l = log(2251, 8, numbered("Re%d", 7)...)
	b = newBook("Log")
	b.log([]any{"Code", "Session", "Try", "Seconds"}, l, func(a at) []any { return []any{a.who, (a.n-1)/4 + 1, (a.n-1)%4 + 1, a.value} })
	read("22-tries-restart", "resuscitation.xlsx", "--trainee Code --session Session --attempt Try --response Seconds --measure time", b.bytes(), l)

	// Two curricula.
	l = log(2252, 6, numbered("C%02d", 10)...)
	b = newBook("Trial")
	arms := map[string]string{}
	b.log([]any{"ID", "Curriculum", "Attempt", "Seconds"}, l, func(a at) []any {
		arm := "video first"
		if int(a.who[2]-'0')%2 == 0 {
			arm = "bench first"
		}
		arms[a.who] = arm
		return []any{a.who, arm, a.n, a.value}
	})
	read("22-two-curricula", "trial.xlsx", "--trainee ID --arm Curriculum --attempt Attempt --response Seconds --measure time", b.bytes(), l).Arms = arms
}

// A drop22 is a row of the log that the eye simulator keeps.
type drop22 struct {
	Trainee string  `parquet:"trainee"`
	Attempt int64   `parquet:"attempt"`
	Seconds float64 `parquet:"seconds"`
}

// A stamp22 is a row without a number: the moment orders the attempts.
type stamp22 struct {
	User    string    `parquet:"user"`
	Started time.Time `parquet:"started,timestamp(millisecond)"`
	Seconds float64   `parquet:"seconds"`
}

// A tick22 is a row of a machine that counts thousandths.
type tick22 struct {
	User     string `parquet:"user"`
	Run      int32  `parquet:"run"`
	Duration int64  `parquet:"duration"`
}

func plainRest22() {
	l := log(2255, 12, numbered("eye%02d", 8)...)
	var drops []drop22
	for _, a := range l {
		drops = append(drops, drop22{a.who, int64(a.n), a.value})
	}
	read("22-eye-parquet", "capsule.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", parquetOf(drops), l)

	l = log(2256, 7, numbered("u-%03d", 6)...)
	var stamps []stamp22
	for i, a := range l {
		stamps = append(stamps, stamp22{a.who, day22(a.n).Add(time.Duration(9*60+5*i) * time.Minute), a.value})
	}
	read("22-moments-parquet", "scope.parquet", "--trainee user --date started --response seconds --measure time", parquetOf(stamps), l)

	// Two days, a file each; the numbers run on.
	l = log(2257, 6, numbered("P%02d", 8)...)
	var first, second []at
	for _, a := range l {
		if a.n <= 3 {
			first = append(first, a)
		} else {
			second = append(second, a)
		}
	}
	study22(read("22-study-two-days", ".", "", nil, l), "monday.csv", `tasks: [{name: splint, measure: time, column: seconds, limit: 300}]
attempts:
  files: [monday.csv, friday.csv]
`, lines("trainee,attempt,seconds", first, plain(",", oneDigit))).files["friday.csv"] = lines("trainee,attempt,seconds", second, plain(",", oneDigit))

	// A workbook of trainees and a text file of teachers.
	l = log(2258, 8, numbered("N%d", 8)...)
	b := newBook("Log")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	experts := with(log(2259, 3, numbered("X%d", 5)...), func(a *at) { a.value = math.Round((38+a.value/12)*10) / 10 })
	t := study22(read("22-study-teachers", ".", "", nil, l), "log.xlsx", `tasks: [{name: knot, measure: time, column: seconds}]
attempts: {file: log.xlsx}
experts: {file: teachers.csv}
`, b.bytes())
	t.files["teachers.csv"] = lines("trainee,attempt,seconds", experts, plain(",", oneDigit))
	t.Experts = experts

	// The days order the attempts.
	l = log(2260, 6, numbered("D%d", 7)...)
	study22(read("22-study-by-day", ".", "", nil, l), "log.csv", `tasks: [{name: cast, measure: time, column: seconds, limit: 300}]
attempts:
  file: log.csv
  columns: {date: day}
`, lines("trainee;day;seconds", l, func(a at) string {
		return fmt.Sprint(a.who, ";", day22(a.n).Format("02.01.2006"), ";", oneDigitComma(a.value))
	}))
}

// study22 is a study folder: the study file and one data file.
func study22(t *truth, file, yaml string, data []byte) *truth {
	t.files = map[string][]byte{"study.yaml": []byte(yaml), file: data}
	return t
}

func doubtText22() {
	long := "--trainee code --attempt try --response seconds --measure time"
	// A spreadsheet set to commas, saved with commas between cells.
	l := log(2261, 6, numbered("K%d", 7)...)
	doubt("22-comma-in-comma", "kopie.csv", long,
		lines("code,try,seconds,remarks", l, func(a at) string { return fmt.Sprint(a.who, ",", a.n, ",", comma(a.value), ",") }), l,
		"Every row: the decimal comma stands bare in a file that commas separate, so 138,4 falls into two cells, the second under remarks.")

	// The point was not typed.
	l = log(2263, 7, numbered("AW%02d", 8)...)
	doubt("22-point-not-typed", "airway.csv", long+" --limit 300",
		lines("code,try,seconds", l, func(a at) string {
			if a.who == "AW05" && a.n == 6 {
				return fmt.Sprint(a.who, ",", a.n, ",", int(math.Round(a.value*10)))
			}
			return plain(",", oneDigit)(a)
		}), l, "AW05, attempt 6: ten times the others' times, far above the limit of 300, and the only one without a point; the point was not typed.")

	// 999 for those who did not get the tube in.
	l = rounded(log(2264, 8, numbered("Tube%d", 7)...), 1)
	for _, i := range []int{0, 17, 33} {
		l[i].value, l[i].outcome = math.NaN(), "failed"
	}
	doubt("22-nines", "tube.csv", long+" --limit 300",
		lines("code,try,seconds", l, func(a at) string {
			if math.IsNaN(a.value) {
				return fmt.Sprint(a.who, ",", a.n, ",999")
			}
			return plain(",", wholeHalfUp)(a)
		}), nil, "Three rows (Tube1 attempt 1, Tube3 attempt 2, Tube5 attempt 2) hold 999, above the limit of 300: a code for no result, not a time.")

	// One timeout was written down at half of the limit.
	l = with(log(2265, 7, numbered("PL%d", 8)...), func(a *at) {
		a.value = math.Round(a.value*16) / 10
		if a.value >= 240 || a.who == "PL4" && a.n == 2 {
			a.value, a.outcome = 240, "timeout"
		}
	})
	doubt("22-timeout-at-half", "plaster.csv", "--trainee code --attempt try --response seconds --measure time --outcome result --limit 240",
		lines("code,try,seconds,result", l, func(a at) string {
			if a.who == "PL4" && a.n == 2 {
				return "PL4,2,120,timeout"
			}
			return plain(",", oneDigit)(a) + "," + a.outcome
		}), nil, "PL4, attempt 2: a timeout at 120 s although the limit is 240.")

	// A zero-width space came along with a code from a web page.
	l = log(2266, 6, numbered("B%02d", 8)...)
	doubt("22-unseen-space", "web copy.csv", long,
		lines("code,try,seconds", l, func(a at) string {
			if a.who == "B03" && a.n > 4 {
				a.who = "B03\u200b"
			}
			return plain(",", oneDigit)(a)
		}), l, "B03, attempts 5 and 6: the code ends in a zero-width space; it is B03.")

	// The outcome is there and was not named.
	l = with(log(2267, 7, numbered("SN%d", 8)...), func(a *at) {
		if a.n < 4 && int(a.value)%3 == 0 {
			a.outcome = "failed"
		}
	})
	doubt("22-outcome-not-named", "sim nurses.csv", long,
		lines("code,try,seconds,outcome", l, func(a at) string { return plain(",", oneDigit)(a) + "," + a.outcome }), l,
		"The column outcome, with failed in some rows, was not named by a flag.")

	// The measure was forgotten.
	l = log(2268, 7, numbered("F%02d", 9)...)
	doubt("22-measure-forgotten", "fracture.csv", "--trainee code --attempt try --response seconds",
		lines("code,try,seconds", l, plain(",", oneDigit)), l, "No measure was said: the column seconds holds times, not scores of which more is better.")

	// Minutes and seconds with a point between, without a word about it.
	l = rounded(log(2269, 7, numbered("mv%d", 8)...), 1)
	doubt("22-minutes-point-seconds", "vein.csv", "--trainee code --attempt try --response time --measure time",
		lines("code,try,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) })), l,
		"The column time holds 1.38, 2.05 and the like, never .60 or more: minutes and seconds with a point between, not seconds or parts of minutes.")

	// The copy broke off.
	l = log(2270, 8, numbered("N%02d", 7)...)
	cut := lines("code,try,seconds,station", l, func(a at) string { return plain(",", oneDigit)(a) + ",bench" })
	end := bytes.LastIndex(cut, []byte(",8,")) + 4
	doubt("22-broken-off", "station.csv", long, cut[:end], l[:len(l)-1],
		"The last row (N07, attempt 8) breaks off within the time: one digit, no station, no line end.")

	// An arm written in two ways.
	l = log(2288, 6, numbered("Lb%d", 8)...)
	t := doubt("22-arm-spellings", "arms.csv", long+" --arm group",
		lines("code,group,try,seconds", l, func(a at) string {
			group := "box"
			if (a.who[2]-'0')%2 == 0 {
				group = "screen"
			} else if a.who == "Lb5" {
				group = "Box"
			}
			return fmt.Sprint(a.who, ",", group, ",", a.n, ",", oneDigit(a.value))
		}), l, "The column group: Box (Lb5) and box (Lb1, Lb3, Lb7) are one arm.")
	t.Arms = map[string]string{}
	for _, a := range l {
		t.Arms[a.who] = []string{"screen", "box"}[(a.who[2]-'0')%2]
	}

	// The sheet at the door: when each try began, not how long it took.
	doubt("22-clock-of-the-day", "door sheet.csv", "--trainee code --attempt try --response time --measure time",
		lines("code,try,time", log(2289, 6, numbered("Dr%d", 6)...), func(a at) string {
			minute := 9*60 + 2 + 17*(a.n-1) + int(a.who[2]-'0')*4 + int(a.value)%3
			return fmt.Sprintf("%s,%d,%02d:%02d", a.who, a.n, minute/60, minute%60)
		}), nil, "The column time rises from about 09:06 to 10:50 with every try: times of the day, not how long a try took.")
}

func doubtBooks22() {
	long := "--trainee Code --attempt Attempt --response Seconds --measure time"
	head := []any{"Code", "Attempt", "Seconds"}

	// One time was typed 2:05 where the others were typed 0:02:05.
	l := rounded(log(2272, 6, numbered("Y%02d", 8)...), 1)
	b := newBook("Times")
	b.row("A1", "Code", "Attempt 1", "Attempt 2", "Attempt 3", "Attempt 4", "Attempt 5", "Attempt 6")
	b.wide(2, l, days22)
	b.format("B2", "G9", "[h]:mm:ss")
	b.put(3, 5, l[19].value*60/86400)
	doubt("22-typed-as-hours", "wound closure.xlsx", "--trainee Code --measure time --limit 300", b.bytes(), l,
		"Cell C5 (Y04, attempt 2) is 60 times the others and far above the limit of 300: minutes:seconds typed as hours:minutes.")

	// A filter was left on: one trainee's rows are hidden.
	l = log(2273, 6, numbered("Hi%d", 8)...)
	b = newBook("Filter")
	b.log(head, l, longRow)
	for row := 14; row <= 19; row++ {
		must(b.SetRowVisible("Filter", row, false))
	}
	doubt("22-hidden-rows", "filtered.xlsx", long, b.bytes(), l, "Rows 14 to 19 (Hi3) are hidden in the sheet.")

	// A small program wrote a formula and no value.
	l = log(2274, 7, numbered("Ge%d", 7)...)
	b = newBook("Dental")
	b.row("A1", "Code", "Attempt 1", "Attempt 2", "Attempt 3", "Attempt 4", "Attempt 5", "Attempt 6", "Attempt 7")
	b.wide(2, l, value)
	b.put(4, 6, nil)
	must(b.SetCellFormula("Dental", "D6", fmt.Sprintf("%.1f-12", l[30].value+12)))
	doubt("22-not-calculated", "dental.xlsx", "--trainee Code --measure time", b.bytes(), l,
		"Cell D6 (Ge5, attempt 3) holds a formula without a kept value.")

	// One teacher writes minutes.
	l = log(2275, 6, numbered("GS%d", 8)...)
	b = newBook("All groups")
	b.log(head[:2:2], l, longRow)
	b.put(3, 1, "Time")
	for i, a := range l {
		if a.who == "GS6" {
			b.put(3, i+2, math.Round(a.value/60*100)/100)
		}
	}
	doubt("22-one-in-minutes", "all groups.xlsx", "--trainee Code --attempt Attempt --response Time --measure time", b.bytes(), nil,
		"GS6: all six times are about 1 to 3 where the others' are 40 to 250: minutes among seconds.")

	// A row was entered twice, from two paper sheets that do not agree.
	l = log(2276, 6, numbered("Do%d", 7)...)
	b = newBook("Paper")
	b.log(head, l, longRow)
	b.row("A44", l[20].who, l[20].n, math.Round(l[20].value*10+93)/10)
	doubt("22-twice-unlike", "paper.xlsx", long, b.bytes(), nil, "Do4, attempt 3 stands twice (rows 22 and 44), with two times.")

	// One score typed as a number among percent cells.
	sc := scores22(77, 6, numbered("Pc%d", 8)...)
	b = newBook("Checklist")
	b.log([]any{"Code", "Attempt", "Score"}, sc, func(a at) []any { return []any{a.who, a.n, a.value / 100} })
	b.format("C2", "C49", "0%")
	general := "0"
	b.put(3, 28, sc[26].value)
	b.format("C28", "C28", general)
	doubt("22-percent-and-number", "checklist.xlsx", "--trainee Code --attempt Attempt --response Score --measure score", b.bytes(), nil,
		"Cell C28 (Pc5, attempt 3) is the plain number 74 among percent cells such as 71 %, which are kept as 0.71.")

	// A column was put in twice, once with a zero.
	l = log(2278, 6, numbered("Tt%d", 7)...)
	b = newBook("Copy")
	b.row("A1", "Code", "T1", "T2", "T3", "T4", "T5", "T6", "T01")
	b.wide(2, l, value)
	for i := 0; i < len(l); i += 6 {
		b.put(8, i/6+2, math.Round(l[i].value*11)/10)
	}
	doubt("22-t1-and-t01", "copy.xlsx", "--trainee Code --measure time", b.bytes(), nil, "The columns T1 and T01 both say attempt 1, with unlike times.")

	// "3-2" for session 3, try 2 became a date.
	l = log(2279, 6, numbered("Da%d", 6)...)
	b = newBook("Tries")
	b.log(head, l, func(a at) []any {
		return []any{a.who, time.Date(2024, time.Month((a.n-1)%3+1), (a.n-1)/3+1, 0, 0, 0, 0, time.UTC), a.value}
	})
	b.format("B2", "B37", "d-m")
	doubt("22-tries-became-dates", "tries.xlsx", long, b.bytes(), nil,
		"The column Attempt holds dates shown as 1-2 and the like: session and try were turned into days by the spreadsheet.")

	// Two tasks in one list.
	l = log(2280, 5, numbered("Ta%d", 7)...)
	other := log(2281, 5, numbered("Ta%d", 7)...)
	b = newBook("Both tasks")
	b.row("A1", "Code", "Task", "Attempt", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", 2*i+2), a.who, "needle", a.n, a.value)
		b.row(fmt.Sprint("A", 2*i+3), a.who, "clip", a.n, math.Round(other[i].value*6)/10)
	}
	doubt("22-two-tasks", "both tasks.xlsx", long, b.bytes(), nil, "The column Task has needle and clip: every attempt number stands twice, once for each task.")

	// The same person, with and without a zero.
	l = log(2282, 7, numbered("T%d", 8)...)
	b = newBook("Codes")
	b.log(head, l, func(a at) []any {
		who := a.who
		if who == "T4" && a.n > 5 {
			who = "T04"
		}
		return []any{who, a.n, a.value}
	})
	doubt("22-t4-and-t04", "codes.xlsx", long, b.bytes(), l, "T04 (attempts 6 and 7) is T4 (attempts 1 to 5).")

	// The test after half a year stands as the next attempt.
	l = log(2283, 7, numbered("Rt%d", 8)...)
	b = newBook("With retest")
	b.log([]any{"Code", "Attempt", "Day", "Seconds"}, l, func(a at) []any {
		day := day22(a.n)
		if a.n == 7 {
			day = day.AddDate(0, 6, 4)
		}
		return []any{a.who, a.n, day, a.value}
	})
	b.format("C2", "C57", "yyyy-mm-dd")
	doubt("22-retest-as-next", "with retest.xlsx", long+" --date Day", b.bytes(), l,
		"Attempt 7 of everybody was made half a year after attempt 6: a test of what was kept, not one more practice.")
}

func doubtRest22() {
	l := log(2285, 6, numbered("m%d", 8)...)
	var ticks []tick22
	for _, a := range l {
		ticks = append(ticks, tick22{a.who, int32(a.n), int64(math.Round(a.value * 1000))})
	}
	doubt("22-thousandths-parquet", "console.parquet", "--trainee user --attempt run --response duration --measure time --limit 300", parquetOf(ticks), l,
		"The column duration holds 158400 and the like under a limit of 300: thousandths of a second.")

	l = log(2286, 6, numbered("Q%02d", 7)...)
	experts := with(log(2287, 2, numbered("X%d", 6)...), func(a *at) { a.value = math.Round((40+a.value/10)/60*100) / 100 })
	t := study22(doubt("22-study-teachers-in-minutes", ".", "", nil, l, "teachers.csv: all times are about 0.9 where the trainees' are 40 to 200: minutes, not seconds."), "log.csv",
		`tasks: [{name: suture, measure: time, column: seconds, limit: 300}]
attempts: {file: log.csv}
experts: {file: teachers.csv}
`, lines("trainee,attempt,seconds", l, plain(",", oneDigit)))
	t.files["teachers.csv"] = lines("trainee,attempt,seconds", experts, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v) }))
}

func refuse22() {
	long := "--trainee Code --attempt Attempt --response Seconds --measure time"
	l := log(2290, 6, numbered("R%d", 7)...)

	// The learning platform's "Excel" export is a web page.
	var page bytes.Buffer
	page.WriteString("<html><head><meta charset=\"utf-8\"></head><body><table border=1>\n<tr><th>Code</th><th>Attempt</th><th>Seconds</th></tr>\n")
	for _, a := range l {
		fmt.Fprintf(&page, "<tr><td>%s</td><td>%d</td><td>%.1f</td></tr>\n", a.who, a.n, a.value)
	}
	page.WriteString("</table></body></html>\n")
	refuse("22-web-page", "platform export.xlsx", long, page.Bytes(), "A web page under the name of a workbook.")

	refuse("22-printed", "scanned list.csv", long,
		[]byte("%PDF-1.4\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Kids [] /Count 0 >>\nendobj\nxref\n0 3\n0000000000 65535 f \n0000000015 00000 n \n0000000064 00000 n \ntrailer\n<< /Size 3 /Root 1 0 R >>\nstartxref\n115\n%%EOF\n"),
		"A PDF under the name of a text table.")

	b := newBook("Log")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	whole := b.bytes()
	refuse("22-half-copied", "memory stick.xlsx", long, whole[:len(whole)*3/5], "The copy of the workbook broke off: it ends in the middle.")

	refuse("22-sheet-malformed", "repaired.xlsx", long, partChanged(whole, "xl/worksheets/sheet1.xml", func(text string) string {
		at := strings.Index(text, `<row r="20"`)
		return text[:at] + "</c>" + text[at:]
	}), "The sheet's XML is malformed before row 20.")

	refuse("22-password", "locked.xlsx", long, locked22(), "A workbook locked by a password.")

	refuse("22-heads-alone", "to be filled in.csv", "--trainee code --attempt attempt --response seconds --measure time",
		[]byte("code,attempt,seconds\r\n"), "The form holds its column names alone, no attempts.")

	study22(refuse("22-study-file-gone", ".", "", nil, "The study names friday.csv, which is not in the folder."), "monday.csv",
		`tasks: [{name: splint, measure: time, column: seconds, limit: 300}]
attempts:
  files: [monday.csv, friday.csv]
`, lines("trainee,attempt,seconds", l, plain(",", oneDigit)))
}

// locked22 is the beginning of a workbook locked by a password: a compound file with the
// streams EncryptionInfo and EncryptedPackage.
func locked22() []byte {
	out := make([]byte, 512*12)
	copy(out, "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")
	copy(out[0x18:], "\x3e\x00\x03\x00\xfe\xff\x09\x00\x06\x00")
	copy(out[0x2c:], "\x01\x00\x00\x00\x01\x00\x00\x00")
	copy(out[0x38:], "\x00\x10\x00\x00\xfe\xff\xff\xff\x00\x00\x00\x00\xfe\xff\xff\xff\x00\x00\x00\x00\x00\x00\x00\x00")
	for i := 0x50; i < 512; i++ {
		out[i] = 0xff
	}
	for i := 512; i < 1024; i++ {
		out[i] = 0xff
	}
	copy(out[512:], "\xfd\xff\xff\xff\xfe\xff\xff\xff\x03\x00\x00\x00\x04\x00\x00\x00\x05\x00\x00\x00\x06\x00\x00\x00\x07\x00\x00\x00\x08\x00\x00\x00\x09\x00\x00\x00\x0a\x00\x00\x00\xfe\xff\xff\xff")
	for i, name := range []string{"Root Entry", "EncryptionInfo", "EncryptedPackage"} {
		entry := out[1024+128*i:]
		copy(entry, inUTF16(binary.LittleEndian, false, []byte(name)))
		entry[0x40], entry[0x42], entry[0x43] = byte(2*len(name)+2), 2, 1
		copy(entry[0x44:], "\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff")
		if i == 0 {
			entry[0x42] = 5
			entry[0x4c] = 1
			copy(entry[0x74:], "\xfe\xff\xff\xff")
		} else {
			entry[0x74] = byte(2 * i) // the two streams, from sectors 2 and 4 on
			copy(entry[0x78:], "\x00\x10")
		}
	}
	r := uint32(22)
	for i := 1536; i < len(out); i++ {
		r = r*1664525 + 1013904223
		out[i] = byte(r >> 20)
	}
	return out
}

// A mark22 is a rating made up: good performances are marked high by all, with some scatter.
func mark22(seed, subject, rater, item, low, high int) int {
	r := uint32(seed*7919+subject*104729)*2654435761 + 977
	base := int(r>>12) % (high - low + 1)
	r = (r+uint32(rater*613+item*31))*1664525 + 1013904223
	switch r >> 16 % 5 {
	case 0:
		base++
	case 1:
		base--
	}
	return min(max(low+base, low), high)
}

// marks22 lists ratings: subjects by raters by items (one item without a name for none).
func marks22(seed, low, high int, subjects, raters, items []string) [][4]string {
	var out [][4]string
	for s, subject := range subjects {
		for i, item := range items {
			for r, rater := range raters {
				out = append(out, [4]string{subject, rater, item, fmt.Sprint(mark22(seed, s, r, i, low, high))})
			}
		}
	}
	return out
}

// rows22 is a text table of ratings, a row each.
func rows22(head, sep string, marks [][4]string, order ...int) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	for _, m := range marks {
		for k, o := range order {
			if k > 0 {
				b.WriteString(sep)
			}
			b.WriteString(m[o])
		}
		b.WriteString("\n")
	}
	return b.Bytes()
}

// beside22 writes the marks of raters beside each other, from this column on.
func (b *book) beside22(marks [][4]string, raters, col int) {
	for i, m := range marks {
		b.put(1, i/raters+2, m[0])
		var v float64
		_, err := fmt.Sscan(m[3], &v)
		must(err)
		b.put(i%raters+col, i/raters+2, v)
	}
}

func ratings22() {
	none := []string{""}

	// A checklist of five points, by three examiners.
	m := marks22(91, 1, 5, numbered("film%02d", 8), []string{"RA", "RB", "RC"}, []string{"asepsis", "handling", "flow"})
	read("22-ratings-checklist", "global_ratings.csv", "--subject film --rater examiner --item item --score mark --scale ordinal",
		rows22("film,item,examiner,mark", ",", m, 0, 2, 1, 3), nil).Ratings = m

	// Marks in halves, with decimal commas, the teachers beside each other.
	m = marks22(92, 4, 20, numbered("Video %d", 12), []string{"Lehrkraft A", "Lehrkraft B", "Lehrkraft C"}, none)
	var b bytes.Buffer
	b.WriteString("Video;Lehrkraft A;Lehrkraft B;Lehrkraft C\n")
	for i := range m {
		var v float64
		_, err := fmt.Sscan(m[i][3], &v)
		must(err)
		m[i][3] = fmt.Sprint(v / 2)
		if i%3 == 0 {
			b.WriteString(m[i][0])
		}
		b.WriteString(";" + strings.ReplaceAll(fmt.Sprintf("%.1f", v/2), ".", ","))
		if i%3 == 2 {
			b.WriteString("\n")
		}
	}
	read("22-ratings-halves", "noten.csv", "--subject Video --wide --scale interval", b.Bytes(), nil).Ratings = m

	// Four raters of sutures in a workbook.
	m = marks22(93, 10, 40, numbered("S%02d", 15), []string{"Rater 1", "Rater 2", "Rater 3", "Rater 4"}, none)
	w := newBook("Scores")
	w.row("A1", "Suture", "Rater 1", "Rater 2", "Rater 3", "Rater 4")
	w.beside22(m, 4, 2)
	read("22-ratings-wide", "suture scores.xlsx", "--subject Suture --wide --scale interval", w.bytes(), nil).Ratings = m

	// Words, in a free office program's sheet.
	m = marks22(94, 0, 2, numbered("slide %d", 14), []string{"Ina", "Ole"}, none)
	w = newBook("Smears")
	w.row("A1", "Slide", "Reader", "Finding")
	for i := range m {
		m[i][3] = map[string]string{"0": "clean", "1": "thick", "2": "broken"}[m[i][3]]
		w.row(fmt.Sprint("A", i+2), m[i][0], m[i][1], m[i][3])
	}
	read("22-ratings-words", "smears.ods", "--subject Slide --rater Reader --score Finding --scale nominal", office("22-ratings-words", "smears.ods", w.bytes()), nil).Ratings = m

	// The secretary's mean stands beside the raters.
	m = marks22(95, 1, 10, numbered("P%02d", 10), []string{"Examiner 1", "Examiner 2", "Examiner 3"}, none)
	w = newBook("Exam")
	w.row("A1", "Performance", "Examiner 1", "Examiner 2", "Examiner 3", "Mean")
	w.beside22(m, 3, 2)
	for s := range 10 {
		sum := 0.0
		for r := range 3 {
			var v float64
			_, err := fmt.Sscan(m[3*s+r][3], &v)
			must(err)
			sum += v
		}
		w.put(5, s+2, math.Round(sum/3*100)/100)
	}
	doubt("22-ratings-mean", "exam.xlsx", "--subject Performance --wide --scale interval", w.bytes(), nil,
		"The column Mean is no rater: it is the mean of the three examiners.").Ratings = m

	// Everybody writes yes in another way.
	m = marks22(96, 0, 1, numbered("c%d", 12), []string{"E1", "E2", "E3"}, none)
	spelt := make([][4]string, len(m))
	for i := range m {
		yes, no := []string{"yes", "Yes", "YES"}[i%3], []string{"no", "No", "NO"}[i%3]
		spelt[i] = m[i]
		spelt[i][3] = map[string]string{"0": no, "1": yes}[m[i][3]]
		m[i][3] = strings.ToLower(spelt[i][3])
	}
	doubt("22-ratings-yes", "sterile.csv", "--subject case --rater examiner --score sterile --scale nominal",
		rows22("case,examiner,sterile", ",", spelt, 0, 1, 3), nil, "The column sterile: yes, Yes and YES (no, No, NO) are one answer, written in another way by each examiner.").Ratings = m

	// The number of the trainee stands between the film and the raters.
	m = marks22(97, 1, 7, numbered("Film %d", 12), []string{"Kim", "Lou", "Max"}, none)
	w = newBook("Films")
	w.row("A1", "Film", "Trainee no.", "Kim", "Lou", "Max")
	w.beside22(m, 3, 3)
	for s := range 12 {
		w.put(2, s+2, s%6+1)
	}
	doubt("22-ratings-trainee-number", "films.ods", "--subject Film --wide --scale interval", office("22-ratings-trainee-number", "films.ods", w.bytes()), nil,
		"The column Trainee no. is no rater: it holds the trainees' numbers.").Ratings = m

	// One teacher alone marked.
	m = marks22(98, 1, 5, numbered("V%02d", 11), []string{"GH"}, none)
	refuse("22-ratings-alone", "one teacher.csv", "--subject video --rater teacher --score mark --scale ordinal",
		rows22("video,teacher,mark", ",", m, 0, 1, 3), "One rater alone: agreement needs two.")
}
