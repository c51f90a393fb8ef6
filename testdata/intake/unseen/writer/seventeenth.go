package main

import (
	"bytes"
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

// seventeenth writes what a lab keeps on its shared drive: exports of lap timers, rigs, survey
// tools, learning platforms and statistics programs, opened, merged and saved again by people in
// a hurry.
func seventeenth() {
	seventeenthExports()
	seventeenthTyped()
	seventeenthTextDoubts()
	seventeenthBooks()
	seventeenthBookDoubts()
	seventeenthColumnar()
	seventeenthRatings()
	seventeenthStudies()
	seventeenthUnreadable()
}

// course makes up attempts of trainees who begin near this many seconds and scatter by an eighth.
func course(seed uint64, attempts int, start, unit float64, who ...string) []at {
	r := rand.New(rand.NewPCG(17, seed))
	var out []at
	for _, w := range who {
		first := start * (0.8 + 0.4*r.Float64())
		end, pace := first*(0.35+0.15*r.Float64()), 0.5+0.5*r.Float64()
		for n := 1; n <= attempts; n++ {
			v := (end + (first-end)*math.Pow(float64(n), -pace)) * math.Exp(0.12*r.NormFloat64())
			v = min(max(v, start/4), start*1.4)
			out = append(out, at{w, n, math.Round(v/unit) * unit, "done"})
		}
	}
	return with(out, func(a *at) { a.value = math.Round(a.value*1000) / 1000 })
}

// byTrainee cuts a log into the series of its trainees.
func byTrainee(l []at) [][]at {
	var out [][]at
	for i, a := range l {
		if i == 0 || a.who != l[i-1].who {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], a)
	}
	return out
}

// byRound lists a log as a lab afternoon goes: everybody's first attempt, then the second.
func byRound(l []at) []at {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b at) int { return a.n - b.n })
	return out
}

// seventeenthExports are text files as devices and programs write them, in order.
func seventeenthExports() {
	// A lap timer on a telephone; the assistant pressed "share as CSV" after each afternoon.
	l := course(1, 8, 160, 0.01, "gecko", "heron", "ibis", "jackal", "koala", "lynx")
	clock := func(v float64) string {
		h := int(math.Round(v * 100))
		return fmt.Sprintf("%02d:%02d.%02d", h/6000, h%6000/100, h%100)
	}
	total := 0.0
	read("17-lap-timer", "laps.csv", "--trainee Athlete --attempt Lap --response Lap~time --measure time",
		lines("Athlete,Lap,Lap time,Total time", l, func(a at) string {
			if a.n == 1 {
				total = 0
			}
			total += a.value
			return fmt.Sprint(a.who, ",", a.n, ",", clock(a.value), ",", clock(total))
		}), l)

	// A survey tool: names of the questions, their text, their ids, then an answer a row.
	l = byRound(course(2, 5, 140, 0.1, numbered("SIM-%02d", 7)...))
	i := 0
	read("17-survey-three-heads", "Bench+task_March+9.csv", "--trainee Q1 --attempt Q2 --response Q3 --measure time",
		lines(`StartDate,EndDate,Status,Finished,ResponseId,Q1,Q2,Q3,Q4
Start Date,End Date,Response Type,Finished,Response ID,Your trainee code,Which attempt was this?,"Time on the stopwatch, in seconds",Anything we should know?
"{""ImportId"":""startDate"",""timeZone"":""UTC""}","{""ImportId"":""endDate"",""timeZone"":""UTC""}","{""ImportId"":""status""}","{""ImportId"":""finished""}","{""ImportId"":""_recordId""}","{""ImportId"":""QID1_TEXT""}","{""ImportId"":""QID2_TEXT""}","{""ImportId"":""QID3_TEXT""}","{""ImportId"":""QID4_TEXT""}"`,
			l, func(a at) string {
				i++
				start := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC).Add(time.Duration(i) * 7 * time.Minute)
				return fmt.Sprintf("%s,%s,0,1,R_%04dkX,%s,%d,%s,", start.Format(time.DateTime),
					start.Add(4*time.Minute).Format(time.DateTime), 1000+i*37, a.who, a.n, oneDigit(a.value))
			}), l)

	// A learning platform's report of attempts, with the time taken in words.
	l = course(3, 6, 150, 1, "s2041", "s2042", "s2047", "s2050", "s2063")
	read("17-platform-report", "attempts.csv", "--trainee ID~number --date Started~on --response Time~taken --measure time",
		lines(`"ID number",State,"Started on",Completed,"Time taken"`, l, func(a at) string {
			start := time.Date(2026, 3, 2+7*(a.n-1), 9, 14, 0, 0, time.UTC)
			const shown = "2 January 2006 3:04 PM"
			return fmt.Sprintf("%s,Finished,%q,%q,%q", a.who, start.Format(shown),
				start.Add(time.Duration(a.value)*time.Second).Format(shown), inWords(int(a.value)))
		}), l)

	// write.csv2 of a statistics program: row names without a head, all text in quotes.
	l = course(4, 10, 150, 0.1, numbered("P%d", 9)...)
	i = 0
	read("17-row-names", "donnees.csv", "--trainee id --attempt essai --response temps --measure time",
		lines(`"";"id";"essai";"temps";"groupe"`, l, func(a at) string {
			i++
			return fmt.Sprintf(`"%d";"%s";%d;%s;"A"`, i, a.who, a.n, comma(a.value))
		}), l)

	// A data frame turned wide and written with its two levels of column names.
	l = course(5, 7, 170, 0.1, numbered("L%02d", 8)...)
	read("17-two-levels-of-names", "pivot.csv", "--trainee id --measure time",
		wide(",sec,sec,sec,sec,sec,sec,sec\ntrial,1,2,3,4,5,6,7\nid,,,,,,,", ",", l, oneDigit), l)

	// The printed listing of a statistics program, kept as text.
	l = course(6, 6, 130, 0.1, numbered("A%02d", 5)...)
	i = 0
	read("17-printed-listing", "listing.txt", "--trainee SUBJECT --attempt TRIAL --response SECONDS --measure time",
		lines("Obs    SUBJECT    TRIAL    SECONDS\n", l, func(a at) string {
			i++
			return fmt.Sprintf("%3d    %-7s    %5d    %7.1f", i, a.who, a.n, a.value)
		}), l)

	// A logger that writes two bytes a character, with tabs, as its maker did in 2009.
	l = course(7, 9, 180, 0.1, "Alke", "Brage", "Dagny", "Eldar", "Frøya", "Gunn")
	read("17-logger-two-bytes", "logg.txt", "--trainee Deltaker --attempt Forsøk --response Sekunder --measure time",
		inUTF16(binary.LittleEndian, true, crlf(
			lines("Deltaker\tForsøk\tSekunder", l, plain("\t", comma)))), l)

	// The same idea from another box: high byte first and no mark at the beginning.
	l = course(8, 6, 120, 1, numbered("U%d", 6)...)
	read("17-high-byte-first", "mereni.csv", "--trainee Účastník --attempt Pokus --response Čas~(s) --measure time",
		inUTF16(binary.BigEndian, false, lines("Účastník,Pokus,Čas (s)", l, plain(",", point))), l)

	// A test rig writes what it was set to above the table.
	l = course(9, 12, 140, 0.01, numbered("RIG%d", 6)...)
	read("17-rig-settings", "run_0312.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		lines(`# rig 2, firmware 4.1.0
# sample rate: 100 Hz, filter: none
# operator: lab assistant, room 3
# columns: trainee, attempt, peak force (N), time (s)
trainee,attempt,peak_force_N,seconds`, l, func(a at) string {
			return fmt.Sprintf("%s,%d,%.2f,%.2f", a.who, a.n, 3.1+a.value/90, a.value)
		}), l)

	// The telephone's list, the newest on top and everybody mixed; numbers of attempts were never kept.
	l = course(10, 7, 150, 0.1, "blue", "green", "grey", "red", "white")
	newest := byRound(l)
	slices.Reverse(newest)
	place := map[string]int{"blue": 0, "green": 1, "grey": 2, "red": 3, "white": 4}
	read("17-newest-first", "history.csv", "--trainee user --date started --response seconds --measure time",
		lines("id,user,started,seconds", newest, func(a at) string {
			at := time.Date(2026, 4, 1+2*a.n, 13, 5+9*place[a.who], 21, 0, time.UTC)
			return fmt.Sprintf("%d,%s,%s,%.1f", 700+5*a.n+place[a.who], a.who, at.Format("2006-01-02T15:04:05"), a.value)
		}), l)

	// A database export in thousandths of a second; the head says so.
	l = course(11, 8, 130, 0.001, numbered("u-%04d", 10)...)
	read("17-thousandths", "export.csv", "--trainee participant --attempt trial --response duration_ms --measure time",
		lines("participant;trial;duration_ms;device", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%.0f;box", a.who, a.n, a.value*1000)
		}), l)

	// Activity records of a web course: durations as the standard for them writes them.
	l = course(12, 6, 150, 0.01, numbered("actor%d", 6)...)
	read("17-iso-durations", "records.tsv", "--trainee actor --attempt attempt --response result_duration --measure time",
		lines("actor\tverb\tattempt\tresult_duration", l, func(a at) string {
			h := int(math.Round(a.value * 100))
			text := fmt.Sprintf("PT%d.%02dS", h/100, h%100)
			if h >= 6000 {
				text = fmt.Sprintf("PT%dM%d.%02dS", h/6000, h%6000/100, h%100)
			}
			return fmt.Sprint(a.who, "\tcompleted\t", a.n, "\t", text)
		}), l)

	// A whole year's cohort: forty trainees by twenty-five, from a database, with empty lines at the end.
	l = course(13, 25, 200, 0.1, numbered("2026-%03d", 40)...)
	read("17-forty-by-twenty-five", "cohort.tsv", "--trainee TraineeID --attempt AttemptNo --response TimeSeconds --measure time",
		append(crlf(lines("RecordID\tTraineeID\tAttemptNo\tTimeSeconds\tRoom", l, func(a at) string {
			return fmt.Sprintf("%s/%02d\t%s\t%d\t%.1f\tB2", a.who, a.n, a.who, a.n, a.value)
		})),

			"\r\n\r\n\r\n"...), l)
}

// inWords writes whole seconds as a learning platform does.
func inWords(s int) string {
	var out []string
	if m := s / 60; m == 1 {
		out = append(out, "1 min")
	} else if m > 1 {
		out = append(out, fmt.Sprint(m, " mins"))
	}
	if r := s % 60; r == 1 {
		out = append(out, "1 sec")
	} else if r > 0 {
		out = append(out, fmt.Sprint(r, " secs"))
	}
	return strings.Join(out, " ")
}

// seventeenthTyped are text files that people typed, saved or joined, in order.
func seventeenthTyped() {
	// A French spreadsheet saved as CSV on an old Windows machine.
	l := course(21, 6, 160, 0.1, "Zoé", "Rémi", "Chloé", "Léa", "Noël", "Anaïs")
	text := lines("Élève;Essai;Durée (s);Évaluateur", l, func(a at) string {
		return fmt.Sprint(a.who, ";", a.n, ";", comma(a.value), ";moniteur nº 2")
	})
	read("17-french-old-letters", "essais.csv", "--trainee Élève --attempt Essai --response Durée~(s) --measure time", crlf(encoded(charmap.Windows1252, text)), l)

	// Saved as "CSV (Macintosh)": lines end in a single return.
	l = course(22, 5, 140, 1, numbered("F%d", 7)...)
	read("17-single-returns", "tempos.csv", "--trainee Formando --attempt Tentativa --response Tempo~(s) --measure time",
		lineEnds(lines("Formando;Tentativa;Tempo (s)", l, plain(";", point)), "\r"), l)

	// A Polish file that tells the spreadsheet its separator, and begins with the mark of its encoding.
	l = course(23, 8, 150, 0.1, numbered("K%02d", 6)...)
	read("17-separator-told", "proby.csv", "--trainee Uczestnik --attempt Próba --response Czas~[s] --measure time",
		append([]byte("\xef\xbb\xbfsep=;\n"), lines("Uczestnik;Próba;Czas [s]", l, plain(";", comma))...), l)

	// Printed for the notice board: a title above, the mean and a note below.
	l = course(24, 6, 150, 0.1, "ab", "cd", "ef", "gh", "il", "mn")
	means := ""
	for n := 1; n <= 6; n++ {
		sum, count := 0.0, 0
		for _, a := range l {
			if a.n == n {
				sum, count = sum+a.value, count+1
			}
		}
		means += ";" + oneDigitComma(sum/float64(count))
	}
	read("17-italian-notice", "prove.csv", "--trainee Sigla --measure time",
		[]byte("Laboratorio di simulazione;;;;;;\nEsercizio 2, tempi in secondi;;;;;;\n;;;;;;\n"+
			string(wide(headLine("Sigla", ";", "Prova %d", 6), ";", l, oneDigitComma))+
			"Media"+means+"\n;;;;;;\nNota: cronometro a mano, un solo osservatore;;;;;;\n"), l)

	// Laid on its side so that it fitted the page: names of the columns stand in the first one.
	l = course(25, 5, 120, 0.1, "T1", "T2", "T3", "T4")
	lying := [3]string{"code", "try", "seconds"}
	for _, a := range l {
		lying[0] += "," + a.who
		lying[1] += fmt.Sprint(",", a.n)
		lying[2] += "," + oneDigit(a.value)
	}
	read("17-on-its-side", "side.csv", "--transposed --trainee code --attempt try --response seconds --measure time",
		[]byte(strings.Join(lying[:], "\n")+"\n"), l)

	// Time and slips of each attempt side by side.
	l = course(26, 6, 160, 0.1, numbered("C%02d", 9)...)
	head, rows := "Code", ""
	for n := 1; n <= 6; n++ {
		head += fmt.Sprintf(",Time %d (s),Slips %d", n, n)
	}
	for k, s := range byTrainee(l) {
		rows += "\n" + s[0].who
		for _, a := range s {
			rows += fmt.Sprintf(",%.1f,%d", a.value, (k+7-a.n)%4)
		}
	}
	read("17-times-and-slips", "bench.csv", "--trainee Code --measure time", []byte(head+rows+"\n"), l)

	// Three afternoons; the sheet on the wall was numbered from 1 each time.
	l = course(27, 12, 170, 0.1, numbered("N%d", 5)...)
	read("17-numbers-begin-again", "afternoons.csv", "--trainee trainee --session session --attempt rep --response secs --measure time",
		lines("trainee,session,date,rep,secs", l, func(a at) string {
			s := (a.n - 1) / 4
			return fmt.Sprintf("%s,%d,2026-05-%02d,%d,%.1f", a.who, s+1, 4+7*s, (a.n-1)%4+1, a.value)
		}), l)

	// Initials as codes; one of them is what other programs take for "nothing here".
	l = course(28, 6, 130, 0.1, "KL", "NA", "OB", "RS", "TF", "NO")
	read("17-initials", "initials.csv", "--trainee initials --attempt attempt --response time_s --measure time",
		lines("initials,attempt,time_s", l, plain(",", oneDigit)), l)

	// Codes of group, device and place that a spreadsheet would take for powers of ten.
	l = course(29, 7, 150, 0.1, "1E1", "1E2", "1F1", "1F2", "2E1", "2E2", "2F1")
	read("17-codes-like-powers", "places.csv", "--trainee code --attempt n --response seconds --measure time",
		lines("code,n,seconds", l, plain(",", oneDigit)), l)

	// Four outcomes, all named; a void attempt has no time.
	l = course(30, 8, 150, 0.1, numbered("V%02d", 6)...)
	for i, o := range map[int]string{0: "timeout", 8: "timeout", 19: "failed", 27: "void", 33: "failed"} {
		l[i].outcome = o
	}
	l = with(l, func(a *at) {
		switch {
		case a.outcome == "timeout":
			a.value = 240
		case a.outcome == "void":
			a.value = math.NaN()
		}
	})
	read("17-four-outcomes", "outcomes.csv", "--trainee trainee --attempt attempt --response seconds --outcome outcome --measure time --limit 240",
		lines("trainee,attempt,seconds,outcome,remark", l, func(a at) string {
			cell, remark := oneDigit(a.value), ""
			if a.outcome == "void" {
				cell, remark = "", "fire alarm"
			}
			return fmt.Sprint(a.who, ",", a.n, ",", cell, ",", a.outcome, ",", remark)
		}), l)

	// Passed or not, said to be so.
	l = with(course(31, 10, 100, 0.1, numbered("Q%d", 8)...), func(a *at) {
		if a.value < 72 {
			a.value = 1
		} else {
			a.value = 0
		}
	})
	read("17-passed-or-not", "passed.csv", "--trainee trainee --attempt attempt --response passed --measure pass-fail",
		lines("trainee;attempt;passed", l, plain(";", point)), l)

	// Two assistants' files put one under the other, head and all.
	l = course(32, 6, 140, 0.1, numbered("H%02d", 8)...)
	both := append(lines("trainee,attempt,seconds", l[:24], plain(",", oneDigit)), lines("trainee,attempt,seconds", l[24:], plain(",", oneDigit))...)
	read("17-head-in-the-middle", "joined.csv", "--trainee trainee --attempt attempt --response seconds --measure time", both, l)

	// A remark may hold commas, quotes and line ends.
	l = course(33, 5, 150, 0.1, numbered("W%d", 5)...)
	read("17-long-remarks", "remarks.csv", "--trainee Code --attempt Attempt --response Seconds --measure time",
		lines("Code,Attempt,Remark,Seconds", l, func(a at) string {
			remark := ""
			switch (a.n + int(a.value)) % 4 {
			case 0:
				remark = "\"left hand, then right\nneedle dropped once\""
			case 1:
				remark = `"said ""ready"", began late"`
			}
			return fmt.Sprintf("%s,%d,%s,%.1f", a.who, a.n, remark, a.value)
		}), l)
}

// seventeenthTextDoubts are text files with one accident each.
func seventeenthTextDoubts() {
	// A German file saved with commas between cells and commas within numbers, nothing in quotes.
	l := course(41, 5, 150, 0.1, "T1", "T2", "T3", "T4")
	l[2].value, l[9].value = 131, 104
	doubt("17-comma-within-commas", "zeiten.csv", "--trainee trainee --attempt versuch --response sekunden --measure time",
		lines("trainee,versuch,sekunden", l, plain(",", comma)), l,
		"rows such as T1,1,...: the number's decimal comma has become a cell of its own, so that most rows have four cells under three heads")

	// Minutes and seconds with a point between, as a kitchen timer shows them.
	l = course(42, 7, 150, 1, numbered("S%d", 6)...)
	doubt("17-point-between", "timer.csv", "--trainee student --attempt go --response time --measure time",
		lines("student,go,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) })), l,
		"column time: 1.38 may be 1 min 38 s or 1.38 minutes; what follows the point never passes 59")

	// The second afternoon was typed by somebody who wrote minutes.
	l = course(43, 8, 150, 0.6, numbered("M%02d", 6)...)
	doubt("17-minutes-in-between", "two-typists.csv", "--trainee code --attempt attempt --response time --measure time",
		lines("code,attempt,typed_by,time", byRound(l), func(a at) string {
			if a.n == 5 || a.n == 6 {
				return fmt.Sprintf("%s,%d,second,%.2f", a.who, a.n, a.value/60)
			}
			return fmt.Sprintf("%s,%d,first,%.1f", a.who, a.n, a.value)
		}), l, "column time, attempts 5 and 6: values of 0.8 to 3 are minutes among seconds")

	// Attempts stopped at 150 although the limit is said to be 300.
	l = course(44, 8, 130, 0.1, numbered("E%d", 6)...)
	l = with(l, func(a *at) {
		if a.n == 1 && a.who != "E3" && a.who != "E6" {
			a.value, a.outcome = 150, "timeout"
		}
	})
	doubt("17-stopped-at-half", "stopped.csv", "--trainee trainee --attempt attempt --response seconds --outcome outcome --measure time --limit 300",
		lines("trainee,attempt,seconds,outcome", l, func(a at) string {
			return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", a.outcome)
		}), l, "rows with the outcome timeout have 150 s though the limit is 300: another limit was in force, or the outcome is wrong")

	// The column that says which attempts failed is there, but nobody named it.
	l = course(45, 7, 160, 0.1, numbered("G%d", 7)...)
	for _, i := range []int{3, 11, 22, 30} {
		l[i].outcome, l[i].value = "failed", 31.5+float64(i)/10
	}
	doubt("17-outcome-not-named", "results.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		lines("trainee,attempt,seconds,outcome", l, func(a at) string {
			return fmt.Sprint(a.who, ",", a.n, ",", oneDigit(a.value), ",", a.outcome)
		}), l, "column outcome is not named: four attempts failed and their short times would count as the best")

	// Days and months both below 13, everywhere, and the order of attempts hangs on them.
	l = course(46, 6, 140, 0.1, numbered("D%d", 5)...)
	days := []string{"02/03/2026", "04/03/2026", "09/03/2026", "11/03/2026", "01/04/2026", "08/04/2026"}
	doubt("17-day-or-month", "visits.csv", "--trainee trainee --date visit --response seconds --measure time",
		lines("trainee,visit,seconds", l, func(a at) string { return fmt.Sprintf("%s,%s,%.1f", a.who, days[a.n-1], a.value) }), l,
		"column visit: 02/03/2026 may be 2 March or 3 February, and the order of attempts follows from it")

	// Two assistants, two ways to write the same trainee.
	l = course(47, 8, 150, 0.1, numbered("T%02d", 7)...)
	doubt("17-with-and-without-nought", "merged.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		lines("trainee,attempt,seconds", byRound(l), func(a at) string {
			who := a.who
			if a.n > 4 && (who == "T01" || who == "T02" || who == "T03") {
				who = strings.Replace(who, "0", "", 1)
			}
			return fmt.Sprintf("%s,%d,%.1f", who, a.n, a.value)
		}), l, "column trainee: T1 and T01 (also T2, T3) look like one trainee whose attempts 5 to 8 are under another code")

	// One half came from a tablet that writes é as e and an accent.
	l = course(48, 6, 130, 0.1, "Andre", "René", "Inês", "Olga", "Tom")
	doubt("17-accent-apart", "tablet.csv", "--trainee nome --attempt tentativa --response segundos --measure time",
		lines("nome;tentativa;segundos", byRound(l), func(a at) string {
			who := a.who
			if a.n > 3 {
				who = strings.NewReplacer("é", "e\u0301", "ê", "e\u0302").Replace(who)
			}
			return fmt.Sprint(who, ";", a.n, ";", comma(a.value))
		}), l, "column nome: René and Inês are there in two spellings that look alike, with the accent in the letter and apart")

	// The seventh attempt is the retest, half a year after the sixth.
	l = with(course(49, 7, 160, 0.1, numbered("R%02d", 8)...), func(a *at) {
		if a.n == 7 {
			a.value = math.Round(a.value*16) / 10
		}
	})
	doubt("17-half-a-year-later", "course-and-retest.csv", "--trainee trainee --attempt attempt --date date --response seconds --measure time",
		lines("trainee,attempt,date,seconds", l, func(a at) string {
			date := time.Date(2025, 9, 1+7*(a.n-1), 0, 0, 0, 0, time.UTC)
			if a.n == 7 {
				date = time.Date(2026, 4, 13, 0, 0, 0, 0, time.UTC)
			}
			return fmt.Sprintf("%s,%d,%s,%.1f", a.who, a.n, date.Format(time.DateOnly), a.value)
		}), l, "attempt 7 is half a year after attempt 6 and slower: a retest, not the next attempt of practice")

	// Seconds, and nobody said that they are a time.
	l = course(50, 9, 150, 0.1, numbered("Z%d", 6)...)
	doubt("17-measure-forgotten", "seconds.csv", "--trainee trainee --attempt attempt --response seconds",
		lines("trainee,attempt,seconds", l, plain(",", oneDigit)), l,
		"column seconds is read as a score of which more is better, since no --measure was given; it is a time")

	// In one row the cell of the attempt was deleted and the rest moved left.
	l = course(51, 8, 150, 0.1, numbered("B%02d", 6)...)
	doubt("17-cells-moved-left", "moved.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		lines("trainee,attempt,seconds,errors", l, func(a at) string {
			if a.who == "B04" && a.n == 6 {
				return fmt.Sprintf("%s,%.1f,%d,", a.who, a.value, 2)
			}
			return fmt.Sprintf("%s,%d,%.1f,%d", a.who, a.n, a.value, (a.n+int(a.value))%4)
		}), l, "the sixth row of B04: the attempt is a number with decimals and the time is 2; the cells have moved left")

	// A stopwatch's minutes, seconds and hundredths with colons all through, and no limit.
	l = with(course(52, 6, 150, 0.01, numbered("Y%d", 6)...), func(a *at) {
		a.value = math.Floor(a.value) + math.Round((a.value-math.Floor(a.value))*59)/100
		a.value = math.Round(a.value*100) / 100
	})
	doubt("17-three-parts-with-colons", "watch.csv", "--trainee runner --attempt run --response time --measure time",
		lines("runner;run;time", l, plain(";", func(v float64) string {
			h := int(math.Round(v * 100))
			return fmt.Sprintf("%d:%02d:%02d", h/6000, h%6000/100, h%100)
		})), l, "column time: 1:38:20 may be minutes, seconds and hundredths or hours, minutes and seconds")

	// A time of 98.2 typed without the point.
	l = course(53, 8, 140, 0.1, numbered("X%02d", 5)...)
	doubt("17-point-left-out", "typed.csv", "--trainee trainee --attempt attempt --response seconds --measure time --limit 300",
		lines("trainee,attempt,seconds", l, func(a at) string {
			cell := oneDigit(a.value)
			if a.who == "X03" && a.n == 5 {
				cell = strings.ReplaceAll(cell, ".", "")
			}
			return fmt.Sprint(a.who, ",", a.n, ",", cell)
		}), l, "X03, attempt 5: far above the limit of 300; a decimal point was left out")
}

// seventeenthUnreadable are files that no program for tables can read as they are.
func seventeenthUnreadable() {
	l := course(171, 5, 140, 0.1, numbered("T%02d", 4)...)
	refuse("17-records-of-a-web-page", "log.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		[]byte("["+strings.TrimSuffix(string(lines("", l, func(a at) string {
			return fmt.Sprintf(`  {"trainee": "%s", "attempt": %d, "seconds": %.1f},`, a.who, a.n, a.value)
		})), ",\n")+"\n]\n"), "the file is JSON under the name .csv: save it as a table")

	l = course(172, 4, 140, 0.1, numbered("S%d", 5)...)
	refuse("17-page-named-workbook", "report.xls", "--trainee Student --attempt Attempt --response Seconds --measure time",
		append(lines("<html><head><meta http-equiv=\"Content-Type\" content=\"text/html; charset=utf-8\"></head><body>\n<table border=\"1\"><tr><th>Student</th><th>Attempt</th><th>Seconds</th></tr>", l, func(a at) string {
			return fmt.Sprintf("<tr><td>%s</td><td>%d</td><td>%.1f</td></tr>", a.who, a.n, a.value)
		}), "</table></body></html>\n"...), "a web page under the name of a workbook: open it in a spreadsheet and save it as XLSX or CSV")

	l = course(173, 6, 140, 0.1, "佐藤班1", "佐藤班2", "田中班1", "田中班2")
	refuse("17-japanese-old-letters", "kiroku.csv", "--trainee 研修生 --attempt 回数 --response 時間 --measure time",
		crlf(encoded(japanese.ShiftJIS, lines("研修生,回数,時間", l, plain(",", oneDigit)))), "encoded as Shift-JIS, which is none of the encodings read: save it as UTF-8")

	l = course(174, 6, 140, 0.1, numbered("P%d", 5)...)
	// A password was put on the workbook before it went by mail.
	b := newBook("Log")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	var locked bytes.Buffer
	must(b.Write(&locked, excelize.Options{Password: "ultrasound"}))
	refuse("17-locked", "log.xlsx", "--trainee trainee --attempt attempt --response seconds --measure time", locked.Bytes(),
		"the workbook is locked with a password: open it, take the password off and save it")

	l = course(175, 7, 140, 0.1, numbered("U%d", 4)...)
	// A script that writes workbooks by itself counted rows from 0.
	b = newBook("out")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	refuse("17-rows-from-nought", "out.xlsx", "--trainee trainee --attempt attempt --response seconds --measure time",
		partChanged(b.bytes(), "xl/worksheets/sheet1.xml", func(text string) string {
			for r := 1; r <= len(l)+1; r++ {
				for _, c := range []string{"A", "B", "C"} {
					text = strings.Replace(text, fmt.Sprintf(`r="%s%d"`, c, r), fmt.Sprintf(`r="%s%d"`, c, r-1), 1)
				}
				text = strings.Replace(text, fmt.Sprintf(`<row r="%d"`, r), fmt.Sprintf(`<row r="%d"`, r-1), 1)
			}
			return text
		}), "the sheet begins with the cells A0, B0 and C0, which do not exist: the workbook is damaged")

	refuse("17-head-alone", "filtered.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		[]byte("trainee,attempt,seconds,outcome\r\n"), "there is a head and no row: the filter left nothing when it was saved")
}

// A rowsBook writes rows one under the other.
func rowsBook(sheet string, rows ...[]any) *book {
	b := newBook(sheet)
	for i, row := range rows {
		b.row(fmt.Sprint("A", i+1), row...)
	}
	return b
}

// wideRows is a table with a row a trainee, each value written by cell.
func wideRows(head []any, l []at, cell func(a at) any) [][]any {
	out := [][]any{head}
	for _, s := range byTrainee(l) {
		row := []any{s[0].who}
		for _, a := range s {
			row = append(row, cell(a))
		}
		out = append(out, row)
	}
	return out
}

// seventeenthBooks are workbooks, in order.
func seventeenthBooks() {
	// Typed as 0:01:38 and shown as minutes and seconds.
	l := course(61, 8, 150, 1, numbered("T%02d", 10)...)
	b := rowsBook("Times", wideRows(headCells("Trainee", "Attempt %d", 8), l, ofDay)...)
	b.format("B2", "I11", "[m]:ss")
	read("17-minutes-shown", "times.xlsx", "--trainee Trainee --measure time", b.bytes(), l)

	// A workbook from an older Mac counts days from 1904; dates order the attempts.
	l = course(62, 6, 140, 0.1, numbered("mac%d", 5)...)
	b = newBook("Log")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Student", "Day", "Seconds"}, byRound(l), func(a at) []any {
		day := time.Date(2026, 1, 12+7*(a.n-1), 0, 0, 0, 0, time.UTC).Sub(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24
		return []any{a.who, int(day), a.value}
	})
	b.format("B2", "B31", "d mmm yyyy")
	read("17-days-from-1904", "log.xlsx", "--trainee Student --date Day --response Seconds --measure time", b.bytes(), l)

	// Staff numbers are shown with three digits, and kept as numbers.
	l = course(63, 7, 150, 0.1, "004", "007", "012", "035", "101")
	b = newBook("Sheet1")
	b.log([]any{"ID", "Trial", "Time (s)"}, l, func(a at) []any {
		var id int
		fmt.Sscan(a.who, &id)
		return []any{id, a.n, a.value}
	})
	b.format("A2", "A36", "000")
	read("17-numbers-with-noughts", "ids.xlsx", "--trainee ID --attempt Trial --response Time~(s) --measure time", b.bytes(), l)

	// Each trainee has a sheet, made by copying the last one.
	l = course(64, 9, 140, 0.1, "Amsel", "Buche", "Distel", "Erle")
	b = nil
	for _, s := range byTrainee(l) {
		if b == nil {
			b = newBook(s[0].who)
		} else {
			b.next(s[0].who)
		}
		b.log([]any{"Versuch", "Zeit (s)", "Bemerkung"}, s, func(a at) []any { return []any{a.n, a.value} })
	}
	read("17-sheet-a-trainee", "Übung.xlsx", "--sheets-are trainee --attempt Versuch --response Zeit~(s) --measure time", b.bytes(), l)

	// Each afternoon has a sheet; attempts are numbered on.
	l = course(65, 9, 170, 0.1, numbered("D%02d", 7)...)
	b = nil
	for i, day := range []string{"2 March", "9 March", "16 March"} {
		if b == nil {
			b = newBook(day)
		} else {
			b.next(day)
		}
		var of []at
		for _, a := range l {
			if (a.n-1)/3 == i {
				of = append(of, a)
			}
		}
		b.log([]any{"Code", "Attempt", "Seconds"}, of, longRow)
	}
	read("17-sheet-an-afternoon", "afternoons.xlsx", "--sheets-are session --trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// Three head rows with joined cells: the task, the attempt, what was measured.
	l = course(66, 5, 160, 0.1, numbered("H%d", 8)...)
	b = newBook("Week 1")
	b.row("A1", "Trainee", "Suture pad, right hand")
	must(b.MergeCell(b.sheet, "A1", "A3"))
	must(b.MergeCell(b.sheet, "B1", "K1"))
	for n := 1; n <= 5; n++ {
		b.row(cellName(2*n, 2), fmt.Sprint("Attempt ", n))
		must(b.MergeCell(b.sheet, cellName(2*n, 2), cellName(2*n+1, 2)))
		b.row(cellName(2*n, 3), "Time (s)", "Errors")
	}
	for i, s := range byTrainee(l) {
		row := []any{s[0].who}
		for _, a := range s {
			row = append(row, a.value, (i+a.n)%3)
		}
		b.row(fmt.Sprint("A", i+4), row...)
	}
	read("17-three-joined-heads", "week1.xlsx", "--trainee Trainee --measure time", b.bytes(), l)

	// Typed in one office program, saved by another as an open document: cells hold durations.
	l = course(67, 6, 160, 1, numbered("P%02d", 6)...)
	b = rowsBook("Feuille1", wideRows(headCells("Stagiaire", "Essai %d", 6), l, ofDay)...)
	b.format("B2", "G7", "[mm]:ss")
	read("17-open-durations", "essais.ods", "--trainee Stagiaire --measure time", office("17-open-durations", "essais.ods", b.bytes()), l)

	// A logger streams rows with the text in the cells: a big table.
	l = course(68, 20, 190, 0.1, numbered("LG-%02d", 30)...)
	b = newBook("data")
	stream, err := b.NewStreamWriter("data")
	must(err)
	must(stream.SetRow("A1", []any{"subject", "rep", "t_sec", "grip_N", "ok"}))
	for i, a := range l {
		must(stream.SetRow(fmt.Sprint("A", i+2), []any{a.who, a.n, a.value, float64(20 + a.n%7), true}))
	}
	must(stream.Flush())
	read("17-streamed", "rig_export.xlsx", "--trainee subject --attempt rep --response t_sec --measure time", b.bytes(), l)

	// Means, spread and the best on the right and below, worked out by the spreadsheet.
	l = course(69, 6, 150, 0.1, numbered("W%02d", 8)...)
	b = rowsBook("Results", wideRows(append(headCells("Code", "Run %d (s)", 6), "Mean", "SD", "Best"), l, value)...)
	for r := 2; r <= 9; r++ {
		for c, f := range []string{"AVERAGE", "STDEV", "MIN"} {
			must(b.SetCellFormula(b.sheet, cellName(8+c, r), fmt.Sprintf("%s(B%d:G%d)", f, r, r)))
		}
	}
	for r, f := range []string{"AVERAGE", "STDEV"} {
		b.row(fmt.Sprint("A", 11+r), []string{"Mean", "SD"}[r])
		for c := 2; c <= 7; c++ {
			must(b.SetCellFormula(b.sheet, cellName(c, 11+r), fmt.Sprintf("%s(%s:%s)", f, cellName(c, 2), cellName(c, 9))))
		}
	}
	read("17-means-all-around", "results.xlsx", "--trainee Code --measure time", office("17-means-all-around", "results.xlsx", b.bytes()), l)

	// One attempt each Monday; the head of a column is the day.
	l = course(70, 7, 140, 0.1, numbered("M%d", 6)...)
	b = rowsBook("Montag", wideRows([]any{"Kürzel"}, l, value)...)
	for n := 1; n <= 7; n++ {
		day := time.Date(2026, 4, 13, 0, 0, 0, 0, time.UTC).AddDate(0, 0, 7*(n-1))
		must(b.SetCellValue(b.sheet, cellName(n+1, 1), day))
	}
	b.format("B1", "H1", "dd.mm.yyyy")
	read("17-days-as-heads", "montag.xlsx", "--trainee Kürzel --measure time", b.bytes(), l)

	// Beginning and end were noted; the spreadsheet took one from the other.
	l = course(71, 5, 170, 1, numbered("K%d", 6)...)
	b = newBook("Ark1")
	b.log([]any{"Kode", "Nr", "Start", "Slut", "Varighed"}, l, func(a at) []any {
		begin := 9*3600 + 15*60 + 400*float64(a.n)
		return []any{a.who, a.n, begin / 86400, (begin + a.value) / 86400}
	})
	for r := 2; r <= len(l)+1; r++ {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", r), fmt.Sprintf("D%d-C%d", r, r)))
	}
	b.format("C2", "D31", "hh:mm:ss")
	b.format("E2", "E31", "[m]:ss")
	read("17-end-less-beginning", "tider.ods", "--trainee Kode --attempt Nr --response Varighed --measure time",
		office("17-end-less-beginning", "tider.ods", b.bytes()), l)

	// The code stands once beside its attempts, in cells joined from top to bottom.
	l = course(72, 5, 140, 0.1, "A-1", "A-2", "B-1", "B-2")
	b = newBook("Log")
	b.log([]any{"Trainee", "Attempt", "Time (s)"}, l, func(a at) []any {
		if a.n > 1 {
			return []any{nil, a.n, a.value}
		}
		return longRow(a)
	})
	for r := 2; r <= 17; r += 5 {
		must(b.MergeCell(b.sheet, fmt.Sprint("A", r), fmt.Sprint("A", r+4)))
	}
	read("17-joined-downwards", "log.xlsx", "--trainee Trainee --attempt Attempt --response Time~(s) --measure time", b.bytes(), l)

	// Minutes with decimals; every head says so.
	l = course(73, 6, 170, 0.6, numbered("N%02d", 9)...)
	b = rowsBook("minutes", wideRows(headCells("Nurse", "Trial %d (min)", 6), l, func(a at) any { return math.Round(a.value/0.6) / 100 })...)
	read("17-minutes-in-the-heads", "minutes.xlsx", "--trainee Nurse --measure time", b.bytes(), l)

	// Pasted from a letter: all numbers are text, with commas.
	l = course(74, 6, 130, 0.1, numbered("Z%d", 5)...)
	b = newBook("Plak")
	b.log([]any{"Code", "Poging", "Tijd (s)"}, l, func(a at) []any { return []any{a.who, fmt.Sprint(a.n), oneDigitComma(a.value)} })
	read("17-numbers-as-text", "plak.xlsx", "--trainee Code --attempt Poging --response Tijd~(s) --measure time", b.bytes(), l)

	// A pilot: three people, four attempts, a column for each of them.
	l = course(75, 4, 120, 1, "Pilot A", "Pilot B", "Pilot C")
	b = rowsBook("Pilot", []any{"Attempt", "Pilot A", "Pilot B", "Pilot C"})
	for n := 1; n <= 4; n++ {
		b.row(fmt.Sprint("A", n+1), n, l[n-1].value, l[n+3].value, l[n+7].value)
	}
	read("17-column-a-person", "pilot.xlsx", "--columns-are trainee --attempt Attempt --measure time", b.bytes(), l)

	// Points out of a hundred, typed in Japan.
	l = with(course(76, 6, 160, 1, numbered("研修%d", 7)...), func(a *at) { a.value = math.Round(max(118-a.value/1.9, 12)) })
	l = with(l, func(a *at) { a.value = min(a.value, 97) })
	b = rowsBook("得点", wideRows(headCells("研修生", "%d回目", 6), l, value)...)
	read("17-points-in-japan", "tokuten.xlsx", "--trainee 研修生 --measure score", b.bytes(), l)

	// The first sheet is a cover; the log stands on the second.
	l = course(77, 8, 150, 0.1, numbered("C%02d", 6)...)
	b = newBook("Read me")
	b.row("A1", "Study log, spring course")
	b.row("A3", "Data are on the next sheet. Times in seconds, one observer.")
	b.next("Log")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	read("17-cover-first", "study-log.xlsx", "--trainee trainee --attempt attempt --response seconds --measure time", b.bytes(), l)

	// Two tasks in one list; the user asks for the slips of one of them.
	l = with(course(78, 6, 100, 0.1, numbered("S%02d", 6)...), func(a *at) { a.value = math.Round(a.value / 11) })
	b = newBook("Tasks")
	r := 1
	b.row("A1", "Code", "Task", "Attempt", "Slips", "Seconds")
	for _, a := range l {
		b.row(fmt.Sprint("A", r+1), a.who, "knot", a.n, a.value, 60+a.value*4)
		b.row(fmt.Sprint("A", r+2), a.who, "peg", a.n, float64(int(a.value*7)%5), 80+a.value*3)
		r += 2
	}
	read("17-slips-of-one-task", "tasks.xlsx", "--trainee Code --attempt Attempt --response Slips --measure count --where Task=knot", b.bytes(), l)

	// Two curricula, the group beside the code, a trainee's last attempts not yet made.
	l = course(79, 8, 150, 0.1, numbered("G%02d", 10)...)
	arms := map[string]string{}
	for i, s := range byTrainee(l) {
		arms[s[0].who] = []string{"spaced", "massed"}[i%2]
	}
	l = slices.DeleteFunc(l, func(a at) bool { return a.who == "G07" && a.n > 5 })
	rows := [][]any{append([]any{"Code", "Group"}, headCells("", "T%d", 8)[1:]...)}
	for _, s := range byTrainee(l) {
		row := []any{s[0].who, arms[s[0].who]}
		for _, a := range s {
			row = append(row, a.value)
		}
		rows = append(rows, row)
	}
	read("17-two-groups", "groups.xlsx", "--trainee Code --arm Group --measure time", rowsBook("Groups", rows...).bytes(), l).Arms = arms

	// The code only in the first row of a block; the user says that blanks repeat it.
	l = course(80, 6, 140, 0.1, numbered("Blok%d", 5)...)
	b = newBook("Blad1")
	b.log([]any{"Naam", "Poging", "Sec"}, l, func(a at) []any {
		if a.n > 1 {
			return []any{nil, a.n, a.value}
		}
		return longRow(a)
	})
	read("17-code-said-once", "blokken.ods", "--trainee Naam --attempt Poging --response Sec --measure time --fill-down Naam",
		office("17-code-said-once", "blokken.ods", b.bytes()), l)
}

// seventeenthBookDoubts are workbooks with one accident each.
func seventeenthBookDoubts() {
	// A script wrote minutes times 60 as formulas; no spreadsheet ever opened the file.
	l := course(91, 5, 150, 1, numbered("F%d", 6)...)
	b := rowsBook("Sheet1", wideRows(headCells("Code", "Attempt %d", 5), l, func(a at) any {
		if a.n == 3 {
			return nil
		}
		return a.value
	})...)
	for i, s := range byTrainee(l) {
		must(b.SetCellFormula("Sheet1", cellName(4, i+2), fmt.Sprintf("60*%d+%d", int(s[2].value)/60, int(s[2].value)%60)))
	}
	doubt("17-formulas-never-worked-out", "script.xlsx", "--trainee Code --measure time", b.bytes(), l,
		"column Attempt 3: formulas without a kept value (D2 to D7)")

	// A filter is on: the rows of two trainees are hidden.
	l = course(92, 6, 150, 0.1, numbered("V%02d", 6)...)
	b = newBook("Log")
	b.log([]any{"Code", "Attempt", "Seconds", "Status"}, l, func(a at) []any {
		status := "in"
		if a.who == "V02" || a.who == "V05" {
			status = "out"
		}
		return append(longRow(a), status)
	})
	must(b.AutoFilter("Log", "A1:D37", []excelize.AutoFilterOptions{{Column: "D", Expression: "x == in"}}))
	for i, a := range l {
		if a.who == "V02" || a.who == "V05" {
			must(b.SetRowVisible("Log", i+2, false))
		}
	}
	doubt("17-filter-left-on", "filtered.xlsx", "--trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), nil,
		"rows of V02 and V05 are hidden by a filter (Status out): it must be said that they are read, or asked")

	// 1:38 was meant as minutes and seconds; the spreadsheet took hours and minutes.
	l = course(93, 6, 140, 1, numbered("K%02d", 7)...)
	b = rowsBook("Tijden", wideRows(headCells("Cursist", "Poging %d", 6), l, func(a at) any { return a.value * 60 / 86400 })...)
	b.format("B2", "G8", "h:mm")
	doubt("17-hours-for-minutes", "tijden.xlsx", "--trainee Cursist --measure time --limit 300", b.bytes(), l,
		"all cells: 1:38 is kept as 1 h 38 min, which is far above the limit of 300 s; minutes and seconds were meant")

	// Marks in per cent; some were typed without the sign into cells without the format.
	l = with(course(94, 6, 160, 1, numbered("R%d", 6)...), func(a *at) { a.value = math.Round(min(max(115-a.value/2, 20), 98)) })
	b = rowsBook("Scores", wideRows(headCells("Trainee", "Score %d", 6), l, func(a at) any { return a.value / 100 })...)
	b.format("B2", "G7", "0%")
	for _, at := range [][3]int{{4, 3, 2}, {6, 5, 4}, {7, 5, 5}} {
		cell := cellName(at[0], at[1])
		must(b.SetCellValue("Scores", cell, l[(at[1]-2)*6+at[0]-2].value))
		b.format(cell, cell, "0")
	}
	doubt("17-some-in-per-cent", "scores.xlsx", "--trainee Trainee --measure score", b.bytes(), l,
		"D3, F5 and G5 hold numbers such as 70 while all others hold parts such as 0.7 shown as 70%")

	// Rows that should not count were struck through, and nothing else.
	l = course(95, 7, 150, 0.1, numbered("E%d", 5)...)
	b = newBook("Attempts")
	b.log([]any{"Trainee", "Attempt", "Time (s)"}, l, longRow)
	strike, err := b.NewStyle(&excelize.Style{Font: &excelize.Font{Strike: true, Color: "FF0000"}})
	must(err)
	for _, r := range []int{6, 19, 30} {
		must(b.SetCellValue("Attempts", fmt.Sprint("C", r), 24.5))
		must(b.SetCellStyle("Attempts", fmt.Sprint("A", r), fmt.Sprint("C", r), strike))
	}
	doubt("17-struck-through", "attempts.xlsx", "--trainee Trainee --attempt Attempt --response Time~(s) --measure time", b.bytes(), nil,
		"rows 6, 19 and 30 are struck through in red: they seem to be void")

	// Attempts were called 1-1, 1-2, 2-1 and so on; the spreadsheet made days of them.
	l = course(96, 6, 140, 0.1, numbered("P%d", 5)...)
	b = newBook("Data")
	b.log([]any{"Person", "Attempt", "Seconds"}, l, func(a at) []any {
		day := time.Date(2026, time.Month((a.n-1)%3+1), (a.n-1)/3+1, 0, 0, 0, 0, time.UTC)
		return []any{a.who, day, a.value}
	})
	b.format("B2", "B31", "d-mmm")
	doubt("17-attempts-became-days", "data.xlsx", "--trainee Person --attempt Attempt --response Seconds --measure time", b.bytes(), l,
		"column Attempt holds dates (1-Jan, 1-Feb and so on): session and attempt such as 1-1 and 1-2 became days")

	// Slips were noted only where there were any, or perhaps not looked for.
	l = with(course(97, 6, 100, 0.1, numbered("C%d", 7)...), func(a *at) { a.value = max(math.Round(a.value/10)-6, 0) })
	b = rowsBook("Slips", wideRows(headCells("Code", "Try %d", 6), l, func(a at) any {
		if a.value == 0 {
			return nil
		}
		return a.value
	})...)
	doubt("17-blank-slips", "slips.xlsx", "--trainee Code --measure count", b.bytes(), nil,
		"many cells between numbers are blank and there is no 0 at all: a blank may mean no slips or not counted")

	// The arms were typed by hand.
	l = course(98, 6, 150, 0.1, numbered("A%02d", 8)...)
	arms := []string{"Box", "VR", "box", "VR", "Box", "VR", "BOX", "VR"}
	b = newBook("Log")
	i := -1
	b.log([]any{"Code", "Arm", "Attempt", "Seconds"}, l, func(a at) []any {
		if a.n == 1 {
			i++
		}
		return []any{a.who, arms[i], a.n, a.value}
	})
	doubt("17-one-arm-three-ways", "arms.xlsx", "--trainee Code --arm Arm --attempt Attempt --response Seconds --measure time", b.bytes(), l,
		"column Arm: Box, box and BOX look like one arm")

	// A copy of the sheet, with three times put right, and nobody took the first one away.
	l = course(99, 6, 150, 0.1, numbered("L%d", 5)...)
	b = newBook("Log")
	b.log([]any{"trainee", "attempt", "seconds"}, l, longRow)
	b.next("Log (2)")
	b.log([]any{"trainee", "attempt", "seconds"}, l, func(a at) []any {
		if a.n == 4 && a.who != "L2" && a.who != "L3" {
			return []any{a.who, a.n, a.value + 10}
		}
		return longRow(a)
	})
	doubt("17-copy-of-the-sheet", "log.xlsx", "--trainee trainee --attempt attempt --response seconds --measure time", b.bytes(), nil,
		"sheets Log and Log (2) both hold the attempts, with other times in three rows")

	// The limit was known in minutes and given in minutes.
	l = course(100, 7, 150, 0.1, numbered("O%02d", 6)...)
	b = rowsBook("OR", wideRows(headCells("Resident", "Case %d", 7), l, value)...)
	doubt("17-limit-in-minutes", "cases.ods", "--trainee Resident --measure time --limit 5",
		office("17-limit-in-minutes", "cases.ods", b.bytes()), l,
		"all times are far above the limit of 5: the limit is in minutes, the times are in seconds")

	// Between text such as 1:38 one cell was taken for a time of day by the spreadsheet.
	l = course(101, 6, 150, 1, numbered("D%d", 6)...)
	b = rowsBook("Zeiten", wideRows(headCells("Name", "Lauf %d", 6), l, func(a at) any {
		if a.who == "D4" && a.n == 3 {
			return a.value * 60 / 86400
		}
		return fmt.Sprintf("%d:%02d", int(a.value)/60, int(a.value)%60)
	})...)
	b.format("D5", "D5", "hh:mm")
	doubt("17-one-cell-of-a-clock", "lauf.xlsx", "--trainee Name --measure time", b.bytes(), l,
		"D5: a cell with a time of day (hours and minutes) among text of minutes and seconds")
}

// seventeenthColumnar are Parquet files.
func seventeenthColumnar() {
	// A data lake's table of attempts, long, with types and a column that may be empty.
	type stored struct {
		Trainee string    `parquet:"trainee,dict"`
		Attempt int32     `parquet:"attempt"`
		Started time.Time `parquet:"started_at,timestamp(millisecond)"`
		Seconds float64   `parquet:"elapsed_s"`
		Note    *string   `parquet:"note,optional"`
	}
	l := course(111, 10, 150, 0.1, numbered("lab7-%02d", 12)...)
	var long []stored
	late := "began late"
	for i, a := range byRound(l) {
		s := stored{a.who, int32(a.n), time.Date(2026, 2, 2+a.n, 8, i%60, 0, 0, time.UTC), a.value, nil}
		if i%17 == 4 {
			s.Note = &late
		}
		long = append(long, s)
	}
	read("17-typed-columns", "attempts.parquet", "--trainee trainee --attempt attempt --response elapsed_s --measure time", parquetOf(long), l)

	// A data frame turned wide, with its row numbers and numbers of half the usual size.
	type frame struct {
		Code  string   `parquet:"code"`
		T1    *float32 `parquet:"try_1,optional"`
		T2    *float32 `parquet:"try_2,optional"`
		T3    *float32 `parquet:"try_3,optional"`
		T4    *float32 `parquet:"try_4,optional"`
		T5    *float32 `parquet:"try_5,optional"`
		Index int64    `parquet:"__index_level_0__"`
	}
	l = course(112, 5, 140, 0.5, numbered("Q%02d", 9)...)
	l = slices.DeleteFunc(l, func(a at) bool { return a.who == "Q04" && a.n == 5 || a.who == "Q08" && a.n > 3 })
	var frames []frame
	for i, s := range byTrainee(l) {
		f := frame{Code: s[0].who, Index: int64(i)}
		for k, to := range []**float32{&f.T1, &f.T2, &f.T3, &f.T4, &f.T5} {
			if k < len(s) {
				v := float32(s[k].value)
				*to = &v
			}
		}
		frames = append(frames, f)
	}
	read("17-wide-frame", "wide.parquet", "--trainee code --measure time", parquetOf(frames), l)

	// All attempts of a trainee as a list in one cell.
	type listed struct {
		Trainee string    `parquet:"trainee"`
		Seconds []float64 `parquet:"seconds,list"`
	}
	var lists []listed
	for _, s := range byTrainee(course(113, 6, 140, 0.1, numbered("T%d", 5)...)) {
		row := listed{Trainee: s[0].who}
		for _, a := range s {
			row.Seconds = append(row.Seconds, a.value)
		}
		lists = append(lists, row)
	}
	refuse("17-lists-in-cells", "lists.parquet", "--trainee trainee --response seconds --measure time", parquetOf(lists),
		"column seconds holds a list of numbers in each cell: write a row an attempt")
}

// marksOf makes up ratings: each subject has a level, each rater a leaning. Scores go up by the step.
func marksOf(seed uint64, low, high, step float64, subjects, raters, items []string) [][4]string {
	r := rand.New(rand.NewPCG(170, seed))
	lean := map[string]float64{}
	for _, rater := range raters {
		lean[rater] = r.NormFloat64() * (high - low) / 12
	}
	var out [][4]string
	for _, s := range subjects {
		level := low + (high-low)*(0.2+0.6*r.Float64())
		for _, item := range items {
			for _, rater := range raters {
				v := level + lean[rater] + r.NormFloat64()*(high-low)/9
				v = min(max(math.Round(v/step)*step, low), high)
				out = append(out, [4]string{s, rater, item, fmt.Sprint(v)})
			}
		}
	}
	return out
}

// ratingRows is a table with a row a subject and a column a rater, all cells text.
func ratingRows(head []string, ratings [][4]string) [][]string {
	out := [][]string{head}
	for i, r := range ratings {
		if i == 0 || r[0] != ratings[i-1][0] {
			out = append(out, []string{r[0]})
		}
		out[len(out)-1] = append(out[len(out)-1], r[3])
	}
	return out
}

// typed writes rows into a workbook, numbers as numbers.
func typed(sheet string, rows [][]string) *book {
	b := newBook(sheet)
	for i, row := range rows {
		var cells []any
		for _, text := range row {
			var v float64
			if text == "" {
				cells = append(cells, nil)
			} else if n, err := fmt.Sscanf(text, "%g", &v); n == 1 && err == nil && fmt.Sprint(v) == text {
				cells = append(cells, v)
			} else {
				cells = append(cells, text)
			}
		}
		b.row(fmt.Sprint("A", i+1), cells...)
	}
	return b
}

// seventeenthRatings are tables of ratings.
func seventeenthRatings() {
	one := []string{""}
	// Three examiners looked at twelve films; a form sent a row a rating.
	m := marksOf(1, 1, 5, 1, numbered("film-%02d", 12), []string{"E1", "E2", "E3"}, one)
	rated(read("17-films-a-row-a-rating", "ratings.csv", "--subject film --rater examiner --score mark --scale ordinal",
		lines("sent,film,examiner,mark", m, func(r [4]string) string {
			return fmt.Sprintf("2026-03-1%s 16:0%s,%s,%s,%s", r[1][1:], r[3], r[0], r[1], r[3])
		}), nil), m)

	// The mean of the examiners stands beside them.
	m = marksOf(2, 20, 100, 1, numbered("S%d", 9), []string{"Exam A", "Exam B", "Exam C"}, one)
	rows := ratingRows([]string{"Station", "Exam A", "Exam B", "Exam C", "Mean"}, m)
	for i, row := range rows[1:] {
		sum := 0.0
		for _, cell := range row[1:] {
			var v float64
			fmt.Sscan(cell, &v)
			sum += v
		}
		rows[i+1] = append(row, fmt.Sprint(math.Round(sum/3*10)/10))
	}
	rated(doubt("17-mean-beside-examiners", "osce.xlsx", "--wide --subject Station", typed("Marks", rows).bytes(), nil,
		"column Mean is the mean of the three examiners, not a fourth one"), m)

	// Beside the examiners stands the number of the trainee who was filmed.
	m = marksOf(3, 1, 10, 1, numbered("clip%02d", 10), []string{"R1", "R2", "R3", "R4"}, one)
	rows = ratingRows([]string{"clip", "R1", "R2", "R3", "R4"}, m)
	text := ""
	for i, row := range rows {
		beside := "trainee"
		if i > 0 {
			beside = fmt.Sprint((i + 1) / 2)
		}
		text += strings.Join(append([]string{row[0], beside}, row[1:]...), ";") + "\n"
	}
	rated(doubt("17-number-beside-examiners", "clips.csv", "--wide --subject clip", []byte(text), nil,
		"column trainee holds the numbers 1 to 5 of trainees and is no rater"), m)

	// Passed or not, in the spelling of whoever typed.
	m = marksOf(4, 0, 1, 1, numbered("T%02d", 14), []string{"North", "South"}, one)
	spelled := 0
	for i := range m {
		m[i][3] = map[string]string{"0": "no", "1": "yes"}[m[i][3]]
	}
	rated(doubt("17-yes-in-three-spellings", "checks.csv", "--subject trainee --rater site --score passed",
		lines("trainee,site,passed", m, func(r [4]string) string {
			spelled++
			word := r[3]
			switch {
			case r[1] == "South" && spelled%3 == 0:
				word = strings.ToUpper(word)
			case r[1] == "South":
				word = strings.ToUpper(word[:1]) + word[1:]
			}
			return r[0] + "," + r[1] + "," + word
		}), nil, "column passed: yes, Yes and YES (and no, No, NO) are one answer each in several spellings"), m)

	// One examiner was called away: NA in a column of numbers.
	m = marksOf(5, 0, 30, 1, numbered("P%d", 11), []string{"Ex 1", "Ex 2", "Ex 3"}, one)
	rows = ratingRows([]string{"Performance", "Ex 1", "Ex 2", "Ex 3"}, m)
	rows[7][2] = "NA"
	rated(read("17-called-away", "form.xlsx", "--wide --subject Performance --scale interval", typed("Form", rows).bytes(), nil),
		slices.DeleteFunc(m, func(r [4]string) bool { return r[0] == "P7" && r[1] == "Ex 2" }))

	// Four items of a German form, half marks with commas.
	m = marksOf(6, 1, 6, 0.5, numbered("Video %d", 8), []string{"Prüfer 1", "Prüfer 2"}, []string{"Haltung", "Tempo", "Ablauf", "Gewebe"})
	rated(read("17-german-items", "bogen.csv", "--subject Video --rater Prüfer --item Punkt --score Note --scale interval",
		append([]byte("\xef\xbb\xbf"), crlf(lines("Video;Prüfer;Punkt;Note", m, func(r [4]string) string {
			return r[0] + ";" + r[1] + ";" + r[2] + ";" + strings.ReplaceAll(r[3], ".", ",")
		}))...), nil), m)

	// An open document; every rater missed some.
	m = marksOf(7, 1, 7, 1, numbered("K%02d", 15), []string{"Anna-Lab", "Ben-Lab", "Cleo-Lab"}, one)
	rows = ratingRows([]string{"Kandidat", "Anna-Lab", "Ben-Lab", "Cleo-Lab"}, m)
	for _, at := range [][2]int{{3, 1}, {6, 3}, {10, 2}, {14, 3}} {
		rows[at[0]][at[1]] = ""
	}
	rated(read("17-some-not-rated", "bewertung.ods", "--wide --subject Kandidat --scale interval",
		office("17-some-not-rated", "bewertung.ods", typed("Bewertung", rows).bytes()), nil),
		without(m, func(r [4]string) bool {
			return r[0] == "K03" && r[1] == "Anna-Lab" || r[0] == "K06" && r[1] == "Cleo-Lab" ||
				r[0] == "K10" && r[1] == "Ben-Lab" || r[0] == "K14" && r[1] == "Cleo-Lab"
		}))

	// Raters below each other, performances across.
	m = marksOf(8, 0, 20, 1, numbered("perf %d", 8), []string{"rater A", "rater B", "rater C"}, one)
	rows = ratingRows([]string{"performance", "rater A", "rater B", "rater C"}, m)
	side := make([][]string, 4)
	for _, row := range rows {
		for i, cell := range row {
			side[i] = append(side[i], cell)
		}
	}
	rated(read("17-raters-downwards", "side.xlsx", "--transposed --wide --subject performance --scale interval", typed("A", side).bytes(), nil), m)

	// One examiner's code was typed in two ways.
	m = marksOf(9, 1, 5, 1, numbered("sim%d", 10), []string{"EX-A", "EX-B", "EX-C"}, one)
	typedAs := 0
	rated(doubt("17-one-examiner-two-codes", "examiners.tsv", "--subject run --rater examiner --score grs --scale ordinal",
		lines("run\texaminer\tgrs", m, func(r [4]string) string {
			typedAs++
			rater := r[1]
			if rater == "EX-B" && typedAs > 15 {
				rater = "ex-b"
			}
			return r[0] + "\t" + rater + "\t" + r[3]
		}), nil, "column examiner: EX-B and ex-b look like one examiner"), m)
}

// seventeenthStudies are folders with a study file.
func seventeenthStudies() {
	head := "trainee,attempt,seconds"
	folder := func(t *truth, yaml string, files map[string][]byte) {
		t.files = map[string][]byte{"study.yaml": []byte(yaml)}
		for name, data := range files {
			t.files[name] = data
		}
	}
	between := func(l []at, from, to int) []at {
		return without(l, func(a at) bool { return a.n < from || a.n > to })
	}

	// Three afternoons, three files, three programs.
	l := course(151, 9, 160, 0.1, numbered("T%02d", 6)...)
	second := newBook("Log")
	second.log([]any{"trainee", "attempt", "seconds"}, between(l, 4, 6), longRow)
	folder(read("17-three-afternoons", "", "", nil, l), `title: Loop and knot
purpose: research
decides: the course leader
tasks: [{name: knot, measure: time, column: seconds, unit: s, better: lower, limit: 300}]
attempts:
  files: [first.csv, second.xlsx, third.tsv]
  files_are: session
`, map[string][]byte{
		"first.csv":   lines(head, between(l, 1, 3), plain(",", oneDigit)),
		"second.xlsx": second.bytes(),
		"third.tsv":   crlf(lines("trainee\tattempt\tseconds", between(l, 7, 9), plain("\t", oneDigit))),
	})

	// Experts were timed in minutes, and the study file says so.
	l = course(152, 8, 150, 0.1, numbered("N%d", 7)...)
	experts := rounded(course(153, 3, 58, 0.6, numbered("X%d", 5)...), 0.6)
	t := read("17-experts-timed-in-minutes", "", "", nil, l)
	t.Experts = experts
	folder(t, `title: Peg board
purpose: formative
decides: the head of the lab
tasks: [{name: pegs, measure: time, column: time, unit: s, better: lower, limit: 300}]
attempts: {file: log.csv}
experts: {file: experts.csv, times: minutes}
`, map[string][]byte{
		"log.csv": lines("trainee,attempt,time", l, plain(",", oneDigit)),
		"experts.csv": lines("expert,attempt,time", experts,
			plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) })),
	})

	// Two labs: one writes commas, and the study file says so.
	l = course(154, 6, 150, 0.1, "K01", "K02", "K03", "L01", "L02", "L03", "L04")
	folder(read("17-two-labs", "", "", nil, l), `title: Vein on a gel block
purpose: research
decides: both heads of the labs
tasks: [{name: vein, measure: time, column: seconds, unit: s, better: lower}]
attempts:
  files: [coast.csv, hills.csv]
  per_file: {hills.csv: {decimal: comma}}
`, map[string][]byte{
		"coast.csv": lines(head, l[:18], plain(",", oneDigit)),
		"hills.csv": lines("trainee;attempt;seconds", l[18:], plain(";", oneDigitComma)),
	})

	// Two assistants typed the same afternoon, and their times differ.
	l = course(155, 8, 150, 0.1, numbered("T%02d", 5)...)
	again := with(between(l, 4, 8), func(a *at) {
		if a.n == 4 {
			a.value += 2.4
		}
	})
	folder(doubt("17-an-afternoon-typed-twice", "", "", nil, nil,
		"attempt 4 of every trainee is in both files with other times"), `title: Knots
purpose: formative
decides: the tutor
tasks: [{name: knots, measure: time, column: seconds, unit: s, better: lower, limit: 300}]
attempts:
  files: [typed-by-k.csv, typed-by-m.csv]
`, map[string][]byte{
		"typed-by-k.csv": lines(head, between(l, 1, 4), plain(",", oneDigit)),
		"typed-by-m.csv": lines(head, again, plain(",", oneDigit)),
	})

	// The log was downloaded once more and has another name now.
	l = course(156, 6, 140, 0.1, numbered("T%d", 4)...)
	folder(refuse("17-downloaded-again", "", "", nil, "study.yaml names log.csv, and the folder has only log (1).csv"), `title: Needle guide
purpose: research
decides: the head of the lab
tasks: [{name: needle, measure: time, column: seconds, unit: s, better: lower, limit: 300}]
attempts: {file: log.csv}
`, map[string][]byte{"log (1).csv": lines(head, l, plain(",", oneDigit))})
}
