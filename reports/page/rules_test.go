package page

import (
	"math"
	"testing"

	"tyro/reports"
)

// The chart of chart-signal is the one that watches trainees: same rates, same limit.
func TestOneLearningChart(t *testing.T) {
	in := demoInput(t, reports.Options{Replicates: 20})
	m, err := reports.MonitorAttempts(in, reports.WatchFor(reports.ChartLearning, in.Question.Chart.Rates))
	if err != nil {
		t.Fatal(err)
	}
	if float64(m.Design.H) != in.Question.Chart.H {
		t.Errorf("limits %v and %v", m.Design.H, in.Question.Chart.H)
	}
	for i, o := range in.Observe(in.Question.Chart) {
		if c := m.Charts[i]; o.Met != !math.IsNaN(float64(c.SignalAttempt)) || o.Met && o.Attempt != float64(c.SignalAttempt) {
			t.Errorf("trainee %s: signal at %v, observed %+v", c.Trainee, c.SignalAttempt, o)
		}
	}
}
