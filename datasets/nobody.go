package datasets

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

var (
	// nobodyCodes stand in the trainees' column for nobody in particular.
	nobodyCodes = pattern.New(`(?i)^(test( ?(person|user|run|subject|trainee|\d+))?|tester|demo|dummy|example|sample|trial run|unknown|unbekannt|beispiel|muster|musterperson|testperson|probe|ejemplo|exemple|prueba|essai|voorbeeld|anonymous|anon|nobody|no name|n/?a|none|x{2,}|\?+|-+|tbd|tbc)$`)
	// levelCodes stand there for a level that trainees are held against.
	levelCodes = pattern.New(`(?i)^(target|goal|standard|benchmark|cut-?off|cut ?score|criterion|threshold|time limit|limit|reference|norm|experts?( ?(mean|time|median|level))?|instructors?|faculty|examiners?|ziel|zielwert|zielzeit|vorgabe|soll|richtwert|grenzwert|referenz|expert(e|en|in|innen|s|es)?|chefarzt|oberarzt|lehrer(in)?|ausbilder(in)?|dozent(in)?|objectif|cible|seuil|norme|moniteur|formateur|instructeur|objetivo|meta|umbral|instructor|profesora?|docente|doel)\s*:?$`)
)

// shapeOfCode is the form of a code: digits as 0, letters as a, each run once.
func shapeOfCode(code string) string {
	var b strings.Builder
	last := rune(0)
	for _, c := range code {
		switch {
		case unicode.IsDigit(c):
			c = '0'
		case unicode.IsLetter(c), unicode.IsMark(c):
			c = 'a'
		}
		if c != last {
			b.WriteRune(c)
		}
		last = c
	}
	return b.String()
}

// unlike lists the last codes of a column whose form is not that of all before them, which
// have a number: they may sum up the others. The list is blank where one of the last has a
// form like P03 itself, since codes may be of several kinds.
func unlike(codes []writtenCell) []writtenCell {
	if len(codes) < 4 || !strings.Contains(shapeOfCode(codes[0].text), "0") {
		return nil
	}
	from := len(codes)
	for i, c := range codes {
		if shapeOfCode(c.text) != shapeOfCode(codes[0].text) {
			from = i
			break
		}
	}
	last := codes[from:]
	if from < 3 || len(last) >= from {
		return nil
	}
	words := 0
	for _, c := range last {
		switch shape := shapeOfCode(c.text); {
		case shape == shapeOfCode(codes[0].text):
			return nil
		case !strings.Contains(shape, "0"), strings.ContainsAny(shape, " %"):
			words++
		}
	}
	if words == 0 {
		return nil
	}
	return last
}

// wordsAmong lists the codes without a digit, one in five at most, among others that are of one form with
// digits.
func wordsAmong(codes []writtenCell) []writtenCell {
	var words []writtenCell
	form, others := "", 0
	for _, c := range codes {
		shape := shapeOfCode(c.text)
		switch {
		case !strings.Contains(shape, "0"):
			words = append(words, c)
		case form == "" || shape == form:
			form = shape
			others++
		default:
			return nil
		}
	}
	if others < 4 || 4*len(words) > others {
		return nil
	}
	return words
}

// withAttempts are the codes among some under which there are attempts; others are titles of a part.
func (r *logReader) withAttempts(codes []writtenCell) []writtenCell {
	if len(codes) == 0 {
		return nil
	}
	practised := make(map[string]bool, len(r.placed.trainees))
	for _, who := range r.placed.trainees {
		practised[who] = true
	}
	return slices.DeleteFunc(codes, func(c writtenCell) bool { return !practised[c.text] })
}

// nobodies looks at codes of trainees that may stand for no trainee: levels and rows that
// are marked out are asked about, others noted.
func (r *logReader) nobodies() {
	j := r.table.column(r.cols.Trainee)
	if r.cols.Trainee == "" || j < 0 {
		return
	}
	who := "a trainee"
	if r.expert {
		who = "an expert"
	}
	var odd []string
	codes := r.distinct(j)
	marked := 0
	for _, c := range codes {
		if strings.HasPrefix(c.text, "#") {
			marked++
		}
	}
	way := func(code string) string {
		return fmt.Sprintf("--without %q leaves its rows out, --same %q makes it a code (in a study file: without, same)", r.cols.Trainee+"="+code, code+"=CODE")
	}
	sums := summing(textsOf(codes))
	for _, c := range codes {
		if _, said := r.layout.Same[c.text]; said {
			continue
		}
		switch {
		case isDitto(c.text) && c.count > 1:
			r.badAt(c.row, r.cols.Trainee, c.text, fmt.Sprintf("%s; this mark may repeat the cell above it: --fill-down %q reads it so, --same %q makes it a code (in a study file: fill_down, same)", who, r.cols.Trainee, c.text+"=CODE"), problem.ErrAmbiguous)
		case slices.Contains(sums, c.text):
			r.badAt(c.row, r.cols.Trainee, c.text, who+"; this looks like what sums up others (mean, total and the like): "+way(c.text), problem.ErrAmbiguous)
		case r.expert:
			// an expert may be called one
		case levelCodes.MatchString(c.text) && len(codes) > 1:
			r.badAt(c.row, r.cols.Trainee, c.text, "a trainee; this looks like a level or a person that trainees are held against: "+way(c.text), problem.ErrAmbiguous)
		case strings.HasPrefix(c.text, "#") && 2*marked < len(codes)+1 && len(codes) > 1:
			r.badAt(c.row, r.cols.Trainee, c.text, "a trainee; rows that begin with # are often left out: "+way(c.text), problem.ErrAmbiguous)
		case nobodyCodes.MatchString(c.text), nobodyCodes.MatchString(inBrackets(c.text)):
			odd = append(odd, c.text)
		}
	}
	before := slices.ContainsFunc(r.problems, func(p Problem) bool { return p.Column == r.cols.Trainee && p.Err == problem.ErrAmbiguous })
	if last := unlike(codes); len(last) > 0 && !before && len(odd) == 0 && !slices.ContainsFunc(last, func(c writtenCell) bool { _, said := r.layout.Same[c.text]; return said }) {
		c := last[0]
		if r.isWide {
			r.badAt(c.row, r.cols.Trainee, c.text, fmt.Sprintf("%s; the last codes (%s) are unlike those above them, such as %s, and may sum up or stand for others: %s", who, problem.List(textsOf(last), 4), codes[0].text, way(c.text)), problem.ErrAmbiguous)
		} else {
			r.note("codes-unlike", fmt.Sprintf("%s: the last codes in column %s (%s) are unlike those above them, such as %s, and are read as trainees; %s", r.file, r.cols.Trainee, problem.List(textsOf(last), 4), codes[0].text, way(c.text)))
		}
	}
	if words := r.withAttempts(wordsAmong(codes)); len(words) > 0 && !before && len(odd) == 0 && !r.notedCode("codes-unlike") {
		c := words[0]
		if _, said := r.layout.Same[c.text]; !said && !slices.ContainsFunc(r.problems, func(p Problem) bool { return p.Column == r.cols.Trainee }) {
			r.note("codes-unlike", fmt.Sprintf("%s: codes in column %s without a digit (%s) are unlike the others, and are read as trainees; %s", r.file, r.cols.Trainee, problem.List(textsOf(words), 4), way(c.text)))
		}
	}
	if len(odd) > 0 {
		r.note("codes-of-nobody", fmt.Sprintf("%s: %s in column %s may be no trainee and is read as one; %s", r.file, problem.List(odd, 5), r.cols.Trainee, way(odd[0])))
	}
}

var attemptName = regexp.MustCompile(`(?i)^(attempts?|trials?|runs?|reps?|repetitions?|try|tries|versuch|durchgang|essai|intento)([ _]?(no\.?|nr\.?|number|num|#))?$`)

// turnedAround asks where the column named for trainees counts attempts, and trainees may
// stand beside each other.
func (r *logReader) turnedAround() {
	if !r.isWide || r.log.ColumnsAre != "" || !attemptName.MatchString(r.cols.Trainee) {
		return
	}
	r.ask(r.cols.Trainee, "", fmt.Sprintf("to be told where trainees stand, since this column seems to count attempts: --columns-are trainee --attempt %s where every other column is a trainee (in a study file: columns_are), or another name for the column where it holds trainees", r.cols.Trainee))
}

// marksOut are columns that say which rows do not count, or which do.
var marksOut = regexp.MustCompile(`(?i)^(is[ _])?(exclu(de|ded|sion)|void(ed)?|invalid|valid|dropp?(ed)?|discard(ed)?|omit(ted)?|ignored?|practi[cs]e( run)?|warm[- _]?up|familiari[sz]ation|test[ _]run|pilot|probe(lauf|versuch|durchgang)?|übung(slauf)?|einspielen|aufwärmen|g[uü]e?ltig|ungültig|ausgeschlossen|ausschluss|verworfen|zählt|v[aá]lid[oa]|inválid[oa]|excluid[oa]|práctica|calentamiento|valide|exclue?|échauffement|entraînement|geldig|includ(e|ed)|count(s|ed)?|use(d)?)[?:]?$`)

// limitName are columns with a time limit a row.
var limitName = regexp.MustCompile(`(?i)^(time[ _]?)?(limit|cut[- ]?off|max(imum)?[ _]?(time|seconds|s)?|zeitlimit|höchstzeit|maximalzeit|limite( de temps)?|temps (limite|max(imum)?)|l[ií]mite( de tiempo)?|tiempo (l[ií]mite|m[aá]ximo)|tijdslimiet)([ _(\[]*(s|sec|seconds|min)[)\]]?)?$`)

// askMarks asks about a column that nothing uses and that marks rows out, or gives the
// limit of each.
func (r *logReader) askMarks(name string, cells []writtenCell) bool {
	varies := len(cells) > 1 || some(cells) < r.table.rows()
	switch {
	case marksOut.MatchString(name) && varies && len(cells) <= 4:
		least := cells[0]
		for _, c := range cells {
			if c.count < least.count {
				least = c
			}
		}
		r.ask(name, least.text, fmt.Sprintf("to be told whether this column marks rows out (%d of the rows: %s): --without %q leaves those out, --where %q takes only those, --ignore %q takes all rows (in a study file: without, where, ignore)", least.count, least.text, name+"="+least.text, name+"="+least.text, name))
	case limitName.MatchString(name) && len(cells) > 1 && r.hasTime():
		r.ask(name, cells[len(cells)-1].text, fmt.Sprintf("one time limit, but this column has %d: --where %q takes the rows of one, --ignore %q takes all rows under the limit given (in a study file: where, ignore)", len(cells), name+"="+cells[0].text, name))
	case maximumName.MatchString(name) && len(cells) > 1 && len(r.readers) > 0 && r.readers[0].kind == Score:
		r.ask(name, cells[len(cells)-1].text, fmt.Sprintf("scores out of one maximum, but this column has %d: bring the scores to one scale, or take the rows of one with --where %q; --ignore %q takes all as they are (in a study file: where, ignore)", len(cells), name+"="+cells[0].text, name))
	default:
		return false
	}
	return true
}

// maximumName are columns with the most that a score can be.
var maximumName = regexp.MustCompile(`(?i)^(max(imum|imal)?\.?( ?(score|points?|punkte|points|puntos|pontos))?|out of|of|von|sur|de|possible|total possible|höchstpunkt(zahl|e)|maxpunkte)$`)

func (r *logReader) hasTime() bool {
	for _, m := range r.readers {
		if m.kind == Time {
			return true
		}
	}
	return false
}

// saidOut are words within remarks that change what an attempt counts.
var saidOut = pattern.New(`(?i)\b(fail(ed|ure)?|void|invalid|abort(ed)?|abandon(ed)?|time[- ]?out|timed out|exclud(e|ed)|disqualif\w*|dnf|do not (use|count)|repeat(ed)?|broke|timer|stopp?ed|gave up|restart(ed)?|watch|stop-?watch|interrupt(ed|ion)?|neu gestartet|neustart|stoppuhr|unterbroch\w*|unterbrechung|relanc\w*|red(é|e)marr\w*|chrono\w*|interromp\w*|reinici\w*|cron(ó|o)metro|interrump\w*|abbruch|abgebrochen|ungültig|wiederhol\w*|z(ä|ae)hlt nicht|nicht (werten|z(ä|ae)hlen)|gebrochen|defekt|gestoppt|échec|annul\w*|abandon\w*|cass\w*|recommenc\w*|no (cuenta|v[aá]lid[oa])|anulad[oa]|repetid[oa]|rot[oa]|fallo)\b`)

// noteRemarks notes remarks that say an attempt was not like others.
func (r *logReader) noteRemarks(name string, cells []writtenCell) {
	n, first := 0, writtenCell{}
	for _, c := range cells {
		if saidOut.MatchString(c.text) {
			if n == 0 {
				first = c
			}
			n += c.count
		}
	}
	if n > 0 {
		r.remarked = append(r.remarked, name)
		r.note("remarks-unread", fmt.Sprintf("%s: column %s is not read, and says of %d attempts what may change how they count, such as %q in line %d; put the outcome into a column of its own and name it with --outcome", r.file, name, n, problem.Clip(first.text), r.table.line(first.row)))
	}
}
