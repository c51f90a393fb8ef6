package reports

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/datasets"
)

// A GStudy is a generalizability study with its decision table.
type GStudy struct {
	Design     string      `json:"design"`
	Object     string      `json:"object"`
	Facets     []string    `json:"facets"` // in the order of the decisions' numbers
	Method     string      `json:"method"`
	Balanced   bool        `json:"balanced"`
	Components []Component `json:"components"`
	Decisions  []Decision  `json:"decision_table"`
	Target     float64     `json:"target"`
	Cheapest   *Decision   `json:"cheapest"`          // absolute coefficient of at least the target
	Relative   *Decision   `json:"cheapest_relative"` // relative coefficient of at least the target
	Costs      *CostRates  `json:"costs"`
	Notes      []string    `json:"notes"`
}

// CostRates are the prices behind the decision table.
type CostRates struct {
	Performance float64 `json:"performance"`
	Rating      float64 `json:"rating"`
}

// A Decision is one way to measure and what it gives.
type Decision struct {
	Numbers  []float64 `json:"numbers"`
	G        Number    `json:"g"`
	GLower   Number    `json:"g_lower"`
	GUpper   Number    `json:"g_upper"`
	Phi      Number    `json:"phi"`
	PhiLower Number    `json:"phi_lower"`
	PhiUpper Number    `json:"phi_upper"`
	SEMRel   Number    `json:"sem_relative"`
	SEMAbs   Number    `json:"sem_absolute"`
	SDCRel   Number    `json:"smallest_detectable_change_relative"`
	SDCAbs   Number    `json:"smallest_detectable_change_absolute"`
	Cost     Number    `json:"cost"`
}

func decision(d agreement.Decision) Decision {
	return Decision{d.Numbers, Number(d.G), Number(d.GLower), Number(d.GUpper), Number(d.Phi), Number(d.PhiLower), Number(d.PhiUpper), Number(d.SEMRelative), Number(d.SEMAbsolute), Number(d.ChangeRelative), Number(d.ChangeAbsolute), Number(d.Cost)}
}

// together adds an entry for the mean of several items on one numeric scale,
// with the study of subjects, items and raters behind it.
func (w *agreementWork) together() error {
	items := w.items
	if len(items) < 2 || items[0].Scale == "nominal" {
		return nil
	}
	for _, it := range items {
		if it.Scale != items[0].Scale || it.Categories != nil {
			return nil
		}
	}
	mean := meanOf(items)
	s, err := agreement.Summarise(w.ctx, mean.Scores, mean.Scale, w.of(mean))
	if err != nil {
		return err
	}
	a := w.fromSummary(mean, s)
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
	res, err := g.Estimate(w.d.level)
	if err != nil {
		w.d.Warn("no-components", mean.Name+": "+err.Error())
	} else if a.Generalizability, err = w.decide(res, []string{"item", "rater"}); err != nil {
		return err
	} else {
		a.VarianceComponents = a.Generalizability.Components
		w.replace(&a, res)
	}
	if err := w.scale(&a, items); err != nil {
		return err
	}
	if err := w.examiners(mean, &a); err != nil {
		return err
	}
	if items[0].Scale == "ordinal" {
		w.ratingModel(items, &a)
	}
	w.d.Items = append(w.d.Items, a)
	return nil
}

// replace puts the study's coefficients, at its own numbers of conditions, in
// the place of the two-way ones.
func (w *agreementWork) replace(a *ItemAgreement, res agreement.GResult) {
	n := res.Numbers()
	at, one := res.Decide(n), res.Decide([]float64{n[0], 1})
	of := fmt.Sprintf("mean of %g items by %g raters", n[0], n[1])
	single := fmt.Sprintf("%g items, one rater", n[0])
	set := func(name string, est, lower, upper float64, note, method string) {
		for i, c := range a.Coefficients {
			if c.Name == name {
				a.Coefficients[i] = Coefficient{Name: name, Estimate: Number(est), SE: Number(math.NaN()), Lower: Number(lower), Upper: Number(upper), Level: c.Level, IntervalMethod: method, GeneralisesTo: agreement.OverBoth + ", and items", Note: note}
			}
		}
	}
	nan := math.NaN()
	const method = "normal on −log(1 − coefficient), standard errors of the components"
	set("g-coefficient", at.G, at.GLower, at.GUpper, of, method)
	set("phi-coefficient", at.Phi, at.PhiLower, at.PhiUpper, of, method)
	set("standard-error-of-measurement", one.SEMAbsolute, nan, nan, single+", absolute", "")
	set("smallest-detectable-change", one.ChangeAbsolute, nan, nan, single+", absolute", "")
	set("standard-error-of-measurement-consistency", one.SEMRelative, nan, nan, single+", relative", "")
	set("smallest-detectable-change-consistency", one.ChangeRelative, nan, nan, single+", relative", "")
}

// scale replaces alpha and omega by those of the items as parts of a sum, each
// the mean over raters.
func (w *agreementWork) scale(a *ItemAgreement, items []datasets.RatedItem) error {
	subjects := meanOf(items).Subjects
	table := make(agreement.Ratings, len(subjects))
	for i := range table {
		table[i] = make([]float64, len(items))
	}
	for j, it := range items {
		for i, s := range subjects {
			table[i][j] = math.NaN()
			if at := slices.Index(it.Subjects, s); at >= 0 {
				table[i][j] = meanPresent(it.Scores[at])
			}
		}
	}
	alpha := agreement.CronbachAlpha(table, w.d.level)
	omega, err := agreement.McDonaldOmega(w.ctx, table, w.options)
	if err != nil {
		return err
	}
	for _, c := range []agreement.Coefficient{alpha, omega} {
		if c.Note == "" {
			c.Note = fmt.Sprintf("%d items as parts of a sum", len(items))
		}
		k := coefficient(c)
		at := slices.IndexFunc(a.Coefficients, func(x Coefficient) bool { return x.Name == c.Name })
		if at < 0 {
			a.Coefficients = append(a.Coefficients, k)
		} else {
			a.Coefficients[at] = k
		}
	}
	return nil
}

// meanOf is the mean of the items given by each rater to each subject.
func meanOf(items []datasets.RatedItem) datasets.RatedItem {
	out := datasets.RatedItem{Name: AllItems, Scale: "interval"}
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

// trainees adds the decision table: raters by performances where the file says
// who gave each performance, raters alone otherwise.
func (w *agreementWork) trainees(it datasets.RatedItem, a *ItemAgreement) error {
	if it.Scale == "nominal" || a.NSubjects < 2 || a.NRaters < 2 {
		return nil
	}
	several := it.Trainees != nil && len(slices.Compact(slices.Sorted(slices.Values(it.Trainees)))) < len(it.Trainees)
	g := agreement.GStudy{Facets: []string{"subject", "rater"}}
	if several {
		g.Facets = []string{"trainee", "performance", "rater"}
	}
	for i, row := range it.Scores {
		for j, v := range row {
			if math.IsNaN(v) {
				continue
			}
			level := []int{i, j}
			if several {
				level = []int{slices.Index(it.Trainees, it.Trainees[i]), i, j}
			}
			g.Scores, g.Levels = append(g.Scores, v), append(g.Levels, level)
		}
	}
	res, err := renumbered(g).Estimate(w.d.level)
	if err != nil {
		w.d.Warn("no-components", it.Name+": "+err.Error())
		return nil
	}
	facets := g.Facets[1:]
	a.Generalizability, err = w.decide(res, facets)
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
func (w *agreementWork) decide(res agreement.GResult, facets []string) (*GStudy, error) {
	raters, others, target := w.o.MostRaters, w.o.MostOthers, w.o.Target
	if raters == 0 {
		raters = 6
	}
	if others == 0 {
		others = 12
	}
	if target == 0 {
		target = 0.8
	}
	var most []int
	var costs *agreement.Costs
	if w.o.Costs != nil {
		costs = &agreement.Costs{Rating: w.o.Costs.Rating}
		if len(facets) == 1 { // the one performance
			costs.Base = w.o.Costs.Performance
		}
	}
	for _, f := range facets {
		n, price := others, 0.0
		if f == "rater" {
			n = raters
		} else if costs != nil {
			price = w.o.Costs.Performance
		}
		most = append(most, n)
		if costs != nil {
			costs.Level = append(costs.Level, price)
		}
	}
	table, err := res.Table(most, costs, target)
	if err != nil {
		return nil, err
	}
	g := &GStudy{Design: res.Design, Object: objectOf(facets), Facets: facets, Method: res.Method, Balanced: res.Balanced, Components: components(res.Components), Target: target, Notes: []string{}}
	if w.o.Costs != nil {
		g.Costs = &CostRates{w.o.Costs.Performance, w.o.Costs.Rating}
	}
	for _, d := range table.Rows {
		g.Decisions = append(g.Decisions, decision(d))
	}
	pick := func(d *agreement.Decision) *Decision {
		if d == nil {
			return nil
		}
		out := decision(*d)
		return &out
	}
	g.Cheapest, g.Relative = pick(table.Cheapest), pick(table.Relative)
	g.Notes = append(g.Notes, res.Warnings...)
	return g, nil
}

func objectOf(facets []string) string {
	if slices.Contains(facets, "performance") {
		return "trainee"
	}
	return "subject"
}
