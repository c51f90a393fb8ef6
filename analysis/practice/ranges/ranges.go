// Package ranges says which values every number that people give may have, in a study
// file, in a table's cell or on the command line: one range for each, whoever reads it.
package ranges

import (
	"fmt"
	"math"
	"strconv"
)

// A Range says which values a number that people give may have. Every such number,
// in a study file, in a table's cell or on the command line, has one of those below.
type Range struct {
	Name     string  // what the number is called
	Min, Max float64 // ends, in the number's own unit; both finite
	OpenMin  bool    // Min itself is not allowed
	OpenMax  bool    // Max itself is not allowed
	Whole    bool    // whole numbers only
	Meaning  string  // what the number means, with its unit
}

// A RangeError is a value outside its range.
type RangeError struct {
	Value float64
	Range Range
}

// Error says the value, the range and what the number means.
func (e RangeError) Error() string {
	return fmt.Sprintf("%s is out of range: expected %s", shortest(e.Value), e.Range)
}

// Check is nil for a value within the range, and a RangeError for any other, NaN and
// infinities among them.
func (r Range) Check(v float64) error {
	switch {
	case !(v >= r.Min && v <= r.Max), r.OpenMin && v == r.Min, r.OpenMax && v == r.Max, r.Whole && v != math.Trunc(v):
		return RangeError{v, r}
	}
	return nil
}

// String is the range and its meaning as a clause: "a whole number from 1 to 2000
// (horizon: attempts looked ahead at most)".
func (r Range) String() string {
	kind := "a number"
	if r.Whole {
		kind = "a whole number"
	}
	ends := fmt.Sprintf("from %s to %s", shortest(r.Min), shortest(r.Max))
	switch {
	case r.OpenMin && r.OpenMax:
		ends = fmt.Sprintf("between %s and %s", shortest(r.Min), shortest(r.Max))
	case r.OpenMin:
		ends = fmt.Sprintf("above %s and at most %s", shortest(r.Min), shortest(r.Max))
	case r.OpenMax:
		ends = fmt.Sprintf("from %s to below %s", shortest(r.Min), shortest(r.Max))
	}
	return fmt.Sprintf("%s %s (%s: %s)", kind, ends, r.Name, r.Meaning)
}

func shortest(v float64) string {
	if a := math.Abs(v); a >= 1e-7 && a < 1e20 || v == 0 {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', -1, 64)
}

// largest bounds what is measured, in the measure's own unit: sums of squares of such
// numbers keep well within a float64.
const largest = 1e9

// The measure.
var (
	Response     = Range{Name: "measure", Min: -largest, Max: largest, Meaning: "what was observed, in the measure's own unit"}
	Duration     = Range{Name: "time", Min: 0, Max: largest, OpenMin: true, Meaning: "how long an attempt took, usually in seconds"}
	Errors       = Range{Name: "count", Min: 0, Max: 1e6, Whole: true, Meaning: "errors or events counted in one attempt"}
	Limit        = Range{Name: "limit", Min: 0, Max: largest, OpenMin: true, Meaning: "time at which an attempt is stopped"}
	CountLevel   = Range{Name: "standard", Min: 0, Max: 1e6, Meaning: "the count to reach"}
	MostErrors   = Range{Name: "at most", Min: 0, Max: 1e6, Meaning: "errors that a pass may have"}
	Points       = Range{Name: "points", Min: -largest, Max: largest, Meaning: "points of a scoring rule"}
	AttemptLabel = Range{Name: "attempt", Min: -largest, Max: largest, Meaning: "place of an attempt in a single series"}
)

// Attempts.
var (
	Attempt       = Range{Name: "attempt", Min: 1, Max: 1e5, Whole: true, Meaning: "number of an attempt, counted from 1"}
	Horizon       = Range{Name: "horizon", Min: 1, Max: 2000, Whole: true, Meaning: "attempts looked ahead at most"}
	ChanceHorizon = Range{Name: "horizon", Min: 1, Max: 1e6, Whole: true, Meaning: "attempts looked ahead at most, for a constant chance"}
	Ahead         = Range{Name: "ahead", Min: 1, Max: 1000, Whole: true, Meaning: "attempts projected after the last one made"}
	Seen          = Range{Name: "seen", Min: 0, Max: 1e5, Whole: true, Meaning: "first attempts that are fitted, 0 for no such fit"}
	Known         = Range{Name: "known", Min: 1, Max: 1e5, Whole: true, Meaning: "first attempts that a projection may see"}
	Within        = Range{Name: "within", Min: 1, Max: 10000, Whole: true, Meaning: "attempts for which chances of a signal are given"}
	Until         = Range{Name: "until", Min: 0, Max: 10000, Meaning: "attempts until the rule was met, or the last one seen"}
	Scheduled     = Range{Name: "attempts", Min: 1, Max: 1e5, Whole: true, Meaning: "attempts scheduled"}
	Fewer         = Range{Name: "fewer", Min: 1, Max: 1e5, Whole: true, Meaning: "attempts taken from a schedule"}
	Held          = Range{Name: "held after", Min: 1, Max: 1e5, Whole: true, Meaning: "at least one attempt, made while proficient"}
	Halving       = Range{Name: "halved every", Min: 0, Max: 1e6, OpenMin: true, Meaning: "attempts in which a gap is halved"}
	Days          = Range{Name: "days", Min: 0, Max: 1e5, OpenMin: true, Meaning: "days without practice"}
	LevelBefore   = Range{Name: "before", Min: 1, Max: 1000, Whole: true, Meaning: "last attempts of a session whose mean is its level"}
	Origin        = Range{Name: "origin", Min: -1e6, Max: 1e6, Meaning: "attempt at which the starting level is read"}
)

// People and files.
var (
	Trainees = Range{Name: "trainees", Min: 1, Max: 1e5, Whole: true, Meaning: "trainees to schedule for"}
	Subjects = Range{Name: "subjects", Min: 0, Max: 20000, Whole: true, Meaning: "rated subjects in a table of counts"}
	Planned  = Range{Name: "subjects", Min: 2, Max: 20000, Whole: true, Meaning: "subjects of a study to come"}
	Raters   = Range{Name: "raters", Min: 2, Max: 100, Whole: true, Meaning: "raters of a study to come"}

	PlannedTrainees = Range{Name: "trainees", Min: 2, Max: 10_000, Whole: true, Meaning: "trainees in an arm of a study to come"}
	PlannedAttempts = Range{Name: "attempts", Min: 1, Max: 2000, Whole: true, Meaning: "attempts of a trainee in a study to come"}
	Allocation      = Range{Name: "allocation", Min: 0.01, Max: 100, Meaning: "trainees of the other arm for each of the reference arm"}
	Clusters        = Range{Name: "clusters", Min: 1, Max: 10_000, Whole: true, Meaning: "sites or session groups of a study to come"}
	Sample          = Range{Name: "sample", Min: 1, Max: 1e6, Whole: true, Meaning: "studies simulated again"}
	Places          = Range{Name: "places", Min: 1, Max: 20_000, Whole: true, Meaning: "places of an allocation list"}
	Block           = Range{Name: "block", Min: 2, Max: 1000, Whole: true, Meaning: "places of a block of an allocation list"}
	ArmShare        = Range{Name: "arm share", Min: 1, Max: 100, Whole: true, Meaning: "trainees that an arm gets in proportion to the others"}

	MostRaters       = Range{Name: "most raters", Min: 1, Max: 100, Whole: true, Meaning: "raters at most in a table of decisions"}
	MostPerformances = Range{Name: "most performances", Min: 1, Max: 500, Whole: true, Meaning: "performances at most in a table of decisions"}
	HeadRows         = Range{Name: "head rows", Min: 0, Max: 20, Whole: true, Meaning: "rows above the data that hold column names, 0 for one"}
	SmallestCell     = Range{Name: "smallest cell", Min: 2, Max: 1000, Whole: true, Meaning: "fewest people behind a number that is shown to others"}
	SkipRows         = Range{Name: "skip rows", Min: 0, Max: 10000, Whole: true, Meaning: "lines above the column names that are not read"}
	SkipRuns         = Range{Name: "skip runs", Min: 0, Max: 1000, Whole: true, Meaning: "first runs of an expert left out, as familiarisation"}
)

// Chances, shares and rates.
var (
	Level       = Range{Name: "level", Min: 0.01, Max: 0.9999, Meaning: "confidence level of intervals, such as 0.95"}
	Chance      = Range{Name: "chance", Min: 0, Max: 1, Meaning: "chance that one attempt passes"}
	InnerChance = Range{Name: "chance", Min: 0, Max: 1, OpenMin: true, OpenMax: true, Meaning: "chance that one attempt passes"}
	Share       = Range{Name: "share", Min: 0, Max: 1, Meaning: "a part of the whole"}
	InnerShare  = Range{Name: "share", Min: 0, Max: 1, OpenMin: true, OpenMax: true, Meaning: "a part of the whole, such as 0.9"}
	PartOf      = Range{Name: "share", Min: 0, Max: 1, OpenMax: true, Meaning: "a part of the whole, 0 for none"}
	FailureRate = Range{Name: "failure rate", Min: 0, Max: 1, OpenMin: true, OpenMax: true, Meaning: "share of attempts that fail"}
	Trim        = Range{Name: "trim", Min: 0, Max: 0.5, OpenMax: true, Meaning: "share of experts cut off at each end"}
	Percentile  = Range{Name: "percentile", Min: 0, Max: 100, OpenMin: true, OpenMax: true, Meaning: "percentage of experts at or below the standard"}
	Coefficient = Range{Name: "coefficient", Min: -1, Max: 1, OpenMin: true, OpenMax: true, Meaning: "a coefficient of agreement or reliability"}
	FigureWidth = Range{Name: "width", Min: 85, Max: 175, Whole: true, Meaning: "width of a figure in millimetres, 85 or 175"}
	Width       = Range{Name: "width", Min: 0.01, Max: 2, Meaning: "how wide an interval of a coefficient may be"}
	Reliability = Range{Name: "reliability", Min: 0, Max: 1, OpenMin: true, OpenMax: true, Meaning: "reliability of the trainees' scores"}
	Weight      = Range{Name: "weight", Min: 0, Max: 1, OpenMin: true, Meaning: "weight of the newest attempt"}
)

// Charts, distances and amounts.
var (
	ChartLimit   = Range{Name: "h", Min: 0, Max: 1000, OpenMin: true, Meaning: "limit of a chart"}
	RunLength    = Range{Name: "run length", Min: 1, Max: 1e6, OpenMin: true, Meaning: "mean attempts to a false signal"}
	Spread       = Range{Name: "standard deviation", Min: 0, Max: largest, OpenMin: true, Meaning: "spread of the measure from attempt to attempt"}
	SpreadOrNone = Range{Name: "standard deviation", Min: 0, Max: largest, Meaning: "how much trainees, or clusters of them, differ; 0: not at all"}
	Fall         = Range{Name: "fall", Min: -10, Max: 10, Meaning: "power of the attempt's number by which errors fall"}
	PlannedWidth = Range{Name: "width", Min: 0, Max: largest, OpenMin: true, Meaning: "how wide an interval may be, or of a ratio its upper end over its lower end"}
	HazardRatio  = Range{Name: "hazard ratio", Min: 0, Max: 1e6, OpenMin: true, Meaning: "hazard of one arm over that of another"}
	SDs          = Range{Name: "standard deviations", Min: 0, Max: 10, Meaning: "how many standard deviations, 0 for none"}
	Step         = Range{Name: "step", Min: 1e-6, Max: largest, Meaning: "distance between possible standards"}
	Margin       = Range{Name: "margin", Min: 0, Max: largest, OpenMin: true, Meaning: "the largest difference that does not matter, whichever way it lies; of a ratio, above 1"}
	Amount       = Range{Name: "amount", Min: 0, Max: largest, Meaning: "a cost, a price or a number of minutes"}
	Value        = Range{Name: "value", Min: -largest, Max: largest, Meaning: "a finite number"}
)

// Computing.
var (
	Replicates = Range{Name: "replicates", Min: 20, Max: 1e7, Whole: true, Meaning: "bootstrap and permutation replicates: at least 20"}
	Workers    = Range{Name: "workers", Min: 0, Max: 1024, Whole: true, Meaning: "pieces of work done at a time, 0 for all processors"}
	Shards     = Range{Name: "shards", Min: 1, Max: 1e6, Whole: true, Meaning: "shards that a run is cut into: from 1 to 1000000"}
	ArrayLimit = Range{Name: "array-limit", Min: 1, Max: 1e6, Whole: true, Meaning: "tasks of a job array: from 1"}
	Seed       = Range{Name: "seed", Min: 0, Max: 1 << 63, Whole: true, Meaning: "seed of the random streams, 0 for the study's own"}
)
