package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"golang.org/x/text/encoding/charmap"
)

// twentyeighth is the set of the crafts and clubs: opticians, bicycle mechanics, tailors, beekeepers, farriers,
// sail riggers, bookbinders, splicers of cables, divers and chimney sweeps.
func twentyeighth() {
	crafted.text()
	crafted.shapes()
	crafted.books()
	crafted.bookShapes()
	crafted.parquet()
	crafted.textDoubts()
	crafted.columnDoubts()
	crafted.identityDoubts()
	crafted.bookDoubts()
	crafted.ratings()
	crafted.studies()
	crafted.refused()
}

// crafts keeps the parts of the twenty-eighth set together.
type crafts struct{}

var crafted crafts

// log makes up the attempts of a file of this set.
func (crafts) log(seed uint64, n int, start, plateau, step float64, who ...string) []at {
	return practised(2800+seed, n, start, plateau, step, who...)
}

// flags names trainee, attempt and response of a timed task, a space in a name as it is.
func (crafts) flags(who, n, response, more string) string {
	out := "--trainee " + strings.ReplaceAll(who, " ", "~")
	if n != "" {
		out += " --attempt " + strings.ReplaceAll(n, " ", "~")
	}
	if response != "" {
		out += " --response " + strings.ReplaceAll(response, " ", "~")
	}
	return strings.TrimSpace(out + " --measure time " + more)
}

// book is a workbook with a row an attempt.
func (crafts) book(sheet string, l []at, heads ...any) *book {
	b := newBook(sheet)
	b.log(heads, l, longRow)
	return b
}

// table is a workbook with a row a trainee.
func (crafts) table(sheet, first, format string, l []at, n int) *book {
	b := newBook(sheet)
	b.row("A1", headCells(first, format, n)...)
	b.wide(2, l, value)
	return b
}

// text is text files, a row an attempt, whose meaning is plain.
func (c crafts) text() {
	// Opticians, Netherlands: semicolons, Windows-1252, a remark with a letter of it.
	l := c.log(1, 7, 210, 95, 0.1, "Zoë", "Daniël", "Renée", "Joost", "Maaike", "Femke")
	read("28-lens", "slijpen.csv", c.flags("leerling", "poging", "tijd (s)", "--limit 300"),
		crlf(encoded(charmap.Windows1252, lines("leerling;poging;tijd (s);opmerking", l, func(a at) string {
			return plain(";", fixedComma(1))(a) + map[bool]string{true: ";glas – gebarsten", false: ";"}[a.who == "Joost" && a.n == 3]
		}))), l)

	// Bicycle mechanics, Finland: minutes and seconds.
	l = c.log(2, 8, 240, 110, 1, numbered("OPP-%02d", 6)...)
	read("28-wheel", "pinnaus.csv", c.flags("oppilas", "kerta", "aika", "--limit 300"),
		lines("oppilas;kerta;pvm;aika", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, day("2026-01-12", 4*a.n).Format("2.1.2006"), minutesCut(a.value))
		}), l)

	// Tailors, Italy: quoted decimal commas between commas.
	l = c.log(3, 6, 180, 80, 0.1, numbered("S%02d", 7)...)
	read("28-buttonhole", "asole.csv", c.flags("sarta", "prova", "secondi", ""),
		lines("sarta,prova,secondi", l, func(a at) string { return fmt.Sprintf(`%s,%d,"%s"`, a.who, a.n, fixedComma(1)(a.value)) }), l)

	// Beekeepers, Greece: tabs, UTF-16 big end first with a mark.
	l = c.log(4, 6, 170, 85, 1, "Άλφα", "Βήτα", "Γάμμα", "Δέλτα", "Έψιλον", "Ζήτα")
	read("28-hive", "κυψέλη.txt", c.flags("Μαθητής", "Προσπάθεια", "Δευτερόλεπτα", ""),
		inUTF16(binary.BigEndian, true, crlf(lines("Μαθητής\tΠροσπάθεια\tΔευτερόλεπτα", l, plain("\t", point)))), l)

	// Sail riggers, Sweden: UTF-16 without a mark.
	l = c.log(5, 8, 140, 60, 0.1, numbered("rigg%d", 6)...)
	read("28-splice", "splits.csv", c.flags("elev", "försök", "tid_s", ""),
		inUTF16(binary.LittleEndian, false, crlf(lines("elev;försök;tid_s", l, plain(";", fixedComma(1))))), l)

	// Bookbinders, Czechia: lines end in CR.
	l = c.log(6, 7, 260, 135, 1, "Vazba A", "Vazba B", "Vazba C", "Vazba D", "Vazba E")
	read("28-binding", "vazba.txt", c.flags("učeň", "pokus", "sekundy", ""),
		lineEnds(lines("učeň\tpokus\tsekundy", l, plain("\t", point)), "\r"), l)

	// Farriers, Hungary: a line that names the separator.
	l = c.log(7, 7, 250, 120, 0.5, numbered("PAT%02d", 6)...)
	read("28-horseshoe", "patko.csv", c.flags("tanuló", "kísérlet", "idő_mp", ""),
		crlf(slices.Concat([]byte("\ufeffsep=;\n"), lines("tanuló;kísérlet;idő_mp", l, plain(";", fixedComma(1))))), l)

	// Cable splicers, Korea: title lines and a note below.
	l = c.log(8, 8, 200, 90, 0.1, "훈련생1", "훈련생2", "훈련생3", "훈련생4", "훈련생5")
	read("28-fibre", "광섬유접속.csv", c.flags("훈련생", "회차", "시간(초)", ""),
		slices.Concat([]byte("광섬유 접속 실습 기록\n2026년 봄 학기\n\n"), lines("훈련생,회차,시간(초)", l, plain(",", fixed(1))), []byte("\n비고: 초시계로 측정\n")), l)

	// Divers, Croatia: comment lines of a logger, milliseconds.
	l = c.log(9, 9, 120, 55, 0.001, numbered("ronilac_%d", 5)...)
	read("28-mask", "maska.csv", c.flags("ronilac", "zaron", "trajanje_ms", ""),
		slices.Concat([]byte("# dnevnik bazena, uređaj 3\n# mjera: trajanje u milisekundama\n"),
			lines("ronilac,zaron,trajanje_ms", l, func(a at) string { return fmt.Sprintf("%s,%d,%.0f", a.who, a.n, a.value*1000) })), l)

	// Chimney sweeps, Slovenia: no numbers, the dates tell the order, mixed up.
	l = c.log(10, 6, 190, 100, 1, numbered("DIM%d", 7)...)
	mixed := slices.Clone(l)
	slices.SortStableFunc(mixed, func(a, b at) int { return (a.n*5)%7 - (b.n*5)%7 })
	read("28-flue", "dimnik.csv", "--trainee vajenec --date datum --response sekunde --measure time",
		lines("datum;vajenec;sekunde", mixed, func(a at) string {
			return fmt.Sprintf("%s;%s;%v", day("2026-02-16", 5*a.n).Format("2006-01-02"), a.who, a.value)
		}), l)

	// Radio operators, Estonia: date and time of day tell the order, three in a day.
	l = c.log(11, 9, 130, 58, 0.1, numbered("ES%d", 5)...)
	read("28-radio", "raadio.tsv", "--trainee operaator --date algus --response kestus_s --measure time",
		lines("operaator\talgus\tkestus_s", l, func(a at) string {
			start := day("2026-03-02", 7*((a.n-1)/3)).Add(time.Duration(9*60+11*((a.n-1)%3)+int(a.value)%4) * time.Minute)
			return fmt.Sprintf("%s\t%s\t%v", a.who, start.Format("2006-01-02T15:04"), a.value)
		}), l)

	// Locksmiths, Romania: outcomes in words, named, with the codes said.
	l = stopped(c.log(12, 7, 230, 105, 0.1, numbered("LAC%d", 7)...), 180)
	l[9].outcome, l[30].outcome = "failed", "failed"
	ro := map[string]string{"done": "deschis", "timeout": "expirat", "failed": "rupt"}
	read("28-lock", "broasca.csv", c.flags("ucenic", "incercare", "secunde", "--outcome rezultat --limit 180 --code deschis=done --code rupt=failed --code expirat=timeout"),
		lines("ucenic;incercare;secunde;rezultat", l, func(a at) string { return plain(";", fixedComma(1))(a) + ";" + ro[a.outcome] }), l)

	// Glass blowers, English: plain outcomes, a limit.
	l = stopped(c.log(13, 8, 260, 120, 0.1, numbered("GB%02d", 6)...), 200)
	l[12].outcome, l[29].outcome, l[45].outcome = "failed", "failed", "failed"
	read("28-goblet", "goblet.csv", c.flags("apprentice", "piece", "seconds", "--outcome outcome --limit 200"),
		lines("apprentice,piece,seconds,outcome", l, func(a at) string { return plain(",", fixed(1))(a) + "," + a.outcome }), l)

	// Stone masons, Spain: index column of a data program, arms.
	l = c.log(14, 7, 220, 120, 0.1, numbered("CAN%02d", 8)...)
	arms := map[string]string{}
	for i, w := range numbered("CAN%02d", 8) {
		arms[w] = []string{"maza", "neumático"}[i/2%2]
	}
	i := -1
	read("28-stone", "cantero.csv", "--trainee alumno --attempt intento --response segundos --arm método --measure time",
		lines(",alumno,método,intento,segundos", l, func(a at) string { i++; return fmt.Sprintf("%d,%s,%s,%d,%v", i, a.who, arms[a.who], a.n, a.value) }), l).Arms = arms

	// Potters, Portugal: answers of an online survey with two more head rows.
	l = c.log(15, 6, 170, 88, 1, numbered("OLE%02d", 6)...)
	i = 0
	read("28-survey", "respostas_oleiro.csv", "--trainee Q4 --attempt Q5 --response Q6 --measure time",
		lines(`StartDate,Progress,Q4,Q5,Q6
Data de início,Progresso,O seu código,Número da tentativa,"Tempo, em segundos, até retirar a taça"
"{""ImportId"":""startDate""}","{""ImportId"":""progress""}","{""ImportId"":""QID4_TEXT""}","{""ImportId"":""QID5_TEXT""}","{""ImportId"":""QID6_TEXT""}"`, l, func(a at) string {
			i++
			return fmt.Sprintf("%s,100,%s,%d,%v", day("2026-04-07", 3*a.n).Add(time.Duration(600+i)*time.Minute).Format("2006-01-02 15:04:05"), a.who, a.n, a.value)
		}), l)

	// Embroiderers, Ukraine: knots missed, counted.
	l = with(c.log(16, 9, 240, 60, 1, numbered("ВИШ-%d", 7)...), func(a *at) { a.value = max(0, math.Round(a.value/26-2)) })
	read("28-knots", "вузли.csv", "--trainee учениця --attempt спроба --response пропущені_вузли --measure count",
		lines("учениця;спроба;пропущені_вузли", l, plain(";", point)), l)

	// Climbing rescue, Slovakia: passed or not.
	l = with(c.log(17, 12, 200, 80, 1, numbered("ZACH%d", 6)...), func(a *at) { a.value = map[bool]float64{true: 1, false: 0}[a.value < 120] })
	read("28-knot-passed", "uzol.csv", "--trainee záchranár --attempt pokus --response splnené --measure pass-fail",
		lines("záchranár;pokus;splnené", l, plain(";", point)), l)

	// Baristas, Indonesia: points of a tasting, more is better.
	l = with(c.log(18, 8, 200, 90, 0.1, numbered("BAR%d", 6)...), func(a *at) { a.value = math.Round(1000-a.value*2.5) / 10 })
	read("28-pour", "seduh.csv", "--trainee peserta --attempt percobaan --response nilai --measure score --better higher",
		lines("peserta,percobaan,nilai", l, plain(",", fixed(1))), l)

	// Foresters, Denmark: seconds with two decimals, names in quotes, a trainee's name with a comma.
	l = c.log(19, 7, 210, 100, 0.01, "Holm, Ida", "Lund, Per", "Krag, Bo", "Toft, Eva", "Rask, Jo")
	read("28-chain", "kaede.csv", c.flags("elev", "forsøg", "sekunder", ""),
		lines(`"elev","forsøg","sekunder"`, l, func(a at) string { return fmt.Sprintf(`"%s",%d,%.2f`, a.who, a.n, a.value) }), l)

	// Piano tuners, Vietnam: minutes, seconds and hundredths with a point.
	l = c.log(20, 6, 230, 125, 0.01, numbered("hv%02d", 6)...)
	read("28-strings", "len_day.csv", c.flags("hoc_vien", "lan", "thoi_gian", "--limit 300"),
		lines("hoc_vien,lan,thoi_gian", l, func(a at) string {
			h := int(math.Round(a.value * 100))
			return fmt.Sprintf("%s,%d,%d:%02d.%02d", a.who, a.n, h/6000, h/100%60, h%100)
		}), l)

	// Milliners, France: two examiners' names in the same file; the time is asked for.
	l = c.log(21, 6, 200, 110, 1, numbered("MOD%d", 8)...)
	read("28-hat", "chapeau.csv", c.flags("modiste", "essai", "durée (s)", ""),
		lines("modiste;essai;examinatrice;durée (s);note", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s;%v;%d", a.who, a.n, []string{"Mme Orval", "Mme Tessy"}[(a.n+len(a.who))%2], a.value, 9+int(a.value)%8)
		}), l)

	// Saddlers, Poland: one task asked for among two.
	l = c.log(22, 6, 190, 95, 1, numbered("RYM%d", 6)...)
	read("28-one-task", "rymarz.csv", c.flags("uczeń", "próba", "czas_s", "--where zadanie=pasek"),
		lines("uczeń;zadanie;próba;czas_s", l, func(a at) string {
			return fmt.Sprintf("%s;pasek;%d;%v\n%s;uzda;%d;%v", a.who, a.n, a.value, a.who, a.n, math.Round(a.value*0.7+31-float64(a.n)))
		}), l)

	// Numbers start again each session.
	l = c.log(23, 9, 150, 70, 0.1, numbered("smed%d", 6)...)
	read("28-again-from-one", "smide.csv", c.flags("lærling", "slag", "sekunder", "--session dag"),
		lines("lærling,dag,slag,sekunder", l, func(a at) string { return fmt.Sprintf("%s,%d,%d,%v", a.who, (a.n+2)/3, (a.n+2)%3+1, a.value) }), l)

	// Mean and SD rows at the foot, after a blank line.
	l = c.log(24, 6, 160, 80, 0.1, numbered("KM-%02d", 6)...)
	table := wide("Koetser,Rit 1,Rit 2,Rit 3,Rit 4,Rit 5,Rit 6", ",", l, fixed(1))
	for _, name := range []string{"Gemiddelde", "SD"} {
		if name == "Gemiddelde" {
			table = append(table, '\n')
		}
		table = append(table, name...)
		for n := 1; n <= 6; n++ {
			m, sd := c.moments(only(l, func(a at) bool { return a.n == n }))
			table = fmt.Appendf(table, ",%.1f", map[bool]float64{true: m, false: sd}[name == "Gemiddelde"])
		}
		table = append(table, '\n')
	}
	read("28-mean-below", "koets.csv", c.flags("Koetser", "", "", ""), table, l)
}

// moments is the mean and the standard deviation of values.
func (crafts) moments(l []at) (mean, sd float64) {
	for _, a := range l {
		mean += a.value / float64(len(l))
	}
	for _, a := range l {
		sd += (a.value - mean) * (a.value - mean) / float64(len(l)-1)
	}
	return mean, math.Sqrt(sd)
}

// shapes is text files of other shapes, plain too.
func (c crafts) shapes() {
	for i, s := range []struct{ folder, file, first, head, sep string }{
		{"28-wide-poging", "vlecht.csv", "deelnemer", "poging_%d", ";"},
		{"28-wide-run", "reef.csv", "crew", "Run %d", ","},
		{"28-wide-try", "weld.tsv", "welder", "try%02d", "\t"},
		{"28-wide-ordinal", "hoef.csv", "Kursist", "%d. forsøk", ";"},
		{"28-wide-hash", "solder.csv", "Student", "#%d", ","},
		{"28-wide-unit", "neule.csv", "Oppilas", "Kerta %d (s)", ";"},
		{"28-wide-bare", "candle.csv", "maker", "%d", ","},
	} {
		n := 6 + i%4
		l := c.log(uint64(40+i), n, 150+12*float64(i), 70+5*float64(i), 0.1, numbered(string(rune('D'+i))+"%02d", 6+i%3)...)
		cell := fixed(1)
		if s.sep == ";" {
			cell = fixedComma(1)
		}
		read(s.folder, s.file, c.flags(s.first, "", "", "--limit 300"), wide(headLine(s.first, s.sep, s.head, n), s.sep, l, cell), l)
	}

	// Time and faults by turns.
	l := c.log(50, 6, 180, 85, 0.1, numbered("TK%d", 7)...)
	read("28-by-turns", "takla.csv", "--trainee elev --heads tid=seconds --heads fel=errors --response seconds --measure time",
		wide("elev;tid1;fel1;tid2;fel2;tid3;fel3;tid4;fel4;tid5;fel5;tid6;fel6", ";", l, func(v float64) string { return fixedComma(1)(v) + ";" + strconv.Itoa(int(v)%5) }), l)

	// All times, then all faults.
	l = c.log(51, 5, 170, 80, 1, numbered("Bo%d", 8)...)
	var b bytes.Buffer
	b.WriteString("imker,T1,T2,T3,T4,T5,F1,F2,F3,F4,F5\n")
	for i := 0; i < len(l); i += 5 {
		b.WriteString(l[i].who)
		for _, a := range l[i : i+5] {
			fmt.Fprint(&b, ",", a.value)
		}
		for _, a := range l[i : i+5] {
			fmt.Fprint(&b, ",", int(a.value)%4)
		}
		b.WriteString("\n")
	}
	read("28-blocks", "raampjes.csv", "--trainee imker --heads T=seconds --heads F=errors --response seconds --measure time", bytes.Clone(b.Bytes()), l)

	// A column a trainee.
	l = c.log(52, 9, 140, 66, 0.1, "Kos", "Sova", "Vrana", "Žolna", "Škorec")
	b.Reset()
	b.WriteString("poskus,Kos,Sova,Vrana,Žolna,Škorec\n")
	for n := 1; n <= 9; n++ {
		fmt.Fprint(&b, n)
		for _, a := range only(l, func(a at) bool { return a.n == n }) {
			fmt.Fprintf(&b, ",%.1f", a.value)
		}
		b.WriteString("\n")
	}
	read("28-column-a-trainee", "panj.csv", "--columns-are trainee --attempt poskus --measure time", bytes.Clone(b.Bytes()), l)

	// On its side: heads in the first column.
	l = c.log(53, 4, 190, 90, 1, numbered("K%d", 5)...)
	b.Reset()
	for _, row := range []struct {
		head string
		cell func(a at) any
	}{{"vakman", func(a at) any { return a.who }}, {"beurt", func(a at) any { return a.n }}, {"seconden", value}} {
		b.WriteString(row.head)
		for _, a := range l {
			fmt.Fprint(&b, ";", row.cell(a))
		}
		b.WriteString("\n")
	}
	read("28-on-its-side", "gekanteld.csv", "--transposed "+c.flags("vakman", "beurt", "seconden", ""), bytes.Clone(b.Bytes()), l)

	// Not everybody made as many: short rows end early.
	l = without(c.log(54, 8, 150, 72, 0.1, numbered("ptk%d", 7)...), func(a at) bool { return a.n > 8-(int(a.who[3])*3)%5 })
	b.Reset()
	b.WriteString("jezdec;jízda 1;jízda 2;jízda 3;jízda 4;jízda 5;jízda 6;jízda 7;jízda 8")
	for _, who := range traineesOf(l) {
		b.WriteString("\n" + who)
		of := attemptsOf(l, who)
		for n := range 8 {
			b.WriteString(";")
			if n < len(of) {
				b.WriteString(fixedComma(1)(of[n].value))
			}
		}
	}
	b.WriteString("\n")
	read("28-ragged", "sedlo.csv", c.flags("jezdec", "", "", ""), bytes.Clone(b.Bytes()), l)

	// The code stands once, in the first row of each trainee.
	l = c.log(55, 6, 160, 84, 1, numbered("Tim %d", 6)...)
	read("28-code-once", "selang.csv", c.flags("regu", "ulangan", "detik", "--fill-down regu"),
		lines("regu,ulangan,detik", l, func(a at) string {
			if a.n > 1 {
				a.who = ""
			}
			return plain(",", point)(a)
		}), l)
}

// books is workbooks with a row an attempt, plain.
func (c crafts) books() {
	l := c.log(60, 7, 250, 120, 1, numbered("BRL%02d", 7)...)
	b := newBook("Montuur")
	b.log([]any{"Opticien", "Poging", "Duur"}, l, func(a at) []any { return []any{a.who, a.n, ofDay(a)} })
	b.format("C2", "C50", "[m]:ss")
	read("28-minute-cells", "montuur.xlsx", c.flags("Opticien", "Poging", "Duur", "--limit 300"), b.bytes(), l)

	l = c.log(61, 6, 230, 110, 0.1, numbered("Pyö%d", 7)...)
	b = newBook("Taul1")
	b.log([]any{"Asentaja", "Kerta", "Aika"}, l, func(a at) []any { return []any{a.who, a.n, ofDay(a)} })
	b.format("C2", "C43", "[m]:ss.0")
	read("28-minute-tenths", "vaihteet.xlsx", c.flags("Asentaja", "Kerta", "Aika", "--limit 300"), b.bytes(), l)

	l = c.log(62, 7, 130, 62, 0.1, "002", "007", "019", "044", "101", "230")
	b = newBook("Foglio1")
	b.log([]any{"Tessera", "Prova", "Secondi"}, l, func(a at) []any { return []any{number(a.who), a.n, a.value} })
	b.format("A2", "A43", "000")
	read("28-card-numbers", "tessere.xlsx", c.flags("Tessera", "Prova", "Secondi", ""), b.bytes(), l)

	for _, mac := range []bool{true, false} {
		l = c.log(map[bool]uint64{true: 63, false: 64}[mac], 6, 170, 92, 1, numbered("vod%d", 7)...)
		b = newBook("List1")
		epoch := "1899-12-30"
		if mac {
			epoch = "1904-01-01"
			props, err := b.GetWorkbookProps()
			must(err)
			props.Date1904 = &mac
			must(b.SetWorkbookProps(&props))
		}
		b.log([]any{"Vodolaz", "Datum", "Trajanje (s)"}, l, func(a at) []any {
			return []any{a.who, day("2026-03-03", 6*a.n+len(a.who)).Sub(day(epoch, 0)).Hours() / 24, a.value}
		})
		b.format("B2", "B43", "dd.mm.yyyy")
		read(map[bool]string{true: "28-from-1904", false: "28-from-1900"}[mac], "ronjenje.xlsx", "--trainee Vodolaz --date Datum --response Trajanje~(s) --measure time", b.bytes(), l)
	}

	// A legend on a second sheet, no attempts.
	l = c.log(65, 7, 200, 98, 0.1, numbered("KOM%d", 6)...)
	b = c.book("Meritve", l, "Vajenec", "Poskus", "Čas (s)")
	b.next("Legenda")
	b.row("A1", "Čas (s)", "s štoparico, od znaka do konca")
	b.row("A2", "Poskus", "po vrsti, vsak teden dva")
	read("28-legend-sheet", "legenda.xlsx", c.flags("Vajenec", "Poskus", "Čas (s)", ""), b.bytes(), l)

	// Start, end and the time as a formula that was calculated.
	l = c.log(66, 6, 150, 76, 1, numbered("SPL%d", 7)...)
	b = newBook("Sheet1")
	b.log([]any{"splicer", "joint", "from", "to", "seconds"}, l, func(a at) []any { return []any{a.who, a.n, 7 + a.n, 7 + float64(a.n) + a.value} })
	for i := range l {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("D%d-C%d", i+2, i+2)))
	}
	read("28-calculated", "joints.xlsx", c.flags("splicer", "joint", "seconds", ""), office("28-calculated", "joints.xlsx", b.bytes()), l)

	// Text cells of minutes and seconds, all of them.
	l = c.log(67, 6, 240, 115, 1, numbered("Kov%02d", 6)...)
	b = newBook("Munka1")
	b.log([]any{"Kovács", "Próba", "Idő"}, l, func(a at) []any { return []any{a.who, a.n, minutesCut(a.value)} })
	read("28-text-minutes", "kovacs.xlsx", c.flags("Kovács", "Próba", "Idő", "--limit 300"), b.bytes(), l)

	// Durations in an OpenDocument sheet.
	l = c.log(68, 6, 220, 118, 1, numbered("Ung%d", 6)...)
	b = newBook("Blad1")
	b.log([]any{"Lärling", "Nr", "Tid"}, l, func(a at) []any { return []any{a.who, a.n, ofDay(a)} })
	b.format("C2", "C37", "[mm]:ss")
	read("28-ods-durations", "sadel.ods", c.flags("Lärling", "Nr", "Tid", "--limit 300"), office("28-ods-durations", "sadel.ods", b.bytes()), l)

	// An OpenDocument sheet written by hand, repeated blanks behind.
	l = c.log(69, 5, 170, 90, 0.1, numbered("r%d", 6)...)
	rows := []string{odsRow(odsText("alumna"), odsText("ensayo"), odsText("segundos"))}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value), `<table:table-cell table:number-columns-repeated="1021"/>`))
	}
	rows = append(rows, `<table:table-row table:number-rows-repeated="1048545"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>`)
	read("28-ods-blanks", "encaje.ods", c.flags("alumna", "ensayo", "segundos", ""), ods(rows...), l)

	// Title above, notes below, blank column before.
	l = c.log(70, 6, 230, 118, 1, numbered("Mz%d", 7)...)
	b = newBook("Zápis")
	must(b.MergeCell(b.sheet, "B1", "E1"))
	b.put(2, 1, "Cech kameníků: hrana pod úhlem, jaro 2026")
	b.row("B3", "Učeň", "Pokus", "Čas (s)", "Dohled")
	for i, a := range l {
		b.row(fmt.Sprint("B", i+4), a.who, a.n, a.value, "Vr")
	}
	b.put(2, len(l)+6, "Pozn.: měřeno ručními stopkami")
	read("28-title-and-note", "hrana.xlsx", c.flags("Učeň", "Pokus", "Čas (s)", ""), b.bytes(), l)

	// Merged codes.
	l = c.log(71, 4, 160, 95, 0.1, numbered("Par %d", 8)...)
	b = newBook("Ark1")
	b.log([]any{"Makkerpar", "Forsøg", "Sekunder"}, l, func(a at) []any {
		if a.n > 1 {
			return []any{nil, a.n, a.value}
		}
		return longRow(a)
	})
	for i := 0; i < len(l); i += 4 {
		must(b.MergeCell(b.sheet, fmt.Sprint("A", i+2), fmt.Sprint("A", i+5)))
	}
	read("28-merged-codes", "tovvaerk.xlsx", c.flags("Makkerpar", "Forsøg", "Sekunder", "--fill-down Makkerpar"), b.bytes(), l)
}

// bookShapes is workbooks of other shapes, plain.
func (c crafts) bookShapes() {
	// A sheet a trainee.
	l := c.log(80, 8, 180, 88, 0.1, "Arto", "Eila", "Jorma", "Kaisu", "Veikko")
	var b *book
	for _, a := range l {
		if b == nil {
			b = newBook(a.who)
		} else if a.n == 1 {
			b.next(a.who)
		}
		b.row("A1", "Kerta", "Sekuntia")
		b.row(fmt.Sprint("A", a.n+1), a.n, a.value)
	}
	read("28-sheet-a-trainee", "sepat.xlsx", "--sheets-are trainee --attempt Kerta --response Sekuntia --measure time", b.bytes(), l)

	// A sheet a session, numbers run on.
	l = c.log(81, 8, 170, 86, 1, numbered("ucz%d", 6)...)
	for s := 1; s <= 4; s++ {
		if s == 1 {
			b = newBook("Zajęcia 1")
		} else {
			b.next(fmt.Sprint("Zajęcia ", s))
		}
		b.log([]any{"uczeń", "próba", "sekundy"}, only(l, func(a at) bool { return (a.n+1)/2 == s }), longRow)
	}
	read("28-sheet-a-session", "zajecia.xlsx", "--sheets-are session "+c.flags("uczeń", "próba", "sekundy", ""), b.bytes(), l)

	// Attempt above measure.
	l = c.log(82, 4, 160, 82, 1, numbered("Ekipa %d", 8)...)
	b = newBook("Jedra")
	b.row("A1", "Ekipa", "Poskus 1", nil, "Poskus 2", nil, "Poskus 3", nil, "Poskus 4", nil)
	b.row("A2", nil, "Čas (s)", "Napake", "Čas (s)", "Napake", "Čas (s)", "Napake", "Čas (s)", "Napake")
	for _, m := range [][2]string{{"A1", "A2"}, {"B1", "C1"}, {"D1", "E1"}, {"F1", "G1"}, {"H1", "I1"}} {
		must(b.MergeCell(b.sheet, m[0], m[1]))
	}
	for i, a := range l {
		b.put(1, i/4+3, a.who)
		b.put(2*a.n, i/4+3, a.value)
		b.put(2*a.n+1, i/4+3, int(a.value)%4)
	}
	read("28-attempt-above-measure", "jadra.xlsx", "--trainee Ekipa --response Čas~(s) --measure time", b.bytes(), l)

	// Measure above attempt, merged.
	l = c.log(83, 4, 190, 96, 0.1, numbered("Čl%d", 7)...)
	b = newBook("Tabulka")
	b.row("A1", "Člen", "Čas (s)", nil, nil, nil, "Chyby")
	b.row("A2", nil, "Pokus 1", "Pokus 2", "Pokus 3", "Pokus 4", "Pokus 1", "Pokus 2", "Pokus 3", "Pokus 4")
	for _, m := range [][2]string{{"A1", "A2"}, {"B1", "E1"}, {"F1", "I1"}} {
		must(b.MergeCell(b.sheet, m[0], m[1]))
	}
	b.wide(3, l, value)
	for i, a := range l {
		b.put(5+a.n, i/4+3, int(a.value)%3)
	}
	read("28-measure-above-attempt", "uzly.xlsx", "--trainee Člen --response Čas~(s) --measure time", b.bytes(), l)

	// Three rows of heads.
	l = c.log(84, 5, 230, 140, 1, "Gesell 1", "Gesell 2", "Gesell 3", "Gesell 4", "Gesell 5", "Gesell 6")
	b = newBook("Falz")
	b.row("A1", "Geselle", "Dauer")
	b.row("A2", nil, "Durchgang 1", "Durchgang 2", "Durchgang 3", "Durchgang 4", "Durchgang 5")
	b.row("A3", nil, "s", "s", "s", "s", "s")
	must(b.MergeCell(b.sheet, "A1", "A3"))
	must(b.MergeCell(b.sheet, "B1", "F1"))
	b.wide(4, l, value)
	read("28-three-heads", "falz.xlsx", c.flags("Geselle", "", "", ""), b.bytes(), l)

	// Minute cells in a wide sheet.
	l = c.log(85, 6, 250, 125, 1, numbered("Orf%d", 6)...)
	b = newBook("Plan1")
	b.row("A1", headCells("Ourives", "Peça %d", 6)...)
	b.wide(2, l, ofDay)
	b.format("B2", "G7", "[m]:ss")
	read("28-wide-minute-cells", "ourives.xlsx", c.flags("Ourives", "", "", "--limit 300"), b.bytes(), l)

	// Words among the times, said.
	l = stopped(c.log(86, 6, 250, 118, 1, numbered("FR%02d", 7)...), 210)
	l[17] = at{l[17].who, l[17].n, math.NaN(), "failed"}
	b = newBook("Sheet1")
	b.row("A1", headCells("Farrier", "Shoe %d", 6)...)
	b.wide(2, l, func(a at) any {
		switch a.outcome {
		case "failed":
			return "LAME"
		case "timeout":
			return "over"
		}
		return a.value
	})
	read("28-words-in-cells", "shoes.xlsx", c.flags("Farrier", "", "", "--limit 210 --code over=timeout --code LAME=failed"), b.bytes(), l)

	// A mean column beside and a mean row below.
	l = c.log(87, 5, 150, 77, 0.1, numbered("hatter%d", 7)...)
	b = c.table("Brims", "Hatter", "Attempt %d", l, 5)
	b.put(7, 1, "Mean")
	for i, who := range traineesOf(l) {
		m, _ := c.moments(attemptsOf(l, who))
		b.put(7, i+2, math.Round(m*10)/10)
	}
	b.put(1, 10, "Mean")
	for n := 1; n <= 5; n++ {
		m, _ := c.moments(only(l, func(a at) bool { return a.n == n }))
		b.put(n+1, 10, math.Round(m*10)/10)
	}
	read("28-mean-beside-and-below", "brims.xlsx", c.flags("Hatter", "", "", ""), b.bytes(), l)

	// A crossover: everybody with both tools, one of them asked for.
	l = c.log(88, 5, 210, 120, 1, numbered("ko%d", 8)...)
	b = newBook("Data")
	b.row("A1", "lärling", "verktyg", "försök", "sekunder")
	row := 2
	for _, a := range l {
		b.row(fmt.Sprint("A", row), a.who, "hand", a.n, a.value)
		b.row(fmt.Sprint("A", row+1), a.who, "maskin", a.n, math.Round(a.value*0.75)+9)
		row += 2
	}
	read("28-crossover", "verktyg.xlsx", c.flags("lärling", "försök", "sekunder", "--where verktyg=hand"), b.bytes(), l)
}

// A craftRow is a row of a Parquet file of this set.
type craftRow struct {
	Maker   string  `parquet:"maker"`
	Piece   int64   `parquet:"piece"`
	Seconds float64 `parquet:"seconds"`
}

// A craftDate is a row with the day.
type craftDate struct {
	Maker   string  `parquet:"maker"`
	Day     int32   `parquet:"day,date"`
	Seconds float64 `parquet:"seconds,optional"`
}

func (crafts) frame(l []at) []craftRow {
	var rows []craftRow
	for _, a := range l {
		rows = append(rows, craftRow{a.who, int64(a.n), a.value})
	}
	return rows
}

// parquet is Parquet files.
func (c crafts) parquet() {
	flags := c.flags("maker", "piece", "seconds", "")
	l := c.log(90, 9, 160, 78, 0.1, numbered("mk%02d", 7)...)
	read("28-frame", "baskets.parquet", flags, parquetKept("28-frame", "baskets.parquet", c.frame(l)), l)

	l = c.log(91, 7, 180, 92, 0.5, numbered("wv%d", 6)...)
	var rows []craftDate
	for _, a := range l {
		rows = append(rows, craftDate{a.who, int32(day("2026-02-02", 5*a.n).Unix() / 86400), a.value})
	}
	read("28-loom-days", "loom.parquet", "--trainee maker --date day --response seconds --measure time", parquetKept("28-loom-days", "loom.parquet", rows), l)

	l = c.log(92, 7, 190, 95, 0.1, numbered("tn%d", 6)...)
	odd := c.frame(l)
	odd[10].Seconds = 999
	odd[31].Seconds = 999
	doubt("28-frame-999", "tannery.parquet", flags, parquetKept("28-frame-999", "tannery.parquet", odd),
		without(l, func(a at) bool { return a.n == 4 && (a.who == "tn2" || a.who == "tn5") }),
		"rows 11 and 32 (tn2 piece 4, tn5 piece 4): 999 is a code for no time, far above all others")

	l = c.log(93, 30, 150, 80, 0.1, numbered("T%02d", 12)...)
	whole := parquetKept("28-half-frame", "whole", c.frame(l))
	refuse("28-half-frame", "kiln.parquet", flags, whole[:len(whole)/2], "the copy stopped half way: the foot of the Parquet file is missing; copy it again")
}

// textDoubts is text files whose values can be meant in two ways.
func (c crafts) textDoubts() {
	// Decimal commas between commas.
	l := c.log(100, 6, 150, 76, 0.1, numbered("V%d", 6)...)
	l = with(l, func(a *at) {
		if a.value == math.Round(a.value) {
			a.value += 0.3
		}
	})
	l = rounded(l, 0.1)
	doubt("28-commas-everywhere", "vlechten.csv", c.flags("leerling", "poging", "seconden", ""),
		lines("leerling,poging,seconden", l, plain(",", comma)), l, "every row: the comma parts the cells and is the decimal mark too (V1,1,138,4), four cells under three heads")
	doubt("28-commas-and-room", "vlechten2.csv", c.flags("leerling", "poging", "seconden", ""),
		lines("leerling,poging,seconden,fouten", l, func(a at) string { return plain(",", comma)(a) + fmt.Sprint(",", int(a.value)%3) }), l,
		"every row: the seconds are cut at their decimal comma, five cells under four heads, and the digit after it stands below fouten")

	// Thousands.
	l = with(c.log(101, 8, 220, 90, 1, numbered("PZ%02d", 6)...), func(a *at) { a.value = 1500 - 4*a.value })
	doubt("28-thousands-point", "punten.csv", "--trainee imker --attempt ronde --response punten --measure score --better higher",
		lines("imker;ronde;punten", l, plain(";", func(v float64) string {
			if v >= 1000 {
				return fmt.Sprintf("%d.%03d", int(v)/1000, int(v)%1000)
			}
			return fmt.Sprint(v)
		})), l, "column punten: 1.084 beside 840 is one thousand and eighty-four, not a little over one")
	l = c.log(102, 6, 160, 80, 0.1, numbered("drv%d", 6)...)
	doubt("28-thousands-comma", "shift.csv", c.flags("driver", "run", "time", ""),
		lines("driver,run,time", l, func(a at) string {
			return fmt.Sprintf(`%s,%d,"%d,%d00"`, a.who, a.n, int(math.Round(a.value*10))/10, int(math.Round(a.value*10))%10)
		}), nil,
		`column time: "98,200" is 98.2 s with a decimal comma, or 98,200 ms with a mark for thousands`)
	doubt("28-thousands-time", "tijd.csv", c.flags("schipper", "ronde", "tijd", "--limit 300"),
		lines("schipper;ronde;tijd", l, func(a at) string {
			ms := int(math.Round(a.value * 1000))
			return fmt.Sprintf("%s;%d;%d.%03d", a.who, a.n, ms/60000, ms%60000/60)
		}), nil, "column tijd: 1.384 and the like, all far below the limit of 300: minutes, or a mark for thousands, not seconds")

	// Minutes and seconds with a point.
	l = c.log(103, 6, 230, 100, 1, numbered("tes%02d", 7)...)
	ms := func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) }
	doubt("28-point-for-colon", "sartoria.csv", c.flags("allievo", "prova", "tempo", "--limit 300"),
		lines("allievo,prova,tempo", l, plain(",", ms)), l, "column tempo: 1.38 is minutes and seconds with a point (no digits after it above 59), far below the limit of 300")
	l = c.log(104, 6, 240, 110, 1, numbered("OP%d", 7)...)
	doubt("28-comma-for-colon", "hranice.csv", c.flags("učeň", "pokus", "min", "--limit 300"),
		lines("učeň;pokus;min", l, plain(";", func(v float64) string { return strings.ReplaceAll(ms(v), ".", ",") })), l,
		"column min: 1,38 is minutes and seconds (no digits after the comma above 59), neither 1.38 minutes nor 1.38 s")

	// Minutes among seconds.
	l = c.log(105, 6, 200, 100, 1, numbered("sm%d", 7)...)
	doubt("28-minutes-among", "smedja.csv", c.flags("elev", "försök", "tid", ""),
		lines("elev;försök;tid", l, func(a at) string {
			if a.who == "sm5" {
				return plain(";", func(v float64) string { return fixedComma(1)(v / 60) })(a)
			}
			return plain(";", point)(a)
		}), nil, "rows 26 to 31 (sm5): 2,3 and the like are minutes among seconds of everybody else")
	l = c.log(106, 7, 180, 95, 1, numbered("gj%d", 6)...)
	doubt("28-minutes-by-colon-among", "bikube.csv", c.flags("kursist", "runde", "tid", ""),
		lines("kursist,runde,tid", l, func(a at) string {
			if a.who == "gj4" && a.n > 3 {
				return plain(",", func(v float64) string { return minutesCut(v) + ":00" })(a)
			}
			return plain(",", point)(a)
		}), l, "rows 26 to 29 (gj4, rounds 4 to 7): 1:32:00 was typed for 1 min 32 s (a spreadsheet's filling up), not one hour and a half")

	// Minutes, seconds, hundredths with colons.
	l = with(c.log(107, 7, 170, 85, 1, numbered("dr%d", 6)...), func(a *at) { a.value = math.Round(a.value*100+float64((int(a.value)*11+a.n*17)%60)) / 100 })
	colons := func(v float64) string {
		h := int(math.Round(v * 100))
		return fmt.Sprintf("%d:%02d:%02d", h/6000, h/100%60, h%100)
	}
	doubt("28-three-colons", "zaron.csv", c.flags("ronilac", "zaron", "vrijeme", "--limit 300"),
		lines("ronilac;zaron;vrijeme", l, plain(";", colons)), l, "column vrijeme: 1:38:05 is minutes, seconds and hundredths; as hours all are far above the limit of 300")

	// Clock times.
	l = c.log(108, 6, 150, 80, 1, numbered("P%02d", 7)...)
	clock := 0
	doubt("28-time-of-day", "ohýbání.csv", c.flags("učeň", "pokus", "čas", ""),
		lines("učeň;pokus;datum;čas", l, func(a at) string {
			clock += 5 + int(a.value)%4
			return fmt.Sprintf("%s;%d;2026-05-21;%d:%02d", a.who, a.n, 8+clock/60, clock%60)
		}), nil, "column čas: 8:06, 8:13 and on is the time of day of each attempt, not how long it took")
	clock = 0
	doubt("28-finished-at", "reefing.csv", c.flags("hand", "reef", "finished", "--limit 300"),
		lines("hand,reef,started,finished", l, func(a at) string {
			clock += 420 + int(a.value)
			s := 13*3600 + clock
			e := s + int(a.value)
			return fmt.Sprintf("%s,%d,%02d:%02d:%02d,%02d:%02d:%02d", a.who, a.n, s/3600, s/60%60, s%60, e/3600, e/60%60, e%60)
		}), l, "column finished is a time of day (13:08:25), and the duration is finished less started; read as durations all are far above the limit")

	// A code for no time.
	l = c.log(109, 8, 190, 92, 0.1, numbered("sv%d", 6)...)
	coded := func(gone func(a at) bool, code float64) []at {
		return with(l, func(a *at) {
			if gone(*a) {
				a.value = code
			}
		})
	}
	gone := func(a at) bool {
		return a.who == "sv2" && a.n == 1 || a.who == "sv4" && a.n == 6 || a.who == "sv5" && a.n == 2
	}
	doubt("28-three-nines", "svets.csv", c.flags("svetsare", "fog", "sekunder", ""),
		lines("svetsare;fog;sekunder", coded(gone, 999), plain(";", comma)), without(l, gone), "999 at sv2 joint 1, sv4 joint 6, sv5 joint 2: a code for no time")
	doubt("28-minus-nine", "svets9.csv", c.flags("svetsare", "fog", "sekunder", ""),
		lines("svetsare;fog;sekunder", coded(gone, -9), plain(";", comma)), without(l, gone), "-9 at sv2 joint 1, sv4 joint 6, sv5 joint 2: no time is below zero; a code for no time")

	// A point left out, below the usual five times.
	l = c.log(110, 7, 150, 82, 0.1, numbered("kot%d", 6)...)
	i := slices.IndexFunc(l, func(a at) bool { return a.n > 2 && a.value > 88 && a.value < 99.8 && a.value != math.Round(a.value) })
	j := i + 1 + slices.IndexFunc(l[i+1:], func(a at) bool { return a.n > 3 && a.value > 70 && a.value < 99.9 && a.value != math.Round(a.value) })
	typed := slices.Clone(l)
	typed[i].value = math.Round(l[i].value * 10)
	doubt("28-point-left-out", "kotva.csv", c.flags("plavčík", "pokus", "sekundy", "--limit 300"),
		lines("plavčík,pokus,sekundy", typed, func(a at) string { return plain(",", point)(a) }), l,
		fmt.Sprintf("row %d: %v was typed without the point (%v), above the limit of 300", i+2, typed[i].value, l[i].value))
	typed[j].value = math.Round(l[j].value * 10)
	doubt("28-two-points-left-out", "kotva2.csv", c.flags("plavčík", "pokus", "sekundy", ""),
		lines("plavčík;pokus;sekundy", typed, plain(";", func(v float64) string { return comma(v) })), l,
		fmt.Sprintf("rows %d and %d: %v and %v were typed without the comma, ten times those around them", i+2, j+2, typed[i].value, typed[j].value))

	// Stopped at 150, said to be 300.
	l = stopped(c.log(111, 8, 230, 108, 0.1, numbered("lam%d", 7)...), 150)
	doubt("28-other-limit", "lampa.csv", c.flags("elev", "omgång", "sekunder", "--outcome utfall --limit 300 --code klar=done --code stopp=timeout"),
		lines("elev;omgång;sekunder;utfall", l, func(a at) string {
			return plain(";", comma)(a) + ";" + map[string]string{"done": "klar", "timeout": "stopp"}[a.outcome]
		}), l, "every stopp stands at exactly 150 and nothing is longer, though the limit is said to be 300")
	doubt("28-other-limit-unsaid", "lampa2.csv", c.flags("elev", "omgång", "sekunder", "--limit 300"),
		lines("elev;omgång;sekunder", l, plain(";", comma)), l, "many attempts are exactly 150 and none is longer: stopped at 150, though the limit is said to be 300")

	// Above the limit, less than five times.
	l = c.log(112, 7, 280, 150, 1, numbered("hm%d", 6)...)
	over := only(l, func(a at) bool { return a.value > 200 })
	doubt("28-above-the-limit", "hammer.csv", c.flags("svend", "emne", "sekunder", "--limit 200"),
		lines("svend;emne;sekunder", l, plain(";", point)), nil, fmt.Sprintf("%d attempts are above the limit of 200 (as %v), so they were not stopped there or the limit is another", len(over), over[0].value))
	typed = with(l, func(a *at) {
		if a.who == "hm3" && a.n == 5 {
			a.value = 737
		}
	})
	doubt("28-one-above", "hammer2.csv", c.flags("svend", "emne", "sekunder", "--limit 300"),
		lines("svend;emne;sekunder", typed, plain(";", point)), nil, "hm3 piece 5 is 737, above the limit of 300, at which it should have been stopped")

	// A factor of 60 and of 86,400.
	l = c.log(113, 6, 200, 105, 1, numbered("Z%d", 7)...)
	doubt("28-sixty-down", "minuti.csv", c.flags("allieva", "prova", "tempo", "--limit 300"),
		lines("allieva;prova;tempo", l, plain(";", func(v float64) string { return fixedComma(2)(v / 60) })), rounded(with(l, func(a *at) { a.value = math.Round(a.value/60*100) / 100 * 60 }), 0.1),
		"column tempo: 1,73 and the like are minutes, not seconds; the limit is 300")
	doubt("28-sixty-up", "sixtieths.csv", c.flags("cadet", "hitch", "time", "--limit 300"),
		lines("cadet,hitch,time", l, plain(",", func(v float64) string { return fmt.Sprint(int(v) * 60) })), l,
		"column time: 6,300 and the like are sixtieths of a second (all multiples of 60), 20 times the limit of 300")
	doubt("28-days", "nap.csv", c.flags("tanuló", "próba", "idő", "--limit 300"),
		lines("tanuló;próba;idő", l, plain(";", func(v float64) string { return strings.ReplaceAll(strconv.FormatFloat(v/86400, 'g', 15, 64), ".", ",") })), l,
		"column idő: 0,00121527777777778 and the like are parts of a day (105 s), not seconds")

	// Cut in the last row; two decimal marks; a measure not said.
	l = c.log(114, 6, 170, 101, 0.1, numbered("rep%d", 6)...)
	whole := lines("koda;poskus;sekunde;dvorana", l, func(a at) string { return plain(";", fixedComma(1))(a) + ";Vzhod" })
	doubt("28-stopped-download", "vozel.csv", c.flags("koda", "poskus", "sekunde", ""), whole[:len(whole)-len("1,5;Vzhod\n")], l[:len(l)-1],
		"last line: it ends within the seconds, without a line end, so the file was cut there")
	n := 0
	doubt("28-two-marks", "znamka.csv", c.flags("koda", "poskus", "sekunde", ""),
		lines("koda;poskus;sekunde", l, func(a at) string {
			n++
			if n%12 > 6 {
				return plain(";", fixed(1))(a)
			}
			return plain(";", fixedComma(1))(a)
		}), l, "column sekunde: a decimal comma in some rows, a decimal point in others")
	doubt("28-measure-forgotten", "forgotten.csv", "--trainee rigger --attempt splice --response time_s",
		lines("rigger,splice,time_s", l, plain(",", point)), l, "no --measure: time_s is a time (less is better) and would be taken for a score")
	doubt("28-time-said-score", "pistevarvi.csv", "--trainee oppilas --attempt kerta --response sekuntia --measure score --better higher",
		lines("oppilas;kerta;sekuntia", l, plain(";", comma)), l, "column sekuntia holds seconds that fall with practice, and the flags say a score of which more is better")
	signed := with(l, func(a *at) { a.value = map[bool]float64{true: 1, false: 0}[a.value < 115] })
	doubt("28-nought-one", "podpis.csv", "--trainee cvičenec --attempt pokus --response splnil",
		lines("cvičenec;pokus;splnil", signed, plain(";", point)), signed, "no --measure: column splnil is only 0 and 1, passed or not")
	doubt("28-nought-one-time", "nought.csv", c.flags("member", "try", "done", ""),
		lines("member,try,done", signed, plain(",", point)), signed, "--measure time, but column done is only 0 and 1: passed or not, no seconds")

	// Day or month.
	l = c.log(115, 3, 180, 110, 1, numbered("LF%02d", 7)...)
	dates := []string{"03/02/2026", "06/04/2026", "10/01/2026"}
	doubt("28-day-or-month", "days.csv", "--trainee farrier --date date --response seconds --measure time",
		lines("farrier,date,seconds", l, func(a at) string { return fmt.Sprintf("%s,%s,%v", a.who, dates[a.n-1], a.value) }), nil,
		"column date: 03/02/2026, 06/04/2026, 10/01/2026: no day above 12, and the order of the attempts hangs on which stands first")
}

// columnDoubts is tables of which a column or a row can be taken for another.
func (c crafts) columnDoubts() {
	// An outcome not named.
	l := c.log(120, 7, 190, 98, 1, numbered("Elek%d", 6)...)
	l[5].outcome, l[16].outcome, l[33].outcome = "failed", "failed", "failed"
	doubt("28-outcome-not-named", "kabel.csv", c.flags("tanonc", "próba", "mp", ""),
		lines("tanonc;próba;mp;outcome", l, func(a at) string { return plain(";", point)(a) + ";" + a.outcome }), l, "column outcome has three rows with failed, and no flag names it")
	doubt("28-result-not-named", "kabel2.csv", c.flags("apprentice", "joint", "seconds", "--limit 300"),
		lines("apprentice,joint,seconds,result,bench", l, func(a at) string {
			return plain(",", point)(a) + map[string]string{"done": ",pass,2", "failed": ",hard fail,2"}[a.outcome]
		}), l, "column result has three rows with hard fail (Elek1 joint 6, Elek3 joint 3, Elek5 joint 6), and no flag names it")

	// Another task's and another measure's rows.
	l = c.log(121, 5, 220, 120, 1, numbered("gl%d", 6)...)
	doubt("28-two-tasks", "glas.csv", c.flags("elev", "försök", "sekunder", ""),
		lines("elev;uppgift;försök;sekunder", l, func(a at) string {
			return fmt.Sprintf("%s;vas;%d;%v\n%s;skål;%d;%v", a.who, a.n, a.value, a.who, a.n, math.Round(a.value*0.6)+12)
		}), nil, "column uppgift: two tasks (vas, skål), each with attempts 1 to 5, and none is asked for")
	doubt("28-two-measures", "maat.csv", c.flags("leerling", "poging", "waarde", ""),
		lines("leerling,poging,maat,waarde", l, func(a at) string {
			return fmt.Sprintf("%s,%d,tijd,%v\n%s,%d,fouten,%d", a.who, a.n, a.value, a.who, a.n, int(a.value)%6)
		}), l, "column maat: rows of tijd and rows of fouten by turns under one head waarde, and none is asked for")
	doubt("28-tasks-number-on", "doorlopend.csv", c.flags("leerling", "poging", "sec", ""),
		lines("leerling,poging,opdracht,sec", c.log(122, 8, 200, 110, 1, numbered("gl%d", 6)...), func(a at) string {
			if a.n > 4 {
				return fmt.Sprintf("%s,%d,dop,%v", a.who, a.n, math.Round(a.value*0.45)+2)
			}
			return fmt.Sprintf("%s,%d,voet,%v", a.who, a.n, a.value)
		}), nil, "column opdracht: attempts 1 to 4 are the task voet, 5 to 8 the task dop, of half the length")

	// A wide table with a response named besides.
	l = c.log(123, 6, 150, 78, 1, numbered("B%d", 7)...)
	var b bytes.Buffer
	b.WriteString("beekeeper,Frame 1,Frame 2,Frame 3,Frame 4,Frame 5,Frame 6,best\n")
	for _, who := range traineesOf(l) {
		best := 999.0
		b.WriteString(who)
		for _, a := range attemptsOf(l, who) {
			fmt.Fprint(&b, ",", a.value)
			best = min(best, a.value)
		}
		fmt.Fprintln(&b, ","+fmt.Sprint(best))
	}
	doubt("28-best-named", "frames.csv", c.flags("beekeeper", "", "best", ""), bytes.Clone(b.Bytes()), l, "column best is the least of the six times before it; the attempts are Frame 1 to Frame 6")

	// Dates as attempt numbers, dates as heads.
	doubt("28-date-as-number", "datums.csv", c.flags("smid", "datum", "seconden", ""),
		lines("smid;datum;seconden", l, func(a at) string {
			return fmt.Sprintf("%s;%s;%v", a.who, day("2026-03-02", 7*((a.n*5)%7)).Format("20060102"), a.value)
		}), nil, "column datum named as --attempt: 20260406 and the like are days, not numbers of attempts, and not in their order")
	b.Reset()
	b.WriteString("meisje;13.04.2026;30.03.2026;20.04.2026;06.04.2026;27.04.2026;04.05.2026\n")
	b.Write(wide("", ";", l, point)[1:])
	doubt("28-dates-as-heads", "koppen.csv", c.flags("meisje", "", "", ""), bytes.Clone(b.Bytes()), nil,
		"heads are days and out of order: 13.04., 30.03., 20.04., 06.04.; the order of the attempts is that of the days, not of the columns")

	// Totals and means among the rows.
	text := wide("navn;forsøk 1;forsøk 2;forsøk 3;forsøk 4;forsøk 5;forsøk 6", ";", l, point)
	text = append(text, "Totalt"...)
	for n := 1; n <= 6; n++ {
		m, _ := c.moments(only(l, func(a at) bool { return a.n == n }))
		text = fmt.Appendf(text, ";%.0f", m*7)
	}
	doubt("28-total-as-trainee", "bikuber.csv", c.flags("navn", "", "", ""), append(text, '\n'), l, "last row Totalt is the sum of the seven above it, no trainee")
	b.Reset()
	b.WriteString("code,trial,seconds\n")
	for _, who := range traineesOf(l) {
		of := attemptsOf(l, who)
		for _, a := range of {
			b.WriteString(plain(",", point)(a) + "\n")
		}
		m, sd := c.moments(of)
		fmt.Fprintf(&b, "%s,Mean,%.1f\n%s,SD,%.1f\n", who, m, who, sd)
	}
	doubt("28-mean-as-attempt", "trials.csv", c.flags("code", "trial", "seconds", ""), bytes.Clone(b.Bytes()), l, "two rows a trainee, Mean and SD, are no attempts")
	b.Reset()
	b.WriteString("code,trial,seconds\n")
	for _, who := range traineesOf(l) {
		of := attemptsOf(l, who)
		sum := 0.0
		for _, a := range of {
			b.WriteString(plain(",", point)(a) + "\n")
			sum += a.value
		}
		fmt.Fprintf(&b, "%s,7,%v\n", who, sum)
	}
	doubt("28-sum-as-seventh", "trials7.csv", c.flags("code", "trial", "seconds", ""), bytes.Clone(b.Bytes()), l, "trial 7 of everybody is the sum of trials 1 to 6, not an attempt")

	// T1 and T01.
	b.Reset()
	b.WriteString("soutěžící,T1,T2,T3,T4,T5,T01,T02,T03,T04,T05\n")
	l = c.log(124, 5, 160, 82, 1, numbered("H%d", 7)...)
	for _, who := range traineesOf(l) {
		b.WriteString(who)
		for _, f := range []float64{1, 0.7} {
			for _, a := range attemptsOf(l, who) {
				fmt.Fprint(&b, ",", math.Round(a.value*f+(1-f)*40))
			}
		}
		b.WriteString("\n")
	}
	doubt("28-t1-and-t01", "hasici.csv", c.flags("soutěžící", "", "", ""), bytes.Clone(b.Bytes()), nil, "columns T1 to T5 and T01 to T05: two columns for each number, with different times")

	// A prefix without a measure.
	doubt("28-prefix-unmapped", "hjalp.csv", "--trainee elev --heads tid=seconds --response seconds --measure time",
		wide("elev;tid1;hjälp1;tid2;hjälp2;tid3;hjälp3;tid4;hjälp4;tid5;hjälp5", ";", l, func(v float64) string { return fmt.Sprintf("%v;%d", v, int(v)%4) }), l,
		"columns hjälp1 to hjälp5: --heads does not say what hjälp holds")
	doubt("28-two-prefixes", "zwei.csv", c.flags("Lehrling", "", "", ""),
		wide("Lehrling;A1;B1;A2;B2;A3;B3;A4;B4;A5;B5", ";", l, func(v float64) string { return fmt.Sprintf("%v;%v", v, math.Round(v*0.8)+7) }), nil,
		"columns A1 to A5 and B1 to B5: nobody said what A and B hold; both look like times")

	// Blanks.
	l = c.log(125, 7, 170, 90, 0.1, numbered("lana%d", 6)...)
	lost := func(a at) bool { return a.who == "lana3" && a.n == 4 || a.who == "lana6" && a.n == 2 }
	doubt("28-blank-time", "lana.csv", c.flags("učenka", "poskus", "sekunde", ""),
		lines("učenka;poskus;sekunde", l, func(a at) string {
			if lost(a) {
				return fmt.Sprintf("%s;%d;", a.who, a.n)
			}
			return plain(";", fixedComma(1))(a)
		}), without(l, lost), "rows of lana3 attempt 4 and lana6 attempt 2 have no time: not made, not measured or stopped")
	doubt("28-blank-trainee", "lana2.csv", c.flags("učenka", "poskus", "sekunde", ""),
		lines("učenka;poskus;sekunde", l, func(a at) string {
			if lost(a) {
				a.who = ""
			}
			return plain(";", fixedComma(1))(a)
		}), nil, "two rows (attempts 4 and 2) have no trainee")
	doubt("28-blank-number", "lana3.csv", c.flags("učenka", "poskus", "sekunde", ""),
		lines("učenka;poskus;sekunde", l, func(a at) string {
			if lost(a) {
				return fmt.Sprintf("%s;;%s", a.who, fixedComma(1)(a.value))
			}
			return plain(";", fixedComma(1))(a)
		}), l, "rows of lana3 and lana6 have a time and no number of the attempt (4 and 2 by the gap)")
	l = with(c.log(126, 8, 240, 60, 1, numbered("TK%d", 6)...), func(a *at) { a.value = max(0, math.Round(a.value/40-2)) })
	blank := func(a at) string {
		if a.value == 0 {
			return fmt.Sprintf("%s;%d;", a.who, a.n)
		}
		return plain(";", point)(a)
	}
	doubt("28-blank-counts", "nahtfehler.csv", "--trainee Lehrling --attempt Versuch --response Fehler --measure count",
		lines("Lehrling;Versuch;Fehler", l, blank), nil, "column Fehler: no 0 at all, but blanks where the faults became few: no fault, or not counted")
	text = []byte("stitcher,R1,R2,R3,R4,R5,R6,R7,R8")
	for i, a := range l {
		if i == 0 || a.who != l[i-1].who {
			text = append(text, "\n"+a.who...)
		}
		text = append(text, ',')
		if a.value > 0 {
			text = append(text, fmt.Sprint(a.value)...)
		}
	}
	doubt("28-blank-counts-wide", "slips.csv", "--trainee stitcher --measure count", append(text, '\n'), nil, "blank cells and no 0 among the counts R1 to R8: no slip, or not counted")

	// A retest as the next attempt.
	l = c.log(127, 7, 180, 84, 1, numbered("KN%d", 6)...)
	doubt("28-half-a-year-later", "kniven.csv", c.flags("elev", "försök", "sekunder", "--date datum"),
		lines("elev;försök;datum;sekunder", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s;%v", a.who, a.n, day("2025-09-08", map[bool]int{true: 208, false: 5 * a.n}[a.n == 7]).Format("2006-01-02"), a.value)
		}), l, "attempt 7 of everybody was made half a year after attempt 6 (column datum): a retest, not the next attempt of practice")
	doubt("28-retest-by-date", "slipning.csv", "--trainee elev --date datum --response sekunder --measure time",
		lines("elev;datum;sekunder", l, func(a at) string {
			return fmt.Sprintf("%s;%s;%v", a.who, day("2025-05-05", map[bool]int{true: 190, false: 4 * a.n}[a.n > 5]+a.n).Format("2006-01-02"), a.value)
		}), l, "the last two attempts of everybody (November) were made half a year after the five of May: a retest")
}

// identityDoubts is tables of which one trainee or arm looks like two.
func (c crafts) identityDoubts() {
	l := c.log(130, 6, 160, 82, 1, numbered("T%d", 6)...)
	for _, s := range []struct {
		folder, from, to, about string
		after                   int
	}{
		{"28-t3-and-t03", "T3", "T03", "T3 (attempts 1 to 3) and T03 (4 to 6) are one trainee in two spellings", 3},
		{"28-zero-width", "T5", "T\u200b5", "T5 from attempt 5 on has a zero-width space within, so that one trainee looks like two", 4},
		{"28-lower-case", "T2", "t2", "T2 and t2 (attempts 5 and 6) are one trainee in two spellings", 4},
		{"28-no-break-space", "T4", "T4\u00a0", "T4 from attempt 4 on has a no-break space behind, so that one trainee looks like two", 3},
	} {
		data := lines("trainee;attempt;seconds", l, func(a at) string {
			if a.who == s.from && a.n > s.after {
				a.who = s.to
			}
			return plain(";", point)(a)
		})
		if s.folder == "28-no-break-space" || s.folder == "28-zero-width" {
			data = append([]byte("\ufeff"), data...)
		}
		doubt(s.folder, "harness.csv", c.flags("trainee", "attempt", "seconds", ""), data, l, s.about)
	}
	l = c.log(131, 6, 160, 82, 1, "Renée", "Jérôme", "Zélie", "Maël", "Noé")
	doubt("28-composed", "reliure.csv", c.flags("élève", "essai", "secondes", ""),
		lines("élève;essai;secondes", l, func(a at) string {
			if a.who == "Renée" && a.n > 3 {
				a.who = "Rene\u0301e"
			}
			return plain(";", point)(a)
		}), l, "Renée from attempt 4 on is written with a letter e and an accent of its own, so that one trainee looks like two")
	l = c.log(132, 6, 160, 82, 0.1, "1", "2", "3", "4", "5")
	doubt("28-one-and-one-point-nought", "merged.csv", c.flags("id", "n", "s", ""),
		lines("id,n,s", l, func(a at) string {
			if a.n > 4 {
				a.who += ".0"
			}
			return plain(",", point)(a)
		}), l, "id 1 and 1.0 (attempts 5 and 6 of everybody) are one trainee, spelt otherwise after the tables were joined")
	l = c.log(133, 6, 170, 86, 1, numbered("ne%d", 8)...)
	arms := map[string]string{}
	for i, w := range numbered("ne%d", 8) {
		arms[w] = []string{"Box", "Film"}[i%2]
	}
	doubt("28-arms-by-case", "nets.csv", "--trainee netter --attempt mesh --response seconds --arm group --measure time",
		lines("netter,group,mesh,seconds", l, func(a at) string {
			arm := arms[a.who]
			if a.who == "ne5" || a.who == "ne7" {
				arm = "box"
			}
			return fmt.Sprintf("%s,%s,%d,%v", a.who, arm, a.n, a.value)
		}), l, "column group: Box and box (ne5, ne7) are one arm in two spellings").Arms = arms
	doubt("28-arm-changes", "nets2.csv", "--trainee netter --attempt mesh --response seconds --arm group --measure time",
		lines("netter;group;mesh;seconds", l, func(a at) string {
			arm := arms[a.who]
			if a.who == "ne6" && a.n == 4 {
				arm = "Box"
			}
			return fmt.Sprintf("%s;%s;%d;%v", a.who, arm, a.n, a.value)
		}), l, "ne6 is in the arm Film, but in the arm Box at mesh 4")
	doubt("28-same-number-twice", "nets3.csv", c.flags("netter", "mesh", "seconds", ""),
		lines("netter,mesh,seconds", l, func(a at) string {
			if a.who == "ne3" && a.n == 5 {
				a.n = 4
			}
			return plain(",", point)(a)
		}), nil, "ne3 has mesh 4 two times with different times, and no mesh 5")
}

// bookDoubts is workbooks in which something could be meant in two ways.
func (c crafts) bookDoubts() {
	// Hours for minutes.
	l := c.log(140, 6, 240, 120, 1, numbered("Orol%d", 6)...)
	hours := func(a at) []any { return []any{a.who, a.n, a.value * 60 / 86400} }
	b := newBook("Foglio1")
	b.log([]any{"Orologiaio", "Prova", "Tempo"}, l, hours)
	b.format("C2", "C37", "h:mm")
	doubt("28-hours-for-minutes", "orologi.xlsx", c.flags("Orologiaio", "Prova", "Tempo", "--limit 300"), b.bytes(), l,
		"column Tempo: all cells are hours and minutes (1:38 is 5,880 s), typed for minutes and seconds; far above the limit of 300")
	l = c.log(141, 6, 240, 120, 1, numbered("Hod%d", 6)...)
	b = newBook("List1")
	b.log([]any{"Hodinář", "Pokus", "Čas"}, l, func(a at) []any { return []any{a.who, a.n, minutesCut(a.value)} })
	b.put(3, 15, l[13].value*60/86400)
	b.format("C15", "C15", "h:mm")
	doubt("28-one-clock-among-text", "hodiny.xlsx", c.flags("Hodinář", "Pokus", "Čas", "--limit 300"), b.bytes(), l,
		"cell C15 (Hod3, attempt 2) is a time of day (h:mm, hours and minutes) among texts of minutes and seconds")
	b = newBook("List1")
	b.log([]any{"Hodinář", "Pokus", "Čas"}, l, longRow)
	b.put(3, 20, l[18].value/86400)
	b.format("C20", "C20", "[m]:ss")
	b.put(3, 31, l[29].value/86400)
	doubt("28-day-part-among-numbers", "hodiny2.xlsx", c.flags("Hodinář", "Pokus", "Čas", "--limit 300"), b.bytes(), l,
		fmt.Sprintf("cell C31 is %.6f, a part of a day without its format, among numbers of seconds (and C20 a cell of minutes and seconds)", l[29].value/86400))
	b = newBook("Sheet1")
	b.log([]any{"Cooper", "Stave", "Stopped at"}, l, func(a at) []any { return []any{a.who, a.n, (9*3600 + float64(a.n)*900 + a.value) / 86400} })
	b.format("C2", "C37", "h:mm:ss AM/PM")
	doubt("28-stopped-at", "staves.xlsx", c.flags("Cooper", "Stave", "Stopped at", ""), b.bytes(), nil, "column Stopped at is the time of day (9:17:05 AM), not how long the attempt took")

	// Percent.
	l = with(c.log(142, 7, 200, 90, 1, numbered("Ov%d", 6)...), func(a *at) { a.value = math.Round(100 - a.value/4) })
	b = newBook("Osumat")
	b.log([]any{"Oppilas", "Kerta", "Osumat"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 100} })
	b.format("C2", "C43", "0%")
	b.put(3, 19, l[17].value)
	b.format("C19", "C19", "0")
	doubt("28-one-not-percent", "osumat.xlsx", "--trainee Oppilas --attempt Kerta --response Osumat --measure score --better higher", b.bytes(), l,
		fmt.Sprintf("cell C19 (Ov3, attempt 4) is %v among percent cells (0.66 shown as 66%%): the percent were typed as a whole number", l[17].value))
	l = c.log(143, 6, 150, 80, 0.1, numbered("Ruk%d", 6)...)
	b = c.book("Taul1", l, "Oppilas", "Kerta", "Sekuntia")
	b.format("C14", "C19", "0%")
	for r := 14; r <= 19; r++ {
		b.put(3, r, math.Round(l[r-2].value*10)/1000)
	}
	doubt("28-percent-times", "rukki.xlsx", c.flags("Oppilas", "Kerta", "Sekuntia", ""), b.bytes(), l,
		"cells C14 to C19 (Ruk3) are percent (98% holds 0.98), a hundredth of the seconds of everybody else")

	// 1904 days pasted into a workbook of 1900.
	l = c.log(144, 6, 170, 88, 1, numbered("Pt%d", 6)...)
	b = newBook("Data")
	b.log([]any{"Potter", "Date", "Seconds"}, l, func(a at) []any {
		d := day("2026-03-02", 7*a.n)
		if a.who == "Pt4" && a.n > 3 {
			d = d.AddDate(0, 0, -1462)
		}
		return []any{a.who, d, a.value}
	})
	b.format("B2", "B37", "yyyy-mm-dd")
	doubt("28-four-years-before", "potter.xlsx", "--trainee Potter --date Date --response Seconds --measure time", b.bytes(), l,
		"cells B23 to B25 (Pt4) are four years and a day before all others: days counted from 1904 pasted into a workbook that counts from 1900")

	// Codes with a number format, and as text.
	l = c.log(145, 6, 150, 76, 1, "007", "012", "031", "058", "077")
	b = newBook("Sheet1")
	b.log([]any{"Badge", "Attempt", "Seconds"}, l, func(a at) []any {
		if a.n > 4 {
			return longRow(a)
		}
		return []any{number(a.who), a.n, a.value}
	})
	b.format("A2", "A31", "0")
	doubt("28-badge-and-number", "badges.xlsx", c.flags("Badge", "Attempt", "Seconds", ""), b.bytes(), l,
		"column Badge: numbers 7, 12 and on for attempts 1 to 4, texts 007, 012 and on for 5 and 6: one trainee in two spellings")

	// A formula without a value in a wide sheet.
	l = c.log(146, 6, 170, 84, 1, numbered("Mo%d", 7)...)
	missing := func(a at) bool { return a.who == "Mo5" && a.n == 2 }
	b = newBook("Blad1")
	b.row("A1", headCells("Molenaar", "Poging %d", 6)...)
	b.wide(2, l, func(a at) any {
		if missing(a) {
			return nil
		}
		return a.value
	})
	must(b.SetCellFormula(b.sheet, "C6", "L6-K6"))
	doubt("28-one-formula", "molen.xlsx", c.flags("Molenaar", "", "", ""), b.bytes(), without(l, missing), "cell C6 (Mo5, attempt 2) is a formula without a kept value: an attempt whose time is not known, not a blank")
	b = newBook("Blad1")
	b.row("A1", headCells("Molenaar", "Poging %d", 6)...)
	b.wide(2, l, func(a at) any {
		if a.n == 6 {
			return nil
		}
		return a.value
	})
	for r := 2; r <= 8; r++ {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("G", r), fmt.Sprintf("M%d*60+N%d", r, r)))
	}
	doubt("28-column-of-formulas", "molen6.xlsx", c.flags("Molenaar", "", "", ""), b.bytes(), only(l, func(a at) bool { return a.n < 6 }),
		"cells G2 to G8 (attempt 6 of everybody) are formulas without a kept value")
	b = c.table("Blad1", "Molenaar", "Poging %d", l, 6)
	must(b.SetCellFormula(b.sheet, "D5", "NA()"))
	must(b.SetCellFormula(b.sheet, "F7", "1/0"))
	doubt("28-error-cells", "molen_fout.xlsx", c.flags("Molenaar", "", "", ""), office("28-error-cells", "molen_fout.xlsx", b.bytes()),
		without(l, func(a at) bool { return a.who == "Mo4" && a.n == 3 || a.who == "Mo6" && a.n == 5 }), "cells D5 (#N/A) and F7 (#DIV/0!) are errors, no times")

	// Hidden rows, a second sheet.
	l = c.log(147, 6, 160, 80, 1, numbered("Tka%d", 7)...)
	b = c.book("Arkusz1", l, "Tkaczka", "Próba", "Sekundy")
	for _, r := range []int{9, 22, 23, 40} {
		must(b.SetRowVisible(b.sheet, r, false))
	}
	doubt("28-hidden-rows", "tkanie.xlsx", c.flags("Tkaczka", "Próba", "Sekundy", ""), b.bytes(), nil, "rows 9, 22, 23 and 40 are hidden: left out on purpose, or forgotten in a filter")
	b = c.table("Arkusz1", "Tkaczka", "Próba %d", l, 6)
	must(b.SetRowVisible(b.sheet, 4, false))
	doubt("28-hidden-trainee", "tkanie2.xlsx", c.flags("Tkaczka", "", "", ""), b.bytes(), nil, "row 4 (Tka3) is hidden: left out on purpose, or forgotten")
	b = c.book("Vormittag", l[:24], "Tkaczka", "Próba", "Sekundy")
	b.next("Nachmittag")
	b.log([]any{"Tkaczka", "Próba", "Sekundy"}, l[24:], longRow)
	doubt("28-second-group", "zmiany.xlsx", c.flags("Tkaczka", "Próba", "Sekundy", ""), b.bytes(), nil, "sheet Nachmittag has the same heads and three more trainees (Tka5 to Tka7) and is not asked for")
	b = nil
	for _, a := range c.log(148, 6, 160, 80, 1, "Ilona", "Kinga", "Piroska", "Réka") {
		if b == nil {
			b = newBook(a.who)
		} else if a.n == 1 {
			b.next(a.who)
		}
		b.row("A1", "Próba", "Mp")
		b.row(fmt.Sprint("A", a.n+1), a.n, a.value)
	}
	doubt("28-sheets-not-said", "csipke.xlsx", "--attempt Próba --response Mp --measure time", b.bytes(), nil,
		"four sheets (Ilona, Kinga, Piroska, Réka) with the same heads are a trainee each, and the flags name no trainee and say nothing of the sheets")

	// 999, a point left out, dates for codes.
	l = c.log(149, 6, 150, 75, 0.1, numbered("Ze%d", 7)...)
	nines := func(a at) bool { return a.who == "Ze2" && a.n == 6 || a.who == "Ze6" && a.n == 1 }
	b = c.table("Tabelle1", "Zeugschmied", "Versuch %d", with(l, func(a *at) {
		if nines(*a) {
			a.value = 999
		}
	}), 6)
	doubt("28-nines-wide", "zeug.xlsx", c.flags("Zeugschmied", "", "", ""), b.bytes(), without(l, nines), "cells G3 and B7 are 999: a code for no time")
	b = c.book("Tabelle1", l, "Code", "Versuch", "Sekunden")
	p := slices.IndexFunc(l, func(a at) bool { return a.n > 3 && a.value > 70 && a.value < 99 && a.value != math.Round(a.value) })
	b.put(3, p+2, math.Round(l[p].value*10))
	doubt("28-point-left-out-cell", "feile.xlsx", c.flags("Code", "Versuch", "Sekunden", "--limit 300"), b.bytes(), l,
		fmt.Sprintf("cell C%d is %v, typed without the comma (%v), above the limit of 300", p+2, math.Round(l[p].value*10), l[p].value))
	b = newBook("Tabelle1")
	b.log([]any{"Code", "Versuch", "Sekunden"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 60} })
	b.format("C2", "C43", "0.00")
	doubt("28-minutes-as-decimals", "minuten.xlsx", c.flags("Code", "Versuch", "Sekunden", "--limit 300"), b.bytes(), l,
		"column Sekunden: 1.63 and the like are minutes, a sixtieth of what the head and the limit of 300 say")
	b = newBook("Tabelle1")
	b.log([]any{"Code", "Versuch", "Zeit"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	doubt("28-days-without-format", "tagesteile.xlsx", c.flags("Code", "Versuch", "Zeit", "--limit 300"), b.bytes(), l,
		"column Zeit: 0.00113 and the like are parts of a day without a format of time, not seconds")
}

// ratings is ratings tables.
func (c crafts) ratings() {
	none := []string{""}
	r := markedBy(2801, 5, numbered("kroes%02d", 9), []string{"Van Es", "Mulder", "Prins"}, []string{"vorm", "glazuur"})
	rated(read("28-marks-by-item", "keuring.csv", "--subject werkstuk --rater keurmeester --item onderdeel --score cijfer --scale ordinal",
		crlf(encoded(charmap.Windows1252, ratingLines("werkstuk;keurmeester;onderdeel;cijfer", ";", r))), nil), r)

	raters := []string{"Arvioija A", "Arvioija B", "Arvioija C"}
	r = markedBy(2802, 6, numbered("Työ %d", 11), raters, none)
	rated(read("28-column-an-examiner", "arviot.xlsx", "--subject Työ --wide --scale ordinal", ratingTable("Arviot", "Työ", raters, r).bytes(), nil), r)

	r = markedBy(2803, 2, numbered("nodo%02d", 12), []string{"Bruna", "Dario"}, none)
	for i := range r {
		r[i][3] = map[string]string{"1": "no", "2": "sì"}[r[i][3]]
	}
	rated(read("28-yes-and-no", "nodi.csv", "--subject nodo --rater giudice --score riuscito --scale nominal",
		append([]byte("\ufeff"), ratingLines("nodo;giudice;riuscito", ";", r)...), nil), r)

	r = markedBy(2804, 20, numbered("Schuh %d", 10), []string{"Prüfer 1", "Prüfer 2", "Prüfer 3", "Prüfer 4"}, none)
	rated(read("28-twenty-points", "schuhe.tsv", "--subject Stück --rater Prüfer --score Punkte --scale interval", ratingLines("Stück\tPrüfer\tPunkte", "\t", r), nil), r)

	raters = []string{"Judge 1", "Judge 2", "Judge 3"}
	r = markedBy(2805, 10, numbered("Loaf %d", 9), raters, none)
	b := ratingTable("Marks", "Loaf", raters, r)
	b.put(5, 1, "Mean")
	for i := 0; i < len(r); i += 3 {
		b.put(5, i/3+2, math.Round((number(r[i][3])+number(r[i+1][3])+number(r[i+2][3]))/3*100)/100)
	}
	rated(doubt("28-mean-beside", "loaves.xlsx", "--subject Loaf --wide --scale interval", b.bytes(), nil, "column Mean is the mean of the three judges before it, not a fourth judge"), r)

	r = markedBy(2806, 7, numbered("film%02d", 9), raters[:2], none)
	text := []byte("film,trainee_no,Judge 1,Judge 2")
	for i := 0; i < len(r); i += 2 {
		text = fmt.Appendf(text, "\n%s,%d,%s,%s", r[i][0], 1+i/2*4%9, r[i][3], r[i+1][3])
	}
	rated(doubt("28-number-beside", "films.csv", "--subject film --wide --scale ordinal", append(text, '\n'), nil,
		"column trainee_no is the number of the trainee, not marks of a third rater"), r)

	raters = []string{"Porotce 1", "Porotce 2", "Porotce 3"}
	r = markedBy(2807, 50, numbered("váza %d", 8), raters, none)
	r[13][3] = "NA"
	rated(doubt("28-one-na", "vázy.xlsx", "--subject Váza --wide --scale interval", ratingTable("Body", "Váza", raters, r).bytes(), nil,
		"cell C6 (váza 5, Porotce 2) is NA, no mark, among numbers"), slices.Delete(slices.Clone(r), 13, 14))

	r = markedBy(2808, 2, numbered("v%02d", 11), []string{"Ann", "Bob", "Cat"}, none)
	spelt := slices.Clone(r)
	for i := range r {
		pass := r[i][3] == "2"
		r[i][3] = map[bool]string{true: "yes", false: "no"}[pass]
		spelt[i][3] = r[i][3]
		if pass {
			spelt[i][3] = []string{"yes", "Yes", "YES"}[i%3]
		}
	}
	rated(doubt("28-three-spellings", "held.csv", "--subject video --rater rater --score held --scale nominal",
		ratingLines("video,rater,held", ",", spelt), nil, "column held: yes, Yes and YES are one category in three spellings, one a rater"), r)

	r = markedBy(2809, 5, numbered("kurv%d", 10), []string{"Dahl", "Moe"}, none)
	spelt = slices.Clone(r)
	spelt[7][3] = "44"
	rated(doubt("28-key-hit-twice", "kurve.csv", "--subject kurv --rater sensor --score karakter --scale interval",
		ratingLines("kurv;sensor;karakter", ";", spelt), nil, "kurv4 by Moe is 44 on a scale from 1 to 5: a key hit twice"), nil)
}

// studies is study folders.
func (c crafts) studies() {
	const task = "tasks: [{name: task, measure: time, column: seconds, unit: s, better: lower, limit: 300}]\n"
	head := "trainee,attempt,seconds"

	l := c.log(160, 9, 160, 78, 1, numbered("RP%02d", 6)...)
	part := func(s int) []byte {
		return lines(head, with(only(l, func(a at) bool { return (a.n+2)/3 == s }), func(a *at) { a.n -= 3 * (s - 1) }), plain(",", point))
	}
	folder(read("28-study-three-days", "", "", nil, l), map[string][]byte{
		"study.yaml": []byte("title: Rope ladder\n" + task + "attempts:\n  files: [monday.csv, wednesday.csv, friday.csv]\n  files_are: session\n"),
		"monday.csv": part(1), "wednesday.csv": part(2), "friday.csv": part(3),
	})

	l = c.log(161, 7, 240, 120, 0.1, numbered("LP%d", 6)...)
	masters := c.log(162, 4, 108, 98, 0.1, "Master A", "Master B", "Master C")
	t := read("28-study-masters", "", "", nil, l)
	t.Experts = masters
	folder(t, map[string][]byte{
		"study.yaml":  []byte("title: Lens grinding\n" + task + "attempts: {file: log.tsv}\nexperts: {file: masters.csv}\n"),
		"log.tsv":     lines("trainee\tattempt\tseconds", l, plain("\t", fixed(1))),
		"masters.csv": lines(head, masters, plain(",", fixed(1))),
	})

	l = c.log(163, 6, 150, 80, 0.1, "NO1", "NO2", "NO3", "UK1", "UK2", "UK3")
	folder(read("28-study-two-lofts", "", "", nil, l), map[string][]byte{
		"study.yaml":  []byte("title: Grommets\n" + task + "attempts:\n  files: [loft_uk.csv, loft_no.csv]\n  per_file: {loft_no.csv: {decimal: comma}}\n"),
		"loft_uk.csv": lines(head, only(l, func(a at) bool { return a.who[:2] == "UK" }), plain(",", fixed(1))),
		"loft_no.csv": lines("trainee;attempt;seconds", only(l, func(a at) bool { return a.who[:2] == "NO" }), plain(";", fixedComma(1))),
	})

	l = c.log(164, 6, 170, 90, 1, numbered("WV%d", 6)...)
	folder(doubt("28-study-same-codes", "", "", nil, nil, "WV1 to WV6 stand in both files with attempts 1 to 6 and different times: two classes with the same codes, or a class in two sessions"), map[string][]byte{
		"study.yaml":  []byte("title: Willow basket\n" + task + "attempts:\n  files: [class_a.csv, class_b.csv]\n"),
		"class_a.csv": lines(head, l, plain(",", point)),
		"class_b.csv": lines(head, c.log(165, 6, 175, 92, 1, numbered("WV%d", 6)...), plain(",", point)),
	})

	l = c.log(166, 6, 170, 90, 1, numbered("GL%d", 6)...)
	folder(doubt("28-study-other-unit", "", "", nil, l, "file second.csv holds minutes (1.62 and the like) under the head seconds, a sixtieth of those in first.csv"), map[string][]byte{
		"study.yaml": []byte("title: Gilding\n" + task + "attempts: {files: [first.csv, second.csv]}\n"),
		"first.csv":  lines(head, only(l, func(a at) bool { return a.who < "GL4" }), plain(",", point)),
		"second.csv": lines(head, only(l, func(a at) bool { return a.who >= "GL4" }), plain(",", func(v float64) string { return fixed(4)(v / 60) })),
	})

	folder(refuse("28-study-not-sent", "", "", nil, "study.yaml names week3.csv, and the folder has week1.csv and week2.csv alone"), map[string][]byte{
		"study.yaml": []byte("title: Thatching\n" + task + "attempts:\n  files: [week1.csv, week2.csv, week3.csv]\n  files_are: session\n"),
		"week1.csv":  lines(head, only(l, func(a at) bool { return a.n < 4 }), plain(",", point)),
		"week2.csv":  lines(head, with(only(l, func(a at) bool { return a.n > 3 }), func(a *at) { a.n -= 3 }), plain(",", point)),
	})
}

// refused is files that cannot be read.
func (c crafts) refused() {
	flags := c.flags("code", "attempt", "seconds", "")
	made := func(seed uint64) []byte {
		return c.book("Data", c.log(seed, 7, 170, 84, 0.1, numbered("K%02d", 8)...), "code", "attempt", "seconds").bytes()
	}
	const sheet = "xl/worksheets/sheet1.xml"
	refuse("28-malformed", "salvaged.xlsx", flags, partReplaced(made(170), sheet, `<c r="B12"`, `<c r=B12`), "the XML of the sheet is damaged (an attribute without quotes in row 12)")
	refuse("28-control-character", "reader.xlsx", flags, partReplaced(made(171), "xl/sharedStrings.xml", `K05`, "K\x0205"), "the XML of the strings holds a control character (0x02), which XML does not allow")
	refuse("28-cut-sheet", "cut_sheet.xlsx", flags, partChanged(made(172), sheet, func(text string) string { return text[:len(text)*2/3] }), "the sheet within the workbook ends at two thirds")
	refuse("28-bad-reference", "refs.xlsx", flags, partReplaced(made(173), sheet, `r="C20"`, `r="20C"`), "cell reference 20C is none")
	refuse("28-half-workbook", "half.xlsx", flags, func() []byte { w := made(174); return w[:len(w)/2] }(), "the workbook was cut half way; copy it again")
	refuse("28-page-named-workbook", "page.xlsx", flags, append(lines("<html><body><table><tr><th>code</th><th>attempt</th><th>seconds</th></tr>", c.log(175, 5, 150, 80, 1, numbered("q%d", 5)...), func(a at) string {
		return fmt.Sprintf("<tr><td>%s</td><td>%d</td><td>%v</td></tr>", a.who, a.n, a.value)
	}), "</table></body></html>\n"...), "a web page with the name of a workbook")
	l := c.log(176, 6, 160, 82, 1, numbered("nc%d", 6)...)
	b := newBook("Data")
	b.log([]any{"code", "attempt", "on", "off", "seconds"}, l, func(a at) []any { return []any{a.who, a.n, 12, 12 + a.value} })
	for i := range l {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("D%d-C%d", i+2, i+2)))
	}
	refuse("28-never-calculated", "script.xlsx", flags, b.bytes(), "column seconds: formulas that were never calculated, so no value is kept")
	refuse("28-heads-alone", "heads.csv", flags, []byte("code,attempt,seconds\n"), "heads alone: no attempt is in the file")
	refuse("28-picture", "scan.csv", flags, slices.Concat([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), bytes.Repeat([]byte("\x00\x07\xff\x91,\x13\n"), 60)), "a picture (PNG) with the name of a table")
	refuse("28-other-columns", "booking.csv", flags, lines("code,visit,bench", l, func(a at) string { return fmt.Sprintf("%s,%d,B%d", a.who, a.n, int(a.value)%4) }), "no column seconds and no column attempt: bookings of benches, no times")
	r := markedBy(2810, 5, numbered("chair%d", 9), []string{"Okada"}, []string{""})
	rated(refuse("28-one-rater", "chairs.csv", "--subject chair --rater rater --score score --scale ordinal", ratingLines("chair,rater,score", ",", r), "one rater alone (Okada): agreement needs a second"), r)
}
