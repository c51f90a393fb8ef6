package reports

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

const (
	cohortRows = 50   // trainees on a page
	cohortRow  = 11.0 // points a trainee
)

// cohortPlots draws everyone's attempts as rows, some trainees a page.
func (d *Monitor) cohortPlots() ([]string, error) {
	var out []string
	for from := 0; from < len(d.Cohort); from += cohortRows {
		to := min(from+cohortRows, len(d.Cohort))
		s, err := d.cohortPage(from, to, d.cohortCaption(from, to))
		if err != nil {
			return nil, err
		}
		out = append(out, standalone(s))
	}
	return out, nil
}

// cohortPage shows a trainee a row: a tick for each failed attempt, a dot for
// each pass, a ring where the learning chart signalled, a bar where the trainee
// passed and a filled mark where the relapse chart raised a flag, with the lines
// of a caption below.
func (d *Monitor) cohortPage(from, to int, lines []string) (string, error) {
	last, n := 2.0, to-from
	for _, r := range d.records[from:to] {
		last = math.Max(last, r.attempt[len(r.attempt)-1])
	}
	p := newPlot("", "attempt", "", 8)
	p.Title.Text = "Everyone's attempts"
	var ticks []plot.Tick
	var pass, fail, shown, passed, flags plotter.XYs
	for k := range n {
		r, c := d.records[from+k], d.Cohort[from+k]
		y := float64(n - k)
		ticks = append(ticks, plot.Tick{Value: y, Label: shortName(seriesName(r.id))})
		for j, a := range r.attempt {
			if r.failed[j] {
				fail = append(fail, plotter.XY{X: a, Y: y})
			} else {
				pass = append(pass, plotter.XY{X: a, Y: y})
			}
		}
		mark := func(into *plotter.XYs, at Number) {
			if v := float64(at); !math.IsNaN(v) {
				*into = append(*into, plotter.XY{X: v, Y: y})
			}
		}
		mark(&shown, c.ShownAttempt)
		mark(&passed, c.PassedAttempt)
		mark(&flags, c.RelapseAttempt)
	}
	p.Y.Tick.Marker = plot.ConstantTicks(ticks)
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	var key []keyEntry
	add := func(name string, xy plotter.XYs, s *plotter.Scatter) {
		if xy == nil {
			return
		}
		p.Add(s)
		key = append(key, keyEntry{name, s.GlyphStyle})
	}
	add("pass", pass, points(pass, faint, 0.9, draw.CircleGlyph{}))
	add("failed", fail, points(fail, alarm, 1.9, draw.CrossGlyph{}))
	add("adequate performance shown", shown, points(shown, armColor(0), 3.4, draw.RingGlyph{}))
	if d.options.After != "start" && d.options.After != "signal" {
		add("passed", passed, points(passed, armColor(0), 2.6, draw.SquareGlyph{}))
	}
	add("relapse flag", flags, points(flags, alarm, 3.4, draw.PyramidGlyph{}))
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, last+1, 0.3, float64(n)+0.7
	plotHeight := cohortRow*float64(n) + 52
	legendHeight := 14.0
	height := plotHeight + legendHeight + 2*monitorMargin
	if len(lines) > 0 {
		height += monitorLine * float64(len(lines)+1)
	}
	return svg(monitorWidth, height, "Everyone's attempts. "+d.cohortSentence(), func(dc draw.Canvas) {
		body := draw.Crop(dc, vg.Points(monitorMargin), -vg.Points(monitorMargin), 0, -vg.Points(monitorMargin))
		top := body.Max.Y
		p.Draw(draw.Crop(body, 0, 0, top-vg.Points(plotHeight)-body.Min.Y, 0))
		drawKey(body, key, top-vg.Points(plotHeight+legendHeight))
		y := top - vg.Points(plotHeight+legendHeight+monitorLine+monitorMargin)
		for k, l := range lines {
			writeText(body, l, 0, y, 8, k == 0)
			y -= vg.Points(monitorLine)
		}
	})
}

// A keyEntry says what a mark means.
type keyEntry struct {
	name  string
	glyph draw.GlyphStyle
}

// drawKey writes the meaning of the marks in a row.
func drawKey(c draw.Canvas, key []keyEntry, y vg.Length) {
	x := 0.0
	for _, k := range key {
		c.DrawGlyph(k.glyph, vg.Point{X: c.Min.X + vg.Points(x+4), Y: y + vg.Points(3)})
		writeText(c, k.name, x+11, y, 8, false)
		x += 11 + 4.7*float64(utf8.RuneCountInString(k.name)) + 14
	}
}

// shortName cuts long trainee codes.
func shortName(s string) string {
	if r := []rune(s); len(r) > 14 {
		return string(r[:13]) + "…"
	}
	return s
}

// cohortCaption is what stands below a page of the cohort's figure, in lines.
func (d *Monitor) cohortCaption(from, to int) []string {
	var out []string
	for _, s := range []string{d.cohortSentence(), d.cohortMarks(), d.flagSentence(from, to), Caution} {
		for l := range strings.SplitSeq(strings.TrimRight(wrap(s, 112), "\n"), "\n") {
			out = append(out, strings.TrimSpace(l))
		}
	}
	return out
}

// cohortMarks says what the marks of the cohort's figure mean.
func (d *Monitor) cohortMarks() string {
	o := d.options
	return fmt.Sprintf("Ring: the learning chart (%s against %s failures, h %s) first signals. %s Flag: the relapse chart (h %s) signals after that. A flag asks a named person to look; it decides nothing.",
		rateText(o.Rates.Acceptable), rateText(o.Rates.Unacceptable), shortNumber(float64(d.Design.LearningH), 4), capital(d.passText()), shortNumber(float64(d.Design.RelapseH), 4))
}

// mostNamed is how many trainees a sentence names.
const mostNamed = 12

// flagSentence lists the relapse flags among some trainees with their places.
func (d *Monitor) flagSentence(from, to int) string {
	var flags []string
	for i := from; i < to; i++ {
		if c := d.Cohort[i]; c.Status == "flagged" {
			flags = append(flags, seriesName(c.Trainee)+" at "+placeText(float64(c.RelapseAttempt), c.RelapseSession, c.RelapseDate))
		}
	}
	if len(flags) == 0 {
		return "No relapse flag is up."
	}
	return "Relapse flags: " + listed(flags) + "."
}

// shownSentence lists the learning signals among everyone with their places.
func (d *Monitor) shownSentence() string {
	var shown []string
	for _, c := range d.Cohort {
		if !math.IsNaN(float64(c.ShownAttempt)) {
			shown = append(shown, seriesName(c.Trainee)+" at "+placeText(float64(c.ShownAttempt), c.ShownSession, c.ShownDate))
		}
	}
	if len(shown) == 0 {
		return "Nobody has shown adequate performance on the learning chart yet."
	}
	return "Adequate performance shown: " + listed(shown) + "."
}

// listed joins the first few of a list and counts the others.
func listed(items []string) string {
	if more := len(items) - mostNamed; more > 0 {
		return fmt.Sprintf("%s; and %d more", strings.Join(items[:mostNamed], "; "), more)
	}
	return strings.Join(items, "; ")
}
