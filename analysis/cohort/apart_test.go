package cohort

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// simulatedClasses are 30 trainees with 16 attempts, the first so many of whom level off at three
// times the others' plateau.
func simulatedClasses(seed uint64, apart int) []Trainee {
	r := rand.New(rand.NewPCG(seed, 7))
	var out []Trainee
	for i := range 30 {
		t := Trainee{ID: fmt.Sprint(i)}
		plateau := 40 * math.Exp(0.1*r.NormFloat64())
		if i < apart {
			plateau *= 3
		}
		gain, rate := 100*math.Exp(0.2*r.NormFloat64()), 0.3*math.Exp(0.2*r.NormFloat64())
		for n := 1.0; n <= 16; n++ {
			t.Attempt = append(t.Attempt, n)
			t.Response = append(t.Response, (plateau+gain*math.Exp(-rate*(n-1)))*math.Exp(0.15*r.NormFloat64()))
		}
		out = append(out, t)
	}
	return out
}

// oneSetting tries no setting but the spec's.
func oneSetting() (Spec, Choice) {
	spec := Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Uncorrelated: true}
	return spec, Choice{Settled: Settled{true, true, true, true}, Sampling: resample.Sampling{Seed: 1}}
}

// Six of thirty who level off far from the rest are a class of their own; then the two classes
// foretell, and who of a new six shows which class is soon told.
func TestAClassApartIsFound(t *testing.T) {
	spec, choice := oneSetting()
	b, err := Choose(context.Background(), simulatedClasses(1, 6), spec, choice)
	if err != nil {
		t.Fatal(err)
	}
	sizes := map[int]bool{}
	for _, c := range b.Of[1:] {
		sizes[c.NTrainees] = true
	}
	if len(b.Of) != 3 || !sizes[6] || !sizes[24] {
		t.Fatalf("%d models, classes of %v", len(b.Of), sizes)
	}
	stranger := simulatedClasses(2, 1)[0]
	stranger.Attempt, stranger.Response = stranger.Attempt[:8], stranger.Response[:8]
	post, err := b.Posteriors(context.Background(), []Trainee{stranger}, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	alone, err := b.Of[0].Posteriors(context.Background(), []Trainee{stranger}, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	width := func(p Posterior) float64 {
		q := p.Quantiles(30, 0, 0.05, 0.95)
		return math.Log(q[1] / q[0])
	}
	if w, one := width(post[0]), width(alone[0]); !(w < one) {
		t.Errorf("a slow stranger's later range is %.3f wide by the classes, %.3f by one cohort", w, one)
	}
}

// Where all are of one kind, classes are not made of chance: in at most one of twenty cohorts (none of
// sixty were, and of sixty with three to six apart 56 to 59 told them).
func TestClassesAreNotMadeOfChance(t *testing.T) {
	spec, choice := oneSetting()
	found := 0
	for seed := range uint64(20) {
		b, err := Choose(context.Background(), simulatedClasses(100+seed, 0), spec, choice)
		if err != nil {
			t.Fatal(err)
		}
		if len(b.Of) > 1 {
			found++
		}
	}
	if found > 1 {
		t.Errorf("classes were found in %d of 20 cohorts of one kind", found)
	}
}

// Where eight of fifteen of one arm are of the slow class and three of fifteen of the other, new
// trainees of each arm come from the classes as those of their own arm did.
func TestClassesKeepToTheirArm(t *testing.T) {
	ts := simulatedClasses(3, 11)
	for i := range ts {
		if ts[i].Arm = "few"; i < 8 || i >= 23 {
			ts[i].Arm = "many"
		}
	}
	spec, choice := oneSetting()
	choice.Settled = Settled{Random: true, Correlations: true, Carry: true}
	b, err := Choose(context.Background(), ts, spec, choice)
	if err != nil {
		t.Fatal(err)
	}
	if b.Class == nil {
		t.Fatal("no classes were found")
	}
	for arm, want := range map[string]float64{"many": 8.0 / 15, "few": 3.0 / 15} {
		err := b.NewTrainees(context.Background(), arm, 2, 200, resample.Sampling{Seed: 1}, func(card int, people []Draw) error {
			slow, total := 0.0, 0.0
			for i := range people {
				if total += people[i].Weight; people[i].Curve.Plateau > 70 {
					slow += people[i].Weight
				}
			}
			if math.Abs(total-1) > 1e-9 || card == 0 && math.Abs(slow-want) > 1e-9 {
				t.Errorf("arm %s, card %d: %v slow of %v, want %v", arm, card, slow, total, want)
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
