package reports

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
	"tyro/analysis/study"
)

// definition says in words by which method a standard was set.
func definition(a *study.Standard) string {
	r := a.Rule
	switch r.Method {
	case study.AsDecided:
		return a.InForce.Method
	case study.AsGiven:
		return "given for this run"
	case study.ContrastingGroups:
		return "contrasting groups, where the " + crossingWords(r.Crossing)
	case study.BorderlineGroup:
		middle := "mean"
		if r.UseMedian {
			middle = "median"
		}
		return fmt.Sprintf("borderline group, %s of those rated %g", middle, r.Borderline)
	case study.BorderlineRegression:
		return fmt.Sprintf("borderline regression, the value on the line through all ratings at rating %g", r.Borderline)
	case study.Angoff:
		last := a.Rounds[len(a.Rounds)-1]
		text := fmt.Sprintf("modified Angoff, mean over judges of the chances that a borderline trainee gets each of %d items right, added up", last.Items)
		if len(a.Rounds) > 1 {
			text += ", in round " + last.Name
		}
		return text
	case study.Ebel:
		return fmt.Sprintf("Ebel, mean over judges of the items in each class times the share a borderline trainee gets right, of %d items", a.Ebel.Items)
	case study.Hofstee:
		return "Hofstee's compromise, where the curve of percent failing meets the diagonal of the judges' box"
	}
	text := expertWords(r, a.Lower)
	if r.Drop != (standard.Drop{}) {
		text += ", " + r.Drop.String()
	}
	return text
}

// expertWords say how a standard follows from experts.
func expertWords(r study.StandardRule, lower bool) string {
	side := "minus"
	if lower {
		side = "plus"
	}
	by := func(what, unit string) string {
		if r.SDs == 0 {
			return what + " of experts"
		}
		return fmt.Sprintf("%s of experts %s %s %s", what, side, strconv.FormatFloat(r.SDs, 'g', -1, 64), unit)
	}
	switch {
	case r.Method == study.ExpertPercentile:
		return fmt.Sprintf("percentile %g of experts", 100*r.Share)
	case r.Method == study.ExpertMedian:
		return by("median", "scaled MAD")
	case r.Log:
		return by("geometric mean", "SD of logarithms")
	}
	return by("mean", "SD")
}

func crossingWords(c standard.Crossing) string {
	return map[standard.Crossing]string{
		standard.Normal:   "normal curves of equal area cross",
		standard.Weighted: "normal curves of the groups' sizes cross",
		standard.Logistic: "logistic regression gives one half",
		standard.Youden:   "observed value parts the groups best",
	}[c]
}

// alternativeName names another rule for the same data.
func alternativeName(r study.StandardRule, lower bool) string {
	if r.Method == study.ContrastingGroups {
		return string(r.Crossing) + ": " + crossingWords(r.Crossing)
	}
	return expertWords(r, lower) + ", " + r.Drop.String()
}

// runWords say how an expert's runs became one value; blank where nobody has more
// than one.
func runWords(a *study.Standard) string {
	if a.Experts == nil || !a.Experts.Several {
		return ""
	}
	text := "the " + cmp.Or(a.Rule.Summary, "mean") + " of their runs"
	switch n := a.Rule.SkipRuns; {
	case n == 1:
		text += " but the first"
	case n > 1:
		text += fmt.Sprintf(" but the first %d", n)
	}
	return text
}

// passWords say what a pass is where trainees are counted.
func passWords(c study.StatusChange) string {
	switch {
	case c.ByValue:
		return "the trainee's value meets the standard"
	case c.Rule != nil:
		return fmt.Sprintf("the trainee has met the rule %q", c.Rule)
	}
	return "the trainee's last attempt meets the standard"
}

// notes are the sentences under the standard.
func (d *Standard) notes() []string {
	pass := "at or above"
	if d.Better == "lower" {
		pass = "at or below"
	}
	out := []string{"A pass is a value " + pass + " the standard."}
	if p := d.Answer.Experts; p != nil {
		out = append(out, expertNotes(*p, d.Experts.Runs)...)
	}
	if d.Observed != nil && !math.IsNaN(float64(d.Observed.FalsePass)) {
		out = append(out, fmt.Sprintf("False passes (not yet competent who pass): observed %s, by the normal curves %s. False fails (competent who fail): observed %s, by the normal curves %s.",
			OnePlace(d.Observed.FalsePass), OnePlace(d.Theoretical.FalsePass), OnePlace(d.Observed.FalseFail), OnePlace(d.Theoretical.FalseFail)))
	}
	if d.Line != nil {
		out = append(out, d.Line.notes(d.Level)...)
	}
	if d.Classification != nil {
		out = append(out, d.Classification.sentences()...)
	}
	out = append(out, d.ErrorSentences()...)
	if f := d.Answer.InForce; f != nil {
		out = append(out, "In force: "+Significant(f.Value, 4)+decidedText(*f)+".")
	}
	if f := d.Answer.Given; f != nil {
		out = append(out, fmt.Sprintf("Given for this run: %s; nobody is said to have decided on it.", Significant(f.Value, 4)))
	}
	return append(out, "A standard is a decision of named people. Write into the study file who decided, when, and on which data.")
}

func expertNotes(p study.ExpertPanel, runs string) []string {
	dropped := ""
	if p.Dropped > 0 {
		dropped = fmt.Sprintf(" (%d dropped)", p.Dropped)
	}
	meeting := fmt.Sprintf("%d of %d meet this standard themselves", p.Meeting, p.Known)
	if math.IsNaN(p.Value) {
		meeting = "no standard for them to meet"
	}
	out := []string{fmt.Sprintf("Experts: %d, mean %s, SD %s, median %s%s; %s.",
		p.N, Significant(p.Mean, 4), Significant(p.SD, 3), Significant(p.Median, 4), dropped, meeting)}
	if runs != "" {
		out = append(out, "One value an expert: "+runs+".")
	}
	return out
}

func (l ratingLine) notes(level float64) []string {
	var out []string
	if !math.IsNaN(float64(l.Slope)) {
		out = append(out, fmt.Sprintf("Line: %s + %s × rating, R² %s, residual SD %s. Bootstrap of trainees: SE %s, %g %% from %s to %s.", Significant(float64(l.Intercept), 4), Significant(float64(l.Slope), 4),
			Significant(float64(l.RSquared), 3), Significant(float64(l.ResidualSD), 3), Significant(float64(l.BootstrapSE), 3), 100*level, Significant(float64(l.BootstrapLower), 4), Significant(float64(l.BootstrapUpper), 4)))
	}
	if l.GroupN > 0 {
		out = append(out, fmt.Sprintf("Rated %g: %s, mean %s, median %s.", l.Borderline, Count(l.GroupN, "trainee"), Significant(float64(l.GroupMean), 4), Significant(float64(l.GroupMedian), 4)))
	}
	return out
}

// sentences say what pass and fail are worth.
func (c classification) sentences() []string {
	shape := fmt.Sprintf("a beta distribution with four parameters, from %s to %s", Significant(float64(c.TrueLowest), 3), Significant(float64(c.TrueHighest), 3))
	if c.Parameters == 2 {
		shape = "a beta distribution with two parameters, over the whole range of scores"
	}
	return []string{
		fmt.Sprintf("One test each, reliability %s (%s), by Livingston and Lewis' method, for scores that can go from %g to %g: %s of trainees get the result that their true score deserves; %s of all pass wrongly, %s fail wrongly. On a second test alike %s would get the same result, kappa %s.",
			Significant(c.Reliability, 3), c.Source, float64(c.Lowest), float64(c.Highest), OnePlace(c.Accuracy), OnePlace(c.FalsePass), OnePlace(c.FalseFail), OnePlace(c.Consistency), Significant(float64(c.Kappa), 3)),
		fmt.Sprintf("True scores: %s; %s effective items, so that a trainee at the standard has a standard error of measurement of %s. Under this model %s pass, of the scores given %s.", shape, Significant(float64(c.EffectiveItems), 3), Significant(float64(c.Error), 3), OnePlace(c.PassShare), OnePlace(c.Passing)),
	}
}

// ErrorSentences say what false passes and fails single attempts lead to expect.
func (d *Standard) ErrorSentences() []string {
	x := d.Expected
	if x == nil {
		return nil
	}
	level, share := Significant(float64(x.Standard), 4), func(part, all int) string { return Percent(float64(part) / float64(all)) }
	var out []string
	switch {
	case x.Runs == 0:
	case x.Experts > 0:
		out = append(out, fmt.Sprintf("False fails to expect: at %s, %d of %d experts miss it by their own value, and %d of their %d single runs (%s) do not pass.",
			level, x.ExpertsFail, x.Experts, x.RunsFail, x.Runs, share(x.RunsFail, x.Runs)))
	default:
		out = append(out, fmt.Sprintf("False fails to expect: at %s, %d of the experts' %d single runs (%s) do not pass.", level, x.RunsFail, x.Runs, share(x.RunsFail, x.Runs)))
	}
	if x.FirstAttempts > 0 {
		out = append(out, fmt.Sprintf("False passes to expect: at %s, %d of %d trainees (%s) pass with their very first attempt.", level, x.FirstPass, x.FirstAttempts, share(x.FirstPass, x.FirstAttempts)))
	}
	return out
}

// decidedText says how a standard in force was decided, as far as the study file
// says it.
func decidedText(f practice.Decision) string {
	out := ""
	if f.Method != "" {
		out += " (" + f.Method + ")"
	}
	if f.DecidedBy != "" {
		out += ", decided by " + f.DecidedBy
	}
	if f.DecidedOn != "" {
		out += " on " + f.DecidedOn
	}
	if f.Data != "" {
		out += ", from " + f.Data
	}
	return out
}

// Appendix is the block for the study file.
func (d *Standard) Appendix() string {
	if d.StudyBlock == "" {
		return ""
	}
	return "\nFor the task in the study file, which is not changed here:\n" + d.StudyBlock
}

// OnePlace is a share as a percentage with one decimal; a dash for an unknown one.
func OnePlace(share Number) string {
	v := float64(share)
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(100*v, 'f', 1, 64) + " %"
}
