package compare

import (
	"math"
	"strings"
	"testing"
)

// Arms without a common baseline are told, with the ranges of those whose response is known;
// arms that meet in one value are not.
func TestAdjustTellsBaselinesApart(t *testing.T) {
	arms := []Arm{{Name: "massed", Values: []float64{50, 55, 61, math.NaN()}}, {Name: "spaced", Values: []float64{80, 84, 92}}}
	for name, c := range map[string]struct {
		second []float64
		told   bool
	}{"apart": {[]float64{31, 36, 40}, true}, "meeting": {[]float64{20, 36, 40}, false}} {
		a, err := Adjust("difference", arms, []Baseline{{Name: "before", Values: [][]float64{{10, 13, 20, 35}, c.second}}}, 0.95)
		if err != nil {
			t.Fatal(name, err)
		}
		told := false
		for _, w := range a.Warnings {
			told = told || w.Code == "baselines-apart" && strings.Contains(w.Text, "from 31 to 40 in arm spaced and from 10 to 20 in arm massed")
		}
		if told != c.told {
			t.Errorf("%s: told %v: %v", name, told, a.Warnings)
		}
	}
}
