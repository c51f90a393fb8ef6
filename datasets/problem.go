package datasets

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"
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
		fmt.Fprintf(&b, ": %q", clip(p.Value))
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

// maxShown caps the problems printed; the rest are counted.
const maxShown = 20

// With adds what an error reports, place by place.
func (ps Problems) With(err error) Problems { return appendProblems(ps, err) }

// Error lists the problems, one a line.
func (ps Problems) Error() string {
	var b strings.Builder
	for i, p := range ps {
		if i == maxShown {
			fmt.Fprintf(&b, "\nand %d more problems", len(ps)-maxShown)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(p.Error())
	}
	return b.String()
}

// Unwrap lists the problems as errors.
func (ps Problems) Unwrap() []error {
	out := make([]error, len(ps))
	for i, p := range ps {
		out[i] = p
	}
	return out
}

// orNil makes an empty list no error.
func (ps Problems) orNil() error {
	if len(ps) == 0 {
		return nil
	}
	return ps
}

// clip shortens a value for a message.
func clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
