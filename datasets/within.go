package datasets

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
	"tyro/datasets/problem"
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
		if slices.Contains(r.layout.Ignore, name) || slices.ContainsFunc(cells, func(c writtenCell) bool { return c.kind == grid.Broken }) {
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
	said, n, differs := map[grid.Cell]grid.Cell{}, map[grid.Cell]int{}, map[grid.Cell]int{}
	var codes []grid.Cell
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
		r.note("differs-for-some", fmt.Sprintf("%s: column %s, which is not read, says one thing of each trainee but not of %s (line %d); where two people have one code, or an attempt stands under another's, put that right; else say --ignore %q", r.file, name, problem.List(odd, mostNamed), line, name))
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
	if len(cells) > mostLevels || countsSessions(name, cells) || lengthsOf(cells) || !r.variesWithin(name) || r.anyNoteOn(name) || looksLikeErrors(name) {
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
		if len(cells) <= 3 && 3*filled > t.rows() && 2*filled <= t.rows() || len(cells) == 1 && 5*(t.rows()-filled) <= t.rows() {
			r.sayVaries(name, cells)
		}
		return
	}
	if slices.ContainsFunc(cells, func(c writtenCell) bool {
		_, _, ok := momentOf(c.text)
		return ok || numberDate.MatchString(c.text) || c.kind == grid.Day
	}) {
		return
	}
	most := cells[0]
	for _, c := range cells {
		if c.count > most.count {
			most = c
		}
	}
	if v, ok := grid.ParseNumber(most.text, false); ok && len(cells) >= 2 && len(cells) <= 4 && 5*most.count >= 4*t.rows() && slices.ContainsFunc(cells, func(c writtenCell) bool {
		w, ok := grid.ParseNumber(c.text, false)
		return ok && w < v
	}) {
		r.sayVaries(name, cells)
		return
	}
	if few := min(cells[0].count, cells[len(cells)-1].count); len(cells) == 2 && 5*few <= t.rows() {
		r.sayVaries(name, cells)
		return
	}
	counts := map[grid.Cell]map[grid.Cell]int{}
	for i := range min(t.rows(), mostCompared) {
		p := t.cell(i, who)
		if counts[p] == nil {
			counts[p] = map[grid.Cell]int{}
		}
		counts[p][t.cell(i, j)]++
	}
	if len(counts) < 3 {
		return
	}
	if wordsAlone(cells) && !saysWhen(cells) {
		shared := 0
		for _, c := range cells {
			people := 0
			for _, said := range counts {
				if said[c.id] > 0 {
					people++
				}
			}
			if people >= 2 {
				shared++
			}
		}
		if 10*shared >= 9*len(cells) {
			r.sayVaries(name, cells)
			return
		}
	}
	var first map[grid.Cell]int
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
	r.note("column-varies", fmt.Sprintf("%s: column %s (%s) is not read and differs between attempts of one trainee; where they are of different tasks, devices or conditions choose rows with --where %q (in a study file: where); else --ignore %q", r.file, name, problem.List(textsOf(cells), 4), name+"="+cells[0].text, name))
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
		if slices.Contains(r.layout.Ignore, name) || len(cells) < 2 || len(r.files) > 1 && slices.ContainsFunc(cells, func(c writtenCell) bool { return !isDate(c.text) }) {
			continue // of several files only dates that can be read in one way
		}
		orders := []string{cmp.Or(r.said(0).Dates, orderOf(textsOf(cells)))}
		if orders[0] == "" && numberDate.MatchString(cells[0].text) {
			orders = []string{"day-first", "month-first"}
		}
		var readings []map[grid.Cell]string
		for _, order := range orders {
			if dates := r.datesAs(cells, order); len(dates) == len(cells) {
				readings = append(readings, dates)
			}
		}
		r.againstDates(log, name, j, readings)
		if len(readings) == 1 {
			minutes := make([]int64, len(t.pool.Texts))
			for id, date := range readings[0] {
				minutes[id] = minuteOf(date)
			}
			r.longBreaks(log, name, j, minutes)
			r.misdated(datingOf(log, "column "+name+", which is not read,", minutes, func(i int) int32 { return int32(t.cell(i, j)) }))
		}
	}
}

// datesAs are the cells of a column as dates of one order; fewer than the cells where one is none.
func (r *logReader) datesAs(cells []writtenCell, order string) map[grid.Cell]string {
	before := r.dateOrders
	defer func() { r.dateOrders = before }()
	r.dateOrders = []string{order}
	dates := map[grid.Cell]string{}
	for _, c := range cells {
		if _, number := grid.ParseNumber(c.text, false); number && c.kind != grid.Day {
			break
		}
		d, ok := r.dateOf(0, c.text)
		if !ok {
			break
		}
		if day, clock, seconds, iso := isoParts(c.text); iso {
			d = day + " " + twoDigitHour(clock) + ":" + cmp.Or(seconds, "00")
		}
		dates[c.id] = d
	}
	return dates
}

// againstDates counts the attempts of trainees that are dated before those with a smaller number.
func (r *logReader) againstDates(log *Log, name string, j int, readings []map[grid.Cell]string) {
	back, line := 0, 0
	var people []string
	for n, dates := range readings {
		if back, people, line = r.datedBack(log, j, dates); back == 0 || n == len(readings)-1 {
			break // in one order of day and month nothing is wrong
		}
	}
	if back > 0 {
		r.note("unread-dates-against", fmt.Sprintf("%s: column %s, which is not read, holds dates, and %d attempts (of %s, the first in line %d) are dated before attempts with smaller numbers; say --date %s without --attempt to number them by date, or --ignore %q (in a study file: columns: date, ignore)", r.file, name, back, problem.List(people, mostNamed), line, name, name))
	}
}

// datedBack counts the attempts that are dated before the one with the number before theirs.
func (r *logReader) datedBack(log *Log, j int, dates map[grid.Cell]string) (back int, people []string, line int) {
	for g := range r.series.groups() {
		rows := r.inOrder(log, r.series.of(g))
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
	return back, people, line
}

// rareWords notes a column with words in few rows: it says something of these attempts that it does not
// say of others, in whatever language.
func (r *logReader) rareWords(name string, cells []writtenCell) {
	rows := r.table.rows()
	cells = saidCells(cells)
	filled := some(cells)
	if filled == 0 || rows < 3 || rows < 6 && !r.isWide || 3*filled > rows || slices.Contains(r.remarked, name) || r.anyNoteOn(name) || r.boxed(name) || r.isWide && r.log.ColumnsAre != "" {
		return
	}
	if slices.ContainsFunc(cells, func(c writtenCell) bool {
		return c.kind != grid.Written && c.kind != grid.Numeric || isDate(c.text)
	}) || r.onceEach(r.table.column(name)) || r.marksBest(r.table.column(name)) || r.titleAside(r.table.column(name)) {
		return
	}
	r.note("said-of-some", fmt.Sprintf("%s: column %s is not read, and says something of %d of %d rows (%s, the first in line %d); where these do not count as others do, leave them out by --without or put how they ended into a column and name it with --outcome; else say --ignore %q", r.file, name, filled, rows, problem.Clip(problem.List(textsOf(cells), 3)), r.table.line(cells[0].row), name))
}

// onceEach reports whether a column is filled in the first row of every trainee alone, as where what is so
// of somebody is written once.
func (r *logReader) onceEach(j int) bool {
	who := r.table.column(r.cols.Trainee)
	if r.isWide || who < 0 || r.cols.Trainee == "" {
		return false
	}
	seen := map[grid.Cell]bool{}
	for i := range min(r.table.rows(), mostCompared) {
		p := r.table.cell(i, who)
		if r.table.cell(i, j) != 0 && seen[p] {
			return false
		}
		seen[p] = true
	}
	cells := r.distinct(j)
	return len(cells) != 1 || yesNo.MatchString(cells[0].text) || 2*cells[0].count <= len(seen) // one word for all says it of their first attempts
}

var partOfCode = pattern.New(`^(.*\d)([ _./-]*)([\pL]+\d{0,2}|[ _./-]\d{1,2})$`)

// codesOfParts notes codes that are each one of some with each of two or three endings, such as P1a and P1b:
// the endings may say which session or hand it was.
func (r *logReader) codesOfParts() {
	j := r.table.column(r.cols.Trainee)
	if r.cols.Trainee == "" || j < 0 || r.log.ColumnsAre != "" {
		return
	}
	codes := r.distinct(j)
	if len(codes) < 6 || len(codes) > mostRankedSeries {
		return
	}
	endings := map[string][]string{}
	all := map[string]bool{}
	for _, c := range codes {
		p := partOfCode.FindStringSubmatch(c.text)
		if p == nil {
			return
		}
		end := strings.ToLower(p[2] + p[3])
		endings[p[1]] = append(endings[p[1]], end)
		all[end] = true
	}
	if len(all) < 2 || len(all) > 3 || len(endings) < 3 {
		return
	}
	for _, e := range endings {
		if len(e) != len(all) {
			return
		}
	}
	r.note("codes-of-parts", fmt.Sprintf("%s: codes in column %s are each one of %d with each of the endings %s; where these say which session, hand or task it was, put them into a column of their own", r.file, r.cols.Trainee, len(endings), problem.List(sortedKeys(all), 3)))
}

// roleAgain notes a column that says nearly always what the column of trainees, or of arms, says, and sometimes
// something else: who was meant, or as what somebody was treated.
func (r *logReader) roleAgain() {
	t := r.table
	for _, role := range []string{r.cols.Trainee, r.cols.Arm, r.cols.Attempt, r.cols.Task, r.cols.Session} {
		k := t.column(role)
		if role == "" || k < 0 || len(r.distinct(k)) < 2 {
			continue
		}
		for _, name := range r.unused() {
			j := t.column(name)
			if slices.Contains(r.layout.Ignore, name) || len(r.distinct(j)) > 2*len(r.distinct(k)) {
				continue
			}
			same, other, line := 0, 0, 0
			for i := range min(t.rows(), mostCompared) {
				switch a, b := t.text(i, k), t.text(i, j); {
				case b == "":
				case a == b:
					same++
				default:
					other++
					line = first2(line, t.line(i))
				}
			}
			if other > 0 && other < same && 2*(same+other) >= t.rows() && same >= 4 && (role != r.cols.Attempt || 4*same >= 3*(same+other)) && !r.notedCodeOf("measure-again", name) {
				r.note("role-again", fmt.Sprintf("%s: column %s, which is not read, says the same as %s in %d rows and something else in %d, such as in line %d; name the one that counts, or say --ignore %q", r.file, name, role, same, other, line, name))
			}
		}
	}
}

// otherOrder notes a column that numbers every trainee's attempts too, and otherwise.
func (r *logReader) otherOrder(log *Log) {
	t := r.table
	if r.isWide || r.cols.Trainee == "" || r.cols.Attempt == "" || len(log.Attempts) != t.rows() || r.series.groups() > mostRankedSeries {
		return
	}
	for _, name := range r.unused() {
		j := t.column(name)
		if slices.Contains(r.layout.Ignore, name) || r.notedCodeOf("role-again", name) {
			continue
		}
		other, rows := 0, 0
		numbered := true
		for g := range r.series.groups() {
			var own, numbers []float64
			for _, i := range r.series.of(g) {
				v, ok := grid.ParseNumber(t.text(int(i), j), false)
				numbered = numbered && ok
				own, numbers = append(own, v), append(numbers, log.Attempts[i].Number)
				if v != log.Attempts[i].Number {
					other++
				}
				rows++
			}
			slices.Sort(own)
			slices.Sort(numbers)
			if numbered = numbered && len(own) >= 3 && slices.Equal(own, numbers); !numbered {
				break
			}
		}
		if numbered && other > 0 {
			r.note("other-order", fmt.Sprintf("%s: column %s, which is not read, numbers the attempts of every trainee too, and %d of %d otherwise than %s; name the right one with --attempt, or say --ignore %q (in a study file: columns: attempt, ignore)", r.file, name, other, rows, r.cols.Attempt, name))
		}
	}
}

// codesBeside notes a column that nothing uses in which codes of trainees stand in few rows, while words of it are
// codes of trainees in few others: the two columns may have changed places there.
func (r *logReader) codesBeside() {
	who := r.table.column(r.cols.Trainee)
	if r.isWide || who < 0 || r.series.groups() > mostRankedSeries {
		return
	}
	codes := map[grid.Cell]int{}
	for _, c := range r.distinct(who) {
		codes[c.id] = c.count
	}
	for _, name := range r.unused() {
		col := r.table.column(name)
		cells := r.distinct(col)
		if len(cells) < 2 || len(cells) > mostLevels || slices.Contains(r.layout.Ignore, name) || !wordsAlone(cells) {
			continue
		}
		var both []string
		few, rows := 0, 0
		for _, c := range cells {
			rows += c.count
			if n := codes[c.id]; n > 0 {
				both, few = append(both, c.text), few+min(n, c.count)
			}
		}
		if len(both) >= 2 && 10*few <= rows {
			r.note("codes-beside", fmt.Sprintf("%s: %s stand as trainees in column %s and in column %s too, which is not read; in few rows the two may have changed places: hold them against the source, or say --ignore %q", r.file, problem.List(both, 4), r.cols.Trainee, name, name))
		}
	}
}

// longBreaks notes breaks by dates in a column that nothing uses.
func (r *logReader) longBreaks(log *Log, name string, j int, minutes []int64) {
	breaks, short, line := 0, 0, 0
	for g := range r.series.groups() {
		rows := r.inOrder(log, r.series.of(g))
		for n := 1; n < len(rows); n++ {
			from, to := minutes[r.table.cell(int(rows[n-1]), j)], minutes[r.table.cell(int(rows[n]), j)]
			if from == 0 || to == 0 {
				continue
			}
			if dayAt(to)-dayAt(from) > int32(longGap.Hours()/24) {
				breaks++
				line = first2(line, r.table.line(int(rows[n])))
			} else {
				short++
			}
		}
	}
	if breaks > 0 && short > breaks {
		r.note("long-break", fmt.Sprintf("%s: by column %s, which is not read, %d attempts come more than %d days after the one before (the first in line %d) and count as the next attempts; leave them out where they are a test of what was kept, and name the column with --date (in a study file: columns: date)", r.file, name, breaks, int(longGap.Hours()/24), line))
	}
}
