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
		r.note("numbers-again", fmt.Sprintf("%s: %d numbers in a row of column %s stand in several places (%s); rows may have been pasted twice: hold them against the source", r.file, longest, m.name, problem.List(twice, mostNamed)))
	}
}

// ownAgain notes a trainee who has three different numbers in a row twice, where chance would not make it
// so: rows were pasted once more under other numbers.
func (r *logReader) ownAgain(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time && m.kind != Score || r.series.groups() > mostRankedSeries || r.notedCode("numbers-again") || r.notedCode("series-twice") {
		return
	}
	windows := 0
	var twice []string
	for g, rows := range r.seriesOf(task) {
		at := slices.Clone(rows[:min(len(rows), mostRanked)])
		slices.SortStableFunc(at, func(a, b int32) int { return cmp.Compare(log.Attempts[a].Number, log.Attempts[b].Number) })
		seen, again := map[[3]float64]int{}, false
		for k := 0; k+3 <= len(at); k++ {
			var key [3]float64
			done := true
			for n := range key {
				a := log.Attempts[at[k+n]]
				key[n] = log.Values(a)[j]
				done = done && a.Outcome == Done && !math.IsNaN(key[n])
			}
			if !done || key[0] == key[1] || key[1] == key[2] || key[0] == key[2] {
				continue
			}
			windows += k
			before, known := seen[key]
			again = again || known && k >= before+3
			if !known {
				seen[key] = k
			}
		}
		if again {
			twice = append(twice, r.placed.trainees[r.series.trainee[g]])
		}
	}
	if alike := 3 * m.alike(); len(twice) > 0 && float64(windows)*alike*alike*alike < 0.02 {
		r.note("numbers-again", fmt.Sprintf("%s: in column %s three numbers in a row of %s come again in the same order; rows may have been pasted once more under other numbers: hold them against the source", r.file, m.name, problem.List(twice, mostNamed)))
	}
}

// alike is how often two numbers of the measure are one, of all pairs.
func (m *measureReader) alike() float64 {
	pairs, all := 0.0, 0.0
	for _, c := range m.cells {
		if m.readings[c.id].state == isNumber {
			n := float64(c.count)
			pairs, all = pairs+n*(n-1), all+n
		}
	}
	return pairs / max(1, all*(all-1))
}

// roundedApart notes trainees of whom every time is a multiple of some seconds, while few of others are:
// they may have been guessed, or taken from another clock.
func (r *logReader) roundedApart(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() < 3 || r.series.groups() > mostRankedSeries {
		return
	}
	for _, unit := range []float64{60, 30, 15, 10, 5} {
		var round []string
		multiples, others, least := 0, 0, math.MaxInt
		for g, rows := range r.seriesOf(task) {
			n, of := 0, 0
			for _, i := range rows {
				a := log.Attempts[i]
				v := log.Values(a)[j]
				if a.Outcome != Done || math.IsNaN(v) {
					continue
				}
				if of++; math.Abs(v-unit*math.Round(v/unit)) < 1e-9 {
					n++
				}
			}
			if n == of && n >= 5 {
				round, least = append(round, r.placed.trainees[r.series.trainee[g]]), min(least, n)
			} else {
				multiples, others = multiples+n, others+of
			}
		}
		if len(round) == 0 || 3*len(round) > r.series.groups() || others < 10 {
			continue
		}
		share := max(float64(multiples)/float64(others), 0.02)
		if math.Pow(share, float64(least))*float64(r.series.groups()) < 0.001 {
			r.note("rounded-apart", fmt.Sprintf("%s: in column %s every number of %s is a multiple of %g s, and few of others are; they may have been guessed, or come from another clock: hold them against the source", r.file, m.name, problem.List(round, mostNamed), unit))
			return
		}
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
	groups, steps, same := 0, 0, 0 // steps of those who are not even, and how many are like the one before
	for g, rows := range r.seriesOf(task) {
		groups++
		longest, run, own := 0, 0, 0
		for n := 2; n < len(rows); n++ {
			x, y, z := log.Values(log.Attempts[rows[n-2]])[j], log.Values(log.Attempts[rows[n-1]])[j], log.Values(log.Attempts[rows[n]])[j]
			done := log.Attempts[rows[n]].Outcome == Done && log.Attempts[rows[n-1]].Outcome == Done
			if !done || !(math.Abs((z-y)-(y-x)) < 1e-6) || z == y && (z == high || z == low || z == m.limit) {
				run = 0
				continue
			}
			run++
			own++
			longest = max(longest, run)
		}
		if longest >= 3 {
			even = append(even, r.placed.trainees[r.series.trainee[g]])
		} else {
			steps, same = steps+max(0, len(rows)-2), same+own
		}
	}
	if len(even) > 0 && 3*len(even) <= groups && 25*same <= steps && high-low >= 10 && m.differentNumbers() >= 12 {
		r.note("even-steps", fmt.Sprintf("%s: in column %s five numbers in a row or more of %s differ by one step, as where a cell was dragged down: hold them against the source", r.file, m.name, problem.List(even, mostNamed)))
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
			r.note("twice-as-many", fmt.Sprintf("%s: everybody has %d attempts and %s %d; where two people have one code, or rows stand there twice, put that right", r.file, n/2, problem.List(names, mostNamed), n))
		}
	}
}

// sameAgain notes a trainee whose numbers are all one, and attempts with the very number of the one before,
// far more than chance makes.
func (r *logReader) sameAgain(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries || r.notedCode("even-steps") {
		return
	}
	var constant []string
	again, pairs, groups := 0, 0, 0
	for g, rows := range r.seriesOf(task) {
		groups++
		same := 0
		for n := 1; n < len(rows); n++ {
			a, b := log.Attempts[rows[n-1]], log.Attempts[rows[n]]
			if a.Outcome != Done || b.Outcome != Done {
				continue
			}
			if pairs++; log.Values(a)[j] == log.Values(b)[j] {
				same++
			}
		}
		if again += same; same >= 3 && same == len(rows)-1 {
			constant = append(constant, r.placed.trainees[r.series.trainee[g]])
		}
	}
	numbers := m.differentNumbers()
	switch {
	case len(constant) > 0 && 2*len(constant) <= groups:
		r.note("one-number", fmt.Sprintf("%s: in column %s all numbers of %s are one, and not those of others; where it is a target, or a cell that was dragged down, leave these rows out by --without (in a study file: without)", r.file, m.name, problem.List(constant, mostNamed)))
	case again >= 5 && float64(again) > 3+3*2*float64(pairs)/float64(max(numbers, 1)):
		r.note("numbers-again", fmt.Sprintf("%s: in column %s %d attempts have the very number of the attempt before; rows may stand there twice: hold them against the source", r.file, m.name, again))
	}
}

// oneNumberOften notes a time within the others that stands there far more often than any, as where it was
// written for attempts nobody took the time of.
func (m *measureReader) oneNumberOften(r *logReader) {
	if m.kind != Time {
		return
	}
	all := 0
	_, high := m.span()
	var cells []writtenCell
	for _, c := range m.cells {
		if m.readings[c.id].state == isNumber {
			all, cells = all+c.count, append(cells, c)
		}
	}
	slices.SortStableFunc(cells, func(a, b writtenCell) int { return b.count - a.count })
	for k := 1; k <= 3 && k < len(cells); k++ {
		least, next := cells[k-1], cells[k].count
		if least.count < 4 || 12*least.count < all {
			return
		}
		if least.count <= 3*next {
			continue
		}
		often := 0
		var texts []string
		for _, c := range cells[:k] {
			often, texts = often+c.count, append(texts, c.text)
		}
		if 4*often > 3*all || k == 1 && m.readings[least.id].value == high || r.notedCode("one-number") {
			return
		}
		r.note("one-number-often", fmt.Sprintf("%s: column %s: %s stand there %d times, and no other number more than %d times; where one stands for no time say --code %s=blank or the like, and where attempts were stopped then, that they were timeouts (in a study file: codes)", r.file, m.name, problem.List(texts, 3), often, next, texts[0]))
		return
	}
}

// runOnInParts notes times that rise from attempt to attempt and fall back at the same numbers for all: a
// running total that is set back.
func (r *logReader) runOnInParts(log *Log, task string, j int) {
	if r.readers[j].kind != Time || r.series.groups() > mostRankedSeries || r.notedCode("times-only-rise") {
		return
	}
	var falls []float64 // numbers of the attempts that begin anew
	series, steps := 0, 0
	for _, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		var own []float64
		for n := 1; n < len(at); n++ {
			v, w := log.Values(log.Attempts[at[n-1]])[j], log.Values(log.Attempts[at[n]])[j]
			switch {
			case w >= 1.25*v:
				steps++
			case w < v/1.25:
				own = append(own, log.Attempts[at[n]].Number)
			default:
				return
			}
		}
		if series++; series == 1 {
			falls = own
		} else if !slices.Equal(own, falls) {
			return
		}
	}
	if series >= 3 && len(falls) > 0 && steps >= 2*series*(len(falls)+1) {
		r.note("times-only-rise", fmt.Sprintf("%s: in column %s times rise from attempt to attempt and fall back at the same numbers for everybody (%s), as a running total does that is set back; if it is one, put the time of each attempt into the table", r.file, r.readers[j].name, problem.List(formatNumbers(falls), 4)))
	}
}

// someWithoutColon notes trainees of whose whole numbers none ends in 60 to 99 while those of others do.
func (r *logReader) someWithoutColon(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries || r.notedCode("unit-not-sure") || slices.ContainsFunc(m.ways, func(w way) bool { return w.form != "" }) {
		return
	}
	var odd []string
	var all []float64
	for _, rows := range r.seriesOf(task) {
		for _, i := range rows {
			if v := log.Values(log.Attempts[i])[j]; v > 0 {
				all = append(all, v)
			}
		}
	}
	if len(all) == 0 {
		return
	}
	slices.Sort(all)
	usual := all[len(all)/2]
	for g, rows := range r.seriesOf(task) {
		n, above, below := 0, false, false
		var own []float64
		for _, i := range rows {
			v := log.Values(log.Attempts[i])[j]
			if v != math.Round(v) || math.Mod(v, 100) >= 60 {
				n = -1000
			}
			n, above, below, own = n+1, above || v >= 100, below || v < 60, append(own, v)
		}
		if above && n > 0 && math.Pow(0.6, float64(n))*float64(r.series.groups()) < 0.05 && (below || n >= 12 && nearerAsMinutes(own, usual)) {
			odd = append(odd, r.placed.trainees[r.series.trainee[g]])
		}
	}
	if len(odd) > 0 && 2*len(odd) <= r.series.groups() {
		r.note("unit-not-sure", fmt.Sprintf("%s: in column %s no number of %s ends in 60 to 99, as where 123 stands for 1 min 23 s, and those of others do: hold them against the source, and write 1:23 where it does", r.file, m.name, problem.List(odd, mostNamed)))
	}
}

// nearerAsMinutes reports whether the middle of somebody's numbers, read as minutes and seconds without
// their colon, is nearer to what is usual than read as seconds.
func nearerAsMinutes(own []float64, usual float64) bool {
	slices.Sort(own)
	seconds := own[len(own)/2]
	minutes := 60*math.Floor(seconds/100) + math.Mod(seconds, 100)
	return math.Abs(math.Log(minutes/usual)) < math.Abs(math.Log(seconds/usual))
}

// apartByOne notes two trainees whose numbers differ by the same amount at every attempt.
func (r *logReader) apartByOne(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries || r.notedCode("series-twice") || r.notedCode("even-steps") {
		return
	}
	seen := map[string]string{}
	var odd []string
	for g, rows := range r.seriesOf(task) {
		if len(rows) < 5 {
			continue
		}
		var key strings.Builder
		differ := map[float64]bool{}
		for n := 1; n < len(rows); n++ {
			d := math.Round((log.Values(log.Attempts[rows[n]])[j]-log.Values(log.Attempts[rows[n-1]])[j])*1e6) / 1e6
			if math.IsNaN(d) || log.Attempts[rows[n]].Outcome != Done || log.Attempts[rows[n-1]].Outcome != Done {
				differ = nil
				break
			}
			differ[d] = true
			fmt.Fprint(&key, d, ";")
		}
		who := r.placed.trainees[r.series.trainee[g]]
		if len(differ) < 4 {
			continue
		}
		if before, again := seen[key.String()]; again && chancePairs(r.series.groups(), m.differentNumbers(), len(rows)-1) < 0.01 {
			odd = append(odd, before+" and "+who)
		}
		seen[key.String()] = who
	}
	if len(odd) > 0 {
		r.note("series-twice", fmt.Sprintf("%s: in column %s the numbers of trainees %s differ by the same amount at every attempt; they may have been made of each other: hold them against the source", r.file, m.name, problem.List(odd, mostNamed)))
	}
}

// attemptCopied notes an attempt of everybody that has the very numbers of the attempt before.
func (r *logReader) attemptCopied(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time && m.kind != Score || r.series.groups() < 3 || r.series.groups() > mostRankedSeries || r.notedCode("numbers-again") {
		return
	}
	same, all, values := map[float64]int{}, map[float64]int{}, map[float64]map[float64]bool{}
	for _, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		for n := 1; n < len(at); n++ {
			a, b := log.Attempts[at[n-1]], log.Attempts[at[n]]
			if a.Outcome != Done || b.Outcome != Done {
				continue
			}
			if all[b.Number]++; log.Values(a)[j] == log.Values(b)[j] {
				same[b.Number]++
				if values[b.Number] == nil {
					values[b.Number] = map[float64]bool{}
				}
				values[b.Number][log.Values(b)[j]] = true
			}
		}
	}
	var odd []float64
	for number, n := range same {
		if n == all[number] && len(values[number]) >= 3 && m.differentNumbers() >= 12 {
			odd = append(odd, number)
		}
	}
	if slices.Sort(odd); len(odd) > 0 {
		r.note("numbers-again", fmt.Sprintf("%s: in column %s attempt %s of everybody has the very number of the attempt before; a column or rows may have been pasted twice: hold them against the source", r.file, m.name, problem.List(formatNumbers(odd), 4)))
	}
}

// evenly is how many steps of how many trainees that never once go back are more than practice does.
const evenlySteps, evenlySeries = 30, 5

// neverWorse notes times of which nobody's ever rises: where some stay as they are, each may be the best so
// far and not that of the attempt, and where none does in many steps they were sorted.
func (r *logReader) neverWorse(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries {
		return
	}
	series, ties, steps := 0, 0, 0
	for _, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		for n := 1; n < len(at); n++ {
			v, w := log.Values(log.Attempts[at[n-1]])[j], log.Values(log.Attempts[at[n]])[j]
			if w > v {
				return
			}
			if steps++; w == v {
				ties++
			}
		}
		if len(at) >= 4 {
			series++
		}
	}
	switch {
	case series >= 3 && ties >= 3 && m.differentNumbers() >= 10 && ties < steps:
		r.note("never-worse", fmt.Sprintf("%s: in column %s nobody's number ever rises and %d stay as the one before, as the best so far does; if it is that, name the column with the time of each attempt", r.file, m.name, ties))
	case series >= evenlySeries && steps >= evenlySteps && ties < 3:
		r.note("never-worse", fmt.Sprintf("%s: in column %s nobody's number ever rises, in %d steps from attempt to attempt, and practice is not as even as that; the numbers of each may have been sorted, or be the best so far: hold them against the source", r.file, m.name, steps))
	}
}

// someGetWorse notes trainees whose times rise from attempt to attempt, by a quarter and more, while those
// of more others fall by as much: their attempts may be numbered from the last to the first.
func (r *logReader) someGetWorse(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries || r.notedCode("times-only-rise") || r.notedCode("gets-worse") {
		return
	}
	var odd []string
	better := 0
	for g, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		var vs []float64
		for _, i := range at {
			if v := log.Values(log.Attempts[i])[j]; !math.IsNaN(v) && log.Attempts[i].Outcome == Done {
				vs = append(vs, v)
			}
		}
		if len(vs) < 5 {
			continue
		}
		var own trendSum
		own.add(vs[:min(len(vs), mostRanked)])
		third := len(vs) / 3
		mean := func(vs []float64) float64 {
			sum := 0.0
			for _, v := range vs {
				sum += v
			}
			return sum / float64(len(vs))
		}
		switch first, last := mean(vs[:third]), mean(vs[len(vs)-third:]); {
		case own.z() >= 2 && last >= 1.25*first:
			odd = append(odd, r.placed.trainees[r.series.trainee[g]])
		case own.z() <= -2 && first >= 1.25*last:
			better++
		}
	}
	if len(odd) > 0 && better >= 3 && better > len(odd) && 2*len(odd) < r.series.groups() {
		r.note("gets-worse", fmt.Sprintf("%s: in column %s the times of %s rise from attempt to attempt while those of others fall; where attempts are numbered from the last to the first, or times run on, put that right", r.file, m.name, problem.List(odd, mostNamed)))
	}
}
