package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

// A CohortForecast is the predictive distribution of one attempt: of the chance to pass it
// where passes and fails are all that an attempt shows.
type CohortForecast struct {
	Attempt      float64
	Expected     float64 // mean; of times the geometric one
	Median       float64
	Lower, Upper float64
	// The ends by the models alone, where the others are corrected by what trainees did (see
	// [cohort.Fell]); otherwise the same.
	ModelLower, ModelUpper float64
}

// A CohortCorrection says how ranges of later attempts are corrected.
type CohortCorrection struct {
	Trainees, Attempts int
	Level              float64
	Inside             float64 // share of later attempts inside the models' ranges of this level
	Lower, Upper       float64 // shares of the models' predictions at the corrected ends, over all

	fell cohort.Fell
}

// ends are the shares of the models' predictions at the corrected ends for somebody with so many attempts.
func (c *CohortCorrection) ends(known int) (lower, upper float64) {
	near := c.fell.After(known)
	return math.Max(near.Corrected((1-c.Level)/2), farthestEnd), math.Min(near.Corrected((1+c.Level)/2), 1-farthestEnd)
}

// A CohortCrossing is a trainee's number of attempts under one definition of proficiency:
// median and ends, +Inf beyond the horizon, NaN withheld.
type CohortCrossing struct {
	Definition             string
	Estimate, Lower, Upper float64
	NotReached             float64 // chance of not getting there within the horizon
	Status                 proficiency.Status
}

// A CohortMove is what was projected of a trainee after some attempts: the attempt at which
// the rule is met.
type CohortMove struct {
	Made int // attempts
	CohortCrossing
}

// atOnce bounds how many trainees' posteriors are worked with at a time.
const atOnce = 64

// members works out every trainee's next attempts and, with a standard, attempts to
// proficiency.
func (w *cohortWork) members(ctx context.Context) error {
	people := w.c.Fit.People
	if !w.o.asks(PartMembers | PartMoves) {
		return nil
	}
	w.c.Members = make([]CohortMember, len(people))
	for from := 0; from < len(people); from += atOnce {
		to := min(from+atOnce, len(people))
		if err := w.membersOf(ctx, from, to); err != nil {
			return err
		}
		if w.Options.Progress != nil {
			w.Options.Progress(to, len(people))
		}
	}
	return nil
}

// membersOf does so for some of them.
func (w *cohortWork) membersOf(ctx context.Context, from, to int) error {
	people := w.c.Fit.People[from:to]
	series := make([]cohort.Trainee, len(people))
	for i, t := range people {
		series[i] = cohort.Of(t, w.c.Fit.Spec.Sessions)
	}
	posteriors, err := w.c.Fit.known.Posteriors(ctx, series, w.Sampling())
	if err != nil {
		return err
	}
	sampling := w.Sampling()
	sampling.Progress = nil
	err = resample.Each(ctx, len(people), sampling, func() func(int) error {
		return func(i int) error {
			m := w.c.Fit.Members[from+i]
			last := slices.Max(series[i].Attempt)
			one := CohortMember{Member: m, OwnShare: w.c.Fit.ownShares(m), Next: w.forecasts(&posteriors[i], m.N, last+1, w.o.Ahead)}
			if w.Question.Standard.Set() {
				one.Proficiency = []CohortCrossing{w.meanCrossing(&posteriors[i], m.N, last)}
			}
			w.c.Members[from+i] = one
			return nil
		}
	})
	if err != nil || !w.Question.Standard.Set() {
		return err
	}
	return w.passing(ctx, from, to)
}

// ownShares says by parameter how much of a member's value rests on the member's own
// attempts: 1 for all, 0 for none.
func (c *CohortFit) ownShares(m cohort.Member) []float64 {
	out := make([]float64, len(c.Parameters))
	for j, name := range c.Parameters {
		for a, r := range c.Random {
			if r.Parameter == name && a < len(m.Shrinkage) {
				out[j] = 1 - m.Shrinkage[a]
			}
		}
	}
	return out
}

// forecasts are of single attempts of somebody with so many.
func (w *cohortWork) forecasts(p *cohort.Posterior, known int, first float64, ahead int) []CohortForecast {
	level := w.Options.Level
	lower, upper := (1-level)/2, (1+level)/2
	shares := []float64{lower, 0.5, upper}
	if c := w.c.Correction; c != nil {
		low, high := c.ends(known)
		shares = append(shares, low, high)
	}
	var out []CohortForecast
	for k := range ahead {
		n := first + float64(k)
		expected, q := p.Foretold(n, 0, shares...)
		if models.IsPassFail(w.Noise()) {
			q = p.MeanQuantiles(n, 0, shares...)
		}
		f := CohortForecast{Attempt: n, Expected: expected, Median: q[1], Lower: q[0], Upper: q[2], ModelLower: q[0], ModelUpper: q[2]}
		if w.c.Correction != nil {
			f.Lower, f.Upper = q[3], q[4]
		}
		out = append(out, f)
	}
	return out
}

// farthestEnd is the share of a prediction that a corrected end leaves beyond it at least: attempts
// that the models took for all but impossible do not make a range without end.
const farthestEnd = 1e-4

// correct settles how ranges of later attempts are corrected.
func (w *cohortWork) correct(context.Context) error {
	chosen := w.c.Fit.Chosen
	if chosen == nil {
		return nil
	}
	level, fell := w.Options.Level, chosen.Fell
	c := &CohortCorrection{
		Trainees: fell.Trainees, Attempts: len(fell.At), Level: level, Inside: fell.Inside(level),
		Lower: math.Max(fell.Corrected((1-level)/2), farthestEnd), Upper: math.Min(fell.Corrected((1+level)/2), 1-farthestEnd), fell: fell,
	}
	if c.Lower != (1-level)/2 || c.Upper != (1+level)/2 {
		w.c.Correction = c
	}
	return nil
}

// meanCrossing is the first attempt at which a trainee's curve meets the standard.
func (w *cohortWork) meanCrossing(p *cohort.Posterior, usable int, last float64) CohortCrossing {
	q := w.question()
	at := func(d *cohort.Draw) float64 { return q.MeanCrossing(d.Noise(), d) }
	v, never := p.Attempts(at, 0.5, (1-q.Level)/2, (1+q.Level)/2)
	out := CohortCrossing{Definition: proficiency.MeanCrossing, Estimate: v[0], Lower: v[1], Upper: v[2], NotReached: never}
	out.Status = out.crossed(usable, last)
	return out
}

// crossed is the status of attempts that were read off the curves a trainee may have.
func (c CohortCrossing) crossed(usable int, last float64) proficiency.Status {
	switch {
	case c.Upper <= last:
		return proficiency.Reached
	case usable < proficiency.MinAttempts:
		return proficiency.TooEarly
	case math.IsInf(c.Lower, 1):
		return proficiency.BeyondHorizon
	case math.IsInf(c.Upper, 1):
		return proficiency.TooEarly
	}
	return proficiency.Projected
}

// ownCurves adds what each trainee's own attempts say alone, of the cohort's family.
func (w *cohortWork) ownCurves(ctx context.Context) error {
	if !w.o.Own {
		return nil
	}
	learners, err := w.Learners(ctx)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		w.c.Warnings.Add("no-own-curves", "no trainee has a curve from their own attempts alone: "+err.Error())
		return nil
	}
	missing := 0
	for _, t := range w.c.Fit.People {
		i := slices.IndexFunc(w.Trainees, func(p practice.Trainee) bool { return p.ID == t.ID })
		own := ownParameters(learners.Each[i], w.c.Fit.Family, w.c.Fit.Parameters)
		if !slices.ContainsFunc(own, func(v float64) bool { return !math.IsNaN(v) }) {
			missing++
		}
		w.c.Own = append(w.c.Own, own)
	}
	if missing > 0 {
		w.c.Warnings.Add("own-curves-missing", fmt.Sprintf("trainees whose own attempts alone give no %s curve: %d of %d; pictures of own curves leave them out", w.c.Fit.Family, missing, len(w.c.Own)))
	}
	return nil
}

// ownParameters reads a cohort's parameters off a trainee's own curve of a family;
// NaN without such a curve.
func ownParameters(l proficiency.Learner, family string, names []string) []float64 {
	out := make([]float64, len(names))
	for j := range out {
		out[j] = math.NaN()
	}
	for _, f := range l.Choice.Fits {
		if f.Curve.Family.Name() != family || !f.Status.Usable() {
			continue
		}
		theta := f.Curve.Theta()
		for j, name := range names {
			if name == cohort.Start {
				out[j] = f.Curve.Start()
			}
			for k, p := range f.Curve.Family.Params() {
				if p.Name == name {
					out[j] = theta[k]
				}
			}
		}
	}
	return out
}
