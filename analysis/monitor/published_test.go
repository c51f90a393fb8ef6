package monitor

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// printed fails unless got rounds to the figure as printed.
func printed(t *testing.T, what string, got float64, want string) {
	t.Helper()
	v, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	places := 0
	if _, after, ok := strings.Cut(want, "."); ok {
		places = len(after)
	}
	if half := 0.5000001 * math.Pow10(-places); !(math.Abs(got-v) <= half) {
		t.Errorf("%s = %.6g, printed %s", what, got, want)
	}
}

// nearlyPrinted fails unless got lies within one unit of the last digit printed,
// and reports whether it rounds to the figure: tables of run lengths from chains
// with a finite number of states may be off by one there.
func nearlyPrinted(t *testing.T, what string, got float64, want string) bool {
	t.Helper()
	v, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	places := 0
	if _, after, ok := strings.Cut(want, "."); ok {
		places = len(after)
	}
	off := math.Abs(got-v) * math.Pow10(places)
	if !(off <= 1) {
		t.Errorf("%s = %.6g, printed %s", what, got, want)
	}
	return off <= 0.5000001
}

var publishedShifts = []float64{0, 0.25, 0.5, 0.75, 1, 1.5, 2, 2.5, 3, 4}

// Two-sided normal sums, k = 0.5: Lucas (1976), Journal of Quality Technology
// 8, 1-12, and with the headstart h/2 Lucas and Crosier (1982), Technometrics
// 24, 199-205.
func TestPublishedCUSUMRunLengths(t *testing.T) {
	rounds := 0
	for _, c := range []struct {
		h, start float64
		mean     string
	}{
		{4, 0, "168 74.2 26.6 13.3 8.38 4.75 3.34 2.62 2.19 1.71"},
		{5, 0, "465 139 38.0 17.0 10.4 5.75 4.01 3.11 2.57 2.01"},
		{4, 2, "149 62.7 20.1 8.97 5.29 2.86 2.01 1.59 1.32 1.07"},
		{5, 2.5, "430 122 28.7 11.2 6.35 3.37 2.36 1.86 1.54 1.16"},
	} {
		for i, want := range strings.Fields(c.mean) {
			what := fmt.Sprintf("h %g start %g shift %g", c.h, c.start, publishedShifts[i])
			if nearlyPrinted(t, what, NormalCUSUM{0.5, c.h, c.start}.MeanTwoSided(publishedShifts[i]), want) {
				rounds++
			}
		}
	}
	if rounds < 39 {
		t.Errorf("%d of 40 figures round to the printed one, want 39", rounds)
	}
}

// Two-sided weighted means: Lucas and Saccucci (1990), Technometrics 32, 1-12.
func TestPublishedEWMARunLengths(t *testing.T) {
	rounds := 0
	for _, c := range []struct {
		lambda, l float64
		mean      string
	}{
		{0.4, 3.054, "500 224 71.2 28.4 14.3 5.9 3.5 2.5 2.0 1.4"},
		{0.25, 2.998, "500 170 48.2 20.1 11.1 5.5 3.6 2.7 2.3 1.7"},
		{0.2, 2.962, "500 150 41.8 18.2 10.5 5.5 3.7 2.9 2.4 1.9"},
		{0.1, 2.814, "500 106 31.3 15.9 10.3 6.1 4.4 3.4 2.9 2.2"},
		{0.05, 2.615, "500 84.1 28.8 16.4 11.4 7.1 5.2 4.2 3.5 2.7"},
	} {
		for i, want := range strings.Fields(c.mean) {
			what := fmt.Sprintf("lambda %g shift %g", c.lambda, publishedShifts[i])
			if nearlyPrinted(t, what, NormalEWMA{Lambda: c.lambda, L: c.l}.Mean(publishedShifts[i]), want) {
				rounds++
			}
		}
	}
	if rounds < 46 {
		t.Errorf("%d of 50 figures round to the printed one, want 46", rounds)
	}
}

// The worked example of Montgomery, Introduction to Statistical Quality Control
// (chapter on cumulative sums and weighted means): 20 values around 10 and 10
// around 11, target 10, standard deviation 1.
var worked = []float64{
	9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51, 9.40, 10.08,
	9.37, 10.62, 10.31, 8.52, 10.84, 10.90, 9.33, 12.29, 11.50, 10.60, 11.08, 10.38, 11.62, 11.31, 10.52,
}

func TestPublishedTabularCUSUM(t *testing.T) {
	upper := "0 0 0 1.16 2.82 2.50 0.04 1.00 0 0 0 0.97 0.98 0 0 0 0.12 0 0 0.34 0.74 0 1.79 2.79 2.89 3.47 3.35 4.47 5.28 5.30"
	lower := "0.05 1.56 1.77 0 0 0 1.46 0 0.30 0 0.47 0 0 0.10 0 0.13 0 0 0.98 0 0 0.17 0 0 0 0 0 0 0 0"
	z := make([]float64, len(worked))
	for i, v := range worked {
		z[i] = v - 10
	}
	c := NormalCUSUM{K: 0.5, H: 5}
	up, down := Scheme{H: c.H}.Follow(c.increments(z, 1), nil), c.FollowLower(z, nil)
	for i, want := range strings.Fields(upper) {
		printed(t, "upper "+strconv.Itoa(i+1), up.Steps[i].Value, want)
	}
	for i, want := range strings.Fields(lower) {
		printed(t, "lower "+strconv.Itoa(i+1), down.Steps[i].Value, want)
	}
	if up.First != 28 || down.First != -1 {
		t.Errorf("signals at %d and %d, want the upper sum at observation 29 only", up.First+1, down.First+1)
	}
}

func TestPublishedEWMA(t *testing.T) {
	want := "9.945 9.7495 9.70355 9.8992 10.1253 10.1307 9.92167 10.0755 9.98796 10.0232 9.92384 10.0785 10.1216 10.0495 10.0525 " +
		"9.98426 10.0478 10.074 9.91864 10.0108 10.0997 10.0227 10.2495 10.3745 10.3971 10.4654 10.4568 10.5731 10.6468 10.6341"
	s := Smoother{Lambda: 0.1, L: 2.7, Target: 10, SD: 1, Widening: true}
	p := s.Follow(worked, nil)
	for i, w := range strings.Fields(want) {
		printed(t, "mean "+strconv.Itoa(i+1), p.Steps[i].Value, w)
	}
	printed(t, "first limit", 10+s.Limit(1), "10.27")
	printed(t, "second limit", 10+s.Limit(2), "10.36")
	printed(t, "last limit", 10+s.Limit(1000), "10.62")
}

// Limits that give a two-sided sum a mean of 370 attempts: Hawkins (1993),
// Journal of Quality Technology 25, 248-261, printed to two decimals, so 370 lies
// between the means half a digit to either side.
func TestPublishedLimitsFor370(t *testing.T) {
	for _, c := range []struct{ k, h float64 }{{0.25, 8.01}, {0.5, 4.77}, {0.75, 3.34}, {1, 2.52}, {1.25, 1.99}, {1.5, 1.61}} {
		low, high := NormalCUSUM{K: c.k, H: c.h - 0.005}.MeanTwoSided(0), NormalCUSUM{K: c.k, H: c.h + 0.005}.MeanTwoSided(0)
		if !(low <= 371 && high >= 369) {
			t.Errorf("k %g h %g: between %.1f and %.1f", c.k, c.h, low, high)
		}
	}
}
