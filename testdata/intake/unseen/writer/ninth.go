package main

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

// The ninth set was made after what the eighth showed was mended.
func ninth() {
	words9()
	beside9()
	tables9()
	cells9()
	codes9()
	books9()
	ratings9()
	plain9()
}

// file9 is a doubt in the usual long form with one more column.
func file9(name, column, about string, l []at, more func(a at) string) {
	doubt("9-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds,"+column, l, row8(more)), nil, about)
}

func words9() {
	for i, c := range []struct{ name, sep, who, n, v, more, said string }{
		{"ko", ",", "참가자", "시도", "시간(초)", "주손", "오른손"},
		{"fi", ";", "Osallistuja", "Yritys", "Aika (s)", "Kätisyys", "oikea"},
		{"da", ";", "Deltager", "Forsøg", "Tid (sek)", "Hånd", "højre"},
		{"hu", ";", "Résztvevő", "Kísérlet", "Idő (mp)", "Kéz", "jobb"},
		{"ro", ";", "Participant", "Încercare", "Timp (s)", "Mâna", "dreapta"},
		{"uk", ";", "Учасник", "Спроба", "Час, с", "Рука", "права"},
		{"vi", ",", "Học viên", "Lần", "Thời gian (giây)", "Tay", "phải"},
		{"th", ",", "ผู้เรียน", "ครั้งที่", "เวลา (วินาที)", "มือ", "ขวา"},
		{"hr", ";", "Polaznik", "Pokušaj", "Vrijeme (s)", "Ruka", "desna"},
		{"fa", ",", "کارآموز", "نوبت", "زمان (ثانیه)", "دست", "راست"},
	} {
		l := log(300+i, 6, c.name+"1", c.name+"2", c.name+"3", c.name+"4")
		number := comma
		if c.sep == "," {
			number = point
		}
		tilde := func(s string) string { return strings.ReplaceAll(s, " ", "~") }
		read("9-lang-"+c.name, "log.csv", fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", tilde(c.who), tilde(c.n), tilde(c.v)),
			lines(strings.Join([]string{c.who, c.n, c.v, c.more}, c.sep), l, func(a at) string { return plain(c.sep, number)(a) + c.sep + c.said }), l)
	}
	l := log(311, 6, "N1", "N2", "N3", "N4")
	for _, c := range []struct{ name, head, word string }{{"fi", "Huomautus", "lanka katkesi, aloitettiin alusta"}, {"hu", "Megjegyzés", "ismételve"}, {"ko", "비고", "재시도"}, {"da", "Note", "stopuret glemt"}} {
		file9("remark-"+c.name, c.head, "a remark says that an attempt was repeated or went wrong", l, func(a at) string {
			if a.who == "N3" && a.n == 4 {
				if strings.Contains(c.word, ",") {
					return `"` + c.word + `"`
				}
				return c.word
			}
			return ""
		})
	}
	doubt("9-remark-wide", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6,Anmerkung\n")
		for k := range 4 {
			b.WriteString(l[k*6].who)
			for n := range 6 {
				fmt.Fprint(&b, ",", l[k*6+n].value)
			}
			b.WriteString([]string{",", ",", ",ab 4 mit anderer Nadel", ","}[k] + "\n")
		}
		return bytes.Clone(b.Bytes())
	}(), nil, "a remark says that three runs were made with another needle")
}

func beside9() {
	l := log(320, 6, "C1", "C2", "C3", "C4")
	w := whole(l)
	usual3 := func(head string) string {
		h := strings.Split(head, ",")
		return fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", h[0], h[1], h[2])
	}
	d := func(name, head, about string, l []at, row func(a at) string) *truth {
		return doubt("9-"+name, "log.csv", usual3(head), lines(head, l, row), nil, about)
	}
	d("min-and-sec-columns", "Id,Nr,Sek,Min", "minutes stand in a column of their own", w, func(a at) string {
		return fmt.Sprintf("%s,%d,%d,%d", a.who, a.n, int(a.value)%60, int(a.value)/60)
	})
	d("min-sec-swapped-names", "Id,Nr,B,A", "A are minutes and B seconds", w, func(a at) string {
		return fmt.Sprintf("%s,%d,%d,%d", a.who, a.n, int(a.value)%60, int(a.value)/60)
	})
	d("sec-and-hundredths", "Id,Nr,Sec,Hun", "hundredths stand in a column of their own", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%d,%02d", a.who, a.n, int(a.value), int(math.Round(a.value*100))%100)
	})
	d("two-examiners-and-mean", "Id,Nr,E1,E2,M", "M is the mean of two watches, E1 is one", l, func(a at) string {
		x, y := math.Round((a.value-1.4)*10)/10, math.Round((a.value+1.4)*10)/10
		return fmt.Sprint(a.who, ",", a.n, ",", x, ",", y, ",", a.value)
	})
	d("factor-column", "Id,Nr,Zahl,Faktor", "Faktor says by what to multiply", l, func(a at) string {
		if a.who > "C2" {
			return fmt.Sprintf("%s,%d,%.0f,0.1", a.who, a.n, a.value*10)
		}
		return fmt.Sprintf("%s,%d,%v,1", a.who, a.n, a.value)
	})
	d("corrected-by-hand-blank-else", "Id,Nr,Zeit,Neu", "Neu corrects Zeit where it is filled", l, func(a at) string {
		if a.n == 2 && a.who < "C3" {
			return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", a.value+30)
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",")
	})
	d("m-ss-and-seconds-disagree", "Id,Nr,Zeit,Sek", "Zeit and Sek disagree in three rows", w, func(a at) string {
		v := a.value
		if a.n == 3 && a.who != "C2" {
			v += 60
		}
		return fmt.Sprintf("%s,%d,%d:%02d,%v", a.who, a.n, int(a.value)/60, int(a.value)%60, v)
	})
	d("net-of-pause", "Id,Nr,Brutto,Pause,Netto", "Brutto holds a pause", w, func(a at) string {
		p := 5 + (a.n*7+int(a.who[1]))%11
		return fmt.Sprintf("%s,%d,%d,%d,%d", a.who, a.n, int(a.value)+p, p, int(a.value))
	})
	d("until-limit", "Id,Nr,Wert,Zeit", "Wert is what was left of 240 s for one task and of 300 s for another", l, func(a at) string {
		limit := 300.0
		if a.n%2 == 0 {
			limit = 240
		}
		return fmt.Sprint(a.who, ",", a.n, ",", math.Round((limit-a.value)*10)/10, ",", a.value)
	})
	d("per-knot", "Id,Nr,Zeit,Knoten", "two or three knots in one time", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", 2+a.n%2)
	})
	d("limit-column", "Id,Nr,Zeit,Limit", "two limits", l, func(a at) string { return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", 180+60*(a.n%2)) })
	d("slip-column", "Id,Nr,Zeit,Rutsch", "1 says that the knot slipped", l, func(a at) string {
		if a.n == 2 {
			return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",1")
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",0")
	})
	d("watch-names-many", "Id,Nr,Zeit,Uhr", "eight watches, in no order", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",U", (a.n*5+int(a.who[1])*3)%8)
	})
	d("model-version", "Id,Nr,Zeit,v", "the model was changed after three attempts", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", map[bool]string{true: "1.0", false: "2.0"}[a.n < 4])
	})
	d("task-letter-unbalanced", "Id,Nr,Zeit,T", "tasks a and b as it happened", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", string("aabab"[(a.n*3+int(a.who[1]))%5]))
	})
	d("role-numbers", "Id,Nr,Zeit,Rolle", "2 are teachers", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", map[bool]string{true: "2", false: "1"}[a.who == "C4"])
	})
	d("level-expert-polish", "Id,Nr,Zeit,Poziom", "ekspert is no trainee", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", map[bool]string{true: "ekspert", false: "nowicjusz"}[a.who == "C4"])
	})
	d("tie-break-second-time", "Id,Nr,Zeit,Wiederholung", "a second time where the first did not count", l, func(a at) string {
		if a.n == 3 {
			return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", math.Round((a.value-7.3)*10)/10)
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",")
	})
	d("errors-and-seconds-swapped", "Id,Nr,Zeit,Fehler", "in the second half times and errors changed places", w, func(a at) string {
		e := (a.n + int(a.who[1])) % 4
		if a.n > 4 {
			return fmt.Sprint(a.who, ",", a.n, ",", e+1, ",", a.value)
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",", e)
	})
	d("rate-not-time", "Id,Nr,Zeit,Ringe", "Zeit is rings a minute: more is better", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%.1f,12", a.who, a.n, 720/a.value)
	})
	d("rank-not-time", "Id,Nr,Platz,Zeit", "Platz is a rank", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%d,%v", a.who, a.n, 1+(int(a.who[1])+a.n)%4, a.value)
	})
	d("timestamp-order", "Id,Nr,Zeit,Erfasst", "rows of C3 were made in another order than they are numbered", l, func(a at) string {
		n := a.n
		if a.who == "C3" {
			n = []int{0, 2, 1, 3, 5, 4, 6}[a.n]
		}
		return fmt.Sprintf("%s,%d,%v,%02d.04.2026 1%d:05", a.who, a.n, a.value, 6+n, a.n%2)
	})
	d("duplicated-rows-renumbered", "Id,Nr,Zeit,Datum", "every attempt stands there twice, with one date", func() []at {
		var out []at
		for _, a := range log(321, 4, "C1", "C2", "C3", "C4") {
			out = append(out, at{a.who, 2*a.n - 1, a.value, ""}, at{a.who, 2 * a.n, a.value, ""})
		}
		return out
	}(), func(a at) string { return fmt.Sprintf("%s,%d,%v,2026-04-%02d", a.who, a.n, a.value, (a.n+1)/2) })
	score := with(log(322, 8, "C1", "C2", "C3", "C4"), func(a *at) { a.value = math.Round(130 - a.value/2) })
	doubt("9-score-share-of-one", "log.csv", "--trainee T --attempt N --response Score --measure score", lines("T,N,Score", score, func(a at) string {
		if a.who > "C2" {
			return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/100)
		}
		return plain(",", point)(a)
	}), nil, "two trainees have shares, two percentages")
	doubt("9-score-golf", "log.csv", "--trainee T --attempt N --response Punkte --measure score", lines("T,N,Punkte", with(score, func(a *at) { a.value = 120 - a.value }), plain(",", point)), nil, "of these points less is better")
	doubt("9-score-out-of", "log.csv", "--trainee T --attempt N --response Got --measure score", lines("T,N,Got,Of", score, func(a at) string {
		of := 100
		if a.n > 4 {
			of = 80
		}
		return fmt.Sprintf("%s,%d,%.0f,%d", a.who, a.n, a.value*float64(of)/130, of)
	}), nil, "points out of 100, and later out of 80")
	doubt("9-pass-inverted-words", "log.csv", "--trainee T --attempt N --response Leak --measure pass-fail", lines("T,N,Leak", log(323, 12, "C1", "C2", "C3", "C4"), func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", map[bool]string{true: "yes", false: "no"}[a.value > 95])
	}), nil, "yes is a leak, and no a pass")
	doubt("9-count-of-good", "log.csv", "--trainee T --attempt N --response Stiche --measure count", lines("T,N,Stiche", with(score, func(a *at) { a.value = math.Round(a.value / 9) }), plain(",", point)), nil, "good stitches: more is better")
}

func tables9() {
	l := log(330, 5, "K1", "K2", "K3", "K4")
	long := lines("Trainee,Attempt,Seconds", l, plain(",", point))
	tenths := lines("Trainee,Attempt,Zeit", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*10) }))
	zeit := "--trainee Trainee --attempt Attempt --response Zeit --measure time"
	doubt("9-title-says-unit", "log.csv", zeit, append([]byte("Nahtkurs Frühjahr\nAlle Zeiten in Zehntelsekunden\n\n"), tenths...), nil, "the title says tenths of seconds")
	doubt("9-comment-says-unit", "log.csv", zeit, append([]byte("# unit: 0.1 s\n"), tenths...), nil, "a comment says tenths of seconds")
	doubt("9-note-below-says-unit", "log.csv", zeit, append(bytes.Clone(tenths), []byte("\nZeiten in 1/10 s\n")...), nil, "a note below says tenths of seconds")
	doubt("9-note-below-excludes", "log.csv", usual, append(bytes.Clone(long), []byte("\nAttempt 3 of K2 not to be used (phone rang)\n")...), nil, "a note below says that an attempt does not count")
	doubt("9-unit-row-above-names", "log.csv", zeit, append([]byte("-,-,ds\n"), tenths...), nil, "the row above the names holds units: ds")
	doubt("9-unit-row-below-names", "log.csv", zeit, func() []byte {
		i := bytes.IndexByte(tenths, '\n') + 1
		return append(append(bytes.Clone(tenths[:i]), "-,-,ds\n"...), tenths[i:]...)
	}(), nil, "the row below the names holds units: ds")
	read("9-title-plain", "log.csv", usual, append([]byte("Nahtkurs Frühjahr 2026\nStand 12.04.2026\n\n"), long...), l)
	doubt("9-wide-two-tasks", "wide.csv", "--trainee Name --response Peg --measure time", func() []byte {
		m := log(331, 4, "K1", "K2", "K3")
		var b bytes.Buffer
		b.WriteString("Name,Peg 1,Peg 2,Peg 3,Peg 4,Cut 1,Cut 2,Cut 3,Cut 4\n")
		for k := range 3 {
			b.WriteString(m[k*4].who)
			for n := range 8 {
				fmt.Fprint(&b, ",", math.Round(10*m[k*4+n%4].value*(1+float64(n/4)*0.3))/10)
			}
			b.WriteString("\n")
		}
		return b.Bytes()
	}(), nil, "a second task stands beside")
	doubt("9-wide-hands-second-row", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,Run 1,Run 2,Run 3,Run 4,Run 5\n,R,L,R,L,R\n")
		for k := range 4 {
			b.WriteString(l[k*5].who)
			for n := range 5 {
				fmt.Fprint(&b, ",", l[k*5+n].value)
			}
			b.WriteString("\n")
		}
		return b.Bytes()
	}(), nil, "the second row says which hand")
	doubt("9-wide-last-column-sum", "wide.csv", "--trainee Name --response V --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,V1,V2,V3,V4,V5,V6\n")
		for k := range 4 {
			b.WriteString(l[k*5].who)
			s := 0.0
			for n := range 5 {
				fmt.Fprint(&b, ",", l[k*5+n].value)
				s += l[k*5+n].value
			}
			fmt.Fprintf(&b, ",%.1f\n", s)
		}
		return b.Bytes()
	}(), nil, "V6 is the sum of the others")
	doubt("9-wide-median-row", "wide.csv", "--trainee Name --response V --measure time", func() []byte {
		m := log(332, 5, "Ada", "Bo", "Cleo", "Dan", "Eve")
		data := wide("Name,V1,V2,V3,V4,V5", ",", m, point)
		row := "Kit"
		for n := range 5 {
			var vs []float64
			for k := range 5 {
				vs = append(vs, m[k*5+n].value)
			}
			for i := range vs {
				for j := range i {
					if vs[j] > vs[i] {
						vs[i], vs[j] = vs[j], vs[i]
					}
				}
			}
			row += "," + point(vs[2])
		}
		return append(data, row+"\n"...)
	}(), nil, "Kit is the median of the five above, run by run")
	doubt("9-long-best-person", "log.csv", usual, func() []byte {
		m := log(333, 5, "Ada", "Bo", "Cleo", "Dan")
		for n := range 5 {
			best := math.Inf(1)
			for k := range 4 {
				best = min(best, m[k*5+n].value)
			}
			m = append(m, at{"Top", n + 1, best, ""})
		}
		return lines("Trainee,Attempt,Seconds", m, plain(",", point))
	}(), nil, "Top is the best of all at every attempt")
	doubt("9-first-row-target", "wide.csv", "--trainee Name --response V --measure time", append([]byte("Name,V1,V2,V3,V4,V5\nvorher,100,100,100,100,100\n"), wide("", ",", l, point)[1:]...), nil, "the first row is no trainee")
	doubt("9-attempts-of-teams", "log.csv", usual, lines("Trainee,Attempt,Seconds", with(l, func(a *at) {
		a.who = map[string]string{"K1": "Ada", "K2": "Bo", "K3": "Ada & Bo", "K4": "Cleo"}[a.who]
	}), plain(",", point)), nil, "Ada & Bo are two people")
	doubt("9-running-per-session", "log.csv", usual+" --session Day", func() []byte {
		m := log(334, 8, "K1", "K2", "K3")
		total := 0.0
		return lines("Trainee,Attempt,Seconds,Day", with(m, func(a *at) {
			if a.n%4 == 1 {
				total = 0
			}
			total += a.value
			a.value = math.Round(total*10) / 10
		}), row8(func(a at) string { return fmt.Sprint((a.n + 3) / 4) }))
	}(), nil, "times run on within every session")
	doubt("9-running-per-session-unsaid", "log.csv", usual, func() []byte {
		m := log(335, 8, "K1", "K2", "K3")
		total := 0.0
		return lines("Trainee,Attempt,Seconds", with(m, func(a *at) {
			if a.n%4 == 1 {
				total = 0
			}
			total += a.value
			a.value = math.Round(total*10) / 10
		}), plain(",", point))
	}(), nil, "times run on within every four attempts")
	doubt("9-countdown-attempts", "log.csv", "--trainee Trainee --attempt Left --response Seconds --measure time", lines("Trainee,Left,Seconds", log(336, 9, "K1", "K2", "K3"), func(a at) string { return fmt.Sprint(a.who, ",", 10-a.n, ",", a.value) }), nil, "Left are the attempts to come")
	read("9-gaps", "wide.csv", "--trainee Name --response Run --measure time", []byte("Name,Run 1,Run 2,Run 3\nK1,120.5,101.2,88\nK2,133,,91.4\nK3,119.9,98.1,\n"), []at{{"K1", 1, 120.5, "done"}, {"K1", 2, 101.2, "done"}, {"K1", 3, 88, "done"}, {"K2", 1, 133, "done"}, {"K2", 3, 91.4, "done"}, {"K3", 1, 119.9, "done"}, {"K3", 2, 98.1, "done"}})
	doubt("9-dates-same-day", "log.csv", "--trainee Trainee --date Day --response Seconds --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Day,Seconds\n")
		for i := len(l) - 1; i >= 0; i-- {
			fmt.Fprintf(&b, "%s,2026-04-%02d,%v\n", l[i].who, 1+l[i].n/3, l[i].value)
		}
		return b.Bytes()
	}(), nil, "several attempts a day, newest first")
}

func cells9() {
	l := log(340, 6, "X1", "X2", "X3", "X4")
	d := func(name, about string, row func(a at) string) *truth {
		return doubt("9-cell-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds", l, row), nil, about)
	}
	one := func(cell func(v float64) string) func(a at) string {
		return func(a at) string {
			if a.n == 3 && a.who < "X3" {
				return fmt.Sprint(a.who, ",", a.n, ",", cell(a.value))
			}
			return plain(",", point)(a)
		}
	}
	d("letter-left", "L says left hand", one(func(v float64) string { return point(v) + " L" }))
	d("brackets", "a time in brackets does not count", one(func(v float64) string { return "(" + point(v) + ")" }))
	d("plus-ten", "10 s of penalty", one(func(v float64) string { return point(v) + "+10" }))
	d("arrow", "a time was corrected", one(func(v float64) string { return point(v) + "->" + point(v-20) }))
	d("question", "not sure", one(func(v float64) string { return point(v) + "?" }))
	d("negative-for-fail", "a minus says failed", one(func(v float64) string { return point(-v) }))
	d("zero-point-1", "0.1 stands for nothing", one(func(v float64) string { return "0.1" }))
	d("five-fives", "555 stands for nothing", one(func(v float64) string { return "555" }))
	d("1000", "1000 stands for did not finish", one(func(v float64) string { return "1000" }))
	d("3600", "3600 stands for did not finish", one(func(v float64) string { return "3600" }))
	d("same-for-missing", "90 was written where nobody looked at the watch", func(a at) string {
		if a.n == 2 || a.n == 5 {
			return fmt.Sprint(a.who, ",", a.n, ",90")
		}
		return plain(",", point)(a)
	})
	d("infinity", "not finished", one(func(v float64) string { return "∞" }))
	d("dash", "no attempt or not finished", one(func(v float64) string { return "-" }))
	d("formula-text", "a formula stands there as text", one(func(v float64) string { return "=C2-3" }))
	read("9-cell-formula-string-ids", "log.csv", usual, lines("Trainee,Attempt,Seconds", l, func(a at) string { return fmt.Sprintf(`"=""%s""",%d,%v`, a.who, a.n, a.value) }), l)
	all[len(all)-1].Verdict = "doubt"
	all[len(all)-1].About = "codes stand in formulas"
	all[len(all)-1].Attempts = nil
	read("9-cell-m-s-mixed", "log.csv", usual, lines("Trainee,Attempt,Seconds", whole(l), func(a at) string {
		if a.value >= 120 {
			return fmt.Sprintf("%s,%d,%dm%02ds", a.who, a.n, int(a.value)/60, int(a.value)%60)
		}
		return fmt.Sprintf("%s,%d,%vs", a.who, a.n, a.value)
	}), whole(l))
	doubt("9-cell-days", "log.csv", usual, lines("Trainee,Attempt,Seconds", l, plain(",", func(v float64) string { return fmt.Sprintf("%.9f", v/86400) })), nil, "parts of a day")
	doubt("9-cell-colon-one-trainee-h", "log.csv", usual, lines("Trainee,Attempt,Seconds", whole(l), func(a at) string {
		if a.who == "X2" {
			return fmt.Sprintf("%s,%d,%02d:%02d:00", a.who, a.n, int(a.value)/60, int(a.value)%60)
		}
		return fmt.Sprintf("%s,%d,0:%02d:%02d", a.who, a.n, int(a.value)/60, int(a.value)%60)
	}), nil, "X2 has hours and minutes for minutes and seconds")
	doubt("9-cell-two-decimals-minutes-later", "log.csv", usual, lines("Trainee,Attempt,Seconds", whole(l), func(a at) string {
		if a.n > 4 {
			return fmt.Sprintf("%s,%d,%d.%02d", a.who, a.n, int(a.value)/60, int(a.value)%60)
		}
		return plain(",", point)(a)
	}), nil, "from attempt 5 on 1.34 is 1 min 34 s")
	doubt("9-cell-no-colon-one-trainee", "log.csv", usual, lines("Trainee,Attempt,Seconds", whole(log(341, 12, "X1", "X2", "X3", "X4")), func(a at) string {
		if a.who == "X2" {
			return fmt.Sprintf("%s,%d,%d%02d", a.who, a.n, int(a.value)/60, int(a.value)%60)
		}
		return plain(",", point)(a)
	}), nil, "the times of X2 are minutes and seconds without a colon")
	doubt("9-cell-decimal-comma-lost-file", "log.csv", usual+" --standard 95", lines("Trainee,Attempt,Seconds", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*10) })), nil, "all decimal marks were lost, as the standard shows")
}

func codes9() {
	l := log(350, 3, "P1a", "P1b", "P2a", "P2b", "P3a", "P3b")
	d := func(name, about string, l []at, rename func(a at) at) {
		doubt("9-code-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds", l, func(a at) string { return plain(",", point)(rename(a)) }), nil, about)
	}
	same := func(a at) at { return a }
	d("a-and-b", "a and b are two sessions of one person", l, same)
	d("s1-s2", "S1 and S2 are sessions", l, func(a at) at {
		a.who = a.who[:2] + map[byte]string{'a': "-S1", 'b': "-S2"}[a.who[2]]
		return a
	})
	d("left-right", "left and right hand of one person", l, func(a at) at {
		a.who = a.who[:2] + map[byte]string{'a': " links", 'b': " rechts"}[a.who[2]]
		return a
	})
	d("goes-on-as-b", "P1b goes on where P1a ends", l, func(a at) at {
		if a.who[2] == 'b' {
			a.n += 3
		}
		return a
	})
	m := log(351, 6, "M1", "M2", "M3", "M4")
	d("typo-once", "M22 is M2", m, func(a at) at {
		if a.who == "M2" && a.n == 4 {
			a.who = "M22"
		}
		return a
	})
	d("swapped-letters", "Marei is Marie", m, func(a at) at {
		name := map[string]string{"M1": "Marie", "M2": "Jonas", "M3": "Leona", "M4": "Pavel"}[a.who]
		if a.who == "M1" && a.n == 6 {
			name = "Marei"
		}
		a.who = name
		return a
	})
	doubt("9-code-first-and-last", "log.csv", "--trainee Surname --attempt Attempt --response Seconds --measure time", lines("Surname,First,Attempt,Seconds", m, func(a at) string {
		if a.who == "M4" { // somebody else with the name of M3, whose numbers go on
			return fmt.Sprint("Berg,Tom,", a.n+6, ",", a.value)
		}
		return fmt.Sprint(map[string]string{"M1": "Holm,Ina", "M2": "Lund,Per", "M3": "Berg,Ulf"}[a.who], ",", a.n, ",", a.value)
	}), nil, "two people are called Berg")
	doubt("9-code-station-as-trainee", "log.csv", "--trainee Station --attempt Nr --response Seconds --measure time", lines("Station,Nr,Seconds,Code", m, func(a at) string {
		return fmt.Sprintf("S%s,%d,%v,Q%d", a.who[1:], a.n, a.value, 1+(a.n+int(a.who[1]))%6)
	}), nil, "Code names the people, and Station the places")
	arms := func(a at) string { return map[string]string{"M1": "A", "M2": "A", "M3": "B", "M4": "B"}[a.who] }
	doubt("9-code-arm-expert", "log.csv", usual+" --arm Arm", lines("Trainee,Attempt,Seconds,Arm", m, row8(func(a at) string {
		if a.who == "M4" {
			return "Experten"
		}
		return arms(a)
	})), nil, "the experts are no arm of trainees")
	doubt("9-code-arm-dot", "log.csv", usual+" --arm Arm", lines("Trainee,Attempt,Seconds,Arm", m, row8(func(a at) string {
		if a.who == "M4" {
			return "video."
		}
		return map[string]string{"M1": "self", "M2": "video", "M3": "self"}[a.who]
	})), nil, "video. and video are one arm")
	t := doubt("9-code-arm-second-column", "log.csv", usual+" --arm Arm", lines("Trainee,Attempt,Seconds,Arm,As treated", m, row8(func(a at) string {
		if a.who == "M2" {
			return "A,B"
		}
		return arms(a) + "," + arms(a)
	})), nil, "M2 was assigned to A and treated as B")
	_ = t
}

func books9() {
	l := log(360, 5, "W1", "W2", "W3", "W4")
	head := []any{"Trainee", "Attempt", "Seconds"}
	cells := func(a at) []any { return []any{a.who, a.n, a.value} }
	b := newBook("data")
	b.log(head, l, cells)
	must(b.SetCellRichText("data", "C4", []excelize.RichTextRun{{Text: "95", Font: &excelize.Font{Strike: true}}, {Text: "87"}}))
	doubt("9-book-struck-within", "log.xlsx", usual, b.bytes(), nil, "95 is struck out within the cell and 87 put beside it")
	b = newBook("data")
	b.log(head, l, cells)
	must(b.SetCellRichText("data", "C4", []excelize.RichTextRun{{Text: "95.2 ", Font: &excelize.Font{Strike: true}}}))
	doubt("9-book-struck-rich", "log.xlsx", usual, b.bytes(), nil, "95.2 is struck out")
	b = newBook("Data")
	b.log(head, l, cells)
	b.next("Data (2)")
	b.log(head, with(l, func(a *at) {
		if a.n == 2 {
			a.value += 4
		}
	}), cells)
	doubt("9-book-copy-of-sheet", "log.xlsx", usual, b.bytes(), nil, "two copies that differ")
	b = newBook("Minuten")
	b.log(head, l, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/60*10000) / 10000} })
	doubt("9-book-sheet-says-minutes", "log.xlsx", usual, b.bytes(), nil, "the sheet is called Minuten")
	b = newBook("data")
	b.log(head, l, cells)
	b.format("C5", "C5", `0.0"*"`)
	doubt("9-book-star-format", "log.xlsx", usual, b.bytes(), nil, "a star is shown beside one time")
	b = newBook("data")
	b.log(head, l, cells)
	b.format("C2", "C21", `0.0" min"`)
	doubt("9-book-format-says-min", "log.xlsx", usual, b.bytes(), nil, "the format shows minutes")
	b = newBook("data")
	b.log(head, l, cells)
	b.row("A22", nil, nil, nil)
	must(b.SetCellFormula("data", "C22", "SUM(C2:C21)"))
	must(b.SetCellValue("data", "A23", "W5"))
	doubt("9-book-total-formula", "log.xlsx", usual, b.bytes(), nil, "the last rows are a sum, and a name alone")
	b = newBook("data")
	b.log(append(head, "Grund"), l, func(a at) []any {
		if a.who == "W2" && a.n == 4 {
			return []any{a.who, a.n, a.value, "Faden"}
		}
		return cells(a)
	})
	doubt("9-book-reason", "log.xlsx", usual, b.bytes(), nil, "a reason is given for one attempt")
	b = newBook("data")
	b.row("A1", "Trainee", "Seconds", nil, nil, nil, nil)
	b.row("A2", nil, "R", nil, "L", nil)
	b.row("A3", nil, 1, 2, 1, 2)
	for k := range 4 {
		b.row(fmt.Sprint("A", k+4), l[k*5].who, l[k*5].value, l[k*5+1].value, l[k*5+2].value, l[k*5+3].value)
	}
	must(b.MergeCell("data", "B1", "E1"))
	must(b.MergeCell("data", "B2", "C2"))
	must(b.MergeCell("data", "D2", "E2"))
	doubt("9-book-three-heads-hands", "log.xlsx", "--trainee Trainee --response Seconds --measure time", b.bytes(), nil, "right and left hand beside each other")
	b = newBook("data")
	b.log(head, l, cells)
	must(b.SetRowVisible("data", 6, false))
	doubt("9-book-hidden-row", "log.xlsx", usual, b.bytes(), nil, "a row is hidden")
	note := `<table:table-cell office:value-type="float" office:value="%v"><office:annotation><text:p>do not use</text:p></office:annotation><text:p>%v</text:p></table:table-cell>`
	rows := []string{odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds"))}
	for i, a := range l {
		c := odsNumber(a.value)
		if i == 7 {
			c = fmt.Sprintf(note, a.value, a.value)
		}
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), c))
	}
	doubt("9-book-ods-annotation", "log.ods", usual, ods(rows...), nil, "a comment says: do not use")
	rows[8] = odsRow(odsText(`<text:span text:style-name="T1">`+l[7].who+`</text:span>`), odsNumber(float64(l[7].n)), odsNumber(l[7].value))
	rows[9] = strings.Replace(rows[9], "<table:table-row>", `<table:table-row table:visibility="collapse">`, 1)
	doubt("9-book-ods-hidden-row", "log.ods", usual, ods(rows...), nil, "a row is hidden")
}

func ratings9() {
	l := log(370, 5, "V1", "V2", "V3", "V4")
	base := []int{2, 3, 4, 1, 5, 3, 2, 4, 5, 1, 3, 4, 2, 5}
	noise := []int{0, 1, 0, -1, 0, 0, 1, 0, -1, 1, 0, 0, 1, -1}
	score := func(s, r int) int { return min(5, max(1, base[s]+noise[(s*3+r*5)%14])) }
	wide9 := func(verdict, name, about, head string, cell func(s, r int) string, keep int) {
		t := put(verdict, "9-rate-"+name, ".", "", nil, l, about)
		names := strings.Split(head, ",")
		var b bytes.Buffer
		b.WriteString("film," + head + "\n")
		for s := range 14 {
			fmt.Fprint(&b, "C", s+1)
			for r := range names {
				b.WriteString("," + cell(s, r))
				if r < keep {
					t.Ratings = append(t.Ratings, [4]string{fmt.Sprint("C", s+1), names[r], "global", cell(s, r)})
				}
			}
			b.WriteString("\n")
		}
		study(t, "ratings:\n  file: ratings.csv\n  wide: true\n  subject: film\n  items:\n    - {name: global, scale: ordinal}\n", map[string][]byte{"ratings.csv": b.Bytes()})
	}
	num := func(s, r int) string { return fmt.Sprint(score(s, r)) }
	wide9("read", "plain", "", "Ash,Elm,Fir", num, 3)
	wide9("doubt", "plus-one", "Fir counts from 2 to 6", "Ash,Elm,Fir", func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(score(s, r) + 1)
		}
		return num(s, r)
	}, 0)
	wide9("doubt", "two-weeks", "Ash rated again two weeks later", "Ash,Elm,Ash (14 d)", num, 0)
	wide9("doubt", "difference", "Diff is Ash less Elm", "Ash,Elm,Diff", func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(score(s, 0) - score(s, 1))
		}
		return num(s, r)
	}, 0)
	wide9("doubt", "minutes-as-rater", "Length is how long the film lasts", "Ash,Elm,Length", func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(90 + s*13%60)
		}
		return num(s, r)
	}, 0)
	wide9("doubt", "six-of-five", "88 says: not seen", "Ash,Elm,Fir", func(s, r int) string {
		if (s+r)%6 == 5 {
			return "88"
		}
		return num(s, r)
	}, 0)
	wide9("doubt", "copied-but-one", "Fir is a copy of Elm but for one film", "Ash,Elm,Fir", func(s, r int) string {
		if r == 2 && s != 5 {
			return num(s, 1)
		}
		return num(s, r)
	}, 0)
	wide9("doubt", "sorted", "Fir's scores were sorted", "Ash,Elm,Fir", func(s, r int) string {
		if r == 2 {
			return fmt.Sprint(1 + s*5/14)
		}
		return num(s, r)
	}, 0)
}

func plain9() {
	l := log(380, 7, "Ada", "Bo", "Cleo", "Dan", "Eve")
	p := func(name, column string, more func(a at) string) {
		read("9-plain-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds,"+column, l, row8(more)), l)
	}
	p("hand-of-person", "Hand", func(a at) string { return map[bool]string{true: "L", false: "R"}[a.who == "Bo"] })
	p("sex-and-age", "Sex,Age", func(a at) string {
		return map[bool]string{true: "m", false: "f"}[len(a.who) == 2] + "," + fmt.Sprint(19+len(a.who))
	})
	p("errors-two-kinds", "Drops,Slips", func(a at) string { return fmt.Sprint((a.n*3+len(a.who))%3, ",", (a.n*5+int(a.who[0]))%4) })
	p("tension", "Tension (N)", func(a at) string { return fmt.Sprintf("%.2f", 1+float64((a.n*37+int(a.who[0])*11)%100)/50) })
	p("clock", "Time of day", func(a at) string { return fmt.Sprintf("%02d:%02d", 9+a.n/4, (a.n*16)%60) })
	p("week", "Week", func(a at) string { return fmt.Sprint((a.n + 1) / 2) })
	p("temperature", "Room °C", func(a at) string { return fmt.Sprintf("%.1f", 20.5+float64((a.n*7+int(a.who[0]))%9)/10) })
	p("constant", "Course", func(a at) string { return "spring" })
	p("checked-by", "Entered", func(a at) string { return "yes" })
	p("self-score", "Confidence", func(a at) string { return fmt.Sprint(2 + (a.n*3+int(a.who[0]))%6) })
	read("9-plain-1252", "log.csv", "--trainee Prénom --attempt Essai --response Durée --measure time", encoded(charmap.Windows1252, lines("Prénom;Essai;Durée", l, plain(";", comma))), l)
	read("9-plain-ms", "log.csv", "--trainee T --attempt N --response ms --measure time --times milliseconds", lines("T,N,ms", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*1000) })), l)
	read("9-plain-wide-blank-end", "wide.csv", "--trainee Name --response Versuch --measure time", append([]byte("Name;Versuch 1;Versuch 2;Versuch 3\nAda;101,5;92;88,1\nBo;120;99,9;\n"), "Cleo;97,2;;\n"...), []at{{"Ada", 1, 101.5, "done"}, {"Ada", 2, 92, "done"}, {"Ada", 3, 88.1, "done"}, {"Bo", 1, 120, "done"}, {"Bo", 2, 99.9, "done"}, {"Cleo", 1, 97.2, "done"}})
}
