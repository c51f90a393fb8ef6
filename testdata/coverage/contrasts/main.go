// Command contrasts measures, for arms of one number a trainee, how often tests reject
// without a difference at 5 %, and how often 95 % intervals hold the truth without and with
// one: every method of tyro compare for such numbers, analysis of covariance, three arms
// at once, clusters of 6, crossover and transfer.
//
//	go run ./testdata/coverage/contrasts > testdata/coverage/contrasts/contrasts.csv
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"slices"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

var (
	studies    = flag.Int("studies", 2000, "studies a row")
	replicates = flag.Int("replicates", 499, "permutations and bootstrap samples a study")
	seed       = flag.Uint64("seed", 1, "seed")
)

// A result is one method in one study.
type result struct {
	method  string
	p       float64 // NaN for none
	covered float64 // 1, 0, or NaN for none
}

func main() {
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"values", "difference", "trainees_an_arm", "method", "studies", "rejected_at_5_percent", "covered_95_percent", "monte_carlo_se"})
	for _, kind := range []string{"normal", "skewed", "two spreads", "whole numbers"} {
		for _, delta := range []float64{0, 0.8} {
			for _, n := range []int{12, 30} {
				row(w, kind, delta, n, func(r *rand.Rand, k uint64) []result { return two(r, k, kind, delta, n) })
			}
		}
	}
	for _, delta := range []float64{0, 0.8} {
		for _, n := range []int{12, 30} {
			row(w, "baseline", delta, n, func(r *rand.Rand, _ uint64) []result { return ancova(r, delta, n) })
			row(w, "clusters of 6", delta, n, func(r *rand.Rand, k uint64) []result { return clusters(r, k, delta, n) })
			row(w, "crossover", delta, n, func(r *rand.Rand, _ uint64) []result { return crossover(r, delta, n) })
		}
	}
	for _, n := range []int{12, 30} {
		row(w, "three arms", 0, n, func(r *rand.Rand, k uint64) []result { return three(r, k, n) })
		row(w, "transfer", 0, n, func(r *rand.Rand, k uint64) []result { return transfer(r, k, n) })
	}
}

func row(w *csv.Writer, kind string, delta float64, n int, one func(r *rand.Rand, k uint64) []result) {
	out := make([][]result, *studies)
	err := resample.Each(context.Background(), *studies, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			out[k] = one(resample.Stream(*seed, fmt.Sprint("contrasts/", kind, delta, n), k), *seed+uint64(k))
			return nil
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	var methods []string
	for _, rs := range out {
		for _, r := range rs {
			if !slices.Contains(methods, r.method) {
				methods = append(methods, r.method)
			}
		}
	}
	for _, m := range methods {
		tests, rejected, intervals, covered := 0.0, 0.0, 0.0, 0.0
		for _, rs := range out {
			for _, r := range rs {
				if r.method != m {
					continue
				}
				if !math.IsNaN(r.p) {
					tests++
					if r.p <= 0.05 {
						rejected++
					}
				}
				if !math.IsNaN(r.covered) {
					intervals++
					covered += r.covered
				}
			}
		}
		share := func(a, b float64) string {
			if b == 0 {
				return ""
			}
			return fmt.Sprintf("%.4f", a/b)
		}
		w.Write([]string{kind, fmt.Sprint(delta), fmt.Sprint(n), m, fmt.Sprint(math.Max(tests, intervals)), share(rejected, tests), share(covered, intervals), fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/math.Max(tests, intervals)))})
	}
	w.Flush()
}

func of(method string, c compare.Contrast, truth float64) result {
	r := result{method, c.P, math.NaN()}
	if c.Known() && !math.IsNaN(truth) {
		r.covered = 0
		if c.Lower <= truth && truth <= c.Upper {
			r.covered = 1
		}
	}
	return r
}

func draw(r *rand.Rand, kind string, second bool) float64 {
	switch {
	case kind == "skewed":
		return r.ExpFloat64()
	case kind == "two spreads" && second:
		return 2 * r.NormFloat64()
	case kind == "whole numbers":
		return math.Round(2 * r.NormFloat64())
	}
	return r.NormFloat64()
}

func must(c compare.Contrast, err error) compare.Contrast {
	if err != nil {
		log.Fatal(err)
	}
	return c
}

func two(r *rand.Rand, k uint64, kind string, delta float64, n int) []result {
	ref, arm := compare.Arm{Name: "a"}, compare.Arm{Name: "b"}
	for range n {
		ref.Values = append(ref.Values, draw(r, kind, false))
		arm.Values = append(arm.Values, draw(r, kind, true)+delta)
	}
	ctx, s := context.Background(), resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1}
	unknown := math.NaN()
	d, delta2 := unknown, unknown // of effects in standard deviations, and of ranks, only where both spreads are one
	if kind == "normal" {
		d = delta
		delta2 = 2*cdf(delta/math.Sqrt2) - 1
	} else if delta == 0 && kind != "two spreads" {
		d, delta2 = 0, 0
	}
	shift := delta
	return []result{
		of("welch", compare.Welch("", ref, arm, 0), delta), of("pooled-t", compare.Pooled("", ref, arm, 0), delta),
		of("cohen-d", compare.CohenD(ref, arm, 0), d), of("hedges-g", compare.HedgesG(ref, arm, 0), d), of("cliff-delta", compare.CliffDelta(ref, arm, 0), delta2),
		of("hodges-lehmann", compare.HodgesLehmann(ref, arm, 0), shift), of("rank-sum", compare.RankSum(ref, arm, 0), unknown),
		of("permutation", must(compare.Permutation(ctx, ref, arm, 0, s)), delta), of("studentised permutation", must(compare.Shift(ctx, "", ref, arm, 0, s)), delta),
	}
}

func cdf(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

func ancova(r *rand.Rand, delta float64, n int) []result {
	arms, before := make([]compare.Arm, 2), compare.Baseline{Name: "before", Values: make([][]float64, 2)}
	for g := range arms {
		arms[g].Name = string(rune('a' + g))
		for range n {
			b := r.NormFloat64()
			before.Values[g] = append(before.Values[g], b)
			arms[g].Values = append(arms[g].Values, 0.6*b+0.8*r.NormFloat64()+delta*float64(g))
		}
	}
	a, err := compare.Adjust("", arms, []compare.Baseline{before}, 0)
	if err != nil {
		log.Fatal(err)
	}
	return []result{of("ancova", a.Pairs[0], delta), {"ancova, slopes differ", a.Parallel.P, math.NaN()}, {"ancova, any arm", a.Group.P, math.NaN()}}
}

func clusters(r *rand.Rand, k uint64, delta float64, n int) []result {
	ctx, s := context.Background(), resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1}
	var whole, across [2]compare.Arm
	for g := range 2 {
		level := 0.0
		for i := range n {
			if i%6 == 0 {
				level = 0.5 * r.NormFloat64()
			}
			whole[g].Values = append(whole[g].Values, level+r.NormFloat64()+delta*float64(g))
			whole[g].Cluster = append(whole[g].Cluster, fmt.Sprint(g, "/", i/6))
		}
	}
	sites := map[int]float64{}
	for g := range 2 {
		for i := range n {
			site := i / 3
			if _, ok := sites[site]; !ok {
				sites[site] = 0.5 * r.NormFloat64()
			}
			across[g].Values = append(across[g].Values, sites[site]+r.NormFloat64()+delta*float64(g))
			across[g].Cluster = append(across[g].Cluster, fmt.Sprint(site))
		}
	}
	ignored := [2]compare.Arm{{Values: whole[0].Values}, {Values: whole[1].Values}}
	return []result{
		of("t of cluster means", must(compare.Shift(ctx, "", whole[0], whole[1], 0, s)), delta),
		of("permutation within clusters", must(compare.Shift(ctx, "", across[0], across[1], 0, s)), delta),
		of("clusters ignored", must(compare.Shift(ctx, "", ignored[0], ignored[1], 0, s)), delta),
	}
}

func crossover(r *rand.Rand, delta float64, n int) []result {
	var first, second [][2]float64
	for range n / 2 {
		person := r.NormFloat64()
		first = append(first, [2]float64{person + r.NormFloat64(), person + 0.4 + delta + r.NormFloat64()})
		person = r.NormFloat64()
		second = append(second, [2]float64{person + delta + r.NormFloat64(), person + 0.4 + r.NormFloat64()})
	}
	c := compare.Crossover("", "a", "b", first, second, 0)
	period := of("crossover, period", c.Period, 0.4)
	period.p = math.NaN() // there is a period effect
	return []result{of("crossover", c.Effect, delta), period, of("crossover, carry-over", c.Carryover, 0)}
}

func three(r *rand.Rand, k uint64, n int) []result {
	values, arm := make([][]float64, 3), []int(nil)
	for g := range 3 {
		for range n {
			arm = append(arm, g)
			for m := range values {
				values[m] = append(values[m], r.NormFloat64()*(1+0.5*float64(g)))
			}
		}
	}
	o, err := compare.AnyDifference(context.Background(), []string{"x", "y", "z"}, values, arm, nil, resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1})
	if err != nil {
		log.Fatal(err)
	}
	return []result{{"any difference of three arms, three measures, spreads 1 to 2", o.P, math.NaN()}}
}

// transfer: 20 attempts without, 16 after 5, 13.5 after 10; skewed, censored nowhere.
func transfer(r *rand.Rand, k uint64, n int) []result {
	var arms []compare.Practised
	for _, a := range []struct {
		name        string
		prior, cost float64
	}{{"none", 0, 20}, {"short", 5, 16}, {"long", 10, 13.5}} {
		p := compare.Practised{Name: a.name}
		for range n {
			p.Prior = append(p.Prior, a.prior)
			p.Spent = append(p.Spent, survival.Observation{Time: math.Max(1, math.Round(a.cost*math.Exp(0.3*r.NormFloat64()-0.045))), Event: true})
		}
		arms = append(arms, p)
	}
	t, err := compare.TransferOf(context.Background(), arms, 0, resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1})
	if err != nil {
		log.Fatal(err)
	}
	in := func(name string, e compare.Ends, truth float64) result {
		c := 0.0
		if e.Lower <= truth && truth <= e.Upper {
			c = 1
		}
		return result{name, math.NaN(), c}
	}
	long := t.Steps[1]
	return []result{in("percent transfer", long.Percent, 32.5), in("transfer effectiveness", long.Effectiveness, 0.65), in("incremental effectiveness", long.Incremental, 0.5)}
}
