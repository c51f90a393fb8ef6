package reports

import (
	"context"
	"fmt"
	"math"
	"strings"

	"tyro/analysis/cohort"
)

// CohortChecks hold the fit against cohorts drawn from it, and against itself
// without each trainee.
type CohortChecks struct {
	Replicates       int                  `json:"replicates"`
	FailedReplicates int                  `json:"failed_replicates"`
	Residuals        *CohortStraightness  `json:"residuals"` // null where the noise has none
	Deviations       []CohortStraightness `json:"deviations"`
	Attempts         []CohortAttemptBand  `json:"attempts"`
	Influence        []CohortInfluence    `json:"influence"`
	InfluenceBy      string               `json:"influence_by"` // refit or one-step
	Evenness         *CohortEvenness      `json:"evenness"`     // null where nothing is calibrated
}

// A CohortBanded is an observed quantity with the range of 95 % of its simulated
// counterparts.
type CohortBanded struct {
	At       Number `json:"at"`
	Observed Number `json:"observed"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
}

// A CohortStraightness is an ordered list against normal scores; bend is 1 minus
// the squared correlation with them.
type CohortStraightness struct {
	Name   string         `json:"name"`
	Bend   Number         `json:"bend"`
	P      Number         `json:"p"`
	Points []CohortBanded `json:"points"`
}

// A CohortAttemptBand is a quantile of responses at an attempt; share is null for
// their mean.
type CohortAttemptBand struct {
	Arm   string `json:"arm"`
	Share Number `json:"share"`
	N     int    `json:"n"`
	CohortBanded
}

// A CohortInfluence is how far a fixed effect moves without a trainee, in standard
// errors.
type CohortInfluence struct {
	Trainee   string `json:"trainee"`
	Name      string `json:"name"`
	Arm       string `json:"arm"`
	Covariate string `json:"covariate,omitempty"`
	Level     string `json:"level,omitempty"`
	Change    Number `json:"change_in_se"`
	OneStep   Number `json:"one_step"`
	Settled   bool   `json:"settled"`
}

// A CohortEvenness says how evenly later attempts fill the tenths of their
// predictions, with the range expected of a right model.
type CohortEvenness struct {
	Tenths       []CohortBanded `json:"tenths"`
	P            Number         `json:"p"`
	LowByChance  Number         `json:"inside_90_trainees_p5_by_chance"`
	HighByChance Number         `json:"inside_90_trainees_p95_by_chance"`
}

// CheckReplicates is how many cohorts are drawn for the checks.
const CheckReplicates = 199

// check runs the checks of fit.
func (d *Cohort) check(ctx context.Context, replicates int) error {
	if d.Fit.Rung == cohort.RungTwoStage {
		d.Warn("no-checks", "a cohort summarised in two stages has no likelihood to draw from, so its fit is not checked")
		return nil
	}
	plan := d.In.Plan()
	plan.Replicates = replicates
	plan.Progress = d.In.Options.Progress
	k, err := d.Fit.Checks(ctx, plan)
	if err != nil {
		return err
	}
	plan.Progress = nil
	bands, err := d.Fit.AttemptBands(ctx, plan)
	if err != nil {
		return err
	}
	influences, err := d.Fit.LeaveOneOut(ctx, plan)
	if err != nil {
		return err
	}
	even, err := d.Fit.Uniformity(ctx, plan)
	if err != nil {
		return err
	}
	out := &CohortChecks{Replicates: k.Replicates, FailedReplicates: k.Failed, Deviations: []CohortStraightness{}, Attempts: []CohortAttemptBand{}, Influence: []CohortInfluence{}, InfluenceBy: "one-step"}
	if len(k.Residuals.Points) > 0 {
		s := straightness("residuals", k.Residuals)
		out.Residuals = &s
	}
	for _, v := range k.Deviations {
		out.Deviations = append(out.Deviations, straightness(v.Parameter, v))
	}
	for _, b := range bands {
		out.Attempts = append(out.Attempts, CohortAttemptBand{b.Arm, Number(b.Share), b.N, banded(b.Banded)})
	}
	if influences.Refits {
		out.InfluenceBy = "refit"
	}
	for _, r := range influences.Rows {
		for a, e := range influences.Effects {
			v := CohortInfluence{Trainee: d.Fit.Members[r.Trainee].ID, Name: e.Parameter, Arm: e.Arm, Change: Number(r.Change[a]), OneStep: Number(r.OneStep[a]), Settled: r.Settled}
			v.Covariate, v.Level = d.covariateOf(e.Covariate)
			out.Influence = append(out.Influence, v)
		}
	}
	if even.Total > 0 {
		e := &CohortEvenness{P: Number(even.P), LowByChance: Number(even.LowByChance), HighByChance: Number(even.HighByChance)}
		for _, b := range even.Tenths {
			e.Tenths = append(e.Tenths, banded(b))
		}
		out.Evenness = e
	}
	d.Checks = out
	return nil
}

func banded(b cohort.Banded) CohortBanded {
	return CohortBanded{Number(b.At), Number(b.Observed), Number(b.Lower), Number(b.Upper)}
}

func straightness(name string, s cohort.Straightness) CohortStraightness {
	out := CohortStraightness{Name: name, Bend: Number(s.Bend), P: Number(s.P), Points: []CohortBanded{}}
	for _, b := range s.Points {
		out.Points = append(out.Points, banded(b))
	}
	return out
}

// outside counts the points beyond their range.
func outside(points []CohortBanded) (n int) {
	for _, b := range points {
		if b.Observed < b.Lower || b.Observed > b.Upper {
			n++
		}
	}
	return n
}

// label names the fixed effect.
func (v CohortInfluence) Label() string {
	return strings.Join(strings.Fields(strings.Join([]string{v.Name, v.Arm, v.Covariate, v.Level}, " ")), " ")
}

// most is the largest change of any effect.
func (k *CohortChecks) most() (CohortInfluence, bool) {
	var out CohortInfluence
	found := false
	for _, v := range k.Influence {
		if c := math.Abs(float64(v.Change)); c > math.Abs(float64(out.Change)) {
			out, found = v, true
		}
	}
	return out, found
}

// checksTable is what the checks found, one row a check.
func (d *Cohort) ChecksTable() Table {
	k := d.Checks
	t := Table{Name: "cohort_checks", Title: "Does the fitted cohort look like the trainees?", Columns: []Column{
		{Key: "check", Head: "check"}, {Key: "of", Head: "of"}, {Key: "points", Head: "points"}, {Key: "outside", Head: "outside"},
		{Key: "statistic", Head: "statistic", Show: ThreeDigits}, {Key: "p", Head: "p", Show: PValue},
	}}
	add := func(check, of string, points, out int, statistic, p Number) {
		t.Rows = append(t.Rows, []any{check, of, points, out, float64(statistic), float64(p)})
	}
	nan := Number(math.NaN())
	if r := k.Residuals; r != nil {
		add("shape of the noise", "residuals", len(r.Points), outside(r.Points), r.Bend, r.P)
	}
	for _, v := range k.Deviations {
		add("shape of trainees' deviations", v.Name, len(v.Points), outside(v.Points), v.Bend, v.P)
	}
	if len(k.Attempts) > 0 {
		var points []CohortBanded
		for _, b := range k.Attempts {
			points = append(points, b.CohortBanded)
		}
		add("shape of the curve", "responses by attempt", len(points), outside(points), nan, nan)
	}
	if e := k.Evenness; e != nil {
		add("predictions of later attempts", "tenths", len(e.Tenths), outside(e.Tenths), nan, e.P)
	}
	if m, ok := k.most(); ok {
		add("largest change without a trainee (SE)", m.Label()+" without "+m.Trainee, len(k.Influence), 0, m.Change, nan)
		t.Rows[len(t.Rows)-1][3] = "–"
	}
	t.Notes = []string{
		fmt.Sprintf("Ranges and p from %d cohorts drawn from the fit and fitted again (%d failed); outside: beyond the range of 95 %% of them, which one point in twenty is by chance. The statistic of a shape is one minus the squared correlation with normal scores.", k.Replicates, k.FailedReplicates),
		"Trainees' deviations are drawn towards the normal where their attempts are few, in the drawn cohorts too: p keeps its meaning, but a small cohort hides much.",
		fmt.Sprintf("Trainees are left out by %s.", map[string]string{"refit": "fitting again without each", "one-step": "a single step from the fit, as the cohort is large"}[k.InfluenceBy]),
	}
	if c := d.Calibration; c != nil && k.Evenness != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("Over trainees the share of later attempts inside the 90 %% range runs from %s to %s (5-95 %%); a right model with as many attempts gives %s to %s.",
			Percent(float64(c.Lower)), Percent(float64(c.Upper)), Percent(float64(k.Evenness.LowByChance)), Percent(float64(k.Evenness.HighByChance))))
	}
	return t
}

// checkTables are the points behind the checks, for files.
func (d *Cohort) CheckTables() []Table {
	k := d.Checks
	shape := Table{Name: "cohort_check_shapes", Columns: []Column{{Key: "of"}, {Key: "normal_score"}, {Key: "observed"}, {Key: "lower"}, {Key: "upper"}}}
	shapes := k.Deviations
	if k.Residuals != nil {
		shapes = append([]CohortStraightness{*k.Residuals}, shapes...)
	}
	for _, s := range shapes {
		for _, b := range s.Points {
			shape.Rows = append(shape.Rows, []any{s.Name, float64(b.At), float64(b.Observed), float64(b.Lower), float64(b.Upper)})
		}
	}
	attempts := Table{Name: "cohort_check_attempts", Columns: []Column{{Key: "arm"}, {Key: "attempt"}, {Key: "share"}, {Key: "n"}, {Key: "observed"}, {Key: "lower"}, {Key: "upper"}}}
	for _, b := range k.Attempts {
		attempts.Rows = append(attempts.Rows, []any{b.Arm, float64(b.At), float64(b.Share), b.N, float64(b.Observed), float64(b.Lower), float64(b.Upper)})
	}
	influence := Table{Name: "cohort_influence", Columns: []Column{{Key: "trainee"}, {Key: "parameter"}, {Key: "arm"}, {Key: "covariate"}, {Key: "level"}, {Key: "change_in_se"}, {Key: "one_step"}, {Key: "settled"}}}
	for _, v := range k.Influence {
		influence.Rows = append(influence.Rows, []any{v.Trainee, v.Name, v.Arm, v.Covariate, v.Level, float64(v.Change), float64(v.OneStep), v.Settled})
	}
	out := []Table{shape, attempts, influence}
	if e := k.Evenness; e != nil {
		t := Table{Name: "cohort_check_tenths", Columns: []Column{{Key: "tenth_middle"}, {Key: "observed"}, {Key: "lower"}, {Key: "upper"}}}
		for _, b := range e.Tenths {
			t.Rows = append(t.Rows, []any{float64(b.At), float64(b.Observed), float64(b.Lower), float64(b.Upper)})
		}
		out = append(out, t)
	}
	return out
}
