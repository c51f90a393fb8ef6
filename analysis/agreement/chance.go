package agreement

import (
	"math"
)

// A chance says what agreement is expected by chance.
type chance int

const (
	noChance chance = iota // none: the observed agreement itself
	uniform                // every category as likely: Brennan and Prediger (1981), Educational and Psychological Measurement 41, 687-699
	pooled                 // the raters' pooled shares: Scott (1955), Public Opinion Quarterly 19, 321-325; Fleiss (1971), Psychological Bulletin 76, 378-382
	perRater               // each rater's own shares: Cohen (1960), Educational and Psychological Measurement 20, 37-46; Conger (1980), Psychological Bulletin 88, 322-328
	gwet                   // shares of the hard-to-rate: Gwet (2008), British Journal of Mathematical and Statistical Psychology 61, 29-48
)

// margins are the sums over subjects that every coefficient here is made of.
type margins struct {
	agree  float64     // sum of the agreements of subjects rated twice or more
	paired float64     // their number
	n      float64     // subjects rated at all
	shares []float64   // mean share of each category over them
	rater  [][]float64 // [rater][category] shares
	ratedN []float64   // subjects of each rater
}

func newMargins(c coded) *margins {
	m := &margins{shares: make([]float64, len(c.cats)), ratedN: make([]float64, c.k)}
	for range c.k {
		m.rater = append(m.rater, make([]float64, len(c.cats)))
	}
	return m
}

// of fills the margins from the subjects drawn.
func (m *margins) of(c coded, agreements []float64, draw []int) {
	m.agree, m.paired, m.n = 0, 0, float64(len(draw))
	clear(m.shares)
	clear(m.ratedN)
	for g := range m.rater {
		clear(m.rater[g])
	}
	for _, i := range draw {
		if c.rated[i] >= 2 {
			m.agree += agreements[i]
			m.paired++
		}
		for q, s := range c.shares[i] {
			m.shares[q] += s
		}
		for g, code := range c.codes[i] {
			if code >= 0 {
				m.rater[g][code]++
				m.ratedN[g]++
			}
		}
	}
	for q := range m.shares {
		m.shares[q] /= m.n
	}
	for g := range m.rater {
		for q := range m.rater[g] {
			m.rater[g][q] /= math.Max(1, m.ratedN[g])
		}
	}
}

func (m *margins) observed() float64 {
	if m.paired == 0 {
		return math.NaN()
	}
	return m.agree / m.paired
}

// expected is the agreement by chance under the weights.
func (m *margins) expected(by chance, w [][]float64) float64 {
	q := float64(len(w))
	switch by {
	case uniform:
		return total(w) / (q * q)
	case pooled:
		return quadratic(w, m.shares, m.shares)
	case gwet:
		sum := 0.0
		for _, p := range m.shares {
			sum += p * (1 - p)
		}
		return total(w) / (q * (q - 1)) * sum
	case perRater:
		pe, k := 0.0, 0.0
		all := make([]float64, len(w))
		for g, p := range m.rater {
			if m.ratedN[g] == 0 {
				continue
			}
			k++
			pe -= quadratic(w, p, p)
			for i, v := range p {
				all[i] += v
			}
		}
		return (pe + quadratic(w, all, all)) / (k * (k - 1))
	}
	return 0
}

// coefficient is (observed − expected)/(1 − expected), NaN where chance alone
// agrees fully.
func (m *margins) coefficient(by chance, w [][]float64) float64 {
	pe := m.expected(by, w)
	if len(w) < 2 && by != noChance || !(1-pe > 1e-12) {
		return math.NaN()
	}
	return (m.observed() - pe) / (1 - pe)
}

func total(w [][]float64) float64 {
	sum := 0.0
	for _, row := range w {
		for _, v := range row {
			sum += v
		}
	}
	return sum
}

func quadratic(w [][]float64, a, b []float64) float64 {
	sum := 0.0
	for i, row := range w {
		for j, v := range row {
			sum += v * a[i] * b[j]
		}
	}
	return sum
}

// standardError is the linearised standard error of a coefficient, conditional
// on the raters: √(Σ(value_i − estimate)²/(n(n−1))), value_i being what subject
// i adds. Gwet (2008), British Journal of Mathematical and Statistical
// Psychology 61, 29-48; Gwet (2014), Handbook of Inter-Rater Reliability, 4th
// edition, chapter 5, for weights and missing ratings.
func standardError(c coded, agreements []float64, by chance, w [][]float64) float64 {
	m := newMargins(c)
	m.of(c, agreements, everyone(c.n))
	pe := m.expected(by, w)
	est := m.coefficient(by, w)
	expected := c.expectedBySubject(m, by, w)
	n := float64(c.n)
	sum := 0.0
	for i := range c.n {
		value := 0.0
		if c.rated[i] >= 2 {
			value = n / m.paired * (agreements[i] - pe) / (1 - pe)
		}
		value -= 2 * (1 - est) * (expected[i] - pe) / (1 - pe)
		sum += (value - est) * (value - est)
	}
	return math.Sqrt(sum / (n * (n - 1)))
}

// expectedBySubject is half the first-order effect of each subject on the
// expected agreement, about that expectation.
func (c coded) expectedBySubject(m *margins, by chance, w [][]float64) []float64 {
	q := len(w)
	out := make([]float64, c.n)
	slope := make([]float64, q) // what a share of category a adds
	base := m.expected(by, w)
	switch by {
	case pooled:
		for a := range q {
			for b := range q {
				slope[a] += (w[a][b] + w[b][a]) / 2 * m.shares[b]
			}
		}
	case gwet:
		for a := range q {
			slope[a] = total(w) / float64(q*(q-1)) * (1 - m.shares[a])
		}
	case perRater:
		return c.expectedByRater(m, w, base)
	default:
		for i := range out {
			out[i] = base
		}
		return out
	}
	for i, shares := range c.shares {
		for a, s := range shares {
			out[i] += slope[a] * s
		}
	}
	return out
}

func (c coded) expectedByRater(m *margins, w [][]float64, base float64) []float64 {
	q := len(w)
	all, k := make([]float64, q), 0.0
	for g, p := range m.rater {
		if m.ratedN[g] > 0 {
			k++
		}
		for a, v := range p {
			all[a] += v
		}
	}
	slope := make([][]float64, c.k) // [rater][category]
	centre := make([]float64, c.k)
	for g, p := range m.rater {
		slope[g] = make([]float64, q)
		for a := range q {
			for b := range q {
				slope[g][a] += (w[a][b] + w[b][a]) / 2 * (all[b] - p[b])
			}
			centre[g] += slope[g][a] * p[a]
		}
	}
	out := make([]float64, c.n)
	for i, codes := range c.codes {
		out[i] = base
		for g, code := range codes {
			if code >= 0 {
				out[i] += float64(c.n) / m.ratedN[g] * (slope[g][code] - centre[g]) / (k * (k - 1))
			}
		}
	}
	return out
}
