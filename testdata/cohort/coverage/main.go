// Command coverage simulates cohorts of 30 trainees with 20 attempts in two
// arms and counts how often the intervals of tyro's cohort fit hold the truth,
// which rung of the ladder was used, and how biased the spreads between
// trainees are.
//
//	go run ./testdata/cohort/coverage > testdata/cohort/coverage/coverage.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	cohorts  = flag.Int("cohorts", 2000, "cohorts to simulate")
	seed     = flag.Uint64("seed", 1, "seed")
	profiles = flag.Int("profiles", 500, "of them, cohorts whose profile intervals are worked out too")
)

// The truth: log plateau, log gain, log rate, arm difference in log rate;
// spreads between trainees; log residual SD and its spread.
var (
	mean   = [4]float64{math.Log(45), math.Log(130), math.Log(0.2), 0.4}
	spread = [3]float64{0.2, 0.25, 0.2}
)

const (
	residual, differ = 0.15, 0.25
	trainees         = 30
	attempts         = 20
)

func main() {
	flag.Parse()
	type result struct {
		covered [4]bool
		sd      map[string]float64
		spread  map[string]bool // intervals of spreads that hold the truth
		profile map[string]bool // profile intervals that hold the truth; nil where not worked out
		rung    string
		status  string
		failed  bool
	}
	out := make([]result, *cohorts)
	err := resample.Each(context.Background(), *cohorts, resample.Sampling{}, func() func(int) error {
		return func(i int) error {
			c, err := cohort.Run(context.Background(), simulate(i), cohort.Spec{
				Family: models.Exponential(1), Noise: models.Lognormal{}, Uncorrelated: true, ArmEffect: []string{"rate"},
				Random: []string{"plateau", "gain", "rate", cohort.Spread}, Workers: 1,
			})
			if err != nil {
				out[i].failed = true
				return nil
			}
			r := &out[i]
			r.rung, r.status, r.sd, r.spread = c.Rung, c.Status.String(), map[string]float64{}, map[string]bool{}
			k := 0
			for _, e := range c.Fixed {
				if e.Parameter != cohort.Spread && k < 4 {
					r.covered[k] = mean[k] >= e.Lower && mean[k] <= e.Upper
					k++
				}
			}
			for _, d := range c.Random {
				r.sd[d.Parameter] = d.SD
				r.spread[d.Parameter] = spreadOf(d.Parameter) >= d.Lower && spreadOf(d.Parameter) <= d.Upper
			}
			if i >= *profiles {
				return nil
			}
			ps, err := c.Profile(context.Background())
			if err != nil {
				return nil
			}
			r.profile = map[string]bool{}
			k = 0
			for _, p := range ps {
				switch {
				case p.Kind == "sd":
					r.profile["SD of "+p.Parameter] = spreadOf(p.Parameter) >= p.Lower && spreadOf(p.Parameter) <= p.Upper
				case p.Kind == "fixed" && p.Parameter != cohort.Spread && k < 4:
					r.profile[names[k]] = mean[k] >= p.Lower && mean[k] <= p.Upper
					k++
				}
			}
			return nil
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println("quantity,true,value")
	for k, name := range names {
		n, in := 0, 0
		for _, r := range out {
			if !r.failed {
				n++
				if r.covered[k] {
					in++
				}
			}
		}
		fmt.Printf("coverage of 95 %% interval: %s,%.4f,%.4f\n", name, mean[k], float64(in)/float64(n))
	}
	for _, name := range []string{"plateau", "gain", "rate", cohort.Spread} {
		sum, n, in := 0.0, 0, 0
		for _, r := range out {
			if !r.failed {
				sum += r.sd[name]
				n++
				if r.spread[name] {
					in++
				}
			}
		}
		fmt.Printf("mean estimated SD between trainees: log %s,%.4f,%.4f\n", name, spreadOf(name), sum/float64(n))
		fmt.Printf("coverage of 95 %% interval: SD of log %s,%.4f,%.4f\n", name, spreadOf(name), float64(in)/float64(n))
	}
	for _, name := range append(slices.Clone(names), "SD of plateau", "SD of gain", "SD of rate", "SD of spread") {
		n, in := 0, 0
		for _, r := range out {
			if r.profile != nil {
				n++
				if r.profile[name] {
					in++
				}
			}
		}
		fmt.Printf("coverage of 95 %% profile interval (%d cohorts): %s,,%.4f\n", n, name, float64(in)/float64(n))
	}
	rungs := map[string]int{}
	failed := 0
	for _, r := range out {
		if r.failed {
			failed++
		} else {
			rungs[r.rung]++
		}
	}
	for _, r := range []string{cohort.RungFull, cohort.RungDiagonal, cohort.RungFewer, cohort.RungTwoStage} {
		fmt.Printf("cohorts on rung: %s,,%d\n", r, rungs[r])
	}
	fmt.Printf("cohorts refused,,%d\n", failed)
	fmt.Fprintln(os.Stderr, *cohorts, "cohorts, seed", *seed)
}

var names = []string{"log plateau", "log gain", "log rate", "arm difference in log rate"}

// spreadOf is the true spread between trainees in the log of a parameter.
func spreadOf(parameter string) float64 {
	switch parameter {
	case "plateau":
		return spread[0]
	case "gain":
		return spread[1]
	case "rate":
		return spread[2]
	}
	return differ
}

func simulate(i int) []cohort.Trainee {
	r := resample.Stream(*seed, "simulated cohort", i)
	var ts []cohort.Trainee
	for k := range trainees {
		t := cohort.Trainee{ID: fmt.Sprint(k), Arm: "standard"}
		rate := mean[2]
		if k%2 == 1 {
			t.Arm = "paced"
			rate += mean[3]
		}
		p, g := math.Exp(mean[0]+spread[0]*r.NormFloat64()), math.Exp(mean[1]+spread[1]*r.NormFloat64())
		c, s := math.Exp(rate+spread[2]*r.NormFloat64()), residual*math.Exp(differ*r.NormFloat64())
		for n := 1.0; n <= attempts; n++ {
			t.Attempt = append(t.Attempt, n)
			t.Response = append(t.Response, (p+g*math.Exp(-c*(n-1)))*math.Exp(s*r.NormFloat64()))
		}
		ts = append(ts, t)
	}
	return ts
}
