package plan

import (
	"math"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/internal/numeric"
)

// An Effect is how another arm is taken to differ from the reference: in a parameter of the
// curve, or on a measure of compare.
type Effect struct {
	Arm   string  `json:"arm,omitempty"` // blank: the one other arm there is
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Ratio bool    `json:"ratio"` // Value is the arm over the reference; otherwise a difference
}

// Between are people of some arms: the reference arm of these, and others of them, or new
// arms that are like the reference where these have none of that name. A single name gives
// people of one arm.
func Between(people cohort.Assumed, names ...string) (cohort.Assumed, error) {
	out := people
	out.Arms = slices.Clone(names)
	out.Parameters = nil
	from := make([]int, len(names))
	for k, name := range names {
		if from[k] = slices.Index(people.Arms, name); from[k] < 0 {
			if k == 0 && len(people.Arms) > 1 {
				return out, refuse("arm %q is none of those known: %v", name, people.Arms)
			}
			from[k] = from[0]
			if k == 0 {
				from[k] = 0
			}
		}
	}
	for _, p := range people.Parameters {
		q := p
		q.Values = nil
		for _, k := range from {
			q.Values = append(q.Values, p.Values[k])
		}
		out.Parameters = append(out.Parameters, q)
	}
	return out, nil
}

// Apply makes every arm that an effect names like the reference but for its effects, one after
// the other. A parameter on the log scale takes a ratio, one on the identity scale a
// difference. level moves the whole curve; another measure of compare is brought about by the
// parameter it is nearest to: starting-level by the start or gain, mean-crossing by the
// rate. retention changes the test after the break, and the name of an event how often it
// befalls.
func (d Design) Apply(effects []Effect) (Design, error) {
	if d.Course == nil || len(d.Course.People.Arms) < 2 {
		return d, refuse("effects need two arms of practice")
	}
	c := *d.Course
	var changed []int
	for k := range effects {
		arm, err := c.armOf(effects[k])
		if err != nil {
			return d, err
		}
		if !slices.Contains(changed, arm) {
			changed = append(changed, arm)
			c.People, c.Events = alike(c.People, arm), eventsAlike(c.Events, arm)
		}
	}
	for k := range effects {
		d.Course = &c
		e := &effects[k]
		arm, _ := c.armOf(*e)
		if !(math.Abs(e.Value) < largestResponse) {
			return d, refuse("an effect of %v on %s", e.Value, e.Name)
		}
		if e.Name == Retention {
			if err := c.changeTest(e, arm); err != nil {
				return d, err
			}
			continue
		}
		if c.event(e.Name) != nil && !slices.ContainsFunc(c.People.Parameters, func(p cohort.AssumedParameter) bool { return p.Name == e.Name }) {
			if err := c.changeEvent(e, arm); err != nil {
				return d, err
			}
			continue
		}
		if i := slices.IndexFunc(c.People.Parameters, func(p cohort.AssumedParameter) bool { return p.Name == e.Name }); i >= 0 {
			e.Ratio = c.People.Parameters[i].Scale == cohort.Log
			x := e.Value
			if e.Ratio {
				x = math.Log(e.Value)
			}
			if math.IsNaN(x) || math.IsInf(x, 0) {
				return d, refuse("an effect of %v on %s, which is on the log scale: expected a ratio above 0", e.Value, e.Name)
			}
			c.People = moved(c.People, arm, []string{e.Name}, x)
			continue
		}
		people, err := d.brought(e, arm)
		if err != nil {
			return d, err
		}
		c.People = people
	}
	c.Effects = effects
	d.Course = &c
	return d, nil
}

// armOf is the position of the arm that an effect is on.
func (c *Course) armOf(e Effect) (int, error) {
	others := c.People.Arms[1:]
	if e.Arm == "" && len(others) == 1 {
		return 1, nil
	}
	k := slices.Index(others, e.Arm)
	switch {
	case e.Arm == "":
		return 0, refuse("an effect on %s: say of which arm, such as %s:%s=%v", e.Name, others[0], e.Name, e.Value)
	case k < 0:
		return 0, refuse("an effect on %s of arm %q; expected one of the arms beside the reference: %s", e.Name, e.Arm, strings.Join(others, ", "))
	}
	return k + 1, nil
}

// changeTest changes the test after the break in an arm.
func (c *Course) changeTest(e *Effect, arm int) error {
	if c.Test == nil {
		return refuse("an effect on %s needs a retention test", Retention)
	}
	p, err := c.People.Population()
	if err != nil {
		return refuse("%v", err)
	}
	t := *c.Test
	t.Change = slices.Clone(t.Change)
	if e.Ratio = (&course{population: p}).testMultiplies(); e.Ratio {
		t.Change[arm] = t.Change[0] * e.Value
	} else {
		t.Change[arm] = t.Change[0] + e.Value
	}
	c.Test = &t
	return nil
}

// changeEvent gives an arm the reference arm's rate, times the effect.
func (c *Course) changeEvent(e *Effect, arm int) error {
	e.Ratio = true
	c.Events = slices.Clone(c.Events)
	v := c.event(e.Name)
	v.Rate = slices.Clone(v.Rate)
	v.Rate[arm] = v.Rate[0] * analysis.Number(e.Value)
	if !(e.Value >= 0) {
		return refuse("an effect of %v on %s: expected a ratio from 0", e.Value, e.Name)
	}
	return v.check(len(c.People.Arms))
}

// alike gives an arm the reference arm's values.
func alike(people cohort.Assumed, arm int) cohort.Assumed {
	out := people
	out.Parameters = slices.Clone(people.Parameters)
	for i, p := range out.Parameters {
		out.Parameters[i].Values = slices.Clone(p.Values)
		out.Parameters[i].Values[arm] = p.Values[0]
	}
	return out
}

func eventsAlike(events []Event, arm int) []Event {
	out := slices.Clone(events)
	for i := range out {
		out[i].Rate = slices.Clone(out[i].Rate)
		out[i].Rate[arm] = out[i].Rate[0]
	}
	return out
}

// moved moves parameters of an arm, each on its scale.
func moved(people cohort.Assumed, arm int, names []string, by float64) cohort.Assumed {
	out := people
	out.Parameters = slices.Clone(people.Parameters)
	for i, p := range out.Parameters {
		if !slices.Contains(names, p.Name) {
			continue
		}
		p.Values = slices.Clone(p.Values)
		if p.Scale == cohort.Log {
			p.Values[arm] *= analysis.Number(math.Exp(by))
		} else {
			p.Values[arm] += analysis.Number(by)
		}
		out.Parameters[i] = p
	}
	return out
}

// movers are the parameters that bring an effect on a measure about; nil: there is none.
func movers(people cohort.Assumed, measure string) []string {
	has := func(name string) bool {
		return slices.ContainsFunc(people.Parameters, func(p cohort.AssumedParameter) bool { return p.Name == name })
	}
	scaleOf := func(name string) cohort.Scale {
		i := slices.IndexFunc(people.Parameters, func(p cohort.AssumedParameter) bool { return p.Name == name })
		return people.Parameters[i].Scale
	}
	amplitude := "gain"
	if has(cohort.Start) && has("plateau") {
		amplitude = cohort.Start
	}
	switch measure {
	case "level", "mean-level":
		switch {
		case !has("plateau"):
			return []string{amplitude}
		case !has(amplitude):
			return []string{"plateau"}
		case scaleOf("plateau") != scaleOf(amplitude):
			return nil
		case scaleOf("plateau") == cohort.Log || amplitude == cohort.Start:
			return []string{"plateau", amplitude}
		}
		return []string{"plateau"}
	case "starting-level":
		if has(amplitude) {
			return []string{amplitude}
		}
	case "mean-crossing":
		if has("rate") {
			return []string{"rate"}
		}
	}
	return nil
}

// brought finds how far the movers of a measure must move for the effect on it.
func (d Design) brought(e *Effect, arm int) (cohort.Assumed, error) {
	people := d.Course.People
	names := movers(people, e.Name)
	if names == nil {
		return people, refuse("an effect cannot be stated on %q: name a parameter (%s), or level, mean-level, starting-level, mean-crossing an error that is counted, %s or %s", e.Name, parameterNames(people), HardFails, Retention)
	}
	if _, err := d.ready(); err != nil {
		return people, err
	}
	off := func(x float64) float64 {
		c := *d.Course
		c.People = moved(people, arm, names, x)
		to := d
		to.Course = &c
		v, ratio, ok := to.Assumption(e.Name, arm)
		e.Ratio = ratio
		switch {
		case !ok:
			return math.NaN()
		case ratio:
			return math.Log(v) - math.Log(e.Value)
		}
		return v - e.Value
	}
	at0 := off(0)
	if math.IsNaN(at0) || math.IsInf(at0, 0) {
		return people, refuse("an effect of %v on %s is none that the curves assumed can have", e.Value, e.Name)
	}
	if at0 == 0 {
		return people, nil
	}
	for step := 0.01; step < 1e7; step *= 1.6 {
		for _, x := range []float64{step, -step} {
			if v := off(x); v == v && !math.IsInf(v, 0) && (v > 0) != (at0 > 0) {
				root, ok := numeric.Root(off, min(0, x), max(0, x), numeric.Tolerance{})
				if !ok {
					continue
				}
				return moved(people, arm, names, root), nil
			}
		}
	}
	return people, refuse("changing %v cannot give an effect of %v on %s", names, e.Value, e.Name)
}

func parameterNames(people cohort.Assumed) string {
	text := ""
	for i, p := range people.Parameters {
		if i > 0 {
			text += ", "
		}
		text += p.Name
	}
	return text
}
