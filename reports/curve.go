package reports

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/models"
)

// Curves is the answer of the command curve.
type Curves struct {
	Header
	Curves []Curve `json:"curves"`

	Answer *study.Curves `json:"-"`
	Study  *study.Study  `json:"-"`
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

	startOpen      bool // early timeouts leave open how high the curve starts
	plateauUnknown bool // the curve has a plateau, but it is not identified
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

// NewCurves words the answer about every trainee's own curve.
func NewCurves(s *study.Study, a *study.Curves) *Curves {
	d := &Curves{Header: headerOf("curve", s), Answer: a, Study: s, Curves: []Curve{}}
	for i, c := range a.Each {
		d.Curves = append(d.Curves, newCurve(s, s.Trainees[i], c))
	}
	d.With(a.Warnings)
	return d
}

func newCurve(s *study.Study, t practice.Trainee, a study.Curve) Curve {
	f := a.Fit
	c := Curve{
		Trainee: t.ID, Task: s.Task.Name, Arm: t.Arm, Family: f.Curve.Family.Name(), Noise: f.Noise.Name(),
		N: f.N, NCensored: f.NCensored, Status: f.Status.String(),
		NFailed:    t.Number(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }),
		NVoid:      t.Number(func(a practice.Attempt) bool { return a.Outcome == practice.Void }),
		ResidualSS: Number(f.RSS), ResidualSD: Number(f.ResidualSD()), DF: f.DF,
		LogLikelihood: Number(f.LogLik), LogLikelihoodLn: Number(f.LogLikLog),
		AIC: Number(f.AIC), AICc: Number(f.AICc), BIC: Number(f.BIC),
		Parameters: parameters(f.Params), Terms: parameters(f.Terms), Derived: []Derived{}, Forecast: []Forecast{}, Selection: []Candidate{},
		Starts: f.Starts, StartsAgreed: f.Agreed, IntervalMethod: string(f.Intervals), Level: f.Level, Warnings: warnings(f.Warnings),
		startOpen:      f.StartOpen,
		plateauUnknown: f.Status.Usable() && !f.PlateauKnown && f.Curve.Family.HasPlateau(),
	}
	for _, q := range f.Derived {
		c.Derived = append(c.Derived, Derived{Name: q.Name, Estimate: Number(q.Value), Lower: Number(q.Lower), Upper: Number(q.Upper)})
	}
	for _, k := range a.Candidates {
		c.Selection = append(c.Selection, Candidate{Family: k.Family, AICc: Number(k.AICc), Weight: Number(k.Weight), BIC: Number(k.BIC), BICWeight: Number(k.BICWeight)})
	}
	for _, p := range a.Forecasts {
		c.Forecast = append(c.Forecast, Forecast{Family: p.Family, Seen: p.Seen, Ahead: p.Ahead, RMSE: Number(p.RMSE), Bias: Number(p.Bias), InInterval: Number(p.InInterval)})
	}
	if r := a.Ratio; r != nil {
		c.RatioTest = &RatioTest{Larger: r.Larger, Smaller: r.Smaller, Deviance: Number(r.Deviance), DF: r.DF, PChi: Number(r.PChi), P: Number(r.P), Replicates: r.Replicates}
	}
	if g := a.Diagnosis; g != nil {
		c.Diagnostics = newDiagnostics(*g)
		c.Warnings = append(c.Warnings, warnings(g.Warnings)...)
	}
	return c
}

func parameters(es []fit.Estimate) []Parameter {
	out := []Parameter{}
	for _, p := range es {
		out = append(out, Parameter{Name: p.Name, Estimate: Number(p.Value), SE: Number(p.SE), Lower: Number(p.Lower), Upper: Number(p.Upper), Held: p.Held})
	}
	return out
}

// parameter finds a parameter's estimate; NaN where the curve has none.
func (c Curve) parameter(name string) Parameter {
	for _, p := range c.Parameters {
		if p.Name == name {
			return p
		}
	}
	nan := Number(math.NaN())
	return Parameter{Name: name, Estimate: nan, SE: nan, Lower: nan, Upper: nan}
}

func (c Curve) derived(name string) Derived {
	for _, q := range c.Derived {
		if q.Name == name {
			return q
		}
	}
	nan := Number(math.NaN())
	return Derived{Name: name, Estimate: nan, Lower: nan, Upper: nan}
}

// overview is one row a curve.
func (d *Curves) overview() Table {
	rows := d.Curves
	parameter := func(name string) func(Curve) Number {
		return func(c Curve) Number { return c.parameter(name).Estimate }
	}
	derived := func(name string) func(Curve) Number {
		return func(c Curve) Number { return c.derived(name).Estimate }
	}
	t := Table{Name: "curves", Title: "Learning curves, one a trainee", Columns: []Column{
		Words("trainee", "trainee", rows, func(c Curve) string { return c.Trainee }),
		Words("arm", "arm", rows, func(c Curve) string { return c.Arm }),
		Words("family", "family", rows, func(c Curve) string { return c.Family }),
		Words("noise", "", rows, func(c Curve) string { return c.Noise }),
		Counts("n", "n", rows, func(c Curve) int { return c.N }),
		Counts("n_censored", "timeouts", rows, func(c Curve) int { return c.NCensored }),
		Counts("n_failed", "fails", rows, func(c Curve) int { return c.NFailed }),
		Numbers("starting_level", "start", rows, derived("starting-level"), ThreeDigits),
		Numbers("plateau", "plateau", rows, parameter("plateau"), ThreeDigits),
		Numbers("plateau_lower", "", rows, func(c Curve) Number { return c.parameter("plateau").Lower }, nil),
		Numbers("plateau_upper", "", rows, func(c Curve) Number { return c.parameter("plateau").Upper }, nil),
		Numbers("gain", "", rows, parameter("gain"), nil),
		Numbers("rate", "rate", rows, parameter("rate"), ThreeDigits),
		Numbers("rate_lower", "", rows, func(c Curve) Number { return c.parameter("rate").Lower }, nil),
		Numbers("rate_upper", "", rows, func(c Curve) Number { return c.parameter("rate").Upper }, nil),
		Numbers("attempts_to_90_percent", "to 90 %", rows, derived("attempts-to-90-percent-of-own-gain"), ThreeDigits),
		Numbers("residual_sd", "resid. SD", rows, func(c Curve) Number { return c.ResidualSD }, ThreeDigits),
		Numbers("residual_ss", "", rows, func(c Curve) Number { return c.ResidualSS }, nil),
		Numbers("log_likelihood", "", rows, func(c Curve) Number { return c.LogLikelihood }, nil),
		Numbers("aicc", "", rows, func(c Curve) Number { return c.AICc }, nil),
	}}
	for _, name := range []string{"restart", "correlation"} { // where they were asked for
		if slices.ContainsFunc(rows, func(c Curve) bool { return c.term(name).Name != "" }) {
			t.Columns = append(t.Columns, Numbers(name, name, rows, func(c Curve) Number { return c.term(name).Estimate }, func(v float64) string { return Significant(v, 2) }))
		}
	}
	t.Columns = append(t.Columns, Words("status", "status", rows, func(c Curve) string {
		switch {
		case c.startOpen:
			return "start not identified"
		case c.plateauUnknown:
			return "plateau not identified"
		}
		return c.Status
	}))
	t.Notes = d.notes()
	return t
}

// Tables lists a row a curve; for a single series its details first.
func (d *Curves) Tables() []Table {
	if len(d.Answer.Each) == 1 {
		return []Table{d.detail(d.Curves[0]), d.overview()}
	}
	return []Table{d.overview()}
}

// Bands lists, for every attempt made and some ahead, where each curve lies and where a
// single attempt will fall.
func (d *Curves) Bands() Table {
	type row struct {
		trainee string
		fit.Band
	}
	var rows []row
	for i, c := range d.Answer.Each {
		id := d.Study.Trainees[i].ID
		for _, b := range c.Bands {
			if d.ShowsTrainee(id) {
				rows = append(rows, row{id, b})
			}
		}
	}
	return Table{Name: "bands", Columns: []Column{
		Words("trainee", "", rows, func(r row) string { return r.trainee }),
		Numbers("attempt", "", rows, func(r row) float64 { return r.Attempt }, nil),
		Numbers("curve", "", rows, func(r row) float64 { return r.Mean }, nil),
		Numbers("curve_lower", "", rows, func(r row) float64 { return r.MeanLower }, nil),
		Numbers("curve_upper", "", rows, func(r row) float64 { return r.MeanUpper }, nil),
		Numbers("next_lower", "", rows, func(r row) float64 { return r.NextLower }, nil),
		Numbers("next_upper", "", rows, func(r row) float64 { return r.NextUpper }, nil),
	}}
}

// term finds a term beside the curve; without a name where there is none.
func (c Curve) term(name string) Parameter {
	for _, p := range c.Terms {
		if p.Name == name {
			return p
		}
	}
	nan := Number(math.NaN())
	return Parameter{Estimate: nan, SE: nan, Lower: nan, Upper: nan}
}

// notes explain the columns.
func (d *Curves) notes() []string {
	noise := d.Study.Noise()
	unit := d.Study.Task.Unit
	if unit != "" {
		unit = " (" + unit + ")"
	}
	where := "start and plateau in the unit of the response" + unit
	if !noise.Additive() {
		where = "start in the unit of the response" + unit + ", plateau on the scale of the curve (logarithm for counts, logit for passes)"
	}
	notes := []string{
		where + "; rate per attempt (exponential) or as an exponent of the attempt number (power, wright): the two are not comparable.",
		"to 90 %: attempts until 90 % of the trainee's own gain is made; it says nothing about a standard.",
	}
	if text := scatterWords(noise); text != "" {
		notes = append(notes, text)
	}
	if tails := tailWords(noise.Name()); tails != "" {
		notes = append(notes, fmt.Sprintf("Noise is %s: %s.", noise.Name(), tails))
	}
	if d.Study.FamilyChosen() {
		notes = append(notes, "The family was chosen by AICc for each trainee. Near ties are common, so the choice is no evidence for a law of learning.")
	}
	if len(d.Curves) > 1 && slices.ContainsFunc(d.Curves, func(c Curve) bool { return len(c.Terms) > 0 }) {
		notes = append(notes, "restart: how far the first attempt after a break lies from the curve, as a natural logarithm where the noise is multiplicative. correlation: of neighbouring attempts of a session.")
	}
	return notes
}

// addedOn is the scale on which the noise of a name is added to the curve.
func addedOn(noise string) models.AdditiveScale {
	n, err := models.NoiseByName(noise)
	if err != nil {
		return models.AddedAsIs
	}
	on, _ := models.AddedOn(n)
	return on
}

// scatterWords say what the residual SD is of, where it is not of the response.
func scatterWords(n models.Noise) string {
	switch on, _ := models.AddedOn(n); on {
	case models.AddedLog:
		return "Noise is multiplicative: the curve is the median, and the residual SD is of the natural logarithm."
	case models.AddedSpeed:
		return "Speed (one over the response) scatters normally: the curve is the median, and the residual SD is of the speed."
	}
	return ""
}

// detail shows one curve in full.
func (d *Curves) detail(c Curve) Table {
	name := c.Trainee
	if name == "" {
		name = "the series"
	}
	rows := slices.Clone(c.Parameters)
	for i, p := range rows {
		if p.Held {
			rows[i].Name += " (held)"
		}
	}
	rows = append(rows, c.Terms...)
	for _, q := range c.Derived {
		rows = append(rows, Parameter{Name: q.Name, Estimate: q.Estimate, SE: Number(math.NaN()), Lower: q.Lower, Upper: q.Upper})
	}
	t := Table{Name: "curve", Title: fmt.Sprintf("The %s curve of %s, %s noise, %d attempts", c.Family, name, c.Noise, c.N), Columns: []Column{
		Words("quantity", "quantity", rows, func(p Parameter) string { return p.Name }),
		Numbers("estimate", "estimate", rows, func(p Parameter) Number { return p.Estimate }, sevenDigits),
		Numbers("se", "SE", rows, func(p Parameter) Number { return p.SE }, sevenDigits),
		Numbers("lower", fmt.Sprintf("%g %% from", 100*c.Level), rows, func(p Parameter) Number { return p.Lower }, sevenDigits),
		Numbers("upper", "to", rows, func(p Parameter) Number { return p.Upper }, sevenDigits),
	}}
	if c.IntervalMethod == string(fit.ByProfile) {
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
		case addedOn(c.Noise) == models.AddedLog:
			factor := func(v Number) string { return Significant(math.Exp(float64(v)), 3) }
			notes = append(notes, fmt.Sprintf("restart: the first attempt after a break is %s times the curve (%s to %s); the number above is its logarithm.", factor(p.Estimate), factor(p.Lower), factor(p.Upper)))
		default:
			notes = append(notes, "restart: how far the first attempt after a break lies from the curve, on the curve's scale.")
		}
	}
	return notes
}

func sevenDigits(v float64) string { return Significant(v, 7) }
