// Package study holds the questions asked of one study. Each answer is computed once,
// when it is first asked for, from the others that it rests on, and is a plain result
// with its warnings: a warning of what an answer rests on stands with the answer too.
//
// # Order
//
// Practice becomes series, series become curves ([Study.Learners]) and one curve of
// all trainees together ([Study.Cohort]); attempts to proficiency, quotas, comparisons
// and charts follow from these. Nothing here reads a file, writes a page or draws.
//
// # Words
//
// Trainees and arms come in the order first seen. A trainee who cannot be fitted is
// named in a warning and left out of what needs a curve, and counts everywhere else.
package study

import (
	"context"
	"fmt"
	"slices"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/shard"
	"tyro/analysis/stopping"
	"tyro/models"
)

// Options are the choices that all questions share. The zero value of a field means
// the study's own choice, or the default.
type Options struct {
	Families []models.Family // tried; nil: all that suit the noise and the measure
	Noise    models.Noise    // nil: by the measure
	Hold     []fit.Hold
	Origin   *float64 // at which the starting level is read; nil: 1
	Restart  bool     // curves have a shift after breaks between sessions
	Fading   float64  // of that shift from attempt to attempt; 0: the first attempt alone
	// Correlated lets neighbouring attempts of a session be alike beyond the curve.
	Correlated bool
	From       []fit.Hold // starts of the search; nil: everywhere

	Level      float64 // of intervals; 0 means 0.95
	Chance     float64 // to pass, for pass-chance; 0 means 0.8
	Average    bool    // attempts are averaged over the curves tried, by AICc weight
	Interval   resample.Method
	Chart      *stopping.Chart // of chart-signal; nil: by the task's failure rates
	Seed       uint64          // 0: the study's, else 1
	Replicates int             // 0 means resample's default
	Workers    int             // 0: all processors; never changes a number
	Weigh      bool            // the cohort's model is weighed, see [CohortSpec]
	NoCurves   bool            // nothing will be fitted, so any measure will do
	Progress   func(done, total int)
	Watch      Watch // told of the fits; shows that none is made twice
	Request    Request
	// Ledger is for a run that is cut into shards: it has what single trainees, or single
	// replicates, gave. nil: all is done here.
	Ledger *shard.Ledger
}

// Watch is told of what is fitted, perhaps by several goroutines at once. A nil field is
// told of nothing.
type Watch struct {
	Curve  func(fit.Series, fit.Spec)                       // see [fit.Spec]
	Cohort func(cohort.Work, cohort.Spec, []cohort.Trainee) // see [cohort.Spec]
}

// DefaultSeed is used where neither the caller nor the study names one.
const DefaultSeed = 1

// A Study is what was seen, with the choices made, and answers questions about it.
type Study struct {
	practice.Practice
	Options  Options    // settled: with defaults in place
	Specs    []fit.Spec // the candidate curves
	Question proficiency.Question

	learners answer[*Learners]
	cohort   answer[*CohortFit]
	one      answer[*CohortFit] // that of one model and one group of trainees
	standard answer[*Standard]

	proficiency answer[*Proficiency]
}

// New settles the choices. A wrong combination of them is an error.
func New(p practice.Practice, o Options) (*Study, error) {
	if err := o.Request.check(p); err != nil {
		return nil, err
	}
	o.Seed = firstSet(o.Seed, p.Seed, DefaultSeed)
	if o.Level == 0 {
		o.Level = 0.95
	}
	if o.Chance == 0 {
		o.Chance = 0.8
	}
	s := &Study{Practice: p, Options: o}
	if p.Task.Name == "" && len(p.Trainees) == 0 {
		return s, nil
	}
	var err error
	if !o.NoCurves {
		if s.Specs, err = s.specs(); err != nil {
			return nil, err
		}
	}
	s.Question = proficiency.Question{
		Standard: p.Task.Level(), Horizon: p.Task.Horizon, Chance: o.Chance, Rule: p.Task.Rule, Chart: o.Chart,
		Average: o.Average, Level: o.Level, Interval: o.Interval, Watch: o.Watch.Cohort,
	}
	if s.Question.Horizon == 0 {
		s.Question.Horizon = proficiency.DefaultHorizon
	}
	if r := p.Task.Rates; o.Chart == nil && r != nil {
		s.Question.Chart, err = stopping.NewChart(monitor.Rates(*r))
	}
	return s, err
}

func firstSet(seeds ...uint64) uint64 {
	for _, s := range seeds {
		if s != 0 {
			return s
		}
	}
	return 0
}

// UsualNoise is the noise of a measure where none is named.
func UsualNoise(m practice.Measure) models.Noise {
	return map[practice.Measure]models.Noise{
		practice.Time: models.Lognormal{}, practice.Score: models.Normal{}, practice.Count: models.Poisson{}, practice.PassFail: models.Bernoulli{},
	}[m]
}

// specs makes the candidate curves.
func (s *Study) specs() ([]fit.Spec, error) {
	o, isTime := s.Options, s.Task.Measure == practice.Time
	noise := o.Noise
	if noise == nil {
		noise = UsualNoise(s.Task.Measure)
	}
	families := o.Families
	if families == nil {
		origin := 1.0
		if o.Origin != nil {
			origin = *o.Origin
		}
		for _, name := range models.Candidates(noise) {
			f, err := models.ByName(name, origin)
			if err != nil {
				return nil, err
			}
			if f.IsLogLog() && !isTime { // a curve to 0 without a plateau makes sense for times only
				continue
			}
			families = append(families, f)
		}
	}
	common := fit.Spec{
		Noise: noise, Hold: o.Hold, Positive: isTime, Level: o.Level, Restart: o.Restart, Fading: o.Fading, Correlated: o.Correlated, From: o.From, Watch: o.Watch.Curve,
	}
	specs := fit.Candidates(common, families)
	if len(specs) == 0 { // say why of one of them
		common.Family = families[0]
		_, err := fit.One(fit.Series{}, common)
		return nil, err
	}
	return specs, nil
}

// Noise is the noise that all candidate curves share.
func (s *Study) Noise() models.Noise { return s.Specs[0].Noise }

// FamilyChosen reports whether the curve's family was left to the data.
func (s *Study) FamilyChosen() bool { return len(s.Specs) > 1 }

// Sampling is how replicates are drawn.
func (s *Study) Sampling() resample.Sampling {
	return resample.Sampling{Seed: s.Options.Seed, Replicates: s.Options.Replicates, Workers: s.Options.Workers}
}

// shown is the sampling with the progress that is shown to people.
func (s *Study) shown() resample.Sampling {
	p := s.Sampling()
	p.Progress = s.Options.Progress
	return p
}

// cut is the sampling of work that can be cut into shards.
func (s *Study) cut() resample.Sampling {
	p := s.shown()
	p.Ledger = s.Options.Ledger
	return p
}

// needStandard is an error where no standard is set.
func (s *Study) needStandard(who string) error {
	switch {
	case s.Question.Standard.Set():
	case s.Task.Measure == practice.PassFail:
		return fmt.Errorf("%s a standard: each attempt passes or fails by itself, and the standard is the chance to pass that is asked for; give --standard, such as 0.8, or set it in the study file", who)
	default:
		return fmt.Errorf("%s a standard: give --standard, or set it in the study file", who)
	}
	return nil
}

// eachTrainee works on every trainee, several at a time.
func (s *Study) eachTrainee(ctx context.Context, work func(i int, t practice.Trainee) error) error {
	return resample.Each(ctx, len(s.Trainees), s.shown(), func() func(int) error {
		return func(i int) error {
			if err := work(i, s.Trainees[i]); err != nil {
				return s.named(i, err)
			}
			return nil
		}
	})
}

// named puts the trainee before an error.
func (s *Study) named(i int, err error) error {
	if id := s.Trainees[i].ID; id != "" {
		return fmt.Errorf("trainee %s: %w", id, err)
	}
	return err
}

// Warnings collects remarks, each once.
type Warnings []analysis.Warning

// Add puts a warning at the end, unless it stands there already.
func (w *Warnings) Add(code, text string) {
	if one := (analysis.Warning{Code: code, Text: text}); !slices.Contains(*w, one) {
		*w = append(*w, one)
	}
}

// With adds the warnings of what an answer rests on.
func (w *Warnings) With(more []analysis.Warning) {
	for _, m := range more {
		w.Add(m.Code, m.Text)
	}
}

// ArmName is an arm in words.
func ArmName(arm string) string {
	if arm == "" {
		return "(all)"
	}
	return arm
}
