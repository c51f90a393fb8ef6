package reports

import (
	"fmt"

	"tyro/analysis/study"
)

// PlannedAgreement is the answer to a plan: sizes by formula, and what studies of
// those sizes give when simulated.
type PlannedAgreement struct {
	Header
	Coefficient string        `json:"coefficient"`
	Expect      float64       `json:"expect"`
	Width       float64       `json:"width"`
	RaterShare  float64       `json:"rater_share"`
	Shares      []float64     `json:"shares"`
	Level       float64       `json:"level"`
	Sizes       []plannedSize `json:"sizes"`
	Rows        []plannedRow  `json:"rows"`
	Test        *plannedTest  `json:"test"`
}

// plannedSize is the number of subjects that the formula asks for.
type plannedSize struct {
	Raters   int `json:"raters"`
	Subjects int `json:"subjects"`
}

// plannedRow is a simulated size.
type plannedRow struct {
	Coefficient string `json:"coefficient"`
	Raters      int    `json:"raters"`
	Subjects    int    `json:"subjects"`
	Formula     Number `json:"width_by_formula"`
	Width       Number `json:"width_mean"`
	Upper       Number `json:"width_90"` // 90 % of studies have a narrower interval
	Coverage    Number `json:"coverage"`
	Studies     int    `json:"studies"`
	Failed      int    `json:"without_interval"`
}

// plannedTest is the size for a test of kappa.
type plannedTest struct {
	Null     float64 `json:"null"`
	Power    float64 `json:"power"`
	Subjects int     `json:"subjects"`
}

// NewPlannedAgreement words the answer to a plan.
func NewPlannedAgreement(s *study.Study, a *study.PlannedAgreement) *PlannedAgreement {
	p := a.Plan
	d := &PlannedAgreement{
		Header: headerOf("agreement", s), Coefficient: p.What, Expect: p.Expect, Width: p.Width, RaterShare: p.RaterShare, Level: s.Options.Level,
		Sizes: []plannedSize{}, Rows: []plannedRow{},
	}
	d.With(a.Warnings)
	if p.What == "kappa" {
		d.Shares = p.Shares
	}
	for _, x := range a.Sizes {
		d.Sizes = append(d.Sizes, plannedSize{Raters: x.Raters, Subjects: x.Subjects})
	}
	for _, w := range a.Rows {
		d.Rows = append(d.Rows, plannedRow{
			Coefficient: w.Coefficient, Raters: w.Raters, Subjects: w.Subjects, Formula: Number(w.Formula), Width: Number(w.Width), Upper: Number(w.WidthUpper),
			Coverage: Number(w.Coverage), Studies: w.Studies, Failed: w.Failed,
		})
	}
	if a.TestSize > 0 {
		d.Test = &plannedTest{Null: *p.Null, Power: p.Power, Subjects: a.TestSize}
	}
	return d
}

// Tables lists the simulated sizes.
func (d *PlannedAgreement) Tables() []Table {
	rows := d.Rows
	t := Table{Name: "agreement-plan", Title: fmt.Sprintf("Planning: %s of %g, interval of %g %% no wider than %g", d.Coefficient, d.Expect, 100*d.Level, d.Width), Columns: []Column{
		Words("coefficient", "coefficient", rows, func(r plannedRow) string { return r.Coefficient }),
		Counts("raters", "raters", rows, func(r plannedRow) int { return r.Raters }),
		Counts("subjects", "subjects", rows, func(r plannedRow) int { return r.Subjects }),
		Numbers("width_by_formula", "width by formula", rows, func(r plannedRow) Number { return r.Formula }, threePlaces),
		Numbers("width_mean", "simulated mean", rows, func(r plannedRow) Number { return r.Width }, threePlaces),
		Numbers("width_90", "90 % stay below", rows, func(r plannedRow) Number { return r.Upper }, threePlaces),
		Numbers("coverage", "coverage", rows, func(r plannedRow) Number { return r.Coverage }, threePlaces),
		Counts("studies", "studies", rows, func(r plannedRow) int { return r.Studies }),
		Counts("without_interval", "without interval", rows, func(r plannedRow) int { return r.Failed }),
	}}
	for _, s := range d.Sizes {
		t.Notes = append(t.Notes, fmt.Sprintf("By formula %d raters need %d subjects (%s).", s.Raters, s.Subjects, d.source()))
	}
	if d.Test != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("A two-sided test of kappa against %g with power %g needs %d subjects rated by two raters (Flack et al., 1988).", d.Test.Null, d.Test.Power, d.Test.Subjects))
	}
	t.Notes = append(t.Notes, "A width is met on average when the simulated mean is below it, and safely when 90 % of studies stay below it.")
	return []Table{t}
}

func (d *PlannedAgreement) source() string {
	if d.Coefficient == "icc" {
		return "Bonett, 2002"
	}
	return "variance of Fleiss, Cohen and Everitt, 1969"
}
