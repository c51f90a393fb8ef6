package page

import (
	"bytes"
	"context"
	"errors"
	"io"

	"tyro/analysis"
	"tyro/analysis/study"
	"tyro/reports"
)

// A Report is the whole job on one study.
type Report struct {
	in          *reports.Input
	Check       *reports.Check
	Curves      *reports.Curves
	Cohort      *reports.Cohort      // nil with few trainees, or where they could not be fitted together
	Standard    *reports.Standard    // nil with neither a standard nor experts
	Proficiency *reports.Proficiency // nil without a standard
	Schedule    *reports.Schedule    // nil without a standard and a rule
	Rules       *reports.Rules       // nil without a standard and a rule
	Agreement   *reports.Agreement   // nil without ratings
	Comparison  *reports.Comparison  // nil with fewer than two arms
	Watch       *Watch               // nil where the study states no failure rates to watch for
	Missing     []analysis.Warning
}

// Run runs every analysis the study has the data for, and says what it lacks
// for the others.
func Run(ctx context.Context, in *reports.Input) (*Report, error) {
	r := &Report{in: in, Check: reports.CheckStudy(in)}
	if len(in.Trainees) == 0 && len(in.Items) == 0 {
		return nil, errors.New("the study has neither attempts nor ratings")
	}
	var err error
	if len(in.Trainees) > 0 {
		if r.Curves, err = reports.FitCurves(ctx, in); err != nil {
			return nil, err
		}
		if err = r.lookAtStandard(ctx); err != nil {
			return nil, err
		}
		if in.Task.Standard == nil {
			r.lack("no-standard", "no standard is set, so nothing is said about proficiency")
		} else if r.Proficiency, err = reports.AttemptsToProficiency(ctx, in); err != nil {
			return nil, err
		}
		if err := r.compareRules(ctx); err != nil {
			return nil, err
		}
		if len(in.Arms) < 2 {
			r.lack("one-arm", "there is one arm, so nothing is compared")
		} else if r.Comparison, err = reports.CompareArms(ctx, in); err != nil {
			return nil, err
		}
		r.watch()
	}
	if err := r.fitCohort(ctx); err != nil {
		return nil, err
	}
	if r.Proficiency != nil && r.Cohort != nil {
		if err := r.Proficiency.AddNewTrainees(ctx, r.Cohort); err != nil {
			return nil, err
		}
	}
	if r.Proficiency != nil && in.Rule != nil {
		if r.Schedule, err = reports.StudySchedule(ctx, in, reports.ScheduleOptions{Costs: in.Task.Costs}, r.Cohort); err != nil {
			return nil, err
		}
	}
	return r, r.askRaters(ctx)
}

// askRaters asks how far the examiners agree.
func (r *Report) askRaters(ctx context.Context) error {
	if len(r.in.Items) == 0 {
		r.lack("no-ratings", "there are no ratings, so nothing is said about the examiners")
		return nil
	}
	a, err := r.in.Study.Agreement(ctx, study.AgreementQuestion{})
	if err != nil {
		return err
	}
	r.Agreement = reports.NewAgreement(r.in.Study, a)
	return nil
}

// fitCohort fits all trainees together. A cohort that cannot be fitted is said, and
// takes nothing from the rest of the report.
func (r *Report) fitCohort(ctx context.Context) error {
	if len(r.in.Trainees) < study.MinCohort {
		return nil
	}
	c, err := reports.FitCohort(ctx, r.in, reports.CohortOptions{Checks: r.cohortChecks()})
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		r.lack("no-cohort", "the trainees could not be fitted together: "+err.Error())
	default:
		r.Cohort = c
	}
	return nil
}

// cohortChecks is how many cohorts are drawn to check the fit: none where that
// would take longer than the rest of the report.
func (r *Report) cohortChecks() int {
	n := 0
	for _, t := range r.in.Trainees {
		n += len(t.Series.Attempt)
	}
	if n > 3000 {
		return 0
	}
	return 99
}

func (r *Report) lack(code, text string) {
	r.Missing = append(r.Missing, analysis.Warning{Code: code, Text: text})
}

// documents lists the parts that were run.
func (r *Report) documents() []reports.Document {
	out := []reports.Document{r.Check}
	if r.Curves != nil {
		out = append(out, r.Curves)
	}
	if r.Standard != nil {
		out = append(out, r.Standard)
	}
	if r.Proficiency != nil {
		out = append(out, r.Proficiency)
	}
	if r.Schedule != nil {
		out = append(out, r.Schedule)
	}
	if r.Rules != nil {
		out = append(out, r.Rules)
	}
	if r.Cohort != nil {
		out = append(out, r.Cohort)
	}
	if r.Agreement != nil {
		out = append(out, r.Agreement)
	}
	if r.Comparison != nil {
		out = append(out, r.Comparison)
	}
	if r.Watch != nil {
		out = append(out, r.Watch)
	}
	return out
}

// Files renders the report: index.html, and each part as JSON and CSV.
func (r *Report) Files() (map[string][]byte, error) {
	files := map[string][]byte{}
	add := func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		err := write(&b)
		files[name] = b.Bytes()
		return err
	}
	for _, d := range r.documents() {
		if err := add(d.Head().Command+".json", func(w io.Writer) error { return reports.WriteJSON(w, d) }); err != nil {
			return nil, err
		}
		for _, t := range d.Tables() {
			if err := add(t.Name+".csv", t.WriteCSV); err != nil {
				return nil, err
			}
		}
	}
	return files, add("index.html", r.WriteHTML)
}
