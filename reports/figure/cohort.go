package figure

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/cohort"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
)

// Sizes of the cohort's figures, in points.
const (
	cohortPanelWidth  = 240.0
	cohortPanelHeight = 190.0
	forecastWidth     = 128.0
	forecastHeight    = 100.0
	forecastsPerRow   = 4
	forecastRows      = 6 // a sheet of paper has an end
	leastForecast     = 110.0
)

// tablesOfCohort are those with many rows a trainee: projected attempts, how the
// projection moved, and the points behind the checks.
func tablesOfCohort(d *reports.Cohort) []reports.Table {
	tables := []reports.Table{d.ForecastTable()}
	if d.Rule != "" {
		tables = append(tables, d.MovesTable())
	}
	if d.Checks != nil {
		tables = append(tables, d.CheckTables()...)
	}
	return tables
}

// Cohort draws the group and individual curves, how far each trainee is drawn to the
// cohort, the projections and, with a standard, the shares proficient.
func Cohort(d *reports.Cohort) []Picture { return picturesOfCohort(d, math.Inf(1)) }

// A panel is one plot of a picture, with what can be read off it and names for axes that
// have none written beside them.
type panel struct {
	*plot.Plot
	finding string
	x, y    string
}

// draw draws the panel.
func (p panel) draw(c draw.Canvas) {
	drawnAs(c, p.Plot, cmp.Or(p.X.Label.Text, p.x), cmp.Or(p.Y.Label.Text, p.y))
}

// panelled is a picture of panels of one size, side by side as far as the width allows.
func panelled(name, legend string, panels []panel, width, height, most float64) Picture {
	n := len(panels)
	across := min(n, max(1, int(most/width+0.05)))
	if math.IsInf(most, 1) {
		across = n
	}
	down := (n + across - 1) / across
	out := Picture{Name: name, Legend: legend, Width: width * float64(across), Height: height * float64(down), Draw: func(c draw.Canvas) {
		eachPanel(c, n, across, func(i int, c draw.Canvas) { panels[i].draw(c) })
	}}
	for _, p := range panels {
		out.Finding = strings.TrimSpace(out.Finding + " " + p.finding)
		out.Panels = append(out.Panels, Picture{Legend: legend, Finding: p.finding, Width: width, Height: height, Draw: func(c draw.Canvas) {
			p.draw(draw.Crop(c, vg.Points(3), -vg.Points(3), vg.Points(3), -vg.Points(3)))
		}})
	}
	return out
}

// picturesOfCohort are the figures, none wider than most points where its panels can be
// put below each other.
func picturesOfCohort(d *reports.Cohort, most float64) []Picture {
	var arms []panel
	for i, arm := range d.Arms {
		if d.ShowsArm(arm) {
			arms = append(arms, armCurves(d, i))
		}
	}
	out := []Picture{panelled("cohort-curves", "Curves of all trainees with the curve of the middle trainee, by arm", arms, cohortPanelWidth, cohortPanelHeight, most)}
	if plots := shrinkagePlots(d); len(plots) > 0 {
		out = append(out, panelled("cohort-shrinkage", "Each trainee's parameters from their own attempts alone and with the cohort", plots, 0.8*cohortPanelWidth, cohortPanelHeight, most))
	}
	if len(d.Population) > 0 {
		var shares []panel
		for _, definition := range study.CohortDefinitions()[:2] {
			shares = append(shares, sharePlot(d, definition))
		}
		out = append(out, panelled("cohort-population", "Share of new trainees proficient by attempt", shares, cohortPanelWidth, cohortPanelHeight, most))
	}
	if len(d.Trainees) > reports.FigureLimit {
		return out
	}
	across, wide := forecastsPerRow, forecastWidth
	if most < forecastWidth*forecastsPerRow {
		across = max(1, min(forecastsPerRow, int(most/leastForecast)))
		wide = most / float64(across)
	}
	onPage := across * forecastRows
	pages := func(name, legend string, n int, one func(i int) panel) {
		for from := 0; from < n; from += onPage {
			here := min(onPage, n-from)
			file := name
			if n > onPage {
				file = fmt.Sprintf("%s-%d", name, from/onPage+1)
			}
			var panels []panel
			for i := range here {
				panels = append(panels, one(from+i))
			}
			out = append(out, panelled(file, legend, panels, wide, forecastHeight, wide*float64(across)).found(""))
		}
	}
	pages("cohort-projections", "Attempts so far and projected, by trainee", len(d.Trainees), func(i int) panel { return forecastPlot(d, i) })
	shown := moved(d)
	pages("cohort-moves", "How the projection of each trainee moved as attempts arrived", len(shown), func(i int) panel { return movesPlot(d, shown[i]) })
	return out
}

// eachPanel cuts a canvas into n panels, perRow in a row.
func eachPanel(c draw.Canvas, n, perRow int, paint func(i int, c draw.Canvas)) {
	rows := (n + perRow - 1) / perRow
	w, h := c.Max.X-c.Min.X, c.Max.Y-c.Min.Y
	pw, ph := w/vg.Length(perRow), h/vg.Length(rows)
	pad := vg.Points(4)
	for i := range n {
		x, y := vg.Length(i%perRow), vg.Length(rows-1-i/perRow)
		paint(i, draw.Crop(c, x*pw+pad, -(w-(x+1)*pw)-pad, y*ph+pad, -(h-(y+1)*ph)-pad))
	}
}

// armCurves shows an arm's individual curves, each to its last attempt, with
// the middle trainee's.
func armCurves(d *reports.Cohort, arm int) panel {
	name := d.Arms[arm]
	frame := ExtentOf(d.Study)
	title := reports.ArmName(name)
	if len(d.Arms) == 1 && name == "" {
		title = ""
	}
	p := newPlot(title, "attempt", ResponseLabel(d.Study.Task), 8)
	c := armColor(arm)
	last := 2.0
	start := math.Inf(1)
	for i, m := range d.Answer.Fit.Members {
		first, to := extent(d, i)
		start = math.Min(start, first)
		if m.Arm != name || !d.ShowsTrainee(m.ID) {
			continue
		}
		last = math.Max(last, to)
		var xy plotter.XYs
		for _, x := range grid(first, math.Max(to, first+1e-9)) {
			xy = append(xy, plotter.XY{X: x, Y: response(d, m.Curve.At(x))})
		}
		if xy = inside(xy, frame.minY, frame.maxY); len(xy) > 1 {
			p.Add(line(xy, pale(c, 0.4), 0.7))
		}
	}
	var xy plotter.XYs
	mid := d.Answer.Arms[arm].Middle
	for _, x := range grid(start, last) {
		xy = append(xy, plotter.XY{X: x, Y: response(d, mid.At(x))})
	}
	if xy = inside(xy, frame.minY, frame.maxY); len(xy) > 1 {
		p.Add(line(xy, c, 2.2))
	}
	addStandard(p, d.Study.Question.Standard.Value, frame.maxX+1)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, frame.maxX+1, frame.minY, frame.maxY
	finding := fmt.Sprintf("Middle trainee, %s: from %s at attempt %s to %s at attempt %s.", study.GroupName(name),
		reports.Significant(response(d, mid.At(start)), 3), reports.Significant(start, 3), reports.Significant(response(d, mid.At(last)), 3), reports.Significant(last, 3))
	return panel{Plot: p, finding: finding}
}

// response is a curve value as people read it: a chance or a mean count where
// the curve runs on another scale.
func response(d *reports.Cohort, m float64) float64 { return d.Study.Noise().Mean(m) }

// extent is the first and last measured attempt of a member.
func extent(d *reports.Cohort, i int) (first, last float64) {
	first, last = math.Inf(1), math.Inf(-1)
	for _, a := range d.Answer.Fit.People[i].Attempts {
		if a.Measured() {
			first, last = math.Min(first, a.Number), math.Max(last, a.Number)
		}
	}
	return first, last
}

// shrinkagePlots show, for every random parameter of the curve, each trainee's
// value from their own attempts alone (left) and with the cohort (right). Own
// values far outside, or on a bound, are cut at the frame; values that are not
// identified are left out.
func shrinkagePlots(d *reports.Cohort) []panel {
	var out []panel
	a := d.Answer
	for j, name := range a.Fit.Parameters {
		i := slices.IndexFunc(a.Random, func(r cohort.Deviation) bool { return r.Parameter == name && !r.None })
		if i < 0 {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, m := range a.Fit.Members {
			if v := m.Parameters[j]; !math.IsNaN(v) {
				lo, hi = math.Min(lo, v), math.Max(hi, v)
			}
		}
		if lo > hi {
			continue
		}
		room := math.Max(0.6*(hi-lo), 0.05*math.Abs(hi))
		lo, hi = lo-room, hi+room
		if a.Random[i].Scale == cohort.Log && lo < 0 {
			lo = 0
		}
		out = append(out, shrinkagePlot(d, j, lo, hi))
	}
	return out
}

// shrinkagePlot shows parameter j of all trainees between lo and hi.
func shrinkagePlot(d *reports.Cohort, j int, lo, hi float64) panel {
	a := d.Answer
	p := newPlot(a.Fit.Parameters[j], "", "", 8)
	for k, m := range a.Fit.Members {
		v := m.Parameters[j]
		if math.IsNaN(v) || !d.ShowsTrainee(m.ID) {
			continue
		}
		c := armColor(slices.Index(d.Arms, m.Arm))
		if a.Own != nil && !math.IsNaN(a.Own[k][j]) {
			own := a.Own[k][j]
			cut := math.Min(math.Max(own, lo), hi)
			p.Add(line(plotter.XYs{{X: 0, Y: cut}, {X: 1, Y: v}}, pale(c, 0.45), 0.6))
			if cut == own {
				p.Add(points(plotter.XYs{{X: 0, Y: own}}, c, 1.5, draw.RingGlyph{}))
			} else {
				p.Add(points(plotter.XYs{{X: 0, Y: cut}}, faint, 1.8, draw.TriangleGlyph{}))
			}
		}
		p.Add(points(plotter.XYs{{X: 1, Y: v}}, c, 1.6, draw.CircleGlyph{}))
	}
	p.X.Tick.Marker = plot.ConstantTicks{{Value: 0, Label: "own attempts alone"}, {Value: 1, Label: "with the cohort"}}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.35, 1.3, lo, hi
	return panel{Plot: p, finding: shrinkageWords(d, j), y: a.Fit.Parameters[j]}
}

// sharePlot shows the share of new trainees proficient, by arm.
func sharePlot(d *reports.Cohort, definition string) panel {
	p := newPlot(shareTitle(definition), "attempt", "share of new trainees proficient", 8)
	last := 2.0
	var lines []plot.Plotter // above the bands of all arms
	for _, s := range d.Population {
		if s.Definition != definition {
			continue
		}
		c := armColor(max(0, slices.Index(d.Arms, s.Arm)))
		var x, lower, upper []float64
		var xy plotter.XYs
		for _, r := range s.Rows {
			x, lower, upper = append(x, float64(r.Attempt)), append(lower, float64(r.Lower)), append(upper, float64(r.Upper))
			xy = append(xy, plotter.XY{X: float64(r.Attempt), Y: float64(r.Share)})
			if r.Share < 0.98*s.Rows[len(s.Rows)-1].Share {
				last = math.Max(last, float64(r.Attempt)*1.3)
			}
		}
		p.Add(band(x, lower, upper, color.NRGBA{c.R, c.G, c.B, 0x26}))
		l := line(xy, c, 1.6, armDashes(max(0, slices.Index(d.Arms, s.Arm)))...)
		lines = append(lines, l)
		if len(d.Arms) > 1 {
			p.Legend.Add(reports.ArmName(s.Arm), l)
		}
		last = math.Min(math.Max(last, 10), float64(len(s.Rows)))
	}
	p.Add(lines...)
	legendRight(p, 0.6*cohortPanelWidth, false)
	p.Legend.YOffs = vg.Points(4)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, last, 0, 1
	return panel{Plot: p, finding: shareWords(d, definition)}
}

// forecastPlot shows one trainee's attempts, their curve and the range of the
// attempts to come.
func forecastPlot(d *reports.Cohort, i int) panel {
	m := d.Trainees[i]
	i = slices.IndexFunc(d.Answer.Fit.Members, func(of cohort.Member) bool { return of.ID == m.Trainee })
	frame := ExtentOf(d.Study)
	p := newPlot(m.Trainee, "", "", 7)
	c := armColor(slices.Index(d.Arms, m.Arm))
	var x, lower, upper []float64
	var mid plotter.XYs
	maxX := frame.maxX
	for _, f := range m.Projection {
		clip := func(v reports.Number) float64 { return math.Min(math.Max(float64(v), frame.minY), frame.maxY) }
		x, lower, upper = append(x, float64(f.Attempt)), append(lower, clip(f.Lower)), append(upper, clip(f.Upper))
		mid = append(mid, plotter.XY{X: float64(f.Attempt), Y: clip(f.Expected)})
		maxX = math.Max(maxX, float64(f.Attempt))
	}
	if len(x) > 1 {
		p.Add(band(x, lower, upper, pale(c, 0.22)), line(mid, c, 1.2, vg.Points(2.5), vg.Points(1.5)))
	}
	var xy plotter.XYs
	first, last := extent(d, i)
	if last > first {
		for _, v := range grid(first, last) {
			xy = append(xy, plotter.XY{X: v, Y: response(d, d.Answer.Fit.Members[i].Curve.At(v))})
		}
		if xy = inside(xy, frame.minY, frame.maxY); len(xy) > 1 {
			p.Add(line(xy, c, 1.2))
		}
	}
	addStandard(p, d.Study.Question.Standard.Value, maxX+1)
	addAttempts(p, d.Answer.Fit.People[i], frame)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, maxX+1, frame.minY, frame.maxY
	return panel{Plot: p, x: "attempt", y: ResponseLabel(d.Study.Task)}
}

// shrinkageWords say how far trainees lie apart in a parameter, alone and together.
func shrinkageWords(d *reports.Cohort, j int) string {
	a := d.Answer
	alone, together := []float64{}, []float64{}
	for k, m := range a.Fit.Members {
		if a.Own != nil && !math.IsNaN(a.Own[k][j]) {
			alone = append(alone, a.Own[k][j])
		}
		if !math.IsNaN(m.Parameters[j]) {
			together = append(together, m.Parameters[j])
		}
	}
	text := reports.Capital(reports.Spoken(a.Fit.Parameters[j]))
	for _, v := range []struct {
		values []float64
		words  string
	}{{alone, "by own attempts alone"}, {together, "with the cohort"}} {
		if len(v.values) > 0 {
			text += fmt.Sprintf(", %s from %s to %s", v.words, reports.Significant(slices.Min(v.values), 3), reports.Significant(slices.Max(v.values), 3))
		}
	}
	return text + "."
}

// shareTitle is a definition in the words that a panel has room for.
func shareTitle(definition string) string {
	if definition == proficiency.PassChance {
		return "pass chance reached"
	}
	return reports.Spoken(definition)
}

// shareWords say by which attempt half of new trainees are proficient.
func shareWords(d *reports.Cohort, definition string) string {
	text := "Share of new trainees proficient, " + reports.Spoken(definition)
	for _, s := range d.Population {
		if s.Definition != definition || len(s.Rows) == 0 {
			continue
		}
		text += "; " + study.GroupName(s.Arm) + ", "
		half := slices.IndexFunc(s.Rows, func(r reports.CohortShare) bool { return r.Share >= 0.5 })
		if half < 0 {
			last := s.Rows[len(s.Rows)-1]
			text += fmt.Sprintf("%s by attempt %g", reports.Percent(float64(last.Share)), float64(last.Attempt))
		} else {
			text += fmt.Sprintf("half by attempt %g", float64(s.Rows[half].Attempt))
		}
	}
	return text + "."
}
