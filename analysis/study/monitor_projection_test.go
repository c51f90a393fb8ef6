package study_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/models"
)

// counted is a study of eight people whose counts grow from about 1 to about 5 in
// fifteen attempts, and of one who only failed.
func counted(t *testing.T, measure practice.Measure, standard float64) *study.Study {
	t.Helper()
	p := practice.Practice{Task: practice.Task{Name: "cannulation", Measure: measure}}
	if standard > 0 {
		p.Task.Standard = &practice.Decision{Value: standard}
	}
	r := rand.New(rand.NewPCG(3, 9))
	for i := range 8 {
		who := practice.Trainee{ID: fmt.Sprintf("T%d", i+1)}
		for n := 1.0; n <= 15; n++ {
			mean := 5 - 4*math.Exp(-0.3*(n-1))
			y := 0.0
			for left := r.ExpFloat64(); left < mean; left += r.ExpFloat64() {
				y++ // events of a Poisson process
			}
			if measure == practice.PassFail {
				y = math.Min(y, 3) - math.Min(y, 2) // three or more pass
			}
			who.Attempts = append(who.Attempts, practice.Attempt{Number: n, Response: y, Clean: true})
		}
		p.Trainees = append(p.Trainees, who)
	}
	failed := practice.Attempt{Number: 1, Response: math.NaN(), Outcome: practice.Failed, Clean: true}
	p.Trainees = append(p.Trainees, practice.Trainee{ID: "F", Attempts: []practice.Attempt{failed}})
	exponential, err := models.ByName("exponential", 1)
	if err != nil {
		t.Fatal(err)
	}
	s, err := study.New(p, study.Options{Families: []models.Family{exponential}})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func projection(t *testing.T, s *study.Study) *study.Monitoring {
	t.Helper()
	return monitored(t, s, study.MonitorOptions{Chart: study.ChartProjected, Rates: monitor.Rates{Acceptable: 0.2, Unacceptable: 0.4}, H: 3, Known: 5})
}

// Counts are whole numbers: at least 3 and at least 2.5 ask for the same, and for less
// than at least 3.5 does.
func TestProjectedChancesOfCounts(t *testing.T) {
	three, below, above := projection(t, counted(t, practice.Count, 3)), projection(t, counted(t, practice.Count, 2.5)), projection(t, counted(t, practice.Count, 3.5))
	known := 0
	for _, w := range three.Watched {
		for k := range w.Attempts {
			a, b, c := three.Options.Chances[w.ID][k], below.Options.Chances[w.ID][k], above.Options.Chances[w.ID][k]
			if math.IsNaN(a) {
				known++
				continue
			}
			if !(a > 0 && a < 1) || a != b || !(c < a) {
				t.Errorf("%s, attempt %d: at least 3 with chance %v, 2.5 with %v, 3.5 with %v", w.ID, k+1, a, b, c)
			}
		}
	}
	if known != 8*5 {
		t.Errorf("%d attempts are known, want 40", known)
	}
}

// What a pass is needs no standard, and one of 1 does not make it impossible.
func TestProjectedChancesOfPasses(t *testing.T) {
	without, one := projection(t, counted(t, practice.PassFail, 0)), projection(t, counted(t, practice.PassFail, 1))
	for _, w := range without.Watched {
		a, b := without.Options.Chances[w.ID], one.Options.Chances[w.ID]
		if last := len(a) - 1; a[last] != b[last] || !(a[last] > 0 && a[last] < 1) {
			t.Errorf("%s: chance %v without a standard, %v at 1", w.ID, a[last], b[last])
		}
	}
}

// What the cohort's fit warns of stands with the chart that rests on it.
func TestProjectionWarnsAsTheCohort(t *testing.T) {
	s := counted(t, practice.Count, 3)
	c, err := s.Cohort(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	m := projection(t, s)
	if !warns(m, "no-attempts") || !warns(m, "projected-from-cohort") {
		t.Errorf("%v", m.Warnings)
	}
	for _, w := range c.Warnings {
		if !warns(m, w.Code) {
			t.Errorf("the chart does not say: %s", w.Text)
		}
	}
	if again, err := s.Cohort(t.Context()); again != c || err != nil {
		t.Error("the cohort was fitted again")
	}
}

// Without curves, or with too few trainees, the chart is refused in words.
func TestProjectionNeedsACohort(t *testing.T) {
	var people []practice.Trainee
	for i := range 7 {
		people = append(people, passFail(fmt.Sprintf("T%d", i), "x.x....x..x..."))
	}
	if _, err := failureStudy(t, "", people...).Monitor(t.Context(), charting(study.ChartProjected, 3)); err == nil || !strings.Contains(err.Error(), "without curves") {
		t.Errorf("without curves: %v", err)
	}
}
