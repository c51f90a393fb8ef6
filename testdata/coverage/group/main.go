// Command group measures how often the 95 % intervals for the attempts by which half
// of a group is proficient cover the truth, under three definitions:
//
//	go run ./testdata/coverage/group > testdata/coverage/group/group.csv
//
// Each cell simulates 1,000 groups of 30 trainees by 30 attempts. A trainee's curve is
// exponential, with a plateau, a starting level and a rate of the trainee's own;
// single attempts scatter with log-SD 0.2 about it. In the cells with a share of 0.2
// one trainee in five has a plateau that the standard of 57 does not allow for. Every
// trainee is fitted alone. The truth is the smallest number of attempts by which half
// of 200,000 trainees of that kind are there by their true curves.
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

const (
	groups     = 1000
	trainees   = 30
	attempts   = 30
	logSD      = 0.2
	standard   = 57
	replicates = 999
	horizon    = 200
	population = 200_000
	seed       = 20260303
)

var definitions = []string{proficiency.MeanCrossing, proficiency.PassChance, proficiency.RuleMet}

// A kind of group: median plateau and rate, and the share that never gets there.
type kind struct{ plateau, rate, never float64 }

func (k kind) draw(r *rand.Rand) models.Curve {
	plateau := k.plateau * math.Exp(0.1*r.NormFloat64())
	if r.Float64() < k.never {
		plateau = 70 * math.Exp(0.05*r.NormFloat64())
	}
	start := 170 * math.Exp(0.2*r.NormFloat64())
	return models.Exponential(1).Curve([]float64{plateau, start - plateau, k.rate * math.Exp(0.28*r.NormFloat64())})
}

func main() {
	rule, err := practice.ParseRule("2 in a row")
	check(err)
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"plateau", "rate", "never_share", "definition", "true_attempts", "true_not_reached", "groups", "covered", "below", "above", "open_above", "mean_estimate_reached"})
	for _, k := range []kind{{42, 0.2, 0}, {42, 0.2, 0.2}, {44, 0.13, 0}, {44, 0.13, 0.2}} {
		check(w.WriteAll(k.run(rule)))
	}
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// attemptsOf lists whole attempts by definition for a curve and spread.
func attemptsOf(c models.Curve, scale float64, rec *stopping.Recursion) []float64 {
	whole := func(n float64) float64 {
		if n = math.Ceil(n - 1e-9); n > horizon {
			return math.Inf(1)
		}
		return n
	}
	needed := standard * math.Exp(-distuv.UnitNormal.Quantile(0.8)*scale)
	chance := make([]float64, horizon)
	for i := range chance {
		chance[i] = distuv.UnitNormal.CDF(math.Log(standard/c.At(float64(i+1))) / scale)
	}
	by, err := rec.MetBy(chance)
	check(err)
	met := math.Inf(1)
	if i := slices.IndexFunc(by, func(v float64) bool { return v >= 0.5 }); i >= 0 {
		met = float64(i + 1)
	}
	return []float64{whole(c.Crossing(standard, 1, true)), whole(c.Crossing(needed, 1, true)), met}
}

// truth is the attempt by which half of the population are there, and the share that
// never are.
func (k kind) truth(rec *stopping.Recursion) (half, never []float64) {
	values := make([][]float64, len(definitions))
	r := resample.Stream(seed, fmt.Sprint("population ", k), 0)
	for range population {
		for d, v := range attemptsOf(k.draw(r), logSD, rec) {
			values[d] = append(values[d], v)
		}
	}
	for _, v := range values {
		slices.Sort(v)
		half = append(half, v[(len(v)-1)/2])
		lost := 0.0
		for _, n := range v {
			if math.IsInf(n, 1) {
				lost += 1 / float64(population)
			}
		}
		never = append(never, lost)
	}
	return half, never
}

func (k kind) run(rule practice.Rule) [][]string {
	rec, err := stopping.NewRecursion(rule)
	check(err)
	half, never := k.truth(rec)
	spec := fit.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Positive: true}
	answers := make([][]proficiency.Answer, groups) // by group and definition
	check(resample.Each(context.Background(), groups, resample.Sampling{}, func() func(int) error {
		return func(g int) error {
			r := resample.Stream(seed, fmt.Sprint("group ", k), g)
			members := make([][]proficiency.Answer, len(definitions))
			for range trainees {
				truth := k.draw(r)
				var s fit.Series
				for n := 1.0; n <= attempts; n++ {
					s.Attempt, s.Response = append(s.Attempt, n), append(s.Response, truth.At(n)*math.Exp(logSD*r.NormFloat64()))
				}
				f, err := fit.One(s, spec)
				if err != nil {
					return err
				}
				for d, v := range attemptsOf(f.Curve, f.Scale, rec) {
					members[d] = append(members[d], proficiency.Answer{Definition: definitions[d], Estimate: v})
				}
			}
			for _, m := range members {
				a, err := proficiency.OfGroup(context.Background(), m, proficiency.Question{}, resample.Sampling{Seed: seed, Replicates: replicates, Workers: 1}, strconv.Itoa(g))
				if err != nil {
					return err
				}
				answers[g] = append(answers[g], a)
			}
			return nil
		}
	}))
	var rows [][]string
	for d, name := range definitions {
		var covered, below, above, open, reached int
		mean := 0.0
		for _, a := range answers {
			switch truth := half[d]; {
			case truth < a[d].Lower:
				below++
			case truth > a[d].Upper:
				above++
			default:
				covered++
			}
			if math.IsInf(a[d].Upper, 1) {
				open++
			}
			if !math.IsInf(a[d].Estimate, 1) {
				mean += a[d].Estimate
				reached++
			}
		}
		share := func(n int) string { return strconv.FormatFloat(float64(n)/groups, 'f', 3, 64) }
		number := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
		rows = append(rows, []string{number(k.plateau), number(k.rate), number(k.never), name, number(half[d]), strconv.FormatFloat(never[d], 'f', 3, 64), strconv.Itoa(groups), share(covered), share(below), share(above), share(open), number(mean / float64(reached))})
	}
	return rows
}
