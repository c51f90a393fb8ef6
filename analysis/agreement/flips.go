package agreement

import (
	"context"
	"errors"
	"math"
)

// Flips says what disagreement does to pass/fail decisions at a cut.
type Flips struct {
	Cut      Cut
	PairRate Coefficient // chance that two raters of a subject decide differently
	Split    Coefficient // share of subjects on whom the raters are not of one mind
	Subjects int         // rated at least twice
	PassRate []float64   // of each rater, over the subjects each rated
}

// DecisionFlips is the share of decisions that change with the examiner, with
// bootstrap intervals of subjects.
func DecisionFlips(ctx context.Context, r Ratings, cut Cut, o Options) (Flips, error) {
	if err := usable(r, o); err != nil {
		return Flips{}, err
	}
	if math.IsNaN(cut.At) {
		return Flips{}, errors.New("a cut between pass and fail that is no number")
	}
	f := Flips{Cut: cut, PassRate: make([]float64, r.raters())}
	for j := range f.PassRate {
		n := 0.0
		for _, row := range r {
			if !math.IsNaN(row[j]) {
				n++
				if cut.passes(row[j]) {
					f.PassRate[j]++
				}
			}
		}
		f.PassRate[j] /= n
	}
	var rate, split []float64
	for _, row := range r {
		pass, m := 0.0, float64(count(row))
		if m < 2 {
			continue
		}
		for _, v := range row {
			if cut.passes(v) && !math.IsNaN(v) {
				pass++
			}
		}
		rate = append(rate, 2*pass*(m-pass)/(m*(m-1)))
		mixed := 0.0
		if pass > 0 && pass < m {
			mixed = 1
		}
		split = append(split, mixed)
	}
	f.Subjects = len(rate)
	f.PairRate, f.Split = unknown("decision-flips", o.level(), "not defined: no subject has two ratings"), unknown("decision-splits", o.level(), "not defined: no subject has two ratings")
	if f.Subjects == 0 {
		return f, nil
	}
	mean := func(vs []float64, draw []int) float64 {
		s := 0.0
		for _, i := range draw {
			s += vs[i] / float64(len(draw))
		}
		return s
	}
	all := everyone(f.Subjects)
	f.PairRate.Estimate, f.Split.Estimate = mean(rate, all), mean(split, all)
	f.PairRate.Note, f.Split.Note = "", ""
	if f.Subjects < 2 {
		return f, nil
	}
	ivs, err := bySubjects(ctx, o, "flips", f.Subjects, func() statistic {
		return func(draw []int) []float64 { return []float64{mean(rate, draw), mean(split, draw)} }
	})
	if err != nil {
		return f, err
	}
	f.PairRate, f.Split = f.PairRate.promote(ivs[0]), f.Split.promote(ivs[1])
	return f, nil
}
