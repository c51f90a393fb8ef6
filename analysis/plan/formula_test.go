package plan

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"tyro/analysis/agreement"
	"tyro/analysis/compare"
	"tyro/analysis/resample"
)

// published are sizes and powers of other programs and papers, see testdata/README.md.
type published struct {
	TPower []struct {
		N        int
		D, Power float64
	} `json:"t_power"`
	TSize []struct {
		D, Power float64
		N        int
	} `json:"t_size"`
	ICCWidth []struct {
		ICC, Width float64
		Raters, N  int
	} `json:"icc_width"`
	KappaFit []struct {
		Null, Kappa, Prevalence, Alpha, Power float64
		N                                     int
	} `json:"kappa_fit"`
	KappaTest []struct {
		First, Second, Null, Kappa, Power float64
		Alpha                             float64 `json:"alpha_two_sided"`
		N                                 int
	} `json:"kappa_test"`
	KappaWidth []struct {
		First, Second, Kappa, Width float64
		N                           int
	} `json:"kappa_width"`
	KappaTable []struct {
		Counts  []float64
		Weights string
		Width   float64
		N       int
	} `json:"kappa_table_width"`
}

func sizes(t *testing.T) (p published) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "plan", "sample_sizes.json"))
	if err == nil {
		err = json.Unmarshal(text, &p)
	}
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func tTestOf(n int, difference, sd float64) Design {
	return Design{Form: Form, Trainees: n, Attempts: 1, TTest: &TTest{Difference: difference, SD: sd}}
}

// Powers of the t test to 1e-8, and whole numbers of trainees and subjects exactly.
func TestPublishedSizes(t *testing.T) {
	p := sizes(t)
	for _, c := range p.TPower {
		if got := compare.TPower(c.D, c.N, c.N, 0.95); !(math.Abs(got-c.Power) < 1e-8) {
			t.Errorf("%d an arm, d = %g: power %.12f, want %.12f", c.N, c.D, got, c.Power)
		}
	}
	size := func(what string, got int, err error, want int) {
		t.Helper()
		if err != nil || got != want {
			t.Errorf("%s: %d (%v), want %d", what, got, err, want)
		}
	}
	for _, c := range p.TSize {
		n, ok := tTestOf(2, c.D, 1).ByFormula(c.Power, 1000)
		if !ok {
			t.Errorf("no size for d = %g", c.D)
		}
		size("t test", n, nil, c.N)
	}
	for _, c := range p.ICCWidth {
		d := Design{Form: Form, Trainees: 3, Attempts: 1, Width: c.Width, Ratings: &Ratings{Expect: c.ICC, Raters: c.Raters}}
		n, ok := d.ByFormula(0, 1000)
		if !ok {
			t.Errorf("no size for an icc of %g", c.ICC)
		}
		size("icc", n, nil, c.N)
	}
	for _, c := range p.KappaFit {
		n, err := agreement.KappaFitSubjects(c.Null, c.Kappa, c.Prevalence, c.Alpha, c.Power)
		size("kappa, goodness of fit", n, err, c.N)
	}
	for _, c := range p.KappaTest {
		null, err := agreement.BinaryTable(c.Null, c.First, c.Second)
		if err != nil {
			t.Fatal(err)
		}
		table, err := agreement.BinaryTable(c.Kappa, c.First, c.Second)
		if err != nil {
			t.Fatal(err)
		}
		n, err := agreement.KappaTableTestSubjects(null, table, c.Alpha, c.Power)
		size("kappa, test", n, err, c.N)
	}
	for _, c := range p.KappaWidth {
		table, err := agreement.BinaryTable(c.Kappa, c.First, c.Second)
		if err != nil {
			t.Fatal(err)
		}
		n, err := agreement.KappaTableSubjects(table, agreement.Identity, c.Width, 0.95)
		size("kappa, width", n, err, c.N)
	}
	weights := map[string]agreement.Weights{"unweighted": agreement.Identity, "linear": agreement.Linear, "quadratic": agreement.Quadratic}
	for _, c := range p.KappaTable {
		joint := make([][]float64, 3)
		for i, v := range c.Counts {
			joint[i/3] = append(joint[i/3], v/120)
		}
		n, err := agreement.KappaTableSubjects(joint, weights[c.Weights], c.Width, 0.95)
		size("kappa of a table, "+c.Weights, n, err, c.N)
	}
	if len(p.TPower) != 3 || len(p.TSize) != 3 || len(p.ICCWidth) != 3 || len(p.KappaFit) != 2 || len(p.KappaTest) != 2 || len(p.KappaWidth) != 3 || len(p.KappaTable) != 3 {
		t.Error("sizes are missing from the file")
	}
}

// The log-rank test by hand: a hazard ratio of 0.5 at 5 % and a power of 80 % takes
// (1.959964 + 0.841621)² = 7.848879 over ¼·(ln 0.5)² = 0.120113 events by Schoenfeld,
// 65.346, and 7.848879·(1.5/0.5)² = 70.640 by Freedman.
func TestLogRankByHand(t *testing.T) {
	d := Design{Form: Form, Trainees: 100, Attempts: 1, LogRank: &LogRank{HazardRatio: 0.5, Met: 0.5}}
	q, err := d.ready()
	if err != nil {
		t.Fatal(err)
	}
	// Half of the reference arm, and 1 − √½ of the other: 100·(0.5 + 0.292893).
	l := q.(logRank)
	if math.Abs(l.events()-79.289322) > 1e-6 {
		t.Errorf("%v events expected, want 79.289322", l.events())
	}
	far := 2e-6 // of the other tail, which the sizes by hand leave out
	if got := normalPower(math.Sqrt(65.346*0.25)*math.Ln2, 0.95); math.Abs(got-0.8) > 5e-5+far {
		t.Errorf("power with 65.346 events %v, want 0.8 (Schoenfeld)", got)
	}
	scale := 70.640 / 79.289322
	if got := normalPower(math.Sqrt(79.289322*scale)*0.5/1.5, 0.95); math.Abs(got-0.8) > 5e-5+far {
		t.Errorf("power with 70.640 events %v, want 0.8 (Freedman)", got)
	}
	if f := Freedman(d); !(math.Abs(f-normalPower(math.Sqrt(79.289322)/3, 0.95)) < 1e-6) {
		t.Errorf("Freedman gives %v", f)
	}
}

// Simulated, the cases with a closed form agree with it within four standard errors of the
// simulation. Bonett's width is that of large samples: with 60 subjects, four raters and an
// icc of 0.85 it is 0.1109, and simulated studies have 0.1129.
func TestSimulationAgainstClosedForms(t *testing.T) {
	for name, d := range map[string]Design{
		"t test, 20 an arm":         tTestOf(20, 0.5, 1),
		"t test, 64 an arm":         tTestOf(64, 5, 10),
		"t test, 10 an arm":         tTestOf(10, 1.2, 1),
		"t test, unequal arms":      {Form: Form, Trainees: 15, Attempts: 1, Allocation: 2, Level: 0.9, TTest: &TTest{Difference: -0.7, SD: 1}},
		"t test, no difference":     tTestOf(12, 0, 3),
		"log-rank":                  {Form: Form, Trainees: 80, Attempts: 1, LogRank: &LogRank{HazardRatio: 1.6, Met: 0.7}},
		"log-rank, unequal arms":    {Form: Form, Trainees: 60, Attempts: 1, Allocation: 2, LogRank: &LogRank{HazardRatio: 0.65, Met: 0.8}},
		"log-rank, none":            {Form: Form, Trainees: 40, Attempts: 1, LogRank: &LogRank{HazardRatio: 1, Met: 0.8}},
		"icc of four raters":        {Form: Form, Trainees: 500, Attempts: 1, Width: 0.04, Ratings: &Ratings{Expect: 0.85, Raters: 4}},
		"icc of three raters":       {Form: Form, Trainees: 68, Attempts: 1, Width: 0.2, Ratings: &Ratings{Expect: 0.7, Raters: 3}},
		"kappa of two raters":       {Form: Form, Trainees: 246, Attempts: 1, Width: 0.2, Ratings: &Ratings{Expect: 0.6, Raters: 2, Shares: []float64{0.5, 0.5}}},
		"icc of two raters, narrow": {Form: Form, Trainees: 120, Attempts: 1, Width: 0.2, Ratings: &Ratings{Expect: 0.5, Raters: 2}},
	} {
		const studies = 2000
		out, err := Simulate(context.Background(), d, 0, studies, resample.Sampling{Seed: 14})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		r := Summarise(d, out)
		f := r.Formula
		if f == nil || r.Failed > 0 {
			t.Fatalf("%s: formula %v, %d failed", name, f, r.Failed)
		}
		t.Logf("%s: power %.4f, by formula %.4f; width %.5f, by formula %.5f; %.3f cover", name, r.Power, f.Power, r.WidthMean, f.Width, r.Coverage)
		if p := f.Power; !math.IsNaN(p) && math.Abs(r.Power-p) > 4*math.Sqrt(p*(1-p)/studies) {
			t.Errorf("%s: power %v, by formula %v", name, r.Power, p)
		}
		if math.Abs(r.Coverage-0.95) > 4*math.Sqrt(0.95*0.05/studies) && d.Level == 0 {
			t.Errorf("%s: %v of the intervals hold the truth", name, r.Coverage)
		}
		spread := 0.0
		for _, o := range out {
			spread += (o.Width() - r.WidthMean) * (o.Width() - r.WidthMean) / studies
		}
		if err := 4 * math.Sqrt(spread/studies); math.Abs(r.WidthMean-f.Width) > err {
			t.Errorf("%s: mean width %v, by formula %v: apart by more than the simulation's %v", name, r.WidthMean, f.Width, err)
		}
	}
}
