package figure

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"tyro/reports"
)

// Standard draws what the standard was made of; nothing where there is too little.
func Standard(d *reports.Standard, width float64) Picture {
	var p Picture
	switch {
	case d.Experts != nil:
		p = expertsPicture(d, width).named("standard-experts", "One row an expert: small dots, all runs; large dot, the expert's value; cross, an expert left out; dashed, the standard in force.")
	case len(d.Groups) == 2:
		p = groupsPicture(d, width).named("standard-groups", "Steps: how the groups' values lie; curves: normal curves of the same mean and standard deviation. Filled under the curves: false passes and false fails expected at the standard. Dotted: the other crossing.")
	case d.Line != nil:
		p = ratingsPicture(d, width).named("standard-ratings", "One dot a trainee (moved a little sideways to be seen); upright: the borderline rating. Line: regression with the band in which it lies; without a line, the borderline group alone sets the standard.")
	case d.Compromise != nil:
		p = boxPicture(d, width).named("standard-box", "Curve: share of trainees failing at each standard. Box: what the judges accept on average; the standard is where the curve meets its diagonal.")
	case len(d.Judges) > 0:
		return judgesPicture(d, width).named("standard-judges", "One dot a judge, joined over rounds; triangle and bar beside them: mean with its interval.")
	}
	if p.Draw != nil {
		p.Legend += fmt.Sprintf(" The standard has its %g %% interval behind it.", 100*d.Level)
	}
	return p
}

// valueLabel names the axis of values.
func valueLabel(d *reports.Standard) string {
	label := cmp.Or(d.Label, "value")
	if d.Unit != "" {
		label += " (" + d.Unit + ")"
	}
	return label
}

func known(x []float64) []float64 {
	return slices.DeleteFunc(slices.Clone(x), func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) })
}

// span is the range of values with some room beside it.
func span(room float64, x ...float64) (lo, hi float64) {
	k := known(x)
	if len(k) == 0 {
		return 0, 1
	}
	lo, hi = slices.Min(k), slices.Max(k)
	if hi == lo {
		return lo - 1, hi + 1
	}
	return lo - room*(hi-lo), hi + room*(hi-lo)
}

// standardMark is the standard as a line across a plot with its interval behind
// it: upright where values run along x.
type standardMark struct {
	d       *reports.Standard
	upright bool
}

// Plot implements plot.Plotter.
func (m standardMark) Plot(c draw.Canvas, p *plot.Plot) {
	value, lower, upper := float64(m.d.Estimate), float64(m.d.Lower), float64(m.d.Upper)
	toX, toY := p.Transforms(&c)
	from, to := p.X.Min, p.X.Max
	if !m.upright {
		from, to = p.Y.Min, p.Y.Max
	}
	at := func(v float64) vg.Length {
		v = math.Min(to, math.Max(from, v))
		if m.upright {
			return toX(v)
		}
		return toY(v)
	}
	if !math.IsNaN(lower) && !math.IsNaN(upper) {
		c.SetColor(pale(armColor(3), 0.2))
		r := vg.Rectangle{Min: vg.Point{X: at(lower), Y: c.Min.Y}, Max: vg.Point{X: at(upper), Y: c.Max.Y}}
		if !m.upright {
			r = vg.Rectangle{Min: vg.Point{X: c.Min.X, Y: at(lower)}, Max: vg.Point{X: c.Max.X, Y: at(upper)}}
		}
		c.Fill(r.Path())
	}
	if math.IsNaN(value) || value < from || value > to {
		return
	}
	style := draw.LineStyle{Color: armColor(3), Width: vg.Points(1.6)}
	if m.upright {
		c.StrokeLine2(style, at(value), c.Min.Y, at(value), c.Max.Y)
	} else {
		c.StrokeLine2(style, c.Min.X, at(value), c.Max.X, at(value))
	}
}

// headline writes the standard above a plot.
func headline(d *reports.Standard, dc draw.Canvas, p *plot.Plot) {
	style := p.Title.TextStyle
	style.Color, style.XAlign, style.YAlign = armColor(3), draw.XCenter, draw.YTop
	text := "standard " + reports.Significant(float64(d.Estimate), 4)
	if !math.IsNaN(float64(d.Lower)) && !math.IsNaN(float64(d.Upper)) {
		text += fmt.Sprintf(" (%s to %s)", reports.Significant(float64(d.Lower), 4), reports.Significant(float64(d.Upper), 4))
	}
	dc.FillText(style, vg.Point{X: dc.Center().X, Y: dc.Max.Y - vg.Points(2)}, text)
}

// paint draws a plot under the headline.
func paint(d *reports.Standard, p *plot.Plot, width, height float64, what string) Picture {
	what = fmt.Sprintf("%s; standard %s", what, reports.Significant(float64(d.Estimate), 4))
	if !math.IsNaN(float64(d.Lower)) && !math.IsNaN(float64(d.Upper)) {
		what += fmt.Sprintf(" (%s to %s)", reports.Significant(float64(d.Lower), 4), reports.Significant(float64(d.Upper), 4))
	}
	return Picture{Legend: what, Finding: what + ".", Width: width, Height: height, Draw: func(dc draw.Canvas) {
		headline(d, dc, p)
		drawn(draw.Crop(dc, 0, -vg.Points(6), 0, -vg.Points(15)), p)
	}}
}

// expertsPicture shows every expert's runs and value, and who was left out.
func expertsPicture(d *reports.Standard, width float64) Picture {
	panel := d.Answer.Experts
	values := panel.Values
	p := newPlot("", valueLabel(d), "", 8)
	all := append([]float64{float64(d.Estimate), float64(d.Lower), float64(d.Upper)}, values...)
	for _, r := range panel.Runs {
		all = append(all, r...)
	}
	if d.InForce != nil {
		all = append(all, float64(d.InForce.Value))
	}
	p.X.Min, p.X.Max = span(0.04, all...)
	p.Y.Min, p.Y.Max = -0.8, float64(len(values))-0.2
	p.Add(standardMark{d: d, upright: true})
	row := func(i int) float64 { return float64(len(values) - 1 - i) }
	var runs, kept, left plotter.XYs
	var ticks plot.ConstantTicks
	for i, v := range values {
		name := fmt.Sprint(i + 1)
		if panel.Names != nil {
			name = panel.Names[i]
		}
		ticks = append(ticks, plot.Tick{Value: row(i), Label: shortName(name)})
		p.Add(line(plotter.XYs{{X: p.X.Min, Y: row(i)}, {X: p.X.Max, Y: row(i)}}, pale(faint, 0.35), 0.4))
		if len(panel.Runs[i]) > 1 {
			for _, r := range known(panel.Runs[i]) {
				runs = append(runs, plotter.XY{X: r, Y: row(i)})
			}
		}
		switch {
		case math.IsNaN(v):
		case panel.Kept[i]:
			kept = append(kept, plotter.XY{X: v, Y: row(i)})
		default:
			left = append(left, plotter.XY{X: v, Y: row(i)})
		}
	}
	p.Add(points(runs, faint, 1.3, draw.CircleGlyph{}), points(kept, armColor(0), 2.8, draw.CircleGlyph{}), points(left, alarm, 4, draw.CrossGlyph{}))
	if s := d.InForce; s != nil {
		p.Add(line(plotter.XYs{{X: float64(s.Value), Y: p.Y.Min}, {X: float64(s.Value), Y: p.Y.Max}}, ink, 0.9, vg.Points(4), vg.Points(3)))
	}
	step := math.Min(13, 400/float64(len(values)))
	if step < 8 {
		ticks = nil // names would overlap
	}
	p.Y.Tick.Marker, p.Y.Tick.Length, p.Y.LineStyle.Width = ticks, 0, 0
	return paint(d, p, width, 60+step*float64(len(values)+1), "Experts' values, one row each")
}

// groupsPicture shows two groups' values, their normal curves, and the errors to
// expect on either side of the standard.
func groupsPicture(d *reports.Standard, width float64) Picture {
	var values [2][]float64
	for i, v := range d.Evidence.Values {
		switch {
		case math.IsNaN(v):
		case d.Evidence.Competent[i]:
			values[1] = append(values[1], v)
		default:
			values[0] = append(values[0], v)
		}
	}
	p := newPlot("", valueLabel(d), "density", 8)
	all := append(slices.Clone(values[0]), values[1]...)
	p.X.Min, p.X.Max = span(0.08, append(all, float64(d.Lower), float64(d.Upper))...)
	p.Add(standardMark{d: d, upright: true})
	cut, top := float64(d.Estimate), 0.0
	density := func(g int, x float64) float64 {
		z := (x - float64(d.Groups[g].Mean)) / float64(d.Groups[g].SD)
		return math.Exp(-z*z/2) / (float64(d.Groups[g].SD) * math.Sqrt(2*math.Pi))
	}
	bins := max(6, int(math.Ceil(2*math.Cbrt(float64(len(all))))))
	binWidth := (p.X.Max - p.X.Min) / float64(bins)
	for g, x := range values {
		c := armColor(1 - g)
		counts := make([]float64, bins)
		for _, v := range x {
			counts[min(bins-1, int((v-p.X.Min)/binWidth))]++
		}
		steps := plotter.XYs{{X: p.X.Min, Y: 0}}
		for b, k := range counts {
			y := k / (float64(len(x)) * binWidth)
			top = math.Max(top, y)
			steps = append(steps, plotter.XY{X: p.X.Min + float64(b)*binWidth, Y: y}, plotter.XY{X: p.X.Min + float64(b+1)*binWidth, Y: y})
		}
		p.Add(line(append(steps, plotter.XY{X: p.X.Max, Y: 0}), pale(c, 0.5), 0.8))
	}
	if wrong := groupErrors(d, p, density); cut > p.X.Min && cut < p.X.Max {
		for g, polygon := range wrong {
			p.Add(polygon)
			p.Legend.Add([]string{"false passes", "false fails"}[g]+" "+reports.OnePlace([]reports.Number{d.Theoretical.FalsePass, d.Theoretical.FalseFail}[g]), polygon)
		}
	}
	for g := range values {
		var xy plotter.XYs
		for _, x := range grid(p.X.Min, p.X.Max) {
			y := density(g, x)
			top = math.Max(top, y)
			xy = append(xy, plotter.XY{X: x, Y: y})
		}
		l := line(xy, armColor(1-g), 1.6)
		p.Add(l)
		p.Legend.Add(fmt.Sprintf("%s (%d)", d.Groups[g].Name, d.Groups[g].N), l)
	}
	for _, x := range d.Crossings {
		if v := float64(x); v > p.X.Min && v < p.X.Max && math.Abs(v-cut) > 1e-9*math.Abs(cut) {
			p.Add(line(plotter.XYs{{X: v, Y: 0}, {X: v, Y: 1.1 * top}}, ink, 0.9, vg.Points(1), vg.Points(2)))
		}
	}
	p.Y.Min, p.Y.Max = 0, 1.1*top
	p.Legend.Top, p.Legend.Left = true, true
	return paint(d, p, width, 290, "Values of two groups with their normal curves, false passes and false fails")
}

// groupErrors are the areas under the normal curves on the wrong side of the
// standard: of the not yet competent who pass, and of the competent who fail.
func groupErrors(d *reports.Standard, p *plot.Plot, density func(g int, x float64) float64) [2]*plotter.Polygon {
	cut := float64(d.Estimate)
	var out [2]*plotter.Polygon
	for g := range out {
		from, to := cut, p.X.Max // passing, where higher is better
		if (g == 0) == (d.Better == "lower") {
			from, to = p.X.Min, cut
		}
		xs := grid(from, to)
		zero, ys := make([]float64, len(xs)), make([]float64, len(xs))
		for i, x := range xs {
			ys[i] = density(g, x)
		}
		c := armColor(1 - g)
		out[g] = band(xs, zero, ys, color.NRGBA{c.R, c.G, c.B, 0x66})
	}
	return out
}

// ratingsPicture shows value against rating with the line, or the borderline group.
func ratingsPicture(d *reports.Standard, width float64) Picture {
	l, ratings := d.Answer.Line, d.Evidence.Ratings
	p := newPlot("", "rating", valueLabel(d), 8)
	p.X.Min, p.X.Max = span(0.12, append(slices.Clone(ratings), l.Borderline)...)
	p.Y.Min, p.Y.Max = span(0.06, append(slices.Clone(d.Evidence.Values), float64(d.Lower), float64(d.Upper))...)
	p.Add(standardMark{d: d})
	p.Add(line(plotter.XYs{{X: l.Borderline, Y: p.Y.Min}, {X: l.Borderline, Y: p.Y.Max}}, ink, 0.8, vg.Points(4), vg.Points(3)))
	if r := l.Line; r != nil && !math.IsNaN(r.Slope) {
		xs := grid(p.X.Min, p.X.Max)
		lower, upper, mid := make([]float64, len(xs)), make([]float64, len(xs)), make(plotter.XYs, len(xs))
		for i, x := range xs {
			y, half := r.Intercept+r.Slope*x, r.HalfWidth(x)
			lower[i], upper[i], mid[i] = math.Max(p.Y.Min, y-half), math.Min(p.Y.Max, y+half), plotter.XY{X: x, Y: y}
		}
		c := armColor(0)
		p.Add(band(xs, lower, upper, color.NRGBA{c.R, c.G, c.B, 0x26}), line(inside(mid, p.Y.Min, p.Y.Max), c, 1.6))
	}
	same := map[float64]int{}
	var border, others plotter.XYs
	for i, v := range d.Evidence.Values {
		x := ratings[i]
		if math.IsNaN(v) || math.IsNaN(x) {
			continue
		}
		aside := []float64{0, 1, -1, 2, -2}[same[x]%5] * 0.012 * (p.X.Max - p.X.Min)
		same[x]++
		if at := (plotter.XY{X: x + aside, Y: v}); x == l.Borderline {
			border = append(border, at)
		} else {
			others = append(others, at)
		}
	}
	p.Add(points(others, ink, 1.8, draw.CircleGlyph{}), points(border, armColor(1), 2.3, draw.CircleGlyph{}))
	return paint(d, p, width, 300, "Values against ratings, with the borderline rating")
}

// judgesPicture shows the judges' totals by round.
func judgesPicture(d *reports.Standard, width float64) Picture {
	p := newPlot("", "", "standard, items", 8)
	at := map[string]plotter.XYs{}
	var names []string
	var ticks plot.ConstantTicks
	var all []float64
	for r, round := range d.Judges {
		name := round.Round
		switch {
		case len(d.Judges) == 1:
			name = fmt.Sprintf("%d judges", round.Judges)
		case name != "":
			name = "round " + name
		}
		ticks = append(ticks, plot.Tick{Value: float64(r), Label: name})
		for j, total := range round.Totals {
			if at[round.Names[j]] == nil {
				names = append(names, round.Names[j])
			}
			at[round.Names[j]] = append(at[round.Names[j]], plotter.XY{X: float64(r), Y: float64(total)})
			all = append(all, float64(total))
		}
		all = append(all, float64(round.Lower), float64(round.Upper))
	}
	p.X.Min, p.X.Max = -0.5, float64(len(d.Judges))-0.5
	p.Y.Min, p.Y.Max = span(0.08, all...)
	for _, n := range names {
		p.Add(line(at[n], pale(armColor(0), 0.45), 0.7), points(at[n], armColor(0), 2.3, draw.CircleGlyph{}))
	}
	for r, round := range d.Judges {
		x := float64(r) + 0.12
		if !math.IsNaN(float64(round.Lower)) {
			p.Add(line(plotter.XYs{{X: x, Y: float64(round.Lower)}, {X: x, Y: float64(round.Upper)}}, armColor(3), 1.6))
		}
		p.Add(points(plotter.XYs{{X: x, Y: float64(round.Estimate)}}, armColor(3), 3.4, draw.PyramidGlyph{}))
	}
	p.X.Tick.Marker, p.X.Tick.Length = ticks, 0
	return paint(d, p, math.Min(width, math.Max(230, 130*float64(len(d.Judges)))), 270, "Judges' totals by round with their mean")
}

// boxPicture shows the curve of failing and the judges' box.
func boxPicture(d *reports.Standard, width float64) Picture {
	c := d.Compromise
	p := newPlot("", valueLabel(d), "trainees failing, %", 8)
	curve := make(plotter.XYs, len(c.Curve))
	for i, f := range c.Curve {
		curve[i] = plotter.XY{X: float64(f.Standard), Y: float64(f.Percent)}
	}
	slices.SortFunc(curve, func(a, b plotter.XY) int { return int(math.Copysign(1, a.X-b.X)) })
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = curve[0].X, curve[len(curve)-1].X, 0, 100
	low, high, few, many := float64(c.MinCut), float64(c.MaxCut), float64(c.MinFail), float64(c.MaxFail)
	p.Add(standardMark{d: d, upright: true})
	p.Add(band([]float64{low, high}, []float64{few, few}, []float64{many, many}, color.NRGBA{armColor(1).R, armColor(1).G, armColor(1).B, 0x22}))
	p.Add(line(plotter.XYs{{X: low, Y: few}, {X: high, Y: few}, {X: high, Y: many}, {X: low, Y: many}, {X: low, Y: few}}, armColor(1), 1))
	easy, hard := low, high
	if d.Better == "lower" {
		easy, hard = high, low
	}
	p.Add(line(plotter.XYs{{X: easy, Y: many}, {X: hard, Y: few}}, armColor(1), 1, vg.Points(4), vg.Points(3)), line(curve, armColor(0), 1.6))
	if v := float64(d.Estimate); !math.IsNaN(v) {
		p.Add(points(plotter.XYs{{X: v, Y: float64(c.FailOnLine)}}, ink, 2.8, draw.CircleGlyph{}))
	}
	return paint(d, p, width, 300, "Share of trainees failing by standard, with the judges' box")
}
