package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
)

// The tenth set was made after what the ninth showed was mended; half of it is plain.
func tenth() {
	derived10()
	marked10()
	shaped10()
	plain10()
}

func derived10() {
	l := log(400, 7, "D1", "D2", "D3", "D4", "D5")
	flags := "--trainee Wer --attempt Nr --response Wert --measure time"
	d := func(name, about string, l []at, f func(a at) string) {
		doubt("10-"+name, "log.csv", flags, lines("Wer,Nr,Wert", l, f), nil, about)
	}
	with2 := func(name, head, about string, l []at, f func(a at) string) {
		doubt("10-"+name, "log.csv", flags, lines("Wer,Nr,Wert,"+head, l, f), nil, about)
	}
	best := map[string]float64{}
	bests := with(l, func(a *at) {
		if b, ok := best[a.who]; !ok || a.value < b {
			best[a.who] = a.value
		}
		a.value = best[a.who]
	})
	d("best-so-far", "Wert is the best so far, not the attempt", bests, plain(",", point))
	sum, n := map[string]float64{}, map[string]int{}
	means := with(l, func(a *at) {
		sum[a.who] += a.value
		n[a.who]++
		a.value = math.Round(sum[a.who]/float64(n[a.who])*10) / 10
	})
	with2("mean-so-far", "Zeit", "Wert is the mean so far of Zeit", means, func(a at) string {
		for _, b := range l {
			if b.who == a.who && b.n == a.n {
				return plain(",", point)(a) + "," + point(b.value)
			}
		}
		return ""
	})
	d("score-as-time", "Wert is a score: it rises", with(l, func(a *at) { a.value = math.Round(220 - a.value) }), plain(",", point))
	d("log-seconds", "Wert is a logarithm", l, plain(",", func(v float64) string { return fmt.Sprintf("%.3f", math.Log(v)) }))
	d("speed", "Wert is one through seconds", l, plain(",", func(v float64) string { return fmt.Sprintf("%.5f", 1/v) }))
	d("session-length", "Wert is how long the session lasted", log(401, 8, "D1", "D2", "D3", "D4"), func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", 600+((a.n-1)/4)*60+int(a.who[1])%3*20)
	})
	d("one-plus-ten", "D3 has the times of D1 and 10 s", with(l, func(a *at) {
		if a.who == "D3" {
			a.value = math.Round((l[a.n-1].value+10)*10) / 10
		}
	}), plain(",", point))
	d("one-reversed", "the attempts of D2 are numbered backwards", l, func(a at) string {
		if a.who == "D2" {
			a.n = 8 - a.n
		}
		return plain(",", point)(a)
	})
	d("one-in-minutes", "D4 is in minutes", l, func(a at) string {
		if a.who == "D4" {
			return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/60)
		}
		return plain(",", point)(a)
	})
	d("first-in-minutes", "the first attempt of everybody is in minutes", l, func(a at) string {
		if a.n == 1 {
			return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/60)
		}
		return plain(",", point)(a)
	})
	with2("session-in-ms", "Tag", "day 2 is in milliseconds", l, func(a at) string {
		if a.n > 4 {
			return fmt.Sprintf("%s,%d,%.0f,2", a.who, a.n, a.value*1000)
		}
		return plain(",", point)(a) + ",1"
	})
	with2("errors-swapped-for-one", "Fehler", "Wert and Fehler changed places for D5", whole(l), func(a at) string {
		e := 2 + (a.n*3+int(a.who[1]))%3
		if a.who == "D5" {
			return fmt.Sprint(a.who, ",", a.n, ",", e, ",", a.value)
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", e)
	})
	with2("two-columns-of-parts", "Teil 2,Summe", "Wert is the first part", l, func(a at) string {
		p := math.Round((30+float64((a.n*17+int(a.who[1])*5)%23))*10) / 10
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", p, ",", math.Round((a.value+p)*10)/10)
	})
	with2("points-beside", "Abzug,Ergebnis", "Ergebnis is Wert with Abzug", whole(l), func(a at) string {
		p := 5 * ((a.n + int(a.who[1])) % 3)
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", p, ",", int(a.value)+p)
	})
	with2("elapsed-beside", "Uhr", "Uhr is a stop-watch that runs on; Wert disagrees with it at D1 5", whole(l), func(a at) string {
		t := 0.0
		for _, b := range whole(l) {
			if b.who == a.who && b.n <= a.n {
				t += b.value
			}
		}
		if a.who == "D1" && a.n == 5 {
			a.value += 30
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", t)
	})
	with2("second-unit-cs", "cs", "Wert is cut to seconds, cs has all", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%d,%.0f", a.who, a.n, int(a.value), a.value*100)
	})
	doubt("10-limit-too-high", "log.csv", flags+" --limit 300", lines("Wer,Nr,Wert", with(l, func(a *at) { a.value = min(a.value, 120) }), plain(",", point)), nil, "attempts were stopped at 120, not 300")
	doubt("10-score-said-time-head", "log.csv", "--trainee Wer --attempt Nr --response Wert", lines("Wer,Nr,Wert", l, plain(",", point)), nil, "Wert is a time, read as a score of which more is better")
	doubt("10-z-scores", "log.csv", "--trainee Wer --attempt Nr --response Wert --measure score", lines("Wer,Nr,Wert", l, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", (v-105)/30) })), nil, "standard scores of times: less is better")
	doubt("10-difference-to-before", "log.csv", flags, lines("Wer,Nr,Wert", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%.1f", a.who, a.n, 40-a.value/3)
	}), nil, "differences, some of them below zero")
	all[len(all)-1].Verdict = "refuse"
	doubt("10-unknown-people", "log.csv", flags, lines("Wer,Nr,Wert", l, func(a at) string {
		if a.who == "D5" {
			a.who = ""
		}
		return plain(",", point)(a)
	}), nil, "nobody knows whose the last attempts are")
}

func marked10() {
	l := log(410, 6, "M1", "M2", "M3", "M4")
	d := func(name, head, about string, more func(a at) string) {
		file9(name, head, about, l, more)
		all[len(all)-1].Folder = "10-" + name
	}
	at23 := func(word string) func(a at) string {
		return func(a at) string {
			if a.who == "M2" && a.n == 3 {
				return word
			}
			return ""
		}
	}
	d("mark-emoji", "?", "a mark at one attempt", at23("⚠"))
	d("mark-number", "Flag", "a number at one attempt", at23("3"))
	d("mark-check", "ok", "one attempt lacks the mark that all others have", func(a at) string {
		if a.who == "M2" && a.n == 3 {
			return ""
		}
		return "✓"
	})
	d("mark-initials", "geprüft", "not checked at two attempts", func(a at) string {
		if a.who == "M2" && a.n < 3 {
			return ""
		}
		return "hb"
	})
	d("mark-version", "Protokoll", "two versions of the protocol", func(a at) string {
		if a.n < 3 {
			return "v1"
		}
		return "v2"
	})
	d("mark-length", "Faden", "two threads, by number", func(a at) string { return []string{"3-0", "4-0"}[(a.n+int(a.who[1]))%2] })
	d("mark-camera", "Optik", "0 and 30 degrees", func(a at) string { return []string{"0", "30"}[a.n/4] })
	d("mark-glove", "Handschuh", "with and without", func(a at) string { return []string{"mit", "ohne"}[(a.n*a.n+int(a.who[1]))%2] })
	d("mark-tries", "Versuche", "some took two tries", func(a at) string {
		if a.n == 1 {
			return "2"
		}
		return "1"
	})
	d("mark-site", "Ort", "M3 worked at two places", func(a at) string {
		if a.who == "M3" && a.n > 3 || a.who == "M4" {
			return "Süd"
		}
		return "Nord"
	})
	d("mark-result", "Knoten hält", "nein at two attempts", func(a at) string {
		if a.n == 2 && a.who < "M3" {
			return "nein"
		}
		return "ja"
	})
	d("mark-quality", "Güte", "a rating by letters", func(a at) string { return []string{"A", "B", "C"}[(a.n*a.n+int(a.who[1])*3)%3] })
	b := newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.style(&excelize.Style{Font: &excelize.Font{Italic: true}}, "A8", "C8")
	doubt("10-book-italic-row", "log.xlsx", usual, b.bytes(), nil, "a row is slanted")
	b = newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.next("late")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, log(411, 3, "M5"), longRow)
	must(b.SetSheetVisible("late", false))
	doubt("10-book-hidden-sheet", "log.xlsx", usual, b.bytes(), nil, "a hidden sheet has one more trainee")
	b = newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.style(&excelize.Style{Border: []excelize.Border{{Type: "left", Style: 5, Color: "000000"}, {Type: "right", Style: 5, Color: "000000"}}}, "C8", "C9")
	doubt("10-book-boxed-cells", "log.xlsx", usual, b.bytes(), nil, "two times have a box around them")
}

func shaped10() {
	l := log(420, 6, "S1", "S2", "S3", "S4")
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
	name := "--trainee Name --response Run --measure time"
	doubt("10-wide-star-head", "wide.csv", name, table("Name,Run 1,Run 2,Run 3*,Run 4,Run 5,Run 6", value), nil, "Run 3 has a star in its name")
	doubt("10-wide-test-head", "wide.csv", name, table("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6 (test)", value), nil, "Run 6 was the test")
	doubt("10-wide-hands-in-heads", "wide.csv", name, table("Name,Run 1 L,Run 2 R,Run 3 L,Run 4 R,Run 5 L,Run 6 R", value), nil, "left and right hand in turn")
	doubt("10-wide-group-rows", "wide.csv", name, func() []byte {
		rows := strings.SplitAfter(string(table("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6", value)), "\n")
		return []byte(rows[0] + "Gruppe A,,,,,,\n" + rows[1] + rows[2] + "Gruppe B,,,,,,\n" + rows[3] + rows[4])
	}(), nil, "rows between say which group")
	doubt("10-wide-one-column-minutes", "wide.csv", name, table("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6", func(k, n int) string {
		if n == 2 {
			return fmt.Sprintf("%.2f", l[k*6+n].value/60)
		}
		return value(k, n)
	}), nil, "Run 3 is in minutes")
	doubt("10-wide-column-copied", "wide.csv", name, table("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6", func(k, n int) string {
		if n == 4 {
			n = 3
		}
		return value(k, n)
	}), nil, "Run 5 is a copy of Run 4")
	doubt("10-wide-column-shifted", "wide.csv", name, table("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6", func(k, n int) string {
		if n == 3 {
			k = (k + 1) % 4
		}
		return value(k, n)
	}), nil, "Run 4 was sorted apart from the names, which cannot be seen")
	all = all[:len(all)-1]
	doubt("10-wide-rank-last", "wide.csv", name, table("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6", func(k, n int) string {
		if n == 5 {
			return fmt.Sprint(1 + (k*3)%4)
		}
		return value(k, n)
	}), nil, "Run 6 holds ranks")
	doubt("10-columns-with-mean", "log.csv", "--columns-are trainee --attempt Run --response Time --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Run,S1,S2,S3,S4,S9\n")
		for n := range 6 {
			s := 0.0
			fmt.Fprint(&b, n+1)
			for k := range 4 {
				fmt.Fprint(&b, ",", l[k*6+n].value)
				s += l[k*6+n].value
			}
			fmt.Fprintf(&b, ",%.1f\n", s/4)
		}
		return b.Bytes()
	}(), nil, "S9 is the mean of the others")
	t := doubt("10-attempts-decimal", "log.csv", usual, lines("Trainee,Attempt,Seconds", l, func(a at) string { return fmt.Sprintf("%s,%d.%d,%v", a.who, (a.n-1)/3+1, (a.n-1)%3+1, a.value) }), nil, "session and attempt in one number")
	_ = t
	doubt("10-two-head-lines", "log.csv", "--trainee Trainee --attempt Attempt --response Time --measure time", append([]byte("Trainee,Attempt,Time\nTeilnehmer,Versuch,Zeit (min)\n"), lines("", l, func(a at) string { return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/60) })[1:]...), nil, "the second line of names says minutes")
	doubt("10-part-two-below", "log.csv", usual, append(lines("Trainee,Attempt,Seconds", l, plain(",", point)), []byte("Part 2 (left hand),,\nS1,7,140.2\nS2,7,151.8\nS3,7,133.9\nS4,7,160.4\n")...), nil, "a row says that what follows is of the left hand")
	doubt("10-limit-in-title", "log.csv", usual, append([]byte("Zeitlimit 150 s\n\n"), lines("Trainee,Attempt,Seconds", with(l, func(a *at) { a.value = min(a.value, 150) }), plain(",", point))...), nil, "the title says that attempts were stopped at 150 s")
}

// plain10 are files about which nothing is to be asked, or what is asked has its flag.
func plain10() {
	heads := [][3]string{{"Trainee", "Attempt", "Seconds"}, {"Name", "Versuch", "Sekunden"}, {"Code", "Essai", "Durée_s"}, {"ID", "Trial", "time_s"}, {"Osoba", "Pokus", "Čas"}}
	seps := []string{",", ";", "\t", "|"}
	people := [][]string{{"001", "002", "003", "004"}, {"A. Berg", "C. Dahl", "E. Falk"}, {"p-1", "p-2", "p-3", "p-4", "p-5"}, {"Ä1", "Ö2", "Ü3", "ß4"}}
	for i := range 20 {
		h, sep, who := heads[i%5], seps[i%4], people[(i/2)%4]
		l := log(500+i, 5+i%4, who...)
		number, head := point, strings.Join(h[:], sep)
		if sep == ";" {
			number = comma
		}
		flags := fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", h[0], h[1], h[2])
		switch i % 5 {
		case 1:
			l = whole(l)
		case 2:
			l, number = whole(l), minutes("%[1]d:%02[2]d")
		case 3:
			number = minutes("%d:%02d.%d")
		}
		data := lines(head, l, plain(sep, number))
		switch i % 6 {
		case 1:
			data = crlf(data)
		case 3:
			data = append([]byte("\xef\xbb\xbf"), data...)
		case 5:
			var out []byte
			for _, u := range append([]uint16{0xfeff}, utf16.Encode([]rune(string(data)))...) {
				out = append(out, byte(u), byte(u>>8))
			}
			data = out
		}
		read(fmt.Sprintf("10-plain-%02d", i), "log.csv", flags, data, l)
	}
	l := log(530, 6, "R1", "R2", "R3", "R4", "R5")
	p := func(name, head string, more func(a at) string) {
		read("10-beside-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds,"+head, l, row8(more)), l)
	}
	p("force", "Force", func(a at) string { return fmt.Sprintf("%.1f", 3+float64((a.n*29+int(a.who[1])*7)%50)/10) })
	p("moves", "Moves", func(a at) string { return fmt.Sprint(60 + (a.n*41+int(a.who[1])*13)%37) })
	p("points", "Points", func(a at) string { return fmt.Sprint(10 + (a.n*3+int(a.who[1])*7)%9) })
	p("cohort", "Cohort", func(a at) string { return []string{"A", "B"}[int(a.who[1])%2] })
	p("height", "Height cm", func(a at) string { return fmt.Sprint(160 + int(a.who[1])%7*4) })
	p("id-each", "uuid", func(a at) string { return fmt.Sprintf("%08x", (a.n*7919+int(a.who[1])*104729)%99999999) })
	p("saved", "Saved", func(a at) string { return fmt.Sprintf("%d.4.2026 %d:%02d", 12+a.n, 8+a.n%5, (a.n*13)%60) })
	p("blank-column", "Notes", func(a at) string { return "" })
	t := doubt("10-way-limit-word", "log.csv", usual+" --limit 200", lines("Trainee,Attempt,Seconds", l, func(a at) string {
		if a.who == "R2" && a.n == 1 {
			return "R2,1,TL"
		}
		return plain(",", point)(a)
	}), with(l, func(a *at) {
		if a.who == "R2" && a.n == 1 {
			a.value, a.outcome = 200, "timeout"
		}
	}), "TL is not known")
	t.Way = words("--code TL=timeout")
	t = doubt("10-way-wide-two-kinds", "wide.csv", "--trainee Name --response sec --measure time", []byte("Name,sec1,err1,sec2,err2,sec3,err3\nR1,120.5,3,101.5,2,98,1\nR2,130,2,111.1,1,99.5,0\nR3,125.5,4,104,2,93.5,2\n"), []at{{"R1", 1, 120.5, "done"}, {"R1", 2, 101.5, "done"}, {"R1", 3, 98, "done"}, {"R2", 1, 130, "done"}, {"R2", 2, 111.1, "done"}, {"R2", 3, 99.5, "done"}, {"R3", 1, 125.5, "done"}, {"R3", 2, 104, "done"}, {"R3", 3, 93.5, "done"}}, "")
	t.Verdict = "read"
	t = doubt("10-way-days", "log.csv", "--trainee T --date D --response S --measure time", lines("T,D,S", l, func(a at) string { return fmt.Sprintf("%s,0%d/0%d/2026,%v", a.who, 1+a.n, 3, a.value) }), l, "day or month first")
	t.Way = words("--dates day-first")
}
