package datasets

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// learned are times of trainees that fall from attempt to attempt, each about a level of its own, with a
// scatter that goes back about as often as not in later attempts.
func learned(levels []float64, attempts int) [][]float64 {
	var out [][]float64
	for k, level := range levels {
		var vs []float64
		for n := 1; n <= attempts; n++ {
			wave := 1 + 0.09*math.Sin(float64(4*n+k))
			vs = append(vs, math.Round(10*level*math.Pow(float64(n), -0.3)*wave)/10)
		}
		out = append(out, vs)
	}
	return out
}

func rowsOfTimes(times [][]float64) []string {
	var rows []string
	for k, vs := range times {
		for n, v := range vs {
			rows = append(rows, fmt.Sprintf("T%d,%d,%g", k+1, n+1, v))
		}
	}
	return rows
}

// Two lanes whose times changed places at attempts 5 and 6 are named; the same times in their places, and
// two trainees who are near each other, are not.
func TestExchangedLanes(t *testing.T) {
	times := learned([]float64{160, 80, 120, 100}, 8)
	if got := notedOf(t, "", rowsOfTimes(times), nil); slices.Contains(got, "numbers-exchanged") {
		t.Errorf("in their places: %v", got)
	}
	for n := 4; n < 6; n++ {
		times[0][n], times[1][n] = times[1][n], times[0][n]
	}
	if got := notedOf(t, "", rowsOfTimes(times), nil); !slices.Contains(got, "numbers-exchanged") {
		t.Errorf("exchanged: %v", got)
	}
	near := learned([]float64{104, 100, 160, 60}, 8)
	for n := 4; n < 6; n++ {
		near[0][n], near[1][n] = near[1][n], near[0][n]
	}
	if got := notedOf(t, "", rowsOfTimes(near), nil); slices.Contains(got, "numbers-exchanged") {
		t.Errorf("two alike: %v", got)
	}
}

// 80, 40 and 20 at attempts 1, 2 and 4 lie on one line in logarithms, of slope −1; a fourth and fifth far off
// it do not move it, since of ten slopes between any two the middle ones stay.
func TestLineThroughMostAttempts(t *testing.T) {
	var log Log
	log.Measures = []string{"s"}
	for n, v := range []float64{96, 48, 32, 24, 19.2, 60} { // 96/n, and one six times it
		log.Attempts = append(log.Attempts, Attempt{Number: float64(n + 1), Outcome: Done, row: int32(n)})
		log.values = append(log.values, v)
	}
	l, ok := lineOf(&log, []int32{0, 1, 2, 3, 4, 5}, 0)
	if !ok {
		t.Fatal("no line")
	}
	for n := 1.0; n <= 6; n++ {
		if want := math.Log(96 / n); math.Abs(l.at[n]-want) > 1e-12 {
			t.Errorf("at %g the line says %g, by hand %g", n, l.at[n], want)
		}
	}
	if want := math.Log(60 / 16.0); math.Abs(l.residue[6]-want) > 1e-12 {
		t.Errorf("attempt 6 adds %g, by hand %g", l.residue[6], want)
	}
}

// Numbers in the order of words beside times that fall from row to row were sorted by themselves; with times
// that go with their numbers, rows and all, they were not.
func TestNumbersInTheOrderOfWords(t *testing.T) {
	times := learned([]float64{160, 130, 120}, 12)
	order := []int{1, 10, 11, 12, 2, 3, 4, 5, 6, 7, 8, 9}
	var alone, withTimes []string
	for k, vs := range times {
		for row, n := range order {
			alone = append(alone, fmt.Sprintf("T%d,%d,%g", k+1, n, vs[row]))
			withTimes = append(withTimes, fmt.Sprintf("T%d,%d,%g", k+1, n, vs[n-1]))
		}
	}
	if got := notedOf(t, "", alone, nil); !slices.Contains(got, "numbers-as-text") {
		t.Errorf("numbers alone: %v", got)
	}
	if got := notedOf(t, "", withTimes, nil); slices.Contains(got, "numbers-as-text") {
		t.Errorf("with their times: %v", got)
	}
}

// Times that were sorted never go back, in 7 steps of 6 trainees; a few turned round rise while those of
// others fall.
func TestSortedAndTurnedRows(t *testing.T) {
	plain := learned([]float64{160, 130, 120, 150, 140, 110}, 8)
	if got := notedOf(t, "", rowsOfTimes(plain), nil); slices.Contains(got, "never-worse") || slices.Contains(got, "gets-worse") {
		t.Errorf("as they were: %v", got)
	}
	sorted := learned([]float64{160, 130, 120, 150, 140, 110}, 8)
	for _, vs := range sorted {
		slices.Sort(vs)
		slices.Reverse(vs)
	}
	if got := notedOf(t, "", rowsOfTimes(sorted), nil); !slices.Contains(got, "never-worse") {
		t.Errorf("sorted: %v", got)
	}
	turned := learned([]float64{160, 130, 120, 150, 140, 110}, 8)
	for _, vs := range turned[:2] {
		slices.Reverse(vs)
	}
	if got := notedOf(t, "", rowsOfTimes(turned), nil); !slices.Contains(got, "gets-worse") {
		t.Errorf("two turned round: %v", got)
	}
}

// Of two groups of one file, 5 times of exactly 90 in the second are its longest, and the first goes beyond:
// they may have been stopped under a limit of that group; 3 of 90 near the longest of all may be chance.
func TestStoppedInOneGroup(t *testing.T) {
	for tops, want := range map[int]bool{5: true, 3: false} {
		var rows []string
		for k, vs := range learned([]float64{97, 96, 94}, 6) {
			for n, v := range vs {
				rows = append(rows, fmt.Sprintf("A%d,%d,%g,moss", k, n+1, v))
			}
		}
		left := tops
		for k, vs := range learned([]float64{86, 84, 82, 80, 78}, 6) {
			for n, v := range vs {
				if n == 0 && left > 0 {
					v, left = 90, left-1
				}
				rows = append(rows, fmt.Sprintf("B%d,%d,%g,pond", k, n+1, v))
			}
		}
		path := write(t, t.TempDir(), "log.csv", "trainee,attempt,s,site\n"+strings.Join(rows, "\n")+"\n")
		s, err := OpenTable(t.Context(), path, Single{Columns: Columns{Trainee: "trainee", Attempt: "attempt"}, Response: "s", Measure: Time})
		if err != nil {
			t.Fatal(err)
		}
		got := slices.ContainsFunc(s.Notes, func(n Note) bool {
			return n.Code == "stopped-at-longest" && strings.Contains(n.Text, "where site is pond, 5 attempts took exactly 90")
		})
		if got != want {
			t.Errorf("%d times of 90: said %v, want %v: %v", tops, got, want, s.Notes)
		}
	}
}

// Dates as Hungarians, Croats and Czechs write them, and units of time at the end of a name in some languages.
func TestDatesWithPointsAndUnitsInNames(t *testing.T) {
	r := &logReader{dateOrders: []string{"day-first"}, files: []source{{}}}
	for cell, want := range map[string]string{
		"2026.03.07.": "2026-03-07", "2026. 03. 07.": "2026-03-07", "2026. 3. 7.": "2026-03-07", "7.3.2026.": "2026-03-07", "7. 3. 2026": "2026-03-07", "7/3/2026": "2026-03-07",
	} {
		if got, ok := r.dateOf(0, cell); !ok || got != want {
			t.Errorf("%q is read as %q, want %q", cell, got, want)
		}
	}
	for name, want := range map[string]string{
		"tid (minutter)": "minutes", "Aika minuuttia": "minutes", "время (мин)": "minutes", "时间（分）": "minutes", "süre dk": "minutes", "Zeit (ms)": "milliseconds", "tid millisekunder": "milliseconds",
		"idő (mp)": "seconds", "tid sekunder": "seconds", "czas sekundy": "seconds", "时间(秒)": "seconds", "Süre (sn)": "seconds", "Dauer Std": "hours",
		"czas": "", "amin": "", "stamp": "", "team": "",
	} {
		if got := headUnit(name); got != want {
			t.Errorf("%q ends in %q, want %q", name, got, want)
		}
	}
}

// Two rows in which piece and examiner changed places are named; people who rate each other are not.
func TestSubjectAndRaterChangedPlaces(t *testing.T) {
	rows := func(swap bool) string {
		out := "piece,examiner,mark\n"
		for k := 1; k <= 8; k++ {
			for j, who := range []string{"Oriol", "Blanca", "Pau"} {
				piece := fmt.Sprintf("W%02d", k)
				if swap && k == 4 && j == 1 {
					piece, who = who, piece
				}
				out += fmt.Sprintf("%s,%s,%d\n", piece, who, 1+(k+j*k)%5)
			}
		}
		return out
	}
	peers := "piece,examiner,mark\n"
	for _, a := range "ABCD" {
		for _, b := range "ABCD" {
			if a != b {
				peers += fmt.Sprintf("%c,%c,%d\n", a, b, 1+(a*b)%5)
			}
		}
	}
	for csv, want := range map[string]bool{rows(false): false, rows(true): true, peers: false} {
		r, err := ReadRatings("t.csv", []byte(csv), RatingsFile{Subject: "piece", Rater: "examiner", Score: "mark"})
		if err != nil {
			t.Fatal(err)
		}
		if got := slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Code == "subject-and-rater" }); got != want {
			t.Errorf("said %v, want %v of\n%s", got, want, csv)
		}
	}
}
