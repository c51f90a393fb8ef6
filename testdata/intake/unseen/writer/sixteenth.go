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

// sixteenth is the set of the workshops, schools and clubs: dentists' phantom heads, physiotherapy, nursing,
// fire brigade, watchmakers, a conservatory, a flight school, a shooting club and a pharmacy.
func sixteenth() {
	sixteenthText()
	sixteenthShapes()
	sixteenthBooks()
	sixteenthHeads()
	sixteenthParquet()
	sixteenthTextDoubts()
	sixteenthBookDoubts()
	sixteenthRatings()
	sixteenthStudies()
	sixteenthRefused()
}

// practised makes up times that fall with practice from start towards plateau and scatter by 11 %,
// in steps of this size.
func practised(seed uint64, n int, start, plateau, step float64, who ...string) []at {
	r := rand.New(rand.NewPCG(seed, 16))
	var out []at
	for _, w := range who {
		own := math.Exp(r.NormFloat64() * 0.1)
		for i := 1; i <= n; i++ {
			mean := own * (plateau + (start-plateau)*math.Pow(float64(i), -0.8))
			v := mean * math.Exp(r.NormFloat64()*0.11)
			for v < 38 || v > 294 {
				v = mean * math.Exp(r.NormFloat64()*0.11) * min(1, 270/mean)
			}
			out = append(out, at{w, i, v, "done"})
		}
	}
	return rounded(out, step)
}

// day is a date some days after the first.
func day(first string, after int) time.Time {
	t, err := time.Parse("2006-01-02", first)
	must(err)
	return t.AddDate(0, 0, after)
}

// sixteenthText is text files, a row an attempt, whose meaning is plain.
func sixteenthText() {
	// Dental school, Freiburg: Excel, "CSV (Trennzeichen-getrennt)".
	l := practised(1, 7, 240, 120, 0.5, "Ä01", "Ä02", "Ö03", "Ö04", "Ü05", "Ü06", "Ü07")
	read("16-crown", "Krone_Phantomkopf.csv", "--trainee Kürzel --attempt Versuch --response Zeit~(s) --measure time --limit 300",
		crlf(latin(lines("Kürzel;Versuch;Prüfdatum;Zeit (s);Bemerkung", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s;%s;%s", a.who, a.n, day("2026-04-13", 3*a.n).Format("02.01.2006"), fixedComma(1)(a.value),
				map[bool]string{true: "Präparation übermäßig", false: ""}[a.who == "Ö03" && a.n == 2])
		}))), l)

	// Fire brigade, Poland: title lines above the table, byte-order mark.
	l = practised(2, 9, 170, 75, 0.1, "Dąb", "Żbik", "Łoś", "Ryś", "Wół", "Żuk")
	read("16-hose", "linia_gasnicza.csv", "--trainee Strażak --attempt Próba --response Czas~[s] --measure time",
		slices.Concat([]byte("\ufeffPaństwowa Straż Pożarna, ćwiczenie: rozwinięcie linii gaśniczej\nJednostka nr 4, jesień 2025\n\n"),
			lines("Strażak;Próba;Czas [s]", l, plain(";", fixedComma(1)))), l)

	// Watchmakers' school, Japan: Excel, "Unicode text".
	l = practised(3, 6, 280, 150, 1, "佐藤", "鈴木", "高橋", "田中", "伊藤", "渡辺", "山本", "中村")
	read("16-balance-wheel", "テンプ組立.txt", "--trainee 練習生 --attempt 回 --response 秒 --measure time",
		inUTF16(binary.LittleEndian, true, crlf(lines("練習生\t回\t秒\t備考", l, func(a at) string { return plain("\t", point)(a) + "\t" }))), l)

	// Pharmacy college, India: no numbers, the dates tell the order; newest first.
	l = practised(4, 8, 200, 95, 1, numbered("PH-%03d", 6)...)
	newest := slices.Clone(l)
	slices.SortStableFunc(newest, func(a, c at) int { return c.n - a.n })
	read("16-dispensing", "dispensing_log.tsv", "--trainee student --date date --response seconds --measure time",
		lines("date\tstudent\tseconds\tcounter", newest, func(a at) string {
			return fmt.Sprintf("%s\t%s\t%v\t%s", day("2026-01-05", 4*a.n).Format("2006-01-02"), a.who, a.value, "B")
		}), l)

	// Flight school, Norway: a table as R writes it, with row names.
	l = practised(5, 10, 190, 110, 0.01, numbered("elev%d", 7)...)
	row := 0
	read("16-row-names", "approach.csv", "--trainee pilot --attempt approach --response time_s --measure time",
		lines(`"","pilot","approach","time_s","wind_kt"`, l, func(a at) string {
			row++
			return fmt.Sprintf(`"%d","%s",%d,%v,%d`, row, a.who, a.n, a.value, 4+(row*7)%11)
		}), l)

	// Shooting club, Türkiye: scores of series, higher is better.
	l = with(practised(6, 9, 200, 90, 0.1, "Aslı", "Çağrı", "Işıl", "İpek", "Şule", "Ömer"), func(a *at) {
		a.value = math.Round((109-a.value/8)*10) / 10
	})
	read("16-air-rifle", "havali_tufek.csv", "--trainee Atıcı --attempt Seri --response Puan --measure score --better higher",
		lines("Atıcı;Seri;Puan", l, plain(";", fixedComma(1))), l)

	// Physiotherapy, Norway: answers of an online survey, two more head rows under the names.
	l = practised(7, 5, 150, 70, 1, numbered("FYS%02d", 8)...)
	answer := 0
	read("16-survey", "Bed transfer_May 4, 2026_10.12.csv", "--trainee Q1 --attempt Q2 --response Q3 --measure time",
		lines(`StartDate,ResponseId,Q1,Q2,Q3,Q4
Start Date,Response ID,"Your code, as on the card",Which attempt is this?,"Time from bed to chair, in seconds",Anything unusual?
"{""ImportId"":""startDate"",""timeZone"":""Europe/Oslo""}","{""ImportId"":""_recordId""}","{""ImportId"":""QID1_TEXT""}","{""ImportId"":""QID2""}","{""ImportId"":""QID3_TEXT""}","{""ImportId"":""QID4_TEXT""}"`, l, func(a at) string {
			answer++
			return fmt.Sprintf("%s,R_%09dxQ,%s,%d,%v,", day("2026-03-02", 7*a.n).Add(time.Duration(9*60+answer)*time.Minute).Format("2006-01-02 15:04:05"), answer*7919, a.who, a.n, a.value)
		}), l)

	// Pharmacy, France: sep= line for the spreadsheet program.
	l = practised(8, 8, 160, 80, 0.1, numbered("PR%d", 9)...)
	read("16-sep-line", "pilulier.csv", "--trainee préparateur --attempt essai --response durée_s --measure time",
		crlf(slices.Concat([]byte("sep=;\n"), lines("préparateur;essai;durée_s", l, plain(";", fixedComma(1))))), l)

	// Flight school, Japan: a simulator's export, comment lines, milliseconds.
	l = practised(9, 12, 130, 62, 0.001, numbered("CADET-%d", 5)...)
	read("16-milliseconds", "sim_export.csv", "--trainee cadet --attempt run --response duration_ms --measure time",
		slices.Concat([]byte("# simulator export, firmware 4.2\n# task: engine fire checklist\n# clock: UTC\n"),
			lines("cadet,run,duration_ms,aborts", l, func(a at) string { return fmt.Sprintf("%s,%d,%.0f,0", a.who, a.n, a.value*1000) })), l)

	// Conservatory, Germany: an old Mac program; retuning a harp, lines end in CR.
	l = practised(10, 6, 270, 140, 1, "Harfe1", "Harfe2", "Harfe3", "Harfe4", "Harfe5")
	read("16-cr", "Stimmen.txt", "--trainee Studierende --attempt Durchgang --response Sekunden --measure time",
		lineEnds(lines("Studierende\tDurchgang\tSekunden", l, plain("\t", point)), "\r"), l)

	// Nursing school, India: UTF-16 without a mark.
	l = practised(11, 7, 140, 65, 0.1, numbered("NUR%02d", 8)...)
	read("16-no-mark", "cannula.csv", "--trainee roll_no --attempt trial --response time_sec --measure time",
		inUTF16(binary.LittleEndian, false, crlf(lines("roll_no,trial,time_sec", l, plain(",", fixed(1))))), l)

	// Nursing school, Norway: bars between the cells, as an old ward system writes them.
	l = practised(12, 6, 120, 55, 1, "ANB", "BRK", "DLS", "EVH", "KRM", "OLT", "SSN")
	read("16-bars", "kateter.txt", "--trainee student --attempt forsok --response sekunder --measure time",
		lines("student|forsok|sekunder|veileder", l, func(a at) string { return plain("|", point)(a) + "|V2" }), l)

	// Fire brigade, France: outcomes in words, one of them a hard fail, with the codes said.
	l = stopped(practised(13, 7, 225, 105, 0.1, numbered("SP%02d", 8)...), 180)
	for _, i := range []int{11, 32} {
		l[i].outcome = "failed"
	}
	word := map[string]string{"done": "réussi", "timeout": "temps dépassé", "failed": "échec"}
	read("16-outcomes", "echelle.csv", "--trainee sapeur --attempt passage --response secondes --outcome résultat --measure time --limit 180 --code réussi=done --code échec=failed --code temps~dépassé=timeout",
		lines("sapeur;passage;secondes;résultat", l, func(a at) string { return plain(";", fixedComma(1))(a) + ";" + word[a.outcome] }), l)

	// Fire brigade, Poland: minutes, seconds and tenths as the stopwatch shows them.
	l = practised(14, 8, 210, 100, 0.1, numbered("st-%d", 7)...)
	read("16-stopwatch", "drabina.csv", "--trainee kursant --attempt proba --response czas_min_s --measure time",
		lines("kursant,proba,czas_min_s", l, plain(",", minutes("%d:%02d.%d"))), l)

	// Watchmakers, France: 1'38" as written in the trade.
	l = practised(15, 6, 250, 130, 1, "Apprenti A", "Apprenti B", "Apprenti C", "Apprenti D", "Apprenti E", "Apprenti F")
	read("16-primes", "remontage.csv", "--trainee apprenti --attempt essai --response temps --measure time",
		lines("apprenti,essai,temps", l, plain(",", func(v float64) string { return fmt.Sprintf(`"%d'%02d"""`, int(v)/60, int(v)%60) })), l)

	// Nursing school, Brazil: steps forgotten, counted.
	l = with(practised(16, 9, 240, 60, 1, numbered("ENF%d", 8)...), func(a *at) { a.value = max(0, math.Round(a.value/28-2)) })
	read("16-steps-forgotten", "higiene_das_maos.csv", "--trainee aluno --attempt tentativa --response passos_esquecidos --measure count",
		lines("aluno;tentativa;passos_esquecidos", l, plain(";", point)), l)

	// Flight school, Norway: signed off or not.
	l = with(practised(17, 12, 200, 80, 1, numbered("F%02d", 6)...), func(a *at) {
		if a.value < 125 {
			a.value = 1
		} else {
			a.value = 0
		}
	})
	read("16-signed-off", "landing.csv", "--trainee elev --attempt landing --response godkjent --measure pass-fail",
		lines("elev,landing,godkjent", l, plain(",", point)), l)

	// Nursing school, India: every cell in quotes, remarks with commas and line breaks.
	l = practised(18, 6, 180, 90, 0.1, "Anita K.", "Bhavna R.", "Deepak S.", "Esha M.", "Farhan A.", "Gauri P.")
	read("16-remarks", "suturing_remarks.csv", "--trainee name --attempt attempt --response seconds --measure time",
		crlf(lines(`"name","attempt","remark","seconds"`, l, func(a at) string {
			remark := map[int]string{2: "glove torn, changed", 4: "said \"\"ready\"\"\nbefore the signal"}[a.n]
			return fmt.Sprintf(`"%s","%d","%s","%.1f"`, a.who, a.n, remark, a.value)
		})), l)

	// Dental school, Türkiye: arms.
	l = practised(19, 8, 230, 115, 1, numbered("D%02d", 10)...)
	arms := map[string]string{}
	for i, w := range numbered("D%02d", 10) {
		arms[w] = []string{"Fantom", "Sanal"}[i%2]
	}
	read("16-two-arms", "kavite.csv", "--trainee ogrenci --attempt deneme --response sure_sn --arm grup --measure time",
		lines("ogrenci,grup,deneme,sure_sn", l, func(a at) string { return fmt.Sprintf("%s,%s,%d,%v", a.who, arms[a.who], a.n, a.value) }), l).Arms = arms
}

// sixteenthShapes is text files of other shapes than a row an attempt, plain too.
func sixteenthShapes() {
	// Nursing school, Brazil: a row a student.
	l := practised(20, 8, 150, 70, 0.1, numbered("A%d", 9)...)
	read("16-tentativas", "puncao.csv", "--trainee Aluno --measure time",
		wide("Aluno;Tentativa 1;Tentativa 2;Tentativa 3;Tentativa 4;Tentativa 5;Tentativa 6;Tentativa 7;Tentativa 8", ";", l, fixedComma(1)), l)

	// Shooting club, Poland: a column a member, changing a magazine under time.
	l = practised(21, 10, 110, 48, 0.1, "Bielik", "Kania", "Myszołów", "Pustułka", "Sokół", "Trznadel")
	var b bytes.Buffer
	b.WriteString("seria;Bielik;Kania;Myszołów;Pustułka;Sokół;Trznadel\n")
	for n := 1; n <= 10; n++ {
		fmt.Fprint(&b, n)
		for _, a := range l {
			if a.n == n {
				b.WriteString(";" + fixedComma(1)(a.value))
			}
		}
		b.WriteString("\n")
	}
	read("16-column-a-member", "zmiana.csv", "--columns-are trainee --attempt seria --measure time", bytes.Clone(b.Bytes()), l)

	// Physiotherapy, Norway: time and errors side by side.
	l = practised(22, 6, 140, 75, 1, numbered("E%d", 8)...)
	read("16-side-by-side", "taping.csv", "--trainee Elev --heads Tid=seconds --heads Feil=errors --response seconds --measure time",
		wide("Elev;Tid1;Feil1;Tid2;Feil2;Tid3;Feil3;Tid4;Feil4;Tid5;Feil5;Tid6;Feil6", ";", l,
			func(v float64) string { return fmt.Sprintf("%v;%d", v, int(v)%4) }), l)

	// Dental school, Norway: everybody on both devices, one device asked for.
	l = practised(23, 5, 260, 150, 1, numbered("TANN-%d", 7)...)
	b.Reset()
	b.WriteString("student,enhet,forsøk,tid_s\n")
	for _, a := range l {
		fmt.Fprintf(&b, "%s,hode,%d,%v\n", a.who, a.n, a.value)
		fmt.Fprintf(&b, "%s,skjerm,%d,%v\n", a.who, a.n, math.Round(a.value*0.8)+3)
	}
	read("16-both-devices", "boring.csv", "--trainee student --attempt forsøk --response tid_s --where enhet=hode --measure time", b.Bytes(), l)

	// Conservatory, Türkiye: numbers start again in each session.
	l = practised(24, 9, 160, 70, 1, numbered("ud%d", 6)...)
	read("16-again-from-one", "gam.csv", "--trainee öğrenci --session oturum --attempt tekrar --response saniye --measure time",
		lines("öğrenci,oturum,tekrar,saniye", l, func(a at) string {
			return fmt.Sprintf("%s,%d,%d,%v", a.who, (a.n+2)/3, (a.n+2)%3+1, a.value)
		}), l)

	// Pharmacy, India: heads sorted as words, so that A10 stands after A1.
	l = practised(25, 11, 130, 60, 0.1, numbered("asst%02d", 6)...)
	order := []int{1, 10, 11, 2, 3, 4, 5, 6, 7, 8, 9}
	var sorted []at
	for i := 0; i < len(l); i += 11 {
		for _, n := range order {
			sorted = append(sorted, l[i+n-1])
		}
	}
	read("16-sorted-heads", "labels_pivot.csv", "--trainee assistant --measure time",
		wide("assistant,A1,A10,A11,A2,A3,A4,A5,A6,A7,A8,A9", ",", sorted, fixed(1)), l)
}

// sixteenthBooks is workbooks with a row an attempt, plain.
func sixteenthBooks() {
	num := func(a at) []any { return []any{a.who, a.n, a.value} }

	// Dental school, Germany: saved by LibreOffice, with empty formatted rows below.
	l := practised(30, 8, 220, 110, 0.1, numbered("Z%02d", 8)...)
	b := newBook("Messwerte")
	b.log([]any{"Proband", "Versuch", "Dauer in s"}, l, num)
	b.format("A2", "C400", "0.0")
	b.format("A2", "A400", "@")
	b.format("B2", "B400", "0")
	read("16-libre", "Füllung.xlsx", "--trainee Proband --attempt Versuch --response Dauer~in~s --measure time", office("16-libre", "Füllung.xlsx", b.bytes()), l)

	// Fire brigade, Poland: a sheet a firefighter.
	l = practised(31, 7, 180, 85, 0.1, "Adamski", "Borek", "Cichy", "Dudek", "Ekiert")
	b = newBook("Adamski")
	for i, a := range l {
		if a.n == 1 {
			if i > 0 {
				b.next(a.who)
			}
			b.row("A1", "Próba", "Czas [s]")
		}
		b.row(fmt.Sprint("A", a.n+1), a.n, a.value)
	}
	read("16-sheet-a-firefighter", "aparat.xlsx", "--sheets-are trainee --attempt Próba --response Czas~[s] --measure time", b.bytes(), l)

	// Nursing school, Brazil: a sheet a session, numbers run on.
	l = practised(32, 9, 170, 80, 1, numbered("Enf-%02d", 7)...)
	b = newBook("Sessão 1")
	for s := 1; s <= 3; s++ {
		if s > 1 {
			b.next(fmt.Sprint("Sessão ", s))
		}
		b.row("A1", "aluno", "tentativa", "segundos")
		row := 1
		for _, a := range l {
			if (a.n+2)/3 == s {
				row++
				b.row(fmt.Sprint("A", row), num(a)...)
			}
		}
	}
	read("16-sheet-a-session", "curativo.xlsx", "--sheets-are session --trainee aluno --attempt tentativa --response segundos --measure time", b.bytes(), l)

	// Watchmakers, France: cells of minutes and seconds with tenths.
	l = practised(33, 6, 280, 140, 0.1, numbered("H%d", 8)...)
	b = newBook("Montage")
	b.log([]any{"Horloger", "Essai", "Temps"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", "C49", "mm:ss.0")
	read("16-minute-cells", "barillet.xlsx", "--trainee Horloger --attempt Essai --response Temps --measure time --limit 300", b.bytes(), l)

	// Conservatory, Germany: LibreOffice sheet with durations.
	l = practised(34, 7, 240, 120, 1, "Oboe A", "Oboe B", "Oboe C", "Fagott A", "Fagott B", "Fagott C")
	b = newBook("Rohrbau")
	b.log([]any{"Studierende", "Nr.", "Dauer"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", "C43", "[mm]:ss")
	read("16-durations", "Rohrbau.ods", "--trainee Studierende --attempt Nr. --response Dauer --measure time --limit 300", office("16-durations", "Rohrbau.ods", b.bytes()), l)

	// Shooting club, Poland: member numbers shown as 007.
	l = practised(35, 6, 100, 45, 0.1, "003", "007", "011", "024", "108", "215")
	b = newBook("Arkusz1")
	b.log([]any{"Nr członka", "Podejście", "Sekundy"}, l, func(a at) []any {
		var id int
		_, err := fmt.Sscanf(a.who, "%d", &id)
		must(err)
		return []any{id, a.n, a.value}
	})
	b.format("A2", "A37", "000")
	read("16-members", "rozkladanie.xlsx", "--trainee Nr~członka --attempt Podejście --response Sekundy --measure time", b.bytes(), l)

	// Physiotherapy, Norway: a Mac workbook that counts days from 1904; the dates tell the order.
	l = practised(36, 7, 140, 80, 1, numbered("kand%d", 7)...)
	b = newBook("Ark1")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Kandidat", "Dato", "Sekunder"}, l, func(a at) []any {
		from1904 := day("2026-02-09", 5*a.n).Sub(day("1904-01-01", 0)).Hours() / 24
		return []any{a.who, from1904, a.value}
	})
	b.format("B2", "B50", "yyyy-mm-dd")
	read("16-mac", "mobilisering.xlsx", "--trainee Kandidat --date Dato --response Sekunder --measure time", b.bytes(), l)

	// Dental school, Germany: a title over the table and notes under it.
	l = practised(37, 6, 250, 130, 1, numbered("Ph%d", 8)...)
	b = newBook("WS 2025-26")
	must(b.MergeCell(b.sheet, "A1", "D1"))
	b.row("A1", "Kavitätenpräparation am Phantomkopf, Wintersemester")
	b.row("A2", "Prüfraum 2, Stoppuhr, ganze Sekunden")
	b.row("A4", "Code", "Durchgang", "Zeit [s]", "Aufsicht")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+5), a.who, a.n, a.value, "Kr")
	}
	b.row(fmt.Sprint("A", len(l)+7), "Anmerkung: Code und Name liegen getrennt im Sekretariat.")
	read("16-title-and-notes", "Kavität.xlsx", "--trainee Code --attempt Durchgang --response Zeit~[s] --measure time", b.bytes(), l)

	// Flight school, Japan: start and end by the stopwatch, the time a formula that was calculated.
	l = practised(38, 8, 150, 75, 0.1, numbered("学生%d", 6)...)
	b = newBook("計測")
	b.log([]any{"学生", "回数", "開始", "終了", "所要秒"}, l, func(a at) []any {
		start := float64(10 + a.n*3)
		return []any{a.who, a.n, start, math.Round((start+a.value)*10) / 10}
	})
	for i := range l {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("ROUND(D%d-C%d,1)", i+2, i+2)))
	}
	read("16-end-less-start", "点検.xlsx", "--trainee 学生 --attempt 回数 --response 所要秒 --measure time", office("16-end-less-start", "点検.xlsx", b.bytes()), l)

	// Pharmacy, France: numbers kept as text with decimal commas, all of them.
	l = practised(39, 7, 130, 70, 0.1, numbered("Off%02d", 7)...)
	b = newBook("Feuil1")
	b.log([]any{"Code", "Essai", "Durée (s)"}, l, func(a at) []any { return []any{a.who, a.n, fixedComma(1)(a.value)} })
	read("16-numbers-as-text", "seringue.xlsx", "--trainee Code --attempt Essai --response Durée~(s) --measure time", b.bytes(), l)

	// Nursing school, Germany: two examiners' marks beside the time.
	l = practised(40, 6, 170, 85, 1, numbered("AZUBI-%d", 8)...)
	b = newBook("OSCE")
	b.log([]any{"Azubi", "Durchgang", "Prüferin 1", "Prüferin 2", "Zeit_s"}, l, func(a at) []any {
		return []any{a.who, a.n, 1 + int(a.value)%5, 1 + int(a.value+1)%5, a.value}
	})
	read("16-examiners-beside", "osce.xlsx", "--trainee Azubi --attempt Durchgang --response Zeit_s --measure time", b.bytes(), l)

	// Pharmacy, Brazil: answers of an online form, in the order of sending.
	l = practised(41, 6, 150, 75, 1, numbered("FARM-%02d", 8)...)
	sent := slices.Clone(l)
	slices.SortStableFunc(sent, func(a, c at) int { return a.n - c.n })
	b = newBook("Respostas ao formulário 1")
	minute := 0
	b.log([]any{"Carimbo de data/hora", "Seu código", "Número da tentativa", "Tempo em segundos"}, sent, func(a at) []any {
		minute += 17
		return []any{day("2026-03-16", 2*a.n).Add(time.Duration(8*60+minute%300) * time.Minute), a.who, a.n, a.value}
	})
	read("16-form", "respostas.xlsx", "--trainee Seu~código --attempt Número~da~tentativa --response Tempo~em~segundos --measure time", b.bytes(), l)

	// Fire brigade, Norway: the code stands once, in a merged cell, for all rows of a trainee.
	l = practised(42, 5, 160, 90, 0.1, numbered("ASP%d", 7)...)
	b = newBook("Røykdykking")
	b.log([]any{"Aspirant", "Forsøk", "Tid (s)"}, l, func(a at) []any {
		if a.n == 1 {
			return num(a)
		}
		return []any{nil, a.n, a.value}
	})
	for i := 0; i < len(l); i += 5 {
		must(b.MergeCell(b.sheet, fmt.Sprint("A", i+2), fmt.Sprint("A", i+6)))
	}
	read("16-merged-codes", "maske.xlsx", "--trainee Aspirant --fill-down Aspirant --attempt Forsøk --response Tid~(s) --measure time", b.bytes(), l)
}

// sixteenthHeads is workbooks of other shapes, plain.
func sixteenthHeads() {
	cell := func(a at) any { return a.value }

	// Conservatory, Türkiye: sessions over attempts, numbers start again.
	l := practised(50, 6, 150, 75, 1, numbered("KEM-%02d", 8)...)
	b := newBook("Sayfa1")
	b.row("A1", "Öğrenci", "Oturum 1", nil, nil, "Oturum 2")
	b.row("A2", nil, "Deneme 1", "Deneme 2", "Deneme 3", "Deneme 1", "Deneme 2", "Deneme 3")
	must(b.MergeCell(b.sheet, "A1", "A2"))
	must(b.MergeCell(b.sheet, "B1", "D1"))
	must(b.MergeCell(b.sheet, "E1", "G1"))
	b.wide(3, l, cell)
	read("16-sessions-above", "keman.xlsx", "--trainee Öğrenci --measure time", b.bytes(), l)

	// Pharmacy, Türkiye: mean and spread under the table and beside it.
	l = practised(51, 6, 140, 65, 1, numbered("ecz%d", 7)...)
	b = newBook("Süreler")
	b.row("A1", "Kod", "1. deneme", "2. deneme", "3. deneme", "4. deneme", "5. deneme", "6. deneme", "Ortalama")
	b.wide(2, l, cell)
	for row := 2; row <= 8; row++ {
		sum := 0.0
		for _, a := range l[(row-2)*6 : (row-1)*6] {
			sum += a.value
		}
		b.put(8, row, math.Round(sum/6*10)/10)
	}
	b.put(1, 9, "Ortalama")
	b.put(1, 10, "Std. Sapma")
	for n := 1; n <= 6; n++ {
		var sum, squares float64
		for i := n - 1; i < len(l); i += 6 {
			sum, squares = sum+l[i].value, squares+l[i].value*l[i].value
		}
		b.put(n+1, 9, math.Round(sum/7*10)/10)
		b.put(n+1, 10, math.Round(math.Sqrt((squares-sum*sum/7)/6)*10)/10)
	}
	read("16-mean-and-spread", "recete.xlsx", "--trainee Kod --measure time", b.bytes(), l)

	// Physiotherapy, France: not everybody made as many attempts.
	l = practised(52, 9, 130, 70, 0.1, numbered("K%02d", 8)...)
	made := map[string]int{"K01": 9, "K02": 6, "K03": 9, "K04": 4, "K05": 8, "K06": 9, "K07": 5, "K08": 7}
	b = newBook("Feuil1")
	b.row("A1", "Étudiant", "Essai 1", "Essai 2", "Essai 3", "Essai 4", "Essai 5", "Essai 6", "Essai 7", "Essai 8", "Essai 9")
	b.wide(2, l, func(a at) any {
		if a.n > made[a.who] {
			return nil
		}
		return a.value
	})
	read("16-not-so-many", "bandage.xlsx", "--trainee Étudiant --measure time", b.bytes(),
		without(l, func(a at) bool { return a.n > made[a.who] }))

	// Watchmakers, Germany: three rows of heads: measure, attempt, unit.
	l = practised(53, 5, 280, 160, 1, "Lehrling 1", "Lehrling 2", "Lehrling 3", "Lehrling 4", "Lehrling 5", "Lehrling 6")
	b = newBook("Unruh")
	b.row("A1", "Lehrling", "Zeit")
	b.row("A2", nil, "Versuch 1", "Versuch 2", "Versuch 3", "Versuch 4", "Versuch 5")
	b.row("A3", nil, "[s]", "[s]", "[s]", "[s]", "[s]")
	must(b.MergeCell(b.sheet, "A1", "A3"))
	must(b.MergeCell(b.sheet, "B1", "F1"))
	b.wide(4, l, cell)
	read("16-three-heads", "Unruh.ods", "--trainee Lehrling --measure time", office("16-three-heads", "Unruh.ods", b.bytes()), l)

	// Fire brigade, Norway: the attempt over time and errors.
	l = practised(54, 5, 150, 80, 1, numbered("Lag %d", 8)...)
	b = newBook("Pumpe")
	b.row("A1", "Lag", "Forsøk 1", nil, "Forsøk 2", nil, "Forsøk 3", nil, "Forsøk 4", nil, "Forsøk 5")
	b.row("A2", nil, "Tid (s)", "Feil", "Tid (s)", "Feil", "Tid (s)", "Feil", "Tid (s)", "Feil", "Tid (s)", "Feil")
	for _, m := range [][2]string{{"A1", "A2"}, {"B1", "C1"}, {"D1", "E1"}, {"F1", "G1"}, {"H1", "I1"}, {"J1", "K1"}} {
		must(b.MergeCell(b.sheet, m[0], m[1]))
	}
	for i, a := range l {
		row := i/5 + 3
		b.put(1, row, a.who)
		b.put(2*a.n, row, a.value)
		b.put(2*a.n+1, row, int(a.value)%3)
	}
	read("16-attempt-over-measure", "pumpe.xlsx", "--trainee Lag --response Tid~(s) --measure time", b.bytes(), l)

	// Shooting club, Poland: the table lies on its side.
	l = practised(55, 4, 120, 60, 0.1, numbered("Z%d", 5)...)
	b = newBook("Arkusz1")
	b.row("A1", "Zawodnik")
	b.row("A2", "Próba")
	b.row("A3", "Czas (s)")
	for i, a := range l {
		b.put(i+2, 1, a.who)
		b.put(i+2, 2, a.n)
		b.put(i+2, 3, a.value)
	}
	read("16-on-its-side", "czyszczenie.xlsx", "--transposed --trainee Zawodnik --attempt Próba --response Czas~(s) --measure time", b.bytes(), l)

	// Dental school, India: codes among the times, said what they mean.
	l = stopped(practised(56, 6, 270, 125, 1, numbered("BDS-%02d", 7)...), 240)
	l[20] = at{l[20].who, l[20].n, math.NaN(), "failed"}
	b = newBook("Sheet1")
	b.row("A1", "Roll", "Attempt 1", "Attempt 2", "Attempt 3", "Attempt 4", "Attempt 5", "Attempt 6")
	b.wide(2, l, func(a at) any {
		switch a.outcome {
		case "failed":
			return "PULP"
		case "timeout":
			return "T/O"
		}
		return a.value
	})
	read("16-words-in-cells", "access_cavity.xlsx", "--trainee Roll --measure time --limit 240 --code T/O=timeout --code PULP=failed", b.bytes(), l)
}

// A frameRow is a row as a data frame is kept, with its index.
type frameRow struct {
	Trainee string  `parquet:"trainee"`
	Attempt int32   `parquet:"attempt"`
	Seconds float64 `parquet:"seconds"`
	Index   int64   `parquet:"__index_level_0__"`
}

// A stampRow is a row with the moment of the attempt and no number.
type stampRow struct {
	Pilot   string    `parquet:"pilot,dict"`
	Started time.Time `parquet:"started,timestamp(microsecond)"`
	Seconds float32   `parquet:"seconds"`
}

func frame(l []at) []byte {
	var rows []frameRow
	for i, a := range l {
		rows = append(rows, frameRow{a.who, int32(a.n), a.value, int64(i)})
	}
	return parquetOf(rows)
}

// sixteenthParquet is Parquet files: two plain, one with a value that is no number, one cut short.
func sixteenthParquet() {
	l := practised(60, 10, 140, 70, 0.1, numbered("rx%02d", 8)...)
	read("16-frame", "unit_dose.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", frame(l), l)

	l = practised(61, 8, 180, 95, 0.5, "LN-A", "LN-B", "LN-C", "LN-D", "LN-E", "LN-F")
	var rows []stampRow
	for _, a := range l {
		rows = append(rows, stampRow{a.who, day("2026-01-12", 3*a.n).Add(time.Duration(9*3600+int(a.value)*7) * time.Second), float32(a.value)})
	}
	read("16-stamps", "preflight.parquet", "--trainee pilot --date started --response seconds --measure time", parquetOf(rows), l)

	l = practised(62, 7, 200, 100, 0.1, numbered("W%d", 6)...)
	odd := slices.Clone(l)
	odd[17].value = math.NaN()
	doubt("16-no-number", "hairspring.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", frame(odd),
		slices.Delete(slices.Clone(l), 17, 18), "row 18 (W3, attempt 4): seconds is NaN, so nobody knows what came of this attempt")

	l = practised(63, 30, 150, 80, 0.1, numbered("T%02d", 12)...)
	whole := frame(l)
	refuse("16-half-parquet", "triage.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", whole[:len(whole)*2/3],
		"the copy stopped at two thirds: the end of the file, where Parquet keeps its table of contents, is missing; copy it again")
}

// sixteenthTextDoubts is text files in which something could be meant in two ways.
func sixteenthTextDoubts() {
	// Physiotherapy, Germany: written by hand with decimal commas between commas.
	l := practised(70, 6, 140, 70, 0.1, numbered("P%d", 7)...)
	doubt("16-commas-everywhere", "gangschule.csv", "--trainee Code --attempt Versuch --response Sekunden --measure time",
		lines("Code,Versuch,Sekunden", l, plain(",", comma)), l,
		"nearly every row: the comma parts cells and is the decimal mark too, so that 138,4 stands in two cells and rows have three or four cells")

	// Flight school, Brazil: points from 1000 on with a point for thousands.
	l = with(practised(71, 8, 220, 90, 1, numbered("PIL%02d", 7)...), func(a *at) { a.value = 1600 - 4*a.value })
	doubt("16-thousands", "simulador.csv", "--trainee piloto --attempt voo --response pontos --measure score --better higher",
		lines("piloto;voo;pontos", l, plain(";", func(v float64) string {
			if v >= 1000 {
				return fmt.Sprintf("%d.%03d", int(v)/1000, int(v)%1000)
			}
			return fmt.Sprint(v)
		})), l, "column pontos: 1.084 beside 840 is one thousand and eighty-four points, not a little over one")

	// Dental school, India: 1.38 for one minute thirty-eight.
	l = practised(72, 6, 230, 100, 1, numbered("UG%02d", 8)...)
	doubt("16-point-for-colon", "wax_carving.csv", "--trainee student --attempt attempt --response time --measure time --limit 300",
		lines("student,attempt,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) })), l,
		"column time: 1.38 is minutes and seconds with a point (no two digits after it are above 59); far below the limit of 300 if read as seconds")

	// Fire brigade, France: minutes, seconds, hundredths, all with colons.
	l = with(practised(73, 7, 170, 85, 1, numbered("EQ%d", 6)...), func(a *at) {
		a.value = math.Round(a.value*100+float64((int(a.value)*7+a.n*13)%60)) / 100
	})
	doubt("16-three-colons", "motopompe.csv", "--trainee équipe --attempt essai --response temps --measure time --limit 300",
		lines("équipe;essai;temps", l, plain(";", func(v float64) string {
			h := int(math.Round(v * 100))
			return fmt.Sprintf("%02d:%02d:%02d", h/6000, h/100%60, h%100)
		})), l, "column temps: 01:38:05 is minutes, seconds and hundredths, but could be hours, minutes and seconds; then all are far above the limit")

	// Nursing school, Poland: the time of day at which the attempt ended.
	l = practised(74, 6, 150, 80, 1, numbered("P-%02d", 7)...)
	at0 := 0
	doubt("16-time-of-day", "wklucie.csv", "--trainee studentka --attempt proba --response godzina --measure time",
		lines("studentka;proba;data;godzina", l, func(a at) string {
			at0 += 4 + int(a.value)%3
			return fmt.Sprintf("%s;%d;%s;%d:%02d", a.who, a.n, "2026-05-19", 8+at0/60, at0%60)
		}), nil, "column godzina: 8:04, 8:08 and on is the time of day of each attempt, not how long it took; no column holds a duration")

	// Conservatory, Germany: one code with a letter that cannot be seen.
	l = practised(75, 6, 130, 65, 1, numbered("VC%d", 6)...)
	seen := 0
	doubt("16-unseen-letter", "Lagenwechsel.csv", "--trainee Code --attempt Nr --response Sekunden --measure time",
		lines("Code;Nr;Sekunden", l, func(a at) string {
			if a.who == "VC4" && a.n > 3 {
				seen++
				a.who = "VC4\u200b"
			}
			return plain(";", point)(a)
		}), l, "trainee VC4: rows with attempts 4 to 6 have a zero-width space after the code, so that one trainee looks like two")

	// Watchmakers, Japan: nothing said that it is a time.
	l = practised(76, 8, 250, 140, 1, numbered("W%02d", 6)...)
	doubt("16-measure-not-said", "escapement.csv", "--trainee id --attempt n --response time_s",
		lines("id,n,time_s", l, plain(",", point)), l, "no --measure: the column time_s is a time (less is better) and would be taken for a score")

	// Pharmacy, Türkiye: durations of a spreadsheet that went through the format General.
	l = practised(77, 7, 160, 85, 1, numbered("Kalfa%d", 7)...)
	doubt("16-days", "kapsul.csv", "--trainee kod --attempt deneme --response süre --measure time --limit 300",
		crlf(lines("kod;deneme;süre", l, plain(";", func(v float64) string { return strings.ReplaceAll(fmt.Sprintf("%.15g", v/86400), ".", ",") }))), l,
		"column süre: 0,00113425925925926 and the like are parts of a day (98 s), not seconds")

	// Nursing school, Germany: the download stopped within the last row.
	l = practised(78, 6, 160, 101, 0.1, numbered("PH%02d", 7)...)
	whole := lines("code;versuch;sekunden;raum", l, func(a at) string { return plain(";", fixedComma(1))(a) + ";Nord" })
	doubt("16-stopped-download", "lagerung.csv", "--trainee code --attempt versuch --response sekunden --measure time",
		whole[:len(whole)-len("1,5;Nord\n")], l[:len(l)-1],
		"last line: it ends within the seconds, without the room and without a line end, so the file was cut there")

	// Nursing school, Brazil: blank counts.
	l = with(practised(79, 8, 240, 60, 1, numbered("TEC%d", 7)...), func(a *at) { a.value = max(0, math.Round(a.value/40-2)) })
	doubt("16-blank-counts", "esterilizacao.csv", "--trainee aluno --attempt tentativa --response erros --measure count",
		lines("aluno;tentativa;erros", l, func(a at) string {
			if a.value == 0 {
				return fmt.Sprintf("%s;%d;", a.who, a.n)
			}
			return plain(";", point)(a)
		}), nil, "column erros: no 0 at all, but blank cells where the errors became few: a blank may be no error or not counted")

	// Pharmacy, France: comma and point in one column.
	l = practised(80, 7, 150, 75, 0.1, numbered("ST%d", 7)...)
	i := 0
	doubt("16-two-marks", "pesee.csv", "--trainee code --attempt essai --response secondes --measure time",
		lines("code;essai;secondes", l, func(a at) string {
			i++
			if i > 28 {
				return plain(";", fixed(1))(a)
			}
			return plain(";", fixedComma(1))(a)
		}), l, "column secondes: a decimal comma in the first 28 rows, a decimal point from row 29 on (another person typed them)")

	// Flight school, Norway: the order of the attempts hangs on the order of day and month.
	l = practised(81, 3, 180, 110, 1, numbered("N%02d", 8)...)
	dates := []string{"02/03/2026", "05/04/2026", "09/01/2026"}
	doubt("16-day-or-month", "go_around.csv", "--trainee pilot --date date --response seconds --measure time",
		lines("pilot,date,seconds", l, func(a at) string { return fmt.Sprintf("%s,%s,%v", a.who, dates[a.n-1], a.value) }), nil,
		"column date: 02/03/2026, 05/04/2026, 09/01/2026: no day above 12, and the order of the attempts differs between day first and month first")

	// Dental school, Norway: two tasks in one log, nobody said which.
	l = practised(82, 5, 240, 130, 1, numbered("St%d", 6)...)
	doubt("16-two-tasks", "øvelser.csv", "--trainee student --attempt forsøk --response sekunder --measure time",
		lines("student;oppgave;forsøk;sekunder", l, func(a at) string {
			return fmt.Sprintf("%s;krone;%d;%v\n%s;skallfasett;%d;%v", a.who, a.n, a.value, a.who, a.n, math.Round(a.value*0.6)+11)
		}), nil, "column oppgave: two tasks (krone, skallfasett), each with attempts 1 to 5, and none is asked for")
}

// sixteenthBookDoubts is workbooks in which something could be meant in two ways.
func sixteenthBookDoubts() {
	num := func(a at) []any { return []any{a.who, a.n, a.value} }

	l := practised(90, 7, 150, 80, 0.1, numbered("SK%d", 7)...)
	b := newBook("Sheet1")
	b.log([]any{"Skytter", "Serie", "Sekunder"}, with(l, func(a *at) {
		if a.who == "SK2" && a.n == 1 || a.who == "SK6" && a.n == 2 {
			a.value = 999
		}
	}), num)
	doubt("16-three-nines", "lading.xlsx", "--trainee Skytter --attempt Serie --response Sekunder --measure time", b.bytes(),
		without(l, func(a at) bool { return a.who == "SK2" && a.n == 1 || a.who == "SK6" && a.n == 2 }),
		"999 at SK2 attempt 1 and SK6 attempt 2 is a code for no time, far above all others")

	l = practised(91, 8, 230, 100, 0.1, numbered("Feu%02d", 8)...)
	low := stopped(l, 150)
	b = newBook("Zeiten")
	b.log([]any{"Trupp", "Durchgang", "Sekunden"}, low, num)
	doubt("16-other-limit", "Steckleiter.xlsx", "--trainee Trupp --attempt Durchgang --response Sekunden --measure time --limit 300", b.bytes(), low,
		"many attempts are exactly 150 and none is longer: they were stopped at 150, though the limit is said to be 300")

	l = practised(92, 6, 180, 95, 1, numbered("T%d", 8)...)
	for _, i := range []int{4, 20, 33} {
		l[i].outcome = "failed"
	}
	b = newBook("Auswertung")
	b.log([]any{"Trupp", "Lauf", "Sekunden", "Outcome"}, l, func(a at) []any { return append(num(a), a.outcome) })
	doubt("16-outcome-not-named", "Schaumrohr.xlsx", "--trainee Trupp --attempt Lauf --response Sekunden --measure time", b.bytes(), l,
		"column Outcome has three rows with failed, and no flag names it")

	l = practised(93, 7, 170, 80, 1, numbered("HK%02d", 6)...)
	b = newBook("Øvelse")
	b.log([]any{"Kandidat", "Forsøk", "Dato", "Sekunder"}, l, func(a at) []any {
		after := 4 * a.n
		if a.n == 7 {
			after = 215
		}
		return []any{a.who, a.n, day("2025-09-01", after), a.value}
	})
	b.format("C2", "C43", "dd.mm.yyyy")
	doubt("16-half-a-year-later", "hlr.xlsx", "--trainee Kandidat --attempt Forsøk --date Dato --response Sekunder --measure time", b.bytes(), l,
		"attempt 7 of everybody was made half a year after attempt 6 (column Dato): a retest, not the next attempt of practice")

	l = practised(94, 6, 200, 105, 1, numbered("R%d", 8)...)
	b = newBook("Sheet1")
	b.log([]any{"Roll", "Attempt", "Seconds"}, l, num)
	b.put(3, 24, (l[22].value*60)/86400)
	b.format("C24", "C24", "h:mm")
	doubt("16-one-clock-cell", "impression.xlsx", "--trainee Roll --attempt Attempt --response Seconds --measure time --limit 300", b.bytes(), l,
		"cell C24 was typed as minutes and seconds with a colon: it holds a time of day (h:mm) among numbers of seconds")

	l = practised(95, 6, 150, 75, 1, numbered("M%02d", 7)...)
	b = newBook("Dane")
	b.log([]any{"Kod", "Próba", "Sekundy"}, l, num)
	for row := 14; row <= 19; row++ {
		must(b.SetRowVisible(b.sheet, row, false))
	}
	doubt("16-hidden-rows", "opatrunek.xlsx", "--trainee Kod --attempt Próba --response Sekundy --measure time", b.bytes(), nil,
		"rows 14 to 19 (all of M03) are hidden: left out on purpose or forgotten in a filter")

	l = practised(96, 6, 250, 120, 1, numbered("Çırak%d", 7)...)
	b = newBook("Sayfa1")
	b.log([]any{"Çırak", "Deneme", "Süre"}, l, func(a at) []any { return []any{a.who, a.n, a.value * 60 / 86400} })
	b.format("C2", "C43", "h:mm")
	doubt("16-hours-for-minutes", "saat_kordon.xlsx", "--trainee Çırak --attempt Deneme --response Süre --measure time --limit 300", b.bytes(), l,
		"column Süre: all cells are hours and minutes (1:38 is 5,880 s), typed for minutes and seconds; far above the limit of 300 s")

	l = with(practised(97, 8, 200, 90, 1, numbered("Ob%d", 6)...), func(a *at) { a.value = math.Round(100 - a.value/4) })
	b = newBook("Trefferquote")
	b.log([]any{"Studierende", "Durchlauf", "Treffer"}, l, func(a at) []any {
		if a.who == "Ob5" {
			return num(a)
		}
		return []any{a.who, a.n, a.value / 100}
	})
	b.format("C2", "C33", "0%")
	b.format("C42", "C49", "0%")
	doubt("16-percent-and-not", "Blattspiel.xlsx", "--trainee Studierende --attempt Durchlauf --response Treffer --measure score --better higher", b.bytes(), l,
		"column Treffer: percent cells (0.66 shown as 66%), but rows 34 to 41 (Ob5) are whole numbers such as 59")

	l = practised(98, 6, 150, 75, 0.1, "NUR1", "NUR2", "OCT1", "OCT2", "SEP1", "SEP2")
	b = newBook("Sheet1")
	b.log([]any{"Student", "Attempt", "Seconds"}, l, num)
	for i, a := range l {
		if month := map[string]int{"OCT": 10, "SEP": 9}[a.who[:3]]; month > 0 {
			b.put(1, i+2, time.Date(2026, time.Month(month), int(a.who[3]-'0'), 0, 0, 0, 0, time.UTC))
			b.format(fmt.Sprint("A", i+2), fmt.Sprint("A", i+2), "d-mmm")
		}
	}
	doubt("16-codes-turned-dates", "ng_tube.xlsx", "--trainee Student --attempt Attempt --response Seconds --measure time", b.bytes(), nil,
		"column Student: codes OCT1, OCT2, SEP1, SEP2 became date cells (1-Oct, 2-Oct, 1-Sep, 2-Sep) beside NUR1 and NUR2")

	l = practised(99, 6, 160, 90, 1, numbered("Pom%d", 7)...)
	b = newBook("Pomiary")
	b.row("A1", "Kod", "Próba 1", "Próba 2", "Próba 3", "Próba 4", "Próba 5", "Próba 6")
	b.wide(2, l, func(a at) any {
		if a.who == "Pom4" && a.n == 3 {
			return nil
		}
		return a.value
	})
	must(b.SetCellFormula(b.sheet, "D5", "K5-J5"))
	doubt("16-one-formula", "masci.xlsx", "--trainee Kod --measure time", b.bytes(),
		without(l, func(a at) bool { return a.who == "Pom4" && a.n == 3 }),
		"cell D5 (Pom4, attempt 3) is a formula without a kept value: not a blank, an attempt whose time is not known")

	l = practised(100, 6, 190, 100, 0.1, numbered("Zd%02d", 6)...)
	b = newBook("Tabelle1")
	b.log([]any{"Code", "Versuch", "Sekunden"}, slices.Concat(l[:24], l[12:]), num)
	doubt("16-pasted-twice", "Abformung.xlsx", "--trainee Code --attempt Versuch --response Sekunden --measure time", b.bytes(), l,
		"rows 14 to 25 (Zd03 and Zd04) stand again in rows 26 to 37: pasted twice, so every attempt of both is there two times")

	l = practised(101, 9, 140, 70, 1, numbered("Zaw%d", 6)...)
	b = newBook("Arkusz1")
	b.log([]any{"Zawodnik", "Podejście", "Sekundy"}, l, func(a at) []any {
		return []any{a.who, time.Date(2026, time.Month((a.n+2)/3), (a.n+2)%3+1, 0, 0, 0, 0, time.UTC), a.value}
	})
	b.format("B2", "B55", "d-m")
	doubt("16-numbers-turned-dates", "przeladowanie.xlsx", "--trainee Zawodnik --attempt Podejście --response Sekundy --measure time", b.bytes(), nil,
		"column Podejście: 1-1, 2-1, 3-1, 1-2 (attempt and session) became dates of the year it was typed; they are no attempt numbers")

	l = practised(102, 5, 180, 100, 1, numbered("G%02d", 10)...)
	b = newBook("Grupo manhã")
	b.log([]any{"aluno", "tentativa", "segundos"}, l[:25], num)
	b.next("Grupo tarde")
	b.log([]any{"aluno", "tentativa", "segundos"}, l[25:], num)
	doubt("16-second-group", "oxigenio.xlsx", "--trainee aluno --attempt tentativa --response segundos --measure time", b.bytes(), nil,
		"sheet Grupo tarde has the same heads and five more trainees (G06 to G10) and is not asked for; reading the first sheet alone loses half")
}

// markedBy makes up marks of subjects by raters on a scale from 1 to top.
func markedBy(seed uint64, top int, subjects, raters, items []string) [][4]string {
	r := rand.New(rand.NewPCG(seed, 61))
	var out [][4]string
	for _, s := range subjects {
		own := 1 + r.Float64()*float64(top-1)
		for _, rater := range raters {
			for _, item := range items {
				mark := min(max(int(math.Round(own+r.NormFloat64()*0.6)), 1), top)
				out = append(out, [4]string{s, rater, item, fmt.Sprint(mark)})
			}
		}
	}
	return out
}

// ratingTable is a sheet with a row a subject and a column a rater, as numbers where they are.
func ratingTable(sheet, subject string, raters []string, r [][4]string) *book {
	b := newBook(sheet)
	b.put(1, 1, subject)
	for i, rater := range raters {
		b.put(i+2, 1, rater)
	}
	for i, x := range r {
		row, col := i/len(raters)+2, i%len(raters)+2
		b.put(1, row, x[0])
		var mark float64
		if _, err := fmt.Sscanf(x[3], "%g", &mark); err == nil {
			b.put(col, row, mark)
		} else {
			b.put(col, row, x[3])
		}
	}
	return b
}

// sixteenthRatings is ratings tables.
func sixteenthRatings() {
	none := []string{""}

	r := markedBy(110, 5, numbered("opptak%02d", 8), []string{"Berg", "Dahl", "Lie"}, []string{"hygiene", "teknikk", "kommunikasjon"})
	rated(read("16-marks-by-item", "vurdering.csv", "--subject video --rater sensor --item punkt --score skår --scale ordinal",
		latin(ratingLines("video;sensor;punkt;skår", ";", r)), nil), r)

	raters := []string{"Prüfer A", "Prüfer B", "Prüfer C", "Prüfer D"}
	r = markedBy(111, 6, numbered("Präparation %d", 10), raters, none)
	rated(read("16-column-an-examiner", "Noten.xlsx", "--subject Arbeit --wide --scale ordinal", ratingTable("Noten", "Arbeit", raters, r).bytes(), nil), r)

	r = markedBy(112, 9, numbered("étude_%d", 9), []string{"jury1", "jury2", "jury3"}, none)
	shown := slices.Clone(r)
	for i := range r {
		if i*7%5 < 2 {
			r[i][3] += ".5"
			shown[i][3] += ",5"
		} else {
			shown[i][3] += ",0"
		}
	}
	rated(read("16-half-marks", "jury.csv", "--subject prestation --rater jury --score note --scale interval",
		crlf(ratingLines("prestation;jury;note", ";", shown)), nil), r)

	raters = []string{"評価者1", "評価者2"}
	r = markedBy(113, 2, numbered("動画%02d", 14), raters, none)
	var b bytes.Buffer
	b.WriteString("\ufeff動画,評価者1,評価者2")
	for i := range r {
		r[i][3] = map[string]string{"1": "不合格", "2": "合格"}[r[i][3]]
		if i%2 == 0 {
			b.WriteString("\r\n" + r[i][0])
		}
		b.WriteString("," + r[i][3])
	}
	b.WriteString("\r\n")
	rated(read("16-pass-by-two", "合否.csv", "--subject 動画 --wide", b.Bytes(), nil), r)

	raters = []string{"Gutachter 1", "Gutachter 2", "Gutachter 3"}
	r = markedBy(114, 10, numbered("Vorspiel %d", 9), raters, none)
	book := ratingTable("Jury", "Vorspiel", raters, r)
	book.put(5, 1, "Mittelwert")
	for i := 0; i < len(r); i += 3 {
		var sum, v float64
		for _, x := range r[i : i+3] {
			_, err := fmt.Sscanf(x[3], "%g", &v)
			must(err)
			sum += v
		}
		book.put(5, i/3+2, math.Round(sum/3*100)/100)
	}
	rated(doubt("16-mean-beside-raters", "Vorspiel.xlsx", "--subject Vorspiel --wide --scale interval", book.bytes(), nil,
		"column Mittelwert is the mean of the three raters before it, not a fourth rater"), r)

	r = markedBy(115, 2, numbered("v%02d", 10), []string{"Ana", "Bia", "Caio"}, none)
	spelt := slices.Clone(r)
	for i := range r {
		pass := r[i][3] == "2"
		r[i][3] = map[bool]string{true: "sim", false: "não"}[pass]
		spelt[i][3] = r[i][3]
		if pass {
			spelt[i][3] = []string{"sim", "Sim", "SIM"}[i%3]
		}
	}
	rated(doubt("16-three-spellings", "checklist.csv", "--subject video --rater avaliador --score aprovado --scale nominal",
		ratingLines("video,avaliador,aprovado", ",", spelt), nil,
		"column aprovado: sim, Sim and SIM are one category in three spellings, one a rater"), r)

	raters = []string{"Egzaminator 1", "Egzaminator 2", "Egzaminator 3"}
	r = markedBy(116, 100, numbered("nagranie %d", 8), raters, none)
	r[10][3] = "brak"
	book = ratingTable("Oceny", "Nagranie", raters, r)
	rated(doubt("16-one-word-among-marks", "oceny.xlsx", "--subject Nagranie --wide --scale interval", book.bytes(), nil,
		"cell C5 (nagranie 4, Egzaminator 2) is the word brak, no mark, among numbers from 1 to 100"), slices.Delete(slices.Clone(r), 10, 11))

	r = markedBy(117, 5, numbered("clip%d", 9), []string{"Rao", "Sen"}, none)
	again := slices.Insert(slices.Clone(r), 12, [4]string{"clip3", "Sen", "", map[bool]string{true: "1", false: "5"}[r[5][3] != "1"]})
	rated(doubt("16-rated-twice", "clips.csv", "--subject clip --rater examiner --score mark --scale ordinal",
		ratingLines("clip,examiner,mark", ",", again), nil,
		"examiner Sen rated clip3 twice (rows 7 and 14) with different marks, and nothing tells the looks apart"), again)

	raters = []string{"Hakem A", "Hakem B", "Hakem C"}
	r = markedBy(118, 5, numbered("kayıt%02d", 9), raters, none)
	r[13][3] = "3"
	book = ratingTable("Puanlar", "Kayıt", raters, r)
	book.put(3, 6, 33)
	rated(doubt("16-key-hit-twice", "puanlar.xlsx", "--subject Kayıt --wide --scale interval", book.bytes(), nil,
		"cell C6 (kayıt05, Hakem B) is 33 on a scale from 1 to 5: the key 3 hit twice"), r)
}

// folder puts these files into the folder of a study.
func folder(t *truth, files map[string][]byte) { t.files = files }

// sixteenthStudies is study folders.
func sixteenthStudies() {
	const peg = "tasks: [{name: task, measure: time, column: seconds, unit: s, better: lower, limit: 300}]\n"

	// Nursing school, Norway: a file a session, numbers start again in the second.
	l := practised(120, 8, 160, 80, 1, numbered("SPL%02d", 7)...)
	second := with(only(l, func(a at) bool { return a.n > 4 }), func(a *at) { a.n -= 4 })
	folder(read("16-study-sessions", "", "", nil, l), map[string][]byte{
		"study.yaml": []byte("title: Sterile gloves\n" + peg + "attempts:\n  files: [march.csv, april.csv]\n  files_are: session\n"),
		"march.csv":  lines("trainee,attempt,seconds", only(l, func(a at) bool { return a.n <= 4 }), plain(",", point)),
		"april.csv":  lines("trainee,attempt,seconds", second, plain(",", point)),
	})

	// Watchmakers, France: masters' times beside the apprentices'.
	l = practised(121, 7, 280, 140, 0.1, numbered("AP%d", 6)...)
	masters := practised(122, 3, 110, 100, 0.1, "M1", "M2", "M3", "M4")
	t := read("16-study-masters", "", "", nil, l)
	t.Experts = masters
	folder(t, map[string][]byte{
		"study.yaml":  []byte("title: Mainspring\n" + peg + "attempts: {file: log.csv}\nexperts: {file: masters.csv}\n"),
		"log.csv":     lines("trainee,attempt,seconds", l, plain(",", fixed(1))),
		"masters.csv": lines("trainee,attempt,seconds", masters, plain(",", fixed(1))),
	})

	// Fire brigade, Poland and Germany: one station writes a decimal comma, and the study file says so.
	l = practised(123, 6, 150, 80, 0.1, "PL1", "PL2", "PL3", "DE1", "DE2", "DE3", "DE4")
	folder(read("16-study-two-stations", "", "", nil, l), map[string][]byte{
		"study.yaml":   []byte("title: Hydrant\n" + peg + "attempts:\n  files: [station1.csv, station2.csv]\n  per_file: {station2.csv: {decimal: comma}}\n"),
		"station1.csv": lines("trainee,attempt,seconds", only(l, func(a at) bool { return a.who[:2] == "PL" }), plain(",", fixed(1))),
		"station2.csv": lines("trainee;attempt;seconds", only(l, func(a at) bool { return a.who[:2] == "DE" }), plain(";", fixedComma(1))),
	})

	// Physiotherapy, Norway: one trainee is in another arm in the second file.
	l = practised(124, 6, 170, 90, 1, numbered("FT%d", 8)...)
	arm := func(a at) string {
		if a.who == "FT3" && a.n > 3 {
			return "video"
		}
		return []string{"video", "teacher"}[int(a.who[2]-'0')%2]
	}
	row := func(a at) string { return fmt.Sprintf("%s,%s,%d,%v", a.who, arm(a), a.n, a.value) }
	folder(doubt("16-study-arm-changes", "", "", nil, l, "FT3 is in the arm teacher in day1.csv and in the arm video in day2.csv"), map[string][]byte{
		"study.yaml": []byte("title: Knee bandage\n" + peg + "attempts:\n  files: [day1.csv, day2.csv]\n  columns: {arm: arm}\n"),
		"day1.csv":   lines("trainee,arm,attempt,seconds", only(l, func(a at) bool { return a.n <= 3 }), row),
		"day2.csv":   lines("trainee,arm,attempt,seconds", only(l, func(a at) bool { return a.n > 3 }), row),
	})

	// Pharmacy, India: the study file names a file that was not sent.
	l = practised(125, 5, 140, 80, 1, numbered("PC%d", 6)...)
	folder(refuse("16-study-file-not-sent", "", "", nil, "study.yaml names week2.csv, and the folder has week1.csv alone; ask for the file or take its name out"), map[string][]byte{
		"study.yaml": []byte("title: Powder papers\n" + peg + "attempts:\n  files: [week1.csv, week2.csv]\n"),
		"week1.csv":  lines("trainee,attempt,seconds", l, plain(",", point)),
	})
}

// sixteenthRefused is files that cannot be read.
func sixteenthRefused() {
	num := func(a at) []any { return []any{a.who, a.n, a.value} }
	heads := []any{"code", "attempt", "seconds"}
	flags := "--trainee code --attempt attempt --response seconds --measure time"
	made := func(seed uint64) *book {
		b := newBook("Data")
		b.log(heads, practised(seed, 8, 160, 80, 0.1, numbered("X%02d", 9)...), num)
		return b
	}

	whole := made(130).bytes()
	refuse("16-half-workbook", "usb_stick.xlsx", flags, whole[:len(whole)*3/5], "the workbook was cut at three fifths when the stick was pulled out; copy it again")

	refuse("16-old-excel", "Fechten_1998.xls", flags, office("16-old-excel", "Fechten_1998.xls", made(131).bytes()), "a workbook of old Excel (before 2007, .xls): save it as XLSX or CSV")

	var page bytes.Buffer
	page.WriteString("<html><head><meta charset=\"utf-8\"><title>Export</title></head><body><table border=\"1\">\n<tr><th>code</th><th>attempt</th><th>seconds</th></tr>\n")
	for _, a := range practised(132, 6, 150, 75, 1, numbered("B%d", 6)...) {
		fmt.Fprintf(&page, "<tr><td>%s</td><td>%d</td><td>%v</td></tr>\n", a.who, a.n, a.value)
	}
	page.WriteString("</table></body></html>\n")
	refuse("16-page-named-workbook", "booking_export.xlsx", flags, page.Bytes(), "a web page (HTML) with the name of a workbook: open it in a spreadsheet program and save it as XLSX or CSV")

	refuse("16-broken-sheet", "repaired.xlsx", flags, partReplaced(made(133).bytes(), "xl/worksheets/sheet1.xml", `</row><row r="20"`, `<row r="20"`),
		"the XML of the sheet is damaged (row 19 never ends); open and save it in a spreadsheet program, or save as CSV")

	var locked bytes.Buffer
	must(made(134).Write(&locked, excelize.Options{Password: "harp"}))
	refuse("16-locked", "Prüfung_geschützt.xlsx", flags, locked.Bytes(), "the workbook is locked with a password: open it and save it without one")

	b := newBook("Data")
	l := practised(135, 6, 150, 80, 1, numbered("Q%d", 6)...)
	b.log([]any{"code", "attempt", "start", "end", "seconds"}, l, func(a at) []any { return []any{a.who, a.n, 10, 10 + a.value} })
	for i := range l {
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("D%d-C%d", i+2, i+2)))
	}
	refuse("16-never-calculated", "made_by_script.xlsx", flags, b.bytes(), "column seconds: formulas that were never calculated, so no value is kept; open and save it in a spreadsheet program")

	refuse("16-heads-alone", "vazio.csv", "--trainee aluno --attempt tentativa --response segundos --measure time", []byte("aluno;tentativa;segundos\r\n"), "heads alone: no attempt is in the file")

	r := markedBy(136, 5, numbered("video%d", 9), []string{"Nowak"}, []string{""})
	rated(refuse("16-one-rater", "jedna.csv", "--subject video --rater rater --score score --scale ordinal", ratingLines("video,rater,score", ",", r),
		"one rater alone (Nowak): agreement needs a second rater of the same subjects"), r)
}
