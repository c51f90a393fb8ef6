package page

import (
	"fmt"
	"math"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/stopping"
	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// Rules, passes and amounts as the director's and the trainees' pages say them.

// ruleWords is a rule in words.
func ruleWords(r practice.Rule) string {
	var parts []string
	for _, c := range r {
		n := "1 pass"
		if c.Need > 1 {
			n = fmt.Sprintf("%d passes", c.Need)
		}
		switch {
		case c.InAll:
			parts = append(parts, n+" in all")
		case c.Of > 0:
			parts = append(parts, fmt.Sprintf("%s among the last %d attempts", n, c.Of))
		case c.Need == 1:
			parts = append(parts, n)
		default:
			parts = append(parts, n+" in a row")
		}
	}
	return strings.Join(parts, ", and ")
}

// passWords says what an attempt needs to pass.
func passWords(st *study.Study) string {
	task := st.Task
	value := withUnit(task, st.Question.Standard.Value)
	direction := "at least"
	if task.Lower {
		direction = "at most"
	}
	var text string
	switch task.Measure {
	case practice.PassFail:
		text = "marked as a pass"
		if task.Lower {
			text = "marked as a success (0)"
		}
	case practice.Time:
		text = fmt.Sprintf("done in %s %s", direction, value)
	default:
		text = fmt.Sprintf("with %s %s %s", figure.Spoken(task.Response), direction, value)
	}
	var limits []string
	for _, name := range task.Counts {
		if most, ok := task.AtMost[name]; ok {
			limits = append(limits, fmt.Sprintf("%s: at most %g", figure.Spoken(name), most))
		}
	}
	if len(limits) > 0 {
		text += " (" + strings.Join(limits, "; ") + ")"
	}
	return text + ", and no hard fail"
}

func attempts(n int) string { return reports.Count(n, "attempt") }

// wholeOf is an expected number of people out of n.
func wholeOf(share float64, n int) string { return fmt.Sprintf("%.0f", share*float64(n)) }

func floorOf(share float64, n int) string {
	return fmt.Sprintf("%.0f", math.Floor(share*float64(n)+1e-9))
}

func ceilOf(share float64, n int) string {
	return fmt.Sprintf("%.0f", math.Ceil(share*float64(n)-1e-9))
}

// floorPercent never claims more than is known.
func floorPercent(v float64) string { return fmt.Sprintf("%g %%", math.Floor(1000*v+1e-9)/10) }

// sharePercent is a share in whole percent; none and all are said only where exact.
func sharePercent(v float64) string { return reports.WholePercent(v) }

// grouped is an amount, its digits in threes from 10 000 on.
func grouped(v float64) string {
	text := reports.Amount(v)
	if math.Abs(v) < 10000 || math.IsInf(v, 0) {
		return text
	}
	for at := len(text) - 3; at > 0; at -= 3 {
		text = text[:at] + narrow + text[at:]
	}
	return text
}

// Spaces at which no line breaks.
const (
	narrow   = "\u202f"
	unbroken = "\u00a0"
)

// kept keeps a percent sign with its number.
func kept(text string) string { return strings.ReplaceAll(text, " %", unbroken+"%") }

func unitOf(c *practice.Costs) string {
	if c.Unit == "" {
		return "units"
	}
	return c.Unit
}

// between is a range in brackets; blank where its ends are alike.
func between(lower, upper float64, show func(float64) string) string {
	switch {
	case math.IsInf(upper, 1):
		return fmt.Sprintf(" (%s to no limit)", show(lower))
	case show(lower) == show(upper):
		return ""
	}
	return fmt.Sprintf(" (%s to %s)", show(lower), show(upper))
}

// wayWords is a way to stop in words.
func wayWords(p fmt.Stringer) string {
	switch p := p.(type) {
	case stopping.Rule:
		return ruleWords(p.Rule)
	case stopping.FixedQuota:
		return fmt.Sprintf("stop after %s, passed or not", attempts(int(p)))
	case *stopping.Chart:
		return fmt.Sprintf("a learning chart that tells %s failures from %s", reports.RateText(p.Rates.Acceptable), reports.RateText(p.Rates.Unacceptable))
	case stopping.ShownChance:
		return fmt.Sprintf("passes that show a chance above %s, with %s confidence", study.PercentText(p.Target), study.PercentText(p.Confidence))
	}
	return p.String()
}
