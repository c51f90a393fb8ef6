package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// Scores says what a scoring rule makes of the attempts, and how much hangs on each of its
// components.
type Scores struct {
	Sheet   practice.ScoreSheet
	Scored  int // attempts with a score
	AtFloor int
	AtCap   int
	Weights []WeightEffect

	Rule     StandardRule // by which the experts' scores make the standard
	Standard float64      // from the experts' scores under the rule as it is; NaN without experts
	Experts  int          // with a score
	Trainees int          // with an attempt that counts
	Meeting  int          // of them, who meet that standard
	Steps    []WeightStep // for every weight changed
	Moves    []StatusMove // trainees whose status a changed weight changes
	Warnings Warnings
}

// A WeightStep is what one changed weight does to the scores, to the standard that the experts'
// scores make, and to who meets it.
type WeightStep struct {
	Component  string
	From, To   float64 // weight
	Changed    float64 // mean change of a trainee's score
	RankKept   float64 // rank correlation of trainees' mean scores before and after; NaN where not known
	Standard   float64 // NaN without experts
	Meeting    int
	Gain, Lose int // trainees who meet it only with the changed weight, and only without
}

// A StatusMove is a trainee whose status one changed weight changes.
type StatusMove struct {
	Component string
	To        float64
	Trainee   string
	Meets     bool // with the changed weight
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

// ScoresOf counts what a rule makes of the attempts, and what becomes of scores, standard and
// status when its weights change. The standard comes from the experts' scores by the study
// file's rule (computed:) where the task's measure is the score, else as their mean; it is made
// anew for every changed weight, since it would be set on the same scale.
func (s *Study) ScoresOf(ctx context.Context, sheet practice.ScoreSheet) (*Scores, error) {
	out := &Scores{Sheet: sheet, Standard: math.NaN()}
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
	if err := out.steps(ctx, s); err != nil {
		return nil, err
	}
	share := func(n int) float64 { return float64(n) / math.Max(1, float64(out.Scored)) }
	worst, best := "how bad they were is not known, and a curve of scores starts too flat", "whoever gets better still is not seen"
	atFloor, atCap := "timeouts among them; "+worst, best
	if sheet.Lower { // seconds: the cap is the worst
		atFloor, atCap = best, "timeouts among them; "+worst
	}
	if share(out.AtFloor) >= manyAtEnd {
		out.Warnings.Add("scores-at-floor", fmt.Sprintf("%d of %d scores stand at the floor; %s", out.AtFloor, out.Scored, atFloor))
	}
	if share(out.AtCap) >= manyAtEnd {
		out.Warnings.Add("scores-at-cap", fmt.Sprintf("%d of %d scores stand at the cap; %s", out.AtCap, out.Scored, atCap))
	}
	return out, nil
}

// steps asks of every changed weight what it changes.
func (s *Scores) steps(ctx context.Context, of *Study) error {
	s.Rule = StandardRule{}.settled()
	if d := of.Task.Standard; d != nil && d.Computed != nil && of.Task.Response == "score" {
		s.Rule = RuleOf(*d.Computed).settled()
	}
	base, runs := scoresOf(s.Sheet.Attempts), scoresOf(s.Sheet.ExpertRuns)
	var err error
	if s.Standard, s.Experts, err = s.fromExperts(ctx, of, runs); err != nil {
		return err
	}
	switch {
	case len(s.Sheet.ExpertRuns) == 0:
		s.Warnings.Add("no-experts", "the study has no experts (experts: in the study file), so nothing is said of what the weights do to a standard from their scores")
	case math.IsNaN(s.Standard) && s.Experts > 0:
		s.Warnings.Add("no-expert-standard", fmt.Sprintf("the scores of %s give no standard by the rule %s: one says nothing of how far experts differ, and nothing can be said of what the weights do to it", counted(s.Experts, "expert", "experts"), s.Rule.Method))
	case math.IsNaN(s.Standard):
		s.Warnings.Add("no-expert-standard", "the experts' scores give no standard: no run of theirs that was done has a score")
	}
	who, before := s.meeting(of, base, s.Standard)
	s.Trainees, s.Meeting = len(who), count(before)
	for _, c := range s.Sheet.Changes {
		w := WeightStep{Component: c.Component, From: c.From, To: c.To, RankKept: rankCorrelation(s.means(base), s.means(c.Attempts))}
		n := 0.0
		for i, v := range c.Attempts {
			if !math.IsNaN(v) && !math.IsNaN(base[i]) {
				w.Changed += v - base[i]
				n++
			}
		}
		w.Changed /= n
		if w.Standard, _, err = s.fromExperts(ctx, of, c.Expert); err != nil {
			return err
		}
		_, after := s.meeting(of, c.Attempts, w.Standard)
		w.Meeting = count(after)
		for i, now := range after {
			if now == before[i] {
				continue
			}
			if s.Moves = append(s.Moves, StatusMove{c.Component, c.To, who[i], now}); now {
				w.Gain++
			} else {
				w.Lose++
			}
		}
		s.Steps = append(s.Steps, w)
	}
	return nil
}

// fromExperts is the standard that the experts' scores make, and how many experts have one:
// each counts with the runs that were done, by the rule's summary. NaN where nobody has.
func (s *Scores) fromExperts(ctx context.Context, of *Study, scores []float64) (float64, int, error) {
	var order []string
	runs := map[string][]float64{}
	for i, a := range s.Sheet.ExpertRuns {
		if a.Outcome == practice.Void {
			continue
		}
		if _, seen := runs[a.Trainee]; !seen {
			order = append(order, a.Trainee)
		}
		v := scores[i]
		if a.Outcome != practice.Done {
			v = math.NaN()
		}
		runs[a.Trainee] = append(runs[a.Trainee], v)
	}
	all := make([][]float64, len(order))
	for i, id := range order {
		all[i] = runs[id]
	}
	values, err := standard.Summaries(all, s.Rule.Summary, s.Rule.SkipRuns, s.Sheet.Lower)
	if err != nil {
		return math.NaN(), 0, err
	}
	known := 0
	for _, v := range values {
		if !math.IsNaN(v) {
			known++
		}
	}
	if known == 0 {
		return math.NaN(), 0, nil
	}
	e, err := of.expertStandardFor(ctx, s.Rule, values, s.Sheet.Lower)
	return e.Value, known, err
}

// meeting says of every trainee with an attempt that counts whether they meet a standard: by
// the task's rule, or without one with the last of these attempts.
func (s *Scores) meeting(of *Study, scores []float64, level float64) (who []string, meets []bool) {
	passes := map[string][]bool{}
	at := practice.Standard{Value: level, Lower: s.Sheet.Lower}
	for i, a := range s.Sheet.Attempts {
		if a.Outcome == practice.Void {
			continue
		}
		if _, seen := passes[a.Trainee]; !seen {
			who = append(who, a.Trainee)
		}
		passes[a.Trainee] = append(passes[a.Trainee], a.Outcome == practice.Done && a.Clean && at.Meets(scores[i]))
	}
	for _, id := range who {
		p := passes[id]
		met := p[len(p)-1]
		if of.Task.Rule != nil {
			met = of.Task.Rule.FirstMet(p) > 0
		}
		meets = append(meets, met)
	}
	return who, meets
}

// scoresOf are the scores of attempts.
func scoresOf(attempts []practice.ScoredAttempt) []float64 {
	out := make([]float64, len(attempts))
	for i, a := range attempts {
		out[i] = a.Score
	}
	return out
}

func count(of []bool) int {
	n := 0
	for _, is := range of {
		if is {
			n++
		}
	}
	return n
}

// effects finds what each component does.
func (s *Scores) effects() {
	scores := scoresOf(s.Sheet.Attempts)
	var names []string
	for _, a := range s.Sheet.Attempts {
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
