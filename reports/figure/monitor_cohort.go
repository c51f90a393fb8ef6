package figure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/study"
	"tyro/reports"
)

// The rows of the cohort's figure.
const (
	CohortRows = 50   // trainees on a page
	cohortRow  = 11.0 // points a trainee
)

// cohortPictures draw everyone's attempts as rows, some trainees a page.
func cohortPictures(d *reports.Monitor, width float64, captions bool) []Picture {
	var out []Picture
	for from := 0; from < len(d.Cohort); from += CohortRows {
		to := min(from+CohortRows, len(d.Cohort))
		var lines []string
		if captions {
			lines = cohortCaption(d, from, to)
		}
		name := "monitor-cohort"
		if len(d.Cohort) > CohortRows {
			name = fmt.Sprintf("monitor-cohort-%d", from/CohortRows+1)
		}
		out = append(out, cohortPicture(d, from, to, lines, width).named(name, ""))
	}
	return out
}

// CohortPage shows a trainee a row: a tick for each failed attempt, a dot for
// each pass, a ring where the learning chart signalled, a bar where the trainee
// passed and a filled mark where the relapse chart raised a flag.
func CohortPage(d *reports.Monitor, from, to int, width float64) Picture {
	return cohortPicture(d, from, to, nil, width)
}

func cohortPicture(d *reports.Monitor, from, to int, lines []string, width float64) Picture {
	last, n := 2.0, to-from
	rows := slices.DeleteFunc(slices.Clone(d.Answer.Watched), func(t study.Watched) bool { return !d.ShowsTrainee(t.ID) })[from:to]
	for _, t := range rows {
		last = math.Max(last, t.Attempts[len(t.Attempts)-1].Number)
	}
	p := newPlot("", "attempt", "", 8)
	p.Title.Text = "Everyone's attempts"
	var ticks []plot.Tick
	var pass, fail, shown, passed, flags plotter.XYs
	for k := range n {
		t, c := rows[k], d.Cohort[from+k]
		y := float64(n - k)
		ticks = append(ticks, plot.Tick{Value: y, Label: shortName(reports.SeriesName(t.ID))})
		for j, a := range t.Attempts {
			if t.Failed[j] {
				fail = append(fail, plotter.XY{X: a.Number, Y: y})
			} else {
				pass = append(pass, plotter.XY{X: a.Number, Y: y})
			}
		}
		mark := func(into *plotter.XYs, at reports.Number) {
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
	if after := d.Answer.Options.After; after != study.AfterStart && after != study.AfterSignal {
		add("passed", passed, points(passed, armColor(0), 2.6, draw.SquareGlyph{}))
	}
	add("relapse flag", flags, points(flags, alarm, 3.4, draw.PyramidGlyph{}))
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, last+1, 0.3, float64(n)+0.7
	plotHeight := cohortRow*float64(n) + 52
	legendHeight := 14.0 * float64(len(keyRows(key, width-2*monitorMargin)))
	height := plotHeight + legendHeight + 2*monitorMargin
	if len(lines) > 0 {
		height += monitorLine * float64(len(lines)+1)
	}
	return Picture{Legend: "Everyone's attempts. " + d.CohortSentence(), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		body := draw.Crop(dc, vg.Points(monitorMargin), -vg.Points(monitorMargin), 0, -vg.Points(monitorMargin))
		top := body.Max.Y
		drawn(draw.Crop(body, 0, 0, top-vg.Points(plotHeight)-body.Min.Y, 0), p)
		drawKey(body, key, top-vg.Points(plotHeight+legendHeight))
		y := top - vg.Points(plotHeight+legendHeight+monitorLine+monitorMargin)
		for k, l := range lines {
			writeText(body, l, 0, y, 8, k == 0)
			y -= vg.Points(monitorLine)
		}
	}}
}

// A keyEntry says what a mark means.
type keyEntry struct {
	name  string
	glyph draw.GlyphStyle
}

// keyWidth is the room that an entry takes, in points.
func (k keyEntry) keyWidth() float64 { return 11 + 4.7*float64(utf8.RuneCountInString(k.name)) + 10 }

// keyRows puts entries into rows of a width, in points.
func keyRows(key []keyEntry, width float64) [][]keyEntry {
	var out [][]keyEntry
	x := math.Inf(1)
	for _, k := range key {
		if x+k.keyWidth() > width {
			out, x = append(out, nil), 0
		}
		out[len(out)-1] = append(out[len(out)-1], k)
		x += k.keyWidth()
	}
	return out
}

// drawKey writes the meaning of the marks in rows, the last one at a height.
func drawKey(c draw.Canvas, key []keyEntry, y vg.Length) {
	rows := keyRows(key, (c.Max.X - c.Min.X).Points())
	for i, row := range rows {
		x, up := 0.0, y+vg.Points(14*float64(len(rows)-1-i))
		for _, k := range row {
			c.DrawGlyph(k.glyph, vg.Point{X: c.Min.X + vg.Points(x+4), Y: up + vg.Points(3)})
			writeText(c, k.name, x+11, up, 8, false)
			x += k.keyWidth()
		}
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
func cohortCaption(d *reports.Monitor, from, to int) []string {
	var out []string
	for _, s := range []string{d.CohortSentence(), CohortMarks(d), d.FlagSentence(from, to), reports.Caution} {
		for l := range strings.SplitSeq(strings.TrimRight(reports.Wrap(s, 112), "\n"), "\n") {
			out = append(out, strings.TrimSpace(l))
		}
	}
	return out
}

// CohortMarks says what the marks of the cohort's figure mean.
func CohortMarks(d *reports.Monitor) string {
	o := d.Answer.Options
	return fmt.Sprintf("Ring: the learning chart (%s against %s failures, h %s) first signals. %s Flag: the relapse chart (h %s) signals from then on. A flag asks a named person to look; it decides nothing.",
		reports.RateText(o.Rates.Acceptable), reports.RateText(o.Rates.Unacceptable), reports.ShortNumber(float64(d.Design.LearningH), 4), reports.Capital(d.PassText()), reports.ShortNumber(float64(d.Design.RelapseH), 4))
}
