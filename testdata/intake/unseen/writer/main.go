// Command writer writes the sixth to the twenty-eighth set of files that nobody had tried, with their truth.
//
//	go run ./testdata/intake/unseen/writer
//
// Each file is built from a small log made up here; its truth (what the person who made the file
// meant, or what must be doubted) stands beside it, written before anything had read the file.
// truth-6.json and the like hold the truths as they were then, sha256-6.txt and the
// like the hashes of all files and truths. The verdicts:
//
//	read    nothing can be doubted: the attempts come out as listed
//	doubt   must be asked about, or read with a warning that points at what is listed under about
//	refuse  cannot be read
package main

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// An at is one attempt as it was made.
type at struct {
	who     string
	n       int
	value   float64
	outcome string
}

func (a at) MarshalJSON() ([]byte, error) {
	var v any
	if !math.IsNaN(a.value) {
		v = a.value
	}
	return json.Marshal([]any{a.who, a.n, v, a.outcome})
}

// A truth is a file and what it means.
type truth struct {
	Folder   string            `json:"folder"`
	File     string            `json:"file"`
	Flags    []string          `json:"flags"`
	Verdict  string            `json:"verdict"`
	About    string            `json:"about,omitempty"`
	Way      []string          `json:"way,omitempty"`
	Attempts []at              `json:"attempts,omitempty"`
	Arms     map[string]string `json:"arms,omitempty"`
	Experts  []at              `json:"experts,omitempty"`
	Ratings  [][4]string       `json:"ratings,omitempty"`

	files map[string][]byte
}

var all []*truth

// words cuts flags at spaces; ~ stands for a space within one.
func words(s string) []string {
	w := strings.Fields(s)
	for i := range w {
		w[i] = strings.ReplaceAll(w[i], "~", " ")
	}
	return w
}

func put(verdict, folder, file, flags string, data []byte, log []at, about string) *truth {
	for _, t := range all {
		if t.Folder == folder {
			panic("twice: " + folder)
		}
	}
	t := &truth{Folder: folder, File: file, Flags: words(flags), Verdict: verdict, About: about, Attempts: log,
		files: map[string][]byte{file: data}}
	if t.Flags == nil {
		t.Flags = []string{}
	}
	all = append(all, t)
	return t
}

func read(folder, file, flags string, data []byte, log []at) *truth {
	return put("read", folder, file, flags, data, log, "")
}

func doubt(folder, file, flags string, data []byte, log []at, about string) *truth {
	return put("doubt", folder, file, flags, data, log, about)
}

func refuse(folder, file, flags string, data []byte, about string) *truth {
	return put("refuse", folder, file, flags, data, nil, about)
}

// log makes up attempts: a time that falls with practice, in tenths of a second.
func log(seed, n int, who ...string) []at {
	var out []at
	r := uint32(seed)*2654435761 + 12345
	for _, w := range who {
		r = r*1664525 + 1013904223
		start, plateau := 130+float64(r>>16%80), 50+float64(r>>9%30)
		for i := 1; i <= n; i++ {
			r = r*1664525 + 1013904223
			v := plateau + (start-plateau)*math.Pow(float64(i), -0.7) + float64(r>>12%190)/10 - 9
			out = append(out, at{w, i, math.Round(v*10) / 10, "done"})
		}
	}
	return out
}

// with is a copy of a log, each attempt changed.
func with(l []at, f func(a *at)) []at {
	out := slices.Clone(l)
	for i := range out {
		f(&out[i])
	}
	return out
}

// rounded is a log in whole units of this size.
func rounded(l []at, unit float64) []at {
	return with(l, func(a *at) { a.value = math.Round(math.Round(a.value/unit)*unit*1000) / 1000 })
}

// lines is a text table: a head and a row an attempt or a rating.
func lines[T at | [4]string](head string, of []T, row func(r T) string) []byte {
	var b bytes.Buffer
	b.WriteString(head + "\n")
	for _, r := range of {
		b.WriteString(row(r) + "\n")
	}
	return b.Bytes()
}

// plain is a row of the usual long form with this time.
func plain(sep string, f func(v float64) string) func(a at) string {
	return func(a at) string { return fmt.Sprint(a.who, sep, a.n, sep, f(a.value)) }
}

func point(v float64) string { return fmt.Sprint(v) }
func comma(v float64) string { return strings.ReplaceAll(fmt.Sprint(v), ".", ",") }

// minutes writes seconds by a format of minutes and seconds.
func minutes(format string) func(v float64) string {
	return func(v float64) string {
		tenths := int(math.Round(v * 10))
		return fmt.Sprintf(format, tenths/600, tenths%600/10, tenths%10)
	}
}

// wide is a text table with a row a trainee.
func wide(head, sep string, l []at, cell func(v float64) string) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i, a := range l {
		if i == 0 || a.who != l[i-1].who {
			b.WriteString("\n" + a.who)
		}
		b.WriteString(sep + cell(a.value))
	}
	b.WriteString("\n")
	return b.Bytes()
}

// A book is a workbook as it is being written.
type book struct {
	*excelize.File
	sheet string
}

func newBook(sheet string) *book {
	f := excelize.NewFile()
	must(f.SetSheetName("Sheet1", sheet))
	return &book{f, sheet}
}

// row writes cells from this place on.
func (b *book) row(cell string, cells ...any) { must(b.SetSheetRow(b.sheet, cell, &cells)) }

// next starts another sheet.
func (b *book) next(sheet string) {
	_, err := b.NewSheet(sheet)
	must(err)
	b.sheet = sheet
}

// log writes a head and a row an attempt.
func (b *book) log(head []any, l []at, row func(a at) []any) {
	b.row("A1", head...)
	for i, a := range l {
		b.row(fmt.Sprint("A", i+2), row(a)...)
	}
}

func (b *book) bytes() []byte {
	var out bytes.Buffer
	must(b.Write(&out))
	return out.Bytes()
}

// ods is an OpenDocument spreadsheet of one table: rows of cells as XML.
func ods(rows ...string) []byte {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	part := func(name, text string) {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		must(err)
		_, err = w.Write([]byte(text))
		must(err)
	}
	part("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
	part("META-INF/manifest.xml", `<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.2">
<manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/>
<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>`)
	part("content.xml", `<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.2"><office:body><office:spreadsheet><table:table table:name="Tabelle1">`+
		strings.Join(rows, "\n")+`</table:table></office:spreadsheet></office:body></office:document-content>`)
	must(z.Close())
	return out.Bytes()
}

// odsRow is a row of an OpenDocument table.
func odsRow(cells ...string) string {
	return "<table:table-row>" + strings.Join(cells, "") + "</table:table-row>"
}

func odsText(s string) string {
	return `<table:table-cell office:value-type="string"><text:p>` + s + `</text:p></table:table-cell>`
}

func odsNumber(v float64) string {
	return fmt.Sprintf(`<table:table-cell office:value-type="float" office:value="%v"><text:p>%v</text:p></table:table-cell>`, v, v)
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}

// study is a folder with a log, and what else the study file names.
func study(t *truth, yaml string, more map[string][]byte) {
	t.files = map[string][]byte{"study.yaml": []byte(`title: Peg transfer
purpose: research
decides: the head of the lab
attempts:
  file: log.csv
` + yaml + `tasks:
  - name: peg
    measure: time
    column: seconds
    unit: s
    better: lower
    limit: 300
`), "log.csv": lines("trainee,attempt,seconds", t.Attempts, plain(",", point))}
	for name, data := range more {
		t.files[name] = data
	}
}

func main() {
	root := "testdata/intake/unseen"
	sets := []struct {
		number string
		make   func()
	}{{"6", sixth}, {"7", seventh}, {"8", eighth}, {"9", ninth}, {"10", tenth}, {"11", eleventh}, {"12", twelfth}, {"13", thirteenth}, {"14", fourteenth}, {"15", fifteenth}, {"16", sixteenth}, {"17", seventeenth}, {"18", eighteenth}, {"19", nineteenth}, {"20", twentieth}, {"21", twentyfirst}, {"22", twentysecond}, {"23", twentythird}, {"24", twentyfourth}, {"25", twentyfifth}, {"26", twentysixth}, {"27", twentyseventh}, {"28", twentyeighth}}
	for _, set := range sets {
		all = nil
		set.make()
		write(root, set.number)
	}
}

// write writes the files of a set that are not there yet, the truth and the hashes of both.
func write(root, set string) {
	var hashes, truths bytes.Buffer
	for _, t := range all {
		folder := filepath.Join(root, "files", t.Folder)
		must(os.MkdirAll(folder, 0o755))
		for name, data := range t.files {
			path := filepath.Join(folder, name)
			if _, err := os.Stat(path); err == nil && (strings.HasSuffix(name, ".xlsx") || strings.HasSuffix(name, ".ods")) {
				continue // a workbook holds the time it was made
			}
			must(os.WriteFile(path, data, 0o644))
		}
		must(filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := os.ReadFile(path)
			fmt.Fprintf(&hashes, "%x  %s\n", sha256.Sum256(data), path)
			return err
		}))
		line, err := json.Marshal(t)
		must(err)
		fmt.Fprintf(&hashes, "%x  truth of %s\n", sha256.Sum256(line), t.Folder)
		truths.Write(append(line, ",\n"...))
	}
	path := filepath.Join(root, "truth-"+set+".json")
	if _, err := os.Stat(path); err != nil { // the truth and the hashes stay as they were before the first run
		text := "[\n" + strings.TrimSuffix(truths.String(), ",\n") + "\n]\n"
		must(os.WriteFile(path, []byte(text), 0o644))
		must(os.WriteFile(filepath.Join(root, "sha256-"+set+".txt"), hashes.Bytes(), 0o644))
	}
	fmt.Println("set", set, len(all), "files")
}
