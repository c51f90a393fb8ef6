package page

import (
	"context"
	"fmt"
	"html/template"
	"math"
	"strings"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// lookAtStandard asks where the study's standard comes from and what hangs on it.
// Experts who cannot give one are said, and take nothing from the report.
func (r *Report) lookAtStandard(ctx context.Context) error {
	s := r.study
	if s.Task.Standard == nil && len(s.Experts) == 0 {
		return nil
	}
	a, err := s.CurrentStandard(ctx)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		r.lack("no-expert-standard", "the experts give no standard: "+err.Error())
	default:
		r.make(func(r *Report) { r.Standard = reports.NewStandard(s, a) })
	}
	return nil
}

// A standardPart is the report's section on the standard.
type standardPart struct {
	Sentences []string
	Figure    template.HTML
	Caption   string
	Errors    []string
	Others    *htmlTable
}

func (r *Report) fillStandard(p *page) error {
	d := r.Standard
	if d == nil {
		return nil
	}
	part := &standardPart{Sentences: story(d)}
	var err error
	draw := func(width float64) figure.Picture { return figure.Standard(d, width) }
	if part.Figure, err = picture(draw, 460); err != nil {
		return err
	}
	part.Caption = draw(460).Legend
	part.Errors = errorSentences(d)
	if t := d.AlternativesTable(); t.Len() > 0 {
		part.Others = newHTMLTable(t)
	}
	p.Standard = part
	return nil
}

// story says what the standard is, who decided, and who depends on it.
func story(d *reports.Standard) []string {
	var out []string
	switch given := d.Answer.Given; {
	case given != nil:
		out = append(out, fmt.Sprintf("Given for this run: %s. It is no decision of the study's, and nothing is known of how sure it is.", amount(d, reports.Number(given.Value))))
	case d.InForce != nil:
		s := d.InForce
		out = append(out, fmt.Sprintf("In force: %s. Method: %s. Decided by: %s; on: %s; from: %s.",
			amount(d, s.Value), orBlank(s.Method), orBlank(s.DecidedBy), orBlank(s.DecidedOn), orBlank(s.Data)))
	default:
		out = append(out, "No standard is in force; the experts would set it as follows.")
	}
	computed := func(how string) string {
		return fmt.Sprintf("%s (%s): %s%s, from %s.", how, d.Definition, amount(d, d.Estimate), intervalText(d), reports.Count(d.Answer.Estimate.N, "expert"))
	}
	switch d.Answer.Origin {
	case study.AsComputed:
		out = append(out, computed("Computed again from the experts' log as the study file says"))
	case study.ByDefault:
		out = append(out, computed("The study file does not say how a standard follows from the experts (computed:), so here it is their mean"))
	case study.FromDecision:
		if math.IsNaN(float64(d.Lower)) {
			out = append(out, "The study file does not say how sure the standard is (interval:).")
		} else {
			out = append(out, fmt.Sprintf("As it was set, its %g %% interval runs from %s to %s.", 100*d.Level, amount(d, d.Lower), amount(d, d.Upper)))
		}
	}
	if s := d.StatusChange; s != nil {
		verb := "change"
		if s.Differ == 1 {
			verb = "changes"
		}
		out = append(out, fmt.Sprintf("%d of %d trainees %s status inside this interval: %d pass with the standard at %s, %d at %s and %d at %s. A pass here: %s.",
			s.Differ, s.N, verb, s.PassLower, amount(d, d.Lower), s.Pass, amount(d, d.Estimate), s.PassUpper, amount(d, d.Upper), s.Definition))
	}
	return out
}

func amount(d *reports.Standard, v reports.Number) string {
	text := reports.Significant(float64(v), 4)
	if d.Unit != "" {
		text += " " + d.Unit
	}
	return text
}

func intervalText(d *reports.Standard) string {
	if math.IsNaN(float64(d.Lower)) || math.IsNaN(float64(d.Upper)) {
		return " without an interval"
	}
	return fmt.Sprintf(" (%g %% interval %s to %s)", 100*d.Level, reports.Significant(float64(d.Lower), 4), reports.Significant(float64(d.Upper), 4))
}

// errorSentences say what false passes and fails to expect.
func errorSentences(d *reports.Standard) []string {
	var out []string
	var wrong []string
	if !math.IsNaN(float64(d.FalsePass)) {
		wrong = append(wrong, reports.OnePlace(d.FalsePass)+" of those not yet competent passed")
	}
	if !math.IsNaN(float64(d.FalseFail)) {
		wrong = append(wrong, reports.OnePlace(d.FalseFail)+" of the competent failed")
	}
	if len(wrong) > 0 {
		out = append(out, "When it was set, "+strings.Join(wrong, ", and ")+".")
	}
	if d.Expected != nil {
		out = append(out, d.ErrorSentences()...)
		out = append(out, "Single attempts are counted here, error limits and hard fails included; what a rule of several attempts lets through is another question.")
	}
	return out
}
