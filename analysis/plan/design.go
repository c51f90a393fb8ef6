// Package plan says beforehand what a study will be able to tell: by simulating the whole
// study, many times, with the analysis that will be run, and by a closed form beside it
// where there is one.
//
// # How it is cut
//
// A [Design] is one study to come as plain data. [Simulate] gives one small [Outcome] a
// simulated study: study i depends on the seed, the design's size and i alone, so that
// outcomes are the same on any number of workers, in any order, and however studies are
// cut into parts. [Summarise] turns a design's outcomes into a [Row].
//
// # Power
//
// The power is the share of studies that give what is asked for: an interval that leaves
// out no difference (p below 1 − level), one that lies within a margin, or one that is no
// wider than asked. A study in
// which a fit failed gives nothing, and counts as one that did not; where more than
// [MaxFailed] of the studies failed no power is given. The interval of a power is of the
// simulation alone (Clopper and Pearson, 1934, Biometrika 26, 404-413). How to plan a
// simulation and report its error: Morris, White and Crowther (2019), Statistics in
// Medicine 38, 2074-2102.
package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"tyro/analysis"
	"tyro/analysis/practice"
)

// Form is the version of a design's form; a file of another one is refused.
const Form = 1

// MaxFailed is the share of failed studies above which no power is given.
const MaxFailed = 0.05

// ErrDesign is wrapped by every error about a design that no study can have.
var ErrDesign = errors.New("this study cannot be simulated")

func refuse(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrDesign, fmt.Sprintf(format, args...))
}

// A Design is one study to come. One of TTest, LogRank, Ratings and Course is set.
type Design struct {
	Form       int     `json:"form"`
	Trainees   int     `json:"trainees"`   // of the reference arm; all subjects of a study of raters
	Attempts   int     `json:"attempts"`   // of every trainee at most; 1 where there is one number a trainee
	Allocation float64 `json:"allocation"` // trainees of every other arm for each of the reference arm; 0 means 1
	Level      float64 `json:"level"`      // of intervals; 0 means 0.95
	// Width makes the question one of precision: how often the interval is no wider. For
	// a ratio it is the upper end over the lower. 0: whether arms can be told apart.
	Width float64 `json:"width"`
	// Margin makes the question whether the other arm is shown to lie within it of the
	// reference; nil: whether arms can be told apart.
	Margin *Margin `json:"margin,omitempty"`

	TTest   *TTest   `json:"t_test,omitempty"`
	LogRank *LogRank `json:"log_rank,omitempty"`
	Ratings *Ratings `json:"ratings,omitempty"`
	Course  *Course  `json:"course,omitempty"`
}

// A Margin is the largest difference that does not matter, decided before the study.
type Margin struct {
	Value       float64 `json:"value"`                  // above 0; of a ratio, above 1
	NonInferior bool    `json:"non_inferior,omitempty"` // the arm is only not to be worse by it; otherwise within it on both sides
}

// kind is what the margin is for, as study files say it.
func (m Margin) kind() string {
	if m.NonInferior {
		return practice.NonInferiority
	}
	return practice.Equivalence
}

// A question is one kind of study, ready to be simulated.
type question interface {
	// study simulates and analyses one study. An error is a mistake of the program or the
	// end of ctx: what fails in a study is an outcome.
	study(ctx context.Context, r *rand.Rand) (Outcome, error)
	// formula is the closed form; nil where there is none.
	formula() *Formula
	// truth is what the estimate is of, by the assumptions; NaN where it is not worked out.
	truth() float64
}

// A Formula is what a closed form says of a design; NaN for what it says nothing of.
type Formula struct {
	Power, Width float64
	Source       string
}

// At is the design at another size.
func (d Design) At(trainees, attempts int) Design {
	d.Trainees, d.Attempts = trainees, attempts
	return d
}

// Other is the number of trainees of every other arm.
func (d Design) Other() int { return others(d.Trainees, d.allocation()) }

// People is the number of trainees in all.
func (d Design) People() int {
	if d.Ratings != nil {
		return d.Trainees
	}
	others := 1
	if d.Course != nil {
		others = len(d.Course.People.Arms) - 1
	}
	return d.Trainees + others*d.Other()
}

func others(n int, allocation float64) int { return int(float64(n)*allocation + 0.5) }

func (d Design) allocation() float64 {
	if d.Allocation == 0 {
		return 1
	}
	return d.Allocation
}

// The sizes that a simulated study may have.
const (
	MostTrainees = 10_000
	MostAttempts = 2_000
	mostInAll    = 1_000_000 // attempts of all trainees
)

// Check reports what no study can have.
func (d Design) Check() error {
	_, err := d.ready()
	return err
}

// ready makes the design's study ready to be simulated.
func (d Design) ready() (question, error) {
	level, err := analysis.Level(d.Level)
	if err != nil {
		return nil, refuse("%v", err)
	}
	d.Level = level
	switch {
	case d.Form != Form:
		return nil, refuse("the design is of form %d, and this program reads form %d", d.Form, Form)
	case d.Trainees < 2 || d.Trainees > MostTrainees:
		return nil, refuse("%d trainees in an arm: expected 2 to %d", d.Trainees, MostTrainees)
	case d.Attempts < 1 || d.Attempts > MostAttempts:
		return nil, refuse("%d attempts: expected 1 to %d", d.Attempts, MostAttempts)
	case !(d.allocation() > 0 && d.allocation() <= 100) || d.Other() < 2 || d.Other() > MostTrainees:
		return nil, refuse("%v trainees of the other arm for each of the %d of the reference arm: expected 2 to %d trainees in an arm", d.allocation(), d.Trainees, MostTrainees)
	case d.People()*d.Attempts > mostInAll:
		return nil, refuse("%d trainees of %d attempts: at most %d attempts in all", d.People(), d.Attempts, mostInAll)
	case !(d.Width >= 0):
		return nil, refuse("an interval no wider than %v", d.Width)
	case d.Margin != nil && d.Width > 0:
		return nil, refuse("a margin and the width of an interval cannot both be asked about")
	case d.Margin != nil && (!(d.Margin.Value > 0) || math.IsInf(d.Margin.Value, 0)):
		return nil, refuse("a margin of %v: expected a difference above 0, or a ratio above 1", d.Margin.Value)
	case d.Margin != nil && d.TTest == nil && (d.Course == nil || d.Course.Contrast == "" || d.Course.Contrast == Retention):
		return nil, refuse("a margin is for a contrast of compare, or for a t test")
	}
	var asked []func(Design) (question, error)
	if d.TTest != nil {
		asked = append(asked, d.TTest.ready)
	}
	if d.LogRank != nil {
		asked = append(asked, d.LogRank.ready)
	}
	if d.Ratings != nil {
		asked = append(asked, d.Ratings.ready)
	}
	if d.Course != nil {
		asked = append(asked, d.Course.ready)
	}
	if len(asked) != 1 {
		return nil, refuse("expected one kind of study, got %d", len(asked))
	}
	return asked[0](d)
}

// Truth is what the estimate is of, by the assumptions; NaN where it is not worked out.
func (d Design) Truth() (float64, error) {
	q, err := d.ready()
	if err != nil {
		return 0, err
	}
	return q.truth(), nil
}

// purpose names the random streams of the design's studies.
func (d Design) purpose() string { return fmt.Sprintf("plan/%d/%d", d.Trainees, d.Attempts) }
