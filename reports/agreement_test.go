package reports_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/datasets"
	"tyro/reports"
	"tyro/reports/figure"
)

// ratingsStudy reads a table of ratings given as text; 60 replicates.
func ratingsStudy(t *testing.T, csv string, rf datasets.RatingsFile) *study.Study {
	t.Helper()
	r, err := datasets.ReadRatings("ratings.csv", []byte(csv), rf)
	if err != nil {
		t.Fatal(err)
	}
	p, err := (&datasets.Study{Title: "ratings", Ratings: &r}).Practice("")
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, study.Options{Replicates: 60})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func agreementOf(t *testing.T, csv string, rf datasets.RatingsFile, q study.AgreementQuestion) *reports.Agreement {
	t.Helper()
	s := ratingsStudy(t, csv, rf)
	a, err := s.Agreement(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	return reports.NewAgreement(s, a)
}

func find(it reports.ItemAgreement, t *testing.T, name string) reports.Coefficient {
	t.Helper()
	for _, c := range it.Coefficients {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("item %s has no %s", it.Item, name)
	return reports.Coefficient{}
}

func close9(t *testing.T, what string, got reports.Number, want float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) <= 1e-9*math.Max(1, math.Abs(want))) {
		t.Errorf("%s = %.12g, want %.12g", what, float64(got), want)
	}
}

// The published table 130/56/9/5: agreement .675, kappa .022 and AC1 .53 stand
// together, with the reason.
func TestAgreementPrintsTheParadox(t *testing.T) {
	d := agreementOf(t, "first,pass,fail\npass,130,56\nfail,9,5\n", datasets.RatingsFile{Counts: true}, study.AgreementQuestion{})
	var b bytes.Buffer
	if err := reports.WriteText(&b, d); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"0.675", "0.022", "0.53", "by chance alone"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the text lacks %q:\n%s", want, b.String())
		}
	}
	// By hand: of pairs with a pass, 2·130/(2·130 + 65).
	close9(t, "positive agreement", find(d.ItemAgreement, t, "positive-agreement").Estimate, 260./325)
	close9(t, "prevalence", find(d.ItemAgreement, t, "prevalence-index").Estimate, 125./200)
	close9(t, "flips", d.Decisions.PairRate.Estimate, 65./200)
}

func TestAgreementOfAllPass(t *testing.T) {
	d := agreementOf(t, "s,a,b\n1,pass,pass\n2,pass,pass\n3,pass,pass\n", datasets.RatingsFile{Wide: true}, study.AgreementQuestion{})
	k := find(d.ItemAgreement, t, "cohen-kappa")
	if k.Note != "not defined: no variation" {
		t.Errorf("note %q", k.Note)
	}
	var b bytes.Buffer
	if err := reports.WriteJSON(&b, d); err != nil {
		t.Fatal(err)
	}
	var keys struct {
		N            int `json:"n_subjects"`
		Coefficients []map[string]any
		Warnings     []map[string]string
	}
	if err := json.Unmarshal(b.Bytes(), &keys); err != nil {
		t.Fatal(err)
	}
	if keys.N != 3 || keys.Coefficients[0]["name"] != "percent-agreement" || keys.Coefficients[0]["estimate"] != 1.0 || len(keys.Warnings) == 0 {
		t.Errorf("%+v", keys)
	}
	b.Reset()
	if err := reports.WriteText(&b, d); err != nil || strings.Contains(b.String(), "NaN") || !strings.Contains(b.String(), "not defined: no variation") {
		t.Errorf("text of all-pass ratings (%v):\n%s", err, b.String())
	}
}

// Adding 5 to one examiner changes agreement and decisions, not consistency,
// and shows as severity.
func TestAgreementOfAStrictExaminer(t *testing.T) {
	table := func(add int) string {
		var b strings.Builder
		b.WriteString("performance,a,b,c\n")
		for i, row := range [][3]int{{60, 62, 61}, {70, 69, 73}, {55, 52, 56}, {80, 81, 79}, {66, 64, 69}, {58, 61, 60}} {
			fmt.Fprintf(&b, "P%d,%d,%d,%d\n", i, row[0], row[1], row[2]+add)
		}
		return b.String()
	}
	cut := 65.0
	o := study.AgreementQuestion{Cut: &cut}
	before, after := agreementOf(t, table(0), datasets.RatingsFile{Wide: true}, o), agreementOf(t, table(5), datasets.RatingsFile{Wide: true}, o)
	for _, same := range []string{"icc(c,1)", "icc(c,k)", "cronbach-alpha"} {
		close9(t, same, find(after.ItemAgreement, t, same).Estimate, float64(find(before.ItemAgreement, t, same).Estimate))
	}
	for _, moved := range []string{"icc(a,1)", "icc(a,k)", "phi-coefficient"} {
		if !(find(after.ItemAgreement, t, moved).Estimate < find(before.ItemAgreement, t, moved).Estimate-0.01) {
			t.Errorf("%s did not fall: %v", moved, find(after.ItemAgreement, t, moved).Estimate)
		}
	}
	if before.Decisions.PairRate.Estimate == after.Decisions.PairRate.Estimate {
		t.Error("decisions did not move")
	}
	close9(t, "severity of the lenient one", after.Raters[2].Severity, float64(before.Raters[2].Severity)-10./3)
}

func TestAgreementKeepsSubjectsWithAGap(t *testing.T) {
	full := "performance,a,b,c\nP1,60,62,61\nP2,70,69,73\nP3,55,52,56\nP4,80,81,79\nP5,66,64,69\n"
	gap := strings.Replace(full, "70,69,73", "70,,73", 1)
	without := strings.Replace(full, "P2,70,69,73\n", "", 1)
	of := func(csv string) reports.Number {
		return find(agreementOf(t, csv, datasets.RatingsFile{Wide: true}, study.AgreementQuestion{}).ItemAgreement, t, "icc(a,1)").Estimate
	}
	if of(gap) == of(without) {
		t.Error("the subject with a gap was dropped")
	}
	if d := agreementOf(t, gap, datasets.RatingsFile{Wide: true}, study.AgreementQuestion{}); d.NSubjects != 5 || d.Missing != 1 {
		t.Errorf("%d subjects, %d missing", d.NSubjects, d.Missing)
	}
}

// Several items on one scale get an entry for their mean with the study of
// subjects, items and raters behind it.
func TestAgreementOfSeveralItems(t *testing.T) {
	var b strings.Builder
	b.WriteString("p,i,r,score\n")
	for p := range 5 {
		for i := range 3 {
			for r := range 2 {
				fmt.Fprintf(&b, "%d,%d,%d,%d\n", p, i, r, (3*p+i*i+2*r+p*i*r)%7)
			}
		}
	}
	d := agreementOf(t, b.String(), datasets.RatingsFile{Subject: "p", Item: "i", Rater: "r"}, study.AgreementQuestion{Costs: &study.MeasuringCosts{Performance: 10, Rating: 1}})
	if len(d.Items) != 4 || d.Item != study.AllItems {
		t.Fatalf("%d entries, the first is %q", len(d.Items), d.Item)
	}
	if g := d.Generalizability; len(g.Components) != 7 || len(g.Decisions) != 72 || g.Design != "subject × item × rater" {
		t.Errorf("%d components, %d rows, %s", len(g.Components), len(g.Decisions), g.Design)
	}
	if d.VarianceComponents[6].Name != "residual" {
		t.Errorf("components %+v", d.VarianceComponents)
	}
}

func TestAgreementOfRepeatedRatings(t *testing.T) {
	csv := "subject,rater,look,day,score\n"
	for s := range 6 {
		for _, r := range []string{"A", "B"} {
			for look, name := range []string{"live", "video"} {
				csv += fmt.Sprintf("S%d,%s,%s,2026-01-%02d,%d\n", s, r, name, 2+s, 50+7*s%23+look*(s%3)+len(r))
			}
		}
	}
	d := agreementOf(t, csv, datasets.RatingsFile{Occasion: "look", When: "day"}, study.AgreementQuestion{})
	if len(d.Repeats) != 3 || d.Repeats[2].Rater != "all raters" || d.Repeats[0].From != "live" || d.Repeats[0].To != "video" || d.Repeats[2].N != 12 {
		t.Fatalf("%+v", d.Repeats)
	}
	// Live and video differ by s mod 3: 0, 1, 2, 0, 1, 2: within-subject SD
	// √(Σd²/2n) = √(10/12).
	close9(t, "within-subject SD", d.Repeats[0].WithinSD, math.Sqrt(10./12))
	if len(d.Raters) != 2 || math.IsNaN(float64(d.Raters[0].Drift)) {
		t.Errorf("no drift: %+v", d.Raters)
	}
	if _, err := datasets.ReadRatings("r.csv", []byte(csv), datasets.RatingsFile{}); err == nil || !strings.Contains(err.Error(), "occasion") {
		t.Errorf("repeated ratings without an occasion column: %v", err)
	}
}

func TestAgreementChecklistLeavesBlanks(t *testing.T) {
	d := agreementOf(t, "s,a,b\n1,3,4\n2,5,5\n3,2,1\n4,4,4\n", datasets.RatingsFile{Wide: true}, study.AgreementQuestion{})
	if len(d.Checklist) != 15 {
		t.Fatalf("%d items, want 15", len(d.Checklist))
	}
	for _, c := range d.Checklist {
		known := c.Number == 6 || c.Number == 10 || c.Number == 11 || c.Number == 13 || c.Number == 15
		if known != (c.Text != "") {
			t.Errorf("item %d, %s: %q", c.Number, c.Topic, c.Text)
		}
	}
	files, err := figure.Files(d)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"agreement-differences-score.svg", "agreement-severity-score.svg", "agreement-decision-table-score.svg", "agreement-intervals.csv"} {
		if len(files[name]) == 0 {
			t.Errorf("no %s", name)
		}
	}
}

func TestPlanAgreement(t *testing.T) {
	s, err := study.New(practice.Practice{}, study.Options{Replicates: 50})
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.PlanAgreement(context.Background(), study.AgreementPlan{What: "icc", Expect: 0.8, Width: 0.2, Raters: []int{3}})
	if err != nil {
		t.Fatal(err)
	}
	d := reports.NewPlannedAgreement(s, a)
	// Bonett (2002): 36 subjects, as derived in the analysis' own test.
	if len(d.Sizes) != 1 || d.Sizes[0].Subjects != 36 || len(d.Rows) != 3 || math.IsNaN(float64(d.Rows[1].Width)) {
		t.Errorf("%+v", d)
	}
}
