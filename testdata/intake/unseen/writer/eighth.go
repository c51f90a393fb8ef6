package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

// The eighth set is what labs have: heads in many languages, generic timers and forms, sheets as people
// lay them out; about a third of it misleads.
func eighth() {
	languages()
	encodings()
	layouts8()
	units8()
	columns8()
	books8()
	people8()
	raters8()
	plain8()
}

const usual = "--trainee Trainee --attempt Attempt --response Seconds --measure time"

// row8 is a row of the usual long form with more cells behind it.
func row8(more func(a at) string) func(a at) string {
	return func(a at) string { return plain(",", point)(a) + "," + more(a) }
}

func whole(l []at) []at { return rounded(l, 1) }

// languages are plain files whose heads are not English.
func languages() {
	for i, c := range []struct{ name, sep, who, n, v, more, said string }{
		{"de", ";", "Teilnehmer", "Durchgang", "Dauer (s)", "Händigkeit", "rechts"},
		{"fr", ";", "Identifiant", "N° d'essai", "Durée (s)", "Latéralité", "droitier"},
		{"es", ";", "Alumno", "Intento", "Tiempo (s)", "Lateralidad", "diestro"},
		{"nl", ";", "Deelnemer", "Poging", "Tijd (s)", "Voorkeurshand", "rechts"},
		{"pt", ";", "Participante", "Tentativa", "Tempo (s)", "Mão dominante", "direita"},
		{"pl", ";", "Uczestnik", "Próba", "Czas (s)", "Ręka", "prawa"},
		{"tr", ";", "Katılımcı", "Deneme", "Süre (sn)", "Baskın el", "sağ"},
		{"it", ";", "Partecipante", "Prova", "Durata (s)", "Mano", "destra"},
		{"sv", "\t", "Deltagare", "Försök", "Tid (s)", "Hand", "höger"},
		{"cs", ";", "Účastník", "Pokus", "Čas (s)", "Ruka", "pravá"},
		{"ja", ",", "参加者", "試行", "時間(秒)", "利き手", "右"},
		{"zh", ",", "学员", "次数", "用时(秒)", "利手", "右手"},
		{"he", ",", "משתתף", "ניסיון", "זמן (שניות)", "יד", "ימין"},
		{"ar", ",", "المتدرب", "المحاولة", "الزمن (ثانية)", "اليد", "اليمنى"},
		{"el", ";", "Συμμετέχων", "Προσπάθεια", "Χρόνος (δ)", "Χέρι", "δεξί"},
		{"ru", ";", "Участник", "Попытка", "Время (с)", "Рука", "правая"},
	} {
		l := log(100+i, 6, c.name+"1", c.name+"2", c.name+"3", c.name+"4")
		number := comma
		if c.sep == "," {
			number = point
		}
		flags := fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", c.who, strings.ReplaceAll(c.n, " ", "~"), strings.ReplaceAll(c.v, " ", "~"))
		read("8-lang-"+c.name, "log.csv", flags, lines(strings.Join([]string{c.who, c.n, c.v, c.more}, c.sep), l, func(a at) string {
			return plain(c.sep, number)(a) + c.sep + c.said
		}), l)
	}
	l := log(120, 5, "Nowak", "Wiśniewska", "Łuczak")
	read("8-lang-pl-wide", "wide.csv", "--trainee Imię --response Próba --measure time", wide("Imię;Próba 1;Próba 2;Próba 3;Próba 4;Próba 5", ";", l, comma), l)
	l = log(121, 5, "佐藤", "鈴木", "高橋")
	read("8-lang-ja-wide", "wide.csv", "--trainee 氏名 --response 回目 --measure time", wide("氏名,1回目,2回目,3回目,4回目,5回目", ",", l, point), l)
	l = log(122, 5, "Ömer", "Şule", "İlkay", "Ağca")
	read("8-lang-tr-m-ss", "log.csv", "--trainee Ad --attempt Sıra --response Süre --measure time", lines("Ad;Sıra;Süre", rounded(l, 1), plain(";", minutes("%[1]d:%02[2]d"))), rounded(l, 1))
	// an attempt that was abandoned, in words of other languages
	for _, c := range []struct{ name, head, word string }{{"pl", "Uczestnik;Próba;Czas", "przerwano"}, {"tr", "Katılımcı;Deneme;Süre", "yarıda kaldı"}, {"sv", "Deltagare;Försök;Tid", "avbruten"}} {
		l = log(123, 6, "M1", "M2", "M3")
		h := strings.Split(c.head, ";")
		t := doubt("8-word-"+c.name, "log.csv", fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", h[0], h[1], h[2]), lines(c.head, l, func(a at) string {
			if a.who == "M2" && a.n == 4 {
				return "M2;4;" + c.word
			}
			return plain(";", comma)(a)
		}), with(l, func(a *at) {
			if a.who == "M2" && a.n == 4 {
				a.value, a.outcome = math.NaN(), "failed"
			}
		}), "a word for an attempt broken off stands where the time belongs")
		t.Way = words("--code " + strings.ReplaceAll(c.word, " ", "~") + "=failed")
	}
	for _, c := range []struct{ name, head, word string }{{"pl", "Uwagi", "powtórka"}, {"nl", "Opmerking", "opnieuw"}, {"tr", "Not", "tekrar"}, {"it", "Note", "interrotto"}} {
		l = log(124, 6, "N1", "N2", "N3", "N4")
		doubt("8-remark-"+c.name, "log.csv", usual, lines("Trainee,Attempt,Seconds,"+c.head, l, row8(func(a at) string {
			if a.who == "N2" && a.n == 5 || a.who == "N4" && a.n == 2 {
				return c.word
			}
			return ""
		})), nil, "a remark says that attempts were repeated or broken off")
	}
}

func encodings() {
	l := log(130, 6, "Jörg", "Zoë", "Åsa", "Renée")
	text := string(lines("Trainee;Attempt;Seconds", l, plain(";", comma)))
	english := string(lines("Trainee,Attempt,Seconds", l, plain(",", point)))
	read("8-enc-utf16be", "log.csv", usual, inUTF16(binary.BigEndian, true, []byte(text)), l)
	read("8-enc-utf16le-no-mark", "log.csv", usual, inUTF16(binary.LittleEndian, false, []byte(english)), l)
	read("8-enc-utf16le-crlf-tab", "log.txt", usual, inUTF16(binary.LittleEndian, true, crlf([]byte(strings.ReplaceAll(text, ";", "\t")))), l)
	read("8-enc-1252", "log.csv", usual, encoded(charmap.Windows1252, []byte(text)), l)
	doubt("8-enc-macintosh", "log.csv", usual, encoded(charmap.Macintosh, []byte(text)), l, "letters of another encoding")
	read("8-enc-bom-crlf", "log.csv", usual, []byte("\ufeff"+strings.ReplaceAll(english, "\n", "\r\n")), l)
	read("8-enc-cr", "log.csv", usual, []byte(strings.ReplaceAll(text, "\n", "\r")), l)
	read("8-enc-sep-line", "log.csv", usual, []byte("sep=;\r\n"+strings.ReplaceAll(text, "\n", "\r\n")), l)
	read("8-enc-quoted-all", "log.csv", usual, lines(`"Trainee","Attempt","Seconds"`, l, func(a at) string { return fmt.Sprintf("%q,\"%d\",\"%v\"", a.who, a.n, a.value) }), l)
	read("8-enc-isolates", "log.csv", usual, lines("Trainee,Attempt,Seconds", l, func(a at) string { return "\u2068" + a.who + "\u2069," + fmt.Sprint(a.n, ",\u200e", a.value) }), l)
	read("8-enc-nbsp-thousands", "log.csv", usual, lines("Trainee;Attempt;Seconds", with(l, func(a *at) { a.value += 1000 }), func(a at) string {
		return fmt.Sprintf("%s;%d;1\u00a0%s", a.who, a.n, strings.ReplaceAll(fmt.Sprintf("%05.1f", a.value-1000), ".", ","))
	}), with(l, func(a *at) { a.value = math.Round((a.value+1000)*10) / 10 }))
}

func layouts8() {
	l := log(140, 5, "K1", "K2", "K3", "K4")
	read("8-lay-title-and-date", "log.csv", usual, append([]byte("Skills lab north; suturing course\nPrinted 3 March 2026; page 1 of 1\n\n"), lines("Trainee;Attempt;Seconds", l, plain(";", comma))...), l)
	read("8-lay-index-column", "log.csv", usual, lines(",Trainee,Attempt,Seconds", l, func(a at) string { return fmt.Sprint((int(a.who[1])-'1')*5+a.n-1, ",") + plain(",", point)(a) }), l)
	var b bytes.Buffer
	b.WriteString("Name,Time 1,Errors 1,Time 2,Errors 2,Time 3,Errors 3,Time 4,Errors 4,Time 5,Errors 5\n")
	for i, a := range l {
		if a.n == 1 {
			b.WriteString(a.who)
		}
		fmt.Fprintf(&b, ",%v,%d", a.value, (i*7)%4)
		if a.n == 5 {
			b.WriteString("\n")
		}
	}
	read("8-lay-interleaved", "wide.csv", "--trainee Name --response Time --measure time", bytes.Clone(b.Bytes()), l)
	// groups side by side
	two := log(142, 4, "A1", "A2", "A3", "B1", "B2", "B3")
	b.Reset()
	b.WriteString("Trainee,Attempt,Seconds,,Trainee B,Attempt B,Seconds B\n")
	for i := range 12 {
		b.WriteString(plain(",", point)(two[i]) + ",," + plain(",", point)(two[i+12]) + "\n")
	}
	doubt("8-lay-two-groups-beside", "log.csv", usual, bytes.Clone(b.Bytes()), two, "a second group stands right of the first")
	b.Reset()
	b.WriteString("Group A,,,Group B,,\nName,Run,Time,Name,Run,Time\n")
	for i := range 12 {
		b.WriteString(plain(",", point)(two[i]) + "," + plain(",", point)(two[i+12]) + "\n")
	}
	doubt("8-lay-two-groups-two-heads", "log.csv", "--trainee Name --attempt Run --response Time --measure time", bytes.Clone(b.Bytes()), nil, "two groups beside each other under one title each")
	// blocks below each other
	b.Reset()
	for _, who := range []string{"K1", "K2", "K3", "K4"} {
		b.WriteString("Trainee: " + who + "\nAttempt,Seconds\n")
		for _, a := range l {
			if a.who == who {
				fmt.Fprintf(&b, "%d,%v\n", a.n, a.value)
			}
		}
		b.WriteString("\n")
	}
	doubt("8-lay-blocks-below", "log.csv", "--attempt Attempt --response Seconds --measure time", bytes.Clone(b.Bytes()), nil, "every trainee has a block; read as one series they are mixed")
	// two tables below each other: pre-test, then post-test, same columns
	b.Reset()
	b.WriteString("Trainee,Attempt,Seconds\n")
	for _, a := range l {
		b.WriteString(plain(",", point)(a) + "\n")
	}
	b.WriteString("\nRetention test after 3 months\nTrainee,Attempt,Seconds\n")
	for _, who := range []string{"K1", "K2", "K3", "K4"} {
		b.WriteString(who + ",6,88.5\n")
	}
	doubt("8-lay-second-table-below", "log.csv", usual, bytes.Clone(b.Bytes()), nil, "the second table is of a retention test, not of the next attempts")
	read("8-lay-transposed-runs-down", "log.csv", "--columns-are trainee --attempt Run --response Time --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Run,K1,K2,K3,K4\n")
		for n := 1; n <= 5; n++ {
			fmt.Fprint(&b, n)
			for k := range 4 {
				fmt.Fprint(&b, ",", l[k*5+n-1].value)
			}
			b.WriteString("\n")
		}
		return bytes.Clone(b.Bytes())
	}(), l)
	read("8-lay-totals-row", "log.csv", usual, append(lines("Trainee,Attempt,Seconds", l, plain(",", point)), []byte(fmt.Sprintf("Total,,%.1f\n", sum8(l)))...), l)
	doubt("8-lay-mean-unlabelled-wide", "wide.csv", "--trainee Name --response Run --measure time", append(wide("Name,Run 1,Run 2,Run 3,Run 4,Run 5", ",", l, point), []byte(means8("Klasse", l, 4, 5)+"\n")...), l, "the last row is the mean of those above")
	doubt("8-lay-mean-as-trainee-long", "log.csv", usual, lines("Trainee,Attempt,Seconds", append(append([]at{}, l...), meanOf8("G", l, 4, 5)...), plain(",", point)), l, "G is the group's mean, attempt by attempt")
	doubt("8-lay-group-means-within", "log.csv", usual+" --arm Arm", func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Arm,Attempt,Seconds\n")
		for g, arm := range []string{"early", "late"} {
			part := log(143+g, 5, fmt.Sprint("P", g, "1"), fmt.Sprint("P", g, "2"), fmt.Sprint("P", g, "3"))
			for _, a := range append(append([]at{}, part...), meanOf8(fmt.Sprint("P", g, "9"), part, 3, 5)...) {
				fmt.Fprintf(&b, "%s,%s,%d,%v\n", a.who, arm, a.n, a.value)
			}
		}
		return bytes.Clone(b.Bytes())
	}(), nil, "P09 and P19 are the means of their arms")
	doubt("8-lay-sixth-is-mean", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Run 6\n")
		for k := range 4 {
			b.WriteString(l[k*5].who)
			s := 0.0
			for n := range 5 {
				fmt.Fprint(&b, ",", l[k*5+n].value)
				s += l[k*5+n].value
			}
			fmt.Fprintf(&b, ",%.1f\n", s/5)
		}
		return bytes.Clone(b.Bytes())
	}(), nil, "Run 6 is the mean of the five before it")
	doubt("8-lay-best-as-last-row", "log.csv", usual, func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee,Attempt,Seconds\n")
		for k := range 4 {
			best := math.Inf(1)
			for n := range 5 {
				b.WriteString(plain(",", point)(l[k*5+n]) + "\n")
				best = min(best, l[k*5+n].value)
			}
			fmt.Fprintf(&b, "%s,6,%v\n", l[k*5].who, best)
		}
		return bytes.Clone(b.Bytes())
	}(), nil, "attempt 6 of everybody is the best of the five before it")
	read("8-lay-best-and-mean-beside", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,Run 1,Run 2,Run 3,Run 4,Run 5,Best,Mean\n")
		for k := range 4 {
			b.WriteString(l[k*5].who)
			s, best := 0.0, math.Inf(1)
			for n := range 5 {
				v := l[k*5+n].value
				fmt.Fprint(&b, ",", v)
				s, best = s+v, min(best, v)
			}
			fmt.Fprintf(&b, ",%v,%.1f\n", best, s/5)
		}
		return bytes.Clone(b.Bytes())
	}(), l)
	doubt("8-lay-pre-post-beside", "wide.csv", "--trainee Name --response Run --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Name,Vortest,Run 1,Run 2,Run 3,Run 4,Run 5,Nachtest\n")
		for k := range 4 {
			fmt.Fprintf(&b, "%s,%v", l[k*5].who, l[k*5].value+21.3)
			for n := range 5 {
				fmt.Fprint(&b, ",", l[k*5+n].value)
			}
			fmt.Fprintf(&b, ",%v\n", l[k*5+4].value-2.6)
		}
		return bytes.Clone(b.Bytes())
	}(), l, "a test before and one after stand beside the runs")
	read("8-lay-survey", "survey.csv", "--trainee Code --attempt Trial --response Time --measure time", append([]byte("Code,Trial,Time,Comment\n\"Please enter your code\",\"Which trial was it?\",\"Time in seconds\",\"Anything else?\"\n"), lines("", l, func(a at) string { return plain(",", point)(a) + "," })[1:]...), l)
	read("8-lay-timer-export", "laps.csv", "--trainee Label --attempt Lap --response Duration --measure time", append([]byte("# exported 2026-02-11T09:14:05\n# laps: 20\n"), lines("Label\tLap\tDuration", l, plain("\t", minutes("00:%02d:%02d.%d00")))...), l)
	split := func(a at) (float64, float64) {
		x := math.Round(a.value*4) / 10
		return x, math.Round((a.value-x)*10) / 10
	}
	read("8-lay-splits-total-named", "log.csv", usual, lines("Trainee,Attempt,Split 1,Split 2,Seconds", l, func(a at) string {
		x, y := split(a)
		return fmt.Sprint(a.who, ",", a.n, ",", x, ",", y, ",", a.value)
	}), l)
	doubt("8-lay-split-one-named", "log.csv", "--trainee Trainee --attempt Attempt --response S1 --measure time", lines("Trainee,Attempt,S1,S2,Gesamt", l, func(a at) string {
		x, y := split(a)
		return fmt.Sprint(a.who, ",", a.n, ",", x, ",", y, ",", a.value)
	}), nil, "S1 is only the first part of the time")
	doubt("8-lay-running-clock", "log.csv", usual, lines("Trainee,Attempt,Seconds", running8(l), plain(",", point)), nil, "times run on from attempt to attempt")
	doubt("8-lay-running-but-one-trainee", "log.csv", usual, lines("Trainee,Attempt,Seconds", append(append([]at{}, l[:15]...), running8(l[15:])...), plain(",", point)), nil, "the times of K4 run on from attempt to attempt")
	doubt("8-lay-newest-first", "log.csv", usual, lines("Trainee,Attempt,Seconds,Date", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%v,2026-03-%02d", a.who, 6-a.n, a.value, 2*a.n)
	}), nil, "attempts are numbered from the last to the first, as the dates show")
	doubt("8-lay-newest-first-undated", "log.csv", usual, lines("Trainee,Attempt,Seconds", log(144, 8, "L1", "L2", "L3", "L4"), func(a at) string { return fmt.Sprint(a.who, ",", 9-a.n, ",", a.value) }), nil, "attempts are numbered from the last to the first")
	read("8-lay-date-words", "log.csv", "--trainee Trainee --date Day --response Seconds --measure time", lines("Trainee,Day,Seconds", l, func(a at) string { return fmt.Sprintf("%s,%d March 2026,%v", a.who, 3*a.n, a.value) }), l)
	read("8-lay-date-german-unsorted", "log.csv", "--trainee Trainee --date Datum --response Seconds --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString("Trainee;Datum;Seconds\n")
		for _, n := range []int{3, 1, 5, 2, 4} {
			for _, a := range l {
				if a.n == n {
					fmt.Fprintf(&b, "%s;%02d.02.2026;%s\n", a.who, 4*a.n, comma(a.value))
				}
			}
		}
		return bytes.Clone(b.Bytes())
	}(), l)
	doubt("8-lay-date-two-orders", "log.csv", "--trainee Trainee --date Day --response Seconds --measure time", lines("Trainee,Day,Seconds", l, func(a at) string {
		if a.who == "K4" {
			return fmt.Sprintf("%s,03/%02d/2026,%v", a.who, 12+a.n, a.value)
		}
		return fmt.Sprintf("%s,%02d/03/2026,%v", a.who, 12+a.n, a.value)
	}), l, "some dates have the month first")
	read("8-lay-sessions-restart", "log.csv", "--trainee Trainee --session Day --attempt Attempt --response Seconds --measure time", lines("Trainee,Day,Attempt,Seconds", log(145, 6, "S1", "S2", "S3"), func(a at) string {
		return fmt.Sprint(a.who, ",", (a.n-1)/3+1, ",", (a.n-1)%3+1, ",", a.value)
	}), log(145, 6, "S1", "S2", "S3"))
	refused := doubt("8-lay-sessions-unsaid", "log.csv", usual, lines("Trainee,Oturum,Attempt,Seconds", log(145, 6, "S1", "S2", "S3"), func(a at) string {
		return fmt.Sprint(a.who, ",", (a.n-1)/3+1, ",", (a.n-1)%3+1, ",", a.value)
	}), log(145, 6, "S1", "S2", "S3"), "attempts start again in every session")
	refused.Way = words("--session Oturum")
	down := doubt("8-lay-name-once", "log.csv", usual, lines("Trainee,Attempt,Seconds", l, func(a at) string {
		if a.n > 1 {
			return fmt.Sprint(",", a.n, ",", a.value)
		}
		return plain(",", point)(a)
	}), l, "the name stands in the first row only")
	down.Way = words("--fill-down Trainee")
	doubt("8-lay-pasted-twice", "log.csv", usual, lines("Trainee,Attempt,Seconds", append(append([]at{}, l...), with(l[15:20], func(a *at) { a.n += 5 })...), plain(",", point)), nil, "five attempts of K4 stand there twice, numbered on")
	doubt("8-lay-shifted-copy", "log.csv", usual, func() []byte {
		m := log(146, 7, "K1", "K2", "K3", "K4")
		for n := 1; n < 7; n++ {
			m[14+n].value = m[7+n-1].value
		}
		return lines("Trainee,Attempt,Seconds", m, plain(",", point))
	}(), nil, "K3 has the numbers of K2, one row later")
	doubt("8-lay-two-under-one-code", "log.csv", usual, func() []byte {
		m := log(147, 5, "K1", "K2", "K3", "K4", "K5", "K2b")
		return lines("Trainee,Attempt,Seconds,Year of birth", m, func(a at) string {
			year := 1990 + int(a.who[1]-'0')
			if a.who == "K2b" {
				a.who, a.n, year = "K2", a.n+5, 2001
			}
			return plain(",", point)(a) + "," + fmt.Sprint(year)
		})
	}(), nil, "K2 are two people, born in two years")
}

func sum8(l []at) float64 {
	s := 0.0
	for _, a := range l {
		s += a.value
	}
	return s
}

// meanOf8 is the mean of people, attempt by attempt, as one more person.
func meanOf8(who string, l []at, people, n int) []at {
	var out []at
	for k := range n {
		s := 0.0
		for p := range people {
			s += l[p*n+k].value
		}
		out = append(out, at{who, k + 1, math.Round(s/float64(people)*10) / 10, "done"})
	}
	return out
}

func means8(who string, l []at, people, n int) string {
	out := who
	for _, a := range meanOf8(who, l, people, n) {
		out += "," + point(a.value)
	}
	return out
}

func running8(l []at) []at {
	total := 0.0
	return with(l, func(a *at) {
		if a.n == 1 {
			total = 0
		}
		total += a.value
		a.value = math.Round(total*10) / 10
	})
}

func units8() {
	l := log(150, 6, "U1", "U2", "U3", "U4")
	d := func(name, head, about string, data []byte, way string) {
		h := strings.Split(strings.Split(head, "\n")[0], ",")
		t := doubt("8-unit-"+name, "log.csv", fmt.Sprintf("--trainee %s --attempt %s --response %s --measure time", strings.ReplaceAll(h[0], " ", "~"), strings.ReplaceAll(h[1], " ", "~"), strings.ReplaceAll(h[2], " ", "~")), data, nil, about)
		if way != "" {
			t.Way, t.Attempts = words(way), l
		}
	}
	head := "Trainee,Attempt,Seconds"
	left := with(l, func(a *at) { a.value = math.Round((300-a.value)*10) / 10 })
	d("left-no-name", "Trainee,Attempt,Value", "300 s less what is there is the time taken", lines("Trainee,Attempt,Value", left, plain(",", point)), "")
	d("left-and-used", "Trainee,Attempt,T1,T2", "T1 is what was left of 300 s, T2 the time taken", lines("Trainee,Attempt,T1,T2", l, func(a at) string {
		return fmt.Sprint(a.who, ",", a.n, ",", math.Round((300-a.value)*10)/10, ",", a.value)
	}), "")
	d("minutes-and-seconds-beside", "Trainee,Attempt,Zeit,Sekunden", "Zeit is in minutes, Sekunden beside it", lines("Trainee,Attempt,Zeit,Sekunden", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%.3f,%v", a.who, a.n, a.value/60, a.value)
	}), "")
	d("ms-and-frames-beside", "Trainee,Attempt,Count,Ms", "Count are frames, 25 a second", lines("Trainee,Attempt,Count,Ms", rounded(l, 0.2), func(a at) string {
		return fmt.Sprintf("%s,%d,%.0f,%.0f", a.who, a.n, a.value*25, a.value*1000)
	}), "")
	d("start-end-minutes", "Trainee,Attempt,Took,Start,End", "Took is in minutes, as the clock beside it shows", lines("Trainee,Attempt,Took,Start,End", whole(l), func(a at) string {
		s := 36000 + a.n*900
		e := s + int(a.value)
		return fmt.Sprintf("%s,%d,%.2f,%d:%02d:%02d,%d:%02d:%02d", a.who, a.n, a.value/60, s/3600, s/60%60, s%60, e/3600, e/60%60, e%60)
	}), "")
	d("start-end-one-wrong", "Trainee,Attempt,Seconds,Start,End", "in two rows the time is not that between start and end", lines("Trainee,Attempt,Seconds,Start,End", whole(l), func(a at) string {
		s := 36000 + a.n*900
		e := s + int(a.value)
		if a.n == 3 && a.who < "U3" {
			e += 60
		}
		return fmt.Sprintf("%s,%d,%v,%d:%02d:%02d,%d:%02d:%02d", a.who, a.n, a.value, s/3600, s/60%60, s%60, e/3600, e/60%60, e%60)
	}), "")
	read("8-unit-start-end-agree", "log.csv", usual, lines(head+",Start,End", whole(l), func(a at) string {
		s := 50000 + a.n*900
		e := s + int(a.value)
		return fmt.Sprintf("%s,%d,%v,%d:%02d:%02d,%d:%02d:%02d", a.who, a.n, a.value, s/3600, s/60%60, s%60, e/3600, e/60%60, e%60)
	}), whole(l))
	d("examiner-in-tenths", head+",Examiner", "one examiner wrote tenths of seconds", lines(head+",Examiner", l, func(a at) string {
		if a.n%2 == 0 {
			return fmt.Sprint(a.who, ",", a.n, ",", math.Round(a.value*10), ",Oak")
		}
		return plain(",", point)(a) + ",Fir"
	}), "")
	d("device-in-minutes", head+",Kit", "one kit shows minutes", lines(head+",Kit", l, func(a at) string {
		if a.who > "U2" {
			return fmt.Sprintf("%s,%d,%.2f,blue", a.who, a.n, a.value/60)
		}
		return plain(",", point)(a) + ",red"
	}), "")
	d("two-of-four-in-ms", head, "U1 and U2 are in milliseconds", lines(head, l, func(a at) string {
		if a.who < "U3" {
			return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, a.value*1000)
		}
		return plain(",", point)(a)
	}), "")
	d("no-colon", head, "123 is 1 min 23 s", lines(head, whole(l), func(a at) string {
		return fmt.Sprintf("%s,%d,%d", a.who, a.n, int(a.value)/60*100+int(a.value)%60)
	}), "")
	d("apostrophe-minutes", "Trainee,Attempt,Zeit", "1'23 is 1 min 23 s, or not", lines("Trainee,Attempt,Zeit", whole(l), plain(",", minutes("%[1]d'%02[2]d"))), "")
	all[len(all)-1].Verdict, all[len(all)-1].Attempts = "read", whole(l)
	d("semicolon-minutes", "Trainee,Attempt,Zeit", "1;23", lines("Trainee,Attempt,Zeit", whole(l), plain(",", minutes("%[1]d;%02[2]d"))), "")
	d("slash-minutes", "Trainee,Attempt,Zeit", "1/23 is 1 min 23 s", lines("Trainee,Attempt,Zeit", whole(l), plain(",", minutes("%[1]d/%02[2]d"))), "")
	d("dash-minutes", "Trainee,Attempt,Zeit", "1-23 is 1 min 23 s", lines("Trainee,Attempt,Zeit", whole(l), plain(",", minutes("%[1]d-%02[2]d"))), "")
	d("m-ss-point-in-a-file-with-limit", "Trainee,Attempt,Zeit", "1.23 is 1 min 23 s", lines("Trainee,Attempt,Zeit", whole(l), plain(",", minutes("%[1]d.%02[2]d"))), "--times m.ss")
	all[len(all)-1].Attempts, all[len(all)-1].Flags = whole(l), append(all[len(all)-1].Flags, "--limit", "300")
	d("head-min-cells-colon", "Trainee,Attempt,Zeit [min]", "2:11 under minutes", lines("Trainee,Attempt,Zeit [min]", whole(l), plain(",", minutes("%[1]d:%02[2]d"))), "")
	all[len(all)-1].Verdict, all[len(all)-1].Attempts = "read", whole(l)
	d("head-ticks", "Trainee,Attempt,Zeit [kTicks]", "the unit is no time that anybody knows", lines("Trainee,Attempt,Zeit [kTicks]", l, plain(",", point)), "")
	d("head-hundredths-french", "Trainee,Attempt,Temps (1/100 s)", "hundredths of a second", lines("Trainee,Attempt,Temps (1/100 s)", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*100) })), "")
	for _, c := range []struct{ name, tail string }{{"s", " s"}, {"sec", "sec"}, {"sn", " sn"}, {"sek-dot", " Sek."}, {"秒", "秒"}, {"с", " с"}} {
		data := lines(head, l, plain(",", func(v float64) string { return point(v) + c.tail }))
		if c.name == "sn" || c.name == "с" || c.name == "秒" {
			t := doubt("8-unit-cell-"+fmt.Sprintf("%x", c.name), "log.csv", usual, data, l, "a unit that may not be known")
			t.Way = words("--unit-suffix " + strings.TrimSpace(c.tail))
			continue
		}
		read("8-unit-cell-"+c.name, "log.csv", usual, data, l)
	}
	read("8-unit-one-min-cells", "log.csv", usual, lines(head, whole(l), plain(",", minutes("%[1]d min %[2]d s"))), whole(l))
	read("8-unit-hours-shown", "log.csv", usual, lines(head, whole(l), plain(",", minutes("0:%02[1]d:%02[2]d"))), whole(l))
	d("percent-of-target", "Trainee,Attempt,Rate", "a percentage of the target time", lines("Trainee,Attempt,Rate", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f%%", v*0.9) })), "")
	negative := doubt("8-unit-under-target", "log.csv", usual, lines(head, with(l, func(a *at) { a.value = math.Round((a.value-120)*10) / 10 }), plain(",", point)), nil, "seconds above or below 120 s, negative below")
	negative.Verdict = "refuse"
	t := doubt("8-unit-999", "log.csv", usual+" --limit 300", lines(head, l, func(a at) string {
		if a.who == "U1" && a.n == 1 {
			return "U1,1,999"
		}
		return plain(",", point)(a)
	}), with(l, func(a *at) {
		if a.who == "U1" && a.n == 1 {
			a.value, a.outcome = 300, "timeout"
		}
	}), "999 is a code")
	t.Way = words("--code 999=timeout")
	t = doubt("8-unit-777", "log.csv", usual, lines(head, l, func(a at) string {
		if a.n == 1 && a.who != "U2" {
			return a.who + ",1,777"
		}
		return plain(",", point)(a)
	}), nil, "777 is a code")
	doubt("8-unit-0-for-dnf", "log.csv", usual, lines(head, l, func(a at) string {
		if a.n == 2 && a.who == "U2" {
			return "U2,2,0"
		}
		return plain(",", point)(a)
	}), nil, "0 stands for an attempt that was not finished")
	read("8-unit-over-limit-word", "log.csv", usual+" --limit 300 --code >300=timeout", lines(head, l, func(a at) string {
		if a.n == 1 && a.who == "U2" {
			return "U2,1,>300"
		}
		return plain(",", point)(a)
	}), with(l, func(a *at) {
		if a.n == 1 && a.who == "U2" {
			a.value, a.outcome = 300, "timeout"
		}
	}))
	doubt("8-unit-capped-for-some", "log.csv", usual, lines(head, with(l, func(a *at) { a.value = min(a.value, 120) }), plain(",", point)), nil, "times stop at 120 exactly, where attempts were stopped")
	doubt("8-unit-decimal-lost", "log.csv", usual, lines(head, l, func(a at) string {
		if a.who == "U3" && a.n > 3 {
			return fmt.Sprintf("U3,%d,%.0f", a.n, a.value*10)
		}
		return plain(",", point)(a)
	}), nil, "three times of U3 lost their decimal mark")
}

// columns8 are files with columns beside the usual ones.
func columns8() {
	l := log(160, 6, "C1", "C2", "C3", "C4")
	head := "Trainee,Attempt,Seconds,"
	d := func(name, column, about string, more func(a at) string) {
		doubt("8-col-"+name, "log.csv", usual, lines(head+column, l, row8(more)), nil, about)
	}
	p := func(name, column string, more func(a at) string) {
		read("8-col-"+name, "log.csv", usual, lines(head+column, l, row8(more)), l)
	}
	either := func(a, b string) func(x at) string {
		return func(x at) string {
			if x.n%2 == 0 {
				return b
			}
			return a
		}
	}
	half := func(a, b string) func(x at) string {
		return func(x at) string {
			if x.n > 3 {
				return b
			}
			return a
		}
	}
	d("hand-numbers", "Hand", "1 and 2 are hands in turn", either("1", "2"))
	d("hand-polish", "Ręka", "left and right in turn", either("lewa", "prawa"))
	d("hand-mark-left", "L", "a mark says left hand", func(a at) string {
		if a.n%3 == 0 {
			return "x"
		}
		return ""
	})
	d("task-numbers", "Nr zadania", "two tasks in turn", either("1", "2"))
	d("phase-numbers", "Evre", "phase 2 is the test", half("1", "2"))
	d("practice-test", "Typ", "practice and test", half("cvičení", "test"))
	d("aborted-mark", "Ab", "a mark says that attempts were aborted", func(a at) string {
		if a.who == "C2" && a.n == 2 || a.who == "C4" && a.n == 5 {
			return "a"
		}
		return ""
	})
	d("aborted-0-1", "Valide", "0 says that an attempt does not count", func(a at) string {
		if a.who == "C2" && a.n == 2 {
			return "0"
		}
		return "1"
	})
	d("assist", "Pomoc", "with help of an instructor in some", func(a at) string {
		if a.n < 3 {
			return "tak"
		}
		return "nie"
	})
	d("examiner-alternates", "Stoper", "two watches, one late by seconds", either("A", "B"))
	d("second-watch", "Watch 2", "a second watch, apart by up to 12 s", func(a at) string { return point(math.Round((a.value+float64(a.n*7%13)-6)*10) / 10) })
	d("with-penalty", "Wynik", "the result with 10 s for every error", func(a at) string { return point(math.Round((a.value+float64((a.n*3+int(a.who[1]))%3*10))*10) / 10) })
	d("always-plus-five", "Netto", "5 s for setting up taken off", func(a at) string { return point(math.Round((a.value-5)*10) / 10) })
	d("scaled", "Nach Eichung", "the watch runs 8 % fast", func(a at) string { return point(math.Round(a.value*9.2) / 10) })
	d("first-name", "Vorname", "C3 are two people", func(a at) string {
		if a.who == "C3" && a.n > 3 {
			return "Ida"
		}
		return map[string]string{"C1": "Uwe", "C2": "Eva", "C3": "Jan", "C4": "Ben"}[a.who]
	})
	d("colour-of-kit", "Kit", "kits in turn", func(a at) string { return []string{"rot", "blau", "grün"}[a.n%3] })
	d("date-runs-back", "Date", "attempt 4 of C1 is dated before attempt 3", func(a at) string {
		if a.who == "C1" && a.n == 4 {
			return "2026-03-02"
		}
		return fmt.Sprintf("2026-03-%02d", 3*a.n)
	})
	d("date-german-runs-back", "Datum", "C2 is numbered against the dates", func(a at) string {
		if a.who == "C2" {
			return fmt.Sprintf("%02d.03.2026", 28-3*a.n)
		}
		return fmt.Sprintf("%02d.03.2026", 9+3*a.n)
	})
	d("status-french", "Etat final", "one attempt was not finished", func(a at) string {
		if a.who == "C3" && a.n == 1 {
			return "non terminé"
		}
		return "terminé"
	})
	d("status-numbers", "Code", "2 says that the knot slipped", func(a at) string {
		if a.n == 2 && a.who < "C3" {
			return "2"
		}
		return "0"
	})
	d("consent", "Zustimmung", "C4 did not agree", func(a at) string {
		if a.who == "C4" {
			return "nein"
		}
		return "ja"
	})
	d("deleted", "gelöscht", "marked as deleted", func(a at) string {
		if a.who == "C1" && a.n == 6 {
			return "ja"
		}
		return ""
	})
	p("age", "Age", func(a at) string { return fmt.Sprint(20 + int(a.who[1]-'0')) })
	p("errors", "Errors", func(a at) string { return fmt.Sprint((a.n*5 + int(a.who[1])) % 4) })
	p("fehler", "Fehler", func(a at) string { return fmt.Sprint((a.n*5 + int(a.who[1])) % 3) })
	p("path-length", "Path (cm)", func(a at) string { return fmt.Sprint(400 + (a.n*137+int(a.who[1])*53)%211) })
	p("heart-rate", "Heart rate", func(a at) string { return fmt.Sprint(70 + (a.n*31+int(a.who[1])*17)%25) })
	p("year", "Year of study", func(a at) string { return fmt.Sprint(1 + int(a.who[1]-'0')%3) })
	p("room", "Room", func(a at) string { return "2.14" })
	p("date", "Date", func(a at) string { return fmt.Sprintf("2026-03-%02d", 3*a.n) })
	p("datetime", "Saved at", func(a at) string {
		return fmt.Sprintf("2026-03-%02dT%02d:%02d:11", 3*a.n, 8+int(a.who[1]-'0'), (a.n*17)%60)
	})
	p("row-id", "id", func(a at) string { return fmt.Sprint(1000 + int(a.who[1]-'0')*6 + a.n) })
	p("remarks-free", "Remarks", func(a at) string {
		if a.n == 1 && a.who == "C1" {
			return "asked good questions"
		}
		if a.n == 4 && a.who == "C3" {
			return "new gloves"
		}
		return ""
	})
	p("rating", "Self rating", func(a at) string { return fmt.Sprint(1 + (a.n+int(a.who[1]))%5) })
	// scores
	score := with(log(161, 6, "C1", "C2", "C3", "C4"), func(a *at) { a.value = math.Round(130 - a.value/2) })
	read("8-score-plain", "log.csv", "--trainee T --attempt N --response Score", lines("T,N,Score", score, plain(",", point)), score)
	doubt("8-score-points-lost", "log.csv", "--trainee T --attempt N --response Pkt --measure score", lines("T,N,Pkt", with(score, func(a *at) { a.value = 130 - a.value }), plain(",", point)), nil, "points lost: less is better")
	doubt("8-score-lost-and-got", "log.csv", "--trainee T --attempt N --response A --measure score", lines("T,N,A,B", score, func(a at) string { return fmt.Sprint(a.who, ",", a.n, ",", 130-a.value, ",", a.value) }), nil, "A are points lost of 130, B points got")
	doubt("8-score-two-scales-by-day", "log.csv", "--trainee T --attempt N --response Score --measure score", lines("T,N,Score,Form", score, func(a at) string {
		if a.n > 3 {
			return fmt.Sprintf("%s,%d,%.0f,B", a.who, a.n, a.value/5)
		}
		return fmt.Sprint(a.who, ",", a.n, ",", a.value, ",A")
	}), nil, "form B gives a fifth of the points of form A")
	doubt("8-score-pass-fails-coded", "log.csv", "--trainee T --attempt N --response F --measure pass-fail", lines("T,N,F", log(162, 12, "C1", "C2", "C3", "C4"), func(a at) string {
		if a.value > 95 {
			return fmt.Sprint(a.who, ",", a.n, ",1")
		}
		return fmt.Sprint(a.who, ",", a.n, ",0")
	}), nil, "1 is a fail")
	count := with(score, func(a *at) { a.value = math.Max(0, math.Round(9/float64(a.n))) })
	read("8-count-plain", "log.csv", "--trainee T --attempt N --response Errors --measure count", lines("T,N,Errors", count, plain(",", point)), count)
	doubt("8-count-blank-zero", "log.csv", "--trainee T --attempt N --response Errors --measure count", lines("T,N,Errors", count, func(a at) string {
		if a.n > 4 {
			return fmt.Sprint(a.who, ",", a.n, ",")
		}
		return plain(",", point)(a)
	}), nil, "blank stands for no error")
	end := with(l, func(a *at) {
		if a.who == "C2" && a.n == 3 {
			a.outcome = "failed"
		}
	})
	read("8-outcome-said", "log.csv", usual+" --outcome Ergebnis --code geschafft=done --code Faden~gerissen=failed", lines(head+"Ergebnis", end, row8(func(a at) string {
		if a.outcome == "failed" {
			return "Faden gerissen"
		}
		return "geschafft"
	})), end)
	// times of one trainee do not fall together with time of day
	doubt("8-clock-as-response", "log.csv", "--trainee Trainee --attempt Attempt --response Uhrzeit --measure time", lines("Trainee,Attempt,Uhrzeit", l, func(a at) string {
		return fmt.Sprintf("%s,%d,%02d:%02d:%02d", a.who, a.n, 9+a.n/3, (a.n*19+int(a.who[1]))%60, a.n*7)
	}), nil, "the time of day, not how long it took")
}

func books8() {
	l := log(170, 5, "W1", "W2", "W3", "W4")
	head := []any{"Trainee", "Attempt", "Seconds"}
	cells := func(a at) []any { return []any{a.who, a.n, a.value} }
	new8 := func() *book {
		b := newBook("data")
		b.log(head, l, cells)
		return b
	}
	b := new8()
	style := func(s *excelize.Style, cells ...string) {
		id, err := b.NewStyle(s)
		must(err)
		for _, c := range cells {
			must(b.SetCellStyle("data", c, c, id))
		}
	}
	style(&excelize.Style{Font: &excelize.Font{Strike: true}}, "A4", "B4", "C4")
	doubt("8-book-struck-row", "log.xlsx", usual, b.bytes(), nil, "a row is struck out")
	b = new8()
	style(&excelize.Style{Font: &excelize.Font{Color: "AAAAAA"}}, "C7", "C12")
	doubt("8-book-grey-text", "log.xlsx", usual, b.bytes(), nil, "two times are grey")
	b = new8()
	style(&excelize.Style{Font: &excelize.Font{Bold: true}}, "C7", "C12", "C3")
	doubt("8-book-bold-cells", "log.xlsx", usual, b.bytes(), nil, "three times are bold, which may mean something")
	b = new8()
	style(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFFF00"}}}, "A7", "B7", "C7")
	must(b.SetCellValue("data", "E2", "yellow = left hand"))
	doubt("8-book-yellow-legend", "log.xlsx", usual, b.bytes(), nil, "a yellow row is of the left hand")
	b = new8()
	must(b.AddComment("data", excelize.Comment{Cell: "C5", Author: "x", Text: "needle broke"}))
	doubt("8-book-comment", "log.xlsx", usual, b.bytes(), nil, "a comment says that the needle broke")
	b = new8()
	style(&excelize.Style{Font: &excelize.Font{Bold: true}, Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"DDDDDD"}}}, "A1", "B1", "C1")
	read("8-book-head-coloured", "log.xlsx", usual, b.bytes(), l)
	b = newBook("data")
	b.row("A1", "Trainee", "Attempt", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("B", i+2), a.n, a.value)
		if a.n == 1 {
			must(b.SetCellValue("data", fmt.Sprint("A", i+2), a.who))
			must(b.MergeCell("data", fmt.Sprint("A", i+2), fmt.Sprint("A", i+6)))
		}
	}
	read("8-book-merged-names", "log.xlsx", usual, b.bytes(), l)
	b = newBook("W1")
	for k, who := range []string{"W1", "W2", "W3", "W4"} {
		if k > 0 {
			b.next(who)
		}
		b.row("A1", "Attempt", "Seconds")
		for n := range 5 {
			b.row(fmt.Sprint("A", n+2), n+1, l[k*5+n].value)
		}
	}
	read("8-book-sheet-a-trainee", "log.xlsx", "--sheets-are trainee --attempt Attempt --response Seconds --measure time", b.bytes(), l)
	b = newBook("Woche 1")
	m := log(171, 6, "W1", "W2", "W3")
	for s := range 2 {
		if s > 0 {
			b.next("Woche 2")
		}
		b.row("A1", "Trainee", "Attempt", "Seconds")
		r := 2
		for _, a := range m {
			if (a.n-1)/3 == s {
				b.row(fmt.Sprint("A", r), a.who, (a.n-1)%3+1, a.value)
				r++
			}
		}
	}
	read("8-book-sheet-a-session", "log.xlsx", "--sheets-are session --trainee Trainee --attempt Attempt --response Seconds --measure time", b.bytes(), m)
	doubt("8-book-second-sheet-unread", "log.xlsx", usual, b.bytes(), nil, "the second sheet has more attempts")
	b = newBook("data")
	b.row("A1", "Session 1", nil, nil, nil, "Session 2")
	b.row("A2", "Trainee", "Run 1", "Run 2", "Run 3", "Run 1", "Run 2", "Run 3")
	must(b.MergeCell("data", "E1", "G1"))
	must(b.SetCellValue("data", "A1", nil))
	must(b.SetCellValue("data", "B1", "Session 1"))
	must(b.MergeCell("data", "B1", "D1"))
	for k := range 3 {
		r := []any{m[k*6].who}
		for n := range 6 {
			r = append(r, m[k*6+n].value)
		}
		b.row(fmt.Sprint("A", k+3), r...)
	}
	read("8-book-two-heads-sessions", "wide.xlsx", "--trainee Trainee --response Run --measure time", b.bytes(), m)
	b = newBook("data")
	b.log(head, whole(l), func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", "C21", "mm:ss")
	read("8-book-mm-ss", "log.xlsx", usual, b.bytes(), whole(l))
	b = newBook("data")
	b.log(head, l, func(a at) []any { return []any{a.who, a.n, strings.ReplaceAll(point(a.value), ".", ",")} })
	read("8-book-comma-text", "log.xlsx", usual, b.bytes(), l)
	b = newBook("data")
	b.log(head, l, cells)
	must(b.SetColVisible("data", "B", false))
	doubt("8-book-hidden-attempt", "log.xlsx", usual, b.bytes(), l, "the column with attempts is hidden")
	b = newBook("data")
	b.log([]any{"Trainee", "Attempt", "Seconds", "Result"}, l, func(a at) []any { return []any{a.who, a.n, a.value, ""} })
	must(b.SetCellFormula("data", "D2", "IF(C2>120,\"x\",\"\")"))
	read("8-book-unused-formula", "log.xlsx", usual, b.bytes(), l)
	b = newBook("notes")
	b.row("A1", "Course log 2026")
	b.row("A2", "See sheet data")
	b.next("data")
	b.log(head, l, cells)
	read("8-book-cover", "log.xlsx", usual, b.bytes(), l)
	b = newBook("data")
	b.row("B3", "Trainee", "Attempt", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("B", i+4), cells(a)...)
	}
	read("8-book-starts-at-B3", "log.xlsx", usual, b.bytes(), l)
	var rows []string
	rows = append(rows, odsRow(odsText("Trainee"), odsText("Attempt"), odsText("Seconds")))
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value)))
	}
	read("8-book-ods", "log.ods", usual, ods(rows...), l)
	rows = rows[:1]
	for _, a := range whole(l) {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), fmt.Sprintf(`<table:table-cell office:value-type="time" office:time-value="PT00H%02dM%02dS"><text:p>%02d:%02d</text:p></table:table-cell>`, int(a.value)/60, int(a.value)%60, int(a.value)/60, int(a.value)%60)))
	}
	read("8-book-ods-time", "log.ods", usual, ods(rows...), whole(l))
	type record struct {
		Trainee string  `parquet:"Trainee"`
		Attempt int64   `parquet:"Attempt"`
		Seconds float64 `parquet:"Seconds"`
	}
	var records []record
	for _, a := range l {
		records = append(records, record{a.who, int64(a.n), a.value})
	}
	read("8-book-parquet", "log.parquet", usual, parquetOf(records), l)
}

// people8 are about codes and groups.
func people8() {
	l := log(180, 5, "007", "008", "010", "011")
	read("8-who-zeros", "log.csv", usual, lines("Trainee,Attempt,Seconds", l, plain(",", point)), l)
	d := func(name, about string, rename func(a at) string) {
		doubt("8-who-"+name, "log.csv", usual, lines("Trainee,Attempt,Seconds", l, func(a at) string {
			a.who = rename(a)
			return plain(",", point)(a)
		}), nil, about)
	}
	d("zeros-lost-once", "7 and 007 are one", func(a at) string {
		if a.who == "007" && a.n == 5 {
			return "7"
		}
		return a.who
	})
	d("zero-width", "T1 and T1 with a joiner inside", func(a at) string {
		if a.n == 5 && a.who == "008" {
			return "00\u20608"
		}
		return a.who
	})
	all[len(all)-1].Verdict, all[len(all)-1].Attempts = "read", l
	d("second-surname", "Sol and Sol Rey are one", func(a at) string {
		n := map[string]string{"007": "Sol", "008": "Mar", "010": "Luz", "011": "Paz"}[a.who]
		if n == "Sol" && a.n > 3 {
			return "Sol Rey"
		}
		return n
	})
	d("examiner-rows", "Oak (examiner) is no trainee", func(a at) string {
		if a.who == "011" {
			return "Oak (examiner)"
		}
		return a.who
	})
	d("instructor-polish", "instruktor is no trainee", func(a at) string {
		if a.who == "011" {
			return "instruktor"
		}
		return a.who
	})
	d("demo-spanish", "demostración is no trainee", func(a at) string {
		if a.who == "011" {
			return "demostración"
		}
		return a.who
	})
	arms := map[string]string{"007": "sim", "008": "sim", "010": "box", "011": "box"}
	t := read("8-who-arms", "log.csv", usual+" --arm Arm", lines("Trainee,Attempt,Seconds,Arm", l, row8(func(a at) string { return arms[a.who] })), l)
	t.Arms = arms
	doubt("8-who-arms-spelled", "log.csv", usual+" --arm Arm", lines("Trainee,Attempt,Seconds,Arm", l, row8(func(a at) string {
		if a.who == "011" {
			return "Box "
		}
		return arms[a.who]
	})), nil, "box and Box are one arm")
	doubt("8-who-crossover", "log.csv", usual+" --arm Arm", lines("Trainee,Attempt,Seconds,Arm", log(181, 6, "Q1", "Q2", "Q3", "Q4"), row8(func(a at) string {
		if (a.n > 3) == (a.who > "Q2") {
			return "sim"
		}
		return "box"
	})), nil, "everybody changed over")
	m := log(182, 6, "Q1", "Q2", "Q3", "Q4")
	doubt("8-who-constant-for-one", "log.csv", usual, lines("Trainee,Attempt,Seconds", with(m, func(a *at) {
		if a.who == "Q3" && a.n > 1 {
			a.value = m[13].value
		}
	}), plain(",", point)), nil, "the times of Q3 are one number dragged down")
	doubt("8-who-twice-as-many", "log.csv", "--trainee Trainee --date Day --response Seconds --measure time", lines("Trainee,Day,Seconds", log(183, 4, "Q1", "Q2", "Q3", "Q4", "Q5", "Q2b"), func(a at) string {
		hour := 9
		if a.who == "Q2b" {
			a.who, hour = "Q2", 14
		}
		return fmt.Sprintf("%s,2026-05-%02d %02d:00,%v", a.who, a.n, hour, a.value)
	}), nil, "two people have the code Q2")
	t = read("8-who-experts-apart", ".", "", nil, m)
	x := log(184, 3, "E1", "E2", "E3")
	t.Experts = x
	study(t, "experts:\n  file: experts.csv\n", map[string][]byte{"experts.csv": lines("expert,attempt,seconds", x, plain(",", point))})
}

// raters8 are ratings in studies.
func raters8() {
	l := log(190, 5, "V1", "V2", "V3", "V4")
	base := []int{2, 3, 4, 1, 5, 3, 2, 4, 5, 1, 3, 4, 2, 5}
	noise := []int{0, 1, 0, -1, 0, 0, 1, 0, -1, 1, 0, 0, 1, -1}
	score := func(s, r int) int { return min(5, max(1, base[s]+noise[(s*3+r*5)%14])) }
	long := func(verdict, name, about, head string, cell func(s, r int) []string, keep bool) {
		t := put(verdict, "8-rate-"+name, ".", "", nil, l, about)
		var b bytes.Buffer
		b.WriteString(head + "\n")
		for s := range 14 {
			for r, rater := range []string{"Ash", "Elm", "Fir"} {
				b.WriteString(strings.Join(cell(s, r), ",") + "\n")
				if keep {
					t.Ratings = append(t.Ratings, [4]string{fmt.Sprint("C", s+1), rater, "global", fmt.Sprint(score(s, r))})
				}
			}
		}
		study(t, "ratings:\n  file: ratings.csv\n  subject: film\n  rater: judge\n  item: item\n  score: mark\n  items:\n    - {name: global, scale: ordinal}\n", map[string][]byte{"ratings.csv": bytes.Clone(b.Bytes())})
	}
	name := []string{"Ash", "Elm", "Fir"}
	long("read", "long-plain", "", "film,judge,item,mark", func(s, r int) []string {
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(score(s, r))}
	}, true)
	long("doubt", "one-of-ten", "Fir marks out of ten", "film,judge,item,mark", func(s, r int) []string {
		v := score(s, r)
		if r == 2 {
			v *= 2
		}
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(v)}
	}, false)
	long("doubt", "reversed", "Fir took 1 for best", "film,judge,item,mark", func(s, r int) []string {
		v := score(s, r)
		if r == 2 {
			v = 6 - v
		}
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(v)}
	}, false)
	long("doubt", "mean-as-judge", "Fir is the mean of the others", "film,judge,item,mark", func(s, r int) []string {
		v := float64(score(s, r))
		if r == 2 {
			v = float64(score(s, 0)+score(s, 1)) / 2
		}
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(v)}
	}, false)
	long("doubt", "constant", "Fir gives everybody 3", "film,judge,item,mark", func(s, r int) []string {
		v := score(s, r)
		if r == 2 {
			v = 3
		}
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(v)}
	}, false)
	long("doubt", "nine", "9 is: could not be seen", "film,judge,item,mark", func(s, r int) []string {
		v := score(s, r)
		if (s+r)%9 == 4 {
			v = 9
		}
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(v)}
	}, false)
	long("doubt", "shifted", "Fir's marks stand one film too low", "film,judge,item,mark", func(s, r int) []string {
		if r == 2 {
			return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(base[(s+13)%14])}
		}
		return []string{fmt.Sprint("C", s+1), name[r], "global", fmt.Sprint(base[s])}
	}, false)
	long("doubt", "task-beside", "two tasks of each film are mixed", "film,judge,item,mark,part", func(s, r int) []string {
		return []string{fmt.Sprint("C", s/2+1), name[r], "global", fmt.Sprint(score(s, r)), fmt.Sprint(s%2 + 1)}
	}, false)
}

// plain8 are more files about which nothing is to be asked.
func plain8() {
	for i, c := range []struct{ name, flags, head, sep string }{
		{"semicolon", usual, "Trainee;Attempt;Seconds", ";"}, {"bar", usual, "Trainee|Attempt|Seconds", "|"}, {"tab", usual, "Trainee\tAttempt\tSeconds", "\t"},
	} {
		l := log(200+i, 8, "P01", "P02", "P03", "P04", "P05", "P06")
		read("8-plain-"+c.name, "log.csv", c.flags, lines(c.head, l, plain(c.sep, point)), l)
	}
	many := log(210, 15, "R1", "R2", "R3", "R4", "R5", "R6", "R7", "R8", "R9", "R10", "R11", "R12")
	read("8-plain-many", "log.csv", usual, lines("Trainee,Attempt,Seconds", many, plain(",", point)), many)
	read("8-plain-many-whole", "log.csv", usual, lines("Trainee,Attempt,Seconds", whole(many), plain(",", point)), whole(many))
	uneven := append(append([]at{}, many[:9]...), many[15:40]...)
	read("8-plain-uneven", "log.csv", usual, lines("Trainee,Attempt,Seconds", uneven, plain(",", point)), uneven)
	read("8-plain-limit", "log.csv", usual+" --limit 120", lines("Trainee,Attempt,Seconds", with(many, func(a *at) { a.value = min(a.value, 120) }), plain(",", point)), with(many, func(a *at) {
		if a.value >= 120 {
			a.value, a.outcome = 120, "timeout"
		}
	}))
	read("8-plain-single-series", "log.csv", "--attempt Run --response Time --measure time", lines("Run,Time", many[:15], func(a at) string { return fmt.Sprint(a.n, ",", a.value) }), with(many[:15], func(a *at) { a.who = "" }))
}
