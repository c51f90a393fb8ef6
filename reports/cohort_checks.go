package reports

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/study"
)

// CohortChecks compare the fit with cohorts simulated from it, and with itself
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

	found []checkRow // of everybody, whatever part is shown
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

// checksOf copies the checks of fit; nil where there are none.
func (d *Cohort) checksOf(k *study.CohortChecks) *CohortChecks {
	if k == nil {
		return nil
	}
	out := &CohortChecks{
		Replicates: k.Shapes.Replicates, FailedReplicates: k.Shapes.Failed, Deviations: []CohortStraightness{}, Attempts: []CohortAttemptBand{},
		Influence: d.influencesOf(k.Influence), InfluenceBy: "one-step", Evenness: evennessOf(k.Evenness),
	}
	if r := k.Shapes.Residuals; len(r.Points) > 0 {
		s := straightness("residuals", r)
		out.Residuals = &s
	}
	for _, v := range k.Shapes.Deviations {
		out.Deviations = append(out.Deviations, straightness(v.Parameter, v))
	}
	for _, b := range k.Attempts {
		out.Attempts = append(out.Attempts, CohortAttemptBand{Arm: b.Arm, Share: Number(b.Share), N: b.N, CohortBanded: banded(b.Banded)})
	}
	if k.Influence.Refits {
		out.InfluenceBy = "refit"
	}
	out.found = out.checkRows()
	return out
}

func (d *Cohort) influencesOf(in cohort.Influences) []CohortInfluence {
	out := []CohortInfluence{}
	for _, r := range in.Rows {
		for a, e := range in.Effects {
			v := CohortInfluence{
				Trainee: d.Answer.Fit.Members[r.Trainee].ID, Name: e.Parameter, Arm: e.Arm, Change: Number(r.Change[a]), OneStep: Number(r.OneStep[a]), Settled: r.Settled,
			}
			v.Covariate, v.Level = d.covariateOf(e.Covariate)
			out = append(out, v)
		}
	}
	return out
}

func evennessOf(u cohort.Uniformity) *CohortEvenness {
	if u.Total == 0 {
		return nil
	}
	e := &CohortEvenness{P: Number(u.P), LowByChance: Number(u.LowByChance), HighByChance: Number(u.HighByChance)}
	for _, b := range u.Tenths {
		e.Tenths = append(e.Tenths, banded(b))
	}
	return e
}

func banded(b cohort.Banded) CohortBanded {
	return CohortBanded{At: Number(b.At), Observed: Number(b.Observed), Lower: Number(b.Lower), Upper: Number(b.Upper)}
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

// A checkRow is what one check found. Few marks a check without points that could lie
// outside a range.
type checkRow struct {
	check, of       string
	points, outside int
	few             bool
	without         string // the trainee it is about; blank for none
	statistic, p    Number
}

// checkRows lists the checks made.
func (k *CohortChecks) checkRows() []checkRow {
	nan := Number(math.NaN())
	var out []checkRow
	shape := func(check string, s CohortStraightness) {
		out = append(out, checkRow{check: check, of: s.Name, points: len(s.Points), outside: outside(s.Points), statistic: s.Bend, p: s.P})
	}
	if r := k.Residuals; r != nil {
		shape("shape of the noise", *r)
	}
	for _, v := range k.Deviations {
		shape("shape of trainees' deviations", v)
	}
	if len(k.Attempts) > 0 {
		var points []CohortBanded
		for _, b := range k.Attempts {
			points = append(points, b.CohortBanded)
		}
		out = append(out, checkRow{check: "shape of the curve", of: "responses by attempt", points: len(points), outside: outside(points), statistic: nan, p: nan})
	}
	if e := k.Evenness; e != nil {
		out = append(out, checkRow{check: "predictions of later attempts", of: "tenths", points: len(e.Tenths), outside: outside(e.Tenths), statistic: nan, p: e.P})
	}
	if m, ok := k.most(); ok {
		out = append(out, checkRow{check: "largest change without a trainee (SE)", of: m.Label() + " without " + m.Trainee, points: len(k.Influence), few: true, without: m.Trainee, statistic: m.Change, p: nan})
	}
	return out
}

// ChecksTable is what the checks found, one row a check.
func (d *Cohort) ChecksTable() Table {
	k := d.Checks
	rows := slices.DeleteFunc(slices.Clone(k.found), func(r checkRow) bool { return r.without != "" && !d.ShowsTrainee(r.without) })
	out := func(r checkRow) string {
		if r.few {
			return "–"
		}
		return strconv.Itoa(r.outside)
	}
	t := Table{Name: "cohort_checks", Title: "Does the fitted cohort look like the trainees?", Columns: []Column{
		Words("check", "check", rows, func(r checkRow) string { return r.check }),
		Words("of", "of", rows, func(r checkRow) string { return r.of }),
		Counts("points", "points", rows, func(r checkRow) int { return r.points }),
		Words("outside", "outside", rows, out),
		Numbers("statistic", "statistic", rows, func(r checkRow) Number { return r.statistic }, ThreeDigits),
		Numbers("p", "p", rows, func(r checkRow) Number { return r.p }, PValue),
	}}
	t.Notes = []string{
		fmt.Sprintf("Ranges and p from %d cohorts simulated from the fit and fitted again (%d failed); outside: beyond the range of 95 %% of them, which one point in twenty is by chance. The statistic of a shape is one minus the squared correlation with normal scores.", k.Replicates, k.FailedReplicates),
		"Trainees' deviations are drawn towards the normal where their attempts are few, in the simulated cohorts too: p keeps its meaning, but a small cohort hides much.",
		fmt.Sprintf("Trainees are left out by %s.", map[string]string{"refit": "fitting again without each", "one-step": "a single step from the fit, as the cohort is large"}[k.InfluenceBy]),
	}
	if c := d.Calibration; c != nil && k.Evenness != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("Over trainees the share of later attempts inside the 90 %% range runs from %s to %s (5-95 %%); a right model with as many attempts gives %s to %s.",
			Percent(float64(c.Lower)), Percent(float64(c.Upper)), Percent(float64(k.Evenness.LowByChance)), Percent(float64(k.Evenness.HighByChance))))
	}
	return t
}

// A shapePoint is a point of a shape with what it is of.
type shapePoint struct {
	of string
	CohortBanded
}

// CheckTables are the points behind the checks, for files.
func (d *Cohort) CheckTables() []Table {
	k := d.Checks
	shapes := k.Deviations
	if k.Residuals != nil {
		shapes = append([]CohortStraightness{*k.Residuals}, shapes...)
	}
	var points []shapePoint
	for _, s := range shapes {
		for _, b := range s.Points {
			points = append(points, shapePoint{s.Name, b})
		}
	}
	out := []Table{
		{Name: "cohort_check_shapes", Columns: append([]Column{
			Words("of", "", points, func(p shapePoint) string { return p.of }),
		}, bandColumns("normal_score", points, func(p shapePoint) CohortBanded { return p.CohortBanded })...)},
		{Name: "cohort_check_attempts", Columns: []Column{
			Words("arm", "", k.Attempts, func(b CohortAttemptBand) string { return b.Arm }),
			Numbers("attempt", "", k.Attempts, func(b CohortAttemptBand) Number { return b.At }, nil),
			Numbers("share", "", k.Attempts, func(b CohortAttemptBand) Number { return b.Share }, nil),
			Counts("n", "", k.Attempts, func(b CohortAttemptBand) int { return b.N }),
			Numbers("observed", "", k.Attempts, func(b CohortAttemptBand) Number { return b.Observed }, nil),
			Numbers("lower", "", k.Attempts, func(b CohortAttemptBand) Number { return b.Lower }, nil),
			Numbers("upper", "", k.Attempts, func(b CohortAttemptBand) Number { return b.Upper }, nil),
		}},
		{Name: "cohort_influence", Columns: []Column{
			Words("trainee", "", k.Influence, func(v CohortInfluence) string { return v.Trainee }),
			Words("parameter", "", k.Influence, func(v CohortInfluence) string { return v.Name }),
			Words("arm", "", k.Influence, func(v CohortInfluence) string { return v.Arm }),
			Words("covariate", "", k.Influence, func(v CohortInfluence) string { return v.Covariate }),
			Words("level", "", k.Influence, func(v CohortInfluence) string { return v.Level }),
			Numbers("change_in_se", "", k.Influence, func(v CohortInfluence) Number { return v.Change }, nil),
			Numbers("one_step", "", k.Influence, func(v CohortInfluence) Number { return v.OneStep }, nil),
			Flags("settled", "", k.Influence, func(v CohortInfluence) bool { return v.Settled }),
		}},
	}
	if e := k.Evenness; e != nil {
		out = append(out, Table{Name: "cohort_check_tenths", Columns: bandColumns("tenth_middle", e.Tenths, func(b CohortBanded) CohortBanded { return b })})
	}
	return out
}

// bandColumns are a place, what was observed there, and its range.
func bandColumns[R any](at string, rows []R, of func(R) CohortBanded) []Column {
	return []Column{
		Numbers(at, "", rows, func(r R) Number { return of(r).At }, nil),
		Numbers("observed", "", rows, func(r R) Number { return of(r).Observed }, nil),
		Numbers("lower", "", rows, func(r R) Number { return of(r).Lower }, nil),
		Numbers("upper", "", rows, func(r R) Number { return of(r).Upper }, nil),
	}
}
