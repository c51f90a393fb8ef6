package grid

import "testing"

// A listing is parted by spaces where all its rows have as many cells, and its names can be told.
func TestSpaced(t *testing.T) {
	for text, want := range map[string]bool{
		"id n s\nA 1 98.5\nA 2 90\n":                                        true,
		"  id  n    s\n  A   1  98.5\n  A   2    90\n":                      true,
		"Bench 3\nid n s\nA 1 98.5\nA 2 90\n":                               true,  // a title
		"\"id\" \"n\" \"s\"\n\"1\" \"A\" 1 98.5\n\"2\" \"A B\" 2 90\n":      true,  // rows with names, in quotes
		"id n s\n1 A 1 98.5\n2 A 2 90\n":                                    true,  // rows that are counted
		"id n time s\nA 1 98.5\nA 2 90\nA 3 88\n":                           false, // a name of two words
		"name n s\nAda Ash 1 98.5\nBo Elm 1 90\n":                           false, // codes of two words
		"id n s\nA 1 98.5\nA 2\nB 1 90\n":                                   false, // a blank cell
		"id n date s\nA 1 2026-02-02 09:30 98.5\nA 2 2026-02-03 10:00 90\n": false, // a moment of two words
		"id,n,s\nA,1,98.5\nA,2,90\n":                                        false,
		"98.5 90 87\n97 88 85\n99 91 84\n":                                  false, // numbers alone
		"s\n98.5\n90\n":                                                     false,
		"a b\n1 2\n3 4\n":                                                   false,
	} {
		if got := spaced([]byte(text)); got != want {
			t.Errorf("%q is parted by spaces: %v, want %v", text, got, want)
		}
	}
}
