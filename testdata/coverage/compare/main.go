// Command compare measures how often the 95 % intervals between two arms cover the
// truth and how often the permutation test rejects a true hypothesis at 5 %, and
// writes compare.csv beside itself. Each row simulates 2,000 pairs of arms of equal
// size: one number a trainee, normal, skewed (exponential) or with two spreads (the
// second arm's twice the first's), compared by their means and by their medians.
//
//	go run ./testdata/coverage/compare
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
)

const (
	sims       = 2000
	replicates = 799
	seed       = 20260305
)

func main() {
	out, err := os.Create(filepath.Join("testdata", "coverage", "compare", "compare.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write([]string{"values", "trainees_an_arm", "measure", "pairs", "covered", "rejected_at_5_percent"})
	for _, kind := range []string{"normal", "skewed", "two spreads"} {
		for _, n := range []int{8, 18, 40} {
			for _, row := range cell(kind, n) {
				w.Write(row)
				fmt.Println(row)
			}
			w.Flush()
		}
	}
}

// cell simulates pairs of arms without a true difference.
func cell(kind string, n int) [][]string {
	names := []string{"mean", "median"}
	covered, rejected := make([][]bool, sims), make([][]bool, sims)
	err := resample.Each(context.Background(), sims, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			r := resample.Stream(seed, fmt.Sprint("compare/", kind, n), k)
			values := make([]float64, 2*n)
			for i := range values {
				values[i] = draw(r, kind, i >= n)
			}
			members := func(from int) []int {
				var out []int
				for i := range n {
					out = append(out, from+i)
				}
				return out
			}
			groups := []compare.Group{{Name: "a", Members: members(0)}, {Name: "b", Members: members(n)}}
			measures := []compare.Measure{
				{Name: "mean", Of: func(m []int) float64 { return mean(values, m) }},
				{Name: "median", Of: func(m []int) float64 { return median(values, m) }},
			}
			cs, err := compare.Arms(context.Background(), groups, measures, compare.Options{Sampling: resample.Sampling{Seed: seed + uint64(k), Replicates: replicates, Workers: 1}})
			if err != nil {
				return err
			}
			for _, c := range cs {
				covered[k] = append(covered[k], c.Lower <= 0 && 0 <= c.Upper)
				rejected[k] = append(rejected[k], c.P <= 0.05)
			}
			return nil
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	var out [][]string
	for m, name := range names {
		out = append(out, []string{kind, strconv.Itoa(n), name, strconv.Itoa(sims), share(covered, m), share(rejected, m)})
	}
	return out
}

func draw(r *rand.Rand, kind string, second bool) float64 {
	switch {
	case kind == "skewed":
		return r.ExpFloat64()
	case kind == "two spreads" && second:
		return 2 * r.NormFloat64()
	}
	return r.NormFloat64()
}

func share(hits [][]bool, m int) string {
	n := 0
	for _, h := range hits {
		if h[m] {
			n++
		}
	}
	return strconv.FormatFloat(float64(n)/float64(len(hits)), 'f', 3, 64)
}

func mean(values []float64, members []int) float64 {
	sum := 0.0
	for _, i := range members {
		sum += values[i]
	}
	return sum / float64(len(members))
}

func median(values []float64, members []int) float64 {
	vs := make([]float64, len(members))
	for k, i := range members {
		vs[k] = values[i]
	}
	slices.Sort(vs)
	n := len(vs)
	if n == 0 {
		return math.NaN()
	}
	return (vs[(n-1)/2] + vs[n/2]) / 2
}
