package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// A matrixRow is one line of the decision table as people see it.
type matrixRow struct {
	MeasuredBy string
	Cells      []string // by number of raters, from 1
}

// decisionTable shows the absolute coefficient, raters across.
func (d *Agreement) decisionTable() Table {
	raters := 0
	for _, it := range d.Items {
		if g := it.Generalizability; g != nil {
			for _, r := range g.Decisions {
				raters = max(raters, int(r.Numbers[len(r.Numbers)-1]))
			}
		}
	}
	t := newItemTable(d, "item", func(it ItemAgreement) []matrixRow {
		if it.Generalizability == nil {
			return nil
		}
		return it.Generalizability.matrix(raters)
	})
	t.words("facet", "measured by", func(r matrixRow) string { return r.MeasuredBy })
	for n := range raters {
		t.words(fmt.Sprintf("raters_%d", n+1), Count(n+1, "rater"), func(r matrixRow) string { return r.Cells[n] })
	}
	var notes []string
	for _, it := range d.Items {
		if it.Generalizability != nil {
			notes = append(notes, it.Generalizability.verdict(it.Item))
		}
	}
	notes = append(notes, "* reaches the target. Each trainee is measured by as many performances (or items) as stated, each rated by as many raters; the mean of all is the score.")
	return Table{Name: "agreement-decisions", Title: "How many raters and performances: absolute (phi) coefficient", Columns: t.columns, Notes: notes}
}

func (g *gStudy) matrix(raters int) []matrixRow {
	var rows []matrixRow
	at := map[float64]int{}
	for _, d := range g.Decisions {
		first, r := 1.0, int(d.Numbers[len(d.Numbers)-1])
		label := "1 performance"
		if len(d.Numbers) > 1 {
			first = d.Numbers[0]
			label = Count(int(first), g.Facets[0])
		}
		i, ok := at[first]
		if !ok {
			i = len(rows)
			at[first] = i
			rows = append(rows, matrixRow{MeasuredBy: label, Cells: make([]string, raters)})
		}
		mark := " "
		if float64(d.Phi) >= g.Target {
			mark = "*"
		}
		rows[i].Cells[r-1] = "–"
		if !math.IsNaN(float64(d.Phi)) {
			rows[i].Cells[r-1] = fmt.Sprintf("%.2f%s", float64(d.Phi), mark)
		}
	}
	return rows
}

// verdict says which way to the target is cheaper.
func (g *gStudy) verdict(item string) string {
	words := func(d *decision) string {
		var parts []string
		for i, n := range d.Numbers {
			parts = append(parts, Count(int(n), g.Facets[i]))
		}
		s := strings.Join(parts, " by ")
		if !math.IsNaN(float64(d.Cost)) {
			s += fmt.Sprintf(" (cost %g a trainee)", float64(d.Cost))
		}
		return s
	}
	how := "the fewest ratings"
	if g.Costs != nil {
		how = "the lowest cost"
	}
	if !slices.ContainsFunc(g.Decisions, func(d decision) bool { return !math.IsNaN(float64(d.Phi)) }) {
		return item + ": how many are enough cannot be told: with one score each, what lies between those rated cannot be told from error."
	}
	out := fmt.Sprintf("%s: for an absolute coefficient of %g ", item, g.Target)
	if g.Cheapest == nil {
		out += "none of the ways shown is enough"
	} else {
		out += fmt.Sprintf("%s: %s", how, words(g.Cheapest))
	}
	if g.Relative != nil {
		out += fmt.Sprintf("; for a relative one: %s", words(g.Relative))
	}
	return out + ". These are estimates: see the intervals of the components."
}

// decisionRows is the decision table with every number, one row a way to measure.
func (d *Agreement) decisionRows() Table {
	type row struct {
		Others string
		Number float64
		decision
	}
	t := newItemTable(d, "", func(it ItemAgreement) []row {
		g := it.Generalizability
		if g == nil {
			return nil
		}
		var rows []row
		for _, x := range g.Decisions {
			r := row{Others: "performance", Number: 1, decision: x}
			if len(x.Numbers) > 1 {
				r.Others, r.Number = g.Facets[0], x.Numbers[0]
			}
			rows = append(rows, r)
		}
		return rows
	})
	t.words("others", "", func(r row) string { return r.Others })
	t.numbers("n_others", "", func(r row) Number { return Number(r.Number) }, nil)
	t.numbers("n_raters", "", func(r row) Number { return Number(r.Numbers[len(r.Numbers)-1]) }, nil)
	t.numbers("g", "", func(r row) Number { return r.G }, nil)
	t.numbers("g_lower", "", func(r row) Number { return r.GLower }, nil)
	t.numbers("g_upper", "", func(r row) Number { return r.GUpper }, nil)
	t.numbers("phi", "", func(r row) Number { return r.Phi }, nil)
	t.numbers("phi_lower", "", func(r row) Number { return r.PhiLower }, nil)
	t.numbers("phi_upper", "", func(r row) Number { return r.PhiUpper }, nil)
	t.numbers("sem_relative", "", func(r row) Number { return r.SEMRel }, nil)
	t.numbers("sem_absolute", "", func(r row) Number { return r.SEMAbs }, nil)
	t.numbers("smallest_detectable_change_absolute", "", func(r row) Number { return r.SDCAbs }, nil)
	t.numbers("cost", "", func(r row) Number { return r.Cost }, nil)
	return Table{Name: "agreement-decision-rows", Columns: t.columns}
}
