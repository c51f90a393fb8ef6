package figure

import (
	"math"
	"slices"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// transferPicture shows what a unit of practice on the substitute saves on the task, by how much
// was practised there: of all of it, with its interval, and of what was practised more than in
// the step before. None without transfer.
func transferPicture(d *reports.OutcomeComparison, width, height float64) Picture {
	p := newPlot("", "practice on the substitute, mean a trainee", "saved on the task for each unit", 8)
	p.Add(plotter.NewGrid())
	whole, more := armColor(0), armColor(1)
	var all, steps plotter.XYs
	last, low, high := 0.0, 0.0, 0.0
	for _, l := range d.Transfer {
		x, y, from, to := float64(l.Prior), float64(l.Estimate), float64(l.Lower), float64(l.Upper)
		var at *plotter.XYs
		c := whole
		switch l.Measure {
		case "transfer-effectiveness":
			at = &all
		case "transfer-effectiveness-incremental":
			if len(all) < 2 {
				continue // the first step is all of it
			}
			at, c, x = &steps, more, x+0.015*last // beside, not on top
		default:
			continue
		}
		if math.IsNaN(x) || math.IsNaN(y) || math.IsInf(y, 0) {
			continue
		}
		*at = append(*at, plotter.XY{X: x, Y: y})
		low, high = math.Min(low, y), math.Max(high, y)
		if !math.IsNaN(from) && !math.IsNaN(to) && !math.IsInf(from, 0) && !math.IsInf(to, 0) {
			p.Add(line(plotter.XYs{{X: x, Y: from}, {X: x, Y: to}}, c, 1.2))
			low, high = math.Min(low, from), math.Max(high, to)
		}
		last = math.Max(last, x)
	}
	if len(all) == 0 {
		return Picture{}
	}
	p.Add(line(plotter.XYs{{X: 0, Y: 0}, {X: 1.08 * last, Y: 0}}, ink, 0.8))
	slices.SortFunc(all, byX)
	dots := points(all, whole, 3, draw.CircleGlyph{})
	p.Add(line(all, whole, 1.4), dots)
	p.Legend.Add("all of it", dots)
	if len(steps) > 0 {
		boxes := points(steps, more, 3, draw.BoxGlyph{})
		p.Add(boxes)
		p.Legend.Add("more than the step before", boxes)
	}
	p.Legend.Top = true
	room := 0.25 * (high - low) // for the legend
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1.08*last, low, high+room
	return Picture{Name: "compare-transfer", Legend: "What a unit of practice on the substitute saves on the task", Width: width, Height: height, Draw: func(dc draw.Canvas) { drawn(dc, p) }}
}

// byX orders points from left to right.
func byX(a, b plotter.XY) int {
	switch {
	case a.X < b.X:
		return -1
	case a.X > b.X:
		return 1
	}
	return 0
}
