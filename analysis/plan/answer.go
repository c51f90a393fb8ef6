package plan

import (
	"context"
	"math"

	"tyro/analysis"
	"tyro/analysis/practice"
)

// An Ask is what is wanted of a plan.
type Ask struct {
	Trainees []int
	Attempts []int
	Studies  int     // of every size; 0 means [DefaultStudies]
	Power    float64 // looks for the smallest number of trainees that reaches it, for every number of attempts; 0: it does not
	Least    int     // trainees looked at by that; 0 means 2
	Most     int     // 0 means [DefaultMost]
	Costs    *practice.Costs
}

// The defaults.
const (
	DefaultStudies = 1000
	DefaultMost    = 500
)

// An Answer is what a plan says.
type Answer struct {
	Design   Design // at its first size
	Seed     uint64
	Asked    Ask // with the defaults in place
	Rows     []Row
	Smallest []Smallest
	Warnings []analysis.Warning
}

// Grid reports whether the rows are every one of several numbers of trainees with every
// one of several numbers of attempts.
func (a *Answer) Grid() bool { return len(a.Asked.Trainees) > 1 && len(a.Asked.Attempts) > 1 }

// Answer simulates what is missing of the plan, and answers.
func (f *File) Answer(ctx context.Context, a Ask, w Work) (*Answer, error) {
	if a.Studies == 0 {
		a.Studies = DefaultStudies
	}
	if a.Least == 0 {
		a.Least = 2
	}
	if a.Most == 0 {
		a.Most = DefaultMost
	}
	var sizes []Size
	for _, k := range a.Attempts {
		for _, n := range a.Trainees {
			if err := f.Design.At(n, k).Check(); err != nil {
				return nil, err
			}
			sizes = append(sizes, Size{n, k})
		}
	}
	out := &Answer{Design: f.Design, Seed: f.Seed, Asked: a}
	if err := f.Run(ctx, sizes, a.Studies, w); err != nil {
		return nil, err
	}
	for _, z := range sizes {
		out.Rows = append(out.Rows, f.Row(z, a.Studies).costing(a.Costs))
	}
	if a.Power > 0 {
		for _, k := range a.Attempts {
			s, err := f.Smallest(ctx, k, a.Power, a.Least, a.Most, a.Studies, w)
			if err != nil {
				return nil, err
			}
			s.Row = s.Row.costing(a.Costs)
			if s.Found && !out.has(s.Row) {
				out.Rows = append(out.Rows, s.Row)
			}
			out.Smallest = append(out.Smallest, s)
		}
	}
	out.remark()
	return out, nil
}

// has reports whether there is a row of that size.
func (a *Answer) has(r Row) bool {
	for _, o := range a.Rows {
		if o.Trainees == r.Trainees && o.Attempts == r.Attempts {
			return true
		}
	}
	return false
}

// costing is the row with what its practice costs.
func (r Row) costing(c *practice.Costs) Row {
	r.Cost = math.NaN()
	if c != nil && r.Studies > 0 {
		r.Cost = float64(r.People)*c.PerTrainee + r.Made*c.PerAttempt()
	}
	return r
}
