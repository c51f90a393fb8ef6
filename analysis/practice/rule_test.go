package practice

import "testing"

func TestParseRule(t *testing.T) {
	for _, text := range []string{"2 in a row", "10 in all", "3 of last 5", "2 in a row and 12 in all", "1 in a row and 3 of last 5 and 7 in all"} {
		r, err := ParseRule(text)
		if err != nil {
			t.Fatal(err)
		}
		if r.String() != text {
			t.Errorf("%q reads back as %q", text, r.String())
		}
	}
	for _, text := range []string{"", "2", "two in a row", "0 in a row", "6 of last 5", "2 in a row or 3 in all", "2 in a row and", "99999999999999999999 in all"} {
		if r, err := ParseRule(text); err == nil {
			t.Errorf("%q was read as %v", text, r)
		}
	}
}

// Each by hand: p a pass, f none.
func TestFirstMet(t *testing.T) {
	for _, c := range []struct {
		rule, passes string
		want         int
	}{
		{"2 in a row", "pfpp", 4},
		{"2 in a row", "pfpfpf", 0},
		{"3 in all", "pfpfp", 5},
		{"3 of last 5", "pffpfp", 0},   // attempts 2 to 6 hold two passes
		{"3 of last 5", "ppffpfpp", 5}, // attempts 1 to 5 hold three
		{"1 in a row", "p", 1},
		{"2 in a row and 4 in all", "ppfpfpp", 6}, // two in a row at 2, the fourth pass at 6
		{"3 of last 5", "pfpfp", 5},
		{"2 in a row", "", 0},
	} {
		rule, err := ParseRule(c.rule)
		if err != nil {
			t.Fatal(err)
		}
		var passes []bool
		for _, r := range c.passes {
			passes = append(passes, r == 'p')
		}
		if got := rule.FirstMet(passes); got != c.want {
			t.Errorf("%q in %s is met at %d, want %d", c.rule, c.passes, got, c.want)
		}
	}
}
