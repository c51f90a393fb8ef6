package datasets

import (
	"math/rand/v2"
	"regexp"
	"regexp/syntax"
	"strings"
	"testing"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
)

// cellPatterns are the patterns that cells are held against.
var cellPatterns = []*pattern.Pattern{
	numberDate, compact, isoMoment, slashDate, twoDecimals, attemptWord, overText, unitTail, grid.PlainNumber, clockTime, unitTime,
	markedNumber, threeAfter, pointGroups, commaGroups, otherGroups, powerOfTen, nobodyCodes, levelCodes, saidOut, summaryWords,
	extremes, shortWord, notDone, doneWords, noWords, yesNo, twoParts, threeParts, thousandths, dottedTime, dayAndTime, isoTime,
	unitPart, minuteDot, dayName, headUnitText,
}

// expressions are the regular expressions of cellPatterns.
func expressions() []*regexp.Regexp {
	var out []*regexp.Regexp
	for _, p := range cellPatterns {
		out = append(out, regexp.MustCompile(p.String()))
	}
	return out
}

// writeMatch writes a text that an expression matches, its conditions on what stands beside apart.
func writeMatch(b *strings.Builder, r *rand.Rand, e *syntax.Regexp) {
	times := func(low, high int) {
		for range low + r.IntN(high-low+1) {
			writeMatch(b, r, e.Sub[0])
		}
	}
	switch e.Op {
	case syntax.OpLiteral:
		for _, c := range e.Rune {
			if e.Flags&syntax.FoldCase != 0 && r.IntN(3) == 0 {
				c = []rune(strings.ToUpper(string(c)))[0]
			}
			b.WriteRune(c)
		}
	case syntax.OpCharClass:
		k := 2 * r.IntN(len(e.Rune)/2)
		b.WriteRune(e.Rune[k] + r.Int32N(min(e.Rune[k+1]-e.Rune[k], 40)+1))
	case syntax.OpAnyChar, syntax.OpAnyCharNotNL:
		b.WriteString([]string{"a", " ", "7", "ß", "-", "T"}[r.IntN(6)])
	case syntax.OpCapture, syntax.OpConcat:
		for _, sub := range e.Sub {
			writeMatch(b, r, sub)
		}
	case syntax.OpAlternate:
		writeMatch(b, r, e.Sub[r.IntN(len(e.Sub))])
	case syntax.OpQuest:
		times(0, 1)
	case syntax.OpStar:
		times(0, 2)
	case syntax.OpPlus:
		times(1, 3)
	case syntax.OpRepeat:
		times(e.Min, max(e.Min, e.Max))
	}
}

// A pattern finds what its regular expression finds, in texts that match one of them, that
// nearly do, and in any bytes.
func TestPatternsFindWhatTheirExpressionsFind(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	signs := []string{"", " ", "1", ".", ",", "\n", "x", "É", "ſ", "K", "\xff", ":", "-", "mean ", " total"}
	expressions := expressions()
	for k, from := range cellPatterns {
		parsed, err := syntax.Parse(from.String(), syntax.Perl)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for range 300 {
			var b strings.Builder
			writeMatch(&b, r, parsed)
			text := b.String()
			if r.IntN(2) == 0 {
				i := r.IntN(len(text) + 1)
				text = text[:i] + signs[r.IntN(len(signs))] + text[i:]
			}
			for j, p := range cellPatterns {
				is := expressions[j].MatchString(text)
				if got := p.MatchString(text); got != is {
					t.Fatalf("pattern %d finds %v in %q, its expression %v: %s", j, got, text, is, p)
				}
				if j == k && is {
					found++
				}
			}
		}
		if found < 100 {
			t.Errorf("only %d of 300 texts match pattern %d, from which they were made: %s", found, k, from.String())
		}
	}
}

func FuzzPattern(f *testing.F) {
	for _, s := range []string{"T000123", "Mean (SD)", "98.5", "2026-02-28 14:30", "1 min 30 s", "ſtdev x", "95% CI"} {
		f.Add(s)
	}
	expressions := expressions()
	f.Fuzz(func(t *testing.T, text string) {
		for k, p := range cellPatterns {
			if got, want := p.MatchString(text), expressions[k].MatchString(text); got != want {
				t.Errorf("the pattern finds %v in %q, its expression %v: %s", got, text, want, p)
			}
		}
	})
}
