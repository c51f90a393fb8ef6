package practice

import "math"

// A Measure says what kind of number the response is.
type Measure string

// The measures.
const (
	Time     Measure = "time"
	Score    Measure = "score"
	Count    Measure = "count"
	PassFail Measure = "pass-fail"
)

// UnnamedTask is the name of the task of a single table, which has no place for one.
const UnnamedTask = "task"

// A Task is the one thing practised, with the measure followed.
type Task struct {
	Name     string
	Measure  Measure
	Response string // what the response is called: its column
	Unit     string // blank where not said
	Lower    bool   // smaller responses are better
	Limit    float64
	Counts   []string           // error counts known of every attempt
	AtMost   map[string]float64 // error counts a pass may have, by count
	Standard *Decision          // nil where none is set
	Rule     Rule               // when a trainee counts as proficient; nil where none is stated
	Horizon  float64            // attempts looked ahead at most; 0 where not said
	Rates    *FailureRates      // nil where none are stated
	Costs    *Costs             // nil where none are stated
	Margin   *Margin            // nil where none is stated
	Scoring  string             // version of the scoring rule; blank without one

	RuleGiven bool // the rule was given on the command line, and is not the study's own
}

// Better is the word for the direction of the measure.
func (t Task) Better() string {
	if t.Lower {
		return "lower"
	}
	return "higher"
}

// Level is the standard one attempt has to meet; unset where none is stated.
func (t Task) Level() Standard {
	s := Standard{Value: math.NaN(), Lower: t.Lower, PassFail: t.Measure == PassFail}
	if t.Standard != nil {
		s.Value = t.Standard.Value
	}
	return s
}

// FailureRates are the shares of failed attempts that charts tell apart, decided
// before looking at the attempts: 0 < Acceptable < Unacceptable < 1.
type FailureRates struct {
	Acceptable   float64 `yaml:"acceptable"`
	Unacceptable float64 `yaml:"unacceptable"`
}

// A Margin is the largest difference between arms that does not matter in practice,
// decided before the data were seen.
type Margin struct {
	Measure   string  `yaml:"measure"` // of a comparison, such as plateau or level-at-attempt
	Value     float64 `yaml:"value"`   // a difference above 0, or a ratio above 1
	Kind      string  `yaml:"kind"`    // equivalence or non-inferiority
	SetOn     string  `yaml:"set_on"`  // date, 2026-02-28
	DecidedBy string  `yaml:"decided_by"`
}

// The kinds of margin.
const (
	Equivalence    = "equivalence"
	NonInferiority = "non-inferiority"
)

// Costs is what practice of a task costs, in any unit: an attempt's minutes of lab
// time and of an examiner's time, its consumables, the price of an hour of either,
// and what a trainee costs whatever the attempts. A price of 0 is not stated.
type Costs struct {
	Unit              string  `yaml:"unit"` // a currency, or another word
	LabMinutes        float64 `yaml:"lab_minutes"`
	ExaminerMinutes   float64 `yaml:"examiner_minutes"`
	Consumables       float64 `yaml:"consumables"`
	LabHourPrice      float64 `yaml:"lab_hour_price"`
	ExaminerHourPrice float64 `yaml:"examiner_hour_price"`
	PerTrainee        float64 `yaml:"per_trainee"`
}

// PerAttempt is the cost of one attempt.
func (c Costs) PerAttempt() float64 {
	return c.LabMinutes/60*c.LabHourPrice + c.ExaminerMinutes/60*c.ExaminerHourPrice + c.Consumables
}

// Priced reports whether anything has a price: without one, what a schedule costs is unknown.
func (c Costs) Priced() bool { return c.PerAttempt() > 0 || c.PerTrainee > 0 }

// A Covariate is an attribute of trainees, such as site or prior experience, that
// acts on parameters of the cohort's curve.
type Covariate struct {
	Name   string
	On     []string           // parameters it acts on
	Levels []string           // in the order first seen; nil for a number
	Number map[string]float64 // by trainee, where it is a number
	Level  map[string]string  // by trainee, otherwise
}

// A RatedItem is one item's ratings as a table of subjects by raters.
type RatedItem struct {
	Name       string
	Scale      string // nominal, ordinal, interval or ratio
	Subjects   []string
	Raters     []string
	Scores     [][]float64 // [subject][rater]; NaN where not rated
	Categories []string    // the words behind scores 0, 1, …; nil for numbers

	Trainees  []string      // who gave each subject; nil where not known
	Occasions []string      // rounds of rating in the order first seen; nil without rounds
	Rounds    [][][]float64 // [occasion][subject][rater]; Scores holds each rater's first
	When      [][]float64   // [subject][rater] in days or running numbers, NaN where not given; nil where not known
	Dated     bool          // When are days since 1970-01-01
}

// CategoryWeights say how far two ratings agree, for every pair of categories: 1 where
// they are the same, down to 0 where they have nothing in common.
type CategoryWeights struct {
	Categories []string // words, or numbers as text
	Weights    [][]float64
}
