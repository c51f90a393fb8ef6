package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
)

// twentysixth is what the centres of a national register of skills training mailed, each in its own way.
func twentysixth() {
	languages26()
	exports26()
	shapes26()
	clocks26()
	outcomes26()
	measures26()
	parts26()
	people26()
	days26()
	numbers26()
	units26()
	cells26()
	blanks26()
	company26()
	copies26()
	broken26()
	ratings26()
	ratings26b()
	slips26()
}

// curve26 makes up attempts that fall from about start towards floor, with scatter in proportion, below 1.7 times start.
func curve26(seed, n int, start, floor, unit float64, who ...string) []at {
	r := rand.New(rand.NewPCG(uint64(seed), 26))
	var out []at
	for _, w := range who {
		s, f, k := start*math.Exp(0.15*r.NormFloat64()), floor*math.Exp(0.12*r.NormFloat64()), 0.4+0.6*r.Float64()
		for i := 1; i <= n; i++ {
			v := math.Inf(1)
			for v >= 1.7*start {
				v = (f + (s-f)*math.Pow(float64(i), -k)) * math.Exp(0.11*r.NormFloat64())
			}
			out = append(out, at{w, i, math.Round(math.Round(v/unit)*unit*1000) / 1000, "done"})
		}
	}
	return out
}

// f26 are the flags of a table with a row an attempt, the limit 300 s.
func f26(trainee, attempt, response string, more ...string) string {
	return fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time --limit 300 %s", trainee, attempt, response, strings.Join(more, " "))
}

// w26 are the flags of a table with a column an attempt.
func w26(trainee string) string { return "--trainee " + trainee + " --measure time --limit 300" }

// sheet26 is a workbook of one sheet with a row an attempt.
func sheet26(sheet, head string, l []at, row func(a at) []any) []byte {
	return book26(sheet, head, l, row).bytes()
}

func book26(sheet, head string, l []at, row func(a at) []any) *book {
	b := newBook(sheet)
	var cells []any
	for _, s := range strings.Split(head, "|") {
		cells = append(cells, s)
	}
	b.log(cells, l, row)
	return b
}

// set26 changes one attempt.
func set26(l []at, who string, n int, f func(a *at)) []at {
	found := false
	out := with(l, func(a *at) {
		if a.who == who && a.n == n {
			f(a)
			found = true
		}
	})
	if !found {
		panic("no attempt " + who)
	}
	return out
}

// out26 gives attempts another outcome, written "who n outcome", a timeout at the limit.
func out26(l []at, limit float64, changes ...string) []at {
	for _, c := range changes {
		var who, outcome string
		var n int
		_, err := fmt.Sscan(c, &who, &n, &outcome)
		must(err)
		l = set26(l, who, n, func(a *at) {
			a.outcome = outcome
			if outcome == "timeout" {
				a.value = limit
			}
		})
	}
	return l
}

// shuffled26 is rows in another order, always the same.
func shuffled26[row any](seed int, rows []row) []row {
	out := slices.Clone(rows)
	rand.New(rand.NewPCG(uint64(seed), 6)).Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// languages26: long tables in the languages and encodings of the centres.
func languages26() {
	l := curve26(2602, 8, 130, 60, 0.1, "Łucja W.", "Jędrzej K.", "Świętosława B.", "Żaneta P.", "Michał O.", "Stanisław R.")
	read("26-polish-windows", "pomiary.csv", f26("Uczestnik", "Próba", "Czas~[s]"),
		encoded(charmap.Windows1250, crlf(lines("Uczestnik;Próba;Czas [s]", l, plain(";", oneDigitComma)))), l)

	l = curve26(2604, 8, 120, 55, 0.1, numbered("研修医%d", 6)...)
	read("26-japanese", "kekka.csv", f26("氏名", "回", "秒"),
		encoded(japanese.ShiftJIS, crlf(lines("氏名,回,秒", l, plain(",", oneDigit)))), l)

	l = curve26(2605, 7, 140, 75, 0.1, numbered("M%d", 6)...)
	digits := strings.NewReplacer("0", "٠", "1", "١", "2", "٢", "3", "٣", "4", "٤", "5", "٥", "6", "٦", "7", "٧", "8", "٨", "9", "٩", ".", "٫")
	read("26-arabic-digits", "qiyasat.csv", f26("المتدرب", "المحاولة", "الثواني"),
		append([]byte("\ufeff"), lines("المتدرب;المحاولة;الثواني", l, func(a at) string {
			return a.who + ";" + digits.Replace(fmt.Sprint(a.n)) + ";" + digits.Replace(oneDigit(a.value))
		})...), l)

	l = curve26(2606, 9, 110, 52, 0.1, "Aurélie", "Benoît", "Chloé", "Désiré", "Éloïse")
	read("26-french-quoted", "saisie_chronos.csv", f26("Élève", "Essai", "Durée~(s)"),
		lines(`"Élève","Essai","Durée (s)"`, l, func(a at) string { return fmt.Sprintf(`"%s","%d","%s"`, a.who, a.n, comma(a.value)) }), l)
}

// exports26: what databases, statistics programs and devices write.
func exports26() {
	l := curve26(2611, 9, 140, 62, 0.1, numbered("u%03d", 6)...)
	i := 4410
	read("26-database-pipes", "export_attempts.txt", f26("trainee_code", "try_no", "secs"),
		lines("id|trainee_code|try_no|secs|remark", l, func(a at) string {
			i += 1 + int(a.value)%3
			return fmt.Sprintf(`%d|%s|%d|%.1f|\N`, i, a.who, a.n, a.value)
		}), l)

	l = curve26(2612, 7, 125, 58, 0.1, numbered("HN%02d", 6)...)
	read("26-database-console", "query.txt", f26("trainee", "attempt", "seconds"),
		append(lines(" trainee | attempt | seconds \n---------+---------+---------", l, func(a at) string {
			return fmt.Sprintf(" %-7s | %7d | %7.1f ", a.who, a.n, a.value)
		}), "(42 rows)\n\n"...), l)

	l = curve26(2613, 8, 135, 64, 0.1, numbered("S%02d", 6)...)
	read("26-aligned-text", "listing.txt", f26("SUBJ", "TRIAL", "SECONDS"),
		lines("SUBJ   TRIAL   SECONDS", l, func(a at) string { return fmt.Sprintf("%-5s  %5d  %8.2f", a.who, a.n, a.value) }), l)

	l = curve26(2615, 9, 130, 60, 0.1, numbered("P%02d", 8)...)
	i = 0
	read("26-head-on-every-page", "printout.csv", f26("Trainee", "Attempt", "Seconds"),
		lines("Trainee,Attempt,Seconds", l, func(a at) string {
			s := plain(",", oneDigit)(a)
			if i++; i%20 == 0 {
				s += "\nTrainee,Attempt,Seconds"
			}
			return s
		}), l)

	l = curve26(2616, 8, 142, 68, 0.1, numbered("Gate%d", 6)...)
	read("26-text-named-workbook", "device.xls", f26("Operator", "Run", "Seconds"),
		crlf(lines("Operator\tRun\tSeconds", l, plain("\t", oneDigit))), l)

	l = curve26(2617, 7, 118, 50, 0.1, "1E2", "1E3", "2E1", "3E1", "3E2", "4E4")
	read("26-codes-like-powers", "rooms.csv", f26("code", "attempt", "seconds"), lines("code,attempt,seconds", l, plain(",", oneDigit)), l)

	l = curve26(2619, 7, 137, 66, 0.1, numbered("Cn%d", 6)...)
	i = 0
	read("26-blank-lines-between", "bench 4.csv", f26("Nurse", "Try", "Seconds"),
		lines("Nurse;Try;Seconds;;", l, func(a at) string {
			s := plain(";", oneDigitComma)(a) + ";;"
			if i++; i%7 == 0 && i < len(l) {
				s += "\n;;;;"
			}
			return s
		}), l)

	l = curve26(2620, 8, 133, 57, 0.1, numbered("Z%d", 6)...)
	text := string(lines("\"id\",\"remark of\nthe supervisor\",\"n\",\"sec\"", l, func(a at) string {
		remark := ""
		if a.n == 4 {
			remark = "\"glove torn,\nchanged\""
		}
		return fmt.Sprintf("%s,%s,%d,%v", a.who, remark, a.n, a.value)
	}))
	read("26-line-breaks-in-cells", "supervised.csv", f26("id", "n", "sec"), []byte(text), l)

	l = curve26(2622, 8, 121, 54, 0.1, numbered("AN%d", 6)...)
	read("26-one-of-eight", "paper copied.csv", f26("Trainee", "Attempt", "Seconds"),
		lines("Trainee,Attempt,Seconds", l, func(a at) string { return fmt.Sprintf("%s,%d of 8,%.1f", a.who, a.n, a.value) }), l)
}

// shapes26: sheets of other shapes than a row an attempt.
func shapes26() {
	l := curve26(2631, 7, 152, 71, 0.1, numbered("Azubi %d", 7)...)
	b := newBook("Nahtübung")
	b.row("A1", headCells("Name", "%d. Versuch", 7)...)
	b.wide(2, l, value)
	read("26-wide-ordinals", "Nahtübung.xlsx", w26("Name"), b.bytes(), l)

	l = curve26(2632, 7, 143, 67, 0.1, numbered("R%02d", 6)...)
	text := "resident"
	for n := 7; n >= 1; n-- {
		text += fmt.Sprint(",attempt ", n)
	}
	for _, w := range traineesOf(l) {
		text += "\n" + w
		mine := attemptsOf(l, w)
		slices.Reverse(mine)
		for _, a := range mine {
			text += "," + oneDigit(a.value)
		}
	}
	read("26-wide-backwards", "last attempt first.csv", w26("resident"), []byte(text+"\n"), l)

	l = curve26(2633, 8, 137, 65, 0.1, numbered("SU%d", 8)...)
	b = newBook("Board")
	b.row("A1", "Student", "Attempt (seconds)")
	b.row("A2", nil, 1, 2, 3, 4, 5, 6, 7, 8)
	must(b.MergeCell(b.sheet, "A1", "A2"))
	must(b.MergeCell(b.sheet, "B1", "I1"))
	b.wide(3, l, value)
	read("26-wide-attempt-above", "board 2026.xlsx", w26("Student"), b.bytes(), l)

	l = curve26(2637, 6, 131, 59, 0.1, numbered("GB%d", 7)...)
	text = headLine("Trainee", ",", "Attempt %d", 6) + ",Mean,Best"
	for _, w := range traineesOf(l) {
		text += "\n" + w
		sum, best := 0.0, 999.0
		for _, a := range attemptsOf(l, w) {
			text += "," + point(a.value)
			sum, best = sum+a.value/6, min(best, a.value)
		}
		text += fmt.Sprintf(",%.2f,%v", sum, best)
	}
	read("26-wide-mean-and-best", "class results.csv", w26("Trainee"), []byte(text+"\n"), l)

	l = curve26(2641, 6, 138, 66, 0.1, numbered("D%02d", 7)...)
	text = headLine("doctor", ",", "T%d", 6) + "," + strings.Join(numbered("F%d", 6), ",")
	for _, w := range traineesOf(l) {
		text += "\n" + w
		for _, a := range attemptsOf(l, w) {
			text += "," + point(a.value)
		}
		for _, a := range attemptsOf(l, w) {
			text += fmt.Sprint(",", int(a.value*10)%7%3)
		}
	}
	read("26-two-blocks", "T and F.csv", "--trainee doctor --measure time --limit 300 --heads T=time --heads F=count", []byte(text+"\n"), l)

	l = curve26(2643, 9, 151, 69, 0.1, numbered("KN%d", 5)...)
	for s, name := range []string{"Mon 2 Feb", "Tue 3 Feb", "Wed 4 Feb"} {
		if s == 0 {
			b = newBook(name)
		} else {
			b.next(name)
		}
		b.row("A1", "Trainee", "Try 1", "Try 2", "Try 3")
		b.wide(2, only(l, func(a at) bool { return (a.n-1)/3 == s }), value)
	}
	read("26-wide-sheet-a-day", "three days wide.xlsx", w26("Trainee")+" --sheets-are session", b.bytes(), l)

	l = curve26(2644, 7, 129, 55, 0.1, numbered("LE%d", 6)...)
	b = book26("Data", "Trainee|Attempt|Seconds", l, longRow)
	b.row("G2", "Legend")
	b.row("G3", "Grey rows were checked by a second person.")
	b.row("G4", "Times are seconds from first touch to release.")
	read("26-legend-beside", "with legend.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), l)

	l = curve26(2645, 6, 134, 63, 0.1, numbered("OX%d", 6)...)
	b = book26("Sheet1", "Trainee|Attempt|Seconds", l, longRow)
	b.row("A41", "Summary")
	b.row("A42", "Room", "Trainees", "Median")
	b.row("A43", "Ground floor", 4, 88.4)
	b.row("A44", "Second floor", 2, 91.7)
	read("26-summary-below", "with summary.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), l)

	l = curve26(2646, 6, 126, 58, 0.1, "Marek", "Nela", "Olga", "Pavel", "Radka", "Tomas")
	b = newBook("List1")
	b.row("A1", "Student", "Pokus", "Sekundy")
	for i, a := range l {
		if a.n == 1 {
			b.put(1, i+2, a.who)
			must(b.MergeCell(b.sheet, cellName(1, i+2), cellName(1, i+7)))
		}
		b.put(2, i+2, a.n)
		b.put(3, i+2, a.value)
	}
	read("26-merged-names", "cviceni.xlsx", f26("Student", "Pokus", "Sekundy"), b.bytes(), l)

	l = curve26(2647, 7, 148, 74, 1, numbered("FM%d", 6)...)
	b = newBook("Film")
	b.row("A1", "Trainee", "Clip", "In", "Out", "Seconds")
	for i, a := range l {
		from := 40 + 7*(i%6)
		b.row(fmt.Sprint("A", i+2), a.who, a.n, float64(from)/86400, (float64(from)+a.value)/86400)
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("ROUND((D%d-C%d)*86400,0)", i+2, i+2)))
	}
	b.format("C2", fmt.Sprint("D", len(l)+1), "mm:ss")
	read("26-film-in-and-out", "coding sheet.xlsx", f26("Trainee", "Clip", "Seconds"), office("26-film-in-and-out", "coding sheet.xlsx", b.bytes()), l)

	l = curve26(2648, 8, 132, 62, 0.1, numbered("Rnd%d", 6)...)
	b = book26("Tabelle1", "Trainee|Attempt|Seconds", l, longRow)
	b.format("C2", "C49", "0")
	read("26-shown-without-decimals", "shown whole.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), l)

	l = curve26(2649, 7, 124, 60, 0.1, numbered("TX%d", 6)...)
	read("26-numbers-as-text", "als tekst.xlsx", f26("Naam", "Poging", "Seconden"),
		sheet26("Blad1", "Naam|Poging|Seconden", l, func(a at) []any { return []any{a.who, fmt.Sprint(a.n), comma(a.value)} }), l)

	l = curve26(2650, 8, 136, 68, 0.1, numbered("UN%d", 5)...)
	b = newBook("Export")
	b.row("A1", "Trainee", "Attempt", "Duration", "Force")
	b.row("A2", nil, nil, "s", "N")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+3), a.who, a.n, a.value, 2+float64(int(a.value*10)%13)/10)
	}
	read("26-units-below-heads", "force bench.xlsx", f26("Trainee", "Attempt", "Duration"), b.bytes(), l)
}

// iso26 is a duration as apps write it.
func iso26(v float64) string {
	if v < 60 {
		return fmt.Sprintf("PT%.1fS", v)
	}
	tenths := int(math.Round(v * 10))
	return fmt.Sprintf("PT%dM%d.%dS", tenths/600, tenths%600/10, tenths%10)
}

// clocks26: how stopwatches, gates, apps and paper write a time.
func clocks26() {
	l := curve26(2651, 8, 137, 60, 1, numbered("C%02d", 6)...)
	read("26-prime-marks", "handgestoppt.csv", f26("Name", "Lauf", "Zeit"),
		lines("Name;Lauf;Zeit", l, plain(";", func(v float64) string {
			if v < 60 {
				return fmt.Sprintf("%d″", int(v))
			}
			return fmt.Sprintf("%d′%02d″", int(v)/60, int(v)%60)
		})), l)

	l = curve26(2652, 9, 141, 65, 0.1, numbered("H%d", 6)...)
	read("26-minutes-comma", "Stoppuhr.csv", f26("Name", "Nr", "Zeit"), lines("Name;Nr;Zeit", l, plain(";", minutes("%d:%02d,%d"))), l)

	l = curve26(2654, 8, 129, 61, 0.1, numbered("app-%d", 6)...)
	i := 0
	read("26-app-durations", "sessions.csv", f26("user", "attempt_no", "duration"),
		lines("record,user,attempt_no,duration,device", l, func(a at) string {
			i++
			return fmt.Sprintf("%08x,%s,%d,%s,tablet-%d", i*2654435761%4294967291, a.who, a.n, iso26(a.value), i%3+1)
		}), l)

	l = curve26(2655, 7, 97, 44, 0.01, numbered("Gt%d", 7)...)
	clock := func(v float64) string {
		h := int(math.Round(v * 100))
		return fmt.Sprintf("00:%02d:%02d.%02d", h/6000, h%6000/100, h%100)
	}
	read("26-gate-hundredths", "gate.csv", f26("bib", "run", "net_time"), lines("bib,run,net_time", l, plain(",", clock)), l)

	l = curve26(2656, 8, 88, 41, 0.01, numbered("CS%02d", 6)...)
	read("26-centiseconds", "pulse counter.csv", "--trainee code --attempt run --response time~(1/100~s) --measure time",
		lines("code,run,time (1/100 s)", l, plain(",", func(v float64) string { return fmt.Sprint(int(math.Round(v * 100))) })), l)

	l = curve26(2657, 7, 119, 53, 0.001, numbered("Mo%d", 6)...)
	read("26-milliseconds-spaced", "capteur.csv", "--trainee Interne --attempt Essai --response Durée~(ms) --measure time",
		lines("Interne;Essai;Durée (ms)", l, plain(";", func(v float64) string {
			ms := int(math.Round(v * 1000))
			return fmt.Sprintf("%d\u00a0%03d", ms/1000, ms%1000)
		})), l)

	l = curve26(2658, 7, 145, 58, 0.6, numbered("UW%d", 6)...)
	read("26-units-told-in-cells", "as dictated.csv", f26("trainee", "attempt", "time"),
		lines("trainee,attempt,time", l, plain(",", func(v float64) string {
			if v < 100 {
				return point(v) + " s"
			}
			return fmt.Sprintf("%.2f min", v/60)
		})), l)

	l = curve26(2659, 6, 158, 82, 1, numbered("Ms%02d", 7)...)
	read("26-wide-minutes", "ward round.csv", w26("nurse"), wide(headLine("nurse", ",", "attempt %d (min:s)", 6), ",", l, minutesCut), l)

	l = curve26(2660, 8, 117, 56, 0.01, numbered("Lp%d", 5)...)
	total := 0.0
	hms := func(v float64) string {
		h := int(math.Round(v * 100))
		return fmt.Sprintf("%02d:%02d.%02d", h/6000, h%6000/100, h%100)
	}
	read("26-lap-and-split", "laps.csv", f26("Name", "Lap", "Lap~Time"),
		lines("Name,Lap,Lap Time,Split Time", l, func(a at) string {
			if a.n == 1 {
				total = 0
			}
			total += a.value
			return fmt.Sprint(a.who, ",", a.n, ",", hms(a.value), ",", hms(total))
		}), l)

	l = curve26(2661, 7, 112, 51, 0.001, numbered("Tg%d", 6)...)
	start := time.Date(2026, 3, 3, 8, 30, 11, 0, time.UTC)
	read("26-gate-start-stop", "beam.csv", f26("id", "pass", "elapsed_s"),
		lines("id;pass;start;stop;elapsed_s", l, func(a at) string {
			start = start.Add(time.Duration(170+int(a.value)%37) * time.Second)
			stop := start.Add(time.Duration(math.Round(a.value*1000)) * time.Millisecond)
			s := fmt.Sprintf("%s;%d;%s;%s;%.3f", a.who, a.n, start.Format("15:04:05.000"), stop.Format("15:04:05.000"), a.value)
			start = stop
			return s
		}), l)

	l = curve26(2663, 8, 1650, 780, 1, numbered("Fx%d", 6)...)
	read("26-long-task", "whole procedure.csv", "--trainee fellow --attempt case --response duration --measure time --limit 3600",
		lines("fellow,case,duration", l, plain(",", func(v float64) string { return fmt.Sprintf("%d:%02d:%02d", int(v)/3600, int(v)%3600/60, int(v)%60) })), l)
}

// outcomes26: attempts that failed or ran into the limit, in the words of the centres.
func outcomes26() {
	words := func(l []at, m map[string]string) func(a at) string { return func(a at) string { return m[a.outcome] } }

	l := out26(curve26(2671, 8, 160, 75, 0.1, numbered("INT%d", 6)...), 300, "INT2 1 timeout", "INT5 1 timeout", "INT3 3 failed", "INT6 5 failed")
	w := words(l, map[string]string{"done": "réussi", "failed": "échec", "timeout": "temps dépassé"})
	read("26-outcome-french", "bilan.csv", f26("interne", "essai", "secondes", "--outcome résultat"),
		lines("interne;essai;secondes;résultat", l, func(a at) string { return plain(";", comma)(a) + ";" + w(a) }), l)

	l = out26(curve26(2672, 7, 150, 70, 0.1, numbered("Pfl%02d", 7)...), 300, "Pfl03 1 timeout", "Pfl01 4 failed", "Pfl06 2 failed")
	w2 := words(l, map[string]string{"done": "bestanden", "failed": "nicht bestanden", "timeout": "Zeit überschritten"})
	read("26-outcome-german", "Pflegekurs.xlsx", f26("Kürzel", "Versuch", "Sekunden", "--outcome Ergebnis"),
		sheet26("Kurs", "Kürzel|Versuch|Sekunden|Ergebnis", l, func(a at) []any { return []any{a.who, a.n, a.value, w2(a)} }), l)

	l = out26(curve26(2673, 8, 170, 80, 0.1, numbered("MX%d", 6)...), 300, "MX1 1 timeout", "MX4 1 timeout", "MX4 2 timeout")
	read("26-above-limit-sign", "limite.csv", f26("alumno", "intento", "segundos"),
		lines("alumno,intento,segundos", l, plain(",", func(v float64) string {
			if v == 300 {
				return ">300"
			}
			return point(v)
		})), l)

	l = out26(curve26(2674, 6, 165, 85, 0.1, numbered("TO%d", 7)...), 300, "TO3 1 timeout", "TO5 1 timeout", "TO5 3 timeout")
	read("26-timeout-in-cells", "wide with timeouts.csv", w26("trainee"),
		wide(headLine("trainee", ",", "attempt %d", 6), ",", l, func(v float64) string {
			if v == 300 {
				return "timeout"
			}
			return point(v)
		}), l)

	l = out26(curve26(2675, 7, 140, 66, 0.1, numbered("pf%d", 6)...), 300, "pf2 2 failed", "pf4 1 failed", "pf4 5 failed", "pf6 3 failed")
	read("26-pass-fail-letters", "checked.csv", f26("id", "attempt", "seconds", "--outcome Pass/Fail"),
		lines("id,attempt,seconds,Pass/Fail", l, func(a at) string {
			return plain(",", point)(a) + map[string]string{"done": ",P", "failed": ",F"}[a.outcome]
		}), l)

	l = out26(curve26(2676, 8, 130, 62, 0.1, numbered("fy%d", 6)...), 300, "fy1 1 failed", "fy3 1 failed", "fy3 4 failed", "fy5 2 failed")
	read("26-failed-yes-no", "incidents.csv", f26("trainee", "attempt", "seconds", "--outcome failed"),
		lines("trainee,attempt,seconds,failed", l, func(a at) string {
			return plain(",", point)(a) + map[string]string{"done": ",no", "failed": ",yes"}[a.outcome]
		}), l)

	l = curve26(2677, 8, 134, 63, 0.1, numbered("er%02d", 6)...)
	read("26-errors-beside", "targets hit.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds,errors,drops", l, func(a at) string {
			return fmt.Sprint(plain(",", point)(a), ",", int(a.value*10)%11%4, ",", int(a.value*10)%5%2)
		}), l)

	l = out26(curve26(2680, 8, 160, 75, 0.1, numbered("oc%d", 6)...), 300, "oc2 1 timeout", "oc3 3 failed", "oc5 1 timeout", "oc5 2 failed")
	doubt("26-outcome-codes", "coded.csv", f26("trainee", "attempt", "seconds", "--outcome result"),
		lines("trainee,attempt,seconds,result", l, func(a at) string {
			return plain(",", point)(a) + map[string]string{"done": ",1", "failed": ",2", "timeout": ",3"}[a.outcome]
		}), nil, "The column result holds 1, 2 and 3 without a legend: which is done, failed or timeout?")

	l = out26(curve26(2681, 7, 170, 80, 0.1, numbered("dn%d", 7)...), 300, "dn1 1 timeout", "dn4 1 timeout", "dn4 2 timeout")
	doubt("26-did-not-finish", "heats.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, plain(",", func(v float64) string {
			if v == 300 {
				return "DNF"
			}
			return point(v)
		})), nil, "DNF stands in column seconds (dn1 attempt 1, dn4 attempts 1 and 2): stopped at the limit, failed, or given up?")

	l = with(curve26(2682, 8, 230, 120, 0.1, numbered("st%02d", 8)...), func(a *at) { a.value = min(a.value, 180) })
	doubt("26-pile-at-180", "bench times.csv", f26("trainee", "attempt", "seconds"), lines("trainee,attempt,seconds", l, plain(",", point)), nil,
		"Many times are exactly 180 and none is above, but the limit given is 300: the limit was 180 s, and these attempts were stopped.")

	l = curve26(2684, 7, 142, 69, 0.1, numbered("em%d", 6)...)
	doubt("26-done-without-time", "watch failed.csv", f26("trainee", "attempt", "seconds", "--outcome outcome"),
		lines("trainee,attempt,seconds,outcome", l, func(a at) string {
			if a.who == "em2" && a.n == 5 || a.who == "em5" && a.n == 3 {
				return fmt.Sprint(a.who, ",", a.n, ",,done")
			}
			return plain(",", point)(a) + ",done"
		}), nil, "Attempt 5 of em2 and attempt 3 of em5 are done but their seconds are blank: the time was not taken, or is lost.")
}

// measures26: scores, counts and passes.
func measures26() {
	l := with(curve26(2691, 7, 60, 20, 0.5, numbered("sc%d", 7)...), func(a *at) { a.value = math.Round((100-a.value*0.8)*2) / 2 })
	read("26-score-comma", "Punkte.csv", "--trainee Name --attempt Versuch --response Punkte --measure score", lines("Name;Versuch;Punkte", l, plain(";", oneDigitComma)), l)

	l = with(curve26(2692, 8, 9, 2, 1, numbered("ct%d", 6)...), func(a *at) { a.value = math.Max(0, a.value-2) })
	read("26-count-of-errors", "errors.xlsx", "--trainee trainee --attempt attempt --response errors --measure count",
		sheet26("Errors", "trainee|attempt|errors", l, longRow), l)

	l = with(curve26(2693, 9, 130, 60, 1, numbered("yn%d", 6)...), func(a *at) {
		pass := a.value < 85
		a.value = 0
		if pass {
			a.value = 1
		}
	})
	read("26-passed-yes-no", "signed off.csv", "--trainee trainee --attempt attempt --response passed --measure pass-fail",
		lines("trainee,attempt,passed", l, plain(",", func(v float64) string { return []string{"no", "yes"}[int(v)] })), l)

	l = with(curve26(2694, 7, 900, 300, 0.5, numbered("th%d", 6)...), func(a *at) { a.value = math.Round(36000-14*a.value) / 10 })
	read("26-score-thousands", "points.csv", "--trainee player --attempt round --response points --measure score",
		lines("player,round,points", l, func(a at) string {
			h := fmt.Sprintf("%.1f", a.value)
			if a.value >= 1000 {
				h = fmt.Sprintf("%d,%05.1f", int(a.value)/1000, math.Mod(a.value, 1000))
			}
			return fmt.Sprintf(`%s,%d,"%s"`, a.who, a.n, h)
		}), l)
}

// parts26: arms, sessions, tasks, devices and studies of several files.
func parts26() {
	l := curve26(2701, 8, 139, 64, 0.1, numbered("G%02d", 8)...)
	arm := func(who string) string { return []string{"a blocchi", "casuale"}[int(who[2]-'0')/2%2] }
	t := read("26-arms-italian", "gruppi.csv", f26("Allievo", "Prova", "Secondi", "--arm Gruppo"),
		lines("Allievo;Gruppo;Prova;Secondi", l, func(a at) string { return fmt.Sprint(a.who, ";", arm(a.who), ";", a.n, ";", comma(a.value)) }), l)
	t.Arms = map[string]string{}
	for _, w := range traineesOf(l) {
		t.Arms[w] = arm(w)
	}

	l = curve26(2707, 5, 131, 60, 0.1, numbered("hd%d", 7)...)
	o := curve26(2708, 5, 158, 79, 0.1, numbered("hd%d", 7)...)
	text := headLine("trainee", ",", "Right %d", 5) + "," + strings.Join(numbered("Left %d", 5), ",")
	for _, w := range traineesOf(l) {
		text += "\n" + w
		for _, a := range append(attemptsOf(l, w), attemptsOf(o, w)...) {
			text += "," + point(a.value)
		}
	}
	doubt("26-two-hands", "both hands.csv", w26("trainee"), []byte(text+"\n"), nil, "The columns Right 1 to Right 5 and Left 1 to Left 5 are two hands: two series for each trainee.")

	l = curve26(2709, 8, 144, 65, 0.1, numbered("sn%d", 6)...)
	doubt("26-session-unnamed", "two mornings.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,morning,attempt,seconds", l, func(a at) string { return fmt.Sprintf("%s,%d,%d,%v", a.who, (a.n-1)/4+1, (a.n-1)%4+1, a.value) }), nil,
		"Attempts 1 to 4 stand twice for everybody, since they start anew on the second morning (column morning).")

	l = curve26(2711, 7, 141, 66, 0.1, "no1", "no2", "so1", "so2", "we1", "we2")
	t = read("26-three-centres", ".", "", nil, l)
	t.files = map[string][]byte{
		"study.yaml": []byte("title: Splint at three centres\ntasks: [{name: splint, measure: time, column: seconds, limit: 300}]\nattempts:\n  files: [north.csv, south.csv, west.xlsx]\n"),
		"north.csv":  latin(crlf(lines("trainee;attempt;seconds;remark", only(l, func(a at) bool { return a.who < "o" }), func(a at) string { return plain(";", comma)(a) + ";geprüft" }))),
		"south.csv":  lines("trainee\tattempt\tseconds", only(l, func(a at) bool { return a.who[:2] == "so" }), plain("\t", oneDigit)),
		"west.xlsx":  sheet26("Sheet1", "trainee|attempt|seconds", only(l, func(a at) bool { return a.who[:2] == "we" }), longRow),
	}
}

// people26: who is who.
func people26() {
	l := curve26(2721, 8, 136, 62, 0.1, "W01", "W02", "W03", "W04", "W05", "twin")
	doubt("26-two-under-one-code", "ward list.csv", f26("code", "attempt", "seconds"),
		lines("code,attempt,seconds", l, func(a at) string {
			if a.who == "twin" {
				a.who = "W03"
			}
			return plain(",", oneDigit)(a)
		}), nil, "W03 has attempts 1 to 8 twice with other times: two people under one code.")

	l = curve26(2722, 8, 145, 64, 0.1, "RT-1", "RT-2", "RT-3", "RT-4", "RT-5", "RT-6")
	doubt("26-one-under-two-codes", "typed twice.xlsx", f26("code", "attempt", "seconds"),
		sheet26("Log", "code|attempt|seconds", l, func(a at) []any {
			if a.who == "RT-4" && a.n > 4 {
				a.who = "RT4"
			}
			return longRow(a)
		}), l, "RT-4 has attempts 1 to 4 only and RT4 attempts 5 to 8 only: one trainee under two codes.")

	l = curve26(2725, 6, 142, 67, 0.1, "Berg", "Dahl", "Holm", "Lunde", "Holm")
	first, n := "", 0
	doubt("26-same-surname", "names.csv", f26("surname", "attempt", "seconds"),
		lines("surname,first name,attempt,seconds", l, func(a at) string {
			first = []string{"Ida", "Ola", "Per", "Siv", "Kari"}[n/6]
			n++
			return fmt.Sprint(a.who, ",", first, ",", a.n, ",", oneDigit(a.value))
		}), nil, "Holm has attempts 1 to 6 twice, as Per and as Kari (column first name): two people with one surname.")

	l = curve26(2726, 7, 127, 59, 0.1, "2.00E+01", "3.00E+01", "1.00E+02", "3.00E+02", "1.00E+03", "4.00E+04")
	doubt("26-codes-became-powers", "rooms saved again.csv", f26("code", "attempt", "seconds"), lines("code,attempt,seconds", l, plain(",", oneDigit)), nil,
		"The codes in column code are numbers such as 1.00E+02: a spreadsheet turned codes such as 1E2 into numbers.")

	l = curve26(2727, 7, 139, 65, 0.1, "JUL1", "MAR1", "MAR2", "SEP1", "TNO1", "TNO2")
	days := map[string]time.Time{"JUL1": date(7, 1), "MAR1": date(3, 1), "MAR2": date(3, 2), "SEP1": date(9, 1)}
	b := book26("Codes", "Trainee|Attempt|Seconds", l, func(a at) []any {
		if d, ok := days[a.who]; ok {
			return []any{d, a.n, a.value}
		}
		return longRow(a)
	})
	b.format("A2", "A29", "d-mmm")
	doubt("26-codes-became-dates", "team codes.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), nil,
		"The column Trainee holds dates such as 1-Mar beside TNO1 and TNO2: codes such as MAR1 were turned into dates.")

	l = curve26(2728, 6, 133, 61, 0.1, "Müller", "Öztürk", "Weiß", "Groß", "Lüders")
	bad := map[string]string{"Müller": "MÃ¼ller"}
	doubt("26-garbled-name", "zusammengefügt.csv", f26("Name", "Versuch", "Sekunden"),
		lines("Name;Versuch;Sekunden", l, func(a at) string {
			if a.n > 3 && bad[a.who] != "" {
				a.who = bad[a.who]
			}
			return plain(";", comma)(a)
		}), l, "MÃ¼ller (attempts 4 to 6) is Müller (attempts 1 to 3) in a wrong encoding: one trainee.")

	l = curve26(2729, 6, 141, 64, 0.1, "Amsel", "Drossel", "Fink", "Meise", "Star")
	read("26-names-once", "only once.csv", f26("name", "attempt", "seconds"),
		lines("name,attempt,seconds", l, func(a at) string {
			if a.n > 1 {
				a.who = ""
			}
			return plain(",", oneDigit)(a)
		}), l)

	l = curve26(2730, 7, 137, 66, 0.1, "7", "12", "15", "21", "30")
	doubt("26-zero-kept-and-lost", "numbers.csv", f26("no", "attempt", "seconds"),
		lines("no,attempt,seconds", l, func(a at) string {
			if a.who == "7" && a.n <= 4 {
				a.who = "07"
			}
			return plain(",", oneDigit)(a)
		}), nil, "07 has attempts 1 to 4 and 7 attempts 5 to 7: one trainee with and without the leading zero.")
}

// days26: dates, their order and their slips.
func days26() {
	l := curve26(2741, 7, 138, 64, 0.1, numbered("US%d", 6)...)
	day := func(a at) time.Time {
		return time.Date(2026, 2, 2+4*a.n, 9+int(a.who[len(a.who)-1]-'0')%7, 5*a.n+3, 0, 0, time.UTC)
	}
	read("26-dates-american", "log by date.csv", "--trainee trainee --date date --response seconds --measure time --limit 300",
		lines("date,trainee,seconds", shuffled26(1, l), func(a at) string { return day(a).Format("01/02/2006 3:04 PM") + "," + a.who + "," + oneDigit(a.value) }), l)

	l = curve26(2742, 8, 129, 59, 0.1, numbered("DE%d", 5)...)
	read("26-dates-german", "Tagebuch.csv", "--trainee Kürzel --date Datum --response Sekunden --measure time --limit 300",
		lines("Datum;Kürzel;Sekunden", shuffled26(2, l), func(a at) string { return day(a).Format("02.01.2006 15:04") + ";" + a.who + ";" + comma(a.value) }), l)

	l = curve26(2743, 7, 131, 60, 0.1, numbered("ep%d", 6)...)
	read("26-epoch-milliseconds", "phone.csv", "--trainee user --date started_at --response seconds --measure time --limit 300",
		lines("started_at,user,seconds", shuffled26(3, l), func(a at) string { return fmt.Sprint(day(a).UnixMilli(), ",", a.who, ",", oneDigit(a.value)) }), l)

	l = curve26(2745, 6, 147, 68, 0.1, numbered("am%d", 6)...)
	doubt("26-dates-two-ways", "short dates.csv", "--trainee trainee --date day --response seconds --measure time --limit 300",
		lines("day,trainee,seconds", shuffled26(5, l), func(a at) string { return fmt.Sprintf("%02d/%02d/2026,%s,%v", a.n*2-1, (a.n*5+1)%11+1, a.who, a.value) }), nil,
		"Dates such as 03/01/2026 in column day, no number above 12: day first or month first gives another order.")

	l = curve26(2746, 7, 140, 66, 0.1, numbered("ny%d", 6)...)
	doubt("26-old-year-written", "over new year.csv", f26("trainee", "attempt", "seconds", "--date day"),
		lines("trainee,attempt,day,seconds", l, func(a at) string {
			d := time.Date(2025, 12, 11+5*a.n, 0, 0, 0, 0, time.UTC)
			return fmt.Sprint(a.who, ",", a.n, ",2025-", d.Format("01-02"), ",", a.value)
		}), l, "The days of attempts 5 to 7 are January 2025, before attempts 1 to 4 of December 2025: January 2026 is meant.")

	l = curve26(2747, 8, 133, 62, 0.1, numbered("td%d", 6)...)
	doubt("26-two-a-day", "two a day.csv", "--trainee trainee --date day --response seconds --measure time --limit 300",
		lines("day,trainee,seconds", shuffled26(4, l), func(a at) string {
			return date(3, 2+(a.n-1)/2).Format("2006-01-02") + "," + a.who + "," + oneDigit(a.value)
		}), nil,
		"Everybody has two attempts on each day (column day) without a time of day, in no order: which came first?")

	l = curve26(2748, 7, 135, 58, 0.1, numbered("yr%d", 6)...)
	doubt("26-one-day-in-2062", "slip.xlsx", "--trainee trainee --date day --response seconds --measure time --limit 300",
		sheet26("Log", "trainee|day|seconds", l, func(a at) []any {
			d := date(4, 2*a.n)
			if a.who == "yr3" && a.n == 3 {
				d = d.AddDate(36, 0, 0)
			}
			return []any{a.who, d, a.value}
		}), l, "The third attempt of yr3 is of the year 2062: 2026 is meant, and it was the third and not the last.")
}

// numbers26: attempt numbers that do not add up.
func numbers26() {
	l := curve26(2751, 8, 144, 66, 0.1, numbered("zz%d", 6)...)
	doubt("26-number-missing", "gap.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", without(l, func(a at) bool { return a.who == "zz3" && (a.n == 4 || a.n == 5) }), plain(",", point)),
		without(l, func(a at) bool { return a.who == "zz3" && (a.n == 4 || a.n == 5) }), "Attempts 4 and 5 of zz3 are missing: not made, or not written down?")

	l = curve26(2753, 7, 143, 65, 0.1, numbered("ze%d", 6)...)
	doubt("26-attempt-zero", "from zero.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, func(a at) string { return fmt.Sprint(a.who, ",", a.n-1, ",", a.value) }), nil,
		"Attempts are numbered 0 to 6: attempt 0 is a first attempt, or a trial run that does not count.")

	l = curve26(2754, 7, 139, 63, 0.1, numbered("sh%d", 6)...)
	doubt("26-cells-shifted", "shifted.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,room,attempt,seconds", l, func(a at) string {
			if a.who == "sh4" && a.n == 3 {
				return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",")
			}
			return fmt.Sprint(a.who, ",2,", a.n, ",", a.value)
		}), nil, "In the row of attempt 3 of sh4 the cells stand one column too far left: its attempt holds a time and its seconds are blank.")
}

// units26: a unit that the head, the flag or the clock does not tell, or tells wrongly.
func units26() {
	l := curve26(2761, 7, 121, 55, 0.04, numbered("fr%d", 6)...)
	doubt("26-frames", "film coding.csv", "--trainee trainee --attempt clip --response frames --measure time",
		lines("trainee,clip,frames", l, plain(",", func(v float64) string { return fmt.Sprint(int(math.Round(v * 25))) })), nil,
		"The column frames holds pictures of a film, not seconds, and how many there are a second is not told.")

	l = curve26(2762, 7, 134, 60, 0.1, numbered("ms%d", 6)...)
	doubt("26-head-says-ms", "timer.csv", f26("trainee", "attempt", "time_ms"), lines("trainee,attempt,time_ms", l, plain(",", oneDigit)), nil,
		"The head says time_ms, but the times are such as 110.3: seconds, it seems.")

	l = curve26(2763, 7, 152, 74, 1, numbered("mi%d", 6)...)
	doubt("26-head-says-minutes", "Zeiten.xlsx", f26("Name", "Versuch", "Zeit~(min)"),
		sheet26("Zeiten", "Name|Versuch|Zeit (min)", l, longRow), nil,
		"The head says Zeit (min), but values such as 150 are minutes far above the limit of 300 s: seconds, it seems.")

	l = curve26(2764, 6, 131, 62, 0.1, numbered("cu%d", 6)...)
	total := 0.0
	doubt("26-running-total", "splits.csv", "--trainee trainee --attempt attempt --response split --measure time",
		lines("trainee,attempt,split", l, func(a at) string {
			if a.n == 1 {
				total = 0
			}
			total += a.value
			return fmt.Sprintf("%s,%d,%.1f", a.who, a.n, total)
		}), l, "The column split rises from attempt to attempt for everybody: running totals, not the time of each attempt.")

	l = curve26(2767, 7, 139, 64, 0.1, numbered("dm%d", 6)...)
	read("26-both-decimal-marks", "two typists.csv", f26("Name", "Versuch", "Zeit"),
		lines("Name;Versuch;Zeit", l, func(a at) string {
			if a.who > "dm4" {
				return plain(";", oneDigit)(a)
			}
			return plain(";", oneDigitComma)(a)
		}), l)
}

// cells26: cells that are more or less than a number.
func cells26() {
	l := curve26(2771, 6, 138, 63, 0.1, numbered("hc%d", 7)...)
	b := newBook("Times")
	b.row("A1", headCells("Trainee", "Attempt %d", 6)...)
	b.wide(2, l, value)
	must(b.SetColVisible(b.sheet, "D", false))
	doubt("26-hidden-column", "neat.xlsx", w26("Trainee"), b.bytes(), l, "The column Attempt 3 (D) is hidden: left out on purpose, or only out of sight.")

	l = curve26(2772, 7, 133, 61, 0.1, numbered("sk%d", 6)...)
	b = book26("Log", "Trainee|Attempt|Seconds", l, longRow)
	for i, a := range l {
		if a.who == "sk2" && a.n == 4 || a.who == "sk5" && a.n == 6 {
			b.style(&excelize.Style{Font: &excelize.Font{Strike: true, Color: "888888"}}, cellName(1, i+2), cellName(3, i+2))
		}
	}
	doubt("26-struck-through", "corrected.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), nil,
		"The rows of attempt 4 of sk2 (row 12) and attempt 6 of sk5 (row 35) are struck through: they were taken back.")

	l = curve26(2773, 7, 141, 66, 0.1, numbered("fe%d", 6)...)
	b = newBook("Calc")
	b.row("A1", "Trainee", "Attempt", "Distance", "Speed", "Seconds")
	for i, a := range l {
		speed := 1000 / a.value
		if a.who == "fe4" && a.n == 2 || a.who == "fe1" && a.n == 6 {
			speed = 0
		}
		b.row(fmt.Sprint("A", i+2), a.who, a.n, 1000, speed)
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("ROUND(C%d/D%d,1)", i+2, i+2)))
	}
	rest := without(l, func(a at) bool { return a.who == "fe4" && a.n == 2 || a.who == "fe1" && a.n == 6 })
	doubt("26-formula-errors", "from speed.xlsx", f26("Trainee", "Attempt", "Seconds"), office("26-formula-errors", "from speed.xlsx", b.bytes()), rest,
		"Two cells of column Seconds (fe1 attempt 6, fe4 attempt 2) hold the error #DIV/0! in place of a time.")

	l = curve26(2774, 8, 7.2, 3.1, 0.01, numbered("dt%d", 6)...)
	b = book26("Blatt", "Name|Versuch|Sekunden", l, longRow)
	changed := 0
	for i, a := range l {
		month, day := int(math.Round(a.value*100))%100, int(a.value)
		if month >= 1 && month <= 12 {
			b.put(3, i+2, date(time.Month(month), day))
			b.format(cellName(3, i+2), cellName(3, i+2), "d. mmm")
			changed++
		}
	}
	if changed < 3 {
		panic("too few dates")
	}
	doubt("26-times-became-dates", "kurze Zeiten.xlsx", "--trainee Name --attempt Versuch --response Sekunden --measure time --limit 15", b.bytes(), nil,
		"Some cells of column Sekunden are dates such as 4. Aug: times such as 4.08 were turned into dates by the spreadsheet.")

	l = curve26(2775, 7, 136, 62, 0.1, numbered("as%d", 6)...)
	doubt("26-asterisks", "with marks.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, func(a at) string {
			s := plain(",", oneDigit)(a)
			if a.who == "as1" && a.n == 2 || a.who == "as3" && a.n == 5 || a.who == "as6" && a.n == 1 {
				s += "*"
			}
			return s
		}), nil, "Three times in column seconds bear an asterisk (as1 attempt 2, as3 attempt 5, as6 attempt 1) that nothing explains.")

	l = curve26(2776, 7, 129, 57, 0.1, numbered("pe%d", 6)...)
	doubt("26-penalties-added", "with penalties.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, func(a at) string {
			if k := int(a.value*10) % 7; k < 2 {
				return fmt.Sprintf("%s,%d,%.1f+%d", a.who, a.n, a.value, 5*(k+1))
			}
			return plain(",", oneDigit)(a)
		}), nil, "Times such as 121.8+5 in column seconds hold a penalty: to be added, or kept apart?")

	l = curve26(2777, 7, 132, 65, 0.1, numbered("tc%d", 6)...)
	doubt("26-seconds-twice", "two watches.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds,seconds", l, func(a at) string {
			return fmt.Sprintf("%s,%.1f", plain(",", oneDigit)(a), a.value+float64(int(a.value*10)%19-9)/10)
		}), nil,
		"Two columns are called seconds, with slightly other times: two watches.")

	l = curve26(2778, 7, 144, 68, 0.1, numbered("sl%d", 6)...)
	short := math.Round(find20(l, "sl3", 4)) / 10
	doubt("26-point-too-early", "one slip.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a.who == "sl3" && a.n == 4 {
				a.value = short
			}
			return plain(",", point)(a)
		}), nil, fmt.Sprintf("Attempt 4 of sl3 is %v s, a tenth of all others: the decimal point is one digit too early.", short))
}

// blanks26: what stands where there is no time.
func blanks26() {
	l := curve26(2781, 7, 140, 64, 0.1, numbered("zt%d", 6)...)
	some := func(a at) bool { return a.n == 2 && a.who == l[7].who || a.n == 6 && a.who == l[28].who }
	rest := without(l, some)
	as := func(s string) []byte {
		return lines("trainee,attempt,seconds", l, func(a at) string {
			if some(a) {
				return fmt.Sprint(a.who, ",", a.n, ",", s)
			}
			return plain(",", point)(a)
		})
	}
	doubt("26-zero-seconds", "zeros.csv", f26("trainee", "attempt", "seconds"), as("0"), rest,
		"Two times in column seconds are 0 (zt2 attempt 2, zt5 attempt 6): no time was taken.")

	l = curve26(2783, 6, 162, 83, 0.1, numbered("da%d", 7)...)
	doubt("26-dashes", "dashes.csv", w26("trainee"),
		wide(headLine("trainee", ";", "attempt %d", 6), ";", with(l, func(a *at) {
			if a.n == 1 && (a.who == "da2" || a.who == "da6") || a.n == 3 && a.who == "da6" {
				a.value = -1
			}
		}), func(v float64) string {
			if v < 0 {
				return "–"
			}
			return point(v)
		}), nil, "Three cells hold a dash (da2 attempt 1, da6 attempts 1 and 3): not made, not timed, or stopped at the limit?")
}

// company26: rows and columns that are no trainees' attempts.
func company26() {
	l := curve26(2791, 7, 139, 65, 0.1, numbered("T%02d", 6)...)
	ex := curve26(2792, 3, 52, 46, 0.1, "Dr Vane", "Dr Quill")
	table := lines("name,role,attempt,seconds", append(slices.Clone(l), ex...), func(a at) string {
		role := "trainee"
		if a.who[0] == 'D' {
			role = "examiner"
		}
		return fmt.Sprint(a.who, ",", role, ",", a.n, ",", a.value)
	})
	read("26-trainees-only", "everybody.csv", f26("name", "attempt", "seconds", "--where role=trainee"), table, l)

	l = curve26(2793, 7, 143, 67, 0.1, numbered("T%02d", 6)...)
	ex = curve26(2794, 7, 50, 45, 0.1, "Examiner Roe")
	doubt("26-examiner-among-trainees", "warm-up.xlsx", f26("name", "attempt", "seconds"),
		sheet26("Sheet1", "name|attempt|seconds", append(slices.Clone(l[:21]), append(ex, l[21:]...)...), longRow), nil,
		"Examiner Roe stands among the trainees T01 to T06 in column name: an examiner's own attempts, no trainee's.")

	l = curve26(2795, 6, 134, 62, 0.1, numbered("W%d", 7)...)
	read("26-target-row", "with target.csv", w26("trainee"),
		append(wide(headLine("trainee", ",", "attempt %d", 6), ",", l, point), "Target,150,120,105,95,88,82\n"...), l)

	l = curve26(2796, 6, 147, 69, 0.1, numbered("RC%d", 7)...)
	later := curve26(2797, 1, 96, 90, 0.1, numbered("RC%d", 7)...)
	b := newBook("Course")
	b.row("A1", append(headCells("Trainee", "Attempt %d", 6), "Retention test (4 months)")...)
	b.wide(2, l, value)
	for i, a := range later {
		b.put(8, i+2, a.value)
	}
	doubt("26-retention-column", "course and retention.xlsx", w26("Trainee"), b.bytes(), l,
		"The column Retention test (4 months) beside Attempt 1 to Attempt 6 is a test after a break: no attempt 7, and not to be lost without a word.")

	l = curve26(2798, 7, 141, 63, 0.1, numbered("mr%d", 6)...)
	i := 0
	read("26-mean-below-each", "blocks.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, func(a at) string {
			s := plain(",", point)(a)
			if i++; i%7 == 0 {
				sum := 0.0
				for _, x := range attemptsOf(l, a.who) {
					sum += x.value / 7
				}
				s += fmt.Sprintf("\n%s,mean,%.2f", a.who, sum)
			}
			return s
		}), l)
}

// copies26: what copying, joining and cutting does.
func copies26() {
	l := curve26(2801, 7, 138, 64, 0.1, numbered("cp%d", 6)...)
	doubt("26-copied-to-another", "copied.csv", f26("trainee", "attempt", "seconds"),
		lines("trainee,attempt,seconds", l, func(a at) string {
			if a.who == "cp5" {
				return fmt.Sprint("cp5,", a.n, ",", find20(l, "cp2", a.n))
			}
			return plain(",", point)(a)
		}), nil, "cp2 and cp5 have the very same seven times: copied from one to the other.")

	l = curve26(2803, 7, 96, 30, 1, numbered("%d", 8)...)
	text := string(lines("trainee,attempt,seconds", l[:28], plain(",", point))) + string(lines("trainee,seconds,attempt", l[28:], func(a at) string { return fmt.Sprint(a.who, ",", a.value, ",", a.n) }))
	doubt("26-joined-other-order", "joined.csv", f26("trainee", "attempt", "seconds"), []byte(text), l,
		"A second head in the middle of the file (row 30) has the columns seconds and attempt the other way round.")

	l = curve26(2804, 8, 142, 67, 0.1, numbered("AN-%02d", 7)...)
	text = string(lines("trainee,attempt,seconds", l, plain(",", oneDigit)))
	text = strings.Join(strings.Split(text, "\n")[:51], "\n") + "\nAN-07,3"
	doubt("26-last-line-cut", "upload.csv", f26("trainee", "attempt", "seconds"), []byte(text), nil,
		"The last line is cut off (AN-07,3 without seconds), and AN-07 has fewer attempts than all others: the file is cut.")

	l = curve26(2806, 7, 145, 66, 0.1, numbered("sh%d", 6)...)
	b := newBook("Feb")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.next("Feb (2)")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, with(l, func(a *at) {
		if a.n == 4 && a.who < "sh4" {
			a.value += 10
		}
	}), longRow)
	doubt("26-sheet-copied", "february.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), nil,
		"The sheets Feb and Feb (2) hold the same attempts, three of them (attempt 4 of sh1 to sh3) with other times: which is right?")
}

// zip26 is a zip file of these parts.
func zip26(parts ...[2]string) []byte {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, p := range parts {
		w, err := z.CreateHeader(&zip.FileHeader{Name: p[0], Method: zip.Store})
		must(err)
		_, err = w.Write([]byte(p[1]))
		must(err)
	}
	must(z.Close())
	return out.Bytes()
}

// broken26: files that cannot be read.
func broken26() {
	flags := f26("trainee", "attempt", "seconds")
	l := curve26(2811, 7, 139, 64, 0.1, numbered("br%d", 6)...)
	refuse("26-empty", "attempts.csv", flags, nil, "The file is empty (0 bytes).")
	refuse("26-head-only", "template.csv", flags, []byte("trainee,attempt,seconds\n"), "The file holds a head and no rows: the empty template was sent.")
	refuse("26-web-page", "download.csv", flags,
		[]byte("<!DOCTYPE html>\n<html><head><title>Sign in</title></head>\n<body><form action=\"/login\"><label>User <input name=\"u\"></label>\n<p>Your session has ended, please sign in again.</p></form></body></html>\n"),
		"The file is a web page that asks to sign in, saved as CSV.")
	refuse("26-letter-as-workbook", "attempts.xlsx", flags, zip26(
		[2]string{"[Content_Types].xml", `<?xml version="1.0" encoding="UTF-8"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>`},
		[2]string{"_rels/.rels", `<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>`},
		[2]string{"word/document.xml", `<?xml version="1.0" encoding="UTF-8"?><w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body><w:p><w:r><w:t>trainee attempt seconds: see the paper forms</w:t></w:r></w:p></w:body></w:document>`}),
		"The file is a text document renamed to .xlsx.")
	refuse("26-picture", "sheet photo.csv", flags, append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x02\x80\x00\x00\x01\xe0\x08\x02\x00\x00\x00"),
		bytes.Repeat([]byte{0xba, 0xb3, 0x4b, 0xb3, 0, 0, 0x20, 0, 'I', 'D', 'A', 'T', 0x78, 0x9c, 0xec}, 90)...), "The file is a picture (a photo of the sheet).")
	var packed bytes.Buffer
	g := gzip.NewWriter(&packed)
	_, err := g.Write(lines("trainee,attempt,seconds", l, plain(",", point)))
	must(err)
	must(g.Close())
	refuse("26-packed", "attempts.tsv", flags, packed.Bytes()[:len(packed.Bytes())/2], "The file is compressed, cut off in the middle, and named .tsv.")
	locked, err := excelize.OpenReader(bytes.NewReader(sheet26("Log", "trainee|attempt|seconds", l, longRow)))
	must(err)
	var out bytes.Buffer
	must(locked.Write(&out, excelize.Options{Password: "bench"}))
	refuse("26-password", "protected.xlsx", flags, out.Bytes(), "The workbook is encrypted with a password.")
	refuse("26-lock-file", "~$attempts.xlsx", flags, append([]byte("\x0cM. Registrar "), append(bytes.Repeat([]byte(" "), 40), inUTF16(binary.LittleEndian, false, []byte("\x0cM. Registrar"+strings.Repeat(" ", 40)))...)...),
		"The file is the lock that a spreadsheet program leaves beside an open workbook, not the workbook.")
	refuse("26-only-charts", "chart.ods", flags, zip26(
		[2]string{"mimetype", "application/vnd.oasis.opendocument.graphics"},
		[2]string{"content.xml", `<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" office:version="1.2"><office:body><office:drawing/></office:body></office:document-content>`}),
		"The file is a drawing (the chart of the times) renamed to .ods.")
}

// grid26 is a text table of ratings, a row a subject and a column a rater, each mark written so.
func grid26(subject, sep string, r [][4]string, mark func(s string) string) []byte {
	head, body := grid20(subject, r)
	for _, line := range body {
		for i := range line[1:] {
			line[i+1] = mark(line[i+1])
		}
	}
	return table20(sep, head, body)
}

// marks26 is ratings with each mark in other words.
func marks26(r [][4]string, mark func(s string) string) [][4]string {
	out := slices.Clone(r)
	for i := range out {
		out[i][3] = mark(out[i][3])
	}
	return out
}

func same26(s string) string { return s }

// ratings26: what examiners' sheets hold, told plainly.
func ratings26() {
	r := rate20(2821, 1, 5, numbered("Vídeo %d", 9), []string{"Arrieta", "Bosch", "Cano"}, []string{"tejido", "tiempo", "instrumentos"})
	rated20("read", "26-ratings-spanish", "valoraciones.csv", "--subject vídeo --rater evaluador --item ítem --score nota --scale ordinal",
		latin(crlf(ratingLines("vídeo;evaluador;ítem;nota", ";", r))), r, "")

	r = rate20(2822, 1, 7, numbered("rec-%02d", 11), []string{"Hale", "Ivey", "Joss"}, nil)
	rated20("read", "26-ratings-wide-tabs", "panel.txt", "--subject recording --wide --scale interval", grid26("recording", "\t", r, same26), r, "")

	r = rate20(2823, 0, 1, numbered("Fall %d", 12), []string{"Prüfer A", "Prüfer B", "Prüfer C"}, nil)
	yes := func(s string) string { return map[string]string{"0": "nein", "1": "ja"}[s] }
	r = marks26(r, yes)
	rated20("read", "26-ratings-yes-no-wide", "Prüfbogen.csv", "--subject Fall --wide --scale nominal", grid26("Fall", ";", r, same26), r, "")

	r = rate20(2824, 9, 19, numbered("case%d", 10), []string{"KL", "MN"}, nil)
	percent := func(s string) string { return fmt.Sprint(number20(s)*5 - number20(s)%3) }
	r = marks26(r, percent)
	rated20("read", "26-ratings-percent", "percent.xlsx", "--subject case --rater examiner --score percent --scale interval",
		sheet20("Marks", ratingLines("case,examiner,percent", ",", r)), r, "")

	r = marks26(rate20(2825, 2, 10, numbered("tape %02d", 10), []string{"Osei", "Penn", "Rask"}, nil), func(s string) string { return fmt.Sprint(float64(number20(s)) / 2) })
	rated20("read", "26-ratings-half-points", "half points.ods", "--subject tape --rater rater --score mark --scale interval",
		office("26-ratings-half-points", "half points.ods", sheet20("Marks", ratingLines("tape,rater,mark", ",", r))), r, "")

	r = marks26(rate20(2826, 3, 9, numbered("Bande %d", 10), []string{"Juré 1", "Juré 2", "Juré 3", "Juré 4"}, nil), func(s string) string { return fmt.Sprint(float64(number20(s)) + 0.5) })
	rated20("read", "26-ratings-comma", "jury.csv", "--subject Bande --wide --scale interval",
		append([]byte("\ufeff"), grid26("Bande", ";", r, func(s string) string { return strings.ReplaceAll(s, ".", ",") })...), r, "")

	r = rate20(2827, 1, 5, numbered("S%d", 12), []string{"Tamm", "Uibo"}, nil)
	b := newBook("Panel")
	b.row("A1", "Regional examination, spring")
	must(b.MergeCell(b.sheet, "A1", "C1"))
	b.row("A2", "1 = unsafe, 5 = independent")
	head, body := grid20("Station", r)
	b.row("A4", cells20(head)...)
	for i, line := range body {
		b.row(fmt.Sprint("A", i+5), cells20(line)...)
	}
	rated20("read", "26-ratings-title", "spring panel.xlsx", "--subject Station --wide --scale ordinal", b.bytes(), r, "")

	r = without(rate20(2828, 1, 6, numbered("film %d", 10), []string{"Vik", "Wold", "Yri"}, nil), func(x [4]string) bool {
		return x[0] == "film 3" && x[1] == "Wold" || x[0] == "film 8" && x[1] == "Vik"
	})
	text := "film,Vik,Wold,Yri"
	for _, f := range numbered("film %d", 10) {
		text += "\n" + f
		for _, w := range []string{"Vik", "Wold", "Yri"} {
			text += ","
			for _, x := range r {
				if x[0] == f && x[1] == w {
					text += x[3]
				}
			}
		}
	}
	rated20("read", "26-ratings-not-all-seen", "films.csv", "--subject film --wide --scale ordinal", []byte(text+"\n"), r, "")

	r = marks26(rate20(2829, 0, 2, numbered("Scene %d", 14), []string{"Abo", "Bay", "Cox"}, nil), func(s string) string { return []string{"unsafe", "needs help", "safe"}[number20(s)] })
	rated20("read", "26-ratings-words", "scenes.csv", "--subject scene --rater observer --score verdict --scale nominal", ratingLines("scene,observer,verdict", ",", r), r, "")
}

// ratings26b: examiners' sheets with an accident.
func ratings26b() {
	r := rate20(2831, 1, 5, numbered("V%d", 10), []string{"Ash", "Birk", "Cole"}, nil)
	bad := slices.Clone(r)
	bad[13][3] = "44"
	rated20("doubt", "26-ratings-forty-four", "scale 1 to 5.csv", "--subject video --rater rater --score score --scale ordinal", ratingLines("video,rater,score", ",", bad), nil,
		fmt.Sprintf("The score of %s by %s is 44 on a scale of 1 to 5: a key pressed twice.", bad[13][0], bad[13][1]))

	r = rate20(2832, 1, 5, numbered("V%d", 10), []string{"Ash", "Birk", "Cole"}, nil)
	again := [4]string{"V4", "Birk", "", fmt.Sprint(number20(r[10][3])%5 + 1)}
	rated20("doubt", "26-ratings-twice", "late correction.csv", "--subject video --rater rater --score score --scale ordinal",
		ratingLines("video,rater,score", ",", append(slices.Clone(r), again)), nil, "V4 is rated twice by Birk, with another score in the last row.")

	r = rate20(2833, 1, 6, numbered("clip %d", 10), []string{"Dr. Alm", "Prof. Ek"}, nil)
	bad = slices.Clone(r)
	for i := range bad {
		if bad[i][1] == "Dr. Alm" && i >= 12 {
			bad[i][1] = "Dr Alm"
		}
	}
	rated20("doubt", "26-ratings-one-rater-twice", "two afternoons.xlsx", "--subject clip --rater examiner --score score --scale interval",
		sheet20("Scores", ratingLines("clip,examiner,score", ",", bad)), r, "The rater is written Dr. Alm up to clip 6 and Dr Alm from clip 7 on: one rater.")

	r = rate20(2834, 1, 5, numbered("task %d", 10), []string{"Eide", "Foss", "Gran"}, nil)
	bad = slices.Clone(r)
	for i := range bad {
		if bad[i][1] == "Gran" {
			bad[i][3] = fmt.Sprint(number20(bad[i][3])*20 - i%4*2)
		}
	}
	rated20("doubt", "26-ratings-other-scale", "three sheets joined.csv", "--subject task --wide --scale interval", grid26("task", ",", bad, same26), nil,
		"Gran marks from 0 to 100, Eide and Foss from 1 to 5: another scale.")

	r = rate20(2835, 1, 5, numbered("P%02d", 11), []string{"Hart", "Iles"}, nil)
	head, body := grid20("performance", r)
	for i, line := range body {
		body[i] = append(line, fmt.Sprint((number20(line[1])+number20(line[2])+1)/2))
	}
	rated20("doubt", "26-ratings-consensus", "after discussion.csv", "--subject performance --wide --scale ordinal", table20(",", append(head, "Consensus"), body), r,
		"The last column Consensus is what Hart and Iles agreed on after talking, no third rater.")

	r = rate20(2836, 1, 5, numbered("N%d", 12), []string{"Juhl", "Kamp", "Lind"}, nil)
	bad = slices.Clone(r)
	for _, i := range []int{4, 17, 29} {
		bad[i][3] = "0"
	}
	text := append(ratingLines("nurse,rater,score", ",", bad), "\nScale: 1 = poor to 5 = excellent; 0 = not observed\n"...)
	rated20("doubt", "26-ratings-zero-not-seen", "observed.csv", "--subject nurse --rater rater --score score --scale ordinal", text, nil,
		"Three scores are 0, which the note below calls not observed: no rating of the scale 1 to 5.")

	r = marks26(rate20(2837, 0, 4, numbered("OS%d", 12), []string{"Moe", "Nes"}, nil), func(s string) string {
		return []string{"limited", "fair", "adequate", "satisfactory", "sound"}[number20(s)]
	})
	rated20("doubt", "26-ratings-words-in-order", "in words.csv", "--subject station --rater examiner --score mark --scale ordinal", ratingLines("station,examiner,mark", ",", r), r,
		"The marks in column mark are words (limited, fair, adequate, satisfactory, sound) without a key: their order on the ordinal scale is not told.")
}

// slips26: what else came with the post.
func slips26() {
	l := curve26(2841, 7, 148, 72, 0.1, numbered("ft%d", 6)...)
	l = with(out26(l, 300, "ft2 1 failed", "ft3 4 failed", "ft6 2 failed"), func(a *at) {
		if a.outcome == "failed" {
			a.value = math.NaN()
		}
	})
	read("26-failed-without-time", "stopped on failure.csv", f26("trainee", "attempt", "seconds", "--outcome outcome"),
		lines("trainee,attempt,seconds,outcome", l, func(a at) string {
			if a.outcome == "failed" {
				return fmt.Sprint(a.who, ",", a.n, ",,failed")
			}
			return plain(",", point)(a) + ",completed"
		}), l)

	l = out26(curve26(2842, 7, 155, 74, 0.1, numbered("wd%d", 6)...), 300, "wd1 1 timeout", "wd4 1 timeout", "wd5 3 failed", "wd2 2 failed")
	read("26-time-up", "assessor notes.csv", f26("trainee", "attempt", "seconds", "--outcome result"),
		lines("trainee;attempt;seconds;result", l, func(a at) string {
			return plain(";", point)(a) + map[string]string{"done": ";passed", "failed": ";not passed", "timeout": ";time up"}[a.outcome]
		}), l)

	l = curve26(2843, 7, 1420, 740, 0.1, numbered("lt%d", 6)...)
	read("26-long-seconds", "Eingriffe.csv", "--trainee Kürzel --attempt Fall --response Sekunden --measure time --limit 3600",
		lines("Kürzel;Fall;Sekunden", l, plain(";", func(v float64) string {
			if v < 1000 {
				return oneDigitComma(v)
			}
			tenths := int(math.Round(v * 10))
			return fmt.Sprintf("%d.%03d,%d", tenths/10000, tenths%10000/10, tenths%10)
		})), l)

	l = curve26(2844, 7, 2500, 1300, 36, numbered("hr%d", 6)...)
	read("26-decimal-hours", "theatre times.csv", "--trainee trainee --attempt case --response duration~(h) --measure time",
		lines("trainee,case,duration (h)", l, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/3600) })), l)

	day := func(a at) time.Time { return date(2, 11).AddDate(0, 0, 6*a.n+int(a.who[len(a.who)-1]-'0')%4) }
	l = curve26(2845, 8, 141, 65, 0.1, numbered("yd%d", 6)...)
	read("26-year-in-two-digits", "short years.csv", "--trainee trainee --date day --response seconds --measure time --limit 300",
		lines("day,trainee,seconds", shuffled26(6, l), func(a at) string { return day(a).Format("06-01-02") + "," + a.who + "," + oneDigit(a.value) }), l)

	l = curve26(2846, 7, 135, 60, 0.1, numbered("nm%d", 6)...)
	read("26-days-as-numbers", "mainframe.csv", "--trainee SUBJECT --date DAY --response SECONDS --measure time --limit 300",
		lines("SUBJECT;DAY;SECONDS", shuffled26(7, l), func(a at) string { return a.who + ";" + day(a).Format("20060102") + ";" + oneDigitComma(a.value) }), l)

	l = curve26(2847, 7, 139, 62, 0.1, numbered("fr%d", 5)...)
	months := []string{"janv.", "févr.", "mars", "avr."}
	read("26-months-in-french", "carnet.csv", "--trainee interne --date jour --response secondes --measure time --limit 300",
		lines("jour;interne;secondes", shuffled26(8, l), func(a at) string {
			d := day(a)
			return fmt.Sprintf("%d %s %d;%s;%s", d.Day(), months[d.Month()-1], d.Year(), a.who, comma(a.value))
		}), l)

	l = with(curve26(2848, 7, 230, 105, 0.1, numbered("tl%d", 7)...), func(a *at) { a.value = min(a.value, 240) })
	doubt("26-limit-in-the-title", "exam station.csv", f26("trainee", "attempt", "seconds"),
		lines("Station 2: chest drain (time limit 240 s)\n\ntrainee,attempt,seconds", l, plain(",", point)), nil,
		"The title says time limit 240 s, but the limit given is 300; times of exactly 240 were stopped.")

	l = curve26(2849, 6, 118, 60, 0.1, numbered("bo%d", 7)...)
	doubt("26-best-of-three", "weekly best.csv", f26("trainee", "week", "best_of_3"),
		lines("trainee,week,best_of_3", l, plain(",", point)), nil, "The column best_of_3 holds the best of three attempts of a week, not each attempt.")

	l = curve26(2850, 12, 140, 62, 0.1, numbered("so%d", 6)...)
	var sorted []at
	for _, w := range traineesOf(l) {
		mine := attemptsOf(l, w)
		slices.SortFunc(mine, func(a, b at) int { return int(math.Round(10*b.value - 10*a.value)) })
		for i := range mine {
			mine[i].n = i + 1
		}
		sorted = append(sorted, mine...)
	}
	doubt("26-sorted-by-time", "sorted.csv", f26("trainee", "attempt", "seconds"), lines("trainee,attempt,seconds", sorted, plain(",", point)), nil,
		"The times of all six trainees fall from each of 12 attempts to the next without ever rising: the column seconds was sorted.")

	l = curve26(2851, 8, 143, 67, 0.1, numbered("ep%d", 6)...)
	doubt("26-four-years-back", "two computers.xlsx", "--trainee Trainee --date Day --response Seconds --measure time --limit 300",
		sheet26("Log", "Trainee|Day|Seconds", l, func(a at) []any {
			d := day(a)
			if a.n > 4 {
				d = d.AddDate(0, 0, -1462)
			}
			return []any{a.who, d, a.value}
		}), l, "Half of the days in column Day are in 2022, half in 2026, 1462 days apart (another date epoch): attempts 5 to 8 would come first.")

	l = curve26(2852, 7, 138, 66, 1, numbered("ms%d", 6)...)
	doubt("26-minutes-in-another-column", "Min und Sek.csv", f26("Name", "Lauf", "Sek"),
		lines("Name;Lauf;Min;Sek", l, plain(";", func(v float64) string { return fmt.Sprintf("%d;%d", int(v)/60, int(v)%60) })), l,
		"The column Sek holds only the seconds beyond the minutes in column Min: 3 and 1 are 181 s.")

	l = curve26(2853, 7, 144, 60, 6, numbered("nf%d", 6)...)
	b := book26("Zeiten", "Name|Versuch|Dauer", l, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/6) / 10} })
	b.format("C2", "C43", `0.0" min"`)
	doubt("26-unit-in-the-format", "mit Format.xlsx", f26("Name", "Versuch", "Dauer"), b.bytes(), l,
		"The cells of column Dauer show min by their format (1.6 min), though they hold plain numbers: minutes, not seconds.")

	l = curve26(2854, 7, 137, 63, 0.1, numbered("cm%d", 6)...)
	b = book26("Log", "Trainee|Attempt|Seconds", l, longRow)
	must(b.AddComment("Log", excelize.Comment{Cell: "C19", Author: "Supervisor", Paragraph: []excelize.RichTextRun{{Text: "Watch started late, do not use this time."}}}))
	doubt("26-comment-on-a-cell", "with a comment.xlsx", f26("Trainee", "Attempt", "Seconds"), b.bytes(), nil,
		"A comment on cell C19 (attempt 4 of cm3) says that the watch started late and the time must not be used.")

	l = curve26(2855, 6, 142, 68, 0.1, "Ana", "Bea", "Ana+Bea", "Caio", "Davi", "Caio+Davi")
	doubt("26-pairs-among-people", "alone and in pairs.csv", f26("who", "attempt", "seconds"), lines("who,attempt,seconds", l, plain(",", oneDigit)), nil,
		"Ana+Bea and Caio+Davi in column who are pairs of the people who stand there alone too: no trainees.")

	items := []string{"economy", "handling", "tremor"}
	r := rate20(2861, 1, 5, numbered("Tape %d", 9), []string{"Uhl", "Veit"}, items)
	for i := range r {
		if r[i][2] == "tremor" {
			r[i][3] = fmt.Sprint(6 - number20(r[i][3]))
		}
	}
	rated20("doubt", "26-ratings-one-item-reversed", "three items.csv", "--subject tape --rater rater --item item --score score --scale ordinal",
		append([]byte("Scale 1 to 5; 5 is best, but for tremor 1 is best\n\n"), ratingLines("tape,rater,item,score", ",", r)...), nil,
		"For the item tremor 1 is best, for the others 5 (line above the table): the item is reversed.")

	r = nil
	for _, x := range rate20(2862, 1, 5, numbered("Tape %d", 9), []string{"Uhl", "Veit"}, []string{"economy", "handling", "flow"}) {
		r = append(r, x)
		if n := len(r); x[2] == "flow" {
			r = append(r, [4]string{x[0], x[1], "total", fmt.Sprint(number20(r[n-3][3]) + number20(r[n-2][3]) + number20(r[n-1][3]))})
		}
	}
	rated20("doubt", "26-ratings-total-item", "with totals.csv", "--subject tape --rater rater --item item --score score --scale interval",
		ratingLines("tape,rater,item,score", ",", r), nil, "The item total is the sum of the items economy, handling and flow, no item of its own.")

	r = rate20(2863, 1, 7, numbered("Trainee %d", 10), []string{"Wirth", "Zoll", "Self"}, nil)
	rated20("doubt", "26-ratings-self", "self and others.csv", "--subject trainee --wide --scale interval", grid26("trainee", ",", r, same26), nil,
		"The column Self holds what the trainees thought of themselves, no examiner: a different person in each row.")
}
