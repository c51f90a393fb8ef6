package figure

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/study"
)

// survivalWords say what the picture shows.
func survivalWords(arms []study.ArmSurvival) string {
	text := "Share of trainees who met the rule, by attempt:"
	for k, a := range arms {
		if k > 0 {
			text += ";"
		}
		text += fmt.Sprintf(" %s, %d of %d", study.ArmName(a.Arm), a.Curve.Events, a.Curve.N)
		if !math.IsInf(a.Median.Estimate, 0) && !math.IsNaN(a.Median.Estimate) {
			text += fmt.Sprintf(", half by attempt %g", a.Median.Estimate)
		}
	}
	return text + "."
}

// armDashes tell arms apart without colour: the first is a whole line.
func armDashes(arm int) []vg.Length {
	return [][]vg.Length{nil, {vg.Points(5), vg.Points(2)}, {vg.Points(1.5), vg.Points(2)}, {vg.Points(7), vg.Points(2), vg.Points(1.5), vg.Points(2)}}[arm%4]
}

// Survival shows the share of each arm that has met the rule, with its
// band and the numbers of those still followed and not there yet.
func Survival(arms []study.ArmSurvival, width, height float64) Picture {
	p := newPlot("", "attempt", "share that met the rule", 8)
	last := 1.0
	var rows []stripRow
	for k, a := range arms {
		for _, s := range a.Curve.Steps {
			last = math.Max(last, s.Time)
		}
		rows = append(rows, stripRow{study.ArmName(a.Arm), armColor(k), func(x float64) string { return fmt.Sprint(a.AtRisk(x)) }})
	}
	var lines []plot.Plotter // above the bands of all arms
	for k, a := range arms {
		c := armColor(k)
		share := plotter.XYs{{X: 0, Y: 0}}
		var x, lower, upper []float64
		y, lo, hi := 0.0, 0.0, 0.0
		for _, s := range a.Curve.Steps {
			share = append(share, plotter.XY{X: s.Time, Y: y})
			x, lower, upper = append(x, s.Time), append(lower, lo), append(upper, hi)
			y = 1 - s.Survival
			if !math.IsNaN(s.Upper) {
				lo, hi = 1-s.Upper, 1-s.Lower
			}
			share = append(share, plotter.XY{X: s.Time, Y: y})
			x, lower, upper = append(x, s.Time), append(lower, lo), append(upper, hi)
		}
		if len(x) > 0 {
			p.Add(band(x, lower, upper, color.NRGBA{c.R, c.G, c.B, 0x26}))
		}
		l := line(share, c, 1.6, armDashes(k)...)
		lines = append(lines, l)
		p.Legend.Add(study.ArmName(a.Arm), l)
	}
	p.Add(lines...)
	p.Legend.Top, p.Legend.Left = true, true
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1.03*last, 0, 1
	return Picture{Name: "rule-met-by-arm", Legend: survivalWords(arms), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		drawWithStrips(dc, p, rows)
	}}
}
