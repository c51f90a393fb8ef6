package reports

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
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

// An Input is a study made ready for the analyses: series by trainee for one
// task.
type Input struct {
	Study    *datasets.Study
	Task     datasets.Task
	Options  Options
	Trainees []Trainee
	Specs    []fit.Spec // the candidate curves
	Question proficiency.Question
	Rule     proficiency.Rule // nil when the study has none
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
func Prepare(study *datasets.Study, o Options) (*Input, error) {
	if o.Seed == 0 {
		o.Seed = study.Seed
	}
	if o.Seed == 0 {
		o.Seed = DefaultSeed
	}
	if o.Level == 0 {
		o.Level = 0.95
	}
	in := &Input{Study: study, Options: o}
	if len(study.Tasks) == 0 {
		return in, nil
	}
	task, err := study.TaskNamed(o.Task)
	if err != nil {
		return nil, err
	}
	in.Task = task
	if !o.NoCurves {
		if in.Specs, err = in.specs(); err != nil {
			return nil, err
		}
	}
	in.Question = proficiency.Question{
		Standard: math.NaN(), Lower: task.LowerIsBetter(), Horizon: task.Horizon, Chance: o.Chance, Level: o.Level,
	}
	if in.Question.Horizon == 0 {
		in.Question.Horizon = proficiency.DefaultHorizon
	}
	if in.Question.Chance == 0 {
		in.Question.Chance = 0.8
	}
	if task.Standard != nil {
		in.Question.Standard = task.Standard.Value
	}
	if task.Rule != "" {
		if in.Rule, err = proficiency.ParseRule(task.Rule); err != nil {
			return nil, err
		}
		in.Question.Rule = in.Rule
	}
	if m := task.Monitor; m != nil {
		if in.Question.Chart, err = proficiency.NewChart(monitor.Rates{Acceptable: m.Acceptable, Unacceptable: m.Unacceptable}); err != nil {
			return nil, err
		}
	}
	in.Trainees = in.series()
	return in, nil
}

// specs makes the candidate curves from the options.
func (in *Input) specs() ([]fit.Spec, error) {
	o, positive := in.Options, in.Task.Measure == datasets.Time
	noiseName := o.Noise
	if noiseName == "" {
		noiseName = map[datasets.Measure]string{
			datasets.Time: "lognormal", datasets.Score: "normal", datasets.Count: "poisson", datasets.PassFail: "bernoulli",
		}[in.Task.Measure]
	}
	noise, err := models.NoiseByName(noiseName)
	if err != nil {
		return nil, err
	}
	if o.Guess > 0 || o.Lapse > 0 {
		if _, passFail := noise.(models.Bernoulli); !passFail {
			return nil, fmt.Errorf("a guess or lapse limit belongs to passes and fails, not to %s noise", noise.Name())
		}
		noise = models.Bernoulli{Guess: o.Guess, Lapse: o.Lapse}
	}
	origin := 1.0
	if o.Origin != nil {
		origin = *o.Origin
	}
	names := []string{o.Family}
	if o.Family == "" || o.Family == "auto" {
		names = models.Candidates(noise)
		if !positive { // a curve through 0 without a plateau makes sense for times only
			names = slices.DeleteFunc(names, func(n string) bool { return n == "wright" })
		}
	}
	var families []models.Family
	for _, n := range names {
		f, err := models.ByName(n, origin)
		if err != nil {
			return nil, err
		}
		families = append(families, f)
	}
	common := fit.Spec{Noise: noise, Hold: o.Hold, Positive: positive, Level: o.Level}
	specs := fit.Candidates(common, families)
	if len(specs) == 0 {
		common.Family = families[0]
		_, err := fit.One(fit.Series{}, common)
		return nil, err
	}
	return specs, nil
}

// series sorts the log into trainees, in the order first seen.
func (in *Input) series() []Trainee {
	log, task := in.Study.Attempts, in.Task
	var out []Trainee
	at := map[string]int{}
	for _, a := range log.Attempts {
		if a.Task != task.Name {
			continue
		}
		i, ok := at[a.Trainee]
		if !ok {
			i = len(out)
			at[a.Trainee] = i
			out = append(out, Trainee{ID: a.Trainee, Arm: a.Arm})
			if task.Measure == datasets.Time {
				out[i].Series.Limit = task.Limit
			}
		}
		out[i].add(log, a, task, in.Question.Standard)
	}
	for i := range out {
		out[i].sortCounted()
	}
	if in.Options.NoCurves {
		return out
	}
	restarts := in.restarts()
	for i := range out {
		s := &out[i].Series
		for _, n := range s.Attempt {
			s.Restart = append(s.Restart, restarts[out[i].ID][n])
		}
	}
	return out
}

// add puts one attempt where its outcome belongs.
func (t *Trainee) add(log datasets.Log, a datasets.Attempt, task datasets.Task, standard float64) {
	if a.Outcome == datasets.Void {
		t.Voids++
		return
	}
	t.Counted = append(t.Counted, a.Number)
	t.Passes = append(t.Passes, log.Passes(a, task, standard))
	counts := make([]float64, len(task.Counts))
	for k, name := range task.Counts {
		counts[k] = a.Values[log.Column(name)]
	}
	t.Errors = append(t.Errors, counts)
	v := log.Response(a, task)
	switch {
	case a.Outcome == datasets.Failed:
		t.Fails++
		t.Hard = append(t.Hard, a.Number)
	case math.IsNaN(v):
		t.Blank++
	default:
		s := &t.Series
		s.Attempt = append(s.Attempt, a.Number)
		s.Response = append(s.Response, v)
		s.Session = append(s.Session, a.Session)
		if len(task.AtMost) > 0 {
			t.Clean = append(t.Clean, log.Clean(a, task))
		}
		s.Censored = append(s.Censored, a.Outcome == datasets.Timeout && task.Measure == datasets.Time)
	}
}

func (t *Trainee) sortCounted() {
	order := make([]int, len(t.Counted))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case t.Counted[a] < t.Counted[b]:
			return -1
		case t.Counted[a] > t.Counted[b]:
			return 1
		}
		return 0
	})
	counted, passes, errors := make([]float64, len(order)), make([]bool, len(order)), make([][]float64, len(order))
	for i, j := range order {
		counted[i], passes[i], errors[i] = t.Counted[j], t.Passes[j], t.Errors[j]
	}
	t.Counted, t.Passes, t.Errors = counted, passes, errors
}

// arms lists the arms in the order of the study file, then as first seen.
func (in *Input) arms() []string {
	out := slices.Clone(in.Study.Arms)
	for _, t := range in.Trainees {
		if !slices.Contains(out, t.Arm) {
			out = append(out, t.Arm)
		}
	}
	return slices.DeleteFunc(out, func(a string) bool {
		return !slices.ContainsFunc(in.Trainees, func(t Trainee) bool { return t.Arm == a })
	})
}

// members lists the positions of an arm's trainees.
func (in *Input) members(arm string) []int {
	var out []int
	for i, t := range in.Trainees {
		if t.Arm == arm {
			out = append(out, i)
		}
	}
	return out
}

func (in *Input) plan() resample.Plan {
	return resample.Plan{Seed: in.Options.Seed, Replicates: in.Options.Replicates, Workers: in.Options.Workers}
}

// eachTrainee works on every trainee, several at a time.
func (in *Input) eachTrainee(ctx context.Context, work func(i int, t Trainee) error) error {
	plan := in.plan()
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
