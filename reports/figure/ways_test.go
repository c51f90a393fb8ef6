package figure

import (
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/reports"
)

// The picture has every way's letter: in three panels and the key.
func TestFigureOfWays(t *testing.T) {
	s, err := study.New(practice.Practice{}, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	o := study.WaysOptions{Usual: true, Horizon: 60, First: stopping.FixedQuota(12), Stated: stopping.Closing(0.3, 0.95, 6, 60)}
	a, err := s.WaysToStop(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	svg, err := Ways(reports.NewWaysToStop(s, a, "a rising chance"), 3).SVG()
	if err != nil {
		t.Fatal(err)
	}
	for k := range a.Ways {
		if n := strings.Count(svg, ">"+reports.Mark(k)+"<"); n < 4 {
			t.Errorf("letter %s is drawn %d times", reports.Mark(k), n)
		}
	}
}
