package reports

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/compare"
	"tyro/analysis/fit"
	"tyro/analysis/proficiency"
	"tyro/analysis/stopping"
	"tyro/analysis/survival"
	"tyro/datasets"
)

// Comparison is the answer of the command compare.
type Comparison struct {
	Header
	Family    string     `json:"family"`
	Contrasts []Contrast `json:"contrasts"`

	in *Input
}

// A Contrast in machine output.
type Contrast struct {
	Measure        string  `json:"measure"`
	Arm            string  `json:"arm"`
	Reference      string  `json:"reference"`
	Kind           string  `json:"kind"` // difference or ratio
	ArmValue       Number  `json:"arm_value"`
	ReferenceValue Number  `json:"reference_value"`
	Estimate       Number  `json:"estimate"`
	Lower          Number  `json:"lower"`
	Upper          Number  `json:"upper"`
	Level          float64 `json:"level"`
	P              Number  `json:"p"`
	PAdjusted      Number  `json:"p_adjusted"`
	Method         string  `json:"method"`
	Excludes       string  `json:"excludes"`
	Replicates     int     `json:"replicates"`
	Failed         int     `json:"failed_replicates"`
}

// CompareArms contrasts the study's arms with the first.
func CompareArms(ctx context.Context, in *Input) (*Comparison, error) {
	arms := in.Arms
	if len(arms) < 2 {
		return nil, fmt.Errorf("comparing needs at least two arms; the data have %d (name the column with --arm)", len(arms))
	}
	d := &Comparison{Header: newHeader("compare", in), in: in, Contrasts: []Contrast{}}
	spec, err := d.commonFamily()
	if err != nil {
		return nil, err
	}
	fits := make([]fit.Fit, len(in.Trainees))
	err = in.eachTrainee(ctx, func(i int, t Trainee) (err error) {
		fits[i], err = fit.One(t.Series, spec)
		return err
	})
	if err != nil {
		return nil, err
	}
	var groups []compare.Group
	for _, arm := range arms {
		g := compare.Group{Name: arm}
		for _, i := range in.Members(arm) {
			if fits[i].Status.Usable() {
				g.Members = append(g.Members, i)
			} else {
				d.Warn("trainee-left-out", fmt.Sprintf("trainee %s is left out of the comparison: %s", in.Trainees[i].ID, fits[i].Status))
			}
		}
		groups = append(groups, g)
	}
	plan := in.Plan()
	plan.Progress = in.Options.Progress
	cs, err := compare.Arms(ctx, groups, d.measures(fits), compare.Options{Level: in.Options.Level, Plan: plan})
	if err != nil {
		return nil, err
	}
	for _, c := range cs {
		kind := "difference"
		if c.Ratio {
			kind = "ratio"
		}
		d.Contrasts = append(d.Contrasts, Contrast{
			c.Measure, c.Arm, c.Reference, kind, Number(c.ArmValue), Number(c.ReferenceValue), Number(c.Estimate), Number(c.Lower), Number(c.Upper),
			c.Level, Number(c.P), Number(c.PAdjusted), c.Method, c.Excludes, c.Replicates, c.Failed,
		})
		for _, w := range c.Warnings {
			d.Warn(w.Code, c.Measure+": "+w.Text)
		}
		if math.IsNaN(c.Estimate) {
			d.Warn("no-contrast", c.Measure+": an arm has no number, so there is no contrast")
		}
	}
	return d, nil
}

// commonFamily settles on one family for all trainees: plateaus and rates of
// different families are not comparable.
func (d *Comparison) commonFamily() (fit.Spec, error) {
	in := d.in
	specs := in.Specs
	if len(specs) > 1 {
		specs = slices.DeleteFunc(slices.Clone(specs), func(s fit.Spec) bool { return !s.Family.HasPlateau() || !s.Family.HasGain() })
	}
	var all []fit.Series
	for _, t := range in.Trainees {
		all = append(all, t.Series)
	}
	i, sums := fit.ChooseCommon(all, specs)
	if i < 0 {
		return fit.Spec{}, fmt.Errorf("no trainee has enough attempts for a curve, so there is nothing to compare")
	}
	d.Family = specs[i].Family.Name()
	if len(specs) > 1 {
		text := fmt.Sprintf("all trainees are compared on the %s curve, which has the lowest AICc summed over trainees", d.Family)
		for j, s := range sums {
			if j != i {
				text += fmt.Sprintf("; %s is higher by %s", specs[j].Family.Name(), Significant(s-sums[i], 3))
			}
		}
		d.Warn("common-family", text)
	}
	return specs[i], nil
}

// measures lists what arms are compared on.
func (d *Comparison) measures(fits []fit.Fit) []compare.Measure {
	in := d.in
	positive := in.Task.Measure == datasets.Time
	common := commonLast(fits)
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
	if n := countNaN(plateaus); n > 0 {
		d.Warn("plateaus-left-out", fmt.Sprintf("%d trainees whose plateau is not identified do not enter the plateau contrast", n))
	}
	ms := []compare.Measure{
		mean("starting-level", values(func(f fit.Fit) float64 { return f.Noise.Mean(f.Curve.Start()) }), positive),
		mean(fmt.Sprintf("level-at-attempt-%g", common), values(func(f fit.Fit) float64 { return f.Noise.Mean(f.Curve.At(common)) }), positive),
		mean("plateau", plateaus, positive),
	}
	if len(fits) > 0 && len(in.Specs[0].Family.Shape().Params()) > 0 || d.Family != "inverse" {
		rates := values(func(f fit.Fit) float64 {
			for _, p := range f.Params {
				if p.Name == "rate" {
					return p.Value
				}
			}
			return math.NaN()
		})
		if n := countNaN(rates); n > 0 {
			d.Warn("rates-left-out", fmt.Sprintf("%d trainees whose rate is not identified do not enter the rate contrast", n))
		}
		ms = append(ms, mean("rate", rates, true))
	}
	if std := in.Question.Standard; std.Set() {
		crossings := values(func(f fit.Fit) float64 { return f.Curve.Crossing(std.Curve(f.Noise), 1, std.Lower) })
		h := in.Question.Horizon
		ms = append(ms,
			compare.Measure{Name: "mean-crossing-median", Of: func(m []int) float64 { return median(crossings, m, h) }},
			compare.Measure{Name: fmt.Sprintf("mean-crossing-mean-within-%g", h), Of: func(m []int) float64 { return restricted(crossings, m, h) }},
		)
		if in.Rule != nil {
			ms = append(ms, d.observedMeasures(in.Observe(stopping.Rule{Rule: in.Rule}))...)
		}
	}
	return ms
}

// observedMeasures compares the observed rule: attempts spent, and the share
// that met it, both up to the last attempt that every arm has seen.
func (d *Comparison) observedMeasures(observed []proficiency.Observed) []compare.Measure {
	tau := d.in.commonTau(observed)
	curve := func(members []int) survival.Curve {
		var obs []proficiency.Observed
		for _, i := range members {
			obs = append(obs, observed[i])
		}
		return survival.KaplanMeier(proficiency.Survival(obs), survival.Plain, d.in.Question.Level)
	}
	return []compare.Measure{
		{Name: fmt.Sprintf("rule-met-mean-within-%g", tau), Of: func(m []int) float64 { v, _ := curve(m).RestrictedMean(tau); return v }},
		{Name: fmt.Sprintf("rule-met-share-by-%g", tau), Of: func(m []int) float64 { return 1 - curve(m).At(tau) }},
	}
}

// commonLast is the last attempt that every fitted trainee has made.
func commonLast(fits []fit.Fit) float64 {
	last := math.Inf(1)
	for _, f := range fits {
		if f.Status.Usable() {
			last = math.Min(last, f.Last)
		}
	}
	return last
}

func countNaN(vs []float64) int {
	n := 0
	for _, v := range vs {
		if math.IsNaN(v) {
			n++
		}
	}
	return n
}

// mean compares arithmetic means as a difference, or geometric means as a
// ratio; unknown values are left out.
func mean(name string, values []float64, ratio bool) compare.Measure {
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

// median is the middle of the members' values, where beyond the horizon counts
// as not reached.
func median(values []float64, members []int, horizon float64) float64 {
	var vs []float64
	for _, i := range members {
		v := values[i]
		if v > horizon {
			v = math.Inf(1)
		}
		if !math.IsNaN(v) {
			vs = append(vs, v)
		}
	}
	slices.Sort(vs)
	n := len(vs)
	switch {
	case n == 0:
		return math.NaN()
	case n%2 == 1:
		return vs[n/2]
	case math.IsInf(vs[n/2], 1):
		return vs[n/2]
	}
	return (vs[n/2-1] + vs[n/2]) / 2
}

// restricted is the mean of the values with the horizon in place of more.
func restricted(values []float64, members []int, horizon float64) float64 {
	sum, n := 0.0, 0.0
	for _, i := range members {
		if v := values[i]; !math.IsNaN(v) {
			sum += math.Min(v, horizon)
			n++
		}
	}
	return sum / n
}

// Tables lists a row a contrast.
func (d *Comparison) Tables() []Table {
	arms := d.in.Arms
	title, armHead, value := fmt.Sprintf("Arms against %s, %s curve for every trainee", arms[0], d.Family), "arm", "its value"
	if len(arms) == 2 {
		title, armHead, value = fmt.Sprintf("%s against %s, %s curve for every trainee", arms[1], arms[0], d.Family), "", arms[1]
	}
	t := Table{Name: "compare", Title: title, Columns: []Column{
		{Key: "measure", Head: "measure"}, {Key: "arm", Head: armHead}, {Key: "reference"}, {Key: "kind", Head: "contrast"},
		{Key: "arm_value", Head: value, Show: ThreeDigits}, {Key: "reference_value", Head: arms[0], Show: ThreeDigits},
		{Key: "estimate", Head: "estimate", Show: ThreeDigits}, {Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.in.Options.Level), Show: ThreeDigits}, {Key: "upper", Head: "to", Show: ThreeDigits},
		{Key: "p", Head: "p", Show: PValue}, {Key: "p_adjusted", Head: "p (Holm)", Show: PValue}, {Key: "method"}, {Key: "excludes"},
		{Key: "replicates"}, {Key: "failed_replicates"},
	}}
	for _, c := range d.Contrasts {
		t.Rows = append(t.Rows, []any{c.Measure, c.Arm, c.Reference, c.Kind, float64(c.ArmValue), float64(c.ReferenceValue), float64(c.Estimate), float64(c.Lower), float64(c.Upper), float64(c.P), float64(c.PAdjusted), c.Method, c.Excludes, c.Replicates, c.Failed})
	}
	t.Notes = []string{
		"The trainee is the unit: intervals from a bootstrap of whole trainees within arms, p from a permutation of arm labels. ∞: not reached within the horizon.",
		"A p above 0.05 is not evidence of no difference: read what the interval excludes.",
	}
	for _, c := range d.Contrasts {
		if c.Excludes != "" {
			t.Notes = append(t.Notes, fmt.Sprintf("%s: %s.", c.Measure, c.Excludes))
		}
	}
	return []Table{t}
}

func ThreeDigits(v float64) string { return Significant(v, 3) }
