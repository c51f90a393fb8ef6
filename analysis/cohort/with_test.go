package cohort

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

// A fit that was read from a file, given the trainees it was made from, says the same of each:
// what is projected to the last digit, and where they stand as exactly as the fit's search
// found that.
func TestWithTheSameTrainees(t *testing.T) {
	ctx, sampling := context.Background(), resample.Sampling{Seed: 5}
	for _, f := range followedFits() {
		t.Run(f.name, func(t *testing.T) {
			ts := f.series(20, 20)
			c := f.cohort(t)
			read, _ := saveAndLoad(t, c)
			got, err := read.With(ctx, ts)
			if err != nil {
				t.Fatal(err)
			}
			want, err := c.Posteriors(ctx, ts, sampling)
			if err != nil {
				t.Fatal(err)
			}
			have, err := got.Posteriors(ctx, ts, sampling)
			if err != nil {
				t.Fatal(err)
			}
			if fmt.Sprint(draws(have)) != fmt.Sprint(draws(want)) {
				t.Error("the posteriors differ")
			}
			for i, m := range got.Members {
				w := c.Members[i]
				if m.ID != w.ID || m.N != w.N || fmt.Sprint(m.NotIdentified) != fmt.Sprint(w.NotIdentified) {
					t.Errorf("member %+v, want %+v", m, w)
				}
				for j := range w.Parameters {
					if d := math.Abs(m.Parameters[j]/w.Parameters[j] - 1); d > 1e-5 {
						t.Errorf("%s %s: %v, want %v", m.ID, c.Parameters[j], m.Parameters[j], w.Parameters[j])
					}
				}
				for j := range w.Shrinkage {
					if d := math.Abs(m.Shrinkage[j] - w.Shrinkage[j]); d > 1e-5 {
						t.Errorf("%s shrinkage %v, want %v", m.ID, m.Shrinkage, w.Shrinkage)
					}
				}
			}
			wantHalves, err := calibrationBy(c, sampling)
			if err != nil {
				t.Fatal(err)
			}
			if have, err := calibrationBy(got, sampling); err != nil || fmt.Sprint(have) != fmt.Sprint(wantHalves) {
				t.Errorf("calibration differs: %v", err)
			}
			if got.NTrainees != c.NTrainees || got.NAttempts != c.NAttempts || got.NCensored != c.NCensored || len(read.Members) != 0 {
				t.Errorf("the fit is no longer what it was: %d trainees, %d attempts", got.NTrainees, got.NAttempts)
			}
			if _, err := got.Profile(ctx); err == nil {
				t.Error("a profile of attempts that are not there")
			}
		})
	}
}

// What the fit's attempts do not show is withheld of other members too, and a fit in two stages
// places them all the same.
func TestWithWhatIsWithheld(t *testing.T) {
	ctx := context.Background()
	for name, k := range map[string]struct {
		ts   []Trainee
		spec Spec
	}{
		"no plateau": {fallingCohort(12, 12, 0, 1), exponential()}, "gompertz": {simulate(12, 12, 1, 5), Spec{Family: models.Gompertz(), Noise: models.Lognormal{}}},
		"held":  {simulate(12, 12, 1, 5), Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Hold: []fit.Hold{{Name: "rate", Value: 0.2}}}},
		"start": {simulate(12, 12, 1, 5), Spec{Family: models.Power(), Noise: models.Lognormal{}, UseStart: true}},
	} {
		c := mustRun(t, k.ts, k.spec)
		read, _ := saveAndLoad(t, c)
		got, err := read.With(ctx, k.ts)
		if err != nil {
			t.Fatal(err)
		}
		withheld := 0
		for i, m := range got.Members {
			if fmt.Sprint(m.NotIdentified) != fmt.Sprint(c.Members[i].NotIdentified) {
				t.Errorf("%s, %s: withheld %v, want %v", name, m.ID, m.NotIdentified, c.Members[i].NotIdentified)
			}
			for j, open := range m.NotIdentified {
				if open != math.IsNaN(m.Parameters[j]) {
					t.Errorf("%s, %s: %v, withheld %v", name, m.ID, m.Parameters, m.NotIdentified)
				}
				if open {
					withheld++
				}
			}
		}
		if name == "no plateau" && withheld == 0 {
			t.Error("a plateau that nobody shows is given")
		}
	}
}

func calibrationBy(c *Cohort, sampling resample.Sampling) ([]Transform, error) {
	h, err := c.Halves(context.Background(), sampling)
	if err != nil {
		return nil, err
	}
	return h.Calibration(context.Background())
}

// Trainees whom a fit cannot place are refused by name; those without attempts are left out.
func TestWithRefuses(t *testing.T) {
	c, _ := saveAndLoad(t, mustRun(t, simulate(12, 10, 1, 3), exponential()))
	ok := Trainee{ID: "a", Attempt: []float64{1}, Response: []float64{90}}
	for _, k := range []struct {
		say string
		ts  []Trainee
	}{
		{"trainee a is there twice", []Trainee{ok, ok}},
		{`trainee b is in arm "blue"`, []Trainee{ok, {ID: "b", Arm: "blue", Attempt: []float64{1}, Response: []float64{80}}}},
		{"response NaN of trainee b", []Trainee{{ID: "b", Attempt: []float64{1}, Response: []float64{math.NaN()}}}},
		{"response -3 of trainee b", []Trainee{{ID: "b", Attempt: []float64{1}, Response: []float64{-3}}}},
		{"attempt +Inf of trainee b", []Trainee{{ID: "b", Attempt: []float64{math.Inf(1)}, Response: []float64{3}}}},
	} {
		if got, err := c.With(context.Background(), k.ts); err == nil || got != nil || !strings.Contains(err.Error(), k.say) {
			t.Errorf("%s: %v", k.say, err)
		}
	}
	got, err := c.With(context.Background(), []Trainee{{ID: "nobody yet"}, ok})
	if err != nil || len(got.Members) != 1 || got.Members[0].ID != "a" {
		t.Errorf("members %+v, %v", got.Members, err)
	}
}

// What is known after one more attempt does not hang on how the attempts came.
func TestFollowIsThePosterior(t *testing.T) {
	ctx := context.Background()
	for _, f := range followedFits() {
		c, _ := saveAndLoad(t, f.cohort(t))
		whole := f.series(1, 14)[0]
		follow, err := c.Follow(ctx, Trainee{ID: whole.ID, Arm: whole.Arm}, 9)
		if err != nil {
			t.Fatal(err)
		}
		for j, n := range whole.Attempt {
			a := Attempt{Number: n, Response: whole.Response[j]}
			if whole.Restart != nil {
				a.Restart = whole.Restart[j]
			}
			if f.noise == nil && j == 4 { // a timeout
				whole.Censored = make([]bool, len(whole.Attempt))
				a.Censored, whole.Censored[j] = true, true
			}
			got, err := follow.Add(ctx, a)
			if err != nil {
				t.Fatal(err)
			}
			want, err := c.Posteriors(ctx, []Trainee{whole.first(j + 1)}, resample.Sampling{Seed: 9})
			if err != nil {
				t.Fatal(err)
			}
			if fmt.Sprint(draws([]Posterior{got})) != fmt.Sprint(draws(want)) {
				t.Errorf("%s: another posterior after attempt %v", f.name, n)
			}
		}
		if _, err := follow.Add(ctx, Attempt{Number: 15, Response: math.NaN()}); err == nil || len(follow.Trainee().Attempt) != 14 {
			t.Errorf("%s: an attempt that is no number: %v, %d attempts", f.name, err, len(follow.Trainee().Attempt))
		}
	}
}

// In a long series draws serve for several attempts: what they say is still the posterior, in
// which twelve trainees with the same attempts, who differ in random numbers alone, agree with
// their posteriors drawn anew; a surprise, a timeout and a break between them too.
func TestFollowALongSeries(t *testing.T) {
	ctx := context.Background()
	for _, f := range followedFits() {
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			c, _ := saveAndLoad(t, f.cohort(t))
			whole := f.series(1, 61)[0]
			if f.noise == nil {
				whole.Censored = make([]bool, len(whole.Attempt))
				whole.Censored[40], whole.Response[57] = true, 1.5*whole.Response[57]
			}
			const repeats, from = 12, 34
			var got, want [3]float64
			var at []float64
			worth, fresh := 0.0, 0.0
			for r := range repeats {
				one := whole.first(60)
				one.ID = fmt.Sprint("again ", r)
				follow, err := c.Follow(ctx, one.first(from), 7)
				if err != nil {
					t.Fatal(err)
				}
				var p Posterior
				for j := from; j < 60; j++ {
					a := Attempt{Number: one.Attempt[j], Response: one.Response[j], Censored: one.Censored != nil && one.Censored[j]}
					if one.Restart != nil {
						a.Restart = one.Restart[j]
					}
					if p, err = follow.Add(ctx, a); err != nil {
						t.Fatal(err)
					}
				}
				anew, err := c.Posteriors(ctx, []Trainee{one}, resample.Sampling{Seed: 7})
				if err != nil {
					t.Fatal(err)
				}
				if at == nil {
					at = anew[0].Quantiles(61, 0, 0.1, 0.5, 0.9)
				}
				for i, y := range at {
					got[i] += p.CDF(61, 0, y) / repeats
					want[i] += anew[0].CDF(61, 0, y) / repeats
				}
				worth, fresh = worth+p.Effective, fresh+anew[0].Effective
			}
			for i := range at {
				if d := math.Abs(got[i] - want[i]); !(d < 0.01) {
					t.Errorf("at most %v: %.4f, drawn anew %.4f", at[i], got[i], want[i])
				}
			}
			if !(worth > fresh/2) {
				t.Errorf("draws are worth %.0f, drawn anew %.0f", worth/repeats, fresh/repeats)
			}
			t.Logf("%.4f, anew %.4f; worth %.0f, anew %.0f", got, want, worth/repeats, fresh/repeats)
		})
	}
}
