package reports_test

import (
	"math"
	"testing"

	"tyro/analysis/study"
	"tyro/models"
)

// Known attempts have no projected chance; later ones have one that rises with
// practice and on the whole meets what happened: over the demo's trainees the
// expected number of passes is near the number made.
func TestProjectedChances(t *testing.T) {
	exponential, err := models.ByName("exponential", 1)
	if err != nil {
		t.Fatal(err)
	}
	s := demoStudy(t, study.Options{Families: []models.Family{exponential}})
	a, err := s.Monitor(t.Context(), study.MonitorOptions{Chart: study.ChartProjected, H: 3, Known: 10})
	if err != nil {
		t.Fatal(err)
	}
	var expected, variance, made float64
	for _, w := range a.Watched {
		cs := a.Options.Chances[w.ID]
		if len(cs) != len(w.Attempts) || !math.IsNaN(cs[0]) {
			t.Fatalf("%s: %d chances for %d attempts, the first %v", w.ID, len(cs), len(w.Attempts), cs[0])
		}
		for k, c := range cs {
			switch {
			case math.IsNaN(c):
				continue
			case !(c >= 0 && c <= 1):
				t.Fatalf("%s: chance %v at attempt %v", w.ID, c, w.Attempts[k].Number)
			}
			expected += c
			variance += c * (1 - c)
			if !w.Failed[k] {
				made++
			}
		}
		if last := len(cs) - 1; cs[last] < cs[last-8]-1e-9 {
			t.Errorf("%s: the projected chance falls from %v to %v", w.ID, cs[last-8], cs[last])
		}
	}
	// Trainees share their own error, so allow more than binomial scatter: four
	// of its standard deviations (own judgement).
	if z := (made - expected) / math.Sqrt(variance); math.Abs(z) > 4 {
		t.Errorf("%v passes made, %.0f expected (z %.1f)", made, expected, z)
	} else {
		t.Logf("%v passes made, %.0f expected (z %.1f)", made, expected, z)
	}
}
