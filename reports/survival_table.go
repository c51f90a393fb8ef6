package reports

import (
	"fmt"
	"math"

	"tyro/analysis/study"
)

// UntilProficient is the answer of the command proficiency for a table of
// observed attempts.
type UntilProficient struct {
	Header
	Results          []Result      `json:"results"` // none: nothing is projected for a trainee
	Survival         []ArmStep     `json:"survival"`
	LogRank          *LogRank      `json:"log_rank"`
	Band             string        `json:"band"`
	Level            float64       `json:"level"`
	Quantiles        []ArmQuantile `json:"quantiles"`
	Tests            []NamedTest   `json:"tests"`
	Hazards          []HazardRatio `json:"hazard_ratios"`
	CumulativeHazard []HazardPoint `json:"cumulative_hazard"`
	Coarse           []CoarseArm   `json:"interval_censored,omitempty"`

	Answer *study.UntilProficiency `json:"-"`
}

// An ArmQuantile is the attempts by which a share of an arm has met the rule.
type ArmQuantile struct {
	Arm      string  `json:"arm"`
	Share    float64 `json:"share"`
	Attempts Number  `json:"attempts"`
	Lower    Number  `json:"lower"`
	Upper    Number  `json:"upper"`
	Midpoint Number  `json:"midpoint"` // by the other convention, where the curve stands at the share for a while
	Status   string  `json:"status"`
	Largest  Number  `json:"largest_share"`
}

// A NamedTest is a test between arms.
type NamedTest struct {
	Name      string `json:"name"`
	ChiSquare Number `json:"chi_square"`
	DF        int    `json:"df"`
	P         Number `json:"p"`
}

// A HazardRatio compares an arm with the first one seen: above 1, it meets the
// rule sooner.
type HazardRatio struct {
	Model     string `json:"model"`
	Arm       string `json:"arm"`
	Reference string `json:"reference"`
	Ratio     Number `json:"ratio"`
	Lower     Number `json:"lower"`
	Upper     Number `json:"upper"`
	P         Number `json:"p"`
}

// A HazardPoint is an arm's cumulative hazard from an attempt on.
type HazardPoint struct {
	Arm     string `json:"arm"`
	Attempt Number `json:"attempt"`
	Hazard  Number `json:"hazard"`
	SE      Number `json:"se"`
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
}

// A CoarseArm is an arm's estimate from assessments every few attempts: where
// the chance of meeting the rule lies, and the assessments between which half
// have met it.
type CoarseArm struct {
	Arm         string       `json:"arm"`
	N           int          `json:"n"`
	MedianAfter Number       `json:"median_after"`
	MedianBy    Number       `json:"median_by"`
	Lower       Number       `json:"lower"` // of median_by
	Upper       Number       `json:"upper"`
	Masses      []CoarseMass `json:"masses"`
}

// A CoarseMass is a chance between two assessments.
type CoarseMass struct {
	After  Number `json:"after"`
	By     Number `json:"by"`
	Chance Number `json:"chance"`
}

// NewUntilProficient is the document of a table of observed attempts.
func NewUntilProficient(s *study.Study, a *study.UntilProficiency) *UntilProficient {
	d := &UntilProficient{
		Header: headerOf("proficiency", s), Results: []Result{}, Survival: []ArmStep{}, Band: string(a.Band), Level: a.Level,
		Quantiles: []ArmQuantile{}, Tests: []NamedTest{}, Hazards: []HazardRatio{}, CumulativeHazard: []HazardPoint{}, Answer: a,
	}
	for _, w := range a.Warnings {
		d.Warn(w.Code, w.Text)
	}
	for _, arm := range a.Arms {
		d.arm(arm)
	}
	for _, t := range a.Tests {
		d.Tests = append(d.Tests, NamedTest{Name: t.Name, ChiSquare: Number(t.ChiSquare), DF: t.DF, P: Number(t.P)})
		if t.Name == study.LogRankTest {
			d.LogRank = logRank(&t.Test)
		}
	}
	for _, h := range a.Hazards {
		d.Hazards = append(d.Hazards, HazardRatio{
			Model: h.Model, Arm: h.Arm, Reference: h.Reference, Ratio: Number(h.Ratio), Lower: Number(h.Lower), Upper: Number(h.Upper), P: Number(h.P),
		})
	}
	return d
}

// arm copies what is said of one arm.
func (d *UntilProficient) arm(a study.UntilArm) {
	d.Survival = append(d.Survival, armStep(a.ArmSurvival))
	for _, q := range a.Shares {
		at := limitsAt(q.Attempts)
		one := ArmQuantile{
			Arm: a.Arm, Share: q.Share, Attempts: at.Estimate, Lower: at.Lower, Upper: at.Upper,
			Midpoint: Number(q.Midpoint.Estimate), Status: Estimated, Largest: Number(a.Curve.LargestShare()),
		}
		if math.IsInf(q.Attempts.Estimate, 1) {
			one.Status = CannotBeEstimated
		}
		d.Quantiles = append(d.Quantiles, one)
	}
	for _, h := range a.Hazard {
		d.CumulativeHazard = append(d.CumulativeHazard, HazardPoint{
			Arm: a.Arm, Attempt: Number(h.Time), Hazard: Number(h.Hazard), SE: Number(h.SE), Lower: Number(h.Lower), Upper: Number(h.Upper),
		})
	}
	if c := a.Coarse; c != nil {
		one := CoarseArm{
			Arm: a.Arm, N: c.N, MedianAfter: Number(c.After), MedianBy: Number(c.By), Lower: Number(c.Lower), Upper: Number(c.Upper), Masses: []CoarseMass{},
		}
		for _, m := range c.Masses {
			one.Masses = append(one.Masses, CoarseMass{After: Number(m.Left), By: Number(m.Right), Chance: Number(m.Chance)})
		}
		d.Coarse = append(d.Coarse, one)
	}
}

// Tables lists the arms, the shares, and the comparison.
func (d *UntilProficient) Tables() []Table {
	from := fmt.Sprintf("%g %% from", 100*d.Level)
	arms := armTable("Attempts until the rule was met, by arm (nobody is dropped)", from, from, d.Survival, untilAttempts)
	arms.Notes = []string{
		"Definition rule-met, as observed. Product-limit estimate: those who have not met the rule count up to their last attempt. A median is the first attempt by which half have met it. Its limits by the " + d.Band + " band; those of the mean by a bootstrap of trainees.",
		Caution,
	}
	out := []Table{arms, d.shareTable(from)}
	if len(d.Coarse) > 0 {
		out = append(out, d.coarseTable(from))
	}
	if len(d.Tests) > 0 {
		out = append(out, d.testTable(), d.hazardTable(from))
	}
	return out
}

func untilAttempts(v float64) string {
	if math.IsInf(v, 1) {
		return "not reached"
	}
	return Significant(v, 3)
}

func (d *UntilProficient) shareTable(from string) Table {
	rows := d.Quantiles
	return Table{Name: "shares", Title: "Attempts by which a share of trainees has met the rule", Columns: []Column{
		Words("arm", "arm", rows, func(q ArmQuantile) string { return ArmName(q.Arm) }),
		Numbers("share", "share", rows, func(q ArmQuantile) float64 { return q.Share }, Percent),
		Numbers("attempts", "attempts", rows, func(q ArmQuantile) Number { return q.Attempts }, untilAttempts),
		Numbers("lower", from, rows, func(q ArmQuantile) Number { return q.Lower }, untilAttempts),
		Numbers("upper", "to", rows, func(q ArmQuantile) Number { return q.Upper }, untilAttempts),
		Numbers("midpoint", "", rows, func(q ArmQuantile) Number { return q.Midpoint }, nil),
		Words("status", "status", rows, func(q ArmQuantile) string { return q.Status }),
	}}
}

func (d *UntilProficient) coarseTable(from string) Table {
	rows := d.Coarse
	return Table{Name: "interval-censored", Title: "Median, assessments every few attempts", Columns: []Column{
		Words("arm", "arm", rows, func(c CoarseArm) string { return ArmName(c.Arm) }),
		Counts("n", "trainees", rows, func(c CoarseArm) int { return c.N }),
		Numbers("median_after", "after", rows, func(c CoarseArm) Number { return c.MedianAfter }, untilAttempts),
		Numbers("median_by", "by", rows, func(c CoarseArm) Number { return c.MedianBy }, untilAttempts),
		Numbers("lower", from, rows, func(c CoarseArm) Number { return c.Lower }, untilAttempts),
		Numbers("upper", "to", rows, func(c CoarseArm) Number { return c.Upper }, untilAttempts),
	}}
}

func (d *UntilProficient) testTable() Table {
	rows := d.Tests
	t := Table{Name: "tests", Title: "Do the arms differ?", Columns: []Column{
		Words("test", "test", rows, func(x NamedTest) string { return x.Name }),
		Numbers("chi_square", "χ²", rows, func(x NamedTest) Number { return x.ChiSquare }, nil),
		Counts("df", "df", rows, func(x NamedTest) int { return x.DF }),
		Numbers("p", "p", rows, func(x NamedTest) Number { return x.P }, PValue),
	}}
	if d.LogRank != nil {
		t.Notes = append(t.Notes, testText(*d.LogRank))
	}
	t.Notes = append(t.Notes, "The log-rank test is the one to plan for; the others look at early or late differences and are chosen before seeing the data.")
	return t
}

func (d *UntilProficient) hazardTable(from string) Table {
	rows := d.Hazards
	return Table{Name: "hazard-ratios", Title: "How much sooner, against the first arm (above 1: sooner)", Columns: []Column{
		Words("model", "model", rows, func(h HazardRatio) string { return h.Model }),
		Words("arm", "arm", rows, func(h HazardRatio) string { return ArmName(h.Arm) }),
		Words("reference", "against", rows, func(h HazardRatio) string { return ArmName(h.Reference) }),
		Numbers("ratio", "ratio", rows, func(h HazardRatio) Number { return h.Ratio }, nil),
		Numbers("lower", from, rows, func(h HazardRatio) Number { return h.Lower }, nil),
		Numbers("upper", "to", rows, func(h HazardRatio) Number { return h.Upper }, nil),
		Numbers("p", "p", rows, func(h HazardRatio) Number { return h.P }, PValue),
	}, Notes: []string{hazardMeaning + " So it is in the rows of weighted partial likelihood, as compare gives it; the other rows take the ratio as the same at all attempts, and where it is not their intervals may miss it more often than they say."}}
}
