package datasets

import (
	"fmt"
	"math"
	"slices"
)

// stretch is how many numbers in a row are held against others.
const stretch = 4

// sharedStretches notes trainees who have some numbers in a row in common, or one who has them twice,
// where chance would not make it so: rows were pasted twice, or shifted.
func (r *logReader) sharedStretches(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time && m.kind != Score || r.series.groups() > mostRankedSeries || r.notedCode("series-twice") {
		return
	}
	numbers := m.differentNumbers()
	if numbers < 8 {
		return
	}
	type place struct{ group, at int }
	seen, all, longest := map[[stretch]float64]place{}, 0, 0
	before := place{}
	var twice []string
	for g, rows := range r.seriesOf(task) {
		var vs []float64
		run := 0
		for _, i := range rows {
			a := log.Attempts[i]
			if v := log.Values(a)[j]; !math.IsNaN(v) && a.Outcome == Done {
				vs = append(vs, v)
			}
		}
		for k := 0; k+stretch <= len(vs); k++ {
			key := [stretch]float64(vs[k : k+stretch])
			if slices.Max(key[:]) == slices.Min(key[:]) || !allDiffer(key) {
				continue
			}
			all++
			last, again := before, false
			if before, again = seen[key]; !again {
				seen[key], run = place{g, k}, 0
				continue
			}
			if run == 0 || before != (place{last.group, last.at + 1}) {
				run = stretch - 1
			}
			run++
			longest = max(longest, run)
			a, b := r.placed.trainees[r.series.trainee[before.group]], r.placed.trainees[r.series.trainee[g]]
			text := fmt.Sprintf("%s and %s", a, b)
			if before.group == g {
				text = a + " twice"
			}
			if !slices.Contains(twice, text) {
				twice = append(twice, text)
			}
		}
	}
	if len(twice) > 0 && float64(all)*float64(all)/2*math.Pow(4/float64(numbers), float64(longest)) < 0.05 {
		r.note("numbers-again", fmt.Sprintf("%s: %d numbers in a row of column %s stand in several places (%s); rows may have been pasted twice: hold them against the source", r.file, longest, m.name, clipList(twice, mostNamed)))
	}
}

func allDiffer(vs [stretch]float64) bool {
	for k, v := range vs {
		if slices.Contains(vs[:k], v) {
			return false
		}
	}
	return true
}

func (r *logReader) notedCode(code string) bool {
	return slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == code })
}

// evenSteps notes trainees whose numbers go up or down by one step, or stay the same, five times or
// more, while those of others do not: a cell was dragged down.
func (r *logReader) evenSteps(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries || r.notedCode("series-counts-up") {
		return
	}
	low, high := m.span()
	var even []string
	groups := 0
	for g, rows := range r.seriesOf(task) {
		groups++
		longest, run := 0, 0
		for n := 2; n < len(rows); n++ {
			x, y, z := log.Values(log.Attempts[rows[n-2]])[j], log.Values(log.Attempts[rows[n-1]])[j], log.Values(log.Attempts[rows[n]])[j]
			done := log.Attempts[rows[n]].Outcome == Done && log.Attempts[rows[n-1]].Outcome == Done
			if !done || !(math.Abs((z-y)-(y-x)) < 1e-6) || z == y && (z == high || z == low || z == m.limit) {
				run = 0
				continue
			}
			run++
			longest = max(longest, run)
		}
		if longest >= 3 {
			even = append(even, r.placed.trainees[r.series.trainee[g]])
		}
	}
	if len(even) > 0 && 3*len(even) <= groups && high-low >= 10 && m.differentNumbers() >= 12 {
		r.note("even-steps", fmt.Sprintf("%s: in column %s five numbers in a row or more of %s differ by one step, as where a cell was dragged down: hold them against the source", r.file, m.name, clipList(even, mostNamed)))
	}
}

// twiceAsMany notes somebody with exactly twice the attempts that everybody else has: two people under
// one code.
func (r *logReader) twiceAsMany() {
	if r.isWide || r.series.groups() < 4 || len(r.placed.tasks) > 1 {
		return
	}
	sizes := map[int][]int{}
	for g := range r.series.groups() {
		n := len(r.series.of(g))
		sizes[n] = append(sizes[n], g)
	}
	if len(sizes) != 2 {
		return
	}
	for n, few := range sizes {
		most := sizes[n/2]
		if n%2 == 0 && n >= 6 && len(most) >= 3 && 3*len(few) <= len(most) {
			var names []string
			for _, g := range few {
				names = append(names, r.placed.trainees[r.series.trainee[g]])
			}
			r.note("twice-as-many", fmt.Sprintf("%s: everybody has %d attempts and %s %d; where two people have one code, or rows stand there twice, put that right", r.file, n/2, clipList(names, mostNamed), n))
		}
	}
}
