package datasets

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// mostCompared is how many rows of a column are held against the measure.
const mostCompared = 5000

var (
	// correctedName are columns with what the measure should have been.
	correctedName = regexp.MustCompile(`(?i)\b(correct(ed|ion)?|corr\.?|revised|amended|adjusted|korrigierte?|korrektur|berichtigte?|corrigée?s?|rectifiée?s?|corregid[oa]s?|corrigid[oa]s?|corrett[oaie]|gecorrigeerde?)\b`)
	// expertWords are levels of people whom trainees are held against.
	expertWords = regexp.MustCompile(`(?i)^(consultants?|attendings?|attending physician|experts?|staff( (surgeon|physician|member))?|faculty|specialists?|instructors?|(senior )?(lecturer|professor)s?|teachers?|trainers?|examiners?|(leitender? )?(oberarzt|oberärztin|chefarzt|chefärztin|facharzt|fachärztin)|expert(e|in|en|innen)|dozent(in)?|ausbilder(in)?|experte?s?|formateurs?|enseignants?|chef de clinique|expert[oa]s?|profesora?|especialistas?|adjunt[oa])$`)
)

// expertStems begin the word for an expert in many languages.
var expertStems = regexp.MustCompile(`(?i)^(e[kx]s?p[eé]r|esper|эксперт|експерт|експерт|ειδικ|专家|專家|専門家|전문가|asiantunt|szakért|odborn|stručnjak|znalec|uzman|chuyên gia|ผู้เชี่ยวชาญ|متخصص|خبير|מומח)`)

// besides looks at columns that nothing uses and that hold the measure once more, or what
// corrects it, or say who is no trainee.
func (r *logReader) besides() {
	if r.isWide || len(r.readers) == 0 {
		return
	}
	m, t := r.readers[0], r.table
	var free []int
	for _, name := range r.unused() {
		j := t.column(name)
		if slices.Contains(r.layout.Ignore, name) {
			continue
		}
		r.expertLevels(name)
		if m.kind != PassFail && len(m.columns) == 1 {
			r.measureAgain(m, name, j)
		}
		free = append(free, j)
	}
	if len(m.columns) == 1 && m.kind != PassFail {
		r.bestOf(m, free)
	}
}

// expertLevels notes a column that says of some people, and not of others, that they are experts.
func (r *logReader) expertLevels(name string) {
	cells := r.distinct(r.table.column(name))
	if len(cells) < 2 || len(cells) > 20 || r.expert || r.cols.Trainee == "" || caseNames.MatchString(name) || raterName.MatchString(name) || r.variesWithin(name) {
		return
	}
	var words []string
	for _, c := range cells {
		if expertWords.MatchString(c.text) || expertStems.MatchString(c.text) {
			words = append(words, c.text)
		}
	}
	if len(words) > 0 && len(words) < len(cells) {
		r.note("experts-among-trainees", fmt.Sprintf("%s: column %s says %s of some and is not read, so that they count as trainees; --without %q leaves their rows out (in a study file: without, and experts for a table of their own)", r.file, name, problem.List(words, 3), name+"="+words[0]))
	}
}

// raterName are columns that name who watched, not who practised.
var raterName = regexp.MustCompile(`(?i)\b(raters?|examiners?|assessors?|observers?|proctors?|supervisors?|supervised|instructors?|teachers?|tutors?|by|prüfer(in)?|beobachter(in)?|betreuer(in)?|examinateur|encadrant|evaluador|tutor|supervisor)\b`)

// lettersOf are the letters of a name, small.
func lettersOf(name string) string {
	return strings.Map(func(c rune) rune {
		if unicode.IsLetter(c) {
			return unicode.ToLower(c)
		}
		return -1
	}, name)
}

// valueOf is what a cell of a column that nothing uses would be as a measure.
func (m *measureReader) valueOf(t *table, i, j int) (float64, bool) {
	w, s := m.ways[t.sourceAt(i)], plainDigits(t.text(i, j))
	if s == "" || !strings.ContainsAny(s, "0123456789") {
		return 0, false
	}
	v, ok := w.number(s)
	if m.kind == Time {
		v, ok = duration(s, w.notation, w.form)
	}
	return v, ok
}

// measureAgain notes a column that corrects the measure, has its name, or holds the same numbers
// in many rows and others elsewhere.
func (r *logReader) measureAgain(m *measureReader, name string, j int) {
	t, k := r.table, m.columns[0]
	rows := min(t.rows(), mostCompared)
	same, other, line := 0, 0, 0
	lacking, lacks := 0, 0 // rows in which only the measure has a number
	near, like, close, below, whole := 0, 0, 0, 0, true
	var apartFrom differences
	differ := map[grid.Cell]bool{}
	for i := range rows {
		v, ok := r.valueAt(m, i, k)
		if !ok {
			continue
		}
		if t.cell(i, j) == 0 {
			lacking, lacks = lacking+1, first2(lacks, t.line(i))
			continue
		}
		w, isNumber := v, t.cell(i, j) == t.cell(i, k)
		if !isNumber {
			w, isNumber = m.valueOf(t, i, j)
		}
		switch {
		case !isNumber:
			lacking, lacks = lacking+1, first2(lacks, t.line(i))
		case math.Abs(v-w) < 1e-9:
			same++
			differ[t.cell(i, k)] = true
		default:
			other++
			line = first2(line, t.line(i))
			if w < v {
				below++
			}
			if math.Abs(v-w) <= 0.03*math.Abs(v) {
				near++
			}
			if w >= v/2 && w <= 2*v {
				like++
			}
			if math.Abs(v-w) <= 0.2*v {
				close++
			}
			apartFrom.add(v, w)
			whole = whole && w == math.Round(w) && math.Abs(v-w) <= 0.5
		}
	}
	spread, steady := apartFrom.spread()
	why := ""
	switch {
	case other == 0 && lacking > 0 && len(differ) >= 6 && 3*same >= 2*rows:
		why = fmt.Sprintf("is the same in %d rows and holds no number in %d, as where some attempts were left out", same, lacking)
		line = lacks
	case other == 0:
		return
	case steady && r.startsAt(m, apartFrom.d/apartFrom.n):
		return // when it ended
	case endName.MatchString(name) && r.endsAt(m, name):
		return
	case correctedName.MatchString(name):
		why = "may correct it"
	case marksOnTheWay(name, m.name, below, other-below, same+other):
		return
	case lettersOf(name) == lettersOf(m.name) && 2*(same+other) >= rows:
		why = "has its name but for signs"
	case other*10 >= 9*rows && like >= other && steady && rows >= 8 && m.kind == Time && r.variesWithin(name):
		why = "differs from it by about the same in every row"
	case spread < 0.4 && close*10 >= 9*rows && rows >= 8 && !whole && m.kind == Time && r.variesWithin(name):
		why = "is close to it in every row and follows it, as a second watch does"
	case (same+near)*10 >= 9*rows && rows >= 8 && !whole && m.kind == Time && r.variesWithin(name):
		why = "is close to it in every row, as by a second watch"
	case (same+like)*10 >= 9*rows && rows >= 8 && !whole && m.kind == Time && strings.Contains(lettersOf(name), lettersOf(m.name)) && r.variesWithin(name):
		why = "has its name within its own and numbers like it"
	case same >= 3 && 5*same >= rows && len(differ) >= 3 && (same+other)*10 >= 9*rows && !r.madeOf(m, name):
		why = fmt.Sprintf("is the same in %d rows and not in %d, as where penalties are added or values corrected", same, other)
	default:
		return
	}
	r.note("measure-again", fmt.Sprintf("%s: column %s is not read, and beside %s it %s (line %d): name the one that counts with --response, write what is right into one column, or say --ignore %q (in a study file: the task's column, ignore)", r.file, name, m.name, why, line, name))
}

// startsAt reports whether a column that nothing uses says this one time of all rows: the moment at which
// every attempt began, so that another is the moment at which it ended.
func (r *logReader) startsAt(m *measureReader, v float64) bool {
	return slices.ContainsFunc(r.unused(), func(name string) bool {
		cells := r.distinct(r.table.column(name))
		if len(cells) != 1 || !strings.Contains(cells[0].text, ":") || cells[0].count != r.table.rows() {
			return false
		}
		w, ok := m.valueOf(r.table, cells[0].row, r.table.column(name))
		return ok && math.Abs(v-w) < 0.006
	})
}

func first2(a, b int) int {
	if a != 0 {
		return a
	}
	return b
}

// bestOf notes a measure that is in every row the least, the largest or the mean of columns that
// have one name but for their numbers: tries of which one counts.
func (r *logReader) bestOf(m *measureReader, free []int) {
	t := r.table
	families := map[string][]int{}
	for _, j := range free {
		if key := lettersOf(t.header[j]); key != lettersOf(m.name) || key == "" {
			families[key] = append(families[key], j)
		}
	}
	for _, key := range sortedKeys(families) {
		columns := families[key]
		if len(columns) < 2 {
			continue
		}
		rows, differ := 0, 0
		is := map[string]bool{"the least": true, "the largest": true, "the mean": true}
		for i := range min(t.rows(), mostCompared) {
			v, ok := r.valueAt(m, i, m.columns[0])
			low, high, sum, n := math.Inf(1), math.Inf(-1), 0.0, 0
			for _, j := range columns {
				if w, isNumber := m.valueOf(t, i, j); isNumber {
					low, high, sum, n = min(low, w), max(high, w), sum+w, n+1
				}
			}
			if !ok || n < 2 {
				continue
			}
			rows++
			if low < high {
				differ++
			}
			is["the least"] = is["the least"] && math.Abs(v-low) < 1e-9
			is["the largest"] = is["the largest"] && math.Abs(v-high) < 1e-9
			is["the mean"] = is["the mean"] && math.Abs(v-sum/float64(n)) <= 0.051
		}
		for _, what := range []string{"the least", "the largest", "the mean"} {
			if is[what] && differ >= 4 && 2*rows >= t.rows() {
				var names []string
				for _, j := range columns {
					names = append(names, t.header[j])
				}
				r.note("measure-of-tries", fmt.Sprintf("%s: %s is in every row %s of columns %s, which are not read: one attempt here is several tries, and practice is counted in attempts; say --ignore with these names where that is meant", r.file, m.name, what, problem.List(names, 4)))
				break
			}
		}
	}
}

// differences are those between the measure and another column, row by row.
type differences struct {
	n, v, vv, d, dd float64
	least, most     float64 // of the differences
	low, high       float64 // of what a number of the one is to the other
}

func (s *differences) add(v, w float64) {
	d, ratio := w-v, w/v
	if s.n == 0 {
		s.least, s.most, s.low, s.high = d, d, ratio, ratio
	}
	s.n, s.v, s.vv, s.d, s.dd = s.n+1, s.v+v, s.vv+v*v, s.d+d, s.dd+d*d
	s.least, s.most, s.low, s.high = min(s.least, d), max(s.most, d), min(s.low, ratio), max(s.high, ratio)
}

// spread is the standard deviation of the differences in those of the measure, and whether they are all one
// number, or one part of the measure.
func (s differences) spread() (spread float64, steady bool) {
	if s.n < 6 {
		return math.Inf(1), false
	}
	variance := func(sum, squares float64) float64 { return max(0, squares-sum*sum/s.n) }
	return math.Sqrt(variance(s.d, s.dd) / variance(s.v, s.vv)), s.most-s.least <= 0.011 || s.high-s.low <= 0.002 && s.low > 0.8 && s.high < 1.25
}
