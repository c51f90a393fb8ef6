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
	c, err := Run(context.Background(), ts, Spec{Family: models.Constant(), Noise: models.Normal{}, ArmEffect: []string{"plateau"}})
	if err != nil {
		t.Fatal(err)
	}
	rs, err := c.Readings(context.Background(), "a", []func(models.Curve) float64{func(c models.Curve) float64 { return c.At(3) }})
	if err != nil {
		t.Fatal(err)
	}
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
		rs, err := c.Readings(context.Background(), "a", plateau)
		if err != nil {
			t.Fatal(err)
		}
		return rs[0]
	}
	all := read(ts)
	sum := 0.0
	for _, v := range all.Added {
		sum += v
	}
	if math.Abs(sum) > 1e-4 {
		t.Errorf("the contributions sum to %v", sum)
	}
	for _, i := range []int{0, 6, 12, 18} {
		without := read(append(append([]Trainee(nil), ts[:i]...), ts[i+1:]...))
		taken := all.Value - without.Value
		if math.Abs(taken-all.Added[i]) > 0.15*math.Abs(taken)+0.001 {
			t.Errorf("trainee %d: leaving out takes %v, contribution %v", i, taken, all.Added[i])
		}
	}
}
