package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"tyro/analysis"
	"tyro/analysis/practice"
)

// EventsOf are the errors and hard fails of trainees who were seen, for trainees to come who
// are like them: of every error that the task counts, and of hard fails where there were
// any. Rates and their fall are those of a Poisson regression on the logarithm of the
// attempt's number, with a rate for each arm and one fall for all, by maximum likelihood.
// How far trainees and attempts differ beyond that is taken from the products of what was
// seen less what was expected, between attempts of a trainee and of each with itself
// (moments; McCullagh and Nelder, 1989, Generalized Linear Models, section 6.2 and 9.2).
// An arm that is none of the practice's, such as a new one, is like the first.
func EventsOf(p practice.Practice, arms []string) []Event {
	var out []Event
	for k, name := range p.Task.Counts {
		e := eventOf(p, arms, func(a practice.Attempt) float64 { return a.Errors[k] })
		e.Name = name
		if most, limited := p.Task.AtMost[name]; limited {
			e.AtMost = analysis.Number(most)
		}
		out = append(out, e)
	}
	if p.Attempts(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }) > 0 {
		e := eventOf(p, arms, func(a practice.Attempt) float64 {
			if a.Outcome == practice.Failed {
				return 1
			}
			return 0
		})
		e.Name, e.AttemptSD = HardFails, 0
		for i, v := range e.Rate {
			e.Rate[i] = min(v, 1)
		}
		out = append(out, e)
	}
	return out
}

// A happening is how many events were seen in one attempt.
type happening struct {
	arm int
	log float64 // of the attempt's number
	n   float64
}

// eventOf is one of them, of which so many were seen in an attempt; NaN where nobody knows.
func eventOf(p practice.Practice, arms []string, of func(practice.Attempt) float64) Event {
	e := Event{AtMost: analysis.Number(math.NaN())}
	var known []string
	var people [][]happening
	for _, t := range p.Trainees {
		var hs []happening
		for _, a := range t.Counted() {
			if n := of(a); !math.IsNaN(n) && a.Number >= 1 {
				hs = append(hs, happening{log: math.Log(a.Number), n: n})
			}
		}
		if hs == nil {
			continue
		}
		if !slices.Contains(known, t.Arm) {
			known = append(known, t.Arm)
		}
		for i := range hs {
			hs[i].arm = slices.Index(known, t.Arm)
		}
		people = append(people, hs)
	}
	rates, fall := regress(people, len(known))
	for _, arm := range arms {
		k := slices.Index(known, arm)
		if k < 0 {
			k = max(0, slices.Index(known, arms[0]))
		}
		v := 0.0
		if k < len(rates) {
			v = rates[k]
		}
		e.Rate = append(e.Rate, analysis.Number(v))
	}
	e.Fall = fall
	e.TraineeSD, e.AttemptSD = differing(people, rates, fall)
	return e
}

// regress finds the rates of arms at attempt 1, and the fall, by Newton steps. An arm without
// events has a rate of 0 and says nothing of the fall.
func regress(people [][]happening, arms int) (rates []float64, fall float64) {
	rates = make([]float64, arms)
	seen, events := make([]float64, arms), make([]float64, arms)
	for _, hs := range people {
		for _, h := range hs {
			seen[h.arm]++
			events[h.arm] += h.n
		}
	}
	for k := range rates {
		if events[k] > 0 {
			rates[k] = events[k] / seen[k]
		}
	}
	const most = 10 // of the fall either way: beyond it a design refuses
	for range 100 {
		gradient, information := mat.NewVecDense(arms+1, nil), mat.NewSymDense(arms+1, nil)
		for _, hs := range people {
			for _, h := range hs {
				mean := rates[h.arm] * math.Exp(-fall*h.log)
				if mean == 0 {
					continue
				}
				gradient.SetVec(h.arm, gradient.AtVec(h.arm)+h.n-mean)
				gradient.SetVec(arms, gradient.AtVec(arms)-(h.n-mean)*h.log)
				information.SetSym(h.arm, h.arm, information.At(h.arm, h.arm)+mean)
				information.SetSym(h.arm, arms, information.At(h.arm, arms)-mean*h.log)
				information.SetSym(arms, arms, information.At(arms, arms)+mean*h.log*h.log)
			}
		}
		for k := range arms {
			if rates[k] == 0 {
				information.SetSym(k, k, 1)
			}
		}
		var factored mat.Cholesky
		step := mat.NewVecDense(arms+1, nil)
		if !factored.Factorize(information) || factored.SolveVecTo(step, gradient) != nil {
			return rates, fall // attempts of one number alone show no fall
		}
		longest := mat.Norm(step, math.Inf(1))
		scale := math.Min(1, 1/longest)
		for k := range rates {
			rates[k] *= math.Exp(scale * step.AtVec(k))
		}
		fall = math.Max(-most, math.Min(most, fall+scale*step.AtVec(arms)))
		if longest < 1e-10 {
			break
		}
	}
	return rates, fall
}

// differing are the standard deviations of the logarithms of trainees' and of attempts'
// factors. A factor with mean 1 and a variance of v has logarithms with ln(1+v).
func differing(people [][]happening, rates []float64, fall float64) (trainees, attempts float64) {
	var across, acrossMean, within, withinMean float64
	for _, hs := range people {
		var sum, squares, mean, meanSquares float64
		for _, h := range hs {
			m := rates[h.arm] * math.Exp(-fall*h.log)
			d := h.n - m
			sum, squares = sum+d, squares+d*d
			mean, meanSquares = mean+m, meanSquares+m*m
			within, withinMean = within+d*d-m, withinMean+m*m
		}
		across, acrossMean = across+sum*sum-squares, acrossMean+mean*mean-meanSquares
	}
	trainee := 0.0
	if acrossMean > 0 {
		trainee = math.Max(0, across/acrossMean)
	}
	attempt := 0.0
	if withinMean > 0 {
		attempt = math.Max(0, (1+within/withinMean)/(1+trainee)-1)
	}
	return math.Sqrt(math.Log1p(trainee)), math.Sqrt(math.Log1p(attempt))
}
