package reports

import (
	"fmt"
	"strconv"

	"tyro/analysis/disclosure"
	"tyro/analysis/study"
)

// Share is what may be given to others: counts of attempts by arm and outcome in which those of
// few people are hidden, and nothing about anybody.
type Share struct {
	Header
	SmallestCell int        `json:"smallest_cell"`
	Hidden       int        `json:"hidden"`
	Rows         []ShareRow `json:"rows"`
}

// A ShareRow is an arm's counts; null where a count is hidden.
type ShareRow struct {
	Arm      string `json:"arm"`
	Done     *int   `json:"done"`
	Timeouts *int   `json:"timeouts"`
	Failed   *int   `json:"failed"`
	Void     *int   `json:"void"`
	Total    int    `json:"total"`
}

// DefaultSmallestCell is the fewest people behind a number that is shown where none is said.
const DefaultSmallestCell = 5

// NewShare hides what could single somebody out in the counts of a check: one trainee makes many
// attempts, so that a count is shown by how many people are behind it.
func NewShare(c *Check, least int) *Share {
	d := &Share{Header: headForOthers(c.Header), SmallestCell: least, Rows: []ShareRow{}}
	var counts [][]int
	var people []disclosure.People
	for _, a := range c.Arms {
		counts = append(counts, []int{a.Done + a.NoMeasure, a.Timeouts, a.Failed, a.Void})
		people = append(people, peopleOf(a.behind))
	}
	hidden := disclosure.SuppressEvents(counts, people, least)
	sums := make([]int, 4)
	for i, a := range c.Arms {
		row := ShareRow{Arm: study.ArmName(a.Arm)}
		for j, to := range []**int{&row.Done, &row.Timeouts, &row.Failed, &row.Void} {
			n := counts[i][j]
			row.Total += n
			sums[j] += n
			if hidden[i][j] {
				d.Hidden++
				continue
			}
			*to = &n
		}
		d.Rows = append(d.Rows, row)
	}
	total := ShareRow{Arm: "(all)", Done: &sums[0], Timeouts: &sums[1], Failed: &sums[2], Void: &sums[3]}
	total.Total = sums[0] + sums[1] + sums[2] + sums[3]
	d.Rows = append(d.Rows, total)
	if few := fewestBehind(people); few > 0 && few < least {
		d.hideTotals(people)
	}
	return d
}

// peopleOf tells people by the cells of a row that they are in.
func peopleOf(behind study.Behind) disclosure.People {
	out := disclosure.People{}
	for had, n := range behind {
		cells := uint(0)
		for j, in := range []bool{had.Done, had.Timeouts, had.Failed, had.Void} {
			if in {
				cells |= 1 << j
			}
		}
		out[cells] += n
	}
	return out
}

// everyCell are the cells of a row.
const everyCell = 0b1111

// fewestBehind is the fewest people behind a total of a row or a column that is not 0.
func fewestBehind(people []disclosure.People) int {
	few := 0
	see := func(n int) {
		if n > 0 && (few == 0 || n < few) {
			few = n
		}
	}
	for _, p := range people {
		see(p.Behind(everyCell))
	}
	for j := range 4 {
		see(behindAll(people, 1<<j))
	}
	return few
}

// behindAll is how many people of all rows are in one or more of some cells.
func behindAll(people []disclosure.People, cells uint) int {
	sum := 0
	for _, p := range people {
		sum += p.Behind(cells)
	}
	return sum
}

// hideTotals leaves nothing but the number of all attempts, where a total is itself of few people.
func (d *Share) hideTotals(people []disclosure.People) {
	all := d.Rows[len(d.Rows)-1].Total
	d.Hidden = 5 * len(d.Rows)
	if behindAll(people, everyCell) < d.SmallestCell {
		d.Rows = []ShareRow{}
		d.Warn("totals-hidden", "all attempts are of too few people for any number of them to be shown")
		return
	}
	d.Rows = []ShareRow{{Arm: "(all)", Total: all}}
	d.Warn("totals-hidden", "a total is itself of too few people to be shown, so that only the number of all attempts is")
}

// Tables shows the counts.
func (d *Share) Tables() []Table {
	rows := d.Rows
	count := func(n *int) string {
		if n == nil {
			return "hidden"
		}
		return strconv.Itoa(*n)
	}
	t := Table{Name: "share", Title: "Attempts by arm and outcome, for others", Columns: []Column{
		Words("arm", "arm", rows, func(r ShareRow) string { return r.Arm }),
		Words("done", "done", rows, func(r ShareRow) string { return count(r.Done) }),
		Words("timeouts", "timeouts", rows, func(r ShareRow) string { return count(r.Timeouts) }),
		Words("failed", "failed", rows, func(r ShareRow) string { return count(r.Failed) }),
		Words("void", "void", rows, func(r ShareRow) string { return count(r.Void) }),
		Counts("total", "total", rows, func(r ShareRow) int { return r.Total }),
	}}
	t.Notes = append(t.Notes, fmt.Sprintf("Attempts of 1 to %d people are hidden, and others with them so that none follows from the totals.", d.SmallestCell-1))
	return []Table{t}
}
