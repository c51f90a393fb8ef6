package datasets

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

const (
	// mostRanked is how many of a trainee's attempts, and of how many trainees, are held against each
	// other; in files of more trainees, which programs write, nobody pastes or drags down.
	mostRanked, mostRankedSeries = 40, 1000
	// surelyWorse is how many standard deviations above chance makes a trend worth a word.
	surelyWorse = 3.3
	// worseByName is the same for a score that by its name is a time.
	worseByName = 2.0
)

// trend is how surely a measure rises from attempt to attempt, over all trainees at a task: the sum
// of Kendall's S over its standard deviation under no trend (Kendall 1938), and how many series
// have one.
func (r *logReader) trend(log *Log, task string, j int) (z float64, series int) {
	var t trendSum
	for _, rows := range r.seriesOf(task) {
		var vs []float64
		at := slices.Clone(rows[:min(len(rows), mostRanked)])
		slices.SortStableFunc(at, func(a, b int32) int { return cmp.Compare(log.Attempts[a].Number, log.Attempts[b].Number) })
		for _, i := range at {
			if v := log.Values(log.Attempts[i])[j]; !math.IsNaN(v) && log.Attempts[i].Outcome == Done {
				vs = append(vs, v)
			}
		}
		if t.add(vs); t.series == mostRankedSeries {
			break
		}
	}
	return t.z(), t.series
}

// A trendSum adds up the trends of series.
type trendSum struct {
	sum      int
	variance float64
	series   int
}

// add adds a series of three numbers or more.
func (t *trendSum) add(vs []float64) {
	if len(vs) < 3 {
		return
	}
	for k, v := range vs {
		for _, w := range vs[:k] {
			t.sum += cmp.Compare(v, w)
		}
	}
	t.variance += pairVariance(len(vs))
	vs = slices.Sorted(slices.Values(vs))
	for from, k := 0, 1; k <= len(vs); k++ { // less for numbers that are tied
		if k == len(vs) || vs[k] != vs[from] {
			t.variance -= pairVariance(k - from)
			from = k
		}
	}
	t.series++
}

func (t *trendSum) z() float64 {
	if t.variance <= 0 {
		return 0
	}
	return float64(t.sum) / math.Sqrt(t.variance)
}

// pairVariance is the variance of S of so many numbers without ties.
func pairVariance(numbers int) float64 {
	n := float64(numbers)
	return n * (n - 1) * (2*n + 5) / 18
}

// getsWorse notes a measure that gets worse with practice in trainees taken together, as the time
// that is left does, errors counted as points, and attempts numbered from the last to the first.
func (r *logReader) getsWorse(log *Log) {
	for _, t := range r.study.Tasks {
		j := slices.Index(r.measures, t.Column)
		if j < 0 || slices.ContainsFunc(r.notes, func(n Note) bool { return n.Code == "times-only-rise" || n.Code == "time-left" }) {
			continue
		}
		z, series := r.trend(log, t.Name, j)
		way := "rises"
		if !t.LowerIsBetter() {
			z, way = -z, "falls"
		}
		least := float64(surelyWorse)
		if t.Measure == Score && headUnit(t.Column) != "" {
			least = worseByName
		}
		if series < 2 || z < least {
			continue
		}
		why := "where less is better say --better lower (in a study file: better)"
		if t.Measure == Time || t.LowerIsBetter() {
			why = "where it is the time that was left, or a running total, put the time of each attempt into the table"
		}
		if t.Measure == PassFail {
			why = "where 1 stands for a fail say --same 1=0 and the like (in a study file: same)"
		}
		r.note("gets-worse", fmt.Sprintf("%s: column %s %s from attempt to attempt in trainees taken together, so that they get worse with practice; %s; where attempts are numbered from the last to the first, turn their numbers round", r.file, t.Column, way, why))
	}
}
