package agreement

import (
	"math"
	"testing"
)

// Ten people, each scored once, five by each rater: what lies between people cannot be told
// from error, so no number of raters can be said to be enough, nor too few.
func TestDecideWithOneScoreEach(t *testing.T) {
	g := GStudy{Facets: []string{"subject", "rater"}, Scores: []float64{5, 6, 7, 5, 8, 5, 7, 4, 6, 9}}
	for i := range g.Scores {
		g.Levels = append(g.Levels, []int{i, i / 5})
	}
	res, err := g.Estimate(0.95)
	if err != nil {
		t.Fatal(err)
	}
	table, err := res.Table([]int{4}, nil, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != 4 || table.Cheapest != nil || table.Relative != nil {
		t.Errorf("%d rows, cheapest %v, relative %v", len(table.Rows), table.Cheapest, table.Relative)
	}
	for _, d := range table.Rows {
		for _, v := range []float64{d.G, d.GLower, d.Phi, d.PhiUpper, d.SEMRelative, d.SEMAbsolute, d.ChangeAbsolute} {
			if !math.IsNaN(v) {
				t.Fatalf("%v raters: %+v", d.Numbers, d)
			}
		}
	}
}
