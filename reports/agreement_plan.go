package reports

import (
	"context"
	"fmt"

	"tyro/analysis/agreement"
	"tyro/datasets"
)

// AgreementPlan is a question about a study to come.
type AgreementPlan struct {
	What       string // icc or kappa
	Expect     float64
	Width      float64
	Raters     []int
	Subjects   []int     // to simulate; nil: round the number that the formula gives
	Shares     []float64 // of the categories, for kappa
	RaterShare float64   // part of the variance within subjects that lies between raters, for icc
	Null       *float64  // for kappa: also a test against this value
	Power      float64
}

// PlannedAgreement is the answer: sizes by formula, and what studies of those
// sizes give when simulated.
type PlannedAgreement struct {
	Header
	Coefficient string        `json:"coefficient"`
	Expect      float64       `json:"expect"`
	Width       float64       `json:"width"`
	RaterShare  float64       `json:"rater_share"`
	Shares      []float64     `json:"shares"`
	Level       float64       `json:"level"`
	Sizes       []PlannedSize `json:"sizes"`
	Rows        []PlannedRow  `json:"rows"`
	Test        *PlannedTest  `json:"test"`
}

// PlannedSize is the number of subjects that the formula asks for.
type PlannedSize struct {
	Raters   int `json:"raters"`
	Subjects int `json:"subjects"`
}

// PlannedRow is a simulated size.
type PlannedRow struct {
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

// PlannedTest is the size for a test of kappa.
type PlannedTest struct {
	Null     float64 `json:"null"`
	Power    float64 `json:"power"`
	Subjects int     `json:"subjects"`
}

// PlanAgreement answers by formula and by simulation.
func PlanAgreement(ctx context.Context, p AgreementPlan, o Options) (*PlannedAgreement, error) {
	in, err := Prepare(&datasets.Study{Title: "plan"}, o)
	if err != nil {
		return nil, err
	}
	d := &PlannedAgreement{Header: newHeader("agreement", in), Coefficient: p.What, Expect: p.Expect, Width: p.Width, RaterShare: p.RaterShare, Level: in.Options.Level, Sizes: []PlannedSize{}, Rows: []PlannedRow{}}
	if p.What == "kappa" {
		d.Shares = p.Shares
	}
	if !(p.RaterShare >= 0 && p.RaterShare < 1) {
		return nil, fmt.Errorf("planning: expected a rater share from 0 to below 1, got %g", p.RaterShare)
	}
	plan := in.Plan()
	plan.Progress = in.Options.Progress
	for _, k := range p.Raters {
		n, formula, err := d.size(p, k)
		if err != nil {
			return nil, err
		}
		if formula {
			d.Sizes = append(d.Sizes, PlannedSize{k, n})
		}
		sizes := p.Subjects
		if sizes == nil {
			sizes = []int{max(5, n/2), max(6, n), max(8, n*3/2)}
		}
		for _, n := range sizes {
			s := agreement.PlannedStudy{ICC: p.Expect, Kappa: p.Expect, Raters: k, RaterShare: p.RaterShare}
			if p.What == "kappa" {
				s.Shares = p.Shares
			}
			w, err := agreement.SimulateWidth(ctx, s, n, d.Level, plan)
			if err != nil {
				return nil, err
			}
			d.Rows = append(d.Rows, PlannedRow{w.Coefficient, k, n, Number(w.Formula), Number(w.Width), Number(w.WidthUpper), Number(w.Coverage), w.Studies, w.Failed})
		}
	}
	if p.Null != nil && p.What == "kappa" {
		n, err := agreement.KappaTestSubjects(*p.Null, p.Expect, p.Shares, 1-d.Level, p.Power)
		if err != nil {
			return nil, err
		}
		d.Test = &PlannedTest{*p.Null, p.Power, n}
	}
	if p.RaterShare > 0 {
		d.Warn("formula-without-raters", "the formula is for raters of equal severity; with a share of variance between raters only the simulated widths hold, and more raters narrow them more than more subjects do")
	}
	return d, nil
}

// size is the formula's number; for more than two raters kappa has none, and
// two raters' number is where simulation starts.
func (d *PlannedAgreement) size(p AgreementPlan, k int) (n int, formula bool, err error) {
	if p.What == "icc" {
		n, err = agreement.ICCSubjects(p.Expect, k, p.Width, d.Level)
		return n, true, err
	}
	n, err = agreement.KappaSubjects(p.Expect, p.Shares, p.Width, d.Level)
	return n, k == 2, err
}

// Tables lists the simulated sizes.
func (d *PlannedAgreement) Tables() []Table {
	t := Table{Name: "agreement-plan", Title: fmt.Sprintf("Planning: %s of %g, interval of %g %% no wider than %g", d.Coefficient, d.Expect, 100*d.Level, d.Width), Columns: []Column{
		{Key: "coefficient", Head: "coefficient"}, {Key: "raters", Head: "raters"}, {Key: "subjects", Head: "subjects"}, {Key: "width_by_formula", Head: "width by formula", Show: threePlaces},
		{Key: "width_mean", Head: "simulated mean", Show: threePlaces}, {Key: "width_90", Head: "90 % stay below", Show: threePlaces}, {Key: "coverage", Head: "coverage", Show: threePlaces}, {Key: "studies", Head: "studies"}, {Key: "without_interval", Head: "without interval"},
	}}
	for _, r := range d.Rows {
		t.Rows = append(t.Rows, []any{r.Coefficient, r.Raters, r.Subjects, float64(r.Formula), float64(r.Width), float64(r.Upper), float64(r.Coverage), r.Studies, r.Failed})
	}
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
