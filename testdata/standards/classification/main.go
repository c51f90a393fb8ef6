// Classification compares Livingston and Lewis' estimates from one test with what
// happens to trainees who are simulated with true scores and two tests each:
//
//	go run ./testdata/standards/classification > testdata/standards/classification/classification.csv
//
// True scores are drawn from a beta distribution between two ends, tests are
// binomial. The truth is counted on 1,000,000 trainees. Then 300 cohorts of each
// size take one test, with the reliability known; bias and rmse are of their
// estimates, four_parameters is the share in which four parameters could be
// fitted. two parameters: the same with true scores over the whole range.
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
	"tyro/analysis/standard"
)

const (
	people  = 1_000_000
	block   = 40_000
	cohorts = 300
)

// A model draws trainees.
type model struct {
	name                      string
	alpha, beta, lower, upper float64
	items                     int
	cut                       float64
}

var models = []model{
	{"from 0 to 1, symmetric", 4, 4, 0, 1, 40, 0.6},
	{"from 0 to 1, skewed", 6, 2, 0, 1, 40, 0.7},
	{"from 0.25 to 0.95, flat", 1.5, 1.2, 0.25, 0.95, 40, 0.6},
	{"from 0.25 to 0.95, flat, 15 items", 1.5, 1.2, 0.25, 0.95, 15, 0.6},
	{"from 0.4 to 0.9, skewed", 2, 4, 0.4, 0.9, 60, 0.65},
}

func (m model) draw(r *rand.Rand) (trueScore float64, test func() float64) {
	trueScore = m.lower + (m.upper-m.lower)*distuv.Beta{Alpha: m.alpha, Beta: m.beta, Src: r}.Rand()
	return trueScore, func() float64 {
		return distuv.Binomial{N: float64(m.items), P: trueScore, Src: r}.Rand() / float64(m.items)
	}
}

// reliability is the variance of true scores over that of tests.
func (m model) reliability() float64 {
	w, s := m.upper-m.lower, m.alpha+m.beta
	mean, variance := m.lower+w*m.alpha/s, w*w*m.alpha*m.beta/(s*s*(s+1))
	return variance / (variance + (mean*(1-mean)-variance)/float64(m.items))
}

// truth counts accuracy, false passes, false fails and consistency.
func (m model) truth() [4]float64 {
	counts, err := resample.Replicate(context.Background(), resample.Sampling{Seed: 3, Replicates: people / block}, "truth "+m.name, func() func(*rand.Rand) [4]float64 {
		return func(r *rand.Rand) (n [4]float64) {
			for range block {
				t, test := m.draw(r)
				good, first, second := t >= m.cut, test() >= m.cut-1e-9, test() >= m.cut-1e-9
				for k, b := range [4]bool{good == first, first && !good, good && !first, first == second} {
					if b {
						n[k]++
					}
				}
			}
			return n
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	var out [4]float64
	for _, n := range counts {
		for k := range n {
			out[k] += n[k] / people
		}
	}
	return out
}

func main() {
	out := csv.NewWriter(os.Stdout)
	out.Write([]string{"true_scores", "items", "cut", "reliability", "trainees", "model", "quantity", "truth", "bias", "rmse", "four_parameters"})
	for _, m := range models {
		truth := m.truth()
		for _, n := range []int{50, 200, 1000, 5000} {
			type answer struct {
				values [2][4]float64 // by four parameters, and by two
				four   bool
			}
			answers, err := resample.Replicate(context.Background(), resample.Sampling{Seed: 4, Replicates: cohorts}, fmt.Sprint(m.name, n), func() func(*rand.Rand) answer {
				return func(r *rand.Rand) (a answer) {
					scores := make([]float64, n)
					for i := range scores {
						_, test := m.draw(r)
						scores[i] = test()
					}
					for k, two := range []bool{false, true} {
						c, err := standard.Classify(scores, standard.Test{Highest: 1, Reliability: m.reliability(), Standard: m.cut, TwoParameters: two})
						if err != nil {
							log.Fatal(err)
						}
						a.values[k] = [4]float64{c.Accuracy, c.FalsePass, c.FalseFail, c.Consistency}
						a.four = a.four || c.TrueScores.Parameters == 4
					}
					return a
				}
			})
			if err != nil {
				log.Fatal(err)
			}
			four := 0.0
			for _, a := range answers {
				if a.four {
					four += 1.0 / cohorts
				}
			}
			for k, name := range []string{"four parameters, else two", "two parameters"} {
				for q, quantity := range []string{"accuracy", "false passes", "false fails", "consistency"} {
					bias, mse := 0.0, 0.0
					for _, a := range answers {
						d := a.values[k][q] - truth[q]
						bias += d / cohorts
						mse += d * d / cohorts
					}
					out.Write([]string{m.name, fmt.Sprint(m.items), fmt.Sprint(m.cut), fmt.Sprintf("%.4f", m.reliability()), fmt.Sprint(n), name, quantity,
						fmt.Sprintf("%.4f", truth[q]), fmt.Sprintf("%.4f", bias), fmt.Sprintf("%.4f", math.Sqrt(mse)), fmt.Sprintf("%.3f", four)})
				}
			}
			out.Flush()
		}
	}
}
