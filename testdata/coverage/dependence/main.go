// Command dependence measures what correlated neighbours and breaks between
// sessions do to the intervals of a curve, and whether the terms for them repair
// it; it writes dependence.csv beside itself.
//
// Each cell simulates 500 series of 32 or 64 attempts in sessions of 8: an
// exponential curve (plateau 40, gain 140, rate 0.15), multiplicative noise of
// log-SD 0.2 whose neighbours within a session have correlation 0 or 0.4, and first
// attempts after a break longer by exp(0) or exp(0.15). Every series is fitted with
// its own family without the terms and with both; intervals are profile likelihood
// intervals at 95 %.
//
//	go run ./testdata/coverage/dependence
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
	"tyro/analysis/resample"
	"tyro/models"
)

const (
	series    = 500
	session   = 8
	logSD     = 0.2
	seed      = 20261125
	headWords = "family,attempts,correlation,restart,model,quantity,series,fitted,covered,mean_estimate"
)

// A cell is one setting of the simulation.
type cell struct {
	curve      models.Curve
	n          int
	rho, shift float64
}

func main() {
	out, err := os.Create(filepath.Join("testdata", "coverage", "dependence", "dependence.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	fmt.Fprintln(out, headWords)
	w := csv.NewWriter(out)
	curve := models.Exponential(1).Curve([]float64{40, 140, 0.15})
	for _, n := range []int{32, 64} {
		for _, c := range []cell{{curve, n, 0, 0}, {curve, n, 0.4, 0}, {curve, n, 0.4, 0.15}} {
			for _, terms := range []bool{false, true} {
				for _, rec := range c.run(terms) {
					w.Write(rec)
				}
			}
			w.Flush()
			fmt.Println(n, c.rho, c.shift)
		}
	}
}

// truth lists the quantities with their true values.
func (c cell) truth(terms bool) ([]string, []float64) {
	names, values := []string{"plateau", "rate", "starting-level"}, []float64{c.curve.Plateau, c.curve.Shape[0], c.curve.Start()}
	if terms {
		return append(names, "restart", "correlation"), append(values, c.shift, c.rho)
	}
	return names, values
}

func (c cell) run(terms bool) [][]string {
	names, want := c.truth(terms)
	found := make([][]fit.Estimate, series)
	err := resample.Each(context.Background(), series, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			found[k] = c.one(k, terms, names)
			return nil
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	model := map[bool]string{false: "curve alone", true: "with both terms"}[terms]
	var out [][]string
	for q, name := range names {
		fitted, covered, known, mean := 0, 0, 0, 0.0
		for k := range found {
			if found[k] == nil {
				continue
			}
			fitted++
			e := found[k][q]
			if e.Lower <= want[q] && want[q] <= e.Upper {
				covered++
			}
			if !math.IsNaN(e.Value) {
				known++
				mean += e.Value
			}
		}
		num := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
		out = append(out, []string{c.curve.Family.Name(), strconv.Itoa(c.n), num(c.rho), num(c.shift), model, name,
			strconv.Itoa(series), strconv.Itoa(fitted), strconv.FormatFloat(float64(covered)/float64(fitted), 'f', 3, 64), num(mean / float64(known))})
	}
	return out
}

// one simulates a series and gives the estimates by name; nil where no curve could
// be fitted.
func (c cell) one(k int, terms bool, names []string) []fit.Estimate {
	r := resample.Stream(seed, fmt.Sprint("dependence/", c.curve.Family.Name(), "/", c.n, "/", c.rho, "/", c.shift), k)
	var s fit.Series
	e := 0.0
	for i := range c.n {
		n := float64(i + 1)
		shift := 0.0
		if i%session == 0 {
			e = r.NormFloat64()
			if i > 0 {
				shift = c.shift
			}
		} else {
			e = c.rho*e + math.Sqrt(1-c.rho*c.rho)*r.NormFloat64()
		}
		s.Attempt = append(s.Attempt, n)
		s.Session = append(s.Session, strconv.Itoa(i/session))
		s.Response = append(s.Response, c.curve.At(n)*math.Exp(shift+logSD*e))
	}
	specs := []fit.Spec{{Family: c.curve.Family, Noise: models.Lognormal{}, Positive: true, Restart: terms, Correlated: terms}}
	choice, err := fit.Choose(s, specs)
	if err != nil || !choice.Fit.Status.Usable() {
		return nil
	}
	f, err := fit.WithIntervals(context.Background(), s, specs, choice, fit.ByProfile, resample.Sampling{}, "")
	if err != nil {
		return nil
	}
	byName := map[string]fit.Estimate{}
	for _, list := range [][]fit.Estimate{f.Params, f.Derived, f.Terms} {
		for _, e := range list {
			byName[e.Name] = e
		}
	}
	var out []fit.Estimate
	for _, name := range names {
		out = append(out, byName[name])
	}
	return out
}
