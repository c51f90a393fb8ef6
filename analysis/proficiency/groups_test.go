package proficiency

import (
	"context"
	"math"
	"testing"

	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

func ofGroup(t *testing.T, values ...float64) Answer {
	t.Helper()
	var as []Answer
	for _, v := range values {
		s := Projected
		if v <= 8 {
			s = Reached
		}
		as = append(as, Answer{Definition: RuleMet, Estimate: v, Status: s})
	}
	a, err := OfGroup(context.Background(), as, Question{}, resample.Sampling{Seed: 1, Replicates: 20000}, "t")
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// By hand: half of 5, 9, 12 and never are there by 9; of never, never, 3 and 4 by 4;
// one more never leaves fewer than half.
func TestOfGroup(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, c := range []struct {
		values     []float64
		want, lost float64
		status     Status
	}{
		{[]float64{12, 5, inf, 9}, 9, 0.25, Projected},
		{[]float64{inf, inf, 3, 4, nan}, 4, 0.5, Reached},
		{[]float64{inf, inf, inf, 3, 4}, inf, 0.6, BeyondHorizon},
		{[]float64{nan, nan}, nan, nan, TooEarly},
	} {
		a := ofGroup(t, c.values...)
		same := func(a, b float64) bool { return math.Abs(a-b) < 1e-12 || a == b || math.IsNaN(a) && math.IsNaN(b) }
		if !same(a.Estimate, c.want) || !same(a.NotReached, c.lost) || a.Status != c.status || !math.IsNaN(a.Lower) {
			t.Errorf("of %v: %v from %v (%s), %v not reached; want %v (%s), %v", c.values, a.Estimate, a.Lower, a.Status, a.NotReached, c.want, c.status, c.lost)
		}
	}
}

// Among 1 to 12 the bootstrap's half-way value is at most k with the chance that a
// binomial of 12 with share k/12 is 6 or more: .0079 for 2, .0544 for 3, .9857 for 9
// and .9987 for 10. The tails read are those of 2.201·√(12/11) (Student's t on 11
// degrees of freedom), 1.08 %, so that the limits are 3 and 10.
func TestOfGroupInterval(t *testing.T) {
	a := ofGroup(t, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
	if a.Estimate != 6 || a.Lower != 3 || a.Upper != 10 {
		t.Errorf("half of 1 to 12 by %v (%v to %v), want 6 (3 to 10)", a.Estimate, a.Lower, a.Upper)
	}
}

// By hand: every attempt passes with chance ½ or 1, equally likely. Of the two curves
// one stands below a chance of 0.8 and one above, from attempt 1. Two in a row, or the
// chart of two steps up, is met by attempts 1 to 4 with chances 0, ¼, ⅜, ½ and 0, 1, 1, 1:
// together 0, ⅝, 11/16, ¾, so that the ends at chances 0.2 and 0.8 are 2 and beyond 4.
func TestNewTraineeByHand(t *testing.T) {
	chart := stopping.Chart{Rates: monitor.Rates{Acceptable: 1. / 3, Unacceptable: 2. / 3}, H: 2 * math.Ln2}
	q := Question{Standard: practice.Standard{Value: 0.8, PassFail: true}, Rule: mustParse(t, "2 in a row"), Chart: &chart, Horizon: 4, Chance: 0.8, Level: 0.6}.orDefaults()
	as, err := q.ofWays([]way{always(0.5), always(1 - 1e-15)})
	if err != nil {
		t.Fatal(err)
	}
	inf := math.Inf(1)
	for i, want := range []Answer{
		{Definition: MeanCrossing, Estimate: 1, Lower: 1, Upper: inf, NotReached: 0.5},
		{Definition: PassChance, Estimate: 1, Lower: 1, Upper: inf, NotReached: 0.5},
		{Definition: RuleMet, Estimate: 2, Lower: 2, Upper: inf, NotReached: 0.25},
		{Definition: ChartSignal, Estimate: 2, Lower: 2, Upper: inf, NotReached: 0.25},
	} {
		if a := as[i]; a.Definition != want.Definition || a.Estimate != want.Estimate || a.Lower != want.Lower || a.Upper != want.Upper || math.Abs(a.NotReached-want.NotReached) > 1e-9 || a.Status != Projected {
			t.Errorf("%+v, want %+v", a, want)
		}
	}
}

// A newcomer's rule-met is the projection of a trainee without attempts.
func TestNewTraineeIsProjected(t *testing.T) {
	ts, rs := pooledCohort(12, 16)
	c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Pool(context.Background(), c, false, rs, Question{Standard: under(60), Rule: mustParse(t, "2 in a row"), Horizon: 60})
	if err != nil {
		t.Fatal(err)
	}
	sampling := resample.Sampling{Seed: 1}
	as, err := p.NewTrainee(context.Background(), "", sampling)
	if err != nil {
		t.Fatal(err)
	}
	prior, err := p.Project(context.Background(), []practice.Trainee{{ID: "a new trainee of arm "}}, sampling)
	if err != nil {
		t.Fatal(err)
	}
	if a, o := as[2], prior[0]; a.Estimate != o.Estimate || a.Lower != o.Lower || a.Upper != o.Upper || math.Abs(a.NotReached-o.NotReached) > 1e-12 || !(a.Lower < a.Estimate && a.Estimate < a.Upper) {
		t.Errorf("newcomer %v (%v to %v), projected %v (%v to %v)", a.Estimate, a.Lower, a.Upper, o.Estimate, o.Lower, o.Upper)
	}
	if m := as[0]; !(m.Lower < m.Estimate && m.Estimate < as[1].Estimate) {
		t.Errorf("mean-crossing %v from %v, pass-chance %v", m.Estimate, m.Lower, as[1].Estimate)
	}
}

// The chance to keep within error limits by logistic regression on the logarithm of
// the attempt: R 4.2.2, glm(y ~ log(n), binomial), at attempts 1, 10, 40 and 100.
func TestCleanChance(t *testing.T) {
	tr := practice.Trainee{ErrorLimits: true}
	for i := range 40 {
		tr.Attempts = append(tr.Attempts, practice.Attempt{Number: float64(i + 1), Clean: i > 12 && i%9 != 0 || i%4 == 0})
	}
	c := newCleanChance(tr)
	for i, want := range []float64{0.0542792160614, 0.621653643808, 0.925263532029, 0.979183070405} {
		n := []float64{1, 10, 40, 100}[i]
		if got := c.learnt.at(n); math.Abs(got-want) > 1e-7 {
			t.Errorf("attempt %g: chance %v, want %v", n, got, want)
		}
	}
	// Two attempts beyond the limits are too few for a slope: (38 + 1/2)/(40 + 1).
	for i := range tr.Attempts {
		tr.Attempts[i].Clean = i > 1
	}
	if got := newCleanChance(tr).learnt.at(7); math.Abs(got-38.5/41) > 1e-12 {
		t.Errorf("with two beyond the limits: chance %v, want %v", got, 38.5/41)
	}
}

// BCa on request: the same estimate, other limits, and its name.
func TestBCa(t *testing.T) {
	s := simulate(models.Power().Curve([]float64{40, 140, 0.5}), 0.2, 30, 4)
	q := Question{Standard: under(70)}
	plain := ask(t, s, 0, q, lognormalSpecs(models.Power()))[0]
	q.Interval = resample.BCa
	bca := ask(t, s, 0, q, lognormalSpecs(models.Power()))[0]
	if bca.At != plain.At || bca.Crossing.Lower == plain.Crossing.Lower || bca.Method != "BCa, residual bootstrap" || !(bca.Crossing.Lower < bca.At && bca.At < bca.Crossing.Upper) {
		t.Errorf("BCa %v (%v to %v, %s); percentile %v (%v to %v)", bca.At, bca.Crossing.Lower, bca.Crossing.Upper, bca.Method, plain.At, plain.Crossing.Lower, plain.Crossing.Upper)
	}
	if len(fit.LeaveOneOut(s, lognormalSpecs(models.Power())[0])) != 30 {
		t.Error("not every attempt can be left out")
	}
}

// chart-signal at chances of one half, failure rates of 1/3 and 2/3 and a limit of
// two steps is two passes in a row: by attempt 4 with chance one half.
func TestChartSignalFromCurve(t *testing.T) {
	c := stopping.Chart{Rates: monitor.Rates{Acceptable: 1. / 3, Unacceptable: 2. / 3}, H: 2 * math.Ln2}
	q, err := Question{Standard: under(60), Horizon: 50, Chart: &c}.Ready()
	if err != nil {
		t.Fatal(err)
	}
	p := passing{curve: models.Constant().Curve([]float64{60}), noise: models.Lognormal{}, scale: 0.2}
	if got := q.newCounter().crossings(p); len(got) != 3 || got[2] != 4 {
		t.Errorf("crossings %v, want chart-signal at 4", got)
	}
}
