package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/practice"
)

// errorMeasure reports whether a measure counts errors or hard fails.
func errorMeasure(name string) bool {
	return strings.Contains(name, "-to-attempt-") && !strings.HasPrefix(name, "mean-level")
}

// departures says how the level at attempt At and the attempts to the rule move when
// those who stopped before were worse than their curve, or than those who went on.
func (w *comparing) departures(ctx context.Context) error {
	for _, x := range append(append([]sample(nil), w.samples...), w.seen...) {
		level := x.measure == w.levelMeasure()
		rule := strings.HasPrefix(x.measure, "rule-met-")
		if !level && !rule {
			continue
		}
		most := 0.0
		if strings.HasPrefix(x.measure, "rule-met-share") {
			most = 1 // nobody of them would ever have met it
		}
		unseen := func(i int) bool {
			last := lastMeasured(w.Trainees[i])
			if level {
				return last < w.c.At
			}
			met := w.Task.Rule.FirstMet(w.Trainees[i].Passes(w.Question.Standard)) > 0
			return !met && w.Trainees[i].Last() < w.tau
		}
		err := w.c.pairs(func(ref, arm string) error {
			if x.basis == BasisOwn && w.ownUnread(x.measure, x.values, ref, arm) != "" {
				return nil // the contrast has no interval to change
			}
			var means compare.Means // nil: the usual one, which here is asked for p alone
			if _, _, leans := w.leaning(x, ref, arm); leans || x.share && w.o.Cluster != nil {
				means = w.means(x, ref, arm)
			}
			for _, who := range []string{arm, ref} {
				marks := make([]bool, len(w.members[who]))
				for k, i := range w.members[who] {
					marks[k] = unseen(i) && !math.IsNaN(x.values[i])
				}
				d, err := compare.Tipping(ctx, x.measure, w.armOf(ref, w.members[ref], x.values), w.armOf(arm, w.members[arm], x.values), marks, who == arm, x.worse, most, x.ratio, means, w.Options.Level, w.Sampling())
				if err != nil {
					return err
				}
				if d.Unseen > 0 && !math.IsNaN(d.Tip) {
					w.c.Departures = append(w.c.Departures, d)
				}
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// inTime refuses a margin that was set after the first attempt.
func (s *Study) inTime(m *practice.Margin) error {
	if m == nil {
		return nil
	}
	if first := s.firstDate(); m.SetOn == "" || first != "" && m.SetOn > first {
		return fmt.Errorf("the margin was set on %q, and the first attempt is of %s: a margin counts only when it was set before the data were seen", m.SetOn, first)
	}
	return nil
}

// margin sets the measure that the study's margin is about beside it.
func (w *comparing) margin(context.Context) error {
	m := w.Task.Margin
	if m == nil {
		return nil
	}
	if w.firstDate() == "" {
		w.c.Warnings.Add("margin-undated", fmt.Sprintf("the attempts have no dates, so nothing shows that the margin of %s was set before them", m.SetOn))
	}
	w.c.Margin = &MarginAnswer{Margin: *m}
	for _, c := range w.c.Contrasts {
		if !isMeasure(c.Measure, m.Measure) {
			continue
		}
		w.c.Margin.Contrasts = append(w.c.Margin.Contrasts, w.within(c))
	}
	if len(w.c.Margin.Contrasts) == 0 {
		return fmt.Errorf("the margin is about %q, which is no measure of this comparison", m.Measure)
	}
	return nil
}

// within sets a contrast beside the study's margin. Where an arm had no errors at all there
// is a difference in place of a ratio, and a margin for ratios says nothing of it; nor has a
// measure of which neither more nor less is better a side on which an arm is worse.
func (w *comparing) within(c compare.Contrast) compare.Contrast {
	m, worse := w.Task.Margin, w.worseOf(c.Measure)
	out := compare.Within(c, compare.Margin{Value: m.Value, NonInferior: m.Kind == practice.NonInferiority, LowerBetter: worse > 0})
	why := ""
	switch {
	case errorMeasure(c.Measure) && !c.Ratio:
		why = fmt.Sprintf("an arm had none, so that there is a difference in place of the ratio that the margin of %g is for", m.Value)
	case worse == 0 && m.Kind == practice.NonInferiority:
		why = "neither more nor less of it is better, so that an arm cannot be shown to be not worse"
	case c.Ratio && !(m.Value > 1):
		why = fmt.Sprintf("the arms are compared as a ratio, and a margin of %g is none: it is above 1, such as 1.1", m.Value)
	case math.IsNaN(out.P) && c.Known():
		why = "its method has no standard error"
	}
	if why != "" {
		out.P, out.Excludes = math.NaN(), ""
		w.c.Warnings.Add("margin-not-judged", fmt.Sprintf("%s of %s against %s is not judged against the margin: %s", c.Measure, ArmName(c.Arm), ArmName(c.Reference), why))
	}
	return out
}

// worseOf is +1 where larger values of a measure are worse, −1 where smaller are, 0 where
// neither.
func (w *comparing) worseOf(measure string) float64 {
	switch measure {
	case medianMeasure: // these are no numbers of single trainees
		return 1
	case HazardMeasure: // of meeting the rule
		return -1
	}
	for _, xs := range [][]sample{w.samples, w.seen} {
		for _, x := range xs {
			if x.measure == measure {
				return x.worse
			}
		}
	}
	return 0
}

// firstDate is the earliest date of an attempt; blank where none is known.
func (s *Study) firstDate() string {
	first := ""
	for _, t := range s.Trainees {
		for _, a := range t.Attempts {
			if d := a.Date; d != "" && (first == "" || d < first) {
				first = d
			}
		}
	}
	return first
}

// received compares the arms as received, by the same methods, where somebody received
// another arm than assigned.
func (w *comparing) received(ctx context.Context) error {
	if w.o.Received == nil {
		return nil
	}
	p := w.Practice
	p.Trainees = append([]practice.Trainee(nil), p.Trainees...)
	for i := range p.Trainees {
		if got := w.o.Received[p.Trainees[i].ID]; got != "" && got != p.Trainees[i].Arm {
			p.Trainees[i].Arm = got
			w.c.Switched++
		}
	}
	if w.c.Switched == 0 {
		return nil
	}
	for _, t := range p.Trainees {
		if !slices.Contains(p.Arms, t.Arm) {
			return fmt.Errorf("trainee %s received arm %q, which nobody was assigned to; the arms are %s", t.ID, t.Arm, strings.Join(p.Arms, ", "))
		}
	}
	again, err := New(p, w.Options)
	if err != nil {
		return err
	}
	o := w.o
	o.Received, o.At = nil, w.c.At
	c, err := again.Compare(ctx, o)
	if err != nil {
		return err
	}
	w.c.Received = c.Contrasts
	return nil
}
