package fit

import (
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// hardSeries are simulated series on which the search has something to find: curves that
// hardly bend or hardly begin to, noise as large as the gain, timeouts, few attempts.
func hardSeries(k int) Series {
	r := newRand(uint64(7000 + k))
	n := []int{8, 15, 30, 60}[k%4]
	curve := []models.Curve{
		models.Power().Curve([]float64{40, 140, 0.6}),
		models.Power().Curve([]float64{1, 140, 0.15}),
		models.Exponential(1).Curve([]float64{55, 125, 0.15}),
		models.Exponential(1).Curve([]float64{10, 170, 0.01}),
		models.Exponential(1).Curve([]float64{60, 120, 1.5}),
		models.Constant().Curve([]float64{90}),
		models.Wright().Curve([]float64{170, 0.4}),
		models.Power().Curve([]float64{80, 60, 1.5}),
	}[(k/4)%8]
	sd := []float64{0.1, 0.2, 0.5}[(k/32)%3]
	s := Series{}
	if (k/96)%2 == 1 {
		s.Limit = 150
	}
	for i := range n {
		x := float64(i + 1)
		y := curve.At(x) * math.Exp(sd*r.NormFloat64())
		cens := s.Limit > 0 && y >= s.Limit
		if cens {
			y = s.Limit
		}
		s.Attempt, s.Response, s.Censored = append(s.Attempt, x), append(s.Response, y), append(s.Censored, cens)
	}
	if s.Limit == 0 {
		s.Censored = nil
	}
	return s
}

// Refits search near the curve that a series is drawn from. On hard series they find what the
// search over everything finds, or something better, but for one or two in a thousand, mostly by
// less than 1: the criterion is AICc, by which the family is chosen as well.
func TestRefitsFindWhatTheWholeSearchFinds(t *testing.T) {
	specs := exponentialSpecs()
	refits, worse, better := 0, 0, 0
	for k := range 384 {
		s := hardSeries(k)
		choice, err := Choose(s, specs)
		if err != nil || !choice.Fit.Status.Usable() {
			continue
		}
		kind := DefaultKind(s, choice.Fit.Noise)
		near, whole := newRefitter(s, specs, choice, kind), newRefitter(s, specs, choice, kind)
		near.coverEdges()
		for _, f := range whole.fitters {
			f.forget()
		}
		for i := range 20 {
			a, b := near.draw(resample.Stream(1, "hard", i)), whole.draw(resample.Stream(1, "hard", i))
			if !a.OK && !b.OK {
				continue
			}
			refits++
			switch d := near.aiccOf(a) - whole.aiccOf(b); {
			case d > 1e-3:
				worse++
				t.Logf("series %d, replicate %d: %s %v misses %s %v by %.3g", k, i, a.Curve.Family.Name(), a.Curve.Theta(), b.Curve.Family.Name(), b.Curve.Theta(), d)
			case d < -1e-3:
				better++
			}
		}
	}
	t.Logf("%d refits: %d worse, %d better", refits, worse, better)
	if refits < 7000 || worse > refits/500 {
		t.Errorf("of %d refits %d are worse than by the search over everything", refits, worse)
	}
}

// forget makes refits search everywhere.
func (f *Fitter) forget() {
	f.near = nil
	if f.edge != nil {
		f.edge.forget()
	}
}

// aiccOf is the criterion of a replicate, up to a constant; +Inf where it has no curve.
func (w *refitter) aiccOf(r Replicate) float64 {
	if !r.OK {
		return math.Inf(1)
	}
	for k, s := range w.specs {
		if f := w.fitters[k]; s.Family.Name() == r.Curve.Family.Name() {
			f.take(w.y, w.censoring())
			_, v, _ := f.criteria(f.onScale(solution{loss: r.Loss}))
			return v
		}
	}
	return math.NaN()
}
