package figure

import (
	"tyro/analysis/proficiency"
	"tyro/reports"
)

// Files draws every trainee's attempts under each definition, and the share of
// each arm that has met the rule, as SVG files.
func FilesOfProficiency(d *reports.Proficiency) (map[string][]byte, error) {
	files, err := survivalFiles(d.Survival)
	if err != nil {
		return nil, err
	}
	for _, definition := range []string{proficiency.MeanCrossing, proficiency.PassChance, proficiency.RuleMet} {
		if len(d.Results) == 0 || definition == proficiency.RuleMet && d.In.Rule == nil {
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

// Files draws the share of each arm that has met the rule.
func FilesOfUntilProficient(d *reports.UntilProficient) (map[string][]byte, error) {
	return survivalFiles(d.Survival)
}

func survivalFiles(arms []reports.ArmStep) (map[string][]byte, error) {
	files := map[string][]byte{}
	if len(arms) == 0 {
		return files, nil
	}
	s, err := SurvivalPlot(arms, 460, 250+12*float64(len(arms)))
	files["rule-met-by-arm.svg"] = []byte(standalone(s))
	return files, err
}
