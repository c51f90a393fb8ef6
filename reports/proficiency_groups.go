package reports

import (
	"context"
	"fmt"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// What stands in place of a trainee's code where a result is not one trainee's.
const (
	MedianTrainee = "(median)"
	NewTrainee    = "(new)"
)

// ofTrainees lists the results that are one trainee's.
func (d *Proficiency) OfTrainees() []Result {
	return slices.DeleteFunc(slices.Clone(d.Results), func(r Result) bool { return r.Trainee == MedianTrainee || r.Trainee == NewTrainee })
}

// ofArms adds, for every arm of two trainees or more, the attempts by which half of
// them are proficient.
func (d *Proficiency) ofArms(ctx context.Context) error {
	for _, arm := range d.In.Arms {
		members := d.In.Members(arm)
		if len(members) < 2 {
			continue
		}
		for k := range d.answers[members[0]] {
			var as []proficiency.Answer
			for _, i := range members {
				as = append(as, d.answers[i][k])
			}
			a, err := proficiency.OfGroup(ctx, as, d.In.Question, d.In.Plan(), "arm "+arm)
			if err != nil {
				return err
			}
			d.addGroup(MedianTrainee, arm, "", a)
		}
	}
	return nil
}

// AddNewTrainees adds what a trainee yet to come can expect in every arm, from the
// cohort's curve: the given one, or with nil one fitted here. Few trainees, or ones
// that cannot be fitted together, leave it out with a warning.
func (d *Proficiency) AddNewTrainees(ctx context.Context, c *Cohort) error {
	in := d.In
	var fitted *cohort.Cohort
	switch {
	case c != nil:
		fitted = c.Answer.Fit.Cohort
	case len(in.Trainees) < 2:
		return nil
	case len(in.Trainees) < study.MinCohort:
		d.Warn("no-new-trainee", fmt.Sprintf("nothing is said of a trainee yet to come: it takes %d trainees to fit together, there are %d", study.MinCohort, len(in.Trainees)))
		return nil
	default:
		var err error
		fitted, err = in.cohortCurve(ctx)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			d.Warn("no-new-trainee", "nothing is said of a trainee yet to come: the trainees could not be fitted together: "+err.Error())
			return nil
		}
	}
	pooled, err := in.Study.Pooled(ctx)
	if err != nil {
		return err
	}
	for _, arm := range fitted.Arms {
		as, err := pooled.NewTrainee(ctx, arm, in.Plan())
		if err != nil {
			return err
		}
		for _, a := range as {
			d.addGroup(NewTrainee, arm, fitted.Family, a)
		}
	}
	return nil
}

// cohortCurve fits all trainees together with the candidate curves.
func (in *Input) cohortCurve(ctx context.Context) (*cohort.Cohort, error) {
	c, err := in.Study.Cohort(ctx)
	if err != nil {
		return nil, err
	}
	return c.Cohort, nil
}

func (d *Proficiency) addGroup(who, arm, family string, a proficiency.Answer) {
	d.Results = append(d.Results, Result{
		Trainee: who, Arm: arm, Definition: a.Definition, Standard: Number(d.In.Question.Standard.Value),
		Estimate: Number(a.Estimate), Lower: Number(a.Lower), Upper: Number(a.Upper),
		Crossing: Number(a.At), CrossingLower: Number(a.Crossing.Lower), CrossingUpper: Number(a.Crossing.Upper),
		Level: a.Level, IntervalMethod: a.Method, Replicates: a.Replicates, FailedReplicates: a.Failed,
		NotReached: Number(a.NotReached), Status: string(a.Status), Family: family, Warnings: warnings(a.Warnings),
	})
	for _, w := range a.Warnings {
		d.Warn(w.Code, fmt.Sprintf("arm %s, %s: %s", ArmName(arm), a.Definition, w.Text))
	}
}

// groupTable lists the results that are not one trainee's.
func (d *Proficiency) GroupTable() Table {
	attempts := func(v float64) string { return attemptsText(v, d.Horizon) }
	t := Table{Name: "proficiency-by-arm", Title: "By arm, and for a trainee yet to come", Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "who", Head: "who"}, {Key: "definition", Head: "definition"}, {Key: "estimate", Head: "attempts", Show: attempts},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.In.Question.Level), Show: attempts}, {Key: "upper", Head: "to", Show: attempts},
		{Key: "not_reached", Head: "not reached", Show: Percent}, {Key: "status", Head: "status"},
	}}
	middle, coming := false, false
	for _, r := range d.Results {
		who := "half of the arm"
		switch r.Trainee {
		case MedianTrainee:
			middle = true
		case NewTrainee:
			who, coming = "new trainee", true
		default:
			continue
		}
		t.Rows = append(t.Rows, []any{ArmName(r.Arm), who, r.Definition, float64(r.Estimate), float64(r.Lower), float64(r.Upper), float64(r.NotReached), r.Status})
	}
	if middle {
		t.Notes = append(t.Notes, "Half of the arm: attempts by which half of its trainees' estimates are there, with an interval for that number from a bootstrap of whole trainees; not reached: share of the trainees.")
	}
	if coming {
		t.Notes = append(t.Notes, "New trainee: what one trainee yet to come can expect, from the curve of all trainees together, the luck of the attempts included in rule-met and chart-signal; the range is for this one trainee, so it does not shrink to nothing with more trainees; not reached: chance.")
	}
	return t
}

// chartNote says what chart-signal means here.
func (d *Proficiency) chartNote() string {
	c := d.In.Question.Chart
	return fmt.Sprintf("chart-signal: the attempt by which a learning chart at failure rates %s (acceptable) and %s (unacceptable), limit %s, has shown adequate performance with chance one half, from the fitted pass chances, exactly. Observed: the chart of the trainee's own passes first signalled.",
		RateText(c.Rates.Acceptable), RateText(c.Rates.Unacceptable), Significant(c.H, 3))
}
