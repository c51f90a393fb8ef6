package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/compare"
	"tyro/analysis/resample"
	"tyro/models"
)

// BasisRefitted is the basis of contrasts of cohort's curves fitted to drawn trainees.
const BasisRefitted = "cohort's curve, fitted again"

// likelihood sets the cohort's fit against fits in which arms are alike: in all parameters
// at once, and in one at a time.
func (w *comparing) likelihood(ctx context.Context) error {
	if w.fit == nil || !w.o.LikelihoodRatio {
		return nil
	}
	if w.o.Cluster != nil {
		return nil // the likelihood takes trainees as independent
	}
	effects := w.fit.ArmEffects()
	drops := [][]string{effects}
	if len(effects) > 1 {
		for _, e := range effects {
			drops = append(drops, []string{e})
		}
	}
	for _, drop := range drops {
		alike, err := w.fit.Without(ctx, drop)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil || alike.Rung != w.fit.Rung {
			w.c.Warnings.Add("no-likelihood-ratio", fmt.Sprintf("a fit in which arms are alike in %s is of another kind than the main one, so their likelihoods cannot be set against each other", strings.Join(drop, ", ")))
			continue
		}
		w.c.Ratios = append(w.c.Ratios, compare.JudgeRatio(drop, len(effects), len(w.fit.Arms), len(w.fit.Members), 2*(w.fit.LogLik-alike.LogLik)))
	}
	return nil
}

// refits draws whole trainees anew within arms, fits the cohort's curve to each draw, and
// takes the spread of the contrasts.
func (w *comparing) refits(ctx context.Context) error {
	switch {
	case w.o.Refits == 0:
		return nil
	case w.fit == nil:
		w.c.Warnings.Add("no-refits", "there is no curve of all trainees together, so none was fitted again to drawn trainees")
		return nil
	case w.o.Cluster != nil:
		w.c.Warnings.Add("no-refits", "the curve was not fitted again to drawn trainees: that takes trainees as independent, and here they come in groups")
		return nil
	}
	ms := w.cohortMeasures(w.fit)
	var of []func(models.Curve) float64
	for _, m := range ms {
		of = append(of, m.of)
	}
	read := func(c *cohort.Cohort) ([]float64, error) { // by arm, then measure
		var out []float64
		for _, arm := range w.c.Arms {
			middle, err := c.Middle(arm)
			if err != nil {
				return nil, err
			}
			for _, f := range of {
				out = append(out, f(middle))
			}
		}
		return out, nil
	}
	here, err := read(w.fit.Cohort)
	if err != nil {
		w.c.Warnings.Add("no-refits", fmt.Sprintf("the curve was not fitted again to drawn trainees: %v", err))
		return nil
	}
	sampling := w.cut()
	sampling.Replicates = w.o.Refits
	draws, err := w.fit.Redrawn(ctx, sampling, read)
	if err != nil {
		return err
	}
	w.c.Warnings = append(w.c.Warnings, refitsLost(draws)...)
	return w.c.pairs(func(ref, arm string) error {
		r, a := slices.Index(w.c.Arms, ref), slices.Index(w.c.Arms, arm)
		for k, m := range ms {
			at := func(row []float64) float64 { return row[a*len(ms)+k] - row[r*len(ms)+k] }
			values := make([]float64, len(draws))
			for j, d := range draws {
				if values[j] = math.NaN(); d != nil {
					values[j] = at(d)
				}
			}
			w.c.Sensitivity = append(w.c.Sensitivity, w.redrawn(m, ref, arm, at(here), here[a*len(ms)+k], here[r*len(ms)+k], values))
		}
		return nil
	})
}

// refitsLost tells how many drawn cohorts gave no curve, and what that does to intervals.
func refitsLost(draws [][]float64) (out Warnings) {
	failed := 0
	for _, d := range draws {
		if d == nil {
			failed++
		}
	}
	switch share := float64(failed) / float64(len(draws)); {
	case share > resample.MaxFailed:
		out.Add("refits-failed", fmt.Sprintf("%d of %d drawn cohorts could not be fitted together: too many to leave out, so there are no intervals from them", failed, len(draws)))
	case failed > 0:
		out.Add("refits-failed", fmt.Sprintf("%d of %d drawn cohorts could not be fitted together and are left out", failed, len(draws)))
	}
	return out
}

// redrawn is a contrast with the ends that draws of whole trainees give.
func (w *comparing) redrawn(m curveMeasure, ref, arm string, estimate, armValue, refValue float64, draws []float64) compare.Contrast {
	n := map[string]int{}
	for _, t := range w.fit.Members {
		n[t.Arm]++
	}
	small := float64(min(n[ref], n[arm]))
	level := resample.ExpandedLevel(w.fit.Level, float64(n[ref]+n[arm]-2), math.Sqrt(small/(small-1)))
	iv := resample.PercentileInterval(draws, level)
	c := compare.Unjudged(m.name, "cohort fitted again", ref, arm)
	c.Basis, c.Level, c.ArmN, c.RefN, c.Replicates = BasisRefitted, w.fit.Level, n[arm], n[ref], len(draws)
	c.Estimate, c.ArmValue, c.RefValue = estimate, armValue, refValue
	if !iv.Refused() && small > 1 {
		c.Lower, c.Upper = iv.Lower, iv.Upper
		if need := 2 / (1 - level); float64(iv.Replicates) < need {
			w.c.Warnings.Add("few-refits", fmt.Sprintf("%s against %s: %d cohorts fitted again are too few for an interval at %g %%, which is then too narrow: ask for %.0f or more", ArmName(arm), ArmName(ref), iv.Replicates, 100*w.fit.Level, math.Ceil(need)))
		}
	}
	if m.ratio {
		return compare.AsRatio(c)
	}
	c.Describe()
	return c
}
