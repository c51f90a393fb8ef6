package figure

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"regexp"
	"strings"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"tyro/reports"
)

// The colours of arms are told apart also without colour vision, and on paper
// by their lightness; the first is the reference arm's.
var armColors = []color.NRGBA{
	{0x14, 0x5f, 0x6e, 0xff}, {0xb0, 0x5c, 0x10, 0xff}, {0x60, 0x3f, 0x88, 0xff}, {0x5b, 0x7f, 0x24, 0xff}, {0xa3, 0x2e, 0x4f, 0xff},
}

var (
	ink   = color.NRGBA{0x26, 0x2b, 0x30, 0xff}
	faint = color.NRGBA{0x8b, 0x93, 0x9a, 0xff}
	alarm = color.NRGBA{0xb0, 0x2a, 0x2a, 0xff}
)

func armColor(i int) color.NRGBA { return armColors[i%len(armColors)] }

// pale is a colour thinned towards white, for bands.
func pale(c color.NRGBA, strength float64) color.NRGBA {
	mix := func(v uint8) uint8 { return uint8(255 - strength*(255-float64(v))) }
	return color.NRGBA{mix(c.R), mix(c.G), mix(c.B), 0xff}
}

func sans(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

// newPlot is an empty plot in the house style.
func newPlot(title, x, y string, size vg.Length) *plot.Plot {
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	p.Title.TextStyle.Font, p.Title.TextStyle.Color, p.Title.Padding = sans(size+1), ink, vg.Points(3)
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font, a.Tick.Label.Font = sans(size), sans(size-0.5)
		a.Label.TextStyle.Color, a.Tick.Label.Color, a.Color, a.Tick.Color = ink, ink, faint, faint
		a.Padding = vg.Points(2)
		a.Tick.Length = vg.Points(3)
		a.Tick.Marker = fewTicks{}
	}
	p.Legend.TextStyle.Font, p.Legend.TextStyle.Color = sans(size), ink
	p.Legend.ThumbnailWidth, p.Legend.Padding = vg.Points(14), vg.Points(3)
	return p
}

// legendRight puts the legend so far right of the plot's axis, in points, its words
// right of their marks: fonts of the reader are wider than those measured here.
func legendRight(p *plot.Plot, offset float64, top bool) {
	p.Legend.Top, p.Legend.Left = top, true
	p.Legend.XOffs, p.Legend.YPosition = vg.Points(offset), draw.PosCenter
}

// fewTicks labels round numbers only, without the small ticks between.
type fewTicks struct{}

// Ticks implements plot.Ticker.
func (fewTicks) Ticks(min, max float64) []plot.Tick {
	span := max - min
	if !(span > 0) || math.IsInf(span, 0) {
		return []plot.Tick{{Value: min, Label: reports.Significant(min, 3)}}
	}
	step := math.Pow(10, math.Floor(math.Log10(span)))
	for _, f := range []float64{0.1, 0.2, 0.25, 0.5, 1, 2} {
		if span/(step*f) <= 6 {
			step *= f
			break
		}
	}
	var out []plot.Tick
	for v := math.Ceil(min/step-1e-9) * step; v <= max+1e-9*span; v += step {
		if math.Abs(v) < 1e-9*span {
			v = 0
		}
		out = append(out, plot.Tick{Value: v, Label: tickLabel(v, step)})
	}
	return out
}

func tickLabel(v, step float64) string {
	places := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	if s := step * math.Pow10(places); math.Abs(s-math.Round(s)) > 1e-6 {
		places++
	}
	return fmt.Sprintf("%.*f", places, v)
}

// gridPoints is the number of places at which a curve is drawn.
const gridPoints = 60

func grid(from, to float64) []float64 {
	return floats.Span(make([]float64, gridPoints), from, to)
}

// inside cuts a curve to the part that lies in the plot, so that it ends at the
// edge rather than running along it.
func inside(xy plotter.XYs, minY, maxY float64) plotter.XYs {
	var out plotter.XYs
	for _, v := range xy {
		if v.Y >= minY && v.Y <= maxY {
			out = append(out, v)
		}
	}
	return out
}

func line(xy plotter.XYs, c color.Color, width float64, dashes ...vg.Length) *plotter.Line {
	l := &plotter.Line{XYs: xy}
	l.LineStyle = draw.LineStyle{Color: c, Width: vg.Points(width), Dashes: dashes}
	return l
}

// band fills the area between two curves.
func band(x, lower, upper []float64, c color.Color) *plotter.Polygon {
	var ring plotter.XYs
	for i := range x {
		ring = append(ring, plotter.XY{X: x[i], Y: lower[i]})
	}
	for i := len(x) - 1; i >= 0; i-- {
		ring = append(ring, plotter.XY{X: x[i], Y: upper[i]})
	}
	return &plotter.Polygon{XYs: []plotter.XYs{ring}, Color: c}
}

func points(xy plotter.XYs, c color.Color, radius float64, shape draw.GlyphDrawer) *plotter.Scatter {
	return &plotter.Scatter{XYs: xy, GlyphStyle: draw.GlyphStyle{Color: c, Radius: vg.Points(radius), Shape: shape}}
}

var (
	svgHead  = regexp.MustCompile(`(?s)^.*?<svg[^>]*>`)
	svgFonts = strings.NewReplacer("font-family:Liberation Sans;font-variant:normal;font-weight:normal;font-style:normal;", "", "font-family:Liberation Serif;font-variant:normal;font-weight:normal;font-style:normal;", "")
)

// svg renders what paint draws as an inline SVG element of the given size in
// points, with a description for those who cannot see it.
func svg(width, height float64, description string, paint func(draw.Canvas)) (string, error) {
	c := vgsvg.New(vg.Points(width), vg.Points(height))
	paint(draw.New(c))
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return "", err
	}
	head := fmt.Sprintf(`<svg viewBox="0 0 %g %g" style="max-width:%gpt" role="img" aria-label="%s" xmlns="http://www.w3.org/2000/svg">`, width, height, width, escape(description))
	return reports.PrintableBut(untag(svgFonts.Replace(svgHead.ReplaceAllLiteralString(b.String(), head))), "\n\t"), nil
}

func escape(s string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;").Replace(s)
}

// strip writes a row of numbers under a plot's ticks, such as those at risk.
func strip(c draw.Canvas, p *plot.Plot, data draw.Canvas, y vg.Length, label string, col color.Color, ticks []plot.Tick, number func(x float64) string) {
	toX, _ := p.Transforms(&data)
	style := p.X.Tick.Label
	style.Color = col
	style.XAlign, style.YAlign = draw.XCenter, draw.YBottom
	for _, t := range ticks {
		c.FillText(style, vg.Point{X: toX(t.Value), Y: y}, number(t.Value))
	}
	style.XAlign = draw.XLeft
	c.FillText(style, vg.Point{X: c.Min.X, Y: y}, label)
}
