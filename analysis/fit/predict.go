package fit

import (
	"fmt"
	"math"
)

// A Forecast is how a curve fitted to the first attempts predicted the rest.
type Forecast struct {
	Family     string
	Seen       int     // attempts fitted
	Ahead      int     // exact attempts predicted
	RMSE       float64 // root mean square residual on the noise's additive scale; NaN without any
	Bias       float64 // mean residual: above 0 when responses came out above the curve
	InInterval float64 // share of them inside the next-attempt band
}

// LeaveFutureOut fits each spec to the first seen attempts and predicts the rest
// (Bürkner, Gabry and Vehtari, 2020, Journal of Statistical Computation and
// Simulation 90, 2499-2523, argue for this rather than leaving out attempts with
// others on both sides). Attempts are taken in order.
func LeaveFutureOut(s Series, specs []Spec, seen int) ([]Forecast, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	if seen < 0 {
		return nil, fmt.Errorf("%w: %d attempts to fit", ErrSeries, seen)
	}
	order := inOrder(s.Attempt)
	seen = min(seen, len(order))
	early, late := s.pick(order[:seen]), s.pick(order[seen:])
	var out []Forecast
	for _, spec := range specs {
		f, err := One(early, spec)
		if err != nil {
			return nil, err
		}
		out = append(out, f.forecast(late))
	}
	return out, nil
}

func (f Fit) forecast(late Series) Forecast {
	c := Forecast{Family: f.Curve.Family.Name(), Seen: f.N, RMSE: math.NaN(), Bias: math.NaN(), InInterval: math.NaN()}
	if !f.Status.Usable() {
		return c
	}
	var ss, sum, inside float64
	for i, b := range f.Bands(late.Attempt) {
		if late.Censored != nil && late.Censored[i] {
			continue
		}
		y := late.Response[i]
		e := f.Noise.Residual(y, f.Curve.At(late.Attempt[i]))
		ss += e * e
		sum += e
		if b.NextLower <= y && y <= b.NextUpper {
			inside++
		}
		c.Ahead++
	}
	if n := float64(c.Ahead); n > 0 {
		c.RMSE, c.Bias, c.InInterval = math.Sqrt(ss/n), sum/n, inside/n
	}
	return c
}
