package datasets

import (
	"context"
	"encoding/xml"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// An openDocument is an ODS workbook (OpenDocument 1.3 part 3, chapter 9). All its sheets
// stand in one part, which is walked once for each sheet that is read.
type openDocument struct {
	archive
	sheets []sheetEntry
}

const openContent = "content.xml"

func openOpenDocument(file string, data []byte) (*openDocument, error) {
	a, err := openArchive(file, "ODS", data)
	if err != nil {
		return nil, err
	}
	d := &openDocument{archive: *a}
	hidden := map[string]bool{}
	style, spreadsheet := "", false
	var open nesting
	err = d.walk(openContent, false, func(t xml.Token) error {
		if err := open.see(t); err != nil {
			return err
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
				d.sheets = append(d.sheets, sheetEntry{name: attribute(e, "name"), hidden: hidden[attribute(e, "style-name")]})
			}
		}
		return nil
	})
	if err == nil && open.closed() != nil {
		err = d.damaged(openContent, open.closed())
	}
	if err == nil && !spreadsheet {
		err = Problem{File: file, Err: ErrFormat, Expect: "an ODS workbook; this is another kind of document"}
	}
	d.left = mostBytes
	return d, err
}

// read reads a sheet, or its first rows where most is above 0.
func (d *openDocument) read(ctx context.Context, s sheetEntry, most int) (*grid, error) {
	g := newGrid(d.file, "ODS")
	g.sheet = s.name
	r := openReader{grid: g, ctx: ctx, name: s.name, most: most}
	d.left = mostBytes
	return g, d.walk(openContent, false, r.see)
}

// An openReader turns one sheet of an ODS file into a grid.
type openReader struct {
	grid *grid
	ctx  context.Context
	name string
	most int

	in         bool // within the sheet
	line       int
	repeatRow  int
	hidden     bool
	cells      []openCell // of the row being read
	cell       openCell
	text       strings.Builder
	taking     int // elements deep within a paragraph of a cell
	paragraphs int
	note       int
}

type openCell struct {
	id     cellID
	repeat int
	down   int // rows it is merged over
	kind   string
	value  string
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
		if r.taking > 0 && r.note == 0 {
			if r.text.Len()+len(e) > mostText {
				return Problem{File: r.grid.file, Line: r.line, Err: ErrFormat, Expect: fmt.Sprintf("cells of at most %d million characters", mostText>>20)}
			}
			r.text.Write(e)
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
	case "table-row":
		if err := stopped(r.ctx, r.grid.rows()); err != nil {
			return &cancelled{err}
		}
		r.repeatRow = repeated64(e, "number-rows-repeated")
		v := attribute(e, "visibility")
		r.hidden = v == "collapse" || v == "filter"
		r.cells = r.cells[:0]
	case "table-cell", "covered-table-cell":
		r.cell = openCell{repeat: repeated64(e, "number-columns-repeated"), kind: attribute(e, "value-type"), down: repeated64(e, "number-rows-spanned")}
		if e.Name.Local == "covered-table-cell" {
			r.cell.kind = "covered"
		}
		for _, name := range []string{"value", "date-value", "time-value", "boolean-value", "string-value"} {
			if v := attribute(e, name); v != "" {
				r.cell.value = v
			}
		}
		r.text.Reset()
		r.paragraphs = 0
	case "annotation":
		if r.note++; r.in {
			r.grid.marks.comments++
		}
	case "p":
		if r.paragraphs++; r.paragraphs > 1 && r.note == 0 {
			r.text.WriteByte(' ')
		}
		r.taking++
	case "s":
		if r.taking > 0 && r.note == 0 {
			r.text.WriteString(strings.Repeat(" ", min(repeated64(e, "c"), 100)))
		}
	}
	return nil
}

func (r *openReader) end(e xml.EndElement) error {
	switch e.Name.Local {
	case "annotation":
		r.note--
		r.text.Reset()
		r.paragraphs = 0
	case "p":
		r.taking--
	case "table-cell", "covered-table-cell":
		r.cell.id = r.put()
		r.cells = append(r.cells, r.cell)
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
		row := r.grid.rows()
		if r.most > 0 && row >= r.most {
			return errEnough
		}
		r.grid.lines, r.grid.widths = append(r.grid.lines, int32(r.line)), append(r.grid.widths, 0)
		if r.hidden {
			r.grid.hiddenRows = append(r.grid.hiddenRows, r.line)
		}
		col := 0
		for _, c := range r.cells[:last+1] {
			if c.id == 0 {
				col += c.repeat
				continue
			}
			if c.down > 1 {
				r.grid.merges = append(r.grid.merges, area{row, col, row + c.down - 1, col})
			}
			for range c.repeat {
				if err := r.grid.set(row, col, c.id); err != nil {
					return err
				}
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
func (r *openReader) put() cellID {
	p, c := r.grid.pool, r.cell
	text := cleanCell(r.text.String())
	switch c.kind {
	case "float", "currency":
		v, err := strconv.ParseFloat(c.value, 64)
		if err != nil {
			return p.put(text, written)
		}
		if leadingZero.MatchString(text) && v >= 1 || lettersAndNumb.MatchString(text) {
			return p.put(text, shown)
		}
		return p.put(formatNumber(v), numeric)
	case "percentage":
		if v, err := strconv.ParseFloat(c.value, 64); err == nil {
			shownAs, kind := numberFormat{kind: percent}.cell(v, from1900)
			return p.put(shownAs, kind)
		}
	case "date":
		return p.put(openDate(c.value), day)
	case "time":
		if m := openDuration.FindStringSubmatch(c.value); m != nil {
			seconds := 86400*number(m[1]) + 3600*number(m[2]) + 60*number(m[3]) + number(strings.Replace(m[4], ",", ".", 1))
			kind := span
			if hm := hoursMinutes.FindStringSubmatch(text); hm != nil && 3600*number(hm[1])+60*number(hm[2]) == seconds {
				kind = hourSpan
			} else if halfDay.MatchString(text) {
				kind = clock
			}
			return p.put(formatNumber(seconds), kind)
		}
	case "boolean":
		return p.put(strings.ToUpper(c.value), truth)
	}
	if strings.HasPrefix(text, "#") && strings.HasSuffix(text, "!") || strings.HasPrefix(text, "Err:") {
		return p.put(text, broken)
	}
	return p.put(text, written)
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
