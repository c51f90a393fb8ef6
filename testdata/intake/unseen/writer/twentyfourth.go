package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/unicode/norm"
)

// twentyfourth is what trade schools, sports halls, music rooms and skills labs of many countries
// sent when a list went round asking for "the table as it is".
func twentyfourth() {
	plainText24()
	plainWide24()
	plainBooks24()
	plainRest24()
	doubtText24()
	doubtPeople24()
	doubtBooks24()
	doubtRest24()
	refuse24()
	ratings24()
}

const failed24 = "failed"

// curve24 makes up attempts whose times fall from about first to about last, each trainee with
// levels of their own and a scatter in parts of the time.
func curve24(seed, n int, first, last, scatter float64, decimals int, who ...string) []at {
	r := rand.New(rand.NewPCG(24, uint64(seed)))
	unit := math.Pow(10, float64(decimals))
	var out []at
	for _, w := range who {
		from, to := first*math.Exp(0.16*r.NormFloat64()), last*math.Exp(0.11*r.NormFloat64())
		rate := 0.5 + 0.4*r.Float64()
		for i := 1; i <= n; i++ {
			v := (to + (from-to)*math.Pow(float64(i), -rate)) * math.Exp(scatter*r.NormFloat64())
			out = append(out, at{w, i, math.Round(v*unit) / unit, "done"})
		}
	}
	return out
}

// flags24 names the columns of a table of times.
func flags24(who, attempt, response string) string {
	return "--trainee " + who + " --attempt " + attempt + " --response " + response + " --measure time"
}

// grid24 is a text table of a row a trainee, absent attempts blank.
func grid24(head, sep string, n int, l []at, cell func(v float64) string) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	for _, w := range traineesOf(l) {
		cells := make([]string, n+1)
		cells[0] = w
		for _, a := range attemptsOf(l, w) {
			cells[a.n] = cell(a.value)
		}
		b.WriteString(strings.Join(cells, sep) + "\n")
	}
	return b.Bytes()
}

// turned24 is a text table of a row an attempt and a column a trainee, absent attempts blank.
func turned24(first, sep string, n int, l []at, cell func(v float64) string) []byte {
	who := traineesOf(l)
	var b bytes.Buffer
	b.WriteString(first + sep + strings.Join(who, sep) + "\n")
	for k := 1; k <= n; k++ {
		fmt.Fprint(&b, k)
		for _, w := range who {
			b.WriteString(sep)
			for _, a := range attemptsOf(l, w) {
				if a.n == k {
					b.WriteString(cell(a.value))
				}
			}
		}
		b.WriteString("\n")
	}
	return b.Bytes()
}

// hundredths24 writes minutes, seconds and hundredths by a format.
func hundredths24(format string) func(v float64) string {
	return func(v float64) string {
		h := int(math.Round(v * 100))
		return fmt.Sprintf(format, h/6000, h%6000/100, h%100)
	}
}

// whole24 writes whole minutes and seconds by a format.
func whole24(format string) func(v float64) string {
	return func(v float64) string {
		s := int(math.Round(v))
		return fmt.Sprintf(format, s/60, s%60)
	}
}

// meeting24 is the day of the n-th weekly meeting, late enough in its month to be no month.
func meeting24(n int) time.Time { return date(time.January, 13).AddDate(0, 0, 7*(n-1)) }

func plainText24() {
	// Electronics workshop: a board a week, by the bench clock.
	l := curve24(1, 8, 210, 95, 0.09, 1, "Abel", "Bente", "Carlo", "Dunja", "Emre", "Freja", "Gustl")
	read("24-solder-boards", "solder boards.csv", flags24("apprentice", "board", "seconds"),
		lines("apprentice,board,tip_temp_c,seconds", l, func(a at) string {
			return joined(",", a.who, a.n, 340+(a.n*7+len(a.who)*3)%25, oneDigit(a.value))
		}), l)

	// Typing course in Finnish, saved by a spreadsheet as UTF-8.
	l = curve24(2, 7, 165, 88, 0.08, 1, numbered("opp%02d", 8)...)
	read("24-typing-finnish", "kirjoitus.csv", flags24("Oppilas", "Kerta", "Aika~(s)")+" --limit 400",
		append([]byte("\xef\xbb\xbf"), crlf(lines("Oppilas;Kerta;Päivä;Aika (s)", l, func(a at) string {
			return joined(";", a.who, a.n, meeting24(a.n).Format("2.1.2006"), oneDigitComma(a.value))
		}))...), l)

	// Welding, in Portuguese, from an old computer.
	l = curve24(3, 6, 140, 72, 0.1, 1, "Aurélio", "Benedita", "Conceição", "Délio", "Eufrásia", "Félix", "Glória")
	read("24-weld-beads-1252", "cordões.csv", flags24("Formando", "Cordão", "Duração~(s)"),
		latin(crlf(lines("Formando;Cordão;Duração (s);Observações", l, func(a at) string {
			return joined(";", a.who, a.n, oneDigitComma(a.value), []string{"", "boa fusão", "", "posição PA", ""}[(a.n+len(a.who))%5])
		}))), l)

	// Violin scales from a computer older than the pupils.
	l = curve24(4, 9, 95, 48, 0.08, 1, "Ottilie", "Piet", "Quirin", "Rosalba", "Sven-Erik", "Tilda")
	read("24-violin-old-line-ends", "SCALES.TXT", flags24("pupil", "go", "sec"),
		lineEnds(lines("pupil\tgo\tsec", l, plain("\t", oneDigit)), "\r"), l)

	// Danish wound dressing, "Unicode" with the high byte first.
	l = curve24(5, 6, 230, 120, 0.09, 1, "Åse", "Bjørn", "Cille", "Dagny", "Ebbe", "Frode", "Gry", "Hjørdis")
	read("24-dressing-utf16-be", "forbinding.txt", flags24("Elev", "Forsøg", "Sekunder"),
		inUTF16(binary.BigEndian, true, crlf(lines("Elev\tForsøg\tSekunder", l, plain("\t", oneDigitComma)))), l)

	// Czech climbers' knots, two bytes a letter and no mark.
	l = curve24(6, 8, 64, 27, 0.1, 2, "Žofie", "Řehoř", "Šimon", "Alžběta", "Čeněk", "Jiří")
	read("24-climbing-knots-utf16-bare", "uzly.csv", flags24("Žák", "Pokus", "Sekundy"),
		inUTF16(binary.LittleEndian, false, crlf(lines("Žák;Pokus;Sekundy", l, plain(";", fixedComma(2))))), l)

	// The sports hall's file says what separates it.
	l = curve24(7, 10, 41, 19, 0.11, 2, numbered("lane%d", 6)...)
	read("24-sep-comma", "shuttle.csv", flags24("lane", "shuttle", "secs"),
		append([]byte("sep=,\r\n"), crlf(lines("lane,shuttle,secs", l, plain(",", fixed(2))))...), l)

	// A logger's remarks above a table of tabs.
	l = curve24(8, 12, 33, 14, 0.1, 2, numbered("pip_%02d", 7)...)
	read("24-pipette-logger", "plate filling.tsv", flags24("operator", "plate", "fill_s"),
		append([]byte("# plate filling, 96 wells, by hand\n# fill_s: first tip on to last tip off, seconds\n# clock checked 2026-02-11\n"),
			lines("operator\tplate\tfill_s", l, plain("\t", fixed(2)))...), l)

	// An Italian title, a line for the group, a blank line.
	l = curve24(9, 6, 320, 165, 0.08, 1, numbered("IT%02d", 7)...)
	read("24-title-italian", "laboratorio.csv", flags24("Codice", "Prova", "Secondi"),
		append([]byte("Laboratorio di sutura, anno 2023\nGruppo del martedì\n\n"), lines("Codice;Prova;Secondi", l, plain(";", oneDigitComma))...), l)

	// Two notes below.
	l = curve24(10, 7, 118, 57, 0.09, 1, numbered("SP%d", 8)...)
	read("24-notes-below", "splicing.csv", flags24("rigger", "splice", "seconds"),
		append(lines("rigger,splice,seconds", l, plain(",", oneDigit)),
			"\nTimes by hand-held watch, started at the first tuck.\nTyped by the desk on 3 June.\n"...), l)

	// Everything in quotes, so that the decimal comma does no harm.
	l = curve24(11, 6, 150, 83, 0.09, 1, numbered("kand%d", 8)...)
	read("24-quoted-decimal-comma", "spoiny.csv", flags24("Kandydat", "Próba", "Czas~[s]"),
		lines(`"Kandydat","Próba","Czas [s]"`, l, func(a at) string {
			return fmt.Sprintf(`"%s","%d","%s"`, a.who, a.n, oneDigitComma(a.value))
		}), l)

	// Thousandths of a second with a space at the thousands, as the head says.
	l = curve24(12, 8, 34, 17, 0.1, 3, numbered("labo-%d", 7)...)
	read("24-thousandths-french", "dilutions.csv", flags24("Élève", "Essai", "Durée~(ms)"),
		lines("Élève;Essai;Durée (ms)", l, func(a at) string {
			ms := int(math.Round(a.value * 1000))
			return fmt.Sprintf("%s;%d;%d %03d", a.who, a.n, ms/1000, ms%1000)
		}), l)

	// Minutes and seconds as they are written on a blackboard.
	l = curve24(13, 6, 215, 110, 0.1, 0, "Amparo", "Blas", "Candela", "Dimas", "Elvira", "Fermín", "Gala")
	read("24-primes", "vendajes.csv", flags24("Alumno", "Intento", "Tiempo")+" --limit 600",
		lines("Alumno;Intento;Tiempo", l, plain(";", whole24(`"%d'%02d"""`))), l)

	// Minutes and seconds in words.
	l = curve24(14, 7, 240, 115, 0.09, 0, numbered("elev %d", 7)...)
	read("24-minutes-in-words", "löpsöm.csv", flags24("Elev", "Försök", "Tid"),
		lines("Elev;Försök;Tid", l, plain(";", whole24("%d min %d s"))), l)

	// Hours stand in front, all zero.
	l = curve24(15, 6, 190, 92, 0.1, 0, numbered("Leerling %d", 8)...)
	read("24-hours-in-front", "lasnaad.csv", flags24("Leerling", "Poging", "Tijd")+" --limit 480",
		lines("Leerling;Poging;Tijd", l, plain(";", whole24("00:%02d:%02d"))), l)

	// Swimmers' turns in hundredths.
	l = curve24(16, 10, 78, 51, 0.05, 2, "Ari", "Bodil", "Cosima", "Dag", "Eskil", "Fanny")
	read("24-swim-hundredths", "fifty with turn.csv", flags24("swimmer", "length", "time"),
		lines("swimmer,length,time", l, plain(",", hundredths24("%d:%02d.%02d"))), l)

	// The unit in each cell.
	l = curve24(17, 7, 88, 43, 0.1, 1, numbered("tech%02d", 7)...)
	read("24-unit-in-cells", "crimping.csv", flags24("technician", "plug", "time"),
		lines("technician,plug,time", l, plain(",", func(v float64) string { return oneDigit(v) + " s" })), l)

	// Spanish outcomes, said by the user; the limit is 240 s.
	l = with(stopped(curve24(18, 8, 255, 130, 0.13, 1, numbered("R%02d", 8)...), 240), func(a *at) {
		if a.outcome == "done" && (a.who == "R02" && a.n == 2 || a.who == "R05" && a.n == 1 || a.who == "R07" && a.n == 4) {
			a.outcome = failed24
		}
	})
	read("24-outcomes-spanish", "intubación.csv",
		flags24("residente", "intento", "segundos")+" --outcome resultado --limit 240 --code apto=done --code no~apto=failed --code tiempo~agotado=timeout",
		lines("residente;intento;segundos;resultado", l, func(a at) string {
			word := map[string]string{"done": "apto", failed24: "no apto", "timeout": "tiempo agotado"}[a.outcome]
			return plain(";", oneDigitComma)(a) + ";" + word
		}), l)

	// Outcomes in plain English; a failed try has no time.
	l = with(stopped(curve24(19, 9, 160, 74, 0.14, 1, numbered("vet%d", 7)...), 150), func(a *at) {
		if a.outcome == "done" && (a.who == "vet1" && a.n == 3 || a.who == "vet4" && a.n == 2 || a.who == "vet6" && a.n == 6) {
			a.outcome, a.value = failed24, math.NaN()
		}
	})
	read("24-failed-without-time", "catheter in calves.csv", flags24("student", "attempt", "time_s")+" --outcome outcome --limit 150",
		lines("student,attempt,time_s,outcome", l, func(a at) string {
			cell := ""
			if !math.IsNaN(a.value) {
				cell = oneDigit(a.value)
			}
			return joined(",", a.who, a.n, cell, a.outcome)
		}), l)

	// Passed or not, in words.
	p := with(curve24(20, 10, 100, 40, 0.2, 0, numbered("dent%02d", 8)...), func(a *at) {
		a.value = map[bool]float64{true: 1, false: 0}[a.value < 62]
	})
	read("24-pass-in-words", "crown margin.csv", "--trainee student --attempt crown --response verdict --measure pass-fail",
		lines("student,crown,verdict", p, plain(",", func(v float64) string { return []string{"fail", "pass"}[int(v)] })), p)

	// Mistakes of typists.
	c := curve24(21, 8, 31, 9, 0.25, 0, numbered("bureau%d", 7)...)
	read("24-typing-mistakes", "mistakes.csv", "--trainee typist --attempt page --response mistakes --measure count",
		lines("typist,page,mistakes", c, plain(",", wholeHalfUp)), c)

	// Marks of 100 for a joint in wood.
	s := with(curve24(22, 7, 58, 22, 0.13, 0, numbered("joiner %d", 8)...), func(a *at) { a.value = min(100-a.value, 98) })
	read("24-dovetail-score", "dovetails.tsv", "--trainee Joiner --attempt Joint --response Score~(of~100) --measure score",
		lines("Joiner\tJoint\tScore (of 100)", s, plain("\t", wholeHalfUp)), s)

	// All that was measured below each other; the user takes the times.
	l = curve24(23, 6, 175, 96, 0.1, 1, numbered("id%d", 7)...)
	read("24-one-row-a-number", "melted.csv", flags24("id", "trial", "value")+" --where variable=time",
		lines("id,trial,variable,value", l, func(a at) string {
			return fmt.Sprintf("%s,%d,time,%s\n%s,%d,slips,%d\n%s,%d,path_cm,%d", a.who, a.n, oneDigit(a.value), a.who, a.n, int(a.value*7)%5, a.who, a.n, 300+int(a.value*3)%217)
		}), l)

	// A statistics program's row names, from 1.
	l = curve24(24, 8, 125, 66, 0.1, 2, numbered("sub%02d", 7)...)
	i := 0
	read("24-row-names", "from_stats.csv", flags24("subject", "block", "rt_total_s"),
		lines(`"","subject","block","rt_total_s"`, l, func(a at) string {
			i++
			return fmt.Sprintf(`"%d","%s",%d,%.2f`, i, a.who, a.n, a.value)
		}), l)

	// Codes of the questions, their wording below.
	l = curve24(25, 5, 260, 150, 0.1, 0, numbered("hyg-%02d", 8)...)
	read("24-question-wording", "antworten.csv", flags24("F1", "F2", "F3"),
		lines("\"F1\";\"F2\";\"F3\"\n\"Ihr Kürzel?\";\"Der wievielte Durchgang war das?\";\"Wie viele Sekunden haben Sie gebraucht?\"", l, func(a at) string {
			return fmt.Sprintf(`"%s";"%d";"%.0f"`, a.who, a.n, a.value)
		}), l)

	// Numbers start anew each evening, as the column kveld says.
	l = curve24(26, 9, 84, 40, 0.1, 1, "Aud", "Brage", "Ciljan", "Dyveke", "Embla", "Fartein")
	read("24-evenings", "knuter.csv", flags24("Navn", "Omgang", "Sekunder")+" --session Kveld",
		lines("Navn;Kveld;Omgang;Sekunder", l, func(a at) string {
			return joined(";", a.who, (a.n-1)/3+1, (a.n-1)%3+1, oneDigitComma(a.value))
		}), l)

	// The moment each try began orders them.
	l = curve24(27, 7, 145, 78, 0.1, 1, numbered("bay%d", 6)...)
	read("24-moments", "rig export.csv", "--trainee bay_user --date started --response elapsed_s --measure time",
		lines("started,bay_user,elapsed_s", l, func(a at) string {
			t := meeting24((a.n + 1) / 2).Add(time.Duration(9*3600+int(a.who[3])*613%3000+(a.n%2)*4100+a.n*17) * time.Second)
			if a.n%2 == 1 { // the first of the day is the earlier
				t = t.Add(-7000 * time.Second)
			}
			return joined(",", t.Format("2006-01-02T15:04:05Z"), a.who, oneDigit(a.value))
		}), l)

	// Badges keep their zeros.
	l = curve24(28, 6, 98, 51, 0.09, 1, "007", "012", "019", "023", "101", "108", "230")
	read("24-badge-zeros", "gate.csv", flags24("badge", "run", "seconds"),
		lines("badge,run,seconds", l, plain(",", oneDigit)), l)

	// Remarks with commas, quotes and line breaks.
	l = curve24(29, 5, 205, 118, 0.1, 1, numbered("LT%02d", 7)...)
	read("24-long-remarks", "remarks.csv", flags24("code", "attempt", "seconds"),
		lines("code,attempt,remark,seconds", l, func(a at) string {
			remark := []string{"", `"calm, steady hands"`, `"asked for ""the other"" driver"`, "\"bench too low\nraised by 4 cm\"", "", "left-handed"}[(a.n*5+int(a.who[3]))%6]
			return joined(",", a.who, a.n, remark, oneDigit(a.value))
		}), l)

	// Rows and columns of nothing at the end, from a spreadsheet whose frame was larger.
	l = curve24(30, 6, 112, 60, 0.1, 1, numbered("Z-%d", 7)...)
	read("24-empty-frame", "rahmen.csv", flags24("Person", "Runde", "Sekunden"),
		crlf(append(lines("Person;Runde;Sekunden;;", l, func(a at) string { return plain(";", oneDigitComma)(a) + ";;" }), strings.Repeat(";;;;\n", 9)...)), l)

	// A blank line after each trainee.
	l = curve24(31, 5, 77, 39, 0.1, 1, "Imke", "Jarla", "Knud", "Liv", "Mats", "Nele", "Odo")
	read("24-blank-lines", "blocks.csv", flags24("name", "try", "seconds"),
		lines("name,try,seconds", l, func(a at) string {
			if a.n == 5 && a.who != "Odo" {
				return plain(",", oneDigit)(a) + "\n"
			}
			return plain(",", oneDigit)(a)
		}), l)

	// The name stands once, above its tries.
	l = curve24(32, 6, 187, 99, 0.1, 1, "Hana", "Ivo", "Jaroslava", "Kryštof", "Leoš", "Milena")
	read("24-name-once", "obvazy.csv", flags24("Jméno", "Pokus", "Čas~(s)")+" --fill-down Jméno",
		lines("Jméno;Pokus;Čas (s)", l, func(a at) string {
			if a.n > 1 {
				a.who = ""
			}
			return plain(";", oneDigitComma)(a)
		}), l)

	// Three arms, in Turkish.
	l = curve24(33, 6, 225, 121, 0.1, 1, numbered("ö%02d", 12)...)
	arms := map[string]string{}
	read("24-three-arms", "dikiş.csv", flags24("öğrenci", "deneme", "süre_sn")+" --arm grup",
		lines("öğrenci,grup,deneme,süre_sn", l, func(a at) string {
			arms[a.who] = []string{"video", "eğitmen", "akran"}[int(a.who[len(a.who)-1]-'0')%3]
			return joined(",", a.who, arms[a.who], a.n, oneDigit(a.value))
		}), l).Arms = arms

	// Semicolons under the ending of tabs.
	l = curve24(34, 7, 92, 50, 0.09, 1, numbered("hd%d", 7)...)
	read("24-ending-of-tabs", "haken.tsv", flags24("wer", "mal", "sek"),
		lines("wer;mal;sek", l, plain(";", oneDigitComma)), l)

	// Who comes twice a week and who helps stands in other columns.
	l = curve24(35, 6, 305, 170, 0.11, 0, numbered("PT%02d", 9)...)
	read("24-many-columns", "plaster room.csv", flags24("participant", "cast_no", "duration_seconds")+" --limit 600",
		lines("record,participant,age,hand,site,cast_no,plaster_batch,duration_seconds,water_c,helper", l, func(a at) string {
			k := int(a.who[2]-'0')*10 + int(a.who[3]-'0')
			return joined(",", 4000+k*6+a.n, a.who, 19+k*5%14, []string{"R", "R", "L"}[k%3], "north", a.n, fmt.Sprintf("B%d", 70+a.n/3), wholeHalfUp(a.value), 24+(k+a.n)%5, []string{"none", "peer"}[(k*a.n)%2])
		}), l)
}

func plainWide24() {
	// Heads in many spellings, one meaning each.
	l := curve24(40, 8, 132, 64, 0.1, 1, numbered("Azubi %d", 7)...)
	read("24-wide-german", "bohrungen.csv", "--trainee Azubi --measure time",
		grid24(headLine("Azubi", ";", "%d. Versuch", 8), ";", 8, l, oneDigitComma), l)

	l = curve24(41, 5, 71, 35, 0.1, 2, "Amos", "Bryn", "Cleo", "Dara", "Enya", "Finn", "Gwil", "Hugh")
	read("24-wide-ordinals", "hurdles.csv", "--trainee runner --measure time",
		grid24("runner,1st run,2nd run,3rd run,4th run,5th run", ",", 5, l, fixed(2)), l)

	l = curve24(42, 6, 178, 91, 0.1, 1, "Aimé", "Berthe", "Cyrille", "Désirée", "Élie", "Flavie", "Gaëtan")
	read("24-wide-french", "nœuds.csv", "--trainee Prénom --measure time --limit 400",
		grid24(headLine("Prénom", ";", "Essai n° %d", 6), ";", 6, l, oneDigitComma), l)

	l = curve24(43, 7, 86, 45, 0.1, 1, numbered("C%02d", 9)...)
	l = without(l, func(a at) bool { return a.who == "C03" && a.n > 5 || a.who == "C08" && a.n > 4 })
	read("24-wide-unit-in-head", "chords.csv", "--trainee code --measure time",
		grid24(headLine("code", ",", "T%d (s)", 7), ",", 7, l, oneDigit), l)

	l = curve24(44, 9, 54, 24, 0.1, 2, numbered("swab%d", 6)...)
	read("24-wide-bare-numbers", "swabs.csv", "--trainee who --measure time",
		grid24(headLine("who", ",", "%d", 9), ",", 9, l, fixed(2)), l)

	// First all times, then all slips.
	l = curve24(45, 5, 149, 84, 0.1, 1, numbered("b%d", 8)...)
	read("24-wide-blocks", "times then slips.csv", "--trainee id --response time --measure time",
		blocks24(l), l)

	l = curve24(46, 6, 196, 102, 0.1, 1, "Agata", "Bogdan", "Celina", "Dobromir", "Edyta", "Feliks", "Gracja")
	read("24-wide-roman", "szwy.csv", "--trainee Imię --measure time",
		grid24("Imię;Próba I;Próba II;Próba III;Próba IV;Próba V;Próba VI", ";", 6, l, oneDigitComma), l)

	l = curve24(47, 6, 66, 33, 0.1, 1, numbered("cadet %d", 8)...)
	read("24-wide-words", "rope.csv", "--trainee Cadet --measure time",
		grid24("Cadet,First try,Second try,Third try,Fourth try,Fifth try,Sixth try", ",", 6, l, oneDigit), l)

	l = curve24(48, 6, 143, 77, 0.1, 1, numbered("PID%d", 7)...)
	read("24-wide-long-names", "wideform.csv", "--trainee PID --measure time",
		grid24(headLine("PID", ",", "Attempt%d_Time_sec", 6), ",", 6, l, oneDigit), l)

	// The days of the meetings as heads.
	l = curve24(49, 6, 162, 85, 0.1, 1, numbered("choir%d", 7)...)
	head := "member"
	for n := 1; n <= 6; n++ {
		head += "," + meeting24(n).Format("2006-01-02")
	}
	read("24-wide-days", "music stands.csv", "--trainee member --measure time", grid24(head, ",", 6, l, oneDigit), l)

	// A column a trainee; some stopped sooner.
	l = curve24(50, 9, 101, 52, 0.1, 1, "Adela", "Breno", "Chema", "Dora", "Eloy", "Fidel")
	l = without(l, func(a at) bool { return a.who == "Breno" && a.n > 7 || a.who == "Eloy" && a.n > 6 })
	read("24-column-a-trainee", "ronda.csv", "--columns-are trainee --attempt Ronda --measure time",
		turned24("Ronda", ";", 9, l, oneDigitComma), l)

	// Names of fields below each other.
	l = curve24(51, 4, 212, 130, 0.1, 1, numbered("q%d", 6)...)
	rows := []string{"Kürzel", "Durchgang", "Tag", "Sekunden"}
	for _, a := range l {
		for k, v := range []any{a.who, a.n, meeting24(a.n).Format("02.01.2006"), oneDigitComma(a.value)} {
			rows[k] += fmt.Sprint(";", v)
		}
	}
	read("24-fields-below", "quer.csv", "--transposed "+flags24("Kürzel", "Durchgang", "Sekunden"), []byte(strings.Join(rows, "\n")+"\n"), l)

	// Minutes and seconds in a wide table.
	l = curve24(52, 6, 201, 98, 0.1, 0, "Asta", "Birk", "Cecilie", "Ditte", "Esben", "Frida", "Gorm")
	read("24-wide-minutes", "splinter.csv", "--trainee Navn --measure time --limit 420",
		grid24(headLine("Navn", ";", "Forsøg %d", 6), ";", 6, l, whole24("%d:%02d")), l)
}

// blocks24 is a wide table of all times and then all slips.
func blocks24(l []at) []byte {
	var b bytes.Buffer
	b.WriteString("id,time_1,time_2,time_3,time_4,time_5,slips_1,slips_2,slips_3,slips_4,slips_5,site\n")
	for k, w := range traineesOf(l) {
		cells, slips := []string{w}, []string{}
		for _, a := range attemptsOf(l, w) {
			cells = append(cells, oneDigit(a.value))
			slips = append(slips, fmt.Sprint(int(a.value*10)%4))
		}
		b.WriteString(strings.Join(append(append(cells, slips...), []string{"east", "west"}[k%2]), ",") + "\n")
	}
	return b.Bytes()
}

func plainBooks24() {
	// Tenths kept in time cells.
	l := curve24(60, 6, 168, 80, 0.1, 1, "Alma", "Boris", "Cyntia", "Dovid", "Eszter", "Ferko", "Gita")
	b := newBook("Mérés")
	b.row("A1", headCells("Név", "%d. kísérlet", 6)...)
	b.wide(2, l, ofDay)
	b.format("B2", "G8", "mm:ss.0")
	read("24-time-cells-tenths", "mérés.xlsx", "--trainee Név --measure time", b.bytes(), l)

	// The day and how long it took, a row each.
	l = curve24(61, 6, 285, 160, 0.1, 0, numbered("ifsi%02d", 7)...)
	b = newBook("Feuille")
	b.log([]any{"Étudiant", "Séance", "Le", "Durée"}, l, func(a at) []any { return []any{a.who, a.n, meeting24(a.n), ofDay(a)} })
	b.format("C2", "C43", "dd/mm/yyyy")
	b.format("D2", "D43", "h:mm:ss")
	read("24-day-and-duration", "pansements.xlsx", flags24("Étudiant", "Séance", "Durée")+" --limit 900", b.bytes(), l)

	// Days from 1904, durations in minutes and seconds.
	l = curve24(62, 5, 192, 109, 0.1, 0, numbered("H%d", 7)...)
	b = newBook("Tabelle A")
	yes := true
	must(b.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}))
	b.log([]any{"Initialen", "Datum", "Durchgang", "Zeit"}, l, func(a at) []any { return []any{a.who, 44573 - 1462 + 7*a.n, a.n, ofDay(a)} })
	b.format("B2", "B36", "d. mmm yyyy")
	b.format("D2", "D36", "[m]:ss")
	read("24-durations-from-1904", "naht 1904.xlsx", flags24("Initialen", "Durchgang", "Zeit")+" --limit 600", b.bytes(), l)

	// The letter before the number is in the number's format.
	l = curve24(63, 6, 107, 58, 0.1, 1, numbered("K-%03d", 8)...)
	b = newBook("Kurs")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, func(a at) []any { return []any{number(a.who[2:]), a.n, a.value} })
	b.format("A2", "A49", `"K-"000`)
	read("24-letter-in-format", "course k.xlsx", flags24("Code", "Attempt", "Seconds"), b.bytes(), l)

	// Minutes and seconds were typed apart, the sheet makes seconds of them.
	l = curve24(64, 6, 233, 122, 0.1, 0, numbered("mason%d", 7)...)
	b = newBook("Bricks")
	b.row("A1", "Mason", "Course", "Min", "Sec", "Seconds in all")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), a.who, a.n, int(a.value)/60, int(a.value)%60)
		must(b.SetCellFormula(b.sheet, fmt.Sprint("E", i+2), fmt.Sprintf("C%d*60+D%d", i+2, i+2)))
	}
	read("24-seconds-in-all", "bricks.xlsx", flags24("Mason", "Course", "Seconds~in~all"), office("24-seconds-in-all", "bricks.xlsx", b.bytes()), l)

	// A hidden sheet holds the lists for the cells to choose from; the user names the sheet.
	l = curve24(65, 7, 126, 67, 0.1, 1, numbered("N%02d", 7)...)
	b = newBook("Daten")
	b.log([]any{"Kürzel", "Raum", "Versuch", "Sekunden"}, l, func(a at) []any {
		return []any{a.who, []string{"Raum 1", "Raum 2"}[int(a.who[2]-'0')%2], a.n, a.value}
	})
	b.next("Listen")
	b.row("A1", "Räume")
	b.row("A2", "Raum 1")
	b.row("A3", "Raum 2")
	must(b.SetSheetVisible("Listen", false))
	read("24-hidden-lists", "auswahl.xlsx", flags24("Kürzel", "Versuch", "Sekunden")+" --sheet Daten", b.bytes(), l)

	// A sheet a trainee, of the free office program.
	who := []string{"Taimi", "Urho", "Venla", "Wäinö", "Aino"}
	l = curve24(66, 8, 90, 44, 0.1, 1, who...)
	b = newBook(who[0])
	for k, w := range who {
		if k > 0 {
			b.next(w)
		}
		b.log([]any{"Yritys", "Sekuntia"}, attemptsOf(l, w), func(a at) []any { return []any{a.n, a.value} })
	}
	read("24-sheet-a-trainee-ods", "solmut.ods", "--sheets-are trainee --attempt Yritys --response Sekuntia --measure time", office("24-sheet-a-trainee-ods", "solmut.ods", b.bytes()), l)

	// A sheet a session; the tries start anew in each.
	l = curve24(67, 9, 139, 70, 0.1, 1, numbered("sax%d", 6)...)
	b = newBook("Session 1")
	for s := range 3 {
		if s > 0 {
			b.next(fmt.Sprint("Session ", s+1))
		}
		b.log([]any{"Player", "Try", "Seconds"}, only(l, func(a at) bool { return (a.n-1)/3 == s }), func(a at) []any { return []any{a.who, (a.n-1)%3 + 1, a.value} })
	}
	read("24-sheets-start-anew", "reed change.xlsx", "--sheets-are session "+flags24("Player", "Try", "Seconds"), b.bytes(), l)

	// Three rows of heads: what, which, unit.
	l = curve24(68, 6, 154, 82, 0.1, 1, numbered("ZT%02d", 8)...)
	b = newBook("Wax")
	b.row("A1", nil, "Wax-up of a molar")
	must(b.MergeCell(b.sheet, "B1", "G1"))
	b.row("A2", headCells("Student", "Attempt %d", 6)...)
	b.row("A3", nil, "s", "s", "s", "s", "s", "s")
	b.wide(4, l, value)
	read("24-three-rows-of-heads", "wax.xlsx", "--trainee Student --measure time --heads 3", b.bytes(), l)

	// The measure above, the numbers below.
	l = curve24(69, 5, 171, 93, 0.1, 1, numbered("op%d", 7)...)
	b = newBook("Peg board")
	b.row("A1", "Code", "Time (s)", nil, nil, nil, nil, "Drops")
	b.row("A2", nil, 1, 2, 3, 4, 5, 1, 2, 3, 4, 5)
	must(b.MergeCell(b.sheet, "A1", "A2"))
	must(b.MergeCell(b.sheet, "B1", "F1"))
	must(b.MergeCell(b.sheet, "G1", "K1"))
	b.wide(3, l, value)
	for i, a := range l {
		b.put(6+a.n, i/5+3, int(a.value*10)%3)
	}
	read("24-measure-above-numbers", "peg board.xlsx", "--trainee Code --measure time --response Time~(s)", b.bytes(), l)

	// Heads partly bold, partly not.
	l = curve24(70, 6, 121, 63, 0.1, 1, numbered("F-%d", 7)...)
	b = newBook("Log")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	for cell, parts := range map[string][2]string{"A1": {"Co", "de"}, "B1": {"Att", "empt"}, "C1": {"Sec", "onds"}} {
		must(b.SetCellRichText(b.sheet, cell, []excelize.RichTextRun{{Text: parts[0], Font: &excelize.Font{Bold: true}}, {Text: parts[1], Font: &excelize.Font{Italic: true}}}))
	}
	read("24-heads-half-bold", "fancy.xlsx", flags24("Code", "Attempt", "Seconds"), b.bytes(), l)

	// The table stands away from the corner.
	l = curve24(71, 5, 182, 97, 0.1, 1, "Ruta", "Simas", "Tadas", "Ugnė", "Viltė", "Žygis")
	b = newBook("Lapas")
	b.row("C2", "Pamatavimai, rudens grupė")
	b.row("C5", "Vardas", "Bandymas", "Sekundės")
	for i, a := range l {
		b.row(fmt.Sprint("C", i+6), longRow(a)...)
	}
	read("24-away-from-corner", "lapas.xlsx", flags24("Vardas", "Bandymas", "Sekundės"), b.bytes(), l)

	// Written row by row by a program, texts within the cells; two arms.
	l = curve24(72, 6, 158, 86, 0.1, 1, numbered("P%02d", 10)...)
	arms := map[string]string{}
	b = newBook("export")
	w, err := b.NewStreamWriter("export")
	must(err)
	must(w.SetRow("A1", []any{"participant", "condition", "trial", "duration_s"}))
	for i, a := range l {
		arms[a.who] = []string{"mirror", "plain"}[int(a.who[2]-'0')%2]
		must(w.SetRow(fmt.Sprint("A", i+2), []any{a.who, arms[a.who], a.n, a.value}))
	}
	must(w.Flush())
	read("24-written-by-program", "export.xlsx", flags24("participant", "trial", "duration_s")+" --arm condition", b.bytes(), l).Arms = arms

	// Mean and SD below.
	l = curve24(73, 6, 147, 79, 0.1, 1, numbered("T%02d", 8)...)
	b = newBook("Tracheal tube")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	b.wide(2, l, value)
	b.put(1, 11, "Mean")
	b.put(1, 12, "SD")
	for c := 2; c <= 7; c++ {
		must(b.SetCellFormula(b.sheet, cellName(c, 11), fmt.Sprintf("ROUND(AVERAGE(%s:%s),1)", cellName(c, 2), cellName(c, 9))))
		must(b.SetCellFormula(b.sheet, cellName(c, 12), fmt.Sprintf("ROUND(STDEV(%s:%s),1)", cellName(c, 2), cellName(c, 9))))
	}
	read("24-mean-and-sd-below", "tracheal tube.xlsx", "--trainee Code --measure time", office("24-mean-and-sd-below", "tracheal tube.xlsx", b.bytes()), l)

	// Everybody's mean at the right.
	l = curve24(74, 5, 113, 61, 0.1, 1, "Astrid", "Børge", "Camilla", "Davíð", "Eyvind", "Fríða")
	b = newBook("Ark1")
	b.row("A1", "Navn", "Forsøk 1", "Forsøk 2", "Forsøk 3", "Forsøk 4", "Forsøk 5", "Gjennomsnitt")
	b.wide(2, l, value)
	for r := 2; r <= 7; r++ {
		must(b.SetCellFormula(b.sheet, cellName(7, r), fmt.Sprintf("ROUND(AVERAGE(B%d:F%d),1)", r, r)))
	}
	read("24-mean-at-the-right", "garn.xlsx", "--trainee Navn --measure time", office("24-mean-at-the-right", "garn.xlsx", b.bytes()), l)

	// Durations beside each other in the free office program.
	l = curve24(75, 6, 207, 111, 0.1, 0, numbered("Bénévole %d", 7)...)
	b = newBook("Garrots")
	b.row("A1", headCells("Bénévole", "Essai %d", 6)...)
	b.wide(2, l, ofDay)
	b.format("B2", "G8", "[mm]:ss")
	read("24-durations-beside", "garrots.ods", "--trainee Bénévole --measure time --limit 600", office("24-durations-beside", "garrots.ods", b.bytes()), l)

	// No numbers: the day orders the tries.
	l = curve24(76, 7, 135, 72, 0.1, 1, "Livia", "Matteo", "Nora", "Orsola", "Pio")
	b = newBook("Ricamo")
	b.log([]any{"Nome", "Giorno", "Secondi"}, l, func(a at) []any { return []any{a.who, meeting24(a.n), a.value} })
	b.format("B2", "B36", "dd/mm/yyyy")
	read("24-day-orders", "ricamo.xlsx", "--trainee Nome --date Giorno --response Secondi --measure time", b.bytes(), l)

	// The heads are numbers.
	l = curve24(77, 8, 59, 28, 0.1, 2, numbered("drum%d", 6)...)
	b = newBook("Rolls")
	b.row("A1", "Pupil", 1, 2, 3, 4, 5, 6, 7, 8)
	b.wide(2, l, value)
	read("24-heads-are-numbers", "rolls.xlsx", "--trainee Pupil --measure time", b.bytes(), l)

	// What became of it, in two letters; the limit is 180 s.
	l = stopped(curve24(78, 7, 200, 104, 0.13, 1, numbered("RN%02d", 8)...), 180)
	b = newBook("IV")
	b.log([]any{"Nurse", "Attempt", "Seconds", "Result"}, l, func(a at) []any {
		return append(longRow(a), map[string]string{"done": "OK", "timeout": "TO"}[a.outcome])
	})
	read("24-two-letters", "iv starts.xlsx", flags24("Nurse", "Attempt", "Seconds")+" --outcome Result --limit 180 --code OK=done --code TO=timeout", b.bytes(), l)

	// Two years in one workbook; the user asks for one.
	l = curve24(79, 6, 164, 90, 0.1, 1, numbered("B%02d", 7)...)
	b = newBook("2023")
	b.log([]any{"Code", "Attempt", "Seconds"}, curve24(80, 6, 164, 90, 0.1, 1, numbered("A%02d", 7)...), longRow)
	b.next("2024")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	read("24-one-year-of-two", "both years.xlsx", flags24("Code", "Attempt", "Seconds")+" --sheet 2024", b.bytes(), l)

	// A free office program's own words, with many blank rows after.
	l = curve24(81, 5, 129, 68, 0.1, 1, numbered("S%d", 7)...)
	rows := []string{odsRow(odsText("Schüler"), odsText("Versuch"), odsText("Sekunden"), `<table:table-cell table:number-columns-repeated="1021"/>`)}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value), `<table:table-cell table:number-columns-repeated="1021"/>`))
	}
	rows = append(rows, `<table:table-row table:number-rows-repeated="1048540"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>`)
	read("24-blank-to-the-end", "werkstatt.ods", flags24("Schüler", "Versuch", "Sekunden"), ods(rows...), l)

	// How much of the checklist was done stands beside, in percent.
	l = curve24(82, 6, 217, 125, 0.1, 1, numbered("res%d", 7)...)
	b = newBook("Central line")
	b.log([]any{"Resident", "Attempt", "Checklist", "Seconds"}, l, func(a at) []any {
		return []any{a.who, a.n, float64(96-int(a.value)%38) / 100, a.value}
	})
	b.format("C2", "C43", "0%")
	read("24-percent-beside", "central line.xlsx", flags24("Resident", "Attempt", "Seconds")+" --limit 600", b.bytes(), l)

	// Minutes and seconds typed as text.
	l = curve24(83, 6, 225, 119, 0.1, 0, numbered("boat%d", 7)...)
	b = newBook("Rigging")
	b.log([]any{"Crew", "Rig", "Time (m:ss)"}, l, func(a at) []any { return []any{a.who, a.n, whole24("%d:%02d")(a.value)} })
	read("24-minutes-as-text", "rigging.xlsx", flags24("Crew", "Rig", "Time~(m:ss)")+" --limit 600", b.bytes(), l)

	// A workbook under the ending of text.
	l = curve24(85, 6, 152, 83, 0.1, 1, numbered("mill%d", 7)...)
	b = newBook("Milling")
	b.log([]any{"Code", "Attempt", "Seconds"}, l, longRow)
	read("24-workbook-named-text", "milling.csv", flags24("Code", "Attempt", "Seconds"),
		kept("24-workbook-named-text", "milling.csv", b.bytes), l)

	// Saved as text by an office program, tabs between, whole table in quotes.
	l = curve24(84, 7, 137, 71, 0.1, 1, "Ilze", "Jānis", "Krišjānis", "Līga", "Mārtiņš", "Ņina")
	b = newBook("Lapa1")
	b.log([]any{"Vārds", "Reize", "Sekundes"}, l, longRow)
	read("24-tabs-and-quotes", "mezgli.csv", flags24("Vārds", "Reize", "Sekundes"),
		officeFrom("24-tabs-and-quotes", "mezgli.csv", ".xlsx", "csv:Text - txt - csv (StarCalc):9,34,76,1,,0,true,true", b.bytes()), l)
}

// A probe24 is a row of a bench that knows when and how long.
type probe24 struct {
	Who     string    `parquet:"who"`
	Bench   string    `parquet:"bench,dict"`
	Begun   time.Time `parquet:"begun,timestamp(microsecond)"`
	Seconds float64   `parquet:"seconds"`
}

// A timed24 is a row of a bench that counts thousandths and says so, and what came of it.
type timed24 struct {
	ID       string  `parquet:"id"`
	Trial    int32   `parquet:"trial"`
	Duration int32   `parquet:"duration_ms"`
	Comment  *string `parquet:"comment,optional"`
}

// A drill24 is a row with an arm.
type drill24 struct {
	Trainee   string  `parquet:"trainee"`
	Programme string  `parquet:"programme,dict"`
	Attempt   int16   `parquet:"attempt"`
	Seconds   float32 `parquet:"seconds"`
}

func plainRest24() {
	l := curve24(90, 8, 119, 62, 0.1, 2, numbered("bench-%d", 7)...)
	var probes []probe24
	for i, a := range l {
		probes = append(probes, probe24{a.who, "B" + fmt.Sprint(i/8%3), meeting24(a.n).Add(time.Duration(10*60+i*11%90) * time.Minute), a.value})
	}
	read("24-parquet-moments", "benches.parquet", "--trainee who --date begun --response seconds --measure time", parquetOf(probes), l)

	l = curve24(91, 9, 46, 22, 0.1, 3, numbered("u%02d", 6)...)
	var timed []timed24
	note := "changed gloves"
	for i, a := range l {
		row := timed24{a.who, int32(a.n), int32(math.Round(a.value * 1000)), nil}
		if i%11 == 4 {
			row.Comment = &note
		}
		timed = append(timed, row)
	}
	read("24-parquet-thousandths", "gloves.parquet", flags24("id", "trial", "duration_ms"), parquetOf(timed), l)

	l = curve24(92, 6, 151, 80, 0.1, 0, numbered("d%02d", 10)...)
	l = with(l, func(a *at) { a.value += float64(int(a.value)%4) * 0.25 })
	arms := map[string]string{}
	var drills []drill24
	for _, a := range l {
		arms[a.who] = []string{"daily", "weekly"}[int(a.who[2]-'0')%2]
		drills = append(drills, drill24{a.who, arms[a.who], int16(a.n), float32(a.value)})
	}
	read("24-parquet-arms", "drills.parquet", flags24("trainee", "attempt", "seconds")+" --arm programme", parquetOf(drills), l).Arms = arms

	// Three rooms, a file each, written by three people with unlike spreadsheets.
	l = curve24(93, 6, 174, 95, 0.1, 1, numbered("P%02d", 12)...)
	room := func(k int) []at { return l[k*24 : k*24+24] }
	t := study22(read("24-study-three-rooms", ".", "", nil, l), "room1.csv", `tasks: [{name: splint, measure: time, column: seconds, limit: 600}]
attempts:
  files: [room1.csv, room2.csv, room3.tsv]
`, lines("trainee,attempt,seconds", room(0), plain(",", oneDigit)))
	t.files["room2.csv"] = lines("trainee;attempt;seconds", room(1), plain(";", oneDigitComma))
	t.files["room3.tsv"] = lines("trainee\tattempt\tseconds", room(2), plain("\t", oneDigit))

	// Other names for the columns, two arms.
	l = curve24(94, 7, 128, 69, 0.1, 1, numbered("fl%02d", 8)...)
	arms = map[string]string{}
	for _, a := range l {
		arms[a.who] = []string{"slow first", "fast first"}[int(a.who[3]-'0')%2]
	}
	study22(read("24-study-flutes", ".", "", nil, l), "flutes.csv", `tasks: [{name: scales, measure: time, column: sec}]
attempts:
  file: flutes.csv
  columns: {trainee: pupil, attempt: go, arm: way}
`, lines("pupil,way,go,sec", l, func(a at) string { return joined(",", a.who, arms[a.who], a.n, oneDigit(a.value)) })).Arms = arms

	// Masters beside apprentices, each a file of its own.
	l = curve24(95, 8, 188, 92, 0.1, 1, numbered("app%d", 7)...)
	experts := curve24(96, 3, 74, 70, 0.07, 1, numbered("master%d", 5)...)
	t = study22(read("24-study-masters", ".", "", nil, l), "apprentices.csv", `tasks: [{name: weld, measure: time, column: seconds, limit: 480}]
attempts: {file: apprentices.csv}
experts: {file: masters.csv}
`, lines("trainee;attempt;seconds", l, plain(";", oneDigitComma)))
	t.files["masters.csv"] = lines("trainee;attempt;seconds", experts, plain(";", oneDigitComma))
	t.Experts = experts
}

func doubtText24() {
	long := flags24("code", "try", "seconds")
	head := "code,try,seconds"

	l := curve24(100, 6, 150, 80, 0.1, 1, numbered("M%d", 7)...)
	doubt("24-comma-splits", "maalen.csv", long, lines(head, l, plain(",", oneDigitComma)), l,
		"Every row has four cells under three heads: the decimal comma stands bare in a file that commas separate.")

	// Keystrokes with a point at the thousands.
	c := with(curve24(101, 7, 420, 900, 0.07, 0, numbered("tip%d", 8)...), func(a *at) { a.value = math.Round(a.value * 1.35) })
	doubt("24-points-at-thousands", "anschläge.csv", "--trainee wer --attempt übung --response anschläge --measure count",
		lines("wer;übung;anschläge", c, plain(";", func(v float64) string {
			if v >= 1000 {
				return fmt.Sprintf("%d.%03d", int(v)/1000, int(v)%1000)
			}
			return wholeHalfUp(v)
		})), c, "The column anschläge: 1.124 and the like stand among 842 and 967; the point marks thousands.")

	// From the fifth try on a new watch that shows minutes.
	l = curve24(102, 8, 165, 92, 0.1, 1, numbered("LS%d", 6)...)
	doubt("24-new-watch", "new watch.csv", flags24("code", "try", "time"),
		lines("code,try,time", l, func(a at) string {
			if a.n >= 5 {
				return fmt.Sprintf("%s,%d,%.2f", a.who, a.n, a.value/60)
			}
			return plain(",", oneDigit)(a)
		}), nil, "From try 5 on all times of everybody are between 1 and 3, before it 80 to 200: minutes after seconds.")

	l = curve24(103, 7, 105, 58, 0.09, 2, numbered("sprint%d", 7)...)
	doubt("24-hundredths-after-colon", "stopwatch.csv", flags24("code", "try", "time")+" --limit 300",
		lines("code,try,time", l, plain(",", hundredths24("%d:%02d:%02d"))), l,
		"The column time holds 1:12:84 and the like, the last part up to 99: minutes, seconds and hundredths, not hours.")

	l = curve24(104, 8, 170, 85, 0.1, 0, numbered("NB%d", 7)...)
	gone := map[int]bool{2: true, 19: true, 20: true, 41: true}
	doubt("24-nines-without-limit", "neonatal.csv", long, lines(head, with(l, func(a *at) {
		for i := range gone {
			if l[i].who == a.who && l[i].n == a.n {
				a.value = 999
			}
		}
	}), plain(",", wholeHalfUp)), nil,
		"Four rows (NB1 try 3, NB3 tries 4 and 5, NB6 try 2) hold 999 among times of 60 to 250: a code, not a time.")

	doubt("24-minus-nine", "spss.csv", long, lines(head, with(l, func(a *at) {
		if a.who == "NB2" && a.n == 3 || a.who == "NB5" && a.n == 7 {
			a.value = -9
		}
	}), plain(",", wholeHalfUp)), nil, "NB2, try 3, and NB5, try 7, hold -9: a code for missing, no time is below 0.")

	// Begin and end by the wall clock; the user took the end.
	i := 0
	doubt("24-end-by-the-clock", "wall clock.csv", "--trainee code --attempt try --response end --measure time",
		lines("code,try,begin,end", curve24(105, 6, 240, 130, 0.1, 0, numbered("W%d", 6)...), func(a at) string {
			i++
			t := time.Date(2025, 1, 1, 8, 40+a.n, 13*i%60, 0, time.UTC).Add(time.Duration(8*i) * time.Minute)
			return joined(",", a.who, a.n, t.Format("15:04:05"), t.Add(time.Duration(a.value)*time.Second).Format("15:04:05"))
		}), nil, "The column end holds times of the day (08:49:17 to about 13:40), beside a column begin: not how long a try took.")

	l = curve24(106, 7, 140, 76, 0.09, 1, numbered("EL%02d", 8)...)
	doubt("24-point-slipped", "elbow.csv", long, lines(head, with(l, func(a *at) {
		if a.who == "EL06" && a.n == 5 {
			a.value = math.Round(a.value*10) / 100
		}
	}), plain(",", point)), l, "EL06, try 5: a tenth of the tries before and after, with two decimals where the others have one; the point slipped.")

	l = with(curve24(107, 7, 132, 70, 0.14, 1, numbered("AP%d", 8)...), func(a *at) {
		if a.value >= 100 {
			a.value, a.outcome = 100, "timeout"
		}
	})
	doubt("24-timeouts-below-limit", "airway pod.csv", long+" --outcome result --limit 120",
		lines(head+",result", l, func(a at) string { return plain(",", oneDigit)(a) + "," + a.outcome }), nil,
		"All timeouts stand at 100 and no time is above it although the limit is said to be 120: the limit was 100, or the timeouts are wrong.")

	l = curve24(108, 7, 175, 95, 0.12, 1, numbered("CB%d", 8)...)
	doubt("24-beyond-limit", "cable.csv", long+" --limit 180", lines(head, l, plain(",", oneDigit)), nil,
		"Some times, most of them of first tries, stand above the limit of 180 s, though nothing says what became of them.")

	// Outcomes that nobody named.
	l = with(curve24(109, 7, 190, 100, 0.1, 1, numbered("KB%d", 8)...), func(a *at) {
		if a.n <= 3 && int(a.value*10)%3 == 0 {
			a.outcome = failed24
		}
	})
	doubt("24-result-not-named", "knoop.csv", long, lines("code;try;seconds;resultaat", l, func(a at) string {
		return plain(";", oneDigitComma)(a) + ";" + map[string]string{"done": "geslaagd", failed24: "niet geslaagd"}[a.outcome]
	}), nil, "The column resultaat, with niet geslaagd in some rows, was not named by a flag.")

	// Either hand.
	l = curve24(110, 5, 96, 55, 0.1, 1, numbered("H%02d", 7)...)
	other := curve24(111, 5, 128, 76, 0.1, 1, numbered("H%02d", 7)...)
	k := -1
	doubt("24-either-hand", "hands.csv", long, lines("code,hand,try,seconds", l, func(a at) string {
		k++
		return fmt.Sprintf("%s,right,%d,%.1f\n%s,left,%d,%.1f", a.who, a.n, a.value, a.who, a.n, other[k].value)
	}), nil, "The column hand has right and left: every try stands twice, once for each hand.")

	// Times and drops of the same tries below each other.
	l = curve24(112, 6, 143, 81, 0.1, 1, numbered("mx%d", 7)...)
	doubt("24-two-measures", "all values.csv", flags24("code", "try", "value"), lines("code,try,measure,value", l, func(a at) string {
		return fmt.Sprintf("%s,%d,seconds,%.1f\n%s,%d,drops,%d", a.who, a.n, a.value, a.who, a.n, int(a.value*10)%4)
	}), nil, "The column measure has seconds and drops: every try stands twice, and only one of them is a time.")

	// 0 and 1, and no word what they are.
	p := with(curve24(113, 9, 100, 40, 0.2, 0, numbered("it%02d", 8)...), func(a *at) {
		a.value = map[bool]float64{true: 1, false: 0}[a.value < 60]
	})
	doubt("24-ones-without-measure", "in or out.csv", "--trainee code --attempt try --response in", lines("code,try,in", p, plain(",", wholeHalfUp)), nil,
		"No measure was said: the column in holds 0 and 1 alone, passed or not, no time or score.")

	// 1/2 became the first of February.
	l = curve24(114, 6, 123, 66, 0.1, 1, numbered("sw%d", 6)...)
	doubt("24-tries-became-days", "swing.csv", long, lines("code;try;seconds", l, func(a at) string {
		return joined(";", a.who, fmt.Sprintf("%02d.%s", (a.n-1)%3+1, []string{"Jan", "Feb"}[(a.n-1)/3]), oneDigitComma(a.value))
	}), nil, "The column try holds 01.Jan, 02.Jan, 01.Feb: try and session turned into days.")

	// Nothing says which is the month.
	l = curve24(115, 5, 156, 88, 0.1, 1, numbered("dm%d", 6)...)
	days := []string{"03/04/2025", "10/04/2025", "02/05/2025", "09/05/2025", "06/06/2025"}
	doubt("24-day-or-month", "slashes.csv", "--trainee code --date day --response seconds --measure time", lines("code,day,seconds", l, func(a at) string {
		a = attemptsOf(l, a.who)[[]int{1, 4, 0, 3, 2}[a.n-1]] // the list is not in order
		return joined(",", a.who, days[a.n-1], oneDigit(a.value))
	}), nil, "The column day: 03/04, 10/04, 02/05 and the like may be day or month first, and the order of the tries hangs on it.")

	// A mean after each trainee.
	l = curve24(116, 6, 138, 74, 0.1, 1, numbered("gl%d", 7)...)
	doubt("24-mean-rows", "with means.csv", long, lines(head, l, func(a at) string {
		row := plain(",", oneDigit)(a)
		if a.n == 6 {
			sum := 0.0
			for _, x := range attemptsOf(l, a.who) {
				sum += x.value / 6
			}
			row += fmt.Sprintf("\n%s,mean,%.1f", a.who, sum)
		}
		return row
	}), l, "After each trainee a row whose try is mean: no attempt.")

	// The sum at the end.
	l = curve24(117, 6, 99, 52, 0.1, 1, numbered("sp%d", 7)...)
	sum := 0.0
	for _, a := range l {
		sum += a.value
	}
	doubt("24-total-row", "spokes.csv", long, append(lines(head, l, plain(",", oneDigit)), fmt.Sprintf("Total,%d,%.1f\n", len(l), sum)...), l,
		"The last row, Total, is the sum of all, no trainee.")

	// The numbers start anew each day and the day was not named.
	l = curve24(118, 9, 116, 60, 0.1, 1, numbered("ra%d", 6)...)
	doubt("24-anew-each-day", "three days.csv", long, lines("code,day,try,seconds", l, func(a at) string {
		return joined(",", a.who, (a.n-1)/3+1, (a.n-1)%3+1, oneDigit(a.value))
	}), nil, "Tries 1 to 3 of everybody stand three times, once for each day: the column day was not named.")

	// The export was appended to itself.
	l = curve24(119, 6, 160, 87, 0.1, 1, numbered("tw%d", 6)...)
	once := lines(head, l, plain(",", oneDigit))
	doubt("24-appended-to-itself", "joined.csv", long, append(bytes.Clone(once), once...), l,
		"From row 38 on the head and all rows stand a second time.")

	// 33 for 3.
	l = curve24(120, 6, 134, 73, 0.1, 1, numbered("pq%d", 7)...)
	doubt("24-thirty-three", "bouncing key.csv", long, lines(head, l, func(a at) string {
		if a.who == "pq4" && a.n == 3 {
			return joined(",", a.who, 33, oneDigit(a.value))
		}
		return plain(",", oneDigit)(a)
	}), l, "pq4: try 33 stands between 2 and 4, where everybody has six tries; it is 3.")

	l = curve24(121, 6, 148, 82, 0.1, 1, numbered("mn%d", 7)...)
	doubt("24-below-zero", "minus.csv", long, lines(head, with(l, func(a *at) {
		if a.who == "mn3" && a.n == 4 {
			a.value = -a.value
		}
	}), plain(",", oneDigit)), nil, "mn3, try 4, is below 0.")

	doubt("24-zeros-for-absent", "absent.csv", long, lines(head, with(l, func(a *at) {
		if a.who == "mn2" && a.n == 2 || a.who == "mn6" && a.n >= 5 {
			a.value = 0
		}
	}), plain(",", oneDigit)), nil, "mn2, try 2, and mn6, tries 5 and 6, hold 0: nobody takes no time; they were absent.")

	l = curve24(122, 6, 176, 98, 0.1, 1, numbered("st%d", 7)...)
	doubt("24-stars", "starred.csv", long, append(lines(head, l, func(a at) string {
		row := plain(",", oneDigit)(a)
		if a.who == "st2" && a.n == 1 || a.who == "st5" && a.n == 2 {
			row += "*"
		}
		return row
	}), "\n* stopped by the tutor\n"...), nil, "st2, try 1, and st5, try 2, bear a star: stopped by the tutor, says the note below.")

	doubt("24-more-than", "more than.csv", long, lines(head, l, func(a at) string {
		if a.value > 170 {
			return joined(",", a.who, a.n, ">170")
		}
		return plain(",", oneDigit)(a)
	}), nil, "Cells >170: the try was stopped there or its end was not seen; no limit was said.")

	l = curve24(123, 6, 161, 90, 0.1, 1, numbered("ox%d", 7)...)
	doubt("24-letter-for-zero", "ocr.csv", long, lines(head, l, func(a at) string {
		row := plain(",", oneDigit)(a)
		if i := strings.LastIndex(row, "0"); a.who == "ox5" && i > len("ox5,1,") {
			row = row[:i] + "O" + row[i+1:]
		}
		return row
	}), nil, "ox5: the letter O stands for the digit 0 in some times.")

	// Minutes in one column, seconds in the next.
	l = curve24(124, 6, 205, 112, 0.1, 0, numbered("zw%d", 7)...)
	doubt("24-minutes-in-next-column", "minutes apart.csv", flags24("code", "try", "sec"), lines("code,try,min,sec", l, func(a at) string {
		return joined(",", a.who, a.n, int(a.value)/60, int(a.value)%60)
	}), nil, "The column sec never reaches 60 and stands beside min with 1 to 4: the time is both together.")

	// The disk gave out: the end is filled with nothing.
	l = curve24(125, 7, 131, 70, 0.1, 1, numbered("dk%d", 8)...)
	whole := lines(head, l, plain(",", oneDigit))
	end := bytes.Index(whole, []byte("dk7,4,")) + 8
	doubt("24-filled-with-nothing", "disk.csv", long, append(whole[:end:end], make([]byte, len(whole)-end)...), nil,
		"After the first digits of dk7, try 4, the file holds bytes of 0 to its end: the rest is lost.")

	// The copy ended inside a quoted remark.
	l = curve24(126, 6, 144, 78, 0.1, 1, numbered("qt%d", 7)...)
	text := lines("code,try,remark,seconds", l, func(a at) string { return joined(",", a.who, a.n, `"ok, seen"`, oneDigit(a.value)) })
	end = bytes.LastIndex(text, []byte("seen"))
	doubt("24-ends-in-quote", "pasted half.csv", long, text[:end], l[:len(l)-1], "The last row (qt7, try 6) ends inside its quoted remark, without a time.")

	// A table for each try, below each other.
	l = curve24(127, 4, 153, 90, 0.1, 1, numbered("bl%d", 7)...)
	var blocks bytes.Buffer
	for n := 1; n <= 4; n++ {
		fmt.Fprintf(&blocks, "Attempt %d\ncode,seconds\n", n)
		for _, a := range l {
			if a.n == n {
				fmt.Fprintf(&blocks, "%s,%.1f\n", a.who, a.value)
			}
		}
		blocks.WriteString("\n")
	}
	doubt("24-tables-below-each-other", "four tables.csv", "--trainee code --response seconds --measure time", blocks.Bytes(), l,
		"Four tables below each other, Attempt 1 to Attempt 4 in a line above each: the number of the attempt is in no column.")
}

func doubtPeople24() {
	long := flags24("code", "try", "seconds")
	head := "code,try,seconds"
	l := curve24(130, 7, 147, 80, 0.1, 1, "KS01", "KS02", "KS03", "KS04", "KS05", "KS06", "KS07")
	renamed := func(old, other string, from int) []byte {
		return lines(head, with(l, func(a *at) {
			if a.who == old && a.n >= from {
				a.who = other
			}
		}), plain(",", oneDigit))
	}
	doubt("24-small-letters", "shift key.csv", long, renamed("KS05", "ks05", 5), l, "ks05 (tries 5 to 7) is KS05 (tries 1 to 4).")
	doubt("24-one-letter-cyrillic", "two keyboards.csv", long, renamed("KS03", "\u041aS03", 4), l,
		"KS03, tries 4 to 7, begins with a Cyrillic letter that looks like K: it is the KS03 of tries 1 to 3.")
	doubt("24-hyphen", "hyphen.csv", long, renamed("KS06", "KS-06", 6), l, "KS-06 (tries 6 and 7) is KS06 (tries 1 to 5).")

	l = curve24(131, 6, 122, 67, 0.1, 1, "Zoë", "Yann", "Xénia", "Willem", "Vera", "Uwe")
	doubt("24-accents-two-ways", "two computers.csv", flags24("name", "go", "seconds"), lines("name,go,seconds", with(l, func(a *at) {
		if a.who == "Zoë" && a.n >= 4 {
			a.who = norm.NFD.String(a.who)
		}
	}), plain(",", oneDigit)), l, "Zoë, go 4 to 6, is written with a letter and a mark apart: it is the Zoë of go 1 to 3.")

	doubt("24-wrongly-decoded", "mixed.csv", flags24("name", "go", "seconds"), lines("name,go,seconds", with(l, func(a *at) {
		if a.who == "Xénia" && a.n >= 3 {
			a.who = "XÃ©nia"
		}
	}), plain(",", oneDigit)), l, "XÃ©nia (go 3 to 6) is Xénia (go 1 and 2), wrongly decoded.")

	l = curve24(132, 6, 119, 65, 0.1, 1, "1", "2", "3", "4", "5", "6", "7")
	doubt("24-three-and-three-point-zero", "numbers.csv", long, lines(head, with(l, func(a *at) {
		if a.n >= 4 && (a.who == "3" || a.who == "6") {
			a.who += ".0"
		}
	}), plain(",", oneDigit)), l, "3.0 and 6.0 (tries 4 to 6) are 3 and 6 (tries 1 to 3).")

	l = curve24(133, 6, 168, 91, 0.1, 1, numbered("ar%02d", 9)...)
	t := doubt("24-arm-misspelt", "arms.csv", long+" --arm group", lines("code,group,try,seconds", l, func(a at) string {
		g := []string{"simulator", "bench"}[int(a.who[3]-'0')%2]
		if a.who == "ar04" {
			g = "simulater"
		}
		return joined(",", a.who, g, a.n, oneDigit(a.value))
	}), l, "The arm simulater (ar04 alone) is simulator, misspelt.")
	t.Arms = map[string]string{}
	for _, a := range l {
		t.Arms[a.who] = []string{"simulator", "bench"}[int(a.who[3]-'0')%2]
	}

	// Everybody changed over.
	l = curve24(134, 8, 158, 84, 0.1, 1, numbered("xo%d", 8)...)
	doubt("24-arm-changes", "changed over.csv", long+" --arm device", lines("code,device,try,seconds", l, func(a at) string {
		return joined(",", a.who, []string{"blade", "video"}[((a.n-1)/4+int(a.who[2]))%2], a.n, oneDigit(a.value))
	}), nil, "The column device changes within everybody after try 4: each was in both arms.")

	// Months later.
	l = curve24(135, 6, 172, 94, 0.1, 1, numbered("rt%d", 7)...)
	doubt("24-after-the-winter", "since autumn.csv", "--trainee code --date day --response seconds --measure time", lines("code,day,seconds", l, func(a at) string {
		day := time.Date(2024, 9, 13+3*(a.n-1), 0, 0, 0, 0, time.UTC)
		if a.n == 6 {
			day = time.Date(2025, 4, 22, 0, 0, 0, 0, time.UTC)
		}
		return joined(",", a.who, day.Format("2006-01-02"), oneDigit(a.value))
	}), l, "The last day of everybody, 2025-04-22, is seven months after the one before: a test of what was kept, not one more practice.")

	// Trainers in the same list.
	l = curve24(136, 6, 185, 105, 0.1, 1, numbered("sn%d", 7)...)
	masters := curve24(137, 6, 62, 58, 0.06, 1, "tr1", "tr2")
	doubt("24-trainers-in-list", "everybody.csv", long, lines("code,role,try,seconds", append(l, masters...), func(a at) string {
		return joined(",", a.who, map[bool]string{true: "trainer", false: "student"}[a.who[0] == 't'], a.n, oneDigit(a.value))
	}), nil, "tr1 and tr2 are trainers, says the column role: no trainees.")
}

func doubtBooks24() {
	long := flags24("Code", "Attempt", "Seconds")
	head := []any{"Code", "Attempt", "Seconds"}

	// Typed 1:38 throughout.
	l := curve24(140, 6, 220, 115, 0.1, 0, numbered("hm%d", 7)...)
	b := newBook("Tid")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	b.wide(2, l, func(a at) any { return a.value * 60 / 86400 })
	b.format("B2", "G8", "h:mm")
	doubt("24-all-typed-as-hours", "tourniquets.xlsx", "--trainee Code --measure time --limit 300", b.bytes(), l,
		"All cells are hours and minutes (3:10 shown, 3 h 10 min kept), far above the limit of 300 s: minutes and seconds were meant.")

	// A point between minutes and seconds, kept as numbers.
	b = newBook("Tid")
	b.log([]any{"Code", "Attempt", "Time"}, l, func(a at) []any { return []any{a.who, a.n, math.Floor(a.value/60) + float64(int(a.value)%60)/100} })
	b.format("C2", "C43", "0.00")
	doubt("24-point-before-seconds", "tourniquets 2.xlsx", flags24("Code", "Attempt", "Time"), b.bytes(), l,
		"The column Time holds 3.10, 2.42 and the like, the decimals never above .59: minutes and seconds with a point between.")

	l = curve24(141, 6, 141, 77, 0.1, 1, numbered("hc%d", 7)...)
	b = newBook("Sheet")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	b.wide(2, l, value)
	must(b.SetColVisible("Sheet", "D", false))
	doubt("24-hidden-column", "narrow print.xlsx", "--trainee Code --measure time", b.bytes(), l, "Column D (Attempt 3) is hidden.")

	b = newBook("Group A")
	b.log(head, l, longRow)
	b.next("Group B")
	b.log(head, curve24(142, 6, 141, 77, 0.1, 1, numbered("hd%d", 5)...), longRow)
	must(b.SetSheetVisible("Group B", false))
	doubt("24-hidden-sheet", "groups.xlsx", long, b.bytes(), nil, "The sheet Group B, with five more trainees under the same heads, is hidden.")

	// A program wrote formulas alone.
	b = newBook("Calc")
	b.row("A1", "Code", "Attempt", "Start", "Stop", "Seconds")
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), a.who, a.n, 10.5, math.Round((a.value+10.5)*10)/10)
		must(b.SetCellFormula("Calc", fmt.Sprint("E", i+2), fmt.Sprintf("D%d-C%d", i+2, i+2)))
	}
	doubt("24-formulas-alone", "calc.xlsx", long, b.bytes(), nil, "The column Seconds holds formulas without kept results.")

	b = newBook("Errors")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	b.wide(2, l, value)
	must(b.SetCellFormula("Errors", "E4", "100/0"))
	doubt("24-divided-by-zero", "errors.xlsx", "--trainee Code --measure time", office("24-divided-by-zero", "errors.xlsx", b.bytes()), nil,
		"Cell E4 (hc3, Attempt 4) holds an error, division by 0.")

	// One percent typed without its sign.
	s := with(curve24(143, 6, 46, 14, 0.12, 0, numbered("pc%d", 7)...), func(a *at) { a.value = 100 - a.value })
	b = newBook("Marks")
	b.log([]any{"Code", "Attempt", "Score"}, s, func(a at) []any {
		if a.who == "pc4" && a.n == 3 {
			return []any{a.who, a.n, a.value}
		}
		return []any{a.who, a.n, a.value / 100}
	})
	b.format("C2", "C43", "0%")
	doubt("24-thousands-of-percent", "marks.xlsx", "--trainee Code --attempt Attempt --response Score --measure score", b.bytes(), nil,
		"Cell C22 (pc4, attempt 3) shows some thousands of percent among cells below 100 %.")

	// Three times struck through.
	b = newBook("Struck")
	b.log(head, l, longRow)
	for _, cell := range []string{"C5", "C19", "C33"} {
		b.style(&excelize.Style{Font: &excelize.Font{Strike: true, Color: "808080"}}, cell, cell)
	}
	doubt("24-struck-through", "struck.xlsx", long, b.bytes(), nil, "Cells C5, C19 and C33 are struck through.")

	b = newBook("Remark")
	b.log(head, l, longRow)
	must(b.AddComment("Remark", excelize.Comment{Cell: "C16", Author: "desk", Text: "watch not stopped, time is a guess"}))
	doubt("24-remark-on-cell", "remark.xlsx", long, b.bytes(), nil, "Cell C16 (hc3, attempt 3) bears a comment: watch not stopped, a guess.")

	// One value over two attempts.
	b = newBook("Merged")
	b.row("A1", headCells("Code", "Attempt %d", 6)...)
	b.wide(2, l, value)
	b.put(5, 5, nil)
	must(b.MergeCell("Merged", "D5", "E5"))
	doubt("24-one-for-two", "merged.xlsx", "--trainee Code --measure time", b.bytes(), nil, "Cells D5 and E5 (hc4, Attempts 3 and 4) are merged over one value.")

	// Shown in minutes.
	b = newBook("Units")
	b.log(head[:2:2], l, longRow)
	b.put(3, 1, "Time")
	b.format("C2", "C43", `0.0" s"`)
	inMinutes := with(l, func(a *at) {
		if a.who == "hc2" {
			a.value = math.Round(math.Round(a.value/60*100)*60) / 100
		}
	})
	for i, a := range inMinutes {
		if a.who == "hc2" {
			b.put(3, i+2, math.Round(a.value/60*100)/100)
		}
	}
	b.format("C8", "C13", `0.00" min"`)
	doubt("24-shown-in-minutes", "units.xlsx", flags24("Code", "Attempt", "Time"), b.bytes(), inMinutes, "Cells C8 to C13 (hc2) show min where all others show s.")

	// A sheet copied within the workbook.
	n := curve24(144, 6, 133, 70, 0.1, 1, numbered("cp%d", 7)...)
	b = newBook("Session 1")
	for s, name := range []string{"Session 1", "Session 2", "Session 2 (2)"} {
		if s > 0 {
			b.next(name)
		}
		b.log(head, only(n, func(a at) bool { return (a.n-1)/3 == min(s, 1) }), longRow)
	}
	doubt("24-sheet-copied", "sessions.xlsx", "--sheets-are session "+long, b.bytes(), n, "The sheet Session 2 (2) is a copy of Session 2, row for row.")

	// The empty form was left in.
	who := traineesOf(n)
	b = newBook("Vorlage")
	b.row("A1", "Attempt", "Seconds")
	b.row("A2", 1, 123)
	b.row("A3", 2, 123)
	for _, w := range who {
		b.next(w)
		b.log([]any{"Attempt", "Seconds"}, attemptsOf(n, w), func(a at) []any { return []any{a.n, a.value} })
	}
	doubt("24-form-left-in", "personal sheets.xlsx", "--sheets-are trainee --attempt Attempt --response Seconds --measure time", b.bytes(), n,
		"The sheet Vorlage (form) is no trainee: two rows with 123 as an example.")

	// A time became a day.
	b = newBook("Days")
	b.log(head, n, longRow)
	b.put(3, 25, time.Date(2026, 5, 12, 0, 0, 0, 0, time.UTC))
	b.format("C25", "C25", "d. mmm")
	doubt("24-time-became-day", "helpful.xlsx", long, b.bytes(), nil, "Cell C25 (cp4, attempt 6) holds a day, 12. May, among seconds.")

	// Two of each.
	b = newBook("Pairs")
	b.row("A1", "Code", "1a", "1b", "2a", "2b", "3a", "3b")
	for i, w := range who {
		b.put(1, i+2, w)
		for k, a := range attemptsOf(n, w)[:3] {
			b.put(2*k+2, i+2, a.value)
			b.put(2*k+3, i+2, int(a.value*10)%5)
		}
	}
	doubt("24-a-and-b", "pairs.xlsx", "--trainee Code --measure time", b.bytes(), nil,
		"Heads 1a, 1b, 2a, 2b, 3a, 3b: each attempt twice, a with 60 to 170 and b with 0 to 4; what a and b are stands nowhere.")

	b = newBook("Heads")
	b.row("A1", "Code", "Attempt 1", "Attempt 2", "Attempt 3", "Attempt 3", "Attempt 5", "Attempt 6")
	b.wide(2, n, value)
	doubt("24-three-twice", "heads.xlsx", "--trainee Code --measure time", b.bytes(), n, "Two columns are headed Attempt 3, none Attempt 4.")

	// Two groups beside each other.
	b = newBook("Side by side")
	b.row("A1", "Code", "Attempt", "Seconds", nil, "Code", "Attempt", "Seconds")
	for i, a := range n[:18] {
		b.row(fmt.Sprint("A", i+2), longRow(a)...)
		b.row(fmt.Sprint("E", i+2), longRow(n[18+i])...)
	}
	doubt("24-two-tables-beside", "side by side.xlsx", long, b.bytes(), n[:36], "Two tables under the same heads stand beside each other, from column A and from column E.")
}

func doubtRest24() {
	yaml := `tasks: [{name: knot, measure: time, column: seconds, limit: 600}]
attempts:
  files: [tuesday.csv, thursday.csv]
`
	l := curve24(150, 8, 155, 83, 0.1, 1, numbered("N%02d", 7)...)
	first := only(l, func(a at) bool { return a.n <= 4 })
	second := only(l, func(a at) bool { return a.n > 4 })
	two := func(name, about string, log []at, other []byte) {
		study22(doubt(name, ".", "", nil, log, about), "tuesday.csv", yaml, lines("trainee,attempt,seconds", first, plain(",", oneDigit))).files["thursday.csv"] = other
	}
	two("24-study-numbers-again", "thursday.csv: attempts 1 to 4 of everybody again, with other times than in tuesday.csv.", nil,
		lines("trainee,attempt,seconds", with(second, func(a *at) { a.n -= 4 }), plain(",", oneDigit)))
	two("24-study-in-minutes", "thursday.csv: all times are 1 to 3 where tuesday.csv has 70 to 200: minutes.", nil,
		lines("trainee,attempt,seconds", second, plain(",", func(v float64) string { return fmt.Sprintf("%.2f", v/60) })))
	two("24-study-same-file-twice", "thursday.csv is tuesday.csv under another name, row for row.", first,
		lines("trainee,attempt,seconds", first, plain(",", oneDigit)))
}

func refuse24() {
	long := flags24("code", "try", "seconds")
	head := "code,try,seconds"
	l := curve24(160, 6, 145, 79, 0.1, 1, numbered("re%d", 7)...)
	b := newBook("Log")
	b.log([]any{"code", "try", "seconds"}, l, longRow)
	book := b.bytes()

	refuse("24-nothing", "empty.csv", long, []byte{}, "The file has no byte.")

	rows := []string{odsRow(odsText("code"), odsText("try"), odsText("seconds"))}
	for _, a := range l {
		rows = append(rows, odsRow(odsText(a.who), odsNumber(float64(a.n)), odsNumber(a.value)))
	}
	whole := ods(rows...)
	refuse("24-half-an-ods", "stick.ods", long, whole[:len(whole)/2], "The copy broke off in the middle.")

	var drills []drill24
	for _, a := range l {
		drills = append(drills, drill24{a.who, "x", int16(a.n), float32(a.value)})
	}
	whole = parquetOf(drills)
	refuse("24-parquet-without-end", "bench.parquet", flags24("trainee", "attempt", "seconds"), whole[:len(whole)-60], "The end, which says where everything is, is missing.")

	refuse("24-picture", "photo of the list.csv", long, append([]byte("\xff\xd8\xff\xe0\x00\x10JFIF\x00\x01\x01\x00\x00\x48\x00\x48\x00\x00\xff\xdb\x00\x43\x00"), noise24(2600)...), "A photograph under the name of a text table.")

	refuse("24-old-workbook", "from 1999.xls", long, office("24-old-workbook", "from 1999.xls", book), "A workbook of the old binary kind.")

	var letter bytes.Buffer
	z := zip.NewWriter(&letter)
	for _, part := range [][2]string{
		{"[Content_Types].xml", `<?xml version="1.0" encoding="UTF-8"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/word/document.xml" ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>`},
		{"_rels/.rels", `<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="word/document.xml"/></Relationships>`},
		{"word/document.xml", `<?xml version="1.0" encoding="UTF-8"?><w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body><w:p><w:r><w:t>Times of the spring course: see the list at the door.</w:t></w:r></w:p></w:body></w:document>`},
	} {
		w, err := z.Create(part[0])
		must(err)
		_, err = w.Write([]byte(part[1]))
		must(err)
	}
	must(z.Close())
	refuse("24-letter", "spring course.xlsx", long, letter.Bytes(), "A letter under the name of a workbook.")

	refuse("24-rich-text", "list.csv", long, []byte("{\\rtf1\\ansi\\deff0{\\fonttbl{\\f0 Serif;}}\\f0\\fs24\ncode, try, seconds\\par\nre1, 1, 145.2\\par\nre1, 2, 121.7\\par\nre2, 1, 160.3\\par\n}\n"), "A text with its typesetting under the name of a table.")

	refuse("24-no-sheet-filled", "new.xlsx", long, newBook("Sheet1").bytes(), "The workbook is empty.")

	refuse("24-no-times", "roster.csv", long, lines(head, l, func(a at) string { return joined(",", a.who, a.n, "") }), "The column seconds is blank in every row.")

	refuse("24-shortcut", "times on the server.csv", long,
		[]byte("[InternetShortcut]\r\nURL=https://files.example.org/lab/times-2025.csv\r\nIconIndex=0\r\n"), "A shortcut to the table, not the table.")

	t := refuse("24-study-file-broken", ".", "", nil, "The study file's indentation is broken by a tab, and a bracket is not closed.")
	study22(t, "log.csv", "tasks: [{name: knot, measure: time, column: seconds\nattempts:\n\tfile: log.csv\n", lines("trainee,attempt,seconds", l, plain(",", oneDigit)))
}

// noise24 makes up bytes.
func noise24(n int) []byte {
	r := rand.New(rand.NewPCG(24, 24))
	out := make([]byte, n)
	for i := range out {
		out[i] = byte(r.Uint32())
	}
	return out
}

// marks24 lists ratings, good performances marked high by all with some scatter.
func marks24(seed, low, high int, subjects, raters, items []string) [][4]string {
	r := rand.New(rand.NewPCG(240, uint64(seed)))
	mid, half := float64(low+high)/2, float64(high-low)/2
	strict := make([]float64, len(raters))
	for i := range strict {
		strict[i] = 0.15 * half * r.NormFloat64()
	}
	var out [][4]string
	for _, s := range subjects {
		level := mid + 0.55*half*r.NormFloat64()
		for _, item := range items {
			for k, rater := range raters {
				v := math.Round(level + strict[k] + 0.3*half*r.NormFloat64())
				out = append(out, [4]string{s, rater, item, fmt.Sprint(min(max(int(v), low), high))})
			}
		}
	}
	return out
}

// wideMarks24 is a text table of a row a subject and a column a rater.
func wideMarks24(head, sep string, raters int, m [][4]string, more func(row [][4]string) string) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	for i := 0; i < len(m); i += raters {
		b.WriteString(m[i][0])
		for _, r := range m[i : i+raters] {
			b.WriteString(sep + r[3])
		}
		if more != nil {
			b.WriteString(sep + more(m[i:i+raters]))
		}
		b.WriteString("\n")
	}
	return b.Bytes()
}

// yearMarks24 is a wide table of three raters with the trainee's year before them.
func yearMarks24(head string, m [][4]string) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	for i := 0; i < len(m); i += 3 {
		b.WriteString(joined(",", m[i][0], i/3*7%5+1, m[i][3], m[i+1][3], m[i+2][3]) + "\n")
	}
	return b.Bytes()
}

func ratings24() {
	none := []string{""}
	wide := "--subject take --wide --scale interval"

	m := marks24(1, 1, 6, numbered("Naht %02d", 10), []string{"Arndt", "Behrens", "Clausen"}, []string{"Abstand", "Spannung", "Knoten"})
	rated(read("24-ratings-german", "noten.csv", "--subject Naht --rater Prüfer --item Punkt --score Note --scale ordinal",
		append([]byte("\xef\xbb\xbf"), crlf(rows22("Naht;Prüfer;Punkt;Note", ";", m, 0, 1, 2, 3))...), nil), m)

	m = marks24(2, 0, 20, numbered("take%02d", 14), []string{"Judge A", "Judge B", "Judge C", "Judge D"}, none)
	rated(read("24-ratings-judges", "floor exercise.csv", wide, wideMarks24("take,Judge A,Judge B,Judge C,Judge D", ",", 4, m, nil), nil), m)

	m = marks24(3, 10, 50, numbered("weld %d", 12), []string{"Inspector 1", "Inspector 2", "Inspector 3"}, none)
	w := newBook("Marks")
	w.row("A1", "Weld", "Inspector 1", "Inspector 2", "Inspector 3")
	w.beside22(m, 3, 2)
	rated(read("24-ratings-welds", "weld marks.xlsx", "--subject Weld --wide --scale interval", w.bytes(), nil), m)

	m = marks24(4, 1, 5, numbered("vidéo %d", 9), []string{"Mme Roux-Lac", "M. Vauclin"}, []string{"geste", "économie", "sécurité"})
	rated(read("24-ratings-utf16", "grille.txt", "--subject Vidéo --rater Évaluateur --item Item --score Cotation --scale ordinal",
		inUTF16(binary.LittleEndian, true, crlf(rows22("Vidéo\tÉvaluateur\tItem\tCotation", "\t", m, 0, 1, 2, 3))), nil), m)

	m = marks24(5, 0, 2, numbered("slide-%02d", 15), []string{"KL", "MN", "OP"}, none)
	for i := range m {
		m[i][3] = map[string]string{"0": "redo", "1": "usable", "2": "good"}[m[i][3]]
	}
	rated(read("24-ratings-words", "slides.csv", "--subject slide --rater reader --score verdict --scale nominal", rows22("slide,reader,verdict", ",", m, 0, 1, 3), nil), m)

	// A cell left blank: that judge was away.
	m = marks24(6, 1, 10, numbered("take%d", 12), []string{"Ann-Li", "Bo", "Cat"}, none)
	blank := with24(m, func(i int, r *[4]string) {
		if i == 7 || i == 23 {
			r[3] = ""
		}
	})
	rated(read("24-ratings-blank", "two absences.csv", wide, wideMarks24("take,Ann-Li,Bo,Cat", ",", 3, blank, nil), nil),
		without(blank, func(r [4]string) bool { return r[3] == "" }))

	// The mean, by its sign.
	m = marks24(7, 1, 10, numbered("take%d", 11), []string{"P1", "P2", "P3"}, none)
	mean := func(row [][4]string) string {
		return fmt.Sprintf("%.2f", (number(row[0][3])+number(row[1][3])+number(row[2][3]))/3)
	}
	rated(doubt("24-ratings-mean-sign", "takes.csv", wide, wideMarks24("take,P1,P2,P3,Ø", ",", 3, m, mean), nil, "The column Ø is no rater: it is the mean of the three."), m)

	// What they agreed on afterwards.
	rated(doubt("24-ratings-consensus", "consensus.csv", wide, wideMarks24("take,P1,P2,P3,Consensus", ",", 3, m, func(row [][4]string) string {
		return fmt.Sprintf("%.0f", (number(row[0][3])+number(row[1][3])+number(row[2][3]))/3)
	}), nil, "The column Consensus is no rater: it is what the three agreed on."), m)

	// The year of training stands between the film and the judges.
	rated(doubt("24-ratings-year", "with years.csv", wide, yearMarks24("take,Year of training,P1,P2,P3", m), nil,
		"The column Year of training, 1 to 5, is no rater."), m)

	// Everybody says yes in another way.
	m = marks24(13, 0, 1, numbered("Fall %d", 13), []string{"Prüferin A", "Prüferin B", "Prüfer C"}, none)
	said := with24(m, func(i int, r *[4]string) {
		r[3] = [][]string{{"nein", "ja"}, {"Nein", "Ja"}, {"NEIN", "JA"}}[i%3][r[3][0]-'0']
	})
	m = with24(said, func(i int, r *[4]string) { r[3] = strings.ToLower(r[3]) })
	rated(doubt("24-ratings-ja", "bestanden.csv", "--subject Fall --rater Prüfung --score bestanden --scale nominal",
		latin(crlf(rows22("Fall;Prüfung;bestanden", ";", said, 0, 1, 3))), nil,
		"The column bestanden: ja, Ja and JA (nein, Nein and NEIN) are one answer, written in another way by each examiner."), m)

	// NA as a mark.
	m = marks24(8, 0, 2, numbered("case%d", 12), []string{"E1", "E2"}, none)
	for i := range m {
		m[i][3] = []string{"A", "B", "C"}[m[i][3][0]-'0']
		if i == 5 || i == 12 || i == 13 || i == 20 {
			m[i][3] = "NA"
		}
	}
	doubt("24-ratings-not-applicable", "abc.csv", "--subject case --rater examiner --score mark --scale nominal",
		append(rows22("case,examiner,mark", ",", m, 0, 1, 3), "\nA good, B fair, C poor, NA not applicable\n"...), nil,
		"The mark NA: not applicable, says the note, so a mark of its own or none at all.")

	// 0 for not seen.
	m = marks24(9, 1, 5, numbered("take%d", 12), []string{"Q1", "Q2", "Q3"}, none)
	m = with24(m, func(i int, r *[4]string) {
		if i == 4 || i == 17 || i == 26 {
			r[3] = "0"
		}
	})
	doubt("24-ratings-zero", "one to five.csv", "--subject take --rater rater --score mark~(1-5) --scale ordinal", rows22("take,rater,mark (1-5)", ",", m, 0, 1, 3), nil,
		"Three marks are 0 where the head says 1 to 5: not seen, not a mark.")

	// One examiner, two spellings.
	m = marks24(10, 1, 7, numbered("take%d", 12), []string{"Dr Lindqvar", "Dr Mokrane"}, none)
	spelt := with24(m, func(i int, r *[4]string) {
		if r[1] == "Dr Lindqvar" && i > 13 {
			r[1] = "Dr. Lindqvar"
		}
	})
	rated(doubt("24-ratings-with-a-point", "doctors.csv", "--subject take --rater examiner --score mark --scale interval", rows22("take,examiner,mark", ",", spelt, 0, 1, 3), nil,
		"Dr. Lindqvar and Dr Lindqvar are one examiner."), m)

	// Marked twice.
	again := append(with24(m, func(int, *[4]string) {}), [4]string{"take5", "Dr Mokrane", "", "7"}, [4]string{"take5", "Dr Mokrane", "", "2"})
	doubt("24-ratings-twice", "twice.csv", "--subject take --rater examiner --score mark --scale interval", rows22("take,examiner,mark", ",", again, 0, 1, 3), nil,
		"Dr Mokrane's mark of take5 stands three times, with unlike values.")

	// The sum among the items.
	m = marks24(11, 1, 5, numbered("film%d", 8), []string{"V", "W"}, []string{"grip", "angle", "speed"})
	var with []([4]string)
	for i := 0; i < len(m); i += 6 {
		with = append(with, m[i:i+6]...)
		for k := range 2 {
			with = append(with, [4]string{m[i][0], m[i+k][1], "total", fmt.Sprint(number(m[i+k][3]) + number(m[i+2+k][3]) + number(m[i+4+k][3]))})
		}
	}
	rated(doubt("24-ratings-total", "items.csv", "--subject film --rater rater --item item --score mark --scale ordinal", rows22("film,rater,item,mark", ",", with, 0, 1, 2, 3), nil,
		"The item total is no item: it is the sum of grip, angle and speed."), m)

	refuse("24-ratings-one-column", "by one.csv", "--subject take --wide --scale interval",
		wideMarks24("take,Examiner", ",", 1, marks24(12, 1, 10, numbered("take%d", 10), []string{"Examiner"}, none), nil), "One rater alone: agreement needs two.")
}

// with24 is ratings, each changed.
func with24(m [][4]string, f func(i int, r *[4]string)) [][4]string {
	out := append([][4]string{}, m...)
	for i := range out {
		f(i, &out[i])
	}
	return out
}
