package page

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/datasets"
	"tyro/reports"
)

func untilSchedule(t *testing.T, rows []reports.Until, o reports.ScheduleOptions) *reports.Schedule {
	t.Helper()
	in, err := reports.Prepare(&datasets.Study{}, reports.Options{Replicates: 100})
	if err != nil {
		t.Fatal(err)
	}
	d, err := reports.UntilSchedule(t.Context(), in, rows, o)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Two arms of four, by hand. Arm a meets the rule at 2, 4, 6 and 8; of arm b two do
// at 3 and 5 and two are last seen at 9 without. Of all eight, half had by the fourth,
// at 5, and six of eight, 75 %, ever.
func TestUntilSchedule(t *testing.T) {
	rows := []reports.Until{
		{Arm: "a", Attempt: 2, Met: true}, {Arm: "a", Attempt: 4, Met: true}, {Arm: "a", Attempt: 6, Met: true}, {Arm: "a", Attempt: 8, Met: true},
		{Arm: "b", Attempt: 3, Met: true}, {Arm: "b", Attempt: 5, Met: true}, {Arm: "b", Attempt: 9}, {Arm: "b", Attempt: 9},
	}
	d := untilSchedule(t, rows, reports.ScheduleOptions{Target: 0.5, Fewer: 2, Costs: &practice.Costs{Consumables: 1}})
	want := map[string][]float64{"": {5, math.Inf(1)}, "a": {4, 8}, "b": {5, math.Inf(1)}}
	for _, r := range d.Rows {
		k := slices.Index([]float64{0.5, 0.8}, r.Share)
		if k < 0 {
			continue
		}
		if float64(r.Attempts) != want[r.Arm][k] || (r.Status == reports.Estimated) == math.IsInf(want[r.Arm][k], 1) {
			t.Errorf("%q %v: %+v, want %v", r.Arm, r.Share, r, want[r.Arm][k])
		}
	}
	// All eight with 5 attempts: 2 + 4 + 5 + 5 and 3 + 5 + 5 + 5 are used, 34, for four
	// who are there: 8.5 each. With 3: 2 + 3 + 3 + 3 and 4 times 3 are 23, for two.
	p := d.Plans[0]
	if p.Attempts != 5 || p.Stopping.Cost.Estimate != 34 || p.Stopping.PerMet.Estimate != 8.5 || p.Everybody.PerMet.Estimate != 10 {
		t.Errorf("plan %+v", p)
	}
	if f := p.Fewer; f == nil || f.Attempts != 3 || math.Abs(float64(f.FewerMet.Estimate)-2) > 1e-9 || math.Abs(float64(f.Saved.Estimate)-11) > 1e-9 || f.SavedByEverybody != 16 {
		t.Errorf("fewer %+v", f)
	}
	var b bytes.Buffer
	if err := reports.WriteText(&b, d); err != nil {
		t.Fatal(err)
	}
	text := strings.Join(strings.Fields(b.String()), " ")
	for _, s := range []string{"6 of 8 met the rule; the largest share that can be estimated as observed is 75 %", "All trainees: schedule 5 attempts for 50 %", reports.Caution} {
		if !strings.Contains(text, s) {
			t.Errorf("the text lacks %q", s)
		}
	}
}

// The report's section: answers, figures, tables, and the caution; money only where
// the study states costs.
func TestScheduleSection(t *testing.T) {
	for _, costs := range []bool{true, false} {
		in := demoInput(t, reports.Options{Replicates: 20, Family: "exponential"})
		if !costs {
			in.Task.Costs = nil
		}
		r := &Report{in: in, Check: reports.NewCheck(in.Study)}
		var err error
		if r.Schedule, err = reports.StudySchedule(t.Context(), in, reports.ScheduleOptions{Costs: in.Task.Costs}, nil); err != nil {
			t.Fatal(err)
		}
		if r.Schedule.Parts[0].Next == nil {
			t.Fatal("nothing by the cohort's curve")
		}
		var b bytes.Buffer
		if err := r.WriteHTML(&b); err != nil {
			t.Fatal(err)
		}
		_, section, found := strings.Cut(b.String(), `id="schedule"`)
		section, _, ended := strings.Cut(section, `<h2 id="researcher">`)
		if !found || !ended {
			t.Fatal("no section on the schedule")
		}
		for _, want := range []string{reports.Caution, "schedule 34 attempts for 90 %", "With 20 fewer, that is 14 attempts", "With 95 % confidence, at least 90 %"} {
			if !strings.Contains(strings.ReplaceAll(section, "&#39;", "'"), want) {
				t.Errorf("the section lacks %q", want)
			}
		}
		if n := strings.Count(section, "<svg"); n != 3 {
			t.Errorf("%d figures, want all trainees and two arms", n)
		}
		if strings.Contains(section, "NaN") {
			t.Error("the section shows NaN")
		}
		if strings.Contains(section, "credits") != costs {
			t.Errorf("costs stated: %v, but the section speaks of money: %v", costs, !costs)
		}
	}
}

// Where the cohort's curve and what was seen do not agree, that is said.
func TestBasesDiffer(t *testing.T) {
	var rows []reports.Until
	for k := range 12 {
		rows = append(rows, reports.Until{Attempt: float64(2 + k%3), Met: true})
	}
	d := untilSchedule(t, rows, reports.ScheduleOptions{})
	late := proficiency.Progress{Basis: proficiency.ByCohort, Share: []float64{0, 0, 0, 0, 0, 0, 0, 0, 0, 1}, Lower: make([]float64, 10), Upper: make([]float64, 10), Level: 0.95}
	late.Draws = [][]float64{late.Share, late.Share}
	d.Parts[0].Next = &late
	d.Remark(d.Parts[0], []float64{0.5})
	if !slices.ContainsFunc(d.Warnings, func(w reports.Warning) bool { return w.Code == "bases-differ" }) {
		t.Errorf("no warning: %v", d.Warnings)
	}
}
