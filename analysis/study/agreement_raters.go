package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/analysis/practice"
)

// A RaterSeverity is one rater: how much lower than the panel's average the same
// performances are scored. Positive is stricter, whichever scores are better.
type RaterSeverity struct {
	Name string
	agreement.Severity
	PassRate float64 // NaN without a cut
}

// A RaterPair is two raters on the subjects both rated.
type RaterPair struct {
	A, B       string
	Both       int
	Difference float64 // mean of A's scores minus B's
	Flips      float64 // share that one passes and the other fails; NaN without a cut
}

// RatedDecisions are what disagreement does to pass and fail.
type RatedDecisions struct {
	agreement.Flips
	Pass       string // which scores pass, in words
	ByCategory bool   // one of two categories passes, and there is no cut
}

// PairDifferences are the limits of agreement of the only two raters.
type PairDifferences struct {
	A, B string
	agreement.Differences
}

// AllRaters stands for every rater where raters are taken together.
const AllRaters = "all raters"

// RepeatedRatings are one rater's ratings of the same subjects on two occasions.
type RepeatedRatings struct {
	Rater        string // or AllRaters
	From, To     string
	N            int     // subjects
	WithinSD     float64 // within a subject; NaN for categories without order
	Coefficients []agreement.Coefficient
}

// raters adds severities, pairs, decisions and limits of agreement.
func (w *ratingsWork) raters(ctx context.Context, a *ItemAgreement) error {
	if a.Raters < 2 || a.Subjects < 2 {
		return nil
	}
	scores, cut, pass := w.graded(a.Item)
	if scores == nil {
		return nil
	}
	if !w.severities(scores, a) {
		return nil
	}
	apart := 0
	for _, p := range agreement.Pairs(scores, cut) {
		a.Pairs = append(a.Pairs, RaterPair{A: a.Item.Raters[p.A], B: a.Item.Raters[p.B], Both: p.Both, Difference: p.Difference, Flips: p.Flips})
		if p.Both == 0 {
			apart++
		}
	}
	if apart > 0 {
		w.warn("pairs-never-met", a.Item.Name, fmt.Sprintf("%d of %d pairs of raters never rated the same subject", apart, len(a.Pairs)))
	}
	if cut != nil {
		f, err := agreement.DecisionFlips(ctx, scores, *cut, w.options)
		if err != nil {
			return err
		}
		a.Decisions = &RatedDecisions{Flips: f, Pass: pass, ByCategory: a.Item.Scale == "nominal"}
		for j := range a.Severities {
			a.Severities[j].PassRate = f.PassRate[j]
		}
	}
	if a.Item.Categories == nil && a.Item.Scale != "nominal" {
		differences(a, w.Options.Level)
	}
	return nil
}

// severities adds how strict each rater is; false where that cannot be estimated.
func (w *ratingsWork) severities(scores agreement.Ratings, a *ItemAgreement) bool {
	estimate := func() ([]agreement.Severity, error) { return agreement.Severities(scores, w.Options.Level) }
	if a.Item.When != nil {
		estimate = func() ([]agreement.Severity, error) {
			return agreement.SeveritiesOverTime(scores, a.Item.When, w.Options.Level)
		}
	}
	all, err := estimate()
	if err != nil {
		w.warn("no-severity", a.Item.Name, err.Error())
		return false
	}
	for _, x := range all {
		if w.question.LowerBetter && a.Item.Categories == nil {
			x.Estimate, x.Lower, x.Upper = -x.Estimate, -x.Upper, -x.Lower
			x.Drift, x.DriftLower, x.DriftUpper = -x.Drift, -x.DriftUpper, -x.DriftLower
		}
		a.Severities = append(a.Severities, RaterSeverity{Name: a.Item.Raters[x.Rater], Severity: x, PassRate: math.NaN()})
		if math.IsNaN(x.Estimate) {
			w.warn("rater-not-compared", a.Item.Name, fmt.Sprintf("%s shares no rated subject with another rater, so nothing is known of how strict", a.Item.Raters[x.Rater]))
		} else if x.Group > 0 {
			w.warn("unconnected-raters", a.Item.Name, "not all raters share subjects, directly or through others; severities can be compared within a group only")
		}
	}
	return true
}

// graded is the item as numbers that mean better or worse, with the cut between
// pass and fail: 1 for the positive one of two categories. nil where categories
// have no order.
func (w *ratingsWork) graded(it practice.RatedItem) (agreement.Ratings, *agreement.Cut, string) {
	seen := distinct(it.Scores)
	if it.Scale == "nominal" {
		words := it.Categories
		if len(words) == 0 && len(seen) == 2 {
			words = []string{fmt.Sprint(seen[0]), fmt.Sprint(seen[1])}
		}
		if len(words) != 2 {
			return nil, nil, ""
		}
		positive, word := 1.0, words[1]
		if it.Categories == nil {
			positive = seen[1]
		} else if firstPositive(it) {
			positive, word = 0, words[0]
		} else if !passWordKnown(words) {
			w.warn("pass-word-unknown", it.Name, fmt.Sprintf("which of %s and %s passes is not known from the words, and %s is taken; where it is the other, say --same %q (in a study file: levels of the item, the better one last)", words[0], words[1], word, words[0]+"=pass"))
		}
		return positives(it.Scores, positive), &agreement.Cut{At: 0.5}, word
	}
	if it.Categories == nil && slices.Equal(seen, []float64{0, 1}) {
		w.warn("pass-fail-as-numbers", it.Name, "all scores are 0 or 1 and are read as measurements; where they are pass and fail, --scale nominal gives kappa, the agreement on each and the decisions that differ")
	}
	cut := w.question.Cut
	if cut == nil || it.Categories != nil {
		return it.Scores, nil, ""
	}
	if len(seen) == 0 || *cut < seen[0] || *cut > seen[len(seen)-1] {
		w.warn("cut-outside", it.Name, fmt.Sprintf("the cut %g lies outside its scores, so no decisions are made on it", *cut))
		return it.Scores, nil, ""
	}
	side := "at or above"
	if w.question.LowerBetter {
		side = "at or below"
	}
	return it.Scores, &agreement.Cut{At: *cut, Lower: w.question.LowerBetter}, fmt.Sprintf("%s %g", side, *cut)
}

// positives are ratings as 1 for the positive category and 0 for the other.
func positives(scores [][]float64, positive float64) agreement.Ratings {
	out := make(agreement.Ratings, len(scores))
	for i, row := range scores {
		for _, v := range row {
			switch {
			case math.IsNaN(v):
			case v == positive:
				v = 1
			default:
				v = 0
			}
			out[i] = append(out[i], v)
		}
	}
	return out
}

// distinct lists the scores given, in order.
func distinct(scores [][]float64) []float64 {
	var all []float64
	for _, row := range scores {
		for _, v := range row {
			if !math.IsNaN(v) {
				all = append(all, v)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// differences adds limits of agreement for two raters, with allowance for several
// performances of a trainee.
func differences(a *ItemAgreement, level float64) {
	if a.Raters != 2 {
		return
	}
	x, y := make([]float64, len(a.Item.Scores)), make([]float64, len(a.Item.Scores))
	for i, row := range a.Item.Scores {
		x[i], y[i] = row[0], row[1]
	}
	d := agreement.LimitsOfAgreement(x, y, level)
	if a.Item.Trainees != nil {
		groups := make([]int, len(a.Item.Trainees))
		for i, t := range a.Item.Trainees {
			groups[i] = slices.Index(a.Item.Trainees, t)
		}
		d = agreement.RepeatedLimits(x, y, groups, level)
	}
	if d.N < 2 {
		return
	}
	a.Differences = &PairDifferences{A: a.Item.Raters[0], B: a.Item.Raters[1], Differences: d}
	if !d.Repeated {
		return
	}
	limits := map[string][3]float64{"mean-difference": {d.Mean, d.MeanLower, d.MeanUpper}, "limits-of-agreement-lower": d.Lower, "limits-of-agreement-upper": d.Upper}
	for i := range a.Coefficients {
		c := &a.Coefficients[i]
		if l, ok := limits[c.Name]; ok {
			c.Estimate, c.Lower, c.Upper, c.SE, c.Note = l[0], l[1], l[2], math.NaN(), "allows for several performances of a trainee"
		}
	}
}

// repeats compares every rater with the same rater on another occasion.
func (w *ratingsWork) repeats(ctx context.Context, a *ItemAgreement) error {
	if len(a.Item.Occasions) < 2 {
		return nil
	}
	w.warn("first-occasion", a.Item.Name, "the coefficients between raters use each rater's first rating of a subject")
	first := a.Item.Rounds[0]
	for r := 1; r < len(a.Item.Rounds); r++ {
		var all agreement.Ratings
		for j, rater := range a.Item.Raters {
			var pairs agreement.Ratings
			for i := range first {
				if !math.IsNaN(first[i][j]) && !math.IsNaN(a.Item.Rounds[r][i][j]) {
					pairs = append(pairs, []float64{first[i][j], a.Item.Rounds[r][i][j]})
				}
			}
			if len(pairs) > 0 {
				if err := w.repeat(ctx, rater, r, pairs, a); err != nil {
					return err
				}
			}
			all = append(all, pairs...)
		}
		if len(a.Item.Raters) > 1 && len(all) > 0 {
			if err := w.repeat(ctx, AllRaters, r, all, a); err != nil {
				return err
			}
		}
	}
	return nil
}

func (w *ratingsWork) repeat(ctx context.Context, rater string, r int, pairs agreement.Ratings, a *ItemAgreement) error {
	o, err := w.of(a.Item)
	if err != nil {
		return err
	}
	s, err := agreement.Summarise(ctx, pairs, a.Item.Scale, o)
	if err != nil {
		return err
	}
	out := RepeatedRatings{Rater: rater, From: a.Item.Occasions[0], To: a.Item.Occasions[r], N: len(pairs), WithinSD: math.NaN()}
	keep := []string{"percent-agreement", "cohen-kappa", "weighted-kappa-quadratic", "gwet-ac1"}
	if a.Item.Scale != "nominal" {
		keep = append(keep, "icc(a,1)", "mean-difference", "limits-of-agreement-lower", "limits-of-agreement-upper")
		x, y := make([]float64, len(pairs)), make([]float64, len(pairs))
		for i, p := range pairs {
			x[i], y[i] = p[0], p[1]
		}
		out.WithinSD = agreement.WithinSD(x, y)
	}
	for _, c := range s.Coefficients {
		if !slices.Contains(keep, c.Name) {
			continue
		}
		if rater == AllRaters {
			c.Note = "all raters' pairs together, taken as independent"
		}
		out.Coefficients = append(out.Coefficients, c)
	}
	a.Repeats = append(a.Repeats, out)
	return nil
}
