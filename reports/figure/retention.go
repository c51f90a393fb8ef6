package figure

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// Calendar shows the mean of every attempt of every session in its place: sessions
// side by side, each as wide as its attempts, with the days between them as gaps in the
// line, and the curve over the calendar where there is one; none without sessions.
func Calendar(d *reports.Retention, width, height float64) Picture {
	if len(d.Calendar) == 0 {
		return Picture{}
	}
	across := "attempts of every session in order; above: the session's day"
	if width < roomBeside {
		across = "attempts in order; above: the session's day"
	}
	p := newPlot("", across, "level", 8)
	p.Add(plotter.NewGrid())
	place, session := 0.0, 0
	var places unwritten
	var now, curve plotter.XYs
	top := math.Inf(-1)
	var heads plotter.XYLabels
	flush := func() {
		switch {
		case len(curve) > 0:
			p.Add(line(curve, armColor(1), 1.4), points(now, armColor(0), 1.8, draw.CircleGlyph{}))
		case len(now) > 0:
			p.Add(line(now, armColor(0), 1.4), points(now, armColor(0), 1.8, draw.CircleGlyph{}))
		}
		now, curve = nil, nil
	}
	for _, c := range d.Calendar {
		if math.IsNaN(float64(c.Lower)) {
			continue
		}
		if c.Session != session {
			flush()
			place, session = place+2, c.Session
			label := "?"
			if !math.IsNaN(float64(c.Day)) {
				label = fmt.Sprintf("%g", float64(c.Day))
			}
			heads.XYs, heads.Labels = append(heads.XYs, plotter.XY{X: place + 1}), append(heads.Labels, label)
		}
		place++
		places = append(places, plot.Tick{Value: place, Label: fmt.Sprintf("session %d, attempt %d", c.Session, c.Attempt)})
		p.Add(line(plotter.XYs{{X: place, Y: float64(c.Lower)}, {X: place, Y: float64(c.Upper)}}, faint, 0.8))
		now = append(now, plotter.XY{X: place, Y: float64(c.Value)})
		if v := float64(c.Expected); !math.IsNaN(v) {
			curve = append(curve, plotter.XY{X: place, Y: v})
		}
		top = math.Max(top, float64(c.Upper))
	}
	flush()
	for i := range heads.XYs {
		heads.XYs[i].Y = top
	}
	if labels, err := plotter.NewLabels(heads); err == nil {
		for i := range labels.TextStyle {
			labels.TextStyle[i].Font, labels.TextStyle[i].Color = sans(8), ink
		}
		p.Add(labels)
	}
	p.X.Tick.Length, p.X.Tick.Marker = 0, places
	legend := "Mean of every attempt of every session, by day"
	if len(d.Course) > 0 {
		legend += "; line: one curve over the calendar, learning within sessions and loss between them"
	}
	return Picture{Name: "retention-calendar", Legend: legend, Finding: calendarWords(d), Width: width, Height: height, Draw: func(dc draw.Canvas) { drawnAs(dc, p, "", "level") }}
}

// calendarWords say what breaks took.
func calendarWords(d *reports.Retention) string {
	text := "Mean level of every attempt of every session, by day"
	for _, g := range d.Gaps {
		if g.Arm == "" && !math.IsNaN(float64(g.Loss)) {
			text += fmt.Sprintf("; after %s the first attempt lost %s", reports.DaysText(g.GapDays), reports.LossText(d.Scale, g.Loss))
		}
	}
	return text + "."
}
