// Stopping sets what a policy does to a learner, worked out exactly, beside a million
// simulated trainees a policy and path of pass chances:
//
//	go run ./testdata/proficiency/stopping > testdata/proficiency/stopping/stopping.csv
//
// One row a figure; met-by-N is the chance of having stopped by attempt N. z is
// (simulated − exact) over the simulation's standard error; a figure without spread
// leaves it blank. The simulation keeps each policy as its words say, attempt by
// attempt, and knows nothing of states.
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

	"tyro/analysis/resample"
	"tyro/analysis/stopping"
)

const (
	trainees = 1_000_000
	block    = 10_000 // trainees drawn from one stream
	attempts = 60
	level    = 0.8
	held     = 10
)

// paths are pass chances over the attempts.
var paths = []struct {
	name string
	at   func(n float64) float64
}{
	{"rising slowly", func(n float64) float64 { return 0.95 - 0.85*math.Exp(-0.05*(n-1)) }},
	{"rising fast", func(n float64) float64 { return 0.98 - 0.6*math.Exp(-0.2*(n-1)) }},
	{"falling after breaks", func(n float64) float64 { return 0.9 - 0.4*math.Mod(n-1, 5)/4 }},
	{"never proficient", func(n float64) float64 { return 0.7 - 0.4/n }},
}

// A keeper follows one trainee and reports whether practice stops after an attempt.
type keeper func(passed bool) bool

// kept are policies with a keeper made from their words.
var kept = []struct {
	text   string
	keeper func() keeper
}{
	{"20 attempts", func() keeper {
		n := 0
		return func(bool) bool { n++; return n == 20 }
	}},
	{"3 in a row", func() keeper {
		run := 0
		return func(passed bool) bool {
			if run++; !passed {
				run = 0
			}
			return run == 3
		}
	}},
	{"8 of last 10", func() keeper { return window(10, func(passes, of int) bool { return passes >= 8 }) }},
	{"2 in a row and 10 in all", func() keeper {
		run, all, twice := 0, 0, false
		return func(passed bool) bool {
			if run++; passed {
				all++
			} else {
				run = 0
			}
			twice = twice || run == 2
			return twice && all >= 10
		}
	}},
	{"chart 0.2/0.4 h 2.5", func() keeper { return sum(0.2, 0.4, 2.5) }},
	{"chart 0.1/0.35 h 3", func() keeper { return sum(0.1, 0.35, 3) }},
	{"chance 0.8 with confidence 0.8", func() keeper { return window(attempts, shown80) }},
	{"chance 0.7 with confidence 0.9 over last 10", func() keeper { return window(10, shown70) }},
}

var shown80, shown70 = posterior(0.8, 0.8), posterior(0.7, 0.9)

// sum is a learning chart as a running sum of log likelihood ratios.
func sum(acceptable, unacceptable, h float64) keeper {
	up, down := math.Log((1-acceptable)/(1-unacceptable)), math.Log(unacceptable/acceptable)
	s := 0.0
	return func(passed bool) bool {
		if passed {
			s += up
		} else {
			s = math.Max(0, s-down)
		}
		return s >= h
	}
}

// window looks at the last attempts, or at all there are as long as there are fewer.
func window(last int, enough func(passes, of int) bool) keeper {
	var seen [attempts]bool
	n, passes := 0, 0
	return func(passed bool) bool {
		if n >= last && seen[n-last] {
			passes--
		}
		if seen[n] = passed; passed {
			passes++
		}
		n++
		return enough(passes, min(n, last))
	}
}

// posterior asks for a pass chance above the target with the stated confidence,
// from Jeffreys' prior.
func posterior(target, confidence float64) func(passes, of int) bool {
	var enough [attempts + 1][attempts + 1]bool
	for of := range enough {
		for passes := range of + 1 {
			enough[of][passes] = distuv.Beta{Alpha: float64(passes) + 0.5, Beta: float64(of-passes) + 0.5}.Survival(target) >= confidence
		}
	}
	return func(passes, of int) bool { return enough[of][passes] }
}

func main() {
	out := csv.NewWriter(os.Stdout)
	out.Write([]string{"policy", "path", "figure", "exact", "simulated", "se", "z"})
	var zs []float64
	for _, k := range kept {
		policy, err := stopping.ParsePolicy(k.text)
		check(err)
		for _, path := range paths {
			chance := make([]float64, attempts)
			for i := range chance {
				chance[i] = path.at(float64(i + 1))
			}
			exact, err := stopping.Stop(policy, chance, stopping.Bar{Level: level, Held: held})
			check(err)
			for _, f := range figures(exact, simulate(k.keeper, chance, k.text+"/"+path.name), chance) {
				z := ""
				if f.se > 0 {
					zs = append(zs, (f.simulated-f.exact)/f.se)
					z = fmt.Sprintf("%.3f", zs[len(zs)-1])
				} else if math.Abs(f.simulated-f.exact) > 1e-9 {
					log.Fatalf("%s, %s, %s: simulated %v without spread, exact %v", k.text, path.name, f.name, f.simulated, f.exact)
				}
				out.Write([]string{k.text, path.name, f.name, number(f.exact), number(f.simulated), fmt.Sprintf("%.3g", f.se), z})
			}
		}
	}
	out.Flush()
	check(out.Error())
	square := 0.0
	for _, z := range zs {
		square += z * z
	}
	fmt.Fprintf(os.Stderr, "%d comparisons: z from %.2f to %.2f, root mean square %.3f\n", len(zs), slices.Min(zs), slices.Max(zs), math.Sqrt(square/float64(len(zs))))
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// A figure of a policy, exact and from the simulated trainees.
type figure struct {
	name                 string
	exact, simulated, se float64
}

// figures are read off the counts of trainees by the attempt after which they
// stopped; the last count is of those who did not.
func figures(exact stopping.Stopping, counts []float64, chance []float64) []figure {
	m := slices.IndexFunc(chance, func(c float64) bool { return c >= level })
	share := func(name string, p float64, counted func(n int) bool) figure {
		s := 0.0
		for i, c := range counts {
			if counted(i + 1) {
				s += c / trainees
			}
		}
		return figure{name, p, s, math.Sqrt(p * (1 - p) / trainees)}
	}
	var out []figure
	for _, n := range []int{3, 10, 20, 40, 60} {
		out = append(out, share("met-by-"+strconv.Itoa(n), exact.MetBy[n-1], func(at int) bool { return at <= n }))
	}
	out = append(out, share("false-pass", exact.FalsePass, func(at int) bool { return at <= attempts && chance[at-1] < level }))
	if m >= 0 {
		out = append(out, share("held-back", exact.HeldBack, func(at int) bool { return at > min(m+held, attempts) }))
	}
	mean, square := 0.0, 0.0
	for i, c := range counts {
		n := float64(min(i+1, attempts))
		mean += c / trainees * n
		square += c / trainees * n * n
	}
	return append(out, figure{"mean-attempts", exact.Mean, mean, math.Sqrt(math.Max(square-mean*mean, 0) / trainees)})
}

// simulate counts trainees by the attempt after which practice stops.
func simulate(begin func() keeper, chance []float64, purpose string) []float64 {
	sampling := resample.Sampling{Seed: 1, Replicates: trainees / block}
	blocks, err := resample.Replicate(context.Background(), sampling, purpose, func() func(*rand.Rand) []float64 {
		return func(r *rand.Rand) []float64 {
			counts := make([]float64, len(chance)+1)
			for range block {
				stops, at := begin(), len(chance)
				for i, p := range chance {
					if stops(r.Float64() < p) {
						at = i
						break
					}
				}
				counts[at]++
			}
			return counts
		}
	})
	check(err)
	total := make([]float64, len(chance)+1)
	for _, b := range blocks {
		for n, c := range b {
			total[n] += c
		}
	}
	return total
}
