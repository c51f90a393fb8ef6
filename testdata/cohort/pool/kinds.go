package main

import (
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis/cohort"
	"tyro/models"
)

// A kind of cohort: how its trainees are drawn, and the model that is true of it.
type kind struct {
	name string
	// inside: the true model is among those that are tried.
	inside bool
	draw   func(r *rand.Rand, person int) series
	// truth is the model that is fitted where it is known, one for each group of trainees; nil: it
	// cannot be said so.
	truth []*cohort.Spec
	// signs are words of the truth's name, by which its weight is counted; "-own spread" says that they must be missing.
	signs []string
}

// A series is a trainee's curve with what scatters about it.
type series struct {
	mean    func(n float64) float64
	sd      float64
	speed   bool    // the speed scatters, not the logarithm
	share   float64 // of the variance that is carried over
	decay   float64
	tails   bool    // t with 4 degrees of freedom, sd its scale
	wild    float64 // chance of an attempt two and a half times as long
	breaks  float64 // how much slower the first attempt of a session of 10 is, in logs
	calmer  bool    // the spread falls by half over the attempts
	group   int     // which of the kind's true models
	changes bool    // the kind has changes of method
	from    float64 // the attempt from which a new method takes methodShare of the time; 0: never
}

// methodShare is how much of the time a new method takes.
const methodShare = 0.7

// moved is what attempt n takes for the method, as a share of what it would take.
func (s series) moved(n float64) float64 {
	if s.from > 0 && n >= s.from {
		return methodShare
	}
	return 1
}

func exponential(r *rand.Rand) models.Curve {
	return models.Exponential(1).Curve([]float64{about(r, 45, 0.2), about(r, 130, 0.25), about(r, 0.2, 0.2)})
}

func about(r *rand.Rand, middle, spread float64) float64 {
	return middle * math.Exp(spread*r.NormFloat64())
}

const noise = 0.18

// plainly is an exponential curve with normal logarithms; change makes it another kind.
func plainly(change func(r *rand.Rand, person int, s *series)) func(r *rand.Rand, person int) series {
	return func(r *rand.Rand, person int) series {
		s := series{mean: exponential(r).At, sd: noise}
		if change != nil {
			change(r, person, &s)
		}
		return s
	}
}

// curved replaces the curve.
func curved(of func(r *rand.Rand) models.Curve) func(r *rand.Rand, person int) series {
	return plainly(func(r *rand.Rand, _ int, s *series) { s.mean = of(r).At })
}

var random = []string{"plateau", "gain", "rate"}

// true models, as changes of the plain one.
func spec(change func(s *cohort.Spec)) []*cohort.Spec {
	s := &cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Random: random, Uncorrelated: true, Workers: 1}
	if change != nil {
		change(s)
	}
	return []*cohort.Spec{s}
}

// constant is the true model of those who do not learn.
func constant(s *cohort.Spec) { s.Family, s.Random = models.Constant(), []string{"plateau"} }

func powers(s *cohort.Spec) { s.Family = models.Power() }

func power(r *rand.Rand) models.Curve {
	return models.Power().Curve([]float64{about(r, 40, 0.2), about(r, 130, 0.25), about(r, 0.7, 0.2)})
}

// A third of the trainees change their method, at one of so many attempts.
const (
	earliest = 6
	changes  = 16
)

// coming is what is to be expected at attempt n of a method's change, as a logarithm, where the first
// k attempts have seen none.
func coming(k int, n float64) float64 {
	by := func(n float64) float64 { return math.Min(math.Max(n-earliest+1, 0), changes) / changes / 3 }
	left := 1 - by(float64(k))
	return math.Log(methodShare) * (by(n) - by(float64(k))) / left
}

func logistic() models.Family {
	f, err := models.ByName("logistic", 1)
	check(err)
	return f
}

func kinds() []kind {
	return []kind{
		{"exponential", true, plainly(nil), spec(nil), []string{"exponential", "lognormal"}},
		{"power", true, curved(power), spec(powers), []string{"power", "lognormal"}},
		{"line in logs", true, curved(func(r *rand.Rand) models.Curve {
			return models.Wright().Curve([]float64{about(r, 150, 0.25), about(r, 0.35, 0.25)})
		}), spec(func(s *cohort.Spec) { s.Family, s.Random = models.Wright(), []string{"gain", "rate"} }), []string{"wright", "lognormal"}},
		{"nobody learns", true, curved(func(r *rand.Rand) models.Curve { return models.Constant().Curve([]float64{about(r, 60, 0.3)}) }),
			spec(constant), []string{"constant", "lognormal"}},
		{"speed scatters", true, plainly(func(_ *rand.Rand, _ int, s *series) { s.speed, s.sd = true, 0.2/45 }),
			spec(func(s *cohort.Spec) { s.Noise = models.Reciprocal{} }), []string{"exponential", "reciprocal"}},
		{"own spread", true, plainly(func(r *rand.Rand, _ int, s *series) { s.sd = about(r, noise, 0.45) }),
			spec(func(s *cohort.Spec) { s.Random = append(s.Random[:3:3], cohort.Spread) }), []string{"own spread"}},
		{"carried over in part", true, plainly(func(_ *rand.Rand, _ int, s *series) { s.share, s.decay = 0.5, 0.8 }),
			spec(func(s *cohort.Spec) { s.Carry = cohort.CarryPart }), []string{"carryover"}},
		{"carried over whole", true, plainly(func(_ *rand.Rand, _ int, s *series) { s.share, s.decay = 1, 0.6 }),
			spec(func(s *cohort.Spec) { s.Carry = cohort.CarryWhole }), []string{"carryover"}},
		{"slower after breaks", true, plainly(func(r *rand.Rand, _ int, s *series) { s.breaks = 0.35 + 0.1*r.NormFloat64() }),
			spec(func(s *cohort.Spec) { s.Sessions, s.Random = true, append(s.Random[:3:3], cohort.Session) }), []string{"restart"}},
		{"one rate", true, curved(func(r *rand.Rand) models.Curve {
			return models.Exponential(1).Curve([]float64{about(r, 45, 0.2), about(r, 130, 0.25), 0.2})
		}), spec(func(s *cohort.Spec) { s.Random = []string{"plateau", "gain"} }), []string{"exponential", "one rate for all"}},
		{"parameters go together", true, curved(func(r *rand.Rand) models.Curve {
			z := r.NormFloat64()
			also := func() float64 { return 0.85*z + math.Sqrt(1-0.85*0.85)*r.NormFloat64() }
			return models.Exponential(1).Curve([]float64{45 * math.Exp(0.25*also()), 130 * math.Exp(0.3*also()), 0.2 * math.Exp(-0.3*also())})
		}), spec(func(s *cohort.Spec) { s.Uncorrelated = false }), []string{"exponential", "-uncorrelated"}},
		{"a class apart", true, plainly(func(r *rand.Rand, person int, s *series) {
			if person%5 == 0 {
				s.group = 1
				s.mean = models.Exponential(1).Curve([]float64{about(r, 90, 0.15), about(r, 90, 0.25), about(r, 0.12, 0.2)}).At
			}
		}), append(spec(nil), spec(nil)...), []string{"class"}},
		{"heavy tails", true, plainly(func(_ *rand.Rand, _ int, s *series) { s.tails, s.sd = true, 0.13 }),
			spec(func(s *cohort.Spec) { s.Noise = models.LogStudent{} }), []string{"exponential", "log-student"}},
		{"a few wild attempts", false, plainly(func(_ *rand.Rand, _ int, s *series) { s.wild = 0.03 }), nil, nil},
		{"a change of method", false, plainly(func(r *rand.Rand, person int, s *series) {
			s.changes = true
			if person%3 == 0 {
				s.from = earliest + float64(r.IntN(changes))
			}
		}), spec(nil), nil},
		{"some do not learn", true, plainly(func(r *rand.Rand, person int, s *series) {
			if person%5 == 0 {
				level := about(r, 110, 0.25)
				s.group, s.mean = 1, func(float64) float64 { return level }
			}
		}), append(spec(nil), spec(constant)...), nil},
		{"two families", false, plainly(func(r *rand.Rand, person int, s *series) {
			if person%2 == 0 {
				s.group, s.mean = 1, power(r).At
			}
		}), append(spec(nil), spec(powers)...), nil},
		{"slow at first", true, plainly(func(r *rand.Rand, _ int, s *series) {
			low, fall, mid, wide := about(r, 45, 0.2), about(r, 110, 0.25), 8+2*r.NormFloat64(), 2.5
			s.mean = func(n float64) float64 { return low + fall/(1+math.Exp((n-mid)/wide)) }
		}), spec(func(s *cohort.Spec) {
			s.Family, s.UseStart, s.Random = logistic(), true, []string{"plateau", cohort.Start, "midpoint"}
		}), nil},
		{"steadier with practice", false, plainly(func(_ *rand.Rand, _ int, s *series) { s.calmer, s.sd = true, 0.25 }), nil, nil},
	}
}

// attempts are those of one trainee, in sessions of ten.
func (s series) attempts(r *rand.Rand, id string, many int) cohort.Trainee {
	t := cohort.Trainee{ID: id}
	carried := 0.0
	for n := 1.0; n <= float64(many); n++ {
		since := math.Mod(n-1, 10) + 1
		if s.share > 0 {
			decay := s.decay
			if n == 1 {
				decay = 0
			}
			carried = decay*carried + math.Sqrt(s.share*(1-decay*decay))*r.NormFloat64()
		}
		e := math.Sqrt(1-s.share)*r.NormFloat64() + carried
		if s.tails {
			chi := 0.0
			for range 4 {
				z := r.NormFloat64()
				chi += z * z
			}
			e /= math.Sqrt(chi / 4)
		}
		sd := s.sd
		if s.calmer {
			sd *= 1 - 0.5*(n-1)/float64(many-1)
		}
		m := s.mean(n) * s.moved(n)
		y := m * math.Exp(sd*e)
		if s.speed {
			y = 1 / math.Max(1/m+sd*e, 0.1/m)
		}
		if s.breaks != 0 && n > 10 {
			y *= math.Exp(s.breaks * math.Exp(-0.7*(since-1)))
		}
		if s.wild > 0 && r.Float64() < s.wild {
			y *= 2.5
		}
		t.Attempt, t.Response = append(t.Attempt, n), append(t.Response, y)
		if s.breaks != 0 {
			if n <= 10 {
				since = 0
			}
			t.Restart = append(t.Restart, since)
		}
	}
	return t
}

// A person is a trainee with the truth.
type person struct {
	series
	cohort.Trainee
}

// people draws trainees of a kind.
func (k kind) people(r *rand.Rand, prefix string, n, many int) []person {
	var out []person
	for i := range n {
		s := k.draw(r, i)
		out = append(out, person{s, s.attempts(r, fmt.Sprint(prefix, i), many)})
	}
	return out
}

// method is how much the method makes of attempt n, as a logarithm, as the first k attempts tell.
func (p person) method(k int, n float64) float64 {
	switch {
	case p.from > 0 && p.from <= float64(k):
		return math.Log(methodShare)
	case p.changes:
		return coming(k, n)
	}
	return 0
}

// plain is the trainee without any change of method.
func (p person) plain() cohort.Trainee {
	t := p.Trainee
	t.Response = nil
	for i, y := range p.Response {
		t.Response = append(t.Response, y/p.moved(p.Attempt[i]))
	}
	return t
}
