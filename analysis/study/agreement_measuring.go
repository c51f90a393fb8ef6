package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/analysis/practice"
)

// A MeasuringStudy is a generalizability study with its decision table: what more
// raters, performances or items would give.
type MeasuringStudy struct {
	agreement.GResult
	Object string   // what is measured: trainee or subject
	Facets []string // in the order of the decisions' numbers
	Table  agreement.DecisionTable
	Costs  *MeasuringCosts
	Notes  []string
}

// together adds an entry for the mean of several items on one numeric scale,
// with the study of subjects, items and raters behind it.
func (w *ratingsWork) together(ctx context.Context) error {
	items := w.Items
	if len(items) < 2 || items[0].Scale == "nominal" {
		return nil
	}
	for _, it := range items {
		if it.Scale != items[0].Scale || it.Categories != nil {
			return nil
		}
	}
	mean := meanOf(items)
	a, err := w.summarise(ctx, mean)
	if err != nil {
		return err
	}
	res, err := crossed(items, mean).Estimate(w.Options.Level)
	if err != nil {
		w.warn("no-components", mean.Name, err.Error())
	} else if a.Generalizability, err = w.decide(res, []string{"item", "rater"}); err != nil {
		return err
	} else {
		a.Components = res.Components
		replace(&a, res)
	}
	if err := w.parts(ctx, &a, items); err != nil {
		return err
	}
	if err := w.raters(ctx, &a); err != nil {
		return err
	}
	if items[0].Scale == "ordinal" {
		w.ratingModel(items, &a)
	}
	w.out.Items = append(w.out.Items, a)
	return nil
}

// crossed are all scores of all items by subject, item and rater.
func crossed(items []practice.RatedItem, mean practice.RatedItem) agreement.GStudy {
	g := agreement.GStudy{Facets: []string{"subject", "item", "rater"}}
	for i, it := range items {
		for si, row := range it.Scores {
			for ri, v := range row {
				if !math.IsNaN(v) {
					g.Scores = append(g.Scores, v)
					g.Levels = append(g.Levels, []int{slices.Index(mean.Subjects, it.Subjects[si]), i, slices.Index(mean.Raters, it.Raters[ri])})
				}
			}
		}
	}
	return g
}

// replace puts the study's coefficients, at its own numbers of conditions, in
// the place of the two-way ones.
func replace(a *ItemAgreement, res agreement.GResult) {
	n := res.Numbers()
	at, one := res.Decide(n), res.Decide([]float64{n[0], 1})
	of := fmt.Sprintf("mean of %.4g items by %.4g raters", n[0], n[1])
	single := fmt.Sprintf("%.4g items, one rater", n[0])
	nan := math.NaN()
	set := func(c agreement.Coefficient) {
		for i := range a.Coefficients {
			if old := a.Coefficients[i]; old.Name == c.Name {
				c.SE, c.Level, c.Over = nan, old.Level, agreement.OverBoth+", and items"
				a.Coefficients[i] = c
			}
		}
	}
	const method = "normal on −log(1 − coefficient), standard errors of the components"
	for _, c := range []agreement.Coefficient{
		{Name: "g-coefficient", Estimate: at.G, Lower: at.GLower, Upper: at.GUpper, Note: of, Method: method},
		{Name: "phi-coefficient", Estimate: at.Phi, Lower: at.PhiLower, Upper: at.PhiUpper, Note: of, Method: method},
		{Name: "standard-error-of-measurement", Estimate: one.SEMAbsolute, Lower: nan, Upper: nan, Note: single + ", absolute"},
		{Name: "smallest-detectable-change", Estimate: one.ChangeAbsolute, Lower: nan, Upper: nan, Note: single + ", absolute"},
		{Name: "standard-error-of-measurement-consistency", Estimate: one.SEMRelative, Lower: nan, Upper: nan, Note: single + ", relative"},
		{Name: "smallest-detectable-change-consistency", Estimate: one.ChangeRelative, Lower: nan, Upper: nan, Note: single + ", relative"},
	} {
		set(c)
	}
}

// parts replaces alpha and omega by those of the items as parts of a sum, each
// the mean over raters.
func (w *ratingsWork) parts(ctx context.Context, a *ItemAgreement, items []practice.RatedItem) error {
	table := make(agreement.Ratings, len(a.Item.Subjects))
	for i := range table {
		table[i] = make([]float64, len(items))
	}
	for j, it := range items {
		for i, s := range a.Item.Subjects {
			table[i][j] = math.NaN()
			if at := slices.Index(it.Subjects, s); at >= 0 {
				table[i][j] = meanPresent(it.Scores[at])
			}
		}
	}
	alpha := agreement.CronbachAlpha(table, w.Options.Level)
	omega, err := agreement.McDonaldOmega(ctx, table, w.options)
	if err != nil {
		return err
	}
	for _, c := range []agreement.Coefficient{alpha, omega} {
		if c.Note == "" {
			c.Note = fmt.Sprintf("%d items as parts of a sum", len(items))
		}
		if at := slices.IndexFunc(a.Coefficients, func(x agreement.Coefficient) bool { return x.Name == c.Name }); at >= 0 {
			a.Coefficients[at] = c
		} else {
			a.Coefficients = append(a.Coefficients, c)
		}
	}
	return nil
}

// meanOf is the mean of the items given by each rater to each subject.
func meanOf(items []practice.RatedItem) practice.RatedItem {
	out := practice.RatedItem{Name: AllItems, Scale: "interval"}
	for _, it := range items {
		for _, s := range it.Subjects {
			if !slices.Contains(out.Subjects, s) {
				out.Subjects = append(out.Subjects, s)
			}
		}
		for _, r := range it.Raters {
			if !slices.Contains(out.Raters, r) {
				out.Raters = append(out.Raters, r)
			}
		}
	}
	for _, s := range out.Subjects {
		line := make([]float64, len(out.Raters))
		for j, r := range out.Raters {
			var seen []float64
			for _, it := range items {
				si, ri := slices.Index(it.Subjects, s), slices.Index(it.Raters, r)
				if si >= 0 && ri >= 0 {
					seen = append(seen, it.Scores[si][ri])
				}
			}
			line[j] = meanPresent(seen)
		}
		out.Scores = append(out.Scores, line)
	}
	return out
}

// meanPresent is the mean of the values that are there, NaN without any.
func meanPresent(vs []float64) float64 {
	sum, n := 0.0, 0.0
	for _, v := range vs {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	return sum / n
}

// measuring adds the decision table: raters by performances where the file says
// who gave each performance, raters alone otherwise.
func (w *ratingsWork) measuring(a *ItemAgreement) error {
	if a.Item.Scale == "nominal" || a.Subjects < 2 || a.Raters < 2 {
		return nil
	}
	several := a.Item.Trainees != nil && len(slices.Compact(slices.Sorted(slices.Values(a.Item.Trainees)))) < len(a.Item.Trainees)
	g := agreement.GStudy{Facets: []string{"subject", "rater"}}
	if several {
		g.Facets = []string{"trainee", "performance", "rater"}
	}
	for i, row := range a.Item.Scores {
		for j, v := range row {
			if math.IsNaN(v) {
				continue
			}
			level := []int{i, j}
			if several {
				level = []int{slices.Index(a.Item.Trainees, a.Item.Trainees[i]), i, j}
			}
			g.Scores, g.Levels = append(g.Scores, v), append(g.Levels, level)
		}
	}
	res, err := renumbered(g).Estimate(w.Options.Level)
	if err != nil {
		w.warn("no-components", a.Item.Name, err.Error())
		return nil
	}
	a.Generalizability, err = w.decide(res, g.Facets[1:])
	if err == nil && !several {
		a.Generalizability.Notes = append(a.Generalizability.Notes, "each subject is one performance, so what changes from performance to performance of a trainee is not known; name the trainee's column for a table of raters by performances")
	}
	return err
}

// renumbered makes every facet's levels count from 0 without holes.
func renumbered(g agreement.GStudy) agreement.GStudy {
	for f := range g.Facets {
		at := map[int]int{}
		for _, l := range g.Levels {
			if _, ok := at[l[f]]; !ok {
				at[l[f]] = len(at)
			}
			l[f] = at[l[f]]
		}
	}
	return g
}

// decide makes the decision table.
func (w *ratingsWork) decide(res agreement.GResult, facets []string) (*MeasuringStudy, error) {
	q := w.question
	var most []int
	var costs *agreement.Costs
	if q.Costs != nil {
		costs = &agreement.Costs{Rating: q.Costs.Rating}
		if len(facets) == 1 { // the one performance
			costs.Base = q.Costs.Performance
		}
	}
	for _, f := range facets {
		n, price := q.MostOthers, 0.0
		if f == "rater" {
			n = q.MostRaters
		} else if costs != nil {
			price = q.Costs.Performance
		}
		most = append(most, n)
		if costs != nil {
			costs.Level = append(costs.Level, price)
		}
	}
	out := &MeasuringStudy{GResult: res, Object: "subject", Facets: facets, Costs: q.Costs, Notes: slices.Clone(res.Warnings)}
	if slices.Contains(facets, "performance") {
		out.Object = "trainee"
	}
	var err error
	out.Table, err = res.Table(most, costs, q.Target)
	return out, err
}
