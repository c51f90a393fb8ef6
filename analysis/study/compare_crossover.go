package study

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/analysis/compare"
	"tyro/analysis/practice"
)

// The bases of contrasts of a crossover.
const (
	BasisWithin      = "within trainees"
	BasisFirstPeriod = "first period alone"
)

// CrossoverOptions are the choices of [Study.CompareCrossover].
type CrossoverOptions struct {
	// Curriculum is what every attempt was practised by, by trainee and attempt number.
	Curriculum map[string]map[float64]string
	Reference  string  // "" means the first curriculum seen
	At         float64 // attempt of each period up to which it is compared; 0: the last that half of either order made in both
}

// An Order is those trainees of a crossover who had a curriculum first.
type Order struct {
	First, Second string
	Trainees      int // who practised by both
}

// A period is what a trainee practised by one curriculum, without a break by the other.
type period struct {
	curriculum string
	attempts   []practice.Attempt
}

// endAttempts is of how many attempts the level at a period's end is the mean.
const endAttempts = 3

// CompareCrossover compares two curricula within trainees who practised by both, one after
// the other, from the log of their attempts: the first attempt of each period, the level at
// its end, its mean level, the attempts to the rule and the errors in it, each as one number
// a trainee and period, by [compare.Crossover]. What a skill keeps of the first curriculum
// acts on the second period; the first period alone, between trainees, stands beside.
func (s *Study) CompareCrossover(o CrossoverOptions) (*OutcomeComparison, error) {
	w := &crossing{Study: s, out: &OutcomeComparison{}}
	if err := w.periods(o); err != nil {
		return nil, err
	}
	if err := w.settle(o.At); err != nil {
		return nil, err
	}
	for _, m := range w.measures() {
		w.contrast(m)
	}
	w.out.Contrasts = slices.Concat(w.effects, w.first, w.second)
	w.said.tell(&w.out.Warnings)
	if len(w.open) > 0 {
		w.out.Warnings.Add("carry-over", fmt.Sprintf("carry-over is not excluded (%s). A skill stays when the curriculum changes, so that an effect within trainees is the curricula's alone only where both leave as much behind", strings.Join(w.open, "; ")))
	}
	if len(w.out.Contrasts) == 0 {
		return nil, errors.New("there is nothing to compare: in one order no trainee has an attempt with a measure in both periods (hard fails have none)")
	}
	compare.AdjustWithin(w.out.Contrasts, func(c compare.Contrast) string {
		kind, _, _ := strings.Cut(c.Measure, " of ")
		if kind == c.Measure {
			kind = ""
		}
		return c.Basis + "/" + kind
	})
	return w.out, nil
}

// A crossing makes the answer.
type crossing struct {
	*Study
	out    *OutcomeComparison
	people [2][][2]period // by order, the reference first in the first
	at     float64

	effects, first, second []compare.Contrast // within trainees; in the first period alone; of the period and of carry-over
	said                   remarks            // warnings of contrasts
	open                   []string           // how large a carry-over is not excluded, measure by measure
}

// periods cuts every trainee's attempts where the curriculum changes, and refuses what is
// no crossover.
func (w *crossing) periods(o CrossoverOptions) error {
	var names, again, one []string
	by := map[string][]period{}
	for _, t := range w.Trainees {
		var ps []period
		for _, a := range t.Counted() {
			name := o.Curriculum[t.ID][a.Number]
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
			if len(ps) == 0 || ps[len(ps)-1].curriculum != name {
				ps = append(ps, period{curriculum: name})
			}
			now := &ps[len(ps)-1]
			now.attempts = append(now.attempts, a)
		}
		switch by[t.ID] = ps; {
		case len(ps) > 2:
			again = append(again, t.ID)
		case len(ps) == 1:
			one = append(one, t.ID)
		}
	}
	if len(names) == 1 {
		return fmt.Errorf("a crossover compares two curricula; the column names %s alone: name the column with both, or add the attempts by the other", names[0])
	}
	if len(names) != 2 {
		return fmt.Errorf("a crossover compares two curricula; the column names %d (%s): leave the rows of the others out of the table", len(names), someOf(names))
	}
	if len(again) > 0 {
		return fmt.Errorf("%s back to a curriculum they had left (%s), and a crossover has two periods, each of one curriculum: leave what follows the second period out of the table, or set these attempts to void",
			counted(len(again), "trainee goes", "trainees go"), someOf(again))
	}
	if o.Reference != "" {
		k := slices.Index(names, o.Reference)
		if k < 0 {
			return fmt.Errorf("reference %q is no curriculum of the column; they are %s", o.Reference, strings.Join(names, ", "))
		}
		names = slices.Insert(slices.Delete(names, k, k+1), 0, o.Reference)
	}
	w.out.Arms = names
	for _, t := range w.Trainees {
		if ps := by[t.ID]; len(ps) == 2 {
			k := slices.Index(names, ps[0].curriculum)
			w.people[k] = append(w.people[k], [2]period{ps[0], ps[1]})
		}
	}
	if len(one) > 0 {
		w.out.Warnings.Add("one-period", fmt.Sprintf("%s by one curriculum only and %s left out: %s", counted(len(one), "trainee practised", "trainees practised"), isAre(len(one)), someOf(one)))
	}
	for k, people := range w.people {
		w.out.Orders = append(w.out.Orders, Order{names[k], names[1-k], len(people)})
		if len(people) >= 2 {
			continue
		}
		if others := len(w.people[1-k]); len(people) == 0 && others > 0 {
			return fmt.Errorf("all %d trainees who practised by both began with %s, so that a curriculum cannot be told from having practised longer: let half of the trainees begin with %s, or compare trainees of one curriculum each (--arm)", others, names[1-k], names[k])
		}
		return fmt.Errorf("%s with %s and went on to %s, and 2 are needed: a crossover has some trainees of either order", counted(len(people), "trainee began", "trainees began"), names[k], names[1-k])
	}
	return nil
}

// settle decides up to which attempt of a period both are compared.
func (w *crossing) settle(at float64) error {
	if w.at = at; at == 0 {
		w.at = math.Inf(1)
		for _, people := range w.people {
			var lasts []float64
			for _, p := range people {
				lasts = append(lasts, float64(min(len(p[0].attempts), len(p[1].attempts))))
			}
			slices.Sort(lasts)
			w.at = math.Min(w.at, lasts[len(lasts)/2])
		}
	}
	if w.at < 1 || w.at != math.Trunc(w.at) {
		return errors.New("--at of a crossover is a whole number of attempts in a period")
	}
	w.out.At = w.at
	for k, people := range w.people {
		short, cut := 0, 0
		for _, p := range people {
			if float64(min(len(p[0].attempts), len(p[1].attempts))) < w.at {
				short++
			}
			for _, one := range p {
				for _, a := range one.attempts {
					if a.Censored {
						cut++
					}
				}
			}
		}
		if short == len(people) {
			return fmt.Errorf("none of those who began with %s made %g attempts in both periods: give a smaller --at", w.out.Arms[k], w.at)
		}
		if short > 0 {
			w.out.Warnings.Add("short-period", fmt.Sprintf("%s first: %d of %s fewer than %g attempts in a period and %s in no contrast of levels; where people stop because they are slow, or because they are good, the contrasts are of the others alone (--at takes fewer attempts)",
				w.out.Arms[k], short, counted(len(people), "trainee made", "trainees made"), w.at, isAre(short)))
		}
		if cut > 0 {
			w.out.Warnings.Add("stopped-at-limit", fmt.Sprintf("%s first: %s at the limit, which counts as the measure: levels are at least as bad as shown", w.out.Arms[k], counted(cut, "attempt was stopped", "attempts were stopped")))
		}
	}
	return nil
}

// A periodMeasure is one number of a period; NaN where it is not known.
type periodMeasure struct {
	name string
	log  bool // the number is a logarithm, compared as a ratio
	of   func([]practice.Attempt) float64
}

func (w *crossing) measures() []periodMeasure {
	log := w.Task.Measure == practice.Time
	value := func(as []practice.Attempt) float64 {
		sum, n := 0.0, 0.0
		for _, a := range as {
			if a.Measured() {
				v := a.Response
				if log {
					v = math.Log(v)
				}
				sum, n = sum+v, n+1
			}
		}
		return sum / n // NaN where none has a measure
	}
	at := int(w.at)
	whole := func(from, to int) func([]practice.Attempt) float64 {
		return func(as []practice.Attempt) float64 {
			if len(as) < at {
				return math.NaN()
			}
			return value(as[from:to])
		}
	}
	ms := []periodMeasure{{"first-attempt", log, func(as []practice.Attempt) float64 { return value(as[:1]) }}}
	if at > 1 {
		ms = append(ms,
			periodMeasure{fmt.Sprintf("level-at-attempts-%d-to-%d", max(1, at-endAttempts+1), at), log, whole(max(0, at-endAttempts), at)})
	}
	if at > endAttempts {
		ms = append(ms, periodMeasure{fmt.Sprintf("mean-level-to-attempt-%d", at), log, whole(0, at)})
	}
	if w.Question.Standard.Set() && w.Task.Rule != nil {
		ms = append(ms, periodMeasure{fmt.Sprintf("rule-met-mean-within-%d", at), false, func(as []practice.Attempt) float64 {
			k := w.Task.Rule.FirstMet(practice.Trainee{Attempts: as}.Passes(w.Question.Standard))
			switch {
			case k > 0 && k <= at:
				return float64(k)
			case k > 0 || len(as) >= at:
				return w.at
			}
			return math.NaN()
		}})
	}
	counts := func(name string, of func(practice.Attempt) float64) {
		ms = append(ms, periodMeasure{fmt.Sprintf("%s-to-attempt-%d", name, at), false, func(as []practice.Attempt) float64 {
			if len(as) < at {
				return math.NaN()
			}
			sum := 0.0
			for _, a := range as[:at] {
				sum += of(a)
			}
			return sum / w.at
		}})
	}
	for k, name := range w.Task.Counts {
		counts(name, func(a practice.Attempt) float64 { return a.Errors[k] })
	}
	if w.Attempts(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }) > 0 {
		counts("hard-fails", func(a practice.Attempt) float64 {
			if a.Outcome == practice.Failed {
				return 1
			}
			return 0
		})
	}
	return ms
}

// contrast compares the curricula on one measure.
func (w *crossing) contrast(m periodMeasure) {
	var orders [2][][2]float64
	unknown := 0
	for k, people := range w.people {
		for _, p := range people {
			row := [2]float64{m.of(p[0].attempts), m.of(p[1].attempts)}
			if math.IsNaN(row[0]) || math.IsNaN(row[1]) {
				unknown++
				continue
			}
			orders[k] = append(orders[k], row)
		}
	}
	if min(len(orders[0]), len(orders[1])) == 0 {
		w.out.Warnings.Add("no-contrast", fmt.Sprintf("%s: in one order nobody has a number of both periods, so it is not compared", m.name))
		return
	}
	if unknown > 0 {
		w.said.add(analysis.Warning{Code: "one-number", Text: fmt.Sprintf("%s no number of one of the periods and %s left out", counted(unknown, "trainee has", "trainees have"), isAre(unknown))}, m.name)
	}
	ref, arm := w.out.Arms[0], w.out.Arms[1]
	x := compare.Crossover(m.name, ref, arm, orders[0], orders[1], w.Options.Level)
	first := compare.Welch(m.name, column(ref, orders[0]), column(arm, orders[1]), w.Options.Level)
	x.Period.Measure, x.Carryover.Measure = "period of "+m.name, "carry-over of "+m.name
	x.Carryover.Estimate, x.Carryover.Lower, x.Carryover.Upper, x.Carryover.SE = x.Carryover.Estimate/2, x.Carryover.Lower/2, x.Carryover.Upper/2, x.Carryover.SE/2 // of both periods' mean
	x.Carryover.Describe()
	shown := func(c compare.Contrast, basis string) compare.Contrast {
		if m.log {
			c = compare.AsRatio(c)
		}
		c.Basis = basis
		for _, warning := range c.Warnings {
			w.said.add(warning, fmt.Sprintf("%s (%s)", c.Measure, c.Basis))
		}
		return c
	}
	c := shown(x.Carryover, BasisWithin)
	w.effects = append(w.effects, shown(x.Effect, BasisWithin))
	w.first = append(w.first, shown(first, BasisFirstPeriod))
	w.second = append(w.second, shown(x.Period, BasisWithin), c)
	switch {
	case c.Known() && !c.Open():
		w.out.Warnings.Add("carry-over", fmt.Sprintf("%s: trainees differ by the order in which they practised (p = %.2g), so that what came first acts on the second period or the orders were not alike: the effect within trainees is not the curricula's alone; read the first period alone", m.name, c.P))
	case c.Known():
		w.open = append(w.open, fmt.Sprintf("%s: %.3g to %.3g", m.name, c.Lower, c.Upper))
	}
}

// remarks are warnings with what they are about, each told once.
type remarks struct {
	order []analysis.Warning
	about map[analysis.Warning][]string
}

func (r *remarks) add(w analysis.Warning, about string) {
	if r.about == nil {
		r.about = map[analysis.Warning][]string{}
	}
	if r.about[w] == nil {
		r.order = append(r.order, w)
	}
	r.about[w] = append(r.about[w], about)
}

func (r *remarks) tell(ws *Warnings) {
	for _, w := range r.order {
		ws.Add(w.Code, fmt.Sprintf("%s: %s", strings.Join(r.about[w], ", "), w.Text))
	}
}

// column is the first period's numbers of an order.
func column(name string, rows [][2]float64) compare.Arm {
	a := compare.Arm{Name: name}
	for _, r := range rows {
		a.Values = append(a.Values, r[0])
	}
	return a
}
