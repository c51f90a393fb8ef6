// Package practice holds what was seen of people practising a task, once, in the
// form that every analysis reads: trainees with their attempts, the task, the
// standard to reach and the rule that says when somebody has reached it.
//
// Files become practice in one place (package datasets), and nothing downstream
// reads a log again. Everything here is plain data and is not changed once made.
//
// # Outcomes
//
// Done: the response is exact. Timeout: a time is known only to be above the limit
// (the attempt is then Censored, and its response is the limit); a score stands at
// the scoring rule's floor. Failed: a hard fail, never a pass, without a comparable
// response. Void: an outside reason; it is kept here, and counts for nothing.
package practice

import "tyro/analysis"

// Practice is everybody's practice of one task in one study.
type Practice struct {
	Title   string
	Purpose string // formative, summative or research; blank where not said
	Decides string // who decides about trainees; blank where not said
	Seed    uint64 // the study's own seed; 0 where it names none
	// SmallestCell is the smallest count of people that the study shows to others; 0 where not said.
	SmallestCell int

	Task     Task
	Arms     []string // in the order of the study file, then as first seen; those with trainees
	Trainees []Trainee
	Experts  []Trainee // who set the standard, where their attempts are known
	Until    []Until   // trainees of whom no more is known than when they met the rule
	// Endpoints are trainees with one number each; Baselines name what is known of them before.
	Endpoints []Endpoint
	Baselines []string

	Covariates []Covariate // of trainees, for a cohort's curve
	Scores     *ScoreSheet // by the task's scoring rule; nil without
	Items      []RatedItem // rated items; nil without ratings
	Evidence   *Evidence   // of a table that was read to set a standard; nil for a study

	Files  []FileRead         // how each file was read, and what was not read of it
	SHA256 string             // of every file read
	Notes  []analysis.Warning // how the files were read, and what looks odd
	// ItemNotes are those about the ratings.
	ItemNotes []analysis.Warning
}

// A Trainee is one person's attempts at the task.
type Trainee struct {
	ID, Arm  string
	Limit    float64   // time at which attempts were stopped; 0 for none
	Columns  []float64 // the trainee's values of a cohort's covariates, in its order; nil: all 0
	Attempts []Attempt // in the order of their numbers, void ones too
	// ErrorLimits says that a pass may have only so many errors; without, every
	// attempt is clean.
	ErrorLimits bool
}

// An Until is a trainee of whom no more is known than when the rule was met, or until
// when it was not.
type Until struct {
	Arm     string
	Attempt float64 // at which the rule was met, or the last one seen; need not be whole
	Met     bool
	Since   float64 // the last assessment without, where they come every few attempts; NaN where the attempt is exact
}

// An Outcome says how an attempt ended; see the package comment.
type Outcome uint8

// The outcomes.
const (
	Done Outcome = iota
	Timeout
	Failed
	Void
)

// String is the outcome's name in files.
func (o Outcome) String() string { return [...]string{"done", "timeout", "failed", "void"}[o] }

// An Attempt is one attempt.
type Attempt struct {
	Number   float64 // from 1; any real number in a single series
	Response float64 // in the unit of the measure; NaN for a hard fail, and where none was written down
	Outcome  Outcome
	Censored bool      // the response is only known to be above Response
	Clean    bool      // errors within the task's limits; true where it sets none
	Errors   []float64 // in the order of the task's Counts; NaN where not known
	Session  string
	Date     string  // 2026-02-28, or 2026-02-28 14:30; blank where not given
	Since    float64 // attempts since the session began, from 1; 0 in the trainee's first session
}

// Measured reports whether the attempt has a response that a curve can use.
func (a Attempt) Measured() bool {
	return (a.Outcome == Done || a.Outcome == Timeout) && a.Response == a.Response
}

// Sound reports whether the attempt was no hard fail and kept within its error
// limits.
func (a Attempt) Sound() bool { return a.Outcome != Failed && a.Clean }

// Passes reports whether the attempt meets the standard: done, on the right side
// of it, and with no more errors than a pass may have.
func (a Attempt) Passes(s Standard) bool {
	return a.Outcome == Done && a.Clean && s.Meets(a.Response)
}

// Counted lists the attempts that count: all but void ones.
func (t Trainee) Counted() []Attempt {
	var out []Attempt
	for _, a := range t.Attempts {
		if a.Outcome != Void {
			out = append(out, a)
		}
	}
	return out
}

// Until keeps the attempts up to a number.
func (t Trainee) Until(last float64) Trainee {
	out := t
	out.Attempts = nil
	for _, a := range t.Attempts {
		if a.Number <= last {
			out.Attempts = append(out.Attempts, a)
		}
	}
	return out
}

// Number counts the attempts of which a condition holds.
func (t Trainee) Number(holds func(Attempt) bool) int {
	n := 0
	for _, a := range t.Attempts {
		if holds(a) {
			n++
		}
	}
	return n
}

// Numbers lists the numbers of the attempts that count, and Passes whether each of
// them meets the standard.
func (t Trainee) Numbers() []float64 {
	var out []float64
	for _, a := range t.Counted() {
		out = append(out, a.Number)
	}
	return out
}

// Passes says of each attempt that counts whether it meets the standard.
func (t Trainee) Passes(s Standard) []bool {
	var out []bool
	for _, a := range t.Counted() {
		out = append(out, a.Passes(s))
	}
	return out
}

// Last is the number of the last attempt that counts; 0 before the first.
func (t Trainee) Last() float64 {
	last := 0.0
	for _, a := range t.Counted() {
		last = a.Number
	}
	return last
}

// Members lists the positions of an arm's trainees.
func (p Practice) Members(arm string) []int {
	var out []int
	for i, t := range p.Trainees {
		if t.Arm == arm {
			out = append(out, i)
		}
	}
	return out
}

// Attempts counts the attempts of all trainees of which a condition holds.
func (p Practice) Attempts(holds func(Attempt) bool) int {
	n := 0
	for _, t := range p.Trainees {
		n += t.Number(holds)
	}
	return n
}

// Measured is a trainee whose attempts were all done, with the responses given.
func Measured(id string, attempt, response []float64) Trainee {
	t := Trainee{ID: id}
	for i, n := range attempt {
		t.Attempts = append(t.Attempts, Attempt{Number: n, Response: response[i], Clean: true})
	}
	return t
}
