// Command chartsignal asks how intervals of chart-signal hang on the residual spread:
//
//	go run ./testdata/coverage/chartsignal > testdata/coverage/chartsignal/chartsignal.csv
//
// Series of 30 attempts are simulated as in testdata/coverage/trainee, of curves that meet the
// standard. From the same replicates of a series, 95 % intervals by expanded percentiles are
// made four ways: as of the other definitions; with each replicate's residual spread s* put the other way
// round about the series' own, s²/s*, which for normal noise gives the spread its exact limits,
// where percentiles lean the wrong way; with the true spread; and with the true curve.
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"os"
	"strconv"

	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

const (
	series, replicates = 1000, 299
	attempts, horizon  = 30, 200
	logSD              = 0.2
	seed               = 20260302
)

var standard = practice.Standard{Value: 70, Lower: true}

var ways = []string{"as of the other definitions", "spread the other way round", "true spread", "true curve"}

func main() {
	w := csv.NewWriter(os.Stdout)
	w.Write([]string{"truth", "fitted", "true_attempts", "way", "series", "covered", "below", "above"})
	chart, err := stopping.NewChart(monitor.Rates{Acceptable: 0.2, Unacceptable: 0.4})
	if err != nil {
		log.Fatal(err)
	}
	chain, err := chart.Chain(horizon)
	if err != nil {
		log.Fatal(err)
	}
	for _, curve := range []models.Curve{models.Power().Curve([]float64{40, 140, 0.6}), models.Exponential(1).Curve([]float64{55, 125, 0.15})} {
		truth := signal(chain.Begin(), curve, logSD)
		for _, auto := range []bool{false, true} {
			below, above := run(curve, auto, &chain, truth)
			for v, way := range ways {
				share := func(n int) string { return strconv.FormatFloat(float64(n)/series, 'f', 3, 64) }
				fitted := map[bool]string{false: "its own family", true: "chosen by AICc"}[auto]
				w.Write([]string{curve.Family.Name(), fitted, fmt.Sprint(truth), way, strconv.Itoa(series), share(series - below[v] - above[v]), share(below[v]), share(above[v])})
			}
			w.Flush()
		}
	}
	if err := w.Error(); err != nil {
		log.Fatal(err)
	}
}

// signal is the attempt by which the chart has signalled with chance one half.
func signal(w *stopping.Walk, c models.Curve, spread float64) float64 {
	w.Reset()
	for n := 1.0; n <= horizon; n++ {
		if w.Step(standard.PassChance(models.Lognormal{}, c.At(n), spread)) >= 0.5 {
			return n
		}
	}
	return math.Inf(1)
}

func specs(own models.Family, auto bool) []fit.Spec {
	common := fit.Spec{Family: own, Noise: models.Lognormal{}, Positive: true}
	if !auto {
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

// run counts, by way, the series whose interval lies above the truth and below it.
func run(curve models.Curve, auto bool, chain *stopping.Chain, truth float64) (below, above []int) {
	type miss struct{ below, above bool }
	each := make([][]miss, series)
	all := specs(curve.Family, auto)
	err := resample.Each(context.Background(), series, resample.Sampling{}, func() func(int) error {
		return func(k int) error {
			r := resample.Stream(seed, fmt.Sprint("chart signals/", curve.Family.Name()), k)
			var at, response []float64
			for n := 1.0; n <= attempts; n++ {
				at, response = append(at, n), append(response, curve.At(n)*math.Exp(logSD*r.NormFloat64()))
			}
			s := fit.SeriesOf(practice.Measured(strconv.Itoa(k), at, response))
			choice, err := fit.Choose(s, all)
			if err != nil {
				return err
			}
			drawn := make([][]float64, len(ways))
			for v := range drawn {
				drawn[v] = make([]float64, replicates)
			}
			own := choice.Fit.Scale
			sampling := resample.Sampling{Seed: seed, Replicates: replicates, Workers: 1}
			err = fit.EachReplicate(context.Background(), s, all, choice, fit.DefaultKind(s, models.Lognormal{}), sampling, strconv.Itoa(k), func() func(int, fit.Replicate) {
				w := chain.Begin()
				return func(i int, r fit.Replicate) {
					for v, p := range []struct {
						curve  models.Curve
						spread float64
					}{{r.Curve, r.Scale}, {r.Curve, own * own / r.Scale}, {r.Curve, logSD}, {curve, r.Scale}} {
						if drawn[v][i] = signal(w, p.curve, p.spread); !r.OK {
							drawn[v][i] = math.NaN()
						}
					}
				}
			})
			for _, values := range drawn {
				iv := resample.PercentileInterval(values, resample.ExpandedLevel(0.95, float64(choice.Fit.DF), 1))
				each[k] = append(each[k], miss{truth < iv.Lower, truth > iv.Upper})
			}
			return err
		}
	})
	if err != nil {
		log.Fatal(err)
	}
	below, above = make([]int, len(ways)), make([]int, len(ways))
	for _, ms := range each {
		for v, m := range ms {
			if m.below {
				below[v]++
			}
			if m.above {
				above[v]++
			}
		}
	}
	return below, above
}
