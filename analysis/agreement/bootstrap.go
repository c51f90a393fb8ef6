package agreement

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
)

// A statistic is prepared once on a table and answers for the subjects drawn,
// named by position; several coefficients share one pass over them.
type statistic func(draw []int) []float64

// bySubjects draws subjects with replacement and gives an interval for each of
// the statistic's values: it generalises to other subjects rated by these
// raters. newStat is called once a goroutine.
//
// Limits are bias-corrected and accelerated, read at the level a Student t
// interval would leave in the tails (see [resample.ExpandedLevel]), since
// samples of twenty subjects are common here.
func bySubjects(ctx context.Context, o Options, purpose string, n int, newStat func() statistic) ([]Interval, error) {
	reps, err := resample.Replicate(ctx, o.Sampling, "agreement/"+purpose, func() func(*rand.Rand) []float64 {
		draw, stat := make([]int, n), newStat()
		return func(rnd *rand.Rand) []float64 { return stat(resample.Indices(rnd, draw, n)) }
	})
	if err != nil {
		return nil, err
	}
	stat := newStat()
	full := stat(everyone(n))
	jack := leaveOut(n, stat)
	level := resample.ExpandedLevel(o.level(), float64(n-1), math.Sqrt(float64(n)/float64(n-1)))
	level = math.Min(level, 0.9999) // two or three subjects ask for more than replicates can tell
	out := make([]Interval, len(full))
	for j := range full {
		out[j] = bootstrapInterval(full[j], column(jack, j), column(reps, j), level)
		out[j].Over = OverSubjects
		if out[j].Note == "" {
			out[j].Method = "BCa bootstrap of subjects, expanded for their number"
		}
	}
	return out, nil
}

func bootstrapInterval(estimate float64, jack, reps []float64, level float64) Interval {
	iv := resample.BCaInterval(estimate, resample.Acceleration(jack), reps, level)
	out := Interval{SE: spread(reps), Lower: iv.Lower, Upper: iv.Upper, Replicates: iv.Replicates, Failed: iv.Failed}
	switch {
	case math.IsNaN(estimate):
		out.Lower, out.Upper, out.SE, out.Note = math.NaN(), math.NaN(), math.NaN(), notDefined
	case iv.Refused():
		out.SE = math.NaN()
		out.Note = fmt.Sprintf("no interval: in %d of %d bootstrap samples the coefficient is not defined", iv.Failed, iv.Failed+iv.Replicates)
	case out.SE < 1e-12:
		out.Lower, out.Upper, out.SE = math.NaN(), math.NaN(), math.NaN()
		out.Note = "no interval: it does not vary"
	}
	return out
}

func everyone(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}

// maxGroups bounds the work of the jackknife: with more subjects whole groups
// are left out, which leaves the acceleration's expectation as it is.
const maxGroups = 250

// leaveOut computes the statistic without each subject (or group) in turn.
func leaveOut(n int, stat statistic) [][]float64 {
	groups := min(n, maxGroups)
	var out [][]float64
	draw := make([]int, 0, n)
	for g := range groups {
		from, to := g*n/groups, (g+1)*n/groups
		draw = draw[:0]
		for i := range n {
			if i < from || i >= to {
				draw = append(draw, i)
			}
		}
		out = append(out, stat(draw))
	}
	return out
}

func column(rows [][]float64, j int) []float64 {
	out := make([]float64, len(rows))
	for i, row := range rows {
		out[i] = row[j]
	}
	return out
}

// spread is the standard deviation of the usable replicates.
func spread(reps []float64) float64 {
	n, mean, ss := 0.0, 0.0, 0.0
	for _, v := range reps {
		if math.IsNaN(v) {
			continue
		}
		n++
		d := v - mean
		mean += d / n
		ss += d * (v - mean)
	}
	return math.Sqrt(ss / (n - 1))
}

// analytic fills a coefficient's limits from its standard error with Student's
// t; df NaN means the normal distribution. A coefficient of agreement cannot
// exceed 1 nor fall below -1, a share of agreement not below 0, so neither do its
// limits.
func (c Coefficient) analytic(se, df float64, method string) Coefficient {
	c.Over = OverSubjects
	if !(se > 1e-9) {
		c.Note = "no interval: standard error 0"
		return c
	}
	q := distuv.UnitNormal.Quantile((1 + c.Level) / 2)
	if !math.IsNaN(df) {
		q = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + c.Level) / 2)
	}
	c.SE, c.Lower, c.Upper, c.Method = se, c.Estimate-q*se, c.Estimate+q*se, method
	if c.Upper > 1 {
		c.Upper, c.Method = 1, method+", cut at 1"
	}
	least := -1.0
	if c.Name == "percent-agreement" {
		least = 0
	}
	if c.Lower < least {
		c.Lower, c.Method = least, fmt.Sprintf("%s, cut at %g", c.Method, least)
	}
	return c
}

// promote makes the bootstrap interval the coefficient's own.
func (c Coefficient) promote(iv Interval) Coefficient {
	c.SE, c.Lower, c.Upper, c.Method, c.Over = iv.SE, iv.Lower, iv.Upper, iv.Method, iv.Over
	if c.Note == "" {
		c.Note = iv.Note
	}
	return c
}
