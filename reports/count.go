package reports

import (
	"fmt"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/study"
)

// Count is a number of things: 1 trainee, 2 trainees, 4 families, 20 series.
func Count(n int, one string) string {
	if n != 1 {
		one = plural(one)
	}
	return fmt.Sprintf("%d %s", n, one)
}

func plural(one string) string {
	stem, y := strings.CutSuffix(one, "y")
	switch {
	case strings.HasSuffix(one, "series"):
		return one
	case y && !strings.ContainsAny(stem[len(stem)-1:], "aeiou"):
		return stem + "ies"
	}
	return one + "s"
}

// OutOfCurves names the kinds of attempts of a study that no curve is fitted to.
func OutOfCurves(st *study.Study) []string {
	var out []string
	for _, o := range []struct {
		outcome practice.Outcome
		words   string
	}{{practice.Failed, "hard fails"}, {practice.Void, "void attempts"}} {
		if st.Attempts(func(a practice.Attempt) bool { return a.Outcome == o.outcome }) > 0 {
			out = append(out, o.words)
		}
	}
	return out
}
