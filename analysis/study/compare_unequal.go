package study

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"tyro/analysis"
	"tyro/analysis/compare"
	"tyro/analysis/practice"
)

// mostApart is the share of the larger median number of attempts by which those of two arms
// may differ before curves are no longer tested at once, and before plateaus and rates are
// doubted: a curve of few attempts bends towards its plateau otherwise than one of many. The
// simulation beside the project's other ones finds no fault at 20 and 16 attempts, and many at
// 20 and 8.
const mostApart = 0.25

// unequalAttempts says why arms that made unequal numbers of attempts are not tested at once;
// "" where the numbers are near enough.
func (w *comparing) unequalAttempts() string {
	var fewest, most int
	var least, greatest string
	for k, arm := range w.c.Arms {
		n := w.medianAttempts(arm)
		if k == 0 || n < fewest {
			fewest, least = n, arm
		}
		if k == 0 || n > most {
			most, greatest = n, arm
		}
	}
	if !apartBy(fewest, most) {
		return ""
	}
	return fmt.Sprintf("there is no one test of whether any of the curves differ: the middle trainee of arm %s made %s and that of arm %s %d, and with numbers so unequal the test finds differences where there are none; compare the level at attempt %g, the last that half of every arm made",
		ArmName(greatest), counted(most, "attempt", "attempts"), ArmName(least), fewest, w.sharedAttempt(w.c.Arms))
}

func apartBy(n, m int) bool {
	return float64(max(n, m)-min(n, m)) >= mostApart*float64(max(n, m))
}

// cautionUnequal says of plateaus, rates and crossings, pair by pair, where arms made unequal
// numbers of attempts. Those of the trainees' own curves keep their estimate alone, since
// their intervals miss the truth; those of the cohort's curve are cautioned.
func (w *comparing) cautionUnequal() {
	for _, cs := range [][]compare.Contrast{w.c.Contrasts, w.c.Sensitivity} {
		for k, c := range cs {
			if c.Basis != BasisOwn && c.Basis != BasisCohort || !slices.Contains([]string{"plateau", "rate", "mean-crossing"}, c.Measure) {
				continue
			}
			n, ref := w.medianAttempts(c.Arm), w.medianAttempts(c.Reference)
			if !apartBy(n, ref) {
				continue
			}
			text := fmt.Sprintf("the middle trainee of arm %s made %s and that of arm %s %d, and curves of few attempts bend otherwise than those of many: compare the level at attempt %g",
				ArmName(c.Arm), counted(n, "attempt", "attempts"), ArmName(c.Reference), ref, w.sharedAttempt([]string{c.Arm, c.Reference}))
			switch {
			case c.Basis == BasisOwn && c.Known():
				cs[k] = compare.Withhold(c, text)
			case c.Basis == BasisCohort && c.Caution == "":
				cs[k].Caution = text
			}
		}
	}
}

// medianAttempts is how many usable attempts the middle trainee of an arm made.
func (w *comparing) medianAttempts(arm string) int {
	var made []int
	for _, i := range w.members[arm] {
		made = append(made, counting(w.Trainees[i].Attempts, practice.Attempt.Measured))
	}
	slices.Sort(made)
	return made[len(made)/2]
}

// An arm's plateau stands at its bound where the standard error of its logarithm is so large,
// or it is so small a share of the starting level: the fit cannot tell it from nothing.
const (
	unknownPlateau = 2.0
	noPlateau      = 1e-3
)

// cautionPlateaus says of the rows of plateau and rate where an arm's plateau stands at its
// bound.
func (w *comparing) cautionPlateaus() {
	p, s := w.cohortSample("plateau"), w.cohortSample("starting-level")
	if p == nil || s == nil || !p.ratio {
		return
	}
	for _, arm := range w.c.Arms {
		level, se := w.middle(*p, arm)
		start, _ := w.middle(*s, arm)
		if se < unknownPlateau && level > start+math.Log(noPlateau) || math.IsNaN(level) {
			continue
		}
		for k, c := range w.c.Contrasts {
			if (c.Measure != "plateau" && c.Measure != "rate") || (c.Arm != arm && c.Reference != arm) {
				continue
			}
			text := fmt.Sprintf("the fit cannot tell the plateau of arm %s (%.3g) from nothing, so that plateau and rate rest on the shape of the curve and not on attempts", ArmName(arm), math.Exp(level))
			c.Warnings = append(slices.Clone(c.Warnings), analysis.Warning{Code: "plateau-at-bound", Text: text})
			if c.Caution == "" {
				c.Caution = text
			}
			w.c.Contrasts[k] = c
		}
	}
}

// cohortSample is the numbers of a measure behind the contrasts of the cohort's curve; nil
// without them.
func (w *comparing) cohortSample(measure string) *sample {
	k := slices.IndexFunc(w.samples, func(x sample) bool { return x.measure == measure && x.basis == BasisCohort })
	if k < 0 {
		return nil
	}
	return &w.samples[k]
}

// middle is an arm's mean of a sample with its standard error; NaN for both without numbers.
func (w *comparing) middle(x sample, arm string) (mean, se float64) {
	values := w.armOf(arm, w.members[arm], x.values).Known().Values
	mean, sd := stat.MeanStdDev(values, nil)
	return mean, sd / math.Sqrt(float64(len(values)))
}
