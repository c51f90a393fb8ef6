package survival

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/resample"
)

// TestAreaOfCountedObservations: counting observations is the same as repeating
// them.
func TestAreaOfCountedObservations(t *testing.T) {
	obs := []Observation{{2, true}, {3, false}, {5, true}, {5, true}, {5, false}, {9, false}, {12, true}}
	for _, times := range [][]int{{1, 1, 1, 1, 1, 1, 1}, {0, 3, 1, 0, 2, 1, 0}, {2, 0, 0, 1, 0, 0, 4}, {0, 0, 0, 0, 0, 7, 0}} {
		var repeated []Observation
		for i, k := range times {
			for range k {
				repeated = append(repeated, obs[i])
			}
		}
		for _, tau := range []float64{1, 5, 7, 12, 20} {
			want, _ := KaplanMeier(repeated, Linear, 0.95).RestrictedMean(tau)
			if got := areaOf(obs, times, tau); !(math.Abs(got-want) < 1e-12) {
				t.Errorf("%v up to %g: %v, want %v", times, tau, got, want)
			}
		}
	}
}

// TestRestrictedMeanInterval: the Freireich data (6-MP) up to 35 weeks against
// the same method in R with other random numbers: quantiles of 20,000 replicates
// vary by about 0.1.
func TestRestrictedMeanInterval(t *testing.T) {
	e := loadExpected(t)
	_, arms := groups(t, table(t, "freireich_6mp.csv"), "group")
	iv, err := RestrictedMeanInterval(context.Background(), arms[0], 35, 0.95, resample.Sampling{Seed: 1, Replicates: 20000})
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range []float64{iv.Lower, iv.Upper} {
		if want := e[[]string{"freireich/restricted-mean-bootstrap.1", "freireich/restricted-mean-bootstrap.2"}[i]]; !(math.Abs(got-want) < 0.3) {
			t.Errorf("end %d: %v, want %v", i+1, got, want)
		}
	}
	for name, obs := range map[string][]Observation{
		"nobody met it": {{5, false}, {5, false}, {5, false}}, "one trainee": {{3, true}}, "all at once": {{3, true}, {3, true}},
	} {
		if iv, err := RestrictedMeanInterval(context.Background(), obs, 5, 0.95, resample.Sampling{Seed: 1, Replicates: 50}); err != nil || !math.IsNaN(iv.Lower) || !math.IsNaN(iv.Upper) {
			t.Errorf("%s: %+v (%v), want no interval", name, iv, err)
		}
	}
}
