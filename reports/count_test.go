package reports

import "testing"

func TestCount(t *testing.T) {
	for _, c := range []struct {
		n    int
		one  string
		want string
	}{{1, "trainee", "1 trainee"}, {0, "trainee", "0 trainees"}, {4, "family", "4 families"}, {3, "day", "3 days"}, {20, "bootstrap series", "20 bootstrap series"}} {
		if got := Count(c.n, c.one); got != c.want {
			t.Errorf("Count(%d, %q) = %q, want %q", c.n, c.one, got, c.want)
		}
	}
}
