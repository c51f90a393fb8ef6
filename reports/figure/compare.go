package figure

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// Comparison draws the forest of the contrasts, and the course of the level of every pair
// of arms.
func Comparison(d *reports.Comparison, forest, course float64) []Picture {
	var out []Picture
	if p := contrastPicture(d.Contrasts, forest); p.Draw != nil {
		p.Finding = contrastWords(d.Contrasts)
		out = append(out, p.named("contrasts", "Ratios between arms with their intervals; at 1 the arms are alike. A line that crosses 1 leaves both directions possible."))
	}
	if len(d.Course) > 0 {
		out = append(out, coursePicture(d, course, 220).found(courseWords(d)).named("difference-curve", fmt.Sprintf("The level of one arm against another by attempt, up to attempt %g, with the interval at each attempt.", d.Attempt)))
	}
	return out
}

// ratioForest draws intervals of ratios on a logarithmic axis.
type ratioForest struct {
	rows     []reports.Contrast
	colors   []color.NRGBA
	from, to float64 // logarithms
}

// Plot implements plot.Plotter.
func (f ratioForest) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	c.StrokeLine2(draw.LineStyle{Color: ink, Width: vg.Points(0.8)}, toX(0), toY(-0.7), toX(0), toY(float64(len(f.rows))-0.3))
	for i, r := range f.rows {
		y := toY(float64(len(f.rows) - 1 - i))
		style := draw.LineStyle{Color: f.colors[i], Width: vg.Points(1.4)}
		lower, upper := math.Max(math.Log(float64(r.Lower)), f.from), math.Min(math.Log(float64(r.Upper)), f.to)
		c.StrokeLine2(style, toX(lower), y, toX(upper), y)
		if math.Log(float64(r.Upper)) > f.to {
			c.StrokeLine2(style, toX(f.to)-vg.Points(3), y+vg.Points(2.5), toX(f.to), y)
			c.StrokeLine2(style, toX(f.to)-vg.Points(3), y-vg.Points(2.5), toX(f.to), y)
		}
		if math.Log(float64(r.Lower)) < f.from {
			c.StrokeLine2(style, toX(f.from)+vg.Points(3), y+vg.Points(2.5), toX(f.from), y)
			c.StrokeLine2(style, toX(f.from)+vg.Points(3), y-vg.Points(2.5), toX(f.from), y)
		}
		if at := math.Log(float64(r.Estimate)); at >= f.from && at <= f.to {
			c.DrawGlyph(draw.GlyphStyle{Color: f.colors[i], Radius: vg.Points(2.4), Shape: draw.CircleGlyph{}}, vg.Point{X: toX(at), Y: y})
		}
	}
}

// roomBeside is the width, in points, from which rows have their names beside them.
const roomBeside = 300.0

// above writes the names of rows over them, where there is no room beside.
type above []plot.Tick

// Plot implements plot.Plotter.
func (a above) Plot(c draw.Canvas, p *plot.Plot) {
	_, toY := p.Transforms(&c)
	style := p.X.Tick.Label
	style.Color, style.XAlign, style.YAlign = ink, draw.XLeft, draw.YBottom
	for _, t := range a {
		c.FillText(style, vg.Point{X: c.Min.X + vg.Points(2), Y: toY(t.Value) + vg.Points(4)}, t.Label)
	}
}

// ratioTicks are round ratios on a logarithmic axis.
type ratioTicks struct{}

// Ticks implements plot.Ticker.
func (ratioTicks) Ticks(from, to float64) []plot.Tick {
	var out []plot.Tick
	marks := []float64{0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.9, 1, 1.1, 1.25, 1.5, 2, 3, 5, 10}
	if to-from > 2 {
		marks = []float64{0.1, 0.2, 0.5, 1, 2, 5, 10}
	}
	for _, v := range marks {
		if x := math.Log(v); x >= from && x <= to {
			out = append(out, plot.Tick{Value: x, Label: fmt.Sprintf("%g", v)})
		}
	}
	return out
}

// contrastPicture shows every contrast that is a ratio with an interval, one a row; none
// where there is none. Ratios beyond 10 and 1/10 end in an arrow.
func contrastPicture(cs []reports.Contrast, width float64) Picture {
	f := ratioForest{}
	var pairs []string
	var ticks plot.ConstantTicks
	for _, c := range cs {
		if c.Kind != "ratio" || math.IsNaN(float64(c.Lower)) || math.IsNaN(float64(c.Upper)) {
			continue
		}
		pair := reports.ArmName(c.Arm) + " against " + reports.ArmName(c.Reference)
		if !slices.Contains(pairs, pair) {
			pairs = append(pairs, pair)
		}
		f.rows, f.colors = append(f.rows, c), append(f.colors, armColor(slices.Index(pairs, pair)))
		f.from, f.to = math.Min(f.from, math.Log(float64(c.Lower))), math.Max(f.to, math.Log(float64(c.Upper)))
	}
	if len(f.rows) == 0 {
		return Picture{}
	}
	f.from, f.to = math.Max(f.from-0.05, -math.Log(10)), math.Min(f.to+0.05, math.Log(10))
	for i, r := range f.rows {
		label := reports.SpokenCell("measure", r.Measure)
		if len(pairs) > 1 {
			label += ", " + reports.ArmName(r.Arm) + " : " + reports.ArmName(r.Reference)
		}
		ticks = append(ticks, plot.Tick{Value: float64(len(f.rows) - 1 - i), Label: label})
	}
	title := "ratio"
	if len(pairs) == 1 {
		title = "ratio, " + pairs[0]
	}
	p := newPlot("", title, "", 8)
	p.Add(plotter.NewGrid(), f)
	p.Y.Tick.Marker, p.X.Tick.Marker = ticks, ratioTicks{}
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = f.from, f.to, -0.7, float64(len(f.rows))-0.3
	row := 18.0
	if width < roomBeside {
		row = 25
		p.Y.Tick.Marker = unwritten(ticks)
		p.Y.Max += 0.2
		p.Add(above(ticks))
	}
	return Picture{Legend: "Ratios between arms with their intervals", Width: width, Height: 44 + row*float64(len(f.rows)), Draw: func(dc draw.Canvas) {
		drawn(draw.Crop(dc, vg.Points(2), -vg.Points(10), 0, 0), p)
	}}
}

// coursePicture shows the contrast of the level by attempt for every pair of arms.
func coursePicture(d *reports.Comparison, width, height float64) Picture {
	var pairs []string
	x, y, lower, upper := map[string][]float64{}, map[string][]float64{}, map[string][]float64{}, map[string][]float64{}
	none, label := 0.0, "difference of the level"
	for _, c := range d.Course {
		pair := reports.ArmName(c.Arm) + " against " + reports.ArmName(c.Reference)
		if !slices.Contains(pairs, pair) {
			pairs = append(pairs, pair)
		}
		if c.Kind == "ratio" {
			none, label = 1, "ratio of the level"
		}
		if math.IsNaN(float64(c.Lower)) || math.IsInf(float64(c.Lower), 0) || math.IsInf(float64(c.Upper), 0) {
			continue
		}
		x[pair], y[pair] = append(x[pair], c.Attempt), append(y[pair], float64(c.Estimate))
		lower[pair], upper[pair] = append(lower[pair], float64(c.Lower)), append(upper[pair], float64(c.Upper))
	}
	p := newPlot("", "attempt", label, 8)
	p.Add(plotter.NewGrid(), line(plotter.XYs{{X: 1, Y: none}, {X: d.Attempt, Y: none}}, ink, 0.8))
	var lines []plot.Plotter // above the bands of all pairs
	for k, pair := range pairs {
		if len(x[pair]) < 2 {
			continue
		}
		c := armColor(k)
		p.Add(band(x[pair], lower[pair], upper[pair], color.NRGBA{c.R, c.G, c.B, 0x26}))
		var xy plotter.XYs
		for i := range x[pair] {
			xy = append(xy, plotter.XY{X: x[pair][i], Y: y[pair][i]})
		}
		l := line(xy, c, 1.6)
		lines = append(lines, l)
		p.Legend.Add(pair, l)
	}
	p.Add(lines...)
	p.Legend.Top = true
	p.X.Min, p.X.Max = 1, d.Attempt
	return Picture{Width: width, Height: height, Draw: func(dc draw.Canvas) { drawn(dc, p) }}
}

// contrastWords say which ratios leave 1 out.
func contrastWords(cs []reports.Contrast) string {
	var apart []string
	n := 0
	for _, c := range cs {
		if c.Kind != "ratio" || math.IsNaN(float64(c.Lower)) || math.IsNaN(float64(c.Upper)) {
			continue
		}
		n++
		if c.Lower > 1 || c.Upper < 1 {
			apart = append(apart, fmt.Sprintf("%s, %s against %s, %s (%s to %s)", reports.SpokenCell("measure", c.Measure), reports.ArmName(c.Arm), reports.ArmName(c.Reference),
				reports.Significant(float64(c.Estimate), 3), reports.Significant(float64(c.Lower), 3), reports.Significant(float64(c.Upper), 3)))
		}
	}
	if len(apart) == 0 {
		return fmt.Sprintf("Ratios between arms: none of %d intervals leaves 1 out.", n)
	}
	return fmt.Sprintf("Ratios between arms: %d of %d intervals leave 1 out: %s.", len(apart), n, strings.Join(apart, "; "))
}

// courseWords say where the arms end up against each other.
func courseWords(d *reports.Comparison) string {
	text := "Level of one arm against another by attempt"
	for i, c := range d.Course {
		if i+1 < len(d.Course) && d.Course[i+1].Arm == c.Arm && d.Course[i+1].Reference == c.Reference || math.IsNaN(float64(c.Estimate)) {
			continue
		}
		text += fmt.Sprintf("; %s against %s at attempt %g: %s %s", reports.ArmName(c.Arm), reports.ArmName(c.Reference), c.Attempt, c.Kind, reports.Significant(float64(c.Estimate), 3))
		if !math.IsNaN(float64(c.Lower)) {
			text += fmt.Sprintf(" (%s to %s)", reports.Significant(float64(c.Lower), 3), reports.Significant(float64(c.Upper), 3))
		}
	}
	return text + "."
}
