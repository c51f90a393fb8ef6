package grid

import (
	"context"
	"errors"
	"strconv"
	"strings"
)

// A Book is a workbook, XLSX or ODS: its sheets, each read by itself.
type Book struct {
	Sheets  []Sheet
	sheet   func(ctx context.Context, s Sheet, most int) (*Grid, error)
	archive *archive
}

// A Sheet is a sheet of a workbook: what it is called and where it is.
type Sheet struct {
	Name, id, part string
	Hidden         bool
}

// OpenBook opens a workbook, which is a ZIP archive.
func OpenBook(file string, data []byte) (*Book, error) {
	if isOpenDocument(file, data) {
		d, err := openOpenDocument(file, data)
		if err != nil {
			return nil, err
		}
		return &Book{d.sheets, d.read, &d.archive}, nil
	}
	w, err := openWorkbook(file, data)
	if err != nil {
		return nil, err
	}
	return &Book{w.sheets, w.read, &w.archive}, nil
}

func isOpenDocument(file string, data []byte) bool {
	a, err := openArchive(file, "ODS", data)
	return err == nil && a.parts[openContent] != nil
}

// Read reads a sheet to its end, or its first rows where most is above 0.
func (b *Book) Read(ctx context.Context, s Sheet, most int) (*Grid, error) {
	b.archive.left = MostBytes
	return b.sheet(ctx, s, most)
}

// SheetNamed finds a sheet by its name, or by its number from 1.
func SheetNamed(sheets []Sheet, name string) (int, error) {
	for i, s := range sheets {
		if s.Name == name {
			return i, nil
		}
	}
	if n, err := strconv.Atoi(name); err == nil && n >= 1 && n <= len(sheets) {
		return n - 1, nil
	}
	return 0, errors.New(strings.Join(SheetNames(sheets), ", "))
}

// SheetNames are the names of sheets.
func SheetNames(sheets []Sheet) []string {
	var out []string
	for _, s := range sheets {
		out = append(out, s.Name)
	}
	return out
}
