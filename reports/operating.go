package reports

import (
	"fmt"
	"math"
	"strconv"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// OperatingCurve is the answer of the command quota without a file: what a rule lets
// through when every attempt passes with the chance stated.
type OperatingCurve struct {
	Header
	Standard     Number           `json:"standard"` // null: passes are given by their chance
	Rule         string           `json:"rule"`
	Definition   string           `json:"definition"`
	PassChance   Number           `json:"pass_chance"`
	Horizon      int              `json:"horizon"`
	Rows         []quotaRow       `json:"rows"`
	Operating    []operatingPoint `json:"operating"`
	MeanAttempts Number           `json:"mean_attempts"` // without a horizon; null: no number of attempts is enough
}

// A quotaRow is the attempts for one share of trainees.
type quotaRow struct {
	Share    float64 `json:"share"`
	Attempts Number  `json:"attempts"`
	Lower    Number  `json:"lower"`
	Upper    Number  `json:"upper"`
	Status   string  `json:"status"` // estimated or cannot-be-estimated
}

// The statuses of a quota.
const (
	Estimated         = "estimated"
	CannotBeEstimated = "cannot-be-estimated"
)

func newQuotaRow(q proficiency.Quota) quotaRow {
	return quotaRow{Share: q.Share, Attempts: Number(q.Attempts), Lower: Number(q.Lower), Upper: Number(q.Upper), Status: quotaStatus(q.Attempts)}
}

// newExactRow is a row without limits, where an attempt beyond the horizon is not known.
func newExactRow(q proficiency.Quota) quotaRow {
	r := newQuotaRow(q)
	if r.Status == CannotBeEstimated {
		r.Attempts = Number(math.NaN())
	}
	return r
}

func quotaStatus(attempts float64) string {
	if math.IsInf(attempts, 1) || math.IsNaN(attempts) {
		return CannotBeEstimated
	}
	return Estimated
}

// An operatingPoint is the chance of having met the rule by an attempt.
type operatingPoint struct {
	Attempt int    `json:"attempt"`
	MetBy   Number `json:"met_by"`
}

// NewOperatingCurve is the document of an operating curve; the study gives its header.
func NewOperatingCurve(s *study.Study, a *study.OperatingCurve) *OperatingCurve {
	d := &OperatingCurve{
		Header: headerOf("quota", s), Standard: Number(math.NaN()), Rule: a.Rule.String(), Definition: proficiency.RuleMet,
		PassChance: Number(a.Chance), Horizon: len(a.MetBy), MeanAttempts: Number(a.Mean), Rows: []quotaRow{}, Operating: []operatingPoint{},
	}
	d.With(a.Warnings)
	for _, q := range a.Quotas {
		d.Rows = append(d.Rows, newExactRow(q))
	}
	for n, p := range a.MetBy {
		d.Operating = append(d.Operating, operatingPoint{n + 1, Number(p)})
	}
	return d
}

// Tables lists the shares, then the operating curve up to where it is nearly 1.
func (d *OperatingCurve) Tables() []Table {
	mean := "none: the rule is never met"
	if v := float64(d.MeanAttempts); !math.IsInf(v, 1) {
		mean = Significant(v, 4)
	}
	rows := Table{Name: "quota", Title: fmt.Sprintf("Attempts to schedule: rule %q, every attempt passing with chance %s", d.Rule, Significant(float64(d.PassChance), 3)), Columns: []Column{
		Numbers("share", "share of trainees", d.Rows, func(r quotaRow) float64 { return r.Share }, Percent),
		Numbers("attempts", "attempts", d.Rows, func(r quotaRow) Number { return r.Attempts }, Whole),
		Numbers("lower", "", d.Rows, func(r quotaRow) Number { return r.Lower }, nil),
		Numbers("upper", "", d.Rows, func(r quotaRow) Number { return r.Upper }, nil),
		Words("status", "status", d.Rows, func(r quotaRow) string { return r.Status }),
	}, Notes: []string{
		"Definition " + d.Definition + ": attempts until the rule is first met. A rule of several clauses is met once each has been met, at that attempt or before.",
		"Mean attempts until the rule is met, without a horizon: " + mean + ".",
	}}
	shown, note := d.nearlyAll()
	curve := Table{Name: "operating", Title: "Chance of having met the rule", Columns: []Column{
		Counts("attempt", "by attempt", shown, func(o operatingPoint) int { return o.Attempt }),
		Numbers("met_by", "chance", shown, func(o operatingPoint) Number { return o.MetBy }, fourPlaces),
	}, Notes: note}
	return []Table{rows, curve}
}

// nearlyAll is the curve up to where it is above 0.9995, with a note where it ends there.
func (d *OperatingCurve) nearlyAll() ([]operatingPoint, []string) {
	for k, o := range d.Operating {
		if o.MetBy > 0.9995 && o.Attempt < d.Horizon {
			return d.Operating[:k+1], []string{fmt.Sprintf("Above 0.9995 from attempt %d on, up to the horizon of %d.", o.Attempt, d.Horizon)}
		}
	}
	return d.Operating, nil
}

func fourPlaces(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(v, 'f', 4, 64)
}
