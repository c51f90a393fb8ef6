package reports

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tyro/analysis/study"
	"tyro/datasets"
)

func observedUntil(t *testing.T, path string, c datasets.UntilColumns) *UntilProficient {
	t.Helper()
	p, err := datasets.OpenUntil(t.Context(), path, c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, study.Options{Replicates: 200})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.UntilProficient(context.Background(), study.UntilOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return NewUntilProficient(s, a)
}

// TestObservedUntil: the Freireich data; medians 23 and 8, log-rank 16.79 (Klein
// and Moeschberger, 2003); average hazard ratio by R's survival 3.5-3
// (testdata/compare/hazard.R).
func TestObservedUntil(t *testing.T) {
	d := observedUntil(t, "../testdata/survival/freireich_6mp.csv", datasets.UntilColumns{Until: "time", Met: "status", Arm: "group"})
	if m := d.Survival[0].Median; m.Estimate != 23 || m.Lower != 13 || !math.IsInf(float64(m.Upper), 1) {
		t.Errorf("median %+v, want 23 (13 to not reached)", m)
	}
	if m := d.Survival[1].Median; m.Estimate != 8 || m.Lower != 4 || m.Upper != 11 {
		t.Errorf("median %+v, want 8 (4 to 11)", m)
	}
	if got := float64(d.LogRank.ChiSquare); !(math.Abs(got-16.79294098921654) < 1e-10) {
		t.Errorf("log-rank %v", got)
	}
	if got := float64(d.Hazards[0].Ratio); !(math.Abs(got-4.98007965379) < 1e-9) {
		t.Errorf("%s: ratio %v", d.Hazards[0].Model, got)
	}
	q := d.Quantiles[2]
	if q.Share != 0.9 || q.Status != CannotBeEstimated || !(math.Abs(float64(q.Largest)-(1-0.44817927170868344)) < 1e-12) {
		t.Errorf("%+v, want not estimable with the largest share 0.552", q)
	}
	var b bytes.Buffer
	if err := WriteJSON(&b, d); err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(b.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"results", "survival", "log_rank", "band", "warnings", "data_sha256"} {
		if _, ok := got[key]; !ok {
			t.Errorf("no key %q", key)
		}
	}
	b.Reset()
	if err := WriteText(&b, d); err != nil || !strings.Contains(b.String(), Caution[:40]) {
		t.Errorf("text without the caution (%v)", err)
	}
	// The shorter of the two arms was followed for 23 weeks.
	for _, part := range []string{"log-rank test, χ²(1) = 16.8, p < 0.001", "mean up to attempt 23"} {
		if !strings.Contains(b.String(), part) {
			t.Errorf("the text lacks %q", part)
		}
	}
}

// TestObservedCoarse: assessments every 5 attempts, 1, 2 and 1 of 6 meeting the
// rule at the first three, two never: half by the second.
func TestObservedCoarse(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.csv")
	if err := os.WriteFile(path, []byte("until,met,since\n5,1,0\n10,1,5\n10,1,5\n15,1,10\n15,0,\n15,0,\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	d := observedUntil(t, path, datasets.UntilColumns{Until: "until", Met: "met", Since: "since"})
	if len(d.Coarse) != 1 || d.Coarse[0].MedianAfter != 5 || d.Coarse[0].MedianBy != 10 {
		t.Fatalf("coarse %+v", d.Coarse)
	}
	if m := d.Coarse[0].Masses; len(m) != 4 || math.Abs(float64(m[1].Chance)-2.0/6) > 1e-8 {
		t.Errorf("masses %+v", m)
	}
}
