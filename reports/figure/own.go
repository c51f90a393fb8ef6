package figure

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// The size of a trainee's own picture, in points: a phone's width.
const (
	ownWidth  = 358.0
	ownHeight = 280.0
	ownText   = 16.0
)

// OwnPlot shows one trainee their own attempts and the goal, in letters for a phone. Its
// frame comes from these attempts alone, so that it tells nothing of others.
func OwnPlot(st *study.Study, t practice.Trainee, words string) (string, error) {
	frame := extentOf(st, []practice.Trainee{t})
	p := newPlot("", "attempt", ResponseLabel(st.Task), ownText)
	p.X.Label.TextStyle.Font, p.Y.Label.TextStyle.Font = sans(ownText), sans(ownText)
	p.X.Tick.Label.Font, p.Y.Tick.Label.Font = sans(ownText), sans(ownText)
	if st.Task.Measure != practice.PassFail {
		addStandard(p, st.Question.Standard.Value, frame.maxX+1)
	}
	m := sortAttempts(t, func(a practice.Attempt) bool { return a.Passes(st.Question.Standard) }, frame.minY+0.04*(frame.maxY-frame.minY))
	if m.missed != nil {
		p.Add(points(m.missed, ink, 3.2, boldGlyph{ring: true}))
	}
	if m.passed != nil {
		p.Add(points(m.passed, armColor(0), 3.6, draw.CircleGlyph{}))
	}
	if m.timeouts != nil {
		p.Add(points(m.timeouts, ink, 3.6, draw.TriangleGlyph{}))
	}
	if m.hard != nil {
		p.Add(points(m.hard, alarm, 3.4, boldGlyph{}))
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	return svg(ownWidth, ownHeight, words, func(dc draw.Canvas) {
		drawn(draw.Crop(dc, 0, -vg.Points(6), vg.Points(2), -vg.Points(8)), p)
	})
}

// OwnWords say what a trainee's picture shows.
func OwnWords(st *study.Study, t practice.Trainee) string {
	first, last := math.NaN(), math.NaN()
	passes, counted := 0, t.Counted()
	for _, a := range counted {
		if a.Passes(st.Question.Standard) {
			passes++
		}
		if a.Measured() && !a.Censored {
			if math.IsNaN(first) {
				first = a.Response
			}
			last = a.Response
		}
	}
	text := fmt.Sprintf("Your %d attempts, one mark each; %d passed.", len(counted), passes)
	if !math.IsNaN(first) && st.Task.Measure != practice.PassFail {
		text += " " + strings.TrimSpace(fmt.Sprintf("The first one finished was at %g, the last at %g %s", first, last, st.Task.Unit)) + "."
	}
	return text
}

// A boldGlyph is a ring or a cross with a pen that can be seen on a phone.
type boldGlyph struct{ ring bool }

// DrawGlyph implements draw.GlyphDrawer.
func (g boldGlyph) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.SetColor(s.Color)
	c.SetLineWidth(vg.Points(1.5))
	c.SetLineDash(nil, 0)
	r := s.Radius
	if g.ring {
		var p vg.Path
		p.Move(vg.Point{X: at.X + r, Y: at.Y})
		p.Arc(at, r, 0, 2*math.Pi)
		p.Close()
		c.Stroke(p)
		return
	}
	for _, side := range []vg.Length{1, -1} {
		c.StrokeLine2(draw.LineStyle{Color: s.Color, Width: vg.Points(1.8)}, at.X-r, at.Y-side*r, at.X+r, at.Y+side*r)
	}
}
