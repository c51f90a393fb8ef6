// Command pool asks what the unasked choice of models costs and gains where the truth is known: it
// simulates cohorts of kinds that are among the models tried and of kinds that are not, lets
// [cohort.Choose] choose and weigh as tyro cohort does, and foretells new people of the same kind
// from their first attempts.
//
// A cohort has 30 trainees with 30 attempts; 20 more are foretold from 5 and from 10. Errors are root
// mean squares of log responses. Beside it what the true model fitted to the same trainees
// reaches, where there is one: where there are groups, with the group of everybody fitted to known, and of
// a new method, with the attempt of every change so far and its chance later. The share of later attempts inside ranges of 90 %, corrected as
// they are shown; and the weight of the models that have what is true of the kind.
//
//	go run ./testdata/cohort/pool -cohorts 40 > testdata/cohort/pool/pool.csv
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"math"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/resample"
	"tyro/models"
)

var (
	cohorts  = flag.Int("cohorts", 40, "cohorts to simulate of each kind")
	only     = flag.String("only", "", "kinds, after commas; blank: all")
	trainees = flag.Int("trainees", 30, "trainees of a cohort")
	attempts = flag.Int("attempts", 30, "attempts of each")
	seed     = flag.Uint64("seed", 1, "seed")
)

const newPeople = 20

var known = []int{5, 10}

// A tally is of one way to foretell.
type tally struct {
	n, inside int
	square    float64
}

func (t *tally) add(o tally) {
	t.n, t.inside, t.square = t.n+o.n, t.inside+o.inside, t.square+o.square
}

func (t tally) error() float64    { return math.Sqrt(t.square / float64(t.n)) }
func (t tally) coverage() float64 { return float64(t.inside) / float64(t.n) }

// An outcome is of one cohort.
type outcome struct {
	chosen, truth []tally // by what is known
	weight        float64
}

func main() {
	flag.Parse()
	fmt.Println("kind,in_pool,known,cohorts,error_chosen,error_true,loss_percent,loss_se,coverage_90,coverage_true,weight_true")
	for _, k := range kinds() {
		if *only != "" && !slices.Contains(strings.Split(*only, ","), k.name) {
			continue
		}
		out := make([]outcome, *cohorts)
		check(resample.Each(context.Background(), *cohorts, resample.Sampling{}, func() func(int) error {
			return func(i int) (err error) { out[i], err = one(k, i); return err }
		}))
		report(k, out)
	}
}

// A foreteller is a cohort's curve, or several together.
type foreteller interface {
	Posteriors(ctx context.Context, ts []cohort.Trainee, sampling resample.Sampling) ([]cohort.Posterior, error)
}

// one is one cohort of a kind.
func one(k kind, i int) (outcome, error) {
	r := resample.Stream(*seed, "pool "+k.name, i)
	people, later := k.people(r, "t", *trainees, *attempts), k.people(r, "new ", newPeople, *attempts)
	base := cohort.Spec{Family: models.Exponential(1), Noise: models.Lognormal{}, Workers: 1}
	choice := cohort.Choice{Late: []models.Family{models.Logistic()}, Sampling: resample.Sampling{Seed: *seed, Workers: 1}}
	choice.Noises, choice.LateNoises = cohort.Alike(base.Noise, false)
	for _, name := range models.Candidates(base.Noise) {
		f, err := models.ByName(name, 1)
		if err != nil {
			return outcome{}, err
		}
		choice.Families = append(choice.Families, f)
	}
	var ts []cohort.Trainee
	for _, p := range people {
		ts = append(ts, p.Trainee)
	}
	b, err := cohort.Choose(context.Background(), ts, base, choice)
	if err != nil {
		return outcome{}, fmt.Errorf("%s, cohort %d: %w", k.name, i, err)
	}
	o := outcome{weight: weight(b.Tried, k.signs)}
	if o.chosen, err = foretell(b, later, func(k int) func(p float64) float64 { return b.Fell.After(k).Corrected }, false); err != nil || k.truth == nil {
		return o, err
	}
	known, err := k.known(people)
	if err != nil {
		return outcome{}, fmt.Errorf("%s, cohort %d, the true model: %w", k.name, i, err)
	}
	o.truth, err = foretell(known, later, func(int) func(p float64) float64 { return func(p float64) float64 { return p } }, true)
	return o, err
}

// known is the true model, fitted: of several groups each to its own, weighed by their sizes and by
// what a trainee did.
func (k kind) known(people []person) (foreteller, error) {
	b := &cohort.Blend{Stacking: cohort.Stacking{Trust: 1}}
	for g, spec := range k.truth {
		var ts []cohort.Trainee
		for _, p := range people {
			if p.group == g {
				ts = append(ts, p.plain())
			}
		}
		c, err := cohort.Run(context.Background(), ts, *spec)
		if err != nil {
			return nil, err
		}
		b.Of, b.Weights = append(b.Of, c), append(b.Weights, float64(len(ts))/float64(len(people)))
	}
	if len(b.Of) == 1 {
		return b.Of[0], nil
	}
	return b, nil
}

// weight is that of the models whose names have all the signs.
func weight(tried []cohort.Tried, signs []string) float64 {
	total := 0.0
	for _, t := range tried {
		has := true
		for _, s := range signs {
			s, without := strings.CutPrefix(s, "-")
			has = has && strings.Contains(t.Model, s) != without
		}
		if has && len(signs) > 0 {
			total += t.Weight
		}
	}
	return total
}

// foretell scores people from their first attempts; knowing, with what is true of their method.
func foretell(by foreteller, later []person, correct func(int) func(float64) float64, knowing bool) ([]tally, error) {
	out := make([]tally, len(known))
	for j, k := range known {
		corrected := correct(k)
		var seen []cohort.Trainee
		for _, p := range later {
			t := p.Trainee
			if knowing {
				t = p.plain()
			}
			t.Attempt, t.Response = t.Attempt[:k], t.Response[:k]
			if t.Restart != nil {
				t.Restart = t.Restart[:k]
			}
			seen = append(seen, t)
		}
		posts, err := by.Posteriors(context.Background(), seen, resample.Sampling{Seed: *seed, Workers: 1})
		if err != nil {
			return nil, err
		}
		for i, p := range later {
			for n := k; n < len(p.Attempt); n++ {
				restart := 0.0
				if p.Restart != nil {
					restart = p.Restart[n]
				}
				middle, ends := posts[i].Foretold(p.Attempt[n], restart, corrected(0.05), corrected(0.95))
				if y := p.Response[n]; y >= ends[0] && y <= ends[1] {
					out[j].inside++
				}
				e := math.Log(p.Response[n] / middle)
				if knowing {
					e -= p.method(k, p.Attempt[n])
				}
				out[j].square += e * e
				out[j].n++
			}
		}
	}
	return out, nil
}

// report prints a kind's lines. The standard error of the loss is over cohorts.
func report(k kind, out []outcome) {
	weight := 0.0
	for _, o := range out {
		weight += o.weight / float64(len(out))
	}
	for j, n := range known {
		var chosen, truth tally
		for _, o := range out {
			chosen.add(o.chosen[j])
			if o.truth != nil {
				truth.add(o.truth[j])
			}
		}
		line := fmt.Sprintf("%s,%t,%d,%d,%.4f", k.name, k.inside, n, len(out), chosen.error())
		if truth.n > 0 {
			ratio := chosen.square / truth.square
			ss := 0.0
			for _, o := range out {
				d := o.chosen[j].square - ratio*o.truth[j].square
				ss += d * d
			}
			loss := 100 * (math.Sqrt(ratio) - 1)
			se := 100 * math.Sqrt(ss) / truth.square / 2 / math.Sqrt(ratio)
			line += fmt.Sprintf(",%.4f,%.2f,%.2f,%.4f,%.4f", truth.error(), loss, se, chosen.coverage(), truth.coverage())
		} else {
			line += fmt.Sprintf(",,,,%.4f,", chosen.coverage())
		}
		if k.signs != nil {
			line += fmt.Sprintf(",%.3f", weight)
		} else {
			line += ","
		}
		fmt.Println(line)
	}
}

func check(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
