package cohort

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis"
	"tyro/analysis/fit"
	"tyro/models"
)

// A fit can be kept in a file, so that trainees, members or not, are projected later
// without those it came from. The file holds the model, its estimates with their
// covariance, how many trainees they rest on, and what had to be said of it; it names no
// trainee and holds no attempt.

// What a file says it is.
const (
	savedFormat  = "tyro cohort fit"
	savedVersion = 2
)

// A number is one that JSON can hold.
type number = analysis.Number

func toNumbers(x []float64) []number {
	out := make([]number, len(x))
	for i, v := range x {
		out[i] = number(v)
	}
	return out
}

func toFloats(x []number) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = float64(v)
	}
	return out
}

// saved is the file.
type saved struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
	Source  Source `json:"source"`

	Family       string           `json:"family"`
	Origin       number           `json:"origin"`
	Noise        savedNoise       `json:"noise"`
	UseStart     bool             `json:"use_start"`
	Scale        map[string]Scale `json:"scale"`
	ArmEffect    []string         `json:"arm_effect"`
	Covariates   []Covariate      `json:"covariates"`
	Hold         []fit.Hold       `json:"hold"`
	Sessions     bool             `json:"sessions"`
	Carry        Carry            `json:"carry"`
	CarryAcross  bool             `json:"carry_across"`
	Arms         []string         `json:"arms"`
	Random       []string         `json:"random"`
	Correlated   bool             `json:"correlated"`
	NegativeGain bool             `json:"negative_gain"` // on the log scale

	Level     float64 `json:"level"`
	Method    Method  `json:"method"`
	Nodes     int     `json:"nodes"`
	REML      bool    `json:"reml"`
	Rung      string  `json:"rung"`
	Status    Status  `json:"status"`
	NTrainees int     `json:"n_trainees"`
	NAttempts int     `json:"n_attempts"`
	NCensored int     `json:"n_censored"`
	LogLik    number  `json:"log_likelihood"`

	LogLikLog   number             `json:"log_likelihood_of_logs"`
	NParameters int                `json:"n_parameters"`
	AIC         number             `json:"aic"`
	BIC         number             `json:"bic"`
	Interval    string             `json:"interval_method"`
	Ladder      []savedStep        `json:"ladder"`
	Warnings    []analysis.Warning `json:"warnings"`
	Expected    bool               `json:"expected_curvature"` // in the Laplace determinant
	Window      savedWindow        `json:"window"`

	// Theta are the coefficients of the fixed effects and the factor of the
	// covariance between trainees, Covariance theirs row by row, Lower and Upper
	// the region that draws of them stay in.
	Theta      []number `json:"theta"`
	Covariance []number `json:"covariance"`
	Lower      []number `json:"lower"`
	Upper      []number `json:"upper"`

	Fixed     []savedEffect    `json:"fixed"`
	Deviation []savedDeviation `json:"deviations"`
}

// A savedWindow is where the attempts of the fit's trainees lay, and which levels of the
// curve they do not show.
type savedWindow struct {
	First       float64 `json:"first_attempt"`
	Last        float64 `json:"last_attempt_of_half"`
	Furthest    float64 `json:"last_attempt"`
	PlateauOpen bool    `json:"plateau_not_identified"`
	GainOpen    bool    `json:"gain_not_identified"`
	StartOpen   bool    `json:"start_not_identified"`
}

type savedStep struct {
	Rung   string   `json:"rung"`
	Random []string `json:"random"`
	Status Status   `json:"status"`
	LogLik number   `json:"log_likelihood"`
	Why    string   `json:"why"`
}

type savedNoise struct {
	Name  string  `json:"name"`
	Guess float64 `json:"guess"`
	Lapse float64 `json:"lapse"`
}

// savedEffect is what a reader of the file wants to know of a fixed effect, and
// of what residuals carry over; the numbers are worked out again from theta.
type savedEffect struct {
	Parameter     string `json:"parameter"`
	Arm           string `json:"arm"`
	Covariate     string `json:"covariate"`
	Scale         Scale  `json:"scale"`
	Estimate      number `json:"estimate"`
	SE            number `json:"se"`
	Lower         number `json:"lower"`
	Upper         number `json:"upper"`
	Held          bool   `json:"held"`
	NotIdentified bool   `json:"not_identified"`
}

type savedDeviation struct {
	Parameter string `json:"parameter"`
	Scale     Scale  `json:"scale"`
	SD        number `json:"sd"`
	Lower     number `json:"lower"`
	Upper     number `json:"upper"`
	None      bool   `json:"none"`
}

// Save writes the fit as JSON, all that [Cohort.Posteriors], [Cohort.With], [Cohort.Follow],
// [Cohort.Population] and [Cohort.NewTrainees] need. It names no trainee and holds no attempts; where an
// arm consists of one trainee, its effect is that person all the same.
func (c *Cohort) Save(w io.Writer) error {
	s := c.m.spec
	f := saved{
		Format: savedFormat, Version: savedVersion, Source: c.Source,
		Family: s.Family.Name(), Origin: number(s.Family.Origin()), Noise: savedNoise{Name: s.Noise.Name()}, UseStart: s.UseStart, Scale: s.Scale,
		ArmEffect: s.ArmEffect, Covariates: s.Covariates, Sessions: s.Sessions, Carry: s.Carry, CarryAcross: s.CarryAcross,
		Arms: c.m.arms, Correlated: c.m.full, NegativeGain: c.m.sign < 0,
		Level: c.Level, Method: c.Method, Nodes: c.Nodes, REML: c.REML, Rung: c.Rung, Status: c.Status, NTrainees: c.NTrainees, NAttempts: c.NAttempts, NCensored: c.NCensored, LogLik: number(c.LogLik),
		LogLikLog: number(c.LogLikLog), NParameters: c.NParameters, AIC: number(c.AIC), BIC: number(c.BIC), Interval: c.Interval, Warnings: c.Warnings, Expected: c.m.expected,
		Window: savedWindow{c.seen.first, c.seen.last, c.seen.furthest, c.seen.open.plateau, c.seen.open.gain, c.seen.open.start},
		Theta:  toNumbers(c.theta), Lower: toNumbers(c.reach.lower), Upper: toNumbers(c.reach.upper),
	}
	if b, ok := s.Noise.(models.Limited); ok {
		f.Noise.Guess, f.Noise.Lapse = b.Limits()
	}
	for _, h := range s.Hold {
		if slices.ContainsFunc(c.m.parts, func(p part) bool { return p.name == h.Name }) {
			f.Hold = append(f.Hold, h)
		}
	}
	for _, i := range c.m.random {
		f.Random = append(f.Random, c.m.parts[i].name)
	}
	for i := range c.theta {
		for j := range c.theta {
			f.Covariance = append(f.Covariance, number(c.cov.At(i, j)))
		}
	}
	for _, s := range c.Ladder {
		f.Ladder = append(f.Ladder, savedStep{s.Rung, s.Random, s.Status, number(s.LogLik), s.Why})
	}
	for _, e := range c.Fixed {
		f.Fixed = append(f.Fixed, savedEffect{e.Parameter, e.Arm, e.Covariate, e.Scale, number(e.Estimate), number(e.SE), number(e.Lower), number(e.Upper), e.Held, e.NotIdentified})
	}
	for _, d := range c.Random {
		f.Deviation = append(f.Deviation, savedDeviation{d.Parameter, d.Scale, number(d.SD), number(d.Lower), number(d.Upper), d.None})
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	return e.Encode(f)
}

// Load reads a fit that [Cohort.Save] wrote. Trainees are projected from it in the
// same numbers as from the fit that was saved. It has no members until it is given some
// ([Cohort.With]); what needs the attempts that it was made from (intervals by profile or
// bootstrap, checks) is refused.
func Load(r io.Reader) (*Cohort, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	var head struct {
		Format  string `json:"format"`
		Version int    `json:"version"`
	}
	if err := json.Unmarshal(text, &head); err != nil {
		return nil, unreadable("it is not JSON: %v", err)
	}
	switch {
	case head.Format != savedFormat:
		return nil, unreadable("its format is %q, not %q", head.Format, savedFormat)
	case head.Version != savedVersion:
		return nil, unreadable("it is of version %d, and this program reads version %d: fit the cohort again", head.Version, savedVersion)
	}
	var f saved
	if err := json.Unmarshal(text, &f); err != nil {
		return nil, unreadable("%v", err)
	}
	m, err := f.model()
	if err != nil {
		return nil, err
	}
	if err := f.check(m); err != nil {
		return nil, err
	}
	return f.cohort(m), nil
}

func unreadable(format string, args ...any) error {
	return fmt.Errorf("the saved cohort fit cannot be used: %s", fmt.Sprintf(format, args...))
}

// model binds the spec to no trainees.
func (f *saved) model() (*model, error) {
	family, err := models.ByName(f.Family, float64(f.Origin))
	if err != nil {
		return nil, unreadable("%v", err)
	}
	noise, err := models.NoiseByName(f.Noise.Name)
	if err != nil {
		return nil, unreadable("%v", err)
	}
	if b, ok := noise.(models.Limited); ok {
		if g, l := f.Noise.Guess, f.Noise.Lapse; !(g >= 0 && l >= 0 && g+l < 1) {
			return nil, unreadable("a chance to pass by guessing of %v and to lapse of %v", g, l)
		}
		noise = b.WithLimits(f.Noise.Guess, f.Noise.Lapse)
	}
	if len(f.Arms) == 0 {
		return nil, unreadable("it names no arm")
	}
	spec := Spec{
		Family: family, Noise: noise, UseStart: f.UseStart, Scale: f.Scale, Random: f.Random, Uncorrelated: !f.Correlated, ArmEffect: f.ArmEffect, Covariates: f.Covariates,
		Hold: f.Hold, Sessions: f.Sessions, Carry: f.Carry, CarryAcross: f.CarryAcross, REML: f.REML, Method: f.Method, Nodes: f.Nodes, Level: f.Level,
	}
	if spec.Random == nil {
		spec.Random = []string{} // nobody differs in anything; nil would be everything
	}
	m, err := newModel(spec, f.Arms, nil)
	if err != nil {
		return nil, unreadable("%v", err)
	}
	if f.NegativeGain {
		m.sign = -1
	}
	m.expected = f.Expected
	return m, nil
}

// check refuses numbers that nothing can be predicted from.
func (f *saved) check(m *model) error {
	p := m.dim()
	if len(f.Theta) != p || len(f.Covariance) != p*p || len(f.Lower) != p || len(f.Upper) != p {
		return unreadable("the model has %d coefficients, and the file %d with %d covariances and %d and %d limits", p, len(f.Theta), len(f.Covariance), len(f.Lower), len(f.Upper))
	}
	for i, v := range toFloats(f.Theta) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return unreadable("coefficient %d is not a number", i+1)
		}
		if !(float64(f.Lower[i]) <= v && v <= float64(f.Upper[i])) {
			return unreadable("coefficient %d, %v, is not within its limits %v and %v", i+1, v, float64(f.Lower[i]), float64(f.Upper[i]))
		}
		for j := range p {
			a, b := float64(f.Covariance[i*p+j]), float64(f.Covariance[j*p+i])
			unknown := i == j && math.IsNaN(a) // no standard error
			if !unknown && (math.IsInf(a, 0) || a != b || i == j && a < 0) {
				return unreadable("the covariance of coefficients %d and %d, %v, cannot be one", i+1, j+1, a)
			}
		}
	}
	switch {
	case !(f.Level > 0 && f.Level < 1):
		return unreadable("its level of intervals is %v", f.Level)
	case !(f.Window.First <= f.Window.Last && f.Window.Last <= f.Window.Furthest):
		return unreadable("its attempts lie from %v to %v, those of half of its trainees up to %v", f.Window.First, f.Window.Furthest, f.Window.Last)
	case f.NTrainees < 2:
		return unreadable("it is of %d trainees", f.NTrainees)
	case f.Status < NotRun || f.Status > Rough:
		return unreadable("its status is %d", int(f.Status))
	}
	return nil
}

// cohort is the fit with its plain numbers.
func (f *saved) cohort(m *model) *Cohort {
	p := m.dim()
	c := &Cohort{m: m, theta: toFloats(f.Theta), cov: mat.NewSymDense(p, nil), reach: bounds{lower: toFloats(f.Lower), upper: toFloats(f.Upper)}}
	for i := range p {
		for j := range i + 1 {
			c.cov.SetSym(i, j, float64(f.Covariance[i*p+j]))
		}
	}
	c.Source, c.Model = f.Source, Model{m.spec.Family, m.spec.Noise}
	c.Family, c.Noise, c.Method, c.Nodes, c.REML = f.Family, f.Noise.Name, f.Method, f.Nodes, f.REML
	c.NTrainees, c.NAttempts, c.NCensored, c.Arms = f.NTrainees, f.NAttempts, f.NCensored, f.Arms
	c.Rung, c.Status, c.Level, c.NParameters, c.Interval = f.Rung, f.Status, f.Level, f.NParameters, f.Interval
	c.LogLik, c.LogLikLog, c.AIC, c.BIC = float64(f.LogLik), float64(f.LogLikLog), float64(f.AIC), float64(f.BIC)
	for _, s := range f.Ladder {
		c.Ladder = append(c.Ladder, Step{Rung: s.Rung, Random: s.Random, Status: s.Status, LogLik: float64(s.LogLik), Why: s.Why})
	}
	c.Warnings, c.read = f.Warnings, true
	c.seen = seen{f.Window.First, f.Window.Last, f.Window.Furthest, verdict{f.Window.PlateauOpen, f.Window.GainOpen, f.Window.StartOpen}}
	c.fixed() // also the names of the parameters, the residual spread and what is carried over
	c.Fixed, c.Random = nil, nil
	for _, e := range f.Fixed {
		c.Fixed = append(c.Fixed, Effect{Parameter: e.Parameter, Arm: e.Arm, Covariate: e.Covariate, Scale: e.Scale, Estimate: float64(e.Estimate), SE: float64(e.SE), Lower: float64(e.Lower), Upper: float64(e.Upper), Held: e.Held, NotIdentified: e.NotIdentified, raw: float64(e.Estimate)})
	}
	for _, d := range f.Deviation {
		c.Random = append(c.Random, Deviation{d.Parameter, d.Scale, float64(d.SD), float64(d.Lower), float64(d.Upper), d.None})
	}
	c.correlations()
	return c
}

// withAttempts refuses what a fit that was read from a file cannot answer.
func (c *Cohort) withAttempts() error {
	if c.read {
		return refuse("this fit was read from a file, which holds no attempts")
	}
	return nil
}
