package reports

import (
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/standard"
	"tyro/analysis/study"
)

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

	Experts        *expertGroup    `json:"experts,omitempty"`
	Alternatives   []alternative   `json:"alternatives,omitempty"`
	Groups         []contrastGroup `json:"groups,omitempty"`
	Crossings      []Number        `json:"crossings,omitempty"`
	Observed       *errorShares    `json:"observed,omitempty"`
	Theoretical    *errorShares    `json:"theoretical,omitempty"`
	Logistic       *logisticLine   `json:"logistic,omitempty"`
	Line           *ratingLine     `json:"line,omitempty"`
	Judges         []judgePanel    `json:"rounds,omitempty"`
	Panels         []panelSize     `json:"panels,omitempty"`
	Compromise     *compromise     `json:"compromise,omitempty"`
	Classification *classification `json:"classification,omitempty"`
	StatusChange   *statusChange   `json:"status_change,omitempty"`
	InForce        *inForce        `json:"in_force,omitempty"`
	Expected       *expectedErrors `json:"expected_errors,omitempty"`
	StudyBlock     string          `json:"study_block,omitempty"` // for the study file

	// Decision is the standard as the study file would hold it, nil where that was not
	// asked for; StudyBlock is the same as text.
	Decision *practice.Decision `json:"-"`

	Unit     string             `json:"-"`
	Label    string             `json:"-"` // of the values
	Evidence *practice.Evidence `json:"-"` // nil for a study
	Answer   *study.Standard    `json:"-"`
}

// expertGroup is who the standard came from.
type expertGroup struct {
	N       int    `json:"n"`
	Dropped int    `json:"dropped"`
	Mean    Number `json:"mean"`
	SD      Number `json:"sd"`
	Median  Number `json:"median"`
	MAD     Number `json:"mad"`
	Meeting Number `json:"meeting"` // share of all experts with a value who meet the standard
	Runs    string `json:"runs"`
}

// alternative is the same question answered another way.
type alternative struct {
	Name     string `json:"name"`
	N        int    `json:"n"`
	Estimate Number `json:"estimate"`
	SE       Number `json:"se"`
	Lower    Number `json:"lower"`
	Upper    Number `json:"upper"`
	Note     string `json:"note"`
}

// contrastGroup is one of two contrasting groups.
type contrastGroup struct {
	Name string `json:"name"`
	N    int    `json:"n"`
	Mean Number `json:"mean"`
	SD   Number `json:"sd"`
}

// errorShares are the shares of the groups on the wrong side.
type errorShares struct {
	FalsePass Number `json:"false_pass"`
	FalseFail Number `json:"false_fail"`
}

// logisticLine is the logistic regression beside two groups.
type logisticLine struct {
	Intercept   Number `json:"intercept"`
	Slope       Number `json:"slope"`
	InterceptSE Number `json:"intercept_se"`
	SlopeSE     Number `json:"slope_se"`
	Estimate    Number `json:"estimate"`
	SE          Number `json:"se"`
}

// ratingLine is a borderline regression's line, or a borderline group.
type ratingLine struct {
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
}

// judgePanel is one round of judgements summed up.
type judgePanel struct {
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

// panelSize is the standard error that another number of judges would give.
type panelSize struct {
	Judges int    `json:"judges"`
	SE     Number `json:"se"`
}

// compromise is the judges' box and where the curve meets it.
type compromise struct {
	Judges       int       `json:"judges"`
	MinCut       Number    `json:"min_cut"`
	MaxCut       Number    `json:"max_cut"`
	MinFail      Number    `json:"min_fail"`
	MaxFail      Number    `json:"max_fail"`
	FailOnLine   Number    `json:"fail_on_line"`
	FailObserved Number    `json:"fail_observed"`
	FirstWhole   Number    `json:"first_whole"`
	Curve        []failing `json:"curve"`
}

// failing is the percentage failing at a standard.
type failing struct {
	Standard Number `json:"standard"`
	Percent  Number `json:"percent"`
}

// classification is how far pass and fail can be relied on.
type classification struct {
	Reliability    float64 `json:"reliability"`
	Source         string  `json:"reliability_source"`
	Lowest         Number  `json:"lowest_score"` // that can be reached
	Highest        Number  `json:"highest_score"`
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

// statusChange counts trainees whose status depends on where the standard lies
// inside its interval.
type statusChange struct {
	Definition string `json:"definition"`
	N          int    `json:"n"`
	Pass       int    `json:"pass"`
	PassLower  int    `json:"pass_at_lower"`
	PassUpper  int    `json:"pass_at_upper"`
	Differ     int    `json:"differ"`
}

// inForce is the standard the study file holds: who decided, when, on what.
type inForce struct {
	Value     Number `json:"value"`
	Lower     Number `json:"lower"` // null where the file does not say
	Upper     Number `json:"upper"`
	Method    string `json:"method"`
	DecidedBy string `json:"decided_by"`
	DecidedOn string `json:"decided_on"`
	Data      string `json:"data"`
}

// expectedErrors is what single attempts do at a standard.
type expectedErrors struct {
	Standard      Number `json:"standard"`
	Experts       int    `json:"experts"`
	ExpertsFail   int    `json:"experts_failing"` // by their own value
	Runs          int    `json:"runs"`            // of experts, without familiarisation
	RunsFail      int    `json:"runs_failing"`
	FirstAttempts int    `json:"first_attempts"` // of trainees
	FirstPass     int    `json:"first_attempts_passing"`
}

// NewStandard words an answer about a study's standard.
func NewStandard(s *study.Study, a *study.Standard) *Standard {
	e := a.Estimate
	d := &Standard{
		Header: headerOf("standard", s), Method: a.Rule.Method, Estimate: Number(e.Value), SE: Number(e.SE), Lower: Number(e.Lower), Upper: Number(e.Upper),
		Level: e.Level, IntervalMethod: e.Interval, FalsePass: Number(a.FalsePass), FalseFail: Number(a.FalseFail), N: Number(e.N),
		Better: s.Task.Better(), Definition: definition(a), Unit: s.Task.Unit, Label: s.Task.Response, Evidence: s.Evidence, Answer: a,
	}
	d.With(a.Warnings)
	if stated(a) {
		d.N = Number(math.NaN()) // nobody knows from how many
	}
	d.madeOf(a)
	for _, other := range a.Alternatives {
		d.Alternatives = append(d.Alternatives, newAlternative(other, a.Lower))
	}
	if k := a.Classification; k != nil {
		d.Classification = newClassification(*k, a.Rule)
	}
	if c := a.Status; c != nil {
		d.StatusChange = &statusChange{Definition: passWords(*c), N: c.N, Pass: c.Pass, PassLower: c.PassLower, PassUpper: c.PassUpper, Differ: c.Differ}
	}
	if f := a.InForce; f != nil {
		d.InForce = &inForce{Value: Number(f.Value), Lower: Number(math.NaN()), Upper: Number(math.NaN()), Method: f.Method, DecidedBy: f.DecidedBy, DecidedOn: f.DecidedOn, Data: f.Data}
		if len(f.Interval) == 2 {
			d.InForce.Lower, d.InForce.Upper = Number(f.Interval[0]), Number(f.Interval[1])
		}
	}
	if x := a.Expected; x != nil {
		d.Expected = &expectedErrors{
			Standard: Number(x.Standard), Experts: x.Experts, ExpertsFail: x.ExpertsFail, Runs: x.Runs, RunsFail: x.RunsFail,
			FirstAttempts: x.FirstAttempts, FirstPass: x.FirstPass,
		}
	}
	if a.Decision != nil {
		decision := *a.Decision
		decision.Method = d.Definition
		if runs := runWords(a); runs != "" {
			decision.Method += "; one value an expert: " + runs
		}
		d.Decision = &decision
	}
	return d
}

// stated reports whether the standard was stated rather than computed.
func stated(a *study.Standard) bool {
	return a.Origin == study.FromDecision || a.Origin == study.FromRun
}

// madeOf copies what the method worked with.
func (d *Standard) madeOf(a *study.Standard) {
	if p := a.Experts; p != nil {
		d.Experts = &expertGroup{
			N: p.N, Dropped: p.Dropped, Mean: Number(p.Mean), SD: Number(p.SD), Median: Number(p.Median), MAD: Number(p.MAD),
			Meeting: Number(float64(p.Meeting) / float64(p.Known)), Runs: runWords(a),
		}
		if math.IsNaN(p.Value) {
			d.Experts.Meeting = Number(math.NaN())
		}
	}
	if c := a.Groups; c != nil {
		d.fromGroups(*c)
	}
	if l := a.Line; l != nil {
		d.Line = newRatingLine(*l)
	}
	for _, r := range a.Rounds {
		d.Judges = append(d.Judges, judgePanel{
			Round: r.Name, Judges: r.Angoff.Judges, Items: r.Items, Estimate: Number(r.Value), Percent: Number(r.Percent), SD: Number(r.TotalSD), SE: Number(r.SE),
			Lower: Number(r.Lower), Upper: Number(r.Upper), Median: Number(r.TotalMedian), SEItemsRandom: Number(r.SEItemsRandom),
			Judge: Number(r.Components.Judge), Item: Number(r.Components.Item), Residual: Number(r.Components.Residual), Generalizability: Number(r.Generalizability),
			Totals: numbersOf(r.Totals), Names: r.Judges,
		})
	}
	for _, p := range a.PanelSizes {
		d.Panels = append(d.Panels, panelSize{Judges: p.Judges, SE: Number(p.SE)})
	}
	if p := a.Ebel; p != nil {
		nan := Number(math.NaN())
		d.Judges = []judgePanel{{
			Judges: p.EbelStandard.Judges, Items: p.Items, Estimate: Number(p.Value), Percent: Number(100 * p.Value / float64(p.Items)), SD: Number(p.TotalSD), SE: Number(p.SE),
			Lower: Number(p.Lower), Upper: Number(p.Upper), Median: Number(p.TotalMedian), SEItemsRandom: nan, Judge: nan, Item: nan, Residual: nan, Generalizability: nan,
			Totals: numbersOf(p.Totals), Names: p.Judges,
		}}
	}
	if c := a.Compromise; c != nil {
		d.Compromise = &compromise{
			Judges: c.Judges, MinCut: Number(c.Box.LowestCut), MaxCut: Number(c.Box.HighestCut), MinFail: Number(c.Box.LowestFail), MaxFail: Number(c.Box.HighestFail),
			FailOnLine: Number(c.FailOnLine), FailObserved: Number(c.FailObserved), FirstWhole: Number(c.FirstWhole),
		}
		for _, f := range c.Curve {
			d.Compromise.Curve = append(d.Compromise.Curve, failing{Number(f.Standard), Number(f.Percent)})
		}
	}
}

func (d *Standard) fromGroups(c standard.Contrast) {
	group := func(name string, g standard.Normalised) contrastGroup {
		return contrastGroup{Name: name, N: g.N, Mean: Number(g.Mean), SD: Number(g.SD)}
	}
	shares := func(e standard.Errors) *errorShares {
		return &errorShares{FalsePass: Number(e.FalsePass), FalseFail: Number(e.FalseFail)}
	}
	d.Groups = []contrastGroup{group("not yet competent", c.NotCompetent), group("competent", c.Competent)}
	d.Crossings = numbersOf(c.Crossings)
	d.Observed, d.Theoretical = shares(c.Observed), shares(c.Theoretical)
	l := c.Logistic
	d.Logistic = &logisticLine{
		Intercept: Number(l.Intercept), Slope: Number(l.Slope), InterceptSE: Number(l.InterceptSE), SlopeSE: Number(l.SlopeSE), Estimate: Number(l.Cut), SE: Number(l.CutSE),
	}
}

func newRatingLine(l study.BorderlineLine) *ratingLine {
	nan := Number(math.NaN())
	out := &ratingLine{
		Borderline: l.Borderline, Intercept: nan, Slope: nan, RSquared: nan, ResidualSD: nan, BootstrapSE: nan, BootstrapLower: nan, BootstrapUpper: nan,
		GroupN: l.Group.N, GroupMean: Number(l.Group.Mean), GroupMedian: Number(l.Group.Median),
	}
	if r := l.Line; r != nil {
		out.Intercept, out.Slope, out.RSquared, out.ResidualSD = Number(r.Intercept), Number(r.Slope), Number(r.RSquared), Number(r.ResidualSD)
		out.BootstrapSE, out.BootstrapLower, out.BootstrapUpper, out.Replicates = Number(r.BootstrapSE), Number(r.BootstrapLower), Number(r.BootstrapUpper), r.Replicates
	}
	return out
}

func newAlternative(a study.StandardAlternative, lower bool) alternative {
	e := a.Estimate
	out := alternative{Name: alternativeName(a.Rule, lower), N: e.N, Estimate: Number(e.Value), SE: Number(e.SE), Lower: Number(e.Lower), Upper: Number(e.Upper)}
	if a.Chosen {
		out.Note = "the standard"
	}
	for _, w := range e.Warnings {
		switch {
		case !study.FromExperts(a.Rule.Method):
		case w.Code == "rule-cannot-act":
			out.Note = "cannot act on so few"
		case w.Code == "few-experts":
			out.Note = "interval too short with so few"
		}
	}
	return out
}

func newClassification(c study.Classification, r study.StandardRule) *classification {
	return &classification{
		Reliability: c.Reliability, Source: c.Source, Lowest: Number(r.Lowest), Highest: Number(r.Highest), EffectiveItems: Number(c.EffectiveItems), Accuracy: Number(c.Accuracy), FalsePass: Number(c.FalsePass),
		FalseFail: Number(c.FalseFail), Consistency: Number(c.Consistency), Kappa: Number(c.Kappa), PassShare: Number(c.PassShare), Passing: Number(c.Passing),
		Error: Number(c.ErrorAtStandard), Parameters: c.TrueScores.Parameters, Alpha: Number(c.TrueScores.Alpha), Beta: Number(c.TrueScores.Beta),
		TrueLowest: Number(c.TrueLowest), TrueHighest: Number(c.TrueHighest),
	}
}
