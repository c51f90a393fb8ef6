package figure

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/proficiency"
	"tyro/reports"
)

// moved lists the trainees of whom something was projected at two times or
// more.
func moved(d *reports.Cohort) []int {
	var out []int
	for i, t := range d.Trainees {
		shown := 0
		for _, m := range t.Moves {
			if !math.IsNaN(float64(m.Estimate)) {
				shown++
			}
		}
		if shown > 1 {
			out = append(out, i)
		}
	}
	return out
}

// moveFrame is the last attempt that any range about rule-met reaches, within
// the horizon, and the most attempts made.
func moveFrame(d *reports.Cohort) (made, met float64) {
	made, met = 1, 1
	for _, t := range d.Trainees {
		for _, m := range t.Moves {
			made = math.Max(made, float64(m.AttemptsMade))
			for _, v := range []float64{float64(m.Estimate), float64(m.Upper)} {
				if !math.IsInf(v, 1) && !math.IsNaN(v) {
					met = math.Max(met, v)
				}
			}
		}
	}
	return made, met
}

// movesPlot shows what was projected of one trainee after 5, 10, … attempts:
// median and range of the attempt at which the rule is met, above the dotted
// line of the attempts made. Ranges that go beyond the frame end in an arrow; a
// full line stands at the attempt at which the rule was met.
func movesPlot(d *reports.Cohort, i int) panel {
	t := d.Trainees[i]
	made, top := moveFrame(d)
	p := newPlot(t.Trainee, "", "", 7)
	c := armColor(slices.Index(d.Arms, t.Arm))
	edge := math.Min(made, top)
	p.Add(line(plotter.XYs{{X: 0, Y: 0}, {X: edge, Y: edge}}, faint, 0.7, vg.Points(1), vg.Points(2)))
	last := t.Moves[len(t.Moves)-1]
	if last.Status == string(proficiency.Reached) {
		y := float64(last.Estimate)
		p.Add(line(plotter.XYs{{X: 0, Y: y}, {X: y, Y: y}}, ink, 0.9), points(plotter.XYs{{X: y, Y: y}}, ink, 2.2, draw.CircleGlyph{}))
	}
	for _, m := range t.Moves {
		x, mid, lo, hi := float64(m.AttemptsMade), float64(m.Estimate), float64(m.Lower), float64(m.Upper)
		if math.IsNaN(mid) || m.Status == string(proficiency.Reached) {
			continue
		}
		p.Add(line(plotter.XYs{{X: x, Y: math.Min(lo, top)}, {X: x, Y: math.Min(hi, top)}}, pale(c, 0.55), 2.4))
		if hi > top {
			p.Add(points(plotter.XYs{{X: x, Y: top}}, c, 2.4, draw.TriangleGlyph{}))
		}
		if mid <= top {
			p.Add(points(plotter.XYs{{X: x, Y: mid}}, c, 2, draw.CircleGlyph{}))
		}
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, made+1, 0, top*1.04
	return panel{Plot: p, finding: movesWords(t), x: "after attempt", y: "rule met at attempt"}
}

// movesWords say what was projected of a trainee first and last.
func movesWords(t reports.CohortTrainee) string {
	words := func(m reports.CohortMove) string {
		if math.IsInf(float64(m.Estimate), 1) {
			return "beyond the horizon"
		}
		return "at attempt " + reports.Significant(float64(m.Estimate), 3)
	}
	var first *reports.CohortMove
	for i := range t.Moves {
		if !math.IsNaN(float64(t.Moves[i].Estimate)) {
			first = &t.Moves[i]
			break
		}
	}
	last := t.Moves[len(t.Moves)-1]
	if first == nil {
		return t.Trainee + ": nothing could be projected."
	}
	text := fmt.Sprintf("%s: after %d attempts the rule was expected to be met %s", t.Trainee, first.AttemptsMade, words(*first))
	switch {
	case last.Status == string(proficiency.Reached):
		text += "; it was met " + words(last)
	case !math.IsNaN(float64(last.Estimate)):
		text += fmt.Sprintf("; after %d, %s", last.AttemptsMade, words(last))
	}
	return text + "."
}
