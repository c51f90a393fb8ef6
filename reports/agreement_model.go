package reports

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/datasets"
)

// RatingModel is the many-facet model of ordinal scores, on the logit scale.
type RatingModel struct {
	Object        string    `json:"object"` // whose ability: trainee or subject
	Raters        []Measure `json:"raters"`
	Items         []Measure `json:"items"`
	Thresholds    []Measure `json:"thresholds"`
	Abilities     []Measure `json:"abilities"`
	AbilitySD     Number    `json:"ability_sd"`
	AbilitySDSE   Number    `json:"ability_sd_se"`
	LogLikelihood Number    `json:"log_likelihood"`
	Converged     bool      `json:"converged"`
	Notes         []string  `json:"notes"`
}

// A Measure is one level's place.
type Measure struct {
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

// ratingModel fits the model to ordinal items on the same categories; trainees
// are the object where the file names them.
func (w *agreementWork) ratingModel(items []datasets.RatedItem, a *ItemAgreement) {
	var s agreement.RatingScores
	var objects, raters, names []string
	at := func(list *[]string, name string) int {
		i := slices.Index(*list, name)
		if i < 0 {
			i = len(*list)
			*list = append(*list, name)
		}
		return i
	}
	object := "subject"
	for _, it := range items {
		if it.Trainees != nil {
			object = "trainee"
		}
		for i, row := range it.Scores {
			who := it.Subjects[i]
			if it.Trainees != nil {
				who = it.Trainees[i]
			}
			for j, v := range row {
				if math.IsNaN(v) {
					continue
				}
				s.Subject = append(s.Subject, at(&objects, who))
				s.Rater = append(s.Rater, at(&raters, it.Raters[j]))
				s.Item = append(s.Item, at(&names, it.Name))
				s.Score = append(s.Score, v)
			}
		}
	}
	if len(distinct(items[0].Scores)) > 10 {
		return
	}
	m, err := agreement.FitRatingModel(s, w.d.level)
	if err != nil {
		w.d.Warn("no-rating-model", a.Item+": rating model: "+err.Error())
		return
	}
	out := &RatingModel{Object: object, AbilitySD: Number(m.AbilitySD), AbilitySDSE: Number(m.AbilitySDSE), LogLikelihood: Number(m.LogLikelihood), Converged: m.Converged, Notes: append([]string{}, m.Warnings...), Items: []Measure{}}
	list := func(ms []agreement.Measure, name func(i int) string) []Measure {
		var rows []Measure
		for i, x := range ms {
			rows = append(rows, Measure{name(i), Number(x.Estimate), Number(x.SE), Number(x.Lower), Number(x.Upper), x.Ratings, Number(x.Infit), Number(x.Outfit), Number(x.Expected)})
		}
		return rows
	}
	word := func(k int) string {
		if c := items[0].Categories; c != nil {
			return c[int(m.Categories[k])]
		}
		return fmt.Sprint(m.Categories[k])
	}
	out.Raters = list(m.Raters, func(i int) string { return raters[i] })
	if m.Items != nil {
		out.Items = list(m.Items, func(i int) string { return names[i] })
	}
	out.Thresholds = list(m.Thresholds, func(i int) string { return word(i) + " to " + word(i+1) })
	out.Abilities = list(m.Abilities, func(i int) string { return objects[i] })
	for _, n := range m.Warnings {
		w.d.Warn("rating-model", a.Item+": "+n)
	}
	a.RatingModel = out
}
