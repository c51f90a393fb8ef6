package cohort

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/fit"
	"tyro/models"
)

// A followed fit is one of everything that a fit may have, with a series that goes on for as
// long as asked for.
type followed struct {
	name   string
	spec   Spec
	noise  models.Noise
	breaks bool
}

func followedFits() []followed {
	full := exponential()
	spread := full
	spread.Random = []string{"plateau", "gain", "rate", Spread}
	session := full
	session.Sessions, session.Random = true, []string{"plateau", "gain", "rate", Session}
	all := session
	all.Carry, all.Random = CarryPart, []string{"plateau", "gain", "rate", Session, Spread}
	held := carried(CarryPart)
	held.Hold = []fit.Hold{{Name: Carryover, Value: 0.5}, {Name: CarriedShare, Value: 0.6}}
	with := func(n models.Noise) Spec { s := full; s.Noise = n; return s }
	logit := Spec{Family: models.Exponential(1), Noise: models.Bernoulli{}, Random: []string{"plateau"}}
	counts := Spec{Family: models.Logarithmic(), Noise: models.NegativeBinomial{}}
	poisson := counts
	poisson.Noise = models.Poisson{}
	return []followed{
		{"lognormal", full, nil, false}, {"normal", with(models.Normal{}), nil, false}, {"reciprocal", with(models.Reciprocal{}), nil, false}, {"student", with(models.Student{}), nil, false}, {"log-student", with(models.LogStudent{}), nil, false},
		{"own spread", spread, nil, false}, {"carryover whole", carried(CarryWhole), nil, false}, {"carryover part", carried(CarryPart), nil, false}, {"carryover held", held, nil, false},
		{"session", session, nil, true}, {"session, own spread, carryover", all, nil, true},
		{"passes", logit, models.Bernoulli{}, false}, {"counts", counts, models.NegativeBinomial{}, false}, {"poisson", poisson, models.Poisson{}, false},
	}
}

// cohort is a fit to twenty trainees with twenty attempts.
func (f followed) cohort(t testing.TB) *Cohort { return mustRun(t, f.series(20, 20), f.spec) }

// series are trainees with so many attempts each, in sessions of ten where there are breaks.
func (f followed) series(n, attempts int) []Trainee {
	var ts []Trainee
	if f.noise == nil {
		ts = simulate(n, attempts, 1, 61)
	} else {
		ts = respond(f.noise, n, attempts, 61)
	}
	for i := range ts {
		for j := range ts[i].Attempt {
			if f.breaks {
				since := 0.0
				if j >= 10 {
					since = float64(j%10 + 1)
					ts[i].Response[j] *= math.Exp(0.2 * math.Exp(-(since - 1)))
				}
				ts[i].Restart = append(ts[i].Restart, since)
			}
		}
	}
	return ts
}

// One more attempt takes no refit: what is known after it, and the next ten attempts, from a
// saved fit.
func BenchmarkOneMoreAttempt(b *testing.B) {
	for _, f := range followedFits() {
		b.Run(f.name, func(b *testing.B) {
			c, _ := saveAndLoad(b, f.cohort(b))
			for _, n := range []int{20, 50, 190} {
				b.Run(fmt.Sprint(n), func(b *testing.B) {
					t := f.series(1, n)[0]
					last := Attempt{Number: t.Attempt[n-1], Response: t.Response[n-1]}
					if t.Restart != nil {
						last.Restart = t.Restart[n-1]
					}
					begun, err := c.Follow(context.Background(), t.first(n-1), 1)
					if err != nil {
						b.Fatal(err)
					}
					for b.Loop() {
						f := *begun
						p, err := f.Add(context.Background(), last)
						if err != nil {
							b.Fatal(err)
						}
						for k := 1.0; k <= 10; k++ {
							p.Quantiles(float64(n)+k, 0, 0.025, 0.5, 0.975)
						}
					}
				})
			}
		})
	}
}
