// Command retention measures how often tyro's intervals of what is kept after breaks hold
// the truth: the loss at the first attempt after breaks of 1 and 30 days, the share of the
// gain kept, savings aside, the half-life of the shape that made the data, and whether the
// lower end of the refresher's day lies before the true day. It also counts how often the
// loss's interval leaves out 0 where nothing is lost.
//
//	go run ./testdata/coverage/retention -studies 1000 > testdata/coverage/retention/retention.csv
//
// Losses have intervals by t, which -replicates does not change: their rows where nothing is lost
// come from -truths "nothing lost" -studies 5000 -replicates 19.
package main

import (
	"context"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
	"tyro/analysis/retention"
)

var (
	studies    = flag.Int("studies", 1000, "studies a row")
	replicates = flag.Int("replicates", 799, "bootstrap samples a study")
	seed       = flag.Uint64("seed", 1, "seed")
	made       = flag.String("truths", "nothing lost,exponential,power", "what the data are made by")
)

// The truth: start and level before the breaks on the log scale, their spread between
// trainees, the spread of attempts, the standard, and the share who are to meet it.
const (
	start, level      = 5.0, 4.0
	startSD, levelSD  = 0.15, 0.10
	attemptSD         = 0.10
	standard, share   = 4.35, 0.8
	forgetterSD       = 0.25 // of the log of a trainee's own rate
	exponentialRate   = 0.012
	powerRate         = 0.25
	firstGap, nextGap = 1.0, 30.0
)

func main() {
	flag.Parse()
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"truth", "trainees", "quantity", "studies", "covered_95_percent", "left_out_0", "monte_carlo_se"})
	for _, truth := range strings.Split(*made, ",") {
		for _, n := range []int{12, 30} {
			cell(w, truth, n)
			w.Flush()
		}
	}
}

// kept is the share of the gain kept with a trainee's own rate, a factor of the common
// one.
func kept(truth string, own, days float64) float64 {
	switch truth {
	case retention.Exponential:
		return math.Exp(-exponentialRate * own * days)
	case retention.Power:
		return math.Pow(1+days, -powerRate*own)
	}
	return 1
}

var unknown = retention.Ends{Estimate: math.NaN(), Lower: math.NaN(), Upper: math.NaN()}

type hit struct {
	name              string
	known             bool
	covered, excludes bool
}

func cell(w *csv.Writer, truth string, n int) {
	mean, half, day := truths(truth)
	out := make([][]hit, *studies)
	err := resample.Each(context.Background(), *studies, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			ts := simulate(truth, n, k)
			o := retention.Options{Lower: true, Standard: true, Sampling: resample.Sampling{Seed: *seed + uint64(k), Replicates: *replicates, Workers: 1}}
			gaps, err := retention.Gaps(context.Background(), ts, o)
			if err != nil {
				return err
			}
			in := func(lower, upper, v float64) bool { return lower <= v && v <= upper }
			for g, days := range []float64{firstGap, nextGap} {
				l := gaps[g].Loss
				loss := (start - level) * (1 - mean[g])
				out[k] = append(out[k], hit{fmt.Sprintf("loss after %g days", days), true, in(l.Lower, l.Upper, loss), !in(l.Lower, l.Upper, 0)})
				out[k] = append(out[k], hit{fmt.Sprintf("share kept after %g days", days), !math.IsNaN(gaps[g].Kept.Lower), in(gaps[g].Kept.Lower, gaps[g].Kept.Upper, mean[g]), false})
			}
			fs, err := retention.Forget(context.Background(), ts, o, standard, share)
			if errors.Is(err, retention.ErrRetention) { // refused, as where first attempts after breaks were better
				fs = []retention.Forgetting{{Shape: truth, HalfLife: unknown, Refresher: retention.Refresher{Lower: math.NaN()}}}
			} else if err != nil {
				return err
			}
			for _, f := range fs {
				if f.Shape != truth || truth == "nothing lost" {
					continue
				}
				out[k] = append(out[k], hit{"half-life", !math.IsNaN(f.HalfLife.Lower), in(f.HalfLife.Lower, f.HalfLife.Upper, half), false})
				out[k] = append(out[k], hit{"refresher's day", !math.IsNaN(f.Refresher.Lower), f.Refresher.Lower <= day, false})
			}
			return nil
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	for j, h := range out[0] {
		known, covered, excludes := 0.0, 0.0, 0.0
		for _, row := range out {
			if row[j].known {
				known++
				covered += one(row[j].covered)
				excludes += one(row[j].excludes)
			}
		}
		left := ""
		if truth == "nothing lost" && excludes > 0 {
			left = fmt.Sprintf("%.3f", excludes/known)
		}
		w.Write([]string{truth, fmt.Sprint(n), h.name, fmt.Sprint(known), fmt.Sprintf("%.3f", covered/known), left, fmt.Sprintf("%.4f", math.Sqrt(0.05*0.95/known))})
	}
}

func one(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// simulate draws trainees with three sessions: twelve attempts of learning to the level,
// then six after a day and six after a month, each beginning with what was lost.
func simulate(truth string, n, k int) []retention.Trainee {
	r := resample.Stream(*seed, fmt.Sprint("retention/", truth, n), k)
	var out []retention.Trainee
	for i := range n {
		from, to, own := start+startSD*r.NormFloat64(), level+levelSD*r.NormFloat64(), math.Exp(forgetterSD*r.NormFloat64())
		t := retention.Trainee{ID: fmt.Sprint(i)}
		add := func(s *retention.Session, mean float64) {
			v := mean + attemptSD*r.NormFloat64()
			s.Attempts = append(s.Attempts, retention.Attempt{Value: v, Passes: v <= standard})
		}
		first := retention.Session{Gap: math.NaN()}
		for j := range 12 {
			left := 0.0
			if j < 7 { // the last five are at the level
				left = math.Exp(-0.8 * float64(j))
			}
			add(&first, to+(from-to)*left)
		}
		t.Sessions = append(t.Sessions, first)
		for _, days := range []float64{firstGap, nextGap} {
			s := retention.Session{Gap: days}
			add(&s, to+(from-to)*(1-kept(truth, own, days)))
			for range 5 {
				add(&s, to)
			}
			t.Sessions = append(t.Sessions, s)
		}
		out = append(out, t)
	}
	return out
}

// truths are the mean shares kept after both breaks, the half-life of the common rate as
// least squares sees it, and the day of the refresher, from many trainees with their own
// start, level and rate.
func truths(truth string) (mean [2]float64, half, day float64) {
	const many = 200_000
	r := resample.Stream(99, "truth", 0)
	owns, levels, starts := make([]float64, many), make([]float64, many), make([]float64, many)
	for i := range owns {
		owns[i], levels[i], starts[i] = math.Exp(forgetterSD*r.NormFloat64()), level+levelSD*r.NormFloat64(), start+startSD*r.NormFloat64()
	}
	for g, days := range []float64{firstGap, nextGap} {
		for _, own := range owns {
			mean[g] += kept(truth, own, days) / many
		}
	}
	// the common rate that fits both mean shares best by least squares
	best := math.Inf(1)
	for step := range 4000 {
		rate := 0.3 * float64(step+1) / 4000
		sum := 0.0
		for g, days := range []float64{firstGap, nextGap} {
			e := mean[g] - math.Exp(-rate*days)
			if truth == retention.Power {
				e = mean[g] - math.Pow(1+days, -rate)
			}
			sum += e * e
		}
		if sum < best {
			best, half = sum, math.Ln2/rate
			if truth == retention.Power {
				half = math.Pow(2, 1/rate) - 1
			}
		}
	}
	if half > 10*nextGap {
		half = math.Inf(1)
	}
	passing := func(days float64) float64 {
		sum := 0.0
		for i, own := range owns {
			m := levels[i] + (starts[i]-levels[i])*(1-kept(truth, own, days))
			sum += distuv.UnitNormal.CDF((standard - m) / attemptSD)
		}
		return sum / many
	}
	lo, hi := 0.0, 10*nextGap
	if passing(hi) >= share {
		return mean, half, math.Inf(1)
	}
	for range 40 {
		if mid := (lo + hi) / 2; passing(mid) >= share {
			lo = mid
		} else {
			hi = mid
		}
	}
	return mean, half, lo
}
