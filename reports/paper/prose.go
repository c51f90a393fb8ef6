package paper

import (
	"fmt"
	"math"
	"strings"

	"tyro/reports"
)

// A section is a heading with sentences below it.
type section struct {
	title     string
	sentences []string
}

// say adds a sentence.
func (s *section) say(format string, args ...any) {
	s.sentences = append(s.sentences, fmt.Sprintf(format, args...))
}

// text is the paragraph.
func (s section) text() string { return strings.Join(s.sentences, " ") }

// told keeps the sections that say something.
func told(all ...section) []section {
	var out []section
	for _, s := range all {
		if len(s.sentences) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// list joins words as a sentence does: a, b and c.
func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// known reports whether a number is one.
func known(v reports.Number) bool { return !math.IsNaN(float64(v)) }

// digits is a number with three significant digits.
func digits(v reports.Number) string { return reports.Significant(float64(v), 3) }

// attempts is a number of attempts, or that there is none.
func attempts(v reports.Number) string {
	if math.IsInf(float64(v), 1) {
		return "not reached"
	}
	return fmt.Sprintf("%g", float64(v))
}

// interval is a pair of limits in brackets after an estimate; blank where neither is
// known.
func interval(level float64, lower, upper reports.Number, show func(reports.Number) string) string {
	end := func(v reports.Number) string {
		if !known(v) {
			return "not known"
		}
		return show(v)
	}
	if !known(lower) && !known(upper) {
		return ""
	}
	return fmt.Sprintf(" (%g %% interval %s to %s)", 100*level, end(lower), end(upper))
}

// pValue is a p value as a paper has it.
func pValue(v reports.Number) string {
	text := reports.PValue(float64(v))
	if rest, ok := strings.CutPrefix(text, "<"); ok {
		return "p < " + rest
	}
	return "p = " + text
}
