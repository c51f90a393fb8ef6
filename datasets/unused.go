package datasets

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// summaryWords stand where a trainee or an attempt would, in rows that sum up others.
var summaryWords = pattern.New(`(?i)^.*\b(mean|average|total|median|stdev)\b.+$|^.+\b(mean|average|total|median|stdev)\b.*$|^(sub-?totals?|sous-totaux?|zwischensumme|teilergebnis|gesamt\w*|mittelwert|gruppenmittel|durchschnitt|standardabweichung|summe|moyenne|médiane|écart[- ]?types?|total|promedio|media|mediana|desviaci[oó]n|bestzeit|bestleistung|meilleur temps|mejor tiempo)( .+)?$|^.+ (gesamt|ergebnis|total|sub-?total|teilergebnis|moyenne|media|promedio|mittelwert)$|\b(percentiles?|perzentile?|centiles?|percentil|quartile?s?|quantile?s?|[kc]onfi[dt]en[czt]\w*|p[- ]?(value|wert|valeur|valor))\b|^\d+ ?%? ?-?(ci|ki|ic|vi|bi)\b.*$|^(iqr|q[1-3] ?[-–/] ?q?[1-3])$|^(best|worst|fastest|slowest|min|max|minimum|maximum) (times?|scores?|values?|attempts?)$|^(grand |group |arm |overall |sub-?)?(mean|average|avg\.?|sd|s\.d\.|std\.?( dev\.?)?|st\.? ?dev\.?|standard deviation|total|totals|sum|median|count|n|variance|se|sem|mean ?(\(sd\)|±.*|\+/-.*)|mittelwert(e)?|mittel|gruppenmittel|mw|durchschnitt|schnitt|moyennes?|media|média|promedio|gemiddelde?|medelvärde|gennemsnit|gjennomsnitt|keskiarvo|średnia|ortalama|mediana|médiane|mediaan|zentralwert|standardabweichung|std\.?abw\.?|std\.? ?sapma(sı)?|standart sapma(sı)?|dp|toplam|átlag|szórás|összesen|keskihajonta|yhteensä|standardavvikelse|standardavvik|summa|snitt|odchylenie( standardowe)?|razem|průměr|směrodatná odchylka|celkem|součet|priemer|μέσος όρος|μ\.?ο\.?|τυπική απόκλιση|σύνολο|среднее|итого|сумма|standaarddeviatie|平均値?|合計|標準偏差|平均值|合计|标准差|평균|합계|표준편차|المتوسط|المجموع|ממוצע|סך הכל|stabw\.?|écart[- ]?types?|ecart[- ]?types?|desviaci[oó]n( (est[aá]ndar|t[ií]pica))?|desv\.?( est\.?)?|desvio( padr[aã]o)?|deviazione( standard)?|varianz|anzahl|summe|somme|suma|somma|gesamt|totale?|totaal|ø|⌀|∅|σ|∑|x̄|m ?(±|\+/-) ?sd|n ?= ?\d+)\s*:?$`)

// extremes are summaries too, but also names of people.
var extremes = pattern.New(`(?i)^(min|max|minimum|maximum|range|iqr|best|worst|fastest|slowest|longest|shortest|bestzeit|bester|schlechtester)\.?\s*:?$`)

// dropSummaries leaves out rows that sum up others: means, totals.
func (r *logReader) dropSummaries() {
	t := r.table
	who, attempt := t.column(r.cols.Trainee), t.column(r.cols.Attempt)
	if r.cols.Trainee == "" {
		who = -1
	}
	if r.cols.Attempt == "" {
		attempt = -1
	}
	short := map[string]bool{}
	if who >= 0 {
		if codes := textsOf(r.distinct(who)); len(summing(codes)) == 0 {
			for _, c := range codes {
				if shortWord.MatchString(c) {
					short[c] = true
				}
			}
		}
	}
	is := func(i int, words *pattern.Pattern) string {
		for _, j := range []int{who, attempt} {
			if j == who && short[t.text(i, j)] && !r.countsAbove(i) {
				continue // nothing else says that it is no person's initials
			}
			if j >= 0 && words.MatchString(t.text(i, j)) && !r.practises(t.text(i, j), i, j, who) {
				return t.text(i, j)
			}
		}
		return ""
	}
	found := false
	for _, j := range []int{who, attempt} {
		if j < 0 {
			continue
		}
		for _, c := range r.distinct(j) {
			found = found || is(c.row, summaryWords) != ""
		}
	}
	if !found {
		return
	}
	if r.secondHead(who, attempt) {
		return
	}
	n := t.dropRows(func(i int) string {
		if w := cmp.Or(is(i, summaryWords), is(i, extremes)); w != "" {
			return "a summary: " + w
		}
		return ""
	})
	r.note("summary-rows", fmt.Sprintf("%s: %d rows sum up others (mean, total and the like) and are not read", r.file, n))
}

// secondHead asks about a row that repeats one of the names above other words: the names of
// a second table below the first.
func (r *logReader) secondHead(who, attempt int) bool {
	t := r.table
	for i := range t.keep {
		for _, j := range []int{who, attempt} {
			if j >= 0 && t.header[j] != "" && t.text(i, j) == t.header[j] {
				r.badAt(i, t.header[j], t.text(i, j), "one table; this row looks like the names of a second one: put that on a sheet or into a file of its own", problem.ErrAmbiguous)
				return true
			}
		}
	}
	return false
}

// countsAbove reports whether a row of a wide table holds in every column how many cells
// above it are filled.
func (r *logReader) countsAbove(i int) bool {
	if !r.isWide || i < 2 {
		return false
	}
	columns := 0
	for _, s := range r.slotted {
		for _, j := range s.columns {
			v, ok := grid.ParseNumber(r.table.text(i, j), false)
			if j < 0 || !ok {
				continue
			}
			n := 0
			for k := range i {
				if r.table.cell(k, j) != 0 {
					n++
				}
			}
			if v != float64(n) {
				return false
			}
			columns++
		}
	}
	return columns > 0
}

// shortWord are summaries that may as well be somebody's initials.
var shortWord = pattern.New(`^[[:alpha:]]{1,3}$`)

// summing lists the codes among some that stand for no person but sum others up: words
// such as Mittelwert, and beside one of those also short ones such as SD and max.
func summing(codes []string) []string {
	is := func(code string) bool { return summaryWords.MatchString(code) && !shortWord.MatchString(code) }
	if !slices.ContainsFunc(codes, is) {
		return nil
	}
	var out []string
	for _, c := range codes {
		if summaryWords.MatchString(c) || extremes.MatchString(c) {
			out = append(out, c)
		}
	}
	return out
}

// practises reports whether a code in the trainees' column stands for somebody with
// attempts of several numbers, whatever it is called.
func (r *logReader) practises(code string, i, j, who int) bool {
	attempt := r.table.column(r.cols.Attempt)
	if j != who || r.cols.Attempt == "" || attempt < 0 {
		return false
	}
	numbers := map[string]bool{}
	for k := range r.table.keep {
		if r.table.text(k, who) == code {
			if _, ok := grid.ParseNumber(r.table.text(k, attempt), false); ok {
				numbers[r.table.text(k, attempt)] = true
			}
		}
	}
	return len(numbers) > 1
}

// mostHeads is how many rows below the names may hold more about the columns.
const mostHeads = 3

// dropHeads leaves out rows right below the names that say more about the columns: the
// questions of a survey, units, marks of a program.
func (r *logReader) dropHeads() {
	t := r.table
	var numbers []int
	if r.cols.Attempt != "" && t.column(r.cols.Attempt) >= 0 {
		numbers = append(numbers, t.column(r.cols.Attempt))
	}
	for _, s := range r.slotted {
		for _, j := range s.columns {
			if j >= 0 {
				numbers = append(numbers, j)
			}
		}
	}
	n := 0
	for n < mostHeads && n < t.rows()-1 && r.saysMore(n, numbers) {
		n++
	}
	if n == 0 || r.saysMore(n, numbers) {
		return
	}
	var texts []string
	for i := range n {
		for _, j := range numbers {
			if s := t.text(i, j); s != "" && !slices.Contains(texts, s) {
				texts = append(texts, s)
			}
		}
		r.unitRow(i, numbers)
	}
	k := 0
	t.dropRows(func(i int) string {
		if k++; k <= n {
			return "more about the columns, not data"
		}
		return ""
	})
	r.note("extra-head-rows", fmt.Sprintf("%s: %d rows below the names hold text where numbers belong (%s) and are not read", r.file, n, problem.Clip(problem.List(texts, 4))))
}

// unitRow asks where a row below the names says that times are not in seconds.
func (r *logReader) unitRow(i int, numbers []int) {
	for j, name := range r.measures {
		kind, _, _ := r.kindOf(name)
		for _, s := range r.slotted {
			if c := s.columns[j]; kind == Time && c >= 0 && r.log.Times == "" {
				if unit := headUnit(" " + strings.Trim(r.table.text(i, c), "[]()")); unit != "" && unit != "seconds" {
					r.ask(name, r.table.text(i, c), fmt.Sprintf("to be told the unit, since the row below the names says %s: --times %s, --times seconds (in a study file: times)", unit, unit))
					return
				}
			}
		}
	}
}

// saysMore reports whether a row has text wherever a number belongs, at least twice, or is
// a unit alone.
func (r *logReader) saysMore(i int, numbers []int) bool {
	t, texts := r.table, 0
	who := 0
	if j := t.column(r.cols.Trainee); r.cols.Trainee != "" && j >= 0 && t.cell(i, j) == 0 {
		who = 1
	}
	for _, j := range numbers {
		id := t.cell(i, j)
		s := t.textOf(id)
		if id == 0 {
			continue
		}
		if strings.Trim(s, "-–—") == "" {
			who = 1
			continue
		}
		_, isOutcome := outcomeByName(s)
		if _, isCode := r.study.Codes[s]; isCode || isOutcome || t.kind(id) != grid.Written || strings.ContainsAny(cmp.Or(s, "x")[:1], "0123456789.,-+<>") || slices.Contains(missingWords, strings.ToLower(s)) || j == t.column(r.cols.Attempt) && attemptWord.MatchString(s) {
			return false
		}
		texts++
	}
	return texts+who >= 2 && texts > 0
}

// notDone are words for attempts that were not done as they should.
var notDone = pattern.New(`(?i)^(timeout|timed[ -]?out|time[ -]?out|t/?o|fuera de tiempo|zeit(ü|ue)berschreitung|zeit abgelaufen|temps (é|e)coul(é|e)|d(é|e)passement|abandon(n(é|e))?|abandonado|abbruch|failed|fail|hard[ -]?fail|failure|void|dnf|dns|dq|aborted|abandoned|incomplete|not completed|invalid|excluded|unsuccessful|not passed|nicht bestanden|abgebrochen|ungültig|échoué|échec|no superado|fallido|durchgefallen|échoué|rat(é|e)|suspenso)$`)

// doneWords are words for those that were.
var doneWords = pattern.New(`(?i)^(done|ok|okay|completed?|finished|success(ful)?|pass(ed)?|valid|yes|bestanden|erledigt|beendet|abgeschlossen|fertig|réussi|terminé|fini|superado|aprobado|terminado|completo|completado)$`)

// endNames are columns that say with a yes or a no how attempts ended.
var endNames = regexp.MustCompile(`(?i)^(is[ _])?(success(ful)?|pass(ed)?|complete[d]?|finished|done|ok|fail(ed|ure)?|hard[ _-]?fail(ed)?|dnf|timed?[ _-]?out|result|bestanden|erfolg|réussi|superado)[?]?$`)

// failNames are those of which a yes says that an attempt was not done.
var failNames = regexp.MustCompile(`(?i)fail|dnf|timed?[ _-]?out`)

// noWords say no.
var noWords = pattern.New(`(?i)^(0|no|n|false|nein|non|nee|nej)$`)

// yesNo are cells of such columns.
var yesNo = pattern.New(`(?i)^(0|1|yes|no|y|n|true|false|ja|nein|j|oui|non|s[ií]|nee|nej|x|✓|✔|✗|✘)$`)

// caseNames are columns that tell apart what must not be mixed.
var caseNames = regexp.MustCompile(`(?i)^(tasks?|exercise|station|procedure|measures?|metric|variable|parameter|role|group type|person type|aufgabe|übung|modul|messgr(ö|oe)(ß|ss)e|kennzahl|rolle|funktion|tâche|exercice|mesure|rôle|fonction|tarea|ejercicio|medida|rol|funci[oó]n|taak|oefening|opgave|opgaver?|övning|uppgift)$`)

// uses reports whether a column has a role, or holds a measure.
func (r *logReader) uses(name string) bool {
	if r.role(name) || slices.Contains(r.measures, name) || slices.Contains(r.named, name) || slices.Contains(sortedKeys(r.layout.Where), name) || r.layout.Without[name] != nil {
		return true
	}
	j := r.table.column(name)
	for _, s := range r.slotted {
		if j >= 0 && slices.Contains(s.columns, j) {
			return true
		}
	}
	return slices.ContainsFunc(r.study.Covariates, func(c CovariateChoice) bool { return c.Name == name })
}

// unused lists the columns that nothing uses.
func (r *logReader) unused() []string {
	var out []string
	for _, name := range r.table.header {
		if name != "" && !r.uses(name) {
			out = append(out, name)
		}
	}
	return out
}

// mostBoxed is how many rows a box of figures beside a table has.
const mostBoxed = 2

// boxed reports whether a column is of a box of figures beside the table: nothing that it says is said of
// the attempts beside it.
func (r *logReader) boxed(name string) bool {
	return slices.Contains(r.aside, name) && !slices.ContainsFunc(r.aside, func(n string) bool {
		return some(r.distinct(r.table.column(n))) > mostBoxed
	})
}

// checkUnused looks at the columns that nothing uses, and asks about those that change
// what the others mean: outcomes, and rows of several tasks or measures.
func (r *logReader) checkUnused() {
	t := r.table
	r.aside = r.columnsAside()
	unnamed := 0
	for j, name := range t.header {
		if name == "" && !slices.ContainsFunc(t.notes, func(n Note) bool { return n.Code == "index-column" && j == 0 }) {
			for i := range min(t.rows(), 200) {
				if t.cell(i, j) != 0 {
					unnamed++
					break
				}
			}
		}
	}
	if unnamed > 0 {
		r.note("unnamed-columns", fmt.Sprintf("%s: %d columns with cells have no name and are not read", r.file, unnamed))
	}
	for _, name := range r.unused() {
		if slices.Contains(r.layout.Ignore, name) || r.boxed(name) {
			continue
		}
		r.checkColumn(name, r.distinct(t.column(name)))
	}
	for _, name := range t.hiddenCols {
		if r.uses(name) {
			r.note("hidden-columns", fmt.Sprintf("%s: column %s is used, and the spreadsheet hides it", r.file, name))
		}
	}
	r.checkErrorCounts()
}

// checkColumn looks at one column that nothing uses.
func (r *logReader) checkColumn(name string, cells []writtenCell) {
	r.noteRemarks(name, cells)
	if r.someConsent(name, cells) {
		return
	}
	if len(cells) == 0 || len(cells) > 20 || r.askMarks(name, cells) {
		return
	}
	bad, known, plain := 0, 0, 0
	for _, c := range cells {
		if yesNo.MatchString(c.text) {
			plain++
		}
	}
	if endNames.MatchString(name) && plain == len(cells) && r.cols.Outcome == "" && len(cells) > 1 {
		end, fails := cells[0], failNames.MatchString(name) // the cell that says an attempt was not done
		for _, c := range cells {
			if noWords.MatchString(c.text) != fails {
				end = c
			}
		}
		r.ask(name, end.text, fmt.Sprintf("to be told whether this column says how attempts ended (%d cells say %s): --outcome %s with --code %s=failed or the like for each of its words, or --ignore %s (in a study file: columns: outcome, codes, ignore)", end.count, end.text, name, end.text, name))
		return
	}
	if plain == len(cells) && r.askConsent(name, cells) {
		return
	}
	word := ""
	for _, c := range cells {
		_, isCode := r.study.Codes[c.text]
		switch {
		case notDone.MatchString(c.text):
			bad, known, word = bad+c.count, known+1, c.text
		case doneWords.MatchString(c.text), isCode:
			known++
		}
	}
	switch {
	case bad > 0 && 2*known >= len(cells) && r.cols.Outcome == "":
		r.ask(name, word, fmt.Sprintf("to be told whether this column says how attempts ended (%d cells such as this one): --outcome %s, with --code WORD=OUTCOME for its words, or --ignore %s (in a study file: columns: outcome, codes, ignore)", bad, name, name))
	case plain < len(cells) && r.cols.Outcome == "" && outcomeName.MatchString(name) && len(cells) > 1 && len(cells) <= 8 && (wordsAlone(cells) || len(cells) <= 4 && some(cells) >= 3*len(cells) && !r.partOfTotal(name)) && r.variesWithin(name):
		r.ask(name, problem.List(textsOf(cells), 4), fmt.Sprintf("to be told whether this column says how attempts ended: --outcome %s, with --code WORD=OUTCOME for its words, or --ignore %s (in a study file: columns: outcome, codes, ignore)", name, name))
	case plain < len(cells) && len(cells) > 1 && len(cells) <= 6 && (wordsAlone(cells) || conditionName.MatchString(name)) && some(cells) == r.table.rows() && r.variesWithin(name) && !caseNames.MatchString(name) && !countsSessions(name, cells) && !saysWhen(cells) && !lengthsOf(cells):
		r.sayVaries(name, cells)
	case plain == len(cells) && r.variesWithin(name):
		r.note("yes-no-unread", fmt.Sprintf("%s: column %s says yes or no (%s) of single attempts and is not read; if it says how attempts ended name it with --outcome, and if it says which count, choose rows with --where or --without (in a study file: columns: outcome, where, without); else --ignore %q", r.file, name, problem.List(textsOf(cells), 3), name))
	case caseNames.MatchString(name) && len(cells) > 1:
		words := textsOf(cells)
		r.ask(name, problem.List(words, 4), fmt.Sprintf("to be told which rows to read: --where %s=%s, or --ignore %s for all of them (in a study file: where, ignore)", name, words[0], name))
	}
}

// countsSessions reports whether a column says when attempts were made, and not, in words, in which phase
// of a study.
func countsSessions(name string, cells []writtenCell) bool {
	return sessionName.MatchString(name) && !(conditionName.MatchString(name) && !slices.ContainsFunc(cells, func(c writtenCell) bool {
		return strings.ContainsAny(c.text, "0123456789")
	}))
}

// yearAndClock is a moment, in whatever words and order its day stands.
var yearAndClock = pattern.New(`\b(19|20)\d\d\b.*\b\d{1,2}[:.h]\d\d|\b(19|20)\d\d-\d\d-\d\dT\d\d:\d\d`)

// saysWhen reports whether cells are days or moments.
func saysWhen(cells []writtenCell) bool {
	return isDate(cells[0].text) || numberDate.MatchString(cells[0].text) || clockParts.MatchString(cells[0].text) ||
		!slices.ContainsFunc(cells, func(c writtenCell) bool { return !yearAndClock.MatchString(c.text) })
}

// outcomeName are columns that may say how attempts ended.
var outcomeName = regexp.MustCompile(`(?i)^(status|state|outcome|results?|ausgang|ergebnis|abschluss|statut|état|etat|issue|résultat|resultat|estado|resultado|uitkomst|utfall)$`)

// conditionName are columns that say, also in numbers, under what conditions an attempt was
// made.
var conditionName = regexp.MustCompile(`(?i)^(level|difficulty|help|helps|hints?|prompts?|cues?|assist(s|ance)?|support|hilfe(n|stellung|stellungen)?|aide|ayuda|ajuda|phase|block|condition|setup|device|simulator|model|version|stufe|schwierigkeit(sgrad)?|bedingung|gerät|phantom|niveau|difficulté|appareil|nivel|dificultad|dificuldade|condici[oó]n|dispositivo|simulador)$`)

// wordsAlone reports whether no cell is a number.
func wordsAlone(cells []writtenCell) bool {
	return !slices.ContainsFunc(cells, func(c writtenCell) bool {
		_, ok := grid.ParseNumber(c.text, strings.Contains(c.text, ","))
		return ok || c.kind != grid.Written
	})
}

// some is how many rows have one of some cells.
func some(cells []writtenCell) int {
	n := 0
	for _, c := range cells {
		n += c.count
	}
	return n
}

func textsOf(cells []writtenCell) []string {
	out := make([]string, len(cells))
	for k, c := range cells {
		out[k] = c.text
	}
	return out
}

// consentName are columns that say whether a person's data may be used.
var consentName = regexp.MustCompile(`(?i)\b(consent(ed|s)?|agrees?|einwilligung|einverstanden|einverständnis|zustimmung|stimme zu|consentement|consentimiento|toestemming|samtykke)\b`)

// askConsent asks where somebody did not agree that their data be used.
func (r *logReader) askConsent(name string, cells []writtenCell) bool {
	if !consentName.MatchString(name) {
		return false
	}
	for _, c := range cells {
		if noWords.MatchString(c.text) {
			r.ask(name, c.text, fmt.Sprintf("to be told what becomes of the %d rows without consent: --without %q leaves them out, --ignore %q takes all rows (in a study file: without, ignore)", c.count, name+"="+c.text, name))
			return true
		}
	}
	return false
}

// variesWithin reports whether a column says different things of one trainee.
func (r *logReader) variesWithin(name string) bool {
	who, j := r.table.column(r.cols.Trainee), r.table.column(name)
	if r.cols.Trainee == "" || who < 0 || r.isWide {
		return false
	}
	said := make([]grid.Cell, len(r.table.pool.Texts)) // by person; one more than the cell, 0 for none yet
	for i := range r.table.keep {
		person, cell := r.table.cell(i, who), r.table.cell(i, j)+1
		if before := said[person]; before != 0 && before != cell {
			return true
		}
		said[person] = cell
	}
	return false
}

// checkErrorCounts notes attempts of which an error count is not known that a pass needs.
func (r *logReader) checkErrorCounts() {
	for _, task := range r.study.Tasks {
		for name := range task.AtMost {
			j := slices.Index(r.measures, name)
			if j < 0 {
				continue
			}
			n := 0
			for i := range r.table.keep {
				for _, s := range r.slotted {
					response := slices.Index(r.measures, task.Column)
					if s.columns[j] >= 0 && r.table.cell(i, s.columns[j]) == 0 && (response < 0 || s.columns[response] < 0 || r.table.cell(i, s.columns[response]) != 0) {
						n++
					}
				}
			}
			if n > 0 {
				r.note("errors-not-known", fmt.Sprintf("%s: %d attempts have no count of %s; a pass may have at most %g, so they never count as passes; write 0 where none were made", r.file, n, name, task.AtMost[name]))
			}
		}
	}
}
