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

// PanelSE is the standard error of a standard from another number of judges, the
// items fixed: what a larger panel would give. It needs no components, which a
// negative one among them would make larger than what the judges' totals show.
func (a Angoff) PanelSE(judges int) float64 {
	return a.TotalSD / math.Sqrt(float64(judges))
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
	e, err := meanOfJudges(a.Totals, a.Items, level)
	if err != nil {
		return a, err
	}
	a.Estimate, a.TotalSD, a.TotalMedian = e.Estimate, e.SD, e.Median
	a.Percent = 100 * a.Value / I
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

// meanOfJudges is the mean of judges' totals, in items, with a t interval over judges.
func meanOfJudges(totals []float64, items int, level float64) (Expert, error) {
	e, err := ExpertMean(totals, ExpertRule{Level: level})
	if err != nil {
		return e, err
	}
	n := float64(items)
	e.Warnings = nil
	switch {
	case len(totals) < 2:
	case e.SD <= rounding*n:
		e.SD, e.SE, e.Lower, e.Upper = 0, 0, e.Value, e.Value
		e.warn("judges-equal", "all judges come to the same standard, so the interval has no width; it says nothing of other judges")
	case e.Lower < 0 || e.Upper > n:
		e.warn("interval-beyond", fmt.Sprintf("the interval goes beyond what can be reached, 0 to %d items: %d judges who differ so much leave the standard open", items, len(totals)))
	}
	return e, nil
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
	rest := math.Max(0, ssAll-ssJudge-ssItem)
	if rest <= rounding*ssAll {
		rest = 0
	}
	rest /= (J - 1) * (I - 1)
	a.Components = JudgeComponents{
		Judge:    math.Max(0, (ssJudge/(J-1)-rest)/I),
		Item:     math.Max(0, (ssItem/(I-1)-rest)/J),
		Residual: rest,
	}
}

// rounding is the share of the items below which a difference of totals is no more than rounding.
const rounding = 1e-12
