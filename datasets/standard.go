package datasets

import (
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"

	"tyro/analysis/practice"
	"tyro/datasets/problem"
)

// checkDecision reports what is wrong with a standard.
func checkDecision(s practice.Decision, bad func(column, value, expect string, kind error)) {
	if n := len(s.Interval); n > 0 && (n != 2 || !(s.Interval[0] <= s.Interval[1])) {
		bad("standard: interval", fmt.Sprint(s.Interval), "a lower and an upper limit, as [50, 60]", problem.ErrRange)
	}
	c := s.Computed
	if c == nil {
		return
	}
	if !slices.Contains([]string{"expert-mean", "expert-median", "expert-percentile"}, c.Method) {
		bad("standard: computed: method", c.Method, "expert-mean, expert-median or expert-percentile", problem.ErrUnknown)
	}
	if !slices.Contains([]string{"", "mean", "median", "best", "last"}, c.Summary) {
		bad("standard: computed: summary", c.Summary, "mean, median, best or last", problem.ErrUnknown)
	}
}

// Block is a decision as the study file's standard: block.
func Block(s practice.Decision) (string, error) {
	text, err := yaml.Marshal(s)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	b.WriteString("standard:\n")
	for line := range strings.Lines(string(text)) {
		b.WriteString("  " + line)
	}
	return b.String(), nil
}
