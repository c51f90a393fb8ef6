package plan

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/compare"
)

// A TTest compares two arms of one normal number a trainee by Student's t test. An SD of 0
// leaves no spread to judge by, and every such study fails.
type TTest struct {
	Difference float64 `json:"difference"`      // of the means, the other arm less the reference
	SD         float64 `json:"sd"`              // between trainees of an arm
	Lower      bool    `json:"lower,omitempty"` // smaller numbers are better; for a margin of non-inferiority
}

type tTest struct {
	TTest
	d Design
}

func (t *TTest) ready(d Design) (question, error) {
	if math.IsNaN(t.Difference) || math.IsInf(t.Difference, 0) || !(t.SD >= 0) || math.IsInf(t.SD, 0) {
		return nil, refuse("a difference of %v with a standard deviation of %v", t.Difference, t.SD)
	}
	return tTest{*t, d}, nil
}

func (t tTest) study(_ context.Context, r *rand.Rand) (Outcome, error) {
	ref, arm := compare.Arm{Name: "reference"}, compare.Arm{Name: "arm"}
	for range t.d.Trainees {
		ref.Values = append(ref.Values, t.SD*r.NormFloat64())
	}
	for range t.d.Other() {
		arm.Values = append(arm.Values, t.Difference+t.SD*r.NormFloat64())
	}
	c := compare.Pooled("difference", ref, arm, t.d.Level)
	if m := t.d.Margin; m != nil {
		c = compare.Within(c, compare.Margin{Value: m.Value, NonInferior: m.NonInferior, LowerBetter: t.Lower})
	}
	return numbers(c.Estimate, c.Lower, c.Upper, c.P, false, t.d.People()), nil
}

func (t tTest) truth() float64 { return t.Difference }

// formula is the power by the non-central t, and the expected width of the interval: the
// mean of a sample's standard deviation is below the true one by a factor of the gamma
// function.
func (t tTest) formula() *Formula {
	n, m := t.d.Trainees, t.d.Other()
	df := float64(n + m - 2)
	a, _ := math.Lgamma((df + 1) / 2)
	b, _ := math.Lgamma(df / 2)
	source, power := "non-central t", compare.TPower(t.Difference/t.SD, n, m, t.d.Level)
	if g := t.d.Margin; g != nil {
		better := t.Difference
		if t.Lower {
			better = -better
		}
		source = "the non-central t distribution, of one tail"
		if !g.NonInferior {
			source = "two one-sided tests (Phillips, 1990)"
		}
		power = compare.MarginPower(better/t.SD, g.Value/t.SD, g.NonInferior, n, m, t.d.Level)
	}
	level := t.d.Level
	if g := t.d.Margin; g != nil && !g.NonInferior {
		level = 2*level - 1 // of the interval that both one-sided tests are read off
	}
	limit := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
	return &Formula{
		Power:  power,
		Width:  2 * limit * t.SD * math.Sqrt(2/df) * math.Exp(a-b) * math.Sqrt(1/float64(n)+1/float64(m)),
		Source: source,
	}
}
