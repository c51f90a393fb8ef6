package retention

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"tyro/analysis/resample"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

func session(gap float64, values ...float64) Session {
	s := Session{Gap: gap}
	for _, v := range values {
		s.Attempts = append(s.Attempts, Attempt{Value: v, Passes: v <= 12})
	}
	return s
}

func ofGaps(gap float64) []Trainee {
	nan := math.NaN()
	return []Trainee{
		{ID: "a", Sessions: []Session{session(nan, 30, 20, 10, 10), session(gap, 14, 10, 9)}},
		{ID: "b", Sessions: []Session{session(nan, 40, 22, 12, 12), session(gap, 18, 13, 12)}},
		{ID: "c", Sessions: []Session{session(nan, 26, 18, 11, 11), session(gap, 11, 12, 11)}},
	}
}

// By hand, the level before being the mean of the last two: 10, 12, 11. First attempts after
// are 14, 18, 11: losses 4, 6, 0, mean 10/3 with variance (4/9 + 64/9 + 100/9)/2 = 28/3 and
// standard error √(28/9) = 1.763834; second ones 0, 1, 1, mean 2/3. The gains are −20, −28,
// −15, sum −63, of which −53 are kept: 53/63. At the end all three passed (12 or less); of
// first attempts after one did. Back at the level after 2, 3 and 1 attempts, mean 2; at
// first it took 3 each: savings 1 − 6/9.
func TestGapByHand(t *testing.T) {
	gaps, err := Gaps(context.Background(), ofGaps(30), Options{Before: 2, Lower: true, Standard: true, Sampling: resample.Sampling{Replicates: 200}})
	if err != nil {
		t.Fatal(err)
	}
	if len(gaps) != 1 {
		t.Fatalf("%d gaps", len(gaps))
	}
	g := gaps[0]
	near(t, "days", g.Days, 30, 0)
	near(t, "loss", g.Loss.Estimate, 10.0/3, 1e-12)
	near(t, "standard error", g.Loss.SE, math.Sqrt(28.0/9), 1e-12)
	near(t, "lower", g.Loss.Lower, 10.0/3-4.302653*math.Sqrt(28.0/9), 1e-6) // t(2) at .975
	near(t, "second", g.Later[0].Estimate, 2.0/3, 1e-12)
	near(t, "kept", g.Kept.Estimate, 53.0/63, 1e-12)
	near(t, "still", g.Still.Estimate, 1.0/3, 1e-12)
	near(t, "regained", g.Regained.Estimate, 2, 1e-12)
	near(t, "savings", g.Savings.Estimate, 1.0/3, 1e-12)
	if g.Trainees != 3 || g.StillOf != 3 || g.NotYet != 0 {
		t.Errorf("%+v", g)
	}
}

// By hand, with levels of 10, 12 and 11 before the break, reached at first by attempt 3 of each:
// a is back after 2 attempts; b not after 3, nor c after 4, so that the mean is more than
// (2+3+4)/3 = 3 and the savings at most 1 − 9/9 = 0. Where nobody is back after 2 attempts each
// it is more than 2, and at most 1 − 6/9.
func TestNotYetIsABound(t *testing.T) {
	o := Options{Before: 2, Lower: true, Sampling: resample.Sampling{Replicates: 100}}
	some, none := ofGaps(30), ofGaps(30)
	some[0].Sessions[1] = session(30, 14, 10)
	some[1].Sessions[1] = session(30, 18, 14, 13)
	some[2].Sessions[1] = session(30, 16, 14, 13, 12)
	for i := range none {
		none[i].Sessions[1] = session(30, 20, 15)
	}
	for _, c := range []struct {
		trainees          []Trainee
		notYet            int
		regained, savings float64
	}{{some, 2, 3, 0}, {none, 3, 2, 1.0 / 3}} {
		gaps, err := Gaps(context.Background(), c.trainees, o)
		if err != nil {
			t.Fatal(err)
		}
		g := gaps[0]
		near(t, "more than", g.Regained.Estimate, c.regained, 1e-12)
		near(t, "at most", g.Savings.Estimate, c.savings, 1e-12)
		if !g.Bounds || g.NotYet != c.notYet || !math.IsNaN(g.Savings.Lower) || !math.IsNaN(g.Savings.Upper) || !math.IsNaN(g.Regained.Lower) || !math.IsNaN(g.Regained.Upper) {
			t.Errorf("a bound is no estimate: %+v", g)
		}
	}
	if gaps, err := Gaps(context.Background(), ofGaps(30), o); err != nil || gaps[0].Bounds || math.IsNaN(gaps[0].Savings.Lower) {
		t.Errorf("all came back: %+v (%v)", gaps, err)
	}
}

// Logarithms of equal times, whose mean differs from each in the last digit: nothing was gained,
// so that no share of a gain is known and there is no curve.
func TestAllEqualIsUnknown(t *testing.T) {
	v := math.Log(50)
	var ts []Trainee
	for _, id := range []string{"a", "b", "c", "d"} {
		ts = append(ts, Trainee{ID: id, Sessions: []Session{session(math.NaN(), v, v, v, v, v), session(30, v, v, v, v, v)}})
	}
	o := Options{Lower: true, Sampling: resample.Sampling{Replicates: 100}}
	gaps, err := Gaps(context.Background(), ts, o)
	if err != nil {
		t.Fatal(err)
	}
	if g := gaps[0]; g.GainKnown(true) || !math.IsNaN(g.Kept.Estimate) || !math.IsNaN(g.Savings.Estimate) || g.Loss.Estimate != 0 || g.Gain.Estimate != 0 {
		t.Errorf("%+v", g)
	}
	if cs, err := Courses(context.Background(), ts, o); !errors.Is(err, ErrRetention) {
		t.Errorf("a curve of nothing: %+v (%v)", cs, err)
	}
}

// More trials after the break change relearning, not retention.
func TestOnlyTheFirstAttemptIsRetention(t *testing.T) {
	o := Options{Before: 2, Lower: true, Sampling: resample.Sampling{Replicates: 100}}
	short, more := ofGaps(30), ofGaps(30)
	for i := range more {
		more[i].Sessions[1].Attempts = append(more[i].Sessions[1].Attempts, Attempt{Value: 5}, Attempt{Value: 5})
		short[i].Sessions[1].Attempts = short[i].Sessions[1].Attempts[:1]
	}
	a, err1 := Gaps(context.Background(), short, o)
	b, err2 := Gaps(context.Background(), more, o)
	if err1 != nil || err2 != nil || a[0].Loss != b[0].Loss || a[0].Kept != b[0].Kept {
		t.Errorf("loss %+v and %+v, %v, %v", a[0].Loss, b[0].Loss, err1, err2)
	}
}

// Wilson (1927) for 1 of 3 at 95 %: (1/3 + z²/6 ± z·√(2/27 + z²/36)) / (1 + z²/3).
func TestWilson(t *testing.T) {
	z := 1.959963984540054
	e := wilson(1.0/3, 3, 0.95)
	half := z * math.Sqrt(2.0/27+z*z/36)
	near(t, "lower", e.Lower, (1.0/3+z*z/6-half)/(1+z*z/3), 1e-12)
	near(t, "upper", e.Upper, (1.0/3+z*z/6+half)/(1+z*z/3), 1e-12)
}

// One length of break tells no half-life.
func TestOneGapTellsNoHalfLife(t *testing.T) {
	_, err := Forget(context.Background(), ofGaps(30), Options{Lower: true}, math.NaN(), 0)
	if !errors.Is(err, ErrRetention) || err.Error() != "retention cannot be worked out: a half-life cannot be told from one gap: all breaks are of about the same length, 30 days" {
		t.Errorf("%v", err)
	}
}

// forgetful lose by a known rate, without noise: gains of 40 and 60, breaks of 2 and 20
// days.
func forgetful(kept func(days float64) float64) []Trainee {
	var out []Trainee
	for i, gain := range []float64{40, 60, 50} {
		start, level := 100.0+float64(i), 100.0+float64(i)-gain
		var s []Session
		s = append(s, session(math.NaN(), start, level, level, level))
		for _, days := range []float64{2, 20} {
			s = append(s, session(days, level+gain*(1-kept(days)), level, level, level))
		}
		out = append(out, Trainee{ID: string(rune('a' + i)), Sessions: s})
	}
	return out
}

// Without noise the rate comes back as it was put in, and the half-life follows by hand:
// ln 2/0.05 = 13.86 days; 2^(1/0.3) − 1 = 9.08 days.
func TestForgettingWithoutNoise(t *testing.T) {
	o := Options{Before: 3, Lower: true, Sampling: resample.Sampling{Replicates: 50}}
	for k, c := range []struct {
		shape      string
		kept       func(float64) float64
		rate, half float64
	}{
		{Exponential, func(d float64) float64 { return math.Exp(-0.05 * d) }, 0.05, 13.862943611},
		{Power, func(d float64) float64 { return math.Pow(1+d, -0.3) }, 0.3, 9.079368399},
	} {
		fs, err := Forget(context.Background(), forgetful(c.kept), o, math.NaN(), 0)
		if err != nil {
			t.Fatal(err)
		}
		f := fs[k]
		if f.Shape != c.shape || f.RSS > 1e-6 || f.RSS > fs[1-k].RSS {
			t.Errorf("%s: %+v beside %+v", c.shape, f, fs[1-k])
		}
		near(t, "rate", f.Rate.Estimate, c.rate, 1e-5)
		near(t, "half-life", f.HalfLife.Estimate, c.half, 1e-4)
		if f.Refresher.Status != CannotBeTold {
			t.Errorf("without a standard the refresher is %q", f.Refresher.Status)
		}
	}
}

// Nothing is lost: no half-life within any time.
func TestNothingLost(t *testing.T) {
	fs, err := Forget(context.Background(), forgetful(func(float64) float64 { return 1 }), Options{Before: 3, Lower: true, Sampling: resample.Sampling{Replicates: 50}}, math.NaN(), 0)
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsInf(fs[0].HalfLife.Estimate, 1) || fs[0].Rate.Estimate != 0 {
		t.Errorf("%+v", fs[0])
	}
}

// Breaks of 1 and 2 days, of 30 and 31: two kinds, the second with 30 and 31 together.
func TestKindsOfBreak(t *testing.T) {
	ts := append(ofGaps(1), append(ofGaps(30), ofGaps(31)...)...)
	gaps, err := Gaps(context.Background(), ts, Options{Sampling: resample.Sampling{Replicates: 50}})
	if err != nil {
		t.Fatal(err)
	}
	if len(gaps) != 2 || gaps[1].Trainees != 6 || gaps[1].Shortest != 30 || gaps[1].Longest != 31 {
		t.Errorf("%+v", gaps)
	}
}

// By hand: 25 is a quarter longer than 20 and the last of its kind; 26, 30 and 32 are within a
// quarter of 26 (32.5), though each is close to the one before it, and 33 is not.
func TestKindsDoNotChain(t *testing.T) {
	var ts []Trainee
	for _, days := range []float64{20, 22, 24, 25, 26, 30, 32, 33} {
		ts = append(ts, ofGaps(days)...)
	}
	gaps, err := Gaps(context.Background(), ts, Options{Sampling: resample.Sampling{Replicates: 50}})
	if err != nil {
		t.Fatal(err)
	}
	var got [][2]float64
	for _, g := range gaps {
		got = append(got, [2]float64{g.Shortest, g.Longest})
	}
	if want := [][2]float64{{20, 25}, {26, 32}, {33, 33}}; !slices.Equal(got, want) {
		t.Errorf("kinds from and to %v, want %v", got, want)
	}
}

// The course over the calendar, by hand: first attempts 30, 40, 26 mean 32 on day 0, and
// 14, 18, 11 mean 43/3 on day 30.
func TestCalendar(t *testing.T) {
	ps := Calendar(ofGaps(30), 0)
	if len(ps) != 7 {
		t.Fatalf("%d points, want 4 and 3", len(ps))
	}
	near(t, "first", ps[0].Value.Estimate, 32, 1e-12)
	near(t, "day", ps[4].Day, 30, 0)
	near(t, "after", ps[4].Value.Estimate, 43.0/3, 1e-12)
}

// Six invented trainees with breaks of 1 and 30 days, against R 4.2.2 (optimize, t.test;
// testdata/retention/forget.R): rates and sums of squares of both shapes, and the loss
// after 30 days with its interval.
func TestForgettingAgainstR(t *testing.T) {
	gains, losses := []float64{40, 55, 48, 60, 35, 50}, [][2]float64{{3.1, 14.2}, {2.0, 20.5}, {4.4, 13.0}, {1.2, 25.1}, {2.6, 9.8}, {3.9, 18.3}}
	var ts []Trainee
	for i, g := range gains {
		level := 50.0
		ts = append(ts, Trainee{ID: string(rune('a' + i)), Sessions: []Session{
			session(math.NaN(), level+g, level, level), session(1, level+losses[i][0], level, level), session(30, level+losses[i][1], level, level),
		}})
	}
	o := Options{Before: 2, Lower: true, Sampling: resample.Sampling{Replicates: 100}}
	fs, err := Forget(context.Background(), ts, o, math.NaN(), 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "exponential rate", fs[0].Rate.Estimate, 0.0148122256, 1e-6)
	near(t, "exponential sum of squares", fs[0].RSS, 74.7744493594, 1e-9)
	near(t, "power rate", fs[1].Rate.Estimate, 0.125024009, 1e-6)
	near(t, "power sum of squares", fs[1].RSS, 60.9395519307, 1e-9)
	gaps, err := Gaps(context.Background(), ts, o)
	if err != nil {
		t.Fatal(err)
	}
	late := gaps[1].Loss
	near(t, "loss", late.Estimate, 16.81667, 1e-6)
	near(t, "standard error", late.SE, 2.273238, 1e-6)
	near(t, "lower", late.Lower, 10.9731222956, 1e-9)
	near(t, "upper", late.Upper, 22.6602110377, 1e-9)
	near(t, "second attempt", gaps[1].Later[0].Estimate, 0, 1e-12)
}

// The same six with levels of their own and a standard, against R 4.2.2
// (testdata/retention/refresh.R): the day to refresh, and its lower end by the jackknife. By
// the power shape no day is told from the one on which 80 % meet it.
func TestRefresherAgainstR(t *testing.T) {
	levels := []float64{49, 51, 50, 52, 48, 50}
	gains, losses := []float64{40, 55, 48, 60, 35, 50}, [][2]float64{{3.1, 14.2}, {2.0, 20.5}, {4.4, 13.0}, {1.2, 25.1}, {2.6, 9.8}, {3.9, 18.3}}
	trainees := func(side float64) (ts []Trainee) { // −1: larger is better
		for i, g := range gains {
			l := side * levels[i]
			ts = append(ts, Trainee{ID: string(rune('a' + i)), Sessions: []Session{
				session(math.NaN(), l+side*g, l, l), session(1, l+side*losses[i][0], l, l), session(30, l+side*losses[i][1], l, l),
			}})
		}
		return ts
	}
	for _, side := range []float64{1, -1} {
		o := Options{Before: 2, Lower: side > 0, Sampling: resample.Sampling{Replicates: 100}}
		fs, err := Forget(context.Background(), trainees(side), o, side*65, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "exponential residual", fs[0].Residual, 2.60723555, 1e-8)
		near(t, "exponential day", fs[0].Refresher.Days, 18.1136529, 1e-5)
		near(t, "exponential lower", fs[0].Refresher.Lower, 9.07733507, 1e-5)
		near(t, "power residual", fs[1].Residual, 2.35371181, 1e-8)
		near(t, "power day", fs[1].Refresher.Days, 7.72564807, 1e-5)
		near(t, "power lower", fs[1].Refresher.Lower, 0, 0)

		// Nobody comes near the standard, or nobody ever falls short of it.
		far, err := Forget(context.Background(), trainees(side), o, side*30, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		if r := far[0].Refresher; r.Status != AlreadyBelow || r.Days != 0 || r.Lower != 0 {
			t.Errorf("a standard out of reach: %+v", r)
		}
		always, err := Forget(context.Background(), trainees(side), o, side*400, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		if r := always[0].Refresher; r.Status != Beyond || !math.IsInf(r.Days, 1) || !math.IsInf(r.Lower, 1) {
			t.Errorf("a standard never lost: %+v", r)
		}
	}
}

// Trainees who are all alike have a day, and no spread to say how sure it is.
func TestRefresherOfTheAlike(t *testing.T) {
	var ts []Trainee
	for i := range 6 {
		ts = append(ts, Trainee{ID: string(rune('a' + i)), Sessions: []Session{
			session(math.NaN(), 90, 50, 50), session(1, 53, 50, 50), session(30, 64, 50, 50),
		}})
	}
	fs, err := Forget(context.Background(), ts, Options{Before: 2, Lower: true, Sampling: resample.Sampling{Replicates: 100}}, 65, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	if r := fs[0].Refresher; math.IsNaN(r.Days) || !math.IsNaN(r.Lower) {
		t.Errorf("all alike: %+v", r)
	}
}

// Strange studies: three to eight trainees, some with one break alone, hard fails, breaks of many
// lengths, standards near and far. The lower end is never after the day and never below 0, and
// a status says what the day is.
func TestRefresherOfStrangeStudies(t *testing.T) {
	told := 0
	for k := range 300 {
		r := resample.Stream(5, "strange refreshers", k)
		var ts []Trainee
		for i := range 3 + r.IntN(6) {
			level, gain := 50+4*r.NormFloat64(), 20+30*r.Float64()
			tr := Trainee{ID: string(rune('a' + i)), Sessions: []Session{session(math.NaN(), level+gain, level+r.NormFloat64(), level)}}
			for range 1 + r.IntN(3) {
				days := []float64{1, 2, 7, 30, 90}[r.IntN(5)]
				first := level + gain*(1-math.Exp(-0.02*days)) + 3*r.NormFloat64()
				if r.IntN(12) == 0 {
					first = math.NaN()
				}
				tr.Sessions = append(tr.Sessions, session(days, first, level+r.NormFloat64(), level))
			}
			ts = append(ts, tr)
		}
		standard := []float64{20, 52, 58, 66, 200}[r.IntN(5)]
		fs, err := Forget(context.Background(), ts, Options{Before: 1 + r.IntN(3), Lower: true, Sampling: resample.Sampling{Replicates: 20}}, standard, 0.5+0.45*r.Float64())
		if errors.Is(err, ErrRetention) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		for _, f := range fs {
			told++
			x := f.Refresher
			if x.Lower > x.Days || x.Lower < 0 || math.IsNaN(x.Days) != (x.Status == CannotBeTold) || (x.Days == 0) != (x.Status == AlreadyBelow) || math.IsInf(x.Days, 1) != (x.Status == Beyond) {
				t.Errorf("study %d, %s: %+v", k, f.Shape, x)
			}
		}
	}
	if told < 300 {
		t.Errorf("only %d refreshers were told: the test says little", told)
	}
}
