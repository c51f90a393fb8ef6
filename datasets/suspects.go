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

// suspects looks at the table once more for what is easily taken for something else.
func (r *logReader) suspects() {
	r.mangledCodes()
	r.unitColumn()
	r.blankArms()
	r.unlabelledSummaries()
	r.decimalsBeside()
	r.tableBeside()
	for _, m := range r.readers {
		m.doubtStudyUnit(r)
		m.doubtName(r)
		for f := range r.files {
			m.doubtSize(r, f)
			m.withoutColon(r, f)
		}
		m.doubtOutliers(r)
		m.doubtHeap(r)
		m.sayOver(r)
		m.doubtShares(r)
		m.doubtNegative(r)
		m.doubtZeros(r)
	}
}

var powerOfTen = pattern.New(`^\d(?:[.,]\d+)?[eE]\+?\d+$`)

// madeDay is what spreadsheets make of a code such as MAR2.
var madeDay = pattern.New(`(?i)^\d{1,2}[-.] ?(jan|feb|mar|mär|mrz|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)\.?$|^(jan|feb|mar|mär|mrz|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)[-.] ?\d{2}$`)

// mangledCodes notes codes of trainees that a spreadsheet took for something else.
func (r *logReader) mangledCodes() {
	j := r.table.column(r.cols.Trainee)
	if r.cols.Trainee == "" || j < 0 {
		return
	}
	var odd []string
	for _, c := range r.distinct(j) {
		v, isNumber := grid.ParseNumber(c.text, false)
		switch {
		case c.kind == grid.Broken || c.kind == grid.Uncalculated:
			r.badAt(c.row, r.cols.Trainee, "", "a trainee code; the formula in this cell has no value: open the file in a spreadsheet program and save it", problem.ErrMissing)
		case c.kind == grid.Day, c.kind == grid.Span, c.kind == grid.HourSpan, c.kind == grid.Clock, c.kind == grid.Percent, powerOfTen.MatchString(c.text), madeDay.MatchString(c.text), isNumber && v >= 1e15:
			odd = append(odd, c.text)
		}
	}
	if len(odd) > 0 {
		r.note("codes-changed", fmt.Sprintf("%s: trainee codes such as %q look like what a spreadsheet made of other codes (dates, powers of ten); hold them against the source", r.file, odd[0]))
	}
}

var unitName = regexp.MustCompile(`(?i)^(time |measure )?(units?|uom|(zeit|mass|maß)?einheit|unité|unidad|unità|eenheid|enhet|enhed)$`)

// unitColumn asks where a column says that times are not all in seconds.
func (r *logReader) unitColumn() {
	for _, name := range r.unused() {
		if !unitName.MatchString(name) || slices.Contains(r.layout.Ignore, name) || r.log.Times != "" {
			continue
		}
		for _, c := range r.distinct(r.table.column(name)) {
			if unit := headUnit(" " + c.text); unit != "" && unit != "seconds" && slices.ContainsFunc(r.readers, func(m *measureReader) bool { return m.kind == Time }) {
				r.ask(name, c.text, fmt.Sprintf("to be told the unit of the times, since this column says %s in %d rows: --times %s where it is so in all rows, or --ignore %s (in a study file: times, ignore)", unit, c.count, unit, name))
			}
		}
	}
}

// blankArms notes trainees without an arm where others have one.
func (r *logReader) blankArms() {
	without, with := make([]bool, len(r.placed.trainees)), false
	n := 0
	for i, p := range r.placed.all {
		switch who := r.placed.trainee[i]; {
		case p.Arm != "":
			with = true
		case !without[who]:
			without[who] = true
			n++
		}
	}
	r.armsNotKnown()
	if with && n > 0 {
		r.note("arms-missing", fmt.Sprintf("%s: %d trainees have no arm; they are an arm of their own", r.file, n))
	}
}

var (
	notKnown = regexp.MustCompile(`(?i)^(#(n/?[av]|[\pL/0]+[!?])|unknown|not known|unclear|missing|none|no group|n/?a|\?+|-+|x|tb[dac]|unassigned|not assigned|withdrawn|drop-?out|unbekannt|unklar|keine?( gruppe)?|k\.? ?a\.?|inconnue?|aucun|desconocid[oa]|ningun[oa]|sconosciut[oa]|onbekend)$`)
	brackets = regexp.MustCompile(`\s*[(\[][^)\]]*[)\]]\s*$`)
)

// groupWord is what stands beside the name of an arm, or not.
var groupWord = regexp.MustCompile(`(?i)\b(groups?|arms?|cohorts?|condition|gruppe|kohorte|groupe|bras|grupo|brazo|gruppo|groep)\b`)

// shorter reports whether one arm's name is another's without such a word, its beginning, or its
// consonants.
func shorter(short, long string) bool {
	a, b := lettersOf(groupWord.ReplaceAllString(short, "")), lettersOf(groupWord.ReplaceAllString(long, ""))
	if strings.ContainsAny(short+long, "0123456789+&/") || len(a) < 3 || len(a) > len(b) {
		return false
	}
	if a == b {
		return len(short) < len(long)
	}
	if strings.HasPrefix(b, a) {
		return !strings.ContainsAny(strings.TrimSpace(groupWord.ReplaceAllString(long, "")), " -_")
	}
	if strings.ContainsAny(a, "aeiou") || a[0] != b[0] {
		return false
	}
	k := 0
	for i := 0; i < len(b) && k < len(a); i++ {
		if a[k] == b[i] {
			k++
		}
	}
	return k == len(a) && a[len(a)-1] == b[len(b)-1]
}

// lettersAlone reports whether all arms are called by one letter.
func lettersAlone(arms []string) bool {
	return !slices.ContainsFunc(arms, func(arm string) bool { return len(arm) != 1 || lettersOf(arm) == "" })
}

// armsNotKnown notes arms that may stand for none, and an arm that is another one with something
// in brackets behind it.
func (r *logReader) armsNotKnown() {
	arms, of := numbered(r.placed.all, 0, func(p *Place) string { return p.Arm })
	trainees := func(arm string) int {
		in, n := make([]bool, len(r.placed.trainees)), 0
		for i, who := range r.placed.trainee {
			if !in[who] && arms[of[i]] == arm {
				in[who] = true
				n++
			}
		}
		return n
	}
	arms = slices.DeleteFunc(slices.Clone(arms), func(arm string) bool { return arm == "" })
	if len(arms) < 2 {
		return
	}
	r.armsAreOrders(arms)
	for _, arm := range arms {
		v, ok := grid.ParseNumber(arm, false)
		coded := ok && slices.Contains([]float64{-1, -9, -99, 9, 88, 99, 999}, v) && !slices.ContainsFunc(arms, func(a string) bool {
			w, ok := grid.ParseNumber(a, false)
			return !ok || a != arm && math.Abs(w) >= math.Abs(v)-2
		})
		if expertWords.MatchString(arm) || expertStems.MatchString(arm) {
			r.note("experts-among-trainees", fmt.Sprintf("%s: arm %s is called as experts are, and its %d people count as trainees; --without %q leaves their rows out (in a study file: without, and experts for a table of their own)", r.file, arm, trainees(arm), r.cols.Arm+"="+arm))
		}
		if notKnown.MatchString(arm) && !(len(arm) == 1 && lettersAlone(arms)) || coded {
			r.note("arm-not-known", fmt.Sprintf("%s: arm %s of %d trainees may stand for none, and is read as an arm; --without %q leaves its rows out (in a study file: without)", r.file, arm, trainees(arm), r.cols.Arm+"="+arm))
		}
		for _, other := range arms {
			if other != arm && plainCode(other) != plainCode(arm) && shorter(arm, other) {
				r.note("similar-codes", fmt.Sprintf("%s: arms %q and %q may be one; they are kept apart, and --same %q joins them (in a study file: same)", r.file, other, arm, arm+"="+other))
			}
		}
		if plain := brackets.ReplaceAllString(arm, ""); plain != arm && slices.Contains(arms, plain) {
			r.note("similar-codes", fmt.Sprintf("%s: arms %q and %q are one but for what stands in brackets; they are kept apart, and --same %q joins them (in a study file: same)", r.file, plain, arm, arm+"="+plain))
		}
	}
}

// unlabelledSummaries asks about rows at the end of a wide table that are the mean or the
// sum of the rows above them, whatever stands in the trainees' column.
func (r *logReader) unlabelledSummaries() {
	t := r.table
	if !r.isWide || r.log.ColumnsAre != "" || t.rows() < 3 {
		return
	}
	for f := range r.files {
		from, to := t.span(f)
		r.summariesIn(from, to)
	}
}

// summariesIn asks about such rows at the end of some rows.
func (r *logReader) summariesIn(from, to int) {
	t := r.table
	for i := max(from+2, to-3); i < to; i++ {
		near := 0.006 // of two rows alone the mean has to be met more closely
		if i == from+2 {
			near = 0.0005
		}
		means, sums, columns, least := 0, 0, 0, 2
		for j, m := range r.readers {
			switch m.kind {
			case PassFail:
				continue // a pass of one of two is no sum of passes
			case Count:
				least = 4 // small counts agree by chance
			}
			for _, s := range r.slotted {
				v, ok := r.valueAt(m, i, s.columns[j])
				if !ok {
					continue
				}
				sum, n, differ := 0.0, 0, false
				for k := from; k < i; k++ {
					if w, ok := r.valueAt(m, k, s.columns[j]); ok {
						sum, n, differ = sum+w, n+1, differ || w != v
					}
				}
				if !differ {
					continue
				}
				columns++
				if n > 1 && math.Abs(v-sum/float64(n)) <= near*math.Abs(v) {
					means++
				}
				if n > 1 && math.Abs(v-sum) <= 0.0005*math.Abs(v) {
					sums++
				}
			}
		}
		if columns >= least && (means == columns || sums == columns) {
			r.badAt(i, r.cols.Trainee, t.text(i, t.column(r.cols.Trainee)), "a trainee; the row is the mean or the sum of those above it: delete it, or leave it out with --where (in a study file: where)", problem.ErrAmbiguous)
		}
	}
}

// valueAt is the number in a cell.
func (r *logReader) valueAt(m *measureReader, i, j int) (float64, bool) {
	if j < 0 {
		return 0, false
	}
	got := m.readings[r.table.cell(i, j)]
	return got.value, got.state == isNumber
}

var (
	// timeLeftName are columns with the time that was left, not the time taken.
	timeLeftName = regexp.MustCompile(`(?i)(^|[ _])(remaining|countdown|count-down|rest[- ]?zeit|restliche[rn]?|verbleibend\w*|zeit übrig|restante?|rimanente|resterende)([ _(\[]|$)|(time|seconds)[ _]left([ _]*[(\[].*)?$|^left[ _]?[(\[]`)
	// otherUnitName are columns whose name says what is counted, which are no seconds.
	otherUnitName = regexp.MustCompile(`(?i)^(no\.? of |number of |n )?(video )?(frames?|bilder|einzelbilder|images|fotogramas|ticks|samples|steps|clicks)\b|[ _(\[](frames?|bilder|cs|csec|centi(second|sec)\w*|hundredths|hundertstel\w*|centièmes|centésimas|1/100( ?s)?|1/10( ?s)?|tenths|zehntel\w*|dixièmes|décimas|µs|us|microsec\w*)[)\]]?$|^(hundredths|hundertstel\w*|centiseconds?|microseconds?|tenths|zehntel\w*)\b`)
)

var unitInBrackets = regexp.MustCompile(`[\[(]([\pL\pM/µ]{1,12})\.?[\])]\s*$`)

// unknownUnit reports whether a name ends in a unit in brackets that is not known here.
func unknownUnit(name string) bool {
	found := unitInBrackets.FindStringSubmatch(name)
	return found != nil && headUnit(name) == "" && !otherUnitName.MatchString(name) && !grid.SecondsWord.MatchString(found[1])
}

// doubtName notes a time whose name says that it is none, or in a unit that is not known here.
func (m *measureReader) doubtName(r *logReader) {
	switch {
	case m.kind != Time || slices.ContainsFunc(m.ways, func(w way) bool { return w.form != "" && r.log.Times != "" }):
	case m.called(timeLeftName.MatchString):
		r.note("time-left", fmt.Sprintf("%s: by its name column %s holds the time that was left, and is read as the time taken; put the limit less this number into the table where it is so", r.file, m.spoken()))
	case m.called(unknownUnit):
		r.note("unit-in-name", fmt.Sprintf("%s: the unit in the name of column %s is not known here, and its numbers are read as seconds; say --times seconds where they are (in a study file: times), else put seconds into the table", r.file, m.spoken()))
	case m.called(otherUnitName.MatchString):
		r.note("unit-in-name", fmt.Sprintf("%s: by its name column %s is not in seconds, but is read so; put seconds into the table (hundredths by 100, frames by the frames of a second)", r.file, m.spoken()))
	}
}

// doubtStudyUnit asks where the study's unit of a time is not the one in which times are kept.
func (m *measureReader) doubtStudyUnit(r *logReader) {
	unit := headUnit(" " + m.unit)
	kept := !slices.ContainsFunc(m.ways, func(w way) bool { return w.form != "seconds" })
	if m.kind == Time && unit != "" && unit != "seconds" && !kept {
		r.ask(m.name, m.unit, fmt.Sprintf("the unit of a time to be s, since times are kept in seconds: write unit: s in the study file, with times: %s where the cells are %s; where they are and are to be kept so, say times: seconds", unit, unit))
	}
}

// doubtSize notes measures of a file of a size that another unit would explain.
func (m *measureReader) doubtSize(r *logReader, f int) {
	cells := r.inFile(f, m.cells)
	if m.ways[f].form != "" || len(cells) == 0 {
		return
	}
	file := r.files[f].file
	var vs []float64
	for _, c := range cells {
		if got := m.readings[c.id]; got.state == isNumber {
			vs = append(vs, got.value)
		}
	}
	if len(vs) == 0 {
		return
	}
	slices.Sort(vs)
	middle := vs[len(vs)/2]
	if m.kind == Time && !slices.ContainsFunc(cells, func(c writtenCell) bool { return c.kind != grid.Written || !anyLetter.MatchString(c.text) }) {
		return // every cell says its unit
	}
	two, lost := 0, 0
	for _, c := range cells {
		switch {
		case c.kind == grid.Written && twoDecimals.MatchString(c.text):
			two++
		case oneOrTwoDecimals.MatchString(c.text):
			lost++
		}
	}
	switch {
	case m.kind == Time && m.near() == 0 && two+lost == len(cells) && lost > 0 && len(cells) >= 12 && middle < 10 && m.mostTwo(cells):
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds; none of its numbers has decimals above .59, so that they may be minutes and seconds, 1.3 for 1 min 30 s with its last zero lost: say --times m.ss where they are, or --times minutes", file, m.name))
	case m.kind == Time && m.near() == 0 && two == len(cells) && two >= 3 && middle < 10:
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds; all its numbers have two decimals below 60, as minutes and seconds have: say --times m.ss where they are", file, m.name))
	case m.kind == Time && m.shortWhy(vs) != "":
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds, and %s; say --times minutes where they are minutes, or --times seconds (in a study file: times)", file, m.name, m.shortWhy(vs)))
	case m.kind == Time && m.near() == 0 && middle > 3600:
		r.note("unit-not-sure", fmt.Sprintf("%s: column %s is read as seconds, and half of its times are above an hour; say --times milliseconds where they are", file, m.name))
	case m.kind == Time && m.limit > 0 && m.standard > 0 && (middle >= 20*m.standard || vs[len(vs)-1] <= m.standard/20):
		r.note("far-from-standard", fmt.Sprintf("%s: column %s is far from the standard of %g s (half of its times are above %s s); one of them may be in another unit: give the standard in seconds", file, m.name, m.standard, grid.FormatNumber(middle)))
	case m.kind == Score && m.standard > 0 && (middle >= 20*m.standard || vs[len(vs)-1] <= m.standard/20):
		r.note("far-from-standard", fmt.Sprintf("%s: column %s is far from the standard of %g (half of its numbers are above %g); one of them may be a percentage", file, m.name, m.standard, middle))
	}
}

// oneOrTwoDecimals are numbers that may be minutes and seconds with a last zero lost.
var oneOrTwoDecimals = pattern.New(`^\d{1,2}(?:[.,][0-5]\d?)?$`)

// mostTwo reports whether more than half of some cells have two decimals, and none more.
func (m *measureReader) mostTwo(cells []writtenCell) bool {
	two := 0
	for _, c := range cells {
		if twoDecimals.MatchString(c.text) {
			two++
		}
	}
	return 2*two > len(cells)
}

// decimalsBeside notes whole measures beside an unused column of single digits, or of digits
// with a zero before them, as in a table with commas between cells and within numbers: 98,4
// are two cells.
func (r *logReader) decimalsBeside() {
	t := r.table
	if t.read.Separator != "comma" || r.isWide || t.rows() < 5 {
		return
	}
	for _, m := range r.readers {
		if len(m.columns) != 1 || m.columns[0]+1 >= len(t.header) {
			continue
		}
		j := m.columns[0] + 1
		name := t.header[j]
		if name != "" && (r.uses(name) || slices.Contains(r.layout.Ignore, name)) || slices.ContainsFunc(m.cells, func(c writtenCell) bool { return !digits(c.text) }) {
			continue
		}
		beside := r.distinct(j)
		zero, rows := false, 0
		for _, c := range beside {
			if !digits(c.text) || len(c.text) != len(beside[0].text) {
				rows = -1
				break
			}
			zero, rows = zero || len(c.text) > 1 && c.text[0] == '0', rows+c.count
		}
		if 2*rows > t.rows() && (zero || len(beside[0].text) == 1 && len(beside) >= 6) {
			r.note("decimals-beside", fmt.Sprintf("%s: column %s holds whole numbers, and the cells right of it digits alone (%s and %s in line %d): if they are the decimals of one number, a comma has cut it: save the table with semicolons or tabs between cells; if not, say --ignore %q", r.file, m.name, t.text(0, m.columns[0]), t.text(0, j), t.line(0), name))
		}
	}
}

// Outliers are numbers this many times below or above all others, where ten times or a
// tenth of them would be among the others.
const outlying = 4

// doubtOutliers notes one or two numbers far from all others that a slip of the decimal mark
// or a digit too few or too many explains.
func (m *measureReader) doubtOutliers(r *logReader) {
	if m.kind != Time && m.kind != Score {
		return
	}
	type number struct {
		v float64
		c writtenCell
	}
	byValue := func(a, b number) int { return cmp.Compare(a.v, b.v) }
	var ns []number // the smallest three and the largest three
	all := 0
	for _, c := range m.cells {
		got := m.readings[c.id]
		if got.state != isNumber {
			continue
		}
		if all++; len(ns) == 6 && got.value >= ns[2].v && got.value <= ns[3].v {
			continue
		}
		at, _ := slices.BinarySearchFunc(ns, number{v: math.Nextafter(got.value, math.Inf(1))}, byValue)
		if ns = slices.Insert(ns, at, number{got.value, c}); len(ns) > 6 {
			ns = slices.Delete(ns, 3, 4)
		}
	}
	if all < 8 || ns[0].v <= 0 {
		return
	}
	note := func(where string, next float64, odd []number) {
		var cells []string
		for _, n := range odd {
			cells = append(cells, fmt.Sprintf("%s in line %d", n.c.text, r.table.line(n.c.row)))
		}
		r.note("far-from-others", fmt.Sprintf("%s: column %s: %s, far %s all others (the next is %s); a digit or a decimal mark may be wrong: hold it against the source", r.file, m.name, problem.List(cells, 2), where, grid.FormatNumber(next)))
	}
	for k := 1; k <= 2; k++ {
		n := len(ns)
		if rest := ns[k:]; m.kind == Time && ns[k-1].v*outlying < rest[0].v && ns[k-1].v*10 <= rest[len(rest)-1].v*1.5 {
			note("below", rest[0].v, ns[:k])
			break
		} else if rest := ns[:n-k]; ns[n-k].v > outlying*rest[len(rest)-1].v && ns[n-k].v/10 >= rest[0].v/1.5 {
			note("above", rest[len(rest)-1].v, ns[n-k:])
			break
		}
	}
}

// doubtHeap notes times far from any limit of which many are the longest one to the digit, as
// they are where attempts were stopped.
func (m *measureReader) doubtHeap(r *logReader) {
	if m.kind != Time {
		return
	}
	var longest writtenCell
	top, all, next := 0.0, 0, 0
	for _, c := range m.cells {
		if got := m.readings[c.id]; got.state == isNumber {
			all += c.count
			if got.value > top {
				top, longest = got.value, c
			}
		}
	}
	for _, c := range m.cells {
		if c.id != longest.id {
			next = max(next, c.count)
		}
	}
	second := 0.0
	for _, c := range m.cells {
		if got := m.readings[c.id]; got.state == isNumber && got.value < top {
			second = max(second, got.value)
		}
	}
	if m.limit > 0 && (top >= 0.9*m.limit || r.cols.Outcome != "") {
		return
	}
	if longest.count == 2 && all >= 8 && top >= 1.5*second || longest.count >= 3 && longest.count > 2*next && 20*longest.count >= all && longest.count < all {
		r.note("stopped-at-longest", fmt.Sprintf("%s: column %s: %d attempts took exactly %s, the longest time of all; where they were stopped then, say --limit %s (in a study file: limit)", r.file, m.name, longest.count, longest.text, grid.FormatNumber(top)))
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

// sayOver notes cells such as >170, which are attempts that were stopped there.
func (m *measureReader) sayOver(r *logReader) {
	n := 0
	var first writtenCell
	for _, c := range m.cells {
		if m.readings[c.id].state == isOver {
			if n == 0 {
				first = c
			}
			n += c.count
		}
	}
	if n > 0 {
		r.note("stopped-by-mark", fmt.Sprintf("%s: column %s: %d cells such as %s (line %d) are read as attempts that were stopped there without an end", r.file, m.name, n, first.text, r.table.line(first.row)))
	}
}

// doubtShares notes shares, such as 0.85, among scores far above them, such as 85.
func (m *measureReader) doubtShares(r *logReader) {
	if m.kind != Score {
		return
	}
	shares, others, least, share := 0, 0, math.Inf(1), writtenCell{}
	for _, c := range m.cells {
		switch got := m.readings[c.id]; {
		case got.state != isNumber:
		case got.value > 0 && got.value < 1:
			shares, share = shares+1, c
		case got.value != 0 && got.value != 1:
			others, least = others+1, math.Min(least, got.value)
		}
	}
	if shares >= 2 && others >= 2 && least >= 8 && least <= 100 {
		r.note("shares-among-percentages", fmt.Sprintf("%s: column %s: %d different numbers below 1, such as %s in line %d, are far below all others (the next is %s); they may be shares among percentages: write all alike", r.file, m.name, shares, share.text, r.table.line(share.row), grid.FormatNumber(least)))
	}
}

// columnsAside are the columns that have a name right of a blank one, two or more, where nothing uses them.
func (r *logReader) columnsAside() []string {
	t := r.table
	for j := 1; j < len(t.header)-2; j++ {
		if t.header[j] != "" || len(r.distinct(j)) > 0 || t.header[j-1] == "" {
			continue
		}
		var right []string
		for _, name := range t.header[j+1:] {
			if name != "" && r.uses(name) {
				return nil
			}
			if name != "" && !slices.Contains(r.layout.Ignore, name) {
				right = append(right, name)
			}
		}
		if len(right) < 2 {
			return nil
		}
		return right
	}
	return nil
}

// tableBeside notes named columns, none of them used, right of a column without a name and
// without cells: a second table beside the first.
func (r *logReader) tableBeside() {
	if len(r.aside) > 0 {
		r.note("table-beside", fmt.Sprintf("%s: the columns right of a blank one (%s) look like a second table and are not read; put it on a sheet or into a file of its own where it holds attempts", r.file, problem.List(r.aside, 5)))
	}
}

// doubtNegative notes a few scores below zero where all others are far above it.
func (m *measureReader) doubtNegative(r *logReader) {
	if m.kind != Score {
		return
	}
	below, all, least, such := 0, 0, math.Inf(1), writtenCell{}
	for _, c := range m.cells {
		got := m.readings[c.id]
		if got.state != isNumber {
			continue
		}
		all += c.count
		if got.value < 0 {
			below, such = below+c.count, c
		} else {
			least = min(least, got.value)
		}
	}
	if below > 0 && 10*below <= all && -m.readings[such.id].value > least && least > 0 {
		r.note("negative-among-scores", fmt.Sprintf("%s: column %s: %d scores are below zero, such as %s in line %d, and no other is below %s; where it stands for none, say --code %s=blank or the like (in a study file: codes)", r.file, m.name, below, such.text, r.table.line(such.row), grid.FormatNumber(least), such.text))
	}
}

// doubtZeros notes a few scores of 0 far below all others, which may stand for none.
func (m *measureReader) doubtZeros(r *logReader) {
	if m.kind != Score {
		return
	}
	zeros, all, differ, such := 0, 0, 0, writtenCell{}
	least, most := math.Inf(1), math.Inf(-1)
	for _, c := range m.cells {
		got := m.readings[c.id]
		if got.state != isNumber {
			continue
		}
		all += c.count
		if got.value == 0 && r.study.Codes[c.text] != asValue {
			zeros, such = zeros+c.count, c
		} else {
			least, most, differ = min(least, got.value), max(most, got.value), differ+1
		}
	}
	if zeros > 0 && 8*zeros <= all && differ >= 5 && least > 0 && 5*least >= most {
		r.note("zero-among-scores", fmt.Sprintf("%s: column %s: %d scores are 0, the first in line %d, and no other is below %s; where it stands for none, say --code %s=blank or the like, else --code %s=value (in a study file: codes)", r.file, m.name, zeros, r.table.line(such.row), grid.FormatNumber(least), such.text, such.text))
	}
}
