// Command speed writes a simulated cohort for other programs to fit, and times
// tyro on the same attempts with one goroutine: the speed.R beside it does the
// same in R.
//
//	go run ./testdata/cohort/speed -out speed.csv && Rscript testdata/cohort/speed/speed.R speed.csv
//	go run ./testdata/cohort/speed -trainees 20000 -attempts 50 -workers 2
//	go run ./testdata/cohort/speed -studies 1000 -trainees 30 -attempts 20 -workers 2
//	go run ./testdata/cohort/speed -growth -attempts 50 -workers 2 > testdata/cohort/speed/growth.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"os"
	"runtime"
	"syscall"
	"time"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	trainees   = flag.Int("trainees", 100, "trainees")
	attempts   = flag.Int("attempts", 30, "attempts each")
	workers    = flag.Int("workers", 1, "goroutines")
	out        = flag.String("out", "", "write the attempts here")
	quadrature = flag.Bool("quadrature", true, "time quadrature too")
	studies    = flag.Int("studies", 0, "instead, so many studies of two arms with so many trainees each, a fit each")
	growth     = flag.Bool("growth", false, "instead, a table of the time for 100 to 20,000 trainees")
)

func main() {
	flag.Parse()
	runtime.GOMAXPROCS(*workers)
	switch {
	case *growth:
		grow()
		return
	case *studies > 0:
		many()
		return
	}
	ts := simulate()
	if *out != "" {
		f, err := os.Create(*out)
		check(err)
		fmt.Fprintln(f, "trainee,attempt,seconds")
		for _, t := range ts {
			for j, n := range t.Attempt {
				fmt.Fprintf(f, "%s,%g,%.4f\n", t.ID, n, t.Response[j])
			}
		}
		check(f.Close())
	}
	methods := []cohort.Method{cohort.Laplace}
	if *quadrature {
		methods = append(methods, cohort.Quadrature)
	}
	for _, m := range methods {
		cpu, start := processor(), time.Now()
		c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Uncorrelated: true, Method: m, Workers: *workers})
		check(err)
		fmt.Printf("%s: %d trainees x %d attempts, %d evaluations, elapsed %.3f s, processor %.3f s, log-likelihood of logs %.4f, rung %s\n",
			m, *trainees, *attempts, c.Evaluations, time.Since(start).Seconds(), processor()-cpu, c.LogLikLog, c.Rung)
		for _, e := range c.Fixed {
			fmt.Printf("  %s %.6f\n", e.Parameter, e.Estimate)
		}
	}
	fmt.Printf("largest memory %.0f MB\n", memory())
}

// grow writes how time grows with trainees.
func grow() {
	fmt.Println("trainees,attempts,evaluations,processor_s,elapsed_s,processor_ms_per_trainee,processor_us_per_trainee_and_evaluation,rung,memory_mb")
	for _, n := range []int{100, 200, 500, 1000, 2000, 5000, 10000, 20000} {
		*trainees = n
		ts := simulate()
		cpu, start := processor(), time.Now()
		c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Uncorrelated: true, Workers: *workers})
		check(err)
		used := processor() - cpu
		fmt.Printf("%d,%d,%d,%.3f,%.3f,%.3f,%.2f,%s,%.0f\n", n, *attempts, c.Evaluations, used, time.Since(start).Seconds(), 1000*used/float64(n), 1e6*used/float64(n)/float64(c.Evaluations), c.Rung, memory())
	}
}

// many fits one study after another, all correlations and arm effects asked for.
func many() {
	cpu, start := processor(), time.Now()
	rungs := map[string]int{}
	for k := range *studies {
		ts := simulated(2**trainees, k**trainees*2)
		for i := range ts {
			ts[i].Arm = string(rune('A' + i%2))
		}
		c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, ArmEffect: []string{"plateau", "gain", "rate"}, Workers: *workers})
		check(err)
		rungs[c.Rung]++
	}
	fmt.Printf("%d studies of 2 x %d trainees x %d attempts: elapsed %.1f s, processor %.1f s, rungs %v\n", *studies, *trainees, *attempts, time.Since(start).Seconds(), processor()-cpu, rungs)
}

// memory is the largest the program has been, in MB.
func memory() float64 {
	var use syscall.Rusage
	check(syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return float64(use.Maxrss) / 1024
}

func processor() float64 {
	var use syscall.Rusage
	check(syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return float64(use.Utime.Sec) + float64(use.Utime.Usec)/1e6
}

func simulate() []cohort.Trainee { return simulated(*trainees, 0) }

// simulated are so many trainees, whose random streams begin at one.
func simulated(n, first int) []cohort.Trainee {
	var ts []cohort.Trainee
	for i := range n {
		r := resample.Stream(1, "speed", first+i)
		t := cohort.Trainee{ID: fmt.Sprint("T", i)}
		p, g, c := 45*math.Exp(0.2*r.NormFloat64()), 130*math.Exp(0.25*r.NormFloat64()), 0.2*math.Exp(0.2*r.NormFloat64())
		for n := 1.0; n <= float64(*attempts); n++ {
			t.Attempt = append(t.Attempt, n)
			t.Response = append(t.Response, (p+g*math.Exp(-c*(n-1)))*math.Exp(0.15*r.NormFloat64()))
		}
		ts = append(ts, t)
	}
	return ts
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
