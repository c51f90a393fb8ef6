package page

import "tyro/reports"

// An htmlTable is a Table with every cell as text.
type htmlTable struct {
	Title   string
	Heads   []string
	Numeric []bool
	Rows    [][]string
	Notes   []string
	Arm     int // the column of arms; -1 without
	Trainee int // the column of trainees; -1 without
}

func newHTMLTable(t reports.Table) *htmlTable {
	h := &htmlTable{Title: reports.Spoken(t.Title), Arm: -1, Trainee: -1}
	for _, n := range t.Notes {
		if n != reports.Caution { // which stands at the top of the page
			h.Notes = append(h.Notes, reports.Spoken(n))
		}
	}
	h.Heads, h.Numeric, h.Rows = t.Spoken()
	k := 0
	for _, c := range t.Columns {
		if c.Head == "" {
			continue
		}
		switch c.Key {
		case "arm":
			h.Arm = k
		case "trainee":
			h.Trainee = k
		}
		k++
	}
	return h
}

// A Row is one row as the template writes it: its head, and what the page's script finds
// it by.
type tableRow struct {
	Cells        []string
	Arm, Trainee string
}

// Marked are the rows with the arm and the trainee they are about; blank without.
func (h *htmlTable) Marked() []tableRow {
	var out []tableRow
	for _, r := range h.Rows {
		one := tableRow{Cells: r}
		if h.Arm >= 0 {
			one.Arm = r[h.Arm]
		}
		if h.Trainee >= 0 {
			one.Trainee = r[h.Trainee]
		}
		out = append(out, one)
	}
	return out
}
