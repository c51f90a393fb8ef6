package standard

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis"
	"tyro/analysis/resample"
)

// A Line is a borderline regression: the value expected of a trainee with the
// borderline rating.
type Line struct {
	Estimate
	Intercept, Slope, RSquared, ResidualSD float64
	DF                                     int
	MeanRating, RatingSquares              float64 // mean, and sum of squares about it
	BootstrapSE                            float64 // resampling whole trainees
	BootstrapLower, BootstrapUpper         float64 // percentile interval of the same
	Replicates                             int
}

// A BorderlineRule says how a standard follows from ratings.
type BorderlineRule struct {
	At        float64 // the rating that means borderline; higher ratings are better
	Lower     bool    // smaller values are better
	Level     float64 // 0 means 0.95
	UseMedian bool    // of the borderline group: the median in place of the mean
}

// errSingular is returned for a regression whose covariate does not vary.
var errSingular = errors.New("the ratings do not vary, so no line can be fitted")

// complete keeps the trainees with both a value and a rating.
func complete(values, ratings []float64) (x, y []float64, err error) {
	if len(values) != len(ratings) {
		return nil, nil, fmt.Errorf("%d values for %d ratings", len(values), len(ratings))
	}
	for i, v := range values {
		if !math.IsNaN(v) && !math.IsNaN(ratings[i]) {
			x, y = append(x, ratings[i]), append(y, v)
		}
	}
	return x, y, nil
}

// BorderlineRegression is the least squares line of value on rating, read at
// the borderline rating, with the standard error of a mean at that rating and a
// t interval. The bootstrap of trainees beside it does without equal spread at
// all ratings. A line on which trainees rated higher have the worse values brings
// the warning ratings-reversed.
func BorderlineRegression(ctx context.Context, values, ratings []float64, r BorderlineRule, sampling resample.Sampling) (Line, error) {
	x, y, err := complete(values, ratings)
	if err != nil {
		return Line{}, err
	}
	level, err := analysis.Level(r.Level)
	if err != nil {
		return Line{}, err
	}
	borderline := r.At
	l := Line{Estimate: unknown(len(x), level), BootstrapSE: math.NaN(), BootstrapLower: math.NaN(), BootstrapUpper: math.NaN()}
	if len(x) < 3 {
		return l, fmt.Errorf("borderline regression needs at least 3 trainees with value and rating; there are %d", len(x))
	}
	slope, sxx := regress(x, y)
	if !(sxx > 0) {
		return l, errSingular
	}
	mx, my := mean(x), mean(y)
	l.MeanRating, l.RatingSquares = mx, sxx
	l.Slope, l.Intercept, l.DF = slope, my-slope*mx, len(x)-2
	rss, tss := 0.0, 0.0
	for i := range x {
		rss += square(y[i] - my - slope*(x[i]-mx))
		tss += square(y[i] - my)
	}
	l.RSquared = 1 - rss/tss
	l.ResidualSD = math.Sqrt(rss / float64(l.DF))
	l.Value, l.Interval = my+slope*(borderline-mx), "t"
	l.SE = l.ErrorAt(borderline)
	half := l.HalfWidth(borderline)
	l.Lower, l.Upper = l.Value-half, l.Value+half
	l.warnReversed(slope, r.Lower)
	if low, high := sorted(x)[0], sorted(x)[len(x)-1]; borderline < low || borderline > high {
		l.warn("borderline-outside", fmt.Sprintf("the borderline rating %g is outside the ratings given (%g to %g), so the line is carried beyond the data", borderline, low, high))
	}
	return l, l.bootstrap(ctx, x, y, borderline, sampling)
}

// warnReversed warns where the line of values on ratings runs against the measure: where it
// falls though larger values are better, or rises though smaller ones are.
func (e *Estimate) warnReversed(slope float64, lower bool) {
	better, runs := "larger", "falls"
	if lower {
		better, runs = "smaller", "rises"
	}
	if lower && slope > 0 || !lower && slope < 0 {
		e.warn("ratings-reversed", fmt.Sprintf("trainees rated higher have the worse values on average (%s values are better, and the line %s by %.4g a rating point); look at the direction of the measure and of the ratings", better, runs, math.Abs(slope)))
	}
}

// ErrorAt is the standard error of the line at a rating.
func (l Line) ErrorAt(rating float64) float64 {
	return l.ResidualSD * math.Sqrt(1/float64(l.N)+square(rating-l.MeanRating)/l.RatingSquares)
}

// HalfWidth is half of the t interval of the line at a rating.
func (l Line) HalfWidth(rating float64) float64 {
	return tQuantile(l.Level, float64(l.DF)) * l.ErrorAt(rating)
}

// regress is the slope and the sum of squares of x about its mean.
func regress(x, y []float64) (slope, sxx float64) {
	mx, my := mean(x), mean(y)
	sxy := 0.0
	for i := range x {
		sxx += square(x[i] - mx)
		sxy += (x[i] - mx) * (y[i] - my)
	}
	return sxy / sxx, sxx
}

func (l *Line) bootstrap(ctx context.Context, x, y []float64, borderline float64, sampling resample.Sampling) error {
	reps, err := resample.Replicate(ctx, sampling, "standard/borderline-regression", func() func(*rand.Rand) float64 {
		idx, u, v := make([]int, len(x)), make([]float64, len(x)), make([]float64, len(x))
		return func(r *rand.Rand) float64 {
			for i, j := range resample.Indices(r, idx, len(x)) {
				u[i], v[i] = x[j], y[j]
			}
			slope, _ := regress(u, v) // NaN when all ratings drawn are equal
			return mean(v) + slope*(borderline-mean(u))
		}
	})
	if err != nil {
		return err
	}
	var usable []float64
	for _, v := range reps {
		if !math.IsNaN(v) {
			usable = append(usable, v)
		}
	}
	iv := resample.PercentileInterval(reps, l.Level)
	l.BootstrapSE, l.BootstrapLower, l.BootstrapUpper, l.Replicates = sd(usable), iv.Lower, iv.Upper, iv.Replicates
	return nil
}

// A Borderline is a standard from the trainees rated borderline alone.
type Borderline struct {
	Estimate
	Mean, MeanSE             float64
	Median, MedianSE         float64
	MedianLower, MedianUpper float64
}

// BorderlineGroup is the mean value of the trainees with the borderline rating
// with its t interval, and beside it their median with order-statistic limits.
// Livingston and Zieky (1982) take the median, many examiners the mean:
// the rule says which is the standard. The warning ratings-reversed is that of
// [BorderlineRegression], from all trainees with a rating.
func BorderlineGroup(values, ratings []float64, r BorderlineRule) (Borderline, error) {
	x, y, err := complete(values, ratings)
	if err != nil {
		return Borderline{}, err
	}
	var group []float64
	for i, v := range y {
		if x[i] == r.At {
			group = append(group, v)
		}
	}
	b := Borderline{Estimate: unknown(len(group), r.Level)}
	if len(group) == 0 {
		return b, fmt.Errorf("no trainee has the borderline rating %g", r.At)
	}
	asExperts := ExpertRule{Level: r.Level}
	byMean, err := ExpertMean(group, asExperts)
	if err != nil {
		return b, err
	}
	byMedian, err := ExpertPercentile(group, 0.5, asExperts)
	if err != nil {
		return b, err
	}
	b.Estimate = byMean.Estimate
	if r.UseMedian {
		b.Estimate = byMedian.Estimate
	}
	b.Warnings = nil
	b.Mean, b.MeanSE, b.Median, b.MedianSE = byMean.Value, byMean.SE, byMedian.Value, byMedian.SE
	b.MedianLower, b.MedianUpper = byMedian.Lower, byMedian.Upper
	slope, _ := regress(x, y) // NaN where all ratings are equal
	b.warnReversed(slope, r.Lower)
	if len(group) < 10 {
		are := "trainees are"
		if len(group) == 1 {
			are = "trainee is"
		}
		b.warn("few-borderline", fmt.Sprintf("only %d %s rated borderline; borderline regression uses the trainees with all ratings", len(group), are))
	}
	return b, nil
}
