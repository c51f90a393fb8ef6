package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/fit"
	"tyro/analysis/plan"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/models"
)

// courseFlags are the choices of a plan of practice.
type courseFlags struct {
	from              string
	assume, traineeSD []string
	contrast          string
	told              string
	effect            []string
	arms              []string
	at                float64
	dropOut           float64
	stopMet           []string
	clusters          int
	clusterSD         float64
	whole             bool
	change, changeSD  float64
	quota             float64
	quotaBasis        string
	analyse           string
	events            eventFlags

	effects []plan.Effect
}

var courseFlagNames = []string{"from", "assume", "trainee-sd", "contrast", "told-apart", "effect", "arms", "at", "drop-out", "stop-when-met", "clusters", "cluster-sd", "whole-clusters", "retention-change", "retention-sd", "quota", "quota-basis", "analysis-family", "errors", "error-fall", "error-sd", "error-limit"}

func (f *courseFlags) register(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.from, "from", "", "trainees are like those of the fit in this `file`, which cohort --save kept")
	fs.StringArrayVar(&f.assume, "assume", nil, "trainees are as stated: name=value of the middle trainee, for every parameter of --family and for spread, such as plateau=45,start=175,rate=0.2,spread=0.2")
	fs.StringArrayVar(&f.traineeSD, "trainee-sd", nil, "with --assume: name=value, how much trainees differ in a parameter (of its logarithm where it is on the log scale)")
	fs.StringVar(&f.contrast, "contrast", "", "measure of compare that the arms are to be told apart on: level, mean-level, starting-level, plateau, rate, mean-crossing, rule-met-mean, rule-met-share, rule-met-median, rule-met-hazard, an error that is counted, hard-fails; or retention")
	fs.StringVar(&f.told, "told-apart", plan.AnyArm, "of three or more arms, what is asked for: any (at least one is told from the reference), all (every one is), or the name of an arm; p is adjusted for all arms (Holm)")
	fs.StringArrayVar(&f.effect, "effect", nil, "how the other arm differs from the reference: name=value for a parameter, level, mean-level, starting-level, mean-crossing, an error that is counted, hard-fails or retention; a ratio where these are on the log scale and for errors and fails, otherwise a difference; of several other arms ARM:name=value")
	fs.StringSliceVar(&f.arms, "arms", nil, "names of the arms, the reference first (default: those of the fit, or usual,new)")
	fs.Float64Var(&f.at, "at", 0, "attempt at which levels are compared (default: the last one planned)")
	fs.Float64Var(&f.dropOut, "drop-out", 0, "share of trainees who leave before their last attempt")
	fs.StringSliceVar(&f.stopMet, "stop-when-met", nil, "arms whose trainees stop when they have met the rule")
	fs.IntVar(&f.clusters, "clusters", 0, "sites or session groups that trainees come in, each with trainees of all arms")
	fs.Float64Var(&f.clusterSD, "cluster-sd", 0, "how much clusters move the level (of logarithms where the measure is a time)")
	fs.BoolVar(&f.whole, "whole-clusters", false, "all trainees of a cluster are of one arm; --clusters is then the number in each arm")
	fs.Float64Var(&f.change, "retention-change", 0, "change of the level at one attempt after a break: a ratio for a time (1.2: a fifth slower), otherwise a difference")
	fs.Float64Var(&f.changeSD, "retention-sd", 0, "how much trainees differ in that change (of logarithms for a time)")
	fs.Float64Var(&f.quota, "quota", 0, "ask about the attempts by which this share of trainees has met the rule")
	fs.StringVar(&f.quotaBasis, "quota-basis", "observed", "with --quota: as observed, or curve, what the curve of all trainees together expects of new ones")
	fs.StringVar(&f.analyse, "analysis-family", "", "curve family that the analysis fits (default: that of the trainees)")
	f.events.register(cmd)
}

// courseDesign makes a design of practice.
func (f *planStudyFlags) courseDesign(cmd *cobra.Command, args []string, kind string, a app) (plan.Design, *study.Study, error) {
	var people cohort.Assumed
	var s *study.Study
	var err error
	switch kind {
	case "study":
		people, s, err = f.fromStudy(cmd, args[0], a)
	case "from":
		people, s, err = f.fromFit(cmd)
	default:
		people, s, err = f.stated(cmd)
	}
	if err != nil {
		return plan.Design{}, nil, err
	}
	c := &plan.Course{Task: courseTask(s.Task), DropOut: f.course.dropOut, StopMet: trimmed(f.course.stopMet), Contrast: f.course.contrast, At: f.course.at, Family: f.course.analyse}
	if err := f.course.settle(cmd, c, people); err != nil {
		return plan.Design{}, nil, err
	}
	if c.Events, err = f.course.events.of(s.Practice, c.People.Arms); err != nil {
		return plan.Design{}, nil, err
	}
	return plan.Design{Course: c}, s, nil
}

// settle puts the arms and circumstances into a course.
func (f *courseFlags) settle(cmd *cobra.Command, c *plan.Course, people cohort.Assumed) error {
	changed := cmd.Flags().Changed
	var err error
	if f.effects, err = effectsOf(f.effect); err != nil {
		return err
	}
	arms := trimmed(f.arms)
	switch {
	case changed("quota") && f.contrast != "":
		return usagef("--quota and --contrast exclude each other: a plan is about one of them")
	case !changed("quota") && f.contrast == "":
		return usagef("plan needs --contrast MEASURE, such as --contrast plateau, or --quota SHARE")
	case changed("arms") && len(arms) == 0:
		return usagef("--arms %s: expected names", strings.Join(f.arms, ","))
	case len(arms) == 0:
		arms = f.usualArms(people, changed("quota"))
	}
	if len(arms) == 1 && f.contrast != "" {
		return usagef("--arms %s: a contrast needs two arms", arms[0])
	}
	if err := f.differing(c, people, arms); err != nil {
		return err
	}
	if c.People, err = plan.Between(people, arms...); err != nil {
		return usageError{err}
	}
	if changed("quota") {
		c.Quota = &plan.Quota{Share: f.quota, Arm: arms[len(arms)-1], Curve: f.quotaBasis == "curve"}
	} else if changed("quota-basis") {
		return usagef("--quota-basis goes with --quota")
	}
	if changed("clusters") {
		c.Clusters = &plan.Clusters{Count: f.clusters, SD: f.clusterSD, Whole: f.whole}
	} else if changed("cluster-sd") || f.whole {
		return usagef("--cluster-sd and --whole-clusters go with --clusters")
	}
	if changed("retention-change") {
		c.Test = &plan.Test{SD: f.changeSD}
		for range arms {
			c.Test.Change = append(c.Test.Change, f.change)
		}
	} else if changed("retention-sd") {
		return usagef("--retention-sd goes with --retention-change")
	}
	return nil
}

// differing refuses arms of which nobody says how they differ from the reference, and sets
// which of several is asked about.
func (f *courseFlags) differing(c *plan.Course, people cohort.Assumed, arms []string) error {
	if f.contrast == "" {
		return nil
	}
	for _, arm := range arms[1:] {
		stated := slices.ContainsFunc(f.effects, func(e plan.Effect) bool { return e.Arm == arm || e.Arm == "" && len(arms) == 2 })
		if stated || slices.Contains(people.Arms, arm) {
			continue
		}
		of := ""
		if len(arms) > 2 {
			of = arm + ":"
		}
		return usagef("arm %s is none of the trainees' arms, and no --effect says how it differs from %s: give --effect %sNAME=VALUE (a ratio of 1 leaves a parameter as it is)", arm, arms[0], of)
	}
	if len(arms) > 2 || f.told != plan.AnyArm {
		c.Told = f.told
	}
	return nil
}

// usualArms are the arms where none are named: the fit's own first two, or a new one
// beside the first.
func (f *courseFlags) usualArms(people cohort.Assumed, quota bool) []string {
	switch {
	case quota:
		return people.Arms[:1]
	case len(people.Arms) > 1 && len(f.effects) == 0:
		return people.Arms[:2]
	case people.Arms[0] == "":
		return []string{"usual", "new"}
	}
	return []string{people.Arms[0], "new"}
}

// apply applies the effects, once the size is known.
func (f *courseFlags) apply(d plan.Design) (plan.Design, error) {
	if len(f.effects) == 0 {
		return d, nil
	}
	return d.Apply(f.effects)
}

// effectsOf reads pairs of name=value, or arm:name=value.
func effectsOf(pairs []string) ([]plan.Effect, error) {
	values, err := nameValues("effect", pairs)
	var out []plan.Effect
	for _, v := range values {
		e := plan.Effect{Name: v.Name, Value: v.Value}
		if k := strings.LastIndexByte(v.Name, ':'); k >= 0 {
			e.Arm, e.Name = v.Name[:k], v.Name[k+1:]
		}
		out = append(out, e)
	}
	return out, err
}

// courseTask is what a plan needs of a task.
func courseTask(t practice.Task) plan.Task {
	out := plan.Task{Measure: t.Measure, Lower: t.Lower, Unit: t.Unit, Limit: t.Limit, Standard: analysis.Number(math.NaN()), Horizon: t.Horizon}
	if t.Standard != nil {
		out.Standard = analysis.Number(t.Standard.Value)
	}
	if t.Rule != nil {
		out.Rule = t.Rule.String()
	}
	return out
}

// fromStudy takes trainees to be like those of a study.
func (f *planStudyFlags) fromStudy(cmd *cobra.Command, path string, a app) (cohort.Assumed, *study.Study, error) {
	s, err := prepare(cmd, path, f.common, f.columns, f.curves, a.progress("fitting"))
	if err != nil {
		return cohort.Assumed{}, nil, err
	}
	c, err := s.Cohort(cmd.Context())
	if err != nil {
		return cohort.Assumed{}, nil, fmt.Errorf("the study's trainees could not be fitted together, so there is nothing to plan from: %w; state values with --assume", err)
	}
	s.Notes = append(s.Notes, atZero(c.Cohort)...)
	return c.Assumed(), s, knownFit(c.Cohort)
}

// atZero tells which covariates of a fit the trainees to come have at 0.
func atZero(c *cohort.Cohort) []analysis.Warning {
	var names []string
	for _, e := range c.Fixed {
		if e.Covariate != "" && !slices.Contains(names, e.Covariate) {
			names = append(names, e.Covariate)
		}
	}
	if names == nil {
		return nil
	}
	return []analysis.Warning{{Code: "covariates-at-zero", Text: fmt.Sprintf("the trainees to come are those of the fit with %s at 0 (of a name, its first level)", strings.Join(names, ", "))}}
}

// knownFit refuses a fit that does not show what trainees are like.
func knownFit(c *cohort.Cohort) error {
	for _, e := range c.Fixed {
		if e.NotIdentified {
			return fmt.Errorf("the trainees' attempts do not show the %s, so what more attempts would bring rests on nothing: state values with --assume", e.Parameter)
		}
	}
	return nil
}

// fromFit takes trainees to be like those of a saved fit.
func (f *planStudyFlags) fromFit(cmd *cobra.Command) (cohort.Assumed, *study.Study, error) {
	saved, err := readFit(f.course.from)
	if err != nil {
		return cohort.Assumed{}, nil, err
	}
	c := saved.Cohort
	s, err := f.withoutData(cmd, c.Model.Family, c.Model.Noise)
	if err != nil {
		return cohort.Assumed{}, nil, err
	}
	s.SHA256, s.Notes = c.Source.DataSHA256, atZero(c)
	if saved.Weighed() {
		s.Notes = append(s.Notes, analysis.Warning{Code: "best-model-alone", Text: fmt.Sprintf("of the models weighed in the saved fit the plan rests on the one that foresees best, the %s curve with %s noise", c.Family, c.Noise)})
	}
	return c.Assumed(), s, knownFit(c)
}

// withoutData is a study of which only the task is stated.
func (f *planStudyFlags) withoutData(cmd *cobra.Command, family models.Family, noise models.Noise) (*study.Study, error) {
	if f.columns.measure == "" {
		f.columns.measure = string(measureOf(noise))
	}
	o := study.Options{Families: []models.Family{family}, Noise: noise}
	f.common.settle(&o, nil)
	spec := datasets.Single{Response: "response", Measure: datasets.Measure(f.columns.measure), Better: f.columns.better, Limit: f.columns.limit, Rule: f.columns.rule, Horizon: f.columns.horizon}
	if cmd.Flags().Changed("standard") {
		spec.Standard = &f.columns.standard
	}
	task, err := spec.Practised()
	if err != nil {
		return nil, wrongFlags(err)
	}
	s, err := study.New(practice.Practice{Task: task}, o)
	if err != nil {
		return nil, usageError{err}
	}
	return s, nil
}

// measureOf is the measure that a noise is usual for.
func measureOf(noise models.Noise) practice.Measure {
	switch {
	case models.IsPassFail(noise):
		return practice.PassFail
	case models.IsCount(noise):
		return practice.Count
	case models.NeedsPositive(noise):
		return practice.Time
	}
	return practice.Score
}

// stated takes trainees to be as the flags say.
func (f *planStudyFlags) stated(cmd *cobra.Command) (cohort.Assumed, *study.Study, error) {
	var none cohort.Assumed
	values, err := nameValues("assume", f.course.assume)
	if err != nil {
		return none, nil, err
	}
	sds, err := nameValues("trainee-sd", f.course.traineeSD)
	if err != nil {
		return none, nil, err
	}
	o, err := f.curves.options(cmd)
	if err != nil {
		return none, nil, err
	}
	if len(o.Families) != 1 {
		return none, nil, usagef("--assume needs --family, such as --family exponential")
	}
	noise, err := f.statedNoise()
	if err != nil {
		return none, nil, err
	}
	s, err := f.withoutData(cmd, o.Families[0], noise)
	if err != nil {
		return none, nil, err
	}
	people, err := assumed(o.Families[0], noise, values, sds)
	if b, ok := noise.(models.Limited); ok {
		people.Guess, people.Lapse = b.Limits()
	}
	return people, s, err
}

// statedNoise is the noise of --noise, or the usual one of --measure.
func (f *planStudyFlags) statedNoise() (models.Noise, error) {
	if f.curves.noise != "" {
		return models.NoiseByName(f.curves.noise)
	}
	m := practice.Measure(f.columns.measure)
	if m == "" {
		m = practice.Score
	}
	noise := study.UsualNoise(m)
	if b, ok := noise.(models.Limited); ok {
		noise = b.WithLimits(f.curves.guess, f.curves.lapse)
	}
	return noise, nil
}

// assumed are the people that name=value pairs state.
func assumed(family models.Family, noise models.Noise, values, sds []fit.Hold) (cohort.Assumed, error) {
	out := cohort.Assumed{Family: family.Name(), Origin: analysis.Number(family.Origin()), Noise: noise.Name(), Arms: []string{""}}
	start := slices.ContainsFunc(values, func(h fit.Hold) bool { return h.Name == cohort.Start })
	var names []string
	for _, p := range family.Params() {
		q := cohort.AssumedParameter{Name: p.Name, Scale: cohort.Identity}
		if p.Positive || p.Linear && models.NeedsPositive(noise) {
			q.Scale = cohort.Log
		}
		if p.Name == "gain" && start {
			q.Name = cohort.Start
		}
		out.Parameters = append(out.Parameters, q)
	}
	if noise.HasScale() {
		out.Parameters = append(out.Parameters, cohort.AssumedParameter{Name: cohort.Spread, Scale: cohort.Log})
	}
	for _, p := range out.Parameters {
		names = append(names, p.Name)
	}
	find := func(flag string, h fit.Hold) (int, error) {
		k := slices.Index(names, h.Name)
		if k < 0 {
			return k, usagef("--%s %s: the %s curve with %s noise has %s", flag, h.Name, family.Name(), noise.Name(), strings.Join(names, ", "))
		}
		return k, nil
	}
	var wrong []error
	for _, h := range values {
		k, err := find("assume", h)
		if err == nil && (math.IsNaN(h.Value) || out.Parameters[k].Scale == cohort.Log && h.Name != "gain" && !(h.Value > 0) || h.Name == "gain" && h.Value == 0) {
			err = usagef("--assume %s=%v: expected a number above 0", h.Name, h.Value)
		}
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		out.Parameters[k].Values = []analysis.Number{analysis.Number(h.Value)}
	}
	for _, h := range sds {
		k, err := find("trainee-sd", h)
		if err == nil && !(h.Value >= 0) {
			err = usagef("--trainee-sd %s=%v: expected a number from 0", h.Name, h.Value)
		}
		if err != nil {
			wrong = append(wrong, err)
			continue
		}
		out.Parameters[k].SD = analysis.Number(h.Value)
	}
	for _, p := range out.Parameters {
		if !slices.ContainsFunc(values, func(h fit.Hold) bool { return h.Name == p.Name }) {
			wrong = append(wrong, usagef("--assume says nothing of %s: give %s=VALUE", p.Name, p.Name))
		}
	}
	return out, errors.Join(wrong...)
}
