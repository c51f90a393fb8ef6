package cohort

import (
	"math"
	"slices"
	"sync"

	"tyro/models"
)

// A record is a trainee's attempts made ready: responses on the noise's
// additive scale, clock times, design row.
type record struct {
	z, t    []float64
	cens    []bool    // nil when none is
	restart []float64 // nil without sessions
	gap     []float64 // nil unless residuals are carried over
	design  []float64 // 1, arms after the first, covariates
	jac     float64   // Σ log Jacobian, to be added to a log-likelihood of z
}

// A model is a spec bound to a cohort: what every evaluation needs.
type model struct {
	spec      Spec
	arms      []string
	parts     []part
	random    []int // parts that differ between trainees, in order
	active    []int // slots of the curve, session effect and spread that are not held, in order
	extra     []int // slots of the memory that are not held
	moved     []int // both
	within    []int // slots of the curve, amplitude in place of gain, and of the session effect, in order
	fall      fall
	height    height
	twoShapes bool
	scales    vector // 1 where the slot moves on the log scale
	kappa     float64
	sign      float64 // of the gain on the log scale
	link      link
	gauss     bool
	on        *footing             // of every draw
	onScale   models.LocationScale // the noise on the link's scale, where it is one and not normal; nil else
	batch     models.Batcher       // likewise
	nBeta     int
	pinned    map[int]float64 // places of theta held where a covariance has lost a rank
	full      bool            // covariance with correlations
	// expected puts the curvature that residuals of either sign leave on
	// average (Gauss and Newton) in the place of the exact one in the Laplace
	// determinant: less exact, but never near singular.
	expected bool
	records  []record
	desks    *sync.Pool // of *desk
	nObs     int
}

// armsOf lists the arms in the order first seen.
func armsOf(ts []Trainee) []string {
	var out []string
	for _, t := range ts {
		if !slices.Contains(out, t.Arm) {
			out = append(out, t.Arm)
		}
	}
	return out
}

func newModel(spec Spec, arms []string, ts []Trainee) (*model, error) {
	m := &model{desks: newDesks(), spec: spec, arms: arms, full: !spec.Uncorrelated, sign: 1}
	m.on = newFooting(spec.Noise)
	m.link, m.gauss = m.on.link, m.on.gauss
	if !m.gauss {
		m.onScale, _ = m.on.added.(models.LocationScale)
		m.batch, _ = m.on.added.(models.Batcher)
	}
	var err error
	if m.parts, err = spec.parts(arms); err != nil {
		return nil, err
	}
	m.twoShapes = len(spec.Family.Shape().Params()) > 1
	var scales [2]Scale
	for _, p := range m.parts {
		if p.slot == slotShape || p.slot == slotShape+1 {
			scales[p.slot-slotShape] = p.scale
		}
		if p.name == Start && p.slot == slotGain {
			m.kappa = 1
		}
	}
	if m.fall, m.height, err = newFall(spec.Family, m.kappa == 1, scales); err != nil {
		return nil, err
	}
	for _, t := range ts {
		r, err := m.record(t)
		if err != nil {
			return nil, err
		}
		m.records = append(m.records, r)
		m.nObs += len(r.z)
	}
	m.bind()
	return m, nil
}

// bind lays out theta for the parts.
func (m *model) bind() {
	m.random, m.active, m.extra, m.nBeta = nil, nil, nil, 0
	for i := range m.parts {
		p := &m.parts[i]
		if p.scale == Log {
			m.scales[p.slot] = 1
		}
		if p.held {
			continue
		}
		p.at = m.nBeta
		m.nBeta += len(p.cols)
		if p.slot > slotSpread {
			m.extra = append(m.extra, p.slot)
			continue
		}
		m.active = append(m.active, p.slot)
		if p.random {
			m.random = append(m.random, i)
		}
	}
	slices.Sort(m.active)
	m.moved = append(slices.Clone(m.active), m.extra...)
	m.within = slices.DeleteFunc(slices.Clone(m.active), func(a int) bool { return a == slotSpread })
	if m.kappa != 0 && !slices.Contains(m.within, slotGain) {
		m.within = append(m.within, slotGain)
		slices.Sort(m.within)
	}
}

// record checks one trainee's attempts.
func (m *model) record(t Trainee) (record, error) {
	n := len(t.Attempt)
	if len(t.Response) != n || t.Censored != nil && len(t.Censored) != n || t.Restart != nil && len(t.Restart) != n {
		return record{}, refuse("trainee %s: attempts, responses, censoring and restarts differ in number", t.ID)
	}
	if t.Covariates == nil && n == 0 {
		t.Covariates = make([]float64, len(m.spec.Covariates))
	}
	if len(t.Covariates) != len(m.spec.Covariates) {
		return record{}, refuse("trainee %s has %d covariates, the model %d", t.ID, len(t.Covariates), len(m.spec.Covariates))
	}
	if m.spec.Carry != CarryNone {
		t = t.sorted()
	}
	r := record{z: make([]float64, n), t: make([]float64, n), design: make([]float64, len(m.arms)+len(t.Covariates))}
	arm := slices.Index(m.arms, t.Arm)
	if arm < 0 {
		return record{}, refuse("trainee %s is in arm %q, which the cohort lacks", t.ID, t.Arm)
	}
	r.design[0] = 1
	if arm > 0 {
		r.design[arm] = 1
	}
	for k, v := range t.Covariates {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return record{}, refuse("trainee %s has no usable value of %s", t.ID, m.spec.Covariates[k].Name)
		}
		r.design[len(m.arms)+k] = v
	}
	if slices.Contains(t.Censored, true) {
		r.cens = t.Censored
	}
	if m.spec.Sessions {
		if t.Restart == nil {
			r.restart = make([]float64, n)
		} else {
			r.restart = t.Restart
		}
	}
	if m.spec.Carry != CarryNone {
		r.gap = gaps(t.Attempt, t.Restart, m.spec.CarryAcross)
	}
	sh := m.spec.Family.Shape()
	for j, y := range t.Response {
		if r.t[j] = sh.Clock(t.Attempt[j]); math.IsNaN(r.t[j]) || math.IsInf(r.t[j], 0) {
			return record{}, refuse("attempt %v of trainee %s is outside the domain of the %s curve", t.Attempt[j], t.ID, m.spec.Family.Name())
		}
		switch {
		case math.IsNaN(y) || math.Abs(y) > 1e150:
			return record{}, refuse("response %v of trainee %s at attempt %v is not a usable number", y, t.ID, t.Attempt[j])
		case m.link != plain && !(y > 1e-150):
			return record{}, refuse("response %v of trainee %s at attempt %v is not above 0, as %s noise needs", y, t.ID, t.Attempt[j], m.spec.Noise.Name())
		}
		r.z[j] = m.link.to(y)
		r.jac += m.spec.Noise.LogJacobian(y, r.cens != nil && r.cens[j])
	}
	return r, nil
}

// nSpread is the number of covariance parameters.
func (m *model) nSpread() int {
	k := len(m.random)
	if m.full {
		return k * (k + 1) / 2
	}
	return k
}

func (m *model) dim() int { return m.nBeta + m.nSpread() }

// eta is a trainee's quantities, each on its scale, without their own
// deviations.
func (m *model) eta(r *record, theta []float64) (e vector) {
	for i := range m.parts {
		p := &m.parts[i]
		v := p.value
		if !p.held {
			v = 0
			for k, c := range p.cols {
				v += theta[p.at+k] * r.design[c]
			}
		}
		e[p.slot] = v
	}
	return e
}

// factor is the lower triangular matrix L with u = L·v, v standard normal; row
// and column count over the random parts.
func (m *model) factor(theta []float64) (l matrix) {
	q := theta[m.nBeta:]
	at := 0
	for a := range m.random {
		if m.full {
			for b := range a {
				l[a][b] = q[at]
				at++
			}
		}
		l[a][a] = math.Exp(q[at])
		at++
	}
	return l
}

// diagonal is the place in theta of the log of L[a][a].
func (m *model) diagonal(a int) int {
	if m.full {
		return m.nBeta + a*(a+3)/2
	}
	return m.nBeta + a
}

// isDiagonal reports whether theta holds at j the log of some L[a][a].
func (m *model) isDiagonal(j int) bool {
	for a := range m.random {
		if m.diagonal(a) == j {
			return true
		}
	}
	return false
}

// addDeviation moves eta by u = L·v.
func (m *model) addDeviation(e *vector, l *matrix, v *vector) {
	for a, i := range m.random {
		u := 0.0
		for b := range a + 1 {
			u += l[a][b] * v[b]
		}
		e[m.parts[i].slot] += u
	}
}

// at reads a symmetric matrix whose lower triangle is filled.
func at(m *matrix, a, b int) float64 {
	if a < b {
		a, b = b, a
	}
	return m[a][b]
}
