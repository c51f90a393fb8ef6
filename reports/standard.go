package reports

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"tyro/analysis/agreement"
	"tyro/analysis/practice"
	"tyro/analysis/standard"
)

// The methods of the command standard.
const (
	ExpertMean           = "expert-mean"
	ExpertMedian         = "expert-median"
	ExpertPercentile     = "expert-percentile"
	ContrastingGroups    = "contrasting-groups"
	BorderlineGroup      = "borderline-group"
	BorderlineRegression = "borderline-regression"
	AngoffMethod         = "angoff"
	HofsteeMethod        = "hofstee"
	EbelMethod           = "ebel"
)

// StandardMethods lists them.
func StandardMethods() []string {
	return []string{ExpertMean, ExpertMedian, ExpertPercentile, ContrastingGroups, BorderlineGroup, BorderlineRegression, AngoffMethod, HofsteeMethod, EbelMethod}
}

// FromExperts reports whether a method takes a group of experts.
func FromExperts(method string) bool {
	return slices.Contains([]string{ExpertMean, ExpertMedian, ExpertPercentile}, method)
}

// A StandardQuestion says which standard is asked for.
type StandardQuestion struct {
	Method   string
	Lower    bool    // smaller values are better
	SDs      float64 // experts: distance from the mean or median on the lenient side
	Share    float64 // expert-percentile: 0.75 for the 75th
	Drop     standard.Drop
	Log      bool // experts: on the log scale
	Crossing standard.Crossing

	Borderline float64 // the borderline rating
	UseMedian  bool    // borderline group: the median rather than the mean
	Step       float64 // hofstee: distance of possible standards

	Reliability     float64 // of the trainees' score; 0 leaves classification out
	Lowest, Highest float64 // possible scores, for classification

	Decision StandardDecision
}

// StandardData are the values a method needs; the others stay nil.
type StandardData struct {
	Label     string      // of the values
	Experts   []float64   // one a person
	Names     []string    // of the experts; nil where rows are experts
	Runs      [][]float64 // of each expert
	SkipRuns  int         // of which the first are familiarisation
	RunsEach  string      // how an expert's runs became one value
	Trainees  []float64
	Parts     [][]float64 // of the trainees' scores, [trainee][item or rater]; nil where they are not known
	Competent []bool
	Ratings   []float64
	Rounds    []JudgeRound
	Bounds    []standard.Bound
	Classes   []JudgeClasses

	PartsAreRaters bool
	Computed       *practice.Computed // of a study's experts
}

// JudgeClasses is how one judge sorted the items into classes: how many, and the
// share of them that a borderline trainee gets right.
type JudgeClasses struct {
	Judge  string
	Items  []int
	Shares []float64
}

// A JudgeRound is one round of judgements, [judge][item], chances from 0 to 1.
type JudgeRound struct {
	Name       string
	Judges     []string
	Judgements [][]float64
}

// Standard is the answer of the command standard.
type Standard struct {
	Header
	Method         string  `json:"method"`
	Estimate       Number  `json:"estimate"`
	SE             Number  `json:"se"`
	Lower          Number  `json:"lower"`
	Upper          Number  `json:"upper"`
	Level          float64 `json:"level"`
	IntervalMethod string  `json:"interval_method"`
	FalsePass      Number  `json:"false_pass"` // observed shares of the groups
	FalseFail      Number  `json:"false_fail"`
	N              Number  `json:"n"`
	Better         string  `json:"better"`
	Definition     string  `json:"definition"` // in words

	Experts        *ExpertGroup       `json:"experts,omitempty"`
	Alternatives   []Alternative      `json:"alternatives,omitempty"`
	Groups         []ContrastGroup    `json:"groups,omitempty"`
	Crossings      []Number           `json:"crossings,omitempty"`
	Observed       *ErrorShares       `json:"observed,omitempty"`
	Theoretical    *ErrorShares       `json:"theoretical,omitempty"`
	Logistic       *LogisticLine      `json:"logistic,omitempty"`
	Line           *RatingLine        `json:"line,omitempty"`
	Judges         []JudgePanel       `json:"rounds,omitempty"`
	Panels         []PanelSize        `json:"panels,omitempty"`
	Compromise     *Compromise        `json:"compromise,omitempty"`
	Classification *ClassificationOut `json:"classification,omitempty"`
	StatusChange   *StatusChange      `json:"status_change,omitempty"`
	InForce        *InForce           `json:"in_force,omitempty"`
	Expected       *ExpectedErrors    `json:"expected_errors,omitempty"`
	StudyBlock     string             `json:"study_block,omitempty"` // for the study file

	In       *Input           `json:"-"`
	Question StandardQuestion `json:"-"`
	Unit     string           `json:"-"`
	Data     StandardData     `json:"-"`
	Kept     []bool           `json:"-"` // of the experts
}

// An ExpertGroup is who the standard came from.
type ExpertGroup struct {
	N       int    `json:"n"`
	Dropped int    `json:"dropped"`
	Mean    Number `json:"mean"`
	SD      Number `json:"sd"`
	Median  Number `json:"median"`
	MAD     Number `json:"mad"`
	Meeting Number `json:"meeting"` // share of them who meet the standard
	Runs    string `json:"runs"`
}

// An Alternative is the same question answered another way.
type Alternative struct {
	Name     string `json:"name"`
	N        int    `json:"n"`
	Estimate Number `json:"estimate"`
	SE       Number `json:"se"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
	Note     string `json:"note"`
}

// A ContrastGroup is one of two contrasting groups.
type ContrastGroup struct {
	Name string `json:"name"`
	N    int    `json:"n"`
	Mean Number `json:"mean"`
	SD   Number `json:"sd"`
}

// ErrorShares are the shares of the groups on the wrong side.
type ErrorShares struct {
	FalsePass Number `json:"false_pass"`
	FalseFail Number `json:"false_fail"`
}

// A LogisticLine is the logistic regression beside two groups.
type LogisticLine struct {
	Intercept   Number `json:"intercept"`
	Slope       Number `json:"slope"`
	InterceptSE Number `json:"intercept_se"`
	SlopeSE     Number `json:"slope_se"`
	Estimate    Number `json:"estimate"`
	SE          Number `json:"se"`
}

// A RatingLine is a borderline regression's line, or a borderline group.
type RatingLine struct {
	Borderline     float64 `json:"borderline"`
	Intercept      Number  `json:"intercept"`
	Slope          Number  `json:"slope"`
	RSquared       Number  `json:"r_squared"`
	ResidualSD     Number  `json:"residual_sd"`
	BootstrapSE    Number  `json:"bootstrap_se"`
	BootstrapLower Number  `json:"bootstrap_lower"`
	BootstrapUpper Number  `json:"bootstrap_upper"`
	Replicates     int     `json:"replicates"`
	GroupN         int     `json:"group_n"`
	GroupMean      Number  `json:"group_mean"`
	GroupMedian    Number  `json:"group_median"`

	BandAt func(rating float64) float64 `json:"-"` // half of the line's interval
}

// A JudgePanel is one round of judgements summed up.
type JudgePanel struct {
	Round            string   `json:"round"`
	Judges           int      `json:"judges"`
	Items            int      `json:"items"`
	Estimate         Number   `json:"estimate"`
	Percent          Number   `json:"percent"`
	SD               Number   `json:"sd"`
	SE               Number   `json:"se"`
	Lower            Number   `json:"lower"`
	Upper            Number   `json:"upper"`
	Median           Number   `json:"median"`
	SEItemsRandom    Number   `json:"se_items_random"`
	Judge            Number   `json:"variance_judge"`
	Item             Number   `json:"variance_item"`
	Residual         Number   `json:"variance_residual"`
	Generalizability Number   `json:"generalizability"`
	Totals           []Number `json:"totals"`
	Names            []string `json:"names"`
}

// A PanelSize is the standard error that another number of judges would give.
type PanelSize struct {
	Judges int    `json:"judges"`
	SE     Number `json:"se"`
}

// A Compromise is the judges' box and where the curve meets it.
type Compromise struct {
	Judges       int       `json:"judges"`
	MinCut       Number    `json:"min_cut"`
	MaxCut       Number    `json:"max_cut"`
	MinFail      Number    `json:"min_fail"`
	MaxFail      Number    `json:"max_fail"`
	FailOnLine   Number    `json:"fail_on_line"`
	FailObserved Number    `json:"fail_observed"`
	FirstWhole   Number    `json:"first_whole"`
	Curve        []Failing `json:"curve"`
}

// Failing is the percentage failing at a standard.
type Failing struct {
	Standard Number `json:"standard"`
	Percent  Number `json:"percent"`
}

// A ClassificationOut is how far pass and fail can be relied on.
type ClassificationOut struct {
	Reliability    float64 `json:"reliability"`
	Source         string  `json:"reliability_source"`
	EffectiveItems Number  `json:"effective_items"`
	Accuracy       Number  `json:"accuracy"`
	FalsePass      Number  `json:"false_pass"`
	FalseFail      Number  `json:"false_fail"`
	Consistency    Number  `json:"consistency"`
	Kappa          Number  `json:"kappa"`
	PassShare      Number  `json:"pass_share"`        // under the model
	Passing        Number  `json:"passing"`           // of the scores given
	Error          Number  `json:"error_at_standard"` // of measurement, in score units
	Parameters     int     `json:"parameters"`        // of the beta distribution of true scores: 4, or 2
	Alpha          Number  `json:"alpha"`
	Beta           Number  `json:"beta"`
	TrueLowest     Number  `json:"true_lowest"`
	TrueHighest    Number  `json:"true_highest"`
}

// A StatusChange counts trainees whose status hangs on where the standard lies
// inside its interval.
type StatusChange struct {
	Definition string `json:"definition"`
	N          int    `json:"n"`
	Pass       int    `json:"pass"`
	PassLower  int    `json:"pass_at_lower"`
	PassUpper  int    `json:"pass_at_upper"`
	Differ     int    `json:"differ"`
}

// InForce is the standard the study file holds: who decided, when, on what.
type InForce struct {
	Value     Number `json:"value"`
	Lower     Number `json:"lower"` // null where the file does not say
	Upper     Number `json:"upper"`
	Method    string `json:"method"`
	DecidedBy string `json:"decided_by"`
	DecidedOn string `json:"decided_on"`
	Data      string `json:"data"`
}

// SetStandard answers one question. in gives the options, and for a study
// folder the trainees and the standard in force.
func SetStandard(ctx context.Context, in *Input, q StandardQuestion, data StandardData) (*Standard, error) {
	nan := Number(math.NaN())
	d := &Standard{Header: newHeader("standard", in), Method: q.Method, FalsePass: nan, FalseFail: nan, Better: "higher", In: in, Question: q, Unit: in.Task.Unit, Data: data}
	if q.Lower {
		d.Better = "lower"
	}
	var e standard.Estimate
	var err error
	switch q.Method {
	case ExpertMean, ExpertMedian, ExpertPercentile:
		e, err = d.experts(ctx, in, data)
	case ContrastingGroups:
		e, err = d.contrast(ctx, in, data)
	case BorderlineGroup, BorderlineRegression:
		e, err = d.borderline(ctx, in, data)
	case AngoffMethod:
		e, err = d.angoff(in, data)
	case HofsteeMethod:
		e, err = d.hofstee(ctx, in, data)
	case EbelMethod:
		e, err = d.ebel(in, data)
	default:
		err = fmt.Errorf("method %q is not one of %v", q.Method, StandardMethods())
	}
	if err != nil {
		return nil, err
	}
	d.Estimate, d.SE, d.Lower, d.Upper = Number(e.Value), Number(e.SE), Number(e.Lower), Number(e.Upper)
	d.Level, d.IntervalMethod, d.N = e.Level, e.Interval, Number(e.N)
	for _, w := range e.Warnings {
		d.Warn(w.Code, w.Text)
	}
	if math.IsNaN(float64(d.FalsePass)) {
		d.Warn("no-error-rates", "false passes and fails are known only where trainees judged competent and not yet competent are compared (contrasting-groups)")
	}
	if q.Method == ContrastingGroups && q.Crossing == standard.Youden {
		d.Warn("no-standard-error", "the observed value that parts the groups best has an interval but no standard error")
	}
	if err := d.decide(data.Computed); err != nil {
		return nil, err
	}
	d.status(in, e, data)
	if err := d.classify(data, e); err != nil {
		return nil, err
	}
	d.InForce = inForce(in.Task.Standard)
	d.expect(in, data)
	return d, nil
}

// inForce is nil without a standard.
func inForce(s *practice.Decision) *InForce {
	if s == nil {
		return nil
	}
	f := &InForce{Number(s.Value), Number(math.NaN()), Number(math.NaN()), s.Method, s.DecidedBy, s.DecidedOn, s.Data}
	if len(s.Interval) == 2 {
		f.Lower, f.Upper = Number(s.Interval[0]), Number(s.Interval[1])
	}
	return f
}

// status counts the trainees on either side: of one value each, or by the
// study's rule.
func (d *Standard) status(in *Input, e standard.Estimate, data StandardData) {
	if math.IsNaN(e.Lower) || math.IsNaN(e.Upper) {
		return
	}
	if len(data.Trainees) > 0 {
		c := standard.StatusChange(data.Trainees, e, d.Question.Lower)
		d.StatusChange = &StatusChange{"the trainee's value meets the standard", c.N, c.Pass, c.PassLower, c.PassUpper, c.Differ}
		return
	}
	if len(in.Trainees) == 0 {
		return
	}
	at, low, high := in.MetAt(e.Value), in.MetAt(e.Lower), in.MetAt(e.Upper)
	s := &StatusChange{Definition: "the trainee's last attempt meets the standard", N: len(at)}
	if in.Rule != nil {
		s.Definition = fmt.Sprintf("the trainee has met the rule %q", in.Rule)
	}
	for i := range at {
		s.Pass += One(at[i])
		s.PassLower += One(low[i])
		s.PassUpper += One(high[i])
		s.Differ += One(low[i] != high[i])
	}
	d.StatusChange = s
}

func One(b bool) int {
	if b {
		return 1
	}
	return 0
}

// metAt is whether each trainee has met the rule, or without one passed the
// last attempt, were the standard at this value.
func (in *Input) MetAt(level float64) []bool {
	out := make([]bool, len(in.Study.Trainees))
	for i, t := range in.Study.Trainees {
		passes := t.Passes(in.Question.Standard.At(level))
		switch {
		case in.Rule != nil:
			out[i] = in.Rule.FirstMet(passes) > 0
		case len(passes) > 0:
			out[i] = passes[len(passes)-1]
		}
	}
	return out
}

// reliability is the one stated, or that of the parts of the trainees' scores:
// of a sum of items by Cronbach's alpha, of a mean of raters by the intraclass
// correlation for absolute agreement of their mean. 0 where it is not known.
func (d *Standard) reliability(data StandardData) (value float64, source string, err error) {
	if d.Question.Reliability > 0 {
		return d.Question.Reliability, "stated", nil
	}
	if len(data.Parts) == 0 {
		return 0, "", nil
	}
	c := agreement.CronbachAlpha(data.Parts, d.Level)
	source = fmt.Sprintf("Cronbach's alpha of %d items", len(data.Parts[0]))
	if data.PartsAreRaters {
		forms := agreement.ICC(data.Parts, d.Level)
		c = forms[slices.IndexFunc(forms, func(c agreement.Coefficient) bool { return c.Name == "icc(a,k)" })]
		source = fmt.Sprintf("icc(a,k) of %d raters", len(data.Parts[0]))
	}
	if !(c.Estimate > 0 && c.Estimate < 1) {
		return 0, "", fmt.Errorf("the reliability of the trainees' scores (%s) is %s, so the accuracy of pass and fail cannot be given: %s", source, Significant(c.Estimate, 3), c.Note)
	}
	return c.Estimate, source, nil
}

// classify adds how far pass and fail can be relied on, where a reliability is
// known.
func (d *Standard) classify(data StandardData, e standard.Estimate) error {
	q := d.Question
	reliability, source, err := d.reliability(data)
	if err != nil {
		d.Warn("no-reliability", err.Error())
		return nil
	}
	if reliability == 0 {
		return nil
	}
	if len(data.Trainees) == 0 {
		return errors.New("classification accuracy needs a score for each trainee (--trainees FILE)")
	}
	if math.IsNaN(e.Value) {
		return nil
	}
	sign, low, high := 1.0, q.Lowest, q.Highest
	if q.Lower {
		sign, low, high = -1, -q.Highest, -q.Lowest
	}
	var scores []float64
	for _, v := range data.Trainees {
		if !math.IsNaN(v) {
			scores = append(scores, sign*v)
		}
	}
	c, err := standard.Classify(scores, standard.Test{Lowest: low, Highest: high, Reliability: reliability, Standard: sign * e.Value})
	if err != nil {
		return err
	}
	for _, w := range c.Warnings {
		d.Warn(w.Code, w.Text)
	}
	trueLow, trueHigh := low+c.TrueScores.Lower*(high-low), low+c.TrueScores.Upper*(high-low)
	if q.Lower {
		trueLow, trueHigh = -trueHigh, -trueLow
	}
	d.Classification = &ClassificationOut{
		Reliability: reliability, Source: source, EffectiveItems: Number(c.EffectiveItems), Accuracy: Number(c.Accuracy), FalsePass: Number(c.FalsePass), FalseFail: Number(c.FalseFail),
		Consistency: Number(c.Consistency), Kappa: Number(c.Kappa), PassShare: Number(c.PassShare), Passing: Number(c.Passing), Error: Number(c.ErrorAtStandard),
		Parameters: c.TrueScores.Parameters, Alpha: Number(c.TrueScores.Alpha), Beta: Number(c.TrueScores.Beta), TrueLowest: Number(trueLow), TrueHighest: Number(trueHigh),
	}
	return nil
}

func sdText(sds float64, unit string) string {
	return strconv.FormatFloat(sds, 'g', -1, 64) + " " + unit
}
