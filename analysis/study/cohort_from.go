package study

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// Place puts the study's trainees, who need not be those of the fit, where a saved fit and
// their own attempts place them: nothing is fitted. What the fit cannot be asked for in this
// study is an error that says why; what may be another thing than in the fit's study is a
// warning.
func (s *Study) Place(ctx context.Context, from *SavedFit) (*CohortFit, error) {
	if err := s.sameMeasure(from); err != nil {
		return nil, err
	}
	out := &CohortFit{from: from, Selection: from.selection, Spec: CohortSpec{Sessions: from.sessions}}
	if err := out.enterAs(s, from); err != nil {
		return nil, err
	}
	if err := s.giveMembers(ctx, out); err != nil {
		return nil, err
	}
	if err := s.lookFor(ctx, out); err != nil {
		return nil, err
	}
	if err := s.remarkUnforeseen(ctx, out); err != nil {
		return nil, err
	}
	out.refits = map[CohortInterval]*answer[[]cohort.Bootstrapped]{ByTrainees: {}, ByParametric: {}}
	made := out.Warnings
	out.Warnings = nil
	out.Warnings.Add("saved-fit", from.words(s.SHA256))
	out.Warnings.With(made)
	s.differences(from, &out.Warnings)
	out.Warnings.With(from.warnings)
	out.Warnings.With(from.Cohort.Warnings)
	return out, nil
}

// From is the saved fit that the trainees were placed by; nil where the fit was made here.
func (c *CohortFit) From() *SavedFit { return c.from }

// words say which fit it is.
func (f *SavedFit) words(data string) string {
	c := f.Cohort
	of := ""
	if f.Of.Title != "" {
		of = fmt.Sprintf(" of the study %q", f.Of.Title)
	}
	whose := ", made from other data than those read here"
	switch {
	case f.SameData(data):
		whose = ", made from the very data read here"
	case f.Source.DataSHA256 == "" || data == "":
		whose = ""
	}
	return fmt.Sprintf("nothing was fitted: trainees are projected from the saved fit %s, the %s curve of %d trainees with %d attempts%s%s", f.Name, c.Family, c.NTrainees, c.NAttempts, of, whose)
}

// SameData reports whether the fit was made from the data of a hash; blank is unknown.
func (f *SavedFit) SameData(data string) bool { return data != "" && f.Source.DataSHA256 == data }

// giveMembers makes the fit's members of the people.
func (s *Study) giveMembers(ctx context.Context, c *CohortFit) error {
	if len(c.People) == 0 {
		return errors.New("no trainee has an attempt that the saved fit can use")
	}
	placed, err := c.from.Cohort.With(ctx, c.series())
	if err != nil {
		return err
	}
	c.Cohort, c.known, c.coming = placed, placed.Keep(), placed
	if c.from.tried != nil {
		of := slices.Clone(c.from.models)
		of[0] = placed
		c.Chosen = &cohort.Chosen{Blend: cohort.Blend{Of: of, Stacking: c.from.stacking}, Tried: c.from.tried}
		c.known, c.coming = c.Chosen.Keep(), c.Chosen
	}
	return nil
}

// series are the people's attempts as the curve sees them.
func (c *CohortFit) series() []cohort.Trainee {
	var out []cohort.Trainee
	for _, t := range c.People {
		out = append(out, cohort.Of(t, c.Spec.Sessions))
	}
	return out
}

// enterAs takes the trainees with attempts in the fit's arms, with covariates read as the fit
// read them.
func (c *CohortFit) enterAs(s *Study, from *SavedFit) error {
	var ids []string
	elsewhere := map[string]int{}
	without := 0
	for _, t := range s.Trainees {
		switch {
		case !slices.Contains(from.Cohort.Arms, t.Arm):
			elsewhere[t.Arm]++
		case t.Number(practice.Attempt.Measured) == 0:
			without++
		default:
			c.People, ids = append(c.People, t), append(ids, t.ID)
		}
	}
	arms := listOfArms(from.Cohort.Arms)
	if len(c.People) == 0 && len(elsewhere) > 0 {
		return fmt.Errorf("the saved fit is of %s, and the trainees here are of %s: it says nothing about them; --arm names the column, with the fit's words, and is left out where the fit has no arms", arms, listOfArms(slices.Sorted(maps.Keys(elsewhere))))
	}
	for _, arm := range slices.Sorted(maps.Keys(elsewhere)) {
		c.Warnings.Add("other-arm", fmt.Sprintf("the saved fit is of %s: of arm %s, %s left out", arms, ArmName(arm), counted(elsewhere[arm], "trainee is", "trainees are")))
	}
	if without > 0 {
		c.Warnings.Add("no-attempts", counted(without, "trainee without usable attempts is", "trainees without usable attempts are")+" left out; what is expected of them stands with the new trainees")
	}
	for _, use := range from.covariates {
		i := slices.IndexFunc(s.Covariates, func(v practice.Covariate) bool { return v.Name == use.Name })
		if i < 0 {
			return fmt.Errorf("the saved fit has the covariate %s, which these data lack", use.Name)
		}
		columns, err := use.columns(s.Covariates[i], ids)
		if err != nil {
			return err
		}
		c.Columns, c.Covariates = append(c.Columns, columns...), append(c.Covariates, use)
	}
	c.giveColumns()
	return nil
}

// listOfArms names arms in a sentence.
func listOfArms(arms []string) string {
	var names []string
	for _, a := range arms {
		names = append(names, ArmName(a))
	}
	if len(names) == 1 {
		return "arm " + names[0]
	}
	return "the arms " + strings.Join(names, ", ")
}

// sameMeasure refuses a fit of another kind of number.
func (s *Study) sameMeasure(from *SavedFit) error {
	was, is := from.Of, s.practised()
	better := map[bool]string{true: "lower", false: "higher"}
	switch {
	case was.Measure != is.Measure:
		return fmt.Errorf("the saved fit is of a %s, and this study's measure is a %s", was.Measure, is.Measure)
	case was.Lower != is.Lower:
		return fmt.Errorf("in the saved fit's study %s is better, and here %s is", better[was.Lower], better[is.Lower])
	case was.Unit != "" && is.Unit != "" && was.Unit != is.Unit:
		return fmt.Errorf("the saved fit's measure is in %s, and this study's in %s", was.Unit, is.Unit)
	case was.Scoring != "" && is.Scoring != "" && was.Scoring != is.Scoring:
		return fmt.Errorf("the saved fit is of scores by version %s of the scoring rule, and this study's is %s: scores of two versions cannot be compared; fit a cohort anew, without --from", was.Scoring, is.Scoring)
	case len(is.AtMost) > 0 && !maps.Equal(was.AtMost, is.AtMost):
		return fmt.Errorf("a pass may have %s here, and in the saved fit's study %s: the chance to keep within these is not known", limitWords(is.AtMost), limitWords(was.AtMost))
	}
	return nil
}

// limitWords say which errors a pass may have.
func limitWords(most map[string]float64) string {
	if len(most) == 0 {
		return "any errors"
	}
	var out []string
	for _, name := range slices.Sorted(maps.Keys(most)) {
		out = append(out, fmt.Sprintf("at most %g %s", most[name], name))
	}
	return strings.Join(out, ", ")
}

// differences warn of what may be another thing than in the fit's study.
func (s *Study) differences(from *SavedFit, w *Warnings) {
	was, is := from.Of, s.practised()
	other := func(what, was, is string) {
		if was != is {
			w.Add("other-"+strings.ReplaceAll(what, " ", "-"), fmt.Sprintf("the %s was %s in the saved fit's study and is %s here", what, was, is))
		}
	}
	if was.Task != practice.UnnamedTask && is.Task != practice.UnnamedTask {
		other("task", was.Task, is.Task)
	}
	if was.Response != is.Response || (was.Unit == "") != (is.Unit == "") {
		w.Add("other-measure", fmt.Sprintf("the measure was %s in the saved fit's study and is %s here: a projection holds only of one measure in one unit", measureWords(was.Response, was.Unit), measureWords(is.Response, is.Unit)))
	}
	other("time limit", numberOrNot(was.Limit, was.Limit == 0), numberOrNot(is.Limit, is.Limit == 0))
	value := func(p Practised) string {
		return numberOrNot(float64(p.Standard), math.IsNaN(float64(p.Standard)))
	}
	other("standard", value(was), value(is))
	other("rule", orNot(was.Rule), orNot(is.Rule))
	other("horizon", fmt.Sprint(was.Horizon), fmt.Sprint(is.Horizon))
	if len(was.AtMost) > 0 && len(is.AtMost) == 0 {
		w.Add("no-error-limits", fmt.Sprintf("in the saved fit's study a pass may have %s, and here any errors: attempts to come are taken to pass by their measure alone", limitWords(was.AtMost)))
	}
	if from.sessions && s.Attempts(func(a practice.Attempt) bool { return a.Since > 0 }) == 0 {
		w.Add("no-sessions", "the saved fit has a restart after breaks, and no breaks are known here: attempts are taken as made without one")
	}
}

// orNot is a text, or says that there is none.
func orNot(s string) string {
	if s == "" {
		return "not set"
	}
	return s
}

// numberOrNot is a number, or says that there is none.
func numberOrNot(v float64, none bool) string {
	if none {
		return "not set"
	}
	return fmt.Sprint(v)
}

// measureWords are a measure's column with its unit.
func measureWords(response, unit string) string {
	if unit == "" {
		return fmt.Sprintf("%q (no unit said)", response)
	}
	return fmt.Sprintf("%q (%s)", response, unit)
}

// lookFor warns of trainees whose attempts are not what the fit would expect, and leaves out
// those whom none of its curves can be.
func (s *Study) lookFor(ctx context.Context, c *CohortFit) error {
	series := c.series()
	unusual, err := c.from.Cohort.Unusual(ctx, series, s.shown())
	if err != nil {
		return err
	}
	var keep []practice.Trainee
	var beyond, curves, scatter, none []string
	_, last := c.from.Cohort.Seen()
	for i, u := range unusual {
		id := series[i].ID
		if u.Far() {
			switch _, err := c.known.Posteriors(ctx, series[i:i+1], s.Sampling()); {
			case errors.Is(err, cohort.ErrCohort):
				none = append(none, id)
				continue
			case err != nil:
				return err
			}
		}
		keep = append(keep, c.People[i])
		if u.Curve <= cohort.FarOut {
			curves = append(curves, id)
		}
		if u.Scatter <= cohort.FarOut {
			scatter = append(scatter, id)
		}
		if slices.Max(series[i].Attempt) > last {
			beyond = append(beyond, id)
		}
	}
	const check = "; see that the measure, its unit and the attempt numbers are those of the saved fit"
	c.Warnings.aboutTrainees("no-such-curve", "no curve that the saved fit expects could give the attempts of %s, who are left out"+check, none)
	c.Warnings.aboutTrainees("curve-far-from-fit", "the curve of %s lies farther from the middle trainee's than that of 999 in 1000 trainees drawn from the saved fit"+check, curves)
	c.Warnings.aboutTrainees("scatter-far-from-fit", "the attempts of %s scatter about the trainee's own curve more than those of 999 in 1000 trainees drawn from the saved fit: their projections are too sure", scatter)
	c.Warnings.aboutTrainees("beyond-the-fit", fmt.Sprintf("nobody in the saved fit made an attempt after %g: those of %%s go on from there, where the fit's curve is only drawn out", last), beyond)
	if len(none) > 0 {
		c.People = keep
		return s.giveMembers(ctx, c)
	}
	return nil
}

// aboutTrainees warns of trainees, of whom the first few are named; of nobody it does not.
func (w *Warnings) aboutTrainees(code, text string, ids []string) {
	const most = 5
	if len(ids) == 0 {
		return
	}
	who := "trainee "
	if len(ids) > 1 {
		who = "trainees "
	}
	who += strings.Join(ids[:min(most, len(ids))], ", ")
	if more := len(ids) - most; more > 0 {
		who += fmt.Sprintf(" and %d more", more)
	}
	w.Add(code, fmt.Sprintf(text, who))
}

// keptPool is what all trainees' passes and hard fails said when the fit was saved.
func (s *Study) keptPool(c *CohortFit) (*proficiency.Pooled, error) {
	chances := c.from.chances
	if len(s.Task.AtMost) == 0 {
		chances.Clean = proficiency.KeptChance{}
	}
	return proficiency.PoolKept(c.known, c.Spec.Sessions, chances, s.Question)
}

// remarkUnforeseen warns where these trainees failed in ways that the fit's never did.
func (s *Study) remarkUnforeseen(ctx context.Context, c *CohortFit) error {
	if !s.Question.Standard.Set() {
		return nil
	}
	pooled, err := s.Pool(ctx, c)
	if err != nil {
		return err
	}
	unclean, hard := pooled.Unforeseen(c.People)
	for _, k := range []struct {
		n    int
		what string
	}{{hard, "hard fails"}, {unclean, "errors beyond the limits"}} {
		if k.n > 0 {
			c.Warnings.Add("fails-unforeseen", fmt.Sprintf("the saved fit's trainees had no %s, and %s here: what trainees may yet pass allows for none, and is too hopeful", k.what, counted(k.n, "attempt has", "attempts have")))
		}
	}
	return nil
}
