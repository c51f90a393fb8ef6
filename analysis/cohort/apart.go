package cohort

import (
	"cmp"
	"math"
	"slices"

	"tyro/models"
)

// The trainees that a class needs at least, and of every arm where arms are to differ in it; how often they are dealt out anew; and how
// much evidence it takes, in units of deviance: by how much the AIC is lower with two classes and,
// added to that, the square of by how many standard errors they foretell better. Models with an AIC higher by 10 have next
// to no support (Burnham and Anderson, 2002, Model Selection and Multimodel Inference, section 2.6). Of 200
// cohorts of one kind 4 got two classes so; by two standard errors of foretelling alone, which three or four
// trainees can seldom give, 6 of 160.
const (
	leastClass  = 3
	leastOfArm  = 3
	mostDealing = 6
	classClear  = 10
)

// apart looks for two classes of trainees who do not learn alike, such as some who never get near
// the others' plateau: the best model fitted to each. Trainees go to the class under which what
// they did is likelier, until none moves (classification maximum likelihood; Celeux and Govaert,
// 1992, Computational Statistics & Data Analysis 14, 315-332). None are found, and there is no
// error, where a class would be too small or cannot be fitted, or where as a mixture the two have not
// a lower AIC than any model of one population near the best (Akaike, 1974, IEEE Transactions on
// Automatic Control 19, 716-723); lower is by how much. The two then stand among the models that are weighed
// where this and what they foretell are evidence enough, so that a trainee's own attempts say which it is.
func (s *search) apart(ts []Trainee, near []*Cohort) (pair []*candidate, lower float64, err error) {
	best := near[0]
	if len(ts) < 2*leastClass || best.Rung == RungTwoStage || len(best.m.random) == 0 {
		return nil, 0, nil
	}
	setting := s.best.setting
	if !s.choice.Settled.Correlations {
		setting.uncorrelated = true // few trainees do not show how their parameters go together
	}
	if fit := s.withoutArms(ts, s.best.setting); fit != nil {
		near = append(slices.Clone(near), fit)
	}
	whole := slices.MinFunc(near, func(a, b *Cohort) int { return cmp.Compare(a.AIC, b.AIC) })
	at, err := s.someDeal(ts, whole, best, setting)
	if err != nil {
		return nil, 0, err
	}
	if at == nil {
		return nil, 0, nil
	}
	if lower = 2 * (at.gain + float64(whole.NParameters)); lower <= 0 {
		return nil, 0, nil
	}
	for _, one := range at.pair {
		if one.ahead, err = s.look(one.fit, ts); err != nil {
			return nil, 0, s.ctx.Err()
		}
	}
	return at.pair, lower, nil
}

// A dealing is one deal of the trainees into two classes.
type dealing struct {
	pair   []*candidate
	gain   float64 // by how much the mixture has the higher log-likelihood than one population, less one for each parameter
	second []bool  // under which class each trainee is likelier then
	moved  bool    // whether that is another deal
}

// mostDealt is how many trainees are dealt out again and again; with more, so many drawn at random, and then all once.
const mostDealt = 200

// someDeal is the best deal, found with some of the trainees where there are many.
func (s *search) someDeal(ts []Trainee, whole, best *Cohort, as setting) (*dealing, error) {
	some := someOf(ts, mostDealt, s.choice.Sampling.Seed)
	alone, err := evidences(whole, some)
	if err != nil {
		return nil, nil
	}
	at, err := s.bestDeal(some, alone, best, as)
	if at == nil || err != nil || len(some) == len(ts) {
		return at, err
	}
	if alone, err = evidences(whole, ts); err != nil {
		return nil, nil
	}
	second := make([]bool, len(ts))
	if _, _, err = compared(ts, alone, at.pair, second); err != nil {
		return nil, nil
	}
	return s.deal(ts, alone, second, as)
}

// evidences are the log densities of each trainee's attempts under a cohort.
func evidences(c *Cohort, ts []Trainee) ([]float64, error) {
	out := make([]float64, len(ts))
	for i, t := range ts {
		var err error
		if out[i], err = c.evidence(t); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// bestDeal goes on from the best beginning until no trainee moves, or the likelihood rises no more; nil where
// no deal can be fitted.
func (s *search) bestDeal(ts []Trainee, alone []float64, best *Cohort, as setting) (*dealing, error) {
	var at *dealing
	for _, second := range best.beginnings(ts) {
		next, err := s.deal(ts, alone, second, as)
		if err != nil {
			return nil, err
		}
		if next != nil && (at == nil || next.gain > at.gain) {
			at = next
		}
	}
	for round := 1; at != nil && at.moved && round < mostDealing; round++ {
		next, err := s.deal(ts, alone, at.second, as)
		if err != nil {
			return nil, err
		}
		if next == nil || next.gain <= at.gain {
			break
		}
		at = next
	}
	return at, nil
}

// deal fits both classes of a deal; nil where one of them is too small or cannot be fitted.
func (s *search) deal(ts []Trainee, alone []float64, second []bool, as setting) (*dealing, error) {
	some := dealt(ts, second)
	if len(some[0]) < leastClass || len(some[1]) < leastClass {
		return nil, nil
	}
	out := &dealing{second: slices.Clone(second)}
	for _, class := range some {
		one := s.class(class, as)
		if one == nil {
			return nil, s.ctx.Err()
		}
		out.pair = append(out.pair, one)
	}
	var err error
	if out.gain, out.moved, err = compared(ts, alone, out.pair, out.second); err != nil {
		return nil, nil
	}
	out.gain -= float64(out.pair[0].fit.NParameters + out.pair[1].fit.NParameters + 1)
	return out, nil
}

// class fits the setting to the trainees of a class, or without a difference between arms, or a level that
// stays, where that has the lower AIC: few trainees show no such difference, and those who do not learn no rate.
// nil where none can be fitted.
func (s *search) class(ts []Trainee, as setting) *candidate {
	var best *candidate
	take := func(as setting, fit *Cohort) {
		if fit != nil && (best == nil || fit.AIC < best.fit.AIC) {
			best = &candidate{setting: as, fit: fit}
		}
	}
	flat := as
	flat.family, flat.alike, flat.carry = models.Constant(), "", CarryNone
	for _, one := range []setting{as, flat} {
		if one.family.Name() != as.family.Name() && (s.choice.Settled.Random || len(s.choice.Families) == 1) {
			continue
		}
		if s.ofEveryArm(ts) {
			take(one, s.joint(ts, one.spec(s.base, len(s.arms), s.choice.Settled)))
		}
		take(one, s.withoutArms(ts, one))
	}
	return best
}

// withoutArms is a fit without a difference between arms; nil where there are no arms to differ, or it is
// settled that they do.
func (s *search) withoutArms(ts []Trainee, as setting) *Cohort {
	spec := as.spec(s.base, len(s.arms), s.choice.Settled)
	if len(spec.ArmEffect) == 0 || s.choice.Settled.Effects {
		return nil
	}
	spec.ArmEffect = nil
	return s.joint(ts, spec)
}

// joint is a fit on a joint likelihood; nil where there is none.
func (s *search) joint(ts []Trainee, spec Spec) *Cohort {
	if fit, err := run(s.ctx, ts, spec, s.arms); err == nil && fit.Rung != RungTwoStage {
		return fit
	}
	return nil
}

// dealt are the trainees of two classes.
func dealt(ts []Trainee, second []bool) (some [2][]Trainee) {
	for i, t := range ts {
		some[classOf(second[i])] = append(some[classOf(second[i])], t)
	}
	return some
}

// compared is by how much a mixture of two classes has the higher log-likelihood than one
// population; it puts every trainee into the likelier class.
func compared(ts []Trainee, alone []float64, pair []*candidate, second []bool) (gain float64, moved bool, err error) {
	like := make([]float64, 2)
	for i, t := range ts {
		for k, c := range pair {
			if like[k], err = c.fit.evidence(t); err != nil {
				return 0, false, err
			}
			like[k] += math.Log(float64(c.fit.NTrainees) / float64(len(ts)))
		}
		most := math.Max(like[0], like[1])
		gain += most + math.Log(sumOfExp(like, most)) - alone[i]
		if to := like[1] > like[0]; to != second[i] {
			second[i], moved = to, true
		}
	}
	return gain, moved, nil
}

// ofEveryArm reports whether a class has some of every arm, so that arms can differ in it.
func (s *search) ofEveryArm(ts []Trainee) bool {
	of := byArm(ts)
	return !slices.ContainsFunc(s.arms, func(arm string) bool { return of[arm] < leastOfArm })
}

// byArm counts trainees.
func byArm(ts []Trainee) map[string]int {
	of := map[string]int{}
	for _, t := range ts {
		of[t.Arm]++
	}
	return of
}

// beginnings are deals of some members to begin with: by where they stand in their arm and, where there are several,
// among all.
func (c *Cohort) beginnings(ts []Trainee) [][]bool {
	var out [][]bool
	for _, modes := range c.standings() {
		at := make(map[string]mode, len(c.trainees))
		for i, t := range c.trainees {
			at[t.ID] = modes[i]
		}
		of := make([]mode, len(ts))
		for i, t := range ts {
			of[i] = at[t.ID]
		}
		out = append(out, splits(of, len(c.m.random))...)
	}
	return out
}

// standings are the members' modes and, where there are several arms, the modes with what their arms differ by added.
func (c *Cohort) standings() [][]mode {
	out := [][]mode{c.modes}
	k, l := len(c.m.random), c.m.factor(c.theta)
	for a := range k {
		if !(l[a][a] > 1e-6) {
			return out // trainees do not differ there
		}
	}
	if len(c.m.arms) == 1 {
		return out
	}
	first := record{design: make([]float64, len(c.m.records[0].design))}
	first.design[0] = 1
	base, all := c.m.eta(&first, c.theta), slices.Clone(c.modes)
	for i := range all {
		e := c.m.eta(&c.m.records[i], c.theta)
		var by vector
		for a, part := range c.m.random {
			slot := c.m.parts[part].slot
			by[a] = e[slot] - base[slot]
		}
		forward(&l, k, &by)
		for a := range k {
			all[i].v[a] += by[a]
		}
	}
	return append(out, all)
}

// splits are two groups of modes by all of what trainees differ in, and by each part of it alone.
func splits(modes []mode, k int) [][]bool {
	out := [][]bool{farther(modes, k)}
	for a := range k {
		one := make([]mode, len(modes))
		for i := range modes {
			one[i].v[0] = modes[i].v[a]
		}
		if next := farther(one, 1); !slices.ContainsFunc(out, func(o []bool) bool { return slices.Equal(o, next) }) {
			out = append(out, next)
		}
	}
	return out
}

// farther says which trainees are in the second of two groups of modes. The groups begin at the
// mode farthest from the middle, where all deviations are 0, and the one farthest from that; they and
// their means are then found in turn (Lloyd, 1982, IEEE Transactions on Information Theory 28,
// 129-137).
func farther(modes []mode, k int) []bool {
	from := func(v vector) vector {
		out, most := v, -1.0
		for i := range modes {
			if d := distance(&modes[i].v, &v, k); d > most {
				most, out = d, modes[i].v
			}
		}
		return out
	}
	var means [2]vector
	means[1] = from(vector{})
	means[0] = from(means[1])
	second := make([]bool, len(modes))
	for range 20 {
		before := slices.Clone(second)
		var sums [2]vector
		var n [2]float64
		for i := range modes {
			second[i] = distance(&modes[i].v, &means[1], k) < distance(&modes[i].v, &means[0], k)
			to := classOf(second[i])
			n[to]++
			for a := range k {
				sums[to][a] += modes[i].v[a]
			}
		}
		for to := range means {
			for a := range k {
				means[to][a] = sums[to][a] / math.Max(n[to], 1)
			}
		}
		if slices.Equal(before, second) {
			break
		}
	}
	return second
}

func distance(a, b *vector, k int) float64 {
	sum := 0.0
	for j := range k {
		sum += (a[j] - b[j]) * (a[j] - b[j])
	}
	return sum
}
