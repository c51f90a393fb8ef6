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
	// truth is the model that is fitted where it is known; nil: it cannot be said in one model.
	truth *cohort.Spec
	// signs are words of the truth's name, by which its weight is counted; "-own spread" says that they must be missing.
	signs []string
}

// A series is a trainee's curve with what scatters about it.
type series struct {
	mean   func(n float64) float64
	sd     float64
	speed  bool    // the speed scatters, not the logarithm
	share  float64 // of the variance that is carried over
	decay  float64
	tails  bool    // t with 4 degrees of freedom, sd its scale
	wild   float64 // chance of an attempt two and a half times as long
	breaks float64 // how much slower the first attempt of a session of 10 is, in logs
	calmer bool    // the spread falls by half over the attempts
}

func exponential(r *rand.Rand) models.Curve {
	return models.Exponential(1).Curve([]float64{about(r, 45, 0.2), about(r, 130, 0.25), about(r, 0.2, 0.2)})
}

func about(r *rand.Rand, middle, spread float64) float64 { return middle * math.Exp(spread*r.NormFloat64()) }

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
func spec(change func(s *cohort.Spec)) *cohort.Spec {
	s := &cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Random: random, Uncorrelated: true, Workers: 1}
	if change != nil {
		change(s)
	}
	return s
}

func power(r *rand.Rand) models.Curve {
	return models.Power().Curve([]float64{about(r, 40, 0.2), about(r, 130, 0.25), about(r, 0.7, 0.2)})
}

func kinds() []kind {
	return []kind{
		{"exponential", true, plainly(nil), spec(nil), []string{"exponential", "lognormal"}},
		{"power", true, curved(power), spec(func(s *cohort.Spec) { s.Family = models.Power() }), []string{"power", "lognormal"}},
		{"line in logs", true, curved(func(r *rand.Rand) models.Curve {
			return models.Wright().Curve([]float64{about(r, 150, 0.25), about(r, 0.35, 0.25)})
		}), spec(func(s *cohort.Spec) { s.Family, s.Random = models.Wright(), []string{"gain", "rate"} }), []string{"wright", "lognormal"}},
		{"nobody learns", true, curved(func(r *rand.Rand) models.Curve { return models.Constant().Curve([]float64{about(r, 60, 0.3)}) }),
			spec(func(s *cohort.Spec) { s.Family, s.Random = models.Constant(), []string{"plateau"} }), []string{"constant", "lognormal"}},
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
				s.mean = models.Exponential(1).Curve([]float64{about(r, 90, 0.15), about(r, 90, 0.25), about(r, 0.12, 0.2)}).At
			}
		}), nil, []string{"class"}},
		{"heavy tails", false, plainly(func(_ *rand.Rand, _ int, s *series) { s.tails, s.sd = true, 0.13 }), nil, nil},
		{"a few wild attempts", false, plainly(func(_ *rand.Rand, _ int, s *series) { s.wild = 0.03 }), nil, nil},
		{"a change of method", false, plainly(func(r *rand.Rand, person int, s *series) {
			if person%3 == 0 {
				from, before := 6+float64(r.IntN(16)), s.mean
				s.mean = func(n float64) float64 {
					if n >= from {
						return 0.7 * before(n)
					}
					return before(n)
				}
			}
		}), nil, nil},
		{"some do not learn", false, plainly(func(r *rand.Rand, person int, s *series) {
			if person%5 == 0 {
				level := about(r, 110, 0.25)
				s.mean = func(float64) float64 { return level }
			}
		}), nil, nil},
		{"two families", false, plainly(func(r *rand.Rand, person int, s *series) {
			if person%2 == 0 {
				s.mean = power(r).At
			}
		}), nil, nil},
		{"slow at first", false, plainly(func(r *rand.Rand, _ int, s *series) {
			low, fall, mid, wide := about(r, 45, 0.2), about(r, 110, 0.25), 8+2*r.NormFloat64(), 2.5
			s.mean = func(n float64) float64 { return low + fall/(1+math.Exp((n-mid)/wide)) }
		}), nil, nil},
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
		m := s.mean(n)
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

// people draws trainees of a kind.
func (k kind) people(r *rand.Rand, prefix string, n, many int) []cohort.Trainee {
	var out []cohort.Trainee
	for i := range n {
		out = append(out, k.draw(r, i).attempts(r, fmt.Sprint(prefix, i), many))
	}
	return out
}
