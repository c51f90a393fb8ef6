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

	"github.com/parquet-go/parquet-go"
	"github.com/xuri/excelize/v2"
)

// twentyfifth makes the set of a collector: what twelve labs of different crafts sent one coordinator
// in eight years, more than half of it plain, the rest with an accident that happened on the way.
func twentyfifth() {
	kept25()
	exports25()
	written25()
	results25()
	books25()
	mixed25()
	persons25()
	moved25()
	units25()
	notes25()
	typed21("25-hu-errors-exchanged", "25-it-last-is-best", "25-nl-rows-sorted", "25-de-sorted-alone", "25-is-dragged-codes", "25-da-note-exchanged",
		"25-ca-column-copied", "25-en-attempt-fourteen")
	ratings25()
	ratingDoubts25()
	studies25()
	studyDoubts25()
	refusals25()
}

// curve25 makes up times that fall with practice towards levels from lo on, with this scatter of the logarithm.
func curve25(seed uint64, n int, lo, scatter float64, codes ...string) []at {
	r := rand.New(rand.NewPCG(seed, 25))
	var out []at
	for _, who := range codes {
		plateau := lo * (1 + 0.45*r.Float64())
		start := plateau * (1.7 + 0.9*r.Float64())
		for i := 1; i <= n; i++ {
			noise := math.Exp(scatter * max(-1.8, min(1.8, r.NormFloat64())))
			v := math.Round((plateau+(start-plateau)*math.Pow(float64(i), -0.75))*noise*10) / 10
			if math.Mod(v, 30) == 0 {
				v += 0.4
			}
			out = append(out, at{who, i, v, "done"})
		}
	}
	return out
}

// log25 is curve25 with a scatter of a twelfth.
func log25(seed uint64, n int, lo float64, codes ...string) []at {
	return curve25(seed, n, lo, 0.085, codes...)
}

// whole25 is a log in whole seconds, none of them half a minute or more of them.
func whole25(l []at) []at {
	return with(l, func(a *at) {
		a.value = math.Round(a.value)
		if math.Mod(a.value, 30) == 0 {
			a.value++
		}
	})
}

// experts25 makes up runs of experts: quick, without learning.
func experts25(seed uint64, n int, level float64, codes ...string) []at {
	r := rand.New(rand.NewPCG(seed, 2525))
	var out []at
	for _, who := range codes {
		own := level * (1 + 0.2*r.Float64())
		for i := 1; i <= n; i++ {
			out = append(out, at{who, i, math.Round(own*math.Exp(0.06*max(-1.8, min(1.8, r.NormFloat64())))*10) / 10, "done"})
		}
	}
	return out
}

// below25 panics if an attempt reaches the limit without saying so.
func below25(l []at, limit float64) []at {
	for _, a := range l {
		if a.value >= limit && a.outcome == "done" {
			panic(fmt.Sprint("above the limit: ", a))
		}
	}
	return l
}

// exchanged25 is a log in which two trainees have each other's value of one attempt.
func exchanged25(l []at, one, other string, n int) []at {
	i, j := find21(l, one, n), find21(l, other, n)
	out := slices.Clone(l)
	out[i].value, out[j].value = l[j].value, l[i].value
	return out
}

// place25 is the place of a trainee in a log, from 0.
func place25(l []at, who string) int { return slices.Index(traineesOf(l), who) }

// arms25 gives a truth the arms of its trainees.
func arms25(t *truth, arm func(who string) string) *truth {
	t.Arms = map[string]string{}
	for _, a := range t.Attempts {
		t.Arms[a.who] = arm(a.who)
	}
	return t
}

// kept25 are tables kept by hand or by form.
func kept25() {
	// Soldering, a vocational school.
	l := log25(2501, 8, 50, numbered("AZ%02d", 7)...)
	read("25-de-soldering", "loetuebung.csv", "--trainee Azubi --attempt Durchgang --response Lötzeit~[s] --measure time --limit 300",
		crlf(lines("Datum;Platz;Azubi;Durchgang;Lötzeit [s];kalte Lötstellen", l, func(a at) string {
			return fmt.Sprintf("%02d.03.2026;%d;%s;%d;%s;%d", 1+a.n*3, 1+place25(l, a.who)%4, a.who, a.n, oneDigitComma(a.value), errors21(a))
		})), below25(l, 300))

	// Welding: a title, groups, a column an attempt, a note below.
	l = log25(2502, 6, 55, numbered("VM%02d", 8)...)
	group := func(who string) string { return []string{"démonstration", "vidéo"}[place25(l, who)%2] }
	var b bytes.Buffer
	b.WriteString("Cordons d'angle, atelier de Valmorin;;;;;;;\n;;;;;;;\nSoudeur;Groupe;Essai 1;Essai 2;Essai 3;Essai 4;Essai 5;Essai 6")
	for _, a := range l {
		if a.n == 1 {
			b.WriteString("\n" + a.who + ";" + group(a.who))
		}
		b.WriteString(";" + oneDigitComma(a.value))
	}
	b.WriteString("\n;;;;;;;\nTemps en secondes, chronomètre de l'atelier.;;;;;;;\n")
	arms25(read("25-fr-welding-wide", "cordons.csv", "--trainee Soudeur --arm Groupe --measure time --limit 300", bytes.Clone(b.Bytes()), below25(l, 300)), group)

	// Dental hand pieces: names with a comma.
	l = log25(2503, 7, 48, "Sola, Mar", "Quirós, Nuria", "Belda, Teo", "Arnau, Iris", "Poveda, Gil", "Lloret, Ada")
	read("25-es-dental-names", "fresado.csv", "--trainee Alumno --attempt Intento --response Segundos --measure time",
		lines("Alumno,Intento,Segundos,Toques", l, func(a at) string {
			return fmt.Sprintf("%q,%d,%v,%d", a.who, a.n, a.value, errors21(a))
		}), l)

	// Pipetting, with a byte-order mark.
	l = log25(2504, 6, 42, "受01", "受02", "受03", "受04", "受05", "受06", "受07")
	read("25-ja-pipetting", "分注.csv", "--trainee 受講者 --attempt 回 --response 所要時間（秒） --measure time --limit 300",
		append([]byte("\uFEFF"), crlf(lines("受講者,回,所要時間（秒）,こぼし", l, func(a at) string { return fmt.Sprintf("%s,%d,%.1f,%d", a.who, a.n, a.value, errors21(a)) }))...), l)

	// Knitting of nets: the newest attempt stands first, and the heads say so.
	l = log25(2505, 7, 58, "Aaltje", "Bouke", "Douwe", "Fenna", "Gerbrich", "Hylke")
	b.Reset()
	b.WriteString("Breier\tPoging 7\tPoging 6\tPoging 5\tPoging 4\tPoging 3\tPoging 2\tPoging 1")
	for i := 0; i < len(l); i += 7 {
		b.WriteString("\n" + l[i].who)
		for n := 6; n >= 0; n-- {
			b.WriteString("\t" + oneDigitComma(l[i+n].value))
		}
	}
	b.WriteString("\n")
	read("25-nl-newest-first", "netten.tsv", "--trainee Breier --measure time --limit 300", bytes.Clone(b.Bytes()), below25(l, 300))

	// Knots, a form on the net.
	l = log25(2506, 6, 40, "simpul-a", "simpul-b", "simpul-c", "simpul-d", "simpul-e", "simpul-f", "simpul-g")
	read("25-id-form", "tanggapan.csv", "--trainee Kode~peserta --attempt Percobaan~ke- --response Waktu~(detik) --measure time",
		lines("Cap waktu,Kode peserta,Percobaan ke-,Waktu (detik)", l, func(a at) string {
			return fmt.Sprintf("2026/02/%02d %d:%02d:%02d,%s,%d,%v", 2+a.n*3, 9+place25(l, a.who), (7*a.n+int(a.value))%60, int(a.value*10)%60, a.who, a.n, a.value)
		}), l)

	// Drumming.
	l = log25(2507, 8, 44, numbered("북%d", 6)...)
	read("25-ko-drumming", "연습기록.csv", "--trainee 학생 --attempt 회차 --response 시간(초) --measure time",
		lines("학생,회차,시간(초),놓친 박자", l, func(a at) string { return fmt.Sprintf("%s,%d,%v,%d", a.who, a.n, a.value, errors21(a)) }), l)

	// A blank line between trainees.
	l = log25(2508, 6, 52, numbered("CH%02d", 7)...)
	b.Reset()
	b.WriteString("dysgwr;ymgais;eiliadau;trefn\n")
	order := func(who string) string { return []string{"bloc", "cymysg"}[place25(l, who)/4] }
	for _, a := range l {
		if a.n == 1 && a.who != "CH01" {
			b.WriteString(";;;\n")
		}
		fmt.Fprintf(&b, "%s;%d;%.1f;%s\n", a.who, a.n, a.value, order(a.who))
	}
	arms25(read("25-cy-blank-between", "clymau.csv", "--trainee dysgwr --attempt ymgais --response eiliadau --measure time --arm trefn", bytes.Clone(b.Bytes()), l), order)

	// The age stands beside the attempts.
	l = log25(2509, 6, 47, numbered("SK%02d", 8)...)
	b.Reset()
	b.WriteString("Kod;Ålder;Försök 1;Försök 2;Försök 3;Försök 4;Försök 5;Försök 6")
	for _, a := range l {
		if a.n == 1 {
			fmt.Fprintf(&b, "\n%s;%d", a.who, 19+(place25(l, a.who)*7+3)%13)
		}
		b.WriteString(";" + oneDigitComma(a.value))
	}
	b.WriteString("\n")
	read("25-sv-age-beside", "skyltar.csv", "--trainee Kod --measure time --limit 300", bytes.Clone(b.Bytes()), below25(l, 300))

	// Units in a row of their own below the head.
	l = log25(2510, 7, 51, numbered("GL%d", 6)...)
	read("25-en-unit-row", "gather.csv", "--trainee Learner --attempt Try --response Time --measure time --limit 300",
		lines("Learner,Try,Time,Bubbles\n,,(s),(n)", l, func(a at) string { return fmt.Sprintf("%s,%d,%.1f,%d", a.who, a.n, a.value, errors21(a)) }), below25(l, 300))

	// Archery, dated in the Hungarian way, no attempt numbers.
	l = log25(2511, 7, 53, numbered("ÍJ%d", 6)...)
	read("25-hu-by-date", "ijaszat.csv", "--trainee íjász --date dátum --response idő~(mp) --measure time",
		lines("dátum;íjász;idő (mp);pont", l, func(a at) string {
			return fmt.Sprintf("2026.%02d.%02d.;%s;%s;%d", 3+a.n/5, 2+(a.n*5)%25, a.who, oneDigitComma(a.value), 22+int(a.value*10)%29)
		}), l)

	// Rows in no order at all; the attempt says which is which.
	l = log25(2512, 7, 49, "Ка1", "Ло2", "Ми3", "Ни4", "Ос5", "По6")
	mixed := slices.Clone(l)
	rand.New(rand.NewPCG(7, 7)).Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	read("25-ru-shuffled", "пайка.csv", "--trainee ученик --attempt попытка --response секунды --measure time",
		lines("попытка;ученик;секунды", mixed, func(a at) string { return fmt.Sprintf("%d;%s;%s", a.n, a.who, oneDigitComma(a.value)) }), l)

	// A column an attempt, three languages.
	l = log25(2513, 8, 46, numbered("VN%02d", 7)...)
	read("25-vi-wide", "thatnut.csv", "--trainee Mã --measure time", wide(headLine("Mã", ",", "Lần %d", 8), ",", l, oneDigit), l)
	l = log25(2514, 6, 55, numbered("ΜΛ%d", 8)...)
	read("25-el-wide", "γυαλί.csv", "--trainee Κωδικός --measure time --limit 300", wide(headLine("Κωδικός", ";", "Προσπάθεια %d", 6), ";", l, oneDigitComma), below25(l, 300))
	l = log25(2515, 7, 43, "学员甲", "学员乙", "学员丙", "学员丁", "学员戊", "学员己")
	read("25-zh-wide", "打字.csv", "--trainee 学员 --measure time --limit 300", wide(headLine("学员", ",", "第%d次", 7), ",", l, oneDigit), below25(l, 300))

	// Plain rows, four languages.
	l = log25(2516, 7, 50, numbered("DŻ%02d", 7)...)
	read("25-pl-pipes", "sieci.txt", "--trainee kursant --attempt podejście --response sekundy --measure time",
		lines("kursant|podejście|sekundy", l, plain("|", oneDigit)), l)
	l = log25(2517, 8, 48, numbered("KYN%d", 6)...)
	read("25-tr-welding", "kaynak.csv", "--trainee KURSİYER --attempt DENEME --response SÜRE~(sn) --measure time --limit 300",
		lines("KURSİYER;DENEME;SÜRE (sn);USTA", l, func(a at) string { return plain(";", oneDigitComma)(a) + ";Usta " + string("ABC"[a.n%3]) }), l)
	l = log25(2518, 6, 45, "א1", "ב2", "ג3", "ד4", "ה5", "ו6", "ז7")
	read("25-he-typing", "הקלדה.csv", "--trainee חניך --attempt ניסיון --response שניות --measure time", lines("חניך,ניסיון,שניות", l, plain(",", oneDigit)), l)
	l = log25(2519, 7, 57, numbered("IZ%d", 6)...)
	read("25-eu-tabs", "korapiloak.txt", "--trainee ikaslea --attempt saioa --response segundoak --measure time",
		lines("ikaslea\tsaioa\tsegundoak", l, plain("\t", oneDigitComma)), l)
}

// exports25 are exports of gates, stopwatches, statistics programs and databases.
func exports25() {
	// A listing of a statistics program, with its own row numbers.
	l := log25(2521, 7, 47, numbered("RO%02d", 6)...)
	i := 0
	read("25-no-listing", "listing.txt", "--trainee ID --attempt TRIAL --response SECONDS --measure time",
		lines("Obs    ID      TRIAL    SECONDS\n", l, func(a at) string {
			i++
			return fmt.Sprintf("%3d    %-6s  %5d    %7.1f", i, a.who, a.n, a.value)
		}), l)

	// A dump of a database's table, everything quoted.
	l = log25(2522, 8, 54, numbered("%d", 6)...)
	l = with(l, func(a *at) { a.who = "40" + a.who + "7" })
	i = 0
	read("25-it-dump", "prove.csv", "--trainee allievo_id --attempt prova --response durata_s --measure time",
		lines(`"id","allievo_id","prova","durata_s","created_at"`, l, func(a at) string {
			i++
			return fmt.Sprintf(`"%d","%s","%d","%.1f","2026-01-%02d %02d:%02d:%02d"`, 1180+3*i, a.who, a.n, a.value, 7+2*a.n, 9+place25(l, a.who)%5, (i*17)%60, (i*29)%60)
		}), l)

	// Timing gates: start, finish, and the net time.
	l = log25(2523, 6, 49, numbered("LN%02d", 7)...)
	read("25-en-gate", "gate.csv", "--trainee competitor --attempt run --response net_s --measure time --limit 300",
		lines("lane,competitor,run,start,finish,net_s", l, func(a at) string {
			start := time.Date(2026, 5, 4, 9+a.n, 5+7*place25(l, a.who), 11, 300e6, time.UTC)
			end := start.Add(time.Duration(math.Round(a.value*10)) * 100 * time.Millisecond)
			return fmt.Sprintf("%d,%s,%d,%s,%s,%.1f", 1+place25(l, a.who)%2, a.who, a.n, start.Format("15:04:05.000"), end.Format("15:04:05.000"), a.value)
		}), below25(l, 300))

	// Those who left early have NA to the end of their row.
	l = without(log25(2524, 8, 44, numbered("ty%02d", 8)...), func(a at) bool { return a.who == "ty03" && a.n > 6 || a.who == "ty07" && a.n > 5 })
	var b bytes.Buffer
	b.WriteString(`"id","t1","t2","t3","t4","t5","t6","t7","t8"`)
	for _, who := range traineesOf(l) {
		fmt.Fprintf(&b, "\n%q", who)
		own := attemptsOf(l, who)
		for n := range 8 {
			if n < len(own) {
				fmt.Fprintf(&b, ",%v", own[n].value)
			} else {
				b.WriteString(",NA")
			}
		}
	}
	b.WriteString("\n")
	read("25-en-na-at-the-end", "typing_wide.csv", "--trainee id --measure time", bytes.Clone(b.Bytes()), l)

	// The practice alone is asked for; the check after a break has its own numbers.
	l = log25(2525, 7, 50, numbered("AR%d", 6)...)
	later := log25(2526, 2, 44, numbered("AR%d", 6)...)
	b.Reset()
	b.WriteString("arquero,fase,intento,segundos\n")
	for _, who := range traineesOf(l) {
		for _, a := range attemptsOf(l, who) {
			fmt.Fprintf(&b, "%s,práctica,%d,%.1f\n", a.who, a.n, a.value)
		}
		for _, a := range attemptsOf(later, who) {
			fmt.Fprintf(&b, "%s,retención,%d,%.1f\n", a.who, a.n, a.value)
		}
	}
	read("25-es-practice-alone", "tiro.csv", "--trainee arquero --attempt intento --response segundos --measure time --where fase=práctica", bytes.Clone(b.Bytes()), l)

	// Two tasks, one asked for.
	l = log25(2527, 6, 52, numbered("WS%02d", 6)...)
	other := log25(2528, 6, 30, numbered("WS%02d", 6)...)
	b.Reset()
	b.WriteString("Lernende;Aufgabe;Nr;Sekunden\n")
	for i, a := range l {
		fmt.Fprintf(&b, "%s;Kehlnaht;%d;%s\n%s;Heften;%d;%s\n", a.who, a.n, oneDigitComma(a.value), a.who, a.n, oneDigitComma(other[i].value))
	}
	read("25-de-one-task", "naehte.csv", "--trainee Lernende --attempt Nr --response Sekunden --measure time --where Aufgabe=Kehlnaht", bytes.Clone(b.Bytes()), l)

	// A column a trainee.
	names := []string{"Tuva", "Sixten", "Elna", "Viggo", "Märta"}
	l = log25(2529, 9, 46, names...)
	b.Reset()
	b.WriteString("omgång;" + strings.Join(names, ";"))
	for n := range 9 {
		fmt.Fprintf(&b, "\n%d", n+1)
		for who := range names {
			b.WriteString(";" + oneDigitComma(l[who*9+n].value))
		}
	}
	b.WriteString("\n")
	read("25-sv-column-a-person", "trummor.csv", "--columns-are trainee --attempt omgång --measure time", bytes.Clone(b.Bytes()), l)

	// Days and hours, the day always above 12.
	l = log25(2530, 6, 56, numbered("STC%d", 6)...)
	read("25-ro-day-and-hour", "sticla.csv", "--trainee ucenic --date data --response secunde --measure time",
		lines("data,ucenic,secunde", l, func(a at) string {
			return fmt.Sprintf("%d/04/2026 %02d:%02d,%s,%v", 13+2*a.n, 9+a.n%3, 6*int(a.who[3]-'0'), a.who, a.value)
		}), l)

	// Moments in whole milliseconds, as Parquet.
	type gate struct {
		Code   string `parquet:"code"`
		Run    int32  `parquet:"run"`
		Millis int64  `parquet:"elapsed_ms"`
		Lane   string `parquet:"lane"`
	}
	l = log25(2531, 8, 48, numbered("q-%02d", 6)...)
	var gates []gate
	for _, a := range l {
		gates = append(gates, gate{a.who, int32(a.n), int64(math.Round(a.value * 1000)), string("AB"[a.n%2])})
	}
	read("25-q-gate", "gate.parquet", "--trainee code --attempt run --response elapsed_ms --measure time --limit 300",
		parquetOf(gates, parquet.CreatedBy("writer", "1", "0"), parquet.Compression(&parquet.Snappy)), below25(l, 300))

	// Two windings of a net: half the trainees box first; the sequence is the arm.
	l = log25(2532, 10, 45, numbered("MZ%02d", 8)...)
	sequence := func(who string) string { return []string{"mreža-konop", "konop-mreža"}[place25(l, who)%2] }
	arms25(read("25-hr-crossover", "krizno.csv", "--trainee polaznik --attempt pokušaj --response sekunde --measure time --arm slijed",
		lines("polaznik;slijed;razdoblje;pokušaj;sekunde", l, func(a at) string {
			return fmt.Sprintf("%s;%s;%d;%d;%s", a.who, sequence(a.who), 1+(a.n-1)/5, a.n, oneDigitComma(a.value))
		}), l), sequence)
}

// written25 are times in ways of writing that can mean one thing.
func written25() {
	l := log25(2541, 7, 46, numbered("kb%02d", 6)...)
	read("25-en-minutes-tenths", "keys.tsv", "--trainee typist --attempt round --response time --measure time --limit 300",
		lines("typist\tround\ttime", l, plain("\t", minutes("%d:%02d.%d"))), below25(l, 300))

	// Glass takes three quarters of an hour.
	l = whole25(log25(2542, 6, 1100, numbered("HUŤ%d", 6)...))
	read("25-cs-hours", "foukani.csv", "--trainee žák --attempt pokus --response čas --measure time --limit 5400",
		lines("žák;pokus;čas", l, plain(";", func(v float64) string { return fmt.Sprintf("%d:%02d:%02d", int(v)/3600, int(v)/60%60, int(v)%60) })), below25(l, 5400))

	l = log25(2543, 7, 50, numbered("INS%d", 6)...)
	read("25-it-primes", "insegne.csv", "--trainee allievo --attempt prova --response tempo --measure time --limit 300",
		lines("allievo;prova;tempo", l, plain(";", minutes(`%d'%02d"%d`))), below25(l, 300))

	l = whole25(log25(2544, 6, 55, numbered("RD%02d", 7)...))
	read("25-es-min-s-words", "redes.csv", "--trainee persona --attempt vuelta --response tiempo --measure time --limit 300",
		lines("persona;vuelta;tiempo", l, plain(";", func(v float64) string { return fmt.Sprintf("%d min %02d s", int(v)/60, int(v)%60) })), below25(l, 300))

	l = log25(2545, 6, 47, numbered("Bg%d", 7)...)
	read("25-de-unit-in-cell", "bogen.csv", "--trainee Schütze --attempt Passe --response Zeit --measure time",
		lines("Schütze;Passe;Zeit", l, plain(";", func(v float64) string { return oneDigitComma(v) + " s" })), l)

	// Reactions in milliseconds, a point for thousands where there are any; the head says ms.
	l = with(log25(2546, 8, 620, numbered("TR%02d", 6)...), func(a *at) { a.value = math.Round(a.value) / 1000 })
	read("25-de-thousands-ms", "schlag.csv", "--trainee Proband --attempt Folge --response Reaktionszeit~(ms) --measure time --limit 10",
		lines("Proband;Folge;Reaktionszeit (ms)", l, plain(";", func(v float64) string {
			ms := int(math.Round(v * 1000))
			if ms >= 1000 {
				return fmt.Sprintf("%d.%03d", ms/1000, ms%1000)
			}
			return fmt.Sprint(ms)
		})), l)

	// Arabic digits and decimal sign.
	l = log25(2547, 6, 52, "س1", "س2", "س3", "س4", "س5", "س6")
	arabic := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r - '0' + '٠'
			}
			if r == '.' {
				return '٫'
			}
			return r
		}, s)
	}
	read("25-ar-digits", "لحام.csv", "--trainee المتدرب --attempt المحاولة --response الثواني --measure time",
		lines("المتدرب;المحاولة;الثواني", l, func(a at) string { return a.who + ";" + arabic(fmt.Sprint(a.n)) + ";" + arabic(oneDigit(a.value)) }), l)

	l = log25(2548, 6, 45, "Wren", "Teasel", "Bryony", "Linden", "Sorrel", "Alder")
	read("25-en-ordinals", "signs.csv", "--trainee name --attempt go --response seconds --measure time",
		lines("name,go,seconds", l, func(a at) string {
			return fmt.Sprintf("%s,%s,%.1f", a.who, []string{"1st", "2nd", "3rd", "4th", "5th", "6th"}[a.n-1], a.value)
		}), l)

	// Decimal minutes, and the head says so.
	l = with(log25(2549, 7, 50, numbered("DK%d", 6)...), func(a *at) { a.value = math.Round(math.Round(a.value/0.6)*6) / 10 })
	read("25-da-minutes-said", "knob.csv", "--trainee kursist --attempt forsøg --response tid~(minutter) --measure time --limit 300",
		lines("kursist;forsøg;tid (minutter)", l, plain(";", func(v float64) string { return fixedComma(2)(v / 60) })), below25(l, 300))
}

// results25 are outcomes, scores, counts and passes.
func results25() {
	word := map[string]string{"done": "klar", "timeout": "tiden ute", "failed": "avbröt"}
	l := log25(2551, 7, 38, numbered("LD%02d", 7)...)
	l = but21(but21(but21(l, "LD02", 1, 180, "timeout"), "LD05", 1, 180, "timeout"), "LD05", 2, 180, "timeout")
	l = but21(l, "LD06", 2, 71.3, "failed")
	read("25-sv-own-words", "lödning.csv",
		"--trainee kod --attempt försök --response sekunder --measure time --limit 180 --outcome resultat --code klar=done --code tiden~ute=timeout --code avbröt=failed",
		lines("kod;försök;sekunder;resultat", l, func(a at) string { return plain(";", oneDigitComma)(a) + ";" + word[a.outcome] }), below25(l, 180))

	l = log25(2552, 8, 50, numbered("VE%d", 6)...)
	l = but21(but21(l, "VE3", 1, 240, "timeout"), "VE6", 1, 240, "timeout")
	read("25-fi-outcomes", "verkko.csv", "--trainee tunnus --attempt yritys --response sekuntia --measure time --limit 240 --outcome outcome",
		lines("tunnus;yritys;sekuntia;outcome", l, func(a at) string { return plain(";", oneDigitComma)(a) + ";" + a.outcome }), below25(l, 240))

	l = with(log25(2553, 8, 50, numbered("kn%02d", 8)...), func(a *at) { a.value = bool21(a.value < 92) })
	read("25-en-holds-or-not", "knots.csv", "--trainee id --attempt knot_no --response holds --measure pass-fail", lines("id,knot_no,holds", l, plain(",", point)), l)

	l = with(log25(2554, 9, 50, numbered("arc%d", 7)...), func(a *at) { a.value = math.Round(66 - a.value/4.3) })
	read("25-fr-arrows-score", "volées.csv", "--trainee archer --attempt volée --response points --measure score --better higher", lines("archer;volée;points", l, plain(";", point)), l)

	l = with(log25(2555, 8, 50, numbered("tab%d", 7)...), func(a *at) { a.value = max(0, math.Round((a.value-52)/9)) })
	read("25-pt-missed-beats", "batidas.csv", "--trainee aluno --attempt ensaio --response falhas --measure count", lines("aluno,ensaio,falhas", l, plain(",", point)), l)
}

func books25() {
	// Archery: the simplest wide sheet.
	l := log25(2561, 8, 50, numbered("BUE%d", 7)...)
	b := newBook("Ark1")
	b.row("A1", headCells("Skytte", "Runde %d", 8)...)
	b.wide(2, l, value)
	read("25-x-da-wide", "bueskydning.xlsx", "--trainee Skytte --measure time --limit 300", b.bytes(), below25(l, 300))

	// Durations as time cells with tenths.
	l = log25(2562, 7, 48, numbered("LT%02d", 6)...)
	b = newBook("Lapas1")
	b.log([]any{"Mokinys", "Bandymas", "Trukmė"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", cellName(3, len(l)+1), "[m]:ss.0")
	read("25-x-lt-time-cells", "trukmes.xlsx", "--trainee Mokinys --attempt Bandymas --response Trukmė --measure time --limit 300", b.bytes(), below25(l, 300))

	// Days, a bold head, frozen, a filter that hides nothing.
	l = log25(2563, 6, 51, numbered("ZV%02d", 7)...)
	b = newBook("Hárok1")
	b.log([]any{"Dátum", "Učeň", "Pokus", "Čas [s]", "Póry"}, l, func(a at) []any { return []any{46080 + 3*a.n, a.who, a.n, a.value, errors21(a)} })
	b.format("A2", cellName(1, len(l)+1), "d.m.yyyy")
	b.style(&excelize.Style{Font: &excelize.Font{Bold: true}}, "A1", "E1")
	must(b.SetPanes(b.sheet, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	must(b.AutoFilter(b.sheet, cellName(1, 1)+":"+cellName(5, len(l)+1), nil))
	read("25-x-sk-filter-open", "zvaranie.xlsx", "--trainee Učeň --attempt Pokus --response Čas~[s] --measure time --limit 300", b.bytes(), below25(l, 300))

	// A legend on a sheet of its own.
	l = log25(2564, 7, 49, numbered("ST-%d", 6)...)
	b = newBook("Dati")
	b.log([]any{"Kods", "Reize", "Sekundes"}, l, longRow)
	b.next("Paskaidrojums")
	b.row("A1", "Kods", "šifrs no saraksta")
	b.row("A2", "Reize", "pēc kārtas")
	read("25-x-lv-legend", "stikls.xlsx", "--sheet Dati --trainee Kods --attempt Reize --response Sekundes --measure time", b.bytes(), l)

	// The second sheet is empty.
	l = log25(2565, 8, 45, numbered("TRM%d", 6)...)
	b = newBook("Leht1")
	b.log([]any{"Õppija", "Katse", "Aeg (s)"}, l, longRow)
	b.next("Leht2")
	read("25-x-et-empty-sheet", "trummid.xlsx", "--trainee Õppija --attempt Katse --response Aeg~(s) --measure time", b.bytes(), l)

	// Codes are plain numbers of four digits.
	l = log25(2566, 6, 53, "2207", "2213", "2218", "2231", "2240", "2254", "2266")
	b = newBook("Blað1")
	b.log([]any{"Númer", "Tilraun", "Sekúndur"}, l, func(a at) []any { return []any{int(number(a.who)), a.n, a.value} })
	read("25-x-is-number-codes", "hnutar.xlsx", "--trainee Númer --attempt Tilraun --response Sekúndur --measure time", b.bytes(), l)

	// By date, no attempt numbers.
	l = log25(2567, 7, 47, numbered("BG%02d", 6)...)
	b = newBook("Bileog1")
	b.log([]any{"Foghlaimeoir", "Dáta", "Soicindí"}, l, func(a at) []any { return []any{a.who, 46030 + 7*a.n, a.value} })
	b.format("B2", cellName(2, len(l)+1), "dd/mm/yyyy")
	read("25-x-ga-by-date", "boghdóireacht.xlsx", "--trainee Foghlaimeoir --date Dáta --response Soicindí --measure time", b.bytes(), l)

	// A merged title, the head in the third row, arms.
	l = log25(2568, 6, 50, numbered("PP%02d", 8)...)
	arm := func(who string) string { return []string{"ohne Vorlage", "mit Vorlage"}[place25(l, who)/4] }
	b = newBook("Übung")
	b.row("A1", "Pipettierreihe, Labor Harkenau")
	must(b.MergeCell(b.sheet, "A1", "E1"))
	b.row("A3", "Person", "Gruppe", "Reihe", "Sekunden", "Fehler")
	for i, a := range l {
		b.row(cellName(1, 4+i), a.who, arm(a.who), a.n, a.value, errors21(a))
	}
	arms25(read("25-x-de-merged-title", "pipettieren.xlsx", "--trainee Person --attempt Reihe --response Sekunden --measure time --arm Gruppe --limit 300", b.bytes(), below25(l, 300)), arm)

	// Outcomes in a sheet, limit 200.
	l = log25(2569, 7, 42, numbered("DH%d", 7)...)
	l = but21(but21(l, "DH4", 1, 200, "timeout"), "DH7", 2, 88.6, "failed")
	b = newBook("Sheet1")
	b.log([]any{"Student", "Prep", "Seconds", "Outcome"}, l, func(a at) []any { return []any{a.who, a.n, a.value, a.outcome} })
	read("25-x-en-outcomes", "preps.xlsx", "--trainee Student --attempt Prep --response Seconds --measure time --limit 200 --outcome Outcome", b.bytes(), below25(l, 200))

	// OpenDocument, rows and columns.
	l = log25(2570, 6, 52, numbered("ŽL%d", 7)...)
	rows := []string{odsRow(odsText("Vajenec"), odsText("Poskus"), odsText("Sekunde"))}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value)))
	}
	read("25-o-sl-rows", "spajkanje.ods", "--trainee Vajenec --attempt Poskus --response Sekunde --measure time", ods(rows...), l)
	l = log25(2571, 7, 46, numbered("XBK%d", 6)...)
	b = newBook("Folja1")
	b.row("A1", headCells("Kodiċi", "Prova %d", 7)...)
	b.wide(2, l, value)
	read("25-o-mt-wide", "xbieki.ods", "--trainee Kodiċi --measure time --limit 300", office("25-o-mt-wide", "xbieki.ods", b.bytes()), below25(l, 300))
}

// replaced25 is a text in which something that stands there once is something else.
func replaced25(text []byte, from, to string) []byte {
	if bytes.Count(text, []byte(from)) != 1 {
		panic(fmt.Sprint(bytes.Count(text, []byte(from)), " times: ", from))
	}
	return bytes.Replace(text, []byte(from), []byte(to), 1)
}

// mixed25 are tables put together from others, cut or copied.
func mixed25() {
	// The second file of the two had its columns in another order.
	l := log25(2601, 6, 52, numbered("NT%02d", 8)...)
	var b bytes.Buffer
	b.WriteString("id,attempt,seconds\n")
	for _, a := range l {
		if a.who == "NT05" && a.n == 1 {
			b.WriteString("id,seconds,attempt\n")
		}
		if a.who < "NT05" {
			fmt.Fprintf(&b, "%s,%d,%.1f\n", a.who, a.n, a.value)
		} else {
			fmt.Fprintf(&b, "%s,%.1f,%d\n", a.who, a.value, a.n)
		}
	}
	doubt("25-en-second-head-turned", "joined.csv", "--trainee id --attempt attempt --response seconds --measure time", bytes.Clone(b.Bytes()), l,
		"a second head in the middle (before NT05) has seconds and attempt in the other order: below it the columns are exchanged")

	// The other hand's table stands below, with a title.
	l = log25(2602, 6, 48, numbered("SZ%d", 6)...)
	left := log25(2603, 6, 62, numbered("SZ%d", 6)...)
	doubt("25-pl-other-hand-below", "rece.csv", "--trainee kod --attempt próba --response sekundy --measure time",
		slices.Concat(lines("Prawa ręka;;\nkod;próba;sekundy", l, plain(";", oneDigitComma)), []byte(";;\n"),
			lines("Lewa ręka;;\nkod;próba;sekundy", left, plain(";", oneDigitComma))), nil,
		"a second table stands below the first: titles Prawa ręka (right hand) and Lewa ręka (left hand), the same codes and attempts")

	// A window that shows a hundred rows.
	l = log25(2604, 9, 50, numbered("db%02d", 14)...)
	text := lines("trainee,attempt,seconds", l[:100], plain(",", oneDigit))
	doubt("25-en-hundred-rows", "result.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		append(text, "-- 100 of 126 rows shown\n"...), nil, "the last line says that 100 of 126 rows are shown: the rest is missing")

	// Only short times are in.
	l = log25(2605, 8, 46, numbered("OL%d", 7)...)
	doubt("25-pt-filter-said", "oleiro.csv", "--trainee código --attempt tentativa --response segundos --measure time",
		append([]byte("Filtro: segundos < 90;;\n"), lines("código;tentativa;segundos", only(l, func(a at) bool { return a.value < 90 }), plain(";", oneDigitComma))...), nil,
		"the line above the table says that only times below 90 are in it: slow attempts are missing")

	// The fifth column is the fourth again.
	l = log25(2606, 8, 49, numbered("CT%02d", 7)...)
	doubt("25-ca-column-copied", "nusos.csv", "--trainee Codi --measure time", wide(headLine("Codi", ";", "Intent %d", 8), ";", with(l, func(a *at) {
		if a.n == 5 {
			a.value = l[find21(l, a.who, 4)].value
		}
	}), oneDigitComma), nil, "column Intent 5 is Intent 4 again for every trainee: copied")

	// The last column holds the best of the others.
	l = log25(2607, 5, 51, numbered("PIP%d", 8)...)
	b.Reset()
	b.WriteString(headLine("Sigla", ";", "P%d", 6))
	for _, who := range traineesOf(l) {
		b.WriteString("\n" + who)
		best := math.Inf(1)
		for _, a := range attemptsOf(l, who) {
			b.WriteString(";" + oneDigitComma(a.value))
			best = min(best, a.value)
		}
		b.WriteString(";" + oneDigitComma(best))
	}
	b.WriteString("\n")
	doubt("25-it-last-is-best", "pipette.csv", "--trainee Sigla --measure time", bytes.Clone(b.Bytes()), l,
		"column P6 is the smallest of P1 to P5 in every row: the best time, not an attempt")

	// The target is a row.
	l = log25(2608, 6, 44, numbered("KV%02d", 7)...)
	doubt("25-fi-target-row", "rummut.csv", "--trainee Koodi --measure time", append(wide(headLine("Koodi", ";", "Kerta %d", 6), ";", l, oneDigitComma),
		"Tavoite;60,0;60,0;60,0;60,0;60,0;60,0\n"...), l, "row Tavoite (target) holds 60 six times: not a trainee")

	// Two lists beside each other, in different orders, each with its codes.
	l = log25(2609, 8, 45, numbered("ŠK%d", 7)...)
	book := newBook("Sešit1")
	book.row("A1", "Kód", 1, 2, 3, 4, "Kód", 5, 6, 7, 8)
	order := []int{3, 6, 0, 5, 1, 4, 2}
	for r := range 7 {
		one, two := l[r*8:r*8+8], l[order[r]*8:order[r]*8+8]
		book.row(cellName(1, r+2), one[0].who, one[0].value, one[1].value, one[2].value, one[3].value,
			two[0].who, two[4].value, two[5].value, two[6].value, two[7].value)
	}
	doubt("25-x-cs-two-orders", "lana.xlsx", "--trainee Kód --measure time", book.bytes(), l,
		"columns 5 to 8 have codes of their own (second column Kód) in another order than the first: the rows do not belong together")

	// Each row was sorted.
	l = log25(2610, 7, 50, numbered("BR%02d", 8)...)
	sorted := slices.Clone(l)
	for i := 0; i < len(sorted); i += 7 {
		values := []float64{}
		for _, a := range sorted[i : i+7] {
			values = append(values, a.value)
		}
		slices.Sort(values)
		for n := range 7 {
			sorted[i+n].value = values[6-n]
		}
	}
	doubt("25-nl-rows-sorted", "breien.csv", "--trainee Code --measure time", wide(headLine("Code", ";", "Keer %d", 7), ";", sorted, oneDigitComma), nil,
		"the times of every row fall without one exception: each row was sorted, the attempts are not in their order")

	// The column of times was sorted by itself.
	l = log25(2611, 7, 48, numbered("LT%02d", 7)...)
	values := []float64{}
	for _, a := range l {
		values = append(values, a.value)
	}
	slices.Sort(values)
	alone := slices.Clone(l)
	for i := range alone {
		alone[i].value = values[i]
	}
	doubt("25-de-sorted-alone", "zeiten.csv", "--trainee Kürzel --attempt Versuch --response Sekunden --measure time", lines("Kürzel;Versuch;Sekunden", alone, plain(";", oneDigitComma)), nil,
		"column Sekunden rises through the whole file, whoever made the attempt: it was sorted by itself")

	// The column of attempts was sorted as text, alone.
	l = curve25(2612, 12, 50, 0.035, numbered("KL%d", 5)...)
	asText := []int{1, 10, 11, 12, 2, 3, 4, 5, 6, 7, 8, 9}
	doubt("25-no-attempts-as-text", "klokke.csv", "--trainee kode --attempt forsøk --response sekunder --measure time",
		lines("kode;forsøk;sekunder", l, func(a at) string { return fmt.Sprintf("%s;%d;%s", a.who, asText[a.n-1], oneDigitComma(a.value)) }), l,
		"column forsøk runs 1, 10, 11, 12, 2, ... while the times fall in the order of the rows: the numbers were sorted as text by themselves")
}

// persons25 are codes that are not who they seem.
func persons25() {
	// Digits turned from the fifth attempt on.
	l := log25(2621, 8, 50, "K03", "K05", "K07", "K11", "K12", "K16")
	doubt("25-de-digits-turned", "kennung.csv", "--trainee Kennung --attempt Versuch --response Sekunden --measure time",
		lines("Kennung;Versuch;Sekunden", l, func(a at) string {
			if a.who == "K07" && a.n > 4 {
				return fmt.Sprintf("K70;%d;%s", a.n, oneDigitComma(a.value))
			}
			return plain(";", oneDigitComma)(a)
		}), l, "K07 ends at attempt 4 and K70 starts at attempt 5: one trainee, digits turned")

	// The code was dragged down, and counted on.
	l = log25(2622, 6, 47, numbered("V%02d", 8)...)
	doubt("25-is-dragged-codes", "vefur.csv", "--trainee kóði --attempt tilraun --response sekúndur --measure time",
		lines("kóði;tilraun;sekúndur", l, func(a at) string {
			who := a.who
			if who == "V08" {
				who = fmt.Sprintf("V%02d", 7+a.n)
			}
			return fmt.Sprintf("%s;%d;%s", who, a.n, oneDigitComma(a.value))
		}), l, "V08 to V13 have one attempt each, numbered 1 to 6: the code V08 was dragged down and counted on")

	// Two people with the same initials.
	l = log25(2623, 6, 44, "AF", "CL", "DV", "GT", "HN")
	two := slices.Concat(log25(2624, 6, 40, "MB"), with(log25(2625, 6, 66, "MB"), func(a *at) { a.n += 6 }))
	doubt("25-fr-same-initials", "corde.csv", "--trainee initiales --attempt essai --response secondes --measure time",
		lines("date;initiales;essai;secondes", slices.Concat(l, two), func(a at) string {
			return fmt.Sprintf("%02d/03/2026;%s;%d;%s", 13+2*((a.n-1)%6), a.who, a.n, oneDigitComma(a.value))
		}), nil, "MB has 12 attempts where everybody has 6, two on each day, and starts anew at attempt 7: two people with the same initials")

	// Codes made from codes, for the second half of the course.
	l = log25(2626, 8, 51, numbered("%d", 6)...)
	first := []string{"a41f", "c07e", "93bd", "5e20", "f6a8", "18cc"}
	second := []string{"7d13", "0be9", "e452", "b3f0", "29a7", "64d5"}
	doubt("25-en-coded-twice", "pseudonymised.csv", "--trainee pid --attempt attempt --response seconds --measure time",
		lines("pid,attempt,seconds", l, func(a at) string {
			who := first[number25(a.who)-1]
			if a.n > 4 {
				who = second[number25(a.who)-1]
			}
			return fmt.Sprintf("%s,%d,%.1f", who, a.n, a.value)
		}), nil, "six codes have attempts 1 to 4 alone and six others attempts 5 to 8 alone: the same people coded twice")

	// Trainee and examiner exchanged.
	l = log25(2627, 7, 50, "Oskal", "Teppo", "Vanni", "Ruoho", "Kaisla", "Mirva")
	doubt("25-fi-examiner-as-trainee", "hitsaus.csv", "--trainee oppija --attempt kerta --response sekuntia --measure time",
		lines("oppija;ohjaaja;kerta;sekuntia", l, func(a at) string {
			teacher := []string{"Harjula", "Salmio"}[a.n%2]
			if a.who == "Vanni" && (a.n == 4 || a.n == 5) {
				return fmt.Sprintf("%s;%s;%d;%s", teacher, a.who, a.n, oneDigitComma(a.value))
			}
			return fmt.Sprintf("%s;%s;%d;%s", a.who, teacher, a.n, oneDigitComma(a.value))
		}), l, "Vanni, attempts 4 and 5: trainee and instructor (oppija, ohjaaja) are exchanged, so that the instructors Harjula and Salmio seem trainees")

	// A spreadsheet took the code for a day.
	l = log25(2628, 6, 49, "APR2X", "BEN4", "MAR1", "LUC3", "TOM7", "ZOE5")
	doubt("25-en-code-made-day", "codes.csv", "--trainee code --attempt try --response seconds --measure time",
		lines("code,try,seconds", l, func(a at) string {
			if a.who == "MAR1" && a.n > 3 {
				return fmt.Sprintf("01-Mar,%d,%.1f", a.n, a.value)
			}
			return plain(",", oneDigit)(a)
		}), l, "01-Mar (tries 4 to 6) is the code MAR1 (tries 1 to 3) taken for a day")

	// In both arms.
	l = log25(2629, 8, 47, numbered("TK%02d", 8)...)
	doubt("25-tr-both-arms", "tel.csv", "--trainee kod --attempt deneme --response saniye --measure time --arm grup",
		lines("kod;grup;deneme;saniye", l, func(a at) string {
			group := []string{"video", "usta"}[place25(l, a.who)%2]
			if a.who == "TK04" && a.n > 5 {
				group = "video"
			}
			return fmt.Sprintf("%s;%s;%d;%s", a.who, group, a.n, oneDigitComma(a.value))
		}), l, "TK04 is in arm usta up to attempt 5 and in arm video from attempt 6 on, everybody else in one arm")

	// 14 for 4.
	l = log25(2630, 8, 52, numbered("DX%d", 6)...)
	doubt("25-en-attempt-fourteen", "drill.csv", "--trainee id --attempt attempt --response seconds --measure time",
		replaced25(lines("id,attempt,seconds", l, plain(",", oneDigit)), "\nDX3,4,", "\nDX3,14,"), l, "DX3 has attempt 14 between 3 and 5: attempt 4")
}

// number25 reads a small number.
func number25(s string) int { return int(number(s)) }

// moved25 are values that stand where they do not belong.
func moved25() {
	// The times stand a row too low.
	l := log25(2641, 7, 50, numbered("SV%d", 6)...)
	var b bytes.Buffer
	b.WriteString("soudeur;essai;secondes\n")
	for i, a := range l {
		v := ""
		if i > 0 {
			v = oneDigitComma(l[i-1].value)
		}
		fmt.Fprintf(&b, "%s;%d;%s\n", a.who, a.n, v)
	}
	fmt.Fprintf(&b, ";;%s\n", oneDigitComma(l[len(l)-1].value))
	doubt("25-fr-row-too-low", "décalé.csv", "--trainee soudeur --attempt essai --response secondes --measure time", bytes.Clone(b.Bytes()), l,
		"column secondes stands a row too low: the first is blank, the last has neither code nor attempt")

	// Two lanes exchanged on one day.
	l = curve25(2642, 8, 50, 0.05, numbered("CR%02d", 6)...)
	l = with(l, func(a *at) {
		switch a.who {
		case "CR03":
			a.value = math.Round(a.value*6.3) / 10
		case "CR04":
			a.value = math.Round(a.value*15.1) / 10
		}
	})
	wrong := exchanged25(exchanged25(l, "CR03", "CR04", 5), "CR03", "CR04", 6)
	doubt("25-es-lanes-exchanged", "carriles.csv", "--trainee dorsal --attempt serie --response segundos --measure time",
		lines("dorsal;serie;fecha;segundos", wrong, func(a at) string {
			return fmt.Sprintf("%s;%d;2026-04-%02d;%s", a.who, a.n, 13+(a.n-1)/2, oneDigitComma(a.value))
		}), l, "CR03 and CR04, series 5 and 6 (15 April): the slow one is suddenly quick and the quick one slow, lanes exchanged")

	// Errors in the place of seconds.
	l = log25(2643, 6, 49, numbered("FG%02d", 8)...)
	doubt("25-hu-errors-exchanged", "fogaszat.csv", "--trainee hallgató --attempt próba --response másodperc --measure time",
		lines("hallgató;próba;másodperc;hiba", l, func(a at) string {
			if a.who == "FG03" && a.n == 4 || a.who == "FG06" && (a.n == 2 || a.n == 5) {
				return fmt.Sprintf("%s;%d;%d;%s", a.who, a.n, 1+errors21(a), oneDigitComma(a.value))
			}
			return fmt.Sprintf("%s;%d;%s;%d", a.who, a.n, oneDigitComma(a.value), errors21(a))
		}), l, "FG03 attempt 4, FG06 attempts 2 and 5: errors stand in the place of seconds and seconds under errors")

	// Three rows were pasted from a list that has the newest first.
	l = curve25(2644, 7, 50, 0.05, numbered("RK%d", 8)...)
	turned := slices.Clone(l)
	for _, who := range []string{"RK6", "RK7", "RK8"} {
		for n := 1; n <= 7; n++ {
			turned[find21(turned, who, n)].value = l[find21(l, who, 8-n)].value
		}
	}
	doubt("25-et-three-turned", "sõlmed.csv", "--trainee kood --measure time", wide(headLine("kood", ";", "katse %d", 7), ";", turned, oneDigitComma), l,
		"the times of RK6, RK7 and RK8 rise from attempt to attempt while all others fall: these rows have the newest attempt first")

	// The year of last year, in January.
	l = log25(2645, 7, 47, numbered("PT%02d", 6)...)
	days := []string{"2025-12-03", "2025-12-10", "2025-12-17", "2025-01-07", "2025-01-14", "2026-01-21", "2026-01-28"}
	doubt("25-pt-last-year", "vidro.csv", "--trainee aprendiz --date dia --response segundos --measure time",
		lines("dia,aprendiz,segundos", l, func(a at) string { return fmt.Sprintf("%s,%s,%v", days[a.n-1], a.who, a.value) }), l,
		"2025-01-07 and 2025-01-14 stand between 2025-12-17 and 2026-01-21: January 2026 with the old year")

	// Some days became numbers.
	l = log25(2646, 6, 50, numbered("MN%d", 6)...)
	doubt("25-sv-day-numbers", "båge.csv", "--trainee skytt --date datum --response sekunder --measure time",
		lines("datum;skytt;sekunder", l, func(a at) string {
			day := date(time.March, 2+3*a.n)
			text := day.Format("2006-01-02")
			if a.who == "MN3" || a.who == "MN4" && a.n > 2 {
				text = fmt.Sprint(int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24))
			}
			return fmt.Sprintf("%s;%s;%s", text, a.who, oneDigitComma(a.value))
		}), l, "the dates of MN3, and of MN4 from the third on, are day numbers of a spreadsheet (46086 is 2026-03-05)")

	// Two gates answered twice.
	l = log25(2647, 7, 46, numbered("TG%02d", 6)...)
	b.Reset()
	b.WriteString("competitor,run,net_s\n")
	shift := map[string]int{}
	for _, a := range l {
		fmt.Fprintf(&b, "%s,%d,%.2f\n", a.who, a.n+shift[a.who], a.value)
		if a.who == "TG02" && a.n == 3 || a.who == "TG05" && (a.n == 1 || a.n == 6) {
			shift[a.who]++
			fmt.Fprintf(&b, "%s,%d,%.2f\n", a.who, a.n+shift[a.who], 0.4+a.value/180)
		}
	}
	doubt("25-en-gate-twice", "gates.csv", "--trainee competitor --attempt run --response net_s --measure time", bytes.Clone(b.Bytes()), nil,
		"TG02 run 4, TG05 runs 2 and 8: times of about a second among times of a minute, the gate was set off twice")
}

// units25 are values in another unit, cut, rounded, or not values at all.
func units25() {
	// The decimal point was lost where there was one.
	l := log25(2661, 7, 52, numbered("ZN%d", 6)...)
	l = but21(but21(but21(but21(l, "ZN2", 4, 93, "done"), "ZN3", 2, 117, "done"), "ZN5", 6, 79, "done"), "ZN6", 3, 104, "done")
	doubt("25-pl-point-lost", "znaki.csv", "--trainee kod --attempt próba --response czas_s --measure time",
		lines("kod;próba;czas_s", l, plain(";", func(v float64) string { return strings.ReplaceAll(point(v), ".", "") })), l,
		"column czas_s: a few values such as 68, 93, 117 and 104 among 700 to 2100: the decimal point was lost where there was one, most times are tenfold")

	// From one day on in minutes.
	l = with(log25(2662, 8, 50, numbered("WG%02d", 6)...), func(a *at) {
		if a.n > 4 {
			a.value = math.Round(math.Round(a.value/0.6)*6) / 10
		}
	})
	doubt("25-en-minutes-from-a-day", "weld.csv", "--trainee welder --attempt bead --response time --measure time",
		lines("date,welder,bead,time", l, func(a at) string {
			v := oneDigit(a.value)
			if a.n > 4 {
				v = fixed(2)(a.value / 60)
			}
			return fmt.Sprintf("2026-05-%02d,%s,%d,%s", 4+2*a.n, a.who, a.n, v)
		}), l, "from bead 5 on (14 May) the times are 1.0 to 1.7, minutes after seconds")

	// The hundreds were cut off by a narrow field.
	l = log25(2663, 7, 58, numbered("KD%d", 6)...)
	doubt("25-cs-hundreds-cut", "vypis.txt", "--trainee KOD --attempt POKUS --response CAS --measure time",
		lines("KOD   POKUS  CAS", l, func(a at) string {
			text := fmt.Sprintf("%05.1f", a.value)
			return fmt.Sprintf("%-5s %4d   %s", a.who, a.n, text[1:])
		}), l, "column CAS has room for four characters: the hundreds are cut off, as 00.6 and 01.7 show")

	// Seconds alone, the minutes stand beside.
	l = whole25(log25(2664, 6, 60, numbered("NK%02d", 7)...))
	doubt("25-lv-minutes-beside", "mezgli.csv", "--trainee kods --attempt reize --response sek --measure time --limit 300",
		lines("kods,reize,min,sek", l, func(a at) string { return fmt.Sprintf("%s,%d,%d,%d", a.who, a.n, int(a.value)/60, int(a.value)%60) }), below25(l, 300),
		"column min stands beside sek: the time is both together, sek alone is never above 59")

	// A clerk typed a point for a colon.
	l = whole25(log25(2665, 6, 62, numbered("HV%d", 7)...))
	doubt("25-nl-point-for-colon", "houw.csv", "--trainee Naam --measure time --limit 300", func() []byte {
		var b bytes.Buffer
		b.WriteString(headLine("Naam", ";", "Poging %d", 6))
		for _, a := range l {
			if a.n == 1 {
				b.WriteString("\n" + a.who)
			}
			text := minutesCut(a.value)
			if a.who == "HV4" {
				text = strings.Replace(text, ":", ".", 1)
			}
			b.WriteString(";" + text)
		}
		b.WriteString("\n")
		return b.Bytes()
	}(), below25(l, 300), "the row of HV4 has a point where all others have a colon: 1.43 is 1 min 43 s")

	// What the form had in it at the start.
	l = log25(2666, 6, 50, numbered("fm%02d", 8)...)
	doubt("25-en-default-left", "form.csv", "--trainee code --attempt go --response seconds --measure time",
		lines("code,go,seconds", l, func(a at) string {
			if (place25(l, a.who)*6+a.n)%5 == 3 {
				return fmt.Sprintf("%s,%d,45", a.who, a.n)
			}
			return plain(",", oneDigit)(a)
		}), nil, "45 stands in every fifth row, also in first attempts, among times with tenths: the form's default left in")

	// The columns were too narrow.
	l = log25(2667, 6, 54, numbered("SG%d", 7)...)
	doubt("25-de-too-narrow", "schild.csv", "--trainee Kürzel --measure time", wide(headLine("Kürzel", ";", "V%d", 6), ";", l, func(v float64) string {
		if v >= 100 {
			return "####"
		}
		return oneDigitComma(v)
	}), nil, "#### stands where the times are long (100 and more): the column was too narrow, slow attempts are lost")

	// One examiner reads the clock in steps of ten.
	l = log25(2668, 8, 47, numbered("BJ%02d", 6)...)
	clerk := func(a at) string { return []string{"Ossel", "Finke", "Wendt"}[(place25(l, a.who)+a.n)%3] }
	l = with(l, func(a *at) {
		if clerk(*a) == "Ossel" {
			a.value = math.Round(a.value/10) * 10
		}
	})
	doubt("25-de-steps-of-ten", "uhr.csv", "--trainee Kürzel --attempt Versuch --response Sekunden --measure time",
		lines("Kürzel;Versuch;Sekunden;Uhr", l, func(a at) string { return plain(";", oneDigitComma)(a) + ";" + clerk(a) }), l,
		"all times taken by Ossel are whole tens, those of Finke and Wendt have tenths: rounded by one hand")
}

// notes25 are tables in which a remark, a title or a mark says that not all is as it stands.
func notes25() {
	// Remarks.
	l := log25(2681, 7, 48, numbered("LB%d", 6)...)
	doubt("25-de-remarks", "lichtbogen.csv", "--trainee Kürzel --attempt Naht --response Sekunden --measure time",
		lines("Kürzel;Naht;Sekunden;Bemerkung", l, func(a at) string {
			note := ""
			switch fmt.Sprint(a.who, a.n) {
			case "LB22":
				note = "Uhr zu spät gestartet, zählt nicht"
			case "LB45":
				note = "Ausbilder hat geholfen"
			case "LB61":
				note = "nach halber Naht abgebrochen"
			}
			return plain(";", oneDigitComma)(a) + ";" + note
		}), nil, "column Bemerkung: LB2 Naht 2 does not count, LB4 Naht 5 was helped, LB6 Naht 1 was broken off")

	// Stars, explained below.
	l = log25(2682, 6, 46, numbered("PN%02d", 7)...)
	doubt("25-es-stars", "pinzas.csv", "--trainee Clave --measure time", func() []byte {
		var b bytes.Buffer
		b.WriteString(headLine("Clave", ";", "Intento %d", 6))
		for _, a := range l {
			if a.n == 1 {
				b.WriteString("\n" + a.who)
			}
			b.WriteString(";" + oneDigitComma(a.value))
			if s := fmt.Sprint(a.who, a.n); s == "PN022" || s == "PN051" || s == "PN053" {
				b.WriteString("*")
			}
		}
		b.WriteString("\n\n* con ayuda del monitor, no cuenta;;;;;;\n")
		return b.Bytes()
	}(), nil, "times with * (PN02 Intento 2, PN05 Intentos 1 and 3) were made with help and do not count, as the line below says")

	// A comment at a cell.
	l = log25(2683, 7, 50, numbered("GW%d", 7)...)
	b := newBook("Sheet1")
	b.row("A1", headCells("Blower", "Piece %d", 7)...)
	b.wide(2, l, value)
	must(b.AddComment(b.sheet, excelize.Comment{Cell: "E4", Author: "desk", Paragraph: []excelize.RichTextRun{{Text: "stopwatch broke, guessed from the wall clock"}}}))
	must(b.AddComment(b.sheet, excelize.Comment{Cell: "C7", Author: "desk", Paragraph: []excelize.RichTextRun{{Text: "piece cracked, do not count"}}}))
	doubt("25-x-en-cell-comments", "glass.xlsx", "--trainee Blower --measure time", b.bytes(), nil,
		"comments at cells E4 (GW3, Piece 4: guessed) and C7 (GW6, Piece 2: do not count)")

	// A note says which two are exchanged.
	l = log25(2684, 7, 52, numbered("RE%02d", 7)...)
	wrong := exchanged25(l, "RE03", "RE04", 6)
	doubt("25-da-note-exchanged", "reb.csv", "--trainee Kode --measure time", append(wide(headLine("Kode", ";", "Prøve %d", 7), ";", wrong, oneDigitComma),
		"\nNB: Prøve 6 er byttet om for RE03 og RE04\n"...), l, "the line below the table says that Prøve 6 of RE03 and RE04 is exchanged")

	// The title knows another limit.
	l = with(log25(2685, 6, 74, numbered("ΣΚ%d", 8)...), func(a *at) {
		if a.value >= 180 {
			a.value = 180
		}
	})
	if n := len(only(l, func(a at) bool { return a.value == 180 })); n < 3 {
		panic(n)
	}
	doubt("25-el-limit-in-title", "κόμποι.csv", "--trainee Κωδικός --attempt Προσπάθεια --response Δευτερόλεπτα --measure time --limit 300",
		append([]byte("Κόμποι, όριο χρόνου 180 δευτερόλεπτα;;\n"), lines("Κωδικός;Προσπάθεια;Δευτερόλεπτα", l, plain(";", oneDigitComma))...), nil,
		"the title says that the limit is 180 s, several times are exactly 180 and none above, although the limit given is 300: stopped at 180")
}

func ratings25() {
	same := func(_ int, s string) string { return s }
	none := func([][4]string) string { return "" }
	one := []string{""}

	m := marks21(2701, numbered("pieza%02d", 12), []string{"Olmo", "Sauce", "Tejo"}, one)
	read("25-g-es-wide", "jueces.csv", "--wide --subject pieza", rated21("pieza;Olmo;Sauce;Tejo", ";", m, same, none), nil).Ratings = m

	m = marks21(2702, numbered("Naht %d", 10), []string{"Prüfer 1", "Prüfer 2"}, []string{"Lage", "Form", "Poren"})
	read("25-g-de-items", "pruefbogen.csv", "--subject Probe --rater Prüfer --item Merkmal --score Note --scale ordinal", ratingLines("Probe;Prüfer;Merkmal;Note", ";", m), nil).Ratings = m

	m = marks21(2703, numbered("skylt%d", 11), []string{"Gran", "Tall", "Björk", "Lönn"}, one)
	for i := range m {
		m[i][3] = fmt.Sprint(2*int(number(m[i][3])) - i%2)
	}
	read("25-g-sv-long", "bedömning.csv", "--subject skylt --rater domare --score poäng --scale interval", ratingLines("skylt\tdomare\tpoäng", "\t", m), nil).Ratings = m

	m = marks21(2704, numbered("Vase %d", 10), []string{"Master A", "Master B", "Master C"}, one)
	b := newBook("Panel")
	b.row("A1", "Piece", "Master A", "Master B", "Master C")
	for i, r := range m {
		b.put(1, i/3+2, r[0])
		b.put(i%3+2, i/3+2, number25(r[3]))
	}
	read("25-g-x-wide", "panel.xlsx", "--wide --subject Piece --scale ordinal", b.bytes(), nil).Ratings = m

	m = marks21(2705, numbered("nœud%02d", 14), []string{"Aubier", "Cerne"}, one)
	for i := range m {
		m[i][3] = map[bool]string{true: "tient", false: "glisse"}[m[i][3] > "2"]
	}
	read("25-g-fr-holds", "noeuds.csv", "--wide --subject nœud --scale nominal", rated21("nœud,Aubier,Cerne", ",", m, same, none), nil).Ratings = m

	m = marks21(2706, numbered("rec%02d", 9), []string{"jury1", "jury2", "jury3"}, one)
	for i := range m {
		m[i][3] = fmt.Sprint(14*int(number(m[i][3])) + 11 + (i*7)%13)
	}
	read("25-g-en-hundred", "rhythm.csv", "--subject recording --rater juror --score percent --scale interval", ratingLines("recording,juror,percent", ",", m), nil).Ratings = m

	// Each film is seen by two of three, as planned.
	m = marks21(2707, numbered("film%02d", 12), []string{"Ilves", "Karhu", "Susi"}, one)
	i := -1
	m = without(m, func([4]string) bool { i++; return i%3 == i/3%3 })
	read("25-g-fi-two-of-three", "arviot.csv", "--subject filmi --rater arvioija --score arvosana", ratingLines("filmi;arvioija;arvosana", ";", m), nil).Ratings = m

	m = marks21(2708, numbered("placa%d", 10), []string{"Rui", "Zélia", "Otto"}, one)
	var text strings.Builder
	text.WriteString("placa;avaliador;nota\n")
	for i := range m {
		if i%4 == 1 && m[i][3] != "5" {
			m[i][3] += ".5"
		}
		fmt.Fprintf(&text, "%s;%s;%s\n", m[i][0], m[i][1], strings.ReplaceAll(m[i][3], ".", ","))
	}
	read("25-g-pt-halves", "notas.csv", "--subject placa --rater avaliador --score nota --scale interval", []byte(text.String()), nil).Ratings = m
}

func ratingDoubts25() {
	none := func([][4]string) string { return "" }
	one := []string{""}

	// One examiner has the scale the other way round.
	m := spread25(marks21(2721, numbered("joint%02d", 14), []string{"Marsh", "Fenn", "Holt"}, one))
	doubt("25-g-en-scale-turned", "joints.csv", "--wide --subject joint", rated21("joint,Marsh,Fenn,Holt", ",", m, func(i int, s string) string {
		if i%3 == 2 {
			return fmt.Sprint(6 - number25(s))
		}
		return s
	}, none), nil, "column Holt goes against Marsh and Fenn: high where they are low, the scale of 1 to 5 turned round").Ratings = m

	// One examiner gives percent.
	m = marks21(2722, numbered("lödning%d", 10), []string{"Alm", "Ek", "Rönn"}, one)
	doubt("25-g-sv-one-in-percent", "prov.csv", "--wide --subject prov", rated21("prov;Alm;Ek;Rönn", ";", m, func(i int, s string) string {
		if i%3 == 1 {
			return fmt.Sprint(20*number25(s) - 4*(i%4))
		}
		return s
	}, none), nil, "column Ek holds 40 to 80 beside marks of 1 to 5: another scale")

	// One examiner's column stands a row too low.
	m = spread25(marks21(2723, numbered("Teil %d", 11), []string{"Esche", "Ulme", "Linde"}, one))
	var b bytes.Buffer
	b.WriteString("Teil;Esche;Ulme;Linde\n")
	last := ""
	for i := 0; i < len(m); i += 3 {
		fmt.Fprintf(&b, "%s;%s;%s;%s\n", m[i][0], m[i][3], m[i+1][3], last)
		last = m[i+2][3]
	}
	fmt.Fprintf(&b, ";;;%s\n", last)
	doubt("25-g-de-row-too-low", "teile.csv", "--wide --subject Teil", bytes.Clone(b.Bytes()), nil,
		"column Linde stands a row too low: blank beside Teil 1, and a mark without a subject below the last").Ratings = m

	// A key pressed twice.
	m = marks21(2724, numbered("clip%d", 10), []string{"Nuno", "Vera", "Gil"}, one)
	m[13][3] = "4"
	doubt("25-g-pt-key-twice", "clips.csv", "--wide --subject clip", rated21("clip,Nuno,Vera,Gil", ",", m, func(i int, s string) string {
		if i == 13 {
			return "44"
		}
		return s
	}, none), nil, "clip5, Vera: 44 among marks of 1 to 5, a key pressed twice").Ratings = m

	// A nought where nothing was seen.
	m = marks21(2725, numbered("Poging %d", 12), []string{"Beuk", "Wilg", "Els"}, one)
	unseen := func(i int) bool { return i == 7 || i == 19 || i == 29 }
	doubt("25-g-nl-nought", "cijfers.csv", "--wide --subject Poging", append([]byte("Cijfers 1 tot 5, 0 = niet gezien;;;\n"), rated21("Poging;Beuk;Wilg;Els", ";", m, func(i int, s string) string {
		if unseen(i) {
			return "0"
		}
		return s
	}, none)...), nil, "0 means not seen, as the title says: not a mark").Ratings = func() [][4]string {
		i := -1
		return without(m, func([4]string) bool { i++; return unseen(i) })
	}()

	// One column is another again.
	m = marks21(2726, numbered("Rundă %d", 13), []string{"Plop", "Tei", "Brad"}, one)
	doubt("25-g-ro-column-copied", "juriu.csv", "--wide --subject Rundă", rated21("Rundă,Plop,Tei,Brad", ",", m, func(i int, s string) string {
		if i%3 == 2 {
			return m[i-1][3]
		}
		return s
	}, none), nil, "columns Tei and Brad are the same in all 13 rows: copied")

	// One examiner, three spellings.
	m = marks21(2727, numbered("net%d", 9), []string{"J. Alder", "M. Rowan"}, one)
	doubt("25-g-en-three-spellings", "nets.csv", "--subject net --rater examiner --score mark", lines("net,examiner,mark", m, func(r [4]string) string {
		who := r[1]
		if who == "J. Alder" {
			who = []string{"J. Alder", "J Alder", "j. alder"}[number25(r[0][3:])%3]
		}
		return r[0] + "," + who + "," + r[3]
	}), nil, "J. Alder, J Alder and j. alder are one examiner").Ratings = m

	// 3.5 became the third of May.
	m = marks21(2728, numbered("Schild %d", 10), []string{"Kiefer", "Tanne"}, one)
	for i := range m {
		if i%3 == 0 && m[i][3] != "5" {
			m[i][3] += ".5"
		}
	}
	m[8][3], m[15][3] = "3.5", "2.5"
	var text strings.Builder
	text.WriteString("Schild;Prüfer;Note\n")
	for i, r := range m {
		note := strings.ReplaceAll(r[3], ".", ",")
		if i == 8 {
			note = "03. Mai"
		}
		if i == 15 {
			note = "02. Mai"
		}
		fmt.Fprintf(&text, "%s;%s;%s\n", r[0], r[1], note)
	}
	doubt("25-g-de-mark-made-day", "schilder.csv", "--subject Schild --rater Prüfer --score Note --scale interval", []byte(text.String()), nil,
		"03. Mai (Schild 5, Kiefer) and 02. Mai (Schild 8, Tanne) were the marks 3.5 and 2.5").Ratings = m

	// Piece and examiner exchanged in two rows.
	m = marks21(2729, numbered("W%02d", 9), []string{"Oriol", "Blanca", "Pau"}, one)
	n := 0
	doubt("25-g-ca-exchanged", "peces.csv", "--subject peça --rater jutge --score nota", lines("peça;jutge;nota", m, func(r [4]string) string {
		n++
		if n == 11 || n == 20 {
			return r[1] + ";" + r[0] + ";" + r[3]
		}
		return r[0] + ";" + r[1] + ";" + r[3]
	}), nil, "rows 12 and 21: piece and examiner are exchanged (Blanca as a piece, W04 and W07 as examiners)").Ratings = m
}

// spread25 is ratings of which every subject is well above or below the middle, for all examiners alike.
func spread25(m [][4]string) [][4]string {
	out := slices.Clone(m)
	for i := range out {
		s := number25(out[i][0][strings.LastIndexAny(out[i][0], "abcdefghijklmnopqrstuvwxyz ")+1:])
		level := []int{1, 4, 2, 5, 5, 1, 3}[s%7]
		if i%3 == 2 && level > 1 && s%4 == 0 || i%3 == 1 && level > 2 && s%5 == 1 {
			level--
		}
		out[i][3] = fmt.Sprint(level)
	}
	return out
}

const task25 = "tasks: [{name: bench, measure: time, column: seconds, limit: 300}]\n"

func studies25() {
	head := "trainee,attempt,seconds"

	// Three labs: commas, semicolons, a workbook.
	a, b, c := log25(2741, 6, 50, numbered("GH%d", 5)...), log25(2742, 6, 46, numbered("MV%d", 5)...), log25(2743, 6, 54, numbered("TS%d", 4)...)
	book := newBook("Sheet1")
	book.log([]any{"trainee", "attempt", "seconds"}, c, longRow)
	study21(read("25-s-three-labs", ".", "", nil, slices.Concat(a, b, c)), task25+"attempts:\n  files: [gorse.csv, marvel.csv, tarn.xlsx]\n",
		map[string][]byte{"gorse.csv": lines(head, a, plain(",", oneDigit)), "marvel.csv": crlf(lines("trainee;attempt;seconds", b, plain(";", oneDigitComma))), "tarn.xlsx": book.bytes()})

	// A file a session, four of them.
	l := log25(2744, 8, 48, numbered("AK%02d", 6)...)
	files := map[string][]byte{}
	for s := range 4 {
		part := only(l, func(x at) bool { return (x.n-1)/2 == s })
		files[fmt.Sprintf("day%d.tsv", s+1)] = lines("trainee\tattempt\tseconds", with(part, func(x *at) { x.n = (x.n-1)%2 + 1 }), plain("\t", oneDigit))
	}
	study21(read("25-s-four-days", ".", "", nil, l), task25+"attempts:\n  files: [day1.tsv, day2.tsv, day3.tsv, day4.tsv]\n  files_are: session\n", files)

	// Trainees and masters.
	l = log25(2745, 8, 52, numbered("gb%02d", 7)...)
	experts := experts25(2746, 4, 37, "Mira", "Joss", "Tarn")
	t := read("25-s-masters", ".", "", nil, l)
	t.Experts = experts
	study21(t, task25+"attempts: {file: log.csv}\nexperts: {file: masters.csv}\n",
		map[string][]byte{"log.csv": lines(head, l, plain(",", oneDigit)), "masters.csv": lines(head, experts, plain(",", oneDigit))})

	l = log25(2747, 9, 47, numbered("TY%d", 6)...)
	experts = experts25(2748, 3, 33, "P1", "P2", "P3", "P4")
	t = read("25-s-titled", ".", "", nil, l)
	t.Experts = experts
	study(t, "experts:\n  file: experts.csv\n", map[string][]byte{"experts.csv": lines("trainee;attempt;seconds", experts, plain(";", oneDigitComma))})

	// A lab of three in minutes, and the study file says so.
	a, b = with(log25(2749, 6, 50, numbered("D%d", 5)...), func(x *at) { x.value = math.Round(math.Round(x.value/0.6)*6) / 10 }), log25(2750, 6, 52, numbered("E%d", 5)...)
	c = log25(2751, 6, 49, numbered("F%d", 4)...)
	study21(read("25-s-minutes-said", ".", "", nil, slices.Concat(a, b, c)), task25+"attempts:\n  files: [dune.csv, elm.csv, ford.csv]\n  per_file: {dune.csv: {times: minutes}}\n",
		map[string][]byte{"dune.csv": lines("trainee;attempt;seconds", a, plain(";", func(v float64) string { return fixedComma(2)(v / 60) })),
			"elm.csv": lines(head, b, plain(",", oneDigit)), "ford.csv": lines(head, c, plain(",", oneDigit))})

	// One lab's spreadsheet saves as UTF-16.
	a, b = log25(2752, 7, 45, numbered("Øst%d", 5)...), log25(2753, 7, 51, numbered("Vest%d", 5)...)
	study21(read("25-s-two-encodings", ".", "", nil, slices.Concat(a, b)), task25+"attempts:\n  files: [ost.txt, vest.csv]\n",
		map[string][]byte{"ost.txt": inUTF16(binary.LittleEndian, true, crlf(lines("trainee\tattempt\tseconds", a, plain("\t", oneDigitComma)))), "vest.csv": lines(head, b, plain(",", oneDigit))})
}

func studyDoubts25() {
	head := "trainee,attempt,seconds"
	row := plain(",", oneDigit)

	// The two files were exchanged.
	l := log25(2761, 8, 52, numbered("T%02d", 6)...)
	experts := experts25(2762, 4, 34, "Expert1", "Expert2", "Expert3")
	t := doubt("25-s-files-exchanged", ".", "", nil, l, "log.csv holds Expert1 to Expert3, quick from the first attempt on, experts.csv holds T01 to T06, who learn: the files are exchanged")
	t.Experts = experts
	study21(t, task25+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{"log.csv": lines(head, experts, row), "experts.csv": lines(head, l, row)})

	// The second day is the first again.
	l = log25(2763, 4, 50, numbered("RS%02d", 7)...)
	day3 := log25(2764, 4, 44, numbered("RS%02d", 7)...)
	study21(doubt("25-s-day-again", ".", "", nil, nil, "day2.csv is day1.csv again, all times the same"),
		task25+"attempts:\n  files: [day1.csv, day2.csv, day3.csv]\n  files_are: session\n",
		map[string][]byte{"day1.csv": lines(head, l, row), "day2.csv": lines("trainee;attempt;seconds", l, plain(";", oneDigitComma)), "day3.csv": lines(head, with(day3, func(a *at) { a.value = math.Round(a.value*8) / 10 }), row)})

	// One trainee's rows are in both labs' files.
	a, b := log25(2765, 6, 48, numbered("HG%02d", 6)...), log25(2766, 6, 50, numbered("BR%02d", 5)...)
	study21(doubt("25-s-in-both", ".", "", nil, slices.Concat(a, b), "HG04 is in hedge.csv and again in brook.csv, with the same six times"),
		task25+"attempts:\n  files: [hedge.csv, brook.csv]\n", map[string][]byte{"hedge.csv": lines(head, a, row), "brook.csv": lines(head, slices.Concat(b, attemptsOf(a, "HG04")), row)})

	// One lab's times are minutes, and nobody says so.
	a, b = log25(2767, 7, 50, numbered("NW%d", 6)...), with(log25(2768, 7, 52, numbered("SE%d", 6)...), func(x *at) { x.value = math.Round(math.Round(x.value/0.6)*6) / 10 })
	study21(doubt("25-s-minutes-unsaid", ".", "", nil, slices.Concat(a, b), "southeast.csv: the times are 1.1 to 3.0, minutes beside the seconds of northwest.csv"),
		task25+"attempts:\n  files: [northwest.csv, southeast.csv]\n", map[string][]byte{"northwest.csv": lines(head, a, row), "southeast.csv": lines(head, b, plain(",", func(v float64) string { return fixed(2)(v / 60) }))})

	// The dates say that the second file came first.
	l = curve25(2769, 8, 49, 0.05, numbered("IV%d", 6)...)
	dated := func(block int) []byte {
		part := with(only(l, func(x at) bool { return (x.n-1)/4 == block }), func(x *at) { x.n = (x.n-1)%4 + 1 })
		return lines("date,trainee,attempt,seconds", part, func(a at) string {
			return fmt.Sprintf("2026-03-%02d,%s", 3+14*block+a.n, row(a))
		})
	}
	study21(doubt("25-s-order-of-files", ".", "", nil, l, "block1.csv is of 18 to 21 March, block2.csv of 4 to 7 March: the files are in the wrong order"),
		task25+"attempts:\n  files: [block1.csv, block2.csv]\n  files_are: session\n", map[string][]byte{"block1.csv": dated(1), "block2.csv": dated(0)})

	// A trainee among the experts.
	l = log25(2770, 7, 51, numbered("CW%02d", 7)...)
	experts = slices.Concat(experts25(2771, 3, 36, "X1", "X2", "X3"), with(attemptsOf(l, "CW05")[:3], func(*at) {}))
	t = doubt("25-s-trainee-among-experts", ".", "", nil, l, "CW05 is in experts.csv with the first three times of the log: a trainee, not an expert")
	t.Experts = experts[:9]
	study21(t, task25+"attempts: {file: log.csv}\nexperts: {file: experts.csv}\n", map[string][]byte{"log.csv": lines(head, l, row), "experts.csv": lines(head, experts, row)})

	// One lab stopped at 150 s.
	a = log25(2772, 6, 52, numbered("MO%d", 6)...)
	b = with(log25(2773, 6, 62, numbered("PO%d", 7)...), func(x *at) { x.value = min(x.value, 150) })
	if n := len(only(b, func(x at) bool { return x.value == 150 })); n < 4 {
		panic(n)
	}
	study21(doubt("25-s-own-limit", ".", "", nil, nil, "pond.csv: several times are exactly 150.0 and none above, although the limit is 300: stopped at 150 there"),
		task25+"attempts:\n  files: [moss.csv, pond.csv]\n", map[string][]byte{"moss.csv": lines(head, a, row), "pond.csv": lines(head, b, row)})

	// P1 is P01.
	l = log25(2774, 8, 47, numbered("P%02d", 7)...)
	first, second := only(l, func(x at) bool { return x.n <= 4 }), with(only(l, func(x at) bool { return x.n > 4 }), func(x *at) { x.who = "P" + x.who[2:] })
	study21(doubt("25-s-nought-lost", ".", "", nil, l, "P01 to P07 (spring.csv, attempts 1 to 4) are P1 to P7 (summer.csv, attempts 5 to 8)"),
		task25+"attempts:\n  files: [spring.csv, summer.csv]\n", map[string][]byte{"spring.csv": lines(head, first, row), "summer.csv": lines(head, second, row)})
}

func refusals25() {
	flags := "--trainee id --attempt attempt --response seconds --measure time"
	l := log25(2801, 6, 50, numbered("RX%d", 6)...)

	// Statements of a database in the place of its table.
	refuse("25-r-statements", "dump.csv", flags, lines("-- dump of the lab's database\nCREATE TABLE attempts (id TEXT, attempt INTEGER, seconds REAL);", l, func(a at) string {
		return fmt.Sprintf("INSERT INTO attempts VALUES ('%s', %d, %.1f);", a.who, a.n, a.value)
	}), "statements of a database, not a table")

	// A photograph of the paper sheet.
	photo := []byte{0xFF, 0xD8, 0xFF, 0xE0, 0, 16, 'J', 'F', 'I', 'F', 0, 1, 1, 0, 0, 1, 0, 1, 0, 0, 0xFF, 0xDB, 0, 67, 0}
	r := rand.New(rand.NewPCG(25, 25))
	for range 3000 {
		photo = append(photo, byte(r.Uint32()))
	}
	refuse("25-r-photograph", "sheet.csv", flags, append(photo, 0xFF, 0xD9), "a photograph (JPEG) with the name of a CSV")

	// The head alone.
	refuse("25-r-head-alone", "export.csv", flags, []byte("id,attempt,seconds\n"), "a head without any row")

	// A text with marks of its own.
	refuse("25-r-rich-text", "typed.csv", flags, slices.Concat([]byte(`{\rtf1\ansi\deff0{\fonttbl{\f0 Serif;}}\f0\fs24`+"\n"),
		lines(`id\tab attempt\tab seconds\par`, l, func(a at) string { return fmt.Sprintf(`%s\tab %d\tab %.1f\par`, a.who, a.n, a.value) }), []byte("}\n")),
		"a text document (RTF) with the name of a CSV")

	// The study file names a table that is not there.
	t := refuse("25-s-file-missing", ".", "", nil, "the study file names trials.csv, the folder holds trial.csv")
	study21(t, task25+"attempts: {file: trials.csv}\n", map[string][]byte{"trial.csv": lines("trainee,attempt,seconds", l, plain(",", oneDigit))})
}
