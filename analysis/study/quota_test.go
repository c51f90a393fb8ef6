package study

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/models"
)

// ofUntil is a study of trainees of whom only the attempts until the rule was met are
// known.
func ofUntil(t *testing.T, o Options, rows ...practice.Until) *Study {
	t.Helper()
	o.NoCurves = true
	s, err := New(practice.Practice{Until: rows}, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func coded(ws []analysis.Warning, code string) string {
	if i := slices.IndexFunc(ws, func(w analysis.Warning) bool { return w.Code == code }); i >= 0 {
		return ws[i].Text
	}
	return ""
}

// Where the cohort's curve and what was seen do not agree, that is said.
func TestBasesDiffer(t *testing.T) {
	var rows []practice.Until
	for k := range 12 {
		rows = append(rows, practice.Until{Attempt: float64(2 + k%3), Met: true})
	}
	q, err := ofUntil(t, Options{Replicates: 100}, rows...).Quota(t.Context(), QuotaOptions{})
	if err != nil {
		t.Fatal(err)
	}
	late := proficiency.Progress{Basis: proficiency.ByCohort, Share: []float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 1}, Lower: make([]float64, 10), Upper: make([]float64, 10), Level: 0.95}
	late.Draws = [][]float64{late.Share, late.Share}
	g := q.Groups[0]
	curve := QuotaBasis{Progress: late}
	for _, s := range proficiency.QuotaShares() {
		curve.Quotas = append(curve.Quotas, ShareQuota{Quota: late.Quota(s)})
	}
	g.Bases = append(g.Bases, curve)
	q.remark(g)
	if text := coded(q.Warnings, "bases-differ"); !strings.Contains(text, "10 attempts") {
		t.Errorf("no warning: %v", q.Warnings)
	}
}

// Of eight, five met the rule at 2 to 6, two were last seen at 3 and 4 without, and the
// last one met it at 9 with nobody else left: the estimate reaches everybody, and yet two
// of eight never met the rule. Beyond attempt 9 nothing is known. By attempt 4 three had
// met it, one had stopped before and four had not met it by then, of whom one stopped
// there.
func TestThoseWhoNeverMet(t *testing.T) {
	s := ofUntil(t, Options{Replicates: 100}, practice.Until{Attempt: 2, Met: true}, practice.Until{Attempt: 3, Met: true}, practice.Until{Attempt: 4, Met: true},
		practice.Until{Attempt: 5, Met: true}, practice.Until{Attempt: 6, Met: true}, practice.Until{Attempt: 3}, practice.Until{Attempt: 4}, practice.Until{Attempt: 9, Met: true})
	q, err := s.Quota(t.Context(), QuotaOptions{})
	if err != nil {
		t.Fatal(err)
	}
	b := q.Groups[0].Observed()
	if v := b.At(9); v != 1 {
		t.Errorf("by attempt 9 the share is %v, want 1", v)
	}
	if v := b.At(10); !math.IsNaN(v) {
		t.Errorf("by attempt 10, beyond the last one seen, the share is %v, want unknown", v)
	}
	if b.Schedule.Attempts != 9 || !math.IsNaN(b.Schedule.NeverMet) {
		t.Errorf("schedule of %d attempts, %v never meet the rule; want 9 and unknown", b.Schedule.Attempts, b.Schedule.NeverMet)
	}
	if text := coded(q.Warnings, "not-all-met"); !strings.Contains(text, "2 of 8 had not met the rule") {
		t.Errorf("warnings %v", q.Warnings)
	}
	if by := q.Groups[0].by(4); by != (SeenBy{Met: 3, Stopped: 1, Without: 4}) {
		t.Errorf("by attempt 4: %+v", by)
	}
	if q, err = s.Quota(t.Context(), QuotaOptions{Attempts: 20}); err != nil {
		t.Fatal(err)
	}
	out := q.Groups[0].Observed().Schedule
	if !math.IsNaN(out.Met.Value) || !math.IsNaN(out.Used.Value) || !math.IsNaN(out.Stopping.Cost.Value) {
		t.Errorf("with 20 attempts, beyond the last one seen: %+v", out.Outlay)
	}
}

// Where everybody was seen to meet the rule, all have met it at any later attempt, and
// nobody makes one.
func TestAllMetBeyondTheEnd(t *testing.T) {
	q, err := ofUntil(t, Options{Replicates: 100}, practice.Until{Attempt: 1, Met: true}, practice.Until{Attempt: 2, Met: true}, practice.Until{Attempt: 2.5, Met: true}).
		Quota(t.Context(), QuotaOptions{Attempts: 1_000_000_000})
	if err != nil {
		t.Fatal(err)
	}
	if out := q.Groups[0].Observed().Schedule; out.Met.Value != 1 || math.Abs(out.Used.Value-2) > 1e-12 { // 1, 2 and 3 attempts
		t.Errorf("%+v", out.Outlay)
	}
}

// fast is a study of trainees, each of whom takes 100·exp(−0.3·(n−1)) + 20 + i/2 seconds
// with a scatter that repeats.
func fast(n int, o Options, change func(i int, t *practice.Trainee)) (*Study, error) {
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{
		Name: "cannulation", Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 40}, Rule: practice.Rule{{Need: 2}}, Horizon: 40,
	}}
	for i := range n {
		var attempt, seconds []float64
		for k := range 12 {
			scatter := []float64{1.05, 0.93, 1.02, 0.98, 1.07}[(i+k*3)%5]
			attempt, seconds = append(attempt, float64(k+1)), append(seconds, scatter*(100*math.Exp(-0.3*float64(k))+20+float64(i)/2))
		}
		tr := practice.Measured(string(rune('a'+i)), attempt, seconds)
		if change != nil {
			change(i, &tr)
		}
		p.Trainees = append(p.Trainees, tr)
	}
	return New(p, o)
}

// What the cohort warns of stands with the quota that rests on it.
func TestQuotaCarriesWarningsOfTheCohort(t *testing.T) {
	s, err := fast(8, Options{Replicates: 20}, func(i int, tr *practice.Trainee) {
		if i == 7 { // attempts that no curve can use
			for k := range tr.Attempts {
				tr.Attempts[k].Outcome = practice.Failed
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	q, err := s.Quota(t.Context(), QuotaOptions{})
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.Cohort(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, code := range []string{"no-attempts", "few-trainees"} { // one without a curve, seven are few
		if coded(c.Warnings, code) == "" {
			t.Fatalf("the cohort does not warn of %s: %v", code, c.Warnings)
		}
	}
	for _, w := range c.Warnings {
		if !slices.Contains(q.Warnings, w) {
			t.Errorf("the quota lacks the cohort's warning %+v", w)
		}
	}
	if len(q.Groups) != 1 || len(q.Groups[0].Seen) != 8 {
		t.Errorf("groups %+v: everybody counts as observed", q.Groups)
	}
}

// As many draws of the population as replicates were asked for, and 400 otherwise.
func TestDrawsFollowReplicates(t *testing.T) {
	for asked, want := range map[int]int{0: 400, 30: 30, 450: 450} {
		s, err := fast(6, Options{Replicates: asked, Families: []models.Family{models.Exponential(1)}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		q, err := s.Quota(t.Context(), QuotaOptions{})
		if err != nil {
			t.Fatal(err)
		}
		b, ok := q.Groups[0].Curve()
		if !ok || len(b.Draws) != want {
			t.Errorf("%d replicates: %d draws (%v), want %d", asked, len(b.Draws), q.Warnings, want)
		}
	}
}

// Numbers beyond all sense are errors in words, and nothing of that size is made.
func TestAbsurdQuotas(t *testing.T) {
	for _, c := range []struct {
		rows []practice.Until
		o    Options
		want string
	}{
		{[]practice.Until{{Attempt: 1e9}}, Options{Replicates: 20}, "followed up to attempt 100000"},
		{[]practice.Until{{Attempt: 5000}}, Options{Replicates: 10_000_000}, "at most 5000 replicates fit"},
	} {
		if _, err := ofUntil(t, c.o, c.rows...).Quota(t.Context(), QuotaOptions{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c.rows, err)
		}
	}
	s, err := fast(6, Options{Replicates: 20, Families: []models.Family{models.Exponential(1)}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s.Question.Horizon = 1e9
	q, err := s.Quota(t.Context(), QuotaOptions{Attempts: 1e9, Fewer: 1e8})
	if err != nil {
		t.Fatal(err)
	}
	if text := coded(q.Warnings, "no-cohort-curve"); !strings.Contains(text, "followed up to attempt 100000") {
		t.Errorf("warnings %v", q.Warnings)
	}
	if _, err := s.WaysToStop(t.Context(), WaysOptions{}); err == nil || !strings.Contains(err.Error(), "expected 1 to 2000") {
		t.Errorf("ways to stop with a horizon of 1e9: %v", err)
	}
	if _, err := Operating(s.Question.Rule, 0.5, 1e9); err == nil || !strings.Contains(err.Error(), "expected 1 to 1000000") {
		t.Errorf("an operating curve with a horizon of 1e9: %v", err)
	}
}

// A quota needs trainees, a standard, a rule, and shares that can be.
func TestQuotaRefuses(t *testing.T) {
	s, err := fast(2, Options{}, func(_ int, tr *practice.Trainee) {
		for k := range tr.Attempts {
			tr.Attempts[k].Outcome = practice.Void
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Quota(t.Context(), QuotaOptions{}); err == nil || !strings.Contains(err.Error(), "none has an attempt that counts") {
		t.Errorf("void attempts only: %v", err)
	}
	for _, o := range []QuotaOptions{{Shares: []float64{1.5}}, {Target: -0.1}, {Attempts: -1}, {Fewer: -2}} {
		if _, err := ofUntil(t, Options{}, practice.Until{Attempt: 2, Met: true}).Quota(t.Context(), o); err == nil {
			t.Errorf("%+v was answered", o)
		}
	}
	if _, err := ofUntil(t, Options{}).Quota(t.Context(), QuotaOptions{}); err == nil {
		t.Error("nobody has a quota")
	}
}
