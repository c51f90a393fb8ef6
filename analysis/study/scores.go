package study

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"tyro/analysis/practice"
)

// Scores says what a scoring rule makes of the attempts, and how much hangs on each of its
// components.
type Scores struct {
	Sheet    practice.ScoreSheet
	Scored   int // attempts with a score
	AtFloor  int
	AtCap    int
	Weights  []WeightEffect
	Warnings Warnings
}

// A WeightEffect is what one component does to the scores.
type WeightEffect struct {
	Component string
	Mean      float64 // points it adds to a score on average
	Largest   float64 // the most it does to one score, whichever the sign
	RankKept  float64 // rank correlation of trainees' mean scores with and without it; NaN where not known
	Changed   float64 // mean change of a score without it
}

// manyAtEnd is the share of scores at the floor or the cap from which they hide what
// trainees learn.
const manyAtEnd = 0.1

// NewScores counts what a rule makes of the attempts.
func NewScores(sheet practice.ScoreSheet) *Scores {
	out := &Scores{Sheet: sheet}
	for _, a := range sheet.Attempts {
		switch {
		case math.IsNaN(a.Score):
			continue
		case a.Score == sheet.Floor:
			out.AtFloor++
		case a.Score == sheet.Cap:
			out.AtCap++
		}
		out.Scored++
	}
	out.effects()
	share := func(n int) float64 { return float64(n) / math.Max(1, float64(out.Scored)) }
	if share(out.AtFloor) >= manyAtEnd {
		out.Warnings.Add("scores-at-floor", fmt.Sprintf("%d of %d scores stand at the floor, timeouts among them; how bad they were is not known, and a curve of scores starts too flat", out.AtFloor, out.Scored))
	}
	if share(out.AtCap) >= manyAtEnd {
		out.Warnings.Add("scores-at-cap", fmt.Sprintf("%d of %d scores stand at the cap; whoever gets better still is not seen", out.AtCap, out.Scored))
	}
	return out
}

// effects finds what each component does.
func (s *Scores) effects() {
	scores := make([]float64, len(s.Sheet.Attempts))
	var names []string
	for i, a := range s.Sheet.Attempts {
		scores[i] = a.Score
		for _, p := range a.Parts {
			if !slices.Contains(names, p.Name) {
				names = append(names, p.Name)
			}
		}
	}
	for _, name := range names {
		e := WeightEffect{Component: name}
		n := 0.0
		for i, a := range s.Sheet.Attempts {
			if math.IsNaN(a.Score) {
				continue
			}
			for _, p := range a.Parts {
				if p.Name == name && !math.IsNaN(p.Adds) {
					e.Mean += p.Adds
					if math.Abs(p.Adds) > math.Abs(e.Largest) {
						e.Largest = p.Adds
					}
				}
			}
			e.Changed += s.Sheet.Without[name][i] - a.Score
			n++
		}
		e.Mean, e.Changed = e.Mean/n, e.Changed/n
		e.RankKept = rankCorrelation(s.means(scores), s.means(s.Sheet.Without[name]))
		s.Weights = append(s.Weights, e)
	}
}

// means are the trainees' mean scores, in the order first seen.
func (s *Scores) means(scores []float64) []float64 {
	var order []string
	sum, n := map[string]float64{}, map[string]float64{}
	for i, a := range s.Sheet.Attempts {
		if math.IsNaN(scores[i]) {
			continue
		}
		if n[a.Trainee] == 0 {
			order = append(order, a.Trainee)
		}
		sum[a.Trainee] += scores[i]
		n[a.Trainee]++
	}
	var out []float64
	for _, id := range order {
		out = append(out, sum[id]/n[id])
	}
	return out
}

// rankCorrelation is Spearman's; NaN for fewer than three pairs, or where all of one side
// are alike.
func rankCorrelation(a, b []float64) float64 {
	if len(a) < 3 || len(a) != len(b) {
		return math.NaN()
	}
	return stat.Correlation(ranks(a), ranks(b), nil)
}

// ranks are from 1, those of equal values their mean.
func ranks(values []float64) []float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		switch {
		case values[i] < values[j]:
			return -1
		case values[i] > values[j]:
			return 1
		}
		return 0
	})
	out := make([]float64, len(values))
	for from := 0; from < len(order); {
		to := from
		for to < len(order) && values[order[to]] == values[order[from]] {
			to++
		}
		for _, i := range order[from:to] {
			out[i] = float64(from+to+1) / 2
		}
		from = to
	}
	return out
}
