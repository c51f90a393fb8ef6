package cohort

import (
	"context"
	"fmt"
	"math"
	"testing"

	"tyro/analysis/resample"
	"tyro/models"
)

// A constant with normal noise and as many attempts of everybody: the arm's value is the
// mean of its trainees' means, and counting a trainee once more moves it by the trainee's
// deviation over the number of trainees. With the level of the other arm it has nothing to
// do. By hand: means 1, 2, 3, 6 with mean 3 move it by −0.5, −0.25, 0, 0.75.
func TestReadingsOfMeans(t *testing.T) {
	var ts []Trainee
	for a, means := range [][]float64{{1, 2, 3, 6}, {11, 12, 14, 15}} {
		for i, m := range means {
			ts = append(ts, Trainee{ID: fmt.Sprint(a, i), Arm: string(rune('a' + a)), Attempt: []float64{1, 2, 3, 4}, Response: []float64{m - 0.3, m + 0.1, m + 0.3, m - 0.1}})
		}
	}
	_, rs := levelOfArm(t, ts)
	if math.Abs(rs[0].Value-3) > 1e-6 {
		t.Errorf("value %v, want 3", rs[0].Value)
	}
	for i, want := range []float64{-0.5, -0.25, 0, 0.75, 0, 0, 0, 0} {
		if got := rs[0].Added[i]; math.Abs(got-want) > 1e-3 {
			t.Errorf("trainee %d adds %v, want %v", i, got, want)
		}
	}
}

// What a trainee adds to the log of the plateau is, to first order, minus what leaving
// them out takes away, by refits.
func TestReadingsAgainstRefits(t *testing.T) {
	var ts []Trainee
	r := resample.Stream(4, "readings", 0)
	for i := range 24 {
		p, g, k := 40*math.Exp(0.2*r.NormFloat64()), 100*math.Exp(0.2*r.NormFloat64()), 0.3*math.Exp(0.2*r.NormFloat64())
		x := Trainee{ID: fmt.Sprint(i), Arm: string(rune('a' + i%2))}
		for n := 1.0; n <= 18; n++ {
			x.Attempt, x.Response = append(x.Attempt, n), append(x.Response, (p+g*math.Exp(-k*(n-1)))*math.Exp(0.1*r.NormFloat64()))
		}
		ts = append(ts, x)
	}
	spec := Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, ArmEffect: []string{"plateau", "gain", "rate"}, Uncorrelated: true}
	plateau := []func(models.Curve) float64{func(c models.Curve) float64 { return math.Log(c.Plateau) }}
	read := func(ts []Trainee) Reading {
		c, err := Run(context.Background(), ts, spec)
		if err != nil {
			t.Fatal(err)
		}
		x, err := c.Contributions(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		rs, err := x.Read("a", plateau)
		if err != nil {
			t.Fatal(err)
		}
		return rs[0]
	}
	all := read(ts)
	sum, size := 0.0, 0.0
	for _, v := range all.Added {
		sum, size = sum+v, size+math.Abs(v)
	}
	if math.Abs(sum) > 0.01*size { // they draw the fit nearly alike
		t.Errorf("the contributions sum to %v, and in size to %v", sum, size)
	}
	for _, i := range []int{0, 6, 12, 18} {
		without := read(append(append([]Trainee(nil), ts[:i]...), ts[i+1:]...))
		taken := all.Value - without.Value
		if math.Abs(taken-all.Added[i]) > 0.15*math.Abs(taken)+0.001 {
			t.Errorf("trainee %d: leaving out takes %v, contribution %v", i, taken, all.Added[i])
		}
	}
}

// A constant with normal noise and trainees who made 1 to 16 attempts: by hand, the arm's
// value is the mean of trainees' means with weights w in proportion to 1/(τ² + σ²/attempts),
// and a trainee adds w·(mean − value). About a fit that the trainee draws by w this is too
// small by the root of 1 − w, beside 1 − 1/n where all are alike.
func TestReadingsOfUnequalTrainees(t *testing.T) {
	var ts []Trainee
	r := resample.Stream(5, "unequal", 0)
	for i := range 16 {
		x, level := Trainee{ID: fmt.Sprint(i), Arm: string(rune('a' + i%2))}, 10+0.3*r.NormFloat64()
		for n := range []int{1, 1, 2, 2, 4, 4, 8, 16}[i/2] {
			x.Attempt, x.Response = append(x.Attempt, float64(n+1)), append(x.Response, level+r.NormFloat64())
		}
		ts = append(ts, x)
	}
	c, rs := levelOfArm(t, ts)
	between, within := c.Random[0].SD*c.Random[0].SD, c.Residual.Estimate*c.Residual.Estimate
	total, value := 0.0, 0.0
	weight, level := make([]float64, len(ts)), make([]float64, len(ts))
	for i, x := range ts {
		if x.Arm != "a" {
			continue
		}
		for _, y := range x.Response {
			level[i] += y / float64(len(x.Response))
		}
		weight[i] = 1 / (between + within/float64(len(x.Response)))
		total, value = total+weight[i], value+weight[i]*level[i]
	}
	for i := range ts {
		w := weight[i] / total
		if x := ts[i]; x.Arm == "a" && math.Abs(rs[0].Weight[i]-w) > 0.01 {
			t.Errorf("trainee %d with %d attempts holds %v of what is known, want %v", i, len(x.Response), rs[0].Weight[i], w)
		}
		want := w * (level[i] - value/total) * math.Sqrt((1-1./8)/(1-w))
		if got := rs[0].Added[i]; math.Abs(got-want) > 0.02*math.Abs(want)+1e-4 {
			t.Errorf("trainee %d with %d attempts adds %v, want %v", i, len(ts[i].Response), got, want)
		}
	}
}

// The log of the level at attempt 3 under each of 64 draws of the cohort's parameters, for
// which what members add is also known directly: both ways agree, but for the draws' curve.
func TestReadingsThroughDraws(t *testing.T) {
	var ts []Trainee
	r := resample.Stream(6, "through", 0)
	for i := range 20 {
		p, g, k := 40*math.Exp(0.2*r.NormFloat64()), 100*math.Exp(0.2*r.NormFloat64()), 0.3*math.Exp(0.2*r.NormFloat64())
		x := Trainee{ID: fmt.Sprint(i), Arm: string(rune('a' + i%2))}
		for n := 1.0; n <= 15; n++ {
			x.Attempt, x.Response = append(x.Attempt, n), append(x.Response, (p+g*math.Exp(-k*(n-1)))*math.Exp(0.1*r.NormFloat64()))
		}
		ts = append(ts, x)
	}
	c, err := Run(context.Background(), ts, Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, ArmEffect: []string{"plateau", "gain", "rate"}, Uncorrelated: true})
	if err != nil {
		t.Fatal(err)
	}
	level := func(c models.Curve) float64 { return math.Log(c.At(3)) }
	x, err := c.Contributions(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	rs, err := x.Read("b", []func(models.Curve) float64{level})
	if err != nil {
		t.Fatal(err)
	}
	rec, err := c.m.record(Trainee{ID: "middle", Arm: "b"})
	if err != nil {
		t.Fatal(err)
	}
	var byCard []float64
	for _, theta := range c.deal(9, "cohort parameters", memberCards) {
		e := c.m.eta(&rec, theta)
		byCard = append(byCard, level(c.m.curve(&e)))
	}
	size := 0.0
	for _, v := range rs[0].Added {
		size = math.Max(size, math.Abs(v))
	}
	for i, got := range x.Through(byCard, 9) {
		if math.Abs(got-rs[0].Added[i]) > 0.1*size {
			t.Errorf("trainee %d adds %v through the draws, %v directly", i, got, rs[0].Added[i])
		}
	}
}

// levelOfArm reads the level of arm a off a cohort whose trainees do not learn.
func levelOfArm(t *testing.T, ts []Trainee) (*Cohort, []Reading) {
	t.Helper()
	c, err := Run(context.Background(), ts, Spec{Family: models.Constant(), Noise: models.Normal{}, ArmEffect: []string{"plateau"}})
	if err != nil {
		t.Fatal(err)
	}
	all, err := c.Contributions(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	rs, err := all.Read("a", []func(models.Curve) float64{func(c models.Curve) float64 { return c.At(1) }})
	if err != nil {
		t.Fatal(err)
	}
	return c, rs
}
