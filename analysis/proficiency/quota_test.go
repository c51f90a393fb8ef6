package proficiency

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
	"tyro/models"
)

// observedProgress is the progress of trainees who met the rule at the attempts given and of
// others last seen without.
func observedProgress(t *testing.T, met []float64, without ...float64) Progress {
	t.Helper()
	var obs []survival.Observation
	for _, n := range met {
		obs = append(obs, survival.Observation{Time: n, Event: true})
	}
	for _, n := range without {
		obs = append(obs, survival.Observation{Time: n})
	}
	p, err := FromObservations(context.Background(), obs, 0.95, resample.Sampling{Seed: 1, Replicates: 200}, "test")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Ten of sixteen met the rule: the median comes from all sixteen, so it is the
// eighth of them at attempt 22; 80 % cannot be estimated, 62.5 % is the largest.
func TestQuotaCountsEverybody(t *testing.T) {
	p := observedProgress(t, []float64{10, 12, 14, 15, 18, 19, 20, 22, 25, 30}, 40, 40, 40, 40, 40, 40)
	median := p.Quota(0.5)
	if median.Attempts != 22 || median.Largest != 0.625 {
		t.Errorf("median %+v, want 22 of all sixteen", median)
	}
	if !(median.Lower > 12 && median.Lower < 22 && median.Upper > 22) {
		t.Errorf("median's limits %v to %v", median.Lower, median.Upper)
	}
	if q := p.Quota(0.8); !math.IsInf(q.Attempts, 1) || !math.IsInf(q.Upper, 1) || math.IsInf(q.Lower, 1) {
		t.Errorf("80 %%: %+v, want none but a lower limit", q)
	}
	if q := p.Quota(0.625); q.Attempts != 30 {
		t.Errorf("62.5 %%: %+v, want 30", q)
	}
}

// The limits of the median, by hand. Of 6 trainees, one a time at 1 to 6, the share
// after k is known by the mid-p limits of k of 6, which cover 1/2 for the half steps
// between limits that lie on either side of it. At the half step to attempt n the
// upper limit of the share is the mean of those of n − 1 and n of 6. Mid-p limits of
// 0, 1, … of 6 from the binomial distribution: upper .393 .591 .738 .853 .940 .992 1,
// lower 0 .008 .060 .147 .262 .409 .607 (R: roots of pbinom(k-1, 6, p) +
// dbinom(k, 6, p)/2 = .975 and .025). Means of neighbours reach .5 first for upper at
// n = 2 (.591, .738), since .393 and .591 make .492; for lower they are below .5 up
// to n = 5 (.262, .409), while .409 and .607 make .508.
func TestQuotaLimitsAtHalfSteps(t *testing.T) {
	q := observedProgress(t, []float64{1, 2, 3, 4, 5, 6}).Quota(0.5)
	if q.Attempts != 3 || q.Lower != 2 || q.Upper != 5 {
		t.Errorf("%+v, want 3 (2 to 5)", q)
	}
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-9 {
		t.Errorf("%s %v, want %v", what, got, want)
	}
}

// Four trainees: the rule met at 2, 4 and 6, and one not in 8. An attempt costs 10
// (half an hour at 20), a trainee 5. With 6 attempts 2 + 4 + 6 + 6 = 18 are used when
// practice stops at the rule: 4·5 + 180 = 200, for three who are there 66.67 each;
// 24 when all are made: 260. With 2 fewer, 2 + 4 + 4 + 4 = 14: one fewer is there,
// half are not, and 40 is saved, or 80.
func TestOutlayByHand(t *testing.T) {
	p := observedProgress(t, []float64{2, 4, 6}, 8)
	c := practice.Costs{LabMinutes: 30, LabHourPrice: 20, PerTrainee: 5}
	o := p.Outlay(c, 6, 4)
	near(t, "share", o.Met.Value, 0.75)
	near(t, "used", o.Used.Value, 4.5)
	near(t, "lab hours", o.Stopping.LabHours.Value, 9)
	near(t, "cost", o.Stopping.Cost.Value, 200)
	near(t, "cost of each", o.Stopping.PerMet.Value, 200.0/3)
	near(t, "cost of all attempts", o.Everybody.Cost.Value, 260)
	near(t, "cost of each", o.Everybody.PerMet.Value, 260.0/3)
	near(t, "never", o.NeverMet, 0.25)
	if !math.IsInf(o.MoreForHalf, 1) {
		t.Errorf("the one left needs %v more, want never", o.MoreForHalf)
	}
	if s := o.Stopping.PerMet; !(s.Lower < s.Value && s.Value < s.Upper) {
		t.Errorf("cost of each %+v", s)
	}
	r := p.Reduce(c, 6, 2, 4)
	near(t, "fewer there", r.FewerMet.Value, 1)
	near(t, "not there", r.NotMet.Value, 0.5)
	near(t, "saved", r.Saved.Value, 40)
	near(t, "saved of all", r.SavedByEverybody, 80)
	near(t, "hours saved", r.HoursSaved.Value, 2)
	near(t, "more for half of those left", p.Outlay(c, 4, 4).MoreForHalf, 2)
	if o := p.Outlay(c, 10, 4); !math.IsNaN(o.Met.Value) || !math.IsNaN(o.Stopping.Cost.Value) {
		t.Errorf("beyond the last attempt seen: %+v", o)
	}
	if left := p.Reduce(c, 6, 20, 4).Attempts; left != 0 {
		t.Errorf("%d attempts left of 6 less 20", left)
	}
}

// Where nothing has a price hours are known (18 attempts of half an hour) and costs are not.
func TestOutlayWithoutPrices(t *testing.T) {
	p, c := observedProgress(t, []float64{2, 4, 6}, 8), practice.Costs{LabMinutes: 30}
	o, r := p.Outlay(c, 6, 4), p.Reduce(c, 6, 2, 4)
	near(t, "lab hours", o.Stopping.LabHours.Value, 9)
	near(t, "hours saved", r.HoursSaved.Value, 2)
	for name, v := range map[string]float64{"cost": o.Stopping.Cost.Value, "of all attempts": o.Everybody.Cost.Value, "of each": o.Everybody.PerMet.Value, "saved": r.Saved.Value, "saved of all": r.SavedByEverybody} {
		if !math.IsNaN(v) {
			t.Errorf("%s without prices: %v", name, v)
		}
	}
}

// A trainee who never meets the rule costs all attempts and is no divisor: the same
// three with and without the fourth.
func TestNonFinishersAreInTheNumerator(t *testing.T) {
	c := practice.Costs{Consumables: 1}
	with, without := observedProgress(t, []float64{2, 4, 6}, 6).Outlay(c, 6, 4), observedProgress(t, []float64{2, 4, 6}).Outlay(c, 6, 3)
	near(t, "without", without.Stopping.PerMet.Value, 12.0/3)
	near(t, "with", with.Stopping.PerMet.Value, 18.0/3)
}

// The share of new trainees who have met the rule, where the population is known:
// 200 trainees whose plateaus 40·exp(0.3·z) are all that they differ in, so that next
// to nothing is uncertain. The truth is the mean over z, by the midpoint rule, of the
// recursion on the true chances, half of the attempts being unsound.
func TestFromCohort(t *testing.T) {
	const spread = 0.05
	curve := func(z, n float64) float64 { return 40*math.Exp(0.3*z) + 100*math.Exp(-0.3*(n-1)) }
	var ts []cohort.Trainee
	for i := range 200 {
		r := resample.Stream(3, "quota", i)
		z, tr := r.NormFloat64(), cohort.Trainee{ID: fmt.Sprint(i)}
		for n := 1.0; n <= 20; n++ {
			tr.Attempt, tr.Response = append(tr.Attempt, n), append(tr.Response, curve(z, n)*math.Exp(spread*r.NormFloat64()))
		}
		ts = append(ts, tr)
	}
	c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Random: []string{"plateau"}})
	if err != nil {
		t.Fatal(err)
	}
	rule := mustParse(t, "2 in a row")
	half := practice.Trainee{} // four sound of eight: a share of one half, too few for a curve
	for n := range 8 {
		half.Attempts = append(half.Attempts, practice.Attempt{Number: float64(n + 1), Clean: n%2 == 0})
	}
	q := Question{Standard: under(60), Horizon: 30, Rule: rule}
	p, err := FromCohort(context.Background(), c, c.NTrainees, "", q, []practice.Trainee{half}, resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	truth := make([]float64, 30)
	for i := range 400 {
		z := (float64(i)+0.5)/400*8 - 4
		chances := make([]float64, 30)
		for n := range chances {
			chances[n] = 0.5 * models.Lognormal{}.CDF(60, curve(z, float64(n+1)), spread)
		}
		by, err := stopping.Rule{Rule: rule}.MetBy(chances)
		if err != nil {
			t.Fatal(err)
		}
		for n, v := range by {
			truth[n] += v * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * 8 / 400
		}
	}
	for _, n := range []int{6, 10, 20, 30} {
		if math.Abs(p.At(n)-truth[n-1]) > 0.04 || p.Lower[n-1] > truth[n-1]+0.01 || p.Upper[n-1] < truth[n-1]-0.01 {
			t.Errorf("by %d: %.3f (%.3f to %.3f), the truth is %.3f", n, p.At(n), p.Lower[n-1], p.Upper[n-1], truth[n-1])
		}
	}
	two := Together([]Progress{p, p}, []float64{1, 3})
	near(t, "a mixture of equals", two.At(10), p.At(10))
	if q := p.Quota(0.5); !(q.Lower <= q.Attempts && q.Attempts <= q.Upper) || q.Largest != p.At(30) {
		t.Errorf("quota %+v", q)
	}
	if s := p.Tolerance(0.5, 0.95); s.Attempts < p.Quota(0.5).Attempts || s.Claimed < 0.5 {
		t.Errorf("statement %+v is bolder than the estimate %+v", s, p.Quota(0.5))
	}
}

// The chance of a sound attempt: always where nothing else was seen, one share of
// few, and a rising curve where there are enough of both.
func TestSoundChance(t *testing.T) {
	seen := func(attempts []float64, sound ...bool) practice.Trainee {
		var t practice.Trainee
		for i, n := range attempts {
			t.Attempts = append(t.Attempts, practice.Attempt{Number: n, Clean: sound[i]})
		}
		return t
	}
	near(t, "always", SoundChance([]practice.Trainee{seen([]float64{1, 2}, true, true)})(5), 1)
	near(t, "nobody seen", SoundChance(nil)(5), 1)
	near(t, "three of four", SoundChance([]practice.Trainee{seen([]float64{1, 2, 3, 4}, false, true, true, true)})(9), 0.75)
	// At attempt 1 a quarter were sound, at 2 a half, at 4 three quarters: logits of
	// −log 3, 0 and log 3, which a line in the logarithm of the attempt meets exactly.
	var many []practice.Trainee
	for k := range 40 {
		many = append(many, seen([]float64{1, 2, 4}, k%4 == 0, k%2 == 0, k%4 != 0))
	}
	if f := SoundChance(many); math.Abs(f(1)-0.25) > 1e-6 || math.Abs(f(2)-0.5) > 1e-6 || math.Abs(f(4)-0.75) > 1e-6 {
		t.Errorf("the curve is %v at 1, %v at 2 and %v at 4", f(1), f(2), f(4))
	}
}
