package page

import (
	"strings"

	"tyro/reports"
	"tyro/reports/figure"
)

// captions are of the figures that the report shows, in order; a name stands for
// all files that begin with it.
var cohortCaptions = []struct{ name, caption string }{
	{"cohort-curves", "Every trainee's curve, and the curve of the middle trainee of each arm."},
	{"cohort-population", "Share of new trainees expected to be proficient by each attempt, with its interval, by two definitions."},
	{"cohort-shrinkage", "What each trainee's own attempts say, and what they say together with the cohort's: short or noisy series are drawn further."},
}

// movesCaption explains the pictures of how projections moved.
const movesCaption = "What was projected of each trainee after 5, 10 and so on of their attempts (across): the attempt at which the rule is met (up), median and range, from their own attempts so far and the cohort, if practice continues as so far. Black: the attempt at which it was met. Dotted: attempts made."

// checkCaptions are of the figures of the checks.
var checkCaptions = []struct{ name, caption string }{
	{"cohort-check-shapes", "Residuals, and trainees' predicted deviations in each parameter, in order against normal scores; grey: 95 % of cohorts simulated from the fit; red: outside."},
	{"cohort-check-attempts", "The responses that a tenth, half and nine tenths of trainees stay under, attempt by attempt; shaded: 95 % of what the same trainees give when simulated from the fit; red: outside."},
	{"cohort-check-tenths", "Where each trainee's later half of attempts fell in what the earlier half predicted; upright lines: 95 % of what a right model gives."},
	{"cohort-influence", "Every fixed effect without each trainee in turn; the one who moves it most is named."},
}

// pageChecks are the report's table and figures of the checks; nil without.
func pageChecks(d *reports.Cohort) (*htmlTable, []captioned, error) {
	if d.Checks == nil {
		return nil, nil, nil
	}
	drawn, err := each(func(width float64) []figure.Picture { return figure.Checks(d, width) }, 460)
	if err != nil {
		return nil, nil, err
	}
	var out []captioned
	for _, c := range checkCaptions {
		out = append(out, pick(drawn, c.name, c.caption)...)
	}
	return newHTMLTable(d.ChecksTable()), out, nil
}

// pageFigures are the report's figures of the cohort: those shown at once, and
// how projections moved.
func pageFigures(d *reports.Cohort) (shown, moves []captioned, err error) {
	drawn, err := each(func(float64) []figure.Picture { return figure.Cohort(d) }, 0)
	if err != nil {
		return nil, nil, err
	}
	for _, c := range cohortCaptions {
		shown = append(shown, pick(drawn, c.name, c.caption)...)
	}
	return shown, pick(drawn, "cohort-moves", movesCaption), nil
}

// pick are the figures of a name, under another caption.
func pick(drawn []captioned, name, caption string) (out []captioned) {
	for _, f := range drawn {
		if strings.HasPrefix(f.Name, name) {
			f.Title = caption
			out = append(out, f)
		}
	}
	return out
}
