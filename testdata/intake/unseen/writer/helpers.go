package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf16"

	"github.com/parquet-go/parquet-go"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
)

// numbered makes n codes or heads by a format, such as P01 to P08.
func numbered(format string, n int) []string { return numberedFrom(format, 1, n) }

// numberedFrom is numbered with another first number.
func numberedFrom(format string, from, n int) []string {
	var out []string
	for i := range n {
		out = append(out, fmt.Sprintf(format, from+i))
	}
	return out
}

// headLine is the head of a wide text table: the first column and n numbered ones.
func headLine(first, sep, format string, n int) string {
	return strings.Join(append([]string{first}, numbered(format, n)...), sep)
}

// headCells is the head of a wide sheet: the first column and n numbered ones.
func headCells(first, format string, n int) []any {
	out := []any{first}
	for _, s := range numbered(format, n) {
		out = append(out, s)
	}
	return out
}

// without is a log, or other rows, without some of them.
func without[row any](rows []row, gone func(r row) bool) []row {
	return slices.DeleteFunc(slices.Clone(rows), gone)
}

// only is some rows of a log, or of others, alone.
func only[row any](rows []row, stays func(r row) bool) []row {
	return without(rows, func(r row) bool { return !stays(r) })
}

// attemptsOf are the attempts of one trainee.
func attemptsOf(l []at, who string) []at { return only(l, func(a at) bool { return a.who == who }) }

// traineesOf are the trainees of a log in their order.
func traineesOf(l []at) []string {
	var out []string
	for _, a := range l {
		if !slices.Contains(out, a.who) {
			out = append(out, a.who)
		}
	}
	return out
}

// stopped is a log whose attempts were stopped at the limit.
func stopped(l []at, limit float64) []at {
	return with(l, func(a *at) {
		if a.value >= limit {
			a.value, a.outcome = limit, "timeout"
		}
	})
}

// rated gives a truth its ratings.
func rated(t *truth, ratings [][4]string) { t.Ratings = ratings }

// number reads a number.
func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	must(err)
	return v
}

// date is a day of the year 2026.
func date(month time.Month, day int) time.Time {
	return time.Date(2026, month, day, 0, 0, 0, 0, time.UTC)
}

// fixed writes a number with so many decimals.
func fixed(decimals int) func(v float64) string {
	return func(v float64) string { return fmt.Sprintf("%.*f", decimals, v) }
}

// fixedComma is fixed with a decimal comma.
func fixedComma(decimals int) func(v float64) string {
	return func(v float64) string { return strings.ReplaceAll(fixed(decimals)(v), ".", ",") }
}

// oneDigit always writes one decimal.
func oneDigit(v float64) string { return fixed(1)(v) }

// oneDigitComma is oneDigit with a decimal comma.
func oneDigitComma(v float64) string { return fixedComma(1)(v) }

// wholeHalfEven rounds to a whole number, a half to the even one.
func wholeHalfEven(v float64) string { return fmt.Sprintf("%.0f", v) }

// wholeHalfUp rounds to a whole number, a half up.
func wholeHalfUp(v float64) string { return fmt.Sprint(int(math.Round(v))) }

// minutesCut writes minutes and seconds, parts of a second cut off.
func minutesCut(v float64) string { return fmt.Sprintf("%d:%02d", int(v)/60, int(v)%60) }

// ratingLines is a text table with a row a rating, the item left out where there is none.
func ratingLines(head, sep string, ratings [][4]string) []byte {
	return lines(head, ratings, func(r [4]string) string {
		return strings.Join(without(r[:], func(s string) bool { return s == "" }), sep)
	})
}

// joined is the cells of a row of a text table.
func joined(sep string, cells ...any) string {
	var texts []string
	for _, c := range cells {
		texts = append(texts, fmt.Sprint(c))
	}
	return strings.Join(texts, sep)
}

// lineEnds writes other line ends.
func lineEnds(text []byte, end string) []byte {
	return bytes.ReplaceAll(text, []byte("\n"), []byte(end))
}

// crlf ends lines with a carriage return and a line feed.
func crlf(text []byte) []byte { return lineEnds(text, "\r\n") }

// inUTF16 is text in UTF-16, with a byte order mark if asked for.
func inUTF16(order binary.AppendByteOrder, mark bool, text []byte) []byte {
	var out []byte
	if mark {
		out = order.AppendUint16(out, 0xFEFF)
	}
	for _, u := range utf16.Encode([]rune(string(text))) {
		out = order.AppendUint16(out, u)
	}
	return out
}

// encoded is text in another encoding.
func encoded(e encoding.Encoding, text []byte) []byte {
	out, err := e.NewEncoder().Bytes(text)
	must(err)
	return out
}

// latin is text in Latin-1.
func latin(text []byte) []byte { return encoded(charmap.ISO8859_1, text) }

// style gives cells a style.
func (b *book) style(s *excelize.Style, from, to string) {
	id, err := b.NewStyle(s)
	must(err)
	must(b.SetCellStyle(b.sheet, from, to, id))
}

// format gives cells a number format.
func (b *book) format(from, to, format string) {
	b.style(&excelize.Style{CustomNumFmt: &format}, from, to)
}

// cellName names a cell by column and row, both from 1.
func cellName(col, row int) string {
	name, err := excelize.CoordinatesToCellName(col, row)
	must(err)
	return name
}

// put writes a cell by column and row.
func (b *book) put(col, row int, v any) { must(b.SetCellValue(b.sheet, cellName(col, row), v)) }

// wide writes a row a trainee from this row on, an attempt without a cell left out, and returns the row below.
func (b *book) wide(row int, l []at, cell func(a at) any) int {
	col := 1
	for i, a := range l {
		if i == 0 || a.who != l[i-1].who {
			if i > 0 {
				row++
			}
			col = 1
			b.put(1, row, a.who)
		}
		col++
		if v := cell(a); v != nil {
			b.put(col, row, v)
		}
	}
	return row + 1
}

// longRow is a row of the usual long sheet: who, which attempt, its value.
func longRow(a at) []any { return []any{a.who, a.n, a.value} }

// value is the cell of an attempt with its value as it is.
func value(a at) any { return a.value }

// ofDay is the cell of an attempt with its time as a spreadsheet keeps one: a part of a day.
func ofDay(a at) any { return a.value / 86400 }

// kept is a file of the sets as it stands on the disk, or made now if it is not there.
func kept(folder, file string, make func() []byte) []byte {
	if data, err := os.ReadFile(filepath.Join("testdata/intake/unseen/files", folder, file)); err == nil {
		return data
	}
	return make()
}

// office is a workbook as LibreOffice saves it under this name. It is kept once made, since it
// holds the time.
func office(folder, file string, workbook []byte) []byte {
	return officeFrom(folder, file, ".xlsx", strings.TrimPrefix(filepath.Ext(file), "."), workbook)
}

// officeFrom is office for another kind of source, or for a kind of file that its name does not say.
func officeFrom(folder, file, from, kind string, source []byte) []byte {
	return kept(folder, file, func() []byte {
		dir, err := os.MkdirTemp("", "office")
		must(err)
		defer os.RemoveAll(dir)
		stem := strings.TrimSuffix(file, filepath.Ext(file))
		in, out := filepath.Join(dir, stem+from), filepath.Join(dir, "out")
		must(os.WriteFile(in, source, 0o644))
		said, err := exec.Command("soffice", "-env:UserInstallation=file://"+dir+"/profile", "--headless",
			"--convert-to", kind, "--outdir", out, in).CombinedOutput()
		if err != nil {
			panic(string(said))
		}
		ext, _, _ := strings.Cut(kind, ":")
		data, err := os.ReadFile(filepath.Join(out, stem+"."+ext))
		must(err)
		return data
	})
}

// repacked is a zip file with the text of each part changed.
func repacked(data []byte, change func(part, text string) string) []byte {
	in, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	must(err)
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range in.File {
		r, err := f.Open()
		must(err)
		text, err := io.ReadAll(r)
		must(err)
		w, err := z.CreateHeader(&zip.FileHeader{Name: f.Name, Method: f.Method})
		must(err)
		_, err = io.WriteString(w, change(f.Name, string(text)))
		must(err)
	}
	must(z.Close())
	return out.Bytes()
}

// partChanged is a workbook with the text of one part changed.
func partChanged(workbook []byte, part string, change func(text string) string) []byte {
	changed := false
	out := repacked(workbook, func(name, text string) string {
		if name != part {
			return text
		}
		after := change(text)
		changed = after != text
		return after
	})
	if !changed {
		panic("nothing changed in " + part)
	}
	return out
}

// partReplaced is a workbook with a text in one part replaced once.
func partReplaced(workbook []byte, part, from, to string) []byte {
	return partChanged(workbook, part, func(text string) string { return strings.Replace(text, from, to, 1) })
}

// parquetOf is a Parquet file of these rows.
func parquetOf[T any](rows []T, options ...parquet.WriterOption) []byte {
	var out bytes.Buffer
	must(parquet.Write(&out, rows, options...))
	return out.Bytes()
}

// parquetKept is parquetOf, kept once made.
func parquetKept[T any](folder, file string, rows []T) []byte {
	return kept(folder, file, func() []byte { return parquetOf(rows) })
}
