package reports

import (
	"context"
	"errors"
	"fmt"
	"math"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/analysis/survival"
	"tyro/datasets"
	"tyro/models"
)

// Options are the choices common to every command; the zero value of a field
// means the study's own choice or the default.
type Options struct {
	Task       string
	Family     string // "" or auto: by AICc
	Noise      string
	Hold       []fit.Hold
	Origin     *float64
	Level      float64
	Chance     float64
	Seed       uint64
	Replicates int
	Workers    int
	Guess      float64    // limits of a pass-fail curve
	Lapse      float64    //
	Interval   fit.Method // of curves; "" means profile likelihood
	Seen       int        // attempts from which the rest are predicted; 0 for none
	Against    string     // a smaller family that curves are tested against; "" for none
	NoCurves   bool       // nothing will be fitted, so any measure will do
	Progress   func(done, total int)
}

func (o Options) interval() fit.Method {
	if o.Interval == "" {
		return fit.ByProfile
	}
	return o.Interval
}

// DefaultSeed is used where neither the caller nor the study names one.
const DefaultSeed = 1

// An Input is a study made ready for the analyses.
type Input struct {
	*study.Study
	File     *datasets.Study
	Task     datasets.Task
	Options  Options
	Trainees []Trainee
	Rule     practice.Rule // nil when the study has none
}

// A Trainee is one person's attempts at the task.
type Trainee struct {
	ID, Arm string
	Series  fit.Series
	Fails   int // hard fails: not in the series
	Voids   int
	Blank   int // attempts without a usable measure, left out of the curve

	Clean []bool // whether they kept within the task's error limits; nil when it has none

	Counted []float64   // attempt numbers of all attempts but void ones, in order
	Passes  []bool      // whether each of them meets the standard
	Hard    []float64   // attempts that were hard fails
	Errors  [][]float64 // error counts of each counted attempt, in the order of the task's counts
}

// Prepare settles options and makes the series.
func Prepare(file *datasets.Study, o Options) (*Input, error) {
	if o.Seed == 0 {
		o.Seed = file.Seed
	}
	if o.Seed == 0 {
		o.Seed = DefaultSeed
	}
	if o.Level == 0 {
		o.Level = 0.95
	}
	in := &Input{File: file, Options: o}
	p, err := file.Practice(o.Task)
	if err != nil {
		return nil, err
	}
	if len(file.Tasks) > 0 {
		if in.Task, err = file.TaskNamed(o.Task); err != nil {
			return nil, err
		}
	}
	so := study.Options{
		Hold: o.Hold, Origin: o.Origin, Level: o.Level, Chance: o.Chance, Seed: o.Seed, Replicates: o.Replicates, Workers: o.Workers,
		NoCurves: o.NoCurves, Progress: o.Progress,
	}
	if o.Noise != "" {
		if so.Noise, err = models.NoiseByName(o.Noise); err != nil {
			return nil, err
		}
	}
	if o.Guess > 0 || o.Lapse > 0 {
		_, passFail := so.Noise.(models.Bernoulli)
		if so.Noise == nil && in.Task.Measure == datasets.PassFail {
			passFail = true
		}
		if !passFail {
			return nil, errors.New("a guess or lapse limit belongs to passes and fails")
		}
		so.Noise = models.Bernoulli{Guess: o.Guess, Lapse: o.Lapse}
	}
	if o.Family != "" && o.Family != "auto" {
		origin := 1.0
		if o.Origin != nil {
			origin = *o.Origin
		}
		f, err := models.ByName(o.Family, origin)
		if err != nil {
			return nil, err
		}
		so.Families = []models.Family{f}
	}
	if in.Study, err = study.New(p, so); err != nil {
		return nil, err
	}
	in.Rule = in.Question.Rule
	if len(file.Tasks) > 0 {
		in.Trainees = in.series()
	}
	return in, nil
}

// series lists the trainees as the documents still take them.
func (in *Input) series() []Trainee {
	var out []Trainee
	for _, t := range in.Study.Trainees {
		one := Trainee{ID: t.ID, Arm: t.Arm, Series: fit.SeriesOf(t), Counted: t.Numbers(), Passes: t.Passes(in.Question.Standard)}
		for _, a := range t.Attempts {
			switch {
			case a.Outcome == practice.Void:
				one.Voids++
				continue
			case a.Outcome == practice.Failed:
				one.Fails++
				one.Hard = append(one.Hard, a.Number)
			case !a.Measured():
				one.Blank++
			case t.ErrorLimits:
				one.Clean = append(one.Clean, a.Clean)
			}
			one.Errors = append(one.Errors, a.Errors)
		}
		out = append(out, one)
	}
	return out
}

// members lists the positions of an arm's trainees.
func (in *Input) Members(arm string) []int {
	var out []int
	for i, t := range in.Trainees {
		if t.Arm == arm {
			out = append(out, i)
		}
	}
	return out
}

func (in *Input) Plan() resample.Plan {
	return resample.Plan{Seed: in.Options.Seed, Replicates: in.Options.Replicates, Workers: in.Options.Workers}
}

// eachTrainee works on every trainee, several at a time.
func (in *Input) eachTrainee(ctx context.Context, work func(i int, t Trainee) error) error {
	plan := in.Plan()
	plan.Progress = in.Options.Progress
	return resample.Each(ctx, len(in.Trainees), plan, func() func(int) error {
		return func(i int) error {
			if err := work(i, in.Trainees[i]); err != nil {
				if id := in.Trainees[i].ID; id != "" {
					return fmt.Errorf("trainee %s: %w", id, err)
				}
				return err
			}
			return nil
		}
	})
}

// Observe runs every trainee's passes through a rule or a chart.
func (in *Input) Observe(p stopping.Policy) []proficiency.Observed {
	return in.Observed(p)
}

// observations lists an arm's observed attempts as right-censored data.
func (in *Input) observations(arm string, observed []proficiency.Observed) []survival.Observation {
	var obs []proficiency.Observed
	for _, i := range in.Members(arm) {
		obs = append(obs, observed[i])
	}
	return proficiency.Survival(obs)
}

// commonTau is the last attempt up to which every arm has been followed.
func (in *Input) commonTau(observed []proficiency.Observed) float64 {
	tau := math.Inf(1)
	for _, arm := range in.Arms {
		last := 0.0
		for _, o := range in.observations(arm, observed) {
			last = math.Max(last, o.Time)
		}
		tau = math.Min(tau, last)
	}
	return tau
}
