package reports

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/analysis/stopping"
	"tyro/datasets"
)

// Rules is the answer of quota --against: what each of several ways to stop practice
// lets through, holds back and costs, side by side.
type Rules struct {
	Header
	Standard   Number          `json:"standard"` // null where the pass chances are stated
	Rule       string          `json:"rule"`     // the way compared first: the study's own rule where it has one
	Definition string          `json:"definition"`
	Rows       []QuotaRow      `json:"rows"` // of the way compared first
	Horizon    int             `json:"horizon"`
	Proficient float64         `json:"proficient_chance"` // the pass chance from which a learner is proficient
	HeldAfter  int             `json:"held_after"`        // attempts made while proficient, after which going on is being held back
	Level      float64         `json:"level"`
	Learners   []RulesLearner  `json:"learners"`
	Compared   []RulesCompared `json:"operating_curves"`
	Caution    string          `json:"caution"`

	Policies []stopping.Policy `json:"-"`
	own      bool              // the first one is the study's
}

// The kinds of learners.
const (
	LearnerNotYet     = "not-yet"    // a constant chance below the proficient one
	LearnerProficient = "proficient" // a constant chance from the proficient one on
	LearnerStated     = "stated"     // a chance that rises as stated
	LearnerTrainees   = "trainees"   // the mean over the study's trainees, each with the fitted chances
)

// A RulesLearner is whose pass chances a way to stop is judged by.
type RulesLearner struct {
	Kind       string   `json:"kind"`
	Words      string   `json:"words"`
	Trainees   int      `json:"trainees"`   // 0 for a stated learner
	Proficient int      `json:"proficient"` // of these, how many are proficient within the horizon; of a stated learner 0 or 1
	Chances    []Number `json:"pass_chances"`

	Each [][]float64 `json:"-"` // pass chances by attempt, a learner or trainee each
}

// A RulesCompared is one way to stop with one kind of learner. Limits are null for a
// stated learner, whose figures are exact.
type RulesCompared struct {
	Mark           string   `json:"mark"`
	Policy         string   `json:"policy"`
	Learner        string   `json:"learner"`
	MeanAttempts   Number   `json:"mean_attempts"`
	MeanLower      Number   `json:"mean_attempts_lower"`
	MeanUpper      Number   `json:"mean_attempts_upper"`
	FalsePass      Number   `json:"false_pass"`
	FalsePassLower Number   `json:"false_pass_lower"`
	FalsePassUpper Number   `json:"false_pass_upper"`
	HeldBack       Number   `json:"held_back"` // null where nobody is proficient within the horizon
	HeldBackLower  Number   `json:"held_back_lower"`
	HeldBackUpper  Number   `json:"held_back_upper"`
	Never          Number   `json:"not_stopped"`
	MetBy          []Number `json:"met_by"`
}

// RulesOptions are the choices of a comparison; the zero value of a field means its
// default.
type RulesOptions struct {
	First      stopping.Policy // nil: the study's rule
	Against    []stopping.Policy
	Usual      bool         // compare with the usual ways too
	Bar        stopping.Bar // what counts as proficient and as held back
	NotYet     float64      // constant pass chance of a learner who is not yet proficient; 0 means 0.5
	Proficient float64      // of one who is; 0 means 0.9
	Horizon    int          // attempts looked ahead
	Stated     []float64    // pass chances of a stated learner by attempt; nil for none
	StatedAs   string       // that learner in words
}

func (o RulesOptions) orDefaults() RulesOptions {
	o.Bar = o.Bar.OrDefaults()
	if o.NotYet == 0 {
		o.NotYet = 0.5
	}
	if o.Proficient == 0 {
		o.Proficient = 0.9
	}
	return o
}

// mostCompared is how many ways a picture can tell apart.
const mostCompared = 10

// CompareRules sets ways to stop practice side by side: for learners with constant
// chances, for the stated learner, and for the trainees of the study, where there
// are any, each with the pass chances of the fitted curve.
func CompareRules(ctx context.Context, in *Input, o RulesOptions) (*Rules, error) {
	var trainees [][]float64
	if len(in.Trainees) > 0 {
		p, err := in.FittedChances(ctx)
		if err != nil {
			return nil, err
		}
		trainees = p
	}
	return compareRules(ctx, in, o, trainees)
}

// fittedChances lists every trainee's pass chances up to the horizon by the curve
// that fits best; nil for a trainee with too few attempts.
func (in *Input) FittedChances(ctx context.Context) ([][]float64, error) {
	if math.IsNaN(in.Question.Standard.Value) && in.Task.Measure != datasets.PassFail {
		return nil, fmt.Errorf("pass chances need a standard: give --standard, or set it in the study file")
	}
	out := make([][]float64, len(in.Trainees))
	learners, err := in.Learners(ctx)
	if err != nil {
		return nil, err
	}
	err = in.eachTrainee(ctx, func(i int, t Trainee) error {
		var err error
		out[i] = learners.Each[i].Chances(in.Question)
		return err
	})
	return out, err
}

// compareRules is CompareRules with the trainees' chances known.
func compareRules(ctx context.Context, in *Input, o RulesOptions, trainees [][]float64) (*Rules, error) {
	o = o.orDefaults()
	d := &Rules{
		Header: newHeader("quota", in), Standard: Number(math.NaN()), Definition: proficiency.RuleMet, Horizon: o.Horizon,
		Proficient: o.Bar.Level, HeldAfter: o.Bar.Held, Level: in.Options.Level, Rows: []QuotaRow{}, Compared: []RulesCompared{}, Caution: Caution,
	}
	if d.Horizon == 0 {
		d.Horizon = int(in.Question.Horizon)
	}
	if o.First == nil && in.Rule != nil {
		o.First, d.own = stopping.Rule{Rule: in.Rule}, true
	}
	d.learners(in, o, trainees)
	if err := d.choose(in, o); err != nil {
		return nil, err
	}
	for k, p := range d.Policies {
		p, err := stopping.Ready(p, d.Horizon)
		if err != nil {
			return nil, err
		}
		for _, l := range d.Learners {
			c, err := d.compare(ctx, in, o.Bar, p, l)
			if err != nil {
				return nil, err
			}
			c.Mark = Mark(k)
			d.Compared = append(d.Compared, c)
		}
	}
	if len(trainees) > 0 {
		d.Standard = Number(in.Question.Standard.Value)
	}
	d.Rule = d.Policies[0].String()
	return d, d.fillRows(ctx, in)
}

// mark is the letter of a way in figures and tables.
func Mark(k int) string { return string(rune('A' + k)) }

// learners lists whose chances are looked at.
func (d *Rules) learners(in *Input, o RulesOptions, trainees [][]float64) {
	constant := func(kind string, chance float64) RulesLearner {
		return RulesLearner{Kind: kind, Words: "every attempt passes with chance " + Percent(chance), Each: [][]float64{stopping.Constant(chance, d.Horizon)}}
	}
	d.Learners = []RulesLearner{constant(LearnerNotYet, o.NotYet), constant(LearnerProficient, o.Proficient)}
	if o.Stated != nil {
		d.Learners = append(d.Learners, RulesLearner{Kind: LearnerStated, Words: o.StatedAs, Each: [][]float64{o.Stated[:d.Horizon]}})
	}
	if known := slices.DeleteFunc(slices.Clone(trainees), func(c []float64) bool { return c == nil }); len(known) > 0 {
		d.Learners = append(d.Learners, RulesLearner{Kind: LearnerTrainees, Words: fmt.Sprintf("mean over %d trainees with the pass chances of their fitted curves", len(known)), Trainees: len(known), Each: known})
		if left := len(trainees) - len(known); left > 0 {
			d.Warn("left-out", fmt.Sprintf("%d of %d trainees are left out: too few attempts for a curve", left, len(trainees)))
		}
	}
	for i := range d.Learners {
		l := &d.Learners[i]
		for _, c := range l.Each {
			if slices.ContainsFunc(c, func(p float64) bool { return p >= o.Bar.Level }) {
				l.Proficient++
			}
		}
		for n := range d.Horizon {
			sum := 0.0
			for _, c := range l.Each {
				sum += c[n]
			}
			l.Chances = append(l.Chances, Number(sum/float64(len(l.Each))))
		}
	}
}

// judged is the learner by whom ways are compared: the study's trainees, or the
// stated learner, if any.
func (d *Rules) Judged() (RulesLearner, bool) {
	for _, kind := range []string{LearnerTrainees, LearnerStated} {
		if i := slices.IndexFunc(d.Learners, func(l RulesLearner) bool { return l.Kind == kind }); i >= 0 {
			return d.Learners[i], true
		}
	}
	return RulesLearner{}, false
}

// choose settles the ways compared.
func (d *Rules) choose(in *Input, o RulesOptions) error {
	var all []stopping.Policy
	if o.First != nil {
		all = append(all, o.First)
	}
	all = append(all, o.Against...)
	if o.Usual {
		usual, err := d.usual(in, o)
		if err != nil {
			return err
		}
		all = append(all, usual...)
	}
	seen := map[string]bool{}
	for _, p := range all {
		if text := p.String(); !seen[text] {
			seen[text] = true
			d.Policies = append(d.Policies, p)
		}
	}
	switch n := len(d.Policies); {
	case n == 0:
		return fmt.Errorf("nothing to compare: give --rule, or set the rule in the study file")
	case n > mostCompared:
		return fmt.Errorf("%d ways to stop practice are too many for one picture: expected at most %d", n, mostCompared)
	}
	return nil
}

// usual lists ways that programmes take: a fixed number of attempts as large as the
// first way costs on average, longer runs, a share of a window, a chart and an
// estimate.
func (d *Rules) usual(in *Input, o RulesOptions) ([]stopping.Policy, error) {
	var out []stopping.Policy
	if l, ok := d.Judged(); ok && o.First != nil {
		sum := 0.0
		for _, c := range l.Each {
			s, err := stopping.Stop(o.First, c, o.Bar)
			if err != nil {
				return nil, err
			}
			sum += s.Mean
		}
		out = append(out, stopping.FixedQuota(max(1, int(math.Round(sum/float64(len(l.Each)))))))
	} else {
		out = append(out, stopping.FixedQuota(20))
	}
	chart := in.Question.Chart
	if chart == nil {
		fail := 1 - o.Bar.Level
		c, err := stopping.ParsePolicy(fmt.Sprintf("chart %.4g/%.4g", fail, math.Min(2*fail, (1+fail)/2)))
		if err != nil {
			return nil, err
		}
		chart = c.(*stopping.Chart)
	}
	for _, text := range []string{"3 in a row", "5 in a row", "8 of last 10", "2 in a row and 10 in all", chart.String(), fmt.Sprintf("chance %.4g with confidence 0.9 over last 12", o.Bar.Level)} {
		p, err := stopping.ParsePolicy(text)
		if err != nil { // a level so high that twelve passes do not show it
			continue
		}
		out = append(out, p)
	}
	return out, nil
}

// compare works out one way to stop for one learner, with limits from a bootstrap of
// whole trainees where there are several.
func (d *Rules) compare(ctx context.Context, in *Input, bar stopping.Bar, p stopping.Policy, l RulesLearner) (RulesCompared, error) {
	nan := Number(math.NaN())
	c := RulesCompared{Policy: p.String(), Learner: l.Kind, MeanLower: nan, MeanUpper: nan, FalsePassLower: nan, FalsePassUpper: nan, HeldBackLower: nan, HeldBackUpper: nan}
	var all []stopping.Stopping
	for _, chance := range l.Each {
		s, err := stopping.Stop(p, chance, bar)
		if err != nil {
			return c, err
		}
		all = append(all, s)
	}
	figures := []struct {
		of                  func(stopping.Stopping) float64
		value, lower, upper *Number
	}{
		{func(s stopping.Stopping) float64 { return s.Mean }, &c.MeanAttempts, &c.MeanLower, &c.MeanUpper},
		{func(s stopping.Stopping) float64 { return s.FalsePass }, &c.FalsePass, &c.FalsePassLower, &c.FalsePassUpper},
		{func(s stopping.Stopping) float64 { return s.HeldBack }, &c.HeldBack, &c.HeldBackLower, &c.HeldBackUpper},
		{func(s stopping.Stopping) float64 { return s.Never }, &c.Never, nil, nil},
	}
	for _, f := range figures {
		values := make([]float64, len(all))
		for i, s := range all {
			values[i] = f.of(s)
		}
		*f.value = Number(knownMean(values))
		if f.lower == nil || len(all) < proficiency.MinGroup {
			continue
		}
		iv, err := meanInterval(ctx, in, values)
		if err != nil {
			return c, err
		}
		*f.lower, *f.upper = Number(iv.Lower), Number(iv.Upper)
	}
	for n := range d.Horizon {
		sum := 0.0
		for _, s := range all {
			sum += s.MetBy[n]
		}
		c.MetBy = append(c.MetBy, Number(sum/float64(len(all))))
	}
	return c, nil
}

// knownMean is the mean of the values that are numbers; NaN without one.
func knownMean(values []float64) float64 {
	sum, n := 0.0, 0
	for _, v := range values {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	return sum / float64(n)
}

// rulesPurpose names the streams of the comparison's bootstrap: every figure sees
// the same trainees in a replicate.
const rulesPurpose = "rules compared"

// meanInterval is the interval of a mean over trainees by expanded percentiles.
func meanInterval(ctx context.Context, in *Input, values []float64) (resample.Interval, error) {
	n := len(values)
	reps, err := resample.Replicate(ctx, in.Plan(), rulesPurpose, func() func(*rand.Rand) float64 {
		index, drawn := make([]int, n), make([]float64, n)
		return func(r *rand.Rand) float64 {
			for i, j := range resample.Indices(r, index, n) {
				drawn[i] = values[j]
			}
			return knownMean(drawn)
		}
	})
	if err != nil {
		return resample.Interval{}, err
	}
	return resample.PercentileInterval(reps, resample.ExpandedLevel(in.Options.Level, float64(n-1), math.Sqrt(float64(n)/float64(n-1)))), nil
}

// of finds a way with a kind of learner.
func (d *Rules) Of(policy int, learner string) (RulesCompared, bool) {
	i := slices.IndexFunc(d.Compared, func(c RulesCompared) bool { return c.Mark == Mark(policy) && c.Learner == learner })
	if i < 0 {
		return RulesCompared{}, false
	}
	return d.Compared[i], true
}

// fillRows gives the attempts by which shares of learners have stopped under the way
// compared first.
func (d *Rules) fillRows(ctx context.Context, in *Input) error {
	l, ok := d.Judged()
	if !ok {
		l = d.Learners[0]
	}
	var each [][]float64
	for _, chance := range l.Each {
		by, err := d.Policies[0].MetBy(chance)
		if err != nil {
			return err
		}
		each = append(each, by)
	}
	all := make([]int, len(each))
	for i := range all {
		all[i] = i
	}
	for _, share := range QuotaShares() {
		at := firstShare(each, all, share)
		row := QuotaRow{Share: share, Attempts: Number(at), Lower: Number(math.NaN()), Upper: Number(math.NaN()), Status: Estimated}
		if math.IsInf(at, 1) {
			row.Attempts, row.Status = Number(math.NaN()), CannotBeEstimated
		}
		if n := len(each); n >= proficiency.MinGroup {
			reps, err := resample.Replicate(ctx, in.Plan(), rulesPurpose, func() func(*rand.Rand) float64 {
				index := make([]int, n)
				return func(r *rand.Rand) float64 { return firstShare(each, resample.Indices(r, index, n), share) }
			})
			if err != nil {
				return err
			}
			iv := resample.PercentileInterval(reps, resample.ExpandedLevel(d.Level, float64(n-1), math.Sqrt(float64(n)/float64(n-1))))
			row.Lower, row.Upper = Number(iv.Lower), Number(iv.Upper)
		}
		d.Rows = append(d.Rows, row)
	}
	return nil
}

// firstShare is the first attempt by which the share of the members has stopped;
// +Inf where it does not within the horizon.
func firstShare(each [][]float64, members []int, share float64) float64 {
	for n := range each[0] {
		sum := 0.0
		for _, i := range members {
			sum += each[i][n]
		}
		if sum >= share*float64(len(members)) {
			return float64(n + 1)
		}
	}
	return math.Inf(1)
}

// throughBy is the attempt at which the table reads how many who are not yet
// proficient have been let through.
const ThroughBy = 20

// Tables shows the ways side by side.
func (d *Rules) Tables() []Table {
	t := d.Table()
	t.Notes = append(d.Sentences(), t.Notes...)
	if _, ok := d.Judged(); ok {
		return []Table{t, d.learnersTable()}
	}
	return []Table{t}
}

// table lists everything for programs; people see the figures of the study's trainees
// or the stated learner, and of constant learners where there are neither.
func (d *Rules) Table() Table {
	l, judged := d.Judged()
	t := Table{Name: "rules", Title: "Which rule? Ways to stop practice, side by side", Columns: d.constantColumns()}
	if judged {
		for j := range t.Columns[2:] {
			t.Columns[2+j].Head = ""
		}
		t.Title += map[string]string{LearnerTrainees: ": the trainees of the study", LearnerStated: ": the stated learner"}[l.Kind]
		from, to := "", ""
		if l.Trainees >= proficiency.MinGroup {
			from, to = fmt.Sprintf("%g %% from", 100*d.Level), "to"
		}
		t.Columns = append(t.Columns,
			Column{Key: "mean_attempts", Head: "attempts", Show: tenths}, Column{Key: "mean_attempts_lower"}, Column{Key: "mean_attempts_upper"},
			Column{Key: "false_pass", Head: "false pass", Show: Percent}, Column{Key: "false_pass_lower", Head: from, Show: Percent}, Column{Key: "false_pass_upper", Head: to, Show: Percent},
			Column{Key: "held_back", Head: "held back", Show: Percent}, Column{Key: "held_back_lower"}, Column{Key: "held_back_upper"},
			Column{Key: "not_stopped", Head: "not stopped", Show: Percent})
	}
	for k := range d.Policies {
		row := d.constantCells(k)
		if judged {
			c, _ := d.Of(k, l.Kind)
			row = append(row, float64(c.MeanAttempts), float64(c.MeanLower), float64(c.MeanUpper), float64(c.FalsePass), float64(c.FalsePassLower), float64(c.FalsePassUpper),
				float64(c.HeldBack), float64(c.HeldBackLower), float64(c.HeldBackUpper), float64(c.Never))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Notes = d.notes()
	return t
}

// learnersTable shows people the figures of the constant learners.
func (d *Rules) learnersTable() Table {
	t := Table{Name: "rules-learners", Title: "The same ways with a learner who is not yet proficient, and with one who is", Columns: d.constantColumns()}
	for k := range d.Policies {
		t.Rows = append(t.Rows, d.constantCells(k))
	}
	return t
}

// constantColumns are the figures of learners whose every attempt passes with the same
// chance.
func (d *Rules) constantColumns() []Column {
	notYet, able := Percent(d.Learners[0].Each[0][0]), Percent(d.Learners[1].Each[0][0])
	return []Column{
		{Key: "mark", Head: " "}, {Key: "policy", Head: "practice stops after"},
		{Key: "not_yet_through", Head: fmt.Sprintf("%s learner: through by %d", notYet, min(ThroughBy, d.Horizon)), Show: Percent},
		{Key: "not_yet_through_horizon", Head: fmt.Sprintf("by %d", d.Horizon), Show: Percent},
		{Key: "proficient_mean_attempts", Head: able + " learner: attempts", Show: tenths},
		{Key: "proficient_held_back", Head: "held back", Show: Percent},
	}
}

func (d *Rules) constantCells(k int) []any {
	a, _ := d.Of(k, LearnerNotYet)
	b, _ := d.Of(k, LearnerProficient)
	return []any{Mark(k), d.PolicyText(k, d.Policies[k]), float64(a.MetBy[min(ThroughBy, d.Horizon)-1]), float64(a.FalsePass), float64(b.MeanAttempts), float64(b.HeldBack)}
}

// policyText is a way in words; the study's own says so.
func (d *Rules) PolicyText(k int, p stopping.Policy) string {
	if k == 0 && d.own {
		return p.String() + " (the study's)"
	}
	return p.String()
}

// notes says what the figures mean.
func (d *Rules) notes() []string {
	notes := []string{
		fmt.Sprintf("False pass: practice stops while a single attempt still passes with a chance below %s. Held back: still practising after %d attempts made with a chance of %s or more. Attempts: the mean, those who have not stopped counting %d, the horizon. Everything is exact given the pass chances; attempts are taken as independent given these.",
			Percent(d.Proficient), d.HeldAfter, Percent(d.Proficient), d.Horizon),
	}
	if l, ok := d.Judged(); ok && l.Kind == LearnerTrainees {
		notes = append(notes, fmt.Sprintf("Trainees: the %s, error limits and hard fails included; %d of them reach %s within the horizon, and held back is about these. Limits come from a bootstrap of whole trainees.", l.Words, l.Proficient, Percent(d.Proficient)))
	} else if ok {
		notes = append(notes, "Stated learner: "+l.Words+".")
	}
	for k, p := range d.Policies {
		switch p := p.(type) {
		case *stopping.Chart:
			notes = append(notes, fmt.Sprintf("%s is a learning chart that tells failure rates of %s, acceptable, and %s, not acceptable, apart, with limit %s.", Mark(k), RateText(p.Rates.Acceptable), RateText(p.Rates.Unacceptable), Significant(p.H, 3)))
		case stopping.ShownChance:
			notes = append(notes, Mark(k)+" "+estimateNote(p)+".")
		}
	}
	return append(notes, Caution)
}

// estimateNote says what an estimate asks for.
func estimateNote(e stopping.ShownChance) string {
	text := fmt.Sprintf("stops once the trainee's own passes show a pass chance above %s with confidence %s", Percent(e.Target), Percent(e.Confidence))
	if e.Last == 0 {
		return text + ", all attempts counting alike"
	}
	first := 1
	for e.Needed(first) > first {
		first++
	}
	text += fmt.Sprintf(": %d of the first %d", e.Needed(first), first)
	if e.Last > first {
		text += fmt.Sprintf(" at the earliest, %d of the last %d in the end", e.Needed(e.Last), e.Last)
	}
	return text
}

// curveTable lists the chances of having stopped by attempt, a way and a learner a
// column.
func (d *Rules) CurveTable() Table {
	t := Table{Name: "rules-operating", Columns: []Column{{Key: "attempt"}}}
	for k := range d.Policies {
		for _, l := range d.Learners {
			t.Columns = append(t.Columns, Column{Key: strings.ToLower(Mark(k)) + "_" + strings.ReplaceAll(l.Kind, "-", "_")})
		}
	}
	for n := range d.Horizon {
		row := []any{n + 1}
		for _, c := range d.Compared {
			row = append(row, float64(c.MetBy[n]))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func tenths(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.1f", v)
}

// Sentences say what the way compared first lets through, and what a safer one costs.
func (d *Rules) Sentences() []string {
	l, ok := d.Judged()
	if !ok {
		return d.constantSentences()
	}
	c, _ := d.Of(0, l.Kind)
	who := "trainees like these"
	if l.Kind == LearnerStated {
		who = "such learners"
	}
	limits := ""
	if !math.IsNaN(float64(c.FalsePassLower)) {
		limits = fmt.Sprintf(" (%g %% interval %s to %s)", 100*d.Level, Percent(float64(c.FalsePassLower)), Percent(float64(c.FalsePassUpper)))
	}
	out := []string{fmt.Sprintf("Stopping at %q lets %s of %s through%s while a single attempt still passes with a chance below %s; practice lasts %s attempts on average.",
		d.Rule, Percent(float64(c.FalsePass)), who, limits, Percent(d.Proficient), tenths(float64(c.MeanAttempts)))}
	said := -1
	for _, most := range []float64{0.2, 0.1} {
		best := d.cheapest(l.Kind, most)
		switch {
		case best < 0:
			out = append(out, fmt.Sprintf("None of the ways compared keeps false passes at or under %s and lets at least half stop within %d attempts.", Percent(most), d.Horizon))
		case best == 0:
			out = append(out, fmt.Sprintf("No other way compared keeps false passes at or under %s in fewer attempts.", Percent(most)))
		case best != said:
			a, _ := d.Of(best, l.Kind)
			out = append(out, fmt.Sprintf("Of the ways compared, the one that keeps false passes at or under %s in the fewest attempts is %s, %q: %s of them, after %s attempts on average, with %s not stopped by attempt %d.",
				Percent(most), Mark(best), a.Policy, Percent(float64(a.FalsePass)), tenths(float64(a.MeanAttempts)), Percent(float64(a.Never)), d.Horizon))
		}
		if said = best; best < 0 {
			break
		}
	}
	return out
}

// cheapest is the way with the fewest mean attempts among those with no more false
// passes that let at least half stop; -1 where there is none.
func (d *Rules) cheapest(learner string, mostFalse float64) int {
	best := -1
	var cost Number
	for k := range d.Policies {
		if a, _ := d.Of(k, learner); float64(a.FalsePass) <= mostFalse && a.Never <= 0.5 && (best < 0 || a.MeanAttempts < cost) {
			best, cost = k, a.MeanAttempts
		}
	}
	return best
}

// constantSentences are for learners whose chances do not change.
func (d *Rules) constantSentences() []string {
	a, _ := d.Of(0, LearnerNotYet)
	b, _ := d.Of(0, LearnerProficient)
	by := min(ThroughBy, d.Horizon)
	return []string{fmt.Sprintf("Stopping at %q lets a learner whose every attempt passes with chance %s through by attempt %d with a chance of %s; one who passes with chance %s needs %s attempts on average.",
		d.Rule, Percent(d.Learners[0].Each[0][0]), by, Percent(float64(a.MetBy[by-1])), Percent(d.Learners[1].Each[0][0]), tenths(float64(b.MeanAttempts)))}
}
