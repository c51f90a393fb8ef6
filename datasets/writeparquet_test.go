package datasets

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/parquet-go/parquet-go"

	"tyro/datasets/internal/grid"
)

// oddLog is a log with texts, gaps and numbers of all kinds.
func oddLog(r *rand.Rand, rows int) Log {
	l := Log{Measures: []string{"seconds", "depth, mm", "slips"}}
	texts := []string{"", "T1", "=T3", "'quoted", "Zoë", "007", "a \"b\"", "1,5"}
	for i := range rows {
		p := &Place{Trainee: texts[1+r.IntN(len(texts)-1)], Arm: texts[r.IntN(len(texts))], Task: "tie", Session: texts[r.IntN(3)]}
		date := ""
		if r.IntN(3) > 0 {
			date = fmt.Sprintf("2026-02-%02d", 1+r.IntN(28))
		}
		a := Attempt{Place: p, Number: float64(i + 1), date: l.dateOf(date), Outcome: Outcome(r.IntN(4))}
		var values []float64
		for range l.Measures {
			v := math.NaN()
			if r.IntN(4) > 0 {
				v = math.Ldexp(r.Float64(), r.IntN(60)-30)
			}
			values = append(values, v)
		}
		l.Add(a, values...)
	}
	return l
}

// cellsOf are the rows of a log as texts, in canonical order.
func cellsOf(l Log) []string {
	var out []string
	for _, a := range l.canonical() {
		line := fmt.Sprintf("%q %q %q %q %q %v", a.Trainee, a.Arm, a.Task, a.Session, l.Date(a), a.Number)
		for _, v := range l.Values(a) {
			line += " " + grid.FormatNumber(v)
		}
		out = append(out, line+" "+a.Outcome.String())
	}
	return out
}

// What is written is what the library that others use reads, bit by bit, and what we read.
func TestParquetOutIsTheLog(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, rows := range []int{1, 7, 3000} {
		l := oddLog(r, rows)
		var b bytes.Buffer
		if err := WriteParquet(&b, l); err != nil {
			t.Fatal(err)
		}
		f, err := parquet.OpenFile(bytes.NewReader(b.Bytes()), int64(b.Len()))
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, c := range f.Schema().Fields() {
			names = append(names, c.Name())
		}
		head := []string{"trainee", "arm", "task", "session"}
		if l.Dated() {
			head = append(head, "date")
		}
		if want := append(append(append(head, "attempt"), l.Measures...), "outcome"); !slices.Equal(names, want) {
			t.Fatalf("columns %q, want %q", names, want)
		}
		at := f.RowGroups()[0].Rows()
		got := make([]parquet.Row, rows)
		n := 0
		for n < rows {
			k, err := at.ReadRows(got[n:])
			if n += k; err != nil && n < rows {
				t.Fatal(err)
			}
		}
		for i, a := range l.canonical() {
			for j := range l.Measures {
				v := got[i][slices.Index(names, "attempt")+1+j]
				if v.IsNull() != math.IsNaN(l.Values(a)[j]) || !v.IsNull() && v.Double() != l.Values(a)[j] {
					t.Fatalf("row %d: %v, want %v", i, v, l.Values(a)[j])
				}
			}
		}
		g, err := grid.ReadParquet(t.Context(), "l.parquet", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		var cells []string
		for i := 1; i < g.Rows(); i++ {
			at := func(name string) string { return g.Text(i, slices.Index(names, name)) }
			date := ""
			if l.Dated() {
				date = at("date")
			}
			line := fmt.Sprintf("%q %q %q %q %q %s", at("trainee"), at("arm"), at("task"), at("session"), date, at("attempt"))
			for _, m := range l.Measures {
				v := grid.Number(at(m))
				if at(m) == "" {
					v = math.NaN()
				}
				line += " " + grid.FormatNumber(v)
			}
			cells = append(cells, line+" "+at("outcome"))
		}
		if want := cellsOf(l); !slices.Equal(cells, want) {
			for i := range want {
				if cells[i] != want[i] {
					t.Fatalf("row %d: %s\nwant %s", i, cells[i], want[i])
				}
			}
		}
	}
}
