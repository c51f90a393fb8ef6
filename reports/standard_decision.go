package reports

import (
	"math"

	"tyro/analysis/practice"
	"tyro/datasets"
)

// A StandardDecision is who made a value the standard, when, and on which data. Nothing
// here is known to the program: blank stays blank.
type StandardDecision struct {
	Value        float64 // NaN: the estimate
	By, On, Data string
	Wanted       bool // whether the study file's block is asked for
}

// decide makes the block for the study file. The file itself is never changed.
func (d *Standard) decide(c *practice.Computed) error {
	decision := d.Question.Decision
	if !decision.Wanted {
		return nil
	}
	s := practice.Decision{
		Value: decision.Value, Level: d.Level, Method: d.Definition, DecidedBy: decision.By, DecidedOn: decision.On, Data: decision.Data, Computed: c,
	}
	if c == nil { // a study's own hash would hold the block itself
		s.DataHash = d.DataSHA256
	}
	if math.IsNaN(s.Value) {
		s.Value = float64(d.Estimate)
	}
	if math.IsNaN(s.Value) {
		return nil // no standard came out, and warnings say why
	}
	if e := d.Experts; e != nil && e.Runs != "" {
		s.Method += "; one value an expert: " + e.Runs
	}
	if lower, upper := float64(d.Lower), float64(d.Upper); !math.IsNaN(lower) && !math.IsNaN(upper) {
		s.Interval = []float64{lower, upper}
	}
	if pass, fail := float64(d.FalsePass), float64(d.FalseFail); !math.IsNaN(pass) && !math.IsNaN(fail) {
		s.FalsePass, s.FalseFail = &pass, &fail
	}
	if s.DecidedBy == "" || s.DecidedOn == "" || s.Data == "" {
		d.Warn("decision-incomplete", "the block for the study file leaves blank who decided, when, or on which data (--decided-by, --decided-on, --data)")
	}
	var err error
	d.StudyBlock, err = datasets.Block(s)
	return err
}

// Appendix is the block for the study file.
func (d *Standard) Appendix() string {
	if d.StudyBlock == "" {
		return ""
	}
	return "\nFor the task in the study file, which is not changed here:\n" + d.StudyBlock
}

// computed says how a standard follows from the study's experts.
func (q StandardQuestion) computed(c StandardColumns) *practice.Computed {
	out := &practice.Computed{
		Method: q.Method, SDs: q.SDs, Trim: q.Drop.Trim, DropSDs: q.Drop.SDs, DropMADs: q.Drop.MADs, LogScale: q.Log, Summary: c.Summary, SkipRuns: c.SkipRuns,
	}
	if q.Method == ExpertPercentile {
		out.Percentile, out.SDs = 100*q.Share, 0
	}
	return out
}

// QuestionFrom is the question that a study file's standard was the answer to,
// with how an expert's runs become one value.
func QuestionFrom(c practice.Computed) (StandardQuestion, StandardColumns) {
	q := StandardQuestion{Method: c.Method, SDs: c.SDs, Share: c.Percentile / 100, Log: c.LogScale, Decision: StandardDecision{Value: math.NaN()}}
	q.Drop.Trim, q.Drop.SDs, q.Drop.MADs = c.Trim, c.DropSDs, c.DropMADs
	if q.Method == ExpertPercentile && q.Share == 0 {
		q.Share = 0.5
	}
	return q, StandardColumns{Summary: c.Summary, SkipRuns: c.SkipRuns}
}
