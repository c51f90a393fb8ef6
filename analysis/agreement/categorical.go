package agreement

import (
	"context"
	"fmt"
	"math"
)

// A member of the chance-corrected family.
type member struct {
	name string
	by   chance
	w    [][]float64
}

// family lists the coefficients for a scale, each with its weights.
func family(c coded, scale string, custom [][]float64) []member {
	identity := Identity.matrix(c.cats)
	out := []member{
		{"percent-agreement", noChance, identity},
		{"fleiss-kappa", pooled, identity},
		{"conger-kappa", perRater, identity},
		{"gwet-ac1", gwet, identity},
		{"brennan-prediger", uniform, identity},
	}
	if c.k == 2 {
		out = append(out, member{"scott-pi", pooled, identity})
	}
	weighted := func(kind string, w [][]float64) {
		if c.k > 2 {
			out = append(out, member{"weighted-kappa-" + kind, perRater, w})
		}
		out = append(out, member{"gwet-ac2-" + kind, gwet, w}, member{"brennan-prediger-" + kind, uniform, w})
	}
	if scale == "ordinal" && len(c.cats) > 1 {
		weighted("linear", Linear.matrix(c.cats))
		weighted("quadratic", Quadratic.matrix(c.cats))
	}
	if len(custom) == len(c.cats) && len(custom) > 1 {
		weighted("custom", custom)
	}
	return out
}

// categorical adds the coefficients for categories.
func (s *Summary) categorical(ctx context.Context, r Ratings, o Options) error {
	c := encode(r, o.Categories)
	if o.Weights != nil && len(o.Weights) != len(c.cats) {
		return fmt.Errorf("custom weights: expected %d by %d, one for each category in increasing order; there are %d rows", len(c.cats), len(c.cats), len(o.Weights))
	}
	members := family(c, s.Scale, o.Weights)
	cs, err := c.coefficients(ctx, members, o)
	if err != nil {
		return err
	}
	s.Coefficients = append(s.Coefficients, cs[0])
	specific, err := c.specific(ctx, o)
	if err != nil {
		return err
	}
	s.Coefficients = append(s.Coefficients, specific...)
	if c.k == 2 {
		two, err := twoRaters(ctx, r.complete(), s.Scale, c.cats, o)
		if err != nil {
			return err
		}
		s.Coefficients = append(s.Coefficients, two...)
	}
	light, err := light(ctx, c, o)
	if err != nil {
		return err
	}
	s.Coefficients = append(s.Coefficients, cs[1:]...)
	s.Coefficients = append(s.Coefficients, light)
	return nil
}

// coefficients computes the family with linearised and bootstrap intervals.
func (c coded) coefficients(ctx context.Context, members []member, o Options) ([]Coefficient, error) {
	agreements := make([][]float64, len(members))
	for j, m := range members {
		agreements[j] = c.agreements(m.w)
	}
	ivs, err := bySubjects(ctx, o, "categories", c.n, func() statistic {
		m := newMargins(c)
		return func(draw []int) []float64 {
			out := make([]float64, len(members))
			m.of(c, agreements[0], draw)
			for j, f := range members {
				m.agree = 0
				for _, i := range draw {
					if c.rated[i] >= 2 {
						m.agree += agreements[j][i]
					}
				}
				out[j] = m.coefficient(f.by, f.w)
			}
			return out
		}
	})
	if err != nil {
		return nil, err
	}
	both, err := c.byBoth(ctx, members, o)
	if err != nil {
		return nil, err
	}
	out := make([]Coefficient, len(members))
	m := newMargins(c)
	for j, f := range members {
		m.of(c, agreements[j], everyone(c.n))
		k := unknown(f.name, o.level(), notDefined)
		if est := m.coefficient(f.by, f.w); !math.IsNaN(est) {
			k.Estimate, k.Note = est, ""
			k = k.analytic(standardError(c, agreements[j], f.by, f.w), float64(c.n-1), "Student t, linearised standard error")
			k.Others = append(k.Others, ivs[j], both[j])
		}
		switch {
		case f.name == "fleiss-kappa":
			k.Test = fleissNull(c, k.Estimate)
		case f.by == perRater && c.k > 2 && f.name != "conger-kappa":
			k.Note = joined(k.Note, "Conger's extension")
		}
		out[j] = k
	}
	return out, nil
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

// twoRaters adds what is made for two raters' table of counts.
func twoRaters(ctx context.Context, r Ratings, scale string, cats []float64, o Options) ([]Coefficient, error) {
	counts := Crosstab(r, cats)
	members := []member{{"cohen-kappa", perRater, Identity.matrix(cats)}}
	if scale == "ordinal" && len(cats) > 1 {
		members = append(members, member{"weighted-kappa-linear", perRater, Linear.matrix(cats)}, member{"weighted-kappa-quadratic", perRater, Quadratic.matrix(cats)})
	}
	if len(o.Weights) == len(cats) && len(cats) > 1 {
		members = append(members, member{"weighted-kappa-custom", perRater, o.Weights})
	}
	var out []Coefficient
	if len(r) >= 2 {
		boot, err := encode(r, cats).coefficients(ctx, members, o)
		if err != nil {
			return nil, err
		}
		for j, m := range members {
			k := kappa(m.name, counts, m.w, o.level())
			k.Others = boot[j].Others
			out = append(out, k)
		}
	}
	if len(cats) == 2 {
		out = append(out, balance(counts, o)...)
	}
	return out, nil
}

// balance is, for two raters and two categories, the kappa that equal
// prevalence and no bias would give, and the two indices: Byrt, Bishop and
// Carlin (1993), Journal of Clinical Epidemiology 46, 423-429.
func balance(t [][]float64, o Options) []Coefficient {
	a, b, c, d := t[1][1], t[1][0], t[0][1], t[0][0]
	if o.LowerPositive {
		a, b, c, d = d, c, b, a
	}
	n := a + b + c + d
	po := (a + d) / n
	pabak := Coefficient{Name: "pabak", Estimate: 2*po - 1, SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN(), Level: o.level()}
	pabak = pabak.analytic(2*math.Sqrt(po*(1-po)/n), math.NaN(), "normal, binomial standard error")
	index := func(name string, v float64, note string) Coefficient {
		k := unknown(name, o.level(), note)
		k.Estimate = v
		return k
	}
	return []Coefficient{pabak,
		index("prevalence-index", (a-d)/n, "both positive minus both negative"),
		index("bias-index", (b-c)/n, "first rater's positives minus second's"),
	}
}

// specific is the agreement on each category: of the pairs in which one rater
// chose it, the share in which the other did too (each pair counted from both
// sides). Cicchetti and Feinstein (1990), Journal of Clinical Epidemiology 43,
// 551-558, for two raters; the same ratio of sums for more.
func (c coded) specific(ctx context.Context, o Options) ([]Coefficient, error) {
	q := len(c.cats)
	if q < 2 {
		return nil, nil
	}
	ivs, err := bySubjects(ctx, o, "specific", c.n, func() statistic {
		both, any := make([]float64, q), make([]float64, q)
		return func(draw []int) []float64 {
			clear(both)
			clear(any)
			for _, i := range draw {
				for a, v := range c.counts[i] {
					both[a] += v * (v - 1)
					any[a] += v * (c.rated[i] - 1)
				}
			}
			out := make([]float64, q)
			for a := range out {
				out[a] = both[a] / any[a]
			}
			return out
		}
	})
	if err != nil {
		return nil, err
	}
	var out []Coefficient
	for a, cat := range c.cats {
		k := unknown(c.specificName(a, o), o.level(), fmt.Sprintf("not defined: category %g is never used where two rated", cat))
		var both, any float64
		for i, counts := range c.counts {
			both += counts[a] * (counts[a] - 1)
			any += counts[a] * (c.rated[i] - 1)
		}
		if any > 0 {
			k.Estimate, k.Note = both/any, ""
			k = k.promote(ivs[a])
		}
		out = append(out, k)
	}
	if q == 2 && !o.LowerPositive {
		out[0], out[1] = out[1], out[0]
	}
	return out, nil
}

func (c coded) specificName(a int, o Options) string {
	if len(c.cats) > 2 {
		return fmt.Sprintf("specific-agreement(%g)", c.cats[a])
	}
	if (a == 0) == o.LowerPositive {
		return "positive-agreement"
	}
	return "negative-agreement"
}

func light(ctx context.Context, c coded, o Options) (Coefficient, error) {
	k := unknown("light-kappa", o.level(), notDefined)
	est := lightKappa(c)(everyone(c.n))[0]
	if math.IsNaN(est) {
		return k, nil
	}
	k.Estimate, k.Note = est, ""
	if work := float64(c.n) * float64(c.k*(c.k-1)/2) * float64(o.Sampling.Count()); work > 5e8 {
		k.Note = "no interval: the table is too large to bootstrap all pairs of raters"
		return k, nil
	}
	ivs, err := bySubjects(ctx, o, "light-kappa", c.n, func() statistic { return lightKappa(c) })
	if err != nil {
		return k, err
	}
	return k.promote(ivs[0]), nil
}
