package cohort

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis/resample"
)

// A Banded is an observed quantity with the range of 95 % of its simulated
// counterparts.
type Banded struct{ At, Observed, Lower, Upper float64 }

// Outside reports whether it lies beyond its range.
func (b Banded) Outside() bool { return b.Observed < b.Lower || b.Observed > b.Upper }

// A Straightness is how straight ordered values run against normal scores, held
// against cohorts drawn from the fit and fitted again (Atkinson, 1985, Plots,
// Transformations and Regression, chapter 4, for the envelope; Filliben, 1975,
// Technometrics 17, 111-117, for the correlation).
type Straightness struct {
	Parameter string // blank for residuals
	Points    []Banded
	Bend      float64 // 1 − squared correlation with the normal scores
	P         float64 // share of simulated cohorts, the one at hand included, with a bend as large
}

// Checks hold a fit against cohorts drawn from it.
type Checks struct {
	Replicates, Failed int
	Residuals          Straightness   // no points where noise has no residuals
	Deviations         []Straightness // by random parameter
}

// residualPoints is the number of quantiles of residuals compared.
const residualPoints = 99

// shapes are the ordered residuals, at a fixed number of shares, and the ordered
// deviations of each random parameter.
func (k look) shapes() [][]float64 {
	out := [][]float64{nil}
	if e := k.residuals(); len(e) > 1 {
		for i := range residualPoints {
			out[0] = append(out[0], resample.Quantile(e, (float64(i)+0.5)/residualPoints))
		}
	}
	return append(out, k.deviations()...)
}

// Checks draws as many new cohorts from the fit as the sampling says (199 are enough
// for a picture and a p value of 0.005), fits each again on the same rung, and
// compares the shapes of residuals and of trainees' deviations. Predicted
// deviations are drawn towards the normal by the model itself, which hides
// departures from it where trainees have few attempts; the simulated ones are
// drawn so too, which keeps the p value honest but not the test strong. A fit in
// two stages has no likelihood to draw from and gives none.
func (c *Cohort) Checks(ctx context.Context, sampling resample.Sampling) (Checks, error) {
	if err := c.withAttempts(); err != nil {
		return Checks{}, err
	}
	if c.Rung == RungTwoStage {
		return Checks{}, nil
	}
	observed := c.here(ctx).shapes()
	reps, err := resample.Replicate(ctx, sampling, "cohort checks", func() func(*rand.Rand) [][]float64 {
		return func(r *rand.Rand) [][]float64 {
			k, ok := c.nearby(ctx, c.Simulate(r))
			if !ok {
				return nil
			}
			return k.shapes()
		}
	})
	if err != nil {
		return Checks{}, err
	}
	out := Checks{Replicates: len(reps)}
	reps = slices.DeleteFunc(reps, func(s [][]float64) bool { return s == nil })
	out.Failed = out.Replicates - len(reps)
	if len(reps) == 0 {
		return out, nil
	}
	out.Residuals = straightness("", observed[0], reps, 0)
	for a, i := range c.m.random {
		out.Deviations = append(out.Deviations, straightness(c.m.parts[i].name, observed[a+1], reps, a+1))
	}
	return out, nil
}

// ordered is the value of an ordered list at the place that the i-th of n has in theirs: simulated attempts run into a
// limit more or less often than those seen.
func ordered(list []float64, i, n int) float64 {
	if len(list) == n {
		return list[i]
	}
	return list[min(len(list)-1, int((float64(i)+0.5)/float64(n)*float64(len(list))))]
}

// straightness compares one ordered list with its simulated counterparts.
func straightness(name string, observed []float64, reps [][][]float64, at int) Straightness {
	out := Straightness{Parameter: name, Bend: bend(observed), P: math.NaN()}
	if len(observed) == 0 {
		return out
	}
	reps = slices.DeleteFunc(slices.Clone(reps), func(r [][]float64) bool { return len(r[at]) == 0 }) // every attempt ran into the limit
	if len(reps) == 0 {
		return out
	}
	column := make([]float64, len(reps))
	for i, x := range scores(len(observed)) {
		for b, r := range reps {
			column[b] = ordered(r[at], i, len(observed))
		}
		slices.Sort(column)
		out.Points = append(out.Points, Banded{x, observed[i], resample.Quantile(column, 0.025), resample.Quantile(column, 0.975)})
	}
	for b, r := range reps {
		column[b] = bend(r[at])
	}
	out.P = resample.PermutationP(out.Bend, column)
	return out
}

// bend is 1 minus the squared correlation of ordered values with normal scores;
// NaN where there are fewer than three.
func bend(sorted []float64) float64 {
	n := len(sorted)
	if n < 3 {
		return math.NaN()
	}
	x := slices.Clone(sorted)
	standardise(x)
	z := scores(n)
	var xz, zz float64
	for i := range x {
		xz += x[i] * z[i]
		zz += z[i] * z[i]
	}
	return 1 - xz*xz/(zz*float64(n-1))
}

// An AttemptBand is a quantile of an arm's responses at one attempt number, or
// their mean where responses are counts or passes.
type AttemptBand struct {
	Arm   string
	Share float64 // of the quantile; NaN for the mean
	N     int     // trainees with the attempt
	Banded
}

// minAtAttempt is the fewest trainees at an attempt number for a band.
const minAtAttempt = 5

// AttemptBands compares responses attempt by attempt with what the same trainees
// give when their responses are drawn again from the fit. The deviations are
// drawn from what is known of each trainee, so that trainees who stopped early
// are compared with themselves.
func (c *Cohort) AttemptBands(ctx context.Context, sampling resample.Sampling) ([]AttemptBand, error) {
	if err := c.withAttempts(); err != nil {
		return nil, err
	}
	if c.Rung == RungTwoStage {
		return nil, nil
	}
	out := c.byAttempt(c.trainees)
	reps, err := resample.Replicate(ctx, sampling, "cohort attempts", func() func(*rand.Rand) []AttemptBand {
		return func(r *rand.Rand) []AttemptBand { return c.byAttempt(c.again(r)) }
	})
	if err != nil {
		return nil, err
	}
	column := make([]float64, len(reps))
	for i := range out {
		for b, r := range reps {
			column[b] = r[i].Observed
		}
		slices.Sort(column)
		out[i].Lower, out[i].Upper = resample.Quantile(column, 0.025), resample.Quantile(column, 0.975)
	}
	return out, nil
}

// byAttempt lists the quantiles, arm by arm and in the order of attempts.
func (c *Cohort) byAttempt(ts []Trainee) []AttemptBand {
	shares := []float64{0.1, 0.5, 0.9}
	if !c.Model.Noise.Additive() {
		shares = []float64{math.NaN()}
	}
	var out []AttemptBand
	for _, arm := range c.Arms {
		at := map[float64][]float64{}
		for _, t := range ts {
			if t.Arm != arm {
				continue
			}
			for j, n := range t.Attempt {
				at[n] = append(at[n], t.Response[j])
			}
		}
		var numbers []float64
		for n, ys := range at {
			if len(ys) >= minAtAttempt {
				numbers = append(numbers, n)
				slices.Sort(ys)
			}
		}
		slices.Sort(numbers)
		for _, share := range shares {
			for _, n := range numbers {
				b := AttemptBand{Arm: arm, Share: share, N: len(at[n])}
				b.At, b.Observed = n, mean(at[n])
				if !math.IsNaN(share) {
					b.Observed = resample.Quantile(at[n], share)
				}
				out = append(out, b)
			}
		}
	}
	return out
}

func mean(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s / float64(len(x))
}
