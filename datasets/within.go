package datasets

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// within looks at columns that nothing uses and that say one thing of every trainee, or of nearly
// every one, and at those that say in turn different things of all.
func (r *logReader) within() {
	t := r.table
	who := t.column(r.cols.Trainee)
	for _, name := range r.unused() {
		if !slices.Contains(r.layout.Ignore, name) {
			defer r.rareWords(name, r.distinct(t.column(name)))
		}
	}
	if r.isWide || r.cols.Trainee == "" || who < 0 || t.rows() < 6 {
		return
	}
	for _, name := range r.unused() {
		j := t.column(name)
		cells := r.distinct(j)
		if slices.Contains(r.layout.Ignore, name) || slices.ContainsFunc(cells, func(c writtenCell) bool { return c.kind == broken }) {
			continue
		}
		if len(cells) == 0 || len(cells) == 1 && some(cells) == t.rows() || len(cells) > mostCompared || 10*some(cells) < 9*t.rows() && len(cells) > mostLevels {
			continue
		}
		r.notOfOne(name, who, j)
		r.marksInTurn(name, who, j, cells)
	}
}

// notOfOne notes a column that says one thing of most trainees and two of a few: two people may have one
// code, or rows stand under another's.
func (r *logReader) notOfOne(name string, who, j int) {
	t := r.table
	if 10*some(r.distinct(j)) < 9*t.rows() {
		return
	}
	said, n, differs := map[cellID]cellID{}, map[cellID]int{}, map[cellID]int{}
	var codes []cellID
	for i := range min(t.rows(), mostCompared) {
		p, c := t.cell(i, who), t.cell(i, j)
		if c == 0 {
			continue
		}
		if n[p]++; n[p] == 1 {
			said[p], codes = c, append(codes, p)
		} else if said[p] != c && differs[p] == 0 {
			differs[p] = i + 1
		}
	}
	several, odd, line := 0, []string{}, 0
	for _, p := range codes {
		if n[p] < 2 {
			continue
		}
		several++
		if differs[p] > 0 {
			odd, line = append(odd, t.textOf(p)), first2(line, t.line(differs[p]-1))
		}
	}
	if len(odd) > 0 && several >= 4 && 4*len(odd) <= several && !r.notedCodeOf("column-varies", name) {
		r.note("differs-for-some", fmt.Sprintf("%s: column %s, which is not read, says one thing of each trainee but not of %s (line %d); where two people have one code, or an attempt stands under another's, put that right; else say --ignore %q", r.file, name, clipList(odd, mostNamed), line, name))
	}
}

// notedCodeOf reports whether a note of this code names a column.
func (r *logReader) notedCodeOf(code, name string) bool {
	return slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == code && strings.Contains(n.Text, "column "+name+" ") }) ||
		slices.ContainsFunc(r.problems, func(p Problem) bool { return p.Column == name })
}

// marksInTurn notes a column that tells attempts of one trainee apart: two to twelve things, each said as
// often of every trainee, as tasks, hands and phases are; or a short mark in some rows.
func (r *logReader) marksInTurn(name string, who, j int, cells []writtenCell) {
	t := r.table
	if len(cells) > mostLevels || sessionName.MatchString(name) || !r.variesWithin(name) || r.anyNoteOn(name) || looksLikeErrors(name) {
		return
	}
	filled := some(cells)
	if filled < t.rows() {
		// a mark: short, without digits, said again and again in a minority of rows
		for _, c := range cells {
			if len([]rune(c.text)) > 12 || strings.ContainsAny(c.text, " 0123456789") {
				return
			}
		}
		if len(cells) <= 3 && 2*filled <= t.rows() {
			r.sayVaries(name, cells)
		}
		return
	}
	if slices.ContainsFunc(cells, func(c writtenCell) bool { _, _, ok := momentOf(c.text); return ok }) {
		return
	}
	if few := min(cells[0].count, cells[len(cells)-1].count); len(cells) == 2 && 5*few <= t.rows() {
		r.sayVaries(name, cells)
		return
	}
	counts := map[cellID]map[cellID]int{}
	for i := range min(t.rows(), mostCompared) {
		p := t.cell(i, who)
		if counts[p] == nil {
			counts[p] = map[cellID]int{}
		}
		counts[p][t.cell(i, j)]++
	}
	if len(counts) < 3 {
		return
	}
	var first map[cellID]int
	for _, c := range counts {
		if first == nil {
			first = c
		}
		if len(c) != len(cells) {
			return
		}
		for id, n := range c {
			if first[id] != n || n < 2 {
				return
			}
		}
	}
	r.sayVaries(name, cells)
}

// anyNoteOn reports whether anything was said of a column already.
func (r *logReader) anyNoteOn(name string) bool {
	return slices.ContainsFunc(r.notes, func(n Note) bool {
		return n.Code != "read" && (strings.Contains(n.Text, "column "+name+" ") || strings.Contains(n.Text, "column "+name+","))
	}) || slices.ContainsFunc(r.problems, func(p Problem) bool { return p.Column == name })
}

func (r *logReader) sayVaries(name string, cells []writtenCell) {
	r.note("column-varies", fmt.Sprintf("%s: column %s (%s) is not read and differs between attempts of one trainee; where they are of different tasks, devices or conditions choose rows with --where %q (in a study file: where); else --ignore %q", r.file, name, clipList(textsOf(cells), 4), name+"="+cells[0].text, name))
}

// unreadDates notes attempts that run against the dates in a column that nothing uses.
func (r *logReader) unreadDates(log *Log) {
	t := r.table
	if r.isWide || r.cols.Trainee == "" || r.cols.Date != "" || r.cols.Attempt == "" || len(log.Attempts) != t.rows() {
		return
	}
	for _, name := range r.unused() {
		j := t.column(name)
		cells := r.distinct(j)
		if slices.Contains(r.layout.Ignore, name) || len(cells) < 2 || len(r.files) > 1 {
			continue
		}
		order := first(r.said(0).Dates, orderOf(textsOf(cells)))
		before := r.dateOrders
		r.dateOrders = []string{order}
		dates := map[cellID]string{}
		for _, c := range cells {
			if _, number := parseNumber(c.text, false); number && c.kind != day {
				break
			}
			d, ok := r.dateOf(0, c.text)
			if !ok {
				break
			}
			if day, clock, seconds, iso := isoParts(c.text); iso {
				d = day + " " + twoDigitHour(clock) + ":" + first(seconds, "00")
			}
			dates[c.id] = d
		}
		r.dateOrders = before
		if len(dates) == len(cells) {
			r.againstDates(log, name, j, dates)
		}
	}
}

// againstDates counts the attempts of trainees that are dated before those with a smaller number.
func (r *logReader) againstDates(log *Log, name string, j int, dates map[cellID]string) {
	back, people := 0, []string{}
	line := 0
	for g := range r.series.groups() {
		rows := slices.Clone(r.series.of(g))
		slices.SortStableFunc(rows, func(a, b int32) int { return compareFloats(log.Attempts[a].Number, log.Attempts[b].Number) })
		was := back
		for n := 1; n < len(rows); n++ {
			from, to := dates[r.table.cell(int(rows[n-1]), j)], dates[r.table.cell(int(rows[n]), j)]
			if from != "" && to != "" && runsBack(from, to) {
				back++
				line = first2(line, r.table.line(int(rows[n])))
			}
		}
		if back > was {
			people = append(people, r.placed.trainees[r.series.trainee[g]])
		}
	}
	if back > 0 {
		r.note("unread-dates-against", fmt.Sprintf("%s: column %s, which is not read, holds dates, and %d attempts (of %s, the first in line %d) are dated before attempts with smaller numbers; say --date %s without --attempt to number them by date, or --ignore %q (in a study file: columns: date, ignore)", r.file, name, back, clipList(people, mostNamed), line, name, name))
	}
}

// rareWords notes a column with words in few rows: it says something of these attempts that it does not
// say of others, in whatever language.
func (r *logReader) rareWords(name string, cells []writtenCell) {
	rows := r.table.rows()
	filled := some(cells)
	if filled == 0 || rows < 6 || 3*filled > rows || slices.Contains(r.remarked, name) || r.anyNoteOn(name) || r.isWide && r.log.ColumnsAre != "" {
		return
	}
	if slices.ContainsFunc(cells, func(c writtenCell) bool {
		return c.kind != written || !strings.ContainsFunc(c.text, unicode.IsLetter) || isDate(c.text)
	}) {
		return
	}
	r.note("said-of-some", fmt.Sprintf("%s: column %s is not read, and says something of %d of %d rows (%s, the first in line %d); where these do not count as others do, leave them out by --without or put how they ended into a column and name it with --outcome; else say --ignore %q", r.file, name, filled, rows, clip(clipList(textsOf(cells), 3)), r.table.line(cells[0].row), name))
}
