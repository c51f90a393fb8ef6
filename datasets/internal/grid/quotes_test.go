package grid

import "testing"

// A quote that opens in one row and closes in another takes in as many separators and line ends
// as whole rows have; a remark of several lines does not.
func TestSwallowedRows(t *testing.T) {
	g := newGrid("log.csv", "CSV")
	g.Separator, g.Widths = ',', []uint16{4}
	for cell, want := range map[string]bool{
		"slipped\nT1,5,98,\nT1,6,93,again": true, // 2 line ends, 6 commas: two rows of 4 cells
		"slipped\nT1,5,98,again":           true,
		"slipped, then held\nwell":         false,
		"a, b, c,\nd":                      false, // as many commas, but no numbers
	} {
		if got := g.swallowed(cell, 5) != nil; got != want {
			t.Errorf("%q swallows rows: %v, want %v", cell, got, want)
		}
	}
}
