package fit

import (
	"fmt"
	"math"

	"tyro/models"
)

// A Candidate is one family's standing in a choice by AICc.
type Candidate struct {
	Family    string
	AICc      float64
	Weight    float64 // Akaike weight among the candidates
	BIC       float64
	BICWeight float64 // approximate posterior probability with equal priors (Burnham and Anderson, 2002, section 6.4)
}

// A Choice is the fit with the lowest AICc and how the others stood.
type Choice struct {
	Fit        Fit
	Candidates []Candidate
	Fits       []Fit // of the candidates
	Index      int   // of the chosen spec
	All        []Fit // of every spec, usable or not; with the status not-run where it was an error
}

// Candidates makes one spec a family from a common one. Holds that name a
// parameter some family lacks drop that family.
func Candidates(common Spec, families []models.Family) []Spec {
	var specs []Spec
	for _, fam := range families {
		s := common
		s.Family = fam
		if fam.Shape() == nil || s.checkHolds() == nil && s.checkFrom() == nil {
			specs = append(specs, s)
		}
	}
	return specs
}

// Choose fits every spec and keeps the one with the lowest AICc; Burnham and
// Anderson (2002), Model Selection and Multimodel Inference, section 2.4 for
// the criterion and 2.9 for the weights. With a single spec it is One.
func Choose(s Series, specs []Spec) (Choice, error) {
	if len(specs) == 0 {
		return Choice{}, fmt.Errorf("%w: no curve family left to try", ErrSeries)
	}
	best := Choice{Index: -1, All: make([]Fit, len(specs))}
	var firstErr error
	var first Fit
	for i, spec := range specs {
		one, err := One(s, spec)
		if err != nil {
			if firstErr == nil {
				firstErr = err
			}
			continue
		}
		best.All[i] = one
		if first.Status == NotRun {
			first = one
		}
		if !one.Status.Usable() || math.IsNaN(one.AICc) && len(specs) > 1 {
			continue
		}
		best.Candidates = append(best.Candidates, Candidate{Family: spec.Family.Name(), AICc: one.AICc, BIC: one.BIC})
		best.Fits = append(best.Fits, one)
		if best.Index < 0 || one.AICc < best.Fit.AICc {
			best.Fit, best.Index = one, i
		}
	}
	if best.Index < 0 {
		if first.Status == NotRun {
			return Choice{}, firstErr
		}
		if first.Status.Usable() {
			first.Status = TooFew
			first.warn("too-few-attempts", fmt.Sprintf("%d usable attempts are too few to choose a curve family", first.N))
		}
		return Choice{Fit: first, Index: 0, All: best.All}, nil
	}
	best.Fit.cautionParted(s, specs)
	weigh(best.Candidates)
	return best, nil
}

// weigh fills both kinds of weight.
func weigh(cs []Candidate) {
	aicc, bic := make([]float64, len(cs)), make([]float64, len(cs))
	for i, c := range cs {
		aicc[i], bic[i] = c.AICc, c.BIC
	}
	aicc, bic = weights(aicc), weights(bic)
	for i := range cs {
		cs[i].Weight, cs[i].BICWeight = aicc[i], bic[i]
	}
}

// weights are exp(−Δ/2) for the distances Δ from the lowest criterion, scaled to
// sum to 1. A perfect fit, whose criterion is −Inf, takes all.
func weights(criteria []float64) []float64 {
	low, sum := math.Inf(1), 0.0
	for _, v := range criteria {
		low = math.Min(low, v)
	}
	out := make([]float64, len(criteria))
	for i, v := range criteria {
		switch {
		case v == low:
			out[i] = 1
		case !math.IsInf(low, -1):
			out[i] = math.Exp(-(v - low) / 2)
		}
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
