package study

import (
	"context"
	"errors"
	"fmt"
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// A BorderlineLine is what trainees' values say at the borderline rating.
type BorderlineLine struct {
	Borderline float64
	Line       *standard.Line      // nil for the borderline group
	Group      standard.Borderline // those rated borderline; mean and median NaN where nobody was
}

// An AngoffRound is one round of judgements summed up.
type AngoffRound struct {
	Name   string
	Judges []string
	standard.Angoff
}

// An EbelPanel is the judges who sorted the items.
type EbelPanel struct {
	Judges []string
	standard.EbelStandard
}

// A PanelSize is the standard error that another number of judges would give.
type PanelSize struct {
	Judges int
	SE     float64
}

// panelSizes are those shown for planning.
var panelSizes = []int{3, 5, 8, 10, 15, 20}

// fromGroups answers from trainees judged competent or not yet, and beside it by the
// other ways to part the groups.
func (a *Standard) fromGroups(ctx context.Context, s *Study) error {
	e := s.evidence()
	c, err := standard.ContrastingGroups(ctx, e.Values, e.Competent, standard.GroupRule{Lower: a.Lower, Crossing: a.Rule.Crossing, Level: s.Options.Level}, s.Sampling())
	if err != nil {
		return err
	}
	a.Groups, a.Estimate = &c, c.Estimate
	a.FalsePass, a.FalseFail = c.Observed.FalsePass, c.Observed.FalseFail
	nan := math.NaN()
	for _, crossing := range []standard.Crossing{standard.Normal, standard.Weighted, standard.Logistic, standard.Youden} {
		other := StandardAlternative{
			Rule:     StandardRule{Method: ContrastingGroups, Crossing: crossing},
			Estimate: standard.Estimate{Value: c.ByMethod[crossing], SE: nan, Lower: nan, Upper: nan, Level: c.Level, N: c.N},
		}
		if crossing == a.Rule.Crossing {
			other.Estimate, other.Chosen = c.Estimate, true
		}
		a.Alternatives = append(a.Alternatives, other)
	}
	return nil
}

// groupErrors are the shares of those not yet competent who pass, and of the competent
// who fail.
func groupErrors(e practice.Evidence, at practice.Standard) (falsePass, falseFail float64) {
	var n, pass [2]float64 // of those not yet competent, and of the competent
	for i, v := range e.Values {
		if math.IsNaN(v) {
			continue
		}
		g := 0
		if e.Competent[i] {
			g = 1
		}
		n[g]++
		if at.Meets(v) {
			pass[g]++
		}
	}
	return pass[0] / n[0], 1 - pass[1]/n[1]
}

// fromRatings answers from trainees' ratings: those rated borderline, or the line
// through all.
func (a *Standard) fromRatings(ctx context.Context, s *Study) error {
	e, at := s.evidence(), a.Rule.Borderline
	if math.IsNaN(at) {
		return errors.New("which rating means borderline? none was given")
	}
	rule := standard.BorderlineRule{At: at, Lower: a.Lower, Level: s.Options.Level, UseMedian: a.Rule.UseMedian}
	group, groupErr := standard.BorderlineGroup(e.Values, e.Ratings, rule)
	if groupErr != nil {
		group.Mean, group.Median = math.NaN(), math.NaN()
	}
	a.Line = &BorderlineLine{Borderline: at, Group: group}
	if a.Rule.Method == BorderlineGroup {
		a.Estimate = group.Estimate
		return groupErr
	}
	l, err := standard.BorderlineRegression(ctx, e.Values, e.Ratings, rule, s.Sampling())
	a.Line.Line, a.Estimate = &l, l.Estimate
	return err
}

// fromJudgements sums up every round; the last one sets the standard.
func (a *Standard) fromJudgements(s *Study) error {
	for _, r := range s.evidence().Rounds {
		one, err := standard.ModifiedAngoff(r.Judgements, s.Options.Level)
		if err != nil {
			if r.Name != "" {
				err = fmt.Errorf("round %s: %w", r.Name, err)
			}
			return err
		}
		a.Rounds = append(a.Rounds, AngoffRound{Name: r.Name, Judges: r.Judges, Angoff: one})
		a.Estimate = one.Estimate
	}
	if len(a.Rounds) == 0 {
		return errors.New("no judgements")
	}
	last := a.Rounds[len(a.Rounds)-1]
	for _, n := range panelSizes {
		a.PanelSizes = append(a.PanelSizes, PanelSize{n, last.PanelSE(n)})
	}
	return nil
}

// fromClasses answers from judges who sorted the items into classes.
func (a *Standard) fromClasses(s *Study) error {
	p := EbelPanel{}
	var items [][]int
	var shares [][]float64
	for _, j := range s.evidence().Classes {
		p.Judges, items, shares = append(p.Judges, j.Judge), append(items, j.Items), append(shares, j.Shares)
	}
	if len(items) == 0 {
		return errors.New("no judgements")
	}
	var err error
	p.EbelStandard, err = standard.Ebel(items, shares, s.Options.Level)
	a.Ebel, a.Estimate = &p, p.Estimate
	return err
}

// fromBounds answers from what judges accept and how trainees do.
func (a *Standard) fromBounds(ctx context.Context, s *Study) error {
	e := s.evidence()
	var bounds []standard.Bound
	for _, b := range e.Bounds {
		bounds = append(bounds, standard.Bound(b))
	}
	c, err := standard.Hofstee(ctx, e.Values, bounds, standard.HofsteeRule{Lower: a.Lower, Step: a.Rule.Step, Level: s.Options.Level}, s.Sampling())
	a.Compromise, a.Estimate = &c, c.Estimate
	return err
}
