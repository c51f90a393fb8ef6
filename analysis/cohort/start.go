package cohort

import (
	"math"
	"slices"

	"tyro/analysis/fit"
	"tyro/models"
)

// A guess is where the search begins: coefficients, and for every part the
// size of a step that matters on its scale.
type guess struct {
	beta    []float64
	typical []float64 // by part: typical spread between trainees
}

// pooled is the series of medians by attempt over all trainees, or the pooled
// attempts themselves (about a thousand of them) where medians would say little.
func pooled(ts []Trainee, medians bool) fit.Series {
	byAttempt := map[float64][]float64{}
	n := 0
	for _, t := range ts {
		for j, x := range t.Attempt {
			byAttempt[x] = append(byAttempt[x], t.Response[j])
			n++
		}
	}
	var s fit.Series
	if !medians || len(byAttempt) > 300 && len(byAttempt) > n/4 {
		every := max(1, n/1000)
		k := 0
		for _, t := range ts {
			for j, x := range t.Attempt {
				if k++; k%every == 0 {
					s.Attempt, s.Response = append(s.Attempt, x), append(s.Response, t.Response[j])
				}
			}
		}
		return s
	}
	var xs []float64
	for x := range byAttempt {
		xs = append(xs, x)
	}
	slices.Sort(xs)
	for _, x := range xs {
		ys := byAttempt[x]
		slices.Sort(ys)
		s.Attempt, s.Response = append(s.Attempt, x), append(s.Response, (ys[(len(ys)-1)/2]+ys[len(ys)/2])/2)
	}
	return s
}

// pooledCurve is one curve through everybody's attempts.
func (m *model) pooledCurve(ts []Trainee) models.Curve {
	s := pooled(ts, m.spec.Noise.Additive())
	lo, hi := slices.Min(s.Response), slices.Max(s.Response)
	f := m.spec.Family
	var c models.Curve
	fitted, err := fit.One(s, fit.Spec{Family: f, Noise: m.spec.Noise, Hold: m.curveHolds(), Positive: m.link != plain})
	if err == nil && fitted.Status.Usable() {
		c = fitted.Curve
	}
	if c.Family.Shape() == nil {
		c = models.Curve{Family: f}
		for j := range f.Shape().Params() {
			grid := f.Shape().Search(clocks(f, s.Attempt))[j]
			c.Shape[j] = grid[len(grid)/2]
		}
	}
	if f.HasPlateau() && m.scaleOf("plateau") == Log && !(c.Plateau > 0.05*lo) {
		shift := 0.3*lo - c.Plateau
		c.Plateau += shift
		c.Gain -= shift
	}
	if f.HasGain() && c.Gain == 0 {
		c.Gain = 0.1 * math.Max(hi-lo, 1e-3*math.Abs(hi))
	}
	return c
}

func clocks(f models.Family, attempts []float64) []float64 {
	var t []float64
	for _, x := range attempts {
		t = append(t, f.Shape().Clock(x))
	}
	slices.Sort(t)
	return t
}

func (m *model) scaleOf(name string) Scale {
	for _, p := range m.parts {
		if p.name == name {
			return p.scale
		}
	}
	return Identity
}

// begin guesses coefficients and typical spreads from one curve through
// everybody's attempts. It settles the sign of the gain.
func (m *model) begin(ts []Trainee) guess {
	c := m.pooledCurve(ts)
	if c.Gain < 0 {
		m.sign = -1
	}
	g := guess{beta: make([]float64, m.nBeta), typical: make([]float64, len(m.parts))}
	residual := m.roughSpread(c, ts)
	for i, p := range m.parts {
		var v float64
		switch p.name {
		case "plateau":
			v = c.Plateau
		case "gain", "slope":
			v = c.Gain
		case Start:
			v = m.startOf(c)
		case Session:
			v = 0.5 * residual
		case Fading:
			v = 0.5
		case Spread:
			v = residual
		case Carryover:
			v = m.spec.carryScale(slotCarry, 0.3)
			if m.spec.Carry == CarryPart {
				v = m.spec.carryScale(slotCarry, 0.8)
			}
		case CarriedShare:
			v = m.spec.carryScale(slotShare, 0.3)
		default:
			v = c.Shape[p.slot-slotShape]
		}
		x, typical := v, 0.25*math.Abs(v)
		if p.scale == Log {
			x, typical = math.Log(math.Max(math.Abs(v), 1e-8)), 0.25
			if p.slot == slotShape || p.slot == slotShape+1 {
				x = m.bendInside(x, ts)
			}
		}
		if p.slot == slotGain || p.slot == slotPlateau {
			if p.scale == Identity {
				typical = math.Max(typical, 0.1*math.Abs(c.Gain))
			}
		}
		if p.slot > slotSpread {
			typical = 1
		}
		g.typical[i] = math.Max(typical, 1e-6)
		if p.name == Session {
			g.typical[i] = residual
		}
		if !p.held {
			g.beta[p.at] = x
		}
	}
	return g
}

// bendInside keeps the log of a rate where the attempts seen could show it.
func (m *model) bendInside(x float64, ts []Trainee) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, t := range ts {
		for _, a := range t.Attempt {
			c := m.spec.Family.Shape().Clock(a)
			lo, hi = math.Min(lo, c), math.Max(hi, c)
		}
	}
	if !(hi > lo) {
		return x
	}
	span := math.Log(hi - lo)
	return math.Min(math.Max(x, math.Log(0.3)-span), math.Log(60)-span)
}

// roughSpread is the standard deviation about the pooled curve within
// trainees, on the additive scale.
func (m *model) roughSpread(c models.Curve, ts []Trainee) float64 {
	var ss, n float64
	for i, t := range ts {
		var e []float64
		mean := 0.0
		for j, x := range t.Attempt {
			mu := c.At(x)
			if m.link != plain && !(mu > 0) {
				continue
			}
			mu = m.link.to(mu)
			e = append(e, m.records[i].z[j]-mu)
			mean += e[len(e)-1]
		}
		for _, v := range e {
			ss += (v - mean/float64(len(e))) * (v - mean/float64(len(e)))
		}
		n += math.Max(0, float64(len(e)-1))
	}
	if !(n > 0) || !(ss > 0) {
		return 0.1
	}
	return math.Sqrt(ss / n)
}

// region bounds theta about a guess.
func (m *model) region(g guess) bounds {
	p := m.dim()
	b := bounds{make([]float64, p), make([]float64, p), make([]float64, p)}
	for j := range p {
		b.lower[j], b.upper[j], b.reach[j] = math.Inf(-1), math.Inf(1), math.Inf(1)
	}
	for i, q := range m.parts {
		if q.held {
			continue
		}
		for k := range q.cols {
			j := q.at + k
			switch {
			case q.slot > slotSpread:
				b.reach[j], b.lower[j], b.upper[j] = 1, -6, 6
			case q.scale == Log && k == 0:
				b.reach[j] = 1
				b.lower[j], b.upper[j] = g.beta[j]-12, g.beta[j]+12
			case q.scale == Log:
				b.reach[j] = 2
			default:
				b.reach[j] = 20 * g.typical[i]
			}
		}
	}
	for a, i := range m.random {
		j := m.diagonal(a)
		b.reach[j] = 1
		b.lower[j] = math.Log(floorShare * g.typical[i])
		b.upper[j] = math.Log(400 * g.typical[i])
	}
	for j, v := range m.pinned {
		b.lower[j], b.upper[j] = v, v
	}
	return b
}

// reach is the region, made to hold theta where a fit in two stages left it.
func (m *model) reach(g guess, theta []float64) bounds {
	b := m.region(g)
	for j, x := range theta {
		b.lower[j], b.upper[j] = math.Min(b.lower[j], x), math.Max(b.upper[j], x)
	}
	return b
}

// floorShare times the typical spread is where a spread counts as none.
const floorShare = 1e-4
