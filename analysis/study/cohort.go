package study

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"tyro/analysis/cohort"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/models"
)

// CohortOptions are the choices of what is said of a cohort; the zero value of a
// field means its default. What takes refits is made only where it is asked for.
type CohortOptions struct {
	CohortSpec
	Only      CohortParts    // what is worked out of what follows; 0 means all of it
	Interval  CohortInterval // of parameters; "" means [ByWald]
	Bootstrap bool           // intervals from whole trainees drawn with replacement, beside the others
	Ahead     int            // attempts of each trainee, and of one yet to come, to project; 0 means [DefaultAhead]
	Early     bool           // say when the rule is met of trainees with fewer than [proficiency.MinAttempts] attempts too
	Checks    int            // cohorts simulated from the fit to check it; 0: it is not checked
	Own       bool           // add each trainee's parameters from their own attempts alone
	From      *SavedFit      // in the place of a fit: nothing is fitted, and the rest of CohortSpec counts for nothing; nil: none
}

// CohortParts are parts of what is said of a cohort beside its parameters: a sum of
// the Part constants.
type CohortParts uint

// The parts.
const (
	PartCalibration CohortParts = 1 << iota // how later attempts fell in their predictions
	PartMembers                             // every trainee's next attempts and attempts to proficiency
	PartMoves                               // how these moved as attempts arrived
	PartNewcomers                           // the same of a trainee yet to come
	PartShares                              // the share of new trainees proficient by attempt
)

// asks reports whether any of the parts is to be worked out.
func (o CohortOptions) asks(parts CohortParts) bool { return o.Only == 0 || o.Only&parts != 0 }

// DefaultAhead is how many attempts are projected unless asked otherwise.
const DefaultAhead = 10

// A Cohort is what is said of all trainees together: the parameters of their curve,
// how much they differ, and what is expected of each and of a trainee yet to come.
type Cohort struct {
	Fit       *CohortFit
	Fixed     []cohort.Effect    // with the intervals asked for
	Random    []cohort.Deviation // likewise
	Residual  cohort.Effect      // likewise; without a parameter where the noise has no spread
	Carryover []cohort.Effect
	Interval  CohortIntervalMade
	Bootstrap []cohort.Bootstrapped // nil where not asked for; NaN ends where too many refits failed

	Calibration *CohortCalibration // nil where nothing can be calibrated
	Correction  *CohortCorrection  // nil where ranges are as the models have them
	Checks      *CohortChecks      // nil where not asked for
	Members     []CohortMember     // in the order of Fit.Members
	Arms        []CohortArm        // in the order of Fit.Arms
	Own         [][]float64        // by member and parameter, natural scale, NaN where not known; nil where not asked for
	Warnings    Warnings
}

// A CohortMember is one trainee's place in the cohort.
type CohortMember struct {
	cohort.Member
	OwnShare    []float64 // by parameter: how much of the value rests on the trainee's own attempts
	Next        []CohortForecast
	Proficiency []CohortCrossing // none without a standard
	Moves       []CohortMove     // none without a rule
}

// A CohortArm is the middle trainee of an arm, and what is expected of a trainee of
// the arm before any attempt.
type CohortArm struct {
	Name    string
	Middle  models.Curve // all deviations 0, covariates at their means and first levels
	Next    []CohortForecast
	RuleMet *CohortCrossing   // nil without a standard and a rule
	Shares  []CohortArmShares // none without a standard
}

// CohortArmShares are the shares of an arm's new trainees who are proficient by attempt,
// under one definition.
type CohortArmShares struct {
	Definition string
	Rows       []cohort.Share
}

// DescribeCohort fits all trainees together and says what follows.
func (s *Study) DescribeCohort(ctx context.Context, o CohortOptions) (*Cohort, error) {
	fitted, err := s.fitOrPlace(ctx, o)
	if err != nil {
		return nil, err
	}
	if o.Ahead == 0 {
		o.Ahead = DefaultAhead
	}
	c := &Cohort{Fit: fitted, Fixed: fitted.Fixed, Random: fitted.Random, Residual: fitted.Residual, Carryover: fitted.Carryover}
	c.Warnings.With(fitted.Warnings)
	w := cohortWork{Study: s, o: o, c: c}
	for _, part := range []func(context.Context) error{
		w.widen, w.calibrate, w.correct, w.members, w.arms, w.populate, w.moves, w.checks, w.redraw, w.ownCurves,
	} {
		if err := part(ctx); err != nil {
			return nil, err
		}
	}
	w.leftOut()
	return c, nil
}

// fitOrPlace is the fit asked for, or the saved one with the study's trainees.
func (s *Study) fitOrPlace(ctx context.Context, o CohortOptions) (*CohortFit, error) {
	if o.From == nil {
		return s.asked(ctx, o.CohortSpec)
	}
	if o.Own {
		return nil, errors.New("curves of trainees' own attempts alone are fits, and none is made from a saved fit")
	}
	return s.Place(ctx, o.From)
}

// A cohortWork makes the answer, part by part.
type cohortWork struct {
	*Study
	o CohortOptions
	c *Cohort

	halves *cohort.Halves // once asked for
}

// question is the study's question as the cohort's.
func (w *cohortWork) question() cohort.Question {
	q := w.Question
	return cohort.Question{Standard: q.Standard, Horizon: q.Horizon, Chance: q.Chance, Level: w.Options.Level}
}

// Member is the trainee of a code; nil where there is none in the cohort.
func (c *Cohort) Member(id string) *CohortMember {
	i := slices.IndexFunc(c.Members, func(m CohortMember) bool { return m.ID == id })
	if i < 0 {
		return nil
	}
	return &c.Members[i]
}

// arms says what is expected in every arm.
func (w *cohortWork) arms(ctx context.Context) error {
	for _, name := range w.c.Fit.Arms {
		middle, err := w.c.Fit.Middle(name)
		if err != nil {
			return err
		}
		arm := CohortArm{Name: name, Middle: middle}
		if w.o.asks(PartNewcomers) {
			p, err := w.c.Fit.known.Posteriors(ctx, []cohort.Trainee{{ID: newcomer(name), Arm: name}}, w.Sampling())
			if err != nil {
				return err
			}
			arm.Next = w.forecasts(&p[0], 0, 1, w.o.Ahead)
			if arm.RuleMet, err = w.ruleOfNewcomer(ctx, name); err != nil {
				return err
			}
		}
		w.c.Arms = append(w.c.Arms, arm)
	}
	return nil
}

// newcomer names a trainee of an arm before any attempt, as [proficiency.Pooled] does,
// so that what is known of them is the same.
func newcomer(arm string) string { return "a new trainee of arm " + arm }

// CohortDefinitions are the definitions of proficiency that are read off the cohort's
// curves.
func CohortDefinitions() []string { return []string{proficiency.MeanCrossing, proficiency.PassChance} }

// populate says which share of new trainees is proficient by attempt.
func (w *cohortWork) populate(ctx context.Context) error {
	if !w.Question.Standard.Set() || !w.o.asks(PartShares) {
		return nil
	}
	q := w.question()
	q.Sound = proficiency.SoundChances(w.Trainees, w.Options.Seed)
	for i, arm := range w.c.Arms {
		for _, name := range CohortDefinitions() {
			rows, err := cohort.Shares(ctx, w.c.Fit.coming, arm.Name, q, name == proficiency.PassChance, w.Sampling())
			if err != nil {
				return err
			}
			w.c.Arms[i].Shares = append(w.c.Arms[i].Shares, CohortArmShares{name, rows})
		}
	}
	return nil
}

// leftOut says which attempts are not in the curves, and what they do not change.
func (w *cohortWork) leftOut() {
	standard := w.Question.Standard.Set()
	n := 0
	for _, m := range w.c.Fit.Members {
		n += m.NCensored
	}
	if n > 0 {
		w.c.Warnings.Add("timeouts-censored", counted(n, "timeout enters", "timeouts enter")+" as right-censored at the limit")
	}
	if n := w.Attempts(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }); n > 0 {
		text := counted(n, "hard fail is left out of the curves: its measure is", "hard fails are left out of the curves: their measure is") + " not comparable"
		if standard {
			text += "; the chances to pass allow for such fails"
		}
		w.c.Warnings.Add("fails-apart", text)
	}
	blank := func(a practice.Attempt) bool {
		return (a.Outcome == practice.Done || a.Outcome == practice.Timeout) && !a.Measured()
	}
	if n := w.Attempts(blank); n > 0 {
		w.c.Warnings.Add("no-measure", counted(n, "attempt without a measure is", "attempts without a measure are")+" left out")
	}
}

// counted begins a clause with a count.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
