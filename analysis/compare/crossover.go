package compare

import (
	"fmt"
	"math"

	"tyro/analysis"
)

// A Crossed is a crossover trial of two curricula in two periods: every trainee practises
// by both, in one of two orders.
type Crossed struct {
	Arm, Reference string
	Effect         Contrast // the arm against the reference, within trainees, free of the period
	Period         Contrast // the second period against the first
	Carryover      Contrast // whether what came first acts on the second period: the orders' sums compared
	Warnings       []analysis.Warning
}

// Crossover analyses responses of trainees who had the reference first (refFirst) and of
// those who had the arm first (armFirst), each by trainee in the order of periods. The
// effect is half the difference between the orders of the change from period to period,
// the period's half its mean, and the carry-over the difference between the orders of the
// sum of both periods, all by Student's t (Hills and Armitage, 1979, British Journal of
// Clinical Pharmacology 8, 7-20). The test of carry-over is weak, and the effect must not
// be chosen by it (Freeman, 1989, Statistics in Medicine 8, 1421-1432); with carry-over
// the effect is not the arms' alone, and this is said.
func Crossover(measure, reference, arm string, refFirst, armFirst [][2]float64, level float64) Crossed {
	halves := func(name string, rows [][2]float64, of func(first, second float64) float64) Arm {
		a := Arm{Name: name}
		for _, r := range rows {
			a.Values = append(a.Values, of(r[0], r[1]))
		}
		return a
	}
	rise := func(first, second float64) float64 { return (second - first) / 2 }
	fall := func(first, second float64) float64 { return (first - second) / 2 }
	sum := func(first, second float64) float64 { return first + second }
	out := Crossed{Arm: arm, Reference: reference}
	// (second − first)/2 is (effect + period)/2 where the reference came first, and
	// (−effect + period)/2 where the arm did.
	out.Effect = Pooled(measure, halves(reference, armFirst, rise), halves(arm, refFirst, rise), level)
	out.Period = Pooled("period", halves("first period", armFirst, fall), halves("second period", refFirst, rise), level)
	out.Carryover = Pooled("carry-over", halves(reference+" first", refFirst, sum), halves(arm+" first", armFirst, sum), level)
	out.Effect.Arm, out.Effect.Reference = arm, reference
	for _, c := range []*Contrast{&out.Effect, &out.Period, &out.Carryover} {
		c.Method, c.ArmValue, c.RefValue = "crossover t", math.NaN(), math.NaN()
	}
	out.Effect.ArmN, out.Effect.RefN = len(refFirst)+len(armFirst), len(refFirst)+len(armFirst)
	text := fmt.Sprintf("what came first may still act in the second period: carry-over from %.3g to %.3g is not excluded, and the effect is the curricula's alone only without it", out.Carryover.Lower, out.Carryover.Upper)
	if out.Carryover.Known() && !out.Carryover.Open() {
		text = fmt.Sprintf("what came first acts on the second period (p = %.2g): the effect is not the curricula's alone; the first period by itself compares trainees who had only one of them", out.Carryover.P)
	}
	if out.Carryover.Known() {
		out.Warnings = append(out.Warnings, analysis.Warning{Code: "carry-over", Text: text})
	}
	return out
}
