package datasets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/datasets/problem"
)

// nameless reports whether a row of a long table says neither whose attempt it was nor which one.
func (r *logReader) nameless(i int) bool {
	t := r.table
	order := cmp.Or(r.cols.Attempt, r.cols.Date)
	who, which := t.column(r.cols.Trainee), t.column(order)
	return !r.isWide && r.cols.Trainee != "" && order != "" && who >= 0 && which >= 0 && t.cell(i, who) == 0 && t.cell(i, which) == 0
}

// footers is where the nameless rows at the end of the table begin; there is no footer below several
// sheets or files put together.
func (r *logReader) footers() int {
	from := r.table.rows()
	for from > 1 && r.table.parts == nil && r.table.sources == nil && r.nameless(from-1) {
		from--
	}
	return from
}

// dropFooters leaves out the nameless rows at the end that hold neither a measure nor how an attempt ended:
// signatures and the like.
func (r *logReader) dropFooters() {
	t := r.table
	outcome := t.column(r.cols.Outcome)
	measured := func(i int) bool { // by a number, or by how the attempt ended
		return outcome >= 0 && r.cols.Outcome != "" && t.cell(i, outcome) != 0 || slices.ContainsFunc(r.slotted[0].columns, func(j int) bool {
			s := t.text(i, j)
			_, isCode := r.code(s)
			return isCode || notDone.MatchString(s) || strings.ContainsAny(s, "0123456789")
		})
	}
	from, least := t.rows(), r.footers()
	for from > least && !measured(from-1) {
		from--
	}
	n := t.rows() - from
	if n == 0 {
		return
	}
	var said []string
	for i := from; i < t.rows(); i++ {
		for j := range t.header {
			if s := t.text(i, j); s != "" {
				said = append(said, s)
			}
		}
	}
	t.dropRows(func(i int) string {
		if i < from {
			return ""
		}
		return "a note below the table"
	})
	r.note("notes-below", fmt.Sprintf("%s: %d rows at the end name neither a trainee nor an attempt, and are not read: %q; where they say a unit or what does not count, say so by flags", r.file, n, problem.Clip(problem.List(said, 6))))
}

// dropNamelessSums leaves out the nameless rows at the end whose number is the mean, the median, the sum,
// the least or the largest of those above them.
func (r *logReader) dropNamelessSums() {
	t := r.table
	from := r.footers()
	if from == t.rows() || from < 4 || len(r.measures) == 0 {
		return
	}
	m := r.firstRead()
	column := r.slotted[0].columns[0]
	var vs []float64
	for i := range from {
		if v, ok := r.valueAt(m, i, column); ok {
			vs = append(vs, v)
		}
	}
	if len(vs) < 4 {
		return
	}
	slices.Sort(vs)
	what := make([]string, t.rows())
	var lines []spot
	for i := from; i < t.rows(); i++ {
		lines = append(lines, r.spotOf(i))
		v, ok := r.valueAt(m, i, column)
		if what[i] = whatOf(vs, v); !ok || what[i] == "" {
			return
		}
	}
	n := t.dropRows(func(i int) string {
		if i < from {
			return ""
		}
		return "a summary: the " + what[i] + " of those above"
	})
	r.note("summary-rows", fmt.Sprintf("%s: %d rows at the end (line %s) name neither a trainee nor an attempt, hold the %s of those above, and are not read", r.file, n, r.lines(lines), problem.List(slices.Compact(what[from:]), 4)))
}

// firstRead reads the first measure for once, with the rows that may be left out, and forgets what it found to say.
func (r *logReader) firstRead() *measureReader {
	problems, notes := slices.Clone(r.problems), slices.Clone(r.notes)
	r.readMeasures()
	m := r.readers[0]
	r.readers, r.problems, r.notes = nil, problems, notes
	return m
}

// whatOf is what a number is of some others in order; blank for nothing.
func whatOf(vs []float64, v float64) string {
	sum, n := 0.0, len(vs)
	for _, w := range vs {
		sum += w
	}
	near := lastPlace(v)
	for _, is := range []struct {
		what string
		v    float64
	}{{"mean", sum / float64(n)}, {"sum", sum}, {"median", (vs[(n-1)/2] + vs[n/2]) / 2}, {"least", vs[0]}, {"largest", vs[n-1]}} {
		if math.Abs(v-is.v) <= near {
			return is.what
		}
	}
	return ""
}

// lastPlace is half a unit of the last decimal of a number that has up to three, else a millionth part.
func lastPlace(v float64) float64 {
	for _, unit := range []float64{1, 0.1, 0.01, 0.001} {
		if math.Abs(v/unit-math.Round(v/unit)) < 1e-6 {
			return unit * 0.5001
		}
	}
	return 1e-6 * math.Abs(v)
}

// namelessWay is the way out for a row that names neither a trainee nor an attempt.
func (r *logReader) namelessWay(i int) string {
	t := r.table
	if j := t.column(cmp.Or(r.measures...)); j >= 0 && i == t.rows()-1 && t.cell(0, j) == 0 && t.cell(i, j) != 0 {
		return fmt.Sprintf("; the first row has no %s: the column may have slipped down by a row", r.measures[0])
	}
	for j, name := range t.header {
		s := t.text(i, j)
		if len(r.problems) > mostHinted || name == "" || s == "" || r.uses(name) || strings.ContainsAny(s, "0123456789") {
			continue
		}
		if slices.ContainsFunc(r.distinct(j), func(c writtenCell) bool { return c.text == s && c.count == 1 }) {
			return fmt.Sprintf("; where the row sums up others or is a note, --without %q leaves it out (in a study file: without)", name+"="+s)
		}
	}
	return "; where the row sums up others or is a note, take it out of the table"
}
