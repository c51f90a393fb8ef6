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
	if w.fit == nil || w.o.Refits == 0 || w.o.Cluster != nil {
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
		return nil // an arm without a curve has no contrast in the main table either
	}
	sampling := w.Sampling()
	sampling.Replicates = w.o.Refits
	draws, err := w.fit.Redrawn(ctx, sampling, read)
	if err != nil {
		return err
	}
	failed := 0
	for _, d := range draws {
		if d == nil {
			failed++
		}
	}
	if failed > 0 {
		w.c.Warnings.Add("refits-failed", fmt.Sprintf("%d of %d drawn cohorts could not be fitted together and are left out", failed, len(draws)))
	}
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

// redrawn is a contrast with the ends that draws of whole trainees give.
func (w *comparing) redrawn(m curveMeasure, ref, arm string, estimate, armValue, refValue float64, draws []float64) compare.Contrast {
	n := map[string]int{}
	for _, t := range w.fit.Members {
		n[t.Arm]++
	}
	small := float64(min(n[ref], n[arm]))
	iv := resample.PercentileInterval(draws, resample.ExpandedLevel(w.fit.Level, float64(n[ref]+n[arm]-2), math.Sqrt(small/(small-1))))
	c := compare.Unjudged(m.name, "bootstrap of trainees", ref, arm)
	c.Basis, c.Level, c.ArmN, c.RefN, c.Replicates = BasisRefitted, w.fit.Level, n[arm], n[ref], len(draws)
	c.Estimate, c.ArmValue, c.RefValue = estimate, armValue, refValue
	if !iv.Refused() && small > 1 {
		c.Lower, c.Upper = iv.Lower, iv.Upper
	}
	if m.ratio {
		return compare.AsRatio(c)
	}
	c.Describe()
	return c
}
