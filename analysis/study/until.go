package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/survival"
)

// UntilOptions are the choices of [Study.UntilProficient].
type UntilOptions struct {
	Band survival.Band // scale of the curves' limits; "" means log-log
}

// An UntilProficiency is what a table of attempts until the rule was met says of arms.
type UntilProficiency struct {
	Level    float64
	Band     survival.Band
	Arms     []UntilArm    // in the order first seen
	Tests    []UntilTest   // between arms; nil with one
	Hazards  []UntilHazard // each arm against the first
	Warnings Warnings
}

// An UntilArm is one arm.
type UntilArm struct {
	ArmSurvival
	Shares []UntilShare
	Hazard []survival.HazardStep // cumulative
	Coarse *UntilCoarse          // nil where attempts are exact
}

// An UntilShare is the attempts by which a share of an arm has met the rule; +Inf where
// it has not within the attempts seen.
type UntilShare struct {
	Share    float64
	Attempts survival.Quantile
	Midpoint survival.Quantile // by the other convention, where the curve stands at the share for a while
}

// untilShares are the shares of trainees that attempts are given for.
func untilShares() []float64 { return []float64{0.5, 0.8, 0.9} }

// An UntilCoarse is the estimate from assessments every few attempts: half have met the
// rule after one assessment and by another. The limits are of the latter.
type UntilCoarse struct {
	survival.Coarse
	After, By, Lower, Upper float64
}

// An UntilTest is a test between arms.
type UntilTest struct {
	Name string
	survival.Test
}

// LogRankTest is the name of the test to plan for.
const LogRankTest = "log-rank"

// An UntilHazard compares an arm with the first one seen: above 1, it meets the rule
// sooner. The first model is that of [compare.Hazards]; the others take the ratio as the same
// at all attempts.
type UntilHazard struct {
	Model, Arm, Reference  string
	Ratio, Lower, Upper, P float64
}

// UntilProficient describes the trainees of whom no more is known than when they met the
// rule, and compares their arms.
func (s *Study) UntilProficient(ctx context.Context, o UntilOptions) (*UntilProficiency, error) {
	if len(s.Until) == 0 {
		return nil, errors.New("the table has no trainees")
	}
	if o.Band == "" {
		o.Band = survival.LogLog
	}
	if !slices.Contains([]survival.Band{survival.Linear, survival.Log, survival.LogLog, survival.Arcsine}, o.Band) {
		return nil, fmt.Errorf("band %q: expected linear, log, log-log or arcsine", o.Band)
	}
	var groups []observedArm
	for _, r := range s.Until {
		k := slices.IndexFunc(groups, func(g observedArm) bool { return g.arm == r.Arm })
		if k < 0 {
			k = len(groups)
			groups = append(groups, observedArm{arm: r.Arm})
		}
		groups[k].obs = append(groups[k].obs, survival.Observation{Time: r.Attempt, Event: r.Met})
	}
	out := &UntilProficiency{Level: s.Options.Level, Band: o.Band}
	arms, err := s.survive(ctx, groups, o.Band, &out.Warnings)
	if err != nil {
		return nil, err
	}
	for k, a := range arms {
		one := UntilArm{ArmSurvival: a, Hazard: survival.NelsonAalen(groups[k].obs, out.Level)}
		for _, share := range untilShares() {
			one.Shares = append(one.Shares, out.share(a, share))
		}
		out.Arms = append(out.Arms, one)
	}
	if err := s.coarse(ctx, out); err != nil {
		return nil, err
	}
	if len(groups) > 1 {
		out.compare(groups)
	}
	return out, nil
}

func (p *UntilProficiency) share(a ArmSurvival, share float64) UntilShare {
	out := UntilShare{share, a.Curve.Quantile(share), a.Curve.MidpointQuantile(share)}
	if math.IsInf(out.Attempts.Estimate, 1) {
		p.Warnings.Add("share-not-reached", fmt.Sprintf("arm %s: a share of %.0f %% has not met the rule within the attempts seen; the largest share that has is %.0f %%", ArmName(a.Arm), 100*share, 100*a.Curve.LargestShare()))
	} else if math.IsInf(out.Attempts.Upper, 1) {
		p.Warnings.Add("limit-not-reached", fmt.Sprintf("arm %s: the upper limit of the attempts for %.0f %% is not reached within the attempts seen", ArmName(a.Arm), 100*share))
	}
	return out
}

// coarse adds the estimate for assessments every few attempts.
func (s *Study) coarse(ctx context.Context, out *UntilProficiency) error {
	if !slices.ContainsFunc(s.Until, func(r practice.Until) bool { return !math.IsNaN(r.Since) }) {
		return nil
	}
	for k := range out.Arms {
		a := &out.Arms[k]
		var windows []survival.Window
		for _, r := range s.Until {
			switch {
			case r.Arm != a.Arm:
			case !r.Met:
				windows = append(windows, survival.Window{Left: r.Attempt, Right: math.Inf(1)})
			default:
				windows = append(windows, survival.Window{Left: r.Since, Right: r.Attempt})
			}
		}
		c, err := survival.IntervalCensored(windows)
		if err != nil {
			return fmt.Errorf("arm %s: %w", ArmName(a.Arm), err)
		}
		iv, err := survival.QuantileInterval(ctx, windows, 0.5, out.Level, s.Sampling())
		if err != nil {
			return err
		}
		a.Coarse = &UntilCoarse{Coarse: c, Lower: iv.Lower, Upper: iv.Upper}
		a.Coarse.After, a.Coarse.By = c.Quantile(0.5)
	}
	out.Warnings.Add("assessments-every-few", "the rule was looked at every few attempts only: the curves and tests take it as met at the assessment, which is late by up to one interval; interval_censored does not")
	return nil
}

// compare tests the arms against each other and gives hazard ratios to the first.
func (p *UntilProficiency) compare(groups []observedArm) {
	p.remarkStopped(groups)
	for _, w := range []struct {
		name string
		survival.Weights
	}{{LogRankTest, survival.Weights{}}, {"early differences (rho 1)", survival.Weights{Rho: 1}}, {"late differences (gamma 1)", survival.Weights{Gamma: 1}}} {
		p.Tests = append(p.Tests, UntilTest{w.name, survival.WeightedLogRank([][][]survival.Observation{observationsOf(groups)}, w.Weights)})
	}
	var obs []survival.Observation
	var x [][]float64 // a column of 0 and 1 for every arm but the first
	for k, g := range groups {
		for _, o := range g.obs {
			row := make([]float64, len(groups)-1)
			if k > 0 {
				row[k-1] = 1
			}
			obs, x = append(obs, o), append(x, row)
		}
	}
	p.ratios(groups)
	cox, err := survival.Cox(obs, x, survival.CoxOptions{Ties: survival.Exact, Level: p.Level})
	p.hazards("cox, exact ties (odds)", groups, cox.Coefficients, err)
	if slices.ContainsFunc(obs, func(o survival.Observation) bool { return o.Time != math.Trunc(o.Time) }) {
		return
	}
	for _, link := range []survival.Link{survival.CLogLog, survival.Logit} {
		f, err := survival.FitDiscrete(obs, x, survival.DiscreteOptions{Link: link, Level: p.Level})
		name := "by attempt, complementary log-log"
		if link == survival.Logit {
			name = "by attempt, logit (odds)"
		}
		p.hazards(name, groups, f.Coefficients, err)
	}
}

// remarkStopped says what tests and ratios take of trainees who stopped before the others
// without having met the rule.
func (p *UntilProficiency) remarkStopped(groups []observedArm) {
	all, last := slices.Concat(observationsOf(groups)...), 0.0
	for _, o := range all {
		last = math.Max(last, o.Time)
	}
	if stopped := counting(all, func(o survival.Observation) bool { return !o.Event && o.Time < last }); stopped > 0 {
		p.Warnings.Add("stopped-unmet", fmt.Sprintf("%s before attempt %g without having met the rule; tests and hazard ratios take them to be like those who went on, and where the slow stop sooner in one arm, that arm looks better than it is: with the attempts themselves, compare expects of them what their own attempts say", counted(stopped, "trainee stopped", "trainees stopped"), last))
	}
}

// ratios adds those that compare gives.
func (p *UntilProficiency) ratios(groups []observedArm) {
	for _, g := range groups[1:] {
		c, check := compare.Hazards(HazardMeasure, groups[0].arm, g.arm, groups[0].obs, g.obs, p.Level)
		for _, w := range c.Warnings {
			p.Warnings.Add(w.Code, fmt.Sprintf("arm %s against arm %s: %s", ArmName(g.arm), ArmName(groups[0].arm), w.Text))
		}
		if math.IsNaN(c.Estimate) {
			continue
		}
		p.Hazards = append(p.Hazards, UntilHazard{Model: c.Method, Arm: c.Arm, Reference: c.Reference, Ratio: c.Estimate, Lower: c.Lower, Upper: c.Upper, P: c.P})
		if text, ok := notProportional(c, check); ok {
			p.Warnings.Add("hazards-not-proportional", text+", and the other models describe it badly")
		}
	}
}

// notProportional says of a ratio of hazards that it does not stay the same, where that is so.
func notProportional(c compare.Contrast, check compare.HazardCheck) (string, bool) {
	return fmt.Sprintf("%s against %s: the ratio of hazards changes over the attempts (χ² = %.3g, p = %.2g); the one given is its average, and says nothing of early or late attempts", ArmName(c.Arm), ArmName(c.Reference), check.ChiSquare, check.P), check.P < 0.05
}

// hazards adds a model's ratios to the first arm.
func (p *UntilProficiency) hazards(model string, groups []observedArm, cs []survival.Coefficient, err error) {
	if err != nil {
		p.Warnings.Add("no-hazard-model", model+": "+err.Error())
		return
	}
	for k, c := range cs {
		arm, reference := groups[k+1].arm, groups[0].arm
		p.Hazards = append(p.Hazards, UntilHazard{Model: model, Arm: arm, Reference: reference, Ratio: c.Ratio, Lower: math.Exp(c.Lower), Upper: math.Exp(c.Upper), P: c.P})
		if math.IsInf(c.Estimate, 0) {
			p.Warnings.Add("no-finite-effect", fmt.Sprintf("%s: arm %s and arm %s do not overlap, so their hazard ratio has no finite estimate", model, ArmName(arm), ArmName(reference)))
		}
	}
}
