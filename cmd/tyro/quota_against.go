package main

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/reports"
)

// usualWays is what --against takes for the ways that programmes usually take.
const usualWays = "usual"

// againstFlags compare ways to stop practice.
type againstFlags struct {
	against            []string
	level              float64
	held               int
	notYet, proficient float64
	risingTo, halved   float64
}

func (f *againstFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringArrayVar(&f.against, "against", nil, `compare the rule with another way to stop practice, side by side: a rule, "20 attempts", "chart 0.2/0.4" (failure rates), "chance 0.8 with confidence 0.9 over last 12", or usual for a choice of them; repeatable`)
	fs.Float64Var(&f.level, "proficient-at", 0.8, "with --against: pass chance from which a trainee counts as proficient")
	fs.IntVar(&f.held, "held-after", 10, "with --against: attempts made while proficient, after which going on is being held back")
	fs.Float64Var(&f.notYet, "not-yet", 0.5, "with --against: pass chance of a learner who is not yet proficient")
	fs.Float64Var(&f.proficient, "proficient", 0.9, "with --against: pass chance of a learner who is")
	fs.Float64Var(&f.risingTo, "rising-to", math.NaN(), "with --against and --pass-chance: the chance rises towards this one")
	fs.Float64Var(&f.halved, "halved-every", 8, "with --rising-to: attempts in which the gap to it is halved")
	fs.Lookup("rising-to").DefValue = "0" // hidden: there is none
}

func (f *againstFlags) asked() bool { return len(f.against) > 0 }

// options checks the flags, and words the stated learner; rule and chance are those of
// the command line, blank and NaN where not given.
func (f *againstFlags) options(cmd *cobra.Command, rule string, chance float64, horizon int) (o study.WaysOptions, stated string, err error) {
	o = study.WaysOptions{Bar: stopping.Bar{Level: f.level, Held: f.held}, NotYet: f.notYet, Proficient: f.proficient, Horizon: horizon}
	given := !math.IsNaN(chance)
	rising := cmd.Flags().Changed("rising-to")
	if given && !rising {
		if chance < f.level { // the learner asked about is the one shown
			o.NotYet, f.notYet = chance, chance
		} else {
			o.Proficient, f.proficient = chance, chance
		}
	}
	switch {
	case !(f.notYet > 0) || f.notYet >= f.level:
		return o, "", usagef("a learner who passes with chance %v is not one who is not yet proficient at %v: expected a chance between 0 and it", f.notYet, f.level)
	case !(f.proficient >= f.level && f.proficient <= 1):
		return o, "", usagef("a learner who passes with chance %v is not proficient at %v", f.proficient, f.level)
	case rising && !given:
		return o, "", usagef("--rising-to says where the chance goes from --pass-chance: give both")
	}
	if rising {
		o.Stated = stopping.Closing(chance, f.risingTo, f.halved, horizon)
		stated = fmt.Sprintf("the pass chance goes from %g at attempt 1 towards %g, the gap halved every %g attempts", chance, f.risingTo, f.halved)
	}
	if rule != "" {
		if o.First, err = stopping.ParsePolicy(rule); err != nil {
			return o, "", usageError{err}
		}
	}
	for _, text := range f.against {
		if text == usualWays {
			o.Usual = true
			continue
		}
		p, err := stopping.ParsePolicy(text)
		if err != nil {
			return o, "", usageError{err}
		}
		o.Against = append(o.Against, p)
	}
	return o, stated, nil
}

// waysToStop answers quota --against for a study, or without one.
func (a app) waysToStop(cmd *cobra.Command, args []string, f againstFlags, chance float64, common commonFlags, columns columnFlags, curves curveFlags) error {
	if len(args) == 0 {
		if err := common.part.undated("a stated learner"); err != nil {
			return err
		}
	}
	first := columns.rule // perhaps a way to stop that is no rule, and so not for the study to keep
	columns.rule = ""
	s, err := study.New(practice.Practice{}, common.ofStudy(nil))
	if err != nil {
		return err
	}
	if len(args) > 0 {
		if s, err = prepare(cmd, args[0], common, columns, curves, nil); err != nil {
			return err
		}
	}
	horizon := columns.horizon
	if horizon == 0 {
		horizon = s.Question.Horizon
	}
	if horizon == 0 {
		horizon = study.DefaultWaysHorizon
	}
	if horizon > study.MaxAhead {
		return usagef("--horizon %v: expected a whole number of attempts from 1 to %d", horizon, study.MaxAhead)
	}
	o, stated, err := f.options(cmd, first, chance, int(horizon))
	if err != nil {
		return err
	}
	answer, err := s.WaysToStop(cmd.Context(), o)
	if err != nil {
		return err
	}
	return a.show(reports.NewWaysToStop(s, answer, stated), common)
}
