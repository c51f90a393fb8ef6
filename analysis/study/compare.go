package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/compare"
	"tyro/analysis/fit"
	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
)

// A Comparison sets the study's arms against the first.
type Comparison struct {
	Family    string // of the curve on which all trainees are compared
	Lead      []FamilyLead
	Contrasts []compare.Contrast
	Warnings  Warnings
}

// A FamilyLead is how much higher a family's AICc is, summed over trainees, than that
// of the family taken.
type FamilyLead struct {
	Family string
	Higher float64
}

// Compare contrasts the study's arms with the first.
func (s *Study) Compare(ctx context.Context) (*Comparison, error) {
	if n := len(s.Arms); n < 2 {
		return nil, fmt.Errorf("comparing needs at least two arms; the data have %d (name the column with --arm)", n)
	}
	learners, err := s.Learners(ctx)
	if err != nil {
		return nil, err
	}
	d := &Comparison{}
	d.Warnings.With(learners.Warnings)
	fits, err := d.commonFits(s, learners)
	if err != nil {
		return nil, err
	}
	var groups []compare.Group
	for _, arm := range s.Arms {
		g := compare.Group{Name: arm}
		for _, i := range s.Members(arm) {
			if fits[i].Status.Usable() {
				g.Members = append(g.Members, i)
			} else {
				d.Warnings.Add("trainee-left-out", fmt.Sprintf("trainee %s is left out of the comparison: %s", s.Trainees[i].ID, fits[i].Status))
			}
		}
		groups = append(groups, g)
	}
	d.Contrasts, err = compare.Arms(ctx, groups, d.measures(s, fits), compare.Options{Level: s.Options.Level, Sampling: s.shown()})
	if err != nil {
		return nil, err
	}
	for _, c := range d.Contrasts {
		for _, w := range c.Warnings {
			d.Warnings.Add(w.Code, c.Measure+": "+w.Text)
		}
		if math.IsNaN(c.Estimate) {
			d.Warnings.Add("no-contrast", c.Measure+": an arm has no number, so there is no contrast")
		}
	}
	return d, nil
}

// commonFits takes one family for all trainees, since plateaus and rates of different
// families are not comparable: the one with the lowest AICc summed over the trainees to
// whom every family could be fitted. The fits are those that the learners have.
func (d *Comparison) commonFits(s *Study, learners *Learners) ([]fit.Fit, error) {
	var candidates []int
	for k, spec := range s.Specs {
		if !s.FamilyChosen() || spec.Family.HasPlateau() && spec.Family.HasGain() {
			candidates = append(candidates, k)
		}
	}
	sums, used := make([]float64, len(candidates)), 0
	for _, l := range learners.Each {
		row := make([]float64, len(candidates))
		usable := l.Choice.Fit.Status != fit.Unsuited
		for j, k := range candidates {
			f, ok := l.Of(k)
			row[j] = f.AICc
			usable = usable && ok && f.Status.Usable() && !math.IsNaN(f.AICc) && !math.IsInf(f.AICc, 0)
		}
		if usable {
			used++
			for j, v := range row {
				sums[j] += v
			}
		}
	}
	if used == 0 {
		return nil, fmt.Errorf("no trainee has enough attempts for a curve, so there is nothing to compare")
	}
	best := slices.Index(sums, slices.Min(sums))
	d.Family = s.Specs[candidates[best]].Family.Name()
	for j, k := range candidates {
		if j != best {
			d.Lead = append(d.Lead, FamilyLead{s.Specs[k].Family.Name(), sums[j] - sums[best]})
		}
	}
	fits := make([]fit.Fit, len(learners.Each))
	for i, l := range learners.Each {
		fits[i], _ = l.Of(candidates[best])
	}
	return fits, nil
}

// measures lists what arms are compared on.
func (d *Comparison) measures(s *Study, fits []fit.Fit) []compare.Measure {
	isTime := s.Task.Measure == practice.Time
	common := math.Inf(1) // the last attempt that every trainee with a curve has made
	for _, f := range fits {
		if f.Status.Usable() {
			common = math.Min(common, f.Last)
		}
	}
	values := func(of func(fit.Fit) float64) []float64 {
		out := make([]float64, len(fits))
		for i, f := range fits {
			out[i] = math.NaN()
			if f.Status.Usable() {
				out[i] = of(f)
			}
		}
		return out
	}
	plateaus := values(func(f fit.Fit) float64 {
		if !f.PlateauKnown {
			return math.NaN()
		}
		return f.Noise.Mean(f.Curve.Plateau)
	})
	if n := unknown(plateaus); n > 0 {
		d.Warnings.Add("plateaus-left-out", fmt.Sprintf("%d trainees whose plateau is not identified do not enter the plateau contrast", n))
	}
	ms := []compare.Measure{
		meanMeasure("starting-level", values(func(f fit.Fit) float64 { return f.Noise.Mean(f.Curve.Start()) }), isTime),
		meanMeasure(fmt.Sprintf("level-at-attempt-%g", common), values(func(f fit.Fit) float64 { return f.Noise.Mean(f.Curve.At(common)) }), isTime),
		meanMeasure("plateau", plateaus, isTime),
	}
	if rates := values(rateOf); unknown(rates) < len(rates) {
		if n := unknown(rates); n > 0 {
			d.Warnings.Add("rates-left-out", fmt.Sprintf("%d trainees whose rate is not identified do not enter the rate contrast", n))
		}
		ms = append(ms, meanMeasure("rate", rates, true))
	}
	std, h := s.Question.Standard, s.Question.Horizon
	if !std.Set() {
		return ms
	}
	crossings := values(func(f fit.Fit) float64 { return f.Curve.Crossing(std.Curve(f.Noise), 1, std.Lower) })
	ms = append(ms,
		compare.Measure{Name: "mean-crossing-median", Of: func(m []int) float64 { return medianWithin(crossings, m, h) }},
		compare.Measure{Name: fmt.Sprintf("mean-crossing-mean-within-%g", h), Of: func(m []int) float64 { return meanWithin(crossings, m, h) }},
	)
	if s.Task.Rule != nil {
		ms = append(ms, s.observedMeasures()...)
	}
	return ms
}

// rateOf is a curve's rate; unknown where it has none or it is not identified.
func rateOf(f fit.Fit) float64 {
	for _, p := range f.Params {
		if p.Name == "rate" {
			return p.Value
		}
	}
	return math.NaN()
}

// observedMeasures compares the observed rule: attempts spent, and the share that met
// it, both up to the last attempt that every arm has seen.
func (s *Study) observedMeasures() []compare.Measure {
	observed := s.Observed(stopping.Rule{Rule: s.Task.Rule})
	tau := s.commonEnd(observed)
	curve := func(members []int) survival.Curve {
		var obs []proficiency.Observed
		for _, i := range members {
			obs = append(obs, observed[i])
		}
		return survival.KaplanMeier(proficiency.Survival(obs), survival.Plain, s.Question.Level)
	}
	return []compare.Measure{
		{Name: fmt.Sprintf("rule-met-mean-within-%g", tau), Of: func(m []int) float64 { v, _ := curve(m).RestrictedMean(tau); return v }},
		{Name: fmt.Sprintf("rule-met-share-by-%g", tau), Of: func(m []int) float64 { return 1 - curve(m).At(tau) }},
	}
}

// commonEnd is the last attempt up to which every arm has been followed.
func (s *Study) commonEnd(observed []proficiency.Observed) float64 {
	end := math.Inf(1)
	for _, arm := range s.Arms {
		last := 0.0
		for _, i := range s.Members(arm) {
			if v := observed[i].Attempt; !math.IsNaN(v) {
				last = math.Max(last, v)
			}
		}
		end = math.Min(end, last)
	}
	return end
}

// unknown counts the values that are not known.
func unknown(values []float64) int {
	n := 0
	for _, v := range values {
		if math.IsNaN(v) {
			n++
		}
	}
	return n
}

// meanMeasure compares arithmetic means as a difference, or geometric means as a ratio;
// unknown values are left out.
func meanMeasure(name string, values []float64, ratio bool) compare.Measure {
	return compare.Measure{Name: name, Ratio: ratio, Of: func(members []int) float64 {
		sum, n := 0.0, 0.0
		for _, i := range members {
			v := values[i]
			if ratio {
				v = math.Log(math.Max(v, 0))
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				continue
			}
			sum += v
			n++
		}
		if ratio {
			return math.Exp(sum / n)
		}
		return sum / n
	}}
}

// medianWithin is the middle of the members' values, where beyond the horizon counts
// as not reached.
func medianWithin(values []float64, members []int, horizon float64) float64 {
	var known []float64
	for _, i := range members {
		v := values[i]
		if v > horizon {
			v = math.Inf(1)
		}
		if !math.IsNaN(v) {
			known = append(known, v)
		}
	}
	return median(known)
}

// meanWithin is the mean of the values with the horizon in place of more.
func meanWithin(values []float64, members []int, horizon float64) float64 {
	sum, n := 0.0, 0.0
	for _, i := range members {
		if v := values[i]; !math.IsNaN(v) {
			sum += math.Min(v, horizon)
			n++
		}
	}
	return sum / n
}
