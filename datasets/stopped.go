package datasets

import (
	"fmt"
	"math"

	"tyro/datasets/internal/grid"
)

// A heap is how often the longest time of some rows stands there, and how often any other does.
type heap struct {
	top        float64
	tops, next int
	n          int
}

// stoppedApart notes rows of one file of several, or of one thing that a column says, whose longest time
// stands there often to the digit, while others took longer: they may have been stopped then, under a
// limit of their own.
func (r *logReader) stoppedApart() {
	if len(r.readers) == 0 || r.readers[0].kind != Time || r.cols.Outcome != "" || r.notedCode("stopped-at-longest") {
		return
	}
	m := r.readers[0]
	if len(r.files) > 1 {
		r.stoppedIn(m, "file", func(i int) string { return r.files[r.table.sourceAt(i)].file })
	}
	for j, name := range r.table.header {
		if name == "" || r.isWide && r.uses(name) && !r.role(name) || name == r.cols.Trainee || name == r.cols.Attempt {
			continue
		}
		if n := len(r.distinct(j)); n < 2 || n > mostLevels {
			continue
		}
		r.stoppedIn(m, name, func(i int) string { return r.table.text(i, j) })
	}
}

// stoppedIn is stoppedApart for rows told apart by a name.
func (r *logReader) stoppedIn(m *measureReader, by string, nameOf func(i int) string) {
	counts := map[string]map[float64]int{}
	var names []string // in the order of the file
	longest := 0.0
	for i := range min(r.table.rows(), mostCompared) {
		name := nameOf(i)
		if name == "" {
			continue
		}
		if counts[name] == nil {
			counts[name] = map[float64]int{}
			names = append(names, name)
		}
		for _, s := range r.slotted[:min(len(r.slotted), mostRanked)] {
			if v, ok := r.valueAt(m, i, s.columns[0]); ok {
				counts[name][v]++
				longest = math.Max(longest, v)
			}
		}
	}
	for _, name := range names {
		h := heapOf(counts[name])
		far := h.tops >= 3 && h.tops > 2*h.next && h.top < 0.9*longest
		often := h.tops >= 4 && h.tops > 2*h.next && h.top < longest
		if (far || often) && h.n >= 8 && 20*h.tops >= h.n && h.tops < h.n && (m.limit == 0 || h.top < 0.95*m.limit) {
			r.note("stopped-at-longest", fmt.Sprintf("%s: column %s: where %s is %s, %d attempts took exactly %s, the longest time there, and others took up to %s; where they were stopped then, name the column that says how attempts ended with --outcome (in a study file: columns: outcome)",
				r.file, m.name, by, name, h.tops, grid.FormatNumber(h.top), grid.FormatNumber(longest)))
			return
		}
	}
}

func heapOf(counts map[float64]int) heap {
	var h heap
	for v, n := range counts {
		h.n += n
		if v > h.top {
			h.top = v
		}
	}
	for v, n := range counts {
		if v == h.top {
			h.tops = n
		} else {
			h.next = max(h.next, n)
		}
	}
	return h
}
