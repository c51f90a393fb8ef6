package compare

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
	"tyro/analysis/survival"
)

// A HazardCheck tests whether a hazard ratio stays the same over the attempts: the
// likelihood ratio of a ratio that moves with the logarithm of the attempt. The p is NaN
// where it cannot be told.
type HazardCheck struct{ ChiSquare, P float64 }

// Hazards compares how fast two arms come to meet the rule: above 1, the arm meets it
// sooner. At every attempt the hazard is the chance to meet the rule among those who have
// not yet; the ratio of the arms' hazards is averaged over the attempts, each with the
// share of all trainees who have not met the rule before it as its weight, so that late
// attempts with few trainees count for little (Schemper, Wakounig and Heinze, 2009,
// Statistics in Medicine 28, 2473-2489). It maximises the partial likelihood (Cox, 1972,
// Journal of the Royal Statistical Society B 34, 187-220; ties as in Efron, 1977, Journal of
// the American Statistical Association 72, 557-565) with these weights over the share who are
// still followed, which makes up for those who stop early, if they are like the others. Where
// hazards are proportional it is their ratio; otherwise what it comes to with many trainees,
// all followed as far as the last, and that is what the interval is of.
//
// Interval and p are of the likelihood ratio, divided by how much more the estimate varies
// than this likelihood says (Kent, 1982, Biometrika 69, 19-27). Its variance is that between
// trainees (Lin and Wei, 1989, Journal of the American Statistical Association 84,
// 1074-1078), about each arm's mean and with n − 1, judged by t with the degrees of freedom
// of the arms' variances (Welch, 1947, Biometrika 34, 28-35); or that of proportional hazards
// where it is more, judged by the normal distribution, without degrees of freedom. Arms that
// do not overlap have an infinite end.
func Hazards(measure string, refName, armName string, ref, arm []survival.Observation, level float64) (Contrast, HazardCheck) {
	c := HazardRatio(measure, refName, armName, ref, arm, level)
	if math.IsNaN(c.Estimate) || math.IsInf(math.Log(c.Estimate), 0) {
		return c, HazardCheck{math.NaN(), math.NaN()}
	}
	return c, proportional(risksOf(ref, arm))
}

// HazardRatio is the contrast of [Hazards] without its check.
func HazardRatio(measure string, refName, armName string, ref, arm []survival.Observation, level float64) Contrast {
	c := newContrast(measure, "weighted partial likelihood ratio", Arm{Name: refName}, Arm{Name: armName})
	c.ArmN, c.RefN, c.Ratio = len(arm), len(ref), true
	var err error
	if c.Level, err = analysis.Level(level); err != nil {
		c.warn("level", err.Error())
		return c
	}
	risks := risksOf(ref, arm)
	if len(risks) == 0 {
		c.warn("nobody-met-the-rule", "nobody met the rule while trainees of both arms were practising, so there is no hazard ratio")
		return c
	}
	best := mostLikely(risks, -30, 30)
	if math.Abs(best) > 25 {
		best = math.Copysign(math.Inf(1), best)
	}
	c.Estimate = math.Exp(best)
	if min(len(ref), len(arm)) < 2 {
		c.warn("too-few-trainees", "an arm with fewer than 2 trainees gives no interval")
		return c
	}
	var more float64
	more, c.DF = moreThanLikelihood(risks, ref, arm, best)
	top := logPartial(risks, clamp(best), 0)
	deviance := func(b float64) float64 { return math.Max(0, 2*(top-logPartial(risks, b, 0))) / more }
	c.P = 2 * tailsOf(c.DF)(math.Sqrt(deviance(0)))
	lower, upper := math.Inf(-1), math.Inf(1)
	furthest := quantileOf(c.DF, (1+c.Level)/2)
	outside := func(b float64) float64 { return deviance(b) - furthest*furthest }
	if at := clamp(best); outside(-30) > 0 && best > math.Inf(-1) {
		lower, _ = numeric.Root(outside, -30, at, numeric.Tolerance{})
	}
	if at := clamp(best); outside(30) > 0 && best < math.Inf(1) {
		upper, _ = numeric.Root(outside, at, 30, numeric.Tolerance{})
	}
	c.Lower, c.Upper = math.Exp(lower), math.Exp(upper)
	c.Describe()
	return c
}

// moreThanLikelihood is how many times the variance of the estimate is that which the
// weighted likelihood says, with its degrees of freedom; NaN where it is that of
// proportional hazards. Of arms that do not overlap only the latter is known, at a ratio of
// 1, and judged by t.
func moreThanLikelihood(risks []risk, ref, arm []survival.Observation, b float64) (times, df float64) {
	n, m := float64(len(arm)), float64(len(ref))
	if math.IsInf(b, 0) {
		information, slope := curvature(risks, 0)
		return slope / information, n + m - 2
	}
	information, slope := curvature(risks, b)
	va, vr := n*variance(scoreResiduals(risks, arm, 1, b)), m*variance(scoreResiduals(risks, ref, 0, b))
	if !(va+vr > slope) {
		return slope / information, math.NaN()
	}
	return (va + vr) / information, (va + vr) * (va + vr) / (va*va/(n-1) + vr*vr/(m-1))
}

// curvature is minus the second derivative of the weighted partial likelihood at b, and the
// variance of its slope where hazards are proportional.
func curvature(risks []risk, b float64) (information, slope float64) {
	for _, r := range risks {
		for k := range int(r.events) {
			z, _ := r.share(k, b)
			information += r.weight * z * (1 - z)
			slope += r.weight * r.weight * z * (1 - z)
		}
	}
	return information, slope
}

// share is the arm's part of the hazard of those at risk at the event k of those at one time,
// and that hazard, at a log hazard ratio of b.
func (r risk) share(k int, b float64) (share, whole float64) {
	e, gone := math.Exp(b), float64(k)/r.events
	whole = r.refAtRisk + r.atRisk*e - gone*(r.refEvents+r.own*e)
	return (r.atRisk - gone*r.own) * e / whole, whole
}

// scoreResiduals are what each trainee of an arm adds to the slope of the weighted partial
// likelihood (Therneau, Grambsch and Fleming, 1990, Biometrika 77, 147-160), z being 1 for
// the arm and 0 for the reference: at an own event z less the share of those at risk, less
// at every event until then as much as was to be expected.
func scoreResiduals(risks []risk, obs []survival.Observation, z, b float64) []float64 {
	out := make([]float64, len(obs))
	for _, r := range risks {
		own, atRisk, event := math.Exp(z*b), 0.0, 0.0
		for k := range int(r.events) {
			share, whole := r.share(k, b)
			expected := r.weight * own * (z - share) / whole
			atRisk -= expected
			event += r.weight*(z-share)/r.events - (1-float64(k)/r.events)*expected
		}
		for i, o := range obs {
			switch {
			case o.Time == r.time && o.Event:
				out[i] += event
			case o.Time >= r.time:
				out[i] += atRisk
			}
		}
	}
	return out
}

func clamp(b float64) float64 { return math.Max(-30, math.Min(30, b)) }

// A risk is one attempt with events: who was at risk, and how many had the event.
type risk struct {
	time               float64
	refAtRisk, atRisk  float64
	refEvents, own     float64
	events, logarithms float64 // events of both arms; log of the time
	weight             float64 // share of all who have not had it before, over the share followed until then
}

// risksOf counts at every attempt with an event while both arms are at risk. Events come before
// censorings. Both shares of the weights are product-limit estimates (Kaplan and Meier, 1958,
// Journal of the American Statistical Association 53, 457-481).
func risksOf(ref, arm []survival.Observation) []risk {
	all := slices.Concat(ref, arm)
	slices.SortFunc(all, func(a, b survival.Observation) int { return cmp.Compare(a.Time, b.Time) })
	count := func(obs []survival.Observation, t float64) (at, had float64) {
		for _, o := range obs {
			if o.Time >= t {
				at++
			}
			if o.Time == t && o.Event {
				had++
			}
		}
		return at, had
	}
	var out []risk
	yet, followed := 1.0, 1.0
	for i := 0; i < len(all); {
		r := risk{time: all[i].Time, logarithms: math.Log(math.Max(all[i].Time, 0.5)), weight: yet / followed}
		left := 0.0
		for ; i < len(all) && all[i].Time == r.time; i++ {
			if all[i].Event {
				r.events++
			} else {
				left++
			}
		}
		r.refAtRisk, r.refEvents = count(ref, r.time)
		r.atRisk, r.own = count(arm, r.time)
		if r.refAtRisk == 0 || r.atRisk == 0 {
			break // one arm alone says nothing of a ratio
		}
		if r.events > 0 {
			out = append(out, r)
		}
		at := r.refAtRisk + r.atRisk
		yet *= 1 - r.events/at
		if left > 0 {
			followed *= 1 - left/(at-r.events)
		}
	}
	return out
}

// logPartial is the weighted partial log-likelihood of a log hazard ratio of b + slope·log time.
func logPartial(risks []risk, b, slope float64) float64 {
	sum := 0.0
	for _, r := range risks {
		theta := b + slope*r.logarithms
		e := math.Exp(theta)
		one := r.own * theta
		for k := range int(r.events) {
			share := float64(k) / r.events
			one -= math.Log(r.refAtRisk + r.atRisk*e - share*(r.refEvents+r.own*e))
		}
		sum += r.weight * one
	}
	return sum
}

// mostLikely is the maximum in b, where the slope is 0; the end towards which the likelihood
// grows where it has none between the ends.
func mostLikely(risks []risk, lo, hi float64) float64 {
	slope := func(b float64) float64 {
		sum := 0.0
		for _, r := range risks {
			one := r.own
			for k := range int(r.events) {
				z, _ := r.share(k, b)
				one -= z
			}
			sum += r.weight * one
		}
		return sum
	}
	switch {
	case !(slope(lo) > 0):
		return lo
	case !(slope(hi) < 0):
		return hi
	}
	at, _ := numeric.Root(slope, lo, hi, numeric.Tolerance{})
	return at
}

// peak is the place and height of the one hump of f between two ends.
func peak(f func(float64) float64, lo, hi float64) (at, height float64) {
	golden := (math.Sqrt(5) - 1) / 2
	a, b := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fa, fb := f(a), f(b)
	for hi-lo > 1e-9 {
		if fa >= fb {
			hi, b, fb = b, a, fa
			a = hi - golden*(hi-lo)
			fa = f(a)
		} else {
			lo, a, fa = a, b, fb
			b = lo + golden*(hi-lo)
			fb = f(b)
		}
	}
	at = (lo + hi) / 2
	return at, f(at)
}

// proportional compares a constant ratio with one that moves with log time, all attempts
// weighing alike.
func proportional(risks []risk) HazardCheck {
	if len(risks) < 3 {
		return HazardCheck{math.NaN(), math.NaN()}
	}
	centre := 0.0
	for k := range risks {
		risks[k].weight = 1
		centre += risks[k].logarithms / float64(len(risks))
	}
	best := mostLikely(risks, -30, 30)
	_, moving := peak(func(slope float64) float64 {
		_, h := peak(func(b float64) float64 { return logPartial(risks, b-slope*centre, slope) }, best-10, best+10)
		return h
	}, -20, 20)
	x := math.Max(0, 2*(moving-logPartial(risks, best, 0)))
	return HazardCheck{x, distuv.ChiSquared{K: 1}.Survival(x)}
}
