// Command meancrossing measures how often the 95 % intervals for the definition
// mean-crossing cover the truth, and writes meancrossing.csv beside itself.
//
// Each cell simulates 1,000 series of 30 attempts with multiplicative noise of
// log-SD 0.2 about a known curve. Covered counts intervals that hold the
// real-valued attempt at which the true curve meets the standard; covered_whole
// those whose whole attempts hold the first whole attempt at which it does.
//
//	go run ./testdata/coverage/meancrossing
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"os"
	"path/filepath"
	"strconv"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

const (
	series     = 1000
	attempts   = 30
	logSD      = 0.2
	replicates = 999
	horizon    = 300
	seed       = 20260301
)

type cell struct {
	truth    models.Curve
	standard float64
	auto     bool
}

func main() {
	out, err := os.Create(filepath.Join("testdata", "coverage", "meancrossing", "meancrossing.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write([]string{"truth", "plateau", "gain", "rate", "standard", "crossing", "fitted", "series", "covered", "below", "above", "covered_whole", "open_above"})
	for _, auto := range []bool{false, true} {
		for _, c := range cells(auto) {
			rec, err := c.run()
			if err != nil {
				log.Fatal(err)
			}
			w.Write(rec)
			w.Flush()
			fmt.Println(rec)
		}
	}
}

func cells(auto bool) []cell {
	power := func(th ...float64) models.Curve { return models.Power().Curve(th) }
	exponential := func(th ...float64) models.Curve { return models.Exponential(1).Curve(th) }
	return []cell{
		{power(40, 140, 0.6), 70, auto},
		{power(40, 140, 0.6), 60, auto},
		{power(20, 160, 0.4), 70, auto},
		{exponential(55, 125, 0.15), 70, auto},
		{exponential(55, 125, 0.10), 90, auto},
		{exponential(40, 125, 0.06), 75, auto},
	}
}

func (c cell) specs() []fit.Spec {
	common := fit.Spec{Family: c.truth.Family, Noise: models.Lognormal{}, Positive: true}
	if !c.auto {
		return []fit.Spec{common}
	}
	var families []models.Family
	for _, name := range models.Candidates(models.Lognormal{}) {
		f, err := models.ByName(name, 1)
		if err != nil {
			log.Fatal(err)
		}
		families = append(families, f)
	}
	return fit.Candidates(common, families)
}

func (c cell) run() ([]string, error) {
	truth := c.truth.Crossing(c.standard, 1, true)
	answers := make([]proficiency.Answer, series)
	sampling := resample.Sampling{Seed: seed, Replicates: replicates, Workers: 1}
	q := proficiency.Question{Standard: practice.Standard{Value: c.standard, Lower: true}, Horizon: horizon}
	err := resample.Each(context.Background(), series, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			r := resample.Stream(seed, fmt.Sprint("series/", c.truth.Family.Name(), c.truth.Theta()), k)
			var at, response []float64
			for n := 1.0; n <= attempts; n++ {
				at, response = append(at, n), append(response, c.truth.At(n)*math.Exp(logSD*r.NormFloat64()))
			}
			l, err := proficiency.Learn(practice.Measured(strconv.Itoa(k), at, response), c.specs())
			if err != nil {
				return err
			}
			a, err := l.Attempts(context.Background(), q, sampling, strconv.Itoa(k))
			if err != nil {
				return err
			}
			answers[k] = a[0]
			return nil
		}
	})
	if err != nil {
		return nil, err
	}
	var covered, below, above, whole, open int
	for _, a := range answers {
		switch {
		case truth < a.Crossing.Lower:
			below++
		case truth > a.Crossing.Upper:
			above++
		default:
			covered++
		}
		if n := math.Ceil(truth); a.Lower <= n && n <= a.Upper {
			whole++
		}
		if math.IsInf(a.Upper, 1) {
			open++
		}
	}
	fitted := "its own family"
	if c.auto {
		fitted = "chosen by AICc"
	}
	share := func(n int) string { return strconv.FormatFloat(float64(n)/series, 'f', 3, 64) }
	th := c.truth.Theta()
	f := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
	return []string{c.truth.Family.Name(), f(th[0]), f(th[1]), f(th[2]), f(c.standard), f(truth), fitted, strconv.Itoa(series), share(covered), share(below), share(above), share(whole), share(open)}, nil
}
