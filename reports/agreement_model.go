package reports

import (
	"tyro/analysis/agreement"
	"tyro/analysis/study"
)

// ratingModel is the many-facet model of ordinal scores, on the logit scale.
type ratingModel struct {
	Object        string   `json:"object"` // whose ability: trainee or subject
	Raters        []placed `json:"raters"`
	Items         []placed `json:"items"`
	Thresholds    []placed `json:"thresholds"`
	Abilities     []placed `json:"abilities"`
	AbilitySD     Number   `json:"ability_sd"`
	AbilitySDSE   Number   `json:"ability_sd_se"`
	LogLikelihood Number   `json:"log_likelihood"`
	Converged     bool     `json:"converged"`
	Notes         []string `json:"notes"`
}

// placed is one level's place.
type placed struct {
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	SE       Number `json:"se"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
	Ratings  int    `json:"ratings"`
	Infit    Number `json:"infit"`
	Outfit   Number `json:"outfit"`
	Expected Number `json:"expected_score"`
}

func newRatingModel(m study.RatingModel) *ratingModel {
	out := &ratingModel{
		Object: m.Object, Raters: places(m.Raters, m.RaterNames), Items: []placed{}, Thresholds: places(m.Thresholds, m.ThresholdNames), Abilities: places(m.Abilities, m.AbilityNames),
		AbilitySD: Number(m.AbilitySD), AbilitySDSE: Number(m.AbilitySDSE), LogLikelihood: Number(m.LogLikelihood), Converged: m.Converged, Notes: append([]string{}, m.Warnings...),
	}
	if m.Items != nil {
		out.Items = places(m.Items, m.ItemNames)
	}
	return out
}

func places(ms []agreement.Measure, names []string) []placed {
	var out []placed
	for i, x := range ms {
		out = append(out, placed{
			Name: names[i], Estimate: Number(x.Estimate), SE: Number(x.SE), Lower: Number(x.Lower), Upper: Number(x.Upper),
			Ratings: x.Ratings, Infit: Number(x.Infit), Outfit: Number(x.Outfit), Expected: Number(x.Expected),
		})
	}
	return out
}
