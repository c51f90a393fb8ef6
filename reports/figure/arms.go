package figure

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/fit"
	"tyro/reports"
)

// armPlot shows every trainee's curve of an arm up to their last attempt, with
// the median of the curves of those still practising, and how many those are.
func ArmPlot(in *reports.Input, fits []fit.Fit, arm int, frame frameOf, width, height float64) (string, error) {
	name := in.Arms[arm]
	var mine []fit.Fit
	for _, i := range in.Members(name) {
		if fits[i].Status.Usable() {
			mine = append(mine, fits[i])
		}
	}
	p := newPlot(reports.ArmName(name), "attempt", ResponseLabel(in), 8)
	c := armColor(arm)
	for _, f := range mine {
		var xy plotter.XYs
		for _, x := range grid(f.First, f.Last) {
			xy = append(xy, plotter.XY{X: x, Y: f.Noise.Mean(f.Curve.At(x))})
		}
		if xy = inside(xy, frame.minY, frame.maxY); len(xy) > 1 {
			p.Add(line(xy, pale(c, 0.35), 0.7))
		}
	}
	atRisk := func(n float64) int {
		k := 0
		for _, f := range mine {
			if f.Last >= n {
				k++
			}
		}
		return k
	}
	var mid plotter.XYs
	for n := 1.0; n <= frame.maxX && atRisk(n) >= 3; n++ {
		var ys []float64
		for _, f := range mine {
			if f.Last >= n {
				ys = append(ys, f.Noise.Mean(f.Curve.At(n)))
			}
		}
		slices.Sort(ys)
		m := ys[len(ys)/2]
		if len(ys)%2 == 0 {
			m = (m + ys[len(ys)/2-1]) / 2
		}
		mid = append(mid, plotter.XY{X: n, Y: m})
	}
	if mid = inside(mid, frame.minY, frame.maxY); len(mid) > 1 {
		p.Add(line(mid, c, 2.2))
	}
	addStandard(p, in.Question.Standard.Value, frame.maxX+1)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	what := fmt.Sprintf("Curves of the trainees in arm %s", reports.ArmName(name))
	return svg(width, height, what, func(dc draw.Canvas) {
		drawWithStrips(dc, p, []stripRow{{"n", ink, func(x float64) string { return fmt.Sprint(atRisk(math.Max(1, x))) }}})
	})
}

func ResponseLabel(in *reports.Input) string {
	label := in.Task.Column
	if in.Task.Unit != "" {
		label += " (" + in.Task.Unit + ")"
	}
	return label
}

// A stripRow is a line of numbers under a plot.
type stripRow struct {
	label  string
	color  color.Color
	number func(x float64) string
}

// drawWithStrips draws a plot with rows of numbers under its ticks.
func drawWithStrips(dc draw.Canvas, p *plot.Plot, rows []stripRow) {
	rowHeight := vg.Points(10)
	below := rowHeight*vg.Length(len(rows)) + vg.Points(2)
	upper := draw.Crop(dc, vg.Points(22), 0, below, 0)
	p.Draw(upper)
	data := p.DataCanvas(upper)
	ticks := p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max)
	for i, r := range rows {
		y := dc.Min.Y + below - vg.Points(2) - rowHeight*vg.Length(i+1)
		strip(dc, p, data, y, r.label, r.color, ticks, r.number)
	}
}
