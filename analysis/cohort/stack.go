package cohort

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"
)

// A Stacking is how much each of several models counts in a prediction.
type Stacking struct {
	// Weights by model, 1 in sum: for a trainee without attempts.
	Weights []float64
	// Trust is the power of a trainee's own evidence by which the weights then move: 0, not at
	// all, to 1, as far as Bayes' rule would if one of the models were true.
	Trust float64
	// Score is what the mixture reaches where [Foresight.Score] is what each model does.
	Score float64
	// Class says of each model how many trainees of a class apart, by arm, it was fitted to; nil where
	// to all. nil: no model is of a class.
	Class []map[string]int
	// Fell is where later attempts fell in the mixture's predictions.
	Fell Fell
}

// trusts are the powers tried.
var trusts = []float64{0, 0.25, 0.5, 1}

// Stack chooses the weights with which the models together foresee best: the mean log density
// of their mixture at every later attempt, trainees and looks counting alike (Yao, Vehtari,
// Simpson and Gelman, 2018, Bayesian Analysis 13, 917-1007). All must have looked at the same
// trainees.
func Stack(models []Foresight) Stacking {
	best := Stacking{Score: math.Inf(-1)}
	for _, trust := range trusts {
		s := newStack(models, trust).climb()
		if s.Score > best.Score+1e-6 {
			best = s
		}
		if len(models) == 1 {
			break
		}
	}
	best.Fell = best.fell(models)
	return best
}

// mixed is what the mixture of the models foresees.
func (s Stacking) mixed(models []Foresight) Foresight {
	k := newStack(models, s.Trust)
	logs, terms := make([]float64, len(models)), make([]float64, len(models))
	for m, w := range s.Weights {
		logs[m] = math.Log(w)
	}
	out := Foresight{Score: s.Score}
	for r, look := range models[0].Looks {
		prior := shares(logs, k.lead[r])
		mix := Look{Trainee: look.Trainee, Known: look.Known}
		for j := range look.LogDensity {
			most := math.Inf(-1)
			for m := range models {
				terms[m] = math.Log(prior[m]) + models[m].Looks[r].LogDensity[j]
				most = math.Max(most, terms[m])
			}
			mix.LogDensity = append(mix.LogDensity, most+math.Log(sumOfExp(terms, most)))
		}
		for j := range look.Share {
			share := 0.0
			for m := range models {
				share += prior[m] * models[m].Looks[r].Share[j]
			}
			mix.Share = append(mix.Share, share)
		}
		out.Looks = append(out.Looks, mix)
	}
	return out
}

// A stack is the score of a mixture as a function of the logs of its weights.
type stack struct {
	models []Foresight
	trust  float64
	people int
	weight []float64   // of an attempt, by look
	lead   [][]float64 // by look and model: trust times evidence
}

func newStack(models []Foresight, trust float64) *stack {
	s := &stack{models: models, trust: trust}
	number := map[int]float64{}
	for _, l := range models[0].Looks {
		number[l.Trainee]++
	}
	s.people = len(number)
	for r, l := range models[0].Looks {
		s.weight = append(s.weight, 1/(float64(len(number))*number[l.Trainee]*float64(len(l.LogDensity))))
		var lead []float64
		for _, m := range models {
			lead = append(lead, trust*m.Looks[r].Evidence)
		}
		s.lead = append(s.lead, lead)
	}
	return s
}

// evenness is how much stands for equal weights, in attempts of one trainee for every model, so
// that few trainees do not put all weight on one of several models that foresee alike.
const evenness = 0.05

// at is minus the score, less what the weights lack in evenness, and its gradient where grad is
// not nil.
func (s *stack) at(logs, grad []float64) float64 {
	k := len(s.models)
	total := 0.0
	even := evenness / float64(s.people)
	for m, w := range shares(logs, make([]float64, k)) {
		total -= even * math.Log(w)
		if grad != nil {
			grad[m] = -even * (1 - float64(k)*w)
		}
	}
	terms := make([]float64, k)
	for r, lead := range s.lead {
		prior := shares(logs, lead)
		for j := range s.models[0].Looks[r].LogDensity {
			most := math.Inf(-1)
			for m := range s.models {
				terms[m] = math.Log(prior[m]) + s.models[m].Looks[r].LogDensity[j]
				most = math.Max(most, terms[m])
			}
			sum := sumOfExp(terms, most)
			total -= s.weight[r] * (most + math.Log(sum))
			if grad != nil {
				for m := range terms {
					grad[m] -= s.weight[r] * (math.Exp(terms[m]-most)/sum - prior[m])
				}
			}
		}
	}
	return total
}

// shares are weights in proportion to exp(logs + lead).
func shares(logs, lead []float64) []float64 {
	out := make([]float64, len(logs))
	for m := range out {
		out[m] = logs[m] + lead[m]
	}
	most := slices.Max(out)
	sum := 0.0
	for m := range out {
		out[m] = math.Exp(out[m] - most)
		sum += out[m]
	}
	for m := range out {
		out[m] = math.Max(out[m]/sum, 1e-300)
	}
	return out
}

// climb finds the best weights.
func (s *stack) climb() Stacking {
	k := len(s.models)
	start := make([]float64, k)
	out := Stacking{Weights: shares(start, start), Trust: s.trust}
	out.Score = s.score(start)
	if k == 1 {
		return out
	}
	problem := optimize.Problem{
		Func: func(x []float64) float64 { return s.at(x, nil) },
		Grad: func(g, x []float64) { s.at(x, g) },
	}
	r, err := optimize.Minimize(problem, start, &optimize.Settings{GradientThreshold: 1e-7, MajorIterations: 300}, &optimize.BFGS{})
	if r != nil && (err == nil || r.F < s.at(start, nil)) {
		out.Weights, out.Score = shares(r.X, make([]float64, k)), s.score(r.X)
	}
	return out
}

// score is that of the mixture.
func (s *stack) score(logs []float64) float64 {
	total := -s.at(logs, nil)
	for _, w := range shares(logs, make([]float64, len(logs))) {
		total -= evenness / float64(s.people) * math.Log(w)
	}
	return total
}
