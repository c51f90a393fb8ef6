package study

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/analysis/standard"
)

// A Classification is how far pass and fail at the standard can be relied on.
type Classification struct {
	standard.Classification
	Reliability             float64
	Source                  string  // of the reliability, in words
	TrueLowest, TrueHighest float64 // between which true scores lie, in units of the measure
}

// classify is for a known reliability of the trainees' values.
func (a *Standard) classify(s *Study) error {
	e := s.evidence()
	reliability, source, err := a.reliability(s)
	if err != nil {
		a.Warnings.Add("no-reliability", err.Error())
		return nil
	}
	if reliability == 0 {
		return nil
	}
	if len(e.Values) == 0 {
		return errors.New("what pass and fail are worth needs a value of every trainee, in a table")
	}
	if math.IsNaN(a.Estimate.Value) {
		return nil
	}
	sign, low, high := 1.0, a.Rule.Lowest, a.Rule.Highest
	if a.Lower { // the analysis takes larger scores as better
		sign, low, high = -1, -high, -low
	}
	var scores []float64
	for _, v := range e.Values {
		if !math.IsNaN(v) {
			scores = append(scores, sign*v)
		}
	}
	c, err := standard.Classify(scores, standard.Test{Lowest: low, Highest: high, Reliability: reliability, Standard: sign * a.Estimate.Value})
	if err != nil {
		return err
	}
	a.Warnings.With(c.Warnings)
	a.Classification = &Classification{
		Classification: c, Reliability: reliability, Source: source,
		TrueLowest: low + c.TrueScores.Lower*(high-low), TrueHighest: low + c.TrueScores.Upper*(high-low),
	}
	if a.Lower {
		k := a.Classification
		k.TrueLowest, k.TrueHighest = -k.TrueHighest, -k.TrueLowest
	}
	return nil
}

// reliability is the one stated, or that of the parts of the trainees' values: of a
// sum of items by Cronbach's alpha, of a mean of raters by the intraclass correlation
// for absolute agreement of their mean. 0 where it is not known.
func (a *Standard) reliability(s *Study) (value float64, source string, err error) {
	if a.Rule.Reliability > 0 {
		return a.Rule.Reliability, "stated", nil
	}
	e := s.evidence()
	if len(e.Parts) == 0 {
		return 0, "", nil
	}
	c := agreement.CronbachAlpha(e.Parts, s.Options.Level)
	source = fmt.Sprintf("Cronbach's alpha of %d items", len(e.Parts[0]))
	if e.PartsAreRaters {
		forms := agreement.ICC(e.Parts, s.Options.Level)
		c = forms[slices.IndexFunc(forms, func(c agreement.Coefficient) bool { return c.Name == "icc(a,k)" })]
		source = fmt.Sprintf("icc(a,k) of %d raters", len(e.Parts[0]))
	}
	switch {
	case c.Estimate > 0 && c.Estimate < 1:
		return c.Estimate, source, nil
	case math.IsNaN(c.Estimate):
		return 0, "", fmt.Errorf("the reliability of the trainees' scores (%s) is not defined, so the accuracy of pass and fail cannot be given: %s", source, c.Note)
	}
	return 0, "", fmt.Errorf("the reliability of the trainees' scores (%s) is %.3g, which is not between 0 and 1, so the accuracy of pass and fail cannot be given", source, c.Estimate)
}
