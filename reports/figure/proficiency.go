package figure

import (
	"slices"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// FilesOfProficiency draws every trainee's attempts under each definition, and the share
// of each arm that has met the rule, as SVG files.
func FilesOfProficiency(d *reports.Proficiency) (map[string][]byte, error) {
	files, err := survivalFiles(shownArms(d, d.Answer.Survival))
	if err != nil {
		return nil, err
	}
	for _, definition := range []string{proficiency.MeanCrossing, proficiency.PassChance, proficiency.RuleMet} {
		if len(d.Results) == 0 || definition == proficiency.RuleMet && d.Rule == "" {
			continue
		}
		s, err := ForestPlot(d, definition, 460)
		if err != nil {
			return nil, err
		}
		files[definition+".svg"] = []byte(standalone(s))
	}
	return files, nil
}

// filesOfUntilProficient draws the share of each arm that has met the rule.
func filesOfUntilProficient(d *reports.UntilProficient) (map[string][]byte, error) {
	var arms []study.ArmSurvival
	for _, a := range d.Answer.Arms {
		arms = append(arms, a.ArmSurvival)
	}
	return survivalFiles(shownArms(d, arms))
}

// shownArms are the arms that a document shows.
func shownArms(d reports.Document, all []study.ArmSurvival) []study.ArmSurvival {
	return slices.DeleteFunc(slices.Clone(all), func(a study.ArmSurvival) bool { return !d.Head().ShowsArm(a.Arm) })
}

func survivalFiles(arms []study.ArmSurvival) (map[string][]byte, error) {
	if len(arms) == 0 {
		return map[string][]byte{}, nil
	}
	s, err := SurvivalPlot(arms, 460, 250+12*float64(len(arms)))
	if err != nil {
		return nil, err
	}
	return map[string][]byte{"rule-met-by-arm.svg": []byte(standalone(s))}, nil
}
