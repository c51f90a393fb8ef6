package fit

import (
	"fmt"
	"math"
	"slices"

	"tyro/models"
)

// A restart is the warm-up loss: the attempts after a break between sessions are
// shifted against the curve, by restart·fading^k at the k-th attempt after the
// break (k from 0). The shift is on the scale on which the noise is additive: a
// difference for normal noise, a factor exp(restart) on the curve for lognormal
// noise, a difference on the logit or log scale for passes and counts. The curve
// itself is that of practice without breaks. Warm-up loss as a part of its own
// beside learning: Adams (1961), Psychological Bulletin 58, 257-273.

// restartOf is the share of the shift that each attempt has; nil without a
// restart in the spec or a later session in the series.
func (s Spec) restartOf(series Series) []float64 {
	since := series.since()
	if !s.Restart || !slices.ContainsFunc(since, func(k float64) bool { return k > 0 }) {
		return nil
	}
	share := make([]float64, len(since))
	for i, k := range since {
		if k > 0 {
			share[i] = math.Pow(s.Fading, k-1)
		}
	}
	return share
}

// since counts attempts since the session began, from 1, in sessions after the
// first; nil where sessions are not known.
func (s Series) since() []float64 {
	if s.Restart != nil || s.Session == nil {
		return s.Restart
	}
	out := make([]float64, len(s.Attempt))
	order := inOrder(s.Attempt)
	for k, i := range order[min(1, len(order)):] {
		switch before := order[k]; {
		case s.Session[i] != s.Session[before]:
			out[i] = 1
		case out[before] > 0:
			out[i] = out[before] + 1
		}
	}
	return out
}

// shifted is the mean at attempt i with the restart's shift, and the factor by
// which it was multiplied.
func (f *Fitter) shifted(m float64, q point, i int) (mean, factor float64) {
	e := q[f.restartAt()] * f.restart[i]
	if f.log {
		factor = math.Exp(e)
		return m * factor, factor
	}
	return m + e, 1
}

// bendRestart adds the second derivatives that a multiplying restart makes:
// ∂²m/∂a∂δ = x·∂m/∂a, with x the attempt's share of the shift δ.
func (f *Fitter) bendRestart(s *surface, i int, weight float64, mt *[maxDim]float64) {
	at := f.restartAt()
	for a := range at + 1 {
		s.hess[at][a] += weight * f.restart[i] * mt[a]
	}
}

// The names of the terms beside the curve.
const (
	restartTerm     = "restart"
	correlationTerm = "correlation"
)

// checkDependence reports what a restart or correlation cannot go with.
func (s Spec) checkDependence() error {
	squares, _ := models.Squares(s.Noise)
	switch {
	case s.Correlated && !squares:
		return fmt.Errorf("%w: correlation between neighbours needs normal or lognormal noise, not %s", ErrSeries, s.Noise.Name())
	case !(s.Fading >= 0 && s.Fading < 1):
		return fmt.Errorf("%w: a restart fades by a factor from 0 to below 1, not %v", ErrSeries, s.Fading)
	}
	return nil
}

// onLog reports whether residuals are added to the logarithm of the curve, as a restart's shift
// is then.
func onLog(n models.Noise) bool {
	scale, _ := models.AddedOn(n)
	return scale == models.AddedLog
}

// means is the mean at every attempt of the series, with the restart's shift.
func (f *Fit) means(s Series) []float64 {
	out := make([]float64, len(s.Attempt))
	log := onLog(f.Noise)
	for i, x := range s.Attempt {
		out[i] = f.Curve.At(x)
		switch {
		case f.share == nil:
		case log:
			out[i] *= math.Exp(f.shift * f.share[i])
		default:
			out[i] += f.shift * f.share[i]
		}
	}
	return out
}

// residuals are the deviations from the mean on the additive scale, less what an
// attempt's neighbour says of it where neighbours are correlated.
func (f *Fit) residuals(s Series) []float64 {
	out := f.means(s)
	for i, m := range out {
		out[i] = f.Noise.Residual(s.Response[i], m)
	}
	if f.correlated {
		nb := newNeighbours(s)
		nb.set(f.rho)
		u := make([]float64, len(out))
		nb.whiten(u, out)
		return u
	}
	return out
}

// dependence fills the terms beside the curve, and says why one is missing.
func (f *Fitter) dependence(out *Fit, s Series, sol solution) {
	if f.spec.Restart && f.restart == nil {
		out.warn("no-restart", "no attempt is known to follow a break between sessions, so no restart is in the curve")
	}
	if f.restart != nil {
		out.share, out.shift = f.restart, sol.point[sol.by.restartAt()]
		e := Estimate{restartTerm, out.shift, math.NaN(), math.NaN(), math.NaN(), false}
		if v := out.cov[naturalDim-1][naturalDim-1]; v > 0 {
			e = out.interval(restartTerm, out.shift, math.Sqrt(v), false)
		}
		out.Terms = append(out.Terms, e)
	}
	switch {
	case !f.spec.Correlated:
	case !f.whitened:
		out.warn("correlation-left-out", fmt.Sprintf("%d responses are censored, so neighbouring attempts are taken as independent", out.NCensored))
	case f.neighbour.pairs() < 3:
		out.warn("correlation-left-out", "too few attempts have a neighbour in their session to estimate a correlation")
	default:
		out.correlated, out.rho = true, sol.rho
		out.Terms = append(out.Terms, f.correlationEstimate(out, sol))
	}
}
