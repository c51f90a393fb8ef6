package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
)

// A RatioTest compares a curve with a smaller one inside it by their likelihoods.
type RatioTest struct {
	Larger, Smaller string  // families
	Deviance        float64 // twice the difference of log-likelihoods, at least 0
	DF              int     // parameters the smaller one lacks
	PChi            float64 // from the chi-square distribution on DF degrees of freedom
	P               float64 // from series simulated under the smaller curve; NaN without replicates
	Replicates      int     // refitted by both curves
}

// LikelihoodRatio tests the smaller spec's curve against the larger one's, which
// must contain it: plateau at 0, prior at 0, no gain. On such an edge of the
// larger curve the chi-square distribution is not the right one (Self and Liang,
// 1987, Journal of the American Statistical Association 82, 605-610), and where
// the smaller curve leaves a rate without a meaning nothing is known of it
// (Davies, 1987, Biometrika 74, 33-43); so the p value to read is the share of
// simulated deviances as large as the one seen, (1 + #)/(1 + replicates). Both
// fits must be usable.
func LikelihoodRatio(ctx context.Context, s Series, smaller, larger Spec, sampling resample.Sampling, purpose string) (RatioTest, error) {
	if !larger.Family.Contains(smaller.Family) {
		return RatioTest{}, fmt.Errorf("%w: the %s curve is not a special case of the %s curve, so their likelihoods make no test", ErrSeries, smaller.Family.Name(), larger.Family.Name())
	}
	small, err := One(s, smaller)
	if err != nil {
		return RatioTest{}, err
	}
	large, err := One(s, larger)
	if err != nil {
		return RatioTest{}, err
	}
	out := RatioTest{
		Larger: larger.Family.Name(), Smaller: smaller.Family.Name(), Deviance: math.NaN(), PChi: math.NaN(), P: math.NaN(),
		DF: free(larger) - free(smaller),
	}
	if !small.Status.Usable() || !large.Status.Usable() {
		return out, nil
	}
	if out.DF <= 0 {
		return out, fmt.Errorf("%w: the %s curve is not smaller than the %s curve", ErrSeries, out.Smaller, out.Larger)
	}
	out.Deviance = deviance(small.LogLik, large.LogLik)
	out.PChi = distuv.ChiSquared{K: float64(out.DF)}.Survival(out.Deviance)
	deviances, err := resample.Replicate(ctx, sampling, "fit/ratio/"+purpose, func() func(*rand.Rand) float64 {
		w := newRefitter(s, []Spec{smaller, larger}, Choice{Fit: small}, Parametric)
		return func(r *rand.Rand) float64 {
			if !w.resample(r) {
				return math.NaN()
			}
			return w.deviance()
		}
	})
	if err != nil {
		return out, err
	}
	beyond := 0
	for _, d := range deviances {
		if math.IsNaN(d) {
			continue
		}
		out.Replicates++
		if d >= out.Deviance {
			beyond++
		}
	}
	out.P = float64(1+beyond) / float64(1+out.Replicates)
	return out, nil
}

// free counts the parameters of the mean that a spec leaves to the data.
func free(s Spec) int {
	n := len(s.Family.Params()) - len(s.Hold)
	if s.Restart {
		n++
	}
	if s.Correlated {
		n++
	}
	return n
}

// deviance is twice the difference of log-likelihoods of the second and first
// spec on the drawn series; NaN where one of them cannot be fitted.
func (w *refitter) deviance() float64 {
	cens := w.censoring()
	var logLik [2]float64
	for k, f := range w.fitters {
		drawn := w.series
		drawn.Response, drawn.Censored = w.y, cens
		if _, short := tooLittle(drawn, w.specs[k]); short {
			return math.NaN()
		}
		sol := f.solve(w.y, cens)
		if sol.by == nil || !sol.converged {
			return math.NaN()
		}
		logLik[k] = f.logLikelihood(sol)
	}
	return deviance(logLik[0], logLik[1])
}

// deviance is twice the difference of log-likelihoods; what rounding leaves of
// none is 0.
func deviance(small, large float64) float64 {
	if d := 2 * (large - small); d > 1e-9 {
		return d
	}
	return 0
}
