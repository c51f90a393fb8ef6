// Recursion sets the exact chances of meeting a rule beside a million simulated
// trainees a rule and path of pass chances:
//
//	go run ./testdata/proficiency/recursion > testdata/proficiency/recursion/recursion.csv
//
// One row an attempt looked at. z is (simulated − exact) over the simulation's
// standard error; standard error 0 (exact is 0 or 1) leaves it blank. The
// simulation knows a rule's wording only, nothing of the recursion's states.
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"strconv"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
)

const (
	trainees = 1_000_000
	block    = 10_000 // trainees drawn from one stream
	attempts = 40
)

// paths are pass chances over the attempts.
var paths = []struct {
	name string
	at   func(n float64) float64
}{
	{"constant", func(float64) float64 { return 0.5 }},
	{"rising", func(n float64) float64 { return 0.9 - 0.8*math.Exp(-0.08*(n-1)) }},
	{"falling after breaks", func(n float64) float64 { return 0.7 - 0.4*math.Mod(n-1, 5)/4 }},
}

var rules = []string{
	"2 in a row", "4 in a row", "10 in all", "3 of last 5", "8 of last 10",
	"2 in a row and 12 in all", "3 of last 4 and 6 of last 12", "3 in a row and 4 of last 8 and 10 in all",
}

func main() {
	out := csv.NewWriter(os.Stdout)
	out.Write([]string{"rule", "path", "attempt", "exact", "simulated", "se", "z"})
	for _, text := range rules {
		rule, err := practice.ParseRule(text)
		check(err)
		for _, path := range paths {
			chance := make([]float64, attempts)
			for i := range chance {
				chance[i] = path.at(float64(i + 1))
			}
			exact, err := stopping.Rule{Rule: rule}.MetBy(chance)
			check(err)
			seen := simulate(rule, chance, text+"/"+path.name)
			for _, n := range []int{2, 5, 10, 15, 20, 30, 40} {
				p := exact[n-1]
				se := math.Sqrt(p * (1 - p) / trainees)
				z := ""
				if se > 0 {
					z = fmt.Sprintf("%.3f", (seen[n-1]-p)/se)
				}
				out.Write([]string{text, path.name, strconv.Itoa(n), number(p), number(seen[n-1]), fmt.Sprintf("%.3g", se), z})
			}
		}
	}
	out.Flush()
	check(out.Error())
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}

// simulate is the share of trainees who have met the rule by each attempt.
func simulate(rule practice.Rule, chance []float64, purpose string) []float64 {
	sampling := resample.Sampling{Seed: 1, Replicates: trainees / block}
	blocks, err := resample.Replicate(context.Background(), sampling, purpose, func() func(*rand.Rand) []float64 {
		passes := make([]bool, len(chance))
		return func(r *rand.Rand) []float64 {
			counts := make([]float64, len(chance))
			for range block {
				for i, p := range chance {
					passes[i] = r.Float64() < p
				}
				if n := firstMet(rule, passes); n > 0 {
					counts[n-1]++
				}
			}
			return counts
		}
	})
	check(err)
	total := make([]float64, len(chance))
	sum := 0.0
	for n := range total {
		for _, b := range blocks {
			sum += b[n]
		}
		total[n] = sum / trainees
	}
	return total
}

// firstMet is the attempt by which every clause has been met; 0 for none.
func firstMet(rule practice.Rule, passes []bool) int {
	last := 0
	for _, c := range rule {
		n := clauseMet(c, passes)
		if n == 0 {
			return 0
		}
		last = max(last, n)
	}
	return last
}

func clauseMet(c practice.Clause, passes []bool) int {
	window := c.Need // in a row
	if c.InAll {
		window = len(passes)
	} else if c.Of > 0 {
		window = c.Of
	}
	inside := 0
	for i, p := range passes {
		if p {
			inside++
		}
		if i >= window && passes[i-window] {
			inside--
		}
		if inside >= c.Need {
			return i + 1
		}
	}
	return 0
}
