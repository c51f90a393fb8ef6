package reports

import (
	"math"
	"strconv"

	"tyro/analysis/monitor"
	"tyro/analysis/practice"
)

// A record is one trainee's counted attempts in order, as charts see them.
type record struct {
	Id, arm string
	Attempt []float64
	Failed  []bool
	timeout []bool
	measure []float64 // NaN for a hard fail
	session []string
	date    []string
}

// place is the attempt, session and date at a position.
func (r record) place(i int) (attempt Number, session, date string) {
	return Number(r.Attempt[i]), r.session[i], r.date[i]
}

// recordsOf lists everyone's attempts but void ones, in the order first seen.
func recordsOf(in *Input) []record {
	var out []record
	for _, t := range in.Study.Trainees {
		r := record{Id: t.ID, arm: t.Arm}
		for _, a := range t.Counted() {
			r.Attempt, r.session, r.date = append(r.Attempt, a.Number), append(r.session, a.Session), append(r.date, a.Date)
			r.measure, r.timeout = append(r.measure, a.Response), append(r.timeout, a.Outcome == practice.Timeout)
			r.Failed = append(r.Failed, !a.Passes(in.Question.Standard))
		}
		if len(r.Attempt) > 0 {
			out = append(out, r)
		}
	}
	return out
}

func pooledRate(records []record) float64 {
	failed, n := 0.0, 0.0
	for _, r := range records {
		for _, f := range r.Failed {
			if f {
				failed++
			}
			n++
		}
	}
	return failed / n
}

func (r record) fails() int {
	n := 0
	for _, f := range r.Failed {
		if f {
			n++
		}
	}
	return n
}

// A monitorChart is a chart at one setting, on passes or on the measure.
type monitorChart struct {
	monitor.RunLengths
	chart   monitor.Chart // nil on a measure or against a projection
	measure monitor.OnMeasure
	against func(i int) monitor.Projected
}

// chart makes the chart of a kind at a setting.
func (d *Monitor) chart(kind string, s monitor.Setting) monitorChart {
	o := d.Options
	if o.OnMeasure && kind == o.Chart {
		m := monitor.OnMeasure{Model: d.model(d.in.Question.Standard.Value), Rates: s.Rates, H: s.H, Start: o.Headstart * s.H}
		if kind == ChartEWMA {
			m.Lambda, m.Start = o.Lambda, 0
		}
		return monitorChart{RunLengths: m, measure: m}
	}
	var c monitor.Chart
	switch kind {
	case ChartLearning:
		l := monitor.Learning(s.Rates, s.H)
		l.Scheme.Start = o.Headstart * s.H
		c = l
	case ChartRelapse:
		r := monitor.Relapse(s.Rates, s.H)
		r.Scheme.Start = o.Headstart * s.H
		c = r
	case ChartSequential:
		c = monitor.Sequential{Rates: s.Rates, Alpha: o.Alpha, Beta: o.Beta}
	case ChartObserved:
		c = monitor.ObservedExpected{Expected: s.Rates.Acceptable, H: s.H}
	case ChartEWMA:
		c = monitor.FailureEWMA{Acceptable: s.Rates.Acceptable, Lambda: o.Lambda, L: s.H}
	case ChartProjected:
		return d.projected(s)
	}
	return monitorChart{RunLengths: c, chart: c}
}

// projected makes the chart against the trainees' own projections, for odds of
// failing that stand to the projected ones as the unacceptable rate's to the
// acceptable rate's.
func (d *Monitor) projected(s monitor.Setting) monitorChart {
	odds := func(p float64) float64 { return p / (1 - p) }
	p := projections{s.Rates, nil}
	for _, r := range d.Records {
		p.charts = append(p.charts, monitor.Projected{PassChances: d.Options.Chances[r.Id], OddsRatio: odds(s.Rates.Unacceptable) / odds(s.Rates.Acceptable), Scheme: monitor.Scheme{H: s.H, Start: d.Options.Headstart * s.H, Restart: true}})
	}
	return monitorChart{RunLengths: p, against: func(i int) monitor.Projected { return p.charts[i] }}
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

// follow runs the chart over a trainee's attempts from a position on.
func (c monitorChart) follow(d *Monitor, i, from int) monitor.Path {
	r := d.Records[i]
	restarts := d.restarts(r, from)
	switch {
	case c.chart != nil:
		return c.chart.Follow(r.Failed[from:], restarts)
	case c.against != nil:
		p := c.against(i)
		p.PassChances = p.PassChances[from:]
		return p.Follow(r.Failed[from:], restarts)
	}
	return c.measure.FollowMeasures(r.measure[from:], restarts)
}

// restarts lists the positions, counted from a position, at which a trainee's
// charts start anew.
func (d *Monitor) restarts(r record, from int) []int {
	var out []int
	for _, s := range d.Options.Restarts {
		if s.Trainee != "" && s.Trainee != r.Id {
			continue
		}
		for i := from; i < len(r.Attempt); i++ {
			if r.Attempt[i] >= s.Attempt {
				if i > from {
					out = append(out, i-from)
				}
				break
			}
		}
	}
	return out
}

// from is the position a chart of a kind starts at; not ok when the trainee has
// not passed yet.
func (d *Monitor) from(i int, kind string) (position int, ok bool) {
	if kind != ChartRelapse && kind != ChartEWMA {
		return 0, true
	}
	p := d.pass(i)
	return p.next, p.passed
}

// A passing says when a trainee passed, in the sense asked for.
type passing struct {
	passed   bool
	position int // of the attempt that completed it; -1 for the start
	next     int // position of the first attempt after it
}

// pass finds the pass after which relapse is watched.
func (d *Monitor) pass(i int) passing {
	r := d.Records[i]
	after := func(position int) passing { return passing{true, position, position + 1} }
	switch d.Options.After {
	case "start":
		return after(-1)
	case "rule":
		passes := make([]bool, len(r.Failed))
		for j, f := range r.Failed {
			passes[j] = !f
		}
		if k := d.in.Rule.FirstMet(passes); k > 0 {
			return after(k - 1)
		}
		return passing{}
	case "signal":
		if p := d.watch[0].follow(d, i, 0); p.First >= 0 {
			return after(p.First)
		}
		return passing{}
	}
	n, err := strconv.ParseFloat(d.Options.After, 64)
	if err != nil {
		return passing{}
	}
	for j, a := range r.Attempt {
		if a > n {
			return passing{true, j - 1, j}
		}
	}
	return passing{}
}

func ewmaOf(o MonitorOptions) monitor.FailureEWMA {
	return monitor.FailureEWMA{Acceptable: o.Rates.Acceptable, Lambda: o.Lambda, L: o.H}
}

// oddsRatio is how far the unacceptable rate's odds of failing stand above the
// acceptable one's.
func oddsRatio(o MonitorOptions) float64 {
	a, u := o.Rates.Acceptable, o.Rates.Unacceptable
	return u / (1 - u) / (a / (1 - a))
}
