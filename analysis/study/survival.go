package study

import (
	"context"
	"fmt"
	"math"

	"tyro/analysis/survival"
)

// An ArmSurvival is how the trainees of an arm came to meet the rule, as observed. Those
// who have not met it count up to their last attempt.
type ArmSurvival struct {
	Arm    string
	Curve  survival.Curve    // share that has not met the rule
	Median survival.Quantile // attempt by which half have; +Inf not reached
	// Mean is the mean number of attempts made up to attempt UpTo when practice stops at
	// the rule (the restricted mean); its limits are from a bootstrap of whole trainees.
	Mean, MeanSE, MeanLower, MeanUpper float64
	UpTo                               float64 // the last attempt up to which every arm was followed
}

// AtRisk counts those followed to attempt n or beyond who had not met the rule before.
func (a ArmSurvival) AtRisk(n float64) int {
	for _, s := range a.Curve.Steps {
		if s.Time >= n {
			return s.AtRisk
		}
	}
	return 0
}

// An observedArm is an arm's right-censored observations.
type observedArm struct {
	arm string
	obs []survival.Observation
}

func observationsOf(groups []observedArm) [][]survival.Observation {
	var out [][]survival.Observation
	for _, g := range groups {
		out = append(out, g.obs)
	}
	return out
}

// survive describes every arm, with limits at the study's level.
func (s *Study) survive(ctx context.Context, groups []observedArm, band survival.Band, ws *Warnings) ([]ArmSurvival, error) {
	upTo := math.Inf(1)
	for _, g := range groups {
		last := 0.0
		for _, o := range g.obs {
			last = math.Max(last, o.Time)
		}
		if len(g.obs) > 0 {
			upTo = math.Min(upTo, last)
		}
	}
	var out []ArmSurvival
	for _, g := range groups {
		a := ArmSurvival{Arm: g.arm, Curve: survival.KaplanMeier(g.obs, band, s.Options.Level), UpTo: upTo}
		a.Median = a.Curve.Quantile(0.5)
		nan := math.NaN()
		a.Mean, a.MeanSE, a.MeanLower, a.MeanUpper = nan, nan, nan, nan
		if len(g.obs) == 0 {
			ws.Add("no-attempts-seen", fmt.Sprintf("arm %s: no trainee has an attempt that counts, so nothing was observed", ArmName(g.arm)))
			out = append(out, a)
			continue
		}
		a.Mean, a.MeanSE = a.Curve.RestrictedMean(upTo)
		iv, err := survival.RestrictedMeanInterval(ctx, g.obs, upTo, a.Curve.Level, s.Sampling())
		if err != nil {
			return nil, err
		}
		if a.MeanLower, a.MeanUpper = iv.Lower, iv.Upper; math.IsNaN(iv.Lower) {
			ws.Add("no-mean-interval", fmt.Sprintf("arm %s: the numbers of attempts up to attempt %g do not vary between trainees, so their mean has no interval", ArmName(g.arm), upTo))
		}
		out = append(out, a)
	}
	return out, nil
}
