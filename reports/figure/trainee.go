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
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// An Extent is the common extent of a set of small plots.
type Extent struct{ maxX, minY, maxY float64 }

// ExtentOf is the frame that holds every trainee's attempts and the standard.
func ExtentOf(st *study.Study) Extent { return extentOf(st, st.Trainees) }

// extentOf is the frame that holds the attempts of some trainees and the standard.
func extentOf(st *study.Study, ts []practice.Trainee) Extent {
	f := Extent{maxX: 2, minY: math.Inf(1), maxY: math.Inf(-1)}
	for _, t := range ts {
		for _, a := range t.Attempts {
			if a.Measured() {
				f.maxX = math.Max(f.maxX, a.Number)
				f.minY, f.maxY = math.Min(f.minY, a.Response), math.Max(f.maxY, a.Response)
			}
		}
	}
	if s := st.Question.Standard; s.Set() {
		f.minY, f.maxY = math.Min(f.minY, s.Value), math.Max(f.maxY, s.Value)
	}
	if !(f.maxY > f.minY) {
		f.minY, f.maxY = f.minY-1, f.maxY+1
	}
	if st.Task.Measure != practice.Score {
		f.minY = math.Min(0, f.minY)
	}
	f.maxY += 0.04 * (f.maxY - f.minY)
	return f
}

// Trainee shows one trainee's attempts with the fitted curve, where the curve may
// lie (dark band) and where the next attempt may (light band).
func Trainee(st *study.Study, t practice.Trainee, curve study.Curve, frame Extent, width, height float64) Picture {
	p := newPlot(t.ID, "", "", 7)
	if width > 300 {
		p = newPlot(t.ID, "attempt", ResponseLabel(st.Task), 9)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	c := colorOfArm(st, t.Arm)
	addBands(p, curve.Line, c, frame)
	addStandard(p, st.Question.Standard.Value, frame.maxX+1)
	addAttempts(p, t, frame)
	if width > 300 {
		addKey(p, curve, t, c, st.Question.Standard.Set(), width)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	return Picture{Legend: traineeWords(st, t, curve), Width: width, Height: height, Draw: func(dc draw.Canvas) { drawnAs(dc, p, "attempt", ResponseLabel(st.Task)) }}
}

// traineeWords say what the picture of a trainee shows.
func traineeWords(st *study.Study, t practice.Trainee, curve study.Curve) string {
	s := st.Question.Standard
	text := fmt.Sprintf("%s: %d attempts", t.ID, len(t.Counted()))
	if s.Set() {
		text += fmt.Sprintf(", %d of them passes", t.Number(func(a practice.Attempt) bool { return a.Passes(s) }))
	}
	if n := len(curve.Line); n > 0 {
		text += fmt.Sprintf("; the fitted curve goes from %s to %s", reports.Significant(curve.Line[0].Mean, 3), reports.Significant(curve.Line[n-1].Mean, 3))
		if s.Set() {
			text += fmt.Sprintf(", the standard is %g", s.Value)
		}
	}
	return text + "."
}

// colorOfArm is the colour that an arm has in every figure.
func colorOfArm(st *study.Study, arm string) color.NRGBA {
	return armColor(max(0, slices.Index(st.Arms, arm)))
}

// A swatch is a patch of colour in a key.
type swatch struct{ color color.Color }

// Thumbnail implements plot.Thumbnailer.
func (s swatch) Thumbnail(c *draw.Canvas) {
	c.FillPolygon(s.color, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
}

// addKey says what the bands and marks are, where a falling or rising curve leaves
// room.
func addKey(p *plot.Plot, curve study.Curve, t practice.Trainee, c color.NRGBA, standard bool, width float64) {
	f := curve.Fit
	legendRight(p, 0.48*width, f.Curve.Gain >= 0)
	p.Legend.TextStyle.Font = sans(7.5)
	if len(curve.Line) > 0 {
		level := fmt.Sprintf(", %g %%", 100*f.Level)
		p.Legend.Add("curve", line(nil, c, 1.3))
		if !math.IsNaN(curve.Line[len(curve.Line)-1].MeanLower) {
			p.Legend.Add("where the curve lies"+level, swatch{pale(c, 0.38)})
			p.Legend.Add("where the next attempt falls"+level, swatch{pale(c, 0.13)})
		}
	}
	p.Legend.Add("attempt", points(nil, ink, 1.0, draw.CircleGlyph{}))
	if f.NCensored > 0 {
		p.Legend.Add("timeout", points(nil, ink, 1.8, draw.TriangleGlyph{}))
	}
	if t.Number(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }) > 0 {
		p.Legend.Add("hard fail", points(nil, alarm, 1.7, draw.CrossGlyph{}))
	}
	if standard {
		p.Legend.Add("standard", line(nil, ink, 0.6, vg.Points(3), vg.Points(2)))
	}
}

// addBands draws a curve with its bands; nothing for a series without a curve.
func addBands(p *plot.Plot, curve []fit.Band, c color.NRGBA, frame Extent) {
	x, lower, upper := make([]float64, len(curve)), make([]float64, len(curve)), make([]float64, len(curve))
	var xy plotter.XYs
	for i, b := range curve {
		x[i] = b.Attempt
		xy = append(xy, plotter.XY{X: b.Attempt, Y: b.Mean})
	}
	fill := func(lo, hi func(fit.Band) float64, strength float64) {
		for i, b := range curve {
			lower[i] = math.Min(math.Max(lo(b), frame.minY), frame.maxY)
			upper[i] = math.Min(math.Max(hi(b), frame.minY), frame.maxY)
			if math.IsNaN(lower[i]) || math.IsNaN(upper[i]) {
				return
			}
		}
		if len(curve) > 0 {
			p.Add(band(x, lower, upper, pale(c, strength)))
		}
	}
	fill(func(b fit.Band) float64 { return b.NextLower }, func(b fit.Band) float64 { return b.NextUpper }, 0.13)
	fill(func(b fit.Band) float64 { return b.MeanLower }, func(b fit.Band) float64 { return b.MeanUpper }, 0.38)
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
func addAttempts(p *plot.Plot, t practice.Trainee, frame Extent) {
	m := sortAttempts(t, func(practice.Attempt) bool { return true }, frame.minY+0.03*(frame.maxY-frame.minY))
	if m.passed != nil {
		p.Add(points(m.passed, ink, 1.0, draw.CircleGlyph{}))
	}
	if m.timeouts != nil {
		p.Add(points(m.timeouts, ink, 1.8, draw.TriangleGlyph{}))
	}
	if m.hard != nil {
		p.Add(points(m.hard, alarm, 1.7, draw.CrossGlyph{}))
	}
}

// seenAttempts are a trainee's attempts by what is drawn of them.
type seenAttempts struct{ passed, missed, timeouts, hard plotter.XYs }

// sortAttempts sorts a trainee's attempts; hard fails, which have no measure, stand at a height of
// their own.
func sortAttempts(t practice.Trainee, passes func(practice.Attempt) bool, bottom float64) (m seenAttempts) {
	for _, a := range t.Attempts {
		switch xy := (plotter.XY{X: a.Number, Y: a.Response}); {
		case a.Outcome == practice.Failed:
			m.hard = append(m.hard, plotter.XY{X: a.Number, Y: bottom})
		case !a.Measured():
		case a.Censored:
			m.timeouts = append(m.timeouts, xy)
		case passes(a):
			m.passed = append(m.passed, xy)
		default:
			m.missed = append(m.missed, xy)
		}
	}
	return m
}
