// Command crossover measures how often the tests of a crossover read off a log of attempts
// reject at 5 % without a difference, and how often its 95 % intervals hold the truth. Every
// trainee practises by two curricula, ten attempts each, along one learning curve:
//
//	go run ./testdata/coverage/crossover > testdata/coverage/crossover/crossover.csv
//
// Designs: alike (the curricula are alike), different (one lowers every time by a tenth),
// lasting (one lowers every time, in the second period as well when it came first: a
// carry-over, which an effect within trainees does not survive).
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
	"tyro/analysis/study"
)

var (
	studies = flag.Int("studies", 2000, "studies a row")
	seed    = flag.Uint64("seed", 1, "seed")
)

const (
	each     = 10  // attempts a period
	standard = 60  // seconds
	lowered  = 0.9 // times by the better curriculum
)

func main() {
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"design", "trainees_an_order", "basis", "measure", "studies", "rejected_at_5_percent", "covered_95_percent", "monte_carlo_se"})
	for _, design := range []string{"alike", "different", "lasting"} {
		for _, n := range []int{6, 15} {
			cell(w, design, n)
		}
	}
	w.Flush()
}

func cell(w *csv.Writer, design string, n int) {
	out := make([][]compare.Contrast, *studies)
	err := resample.Each(context.Background(), *studies, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			p, curriculum := simulate(resample.Stream(*seed, fmt.Sprint("crossover", design, n), k), design, n)
			s, err := study.New(p, study.Options{Seed: 1, Workers: 1})
			if err != nil {
				return err
			}
			a, err := s.CompareCrossover(study.CrossoverOptions{Curriculum: curriculum, Reference: "usual"})
			if err == nil {
				out[k] = a.Contrasts
			}
			return err
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	for j := range out[0] {
		first := out[0][j]
		truth := math.NaN()
		switch {
		case strings.HasPrefix(first.Measure, "period") || strings.HasPrefix(first.Measure, "rule-met") && design != "alike":
		case design == "alike":
			truth = first.None()
		case strings.HasPrefix(first.Measure, "carry-over of rule-met"):
		case strings.HasPrefix(first.Measure, "carry-over"):
			if truth = 1; design == "lasting" {
				truth = math.Sqrt(lowered) // of the mean of both periods, half as much as of the second
			}
		default:
			if truth = lowered; design == "lasting" && first.Basis == study.BasisWithin {
				truth = math.Sqrt(lowered)
			}
		}
		if strings.HasSuffix(first.Measure, "slips-to-attempt-10") {
			truth = math.NaN()
			if !strings.HasPrefix(first.Measure, "period") {
				truth = 0
			}
		}
		known, rejected, covered := 0.0, 0.0, 0.0
		for _, row := range out {
			if c := row[j]; c.Known() {
				known++
				rejected += one(c.P <= 0.05)
				covered += one(c.Lower <= truth && truth <= c.Upper)
			}
		}
		cover := ""
		if !math.IsNaN(truth) {
			cover = fmt.Sprintf("%.3f", covered/known)
		}
		w.Write([]string{design, fmt.Sprint(n), first.Basis, first.Measure, fmt.Sprint(known), fmt.Sprintf("%.3f", rejected/known), cover, fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/known))})
	}
}

func one(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

func simulate(r *rand.Rand, design string, n int) (practice.Practice, map[string]map[float64]string) {
	p := practice.Practice{Task: practice.Task{Name: "cannulation", Measure: practice.Time, Lower: true, Counts: []string{"slips"},
		Standard: &practice.Decision{Value: standard}, Rule: practice.Rule{{Need: 2}}}, Arms: []string{""}}
	curriculum := map[string]map[float64]string{}
	for i := range 2 * n {
		t := practice.Trainee{ID: fmt.Sprint(i)}
		curriculum[t.ID] = map[float64]string{}
		plateau, gain, rate := 45*math.Exp(0.15*r.NormFloat64()), 130*math.Exp(0.25*r.NormFloat64()), 0.2*math.Exp(0.25*r.NormFloat64())
		clumsy := math.Exp(0.3 * r.NormFloat64())
		for k := 1; k <= 2*each; k++ {
			better := (i < n) == (k > each)
			name := "usual"
			if better {
				name = "other"
			}
			curriculum[t.ID][float64(k)] = name
			y := (plateau + gain*math.Exp(-rate*float64(k-1))) * math.Exp(0.15*r.NormFloat64())
			if design == "different" && better || design == "lasting" && (better || i >= n) {
				y *= lowered
			}
			wrong := 0.0
			for left := r.ExpFloat64(); left < clumsy*(0.4+2*math.Exp(-0.2*float64(k))); left += r.ExpFloat64() {
				wrong++
			}
			t.Attempts = append(t.Attempts, practice.Attempt{Number: float64(k), Response: y, Clean: true, Errors: []float64{wrong}})
		}
		p.Trainees = append(p.Trainees, t)
	}
	return p, curriculum
}
