package figure

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/study"
	"tyro/reports"
)

// Sizes of a chart on the page, in points.
const (
	monitorWidth  = 460.0
	monitorHeight = 190.0
	monitorMargin = 8.0
	monitorLine   = 10.5 // between lines of the caption
)

// picturesOfMonitor are every chart, and the cohort.
func picturesOfMonitor(d *reports.Monitor) []Picture {
	out := cohortPictures(d, monitorWidth, true)
	if len(d.Charts) > reports.FigureLimit {
		return out
	}
	for i, name := range chartNames(d) {
		out = append(out, figure(d, i).named("monitor-"+d.Chart+"-"+name, ""))
	}
	return out
}

// chartNames are parts of file names of the trainees who have a chart.
func chartNames(d *reports.Monitor) []string {
	ids := make([]string, len(d.Charts))
	for i := range d.Charts {
		ids[i] = d.Charts[i].Trainee
	}
	return fileNames(ids)
}

// chartPicture is one trainee's chart alone.
func chartPicture(d *reports.Monitor, i int, width, height float64) Picture {
	c := d.Charts[i]
	p := chartPlot(d, c)
	what := fmt.Sprintf("%s of %s. %s", plotTitle(d), reports.SeriesName(c.Trainee), d.Sentence(c))
	return Picture{Legend: what, Width: width, Height: height, Draw: func(dc draw.Canvas) { drawn(dc, p) }}
}

// figure is one trainee's chart with its caption and the settings it hangs on.
func figure(d *reports.Monitor, i int) Picture {
	c := d.Charts[i]
	p := chartPlot(d, c)
	lines := captionLines(d, c)
	rows := settingRows(d, c)
	height := monitorHeight + monitorLine*float64(len(lines)+len(rows)+2) + 3*monitorMargin
	what := fmt.Sprintf("%s chart of %s. %s", d.Chart, reports.SeriesName(c.Trainee), d.Sentence(c))
	return Picture{Legend: what, Width: monitorWidth, Height: height, Draw: func(dc draw.Canvas) {
		body := draw.Crop(dc, vg.Points(monitorMargin), -vg.Points(monitorMargin), 0, -vg.Points(monitorMargin))
		top := body.Max.Y
		drawn(draw.Crop(body, 0, 0, top-vg.Points(monitorHeight)-body.Min.Y, 0), p)
		y := top - vg.Points(monitorHeight+monitorMargin+monitorLine)
		for k, l := range lines {
			writeText(body, l, 0, y, 8, k == 0)
			y -= vg.Points(monitorLine)
		}
		y -= vg.Points(monitorLine * 0.6)
		for _, row := range rows {
			for j, cell := range row {
				writeText(body, cell, settingColumns[j], y, 7.5, false)
			}
			y -= vg.Points(monitorLine)
		}
	}}
}

// standalone names a font on the figure itself, which the page does when it is
// part of one.
func standalone(s string) string {
	return strings.Replace(s, `role="img"`, `font-family="Liberation Sans, Arial, Helvetica, sans-serif" role="img"`, 1)
}

func writeText(c draw.Canvas, s string, x float64, y vg.Length, size float64, strong bool) {
	style := text.Style{Color: ink, Font: sans(vg.Points(size)), Handler: plot.DefaultTextHandler, XAlign: draw.XLeft, YAlign: draw.YBottom}
	if !strong {
		style.Color = softInk
	}
	c.FillText(style, vg.Point{X: c.Min.X + vg.Points(x), Y: y}, s)
}

var softInk = pale(ink, 0.82)

func captionLines(d *reports.Monitor, c reports.TraineeChart) []string {
	var out []string
	for k, s := range []string{d.Sentence(c), d.Meaning() + " " + d.ErrorRates(), reports.NotThePeak + " Crosses below: failed attempts.", reports.Caution} {
		width := 112
		if k == 0 {
			width = 104
		}
		for l := range strings.SplitSeq(strings.TrimRight(reports.Wrap(s, width), "\n"), "\n") {
			out = append(out, strings.TrimSpace(l))
		}
	}
	return out
}

// settingColumns are where the columns under a chart start, in points.
var settingColumns = []float64{0, 75, 160, 205, 310}

// settingRows is the sensitivity table of one trainee.
func settingRows(d *reports.Monitor, c reports.TraineeChart) [][]string {
	n := d.Answer.Options.Within
	rows := [][]string{{"acceptable", "unacceptable", "h", fmt.Sprintf("false by %d attempts", n), "signals for this trainee at"}}
	if d.Chart == study.ChartSequential {
		rows[0][2], rows[0][3] = "", fmt.Sprintf("decided by %d", n)
	}
	for k, s := range c.Settings {
		all := d.Sensitivity[k]
		share := float64(all.WithinAcceptable)
		if d.Chart == study.ChartLearning {
			share = float64(all.WithinUnacceptable)
		}
		at := reports.NoneOr(float64(s.SignalAttempt))
		if at != "none" {
			at = "attempt " + at
		}
		h := reports.ThreeDigits(float64(s.H))
		if d.Chart == study.ChartSequential {
			h = ""
		}
		if k == 0 {
			at += "  (as charted)"
		}
		rows = append(rows, []string{reports.RateText(float64(s.Acceptable)), reports.RateText(float64(s.Unacceptable)), h, reports.ShareText(share), at})
	}
	return rows
}

// plot draws the values with the limit, failures along the bottom and signals.
func chartPlot(d *reports.Monitor, c reports.TraineeChart) *plot.Plot {
	p := newPlot(strings.TrimSpace(plotTitle(d)+"  "+reports.SeriesName(c.Trainee)), "attempt", axis(d), 8)
	lines, limits := limitLines(d)
	low, high := 0.0, 0.0
	for _, v := range limits {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	first, last := 1.0, 10.0
	if n := len(c.Points); n > 0 {
		first, last = float64(c.Points[0].Attempt), math.Max(float64(c.Points[0].Attempt)+9, float64(c.Points[n-1].Attempt))
	}
	for _, v := range c.Points {
		low, high = math.Min(low, float64(v.Value)), math.Max(high, float64(v.Value))
	}
	if high == low {
		high = 1
	}
	span := high - low
	p.Y.Min, p.Y.Max = low-0.10*span, high+0.10*span
	p.X.Min, p.X.Max = first-1, last+0.02*(last-first)+1
	for k, v := range limits {
		p.Add(line(plotter.XYs{{X: p.X.Min, Y: v}, {X: p.X.Max, Y: v}}, faint, 0.7, lines[k]...))
	}
	addPath(d, p, c)
	labelLimits(d, p, limits)
	p.Y.Min, p.Y.Max = low-0.10*span, high+0.10*span
	p.X.Min, p.X.Max = first-1, last+0.02*(last-first)+1
	return p
}

// labelLimits writes on the limits, at the left, where charts have just begun.
func labelLimits(d *reports.Monitor, p *plot.Plot, limits []float64) {
	names := []string{"signal at " + reports.ShortNumber(limits[0], 3)}
	switch {
	case d.Chart == study.ChartSequential:
		names = []string{"acceptable at " + reports.ShortNumber(limits[0], 3), "unacceptable at " + reports.ShortNumber(limits[1], 3)}
	case d.Chart == study.ChartEWMA && !d.Answer.Options.OnMeasure:
		names = []string{"signal at " + reports.RateText(limits[0]), "acceptable, " + reports.RateText(limits[1])}
	}
	style := text.Style{Color: softInk, Font: sans(7), Handler: plot.DefaultTextHandler, XAlign: draw.XLeft, YAlign: draw.YBottom}
	x := 0.01
	if d.Chart == study.ChartSequential { // a test often ends early
		x, style.XAlign = 0.99, draw.XRight
	}
	for k, name := range names {
		at := plotter.XYs{{X: p.X.Min + x*(p.X.Max-p.X.Min), Y: limits[k]}}
		p.Add(&plotter.Labels{XYs: at, Labels: []string{name}, TextStyle: []text.Style{style}, Offset: vg.Point{Y: vg.Points(1.5)}})
	}
}

// addPath draws the pieces between restarts, and the marks.
func addPath(d *reports.Monitor, p *plot.Plot, c reports.TraineeChart) {
	var piece, hits, misses plotter.XYs
	flush := func() {
		if len(piece) > 0 {
			p.Add(line(piece, armColor(0), 1.2))
		}
		piece = nil
	}
	before := false // a signal stood after the attempt before
	for _, v := range c.Points {
		xy := plotter.XY{X: float64(v.Attempt), Y: float64(v.Value)}
		if v.Restart {
			flush()
		}
		piece = append(piece, xy)
		if v.Signal && (!before || v.Restart) && (hits == nil || d.Chart != study.ChartLearning) {
			hits = append(hits, xy)
		}
		before = v.Signal
		if v.Outcome == 1 {
			misses = append(misses, plotter.XY{X: xy.X, Y: p.Y.Min + 0.04*(p.Y.Max-p.Y.Min)})
		}
	}
	flush()
	if misses != nil {
		p.Add(points(misses, alarm, 1.8, draw.CrossGlyph{}))
	}
	if hits != nil {
		colour := alarm
		if d.Chart == study.ChartLearning || c.Decision == "acceptable" {
			colour = armColor(0)
		}
		p.Add(points(hits, colour, 3.2, draw.CircleGlyph{}))
	}
}

func plotTitle(d *reports.Monitor) string {
	return map[string]string{
		study.ChartLearning: "Learning chart", study.ChartRelapse: "Relapse chart", study.ChartSequential: "Sequential test",
		study.ChartObserved: "Observed less expected failures", study.ChartEWMA: "Recent failure rate", study.ChartProjected: "Against the projection",
	}[d.Chart]
}

func axis(d *reports.Monitor) string {
	switch {
	case d.Answer.Options.OnMeasure && d.Chart == study.ChartEWMA:
		return "mean, SD above acceptable"
	case d.Answer.Options.OnMeasure:
		return "sum, standard deviations"
	case d.Chart == study.ChartEWMA:
		return "weighted failure rate"
	case d.Chart == study.ChartObserved:
		return "failures above expected"
	}
	return "sum of log likelihood ratios"
}

// limitLines are the levels drawn across a chart: limits dashed, the barrier or
// target whole.
func limitLines(d *reports.Monitor) (dashes [][]vg.Length, at []float64) {
	dash := []vg.Length{vg.Points(4), vg.Points(2)}
	o := d.Answer.Options
	switch d.Chart {
	case study.ChartSequential:
		return [][]vg.Length{dash, dash, nil}, []float64{float64(d.Design.Lower), float64(d.Design.Upper), 0}
	case study.ChartEWMA:
		target := 0.0
		if !o.OnMeasure {
			target = o.Rates.Acceptable
		}
		return [][]vg.Length{dash, nil}, []float64{d.Answer.Design.Limit, target}
	}
	return [][]vg.Length{dash, nil}, []float64{d.Answer.Design.Limit, 0}
}
