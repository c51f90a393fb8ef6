// Coverage counts how often 95 % intervals of observed attempts hold the truth:
//
//	go run ./testdata/survival/coverage > testdata/survival/coverage/coverage.csv
//
// Attempts to a rule are whole: a trainee meets it at the first attempt at or
// after a log-normal number (median 12, log-SD 0.5); a share of trainees never
// does. Everybody is followed to attempt 30 unless it says otherwise. An interval holds the truth when lower ≤ truth ≤ upper, an end that is not
// reached counting as infinite.
package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"log"
	"math"
	"math/rand/v2"
	"os"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
	"tyro/analysis/survival"
)

const studies = 10000

func main() {
	out := csv.NewWriter(os.Stdout)
	out.Write([]string{"quantity", "interval", "trainees", "never", "follow_up", "truth", "studies", "coverage", "se", "lower_missed", "upper_missed"})
	report := func(quantity, interval string, n int, never float64, follow string, truth float64, runs int, one func(r *rand.Rand) [2]float64) {
		seen, err := resample.Replicate(context.Background(), resample.Sampling{Seed: 11, Replicates: runs}, quantity+interval+fmt.Sprint(n, never, follow), func() func(*rand.Rand) [2]float64 { return one })
		if err != nil {
			log.Fatal(err)
		}
		var above, below float64
		for _, iv := range seen {
			switch {
			case !(iv[0] <= truth):
				above++
			case !(iv[1] >= truth):
				below++
			}
		}
		total := float64(runs)
		held := 1 - (above+below)/total
		out.Write([]string{quantity, interval, fmt.Sprint(n), fmt.Sprint(never), follow, fmt.Sprintf("%.6g", truth), fmt.Sprint(runs), fmt.Sprintf("%.4f", held),
			fmt.Sprintf("%.4f", math.Sqrt(held*(1-held)/total)), fmt.Sprintf("%.4f", above/total), fmt.Sprintf("%.4f", below/total)})
		out.Flush()
	}
	for _, n := range []int{15, 30, 60} {
		for _, never := range []float64{0, 0.2, 0.4} {
			for _, follow := range []string{"30 attempts", "15 to 30 attempts"} {
				draw := func(r *rand.Rand) []survival.Observation { return arm(r, n, never, 0, follow != "30 attempts") }
				for _, share := range []float64{0.5, 0.8} {
					truth := quantile(share, never)
					if truth > 30 {
						continue
					}
					for _, band := range []survival.Band{survival.Linear, survival.Log, survival.LogLog, survival.Arcsine} {
						report(fmt.Sprintf("attempts by which %g %% have met it", 100*share), string(band), n, never, follow, truth, studies, func(r *rand.Rand) [2]float64 {
							q := survival.KaplanMeier(draw(r), band, 0.95).Quantile(share)
							return [2]float64{q.Lower, q.Upper}
						})
					}
				}
				report("restricted mean to 30", "normal", n, never, follow, restricted(30, never), studies, func(r *rand.Rand) [2]float64 {
					m, se := survival.KaplanMeier(draw(r), survival.Linear, 0.95).RestrictedMean(30)
					return [2]float64{m - 1.959963984540054*se, m + 1.959963984540054*se}
				})
				report("restricted mean to 30", "bootstrap", n, never, follow, restricted(30, never), studies, func(r *rand.Rand) [2]float64 {
					return meanInterval(r, draw(r), 30)
				})
				report("restricted mean to the last attempt seen, less the truth", "bootstrap", n, never, follow, 0, studies, func(r *rand.Rand) [2]float64 {
					obs, tau := draw(r), 0.0
					for _, o := range obs {
						tau = math.Max(tau, o.Time)
					}
					iv := meanInterval(r, obs, tau)
					return [2]float64{iv[0] - restricted(tau, never), iv[1] - restricted(tau, never)}
				})
			}
			report("median, assessments every 5 attempts", "bootstrap", n, never, "30 attempts", 5*math.Ceil(quantile(0.5, never)/5), 1000, func(r *rand.Rand) [2]float64 {
				var windows []survival.Window
				for _, o := range arm(r, n, never, 0, false) {
					w := survival.Window{Left: 30, Right: math.Inf(1)}
					if o.Event {
						w = survival.Window{Left: 5*math.Ceil(o.Time/5) - 5, Right: 5 * math.Ceil(o.Time/5)}
					}
					windows = append(windows, w)
				}
				iv, err := survival.QuantileInterval(context.Background(), windows, 0.5, 0.95, resample.Sampling{Seed: r.Uint64(), Replicates: 400, Workers: 1})
				if err != nil {
					log.Fatal(err)
				}
				return [2]float64{iv.Lower, iv.Upper}
			})
		}
	}
	for _, n := range []int{15, 30} {
		for _, effect := range []float64{0, 0.7} {
			for _, m := range []string{"cox, efron", "cox, exact", "by attempt, cloglog", "by attempt, logit"} {
				if effect != 0 && (m == "cox, exact" || m == "by attempt, logit") {
					continue // odds: another truth
				}
				report("log hazard ratio of two arms", m, n, 0, "30 attempts", effect, studies, func(r *rand.Rand) [2]float64 {
					return hazardRatio(r, n, effect, m)
				})
			}
		}
	}
}

const (
	logMedian = 2.4849066497880004 // log 12
	logSD     = 0.5
)

func metBy(n float64) float64 {
	return distuv.UnitNormal.CDF((math.Log(n) - logMedian) / logSD)
}

// quantile is the attempt by which a share of all trainees has met the rule.
func quantile(share, never float64) float64 {
	for n := 1.0; n < 1000; n++ {
		if (1-never)*metBy(n) >= share {
			return n
		}
	}
	return math.Inf(1)
}

// restricted is the area under the chance of not having met it, up to tau.
func restricted(tau, never float64) float64 {
	sum := 0.0
	for n := 0.0; n < tau; n++ {
		s := 1.0
		if n > 0 {
			s = 1 - (1-never)*metBy(n)
		}
		sum += s
	}
	return sum
}

// meanInterval is the bootstrap interval of a restricted mean; an unknown one
// counts as missed.
func meanInterval(r *rand.Rand, obs []survival.Observation, tau float64) [2]float64 {
	iv, err := survival.RestrictedMeanInterval(context.Background(), obs, tau, 0.95, resample.Sampling{Seed: r.Uint64(), Replicates: 400, Workers: 1})
	if err != nil {
		log.Fatal(err)
	}
	return [2]float64{iv.Lower, iv.Upper}
}

// arm draws trainees whose hazard is multiplied by exp(effect).
func arm(r *rand.Rand, n int, never, effect float64, staggered bool) []survival.Observation {
	out := make([]survival.Observation, n)
	for i := range out {
		u := math.Pow(r.Float64(), math.Exp(-effect)) // the chance of not having met it, at the attempt when it is met
		at := math.Max(1, math.Ceil(math.Exp(logMedian+logSD*distuv.UnitNormal.Quantile(1-u))))
		if r.Float64() < never {
			at = math.Inf(1)
		}
		last := 30.0
		if staggered {
			last = 15 + float64(r.IntN(16))
		}
		out[i] = survival.Observation{Time: math.Min(at, last), Event: at <= last}
	}
	return out
}

func hazardRatio(r *rand.Rand, n int, effect float64, model string) [2]float64 {
	obs := append(arm(r, n, 0, 0, false), arm(r, n, 0, effect, false)...)
	x := make([][]float64, 2*n)
	for i := range x {
		x[i] = []float64{0}
		if i >= n {
			x[i][0] = 1
		}
	}
	var c survival.Coefficient
	var err error
	switch model {
	case "cox, efron", "cox, exact":
		var f survival.Regression
		if f, err = survival.Cox(obs, x, survival.CoxOptions{Ties: survival.Ties(model[5:])}); err == nil {
			c = f.Coefficients[0]
		}
	default:
		var f survival.Discrete
		if f, err = survival.FitDiscrete(obs, x, survival.DiscreteOptions{Link: survival.Link(model[12:])}); err == nil {
			c = f.Coefficients[0]
		}
	}
	if err != nil {
		log.Fatal(err)
	}
	return [2]float64{c.Lower, c.Upper}
}
