// Command course measures how often the 95 % intervals of one curve over a calendar hold the
// truth: what every attempt learns and regains, the rate of forgetting, what is kept after
// breaks, the half-life, the mean plateau and gain.
//
//	go run ./testdata/coverage/course > testdata/coverage/course/course.csv
//
// Three sessions of 12, 6 and 6 attempts with breaks of 2 and 30 days (one gap: of 30 and 30).
// Trainees have plateaus and gains of their own; in "own rates" what they learn, regain and
// forget is their own as well, and the truth is what the fit to 2,000 of them gives; beside it
// stands how often intervals hold the middle trainee's number, which is another. In "wide rates"
// rates differ so much that one trainee in six has more than twice the middle one's and one less than half.
package main

import (
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"strings"

	"tyro/analysis/resample"
	"tyro/analysis/retention"
)

var (
	studies    = flag.Int("studies", 2000, "studies a row")
	replicates = flag.Int("replicates", 299, "bootstrap samples a study")
	seed       = flag.Uint64("seed", 1, "seed")
	designs    = flag.String("designs", "exponential,power,own rates,wide rates,one gap,nothing lost", "designs to simulate")
)

// The truth, on the log scale of a time.
const (
	plateau, plateauSD = 3.8, 0.12
	gain, gainSD       = 1.2, 0.20
	noise              = 0.15
	learns, regains    = 0.35, 0.9
	exponentialRate    = 0.02
	powerRate          = 0.20
)

// ownSD are the spreads of the logarithms of trainees' own rates.
var ownSD = map[string]float64{"own rates": 0.25, "wide rates": 0.7}

func main() {
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"design", "trainees", "quantity", "truth", "studies", "covered_95_percent", "monte_carlo_se"})
	for _, design := range strings.Split(*designs, ",") {
		for _, n := range []int{12, 30} {
			cell(w, design, n)
			w.Flush()
		}
	}
}

func shapeOf(design string) string {
	if design == "power" {
		return retention.Power
	}
	return retention.Exponential
}

// An answer is one quantity of a fitted course.
type answer struct {
	name string
	retention.Ends
}

func answers(c retention.Course) []answer {
	out := []answer{{"learnt an attempt", c.Learnt}, {"regained an attempt", c.Regained}, {"forgetting rate", c.Rate}, {"half-life", c.HalfLife}, {"plateau", c.Plateau}, {"gain", c.Gain}}
	for _, k := range c.Kept {
		out = append(out, answer{fmt.Sprintf("kept after %g days", k.Days), k.Ends})
	}
	return out
}

func fit(ts []retention.Trainee, design string, replicates int, s uint64) ([]answer, error) {
	cs, err := retention.Courses(context.Background(), ts, retention.Options{Lower: true, Sampling: resample.Sampling{Seed: s, Replicates: replicates, Workers: 1}})
	if err != nil {
		return nil, err
	}
	for _, c := range cs {
		if c.Shape == shapeOf(design) {
			return answers(c), nil
		}
	}
	return nil, fmt.Errorf("no course of shape %s", shapeOf(design))
}

// truths are known, or those of very many trainees where every trainee has own rates.
func truths(design string) []answer {
	if ownSD[design] > 0 {
		out, err := fit(simulate(resample.Stream(99, "course/many", 0), design, 2000), design, 20, 1)
		if err != nil {
			log.Fatal(err)
		}
		return append(out, middle(design)...)
	}
	return middle(design)
}

// middle are the truths of the middle trainee.
func middle(design string) []answer {
	kept, rate, half := keeping(design, 1), exponentialRate, math.Ln2/exponentialRate
	regain := 1 - math.Exp(-regains)
	days := []float64{2, 30}
	switch design {
	case "power":
		rate, half = powerRate, math.Pow(2, 1/powerRate)-1
	case "one gap":
		rate, half, days = math.NaN(), math.NaN(), []float64{30}
	case "nothing lost":
		rate, half, regain = 0, math.Inf(1), math.NaN() // of nothing, nothing can be regained
	}
	of := func(v float64) retention.Ends { return retention.Ends{Estimate: v} }
	out := []answer{{"learnt an attempt", of(1 - math.Exp(-learns))}, {"regained an attempt", of(regain)}, {"forgetting rate", of(rate)}, {"half-life", of(half)}, {"plateau", of(plateau)}, {"gain", of(gain)}}
	for _, d := range days {
		out = append(out, answer{"", of(kept(d))})
	}
	return out
}

func cell(w *csv.Writer, design string, n int) {
	truth := truths(design)
	out := make([][]answer, *studies)
	err := resample.Each(context.Background(), *studies, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			var err error
			out[k], err = fit(simulate(resample.Stream(*seed, fmt.Sprint("course/", design, n), k), design, n), design, *replicates, *seed+uint64(k))
			if errors.Is(err, retention.ErrRetention) {
				return nil
			}
			return err
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	var names []string
	for _, row := range out {
		for j := len(names); j < len(row); j++ {
			names = append(names, row[j].name)
		}
	}
	for t, what := range truth {
		if math.IsNaN(what.Estimate) {
			continue
		}
		j, name := t%len(names), names[t%len(names)]
		if t >= len(names) {
			name += ", the middle trainee's"
		}
		known, covered := 0.0, 0.0
		for _, row := range out {
			if row == nil || math.IsNaN(row[j].Lower) {
				continue
			}
			known++
			if row[j].Lower <= what.Estimate && what.Estimate <= row[j].Upper {
				covered++
			}
		}
		w.Write([]string{design, fmt.Sprint(n), name, fmt.Sprintf("%.4g", what.Estimate), fmt.Sprint(known), fmt.Sprintf("%.3f", covered/known), fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/known))})
	}
}

// keeping is the share kept after some days, with a trainee's own factor of the rate.
func keeping(design string, own float64) func(days float64) float64 {
	return func(days float64) float64 {
		switch design {
		case "power":
			return math.Pow(1+days, -powerRate*own)
		case "nothing lost":
			return 1
		}
		return math.Exp(-exponentialRate * own * days)
	}
}

func simulate(r *rand.Rand, design string, n int) []retention.Trainee {
	days := []float64{math.NaN(), 2, 30}
	if design == "one gap" {
		days[1] = 30
	}
	var out []retention.Trainee
	for i := range n {
		own := [3]float64{1, 1, 1}
		if sd := ownSD[design]; sd > 0 {
			for j := range own {
				own[j] = math.Exp(sd * r.NormFloat64())
			}
		}
		level, above := plateau+plateauSD*r.NormFloat64(), gain+gainSD*r.NormFloat64()
		kept, left, lost := keeping(design, own[2]), 1.0, 0.0
		t := retention.Trainee{ID: fmt.Sprint(i)}
		for s, attempts := range []int{12, 6, 6} {
			x := retention.Session{Gap: days[s]}
			if s > 0 {
				lost += (1 - left - lost) * (1 - kept(days[s]))
			}
			for range attempts {
				x.Attempts = append(x.Attempts, retention.Attempt{Value: level + above*(left+lost) + noise*r.NormFloat64()})
				left, lost = left*math.Exp(-learns*own[0]), lost*math.Exp(-regains*own[1])
			}
			t.Sessions = append(t.Sessions, x)
		}
		out = append(out, t)
	}
	return out
}
