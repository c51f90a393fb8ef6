package figure

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/analysis/study"
	"tyro/models"
	"tyro/reports"
)

// ofCohort is the document of seven made-up people, with their own curves.
func ofCohort(t *testing.T) *reports.Cohort {
	t.Helper()
	p := practice.Practice{Arms: []string{""}, Task: practice.Task{Measure: practice.Time, Lower: true}}
	for i := range 7 {
		r := resample.Stream(11, "figure test", i)
		one := practice.Trainee{ID: fmt.Sprint("T", i+1)}
		plateau := 45 * math.Exp(0.3*r.NormFloat64())
		for k := range 12 {
			one.Attempts = append(one.Attempts, practice.Attempt{Number: float64(k + 1), Response: (plateau + 130*math.Exp(-0.2*float64(k))) * math.Exp(0.1*r.NormFloat64()), Clean: true})
		}
		p.Trainees = append(p.Trainees, one)
	}
	s, err := study.New(p, study.Options{Families: []models.Family{models.Exponential(1)}})
	if err != nil {
		t.Fatal(err)
	}
	c, err := s.DescribeCohort(context.Background(), study.CohortOptions{CohortSpec: study.CohortSpec{Random: []string{"plateau"}}, Own: true})
	if err != nil {
		t.Fatal(err)
	}
	return reports.NewCohort(s, c)
}

// A trainee's value that is not identified leaves its place in the picture empty; a
// parameter identified for nobody has no panel. Own curves are taken as they come.
func TestShrinkageWithoutValues(t *testing.T) {
	d := ofCohort(t)
	const lines = "<path"
	picture := func() string {
		t.Helper()
		var s string
		for _, p := range Cohort(d) {
			if p.Name != "cohort-shrinkage" {
				continue
			}
			var err error
			if s, err = p.SVG(); err != nil {
				t.Fatal(err)
			}
		}
		if strings.Contains(s, "NaN") {
			t.Error("the picture holds NaN")
		}
		return s
	}
	full := picture()
	if full == "" {
		t.Fatal("no picture")
	}
	own := d.Answer.Own
	d.Answer.Own = nil
	if without := picture(); strings.Count(without, lines) >= strings.Count(full, lines) {
		t.Error("without own curves the picture has as many lines")
	}
	d.Answer.Own = own
	members := d.Answer.Fit.Members
	members[2].Parameters = slices.Clone(members[2].Parameters)
	members[2].Parameters[0] = math.NaN()
	if one := picture(); strings.Count(one, lines) >= strings.Count(full, lines) {
		t.Error("a value that is not identified has a line")
	}
	for i := range members {
		members[i].Parameters = slices.Clone(members[i].Parameters)
		members[i].Parameters[0] = math.NaN()
	}
	if picture() != "" {
		t.Error("a panel of a parameter that is identified for nobody")
	}
}
