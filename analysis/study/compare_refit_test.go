package study

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// refitted compares with cohorts fitted again, on so many workers.
func refitted(t *testing.T, p practice.Practice, o CompareOptions, workers int) *Comparison {
	t.Helper()
	s, err := New(p, Options{Families: []models.Family{models.Exponential(1)}, Replicates: 19, Workers: workers})
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.Compare(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func refitRows(c *Comparison) []compare.Contrast {
	return slices.DeleteFunc(slices.Clone(c.Sensitivity), func(x compare.Contrast) bool { return x.Basis != BasisRefitted })
}

// Two arms of threeArms, the second with a plateau of 0.7 times the first's. The intervals
// of refits have the main estimate, hold the true ratio of plateaus, exclude 1 as the main
// ones do, are at most a factor of 2 from these in width, and do not depend on workers.
func TestCompareRefits(t *testing.T) {
	p := threeArms(0.7, nil)
	p.Arms, p.Trainees = p.Arms[:2], p.Trainees[:20]
	one, two := refitted(t, p, CompareOptions{At: 15, Refits: 99}, 1), refitted(t, p, CompareOptions{At: 15, Refits: 99}, 2)
	rows, again := refitRows(one), refitRows(two)
	if len(rows) < 5 || len(rows) != len(again) {
		t.Fatalf("%d rows on one worker, %d on two", len(rows), len(again))
	}
	for k, r := range rows {
		if r.Lower != again[k].Lower || r.Upper != again[k].Upper || r.Estimate != again[k].Estimate {
			t.Errorf("%s depends on workers: %v to %v, %v to %v", r.Measure, r.Lower, r.Upper, again[k].Lower, again[k].Upper)
		}
		j := slices.IndexFunc(one.Contrasts, func(c compare.Contrast) bool { return c.Measure == r.Measure })
		if j < 0 {
			t.Errorf("%s is not in the main table", r.Measure)
			continue
		}
		m := one.Contrasts[j]
		if math.Abs(math.Log(r.Estimate/m.Estimate)) > 1e-6 {
			t.Errorf("%s: %v, in the main table %v", r.Measure, r.Estimate, m.Estimate)
		}
		if wide := math.Log(r.Upper/r.Lower) / math.Log(m.Upper/m.Lower); !(wide > 0.5 && wide < 2) {
			t.Errorf("%s: %v to %v is %v times as wide as %v to %v", r.Measure, r.Lower, r.Upper, wide, m.Lower, m.Upper)
		}
		if r.Measure == "plateau" && !(r.Lower < 0.7 && 0.7 < r.Upper && r.Upper < 1) {
			t.Errorf("plateaus: the true ratio is 0.7, and the interval is %v to %v", r.Lower, r.Upper)
		}
	}
	if len(one.Slopes) != 2 {
		t.Errorf("%d tests of slopes, want one on own levels and one on the cohort's", len(one.Slopes))
	}
}

// Refits that failed are counted; beyond one in ten there is no interval. Too few are told.
func TestCompareRefitsLost(t *testing.T) {
	draws := make([][]float64, 20)
	for k := range draws {
		draws[k] = []float64{1}
	}
	if got := refitsLost(draws); len(got) != 0 {
		t.Errorf("none failed, and %v is told", got)
	}
	draws[3], draws[5] = nil, nil // 10 %
	if got := refitsLost(draws); len(got) != 1 || !strings.HasPrefix(got[0].Text, "2 of 20 ") || !strings.Contains(got[0].Text, "left out") {
		t.Errorf("2 of 20 failed: %v", got)
	}
	draws[7] = nil
	if got := refitsLost(draws); len(got) != 1 || !strings.HasPrefix(got[0].Text, "3 of 20 ") || !strings.Contains(got[0].Text, "no intervals") {
		t.Errorf("3 of 20 failed: %v", got)
	}
	values := make([]float64, 20)
	for k := range values {
		if values[k] = float64(k); draws[k] == nil {
			values[k] = math.NaN()
		}
	}
	if !resample.PercentileInterval(values, 0.95).Refused() {
		t.Error("3 of 20 failed, and there is an interval")
	}
}
