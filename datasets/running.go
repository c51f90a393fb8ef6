package datasets

import (
	"fmt"
	"math"
	"slices"
)

// runningTotals looks for times that add up those before them: lap counters write both.
// Where another column has the single times it asks; where every time of everybody is
// longer than the one before, it is noted.
func (r *logReader) runningTotals(log *Log) {
	t := r.table
	if r.isWide || len(r.readers) == 0 || r.readers[0].kind != Time || len(log.Attempts) != t.rows() {
		return
	}
	order := make([]int32, len(log.Attempts))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(a, b int32) int {
		x, y := log.Attempts[a], log.Attempts[b]
		switch {
		case x.Trainee < y.Trainee || x.Trainee == y.Trainee && x.Number < y.Number:
			return -1
		case x.Trainee == y.Trainee && x.Number == y.Number:
			return 0
		}
		return 1
	})
	rises, steps, people := 0, 0, map[string]int{}
	for k := 1; k < len(order); k++ {
		a, b := log.Attempts[order[k-1]], log.Attempts[order[k]]
		if a.Trainee != b.Trainee || a.Session != b.Session || a.Outcome != Done || b.Outcome != Done {
			continue // a watch is set back between sessions
		}
		steps++
		people[a.Trainee+"\x00"+a.Session]++
		if b.Values[0] > a.Values[0] {
			rises++
		}
	}
	if steps < 3 || rises < steps {
		return
	}
	m := r.readers[0]
	for _, name := range r.unused() {
		j := t.column(name)
		sums := 0
		for k := 1; k < len(order); k++ {
			a, b := log.Attempts[order[k-1]], log.Attempts[order[k]]
			w := m.ways[t.sourceAt(int(order[k]))]
			v, ok := duration(plainDigits(t.text(int(order[k]), j)), w.notation, w.form)
			if a.Trainee == b.Trainee && a.Session == b.Session && ok && math.Abs(b.Values[0]-a.Values[0]-v) <= 0.02 {
				sums++
			}
		}
		if sums == steps && !slices.Contains(r.layout.Ignore, name) {
			r.ask(m.name, "", fmt.Sprintf("the time of one attempt; these add up the times of column %s from attempt to attempt: say --response %s (in a study file: the task's column), or --ignore %s where %s is right", name, name, name, m.name))
			return
		}
	}
	longest := 0
	for _, n := range people {
		longest = max(longest, n)
	}
	if longest >= 3 || longest == 2 && steps >= 8 {
		r.note("times-only-rise", fmt.Sprintf("%s: in column %s every attempt of everybody takes longer than the one before, as the running total of a lap counter does; if it is one, put the time of each attempt into the table", r.file, m.name))
	}
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
	case again > 0:
		r.note("attempts-repeat", fmt.Sprintf("%s: %d rows have an attempt number that another row has, and without --trainee all are one series; name the column with trainees where there are several", r.file, again))
	}
}
