package agreement

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"tyro/analysis/resample"
)

var ctx = context.Background()

var nan = math.NaN()

// quick asks for few replicates where a test does not look at them.
var quick = Options{Sampling: resample.Sampling{Seed: 1, Replicates: 40}}

// near asks for agreement to 1e-9 relative, as the sources allow.
func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	within(t, what, got, want, 1e-9)
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// read loads a table of testdata without its first column; blank is NaN.
func read(t *testing.T, name string) Ratings {
	t.Helper()
	f, err := os.Open("../../testdata/agreement/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out Ratings
	for _, row := range rows[1:] {
		line := make([]float64, len(row)-1)
		for j, cell := range row[1:] {
			line[j] = math.NaN()
			if cell != "" {
				if line[j], err = strconv.ParseFloat(cell, 64); err != nil {
					t.Fatal(err)
				}
			}
		}
		out = append(out, line)
	}
	return out
}

// expand writes a table of two raters' counts as one row a subject.
func expand(counts [][]float64) Ratings {
	var out Ratings
	for i, row := range counts {
		for j, n := range row {
			for range int(n) {
				out = append(out, []float64{float64(i), float64(j)})
			}
		}
	}
	return out
}

func summarise(t *testing.T, r Ratings, scale string, o Options) map[string]Coefficient {
	t.Helper()
	s, err := Summarise(ctx, r, scale, o)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]Coefficient{}
	for _, c := range s.Coefficients {
		if _, twice := out[c.Name]; twice {
			t.Errorf("%s is listed twice", c.Name)
		}
		out[c.Name] = c
	}
	return out
}
