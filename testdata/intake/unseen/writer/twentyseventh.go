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
)

func twentyseventh() {
	texts27()
	plainer27()
	more27()
	workbooks27()
	shown27()
	clocks27()
	habits27()
	programs27()
	unreadable27()
	marks27()
	studies27()
}

// curve27 makes up attempts of a task from about start to about plateau seconds, in tenths: each trainee learns at
// a rate of their own, and what chance adds is a part of the time, so that it goes up again now and then.
func curve27(seed uint64, n int, start, plateau float64, who ...string) []at {
	r := rand.New(rand.NewPCG(seed, 27))
	z := func(spread float64) float64 { return math.Exp(spread * max(-1.9, min(1.9, r.NormFloat64()))) }
	var out []at
	for _, w := range who {
		first, last, rate := start*z(0.13), plateau*z(0.12), 0.25+0.4*r.Float64()
		for i := 1; i <= n; i++ {
			v := (last + (first-last)*math.Exp(-rate*float64(i-1))) * z(0.09)
			out = append(out, at{w, i, math.Round(v*10) / 10, "done"})
		}
	}
	return out
}

// counts27 makes up faults that become fewer, as chance has them.
func counts27(seed uint64, n int, who ...string) []at {
	r := rand.New(rand.NewPCG(seed, 28))
	return with(curve27(seed, n, 8, 1.6, who...), func(a *at) {
		count := 0.0
		for range 40 {
			if r.Float64() < a.value/40 {
				count++
			}
		}
		a.value = count
	})
}

// usual27 is a task of about two and a half minutes at first and one in the end.
func usual27(seed uint64, n int, who ...string) []at { return curve27(seed, n, 150, 62, who...) }

func whole27(l []at) []at { return rounded(l, 1) }

// clock27 is seconds since midnight as a time of day.
func clock27(s float64) string {
	return fmt.Sprintf("%02d:%02d:%02d", int(s)/3600, int(s)/60%60, int(s)%60)
}

// tenths27 keeps a number to tenths.
func tenths27(v float64) float64 { return math.Round(v*10) / 10 }

// is27 says whether an attempt is one of these, written "who n".
func is27(those ...string) func(a at) bool {
	return func(a at) bool { return slices.Contains(those, fmt.Sprint(a.who, " ", a.n)) }
}

// long27 is the usual long sheet.
func long27(sheet string, head []any, l []at, v func(a at) any) *book {
	b := newBook(sheet)
	b.log(head, l, func(a at) []any { return []any{a.who, a.n, v(a)} })
	return b
}

// fill27 is a style of a coloured cell.
func fill27(colour string) *excelize.Style {
	return &excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}}
}

// texts27: text tables with nothing wrong.
func texts27() {
	l := usual27(1, 8, numbered("BX%02d", 8)...)
	read("27-vietnamese", "khâu.csv", "--trainee Mã --attempt Lần --response Giây --measure time",
		append([]byte("\xef\xbb\xbf"), crlf(lines("Mã;Lần;Giây", l, plain(";", oneDigitComma)))...), l)

	l = usual27(2, 7, numbered("PT%d", 8)...)
	read("27-minutes-and-tenths", "pontos.tsv", "--trainee aluno --attempt vez --response tempo --measure time --limit 300",
		lines("aluno\tvez\ttempo", l, plain("\t", minutes("%d:%02d,%d"))), l)

	l = usual27(3, 9, numbered("IZ%d", 8)...)
	t := read("27-turkish-arms", "dikiş.csv", "--trainee Öğrenci --attempt Deneme --arm Grup --response Süre~(sn) --measure time",
		lines("Öğrenci;Grup;Deneme;Süre (sn)", l, func(a at) string {
			arm := "görüntülü"
			if a.who > "IZ4" {
				arm = "eğitmenli"
			}
			return joined(";", a.who, arm, a.n, oneDigitComma(a.value))
		}), l)
	t.Arms = map[string]string{"IZ1": "görüntülü", "IZ2": "görüntülü", "IZ3": "görüntülü", "IZ4": "görüntülü",
		"IZ5": "eğitmenli", "IZ6": "eğitmenli", "IZ7": "eğitmenli", "IZ8": "eğitmenli"}

	l = usual27(4, 7, numbered("ЛВ-%02d", 7)...)
	read("27-ukrainian-two-bytes", "вузли.txt", "--trainee Учень --attempt Спроба --response Секунди --measure time",
		inUTF16(binary.LittleEndian, true, crlf(lines("Учень\tСпроба\tСекунди", l, plain("\t", oneDigitComma)))), l)

	l = usual27(5, 6, numbered("r%02d", 9)...)
	read("27-dates-with-zone", "bench.csv", "--trainee user --attempt attempt --date started_at --response seconds --measure time --limit 300",
		lines("user,attempt,started_at,seconds", l, func(a at) string {
			return joined(",", a.who, a.n, date(2, 3).AddDate(0, 0, 2*(a.n-1)).Add(8*time.Hour+time.Duration(700*int(a.who[2]-'0')+97*a.n)*time.Second).Format("2006-01-02T15:04:05")+"+02:00", oneDigit(a.value))
		}), l)

	l = usual27(6, 8, numbered("TG%d", 7)...)
	back := slices.Clone(l)
	slices.Reverse(back)
	read("27-newest-first", "letzte.csv", "--trainee Kürzel --attempt Versuch --date Tag --response Sekunden --measure time",
		lines("Tag;Kürzel;Versuch;Sekunden", back, func(a at) string {
			return joined(";", date(4, 1).AddDate(0, 0, 3*a.n).Format("02.01.2006"), a.who, a.n, oneDigitComma(a.value))
		}), l)

	l = usual27(7, 6, numbered("202604%04d", 9)...)
	read("27-long-codes", "matrículas.csv", "--trainee matrícula --attempt ensayo --response segundos --measure time",
		lines("matrícula,ensayo,segundos", l, plain(",", oneDigit)), l)

	l = usual27(8, 6, "Ortuño, Inés", "Vela, Bruno", "Arce, Dalia", "Zúñiga, Teo", "Pardo, Nora", "Quesada, Iván")
	read("27-names-with-commas", "lista.csv", "--trainee alumno --attempt intento --response segundos --measure time",
		lines("alumno,intento,segundos", l, func(a at) string { return fmt.Sprintf("%q,%d,%s", a.who, a.n, oneDigit(a.value)) }), l)

	l = with(stopped(curve27(9, 9, 190, 75, numbered("DU%d", 9)...), 210), func(a *at) {
		if is27("DU2 3", "DU5 2", "DU8 6")(*a) {
			a.outcome = "failed"
		}
	})
	said := map[string]string{"done": "completed", "failed": "failed", "timeout": "timed out"}
	read("27-said-in-english", "results.csv", "--trainee id --attempt attempt --response seconds --outcome result --measure time --limit 210",
		lines("id,attempt,seconds,result", l, func(a at) string { return joined(",", a.who, a.n, oneDigit(a.value), said[a.outcome]) }), l)

	points := with(curve27(10, 8, 75, 30, numbered("SK%d", 8)...), func(a *at) { a.value = math.Round(max(5, 100-a.value)) })
	read("27-points-up", "punkty.csv", "--trainee kod --measure score",
		wide(headLine("kod", ";", "próba %d", 8), ";", points, wholeHalfEven), points)

	drops := counts27(11, 9, numbered("W%02d", 8)...)
	read("27-drops", "gouttes.csv", "--trainee code --measure count",
		wide(headLine("code", ",", "essai %d", 9), ",", drops, wholeHalfEven), drops)

	l = usual27(12, 7, numbered("HB%d", 8)...)
	read("27-heads-z", "nähen.csv", "--trainee Code --heads Z=time --measure time",
		wide(headLine("Code", ";", "Z%d", 7), ";", l, oneDigitComma), l)

	l = usual27(13, 8, numbered("cam%d", 7)...)
	read("27-milliseconds", "rig.csv", "--trainee operator --attempt run --response duration_ms --measure time",
		lines("operator,run,duration_ms", l, plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*1000) })), l)

	l = usual27(14, 7, numbered("TR%02d", 7)...)
	read("27-hours-to-tenths", "knuter-2.csv", "--trainee kode --attempt forsøk --response varighet --measure time --limit 300",
		lines("kode;forsøk;varighet", l, plain(";", minutes("00:%02d:%02d,%d"))), l)

	l = whole27(usual27(15, 6, numbered("JP%d", 7)...))
	hindi := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r - '0' + '०'
			}
			return r
		}, s)
	}
	read("27-hindi-digits", "टांके.csv", "--trainee कोड --attempt प्रयास --response सेकंड --measure time",
		lines("कोड,प्रयास,सेकंड", l, func(a at) string { return joined(",", a.who, hindi(fmt.Sprint(a.n)), hindi(wholeHalfEven(a.value))) }), l)

	l = usual27(16, 9, numbered("GE%d", 7)...)
	read("27-days-and-tries", "dagen.csv", "--trainee code --session dag --attempt poging --response seconden --measure time",
		lines("code;dag;poging;seconden", l, func(a at) string {
			return joined(";", a.who, (a.n-1)/3+1, (a.n-1)%3+1, oneDigitComma(a.value))
		}), l)

	l = usual27(17, 6, numbered("QR%d", 8)...)
	read("27-padded-by-a-database", "export.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		crlf(lines("trainee   ,attempt   ,seconds   ", l, func(a at) string { return fmt.Sprintf("%-10s,%10d,%10.2f", a.who, a.n, a.value) })), l)

	l = usual27(18, 7, numbered("ΠΑ%02d", 7)...)
	read("27-all-quoted", "βελόνα.csv", "--trainee Μαθητής --attempt Δοκιμή --response Δευτερόλεπτα --measure time",
		crlf(lines(`"Μαθητής";"Δοκιμή";"Δευτερόλεπτα"`, l, func(a at) string { return fmt.Sprintf(`"%s";"%d";"%s"`, a.who, a.n, oneDigitComma(a.value)) })), l)

	l = usual27(19, 20, numbered("N%03d", 40)...)
	read("27-forty-by-twenty", "cohort.csv", "--trainee id --attempt n --response seconds --measure time",
		lines("id,n,seconds", l, plain(",", oneDigit)), l)

	l = usual27(20, 18, "Pia", "Ulf", "Rut")
	read("27-three-people", "övning.csv", "--trainee vem --attempt gång --response sekunder --measure time",
		lines("vem;gång;sekunder", l, plain(";", oneDigitComma)), l)

	l = usual27(21, 7, "N'Dala 1", "M'Bero 2", "O'Shay 3", "D'Arvi 4", "L'Hiver 5", "Q'ero 6")
	read("27-apostrophes", "noms.csv", "--trainee nom --measure time",
		wide(headLine("nom", ",", "tour %d", 7), ",", l, oneDigit), l)

	l = usual27(22, 7, numbered("KU%d", 7)...)
	read("27-days-without-numbers", "ompelu.csv", "--trainee koodi --date päivä --response sekuntia --measure time",
		lines("koodi;päivä;sekuntia", l, func(a at) string {
			return joined(";", a.who, date(1, 8).AddDate(0, 0, 7*a.n).Format("2.1.2006"), oneDigitComma(a.value))
		}), l)

	l = usual27(23, 10, numbered("EB%d", 8)...)
	r := rand.New(rand.NewPCG(23, 23))
	read("27-lanes-by-lot", "lanes.csv", "--trainee id --attempt attempt --response seconds --measure time",
		lines("id,attempt,lane,examiner,seconds", l, func(a at) string {
			return joined(",", a.who, a.n, r.IntN(4)+1, []string{"Moss", "Lind", "Okoro"}[r.IntN(3)], oneDigit(a.value))
		}), l)

	l = with(usual27(24, 9, numbered("VR%d", 7)...), func(a *at) {
		if is27("VR3 6")(*a) {
			a.value = tenths27(a.value * 1.6)
		}
	})
	read("27-one-bad-go", "knopen.csv", "--trainee code --attempt beurt --response seconden --measure time",
		lines("code,beurt,seconden", l, plain(",", oneDigit)), l)

	l = usual27(25, 11, numbered("FX%d", 6)...)
	order := []int{1, 10, 11, 2, 3, 4, 5, 6, 7, 8, 9}
	sorted := func(first, sep, format string, order []int, l []at, cell func(v float64) string) []byte {
		var b bytes.Buffer
		b.WriteString(first)
		for _, n := range order {
			fmt.Fprintf(&b, sep+format, n)
		}
		for _, who := range traineesOf(l) {
			b.WriteString("\n" + who)
			for _, n := range order {
				b.WriteString(sep + cell(attemptsOf(l, who)[n-1].value))
			}
		}
		b.WriteString("\n")
		return b.Bytes()
	}
	read("27-heads-in-word-order", "pivot.csv", "--trainee id --measure time", sorted("id", ",", "trial %d", order, l, oneDigit), l)

	l = usual27(26, 7, numbered("LJ%d", 7)...)
	read("27-heads-backwards", "šivanje.csv", "--trainee oznaka --measure time",
		sorted("oznaka", ";", "poskus %d", []int{7, 6, 5, 4, 3, 2, 1}, l, oneDigitComma), l)

	l = usual27(27, 5, numbered("KS%d", 8)...)
	read("27-remark-of-two-lines", "werkstatt.csv", "--trainee Code --attempt Versuch --response Sekunden --measure time",
		lines("Code;Versuch;Sekunden;Raum", l, func(a at) string {
			room := "Werkstatt 2"
			if a.n == 1 {
				room = "\"Werkstatt 1,\nErdgeschoss\""
			}
			return joined(";", a.who, a.n, oneDigitComma(a.value), room)
		}), l)

	l = usual27(28, 6, numbered("CT%02d", 8)...)
	read("27-age-and-hand", "sutura.csv", "--trainee sigla --attempt prova --response secondi --measure time",
		lines("sigla,età,mano,anno di corso,prova,secondi", l, func(a at) string {
			k := int(a.who[3] - '0')
			hand := "destra"
			if k == 4 {
				hand = "sinistra"
			}
			return joined(",", a.who, 19+k*3%7, hand, 1+k%3, a.n, oneDigit(a.value))
		}), l)

	l = with(curve27(29, 10, 22, 9.5, numbered("f%d", 8)...), func(a *at) { a.value = math.Round(a.value*100+float64(a.n*7%10)) / 100 })
	read("27-quick-task", "fastener.csv", "--trainee fitter --attempt go --response time_s --measure time --limit 60",
		lines("fitter,go,time_s", l, plain(",", fixed(2))), l)

	l = whole27(curve27(30, 6, 1700, 900, numbered("OP%d", 7)...))
	read("27-half-hour-task", "drôt.csv", "--trainee kód --attempt pokus --response trvání --measure time --limit 3600",
		lines("kód;pokus;trvání", l, plain(";", func(v float64) string { return fmt.Sprintf("%d:%02d:%02d", int(v)/3600, int(v)/60%60, int(v)%60) })), l)

	type run struct {
		Trainee string  `parquet:"trainee"`
		Run     int32   `parquet:"run"`
		Seconds float64 `parquet:"seconds"`
		Outcome string  `parquet:"outcome,dict"`
	}
	l = stopped(curve27(31, 8, 205, 80, numbered("pw%02d", 8)...), 200)
	var runs []run
	for _, a := range l {
		runs = append(runs, run{a.who, int32(a.n), a.value, a.outcome})
	}
	read("27-parquet-outcome", "runs.parquet", "--trainee trainee --attempt run --response seconds --outcome outcome --measure time --limit 200",
		parquetKept("27-parquet-outcome", "runs.parquet", runs), l)
}

// workbooks27: workbooks with nothing wrong.
func workbooks27() {
	l := usual27(40, 7, numbered("BR%d", 8)...)
	read("27-best-of-each", "drát.xlsx", "--trainee Kód --measure time", office("27-best-of-each", "drát.xlsx", func() []byte {
		b := newBook("List1")
		b.row("A1", append(headCells("Kód", "%d. pokus", 7), "Nejlepší")...)
		for r, end := 2, b.wide(2, l, value); r < end; r++ {
			must(b.SetCellFormula(b.sheet, fmt.Sprint("I", r), fmt.Sprintf("MIN(B%d:H%d)", r, r)))
		}
		return b.bytes()
	}()), l)

	l = usual27(41, 8, "נועה", "איתן", "תמר", "יואב", "שירה", "אורי")
	b := newBook("גיליון1")
	b.row("A1", "ניסיון", "נועה", "איתן", "תמר", "יואב", "שירה", "אורי")
	for i, a := range l {
		b.put(1, a.n+1, a.n)
		b.put(i/8+2, a.n+1, a.value)
	}
	read("27-hebrew-columns", "תפירה.xlsx", "--columns-are trainee --attempt ניסיון --measure time", b.bytes(), l)

	l = usual27(42, 8, numbered("OV%d", 8)...)
	early := func(a at) bool { return a.who == "OV3" && a.n > 6 || a.who == "OV7" && a.n > 5 }
	left := without(l, early)
	b = newBook("Nudos")
	b.row("A1", headCells("Clave", "Intento %d", 8)...)
	b.wide(2, left, value)
	read("27-two-stopped-early", "nudos.xlsx", "--trainee Clave --measure time", b.bytes(), left)

	l = usual27(43, 6, numbered("WI%d", 8)...)
	b = long27("Daten", []any{"Code", "Versuch", "Sekunden"}, l, value)
	b.next("Legende")
	b.row("A1", "Spalte", "Bedeutung")
	b.row("A2", "Code", "Kürzel der Teilnehmenden")
	b.row("A3", "Versuch", "Nummer des Versuchs, fortlaufend")
	b.row("A4", "Sekunden", "vom Signal bis zum Ablegen der Zange")
	read("27-legend-that-agrees", "zangen.xlsx", "--sheet Daten --trainee Code --attempt Versuch --response Sekunden --measure time", b.bytes(), l)

	l = whole27(usual27(44, 6, numbered("TA%d", 8)...))
	b = newBook("Leht1")
	b.row("A1", "Kood", "Katse", "Kuupäev", "Algus", "Lõpp", "Sekundid")
	for i, a := range l {
		start := float64(9*3600 + (i/6)*840 + (137*a.n+53*(i/6))%290)
		b.row(fmt.Sprint("A", i+2), a.who, a.n, serial18(date(3, 2).AddDate(0, 0, 2*(a.n-1))), start/86400, (start+a.value)/86400, a.value)
	}
	b.format("C2", "C49", "dd.mm.yyyy")
	b.format("D2", "E49", "hh:mm:ss")
	read("27-start-end-and-seconds", "sõlmed.xlsx", "--trainee Kood --attempt Katse --date Kuupäev --response Sekundid --measure time --limit 300", b.bytes(), l)

	l = usual27(45, 7, numbered("GD%d", 8)...)
	b = newBook("Arkusz1")
	b.row("A1", append([]any{"Kod", "Grupa"}, headCells("", "Próba %d", 7)[1:]...)...)
	arms := map[string]string{}
	for i, a := range l {
		arms[a.who] = []string{"rozłożona", "skupiona"}[i/7%2]
		b.put(1, i/7+2, a.who)
		b.put(2, i/7+2, arms[a.who])
		b.put(a.n+2, i/7+2, a.value)
	}
	read("27-arm-in-a-wide-sheet", "węzły.xlsx", "--trainee Kod --arm Grupa --measure time", b.bytes(), l).Arms = arms

	l = whole27(usual27(46, 6, numbered("UT%d", 8)...))
	read("27-clock-cells-wide", "mérés.ods", "--trainee Kód --measure time --limit 300", office("27-clock-cells-wide", "mérés.ods", func() []byte {
		b := newBook("Mérés")
		b.row("A1", headCells("Kód", "%d. kör", 6)...)
		b.wide(2, l, ofDay)
		b.format("B2", "G9", "[m]:ss")
		return b.bytes()
	}()), l)

	l = usual27(47, 6, numbered("AR%d", 7)...)
	b = long27("Ark1", []any{"Kode", "Forsøg", "Sekunder"}, l, value)
	for r := 2; r <= 43; r += 2 { // bands of colour, for the eye alone
		b.style(fill27("E8EEF7"), fmt.Sprint("A", r), fmt.Sprint("C", r))
	}
	read("27-banded-rows", "knude.xlsx", "--trainee Kode --attempt Forsøg --response Sekunder --measure time", b.bytes(), l)
}

// shown27: what a title, a legend, a colour, a note or a number format says beside the cells.
func shown27() {
	flags := "--trainee Code --attempt Versuch --response Zeit --measure time"
	head := []any{"Code", "Versuch", "Zeit"}

	l := usual27(60, 7, numbered("HH%d", 7)...)
	b := newBook("Blatt1")
	b.row("A1", "Knotenprüfstand, Zeiten in Zehntelsekunden")
	b.row("A3", head...)
	for i, a := range l {
		b.row(fmt.Sprint("A", i+4), a.who, a.n, math.Round(a.value*10))
	}
	doubt("27-title-says-tenths", "prüfstand.xlsx", flags, b.bytes(), l, "cell A1 says that the times are tenths of a second (Zehntelsekunden)")

	l = usual27(61, 6, numbered("LE%d", 8)...)
	red := is27("LE2 4", "LE3 1", "LE6 5", "LE7 2")
	b = long27("Zeiten", head, l, value)
	for i, a := range l {
		if red(a) {
			b.style(fill27("FF0000"), fmt.Sprint("C", i+2), fmt.Sprint("C", i+2))
		}
	}
	b.row("E2", "rot = Nadel gebrochen, zählt nicht")
	doubt("27-red-does-not-count", "rot.xlsx", flags, b.bytes(), without(l, red), "cell E2: red cells (C11, C14, C36, C39) do not count, the needle broke")

	l = with(usual27(62, 7, numbered("CH%d", 7)...), func(a *at) { a.value = math.Round(a.value/6) * 6 })
	b = long27("Planilha1", []any{"Código", "Tentativa", "Tempo"}, l, func(a at) any { return math.Round(a.value/6) / 10 })
	b.format("C2", "C50", `0.0" min"`)
	doubt("27-minutes-by-format", "chaves.xlsx", "--trainee Código --attempt Tentativa --response Tempo --measure time", b.bytes(), l,
		"column Tempo: the number format shows minutes (2.4 min)")

	l = usual27(63, 6, numbered("NM%d", 8)...)
	struck := is27("NM1 3", "NM4 2", "NM4 6")
	b = long27("Feuil1", []any{"Code", "Essai", "Secondes"}, l, value)
	for i, a := range l {
		if struck(a) {
			b.style(&excelize.Style{Font: &excelize.Font{Strike: true}}, fmt.Sprint("A", i+2), fmt.Sprint("C", i+2))
		}
	}
	doubt("27-struck-through", "nœuds.xlsx", "--trainee Code --attempt Essai --response Secondes --measure time", b.bytes(), without(l, struck),
		"rows 4, 21 and 25 (NM1 3, NM4 2, NM4 6) are struck through")

	l = usual27(64, 7, numbered("GL%d", 7)...)
	noted := is27("GL3 4", "GL5 4")
	b = long27("Log", []any{"id", "attempt", "seconds"}, l, func(a at) any {
		if noted(a) {
			return tenths27(a.value - 30)
		}
		return a.value
	})
	must(b.AddComment(b.sheet, excelize.Comment{Cell: "C19", Author: "bench", Text: "clock started late, about 30 s missing"}))
	must(b.AddComment(b.sheet, excelize.Comment{Cell: "C33", Author: "bench", Text: "same here, do not use"}))
	doubt("27-notes-on-cells", "log-book.xlsx", "--trainee id --attempt attempt --response seconds --measure time", b.bytes(),
		without(l, noted), "notes on the cells C19 and C33: the clock was started late, do not use")

	l = usual27(65, 8, numbered("RO%d", 7)...)
	doubt("27-comment-of-another-clock", "stoppuhr.csv", flags,
		append([]byte("# Stoppuhr ab Versuch 5 defekt: Zeiten der Versuche 5 bis 8 geschätzt\n"), lines("Code;Versuch;Zeit", l, func(a at) string {
			if a.n > 4 {
				return joined(";", a.who, a.n, wholeHalfEven(math.Round(a.value/10)*10))
			}
			return plain(";", oneDigitComma)(a)
		})...), nil, "the comment above: attempts 5 to 8 were estimated since the stopwatch was broken (all of them full tens)")

	l = usual27(66, 7, numbered("ZG%d", 7)...)
	b = long27("Vremena", []any{"Šifra", "Pokušaj", "Sekunde"}, l, value)
	fixed := with(l, func(a *at) {
		if is27("ZG2 1", "ZG2 2", "ZG5 4", "ZG6 7", "ZG7 3")(*a) {
			a.value = tenths27(a.value + 17.4)
		}
	})
	b.next("Vremena ispravljena")
	b.log([]any{"Šifra", "Pokušaj", "Sekunde"}, fixed, longRow)
	doubt("27-corrected-sheet", "čvorovi.xlsx", "--trainee Šifra --attempt Pokušaj --response Sekunde --measure time", b.bytes(), fixed,
		"the second sheet (Vremena ispravljena: times corrected) holds the same attempts with five other times")

	l = usual27(67, 6, numbered("PE%d", 8)...)
	b = newBook("Munka1")
	b.row("A1", headCells("Kód", "%d. próba", 6)...)
	b.row("A2", "", "mp", "mp", "mp", "perc", "perc", "perc")
	l = with(l, func(a *at) {
		if a.n > 3 {
			a.value = math.Round(a.value/0.6) * 0.6
			a.value = tenths27(a.value)
		}
	})
	b.wide(3, l, func(a at) any {
		if a.n > 3 {
			return math.Round(a.value/0.6) / 100
		}
		return a.value
	})
	doubt("27-units-change", "csomók.xlsx", "--trainee Kód --measure time", b.bytes(), l, "row 2: the units are seconds (mp) in columns B to D, minutes (perc) in E to G")

	l = usual27(68, 6, numbered("SE%d", 8)...)
	b = newBook("Hoja1")
	b.row("A1", "Código", "Intento", "Min", "Seg", "Total (s)")
	l = whole27(l)
	for i, a := range l {
		total := a.value
		if is27("SE3 4")(a) {
			total += 60
		}
		b.row(fmt.Sprint("A", i+2), a.who, a.n, math.Floor(a.value/60), math.Mod(a.value, 60), total)
	}
	doubt("27-total-does-not-agree", "puntos.xlsx", "--trainee Código --attempt Intento --response Total~(s) --measure time", b.bytes(), nil,
		"row 17 (SE3, 4): Total (s) is 60 more than Min and Seg say")

	l = usual27(69, 7, numbered("OD%d", 7)...)
	b = newBook("Data")
	b.row("A1", headCells("Kode", "Forsøg %d", 7)...)
	b.wide(2, l, value)
	for n := 7; n >= 1; n-- { // the row of OD4 was pushed one cell to the right
		b.put(n+2, 5, l[21+n-1].value)
	}
	must(b.SetCellValue(b.sheet, "B5", nil))
	doubt("27-row-pushed-right", "sting.xlsx", "--trainee Kode --measure time", b.bytes(), l, "row 5 (OD4) stands one cell too far to the right: B5 is empty, I5 has no head")

	l = usual27(70, 7, numbered("VI%d", 8)...)
	b = newBook("Taul1")
	b.row("A1", headCells("Koodi", "Kerta %d", 7)...)
	b.wide(2, without(l, func(a at) bool { return a.n == 4 }), value)
	for r := 2; r < 10; r++ { // the values after the fourth belong one cell further
		for c := 7; c >= 5; c-- {
			v, err := b.GetCellValue(b.sheet, cellName(c, r))
			must(err)
			b.put(c+1, r, number(v))
		}
		must(b.SetCellValue(b.sheet, cellName(5, r), nil))
	}
	doubt("27-an-attempt-of-nobody", "langat.xlsx", "--trainee Koodi --measure time", b.bytes(), without(l, func(a at) bool { return a.n == 4 }),
		"column E (Kerta 4) is empty for everybody although attempts 5 to 7 follow")
}

// clocks27: what dates and times of day say against the seconds and the numbers of the attempts.
func clocks27() {
	l := whole27(usual27(80, 7, numbered("RX%d", 8)...))
	late := func(a at) bool { return a.who == "RX3" || a.who == "RX6" }
	i := 0
	doubt("27-start-and-end-disagree", "nudos-2.csv", "--trainee id --attempt n --response seconds --measure time",
		lines("id,n,examiner,start,end,seconds", l, func(a at) string {
			start := float64(9*3600 + 310*i)
			i++
			examiner, written := "Abreu", a.value
			if late(a) {
				examiner, written = "Falk", a.value-40
			}
			return joined(",", a.who, a.n, examiner, clock27(start), clock27(start+a.value), wholeHalfEven(written))
		}), l, "the rows of examiner Falk (RX3, RX6): end minus start is 40 s more than seconds says")

	l = usual27(81, 6, numbered("KR%d", 8)...)
	doubt("27-days-turned", "knoten.csv", "--trainee Kürzel --attempt Nr --date Datum --response Sekunden --measure time",
		lines("Kürzel;Nr;Datum;Sekunden", l, func(a at) string {
			n := a.n
			if a.who == "KR5" {
				n = 7 - n
			}
			return joined(";", a.who, a.n, date(5, 1).AddDate(0, 0, 2*n).Format("02.01.2006"), oneDigitComma(a.value))
		}), nil, "the dates of KR5 fall from attempt 1 to attempt 6, those of all others rise")

	l = usual27(82, 6, numbered("TE%d", 7)...)
	doubt("27-month-and-day-swapped", "sesiones.csv", "--trainee clave --attempt sesión --date fecha --response segundos --measure time",
		lines("clave,sesión,fecha,segundos", l, func(a at) string {
			day := date(3, 2).AddDate(0, 0, a.n-1)
			if a.who > "TE4" && a.n > 3 { // typed on another computer
				day = date(time.Month(day.Day()), 3)
			}
			return joined(",", a.who, a.n, day.Format("2006-01-02"), oneDigit(a.value))
		}), l, "the dates of TE5 to TE7, sessions 4 to 6, have month and day swapped (2026-05-03 for 2026-03-05)")

	l = usual27(83, 6, numbered("MC%d", 7)...)
	doubt("27-splits", "pièces-chrono.csv", "--trainee code --attempt pièce --response chrono --measure time",
		lines("code;pièce;chrono", func() []at {
			sum := 0.0
			return with(l, func(a *at) {
				if a.n == 1 {
					sum = 0
				}
				sum = tenths27(sum + a.value)
				a.value = sum
			})
		}(), plain(";", oneDigitComma)), l, "column chrono runs on from piece to piece: each time holds those before it")

	l = usual27(84, 8, numbered("EF%d", 7)...)
	doubt("27-time-left", "rest.csv", "--trainee Code --attempt Versuch --response Restzeit --measure time --limit 240",
		lines("Code;Versuch;Restzeit", l, plain(";", func(v float64) string { return oneDigitComma(240 - v) })), l,
		"column Restzeit is the time left of 240 s, not the time taken")

	l = usual27(85, 8, numbered("SZ%d", 7)...)
	doubt("27-attempts-left", "szwy.csv", "--trainee kod --attempt pozostało --response sekundy --measure time",
		lines("kod;pozostało;sekundy", l, func(a at) string { return joined(";", a.who, 8-a.n, oneDigitComma(a.value)) }), l,
		"column pozostało counts the attempts left (7 to 0): the first attempt has the largest number")

	l = usual27(86, 6, numbered("AL%d", 7)...)
	order := usual27(86, 6, numbered("AL%d", 7)...)
	for k := range 3 {
		order[30+k].value, order[35-k].value = order[35-k].value, order[30+k].value
	}
	doubt("27-one-typed-from-the-end", "sting-2.csv", "--trainee id --attempt nr --response sek --measure time",
		lines("id;nr;klokken;sek", order, func(a at) string {
			n := a.n
			if a.who == "AL6" {
				n = 7 - n
			}
			return joined(";", a.who, a.n, clock27(float64(8*3600 + n*2100 + 240*int(a.who[2]-'0')))[:5], oneDigitComma(a.value))
		}), l, "AL6: the times of day (klokken) fall from attempt 1 to 6; the attempts are numbered from the last to the first")

	l = usual27(87, 6, numbered("SH%d", 7)...)
	doubt("27-persian-years", "بخیه.csv", "--trainee کد --attempt نوبت --date تاریخ --response ثانیه --measure time",
		lines("کد,نوبت,تاریخ,ثانیه", l, func(a at) string {
			return joined(",", a.who, a.n, fmt.Sprintf("1405/02/%02d", 3+4*a.n), oneDigit(a.value))
		}), l,
		"column تاریخ holds dates of the Persian calendar (1405/02/07)")

	l = usual27(88, 4, numbered("DV%d", 8)...)
	days := []string{"02/03/26", "09/03/26", "04/04/26", "06/04/26"}
	doubt("27-which-is-the-month", "sewing.csv", "--trainee id --date day --response seconds --measure time",
		lines("id,day,seconds", l, func(a at) string { return joined(",", a.who, days[a.n-1], oneDigit(a.value)) }), nil,
		"column day: 09/03/26 may be in March or in September, and the order of the attempts hangs on it")

	l = usual27(89, 6, numbered("WR%d", 7)...)
	names := []string{"Mo", "Di", "Mi", "Do", "Fr", "Sa", "So"}
	doubt("27-weekday-and-date", "wochentage.csv", "--trainee Code --attempt Nr --date Datum --response Sekunden --measure time",
		lines("Code;Nr;Tag;Datum;Sekunden", l, func(a at) string {
			day := date(6, 1).AddDate(0, 0, 3*(a.n-1))
			name := names[(int(day.Weekday())+6)%7]
			if a.n > 3 { // a week was left out when the dates were filled in
				day = day.AddDate(0, 0, -5)
			}
			return joined(";", a.who, a.n, name, day.Format("02.01.2006"), oneDigitComma(a.value))
		}), l, "from attempt 4 on the weekday (Tag) does not fit the date (Datum), and attempt 4 is before attempt 3")

	l = whole27(usual27(90, 6, numbered("NK%d", 8)...))
	doubt("27-minutes-beside", "halves.csv", "--trainee id --attempt n --response s --measure time",
		lines("id,n,min,s", l, func(a at) string { return joined(",", a.who, a.n, int(a.value)/60, int(a.value)%60) }), l,
		"column s holds only the seconds beyond the minutes of column min")

	l = usual27(91, 8, numbered("BI%d", 7)...)
	doubt("27-display-of-two-digits", "korapiloak.csv", "--trainee kodea --attempt saioa --response segundo --measure time",
		lines("kodea,saioa,segundo", l, plain(",", func(v float64) string { return fmt.Sprintf("%04.1f", math.Mod(v, 100)) })), nil,
		"column segundo: nothing is 100 or more, and times jump from 08.6 to 93.1: the display shows two digits, 08.6 is 108.6")

	l = usual27(92, 8, numbered("PO%d", 8)...)
	i = 0
	doubt("27-lane-three", "bancadas.csv", "--trainee aluno --attempt vez --response segundos --measure time",
		lines("aluno,vez,bancada,segundos", with(l, func(a *at) {
			if i++; (i*5+i/8)%4 == 2 {
				a.value = tenths27(a.value + 60)
				a.outcome = "late"
			}
		}), func(a at) string {
			bench := 1 + (a.n+int(a.who[2]-'0')*2)%2
			if a.outcome == "late" {
				bench = 3
			}
			return joined(",", a.who, a.n, bench, oneDigit(a.value))
		}), nil, "column bancada: the times of bench 3 are all about 60 s longer than those of benches 1 and 2")

	l = usual27(93, 9, numbered("KV%d", 7)...)
	doubt("27-another-stopwatch", "mazgai.csv", "--trainee kodas --attempt bandymas --date data --response sekundės --measure time",
		lines("kodas;bandymas;data;sekundės", l, func(a at) string {
			v := oneDigitComma(a.value)
			if a.n > 5 {
				v = wholeHalfEven(math.Ceil(a.value/15) * 15)
			}
			return joined(";", a.who, a.n, date(4, 2).AddDate(0, 0, 3*a.n).Format("2006-01-02"), v)
		}), nil, "from attempt 6 (20 April) on all times are whole quarters of a minute (60, 75, 90), before that tenths")
}

// habits27: what people do when they type, copy, sort and fill in.
func habits27() {
	flags := "--trainee id --attempt n --response seconds --measure time"
	head := "id,n,seconds"

	l := usual27(100, 9, numbered("PZ%d", 7)...)
	same := with(l, func(a *at) {
		if a.who == "PZ6" {
			a.value = l[18+a.n-1].value
		}
	})
	doubt("27-two-alike", "pegs.csv", flags, lines(head, same, plain(",", oneDigit)), nil,
		"PZ3 and PZ6 have the same nine times")

	l = with(usual27(101, 8, numbered("GY%d", 7)...), func(a *at) {
		if a.who == "GY4" {
			a.value = 131.5 - 7.5*float64(a.n-1)
		}
	})
	doubt("27-filled-down", "varratok.csv", "--trainee kód --attempt próba --response mp --measure time",
		lines("kód;próba;mp", l, plain(";", oneDigitComma)), without(l, func(a at) bool { return a.who == "GY4" }),
		"GY4: each time is exactly 7,5 s below the one before, as a spreadsheet fills cells")

	l = usual27(102, 10, numbered("SU%d", 9)...)
	var sorted []at
	for _, who := range traineesOf(l) {
		own := attemptsOf(l, who)
		var times []float64
		for _, a := range own {
			times = append(times, a.value)
		}
		slices.Sort(times)
		slices.Reverse(times)
		sorted = append(sorted, with(own, func(a *at) { a.value = times[a.n-1] })...)
	}
	doubt("27-sorted-within", "drill.csv", flags, lines(head, sorted, plain(",", oneDigit)), nil,
		"no time of anybody is above the one before it in ten attempts: the times were sorted")

	l = usual27(103, 10, numbered("CV%d", 7)...)
	l = with(l, func(a *at) {
		if a.n > 5 {
			a.value = l[(int(a.who[2]-'0')-1)*10+a.n-6].value
		}
	})
	doubt("27-block-pasted-twice", "nós.csv", "--trainee código --measure time",
		wide(headLine("código", ";", "T%d", 10), ";", l, oneDigitComma), only(l, func(a at) bool { return a.n < 6 }),
		"columns T6 to T10 are the same as T1 to T5")

	l = whole27(usual27(104, 7, numbered("BN%d", 7)...))
	slips := func(a at) int { return max(0, int(a.value)/30-1) }
	doubt("27-heads-exchanged", "pegs-2.csv", flags, lines("id,n,seconds,errors", l, func(a at) string {
		return joined(",", a.who, a.n, slips(a), wholeHalfEven(a.value))
	}), l, "the heads are exchanged: seconds holds 0 to 4, errors holds 56 to 169")

	l = stopped(curve27(105, 7, 195, 90, numbered("MG%d", 8)...), 180)
	i := 0
	doubt("27-outcome-a-row-late", "limite.csv", "--trainee id --attempt n --response seconds --outcome outcome --measure time --limit 180",
		lines("id,n,seconds,outcome", l, func(a at) string {
			word := "done"
			if i > 0 {
				word = l[i-1].outcome
			}
			i++
			return joined(",", a.who, a.n, oneDigit(a.value), word)
		}), l, "column outcome stands one row too low: the rows with 180.0 s, the limit, are called done and those below them timeout")

	l = usual27(106, 7, numbered("BQ%d", 9)...)
	arms := map[string]string{}
	doubt("27-arm-spelt-three-ways", "noduri.csv", "--trainee cod --attempt probă --arm grup --response secunde --measure time",
		lines("cod;grup;probă;secunde", l, func(a at) string {
			k := int(a.who[2]-'0') - 1
			arms[a.who] = []string{"ghidat", "liber"}[k%2]
			return joined(";", a.who, []string{"ghidat", "liber", "Ghidat", "liber", "ghidat.", "Liber", "ghidat", "liberr", "ghidat"}[k], a.n, oneDigitComma(a.value))
		}), l, "column grup: ghidat, Ghidat and ghidat. are one arm, and liber, Liber and liberr").Arms = arms

	l = usual27(107, 6, numbered("HN%d", 8)...)
	var b bytes.Buffer
	b.Write(wide(headLine("Kürzel", ";", "Versuch %d", 6), ";", l, oneDigitComma))
	b.WriteString("Ø")
	for n := 1; n <= 6; n++ {
		sum := 0.0
		for _, a := range l {
			if a.n == n {
				sum += a.value
			}
		}
		b.WriteString(";" + oneDigitComma(sum/8))
	}
	doubt("27-mean-without-a-word", "naht.csv", "--trainee Kürzel --measure time", append(b.Bytes(), '\n'), l, "the last row, Ø, is the mean of the others, not a trainee")

	l = usual27(108, 8, numbered("EV%d", 8)...)
	slow := func(a at) bool { return a.value > 120 && a.who > "EV3" }
	doubt("27-slow-ones-gone", "treino.csv", "--trainee id --attempt n --response seconds --measure time",
		lines(head, without(l, slow), plain(",", oneDigit)), without(l, slow),
		"EV4 to EV8 have no attempt 1 (some no 2 and 3): the numbers begin later; every time above 120 is gone there")

	l = whole27(usual27(109, 8, numbered("MO%d", 7)...))
	vesna := func(a at) bool { return a.who == "MO2" || a.who == "MO5" }
	doubt("27-one-examiner-minutes", "vježba.csv", "--trainee šifra --attempt broj --response vrijeme --measure time",
		lines("šifra;broj;ispitivač;vrijeme", l, func(a at) string {
			if vesna(a) {
				return joined(";", a.who, a.n, "Vesna", fmt.Sprintf("%d,%02d", int(a.value)/60, int(a.value)%60))
			}
			return joined(";", a.who, a.n, "Goran", wholeHalfEven(a.value))
		}), l, "the rows of examiner Vesna (MO2, MO5) are minutes and seconds (1,38), those of Goran seconds")

	l = usual27(110, 7, numbered("ŽI%d", 8)...)
	doubt("27-arm-of-each", "dvojice.csv", "--trainee kód --attempt pokus --arm skupina --response sekundy --measure time",
		lines("kód;pokus;skupina;sekundy", l, func(a at) string {
			return joined(";", a.who, a.n, "pár "+a.who[len(a.who)-1:], oneDigitComma(a.value))
		}), l,
		"column skupina has another value for each trainee: no arm has more than one")

	faults := counts27(111, 8, numbered("IN%d", 8)...)
	doubt("27-faults-called-a-time", "virheet.csv", "--trainee id --attempt yritys --response virheet --measure time",
		lines("id;yritys;virheet", faults, plain(";", wholeHalfEven)), nil, "column virheet (errors) holds small whole numbers, not times")

	l = usual27(112, 6, numbered("PL%d", 8)...)
	zero := is27("PL2 3", "PL5 1", "PL7 6")
	doubt("27-nothing-became-zero", "възли.csv", "--trainee код --attempt опит --response секунди --measure time",
		lines("код;опит;секунди", with(l, func(a *at) {
			if zero(*a) {
				a.value = 0
			}
		}), plain(";", oneDigitComma)), without(l, zero), "0,0 stands in three rows (PL2 3, PL5 1, PL7 6) for a time that is missing")

	l = usual27(113, 8, numbered("TB%d", 7)...)
	doubt("27-penalty-in-some", "stehy.csv", "--trainee kód --attempt pokus --response čas --measure time",
		lines("kód;pokus;chyby;čas;poznámka", l, func(a at) string {
			errors := int(a.value) / 45
			note := ""
			v := a.value
			if a.who == "TB3" && errors > 0 {
				v += float64(30 * errors)
				note = fmt.Sprintf("včetně trestu %d s", 30*errors)
			}
			return joined(";", a.who, a.n, errors, oneDigitComma(v), note)
		}), l, "TB3: the remark (poznámka) says that a penalty of 30 s an error is within the time (včetně trestu), in no other's")

	l = usual27(114, 8, numbered("FU%d", 7)...)
	doubt("27-test-rows-of-the-bench", "bancada.csv", "--trainee user --attempt run --response seconds --measure time",
		append(lines("user,run,seconds", l, plain(",", oneDigit)), "TEST,1,1.0\nTEST,2,1.0\nTEST,3,1.1\n"...), l, "the three rows of TEST (1.0 s) are a trial of the bench, not a trainee")
}

// programs27: what spreadsheets, databases, statistics programs and phones do to a file.
func programs27() {
	l := curve27(120, 8, 24, 11, numbered("KB%d", 7)...)
	months := []string{"Jan", "Feb", "Mrz", "Apr", "Mai", "Jun", "Jul", "Aug", "Sep"}
	doubt("27-times-turned-dates", "griffe.csv", "--trainee Code --attempt Griff --response Sekunden --measure time",
		lines("Code;Griff;Sekunden", l, plain(";", func(v float64) string {
			t := int(math.Round(v * 10))
			if t%10 > 0 && t < 320 {
				return fmt.Sprintf("%02d. %s", t/10, months[t%10-1])
			}
			return comma(v)
		})), l, "column Sekunden: a spreadsheet took times for dates (14. Mrz is 14.3)")

	l = usual27(121, 6, numbered("P%d", 6)...)
	doubt("27-codes-became-powers", "códigos.csv", "--trainee dni --attempt intento --response segundos --measure time",
		lines("dni;intento;segundos", l, func(a at) string { return joined(";", "4,71103E+11", a.n, oneDigitComma(a.value)) }), nil,
		"column dni: the long codes of all trainees became 4,71103E+11; each attempt stands six times")

	l = usual27(122, 5, numbered("subject%d", 12)...)
	doubt("27-cut-to-eight-letters", "stats.csv", "--trainee id --attempt trial --response seconds --measure time",
		lines("id,trial,seconds", l, func(a at) string { return joined(",", a.who[:8], a.n, oneDigit(a.value)) }), nil,
		"column id was cut to 8 letters: subject1 is subject1, subject10, subject11 and subject12")

	l = whole27(usual27(123, 7, numbered("VS%d", 8)...))
	gone := is27("VS1 5", "VS4 4", "VS8 7")
	doubt("27-nines", "nines.csv", "--trainee id --attempt trial --response seconds --measure time",
		lines("id,trial,seconds", with(l, func(a *at) {
			if gone(*a) {
				a.value = 999
			}
		}), plain(",", wholeHalfEven)), without(l, gone), "999 stands three times for a time that is missing")

	l = usual27(124, 7, numbered("ER%d", 7)...)
	far := func(a at) bool { return a.value >= 100 }
	doubt("27-hashes", "ausdruck.csv", "--trainee Code --attempt Nr --response Zeit --measure time",
		lines("Code;Nr;Zeit", l, func(a at) string {
			if far(a) {
				return joined(";", a.who, a.n, "####")
			}
			return plain(";", oneDigitComma)(a)
		}), without(l, far), "#### stands for every time of 100 and more: the column was too narrow when the sheet was printed to text")

	l = usual27(125, 6, "Søren 1", "Åge 2", "Bjørn 3", "Jørgen 4", "Kåre 5", "Øyvind 6")
	doubt("27-letters-spoilt-in-half", "knuter.csv", "--trainee navn --attempt forsøk --response sekunder --measure time",
		lines("navn;forsøk;sekunder", l, func(a at) string {
			who := a.who
			if a.n > 4 {
				who = strings.NewReplacer("ø", "Ã¸", "Å", "Ã…", "å", "Ã¥", "Ø", "Ã˜").Replace(who)
			}
			return joined(";", who, a.n, oneDigitComma(a.value))
		}), l, "the names of attempts 5 and 6 were spoilt (SÃ¸ren 1 is Søren 1): each trainee stands under two names")

	l = usual27(126, 6, "A-1", "A-2", "A-3", "B-1", "B-2", "B-3")
	doubt("27-dash-of-a-phone", "phone.csv", "--trainee code --attempt go --response seconds --measure time",
		lines("code,go,seconds", l, func(a at) string {
			if a.n > 3 {
				a.who = strings.ReplaceAll(a.who, "-", "–")
			}
			return plain(",", oneDigit)(a)
		}), l, "from go 4 on the codes have a long dash (A–1) which a phone put in: each trainee stands under two codes")

	l = usual27(127, 7, numbered("DJ%d", 7)...)
	doubt("27-joined-on-marks", "join.csv", "--trainee id --attempt n --response seconds --measure time",
		lines("id,n,seconds,examiner,mark", l, func(a at) string {
			row := plain(",", oneDigit)(a)
			if a.who == "DJ3" || a.who == "DJ4" {
				return row + ",Rask,3\n" + row + ",Thune,4"
			}
			return row + ",Rask,4"
		}), l, "the rows of DJ3 and DJ4 stand twice, once for each examiner who gave a mark: the same attempt")

	type half struct {
		ID      string  `parquet:"id"`
		N       int64   `parquet:"n"`
		Seconds float64 `parquet:"seconds"`
		Valid   bool    `parquet:"valid"`
	}
	l = usual27(128, 7, numbered("jo%d", 7)...)
	var rows []half
	bad := is27("jo2 2", "jo5 6", "jo6 1")
	for _, a := range l {
		rows = append(rows, half{a.who, int64(a.n), a.value, !bad(a)})
	}
	doubt("27-parquet-not-valid", "valid.parquet", "--trainee id --attempt n --response seconds --measure time",
		parquetKept("27-parquet-not-valid", "valid.parquet", rows), without(l, bad), "column valid is false in three rows")

	l = usual27(129, 8, numbered("QU%d", 7)...)
	doubt("27-limit-of-rows", "export-page-1.csv", "--trainee id --attempt n --response seconds --measure time",
		append(lines("id,n,seconds", l[:50], plain(",", oneDigit)), "(rows 1 to 50 of 168 shown)\n"...), l[:50],
		"the last line says that 50 of 168 rows are in the file, and QU7 breaks off after attempt 2")
}

// unreadable27: what is no table.
func unreadable27() {
	flags := "--trainee id --attempt n --response seconds --measure time"
	refuse("27-printed-page", "ergebnisse.csv", flags, []byte("%PDF-1.4\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\nendobj\n2 0 obj\n<< /Type /Pages /Kids [3 0 R] /Count 1 >>\nendobj\n3 0 obj\n<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] >>\nendobj\nxref\n0 4\n0000000000 65535 f \n0000000009 00000 n \n0000000058 00000 n \n0000000115 00000 n \ntrailer\n<< /Size 4 /Root 1 0 R >>\nstartxref\n186\n%%EOF\n"),
		"a printed page (PDF) named .csv")
	refuse("27-photograph", "tafel.xlsx", flags, append([]byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x48\x00\x48\x00\x00\xff\xdb\x00\x43\x00"), bytes.Repeat([]byte{8, 6, 6, 7, 6, 5, 8}, 60)...),
		"a photograph (JPEG) named .xlsx")
	refuse("27-heads-alone", "leeg.csv", flags, []byte("id,n,seconds\n"), "there is a head and no row")
	refuse("27-database-file", "lab.csv", flags, append([]byte("SQLite format 3\x00\x10\x00\x01\x01\x00\x40\x20\x20"), make([]byte, 400)...), "a database named .csv")
}

// rating27 makes up marks from 1 to levels: a performance has a level, and each rater sees it with an error of their own.
func rating27(seed uint64, levels int, subjects, raters, items []string) [][4]string {
	r := rand.New(rand.NewPCG(seed, 72))
	var out [][4]string
	strict := map[string]float64{}
	for _, rater := range raters {
		strict[rater] = 0.06 * float64(levels) * r.NormFloat64()
	}
	for _, s := range subjects {
		level := float64(levels+1)/2 + 0.24*float64(levels)*r.NormFloat64()
		for _, item := range items {
			own := level + 0.06*float64(levels)*r.NormFloat64()
			for _, rater := range raters {
				mark := math.Round(own + strict[rater] + 0.1*float64(levels)*r.NormFloat64())
				out = append(out, [4]string{s, rater, item, fmt.Sprint(max(1, min(float64(levels), mark)))})
			}
		}
	}
	return out
}

// marked27 is some marks changed.
func marked27(marks [][4]string, f func(m *[4]string)) [][4]string {
	out := slices.Clone(marks)
	for i := range out {
		f(&out[i])
	}
	return out
}

// marks27: tables of examiners and performances.
func marks27() {
	none := []string{""}
	give := func(verdict, folder, file, flags string, data []byte, marks [][4]string, about string) {
		rated(put(verdict, folder, file, flags, data, nil, about), marks)
	}
	table := func(head, sep string, marks [][4]string) []byte { return raters18(head, sep, marks, nil) }
	mirrored := func(levels int, who string) func(m *[4]string) {
		return func(m *[4]string) {
			if m[1] == who {
				m[3] = fmt.Sprint(levels + 1 - int(number(m[3])))
			}
		}
	}

	m := rating27(1, 5, numbered("映像%02d", 14), []string{"佐藤", "森", "原"}, none)
	give("read", "27-marks-long", "採点.csv", "--subject 映像 --rater 評価者 --score 点 --scale ordinal",
		ratingLines("映像,評価者,点", ",", m), m, "")

	m = rating27(2, 10, numbered("film %02d", 15), []string{"Berit", "Mats", "Ylva", "Nils"}, none)
	give("read", "27-marks-wide", "filmer.csv", "--wide --subject Film --scale interval",
		crlf(table("Film;Berit;Mats;Ylva;Nils", ";", m)), m, "")

	m = rating27(3, 5, numbered("V%02d", 10), []string{"Prof. A", "Prof. B", "Prof. C"}, []string{"preensão", "tensão", "corte"})
	w := newBook("Notas")
	w.row("A1", "vídeo", "avaliador", "item", "nota")
	for i, x := range m {
		w.row(fmt.Sprint("A", i+2), x[0], x[1], x[2], number(x[3]))
	}
	give("read", "27-marks-of-items", "notas.xlsx", "--subject vídeo --rater avaliador --item item --score nota --scale interval", w.bytes(), m, "")

	m = marked27(rating27(4, 2, numbered("naad%02d", 16), []string{"Anneke", "Joris", "Wout"}, none), func(x *[4]string) {
		x[3] = map[string]string{"1": "onvoldoende", "2": "voldoende"}[x[3]]
	})
	give("read", "27-marks-as-words", "naden.csv", "--subject naad --rater keurder --score oordeel --scale nominal",
		ratingLines("naad;keurder;oordeel", ";", m), m, "")

	m = marked27(rating27(5, 11, numbered("pièce %d", 14), []string{"Lise", "Omar", "Yann"}, none), func(x *[4]string) { x[3] = fmt.Sprint(number(x[3])/2 - 0.5) })
	give("read", "27-half-marks", "pièces.csv", "--wide --subject pièce --scale interval",
		table("pièce;Lise;Omar;Yann", ";", marked27(m, func(x *[4]string) { x[3] = strings.ReplaceAll(x[3], ".", ",") })), m, "")

	m = rating27(6, 7, numbered("clip-%02d", 18), []string{"Ito", "Berg", "Cole"}, none)
	i := -1
	m = without(m, func(x [4]string) bool { i++; return i%3 == i/3%3 })
	give("read", "27-two-of-three-raters", "pairs.csv", "--subject clip --rater rater --score mark --scale interval",
		ratingLines("clip,rater,mark", ",", m), m, "")

	m = rating27(15, 9, numbered("žiak %d", 16), []string{"Eva", "Ján"}, none)
	w = newBook("Hárok1")
	w.row("A1", "práca", "porotca", "body")
	for i, x := range m {
		w.row(fmt.Sprint("A", i+2), x[0], x[1], number(x[3]))
	}
	give("read", "27-marks-in-a-workbook", "body.ods", "--subject práca --rater porotca --score body --scale interval",
		office("27-marks-in-a-workbook", "body.ods", w.bytes()), m, "")

	m = rating27(16, 4, numbered("joint %02d", 20), []string{"Ines", "Otto", "Vera", "Zeno", "Lars"}, none)
	give("read", "27-marks-by-five", "joints.tsv", "--wide --subject joint --scale ordinal", table("joint\tInes\tOtto\tVera\tZeno\tLars", "\t", m), m, "")

	m = rating27(7, 5, numbered("W%02d", 16), []string{"Ebba", "Karl", "Lova"}, none)
	give("doubt", "27-marks-one-turned-round", "werkstücke.csv", "--wide --subject Werkstück --scale interval",
		table("Werkstück;Ebba;Karl;Lova", ";", marked27(m, mirrored(5, "Karl"))), m, "Karl gave 1 for the best where the two others give 5: his marks fall as theirs rise")

	m = rating27(8, 10, numbered("S%02d", 16), []string{"Dora", "Emil", "Hugo"}, none)
	copied := marked27(m, func(x *[4]string) {})
	for k := 0; k < len(copied); k += 3 {
		copied[k+2][3] = copied[k][3]
	}
	give("doubt", "27-marks-copied", "varrat.csv", "--wide --subject varrat --scale interval",
		table("varrat,Dora,Emil,Hugo", ",", copied), only(copied, func(x [4]string) bool { return x[1] != "Hugo" }), "the sixteen marks of Hugo are those of Dora")

	m = rating27(9, 10, numbered("t%02d", 12), []string{"Rosa", "Nuno"}, none)
	ranks := rand.New(rand.NewPCG(9, 9)).Perm(12)
	for k := range 12 {
		m = slices.Insert(m, 3*k+2, [4]string{fmt.Sprintf("t%02d", k+1), "ordem", "", fmt.Sprint(ranks[k] + 1)})
	}
	give("doubt", "27-marks-and-an-order", "júri.csv", "--wide --subject trabalho --scale interval",
		table("trabalho;Rosa;Nuno;ordem", ";", m), only(m, func(x [4]string) bool { return x[1] != "ordem" }),
		"column ordem holds 1 to 12 once each: the order in which the works were shown, not the marks of a rater")

	m = rating27(10, 5, numbered("kn%02d", 14), []string{"Ada", "Bo", "Cy"}, none)
	over := marked27(m, func(x *[4]string) {
		if x[0] == "kn04" && x[1] == "Bo" {
			x[3] = "44"
		}
	})
	give("doubt", "27-mark-beyond-the-scale", "knots.csv", "--subject knot --rater rater --score mark --scale interval",
		append([]byte("# marks from 1 (poor) to 5 (excellent)\n"), ratingLines("knot,rater,mark", ",", over)...),
		without(over, func(x [4]string) bool { return x[3] == "44" }), "row of kn04, Bo: 44 on a scale from 1 to 5")

	m = rating27(11, 6, numbered("č%02d", 14), []string{"Horák", "Malý", "Křen"}, none)
	two := marked27(m, func(x *[4]string) {
		if x[1] == "Křen" && x[0] > "č08" {
			x[1] = "Kren"
		}
	})
	give("doubt", "27-rater-under-two-names", "porota.csv", "--subject práce --rater porotce --score známka --scale ordinal",
		ratingLines("práce;porotce;známka", ";", two), m, "Křen is written Kren from č09 on: one rater under two names")

	m = rating27(12, 10, numbered("u%02d", 16), []string{"Pál", "Réka", "Zita"}, none)
	give("doubt", "27-marks-all-five", "ügyesség.csv", "--wide --subject felvétel --scale interval",
		table("felvétel;Pál;Réka;Zita", ";", marked27(m, func(x *[4]string) {
			if x[1] == "Réka" {
				x[3] = "5"
			}
		})), nil, "Réka gave 5 to all sixteen: a column filled in")

	m = rating27(13, 5, numbered("sc%02d", 12), []string{"Rune", "Siv"}, none)
	again := slices.Insert(slices.Clone(m), 15, [4]string{"sc07", "Rune", "", fmt.Sprint(6 - int(number(m[12][3])) + map[bool]int{true: 1}[m[12][3] == "3"])})
	give("doubt", "27-marked-twice", "scener.csv", "--subject scene --rater dommer --score karakter --scale interval",
		ratingLines("scene,dommer,karakter", ",", again), nil, "Rune marked sc07 twice, with another mark the second time")

	m = marked27(rating27(14, 9, numbered("lot %d", 14), []string{"Gaël", "Inès", "Loïc"}, none), func(x *[4]string) { x[3] = fmt.Sprint(1 + (number(x[3])-1)/2) })
	give("doubt", "27-half-marks-turned-dates", "lots.csv", "--wide --subject lot --scale interval",
		table("lot;Gaël;Inès;Loïc", ";", marked27(m, func(x *[4]string) {
			if strings.HasSuffix(x[3], ".5") {
				x[3] = "0" + x[3][:1] + "-mai"
			}
		})), m, "a spreadsheet took half marks for dates: 03-mai stood for 3.5")
}

// plainer27: more text tables with nothing wrong.
func plainer27() {
	l := usual27(150, 6, numbered("MD%d", 8)...)
	var b bytes.Buffer
	b.WriteString("id")
	for _, measure := range []string{"time", "errors"} {
		for n := range 6 {
			fmt.Fprintf(&b, ",%s %d", measure, n+1)
		}
	}
	for _, who := range traineesOf(l) {
		b.WriteString("\n" + who)
		for _, a := range attemptsOf(l, who) {
			b.WriteString("," + oneDigit(a.value))
		}
		for _, a := range attemptsOf(l, who) {
			fmt.Fprintf(&b, ",%d", int(a.value)/35-1)
		}
	}
	b.WriteString("\n")
	read("27-times-then-errors", "times.csv", "--trainee id --measure time", bytes.Clone(b.Bytes()), l)

	l = usual27(151, 7, numbered("SB%d", 7)...)
	read("27-blank-line-between", "nusos.csv", "--trainee codi --attempt intent --response segons --measure time",
		lines("codi;intent;segons", l, func(a at) string {
			row := plain(";", oneDigitComma)(a)
			if a.n == 7 {
				row += "\n"
			}
			return row
		}), l)

	l = usual27(152, 6, numbered("WX%d", 8)...)
	read("27-heads-in-words", "ordinals.csv", "--trainee learner --measure time",
		wide("learner,first,second,third,fourth,fifth,sixth", ",", l, oneDigit), l)

	l = usual27(153, 7, numbered("RV%d", 7)...)
	read("27-heads-in-roman", "nodi.csv", "--trainee sigla --measure time", wide("sigla;I;II;III;IV;V;VI;VII", ";", l, oneDigitComma), l)

	l = usual27(154, 8, numbered("BD%02d", 7)...)
	read("27-indonesian", "jahitan.csv", "--trainee kode --attempt percobaan --response detik --measure time",
		lines("kode,percobaan,detik", l, plain(",", oneDigit)), l)

	l = usual27(155, 7, numbered("KN%d", 7)...)
	read("27-space-behind-commas", "spaced.csv", "--trainee id --attempt attempt --response seconds --measure time",
		lines("id, attempt, seconds", l, plain(", ", oneDigit)), l)

	l = usual27(156, 6, numbered("ÕI%d", 8)...)
	read("27-points-and-semicolons", "nööbid.csv", "--trainee õppija --attempt katse --response aeg_s --measure time",
		lines("õppija;katse;aeg_s", l, plain(";", oneDigit)), l)

	l = usual27(157, 6, numbered("LS%d", 9)...)
	t := read("27-three-arms", "gruppen.csv", "--trainee Code --attempt Versuch --arm Gruppe --response Dauer~[s] --measure time --limit 300",
		lines("Code;Gruppe;Versuch;Dauer [s]", l, func(a at) string {
			return joined(";", a.who, []string{"Film", "Text", "Lehrkraft"}[int(a.who[2]-'1')%3], a.n, oneDigitComma(a.value))
		}), l)
	t.Arms = map[string]string{}
	for i, who := range traineesOf(l) {
		t.Arms[who] = []string{"Film", "Text", "Lehrkraft"}[i%3]
	}

	type trial struct {
		Rider string `parquet:"rider"`
		Lap   int64  `parquet:"lap"`
		Ms    int64  `parquet:"duration_ms"`
	}
	l = usual27(158, 8, numbered("op-%d", 6)...)
	var trials []trial
	for _, a := range l {
		trials = append(trials, trial{a.who, int64(a.n), int64(math.Round(a.value * 1000))})
	}
	read("27-parquet-milliseconds", "laps.parquet", "--trainee rider --attempt lap --response duration_ms --measure time",
		parquetKept("27-parquet-milliseconds", "laps.parquet", trials), l)

	l = usual27(159, 7, numbered("X%03d", 8)...)
	read("27-null-remarks", "query.tsv", "--trainee trainee_id --attempt attempt_no --response elapsed_s --measure time",
		lines("row_id\ttrainee_id\tattempt_no\telapsed_s\tremark", l, func(a at) string {
			return joined("\t", 4000+100*int(a.who[3]-'0')+a.n, a.who, a.n, fixed(3)(a.value), "NULL")
		}), l)

	l = usual27(160, 9, numbered("IA%d", 7)...)
	var turns []at
	for n := 1; n <= 9; n++ {
		turns = append(turns, only(l, func(a at) bool { return a.n == n })...)
	}
	read("27-turn-by-turn", "ture.csv", "--trainee cod --attempt tură --response secunde --measure time",
		lines("tură;cod;secunde", turns, func(a at) string { return joined(";", a.n, a.who, oneDigitComma(a.value)) }), l)
}

// studies27: what a study file and the tables beside it say of each other.
func studies27() {
	task := "tasks: [{name: running suture, measure: time, column: seconds, limit: 300}]\n"
	folder := func(t *truth, yaml string, files map[string][]byte) *truth {
		t.files = map[string][]byte{"study.yaml": []byte(yaml)}
		for name, data := range files {
			t.files[name] = data
		}
		return t
	}
	head := "trainee,attempt,seconds"
	csv := func(l []at) []byte { return lines(head, l, plain(",", oneDigit)) }

	l := usual27(200, 8, numbered("AB%d", 8)...)
	study(read("27-study-plain", ".", "", nil, l), "", nil)

	l = usual27(201, 7, numbered("ES%d", 9)...)
	folder(read("27-study-three-files", ".", "", nil, l), task+"attempts:\n  files: [room-1.csv, room-2.csv, room-3.csv]\n", map[string][]byte{
		"room-1.csv": csv(l[:21]), "room-2.csv": csv(l[21:42]), "room-3.csv": csv(l[42:])})

	l = usual27(202, 8, numbered("BU%d", 7)...)
	experts := curve27(203, 4, 57, 51, "E1", "E2", "E3", "E4", "E5")
	folder(read("27-study-experts", ".", "", nil, l), task+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{
		"log.csv": csv(l), "experts.csv": csv(experts)}).Experts = experts

	drops := counts27(204, 9, numbered("PR%d", 8)...)
	folder(read("27-study-drops", ".", "", nil, drops), "tasks: [{name: pegs, measure: count, column: drops, better: lower}]\nattempts: {file: log.csv}\n",
		map[string][]byte{"log.csv": lines("trainee,attempt,drops", drops, plain(",", wholeHalfEven))})

	points := with(curve27(205, 8, 70, 25, numbered("KE%d", 8)...), func(a *at) { a.value = math.Round(max(4, 100-a.value)) })
	folder(read("27-study-points", ".", "", nil, points), "tasks: [{name: weld, measure: score, column: points, better: higher}]\nattempts: {file: log.csv}\n",
		map[string][]byte{"log.csv": lines("trainee,attempt,points", points, plain(",", wholeHalfEven))})

	l = usual27(206, 7, numbered("LU%d", 8)...)
	folder(read("27-study-workbook", ".", "", nil, l), "title: Running suture, spring course\n"+task+"attempts: {file: log.xlsx}\n", map[string][]byte{
		"log.xlsx": long27("Log", []any{"trainee", "attempt", "seconds"}, l, value).bytes()})

	l = usual27(207, 10, numbered("GR%d", 6)...)
	folder(read("27-study-two-courses", ".", "", nil, l), "# two courses by the same teachers\n"+task+"attempts:\n  files: [course-1.csv, course-2.csv]\n", map[string][]byte{
		"course-1.csv": csv(l[:30]), "course-2.csv": csv(l[30:])})

	l = usual27(210, 7, numbered("NA%d", 8)...)
	folder(doubt("27-study-one-site-milliseconds", ".", "", nil, l, "hall-b.csv: seconds holds milliseconds (60000 and more), seconds in hall-a.csv"),
		strings.Replace(task, ", limit: 300", "", 1)+"attempts:\n  files: [hall-a.csv, hall-b.csv]\n", map[string][]byte{
			"hall-a.csv": csv(l[:28]), "hall-b.csv": lines(head, l[28:], plain(",", func(v float64) string { return fmt.Sprintf("%.0f", v*1000) }))})

	l = stopped(curve27(211, 7, 215, 95, numbered("HE%d", 8)...), 180)
	folder(doubt("27-study-limit-of-another-year", ".", "", nil, l, "the study file says limit: 300, but the longest times are all exactly 180 s: practice was stopped there"),
		task+"attempts: {file: log.csv}\n", map[string][]byte{"log.csv": csv(l)})

	l = usual27(212, 8, numbered("DO%d", 8)...)
	folder(doubt("27-study-time-better-higher", ".", "", nil, l, "better: higher in the study file, but the measure is a time, and the times fall with practice"),
		"tasks: [{name: cannula, measure: time, column: seconds, better: higher}]\nattempts: {file: log.csv}\n", map[string][]byte{"log.csv": csv(l)})

	l = usual27(213, 7, numbered("JY%d", 8)...)
	folder(doubt("27-study-minutes-of-seconds", ".", "", nil, l, "unit: min and limit: 5 in the study file, but the column seconds holds 50 to 190"),
		"tasks: [{name: cannula, measure: time, column: seconds, unit: min, better: lower, limit: 5}]\nattempts: {file: log.csv}\n", map[string][]byte{"log.csv": csv(l)})

	l = usual27(214, 7, numbered("VE%d", 8)...)
	experts = curve27(215, 5, 64, 55, "X1", "X2", "X3", "X4")
	folder(doubt("27-study-experts-in-minutes", ".", "", nil, l, "experts.csv holds minutes (0.8 to 1.4), log.csv seconds"),
		task+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{"log.csv": csv(l),
			"experts.csv": lines(head, experts, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) }))})

	l = usual27(216, 8, numbered("KI%d", 8)...)
	slow := curve27(217, 4, 212, 195, "K1", "K2", "K3", "K4")
	folder(doubt("27-study-experts-slower", ".", "", nil, l, "experts.csv: the experts take about 215 s, the trainees about 150 s in the first attempt and 65 s in the last"),
		task+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{"log.csv": csv(l), "experts.csv": csv(slow)})

	l = usual27(218, 8, numbered("RI%d", 7)...)
	folder(doubt("27-study-numbers-again", ".", "", nil, l, "week-2.csv: the attempts of the same trainees are numbered from 1 again; they follow those of week-1.csv"),
		task+"attempts:\n  files: [week-1.csv, week-2.csv]\n", map[string][]byte{
			"week-1.csv": csv(only(l, func(a at) bool { return a.n <= 4 })),
			"week-2.csv": csv(with(only(l, func(a at) bool { return a.n > 4 }), func(a *at) { a.n -= 4 }))})

	l = usual27(219, 8, numbered("FA%d", 8)...)
	folder(doubt("27-study-same-rows-other-codes", ".", "", nil, nil, "autumn.csv: the times of FB1 to FB4 are those of FA1 to FA4 in spring.csv, row by row"),
		task+"attempts:\n  files: [spring.csv, autumn.csv]\n", map[string][]byte{
			"spring.csv": csv(l[:32]),
			"autumn.csv": csv(with(l[:32], func(a *at) { a.who = strings.Replace(a.who, "FA", "FB", 1) }))})

	l = usual27(220, 7, numbered("OS%d", 8)...)
	folder(doubt("27-study-of-another-task", ".", "", nil, l, "the first line of log.csv says station 4, urinary catheter; the study file says running suture"),
		task+"attempts: {file: log.csv}\n", map[string][]byte{"log.csv": append([]byte("Station 4: urinary catheter\n\n"), csv(l)...)})

	l = usual27(221, 8, numbered("%03d", 8)...)
	folder(doubt("27-study-zeros-lost", ".", "", nil, l, "second.csv: the codes 001 to 008 lost their zeros in a spreadsheet (1 to 8)"),
		task+"attempts:\n  files: [first.csv, second.csv]\n", map[string][]byte{
			"first.csv":  csv(only(l, func(a at) bool { return a.n <= 4 })),
			"second.csv": csv(with(only(l, func(a at) bool { return a.n > 4 }), func(a *at) { a.who = strings.TrimLeft(a.who, "0") }))})

	l = whole27(usual27(222, 7, numbered("UD%d", 8)...))
	folder(doubt("27-study-columns-exchanged", ".", "", nil, l, "evening.csv: attempt holds the seconds and seconds the attempts (1 to 7), the other way round than in morning.csv"),
		task+"attempts:\n  files: [morning.csv, evening.csv]\n", map[string][]byte{
			"morning.csv": csv(l[:28]), "evening.csv": lines(head, l[28:], func(a at) string { return joined(",", a.who, wholeHalfEven(a.value), a.n) })})

	l = usual27(223, 8, numbered("CO%d", 7)...)
	folder(doubt("27-study-seconds-counted", ".", "", nil, l, "measure: count in the study file, but the column seconds holds times to tenths"),
		"tasks: [{name: cannula, measure: count, column: seconds}]\nattempts: {file: log.csv}\n", map[string][]byte{"log.csv": csv(l)})

	l = usual27(224, 5, numbered("ME%d", 8)...)
	folder(doubt("27-study-title-says-more", ".", "", nil, l, "the title says 12 trainees with 10 attempts each; log.csv holds 8 with 5"),
		"title: Running suture, 12 trainees, 10 attempts each\n"+task+"attempts: {file: log.csv}\n", map[string][]byte{"log.csv": csv(l)})

	l = curve27(225, 7, 200, 95, numbered("TU%d", 8)...)
	l = append(l[:28:28], stopped(l[28:], 150)...)
	folder(doubt("27-study-one-file-stopped-sooner", ".", "", nil, l, "south.csv: the longest times are all exactly 150.0 s, while north.csv goes on to more: practice was stopped at 150 s there"),
		task+"attempts:\n  files: [north.csv, south.csv]\n", map[string][]byte{"north.csv": csv(l[:28]), "south.csv": csv(l[28:])})
}

// more27: still more with nothing wrong, among it people who are slow, fast or do not learn.
func more27() {
	l := usual27(170, 7, numbered("GZ%d", 8)...)
	b := newBook("Tabelle1")
	b.row("A1", "Code", "Datum", "Sekunden")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), a.who, serial18(date(9, 1).AddDate(0, 0, 7*(a.n-1))), a.value)
	}
	b.format("B2", "B57", "dd.mm.yyyy")
	read("27-day-cells", "tage.xlsx", "--trainee Code --date Datum --response Sekunden --measure time", b.bytes(), l)

	l = usual27(171, 8, numbered("LI%d", 7)...)
	read("27-long-ods", "mezgli.ods", "--trainee kods --attempt mēģinājums --response sekundes --measure time",
		office("27-long-ods", "mezgli.ods", long27("Lapa1", []any{"kods", "mēģinājums", "sekundes"}, l, value).bytes()), l)

	l = usual27(172, 5, numbered("MZ%d", 8)...)
	head := "Kürzel"
	for n := range 5 {
		head += ";" + date(6, 1).AddDate(0, 0, 7*n).Format("02.01.2006")
	}
	read("27-days-above", "montage.csv", "--trainee Kürzel --measure time", wide(head, ";", l, oneDigitComma), l)

	l = append(usual27(173, 9, numbered("QB%d", 6)...), curve27(174, 9, 150, 141, "QB7")...)
	read("27-one-does-not-learn", "essais.csv", "--trainee code --attempt essai --response secondes --measure time",
		lines("code;essai;secondes", l, plain(";", oneDigitComma)), l)

	l = append(usual27(175, 9, numbered("NO%d", 6)...), curve27(176, 9, 66, 55, "NO7")...)
	read("27-one-knew-it", "prove.csv", "--trainee sigla --attempt prova --response secondi --measure time",
		lines("sigla,prova,secondi", l, plain(",", oneDigit)), l)

	faults := counts27(177, 9, numbered("ST%d", 8)...)
	read("27-faults-long", "feil.csv", "--trainee kode --attempt forsøk --response feil --measure count",
		lines("kode;forsøk;feil", faults, plain(";", wholeHalfEven)), faults)

	marks := with(curve27(178, 8, 62, 24, numbered("BJ%d", 8)...), func(a *at) { a.value = tenths27(max(0.5, 10-a.value/10)) })
	read("27-marks-of-ten", "piezas.csv", "--trainee clave --attempt pieza --response nota --measure score",
		lines("clave;pieza;nota", marks, plain(";", oneDigitComma)), marks)

	l = usual27(179, 8, numbered("TW%d", 8)...)
	t := read("27-arm-in-a-wide-text", "groepen.csv", "--trainee code --arm groep --measure time",
		[]byte(strings.NewReplacer("TW1;", "TW1;video;", "TW2;", "TW2;docent;", "TW3;", "TW3;video;", "TW4;", "TW4;docent;",
			"TW5;", "TW5;video;", "TW6;", "TW6;docent;", "TW7;", "TW7;video;", "TW8;", "TW8;docent;").Replace(
			string(wide("code;groep;poging 1;poging 2;poging 3;poging 4;poging 5;poging 6;poging 7;poging 8", ";", l, oneDigitComma)))), l)
	t.Arms = map[string]string{}
	for i, who := range traineesOf(l) {
		t.Arms[who] = []string{"video", "docent"}[i%2]
	}

	l = usual27(180, 10, numbered("CK%d", 8)...)
	left := without(l, func(a at) bool { return a.who == "CK2" && a.n > 8 || a.who == "CK7" && a.n > 6 })
	read("27-left-before-the-end", "left.csv", "--trainee id --attempt attempt --response seconds --measure time",
		lines("id,attempt,seconds", left, plain(",", oneDigit)), left)

	type six struct {
		Code                   string `parquet:"code"`
		T1, T2, T3, T4, T5, T6 float64
	}
	l = usual27(181, 6, numbered("pq%d", 8)...)
	var rows []six
	for i := 0; i < len(l); i += 6 {
		rows = append(rows, six{l[i].who, l[i].value, l[i+1].value, l[i+2].value, l[i+3].value, l[i+4].value, l[i+5].value})
	}
	read("27-parquet-wide", "six.parquet", "--trainee code --measure time", parquetKept("27-parquet-wide", "six.parquet", rows), l)
}
