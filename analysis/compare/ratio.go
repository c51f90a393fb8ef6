package compare

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// A LikelihoodRatio sets two fits of a cohort's curve against each other: one whose
// parameters differ between arms, and one in which arms are alike in some of them.
type LikelihoodRatio struct {
	Parameters []string // in which arms are alike in the second fit
	ChiSquare  float64  // twice the difference of log-likelihoods
	F          FTest    // how it is judged
}

// JudgeRatio judges twice a difference of log-likelihoods by the trainees that it rests on.
// Against χ² it rejects too often where trainees are few; with normal numbers a trainee it
// is −n·log Λ of Wilks's Λ, whose F is Rao's (Rao, 1951, Bulletin of the International
// Statistical Institute 33, 177-180): alike of effects parameters are dropped, between arms
// of n trainees in all.
func JudgeRatio(dropped []string, effects, arms, n int, chiSquare float64) LikelihoodRatio {
	r := LikelihoodRatio{Parameters: dropped, ChiSquare: math.Max(0, chiSquare), F: FTest{math.NaN(), math.NaN(), math.NaN(), math.NaN()}}
	p, q := float64(len(dropped)), float64(arms-1)
	// Parameters that still differ take part as covariates would.
	e := float64(n-arms) - (float64(effects) - p)
	t := 1.0
	if d := p*p + q*q - 5; d > 0 && p*p*q*q > 4 {
		t = math.Sqrt((p*p*q*q - 4) / d)
	}
	df1 := p * q
	df2 := (e-(p-q+1)/2)*t - (p*q-2)/2
	if !(df2 > 0) || !(p > 0) {
		return r
	}
	root := math.Exp(-r.ChiSquare / float64(n) / t)
	r.F = FTest{F: (1 - root) / root * df2 / df1, DF1: df1, DF2: df2}
	r.F.P = distuv.F{D1: df1, D2: df2}.Survival(r.F.F)
	return r
}
