package cohort

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// What is known of a trainee after one more attempt is an integral over the normal population
// of trainees, for each draw of the cohort's parameters, averaged over these. Here the integral
// is taken on a grid, with densities written out anew: lognormal attempts as independent
// normal logarithms, and such as carry over as one multivariate normal vector. The draws of
// the parameters are the fit's own. Forty trainees with the same attempts differ in the
// random numbers alone, whose error is then about .004.
func TestOneMoreAttemptByIntegration(t *testing.T) {
	plain := exponential()
	plain.Random, plain.Uncorrelated = []string{"plateau", "rate"}, true
	rich := exponential()
	rich.Random, rich.Uncorrelated, rich.Sessions, rich.Carry = []string{"plateau", Spread}, true, true, CarryPart
	for _, k := range []struct {
		name   string
		spec   Spec
		breaks bool
		truth  func(theta []float64, v [2]float64) person
	}{
		// theta: logs of plateau, gain, rate and spread; logs of the two spreads between trainees.
		{"independent", plain, false, func(theta []float64, v [2]float64) person {
			return person{
				plateau: math.Exp(theta[0] + math.Exp(theta[4])*v[0]), gain: math.Exp(theta[1]), rate: math.Exp(theta[2] + math.Exp(theta[5])*v[1]), spread: math.Exp(theta[3]),
			}
		}},
		// theta: logs of plateau, gain and rate, shift at a restart, log of its fading, log of
		// the spread, two of what carries over; logs of the two spreads between trainees.
		{"carryover, own spread, restart", rich, true, func(theta []float64, v [2]float64) person {
			return person{
				plateau: math.Exp(theta[0] + math.Exp(theta[8])*v[0]), gain: math.Exp(theta[1]), rate: math.Exp(theta[2]), shift: theta[3], fading: math.Exp(theta[4]),
				spread: math.Exp(theta[5] + math.Exp(theta[9])*v[1]), rho: rich.carryNatural(slotCarry, theta[6]), share: rich.carryNatural(slotShare, theta[7]),
			}
		}},
	} {
		t.Run(k.name, func(t *testing.T) {
			f := followed{spec: k.spec, breaks: k.breaks}
			c, _ := saveAndLoad(t, f.cohort(t))
			const n, seed = 13, 5
			one := f.series(1, n+1)[0]
			next := Attempt{Number: one.Attempt[n-1], Response: one.Response[n-1]}
			after := Attempt{Number: one.Attempt[n]}
			if k.breaks {
				next.Restart, after.Restart = one.Restart[n-1], one.Restart[n]
			}
			at := []float64{35, 45, 52, 60, 80}
			got := make([]float64, len(at))
			const repeats = 40
			for r := range repeats {
				so := one.first(n - 1)
				so.ID = fmt.Sprint("again ", r)
				follow, err := c.Follow(context.Background(), so, seed)
				if err != nil {
					t.Fatal(err)
				}
				p, err := follow.Add(context.Background(), next)
				if err != nil {
					t.Fatal(err)
				}
				for i, y := range at {
					got[i] += p.CDF(after.Number, after.Restart, y) / repeats
				}
			}
			want := make([]float64, len(at))
			cards := c.deal(seed, "cohort parameters", newcomerCards)[:memberCards]
			for _, theta := range cards {
				for i, v := range onGrid(one.first(n), after, at, func(v [2]float64) person { return k.truth(theta, v) }) {
					want[i] += v / float64(len(cards))
				}
			}
			for i, y := range at {
				if d := math.Abs(got[i] - want[i]); !(d < 0.012) {
					t.Errorf("the chance of at most %v is %.4f, by integration %.4f", y, got[i], want[i])
				}
			}
			t.Logf("%.4f, by integration %.4f", got, want)
		})
	}
}

// A person is one possible truth about a trainee: an exponential curve, and the rest as in
// the model.
type person struct{ plateau, gain, rate, shift, fading, spread, rho, share float64 }

func (p person) mean(n, restart float64) float64 {
	m := math.Log(p.plateau + p.gain*math.Exp(-p.rate*(n-1)))
	if restart > 0 {
		m += p.shift * math.Exp(-p.fading*(restart-1))
	}
	return m
}

// onGrid are the chances of responses of at most so much at an attempt to come, given a series:
// over two independent standard normal deviations, from −5 to 5.
func onGrid(t Trainee, after Attempt, at []float64, truth func([2]float64) person) []float64 {
	n := len(t.Attempt)
	restart := func(j int) float64 {
		if t.Restart == nil {
			return 0
		}
		return t.Restart[j]
	}
	// Correlations of all residuals, that to come at the end: what carries over is cut off at
	// every first attempt after a break.
	session := make([]int, n+1)
	number := append(append([]float64(nil), t.Attempt...), after.Number)
	for j := range session {
		if j > 0 {
			session[j] = session[j-1]
			if j < n && restart(j) == 1 || j == n && after.Restart == 1 {
				session[j]++
			}
		}
	}
	some := truth([2]float64{})
	all := mat.NewSymDense(n+1, nil)
	for i := range n + 1 {
		for j := range i + 1 {
			switch {
			case i == j:
				all.SetSym(i, j, 1)
			case session[i] == session[j]:
				all.SetSym(i, j, some.share*math.Pow(some.rho, number[i]-number[j]))
			}
		}
	}
	var past mat.Cholesky
	past.Factorize(all.SliceSym(0, n).(*mat.SymDense))
	cross := mat.NewVecDense(n, nil)
	for j := range n {
		cross.SetVec(j, all.At(n, j))
	}
	var weights mat.VecDense
	past.SolveVecTo(&weights, cross)
	left := math.Sqrt(1 - mat.Dot(cross, &weights))

	const points, reach = 61, 5.0
	total, out := 0.0, make([]float64, len(at))
	e, solved := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	type cell struct {
		log float64
		cdf []float64
	}
	var cells []cell
	best := math.Inf(-1)
	for a := range points {
		for b := range points {
			v := [2]float64{reach * (2*float64(a)/(points-1) - 1), reach * (2*float64(b)/(points-1) - 1)}
			p := truth(v)
			for j, y := range t.Response {
				e.SetVec(j, (math.Log(y)-p.mean(t.Attempt[j], restart(j)))/p.spread)
			}
			past.SolveVecTo(solved, e)
			one := cell{log: -(v[0]*v[0]+v[1]*v[1])/2 - float64(n)*math.Log(p.spread) - mat.Dot(e, solved)/2}
			ahead := p.mean(after.Number, after.Restart) + p.spread*mat.Dot(&weights, e)
			for _, y := range at {
				one.cdf = append(one.cdf, distuv.UnitNormal.CDF((math.Log(y)-ahead)/(p.spread*left)))
			}
			cells, best = append(cells, one), math.Max(best, one.log)
		}
	}
	for _, c := range cells {
		w := math.Exp(c.log - best)
		total += w
		for i := range out {
			out[i] += w * c.cdf[i]
		}
	}
	for i := range out {
		out[i] /= total
	}
	return out
}
