package figure

import (
	"fmt"
	"math"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// printHeight is the height of a plain figure on paper, in points, for its width.
func printHeight(width float64) float64 { return math.Max(0.55*width, 180) }

// ForPrint are the figures of a document as a paper has them, each exactly so many points
// wide, with words as large as on the screen. Panels stand side by side as far as the
// width allows. Charts of single trainees are there where the document shows some alone.
func ForPrint(d reports.Document, width float64) ([]Picture, error) {
	tall := printHeight(width)
	var out []Picture
	switch d := d.(type) {
	case *reports.Agreement:
		out = Agreement(d, width)
	case *reports.Cohort:
		out = picturesOfCohort(d, width)
		if d.Checks != nil {
			out = append(out, picturesOfChecks(d, width)...)
		}
	case *reports.Comparison:
		out = Comparison(d, width, width)
	case *reports.Curves:
		out = printedCurves(d, width)
	case *reports.Monitor:
		out = cohortPictures(d, width, false)
		for i, name := range chartNames(d) {
			if !someAlone(d) {
				break
			}
			out = append(out, chartPicture(d, i, width, tall).named("monitor-"+d.Chart+"-"+name, ""))
		}
	case *reports.Proficiency:
		out = survivalPictures(shownArms(d, d.Answer.Survival), width)
		for _, definition := range forestsOf(d) {
			for _, p := range forestsOnPaper(d, definition, width) {
				p.Legend = forestLegend(d, definition)
				out = append(out, p)
			}
		}
	case *reports.Plan:
		out = []Picture{planPicture(d, width, tall+30)}
	case *reports.Quota:
		out = picturesOfQuota(d, width, tall+30)
	case *reports.Retention:
		out = []Picture{Calendar(d, width, tall)}
	case *reports.Standard:
		out = []Picture{Standard(d, width)}
	case *reports.WaysToStop:
		out = []Picture{Ways(d, max(1, int(width/rulesPanelWidth)))}
	}
	var drawn []Picture
	for _, p := range out {
		if p.Draw != nil {
			p.Width = width
			drawn = append(drawn, p.named(fileNamed(d, p.Name), ""))
		}
	}
	return drawn, nil
}

// someAlone reports whether a document shows some trainees alone.
func someAlone(d reports.Document) bool {
	shown := d.Head().Shown
	return shown != nil && shown.Only != nil
}

// forestLegend says what a figure of attempts to proficiency shows.
func forestLegend(d *reports.Proficiency, definition string) string {
	text := fmt.Sprintf("Attempts to proficiency (%s), one row a trainee, with the %g %% interval", reports.Spoken(definition), 100*d.Answer.Question.Level)
	if definition == proficiency.RuleMet {
		text += fmt.Sprintf(" (rule: %s)", d.Rule)
	}
	return text + fmt.Sprintf("; an arrow goes beyond the horizon of %g attempts.", d.Horizon)
}

// printedCurves are the curves by arm, then the measure and the errors side by side. A
// single series has its own figure.
func printedCurves(d *reports.Curves, width float64) []Picture {
	st, tall := d.Study, printHeight(width)
	frame := ExtentOf(st)
	if len(st.Trainees) == 1 {
		return []Picture{Trainee(st, st.Trainees[0], d.Answer.Each[0], frame, width, tall).named("curve", "")}
	}
	var out []Picture
	for k, arm := range st.Arms {
		if k >= len(d.Answer.Arms) || !d.ShowsArm(arm) {
			continue
		}
		legend := fmt.Sprintf("Every trainee's fitted curve up to the last attempt made, %s, with the median of the curves of those still practising (thick); n, those still practising.", study.GroupName(arm))
		out = append(out, Arm(st, d.Answer, k, frame, width, tall).named(fmt.Sprintf("curve-arm-%d", k+1), legend))
	}
	for i, t := range st.Trainees {
		if someAlone(d) && d.ShowsTrainee(t.ID) {
			legend := fmt.Sprintf("Attempts of %s with the fitted curve: dark, where the curve lies; light, where the next attempt falls, both %g %%; dashed, the standard.", reports.SeriesName(t.ID), 100*st.Options.Level)
			out = append(out, Trainee(st, t, d.Answer.Each[i], frame, width, tall).named("curve-"+curveNames(st)[i], legend))
		}
	}
	for k, p := range PaceAndErrors(st, width, tall) {
		out = append(out, p.named(fmt.Sprintf("curve-course-%d", k+1), reports.Capital(p.Legend)+"."))
	}
	return out
}
