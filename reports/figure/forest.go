package figure

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/proficiency"
	"tyro/reports"
)

// A forestRow is one interval of a forest plot; an end beyond the horizon is
// drawn as an arrow.
type forestRow struct {
	label                  string
	estimate, lower, upper float64
	made                   float64 // attempts made so far; NaN for none
	color                  color.NRGBA
	away                   bool // moves away from the standard: a ring, or a cross without an estimate
}

// forest draws rows from top to bottom.
type forest struct {
	rows    []forestRow
	horizon float64
}

// Plot implements plot.Plotter.
func (f forest) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	for i, r := range f.rows {
		tag(c, p, "who:"+r.label)
		y := toY(float64(len(f.rows) - 1 - i))
		style := draw.LineStyle{Color: r.color, Width: vg.Points(1.2)}
		if !math.IsNaN(r.lower) {
			from, to := math.Min(r.lower, f.horizon), math.Min(r.upper, f.horizon)
			c.StrokeLine2(style, toX(from), y, toX(to), y)
			if r.upper > f.horizon {
				tip, back := toX(f.horizon)+vg.Points(4), toX(f.horizon)-vg.Points(1)
				c.StrokeLine2(style, toX(to), y, tip, y)
				c.StrokeLine2(style, back, y+vg.Points(2.5), tip, y)
				c.StrokeLine2(style, back, y-vg.Points(2.5), tip, y)
			}
		}
		if !math.IsNaN(r.made) {
			x := toX(math.Min(r.made, f.horizon))
			c.StrokeLine2(draw.LineStyle{Color: ink, Width: vg.Points(0.8)}, x, y-vg.Points(2.5), x, y+vg.Points(2.5))
		}
		glyph, at := draw.GlyphStyle{Color: r.color, Radius: vg.Points(2.2), Shape: draw.CircleGlyph{}}, r.estimate
		switch {
		case r.away && math.IsNaN(r.estimate):
			glyph.Color, glyph.Radius, glyph.Shape, at = alarm, vg.Points(3.2), draw.CrossGlyph{}, math.Min(r.made, f.horizon)
		case r.away:
			glyph.Shape = draw.RingGlyph{}
		}
		if at <= f.horizon {
			c.DrawGlyph(glyph, vg.Point{X: toX(at), Y: y})
		}
		tag(c, p, "end")
	}
}

// DataRange implements plot.DataRanger.
func (f forest) DataRange() (xmin, xmax, ymin, ymax float64) {
	return 0, f.horizon, -0.7, float64(len(f.rows)) - 0.3
}

// labels are the rows' names as ticks.
func (f forest) labels() plot.ConstantTicks {
	var out plot.ConstantTicks
	for i, r := range f.rows {
		out = append(out, plot.Tick{Value: float64(len(f.rows) - 1 - i), Label: shortName(r.label)})
	}
	return out
}

// Forest shows every trainee's attempts to proficiency under one definition, one arm
// after the other.
func Forest(d *reports.Proficiency, definition string, width float64) Picture {
	f := forestOf(d, definition)
	return f.picture(d, definition, width)
}

// forestsOnPaper are the same, some rows a picture: a sheet of paper has an end.
func forestsOnPaper(d *reports.Proficiency, definition string, width float64) []Picture {
	all := forestOf(d, definition)
	var out []Picture
	for from := 0; from < len(all.rows); from += CohortRows {
		f := forest{all.rows[from:min(from+CohortRows, len(all.rows))], all.horizon}
		p := f.picture(d, definition, width)
		if len(all.rows) > CohortRows {
			p.Name = fmt.Sprintf("%s-%d", p.Name, from/CohortRows+1)
		}
		out = append(out, p)
	}
	return out
}

// forestOf are the rows.
func forestOf(d *reports.Proficiency, definition string) forest {
	f := forest{horizon: d.Horizon}
	for k, arm := range d.Arms {
		for _, r := range d.OfTrainees() {
			if r.Arm != arm || r.Definition != definition {
				continue
			}
			f.rows = append(f.rows, forestRow{
				label: r.Trainee, estimate: float64(r.Estimate), lower: float64(r.Lower), upper: float64(r.Upper),
				made: float64(r.Attempts), color: armColor(k), away: r.Status == string(proficiency.MovingAway),
			})
		}
	}
	return f
}

// picture draws the rows.
func (f forest) picture(d *reports.Proficiency, definition string, width float64) Picture {
	p := newPlot("", "attempts", "", 8)
	p.Add(plotter.NewGrid())
	p.Add(f)
	p.Y.Tick.Marker = f.labels()
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, d.Horizon, -0.7, float64(len(f.rows))-0.3
	height := 34 + 11*float64(len(f.rows))
	what := fmt.Sprintf("Attempts to proficiency (%s), one row a trainee", reports.Spoken(definition))
	return Picture{Name: definition, Legend: what, Finding: forestWords(d, definition), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		drawn(draw.Crop(dc, 0, -vg.Points(8), 0, 0), p)
	}}
}

// forestWords count what became of the trainees.
func forestWords(d *reports.Proficiency, definition string) string {
	status, n := map[string]int{}, 0
	for _, r := range d.OfTrainees() {
		if r.Definition == definition {
			status[r.Status]++
			n++
		}
	}
	text := fmt.Sprintf("Attempts to proficiency (%s) of %s", reports.Spoken(definition), reports.Count(n, "trainee"))
	for _, k := range []struct{ status, words string }{
		{"reached", "reached the standard"}, {"projected", "are expected to within the horizon"}, {"beyond-horizon", "not within the horizon"},
		{"moving-away", "move away from it"}, {"too-early", "too early to tell"},
	} {
		if c := status[k.status]; c > 0 {
			text += fmt.Sprintf("; %d %s", c, k.words)
		}
	}
	return text + "."
}
