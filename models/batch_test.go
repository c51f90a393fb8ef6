package models

import (
	"math"
	"testing"
)

// Losses of many attempts at once are those of each by itself, to a few rounding errors, with
// thousands of attempts and with responses and curve values far from each other.
func TestBatches(t *testing.T) {
	many := func(values ...float64) (out []float64) {
		for len(out) < 3000 {
			out = append(out, values...)
		}
		return out
	}
	tried := 0
	for _, n := range append(Noises(), Bernoulli{Guess: 0.2, Lapse: 0.05}) {
		b, ok := n.(Batcher)
		if !ok {
			continue
		}
		tried++
		ys, ms := many(0, 3, 1, 17, 171, 250, 40), many(-30, 0.3, 1.5, 3, -1)
		if IsPassFail(n) {
			ys = many(0, 1, 1, 0, 0)
		}
		if n.Additive() {
			ys = many(0, -4, 1e60, 17, 1e70, 3.5)
		}
		ms = ms[:len(ys)]
		for _, scale := range []float64{0.1, 2, 1e-9} {
			if !n.Additive() || scale > 1e-6 {
				checkBatch(t, n, b, ys, ms, scale)
			}
		}
	}
	if tried < 5 {
		t.Errorf("only %d noises work on many attempts at once", tried)
	}
}

func checkBatch(t *testing.T, n Noise, b Batcher, ys, ms []float64, scale float64) {
	t.Helper()
	near := func(what string, got, want, size float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-12*math.Max(size, math.Abs(want))) {
			t.Errorf("%s at scale %v: %s %v, one by one %v", n.Name(), scale, what, got, want)
		}
	}
	want, size := 0.0, 0.0
	to := make([]Slopes, len(ys))
	got := b.Losses(to, ys, ms, scale, 3)
	for j, y := range ys {
		l := n.Loss(y, ms[j], scale, false)
		want, size = want+l.Value, size+math.Abs(l.Value)
		big := 1.0 // of what cancels within one attempt
		if IsCount(n) {
			big += y * y / scale
		}
		for _, c := range []struct {
			what      string
			got, want float64
		}{{"M", to[j].M, l.M}, {"MM", to[j].MM, l.MM}, {"S", to[j].S, l.S}, {"SS", to[j].SS, l.SS}, {"MS", to[j].MS, l.MS}} {
			near(c.what, c.got, c.want, big)
		}
		if on, ok := n.(LocationScale); ok {
			e := (y - ms[j]) / scale
			_, d1, d2, d3 := on.Standard(e, false)
			near("MMM", to[j].MMM, -d3/(scale*scale*scale), big)
			near("MMS", to[j].MMS, -(d3*e+2*d2)/(scale*scale), big)
			near("MSS", to[j].MSS, -(d3*e*e+3*d2*e+d1)/scale, big)
			near("SSS", to[j].SSS, -(d3*e*e*e + 3*d2*e*e + d1*e), big)
		}
		if third, ok := n.(Thirder); ok {
			mmm, mms, mss, sss := third.Third(y, ms[j], scale)
			near("MMM", to[j].MMM, mmm, big)
			near("MMS", to[j].MMS, mms, big)
			near("MSS", to[j].MSS, mss, big)
			near("SSS", to[j].SSS, sss, big)
		}
	}
	near("sum", got, want, size)
	near("sum alone", b.Losses(nil, ys, ms, scale, 0), want, size)
	second := make([]Slopes, len(ys))
	near("sum with second derivatives", b.Losses(second, ys, ms, scale, 2), want, size)
	for j := range second {
		if second[j].MM != to[j].MM || second[j].SS != to[j].SS {
			t.Errorf("%s: second derivatives change with the order", n.Name())
			break
		}
	}
}
