package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/floats"

	"tyro/analysis"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/models"
)

// CurveQuestion is what can be asked of every trainee's curve; the zero value of a
// field means its default.
type CurveQuestion struct {
	Interval fit.Method     // "" means profile likelihood
	Seen     int            // attempts from which the rest are predicted; 0: nothing is predicted
	Against  *models.Family // a smaller family that curves are tested against; nil: none
}

// Curves are the trainees' own learning curves.
type Curves struct {
	Each     []Curve // in the order of trainees
	Profiles []fit.Profile
	Arms     []ArmCurves
	Warnings Warnings
}

// A Curve is one trainee's curve with everything said of it.
type Curve struct {
	Fit        fit.Fit // with intervals
	Candidates []fit.Candidate
	Diagnosis  *fit.Diagnosis // nil for a series without a curve
	Forecasts  []fit.Forecast
	Ratio      *fit.RatioTest // nil where none was asked for
	Line       []fit.Band     // where the curve and a single attempt lie, at places between the first and the last attempt
	Bands      []fit.Band     // the same at every attempt made, and some ahead
}

// ArmCurves say how an arm's curves lie together: by attempt 1, 2, …, how many were
// still practising, and the median of their curves in the unit of the response.
type ArmCurves struct {
	Arm        string
	Practising []int
	Median     []float64 // as far as three trainees were practising
}

// linePoints is the number of places at which a curve is read for a line.
const linePoints = 60

// Curves puts intervals on every trainee's curve and says how well it describes them.
func (s *Study) Curves(ctx context.Context, q CurveQuestion) (*Curves, error) {
	if q.Interval == "" {
		q.Interval = fit.ByProfile
	}
	learners, err := s.Learners(ctx)
	if err != nil {
		return nil, err
	}
	out := &Curves{Each: make([]Curve, len(s.Trainees))}
	out.Warnings.With(learners.Warnings)
	err = s.eachTrainee(ctx, func(i int, _ practice.Trainee) (err error) {
		out.Each[i], err = s.curve(ctx, i, learners.Each[i].Series, learners.Each[i].Choice, q)
		return err
	})
	if err != nil {
		return nil, err
	}
	if len(s.Trainees) == 1 {
		l := learners.Each[0]
		out.Profiles = profiles(l.Series, s.Specs[l.Choice.Index], out.Each[0].Fit)
	}
	for _, arm := range s.Arms {
		out.Arms = append(out.Arms, s.armCurves(arm, out.Each))
	}
	out.leftOut(s.Practice)
	out.Warnings.parted(len(out.Each), func(i int) (string, []analysis.Warning) { return s.Trainees[i].ID, out.Each[i].Fit.Warnings })
	return out, nil
}

// parted names the trainees with a flat curve in the place of one too steep to tell.
func (w *Warnings) parted(n int, of func(i int) (id string, ws []analysis.Warning)) {
	var ids []string
	for i := range n {
		if id, ws := of(i); slices.ContainsFunc(ws, func(w analysis.Warning) bool { return w.Code == fit.CodeParted }) {
			ids = append(ids, id)
		}
	}
	w.aboutTrainees(fit.CodeParted, "%s: all fails came on one side and all passes on the other, so how steep the curve is cannot be told, and a flat one is shown. Numbers of attempts are those of a step at the change, without a range, where luck would give such an order 1 time in 20 or less; elsewhere they come from the flat curve and are no projection. Go by what was observed", ids)
}

// curve is everything said of one trainee's curve.
func (s *Study) curve(ctx context.Context, i int, series fit.Series, choice fit.Choice, q CurveQuestion) (Curve, error) {
	sampling, purpose := s.Sampling(), "trainee "+strconv.Itoa(i)
	sampling.Workers = 1
	c := Curve{Candidates: choice.Candidates}
	var err error
	if c.Fit, err = fit.WithIntervals(ctx, series, s.Specs, choice, q.Interval, sampling, purpose); err != nil {
		return c, err
	}
	if q.Seen > 0 && choice.Fit.Status != fit.Unsuited {
		if c.Forecasts, err = fit.LeaveFutureOut(series, s.Specs, q.Seen); err != nil {
			return c, err
		}
	}
	if !c.Fit.Status.Usable() {
		return c, nil
	}
	spec := s.Specs[choice.Index]
	d := fit.Diagnose(series, spec, c.Fit)
	c.Diagnosis = &d
	c.Line = c.Fit.Bands(floats.Span(make([]float64, linePoints), c.Fit.First, c.Fit.Last))
	attempts := slices.Sorted(slices.Values(series.Attempt))
	for k := range fit.Ahead {
		attempts = append(attempts, c.Fit.Last+float64(k+1))
	}
	c.Bands = c.Fit.Bands(attempts)
	if q.Against == nil || q.Against.Name() == spec.Family.Name() {
		return c, nil
	}
	smaller := spec
	smaller.Family = *q.Against
	test, err := fit.LikelihoodRatio(ctx, series, smaller, spec, sampling, purpose)
	c.Ratio = &test
	return c, err
}

// profiles traces the profile of every parameter of a single series.
func profiles(series fit.Series, spec fit.Spec, f fit.Fit) []fit.Profile {
	var out []fit.Profile
	if !f.Status.Usable() {
		return nil
	}
	for _, p := range f.Params {
		if profile := fit.ProfileCurve(series, spec, f, p.Name, 41); len(profile.Values) >= 3 {
			out = append(out, profile)
		}
	}
	return out
}

// armCurves reads an arm's curves attempt by attempt.
func (s *Study) armCurves(arm string, curves []Curve) ArmCurves {
	out := ArmCurves{Arm: arm}
	var mine []fit.Fit
	last := 0.0
	for _, i := range s.Members(arm) {
		if f := curves[i].Fit; f.Status.Usable() {
			mine, last = append(mine, f), math.Max(last, f.Last)
		}
	}
	for n := 1.0; n <= last; n++ {
		var at []float64
		for _, f := range mine {
			if f.Last >= n {
				at = append(at, f.Noise.Mean(f.Curve.At(n)))
			}
		}
		out.Practising = append(out.Practising, len(at))
		if len(at) >= 3 && len(out.Median) == int(n)-1 {
			out.Median = append(out.Median, median(at))
		}
	}
	return out
}

// leftOut says which attempts are not in the curves.
func (c *Curves) leftOut(p practice.Practice) {
	say := func(code, text string, holds func(practice.Attempt) bool) {
		if n := p.Attempts(holds); n > 0 {
			c.Warnings.Add(code, fmt.Sprintf(text, n))
		}
	}
	say("timeouts-censored", "%d timeouts enter as right-censored at the limit", func(a practice.Attempt) bool { return a.Censored })
	say("fails-apart", "%d hard fails are left out of the curves: their measure is not comparable", func(a practice.Attempt) bool { return a.Outcome == practice.Failed })
	say("void-excluded", "%d void attempts are excluded", func(a practice.Attempt) bool { return a.Outcome == practice.Void })
	say("no-measure", "%d attempts without a measure are left out of the curves", unmeasured)
}

// unmeasured attempts count, but have no response.
func unmeasured(a practice.Attempt) bool {
	return !a.Measured() && a.Outcome != practice.Failed && a.Outcome != practice.Void
}

// median of values that are all known, the mean of the middle two for an even number;
// not reached where the upper of them is.
func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	switch {
	case n == 0:
		return math.NaN()
	case n%2 == 1 || math.IsInf(sorted[n/2], 1):
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}
