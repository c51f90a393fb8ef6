package study

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"tyro/analysis/compare"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/models"
)

// ErrNoCohort is wrapped by the error of [Study.Contrast] where all trainees could not be
// fitted together.
var ErrNoCohort = errors.New("no curve of all trainees together")

// ErrNoCurves is the error of a comparison of curves where no trainee has one.
var ErrNoCurves = errors.New("no trainee's attempts give a curve of their own")

// Contrast is one contrast of [Study.Compare], an arm against the reference, in the same
// numbers, without what stands beside it: no own curves, no sensitivity, p not adjusted
// for other contrasts. The measure may be named without its attempt: level for
// level-at-attempt-20. A measure of curves needs a fit of all trainees together; own
// curves take no one's place here. Where the task's margin is about the measure, the contrast
// is the one against the margin.
func (s *Study) Contrast(ctx context.Context, o CompareOptions, measure, arm string) (compare.Contrast, error) {
	cs, err := s.Contrasts(ctx, o, measure, []string{arm})
	if err != nil {
		return compare.Contrast{}, err
	}
	return cs[0], nil
}

// Contrasts are those of several arms, each as [Study.Contrast] has it.
func (s *Study) Contrasts(ctx context.Context, o CompareOptions, measure string, arms []string) ([]compare.Contrast, error) {
	w, err := s.comparing(o)
	if err != nil {
		return nil, err
	}
	w.only = measure
	if strings.HasPrefix(measure, "rule-met") {
		err = w.ruleAlone(ctx)
	} else if measure == hardFails || slices.Contains(s.Task.Counts, measure) {
		err = w.counts(ctx)
	} else if err = w.takeCohort(ctx); err == nil {
		err = w.cohortContrasts(ctx)
	} else if ctx.Err() == nil {
		err = fmt.Errorf("%w: %w", ErrNoCohort, err)
	}
	if err != nil {
		return nil, err
	}
	var out []compare.Contrast
	for _, arm := range arms {
		k := slices.IndexFunc(w.c.Contrasts, func(c compare.Contrast) bool {
			return c.Arm == arm && c.Reference == w.c.Arms[0] && w.wants(c.Measure)
		})
		if k < 0 {
			return nil, fmt.Errorf("no contrast of %s: %s", measure, w.why(arm))
		}
		c := w.c.Contrasts[k]
		if m := s.Task.Margin; m != nil && isMeasure(c.Measure, m.Measure) {
			c = w.within(c)
		}
		out = append(out, c)
	}
	return out, nil
}

// why says why a contrast that was asked for is not there.
func (w *comparing) why(arm string) string {
	switch {
	case !slices.Contains(w.c.Arms, arm):
		return fmt.Sprintf("arm %s has no attempts that count", arm)
	case len(w.c.Warnings) > 0:
		return w.c.Warnings[len(w.c.Warnings)-1].Text
	}
	return "it is none that these data can be compared on"
}

// takeCohort takes the fit of all trainees together, with what each adds to it.
func (w *comparing) takeCohort(ctx context.Context) error {
	c, err := w.Study.oneModel(ctx)
	if err == nil {
		w.contributions, err = c.Contributions(ctx)
	}
	if err == nil {
		w.fit = c
	}
	return err
}

// cohortContrasts contrasts the arms' middle curves in the cohort's fit.
func (w *comparing) cohortContrasts(ctx context.Context) error {
	var ms []curveMeasure
	for _, m := range w.cohortMeasures(w.fit) {
		if w.wants(m.name) {
			ms = append(ms, m)
		}
	}
	var err error
	if w.samples, err = w.cohortSamples(w.fit, ms); err != nil {
		return err
	}
	for _, x := range w.samples {
		cs, err := w.contrasts(ctx, x)
		if err != nil {
			return err
		}
		w.c.Contrasts = append(w.c.Contrasts, cs...)
	}
	return nil
}

// ruleAlone contrasts attempts to the rule. A curve is fitted only where somebody stopped
// without having met it, of whom the curve says what to expect.
func (w *comparing) ruleAlone(ctx context.Context) error {
	if err := w.needStandard("contrasts of the rule need"); err != nil {
		return err
	}
	if w.Task.Rule == nil {
		return errors.New("contrasts of the rule need a rule: give --rule, or set it in the study file")
	}
	observed := w.Observed(stopping.Rule{Rule: w.Task.Rule})
	end := w.commonEnd(observed, w.c.Arms)
	if slices.ContainsFunc(observed, stoppedBefore(end)) {
		if err := w.takeCohort(ctx); err != nil && ctx.Err() != nil {
			return err // without a fit what was observed alone is compared, as [Study.Compare] does
		}
	}
	return w.rule(ctx)
}

// wants reports whether a measure is asked for.
func (w *comparing) wants(measure string) bool { return w.only == "" || isMeasure(measure, w.only) }

// isMeasure reports whether a measure of a comparison is meant by a name, which may leave
// out the attempt.
func isMeasure(measure, name string) bool {
	for _, end := range []string{"-at-", "-to-", "-within-", "-by-"} {
		if strings.HasPrefix(measure, name+end) {
			return true
		}
	}
	return measure == name
}

// CurveContrast is what a contrast of a measure of curves comes to when the middle curves
// of two arms are these: the difference, or the ratio. False where the measure is none of
// curves, or none that curves of this family have.
func (s *Study) CurveContrast(measure string, at float64, reference, arm models.Curve) (value float64, ratio, ok bool) {
	w := &comparing{Study: s, ratio: s.comparesRatios()}
	for _, m := range w.curveMeasures(reference.Family, at) {
		if isMeasure(m.name, measure) {
			c := compare.Contrast{Estimate: m.of(arm) - m.of(reference)}
			if m.ratio {
				c = compare.AsRatio(c)
			}
			return c.Estimate, m.ratio, true
		}
	}
	return 0, false, false
}

// Measures lists what arms can be compared on when all are simulated: curves of the
// family at an attempt and, with a standard and a rule, attempts to the rule.
func (s *Study) Measures(f models.Family) []string {
	w := &comparing{Study: s, ratio: s.comparesRatios()}
	var out []string
	for _, m := range w.curveMeasures(f, 1) {
		name := m.name
		for _, end := range []string{"-at-attempt-1", "-to-attempt-1"} {
			name = strings.TrimSuffix(name, end)
		}
		out = append(out, name)
	}
	if s.Question.Standard.Set() && s.Task.Rule != nil {
		out = append(out, "rule-met-mean", "rule-met-share", medianMeasure, HazardMeasure)
	}
	return out
}

// OneNumberContrast compares arms of which one number a trainee is known, by the first of
// the methods of [Study.CompareOutcomes]: by means, as a ratio where asked, or by a
// permutation where trainees come in clusters.
func OneNumberContrast(ctx context.Context, ref, arm compare.Arm, ratio bool, level float64, sampling resample.Sampling) (compare.Contrast, error) {
	switch {
	case ref.Cluster != nil && ratio:
		c, err := compare.Shift(ctx, "ratio", ref.Logs(), arm.Logs(), level, sampling)
		return compare.AsRatio(c), err
	case ref.Cluster != nil:
		return compare.Shift(ctx, "difference", ref, arm, level, sampling)
	case ratio:
		return compare.Ratio("ratio", ref, arm, level), nil
	}
	return compare.Welch("difference", ref, arm, level), nil
}
