package figure

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// Arm shows every trainee's curve of an arm up to their last attempt, with the
// median of the curves of those still practising, and how many those are. Curves of
// trainees whom a request hides are left out; the median is of all.
func Arm(st *study.Study, curves *study.Curves, arm int, frame Extent, width, height float64) Picture {
	a := curves.Arms[arm]
	p := newPlot(study.ArmName(a.Arm), "attempt", ResponseLabel(st.Task), 8)
	c := armColor(arm)
	for _, i := range st.Members(a.Arm) {
		if t := st.Trainees[i]; st.Options.Request.Hides(t.ID, t.Arm) {
			continue
		}
		var xy plotter.XYs
		for _, b := range curves.Each[i].Line {
			xy = append(xy, plotter.XY{X: b.Attempt, Y: b.Mean})
		}
		if xy = inside(xy, frame.minY, frame.maxY); len(xy) > 1 {
			p.Add(whose{line(xy, pale(c, 0.35), 0.7), st.Trainees[i].ID})
		}
	}
	var mid plotter.XYs
	for k, v := range a.Median {
		mid = append(mid, plotter.XY{X: float64(k + 1), Y: v})
	}
	if mid = inside(mid, frame.minY, frame.maxY); len(mid) > 1 {
		p.Add(line(mid, c, 2.2))
	}
	addStandard(p, st.Question.Standard.Value, frame.maxX+1)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	return Picture{Legend: armWords(st, a), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		drawWithStrips(dc, p, []stripRow{{"n", ink, func(x float64) string { return fmt.Sprint(practising(a, x)) }}})
	}}
}

// armWords say what the picture of an arm shows.
func armWords(st *study.Study, a study.ArmCurves) string {
	text := fmt.Sprintf("Curves of the %d trainees in arm %s", len(st.Members(a.Arm)), study.ArmName(a.Arm))
	if n := len(a.Median); n > 0 && !math.IsNaN(a.Median[0]) && !math.IsNaN(a.Median[n-1]) {
		text += fmt.Sprintf("; their median goes from %s at attempt 1 to %s at attempt %d", reports.Significant(a.Median[0], 3), reports.Significant(a.Median[n-1], 3), n)
	}
	if s := st.Question.Standard; s.Set() {
		text += fmt.Sprintf("; the standard is %g", s.Value)
	}
	return text + "."
}

// practising is how many of the arm's trainees with a curve made attempt x.
func practising(a study.ArmCurves, x float64) int {
	k := max(1, int(math.Ceil(x)))
	if k > len(a.Practising) {
		return 0
	}
	return a.Practising[k-1]
}

// ResponseLabel is what the response is called, with its unit.
func ResponseLabel(t practice.Task) string {
	if t.Unit == "" {
		return t.Response
	}
	return t.Response + " (" + t.Unit + ")"
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
	drawn(upper, p)
	data := p.DataCanvas(upper)
	ticks := p.X.Tick.Marker.Ticks(p.X.Min, p.X.Max)
	for i, r := range rows {
		y := dc.Min.Y + below - vg.Points(2) - rowHeight*vg.Length(i+1)
		strip(dc, p, data, y, r.label, r.color, ticks, r.number)
	}
}
