package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/cohort"
)

// Tables lists the fixed effects, how trainees differ, the ladder, the trainees
// with their projections and, with a standard, the shares proficient.
func (d *Cohort) Tables() []Table {
	out := []Table{d.fixedTable(), d.spreadTable(), d.ladderTable(), d.traineeTable(), d.projectionTable()}
	if len(d.Bootstrap) > 0 {
		out = append(out, d.bootstrapTable())
	}
	if d.Checks != nil {
		out = append(out, d.ChecksTable())
	}
	if len(d.Population) > 0 {
		out = append(out, d.populationTable(), d.proficiencyTable())
	}
	return out
}

func (d *Cohort) fixedTable() Table {
	level := fmt.Sprintf("%g %% from", 100*d.Level)
	where := "arm"
	if len(d.Covariates) > 0 {
		where = "arm or covariate"
	}
	t := Table{Name: "cohort", Title: fmt.Sprintf("The %s curve of a cohort: %d trainees, %d attempts, %s noise", d.Family, d.NTrainees, d.NAttempts, d.Noise), Columns: []Column{
		{Key: "parameter", Head: "parameter"}, {Key: "arm", Head: where}, {Key: "scale", Head: "scale"},
		{Key: "estimate", Head: "estimate"}, {Key: "se", Head: "SE", Show: ThreeDigits}, {Key: "lower", Head: level}, {Key: "upper", Head: "to"},
		{Key: "natural", Head: "as a value or factor"}, {Key: "natural_lower", Head: "from"}, {Key: "natural_upper", Head: "to"},
	}}
	for _, e := range d.Fixed {
		v, lo, hi := float64(e.Estimate), float64(e.Lower), float64(e.Upper)
		if e.Scale == "log" {
			v, lo, hi = math.Exp(v), math.Exp(lo), math.Exp(hi)
		}
		name, arm := e.Name, e.Arm
		if e.Covariate != "" {
			arm = strings.TrimSpace(e.Covariate + " " + e.Level)
		}
		if e.Held {
			name += " (held)"
		}
		if arm == "" {
			arm = "all"
			if len(d.Arms) < 2 {
				arm = ArmName(d.Arms[0])
			}
		}
		t.Rows = append(t.Rows, []any{name, arm, e.Scale, float64(e.Estimate), float64(e.SE), float64(e.Lower), float64(e.Upper), v, lo, hi})
	}
	if slices.ContainsFunc(d.Fixed, func(e CohortEffect) bool { return e.Arm != "" && e.Arm != d.Arms[0] }) {
		t.Notes = append(t.Notes, fmt.Sprintf("Rows of arms other than %s are differences from it on the parameter's scale; on the log scale the value column shows them as factors.", ArmName(d.Arms[0])))
	}
	if v := float64(d.ResidualSD); !math.IsNaN(v) {
		what := ""
		switch d.Noise {
		case "lognormal":
			what = " of the natural logarithm"
		case "reciprocal":
			what = " of the speed (one over the response)"
		}
		t.Notes = append(t.Notes, fmt.Sprintf("Residual SD%s about a trainee's own curve: %s (%s to %s).", what, Significant(v, 4), Significant(float64(d.ResidualLower), 4), Significant(float64(d.ResidualUpper), 4)))
	}
	if note := d.carryNote(); note != "" {
		t.Notes = append(t.Notes, note)
	}
	t.Notes = append(t.Notes, d.covariateNotes()...)
	t.Notes = append(t.Notes, d.methods())
	return t
}

// methods is the paragraph for a paper's methods section.
func (d *Cohort) methods() string {
	how := "by the Laplace approximation"
	if d.Method == "quadrature" {
		how = fmt.Sprintf("by adaptive Gauss-Hermite quadrature with %d points a random effect", d.Nodes)
	}
	covariance := map[string]string{
		"full": "with all correlations", "diagonal": "taken as independent",
		cohort.RungReduced: "with all correlations, one of them at its bound of ±1", "fewer random effects": "after dropping those in which trainees do not differ beyond noise", "two-stage": "summarised from separate curves",
	}[d.Rung]
	if len(d.Fit.Correlations) == 0 && d.Rung == "full" {
		covariance = "of one parameter"
	}
	if d.Rung == "two-stage" {
		how = "in two stages"
	}
	likelihood := "Maximum likelihood"
	if d.REML {
		likelihood, how = "Restricted maximum likelihood (REML),", "exact because the curve is linear in what moves it"
	}
	return fmt.Sprintf("%s %s; trainees' deviations normal on the scale of each parameter, %s (rung: %s; %s). Log-likelihood %s, AIC %s, BIC %s on %d trainees. Intervals: %s.",
		likelihood, how, covariance, d.Rung, d.Status, Significant(float64(d.LogLikelihood), 7), Significant(float64(d.AIC), 7), Significant(float64(d.BIC), 7), d.NTrainees, d.IntervalMethod)
}

func (d *Cohort) spreadTable() Table {
	t := Table{Name: "cohort_spread", Title: "How much trainees differ", Columns: []Column{
		{Key: "parameter", Head: "parameter"}, {Key: "scale", Head: "scale"}, {Key: "sd", Head: "SD"},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.Level)}, {Key: "upper", Head: "to"}, {Key: "words", Head: "in words"},
	}}
	for _, r := range d.Random {
		t.Rows = append(t.Rows, []any{r.Name, r.Scale, float64(r.SD), float64(r.Lower), float64(r.Upper), r.Words})
	}
	if len(d.Correlations) > 0 {
		var parts []string
		for _, c := range d.Correlations {
			parts = append(parts, fmt.Sprintf("%s and %s %s", c.A, c.B, Significant(float64(c.Value), 2)))
		}
		t.Notes = append(t.Notes, "Correlations between trainees' deviations: "+strings.Join(parts, ", ")+".")
	}
	return t
}

func (d *Cohort) ladderTable() Table {
	t := Table{Name: "cohort_ladder", Title: "Steps tried, from the richest covariance down; the last is used", Columns: []Column{
		{Key: "rung", Head: "rung"}, {Key: "random", Head: "differ between trainees"}, {Key: "status", Head: "status"},
		{Key: "log_likelihood", Head: "log-likelihood", Show: func(v float64) string { return Significant(v, 7) }}, {Key: "why", Head: "why not used"},
	}}
	for _, s := range d.Ladder {
		t.Rows = append(t.Rows, []any{s.Rung, strings.Join(s.Random, " "), s.Status, float64(s.LogLikelihood), s.Why})
	}
	for _, c := range d.Selection {
		mark := ""
		if c.Family == d.Family {
			mark = ", chosen"
		}
		t.Notes = append(t.Notes, fmt.Sprintf("%s curve: AIC %s on rung %s%s.", c.Family, Significant(float64(c.AIC), 7), c.Rung, mark))
	}
	if c := d.Calibration; c != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("Check: each trainee's later half of attempts against what the earlier half predicts: %s of %d fall inside the 90 %% range, %s inside the 50 %% range; over trainees the share inside the 90 %% range runs from %s to %s (5-95 %%).",
			Percent(float64(c.Inside90)), c.N, Percent(float64(c.Inside50)), Percent(float64(c.Lower)), Percent(float64(c.Upper))))
	}
	return t
}

func (d *Cohort) bootstrapTable() Table {
	t := Table{Name: "cohort_bootstrap", Title: "Intervals from whole trainees drawn with replacement", Columns: []Column{
		{Key: "kind", Head: "kind"}, {Key: "parameter", Head: "parameter"}, {Key: "arm", Head: "arm"}, {Key: "covariate", Head: heading("covariate", len(d.Covariates) > 0)}, {Key: "level", Head: heading("level", len(d.Covariates) > 0)}, {Key: "estimate", Head: "estimate"},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.Level)}, {Key: "upper", Head: "to"},
		{Key: "replicates", Head: "refits"}, {Key: "failed_replicates", Head: "failed"},
	}}
	for _, b := range d.Bootstrap {
		t.Rows = append(t.Rows, []any{b.Kind, b.Name, b.Arm, b.Covariate, b.Level, float64(b.Estimate), float64(b.Lower), float64(b.Upper), b.Replicates, b.FailedReplicates})
	}
	t.Notes = []string{"Percentiles, on the scale of the table of parameters; drawn within arms, a trainee drawn twice being two people."}
	return t
}

// traineeTable is one row a trainee: own parameters and the next attempt.
func (d *Cohort) traineeTable() Table {
	t := Table{Name: "cohort_trainees", Title: "Trainees with the cohort behind them", Columns: []Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "n", Head: "n"}, {Key: "n_censored", Head: "timeouts"},
	}}
	if len(d.Trainees) == 0 {
		return t
	}
	for _, p := range d.Trainees[0].Parameters {
		t.Columns = append(t.Columns, Column{Key: p.Name, Head: p.Name, Show: ThreeDigits}, Column{Key: p.Name + "_own_share", Head: "own share", Show: Percent})
	}
	t.Columns = append(t.Columns, Column{Key: "residual_sd"},
		Column{Key: "next_attempt", Head: "next", Show: Whole}, Column{Key: "next_median", Head: "expected", Show: ThreeDigits},
		Column{Key: "next_lower", Head: "from", Show: ThreeDigits}, Column{Key: "next_upper", Head: "to", Show: ThreeDigits})
	for _, m := range d.Trainees {
		row := []any{m.Trainee, m.Arm, m.N, m.NCensored}
		for _, p := range m.Parameters {
			row = append(row, float64(p.Estimate), float64(p.OwnShare))
		}
		row = append(row, float64(m.ResidualSD))
		if len(m.Projection) > 0 {
			f := m.Projection[0]
			row = append(row, float64(f.Attempt), float64(f.Median), float64(f.Lower), float64(f.Upper))
		} else {
			nan := math.NaN()
			row = append(row, nan, nan, nan, nan)
		}
		t.Rows = append(t.Rows, row)
	}
	next := fmt.Sprintf("next, expected, from, to: the next attempt, if practice continues as so far; %g %% of such attempts fall between from and to, the uncertainty of the cohort's parameters included.", 100*d.Level)
	if d.passFail() {
		next = fmt.Sprintf("next, expected, from, to: the chance to pass the next attempt, if practice continues as so far, with its %g %% interval. Plateau and gain are on the logit scale.", 100*d.Level)
	}
	t.Notes = []string{
		"own share: how much of the value rests on the trainee's own attempts; the rest is the cohort's.",
		next,
		Caution,
	}
	return t
}

// projectionTable holds every projected attempt; for programs only when there
// are many trainees, as all its columns are headed but people see new trainees.
func (d *Cohort) projectionTable() Table {
	t := Table{Name: "cohort_projection", Title: "A new trainee, before any attempt", Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "attempt", Head: "attempt", Show: Whole}, {Key: "median", Head: "expected", Show: ThreeDigits},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.Level), Show: ThreeDigits}, {Key: "upper", Head: "to", Show: ThreeDigits},
	}}
	for _, n := range d.NewTrainees {
		for _, f := range n.Projection {
			t.Rows = append(t.Rows, []any{ArmName(n.Arm), float64(f.Attempt), float64(f.Median), float64(f.Lower), float64(f.Upper)})
		}
	}
	return t
}

// forecastTable is every trainee's projected attempts, for a file.
func (d *Cohort) ForecastTable() Table {
	t := Table{Name: "cohort_forecasts", Columns: []Column{{Key: "trainee"}, {Key: "arm"}, {Key: "attempt"}, {Key: "median"}, {Key: "lower"}, {Key: "upper"}}}
	for _, m := range d.Trainees {
		for _, f := range m.Projection {
			t.Rows = append(t.Rows, []any{m.Trainee, m.Arm, float64(f.Attempt), float64(f.Median), float64(f.Lower), float64(f.Upper)})
		}
	}
	return t
}

// populationTable shows the shares at a few attempts to people.
func (d *Cohort) populationTable() Table {
	t := Table{Name: "cohort_population", Title: fmt.Sprintf("Share of new trainees proficient at a standard of %s", Significant(float64(d.Standard), 4)), Columns: []Column{
		{Key: "arm", Head: "arm"}, {Key: "definition", Head: "definition"}, {Key: "attempt", Head: "by attempt", Show: Whole},
		{Key: "share", Head: "share", Show: Percent}, {Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.Level), Show: Percent}, {Key: "upper", Head: "to", Show: Percent},
	}}
	for _, p := range d.Population {
		for _, r := range p.Rows {
			if shownAttempt(int(r.Attempt), len(p.Rows)) {
				all := r.Lower >= 0.995 // nothing more to say
				t.Rows = append(t.Rows, []any{ArmName(p.Arm), p.Definition, float64(r.Attempt), float64(r.Share), float64(r.Lower), float64(r.Upper)})
				if all {
					break
				}
			}
		}
	}
	t.Notes = []string{
		fmt.Sprintf("mean-crossing: the trainee's curve meets the standard. pass-chance: one attempt meets it with chance %s.", Percent(d.question().Chance)),
		"The interval is about the share among many new trainees; a single group varies more.",
		Caution,
	}
	return t
}

// shownAttempt picks attempts for people: 1, 2, 5, 10, 20, 30, 50 and so on.
func shownAttempt(n, last int) bool {
	if n == last {
		return true
	}
	for _, k := range []int{1, 5, 10, 15, 20, 30, 40, 60, 80, 100, 150, 200, 300, 500, 1000} {
		if n == k {
			return true
		}
	}
	return false
}

// proficiencyTable withholds what is too early to tell.
func (d *Cohort) proficiencyTable() Table {
	h := d.question().Horizon
	show := func(v float64) string { return attemptsText(v, h) }
	t := Table{Name: "cohort_proficiency", Title: "Attempts until proficient, if practice continues as so far", Columns: []Column{
		{Key: "trainee", Head: "trainee"}, {Key: "arm", Head: "arm"}, {Key: "n", Head: "attempts so far"}, {Key: "definition", Head: "definition"},
		{Key: "estimate", Head: "attempts", Show: show}, {Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.Level), Show: show}, {Key: "upper", Head: "to", Show: show},
		{Key: "not_reached", Head: "chance not within horizon", Show: Percent}, {Key: "status", Head: "status"},
	}}
	for _, m := range d.Trainees {
		for _, p := range m.Proficiency {
			v, lo, hi, status := float64(p.Estimate), float64(p.Lower), float64(p.Upper), p.Status
			if status == "too-early" {
				v, lo, hi = math.NaN(), math.NaN(), math.NaN()
				status = "too early to tell"
			}
			t.Rows = append(t.Rows, []any{m.Trainee, m.Arm, m.N, p.Definition, v, lo, hi, float64(p.NotReached), status})
		}
	}
	t.Notes = []string{
		fmt.Sprintf("Withheld below %d attempts, or when the range includes not getting there within %s attempts. The range allows for the trainee's own attempts being few.", minProjected, Significant(h, 4)),
	}
	if d.Rule != "" {
		t.Notes = append(t.Notes, d.ruleNote())
	}
	t.Notes = append(t.Notes, Caution)
	return t
}

// ruleNote says what a projected rule-met is, and what it is for new trainees.
func (d *Cohort) ruleNote() string {
	h := d.question().Horizon
	var arms []string
	for _, n := range d.NewTrainees {
		for _, p := range n.Proficiency {
			who := "a new trainee"
			if len(d.NewTrainees) > 1 {
				who += " of arm " + ArmName(n.Arm)
			}
			arms = append(arms, fmt.Sprintf("%s %s (%s to %s)", who, attemptsText(float64(p.Estimate), h), attemptsText(float64(p.Lower), h), attemptsText(float64(p.Upper), h)))
		}
	}
	return fmt.Sprintf("rule-met: the attempt at which the rule %q is met, observed where it has been, else predicted from the passes made so far: half of such trainees meet it by then, and the range holds %g %% of them, the luck of the attempts to come included. Before any attempt: %s.",
		d.Rule, 100*d.Level, strings.Join(arms, ", "))
}

// movesTable is how every trainee's projection of rule-met moved, for a file.
func (d *Cohort) MovesTable() Table {
	t := Table{Name: "cohort_moves", Columns: []Column{
		{Key: "trainee"}, {Key: "arm"}, {Key: "attempts_made"}, {Key: "estimate"}, {Key: "lower"}, {Key: "upper"}, {Key: "not_reached"}, {Key: "status"},
	}}
	for _, m := range d.Trainees {
		for _, v := range m.Moves {
			t.Rows = append(t.Rows, []any{m.Trainee, m.Arm, v.AttemptsMade, float64(v.Estimate), float64(v.Lower), float64(v.Upper), float64(v.NotReached), v.Status})
		}
	}
	return t
}
