package compare

import (
	"math"
	"testing"

	"tyro/analysis/resample"
)

// The unit of a measure changes no p, and its limits by the factor of the unit alone.
func TestPermutationWhateverTheUnit(t *testing.T) {
	values := [][]float64{{4, 7, 5, 9, 6}, {6, 8, 11, 9, 12}}
	of := func(unit float64) Contrast {
		arms := make([]Arm, 2)
		for k, vs := range values {
			arms[k].Name = []string{"a", "b"}[k]
			for _, v := range vs {
				arms[k].Values = append(arms[k].Values, v*unit)
			}
		}
		c, err := Permutation(t.Context(), arms[0], arms[1], 0.95, resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	one := of(1)
	for _, unit := range []float64{1e-9, 1e-12, 1e9} {
		if c := of(unit); c.P != one.P || math.Abs(c.Lower/unit-one.Lower) > 1e-6 || math.Abs(c.Upper/unit-one.Upper) > 1e-6 {
			t.Errorf("in units of %g: p %g, %g to %g; in units of 1: p %g, %g to %g", unit, c.P, c.Lower/unit, c.Upper/unit, one.P, one.Lower, one.Upper)
		}
	}
}
