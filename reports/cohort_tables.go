package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/proficiency"
	"tyro/models"
)

// Tables lists the fixed effects, how trainees differ, the ladder, the trainees
// with their projections and, with a standard, the shares proficient.
func (d *Cohort) Tables() []Table {
	out := []Table{d.fixedTable(), d.spreadTable(), d.ladderTable()}
	if len(d.Models) > 0 {
		out = append(out, d.modelTable())
	}
	out = append(out, d.traineeTable(), d.projectionTable())
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

// notIdentified stands in the place of a number that the attempts do not show.
const notIdentified = "not identified"

// fixedTable lists the parameters. An estimate that is not known is said in words.
func (d *Cohort) fixedTable() Table {
	estimate := func(v float64) string {
		if math.IsNaN(v) {
			return notIdentified
		}
		return Significant(v, 4)
	}
	where := "arm"
	if len(d.Covariates) > 0 {
		where = "arm or covariate"
	}
	natural := func(e CohortEffect, v Number) Number {
		if e.Scale == string(cohort.Log) {
			return Number(math.Exp(float64(v)))
		}
		return v
	}
	rows := d.Fixed
	t := Table{Name: "cohort", Title: fmt.Sprintf("The %s curve of a cohort: %d trainees, %d attempts, %s noise", d.Family, d.NTrainees, d.NAttempts, d.Noise), Columns: []Column{
		Words("parameter", "parameter", rows, CohortEffect.title),
		Words("arm", where, rows, d.groupOf),
		Words("scale", "scale", rows, func(e CohortEffect) string { return e.Scale }),
		Numbers("estimate", "estimate", rows, func(e CohortEffect) Number { return e.Estimate }, estimate),
		Numbers("se", "SE", rows, func(e CohortEffect) Number { return e.SE }, ThreeDigits),
		Numbers("lower", d.from(), rows, func(e CohortEffect) Number { return e.Lower }, nil),
		Numbers("upper", "to", rows, func(e CohortEffect) Number { return e.Upper }, nil),
		Numbers("natural", "as a value or factor", rows, func(e CohortEffect) Number { return natural(e, e.Estimate) }, nil),
		Numbers("natural_lower", "from", rows, func(e CohortEffect) Number { return natural(e, e.Lower) }, nil),
		Numbers("natural_upper", "to", rows, func(e CohortEffect) Number { return natural(e, e.Upper) }, nil),
	}}
	t.Notes = append(d.effectNotes(), d.covariateNotes()...)
	t.Notes = append(t.Notes, d.methods())
	return t
}

// from heads the lower end of an interval.
func (d *Cohort) from() string { return fmt.Sprintf("%g %% from", 100*d.Level) }

// title names the parameter, and says where it is held.
func (e CohortEffect) title() string {
	if e.Held {
		return e.Name + " (held)"
	}
	return e.Name
}

// groupOf says whom an effect is about: an arm, a covariate's level, or all.
func (d *Cohort) groupOf(e CohortEffect) string {
	switch {
	case e.Covariate != "":
		return strings.TrimSpace(e.Covariate + " " + e.Level)
	case e.Arm != "":
		return e.Arm
	case len(d.Arms) < 2:
		return ArmName(d.Arms[0])
	}
	return "all"
}

// effectNotes explain the rows of parameters, and tell what stands beside them.
func (d *Cohort) effectNotes() []string {
	var out []string
	if slices.ContainsFunc(d.Fixed, func(e CohortEffect) bool { return e.Arm != "" && e.Arm != d.Arms[0] }) {
		out = append(out, fmt.Sprintf("Rows of arms other than %s are differences from it on the parameter's scale; on the log scale the value column shows them as factors.", ArmName(d.Arms[0])))
	}
	if d.unknown() {
		out = append(out, "Not identified: these attempts do not show the value, so none is given; an end of the interval that is given is a bound.")
	}
	if slices.ContainsFunc(d.Fixed, func(e CohortEffect) bool { return e.Name == cohort.Session }) {
		out = append(out, "session: the restart, a shift of the first attempt after a break between sessions against the trainee's curve, on the scale of the noise; fading: the rate per attempt at which the restart fades.")
	}
	if v := float64(d.ResidualSD); !math.IsNaN(v) {
		what := map[models.AdditiveScale]string{models.AddedLog: " of the natural logarithm", models.AddedSpeed: " of the speed (one over the response)"}[addedOn(d.Noise)]
		out = append(out, fmt.Sprintf("Residual SD%s about a trainee's own curve: %s (%s to %s).", what, Significant(v, 4), Significant(float64(d.ResidualLower), 4), Significant(float64(d.ResidualUpper), 4)))
	}
	if tails := tailWords(d.Noise); tails != "" {
		out = append(out, fmt.Sprintf("Noise is %s: %s.", d.Noise, tails))
	}
	if note := d.carryNote(); note != "" {
		out = append(out, note)
	}
	return out
}

// carryNote says what residuals carry over.
func (d *Cohort) carryNote() string {
	if len(d.Carryover) == 0 {
		return ""
	}
	range1 := func(e CohortEffect) string {
		if e.Held {
			return fmt.Sprintf("%s, held", Significant(float64(e.Estimate), 3))
		}
		return fmt.Sprintf("%s (%s to %s)", Significant(float64(e.Estimate), 3), Significant(float64(e.Lower), 3), Significant(float64(e.Upper), 3))
	}
	if len(d.Carryover) == 1 {
		return fmt.Sprintf("Residuals of neighbouring attempts of a session correlate by %s, attempts m apart by that to the power m.", range1(d.Carryover[0]))
	}
	return fmt.Sprintf("A part of the residual variance, %s, carries over: it correlates by %s from one attempt of a session to the next; the rest is fresh at every attempt.", range1(d.Carryover[1]), range1(d.Carryover[0]))
}

// methods is the paragraph for a paper's methods section.
func (d *Cohort) methods() string {
	how := "by the Laplace approximation"
	if d.Method == "quadrature" {
		how = fmt.Sprintf("by adaptive Gauss-Hermite quadrature with %d points a random effect", d.Nodes)
	}
	covariance := map[string]string{
		"full": "with all correlations", "diagonal": "taken as independent",
		cohort.RungReduced: "with all correlations, one of them at its bound of ±1", "fewer random effects": "after dropping those in which how much trainees differ cannot be told from noise", "two-stage": "summarised from separate curves",
	}[d.Rung]
	if len(d.Correlations) == 0 && d.Rung == "full" {
		covariance = "of one parameter"
	}
	if d.Rung == "two-stage" {
		how = "in two stages"
	}
	likelihood := "Maximum likelihood"
	if d.REML {
		likelihood, how = "Restricted maximum likelihood (REML),", "exact because the curve is linear in what moves it"
	}
	doubt := ""
	if d.Status == "not-converged" || d.Status == "not-identified" {
		doubt = fmt.Sprintf(" The search ended doubtful (%s): read the numbers with care.", d.Status)
	}
	return fmt.Sprintf("%s %s; trainees' deviations normal on the scale of each parameter, %s.%s Log-likelihood %s, AIC %s, BIC %s on %d trainees. Intervals: %s.",
		likelihood, how, covariance, doubt, Significant(float64(d.LogLikelihood), 7), Significant(float64(d.AIC), 7), Significant(float64(d.BIC), 7), d.NTrainees, d.IntervalMethod)
}

func (d *Cohort) spreadTable() Table {
	rows := d.Random
	t := Table{Name: "cohort_spread", Title: "How much trainees differ", Columns: []Column{
		Words("parameter", "parameter", rows, func(r CohortSpread) string { return r.Name }),
		Words("scale", "scale", rows, func(r CohortSpread) string { return r.Scale }),
		Numbers("sd", "SD", rows, func(r CohortSpread) Number { return r.SD }, nil),
		Numbers("lower", d.from(), rows, func(r CohortSpread) Number { return r.Lower }, nil),
		Numbers("upper", "to", rows, func(r CohortSpread) Number { return r.Upper }, nil),
		Words("words", "in words", rows, func(r CohortSpread) string { return r.Words }),
	}}
	if len(d.Correlations) > 0 {
		var parts []string
		for _, c := range d.Correlations {
			parts = append(parts, fmt.Sprintf("%s and %s %s", c.A, c.B, Significant(float64(c.Value), 2)))
		}
		t.Notes = append(t.Notes, "Correlations between trainees' deviations: "+strings.Join(parts, ", ")+".")
	}
	return t
}

// modelTable lists the models that were weighed.
func (d *Cohort) modelTable() Table {
	rows := d.Models
	small := func(v float64) string { return fmt.Sprintf("%.4f", v) }
	t := Table{Name: "cohort_models", Title: "Models tried, the chosen one first, then those that foretell best", Columns: []Column{
		Words("model", "model", rows, func(m CohortModel) string { return m.Model }),
		Numbers("score", "score", rows, func(m CohortModel) Number { return m.Score }, small),
		Numbers("behind", "behind the chosen one", rows, func(m CohortModel) Number { return m.Behind }, small),
		Numbers("se", "SE of that", rows, func(m CohortModel) Number { return m.SE }, small),
		Numbers("aic", "AIC", rows, func(m CohortModel) Number { return m.AIC }, func(v float64) string { return Significant(v, 7) }),
		Numbers("weight", "weight in projections", rows, func(m CohortModel) Number { return m.Weight }, func(v float64) string { return fmt.Sprintf("%.2f", v) }),
	}}
	t.Notes = append(t.Notes,
		"Score: each trainee's later attempts are foretold from the first 5, 10, 20 and so on, by the cohort without that trainee; the score is the mean log density of the attempts that came (higher is better). Of those whose score is within a standard error of the highest the one with the lowest AIC is chosen.",
		"Words of models: family and noise (student and log-student: with heavier tails than the normal's); start for gain: the starting level stands for the gain; own spread: trainees differ in noise; restart: a shift after a break between sessions; one … for all: the same value for every trainee; carryover and uncorrelated as the flags of these names.",
		"Weights are those with which the models together foretell best (stacking; Yao, Vehtari, Simpson and Gelman, 2018).")
	if trust := float64(*d.Trust); trust > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("A trainee's own attempts move the weights for that trainee, with the power %g of what they say for each model.", trust))
	}
	return t
}

func (d *Cohort) ladderTable() Table {
	rows := d.Ladder
	t := Table{Name: "cohort_ladder", Title: "Steps tried, from the richest covariance down; the last is used", Columns: []Column{
		Words("rung", "rung", rows, func(s CohortStep) string { return s.Rung }),
		Words("random", "differ between trainees", rows, func(s CohortStep) string { return strings.Join(s.Random, " ") }),
		Words("status", "status", rows, func(s CohortStep) string { return s.Status }),
		Numbers("log_likelihood", "log-likelihood", rows, func(s CohortStep) Number { return s.LogLikelihood }, func(v float64) string { return Significant(v, 7) }),
		Words("why", "why not used", rows, func(s CohortStep) string { return s.Why }),
	}}
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
	rows := d.Bootstrap
	t := Table{Name: "cohort_bootstrap", Title: "Intervals from whole trainees drawn with replacement", Columns: []Column{
		Words("kind", "kind", rows, func(b CohortBootstrap) string { return b.Kind }),
		Words("parameter", "parameter", rows, func(b CohortBootstrap) string { return b.Name }),
		Words("arm", "arm", rows, func(b CohortBootstrap) string { return b.Arm }),
		Words("covariate", heading("covariate", len(d.Covariates) > 0), rows, func(b CohortBootstrap) string { return b.Covariate }),
		Words("level", heading("level", len(d.Covariates) > 0), rows, func(b CohortBootstrap) string { return b.Level }),
		Numbers("estimate", "estimate", rows, func(b CohortBootstrap) Number { return b.Estimate }, nil),
		Numbers("lower", d.from(), rows, func(b CohortBootstrap) Number { return b.Lower }, nil),
		Numbers("upper", "to", rows, func(b CohortBootstrap) Number { return b.Upper }, nil),
		Counts("replicates", "refits", rows, func(b CohortBootstrap) int { return b.Replicates }),
		Counts("failed_replicates", "failed", rows, func(b CohortBootstrap) int { return b.FailedReplicates }),
	}}
	t.Notes = []string{"Percentiles, on the scale of the table of parameters; drawn within arms, a trainee drawn twice being two people."}
	return t
}

// String says what was corrected, and why.
func (c *CohortCorrection) String() string {
	return fmt.Sprintf("From and to were checked on these trainees: the later attempts of each of %d were foretold from the first ones, without that trainee in the fit. Of %d such predictions %s held within the models' %g %% ranges. The ranges here are made wider or narrower to fit that, each by the predictions from about as many attempts as the trainee has: over all they run from %s to %s of the models' predictions, where the models' own run from %s to %s.",
		c.Trainees, c.Attempts, Percent(float64(c.Inside)), 100*float64(c.Level),
		tenthPercent(float64(c.LowerShare)), tenthPercent(float64(c.UpperShare)), tenthPercent((1-float64(c.Level))/2), tenthPercent((1+float64(c.Level))/2))
}

func tenthPercent(share float64) string { return fmt.Sprintf("%.1f %%", 100*share) }

// next is a trainee's next attempt; unknown where none is projected.
func (t CohortTrainee) next() CohortForecast {
	if len(t.Projection) == 0 {
		nan := Number(math.NaN())
		return CohortForecast{nan, nan, nan, nan, nan, nan, nan}
	}
	return t.Projection[0]
}

// traineeTable is one row a trainee: own parameters and the next attempt.
func (d *Cohort) traineeTable() Table {
	rows := d.Trainees
	t := Table{Name: "cohort_trainees", Title: "Trainees with the cohort behind them", Columns: []Column{
		Words("trainee", "trainee", rows, func(m CohortTrainee) string { return m.Trainee }),
		Words("arm", "arm", rows, func(m CohortTrainee) string { return m.Arm }),
		Counts("n", "n", rows, func(m CohortTrainee) int { return m.N }),
		Counts("n_censored", "timeouts", rows, func(m CohortTrainee) int { return m.NCensored }),
	}}
	if len(rows) == 0 {
		return t
	}
	for j, p := range rows[0].Parameters {
		t.Columns = append(t.Columns,
			Numbers(p.Name, p.Name, rows, func(m CohortTrainee) Number { return m.Parameters[j].Estimate }, ThreeDigits),
			Numbers(p.Name+"_own_share", "own share", rows, func(m CohortTrainee) Number { return m.Parameters[j].OwnShare }, Percent))
	}
	t.Columns = append(t.Columns,
		Numbers("residual_sd", "", rows, func(m CohortTrainee) Number { return m.ResidualSD }, nil),
		Numbers("next_attempt", "next", rows, func(m CohortTrainee) Number { return m.next().Attempt }, Whole),
		Numbers("next_expected", "expected", rows, func(m CohortTrainee) Number { return m.next().Expected }, ThreeDigits),
		Numbers("next_median", "", rows, func(m CohortTrainee) Number { return m.next().Median }, nil),
		Numbers("next_lower", "from", rows, func(m CohortTrainee) Number { return m.next().Lower }, ThreeDigits),
		Numbers("next_upper", "to", rows, func(m CohortTrainee) Number { return m.next().Upper }, ThreeDigits))
	next := fmt.Sprintf("next, expected, from, to: the next attempt, if practice continues as so far; %g %% of such attempts fall between from and to, the uncertainty of the cohort's parameters included.", 100*d.Level)
	if d.passFail() {
		next = fmt.Sprintf("next, expected, from, to: the chance to pass the next attempt, if practice continues as so far, with its %g %% interval. Plateau and gain are on the logit scale.", 100*d.Level)
	}
	t.Notes = []string{"own share: how much of the value rests on the trainee's own attempts; the rest is the cohort's.", next}
	if c := d.Correction; c != nil {
		t.Notes = append(t.Notes, c.String())
	}
	if slices.ContainsFunc(rows, CohortTrainee.unknown) {
		t.Notes = append(t.Notes, "A dash in the place of a parameter: not identified from the trainee's and the cohort's attempts.")
	}
	t.Notes = append(t.Notes, Caution)
	return t
}

// unknown reports whether a value of the trainee is not identified.
func (t CohortTrainee) unknown() bool {
	return slices.ContainsFunc(t.Parameters, func(p CohortParameter) bool { return math.IsNaN(float64(p.Estimate)) })
}

// A forecastRow is a projected attempt with whose it is.
type forecastRow struct {
	trainee, arm string
	CohortForecast
}

// projectionTable holds the attempts projected for new trainees.
func (d *Cohort) projectionTable() Table {
	var rows []forecastRow
	for _, n := range d.NewTrainees {
		for _, f := range n.Projection {
			rows = append(rows, forecastRow{arm: ArmName(n.Arm), CohortForecast: f})
		}
	}
	return Table{Name: "cohort_projection", Title: "A new trainee, before any attempt", Columns: []Column{
		Words("arm", "arm", rows, func(r forecastRow) string { return r.arm }),
		Numbers("attempt", "attempt", rows, func(r forecastRow) Number { return r.Attempt }, Whole),
		Numbers("expected", "expected", rows, func(r forecastRow) Number { return r.Expected }, ThreeDigits),
		Numbers("median", "", rows, func(r forecastRow) Number { return r.Median }, nil),
		Numbers("lower", d.from(), rows, func(r forecastRow) Number { return r.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(r forecastRow) Number { return r.Upper }, ThreeDigits),
	}}
}

// ForecastTable is every trainee's projected attempts, for a file.
func (d *Cohort) ForecastTable() Table {
	var rows []forecastRow
	for _, m := range d.Trainees {
		for _, f := range m.Projection {
			rows = append(rows, forecastRow{m.Trainee, m.Arm, f})
		}
	}
	return Table{Name: "cohort_forecasts", Columns: []Column{
		Words("trainee", "", rows, func(r forecastRow) string { return r.trainee }),
		Words("arm", "", rows, func(r forecastRow) string { return r.arm }),
		Numbers("attempt", "", rows, func(r forecastRow) Number { return r.Attempt }, nil),
		Numbers("expected", "", rows, func(r forecastRow) Number { return r.Expected }, nil),
		Numbers("median", "", rows, func(r forecastRow) Number { return r.Median }, nil),
		Numbers("lower", "", rows, func(r forecastRow) Number { return r.Lower }, nil),
		Numbers("upper", "", rows, func(r forecastRow) Number { return r.Upper }, nil),
	}}
}

// A populationRow is a share of new trainees with whose it is.
type populationRow struct {
	arm, definition string
	CohortShare
}

// populationTable shows the shares at a few attempts to people.
func (d *Cohort) populationTable() Table {
	var rows []populationRow
	for _, p := range d.Population {
		for _, r := range p.Rows {
			if !shownAttempt(int(r.Attempt), len(p.Rows)) {
				continue
			}
			rows = append(rows, populationRow{ArmName(p.Arm), p.Definition, r})
			if r.Lower >= 0.995 { // nothing more to say
				break
			}
		}
	}
	t := Table{Name: "cohort_population", Title: fmt.Sprintf("Share of new trainees proficient at a standard of %s", Significant(float64(d.Standard), 4)), Columns: []Column{
		Words("arm", "arm", rows, func(r populationRow) string { return r.arm }),
		Words("definition", "definition", rows, func(r populationRow) string { return r.definition }),
		Numbers("attempt", "by attempt", rows, func(r populationRow) Number { return r.Attempt }, Whole),
		Numbers("share", "share", rows, func(r populationRow) Number { return r.Share }, Percent),
		Numbers("lower", d.from(), rows, func(r populationRow) Number { return r.Lower }, Percent),
		Numbers("upper", "to", rows, func(r populationRow) Number { return r.Upper }, Percent),
	}}
	t.Notes = []string{
		fmt.Sprintf("mean-crossing: the trainee's curve meets the standard. pass-chance: one attempt meets it with chance %s.", Percent(d.Study.Question.Chance)),
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

// A crossingRow is a trainee's attempts to proficiency under one definition.
type crossingRow struct {
	of CohortTrainee
	CohortProficiency
}

// proficiencyTable withholds what is too early to tell.
func (d *Cohort) proficiencyTable() Table {
	show := func(v float64) string { return attemptsText(v, d.Horizon) }
	var rows []crossingRow
	for _, m := range d.Trainees {
		for _, p := range m.Proficiency {
			if p.Status == string(proficiency.TooEarly) {
				nan := Number(math.NaN())
				p.Estimate, p.Lower, p.Upper, p.Status = nan, nan, nan, "too early to tell"
			}
			rows = append(rows, crossingRow{m, p})
		}
	}
	t := Table{Name: "cohort_proficiency", Title: "Attempts until proficient, if practice continues as so far", Columns: []Column{
		Words("trainee", "trainee", rows, func(r crossingRow) string { return r.of.Trainee }),
		Words("arm", "arm", rows, func(r crossingRow) string { return r.of.Arm }),
		Counts("n", "attempts so far", rows, func(r crossingRow) int { return r.of.N }),
		Words("definition", "definition", rows, func(r crossingRow) string { return r.Definition }),
		Numbers("estimate", "attempts", rows, func(r crossingRow) Number { return r.Estimate }, show),
		Numbers("lower", d.from(), rows, func(r crossingRow) Number { return r.Lower }, show),
		Numbers("upper", "to", rows, func(r crossingRow) Number { return r.Upper }, show),
		Numbers("not_reached", "chance not within horizon", rows, func(r crossingRow) Number { return r.NotReached }, Percent),
		Words("status", "status", rows, func(r crossingRow) string { return r.Status }),
	}}
	t.Notes = []string{
		fmt.Sprintf("Withheld below %d attempts, or when the range includes not getting there within %s attempts. The range allows for the trainee's own attempts being few.", proficiency.MinAttempts, Significant(d.Horizon, 4)),
	}
	if d.Rule != "" {
		t.Notes = append(t.Notes, d.ruleNote())
	}
	t.Notes = append(t.Notes, Caution)
	return t
}

// ruleNote says what a projected rule-met is, and what it is for new trainees.
func (d *Cohort) ruleNote() string {
	h := d.Horizon
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

// A moveRow is a projection with whose it is.
type moveRow struct {
	of CohortTrainee
	CohortMove
}

// MovesTable is how every trainee's projection of rule-met moved, for a file.
func (d *Cohort) MovesTable() Table {
	var rows []moveRow
	for _, m := range d.Trainees {
		for _, v := range m.Moves {
			rows = append(rows, moveRow{m, v})
		}
	}
	return Table{Name: "cohort_moves", Columns: []Column{
		Words("trainee", "", rows, func(r moveRow) string { return r.of.Trainee }),
		Words("arm", "", rows, func(r moveRow) string { return r.of.Arm }),
		Counts("attempts_made", "", rows, func(r moveRow) int { return r.AttemptsMade }),
		Numbers("estimate", "", rows, func(r moveRow) Number { return r.Estimate }, nil),
		Numbers("lower", "", rows, func(r moveRow) Number { return r.Lower }, nil),
		Numbers("upper", "", rows, func(r moveRow) Number { return r.Upper }, nil),
		Numbers("not_reached", "", rows, func(r moveRow) Number { return r.NotReached }, nil),
		Words("status", "", rows, func(r moveRow) string { return r.Status }),
	}}
}
