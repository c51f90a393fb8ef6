package models

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// The coefficients of 70 to 95 % curves computed in 50-digit decimal arithmetic;
// the three-decimal figures of operations-management texts for 80, 85 and 90 %
// agree with them.
func TestHandbook(t *testing.T) {
	file, err := os.Open("../testdata/curves/handbook.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows[1:] {
		v := make([]float64, len(r))
		for i, s := range r {
			if v[i], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		percent, n := v[0], int(v[2])
		unit, average := UnitTable(percent, n)[n-1], AverageTable(percent, n)[n-1]
		for i, got := range []float64{DoublingExponent(percent), 0, unit.Time, unit.Total, unit.Mean, average.Mean, average.Total, average.Time} {
			if i == 1 {
				continue
			}
			if want := v[i+1]; math.Abs(got-want) > 1e-12*math.Max(1, math.Abs(want)) {
				t.Errorf("%g %%, unit %d, %s: %v, want %v", percent, n, rows[0][i+1], got, want)
			}
		}
	}
	if got := DoublingPercent(-DoublingExponent(85)); math.Abs(got-85) > 1e-12 {
		t.Errorf("85 %% reads back as %v", got)
	}
}
