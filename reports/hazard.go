package reports

import (
	"slices"

	"tyro/analysis/study"
)

// hazardMeaning says what a ratio of hazards is.
const hazardMeaning = "Hazard: the chance to meet the rule at an attempt, of those who have not met it before; above 1, the arm meets it sooner than the one it is set against. The ratio is an average over the attempts: those before which many trainees have still to meet the rule count for more than late ones with few."

// meanings are sentences on measures of these contrasts that their names do not explain.
func meanings(rows []Contrast) []string {
	if slices.ContainsFunc(rows, func(c Contrast) bool { return c.Measure == study.HazardMeasure }) {
		return []string{hazardMeaning}
	}
	return nil
}
