package survival

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// A Test is a chi-square test. Between groups it also has, by group, the
// weighted numbers of events observed and expected, and the variance of their
// difference.
type Test struct {
	ChiSquare float64
	DF        int
	P         float64

	Observed, Expected []float64
	Variance           [][]float64

	Err error // what was wrong with the input; nothing is then tested
}

func chiSquareTest(value float64, df int) Test {
	t := Test{ChiSquare: value, DF: df, P: math.NaN()}
	if df > 0 {
		t.P = distuv.ChiSquared{K: float64(df)}.Survival(value)
	}
	return t
}

// Weights are the exponents of S(t−)^Rho · (1 − S(t−))^Gamma, with S the
// estimate of all groups together just before t (Fleming and Harrington, 1991,
// Counting Processes and Survival Analysis, section 7.2). The zero value is
// the log-rank test; Rho 1 looks at early differences, Gamma 1 at late ones.
type Weights struct{ Rho, Gamma float64 }

// LogRank tests whether two or more groups share one survival curve. P is NaN
// when nothing can be tested.
func LogRank(groups [][]Observation) Test {
	return WeightedLogRank([][][]Observation{groups}, Weights{})
}

// WeightedLogRank is the log-rank test with weights and strata: strata[s][g]
// are the observations of group g in stratum s, and every stratum lists the
// same groups in the same order (a group may be empty there). Differences and
// variances are added over strata, and the weights follow each stratum's own
// curve. The variance is hypergeometric, as ties ask. Strata with different numbers
// of groups, weights that are negative or no numbers, and times that are no numbers
// are told by Err.
func WeightedLogRank(strata [][][]Observation, w Weights) Test {
	if len(strata) == 0 {
		return chiSquareTest(0, 0)
	}
	k := len(strata[0])
	if err := checkStrata(strata, w); err != nil {
		return Test{ChiSquare: math.NaN(), P: math.NaN(), Err: err}
	}
	sum := newContrast(k)
	for _, groups := range strata {
		sum.add(groups, w)
	}
	diff := make([]float64, k)
	for g := range diff {
		diff[g] = sum.observed[g] - sum.expected[g]
	}
	t := chiSquareTest(quadratic(diff, sum.variance))
	t.Observed, t.Expected, t.Variance = sum.observed, sum.expected, sum.variance
	return t
}

func checkStrata(strata [][][]Observation, w Weights) error {
	if !(w.Rho >= 0) || !(w.Gamma >= 0) || math.IsInf(w.Rho, 1) || math.IsInf(w.Gamma, 1) {
		return fmt.Errorf("weights with exponents %v and %v: expected two numbers from 0 on", w.Rho, w.Gamma)
	}
	for s, groups := range strata {
		if len(groups) != len(strata[0]) {
			return fmt.Errorf("stratum %d has %d groups, the first has %d", s+1, len(groups), len(strata[0]))
		}
		for g, obs := range groups {
			if err := checkTimes(obs); err != nil {
				return fmt.Errorf("stratum %d, group %d: %w", s+1, g+1, err)
			}
		}
	}
	return nil
}

// A contrast adds up events against what one shared curve expects.
type contrast struct {
	observed, expected []float64
	variance           [][]float64
}

func newContrast(k int) contrast {
	c := contrast{make([]float64, k), make([]float64, k), make([][]float64, k)}
	for g := range c.variance {
		c.variance[g] = make([]float64, k)
	}
	return c
}

func (c *contrast) add(groups [][]Observation, w Weights) {
	s := 1.0 // all groups together, just before t
	for _, t := range eventTimes(groups) {
		atRisk, events := make([]float64, len(groups)), make([]float64, len(groups))
		n, d := 0.0, 0.0
		for g, obs := range groups {
			for _, o := range obs {
				if o.Time >= t {
					atRisk[g]++
				}
				if o.Event && o.Time == t {
					events[g]++
				}
			}
			n += atRisk[g]
			d += events[g]
		}
		weight := math.Pow(s, w.Rho) * math.Pow(1-s, w.Gamma)
		spread := 0.0
		if n > 1 {
			spread = weight * weight * d * (n - d) / (n - 1)
		}
		for i := range groups {
			c.observed[i] += weight * events[i]
			c.expected[i] += weight * d * atRisk[i] / n
			for j := range groups {
				same := 0.0
				if i == j {
					same = 1
				}
				c.variance[i][j] += spread * atRisk[i] / n * (same - atRisk[j]/n)
			}
		}
		s *= 1 - d/n
	}
}

// eventTimes lists the distinct times with an event in any group.
func eventTimes(groups [][]Observation) []float64 {
	var times []float64
	for _, g := range groups {
		for _, o := range g {
			if o.Event {
				times = append(times, o.Time)
			}
		}
	}
	slices.Sort(times)
	return slices.Compact(times)
}
