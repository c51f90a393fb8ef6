package datasets

import (
	"slices"
	"testing"
)

// Levenshtein (1966): kitten to sitting takes three changes.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"flaw", "lawn", 2}, {"same", "same", 0}} {
		if got := editDistance(c.a, c.b); got != c.want {
			t.Errorf("from %s to %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
	if DidYouMean("banana", []string{"power", "wright"}) != "" {
		t.Error("banana is taken for a family")
	}
}

// The names at any depth of a study file are known.
func TestStudyKeys(t *testing.T) {
	keys := studyKeys()
	for _, k := range []string{"title", "tasks", "decided_by", "lab_minutes", "smallest_cell", "head_rows", "at_most"} {
		if !slices.Contains(keys, k) {
			t.Errorf("%s is not among the names of a study file", k)
		}
	}
}
