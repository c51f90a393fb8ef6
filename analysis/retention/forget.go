package retention

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// The shapes of forgetting.
const (
	Exponential = "exponential" // the share kept is e^(−rate·days)
	Power       = "power"       // the share kept is (1 + days)^(−rate)
)

// A Forgetting is how the share of the gain that is kept falls with the days without
// practice.
type Forgetting struct {
	Shape     string
	Rate      Ends
	HalfLife  Ends // days until half of the gain is lost; +Inf beyond ten times the longest break
	RSS       float64
	Residual  float64 // standard deviation of a first attempt about what is expected of the trainee
	Refresher Refresher
}

// A forgetter is what the fits need of one trainee.
type forgetter struct {
	before, gain []float64 // by break
	days, loss   []float64
}

// Forget describes how the share kept falls with the days, by both shapes. meets says
// whether a value meets the standard's level on the scale of comparison, and is read as
// the level itself: NaN for none. share is of the trainees who should still meet it; 0
// means 0.8. Breaks of one length only are an error: they tell no shape and no half-life.
func Forget(ctx context.Context, trainees []Trainee, o Options, standard, share float64) ([]Forgetting, error) {
	level, err := analysis.Level(o.Level)
	if err != nil {
		return nil, err
	}
	kinds, err := o.kinds(trainees)
	if err != nil {
		return nil, err
	}
	if len(kinds) < 2 {
		return nil, fmt.Errorf("%w: a half-life cannot be told from one gap: all breaks are of about the same length, %s", ErrRetention, kinds[0].length())
	}
	people, longest := make([]forgetter, len(trainees)), 0.0
	for _, k := range kinds {
		for i, ls := range k.losses {
			for _, l := range ls {
				v, gain := settled(l.after[0]-l.before, l.before), settled(l.before-l.start, l.before)
				if math.IsNaN(v) || math.IsNaN(gain) {
					continue
				}
				p := &people[i]
				p.before, p.gain, p.days, p.loss = append(p.before, l.before), append(p.gain, gain), append(p.days, l.days), append(p.loss, v)
				longest = math.Max(longest, l.days)
			}
		}
	}
	kept := people[:0:0]
	for _, p := range people {
		if len(p.days) > 0 {
			kept = append(kept, p)
		}
	}
	if len(kept) < 3 {
		return nil, fmt.Errorf("%w: %d trainees have attempts before and after breaks, and 3 are needed", ErrRetention, len(kept))
	}
	var gains []float64
	for _, p := range kept {
		gains = append(gains, average(p.gain))
	}
	g := Gap{Gain: meanOf(gains, level)}
	if !g.GainKnown(o.Lower) {
		return nil, fmt.Errorf("%w: a half-life needs a gain to lose: from the first attempt to the level before breaks trainees did not get better beyond chance", ErrRetention)
	}
	if lost := meanLoss(kept, level); o.Lower && lost.Upper < 0 || !o.Lower && lost.Lower > 0 {
		return nil, fmt.Errorf("%w: first attempts after breaks were better than the level before them, so there is no forgetting to describe (where trainees were still getting better, look at --before 1)", ErrRetention)
	}
	if share == 0 {
		share = 0.8
	}
	var out []Forgetting
	for _, shape := range []string{Exponential, Power} {
		f, err := fitShape(ctx, kept, shape, o, standard, share, 10*longest, level)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

// length is a kind's length in words: "30 days", or "30 days (28 to 33)".
func (k kind) length() string {
	n, shortest, longest := k.days[len(k.days)/2], k.days[0], k.days[len(k.days)-1]
	switch {
	case shortest < longest:
		return fmt.Sprintf("%g days (%g to %g)", n, shortest, longest)
	case n == 1:
		return "1 day"
	}
	return fmt.Sprintf("%g days", n)
}

// meanLoss is the mean of trainees' mean losses.
func meanLoss(people []forgetter, level float64) Mean {
	var losses []float64
	for _, p := range people {
		losses = append(losses, average(p.loss))
	}
	return meanOf(losses, level)
}

// retained is the share kept after some days.
func retained(shape string, rate, days float64) float64 {
	if shape == Power {
		return math.Pow(1+days, -rate)
	}
	return math.Exp(-rate * days)
}

// halfLife is the days until half is lost; +Inf beyond what is looked at.
func halfLife(shape string, rate, horizon float64) float64 {
	days := math.Ln2 / rate
	if shape == Power {
		days = math.Pow(2, 1/rate) - 1
	}
	if !(rate > 0) || days > horizon {
		return math.Inf(1)
	}
	return days
}

// solved are the numbers of one set of people.
type solved struct{ rate, rss, residual, half float64 }

// fitShape fits one shape by least squares over all breaks, and again to samples of
// whole trainees.
func fitShape(ctx context.Context, people []forgetter, shape string, o Options, standard, share, horizon, level float64) (Forgetting, error) {
	all := make([]int, len(people))
	for i := range all {
		all[i] = i
	}
	solve := func(members []int) solved {
		s := leastSquares(people, members, shape)
		s.half = halfLife(shape, s.rate, horizon)
		return s
	}
	best := solve(all)
	sampling := o.Sampling
	sampling.Progress = nil
	draws, err := resample.Replicate(ctx, sampling, "retention/forget/"+shape, func() func(*rand.Rand) solved {
		members := make([]int, len(people))
		return func(r *rand.Rand) solved { return solve(resample.Indices(r, members, len(people))) }
	})
	if err != nil {
		return Forgetting{}, err
	}
	n := float64(len(people))
	wide := resample.ExpandedLevel(level, n-1, math.Sqrt(n/(n-1)))
	ends := func(estimate float64, of func(solved) float64) Ends {
		values := make([]float64, len(draws))
		for k, d := range draws {
			values[k] = of(d)
		}
		iv := resample.PercentileInterval(values, wide)
		if iv.Refused() {
			return Ends{estimate, math.NaN(), math.NaN()}
		}
		return Ends{estimate, iv.Lower, iv.Upper}
	}
	f := Forgetting{Shape: shape, RSS: best.rss, Residual: best.residual}
	f.Rate = ends(best.rate, func(s solved) float64 { return s.rate })
	f.HalfLife = ends(best.half, func(s solved) float64 { return s.half })
	f.Refresher = refresherOf(people, all, shape, best, o.Lower, standard, share, horizon, level)
	return f, nil
}

// A length is all breaks of so many days: with y = loss + gain, the sums of y², y·gain and
// gain², from which (y − gain·kept)² is added up for any rate.
type length struct{ days, all, cross, gains float64 }

// byLength adds up the breaks of the members, in the order first seen.
func byLength(people []forgetter, members []int) []length {
	var out []length
	at := map[float64]int{}
	for _, i := range members {
		p := people[i]
		for k, d := range p.days {
			j, there := at[d]
			if !there {
				j = len(out)
				at[d], out = j, append(out, length{days: d})
			}
			y, gain := p.loss[k]+p.gain[k], p.gain[k]
			out[j].all += y * y
			out[j].cross += y * gain
			out[j].gains += gain * gain
		}
	}
	return out
}

// leastSquares is the rate that makes the sum of (loss + gain·(1 − kept))² smallest: the
// gain moves the value to the better side, and its loss moves it back.
func leastSquares(people []forgetter, members []int, shape string) solved {
	breaks := byLength(people, members)
	rss := func(rate float64) float64 {
		sum := 0.0
		for _, b := range breaks {
			kept := retained(shape, rate, b.days)
			sum += b.all - 2*kept*b.cross + kept*kept*b.gains
		}
		return math.Max(sum, 0)
	}
	longest, n := 0.0, 0
	for _, i := range members {
		n += len(people[i].days)
		for _, d := range people[i].days {
			longest = math.Max(longest, d)
		}
	}
	// The rate on a scale where halves and doubles are as far: from a loss of one in a
	// thousand at the longest break to nearly all on the first day; and 0, no loss.
	low, high := math.Log(1e-3/longest), math.Log(5.0)
	if shape == Power {
		low, high = math.Log(1e-3/math.Log1p(longest)), math.Log(8.0)
	}
	best, at := rss(0), 0.0
	const steps = 60
	for k := range steps + 1 {
		rate := math.Exp(low + (high-low)*float64(k)/steps)
		if v := rss(rate); v < best {
			best, at = v, rate
		}
	}
	if at > 0 { // between the neighbours of the best
		width := (high - low) / steps
		a, b := math.Log(at)-width, math.Log(at)+width
		golden := (math.Sqrt(5) - 1) / 2
		for range 40 {
			c, d := b-golden*(b-a), a+golden*(b-a)
			if rss(math.Exp(c)) < rss(math.Exp(d)) {
				b = d
			} else {
				a = c
			}
		}
		at = math.Exp((a + b) / 2)
		best = rss(at)
	}
	return solved{rate: at, rss: best, residual: math.Sqrt(best / math.Max(1, float64(n-1)))}
}
