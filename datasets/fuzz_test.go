package datasets

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/compress"
	"github.com/xuri/excelize/v2"
)

// withPlace checks that an error says where in which file.
func withPlace(t *testing.T, err error) {
	t.Helper()
	var p Problem
	if !errors.As(err, &p) || p.File == "" {
		t.Errorf("an error without a place: %v", err)
	}
}

// seeds are files of the corpus with this ending.
func seeds(f *testing.F, ending string) {
	paths, err := filepath.Glob(filepath.Join("..", "testdata", "intake", "files", "*"+ending))
	if err != nil || len(paths) == 0 {
		f.Fatalf("no files *%s: %v", ending, err)
	}
	for i, path := range paths {
		if i%8 != 0 && len(paths) > 20 || strings.Contains(path, "bomb") {
			continue // the corpus itself is read by TestIntakeCorpus
		}
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		if len(data) < 20000 {
			f.Add(data)
		}
	}
}

// fuzzLog reads any bytes as a log in the shapes that people have: they are read or
// refused with a place, and what is read keeps its promises and reads back as it was.
func fuzzLog(t *testing.T, name string, data []byte) {
	for _, lf := range []LogFile{
		{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}},
		{Columns: Columns{Trainee: "trainee"}},
		{Columns: Columns{Trainee: "trainee", Date: "date"}, Layout: Layout{SheetsAre: "session"}},
	} {
		s := &Study{single: true, Tasks: []Task{{Name: "t", Measure: Time, Column: "seconds", Better: "lower", Limit: 300}}}
		log, err := s.readLog(t.Context(), name, data, lf, true)
		if err != nil {
			withPlace(t, err)
			continue
		}
		for _, a := range log.Attempts {
			if a.Trainee == "" || !(a.Number >= 1) || a.Number != math.Trunc(a.Number) || a.Outcome == Done && !(log.Values(a)[0] > 0 && log.Values(a)[0] < 300) {
				t.Errorf("accepted %+v of %+v", a, *a.Place)
			}
			if d := log.Date(a); d != "" && !isDate(d) {
				t.Errorf("accepted the date %q", d)
			}
		}
		again(t, log)
	}
}

// again writes a log and reads it back.
func again(t *testing.T, log Log) {
	t.Helper()
	if len(log.Attempts) == 0 {
		return
	}
	var first, second bytes.Buffer
	if err := WriteLog(&first, log); err != nil {
		t.Fatal(err)
	}
	s := &Study{single: true, Tasks: []Task{{Name: "t", Measure: Time, Column: "seconds", Better: "lower", Limit: 300}}}
	lf := LogFile{Columns: Columns{Trainee: "trainee", Arm: "arm", Session: "session", Attempt: "attempt", Outcome: "outcome"}, Layout: Layout{Decimal: "point", Separator: "comma"}, Times: "seconds", OverLimit: "timeout"}
	if log.Dated() {
		lf.Columns.Date = "date"
	}
	back, err := s.readLog(t.Context(), "again.csv", first.Bytes(), lf, true)
	if err != nil {
		if strings.Contains(err.Error(), "one arm only") || strings.Contains(err.Error(), "could mean two things") {
			return // said of the first log too, or only to be asked
		}
		t.Errorf("what was written is refused: %v\n%s", err, first.String())
		return
	}
	if err := WriteLog(&second, back); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Errorf("written\n%q\nreads back as\n%q", first.String(), second.String())
	}
}

func FuzzText(f *testing.F) {
	seeds(f, ".csv")
	seeds(f, ".tsv")
	f.Fuzz(func(t *testing.T, data []byte) { fuzzLog(t, "log.csv", data) })
}

func FuzzWorkbook(f *testing.F) {
	seeds(f, ".xlsx")
	f.Fuzz(func(t *testing.T, data []byte) { fuzzLog(t, "log.xlsx", data) })
}

// FuzzSheet changes the XML of a sheet within a sound workbook, which bytes changed in the
// archive rarely reach.
func FuzzSheet(f *testing.F) {
	f.Add(`<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>trainee</t></is></c><c r="B1" t="inlineStr"><is><t>attempt</t></is></c><c r="C1" t="inlineStr"><is><t>seconds</t></is></c></row><row r="2" hidden="1"><c r="A2"><v>7</v></c><c r="B2"><v>1</v></c><c r="C2" s="1"><f>1+1</f><v>0.001</v></c></row></sheetData><mergeCells><mergeCell ref="A2:A3"/></mergeCells></worksheet>`)
	f.Fuzz(func(t *testing.T, sheet string) {
		if len(sheet) > 1<<16 {
			return
		}
		fuzzLog(t, "log.xlsx", zipped(t, map[string]string{
			"xl/workbook.xml":            `<workbook><sheets><sheet name="a" id="r1"/></sheets></workbook>`,
			"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="r1" Type="x/worksheet" Target="s.xml"/><Relationship Id="r2" Type="x/styles" Target="t.xml"/></Relationships>`,
			"xl/t.xml":                   `<styleSheet><cellXfs><xf numFmtId="0"/><xf numFmtId="46"/><xf numFmtId="14"/><xf numFmtId="9"/></cellXfs></styleSheet>`,
			"xl/s.xml":                   sheet,
		}))
	})
}

func FuzzOpenDocument(f *testing.F) {
	seeds(f, ".ods")
	f.Fuzz(func(t *testing.T, data []byte) { fuzzLog(t, "log.ods", data) })
}

func FuzzNumber(f *testing.F) {
	for _, s := range []string{"1", "1,5", "1.384", "1 384,5", "1e3", "-0.5", "1'384.5", ""} {
		f.Add(s, true)
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, s string, comma bool) {
		n := notation{"point", true}
		if comma {
			n.decimal = "comma"
		}
		v, ok := n.number(s)
		if ok && (math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(s, "xX_nN")) {
			t.Errorf("%q is %v", s, v)
		}
		var votes votes
		votes.add(s)
		votes.settle(votes, comma)
	})
}

func FuzzDuration(f *testing.F) {
	for _, s := range []string{"1:30", "1:30.5", "0:01:30", "1m30s", "1'30\"", "PT1M30S", "1.5 min", "98 sec.", "1899-12-31 00:01:30", "1.38"} {
		for i := range TimeForms() {
			f.Add(s, i)
		}
	}
	f.Fuzz(func(t *testing.T, s string, form int) {
		forms := append(TimeForms(), "")
		if form < 0 || form >= len(forms) {
			return
		}
		if v, ok := duration(s, notation{"point", false}, forms[form]); ok && (math.IsNaN(v) || math.IsInf(v, 0) || v < 0 && !strings.Contains(s, "-")) {
			t.Errorf("%q as %s is %v", s, forms[form], v)
		}
	})
}

func FuzzDate(f *testing.F) {
	for _, s := range []string{"2026-02-28", "28.02.2026", "02/28/26 09:30", "2026-02-28T09:30:15Z", "28 Feb 2026", "46055.5"} {
		f.Add(s, "day-first")
	}
	f.Fuzz(func(t *testing.T, s, order string) {
		r := logReader{files: []source{{spreadsheet: true}}, dateOrders: []string{order}}
		if d, ok := r.dateOf(0, s); ok && !isDate(d) {
			t.Errorf("%q is the date %q", s, d)
		}
	})
}

// FuzzStudyFile reads any bytes as a study file: read, or refused with a place, and soon.
func FuzzStudyFile(f *testing.F) {
	for _, s := range []string{"title: t\nattempts: {file: log.csv}\ntasks: [{name: a, column: x}]\n", "a: &a [*a]\n", "tasks: [[[[[[", "codes: {DNF: timeout}\nprivacy: {withdrawn: [a]}\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, StudyFile), data, 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := Plan(t.Context(), dir); err != nil {
			withPlace(t, err)
		}
	})
}

func FuzzRatings(f *testing.F) {
	seeds(f, "ratings-long.csv")
	seeds(f, "ratings-wide.csv")
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, wide := range []bool{false, true} {
			r, err := ReadRatings("ratings.csv", data, RatingsFile{Wide: wide})
			if err != nil {
				withPlace(t, err)
				continue
			}
			if len(r.Items) == 0 {
				t.Error("read without items")
			}
		}
	})
}

// FuzzKey reads any bytes as a key: read, or refused with a place; read, it gives the
// codes that stand in it.
func FuzzKey(f *testing.F) {
	f.Add([]byte("role,name,code\ntrainee,Quill,T-7F3K2C\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		path := filepath.Join(t.TempDir(), "key.csv")
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		k, err := OpenKey(path)
		if err != nil {
			withPlace(t, err)
			return
		}
		if _, err := k.of("trainee", "somebody new"); err != nil {
			t.Error(err)
		}
	})
}

// A workbook that another library writes with everything in it reads.
func TestWrittenByOthers(t *testing.T) {
	f := excelize.NewFile()
	for i, r := range [][]any{{"trainee", "attempt", "seconds"}, {"T1", 1, 90.5}} {
		if err := f.SetSheetRow("Sheet1", []string{"A1", "A2"}[i], &r); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.AddComment("Sheet1", excelize.Comment{Cell: "C2", Author: "x", Text: "a comment"}); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	tb, err := readTable(t.Context(), "log.xlsx", b.Bytes(), Layout{}, []string{"trainee"})
	if err != nil || tb.rows() != 1 || tb.text(0, 2) != "90.5" {
		t.Errorf("read %v, %v", tb, err)
	}
}

func FuzzParquet(f *testing.F) {
	type row struct {
		Trainee string   `parquet:"trainee,dict"`
		Attempt int32    `parquet:"attempt,delta"`
		Seconds *float64 `parquet:"seconds,optional"`
	}
	v := 98.5
	for _, c := range []compress.Codec{&parquet.Uncompressed, &parquet.Snappy, &parquet.Gzip, &parquet.Zstd} {
		for _, version := range []int{1, 2} {
			var out bytes.Buffer
			w := parquet.NewGenericWriter[row](&out, parquet.Compression(c), parquet.DataPageVersion(version))
			if _, err := w.Write([]row{{"T1", 1, &v}, {"T1", 2, nil}, {"T2", 1, &v}}); err != nil {
				f.Fatal(err)
			}
			if err := w.Close(); err != nil {
				f.Fatal(err)
			}
			f.Add(out.Bytes())
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		fuzzLog(t, "log.parquet", data)
	})
}
