package grid

import (
	"cmp"
	"context"
	"encoding/xml"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"tyro/datasets/problem"
)

// An openDocument is an ODS workbook (OpenDocument 1.3 part 3, chapter 9). All its sheets
// stand in one part, which is walked once for each sheet that is read.
type openDocument struct {
	archive
	sheets []Sheet
	styles *openStyles
}

const (
	openContent = "content.xml"
	openNamed   = "styles.xml" // styles with a name, on which those of the content rest
)

func openOpenDocument(file string, data []byte) (*openDocument, error) {
	a, err := openArchive(file, "ODS", data)
	if err != nil {
		return nil, err
	}
	d := &openDocument{archive: *a, styles: newOpenStyles()}
	err = d.walk(openNamed, true, func(t xml.Token) error {
		d.styles.see(t)
		return nil
	})
	if err != nil {
		return nil, err
	}
	hidden := map[string]bool{}
	style, spreadsheet := "", false
	var open nesting
	err = d.walk(openContent, false, func(t xml.Token) error {
		if err := open.see(t); err != nil {
			return err
		}
		if !spreadsheet {
			d.styles.see(t)
		}
		e, ok := t.(xml.StartElement)
		if !ok {
			return nil
		}
		switch e.Name.Local {
		case "spreadsheet":
			spreadsheet = true
		case "style":
			style = attribute(e, "name")
		case "table-properties":
			hidden[style] = attribute(e, "display") == "false"
		case "table":
			if e.Name.Space == "table" {
				d.sheets = append(d.sheets, Sheet{Name: attribute(e, "name"), Hidden: hidden[attribute(e, "style-name")]})
			}
		}
		return nil
	})
	if err == nil && open.closed() != nil {
		err = d.damaged(openContent, open.closed())
	}
	if err == nil && !spreadsheet {
		err = problem.Problem{File: file, Err: problem.ErrFormat, Expect: "an ODS workbook; this is another kind of document"}
	}
	return d, err
}

// read reads a sheet, or its first rows where most is above 0.
func (d *openDocument) read(ctx context.Context, s Sheet, most int) (*Grid, error) {
	g := newGrid(d.file, "ODS")
	g.Sheet = s.Name
	r := openReader{grid: g, ctx: ctx, styles: d.styles, name: s.Name, most: most}
	return g, d.walk(openContent, false, r.see)
}

// An openReader turns one sheet of an ODS file into a grid.
type openReader struct {
	grid   *Grid
	ctx    context.Context
	styles *openStyles
	name   string
	most   int

	in         bool     // within the sheet
	columns    []string // the style of each column's cells
	folded     []bool   // of the groups of rows or columns that are open: whether they are folded away
	line       int
	repeatRow  int
	rowStyle   string
	lastStyle  string // of the cell before, and how it looks
	lastLook   look
	hidden     bool
	cells      []openCell // of the row being read
	cell       openCell
	col        int // of the cell being read, from 0
	text       strings.Builder
	letters    lettering
	spans      []look // of the paragraph and the parts of it that are open
	taking     int    // elements deep within a paragraph of a cell
	paragraphs int
	note       int
	noteText   strings.Builder
}

type openCell struct {
	id     Cell
	repeat int
	down   int // rows it is merged over
	kind   string
	value  string
	style  string
	look   look
}

func repeated64(e xml.StartElement, name string) int {
	n, err := strconv.Atoi(attribute(e, name))
	if err != nil || n < 1 {
		return 1
	}
	return n
}

func (r *openReader) see(t xml.Token) error {
	switch e := t.(type) {
	case xml.StartElement:
		return r.start(e)
	case xml.CharData:
		switch {
		case r.taking > 0 && r.note > 0:
			if r.noteText.Len() < mostText {
				r.noteText.Write(e)
			}
		case r.taking > 0:
			if r.text.Len()+len(e) > mostText {
				return problem.Problem{File: r.grid.File, Line: r.line, Err: problem.ErrFormat, Expect: fmt.Sprintf("cells of at most %d million characters", mostText>>20)}
			}
			r.text.Write(e)
			r.letters.take(e)
		}
	case xml.EndElement:
		return r.end(e)
	}
	return nil
}

func (r *openReader) start(e xml.StartElement) error {
	switch e.Name.Local {
	case "table":
		if e.Name.Space == "table" && attribute(e, "name") == r.name {
			r.in = true
		}
	case "table-column":
		r.startColumn(e)
	case "table-row-group", "table-column-group":
		r.folded = append(r.folded, attribute(e, "display") == "false")
	case "table-row":
		if err := Stopped(r.ctx, r.grid.Rows()); err != nil {
			return &cancelled{err}
		}
		r.repeatRow, r.rowStyle, r.hidden = repeated64(e, "number-rows-repeated"), attribute(e, "default-cell-style-name"), r.isHidden(e)
		r.cells, r.col = r.cells[:0], 0
	case "table-cell", "covered-table-cell":
		r.startCell(e)
	case "annotation":
		r.note++
		r.noteText.Reset()
	case "p":
		if r.paragraphs++; r.paragraphs > 1 && r.note == 0 {
			r.text.WriteByte(' ')
		}
		if r.taking++; r.note > 0 {
			r.noteText.WriteByte('\n')
		} else {
			r.open(r.lookOf("paragraph", e))
		}
	case "span":
		if r.taking > 0 && r.note == 0 {
			r.open(r.lookOf("text", e))
		}
	case "s":
		if r.taking > 0 && r.note == 0 {
			r.text.WriteString(strings.Repeat(" ", min(repeated64(e, "c"), 100)))
		}
	}
	return nil
}

// lookOf is how the style that an element names looks.
func (r *openReader) lookOf(family string, e xml.StartElement) look {
	if name := attribute(e, "style-name"); name != "" {
		return r.styles.look(family, name)
	}
	return look{}
}

// open begins a part of a text, which looks as the part around it does where it does not say.
func (r *openReader) open(l look) {
	r.spans = append(r.spans, r.letters.now)
	r.letters.now = r.letters.now.with(l)
}

// shut ends a part of a text.
func (r *openReader) shut() {
	if n := len(r.spans); n > 0 && r.note == 0 {
		r.letters.now, r.spans = r.spans[n-1], r.spans[:n-1]
	}
}

// isHidden reports whether a row or a column is not shown.
func (r *openReader) isHidden(e xml.StartElement) bool {
	v := attribute(e, "visibility")
	return v == "collapse" || v == "filter" || slices.Contains(r.folded, true)
}

// startColumn remembers how the cells of some columns look, and whether they are shown.
func (r *openReader) startColumn(e xml.StartElement) {
	if !r.in {
		return
	}
	style, hidden := attribute(e, "default-cell-style-name"), r.isHidden(e)
	for range min(repeated64(e, "number-columns-repeated"), mostColumns-len(r.columns)) {
		if hidden && len(r.columns) < mostHidden {
			r.grid.HiddenCols = append(r.grid.HiddenCols, len(r.columns))
		}
		r.columns = append(r.columns, style)
	}
}

func (r *openReader) startCell(e xml.StartElement) {
	r.cell = openCell{repeat: 1, down: 1, style: r.rowStyle}
	if r.cell.style == "" && r.col < len(r.columns) {
		r.cell.style = r.columns[r.col]
	}
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "number-columns-repeated":
			r.cell.repeat = repeated64(e, a.Name.Local)
		case "number-rows-spanned":
			r.cell.down = repeated64(e, a.Name.Local)
		case "value-type":
			r.cell.kind = cmp.Or(r.cell.kind, a.Value)
		case "style-name":
			r.cell.style = a.Value
		case "value", "date-value", "time-value", "boolean-value", "string-value":
			r.cell.value = cmp.Or(a.Value, r.cell.value)
		}
	}
	if e.Name.Local == "covered-table-cell" {
		r.cell.kind = "covered"
	}
	r.text.Reset()
	r.paragraphs, r.letters, r.spans = 0, lettering{}, r.spans[:0]
}

func (r *openReader) end(e xml.EndElement) error {
	switch e.Name.Local {
	case "annotation":
		if r.note--; r.in && r.note == 0 {
			r.grid.Marks.addComment(r.line+1, r.col, r.noteText.String())
		}
		r.text.Reset()
		r.paragraphs = 0
	case "table-row-group", "table-column-group":
		r.folded = r.folded[:max(0, len(r.folded)-1)]
	case "span":
		if r.taking > 0 {
			r.shut()
		}
	case "p":
		r.taking--
		r.shut()
	case "table-cell", "covered-table-cell":
		r.cell.id = r.put()
		if r.cell.id != 0 {
			r.cell.look = r.look()
		}
		r.cells = append(r.cells, r.cell)
		r.col += r.cell.repeat
	case "table-row":
		if r.in {
			return r.endRow()
		}
	case "table":
		if e.Name.Space == "table" && r.in {
			return errEnough
		}
	}
	return nil
}

// look is how the cell just read looks.
func (r *openReader) look() look {
	if r.cell.style != r.lastStyle || r.grid.Rows() == 0 {
		r.lastStyle, r.lastLook = r.cell.style, r.styles.look("table-cell", r.cell.style)
	}
	l := r.lastLook.with(r.letters.look())
	if r.grid.Pool.Kind(r.cell.id) == Numeric {
		l.words = wordsBeside(Clean(r.text.String()))
	}
	return l
}

// endRow adds the row as often as it is repeated; blank rows only count lines.
func (r *openReader) endRow() error {
	last := -1
	for k, c := range r.cells {
		if c.id != 0 {
			last = k
		}
	}
	if last < 0 {
		r.line += r.repeatRow
		return nil
	}
	for range r.repeatRow {
		r.line++
		row := r.grid.Rows()
		if r.most > 0 && row >= r.most {
			return errEnough
		}
		r.grid.Lines, r.grid.Widths = append(r.grid.Lines, int32(r.line)), append(r.grid.Widths, 0)
		if r.hidden {
			r.grid.HiddenRows = append(r.grid.HiddenRows, row)
		}
		col := 0
		for _, c := range r.cells[:last+1] {
			if c.id == 0 {
				col += c.repeat
				continue
			}
			if c.down > 1 {
				r.grid.Merges = append(r.grid.Merges, area{row, col, row + c.down - 1, col})
			}
			for range c.repeat {
				if err := r.grid.set(row, col, c.id); err != nil {
					return err
				}
				r.grid.Marks.add(row, col, c.look)
				col++
			}
		}
	}
	return nil
}

var (
	openDuration   = regexp.MustCompile(`^P(?:(\d+)D)?T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+(?:[.,]\d+)?)S)?$`)
	hoursMinutes   = regexp.MustCompile(`^(\d+):(\d\d)$`)
	leadingZero    = regexp.MustCompile(`^\D*0\d*\D*$`)
	lettersAndNumb = regexp.MustCompile(`^[A-Za-z]+[-_ ]?\d+$`)
)

// put is what the cell just read holds.
func (r *openReader) put() Cell {
	p, c := r.grid.Pool, r.cell
	text := Clean(r.text.String())
	switch c.kind {
	case "float", "currency":
		v, err := strconv.ParseFloat(c.value, 64)
		if err != nil {
			return p.Put(text, Written)
		}
		if leadingZero.MatchString(text) && v >= 1 || lettersAndNumb.MatchString(text) {
			return p.Put(text, shown)
		}
		return p.Put(FormatNumber(v), Numeric)
	case "percentage":
		if v, err := strconv.ParseFloat(c.value, 64); err == nil {
			shownAs, kind := numberFormat{kind: Percent}.cell(v, From1900)
			return p.Put(shownAs, kind)
		}
	case "date":
		return p.Put(openDate(c.value), Day)
	case "time":
		if m := openDuration.FindStringSubmatch(c.value); m != nil {
			seconds := 86400*Number(m[1]) + 3600*Number(m[2]) + 60*Number(m[3]) + Number(strings.Replace(m[4], ",", ".", 1))
			kind := Span
			if hm := hoursMinutes.FindStringSubmatch(text); hm != nil && 3600*Number(hm[1])+60*Number(hm[2]) == seconds {
				kind = HourSpan
			} else if halfDay.MatchString(text) {
				kind = Clock
			}
			return p.Put(FormatNumber(seconds), kind)
		}
	case "boolean":
		return p.Put(strings.ToUpper(c.value), Truth)
	}
	if strings.HasPrefix(text, "#") && strings.HasSuffix(text, "!") || strings.HasPrefix(text, "Err:") {
		return p.Put(text, Broken)
	}
	return p.putSeen(r.text.String())
}

// openDate is a date as ODS files have it, in the form of ours.
func openDate(s string) string {
	d, clock, _ := strings.Cut(s, "T")
	if h, _, ok := strings.Cut(clock, "."); ok {
		clock = h
	}
	if len(clock) >= 5 && clock[:5] != "00:00" {
		return d + " " + clock[:5]
	}
	return d
}
