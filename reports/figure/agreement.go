package figure

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"regexp"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// Agreement draws, for each item that has them, the difference plot, the severities and
// the decision table.
func Agreement(d *reports.Agreement, width float64) []Picture {
	var out []Picture
	for _, it := range d.Items {
		for _, f := range []struct {
			name, title string
			draw        func(reports.ItemAgreement, float64) Picture
		}{
			{"differences", "differences of two raters and limits of agreement", differencePicture},
			{"severity", "severity of the raters", severityPicture},
			{"decision-table", "absolute coefficient by numbers of raters and performances", decisionPicture},
		} {
			if p := f.draw(it, width); p.Draw != nil {
				out = append(out, p.named(fmt.Sprintf("agreement-%s-%s", f.name, slug(it.Item)), it.Item+": "+f.title))
			}
		}
	}
	return out
}

var notInNames = regexp.MustCompile(`[^\p{L}\p{N}]+`)

// slug makes a file name of an item's name.
func slug(name string) string {
	return strings.Trim(notInNames.ReplaceAllString(strings.ToLower(name), "-"), "-")
}

// differencePicture shows each subject's difference of two raters against their
// mean, with mean difference, limits of agreement and the bands of their
// intervals; none without two raters.
func differencePicture(it reports.ItemAgreement, width float64) Picture {
	d := it.Answer.Differences
	if d == nil || d.N < 3 {
		return Picture{}
	}
	p := newPlot("", fmt.Sprintf("mean of %s and %s", d.A, d.B), fmt.Sprintf("%s − %s", d.A, d.B), 9)
	var xy plotter.XYs
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, at := range d.Pairs {
		xy = append(xy, plotter.XY{X: at[0], Y: at[1]})
		lo, hi = math.Min(lo, at[0]), math.Max(hi, at[0])
	}
	pad := 0.06 * (hi - lo)
	if pad == 0 {
		pad = 1
	}
	lo, hi = lo-pad, hi+pad
	bandOf := func(from, to float64, c color.Color) {
		if !math.IsNaN(from) {
			p.Add(band([]float64{lo, hi}, []float64{from, from}, []float64{to, to}, c))
		}
	}
	rule := func(y float64, c color.Color, dashes ...vg.Length) {
		p.Add(line(plotter.XYs{{X: lo, Y: y}, {X: hi, Y: y}}, c, 1.1, dashes...))
	}
	bandOf(d.Lower[1], d.Lower[2], pale(armColor(1), 0.22))
	bandOf(d.Upper[1], d.Upper[2], pale(armColor(1), 0.22))
	bandOf(d.MeanLower, d.MeanUpper, pale(armColor(0), 0.22))
	rule(0, faint, vg.Points(1), vg.Points(2))
	rule(d.Mean, armColor(0))
	rule(d.Lower[0], armColor(1), vg.Points(5), vg.Points(3))
	rule(d.Upper[0], armColor(1), vg.Points(5), vg.Points(3))
	p.Add(points(xy, ink, 2, draw.CircleGlyph{}))
	p.X.Min, p.X.Max = lo, hi
	bottom, top := math.Min(firstKnown(d.Lower[1], d.Lower[0]), 0), math.Max(firstKnown(d.Upper[2], d.Upper[0]), 0)
	for _, at := range d.Pairs {
		bottom, top = math.Min(bottom, at[1]), math.Max(top, at[1])
	}
	margin := 0.05 * (top - bottom)
	p.Y.Min, p.Y.Max = bottom-margin, top+margin
	const right = 92
	height := 0.65 * width
	what := fmt.Sprintf("%s: differences of %s and %s against their mean; mean difference %s, limits %s to %s", it.Item, d.A, d.B, reports.Significant(d.Mean, 3), reports.Significant(d.Lower[0], 3), reports.Significant(d.Upper[0], 3))
	return Picture{Legend: what, Finding: what + ".", Width: width, Height: height, Draw: func(dc draw.Canvas) {
		inner := draw.Crop(dc, 0, -vg.Points(right), 0, 0)
		drawn(inner, p)
		data := p.DataCanvas(inner)
		_, toY := p.Transforms(&data)
		style := p.X.Tick.Label
		style.XAlign, style.YAlign = draw.XLeft, draw.YCenter
		marks := []struct {
			y    float64
			text string
			c    color.Color
		}{{d.Upper[0], "upper limit " + reports.Significant(d.Upper[0], 3), armColor(1)}, {d.Mean, "mean " + reports.Significant(d.Mean, 3), armColor(0)}, {d.Lower[0], "lower limit " + reports.Significant(d.Lower[0], 3), armColor(1)}}
		at := vg.Length(math.Inf(1))
		for _, m := range marks { // from the top; labels keep their distance
			y := toY(m.y)
			if y > at-vg.Points(11) {
				y = at - vg.Points(11)
			}
			at = y
			style.Color = m.c
			dc.FillText(style, vg.Point{X: data.Max.X + vg.Points(4), Y: y}, m.text)
		}
	}}
}

func firstKnown(v, or float64) float64 {
	if math.IsNaN(v) {
		return or
	}
	return v
}

// severityRows draws raters from top to bottom with their intervals.
type severityRows struct{ rows []reports.RaterRow }

// Plot implements plot.Plotter.
func (s severityRows) Plot(c draw.Canvas, p *plot.Plot) {
	toX, toY := p.Transforms(&c)
	zero := toX(0)
	c.StrokeLine2(draw.LineStyle{Color: faint, Width: vg.Points(0.8), Dashes: []vg.Length{vg.Points(2), vg.Points(2)}}, zero, c.Min.Y, zero, c.Max.Y)
	for i, r := range s.rows {
		y := toY(float64(len(s.rows) - 1 - i))
		col := armColor(0)
		if float64(r.Lower) > 0 || float64(r.Upper) < 0 {
			col = armColor(1)
		}
		if !math.IsNaN(float64(r.Lower)) {
			c.StrokeLine2(draw.LineStyle{Color: col, Width: vg.Points(1.4)}, toX(float64(r.Lower)), y, toX(float64(r.Upper)), y)
		}
		c.DrawGlyph(draw.GlyphStyle{Color: col, Radius: vg.Points(2.8), Shape: draw.CircleGlyph{}}, vg.Point{X: toX(float64(r.Severity)), Y: y})
	}
}

// compared are the raters whose severity is known: who shares no subject with anybody has none.
func compared(rows []reports.RaterRow) []reports.RaterRow {
	return slices.DeleteFunc(slices.Clone(rows), func(r reports.RaterRow) bool { return math.IsNaN(float64(r.Severity)) })
}

// severityPicture shows each rater's severity with its interval; none without.
func severityPicture(it reports.ItemAgreement, width float64) Picture {
	it.Raters = compared(it.Raters)
	if len(it.Raters) < 2 {
		return Picture{}
	}
	far := 0.0
	var ticks plot.ConstantTicks
	for i, r := range it.Raters {
		for _, v := range []float64{float64(r.Severity), float64(r.Lower), float64(r.Upper)} {
			if !math.IsNaN(v) {
				far = math.Max(far, math.Abs(v))
			}
		}
		label := r.Rater
		if label == "" {
			label = "–"
		}
		ticks = append(ticks, plot.Tick{Value: float64(len(it.Raters) - 1 - i), Label: shortName(label)})
	}
	if far == 0 {
		far = 1
	}
	unit := "score units"
	if it.Scale == "nominal" {
		unit = "share of positive ratings"
	}
	label := "severity, " + unit
	if width >= roomBeside {
		label = "← more lenient · " + label + " · stricter →"
	}
	p := newPlot("", label, "", 9)
	p.Add(severityRows{it.Raters})
	p.Y.Tick.Marker, p.Y.Tick.Length, p.Y.LineStyle.Width = ticks, 0, 0
	p.X.Min, p.X.Max = -1.08*far, 1.08*far
	p.Y.Min, p.Y.Max = -0.7, float64(len(it.Raters))-0.3
	height := 48 + 18*float64(len(it.Raters))
	return Picture{Legend: fmt.Sprintf("%s: severity of each rater with its interval", it.Item), Finding: severityWords(it), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		drawn(draw.Crop(dc, 0, -vg.Points(8), 0, 0), p)
	}}
}

// decisionPicture is the decision table as a heat map of the absolute coefficient:
// raters across, performances or items up; the cheapest way to the target is
// framed. None without a table.
func decisionPicture(it reports.ItemAgreement, width float64) Picture {
	g := it.Generalizability
	if g == nil || len(g.Decisions) == 0 {
		return Picture{}
	}
	const cellHeight = 22.0
	column, row := len(g.Facets)-1, -1
	if len(g.Facets) > 1 {
		row = 0
	}
	columns, rows := 0.0, 1.0
	for _, d := range g.Decisions {
		columns = math.Max(columns, d.Numbers[column])
		if row >= 0 {
			rows = math.Max(rows, d.Numbers[row])
		}
	}
	const left, bottom, top = 100.0, 58.0, 8.0
	cell := math.Min(46, (width-left-10)/columns)
	height := bottom + cellHeight*rows + top
	width = left + cell*columns + 10
	what := decisionTitle(it)
	return Picture{Legend: what, Finding: decisionWords(it), Width: width, Height: height, Draw: func(dc draw.Canvas) {
		style := newPlot("", "", "", 9).X.Tick.Label
		style.XAlign, style.YAlign = draw.XCenter, draw.YCenter
		for _, d := range g.Decisions {
			c, r := d.Numbers[column]-1, 0.0
			if row >= 0 {
				r = d.Numbers[row] - 1
			}
			x, y := vg.Points(left+cell*c), vg.Points(bottom+cellHeight*r)
			fill, text := heat(float64(d.Phi), g.Target)
			square := []vg.Point{{X: x, Y: y}, {X: x + vg.Points(cell-1.5), Y: y}, {X: x + vg.Points(cell-1.5), Y: y + vg.Points(cellHeight-1.5)}, {X: x, Y: y + vg.Points(cellHeight-1.5)}}
			dc.FillPolygon(fill, square)
			if g.Cheapest != nil && same(d.Numbers, g.Cheapest.Numbers) {
				dc.StrokeLines(draw.LineStyle{Color: alarm, Width: vg.Points(1.8)}, append(square, square[0]))
			}
			style.Color = text
			dc.FillText(style, vg.Point{X: x + vg.Points(cell/2-0.7), Y: y + vg.Points(cellHeight/2-0.7)}, reports.TwoPlaces(float64(d.Phi)))
		}
		style.Color = ink
		for c := 1.0; c <= columns; c++ {
			dc.FillText(style, vg.Point{X: vg.Points(left + cell*(c-0.5)), Y: vg.Points(bottom - 9)}, fmt.Sprint(c))
		}
		dc.FillText(style, vg.Point{X: vg.Points(left + cell*columns/2), Y: vg.Points(bottom - 22)}, "raters of each performance")
		style.Color = softInk
		dc.FillText(style, vg.Point{X: vg.Points(left + cell*columns/2), Y: vg.Points(bottom - 36)}, fmt.Sprintf("white text: reaches %g", g.Target))
		if g.Cheapest != nil {
			dc.FillText(style, vg.Point{X: vg.Points(left + cell*columns/2), Y: vg.Points(bottom - 49)}, "framed: cheapest")
		}
		style.Color, style.XAlign = ink, draw.XRight
		for r := 1.0; r <= rows; r++ {
			label := "1 performance"
			if row >= 0 {
				label = reports.Count(int(r), g.Facets[0])
			}
			dc.FillText(style, vg.Point{X: vg.Points(left - 10), Y: vg.Points(bottom + cellHeight*(r-0.5))}, label)
		}
	}}
}

func same(a, b []float64) bool {
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// heat is a cell's colour: pale below the target, dark from it on.
func heat(phi, target float64) (fill, text color.NRGBA) {
	base := armColor(0)
	if math.IsNaN(phi) {
		return pale(faint, 0.2), ink
	}
	if phi >= target {
		return pale(base, 0.72+0.28*(phi-target)/(1-target)), color.NRGBA{0xff, 0xff, 0xff, 0xff}
	}
	return pale(base, 0.06+0.34*math.Max(0, phi)/target), ink
}

// severityWords name the most lenient and the strictest rater.
func severityWords(it reports.ItemAgreement) string {
	it.Raters = compared(it.Raters)
	by := func(a, b reports.RaterRow) int { return cmp.Compare(float64(a.Severity), float64(b.Severity)) }
	words := func(r reports.RaterRow) string {
		text := fmt.Sprintf("%s (%s", r.Rater, reports.Significant(float64(r.Severity), 3))
		if !math.IsNaN(float64(r.Lower)) {
			text += fmt.Sprintf(", %s to %s", reports.Significant(float64(r.Lower), 3), reports.Significant(float64(r.Upper), 3))
		}
		return text + ")"
	}
	return fmt.Sprintf("%s: severity of %s; most lenient %s, strictest %s.", it.Item, reports.Count(len(it.Raters), "rater"), words(slices.MinFunc(it.Raters, by)), words(slices.MaxFunc(it.Raters, by)))
}

// decisionTitle says what the numbers in the table hang on.
func decisionTitle(it reports.ItemAgreement) string {
	var of []string
	for _, f := range it.Generalizability.Facets {
		of = append(of, f+"s")
	}
	return fmt.Sprintf("%s: absolute coefficient for numbers of %s", it.Item, strings.Join(of, " and "))
}

// decisionWords say how many ratings are enough.
func decisionWords(it reports.ItemAgreement) string {
	g := it.Generalizability
	text := decisionTitle(it)
	if g.Cheapest == nil {
		return text + fmt.Sprintf("; none shown reaches %g.", g.Target)
	}
	var parts []string
	for k, n := range g.Cheapest.Numbers {
		parts = append(parts, reports.Count(int(n), g.Facets[k]))
	}
	return text + fmt.Sprintf("; the cheapest that reaches %g: %s, with %s.", g.Target, strings.Join(parts, " and "), reports.TwoPlaces(float64(g.Cheapest.Phi)))
}
