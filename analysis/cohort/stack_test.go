package cohort

import (
	"context"
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/resample"
	"tyro/models"
)

// foresights makes two models that look once at each of n trainees, at one attempt: for a share
// of the trainees the first has density 2 there and the second 1, for the others the reverse.
func foresights(n int, share float64, evidence float64) []Foresight {
	a, b := Foresight{}, Foresight{}
	for i := range n {
		x, y := math.Log(2), 0.0
		if float64(i) >= share*float64(n) {
			x, y = y, x
		}
		a.Looks = append(a.Looks, Look{Trainee: i, Known: 5, LogDensity: []float64{x}, Evidence: evidence * x})
		b.Looks = append(b.Looks, Look{Trainee: i, Known: 5, LogDensity: []float64{y}, Evidence: evidence * y})
	}
	return []Foresight{a, b}
}

// Of a mixture w·2 + (1−w)·1 for a share p of trainees and w·1 + (1−w)·2 for the others the mean
// log density p·log(1+w) + (1−p)·log(2−w) is highest where p(2−w) = (1−p)(1+w): w = 3p − 1. All
// weight on the better model, at p of 2/3 or more, is the edge of that.
func TestStackByHand(t *testing.T) {
	for _, p := range []float64{0.5, 0.55, 0.6} {
		w := 3*p - 1
		s := newStack(foresights(2000, p, 0), 0).climb()
		if math.Abs(s.Weights[0]-w) > 2e-3 || math.Abs(s.Weights[0]+s.Weights[1]-1) > 1e-12 {
			t.Errorf("share %v: weights %v, want %v", p, s.Weights, w)
		}
		if want := p*math.Log(1+w) + (1-p)*math.Log(2-w); math.Abs(s.Score-want) > 1e-5 {
			t.Errorf("share %v: score %v, want %v", p, s.Score, want)
		}
	}
	if s := Stack(foresights(2000, 0.9, 0)); s.Weights[0] < 0.99 {
		t.Errorf("nine of ten foreseen better by the first model: weights %v", s.Weights)
	}
}

// Where what a trainee did at first tells which model is right for the trainee, the weights shall
// move with it, all the way: then every later attempt has nearly the density 2 that the right
// model gives it. Where the first attempts tell nothing, they shall not.
func TestStackTrust(t *testing.T) {
	s := Stack(foresights(400, 0.5, 20)) // a factor 2^20 in evidence
	if s.Trust == 0 || s.Score < math.Log(2)-0.01 {
		t.Errorf("telling attempts: trust %v, score %v; want some, and %v", s.Trust, s.Score, math.Log(2))
	}
	misled := foresights(400, 0.5, -20)
	if s := Stack(misled); s.Trust != 0 {
		t.Errorf("attempts that tell the wrong model: trust %v, want 0", s.Trust)
	}
}

// A mixture of two draws by hand: the density is what the distribution function rises by, on
// every footing, and the density of all responses is 1.
func TestLogDensityIsThatOfTheCDF(t *testing.T) {
	for _, n := range []models.Noise{models.Lognormal{}, models.Reciprocal{}, models.Normal{}, models.Student{}, models.LogStudent{}} {
		on := newFooting(n)
		curve := func(v float64) models.Curve { return models.Constant().Curve([]float64{v}) }
		spread := 0.1
		if on.link == reciprocal {
			spread = 0.01
		}
		if on.link == plain {
			spread = 2
		}
		p := Posterior{Draws: []Draw{{Weight: 0.3, Curve: curve(10), Spread: spread, on: on}, {Weight: 0.7, Curve: curve(14), Spread: spread / 2, on: on}}}
		const h = 1e-4
		for _, y := range []float64{8, 10, 12, 15} {
			want := (p.CDF(3, 0, y+h) - p.CDF(3, 0, y-h)) / (2 * h)
			if got := math.Exp(p.LogDensity(3, 0, y, false)); math.Abs(got-want) > 1e-6*math.Max(1, want) {
				t.Errorf("%s at %v: density %v, rise of the distribution %v", n.Name(), y, got, want)
			}
			if got, want := math.Exp(p.LogDensity(3, 0, y, true)), 1-p.CDF(3, 0, y); math.Abs(got-want) > 1e-9 {
				t.Errorf("%s above %v: %v, want %v", n.Name(), y, got, want)
			}
		}
	}
}

// Draws with different noises: quantiles invert the mixture's distribution function.
func TestQuantilesOfMixedNoises(t *testing.T) {
	at := func(n models.Noise, weight, spread float64) Draw {
		return Draw{Weight: weight, Curve: models.Constant().Curve([]float64{10}), Spread: spread, on: newFooting(n)}
	}
	p := Posterior{Draws: []Draw{at(models.Lognormal{}, 0.4, 0.3), at(models.Reciprocal{}, 0.4, 0.02), at(models.Student{}, 0.1, 1), at(models.LogStudent{}, 0.1, 0.3)}}
	for _, q := range []float64{0.05, 0.5, 0.95} {
		y := p.Quantiles(1, 0, q)[0]
		if got := p.CDF(1, 0, y); math.Abs(got-q) > 1e-6 {
			t.Errorf("share %v: the response %v has share %v", q, y, got)
		}
	}
}

// levels are trainees who do not learn: a level of their own and normal noise.
func levels(people, attempts int, between, within float64, seed uint64) []Trainee {
	r := resample.Stream(seed, "levels", 0)
	var out []Trainee
	for i := range people {
		t := Trainee{ID: fmt.Sprint("T", i)}
		level := 50 + between*r.NormFloat64()
		for j := range attempts {
			t.Attempt, t.Response = append(t.Attempt, float64(j+1)), append(t.Response, level+within*r.NormFloat64())
		}
		out = append(out, t)
	}
	return out
}

// Of trainees with normal levels and normal noise everything is known in closed form. With the
// cohort's mean m, spread b and noise w, a trainee's next response after k of mean x is normal
// about the mean m + (x − m)·k·b²/(k·b² + w²) with variance w² + b²w²/(k·b² + w²), and the k
// responses have the density of a normal vector with covariance w²I + b²J.
func TestForeseeLevels(t *testing.T) {
	ts := levels(30, 20, 6, 4, 1)
	c, err := Run(context.Background(), ts, Spec{Family: models.Constant(), Noise: models.Normal{}, Random: []string{"plateau"}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := c.Foresee(context.Background(), resample.Sampling{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	here, p := c.here(context.Background()), len(c.theta)
	here.o.at(c.theta, make([]float64, p))
	if len(f.Looks) != 60 { // after 5 and 10 attempts each
		t.Fatalf("%d looks, want 60", len(f.Looks))
	}
	worst := 0.0
	for _, l := range f.Looks {
		theta := c.without(here.o.grads[l.Trainee*p : (l.Trainee+1)*p])
		m, w2 := theta[0], math.Exp(2*theta[1])
		b2 := math.Exp(2 * theta[2])
		k := float64(l.Known)
		x, squares := 0.0, 0.0
		for _, y := range ts[l.Trainee].Response[:l.Known] {
			x += y / k
		}
		for _, y := range ts[l.Trainee].Response[:l.Known] {
			squares += (y - x) * (y - x)
		}
		evidence := -k/2*math.Log(2*math.Pi) - (k-1)/2*math.Log(w2) - 0.5*math.Log(w2+k*b2) - squares/(2*w2) - k*(x-m)*(x-m)/(2*(w2+k*b2))
		if math.Abs(evidence-l.Evidence) > 1e-6 {
			t.Errorf("trainee %d after %d: evidence %v, want %v", l.Trainee, l.Known, l.Evidence, evidence)
		}
		next := distuv.Normal{Mu: m + (x-m)*k*b2/(k*b2+w2), Sigma: math.Sqrt(w2 + b2*w2/(k*b2+w2))}
		mean := 0.0
		for _, y := range ts[l.Trainee].Response[l.Known:] {
			mean += next.LogProb(y) / (20 - k)
		}
		worst = math.Max(worst, math.Abs(mean-l.Mean()))
	}
	// 32 draws of a trainee's level leave this much to chance.
	if worst > 0.05 {
		t.Errorf("a look's mean log density is %v from the exact one", worst)
	}
}

// One Newton step leads about where a fit without the trainee is.
func TestWithoutATrainee(t *testing.T) {
	ts := levels(12, 15, 6, 4, 3)
	spec := Spec{Family: models.Constant(), Noise: models.Normal{}, Random: []string{"plateau"}}
	c, err := Run(context.Background(), ts, spec)
	if err != nil {
		t.Fatal(err)
	}
	here, p := c.here(context.Background()), len(c.theta)
	here.o.at(c.theta, make([]float64, p))
	for i := range ts {
		var others []Trainee
		others = append(append(others, ts[:i]...), ts[i+1:]...)
		refit, err := Run(context.Background(), others, spec)
		if err != nil {
			t.Fatal(err)
		}
		step := c.without(here.o.grads[i*p : (i+1)*p])
		for j := range p {
			moved := refit.theta[j] - c.theta[j]
			if math.Abs(step[j]-refit.theta[j]) > 0.35*math.Abs(moved)+0.05*c.se(j) {
				t.Errorf("without trainee %d parameter %d moves by %v standard errors, one step says %v", i, j, moved/c.se(j), (step[j]-c.theta[j])/c.se(j))
			}
		}
	}
}

// Trainees who learn are not taken for such who do not, noise of their own is seen, and the same
// choice comes out of any number of workers.
func TestChooseFindsTheTruth(t *testing.T) {
	if testing.Short() {
		t.Skip("fits many models")
	}
	r := resample.Stream(5, "choice", 0)
	var ts []Trainee
	for i := range 30 {
		tr := Trainee{ID: fmt.Sprint("T", i)}
		plateau, gain, rate, spread := 45*math.Exp(0.2*r.NormFloat64()), 100*math.Exp(0.3*r.NormFloat64()), 0.2*math.Exp(0.3*r.NormFloat64()), 0.12*math.Exp(0.6*r.NormFloat64())
		for j := range 24 {
			tr.Attempt = append(tr.Attempt, float64(j+1))
			tr.Response = append(tr.Response, (plateau+gain*math.Exp(-rate*float64(j)))*math.Exp(spread*r.NormFloat64()))
		}
		ts = append(ts, tr)
	}
	choice := Choice{Families: []models.Family{models.Constant(), models.Exponential(1)}, Fits: 9, Sampling: resample.Sampling{Seed: 1}}
	var first *Chosen
	for _, workers := range []int{1, 2} {
		got, err := Choose(context.Background(), ts, Spec{Noise: models.Lognormal{}, Workers: workers}, choice)
		if err != nil {
			t.Fatal(err)
		}
		if best := got.Of[0]; best.Family != "exponential" || best.Residual.Parameter == "" || !hasRandom(best, Spread) {
			t.Errorf("chosen: %s", got.Tried[0].Model)
		}
		sum := 0.0
		for _, w := range got.Weights {
			sum += w
		}
		if math.Abs(sum-1) > 1e-9 || len(got.Of) != len(got.Weights) {
			t.Errorf("weights %v of %d models", got.Weights, len(got.Of))
		}
		if first == nil {
			first = got
			continue
		}
		if fmt.Sprint(first.Tried, first.Stacking) != fmt.Sprint(got.Tried, got.Stacking) {
			t.Errorf("workers change the choice:\n%v\n%v", first.Tried, got.Tried)
		}
	}
}

func hasRandom(c *Cohort, name string) bool {
	for _, d := range c.Random {
		if d.Parameter == name {
			return true
		}
	}
	return false
}
