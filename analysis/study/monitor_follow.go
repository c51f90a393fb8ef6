package study

import (
	"context"
	"slices"
	"strconv"

	"tyro/analysis/monitor"
	"tyro/analysis/resample"
)

// follow runs the charts over everybody's attempts, several trainees at a time.
func (w *watching) follow(ctx context.Context) error {
	return resample.Each(ctx, len(w.Watched), w.study.shown(), func() func(int) error {
		return func(i int) error {
			w.stand(i)
			w.chartOf(i)
			return nil
		}
	})
}

// stand says where a trainee stands: shown adequate, passed, relapsed, due.
func (w *watching) stand(i int) {
	t := &w.Watched[i]
	t.Shown = w.learning.run(w, i, 0).First
	t.HasPass, t.Passed, t.Next, t.Relapsed = false, -1, len(t.Attempts), -1
	w.pass(t)
	if t.HasPass {
		if at := w.relapse.run(w, i, t.Next).First; at >= 0 {
			t.Relapsed = t.Next + at
		}
	}
	waits := w.Options.After == AfterRule || w.Options.After == AfterSignal
	switch {
	case t.Relapsed >= 0:
		t.Due = DueRelapse
	case waits && !t.HasPass && len(t.Attempts) >= w.Options.Within:
		t.Due = DueNoPass
	}
}

// pass finds the attempt after which relapse is watched.
func (w *watching) pass(t *Watched) {
	after := func(position int) { t.HasPass, t.Passed, t.Next = true, position, position+1 }
	switch w.Options.After {
	case AfterStart:
		after(-1)
	case AfterRule:
		passes := make([]bool, len(t.Failed))
		for j, f := range t.Failed {
			passes[j] = !f
		}
		if k := w.study.Question.Rule.FirstMet(passes); k > 0 {
			after(k - 1)
		}
	case AfterSignal:
		if t.Shown >= 0 {
			after(t.Shown)
		}
	default:
		n, _ := strconv.ParseFloat(w.Options.After, 64) // settled: it is a number
		for j, a := range t.Attempts {
			if a.Number > n {
				after(j - 1)
				return
			}
		}
	}
}

// chartOf follows one trainee under every setting. Charts for relapse begin after
// the pass.
func (w *watching) chartOf(i int) {
	t := &w.Watched[i]
	if kind := w.Options.Chart; kind == ChartRelapse || kind == ChartEWMA {
		t.From = t.Next
	}
	t.Signals, t.Path.First = slices.Repeat([]int{-1}, len(w.charts)), -1
	if t.From == len(t.Attempts) {
		return
	}
	for k, c := range w.charts {
		p := c.run(w, i, t.From)
		if p.First >= 0 {
			t.Signals[k] = t.From + p.First
		}
		if k == 0 {
			t.Path = p
		}
	}
	if s, ok := w.charts[0].passes.(monitor.Sequential); ok {
		_, t.Decision = s.Decide(t.Failed[t.From:], w.restarts(*t, t.From))
	}
}
