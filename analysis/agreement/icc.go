package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// continuous adds the intraclass correlations.
func (s *Summary) continuous(r Ratings, o Options) {
	full := r.complete()
	if dropped := len(r) - len(full); dropped > 0 {
		s.warn("incomplete-subjects", fmt.Sprintf("intraclass correlations use the %d subjects that every rater rated; %d with a gap are left out of them", len(full), dropped))
	}
	s.Coefficients = append(s.Coefficients, ICC(full, o.level())...)
}

// ICC computes six intraclass correlations from a complete table: (1) one-way,
// (a) two-way for absolute agreement, (c) two-way for consistency, each for a
// single rating and for the mean of k. Shrout and Fleiss (1979), Psychological
// Bulletin 86, 420-428, who number them (1), (2) and (3); names and intervals
// as in McGraw and Wong (1996), Psychological Methods 1, 30-46.
func ICC(r Ratings, level float64) []Coefficient {
	names := []string{"icc(1,1)", "icc(a,1)", "icc(c,1)", "icc(1,k)", "icc(a,k)", "icc(c,k)"}
	out := make([]Coefficient, len(names))
	for i, name := range names {
		out[i] = Coefficient{Name: name, Estimate: math.NaN(), SE: math.NaN(), Lower: math.NaN(), Upper: math.NaN(), Level: level}
	}
	t := anova(r)
	if t.n < 2 || t.k < 2 {
		for i := range out {
			out[i].Note = "not defined: fewer than 2 subjects rated by all of at least 2 raters"
		}
		return out
	}
	if t.between == 0 && t.within == 0 {
		for i := range out {
			out[i].Note = notDefined
		}
		return out
	}
	n, k := float64(t.n), float64(t.k)
	set := func(i int, est, lo, hi float64, method string) {
		out[i].Estimate, out[i].Lower, out[i].Upper, out[i].Method = est, lo, hi, method
	}
	const exact = "exact F"
	alpha := (1 - level) / 2
	// One-way.
	f := t.between / t.within
	fl, fu := f/fQuantile(1-alpha, n-1, n*(k-1)), f*fQuantile(1-alpha, n*(k-1), n-1)
	set(0, (t.between-t.within)/(t.between+(k-1)*t.within), (fl-1)/(fl+k-1), (fu-1)/(fu+k-1), exact)
	set(3, (t.between-t.within)/t.between, 1-1/fl, 1-1/fu, exact)
	// Two-way, consistency.
	f = t.between / t.residual
	fl, fu = f/fQuantile(1-alpha, n-1, (n-1)*(k-1)), f*fQuantile(1-alpha, (n-1)*(k-1), n-1)
	set(2, (t.between-t.residual)/(t.between+(k-1)*t.residual), (fl-1)/(fl+k-1), (fu-1)/(fu+k-1), exact)
	set(5, (t.between-t.residual)/t.between, 1-1/fl, 1-1/fu, exact)
	// Two-way, absolute agreement.
	a := (t.between - t.residual) / (t.between + (k-1)*t.residual + k/n*(t.raters-t.residual))
	lo, hi := t.agreementLimits(a, alpha)
	stepUp := func(v float64) float64 { return k * v / (1 + (k-1)*v) }
	const approximate = "F with Satterthwaite degrees of freedom"
	set(1, a, lo, hi, approximate)
	set(4, (t.between-t.residual)/(t.between+(t.raters-t.residual)/n), stepUp(lo), stepUp(hi), approximate)
	for i := range out {
		out[i] = tidy(out[i])
	}
	return out
}

// tidy replaces infinities, which arise when raters agree perfectly, by what
// they mean.
func tidy(c Coefficient) Coefficient {
	if math.IsNaN(c.Estimate) || math.IsInf(c.Estimate, 0) {
		c.Estimate, c.Note = math.NaN(), notDefined
	}
	if math.IsNaN(c.Lower) || math.IsNaN(c.Upper) || math.IsInf(c.Lower, 0) || math.IsInf(c.Upper, 0) {
		c.Lower, c.Upper, c.Method = math.NaN(), math.NaN(), ""
		if c.Note == "" {
			c.Note = "no interval: there is no residual variation"
		}
	}
	return c
}

// meanSquares of a complete two-way table.
type meanSquares struct {
	n, k                              int
	between, within, raters, residual float64
}

func anova(r Ratings) meanSquares {
	t := meanSquares{n: len(r), k: r.raters()}
	if t.n < 2 || t.k < 2 {
		return t
	}
	n, k := float64(t.n), float64(t.k)
	origin := r[0][0] // deviations from it keep equal ratings exactly equal
	grand := 0.0
	cols := make([]float64, t.k)
	for _, row := range r {
		for j, v := range row {
			grand += (v - origin) / (n * k)
			cols[j] += (v - origin) / n
		}
	}
	var ssRow, ssCol, ssWithin float64
	for _, row := range r {
		mean := 0.0
		for _, v := range row {
			mean += (v - origin) / k
		}
		ssRow += k * (mean - grand) * (mean - grand)
		for _, v := range row {
			d := v - origin - mean
			ssWithin += d * d
		}
	}
	for _, c := range cols {
		ssCol += n * (c - grand) * (c - grand)
	}
	t.between, t.within = ssRow/(n-1), ssWithin/(n*(k-1))
	t.raters = ssCol / (k - 1)
	t.residual = math.Max(0, ssWithin-ssCol) / ((n - 1) * (k - 1))
	return t
}

// agreementLimits are the limits of icc(a,1).
func (t meanSquares) agreementLimits(icc, alpha float64) (lower, upper float64) {
	n, k := float64(t.n), float64(t.k)
	f := t.raters / t.residual
	u := n * (1 + (k-1)*icc) // with k·icc·F, the weights of the denominator's mean squares
	v := k*icc*f + u - k*icc
	df := (k - 1) * (n - 1) * v * v / ((n-1)*k*k*icc*icc*f*f + (u-k*icc)*(u-k*icc))
	fl := fQuantile(1-alpha, n-1, df)
	fu := fQuantile(1-alpha, df, n-1)
	mixed := k*t.raters + (k*n-k-n)*t.residual
	lower = n * (t.between - fl*t.residual) / (fl*mixed + n*t.between)
	upper = n * (fu*t.between - t.residual) / (mixed + n*fu*t.between)
	return lower, upper
}

func fQuantile(p, d1, d2 float64) float64 {
	if !(d1 > 0) || !(d2 > 0) || math.IsInf(d1, 0) || math.IsInf(d2, 0) {
		return math.NaN()
	}
	return distuv.F{D1: d1, D2: d2}.Quantile(p)
}
