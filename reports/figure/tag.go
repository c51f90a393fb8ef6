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
	axesTag = regexp.MustCompile(`^axes:([^|]*)\|([^|]*)\|([^|]*)$`)
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
			return fmt.Sprintf(`<g data-axes="%s" data-x="%s" data-y="%s"></g>`, m[1], m[2], m[3])
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

// drawn draws a plot and notes where its axes lie, for values under a pointer.
func drawn(dc draw.Canvas, p *plot.Plot) {
	p.Draw(dc)
	data := p.DataCanvas(dc)
	_, straightX := p.X.Scale.(plot.LinearScale)
	_, straightY := p.Y.Scale.(plot.LinearScale)
	if !straightX || !straightY || math.IsNaN(p.X.Min+p.X.Max+p.Y.Min+p.Y.Max) {
		return
	}
	tag(dc, p, fmt.Sprintf("axes:%.5g %.5g %.6g %.6g %.5g %.5g %.6g %.6g|%s|%s",
		data.Min.X.Points(), data.Max.X.Points(), p.X.Min, p.X.Max, data.Min.Y.Points(), data.Max.Y.Points(), p.Y.Min, p.Y.Max, p.X.Label.Text, p.Y.Label.Text))
}
