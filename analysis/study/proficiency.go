package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tyro/analysis"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// A Proficiency is the attempts until trainees are proficient: every trainee by the own
// curve, half of every arm, a trainee yet to come by the curve of all together, and what
// was observed.
type Proficiency struct {
	Question  proficiency.Question
	Trainees  []TraineeProficiency // in the order of trainees
	Arms      []GroupProficiency   // half of an arm's trainees; arms of two trainees or more
	Newcomers []GroupProficiency   // a trainee of the arm yet to come; nil where the trainees could not be fitted together
	Family    string               // of the newcomers' curve
	Survival  []ArmSurvival        // attempts to meeting the rule, as observed; nil without a rule
	LogRank   *survival.Test       // between the arms of Survival; nil with one
	Warnings  Warnings
}

// A TraineeProficiency is one trainee's attempts to proficiency under every definition.
type TraineeProficiency struct {
	practice.Trainee
	Own     OwnCurve
	Answers []proficiency.Answer
	Rule    *proficiency.Observed // as observed; nil without a rule
	Chart   *proficiency.Observed // likewise, without a chart
}

// Answer is the one under a definition; the zero value where it was not asked for.
func (t TraineeProficiency) Answer(definition string) proficiency.Answer {
	for _, a := range t.Answers {
		if a.Definition == definition {
			return a
		}
	}
	return proficiency.Answer{}
}

// A GroupProficiency is the attempts of an arm under every definition.
type GroupProficiency struct {
	Arm     string
	Answers []proficiency.Answer
}

// Proficiency answers for every trainee and arm. Trainees who cannot be fitted are named
// and have no answer; the others' answers do not change by that.
func (s *Study) Proficiency(ctx context.Context) (*Proficiency, error) {
	return s.proficiency.get(ctx, func() (*Proficiency, error) {
		if err := s.canProject(); err != nil {
			return nil, err
		}
		out := &Proficiency{Question: s.Question}
		for _, part := range []func(context.Context, *Proficiency) error{s.ofTrainees, s.asObserved, s.ofArms, s.ofNewcomers} {
			if err := part(ctx, out); err != nil {
				return nil, err
			}
		}
		return out, nil
	})
}

// canProject is an error where a question of attempts to proficiency has no meaning.
func (s *Study) canProject() error {
	switch {
	case len(s.Trainees) == 0:
		return errors.New("attempts to proficiency need trainees: there are none")
	case len(s.Specs) == 0:
		return errors.New("attempts to proficiency need curves, and none are fitted")
	}
	return s.needStandard("attempts to proficiency need")
}

// An OwnCurve is what is told of the curve fitted to a trainee's attempts alone.
type OwnCurve struct {
	Family   string
	Status   fit.Status
	Warnings []analysis.Warning
}

// An ownAnswer is all that one trainee's attempts give: a record of a shard.
type ownAnswer struct {
	Trainee string
	Own     OwnCurve
	Answers []proficiency.Answer
}

// ofTrainees answers for every trainee from the own attempts.
func (s *Study) ofTrainees(ctx context.Context, out *Proficiency) error {
	question, err := s.Question.Ready()
	if err != nil {
		return err
	}
	learner := s.learner
	if s.Options.Ledger == nil {
		learners, err := s.Learners(ctx)
		if err != nil {
			return err
		}
		learner = func(i int) proficiency.Learner { return learners.Each[i] }
	}
	each, err := resample.Items(ctx, len(s.Trainees), s.cut(), "trainees", func() func(int) (ownAnswer, error) {
		return func(i int) (ownAnswer, error) { return s.ownAnswer(ctx, i, learner(i), question) }
	})
	if err != nil {
		return err
	}
	for i, a := range each {
		if a.Trainee != s.Trainees[i].ID {
			return fmt.Errorf("the parts hold trainee %q where the study has %q", a.Trainee, s.Trainees[i].ID)
		}
		out.Trainees = append(out.Trainees, TraineeProficiency{Trainee: s.Trainees[i], Own: a.Own, Answers: a.Answers})
	}
	if err := s.remarkUnsuited(&out.Warnings, func(i int) (fit.Status, []analysis.Warning) { return each[i].Own.Status, each[i].Own.Warnings }); err != nil {
		return err
	}
	for i := range out.Trainees {
		s.remark(&out.Trainees[i], out)
	}
	out.Warnings.parted(len(each), func(i int) (string, []analysis.Warning) { return each[i].Trainee, each[i].Own.Warnings })
	out.remarkFits()
	return nil
}

// ownAnswer is what the attempts of one trainee give.
func (s *Study) ownAnswer(ctx context.Context, i int, l proficiency.Learner, question proficiency.Question) (ownAnswer, error) {
	f := l.Choice.Fit
	out := ownAnswer{Trainee: s.Trainees[i].ID, Own: OwnCurve{f.Curve.Family.Name(), f.Status, f.Warnings}}
	sampling := s.Sampling()
	sampling.Workers = 1 // trainees are worked on side by side
	var err error
	if out.Answers, err = l.Attempts(ctx, question, sampling, "trainee "+strconv.Itoa(i)); err != nil {
		err = s.named(i, err)
	}
	return out, err
}

// told are the warnings of single answers that everybody has to read.
var told = []string{"moving-away", "observed-met", "observed-not-met", "observed-no-pass"}

// remark gives every answer of a trainee the warnings of the fit that it rests on, and
// passes on what everybody has to read.
func (s *Study) remark(t *TraineeProficiency, out *Proficiency) {
	for k := range t.Answers {
		a := &t.Answers[k]
		for _, w := range a.Warnings {
			if slices.Contains(told, w.Code) {
				who := ""
				if t.ID != "" {
					who = "trainee " + t.ID + ", "
				}
				out.Warnings.Add(w.Code, fmt.Sprintf("%s%s: %s", who, a.Definition, w.Text))
			}
		}
		ws := Warnings(a.Warnings)
		ws.With(t.Own.Warnings)
		a.Warnings = ws
	}
}

// remarkFits says how many curves have warnings of their own.
func (p *Proficiency) remarkFits() {
	with := 0
	var codes []string
	count := map[string]int{}
	for _, t := range p.Trainees {
		if len(t.Own.Warnings) == 0 || !t.Own.Status.Usable() {
			continue
		}
		with++
		seen := map[string]bool{}
		for _, w := range t.Own.Warnings {
			if seen[w.Code] {
				continue
			}
			if seen[w.Code] = true; count[w.Code] == 0 {
				codes = append(codes, w.Code)
			}
			count[w.Code]++
		}
	}
	if with == 0 {
		return
	}
	var parts []string
	for _, c := range codes {
		parts = append(parts, fmt.Sprintf("%s %d", c, count[c]))
	}
	p.Warnings.Add("fits-with-warnings", fmt.Sprintf("the curves of %d of %d trainees have warnings of their own (%s); they stand with each answer in the machine output", with, len(p.Trainees), strings.Join(parts, ", ")))
}

// asObserved adds what the trainees' own passes show.
func (s *Study) asObserved(ctx context.Context, out *Proficiency) error {
	if c := s.Question.Chart; c != nil {
		for i, o := range s.Observed(c) {
			out.Trainees[i].Chart = &o
		}
	}
	if s.Question.Rule == nil {
		return nil
	}
	seen := s.Observed(stopping.Rule{Rule: s.Question.Rule})
	groups := make([]observedArm, len(s.Arms))
	for k, arm := range s.Arms {
		groups[k].arm = arm
		for _, i := range s.Members(arm) {
			out.Trainees[i].Rule = &seen[i]
			if !math.IsNaN(seen[i].Attempt) {
				groups[k].obs = append(groups[k].obs, survival.Observation{Time: seen[i].Attempt, Event: seen[i].Met})
			}
		}
	}
	arms, err := s.survive(ctx, groups, survival.LogLog, &out.Warnings)
	if err != nil {
		return err
	}
	for _, a := range arms {
		if math.IsInf(a.Median.Estimate, 1) {
			out.Warnings.Add("median-not-reached", fmt.Sprintf("arm %s: fewer than half met the rule within the attempts seen, so its median is not reached", ArmName(a.Arm)))
		}
	}
	out.Survival = arms
	if len(groups) > 1 {
		test := survival.LogRank(observationsOf(groups))
		out.LogRank = &test
	}
	return nil
}

// ofArms answers for half of every arm.
func (s *Study) ofArms(ctx context.Context, out *Proficiency) error {
	for _, arm := range s.Arms {
		members := s.Members(arm)
		if len(members) < 2 {
			continue
		}
		g := GroupProficiency{Arm: arm}
		for k := range out.Trainees[members[0]].Answers {
			var each []proficiency.Answer
			for _, i := range members {
				each = append(each, out.Trainees[i].Answers[k])
			}
			a, err := proficiency.OfGroup(ctx, each, s.Question, s.Sampling(), "arm "+arm)
			if err != nil {
				return err
			}
			g.Answers = append(g.Answers, a)
		}
		out.Arms = append(out.Arms, g)
		out.remarkGroup(g, "half of arm ")
	}
	return nil
}

func (p *Proficiency) remarkGroup(g GroupProficiency, who string) {
	for _, a := range g.Answers {
		for _, w := range a.Warnings {
			p.Warnings.Add(w.Code, fmt.Sprintf("%s%s, %s: %s", who, ArmName(g.Arm), a.Definition, w.Text))
		}
	}
}

// ofNewcomers answers for a trainee of every arm yet to come, from the curve of all
// trainees together. Few trainees, or ones that cannot be fitted together, leave it out
// with a warning.
func (s *Study) ofNewcomers(ctx context.Context, out *Proficiency) error {
	suited := s.suited(out)
	n := len(suited.Trainees)
	switch {
	case len(s.Trainees) < 2:
		return nil
	case n < MinCohort:
		out.Warnings.Add("no-new-trainee", fmt.Sprintf("nothing is said of a trainee yet to come: it takes %d trainees to fit together, there are %d", MinCohort, n))
		return nil
	}
	if some, ok := suited.some(); ok {
		out.Warnings.Add("new-trainee-from-some", fmt.Sprintf("what a trainee yet to come can expect is taken from %d trainees, drawn at random from all %d: such a range is as wide as trainees differ, and more of them would not narrow it", len(some.Trainees), n))
		suited = some
	}
	c, err := suited.Cohort(ctx)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		out.Warnings.Add("no-new-trainee", "nothing is said of a trainee yet to come: the trainees could not be fitted together: "+err.Error())
		return nil
	}
	pooled, err := suited.Pooled(ctx)
	if err != nil {
		return err
	}
	out.Family = c.Family
	var rests Warnings // what the answers rest on
	rests.With(c.Warnings)
	rests.With(pooled.Warnings())
	out.Warnings.With(rests)
	for _, arm := range c.Arms {
		g := GroupProficiency{Arm: arm}
		if g.Answers, err = pooled.NewTrainee(ctx, arm, s.Sampling()); err != nil {
			return err
		}
		out.remarkGroup(g, "a new trainee of arm ")
		for k := range g.Answers {
			ws := Warnings(g.Answers[k].Warnings)
			ws.With(rests)
			g.Answers[k].Warnings = ws
		}
		out.Newcomers = append(out.Newcomers, g)
		out.remarkBases(g)
	}
	return nil
}

// remarkBases warns where a trainee yet to come meets the rule earlier or later, by the cohort's curve, than the limits of
// what half of the arm were seen to need.
func (p *Proficiency) remarkBases(newcomer GroupProficiency) {
	k := slices.IndexFunc(newcomer.Answers, func(a proficiency.Answer) bool { return a.Definition == proficiency.RuleMet })
	j := slices.IndexFunc(p.Survival, func(a ArmSurvival) bool { return a.Arm == newcomer.Arm })
	if k < 0 || j < 0 {
		return
	}
	at, seen := newcomer.Answers[k].Estimate, p.Survival[j]
	if !(at < seen.Median.Lower || at > seen.Median.Upper) {
		return
	}
	text := fmt.Sprintf("half of new trainees have met the rule by attempt %.0f", at)
	if math.IsInf(at, 1) {
		text = "fewer than half of new trainees ever meet the rule, as far as is looked ahead"
	}
	observed := fmt.Sprintf("from attempt %.0f to %.0f", seen.Median.Lower, seen.Median.Upper)
	if math.IsInf(seen.Median.Upper, 1) {
		observed = fmt.Sprintf("attempt %.0f or later", seen.Median.Lower)
	}
	p.Warnings.Add("bases-differ", fmt.Sprintf("%s: by the cohort's curve %s, outside the limits of what was observed (%s); %s",
		GroupName(newcomer.Arm), text, observed, whichToTrust(seen.Curve.Events, seen.Curve.N)))
}

const (
	// enough is how many trainees tell what one yet to come can expect.
	enough = 2000
	// moreThanEnough is the number from which only so many are asked.
	moreThanEnough = 2 * enough
)

// some is the study of enough of very many trainees, drawn at random; false where there are
// fewer, or an arm would be missing.
func (s *Study) some() (*Study, bool) {
	if len(s.Trainees) < moreThanEnough {
		return s, false
	}
	out := &Study{Practice: s.Practice, Options: s.Options, Specs: s.Specs, Question: s.Question}
	out.Trainees = drawn(s.Trainees, enough, s.Options.Seed, "study/trainees for one yet to come")
	for _, arm := range s.Arms {
		if len(out.Members(arm)) == 0 {
			return s, false
		}
	}
	return out, true
}

// suited is the study of those trainees alone whom a curve can be fitted to: the study
// itself where that is everybody.
func (s *Study) suited(of *Proficiency) *Study {
	out := &Study{Practice: s.Practice, Options: s.Options, Specs: s.Specs, Question: s.Question}
	out.Trainees, out.Arms = nil, nil
	for i, t := range s.Trainees {
		if of.Trainees[i].Own.Status != fit.Unsuited {
			out.Trainees = append(out.Trainees, t)
		}
	}
	if len(out.Trainees) == len(s.Trainees) {
		return s
	}
	for _, arm := range s.Arms {
		if len(out.Members(arm)) > 0 {
			out.Arms = append(out.Arms, arm)
		}
	}
	return out
}
