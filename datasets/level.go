package datasets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

const (
	// mostLevels is how many different cells a column has that may say of what kind a row is.
	mostLevels = 12
	// apartLevels is how many times the least of some numbers is the largest of others before another
	// unit is thought of.
	apartLevels = 2
)

// A level is what the measure holds where a column says one thing.
type level struct {
	name      string
	low, high float64
	n         int
}

// levelsOf are the numbers of the measure by what a column says, where most rows say something.
func (r *logReader) levelsOf(m *measureReader, j int) []level {
	t := r.table
	at := map[grid.Cell]int{}
	var out []level
	filled, rows := 0, min(t.rows(), mostCompared)
	for i := range rows {
		id := t.cell(i, j)
		if id == 0 {
			continue
		}
		filled++
		for k, s := range r.slotted {
			if r.isWide && k >= mostRanked {
				break
			}
			v, ok := r.valueAt(m, i, s.columns[0])
			if !ok {
				continue
			}
			k, seen := at[id]
			if !seen {
				if len(out) == mostRankedSeries {
					return nil
				}
				k = len(out)
				at[id] = k
				out = append(out, level{name: t.textOf(id), low: math.Inf(1), high: math.Inf(-1)})
			}
			l := &out[k]
			l.low, l.high, l.n = min(l.low, v), max(l.high, v), l.n+1
		}
	}
	if 10*filled < 9*rows {
		return nil
	}
	return out
}

// unitsApart notes a measure whose numbers fall into two groups by what some column says (who, which
// session, who watched) that another unit, or another scale, would bring together.
func (r *logReader) unitsApart() {
	if len(r.readers) == 0 {
		return
	}
	m := r.readers[0]
	low, high := m.span()
	if m.kind != Time && m.kind != Score || low <= 0 && m.kind == Time || low >= high || high < 3*max(low, 1e-9) {
		return
	}
	told := func() bool {
		return slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == "trainee-far-from-others" })
	}
	asked := slices.ContainsFunc(r.problems, func(p Problem) bool { return p.Column == m.name && p.Err == problem.ErrAmbiguous })
	if asked || told() {
		return
	}
	for j, name := range r.table.header {
		if name == "" || slices.Contains(r.measures, name) || slices.Contains(r.layout.Ignore, name) || name == r.cols.Attempt || r.isWide && name != r.cols.Trainee && r.uses(name) && !r.role(name) {
			continue
		}
		who := name == r.cols.Trainee
		if !who && len(r.distinct(j)) > mostLevels || len(r.distinct(j)) < 2 {
			continue
		}
		levels := r.levelsOf(m, j)
		if who && len(levels) < 3 {
			continue
		}
		if r.apartIn(m, name, levels) {
			return
		}
	}
}

// apartIn notes two groups of levels of which one is the other in another unit.
func (r *logReader) apartIn(m *measureReader, name string, levels []level) bool {
	levels = slices.DeleteFunc(levels, func(l level) bool { return l.n < 3 })
	if len(levels) < 2 {
		return false
	}
	slices.SortFunc(levels, func(a, b level) int { return cmp.Compare(a.low, b.low) })
	factors := []float64{10, 60, 100, 1000}
	if m.kind == Score {
		factors = []float64{5, 10, 20, 25, 50, 100}
	}
	top := levels[0].high
	for k := 1; k < len(levels); k++ {
		least, most := levels[k].low, 0.0
		for _, l := range levels[k:] {
			most = max(most, l.high)
		}
		if least > apartLevels*top && top > 0 {
			for _, f := range factors {
				near := 2.5
				if m.kind == Score {
					near = 1.5
				}
				if least/f >= levels[0].low/near && most/f <= near*top && (m.kind == Time || most/f <= top*1.2) {
					r.note("unit-by-column", fmt.Sprintf("%s: all numbers of column %s where %s is %s (%s to %s) are far below those where it is %s (%s to %s), and among them in another unit or on another scale: hold them against the source, and write all in one", r.file, m.name, name, problem.List(levelNames(levels[:k]), 3), grid.FormatNumber(levels[0].low), grid.FormatNumber(top), problem.List(levelNames(levels[k:]), 3), grid.FormatNumber(least), grid.FormatNumber(most)))
					return true
				}
			}
		}
		top = max(top, levels[k].high)
	}
	return false
}

func levelNames(levels []level) []string {
	var out []string
	for _, l := range levels {
		out = append(out, l.name)
	}
	return out
}

// withoutColon notes whole numbers of which none ends in 60 to 99, as where 1:23 was written 123.
func (m *measureReader) withoutColon(r *logReader, f int) {
	if m.kind != Time || m.ways[f].form != "" {
		return
	}
	n, above, below := 0, false, false
	for _, c := range m.cells {
		got := m.readings[c.id]
		if c.source != f || got.state != isNumber || !got.bare {
			continue
		}
		whole, _, _ := strings.Cut(strings.Replace(c.text, ",", ".", 1), ".")
		if !digits(whole) || math.Mod(grid.Number(whole), 100) >= 60 || len(whole) > 4 {
			return
		}
		n, above, below = n+1, above || len(whole) >= 3, below || grid.Number(whole) < 60
	}
	// A number of seconds ends in 60 to 99 two times in five.
	if above && n >= 8 && math.Pow(0.6, float64(n)) < 0.02 {
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds; none of its %d different numbers ends in 60 to 99, as where 123 stands for 1 min 23 s: write 1:23 where it does", r.files[f].file, m.name, n))
	}
}
