package grid

import (
	"context"
	"encoding/xml"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"tyro/datasets/problem"
)

// A workbook is an XLSX file (ECMA-376 part 1, section 18), whose sheets are read one by
// one. It is read here and not by a library, because every cell's format decides what its
// number means, because a part of a sheet that is damaged must not be passed over, and
// because what a cell takes must not depend on where it stands.
type workbook struct {
	archive
	sheets      []Sheet
	days        Calendar
	formats     []numberFormat // by style
	looks       []look         // by style
	shared      []string       // texts that cells name by number; read when first needed
	sharedLooks map[int]look   // of these, such as have letters that look unlike others
	loaded      bool
}

// otherOffice is what an office program's file is that is no workbook; blank for a workbook, and for what is
// of none.
func (w *workbook) otherOffice(root string) string {
	switch {
	case strings.HasPrefix(root, "word/"), w.parts["word/document.xml"] != nil:
		return "a text document (DOCX)"
	case strings.HasPrefix(root, "ppt/"), w.parts["ppt/presentation.xml"] != nil:
		return "a presentation (PPTX)"
	}
	return ""
}

func openWorkbook(file string, data []byte) (*workbook, error) {
	a, err := openArchive(file, "XLSX", data)
	if err != nil {
		return nil, err
	}
	w := &workbook{archive: *a}
	root := "xl/workbook.xml"
	if target := w.related("_rels/.rels", "", func(kind, _ string) bool { return strings.HasSuffix(kind, "/officeDocument") }); target != "" {
		root = target
	}
	if kind := w.otherOffice(root); kind != "" {
		return nil, problem.Problem{File: file, Err: problem.ErrFormat, Expect: "a workbook; this is " + kind + ": save its table as XLSX or CSV"}
	}
	if w.parts[root] == nil {
		return nil, problem.Problem{File: file, Err: problem.ErrFormat, Expect: "an XLSX or ODS workbook; this is another kind of file in a ZIP archive: unpack it where a table is in it, or save it as XLSX"}
	}
	err = w.walk(root, false, func(t xml.Token) error {
		e, ok := t.(xml.StartElement)
		switch {
		case !ok:
		case e.Name.Local == "workbookPr":
			v := attribute(e, "date1904")
			w.days = Calendar(v == "1" || v == "true")
		case e.Name.Local == "sheet":
			w.sheets = append(w.sheets, Sheet{Name: attribute(e, "name"), id: attribute(e, "id"), Hidden: attribute(e, "state") != "" && attribute(e, "state") != "visible"})
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	folder := path.Dir(root)
	rels := path.Join(folder, "_rels", path.Base(root)+".rels")
	for i := range w.sheets {
		s := &w.sheets[i]
		s.part = w.related(rels, folder, func(_, id string) bool { return id == s.id })
	}
	styles := w.related(rels, folder, func(kind, _ string) bool { return strings.HasSuffix(kind, "/styles") })
	if err := w.readStyles(styles); err != nil {
		return nil, err
	}
	return w, nil
}

// related is the part that a list of relations names.
func (w *workbook) related(rels, folder string, is func(kind, id string) bool) string {
	found := ""
	_ = w.walk(rels, true, func(t xml.Token) error {
		if e, ok := t.(xml.StartElement); ok && e.Name.Local == "Relationship" && found == "" && is(attribute(e, "Type"), attribute(e, "Id")) {
			found = attribute(e, "Target")
			if !strings.HasPrefix(found, "/") {
				found = path.Join(folder, found)
			}
			found = strings.TrimPrefix(found, "/")
		}
		return nil
	})
	return found
}

// mostShared bounds the texts that a workbook keeps apart from its cells.
const mostShared = 128 << 20

// readShared reads the texts that cells name by number.
func (w *workbook) readShared() error {
	if w.loaded {
		return nil
	}
	w.loaded = true
	part := "xl/sharedStrings.xml"
	for name := range w.parts {
		if strings.EqualFold(path.Base(name), "sharedStrings.xml") {
			part = name
		}
	}
	var text strings.Builder
	var open nesting
	var letters lettering
	in, skip, size := false, 0, 0
	err := w.walk(part, true, func(t xml.Token) error {
		if err := open.see(t); err != nil {
			return err
		}
		switch e := t.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "si":
				text.Reset()
				letters = lettering{}
			case "r":
				letters.now = look{}
			case "rPh": // how a text is pronounced, which is not part of it
				skip++
			case "t":
				in = skip == 0
			default:
				letters.now.font(e)
			}
		case xml.CharData:
			if in {
				if size += len(e); size > mostShared {
					return errTooBig
				}
				text.Write(e)
				letters.take(e)
			}
		case xml.EndElement:
			switch e.Name.Local {
			case "t":
				in = false
			case "rPh":
				skip--
			case "si":
				if l := letters.look(); l != (look{}) {
					if w.sharedLooks == nil {
						w.sharedLooks = map[int]look{}
					}
					w.sharedLooks[len(w.shared)] = l
				}
				w.shared = append(w.shared, strings.Clone(text.String()))
			}
		}
		return nil
	})
	if err == nil {
		err = open.closed()
		if err != nil {
			err = w.damaged(part, err)
		}
	}
	return err
}

// read reads a sheet to its end, or its first rows where most is above 0.
func (w *workbook) read(ctx context.Context, s Sheet, most int) (*Grid, error) {
	g := newGrid(w.file, "XLSX")
	g.Sheet, g.Calendar = s.Name, w.days
	if err := w.readShared(); err != nil {
		return nil, err
	}
	if most == 0 {
		g.Marks.Comments = w.comments(s.part)
	}
	r := sheetReader{book: w, grid: g, ctx: ctx, most: most}
	err := w.walk(s.part, false, r.see)
	if err == nil && !r.stopped {
		if err = r.open.closed(); err != nil {
			err = w.damaged(s.part, err)
		}
	}
	return g, err
}

// A sheetReader turns the XML of a sheet into a grid.
type sheetReader struct {
	book    *workbook
	grid    *Grid
	ctx     context.Context
	most    int
	stopped bool
	open    nesting

	row, col  int // of the cell being read, from 0
	line      int // of the row being read, from 1
	kind      string
	style     int
	text      strings.Builder
	taking    bool // within the text of a cell
	formula   bool
	hasValue  bool
	pronounce bool
	letters   lettering // of a text that stands in the cell
	shared    look      // of the letters of a text that the cell names by number
}

func (r *sheetReader) see(t xml.Token) error {
	if err := r.open.see(t); err != nil {
		return err
	}
	switch e := t.(type) {
	case xml.StartElement:
		return r.start(e)
	case xml.CharData:
		if r.taking {
			if r.text.Len()+len(e) > mostText {
				return problem.Problem{File: r.book.file, Line: r.line, Err: problem.ErrFormat, Expect: fmt.Sprintf("cells of at most %d million characters", mostText>>20)}
			}
			r.text.Write(e)
			if r.kind == "inlineStr" {
				r.letters.take(e)
			}
		}
	case xml.EndElement:
		return r.end(e)
	}
	return nil
}

func (r *sheetReader) start(e xml.StartElement) error {
	switch e.Name.Local {
	case "col":
		if h := attribute(e, "hidden"); h == "1" || h == "true" {
			from, _ := strconv.Atoi(attribute(e, "min"))
			to, _ := strconv.Atoi(attribute(e, "max"))
			for j := from; j >= 1 && j <= min(to, mostHidden); j++ {
				r.grid.HiddenCols = append(r.grid.HiddenCols, j-1)
			}
		}
	case "row":
		return r.startRow(e)
	case "c":
		return r.startCell(e)
	case "f":
		r.formula = true
	case "v":
		r.taking = true
	case "t":
		r.taking = !r.pronounce
	case "r":
		r.letters.now = look{}
	case "rPh":
		r.pronounce = true
	case "b", "i", "u", "color", "strike":
		r.letters.now.font(e)
	case "mergeCell":
		from, to, ok := strings.Cut(attribute(e, "ref"), ":")
		left, top, ok1 := cellAt(from)
		right, bottom, ok2 := cellAt(to)
		if !ok || !ok1 || !ok2 {
			return fmt.Errorf("merged cells %q", attribute(e, "ref"))
		}
		top, _ = slices.BinarySearch(r.grid.Lines, int32(top+1)) // rows that are not there count as none
		bottom, _ = slices.BinarySearch(r.grid.Lines, int32(bottom+2))
		r.grid.Merges = append(r.grid.Merges, area{top, left, bottom - 1, right})
	}
	return nil
}

func (r *sheetReader) startRow(e xml.StartElement) error {
	if err := Stopped(r.ctx, r.grid.Rows()); err != nil {
		return &cancelled{err}
	}
	before := r.line
	r.line++
	if at := attribute(e, "r"); at != "" {
		n, err := strconv.Atoi(at)
		if err != nil || n <= before || n > 1<<21 {
			return fmt.Errorf("row %q after row %d", at, before)
		}
		r.line = n
	}
	if r.most > 0 && r.grid.Rows() >= r.most {
		r.stopped = true
		return errEnough
	}
	r.row, r.col = r.grid.Rows(), -1
	r.grid.Lines, r.grid.Widths = append(r.grid.Lines, int32(r.line)), append(r.grid.Widths, 0)
	if h := attribute(e, "hidden"); h == "1" || h == "true" {
		r.grid.HiddenRows = append(r.grid.HiddenRows, r.row)
	}
	return nil
}

func (r *sheetReader) startCell(e xml.StartElement) error {
	r.text.Reset()
	r.kind, r.formula, r.hasValue, r.style = "", false, false, 0
	r.shared = look{}
	before := r.col
	r.col++
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "r":
			col, row, ok := cellAt(a.Value)
			if !ok || row != r.line-1 || col <= before || r.grid.Rows() == 0 {
				return fmt.Errorf("cell %q in row %d", a.Value, r.line)
			}
			r.col = col
		case "t":
			if r.kind = a.Value; r.kind == "inlineStr" {
				r.letters = lettering{}
			}
		case "s":
			r.style, _ = strconv.Atoi(a.Value)
		}
	}
	return nil
}

// cellAt reads the place of a cell, such as B7, as column and row from 0.
func cellAt(ref string) (col, row int, ok bool) {
	i := 0
	for ; i < len(ref) && ref[i] >= 'A' && ref[i] <= 'Z' && i < 4; i++ {
		col = col*26 + int(ref[i]-'A') + 1
	}
	n, err := strconv.Atoi(ref[i:])
	return col - 1, n - 1, i > 0 && err == nil && n > 0 && ref[i] != '+'
}

func (r *sheetReader) end(e xml.EndElement) error {
	switch e.Name.Local {
	case "v":
		r.taking, r.hasValue = false, true
	case "t":
		r.taking = false
		r.hasValue = true
	case "rPh":
		r.pronounce = false
	case "c":
		id, err := r.cell()
		if err != nil || id == 0 {
			return err
		}
		r.grid.Marks.add(r.row, r.col, r.look())
		return r.grid.set(r.row, r.col, id)
	}
	return nil
}

// look is how the cell just read looks.
func (r *sheetReader) look() look {
	letters := r.shared
	if r.kind == "inlineStr" {
		letters = r.letters.look()
	}
	if r.style < 0 || r.style >= len(r.book.looks) {
		return letters
	}
	return r.book.looks[r.style].with(letters)
}

// cell is what the cell just read holds.
func (r *sheetReader) cell() (Cell, error) {
	p, text := r.grid.Pool, r.text.String()
	if r.formula && (!r.hasValue || text == "" && r.kind != "str" && r.kind != "inlineStr") {
		return p.Put("a formula", Uncalculated), nil
	}
	switch r.kind {
	case "s":
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 0 || n >= len(r.book.shared) {
			if text == "" {
				return 0, nil
			}
			return 0, fmt.Errorf("a text with the number %q, which is missing, in row %d", text, r.line)
		}
		r.shared = r.book.sharedLooks[n]
		return p.putSeen(r.book.shared[n]), nil
	case "str", "inlineStr":
		return p.putSeen(text), nil
	case "e":
		return p.Put(text, Broken), nil
	case "b":
		return p.Put(map[bool]string{true: "TRUE", false: "FALSE"}[text == "1" || text == "true"], Truth), nil
	case "d":
		return p.Put(strings.Replace(strings.TrimSuffix(text, "Z"), "T", " ", 1), Written), nil
	}
	if text == "" {
		return 0, nil
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil {
		return 0, fmt.Errorf("a number %q in row %d", text, r.line)
	}
	if len(text) > noiseFrom {
		v = withoutNoise(v)
	}
	if r.style < 0 || r.style >= len(r.book.formats) {
		return p.Put(FormatNumber(v), Numeric), nil
	}
	shownAs, kind := r.book.formats[r.style].cell(v, r.book.days)
	return p.Put(shownAs, kind), nil
}
