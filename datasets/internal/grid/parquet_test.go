package grid

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"

	"tyro/datasets/problem"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress"
)

// A parquetRow has a value of every kind that tables have.
type parquetRow struct {
	Trainee string    `parquet:"trainee,dict"`
	Attempt int32     `parquet:"attempt"`
	Seconds *float64  `parquet:"seconds,optional"`
	Single  float32   `parquet:"single"`
	Big     int64     `parquet:"big,delta"`
	Small   int32     `parquet:"small,delta"`
	Count   uint64    `parquet:"count"`
	Price   int64     `parquet:"price,decimal(2:18)"`
	Day     int32     `parquet:"day,date"`
	When    time.Time `parquet:"when,timestamp(microsecond)"`
	Passed  bool      `parquet:"passed"`
	Note    *string   `parquet:"note,optional,dict"`
	Split   float64   `parquet:"split,split"`
	Long    string    `parquet:"long,delta"`
}

func parquetRows(n int) []parquetRow {
	var out []parquetRow
	for i := range n {
		r := parquetRow{
			Trainee: fmt.Sprintf("T%d", i/7), Attempt: int32(i%7 + 1), Single: 0.1, Big: int64(i-3) * 1_000_000_007, Small: int32(i%5) * -7,
			Count: 1<<63 + uint64(i), Price: int64(i)*25 - 50, Day: 20486 + int32(i), When: time.Date(2026, 2, 2, 10, 30, i%60, 0, time.UTC),
			Passed: i%3 == 0, Split: float64(i) + 0.25, Long: strings.Repeat("ab", i%4) + fmt.Sprint(i),
		}
		if i%4 != 1 {
			v := 98.25 + float64(i)
			r.Seconds = &v
		}
		if i%5 == 0 {
			s := fmt.Sprintf("é%d", i)
			r.Note = &s
		}
		out = append(out, r)
	}
	return out
}

// cells are what a row must be read as.
func (r parquetRow) cells(i int) []string {
	seconds, note := "", ""
	if r.Seconds != nil {
		seconds = FormatNumber(*r.Seconds)
	}
	if r.Note != nil {
		note = *r.Note
	}
	when := r.When.Format("2006-01-02 15:04:05")
	if i%60 == 0 {
		when = "2026-02-02 10:30"
	}
	cents := fmt.Sprintf("%.2f", float64(r.Price)/100)
	return []string{
		r.Trainee, fmt.Sprint(r.Attempt), seconds, "0.1", fmt.Sprint(r.Big), fmt.Sprint(r.Small), fmt.Sprint(r.Count),
		strings.TrimRight(strings.TrimRight(cents, "0"), "."), time.Date(2026, 2, 2+i, 0, 0, 0, 0, time.UTC).Format(DateForm), when,
		strings.ToUpper(fmt.Sprint(r.Passed)), note, FormatNumber(r.Split), r.Long,
	}
}

func parquetFile(t testing.TB, rows []parquetRow, options ...parquet.WriterOption) []byte {
	t.Helper()
	var out bytes.Buffer
	w := parquet.NewGenericWriter[parquetRow](&out, options...)
	for from := 0; from < len(rows); from += 300 { // several pieces
		if _, err := w.Write(rows[from:min(from+300, len(rows))]); err != nil {
			t.Fatal(err)
		}
		if err := w.Flush(); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Files of another program, packed and paged in every way it knows, come back cell by cell.
func TestParquetOfAnotherProgram(t *testing.T) {
	rows := parquetRows(1000)
	for _, version := range []int{1, 2} {
		for _, c := range []compress.Codec{&parquet.Uncompressed, &parquet.Snappy, &parquet.Gzip, &parquet.Zstd} {
			data := parquetFile(t, rows, parquet.Compression(c), parquet.DataPageVersion(version), parquet.PageBufferSize(700))
			g, err := ReadParquet(t.Context(), "log.parquet", data)
			if err != nil {
				t.Errorf("version %d, %v: %v", version, c, err)
				continue
			}
			if g.Rows() != len(rows)+1 {
				t.Fatalf("version %d, %v: %d rows", version, c, g.Rows())
			}
			for i, r := range rows {
				for j, want := range r.cells(i) {
					if got := g.Text(i+1, j); got != want {
						t.Fatalf("version %d, %v: row %d, column %s: %q, want %q", version, c, i, g.Text(0, j), got, want)
					}
				}
			}
		}
	}
}

// What is packed in a way that is not read is named, and lists beside the table are noted.
func TestParquetNotRead(t *testing.T) {
	_, err := ReadParquet(t.Context(), "log.parquet", parquetFile(t, parquetRows(3), parquet.Compression(&parquet.Brotli)))
	if err == nil || !strings.Contains(err.Error(), "Brotli") {
		t.Errorf("Brotli: %v", err)
	}
	type nested struct {
		Trainee string   `parquet:"trainee"`
		Tags    []string `parquet:"tags,list"`
		Inner   struct {
			A, B int64
		} `parquet:"inner"`
		Seconds float64 `parquet:"seconds"`
	}
	var out bytes.Buffer
	if err := parquet.Write(&out, []nested{{Trainee: "T1", Tags: []string{"x", "y"}, Seconds: 98.5}}); err != nil {
		t.Fatal(err)
	}
	g, err := ReadParquet(t.Context(), "log.parquet", out.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if len(g.Cols) != 2 || len(g.Notes) != 1 || g.Notes[0].Code != "nested-columns" {
		t.Errorf("%d columns, notes %v", len(g.Cols), g.Notes)
	}
	for j := range g.Cols {
		want := map[string]string{"trainee": "T1", "seconds": "98.5"}[g.Text(0, j)]
		if g.Text(1, j) != want || want == "" {
			t.Errorf("column %s is %q", g.Text(0, j), g.Text(1, j))
		}
	}
}

// footer is a file with this description and nothing else.
func footer(about []byte) []byte {
	data := append([]byte("PAR1"), about...)
	data = binary.LittleEndian.AppendUint32(data, uint32(len(about)))
	return append(data, "PAR1"...)
}

// Wild descriptions are refused with a place, and in little memory.
func TestWildParquetIsRefused(t *testing.T) {
	sound := parquetFile(t, parquetRows(50), parquet.Compression(&parquet.Snappy))
	big := []byte{0xff, 0xff, 0xff, 0xff, 0x7f}
	wild := map[string][]byte{
		"only the mark":          []byte("PAR1PAR1PAR1"),
		"description too long":   append([]byte("PAR1aaaaaaaa\xff\xff\xff\x7f"), "PAR1"...),
		"a list of billions":     footer(append([]byte{0x29, 0xfc}, big...)),
		"a text of billions":     footer(append([]byte{0x68}, big...)),
		"structures without end": footer(bytes.Repeat([]byte{0x1c}, 100_000)),
		"lists in lists":         footer(bytes.Repeat([]byte{0x19, 0x19}, 50_000)),
		"rows in billions":       described(t, sound, []byte{0x16, 100, 0x19}, []byte{0x16, 0xfe, 0xff, 0xff, 0xff, 0x0f, 0x19}),
		"fewer rows than pieces": described(t, sound, []byte{0x16, 100, 0x19}, []byte{0x16, 98, 0x19}),
		"cut in the middle":      append(bytes.Clone(sound[:len(sound)/2]), sound[len(sound)/2+40:]...),
	}
	for what, data := range wild {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		g, err := ReadParquet(t.Context(), "log.parquet", data)
		runtime.ReadMemStats(&after)
		var p problem.Problem
		if err == nil || g != nil && err == nil || !errors.As(err, &p) || p.File == "" {
			t.Errorf("%s: %v", what, err)
		}
		if took := after.TotalAlloc - before.TotalAlloc; took > 64<<20 {
			t.Errorf("%s: took %d million bytes", what, took>>20)
		}
	}
}

// described is a file whose description was changed.
func described(t *testing.T, data, old, new []byte) []byte {
	t.Helper()
	from := len(data) - 8 - int(binary.LittleEndian.Uint32(data[len(data)-8:]))
	about := data[from : len(data)-8]
	if !bytes.Contains(about, old) {
		t.Fatal("nothing to change")
	}
	about = bytes.Replace(about, old, new, 1)
	out := binary.LittleEndian.AppendUint32(append(bytes.Clone(data[:from]), about...), uint32(len(about)))
	return append(out, "PAR1"...)
}

// A bit that was flipped in a page is found: pages carry a sum of their bytes.
func TestFlippedParquetIsRefused(t *testing.T) {
	sound := parquetFile(t, parquetRows(50), parquet.Compression(&parquet.Uncompressed))
	end := len(sound) - 8 - int(binary.LittleEndian.Uint32(sound[len(sound)-8:]))
	read := func(data []byte) (string, error) {
		g, err := ReadParquet(t.Context(), "log.parquet", data)
		var b strings.Builder
		for i := 0; err == nil && i < g.Rows(); i++ {
			for j := range g.Cols {
				b.WriteString(g.Text(i, j) + "|")
			}
		}
		return b.String(), err
	}
	want, err := read(sound)
	if err != nil {
		t.Fatal(err)
	}
	flipped := 0
	for from := 4; from < end; {
		head, n, err := readThrift(sound[from:end])
		if err != nil {
			break // what stands between pages and description
		}
		from += n
		size := int(head.field(3).number)
		for at := from; at < from+size; at += 5 {
			data := bytes.Clone(sound)
			data[at] ^= 0x10
			if got, err := read(data); err == nil {
				t.Errorf("byte %d of %d: read, as %d characters of %d", at, end, len(got), len(want))
			}
			flipped++
		}
		from += size
	}
	if flipped < 300 {
		t.Errorf("only %d bytes tried", flipped)
	}
}
