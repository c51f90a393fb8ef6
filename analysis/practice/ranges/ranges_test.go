package ranges

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestRange(t *testing.T) {
	r := Range{Name: "horizon", Min: 1, Max: 2000, Whole: true, Meaning: "attempts looked ahead"}
	open := Range{Name: "chance", Min: 0, Max: 1, OpenMin: true, OpenMax: true}
	half := Range{Name: "share", Min: 0, Max: 1, OpenMax: true}
	for _, c := range []struct {
		r  Range
		v  float64
		ok bool
	}{
		{r, 1, true}, {r, 2000, true}, {r, 0.5, false}, {r, 1.5, false}, {r, -5, false}, {r, 2001, false}, {r, math.NaN(), false}, {r, math.Inf(1), false}, {r, math.Inf(-1), false},
		{open, 0, false}, {open, 1, false}, {open, 0.5, true}, {open, 1e-300, true}, {half, 0, true}, {half, 1, false},
	} {
		err := c.r.Check(c.v)
		if (err == nil) != c.ok {
			t.Errorf("%s: %v gives %v", c.r.Name, c.v, err)
		}
		var wrong RangeError
		if err != nil && (!errors.As(err, &wrong) || wrong.Range != c.r) {
			t.Errorf("%s: %v gives %v, not a RangeError with its range", c.r.Name, c.v, err)
		}
	}
	if got, want := r.Check(0.5).Error(), "0.5 is out of range: expected a whole number from 1 to 2000 (horizon: attempts looked ahead)"; got != want {
		t.Errorf("the message is %q, want %q", got, want)
	}
	for _, c := range []struct {
		r    Range
		want string
	}{{open, "between 0 and 1"}, {half, "from 0 to below 1"}, {Range{Max: 1, OpenMin: true}, "above 0 and at most 1"}, {Range{Max: 1e9}, "from 0 to 1000000000"}} {
		if !strings.Contains(c.r.String(), c.want) {
			t.Errorf("%q lacks %q", c.r, c.want)
		}
	}
}
