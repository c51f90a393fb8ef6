package grid

import (
	"encoding/xml"
	"strconv"
	"strings"
)

// openStyles are the styles of an ODS file that say how cells and their letters look
// (OpenDocument 1.3 part 3, chapters 16 and 20).
type openStyles struct {
	all   map[styleName]*openStyle
	looks map[styleName]look // of those asked for
	now   *openStyle         // the style being read; nil between those of cells and letters
}

// A styleName is the name of a style within its family; the default of a family has none.
type styleName struct{ family, name string }

// An openStyle is what one style says, by the attribute that says it. What it leaves out, its
// parent says.
type openStyle struct {
	parent styleName
	says   map[string]string
}

func newOpenStyles() *openStyles {
	return &openStyles{all: map[styleName]*openStyle{}, looks: map[styleName]look{}}
}

// see takes what an element says of a style.
func (s *openStyles) see(t xml.Token) {
	if e, ok := t.(xml.EndElement); ok && (e.Name.Local == "style" || e.Name.Local == "default-style") {
		s.now = nil // what stands between styles belongs to formats of numbers
	}
	e, ok := t.(xml.StartElement)
	if !ok {
		return
	}
	switch e.Name.Local {
	case "style", "default-style":
		s.now = nil
		if family := attribute(e, "family"); family == "table-cell" || family == "text" || family == "paragraph" {
			s.now = &openStyle{parent: styleName{family, attribute(e, "parent-style-name")}, says: map[string]string{}}
			s.all[styleName{family, attribute(e, "name")}] = s.now
		}
	case "text-properties", "table-cell-properties":
		if s.now != nil {
			s.now.take(e)
		}
	}
}

// take keeps what an element says of letters, or of the cell around them.
func (s *openStyle) take(e xml.StartElement) {
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "text-line-through-style", "text-line-through-type", "font-weight", "font-style", "text-underline-style", "color", "background-color", "border-left", "border-right":
			s.says[a.Name.Local] = a.Value
		case "border":
			s.says["border-left"], s.says["border-right"] = a.Value, a.Value
		}
	}
	if attribute(e, "use-window-font-color") == "true" {
		s.says["color"] = ""
	}
}

// mostParents bounds how many styles rest on each other.
const mostParents = 30

// said is what a style or the nearest above it says; blank where none does.
func (s *openStyles) said(at styleName, what string) string {
	for range mostParents {
		style := s.all[at]
		if style == nil {
			return ""
		}
		if v, ok := style.says[what]; ok || at.name == "" {
			return v
		}
		at = style.parent
	}
	return ""
}

// look is how a cell or some letters with a style look.
func (s *openStyles) look(family, name string) look {
	at := styleName{family, name}
	l, known := s.looks[at]
	if known {
		return l
	}
	says := func(what string) bool {
		v := s.said(at, what)
		return v != "" && v != "none" && v != "normal"
	}
	weight, colour, fill := s.said(at, "font-weight"), s.said(at, "color"), s.said(at, "background-color")
	heavy, err := strconv.Atoi(weight)
	l.struck = says("text-line-through-style") || s.said(at, "text-line-through-style") == "" && says("text-line-through-type")
	l.letters = weight == "bold" || err == nil && heavy >= 600 || says("font-style") || says("text-underline-style") || colour != "" && colour != "#000000"
	l.filled = fill != "" && fill != "transparent" && !strings.EqualFold(fill, "#ffffff")
	l.lines = max(openLine(s.said(at, "border-left")), openLine(s.said(at, "border-right")))
	s.looks[at] = l
	return l
}

// inPoints are the units in which the width of a line is given.
var inPoints = map[string]float64{"pt": 1, "px": 0.75, "mm": 72 / 25.4, "cm": 72 / 2.54, "in": 72}

// thickPoints is the width from which a line is thick.
const thickPoints = 1.3

// openLine is how thick a line is, of which the width, the kind and the colour are given.
func openLine(v string) lineKind {
	kind := noLine
	for _, part := range strings.Fields(v) {
		switch part {
		case "none", "hidden":
			return noLine
		case "double", "medium", "thick":
			return thickLine
		}
		kind = thinLine
		for unit, size := range inPoints {
			if width, ok := strings.CutSuffix(part, unit); ok && Number(width)*size >= thickPoints {
				return thickLine
			}
		}
	}
	return kind
}
