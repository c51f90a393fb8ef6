package reports

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/survival"
	"tyro/datasets"
)

// An Until is one trainee of a table of observed attempts: met the rule at the
// attempt, or was last seen there without. Since is the last assessment
// without, where assessments come every few attempts; NaN where the attempt is
// exact.
type Until struct {
	Arm     string
	Attempt float64
	Met     bool
	Since   float64
}

// UntilColumns name the columns of such a table; Arm and Since may be blank.
type UntilColumns struct{ Until, Met, Arm, Since string }

// ReadUntil reads a table with one row a trainee.
func ReadUntil(ctx context.Context, path string, c UntilColumns) (*datasets.Study, []Until, error) {
	s, err := datasets.OpenSheet(ctx, path)
	if err != nil {
		return nil, nil, err
	}
	attempts, err := s.Numbers(c.Until)
	if err != nil {
		return nil, nil, err
	}
	met, err := s.Text(c.Met)
	if err != nil {
		return nil, nil, err
	}
	arms, since := make([]string, len(met)), make([]float64, len(met))
	for i := range since {
		since[i] = math.NaN()
	}
	if c.Arm != "" {
		if arms, err = s.Text(c.Arm); err != nil {
			return nil, nil, err
		}
	}
	if c.Since != "" {
		if since, err = s.Numbers(c.Since); err != nil {
			return nil, nil, err
		}
	}
	var ps datasets.Problems
	var out []Until
	for i, a := range attempts {
		u := Until{arms[i], a, met[i] == "1", since[i]}
		switch {
		case math.IsNaN(a):
			ps = append(ps, s.Bad(i, c.Until, "", "the attempt at which the rule was met, or the last one seen", datasets.ErrMissing))
		case u.Met && a == 0:
			ps = append(ps, s.Bad(i, c.Until, fmt.Sprint(a), "attempts above 0, or 0 for a trainee seen at none", datasets.ErrRange))
		case practice.Until.Check(a) != nil:
			ps = append(ps, s.Bad(i, c.Until, fmt.Sprint(a), practice.Until.String(), datasets.ErrRange))
		}
		if met[i] != "0" && met[i] != "1" {
			ps = append(ps, s.Bad(i, c.Met, met[i], "1 where the rule was met or 0", datasets.ErrUnknown))
		}
		if c.Since != "" && u.Met && !(u.Since >= 0 && u.Since <= a) {
			ps = append(ps, s.Bad(i, c.Since, fmt.Sprint(u.Since), fmt.Sprintf("the last assessment without, from 0 to %g", a), datasets.ErrRange))
		}
		out = append(out, u)
	}
	if len(ps) > 0 {
		return nil, nil, ps
	}
	return &datasets.Study{Title: filepath.Base(path), SHA256: s.SHA256}, out, nil
}

// UntilProficient is the answer of the command proficiency for a table of
// observed attempts.
type UntilProficient struct {
	Header
	Results          []Result      `json:"results"` // none: nothing is projected for a trainee
	Survival         []ArmStep     `json:"survival"`
	LogRank          *LogRank      `json:"log_rank"`
	Band             string        `json:"band"`
	Level            float64       `json:"level"`
	Quantiles        []ArmQuantile `json:"quantiles"`
	Tests            []NamedTest   `json:"tests"`
	Hazards          []HazardRatio `json:"hazard_ratios"`
	CumulativeHazard []HazardPoint `json:"cumulative_hazard"`
	Coarse           []CoarseArm   `json:"interval_censored,omitempty"`
}

// An ArmQuantile is the attempts by which a share of an arm has met the rule.
type ArmQuantile struct {
	Arm      string  `json:"arm"`
	Share    float64 `json:"share"`
	Attempts Number  `json:"attempts"`
	Lower    Number  `json:"lower"`
	Upper    Number  `json:"upper"`
	Midpoint Number  `json:"midpoint"` // by the other convention, where the curve stands at the share for a while
	Status   string  `json:"status"`
	Largest  Number  `json:"largest_share"`
}

// A NamedTest is a test between arms.
type NamedTest struct {
	Name      string `json:"name"`
	ChiSquare Number `json:"chi_square"`
	DF        int    `json:"df"`
	P         Number `json:"p"`
}

// A HazardRatio compares an arm with the first one seen: above 1, it meets the
// rule sooner.
type HazardRatio struct {
	Model     string `json:"model"`
	Arm       string `json:"arm"`
	Reference string `json:"reference"`
	Ratio     Number `json:"ratio"`
	Lower     Number `json:"lower"`
	Upper     Number `json:"upper"`
	P         Number `json:"p"`
}

// A HazardPoint is an arm's cumulative hazard from an attempt on.
type HazardPoint struct {
	Arm     string `json:"arm"`
	Attempt Number `json:"attempt"`
	Hazard  Number `json:"hazard"`
	SE      Number `json:"se"`
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
}

// A CoarseArm is an arm's estimate from assessments every few attempts: where
// the chance of meeting the rule lies, and the assessments between which half
// have met it.
type CoarseArm struct {
	Arm         string       `json:"arm"`
	N           int          `json:"n"`
	MedianAfter Number       `json:"median_after"`
	MedianBy    Number       `json:"median_by"`
	Lower       Number       `json:"lower"` // of median_by
	Upper       Number       `json:"upper"`
	Masses      []CoarseMass `json:"masses"`
}

// A CoarseMass is a chance between two assessments.
type CoarseMass struct {
	After  Number `json:"after"`
	By     Number `json:"by"`
	Chance Number `json:"chance"`
}

// ObservedUntil describes observed attempts by arm and compares arms. band is
// the scale of the curve's limits; "" means log-log.
func ObservedUntil(ctx context.Context, in *Input, rows []Until, band survival.Band) (*UntilProficient, error) {
	if len(rows) == 0 {
		return nil, errors.New("the table has no trainees")
	}
	if band == "" {
		band = survival.LogLog
	}
	if !slices.Contains([]survival.Band{survival.Plain, survival.Log, survival.LogLog, survival.Arcsine}, band) {
		return nil, fmt.Errorf("band %q: expected plain, log, log-log or arcsine", band)
	}
	d := &UntilProficient{
		Header: newHeader("proficiency", in), Results: []Result{}, Survival: []ArmStep{}, Band: string(band), Level: in.Options.Level,
		Quantiles: []ArmQuantile{}, Tests: []NamedTest{}, Hazards: []HazardRatio{}, CumulativeHazard: []HazardPoint{},
	}
	var arms []string
	var groups [][]survival.Observation
	for _, r := range rows {
		k := slices.Index(arms, r.Arm)
		if k < 0 {
			k = len(arms)
			arms, groups = append(arms, r.Arm), append(groups, nil)
		}
		groups[k] = append(groups[k], survival.Observation{Time: r.Attempt, Event: r.Met})
	}
	if err := d.describe(ctx, in, arms, groups, band); err != nil {
		return nil, err
	}
	if err := d.coarse(ctx, in, arms, rows); err != nil {
		return nil, err
	}
	if len(arms) > 1 {
		d.compare(arms, groups)
	}
	return d, nil
}

func (d *UntilProficient) describe(ctx context.Context, in *Input, arms []string, groups [][]survival.Observation, band survival.Band) error {
	tau := math.Inf(1)
	for _, g := range groups {
		last := 0.0
		for _, o := range g {
			last = math.Max(last, o.Time)
		}
		tau = math.Min(tau, last)
	}
	for k, arm := range arms {
		a, err := newArmStep(ctx, in, arm, groups[k], band, tau)
		if err != nil {
			return err
		}
		a.warnMean(&d.Header)
		d.Survival = append(d.Survival, a)
		for _, share := range QuotaShares() {
			d.Quantiles = append(d.Quantiles, d.quantile(arm, share, a.curve))
		}
		for _, h := range survival.NelsonAalen(groups[k], d.Level) {
			d.CumulativeHazard = append(d.CumulativeHazard, HazardPoint{arm, Number(h.Time), Number(h.Hazard), Number(h.SE), Number(h.Lower), Number(h.Upper)})
		}
	}
	return nil
}

func (d *UntilProficient) quantile(arm string, share float64, c survival.Curve) ArmQuantile {
	q, mid := c.Quantile(share), c.MidpointQuantile(share)
	out := ArmQuantile{arm, share, Number(q.Estimate), Number(q.Lower), Number(q.Upper), Number(mid.Estimate), Estimated, Number(c.LargestShare())}
	if math.IsInf(q.Estimate, 1) {
		out.Status = CannotBeEstimated
		d.warn("share-not-reached", fmt.Sprintf("arm %s: a share of %s has not met the rule within the attempts seen; the largest share that has is %s", armName(arm), percent(share), percent(c.LargestShare())))
	}
	if !math.IsInf(q.Estimate, 1) && math.IsInf(q.Upper, 1) {
		d.warn("limit-not-reached", fmt.Sprintf("arm %s: the upper limit of the attempts for %s is not reached within the attempts seen", armName(arm), percent(share)))
	}
	return out
}

// coarse adds the estimate for assessments every few attempts.
func (d *UntilProficient) coarse(ctx context.Context, in *Input, arms []string, rows []Until) error {
	if !slices.ContainsFunc(rows, func(r Until) bool { return !math.IsNaN(r.Since) }) {
		return nil
	}
	for _, arm := range arms {
		var windows []survival.Window
		for _, r := range rows {
			switch {
			case r.Arm != arm:
			case !r.Met:
				windows = append(windows, survival.Window{Left: r.Attempt, Right: math.Inf(1)})
			default:
				windows = append(windows, survival.Window{Left: r.Since, Right: r.Attempt})
			}
		}
		c, err := survival.IntervalCensored(windows)
		if err != nil {
			return fmt.Errorf("arm %s: %w", armName(arm), err)
		}
		iv, err := survival.QuantileInterval(ctx, windows, 0.5, d.Level, in.plan())
		if err != nil {
			return err
		}
		after, by := c.Quantile(0.5)
		a := CoarseArm{arm, c.N, Number(after), Number(by), Number(iv.Lower), Number(iv.Upper), []CoarseMass{}}
		for _, m := range c.Masses {
			a.Masses = append(a.Masses, CoarseMass{Number(m.Left), Number(m.Right), Number(m.Chance)})
		}
		d.Coarse = append(d.Coarse, a)
	}
	d.warn("assessments-every-few", "the rule was looked at every few attempts only: the curves and tests take it as met at the assessment, which is late by up to one interval; interval_censored does not")
	return nil
}

// compare tests the arms against each other and gives hazard ratios to the
// first.
func (d *UntilProficient) compare(arms []string, groups [][]survival.Observation) {
	for _, w := range []struct {
		name string
		survival.Weights
	}{{"log-rank", survival.Weights{}}, {"early differences (rho 1)", survival.Weights{Rho: 1}}, {"late differences (gamma 1)", survival.Weights{Gamma: 1}}} {
		t := survival.WeightedLogRank([][][]survival.Observation{groups}, w.Weights)
		d.Tests = append(d.Tests, NamedTest{w.name, Number(t.ChiSquare), t.DF, Number(t.P)})
		if w.name == "log-rank" {
			d.LogRank = &LogRank{ChiSquare: Number(t.ChiSquare), DF: t.DF, P: Number(t.P)}
		}
	}
	var obs []survival.Observation
	var x [][]float64
	for k, g := range groups {
		for _, o := range g {
			row := make([]float64, len(arms)-1)
			if k > 0 {
				row[k-1] = 1
			}
			obs, x = append(obs, o), append(x, row)
		}
	}
	add := func(model string, cs []survival.Coefficient, err error) {
		if err != nil {
			d.warn("no-hazard-model", model+": "+err.Error())
			return
		}
		for k, c := range cs {
			d.Hazards = append(d.Hazards, HazardRatio{model, arms[k+1], arms[0], Number(c.Ratio), Number(math.Exp(c.Lower)), Number(math.Exp(c.Upper)), Number(c.P)})
			if math.IsInf(c.Estimate, 0) {
				d.warn("no-finite-effect", fmt.Sprintf("%s: arm %s and arm %s do not overlap, so their hazard ratio has no finite estimate", model, armName(arms[k+1]), armName(arms[0])))
			}
		}
	}
	cox, err := survival.Cox(obs, x, survival.CoxOptions{Ties: survival.Efron, Level: d.Level})
	add("cox, Efron ties", cox.Coefficients, err)
	cox, err = survival.Cox(obs, x, survival.CoxOptions{Ties: survival.Exact, Level: d.Level})
	add("cox, exact ties (odds)", cox.Coefficients, err)
	if slices.ContainsFunc(obs, func(o survival.Observation) bool { return o.Time != math.Trunc(o.Time) }) {
		return
	}
	for _, link := range []survival.Link{survival.CLogLog, survival.Logit} {
		f, err := survival.FitDiscrete(obs, x, survival.DiscreteOptions{Link: link, Level: d.Level})
		name := "by attempt, complementary log-log"
		if link == survival.Logit {
			name = "by attempt, logit (odds)"
		}
		add(name, f.Coefficients, err)
	}
}

// Tables lists the arms, the shares, and the comparison.
func (d *UntilProficient) Tables() []Table {
	attempts := func(v float64) string {
		if math.IsInf(v, 1) {
			return "not reached"
		}
		return significant(v, 3)
	}
	from := fmt.Sprintf("%g %% from", 100*d.Level)
	arms := Table{Name: "rule-met-by-arm", Title: "Attempts until the rule was met, by arm (nobody is dropped)", Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "n", Head: "trainees"}, {Key: "met", Head: "met"},
		{Key: "median", Head: "median attempts", Show: attempts}, {Key: "median_lower", Head: from, Show: attempts}, {Key: "median_upper", Head: "to", Show: attempts},
		{Key: "restricted_mean", Head: "mean up to tau"}, {Key: "restricted_mean_se"}, {Key: "restricted_mean_lower", Head: from}, {Key: "restricted_mean_upper", Head: "to"}, {Key: "tau", Head: "tau", Show: whole},
	}}
	for _, a := range d.Survival {
		arms.Rows = append(arms.Rows, []any{armName(a.Arm), a.N, a.Met, float64(a.Median.Estimate), float64(a.Median.Lower), float64(a.Median.Upper), float64(a.RestrictedMean), float64(a.RestrictedSE), float64(a.RestrictedLower), float64(a.RestrictedUpper), float64(a.Tau)})
	}
	arms.Notes = []string{
		"Definition rule-met, as observed. Product-limit estimate: those who have not met the rule count up to their last attempt. A median is the first attempt by which half have met it. Its limits by the " + d.Band + " band; those of the mean by a bootstrap of trainees.",
		Caution,
	}
	shares := Table{Name: "shares", Title: "Attempts by which a share of trainees has met the rule", Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "share", Head: "share", Show: percent}, {Key: "attempts", Head: "attempts", Show: attempts}, {Key: "lower", Head: from, Show: attempts}, {Key: "upper", Head: "to", Show: attempts},
		{Key: "midpoint"}, {Key: "status", Head: "status"},
	}}
	for _, q := range d.Quantiles {
		shares.Rows = append(shares.Rows, []any{armName(q.Arm), q.Share, float64(q.Attempts), float64(q.Lower), float64(q.Upper), float64(q.Midpoint), q.Status})
	}
	out := []Table{arms, shares}
	if len(d.Coarse) > 0 {
		t := Table{Name: "interval-censored", Title: "Median, assessments every few attempts", Columns: []Column{
			{Key: "arm", Head: "arm"}, {Key: "n", Head: "trainees"}, {Key: "median_after", Head: "after", Show: attempts}, {Key: "median_by", Head: "by", Show: attempts}, {Key: "lower", Head: from, Show: attempts}, {Key: "upper", Head: "to", Show: attempts},
		}}
		for _, c := range d.Coarse {
			t.Rows = append(t.Rows, []any{armName(c.Arm), c.N, float64(c.MedianAfter), float64(c.MedianBy), float64(c.Lower), float64(c.Upper)})
		}
		out = append(out, t)
	}
	if len(d.Tests) > 0 {
		t := Table{Name: "tests", Title: "Do the arms differ?", Columns: []Column{{Key: "test", Head: "test"}, {Key: "chi_square", Head: "chi-square"}, {Key: "df", Head: "df"}, {Key: "p", Head: "p", Show: pValue}}}
		for _, x := range d.Tests {
			t.Rows = append(t.Rows, []any{x.Name, float64(x.ChiSquare), x.DF, float64(x.P)})
		}
		t.Notes = []string{"The log-rank test is the one to plan for; the others look at early or late differences and are chosen before seeing the data."}
		h := Table{Name: "hazard-ratios", Title: "How much sooner, against the first arm (above 1: sooner)", Columns: []Column{
			{Key: "model", Head: "model"}, {Key: "arm", Head: "arm"}, {Key: "reference", Head: "against"}, {Key: "ratio", Head: "ratio"}, {Key: "lower", Head: from}, {Key: "upper", Head: "to"}, {Key: "p", Head: "p", Show: pValue},
		}}
		for _, x := range d.Hazards {
			h.Rows = append(h.Rows, []any{x.Model, armName(x.Arm), armName(x.Reference), float64(x.Ratio), float64(x.Lower), float64(x.Upper), float64(x.P)})
		}
		out = append(out, t, h)
	}
	return out
}
