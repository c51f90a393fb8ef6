// Command curve measures how often 95 % intervals for a curve's plateau, rate and
// level cover the truth, by interval method, and writes curve.csv beside itself.
//
// Each cell simulates 1,000 series: a power curve (plateau 40, gain 140, rate
// 0.6) or an exponential one (40, 140, 0.15), with normal noise of SD 12 or
// multiplicative noise of log-SD 0.2, of 8, 15, 30 or 60 attempts. The curve is
// fitted with its own family. A plateau that is not identified has a one-sided
// profile interval; the other methods give what they give. Open counts intervals
// that are infinite or unknown on a side; an unknown one covers nothing.
//
//	go run ./testdata/coverage/curve
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"tyro/analysis/fit"
	"tyro/analysis/resample"
	"tyro/models"
)

const (
	series     = 1000
	replicates = 399
	seed       = 20260302
)

var methods = []string{"wald", "profile", "percentile", "bca", "studentised"}

// A quantity is a number read off a curve.
type quantity struct {
	name string
	of   func(c models.Curve, n float64) float64
}

var quantities = []quantity{
	{"plateau", func(c models.Curve, _ float64) float64 { return c.Plateau }},
	{"rate", func(c models.Curve, _ float64) float64 { return c.Shape[0] }},
	{"start", func(c models.Curve, _ float64) float64 { return c.Start() }},
}

func main() {
	out, err := os.Create(filepath.Join("testdata", "coverage", "curve", "curve.csv"))
	if err != nil {
		log.Fatal(err)
	}
	defer out.Close()
	w := csv.NewWriter(out)
	w.Write([]string{"family", "noise", "attempts", "quantity", "method", "series", "fitted", "covered", "below", "above", "open"})
	for _, truth := range []models.Curve{models.Power().Curve([]float64{40, 140, 0.6}), models.Exponential(1).Curve([]float64{40, 140, 0.15})} {
		for _, noise := range []models.Noise{models.Normal{}, models.Lognormal{}} {
			for _, n := range []int{8, 15, 30, 60} {
				for _, rec := range cell(truth, noise, n) {
					w.Write(rec)
				}
				w.Flush()
				fmt.Println(truth.Family.Name(), noise.Name(), n)
			}
		}
	}
}

// An end holds the two ends of an interval.
type ends [2]float64

// cell simulates one cell: a record a quantity and method.
func cell(truth models.Curve, noise models.Noise, n int) [][]string {
	intervals := make([][][]ends, series) // [series][quantity][method]
	purpose := fmt.Sprint("curve coverage/", truth.Family.Name(), "/", noise.Name(), "/", n)
	err := resample.Each(context.Background(), series, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			intervals[k] = one(simulate(truth, noise, n, purpose, k), truth, noise, strconv.Itoa(k))
			return nil
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	var out [][]string
	for q, what := range quantities {
		want := what.of(truth, float64(n))
		for m, method := range methods {
			var fitted, covered, below, above, open int
			for k := range intervals {
				if intervals[k] == nil {
					continue
				}
				fitted++
				iv := intervals[k][q][m]
				switch {
				case math.IsNaN(iv[0]) || math.IsNaN(iv[1]):
					open++
				case want < iv[0]:
					below++
				case want > iv[1]:
					above++
				default:
					covered++
					if math.IsInf(iv[0], 0) || math.IsInf(iv[1], 0) {
						open++
					}
				}
			}
			share := func(c int) string { return strconv.FormatFloat(float64(c)/float64(fitted), 'f', 3, 64) }
			out = append(out, []string{truth.Family.Name(), noise.Name(), strconv.Itoa(n), what.name, method, strconv.Itoa(series), strconv.Itoa(fitted), share(covered), share(below), share(above), share(open)})
		}
	}
	return out
}

func simulate(truth models.Curve, noise models.Noise, n int, purpose string, k int) fit.Series {
	r := resample.Stream(seed, purpose, k)
	scale := 0.2
	if noise.Name() == "normal" {
		scale = 12
	}
	var s fit.Series
	for i := 1; i <= n; i++ {
		s.Attempt = append(s.Attempt, float64(i))
		s.Response = append(s.Response, noise.Shift(truth.At(float64(i)), scale*r.NormFloat64()))
	}
	return s
}

// one computes every interval for a series; nil when no curve could be fitted.
func one(s fit.Series, truth models.Curve, noise models.Noise, key string) [][]ends {
	spec := fit.Spec{Family: truth.Family, Noise: noise, Positive: true}
	f, err := fit.One(s, spec)
	if err != nil || !f.Status.Usable() {
		return nil
	}
	sampling := resample.Sampling{Seed: seed, Replicates: replicates, Workers: 1}
	specs, choice := []fit.Spec{spec}, fit.Choice{Fit: f}
	reps, err := fit.Bootstrap(context.Background(), s, specs, choice, fit.Residual, sampling, key)
	if err != nil {
		return nil
	}
	t, err := fit.WithIntervals(context.Background(), s, specs, choice, fit.Studentised, sampling, key)
	if err != nil {
		return nil
	}
	out := make([][]ends, len(quantities))
	for q, what := range quantities {
		values := make([]float64, len(reps))
		for i, r := range reps {
			values[i] = math.NaN()
			if r.OK {
				values[i] = what.of(r.Curve, f.Last)
			}
		}
		wald := f.Delta("", what.name == "rate", func(c models.Curve) float64 { return what.of(c, f.Last) })
		profile := fit.ProfileInterval(s, spec, f, what.name)
		level := resample.ExpandedLevel(0.95, float64(f.DF), 1)
		pct := resample.PercentileInterval(values, level)
		bca := resample.BCaInterval(what.of(f.Curve, f.Last), resample.Acceleration(jackknife(s, spec, what)), values, 0.95)
		out[q] = []ends{{wald.Lower, wald.Upper}, {profile.Lower, profile.Upper}, {pct.Lower, pct.Upper}, {bca.Lower, bca.Upper}, studentised(t, what.name)}
	}
	return out
}

// studentised finds a quantity's interval; unknown where its estimate is withheld.
func studentised(f fit.Fit, name string) ends {
	for _, p := range append(f.Params, f.Derived...) {
		if p.Name == name || name == "start" && p.Name == "starting-level" {
			if p.Name == "plateau" && !f.PlateauKnown {
				break
			}
			return ends{p.Lower, p.Upper}
		}
	}
	return ends{math.NaN(), math.NaN()}
}

// jackknife leaves out one attempt at a time.
func jackknife(s fit.Series, spec fit.Spec, what quantity) []float64 {
	var out []float64
	for i := range s.Attempt {
		left := fit.Series{Attempt: slices.Delete(slices.Clone(s.Attempt), i, i+1), Response: slices.Delete(slices.Clone(s.Response), i, i+1)}
		if f, err := fit.One(left, spec); err == nil && f.Status.Usable() {
			out = append(out, what.of(f.Curve, f.Last))
		}
	}
	return out
}
