package cohort

import (
	"context"
	"math"
	"slices"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// Leaving one subject out of R's lme4::sleepstudy: fixed effects of lmer (ML) on
// the others, R 4.2.2 with lme4 1.1-31 (testdata/cohort/public.R).
func TestLeaveOneOut(t *testing.T) {
	c := mustRun(t, load(t, "public_sleep.csv", "subject", "", "day", "reaction"), Spec{Family: models.Logarithmic(), Noise: models.Normal{}})
	got, err := c.LeaveOneOut(context.Background(), resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	all := [2]float64{238.0542543092, 40.0238255311}
	for i, w := range []struct {
		id           string
		start, slope float64
	}{
		{"308", 239.5948892, 37.3048409}, {"309", 239.89399867, 42.04891578}, {"310", 240.73257748, 40.87963807},
		{"330", 234.62172836, 42.11279096}, {"331", 235.60734042, 41.21823216}, {"332", 238.34689998, 39.48759132},
	} {
		r := got.Rows[i]
		if c.Members[i].ID != w.id || !r.Settled {
			t.Fatalf("row %d is %s, settled %v", i, c.Members[i].ID, r.Settled)
		}
		for k, without := range []float64{w.start, w.slope} {
			se := effect(t, c, got.Effects[k].Parameter, "").SE
			want := (without - all[k]) / se
			within(t, w.id+" "+got.Effects[k].Parameter, r.Change[k], want, 1e-3)
			// A Newton step from the fit comes near (the largest here is 0.48).
			within(t, w.id+" "+got.Effects[k].Parameter+", one step", r.OneStep[k], want, 0.06)
		}
	}
}

// An arm that consists of one trainee has no effect without them; and a trainee
// unlike all others is the most influential.
func TestLeaveOneOutOfArms(t *testing.T) {
	ts := simulate(15, 15, 1, 31)
	for i := range ts {
		ts[i].Arm = "usual"
	}
	ts[14].Arm = "alone"
	for j := range ts[3].Response {
		ts[3].Response[j] *= 2.5
	}
	spec := exponential()
	spec.Uncorrelated, spec.ArmEffect = true, []string{"plateau"}
	c := mustRun(t, ts, spec)
	got, err := c.LeaveOneOut(context.Background(), resample.Sampling{})
	if err != nil {
		t.Fatal(err)
	}
	most := slices.MaxFunc(got.Rows, func(a, b Influence) int {
		if a.Largest < b.Largest {
			return -1
		}
		return 1
	})
	if most.Trainee != 3 || !(most.Largest > 0.5) {
		t.Errorf("most influential %d by %v, want 3", most.Trainee, most.Largest)
	}
	for a, e := range got.Effects {
		if gone := math.IsNaN(got.Rows[14].Change[a]); gone != (e.Arm == "alone") {
			t.Errorf("without the arm's only trainee: %s %s changes by %v", e.Parameter, e.Arm, got.Rows[14].Change[a])
		}
	}
}

// By hand: normal scores themselves do not bend; of 3 values the scores are −z, 0,
// z; the values 0, 0, 1 have
// mean ⅓, centred −⅓, −⅓, ⅔, so that Σxz = z, Σz² = 2z², Σx² = ⅔, and
// the squared correlation is z²/(2z²·⅔) = ¾.
func TestBend(t *testing.T) {
	within(t, "normal scores", bend(scores(20)), 0, 1e-12)
	within(t, "three values", bend([]float64{0, 0, 1}), 0.25, 1e-12)
	if !math.IsNaN(bend([]float64{1, 2})) {
		t.Error("two values have no bend to tell")
	}
}

// Quantiles and means by attempt, arm by arm; attempts of fewer than five
// trainees are left out. Of 10, 20, 30, 40, 50 the quantile p stands at position
// 6p: 0.1 at the first, 0.5 at 30, 0.9 at the last.
func TestByAttempt(t *testing.T) {
	var ts []Trainee
	for i := range 5 {
		tr := Trainee{ID: string(rune('a' + i)), Attempt: []float64{1, 2}, Response: []float64{float64(10 * (i + 1)), 7}}
		if i == 0 {
			tr.Attempt, tr.Response = tr.Attempt[:1], tr.Response[:1]
		}
		ts = append(ts, tr)
	}
	c := &Cohort{Model: Model{Noise: models.Normal{}}}
	c.Arms = []string{""}
	got := c.byAttempt(ts)
	if len(got) != 3 {
		t.Fatalf("%d rows, want three quantiles of attempt 1", len(got))
	}
	for i, want := range []float64{10, 30, 50} {
		if got[i].At != 1 || got[i].N != 5 || got[i].Observed != want {
			t.Errorf("row %d: %+v, want %v", i, got[i], want)
		}
	}
	c.Model.Noise = models.Poisson{}
	if got = c.byAttempt(ts); len(got) != 1 || got[0].Observed != 30 {
		t.Errorf("means: %+v", got)
	}
}

// Data that the model describes pass; trainees in two separate groups, and noise
// with a long tail, do not.
func TestChecksSeeDepartures(t *testing.T) {
	sampling := resample.Sampling{Seed: 1, Replicates: 40}
	ctx := context.Background()
	good := mustRun(t, simulate(24, 20, 1, 3), exponential())
	k, err := good.Checks(ctx, sampling)
	if err != nil {
		t.Fatal(err)
	}
	if k.Replicates != 40 || k.Failed > 2 || len(k.Residuals.Points) != residualPoints || len(k.Deviations) != 3 || len(k.Deviations[0].Points) != 24 {
		t.Fatalf("%d replicates, %d failed, %d residuals, %d deviations", k.Replicates, k.Failed, len(k.Residuals.Points), len(k.Deviations))
	}
	if k.Residuals.P < 0.02 {
		t.Errorf("good data: p of residuals %v", k.Residuals.P)
	}
	again, err := good.Checks(ctx, resample.Sampling{Seed: 1, Replicates: 40, Workers: 1})
	if err != nil || again.Residuals.P != k.Residuals.P || again.Deviations[2].Points[5] != k.Deviations[2].Points[5] {
		t.Errorf("workers change numbers: %v", err)
	}

	two := simulate(24, 20, 0.3, 4)
	for i := range two {
		for j := range two[i].Response {
			if i%4 == 0 { // a quarter end at three times the level of the others
				two[i].Response[j] *= 3
			}
		}
	}
	spec := exponential()
	spec.Random, spec.Uncorrelated = []string{"plateau"}, true
	spec.UseStart = false
	if k, err = mustRun(t, two, spec).Checks(ctx, sampling); err != nil || k.Deviations[0].P > 0.05 {
		t.Errorf("two groups of trainees: p %v (%v)", k.Deviations[0].P, err)
	}

	tail := simulate(24, 20, 1, 5)
	for i := range tail {
		r := resample.Stream(9, "tail", i)
		for j := range tail[i].Response {
			if r.Float64() < 0.04 {
				tail[i].Response[j] *= 2.5
			}
		}
	}
	c := mustRun(t, tail, exponential())
	if k, err = c.Checks(ctx, sampling); err != nil || k.Residuals.P > 0.05 {
		t.Errorf("a long tail of noise: p %v (%v)", k.Residuals.P, err)
	}
}

// A curve of the wrong shape leaves its band; the right one seldom does.
func TestAttemptBands(t *testing.T) {
	share := func(s Spec) float64 {
		b, err := mustRun(t, simulate(80, 20, 1, 7), s).AttemptBands(context.Background(), resample.Sampling{Seed: 1, Replicates: 100})
		if err != nil {
			t.Fatal(err)
		}
		out := 0.0
		for _, v := range b {
			if v.Outside() {
				out += 1 / float64(len(b))
			}
		}
		return out
	}
	if right, wrong := share(exponential()), share(Spec{Family: models.Wright(), Noise: models.Lognormal{}}); right > 0.08 || wrong < 0.2 {
		t.Errorf("outside their band: %v of points with the right curve, %v with the wrong one", right, wrong)
	}
}

// Transforms of the true model are even; counts add up.
func TestUniformity(t *testing.T) {
	c := mustRun(t, simulate(20, 16, 1, 8), exponential())
	h, err := c.Halves(t.Context(), resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	u, err := h.Uniformity(t.Context(), resample.Sampling{Seed: 1, Replicates: 60})
	if err != nil {
		t.Fatal(err)
	}
	total := 0.0
	for _, b := range u.Tenths {
		total += b.Observed
		if !(b.Lower < 16 && b.Upper > 16) { // 160 later attempts, 16 a tenth
			t.Errorf("tenth %v: band %v to %v", b.At, b.Lower, b.Upper)
		}
	}
	if total != 160 || u.Total != 160 || u.Trainees != 20 {
		t.Errorf("%v transforms of %d trainees", total, u.Trainees)
	}
	if u.P < 0.02 || !(u.LowByChance < 0.9 && u.HighByChance > 0.9) {
		t.Errorf("p %v, by chance %v to %v", u.P, u.LowByChance, u.HighByChance)
	}
}

// What has no likelihood to draw from gives no checks.
func TestChecksOfTwoStage(t *testing.T) {
	c := mustRun(t, simulate(12, 12, 1, 9), exponential())
	c.Rung = RungTwoStage
	k, err := c.Checks(context.Background(), resample.Sampling{Replicates: 20})
	in, err2 := c.LeaveOneOut(context.Background(), resample.Sampling{})
	b, err3 := c.AttemptBands(context.Background(), resample.Sampling{Replicates: 20})
	if err != nil || err2 != nil || err3 != nil || k.Replicates != 0 || len(in.Rows) != 0 || len(b) != 0 {
		t.Errorf("%v %v %v %+v", err, err2, err3, k)
	}
}
