// Command projection simulates cohorts, fits them, and projects new trainees
// from their first k attempts: how often 90 % predictive intervals hold the
// next 10 attempts and the attempts to proficiency, and how far off the
// expected next 10 attempts are against simpler ways.
//
// A cohort has 30 trainees with 25 attempts; 10 more trainees are projected.
// Errors are root mean squares of log responses against the attempts made.
// own: the trainee's own curve of the true family. last five: the mean of the
// logs of the last five. line: a linear mixed model of log response on log
// attempt, fitted to the same cohort and conditioned on the same attempts.
//
//	go run ./testdata/cohort/projection > testdata/cohort/projection/projection.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"math/rand/v2"

	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	cohorts = flag.Int("cohorts", 200, "cohorts to simulate")
	seed    = flag.Uint64("seed", 1, "seed")
)

const standard = 70.0

var ks = []int{5, 10, 15}

// A tally adds up one family and one k.
type tally struct {
	n, inside               int
	cohort, own, five, line float64
	people, whole, real     int
}

func main() {
	flag.Parse()
	fmt.Println("family,attempts_seen,coverage_next_10,coverage_mean_crossing_real,coverage_mean_crossing_whole,rmse_cohort,rmse_own,rmse_last_five,rmse_line")
	for _, f := range []models.Family{models.Exponential(1), models.Power()} {
		out := make([][3]tally, *cohorts)
		check(resample.Each(context.Background(), *cohorts, resample.Sampling{}, func() func(int) error {
			return func(i int) error { return one(f, i, &out[i]) }
		}))
		for j, k := range ks {
			var t tally
			for _, o := range out {
				t.add(o[j])
			}
			n, p := float64(t.n), float64(t.people)
			fmt.Printf("%s,%d,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", f.Name(), k, float64(t.inside)/n, float64(t.real)/p, float64(t.whole)/p,
				math.Sqrt(t.cohort/n), math.Sqrt(t.own/n), math.Sqrt(t.five/n), math.Sqrt(t.line/n))
		}
	}
}

func (t *tally) add(o tally) {
	t.n += o.n
	t.inside += o.inside
	t.cohort += o.cohort
	t.own += o.own
	t.five += o.five
	t.line += o.line
	t.people += o.people
	t.whole += o.whole
	t.real += o.real
}

// draw makes a trainee's curve and attempts.
func draw(f models.Family, r *rand.Rand, id string, attempts int) (models.Curve, cohort.Trainee) {
	rate := 0.2
	if f.Name() == "power" {
		rate = 0.7
	}
	c := f.Curve([]float64{45 * math.Exp(0.2*r.NormFloat64()), 130 * math.Exp(0.25*r.NormFloat64()), rate * math.Exp(0.2*r.NormFloat64())})
	s := 0.15 * math.Exp(0.25*r.NormFloat64())
	t := cohort.Trainee{ID: id}
	for n := 1.0; n <= float64(attempts); n++ {
		t.Attempt, t.Response = append(t.Attempt, n), append(t.Response, c.At(n)*math.Exp(s*r.NormFloat64()))
	}
	return c, t
}

func one(f models.Family, i int, out *[3]tally) error {
	r := resample.Stream(*seed, "cohort of "+f.Name(), i)
	var ts []cohort.Trainee
	for k := range 30 {
		_, t := draw(f, r, fmt.Sprint(k), 25)
		ts = append(ts, t)
	}
	sampling := resample.Sampling{Seed: *seed, Workers: 1}
	c, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: f, Noise: models.Lognormal{}, Random: []string{"plateau", "gain", "rate", cohort.Spread}, Uncorrelated: true, Workers: 1})
	if err != nil {
		return err
	}
	line, err := cohort.Run(context.Background(), ts, cohort.Spec{Family: models.Wright(), Noise: models.Lognormal{}, Workers: 1})
	if err != nil {
		return err
	}
	q := cohort.Question{Standard: practice.Standard{Value: standard, Lower: true}, Horizon: 200, Level: 0.9}
	for p := range 10 {
		curve, full := draw(f, r, fmt.Sprint("new ", p), 25)
		for j, k := range ks {
			t := full
			t.Attempt, t.Response = full.Attempt[:k], full.Response[:k]
			post, err := c.Posteriors(context.Background(), []cohort.Trainee{t}, sampling)
			if err != nil {
				return err
			}
			straight, err := line.Posteriors(context.Background(), []cohort.Trainee{t}, sampling)
			if err != nil {
				return err
			}
			own, err := fit.One(fit.Series{Attempt: t.Attempt, Response: t.Response}, fit.Spec{Family: f, Noise: models.Lognormal{}, Positive: true})
			if err != nil {
				return err
			}
			o := &out[j]
			five := 0.0
			for _, y := range t.Response[k-5:] {
				five += math.Log(y) / 5
			}
			square := func(n, y float64) float64 { return (math.Log(y) - n) * (math.Log(y) - n) }
			for n := k; n < k+10; n++ {
				at, y := full.Attempt[n], full.Response[n]
				b := post[0].Quantiles(at, 0, 0.05, 0.5, 0.95)
				o.n++
				if y >= b[0] && y <= b[2] {
					o.inside++
				}
				o.cohort += square(math.Log(b[1]), y)
				o.line += square(math.Log(straight[0].Quantiles(at, 0, 0.5)[0]), y)
				o.five += square(five, y)
				own1 := own.Curve.At(at)
				if !(own1 > 0) {
					own1 = math.Exp(five)
				}
				o.own += square(math.Log(own1), y)
			}
			o.people++
			truth := curve.Crossing(standard, 1, true)
			b, _ := post[0].Attempts(func(d *cohort.Draw) float64 { return d.Curve.Crossing(standard, 1, true) }, 0.05, 0.95)
			if truth >= b[0] && truth <= b[1] {
				o.real++
			}
			w, _ := post[0].Attempts(func(d *cohort.Draw) float64 { return q.MeanCrossing(models.Lognormal{}, d) }, 0.05, 0.95)
			if d := (cohort.Draw{Curve: curve}); q.MeanCrossing(models.Lognormal{}, &d) >= w[0] && q.MeanCrossing(models.Lognormal{}, &d) <= w[1] {
				o.whole++
			}
		}
	}
	return nil
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
