package figure

import (
	"slices"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// picturesOfProficiency are every trainee's attempts under each definition, and the share
// of each arm that has met the rule.
func picturesOfProficiency(d *reports.Proficiency, width float64) []Picture {
	out := survivalPictures(shownArms(d, d.Answer.Survival), width)
	for _, definition := range forestsOf(d) {
		out = append(out, Forest(d, definition, width))
	}
	return out
}

// forestsOf are the definitions that have a row a trainee.
func forestsOf(d *reports.Proficiency) []string {
	var out []string
	for _, definition := range []string{proficiency.MeanCrossing, proficiency.PassChance, proficiency.RuleMet} {
		if len(d.Results) > 0 && (definition != proficiency.RuleMet || d.Rule != "") {
			out = append(out, definition)
		}
	}
	return out
}

// picturesOfUntilProficient are the share of each arm that has met the rule.
func picturesOfUntilProficient(d *reports.UntilProficient, width float64) []Picture {
	var arms []study.ArmSurvival
	for _, a := range d.Answer.Arms {
		arms = append(arms, a.ArmSurvival)
	}
	return survivalPictures(shownArms(d, arms), width)
}

func survivalPictures(arms []study.ArmSurvival, width float64) []Picture {
	if len(arms) == 0 {
		return nil
	}
	return []Picture{Survival(arms, width, 250+12*float64(len(arms)))}
}

// shownArms are the arms that a document shows.
func shownArms(d reports.Document, all []study.ArmSurvival) []study.ArmSurvival {
	return slices.DeleteFunc(slices.Clone(all), func(a study.ArmSurvival) bool { return !d.Head().ShowsArm(a.Arm) })
}
