package page

import (
	"html/template"
	"strings"

	"tyro/reports/figure"
)

// phoneWidth is how wide a drawing is, in points, whose letters can be read in a phone's
// window without moving it sideways.
const phoneWidth = 240.0

// picture is a figure as a page has it, so many points wide. Panels of one figure stand in
// a row that breaks where the window is narrow. Of a wide drawing there is a second one for
// narrow windows; a browser shows one of the two, and paper the wide one.
func picture(draw func(width float64) figure.Picture, width float64) (template.HTML, error) {
	p := draw(width)
	if len(p.Panels) > 1 {
		var b strings.Builder
		for _, one := range p.Panels {
			s, err := one.SVG()
			if err != nil {
				return "", err
			}
			b.WriteString(s)
		}
		return template.HTML(`<div class="panels">` + b.String() + `</div>`), nil
	}
	if p.Draw == nil || p.Width <= phoneWidth {
		return inline(p.SVG())
	}
	return both(p, draw(phoneWidth))
}

// both are a drawing for wide windows and one for narrow ones.
func both(wide, narrow figure.Picture) (template.HTML, error) {
	w, err := wide.SVG()
	if err != nil {
		return "", err
	}
	n, err := narrow.SVG()
	return template.HTML(`<div class="wide">` + w + `</div><div class="narrow">` + n + `</div>`), err
}

// each is picture for figures of which there are several: the one of a name.
func each(draw func(width float64) []figure.Picture, width float64) ([]captioned, error) {
	var out []captioned
	for _, p := range draw(width) {
		if p.Draw == nil {
			continue
		}
		svg, err := picture(func(w float64) figure.Picture {
			for _, same := range draw(w) {
				if same.Name == p.Name {
					return same
				}
			}
			return figure.Picture{}
		}, width)
		if err != nil {
			return nil, err
		}
		out = append(out, captioned{Name: p.Name, SVG: svg, Title: p.Legend})
	}
	return out, nil
}
