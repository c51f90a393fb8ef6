package figure_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tyro/analysis/standard"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
	"tyro/reports/figure"
)

const standards = "../../testdata/standards/"

func setStandard(t *testing.T, path string, table datasets.StandardTable, r study.StandardRule) *reports.Standard {
	t.Helper()
	p, err := datasets.OpenStandardTable(t.Context(), path, table)
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, study.Options{Replicates: 200, NoCurves: true})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Standard(context.Background(), r)
	if err != nil {
		t.Fatal(err)
	}
	return reports.NewStandard(s, a)
}

// TestStandardFigures: every method leaves its figure, with the standard written on
// it.
func TestStandardFigures(t *testing.T) {
	classes := filepath.Join(t.TempDir(), "classes.csv")
	if err := os.WriteFile(classes, []byte("judge,class,items,share\nA,hard,4,0.9\nB,hard,4,0.8\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	groups, ratings := datasets.StandardTable{Rows: datasets.GroupRows}, datasets.StandardTable{Rows: datasets.RatingRows, Response: "checklist"}
	for _, c := range []struct {
		file   string
		table  datasets.StandardTable
		r      study.StandardRule
		figure string
		marks  []string
	}{
		{standards + "expert_benchmark.csv", datasets.StandardTable{Rows: datasets.ExpertRows, Response: "time_s", Measure: datasets.Time, Lower: true}, study.StandardRule{Method: study.ExpertMean, Drop: standard.Drop{Trim: 0.1}}, "standard-experts.svg", []string{">14</text>", ">time_s</text>"}},
		{standards + "contrasting_groups.csv", groups, study.StandardRule{Method: study.ContrastingGroups, Crossing: standard.Normal}, "standard-groups.svg", []string{"standard 65.69", "false passes 21.6 %", "competent (30)"}},
		{standards + "contrasting_groups.csv", groups, study.StandardRule{Method: study.ContrastingGroups, Crossing: standard.Youden}, "standard-groups.svg", []string{"false fails"}},
		{standards + "borderline_regression.csv", ratings, study.StandardRule{Method: study.BorderlineRegression, Borderline: 2}, "standard-ratings.svg", []string{"standard 53.04 (50.18 to 55.91)", ">checklist</text>"}},
		{standards + "borderline_regression.csv", ratings, study.StandardRule{Method: study.BorderlineGroup, Borderline: 2}, "standard-ratings.svg", []string{"standard 56.00"}},
		{standards + "angoff.csv", datasets.StandardTable{Rows: datasets.JudgementRows}, study.StandardRule{Method: study.Angoff}, "standard-judges.svg", []string{"standard 7.694", ">8 judges</text>"}},
		{classes, datasets.StandardTable{Rows: datasets.ClassRows}, study.StandardRule{Method: study.Ebel}, "standard-judges.svg", []string{"standard 3.400", ">2 judges</text>"}},
		{standards + "hofstee_scores.csv", datasets.StandardTable{Rows: datasets.ValueRows, Bounds: standards + "hofstee_judges.csv"}, study.StandardRule{Method: study.Hofstee}, "standard-box.svg", []string{"standard 22.64"}},
	} {
		files, err := figure.Files(setStandard(t, c.file, c.table, c.r))
		if err != nil {
			t.Fatalf("%s: %v", c.r.Method, err)
		}
		svg := string(files[c.figure])
		if !strings.HasPrefix(svg, "<svg ") || strings.Contains(svg, "NaN") {
			t.Errorf("%s: no figure %s", c.r.Method, c.figure)
		}
		for _, m := range c.marks {
			if !strings.Contains(svg, m) {
				t.Errorf("%s: the figure lacks %q", c.r.Method, m)
			}
		}
		if _, written := files["standard.yaml"]; written {
			t.Errorf("%s: lines for the study file, which nobody asked for", c.r.Method)
		}
	}
}
