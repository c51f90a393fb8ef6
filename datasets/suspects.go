package datasets

import (
	"fmt"
	"math"
	"regexp"
	"slices"
)

// suspects looks at the table once more for what is easily taken for something else.
func (r *logReader) suspects(log Log) {
	r.mangledCodes()
	r.unitColumn()
	r.blankArms(log)
	r.unlabelledSummaries()
	for _, m := range r.readers {
		for f := range r.files {
			m.doubtSize(r, f)
		}
	}
}

var powerOfTen = regexp.MustCompile(`^\d(?:[.,]\d+)?[eE]\+?\d+$`)

// mangledCodes notes codes of trainees that a spreadsheet took for something else.
func (r *logReader) mangledCodes() {
	j := r.table.column(r.cols.Trainee)
	if r.cols.Trainee == "" || j < 0 {
		return
	}
	var odd []string
	for _, c := range r.table.distinct([]int{j}) {
		v, isNumber := parseNumber(c.text, false)
		switch {
		case c.kind == broken || c.kind == uncalculated:
			r.badAt(c.row, r.cols.Trainee, "", "a trainee code; the formula in this cell has no value: open the file in a spreadsheet program and save it", ErrMissing)
		case c.kind == day, c.kind == span, c.kind == hourSpan, c.kind == clock, c.kind == percent, powerOfTen.MatchString(c.text), isNumber && v >= 1e15:
			odd = append(odd, c.text)
		}
	}
	if len(odd) > 0 {
		r.note("codes-changed", fmt.Sprintf("%s: trainee codes such as %q look like what a spreadsheet made of other codes (dates, powers of ten); hold them against the source", r.file, odd[0]))
	}
}

var unitName = regexp.MustCompile(`(?i)^(time |measure )?(units?|uom|einheit)$`)

// unitColumn asks where a column says that times are not all in seconds.
func (r *logReader) unitColumn() {
	for _, name := range r.unused() {
		if !unitName.MatchString(name) || slices.Contains(r.layout.Ignore, name) || r.log.Times != "" {
			continue
		}
		for _, c := range r.table.distinct([]int{r.table.column(name)}) {
			if unit := headUnit(" " + c.text); unit != "" && unit != "seconds" && slices.ContainsFunc(r.readers, func(m *measureReader) bool { return m.kind == Time }) {
				r.ask(name, c.text, fmt.Sprintf("to be told the unit of the times, since this column says %s in %d rows: --times %s where it is so in all rows, or --ignore %s (in a study file: times, ignore)", unit, c.count, unit, name))
			}
		}
	}
}

// blankArms notes trainees without an arm where others have one.
func (r *logReader) blankArms(log Log) {
	without, with := map[string]bool{}, false
	for _, a := range log.Attempts {
		if a.Arm == "" {
			without[a.Trainee] = true
		} else {
			with = true
		}
	}
	if with && len(without) > 0 {
		r.note("arms-missing", fmt.Sprintf("%s: %d trainees have no arm; they are an arm of their own", r.file, len(without)))
	}
}

// unlabelledSummaries asks about rows at the end of a wide table that are the mean or the
// sum of the rows above them, whatever stands in the trainees' column.
func (r *logReader) unlabelledSummaries() {
	t := r.table
	if !r.isWide || r.log.ColumnsAre != "" || t.rows() < 3 {
		return
	}
	for f := range r.files {
		from, to := t.span(f)
		r.summariesIn(from, to)
	}
}

// summariesIn asks about such rows at the end of some rows.
func (r *logReader) summariesIn(from, to int) {
	t := r.table
	for i := max(from+2, to-3); i < to; i++ {
		near := 0.006 // of two rows alone the mean has to be met more closely
		if i == from+2 {
			near = 0.0005
		}
		means, sums, columns := 0, 0, 0
		for j, m := range r.readers {
			for _, s := range r.slotted {
				v, ok := r.valueAt(m, i, s.columns[j])
				if !ok {
					continue
				}
				sum, n, differ := 0.0, 0, false
				for k := from; k < i; k++ {
					if w, ok := r.valueAt(m, k, s.columns[j]); ok {
						sum, n, differ = sum+w, n+1, differ || w != v
					}
				}
				if !differ {
					continue
				}
				columns++
				if n > 1 && math.Abs(v-sum/float64(n)) <= near*math.Abs(v) {
					means++
				}
				if n > 1 && math.Abs(v-sum) <= 0.0005*math.Abs(v) {
					sums++
				}
			}
		}
		if columns >= 2 && (means == columns || sums == columns) {
			r.badAt(i, r.cols.Trainee, t.text(i, t.column(r.cols.Trainee)), "a trainee; the row is the mean or the sum of those above it: delete it, or leave it out with --where (in a study file: where)", ErrAmbiguous)
		}
	}
}

// valueAt is the number in a cell.
func (r *logReader) valueAt(m *measureReader, i, j int) (float64, bool) {
	if j < 0 {
		return 0, false
	}
	got := m.readings[r.table.cell(i, j)]
	return got.value, got.state == isNumber
}

// doubtSize notes measures of a file of a size that another unit would explain.
func (m *measureReader) doubtSize(r *logReader, f int) {
	cells := slices.DeleteFunc(slices.Clone(m.cells), func(c writtenCell) bool { return c.source != f })
	if m.ways[f].form != "" || len(cells) == 0 {
		return
	}
	file := r.files[f].file
	var vs []float64
	for _, c := range cells {
		if got := m.readings[c.id]; got.state == isNumber {
			vs = append(vs, got.value)
		}
	}
	if len(vs) == 0 {
		return
	}
	slices.Sort(vs)
	middle := vs[len(vs)/2]
	two := 0
	for _, c := range cells {
		if c.kind == written && twoDecimals.MatchString(c.text) {
			two++
		}
	}
	switch {
	case m.kind == Time && m.near() == 0 && two == len(cells) && two >= 3 && middle < 10:
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds; all its numbers have two decimals below 60, as minutes and seconds have: say --times m.ss where they are", file, m.name))
	case m.kind == Time && m.near() == 0 && middle < 5:
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds, and half of its times are below 5 s; say --times minutes where they are minutes", file, m.name))
	case m.kind == Time && m.near() == 0 && middle > 3600:
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds, and half of its times are above an hour; say --times milliseconds where they are", file, m.name))
	case m.kind == Score && m.standard > 0 && (middle >= 20*m.standard || vs[len(vs)-1] <= m.standard/20):
		r.note("far-from-standard", fmt.Sprintf("%s: column %s is far from the standard of %g (half of its numbers are above %g); one of them may be a percentage", file, m.name, m.standard, middle))
	}
}
