package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"
)

// twentyfirst makes the set of a multi-centre study: partners in many countries, each with their own habits.
func twentyfirst() {
	text21()
	more21()
	times21()
	outcomes21()
	textDoubts21()
	identityDoubts21()
	typed21("21-in-nine-nine-nine", "21-no-early-timeout", "21-se-two-tasks", "21-hr-retest", "21-hr-status-unnamed", "21-de-countdown",
		"21-mt-clock-ran-on", "21-nz-stopped-late", "21-be-two-spellings", "21-ro-arm-spelling", "21-cz-entered-twice")
	books21()
	heads21()
	plainBooks21()
	offices21()
	bookDoubts21()
	bookAccidents21()
	damage21()
	parquets21()
	refusals21()
	ratings21()
	studies21()
}

// log21 makes up times that fall with practice, with a scatter of about a tenth.
func log21(seed uint64, n int, codes ...string) []at {
	r := rand.New(rand.NewPCG(seed, 21))
	var out []at
	for _, who := range codes {
		start, plateau := 125+95*r.Float64(), 55+35*r.Float64()
		for i := 1; i <= n; i++ {
			noise := math.Exp(0.1 * max(-1.7, min(1.7, r.NormFloat64())))
			v := (plateau + (start-plateau)*math.Pow(float64(i), -0.6)) * noise
			out = append(out, at{who, i, math.Round(v*10) / 10, "done"})
		}
	}
	return out
}

// find21 is the place of an attempt in a log.
func find21(l []at, who string, n int) int {
	i := slices.IndexFunc(l, func(a at) bool { return a.who == who && a.n == n })
	if i < 0 {
		panic(fmt.Sprint("no attempt ", who, " ", n))
	}
	return i
}

// but21 is a log in which one attempt is another.
func but21(l []at, who string, n int, value float64, outcome string) []at {
	out := slices.Clone(l)
	i := find21(l, who, n)
	out[i].value, out[i].outcome = value, outcome
	return out
}

// errors21 is a small count of errors that goes with an attempt.
func errors21(a at) int { return (int(a.value*10)*7 + a.n) % 4 }

func text21() {
	// Malmö saves a wide sheet from a Swedish Excel as CSV: Windows-1252, semicolons.
	l := log21(102, 7, numbered("M-%d", 9)...)
	read("21-se-wide-cp1252", "försök.csv", "--trainee Kod --measure time --limit 300",
		encoded(charmap.Windows1252, crlf(wide(headLine("Kod", ";", "Försök %d", 7), ";", l, oneDigitComma))), l)

	// Osaka: Excel's "Unicode text".
	l = log21(103, 6, "青1", "青2", "青3", "赤1", "赤2", "赤3", "赤4")
	read("21-jp-unicode-text", "練習.txt", "--trainee 研修生 --attempt 回 --response 時間(秒) --measure time",
		inUTF16(binary.LittleEndian, true, crlf(lines("研修生\t回\t時間(秒)", l, plain("\t", oneDigit)))), l)

	// Busan times with a kitchen timer: minutes and seconds, one column an attempt.
	l = rounded(log21(104, 8, numbered("BS%02d", 7)...), 1)
	read("21-kr-wide-minutes", "술기.csv", "--trainee 참가자 --measure time --limit 300",
		wide(headLine("참가자", ",", "%d회", 8), ",", l, minutesCut), l)

	// Oulu: an old program writes UTF-16, high byte first, no mark.
	l = log21(105, 9, numbered("OU%d", 6)...)
	read("21-fi-utf16be", "harjoitus.txt", "--trainee tunnus --attempt yritys --response sekuntia --measure time",
		inUTF16(binary.BigEndian, false, lines("tunnus\tyritys\tsekuntia", l, plain("\t", oneDigitComma))), l)

	// Leeds: write.csv of R, with row names.
	l = log21(106, 10, numbered("LDS%03d", 6)...)
	i := 0
	read("21-uk-row-names", "trials.csv", "--trainee id --attempt trial --response secs --measure time",
		lines(`"","id","trial","secs"`, l, func(a at) string {
			i++
			return fmt.Sprintf(`"%d","%s",%d,%v`, i, a.who, a.n, a.value)
		}), l)

	// Boston: an online survey with the question's text and its id below the names.
	l = rounded(log21(107, 6, numbered("BOS-%d", 10)...), 1)
	var b bytes.Buffer
	b.WriteString("StartDate,ResponseId,code,trial_1,trial_2,trial_3,trial_4,trial_5,trial_6\n")
	b.WriteString("Start Date,Response ID,Your study code,Seconds on trial 1,Seconds on trial 2,Seconds on trial 3,Seconds on trial 4,Seconds on trial 5,Seconds on trial 6\n")
	b.WriteString(`"{""ImportId"":""startDate""}","{""ImportId"":""_recordId""}","{""ImportId"":""QID1_TEXT""}"`)
	for i := range 6 {
		fmt.Fprintf(&b, `,"{""ImportId"":""QID2_%d""}"`, i+1)
	}
	for i := 0; i < len(l); i += 6 {
		fmt.Fprintf(&b, "\n2026-02-%02d 09:%02d:12,R_%x,%s", 3+i/12, 10+i/2, 0x3fa71c0+i*7919, l[i].who)
		for _, a := range l[i : i+6] {
			b.WriteString("," + point(a.value))
		}
	}
	b.WriteString("\n")
	read("21-us-survey-heads", "survey.csv", "--trainee code --measure time", b.Bytes(), l)

	// Graz: a device's log with lines about itself on top.
	l = log21(108, 8, numbered("G%d", 7)...)
	read("21-at-comment-lines", "trainer-log.csv", "--trainee person --attempt run --response time_s --measure time",
		append([]byte("# device: box trainer, firmware 2.4\n# centre: G\n# exported: 2026-05-11T08:00:00Z\n"),
			lines("person,run,time_s", l, plain(",", oneDigit))...), l)

	// Lyon: a macro writes sep=; so that every Excel opens it; minutes, seconds and tenths.
	l = log21(109, 7, numbered("LY%02d", 8)...)
	read("21-fr-sep-line", "chrono.csv", "--trainee participant --attempt essai --response durée --measure time --limit 300",
		append([]byte("sep=;\r\n"), crlf(lines("participant;essai;durée", l, plain(";", minutes("%d:%02d,%d"))))...), l)

	// Bogotá: dates and times of day instead of numbers.
	l = log21(110, 6, numbered("BOG%d", 8)...)
	read("21-co-by-date", "intentos.csv", "--trainee residente --date fecha --response segundos --measure time",
		lines("fecha,residente,segundos", l, func(a at) string {
			return fmt.Sprintf("2026-03-%02d %02d:%02d,%s,%v", 2+a.n*3, 8+a.n%4, 5*int(a.who[3]-'0'), a.who, a.value)
		}), l)
}

func more21() {
	// Porto: a column a trainee, a row an attempt.
	l := log21(112, 9, "ana1", "rui2", "eva3", "leo4", "ivo5", "mia6")
	var b bytes.Buffer
	b.WriteString("tentativa,ana1,rui2,eva3,leo4,ivo5,mia6")
	for n := range 9 {
		fmt.Fprintf(&b, "\n%d", n+1)
		for who := range 6 {
			fmt.Fprint(&b, ",", l[who*9+n].value)
		}
	}
	b.WriteString("\n")
	read("21-pt-column-a-trainee", "tempos.csv", "--columns-are trainee --attempt tentativa --measure time", bytes.Clone(b.Bytes()), l)

	// Toronto: time and errors side by side.
	l = log21(113, 6, numbered("TO-%02d", 9)...)
	b.Reset()
	b.WriteString("Participant,Time 1,Errors 1,Time 2,Errors 2,Time 3,Errors 3,Time 4,Errors 4,Time 5,Errors 5,Time 6,Errors 6")
	for _, a := range l {
		if a.n == 1 {
			b.WriteString("\n" + a.who)
		}
		fmt.Fprintf(&b, ",%v,%d", a.value, errors21(a))
	}
	b.WriteString("\n")
	read("21-ca-interleaved", "trials_wide.csv", "--trainee Participant --response Time --measure time", b.Bytes(), l)

	// Tallinn: the answer of a database's shell, copied from the window.
	l = log21(114, 8, numbered("TLN%02d", 7)...)
	var rows strings.Builder
	rows.WriteString(" trainee | attempt | seconds \n---------+---------+---------\n")
	for _, a := range l {
		fmt.Fprintf(&rows, " %-7s | %7d | %7.1f\n", a.who, a.n, a.value)
	}
	fmt.Fprintf(&rows, "(%d rows)\n\n", len(l))
	read("21-ee-shell-table", "query.txt", "--trainee trainee --attempt attempt --response seconds --measure time", []byte(rows.String()), l)

	// Galway: a crossover; who had box then mat, and who had mat then box.
	l = log21(115, 10, numbered("GW%02d", 8)...)
	t := read("21-ie-crossover", "crossover.csv", "--trainee id --attempt trial --response seconds --measure time --arm sequence",
		lines("id,sequence,period,trial,seconds", l, func(a at) string {
			return fmt.Sprintf("%s,%s,%d,%d,%v", a.who, sequence21(a.who), (a.n-1)/5+1, a.n, a.value)
		}), l)
	t.Arms = map[string]string{}
	for _, a := range l {
		t.Arms[a.who] = sequence21(a.who)
	}

	// Sofia: columns lined up with spaces by an old statistics program.
	l = log21(116, 7, numbered("SF%d", 8)...)
	read("21-bg-aligned", "listing.dat", "--trainee ID --attempt TRIAL --response SECONDS --measure time",
		lines("ID    TRIAL   SECONDS", l, func(a at) string { return fmt.Sprintf("%-6s%5d%10.1f", a.who, a.n, a.value) }), l)

	// Pune: an old program on an old Mac, lines end with CR alone.
	l = log21(117, 6, numbered("PN%02d", 7)...)
	read("21-in-old-mac", "tally.csv", "--trainee Student --attempt Attempt --response Seconds --measure time",
		lineEnds(lines("Student,Attempt,Seconds", l, plain(",", oneDigit)), "\r"), l)

	// Gdańsk: a byte-order mark before a quoted head.
	l = log21(119, 7, numbered("GD%02d", 8)...)
	read("21-pl-bom-quoted", "proby.csv", "--trainee kursant --attempt próba --response czas~[s] --measure time",
		append([]byte("\uFEFF"), lines(`"kursant","próba","czas [s]"`, l, func(a at) string {
			return fmt.Sprintf(`"%s","%d","%s"`, a.who, a.n, oneDigitComma(a.value))
		})...), l)

	// Cardiff: a checklist score of 0 to 30, not a time.
	l = with(log21(120, 8, numbered("CF%d", 8)...), func(a *at) { a.value = math.Round(31 - a.value/9.5) })
	read("21-uk-score", "checklist.csv", "--trainee candidate --attempt round --response points --measure score --better higher",
		lines("candidate,round,points", l, plain(",", point)), l)

	// Accra: errors counted, not time.
	l = with(log21(121, 9, numbered("AC%02d", 7)...), func(a *at) { a.value = math.Max(0, math.Round((a.value-55)/11)) })
	read("21-gh-error-count", "errors.tsv", "--trainee trainee --attempt attempt --response errors --measure count",
		lines("trainee\tattempt\terrors", l, plain("\t", point)), l)
}

func bool21(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// sequence21 is the order of the two devices: odd codes box first.
func sequence21(who string) string {
	if who[len(who)-1]%2 == 1 {
		return "box-mat"
	}
	return "mat-box"
}

func times21() {
	// Bern: milliseconds with the Swiss sign for thousands.
	l := log21(123, 8, numbered("BE%02d", 7)...)
	read("21-ch-milliseconds", "messung.csv", "--trainee Person --attempt Versuch --response Zeit~[ms] --measure time --limit 300",
		lines("Person;Versuch;Zeit [ms]", l, plain(";", func(v float64) string {
			ms := int(math.Round(v * 1000))
			return fmt.Sprintf("%d'%03d", ms/1000, ms%1000)
		})), l)

	// Auckland: statements of a learning platform, durations in ISO 8601.
	l = log21(125, 6, numbered("akl%02d", 8)...)
	read("21-nz-iso-duration", "statements.csv", "--trainee actor --attempt try --response duration --measure time --limit 300",
		lines("actor,verb,try,duration", l, func(a at) string {
			s := int(math.Round(a.value * 10))
			return fmt.Sprintf("%s,completed,%d,PT%dM%d.%dS", a.who, a.n, s/600, s%600/10, s%10)
		}), l)

	// Aarhus: minutes, full stop, seconds, comma, tenths; the head says so.
	l = log21(127, 8, numbered("ÅR%d", 6)...)
	read("21-dk-min-point-sec", "tider.csv", "--trainee kursist --attempt forsøg --response tid~(min.sek,tiendedele) --measure time --limit 300",
		lines("kursist;forsøg;tid (min.sek,tiendedele)", l, plain(";", minutes("%d.%02d,%d"))), l)

	// Sapporo: typed with full-width digits throughout.
	l = rounded(log21(129, 6, numbered("S%d", 7)...), 1)
	full := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r - '0' + '０'
			}
			return r
		}, s)
	}
	read("21-jp-full-width", "記録.csv", "--trainee 学生 --attempt 回数 --response 秒 --measure time",
		lines("学生,回数,秒", l, func(a at) string { return fmt.Sprintf("%s,%s,%s", a.who, full(fmt.Sprint(a.n)), full(point(a.value))) }), l)
}

func outcomes21() {
	// Perth: a limit of 240 s, stopped attempts have their outcome and the limit.
	l := but21(log21(130, 8, numbered("PE%02d", 8)...), "PE02", 1, 240, "timeout")
	l = but21(l, "PE05", 1, 240, "timeout")
	l = but21(l, "PE05", 2, 240, "timeout")
	l = but21(l, "PE07", 3, l[find21(l, "PE07", 3)].value, "failed")
	l = with(l, func(a *at) { a.value = math.Min(a.value, 240-float64(len(a.outcome)%6)*1.3) })
	l = with(l, func(a *at) {
		if a.outcome == "timeout" {
			a.value = 240
		}
	})
	read("21-au-outcomes", "log.csv", "--trainee trainee --attempt attempt --response seconds --measure time --limit 240 --outcome outcome",
		lines("trainee,attempt,seconds,outcome", l, func(a at) string { return plain(",", point)(a) + "," + a.outcome }), l)

	// Tampere: > 300 where the clock was stopped at the limit.
	l = but21(log21(131, 7, numbered("TA%d", 8)...), "TA3", 1, 300, "timeout")
	l = but21(l, "TA8", 1, 300, "timeout")
	read("21-fi-over-limit", "ajat.csv", "--trainee koodi --attempt kerta --response aika~(s) --measure time --limit 300",
		lines("koodi;kerta;aika (s)", l, func(a at) string {
			if a.outcome == "timeout" {
				return fmt.Sprintf("%s;%d;>300", a.who, a.n)
			}
			return plain(";", oneDigitComma)(a)
		}), l)

	// Quito: French-trained staff, words of their own, told by codes.
	l = but21(log21(132, 6, numbered("Q%02d", 9)...), "Q04", 1, 300, "timeout")
	i := find21(l, "Q06", 2)
	l = but21(l, "Q06", 2, l[i].value, "failed")
	word := map[string]string{"done": "logrado", "timeout": "agotado", "failed": "dañado"}
	read("21-ec-own-words", "resultados.csv",
		"--trainee alumno --attempt intento --response segundos --measure time --limit 300 --outcome estado --code logrado=done --code agotado=timeout --code dañado=failed",
		lines("alumno;intento;estado;segundos", l, func(a at) string {
			return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, word[a.outcome], oneDigitComma(a.value))
		}), l)
}

func textDoubts21() {
	// Naples: an Italian program writes decimal commas into a comma-separated file, whole numbers without.
	l := log21(140, 7, numbered("NP%d", 7)...)
	doubt("21-it-comma-in-comma", "tempi.csv", "--trainee id --attempt prova --response secondi --measure time",
		lines("id,prova,secondi", l, plain(",", comma)), l, "the times have a decimal comma that also separates cells: most rows have a fourth cell")

	// Halifax: decimal minutes or minutes.seconds cannot be told; no value has a second part above 59.
	l = with(rounded(log21(141, 6, numbered("HX%d", 7)...), 1), func(a *at) { a.value = math.Floor(a.value/60)*60 + math.Mod(a.value, 60) })
	doubt("21-ca-minutes-point", "times.csv", "--trainee id --attempt n --response time --measure time",
		lines("id,n,time", l, plain(",", func(v float64) string { return fmt.Sprintf("%d.%02d", int(v)/60, int(v)%60) })), nil,
		"column time: 1.43 can be 1 min 43 s or 1.43 minutes (or seconds); nothing after the point is above 59")

	// Mumbai: 999 stands for an attempt that was not made.
	l = log21(143, 7, numbered("MU%02d", 7)...)
	data := lines("roll_no,attempt,seconds", l, plain(",", oneDigit))
	for _, c := range []struct {
		who string
		n   int
	}{{"MU03", 4}, {"MU06", 7}} {
		i := find21(l, c.who, c.n)
		data = bytes.Replace(data, []byte(plain(",", oneDigit)(l[i])), []byte(fmt.Sprintf("%s,%d,999", c.who, c.n)), 1)
		l = slices.Delete(l, i, i+1)
	}
	doubt("21-in-nine-nine-nine", "marks.csv", "--trainee roll_no --attempt attempt --response seconds --measure time", data, l,
		"the value 999 of MU03 attempt 4 and MU06 attempt 7 is a code, not a time")

	// Oslo: a timeout is recorded at half the limit.
	l = but21(log21(144, 6, numbered("OS%d", 8)...), "OS5", 1, 300, "timeout")
	doubt("21-no-early-timeout", "forsok.csv", "--trainee kode --attempt forsøk --response sekunder --measure time --limit 300 --outcome utfall",
		bytes.Replace(lines("kode;forsøk;sekunder;utfall", l, func(a at) string { return plain(";", oneDigitComma)(a) + ";" + a.outcome }),
			[]byte("OS5;1;300,0"), []byte("OS5;1;150,0"), 1), nil, "OS5 attempt 1 is a timeout at 150 s although the limit is 300 s")

	// Cairo: days or months first cannot be told, and the order of attempts hangs on it.
	l = log21(145, 5, numbered("CA%d", 8)...)
	doubt("21-eg-day-or-month", "attempts.csv", "--trainee code --date date --response seconds --measure time",
		lines("code,date,seconds", l, func(a at) string {
			return fmt.Sprintf("%s,%02d/%02d/2026,%v", a.who, []int{9, 4, 11, 6, 2}[a.n-1], a.n+1, a.value)
		}), nil,
		"the dates can be day or month first, and the order of the attempts differs")

	// Gothenburg: another task's rows follow in the same numbers.
	l = log21(146, 10, numbered("GB%d", 6)...)
	doubt("21-se-two-tasks", "alla.csv", "--trainee kod --attempt nr --response sekunder --measure time",
		lines("kod;uppgift;nr;sekunder", l, func(a at) string {
			return fmt.Sprintf("%s;%s;%d;%s", a.who, []string{"pinnar", "knut"}[(a.n-1)/5], a.n, oneDigitComma(a.value))
		}), nil, "column uppgift: two tasks (pinnar, knut) are read as one series")

	// Split: half a year lies between the seventh attempt and the eighth.
	l = log21(147, 8, numbered("ST%02d", 6)...)
	doubt("21-hr-retest", "pokusaji.csv", "--trainee polaznik --attempt pokušaj --response sekunde --date datum --measure time",
		lines("polaznik;pokušaj;datum;sekunde", l, func(a at) string {
			date := fmt.Sprintf("2025-10-%02d", 6+a.n)
			if a.n == 8 {
				date = "2026-04-20"
			}
			return fmt.Sprintf("%s;%d;%s;%s", a.who, a.n, date, oneDigitComma(a.value))
		}), l, "attempt 8 of everybody is half a year after attempt 7: a retest, not the next attempt")

	// Minsk: the file is in Windows-1251, which has no mark.
	l = log21(148, 7, "Ан1", "Бо2", "Ве3", "Гл4", "Да5", "Же6")
	doubt("21-by-cp1251", "попытки.csv", "--trainee код --attempt попытка --response секунды --measure time",
		encoded(charmap.Windows1251, lines("код;попытка;секунды", l, plain(";", oneDigitComma))), l,
		"the encoding is Windows-1251: heads and codes are Cyrillic, not Western letters")

	// Two hands: one assistant typed minutes, the other seconds.
	l = rounded(log21(149, 6, numbered("KN%02d", 8)...), 3)
	doubt("21-ng-two-hands", "entry.csv", "--trainee student --attempt attempt --response time --measure time",
		lines("student,attempt,time", l, func(a at) string {
			if a.who == "KN03" || a.who == "KN07" {
				return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/60)
			}
			return plain(",", point)(a)
		}), l, "the times of KN03 and KN07 are in minutes, those of the others in seconds")

	// Graphs first: an outcome column that nobody named.
	l = log21(150, 8, numbered("ZG%d", 7)...)
	doubt("21-hr-status-unnamed", "zapis.csv", "--trainee osoba --attempt pokus --response sekunde --measure time --limit 300",
		lines("osoba,pokus,sekunde,status", l, func(a at) string {
			return plain(",", point)(a) + "," + map[bool]string{true: "failed", false: "done"}[a.n == 1 && a.who < "ZG4" || a.who == "ZG6" && a.n == 3]
		}), with(l, func(a *at) {
			if a.n == 1 && a.who < "ZG4" || a.who == "ZG6" && a.n == 3 {
				a.outcome = "failed"
			}
		}), "column status holds outcomes (failed) but is not named")

	// Izmir: the hour of the day was typed, not how long it took.
	l = log21(151, 6, numbered("IZ%d", 6)...)
	minute := 0
	doubt("21-tr-clock-times", "saatler.csv", "--trainee kod --attempt deneme --response saat --measure time",
		lines("kod,deneme,saat", l, func(a at) string {
			if a.n == 1 {
				minute = 9*60 + 5
			}
			minute += 7 + int(a.value)%5
			return fmt.Sprintf("%s,%d,%02d:%02d", a.who, a.n, minute/60, minute%60)
		}), nil, "column saat holds times of day that rise within a trainee, not durations")

	// Minutes, seconds and hundredths with colons alone.
	l = log21(152, 7, numbered("VT%d", 7)...)
	doubt("21-es-colon-hundredths", "crono.csv", "--trainee id --attempt vuelta --response crono --measure time",
		lines("id;vuelta;crono", l, plain(";", func(v float64) string {
			c := int(math.Round(v * 100))
			return fmt.Sprintf("%02d:%02d:%02d", c/6000, c%6000/100, (c%100+c/1000)%60)
		})), nil, "column crono: 01:38:40 can be m:ss:hh or h:mm:ss; nothing at the end is above 59")

	// The time left on a countdown of 300 s.
	l = log21(153, 8, numbered("HB%02d", 6)...)
	doubt("21-de-countdown", "restzeit.csv", "--trainee Kürzel --attempt Durchgang --response Restzeit~(s) --measure time --limit 300",
		lines("Kürzel;Durchgang;Restzeit (s)", l, plain(";", func(v float64) string { return oneDigitComma(300 - v) })), nil,
		"Restzeit is the time left of 300 s, not the time taken: it rises with practice")

	// The clock ran on: each time is counted from the start of the first attempt.
	l = log21(154, 7, numbered("ML%d", 6)...)
	sum := 0.0
	doubt("21-mt-clock-ran-on", "laps.csv", "--trainee id --attempt lap --response elapsed_s --measure time",
		lines("id,lap,elapsed_s", l, func(a at) string {
			if a.n == 1 {
				sum = 0
			}
			sum += a.value
			return fmt.Sprintf("%s,%d,%.1f", a.who, a.n, sum)
		}), nil, "elapsed_s adds up within each trainee: each value is counted from the start of the first attempt")

	// Chiang Mai: the years are of the Buddhist calendar.
	l = log21(155, 6, numbered("CM%d", 6)...)
	doubt("21-th-calendar", "attempts.csv", "--trainee id --date date --response seconds --measure time",
		lines("id,date,seconds", l, func(a at) string { return fmt.Sprintf("%s,2569-02-%02d,%v", a.who, 3+a.n*2, a.value) }), l,
		"the dates are in the year 2569: Buddhist calendar, 2026")

	// The download stopped within the last line.
	l = log21(156, 7, numbered("KL%02d", 8)...)
	data = lines("trainee,attempt,seconds", but21(l, "KL08", 7, 81.4, "done"), plain(",", oneDigit))
	doubt("21-my-cut-off", "download.csv", "--trainee trainee --attempt attempt --response seconds --measure time",
		data[:len(data)-4], but21(l, "KL08", 7, 81.4, "done"), "the last row, KL08 attempt 7: 8 s is what is left of a longer number; the file ends there without a line end")

	// Stopped a few seconds after the limit, no outcome.
	l = log21(157, 6, numbered("WN%d", 8)...)
	l = but21(but21(l, "WN2", 1, 263.7, "done"), "WN6", 1, 271.2, "done")
	l = with(l, func(a *at) {
		if a.value < 250 {
			a.value = math.Min(a.value, 236.4)
		}
	})
	doubt("21-nz-stopped-late", "runs.csv", "--trainee id --attempt run --response seconds --measure time --limit 240",
		lines("id,run,seconds", l, plain(",", oneDigit)), nil, "WN2 attempt 1 (263.7) and WN6 attempt 1 (271.2) are above the limit of 240: stopped late or done")
}

func identityDoubts21() {
	l := log21(160, 6, numbered("T%d", 9)...)
	doubt("21-be-two-spellings", "essais.csv", "--trainee code --attempt essai --response secondes --measure time",
		lines("code;essai;secondes", l, func(a at) string {
			who := a.who
			if who == "T3" && a.n > 3 {
				who = "T03"
			}
			return fmt.Sprintf("%s;%d;%s", who, a.n, oneDigitComma(a.value))
		}), l, "T3 (attempts 1 to 3) and T03 (attempts 4 to 6) are one trainee")

	// Two machines write one accent in two ways.
	l = log21(162, 6, "José", "Inês", "Rui", "Tomás", "Vera", "Zita")
	doubt("21-br-two-accents", "dados.csv", "--trainee aluno --attempt tentativa --response segundos --measure time",
		lines("aluno,tentativa,segundos", l, func(a at) string {
			who := norm.NFC.String(a.who)
			if who == norm.NFC.String("José") && a.n > 4 {
				who = norm.NFD.String(who)
			}
			return fmt.Sprintf("%s,%d,%v", who, a.n, a.value)
		}), l, "José is written with a composed and with a decomposed accent (attempts 5 and 6)")

	// Time, but nobody said so.
	l = log21(163, 8, numbered("AB%02d", 6)...)
	doubt("21-uk-no-measure", "timing.csv", "--trainee id --attempt n --response seconds",
		lines("id,n,seconds", l, plain(",", oneDigit)), l, "seconds is a time, but --measure was not given: it would be a score where higher is better")

	l = with(log21(164, 9, numbered("HK%02d", 7)...), func(a *at) { a.value = bool21(a.value < 105) })
	doubt("21-hk-zero-one", "result.csv", "--trainee id --attempt attempt --response result",
		lines("id,attempt,result", l, plain(",", point)), l, "column result holds 0 and 1 alone: pass-fail, but --measure was not given")

	l = log21(165, 6, numbered("RO%02d", 8)...)
	doubt("21-ro-arm-spelling", "brate.csv", "--trainee cod --attempt nr --response secunde --measure time --arm grup",
		lines("cod,grup,nr,secunde", l, func(a at) string {
			grup := []string{"Cutie", "Video"}[a.who[3]%2]
			if a.who == "RO06" {
				grup = "cutie"
			}
			return fmt.Sprintf("%s,%s,%d,%v", a.who, grup, a.n, a.value)
		}), l, "arm Cutie and cutie (RO06) are one arm")

	// One attempt was entered twice, with two times.
	l = log21(166, 7, numbered("CZ%d", 7)...)
	row := plain(",", oneDigit)(l[find21(l, "CZ4", 3)])
	doubt("21-cz-entered-twice", "double.csv", "--trainee id --attempt attempt --response seconds --measure time",
		bytes.Replace(lines("id,attempt,seconds", l, plain(",", oneDigit)), []byte(row+"\n"), []byte(row+"\nCZ4,3,121.7\n"), 1), nil,
		"CZ4 has attempt 3 twice, with different times")
}

// typed21 makes workbooks of tables written as text: numbers are numbers, days are days.
func typed21(folders ...string) {
	for _, t := range all {
		if !slices.Contains(folders, t.Folder) {
			continue
		}
		b := newBook("Sheet1")
		rows := strings.Split(strings.TrimSpace(string(t.files[t.File])), "\n")
		sep := ","
		if strings.Contains(rows[0], ";") {
			sep = ";"
		}
		for r, row := range rows {
			for c, text := range strings.Split(row, sep) {
				cell := cellName(c+1, r+1)
				if day, err := time.Parse(time.DateOnly, text); err == nil {
					must(b.SetCellValue(b.sheet, cell, int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours()/24)))
					b.format(cell, cell, "dd.mm.yyyy")
				} else if v, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64); err == nil {
					must(b.SetCellValue(b.sheet, cell, v))
				} else {
					must(b.SetCellValue(b.sheet, cell, text))
				}
			}
		}
		name := strings.TrimSuffix(t.File, ".csv") + ".xlsx"
		t.files = map[string][]byte{name: b.bytes()}
		t.File = name
	}
}

func books21() {
	// Ankara: the simplest wide sheet.
	l := log21(201, 8, numbered("ANK%02d", 8)...)
	b := newBook("Sayfa1")
	b.row("A1", headCells("Katılımcı", "Deneme %d", 8)...)
	b.wide(2, l, value)
	read("21-x-tr-wide", "denemeler.xlsx", "--trainee Katılımcı --measure time --limit 300", b.bytes(), l)

	// Vienna: durations as real time cells.
	l = rounded(log21(202, 7, numbered("W%02d", 8)...), 1)
	b = newBook("Zeiten")
	b.log([]any{"Kürzel", "Versuch", "Dauer"}, l, func(a at) []any { return []any{a.who, a.n, a.value / 86400} })
	b.format("C2", cellName(3, len(l)+1), "[m]:ss")
	read("21-x-at-time-cells", "zeiten.xlsx", "--trainee Kürzel --attempt Versuch --response Dauer --measure time --limit 300", b.bytes(), l)

	// Lisbon: a sheet a trainee.
	l = log21(203, 9, numbered("LX%d", 6)...)
	b = newBook("LX1")
	for i := range 6 {
		if i > 0 {
			b.next(fmt.Sprint("LX", i+1))
		}
		b.log([]any{"Ensaio", "Segundos"}, l[i*9:i*9+9], func(a at) []any { return []any{a.n, a.value} })
	}
	read("21-x-pt-sheet-a-trainee", "fichas.xlsx", "--sheets-are trainee --attempt Ensaio --response Segundos --measure time", b.bytes(), l)

	// Oxford: a sheet a session, trials numbered anew.
	l = log21(204, 9, numbered("OX%02d", 7)...)
	b = newBook("Session 1")
	for s := range 3 {
		if s > 0 {
			b.next(fmt.Sprint("Session ", s+1))
		}
		part := without(l, func(a at) bool { return (a.n-1)/3 != s })
		b.log([]any{"ID", "Trial", "Time (s)"}, part, func(a at) []any { return []any{a.who, (a.n-1)%3 + 1, a.value} })
	}
	read("21-x-uk-sheet-a-session", "sessions.xlsx", "--sheets-are session --trainee ID --attempt Trial --response Time~(s) --measure time", b.bytes(), l)

	// Milan: codes are numbers shown with three digits.
	l = log21(205, 6, numbered("%03d", 9)...)
	b = newBook("Dati")
	b.log([]any{"Matricola", "Prova", "Secondi"}, l, func(a at) []any {
		var id int
		fmt.Sscan(strings.TrimLeft(a.who, "0"), &id)
		return []any{id, a.n, a.value}
	})
	b.format("A2", cellName(1, len(l)+1), "000")
	read("21-x-it-number-codes", "dati.xlsx", "--trainee Matricola --attempt Prova --response Secondi --measure time", b.bytes(), l)

	// Zürich: a sheet about the study first, lists last.
	l = log21(206, 8, numbered("ZH%d", 7)...)
	b = newBook("Info")
	b.row("A1", "Study", "Peg transfer, centre ZH")
	b.row("A2", "Contact", "data desk")
	b.next("Data")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	b.next("Lists")
	b.row("A1", "Outcome")
	b.row("A2", "done")
	b.row("A3", "timeout")
	read("21-x-ch-three-sheets", "study.xlsx", "--sheet Data --trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), l)

	// Québec: a workbook from a Mac, days counted from 1904, no attempt numbers.
	l = log21(207, 7, numbered("QC%02d", 6)...)
	b = newBook("Feuil1")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Participant", "Date", "Secondes"}, l, func(a at) []any {
		day := time.Date(2026, 1, 12+a.n*7, 0, 0, 0, 0, time.UTC).Sub(time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC))
		return []any{a.who, int(day.Hours() / 24), a.value}
	})
	b.format("B2", cellName(2, len(l)+1), "yyyy-mm-dd")
	read("21-x-ca-mac-days", "suivi.xlsx", "--trainee Participant --date Date --response Secondes --measure time", b.bytes(), l)

	// Hanover: the code stands once, merged over its rows.
	l = log21(208, 6, numbered("H-%d", 8)...)
	b = newBook("Tabelle1")
	b.row("A1", "Proband", "Versuch", "Sekunden")
	for i, a := range l {
		if a.n == 1 {
			b.row(cellName(1, i+2), a.who)
			must(b.MergeCell(b.sheet, cellName(1, i+2), cellName(1, i+7)))
		}
		b.row(cellName(2, i+2), a.n, a.value)
	}
	read("21-x-de-merged-codes", "probanden.xlsx", "--trainee Proband --attempt Versuch --response Sekunden --measure time", b.bytes(), l)

	// Seville: instructors' own times in the same sheet, told by a column.
	l = log21(209, 6, numbered("SV%02d", 7)...)
	experts := with(log21(2091, 3, "INS1", "INS2", "INS3"), func(a *at) { a.value = math.Round(a.value*5) / 10 })
	b = newBook("Hoja1")
	b.log([]any{"Persona", "Rol", "Intento", "Segundos"}, slices.Concat(experts, l), func(a at) []any {
		rol := "alumno"
		if strings.HasPrefix(a.who, "INS") {
			rol = "instructor"
		}
		return []any{a.who, rol, a.n, a.value}
	})
	read("21-x-es-instructors", "tiempos.xlsx", "--trainee Persona --attempt Intento --response Segundos --measure time --where Rol=alumno", b.bytes(), l)

	// Reykjavik: some left early; their row ends with empty cells.
	l = slices.DeleteFunc(log21(210, 10, numbered("IS%02d", 8)...), func(a at) bool {
		return a.who == "IS03" && a.n > 6 || a.who == "IS07" && a.n > 8
	})
	b = newBook("Sheet1")
	b.row("A1", headCells("ID", "Attempt %d", 10)...)
	b.wide(2, l, value)
	read("21-x-is-left-early", "attempts.xlsx", "--trainee ID --measure time", b.bytes(), l)

	// Kyiv: all cells are text, with decimal commas.
	l = log21(211, 7, numbered("КВ%d", 7)...)
	b = newBook("Аркуш1")
	b.log([]any{"Код", "Спроба", "Секунди"}, l, func(a at) []any { return []any{a.who, fmt.Sprint(a.n), oneDigitComma(a.value)} })
	read("21-x-ua-text-cells", "спроби.xlsx", "--trainee Код --attempt Спроба --response Секунди --measure time", b.bytes(), l)

	// Haifa: numbers that show their unit.
	l = log21(212, 8, numbered("HF-%02d", 6)...)
	b = newBook("data")
	b.log([]any{"trainee", "attempt", "duration"}, l, longRow)
	b.format("C2", cellName(3, len(l)+1), `0.0" sec"`)
	read("21-x-il-unit-format", "durations.xlsx", "--trainee trainee --attempt attempt --response duration --measure time", b.bytes(), l)

	// Manila: passed or not, as the spreadsheet's own TRUE and FALSE.
	l = with(log21(213, 8, numbered("MN%02d", 8)...), func(a *at) { a.value = bool21(a.value < 98) })
	b = newBook("Signoff")
	b.log([]any{"Resident", "Attempt", "Competent"}, l, func(a at) []any { return []any{a.who, a.n, a.value == 1} })
	read("21-x-ph-true-false", "signoff.xlsx", "--trainee Resident --attempt Attempt --response Competent --measure pass-fail", b.bytes(), l)
}

func heads21() {
	// Leiden: two head rows, measure above attempt, merged.
	l := log21(220, 6, numbered("LE%02d", 8)...)
	b := newBook("Blad1")
	b.row("A1", "Code", "Tijd (s)")
	b.row("H1", "Fouten")
	b.row("B2", 1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5, 6)
	must(b.MergeCell(b.sheet, "A1", "A2"))
	must(b.MergeCell(b.sheet, "B1", "G1"))
	must(b.MergeCell(b.sheet, "H1", "M1"))
	b.wide(3, l, value)
	for i, a := range l {
		b.row(cellName(7+a.n, 3+i/6), errors21(a))
	}
	read("21-x-nl-measure-above", "metingen.xlsx", "--trainee Code --response Tijd~(s) --measure time", b.bytes(), l)

	// Dunedin: attempt above measure, the head not merged.
	l = log21(221, 5, numbered("DU%d", 7)...)
	b = newBook("Sheet1")
	b.row("A2", "ID")
	for n := range 5 {
		b.row(cellName(2+2*n, 1), fmt.Sprint("Trial ", n+1))
		b.row(cellName(2+2*n, 2), "sec", "err")
	}
	for i, a := range l {
		b.row(cellName(1, 3+i/5), a.who)
		b.row(cellName(2*a.n, 3+i/5), a.value, errors21(a))
	}
	read("21-x-nz-attempt-above", "trials.xlsx", "--trainee ID --response sec --measure time", b.bytes(), l)

	// Turin: session above attempt above measure.
	l = log21(222, 6, numbered("TO%02d", 6)...)
	b = newBook("Foglio1")
	b.row("A3", "ID")
	for n := range 6 {
		if n%3 == 0 {
			b.row(cellName(2+2*n, 1), fmt.Sprint("Sessione ", n/3+1))
			must(b.MergeCell(b.sheet, cellName(2+2*n, 1), cellName(7+2*n, 1)))
		}
		b.row(cellName(2+2*n, 2), fmt.Sprint("Prova ", n+1))
		must(b.MergeCell(b.sheet, cellName(2+2*n, 2), cellName(3+2*n, 2)))
		b.row(cellName(2+2*n, 3), "tempo (s)", "errori")
	}
	for i, a := range l {
		b.row(cellName(1, 4+i/6), a.who)
		b.row(cellName(2*a.n, 4+i/6), a.value, errors21(a))
	}
	read("21-x-it-three-heads", "sessioni.xlsx", "--trainee ID --response tempo~(s) --measure time", b.bytes(), l)

	// Poznań: a title above, a note below.
	l = log21(223, 7, numbered("PO%d", 8)...)
	b = newBook("Arkusz1")
	b.row("A1", "Ćwiczenie: przekładanie kołków")
	b.row("A2", "Ośrodek PO, semestr letni 2026")
	b.row("A4", "Uczestnik", "Próba", "Czas (s)")
	for i, a := range l {
		b.row(cellName(1, 5+i), longRow(a)...)
	}
	b.row(cellName(1, 7+len(l)), "Czas mierzony stoperem od sygnału do odłożenia ostatniego kołka.")
	read("21-x-pl-title-and-note", "cwiczenie.xlsx", "--trainee Uczestnik --attempt Próba --response Czas~(s) --measure time", b.bytes(), l)

	// Ghent: names of columns below each other, a column an attempt made.
	l = log21(224, 3, numbered("GE%d", 5)...)
	b = newBook("Blad1")
	b.row("A1", "deelnemer")
	b.row("A2", "poging")
	b.row("A3", "seconden")
	for i, a := range l {
		b.row(cellName(2+i, 1), a.who)
		b.row(cellName(2+i, 2), a.n)
		b.row(cellName(2+i, 3), a.value)
	}
	read("21-x-be-transposed", "gekanteld.xlsx", "--transposed --trainee deelnemer --attempt poging --response seconden --measure time", b.bytes(), l)
}

func plainBooks21() {
	// Tartu: the day and the hour in one cell, no attempt numbers.
	l := log21(301, 7, numbered("TRT%d", 6)...)
	b := newBook("Leht1")
	b.log([]any{"Õppija", "Aeg", "Kestus (s)"}, l, func(a at) []any {
		return []any{a.who, 46100 + 2*float64(a.n) + (480+20*float64(a.who[3]-'0'))/1440, a.value}
	})
	b.format("B2", cellName(2, len(l)+1), "dd.mm.yyyy hh:mm")
	read("21-x-ee-day-and-hour", "paevik.xlsx", "--trainee Õppija --date Aeg --response Kestus~(s) --measure time", b.bytes(), l)

	// Durham: mean and best of each trainee beside the attempts, and named so.
	l = log21(302, 6, numbered("DRH%02d", 8)...)
	b = newBook("Bench")
	b.row("A1", headCells("Code", "T%d", 6)...)
	b.row("H1", "Mean", "Best")
	b.wide(2, l, value)
	for i := 0; i < len(l); i += 6 {
		sum, best := 0.0, l[i].value
		for _, a := range l[i : i+6] {
			sum, best = sum+a.value, min(best, a.value)
		}
		b.row(cellName(8, 2+i/6), math.Round(sum/6*10)/10, best)
	}
	read("21-x-us-mean-and-best", "bench.xlsx", "--trainee Code --measure time", b.bytes(), l)

	// Stavanger: a sheet an arm.
	l = log21(303, 6, numbered("SV%02d", 8)...)
	b = newBook("Film")
	b.log([]any{"Kode", "Forsøk", "Sekunder"}, l[:24], longRow)
	b.next("Veileder")
	b.log([]any{"Kode", "Forsøk", "Sekunder"}, l[24:], longRow)
	t := read("21-x-no-sheet-an-arm", "grupper.xlsx", "--sheets-are arm --trainee Kode --attempt Forsøk --response Sekunder --measure time", b.bytes(), l)
	t.Arms = map[string]string{}
	for i, a := range l {
		t.Arms[a.who] = []string{"Film", "Veileder"}[i/24]
	}

	// Cape Town: decimal minutes, and the head says so.
	l = rounded(log21(304, 8, numbered("CPT%d", 7)...), 3)
	b = newBook("Sheet1")
	b.log([]any{"Student", "Attempt", "Time (min)"}, l, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/60*100) / 100} })
	read("21-x-za-minutes-said", "times.xlsx", "--trainee Student --attempt Attempt --response Time~(min) --measure time --limit 300", b.bytes(), l)

	// Busy layout: the table stands in the middle of the sheet.
	l = log21(305, 6, numbered("VLC-%d", 7)...)
	b = newBook("Hoja1")
	b.row("C4", "Código", "Intento", "Segundos")
	for i, a := range l {
		b.row(cellName(3, 5+i), longRow(a)...)
	}
	read("21-x-es-in-the-middle", "tabla.xlsx", "--trainee Código --attempt Intento --response Segundos --measure time", b.bytes(), l)

	// Nagoya: attempts are words with a number.
	l = log21(306, 7, numbered("NG%02d", 6)...)
	b = newBook("Sheet1")
	b.log([]any{"Trainee", "Trial", "Seconds"}, l, func(a at) []any { return []any{a.who, fmt.Sprint("Trial ", a.n), a.value} })
	read("21-x-jp-trial-words", "trials.xlsx", "--trainee Trainee --attempt Trial --response Seconds --measure time", b.bytes(), l)

	// Lyngby keeps a column a trainee, in LibreOffice.
	l = log21(307, 8, "dk11", "dk12", "dk14", "dk17", "dk20")
	b = newBook("Ark1")
	b.row("A1", "Forsøg", "dk11", "dk12", "dk14", "dk17", "dk20")
	for i, a := range l {
		b.row(cellName(1, 1+a.n), a.n)
		b.row(cellName(2+i/8, 1+a.n), a.value)
	}
	read("21-o-dk-column-a-trainee", "forsog.ods", "--columns-are trainee --attempt Forsøg --measure time",
		office("21-o-dk-column-a-trainee", "forsog.ods", b.bytes()), l)
}

func offices21() {
	// Szeged keeps everything in LibreOffice.
	l := log21(230, 7, numbered("SZ%02d", 8)...)
	b := newBook("Munkalap1")
	b.log([]any{"Hallgató", "Kísérlet", "Idő (mp)"}, l, longRow)
	read("21-o-hu-long", "meresek.ods", "--trainee Hallgató --attempt Kísérlet --response Idő~(mp) --measure time",
		office("21-o-hu-long", "meresek.ods", b.bytes()), l)

	// Bilbao: durations in LibreOffice, a column an attempt.
	l = rounded(log21(231, 6, numbered("BI%d", 8)...), 1)
	b = newBook("Hoja1")
	b.row("A1", headCells("Código", "Intento %d", 6)...)
	end := b.wide(2, l, ofDay)
	b.format("B2", cellName(7, end-1), "[mm]:ss")
	read("21-o-es-durations", "intentos.ods", "--trainee Código --measure time --limit 300",
		office("21-o-es-durations", "intentos.ods", b.bytes()), l)

	// Belgrade: minutes and seconds in columns of their own, the sum as a calculated formula.
	l = rounded(log21(232, 7, numbered("BG%02d", 6)...), 1)
	b = newBook("Podaci")
	b.log([]any{"sifra", "pokusaj", "min", "sek", "ukupno_s"}, l, func(a at) []any { return []any{a.who, a.n, int(a.value) / 60, int(a.value) % 60} })
	for i := range l {
		must(b.SetCellFormula(b.sheet, cellName(5, i+2), fmt.Sprintf("C%d*60+D%d", i+2, i+2)))
	}
	read("21-o-rs-formulas", "vremena.xlsx", "--trainee sifra --attempt pokusaj --response ukupno_s --measure time --limit 300",
		office("21-o-rs-formulas", "vremena.xlsx", b.bytes()), l)

	// Coimbra: mean and SD below the table, calculated.
	l = log21(233, 6, numbered("CO%02d", 7)...)
	b = newBook("Folha1")
	b.row("A1", headCells("Código", "Tentativa %d", 6)...)
	end = b.wide(2, l, value)
	b.row(cellName(1, end), "Média")
	b.row(cellName(1, end+1), "DP")
	for c := 2; c <= 7; c++ {
		span := cellName(c, 2) + ":" + cellName(c, end-1)
		must(b.SetCellFormula(b.sheet, cellName(c, end), "ROUND(AVERAGE("+span+"),1)"))
		must(b.SetCellFormula(b.sheet, cellName(c, end+1), "ROUND(STDEV("+span+"),1)"))
	}
	read("21-o-pt-mean-rows", "resumo.xlsx", "--trainee Código --measure time",
		office("21-o-pt-mean-rows", "resumo.xlsx", b.bytes()), l)

	// Exeter: LibreOffice saves the sheet as text between tabs.
	l = log21(234, 8, numbered("EX%02d", 7)...)
	b = newBook("Sheet1")
	b.log([]any{"Trainee", "Attempt", "Seconds"}, l, longRow)
	b.format("C2", cellName(3, len(l)+1), "0.0")
	read("21-o-uk-saved-as-text", "export.csv", "--trainee Trainee --attempt Attempt --response Seconds --measure time",
		officeFrom("21-o-uk-saved-as-text", "export.csv", ".xlsx", "csv:Text - txt - csv (StarCalc):9,34,76,1", b.bytes()), l)
}

func bookDoubts21() {
	// 1:43 typed for a minute and 43 seconds: the spreadsheet made it hours.
	l := rounded(log21(240, 6, numbered("AL%d", 7)...), 1)
	b := newBook("Foglio1")
	b.row("A1", headCells("Codice", "Prova %d", 6)...)
	end := b.wide(2, l, func(a at) any { return a.value / 1440 })
	b.format("B2", cellName(7, end-1), "h:mm")
	doubt("21-x-it-hours-typed", "prove.xlsx", "--trainee Codice --measure time --limit 300", b.bytes(), l,
		"the cells are hours and minutes (1:43 = 1 h 43 min) although minutes and seconds were meant: a factor of 60")

	// One cell became a time of day among numbers.
	l = but21(log21(241, 8, numbered("PS%02d", 6)...), "PS03", 4, 98, "done")
	b = newBook("Sheet1")
	b.log([]any{"id", "attempt", "seconds"}, l, longRow)
	i := find21(l, "PS03", 4)
	b.row(cellName(3, i+2), 98.0/1440)
	b.format(cellName(3, i+2), cellName(3, i+2), "h:mm")
	doubt("21-x-us-one-time-cell", "timesheet.xlsx", "--trainee id --attempt attempt --response seconds --measure time", b.bytes(), l,
		fmt.Sprintf("cell C%d (PS03, attempt 4) is the time 1:38 among seconds", i+2))

	// Some cells are percent, some are the number alone.
	l = with(log21(242, 6, numbered("SG%02d", 7)...), func(a *at) { a.value = math.Round(108 - a.value/2.6) })
	b = newBook("Scores")
	b.log([]any{"Candidate", "Attempt", "Score"}, l, func(a at) []any {
		if a.who == "SG02" || a.who == "SG05" {
			return []any{a.who, a.n, a.value / 100}
		}
		return longRow(a)
	})
	for i, a := range l {
		if a.who == "SG02" || a.who == "SG05" {
			b.format(cellName(3, i+2), cellName(3, i+2), "0%")
		}
	}
	doubt("21-x-sg-some-percent", "scores.xlsx", "--trainee Candidate --attempt Attempt --response Score --measure score --better higher", b.bytes(), l,
		"the scores of SG02 and SG05 are percent cells (64 % is kept as 0.64), the others plain numbers up to 100")

	// A filter hides the rows of two trainees.
	l = log21(243, 6, numbered("JO%02d", 7)...)
	b = newBook("Sheet1")
	b.log([]any{"ID", "Attempt", "Seconds"}, l, longRow)
	must(b.AutoFilter(b.sheet, cellName(1, 1)+":"+cellName(3, len(l)+1), nil))
	for i, a := range l {
		if a.who == "JO04" || a.who == "JO06" {
			must(b.SetRowVisible(b.sheet, i+2, false))
		}
	}
	doubt("21-x-za-hidden-rows", "filtered.xlsx", "--trainee ID --attempt Attempt --response Seconds --measure time", b.bytes(), nil,
		"the rows of JO04 and JO06 are hidden: meant to be left out or only filtered for a look")

	// A program wrote formulas that nobody has calculated yet.
	l = rounded(log21(244, 6, numbered("YA%d", 6)...), 1)
	b = newBook("Sheet1")
	b.log([]any{"id", "attempt", "min", "sec", "total"}, l, func(a at) []any { return []any{a.who, a.n, int(a.value) / 60, int(a.value) % 60} })
	for i := range l {
		must(b.SetCellFormula(b.sheet, cellName(5, i+2), fmt.Sprintf("60*C%d+D%d", i+2, i+2)))
	}
	refuse("21-x-am-not-calculated", "generated.xlsx", "--trainee id --attempt attempt --response total --measure time", b.bytes(),
		"column total holds formulas without values: open the file in a spreadsheet and save it")

	// Days of practice stand above the columns, once with two attempts on a day.
	l = log21(245, 6, numbered("TR%02d", 6)...)
	b = newBook("Ark1")
	b.row("A1", "Kode", 46083, 46085, 46085, 46090, 46092, 46097)
	b.format("B1", "G1", "dd.mm.yyyy")
	b.wide(2, l, value)
	doubt("21-x-no-date-heads", "dager.xlsx", "--trainee Kode --measure time", b.bytes(), l,
		"the heads of the columns are dates, one of them twice: whether each column is an attempt must be asked or said")

	// The mean of each trainee stands in a last column without a name.
	l = log21(246, 7, numbered("LU%d", 7)...)
	b = newBook("Feuil1")
	b.row("A1", headCells("Code", "%d", 7)...)
	b.wide(2, l, value)
	for i := 0; i < len(l); i += 7 {
		sum := 0.0
		for _, a := range l[i : i+7] {
			sum += a.value
		}
		b.row(cellName(9, 2+i/7), math.Round(sum/7*10)/10)
	}
	doubt("21-x-lu-nameless-mean", "essais.xlsx", "--trainee Code --measure time", b.bytes(), l,
		"column I has no name and holds the mean of each trainee: not an attempt")

	// Two sheets of the same shape, nobody says which.
	l = log21(247, 6, numbered("KR%d", 6)...)
	b = newBook("Autumn")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	b.next("Spring")
	b.log([]any{"Code", "Attempt", "Seconds"}, log21(2471, 6, numbered("KR%d", 6)...), longRow)
	doubt("21-x-pl-two-sheets", "terms.xlsx", "--trainee Code --attempt Attempt --response Seconds --measure time", b.bytes(), nil,
		"sheets Autumn and Spring both hold attempts: which is meant, or both")
}

func bookAccidents21() {
	// Attempts "1-1", "1-2" (day and attempt) became dates.
	l := log21(250, 6, numbered("OD%d", 6)...)
	b := newBook("Sheet1")
	b.log([]any{"Code", "Day-attempt", "Seconds"}, l, func(a at) []any {
		day := time.Date(2026, time.Month((a.n-1)%3+1), (a.n-1)/3+1, 0, 0, 0, 0, time.UTC)
		return []any{a.who, int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24), a.value}
	})
	b.format("B2", cellName(2, len(l)+1), "d-mmm")
	doubt("21-x-dk-attempts-as-dates", "forsog.xlsx", "--trainee Code --attempt Day-attempt --response Seconds --measure time", b.bytes(), nil,
		"column Day-attempt holds dates (1-1 became 1 January): attempt 2 of day 1 is read as 1 February")

	// A point typed into a German spreadsheet: 7.5 became 7 May.
	l = with(log21(251, 6, numbered("KA%d", 7)...), func(a *at) { a.value = math.Round(2*(11.5-a.value/28)) / 2 })
	l = but21(l, "KA4", 3, 7.5, "done")
	i := find21(l, "KA4", 3)
	b = newBook("Noten")
	b.log([]any{"Person", "Runde", "Punkte"}, l, longRow)
	b.row(cellName(3, i+2), 46149)
	b.format(cellName(3, i+2), cellName(3, i+2), "dd.mmm")
	doubt("21-x-de-point-made-date", "punkte.xlsx", "--trainee Person --attempt Runde --response Punkte --measure score --better higher", b.bytes(), l,
		fmt.Sprintf("cell C%d (KA4, round 3) is the date 7 May among points: 7.5 was typed", i+2))

	// The point slipped: 9.84 for 98.4.
	l = but21(log21(252, 7, numbered("BL%02d", 7)...), "BL05", 6, 98.4, "done")
	b = newBook("Sheet1")
	b.row("A1", headCells("ID", "T%d", 7)...)
	b.wide(2, but21(l, "BL05", 6, 9.84, "done"), value)
	doubt("21-x-us-point-slipped", "times.xlsx", "--trainee ID --measure time --limit 300", b.bytes(), l, "BL05, T6: 9.84 is a tenth of what is likely meant (98.4)")

	// Colour says which attempts do not count; a line below explains it.
	l = log21(253, 6, numbered("TK%d", 7)...)
	b = newBook("Sheet1")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	end := b.wide(2, l, value)
	yellow, err := b.NewStyle(&excelize.Style{Fill: excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"FFFF00"}}})
	must(err)
	must(b.SetCellStyle(b.sheet, "D4", "D4", yellow))
	must(b.SetCellStyle(b.sheet, "C7", "C7", yellow))
	b.row(cellName(1, end+1), "Yellow = clock started late, do not use")
	doubt("21-x-us-colour-code", "colours.xlsx", "--trainee Code --measure time", b.bytes(), nil,
		"the line below the table says that yellow cells (D4, C7) must not be used")

	// One row slid a cell to the right.
	l = log21(254, 7, numbered("EV%02d", 8)...)
	b = newBook("Planilha1")
	b.row("A1", headCells("Aluno", "Tentativa %d", 8)...)
	b.wide(2, l, value)
	for c := 8; c >= 2; c-- {
		b.row(cellName(c+1, 6), l[find21(l, "EV05", c-1)].value)
	}
	must(b.SetCellValue(b.sheet, "B6", nil))
	b.row("I2", 88.3)
	b.row("I3", 71.9)
	doubt("21-x-br-row-slid", "planilha.xlsx", "--trainee Aluno --measure time", b.bytes(), nil,
		"row 6, EV05: the first attempt is blank; the row may have slid a cell to the right")

	// Dates copied from a workbook that counts from 1904: four years and a day too early.
	l = log21(255, 6, numbered("GL%02d", 7)...)
	b = newBook("Sheet1")
	b.log([]any{"ID", "Attempt", "Date", "Seconds"}, l, func(a at) []any {
		serial := 46050 + 2*a.n
		if a.n > 3 && a.who == "GL06" {
			serial -= 1462
		}
		return []any{a.who, a.n, serial, a.value}
	})
	b.format("C2", cellName(3, len(l)+1), "yyyy-mm-dd")
	doubt("21-x-uk-four-years", "merged.xlsx", "--trainee ID --attempt Attempt --date Date --response Seconds --measure time", b.bytes(), l,
		"GL06, attempts 4 to 6: the dates are four years and a day before those of attempts 1 to 3")

	// Minutes under a head that does not say so, with a limit in seconds.
	l = rounded(log21(256, 7, numbered("PR%d", 7)...), 3)
	b = newBook("List1")
	b.log([]any{"Student", "Pokus", "Čas"}, l, func(a at) []any { return []any{a.who, a.n, math.Round(a.value/60*100) / 100} })
	doubt("21-x-cz-minutes-unsaid", "casy.xlsx", "--trainee Student --attempt Pokus --response Čas --measure time --limit 300", b.bytes(), l,
		"the times are 1.1 to 4.2 where the limit is 300: minutes, not seconds")

	// A row was copied and only its code changed.
	l = log21(257, 6, numbered("MD%02d", 8)...)
	b = newBook("Sheet1")
	b.row("A1", headCells("Code", "Try %d", 6)...)
	copied := with(l, func(a *at) {
		if a.who == "MD06" {
			a.value = l[find21(l, "MD05", a.n)].value
		}
	})
	b.wide(2, copied, value)
	doubt("21-x-es-row-copied", "tries.xlsx", "--trainee Code --measure time", b.bytes(), nil,
		"rows 6 and 7: all six times of MD06 are those of MD05")
}

func damage21() {
	flags := "--trainee id --attempt attempt --response seconds --measure time"
	made := func(seed uint64, code string) *book {
		b := newBook("Sheet1")
		b.log([]any{"id", "attempt", "seconds"}, log21(seed, 6, numbered(code, 6)...), longRow)
		return b
	}

	// A script of somebody's own put the sheet's text together and forgot to close a row.
	refuse("21-r-row-not-closed", "script.xlsx", flags, partChanged(made(310, "RW%d").bytes(), "xl/worksheets/sheet1.xml", func(text string) string {
		i := strings.Index(text, `<row r="20"`)
		return text[:i] + strings.Replace(text[i:], "</row>", "", 1)
	}), "the XML of the sheet is malformed: a row is not closed")

	// The sheet's text ends in the middle although the package is whole.
	refuse("21-r-sheet-ends", "disk-full.xlsx", flags, partChanged(made(311, "DF%d").bytes(), "xl/worksheets/sheet1.xml", func(text string) string {
		return text[:len(text)*3/5]
	}), "the XML of the sheet ends in the middle")

	// A converter wrote a cell whose place is no place.
	refuse("21-r-cell-nowhere", "converter.xlsx", flags, partChanged(made(312, "CV%d").bytes(), "xl/worksheets/sheet1.xml", func(text string) string {
		return strings.Replace(text, `r="C12"`, `r="12"`, 1)
	}), "a cell of row 12 says it stands at 12, which is no place in a sheet")

	// One cell of a wide sheet holds a formula that was never calculated.
	l := log21(313, 7, numbered("VIL%d", 7)...)
	b := newBook("Lapas1")
	b.row("A1", headCells("Kodas", "Bandymas %d", 7)...)
	b.wide(2, l, value)
	i := find21(l, "VIL4", 3)
	must(b.SetCellFormula(b.sheet, "D5", fmt.Sprintf("%v+12", math.Round((l[i].value-12)*10)/10)))
	doubt("21-x-lt-one-formula", "bandymai.xlsx", "--trainee Kodas --measure time --limit 300", partChanged(b.bytes(), "xl/worksheets/sheet1.xml", func(text string) string {
		return strings.Replace(text, fmt.Sprintf("</f><v>%v</v>", l[i].value), "</f>", 1)
	}), l, "cell D5 (VIL4, Bandymas 3) holds a formula without a kept value")

	// No errors were left blank, or errors were not counted.
	counts := with(log21(314, 8, numbered("PRM%d", 6)...), func(a *at) { a.value = math.Max(0, math.Round((a.value-95)/14)) })
	b = newBook("Sheet1")
	b.log([]any{"id", "attempt", "errors"}, counts, func(a at) []any {
		if a.value == 0 {
			return []any{a.who, a.n}
		}
		return longRow(a)
	})
	doubt("21-x-it-blank-errors", "errori.xlsx", "--trainee id --attempt attempt --response errors --measure count", b.bytes(), counts,
		"blank cells of column errors: no errors, or not counted; no 0 stands anywhere")

	// Codes pasted from a word processor carry a line tab.
	l = log21(315, 6, numbered("SK-%d", 6)...)
	doubt("21-sk-control-character", "vlozene.csv", "--trainee kód --attempt pokus --response sekundy --measure time",
		lines("kód;pokus;sekundy", l, func(a at) string {
			if a.who == "SK-2" && a.n >= 4 {
				return fmt.Sprintf("SK-2\v;%d;%s", a.n, oneDigitComma(a.value))
			}
			return plain(";", oneDigitComma)(a)
		}), l, "code SK-2 has a control character behind it from attempt 4 on")

	// Milliseconds under a head that does not say so, with a limit in seconds.
	l = log21(316, 7, numbered("TLV%d", 6)...)
	doubt("21-il-thousandfold", "sim.csv", "--trainee user --attempt run --response time --measure time --limit 300",
		lines("user,run,time", l, plain(",", func(v float64) string { return fmt.Sprint(int(math.Round(v * 1000))) })), l,
		"the times are 88200 to 219600 where the limit is 300: milliseconds, not seconds")
}

type long21 struct {
	Trainee string  `parquet:"trainee"`
	Attempt int64   `parquet:"attempt"`
	Seconds float64 `parquet:"seconds"`
}

type stamped21 struct {
	Person string    `parquet:"person"`
	At     time.Time `parquet:"at,timestamp(millisecond)"`
	Millis int32     `parquet:"duration_ms"`
}

type wideRow21 struct {
	ID string  `parquet:"id"`
	T1 float32 `parquet:"t1"`
	T2 float32 `parquet:"t2"`
	T3 float32 `parquet:"t3"`
	T4 float32 `parquet:"t4"`
	T5 float32 `parquet:"t5"`
}

func parquets21() {
	way := []parquet.WriterOption{parquet.CreatedBy("writer", "1", "0"), parquet.Compression(&parquet.Snappy)}

	// Utah: a data lake's export.
	l := log21(260, 9, numbered("UT%02d", 8)...)
	var rows []long21
	for _, a := range l {
		rows = append(rows, long21{a.who, int64(a.n), a.value})
	}
	read("21-q-us-long", "attempts.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", parquetOf(rows, way...), l)

	// Lausanne: moments and whole milliseconds, no attempt numbers.
	l = log21(261, 7, numbered("lau-%d", 6)...)
	var stamps []stamped21
	for _, a := range l {
		at := time.Date(2026, 4, 2+2*a.n, 9, 4*int(a.who[4]-'0'), 30, 0, time.UTC)
		stamps = append(stamps, stamped21{a.who, at, int32(math.Round(a.value * 1000))})
	}
	read("21-q-ch-moments", "events.parquet", "--trainee person --date at --response duration_ms --measure time --limit 300", parquetOf(stamps, way...), l)

	// Adelaide: a wide table of single-precision numbers, whole and half seconds.
	l = rounded(log21(262, 5, numbered("AD%02d", 8)...), 0.5)
	var wides []wideRow21
	for i := 0; i < len(l); i += 5 {
		v := func(n int) float32 { return float32(l[i+n].value) }
		wides = append(wides, wideRow21{l[i].who, v(0), v(1), v(2), v(3), v(4)})
	}
	read("21-q-au-wide", "wide.parquet", "--trainee id --measure time", parquetOf(wides, way...), l)

	// The copy stopped before the end of the file.
	data := parquetOf(rows, way...)
	refuse("21-q-us-cut", "part.parquet", "--trainee trainee --attempt attempt --response seconds --measure time", data[:len(data)*2/3],
		"the Parquet file is cut off: its end is missing")
}

func refusals21() {
	l := log21(270, 6, numbered("RF%d", 6)...)
	b := newBook("Sheet1")
	b.log([]any{"id", "attempt", "seconds"}, l, longRow)
	flags := "--trainee id --attempt attempt --response seconds --measure time"
	data := b.bytes()
	refuse("21-r-cut-workbook", "mail.xlsx", flags, data[:len(data)/2], "the workbook is cut off in the middle")
	refuse("21-r-old-workbook", "alt.xlsx", flags, officeFrom("21-r-old-workbook", "alt.xlsx", ".xlsx", "xls", data),
		"an old binary workbook (.xls) with the name of a new one: save it as XLSX")
	refuse("21-r-printed", "table.csv", flags, officeFrom("21-r-printed", "table.csv", ".xlsx", "pdf", data), "a PDF with the name of a CSV")
	refuse("21-r-login-page", "download.csv", flags, []byte("<!DOCTYPE html>\n<html lang=\"en\"><head><title>Sign in</title></head>\n<body><h1>Your session has ended</h1>\n<form action=\"/login\"><input name=\"user\"><input name=\"key\"></form></body></html>\n"),
		"a web page (sign in) in the place of the data")
	refuse("21-r-statistics-file", "data.csv", flags, statistics21(), "a file of a statistics program (.sav) with the name of a CSV")
	var locked bytes.Buffer
	must(b.Write(&locked, excelize.Options{Password: "secret"}))
	refuse("21-r-locked", "locked.xlsx", flags, locked.Bytes(), "the workbook is locked with a password")
}

// statistics21 is the start of a system file of a statistics program.
func statistics21() []byte {
	var out bytes.Buffer
	out.WriteString("$FL2@(#) SPSS DATA FILE MS Windows 29.0.0                       ")
	for _, v := range []uint32{2, 3, 1, 0, 36, 0, 0x40590000} {
		must(binary.Write(&out, binary.LittleEndian, v))
	}
	out.WriteString("11 May 2609:14:02")
	out.Write(make([]byte, 67))
	for range 40 {
		out.Write([]byte{0x02, 0, 0, 0, 0xfd, 0xfe, 0x80, 0x9c})
	}
	return out.Bytes()
}

// marks21 makes up marks of 1 to 5: good performances get more from everybody, some raters are strict.
func marks21(seed uint64, subjects, raters, items []string) [][4]string {
	r := rand.New(rand.NewPCG(seed, 2121))
	var out [][4]string
	for _, s := range subjects {
		level := 1.4 + 3.2*r.Float64()
		for j, who := range raters {
			for _, item := range items {
				mark := math.Round(level - 0.3*float64(j%3) + 0.5*r.NormFloat64())
				out = append(out, [4]string{s, who, item, fmt.Sprint(max(1, min(5, mark)))})
			}
		}
	}
	return out
}

// rated21 is a wide table of ratings, a row a subject.
func rated21(head, sep string, m [][4]string, cell func(i int, score string) string, end func(row [][4]string) string) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	for i := 0; i < len(m); {
		j := i
		b.WriteString(m[i][0])
		for ; j < len(m) && m[j][0] == m[i][0]; j++ {
			b.WriteString(sep + cell(j, m[j][3]))
		}
		b.WriteString(end(m[i:j]) + "\n")
		i = j
	}
	return b.Bytes()
}

func ratings21() {
	same := func(_ int, s string) string { return s }
	none := func([][4]string) string { return "" }
	one := []string{""}

	m := marks21(280, numbered("clip%02d", 12), []string{"Ada", "Ben", "Cleo"}, one)
	read("21-g-wide", "clips.csv", "--wide --subject clip", rated21("clip,Ada,Ben,Cleo", ",", m, same, none), nil).Ratings = m

	m = marks21(281, numbered("V%d", 10), []string{"R1", "R2"}, []string{"flow", "tissue", "tools"})
	b := newBook("Marks")
	b.row("A1", "video", "rater", "criterion", "mark")
	for i, r := range m {
		b.row(cellName(1, i+2), r[0], r[1], r[2], int(r[3][0]-'0'))
	}
	read("21-g-items", "marks.xlsx", "--subject video --rater rater --item criterion --score mark --scale ordinal", b.bytes(), nil).Ratings = m

	m = marks21(282, numbered("Film %d", 9), []string{"Jury A", "Jury B", "Jury C", "Jury D"}, one)
	for i := range m {
		if i%3 == 1 && m[i][3] != "5" {
			m[i][3] += ".5"
		}
	}
	var long strings.Builder
	long.WriteString("film;jury;note\n")
	for _, r := range m {
		fmt.Fprintf(&long, "%s;%s;%s\n", r[0], r[1], strings.ReplaceAll(r[3], ".", ","))
	}
	read("21-g-half-marks", "notes.csv", "--subject film --rater jury --score note", []byte(long.String()), nil).Ratings = m

	m = marks21(283, numbered("P%02d", 11), []string{"North", "South", "West"}, one)
	doubt("21-g-consensus", "panel.csv", "--wide --subject performance", rated21("performance,North,South,West,Consensus", ",", m, same, func(row [][4]string) string {
		sum := 0
		for _, r := range row {
			sum += int(r[3][0] - '0')
		}
		return fmt.Sprint(",", (sum+1)/3)
	}), nil, "column Consensus is agreed on after the ratings: not a rater").Ratings = m

	m = marks21(284, numbered("rec-%02d", 12), []string{"Ida", "Olaf"}, one)
	i := 0
	doubt("21-g-running-number", "records.csv", "--wide --subject record", rated21("record,Ida,Olaf,Trainee no", ",", m, same, func([][4]string) string {
		i++
		return fmt.Sprint(",", (i+2)/3)
	}), nil, "column Trainee no holds numbers of trainees: not a rater").Ratings = m

	m = marks21(285, numbered("S%d", 10), []string{"E1", "E2", "E3"}, one)
	doubt("21-g-one-na", "exam.csv", "--wide --subject station --scale interval", rated21("station,E1,E2,E3", ",", m, func(i int, s string) string {
		if i == 16 {
			return "NA"
		}
		return s
	}, none), nil, "one rating (S6, E2) is NA: missing, or not applicable").Ratings = slices.Delete(slices.Clone(m), 16, 17)

	m = marks21(286, numbered("knot%d", 12), []string{"Kari", "Liv"}, one)
	for i := range m {
		m[i][3] = map[bool]string{true: "ja", false: "nei"}[m[i][3] > "2"]
	}
	doubt("21-g-three-spellings", "secure.csv", "--wide --subject knot --scale nominal", rated21("knot;Kari;Liv", ";", m, func(i int, s string) string {
		switch {
		case i%7 == 2:
			return strings.ToUpper(s)
		case i%5 == 3:
			return strings.ToUpper(s[:1]) + s[1:]
		}
		return s
	}, none), nil, "ja, Ja and JA (nei, Nei, NEI) are one category").Ratings = m

	m = marks21(287, numbered("tape%d", 8), []string{"Ott", "Pia"}, one)
	b = newBook("Ratings")
	b.row("A1", "tape", "rater", "score")
	for i, r := range m {
		b.row(cellName(1, i+2), r[0], r[1], int(r[3][0]-'0'))
	}
	b.row(cellName(1, len(m)+2), "tape3", "Pia", 6-int(m[5][3][0]-'0'))
	doubt("21-g-second-look", "tapes.xlsx", "--subject tape --rater rater --score score", b.bytes(), nil,
		"the last row: Pia rates tape3 a second time, with another score")
}

// study21 is a study folder: its study file, and the tables it names.
func study21(t *truth, yaml string, files map[string][]byte) {
	t.files = map[string][]byte{"study.yaml": []byte(yaml)}
	for name, data := range files {
		t.files[name] = data
	}
}

func studies21() {
	head := "trainee,attempt,seconds"

	// Two centres, one with points and commas, the other with decimal commas and semicolons.
	a, b := log21(290, 6, numbered("A%d", 5)...), log21(291, 6, numbered("B%d", 5)...)
	study21(read("21-s-two-centres", ".", "", nil, slices.Concat(a, b)), `tasks: [{name: pegs, measure: time, column: seconds, limit: 300}]
attempts:
  files: [leeds.csv, bonn.csv]
`, map[string][]byte{"leeds.csv": lines(head, a, plain(",", oneDigit)), "bonn.csv": lines("trainee;attempt;seconds", b, plain(";", oneDigitComma))})

	// A file a session, trials numbered anew.
	l := log21(292, 9, numbered("N%02d", 6)...)
	files := map[string][]byte{}
	for s := range 3 {
		part := without(l, func(x at) bool { return (x.n-1)/3 != s })
		files[fmt.Sprintf("session%d.csv", s+1)] = lines(head, with(part, func(x *at) { x.n = (x.n-1)%3 + 1 }), plain(",", oneDigit))
	}
	study21(read("21-s-file-a-session", ".", "", nil, l), `tasks: [{name: pegs, measure: time, column: seconds, limit: 300}]
attempts:
  files: [session1.csv, session2.csv, session3.csv]
  files_are: session
`, files)

	// One centre works in minutes, and the study file says so.
	a, b = rounded(log21(293, 7, numbered("K%d", 5)...), 3), log21(294, 7, numbered("L%d", 5)...)
	study21(read("21-s-minutes-said", ".", "", nil, slices.Concat(a, b)), `tasks: [{name: pegs, measure: time, column: seconds, limit: 300}]
attempts:
  files: [kiel.csv, lund.csv]
  per_file: {kiel.csv: {times: minutes}}
`, map[string][]byte{"kiel.csv": lines(head, a, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) })), "lund.csv": lines(head, b, plain(",", oneDigit))})

	// The experts' file is in minutes, and nobody says so.
	l = log21(295, 8, numbered("D%02d", 7)...)
	experts := with(rounded(log21(296, 3, "X1", "X2", "X3", "X4"), 6), func(x *at) { x.value = math.Round(x.value/2/6) * 6 })
	t := doubt("21-s-experts-minutes", ".", "", nil, l, "experts.csv: the times are 0.7 to 2.0, minutes beside the trainees' seconds")
	t.Experts = experts
	study21(t, `tasks: [{name: pegs, measure: time, column: time, limit: 300}]
attempts: {file: log.csv}
experts: {file: experts.csv}
`, map[string][]byte{"log.csv": lines("trainee,attempt,time", l, plain(",", oneDigit)),
		"experts.csv": lines("trainee,attempt,time", experts, plain(",", func(v float64) string { return fmt.Sprintf("%.1f", v/60) }))})

	// Both centres number their trainees from 01; the attempts of the second follow those of the first.
	a = log21(297, 5, numbered("P%02d", 6)...)
	b = with(log21(298, 5, numbered("P%02d", 6)...), func(x *at) { x.n += 5 })
	study21(doubt("21-s-same-codes", ".", "", nil, nil, "P01 to P06 are in both files: two people each, or one who went on"), `tasks: [{name: pegs, measure: time, column: seconds, limit: 300}]
attempts:
  files: [first.csv, second.csv]
`, map[string][]byte{"first.csv": lines(head, a, plain(",", oneDigit)), "second.csv": lines(head, b, plain(",", oneDigit))})
}
