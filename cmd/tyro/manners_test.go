package main

import (
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// sameMeaning are the flags whose help differs between commands, and the one meaning that
// all of them share.
var sameMeaning = map[string]string{
	"acceptable":     "acceptable failure rate of a chart",
	"unacceptable":   "unacceptable failure rate of a chart",
	"chart-limit":    "limit of a chart",
	"better":         "which direction is better",
	"at":             "attempt at which levels are compared",
	"attempts":       "attempts of a trainee",
	"expect":         "the coefficient expected",
	"interval-width": "how wide an interval may be",
	"out":            "where results are written",
	"power":          "power that is wanted",
	"rater-share":    "part of the variance within subjects that lies between raters",
	"raters":         "numbers of raters",
	"replicates":     "how often data are drawn anew",
	"sd":             "a standard deviation",
	"shares":         "shares of the categories",
	"trainees":       "trainees of a study or schedule to come",
	"from":           "what to begin with: a search's start, or a saved fit",
	"interval":       "how an interval is made",
	"item":           "column with the item",
	"margin":         "the largest difference that does not matter",
	"measure":        "what the response is",
	"met":            "column with 1 where the rule was met",
	"method":         "how the command's estimate is made",
	"response":       "column with the measure",
	"scale":          "scale of a number: of ratings, of parameters",
	"session":        "column with the session",
	"share":          "share of trainees",
	"trainee":        "column with the trainee",
	"trainee-table":  "file with one row a trainee",
	"proficient-at":  "pass chance from which a trainee counts as proficient",
}

// A flag means one thing in every command that has it: it is explained in the same words,
// or is listed above with the meaning that its explanations share.
func TestFlagsMeanOneThing(t *testing.T) {
	type use struct{ command, kind, words string }
	first := map[string]use{}
	for _, c := range commands(t) {
		c.Flags().VisitAll(func(f *pflag.Flag) {
			u := use{c.Name(), f.Value.Type(), f.Usage}
			before, seen := first[f.Name]
			if !seen {
				first[f.Name] = u
				return
			}
			if _, told := sameMeaning[f.Name]; u.words != before.words && !told {
				t.Errorf("--%s is %q in %s and %q in %s", f.Name, before.words, before.command, u.words, u.command)
			}
		})
	}
	for name := range sameMeaning {
		if _, ok := first[name]; !ok {
			t.Errorf("no command has --%s", name)
		}
	}
}

// Every help has examples, and every example is a command line that tyro takes.
func TestExamples(t *testing.T) {
	for _, c := range commands(t) {
		if c.Name() == "help" {
			continue
		}
		if c.Example == "" {
			t.Errorf("the help of %s has no example", c.Name())
		}
		for line := range strings.Lines(c.Example) {
			words := splitWords(strings.TrimSpace(strings.SplitN(line, " >", 2)[0]))
			if len(words) < 2 || words[0] != "tyro" || words[1] != c.Name() {
				t.Errorf("%s: example %q", c.Name(), line)
				continue
			}
			for _, fresh := range commands(t) {
				if fresh.Name() != c.Name() {
					continue
				}
				if err := fresh.ParseFlags(words[2:]); err != nil {
					t.Errorf("%q: %v", line, err)
				} else if err := checkFlags(fresh); err != nil {
					t.Errorf("%q: %v", line, err)
				} else if err := fresh.Args(fresh, fresh.Flags().Args()); err != nil {
					t.Errorf("%q: %v", line, err)
				}
			}
		}
	}
}

// splitWords splits a line as a shell would, with double quotes.
func splitWords(line string) []string {
	var out []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			out = append(out, part)
			continue
		}
		out = append(out, strings.Fields(part)...)
	}
	return out
}
