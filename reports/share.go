package reports

import (
	"fmt"
	"strconv"

	"tyro/analysis/disclosure"
	"tyro/analysis/study"
)

// Share is what may be given to others: counts by arm and outcome in which small ones are
// hidden, and nothing about anybody.
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

// DefaultSmallestCell is the smallest count shown where none is said.
const DefaultSmallestCell = 5

// NewShare hides what could single somebody out in the counts of a check.
func NewShare(c *Check, least int) *Share {
	d := &Share{Header: headForOthers(c.Header), SmallestCell: least, Rows: []ShareRow{}}
	var counts [][]int
	total := ShareRow{Arm: "(all)"}
	for _, a := range c.Arms {
		counts = append(counts, []int{a.Done + a.NoMeasure, a.Timeouts, a.Failed, a.Void})
	}
	hidden := disclosure.Suppress(counts, least)
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
	total.Done, total.Timeouts, total.Failed, total.Void = &sums[0], &sums[1], &sums[2], &sums[3]
	total.Total = sums[0] + sums[1] + sums[2] + sums[3]
	d.Rows = append(d.Rows, total)
	for _, sum := range append(sums, totals(d.Rows)...) {
		if sum > 0 && sum < least {
			d.hideTotals()
			break
		}
	}
	return d
}

func totals(rows []ShareRow) []int {
	var out []int
	for _, r := range rows {
		out = append(out, r.Total)
	}
	return out
}

// hideTotals leaves nothing but the number of all attempts, where a total is itself small.
func (d *Share) hideTotals() {
	all := d.Rows[len(d.Rows)-1].Total
	d.Hidden = 5 * len(d.Rows)
	d.Rows = []ShareRow{{Arm: "(all)", Total: all}}
	if all < d.SmallestCell {
		d.Rows = []ShareRow{}
	}
	d.Warn("totals-hidden", "a total is itself too small to be shown, so that only the number of all attempts is")
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
	t.Notes = append(t.Notes, fmt.Sprintf("Counts from 1 to %d are hidden, and others with them so that none follows from the totals.", d.SmallestCell-1))
	return []Table{t}
}
