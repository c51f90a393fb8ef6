package reports

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"

	"tyro/analysis/fit"
)

// Curves is the answer of the command curve.
type Curves struct {
	Header
	Curves []Curve `json:"curves"`

	In *Input `json:"-"`
}

// A Curve is one trainee's fitted curve in machine output.
type Curve struct {
	Trainee         string       `json:"trainee"`
	Task            string       `json:"task"`
	Arm             string       `json:"arm"`
	Family          string       `json:"family"`
	Noise           string       `json:"noise"`
	N               int          `json:"n"`
	NCensored       int          `json:"n_censored"`
	NFailed         int          `json:"n_failed"`
	NVoid           int          `json:"n_void"`
	Status          string       `json:"status"`
	Parameters      []Parameter  `json:"parameters"`
	ResidualSS      Number       `json:"residual_ss"`
	ResidualSD      Number       `json:"residual_sd"`
	DF              int          `json:"degrees_of_freedom"`
	LogLikelihood   Number       `json:"log_likelihood"`
	LogLikelihoodLn Number       `json:"log_likelihood_of_logs"`
	AIC             Number       `json:"aic"`
	AICc            Number       `json:"aicc"`
	BIC             Number       `json:"bic"`
	Derived         []Derived    `json:"derived"`
	Terms           []Parameter  `json:"terms"` // restart and correlation, where asked for
	Forecast        []Forecast   `json:"forecast"`
	RatioTest       *RatioTest   `json:"ratio_test"` // null where none was asked for
	Selection       []Candidate  `json:"selection"`
	Starts          int          `json:"starts"`
	StartsAgreed    int          `json:"starts_agreed"`
	IntervalMethod  string       `json:"interval_method"`
	Level           float64      `json:"level"`
	Diagnostics     *Diagnostics `json:"diagnostics"` // null for a series without a curve
	Warnings        []Warning    `json:"warnings"`

	Fit fit.Fit `json:"-"`
}

// Diagnostics say how well a curve describes its series.
type Diagnostics struct {
	Runs         int       `json:"runs"`
	RunsExpected Number    `json:"runs_expected"`
	RunsP        Number    `json:"runs_p"`
	Lag1         Number    `json:"lag_1_correlation"`
	LastSameSign int       `json:"last_on_one_side"`
	AtFloor      Number    `json:"share_at_lowest"`
	AtCap        Number    `json:"share_at_highest"`
	Restart      Restart   `json:"restart"`
	Outliers     []Outlier `json:"outliers"`
}

// Restart is the warm-up loss at the start of later sessions.
type Restart struct {
	Sessions int    `json:"sessions"`
	Shift    Number `json:"shift"`
	SE       Number `json:"se"`
	P        Number `json:"p"`
}

// An Outlier is an attempt far from its curve.
type Outlier struct {
	Attempt   Number `json:"attempt"`
	Response  Number `json:"response"`
	Distance  Number `json:"robust_distance"`
	Influence Number `json:"influence_on_last_level"`
}

func newDiagnostics(d fit.Diagnosis) *Diagnostics {
	out := &Diagnostics{
		Runs: d.Runs, RunsExpected: Number(d.RunsExpected), RunsP: Number(d.RunsP), Lag1: Number(d.Lag1), LastSameSign: d.LastSameSign,
		AtFloor: Number(d.AtFloor), AtCap: Number(d.AtCap), Outliers: []Outlier{},
		Restart: Restart{d.Restart.Sessions, Number(d.Restart.Shift), Number(d.Restart.SE), Number(d.Restart.P)},
	}
	for _, o := range d.Outliers {
		out.Outliers = append(out.Outliers, Outlier{Number(o.Attempt), Number(o.Response), Number(o.Distance), Number(o.Influence)})
	}
	return out
}

// A Parameter is an estimate with its standard error and interval.
type Parameter struct {
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	SE       Number `json:"se"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
	Held     bool   `json:"held,omitempty"`
}

// A Derived quantity is read off the curve.
type Derived struct {
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
}

// A Candidate is a family's standing in the choice.
type Candidate struct {
	Family    string `json:"family"`
	AICc      Number `json:"aicc"`
	Weight    Number `json:"weight"`
	BIC       Number `json:"bic"`
	BICWeight Number `json:"bic_weight"`
}

// FitCurves fits a curve to every trainee.
func FitCurves(ctx context.Context, in *Input) (*Curves, error) {
	d := &Curves{Header: newHeader("curve", in), Curves: make([]Curve, len(in.Trainees)), In: in}
	err := in.eachTrainee(ctx, func(i int, t Trainee) error {
		choice, err := fit.Choose(t.Series, in.Specs)
		if err != nil {
			return err
		}
		plan, purpose := in.Plan(), "trainee "+strconv.Itoa(i)
		plan.Workers = 1
		choice.Fit, err = fit.WithIntervals(ctx, t.Series, in.Specs, choice, in.Options.interval(), plan, purpose)
		if err != nil {
			return err
		}
		d.Curves[i] = newCurve(in, t, choice)
		if err := d.Curves[i].compare(ctx, in, t, choice, plan, purpose); err != nil {
			return err
		}
		if choice.Fit.Status.Usable() {
			diagnosis := fit.Diagnose(t.Series, in.Specs[choice.Index], choice.Fit)
			d.Curves[i].Diagnostics = newDiagnostics(diagnosis)
			d.Curves[i].Warnings = append(d.Curves[i].Warnings, warnings(diagnosis.Warnings)...)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	d.countLeftOut()
	return d, nil
}

func newCurve(in *Input, t Trainee, choice fit.Choice) Curve {
	f := choice.Fit
	c := Curve{
		Trainee: t.ID, Task: in.Task.Name, Arm: t.Arm, Family: f.Curve.Family.Name(), Noise: f.Noise.Name(),
		N: f.N, NCensored: f.NCensored, NFailed: t.Fails, NVoid: t.Voids, Status: f.Status.String(),
		ResidualSS: Number(f.RSS), ResidualSD: Number(f.Scale), DF: f.DF,
		LogLikelihood: Number(f.LogLik), LogLikelihoodLn: Number(f.LogLikLog),
		AIC: Number(f.AIC), AICc: Number(f.AICc), BIC: Number(f.BIC),
		Derived: []Derived{}, Terms: []Parameter{}, Forecast: []Forecast{}, Selection: []Candidate{}, Starts: f.Starts, StartsAgreed: f.Agreed,
		IntervalMethod: string(f.Intervals), Level: f.Level,
		Warnings: warnings(f.Warnings), Fit: f,
	}
	for _, p := range f.Params {
		c.Parameters = append(c.Parameters, Parameter{p.Name, Number(p.Value), Number(p.SE), Number(p.Lower), Number(p.Upper), p.Held})
	}
	for _, p := range f.Terms {
		c.Terms = append(c.Terms, Parameter{p.Name, Number(p.Value), Number(p.SE), Number(p.Lower), Number(p.Upper), p.Held})
	}
	for _, q := range f.Derived {
		c.Derived = append(c.Derived, Derived{q.Name, Number(q.Value), Number(q.Lower), Number(q.Upper)})
	}
	for _, k := range choice.Candidates {
		c.Selection = append(c.Selection, Candidate{k.Family, Number(k.AICc), Number(k.Weight), Number(k.BIC), Number(k.BICWeight)})
	}
	return c
}

// countLeftOut says which attempts are not in the curves.
func (d *Curves) countLeftOut() {
	var fails, voids, blank, timeouts int
	for _, t := range d.In.Trainees {
		fails += t.Fails
		voids += t.Voids
		blank += t.Blank
		timeouts += t.Series.NCensored()
	}
	if timeouts > 0 {
		d.Warn("timeouts-censored", fmt.Sprintf("%d timeouts enter as right-censored at the limit", timeouts))
	}
	if fails > 0 {
		d.Warn("fails-apart", fmt.Sprintf("%d hard fails are left out of the curves: their measure is not comparable", fails))
	}
	if voids > 0 {
		d.Warn("void-excluded", fmt.Sprintf("%d void attempts are excluded", voids))
	}
	if blank > 0 {
		d.Warn("no-measure", fmt.Sprintf("%d attempts without a measure are left out of the curves", blank))
	}
}

// parameter finds a parameter's estimate; NaN where the curve has none.
func (c Curve) parameter(name string) Parameter {
	for _, p := range c.Parameters {
		if p.Name == name {
			return p
		}
	}
	nan := Number(math.NaN())
	return Parameter{name, nan, nan, nan, nan, false}
}

func (c Curve) derived(name string) Derived {
	for _, q := range c.Derived {
		if q.Name == name {
			return q
		}
	}
	nan := Number(math.NaN())
	return Derived{name, nan, nan, nan}
}

// Tables lists a row a curve and parameter for programs; for people one
// overview, and the details when there is a single series.
func (d *Curves) Tables() []Table {
	t := Table{Name: "curves", Title: "Learning curves, one a trainee", Columns: []Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "family", Head: "family"},
		{Key: "noise"}, {Key: "n", Head: "n"}, {Key: "n_censored", Head: "timeouts"}, {Key: "n_failed", Head: "fails"},
		{Key: "starting_level", Head: "start"},
		{Key: "plateau", Head: "plateau"}, {Key: "plateau_lower"}, {Key: "plateau_upper"},
		{Key: "gain"}, {Key: "rate", Head: "rate"}, {Key: "rate_lower"}, {Key: "rate_upper"},
		{Key: "attempts_to_90_percent", Head: "to 90 %"},
		{Key: "residual_sd", Head: "resid. SD"}, {Key: "residual_ss"}, {Key: "log_likelihood"}, {Key: "aicc"},
		{Key: "status", Head: "status"},
	}}
	for j := range t.Columns {
		switch t.Columns[j].Key {
		case "starting_level", "plateau", "rate", "attempts_to_90_percent", "residual_sd":
			t.Columns[j].Show = func(v float64) string { return Significant(v, 3) }
		}
	}
	for _, c := range d.Curves {
		plateau, rate := c.parameter("plateau"), c.parameter("rate")
		status := c.Status
		if c.Fit.Status.Usable() && !c.Fit.PlateauKnown && c.Fit.Curve.Family.HasPlateau() {
			status = "plateau not identified"
		}
		t.Rows = append(t.Rows, []any{
			c.Trainee, c.Arm, c.Family, c.Noise, c.N, c.NCensored, c.NFailed,
			float64(c.derived("starting-level").Estimate),
			float64(plateau.Estimate), float64(plateau.Lower), float64(plateau.Upper),
			float64(c.parameter("gain").Estimate), float64(rate.Estimate), float64(rate.Lower), float64(rate.Upper),
			float64(c.derived("attempts-to-90-percent-of-own-gain").Estimate),
			float64(c.ResidualSD), float64(c.ResidualSS), float64(c.LogLikelihood), float64(c.AICc), status,
		})
	}
	d.addTerms(&t)
	t.Notes = d.notes()
	if len(d.Curves) == 1 {
		return []Table{d.detail(d.Curves[0]), t}
	}
	return []Table{t}
}

// addTerms adds a column for every term beside the curves that was asked for,
// before the status.
func (d *Curves) addTerms(t *Table) {
	last := len(t.Columns) - 1
	for _, name := range []string{"restart", "correlation"} {
		if !slices.ContainsFunc(d.Curves, func(c Curve) bool { return c.term(name).Name != "" }) {
			continue
		}
		t.Columns = slices.Insert(t.Columns, last, Column{Key: name, Head: name, Show: func(v float64) string { return Significant(v, 2) }})
		for i, c := range d.Curves {
			v := math.NaN()
			if p := c.term(name); p.Name != "" {
				v = float64(p.Estimate)
			}
			t.Rows[i] = slices.Insert(t.Rows[i], last, any(v))
		}
		last++
	}
}

// term finds a term beside the curve; without a name where there is none.
func (c Curve) term(name string) Parameter {
	for _, p := range c.Terms {
		if p.Name == name {
			return p
		}
	}
	return Parameter{}
}

// notes explain the columns.
func (d *Curves) notes() []string {
	in := d.In
	unit := in.Task.Unit
	if unit != "" {
		unit = " (" + unit + ")"
	}
	where := "start and plateau in the unit of the response" + unit
	if !in.Specs[0].Noise.Additive() {
		where = "start in the unit of the response" + unit + ", plateau on the scale of the curve (logarithm for counts, logit for passes)"
	}
	notes := []string{
		where + "; rate per attempt (exponential) or as an exponent of the attempt number (power, wright): the two are not comparable.",
		"to 90 %: attempts until 90 % of the trainee's own gain is made; it says nothing about a standard.",
	}
	switch in.Specs[0].Noise.Name() {
	case "lognormal":
		notes = append(notes, "Noise is multiplicative: the curve is the median, and the residual SD is of the natural logarithm.")
	case "reciprocal":
		notes = append(notes, "Speed (one over the response) scatters normally: the curve is the median, and the residual SD is of the speed.")
	}
	if len(in.Specs) > 1 {
		notes = append(notes, "Family chosen by AICc for each trainee; near ties are common, so no law is claimed from the choice.")
	}
	if len(d.Curves) > 1 && slices.ContainsFunc(d.Curves, func(c Curve) bool { return len(c.Terms) > 0 }) {
		notes = append(notes, "restart: shift of the first attempt after a break against the curve, as a natural logarithm where the noise is multiplicative. correlation: of neighbouring attempts of a session.")
	}
	return notes
}

// detail shows one curve in full.
func (d *Curves) detail(c Curve) Table {
	name := c.Trainee
	if name == "" {
		name = "the series"
	}
	t := Table{Name: "curve", Title: fmt.Sprintf("The %s curve of %s, %s noise, %d attempts", c.Family, name, c.Noise, c.N), Columns: []Column{
		{Key: "quantity", Head: "quantity"},
		{Key: "estimate", Head: "estimate", Show: sevenDigits}, {Key: "se", Head: "SE", Show: sevenDigits},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*c.Level), Show: sevenDigits}, {Key: "upper", Head: "to", Show: sevenDigits},
	}}
	for _, p := range c.Parameters {
		label := p.Name
		if p.Held {
			label += " (held)"
		}
		t.Rows = append(t.Rows, []any{label, float64(p.Estimate), float64(p.SE), float64(p.Lower), float64(p.Upper)})
	}
	for _, p := range c.Terms {
		t.Rows = append(t.Rows, []any{p.Name, float64(p.Estimate), float64(p.SE), float64(p.Lower), float64(p.Upper)})
	}
	for _, q := range c.Derived {
		t.Rows = append(t.Rows, []any{q.Name, float64(q.Estimate), math.NaN(), float64(q.Lower), float64(q.Upper)})
	}
	if c.Fit.Intervals == fit.ByProfile {
		note := "Intervals by profile likelihood."
		if slices.ContainsFunc(c.Parameters, func(p Parameter) bool { return p.Held }) {
			note = "Intervals by profile likelihood; by the delta method for derived quantities, since something is held."
		}
		t.Notes = append(t.Notes, note)
	} else {
		t.Notes = append(t.Notes, fmt.Sprintf("Intervals: %s.", c.IntervalMethod))
	}
	if g := c.Diagnostics; g != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("Residuals: %d stretches of one sign, %s expected (p %s); correlation of neighbours %s; %d outliers.",
			g.Runs, Significant(float64(g.RunsExpected), 3), pText(float64(g.RunsP)), Significant(float64(g.Lag1), 2), len(g.Outliers)))
	}
	t.Notes = append(t.Notes, fmt.Sprintf("Residual sum of squares %s, residual SD %s on %d degrees of freedom; log-likelihood %s, AICc %s; %d of %d starts agreed.",
		Significant(float64(c.ResidualSS), 8), Significant(float64(c.ResidualSD), 5), c.DF, Significant(float64(c.LogLikelihood), 6), Significant(float64(c.AICc), 6), c.StartsAgreed, c.Starts))
	t.Notes = append(t.Notes, c.compareNotes()...)
	t.Notes = append(t.Notes, c.termNotes()...)
	for _, w := range c.Warnings {
		t.Notes = append(t.Notes, "Note: "+w.Text+".")
	}
	if len(c.Selection) > 1 {
		text := "Families by AICc weight:"
		for _, k := range c.Selection {
			text += fmt.Sprintf(" %s %s", k.Family, Percent(float64(k.Weight)))
		}
		t.Notes = append(t.Notes, text+".")
	}
	return t
}

// termNotes says what the terms beside the curve mean.
func (c Curve) termNotes() []string {
	var notes []string
	for _, p := range c.Terms {
		switch {
		case p.Name == "correlation":
			notes = append(notes, "correlation: of neighbouring attempts of a session about the curve; its square, third power, … for attempts further apart.")
		case c.Noise == "lognormal":
			factor := func(v Number) string { return Significant(math.Exp(float64(v)), 3) }
			notes = append(notes, fmt.Sprintf("restart: the first attempt after a break is %s times the curve (%s to %s); the number above is its logarithm.", factor(p.Estimate), factor(p.Lower), factor(p.Upper)))
		default:
			notes = append(notes, "restart: how far the first attempt after a break lies from the curve, on the curve's scale.")
		}
	}
	return notes
}

func sevenDigits(v float64) string { return Significant(v, 7) }
