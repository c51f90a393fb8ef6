// Package problem says what is wrong with a file: each thing with its place, all at once, and
// what would have been right.
package problem

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// The kinds of trouble with a cell; test with errors.Is.
var (
	ErrMissing   = errors.New("missing")
	ErrNotNumber = errors.New("not a number")
	ErrRange     = errors.New("out of range")
	ErrDuplicate = errors.New("duplicate")
	ErrUnknown   = errors.New("unknown word")
	ErrFormat    = errors.New("unreadable")
	// ErrAmbiguous is what could mean two things and is asked for, not guessed.
	ErrAmbiguous = errors.New("could mean two things")
)

// A Problem is one thing wrong with the input, with its place. Line counts as
// a text editor does (for a spreadsheet: the row number); 0 means the whole
// file, an empty column the whole row.
type Problem struct {
	File   string
	Line   int
	Column string
	Value  string
	Expect string // what would have been right, one clause
	Err    error  // the kind
}

// Error names the place, the value and what was expected.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	if p.Column != "" {
		fmt.Fprintf(&b, ": column %q", p.Column)
	}
	if p.Value != "" {
		fmt.Fprintf(&b, ": %q", Clip(p.Value))
	}
	fmt.Fprintf(&b, ": %v", p.Err)
	if p.Expect != "" {
		fmt.Fprintf(&b, ", expected %s", p.Expect)
	}
	return b.String()
}

// Unwrap gives the kind of trouble.
func (p Problem) Unwrap() error { return p.Err }

// Problems is everything wrong with an input, reported at once.
type Problems []Problem

// MaxShown caps the problems printed; the rest are counted.
const MaxShown = 20

// With adds what an error reports, place by place.
func (ps Problems) With(err error) Problems { return Append(ps, err) }

// ManyAlike is from how many cells on that are wrong in the same way one line speaks for
// all of them.
const ManyAlike = 4

// Error lists the problems, one a line, first those of the whole file, which others may
// come from; many cells of one column that are wrong in the same way share a line.
func (ps Problems) Error() string {
	ps = slices.Clone(ps)
	slices.SortStableFunc(ps, func(a, b Problem) int { return cmp.Compare(min(a.Line, 1), min(b.Line, 1)) })
	alike := map[Problem][]Problem{}
	for _, p := range ps {
		alike[p.likeness()] = append(alike[p.likeness()], p)
	}
	var lines []string
	left := 0
	for _, p := range ps {
		group := alike[p.likeness()]
		switch {
		case p.Line == 0 || len(group) < ManyAlike:
			group = []Problem{p}
		case group[0] != p:
			continue // said with the first of them
		}
		if len(lines) == MaxShown {
			left += len(group)
			continue
		}
		lines = append(lines, said(group))
	}
	if left > 0 {
		lines = append(lines, fmt.Sprintf("and %d more problems", left))
	}
	return strings.Join(lines, "\n")
}

var (
	numbersIn = regexp.MustCompile(`[0-9]+`)
	traineeIn = regexp.MustCompile(`(trainee|expert) .*? (once|in one arm)\b`)
)

// likeness is what problems have in common that are the same mistake made in many cells:
// the place but for the line, the value but for its digits.
func (p Problem) likeness() Problem {
	p.Line = 0
	p.Value = numbersIn.ReplaceAllString(p.Value, "0")
	p.Expect = numbersIn.ReplaceAllString(p.ofAnybody().Expect, "0")
	return p
}

// ofAnybody is a problem without whose row it is.
func (p Problem) ofAnybody() Problem {
	p.Expect = traineeIn.ReplaceAllString(p.Expect, "a $1 $2")
	return p
}

// said is one line for problems that are alike.
func said(group []Problem) string {
	p := group[0]
	if len(group) == 1 {
		return p.Error()
	}
	var lines []int
	for _, q := range group {
		lines = append(lines, q.Line)
	}
	such := "blank cells"
	switch {
	case p.Value == "" && p.Column == "":
		such = "rows"
	case p.Value != "":
		such = fmt.Sprintf("cells such as %q", Clip(p.Value))
	}
	at := ""
	if p.Column != "" {
		at = fmt.Sprintf(": column %q", p.Column)
	}
	if group[len(group)-1].Expect != p.Expect {
		p = p.ofAnybody()
	}
	out := fmt.Sprintf("%s:%d%s: %d %s (line %s): %v", p.File, p.Line, at, len(group), such, Lines(lines), p.Err)
	if p.Expect != "" {
		out += ", expected " + p.Expect
	}
	return out
}

// Unwrap lists the problems as errors.
func (ps Problems) Unwrap() []error {
	out := make([]error, len(ps))
	for i, p := range ps {
		out[i] = p
	}
	return out
}

// OrNil makes an empty list no error.
func (ps Problems) OrNil() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// Append keeps collecting: other errors become problems without a
// place.
func Append(ps Problems, err error) Problems {
	var many Problems
	var one Problem
	switch {
	case err == nil:
		return ps
	case errors.As(err, &many):
		return append(ps, many...)
	case errors.As(err, &one):
		return append(ps, one)
	}
	return append(ps, Problem{File: "data", Err: err})
}
