package datasets

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
)

// What looks doubtful at first sight and is explained by the numbers beside it, so that nobody has to be asked.

// marksBest reports whether a column is filled in just those rows that hold the best number of their trainee, as
// where a program marks it. Where that is everybody's last row, the mark may say something of last attempts.
func (r *logReader) marksBest(j int) bool {
	who := r.table.column(r.cols.Trainee)
	if r.isWide || who < 0 || r.cols.Trainee == "" || len(r.readers) == 0 || len(r.readers[0].columns) != 1 {
		return false
	}
	m, sign := r.readers[0], 1.0
	for _, t := range r.study.Tasks {
		if t.Column == m.name && !t.LowerIsBetter() {
			sign = -1
		}
	}
	best, last := map[grid.Cell]float64{}, map[grid.Cell]int{}
	for i := range r.table.keep {
		if v, ok := r.valueAt(m, i, m.columns[0]); ok {
			p := r.table.cell(i, who)
			if b, seen := best[p]; !seen || sign*v < b {
				best[p] = sign * v
			}
			last[p] = i
		}
	}
	before := false
	for i := range r.table.keep {
		p := r.table.cell(i, who)
		v, ok := r.valueAt(m, i, m.columns[0])
		marked := r.table.cell(i, j) != 0
		if ok && marked != (sign*v == best[p]) {
			return false
		}
		before = before || marked && i != last[p]
	}
	return before
}

// lengthsOf reports whether all cells are lengths of time with their units, which differ from attempt to attempt.
func lengthsOf(cells []writtenCell) bool {
	return !slices.ContainsFunc(cells, func(c writtenCell) bool {
		_, plain := grid.ParseNumber(c.text, strings.Contains(c.text, ","))
		_, length := duration(c.text, notation{}, "")
		return plain || !length
	})
}

var (
	firstNumber = regexp.MustCompile(`\d+(?:\.\d+)?`)
	monthOfYear = pattern.New(`^\pL{3,}\.? (19|20)\d{2}$`)
	anyLetter   = pattern.New(`\pL`)
)

// marksOnTheWay reports whether two columns whose names differ by a number are in its order in every row, as the
// times at 10 m and at 30 m are.
func marksOnTheWay(name, own string, below, above, rows int) bool {
	a, b := firstNumber.FindString(name), firstNumber.FindString(own)
	if a == "" || b == "" || grid.Number(a) == grid.Number(b) || rows == 0 {
		return false
	}
	if grid.Number(a) == 1 || grid.Number(b) == 1 || math.Abs(grid.Number(a)-grid.Number(b)) == 1 {
		return false // parts that are counted, of which one was named
	}
	if grid.Number(a) < grid.Number(b) {
		return below == rows
	}
	return above == rows
}

// madeOf reports whether the measure is in every row the sum of a column and another one that nothing uses: the
// measure is the whole, and was named.
func (r *logReader) madeOf(m *measureReader, name string) bool {
	return slices.ContainsFunc(r.unused(), func(other string) bool {
		rows, differ := r.inEveryRow(m, name, other, func(v, a, b float64) bool { return math.Abs(a+b-v) <= 0.011 })
		return differ >= 3 && 2*rows >= r.table.rows()
	})
}

// endsAt reports whether a column is in every row the sum of the measure and another one that by its name says when
// attempts began.
func (r *logReader) endsAt(m *measureReader, name string) bool {
	return slices.ContainsFunc(r.unused(), func(other string) bool {
		rows, _ := r.inEveryRow(m, name, other, func(v, end, start float64) bool { return math.Abs(start+v-end) <= 0.011 })
		return startName.MatchString(other) && rows >= 6 && 2*rows >= r.table.rows()
	})
}

// inEveryRow counts the rows in which the measure and two columns are numbers, and of these the ones in which the second
// is not 0, where something holds of all three in each; none where it does not in one.
func (r *logReader) inEveryRow(m *measureReader, name, other string, holds func(v, a, b float64) bool) (rows, differ int) {
	j, k := r.table.column(name), r.table.column(other)
	if j == k {
		return 0, 0
	}
	for i := range min(r.table.rows(), mostCompared) {
		v, known := r.valueAt(m, i, m.columns[0])
		a, isFirst := m.valueOf(r.table, i, j)
		text := r.table.text(i, k)
		b, isSecond := grid.ParseNumber(text, strings.Contains(text, ","))
		if !known || !isFirst || !isSecond {
			continue
		}
		if !holds(v, a, b) {
			return 0, 0
		}
		rows++
		if b != 0 {
			differ++
		}
	}
	return rows, differ
}

// partOfTotal reports whether a column is one of three or more that make the measure together in every row.
func (r *logReader) partOfTotal(name string) bool {
	if r.isWide || len(r.readers) == 0 || len(r.readers[0].columns) != 1 || r.readers[0].kind == PassFail {
		return false
	}
	m := r.readers[0]
	var parts []int
	for _, other := range r.unused() {
		j := r.table.column(other)
		if cells := r.distinct(j); len(cells) > 1 && some(cells) == r.table.rows() && !slices.ContainsFunc(cells, func(c writtenCell) bool {
			_, ok := grid.ParseNumber(c.text, strings.Contains(c.text, ","))
			return !ok
		}) {
			parts = append(parts, j)
		}
	}
	if len(parts) < 2 || !slices.Contains(parts, r.table.column(name)) {
		return false
	}
	for i := range min(r.table.rows(), mostCompared) {
		v, ok := r.valueAt(m, i, m.columns[0])
		sum := 0.0
		for _, j := range parts {
			w, _ := grid.ParseNumber(r.table.text(i, j), strings.Contains(r.table.text(i, j), ","))
			sum += w
		}
		if ok && math.Abs(sum-v) > 0.011 {
			return false
		}
	}
	return true
}

// onlyMonths reports whether words between rows are months: a word and a year each, several in all and each once.
func onlyMonths(said []string) bool {
	for k, s := range said {
		if !monthOfYear.MatchString(s) || slices.Contains(said[:k], s) {
			return false
		}
		if word, _, _ := strings.Cut(s, " "); k > 0 && strings.HasPrefix(said[0], word+" ") && !strings.HasSuffix(said[0], s[len(s)-4:]) && len(said) < 12 {
			return false // the same word of two years, as of two courses
		}
	}
	return len(said) > 1
}

// titleAside reports whether a column begins a small table beside the large one: a blank column stands before it,
// and one without a name behind it that is filled in the same rows. That columns without a name are not read is said.
func (r *logReader) titleAside(j int) bool {
	t := r.table
	if j < 1 || j+1 >= len(t.header) || t.header[j-1] != "" || t.header[j+1] != "" {
		return false
	}
	for i := range t.keep {
		if t.cell(i, j-1) != 0 || (t.cell(i, j) != 0) != (t.cell(i, j+1) != 0) {
			return false
		}
	}
	return true
}
