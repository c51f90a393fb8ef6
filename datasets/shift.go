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
			odd = append(odd, fmt.Sprintf("%.2g times as long as elsewhere where it is %s", math.Exp(by), c.text))
		}
	}
	if len(odd) > 0 {
		r.note("times-go-with", fmt.Sprintf("%s: times go with column %s, which is not read: the same trainees take %s; where it says another task, device or unit choose rows with --where %q (in a study file: where); else --ignore %q", r.file, name, problem.List(odd, 3), name+"="+r.distinct(j)[0].text, name))
	}
}
