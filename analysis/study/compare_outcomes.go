package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/survival"
)

// OutcomeOptions are the choices of [Study.CompareOutcomes].
type OutcomeOptions struct {
	Reference   string  // "" means the first arm
	Margin      float64 // 0 for none; the caller vouches that it was set before the data
	NonInferior bool    // the margin is of non-inferiority; otherwise of equivalence
	LowerBetter bool
}

// An OutcomeComparison sets arms against each other on one number a trainee.
type OutcomeComparison struct {
	Arms      []string // the reference first
	Contrasts []compare.Contrast
	Adjusted  *compare.Ancova // nil without numbers from before
	Overall   *compare.Overall
	Crossed   *compare.Crossed  // nil without a second period
	Orders    []Order           // of a crossover read off a log; nil otherwise
	At        float64           // of such a crossover, the attempt of each period up to which it is compared
	Transfer  *compare.Transfer // nil where no prior practice is known
	Two       [][]int           // by arm, whose number is the lower and whose the higher of two that all have; nil where there are more
	Warnings  Warnings
}

// CompareOutcomes compares arms of trainees of whom one number is known, by every method
// for such numbers; p values are adjusted over the pairs of arms, method by method.
func (s *Study) CompareOutcomes(ctx context.Context, o OutcomeOptions) (*OutcomeComparison, error) {
	d := &OutcomeComparison{}
	for _, r := range s.Endpoints {
		if !slices.Contains(d.Arms, r.Arm) {
			d.Arms = append(d.Arms, r.Arm)
		}
	}
	if len(d.Arms) < 2 {
		return nil, fmt.Errorf("comparing needs at least two arms; the table has %d", len(d.Arms))
	}
	if o.Reference != "" {
		k := slices.Index(d.Arms, o.Reference)
		if k < 0 {
			return nil, fmt.Errorf("reference %q is no arm of the table; they are %s", o.Reference, strings.Join(d.Arms, ", "))
		}
		d.Arms = slices.Insert(slices.Delete(d.Arms, k, k+1), 0, o.Reference)
	}
	if len(s.Endpoints) > 0 && !math.IsNaN(s.Endpoints[0].Prior) {
		return d, s.transferOf(ctx, d)
	}
	if slices.ContainsFunc(s.Endpoints, func(r practice.Endpoint) bool { return !math.IsNaN(r.Second) }) {
		return d, s.crossed(d, o)
	}
	arms, before := s.outcomeArms(d)
	d.Two = twoNumbers(arms)
	for k := range arms {
		for r := range k {
			cs, err := s.pairOfOutcomes(ctx, arms[r], arms[k], o)
			if err != nil {
				return nil, err
			}
			d.Contrasts = append(d.Contrasts, cs...)
		}
	}
	if len(before) > 0 {
		a, err := compare.Adjust("difference", arms, before, s.Options.Level)
		if err != nil {
			return nil, err
		}
		d.Adjusted = &a
		d.Warnings.With(a.Warnings)
		d.Contrasts = append(slices.Clone(a.Pairs), d.Contrasts...)
		if o.Margin > 0 {
			for _, p := range a.Pairs {
				d.Contrasts = append(d.Contrasts, compare.Within(p, o.margin()))
			}
		}
	}
	if err := s.anyOutcome(ctx, d, arms); err != nil {
		return nil, err
	}
	compare.AdjustWithin(d.Contrasts, func(c compare.Contrast) string { return c.Measure + "/" + c.Method })
	for _, c := range d.Contrasts {
		for _, w := range c.Warnings {
			d.Warnings.Add(w.Code, fmt.Sprintf("%s against %s, %s: %s", c.Arm, c.Reference, c.Measure, w.Text))
		}
	}
	return d, nil
}

func (o OutcomeOptions) margin() compare.Margin {
	return compare.Margin{Value: o.Margin, NonInferior: o.NonInferior, LowerBetter: o.LowerBetter}
}

// outcomeArms are the arms with their numbers, and the numbers from before; rows without
// a number are told and left out.
func (s *Study) outcomeArms(d *OutcomeComparison) (arms []compare.Arm, before []compare.Baseline) {
	for _, name := range s.Baselines {
		before = append(before, compare.Baseline{Name: name, Values: make([][]float64, len(d.Arms))})
	}
	for g, name := range d.Arms {
		a, missing := compare.Arm{Name: name}, 0
		for _, r := range s.Endpoints {
			if r.Arm != name {
				continue
			}
			if math.IsNaN(r.Value) {
				missing++
			}
			a.Values = append(a.Values, r.Value)
			if r.Cluster != "" {
				a.Cluster = append(a.Cluster, r.Cluster)
			}
			for k := range before {
				before[k].Values[g] = append(before[k].Values[g], r.Baseline[k])
			}
		}
		if missing > 0 {
			d.Warnings.Add("trainees-missing", fmt.Sprintf("arm %s: %s no number and %s left out; if they did worse than the others, the arm looks better than it is", name, counted(missing, "trainee has", "trainees have"), isAre(missing)))
		}
		arms = append(arms, a)
	}
	return arms, before
}

// pairOfOutcomes compares two arms by every method.
func (s *Study) pairOfOutcomes(ctx context.Context, ref, arm compare.Arm, o OutcomeOptions) ([]compare.Contrast, error) {
	level := s.Options.Level
	if ref.Cluster != nil {
		c, err := compare.Shift(ctx, "difference", ref, arm, level, s.Sampling())
		cs := []compare.Contrast{c}
		if o.Margin > 0 {
			cs = append(cs, compare.Within(c, o.margin()))
		}
		return cs, err
	}
	welch := compare.Welch("difference", ref, arm, level)
	cs := []compare.Contrast{welch, compare.Pooled("difference", ref, arm, level)}
	positive := func(a compare.Arm) bool {
		return !slices.ContainsFunc(a.Known().Values, func(v float64) bool { return v <= 0 })
	}
	if positive(ref) && positive(arm) {
		cs = append(cs, compare.Ratio("ratio", ref, arm, level))
	}
	cs = append(cs, compare.CohenD(ref, arm, level), compare.HedgesG(ref, arm, level), compare.CliffDelta(ref, arm, level),
		compare.HodgesLehmann(ref, arm, level), compare.RankSum(ref, arm, level))
	p, err := compare.Permutation(ctx, ref, arm, level, s.Sampling())
	if err != nil {
		return nil, err
	}
	cs = append(cs, p)
	if o.Margin > 0 {
		cs = append(cs, compare.Within(welch, o.margin()))
	}
	return cs, nil
}

// anyOutcome tests three or more arms at once.
func (s *Study) anyOutcome(ctx context.Context, d *OutcomeComparison, arms []compare.Arm) error {
	if len(arms) < 3 {
		return nil
	}
	var values []float64
	var labels []int
	var cluster []string
	for g, a := range arms {
		for range a.Values {
			labels = append(labels, g)
		}
		values, cluster = append(values, a.Values...), append(cluster, a.Cluster...)
	}
	o, err := compare.AnyDifference(ctx, []string{"difference"}, [][]float64{values}, labels, cluster, s.Sampling())
	d.Overall = &o
	return err
}

// crossed analyses trainees who practised by both curricula in two periods.
func (s *Study) crossed(d *OutcomeComparison, o OutcomeOptions) error {
	if len(d.Arms) != 2 {
		return fmt.Errorf("a crossover has two curricula; the table has %d", len(d.Arms))
	}
	var orders [2][][2]float64
	left := 0
	for _, r := range s.Endpoints {
		if math.IsNaN(r.Value) || math.IsNaN(r.Second) {
			left++
			continue
		}
		k := slices.Index(d.Arms, r.Arm)
		orders[k] = append(orders[k], [2]float64{r.Value, r.Second})
	}
	if left > 0 {
		d.Warnings.Add("one-period", counted(left, "trainee has", "trainees have")+" a number of one period only and "+isAre(left)+" left out")
	}
	c := compare.Crossover("difference", d.Arms[0], d.Arms[1], orders[0], orders[1], s.Options.Level)
	d.Crossed = &c
	d.Contrasts = []compare.Contrast{c.Effect, c.Period, c.Carryover}
	if o.Margin > 0 {
		d.Contrasts = append(d.Contrasts, compare.Within(c.Effect, o.margin()))
	}
	compare.AdjustWithin(d.Contrasts, func(c compare.Contrast) string { return c.Measure + "/" + c.Method })
	d.Warnings.With(c.Warnings)
	return nil
}

// transferOf asks what prior practice saves on the task.
func (s *Study) transferOf(ctx context.Context, d *OutcomeComparison) error {
	var arms []compare.Practised
	for _, name := range d.Arms {
		a := compare.Practised{Name: name}
		for _, r := range s.Endpoints {
			if r.Arm == name {
				a.Prior, a.Spent = append(a.Prior, r.Prior), append(a.Spent, survival.Observation{Time: r.Value, Event: r.Met})
			}
		}
		arms = append(arms, a)
	}
	t, err := compare.TransferOf(ctx, arms, s.Options.Level, s.Sampling())
	if err != nil {
		return err
	}
	d.Transfer = &t
	d.Warnings.With(t.Warnings)
	return nil
}

// twoNumbers counts trainees by arm where they have one of two numbers, such as passed or not; nil
// where there are others.
func twoNumbers(arms []compare.Arm) [][]int {
	low, high := math.Inf(1), math.Inf(-1)
	for _, a := range arms {
		for _, v := range a.Values {
			if !math.IsNaN(v) {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	var out [][]int
	for _, a := range arms {
		n := []int{0, 0}
		for _, v := range a.Values {
			switch {
			case v == low:
				n[0]++
			case v == high:
				n[1]++
			case !math.IsNaN(v):
				return nil
			}
		}
		out = append(out, n)
	}
	return out
}
