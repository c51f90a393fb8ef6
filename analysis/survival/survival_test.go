package survival

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
)

// data is the folder of data and expected results; its README names sources.
const data = "../../testdata/survival"

// table reads a CSV of testdata by column.
func table(t testing.TB, name string) map[string][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(data, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]string{}
	for j, head := range rows[0] {
		for _, r := range rows[1:] {
			out[head] = append(out[head], r[j])
		}
	}
	return out
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// expected are R's results by name.
type expected map[string]float64

func loadExpected(t testing.TB) expected {
	t.Helper()
	e, rows := expected{}, table(t, "expected.csv")
	for i, name := range rows["name"] {
		e[name] = number(t, rows["value"][i])
	}
	return e
}

// near checks a result to 1e-10 in absolute value (relative where above 1).
func (e expected) near(t testing.TB, name string, got float64) {
	t.Helper()
	e.within(t, name, got, 1e-10)
}

func (e expected) within(t testing.TB, name string, got, tolerance float64) {
	t.Helper()
	want, ok := e[name]
	if !ok {
		t.Fatalf("no expected value %q", name)
	}
	if math.IsInf(want, 1) && math.IsInf(got, 1) {
		return
	}
	if !(math.Abs(got-want) <= tolerance*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.14g, want %.14g", name, got, want)
	}
}

func (e expected) all(t testing.TB, name string, got []float64) {
	t.Helper()
	if len(got) == 1 {
		e.near(t, name, got[0])
		return
	}
	if _, more := e[fmt.Sprintf("%s.%d", name, len(got)+1)]; more {
		t.Errorf("%s: only %d values", name, len(got))
	}
	for i, v := range got {
		e.near(t, fmt.Sprintf("%s.%d", name, i+1), v)
	}
}

// groups splits a table into observations by a column, in order of appearance.
func groups(t testing.TB, rows map[string][]string, by string) (names []string, out [][]Observation) {
	t.Helper()
	for i, g := range rows[by] {
		k := slices.Index(names, g)
		if k < 0 {
			k = len(names)
			names, out = append(names, g), append(out, nil)
		}
		out[k] = append(out[k], Observation{number(t, rows["time"][i]), rows["status"][i] == "1"})
	}
	return names, out
}

func observations(t testing.TB, rows map[string][]string) []Observation {
	t.Helper()
	var out []Observation
	for i := range rows["time"] {
		out = append(out, Observation{number(t, rows["time"][i]), rows["status"][i] == "1"})
	}
	return out
}

func covariates(t testing.TB, rows map[string][]string, columns ...string) [][]float64 {
	t.Helper()
	var out [][]float64
	for i := range rows[columns[0]] {
		var row []float64
		for _, c := range columns {
			row = append(row, number(t, rows[c][i]))
		}
		out = append(out, row)
	}
	return out
}

// TestCurvesAgainstR holds estimates, bands, quantiles by the midpoint
// convention, cumulative hazards and restricted means to R's survival 3.5-3.
func TestCurvesAgainstR(t *testing.T) {
	e := loadExpected(t)
	for _, set := range []struct {
		file, tag string
		tau       float64
	}{{"freireich_6mp.csv", "freireich", 35}, {"attempts_to_criterion.csv", "attempts", 25}} {
		names, gs := groups(t, table(t, set.file), "group")
		for k, obs := range gs {
			tag := set.tag + "/" + names[k]
			for _, band := range []Band{Linear, Log, LogLog, Arcsine} {
				c := KaplanMeier(obs, band, 0.95)
				var s, se, lower, upper []float64
				for _, st := range c.Steps {
					s = append(s, st.Survival)
					if st.Survival > 1e-12 {
						se, lower, upper = append(se, st.SE), append(lower, st.Lower), append(upper, st.Upper)
					}
				}
				e.all(t, tag+"/survival", s)
				e.all(t, tag+"/se", se)
				e.all(t, fmt.Sprintf("%s/%s/lower", tag, band), lower)
				e.all(t, fmt.Sprintf("%s/%s/upper", tag, band), upper)
				for _, p := range []float64{0.25, 0.5, 0.75} {
					q := c.MidpointQuantile(p)
					e.all(t, fmt.Sprintf("%s/%s/midpoint-quantile-%g", tag, band, p), []float64{q.Estimate, q.Lower, q.Upper})
				}
			}
			var hazard, se []float64
			for _, h := range NelsonAalen(obs, 0.95) {
				hazard, se = append(hazard, h.Hazard), append(se, h.SE)
			}
			e.all(t, tag+"/nelson-aalen", hazard)
			e.all(t, tag+"/nelson-aalen-se", se)
			mean, meanSE := KaplanMeier(obs, Linear, 0.95).RestrictedMean(set.tau)
			e.all(t, tag+"/restricted-mean", []float64{mean, meanSE})
		}
	}
}

// TestFreireichPrinted: Klein and Moeschberger (2003), table 4.1 and the
// medians 23 and 8 weeks; Freireich et al. (1963), Gehan (1965).
func TestFreireichPrinted(t *testing.T) {
	_, gs := groups(t, table(t, "freireich_6mp.csv"), "group")
	c := KaplanMeier(gs[0], LogLog, 0.95)
	for at, want := range map[float64]float64{6: .857, 7: .807, 10: .753, 13: .690, 16: .627, 22: .538, 23: .448} {
		if got := math.Round(1000*c.At(at)) / 1000; got != want {
			t.Errorf("S(%g) = %.3f, want %.3f", at, got, want)
		}
	}
	if q := c.Quantile(0.5); q.Estimate != 23 {
		t.Errorf("median %v, want 23", q.Estimate)
	}
	if q := KaplanMeier(gs[1], LogLog, 0.95).Quantile(0.5); q.Estimate != 8 {
		t.Errorf("median %v, want 8", q.Estimate)
	}
}

// TestQuantileRules: of four people the second event leaves exactly half, so
// the median is 2 by the rule of the smallest time, and the middle of 2 to 4 by
// the other. Nobody passes three quarters.
func TestQuantileRules(t *testing.T) {
	c := KaplanMeier([]Observation{{1, true}, {2, true}, {3, false}, {4, true}}, Linear, 0.95)
	if q := c.Quantile(0.5); q.Estimate != 2 {
		t.Errorf("median %v, want 2", q.Estimate)
	}
	if q := c.MidpointQuantile(0.5); q.Estimate != 3 {
		t.Errorf("midpoint median %v, want 3", q.Estimate)
	}
	few := KaplanMeier([]Observation{{1, true}, {2, true}, {3, false}, {4, false}}, Linear, 0.95)
	if q := few.Quantile(0.75); !math.IsInf(q.Estimate, 1) {
		t.Errorf("quartile %v, want not reached", q.Estimate)
	}
	if got := few.LargestShare(); got != 0.5 {
		t.Errorf("largest share %v, want 0.5", got)
	}
}

// TestMedianFromAll: 10 of 16 reach by attempt 10 and 6 are seen to attempt 20
// without: the median is the 8th of 16, not the 5th of 10.
func TestMedianFromAll(t *testing.T) {
	var obs []Observation
	for i := 1; i <= 10; i++ {
		obs = append(obs, Observation{float64(i), true})
	}
	for range 6 {
		obs = append(obs, Observation{20, false})
	}
	if q := KaplanMeier(obs, LogLog, 0.95).Quantile(0.5); q.Estimate != 8 {
		t.Errorf("median %v, want 8", q.Estimate)
	}
}

func TestOrderDoesNotMatter(t *testing.T) {
	_, gs := groups(t, table(t, "freireich_6mp.csv"), "group")
	turned := slices.Clone(gs[0])
	slices.Reverse(turned)
	a, b := KaplanMeier(gs[0], LogLog, 0.95), KaplanMeier(turned, LogLog, 0.95)
	for i := range a.Steps {
		if a.Steps[i].Survival != b.Steps[i].Survival || a.Steps[i].Lower != b.Steps[i].Lower {
			t.Fatalf("step %d differs when rows are turned round", i)
		}
	}
}
