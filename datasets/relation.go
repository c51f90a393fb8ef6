package datasets

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// A numberColumn is a column that nothing uses, read as the measure is; NaN where no number.
type numberColumn struct {
	name   string
	values []float64
}

// mostRelated is how many columns are held against each other.
const mostRelated = 12

// relations looks for sums, differences and ratios between the measure and columns that nothing uses:
// they say what the measure is a part of, in which unit it is, or that it is what was left.
func (r *logReader) relations(log *Log) {
	if r.isWide || len(r.readers) == 0 || r.readers[0].kind == PassFail || r.table.rows() < 6 {
		return
	}
	m, t := r.readers[0], r.table
	rows := min(t.rows(), mostCompared)
	vs, differ := make([]float64, rows), map[float64]bool{}
	for i := range rows {
		v, ok := r.valueAt(m, i, m.columns[0])
		if !ok {
			v = math.NaN()
		} else if len(differ) < 8 {
			differ[v] = true
		}
		vs[i] = v
	}
	if len(differ) < 4 {
		return
	}
	var beside []numberColumn
	for _, name := range r.unused() {
		if slices.Contains(r.layout.Ignore, name) || len(beside) == mostRelated {
			continue
		}
		if c, ok := r.numbersIn(m, name, rows); ok {
			beside = append(beside, c)
		}
	}
	r.clocks(m, vs)
	r.partsOf(m, vs, beside)
	for _, a := range beside {
		if r.soFar(log, m, vs, a) || r.minutesBeside(log, m, vs, a) || r.ratio(m, vs, a) || r.constantSum(log, m, vs, a) {
			return
		}
		for _, b := range beside {
			if a.name != b.name && r.partOf(m, vs, a, b) {
				return
			}
		}
	}
	for _, a := range beside {
		for _, b := range beside {
			if a.name != b.name && r.mostlySum(m, vs, a, b) {
				return
			}
		}
	}
}

// mostlySum notes rows in which the measure is not what two other columns make in nine rows of ten: minutes and
// seconds, a sum, or a difference.
func (r *logReader) mostlySum(m *measureReader, vs []float64, a, b numberColumn) bool {
	for _, way := range []struct {
		words string
		of    func(x, y float64) float64
	}{
		{"60 times %s and %s", func(x, y float64) float64 { return 60*x + y }},
		{"the sum of %s and %s", func(x, y float64) float64 { return x + y }},
		{"%s less %s", func(x, y float64) float64 { return x - y }},
	} {
		same, other, line, told := 0, 0, 0, 0
		for i, v := range vs {
			switch d := way.of(a.values[i], b.values[i]) - v; {
			case math.IsNaN(d):
			case math.Abs(d) > 0.06:
				other++
				line = first2(line, r.table.line(i))
			default:
				if same++; a.values[i] != 0 && b.values[i] != 0 {
					told++
				}
			}
		}
		if other > 0 && same >= 9*other && told >= 8 {
			r.note("sum-differs", fmt.Sprintf("%s: column %s is %s in %d rows and not in %d, such as in line %d: hold them against the source, or say --ignore %q (in a study file: ignore)", r.file, m.name, fmt.Sprintf(way.words, a.name, b.name), same, other, line, a.name))
			return true
		}
	}
	return false
}

// numbersIn are the numbers of a column of which nine cells in ten are numbers.
func (r *logReader) numbersIn(m *measureReader, name string, rows int) (numberColumn, bool) {
	c := numberColumn{name, make([]float64, rows)}
	j, known, filled, n := r.table.column(name), make(map[grid.Cell]float64), 0, 0
	if len(r.distinct(j)) < 2 {
		return c, false
	}
	for i := range rows {
		id := r.table.cell(i, j)
		if id == 0 {
			c.values[i] = math.NaN()
			continue
		}
		v, seen := known[id]
		if !seen {
			var ok bool
			if v, ok = m.valueOf(r.table, i, j); !ok {
				v = math.NaN()
			}
			known[id] = v
		}
		c.values[i] = v
		if filled++; !math.IsNaN(v) {
			n++
		}
	}
	return c, n >= 6 && 10*n >= 9*filled && 2*n >= rows
}

// holds reports whether something is so in every row in which it can be known, six or more.
func holds(vs []float64, is func(i int) (known, so bool)) bool {
	n := 0
	for i := range vs {
		known, so := is(i)
		if known && !so {
			return false
		}
		if known {
			n++
		}
	}
	return n >= 6 && 2*n >= len(vs)
}

// ratio notes a column that is the measure in another unit, which may be the right one.
func (r *logReader) ratio(m *measureReader, vs []float64, c numberColumn) bool {
	if m.kind != Time || slices.ContainsFunc(m.ways, func(w way) bool { return w.form != "" }) {
		return false
	}
	own, other := headUnit(m.name), headUnit(c.name)
	factors := []float64{60, 1000, 3600, 100, 10}
	if f := vs[0] / c.values[0]; own != "seconds" && !math.IsNaN(f) && f > 0 && (f < 0.25 || f > 4) {
		factors = append(factors, math.Round(1000*max(f, 1/f))/1000)
	}
	for _, f := range factors {
		less := holds(vs, func(i int) (bool, bool) {
			return !math.IsNaN(vs[i] + c.values[i]), math.Abs(c.values[i]-f*vs[i]) <= 0.02*math.Abs(c.values[i])
		})
		more := holds(vs, func(i int) (bool, bool) {
			return !math.IsNaN(vs[i] + c.values[i]), math.Abs(vs[i]-f*c.values[i]) <= 0.02*math.Abs(vs[i])
		})
		fits := less && f == 1000 && other == "milliseconds" || more && (f == 60 && other == "minutes" || f == 3600 && other == "hours")
		if !less && !more || fits || own == "seconds" && other != "seconds" {
			continue
		}
		what := fmt.Sprintf("%g times", f)
		if more {
			what = fmt.Sprintf("one part in %g of", f)
		}
		r.note("same-in-other-unit", fmt.Sprintf("%s: column %s is in every row %s column %s, which is read as seconds: they are one time in two units; name the one in seconds with --response, or say --times for the other (in a study file: the task's column, times), or --ignore %q where %s is in seconds", r.file, c.name, what, m.name, c.name, m.name))
		return true
	}
	return false
}

// constantSum notes a column that makes up the same number with the measure in every row: one of
// them is what was left. Where the measure gets better with practice it is not the one.
func (r *logReader) constantSum(log *Log, m *measureReader, vs []float64, c numberColumn) bool {
	var sums []float64
	if !holds(vs, func(i int) (bool, bool) {
		s := math.Round((vs[i]+c.values[i])*1e6) / 1e6
		if math.IsNaN(s) {
			return false, false
		}
		if !slices.Contains(sums, s) {
			sums = append(sums, s)
		}
		return true, len(sums) <= 1+len(vs)/10 && len(sums) <= 4
	}) || slices.Max(c.values) == slices.Min(c.values) {
		return false
	}
	for _, t := range r.study.Tasks {
		z, _ := r.trend(log, t.Name, 0)
		if t.LowerIsBetter() {
			z = -z
		}
		if t.Column == m.name && z > 2 {
			return false
		}
	}
	r.note("adds-to-constant", fmt.Sprintf("%s: columns %s and %s make the same together in every row (%s): one of them is what was left, and %s is read as what was taken; name the other with --response where that is wrong, else say --ignore %q (in a study file: the task's column, ignore)", r.file, m.name, c.name, problem.List(formatNumbers(sums), 4), m.name, c.name))
	return true
}

// partOf notes a column that is the sum of the measure and another one: with a penalty, or the second
// part of the task.
func (r *logReader) partOf(m *measureReader, vs []float64, whole, rest numberColumn) bool {
	some, large, told := 0, 0, slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == "measure-again" })
	if told || !holds(vs, func(i int) (bool, bool) {
		if rest.values[i] != 0 && !math.IsNaN(rest.values[i]) {
			some++
		}
		if whole.values[i] > 10*vs[i] {
			large++ // the measure is what passed from one moment to another
		}
		return !math.IsNaN(vs[i] + whole.values[i] + rest.values[i]), math.Abs(vs[i]+rest.values[i]-whole.values[i]) <= 0.011
	}) || some < 3 {
		return false
	}
	if 2*large > len(vs) || startName.MatchString(rest.name) && endName.MatchString(whole.name) {
		r.startEnd = append(r.startEnd, rest.name, whole.name)
		return false
	}
	r.note("measure-is-a-part", fmt.Sprintf("%s: column %s is in every row the sum of %s and %s: name the one that counts with --response, or say --ignore %q (in a study file: the task's column, ignore)", r.file, whole.name, m.name, rest.name, whole.name))
	return true
}

// Names of columns that say when an attempt began, and when it ended.
var (
	startName = regexp.MustCompile(`(?i)^(start(ed|ing)?|begin(ning)?|began|beginn|anfang|début|debut|depart|départ|in[ií]cio|inizio|başlangıç|başlama|początek|rozpoczęcie|start(zeit|tid|uhrzeit)|in$|from$|von$|de$|da$|desde$|od$|開始|开始|시작)\b.*|^開始.*|^开始.*`)
	endName   = regexp.MustCompile(`(?i)^(end(ed|e|ing)?|stop(ped)?|finish(ed)?|ende|schluss|fin|fim|final|fine|arriv[ée]e|bitiş|koniec|zakończenie|slutt?|end(zeit)|out$|to$|until$|bis$|à$|hasta$|até$|do$|終了|结束|끝)\b.*|^終了.*|^结束.*`)
)

// momentOf is a time of day in seconds, with the days before it where a date stands there too.
func momentOf(s string) (seconds float64, exact, ok bool) {
	day := 0.0
	if d, clock, sec, iso := isoParts(s); iso {
		day = float64(minuteOf(d+" "+twoDigitHour(clock))/minutesInDay) * 86400
		s = clock + ":" + cmp.Or(sec, "00")
		exact = sec != ""
	}
	p := clockParts.FindStringSubmatch(s)
	if p == nil || grid.Number(p[1]) > 23 || grid.Number(p[2]) > 59 {
		return 0, false, false
	}
	return day + 3600*grid.Number(p[1]) + 60*grid.Number(p[2]) + grid.Number(p[3]), exact || p[3] != "", true
}

var clockParts = pattern.New(`^(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?$`)

// clocks holds the measure against the times between two columns of times of day.
func (r *logReader) clocks(m *measureReader, vs []float64) {
	if m.kind != Time {
		return
	}
	t := r.table
	var columns []numberColumn
	near := 1.5
	for _, name := range t.header {
		if name == "" || slices.Contains(r.measures, name) || slices.Contains(r.layout.Ignore, name) || len(columns) == 4 || name == r.cols.Trainee || name == r.cols.Attempt {
			continue
		}
		j := t.column(name)
		cells := r.distinct(j)
		if len(cells) < 4 || !strings.Contains(cells[0].text, ":") {
			continue
		}
		c, good := numberColumn{name, make([]float64, len(vs))}, 0
		for i := range vs {
			v, exact, ok := momentOf(t.text(i, j))
			if c.values[i] = v; !ok {
				c.values[i] = math.NaN()
				continue
			}
			if good++; !exact {
				near = 61
			}
		}
		if 10*good >= 9*len(vs) {
			columns = append(columns, c)
		}
	}
	for k, start := range columns {
		for _, end := range columns[k+1:] {
			r.betweenClocks(m, vs, start, end, near)
		}
	}
}

// betweenClocks notes rows in which the measure is not the time from one column to another, though it is
// in most, and a measure that is that time in another unit.
func (r *logReader) betweenClocks(m *measureReader, vs []float64, start, end numberColumn, near float64) {
	same, other, line := 0, 0, 0
	sixty := 0
	for i, v := range vs {
		d := end.values[i] - start.values[i]
		if math.IsNaN(d + v) {
			continue
		}
		if d < 0 {
			d += 86400
		}
		switch {
		case math.Abs(d-v) <= near:
			same++
		default:
			other++
			line = first2(line, r.table.line(i))
			if math.Abs(d-60*v) <= max(near, 0.02*d) {
				sixty++
			}
		}
	}
	switch {
	case sixty > 0 && sixty >= 4*(same+other-sixty):
		r.note("same-in-other-unit", fmt.Sprintf("%s: from %s to %s passed in most rows 60 times the number in %s, which is read as seconds: say --times minutes where it is in minutes (in a study file: times)", r.file, start.name, end.name, m.name))
	case other > 0 && same >= 4 && same >= other:
		r.note("differs-from-clocks", fmt.Sprintf("%s: %s is the time from %s to %s in %d rows and not in %d, such as in line %d: hold them against the source, or say --ignore %q (in a study file: ignore)", r.file, m.name, start.name, end.name, same, other, line, end.name))
	}
}

func formatNumbers(vs []float64) []string {
	var out []string
	for _, v := range vs {
		out = append(out, grid.FormatNumber(v))
	}
	return out
}

// minutesBeside notes times below 60 that fall with practice only together with whole numbers in another
// column, taken as minutes.
func (r *logReader) minutesBeside(log *Log, m *measureReader, vs []float64, c numberColumn) bool {
	if m.kind != Time || len(log.Attempts) != r.table.rows() || len(vs) != r.table.rows() || r.cols.Trainee == "" {
		return false
	}
	low, high := m.span()
	if high >= 60 || high < 40 || low > 20 {
		return false
	}
	both := make([]float64, len(vs))
	for i, v := range vs {
		w := c.values[i]
		if w != math.Round(w) || w < 0 || w > 90 {
			return false
		}
		both[i] = 60*w + v
	}
	if z, with := r.trendOf(log, vs), r.trendOf(log, both); z < -2 || with > -surelyWorse {
		return false
	}
	r.note("minutes-beside", fmt.Sprintf("%s: no number of column %s is 60 or more, and they fall with practice only together with those of column %s, taken as minutes; put both together as 2:05 into one column, or say --ignore %q where it is something else (in a study file: ignore)", r.file, m.name, c.name, c.name))
	return true
}

// trendOf is the trend of numbers that stand beside the attempts, row by row.
func (r *logReader) trendOf(log *Log, vs []float64) float64 {
	var t trendSum
	for g := range r.series.groups() {
		at := slices.Clone(r.series.of(g)[:min(len(r.series.of(g)), mostRanked)])
		slices.SortStableFunc(at, func(a, b int32) int { return cmp.Compare(log.Attempts[a].Number, log.Attempts[b].Number) })
		var own []float64
		for _, i := range at {
			if !math.IsNaN(vs[i]) {
				own = append(own, vs[i])
			}
		}
		t.add(own)
	}
	return t.z()
}

// soFar notes a measure that is the mean, or the best, so far of another column, and one that does not
// agree in some rows with a watch that runs on beside it.
func (r *logReader) soFar(log *Log, m *measureReader, vs []float64, c numberColumn) bool {
	if len(log.Attempts) != r.table.rows() || len(vs) != r.table.rows() || r.cols.Trainee == "" {
		return false
	}
	mean, best, differ := true, true, 0
	same, other, line := 0, 0, 0
	for g := range r.series.groups() {
		at := r.inOrder(log, r.series.of(g))
		sum, low, n := 0.0, math.Inf(1), 0.0
		for k, i := range at {
			v, w := vs[i], c.values[i]
			if math.IsNaN(v + w) {
				mean, best = false, false
				continue
			}
			sum, low, n = sum+w, min(low, w), n+1
			mean = mean && math.Abs(v-sum/n) <= 0.0501
			best = best && v == low
			if v != w {
				differ++
			}
			if k == 0 {
				continue
			}
			if step := w - c.values[at[k-1]]; math.Abs(step-v) <= 0.0501 {
				same++
			} else {
				other++
				line = first2(line, r.table.line(int(i)))
			}
		}
	}
	what := ""
	switch {
	case (mean || best) && differ >= 6:
		what = map[bool]string{true: "mean", false: "best"}[mean]
		r.note("measure-so-far", fmt.Sprintf("%s: column %s is in every row the %s so far of column %s; name the one with each attempt with --response, or say --ignore %q (in a study file: the task's column, ignore)", r.file, m.name, what, c.name, c.name))
		return true
	case other > 0 && same >= 6 && same >= 4*other:
		r.note("differs-from-clocks", fmt.Sprintf("%s: %s is in %d rows what column %s grew by, and not in %d, such as in line %d: hold them against the source, or say --ignore %q (in a study file: ignore)", r.file, m.name, same, c.name, other, line, c.name))
		return true
	}
	return false
}

// partsOf notes rows in which the measure is not the sum of the columns beside it, of which it is in most.
func (r *logReader) partsOf(m *measureReader, vs []float64, parts []numberColumn) {
	if len(parts) < 2 {
		return
	}
	same, other, line := 0, 0, 0
	for i, v := range vs {
		sum := 0.0
		for _, p := range parts {
			sum += p.values[i]
		}
		switch {
		case math.IsNaN(sum + v):
		case math.Abs(sum-v) <= 0.011:
			same++
		default:
			other++
			line = first2(line, r.table.line(i))
		}
	}
	if other > 0 && same >= 6 && same >= 4*other {
		var names []string
		for _, p := range parts {
			names = append(names, p.name)
		}
		r.note("differs-from-parts", fmt.Sprintf("%s: %s is the sum of %s in %d rows and not in %d, such as in line %d: hold them against the source, or say --ignore with these names (in a study file: ignore)", r.file, m.name, problem.List(names, 4), same, other, line))
	}
}
