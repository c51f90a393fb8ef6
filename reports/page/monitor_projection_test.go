package page

import (
	"math"
	"testing"

	"tyro/reports"
)

// Known attempts have no projected chance; later ones have one that rises with
// practice and on the whole meets what happened: over the demo's trainees the
// expected number of passes is near the number made.
func TestProjectedChances(t *testing.T) {
	in := demoInput(t, reports.Options{Family: "exponential"})
	chances, err := reports.ProjectedChances(t.Context(), in, 10)
	if err != nil {
		t.Fatal(err)
	}
	var expected, variance, made float64
	for _, tr := range in.Trainees {
		cs := chances[tr.ID]
		if len(cs) != len(tr.Counted) || !math.IsNaN(cs[0]) {
			t.Fatalf("%s: %d chances for %d attempts, the first %v", tr.ID, len(cs), len(tr.Counted), cs[0])
		}
		for k, c := range cs {
			switch {
			case math.IsNaN(c):
				continue
			case !(c >= 0 && c <= 1):
				t.Fatalf("%s: chance %v at attempt %v", tr.ID, c, tr.Counted[k])
			}
			expected += c
			variance += c * (1 - c)
			if tr.Passes[k] {
				made++
			}
		}
		if last := len(cs) - 1; cs[last] < cs[last-8]-1e-9 {
			t.Errorf("%s: the projected chance falls from %v to %v", tr.ID, cs[last-8], cs[last])
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
