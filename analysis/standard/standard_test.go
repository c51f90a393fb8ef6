package standard

import (
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// data is the folder of data and expected results; its README names sources.
const data = "../../testdata/standards"

var (
	ctx      = context.Background()
	sampling = resample.Sampling{Seed: 1, Replicates: 2000}
)

// columns reads a CSV of testdata.
func columns(t testing.TB, name string) (heads []string, rows [][]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(data, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all[0], all[1:]
}

func column(t testing.TB, file, name string) []float64 {
	t.Helper()
	heads, rows := columns(t, file)
	var out []float64
	for j, h := range heads {
		if h != name {
			continue
		}
		for _, r := range rows {
			v, err := strconv.ParseFloat(r[j], 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, v)
		}
	}
	if out == nil {
		t.Fatalf("%s has no column %s", file, name)
	}
	return out
}

// expected are R's results by name.
type expected map[string]float64

func loadExpected(t testing.TB) expected {
	t.Helper()
	e := expected{}
	_, rows := columns(t, "expected.csv")
	for _, r := range rows {
		v, err := strconv.ParseFloat(r[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		e[r[0]] = v
	}
	return e
}

// near checks results to a tolerance, relative where they are above 1.
func (e expected) near(t testing.TB, name string, tolerance float64, got ...float64) {
	t.Helper()
	for i, g := range got {
		n := name
		if len(got) > 1 {
			n = fmt.Sprintf("%s.%d", name, i+1)
		}
		want, ok := e[n]
		if !ok {
			t.Fatalf("no expected value %q", n)
		}
		if !(math.Abs(g-want) <= tolerance*math.Max(1, math.Abs(want))) {
			t.Errorf("%s = %.14g, want %.14g", n, g, want)
		}
	}
}

func has(ws []analysis.Warning, code, part string) bool {
	for _, w := range ws {
		if w.Code == code && strings.Contains(w.Text, part) {
			return true
		}
	}
	return false
}

func closeTo(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// TestStatusChange: a standard of 50 s, between 45 and 55: times 40 (passes
// anywhere), 47 and 55 (inside), 60 (fails anywhere), one unknown.
func TestStatusChange(t *testing.T) {
	e := Estimate{Value: 50, Lower: 45, Upper: 55}
	values := []float64{40, 47, 55, 60, math.NaN()}
	if got, want := StatusChange(values, e, true), (Change{N: 4, Pass: 2, PassLower: 1, PassUpper: 3, Differ: 2}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got, want := StatusChange(values, e, false), (Change{N: 4, Pass: 2, PassLower: 3, PassUpper: 2, Differ: 1}); got != want {
		t.Errorf("higher is better: %+v, want %+v", got, want)
	}
}
