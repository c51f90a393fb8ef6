package paper

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"regexp"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/encoding/charmap"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgeps"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"

	"tyro/reports/figure"
)

// millimetres are points.
func millimetres(mm int) float64 { return float64(mm) * 72 / 25.4 }

// A format is a way to write a figure down.
type format struct {
	ending string
	draw   func(figure.Picture) ([]byte, error)
}

var formats = []format{
	{".pdf", asPDF}, {".eps", asEPS}, {".svg", asSVG},
	{"-300dpi.png", func(p figure.Picture) ([]byte, error) { return asPNG(p, 300) }},
	{"-1000dpi.png", func(p figure.Picture) ([]byte, error) { return asPNG(p, 1000) }},
}

// edge keeps letters and lines off the edges of a figure, in points.
const edge = 3

// on draws a picture on a canvas of its size.
func on(c vg.Canvas, p figure.Picture) {
	whole := draw.NewCanvas(c, vg.Points(p.Width), vg.Points(p.Height))
	p.Draw(draw.Crop(whole, edge, -edge, edge, -edge))
}

// written is what a canvas holds.
func written(c vg.CanvasWriterTo) ([]byte, error) {
	var b bytes.Buffer
	_, err := c.WriteTo(&b)
	return b.Bytes(), err
}

// pdfDate is when a PDF file was made, which no number hangs on: the same run has to give
// the same bytes.
var pdfDate = regexp.MustCompile(`/(Creation|Mod)Date \(D:\d{14}`)

// asPDF has its font embedded. Letters that the font's code page lacks are drawn as
// outlines.
func asPDF(p figure.Picture) ([]byte, error) {
	c := vgpdf.New(vg.Points(p.Width), vg.Points(p.Height))
	c.EmbedFonts(true)
	on(lettered{c, func(_ font.Face, text string) bool {
		_, err := charmap.Windows1252.NewEncoder().String(text)
		return err != nil
	}, notThinned}, p)
	data, err := written(c)
	return pdfDate.ReplaceAllFunc(data, func(m []byte) []byte {
		return append(m[:len(m)-14], "20000101000000"...)
	}), err
}

// epsHead is what the back end writes before the drawing.
var epsHead = regexp.MustCompile(`(?s)^.*?%%EndComments\n`)

// asEPS has the letters that it uses of its font inside, as a Type 1 font, and no colour
// that is seen through, which the format does not know. Letters that the font lacks are
// left to their outlines.
func asEPS(p figure.Picture) ([]byte, error) {
	w, h := vg.Points(p.Width), vg.Points(p.Height)
	c := vgeps.New(w, h)
	letters := typed{c, map[string]*subset{}}
	on(lettered{letters, func(f font.Face, text string) bool { return !letters.can(f, text) }, onWhite}, p)
	data, err := written(c)
	if err != nil {
		return nil, err
	}
	fonts, err := letters.embedded()
	head := fmt.Sprintf("%%!PS-Adobe-3.0 EPSF-3.0\n%%%%Creator: tyro\n%%%%BoundingBox: 0 0 %d %d\n%%%%HiResBoundingBox: 0 0 %.4f %.4f\n%%%%Orientation: Portrait\n%%%%EndComments\n",
		int(math.Ceil(p.Width-1e-9)), int(math.Ceil(p.Height-1e-9)), p.Width, p.Height)
	return append(epsHead.ReplaceAllLiteral(data, append([]byte(head), fonts...)), "%%EOF\n"...), err
}

// asSVG has its font inside, and none of the marks that a page's script needs.
func asSVG(p figure.Picture) ([]byte, error) {
	c := vgsvg.NewWith(vgsvg.UseWH(vg.Points(p.Width), vg.Points(p.Height)), vgsvg.EmbedFonts(true))
	on(unmarked{c}, p)
	return written(c)
}

// An unmarked canvas is not known as SVG to what is drawn on it.
type unmarked struct{ vg.CanvasSizer }

// asPNG has as many pixels as its size and resolution ask for, which the file states.
func asPNG(p figure.Picture, dpi int) ([]byte, error) {
	c := vgimg.NewWith(vgimg.UseWH(vg.Points(p.Width), vg.Points(p.Height)), vgimg.UseDPI(dpi))
	on(c, p)
	return pngOf(c.Image(), dpi)
}

// lettered is a canvas on which some texts are drawn as the outlines of their letters.
type lettered struct {
	vg.Canvas
	asOutlines func(f font.Face, text string) bool
	colour     func(color.Color) color.Color
}

// SetColor implements vg.Canvas.
func (c lettered) SetColor(of color.Color) {
	if of != nil {
		of = c.colour(of)
	}
	c.Canvas.SetColor(of)
}

// A straight colour keeps its red, green and blue whatever is seen through it: the PDF
// back end writes them down as they come, beside the share that is seen through.
type straight struct{ color.NRGBA64 }

// RGBA implements color.Color, but for the thinning.
func (c straight) RGBA() (r, g, b, a uint32) {
	return uint32(c.R), uint32(c.G), uint32(c.B), uint32(c.A)
}

func notThinned(of color.Color) color.Color {
	return straight{color.NRGBA64Model.Convert(of).(color.NRGBA64)}
}

// onWhite is how a colour looks on white paper.
func onWhite(of color.Color) color.Color {
	r, g, b, a := of.RGBA() // already thinned by how much is seen through
	rest := 0xffff - a
	return color.NRGBA64{uint16(r + rest), uint16(g + rest), uint16(b + rest), 0xffff}
}

// FillString implements vg.Canvas.
func (c lettered) FillString(f font.Face, at vg.Point, text string) {
	if f.Font.Size == 0 {
		return
	}
	if !c.asOutlines(f, text) {
		c.Canvas.FillString(f, at, text)
		return
	}
	if p := outlines(f, at, text); len(p) > 0 {
		c.Canvas.Fill(p)
	}
}

// outlines are the letters of a text as a path.
func outlines(f font.Face, at vg.Point, text string) vg.Path {
	var (
		path   vg.Path
		buffer sfnt.Buffer
		x      fixed.Int26_6
		before sfnt.GlyphIndex
	)
	em := fixed.I(int(f.Face.UnitsPerEm()))
	scale := float64(f.Font.Size) / float64(em)
	point := func(p fixed.Point26_6) vg.Point {
		return vg.Point{X: at.X + vg.Length(scale*float64(x+p.X)), Y: at.Y - vg.Length(scale*float64(p.Y))}
	}
	for i, r := range []rune(strings.ToValidUTF8(text, "?")) {
		glyph, err := f.Face.GlyphIndex(&buffer, r)
		if err != nil {
			continue
		}
		if i > 0 {
			if k, err := f.Face.Kern(&buffer, before, glyph, em, 0); err == nil {
				x += k
			}
		}
		before = glyph
		segments, err := f.Face.LoadGlyph(&buffer, glyph, em, nil)
		if err != nil {
			continue
		}
		var pen vg.Point
		for k, s := range segments {
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				if k > 0 {
					path.Close()
				}
				pen = point(s.Args[0])
				path.Move(pen)
			case sfnt.SegmentOpLineTo:
				pen = point(s.Args[0])
				path.Line(pen)
			case sfnt.SegmentOpQuadTo: // as the cubic curve that it is
				c, to := point(s.Args[0]), point(s.Args[1])
				path.CubeTo(between(pen, c), between(to, c), to)
				pen = to
			case sfnt.SegmentOpCubeTo:
				pen = point(s.Args[2])
				path.CubeTo(point(s.Args[0]), point(s.Args[1]), pen)
			}
		}
		if len(segments) > 0 {
			path.Close()
		}
		if advance, err := f.Face.GlyphAdvance(&buffer, glyph, em, 0); err == nil {
			x += advance
		}
	}
	return path
}

// between is two thirds of the way from one point to another.
func between(from, to vg.Point) vg.Point {
	return vg.Point{X: from.X + 2*(to.X-from.X)/3, Y: from.Y + 2*(to.Y-from.Y)/3}
}
