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
)

// twentythird is what a doctoral student has who re-analyses the open data of twenty published
// studies of motor skills, surgery, music, sports, typing and assembly, each as its authors left it.
func twentythird() {
	textsPlain23()
	textsDoubted23()
	unitsMixed23()
	textsRefused23()
	booksPlain23()
	booksDoubted23()
	booksRefused23()
	columnFiles23()
	ratingTables23()
	studyFolders23()
}

// curve23 makes up attempts: a time that falls with practice, with a scatter of about a tenth.
func curve23(seed, n int, start, plateau, unit float64, who ...string) []at {
	var out []at
	r := uint32(seed)*747796405 + 2891336453
	next := func() float64 {
		r = r*1664525 + 1013904223
		return float64(r>>8) / float64(1<<24)
	}
	next()
	for _, w := range who {
		s, p := start*(0.85+0.3*next()), plateau*(0.85+0.3*next())
		for i := 1; i <= n; i++ {
			scatter := min(max((next()+next()+next()-1.5)*0.2, -0.18), 0.18)
			v := (p + (s-p)*math.Pow(float64(i), -0.8)) * (1 + scatter)
			out = append(out, at{w, i, math.Round(math.Round(v/unit)*unit*10000) / 10000, "done"})
		}
	}
	return out
}

// wide23 is a text table with a row a trainee, and other cells before its times.
func wide23(head, sep string, l []at, before func(who string, i int) string, cell func(a at) string) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i, who := range traineesOf(l) {
		b.WriteString("\n" + before(who, i))
		for _, a := range attemptsOf(l, who) {
			b.WriteString(sep + cell(a))
		}
	}
	b.WriteString("\n")
	return b.Bytes()
}

// index23 is the place of a trainee in the log.
func index23(l []at, who string) int { return slices.Index(traineesOf(l), who) }

// change23 is a log with the value of one attempt changed by a function.
func change23(l []at, who string, n int, f func(a *at)) []at {
	found := false
	out := with(l, func(a *at) {
		if a.who == who && a.n == n {
			f(a)
			found = true
		}
	})
	if !found {
		panic("no such attempt: " + who)
	}
	return out
}

func textsPlain23() {
	// The repository of a tracing study; the authors saved the table from their statistics program with row names.
	l := curve23(1, 8, 140, 60, 0.01, numbered("P%02d", 9)...)
	var b bytes.Buffer
	b.WriteString("\"\",\"participant\",\"trial\",\"time_s\"\n")
	for i, a := range l {
		fmt.Fprintf(&b, "\"%d\",\"%s\",%d,%v\n", i+1, a.who, a.n, a.value)
	}
	read("23-row-names", "mirror_tracing_long.csv", "--trainee participant --attempt trial --response time_s --measure time", bytes.Clone(b.Bytes()), l)

	// A typing study: teachers typed the same passages and stand in the same file; the user asks for the learners.
	l = curve23(2, 7, 160, 75, 0.1, numbered("typist_%d", 8)...)
	teachers := curve23(20, 7, 62, 54, 0.1, "teacher_1", "teacher_2", "teacher_3")
	read("23-teachers-in-file", "typing_all.csv", "--trainee subject --attempt passage --response seconds --measure time --where role=learner",
		lines("subject,role,passage,seconds", append(slices.Clone(l), teachers...), func(a at) string {
			role := "learner"
			if strings.HasPrefix(a.who, "teacher") {
				role = "teacher"
			}
			return fmt.Sprintf("%s,%s,%d,%v", a.who, role, a.n, a.value)
		}), l)

	// A German doctoral thesis on suturing: saved from a statistics program as text with tabs.
	l = curve23(3, 6, 210, 95, 0.1, numbered("VP%02d", 10)...)
	read("23-tabs-comma", "naht_zeiten.dat", "--trainee vpn --measure time --limit 300",
		append([]byte("\ufeff"), crlf(wide23(headLine("vpn", "\t", "zeit_%d", 6), "\t", l,
			func(who string, _ int) string { return who }, func(a at) string { return fixedComma(1)(a.value) }))...), l)

	// The supplement of an Austrian study of violin shifts, saved in the encoding of its office program.
	l = curve23(5, 10, 120, 55, 0.1, numbered("Schüler %d", 7)...)
	read("23-windows-umlauts", "Lagenwechsel_Zeiten.csv", "--trainee Schüler --attempt Übung --response Dauer_s --measure time",
		latin(crlf(lines("Schüler;Übung;Dauer_s", l, plain(";", fixedComma(1))))), l)

	// A Japanese study of folding, saved as Unicode text by the spreadsheet.
	l = curve23(6, 8, 230, 100, 1, numbered("被験者%02d", 8)...)
	read("23-unicode-text-japanese", "折り紙_時間.txt", "--trainee 被験者 --attempt 試行 --response 時間（秒） --measure time",
		inUTF16(binary.LittleEndian, true, crlf(lines("被験者\t試行\t時間（秒）", l, plain("\t", point)))), l)

	// A pegboard instrument's own log, two bytes a character and no mark at the front.
	l = curve23(7, 6, 110, 58, 0.01, numbered("SUBJ-%03d", 9)...)
	read("23-two-bytes-no-mark", "pegboard_export.txt", "--trainee Subject --attempt Run --response Seconds --measure time",
		inUTF16(binary.LittleEndian, false, crlf(lines("Subject,Run,Seconds", l, plain(",", fixed(2))))), l)

	// The supplement of 2003, saved on a computer of that time: lines end with a carriage return alone.
	l = curve23(8, 5, 150, 70, 1, "AB", "CF", "DK", "GM", "HS", "LR", "NW", "PT", "RV", "TZ")
	read("23-old-line-ends", "appendix_B.txt", "--trainee initials --attempt block --response sec --measure time",
		lineEnds(lines("initials\tblock\tsec", l, plain("\t", point)), "\r"), l)

	// A French study of juggling; the first line tells the spreadsheet what stands between cells.
	l = curve23(9, 9, 130, 62, 0.1, numbered("sujet%d", 8)...)
	read("23-sep-line-french", "jonglage.csv", "--trainee sujet --attempt essai --response temps_s --measure time",
		append([]byte("sep=;\r\n"), crlf(lines("sujet;essai;temps_s", l, plain(";", fixedComma(1))))...), l)

	// A repository's data with lines of comment above the table.
	l = curve23(10, 12, 180, 66, 0.1, numbered("kn%02d", 6)...)
	read("23-comment-lines", "knot_tying_exp1.csv", "--trainee id --attempt rep --response duration_s --measure time",
		append([]byte("# Data of experiment 1, knot tying\n# one row a repetition; duration in seconds\n# licence: CC BY 4.0\n"), lines("id,rep,duration_s", l, plain(",", point))...), l)

	// Helpers typed the times of a brick building task into an online form: three head rows.
	l = curve23(11, 6, 170, 82, 1, numbered("BRK%02d", 9)...)
	var ids []string
	for _, w := range traineesOf(l) {
		ids = append(ids, "R_"+strings.ToLower(w)+"x9Kq2")
	}
	head := headLine("ResponseId,Code", ",", "T%d", 6) + "\n" + headLine("Response ID,Participant code", ",", "Time of trial %d in seconds", 6) + "\n" +
		headLine(`"{""ImportId"":""_recordId""}","{""ImportId"":""QID2_TEXT""}"`, ",", `"{""ImportId"":""QID3_%d""}"`, 6)
	read("23-form-three-heads", "survey_numeric.csv", "--trainee Code --measure time",
		wide23(head, ",", l, func(who string, i int) string { return ids[i] + "," + who }, func(a at) string { return point(a.value) }), l)

	// A study of soldering: time and errors of each trial beside each other.
	l = curve23(12, 6, 200, 90, 0.5, numbered("Op%d", 8)...)
	var hs []string
	for i := 1; i <= 6; i++ {
		hs = append(hs, fmt.Sprintf("Time_%d", i), fmt.Sprintf("Errors_%d", i))
	}
	read("23-time-errors-interleaved", "soldering.csv", "--trainee Operator --measure time",
		wide23("Operator,"+strings.Join(hs, ","), ",", l, func(who string, _ int) string { return who },
			func(a at) string { return fmt.Sprint(a.value, ",", max(0, 7-a.n+(a.n*3+len(a.who)+int(a.value))%3-1)) }), l)

	// A Chilean study of laparoscopy with the result of each attempt, three in Spanish words.
	l = curve23(13, 8, 205, 110, 1, numbered("R%02d", 7)...)
	for i := range l {
		if a := &l[i]; a.value >= 215 {
			a.value, a.outcome = 240, "timeout"
		} else if i%19 == 5 {
			a.outcome = "failed"
		}
	}
	spanish := map[string]string{"done": "completo", "timeout": "agotado", "failed": "fallo"}
	read("23-outcome-spanish", "laparoscopia.csv", "--trainee residente --attempt intento --response segundos --measure time --limit 240 --outcome resultado --code completo=done --code agotado=timeout --code fallo=failed",
		lines("residente;intento;segundos;resultado", l, func(a at) string { return fmt.Sprintf("%s;%d;%v;%s", a.who, a.n, a.value, spanish[a.outcome]) }), l)

	// A simulator's export with its metrics.
	l = curve23(14, 7, 175, 78, 0.1, numbered("user%04d", 8)...)
	read("23-simulator-metrics", "SimExport.tsv", "--trainee UserID --attempt Attempt --response TotalTime_s --measure time",
		lines("UserID\tAttempt\tTotalTime_s\tPathLeft_mm\tPathRight_mm\tDrops", l, func(a at) string {
			return fmt.Sprintf("%s\t%d\t%.1f\t%.0f\t%.0f\t%d", a.who, a.n, a.value, 900+a.value*11.3, 700+a.value*13.1, int(a.value)/60)
		}), l)

	// A lab diary of handstand routines: days, no numbers.
	l = curve23(15, 6, 145, 72, 1, "Ana", "Bo", "Cai", "Dag", "Edi", "Fay", "Gil")
	type dated struct {
		day time.Time
		a   at
	}
	var days []dated
	for _, a := range l {
		d := time.Date(2021, 3, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, (a.n-1)*3+index23(l, a.who)%3)
		days = append(days, dated{d, a})
	}
	slices.SortStableFunc(days, func(x, y dated) int { return x.day.Compare(y.day) })
	b.Reset()
	b.WriteString("date,athlete,seconds\n")
	for _, d := range days {
		fmt.Fprintf(&b, "%s,%s,%v\n", d.day.Format("2006-01-02"), d.a.who, d.a.value)
	}
	read("23-days-give-order", "diary.csv", "--trainee athlete --date date --response seconds --measure time", bytes.Clone(b.Bytes()), l)

	// Times of a wheel-change drill as a sports watch writes them: hundredths after a second colon.
	l = curve23(16, 8, 190, 96, 0.01, "crew A", "crew B", "crew C", "crew D", "crew E", "crew F")
	read("23-hundredths-by-head", "wheel_change.csv", "--trainee crew --attempt drill --response time~(mm:ss:hh) --measure time",
		lines("crew,drill,time (mm:ss:hh)", l, func(a at) string {
			h := int(math.Round(a.value * 100))
			return fmt.Sprintf("%s,%d,%02d:%02d:%02d", a.who, a.n, h/6000, h%6000/100, h%100)
		}), l)

	// A keyboard study: its program counts milliseconds.
	l = curve23(17, 10, 95, 52, 0.001, "kb101", "kb102", "kb103", "kb104", "kb105", "kb106", "kb107")
	read("23-milliseconds-head", "transcription_trials.csv", "--trainee participant_id --attempt passage --response time_ms --measure time",
		lines("participant_id,passage,time_ms", l, func(a at) string { return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, a.value*1000) }), l)

	// Free throws, each a hit or a miss.
	var hits []at
	draw := uint32(77)
	for _, w := range numbered("player%02d", 8) {
		for n := 1; n <= 12; n++ {
			draw = draw*1664525 + 1013904223
			v := 0.0
			if int(draw>>16)%100 < 30+n*5 {
				v = 1
			}
			hits = append(hits, at{w, n, v, "done"})
		}
	}
	read("23-hit-or-miss", "freethrows.csv", "--trainee player --attempt shot --response hit --measure pass-fail", lines("player,shot,hit", hits, plain(",", point)), hits)

	// A crossover of two practice orders; the attempts count on over both periods.
	l = curve23(18, 10, 165, 74, 0.1, numbered("C%02d", 10)...)
	arms := map[string]string{}
	for i, w := range traineesOf(l) {
		arms[w] = []string{"blocked-random", "random-blocked"}[i%2]
	}
	read("23-crossover-order", "crossover_S2.csv", "--trainee code --attempt trial --response time_s --measure time --arm sequence",
		lines("code,sequence,period,trial,time_s", l, func(a at) string {
			return fmt.Sprintf("%s,%s,%d,%d,%v", a.who, arms[a.who], (a.n-1)/5+1, a.n, a.value)
		}), l).Arms = arms

	// A listing printed by a statistics program, its columns held apart by spaces.
	l = curve23(19, 6, 155, 68, 0.01, numbered("N%03d", 8)...)
	read("23-listing-spaces", "listing.txt", "--trainee subj --attempt trial --response seconds --measure time",
		lines("    subj   trial   seconds", l, func(a at) string { return fmt.Sprintf("%8s%8d%10.2f", a.who, a.n, a.value) }), l)
}

func textsDoubted23() {
	// Decimal commas in a file whose cells are held apart by commas as well.
	l := with(curve23(31, 6, 150, 70, 0.1, numbered("T%d", 7)...), func(a *at) {
		if math.Round(a.value) == a.value {
			a.value = math.Round((a.value+0.3)*10) / 10
		}
	})
	doubt("23-comma-in-comma", "export_nl.csv", "--trainee deelnemer --attempt poging --response tijd --measure time --limit 300",
		lines("deelnemer,poging,tijd", l, plain(",", fixedComma(1))), l, "every row has four cells under three heads: the decimal comma is also what stands between cells (168,9 is 168.9)")

	// The authors wrote 999 where nothing was measured, and say so nowhere.
	l = curve23(32, 8, 170, 80, 1, "mk01", "mk02", "mk03", "mk04", "mk05", "mk06", "mk07", "mk08")
	missing := change23(change23(change23(l, "mk02", 3, func(a *at) { a.value = 999 }), "mk05", 7, func(a *at) { a.value = 999 }), "mk06", 8, func(a *at) { a.value = 999 })
	var meant []at
	for _, a := range missing {
		if a.value != 999 {
			meant = append(meant, a)
		}
	}
	doubt("23-nines", "S1_dataset.csv", "--trainee pid --attempt trial --response time --measure time --limit 300",
		lines("pid,trial,time", missing, plain(",", point)), meant, "three times of 999 (mk02 3, mk05 7, mk06 8) stand for no measurement, not for a time or a timeout")

	// Two attempts are called timeouts, at half of the limit.
	l = curve23(33, 7, 220, 105, 1, numbered("F-%d", 7)...)
	l = with(l, func(a *at) {
		if a.value >= 240 {
			a.value -= 30
		}
	})
	l = change23(l, "F-3", 1, func(a *at) { a.value, a.outcome = 300, "timeout" })
	l = change23(l, "F-6", 1, func(a *at) { a.value, a.outcome = 300, "timeout" })
	l = change23(l, "F-4", 2, func(a *at) { a.value, a.outcome = 150, "timeout" })
	doubt("23-timeout-half-way", "fracture_fixation.csv", "--trainee fellow --attempt case --response seconds --measure time --limit 300 --outcome status",
		lines("fellow,case,seconds,status", l, func(a at) string { return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, a.outcome) }), nil,
		"F-4 case 2 is called a timeout at 150 s while the limit is 300 s")

	// The result of each attempt stands in a column that the user does not name.
	l = curve23(34, 6, 195, 85, 0.1, numbered("pp%02d", 8)...)
	for i := range l {
		if i%13 == 2 {
			l[i].outcome = "failed"
		}
	}
	doubt("23-outcome-not-named", "cannulation.csv", "--trainee pp --attempt nr --response time_s --measure time",
		lines("pp,nr,time_s,outcome", l, func(a at) string {
			return fmt.Sprintf("%s,%d,%v,%s", a.who, a.n, a.value, a.outcome)
		}), l, "the column outcome says failed in some rows, and no flag names it")

	// A code pasted from a web page carries a character of no width.
	l = curve23(35, 9, 125, 57, 0.1, "dr-amber", "dr-birch", "dr-cedar", "dr-elm", "dr-fir", "dr-oak")
	doubt("23-no-width-in-code", "drums_paradiddle.csv", "--trainee drummer --attempt take --response secs --measure time",
		lines("drummer,take,secs", l, func(a at) string {
			who := a.who
			if who == "dr-cedar" && a.n >= 6 {
				who = "dr-\u200bcedar"
			}
			return fmt.Sprintf("%s,%d,%v", who, a.n, a.value)
		}), l, "dr-cedar is written with a character of no width inside from take 6 on, and so would be two drummers")

	// One group, typed two ways.
	l = curve23(36, 5, 160, 77, 0.1, numbered("G%02d", 10)...)
	arms := map[string]string{}
	written := map[string]string{}
	for i, w := range traineesOf(l) {
		arms[w] = []string{"Video", "Coach"}[i%2]
		written[w] = arms[w]
	}
	written["G05"] = "video"
	written["G08"] = "coach"
	doubt("23-groups-case", "golf_putting.csv", "--trainee golfer --attempt round --response time_s --measure time --arm group",
		lines("golfer,group,round,time_s", l, func(a at) string { return fmt.Sprintf("%s,%s,%d,%v", a.who, written[a.who], a.n, a.value) }), l,
		"the groups Video and video, Coach and coach are the same, typed two ways (G05, G08)").Arms = arms

	// The retention test seven months later is numbered as the next attempt.
	l = curve23(37, 7, 185, 83, 1, numbered("ret%d", 8)...)
	l = with(l, func(a *at) {
		if a.n == 7 {
			a.value = math.Round(a.value * 1.3)
		}
	})
	doubt("23-retention-as-next", "retention_osf.csv", "--trainee participant --attempt trial --response time_s --measure time --date date",
		lines("participant,date,trial,time_s", l, func(a at) string {
			d := time.Date(2019, 10, 7, 0, 0, 0, 0, time.UTC).AddDate(0, 0, (a.n-1)*2)
			if a.n == 7 {
				d = time.Date(2020, 5, 11, 0, 0, 0, 0, time.UTC)
			}
			return fmt.Sprintf("%s,%s,%d,%v", a.who, d.Format("2006-01-02"), a.n, a.value)
		}), l, "trial 7 was made seven months after trial 6: a retention test, not the next practice")

	// Times, and the user forgets to say so.
	l = curve23(38, 8, 175, 79, 0.1, numbered("weld%02d", 7)...)
	doubt("23-measure-forgotten", "welding.csv", "--trainee apprentice --attempt weld --response completion_time_s",
		lines("apprentice,weld,completion_time_s", l, plain(",", point)), l, "completion_time_s is a time, but without --measure it is read as a score where more is better")

	// Three decimals after a comma, quoted: thousands or a decimal comma.
	l = curve23(39, 7, 190, 90, 0.001, numbered("Lab%d", 6)...)
	l = with(l, func(a *at) {
		if a.value < 100 {
			a.value = math.Round((a.value+30)*1000) / 1000
		}
	})
	doubt("23-three-after-comma", "bead_threading.csv", "--trainee Subject --attempt Trial --response Time --measure time",
		lines("Subject,Trial,Time", l, func(a at) string { return fmt.Sprintf("%s,%d,\"%s\"", a.who, a.n, fixedComma(3)(a.value)) }), l,
		"times such as 169,924 may be seconds with a decimal comma or thousands")
}

func unitsMixed23() {
	// Two centres of an assembly study: the second gave its times in minutes.
	l := curve23(4, 9, 190, 100, 0.6, numbered("s%02d", 8)...)
	doubt("23-minutes-of-one-centre", "assembly_both.csv", "--trainee id --attempt unit --response time --measure time --limit 300",
		lines("id,centre,unit,time", l, func(a at) string {
			if index23(l, a.who) < 5 {
				return fmt.Sprintf("%s,A,%d,%.1f", a.who, a.n, a.value)
			}
			return fmt.Sprintf("%s,B,%d,%.2f", a.who, a.n, a.value/60)
		}), l, "the times of centre B (s06 to s08, about 2) are minutes, those of centre A seconds")
}

func textsRefused23() {
	// The data file of a statistics program, renamed so that the journal would take it.
	var b bytes.Buffer
	b.WriteString("$FL2@(#) SPSS DATA FILE MS Windows 25.0.0                     ")
	for _, v := range []uint32{2, 9, 1, 0, 72} {
		must(binary.Write(&b, binary.LittleEndian, v))
	}
	must(binary.Write(&b, binary.LittleEndian, 100.0))
	b.WriteString("14 Feb 1811:22:05" + strings.Repeat(" ", 64) + "\x00\x00\x00")
	for _, name := range []string{"VPN     ", "ZEIT1   ", "ZEIT2   ", "ZEIT3   "} {
		for _, v := range []uint32{2, 0, 0, 0, 0x00050802, 0x00050802} {
			must(binary.Write(&b, binary.LittleEndian, v))
		}
		b.WriteString(name)
	}
	must(binary.Write(&b, binary.LittleEndian, [2]uint32{999, 0}))
	for i := range 40 {
		b.Write([]byte{byte(101 + i%80), 253, 253, 0, 105, byte(110 + i%30), 253, 252})
		must(binary.Write(&b, binary.LittleEndian, 61.5+float64(i*37%90)))
	}
	refuse("23-statistics-file-renamed", "data.csv", "--trainee VPN --measure time", bytes.Clone(b.Bytes()), "a data file of a statistics program (SPSS, .sav) under the name of a CSV; save it as CSV there")

	// What the repository's archive holds in place of the file: a pointer to a large file.
	refuse("23-pointer-for-file", "trials_all.csv", "--trainee subject --attempt trial --response time --measure time",
		[]byte("version https://git-lfs.github.com/spec/v1\noid sha256:4d7a214614ab2935c943f9e0ff69d22eadbb8f32b1258daaa5e2ca24d17e2393\nsize 1834112\n"), "a pointer to a file kept elsewhere, not the table; fetch the file itself")

	// What the download gave: a page that says the file has moved.
	refuse("23-web-page-saved", "journal.supp.s003.csv", "--trainee id --attempt trial --response sec --measure time",
		[]byte("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<title>Page not found</title>\n</head>\n<body>\n<h1>404</h1>\n<p>The supplementary file you asked for has moved.</p>\n<p><a href=\"/search\">Search</a>, or go <a href=\"/\">home</a>.</p>\n</body>\n</html>\n"), "a web page, not a table; download the file again")

	// The authors gave the figure's numbers alone.
	refuse("23-means-only", "figure2_data.csv", "--trainee participant --attempt trial --response time --measure time",
		[]byte("group,trial,n,mean_time,sd_time,sem\ncontrol,1,12,168.2,31.4,9.1\ncontrol,2,12,139.7,27.0,7.8\ncontrol,3,12,124.9,22.8,6.6\ncontrol,4,12,117.3,20.1,5.8\ncontrol,5,12,112.0,18.7,5.4\nimagery,1,12,171.5,33.6,9.7\nimagery,2,12,131.8,25.2,7.3\nimagery,3,12,113.4,21.9,6.3\nimagery,4,12,104.6,17.5,5.1\nimagery,5,12,99.8,16.3,4.7\n"), "means of groups: no column participant or time, and no attempts of single persons")
}

func booksPlain23() {
	// A lab's workbook of needle driving with a sheet for each person.
	l := curve23(51, 8, 200, 92, 0.1, "Ada", "Ben", "Cleo", "Dina", "Emil", "Finn", "Gita")
	b := newBook("Ada")
	for i, who := range traineesOf(l) {
		if i > 0 {
			b.next(who)
		}
		b.log([]any{"Trial", "Time (s)"}, attemptsOf(l, who), func(a at) []any { return []any{a.n, a.value} })
	}
	read("23-sheet-a-person", "needle_driving.xlsx", "--sheets-are trainee --attempt Trial --response Time~(s) --measure time", b.bytes(), l)

	// A sheet for each visit; the trials are counted anew in each.
	l = curve23(52, 9, 180, 81, 0.5, numbered("ID%02d", 8)...)
	b = newBook("Visit 1")
	for v := 0; v < 3; v++ {
		if v > 0 {
			b.next(fmt.Sprint("Visit ", v+1))
		}
		var part []at
		for _, a := range l {
			if (a.n-1)/3 == v {
				part = append(part, a)
			}
		}
		b.log([]any{"Participant", "Trial", "Seconds"}, part, func(a at) []any { return []any{a.who, (a.n-1)%3 + 1, a.value} })
	}
	read("23-sheet-a-visit", "visits.xlsx", "--sheets-are session --trainee Participant --attempt Trial --response Seconds --measure time", b.bytes(), l)

	// A supplementary table as the journal wants it: a title above, the table not at the corner, a note below.
	l = curve23(53, 6, 165, 73, 1, numbered("S%d", 8)...)
	b = newBook("Table S4")
	b.row("B2", "Table S4. Time to finish the grooved pegboard (min:s), all trials")
	b.row("B4", "Subject", "Trial", "Time")
	for i, a := range l {
		b.row(fmt.Sprint("B", i+5), a.who, a.n, fmt.Sprintf("%d:%02d", int(a.value)/60, int(a.value)%60))
	}
	b.row(fmt.Sprint("B", len(l)+6), "Note. Times were taken with a stopwatch by the same experimenter.")
	read("23-title-and-note", "table_S4.xlsx", "--trainee Subject --attempt Trial --response Time --measure time --limit 300", b.bytes(), l)

	// Times as the spreadsheet keeps minutes and seconds.
	l = curve23(54, 7, 210, 97, 1, numbered("Nurse %d", 8)...)
	b = newBook("iv line")
	b.log([]any{"Nurse", "Attempt", "Duration (m:ss)"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "[m]:ss")
	read("23-minute-cells", "iv_line.xlsx", "--trainee Nurse --attempt Attempt --response Duration~(m:ss) --measure time --limit 300", b.bytes(), l)

	// A table for eyes: the mean of each person and of each trial, worked out by the spreadsheet.
	l = curve23(55, 6, 150, 69, 0.1, numbered("Subject %d", 9)...)
	b = newBook("Raw")
	b.row("A1", append(headCells("Subject", "Trial %d", 6), "Mean", "SD")...)
	b.wide(2, l, value)
	for i := range 9 {
		must(b.SetCellFormula("Raw", fmt.Sprint("H", i+2), fmt.Sprintf("AVERAGE(B%d:G%d)", i+2, i+2)))
		must(b.SetCellFormula("Raw", fmt.Sprint("I", i+2), fmt.Sprintf("STDEV(B%d:G%d)", i+2, i+2)))
	}
	b.row("A11", "Mean")
	b.row("A12", "SD")
	for _, c := range "BCDEFG" {
		must(b.SetCellFormula("Raw", fmt.Sprintf("%c11", c), fmt.Sprintf("AVERAGE(%c2:%c10)", c, c)))
		must(b.SetCellFormula("Raw", fmt.Sprintf("%c12", c), fmt.Sprintf("STDEV(%c2:%c10)", c, c)))
	}
	read("23-means-beside-and-below", "raw_with_means.xlsx", "--trainee Subject --measure time", office("23-means-beside-and-below", "raw_with_means.xlsx", b.bytes()), l)

	// A piano study's log, saved as an OpenDocument spreadsheet.
	l = curve23(56, 10, 115, 56, 0.1, numbered("pno%02d", 7)...)
	read("23-open-document-log", "scales.ods", "--trainee pianist --attempt run --response seconds --measure time",
		officeFrom("23-open-document-log", "scales.ods", ".csv", "ods", lines("pianist,run,seconds", l, plain(",", point))), l)

	// Three head rows with merged cells: the task, the day, the trial.
	l = curve23(57, 6, 175, 84, 1, numbered("E%02d", 8)...)
	b = newBook("Sheet1")
	b.row("A1", "Participant", "Peg transfer, time in s")
	b.row("B2", "Day 1", nil, nil, "Day 2")
	b.row("B3", "Trial 1", "Trial 2", "Trial 3", "Trial 1", "Trial 2", "Trial 3")
	for _, m := range [][2]string{{"A1", "A3"}, {"B1", "G1"}, {"B2", "D2"}, {"E2", "G2"}} {
		must(b.MergeCell("Sheet1", m[0], m[1]))
	}
	b.wide(4, l, value)
	read("23-three-merged-heads", "peg_transfer_days.xlsx", "--trainee Participant --measure time", b.bytes(), l)

	// Start and end were read from the video; the spreadsheet took the difference.
	l = curve23(58, 6, 140, 64, 0.1, numbered("vid%02d", 8)...)
	b = newBook("coding")
	b.row("A1", "Participant", "Trial", "Start in video (s)", "End in video (s)", "Time (s)")
	from := 12.0
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), a.who, a.n, math.Round(from*10)/10, math.Round((from+a.value)*10)/10)
		must(b.SetCellFormula("coding", fmt.Sprint("E", i+2), fmt.Sprintf("ROUND(D%d-C%d,1)", i+2, i+2)))
		from += a.value + 20
		if a.n == 6 {
			from = 9
		}
	}
	read("23-difference-by-formula", "video_coding.xlsx", "--trainee Participant --attempt Trial --response Time~(s) --measure time",
		office("23-difference-by-formula", "video_coding.xlsx", b.bytes()), l)

	// Numbers of people shown with zeros in front by the format of the cells.
	l = curve23(59, 7, 155, 71, 0.1, numbered("%03d", 9)...)
	b = newBook("long")
	b.log([]any{"subject_no", "trial", "rt_total_s"}, l, func(a at) []any { return []any{index23(l, a.who) + 1, a.n, a.value} })
	b.format("A2", fmt.Sprint("A", len(l)+1), "000")
	read("23-numbers-with-zeros", "serial_task.xlsx", "--trainee subject_no --attempt trial --response rt_total_s --measure time", b.bytes(), l)

	// The authors describe their columns on a first sheet.
	l = curve23(60, 8, 185, 88, 0.1, numbered("K%02d", 7)...)
	b = newBook("ReadMe")
	b.row("A1", "Data of the catheter study")
	b.row("A2", "Sheet Data: one row an attempt")
	b.next("Codebook")
	b.row("A1", "Column", "Meaning", "Unit")
	b.row("A2", "participant", "code of the participant", "")
	b.row("A3", "attempt", "running number", "")
	b.row("A4", "time", "from touch to withdrawal", "s")
	b.next("Data")
	b.log([]any{"participant", "attempt", "time"}, l, longRow)
	read("23-codebook-first", "catheter_open_data.xlsx", "--sheet Data --trainee participant --attempt attempt --response time --measure time", b.bytes(), l)

	// A German table with a row a person and a column a day, in OpenDocument; everybody came on each day.
	l = curve23(61, 8, 170, 76, 1, numbered("Lehrling %d", 6)...)
	read("23-open-document-days", "feilen.ods", "--trainee Name --measure time", officeFrom("23-open-document-days", "feilen.ods", ".csv", "ods",
		wide23("Name,2022-09-05,2022-09-07,2022-09-09,2022-09-12,2022-09-14,2022-09-16,2022-09-19,2022-09-21", ",", l, func(who string, _ int) string { return who }, func(a at) string { return point(a.value) })), l)

	// Day cells counted from 1904, and no numbers: the days give the order.
	l = curve23(62, 6, 195, 93, 1, numbered("ath%d", 7)...)
	b = newBook("log")
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: ptr23(true)}))
	b.log([]any{"Athlete", "Date", "Course time (s)"}, l, func(a at) []any {
		d := time.Date(2015, 6, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, (a.n-1)*7+index23(l, a.who)%5)
		return []any{a.who, int(d.Sub(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24), a.value}
	})
	b.format("B2", fmt.Sprint("B", len(l)+1), "yyyy-mm-dd")
	read("23-days-of-1904", "slalom.xlsx", "--trainee Athlete --date Date --response Course~time~(s) --measure time", b.bytes(), l)

	// Minutes with decimals, as the head says.
	l = curve23(63, 6, 235, 120, 0.6, numbered("asm%02d", 8)...)
	b = newBook("gearbox")
	b.log([]any{"Worker", "Cycle", "Time (min)"}, l, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/0.6) / 100} })
	read("23-minutes-by-head", "gearbox.xlsx", "--trainee Worker --attempt Cycle --response Time~(min) --measure time", b.bytes(), l)

	// The table lies on its side.
	l = curve23(64, 4, 145, 67, 1, numbered("p%d", 6)...)
	b = newBook("Tabelle1")
	who, no, sec := []any{"participant"}, []any{"trial"}, []any{"seconds"}
	for _, a := range l {
		who, no, sec = append(who, a.who), append(no, a.n), append(sec, a.value)
	}
	b.row("A1", who...)
	b.row("A2", no...)
	b.row("A3", sec...)
	read("23-on-its-side", "lace_braiding.xlsx", "--transposed --trainee participant --attempt trial --response seconds --measure time", b.bytes(), l)

	// The number of the attempt stands above time and errors.
	l = curve23(65, 5, 220, 108, 1, numbered("Res%d", 8)...)
	b = newBook("anastomosis")
	top, second := []any{"Attempt"}, []any{"Resident"}
	for i := 1; i <= 5; i++ {
		top, second = append(top, i, nil), append(second, "Time (s)", "Leaks")
	}
	b.row("A1", top...)
	b.row("A2", second...)
	for i := 0; i < 5; i++ {
		must(b.MergeCell("anastomosis", fmt.Sprintf("%c1", 'B'+2*i), fmt.Sprintf("%c1", 'C'+2*i)))
	}
	for i, w := range traineesOf(l) {
		cells := []any{w}
		for _, a := range attemptsOf(l, w) {
			cells = append(cells, a.value, max(0, 5-a.n+(i+a.n)%2))
		}
		b.row(fmt.Sprint("A", i+3), cells...)
	}
	read("23-number-above-measures", "anastomosis.xlsx", "--trainee Resident --measure time", b.bytes(), l)

	// People left the study one after the other: their rows end earlier.
	var stayed []at
	l = curve23(66, 10, 160, 72, 0.1, numbered("climb%02d", 9)...)
	for _, a := range l {
		if a.n <= 10-index23(l, a.who)*2%5 {
			stayed = append(stayed, a)
		}
	}
	b = newBook("speed wall")
	b.row("A1", headCells("climber", "session %d", 10)...)
	b.wide(2, stayed, value)
	read("23-rows-end-earlier", "speed_wall.xlsx", "--trainee climber --measure time", b.bytes(), stayed)
}

func ptr23(v bool) *bool { return &v }

func booksDoubted23() {
	// A point not typed.
	l := curve23(71, 7, 150, 72, 0.1, numbered("hb%02d", 7)...)
	l = change23(l, "hb04", 5, func(a *at) { a.value = 98.2 })
	typed := change23(l, "hb04", 5, func(a *at) { a.value = 982 })
	b := newBook("Data")
	b.log([]any{"subject", "trial", "time"}, typed, longRow)
	doubt("23-point-left-out", "handball_drill.xlsx", "--trainee subject --attempt trial --response time --measure time --limit 300", b.bytes(), l,
		"hb04 trial 5 is 982 under a limit of 300 where 98.2 is meant")

	// Two tasks in one sheet, numbered on.
	l = curve23(72, 6, 130, 62, 1, numbered("m%d", 7)...)
	knots := with(curve23(73, 6, 240, 115, 1, numbered("m%d", 7)...), func(a *at) { a.n += 6 })
	b = newBook("all")
	b.row("A1", "id", "task", "trial", "seconds")
	row := 2
	for _, w := range traineesOf(l) {
		for _, a := range append(attemptsOf(l, w), attemptsOf(knots, w)...) {
			b.row(fmt.Sprint("A", row), a.who, []string{"pegs", "knots"}[(a.n-1)/6], a.n, a.value)
			row++
		}
	}
	doubt("23-two-tasks-numbered-on", "both_tasks.xlsx", "--trainee id --attempt trial --response seconds --measure time", b.bytes(), nil,
		"the column task holds pegs (trials 1 to 6) and knots (7 to 12): two tasks in one series")

	// A code typed with and without its zero.
	l = curve23(74, 8, 165, 75, 0.1, "P01", "P02", "P03", "P04", "P05", "P06")
	b = newBook("Sheet1")
	b.log([]any{"Participant", "Block", "Time_s"}, l, func(a at) []any {
		who := a.who
		if who == "P03" && a.n > 4 {
			who = "P3"
		}
		return []any{who, a.n, a.value}
	})
	doubt("23-code-without-zero", "blocks.xlsx", "--trainee Participant --attempt Block --response Time_s --measure time", b.bytes(), l, "P03 is written P3 from block 5 on: one person under two codes")

	// Minutes and seconds typed with a point between.
	l = curve23(75, 6, 190, 94, 1, numbered("Tn%d", 8)...)
	b = newBook("times")
	b.log([]any{"Trainee", "Run", "Time"}, l, func(a at) []any { return []any{a.who, a.n, math.Floor(a.value/60) + math.Mod(a.value, 60)/100} })
	b.format("C2", fmt.Sprint("C", len(l)+1), "0.00")
	doubt("23-point-between-minutes", "bandaging.xlsx", "--trainee Trainee --attempt Run --response Time --measure time --limit 300", b.bytes(), l,
		"the times such as 2.41 are minutes and seconds (2 min 41 s), not seconds or minutes with decimals")

	// The column of the attempt holds days.
	l = curve23(76, 5, 170, 82, 1, numbered("swim%d", 8)...)
	b = newBook("Sheet1")
	b.log([]any{"swimmer", "session", "time_s"}, l, func(a at) []any {
		return []any{a.who, time.Date(2018, 1, 8, 0, 0, 0, 0, time.UTC).AddDate(0, 0, (a.n-1)*7), a.value}
	})
	b.format("B2", fmt.Sprint("B", len(l)+1), "dd/mm/yyyy")
	doubt("23-days-as-numbers", "turns.xlsx", "--trainee swimmer --attempt session --response time_s --measure time", b.bytes(), l, "the column session, named as the attempt number, holds dates")

	// A value over the limit, but not by much.
	l = curve23(77, 7, 140, 68, 1, numbered("Q%02d", 8)...)
	l = with(l, func(a *at) { a.value = min(a.value, 174) })
	l = change23(l, "Q06", 4, func(a *at) { a.value = 412 })
	b = newBook("export")
	b.log([]any{"pid", "rep", "dur_s"}, l, longRow)
	doubt("23-over-the-limit", "lathe_setup.xlsx", "--trainee pid --attempt rep --response dur_s --measure time --limit 180", b.bytes(), nil, "Q06 rep 4 is 412 s, more than twice the limit of 180 s")

	// Minutes and seconds as text; one was taken by the spreadsheet as hours and minutes.
	l = curve23(78, 6, 185, 91, 1, numbered("med%d", 8)...)
	l = change23(l, "med5", 3, func(a *at) { a.value = 134 })
	b = newBook("OSCE")
	b.log([]any{"Student", "Station run", "Time"}, l, func(a at) []any {
		if a.who == "med5" && a.n == 3 {
			return []any{a.who, a.n, 134.0 * 60 / 86400}
		}
		return []any{a.who, a.n, fmt.Sprintf("%d:%02d", int(a.value)/60, int(a.value)%60)}
	})
	at5 := slices.IndexFunc(l, func(a at) bool { return a.who == "med5" && a.n == 3 }) + 2
	b.format(fmt.Sprint("C", at5), fmt.Sprint("C", at5), "h:mm")
	doubt("23-one-time-cell-among-text", "station_times.xlsx", "--trainee Student --attempt Station~run --response Time --measure time --limit 300", b.bytes(), l,
		"med5 run 3 is a time cell of 2 h 14 min (2:14) among texts of minutes and seconds")

	// A last column without a head holds each row's mean.
	l = curve23(79, 7, 155, 74, 1, numbered("R%02d", 8)...)
	b = newBook("trials")
	b.row("A1", headCells("rower", "T%d", 7)...)
	b.wide(2, l, value)
	for i, w := range traineesOf(l) {
		sum := 0.0
		for _, a := range attemptsOf(l, w) {
			sum += a.value
		}
		must(b.SetCellValue("trials", fmt.Sprint("I", i+2), math.Round(sum/7*10)/10))
	}
	doubt("23-mean-without-head", "ergometer_starts.xlsx", "--trainee rower --measure time", b.bytes(), l, "the last column has no head; it holds the mean of each row, not an eighth trial")

	// Times worked out by formulas in a workbook that a program wrote and no spreadsheet ever opened.
	l = curve23(80, 5, 200, 99, 1, numbered("w%d", 7)...)
	b = newBook("wide")
	b.row("A1", headCells("worker", "A%d", 5)...)
	b.wide(2, l, value)
	for i, w := range traineesOf(l) {
		v := attemptsOf(l, w)[4].value
		must(b.SetCellValue("wide", fmt.Sprint("F", i+2), nil))
		must(b.SetCellFormula("wide", fmt.Sprint("F", i+2), fmt.Sprintf("%v-%v", v+100, 100)))
	}
	doubt("23-formulas-never-worked-out", "generated.xlsx", "--trainee worker --measure time", b.bytes(), l, "the cells of A5 hold formulas and no values: they were never worked out")

	// Rows hidden by the authors: those they left out of the analysis.
	l = curve23(81, 6, 145, 70, 0.1, numbered("x%02d", 8)...)
	b = newBook("final")
	b.log([]any{"code", "trial", "sec"}, l, longRow)
	for i, a := range l {
		if a.who == "x03" || a.who == "x07" {
			must(b.SetRowVisible("final", i+2, false))
		}
	}
	doubt("23-hidden-rows", "final_used.xlsx", "--trainee code --attempt trial --response sec --measure time", b.bytes(), nil, "the rows of x03 and x07 are hidden: left out by the authors, or not")

	// Accuracy, typed by some as a percent and by others as a number.
	var acc []at
	for i, w := range numbered("vln%d", 8) {
		for n := 1; n <= 6; n++ {
			acc = append(acc, at{w, n, float64(58 + n*5 + (i*7+n*3)%9), "done"})
		}
	}
	b = newBook("accuracy")
	b.log([]any{"player", "piece", "accuracy"}, acc, func(a at) []any {
		if index23(acc, a.who) < 4 {
			return []any{a.who, a.n, a.value / 100}
		}
		return []any{a.who, a.n, a.value}
	})
	b.format("C2", "C25", "0%")
	doubt("23-percent-and-number", "sight_reading.xlsx", "--trainee player --attempt piece --response accuracy --measure score", b.bytes(), acc,
		"the first four players have percent cells (0.66 shown as 66%), the others plain numbers such as 66")
}

func booksRefused23() {
	l := curve23(91, 8, 160, 75, 0.1, numbered("d%02d", 12)...)
	b := newBook("Data")
	b.log([]any{"subject", "trial", "time"}, l, longRow)
	whole := b.bytes()
	flags := "--trainee subject --attempt trial --response time --measure time"
	refuse("23-download-cut", "dataset_v2.xlsx", flags, whole[:len(whole)*3/5], "the download stopped: the workbook's archive is cut; download it again")

	l = curve23(92, 7, 170, 80, 1, numbered("z%d", 8)...)
	b = newBook("Data")
	b.log([]any{"subject", "trial", "time"}, l, longRow)
	refuse("23-sheet-not-closed", "written_by_script.xlsx", flags, partChanged(b.bytes(), "xl/worksheets/sheet1.xml", func(text string) string {
		i := strings.Index(text, `<row r="20"`)
		j := i + strings.Index(text[i:], "</row>")
		return text[:j] + text[j+len("</row>"):]
	}), "the sheet's XML is broken: row 20 is never closed; open the workbook in a spreadsheet program and save it again")

	// The old binary format under the new name.
	l = curve23(93, 6, 180, 85, 1, numbered("old%d", 7)...)
	refuse("23-old-book-new-name", "lab_2001.xlsx", flags, officeFrom("23-old-book-new-name", "lab_2001.xlsx", ".csv", "xls", lines("subject,trial,time", l, plain(",", point))),
		"a workbook of the old binary format (.xls) renamed; save it as XLSX")
}

// A long23 is a row of the long form with the index that a data program keeps.
type long23 struct {
	Participant string  `parquet:"participant"`
	Trial       int64   `parquet:"trial"`
	Seconds     float64 `parquet:"seconds"`
	Index       int64   `parquet:"__index_level_0__"`
}

// A wideRow23 is a row a trainee.
type wideRow23 struct {
	Subject string  `parquet:"subject"`
	Trial1  float64 `parquet:"trial_1"`
	Trial2  float64 `parquet:"trial_2"`
	Trial3  float64 `parquet:"trial_3"`
	Trial4  float64 `parquet:"trial_4"`
	Trial5  float64 `parquet:"trial_5"`
}

// A span23 is a row whose time is a whole number of nanoseconds.
type span23 struct {
	Subject  string `parquet:"subject"`
	Rep      int64  `parquet:"rep"`
	Duration int64  `parquet:"duration"`
}

func columnFiles23() {
	l := curve23(101, 9, 150, 70, 0.01, numbered("pq%02d", 8)...)
	var long []long23
	for i, a := range l {
		long = append(long, long23{a.who, int64(a.n), a.value, int64(i)})
	}
	read("23-parquet-index", "trials.parquet", "--trainee participant --attempt trial --response seconds --measure time",
		parquetKept("23-parquet-index", "trials.parquet", long), l)

	l = curve23(102, 5, 190, 90, 0.1, numbered("sub-%02d", 9)...)
	var wide []wideRow23
	for _, w := range traineesOf(l) {
		o := attemptsOf(l, w)
		wide = append(wide, wideRow23{w, o[0].value, o[1].value, o[2].value, o[3].value, o[4].value})
	}
	read("23-parquet-wide", "wide.parquet", "--trainee subject --measure time",
		parquetKept("23-parquet-wide", "wide.parquet", wide), l)

	l = curve23(103, 7, 160, 78, 0.001, numbered("g%02d", 7)...)
	var spans []span23
	for _, a := range l {
		spans = append(spans, span23{a.who, int64(a.n), int64(math.Round(a.value*1000)) * 1000000})
	}
	doubt("23-parquet-nanoseconds", "durations.parquet", "--trainee subject --attempt rep --response duration --measure time --limit 300",
		parquetKept("23-parquet-nanoseconds", "durations.parquet", spans), l, "the durations are nanoseconds (numbers such as 143978000000), which nothing in the file says")
}

// marks23 makes up ratings from 1 to top.
func marks23(seed, top int, subjects, raters, items []string) [][4]string {
	var out [][4]string
	r := uint32(seed)*747796405 + 99991
	next := func(n int) int {
		r = r*1664525 + 1013904223
		return int(r>>16) % n
	}
	for _, s := range subjects {
		level := next(top*10) + 5
		for _, it := range items {
			for k, ra := range raters {
				v := (level + next(top*3) - top + k*2 + 5) / 10
				out = append(out, [4]string{s, ra, it, fmt.Sprint(min(max(v, 1), top))})
			}
		}
	}
	return out
}

// grid23 are ratings with a row a subject and a cell a rater.
func grid23(ratings [][4]string) (subjects []string, cells map[string][]string) {
	cells = map[string][]string{}
	for _, r := range ratings {
		if cells[r[0]] == nil {
			subjects = append(subjects, r[0])
		}
		cells[r[0]] = append(cells[r[0]], r[3])
	}
	return subjects, cells
}

func ratingTables23() {
	none := []string{""}
	// Global ratings of videos, with items.
	m := marks23(1, 5, numbered("v%02d", 10), []string{"examiner A", "examiner B", "examiner C"}, []string{"flow", "tissue handling", "instruments"})
	var b bytes.Buffer
	b.WriteString("video,examiner,item,score\n")
	for _, r := range m {
		fmt.Fprintf(&b, "%s,%s,%s,%s\n", r[0], r[1], r[2], r[3])
	}
	rated(read("23-ratings-items", "osats_long.csv", "--subject video --rater examiner --item item --score score --scale ordinal", bytes.Clone(b.Bytes()), nil), m)

	// A column a judge.
	judges := []string{"Richter 1", "Richter 2", "Richter 3", "Richter 4"}
	m = marks23(2, 9, numbered("Kür %d", 12), judges, none)
	b.Reset()
	b.WriteString("Darbietung;" + strings.Join(judges, ";") + "\r\n")
	subjects, cells := grid23(m)
	for _, s := range subjects {
		b.WriteString(s + ";" + strings.Join(cells[s], ";") + "\r\n")
	}
	rated(read("23-ratings-judges-wide", "wertungen.csv", "--wide --subject Darbietung --scale ordinal", bytes.Clone(b.Bytes()), nil), m)

	// The mean of the raters stands beside them.
	raters := []string{"Rater1", "Rater2", "Rater3"}
	m = marks23(3, 7, numbered("clip%02d", 11), raters, none)
	book := newBook("ratings")
	book.row("A1", "clip", "Rater1", "Rater2", "Rater3", "Mean")
	subjects, cells = grid23(m)
	for i, s := range subjects {
		x, y, z := number(cells[s][0]), number(cells[s][1]), number(cells[s][2])
		book.row(fmt.Sprint("A", i+2), s, x, y, z, math.Round((x+y+z)/3*100)/100)
	}
	rated(doubt("23-ratings-mean-beside", "clips_rated.xlsx", "--wide --subject clip", book.bytes(), nil, "the column Mean is the mean of the three raters, not a fourth rater"), m)

	// The performance is named once and its cells are merged.
	raters = []string{"JK", "LM"}
	m = marks23(4, 5, numbered("Perf %d", 12), raters, none)
	book = newBook("jury")
	book.row("A1", "Performance", "Juror", "Mark")
	for i, r := range m {
		var s any
		if i%2 == 0 {
			s = r[0]
		}
		book.row(fmt.Sprint("A", i+2), s, r[1], number(r[3]))
	}
	for i := 2; i < len(m)+2; i += 2 { // a cell written inside a merged range would change its first cell
		must(book.MergeCell("jury", fmt.Sprint("A", i), fmt.Sprint("A", i+1)))
	}
	rated(read("23-ratings-merged", "jury.xlsx", "--subject Performance --rater Juror --score Mark --scale ordinal --fill-down Performance", book.bytes(), nil), m)

	// Yes and no, as three people type them.
	var decided [][4]string
	b.Reset()
	b.WriteString("trial,rater,pass\n")
	for i, s := range numbered("t%02d", 12) {
		for k, ra := range []string{"ann", "bob", "cy"} {
			yes := (i*5+k*k)%7 > 2
			word := map[bool][]string{true: {"yes", "Yes", "YES"}, false: {"no", "No", "NO"}}[yes][k]
			fmt.Fprintf(&b, "%s,%s,%s\n", s, ra, word)
			decided = append(decided, [4]string{s, ra, "", strings.ToLower(word)})
		}
	}
	rated(doubt("23-ratings-yes-three-ways", "pass_decisions.csv", "--subject trial --rater rater --score pass --scale nominal", bytes.Clone(b.Bytes()), nil, "yes, Yes and YES (and no, No, NO) are the same answer, typed by three raters"), decided)

	// One rating is missing and written as a word.
	raters = []string{"obs1", "obs2", "obs3"}
	m = marks23(6, 10, numbered("rec%02d", 10), raters, none)
	b.Reset()
	b.WriteString("recording,observer,points\n")
	var present [][4]string
	for _, r := range m {
		if r[0] == "rec04" && r[1] == "obs2" {
			r[3] = "NA"
		} else {
			present = append(present, r)
		}
		fmt.Fprintf(&b, "%s,%s,%s\n", r[0], r[1], r[3])
	}
	rated(doubt("23-ratings-one-na", "points_long.csv", "--subject recording --rater observer --score points --scale interval", bytes.Clone(b.Bytes()), nil, "rec04 by obs2 is NA: a missing rating, not a category of its own"), present)

	// Marks from 0 to 100 in an OpenDocument spreadsheet.
	raters = []string{"Teacher_1", "Teacher_2", "Teacher_3"}
	m = marks23(7, 100, numbered("student%02d", 9), raters, none)
	b.Reset()
	b.WriteString("student," + strings.Join(raters, ",") + "\n")
	subjects, cells = grid23(m)
	for _, s := range subjects {
		b.WriteString(s + "," + strings.Join(cells[s], ",") + "\n")
	}
	rated(read("23-ratings-open-document", "recital.ods", "--wide --subject student --scale interval", officeFrom("23-ratings-open-document", "recital.ods", ".csv", "ods", bytes.Clone(b.Bytes())), nil), m)

	// Each trainee gave two performances; the trainee's number stands beside the raters.
	raters = []string{"R1", "R2", "R3"}
	m = marks23(8, 7, numbered("film%02d", 12), raters, none)
	book = newBook("films")
	book.row("A1", "film", "trainee", "R1", "R2", "R3")
	subjects, cells = grid23(m)
	for i, s := range subjects {
		book.row(fmt.Sprint("A", i+2), s, i/2+1, number(cells[s][0]), number(cells[s][1]), number(cells[s][2]))
	}
	rated(doubt("23-ratings-trainee-number", "films.xlsx", "--wide --subject film --scale ordinal", book.bytes(), nil,
		"the column trainee holds numbers of trainees, 1 to 6, not the scores of a fourth rater"), m)
}

// folder23 is a study folder.
func folder23(verdict, name string, files map[string][]byte, l []at, about string) *truth {
	t := put(verdict, name, ".", "", nil, l, about)
	t.files = files
	return t
}

func studyFolders23() {
	long := "trainee,attempt,seconds"
	// Two sites, a file each.
	north, south := curve23(111, 8, 150, 70, 0.1, numbered("N%02d", 5)...), curve23(112, 8, 160, 75, 0.1, numbered("S%02d", 5)...)
	folder23("read", "23-study-two-sites", map[string][]byte{
		"study.yaml": []byte("title: Two sites\ntasks: [{name: pegs, measure: time, column: seconds, unit: s, limit: 300}]\nattempts:\n  files: [north.csv, south.csv]\n"),
		"north.csv":  lines(long, north, plain(",", point)),
		"south.csv":  lines(long, south, plain(",", point)),
	}, append(slices.Clone(north), south...), "")

	// One site writes with a decimal comma, and the study says so.
	first, second := curve23(113, 6, 145, 68, 0.1, numbered("uk%d", 5)...), curve23(114, 6, 155, 72, 0.1, numbered("pl%d", 5)...)
	folder23("read", "23-study-comma-said", map[string][]byte{
		"study.yaml": []byte("title: Two countries\ntasks: [{name: splice, measure: time, column: seconds, unit: s, limit: 300}]\nattempts:\n  files: [uk.csv, pl.csv]\n  per_file: {pl.csv: {decimal: comma}}\n"),
		"uk.csv":     lines(long, first, plain(",", fixed(1))),
		"pl.csv":     lines("trainee;attempt;seconds", second, plain(";", fixedComma(1))),
	}, append(slices.Clone(first), second...), "")

	// A workbook of attempts, and experts in a file of their own.
	l, experts := curve23(115, 7, 180, 85, 0.1, numbered("tr%02d", 7)...), curve23(116, 4, 66, 58, 0.1, "ex1", "ex2", "ex3", "ex4", "ex5")
	b := newBook("log")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	folder23("read", "23-study-experts", map[string][]byte{
		"study.yaml":  []byte("title: Trainees and experts\ntasks: [{name: clip, measure: time, column: seconds, unit: s, limit: 300}]\nattempts: {file: log.xlsx}\nexperts: {file: experts.csv}\n"),
		"log.xlsx":    b.bytes(),
		"experts.csv": lines(long, experts, plain(",", point)),
	}, l, "").Experts = experts

	// The experts' times are in minutes, which the study does not say.
	l = curve23(117, 8, 190, 92, 0.6, numbered("a%02d", 6)...)
	slow := curve23(118, 3, 80, 72, 0.6, "m1", "m2", "m3", "m4")
	b = newBook("experts")
	b.log([]any{"trainee", "attempt", "seconds"}, slow, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/0.6) / 100} })
	folder23("doubt", "23-study-experts-in-minutes", map[string][]byte{
		"study.yaml":   []byte("title: Apprentices and masters\ntasks: [{name: dovetail, measure: time, column: seconds, unit: s, limit: 300}]\nattempts: {file: log.csv}\nexperts: {file: experts.xlsx}\n"),
		"log.csv":      lines(long, l, plain(",", point)),
		"experts.xlsx": b.bytes(),
	}, l, "the experts' times (about 1.2) are minutes under a head that says seconds").Experts = slow

	// The archive of the repository lacks one of the files that the study names.
	l = curve23(119, 6, 165, 80, 1, numbered("q%d", 6)...)
	folder23("refuse", "23-study-file-missing", map[string][]byte{
		"study.yaml":  []byte("title: Two waves\ntasks: [{name: knot, measure: time, column: seconds, unit: s, limit: 300}]\nattempts:\n  files: [wave1.csv, wave2.csv]\n"),
		"wave1.csv":   lines(long, l, plain(",", point)),
		"LICENSE.txt": []byte("CC BY 4.0\n"),
	}, nil, "study.yaml names wave2.csv, which is not there")
}
