package datasets

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// wanted are the columns that help to find a table of ratings.
func (rf RatingsFile) wanted() []string {
	var out []string
	for _, name := range []string{rf.Subject, rf.Rater, rf.Item, rf.Score, rf.Trainee, rf.Occasion, rf.When} {
		if name != "" {
			out = append(out, name)
		}
	}
	return out
}

// settleTable looks at a table of ratings as a whole: its decimal mark, columns that have
// one name and cells without a value.
func (r *ratingsReader) settleTable(t *table) {
	r.problems = append(r.problems, t.missing(r.rf.Layout)...)
	r.problems = append(r.problems, t.unknownCells()...)
	for _, name := range t.twice {
		r.bad(t.headLine(), name, "", "every column to have its own name", problem.ErrDuplicate)
	}
	for j, name := range t.header {
		if name == "" && len(t.distinct([]int{j})) > 0 && (j > 0 || !t.counted()) {
			r.bad(t.headLine(), "", "", fmt.Sprintf("a name for column %d", j+1), problem.ErrMissing)
		}
	}
	v := t.votesOf()
	r.comma = v.comma != ""
	switch {
	case r.rf.Decimal != "":
		r.comma = r.rf.Decimal == "comma"
	case v.comma != "" && v.point != "":
		r.bad(0, "", v.comma+" and "+v.point, "to be told the decimal mark: --decimal point or --decimal comma, or --decimal either where both are one (in a study file: decimal)", problem.ErrAmbiguous)
	}
}

// noRaters are names of columns that stand beside raters in wide tables.
var noRaters = regexp.MustCompile(`(?i)^((trainee|participant|candidate|student|subject)([ _](no|nr|number|id|code)\.?)?|id|code|no\.?|nr\.?|#|number|date|time|day|session|visit|arm|group|site|attempt|task|station|age|years?|pgy|jahr|ausbildungsjahr|lehrjahr|année|año|ano|anno|jaar|leerjaar|år|årskurs|vuosi|rok|ročník|semester|sex|gender|comments?|notes?|remarks?|consensus|agreed|final|result|passed\?|pass|differen(ce|z)|diff\.?|abweichung|diferencia|teilnehmer(in)?|leerling|deelnemer|cursist|elev|opiskelija|hallgató|allievo|aluno|kursant|uczestnik|proband(in)?|kandidat(in)?|lernende[rn]?|kürzel|datum|uhrzeit|gruppe|versuch|kommentare?|bemerkung(en)?|alter|geschlecht|participante?|candidat|sujet|stagiaire|étudiant(e)?|groupe|essai|remarques?|commentaires?|âge|sexe|alumno|residente|fecha|grupo|intento|comentarios?|observaciones|edad)$`)

// isNoExtreme reports whether the scores of a column called Max or Min are not, in some row, the most or the least
// of those columns that it could sum up: then it is somebody's name.
func (r *ratingsReader) isNoExtreme(name string, f frame, subject string) bool {
	sign := map[string]float64{"max": 1, "min": -1}[strings.ToLower(name)]
	if sign == 0 {
		return false
	}
	scores := func(name string) (vs []float64, most float64) {
		most = math.Inf(-1)
		for _, c := range f.text(name) {
			v, ok := grid.ParseNumber(c, r.comma)
			if !ok {
				v = math.Inf(-1)
			} else {
				v *= sign
			}
			vs, most = append(vs, v), math.Max(most, v)
		}
		return vs, most
	}
	own, top := scores(name)
	others := 0
	mostOf := slices.Repeat([]float64{math.Inf(-1)}, len(own))
	for _, n := range f.names() {
		vs, most := scores(n)
		if n == name || n == subject || most > top || math.IsInf(most, 0) || noRaters.MatchString(n) || summaryWords.MatchString(n) {
			continue
		}
		others++
		for i, v := range vs {
			mostOf[i] = math.Max(mostOf[i], v)
		}
	}
	for i, v := range own {
		if others >= 2 && !math.IsInf(v, 0) && !math.IsInf(mostOf[i], 0) && v != mostOf[i] {
			return true
		}
	}
	return false
}

// noRater reports whether a column of a wide table holds no rater's scores, and says so.
func (r *ratingsReader) noRater(name string, f frame, subject string) bool {
	cells := f.text(name)
	switch {
	case slices.Contains(r.rf.Ignore, name):
		return true
	case extremes.MatchString(name) && r.isNoExtreme(name, f, subject):
		return false
	case extremes.MatchString(name) && len(summing(f.names())) == 0:
		if _, said := r.rf.Same[name]; !said {
			r.bad(1, name, "", fmt.Sprintf("a rater; this looks like the least or most of several: --ignore %q leaves it out, --same %q makes it a rater (in a study file: ignore, same)", name, name+"="+name), problem.ErrAmbiguous)
		}
		return false
	case summaryWords.MatchString(name), extremes.MatchString(name), noRaters.MatchString(name):
		r.out.Notes = append(r.out.Notes, Note{Code: "column-not-rater", Text: fmt.Sprintf("%s: column %s is taken for no rater and is not read", r.file, name)})
		return true
	}
	for i, c := range cells {
		first, _ := grid.ParseNumber(cells[0], false)
		if v, ok := grid.ParseNumber(c, false); !ok || v != first+float64(i) || len(cells) < 5 {
			return false
		}
	}
	r.bad(1, name, cells[0], fmt.Sprintf("scores of a rater; this column counts the rows: say --ignore %s (in a study file: ignore)", name), problem.ErrAmbiguous)
	return true
}

// derived asks about columns of a wide table of which one is the mean, the sum or the
// difference of the others in every row.
func (r *ratingsReader) derived(f frame, raters []string) {
	if len(raters) < 3 {
		return
	}
	columns := make([][]string, len(raters))
	for k, name := range raters {
		columns[k] = f.text(name)
	}
	is := func(k int, near func(v, sum float64) bool) bool {
		rows := 0
		for i := range columns[k] {
			sum, whole, low, high := 0.0, true, math.Inf(1), math.Inf(-1)
			for n := range columns {
				v, ok := grid.ParseNumber(columns[n][i], r.comma)
				whole = whole && ok
				if n != k {
					sum, low, high = sum+v, min(low, v), max(high, v)
				}
			}
			if !whole {
				continue
			}
			if v, _ := grid.ParseNumber(columns[k][i], r.comma); !near(v, sum) {
				return false
			}
			if low < high { // raters who agree are each other's mean
				rows++
			}
		}
		return rows >= 4
	}
	n := float64(len(raters) - 1)
	for k, name := range raters {
		what, slack := "", min(0.051, 0.51*lastPlaceOf(columns[k], r.comma))
		switch {
		case is(k, func(v, sum float64) bool { return math.Abs(v-sum/n) <= slack+1e-9*math.Abs(v) }):
			what = "the mean"
		case is(k, func(v, sum float64) bool { return math.Abs(v-sum) <= 0.0005*math.Abs(v) && v != 0 }):
			what = "the sum"
		}
		if what != "" {
			r.bad(1, name, "", fmt.Sprintf("scores of raters; in every row this column is %s of the others (%s): say --ignore with the one of them that is no rater (in a study file: ignore)", what, strings.Join(raters, ", ")), problem.ErrAmbiguous)
			return
		}
	}
}

// lastPlaceOf is what one more in the last decimal place of a column is worth: 0.01 where its longest number
// is 7.25. A mean is rounded there, and only there is a score near a mean the mean itself: raters of a scale
// from 0 to 1 agree to less than a tenth.
func lastPlaceOf(cells []string, comma bool) float64 {
	mark, places := ".", 0
	if comma {
		mark = ","
	}
	for _, c := range cells {
		if _, decimals, ok := strings.Cut(strings.TrimSpace(c), mark); ok {
			places = max(places, len(decimals))
		}
	}
	return math.Pow(10, -float64(places))
}

// notRated asks about subjects that sum up others, and numbers that stand for no rating.
func (r *ratingsReader) notRated(raw *rawItem) {
	for _, s := range summing(raw.subjects) {
		if _, said := r.rf.Same[s]; !said {
			r.bad(raw.lineOf(s), r.rf.Subject, s, fmt.Sprintf("a rated subject; this looks like what sums up others (mean, total and the like): --without %q leaves its rows out (in a study file: without)", cmp.Or(r.rf.Subject, "subject")+"="+s), problem.ErrAmbiguous)
		}
	}
	if !r.rf.Wide && !r.rf.Counts {
		sums := summing(raw.raters)
		for _, k := range raw.raters {
			if _, said := r.rf.Same[k]; !said && (slices.Contains(sums, k) || agreedName.MatchString(k)) {
				r.bad(raw.lineOfRater(k), cmp.Or(r.rf.Rater, "rater"), k, fmt.Sprintf("a rater; this looks like what several raters make together: --without %q leaves its rows out, --same %q makes it a rater (in a study file: without, same)", cmp.Or(r.rf.Rater, "rater")+"="+k, k+"="+k), problem.ErrAmbiguous)
			}
		}
	}
	largest, least := math.Inf(-1), math.Inf(1)
	odd := map[string]rawCell{}
	for _, c := range raw.cells {
		v, ok := grid.ParseNumber(c.text, r.comma)
		switch {
		case !ok:
		case slices.Contains(sentinels, v):
			if before, seen := odd[c.text]; !seen || c.line < before.line {
				odd[c.text] = c
			}
		default:
			largest, least = math.Max(largest, v), math.Min(least, v)
		}
	}
	r.noteOutlier(raw)
	r.loneCode(raw)
	for _, text := range sortedKeys(odd) {
		v, _ := grid.ParseNumber(text, r.comma)
		if _, said := r.rf.Same[text]; !said && !math.IsInf(largest, 0) && (v < 0 && least >= 0 || v >= 9 && v > 2*largest) {
			c := odd[text]
			r.bad(c.line, c.column, text, fmt.Sprintf("a score; this is far from all others and often stands for no rating: in the study file, same: {%q: NA} makes it blank, same: {%q: %q} a score like others", text, text, text), problem.ErrAmbiguous)
		}
	}
}

// agreedName is what several raters agreed on, where a rater would stand.
var agreedName = regexp.MustCompile(`(?i)^(consens(us|o)?|konsens(us)?|agreed|final|panel|gold ?standard|reference|referenz|einigung|accord)$`)

// lineOfRater is the first line with a rater.
func (it *rawItem) lineOfRater(rater string) int {
	line := 0
	for key, c := range it.cells {
		if key[1] == rater && (line == 0 || c.line < line) {
			line = c.line
		}
	}
	return line
}

// noteOutlier notes one score far above all others that a digit too many explains.
func (r *ratingsReader) noteOutlier(raw *rawItem) {
	var vs []float64
	at := map[float64]rawCell{}
	for _, c := range raw.cells {
		if v, ok := grid.ParseNumber(c.text, r.comma); ok {
			vs = append(vs, v)
			at[v] = c
		}
	}
	slices.Sort(vs)
	n := len(vs)
	if n < 8 || vs[n-1] <= outlying*vs[n-2] || vs[0] <= 0 || vs[n-1]/10 > 1.5*vs[n-2] || vs[n-2] <= 1 {
		return
	}
	c := at[vs[n-1]]
	r.out.Notes = append(r.out.Notes, Note{Code: "far-from-others", Text: fmt.Sprintf("%s: item %s: %s in line %d is far above all others (the next is %s); a digit or a decimal mark may be wrong: hold it against the source", r.file, raw.name, c.text, c.line, grid.FormatNumber(vs[n-2]))})
}

// loneCode notes an 8 or a 9 on a scale of whole numbers that ends three or more below it: it may stand for no rating.
func (r *ratingsReader) loneCode(raw *rawItem) {
	count, top, n := map[float64]int{}, math.Inf(-1), 0
	for _, c := range raw.cells {
		v, ok := grid.ParseNumber(c.text, r.comma)
		if !ok || v != math.Trunc(v) {
			return
		}
		if n++; v == 8 || v == 9 {
			count[v]++
		} else {
			top = math.Max(top, v)
		}
	}
	for _, v := range []float64{8, 9} {
		text := grid.FormatNumber(v)
		if _, said := r.rf.Same[text]; said || count[v] == 0 || 10*count[v] > n+9 || n < 8 || top < 1 || v-top < 3 {
			continue
		}
		r.out.Notes = append(r.out.Notes, Note{Code: "score-or-code", Text: fmt.Sprintf("%s: item %s: %s stands %d times, and no other score is above %s; it may stand for no rating: in the study file, same: {%q: NA} makes it blank", r.file, raw.name, text, count[v], grid.FormatNumber(top), text)})
	}
}

// lineOf is the first line with a subject.
func (it *rawItem) lineOf(subject string) int {
	line := 0
	for key, c := range it.cells {
		if key[0] == subject && (line == 0 || c.line < line) {
			line = c.line
		}
	}
	return line
}

// mixed looks at an item whose scores may be numbers: words for nothing become blanks, and
// other words among numbers are problems unless the scale has words.
func (r *ratingsReader) mixed(raw *rawItem, spec ItemSpec) bool {
	numbers, words, nothing := 0, 0, 0
	for key, c := range raw.cells {
		_, ok := grid.ParseNumber(c.text, r.comma)
		switch {
		case c.text == "":
		case ok:
			numbers++
		case slices.Contains(missingWords, strings.ToLower(c.text)):
			nothing++
			c.text = ""
			raw.cells[key] = c
		default:
			words++
		}
	}
	for key, c := range raw.first {
		if slices.Contains(missingWords, strings.ToLower(c.text)) {
			c.text = ""
			raw.first[key] = c
		}
	}
	if nothing > 0 {
		r.out.Notes = append(r.out.Notes, Note{Code: "missing-words", Text: fmt.Sprintf("%s: item %s has %d cells with a word for nothing, such as NA; they are missing ratings", r.file, raw.name, nothing)})
	}
	if words == 0 || numbers == 0 || spec.Scale == "nominal" {
		return false
	}
	before := len(r.problems)
	for _, s := range raw.subjects {
		for _, k := range raw.raters {
			c := raw.first[[2]string{s, k}]
			if _, ok := grid.ParseNumber(c.text, r.comma); c.text != "" && !ok && numbers >= words {
				way := wayFor(c.text)
				if strings.HasSuffix(c.text, "%") {
					way = "write all on one scale, such as 4 of 5 for 80%"
				}
				if way == "" {
					way = fmt.Sprintf("in the study file, same: {%q: NA} makes it blank", c.text)
				}
				r.bad(c.line, c.column, c.text, fmt.Sprintf("a number, as most ratings of item %s are (%s), or --scale nominal where words and numbers are categories", raw.name, way), problem.ErrNotNumber)
			}
		}
	}
	return len(r.problems) > before
}

// similar notes names that look alike.
func (r *ratingsReader) similar(what string, names []string) {
	n := logReader{file: r.file}
	n.noteSimilar(what, names)
	for _, note := range n.notes {
		if !slices.Contains(r.out.Notes, note) {
			r.out.Notes = append(r.out.Notes, note)
		}
	}
}

// picture is what was read of the file, and what was not.
func (r *ratingsReader) picture(t *table) {
	out := t.read
	out.RowsUsed, out.Decimal, out.Shape = t.rows(), "point", "one row a rating"
	if r.comma {
		out.Decimal = "comma"
	}
	roles := map[string]string{r.rf.Subject: "subject", r.rf.Rater: "rater", r.rf.Item: "item", r.rf.Score: "score", r.rf.Trainee: "trainee", r.rf.Occasion: "occasion", r.rf.When: "when"}
	for _, name := range []string{"subject", "rater", "item", "score"} {
		if roles[name] == "" {
			roles[name] = name
		}
	}
	for _, it := range r.rf.Items {
		roles[it.Name] = "score"
	}
	if r.rf.Wide {
		out.Shape = "one row a subject, one column a rater"
		for _, it := range r.out.Items {
			for _, rater := range it.Raters {
				roles[rater] = "scores of a rater"
			}
		}
		roles[cmp.Or(r.rf.Subject, t.header[0])] = "subject"
	}
	for j, name := range t.header {
		as := roles[name]
		switch {
		case name == "":
		case as == "":
			out.ColumnsUnused = append(out.ColumnsUnused, name)
		default:
			c := practice.ColumnRead{Name: name, As: as, How: "text"}
			for _, cell := range samplesOf(t.distinct([]int{j})) {
				c.Samples = append(c.Samples, practice.SampleRead{Cell: cell.text, Value: cell.text})
			}
			out.Columns = append(out.Columns, c)
		}
	}
	r.out.Read = out
}
