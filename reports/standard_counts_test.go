package reports_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
)

// A row is one line of a log as it stands in the file.
type row map[string]string

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%s %q: %v", column, r[column], err)
	}
	return v
}

// rows reads a file with nothing but the standard library.
func rows(t *testing.T, path string) []row {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	for _, cells := range all[1:] {
		r := row{}
		for j, name := range all[0] {
			r[name] = cells[j]
		}
		out = append(out, r)
	}
	return out
}

// passes is the demo's rule for one attempt: done, in time, at most one wall puncture.
func (r row) passes(t *testing.T, level float64) bool {
	return r["outcome"] == "done" && r.number(t, "seconds") <= level && r.number(t, "wall_punctures") <= 1
}

// text is a document as people read it, its lines joined.
func text(t *testing.T, d reports.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := reports.WriteText(&b, d); err != nil {
		t.Fatal(err)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// Every count that the demo's answer speaks of, from the files themselves: who misses
// and passes at the standard in force, and who changes status inside the interval.
func TestStandardCountsAreThoseOfTheLog(t *testing.T) {
	p, dir := demoPractice(t)
	log, experts := rows(t, filepath.Join(dir, "attempts.csv")), rows(t, filepath.Join(dir, "experts.csv"))
	p.Task.Rule = nil
	lastAttempt := p
	p, _ = demoPractice(t)
	for _, c := range []struct {
		name string
		p    practice.Practice
		met  func(passes []bool) bool
	}{
		{"by the rule", p, func(passes []bool) bool { return strings.Contains(fmt.Sprint(passes), "true true") }},
		{"by the last attempt", lastAttempt, func(passes []bool) bool { return passes[len(passes)-1] }},
	} {
		s := studyOf(t, c.p)
		a, err := s.Standard(context.Background(), study.StandardRule{SDs: 1, SkipRuns: 1})
		if err != nil {
			t.Fatal(err)
		}
		d := reports.NewStandard(s, a)
		said := text(t, d)

		pass := func(level float64) map[string]bool { // who passes, with the log in file order
			by, out := map[string][]bool{}, map[string]bool{}
			for _, r := range log {
				if r["outcome"] != "void" {
					by[r["trainee"]] = append(by[r["trainee"]], r.passes(t, level))
				}
			}
			for who, passes := range by {
				out[who] = c.met(passes)
			}
			return out
		}
		at, lower, upper := pass(float64(d.Estimate)), pass(float64(d.Lower)), pass(float64(d.Upper))
		var n [4]int
		for who := range at {
			for k, holds := range []bool{at[who], lower[who], upper[who], lower[who] != upper[who]} {
				if holds {
					n[k]++
				}
			}
		}
		if want := fmt.Sprintf("change status %d %d %d %d %d Pass:", len(at), n[0], n[1], n[2], n[3]); !strings.Contains(said, want) {
			t.Errorf("%s: the text lacks %q: %s", c.name, want, said)
		}

		values, runs, missed := map[string][]float64{}, 0, 0
		for _, r := range experts {
			if r.number(t, "run") == 1 {
				continue
			}
			if runs++; !r.passes(t, 57) {
				missed++
			}
			values[r["expert"]] = append(values[r["expert"]], r.number(t, "seconds"))
		}
		fail, meet := 0, 0
		for _, v := range values {
			mean := 0.0
			for _, x := range v {
				mean += x / float64(len(v))
			}
			if mean > 57 {
				fail++
			}
			if mean <= float64(d.Estimate) {
				meet++
			}
		}
		first, passed := 0, 0
		for _, r := range log {
			if r["attempt"] == "1" && r["outcome"] != "void" {
				first++
				if r.passes(t, 57) {
					passed++
				}
			}
		}
		for _, want := range []string{
			fmt.Sprintf("%d of %d meet this standard themselves.", meet, len(values)),
			fmt.Sprintf("False fails to expect: at 57.00, %d of %d experts miss it by their own value, and %d of their %d single runs (%.0f %%) do not pass.", fail, len(values), missed, runs, 100*float64(missed)/float64(runs)),
			fmt.Sprintf("False passes to expect: at 57.00, %d of %d trainees (%.0f %%) pass with their very first attempt.", passed, first, 100*float64(passed)/float64(first)),
		} {
			if !strings.Contains(said, want) {
				t.Errorf("%s: the text lacks %q: %s", c.name, want, said)
			}
		}
	}
}

// Two judged groups: false passes and fails, and who changes status, counted in the
// file.
func TestGroupCountsAreThoseOfTheFile(t *testing.T) {
	table := rows(t, standards+"contrasting_groups.csv")
	d, err := setStandard(t, standards+"contrasting_groups.csv", datasets.StandardTable{Rows: datasets.GroupRows}, study.StandardRule{Method: study.ContrastingGroups})
	if err != nil {
		t.Fatal(err)
	}
	var group, wrong [2]float64
	var n [4]int
	for _, r := range table {
		v, g := r.number(t, "score"), int(r.number(t, "competent"))
		at, low, high := v >= float64(d.Estimate), v >= float64(d.Lower), v >= float64(d.Upper)
		group[g]++
		if at != (g == 1) {
			wrong[g]++
		}
		for k, holds := range []bool{at, low, high, low != high} {
			if holds {
				n[k]++
			}
		}
	}
	said := text(t, d)
	for _, want := range []string{
		fmt.Sprintf("False passes (not yet competent who pass): observed %.1f %%", 100*wrong[0]/group[0]),
		fmt.Sprintf("False fails (competent who fail): observed %.1f %%", 100*wrong[1]/group[1]),
		fmt.Sprintf("change status %d %d %d %d %d Pass:", len(table), n[0], n[1], n[2], n[3]),
		fmt.Sprintf("not yet competent %.0f ", group[0]),
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the text lacks %q: %s", want, said)
		}
	}
}

// The lines for the study file hold the false passes and fails of the value decided
// on, not of the estimate: at 80, counted in the file.
func TestBlockCountsAtTheValueDecided(t *testing.T) {
	value := 80.0
	d, err := setStandard(t, standards+"contrasting_groups.csv", datasets.StandardTable{Rows: datasets.GroupRows}, study.StandardRule{
		Method: study.ContrastingGroups, Decided: &study.Decided{Value: &value, By: "the board", On: "2026-03-01", Data: "contrasting_groups.csv"},
	})
	if err != nil {
		t.Fatal(err)
	}
	var group, wrong [2]float64
	for _, r := range rows(t, standards+"contrasting_groups.csv") {
		g := int(r.number(t, "competent"))
		group[g]++
		if (r.number(t, "score") >= value) != (g == 1) {
			wrong[g]++
		}
	}
	b := d.Decision
	if math.Abs(*b.FalsePass-wrong[0]/group[0]) > 1e-12 || math.Abs(*b.FalseFail-wrong[1]/group[1]) > 1e-12 {
		t.Errorf("false passes %v, fails %v at 80; the file has %v and %v", *b.FalsePass, *b.FalseFail, wrong[0]/group[0], wrong[1]/group[1])
	}
	if *b.FalseFail == float64(d.FalseFail) {
		t.Error("the estimate has the same false fails, so nothing was tested")
	}
	if !strings.Contains(text(t, d), "the value decided on, 80, lies outside the 95 % interval") {
		t.Error("nothing is said of a value outside the interval")
	}
}
