package agreement

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"gonum.org/v1/gonum/stat"
	"tyro/analysis"
)

// Differences describes how far two raters (or methods, or live and video) are
// apart, in score units: mean difference and limits of agreement, the range
// that holds about 95 % of differences, each with its interval. Bland and
// Altman (1986), Lancet 327, 307-310; standard error of a limit from their
// 1999 paper, Statistical Methods in Medical Research 8, 135-160.
type Differences struct {
	N               int
	Mean, SD        float64
	Multiplier      float64 // of the SD; 1.96 for limits that hold 95 %
	MeanLower       float64
	MeanUpper       float64
	Lower, Upper    [3]float64 // limit, with the ends of its interval
	LimitSE         float64
	Slope           Slope   // of the difference on the mean of the two: proportional bias
	SpreadSlope     Slope   // of the absolute residual difference on the mean: spread that grows
	Between, Within float64 // variances of the difference, where trainees gave several pairs
	Repeated        bool
	Pairs           [][2]float64 // mean and difference of each subject
	Level           float64
	Note            string
	Err             error // input that cannot be used
}

// A Slope is a regression slope with its interval and test.
type Slope struct{ Estimate, Lower, Upper, P float64 }

// LimitsOfAgreement compares two columns of the same subjects. Columns of different
// lengths or a level outside of 0 to 1 (0 means 0.95) are told by Err.
func LimitsOfAgreement(x, y []float64, level float64) Differences {
	level, err := analysis.Level(level)
	if err = cmp.Or(err, checkColumns(len(x), len(y))); err != nil {
		return noDifferences(err)
	}
	d := Differences{Level: level, Multiplier: distuv.UnitNormal.Quantile(0.975)}
	var diff, mean []float64
	for i := range x {
		if !math.IsNaN(x[i]) && !math.IsNaN(y[i]) {
			diff, mean = append(diff, x[i]-y[i]), append(mean, (x[i]+y[i])/2)
			d.Pairs = append(d.Pairs, [2]float64{(x[i] + y[i]) / 2, x[i] - y[i]})
		}
	}
	d.N = len(diff)
	n := float64(d.N)
	d.Mean, d.SD = meanSD(diff)
	t := tQuantile(level, n-1)
	half := t * d.SD / math.Sqrt(n)
	d.MeanLower, d.MeanUpper = d.Mean-half, d.Mean+half
	d.LimitSE = d.SD * math.Sqrt(1/n+d.Multiplier*d.Multiplier/(2*(n-1)))
	d.place(d.SD, t)
	d.Slope = regress(mean, diff, level)
	away := make([]float64, len(diff))
	for i, v := range diff {
		away[i] = math.Abs(v - d.Mean)
		if !math.IsNaN(d.Slope.Estimate) {
			m, _ := meanSD(mean)
			away[i] = math.Abs(v - d.Mean - d.Slope.Estimate*(mean[i]-m))
		}
	}
	d.SpreadSlope = regress(mean, away, level)
	switch {
	case d.SD <= alike*farthest(x, y):
		d.withoutIntervals()
	case d.N < 3:
		d.Note = "fewer than 3 pairs"
	}
	return d
}

// alike is the spread of differences, as a share of the largest value, that is no more than rounding.
const alike = 1e-13

func farthest(columns ...[]float64) float64 {
	far := 0.0
	for _, c := range columns {
		for _, v := range c {
			if !math.IsNaN(v) {
				far = math.Max(far, math.Abs(v))
			}
		}
	}
	return far
}

// withoutIntervals is for differences that are all alike: what they have in common is known, and
// how much others would vary is not.
func (d *Differences) withoutIntervals() {
	nan := math.NaN()
	d.SD, d.LimitSE, d.MeanLower, d.MeanUpper = 0, nan, nan, nan
	d.Lower, d.Upper = [3]float64{d.Mean, nan, nan}, [3]float64{d.Mean, nan, nan}
	d.Slope, d.SpreadSlope = clustered(Slope{}), clustered(Slope{})
	d.Note = "no interval: the differences do not vary"
}

// noDifferences is for input that cannot be used.
func noDifferences(err error) Differences {
	nan := math.NaN()
	none, unknown := Slope{nan, nan, nan, nan}, [3]float64{nan, nan, nan}
	return Differences{
		Mean: nan, SD: nan, Multiplier: nan, MeanLower: nan, MeanUpper: nan, Lower: unknown, Upper: unknown, LimitSE: nan,
		Slope: none, SpreadSlope: none, Between: nan, Within: nan, Level: nan, Note: err.Error(), Err: err,
	}
}

func (d *Differences) place(sd, t float64) {
	for s, limit := range map[float64]*[3]float64{-1: &d.Lower, 1: &d.Upper} {
		at := d.Mean + s*d.Multiplier*sd
		*limit = [3]float64{at, at - t*d.LimitSE, at + t*d.LimitSE}
	}
}

// RepeatedLimits allows for several pairs of one trainee (groups[i] names who),
// whose true value may change from pair to pair: the variance of a difference is
// that between trainees plus that within. Bland and Altman (2007), Journal of
// Biopharmaceutical Statistics 17, 571-582, section 3; the intervals of the
// limits combine the variances' standard errors.
func RepeatedLimits(x, y []float64, groups []int, level float64) Differences {
	d := LimitsOfAgreement(x, y, level)
	if d.Err != nil {
		return d
	}
	if len(groups) != len(x) {
		return noDifferences(fmt.Errorf("%w: %d trainees named for %d pairs", ErrRatings, len(groups), len(x)))
	}
	level = d.Level
	var diff []float64
	by := map[int][]float64{}
	for i := range x {
		if !math.IsNaN(x[i]) && !math.IsNaN(y[i]) {
			diff = append(diff, x[i]-y[i])
			by[groups[i]] = append(by[groups[i]], x[i]-y[i])
		}
	}
	n, g := float64(len(diff)), float64(len(by))
	if d.SD == 0 {
		return d
	}
	if g < 2 || n <= g {
		d.Note = joined(d.Note, "no trainee has several pairs: limits for single pairs")
		return d
	}
	var between, within, sq float64
	for _, k := range slices.Sorted(maps.Keys(by)) { // in order, so that sums are the same in every run
		vs := by[k]
		m, _ := meanSD(vs)
		between += float64(len(vs)) * (m - d.Mean) * (m - d.Mean)
		sq += float64(len(vs) * len(vs))
		for _, v := range vs {
			within += (v - m) * (v - m)
		}
	}
	msb, msw := between/(g-1), within/(n-g)
	m0 := (n - sq/n) / (g - 1)
	d.Repeated = true
	d.Within, d.Between = msw, math.Max(0, (msb-msw)/m0)
	total := d.Within + d.Between
	sd := math.Sqrt(total)
	// Var(total) from the two mean squares; Var(mean) from the trainees.
	v := 2*math.Pow(msb/m0, 2)/(g-1) + 2*math.Pow((1-1/m0)*msw, 2)/(n-g)
	varMean := (sq/n*d.Between + d.Within) / n
	d.LimitSE = math.Sqrt(varMean + d.Multiplier*d.Multiplier*v/(4*total))
	d.SD = sd
	t := tQuantile(level, g-1)
	d.MeanLower, d.MeanUpper = d.Mean-t*math.Sqrt(varMean), d.Mean+t*math.Sqrt(varMean)
	d.place(sd, t)
	d.Slope, d.SpreadSlope = clustered(d.Slope), clustered(d.SpreadSlope)
	return d
}

// clustered drops interval and test, which take pairs as independent.
func clustered(s Slope) Slope { return Slope{s.Estimate, math.NaN(), math.NaN(), math.NaN()} }

// WithinSD is the standard deviation of one rater's repeated ratings of the
// same subject, from two ratings each: √(Σd²/2n). Bland and Altman (1986). It
// panics on columns of different lengths.
func WithinSD(x, y []float64) float64 {
	if err := checkColumns(len(x), len(y)); err != nil {
		panic("agreement: " + err.Error())
	}
	ss, n := 0.0, 0.0
	for i := range x {
		if d := x[i] - y[i]; !math.IsNaN(d) {
			ss += d * d
			n++
		}
	}
	return math.Sqrt(ss / (2 * n))
}

// regress is the least-squares slope of y on x with its t interval.
func regress(x, y []float64, level float64) Slope {
	nan := Slope{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	n := float64(len(x))
	_, sx := meanSD(x)
	if n < 3 || !(sx > 0) {
		return nan
	}
	at, slope := stat.LinearRegression(x, y, nil, false)
	s := Slope{Estimate: slope}
	sxx, rss := (n-1)*sx*sx, 0.0
	for i := range x {
		e := y[i] - at - slope*x[i]
		rss += e * e
	}
	se := math.Sqrt(rss / (n - 2) / sxx)
	t := tQuantile(level, n-2)
	s.Lower, s.Upper = s.Estimate-t*se, s.Estimate+t*se
	s.P = 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 2}.Survival(math.Abs(s.Estimate/se))
	if se == 0 {
		s.P = math.NaN()
	}
	return s
}

func meanSD(vs []float64) (mean, sd float64) { return stat.MeanStdDev(vs, nil) }

// tQuantile is the two-sided Student quantile, NaN without degrees of freedom.
func tQuantile(level, df float64) float64 {
	if !(df > 0) {
		return math.NaN()
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile((1 + level) / 2)
}
