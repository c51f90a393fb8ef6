package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

// group is a study of n people whose times fall exponentially; each third attempt is a
// hard fail of the first person.
func group(t *testing.T, n, attempts int, o Options) *Study {
	t.Helper()
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{
		Measure: practice.Time, Lower: true, Standard: &practice.Decision{Value: 70}, Rule: mustParse(t, "2 in a row"), Horizon: 60,
	}}
	for i := range n {
		r := resample.Stream(11, "study test", i)
		one := practice.Trainee{ID: fmt.Sprint("T", i+1)}
		plateau, gain := 45*math.Exp(0.2*r.NormFloat64()), 130*math.Exp(0.2*r.NormFloat64())
		for k := range attempts {
			a := practice.Attempt{Number: float64(k + 1), Response: (plateau + gain*math.Exp(-0.2*float64(k))) * math.Exp(0.15*r.NormFloat64()), Clean: true}
			if i == 0 && k%3 == 2 {
				a.Outcome, a.Response = practice.Failed, math.NaN()
			}
			one.Attempts = append(one.Attempts, a)
		}
		p.Trainees = append(p.Trainees, one)
	}
	o.Families = []models.Family{models.Exponential(1)}
	s, err := New(p, o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mustParse(t *testing.T, text string) practice.Rule {
	t.Helper()
	r, err := practice.ParseRule(text)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func describe(t *testing.T, s *Study, o CohortOptions) *Cohort {
	t.Helper()
	c, err := s.DescribeCohort(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A part is there when it was asked for, and only then; asked for alone it says what
// it says among all.
func TestCohortParts(t *testing.T) {
	s := group(t, 7, 12, Options{Seed: 3})
	all := describe(t, s, CohortOptions{})
	if all.Checks != nil || all.Bootstrap != nil || all.Own != nil {
		t.Error("checks, a bootstrap or own curves without being asked for")
	}
	for _, part := range []CohortParts{PartCalibration, PartMembers, PartMoves, PartNewcomers, PartShares} {
		c := describe(t, s, CohortOptions{Only: part})
		asked := func(parts CohortParts) bool { return part&parts != 0 }
		for what, there := range map[string][2]bool{
			"calibration": {c.Calibration != nil, asked(PartCalibration)},
			"members":     {c.Members != nil, asked(PartMembers | PartMoves)},
			"moves":       {len(c.Members) > 0 && len(c.Members[1].Moves) > 1, asked(PartMoves)},
			"newcomers":   {c.Arms[0].Next != nil && c.Arms[0].RuleMet != nil, asked(PartNewcomers)},
			"shares":      {c.Arms[0].Shares != nil, asked(PartShares)},
		} {
			if there[0] != there[1] {
				t.Errorf("part %b: %s there %v, want %v", part, what, there[0], there[1])
			}
		}
		if part == PartMembers && !slices.Equal(c.Members[3].Next, all.Members[3].Next) {
			t.Error("a member's projection alone differs from that among all parts")
		}
	}
	if first, again := describe(t, s, CohortOptions{Only: PartShares}).Fit, all.Fit; first != again {
		t.Error("the study's own cohort is fitted twice")
	}
}

// What is said of a member is the projection of the same attempts by the cohort behind
// it; of a trainee yet to come it is what proficiency says of a newcomer.
func TestCohortIsPooled(t *testing.T) {
	ctx := context.Background()
	s := group(t, 7, 12, Options{Seed: 3})
	c := describe(t, s, CohortOptions{})
	pooled, err := s.Pooled(ctx)
	if err != nil {
		t.Fatal(err)
	}
	direct, err := proficiency.Pool(ctx, c.Fit.Cohort, false, c.Fit.People, s.Question) // nothing kept
	if err != nil {
		t.Fatal(err)
	}
	want, err := direct.Project(ctx, c.Fit.People, s.Sampling())
	if err != nil {
		t.Fatal(err)
	}
	for i, m := range c.Members {
		pass, met := m.Proficiency[1], m.Proficiency[2]
		if got := [3]float64{pass.Estimate, pass.Lower, pass.Upper}; got != want[i].PassChance || met.Estimate != want[i].Estimate || met.NotReached != want[i].NotReached {
			t.Errorf("%s: %+v, want %+v", m.ID, m.Proficiency, want[i])
		}
	}
	as, err := pooled.NewTrainee(ctx, "", s.Sampling())
	if err != nil {
		t.Fatal(err)
	}
	if a, r := as[2], c.Arms[0].RuleMet; a.Definition != proficiency.RuleMet || a.Estimate != r.Estimate || a.Lower != r.Lower || a.Upper != r.Upper {
		t.Errorf("newcomer %+v, want %+v", r, a)
	}
}

// Own parameters are those of the trainee's own curve of the cohort's family.
func TestCohortOwnCurves(t *testing.T) {
	s := group(t, 7, 12, Options{Seed: 3})
	s.Trainees[6].Attempts = s.Trainees[6].Attempts[:1] // too few for a curve
	c := describe(t, s, CohortOptions{Only: PartCalibration, Own: true})
	learners, err := s.Learners(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for i, own := range c.Own[:6] {
		theta := learners.Each[i].Choice.Fit.Curve.Theta()
		if !slices.Equal(own, theta[:len(own)]) {
			t.Errorf("%s: %v, own curve %v", c.Fit.Members[i].ID, own, theta)
		}
	}
	if last := c.Own[6]; !math.IsNaN(last[0]) {
		t.Errorf("own parameters %v from a single attempt", last)
	}
	want := analysis.Warning{Code: "own-curves-missing", Text: "trainees whose own attempts alone give no exponential curve: 1 of 7; pictures of own curves leave them out"}
	if !slices.Contains(c.Warnings, want) {
		t.Errorf("warnings %v", c.Warnings)
	}
}

// Warnings of the fit stand with everything that rests on it.
func TestCohortWarnings(t *testing.T) {
	s := group(t, 7, 12, Options{Seed: 3})
	s.Trainees[5].Attempts = nil
	s.Trainees[6].Attempts = s.Trainees[6].Attempts[:1]
	c := describe(t, s, CohortOptions{Only: PartShares})
	has := func(code string) bool {
		for _, w := range c.Warnings {
			if w.Code == code {
				return true
			}
		}
		return false
	}
	for _, code := range []string{"no-attempts", "one-attempt", "few-trainees", "fails-apart"} {
		if !has(code) {
			t.Errorf("no warning %s: %v", code, c.Warnings)
		}
	}
	for _, w := range c.Fit.Cohort.Warnings {
		if !has(w.Code) {
			t.Errorf("the fit warns of %s, the answer does not", w.Code)
		}
	}
}

// Another way's interval takes the place of Wald's, but not where there is no estimate
// for it to be about: there the bound that the fit leaves stays.
func TestIntervalsInPlace(t *testing.T) {
	nan := math.NaN()
	c := &Cohort{
		Fixed:  []cohort.Effect{{Parameter: "plateau", Estimate: nan, Lower: nan, Upper: 4}, {Parameter: "rate", Arm: "b", Estimate: 1, Lower: 0, Upper: 2}},
		Random: []cohort.Deviation{{Parameter: "rate", SD: 1, Lower: 0.5, Upper: 2}},
	}
	wald := c.Fixed
	c.put(map[place][2]float64{{"fixed", "plateau", "", ""}: {1, 9}, {"fixed", "rate", "b", ""}: {0.5, 1.75}, {"sd", "rate", "", ""}: {0.25, 3}, {"residual", "spread", "", ""}: {6, 7}})
	if e := c.Fixed[0]; !math.IsNaN(e.Lower) || e.Upper != 4 {
		t.Errorf("plateau %v to %v", e.Lower, e.Upper)
	}
	if e := c.Fixed[1]; e.Lower != 0.5 || e.Upper != 1.75 || wald[1].Lower != 0 {
		t.Errorf("rate %v to %v, the fit's own %v", e.Lower, e.Upper, wald[1].Lower)
	}
	if d, r := c.Random[0], c.Residual; d.Lower != 0.25 || d.Upper != 3 || r.Lower != 6 || r.Upper != 7 {
		t.Errorf("spread %+v, residual %+v", d, r)
	}
}
