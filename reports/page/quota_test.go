package page

import (
	"bytes"
	"strings"
	"testing"

	"tyro/analysis/study"
	"tyro/reports"
)

// The report's section: answers, figures, tables, and the caution; money only where
// the study states costs.
func TestScheduleSection(t *testing.T) {
	for _, costs := range []bool{true, false} {
		s := demoStudy(t, study.Options{Replicates: 20, Families: family(t, "exponential")})
		if !costs {
			s.Task.Costs = nil
		}
		r := &Report{study: s, Check: reports.NewCheck(s)}
		a, err := s.Quota(t.Context(), study.QuotaOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if _, ok := a.Groups[0].Curve(); !ok {
			t.Fatal("nothing by the cohort's curve")
		}
		r.Quota = reports.NewQuota(s, a)
		var b bytes.Buffer
		if err := r.WriteHTML(&b); err != nil {
			t.Fatal(err)
		}
		_, section, found := strings.Cut(b.String(), `<section id="schedule"`)
		section, _, ended := strings.Cut(section, `</section>`)
		if !found || !ended {
			t.Fatal("no section on the schedule")
		}
		if n := strings.Count(strings.ReplaceAll(b.String(), "&#39;", "'"), reports.Caution); n != 1 {
			t.Errorf("the caution stands %d times on the page, want once", n)
		}
		for _, want := range []string{"schedule 34 attempts for 90 %", "With 20 fewer, that is 14 attempts", "With 95 % confidence, at least 90 %"} {
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
