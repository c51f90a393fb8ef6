package retention

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/resample"
)

// along makes trainees on a curve over the calendar, by the recursion as it stands in the
// comment of Course, without noise.
func along(kept func(days float64) float64, learnt, regained float64, days ...float64) []Trainee {
	var out []Trainee
	for i, gain := range []float64{40, 60, 50, 30} {
		t := Trainee{ID: string(rune('a' + i))}
		left, lost := 1.0, 0.0
		for s := range len(days) + 1 {
			x := Session{Gap: math.NaN()}
			if s > 0 {
				x.Gap = days[s-1]
				lost += (1 - left - lost) * (1 - kept(x.Gap))
			}
			for range 8 {
				x.Attempts = append(x.Attempts, Attempt{Value: 10 + float64(i) + gain*(left+lost)})
				left, lost = left*(1-learnt), lost*(1-regained)
			}
			t.Sessions = append(t.Sessions, x)
		}
		out = append(out, t)
	}
	return out
}

// Without noise what was put in comes back, and the half-life by hand: ln 2/0.05 = 13.863
// days; 2^(1/0.3) − 1 = 9.0794 days. Plateaus are 10 to 13 and gains 30 to 60.
func TestCourseWithoutNoise(t *testing.T) {
	o := Options{Lower: true, Sampling: resample.Sampling{Replicates: 60}}
	for k, x := range []struct {
		shape string
		kept  func(float64) float64
		rate  float64
		half  float64
	}{
		{Exponential, func(d float64) float64 { return math.Exp(-0.05 * d) }, 0.05, 13.862943611},
		{Power, func(d float64) float64 { return math.Pow(1+d, -0.3) }, 0.3, 9.079368399},
	} {
		cs, err := Courses(context.Background(), along(x.kept, 0.25, 0.6, 2, 20), o)
		if err != nil {
			t.Fatal(err)
		}
		c := cs[k]
		if c.Shape != x.shape || c.RSS > 1e-6 || c.RSS > cs[1-k].RSS || !c.PlateauShown || !c.Loses {
			t.Errorf("%s: sum of squares %v beside %v, %v, %v", x.shape, c.RSS, cs[1-k].RSS, c.PlateauShown, c.Loses)
		}
		near(t, "learnt", c.Learnt.Estimate, 0.25, 1e-4)
		near(t, "regained", c.Regained.Estimate, 0.6, 1e-4)
		near(t, "rate", c.Rate.Estimate, x.rate, 1e-3)
		near(t, "half-life", c.HalfLife.Estimate, x.half, 1e-3)
		near(t, "kept after 20 days", c.Kept[1].Estimate, x.kept(20), 1e-4)
		near(t, "plateau", c.Plateau.Estimate, 11.5, 1e-4)
		near(t, "gain", c.Gain.Estimate, 45, 1e-4)
		near(t, "spread of plateaus", c.PlateauSD, math.Sqrt(5./3), 1e-3) // of 10, 11, 12, 13
		near(t, "expected", c.Expected[8].Value.Estimate, 11.5+45*(math.Pow(0.75, 8)+(1-math.Pow(0.75, 8))*(1-x.kept(2))), 1e-3)
	}
}

// Breaks of one length tell what is kept after them, by any shape the same, and no half-life.
func TestCourseOfOneGap(t *testing.T) {
	cs, err := Courses(context.Background(), along(func(float64) float64 { return 0.7 }, 0.25, 0.6, 30, 30), Options{Lower: true, Sampling: resample.Sampling{Replicates: 60}})
	if err != nil {
		t.Fatal(err)
	}
	if len(cs) != 1 || !math.IsNaN(cs[0].HalfLife.Estimate) || !math.IsNaN(cs[0].Rate.Estimate) {
		t.Errorf("%d courses, half-life %v, rate %v", len(cs), cs[0].HalfLife, cs[0].Rate)
	}
	near(t, "kept", cs[0].Kept[0].Estimate, 0.7, 1e-4)
}

// One attempt after each break tells what was lost, not how fast it comes back; who learns
// nothing has nothing to lose; who made too few attempts gives no curve.
func TestCourseCannotTell(t *testing.T) {
	o := Options{Lower: true, Sampling: resample.Sampling{Replicates: 60}}
	ts := along(func(d float64) float64 { return math.Exp(-0.05 * d) }, 0.25, 0.6, 2, 20)
	for i := range ts {
		for s := 1; s < 3; s++ {
			ts[i].Sessions[s].Attempts = ts[i].Sessions[s].Attempts[:1]
		}
	}
	cs, err := Courses(context.Background(), ts, o)
	if err != nil || !math.IsNaN(cs[0].Regained.Estimate) {
		t.Errorf("%v, %v", cs[0].Regained, err)
	}
	r := resample.Stream(1, "flat", 0)
	flat := along(func(float64) float64 { return 1 }, 0, 0, 2, 20)
	for i := range flat {
		for s := range flat[i].Sessions {
			for k := range flat[i].Sessions[s].Attempts {
				flat[i].Sessions[s].Attempts[k].Value = 50 + r.NormFloat64()
			}
		}
	}
	if _, err := Courses(context.Background(), flat, o); !errors.Is(err, ErrRetention) {
		t.Errorf("nothing learnt: %v", err)
	}
	if _, err := Courses(context.Background(), ofGaps(30)[:2], o); !errors.Is(err, ErrRetention) {
		t.Errorf("two trainees: %v", err)
	}
}

// Eight invented trainees against SciPy's least squares over all 3 + 2·8 numbers at once
// (testdata/retention/course.py).
func TestCourseAgainstSciPy(t *testing.T) {
	cs, err := Courses(context.Background(), invented(t), Options{Lower: true, Sampling: resample.Sampling{Replicates: 60}})
	if err != nil {
		t.Fatal(err)
	}
	want := read(t, "../../testdata/retention/course_expected.csv")
	for k, c := range cs {
		w := want[k+1]
		for j, got := range []float64{c.RSS, c.Learnt.Estimate, c.Regained.Estimate, c.Rate.Estimate, c.Plateau.Estimate, c.Gain.Estimate} {
			v, err := strconv.ParseFloat(w[j+1], 64)
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprint(c.Shape, " ", want[0][j+1]), got, v, 2e-4)
		}
	}
}

func read(t *testing.T, path string) [][]string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func invented(t *testing.T) []Trainee {
	t.Helper()
	var out []Trainee
	for _, row := range read(t, "../../testdata/retention/course.csv")[1:] {
		if len(out) == 0 || out[len(out)-1].ID != row[0] {
			out = append(out, Trainee{ID: row[0]})
		}
		now := &out[len(out)-1]
		if s, _ := strconv.Atoi(row[1]); s > len(now.Sessions) {
			gap, _ := strconv.ParseFloat(row[2], 64)
			if gap == 0 {
				gap = math.NaN()
			}
			now.Sessions = append(now.Sessions, Session{Gap: gap})
		}
		v, err := strconv.ParseFloat(row[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		x := &now.Sessions[len(now.Sessions)-1]
		x.Attempts = append(x.Attempts, Attempt{Value: v})
	}
	return out
}
