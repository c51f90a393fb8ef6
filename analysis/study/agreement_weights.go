package study

import (
	"fmt"
	"slices"
	"strconv"

	"tyro/analysis/practice"
)

// weightsFor puts weights named by category into the order in which the analysis has an
// item's categories, and lists all of them as scores. A rating in a category without
// weights is an error.
func weightsFor(w *practice.CategoryWeights, it practice.RatedItem) (scores []float64, weights [][]float64, err error) {
	at := map[float64]int{} // by score: the row of the weights
	extra := len(it.Categories)
	for k, name := range w.Categories {
		score, isNumber := strconv.ParseFloat(name, 64)
		if it.Categories != nil {
			i := slices.Index(it.Categories, name)
			if i < 0 { // never given
				i, extra = extra, extra+1
			}
			score, isNumber = float64(i), nil
		}
		if isNumber != nil {
			return nil, nil, fmt.Errorf("custom weights: category %q is no number, and the ratings are numbers", name)
		}
		at[score] = k
		scores = append(scores, score)
	}
	for _, row := range it.Scores {
		for _, v := range row {
			if _, ok := at[v]; !ok && v == v {
				return nil, nil, fmt.Errorf("custom weights: no row for the category %s, in which there are ratings", categoryWord(it, v))
			}
		}
	}
	slices.Sort(scores)
	for _, a := range scores {
		var row []float64
		for _, b := range scores {
			row = append(row, w.Weights[at[a]][at[b]])
		}
		weights = append(weights, row)
	}
	return scores, weights, nil
}

// categoryWord is a score as the ratings have it.
func categoryWord(it practice.RatedItem, score float64) string {
	if it.Categories != nil {
		return it.Categories[int(score)]
	}
	return fmt.Sprint(score)
}
