package cohort

import (
	"math"
	"slices"
)

// The trainees that a class needs at least, of every arm too, and how often they are dealt out
// anew.
const (
	leastClass  = 3
	leastOfArm  = 2
	mostDealing = 6
)

// apart looks for two classes of trainees who do not learn alike, such as some who never get near
// the others' plateau: the best model fitted to each. Trainees go to the class under which what
// they did is likelier, until none moves (classification maximum likelihood; Celeux and Govaert,
// 1992, Computational Statistics & Data Analysis 14, 315-332). None are found, and there is no
// error, where a class would be too small or cannot be fitted. The two then stand among the models
// that are weighed, so that a trainee's own attempts say which it is. evident says whether, as a
// mixture, they have the lower BIC (Schwarz, 1978, Annals of Statistics 6, 461-464), trainees being
// what is counted.
func (s *search) apart(ts []Trainee, best *Cohort) (pair []*candidate, evident bool, err error) {
	if len(ts) < 2*leastClass || best.Rung == RungTwoStage || len(best.m.random) == 0 {
		return nil, false, nil
	}
	setting := s.best.setting
	if !s.choice.Settled.Correlations {
		setting.uncorrelated = true // few trainees do not show how their parameters go together
	}
	second := farther(best.modes, len(best.m.random))
	for range mostDealing {
		var some [2][]Trainee
		for i, t := range ts {
			k := 0
			if second[i] {
				k = 1
			}
			some[k] = append(some[k], t)
		}
		if !s.bigEnough(some[0]) || !s.bigEnough(some[1]) {
			return nil, false, nil
		}
		pair = nil
		for _, class := range some {
			one := &candidate{setting: setting, class: len(class)}
			if err := s.fitSome(one, class, ts); err != nil {
				return nil, false, s.ctx.Err()
			}
			pair = append(pair, one)
		}
		moved := false
		for i, t := range ts {
			var like [2]float64
			for k, one := range pair {
				if like[k], err = one.fit.evidence(t); err != nil {
					return nil, false, nil
				}
				like[k] += math.Log(float64(one.class))
			}
			if to := like[1] > like[0]; to != second[i] {
				second[i], moved = to, true
			}
		}
		if !moved {
			break
		}
	}
	evident, err = carriesClasses(ts, best, pair)
	return pair, evident, err
}

// carriesClasses reports whether a mixture of two classes has the lower BIC.
func carriesClasses(ts []Trainee, best *Cohort, pair []*candidate) (bool, error) {
	n := float64(len(ts))
	gain := 0.0
	terms := make([]float64, 2)
	for _, t := range ts {
		one, err := best.evidence(t)
		if err != nil {
			return false, err
		}
		for k, c := range pair {
			if terms[k], err = c.fit.evidence(t); err != nil {
				return false, err
			}
			terms[k] += math.Log(float64(c.class) / n)
		}
		most := math.Max(terms[0], terms[1])
		gain += most + math.Log(sumOfExp(terms, most)) - one
	}
	more := pair[0].fit.NParameters + pair[1].fit.NParameters + 1 - best.NParameters
	return 2*gain > float64(more)*math.Log(n), nil
}

// bigEnough reports whether some trainees can be a class of their own.
func (s *search) bigEnough(ts []Trainee) bool {
	of := map[string]int{}
	for _, t := range ts {
		of[t.Arm]++
	}
	for _, n := range of {
		if n < leastOfArm {
			return false
		}
	}
	return len(ts) >= leastClass && len(of) == s.arms
}

// farther says which trainees are in the second of two groups of modes: those nearer to the one
// mode of the two that lie farthest apart, groups and their means being found in turn (Lloyd,
// 1982, IEEE Transactions on Information Theory 28, 129-137).
func farther(modes []mode, k int) []bool {
	var means [2]vector
	most := -1.0
	for i := range modes {
		for j := range i {
			if d := distance(&modes[i].v, &modes[j].v, k); d > most {
				most, means = d, [2]vector{modes[j].v, modes[i].v}
			}
		}
	}
	second := make([]bool, len(modes))
	for range 20 {
		before := slices.Clone(second)
		var sums [2]vector
		var n [2]float64
		for i := range modes {
			second[i] = distance(&modes[i].v, &means[1], k) < distance(&modes[i].v, &means[0], k)
			to := 0
			if second[i] {
				to = 1
			}
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
