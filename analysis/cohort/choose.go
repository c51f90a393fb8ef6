package cohort

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/resample"
	"tyro/models"
)

// A Choice says among which models to choose. The zero value of a field means its default.
type Choice struct {
	Families []models.Family // nil: the spec's alone
	Noises   []models.Noise  // nil: the spec's alone
	// Late are families that are tried at the end only, with what has been found best, and weighed only
	// where one of them is chosen: curves that take long to fit where they are not the right ones.
	Late []models.Family
	// LateNoises are noises of that kind: each is tried even after so many others as are tried at most.
	LateNoises []models.Noise
	Settled    Settled
	// Fits is how many models are tried at most. 0 means 40, and fewer of large cohorts: as many as
	// fit 60,000 attempts together, but 20 at least.
	Fits int
	// Trial is the number of trainees that models are tried on, drawn at random where there are
	// more; the models that are weighted are fitted to everybody. 0 means 60.
	Trial    int
	Sampling resample.Sampling
}

// Settled questions are not open: there the spec's own answer holds.
type Settled struct {
	Random       bool // what differs between trainees, and whether start stands for gain
	Correlations bool
	Carry        bool
	Effects      bool // what differs between arms
}

// The defaults of a Choice.
const (
	mostFits     = 40
	leastFits    = 20
	fitAttempts  = 60_000 // in all fits together
	defaultTrial = 60
)

// fits is the default number of models to try on some trainees.
func fits(ts []Trainee) int {
	n := 0
	for _, t := range ts {
		n += len(t.Attempt)
	}
	return min(max(leastFits, fitAttempts/max(n, 1)), mostFits)
}

// A Tried model is one that was fitted on the way to a choice.
type Tried struct {
	Model string // in words
	Score float64
	// Behind is how far the score is behind the best one's, SE the standard error of that over
	// trainees.
	Behind, SE float64
	AIC        float64
	Weight     float64 // in the blend
}

// A Chosen blend is what came of a choice.
type Chosen struct {
	Blend
	Tried []Tried // best first
}

// A setting is one model to try: what a spec leaves open.
type setting struct {
	family       models.Family
	noise        models.Noise
	alike        string // the one parameter of the curve that is common to all trainees; blank: none
	spread       bool   // trainees differ in noise
	start        bool   // the starting level in the place of the gain
	uncorrelated bool
	sessions     bool
	carry        Carry
}

// sound reports whether the setting says something of its own.
func (s setting) sound() bool {
	return (s.start || s.family.HasGain() && !s.family.IsLine()) && (!s.spread || s.noise.HasScale())
}

// spec is the setting as a whole spec. Arms differ in what trainees differ in, where the base
// says of no effect.
func (s setting) spec(base Spec, arms int, settled Settled) Spec {
	out := base
	out.Family, out.Noise, out.Carry, out.Sessions, out.Uncorrelated = s.family, s.noise, s.carry, s.sessions, s.uncorrelated
	curve := s.names()
	if s.spread && s.noise.HasScale() {
		curve = append(curve, Spread)
	}
	if s.sessions {
		curve = append(curve, Session)
	}
	if !settled.Random {
		out.UseStart = s.start && s.family.HasGain() && !s.family.IsLine()
		out.Random = slices.DeleteFunc(slices.Clone(curve), func(n string) bool { return n == s.alike })
	}
	if !settled.Effects {
		out.ArmEffect = nil
		if arms > 1 {
			out.ArmEffect = curve
		}
	}
	out.Covariates = nil
	for _, c := range base.Covariates {
		c.On = slices.DeleteFunc(slices.Clone(c.On), func(n string) bool { return !slices.Contains(curve, n) })
		if len(c.On) == 0 {
			c.On = curve[:1]
		}
		out.Covariates = append(out.Covariates, c)
	}
	return out
}

// names are those of the curve's parameters.
func (s setting) names() []string {
	var out []string
	for _, p := range s.family.Params() {
		n := p.Name
		if n == "gain" && s.start && !s.family.IsLine() {
			n = Start
		}
		out = append(out, n)
	}
	return out
}

// String names the model in a few words, those of the flags that ask for it.
func (s setting) String() string {
	words := []string{s.family.Name(), s.noise.Name()}
	if s.start && s.family.HasGain() {
		words = append(words, "start for gain")
	}
	if s.alike != "" {
		words = append(words, "one "+s.alike+" for all")
	}
	if s.spread {
		words = append(words, "own spread")
	}
	if s.sessions {
		words = append(words, "restart")
	}
	if s.carry != CarryNone {
		words = append(words, "carryover "+string(s.carry))
	}
	if s.uncorrelated {
		words = append(words, "uncorrelated")
	}
	return strings.Join(words, ", ")
}

// changes lists, one open question after another, the settings that answer it otherwise.
func (c Choice) changes(sessions bool) []func(s setting) []setting {
	var out []func(s setting) []setting
	ask := func(open bool, answers func(s setting) []setting) {
		if open {
			out = append(out, answers)
		}
	}
	own := !c.Settled.Random
	ask(len(c.Noises) > 1, func(s setting) (out []setting) {
		for _, s.noise = range c.Noises {
			out = append(out, s)
		}
		return out
	})
	ask(own, func(s setting) []setting { s.spread = !s.spread; return []setting{s} })
	ask(!c.Settled.Carry, func(s setting) (out []setting) {
		if _, gauss := models.NormalOn(s.noise); gauss {
			for _, s.carry = range []Carry{CarryPart, CarryWhole, CarryNone} {
				out = append(out, s)
			}
		}
		return out
	})
	ask(sessions && own, func(s setting) []setting { s.sessions = !s.sessions; return []setting{s} })
	ask(own, func(s setting) []setting { s.start, s.alike = !s.start, ""; return []setting{s} })
	ask(!c.Settled.Correlations, func(s setting) []setting { s.uncorrelated = !s.uncorrelated; return []setting{s} })
	ask(own, func(s setting) (out []setting) {
		for _, s.alike = range append(s.names()[1:], "") {
			out = append(out, s)
		}
		return out
	})
	ask(len(c.Families) > 1, func(s setting) (out []setting) {
		for _, s.family = range c.Families {
			s.alike = ""
			out = append(out, s)
		}
		return out
	})
	return out
}

// begin is the first setting tried of every family.
func (c Choice) begin(base Spec) setting {
	s := setting{noise: c.Noises[0], start: true}
	if c.Settled.Random {
		s.start, s.spread, s.sessions = base.UseStart, slices.Contains(base.Random, Spread), base.Sessions
	}
	if c.Settled.Correlations {
		s.uncorrelated = base.Uncorrelated
	}
	if c.Settled.Carry {
		s.carry = base.Carry
	}
	return s
}

// A candidate is a setting with its fit and what that foresees.
type candidate struct {
	setting
	fit   *Cohort
	ahead Foresight
}

// Choose fits models to a cohort one change at a time, goes on from the one that foresees best, or has
// the lowest AIC of those that foresee alike, and gives the models near the best the weights with which
// they foresee best together. The best of the families comes first; then noise, trainees' own spread, carryover,
// restart, start for gain, correlations, and what is common to all; last what is only tried late.
func Choose(ctx context.Context, ts []Trainee, base Spec, c Choice) (*Chosen, error) {
	if c.Families == nil {
		c.Families = []models.Family{base.Family}
	}
	if c.Noises == nil {
		c.Noises = []models.Noise{base.Noise}
	}
	if c.Trial == 0 {
		c.Trial = defaultTrial
	}
	trial := someOf(ts, c.Trial, c.Sampling.Seed)
	if c.Fits == 0 {
		c.Fits = fits(trial)
	}
	s := &search{ctx: ctx, ts: trial, base: base, choice: c, arms: armsOf(ts)}
	sessions := slices.ContainsFunc(ts, func(t Trainee) bool { return slices.ContainsFunc(t.Restart, func(v float64) bool { return v > 0 }) })
	start := c.begin(base)
	for _, f := range c.Families {
		start.family = f
		s.try(start, c.Fits)
	}
	if s.best == nil {
		return nil, refuse("none of the curves can be fitted to these trainees: %v", s.failed)
	}
	for better := true; better; {
		before := s.best
		for _, change := range c.changes(sessions) {
			for _, next := range change(s.best.setting) {
				s.try(next, c.Fits)
			}
		}
		if better = s.best != before; !better {
			s.tryLate()
			better = s.best != before
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return s.blend(ts)
}

// someOf is n of the trainees, drawn at random and kept in their order; all of them where there
// are no more, or an arm would be missing.
func someOf(ts []Trainee, n int, seed uint64) []Trainee {
	r := resample.Stream(seed, "cohort/choice", 0)
	var out []Trainee
	for i, t := range ts {
		if r.IntN(len(ts)-i) < n-len(out) {
			out = append(out, t)
		}
	}
	if len(armsOf(out)) < len(armsOf(ts)) {
		return ts
	}
	return out
}

// A search is a choice under way.
type search struct {
	ctx    context.Context
	ts     []Trainee
	base   Spec
	choice Choice
	arms   []string

	all    []*candidate
	best   *candidate
	failed error
}

// try fits a setting, unless it has been or so many have.
func (s *search) try(next setting, most int) {
	if !next.sound() && !s.choice.Settled.Random || len(s.all) >= most || s.ctx.Err() != nil || slices.ContainsFunc(s.all, func(a *candidate) bool { return a.setting == next }) {
		return
	}
	one := &candidate{setting: next}
	s.all = append(s.all, one)
	if report := s.choice.Sampling.Progress; report != nil {
		report(len(s.all), max(len(s.all), s.choice.Fits))
	}
	if err := s.fit(one, s.ts); err != nil {
		s.failed = err
		return
	}
	s.best = s.pick()
}

// fit fits a setting and looks ahead with it.
func (s *search) fit(one *candidate, ts []Trainee) error {
	fit, err := Run(s.ctx, ts, one.spec(s.base, len(s.arms), s.choice.Settled))
	if err != nil {
		return err
	}
	if one.ahead, err = s.look(fit, ts); err != nil {
		return err
	}
	if math.IsNaN(one.ahead.Score) {
		return refuse("nobody has attempts enough to predict some from others")
	}
	one.fit = fit
	return nil
}

// mostLooked is how many trainees are foretold to weigh models; with more, so many drawn at random.
const mostLooked = 200

// look is what a fit foresees of trainees, or of some of them where there are many.
func (s *search) look(fit *Cohort, ts []Trainee) (Foresight, error) {
	return fit.foresee(s.ctx, someOf(ts, mostLooked, s.choice.Sampling.Seed), s.choice.Sampling)
}

// pick is the best model so far: of those that foresee as well as any, to within the standard error of
// the difference, the one with the lowest AIC.
func (s *search) pick() *candidate {
	var top, best *candidate
	for _, a := range s.all {
		if a.fit != nil && (top == nil || a.ahead.Score > top.ahead.Score) {
			top = a
		}
	}
	for _, a := range s.all {
		if a.fit == nil || best != nil && a.fit.AIC >= best.fit.AIC {
			continue
		}
		if behind, se := difference(top.ahead, a.ahead); behind <= se {
			best = a
		}
	}
	return best
}

// difference is by how much the first foresees better than the second, with the standard error
// over trainees.
func difference(a, b Foresight) (gain, se float64) {
	sum, number := map[int]float64{}, map[int]float64{}
	for r := range a.Looks {
		i := a.Looks[r].Trainee
		sum[i] += a.Looks[r].Mean() - b.Looks[r].Mean()
		number[i]++
	}
	var squares float64
	n := float64(len(sum))
	for _, l := range a.Looks {
		if number[l.Trainee] > 0 {
			d := sum[l.Trainee] / number[l.Trainee]
			gain += d / n
			squares += d * d / n
			number[l.Trainee] = 0
		}
	}
	return gain, math.Sqrt(math.Max(squares-gain*gain, 0) / math.Max(n-1, 1))
}

// tryLate tries what is only tried at the end, with what has been found best.
func (s *search) tryLate() {
	for _, n := range s.choice.LateNoises {
		next := s.best.setting
		next.noise = n
		if _, normal := models.NormalOn(n); !normal && next.carry != CarryNone {
			if s.choice.Settled.Carry {
				continue
			}
			next.carry = CarryNone
		}
		s.try(next, s.choice.Fits+len(s.choice.LateNoises))
	}
	for _, f := range s.choice.Late {
		next := s.best.setting
		next.family, next.alike = f, ""
		s.try(next, s.choice.Fits)
	}
}

// onlyLate reports whether a model has a family or a noise that was only tried at the end, and the
// best one has none such.
func (s *search) onlyLate(a *candidate) bool {
	family := func(a *candidate) bool {
		return slices.ContainsFunc(s.choice.Late, func(f models.Family) bool { return f.Name() == a.family.Name() })
	}
	noise := func(a *candidate) bool { return slices.Contains(s.choice.LateNoises, a.noise) }
	return family(a) && !family(s.best) || noise(a) && !noise(s.best)
}

// The models that are weighted: those whose score is near the best, so many at most.
const (
	nearBest = 0.25
	mostNear = 8
)

// sameFit reports whether two settings came to one fit: carryover that is none, say.
func sameFit(a, b *candidate) bool {
	return math.Abs(a.ahead.Score-b.ahead.Score) < 1e-3 && math.Abs(a.fit.AIC-b.fit.AIC) < 1e-2
}

// blend weights the models near the best, fitted to everybody.
func (s *search) blend(everybody []Trainee) (*Chosen, error) {
	fitted := slices.DeleteFunc(s.all, func(a *candidate) bool { return a.fit == nil })
	slices.SortStableFunc(fitted, func(a, b *candidate) int { return cmp.Compare(b.ahead.Score, a.ahead.Score) })
	fitted = slices.CompactFunc(fitted, sameFit)
	chosen := max(0, slices.IndexFunc(fitted, func(a *candidate) bool { return sameFit(a, s.best) }))
	first := fitted[chosen]
	fitted = slices.Insert(slices.Delete(fitted, chosen, chosen+1), 0, first)
	out := &Chosen{}
	for _, a := range fitted {
		t := Tried{Model: a.String(), Score: a.ahead.Score, AIC: a.fit.AIC}
		t.Behind, t.SE = difference(fitted[0].ahead, a.ahead)
		out.Tried = append(out.Tried, t)
	}
	var ahead []Foresight
	var place []int
	for k, a := range fitted {
		if len(place) == mostNear || out.Tried[k].Behind > nearBest {
			break
		}
		if s.onlyLate(a) || models.NeedsPositive(a.noise) != models.NeedsPositive(first.noise) { // what is expected is a mean of one kind
			continue
		}
		if len(everybody) > len(s.ts) {
			if err := s.fit(a, everybody); err != nil {
				if s.ctx.Err() != nil {
					return nil, err
				}
				continue
			}
		}
		out.Of, ahead, place = append(out.Of, a.fit), append(ahead, a.ahead), append(place, k)
	}
	if len(place) == 0 {
		return nil, refuse("none of the models that foresee best can be fitted to all trainees")
	}
	out.Stacking = Stack(ahead)
	apart, lower, err := s.apart(everybody, out.Of)
	if err != nil {
		return nil, err
	}
	if len(apart) > 0 {
		with := append(slices.Clone(ahead), apart[0].ahead, apart[1].ahead)
		both := Stack(with)
		if gain, se := difference(both.mixed(with), out.mixed(ahead)); gain > 0 && lower+gain*gain/(se*se) >= classClear {
			out.Stacking = both
			out.Class = make([]map[string]int, len(ahead), len(with))
			best := out.Tried[place[0]] // scores are of those on trial: behind it they compare
			for _, a := range apart {
				behind, se := difference(ahead[0], a.ahead)
				place = append(place, len(out.Tried))
				out.Tried = append(out.Tried, Tried{
					Model: fmt.Sprintf("%s, of a class of %d", a, a.fit.NTrainees), Score: best.Score - behind, Behind: best.Behind + behind, SE: se, AIC: math.NaN(),
				})
				out.Of, out.Class = append(out.Of, a.fit), append(out.Class, byArm(a.fit.trainees))
			}
		}
	}
	for m, k := range place {
		out.Tried[k].Weight = out.Weights[m]
	}
	return out, nil
}
