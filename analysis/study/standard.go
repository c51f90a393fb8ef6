package study

import (
	"context"
	"fmt"
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// The methods of setting a standard.
const (
	ExpertMean           = "expert-mean"
	ExpertMedian         = "expert-median"
	ExpertPercentile     = "expert-percentile"
	ContrastingGroups    = "contrasting-groups"
	BorderlineGroup      = "borderline-group"
	BorderlineRegression = "borderline-regression"
	Angoff               = "angoff"
	Hofstee              = "hofstee"
	Ebel                 = "ebel"
)

// The methods of a standard that was not computed here.
const (
	AsDecided = "as-decided" // the study file has the value
	AsGiven   = "as-given"   // the value was asked for in this run
)

// StandardMethods lists the methods that compute a standard.
func StandardMethods() []string {
	return []string{ExpertMean, ExpertMedian, ExpertPercentile, ContrastingGroups, BorderlineGroup, BorderlineRegression, Angoff, Hofstee, Ebel}
}

// FromExperts reports whether a method takes a group of experts.
func FromExperts(method string) bool {
	return slices.Contains([]string{ExpertMean, ExpertMedian, ExpertPercentile}, method)
}

// A StandardRule says how a standard is set. The zero value is the mean of the
// experts, each counted with the mean of all their runs.
type StandardRule struct {
	Method string // "" means expert-mean

	SDs      float64 // experts: distance from the mean or median on the lenient side
	Share    float64 // expert-percentile: 0.75 for the 75th; 0 means 0.5
	Drop     standard.Drop
	Log      bool   // expert-mean: on the log scale
	Summary  string // of an expert's runs: mean, median, best or last; "" means mean
	SkipRuns int    // first runs of every expert left out, as familiarisation

	Crossing   standard.Crossing // contrasting-groups; "" means normal
	Borderline float64           // borderline methods: the rating that means borderline
	UseMedian  bool              // borderline-group: the median in place of the mean
	Step       float64           // hofstee: distance between possible standards; 0 means 1

	Reliability     float64 // of the trainees' values; 0: of the parts of the values, where they are known
	Lowest, Highest float64 // possible values, for what pass and fail are worth; both 0 mean 0 to 100

	Decided *Decided // the lines for the study file; nil: not asked for
}

// Decided is who made a value the standard, when, and on which data. Blank stays
// blank.
type Decided struct {
	Value        *float64 // nil: the estimate
	By, On, Data string
}

// A StandardOrigin says where a standard comes from.
type StandardOrigin int

// The origins.
const (
	AskedFor     StandardOrigin = iota // by the rule of the caller
	AsComputed                         // by the rule in the study file (computed:)
	ByDefault                          // the mean of the experts, since the study file has no rule
	FromDecision                       // the value in the study file
	FromRun                            // a value given for this run alone
)

// A Standard is the level to reach, what it was made of, and who depends on it.
type Standard struct {
	Rule     StandardRule // with its defaults in place
	Origin   StandardOrigin
	Lower    bool // smaller values are better
	Estimate standard.Estimate

	FalsePass, FalseFail float64 // shares of the judged groups at the standard; NaN where none were judged

	// What the standard was made of; nil for other methods.
	Experts      *ExpertPanel
	Alternatives []StandardAlternative
	Groups       *standard.Contrast
	Line         *BorderlineLine
	Rounds       []AngoffRound // the last one sets the standard
	PanelSizes   []PanelSize
	Ebel         *EbelPanel
	Compromise   *standard.Compromise

	Classification *Classification    // nil where no reliability is known
	Status         *StatusChange      // nil without trainees or an interval
	Expected       *ExpectedErrors    // nil without trainees' attempts
	InForce        *practice.Decision // the standard of the study file; nil where it has none
	Given          *practice.Decision // the standard asked for in this run; nil where none was
	Decision       *practice.Decision // as the study file would hold it, its method left to be worded; nil: not asked for

	Warnings Warnings
}

// A StandardAlternative is the same question answered by another rule.
type StandardAlternative struct {
	Rule     StandardRule
	Estimate standard.Estimate
	Chosen   bool // it is the standard
}

// settled puts the defaults in place.
func (r StandardRule) settled() StandardRule {
	if r.Method == "" {
		r.Method = ExpertMean
	}
	if r.Method == ExpertPercentile && r.Share == 0 {
		r.Share = 0.5
	}
	if r.Crossing == "" {
		r.Crossing = standard.Normal
	}
	if r.Step == 0 {
		r.Step = 1
	}
	if r.Lowest == 0 && r.Highest == 0 {
		r.Highest = 100
	}
	return r
}

// Standard sets a standard by a rule: from the experts, or from the evidence of a
// table.
func (s *Study) Standard(ctx context.Context, rule StandardRule) (*Standard, error) {
	rule = rule.settled()
	out := &Standard{Rule: rule, Lower: s.Task.Lower, FalsePass: math.NaN(), FalseFail: math.NaN()}
	err := out.estimate(ctx, s)
	if err != nil {
		return nil, err
	}
	out.Warnings.With(out.Estimate.Warnings)
	out.remarkRange(s.Task.Measure)
	switch {
	case !math.IsNaN(out.FalsePass):
	case rule.Method == ContrastingGroups:
		out.Warnings.Add("no-error-rates", "without a standard there are no false passes and fails to count")
	default:
		out.Warnings.Add("no-error-rates", "false passes and fails are known only where trainees judged competent and not yet competent are compared (contrasting-groups)")
	}
	if rule.Method == ContrastingGroups && rule.Crossing == standard.Youden {
		out.Warnings.Add("no-standard-error", "the observed value that parts the groups best has an interval but no standard error")
	}
	out.decide(s)
	out.Status = s.statusChange(out.Estimate)
	if err := out.classify(s); err != nil {
		return nil, err
	}
	if d := s.Task.Standard; d != nil && d.Given {
		out.Given = d
	} else {
		out.InForce = d
	}
	out.Expected = s.expectedErrors(out)
	return out, nil
}

// remarkRange says where a standard, or its interval, goes where no time or count can be.
func (a *Standard) remarkRange(m practice.Measure) {
	if m != practice.Time && m != practice.Count {
		return
	}
	way := ""
	if a.Rule.Method == ExpertMean && !a.Rule.Log && m == practice.Time {
		way = "; --log-scale keeps it above 0"
	}
	switch {
	case a.Estimate.Value < 0 || a.Estimate.Value == 0 && m == practice.Time:
		a.Warnings.Add("standard-beyond", fmt.Sprintf("the standard of %.4g is one that no %s can meet", a.Estimate.Value, m))
	case a.Estimate.Lower < 0:
		a.Warnings.Add("interval-beyond", fmt.Sprintf("the interval goes below 0, where no %s can be: it takes the values for normal ones, and they are few or skewed%s", m, way))
	}
}

// estimate follows the method.
func (a *Standard) estimate(ctx context.Context, s *Study) error {
	switch a.Rule.Method {
	case ExpertMean, ExpertMedian, ExpertPercentile:
		return a.fromExperts(ctx, s)
	case ContrastingGroups:
		return a.fromGroups(ctx, s)
	case BorderlineGroup, BorderlineRegression:
		return a.fromRatings(ctx, s)
	case Angoff:
		return a.fromJudgements(s)
	case Hofstee:
		return a.fromBounds(ctx, s)
	case Ebel:
		return a.fromClasses(s)
	}
	return fmt.Errorf("method %q is not one of %v", a.Rule.Method, StandardMethods())
}

// evidence is what a table gave; without a table it is empty.
func (s *Study) evidence() practice.Evidence {
	if s.Evidence == nil {
		return practice.Evidence{}
	}
	return *s.Evidence
}

// CurrentStandard is the study's own standard: the value given for this run; else
// computed again from the experts as the study file says; else as the file has it,
// with the interval that it states. Where there is none of these it is the mean of
// the experts.
func (s *Study) CurrentStandard(ctx context.Context) (*Standard, error) {
	return s.standard.get(ctx, func() (*Standard, error) {
		d := s.Task.Standard
		switch {
		case d == nil && len(s.Experts) == 0:
			return nil, fmt.Errorf("the study has neither a standard nor experts to set one")
		case d != nil && (d.Given || len(s.Experts) == 0 || d.Computed == nil && len(d.Interval) == 2):
			return s.stated(*d), nil
		}
		rule, origin := StandardRule{}, ByDefault
		if d != nil && d.Computed != nil {
			rule, origin = RuleOf(*d.Computed), AsComputed
		}
		a, err := s.Standard(ctx, rule)
		if err != nil {
			return nil, err
		}
		a.Origin = origin
		return a, nil
	})
}

// stated is a standard as somebody stated it, and whom that decides about.
func (s *Study) stated(d practice.Decision) *Standard {
	nan := math.NaN()
	out := &Standard{
		Rule: StandardRule{Method: AsDecided}, Origin: FromDecision, Lower: s.Task.Lower, FalsePass: nan, FalseFail: nan, InForce: &d,
		Estimate: standard.Estimate{Value: d.Value, SE: nan, Lower: nan, Upper: nan, Level: d.Level},
	}
	e := &out.Estimate
	if e.Level == 0 {
		e.Level = 0.95
	}
	if len(d.Interval) == 2 {
		e.Lower, e.Upper = d.Interval[0], d.Interval[1]
	}
	if d.FalsePass != nil {
		out.FalsePass = *d.FalsePass
	}
	if d.FalseFail != nil {
		out.FalseFail = *d.FalseFail
	}
	without := "the study file does not say how sure the standard is (interval:)"
	if d.Given {
		out.Rule.Method, out.Origin, out.InForce, out.Given = AsGiven, FromRun, nil, &d
		without = "a standard given for this run has no interval"
	}
	if math.IsNaN(e.Lower) {
		out.Warnings.Add("standard-without-interval", without+", so it is not known how many trainees depend on it")
	}
	out.Warnings.Add("no-standard-error", "a standard that is not computed from the study's experts has no standard error")
	out.Status, out.Expected = s.statusChange(*e), s.expectedErrors(out)
	return out
}
