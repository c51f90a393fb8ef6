package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// expectedRows reads what another program found, without the head.
func expectedRows(t *testing.T, dir string) [][]string {
	t.Helper()
	return rowsOf(t, filepath.Join(dir, "expected.csv"))[1:]
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestPublicSurvivalSets asks the command about nine public data sets, with every
// band where they are small, and R about the same (survival 3.5-3;
// testdata/survival/public has its script and the sources).
func TestPublicSurvivalSets(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "survival", "public")
	want := map[string]map[string]float64{}
	for _, r := range expectedRows(t, dir) {
		if want[r[0]] == nil {
			want[r[0]] = map[string]float64{}
		}
		want[r[0]][r[1]+"/"+r[2]] = number(t, r[3])
	}
	for set, numbers := range want {
		t.Run(set, func(t *testing.T) {
			got, bands := map[string]float64{}, []string{"linear", "log", "log-log", "arcsine"}
			if info, err := os.Stat(filepath.Join(dir, set+".csv")); err != nil || info.Size() > 1500 {
				bands = []string{"log-log"}
			}
			for _, band := range bands {
				out, _ := tyro(t, 0, "proficiency", filepath.Join(dir, set+".csv"), "--until", "time", "--met", "status", "--arm", "group", "--band", band, "--format", "json", "--replicates", "20")
				collectSurvival(got, band, decode(t, out))
			}
			checked := 0
			for name, w := range numbers {
				if band, _, _ := strings.Cut(strings.SplitAfterN(name, "/", 2)[1], "/"); !slices.Contains(append(bands, "restricted_mean", "restricted_mean_se", "log-rank", "rho-1", "cox"), band) {
					continue
				}
				checked++
				g, ok := got[name]
				if !ok || !(g == w || math.Abs(g-w) <= 1e-9*math.Max(1, math.Abs(w))) {
					t.Errorf("%s = %v, R has %v", name, g, w)
				}
			}
			if checked < 50 {
				t.Errorf("only %d numbers compared", checked)
			}
		})
	}
}

// collectSurvival names the numbers of a document as the expected table does;
// null is not reached.
func collectSurvival(got map[string]float64, band string, doc map[string]any) {
	number := func(v any) float64 {
		if f, ok := v.(float64); ok {
			return f
		}
		return math.Inf(1)
	}
	list := func(v any) (out []map[string]any) {
		for _, x := range v.([]any) {
			out = append(out, x.(map[string]any))
		}
		return out
	}
	for _, q := range list(doc["quantiles"]) {
		for _, k := range []string{"attempts", "lower", "upper", "midpoint"} {
			got[fmt.Sprintf("%s/%s/share %g/%s", q["arm"], band, q["share"], k)] = number(q[k])
		}
	}
	for _, a := range list(doc["survival"]) {
		for _, s := range list(a["steps"]) {
			for _, k := range []string{"survival", "lower", "upper"} {
				got[fmt.Sprintf("%s/%s/step %.6g/%s", a["arm"], band, s["attempt"], k)] = number(s[k])
			}
		}
		for _, k := range []string{"restricted_mean", "restricted_mean_se"} {
			got[fmt.Sprintf("%s/%s", a["arm"], k)] = number(a[k])
		}
	}
	test := doc["log_rank"].(map[string]any)
	got["/log-rank/chi_square"], got["/log-rank/p"] = number(test["chi_square"]), number(test["p"])
	tests := list(doc["tests"])
	early := tests[slices.IndexFunc(tests, func(x map[string]any) bool { return strings.Contains(x["name"].(string), "rho 1") })]
	got["/rho-1/chi_square"] = number(early["chi_square"])
	for _, h := range list(doc["hazard_ratios"]) {
		if h["model"] == "weighted partial likelihood ratio" {
			for _, k := range []string{"ratio", "lower", "upper", "p"} {
				got[fmt.Sprintf("%s/hazard/%s", h["arm"], k)] = number(h[k])
			}
		}
	}
}
