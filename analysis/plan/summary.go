package plan

import (
	"math"
	"slices"

	"tyro/analysis/monitor"
	"tyro/analysis/resample"
)

// A Row is what the simulated studies of one design gave.
type Row struct {
	Trainees, Other, Attempts int
	People                    int // of all arms
	Studies                   int
	Gave                      int // of them, those that gave what was asked for
	Failed                    int // of them, those in which something failed
	At                        map[Stage]int
	Refused                   bool // too many failed for a power

	// Power is the share of studies that gave what was asked for; Lower and Upper are the
	// interval of the simulation at 95 %. NaN where refused: then Least takes all failed
	// studies as missing, and Most as giving, what was asked for.
	Power, Lower, Upper float64
	Least, Most         float64

	Estimate float64 // the middle one of the studies
	Ratio    bool
	// WidthMean is the mean width of the intervals (geometric for a ratio; +Inf where some
	// have no end), WidthMedian the middle one, Width90 that which 90 % of studies stay below.
	WidthMean, WidthMedian, Width90 float64
	Coverage                        float64 // share of intervals that hold the truth; NaN where it is not known
	Truth                           float64 // by the assumptions; NaN where not worked out
	Made                            float64 // mean attempts made by all trainees
	Cost                            float64 // of these attempts and all trainees; NaN where no costs are stated
	Formula                         *Formula
	Freedman                        float64 // power by the other formula for a log-rank test; NaN elsewhere
}

// simulationLevel is the level of the interval that says how far a simulated share may be
// off.
const simulationLevel = 0.95

// Gave reports whether a study gave what its design asks for.
func (d Design) Gave(o Outcome) bool {
	if o.Failed != "" {
		return false
	}
	if d.Width > 0 {
		return o.Width() <= d.Width
	}
	level := d.Level
	if level == 0 {
		level = 0.95
	}
	if d.Margin != nil && d.Margin.NonInferior {
		return float64(o.P) < (1-level)/2 // one-sided
	}
	return float64(o.P) < 1-level
}

// Summarise says what the outcomes of a design's studies come to.
func Summarise(d Design, outcomes []Outcome) Row {
	nan := math.NaN()
	row := Row{
		Trainees: d.Trainees, Other: d.Other(), People: d.People(), Attempts: d.Attempts, Studies: len(outcomes), At: map[Stage]int{},
		Power: nan, Lower: nan, Upper: nan, Least: nan, Most: nan, Estimate: nan, WidthMean: nan, WidthMedian: nan, Width90: nan, Coverage: nan, Truth: nan, Made: nan, Cost: nan, Freedman: nan,
	}
	if q, err := d.ready(); err == nil {
		row.Truth, row.Formula, row.Freedman = q.truth(), q.formula(), Freedman(d)
	}
	var widths []float64
	var estimates []float64
	covered, made := 0, 0
	for _, o := range outcomes {
		made += o.Made
		if o.Failed != "" {
			row.Failed++
			row.At[o.Failed]++
			continue
		}
		row.Ratio = o.Ratio
		if d.Gave(o) {
			row.Gave++
		}
		if math.IsNaN(float64(o.Estimate)) { // of several arms there is none
			continue
		}
		estimates = append(estimates, float64(o.Estimate))
		widths = append(widths, o.Width())
		if float64(o.Lower) <= row.Truth && row.Truth <= float64(o.Upper) {
			covered++
		}
	}
	n := float64(len(outcomes))
	if n == 0 {
		return row
	}
	row.Made = float64(made) / n
	row.Refused = float64(row.Failed) > MaxFailed*n
	row.Least, row.Most = float64(row.Gave)/n, float64(row.Gave+row.Failed)/n
	if !row.Refused {
		row.Power = row.Least
		b := monitor.FixedTime(row.Gave, len(outcomes), simulationLevel)
		row.Lower, row.Upper = b.Lower, b.Upper
	}
	if len(widths) == 0 {
		return row
	}
	known := float64(len(widths))
	slices.Sort(estimates)
	slices.Sort(widths)
	row.Estimate = resample.Quantile(estimates, 0.5)
	row.WidthMean = meanWidth(widths, row.Ratio)
	row.WidthMedian, row.Width90 = resample.Quantile(widths, 0.5), resample.Quantile(widths, 0.9)
	if !math.IsNaN(row.Truth) {
		row.Coverage = float64(covered) / known
	}
	return row
}

func meanWidth(widths []float64, ratio bool) float64 {
	sum := 0.0
	for _, w := range widths {
		if ratio {
			w = math.Log(w)
		}
		sum += w / float64(len(widths))
	}
	if ratio {
		return math.Exp(sum)
	}
	return sum
}
