package datasets

import "testing"

// Marks that repeat the cell above are told from codes that people have.
func TestDittoMarks(t *testing.T) {
	for text, want := range map[string]bool{
		`"`: true, `""`: true, "''": true, "〃": true, `- " -`: true, "-do-": true, "– do –": true, "do.": true, "ditto": true, "idem": true,
		"": false, "-": false, "do": false, "Do": false, "id": false, "ID.": false, "O'Hara": false, "-7-": false,
	} {
		if isDitto(text) != want {
			t.Errorf("%q repeats the cell above: %v, want %v", text, !want, want)
		}
	}
}

// Rows that say the month are told from those that say what course it was.
func TestOnlyMonths(t *testing.T) {
	for _, c := range []struct {
		said []string
		want bool
	}{
		{[]string{"February 2026", "March 2026"}, true},
		{[]string{"décembre 2025", "janvier 2026"}, true},
		{[]string{"Retest 2026"}, false},
		{[]string{"Kurs 2025", "Kurs 2026"}, false},
		{[]string{"February 2026", "second bench"}, false},
	} {
		if onlyMonths(c.said) != c.want {
			t.Errorf("%q are months alone: %v, want %v", c.said, !c.want, c.want)
		}
	}
}

// Times at marks on the way are in the order of the distances; parts that are counted are not.
func TestMarksOnTheWay(t *testing.T) {
	for _, c := range []struct {
		name, own          string
		below, above, rows int
		want               bool
	}{
		{"10 m", "30 m", 24, 0, 24, true},
		{"60 m", "30 m", 0, 24, 24, true},
		{"10 m", "30 m", 23, 1, 24, false},
		{"Time 1", "Time 4", 24, 0, 24, false},
		{"Time 2", "Time 3", 24, 0, 24, false},
		{"Time", "Time s", 24, 0, 24, false},
	} {
		if got := marksOnTheWay(c.name, c.own, c.below, c.above, c.rows); got != c.want {
			t.Errorf("%q is on the way to %q: %v, want %v", c.name, c.own, got, c.want)
		}
	}
}
