package datasets

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"tyro/analysis/practice/ranges"
	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// near is what times are compared with: the limit, else the standard; 0 for neither.
func (m *measureReader) near() float64 {
	if m.limit > 0 {
		return m.limit
	}
	return m.standard
}

// settleForm finds what colons mean in a file's times, and asks where neither it nor the
// files written like it show that.
func (m *measureReader) settleForm(r *logReader, f int, texts [][]string) {
	w := &m.ways[f]
	if w.form == "h:mm:ss" {
		// Said of times of two parts alone, these are hours and minutes.
		if s := shapeOf(texts[f], w.notation); len(s.two) > 0 && len(s.three) == 0 {
			w.form = hoursAndMinutes
		}
	}
	if w.form == "" {
		w.form = m.plainlyBySaidUnit(f)
		if w.form != "" {
			r.note("unit-from-name", fmt.Sprintf("%s: column %s is read as %s, as its name says, since it would be no likely time as seconds; where they are seconds say --times seconds (in a study file: times)", r.files[f].file, m.spoken(), w.form))
		}
	}
	if w.form != "" {
		return
	}
	s := shapeOf(texts[f], w.notation)
	form, ok := s.threeForm(m.near())
	if !ok {
		var pooled []string
		for _, k := range r.alike(f) {
			pooled = append(pooled, texts[k]...)
		}
		if form, ok = shapeOf(pooled, w.notation).threeForm(m.near()); ok {
			r.takenFrom(f, m.name, "times as "+form)
		}
	}
	if !ok {
		v, _ := colonTime(s.three[0], "h:mm:ss")
		r.askIn(f, m.name, s.three[0], fmt.Sprintf("to be told what the parts are: --times h:mm:ss makes it %g s, --times m:ss:hh (with hundredths) %g s, --times m:ss (hours and minutes were typed for minutes and seconds) %.6g s (in a study file: times)%s",
			v, hundredths(s.three[0]), v/60, clockHint(s.three)))
	}
	if len(s.three) > 0 {
		w.form = form
	} else {
		m.doubtColon(r, f)
	}
	m.settleHours(r, f)
}

// plainlyBySaidUnit is milliseconds, minutes or hours where a file's times are that beyond doubt: their name says so,
// and as seconds half of them would be above an hour, or below twenty seconds (five, of hours) with decimals that no
// minutes and seconds have; blank else.
func (m *measureReader) plainlyBySaidUnit(f int) string {
	unit := m.unitSaid()
	if unit == "" || unit == "seconds" {
		return ""
	}
	var vs []float64
	parts := false // some are parts of a minute, and not seconds behind a point
	for _, c := range m.cells {
		v, ok := m.ways[f].number(c.text)
		if c.kind != grid.Written {
			v, ok = grid.ParseNumber(c.text, false)
		}
		if !ok || c.source != f {
			continue
		}
		vs = append(vs, v)
		if _, decimals, cut := strings.Cut(strings.Replace(c.text, ",", ".", 1), "."); cut && (len(decimals) > 2 || decimals != "" && decimals[0] >= '6') {
			parts = true
		}
	}
	if len(vs) == 0 {
		return ""
	}
	slices.Sort(vs)
	middle, high, near := vs[len(vs)/2], vs[len(vs)-1], m.near()
	switch {
	case unit == "milliseconds" && middle > 3600 && (near == 0 || middle > 20*near && middle/1000 <= 5*near),
		unit == "minutes" && parts && middle < 20 && (near == 0 || middle <= near/20 && 60*high <= 1.5*near),
		unit == "hours" && parts && middle < 5 && high < 24 && (near == 0 || middle <= near/1000 && 3600*high <= 1.5*near):
		return unit
	}
	return ""
}

// doubtColon asks where all times of a file have two parts that would be hours and minutes just as
// well: far below the limit as minutes and seconds, near it as hours and minutes.
func (m *measureReader) doubtColon(r *logReader, f int) {
	var vs []float64
	text := ""
	for _, c := range m.cells {
		if c.source != f {
			continue
		}
		p := twoParts.FindStringSubmatch(c.text)
		if c.kind != grid.Written || p == nil || p[3] != "" {
			return
		}
		v, _ := colonTime(c.text, "m:ss")
		vs, text = append(vs, v), c.text
	}
	near := m.near()
	if len(vs) > 0 && near == 0 && m.called(hoursName.MatchString) {
		v, _ := colonTime(text, "m:ss")
		r.askIn(f, m.name, text, fmt.Sprintf("to be told whether these are hours and minutes, as its name says (--times h:mm:ss, %.4g s), or minutes and seconds (--times m:ss, %.4g s) (in a study file: times)", v*60, v))
	}
	if len(vs) == 0 || near == 0 {
		return
	}
	slices.Sort(vs)
	if middle := vs[len(vs)/2]; middle < near/20 && middle*60 >= near/10 && (m.limit > 0 && vs[len(vs)-1]*60 <= 1.2*near || m.limit == 0 && middle*60 <= 4*near) {
		v, _ := colonTime(text, "m:ss")
		r.askIn(f, m.name, text, fmt.Sprintf("to be told whether these are minutes and seconds (--times m:ss, %.4g s), far below %g s, or hours and minutes (--times h:mm:ss, %.4g s) (in a study file: times)", v, near, v*60))
	}
}

// clockHint is what to do where all times of three parts lie within the day, as times of day do.
func clockHint(texts []string) string {
	for _, s := range texts {
		if v, ok := colonTime(s, "h:mm:ss"); !ok || v < 5*3600 || v >= 23*3600 {
			return ""
		}
	}
	return "; where they are times of day, put how long each attempt took into the table"
}

var (
	// hoursName and secondsName are columns whose names say how times are written.
	hoursName   = regexp.MustCompile(`(?i)\bh{1,2}:m{1,2}\b[^:s]*$`)
	secondsName = regexp.MustCompile(`(?i)\bm{1,2}[:.]s{1,2}\b`)
)

func hundredths(s string) float64 {
	v, _ := colonTime(s, "m:ss:hh")
	return v
}

// settleHours decides whether cells of a file that a spreadsheet shows as hours and minutes
// were typed as minutes and seconds.
func (m *measureReader) settleHours(r *logReader, f int) {
	if m.doubtDays(r, f) {
		return
	}
	var vs []float64
	text := ""
	for _, c := range m.cells {
		if c.kind == grid.HourSpan && c.source == f {
			v, _ := grid.ParseNumber(c.text, false)
			vs, text = append(vs, v), c.text
		}
	}
	if len(vs) == 0 {
		return
	}
	slices.Sort(vs)
	near, middle := m.near(), vs[len(vs)/2]
	v := grid.Number(text)
	switch {
	case near > 0 && middle <= 1.2*near:
	case near > 0 && middle/60 <= 1.2*near && vs[len(vs)-1]/60 <= 5*near:
		m.ways[f].hours = true
		r.note("hours-as-minutes", fmt.Sprintf("%s: column %s has %d different times that the spreadsheet holds as hours and minutes; near %g s they can only be minutes and seconds, and are read so (%s for %g s); say --times h:mm:ss where they are hours", r.files[f].file, m.name, len(vs), near, clockText(v), v/60))
	default:
		r.askIn(f, m.name, clockText(v), fmt.Sprintf("to be told whether these are hours and minutes (--times h:mm:ss, %g s) or were typed as minutes and seconds (--times m:ss, %g s) (in a study file: times)", v, v/60))
	}
}

// doubtDays asks about cells that a spreadsheet shows as hours and that hold days: numbers of seconds were
// typed into them.
func (m *measureReader) doubtDays(r *logReader, f int) bool {
	var days []writtenCell
	for _, c := range m.cells {
		if v, _ := grid.ParseNumber(c.text, false); c.source == f && (c.kind == grid.Span || c.kind == grid.HourSpan) && v >= grid.SecondsInDay {
			days = append(days, c)
		}
	}
	if len(days) == 0 {
		return false
	}
	v, _ := grid.ParseNumber(days[0].text, false)
	r.askIn(f, m.name, grid.FormatNumber(v/grid.SecondsInDay), fmt.Sprintf("one way of writing times: the spreadsheet shows these cells as hours, and %d different ones hold days (the first in line %d); where seconds were typed into them give them the format of a number, or write 0:01:30 for 90", len(days), r.table.line(days[0].row)))
	return true
}

// clockText shows seconds as hours and minutes.
func clockText(seconds float64) string {
	return fmt.Sprintf("%d:%02d", int(seconds)/3600, int(seconds)/60%60)
}

// checked holds a value against the range of its measure.
func (m *measureReader) checked(r *logReader, c writtenCell, v float64) cellReading {
	bad := func(expect string) cellReading {
		r.badCell(m, c, expect, problem.ErrRange)
		return cellReading{state: isBad}
	}
	switch {
	case m.kind == Time && v >= 1e9:
		return bad(ranges.Duration.String() + "; a number as large as this may be a moment, counted from 1970: put how long the attempt took into the table")
	case m.kind == Time && v == 0:
		return bad(ranges.Duration.String() + fmt.Sprintf("; where it stands for an attempt that was not finished, or for nothing, say --code %s=failed, timeout, void or blank (in a study file: codes)", c.text))
	case m.kind == Time && v < 0 && (c.kind == grid.Span || c.kind == grid.HourSpan):
		return bad(ranges.Duration.String() + "; where it is an end less a start, the end is before the start, as 1:01 is before 12:59: write both times with 24 hours")
	case m.kind == Time && v < 0:
		return bad(ranges.Duration.String() + fmt.Sprintf("; where the minus marks an attempt that failed, write how it ended into a column of its own and name it with --outcome, and where it is a code say --code %s=failed, timeout, void or blank (in a study file: columns: outcome, codes)", c.text))
	case m.kind == Time && ranges.Duration.Check(v) != nil:
		return bad(ranges.Duration.String())
	case m.kind == Count && ranges.Errors.Check(v) != nil:
		return bad(ranges.Errors.String())
	case ranges.Response.Check(v) != nil:
		return bad(ranges.Response.String())
	case m.kind == PassFail && v != 0 && v != 1:
		return bad(fmt.Sprintf("1 for a pass or 0; where it says that nothing is known, --code %s=blank (in a study file: codes)", c.text))
	}
	return cellReading{value: v, state: isNumber}
}

// doubts looks at the cells of a measure together, and asks where they could be in
// another unit, or of two kinds.
func (m *measureReader) doubts(r *logReader) {
	if m.missing > 0 {
		r.note("missing-words", fmt.Sprintf("%s: column %s has %d cells with a word for nothing, such as NA; they are blank", r.file, m.name, m.missing))
	}
	numbers := 0
	for _, c := range m.cells {
		if m.readings[c.id].state == isNumber {
			numbers += c.count
		}
	}
	if m.percents > 0 && m.percents < numbers {
		r.ask(m.name, "", fmt.Sprintf("one kind of number: %d cells are percentages and %d are not; write all alike, such as 85 or 85%% in every row", m.percents, numbers-m.percents))
	} else if m.percents > 0 {
		r.note("percentages", fmt.Sprintf("%s: column %s holds percentages, read as shown: 85 for 85 %%", r.file, m.name))
	}
	m.doubtTicks(r)
	if m.kind != Time || numbers == 0 {
		return
	}
	before := len(r.problems)
	for f := range r.files {
		if m.ways[f].form == "" {
			before := len(r.problems)
			if m.doubtUnit(r, f); len(r.problems) == before {
				m.doubtBeside(r, f)
			}
		}
	}
	if len(r.files) == 1 || len(r.problems) > before {
		return
	}
	if vs, least := m.bareNumbers(func(c writtenCell) bool { return m.wayOf(c).form == "" }); len(vs) > 0 {
		m.doubtMixture(r, least, vs)
	}
}

// onesAlone are counts that may be ticks: 111 for three.
var onesAlone = pattern.New(`^1+$`)

// doubtTicks asks about counts of which every one is written with ones alone.
func (m *measureReader) doubtTicks(r *logReader) {
	long := writtenCell{}
	if m.kind != Count {
		return
	}
	for _, c := range m.cells {
		switch got := m.readings[c.id]; {
		case got.state == isBlank, got.value == 0 && got.state == isNumber:
		case got.state != isNumber || !onesAlone.MatchString(c.text) || r.study.Codes[c.text] == asValue:
			return
		case len(c.text) > len(long.text):
			long = c
		}
	}
	if len(long.text) >= 3 {
		r.ask(m.name, long.text, fmt.Sprintf("to be told what it means, since all counts are written with ones alone, as ticks are: write the number of ticks, or say --code %s=value where it is a number (in a study file: codes)", long.text))
	}
}

// bareNumbers are the values of some cells of a file whose times have no form, those that have
// neither unit nor colon, in order, with the cell of the smallest.
func (m *measureReader) bareNumbers(of func(writtenCell) bool) (vs []float64, least writtenCell) {
	low := math.Inf(1)
	for _, c := range m.cells {
		got := m.readings[c.id]
		if got.state != isNumber || !got.bare || !of(c) {
			continue
		}
		if got.value < low {
			low, least = got.value, c
		}
		vs = append(vs, got.value)
	}
	slices.Sort(vs)
	return vs, least
}

var twoDecimals = pattern.New(`^\d{1,2}[.,][0-5]\d$`)

// unitSaid is the unit that the name of the measure ends in, or that of its columns; blank for none.
func (m *measureReader) unitSaid() string { return cmp.Or(headUnit(m.name), headUnit(m.heads)) }

// doubtUnit asks where plain numbers of a file may not be seconds.
func (m *measureReader) doubtUnit(r *logReader, f int) {
	vs, least := m.bareNumbers(func(c writtenCell) bool { return c.source == f })
	if len(vs) == 0 {
		return
	}
	near, middle, high := m.near(), vs[len(vs)/2], vs[len(vs)-1]
	unit := m.unitSaid()
	ask := func(why string, forms ...string) {
		for i, f := range forms {
			forms[i] = "--times " + f
		}
		r.askIn(f, m.name, least.text, fmt.Sprintf("to be told the unit, since %s: %s (in a study file: times)", why, strings.Join(forms, ", ")))
	}
	switch {
	case unit != "" && unit != "seconds":
		if forms := []string{unit, "m.ss", "seconds"}; unit == "minutes" && m.mayBeMinutesAndSeconds(f) {
			ask("its name says minutes, and none has decimals above 59, as minutes and seconds have none", forms...)
			return
		}
		ask("its name says "+unit, unit, "seconds")
	case m.called(secondsName.MatchString) && middle < 60:
		ask("its name says minutes and seconds", "m.ss", "minutes", "seconds")
	case high < 0.05 && len(vs) > 1 || near > 0 && high < 0.05:
		ask("an attempt of less than a twentieth of a second is none, and a spreadsheet holds times as parts of a day", "days", "seconds")
	case m.limit > 0 && high*60 <= 1.05*m.limit && middle*60 >= m.limit/30,
		m.limit == 0 && near > 0 && middle <= near/20 && middle*60 >= near/4:
		ask(fmt.Sprintf("all are far below %g and 60 times them are near it", near), "minutes", "m.ss", "seconds")
	case near > 0 && middle > 20*near && middle/1000 <= 5*near && middle/1000 >= near/20 && middle/60 > 2*near:
		ask(fmt.Sprintf("most are far above %g", near), "milliseconds", "seconds")
	case m.limit == 0 && near > 0 && middle > 12*near && middle/60 <= 5*near:
		ask(fmt.Sprintf("most are far above %g and a sixtieth of them is near it; minutes:seconds may have been read as hours:minutes", near), "minutes", "seconds")
	case len(vs) >= 6 && m.looksLikeMinutes(f):
		ask("every one has two decimals below 60, as minutes and seconds have", "m.ss", "seconds")
	default:
		m.doubtMixture(r, least, vs)
	}
}

// mayBeMinutesAndSeconds reports whether all plain numbers of a file have at most two decimals,
// below 60.
func (m *measureReader) mayBeMinutesAndSeconds(f int) bool {
	cells := slices.DeleteFunc(slices.Clone(m.cells), func(c writtenCell) bool {
		return c.source != f || m.readings[c.id].state != isNumber
	})
	return len(cells) >= 8 && m.mostTwo(cells) && !slices.ContainsFunc(cells, func(c writtenCell) bool { return !oneOrTwoDecimals.MatchString(c.text) })
}

// looksLikeMinutes reports whether all plain numbers of a file have two decimals below 60.
func (m *measureReader) looksLikeMinutes(f int) bool {
	n := 0
	for _, c := range m.cells {
		if c.source != f || m.readings[c.id].state != isNumber {
			continue
		}
		if c.kind != grid.Written || !twoDecimals.MatchString(c.text) {
			return false
		}
		n++
	}
	return n >= 8
}

// unitGap is how many times the largest of times in a smaller unit the smallest of the others
// is at least.
const unitGap = 4

// doubtMixture asks where some times may be minutes among seconds.
func (m *measureReader) doubtMixture(r *logReader, least writtenCell, vs []float64) {
	m.doubtLarge(r, least, vs)
	small, middle := 0, vs[len(vs)/2]
	for small < len(vs) && vs[small] < middle/15 {
		small++
	}
	if small == 0 || small > len(vs)/2 {
		return
	}
	rest := vs[small:]
	if rest[0] < unitGap*vs[small-1] {
		return // one is as far below the next as any: practice makes times fall, units leave a gap
	}
	for _, v := range vs[:small] {
		if 60*v < rest[0]/2 || 60*v > 1.5*rest[len(rest)-1] {
			return
		}
	}
	r.askIn(least.source, m.name, grid.FormatNumber(vs[0]), fmt.Sprintf("one unit in the column: %d different cells are more than 15 times below the others (the lowest in line %s), and may be minutes among seconds; write 1.5 min, or say --times seconds (in a study file: times) where they are seconds", small, r.lines([]spot{r.spotOf(least.row)})))
}

// doubtLarge asks where some times may be milliseconds among seconds, or seconds among minutes.
func (m *measureReader) doubtLarge(r *logReader, least writtenCell, vs []float64) {
	few := len(vs)
	for few > 0 && vs[few-1] > 15*vs[len(vs)/2] {
		few--
	}
	large := slices.DeleteFunc(slices.Clone(vs[few:]), func(v float64) bool { return slices.Contains(sentinels, v) })
	if len(large) < 2 || large[0] < unitGap*vs[few-1] {
		return
	}
	for _, unit := range []struct {
		factor float64
		what   string
	}{{1000, "milliseconds among seconds; write 1.5 s"}, {60, "seconds among minutes; write 90 s"}} {
		if large[0]/unit.factor >= vs[0]/2 && large[len(large)-1]/unit.factor <= 1.5*vs[few-1] {
			r.askIn(least.source, m.name, grid.FormatNumber(large[0]), fmt.Sprintf("one unit in the column: %d different cells are more than 15 times above the others, and may be %s, or say --times seconds (in a study file: times) where all are seconds", len(large), unit.what))
			return
		}
	}
}

// doubtBeside asks where a file has times with colons and numbers far below all of them, which
// may be minutes and seconds with a point between.
func (m *measureReader) doubtBeside(r *logReader, f int) {
	plain, least := m.bareNumbers(func(c writtenCell) bool { return c.source == f })
	low, high := math.Inf(1), 0.0
	for _, c := range m.cells {
		if got := m.readings[c.id]; c.source == f && got.state == isNumber && strings.Contains(c.text, ":") {
			low, high = min(low, got.value), max(high, got.value)
		}
	}
	if len(plain) == 0 || math.IsInf(low, 0) || plain[len(plain)-1] >= low/8 {
		return
	}
	if 60*plain[0] >= low/2 && 60*plain[len(plain)-1] <= 1.5*high {
		r.askIn(f, m.name, least.text, fmt.Sprintf("one way to write times: %d different numbers without a colon are far below all times with one; say --times m.ss where 1.23 is 1 min 23 s, --times minutes where it is minutes, or --times seconds (in a study file: times)", len(plain)))
	}
}

var headUnitText = pattern.New(`(?i)(?:^|[\s_.(\[/,（-])(ms|msec|milliseconds?|millisekund(?:en|er|y)?|milisegundos|millisecondes|millisecondi|miliseconden|milisekundy|мс|毫秒|` +
	`min|mins|minutes?|minut(?:en|er|ter|os|i|y|a|ů)?|minuuttia|perc|dk|dakika|мин|минут[аы]?|хвилин[аи]?|λεπτά|分|分钟|分鐘|` +
	`h|hrs?|hours?|std|stunden|` +
	`s|secs?|seconds?|sek|sekund(?:en|er|y|a|i)?|segundos|secondes|secondi|seconden|sekuntia|másodperc|mp|sn|saniye|сек|секунд[аы]?|δευτερόλεπτα|δευτ|秒|` +
	`mm:ss|m:ss)[\])）]?\.?$`)

// headUnit is the unit of time that a column's name ends in; blank for none.
func headUnit(name string) string {
	found := headUnitText.FindStringSubmatch(name)
	if found == nil {
		return ""
	}
	u := strings.ToLower(found[1])
	begins := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(u, w) })
	}
	switch {
	case begins("ms", "mil", "мс", "毫"):
		return "milliseconds"
	case begins("min", "perc", "dk", "dak", "мин", "хв", "λεπ", "分"):
		return "minutes"
	case begins("h", "st"):
		return "hours"
	}
	return "seconds"
}

// sentinels are numbers that people write for something else.
var sentinels = []float64{-1, -8, -9, -99, -999, 99, 99.9, 888, 999, 999.9, 9999, 99999}

// doubtSentinels asks about numbers that look like a code, among the attempts that were
// done.
func (m *measureReader) doubtSentinels(r *logReader, done []bool) {
	largest, least := math.Inf(-1), math.Inf(1)
	for _, c := range m.cells {
		if v := m.readings[c.id].value; m.readings[c.id].state == isNumber && done[c.id] && !slices.Contains(sentinels, v) {
			largest, least = math.Max(largest, v), math.Min(least, v)
		}
	}
	if math.IsInf(largest, 0) {
		return
	}
	for _, c := range m.cells {
		got := m.readings[c.id]
		if got.state != isNumber || !done[c.id] || !slices.Contains(sentinels, got.value) || r.study.Codes[c.text] == asValue {
			continue
		}
		times := 2.0
		if m.kind == Count {
			times = 4
		}
		if got.value < 0 && least >= 0 || got.value > math.Max(times*largest, m.limit) && got.value >= 99 {
			r.ask(m.name, c.text, fmt.Sprintf("to be told what it means in %d cells: --code %s=timeout, failed, void or blank, or --code %s=value where it is a number (in a study file: codes)", c.count, c.text, c.text))
		}
	}
}

// doubtMeasure asks for a measure that was not said and does not look like a score: of a
// score more is better, of a time less.
func (m *measureReader) doubtMeasure(r *logReader) {
	if r.study.measureSaid && r.study.single && !r.study.betterSaid && m.kind == Score && (m.called(penaltyName.MatchString) || m.called(looksLikeErrors)) {
		r.ask(m.name, "", "to be told which way is better, since of a score more is, and the name says otherwise: --better lower, or --better higher (in a study file: better)")
	}
	m.doubtHeads(r)
	if r.study.measureSaid || !r.study.single || m.kind != Score {
		return
	}
	var zeros, ones, others int
	for _, c := range m.cells {
		switch got := m.readings[c.id]; {
		case got.state != isNumber:
		case got.value == 0:
			zeros += c.count
		case got.value == 1:
			ones += c.count
		default:
			others++
		}
	}
	if others == 0 && zeros > 0 && ones > 0 {
		r.ask(m.name, "", "to be told the measure, since it holds only 0 and 1: --measure pass-fail where 1 is a pass, --measure score where it is a score")
		return
	}
	if looksLikeTime(m.name) {
		r.ask(m.name, "", "to be told the measure, since its name is that of a time: --measure time, or --measure score where more is better")
	} else if looksLikeErrors(m.name) {
		r.ask(m.name, "", "to be told the measure, since its name is that of errors: --measure count, or --measure score where more is better")
	}
}

// doubtHeads asks where the measure has no name of its own, and the columns beside each other have that of another.
func (m *measureReader) doubtHeads(r *logReader) {
	time, errors := looksLikeTime(m.heads), looksLikeErrors(m.heads)
	if !r.study.single || r.study.responseSaid || time == errors || m.kind == Time && time || m.kind == Count && errors {
		return
	}
	other := "--measure time"
	if errors {
		other = "--measure count"
	}
	r.ask("", m.heads, fmt.Sprintf("to be told what these columns hold, since their name is not that of a %s: %s, or --response %q where they hold one", m.kind, other, m.heads))
}

// doubtBlankCounts notes counts of which some are blank and none is 0, though they go down to 2 or 1: a blank may
// stand for none, which is the best that an attempt can be.
func (m *measureReader) doubtBlankCounts(r *logReader) {
	if m.kind != Count {
		return
	}
	low := math.Inf(1)
	for _, c := range m.cells {
		if got := m.readings[c.id]; got.state == isNumber {
			low = math.Min(low, got.value)
		}
	}
	blanks := 0
	for i := range r.table.keep {
		for _, j := range m.columns {
			if r.table.cell(i, j) == 0 {
				blanks++
			}
		}
	}
	if blanks > 0 && low > 0 && low <= 2 {
		r.note("blank-or-none", fmt.Sprintf("%s: %d cells of %s are blank and none holds a 0; a blank is read as an attempt that was not made or not counted: write 0 where it means none", r.file, blanks, m.name))
	}
}

// penaltyName are scores of which less is better.
var penaltyName = regexp.MustCompile(`(?i)(penalt|demerit|deduction|straf|abzug|abzüge|minuspunkte|pénalit|malus|penaliza|penalidad|penalità|strafpunt)`)

var (
	timeName  = regexp.MustCompile(`(?i)(^|[^a-z])(times?|secs?|seconds?|durations?|minutes?|mins?|ms|elapsed|zeit(en)?|dauer|sek(unden)?|minuten|temps|durée|duree|secondes|tiempos?|duraci[oó]n|segundos|minutos|tempo|tijd|tid|czas|durata)([^a-z]|$)`)
	errorName = regexp.MustCompile(`(?i)(errors?|mistakes?|punctures|faults?|redirections|fehler|erreurs?|fautes?|errore[s]?|fallos|fouten)`)
)

// nameOf says of some measures whether a name is that of one.
var nameOf = map[Measure]func(string) bool{Time: looksLikeTime, Count: looksLikeErrors}

func looksLikeTime(name string) bool   { return timeName.MatchString(name) }
func looksLikeErrors(name string) bool { return errorName.MatchString(name) }

// doubtClock asks where times look like the time of day at which attempts were made: from
// six to ten o'clock at night, later with every attempt of everybody.
func (m *measureReader) doubtClock(r *logReader, log *Log, j int) {
	said := slices.ContainsFunc(m.ways, func(w way) bool { return w.form != "" })
	if m.kind != Time || said || m.near() > 0 || len(m.cells) < 5 {
		return
	}
	for _, c := range m.cells {
		v := m.readings[c.id].value
		if p := twoParts.FindStringSubmatch(c.text); c.kind != grid.Written || p == nil || p[3] != "" || v < 6*60 || v >= 22*60 {
			return
		}
	}
	last, longest := map[traineeTask]float64{}, map[traineeTask]int{}
	for _, a := range log.byNumber() {
		k := traineeTask{a.Trainee, a.Task}
		if log.Values(a)[j] < last[k] {
			return
		}
		last[k] = log.Values(a)[j]
		longest[k]++
	}
	for _, n := range longest {
		if n >= 3 {
			r.ask(m.name, m.cells[0].text, "to be told whether this is how long an attempt took (--times m:ss); each is later than the one before, as the time of day is: put how long attempts took into the table")
			return
		}
	}
}
