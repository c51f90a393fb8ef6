package datasets

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/practice"
	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
)

// A writtenCell is one distinct cell of a measure: how often it stands there, and where
// first.
type writtenCell struct {
	id    grid.Cell
	text  string
	kind  grid.Kind
	count int
	row   int // of the table

	source int // file in which it stands
}

// A cellReading is what a cell of a measure means.
type cellReading struct {
	value   float64
	outcome Outcome
	state   cellState
	bare    bool // written without a unit or a colon
}

type cellState uint8

const (
	isBlank  cellState = iota // no value
	isNumber                  // a value
	isCode                    // an outcome instead of a value
	isOver                    // above a value: >300
	isBad                     // reported
)

// A measureReader reads the cells of one measure, wherever in the table they stand: every
// distinct cell once.
type measureReader struct {
	name     string
	kind     Measure
	limit    float64
	standard float64 // 0 for none
	unit     string  // of a time, as the study file gives it; blank for none
	columns  []int
	heads    string // of a wide table: what the names of its columns are without their numbers; blank where they differ
	cells    []writtenCell
	ways     []way         // by file
	readings []cellReading // by cell
	exact    bool          // some times above the limit have decimals, so that no mark was lost
	missing  int           // cells with a word for nothing
	percents int
}

// A way is how one file writes a measure.
type way struct {
	notation
	form   string // what colons and plain numbers of times mean
	suffix string // what follows the numbers
	hours  bool   // h:mm cells are read as minutes and seconds
	bad    bool   // it could not be settled, and its cells are not read
}

// wayOf is how the file of a cell writes the measure.
func (m *measureReader) wayOf(c writtenCell) *way { return &m.ways[c.source] }

// missingWords stand for nothing in what data programs write.
var missingWords = []string{".", `\n`, "na", "n/a", "#n/a", "nan", "null", "none", "<na>", "n.a.", "missing"}

// passWords and failWords are passes and fails as words.
var (
	passWords = []string{"pass", "passed", "p", "yes", "true", "success", "✓", "✔", "☑", "bestanden", "ja", "réussi", "oui", "superado", "aprobado", "apto", "sí"}
	failWords = []string{"fail", "f", "no", "false", "✗", "✘", "☒", "nicht bestanden", "nein", "échoué", "non", "no superado", "suspenso", "no apto"}
)

// distinct lists the distinct cells of some columns; a text that stands in several files is
// one.
func (t *table) distinct(columns []int) []writtenCell {
	cells := t.distinctInFiles(columns)
	if len(t.sources) < 2 {
		return cells
	}
	type key struct {
		text string
		kind grid.Kind
	}
	at := map[key]int{}
	out := cells[:0]
	for _, c := range cells {
		k, seen := at[key{c.text, c.kind}]
		if !seen {
			at[key{c.text, c.kind}] = len(out)
			out = append(out, c)
			continue
		}
		out[k].count += c.count
	}
	return out
}

// distinctInFiles lists the distinct cells of some columns, file by file.
func (t *table) distinctInFiles(columns []int) []writtenCell {
	at, n := make([]int32, len(t.pool.Texts)), int32(0) // of each cell, from 1
	for _, j := range columns {
		for i := range t.keep {
			if id := t.cell(i, j); at[id] == 0 && id != 0 {
				n++
				at[id] = n
			}
		}
	}
	out := make([]writtenCell, n)
	for _, j := range columns {
		for i := range t.keep {
			id := t.cell(i, j)
			if id == 0 {
				continue
			}
			c := &out[at[id]-1]
			if c.count == 0 {
				*c = writtenCell{id: id, text: t.textOf(id), kind: t.kind(id), row: i, source: t.sourceOf(id)}
			}
			c.count++
		}
	}
	return out
}

// distinct lists the distinct cells of a column, which are listed once for as long as no row is
// left out; they are not changed.
func (r *logReader) distinct(j int) []writtenCell {
	if r.listedRows != r.table.rows() {
		r.listed, r.listedRows = map[int][]writtenCell{}, r.table.rows()
	}
	if _, known := r.listed[j]; !known {
		r.listed[j] = r.table.distinct([]int{j})
	}
	return r.listed[j]
}

// distinctInFiles lists the distinct cells of a column file by file.
func (r *logReader) distinctInFiles(j int) []writtenCell {
	if len(r.files) == 1 {
		return r.distinct(j)
	}
	return r.table.distinctInFiles([]int{j})
}

// votesOf are what all columns of numbers of a table show of their notation.
func (t *table) votesOf() votes { return t.votesIn(0, t.rows()) }

// votesIn are what some rows show.
func (t *table) votesIn(from, to int) votes {
	var all votes
	for j, name := range t.header {
		if name == "" {
			continue
		}
		var v votes
		numbers := 0
		for i := from; i < min(to, from+500); i++ {
			s := t.text(i, j)
			if s == "" || t.kind(t.cell(i, j)) != grid.Written {
				continue
			}
			if markedNumber.MatchString(s) || digits(s) || pointGroups.MatchString(s) || commaGroups.MatchString(s) {
				numbers++
				v.add(s)
			} else {
				numbers -= 3
			}
		}
		if numbers > 0 {
			all.point, all.comma = cmp.Or(all.point, v.point, v.commaGroups), cmp.Or(all.comma, v.comma, v.pointGroups)
		}
	}
	return all
}

var (
	overText = pattern.New(`^(?:>=?|≥)\s*(.+)$|^(\S+?)\s*\+$`)
	unitTail = pattern.New(`^([+-]?[\d.,:]+)\s*([\pL%][\pL.%/]*)$`)
)

// read settles what every cell of the measure means.
func (m *measureReader) read(r *logReader) {
	t := r.table
	if len(m.columns) == 1 {
		m.cells = r.distinctInFiles(m.columns[0])
	} else {
		m.cells = t.distinctInFiles(m.columns)
	}
	m.readings = make([]cellReading, len(t.pool.Texts))
	m.ways = make([]way, len(r.files))
	for s := range m.ways {
		said := r.said(s)
		m.ways[s].form, m.ways[s].suffix = said.Times, said.UnitSuffix
	}
	var open []writtenCell // cells whose text has to be read
	if len(r.layout.Same) > 0 {
		m.cells = slices.Clone(m.cells)
		for k, c := range m.cells {
			m.cells[k].text = r.sameAs(c.text)
		}
	}
	for _, c := range m.cells {
		if got, known := m.plain(r, c); known {
			m.readings[c.id] = got
		} else {
			open = append(open, c)
		}
	}
	texts := make([][]string, len(r.files))
	for k, c := range open {
		open[k].text = m.bare(c)
		if c.kind == grid.Written {
			texts[c.source] = append(texts[c.source], open[k].text)
		}
	}
	for s := range r.files {
		m.settleNotation(r, s, texts)
	}
	for s := range r.files {
		if m.kind == Time && !m.ways[s].bad {
			m.settleForm(r, s, texts)
		}
	}
	for _, c := range open {
		m.readings[c.id] = cellReading{state: isBad}
		if !m.wayOf(c).bad {
			m.readings[c.id] = m.parse(r, c)
		}
	}
	m.doubts(r)
}

// settleNotation settles how one file writes the numbers of the measure: as it shows, else as
// the files written like it do.
func (m *measureReader) settleNotation(r *logReader, s int, texts [][]string) {
	f, w := r.files[s], &m.ways[s]
	semicolons := f.read.Separator == "semicolon"
	n, err := notationOf(f.file, m.name, texts[s], f.votes, semicolons, r.said(s).Decimal)
	if err == nil {
		w.notation = n
		return
	}
	var pooled []string
	for _, k := range r.alike(s) {
		pooled = append(pooled, texts[k]...)
	}
	if n, other := notationOf(f.file, m.name, pooled, f.votes, semicolons, ""); other == nil && len(pooled) > len(texts[s]) {
		w.notation = n
		r.takenFrom(s, m.name, "the decimal "+n.decimal)
		return
	}
	if m.pointByLimit(texts[s]) && r.said(s).Times == "" {
		w.notation = notation{"point", true}
		r.note("decimal-from-limit", fmt.Sprintf("%s: column %s is read with a decimal point, since with it times are near the limit of %g s, and else they are thousands of times as long; say --decimal where that is wrong (in a study file: decimal)", f.file, m.name, m.limit))
		return
	}
	w.bad = true
	if len(r.files) > 1 {
		var p Problem
		if errors.As(err, &p) {
			p.Expect += r.aloneWay(s)
			err = p
		}
	}
	r.problems = problem.Append(r.problems, err)
}

// pointByLimit reports whether with a decimal point all times of a file are up to the limit and half of them near it,
// while with a decimal comma half are far beyond it. It is not asked the other way round: people set thousands apart
// with commas, while programs that write three decimals do so with a point.
func (m *measureReader) pointByLimit(texts []string) bool {
	if unit := m.unitSaid(); m.kind != Time || m.limit == 0 || len(texts) == 0 || unit != "" && unit != "seconds" {
		return false
	}
	read := func(mark string) (middle, high float64) {
		var vs []float64
		for _, s := range texts {
			v, ok := notation{mark, true}.number(s)
			if !ok {
				return math.NaN(), math.NaN()
			}
			vs = append(vs, v)
		}
		slices.Sort(vs)
		return vs[len(vs)/2], vs[len(vs)-1]
	}
	middle, high := read("point")
	far, _ := read("comma")
	return high <= 1.05*m.limit && middle >= m.limit/30 && far > 30*m.limit
}

// sameAs is the text that a cell of words is said to be the same as: b=1. Numbers stay, since
// they may be codes of trainees too.
func (r *logReader) sameAs(s string) string {
	same, ok := r.layout.Same[s]
	if _, isNumber := grid.ParseNumber(s, strings.Contains(s, ",")); !ok || isNumber {
		return s
	}
	return same
}

// bare is a text without the unit that is said to follow numbers.
func (m *measureReader) bare(c writtenCell) string {
	s, suffix := plainDigits(c.text), m.wayOf(c).suffix
	if suffix == "" {
		return s
	}
	return strings.TrimSpace(strings.TrimSuffix(s, suffix))
}

// plain reads cells whose meaning does not depend on others: codes, words for nothing,
// and what a spreadsheet says a cell is.
func (m *measureReader) plain(r *logReader, c writtenCell) (cellReading, bool) {
	if o, ok := r.code(c.text); ok {
		return cellReading{outcome: o, state: isCode}, true
	}
	lower := strings.ToLower(c.text)
	if r.study.Codes[c.text] == asBlank {
		return cellReading{}, true
	}
	if slices.Contains(missingWords, lower) && r.study.Codes[c.text] == "" {
		m.missing += c.count
		return cellReading{}, true
	}
	if o, ok := outcomeByName(c.text); ok && r.cols.Outcome == "" {
		return cellReading{outcome: o, state: isCode}, true
	}
	if m.kind == PassFail {
		switch {
		case slices.Contains(passWords, lower):
			return cellReading{value: 1, state: isNumber}, true
		case slices.Contains(failWords, lower):
			return cellReading{value: 0, state: isNumber}, true
		}
	}
	refuse := func(expect string, kind error) (cellReading, bool) {
		r.badCell(m, c, expect, kind)
		return cellReading{state: isBad}, true
	}
	switch c.kind {
	case grid.Uncalculated:
		return refuse("a value; the formula in this cell was never calculated: open the file in a spreadsheet program and save it", problem.ErrMissing)
	case grid.Broken:
		return refuse("a value; the formula in this cell gives an error", problem.ErrNotNumber)
	case grid.Day:
		return refuse("a measure; the cell holds a date", problem.ErrNotNumber)
	case grid.Clock:
		return refuse("a measure; the cell holds a time of day: put how long the attempt took into the table", problem.ErrNotNumber)
	case grid.Truth:
		return refuse("a number; the cell holds true or false", problem.ErrNotNumber)
	case grid.Percent:
		if m.kind == Time || m.kind == Count {
			return refuse("a number; the cell is a percentage", problem.ErrNotNumber)
		}
		m.percents += c.count
	case grid.Span, grid.HourSpan:
		if m.kind != Time {
			return refuse("a number; the cell holds a time: say --measure time where the measure is one", problem.ErrNotNumber)
		}
	}
	return cellReading{}, false
}

// parse reads a cell as a number or a time.
func (m *measureReader) parse(r *logReader, c writtenCell) cellReading {
	w := m.wayOf(c)
	if c.kind == grid.Span || c.kind == grid.HourSpan {
		v, _ := grid.ParseNumber(c.text, false)
		if w.form == "m:ss" || c.kind == grid.HourSpan && w.hours {
			v /= 60
		}
		return m.checked(r, c, v)
	}
	n := w.notation
	if c.kind != grid.Written {
		n = notation{"point", false}
	}
	v, bare := n.number(c.text)
	ok := bare
	switch {
	case m.kind == Time && bare:
		v, ok = plainSeconds(c.text, v, w.form)
	case m.kind == Time:
		v, ok = duration(c.text, n, w.form)
	}
	if ok {
		got := m.checked(r, c, v)
		got.bare = bare
		return got
	}
	if over := overText.FindStringSubmatch(c.text); over != nil && m.kind == Time {
		if v, ok := duration(cmp.Or(over[1], over[2]), n, w.form); ok && v > 0 {
			return cellReading{value: v, outcome: practice.Timeout, state: isOver}
		}
	}
	if m.kind == Score && strings.HasSuffix(c.text, "%") {
		if v, ok := n.number(strings.TrimSpace(strings.TrimSuffix(c.text, "%"))); ok {
			m.percents += c.count
			return m.checked(r, c, v)
		}
	}
	expect := "a number, or a code of the study's table"
	if m.kind == Time && dottedTime.MatchString(c.text) {
		expect += "; where it is minutes, seconds and a part of a second say --times m.ss (in a study file: times)"
	} else if m.kind == PassFail {
		expect = fmt.Sprintf("1 for a pass or 0; where it means one of them say --same %q or --same %q (in a study file: same), else --code %q=timeout|failed|void|blank (codes)", c.text+"=1", c.text+"=0", problem.Clip(c.text))
	} else if way := wayFor(c.text); way != "" {
		expect += fmt.Sprintf("; %s (or --code %q=timeout|failed|void|blank, in a study file: codes)", way, problem.Clip(c.text))
	} else if unit := unitTail.FindStringSubmatch(c.text); unit != nil && strings.HasPrefix(unit[2], "%") {
		expect += "; a percentage says how long an attempt took only with what it is a part of: put the time itself into the table, and where the mark is only a slip say --unit-suffix % (in a study file: unit_suffix)"
	} else if unit != nil {
		expect += fmt.Sprintf("; where %q is its unit say --unit-suffix %s (in a study file: unit_suffix)", unit[2], unit[2])
	} else {
		expect += fmt.Sprintf(" (--code %q=timeout|failed|void|blank, in a study file: codes)", problem.Clip(c.text))
	}
	r.badCell(m, c, expect, problem.ErrNotNumber)
	return cellReading{state: isBad}
}

// badCell reports every cell of the measure that reads like one of the distinct cells.
func (r *logReader) badCell(m *measureReader, c writtenCell, expect string, kind error) {
	for _, j := range m.columns {
		for i := range r.table.keep {
			if r.table.cell(i, j) == c.id {
				name := m.name
				if len(m.columns) > 1 && c.count < problem.ManyAlike {
					name = r.table.header[j]
				}
				text := c.text
				if c.kind == grid.Uncalculated {
					text = ""
				}
				r.badAt(i, name, text, expect, kind)
			}
		}
	}
}

// understood says in a few words how the measure's cells of a file were read.
func (m *measureReader) understood(s int) string {
	var out []string
	w := m.ways[s]
	switch {
	case m.kind == Time && w.form != "":
		out = append(out, "times as "+w.form)
	case m.kind == Time:
		out = append(out, "times in seconds, or with their unit")
	case m.kind == PassFail:
		out = append(out, "1 for a pass and 0")
	case m.kind == Count:
		out = append(out, "counts")
	default:
		out = append(out, "numbers")
	}
	if w.decimal != "" {
		out = append(out, "decimal "+w.decimal)
	}
	if w.groups && w.decimal != "" && m.grouped(s) {
		out = append(out, "thousands set apart")
	}
	if m.percents > 0 {
		out = append(out, "percentages as shown: 85 for 85 %")
	}
	return strings.Join(out, ", ")
}

// grouped reports whether any cell of a file has thousands set apart.
func (m *measureReader) grouped(s int) bool {
	return slices.ContainsFunc(m.cells, func(c writtenCell) bool {
		return c.source == s && (pointGroups.MatchString(c.text) || commaGroups.MatchString(c.text) || otherGroups.MatchString(c.text))
	})
}
