package figure

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/analysis/study"
	"tyro/reports"
)

// Sizes of the check figures, in points.
const (
	checkWidth  = 168.0
	checkHeight = 165.0
)

// Checks draws the checks of fit.
func Checks(d *reports.Cohort, most float64) []Picture { return picturesOfChecks(d, most) }

// picturesOfChecks are the figures of the checks, none wider than most points where its
// panels can be put below each other.
func picturesOfChecks(d *reports.Cohort, most float64) []Picture {
	k := d.Checks
	var out []Picture
	row := func(name, what string, width, height float64, plots []panel) {
		if len(plots) > 0 {
			out = append(out, panelled(name, what, plots, width, height, most))
		}
	}
	var shapes []panel
	if k.Residuals != nil {
		shapes = append(shapes, shapePlot("residuals", *k.Residuals))
	}
	for _, v := range k.Deviations {
		shapes = append(shapes, shapePlot("deviations in "+v.Name, v))
	}
	row("cohort-check-shapes", "Ordered residuals and deviations against normal scores, with the range of simulated cohorts", checkWidth, checkHeight, shapes)
	var arms []panel
	for i, arm := range d.Arms {
		if !d.ShowsArm(arm) {
			continue
		}
		if p, ok := attemptBandPlot(d, i, arm); ok {
			arms = append(arms, p)
		}
	}
	row("cohort-check-attempts", "Responses by attempt with the range of simulated ones, by arm", cohortPanelWidth, cohortPanelHeight, arms)
	if k.Evenness != nil {
		row("cohort-check-tenths", "Later attempts by tenth of their prediction, with the range expected", cohortPanelWidth, checkHeight, []panel{tenthsPlot(d)})
	}
	if labels := influenceLabels(d); len(labels) > 0 {
		row("cohort-influence", "Change of every fixed effect without each trainee, in standard errors", math.Min(most, 2*cohortPanelWidth), 50+17*float64(len(labels)), []panel{influencePlot(d, labels)})
	}
	return out
}

// shapePlot is an ordered list against normal scores, with its range.
func shapePlot(title string, s reports.CohortStraightness) panel {
	p := newPlot(title, "normal score", "", 7)
	var x, lower, upper []float64
	var in, out plotter.XYs
	for _, b := range s.Points {
		x, lower, upper = append(x, float64(b.At)), append(lower, float64(b.Lower)), append(upper, float64(b.Upper))
		xy := plotter.XY{X: float64(b.At), Y: float64(b.Observed)}
		if b.Observed < b.Lower || b.Observed > b.Upper {
			out = append(out, xy)
		} else {
			in = append(in, xy)
		}
	}
	p.Add(band(x, lower, upper, pale(faint, 0.35)), points(in, armColor(0), 1.3, draw.CircleGlyph{}), points(out, alarm, 1.6, draw.CircleGlyph{}))
	p.X.Label.Text = fmt.Sprintf("normal score (p = %s)", reports.PValue(float64(s.P)))
	edge := x[len(x)-1] * 1.05
	p.X.Min, p.X.Max = -edge, edge
	finding := fmt.Sprintf("%s against normal scores: %d of %d outside the range of simulated cohorts (p = %s).", reports.Capital(title), len(out), len(s.Points), reports.PValue(float64(s.P)))
	return panel{Plot: p, finding: finding, y: "value"}
}

// attemptBandPlot shows an arm's responses by attempt; nil where too few
// trainees share an attempt number.
func attemptBandPlot(d *reports.Cohort, i int, arm string) (panel, bool) {
	title := reports.ArmName(arm)
	if len(d.Arms) == 1 && arm == "" {
		title = ""
	}
	p := newPlot(title, "attempt", ResponseLabel(d.Study.Task), 8)
	c := armColor(i)
	shares := []float64{0.1, 0.5, 0.9}
	if !d.Study.Noise().Additive() {
		shares = []float64{math.NaN()}
	}
	last, top, found := 1.0, 0.0, false
	seen, outside := 0, 0
	bottom := math.Inf(1)
	for _, share := range shares {
		var x, lower, upper []float64
		var xy, out plotter.XYs
		for _, b := range d.Checks.Attempts {
			if b.Arm != arm || !(float64(b.Share) == share || math.IsNaN(share)) {
				continue
			}
			found = true
			x, lower, upper = append(x, float64(b.At)), append(lower, float64(b.Lower)), append(upper, float64(b.Upper))
			at := plotter.XY{X: float64(b.At), Y: float64(b.Observed)}
			xy = append(xy, at)
			seen++
			if b.Observed < b.Lower || b.Observed > b.Upper {
				out = append(out, at)
				outside++
			}
			last, top, bottom = math.Max(last, at.X), math.Max(top, math.Max(at.Y, float64(b.Upper))), math.Min(bottom, math.Min(at.Y, float64(b.Lower)))
		}
		if len(x) > 1 {
			p.Add(band(x, lower, upper, color.NRGBA{c.R, c.G, c.B, 0x36}))
		}
		p.Add(line(xy, c, 1.1), points(xy, c, 1.2, draw.CircleGlyph{}), points(out, alarm, 2, draw.CircleGlyph{}))
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, last+1, math.Min(0, bottom), top*1.04
	finding := fmt.Sprintf("Responses by attempt, %s: %d of %d points outside the range of simulated ones.", study.GroupName(arm), outside, seen)
	return panel{Plot: p, finding: finding}, found
}

// tenthsPlot counts later attempts by tenth of their predictive distribution.
func tenthsPlot(d *reports.Cohort) panel {
	e := d.Checks.Evenness
	p := newPlot(fmt.Sprintf("later attempts (p = %s)", reports.PValue(float64(e.P))), "share of the prediction below", "attempts", 8)
	top := 0.0
	c := armColor(0)
	for _, b := range e.Tenths {
		x, y := float64(b.At), float64(b.Observed)
		p.Add(&plotter.Polygon{XYs: []plotter.XYs{{{X: x - 0.045, Y: 0}, {X: x + 0.045, Y: 0}, {X: x + 0.045, Y: y}, {X: x - 0.045, Y: y}}}, Color: pale(c, 0.45)})
		p.Add(line(plotter.XYs{{X: x, Y: float64(b.Lower)}, {X: x, Y: float64(b.Upper)}}, ink, 1.2))
		top = math.Max(top, math.Max(y, float64(b.Upper)))
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1, 0, top*1.05
	outside := 0
	for _, b := range e.Tenths {
		if b.Observed < b.Lower || b.Observed > b.Upper {
			outside++
		}
	}
	finding := fmt.Sprintf("Later attempts by tenth of their prediction: %d of 10 tenths outside the range expected (p = %s).", outside, reports.PValue(float64(e.P)))
	return panel{Plot: p, finding: finding}
}

// influenceLabels lists the effects, first at the top.
func influenceLabels(d *reports.Cohort) []string {
	var out []string
	for _, v := range d.Checks.Influence {
		if l := v.Label(); !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}

// influencePlot shows, effect by effect, where it would stand without each
// trainee; the trainee who moves it most is named.
func influencePlot(d *reports.Cohort, labels []string) panel {
	p := newPlot("", "change without the trainee, in standard errors", "", 8)
	most := make([]reports.CohortInfluence, len(labels))
	edge := 0.5
	n := float64(len(labels))
	for _, v := range d.Checks.Influence {
		if math.IsNaN(float64(v.Change)) {
			continue
		}
		i := slices.Index(labels, v.Label())
		p.Add(points(plotter.XYs{{X: float64(v.Change), Y: n - float64(i)}}, pale(armColor(0), 0.6), 1.7, draw.RingGlyph{}))
		if math.Abs(float64(v.Change)) > math.Abs(float64(most[i].Change)) {
			most[i] = v
		}
		edge = math.Max(edge, math.Abs(float64(v.Change)))
	}
	edge *= 1.3
	var ticks plot.ConstantTicks
	for i, l := range labels {
		y := n - float64(i)
		ticks = append(ticks, plot.Tick{Value: y, Label: l})
		if v := most[i]; v.Trainee != "" {
			x := float64(v.Change)
			p.Add(points(plotter.XYs{{X: x, Y: y}}, armColor(0), 1.9, draw.CircleGlyph{}))
			side, align := vg.Points(4), text.XLeft
			if x < 0 {
				side, align = -side, text.XRight
			}
			note, _ := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{v.Trainee}})
			note.TextStyle[0].Font, note.TextStyle[0].Color = sans(7), ink
			note.TextStyle[0].XAlign, note.TextStyle[0].YAlign = align, text.YCenter
			note.Offset.X = side
			p.Add(note)
		}
	}
	p.Add(line(plotter.XYs{{X: 0, Y: 0.4}, {X: 0, Y: n + 0.6}}, faint, 0.7, vg.Points(2), vg.Points(2)))
	p.Y.Tick.Marker, p.Y.Tick.Length, p.Y.LineStyle.Width = ticks, 0, 0
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -edge, edge, 0.4, n+0.6
	worst := slices.MaxFunc(most, func(a, b reports.CohortInfluence) int {
		return cmp.Compare(math.Abs(float64(a.Change)), math.Abs(float64(b.Change)))
	})
	finding := fmt.Sprintf("Whichever trainee is left out, every effect moves by at most %s standard errors", reports.Significant(math.Abs(float64(worst.Change)), 2))
	if worst.Trainee != "" {
		finding += fmt.Sprintf(" (%s, without %s)", worst.Label(), worst.Trainee)
	}
	return panel{Plot: p, finding: finding + "."}
}
