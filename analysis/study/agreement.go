package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/agreement"
	"tyro/analysis/practice"
)

// An AgreementQuestion is what can be asked about the raters; the zero value is ready
// to use.
type AgreementQuestion struct {
	Cut         *float64                  // scores at or above it pass; nil: no decisions on numbers
	LowerBetter bool                      // scores at or below the cut pass, and a strict rater scores high
	Weights     *practice.CategoryWeights // custom agreement weights of the categories
	Costs       *MeasuringCosts           // of the decision tables; nil: the fewest ratings are looked for
	Target      float64                   // coefficient that the decision tables aim at; 0 means 0.8
	MostRaters  int                       // of the decision tables; 0 means 6
	MostOthers  int                       // performances or items at most; 0 means 12
}

// MeasuringCosts are what measuring one trainee costs, in any unit.
type MeasuringCosts struct {
	Performance float64 // of one more performance (or item): room, kit, staff
	Rating      float64 // of one rating of one performance
}

// settled puts the defaults in place.
func (q AgreementQuestion) settled() AgreementQuestion {
	if q.Target == 0 {
		q.Target = 0.8
	}
	if q.MostRaters == 0 {
		q.MostRaters = 6
	}
	if q.MostOthers == 0 {
		q.MostOthers = 12
	}
	return q
}

// An Agreement is how far the raters agree, item by item.
type Agreement struct {
	Items    []ItemAgreement // the mean of several items on one scale, where it can be taken, is the first
	Warnings Warnings
}

// An ItemAgreement is what the ratings of one item say.
type ItemAgreement struct {
	Item              practice.RatedItem
	agreement.Summary // of each rater's first ratings

	Readings         []agreement.Reading
	Generalizability *MeasuringStudy // nil for categories without order, and where it could not be estimated
	Severities       []RaterSeverity // nil where scores have no better and worse
	Pairs            []RaterPair
	Decisions        *RatedDecisions  // nil without a cut between pass and fail
	Differences      *PairDifferences // nil unless there are two raters of numbers
	Repeats          []RepeatedRatings
	RatingModel      *RatingModel // nil unless scores are ordinal and the model could be fitted
}

// AllItems names the entry for the mean of several items on one scale.
const AllItems = "all items"

// Agreement summarises every rated item of the study.
func (s *Study) Agreement(ctx context.Context, q AgreementQuestion) (*Agreement, error) {
	if len(s.Items) == 0 {
		return nil, errors.New("the study has no ratings")
	}
	w := &ratingsWork{Study: s, question: q.settled(), out: &Agreement{}, options: agreement.Options{Level: s.Options.Level, Sampling: s.shown()}}
	if err := w.together(ctx); err != nil {
		return nil, err
	}
	for _, it := range s.Items {
		if err := w.item(ctx, it); err != nil {
			return nil, fmt.Errorf("item %s: %w", it.Name, err)
		}
	}
	return w.out, nil
}

// ratingsWork carries what every part of the answer needs.
type ratingsWork struct {
	*Study
	question AgreementQuestion
	options  agreement.Options
	out      *Agreement
}

// warn names the item before a warning.
func (w *ratingsWork) warn(code, item, text string) { w.out.Warnings.Add(code, item+": "+text) }

// of are the options for one item: its categories and which is the positive one.
func (w *ratingsWork) of(it practice.RatedItem) (agreement.Options, error) {
	o := w.options
	for i := range it.Categories {
		o.Categories = append(o.Categories, float64(i))
	}
	if c := w.question.Weights; c != nil {
		var err error
		if o.Categories, o.Weights, err = weightsFor(c, it); err != nil {
			return o, err
		}
	}
	o.LowerPositive = firstPositive(it)
	return o, nil
}

// firstPositive reports whether the first of two categories is the positive one.
func firstPositive(it practice.RatedItem) bool {
	if len(it.Categories) != 2 || positiveWord(it.Categories[1]) {
		return false
	}
	return positiveWord(it.Categories[0]) || negativeWord(it.Categories[1]) && !negativeWord(it.Categories[0])
}

// passWordKnown reports whether the words say which of two categories is the positive one.
func passWordKnown(words []string) bool {
	return slices.ContainsFunc(words, positiveWord) || slices.ContainsFunc(words, negativeWord)
}

func negativeWord(s string) bool {
	return slices.Contains([]string{"no", "n", "fail", "failed", "negative", "absent", "false", "not done", "not met", "not competent", "not yet", "unsatisfactory", "0"}, strings.ToLower(s))
}

func positiveWord(s string) bool {
	return slices.Contains([]string{"yes", "y", "pass", "passed", "positive", "present", "true", "done", "met", "competent", "satisfactory", "1"}, strings.ToLower(s))
}

// item summarises one item.
func (w *ratingsWork) item(ctx context.Context, it practice.RatedItem) error {
	a, err := w.summarise(ctx, it)
	if err != nil {
		return err
	}
	if err := w.measuring(&a); err != nil {
		return err
	}
	if err := w.raters(ctx, &a); err != nil {
		return err
	}
	if err := w.repeats(ctx, &a); err != nil {
		return err
	}
	if it.Scale == "ordinal" {
		w.ratingModel([]practice.RatedItem{it}, &a)
	}
	w.out.Items = append(w.out.Items, a)
	return nil
}

// summarise computes the coefficients of one item, and says which have no number.
func (w *ratingsWork) summarise(ctx context.Context, it practice.RatedItem) (ItemAgreement, error) {
	o, err := w.of(it)
	if err != nil {
		return ItemAgreement{}, err
	}
	s, err := agreement.Summarise(ctx, it.Scores, it.Scale, o)
	if err != nil {
		return ItemAgreement{}, err
	}
	a := ItemAgreement{Item: it, Summary: s, Readings: agreement.Readings(s.Coefficients)}
	for i := range a.Coefficients {
		c := &a.Coefficients[i]
		c.Name = categoryNamed(c.Name, it.Categories)
		if math.IsNaN(c.Estimate) {
			w.out.Warnings.Add("agreement-note", it.Name+", "+c.Name+": "+c.Note)
		}
	}
	for _, x := range s.Warnings {
		w.warn(x.Code, it.Name, x.Text)
	}
	if n, missing := skipped(it); missing != "" {
		w.warn("category-unused", it.Name, fmt.Sprintf("no score is %s: the coefficients of Gwet and of Brennan and Prediger depend on how many categories a scale has, and count the %d that were given; where it has more, list its levels in the study file", missing, n))
	}
	if s.Paradox != "" {
		w.warn("agreement-paradox", it.Name, s.Paradox)
	}
	return a, nil
}

// skipped is how many whole numbers were given on an ordinal scale, and the first one between them
// that nobody gave; blank where there is none, or the scale has steps other than 1.
func skipped(it practice.RatedItem) (given int, missing string) {
	seen := distinct(it.Scores)
	if it.Scale != "ordinal" || it.Categories != nil || len(seen) < 2 || len(seen) > 10 {
		return len(seen), ""
	}
	ones := false // two neighbours are 1 apart
	for k, v := range seen {
		if v != math.Trunc(v) {
			return len(seen), ""
		}
		if k == 0 {
			continue
		}
		ones = ones || v == seen[k-1]+1
		if v > seen[k-1]+1 && missing == "" {
			missing = fmt.Sprintf("%g", seen[k-1]+1)
		}
	}
	if !ones {
		return len(seen), ""
	}
	return len(seen), missing
}

// categoryNamed puts a category's word where the analysis has its code.
func categoryNamed(name string, words []string) string {
	var code int
	if n, _ := fmt.Sscanf(name, "specific-agreement(%d)", &code); n == 1 && code >= 0 && code < len(words) {
		return "specific-agreement(" + words[code] + ")"
	}
	return name
}
