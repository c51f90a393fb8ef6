package grid

import "testing"

func TestWithoutNoise(t *testing.T) {
	for v, want := range map[float64]float64{1.35999999999999: 1.36, 3108.400000000001: 3108.4, 1.0 / 3: 1.0 / 3, 0.000965277777777778: 0.000965277777777778} {
		if got := withoutNoise(v); got != want {
			t.Errorf("%v became %v, want %v", v, got, want)
		}
	}
}
