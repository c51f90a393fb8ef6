// Command censored measures what timeouts do to an estimated median and its
// interval, and writes censored.csv beside itself: 1,000 series a row of lognormal
// times with true median 100 s and log-SD 0.4, stopped at a limit of 120 s, which a
// third of the attempts reach. Dropped and at_limit are the means of the same
// estimate with timeouts left out, and with the limit taken for the time.
//
//	go run ./testdata/coverage/censored
package main

import (
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"os"
	"path/filepath"
	"strconv"

	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

const (
	sims   = 1000
	seed   = 20260304
	median = 100.0
	limit  = 120.0
	logSD  = 0.4
)

func main() {
	out, err := os.Create(filepath.Join("testdata", "coverage", "censored", "censored.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write([]string{"attempts", "series", "timeouts", "mean_estimate", "dropped", "at_limit", "profile_covers", "wald_covers"})
	for _, n := range []int{15, 30, 60} {
		row := cell(n)
		w.Write(row)
		fmt.Println(row)
	}
	w.Flush()
}

func cell(n int) []string {
	var timeouts, mean, dropped, atLimit, profile, wald float64
	spec := fit.Spec{Family: models.Constant(), Noise: models.Lognormal{}, Positive: true}
	for k := range sims {
		r := resample.Stream(seed, fmt.Sprint("censored/", n), k)
		s, exact, naive := fit.Series{Limit: limit}, fit.Series{}, fit.Series{}
		for i := 1; i <= n; i++ {
			x, y := float64(i), median*math.Exp(logSD*r.NormFloat64())
			over := y >= limit
			if over {
				timeouts++
				y = limit
			} else {
				exact.Attempt, exact.Response = append(exact.Attempt, x), append(exact.Response, y)
			}
			s.Attempt, s.Response, s.Censored = append(s.Attempt, x), append(s.Response, y), append(s.Censored, over)
			naive.Attempt, naive.Response = append(naive.Attempt, x), append(naive.Response, y)
		}
		f := one(s, spec)
		mean += f.Curve.Plateau
		dropped += one(exact, spec).Curve.Plateau
		atLimit += one(naive, spec).Curve.Plateau
		if e := fit.ProfileInterval(s, spec, f, "plateau"); e.Lower <= median && median <= e.Upper {
			profile++
		}
		if e := f.Params[0]; e.Lower <= median && median <= e.Upper {
			wald++
		}
	}
	show := func(v float64, places int) string { return strconv.FormatFloat(v/sims, 'f', places, 64) }
	return []string{strconv.Itoa(n), strconv.Itoa(sims), show(timeouts/float64(n), 3), show(mean, 2), show(dropped, 2), show(atLimit, 2), show(profile, 3), show(wald, 3)}
}

func one(s fit.Series, spec fit.Spec) fit.Fit {
	f, err := fit.One(s, spec)
	if err != nil {
		log.Fatal(err)
	}
	return f
}
