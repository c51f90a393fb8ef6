package cohort

import (
	"math"
	"math/rand/v2"
	"slices"

	"tyro/analysis"
	"tyro/models"
)

// An Assumed population is what new trainees are taken to be like: a fit's estimates, or
// values from elsewhere, as plain numbers that JSON can hold.
type Assumed struct {
	Family       string               `json:"family"`
	Origin       analysis.Number      `json:"origin"`
	Noise        string               `json:"noise"`
	Guess        float64              `json:"guess"`
	Lapse        float64              `json:"lapse"`
	Carry        Carry                `json:"carry"`
	Arms         []string             `json:"arms"`
	Parameters   []AssumedParameter   `json:"parameters"`
	Correlations []AssumedCorrelation `json:"correlations"` // those not listed are 0
}

// An AssumedParameter is one quantity of the curve, or the spread of attempts about it,
// or what residuals carry over.
type AssumedParameter struct {
	Name   string            `json:"name"`
	Scale  Scale             `json:"scale"`
	Values []analysis.Number `json:"values"` // of the middle trainee of each arm, natural scale
	SD     analysis.Number   `json:"sd"`     // between trainees of an arm, on the scale; 0: they do not differ
}

// An AssumedCorrelation is one between trainees' deviations in two parameters.
type AssumedCorrelation struct {
	A     string          `json:"a"`
	B     string          `json:"b"`
	Value analysis.Number `json:"value"`
}

// Assumed are the fit's estimates. Covariates are at 0, and nobody comes from a break.
// What the attempts did not show is taken from the fit all the same: see
// [Effect].NotIdentified.
func (c *Cohort) Assumed() Assumed {
	m := c.m
	a := Assumed{Family: c.Family, Origin: analysis.Number(c.Model.Family.Origin()), Noise: c.Noise, Carry: m.spec.Carry, Arms: slices.Clone(c.Arms)}
	if b, ok := c.Model.Noise.(models.Limited); ok {
		a.Guess, a.Lapse = b.Limits()
	}
	l := m.factor(c.theta)
	sd := make([]float64, len(m.random))
	for k := range sd {
		for b := range k + 1 {
			sd[k] += l[k][b] * l[k][b]
		}
		sd[k] = math.Sqrt(sd[k])
	}
	for i := range m.parts {
		p := &m.parts[i]
		if p.slot == slotSession || p.slot == slotFading {
			continue
		}
		q := AssumedParameter{Name: p.name, Scale: p.scale}
		for k := range c.Arms {
			q.Values = append(q.Values, analysis.Number(m.naturalOf(p, c.partAt(p, k))))
		}
		if k := slices.Index(m.random, i); k >= 0 {
			q.SD = analysis.Number(sd[k])
		}
		a.Parameters = append(a.Parameters, q)
	}
	for k := range m.random {
		for b := range k {
			dot := 0.0
			for j := range b + 1 {
				dot += l[k][j] * l[b][j]
			}
			pa, pb := m.parts[m.random[b]], m.parts[m.random[k]]
			if v := dot / (sd[k] * sd[b]); m.full && pa.slot < slotSession && pb.slot < slotSession {
				a.Correlations = append(a.Correlations, AssumedCorrelation{pa.name, pb.name, analysis.Number(v)})
			}
		}
	}
	return a
}

// partAt is a quantity of an arm's middle trainee, on its scale.
func (c *Cohort) partAt(p *part, arm int) float64 {
	if p.held {
		return p.value
	}
	v := c.theta[p.at]
	if k := slices.Index(p.cols, arm); arm > 0 && k > 0 {
		v += c.theta[p.at+k]
	}
	return v
}

// naturalOf takes a quantity from the scale on which it moves.
func (m *model) naturalOf(p *part, x float64) float64 {
	if p.slot > slotSpread {
		return m.spec.carryNatural(p.slot, x)
	}
	var e vector
	e[p.slot] = x
	if p.scale != Log {
		return x
	}
	return m.natural(&e, p.slot)
}

// A Population is an assumed one made ready to draw trainees from.
type Population struct {
	m     *model
	theta []float64
}

// Population makes an assumed population ready. Numbers that no population can have are
// an error.
func (a Assumed) Population() (*Population, error) {
	family, err := models.ByName(a.Family, float64(a.Origin))
	if err != nil {
		return nil, refuse("%v", err)
	}
	noise, err := models.NoiseByName(a.Noise)
	if err != nil {
		return nil, refuse("%v", err)
	}
	if b, ok := noise.(models.Limited); ok {
		if !(a.Guess >= 0 && a.Lapse >= 0 && a.Guess+a.Lapse < 1) {
			return nil, refuse("a chance to pass by guessing of %v and to lapse of %v", a.Guess, a.Lapse)
		}
		noise = b.WithLimits(a.Guess, a.Lapse)
	}
	if len(a.Arms) == 0 {
		return nil, refuse("no arm is assumed")
	}
	spec := Spec{Family: family, Noise: noise, Carry: a.Carry, Random: []string{}, Scale: map[string]Scale{}}
	for _, p := range a.Parameters {
		spec.UseStart = spec.UseStart || p.Name == Start && family.HasGain()
	}
	for _, p := range a.Parameters {
		if p.Name == Carryover || p.Name == CarriedShare {
			continue
		}
		if p.Name != Spread {
			spec.Scale[p.Name] = p.Scale
		}
		if p.SD > 0 {
			spec.Random = append(spec.Random, p.Name)
		}
		spec.ArmEffect = append(spec.ArmEffect, p.Name)
	}
	m, err := newModel(spec, a.Arms, nil)
	if err != nil {
		return nil, err
	}
	p := &Population{m: m, theta: make([]float64, m.dim())}
	for i := range m.parts {
		if err := p.place(&m.parts[i], a); err != nil {
			return nil, err
		}
	}
	return p, p.spread(a)
}

// place puts one parameter's values into theta.
func (p *Population) place(q *part, a Assumed) error {
	k := slices.IndexFunc(a.Parameters, func(x AssumedParameter) bool { return x.Name == q.name })
	if k < 0 {
		return refuse("nothing is assumed of %s", q.name)
	}
	x := a.Parameters[k]
	if len(x.Values) != len(a.Arms) {
		return refuse("%s has %d values for %d arms", q.name, len(x.Values), len(a.Arms))
	}
	if !(x.SD >= 0) || math.IsInf(float64(x.SD), 0) {
		return refuse("trainees cannot differ in %s by %v", q.name, float64(x.SD))
	}
	on := make([]float64, len(x.Values))
	for arm, value := range x.Values {
		v := float64(value)
		switch {
		case q.slot > slotSpread:
			on[arm] = p.m.spec.carryScale(q.slot, v)
		case q.scale == Log:
			if q.slot == slotGain && p.m.kappa == 0 {
				if arm == 0 && v < 0 {
					p.m.sign = -1
				}
				v *= p.m.sign
			}
			on[arm] = math.Log(v)
		default:
			on[arm] = v
		}
		if math.IsNaN(on[arm]) || math.IsInf(on[arm], 0) {
			return refuse("%s cannot be %v in arm %s", q.name, float64(value), a.Arms[arm])
		}
	}
	p.theta[q.at] = on[0]
	for k, col := range q.cols {
		if k > 0 {
			p.theta[q.at+k] = on[col] - on[0]
		}
	}
	return nil
}

// spread puts the Cholesky factor of the covariance between trainees into theta. A
// correlation at its bound keeps a trifle of its own.
func (p *Population) spread(a Assumed) error {
	const trifle = 1e-9
	m := p.m
	n := len(m.random)
	name := func(k int) string { return m.parts[m.random[k]].name }
	correlation := func(i, j int) float64 {
		for _, c := range a.Correlations {
			if c.A == name(i) && c.B == name(j) || c.A == name(j) && c.B == name(i) {
				return float64(c.Value)
			}
		}
		return 0
	}
	sd := make([]float64, n)
	for k := range sd {
		i := slices.IndexFunc(a.Parameters, func(x AssumedParameter) bool { return x.Name == name(k) })
		sd[k] = float64(a.Parameters[i].SD)
	}
	var l matrix
	at := m.nBeta
	for i := range n {
		left := 1.0
		for j := range i {
			v := correlation(i, j)
			if !(math.Abs(v) <= 1) {
				return refuse("a correlation of %v between %s and %s", v, name(j), name(i))
			}
			for b := range j {
				v -= l[i][b] * l[j][b]
			}
			l[i][j] = v / l[j][j]
			left -= l[i][j] * l[i][j]
			p.theta[at] = sd[i] * l[i][j]
			at++
		}
		if left < -1e-6 {
			return refuse("the correlations with %s cannot all be so: together they leave it a variance below 0", name(i))
		}
		l[i][i] = math.Sqrt(math.Max(left, trifle))
		p.theta[at] = math.Log(sd[i] * l[i][i])
		at++
	}
	return nil
}

// Middle is the curve of an arm's middle trainee.
func (p *Population) Middle(arm string) (models.Curve, error) {
	rec, err := p.m.record(Trainee{ID: "the middle trainee", Arm: arm})
	if err != nil {
		return models.Curve{}, err
	}
	e := p.m.eta(&rec, p.theta)
	return p.m.curve(&e), nil
}

// Model is the family and the noise.
func (p *Population) Model() Model { return Model{p.m.spec.Family, p.m.spec.Noise} }

// Moves reports whether a shift of the whole curve is defined, and whether it multiplies:
// where plateau and gain are both on the log scale it does, where neither is it adds.
func (p *Population) Moves() (multiplies, ok bool) {
	var log, plain int
	for _, q := range p.m.parts {
		if q.slot != slotPlateau && q.slot != slotGain {
			continue
		}
		if q.scale == Log {
			log++
		} else {
			plain++
		}
	}
	return plain == 0, log == 0 || plain == 0
}

// move shifts a whole curve, on the scale that Moves says.
func (m *model) move(e *vector, by float64) {
	for _, q := range m.parts {
		switch {
		case q.slot == slotPlateau, q.slot == slotGain && (q.scale == Log || m.kappa == 1):
			e[q.slot] += by
		}
	}
}

// Draw draws the responses of new trainees of the population, at the attempts that each
// is given with; responses above the limit are censored there (0: none are). Every
// trainee's whole curve is moved by the shift of the same place, see [Population.Moves];
// nil moves nobody.
func (p *Population) Draw(r *rand.Rand, trainees []Trainee, shift []float64, limit float64) ([]Trainee, error) {
	if limit == 0 {
		limit = math.Inf(1)
	}
	l := p.m.factor(p.theta)
	out := make([]Trainee, len(trainees))
	for i, t := range trainees {
		rec, err := p.m.record(Trainee{ID: t.ID, Arm: t.Arm})
		if err != nil {
			return nil, err
		}
		e := p.m.eta(&rec, p.theta)
		var v vector
		for a := range p.m.random {
			v[a] = r.NormFloat64()
		}
		p.m.addDeviation(&e, &l, &v)
		if shift != nil {
			p.m.move(&e, shift[i])
		}
		out[i] = p.m.draw(t, &e, func(int) float64 { return limit }, r)
	}
	return out, nil
}
