package fit

import (
	"errors"
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

func quantitySeries() Series {
	return Series{
		Attempt:  []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12},
		Response: []float64{150, 118, 104, 84, 86, 70, 72, 61, 64, 58, 60, 55},
	}
}

// A quantity of one's own has the interval that the same quantity has among the
// derived ones.
func TestQuantitiesAgreeWithDerived(t *testing.T) {
	s := quantitySeries()
	spec := Spec{Family: models.Power(), Noise: models.Lognormal{}}
	choice, err := Choose(s, []Spec{spec})
	if err != nil {
		t.Fatal(err)
	}
	f, err := WithIntervals(t.Context(), s, []Spec{spec}, choice, ByProfile, resample.Sampling{}, "test")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range f.Derived {
		q, scale := Quantity{}, 1.0
		switch d.Name {
		case startingLevel:
			q = LevelAt(1)
		case levelAtLast:
			q = LevelAt(12)
		case changeAhead:
			q = Change(12, 22)
		case perDoubling:
			q, scale = ShareOf(12, 6), 100
		default:
			continue
		}
		e, err := choice.Fit.ProfileOf(s, spec, q)
		if err != nil {
			t.Errorf("%s: %v", d.Name, err)
			continue
		}
		for _, v := range [][2]float64{{e.Value, d.Value}, {e.Lower, d.Lower}, {e.Upper, d.Upper}} {
			if math.Abs(scale*v[0]-v[1]) > 1e-5*math.Abs(v[1]) {
				t.Errorf("%s: %v, derived %v (all: %+v)", d.Name, scale*v[0], v[1], e)
			}
		}
	}
}

func TestQuantitiesWithoutRoom(t *testing.T) {
	s := quantitySeries()
	for name, c := range map[string]struct {
		spec Spec
		q    Quantity
	}{
		"a flat curve":    {Spec{Family: models.Constant(), Noise: models.Normal{}}, LevelAt(3)},
		"a held gain":     {Spec{Family: models.Power(), Noise: models.Normal{}, Hold: []Hold{{"gain", 100}}}, LevelAt(3)},
		"one attempt":     {Spec{Family: models.Power(), Noise: models.Normal{}}, Change(3, 3)},
		"before the zero": {Spec{Family: models.Power(), Noise: models.Normal{}}, LevelAt(-1)},
		"a log scale":     {Spec{Family: models.Power(), Noise: models.Poisson{}}, Change(3, 6)},
	} {
		f, err := One(s, c.spec)
		if err != nil {
			t.Fatal(err)
		}
		if e, err := f.ProfileOf(s, c.spec, c.q); !errors.Is(err, ErrSeries) {
			t.Errorf("%s: %+v (%v)", name, e, err)
		}
	}
}
