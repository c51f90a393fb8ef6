package reports

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// untilQuota is the quota of trainees of whom the attempts until the rule was met are known.
func untilQuota(t *testing.T, rows []practice.Until, o study.QuotaOptions) *Quota {
	t.Helper()
	s, err := study.New(practice.Practice{Until: rows}, study.Options{Replicates: 100, NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Quota(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	return NewQuota(s, a)
}

// Two arms of four, by hand. Arm a meets the rule at 2, 4, 6 and 8; of arm b two do
// at 3 and 5 and two are last seen at 9 without. Of all eight, half had by the fourth,
// at 5, and six of eight, 75 %, ever.
func TestQuotaOfUntil(t *testing.T) {
	rows := []practice.Until{
		{Arm: "a", Attempt: 2, Met: true}, {Arm: "a", Attempt: 4, Met: true}, {Arm: "a", Attempt: 6, Met: true}, {Arm: "a", Attempt: 8, Met: true},
		{Arm: "b", Attempt: 3, Met: true}, {Arm: "b", Attempt: 5, Met: true}, {Arm: "b", Attempt: 9}, {Arm: "b", Attempt: 9},
	}
	d := untilQuota(t, rows, study.QuotaOptions{Target: 0.5, Fewer: 2, Costs: &practice.Costs{Consumables: 1}})
	want := map[string][]float64{"": {5, math.Inf(1)}, "a": {4, 8}, "b": {5, math.Inf(1)}}
	for _, r := range d.Rows {
		k := slices.Index([]float64{0.5, 0.8}, r.Share)
		if k < 0 {
			continue
		}
		if float64(r.Attempts) != want[r.Arm][k] || (r.Status == Estimated) == math.IsInf(want[r.Arm][k], 1) {
			t.Errorf("%q %v: %+v, want %v", r.Arm, r.Share, r, want[r.Arm][k])
		}
	}
	// All eight with 5 attempts: 2 + 4 + 5 + 5 and 3 + 5 + 5 + 5 are used, 34, for four
	// who are there: 8.5 each. With 3: 2 + 3 + 3 + 3 and 4 times 3 are 23, for two.
	p := d.Schedules[0]
	if p.Attempts != 5 || p.Stopping.Cost.Estimate != 34 || p.Stopping.PerMet.Estimate != 8.5 || p.Everybody.PerMet.Estimate != 10 {
		t.Errorf("schedule %+v", p)
	}
	if f := p.Fewer; f == nil || f.Attempts != 3 || math.Abs(float64(f.FewerMet.Estimate)-2) > 1e-9 || math.Abs(float64(f.Saved.Estimate)-11) > 1e-9 || f.SavedByEverybody != 16 {
		t.Errorf("fewer %+v", f)
	}
	var b bytes.Buffer
	if err := WriteText(&b, d); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(b.String()), " ")
	for _, s := range []string{"6 of 8 met the rule; the largest share that can be estimated as observed is 75 %", "All trainees: schedule 5 attempts for 50 %", Caution} {
		if !strings.Contains(text, s) {
			t.Errorf("the text lacks %q", s)
		}
	}
}
