// Command runlengths checks the run lengths of analysis/monitor by simulation:
// for each setting a million charts, kept up by a loop of its own, run until they
// signal. The mean number of attempts is compared with the package's figure and
// with its Markov chain on a grid (blank for weighted means, which have none);
// likewise the share that signals within 50 attempts. Run from the top folder:
//
//	go run ./testdata/monitor/runlengths > testdata/monitor/runlengths.csv
//
// z is the difference from the stated figure in standard errors of the simulation.
package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"sync"

	"tyro/analysis/monitor"
	"tyro/analysis/resample"
)

const (
	charts = 1_000_000
	blocks = 200
	within = 50
)

// A setting is one chart at one truth, with what the package says of it.
type setting struct {
	chart, rates, limit, truth string
	increment                  func(*rand.Rand) float64
	scheme                     monitor.Scheme
	ewma                       *monitor.Smoother // in place of the scheme
	mean, chain, by            float64
}

func main() {
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"chart", "design", "limit", "truth", "charts", "simulated_mean", "standard_error", "exact_mean", "z_mean", "markov_chain_mean", "z_chain", "simulated_within_50", "exact_within_50", "z_within_50"})
	worst, compared := 0.0, 0
	for i, s := range settings() {
		mean, se, share := simulate(s, i)
		zMean, zChain := (mean-s.mean)/se, (mean-s.chain)/se
		zBy := (share - s.by) / math.Sqrt(s.by*(1-s.by)/charts)
		for _, z := range []float64{zMean, zChain, zBy} {
			if !math.IsNaN(z) {
				worst, compared = max(worst, math.Abs(z)), compared+1
			}
		}
		row := []string{s.chart, s.rates, s.limit, s.truth, strconv.Itoa(charts)}
		for _, v := range []float64{mean, se, s.mean, zMean, s.chain, zChain, share, s.by, zBy} {
			cell := strconv.FormatFloat(v, 'g', 8, 64)
			if math.IsNaN(v) {
				cell = ""
			}
			row = append(row, cell)
		}
		w.Write(row)
		w.Flush()
	}
	fmt.Fprintf(os.Stderr, "largest |z| %.2f over %d comparisons\n", worst, compared)
}

func settings() []setting {
	var out []setting
	bernoulli := func(name string, c monitor.CUSUM, r monitor.Rates, rate float64) {
		out = append(out, setting{
			chart: name, rates: fmt.Sprintf("%g/%g", r.Acceptable, r.Unacceptable), limit: fmt.Sprintf("%g", c.Scheme.H), truth: fmt.Sprintf("rate %g", rate),
			increment: func(g *rand.Rand) float64 {
				if g.Float64() < rate {
					return c.Weights.Failure
				}
				return c.Weights.Success
			},
			scheme: c.Scheme, mean: c.Mean(rate), chain: gridChain(c, rate), by: c.SignalBy(rate, within)[within-1],
		})
	}
	r := monitor.Rates{Acceptable: 0.1, Unacceptable: 0.2}
	bernoulli("relapse", monitor.Relapse(r, 2), r, 0.1)
	bernoulli("relapse", monitor.Relapse(r, 2), r, 0.2)
	r = monitor.Rates{Acceptable: 0.1, Unacceptable: 0.3}
	bernoulli("relapse", monitor.Relapse(r, 2.5), r, 0.15)
	bernoulli("learning", monitor.Learning(r, 2), r, 0.1)
	bernoulli("learning", monitor.Learning(r, 2), r, 0.3)
	r = monitor.Rates{Acceptable: 0.2, Unacceptable: 0.4}
	bernoulli("learning", monitor.Learning(r, 2.5), r, 0.25)
	for _, c := range []struct{ k, h, shift float64 }{{0.5, 4, 0}, {0.5, 4, 1}, {0.5, 5, 0.5}, {0.25, 6, 0.5}} {
		n := monitor.NormalCUSUM{K: c.k, H: c.h}
		out = append(out, setting{
			chart: "normal sum", rates: fmt.Sprintf("k %g", c.k), limit: fmt.Sprintf("%g", c.h), truth: fmt.Sprintf("shift %g", c.shift),
			increment: func(g *rand.Rand) float64 { return g.NormFloat64() + c.shift - c.k },
			scheme:    monitor.Scheme{H: c.h}, mean: n.Mean(c.shift), by: n.SignalBy(c.shift, within)[within-1],
			chain: monitor.Extrapolate(func(cells int) float64 { return monitor.NormalChain(c.k, c.h, c.shift, cells).Mean() }, [3]int{100, 150, 200}),
		})
	}
	for _, shift := range []float64{0, 0.75} {
		n := monitor.NormalEWMA{Lambda: 0.2, L: 2.5}
		s := n.Smoother(0, 1)
		out = append(out, setting{
			chart: "normal weighted mean", rates: "lambda 0.2", limit: "2.5", truth: fmt.Sprintf("shift %g", shift),
			increment: func(g *rand.Rand) float64 { return g.NormFloat64() + shift },
			ewma:      &s, mean: n.Mean(shift), chain: math.NaN(), by: n.SignalBy(shift, within)[within-1],
		})
	}
	for _, rate := range []float64{0.1, 0.25} {
		n := monitor.FailureEWMA{Acceptable: 0.1, Lambda: 0.1, L: 2.5}
		s := n.Smoother()
		out = append(out, setting{
			chart: "weighted failure rate", rates: "acceptable 0.1, lambda 0.1", limit: "2.5", truth: fmt.Sprintf("rate %g", rate),
			increment: func(g *rand.Rand) float64 {
				if g.Float64() < rate {
					return 1
				}
				return 0
			},
			ewma: &s, mean: n.Mean(rate), chain: math.NaN(), by: n.SignalBy(rate, within)[within-1],
		})
	}
	return out
}

// gridChain is the mean from the Markov chain for a pass/fail sum, averaged over
// many grids, since rounding to one grid makes it wander.
func gridChain(c monitor.CUSUM, rate float64) float64 {
	sum, n := 0.0, 0
	for cells := 1500; cells < 2000; cells += 7 {
		sum += monitor.BernoulliChain(c.Weights, c.Scheme.H, rate, cells).Mean()
		n++
	}
	return sum / float64(n)
}

// simulate follows the charts, in blocks with a stream each.
func simulate(s setting, index int) (mean, se, share float64) {
	sums, squares, early := make([]float64, blocks), make([]float64, blocks), make([]float64, blocks)
	var wg sync.WaitGroup
	next := make(chan int, blocks)
	for b := range blocks {
		next <- b
	}
	close(next)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for b := range next {
				g := resample.Stream(1, "run lengths "+strconv.Itoa(index), b)
				for range charts / blocks {
					n := float64(s.runLength(g))
					sums[b] += n
					squares[b] += n * n
					if n <= within {
						early[b]++
					}
				}
			}
		})
	}
	wg.Wait()
	var sum, square, soon float64
	for b := range blocks {
		sum, square, soon = sum+sums[b], square+squares[b], soon+early[b]
	}
	mean = sum / charts
	return mean, math.Sqrt((square/charts - mean*mean) / charts), soon / charts
}

// runLength is the number of attempts to one chart's first signal.
func (s setting) runLength(g *rand.Rand) int {
	if s.ewma != nil {
		z, limit := s.ewma.Target, s.ewma.Limit(1)
		for n := 1; ; n++ {
			z = s.ewma.Lambda*s.increment(g) + (1-s.ewma.Lambda)*z
			if z-s.ewma.Target >= limit || s.ewma.Sides == monitor.Both && s.ewma.Target-z >= limit {
				return n
			}
		}
	}
	v := 0.0
	for n := 1; ; n++ {
		v = math.Max(0, v+s.increment(g))
		if v >= s.scheme.H {
			return n
		}
	}
}
