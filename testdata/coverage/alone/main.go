// Command alone measures how often single tests of tyro compare reject at 5 % without a
// difference, in far more studies than whole comparisons allow: of errors, of means within sites,
// and of hazards with the check whether they are proportional. The trainees are those of
// testdata/coverage/compare, without their curves.
//
//	go run ./testdata/coverage/alone > testdata/coverage/alone/alone.csv
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

const attempts = 20

func main() {
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"design", "trainees_an_arm", "test", "studies", "rejected_at_5_percent", "monte_carlo_se"})
	row := func(design string, n int, test string, studies int, p func(k int) float64) {
		rejected, tests := 0.0, 0.0
		for k := range studies {
			if v := p(k); !math.IsNaN(v) {
				if tests++; v <= 0.05 {
					rejected++
				}
			}
		}
		w.Write([]string{design, fmt.Sprint(n), test, fmt.Sprint(tests), fmt.Sprintf("%.4f", rejected/tests), fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/tests))})
		w.Flush()
	}
	row("no clusters", 30, "ratio of errors", 60_000, func(k int) float64 { return errors(k, 30, false) })
	row("within sites", 12, "ratio of errors", 40_000, func(k int) float64 { return errors(k, 12, true) })
	row("within sites", 30, "means", 20_000, func(k int) float64 { return means(k, 30) })
	for _, d := range []struct {
		design   string
		n        int
		standard float64
	}{{"full", 12, 60}, {"full", 30, 60}, {"strict", 12, 47}} {
		row(d.design, d.n, "ratio of hazards", 4000, func(k int) float64 { c, _ := hazards(k, d.n, d.standard); return c.P })
		row(d.design, d.n, "whether hazards are proportional", 4000, func(k int) float64 { _, h := hazards(k, d.n, d.standard); return h.P })
	}
}

// counts are the errors of both arms' trainees; in sites of 6, 3 of each arm.
func counts(r *rand.Rand, n int, sites bool) (arms [2]compare.Counts) {
	for g := range arms {
		arms[g].Name = []string{"usual", "spaced"}[g]
		for i := range n {
			own, e := math.Exp(0.3*r.NormFloat64()), 0.0
			for k := 1; k <= attempts; k++ {
				e += poisson(r, own*rate(k))
			}
			arms[g].Events, arms[g].Attempts = append(arms[g].Events, e), append(arms[g].Attempts, attempts)
			if sites {
				arms[g].Cluster = append(arms[g].Cluster, fmt.Sprint(i/3))
			}
		}
	}
	return arms
}

func rate(k int) float64 { return 0.4 + 2*math.Exp(-0.2*float64(k)) }

func errors(k, n int, sites bool) float64 {
	arms := counts(resample.Stream(11, "errors again", k), n, sites)
	return must(compare.RateRatio(context.Background(), "e", arms[0], arms[1], 0, sampling(k))).P
}

// means are of numbers that share a level in each site.
func means(k, n int) float64 {
	r := resample.Stream(11, "errors again", k)
	var arms [2]compare.Arm
	level := map[string]float64{}
	for g, c := range counts(r, n, true) {
		arms[g] = compare.Arm{Name: c.Name, Cluster: c.Cluster}
		for _, site := range c.Cluster {
			if _, ok := level[site]; !ok {
				level[site] = 0.5 * r.NormFloat64()
			}
			arms[g].Values = append(arms[g].Values, level[site]+r.NormFloat64())
		}
	}
	return must(compare.Shift(context.Background(), "e", arms[0], arms[1], 0, sampling(k))).P
}

func must(c compare.Contrast, err error) compare.Contrast {
	if err != nil {
		log.Fatal(err)
	}
	return c
}

func sampling(k int) resample.Sampling {
	return resample.Sampling{Seed: uint64(k + 1), Replicates: 199, Workers: 1}
}

// hazards are those of meeting the rule, two passes in a row.
func hazards(k, n int, standard float64) (compare.Contrast, compare.HazardCheck) {
	r := resample.Stream(31, "hazard", k)
	rule, std := practice.Rule{{Need: 2}}, practice.Standard{Value: standard, Lower: true}
	var obs [2][]survival.Observation
	for g := range obs {
		for range n {
			plateau := math.Exp(math.Log(45) + 0.15*r.NormFloat64())
			gain := math.Exp(math.Log(130) + 0.25*r.NormFloat64())
			pace := math.Exp(math.Log(0.2) + 0.25*r.NormFloat64())
			own := math.Exp(0.3 * r.NormFloat64())
			var t practice.Trainee
			for k := 1; k <= attempts; k++ {
				y := (plateau + gain*math.Exp(-pace*float64(k-1))) * math.Exp(0.15*r.NormFloat64())
				t.Attempts = append(t.Attempts, practice.Attempt{Number: float64(k), Response: y, Clean: true})
				poisson(r, own*rate(k)) // the errors are drawn too
			}
			o := survival.Observation{Time: attempts}
			if met := rule.FirstMet(t.Passes(std)); met > 0 {
				o = survival.Observation{Time: float64(met), Event: true}
			}
			obs[g] = append(obs[g], o)
		}
	}
	return compare.Hazards("h", "a", "b", obs[0], obs[1], 0)
}

func poisson(r *rand.Rand, mean float64) float64 {
	limit, product, k := math.Exp(-mean), r.Float64(), 0.0
	for product > limit {
		product *= r.Float64()
		k++
	}
	return k
}
