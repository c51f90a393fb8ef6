package datasets

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

const (
	fewestShifted = 5    // attempts of a kind before it is held against others
	shiftedBy     = 0.35 // in logarithms, and more than twice the usual scatter
)

// shifts notes a column that nothing uses of which one word goes with times far longer or shorter than those of
// the same trainees elsewhere: a lane, a device or a task that is another one.
func (r *logReader) shifts(log *Log, task string, j int) {
	m := r.readers[j]
	if r.isWide || m.kind != Time || len(log.Attempts) != r.table.rows() || r.series.groups() > mostRankedSeries {
		return
	}
	residues := make([]float64, len(log.Attempts)) // of each attempt from the line of its trainee
	for i := range residues {
		residues[i] = math.NaN()
	}
	for _, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		l, ok := lineOf(log, at, j)
		if !ok {
			continue
		}
		for _, i := range at {
			if v, known := l.residue[log.Attempts[i].Number]; known {
				residues[i] = v
			}
		}
	}
	for _, name := range r.unused() {
		if n := len(r.distinct(r.table.column(name))); n >= 2 && n <= mostLevels && !slices.Contains(r.layout.Ignore, name) {
			r.shiftsIn(log, name, residues)
		}
	}
}

// shiftsIn is shifts for one column.
func (r *logReader) shiftsIn(log *Log, name string, residues []float64) {
	j := r.table.column(name)
	kinds, people := map[grid.Cell][]float64{}, map[grid.Cell]map[string]bool{}
	for i, v := range residues {
		if id := r.table.cell(i, j); id != 0 && !math.IsNaN(v) {
			kinds[id] = append(kinds[id], v)
			if people[id] == nil {
				people[id] = map[string]bool{}
			}
			people[id][log.Attempts[i].Trainee] = true
		}
	}
	var scatter []float64
	middle := map[grid.Cell]float64{}
	for id, vs := range kinds {
		slices.Sort(vs)
		middle[id] = stat.Quantile(0.5, stat.Empirical, vs, nil)
		for _, v := range vs {
			scatter = append(scatter, math.Abs(v-middle[id]))
		}
	}
	if len(scatter) == 0 {
		return
	}
	slices.Sort(scatter)
	usual := 1.4826 * stat.Quantile(0.5, stat.Empirical, scatter, nil)
	var odd []string
	for _, c := range r.distinct(j) {
		vs := kinds[c.id]
		if len(vs) < fewestShifted || len(people[c.id]) < 3 {
			continue
		}
		var rest []float64
		for id, others := range kinds {
			if id != c.id {
				rest = append(rest, others...)
			}
		}
		if len(rest) < len(vs) {
			continue
		}
		slices.Sort(rest)
		if by := middle[c.id] - stat.Quantile(0.5, stat.Empirical, rest, nil); math.Abs(by) >= math.Max(shiftedBy, 2*usual) {
			odd = append(odd, fmt.Sprintf("%s: %.2g times", c.text, math.Exp(by)))
		}
	}
	if len(odd) > 0 {
		r.note("times-go-with", fmt.Sprintf("%s: times differ by column %s, which is not read, from those of the same trainees elsewhere (%s); where it says another task, device or unit choose rows with --where %q (in a study file: where); else --ignore %q", r.file, name, problem.List(odd, 3), name+"="+r.distinct(j)[0].text, name))
	}
}

// roundedBy notes a column that nothing uses of which one word goes with times that are all multiples of ten or five,
// while few of the others are: somebody rounded, or took them by another clock.
func (r *logReader) roundedBy(log *Log, j int) {
	m := r.readers[j]
	if r.isWide || m.kind != Time || len(log.Attempts) != r.table.rows() || r.notedCode("rounded-apart") {
		return
	}
	for _, name := range r.unused() {
		col := r.table.column(name)
		if n := len(r.distinct(col)); n < 2 || n > mostLevels || slices.Contains(r.layout.Ignore, name) {
			continue
		}
		for _, unit := range []float64{15, 10, 5} {
			multiples, all := map[grid.Cell]int{}, map[grid.Cell]int{}
			for _, a := range r.doneRows(log, j) {
				id := r.table.cell(a, col)
				if v := log.Values(log.Attempts[a])[j]; math.Abs(v-unit*math.Round(v/unit)) < 1e-9 {
					multiples[id]++
				}
				all[id]++
			}
			for _, c := range r.distinct(col) {
				n, others, round := all[c.id], 0, 0
				for id, k := range all {
					if id != c.id {
						others, round = others+k, round+multiples[id]
					}
				}
				if n < 8 || multiples[c.id] < n || others < 8 {
					continue
				}
				if share := math.Max(float64(round)/float64(others), 0.02); math.Pow(share, float64(n)) < 0.001 && share < 0.5 {
					r.note("rounded-apart", fmt.Sprintf("%s: in column %s every number where column %s is %s is a multiple of %g s, and few of the others are; they may have been rounded, or come from another clock: hold them against the source", r.file, m.name, name, c.text, unit))
					return
				}
			}
		}
	}
}

// doneRows are the rows with a number of an attempt that was done.
func (r *logReader) doneRows(log *Log, j int) []int {
	var out []int
	for i, a := range log.Attempts[:min(len(log.Attempts), mostCompared)] {
		if a.Outcome == Done && !math.IsNaN(log.Values(a)[j]) {
			out = append(out, i)
		}
	}
	return out
}

// codesBeside notes a column that nothing uses in which codes of trainees stand in few rows, while words of it are
// codes of trainees in few others: the two columns may have changed places there.
func (r *logReader) codesBeside() {
	who := r.table.column(r.cols.Trainee)
	if r.isWide || who < 0 || r.series.groups() > mostRankedSeries {
		return
	}
	codes := map[grid.Cell]int{}
	for _, c := range r.distinct(who) {
		codes[c.id] = c.count
	}
	for _, name := range r.unused() {
		col := r.table.column(name)
		cells := r.distinct(col)
		if len(cells) < 2 || len(cells) > mostLevels || slices.Contains(r.layout.Ignore, name) || !wordsAlone(cells) {
			continue
		}
		var both []string
		few, rows := 0, 0
		for _, c := range cells {
			rows += c.count
			if n := codes[c.id]; n > 0 {
				both, few = append(both, c.text), few+min(n, c.count)
			}
		}
		if len(both) >= 2 && 10*few <= rows {
			r.note("codes-beside", fmt.Sprintf("%s: %s stand as trainees in column %s and in column %s too, which is not read; in few rows the two may have changed places: hold them against the source, or say --ignore %q", r.file, problem.List(both, 4), r.cols.Trainee, name, name))
		}
	}
}

// armOfEach notes arms of which every trainee has one of their own.
func (r *logReader) armOfEach(log *Log) {
	if r.cols.Arm == "" {
		return
	}
	arms, people := map[string]bool{}, map[string]bool{}
	for _, a := range log.Attempts {
		arms[a.Arm], people[a.Trainee] = true, true
	}
	if delete(arms, ""); len(arms) >= 4 && len(arms) == len(people) {
		r.note("arm-of-each", fmt.Sprintf("%s: column %s says something else of each of the %d trainees, so that no arm has more than one; it may be no arm", r.file, r.cols.Arm, len(people)))
	}
}

// cutDigits notes times below 10 written with a 0 before them, such as 08.6, after times many times as long, where no
// time is 100 or more: a display of two digits cut them.
func (r *logReader) cutDigits(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.isWide || len(log.Attempts) != r.table.rows() {
		return
	}
	if _, high := m.span(); high >= 100 || high < 60 {
		return
	}
	col := m.columns[0]
	cut, line := 0, 0
	for _, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		for k, i := range at {
			text := r.table.text(int(i), col)
			if len(text) < 3 || text[0] != '0' || text[1] < '0' || text[1] > '9' || k+1 == len(at) {
				continue
			}
			if v, next := log.Values(log.Attempts[i])[j], log.Values(log.Attempts[at[k+1]])[j]; next > 5*v {
				cut++
				line = first2(line, r.table.line(int(i)))
			}
		}
	}
	if cut >= 2 {
		r.note("cut-digits", fmt.Sprintf("%s: column %s: nothing is 100 or more, and %d numbers with a 0 before them (the first in line %d) come before others many times as large; a display of two digits may have cut the hundreds: hold them against the source", r.file, m.name, cut, line))
	}
}
