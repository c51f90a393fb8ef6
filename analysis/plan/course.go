package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/compare"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/models"
)

// A Course is a study of practice: trainees of one or more arms who make attempts, on
// curves of their own, and the analysis that compare or quota will make of them.
type Course struct {
	People   cohort.Assumed `json:"people"` // with the arms of the study, the reference first
	Task     Task           `json:"task"`
	StopMet  []string       `json:"stop_when_met,omitempty"` // arms whose trainees stop when they have met the rule
	DropOut  float64        `json:"drop_out"`                // share of trainees who leave before their last attempt
	Clusters *Clusters      `json:"clusters,omitempty"`
	Test     *Test          `json:"retention_test,omitempty"`
	Events   []Event        `json:"events,omitempty"`  // errors and hard fails; none: every attempt is clean and has a response
	Effects  []Effect       `json:"effects,omitempty"` // as they were stated; People has them already
	Family   string         `json:"family"`            // that the analysis fits; blank: that of People; auto: left to the data

	Contrast string  `json:"contrast,omitempty"` // measure of compare that is asked about, or retention
	Told     string  `json:"told,omitempty"`     // of three or more arms: the one that is asked about, [AnyArm] or [AllArms]
	At       float64 `json:"at,omitempty"`       // attempt at which compare reads levels; 0: the last planned
	Quota    *Quota  `json:"quota,omitempty"`    // asked about instead
}

// A Task is what is practised.
type Task struct {
	Measure  practice.Measure `json:"measure"`
	Lower    bool             `json:"lower"`          // smaller responses are better
	Unit     string           `json:"unit,omitempty"` // blank where not said
	Limit    float64          `json:"limit"`          // time at which attempts are stopped; 0 for none
	Standard analysis.Number  `json:"standard"`       // null where none is set
	Rule     string           `json:"rule"`           // blank where none is stated
	Horizon  float64          `json:"horizon"`        // attempts looked ahead at most; 0 means the usual
}

// Clusters are sites or session groups that move everybody's curve in them.
type Clusters struct {
	Count int     `json:"count"` // of each arm where Whole, otherwise of all trainees
	SD    float64 `json:"sd"`    // of their shifts: of logarithms where these multiply
	Whole bool    `json:"whole"` // all trainees of a cluster are of one arm
}

// A Test is one attempt after a break, from which the arms are compared.
type Test struct {
	// Change is by how much the level of the last attempt has changed on average, by arm: a
	// ratio where the noise multiplies, such as 1.2 for a time that is a fifth longer,
	// otherwise a difference.
	Change []float64 `json:"change"`
	SD     float64   `json:"sd"` // of trainees' own changes; of logarithms for a ratio
}

// A Quota asks for the attempts by which a share of an arm's trainees have met the rule, as
// observed, or as the cohort's curve expects it of new ones.
type Quota struct {
	Share float64 `json:"share"`
	Arm   string  `json:"arm"`
	Curve bool    `json:"curve,omitempty"`
}

// What may be asked of several arms against the reference, each told from it by a p adjusted
// for all of them (Holm).
const (
	AnyArm  = "any" // at least one is told from it
	AllArms = "all" // every one is
)

// Retention is the name of the contrast of the test after a break.
const Retention = "retention"

// A course is a Course made ready.
type course struct {
	*Course
	d          Design
	population *cohort.Population
	rule       practice.Rule
	options    study.Options // without the seed
	multiplies bool          // shifts of whole curves multiply
	formed     *study.Study  // without trainees, for what a measure means
}

func (c *Course) ready(d Design) (question, error) {
	p, err := c.People.Population()
	if err != nil {
		return nil, refuse("%v", err)
	}
	q := &course{Course: c, d: d, population: p}
	if c.Task.Rule != "" {
		if q.rule, err = practice.ParseRule(c.Task.Rule); err != nil {
			return nil, refuse("%v", err)
		}
	}
	if err := q.settle(); err != nil {
		return nil, err
	}
	if q.formed, err = study.New(practice.Practice{Task: q.task(), Arms: c.People.Arms}, q.options); err != nil {
		return nil, refuse("%v", err)
	}
	return q, q.askable()
}

// settle makes the options of the analysis, and refuses what cannot be simulated.
func (c *course) settle() error {
	m := c.population.Model()
	c.options = study.Options{Noise: m.Noise, Level: c.d.Level, Workers: 1}
	switch c.Family {
	case "auto":
	case "":
		c.options.Families = []models.Family{m.Family}
	default:
		f, err := models.ByName(c.Family, float64(c.People.Origin))
		if err != nil {
			return refuse("%v", err)
		}
		c.options.Families = []models.Family{f}
	}
	var moves bool
	if c.multiplies, moves = c.population.Moves(); c.Clusters != nil && !moves {
		return refuse("clusters move whole curves, which is not defined where plateau and gain are on different scales")
	}
	switch t := c.Task; {
	case len(c.People.Arms) < 1 || len(c.People.Arms) > mostArms:
		return refuse("%d arms: expected one to %d", len(c.People.Arms), mostArms)
	case twice(c.People.Arms) != "":
		return refuse("two arms are called %q", twice(c.People.Arms))
	case !slices.Contains([]practice.Measure{practice.Time, practice.Score, practice.Count, practice.PassFail}, t.Measure):
		return refuse("the measure is %q", t.Measure)
	case t.Limit < 0 || t.Limit > 0 && t.Measure != practice.Time:
		return refuse("a limit of %v: only a time has one", t.Limit)
	case !(c.DropOut >= 0 && c.DropOut <= 1):
		return refuse("a share of %v who leave", c.DropOut)
	case c.Clusters != nil && (c.Clusters.Count < 1 || !(c.Clusters.SD >= 0) || math.IsInf(c.Clusters.SD, 0)):
		return refuse("%d clusters with a spread of %v", c.Clusters.Count, c.Clusters.SD)
	case c.Clusters != nil && c.Clusters.Count > c.smallest():
		return refuse("%d clusters are more than the %d trainees that they are made of", c.Clusters.Count, c.smallest())
	}
	for i, e := range c.Events {
		if err := e.check(len(c.People.Arms)); err != nil {
			return err
		}
		if slices.ContainsFunc(c.Events[:i], func(o Event) bool { return o.Name == e.Name }) {
			return refuse("%s is stated twice", e.Name)
		}
	}
	for _, arm := range c.StopMet {
		if !slices.Contains(c.People.Arms, arm) {
			return refuse("arm %q stops when the rule is met, and is no arm of the study; they are %s", arm, strings.Join(c.People.Arms, ", "))
		}
		if c.rule == nil || math.IsNaN(float64(c.Task.Standard)) {
			return refuse("trainees stop when they have met the rule: that needs a standard and a rule")
		}
	}
	if t := c.Test; t != nil {
		switch {
		case !m.Noise.Additive():
			return refuse("a retention test is simulated with a noise that is added to the curve or multiplies it, which %s is not", m.Noise.Name())
		case len(t.Change) != len(c.People.Arms) || !(t.SD >= 0) || math.IsInf(t.SD, 0):
			return refuse("%d changes at the retention test with a spread of %v: expected one for each of the %d arms", len(t.Change), t.SD, len(c.People.Arms))
		}
		for _, v := range t.Change {
			if c.testMultiplies() && !(v > 0) || math.IsNaN(v) || math.IsInf(v, 0) {
				return refuse("a change of %v at the retention test: expected a ratio above 0", v)
			}
		}
	}
	return nil
}

// mostArms is how many arms a study may have.
const mostArms = 8

// twice is a name that stands twice; blank where none does.
func twice(names []string) string {
	for i, name := range names {
		if slices.Contains(names[:i], name) {
			return name
		}
	}
	return ""
}

// smallest is the number of trainees that the clusters of one kind are made of.
func (c *course) smallest() int {
	if c.Clusters.Whole && len(c.People.Arms) > 1 {
		return min(c.d.Trainees, c.d.Other())
	}
	return c.d.People()
}

// testMultiplies reports whether changes at the retention test are ratios.
func (c *course) testMultiplies() bool { return models.NeedsPositive(c.population.Model().Noise) }

// askable refuses questions that the study cannot answer.
func (c *course) askable() error {
	ruled := c.rule != nil && !math.IsNaN(float64(c.Task.Standard))
	switch q := c.Quota; {
	case (q != nil) == (c.Contrast != ""):
		return refuse("expected a contrast or a quota to be asked about")
	case q != nil && !ruled:
		return refuse("a quota needs a standard and a rule")
	case q != nil && !(q.Share > 0 && q.Share < 1):
		return refuse("a quota for a share of %v: expected one between 0 and 1", q.Share)
	case q != nil && !slices.Contains(c.People.Arms, q.Arm):
		return refuse("a quota of arm %q, which is no arm of the study; they are %s", q.Arm, strings.Join(c.People.Arms, ", "))
	case q != nil:
		return nil
	case len(c.People.Arms) < 2:
		return refuse("a contrast needs two arms")
	}
	for _, sound := range []func() error{c.tellable, c.clear} {
		if err := sound(); err != nil {
			return err
		}
	}
	switch {
	case c.Contrast == Retention:
		if c.Test == nil {
			return refuse("a contrast of %s needs a retention test", Retention)
		}
		return nil
	}
	if err := c.fair(); err != nil {
		return err
	}
	if c.event(c.Contrast) != nil {
		return nil
	}
	known := c.formed.Measures(c.fitted())
	for _, e := range c.Events {
		known = append(known, e.Name)
	}
	if !slices.ContainsFunc(known, func(m string) bool { return m == c.Contrast || strings.HasPrefix(c.Contrast, m+"-") }) {
		return refuse("no contrast of %q; there is %s", c.Contrast, strings.Join(append(known, Retention), ", "))
	}
	return nil
}

// fair refuses margins that the contrast cannot be judged against.
func (c *course) fair() error {
	m := c.d.Margin
	if m == nil {
		return nil
	}
	_, ratio, ok := c.between(c.Contrast, 1)
	ratio = ok && ratio || c.event(c.Contrast) != nil || c.Contrast == "rule-met-median" || c.Contrast == study.HazardMeasure
	switch {
	case ratio && !(m.Value > 1):
		return refuse("a margin of %v on %s, which is compared as a ratio: expected one above 1, such as 1.1", m.Value, c.Contrast)
	case c.Contrast == "rate" && m.NonInferior:
		return refuse("neither a higher nor a lower rate is better in itself, so that an arm cannot be shown to be not worse in it")
	}
	return nil
}

// clear refuses names that mean two things: an error that is counted, and a parameter or
// measure of the curve.
func (c *course) clear() error {
	known := append(c.formed.Measures(c.fitted()), Retention)
	for _, p := range c.People.Parameters {
		known = append(known, p.Name)
	}
	for _, e := range c.Events {
		if !slices.Contains(known, e.Name) {
			continue
		}
		if c.Contrast == e.Name || slices.ContainsFunc(c.Effects, func(x Effect) bool { return x.Name == e.Name }) {
			return refuse("%s is an error that is counted, and of the curve as well: give the count another name", e.Name)
		}
	}
	return nil
}

// tellable refuses arms that cannot be asked about.
func (c *course) tellable() error {
	others := c.People.Arms[1:]
	several := c.Told == AnyArm || c.Told == AllArms
	switch {
	case len(others) == 1 && c.Told != "" && c.Told != others[0]:
		return refuse("there is one arm beside the reference, %q, and %q is asked about", others[0], c.Told)
	case len(others) > 1 && slices.ContainsFunc(c.People.Arms, func(a string) bool { return a == AnyArm || a == AllArms }):
		return refuse("of several arms none can be called %s or %s", AnyArm, AllArms)
	case len(others) > 1 && !several && !slices.Contains(others, c.Told):
		return refuse("%q is asked about: expected one of the arms %s, or %s, or %s", c.Told, strings.Join(others, ", "), AnyArm, AllArms)
	case len(others) > 1 && several && c.d.Width > 0:
		return refuse("the width of an interval is asked about: say of which arm, %s", strings.Join(others, ", "))
	}
	return nil
}

// arm is the position of the arm that is asked about; 0 where it is several.
func (c *course) arm() int {
	if len(c.People.Arms) == 2 {
		return 1
	}
	return max(0, slices.Index(c.People.Arms, c.Told))
}

// fitted is the family whose measures can be asked about.
func (c *course) fitted() models.Family {
	if c.options.Families != nil {
		return c.options.Families[0]
	}
	return c.population.Model().Family
}

// at is the attempt at which levels are read.
func (c *course) at() float64 {
	if c.At > 0 {
		return c.At
	}
	return float64(c.d.Attempts)
}

// task is the task as analyses know it.
func (c *course) task() practice.Task {
	t := practice.Task{Name: "the task", Measure: c.Task.Measure, Response: "response", Unit: c.Task.Unit, Lower: c.Task.Lower, Limit: c.Task.Limit, Rule: c.rule, Horizon: c.Task.Horizon}
	t.Counts, t.AtMost = c.counts()
	if m := c.d.Margin; m != nil {
		t.Margin = &practice.Margin{Measure: c.Contrast, Value: m.Value, Kind: m.kind(), SetOn: "a day before the study"}
	}
	if v := float64(c.Task.Standard); !math.IsNaN(v) {
		t.Standard = &practice.Decision{Value: v, Method: "assumed for the plan"}
	}
	return t
}

// study simulates and analyses one study.
func (c *course) study(ctx context.Context, r *rand.Rand) (Outcome, error) {
	seen, err := c.draw(r)
	if err != nil {
		return Outcome{}, err
	}
	o := c.options
	o.Seed = r.Uint64() | 1
	s, err := study.New(practice.Practice{Task: c.task(), Arms: c.People.Arms, Trainees: seen.trainees}, o)
	if err != nil {
		return Outcome{}, err
	}
	switch {
	case seen.broken:
		return failed(StageAttempts, seen.made), nil
	case c.Quota != nil:
		return c.quota(ctx, s, seen.made)
	case c.Contrast == Retention:
		return c.retention(ctx, s, seen)
	}
	xs, err := s.Contrasts(ctx, study.CompareOptions{Reference: c.People.Arms[0], At: c.at(), Cluster: seen.cluster}, c.Contrast, c.People.Arms[1:])
	switch {
	case ctx.Err() != nil:
		return Outcome{}, ctx.Err()
	case errors.Is(err, study.ErrNoCohort):
		return failed(StageFit, seen.made), nil
	case err != nil:
		return failed(StageContrast, seen.made), nil
	}
	return c.told(xs, seen.made), nil
}

// told is the outcome of the contrasts of all other arms with the reference.
func (c *course) told(xs []compare.Contrast, made int) Outcome {
	var ps []float64
	for _, x := range xs {
		switch {
		case math.IsNaN(x.Estimate):
			return failed(StageContrast, made)
		case math.IsNaN(x.P) && (len(xs) > 1 || c.d.Margin != nil):
			return failed(StageInterval, made)
		}
		ps = append(ps, x.P)
	}
	if len(xs) > 1 {
		ps = compare.Holm(ps)
	}
	switch k := c.arm() - 1; {
	case k >= 0 && c.event(c.Contrast) != nil && !xs[k].Ratio:
		return oneSided(xs[k], ps[k], made)
	case k >= 0:
		return numbers(xs[k].Estimate, xs[k].Lower, xs[k].Upper, ps[k], xs[k].Ratio, made)
	}
	several := failed("", made) // no number but p
	several.P = analysis.Number(slices.Max(ps))
	if c.Told == AnyArm {
		several.P = analysis.Number(slices.Min(ps))
	}
	return several
}

// oneSided is the outcome of a study in which an arm had no event: the arms are still told
// apart or not, but the ratio of rates is 0 or without end, and so is its interval.
func oneSided(x compare.Contrast, p float64, made int) Outcome {
	if math.IsNaN(p) {
		return failed(StageInterval, made)
	}
	estimate := 0.0
	if x.Estimate > 0 {
		estimate = math.Inf(1)
	}
	return numbers(estimate, 0, math.Inf(1), p, true, made)
}

// quota asks the quota's question of a simulated study.
func (c *course) quota(ctx context.Context, s *study.Study, made int) (Outcome, error) {
	ask := s.ObservedQuota
	if c.Quota.Curve {
		ask = s.CurveQuota
	}
	q, err := ask(ctx, c.Quota.Arm, c.Quota.Share)
	switch {
	case ctx.Err() != nil:
		return Outcome{}, ctx.Err()
	case errors.Is(err, study.ErrNoCohort):
		return failed(StageFit, made), nil
	case err != nil:
		return failed(StageAttempts, made), nil
	}
	o := numbers(q.Attempts, q.Lower, q.Upper, math.NaN(), false, made)
	if math.IsInf(q.Lower, 1) { // beyond what was seen: no width at all
		o = failed(StageInterval, made)
	}
	return o, nil
}

// retention compares the attempt after the break, as compare does with one number a
// trainee.
func (c *course) retention(ctx context.Context, s *study.Study, seen attempts) (Outcome, error) {
	arms := make([]compare.Arm, len(c.People.Arms))
	for i, t := range seen.trainees {
		k := slices.Index(c.People.Arms, t.Arm)
		if math.IsNaN(seen.test[i]) {
			continue
		}
		arms[k].Name = t.Arm
		arms[k].Values = append(arms[k].Values, seen.test[i])
		if seen.cluster != nil {
			arms[k].Cluster = append(arms[k].Cluster, seen.cluster[t.ID])
		}
	}
	var xs []compare.Contrast
	for _, arm := range arms[1:] {
		x, err := study.OneNumberContrast(ctx, arms[0], arm, c.testMultiplies(), c.d.Level, s.Sampling())
		switch {
		case err != nil:
			return Outcome{}, err
		case math.IsNaN(x.Estimate):
			return failed(StageAttempts, seen.made), nil
		}
		xs = append(xs, x)
	}
	return c.told(xs, seen.made), nil
}

// truth is the contrast of the middle curves that are assumed.
func (c *course) truth() float64 {
	if c.Contrast == "" || c.Contrast == Retention {
		return math.NaN()
	}
	k := c.arm()
	if k == 0 {
		return math.NaN()
	}
	if e := c.event(c.Contrast); e != nil {
		return e.ratio(k)
	}
	v, _, ok := c.between(c.Contrast, k)
	if !ok {
		return math.NaN()
	}
	return v
}

// between is the contrast of the assumed middle curves, of the k-th arm with the reference,
// on a measure of curves.
func (c *course) between(measure string, k int) (value float64, ratio, ok bool) {
	ref, err := c.population.Middle(c.People.Arms[0])
	if err != nil {
		return 0, false, false
	}
	arm, err := c.population.Middle(c.People.Arms[k])
	if err != nil {
		return 0, false, false
	}
	return c.formed.CurveContrast(measure, c.at(), ref, arm)
}

func (c *course) formula() *Formula { return nil }

// Assumption is what the assumed curves of an arm, by its position, and of the reference come
// to on a measure of curves: the difference, or the ratio. False where it is none of the
// middle curves alone.
func (d Design) Assumption(measure string, arm int) (value float64, ratio, ok bool) {
	q, err := d.ready()
	c, isCourse := q.(*course)
	if err != nil || !isCourse || arm < 1 || arm >= len(c.People.Arms) {
		return 0, false, false
	}
	return c.between(measure, arm)
}

// attempts are what was seen in one simulated study.
type attempts struct {
	trainees []practice.Trainee
	cluster  map[string]string // nil without clusters
	test     []float64         // by trainee; NaN for those who had left
	made     int
	broken   bool // a response was beyond all numbers
}

// draw simulates what is seen: who leaves when, the clusters, the responses, and who stops.
func (c *course) draw(r *rand.Rand) (attempts, error) {
	var ts []cohort.Trainee
	var shifts []float64
	var out attempts
	for k, arm := range c.People.Arms {
		n := c.d.Trainees
		if k > 0 {
			n = c.d.Other()
		}
		for i := range n {
			t := cohort.Trainee{ID: fmt.Sprintf("%d-%d", k+1, i+1), Arm: arm}
			for j := range c.last(r) {
				t.Attempt = append(t.Attempt, float64(j+1))
			}
			ts = append(ts, t)
		}
	}
	if c.Clusters != nil {
		shifts, out.cluster = c.clusters(r, ts)
	}
	tested := make([]bool, len(ts))
	if c.Test != nil { // one more response at the level of the last attempt
		for i := range ts {
			if tested[i] = len(ts[i].Attempt) == c.d.Attempts; tested[i] {
				ts[i].Attempt = append(ts[i].Attempt, float64(c.d.Attempts))
			}
		}
	}
	limit := 0.0
	if c.Test == nil {
		limit = c.Task.Limit
	}
	drawn, err := c.population.Draw(r, ts, shifts, limit)
	if err != nil {
		return out, err
	}
	for i, t := range drawn {
		test := math.NaN()
		if tested[i] {
			last := len(t.Response) - 1
			test = c.after(t.Response[last], slices.Index(c.People.Arms, t.Arm), r)
			t.Response = t.Response[:last]
		}
		p := c.seen(t, r)
		for _, a := range p.Attempts {
			out.broken = out.broken || math.IsNaN(a.Response) && a.Outcome != practice.Failed || math.Abs(a.Response) > largestResponse
		}
		out.broken = out.broken || math.Abs(test) > largestResponse
		out.made += len(p.Attempts)
		out.trainees, out.test = append(out.trainees, p), append(out.test, test)
	}
	return out, nil
}

// largestResponse is beyond what any file may hold.
const largestResponse = 1e9

// last is the attempt after which a trainee leaves: with the same chance after every
// attempt, so that the share who leave before the last is that of the design.
func (c *course) last(r *rand.Rand) int {
	stay := math.Pow(1-c.DropOut, 1/float64(max(1, c.d.Attempts-1)))
	for n := 1; n < c.d.Attempts; n++ {
		if r.Float64() >= stay {
			return n
		}
	}
	return c.d.Attempts
}

// clusters deals trainees out to clusters in turn, and draws each cluster's shift.
func (c *course) clusters(r *rand.Rand, ts []cohort.Trainee) ([]float64, map[string]string) {
	of := map[string]string{}
	shift := map[string]float64{}
	out := make([]float64, len(ts))
	count := map[string]int{}
	for i, t := range ts {
		group := ""
		if c.Clusters.Whole {
			group = t.Arm + "/"
		}
		key := group
		if !c.Clusters.Whole { // each arm is dealt out over all of them
			key = t.Arm
		}
		name := fmt.Sprintf("%s%d", group, count[key]%c.Clusters.Count+1)
		count[key]++
		if _, drawn := shift[name]; !drawn {
			shift[name] = c.Clusters.SD * r.NormFloat64()
		}
		of[t.ID], out[i] = name, shift[name]
	}
	return out, of
}

// after is the response at the test, with the trainee's own change, cut off at the limit.
func (c *course) after(response float64, arm int, r *rand.Rand) float64 {
	own := c.Test.SD * r.NormFloat64()
	v := response + c.Test.Change[arm] + own
	if c.testMultiplies() {
		v = response * c.Test.Change[arm] * math.Exp(own)
	}
	if c.Task.Limit > 0 {
		v = math.Min(v, c.Task.Limit)
	}
	return v
}

// seen is a trainee's practice with what befell them, up to where the rule was met in an arm that stops then.
func (c *course) seen(t cohort.Trainee, r *rand.Rand) practice.Trainee {
	_, atMost := c.counts()
	p := practice.Trainee{ID: t.ID, Arm: t.Arm, Limit: c.Task.Limit, ErrorLimits: len(atMost) > 0}
	for j, y := range t.Response {
		a := practice.Attempt{Number: t.Attempt[j], Response: y, Clean: true}
		if c.Task.Limit > 0 && y >= c.Task.Limit {
			a.Response, a.Censored, a.Outcome = c.Task.Limit, true, practice.Timeout
		}
		p.Attempts = append(p.Attempts, a)
	}
	c.befall(&p, r)
	if slices.Contains(c.StopMet, t.Arm) {
		if n := c.rule.FirstMet(p.Passes(c.formed.Question.Standard)); n > 0 {
			p.Attempts = p.Attempts[:n]
		}
	}
	return p
}
