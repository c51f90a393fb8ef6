package grid

import (
	"encoding/xml"
	"strconv"
	"strings"
)

// A styleReader reads what the styles of an XLSX file say of the cells that name them
// (ECMA-376 part 1, section 18.8): the format of their number, and how they look.
type styleReader struct {
	book  *workbook
	codes map[int]string // of number formats
	list  string         // the list that is being read
	fonts []look
	fills []look
	edges []look
}

// readStyles reads the styles of cells.
func (w *workbook) readStyles(part string) error {
	r := styleReader{book: w, codes: map[int]string{}}
	return w.walk(part, true, func(t xml.Token) error {
		switch e := t.(type) {
		case xml.StartElement:
			r.start(e)
		case xml.EndElement:
			if e.Name.Local == r.list {
				r.list = ""
			}
		}
		return nil
	})
}

func (r *styleReader) start(e xml.StartElement) {
	switch name := e.Name.Local; {
	case name == "numFmt":
		id, _ := strconv.Atoi(attribute(e, "numFmtId"))
		r.codes[id] = attribute(e, "formatCode")
	case name == "fonts", name == "fills", name == "borders", name == "cellXfs":
		r.list = name
	case r.list == "fonts" && name == "font":
		r.fonts = append(r.fonts, look{})
	case r.list == "fills" && name == "fill":
		r.fills = append(r.fills, look{})
	case r.list == "borders" && name == "border":
		r.edges = append(r.edges, look{})
	case r.list == "fonts" && len(r.fonts) > 0:
		r.fonts[len(r.fonts)-1].font(e)
	case r.list == "fills" && len(r.fills) > 0:
		r.fills[len(r.fills)-1].fill(e)
	case r.list == "borders" && len(r.edges) > 0:
		r.edges[len(r.edges)-1].edge(e)
	case r.list == "cellXfs" && name == "xf":
		r.style(e)
	}
}

// style adds a style that cells name by its number.
func (r *styleReader) style(e xml.StartElement) {
	id, _ := strconv.Atoi(attribute(e, "numFmtId"))
	code, ok := r.codes[id]
	if !ok {
		code = builtinFormat(id)
	}
	of := func(list []look, name string) look {
		if n, err := strconv.Atoi(attribute(e, name)); err == nil && n >= 0 && n < len(list) {
			return list[n]
		}
		return look{}
	}
	format := formatNamed(code)
	l := of(r.fonts, "fontId")
	l.filled, l.lines, l.words = of(r.fills, "fillId").filled, of(r.edges, "borderId").lines, format.words
	r.book.formats, r.book.looks = append(r.book.formats, format), append(r.book.looks, l)
}

// font adds what an element of a font says of letters. Black, in all its names, is no colour.
func (l *look) font(e xml.StartElement) {
	v := attribute(e, "val")
	off := v == "0" || v == "false" || v == "none"
	switch e.Name.Local {
	case "b", "i", "u":
		l.letters = l.letters || !off
	case "strike":
		l.struck = l.struck || !off
	case "color":
		rgb, theme, index := attribute(e, "rgb"), attribute(e, "theme"), attribute(e, "indexed")
		black := rgb == "" || strings.HasSuffix(rgb, "000000")
		plainTheme := theme == "" || theme == "0" || theme == "1" // the paper's and the letters' own
		plainIndex := index == "" || index == "0" || index == "8" || index == "64"
		l.letters = l.letters || !black || !plainTheme || !plainIndex
	}
}

// fill adds what an element of a fill says. White, in all its names, is no colour.
func (l *look) fill(e xml.StartElement) {
	switch e.Name.Local {
	case "patternFill":
		kind := attribute(e, "patternType")
		l.filled = kind != "" && kind != "none" && kind != "gray125"
	case "gradientFill":
		l.filled = true
	case "fgColor":
		white := strings.EqualFold(attribute(e, "rgb"), "FFFFFFFF") || attribute(e, "theme") == "0" && attribute(e, "tint") == "" || attribute(e, "indexed") == "9"
		l.filled = l.filled && !white
	}
}

// edge adds what an element of a border says of the lines at a cell's left and right.
func (l *look) edge(e xml.StartElement) {
	switch e.Name.Local {
	case "left", "right", "start", "end":
		switch style := attribute(e, "style"); {
		case style == "" || style == "none":
		case style == "thick", style == "double", strings.HasPrefix(strings.ToLower(style), "medium"), style == "slantDashDot":
			l.lines = thickLine
		default:
			l.lines = max(l.lines, thinLine)
		}
	}
}
