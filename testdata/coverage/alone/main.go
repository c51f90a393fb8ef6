// Command alone measures how often single tests of tyro compare reject at 5 % without a
// difference, in far more studies than whole comparisons allow: of errors, of means within sites,
// and of hazards with the check whether they are proportional; of hazards also with a difference,
// and how often the interval of their ratio holds what the ratio comes to in 100,000 trainees
// followed as far. The trainees are those of testdata/coverage/compare, without their curves.
//
//	go run ./testdata/coverage/alone > testdata/coverage/alone/alone.csv
//
// -tests hazards, or errors, gives these rows alone.
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
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

const attempts = 20

var tests = flag.String("tests", "errors,hazards", "which rows")

func main() {
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"design", "trainees_an_arm", "difference", "test", "studies", "rejected_at_5_percent", "covered_95_percent", "monte_carlo_se"})
	row := func(design string, n int, differ bool, test string, studies int, of func(k int) (p, covered float64)) {
		rejected, tests, covered, intervals := 0.0, 0.0, 0.0, 0.0
		for k := range studies {
			p, held := of(k)
			if !math.IsNaN(p) {
				if tests++; p <= 0.05 {
					rejected++
				}
			}
			if !math.IsNaN(held) {
				intervals, covered = intervals+1, covered+held
			}
		}
		share := ""
		if intervals > 0 {
			share = fmt.Sprintf("%.4f", covered/intervals)
		}
		w.Write([]string{design, fmt.Sprint(n), fmt.Sprint(differ), test, fmt.Sprint(tests), fmt.Sprintf("%.4f", rejected/tests), share, fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/tests))})
		w.Flush()
	}
	alone := func(p func(k int) float64) func(k int) (float64, float64) {
		return func(k int) (float64, float64) { return p(k), math.NaN() }
	}
	if strings.Contains(*tests, "errors") {
		row("no clusters", 30, false, "ratio of errors", 60_000, alone(func(k int) float64 { return errors(k, 30, false) }))
		row("within sites", 12, false, "ratio of errors", 40_000, alone(func(k int) float64 { return errors(k, 12, true) }))
		row("within sites", 30, false, "means", 20_000, alone(func(k int) float64 { return means(k, 30) }))
	}
	if !strings.Contains(*tests, "hazards") {
		return
	}
	for _, d := range []struct {
		design   string
		standard float64
	}{{"full", 60}, {"strict", 47}} {
		for _, differ := range []bool{false, true} {
			truth := 1.0
			if differ {
				truth = ratio(untilMet(resample.Stream(98, "hazard", 0), 100_000, d.standard, true)).Estimate
			}
			for _, n := range []int{12, 30, 100} {
				draw := func(k int) [2][]survival.Observation {
					return untilMet(resample.Stream(31, "hazard", k), n, d.standard, differ)
				}
				row(d.design, n, differ, "ratio of hazards", 4000, func(k int) (float64, float64) {
					c := ratio(draw(k))
					if c.Lower <= truth && truth <= c.Upper {
						return c.P, 1
					}
					return c.P, 0
				})
				if !differ && n < 100 {
					row(d.design, n, differ, "whether hazards are proportional", 4000, alone(func(k int) float64 {
						obs := draw(k)
						_, check := compare.Hazards("h", "a", "b", obs[0], obs[1], 0)
						return check.P
					}))
				}
			}
		}
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

// moved is by how much the second arm's plateau, gain and rate differ, as logarithms.
var moved = [3]float64{-0.1, -0.15, 0.35}

func ratio(obs [2][]survival.Observation) compare.Contrast {
	return compare.HazardRatio("h", "a", "b", obs[0], obs[1], 0)
}

// untilMet are both arms' attempts until the rule is met, two passes in a row.
func untilMet(r *rand.Rand, n int, standard float64, differ bool) (obs [2][]survival.Observation) {
	rule, std := practice.Rule{{Need: 2}}, practice.Standard{Value: standard, Lower: true}
	for g := range obs {
		var by [3]float64
		if differ && g == 1 {
			by = moved
		}
		for range n {
			plateau := math.Exp(math.Log(45) + by[0] + 0.15*r.NormFloat64())
			gain := math.Exp(math.Log(130) + by[1] + 0.25*r.NormFloat64())
			pace := math.Exp(math.Log(0.2) + by[2] + 0.25*r.NormFloat64())
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
	return obs
}

func poisson(r *rand.Rand, mean float64) float64 {
	limit, product, k := math.Exp(-mean), r.Float64(), 0.0
	for product > limit {
		product *= r.Float64()
		k++
	}
	return k
}
