// Command contrasts measures, for arms of one number a trainee, how often tests reject
// without a difference at 5 %, and how often 95 % intervals hold the truth without and with
// one: every method of tyro compare for such numbers, analysis of covariance, three arms
// at once, clusters of 6, crossover and transfer.
//
//	go run ./testdata/coverage/contrasts > testdata/coverage/contrasts/contrasts.csv
//
// With -kinds only those rows are made; every kind has its own random numbers.
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
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

var (
	studies    = flag.Int("studies", 2000, "studies a row")
	replicates = flag.Int("replicates", 499, "permutations and bootstrap samples a study")
	seed       = flag.Uint64("seed", 1, "seed")
	kinds      = flag.String("kinds", "", "kinds of values to simulate, with commas between; all")
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
			row(w, "uneven sites", delta, n, func(r *rand.Rand, k uint64) []result { return uneven(r, k, delta, n) })
			row(w, "crossover", delta, n, func(r *rand.Rand, _ uint64) []result { return crossover(r, delta, n) })
		}
	}
	for _, n := range []int{12, 30} {
		row(w, "three arms", 0, n, func(r *rand.Rand, k uint64) []result { return three(r, k, n) })
		row(w, "transfer", 0, n, func(r *rand.Rand, k uint64) []result { return transfer(r, k, n) })
	}
	for _, delta := range []float64{0, 0.8} {
		for _, n := range []int{12, 30} {
			row(w, "errors", delta, n, func(r *rand.Rand, k uint64) []result { return counted(r, k, delta, n, 18) })
			row(w, "rare errors", delta, n, func(r *rand.Rand, k uint64) []result { return counted(r, k, delta, n, 1.5) })
			row(w, "shares", delta, n, func(r *rand.Rand, k uint64) []result { return shares(r, k, delta, n) })
			row(w, "half followed", delta, n, func(r *rand.Rand, k uint64) []result { return followed(r, k, delta, n) })
		}
	}
}

func row(w *csv.Writer, kind string, delta float64, n int, one func(r *rand.Rand, k uint64) []result) {
	if *kinds != "" && !slices.Contains(strings.Split(*kinds, ","), kind) {
		return
	}
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

// uneven are sites of 6 in which the arms have 5, 4, 2 or 1 of the trainees, the more of the
// second arm the higher the site's own level; the second arm spreads twice as wide. Errors
// have the same sites and, as logarithms, half the difference.
func uneven(r *rand.Rand, k uint64, delta float64, n int) []result {
	ctx, s := context.Background(), resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1}
	var means [2]compare.Arm
	var counts [2]compare.Counts
	for site := range n / 3 {
		second := []int{1, 2, 4, 5}[site%4]
		level := float64(second-3)/2 + 0.5*r.NormFloat64()
		for i := range 6 {
			g := 0
			if i < second {
				g = 1
			}
			means[g].Values = append(means[g].Values, level+r.NormFloat64()*float64(1+g)+delta*float64(g))
			means[g].Cluster = append(means[g].Cluster, fmt.Sprint(site))
			e, attempts := 0.0, float64(10+r.IntN(11))
			for left := 0.5*attempts*math.Exp(0.3*(level+r.NormFloat64())+delta/2*float64(g)) - r.ExpFloat64(); left > 0; left -= r.ExpFloat64() {
				e++
			}
			counts[g].Events, counts[g].Attempts = append(counts[g].Events, e), append(counts[g].Attempts, attempts)
			counts[g].Cluster = append(counts[g].Cluster, fmt.Sprint(site))
		}
	}
	return []result{
		of("mean, within uneven sites", must(compare.Shift(ctx, "", means[0], means[1], 0, s)), delta),
		of("mean, uneven sites ignored", must(compare.Shift(ctx, "", compare.Arm{Values: means[0].Values}, compare.Arm{Values: means[1].Values}, 0, s)), delta),
		of("rate ratio, within uneven sites", must(compare.RateRatio(ctx, "", counts[0], counts[1], 0, s)), delta/2),
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

// spread makes clusters of n trainees in each arm: of 6 in one arm each, or of 3 in each
// arm, with a level each.
func spread(r *rand.Rand, n int, whole bool, sd float64) (names [2][]string, levels [2][]float64) {
	level := map[string]float64{}
	for g := range 2 {
		for i := range n {
			name := fmt.Sprint(i / 3)
			if whole {
				name = fmt.Sprint(g, "/", i/6)
			}
			if _, ok := level[name]; !ok {
				level[name] = sd * r.NormFloat64()
			}
			names[g], levels[g] = append(names[g], name), append(levels[g], level[name])
		}
	}
	return names, levels
}

// counted are errors of trainees who differ, in 10 to 20 attempts; a difference is of
// logarithms, half as large.
func counted(r *rand.Rand, k uint64, delta float64, n int, mean float64) []result {
	ctx, s := context.Background(), resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1}
	one := func(method string, names [2][]string, levels [2][]float64) result {
		arms := [2]compare.Counts{{Name: "a", Cluster: names[0]}, {Name: "b", Cluster: names[1]}}
		for g := range arms {
			for i := range n {
				attempts := float64(10 + r.IntN(11))
				e, left := 0.0, mean/20*attempts*math.Exp(0.3*r.NormFloat64()+delta/2*float64(g))
				if levels[g] != nil {
					left *= math.Exp(levels[g][i])
				}
				for left -= r.ExpFloat64(); left > 0; left -= r.ExpFloat64() {
					e++
				}
				arms[g].Events, arms[g].Attempts = append(arms[g].Events, e), append(arms[g].Attempts, attempts)
			}
		}
		return of(method, must(compare.RateRatio(ctx, "", arms[0], arms[1], 0, s)), delta/2)
	}
	names, levels := spread(r, n, true, 0.3)
	sites, own := spread(r, n, false, 0.3)
	return []result{
		one("rate ratio", [2][]string{}, [2][]float64{}), one("rate ratio, clusters of 6 whole", names, levels), one("rate ratio, within sites", sites, own),
	}
}

// shares are 0 and 1 with a chance of about .6; a difference is of chances, a quarter as large.
func shares(r *rand.Rand, k uint64, delta float64, n int) []result {
	ctx, s := context.Background(), resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1}
	one := func(method string, names [2][]string, levels [2][]float64) result {
		arms := [2]compare.Arm{{Name: "a", Cluster: names[0], Share: true}, {Name: "b", Cluster: names[1], Share: true}}
		for g := range arms {
			for i := range n {
				chance, v := 0.6+delta/4*float64(g), 0.0
				if levels[g] != nil {
					chance += math.Max(-0.15, math.Min(0.15, levels[g][i]))
				}
				if r.Float64() < chance {
					v = 1
				}
				arms[g].Values = append(arms[g].Values, v)
			}
		}
		return of(method, must(compare.Shift(ctx, "", arms[0], arms[1], 0, s)), delta/4)
	}
	names, levels := spread(r, n, true, 0.1)
	sites, own := spread(r, n, false, 0.1)
	return []result{one("share", [2][]string{}, [2][]float64{}), one("share, clusters of 6 whole", names, levels), one("share, within sites", sites, own)}
}

// followed are contributions to a mean of trainees of whom half of the second arm are hardly
// known.
func followed(r *rand.Rand, k uint64, delta float64, n int) []result {
	var arms [2]compare.Arm
	worth := [2]float64{}
	for g := range arms {
		var weight, value []float64
		total, mean := 0.0, 0.0
		for i := range n {
			w := 1.0
			if g == 1 && i%2 == 0 {
				w = 0.05
			}
			weight, value = append(weight, w), append(value, delta*float64(g)+r.NormFloat64()/math.Sqrt(w))
			total += w
		}
		for i, w := range weight {
			mean += w / total * value[i]
		}
		for i, w := range weight {
			w /= total
			arms[g].Values = append(arms[g].Values, mean+float64(n)*w*(value[i]-mean)*math.Sqrt((1-1/float64(n))/(1-w)))
		}
		centre := 0.0
		for _, v := range arms[g].Values {
			centre += (v - mean) / float64(n)
		}
		for i := range arms[g].Values {
			arms[g].Values[i] -= centre
		}
		worth[g] = compare.Worth(weight)
	}
	s := resample.Sampling{Seed: k, Replicates: *replicates, Workers: 1}
	return []result{
		of("t of contributions", compare.Leaning("", arms[0], arms[1], worth[0], worth[1], 0), delta),
		of("the same dealt out anew", must(compare.Shift(context.Background(), "", arms[0], arms[1], 0, s)), delta),
	}
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
