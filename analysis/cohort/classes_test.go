package cohort

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// A fit that stands finds the six of thirty who level off far from the rest, and no class where all are of one
// kind but in one of twenty cohorts at most; its parameters stay those of the fit.
func TestAFitFindsItsClasses(t *testing.T) {
	look := func(seed uint64, apart int) *Chosen {
		c, err := Run(context.Background(), simulatedClasses(seed, apart), Spec{Family: models.Exponential(1), Noise: models.Lognormal{}})
		if err != nil {
			t.Fatal(err)
		}
		out, err := c.Classes(context.Background(), resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	for seed := range uint64(5) {
		found := look(seed+1, 6)
		if found == nil {
			t.Errorf("cohort %d: no classes", seed)
			continue
		}
		least, most := math.Inf(1), 0.0
		for _, c := range found.Of {
			least, most = math.Min(least, float64(c.NTrainees)), math.Max(most, float64(c.NTrainees))
		}
		if least != 6 || most != 30 {
			t.Errorf("cohort %d: classes of %v and more", seed, least)
			continue
		}
		post, err := found.Posteriors(context.Background(), []Trainee{{ID: "new"}}, resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		slow := 0.0
		for _, d := range post[0].Draws {
			if d.Curve.Plateau > 70 {
				slow += d.Weight
			}
		}
		if math.Abs(slow-6.0/30) > 0.02 {
			t.Errorf("cohort %d: of new trainees %v are slow, want 6 of 30", seed, slow)
		}
	}
	chance := 0
	for seed := range uint64(20) {
		if look(200+seed, 0) != nil {
			chance++
		}
	}
	if chance > 1 {
		t.Errorf("classes were found in %d of 20 cohorts of one kind", chance)
	}
}

// Two clusters that share a spread, by hand: modes −1, −1.2, −0.8 and 1, 1.2, 0.8 cut in two have squares 6.16
// in all and 0.16 within, so that the gain is 6/2 ln(6.16/0.16) + 6 ln(1/2) = 6.793.
func TestTwoClustersByHand(t *testing.T) {
	var modes []mode
	var second []bool
	for _, v := range []float64{-1, -1.2, -0.8, 1, 1.2, 0.8} {
		var m mode
		m.v[0] = v
		modes, second = append(modes, m), append(second, v > 0)
	}
	if got, want := twoClusters(modes, 1, second), 3*math.Log(6.16/0.16)+6*math.Log(0.5); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if !areTwo(modes, 1, mayBeAt) {
		t.Error("two clusters that lie apart are not taken for two")
	}
}

// Of 300 trainees classes are sought among some, and then all are dealt out: the 60 apart are one, but for few.
func TestClassesOfMany(t *testing.T) {
	var all []Trainee
	for k := range uint64(10) {
		for _, one := range simulatedClasses(300+k, 6) {
			one.ID = fmt.Sprint(k, " ", one.ID)
			all = append(all, one)
		}
	}
	c, err := Run(context.Background(), all, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}})
	if err != nil {
		t.Fatal(err)
	}
	found, err := c.Classes(context.Background(), resample.Sampling{Seed: 1})
	if err != nil || found == nil {
		t.Fatal("no classes", err)
	}
	least := 300
	for _, f := range found.Of {
		least = min(least, f.NTrainees)
	}
	if least < 57 || least > 63 || found.Of[0].NTrainees != 300 || found.Fell.Trainees != mostLooked {
		t.Errorf("the smaller class has %d, the whole %d, %d were foretold", least, found.Of[0].NTrainees, found.Fell.Trainees)
	}
}

// Two arms far apart are not two classes; six of one arm alone are a class, and new trainees of the other arm
// are of it by no more than the chance that fifteen who were not leave.
func TestClassesWithinArms(t *testing.T) {
	of := func(seed uint64, apart int) *Chosen {
		ts := simulatedClasses(seed, apart)
		for i := range ts {
			if ts[i].Arm = "a"; i >= 15 {
				ts[i].Arm = "b"
				for j := range ts[i].Response {
					ts[i].Response[j] *= 0.5
				}
			}
		}
		c, err := Run(context.Background(), ts, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, ArmEffect: []string{"plateau", "gain", "rate"}})
		if err != nil {
			t.Fatal(err)
		}
		out, err := c.Classes(context.Background(), resample.Sampling{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	chance := 0
	for seed := range uint64(20) {
		if of(400+seed, 0) != nil {
			chance++
		}
	}
	if chance > 1 {
		t.Errorf("classes were found in %d of 20 cohorts of one kind", chance)
	}
	var found *Chosen
	told := 0
	for seed := range uint64(6) {
		one := of(seed, 6)
		if one == nil {
			continue
		}
		for _, class := range one.Class {
			if class["a"] == 6 {
				told++
			}
			if class["a"] == 6 && class["b"] == 0 && class != nil {
				found = one
			}
		}
	}
	if told < 5 || found == nil {
		t.Fatalf("six of fifteen of one arm are told apart in %d of 6 cohorts", told)
	}
	shares := func(arm string) (first, mean float64) {
		const cards = 100
		err := found.NewTrainees(context.Background(), arm, cards, 100, resample.Sampling{Seed: 1, Workers: 1}, func(card int, people []Draw) error {
			slow, total := 0.0, 0.0
			for i := range people {
				if total += people[i].Weight; people[i].Curve.Plateau > 70 {
					slow += people[i].Weight
				}
			}
			if math.Abs(total-1) > 1e-9 {
				t.Errorf("arm %s, card %d: %v in all", arm, card, total)
			}
			if card == 0 {
				first = slow
			} else {
				mean += slow / cards
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		return first, mean
	}
	if first, _ := shares("a"); math.Abs(first-6.0/15) > 1e-9 {
		t.Errorf("arm a: %v, want 6 of 15", first)
	}
	// Jeffreys' prior of 0 of 15: the mean of a beta distribution with 0.5 and 15.5 is 0.031.
	if first, mean := shares("b"); first != 0 || math.Abs(mean-0.5/16) > 0.02 {
		t.Errorf("arm b: %v and %v, want 0 and 0.031", first, mean)
	}
}
