package study

import (
	"context"
	"fmt"

	"tyro/analysis/agreement"
)

// An AgreementPlan is a question about a study of raters to come.
type AgreementPlan struct {
	What       string // icc or kappa
	Expect     float64
	Width      float64
	Raters     []int
	Subjects   []int     // to simulate; nil: round the number that the formula gives
	Shares     []float64 // of the categories, for kappa
	RaterShare float64   // part of the variance within subjects that lies between raters, for icc
	Null       *float64  // for kappa: also a test against this value
	Power      float64
}

// A PlannedAgreement is sizes by formula, and what studies of those sizes give when
// simulated.
type PlannedAgreement struct {
	Plan     AgreementPlan
	Sizes    []PlannedSize // where there is a formula
	Rows     []agreement.PlannedWidth
	TestSize int // subjects for a test of kappa; 0 where none was asked for
	Warnings Warnings
}

// A PlannedSize is the number of subjects that the formula asks for.
type PlannedSize struct{ Raters, Subjects int }

// PlanAgreement answers by formula and by simulation. It looks at no ratings.
func (s *Study) PlanAgreement(ctx context.Context, p AgreementPlan) (*PlannedAgreement, error) {
	if !(p.RaterShare >= 0 && p.RaterShare < 1) {
		return nil, fmt.Errorf("planning: expected a rater share from 0 to below 1, got %g", p.RaterShare)
	}
	level := s.Options.Level
	out := &PlannedAgreement{Plan: p}
	for _, k := range p.Raters {
		n, formula, err := p.size(k, level)
		if err != nil {
			return nil, err
		}
		if formula {
			out.Sizes = append(out.Sizes, PlannedSize{Raters: k, Subjects: n})
		}
		sizes := p.Subjects
		if sizes == nil {
			sizes = []int{max(5, n/2), max(6, n), max(8, n*3/2)}
		}
		for _, n := range sizes {
			one := agreement.PlannedStudy{ICC: p.Expect, Kappa: p.Expect, Raters: k, RaterShare: p.RaterShare}
			if p.What == "kappa" {
				one.Shares = p.Shares
			}
			w, err := agreement.SimulateWidth(ctx, one, n, level, s.shown())
			if err != nil {
				return nil, err
			}
			out.Rows = append(out.Rows, w)
		}
	}
	if p.Null != nil && p.What == "kappa" {
		var err error
		if out.TestSize, err = agreement.KappaTestSubjects(*p.Null, p.Expect, p.Shares, 1-level, p.Power); err != nil {
			return nil, err
		}
	}
	if p.RaterShare > 0 {
		out.Warnings.Add("formula-without-raters", "the formula is for raters of equal severity; with a share of variance between raters only the simulated widths hold, and more raters narrow them more than more subjects do")
	}
	return out, nil
}

// size is the formula's number; for more than two raters kappa has none, and
// two raters' number is where simulation starts.
func (p AgreementPlan) size(raters int, level float64) (n int, formula bool, err error) {
	if p.What == "icc" {
		n, err = agreement.ICCSubjects(p.Expect, raters, p.Width, level)
		return n, true, err
	}
	n, err = agreement.KappaSubjects(p.Expect, p.Shares, p.Width, level)
	return n, raters == 2, err
}
