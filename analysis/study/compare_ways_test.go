package study

import (
	"slices"
	"strings"
	"testing"
)

// An arm that gets worse while others get better is told, and against each of the others; arms
// that go the same way are not.
func TestCompareTellsArmsThatGoOppositeWays(t *testing.T) {
	told := func(turned string) []string {
		p := threeArms(0.7, nil)
		for i := range p.Trainees {
			if as := p.Trainees[i].Attempts; p.Trainees[i].Arm == turned {
				for k, l := 0, len(as)-1; k < l; k, l = k+1, l-1 {
					as[k].Response, as[l].Response = as[l].Response, as[k].Response
				}
			}
		}
		var out []string
		for _, w := range comparison(t, p, CompareOptions{}).Warnings {
			if w.Code == "arms-go-opposite-ways" {
				out = append(out, w.Text)
			}
		}
		return out
	}
	if got := told("nobody"); got != nil {
		t.Errorf("all get better: %v", got)
	}
	got := told("quick")
	if len(got) != 2 || !slices.ContainsFunc(got, func(s string) bool {
		return strings.Contains(s, "10 of 10 trainees of arm usual got better and 10 of 10 of arm quick worse")
	}) {
		t.Errorf("one gets worse: %v", got)
	}
}

// By hand: 5 of 5 have chance 1/32, 4 of 5 chance 6/32, 8 of 10 chance 56/1024, 9 of 10 11/1024.
func TestGoesOneWay(t *testing.T) {
	for _, c := range []struct {
		n, of int
		want  bool
	}{{0, 0, false}, {5, 5, true}, {4, 5, false}, {8, 10, false}, {9, 10, true}, {0, 10, false}} {
		if got := goesOneWay(c.n, c.of); got != c.want {
			t.Errorf("%d of %d: %v", c.n, c.of, got)
		}
	}
}
