package reports

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/plan"
	"tyro/analysis/practice"
)

// planAsked says what a study has to give to count.
func planAsked(d plan.Design, level float64) string {
	interval := fmt.Sprintf("%g %% interval", 100*level)
	what := map[bool]string{true: "upper end over lower end", false: "width"}
	switch {
	case d.Ratings != nil && d.Width == 0:
		return fmt.Sprintf("%s of an agreement coefficient", interval)
	case d.Ratings != nil:
		return fmt.Sprintf("%s of an agreement coefficient no wider than %g", interval, d.Width)
	case d.Course != nil && d.Course.Quota != nil && d.Width == 0:
		return fmt.Sprintf("%s of a quota%s", interval, quotaBasis(d.Course.Quota))
	case d.Course != nil && d.Course.Quota != nil:
		return fmt.Sprintf("%s of a quota%s no wider than %g attempts", interval, quotaBasis(d.Course.Quota), d.Width)
	case d.Width > 0:
		ratio := d.LogRank != nil || d.Course != nil && d.Course.Task.Measure == practice.Time
		return fmt.Sprintf("%s of the contrast with a %s of at most %g", interval, what[ratio], d.Width)
	case d.Margin != nil:
		return marginAsked(d, level) + ofSeveral(d)
	}
	return fmt.Sprintf("arms told apart (two-sided, p below %s)", tailOf(1-level)) + ofSeveral(d)
}

// tailOf is the share of an error, without the digits that 1 − 0.95 brings.
func tailOf(share float64) string { return strconv.FormatFloat(share, 'g', 3, 64) }

// ofSeveral says which of three or more arms are meant; blank for two.
func ofSeveral(d plan.Design) string {
	c := d.Course
	if c == nil || len(c.People.Arms) < 3 {
		return ""
	}
	who := c.Told
	switch c.Told {
	case plan.AnyArm:
		who = "at least one arm"
	case plan.AllArms:
		who = "every other arm"
	}
	return fmt.Sprintf(": %s against %s, p adjusted for %d arms (Holm)", who, armWord(c.People.Arms[0]), len(c.People.Arms)-1)
}

// quotaBasis says what a quota is worked out by.
func quotaBasis(q *plan.Quota) string {
	if q.Curve {
		return " by the cohort's curve"
	}
	return " as observed"
}

// marginAsked says what a study has to show against the margin.
func marginAsked(d plan.Design, level float64) string {
	share := tailOf(1 - level)
	if d.Margin.NonInferior {
		return fmt.Sprintf("the other arm shown to be not worse by the margin of %g (one-sided, p below %s)", d.Margin.Value, tailOf((1-level)/2))
	}
	return fmt.Sprintf("the arms shown to lie within the margin of %g of each other, on both sides (two one-sided tests, each at %s: an interval of %s)", d.Margin.Value, share, Percent(2*level-1))
}

// planAssumptions lists everything that the power rests on.
func planAssumptions(d plan.Design) []string {
	switch {
	case d.TTest != nil:
		return []string{
			fmt.Sprintf("One number a trainee, normal, with a standard deviation of %g in both arms.", d.TTest.SD),
			fmt.Sprintf("The means differ by %g.", d.TTest.Difference) + betterWords(d),
			"Everybody is seen, and trainees are independent.",
		}
	case d.LogRank != nil:
		return []string{
			fmt.Sprintf("Everybody is followed for the same time, by the end of which %s of the reference arm have the event; hazards are constant.", Percent(d.LogRank.Met)),
			fmt.Sprintf("The hazard of the other arm over the reference arm's is %g.", d.LogRank.HazardRatio),
			"Nobody leaves before the end, and trainees are independent.",
		}
	case d.Ratings != nil:
		return ratingsAssumptions(d.Ratings)
	}
	return courseAssumptions(d, d.Course)
}

// betterWords says which numbers are better, where being not worse is asked about.
func betterWords(d plan.Design) string {
	switch {
	case d.Margin == nil || !d.Margin.NonInferior:
		return ""
	case d.TTest.Lower:
		return " Smaller numbers are better."
	}
	return " Larger numbers are better."
}

func ratingsAssumptions(k *plan.Ratings) []string {
	if k.Shares != nil {
		return []string{
			fmt.Sprintf("Every subject is rated by the same %d raters; kappa is %g.", k.Raters, k.Expect),
			fmt.Sprintf("Both use the categories with shares of %s.", joined(k.Shares)),
		}
	}
	out := []string{fmt.Sprintf("Every subject is rated by the same %d raters; the icc of a single rating is %g; ratings are normal.", k.Raters, k.Expect)}
	if k.RaterShare > 0 {
		return append(out, fmt.Sprintf("Of the variance that is not between subjects, %s lies between raters.", Percent(k.RaterShare)))
	}
	return append(out, "Raters are equally strict.")
}

func joined(vs []float64) string {
	var parts []string
	for _, v := range vs {
		parts = append(parts, fmt.Sprint(v))
	}
	return strings.Join(parts, ", ")
}

func courseAssumptions(d plan.Design, c *plan.Course) []string {
	var out []string
	p := c.People
	article := "a"
	if strings.ContainsRune("aeiou", rune(p.Family[0])) {
		article = "an"
	}
	out = append(out, fmt.Sprintf("Every trainee has %s %s curve of their own with %s.", article, p.Family, NoiseWords(p.Noise)))
	for _, q := range p.Parameters {
		out = append(out, parameterLine(p, q))
	}
	if len(p.Correlations) > 0 {
		var parts []string
		for _, x := range p.Correlations {
			parts = append(parts, fmt.Sprintf("%s and %s %.2f", x.A, x.B, float64(x.Value)))
		}
		out = append(out, "Trainees' parameters go together with correlations of "+strings.Join(parts, ", ")+".")
	} else {
		out = append(out, "Trainees' parameters are independent of each other.")
	}
	out = append(out, eventLines(c)...)
	for _, arm := range p.Arms[min(1, len(p.Arms)):] {
		var parts []string
		for _, e := range c.Effects {
			if e.Arm == arm || e.Arm == "" {
				parts = append(parts, effectText(e))
			}
		}
		if parts != nil {
			out = append(out, fmt.Sprintf("Effect of %s against %s: %s.", armWord(arm), armWord(p.Arms[0]), strings.Join(parts, "; ")))
		}
	}
	return append(out, courseCircumstances(d, c)...)
}

// eventLines say what errors and hard fails befall attempts.
func eventLines(c *plan.Course) []string {
	if len(c.Events) == 0 {
		return []string{"No errors and no hard fails: attempts pass or not by their response alone."}
	}
	var out []string
	for _, e := range c.Events {
		name := Capital(strings.NewReplacer("-", " ", "_", " ").Replace(e.Name))
		var parts []string
		same := true
		for k, v := range e.Rate {
			parts = append(parts, fmt.Sprintf("%s (%s)", Significant(float64(v), 3), armWord(c.People.Arms[k])))
			same = same && v == e.Rate[0]
		}
		often := strings.Join(parts, ", ")
		if same {
			often = Significant(float64(e.Rate[0]), 3)
		}
		text := fmt.Sprintf("%s: %s in a first attempt on average", name, often)
		if e.Name == plan.HardFails {
			text = fmt.Sprintf("%s: a chance of %s in a first attempt", name, often)
		}
		if e.Fall != 0 {
			text += fmt.Sprintf(", and n^%s times that in attempt n", Significant(-e.Fall, 3))
		}
		if e.Name == plan.HardFails {
			text += "; such an attempt has no response"
		}
		if e.TraineeSD > 0 {
			text += fmt.Sprintf("; the logarithm differs between trainees with a standard deviation of %s, whatever their curve", Significant(e.TraineeSD, 3))
		}
		if e.AttemptSD > 0 {
			text += fmt.Sprintf(", and between attempts of a trainee with %s", Significant(e.AttemptSD, 3))
		}
		if v := float64(e.AtMost); !math.IsNaN(v) {
			text += fmt.Sprintf("; a pass may have at most %g", v)
		}
		out = append(out, text+".")
	}
	return out
}

// parameterLine says one parameter of the middle trainee of each arm, and how much
// trainees differ in it.
func parameterLine(p cohort.Assumed, q cohort.AssumedParameter) string {
	var parts []string
	same := true
	for k, v := range q.Values {
		parts = append(parts, fmt.Sprintf("%s (%s)", Significant(float64(v), 4), armWord(p.Arms[k])))
		same = same && v == q.Values[0]
	}
	text := strings.Join(parts, ", ")
	if same {
		text = Significant(float64(q.Values[0]), 4)
	}
	text = fmt.Sprintf("%s: %s", Capital(strings.ReplaceAll(q.Name, "-", " ")), text)
	switch {
	case q.SD == 0:
		return text + "; the same for all."
	case q.Scale == cohort.Log:
		return fmt.Sprintf("%s for the middle trainee; the logarithm differs between trainees with a standard deviation of %s.", text, Significant(float64(q.SD), 3))
	}
	return fmt.Sprintf("%s on average; trainees differ with a standard deviation of %s.", text, Significant(float64(q.SD), 3))
}

func armWord(arm string) string {
	if arm == "" {
		return "all"
	}
	return arm
}

func effectText(e plan.Effect) string {
	if e.Ratio {
		return fmt.Sprintf("%s times %g", strings.ReplaceAll(e.Name, "_", " "), e.Value)
	}
	return fmt.Sprintf("%s %+g", strings.ReplaceAll(e.Name, "_", " "), e.Value)
}

// courseCircumstances are who leaves, what is cut off, who stops and how trainees belong
// together.
func courseCircumstances(d plan.Design, c *plan.Course) []string {
	var out []string
	if c.DropOut > 0 {
		out = append(out, fmt.Sprintf("%s leave before their last attempt, with the same chance after every attempt and whatever their skill.", Percent(c.DropOut)))
	} else {
		out = append(out, "Nobody leaves.")
	}
	if c.Task.Limit > 0 {
		out = append(out, fmt.Sprintf("Attempts are stopped at %g; the analysis takes them as longer than that.", c.Task.Limit))
	}
	if v := float64(c.Task.Standard); !math.IsNaN(v) {
		text := fmt.Sprintf("The standard is %g", v)
		if c.Task.Rule != "" {
			text += fmt.Sprintf(", the rule %s", c.Task.Rule)
		}
		out = append(out, text+".")
	}
	if len(c.StopMet) > 0 {
		out = append(out, fmt.Sprintf("Trainees of %s stop when they have met the rule.", strings.Join(c.StopMet, " and ")))
	}
	if k := c.Clusters; k != nil {
		where := "in all, each with trainees of all arms"
		if k.Whole {
			where = "in each arm"
		}
		unit := ""
		if c.People.Parameters[0].Scale == cohort.Log {
			unit = ", of logarithms"
		}
		out = append(out, fmt.Sprintf("Trainees come in clusters, %d %s; clusters move all levels with a standard deviation of %g%s.", k.Count, where, k.SD, unit))
	} else {
		out = append(out, "Trainees are independent.")
	}
	if t := c.Test; t != nil {
		var parts []string
		for k, v := range t.Change {
			parts = append(parts, fmt.Sprintf("%g (%s)", v, armWord(c.People.Arms[k])))
		}
		how := "by"
		if c.Task.Measure == practice.Time {
			how = "to times"
		}
		out = append(out, fmt.Sprintf("At one attempt after a break the level has changed %s %s, with a standard deviation of trainees' own changes of %g.", how, strings.Join(parts, ", "), t.SD))
	}
	return out
}

// planAnalysis is the command that the study's data will be given to.
func planAnalysis(d plan.Design, attempts int) string {
	c := d.Course
	if c == nil {
		return ""
	}
	words := "tyro compare STUDY"
	switch {
	case c.Quota != nil:
		return "tyro quota STUDY"
	case c.Contrast == plan.Retention:
		return "tyro compare TABLE --response COL --arm COL"
	}
	family := c.Family
	if family == "" {
		family = c.People.Family
	}
	words += " --family " + family
	if c.Contrast == "level" || c.Contrast == "mean-level" {
		at := float64(attempts)
		if c.At > 0 {
			at = c.At
		}
		words += fmt.Sprintf(" --at %g", at)
	}
	if c.Clusters != nil {
		words += " --cluster COL"
	}
	return words
}

// protocol is the paragraph for an ethics form or a registration.
func (d *Plan) protocol() string {
	r, ok := d.chosen()
	if !ok {
		if len(d.Smallest) > 0 {
			return "No size gives what is asked for."
		}
		return "No size has been looked at."
	}
	parts := []string{d.protocolDesign(r), d.protocolAnalysis()}
	parts = append(parts, "We assumed the following. "+strings.Join(d.Assumptions, " "))
	parts = append(parts, d.protocolResult(r))
	parts = append(parts, "The figures hold as far as these assumptions do.")
	return strings.Join(parts, " ")
}

// chosen is the size that the paragraph is about: the smallest found, else the last row.
func (d *Plan) chosen() (PlanRow, bool) {
	for _, s := range d.Smallest {
		if s.Trainees != nil {
			return d.Cell(*s.Trainees, s.Attempts), true
		}
	}
	if len(d.Rows) == 0 {
		return PlanRow{}, false
	}
	return d.Rows[len(d.Rows)-1], true
}

func (d *Plan) protocolDesign(r PlanRow) string {
	if k := d.Design.Ratings; k != nil {
		return fmt.Sprintf("%d subjects will each be rated by %d raters.", r.Trainees, k.Raters)
	}
	attempts := ""
	if d.Design.Course != nil {
		attempts = fmt.Sprintf(", each making up to %d attempts", r.Attempts)
	}
	arms := []string{"the reference arm", "the other arm"}
	if c := d.Design.Course; c != nil {
		arms = slices.Clone(c.People.Arms)
	}
	if len(arms) == 1 {
		return fmt.Sprintf("%d trainees will take part%s.", r.Trainees, attempts)
	}
	of := []string{fmt.Sprintf("%d in %s", r.Trainees, armWord(arms[0]))}
	for _, arm := range arms[1:] {
		of = append(of, fmt.Sprintf("%d in %s", r.Other, armWord(arm)))
	}
	last := len(of) - 1
	return fmt.Sprintf("%d trainees will take part, %s and %s%s.", r.Trainees+last*r.Other, strings.Join(of[:last], ", "), of[last], attempts)
}

func (d *Plan) protocolAnalysis() string {
	level := fmt.Sprintf("%g %%", 100*d.Level)
	if m := d.Design.Margin; m != nil {
		return d.protocolMargin(*m)
	}
	switch d.Kind {
	case "t-test":
		return fmt.Sprintf("The means of the arms will be compared by Student's two-sided t test, with a %s interval.", level)
	case "log-rank":
		return fmt.Sprintf("The arms will be compared by a two-sided log-rank test at %s.", level)
	case "icc", "kappa":
		return fmt.Sprintf("The %s will be given with a %s interval.", d.Measure, level)
	case "quota":
		return fmt.Sprintf("The %s will be estimated%s, with a %s interval (%s).", d.Measure, quotaBasis(d.Design.Course.Quota), level, d.Analysis)
	}
	return fmt.Sprintf("The primary question is the contrast of %s between the arms, two-sided at %s%s, in the analysis \"%s\".", strings.ReplaceAll(d.Measure, "_", " "), level, ofSeveral(d.Design), d.Analysis)
}

// protocolMargin says what is to be shown against the margin, which has to be set before the
// study.
func (d *Plan) protocolMargin(m plan.Margin) string {
	ref, arm, in, how := "the reference arm", "the other arm", "means", "Student's test"
	if c := d.Design.Course; c != nil {
		ref, arm, in = armWord(c.People.Arms[0]), armWord(c.People.Arms[1]), strings.ReplaceAll(d.Measure, "_", " ")
		if len(c.People.Arms) > 2 {
			arm = map[string]string{plan.AnyArm: "any other arm", plan.AllArms: "every other arm"}[c.Told]
			if arm == "" {
				arm = c.Told
			}
		}
		how = fmt.Sprintf("the analysis \"%s\" with this margin in the study file", d.Analysis)
	}
	show := fmt.Sprintf("%s lies within the margin of %g of %s in %s, on both sides (two one-sided tests, each at %s)", arm, m.Value, ref, in, tailOf(1-d.Level))
	if m.NonInferior {
		show = fmt.Sprintf("%s is not worse than %s in %s by the margin of %g (one-sided at %s)", arm, ref, in, m.Value, tailOf((1-d.Level)/2))
	}
	return fmt.Sprintf("The primary question is whether %s, by %s. The margin was set before the study, as the largest difference that does not matter.", show, how)
}

func (d *Plan) protocolResult(r PlanRow) string {
	text := fmt.Sprintf("The whole study was simulated %d times with this analysis (tyro %s, seed %d).", r.Studies, d.Version, d.Seed)
	switch {
	case r.Refused:
		return text + fmt.Sprintf(" In %d of these studies the analysis failed, too many for a power to be stated.", r.Failed)
	case !math.IsNaN(float64(r.Power)):
		text += fmt.Sprintf(" A share of %s of the studies gave what was asked for, %s (95 %% interval of the simulation %s to %s).",
			threePlaces(float64(r.Power)), d.Asked, threePlaces(float64(r.Lower)), threePlaces(float64(r.Upper)))
	}
	if r.Failed > 0 {
		text += fmt.Sprintf(" The analysis failed in %d of them, which count as ones that did not.", r.Failed)
	}
	if v := float64(r.WidthMedian); !math.IsNaN(v) && !math.IsInf(v, 0) {
		kind := "interval has a width of"
		if r.Ratio {
			kind = "interval has an upper end over its lower end of"
		}
		most := "in 90 % of the studies it is at most " + Significant(float64(r.Width90), 3)
		if math.IsInf(float64(r.Width90), 1) {
			most = "in more than a tenth of the studies it has no upper end"
		}
		text += fmt.Sprintf(" The middle %s %s; %s.", kind, Significant(v, 3), most)
	}
	return text
}
