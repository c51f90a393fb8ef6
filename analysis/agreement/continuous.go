package agreement

import (
	"context"
	"fmt"
	"math"
)

// continuous adds what is for numbers: intraclass correlations, components,
// errors of measurement, and for two raters concordance and limits.
func (s *Summary) continuous(ctx context.Context, r Ratings, o Options) error {
	cs := ICC(r, o.level())
	full := r.complete()
	gaps := len(r) - len(full)
	if gaps > 0 {
		s.warn("incomplete-subjects", fmt.Sprintf("%d subjects have a gap; they are kept: intraclass correlations and components come from REML", gaps))
	} else if err := bootstrapICC(ctx, full, cs, o); err != nil {
		return err
	}
	s.Coefficients = append(s.Coefficients, cs...)
	s.Forms = iccForms(cs)
	if err := s.generalizability(r, o); err != nil {
		s.warn("no-components", "variance components: "+err.Error())
		nothing := err.Error()
		for _, name := range []string{"g-coefficient", "phi-coefficient", "standard-error-of-measurement", "smallest-detectable-change"} {
			s.Coefficients = append(s.Coefficients, unknown(name, o.level(), nothing))
		}
	}
	alpha := CronbachAlpha(r, o.level())
	if gaps > 0 {
		alpha.Note = joined(alpha.Note, fmt.Sprintf("%d complete subjects", len(full)))
	}
	s.Coefficients = append(s.Coefficients, alpha)
	if s.Raters > 2 {
		omega, err := McDonaldOmega(ctx, r, o)
		if err != nil {
			return err
		}
		s.Coefficients = append(s.Coefficients, omega)
		return nil
	}
	x, y := column(r, 0), column(r, 1)
	ccc := LinCCC(x, y, o.level())
	if len(full) >= 3 && !math.IsNaN(ccc.Estimate) {
		ivs, err := bySubjects(ctx, o, "lin-ccc", len(full), linStatistic(full))
		if err != nil {
			return err
		}
		ccc.Others = append(ccc.Others, ivs[0])
	}
	s.Coefficients = append(s.Coefficients, ccc)
	s.Coefficients = append(s.Coefficients, LimitsOfAgreement(x, y, o.level()).coefficients()...)
	return nil
}

func linStatistic(full Ratings) func() statistic {
	return func() statistic {
		x, y := make([]float64, len(full)), make([]float64, len(full))
		return func(draw []int) []float64 {
			for i, at := range draw {
				x[i], y[i] = full[at][0], full[at][1]
			}
			return []float64{LinCCC(x[:len(draw)], y[:len(draw)], 0.95).Estimate}
		}
	}
}

// coefficients are the differences under their fixed names.
func (d Differences) coefficients() []Coefficient {
	of := func(name string, est, se, lo, hi float64) Coefficient {
		c := unknown(name, d.Level, d.Note)
		c.Estimate, c.SE, c.Lower, c.Upper = est, se, lo, hi
		if !math.IsNaN(lo) {
			c.Method, c.Over = "Student t", OverSubjects
		}
		return c
	}
	return []Coefficient{
		of("mean-difference", d.Mean, d.SD/math.Sqrt(float64(d.N)), d.MeanLower, d.MeanUpper),
		of("limits-of-agreement-lower", d.Lower[0], d.LimitSE, d.Lower[1], d.Lower[2]),
		of("limits-of-agreement-upper", d.Upper[0], d.LimitSE, d.Upper[1], d.Upper[2]),
	}
}

// generalizability adds the components of subjects and raters with what they
// say about the mean of all raters and the error of one rating.
func (s *Summary) generalizability(r Ratings, o Options) error {
	level := o.level()
	cs, err := twoWay(r, level)
	if err != nil {
		return err
	}
	s.Components = cs
	byName := map[string]Component{}
	for _, c := range cs {
		byName[c.Name] = c
	}
	p, rater, res := byName["subject"].Estimate, byName["rater"].Estimate, byName["residual"].Estimate
	k := float64(s.Raters)
	icc := map[string]Coefficient{}
	for _, c := range s.Coefficients {
		icc[c.Name] = c
	}
	of := func(name string, est float64, limits Coefficient, note string) Coefficient {
		c := unknown(name, level, note)
		c.Estimate, c.Lower, c.Upper, c.Method, c.Over = est, limits.Lower, limits.Upper, limits.Method, limits.Over
		if !math.IsNaN(c.Lower) {
			c.Lower = math.Max(0, c.Lower)
		}
		if math.IsNaN(est) {
			c.Note = notDefined
		}
		return c
	}
	mean := fmt.Sprintf("mean of %d raters", s.Raters)
	s.Coefficients = append(s.Coefficients,
		of("g-coefficient", p/(p+res/k), icc["icc(c,k)"], mean),
		of("phi-coefficient", p/(p+(rater+res)/k), icc["icc(a,k)"], mean))
	one := "one rating, absolute"
	aside := "one rating, relative"
	sem := math.Sqrt(rater + res)
	relative := math.Sqrt(res)
	plain := func(name string, v float64, note string) Coefficient {
		c := unknown(name, level, note)
		c.Estimate = v
		return c
	}
	abs := plain("standard-error-of-measurement", sem, one)
	rel := plain("standard-error-of-measurement-consistency", relative, aside)
	if c, ok := byName["residual"]; ok && !math.IsNaN(c.Lower) {
		rel.Lower, rel.Upper, rel.Method, rel.Over = math.Sqrt(c.Lower), math.Sqrt(c.Upper), "root of the residual's chi-square limits", OverSubjects
	}
	s.Coefficients = append(s.Coefficients, abs,
		plain("smallest-detectable-change", detectable(sem), one),
		rel, plain("smallest-detectable-change-consistency", detectable(relative), aside))
	return nil
}
