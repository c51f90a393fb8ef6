// Coverage counts how often the intervals of a standard hold the value that the
// method would give with everybody in the world to ask:
//
//	go run ./testdata/standards/coverage > testdata/standards/coverage/coverage.csv
//
// lower_missed is the share of intervals that lie wholly above the truth,
// upper_missed the share wholly below; unknown the share without an interval.
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"

	"tyro/analysis/resample"
	"tyro/analysis/standard"
)

const (
	studies    = 2000
	replicates = 400 // of each study's bootstrap
)

// A scenario draws a study and returns the interval of its standard.
type scenario struct {
	method, data string
	n            int
	truth        float64
	study        func(r *rand.Rand, seed uint64) (lower, upper float64, err error)
}

func main() {
	out := csv.NewWriter(os.Stdout)
	out.Write([]string{"method", "data", "n", "truth", "studies", "coverage", "se", "lower_missed", "upper_missed", "unknown"})
	for _, s := range scenarios() {
		type outcome struct{ held, above, below, unknown bool }
		seen, err := resample.Replicate(context.Background(), resample.Sampling{Seed: 5, Replicates: studies}, s.method+s.data+fmt.Sprint(s.n), func() func(*rand.Rand) outcome {
			return func(r *rand.Rand) outcome {
				lower, upper, err := s.study(r, r.Uint64())
				if err != nil || math.IsNaN(lower) && math.IsNaN(upper) {
					return outcome{unknown: true}
				}
				return outcome{held: !(lower > s.truth) && !(upper < s.truth), above: lower > s.truth, below: upper < s.truth}
			}
		})
		if err != nil {
			log.Fatal(err)
		}
		var held, above, below, unknown float64
		for _, o := range seen {
			for p, b := range map[*float64]bool{&held: o.held, &above: o.above, &below: o.below, &unknown: o.unknown} {
				if b {
					*p++
				}
			}
		}
		known := studies - unknown
		share := held / known
		out.Write([]string{s.method, s.data, fmt.Sprint(s.n), fmt.Sprintf("%.5g", s.truth), fmt.Sprint(studies),
			fmt.Sprintf("%.4f", share), fmt.Sprintf("%.4f", math.Sqrt(share*(1-share)/known)), fmt.Sprintf("%.4f", above/known), fmt.Sprintf("%.4f", below/known), fmt.Sprintf("%.4f", unknown/studies)})
		out.Flush()
	}
}

var ctx = context.Background()

func sampling(seed uint64) resample.Sampling {
	return resample.Sampling{Seed: seed, Replicates: replicates, Workers: 1}
}

func draws(r *rand.Rand, n int, one func(r *rand.Rand) float64) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = one(r)
	}
	return x
}

func scenarios() []scenario {
	normal := func(r *rand.Rand) float64 { return 60 + 10*r.NormFloat64() }
	skewed := func(r *rand.Rand) float64 { return 60 * math.Exp(0.25*r.NormFloat64()) }
	skewedMean, skewedSD := 60*math.Exp(0.25*0.25/2), 60*math.Exp(0.25*0.25/2)*math.Sqrt(math.Exp(0.25*0.25)-1)
	var out []scenario
	for _, n := range []int{5, 10, 17, 30} {
		for _, sds := range []float64{0, 1, 2} {
			rule := standard.ExpertRule{Lower: true, SDs: sds}
			mean := func(one func(*rand.Rand) float64) func(*rand.Rand, uint64) (float64, float64, error) {
				return func(r *rand.Rand, _ uint64) (float64, float64, error) {
					e, err := standard.ExpertMean(draws(r, n, one), rule)
					return e.Lower, e.Upper, err
				}
			}
			method := fmt.Sprintf("expert mean + %g SD", sds)
			out = append(out, scenario{method, "normal times", n, 60 + 10*sds, mean(normal)})
			out = append(out, scenario{method, "log-normal times, log-SD 0.25", n, skewedMean + sds*skewedSD, mean(skewed)})
			out = append(out, scenario{method + ", log scale", "log-normal times, log-SD 0.25", n, 60 * math.Exp(0.25*sds), func(r *rand.Rand, _ uint64) (float64, float64, error) {
				e, err := standard.ExpertMean(draws(r, n, skewed), standard.ExpertRule{Lower: true, SDs: sds, Log: true})
				return e.Lower, e.Upper, err
			}})
		}
		percentile := func(share float64) func(*rand.Rand, uint64) (float64, float64, error) {
			return func(r *rand.Rand, _ uint64) (float64, float64, error) {
				e, err := standard.ExpertPercentile(draws(r, n, skewed), share, standard.ExpertRule{})
				return e.Lower, e.Upper, err
			}
		}
		out = append(out, scenario{"expert median", "log-normal times, log-SD 0.25", n, 60, percentile(0.5)})
		out = append(out, scenario{"expert percentile 75", "log-normal times, log-SD 0.25", n, 60 * math.Exp(0.25*0.6744897501960817), percentile(0.75)})
		out = append(out, scenario{"expert median + 1 MAD", "normal times", n, 60 + 10*1.4826*0.6744897501960817, func(r *rand.Rand, seed uint64) (float64, float64, error) {
			e, err := standard.ExpertMedian(ctx, draws(r, n, normal), standard.ExpertRule{Lower: true, SDs: 1}, sampling(seed))
			return e.Lower, e.Upper, err
		}})
	}
	for _, n := range []int{30, 60} {
		out = append(out, contrasting(n, standard.Normal), contrasting(n, standard.Logistic))
		out = append(out, borderline(n, "equal spread", func(float64) float64 { return 7 }), borderline(n, "spread grows with rating", func(rating float64) float64 { return 3 * rating }))
	}
	for _, n := range []int{5, 8, 12} {
		out = append(out, scenario{"angoff, judges random", "12 items", n, 7.2, func(r *rand.Rand, _ uint64) (float64, float64, error) {
			j := make([][]float64, n)
			for a := range j {
				severity := 0.04 * r.NormFloat64()
				for i := range 12 {
					j[a] = append(j[a], 0.6+0.1*math.Sin(float64(i))-meanSine+severity+0.07*r.NormFloat64())
				}
			}
			a, err := standard.ModifiedAngoff(j, 0.95)
			return a.Lower, a.Upper, err
		}})
	}
	return out
}

// meanSine keeps the mean of the items' chances at 0.6.
var meanSine = func() float64 {
	s := 0.0
	for i := range 12 {
		s += 0.1 * math.Sin(float64(i)) / 12
	}
	return s
}()

// contrasting draws n trainees, half not yet competent around 57 (SD 11), half
// competent around 75 (SD 7). The truth is the cut of a very large study.
func contrasting(n int, crossing standard.Crossing) scenario {
	draw := func(r *rand.Rand, n int) (values []float64, competent []bool) {
		for i := range n {
			if i%2 == 0 {
				values, competent = append(values, 57+11*r.NormFloat64()), append(competent, false)
			} else {
				values, competent = append(values, 75+7*r.NormFloat64()), append(competent, true)
			}
		}
		return values, competent
	}
	values, competent := draw(resample.Stream(9, "truth", 0), 400_000)
	c, err := standard.ContrastingGroups(ctx, values, competent, standard.GroupRule{Crossing: crossing}, resample.Sampling{Seed: 1, Replicates: 1, Workers: 1})
	if err != nil {
		log.Fatal(err)
	}
	return scenario{"contrasting groups, " + string(crossing), "normal groups, SD 11 and 7", n, c.Value, func(r *rand.Rand, seed uint64) (float64, float64, error) {
		v, y := draw(r, n)
		c, err := standard.ContrastingGroups(ctx, v, y, standard.GroupRule{Crossing: crossing}, sampling(seed))
		return c.Lower, c.Upper, err
	}}
}

// borderline draws n trainees rated 1 to 5 with values 30 + 12·rating.
func borderline(n int, name string, spread func(rating float64) float64) scenario {
	return scenario{"borderline regression, t", name, n, 54, func(r *rand.Rand, seed uint64) (float64, float64, error) {
		var x, y []float64
		for range n {
			rating := 1 + float64(r.IntN(5))
			x, y = append(x, rating), append(y, 30+12*rating+spread(rating)*r.NormFloat64())
		}
		l, err := standard.BorderlineRegression(ctx, y, x, standard.BorderlineRule{At: 2}, resample.Sampling{Seed: seed, Replicates: 20, Workers: 1})
		return l.Lower, l.Upper, err
	}}
}
