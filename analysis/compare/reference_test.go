package compare

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"tyro/analysis/resample"
)

// Values from base R 4.2.2 and formulas written out in testdata/compare/expected.R.
type expected map[string]map[string]float64

func readExpected(t *testing.T) expected {
	t.Helper()
	out := expected{}
	for _, r := range readCSV(t, "expected") {
		if out[r[0]] == nil {
			out[r[0]] = map[string]float64{}
		}
		out[r[0]][r[1]] = number(t, r[2])
	}
	return out
}

func readCSV(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/compare/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// armsOf reads a table with one row a trainee; the last column holds the value, the one
// before it the baseline where there is one.
func armsOf(t *testing.T, file string, names ...string) (arms []Arm, before Baseline) {
	for _, name := range names {
		a, b := Arm{Name: name}, []float64(nil)
		for _, r := range readCSV(t, file) {
			if r[0] == name {
				a.Values = append(a.Values, number(t, r[len(r)-1]))
				b = append(b, number(t, r[1]))
			}
		}
		arms, before.Values = append(arms, a), append(before.Values, b)
	}
	before.Name = "before"
	return arms, before
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(1, math.Abs(want))) {
		t.Errorf("%s: %.15g, want %.15g", what, got, want)
	}
}

func TestTwoArmsAgainstR(t *testing.T) {
	e := readExpected(t)
	for _, set := range []struct{ name, arm, ref string }{
		{"sleep", "drug1", "drug2"}, {"toothgrowth", "OJ", "VC"}, {"plantgrowth", "trt2", "ctrl"},
	} {
		arms, _ := armsOf(t, set.name, set.ref, set.arm)
		ref, arm, want := arms[0], arms[1], e[set.name]
		perm, err := Permutation(context.Background(), ref, arm, 0, resample.Sampling{})
		if err != nil {
			t.Fatal(err)
		}
		welch := Welch("difference", ref, arm, 0)
		margin := Margin{Value: want["margin"]}
		equal := Within(welch, margin)
		margin.NonInferior = true
		notWorse := Within(welch, margin)
		seen := 0
		check := func(quantity string, got, tolerance float64) {
			w, ok := want[quantity]
			if !ok {
				t.Errorf("%s: no expected %s", set.name, quantity)
			}
			seen++
			near(t, set.name+" "+quantity, got, w, tolerance)
		}
		all := func(prefix string, c Contrast, tolerance float64) {
			check(prefix+" lower", c.Lower, tolerance)
			check(prefix+" upper", c.Upper, tolerance)
		}
		check("welch estimate", welch.Estimate, 1e-12)
		all("welch", welch, 1e-11)
		check("welch p", welch.P, 1e-11)
		check("welch df", welch.DF, 1e-11)
		check("welch se", welch.SE, 1e-12)
		pooled := Pooled("difference", ref, arm, 0)
		all("pooled", pooled, 1e-11)
		check("pooled p", pooled.P, 1e-11)
		d, g := CohenD(ref, arm, 0), HedgesG(ref, arm, 0)
		check("d estimate", d.Estimate, 1e-12)
		all("d", d, 1e-8)
		check("g estimate", g.Estimate, 1e-12)
		all("g", g, 1e-8)
		cliff := CliffDelta(ref, arm, 0)
		check("cliff estimate", cliff.Estimate, 1e-12)
		check("cliff se", cliff.SE, 1e-12)
		all("cliff", cliff, 1e-12)
		rank, hl := RankSum(ref, arm, 0), HodgesLehmann(ref, arm, 0)
		check("rank U", rank.Estimate, 0)
		check("rank p", rank.P, 1e-12)
		if set.name == "plantgrowth" { // without ties
			check("rank p", hl.P, 1e-12)
		}
		check("hodges-lehmann estimate", hl.Estimate, 1e-12)
		all("hodges-lehmann", hl, 1e-12)
		check("permutation p", perm.P, 1e-12)
		all("permutation", perm, 1e-6) // R's ends come by bisection
		check("equivalence p", equal.P, 1e-11)
		all("equivalence", equal, 1e-11)
		check("non-inferiority p", notWorse.P, 1e-11)
		if seen < 30 {
			t.Errorf("%s: only %d numbers were compared", set.name, seen)
		}
	}
}

func TestAncovaAgainstR(t *testing.T) {
	e := readExpected(t)
	for set, names := range map[string][]string{"anorexia two": {"Cont", "CBT"}, "anorexia three": {"Cont", "CBT", "FT"}} {
		arms, before := armsOf(t, "anorexia", names...)
		a, err := Adjust("difference", arms, []Baseline{before}, 0)
		if err != nil {
			t.Fatal(err)
		}
		want := e[set]
		check := func(quantity string, got float64) {
			w, ok := want[quantity]
			if !ok {
				t.Errorf("%s: no expected %s", set, quantity)
			}
			near(t, set+" "+quantity, got, w, 1e-9)
		}
		check("slope", a.Slopes[0].Estimate)
		check("slope se", a.Slopes[0].SE)
		check("residual sd", a.ResidualSD)
		for _, m := range a.Means {
			check("mean "+m.Arm, m.Estimate)
			check("mean se "+m.Arm, m.SE)
		}
		AdjustWithin(a.Pairs, func(Contrast) string { return "" })
		for _, p := range a.Pairs {
			pair := p.Arm + " minus " + p.Reference
			check(pair+" estimate", p.Estimate)
			check(pair+" lower", p.Lower)
			check(pair+" upper", p.Upper)
			check(pair+" p", p.P)
			check(pair+" holm", p.PAdjusted)
			check(pair+" hochberg", p.PHochberg)
		}
		check("group F", a.Group.F)
		check("group p", a.Group.P)
		check("parallel F", a.Parallel.F)
		check("parallel p", a.Parallel.P)
		if len(a.Warnings) != 1 || a.Warnings[0].Code != "slopes-differ" {
			t.Errorf("%s: the slopes differ (p below .01), and the warnings are %v", set, a.Warnings)
		}
	}
}

func TestAdjustedPAgainstR(t *testing.T) {
	want := readExpected(t)["p"]
	var ps []float64
	for i := range 6 {
		ps = append(ps, want["p "+strconv.Itoa(i+1)])
	}
	holm, hochberg := Holm(append(ps, math.NaN())), Hochberg(append(ps, math.NaN()))
	for i := range 6 {
		near(t, "holm", holm[i], want["holm "+strconv.Itoa(i+1)], 1e-12)
		near(t, "hochberg", hochberg[i], want["hochberg "+strconv.Itoa(i+1)], 1e-12)
	}
	if !math.IsNaN(holm[6]) || !math.IsNaN(hochberg[6]) {
		t.Error("an unknown p was adjusted")
	}
}

// Every method leaves out 0 from its interval exactly where its p is below 0.05: 120
// pairs of arms of several sizes and kinds, tied values among them.
func TestIntervalAndPAgree(t *testing.T) {
	rejected := map[string]int{}
	for k := range 120 {
		r := resample.Stream(7, "interval and p agree", k)
		n, m := 4+r.IntN(7), 4+r.IntN(7)
		draw := func(name string, n int, shift float64) Arm {
			a := Arm{Name: name}
			for range n {
				v := r.NormFloat64() + shift
				if k%3 == 1 {
					v = math.Exp(v)
				}
				if k%3 == 2 {
					v = math.Round(v)
				}
				a.Values = append(a.Values, v)
			}
			return a
		}
		ref, arm := draw("a", n, 0), draw("b", m, 1.3*r.Float64())
		sampling := resample.Sampling{Seed: uint64(k + 1), Replicates: 199}
		perm, err := Permutation(context.Background(), ref, arm, 0, sampling)
		if err != nil {
			t.Fatal(err)
		}
		shift, err := Shift(context.Background(), "shift", ref, arm, 0, sampling)
		if err != nil {
			t.Fatal(err)
		}
		cs := []Contrast{Welch("welch", ref, arm, 0), Pooled("pooled", ref, arm, 0), CohenD(ref, arm, 0), HedgesG(ref, arm, 0), CliffDelta(ref, arm, 0), perm, shift}
		cs = append(cs, HodgesLehmann(ref, arm, 0))
		for _, c := range cs {
			if math.IsNaN(c.P) {
				continue
			}
			if open := c.Open(); open != (c.P > 0.05) && math.Abs(c.P-0.05) > 1e-9 {
				t.Errorf("pair %d, %s: p %v beside %v to %v", k, c.Measure, c.P, c.Lower, c.Upper)
			}
			if c.P <= 0.05 {
				rejected[c.Measure]++
			}
		}
	}
	for name, n := range rejected {
		if n < 8 || n > 112 {
			t.Errorf("%s rejects in %d of 120 pairs: the test says little", name, n)
		}
	}
	if len(rejected) != 8 {
		t.Errorf("methods seen: %v", rejected)
	}
}

// Sites that hold both arms in unequal shares: the arm's coefficient in a regression on arm
// and site (testdata/compare/clusters.R). The crude difference of means is another number.
func TestWithinClustersAgainstR(t *testing.T) {
	want := map[string]float64{}
	for _, r := range readCSV(t, "clusters_expected") {
		want[r[0]] = number(t, r[1])
	}
	ref, arm := Arm{Name: "a"}, Arm{Name: "b"}
	for _, r := range readCSV(t, "clusters") {
		a := &ref
		if r[0] == "b" {
			a = &arm
		}
		a.Values, a.Cluster = append(a.Values, number(t, r[2])), append(a.Cluster, r[1])
	}
	for prefix, arms := range map[string][2]Arm{"": {ref, arm}, "log ": {ref.Logs(), arm.Logs()}} {
		c, err := Shift(context.Background(), "m", arms[0], arms[1], 0, resample.Sampling{Replicates: 40_000})
		if err != nil {
			t.Fatal(err)
		}
		near(t, prefix+"estimate", c.Estimate, want[prefix+"estimate"], 1e-9)
		near(t, prefix+"se", c.SE, want[prefix+"se"], 1e-9)
		near(t, prefix+"p", c.P, want[prefix+"p"], 0.01) // R goes through every deal; twice 4 standard errors of a share of 40,000
		if crude := mean(arms[1].Values) - mean(arms[0].Values); math.Abs(crude-c.Estimate) < 2*c.SE {
			t.Errorf("%sthe crude difference %v is too close to tell by", prefix, crude)
		}
		if !(c.Lower < c.Estimate && c.Estimate < c.Upper) || c.Open() != (c.P > 0.05) {
			t.Errorf("%s%v (%v to %v) beside p %v", prefix, c.Estimate, c.Lower, c.Upper, c.P)
		}
	}
}
