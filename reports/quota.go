package reports

import (
	"fmt"
	"math"
	"strconv"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
)

// Quota is the answer of the command quota: attempts by which a share of
// trainees has met the rule.
type Quota struct {
	Header
	Standard     Number      `json:"standard"` // null where passes are given by their chance
	Rule         string      `json:"rule"`
	Definition   string      `json:"definition"`
	PassChance   Number      `json:"pass_chance"`
	Horizon      int         `json:"horizon"`
	Rows         []QuotaRow  `json:"rows"`
	Operating    []Operating `json:"operating"`
	MeanAttempts Number      `json:"mean_attempts"` // without a horizon; null: no number of attempts is enough
}

// A QuotaRow is the attempts for one share of trainees.
type QuotaRow struct {
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

// An Operating point is the chance of having met the rule by an attempt.
type Operating struct {
	Attempt int    `json:"attempt"`
	MetBy   Number `json:"met_by"`
}

// QuotaShares are the shares of trainees a quota is given for.
func QuotaShares() []float64 { return []float64{0.5, 0.8, 0.9} }

// ConstantChanceQuota answers for trainees whose every attempt passes with the
// same chance, exactly and without data.
func ConstantChanceQuota(in *Input, rule practice.Rule, chance float64, horizon int) (*Quota, error) {
	rec, err := stopping.NewRecursion(rule)
	if err != nil {
		return nil, err
	}
	by, err := rec.MetBy(stopping.Constant(chance, horizon))
	if err != nil {
		return nil, err
	}
	mean, err := rec.MeanAttempts(chance)
	if err != nil {
		return nil, err
	}
	nan := Number(math.NaN())
	d := &Quota{
		Header: newHeader("quota", in), Standard: nan, Rule: rule.String(), Definition: proficiency.RuleMet,
		PassChance: Number(chance), Horizon: horizon, MeanAttempts: Number(mean), Rows: []QuotaRow{}, Operating: []Operating{},
	}
	for n, p := range by {
		d.Operating = append(d.Operating, Operating{n + 1, Number(p)})
	}
	d.Warn("chance-as-given", "the pass chance is taken as given and the answer is exact, so there is no interval and no standard")
	if math.IsInf(mean, 1) {
		d.Warn("never-met", "with a pass chance of 0 no number of attempts is enough, so there is no mean")
	}
	for _, share := range QuotaShares() {
		d.Rows = append(d.Rows, d.row(share, by))
	}
	return d, nil
}

// row is the first attempt by which the share has met the rule.
func (d *Quota) row(share float64, by []float64) QuotaRow {
	nan := Number(math.NaN())
	for n, p := range by {
		if p >= share {
			return QuotaRow{share, Number(n + 1), nan, nan, Estimated}
		}
	}
	d.Warn("beyond-horizon", fmt.Sprintf("a share of %s does not meet the rule within %d attempts; the largest share that does is %s", Percent(share), d.Horizon, Percent(by[len(by)-1])))
	return QuotaRow{share, nan, nan, nan, CannotBeEstimated}
}

// Tables lists the shares, then the operating curve up to where it is nearly 1.
func (d *Quota) Tables() []Table {
	rows := Table{Name: "quota", Title: fmt.Sprintf("Attempts to schedule: rule %q, every attempt passing with chance %s", d.Rule, Significant(float64(d.PassChance), 3)), Columns: []Column{
		{Key: "share", Head: "share of trainees", Show: Percent}, {Key: "attempts", Head: "attempts", Show: Whole},
		{Key: "lower"}, {Key: "upper"}, {Key: "status", Head: "status"},
	}}
	for _, r := range d.Rows {
		rows.Rows = append(rows.Rows, []any{r.Share, float64(r.Attempts), float64(r.Lower), float64(r.Upper), r.Status})
	}
	mean := "none: the rule is never met"
	if v := float64(d.MeanAttempts); !math.IsInf(v, 1) {
		mean = Significant(v, 4)
	}
	rows.Notes = []string{
		"Definition " + d.Definition + ": attempts until the rule is first met. A rule of several clauses is met once each has been met, at that attempt or before.",
		"Mean attempts until the rule is met, without a horizon: " + mean + ".",
	}
	curve := Table{Name: "operating", Title: "Chance of having met the rule", Columns: []Column{
		{Key: "attempt", Head: "by attempt"}, {Key: "met_by", Head: "chance", Show: fourPlaces},
	}}
	for _, o := range d.Operating {
		curve.Rows = append(curve.Rows, []any{o.Attempt, float64(o.MetBy)})
		if o.MetBy > 0.9995 && o.Attempt < d.Horizon {
			curve.Notes = append(curve.Notes, fmt.Sprintf("Above 0.9995 from attempt %d on, up to the horizon of %d.", o.Attempt, d.Horizon))
			break
		}
	}
	return []Table{rows, curve}
}

func fourPlaces(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(v, 'f', 4, 64)
}
