package datasets

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// runningTotals looks for times that add up those before them: lap counters write both.
// Where another column has the single times it asks; where every time of everybody is
// longer than the one before, it is noted.
func (r *logReader) runningTotals(log *Log) {
	t := r.table
	if r.isWide || len(r.readers) == 0 || r.readers[0].kind != Time || len(log.Attempts) != t.rows() {
		return
	}
	people := r.placed.grouped(r.placed.trainee, len(r.placed.trainees))
	var pairs [][2]int32 // attempts of one trainee in one session next to each other
	steps, longest := 0, 0
	sessions := map[string]int{} // steps of one trainee
	for who := range people.groups() {
		rows := people.of(who)
		slices.SortStableFunc(rows, func(i, k int32) int { return cmp.Compare(log.Attempts[i].Number, log.Attempts[k].Number) })
		clear(sessions)
		for n := 1; n < len(rows); n++ {
			a, b := log.Attempts[rows[n-1]], log.Attempts[rows[n]]
			if a.Session != b.Session {
				continue // a watch is set back between sessions
			}
			pairs = append(pairs, [2]int32{rows[n-1], rows[n]})
			if a.Outcome != Done || b.Outcome != Done {
				continue
			}
			if !(log.Values(b)[0] > log.Values(a)[0]) {
				return
			}
			steps++
			sessions[a.Session]++
			longest = max(longest, sessions[a.Session])
		}
	}
	if steps < 3 {
		return
	}
	m := r.readers[0]
	for _, name := range r.unused() {
		j := t.column(name)
		sums := 0
		for _, pair := range pairs {
			a, b, row := log.Attempts[pair[0]], log.Attempts[pair[1]], int(pair[1])
			w := m.ways[t.sourceAt(row)]
			v, ok := duration(plainDigits(t.text(row, j)), w.notation, w.form)
			if ok && math.Abs(log.Values(b)[0]-log.Values(a)[0]-v) <= 0.02 {
				sums++
			}
		}
		if sums == steps && !slices.Contains(r.layout.Ignore, name) {
			r.ask(m.name, "", fmt.Sprintf("the time of one attempt; these add up the times of column %s from attempt to attempt: say --response %s (in a study file: the task's column), or --ignore %s where %s is right", name, name, name, m.name))
			return
		}
	}
	if longest >= 3 || longest == 2 && steps >= 8 {
		r.note("times-only-rise", fmt.Sprintf("%s: in column %s every attempt of everybody takes longer than the one before, as the running total of a lap counter does; if it is one, put the time of each attempt into the table", r.file, m.name))
	}
}

// someRunOn notes trainees whose every time is longer than the one before, to twice the first or more, while
// the times of others are not.
func (r *logReader) someRunOn(log *Log) {
	for _, t := range r.study.Tasks {
		if j := slices.Index(r.measures, t.Column); j >= 0 && r.cols.Trainee != "" && !r.notedCode("times-only-rise") && !r.notedCode("gets-worse") {
			r.runOnAt(log, t.Name, j)
		}
	}
}

// runOnAt notes them at one task.
func (r *logReader) runOnAt(log *Log, task string, j int) {
	if r.readers[j].kind != Time || r.series.groups() > mostRankedSeries {
		return
	}
	var on []string
	groups := 0
	for g, rows := range r.seriesOf(task) {
		groups++
		at := r.inOrder(log, rows)
		rises := len(at) >= 4
		for n := 1; n < len(at) && rises; n++ {
			rises = log.Values(log.Attempts[at[n]])[j] > log.Values(log.Attempts[at[n-1]])[j]
		}
		if rises && log.Values(log.Attempts[at[len(at)-1]])[j] >= 2*log.Values(log.Attempts[at[0]])[j] {
			on = append(on, r.placed.trainees[r.series.trainee[g]])
		}
	}
	if len(on) > 0 && 2*len(on) <= groups {
		r.note("times-only-rise", fmt.Sprintf("%s: in column %s every attempt of %s takes longer than the one before, as a running total does, and not so those of others; if it is one, put the time of each attempt into the table", r.file, r.readers[j].name, problem.List(on, mostNamed)))
	}
}

// askWhose asks whether a column that nothing uses holds the trainees: one in which hardly any attempt number
// stands twice beside the same cell.
func (r *logReader) askWhose(again int) bool {
	t := r.table
	at := t.column(r.cols.Attempt)
	if at < 0 || r.isWide {
		return false
	}
	for _, name := range r.unused() {
		j, twice, seen := t.column(name), 0, map[[2]grid.Cell]bool{}
		if slices.Contains(r.layout.Ignore, name) || len(r.distinct(j)) < 2 || 2*len(r.distinct(j)) > t.rows() {
			continue
		}
		for i := range t.rows() {
			key := [2]grid.Cell{t.cell(i, at), t.cell(i, j)}
			if seen[key] {
				twice++
			}
			seen[key] = true
		}
		if 20*twice <= t.rows() {
			r.ask(name, "", fmt.Sprintf("to be told whose attempts these are: %d rows have an attempt number that another row has, and this column tells them apart: --trainee %q if it holds the trainees, --ignore %q takes all rows as one series (in a study file: trainee, ignore)", again, name, name))
			return true
		}
	}
	return false
}

// noteRepeats notes a single series that has the same attempt in several rows.
func (r *logReader) noteRepeats(log Log) {
	if r.cols.Trainee != "" || r.cols.Attempt == "" {
		return
	}
	seen, again := map[float64]bool{}, 0
	for _, a := range log.Attempts {
		if seen[a.Number] {
			again++
		}
		seen[a.Number] = true
	}
	blocks := slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == "repeated-head" })
	switch {
	case again > 0 && blocks && again*2 >= len(log.Attempts)-again:
		r.ask(r.cols.Attempt, "", fmt.Sprintf("whose attempts these are: the column names stand there again and %d attempts have a number that was there before, as where every trainee has a table of his own; put the trainee's code into a column beside the attempts and name it with --trainee", again))
	case again >= len(log.Attempts)-again && r.askWhose(again):
	case again > 0:
		r.note("attempts-repeat", fmt.Sprintf("%s: %d rows have an attempt number that another row has, and without --trainee all are one series; name the column with trainees where there are several", r.file, again))
	}
}
