package standard

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
	"tyro/analysis/internal/numeric"
	"tyro/analysis/resample"
)

// A Crossing says which point between two groups is the standard.
type Crossing string

// The crossings.
const (
	Normal   Crossing = "normal"   // of the two groups' fitted normal curves, each with area 1
	Weighted Crossing = "weighted" // of the same curves, each with the area of its group's size
	Logistic Crossing = "logistic" // where a logistic regression gives both groups the same chance
	Youden   Crossing = "youden"   // the observed value that parts the groups best
)

// A Normalised is one group of trainees summed up by a normal curve.
type Normalised struct {
	N        int
	Mean, SD float64
}

// Errors are the shares of a group on the wrong side of a standard.
type Errors struct {
	FalsePass float64 // of the not yet competent, those who pass
	FalseFail float64 // of the competent, those who fail
}

// A Contrast is a standard between two groups.
type Contrast struct {
	Estimate
	NotCompetent, Competent Normalised
	Crossings               []float64 // all of the normal curves, in order; one lies between the means, or none
	ByMethod                map[Crossing]float64
	Midpoint                float64 // between the means
	Observed, Theoretical   Errors  // at the standard; theoretical by the normal curves
	Logistic                LogisticCut
	YoudenJ                 float64 // at the best observed value: sensitivity plus specificity minus 1
}

// A GroupRule says how a standard follows from two groups.
type GroupRule struct {
	Lower    bool
	Crossing Crossing // "" means Normal
	Level    float64  // 0 means 0.95
}

// ContrastingGroups sets the standard between those judged competent and those
// judged not yet. Livingston and Zieky (1982). The standard error of a normal
// crossing is by the delta method (that of the logistic one likewise; none for
// Youden's); the interval is an expanded percentile interval from a bootstrap
// within the groups.
func ContrastingGroups(ctx context.Context, values []float64, competent []bool, r GroupRule, sampling resample.Sampling) (Contrast, error) {
	if len(values) != len(competent) {
		return Contrast{}, fmt.Errorf("%d values for %d judgements", len(values), len(competent))
	}
	var err error
	if r.Level, err = analysis.Level(r.Level); err != nil {
		return Contrast{}, err
	}
	if r.Crossing == "" {
		r.Crossing = Normal
	}
	var not, yes []float64
	for i, v := range values {
		switch {
		case math.IsNaN(v):
		case competent[i]:
			yes = append(yes, v)
		default:
			not = append(not, v)
		}
	}
	c := Contrast{Estimate: unknown(len(not)+len(yes), r.Level)}
	if len(not) < 2 || len(yes) < 2 {
		return c, fmt.Errorf("contrasting groups need at least 2 trainees in each group; there are %d not yet competent and %d competent", len(not), len(yes))
	}
	if err := c.describe(not, yes, r); err != nil {
		return c, err
	}
	if math.IsNaN(c.Value) {
		return c, nil
	}
	return c, c.interval(ctx, not, yes, r, sampling)
}

// describe fills all but the interval.
func (c *Contrast) describe(not, yes []float64, r GroupRule) error {
	c.NotCompetent, c.Competent = Normalised{len(not), mean(not), sd(not)}, Normalised{len(yes), mean(yes), sd(yes)}
	c.Midpoint = (c.NotCompetent.Mean + c.Competent.Mean) / 2
	if (c.Competent.Mean < c.NotCompetent.Mean) != r.Lower {
		c.warn("groups-reversed", "the competent group is not the better one on average; look at the direction of the measure and at the judgements")
	}
	c.Crossings = crossings(c.NotCompetent, c.Competent, 1, 1)
	c.Logistic = fitLogistic(not, yes)
	if c.Logistic.Separated {
		c.warn("groups-apart", "no value is seen in both groups' range, so the logistic regression has no single answer")
	}
	youden, j := youden(not, yes, r.Lower)
	c.YoudenJ = j
	c.ByMethod = map[Crossing]float64{
		Normal:   between(c.Crossings, c.NotCompetent, c.Competent),
		Weighted: between(crossings(c.NotCompetent, c.Competent, float64(len(not)), float64(len(yes))), c.NotCompetent, c.Competent),
		Logistic: c.Logistic.Cut, Youden: youden,
	}
	if !(j > 1e-12) {
		c.ByMethod[Youden] = math.NaN() // no value parts the groups the right way round
	}
	value, known := c.ByMethod[r.Crossing]
	if !known {
		return fmt.Errorf("crossing %q: expected normal, weighted, logistic or youden", r.Crossing)
	}
	c.Value = value
	nan := math.NaN()
	c.Observed, c.Theoretical = Errors{nan, nan}, Errors{nan, nan}
	if math.IsNaN(value) {
		if r.Crossing == Youden {
			c.warn("no-crossing", "at no value do more of the competent pass than of the others, so this method sets no standard here")
			return nil
		}
		c.warn("no-crossing", fmt.Sprintf("the groups have no %s crossing between their means, so this method sets no standard here", r.Crossing))
		return nil
	}
	if len(c.Crossings) == 2 && r.Crossing == Normal {
		other := c.Crossings[0]
		if other == value {
			other = c.Crossings[1]
		}
		c.warn("two-crossings", fmt.Sprintf("the groups' standard deviations differ (%.4g and %.4g), so the curves cross twice; the crossing between the means is used, the other is at %.4g", c.NotCompetent.SD, c.Competent.SD, other))
	}
	c.Observed = Errors{passing(not, value, r.Lower), 1 - passing(yes, value, r.Lower)}
	c.Theoretical = Errors{c.NotCompetent.passing(value, r.Lower), 1 - c.Competent.passing(value, r.Lower)}
	switch r.Crossing {
	case Logistic:
		c.SE = c.Logistic.CutSE
	case Normal:
		c.SE = crossingSE(c.NotCompetent, c.Competent, 1, 1)
	case Weighted:
		c.SE = crossingSE(c.NotCompetent, c.Competent, float64(len(not)), float64(len(yes)))
	}
	return nil
}

func passing(x []float64, standard float64, lower bool) float64 {
	n := 0.0
	for _, v := range x {
		if Passes(v, standard, lower) {
			n++
		}
	}
	return n / float64(len(x))
}

func (g Normalised) passing(standard float64, lower bool) float64 {
	z := (standard - g.Mean) / g.SD
	if !lower {
		z = -z
	}
	return distuv.UnitNormal.CDF(z)
}

// crossings are where two normal curves of the given areas meet, in order:
// roots of a quadratic in x, or of a line where the spreads are equal.
func crossings(a, b Normalised, areaA, areaB float64) []float64 {
	if !(a.SD > 0) || !(b.SD > 0) {
		return nil
	}
	q2 := 1/(2*a.SD*a.SD) - 1/(2*b.SD*b.SD)
	q1 := b.Mean/(b.SD*b.SD) - a.Mean/(a.SD*a.SD)
	q0 := a.Mean*a.Mean/(2*a.SD*a.SD) - b.Mean*b.Mean/(2*b.SD*b.SD) + math.Log(areaB*a.SD/(areaA*b.SD))
	if math.Abs(a.SD-b.SD) <= 1e-12*(a.SD+b.SD) {
		if q1 == 0 {
			return nil
		}
		return []float64{-q0 / q1}
	}
	root := q1*q1 - 4*q2*q0
	if root < 0 {
		return nil
	}
	// The root of larger size first, so that neither is a difference of near
	// equals.
	far := -(q1 + math.Copysign(math.Sqrt(root), q1)) / 2
	x, y := far/q2, q0/far
	if far == 0 {
		y = x
	}
	return []float64{math.Min(x, y), math.Max(x, y)}
}

// between is the crossing that lies between the means; NaN when none does.
func between(xs []float64, a, b Normalised) float64 {
	for _, x := range xs {
		if x > math.Min(a.Mean, b.Mean) && x < math.Max(a.Mean, b.Mean) {
			return x
		}
	}
	return math.NaN()
}

// crossingSE is the delta method: central differences of the crossing in both
// means and standard deviations, with variances s²/n and s²/(2(n − 1)).
func crossingSE(a, b Normalised, areaA, areaB float64) float64 {
	at := func(d []float64) float64 {
		u, v := Normalised{a.N, a.Mean + d[0], a.SD + d[1]}, Normalised{b.N, b.Mean + d[2], b.SD + d[3]}
		return between(crossings(u, v, areaA, areaB), u, v)
	}
	h := 1e-5 * math.Min(a.SD, b.SD)
	slopes := numeric.Gradient(at, make([]float64, 4), []float64{h, h, h, h})
	variance := 0.0
	for i, v := range []float64{
		a.SD * a.SD / float64(a.N), a.SD * a.SD / float64(2*(a.N-1)),
		b.SD * b.SD / float64(b.N), b.SD * b.SD / float64(2*(b.N-1)),
	} {
		variance += square(slopes[i]) * v
	}
	return math.Sqrt(variance)
}

func square(v float64) float64 { return v * v }

// youden is the easiest standard among those observed values at which the
// share of competent passing most exceeds that of the others. It walks from the
// strictest value to the easiest, so that those passing only grow.
func youden(not, yes []float64, lower bool) (value, j float64) {
	a, b := strictestFirst(not, lower), strictestFirst(yes, lower)
	i, k := 0, 0 // not yet competent and competent who pass
	j = math.Inf(-1)
	for i < len(a) || k < len(b) {
		var c float64
		if k == len(b) || i < len(a) && Passes(a[i], b[k], lower) {
			c = a[i]
		} else {
			c = b[k]
		}
		for i < len(a) && Passes(a[i], c, lower) {
			i++
		}
		for k < len(b) && Passes(b[k], c, lower) {
			k++
		}
		if at := float64(k)/float64(len(b)) - float64(i)/float64(len(a)); at >= j-1e-12 {
			value, j = c, math.Max(at, j)
		}
	}
	return value, j
}

// strictestFirst sorts values so that the hardest to pass come first.
func strictestFirst(x []float64, lower bool) []float64 {
	out := sorted(x)
	if !lower {
		slices.Reverse(out)
	}
	return out
}

// interval is from a bootstrap of trainees within their groups.
func (c *Contrast) interval(ctx context.Context, not, yes []float64, r GroupRule, sampling resample.Sampling) error {
	pool := append(append([]float64(nil), not...), yes...)
	members := [][]int{make([]int, len(not)), make([]int, len(yes))}
	for i := range not {
		members[0][i] = i
	}
	for i := range yes {
		members[1][i] = len(not) + i
	}
	reps, err := resample.Replicate(ctx, sampling, "standard/contrasting-groups", func() func(*rand.Rand) float64 {
		return func(rnd *rand.Rand) float64 {
			drawn := resample.Within(rnd, members)
			a, b := make([]float64, len(not)), make([]float64, len(yes))
			for i, m := range drawn[0] {
				a[i] = pool[m]
			}
			for i, m := range drawn[1] {
				b[i] = pool[m]
			}
			return cut(a, b, r)
		}
	})
	if err != nil {
		return err
	}
	df := float64(len(pool) - 2)
	n := math.Min(float64(len(not)), float64(len(yes)))
	iv := resample.PercentileInterval(reps, resample.ExpandedLevel(c.Level, df, math.Sqrt(n/(n-1))))
	c.Lower, c.Upper, c.Interval = iv.Lower, iv.Upper, "bootstrap"
	if iv.Refused() {
		c.warn("interval-refused", fmt.Sprintf("%d of %d bootstrap samples have no crossing, too many for an interval", iv.Failed, iv.Failed+iv.Replicates))
	}
	return nil
}

// cut is the standard of two samples; NaN where it is not defined.
func cut(not, yes []float64, r GroupRule) float64 {
	a, b := Normalised{len(not), mean(not), sd(not)}, Normalised{len(yes), mean(yes), sd(yes)}
	switch r.Crossing {
	case Logistic:
		return fitLogistic(not, yes).Cut
	case Youden:
		v, j := youden(not, yes, r.Lower)
		if !(j > 1e-12) {
			return math.NaN()
		}
		return v
	case Weighted:
		return between(crossings(a, b, float64(len(not)), float64(len(yes))), a, b)
	}
	return between(crossings(a, b, 1, 1), a, b)
}
