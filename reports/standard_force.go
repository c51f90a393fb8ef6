package reports

import (
	"context"
	"errors"
	"fmt"
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// ExpectedErrors is what single attempts do at a standard, by those who should
// pass and by those who cannot have learnt yet. The standard is the one in force,
// else the estimate. Error limits and hard fails count.
type ExpectedErrors struct {
	Standard      Number `json:"standard"`
	Experts       int    `json:"experts"`
	ExpertsFail   int    `json:"experts_failing"` // by their own value
	Runs          int    `json:"runs"`            // of experts, without familiarisation
	RunsFail      int    `json:"runs_failing"`
	FirstAttempts int    `json:"first_attempts"` // of trainees
	FirstPass     int    `json:"first_attempts_passing"`
}

// expect counts them where the study has attempts.
func (d *Standard) expect(in *Input, data StandardData) {
	if len(in.Trainees) == 0 {
		return
	}
	value := float64(d.Estimate)
	if d.InForce != nil {
		value = float64(d.InForce.Value)
	}
	if math.IsNaN(value) {
		return
	}
	x := &ExpectedErrors{Standard: Number(value)}
	for _, v := range data.Experts {
		if !math.IsNaN(v) {
			x.Experts++
			x.ExpertsFail += One(!standard.Passes(v, value, in.Task.LowerIsBetter()))
		}
	}
	at := in.Question.Standard.At(value)
	for _, t := range in.Study.Experts {
		for k, a := range t.Counted() {
			if k >= data.SkipRuns {
				x.Runs++
				x.RunsFail += One(!a.Passes(at))
			}
		}
	}
	for _, t := range in.Study.Trainees {
		for _, a := range t.Counted() {
			if a.Number == 1 {
				x.FirstAttempts++
				x.FirstPass += One(a.Passes(at))
			}
		}
	}
	d.Expected = x
}

// sentences say it.
func (x ExpectedErrors) Sentences() []string {
	var out []string
	if x.Experts > 0 {
		out = append(out, fmt.Sprintf("False fails to expect: at %s, %d of %d experts miss it by their own value, and %d of their %d single runs (%s) do not pass.",
			Significant(float64(x.Standard), 4), x.ExpertsFail, x.Experts, x.RunsFail, x.Runs, Percent(float64(x.RunsFail)/float64(x.Runs))))
	}
	if x.FirstAttempts > 0 {
		out = append(out, fmt.Sprintf("False passes to expect: at %s, %d of %d trainees (%s) pass with their very first attempt.",
			Significant(float64(x.Standard), 4), x.FirstPass, x.FirstAttempts, Percent(float64(x.FirstPass)/float64(x.FirstAttempts))))
	}
	return out
}

// AsDecided is the method of a standard that is not computed from the study's
// data.
const AsDecided = "as-decided"

// CurrentStandard looks at a study's standard: computed again from its experts as
// the study file says; else as the file has it, with the interval it states;
// where there is neither, the mean of the experts if there are any.
func CurrentStandard(ctx context.Context, in *Input) (*Standard, error) {
	s := in.Task.Standard
	experts := len(in.File.Experts.Attempts) > 0
	switch {
	case s == nil && !experts:
		return nil, errors.New("the study has neither a standard nor experts to set one")
	case s != nil && (!experts || s.Computed == nil && len(s.Interval) == 2):
		return decidedStandard(in, *s), nil
	}
	computed := practice.Computed{Method: ExpertMean}
	if s != nil && s.Computed != nil {
		computed = *s.Computed
	}
	q, columns := QuestionFrom(computed)
	q.Lower = in.Task.LowerIsBetter()
	data, err := StudyExperts(in, q, columns)
	if err != nil {
		return nil, err
	}
	return SetStandard(ctx, in, q, data)
}

// decidedStandard is what the study file says of its standard, and whom that
// decides about.
func decidedStandard(in *Input, s practice.Decision) *Standard {
	nan := Number(math.NaN())
	d := &Standard{
		Header: newHeader("standard", in), Method: AsDecided, Estimate: Number(s.Value), SE: nan, N: nan, Level: s.Level, Definition: s.Method, FalsePass: nan, FalseFail: nan,
		Better: in.Task.Better, Question: StandardQuestion{Lower: in.Task.LowerIsBetter()}, Unit: in.Task.Unit, InForce: inForce(&s),
	}
	if d.Level == 0 {
		d.Level = 0.95
	}
	if s.FalsePass != nil {
		d.FalsePass = Number(*s.FalsePass)
	}
	if s.FalseFail != nil {
		d.FalseFail = Number(*s.FalseFail)
	}
	d.Lower, d.Upper = d.InForce.Lower, d.InForce.Upper
	if math.IsNaN(float64(d.Lower)) {
		d.Warn("standard-without-interval", "the study file does not say how sure the standard is (interval:), so it is not known how many trainees depend on it")
	}
	d.Warn("no-standard-error", "a standard that is not computed from the study's experts has no standard error")
	d.status(in, standard.Estimate{Value: s.Value, Lower: float64(d.Lower), Upper: float64(d.Upper)}, StandardData{})
	d.expect(in, StandardData{})
	return d
}
