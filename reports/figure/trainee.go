package figure

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/fit"
	"tyro/datasets"
	"tyro/reports"
)

// gridPoints is the number of places at which a curve is drawn.
const gridPoints = 60

func grid(from, to float64) []float64 {
	out := make([]float64, gridPoints)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/(gridPoints-1)
	}
	return out
}

// A frameOf is the common extent of a set of small plots.
type frameOf struct{ maxX, minY, maxY float64 }

// extentOf is the frame that holds every trainee's attempts and the standard.
func ExtentOf(in *reports.Input) frameOf {
	f := frameOf{maxX: 2, minY: math.Inf(1), maxY: math.Inf(-1)}
	for _, t := range in.Trainees {
		for i, y := range t.Series.Response {
			f.maxX = math.Max(f.maxX, t.Series.Attempt[i])
			f.minY, f.maxY = math.Min(f.minY, y), math.Max(f.maxY, y)
		}
	}
	if s := in.Question.Standard.Value; !math.IsNaN(s) {
		f.minY, f.maxY = math.Min(f.minY, s), math.Max(f.maxY, s)
	}
	if !(f.maxY > f.minY) {
		f.minY, f.maxY = f.minY-1, f.maxY+1
	}
	if in.Task.Measure != datasets.Score {
		f.minY = math.Min(0, f.minY)
	}
	f.maxY += 0.04 * (f.maxY - f.minY)
	return f
}

// traineePlot shows one trainee's attempts with the fitted curve, where the
// curve may lie (dark band) and where the next attempt may (light band).
func TraineePlot(in *reports.Input, t reports.Trainee, f fit.Fit, arm int, frame frameOf, width, height float64) (string, error) {
	p := newPlot(t.ID, "", "", 7)
	if width > 300 {
		p = newPlot(t.ID, "attempt", ResponseLabel(in), 9)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	c := armColor(arm)
	if f.Status.Usable() {
		addBands(p, f, c, frame)
	}
	addStandard(p, in.Question.Standard.Value, frame.maxX+1)
	addAttempts(p, in, t, c, frame)
	if width > 300 {
		addKey(p, f, t, c, !math.IsNaN(in.Question.Standard.Value), width)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	what := fmt.Sprintf("Attempts of %s with the fitted curve", t.ID)
	return svg(width, height, what, func(dc draw.Canvas) { p.Draw(dc) })
}

// A swatch is a patch of colour in a key.
type swatch struct{ color color.Color }

// Thumbnail implements plot.Thumbnailer.
func (s swatch) Thumbnail(c *draw.Canvas) {
	c.FillPolygon(s.color, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
}

// addKey says what the bands and marks are, where a falling or rising curve leaves
// room.
func addKey(p *plot.Plot, f fit.Fit, t reports.Trainee, c color.NRGBA, standard bool, width float64) {
	legendRight(p, 0.48*width, f.Curve.Gain >= 0)
	p.Legend.TextStyle.Font = sans(7.5)
	if f.Status.Usable() {
		level := fmt.Sprintf(", %g %%", 100*f.Level)
		p.Legend.Add("curve", line(nil, c, 1.3))
		if b := f.Bands([]float64{f.Last}); !math.IsNaN(b[0].MeanLower) {
			p.Legend.Add("where the curve lies"+level, swatch{pale(c, 0.38)})
			p.Legend.Add("where the next attempt falls"+level, swatch{pale(c, 0.13)})
		}
	}
	p.Legend.Add("attempt", points(nil, ink, 1.0, draw.CircleGlyph{}))
	if t.Series.NCensored() > 0 {
		p.Legend.Add("timeout", points(nil, ink, 1.8, draw.TriangleGlyph{}))
	}
	if len(t.Hard) > 0 {
		p.Legend.Add("hard fail", points(nil, alarm, 1.7, draw.CrossGlyph{}))
	}
	if standard {
		p.Legend.Add("standard", line(nil, ink, 0.6, vg.Points(3), vg.Points(2)))
	}
}

func addBands(p *plot.Plot, f fit.Fit, c color.NRGBA, frame frameOf) {
	x := grid(f.First, f.Last)
	bs := f.Bands(x)
	lower, upper := make([]float64, len(x)), make([]float64, len(x))
	fill := func(lo, hi func(fit.Band) float64, strength float64) {
		for i, b := range bs {
			lower[i] = math.Min(math.Max(lo(b), frame.minY), frame.maxY)
			upper[i] = math.Min(math.Max(hi(b), frame.minY), frame.maxY)
			if math.IsNaN(lower[i]) || math.IsNaN(upper[i]) {
				return
			}
		}
		p.Add(band(x, lower, upper, pale(c, strength)))
	}
	fill(func(b fit.Band) float64 { return b.NextLower }, func(b fit.Band) float64 { return b.NextUpper }, 0.13)
	fill(func(b fit.Band) float64 { return b.MeanLower }, func(b fit.Band) float64 { return b.MeanUpper }, 0.38)
	var xy plotter.XYs
	for i, b := range bs {
		xy = append(xy, plotter.XY{X: x[i], Y: b.Mean})
	}
	if xy = inside(xy, frame.minY, frame.maxY); len(xy) > 1 {
		p.Add(line(xy, c, 1.3))
	}
}

func addStandard(p *plot.Plot, standard, to float64) {
	if !math.IsNaN(standard) {
		p.Add(line(plotter.XYs{{X: 0, Y: standard}, {X: to, Y: standard}}, ink, 0.6, vg.Points(3), vg.Points(2)))
	}
}

// addAttempts draws exact attempts as dots, timeouts as open triangles at the
// limit and hard fails as crosses along the bottom.
func addAttempts(p *plot.Plot, in *reports.Input, t reports.Trainee, c color.NRGBA, frame frameOf) {
	var done, timeouts, hard plotter.XYs
	for i, x := range t.Series.Attempt {
		xy := plotter.XY{X: x, Y: t.Series.Response[i]}
		if t.Series.Censored[i] {
			timeouts = append(timeouts, xy)
		} else {
			done = append(done, xy)
		}
	}
	for _, x := range t.Hard {
		hard = append(hard, plotter.XY{X: x, Y: frame.minY + 0.03*(frame.maxY-frame.minY)})
	}
	if done != nil {
		p.Add(points(done, ink, 1.0, draw.CircleGlyph{}))
	}
	if timeouts != nil {
		p.Add(points(timeouts, ink, 1.8, draw.TriangleGlyph{}))
	}
	if hard != nil {
		p.Add(points(hard, alarm, 1.7, draw.CrossGlyph{}))
	}
}
