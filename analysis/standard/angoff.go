package standard

import (
	"fmt"
	"math"
)

// An Angoff is a standard from judges who state, item by item, the chance that
// a borderline trainee gets it right.
type Angoff struct {
	Estimate // in items: the mean of the judges' totals, with a t interval over judges

	Judges, Items        int
	Percent              float64 // the standard as a percentage of the items
	Totals               []float64
	TotalSD, TotalMedian float64
	ItemMeans, ItemSDs   []float64 // over judges
	Components           JudgeComponents
	SEItemsRandom        float64 // with other items of the same kind as well as other judges
	Generalizability     float64 // of the item means over judges: 1 when judges agree on which items are hard
}

// JudgeComponents are the variances of one judgement: between judges
// (severity), between items, and the rest. Negative estimates are 0.
type JudgeComponents struct{ Judge, Item, Residual float64 }

// SE is the standard error of a standard from other numbers of judges over
// items items, the items fixed: what a larger panel would give.
func (c JudgeComponents) SE(judges, items int) float64 {
	n := float64(items)
	return n * math.Sqrt(c.Judge/float64(judges)+c.Residual/(n*float64(judges)))
}

// ModifiedAngoff takes judgements[judge][item], each from 0 to 1 and none
// missing. The standard error takes the judges as drawn from many and the items
// as fixed; SEItemsRandom lets both vary (Brennan, 1995). The variance
// components are those of the table without replication.
func ModifiedAngoff(judgements [][]float64, level float64) (Angoff, error) {
	if len(judgements) == 0 || len(judgements[0]) == 0 {
		return Angoff{}, fmt.Errorf("no judgements")
	}
	a := Angoff{Judges: len(judgements), Items: len(judgements[0])}
	for j, row := range judgements {
		if len(row) != a.Items {
			return a, fmt.Errorf("judge %d has %d items, the first has %d", j+1, len(row), a.Items)
		}
		for i, v := range row {
			if !(v >= 0 && v <= 1) {
				return a, fmt.Errorf("judge %d, item %d: %v, expected a chance from 0 to 1", j+1, i+1, v)
			}
		}
	}
	J, I := float64(a.Judges), float64(a.Items)
	for _, row := range judgements {
		a.Totals = append(a.Totals, I*mean(row))
	}
	e, err := ExpertMean(a.Totals, ExpertRule{Level: level})
	if err != nil {
		return a, err
	}
	a.Estimate = e.Estimate
	a.Warnings = nil
	a.Percent, a.TotalSD, a.TotalMedian = 100*a.Value/I, e.SD, e.Median
	for i := range a.Items {
		column := make([]float64, a.Judges)
		for j, row := range judgements {
			column[j] = row[i]
		}
		a.ItemMeans, a.ItemSDs = append(a.ItemMeans, mean(column)), append(a.ItemSDs, sd(column))
	}
	nan := math.NaN()
	a.Components, a.SEItemsRandom, a.Generalizability = JudgeComponents{nan, nan, nan}, nan, nan
	if a.Judges < 2 || a.Items < 2 {
		a.warn("one-judge", "one judge or one item says nothing of how judges differ, so the standard has no components of variance")
		return a, nil
	}
	a.components(judgements)
	c := a.Components
	a.SEItemsRandom = I * math.Sqrt(c.Judge/J+c.Item/I+c.Residual/(I*J))
	a.Generalizability = c.Item / (c.Item + c.Residual/J)
	return a, nil
}

// components are from the mean squares of judges, items and the rest.
func (a *Angoff) components(judgements [][]float64) {
	J, I := float64(a.Judges), float64(a.Items)
	grand := a.Value / I
	ssJudge, ssItem, ssAll := 0.0, 0.0, 0.0
	for j, row := range judgements {
		ssJudge += I * square(a.Totals[j]/I-grand)
		for _, v := range row {
			ssAll += square(v - grand)
		}
	}
	for _, m := range a.ItemMeans {
		ssItem += J * square(m-grand)
	}
	rest := (ssAll - ssJudge - ssItem) / ((J - 1) * (I - 1))
	a.Components = JudgeComponents{
		Judge:    math.Max(0, (ssJudge/(J-1)-rest)/I),
		Item:     math.Max(0, (ssItem/(I-1)-rest)/J),
		Residual: rest,
	}
}
