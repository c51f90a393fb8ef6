package reports

import (
	"context"
	"errors"
	"fmt"
	"math"

	"tyro/analysis/standard"
)

// experts answers from a group of experts, and beside it the other ways of
// summing up the same group.
func (d *Standard) experts(ctx context.Context, in *Input, data StandardData) (standard.Estimate, error) {
	q := d.Question
	rule := standard.ExpertRule{Lower: q.Lower, SDs: q.SDs, Drop: q.Drop, Log: q.Log, Level: in.Options.Level}
	e, err := d.oneExpertRule(ctx, in, q.Method, rule, data.Experts)
	if err != nil {
		return e.Estimate, err
	}
	d.Kept = e.Kept
	kept := 0.0
	known := 0.0
	for _, v := range data.Experts {
		if !math.IsNaN(v) {
			known++
			if standard.Passes(v, e.Value, q.Lower) {
				kept++
			}
		}
	}
	d.Experts = &ExpertGroup{e.N, e.Dropped, Number(e.Mean), Number(e.SD), Number(e.Median), Number(e.MAD), Number(kept / known), data.RunsEach}
	d.Definition = d.expertText(q.Method, rule)
	if rule.Drop != (standard.Drop{}) {
		d.Definition += ", " + rule.Drop.String()
	}
	for _, other := range []struct {
		method string
		drop   standard.Drop
		log    bool
	}{
		{method: ExpertMean}, {method: ExpertMean, drop: standard.Drop{Trim: 0.1}}, {method: ExpertMean, drop: standard.Drop{SDs: 2}},
		{method: ExpertMean, drop: standard.Drop{MADs: 3.5}}, {method: ExpertMean, log: true}, {method: ExpertMedian},
	} {
		rule.Drop, rule.Log = other.drop, other.log
		a, err := d.oneExpertRule(ctx, in, other.method, rule, data.Experts)
		if err != nil {
			continue // nobody is left, or a value has no logarithm
		}
		note := ""
		for _, w := range a.Warnings {
			switch w.Code {
			case "rule-cannot-act":
				note = "cannot act on so few"
			case "few-experts":
				note = "interval too short with so few"
			}
		}
		d.Alternatives = append(d.Alternatives, Alternative{
			d.expertText(other.method, rule) + ", " + rule.Drop.String(), a.N, Number(a.Value), Number(a.SE), Number(a.Lower), Number(a.Upper), note,
		})
	}
	if math.IsNaN(e.SE) {
		d.Warn("no-standard-error", "one expert gives no standard error")
	}
	return e.Estimate, nil
}

func (d *Standard) oneExpertRule(ctx context.Context, in *Input, method string, rule standard.ExpertRule, values []float64) (standard.Expert, error) {
	switch method {
	case ExpertMedian:
		return standard.ExpertMedian(ctx, values, rule, in.Plan())
	case ExpertPercentile:
		return standard.ExpertPercentile(values, d.Question.Share, rule)
	}
	return standard.ExpertMean(values, rule)
}

// expertText says in words how the standard follows.
func (d *Standard) expertText(method string, rule standard.ExpertRule) string {
	side := "minus"
	if rule.Lower {
		side = "plus"
	}
	switch {
	case method == ExpertPercentile:
		return fmt.Sprintf("percentile %g of experts", 100*d.Question.Share)
	case method == ExpertMedian && rule.SDs > 0:
		return fmt.Sprintf("median of experts %s %s", side, sdText(rule.SDs, "scaled MAD"))
	case method == ExpertMedian:
		return "median of experts"
	case rule.Log && rule.SDs > 0:
		return fmt.Sprintf("geometric mean of experts %s %s", side, sdText(rule.SDs, "SD of logarithms"))
	case rule.Log:
		return "geometric mean of experts"
	case rule.SDs > 0:
		return fmt.Sprintf("mean of experts %s %s", side, sdText(rule.SDs, "SD"))
	}
	return "mean of experts"
}

func (d *Standard) contrast(ctx context.Context, in *Input, data StandardData) (standard.Estimate, error) {
	q := d.Question
	c, err := standard.ContrastingGroups(ctx, data.Trainees, data.Competent, standard.GroupRule{Lower: q.Lower, Crossing: q.Crossing, Level: in.Options.Level}, in.Plan())
	if err != nil {
		return c.Estimate, err
	}
	group := func(name string, g standard.Normalised) ContrastGroup {
		return ContrastGroup{name, g.N, Number(g.Mean), Number(g.SD)}
	}
	d.Groups = []ContrastGroup{group("not yet competent", c.NotCompetent), group("competent", c.Competent)}
	for _, x := range c.Crossings {
		d.Crossings = append(d.Crossings, Number(x))
	}
	d.Observed = &ErrorShares{Number(c.Observed.FalsePass), Number(c.Observed.FalseFail)}
	d.Theoretical = &ErrorShares{Number(c.Theoretical.FalsePass), Number(c.Theoretical.FalseFail)}
	d.FalsePass, d.FalseFail = d.Observed.FalsePass, d.Observed.FalseFail
	l := c.Logistic
	d.Logistic = &LogisticLine{Number(l.Intercept), Number(l.Slope), Number(l.InterceptSE), Number(l.SlopeSE), Number(l.Cut), Number(l.CutSE)}
	nan := Number(math.NaN())
	for _, m := range []struct {
		crossing standard.Crossing
		name     string
	}{
		{standard.Normal, "normal curves of equal area cross"}, {standard.Weighted, "normal curves of the groups' sizes cross"},
		{standard.Logistic, "logistic regression gives one half"}, {standard.Youden, "observed value parts the groups best"},
	} {
		a := Alternative{Name: string(m.crossing) + ": " + m.name, N: c.N, Estimate: Number(c.ByMethod[m.crossing]), SE: nan, Lower: nan, Upper: nan}
		if m.crossing == q.Crossing {
			d.Definition = "where the " + m.name
			a.SE, a.Lower, a.Upper, a.Note = Number(c.SE), Number(c.Lower), Number(c.Upper), "the standard"
		}
		d.Alternatives = append(d.Alternatives, a)
	}
	return c.Estimate, nil
}

func (d *Standard) borderline(ctx context.Context, in *Input, data StandardData) (standard.Estimate, error) {
	q := d.Question
	if math.IsNaN(q.Borderline) {
		return standard.Estimate{}, errors.New("which rating is borderline? give --borderline X")
	}
	g, groupErr := standard.BorderlineGroup(data.Trainees, data.Ratings, q.Borderline, in.Options.Level, q.UseMedian)
	nan := Number(math.NaN())
	line := &RatingLine{
		Borderline: q.Borderline, Intercept: nan, Slope: nan, RSquared: nan, ResidualSD: nan, BootstrapSE: nan, BootstrapLower: nan, BootstrapUpper: nan,
		GroupN: g.N, GroupMean: nan, GroupMedian: nan,
	}
	if groupErr == nil {
		line.GroupMean, line.GroupMedian = Number(g.Mean), Number(g.Median)
	}
	d.Line = line
	if q.Method == BorderlineGroup {
		d.Definition = fmt.Sprintf("mean of those rated %g", q.Borderline)
		if q.UseMedian {
			d.Definition = fmt.Sprintf("median of those rated %g", q.Borderline)
		}
		return g.Estimate, groupErr
	}
	l, err := standard.BorderlineRegression(ctx, data.Trainees, data.Ratings, q.Borderline, in.Options.Level, in.Plan())
	if err != nil {
		return l.Estimate, err
	}
	d.Definition = fmt.Sprintf("regression of the value on the rating, at rating %g", q.Borderline)
	line.Intercept, line.Slope, line.RSquared, line.ResidualSD = Number(l.Intercept), Number(l.Slope), Number(l.RSquared), Number(l.ResidualSD)
	line.BandAt = l.HalfWidth
	line.BootstrapSE, line.BootstrapLower, line.BootstrapUpper, line.Replicates = Number(l.BootstrapSE), Number(l.BootstrapLower), Number(l.BootstrapUpper), l.Replicates
	return l.Estimate, nil
}

// panelSizes are those shown for planning.
var panelSizes = []int{3, 5, 8, 10, 15, 20}

// angoff sums up every round; the last one sets the standard.
func (d *Standard) angoff(in *Input, data StandardData) (standard.Estimate, error) {
	var last standard.Angoff
	for _, r := range data.Rounds {
		a, err := standard.ModifiedAngoff(r.Judgements, in.Options.Level)
		if err != nil {
			if r.Name != "" {
				err = fmt.Errorf("round %s: %w", r.Name, err)
			}
			return a.Estimate, err
		}
		last = a
		p := JudgePanel{
			Round: r.Name, Judges: a.Judges, Items: a.Items, Estimate: Number(a.Value), Percent: Number(a.Percent), SD: Number(a.TotalSD), SE: Number(a.SE),
			Lower: Number(a.Lower), Upper: Number(a.Upper), Median: Number(a.TotalMedian), SEItemsRandom: Number(a.SEItemsRandom),
			Judge: Number(a.Components.Judge), Item: Number(a.Components.Item), Residual: Number(a.Components.Residual), Generalizability: Number(a.Generalizability),
			Names: r.Judges,
		}
		for _, t := range a.Totals {
			p.Totals = append(p.Totals, Number(t))
		}
		d.Judges = append(d.Judges, p)
	}
	if len(data.Rounds) == 0 {
		return last.Estimate, errors.New("no judgements")
	}
	d.Definition = fmt.Sprintf("mean over judges of the chances a borderline trainee gets each of %d items right, added up", last.Items)
	if len(data.Rounds) > 1 {
		d.Definition += fmt.Sprintf(", in round %s", data.Rounds[len(data.Rounds)-1].Name)
	}
	for _, n := range panelSizes {
		d.Panels = append(d.Panels, PanelSize{n, Number(last.Components.SE(n, last.Items))})
	}
	return last.Estimate, nil
}

func (d *Standard) hofstee(ctx context.Context, in *Input, data StandardData) (standard.Estimate, error) {
	q := d.Question
	c, err := standard.Hofstee(ctx, data.Trainees, data.Bounds, standard.HofsteeRule{Lower: q.Lower, Step: q.Step, Level: in.Options.Level}, in.Plan())
	if err != nil {
		return c.Estimate, err
	}
	d.Compromise = &Compromise{
		Judges: c.Judges, MinCut: Number(c.Box.LowestCut), MaxCut: Number(c.Box.HighestCut), MinFail: Number(c.Box.LowestFail), MaxFail: Number(c.Box.HighestFail),
		FailOnLine: Number(c.FailOnLine), FailObserved: Number(c.FailObserved), FirstWhole: Number(c.FirstWhole),
	}
	for _, f := range c.Curve {
		d.Compromise.Curve = append(d.Compromise.Curve, Failing{Number(f.Standard), Number(f.Percent)})
	}
	d.Definition = "where the curve of percent failing meets the diagonal of the judges' box"
	return c.Estimate, nil
}

func (d *Standard) ebel(in *Input, data StandardData) (standard.Estimate, error) {
	var items [][]int
	var shares [][]float64
	p := JudgePanel{}
	for _, j := range data.Classes {
		items, shares, p.Names = append(items, j.Items), append(shares, j.Shares), append(p.Names, j.Judge)
	}
	if len(items) == 0 {
		return standard.Estimate{}, errors.New("no judgements")
	}
	e, err := standard.Ebel(items, shares, in.Options.Level)
	if err != nil {
		return e.Estimate, err
	}
	nan := Number(math.NaN())
	p.Judges, p.Items, p.Estimate, p.Percent, p.SD, p.SE = e.Judges, e.Items, Number(e.Value), Number(100*e.Value/float64(e.Items)), Number(e.TotalSD), Number(e.SE)
	p.Lower, p.Upper, p.Median = Number(e.Lower), Number(e.Upper), Number(e.TotalMedian)
	p.SEItemsRandom, p.Judge, p.Item, p.Residual, p.Generalizability = nan, nan, nan, nan, nan
	for _, t := range e.Totals {
		p.Totals = append(p.Totals, Number(t))
	}
	d.Judges = []JudgePanel{p}
	d.Definition = fmt.Sprintf("mean over judges of the items in each class times the share a borderline trainee gets right, of %d items", e.Items)
	return e.Estimate, nil
}
