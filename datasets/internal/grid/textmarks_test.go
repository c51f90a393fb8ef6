package grid

import (
	"bytes"
	"testing"
)

// A row that only draws a line has nothing but strokes, three at least in each cell that is not blank.
func TestRowsThatDrawALine(t *testing.T) {
	for row, want := range map[string]bool{
		"---|---": true, ":---|:---:|---:": true, "====| |====": true, "+--+|----": true, "--|---": false, "---|98": false, "|": false, "---|a": false, "- - -": false, "__-": true,
	} {
		if got := isRule(bytes.Split([]byte(row), []byte("|"))); got != want {
			t.Errorf("%q draws a line: %v, want %v", row, got, want)
		}
	}
}
