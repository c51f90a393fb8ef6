package datasets

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/unicode"
)

// A table is a file as cells: what was written, not yet what it means.
type table struct {
	file      string
	separator rune // 0 for a spreadsheet
	calendar  calendar
	header    []string
	rows      []row
}

type row struct {
	line  int
	cells []string
}

// readTable reads a CSV, TSV or XLSX file. heads is the number of header rows
// (0 means 1); several are filled to the right and joined.
func readTable(ctx context.Context, path string, data []byte, heads int) (table, error) {
	t := table{file: filepath.Base(path)}
	var all []row
	var err error
	if strings.EqualFold(filepath.Ext(path), ".xlsx") {
		all, t.calendar, err = spreadsheetRows(ctx, t.file, data)
	} else {
		all, t.separator, err = textRows(ctx, t.file, data)
	}
	if err != nil {
		return t, err
	}
	all = dropBlank(all)
	heads = max(1, heads)
	if len(all) < heads {
		return t, Problem{File: t.file, Err: ErrMissing, Expect: "a header row and at least one row of data, but the file is empty"}
	}
	t.header, t.rows = joinHeads(all[:heads]), all[heads:]
	if len(t.rows) == 0 {
		return t, Problem{File: t.file, Line: all[heads-1].line, Err: ErrMissing, Expect: "rows of data below the header"}
	}
	return t, t.checkShape()
}

// checkShape reports repeated or missing column names and rows of the wrong
// width; short rows are padded, as spreadsheets drop trailing blanks.
func (t *table) checkShape() error {
	var ps Problems
	seen := map[string]bool{}
	for i, h := range t.header {
		if h == "" {
			if t.columnIsBlank(i) {
				continue
			}
			ps = append(ps, Problem{File: t.file, Line: 1, Err: ErrMissing, Expect: fmt.Sprintf("a name for column %d", i+1)})
		} else if seen[h] {
			ps = append(ps, Problem{File: t.file, Line: 1, Column: h, Err: ErrDuplicate, Expect: "every column to have its own name"})
		}
		seen[h] = true
	}
	for i := range t.rows {
		r := &t.rows[i]
		for len(r.cells) > len(t.header) && strings.TrimSpace(r.cells[len(r.cells)-1]) == "" {
			r.cells = r.cells[:len(r.cells)-1]
		}
		switch n := len(r.cells); {
		case n > len(t.header), n < len(t.header) && t.separator != 0:
			ps = append(ps, Problem{File: t.file, Line: r.line, Err: ErrFormat, Expect: fmt.Sprintf("%d cells, found %d", len(t.header), n)})
		}
		for len(r.cells) < len(t.header) {
			r.cells = append(r.cells, "")
		}
	}
	return ps.orNil()
}

func (t *table) columnIsBlank(i int) bool {
	for _, r := range t.rows {
		if i < len(r.cells) && strings.TrimSpace(r.cells[i]) != "" {
			return false
		}
	}
	return true
}

// textRows decodes a text file, finds its separator and cuts it into cells.
func textRows(ctx context.Context, file string, data []byte) ([]row, rune, error) {
	text, err := decode(file, data)
	if err != nil {
		return nil, 0, err
	}
	sep := sniff(text)
	r := csv.NewReader(strings.NewReader(text))
	r.Comma, r.FieldsPerRecord, r.LazyQuotes = sep, -1, false
	var rows []row
	for {
		if err := stopped(ctx, len(rows)); err != nil {
			return nil, sep, err
		}
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, sep, nil
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return nil, sep, Problem{File: file, Line: bad.Line, Err: ErrFormat, Expect: "quotes around whole cells only"}
		}
		if err != nil {
			return nil, sep, err
		}
		line, _ := r.FieldPos(0)
		cells = trimAll(cells)
		for i, c := range cells {
			cells[i] = unguardCell(c)
		}
		rows = append(rows, row{line, cells})
	}
}

// decode turns bytes into text: UTF-8 with or without a byte-order mark, or
// UTF-16 with one. Old line ends become new ones. Anything else is an error
// with its line, not a guess.
func decode(file string, data []byte) (string, error) {
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(data)
		if err != nil {
			return "", Problem{File: file, Err: ErrFormat, Expect: "UTF-16 text after its byte-order mark"}
		}
		data = wide
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if i := invalidAt(data); i >= 0 {
		line := 1 + bytes.Count(data[:i], []byte("\n"))
		return "", Problem{File: file, Line: line, Value: fmt.Sprintf("byte 0x%02x", data[i]), Err: ErrFormat, Expect: "UTF-8 text (save the file as UTF-8)"}
	}
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	return strings.ReplaceAll(text, "\r", "\n"), nil
}

// invalidAt is the position of the first byte that cannot be text; -1 if none.
func invalidAt(data []byte) int {
	for i := 0; i < len(data); {
		if data[i] == 0 {
			return i
		}
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// sniff picks the separator that cuts the header into most cells, counting
// outside quotes; the comma where there is none.
func sniff(text string) rune {
	line, _, _ := strings.Cut(strings.TrimLeft(text, "\n"), "\n")
	counts := map[rune]int{}
	quoted := false
	for _, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case !quoted:
			counts[r]++
		}
	}
	best := ','
	for _, r := range []rune{';', '\t'} {
		if counts[r] > counts[best] {
			best = r
		}
	}
	return best
}

// spreadsheetRows reads the first sheet as it is stored, so a date is a number,
// and the calendar by which it counts.
func spreadsheetRows(ctx context.Context, file string, data []byte) ([]row, calendar, error) {
	book, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		return nil, from1900, Problem{File: file, Err: ErrFormat, Expect: "an XLSX workbook"}
	}
	defer book.Close()
	sheets := book.GetSheetList()
	if len(sheets) == 0 {
		return nil, from1900, nil
	}
	days := from1900
	if p, err := book.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		days = calendar(*p.Date1904)
	}
	unreadable := Problem{File: file, Err: ErrFormat, Expect: "a readable first sheet"}
	sheet, err := book.Rows(sheets[0])
	if err != nil {
		return nil, days, unreadable
	}
	defer sheet.Close()
	var rows []row
	for sheet.Next() {
		if err := stopped(ctx, len(rows)); err != nil {
			return nil, days, err
		}
		cells, err := sheet.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, days, unreadable
		}
		rows = append(rows, row{len(rows) + 1, trimAll(cells)})
	}
	if sheet.Error() != nil {
		return nil, days, unreadable
	}
	return rows, days, nil
}

// joinHeads fills each header row to the right (merged cells leave only their
// first cell filled), except the last, and joins the rows with a space.
func joinHeads(heads []row) []string {
	width := 0
	for _, h := range heads {
		width = max(width, len(h.cells))
	}
	out := make([]string, width)
	for k, h := range heads {
		last := ""
		for i := range width {
			cell := ""
			if i < len(h.cells) {
				cell = h.cells[i]
			}
			if cell == "" && k < len(heads)-1 {
				cell = last
			}
			last = cell
			out[i] = strings.TrimSpace(out[i] + " " + cell)
		}
	}
	for len(out) > 0 && out[len(out)-1] == "" {
		out = out[:len(out)-1]
	}
	return out
}

func dropBlank(rows []row) []row {
	var out []row
	for _, r := range rows {
		if strings.Join(r.cells, "") != "" {
			out = append(out, r)
		}
	}
	return out
}

func trimAll(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.TrimSpace(c)
	}
	return out
}
