package datasets

import (
	"fmt"
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// seriesDoubts looks at whole series of attempts, and at the codes they stand under, for what
// copying, dragging down and renaming leave behind.
func (r *logReader) seriesDoubts(log *Log) {
	if r.cols.Trainee == "" || len(r.readers) == 0 || len(log.Attempts) == 0 {
		return
	}
	for _, t := range r.study.Tasks {
		if j := slices.Index(r.measures, t.Column); j >= 0 {
			r.copiedSeries(log, t.Name, j)
			r.farTrainee(log, t.Name, j)
			r.sharedStretches(log, t.Name, j)
			r.ownAgain(log, t.Name, j)
			r.evenSteps(log, t.Name, j)
			r.roundedApart(log, t.Name, j)
			r.complete(log, t.Name)
		}
	}
	r.sumsUp(log)
	r.twiceAsMany()
	r.codesCountRows(log)
	r.codesOfTwo()
}

// seriesOf are the attempts at a task, trainee by trainee.
func (r *logReader) seriesOf(task string) iter.Seq2[int, []int32] {
	return func(see func(int, []int32) bool) {
		for g := range r.series.groups() {
			if r.placed.tasks[r.series.task[g]] == task && !see(g, r.series.of(g)) {
				return
			}
		}
	}
}

// fewestDiffering is how many different numbers a series has before another like it is odd.
const fewestDiffering = 4

// copiedSeries notes two trainees with the very same numbers, and one whose numbers count up by
// one while those of others do not.
func (r *logReader) copiedSeries(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time && m.kind != Score {
		return
	}
	numbers := sync.OnceValue(m.differentNumbers)
	seen := map[uint64]int{} // series by their numbers
	var twice, counting []string
	groups := 0
	for g, rows := range r.seriesOf(task) {
		groups++
		hash, up := uint64(14695981039346656037), true // FNV-1a, over whole numbers
		differ := make([]float64, 0, fewestDiffering)
		for n, i := range rows {
			v := log.Values(log.Attempts[i])[j]
			if math.IsNaN(v) || log.Attempts[i].Outcome != Done {
				differ = nil
				break
			}
			if len(differ) < fewestDiffering && !slices.Contains(differ, v) {
				differ = append(differ, v)
			}
			hash = (hash ^ math.Float64bits(v)) * 1099511628211
			hash ^= hash >> 29
			up = up && (n == 0 || v == log.Values(log.Attempts[rows[n-1]])[j]+1)
		}
		if len(differ) < fewestDiffering {
			continue
		}
		who := log.Attempts[rows[0]].Trainee
		if up && len(rows) >= 5 {
			counting = append(counting, who)
		}
		before, again := seen[hash]
		if again && sameValues(log, r.series.of(before), rows, j) && chancePairs(r.series.groups(), numbers(), len(rows)) < 0.01 {
			twice = append(twice, fmt.Sprintf("%s and %s", log.Attempts[r.series.of(before)[0]].Trainee, who))
		}
		seen[hash] = g
	}
	if len(twice) > 0 {
		r.note("series-twice", fmt.Sprintf("%s: trainees %s have the very same numbers in column %s; they may have been copied: hold them against the source", r.file, problem.List(twice, mostNamed), m.name))
	}
	if len(counting) > 0 && len(counting) < groups {
		r.note("series-counts-up", fmt.Sprintf("%s: in column %s every number of %s is the one before it and 1, as where a cell was dragged down: hold them against the source", r.file, m.name, problem.List(counting, mostNamed)))
	}
}

// chancePairs is how many pairs of series of one length would be the same by chance, were the
// most frequent quarter of the numbers all there is.
func chancePairs(series, numbers, length int) float64 {
	return float64(series) * float64(series) / 2 * math.Pow(4/float64(numbers), float64(length))
}

// differentNumbers is how many numbers the measure has.
func (m *measureReader) differentNumbers() int {
	var vs []float64
	for _, c := range m.cells {
		if got := m.readings[c.id]; got.state == isNumber {
			vs = append(vs, got.value)
		}
	}
	slices.Sort(vs)
	return len(slices.Compact(vs))
}

// farTrainee notes a trainee all of whose times lie far above, or below, those of everybody else,
// and among them when the decimal mark moves by one, two or three places.
func (r *logReader) farTrainee(log *Log, task string, j int) {
	if r.readers[j].kind != Time {
		return
	}
	type span struct {
		first     int32 // attempt
		n         int
		low, high float64
	}
	none := span{first: -1, low: math.Inf(1), high: math.Inf(-1)}
	lowest, highest := [2]span{none, none}, [2]span{none, none}
	top, bottom := none, none // the spans that begin highest and end lowest
	people := 0
	for _, rows := range r.seriesOf(task) {
		s := none
		s.first = rows[0]
		for _, i := range rows {
			if v := log.Values(log.Attempts[i])[j]; !math.IsNaN(v) {
				s.n, s.low, s.high = s.n+1, min(s.low, v), max(s.high, v)
			}
		}
		if s.n == 0 {
			continue
		}
		if people++; people == 1 || s.low > top.low {
			top = s
		}
		if people == 1 || s.high < bottom.high {
			bottom = s
		}
		switch {
		case s.low < lowest[0].low:
			lowest = [2]span{s, lowest[0]}
		case s.low < lowest[1].low:
			lowest[1] = s
		}
		switch {
		case s.high > highest[0].high:
			highest = [2]span{s, highest[0]}
		case s.high > highest[1].high:
			highest[1] = s
		}
	}
	if people < 3 {
		return
	}
	for _, odd := range []span{top, bottom} {
		low, high := lowest[0].low, highest[0].high // of all others
		if lowest[0].first == odd.first {
			low = lowest[1].low
		}
		if highest[0].first == odd.first {
			high = highest[1].high
		}
		for _, factor := range []float64{10, 100, 1000} {
			up := odd.low > 2*high && odd.low/factor >= low/2 && odd.high/factor <= 1.5*high
			down := odd.high < low/2 && odd.low*factor >= low/2 && odd.high*factor <= 1.5*high
			if odd.n >= 3 && (up || down) {
				r.note("trainee-far-from-others", fmt.Sprintf("%s: in column %s all numbers of %s (%s to %s) are far from all others (%s to %s), and among them when the decimal mark is moved: hold them against the source", r.file, r.readers[j].name, log.Attempts[odd.first].Trainee, grid.FormatNumber(odd.low), grid.FormatNumber(odd.high), grid.FormatNumber(low), grid.FormatNumber(high)))
				break
			}
		}
	}
}

// lostMarks notes numbers of a trainee far above his others, and among them when the decimal mark is moved
// by one place, where they are not his first ones.
func (r *logReader) lostMarks(log *Log, task string, j int) {
	m := r.readers[j]
	if m.kind != Time || r.series.groups() > mostRankedSeries {
		return
	}
	if low, high := m.span(); low <= 0 || high < 2.5*low || r.notedCode("far-from-others") || r.notedCode("trainee-far-from-others") {
		return
	}
	var odd []string
	for g, rows := range r.seriesOf(task) {
		at := r.inOrder(log, rows)
		var vs []float64
		for _, i := range at {
			if v := log.Values(log.Attempts[i])[j]; !math.IsNaN(v) {
				vs = append(vs, v)
			}
		}
		up := slices.Clone(vs)
		slices.Sort(up)
		if k := len(up) - 1; k >= 3 && up[k] >= 2.5*up[k-1] && vs[0] != up[k] {
			odd = append(odd, fmt.Sprintf("%s of %s", grid.FormatNumber(up[k]), r.placed.trainees[r.series.trainee[g]]))
			continue
		}
		for k := 1; k < len(up) && len(up) >= 4; k++ {
			most, least := up[k-1], up[k]
			if least < outlying*most || least/10 < up[0]/2 || up[len(up)-1]/10 > 1.5*most {
				continue
			}
			first := 0 // of the attempts, those above before any below
			for first < len(vs) && vs[first] >= least {
				first++
			}
			if first < len(up)-k {
				odd = append(odd, fmt.Sprintf("%s of %s", grid.FormatNumber(least), r.placed.trainees[r.series.trainee[g]]))
			}
			break
		}
	}
	if len(odd) > 0 {
		r.note("far-from-own", fmt.Sprintf("%s: in column %s some numbers are far above the others of their trainee (%s); a decimal mark or a digit may be wrong: hold them against the source", r.file, m.name, problem.List(odd, mostNamed)))
	}
}

func sameValues(log *Log, a, b []int32, j int) bool {
	return slices.EqualFunc(a, b, func(x, y int32) bool { return log.Values(log.Attempts[x])[j] == log.Values(log.Attempts[y])[j] })
}

// codesCountRows notes codes that count the rows of the file, while attempts are of several
// numbers: the first code was dragged down.
func (r *logReader) codesCountRows(log *Log) {
	several := func(a Attempt) bool { return a.Number > 1 }
	if r.isWide || len(log.Attempts) < 6 || !slices.ContainsFunc(log.Attempts, several) {
		return
	}
	name, next := "", 0.0
	for n, a := range log.Attempts {
		before := strings.TrimRight(a.Trainee, "0123456789")
		digits := a.Trainee[len(before):]
		if digits == "" || n > 0 && (before != name || grid.Number(digits) != next) {
			return
		}
		name, next = before, grid.Number(digits)+1
	}
	r.note("codes-count-rows", fmt.Sprintf("%s: the codes in column %s count the rows (%s to %s), so that every attempt is of another trainee, though attempts have numbers above 1; the first code may have been dragged down: hold them against the source", r.file, r.cols.Trainee, log.Attempts[0].Trainee, log.Attempts[len(log.Attempts)-1].Trainee))
}

var betweenTwo = pattern.New(`^(.+?)\s*[/+&]\s*(.+)$`)

// codesOfTwo notes codes made of two, such as KS/MB, where either stands for itself or the two
// stand the other way round too.
func (r *logReader) codesOfTwo() {
	j := r.table.column(r.cols.Trainee)
	if j < 0 {
		return
	}
	cells := r.distinct(j)
	known := map[string]int{}
	var pairs [][]string
	for _, c := range cells {
		if p := betweenTwo.FindStringSubmatch(c.text); p != nil {
			pairs = append(pairs, p)
			known[p[1]]++
			known[p[2]]++
		}
	}
	if pairs == nil {
		return
	}
	for _, c := range cells {
		if !betweenTwo.MatchString(c.text) {
			known[c.text]++
		}
	}
	var odd []string
	for _, p := range pairs {
		if known[p[1]] > 1 && known[p[2]] > 1 {
			odd = append(odd, p[0])
		}
	}
	if len(odd) > 0 {
		r.note("codes-of-two", fmt.Sprintf("%s: codes in column %s such as %s may stand for two people who worked together, and are read as one trainee each", r.file, r.cols.Trainee, problem.List(odd, 3)))
	}
}

// goesOn notes a code whose attempts begin where those of a code with a like name end: somebody
// may have got another code on the way.
func (r *logReader) goesOn(log *Log) {
	var late []int // series that do not begin at 1
	least := make([]float64, r.series.groups())
	for g := range least {
		least[g] = math.Inf(1)
		for _, i := range r.series.of(g) {
			least[g] = min(least[g], log.Attempts[i].Number)
		}
		if least[g] > 1 {
			late = append(late, g)
		}
	}
	if late == nil {
		return
	}
	by := map[float64][]int{} // series by their last attempt
	for g := range least {
		most := math.Inf(-1)
		for _, i := range r.series.of(g) {
			most = max(most, log.Attempts[i].Number)
		}
		by[most] = append(by[most], g)
	}
	name := func(g int) string { return r.placed.trainees[r.series.trainee[g]] }
	n, held := 0, 0
	for _, g := range late {
		for _, before := range by[least[g]-1] {
			if held++; held > mostHeld {
				return
			}
			a, b := name(before), name(g)
			if r.series.task[before] != r.series.task[g] || plainCode(a) == plainCode(b) || !likeNames(a, b) {
				continue
			}
			if n++; n <= mostSimilar {
				r.note("codes-go-on", fmt.Sprintf("%s: the attempts of %q begin at %g, where those of %q end; if they are one person, --same %q joins them (in a study file: same)", r.file, b, least[g], a, b+"="+a))
			}
		}
	}
}

// complete notes somebody who has just the attempts that one other lacks of those that most have, and none
// besides: rows of one person may stand under two codes, however unlike.
func (r *logReader) complete(log *Log, task string) {
	type part struct {
		who     string
		numbers []float64
	}
	if r.series.groups() > mostRankedSeries {
		return
	}
	var parts []part
	whole := map[int]int{} // how many trainees have the attempts from 1 to this
	for g, rows := range r.seriesOf(task) {
		var numbers []float64
		for _, i := range rows {
			numbers = append(numbers, log.Attempts[i].Number)
		}
		slices.Sort(numbers)
		if n := len(numbers); numbers[0] == 1 && numbers[n-1] == float64(n) {
			whole[n]++
		}
		parts = append(parts, part{r.placed.trainees[r.series.trainee[g]], numbers})
	}
	top, often := 0, 0
	for n, k := range whole {
		if k > often || k == often && n > top {
			top, often = n, k
		}
	}
	parts = slices.DeleteFunc(parts, func(p part) bool { return len(p.numbers) >= top || p.numbers[len(p.numbers)-1] > float64(top) })
	if often < 3 || len(parts) > mostRanked {
		return
	}
	for _, late := range parts {
		if late.numbers[0] == 1 {
			continue
		}
		var others []string
		for _, p := range parts {
			if len(p.numbers)+len(late.numbers) == top && !slices.ContainsFunc(p.numbers, func(v float64) bool { return slices.Contains(late.numbers, v) }) {
				others = append(others, p.who)
			}
		}
		told := slices.ContainsFunc(r.notes, func(n Note) bool {
			return (n.Code == "codes-go-on" || n.Code == "similar-codes") && strings.Contains(n.Text, strconv.Quote(late.who))
		})
		if len(others) == 1 && !told {
			r.note("codes-go-on", fmt.Sprintf("%s: %q has just the attempts that %q lacks of the %d that most have; if they are one person, --same %q joins them (in a study file: same)", r.file, late.who, others[0], top, late.who+"="+others[0]))
		}
	}
}

// mostHeld is how many pairs of codes are held against each other.
const mostHeld = 1 << 20

// likeNames reports whether one name is the other with something behind it, or a letter of it
// changed, was left out or changed places.
func likeNames(a, b string) bool {
	a, b = plainCode(a), plainCode(b)
	if len(a) > len(b) {
		a, b = b, a
	}
	if rest, ok := strings.CutPrefix(b, a); ok && len(a) >= 2 {
		return rest == "" || !numeral(a[len(a)-1]) || !numeral(rest[0])
	}
	return slip([]rune(a), []rune(b))
}

func numeral(c byte) bool { return c >= '0' && c <= '9' }

// slip reports whether one slip of the fingers, in a letter, makes a word of three letters or
// more the other, which is as long or differs by one letter.
func slip(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(a) < 3 || len(b)-len(a) > 1 {
		return false
	}
	k := 0
	for k < len(a) && a[k] == b[k] {
		k++
	}
	letter := func(c rune) bool { return c < '0' || c > '9' }
	switch {
	case k == len(a):
		return len(b) > k && letter(b[k])
	case len(a) < len(b):
		return letter(b[k]) && slices.Equal(a[k:], b[k+1:])
	case k+1 < len(a) && a[k] == b[k+1] && a[k+1] == b[k]:
		return letter(a[k]) && letter(b[k]) && slices.Equal(a[k+2:], b[k+2:])
	}
	return letter(a[k]) && letter(b[k]) && slices.Equal(a[k+1:], b[k+1:])
}
