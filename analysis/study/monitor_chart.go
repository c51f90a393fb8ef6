package study

import (
	"math"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
)

// A chart at one setting, kept on passes, on the measure, or against projections.
type chart struct {
	monitor.RunLengths
	passes  monitor.Chart
	measure *monitor.OnMeasure
	against []monitor.Projected // in the order of those watched
}

// chart makes the chart of a kind at a setting.
func (w *watching) chart(kind string, onMeasure bool, s monitor.Setting) chart {
	o := w.Options
	start := o.Headstart * s.H
	switch {
	case onMeasure:
		m := monitor.OnMeasure{Model: w.model(), Rates: s.Rates, H: s.H, Start: start}
		if kind == ChartEWMA {
			m.Lambda, m.Start = o.Lambda, 0
		}
		return chart{RunLengths: m, measure: &m}
	case kind == ChartProjected:
		return w.projected(s, start)
	}
	var c monitor.Chart
	switch kind {
	case ChartLearning:
		l := monitor.Learning(s.Rates, s.H)
		l.Scheme.Start = start
		c = l
	case ChartRelapse:
		r := monitor.Relapse(s.Rates, s.H)
		r.Scheme.Start = start
		c = r
	case ChartSequential:
		c = w.sequential(s.Rates)
	case ChartObserved:
		c = monitor.ObservedExpected{Expected: s.Rates.Acceptable, H: s.H}
	case ChartEWMA:
		c = monitor.FailureEWMA{Acceptable: s.Rates.Acceptable, Lambda: o.Lambda, L: s.H}
	}
	return chart{RunLengths: c, passes: c}
}

func (w *watching) sequential(r monitor.Rates) monitor.Sequential {
	return monitor.Sequential{Rates: r, Alpha: w.Options.Alpha, Beta: w.Options.Beta}
}

func (w *watching) model() monitor.MeasureModel {
	return monitor.MeasureModel{Standard: w.standard.Value, SD: w.Options.SD, Lower: w.standard.Lower, Log: w.study.Task.Measure == practice.Time}
}

// limit is the chart value at which a chart of the kind asked for signals.
func (w *watching) limit() float64 {
	switch c := w.charts[0]; {
	case c.measure != nil:
		return c.measure.Limit()
	case w.Options.Chart == ChartEWMA:
		e := c.passes.(monitor.FailureEWMA)
		return e.Acceptable + e.Smoother().Limit(1)
	}
	return w.Options.H
}

// projected makes the chart against the trainees' own projections, for odds of
// failing that stand to the projected ones as the unacceptable rate's to the
// acceptable rate's.
func (w *watching) projected(s monitor.Setting, start float64) chart {
	p := projections{rates: s.Rates}
	for _, t := range w.Watched {
		p.charts = append(p.charts, monitor.Projected{
			PassChances: w.Options.Chances[t.ID], OddsRatio: s.Rates.OddsRatio(), Scheme: monitor.Scheme{H: s.H, Start: start, Restart: true},
		})
	}
	return chart{RunLengths: p, against: p.charts}
}

// projections give the error rates of charts against projections, averaged over
// trainees: at the acceptable rate attempts go as projected, at the unacceptable
// one the odds of failing are the multiple looked for.
type projections struct {
	rates  monitor.Rates
	charts []monitor.Projected
}

// Mean is unknown: the chances end with the projection.
func (p projections) Mean(float64) float64 { return math.NaN() }

// SignalBy implements monitor.RunLengths; a trainee with fewer chances keeps the
// last share.
func (p projections) SignalBy(rate float64, n int) []float64 {
	out := make([]float64, n)
	for _, c := range p.charts {
		odds := 1.0
		if rate != p.rates.Acceptable {
			odds = c.OddsRatio
		}
		by := c.SignalBy(odds)
		last := 0.0
		for i := range out {
			if i < len(by) {
				last = by[i]
			}
			out[i] += last / float64(len(p.charts))
		}
	}
	return out
}

// run follows the chart over a trainee's attempts from a position on.
func (c chart) run(w *watching, i, from int) monitor.Path {
	t := w.Watched[i]
	restarts := w.restarts(t, from)
	switch {
	case c.passes != nil:
		return c.passes.Follow(t.Failed[from:], restarts)
	case c.against != nil:
		p := c.against[i]
		p.PassChances = p.PassChances[from:]
		return p.Follow(t.Failed[from:], restarts)
	}
	var measures []float64
	for _, a := range t.Attempts[from:] {
		measures = append(measures, a.Response)
	}
	return c.measure.FollowMeasures(measures, restarts)
}

// restarts lists the positions, counted from a position, at which a trainee's charts
// start anew.
func (w *watching) restarts(t Watched, from int) []int {
	var out []int
	for _, r := range w.Options.Restarts {
		if r.Trainee != "" && r.Trainee != t.ID {
			continue
		}
		for i := from; i < len(t.Attempts); i++ {
			if t.Attempts[i].Number >= r.Attempt {
				if i > from {
					out = append(out, i-from)
				}
				break
			}
		}
	}
	return out
}
