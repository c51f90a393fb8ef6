package figure

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// What a page's script needs to know of a picture is drawn as text between these marks,
// on SVG alone, and becomes groups with data attributes there.
const tagOpen, tagClose = "⟦", "⟧"

var (
	tagText = regexp.MustCompile(`<text[^>]*>` + tagOpen + `([^` + tagClose + `]*)` + tagClose + `</text>`)
	whoTag  = regexp.MustCompile(`^who:(.*)$`)
	axesTag = regexp.MustCompile(`^axes:([^|]*)\|([^|]*)\|([^|]*)\|([^|]*)\|([^|]*)$`)
)

// tag writes a mark into an SVG; nothing elsewhere.
func tag(c draw.Canvas, p *plot.Plot, text string) {
	under := c.Canvas
	for {
		cropped, ok := under.(draw.Canvas)
		if !ok {
			break
		}
		under = cropped.Canvas
	}
	if _, ok := under.(*vgsvg.Canvas); ok {
		c.FillText(p.X.Tick.Label, vg.Point{}, tagOpen+strings.NewReplacer(tagOpen, "", tagClose, "", "\n", " ").Replace(text)+tagClose)
	}
}

// untag turns the marks into groups.
func untag(svg string) string {
	return tagText.ReplaceAllStringFunc(svg, func(s string) string {
		text := tagText.FindStringSubmatch(s)[1]
		if m := whoTag.FindStringSubmatch(text); m != nil {
			return fmt.Sprintf(`<g data-trainee="%s">`, m[1])
		}
		if m := axesTag.FindStringSubmatch(text); m != nil {
			out := fmt.Sprintf(`<g data-axes="%s" data-x="%s" data-y="%s"`, m[1], m[2], m[3])
			for k, name := range []string{"data-x-is", "data-y-is"} {
				if is := m[4+k]; is != "" {
					out += fmt.Sprintf(` %s="%s"`, name, is)
				}
			}
			return out + "></g>"
		}
		return "</g>"
	})
}

// A whose draws what is one trainee's, so that a page can point it out.
type whose struct {
	plot.Plotter
	id string
}

// Plot implements plot.Plotter.
func (w whose) Plot(c draw.Canvas, p *plot.Plot) {
	tag(c, p, "who:"+w.id)
	w.Plotter.Plot(c, p)
	tag(c, p, "end")
}

// drawn draws a plot and notes where its axes lie, for the values of marks under a pointer.
func drawn(dc draw.Canvas, p *plot.Plot) { drawnAs(dc, p, p.X.Label.Text, p.Y.Label.Text) }

// drawnAs is drawn with names for axes that have none written beside them.
func drawnAs(dc draw.Canvas, p *plot.Plot, x, y string) {
	p.Draw(dc)
	data := p.DataCanvas(dc)
	if math.IsNaN(p.X.Min+p.X.Max+p.Y.Min+p.Y.Max) || math.IsInf(p.X.Min+p.X.Max+p.Y.Min+p.Y.Max, 0) {
		return
	}
	tag(dc, p, fmt.Sprintf("axes:%.5g %.5g %.6g %.6g %.5g %.5g %.6g %.6g|%s|%s|%s|%s",
		data.Min.X.Points(), data.Max.X.Points(), p.X.Min, p.X.Max, data.Min.Y.Points(), data.Max.Y.Points(), p.Y.Min, p.Y.Max,
		bare(x), bare(y), axisIs(p.X), axisIs(p.Y)))
}

// axisIs says how a place on an axis is read, where it is not the number itself: exp, the
// number whose logarithm it is; or the names of places, as 1=name;2=name.
func axisIs(a plot.Axis) string {
	switch m := a.Tick.Marker.(type) {
	case ratioTicks:
		return "exp"
	case plot.ConstantTicks:
		return namedPlaces(m)
	case unwritten:
		return namedPlaces(m)
	}
	return ""
}

func namedPlaces(ticks []plot.Tick) string {
	var out []string
	for _, t := range ticks {
		out = append(out, fmt.Sprintf("%g=%s", t.Value, strings.NewReplacer(";", ",", "=", " ").Replace(bare(t.Label))))
	}
	return strings.Join(out, ";")
}

// bare is a text without the sign that parts a note's fields.
func bare(text string) string { return strings.ReplaceAll(text, "|", "/") }

// Unwritten ticks name places for a pointer, and are not drawn.
type unwritten []plot.Tick

// Ticks implements plot.Ticker.
func (unwritten) Ticks(_, _ float64) []plot.Tick { return nil }
