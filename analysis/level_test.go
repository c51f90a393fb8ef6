package analysis

import (
	"errors"
	"math"
	"testing"
)

func TestLevel(t *testing.T) {
	for given, want := range map[float64]float64{0: 0.95, 0.9: 0.9, 1e-9: 1e-9} {
		if got, err := Level(given); err != nil || got != want {
			t.Errorf("level %v reads as %v (%v), want %v", given, got, err, want)
		}
	}
	for _, wrong := range []float64{-0.5, 1, 95, math.NaN(), math.Inf(1)} {
		if _, err := Level(wrong); !errors.Is(err, ErrLevel) {
			t.Errorf("level %v: %v, want ErrLevel", wrong, err)
		}
	}
}
