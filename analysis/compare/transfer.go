package compare

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

// ErrTransfer is wrapped by every error of data that say nothing about transfer.
var ErrTransfer = errors.New("transfer cannot be worked out")

// A Practised is an arm whose trainees practised on a substitute first, and then on the
// task itself until they met the same rule.
type Practised struct {
	Name  string
	Prior []float64 // practice on the substitute by trainee, in its own unit; 0 for none
	// Spent is each trainee's practice on the task: until the rule was met, or the last
	// seen without.
	Spent []survival.Observation
}

// A Transfer is what prior practice on a substitute saves on the task.
type Transfer struct {
	Reference string  // the arm without prior practice
	UpTo      float64 // means of practice on the task are up to here where some did not meet the rule; +Inf where all did
	Steps     []TransferStep
	Warnings  []analysis.Warning
}

// A TransferStep is one arm, in the order of prior practice. Cost, saving and prior
// practice are means a trainee.
type TransferStep struct {
	Arm, Before  string // Before is the arm with the next smaller prior practice
	N, NotMet    int
	Prior, Spent float64
	// Percent of the reference's practice that is saved; Effectiveness, the saving per
	// unit of prior practice; Incremental, the saving against Before per unit of prior
	// practice more. The substitute pays where a unit of it costs less than this many
	// units of practice on the task: each is the cost ratio at which it just pays.
	Percent, Effectiveness, Incremental Ends
}

// Ends are an estimate with its interval.
type Ends struct{ Estimate, Lower, Upper float64 }

// TransferOf compares arms by what prior practice saves: with C the mean practice on the
// task and X the mean prior practice of an arm, and 0 for the arm without, percent
// transfer 100·(C₀ − C)/C₀, transfer effectiveness (C₀ − C)/X, and the incremental form
// of two neighbouring arms (C₁ − C₂)/(X₂ − X₁) (Roscoe, 1971, Human Factors 13, 561-567;
// Povenmire and Roscoe, 1973, Human Factors 15, 534-542). Trainees who did not meet the
// rule count by the restricted mean. Intervals are expanded percentiles of a bootstrap of
// whole trainees within arms.
func TransferOf(ctx context.Context, arms []Practised, level float64, sampling resample.Sampling) (Transfer, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return Transfer{}, err
	}
	arms, err = byPrior(arms)
	if err != nil {
		return Transfer{}, err
	}
	out := Transfer{Reference: arms[0].Name, UpTo: math.Inf(1)}
	groups, at, small := make([][]int, len(arms)), 0, math.MaxInt
	var all []survival.Observation
	var prior []float64
	notMet, end := 0, math.Inf(1)
	for g, a := range arms {
		groups[g] = indices(at, at+len(a.Spent))
		at += len(a.Spent)
		all, prior = append(all, a.Spent...), append(prior, a.Prior...)
		small = min(small, len(a.Spent))
		last := 0.0
		for _, o := range a.Spent {
			last = math.Max(last, o.Time)
			if !o.Event {
				notMet++
			}
		}
		end = math.Min(end, last)
	}
	if notMet > 0 {
		out.UpTo = end
		out.Warnings = append(out.Warnings, analysis.Warning{Code: "rule-not-met", Text: fmt.Sprintf(
			"%d trainees had not met the rule on the task when last seen: means of their practice are restricted to %g, which makes savings look smaller where one arm has more of them", notMet, end)})
	}
	numbers := func(groups [][]int) []float64 { // spent and prior by arm
		var v []float64
		for _, members := range groups {
			spent, before := 0.0, 0.0
			for _, i := range members {
				spent += all[i].Time / float64(len(members))
				before += prior[i] / float64(len(members))
			}
			if notMet > 0 {
				spent, _ = kaplanMeier(all, members).RestrictedMean(out.UpTo)
			}
			v = append(v, spent, before)
		}
		return v
	}
	seen := numbers(groups)
	sampling.Progress = nil
	draws, err := resample.Replicate(ctx, sampling, "compare/transfer", func() func(*rand.Rand) []float64 {
		return func(r *rand.Rand) []float64 { return numbers(resample.Within(r, groups)) }
	})
	if err != nil {
		return out, err
	}
	wide := level
	if small > 1 {
		n := float64(small)
		wide = resample.ExpandedLevel(level, float64(len(all)-len(arms)), math.Sqrt(n/(n-1)))
	}
	ends := func(of func(v []float64) float64) Ends {
		values := make([]float64, len(draws))
		for k, d := range draws {
			values[k] = of(d)
		}
		e := Ends{of(seen), math.NaN(), math.NaN()}
		if iv := resample.PercentileInterval(values, wide); small > 1 && !iv.Refused() {
			e.Lower, e.Upper = iv.Lower, iv.Upper
		}
		return e
	}
	for g := 1; g < len(arms); g++ {
		s := TransferStep{Arm: arms[g].Name, Before: arms[g-1].Name, N: len(arms[g].Spent), Spent: seen[2*g], Prior: seen[2*g+1]}
		for _, o := range arms[g].Spent {
			if !o.Event {
				s.NotMet++
			}
		}
		s.Percent = ends(func(v []float64) float64 { return 100 * (v[0] - v[2*g]) / v[0] })
		s.Effectiveness = ends(func(v []float64) float64 { return (v[0] - v[2*g]) / v[2*g+1] })
		s.Incremental = ends(func(v []float64) float64 { return (v[2*g-2] - v[2*g]) / (v[2*g+1] - v[2*g-1]) })
		out.Steps = append(out.Steps, s)
	}
	return out, nil
}

// byPrior orders arms by their mean prior practice; the first has none.
func byPrior(arms []Practised) ([]Practised, error) {
	prior := map[string]float64{}
	for _, a := range arms {
		if len(a.Spent) == 0 || len(a.Spent) != len(a.Prior) {
			return nil, fmt.Errorf("%w: arm %s has no trainee with practice on the task", ErrTransfer, a.Name)
		}
		prior[a.Name] = mean(a.Prior)
	}
	out := slices.Clone(arms)
	slices.SortStableFunc(out, func(a, b Practised) int { return cmp.Compare(prior[a.Name], prior[b.Name]) })
	switch {
	case len(out) < 2:
		return nil, fmt.Errorf("%w: it takes an arm without prior practice and one with", ErrTransfer)
	case slices.Max(out[0].Prior) > 0:
		return nil, fmt.Errorf("%w: no arm went to the task without practice on the substitute", ErrTransfer)
	}
	for k := 1; k < len(out); k++ {
		if prior[out[k].Name] == prior[out[k-1].Name] {
			return nil, fmt.Errorf("%w: arms %s and %s had the same prior practice, %g", ErrTransfer, out[k-1].Name, out[k].Name, prior[out[k].Name])
		}
	}
	return out, nil
}
