package proficiency

import (
	"math"

	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/resample"
	"tyro/models"
)

// A cleanChance is the chance that an attempt keeps within its error limits, which
// grows with practice: a logistic regression on the logarithm of the attempt, or one
// share for all attempts where passes and misses do not mix enough for a slope.
type cleanChance struct {
	attempts []float64
	logs     []float64 // of the attempts
	fitter   *fit.Fitter
	learnt   logit
	fitted   []float64 // at the attempts seen
}

// A logit is a chance whose logit is a straight line in the logarithm of the attempt.
type logit struct{ start, slope float64 }

// at is the chance at attempt n.
func (l logit) at(n float64) float64 { return models.Bernoulli{}.Mean(l.start + l.slope*math.Log(n)) }

// newCleanChance reads whether each measured attempt was clean; nil when no limit is
// set.
func newCleanChance(t practice.Trainee) *cleanChance {
	if !t.ErrorLimits {
		return nil
	}
	c := &cleanChance{}
	var y []float64
	for _, a := range t.Attempts {
		if a.Measured() {
			c.attempts, y = append(c.attempts, a.Number), append(y, zeroOne(a.Clean))
			c.logs = append(c.logs, math.Log(a.Number))
		}
	}
	c.learnt = c.learn(y)
	for _, n := range c.attempts {
		c.fitted = append(c.fitted, c.learnt.at(n))
	}
	return c
}

// learn fits the chance to 0 and 1 by attempt.
func (c *cleanChance) learn(y []float64) logit {
	clean := 0.0
	for _, v := range y {
		clean += v
	}
	n := float64(len(y))
	// Half an attempt each way keeps a share off 0 and 1 (common practice, no
	// source).
	share := models.Bernoulli{}.Link((clean + 0.5) / (n + 1))
	if clean < 3 || n-clean < 3 {
		return logit{share, 0}
	}
	if l, ok := nearestLine(c.logs, y, nil, c.learnt); ok {
		return l
	}
	if l, ok := nearestLine(c.logs, y, nil, logit{share, 0}); ok {
		return l
	}
	if l, ok := c.anywhere(y); ok {
		return l
	}
	return logit{share, 0}
}

// nearestLine is the logistic regression of yes out of so many on the logarithms of attempts,
// by Newton steps from a line; of all nil stands for one each. False where they do not lead
// there.
func nearestLine(logs, yes, of []float64, l logit) (logit, bool) {
	before := math.Inf(1)
	for range 60 { // many only where clean attempts all come after the others
		var g0, g1, h00, h01, h11 float64
		for i, x := range logs {
			p := 1 / (1 + models.Exp(-l.start-l.slope*x))
			d, w := yes[i]-p, p*(1-p)
			if of != nil {
				d, w = yes[i]-of[i]*p, of[i]*w
			}
			g0 += d
			g1 += d * x
			h00 += w
			h01 += w * x
			h11 += w * x * x
		}
		det := h00*h11 - h01*h01
		if !(det > 1e-10*h00*h11) {
			return l, false
		}
		start, slope := (h11*g0-h01*g1)/det, (h00*g1-h01*g0)/det
		gain := start*g0 + slope*g1 // twice what the step saves
		if !(gain < before) {
			return l, false
		}
		l.start, l.slope, before = l.start+start, l.slope+slope, gain
		if gain < spent {
			return l, true
		}
	}
	return l, false
}

// spent is twice what a step saves in log-likelihood when it was the last: the next would save
// about its square.
const spent = 1e-5

// anywhere is the line by the general fitter.
func (c *cleanChance) anywhere(y []float64) (logit, bool) {
	if c.fitter == nil {
		f, err := fit.NewFitter(fit.Spec{Family: models.Logarithmic(), Noise: models.Bernoulli{}}, c.attempts)
		if err != nil {
			return logit{}, false
		}
		c.fitter = f
	}
	r := c.fitter.Refit(y, nil)
	return logit{r.Curve.Plateau, r.Curve.Gain}, r.OK
}

// A cleanDraw draws the chance anew; use one per goroutine.
type cleanDraw struct {
	cleanChance
	y []float64
}

func (c *cleanChance) newDraw() *cleanDraw {
	if c == nil {
		return nil
	}
	own := *c
	own.fitter = nil
	return &cleanDraw{own, make([]float64, len(c.fitted))}
}

// draw is the chance learnt from one bootstrap replicate of the clean attempts.
func (c *cleanDraw) draw(seed uint64, purpose string, replicate int) logit {
	r := resample.Stream(seed, "proficiency/clean/"+purpose, replicate)
	for i, p := range c.fitted {
		c.y[i] = zeroOne(r.Float64() < p)
	}
	return c.learn(c.y)
}
