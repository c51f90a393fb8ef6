package study

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/analysis/practice"
)

// A RatingModel is the many-facet model of ordinal scores with the names of its
// levels, in the order of the model's own.
type RatingModel struct {
	agreement.RatingModel
	Object         string // whose ability: trainee or subject
	RaterNames     []string
	ItemNames      []string
	ThresholdNames []string // one category to the next
	AbilityNames   []string
}

// mostCategories is the most different scores that the model takes as categories;
// with more, thresholds rest on too few ratings each.
const mostCategories = 10

// ratingModel fits the model to ordinal items on the same categories; trainees
// are the object where the file names them.
func (w *ratingsWork) ratingModel(items []practice.RatedItem, a *ItemAgreement) {
	if len(distinct(items[0].Scores)) > mostCategories {
		return
	}
	out := &RatingModel{Object: "subject"}
	scores := out.collect(items)
	m, err := agreement.FitRatingModel(scores, w.Options.Level)
	if err != nil {
		w.warn("no-rating-model", a.Item.Name, "rating model: "+err.Error())
		return
	}
	out.RatingModel = m
	word := func(k int) string {
		if c := items[0].Categories; c != nil {
			return c[int(m.Categories[k])]
		}
		return fmt.Sprint(m.Categories[k])
	}
	for i := range m.Thresholds {
		out.ThresholdNames = append(out.ThresholdNames, word(i)+" to "+word(i+1))
	}
	for _, n := range m.Warnings {
		w.warn("rating-model", a.Item.Name, n)
	}
	a.RatingModel = out
}

// collect lists the scores one by one, and names the levels.
func (m *RatingModel) collect(items []practice.RatedItem) agreement.RatingScores {
	at := func(list *[]string, name string) int {
		i := slices.Index(*list, name)
		if i < 0 {
			i = len(*list)
			*list = append(*list, name)
		}
		return i
	}
	var s agreement.RatingScores
	for _, it := range items {
		if it.Trainees != nil {
			m.Object = "trainee"
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
				s.Subject = append(s.Subject, at(&m.AbilityNames, who))
				s.Rater = append(s.Rater, at(&m.RaterNames, it.Raters[j]))
				s.Item = append(s.Item, at(&m.ItemNames, it.Name))
				s.Score = append(s.Score, v)
			}
		}
	}
	return s
}
