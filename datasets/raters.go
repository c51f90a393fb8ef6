package datasets

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tyro/analysis/practice"
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
		r.bad(t.headLine(), name, "", "every column to have its own name", ErrDuplicate)
	}
	for j, name := range t.header {
		if name == "" && len(t.distinct([]int{j})) > 0 && (j > 0 || !t.counted()) {
			r.bad(t.headLine(), "", "", fmt.Sprintf("a name for column %d", j+1), ErrMissing)
		}
	}
	v := t.votesOf()
	r.comma = v.comma != ""
	switch {
	case r.rf.Decimal != "":
		r.comma = r.rf.Decimal == "comma"
	case v.comma != "" && v.point != "":
		r.bad(0, "", v.comma+" and "+v.point, "to be told the decimal mark: --decimal point or --decimal comma (in a study file: decimal)", ErrAmbiguous)
	}
}

// noRaters are names of columns that stand beside raters in wide tables.
var noRaters = regexp.MustCompile(`(?i)^(trainee|participant|candidate|student|subject|id|code|no\.?|nr\.?|#|number|date|time|day|session|visit|arm|group|site|attempt|task|station|age|sex|gender|comments?|notes?|remarks?|consensus|agreed|final|result|passed\?|pass)$`)

// noRater reports whether a column of a wide table holds no rater's scores, and says so.
func (r *ratingsReader) noRater(name string, f frame) bool {
	cells := f.text(name)
	switch {
	case slices.Contains(r.rf.Ignore, name):
		return true
	case summaryWords.MatchString(name), extremes.MatchString(name), noRaters.MatchString(name):
		r.out.Notes = append(r.out.Notes, Note{Code: "column-not-rater", Text: fmt.Sprintf("%s: column %s is taken for no rater and is not read", r.file, name)})
		return true
	}
	for i, c := range cells {
		first, _ := parseNumber(cells[0], false)
		if v, ok := parseNumber(c, false); !ok || v != first+float64(i) || len(cells) < 5 {
			return false
		}
	}
	r.bad(1, name, cells[0], fmt.Sprintf("scores of a rater; this column counts the rows: say --ignore %s (in a study file: ignore)", name), ErrAmbiguous)
	return true
}

// mixed looks at an item whose scores may be numbers: words for nothing become blanks, and
// other words among numbers are problems unless the scale has words.
func (r *ratingsReader) mixed(raw *rawItem, spec ItemSpec) bool {
	numbers, words, nothing := 0, 0, 0
	for key, c := range raw.cells {
		_, ok := parseNumber(c.text, r.comma)
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
			if _, ok := parseNumber(c.text, r.comma); c.text != "" && !ok && numbers >= words {
				r.bad(c.line, k, c.text, fmt.Sprintf("a number, as most ratings of item %s are, or --scale nominal where words and numbers are categories", raw.name), ErrNotNumber)
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
		roles[first(r.rf.Subject, t.header[0])] = "subject"
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
