package reports

import (
	"context"
	"fmt"
	"math"

	"tyro/analysis/cohort"
)

// The ways to an interval of a cohort's parameters.
const (
	IntervalWald       = "wald"
	IntervalProfile    = "profile"
	IntervalTrainees   = "trainees"
	IntervalParametric = "parametric"
)

// A cohortRange is a quantity's interval by another way than Wald's.
type cohortRange struct {
	kind, name, arm, covariate string
	lower, upper               float64
}

// widen puts intervals of the way asked for in the place of Wald's.
func (d *Cohort) widen(ctx context.Context, way string) error {
	var ranges []cohortRange
	switch way {
	case "", IntervalWald:
		return nil
	case IntervalProfile:
		ps, err := d.Fit.Profile(ctx)
		if err != nil {
			return err
		}
		for _, p := range ps {
			if math.IsNaN(p.Lower) || math.IsNaN(p.Upper) {
				d.Warn("profile-incomplete", fmt.Sprintf("the profile of %s (%s) did not settle on both sides", p.Parameter, p.Kind))
			}
			ranges = append(ranges, cohortRange{p.Kind, p.Parameter, p.Arm, p.Covariate, p.Lower, p.Upper})
		}
		d.IntervalMethod = "profile likelihood: what a likelihood ratio test with all else free does not exclude"
	case IntervalTrainees, IntervalParametric:
		draw, method := d.Fit.Bootstrap, "whole trainees drawn with replacement within arms, a trainee drawn twice being two people"
		if way == IntervalParametric {
			draw, method = d.Fit.ParametricBootstrap, "cohorts simulated from the fit"
		}
		plan := d.In.Plan()
		plan.Progress = d.In.Options.Progress
		qs, err := draw(ctx, plan)
		if err != nil {
			return err
		}
		refused := false
		for _, q := range qs {
			iv := q.Interval
			r := cohortRange{q.Kind, q.Parameter, q.Arm, q.Covariate, iv.Lower, iv.Upper}
			if iv.Refused() {
				refused, r.lower, r.upper = true, math.NaN(), math.NaN()
			}
			ranges = append(ranges, r)
			d.Replicates, d.FailedReplicates = iv.Replicates+iv.Failed, max(d.FailedReplicates, iv.Failed)
		}
		if refused {
			d.Warn("bootstrap-refused", fmt.Sprintf("%d of %d refits failed or lost a parameter, too many for some bootstrap intervals", d.FailedReplicates, d.Replicates))
		}
		d.IntervalMethod = fmt.Sprintf("percentiles of refits to %s; %d refits, of which %d failed", method, d.Replicates, d.FailedReplicates)
	default:
		return fmt.Errorf("interval %q: known are wald, profile, trainees and parametric", way)
	}
	d.place(ranges)
	return nil
}

// place writes intervals over Wald's.
func (d *Cohort) place(ranges []cohortRange) {
	for _, r := range ranges {
		lower, upper := Number(r.lower), Number(r.upper)
		switch r.kind {
		case "residual":
			d.ResidualLower, d.ResidualUpper = lower, upper
		case "sd":
			for i := range d.Random {
				if d.Random[i].Name == r.name {
					d.Random[i].Lower, d.Random[i].Upper = lower, upper
				}
			}
		default:
			for i, e := range d.Fit.Fixed {
				if e.Parameter == r.name && e.Arm == r.arm && e.Covariate == r.covariate {
					d.Fixed[i].Lower, d.Fixed[i].Upper = lower, upper
				}
			}
		}
	}
}

// carryNote says what residuals carry over.
func (d *Cohort) carryNote() string {
	if len(d.Carryover) == 0 {
		return ""
	}
	range1 := func(e CohortEffect) string {
		if e.Held {
			return fmt.Sprintf("%s, held", Significant(float64(e.Estimate), 3))
		}
		return fmt.Sprintf("%s (%s to %s)", Significant(float64(e.Estimate), 3), Significant(float64(e.Lower), 3), Significant(float64(e.Upper), 3))
	}
	if len(d.Carryover) == 1 {
		return fmt.Sprintf("Residuals of neighbouring attempts of a session correlate by %s, attempts m apart by that to the power m.", range1(d.Carryover[0]))
	}
	return fmt.Sprintf("A part of the residual variance, %s, carries over: it correlates by %s from one attempt of a session to the next; the rest is fresh at every attempt.", range1(d.Carryover[1]), range1(d.Carryover[0]))
}

// carried is the kind of carryover an option names.
func carried(option string) (cohort.Carry, error) {
	switch option {
	case "", "none":
		return cohort.CarryNone, nil
	case "whole":
		return cohort.CarryWhole, nil
	case "part":
		return cohort.CarryPart, nil
	}
	return "", fmt.Errorf("carryover %q: known are none, whole and part", option)
}
