package paper

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"tyro/reports"
)

// odd is a table with cells that are hard to write down.
func odd() reports.Table {
	type row struct {
		name  string
		value float64
		count int
	}
	rows := []row{{`a < b & "c"`, 1.5, 3}, {"χ² – ≥, µ", -0.25, 0}, {"", 1e6, 12}, {"  spaced  out ", 0, 1}, {"=1+1", 2, 2}}
	return reports.Table{Name: "odd", Title: "Odd cells", Notes: []string{"A note with <tags> & more."}, Columns: []reports.Column{
		reports.Words("name", "who & what", rows, func(r row) string { return r.name }),
		reports.Numbers("value", "value", rows, func(r row) float64 { return r.value }, nil),
		reports.Counts("count", "n", rows, func(r row) int { return r.count }),
	}}
}

// The parts of the file are XML, and its text is there in order.
func TestDOCXIsWellFormed(t *testing.T) {
	data, err := tableFile("Table 1. Odd cells", odd())
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil || len(z.File) != 3 {
		t.Fatalf("%d parts, %v", len(z.File), err)
	}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		d := xml.NewDecoder(r)
		for {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
		}
	}
}

// LibreOffice opens the file, and what it saves has the same table, with title and note.
func TestDOCXOpensElsewhere(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("no LibreOffice here (Debian: libreoffice-writer): DOCX files are not opened by another program")
	}
	dir := t.TempDir()
	from := filepath.Join(dir, "odd.docx")
	data, err := tableFile("Table 1. Odd cells", odd())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(from, data, 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 3*time.Minute)
	defer cancel()
	out, err := exec.CommandContext(ctx, office, "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to", "odt", "--outdir", dir, from).CombinedOutput()
	saved, readErr := os.ReadFile(filepath.Join(dir, "odd.odt"))
	if err != nil || readErr != nil {
		t.Skipf("LibreOffice has no word processor here (Debian: libreoffice-writer): %v %s", err, out)
	}
	rows, paragraphs := openDocumentTable(t, saved)
	heads, _, want := odd().Shown()
	want = slices.Insert(want, 0, heads)
	if len(rows) != len(want) {
		t.Fatalf("%d rows, want %d: %q", len(rows), len(want), rows)
	}
	for i := range want {
		for k := range want[i] {
			if got := rows[i][k]; got != want[i][k] {
				t.Errorf("row %d, column %d: %q, want %q", i, k, got, want[i][k])
			}
		}
	}
	if !slices.Contains(paragraphs, "Table 1. Odd cells") || !slices.Contains(paragraphs, "A note with <tags> & more.") {
		t.Errorf("title or note missing: %q", paragraphs)
	}
}

// openDocumentTable reads the cells of the table, and the paragraphs, of an OpenDocument
// text (ISO/IEC 26300): <text:s text:c="2"/> stands for two spaces.
func openDocumentTable(t *testing.T, data []byte) (rows [][]string, paragraphs []string) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open("content.xml")
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	inCell := false
	for d := xml.NewDecoder(f); ; {
		token, err := d.Token()
		if err == io.EOF {
			return rows, paragraphs
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "table-row":
				rows = append(rows, nil)
			case "table-cell":
				inCell = true
			case "p":
				text.Reset()
			case "s":
				n := 1
				for _, a := range e.Attr {
					if a.Name.Local == "c" {
						n = int(a.Value[0] - '0')
					}
				}
				text.WriteString(strings.Repeat(" ", n))
			}
		case xml.CharData:
			text.Write(e)
		case xml.EndElement:
			switch {
			case e.Name.Local == "table-cell":
				inCell = false
			case e.Name.Local == "p" && inCell:
				rows[len(rows)-1] = append(rows[len(rows)-1], text.String())
			case e.Name.Local == "p":
				paragraphs = append(paragraphs, text.String())
			}
		}
	}
}
