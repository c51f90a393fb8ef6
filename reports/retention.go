package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/retention"
	"tyro/analysis/study"
)

// Retention is the answer of the command retention.
type Retention struct {
	Header
	Scale     string          `json:"scale"` // log or identity: of losses
	Before    int             `json:"before"`
	Gaps      []GapLine       `json:"gaps"`
	Forget    []ForgetLine    `json:"forgetting"`
	Refresher RefresherLine   `json:"refresher"`
	Calendar  []CalendarPoint `json:"calendar"`
	Course    []CalendarCurve `json:"calendar_curve"` // one curve over the calendar, by shape of forgetting

	level float64
	time  bool
	lower bool
}

// A GapLine is what is lost in one kind of break, of all trainees or of an arm.
type GapLine struct {
	Arm           string        `json:"arm"` // blank for all
	GapDays       float64       `json:"gap_days"`
	Shortest      float64       `json:"shortest_days"`
	Longest       float64       `json:"longest_days"`
	N             int           `json:"n"`
	Loss          Number        `json:"loss"`
	SE            Number        `json:"se"`
	Lower         Number        `json:"lower"`
	Upper         Number        `json:"upper"`
	SD            Number        `json:"sd_between_trainees"`
	Scale         string        `json:"scale"`
	Kept          Number        `json:"share_of_gain_kept"`
	KeptLower     Number        `json:"share_of_gain_kept_lower"`
	KeptUpper     Number        `json:"share_of_gain_kept_upper"`
	Still         Number        `json:"still_at_standard"`
	StillLower    Number        `json:"still_at_standard_lower"`
	StillUpper    Number        `json:"still_at_standard_upper"`
	StillOf       int           `json:"still_of"`
	Slope         Number        `json:"slope_before"`
	SlopeLower    Number        `json:"slope_before_lower"`
	SlopeUpper    Number        `json:"slope_before_upper"`
	SecondAttempt AttemptLoss   `json:"second_attempt"`
	Later         []AttemptLoss `json:"later_attempts"`
	Regained      Number        `json:"attempts_to_regain"`           // NaN where some did not in that session
	RegainedOver  Number        `json:"attempts_to_regain_more_than"` // NaN where all did
	NotYet        int           `json:"not_regained"`
	Savings       Number        `json:"savings"`         // NaN where some did not in that session
	SavingsAtMost Number        `json:"savings_at_most"` // NaN where all did
	SavingsLower  Number        `json:"savings_lower"`
	SavingsUpper  Number        `json:"savings_upper"`
}

// An AttemptLoss is what is still lost at a later attempt.
type AttemptLoss struct {
	Attempt int    `json:"attempt"`
	N       int    `json:"n"`
	Loss    Number `json:"loss"`
	SE      Number `json:"se"`
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
}

// A ForgetLine is one shape of forgetting.
type ForgetLine struct {
	Shape         string        `json:"shape"`
	Rate          Number        `json:"rate"`
	RateLower     Number        `json:"rate_lower"`
	RateUpper     Number        `json:"rate_upper"`
	HalfLife      Number        `json:"half_life_days"`
	HalfLifeLower Number        `json:"half_life_lower"`
	HalfLifeUpper Number        `json:"half_life_upper"`
	RSS           Number        `json:"residual_ss"`
	Refresher     RefresherLine `json:"refresher"`
}

// A RefresherLine is when to refresh.
type RefresherLine struct {
	Share  Number `json:"share"`
	Days   Number `json:"days"`
	Lower  Number `json:"lower"`
	Status string `json:"status"`
	Shape  string `json:"shape"`
}

// A CalendarCurve is one curve over the calendar: learning within sessions and loss between.
type CalendarCurve struct {
	Shape         string     `json:"shape"`
	Trainees      int        `json:"trainees"`
	Attempts      int        `json:"attempts"`
	Learnt        Number     `json:"learnt_an_attempt"` // share of what is left to learn
	LearntLower   Number     `json:"learnt_an_attempt_lower"`
	LearntUpper   Number     `json:"learnt_an_attempt_upper"`
	Regained      Number     `json:"regained_an_attempt"` // share of what is lost
	RegainedLower Number     `json:"regained_an_attempt_lower"`
	RegainedUpper Number     `json:"regained_an_attempt_upper"`
	Rate          Number     `json:"forgetting_rate"`
	RateLower     Number     `json:"forgetting_rate_lower"`
	RateUpper     Number     `json:"forgetting_rate_upper"`
	HalfLife      Number     `json:"half_life_days"`
	HalfLifeLower Number     `json:"half_life_lower"`
	HalfLifeUpper Number     `json:"half_life_upper"`
	Kept          []KeptLine `json:"kept"`
	Plateau       Number     `json:"plateau"` // on the scale of comparison, as Gain, their spreads and Residual
	PlateauLower  Number     `json:"plateau_lower"`
	PlateauUpper  Number     `json:"plateau_upper"`
	PlateauSD     Number     `json:"plateau_sd_between_trainees"`
	Gain          Number     `json:"gain"`
	GainLower     Number     `json:"gain_lower"`
	GainUpper     Number     `json:"gain_upper"`
	GainSD        Number     `json:"gain_sd_between_trainees"`
	Residual      Number     `json:"residual_sd"`
	RSS           Number     `json:"residual_ss"`
}

// A KeptLine is the share kept after a break of some days.
type KeptLine struct {
	Days  float64 `json:"days"`
	Kept  Number  `json:"kept"`
	Lower Number  `json:"lower"`
	Upper Number  `json:"upper"`
}

// A CalendarPoint is the mean of one attempt of one session.
type CalendarPoint struct {
	Session int    `json:"session"`
	Day     Number `json:"day"`
	Attempt int    `json:"attempt"`
	N       int    `json:"n"`
	Value   Number `json:"value"` // in the unit of the measure
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
	// Expected is what the curve over the calendar expects of the same trainees, by the
	// shape nearer to what was seen.
	Expected Number `json:"expected"`
}

// NewRetention words the answer.
func NewRetention(s *study.Study, a *study.Retention) *Retention {
	d := &Retention{Header: headerOf("retention", s), Scale: "identity", Before: a.Before, Gaps: []GapLine{}, Forget: []ForgetLine{}, Calendar: []CalendarPoint{}, Course: []CalendarCurve{},
		level: s.Options.Level, time: a.Log, lower: s.Task.Lower, Refresher: RefresherLine{Number(math.NaN()), Number(math.NaN()), Number(math.NaN()), retention.CannotBeTold, ""}}
	if a.Log {
		d.Scale = "log"
	}
	for _, g := range a.Groups {
		for _, x := range g.Gaps {
			d.Gaps = append(d.Gaps, gapLine(g.Arm, x, d.Scale))
		}
	}
	least := math.Inf(1)
	for _, f := range a.Forget {
		line := ForgetLine{f.Shape, Number(f.Rate.Estimate), Number(f.Rate.Lower), Number(f.Rate.Upper), Number(f.HalfLife.Estimate), Number(f.HalfLife.Lower), Number(f.HalfLife.Upper), Number(f.RSS),
			RefresherLine{Number(f.Refresher.Share), Number(f.Refresher.Days), Number(f.Refresher.Lower), f.Refresher.Status, f.Shape}}
		d.Forget = append(d.Forget, line)
		if f.RSS < least { // the shape nearer to what was seen
			least, d.Refresher = f.RSS, line.Refresher
		}
	}
	for _, p := range a.Calendar {
		back := func(v float64) Number {
			if a.Log {
				v = math.Exp(v)
			}
			return Number(v)
		}
		d.Calendar = append(d.Calendar, CalendarPoint{p.Session, Number(p.Day), p.Attempt, p.Value.N, back(p.Value.Estimate), back(p.Value.Lower), back(p.Value.Upper), back(expectedAt(a.Course, p))})
	}
	for _, c := range a.Course {
		d.Course = append(d.Course, calendarCurve(c))
	}
	d.With(a.Warnings)
	return d
}

// expectedAt is the curve at a point of the calendar; NaN where there is none.
func expectedAt(courses []retention.Course, p retention.Point) float64 {
	least, at := math.Inf(1), math.NaN()
	for _, c := range courses {
		for _, e := range c.Expected {
			if c.RSS < least && e.Session == p.Session && e.Attempt == p.Attempt {
				least, at = c.RSS, e.Value.Estimate
			}
		}
	}
	return at
}

func calendarCurve(c retention.Course) CalendarCurve {
	l := CalendarCurve{
		Shape: c.Shape, Trainees: c.Trainees, Attempts: c.Attempts, Learnt: Number(c.Learnt.Estimate), LearntLower: Number(c.Learnt.Lower), LearntUpper: Number(c.Learnt.Upper),
		Regained: Number(c.Regained.Estimate), RegainedLower: Number(c.Regained.Lower), RegainedUpper: Number(c.Regained.Upper), Rate: Number(c.Rate.Estimate), RateLower: Number(c.Rate.Lower), RateUpper: Number(c.Rate.Upper),
		HalfLife: Number(c.HalfLife.Estimate), HalfLifeLower: Number(c.HalfLife.Lower), HalfLifeUpper: Number(c.HalfLife.Upper), Kept: []KeptLine{},
		Plateau: Number(c.Plateau.Estimate), PlateauLower: Number(c.Plateau.Lower), PlateauUpper: Number(c.Plateau.Upper), PlateauSD: Number(c.PlateauSD),
		Gain: Number(c.Gain.Estimate), GainLower: Number(c.Gain.Lower), GainUpper: Number(c.Gain.Upper), GainSD: Number(c.GainSD), Residual: Number(c.Residual), RSS: Number(c.RSS),
	}
	for _, k := range c.Kept {
		l.Kept = append(l.Kept, KeptLine{k.Days, Number(k.Estimate), Number(k.Lower), Number(k.Upper)})
	}
	return l
}

func gapLine(arm string, g retention.Gap, scale string) GapLine {
	l := GapLine{
		Arm: arm, GapDays: g.Days, Shortest: g.Shortest, Longest: g.Longest, N: g.Loss.N, Loss: Number(g.Loss.Estimate), SE: Number(g.Loss.SE), Lower: Number(g.Loss.Lower),
		Upper: Number(g.Loss.Upper), SD: Number(g.Loss.SD), Scale: scale, Kept: Number(g.Kept.Estimate), KeptLower: Number(g.Kept.Lower), KeptUpper: Number(g.Kept.Upper),
		Still: Number(g.Still.Estimate), StillLower: Number(g.Still.Lower), StillUpper: Number(g.Still.Upper), StillOf: g.StillOf, Slope: Number(g.Slope.Estimate), SlopeLower: Number(g.Slope.Lower), SlopeUpper: Number(g.Slope.Upper), Later: []AttemptLoss{},
		Regained: Number(g.Regained.Estimate), NotYet: g.NotYet, Savings: Number(g.Savings.Estimate), SavingsLower: Number(g.Savings.Lower), SavingsUpper: Number(g.Savings.Upper),
	}
	nan := Number(math.NaN())
	l.RegainedOver, l.SavingsAtMost = nan, nan
	if g.Bounds {
		l.Regained, l.RegainedOver = nan, l.Regained
		l.Savings, l.SavingsAtMost = nan, l.Savings
	}
	l.SecondAttempt = AttemptLoss{2, 0, nan, nan, nan, nan}
	for j, m := range g.Later {
		l.Later = append(l.Later, AttemptLoss{j + 2, m.N, Number(m.Estimate), Number(m.SE), Number(m.Lower), Number(m.Upper)})
	}
	if len(l.Later) > 0 {
		l.SecondAttempt = l.Later[0]
	}
	return l
}

// Tables are the breaks, what is lost at each attempt after, forgetting, and the course
// over the calendar.
func (d *Retention) Tables() []Table {
	tables := []Table{d.gapTable(), d.laterTable()}
	if len(d.Forget) > 0 {
		tables = append(tables, d.forgetTable())
	}
	if len(d.Course) > 0 {
		tables = append(tables, d.courseTable())
	}
	return append(tables, d.calendarTable())
}

// A courseRow is one number of a curve over the calendar.
type courseRow struct {
	shape, name            string
	estimate, lower, upper Number
	show                   func(float64) string
}

// Nearest is the curve over the calendar that is nearer to what was seen; nil without one.
func (d *Retention) Nearest() *CalendarCurve {
	var best *CalendarCurve
	for i := range d.Course {
		if best == nil || d.Course[i].RSS < best.RSS {
			best = &d.Course[i]
		}
	}
	return best
}

func (d *Retention) courseTable() Table {
	var rows []courseRow
	for _, c := range d.Course {
		rows = append(rows,
			courseRow{c.Shape, "learnt by each attempt, of what is left", c.Learnt, c.LearntLower, c.LearntUpper, shareText},
			courseRow{c.Shape, "brought back by each attempt, of what is lost", c.Regained, c.RegainedLower, c.RegainedUpper, shareText})
		for _, k := range c.Kept {
			rows = append(rows, courseRow{c.Shape, "kept after " + study.Days(k.Days), k.Kept, k.Lower, k.Upper, shareText})
		}
		if !math.IsNaN(float64(c.HalfLife)) {
			rows = append(rows, courseRow{c.Shape, "days until half is lost", c.HalfLife, c.HalfLifeLower, c.HalfLifeUpper, ThreeDigits})
		}
		if !math.IsNaN(float64(c.Plateau)) {
			at := func(v Number) Number {
				if d.time {
					return Number(math.Exp(float64(v)))
				}
				return v
			}
			rows = append(rows, courseRow{c.Shape, "plateau", at(c.Plateau), at(c.PlateauLower), at(c.PlateauUpper), ThreeDigits})
		}
	}
	text := func(of func(courseRow) Number) func(courseRow) string {
		return func(r courseRow) string {
			if math.IsNaN(float64(of(r))) {
				return "–"
			}
			return r.show(float64(of(r)))
		}
	}
	c := d.Course[0]
	t := Table{Name: "calendar-curve", Title: "One curve over the calendar: learning within sessions and loss between them", Columns: []Column{
		Words("shape", "forgetting", rows, func(r courseRow) string { return r.shape }),
		Words("quantity", "what", rows, func(r courseRow) string { return r.name }),
		Words("estimate", "estimate", rows, text(func(r courseRow) Number { return r.estimate })),
		Words("lower", fmt.Sprintf("%g %% from", 100*d.level), rows, text(func(r courseRow) Number { return r.lower })),
		Words("upper", "to", rows, text(func(r courseRow) Number { return r.upper })),
	}}
	t.Notes = append(t.Notes, fmt.Sprintf("Of %s with %s: every trainee has a plateau and a gain of their own, and what is learnt, lost and brought back is common to all. Where trainees differ much in that, the numbers are of one curve for all, and its plateau lies nearer to the first attempts than their own do. Intervals: bootstrap of whole trainees; that nothing is lost is left out only where a test of its own leaves it out.", Count(c.Trainees, "trainee"), Count(c.Attempts, "attempt")),
		"Kept is a share of what was mastered before the break; the table of breaks above has it of the gain up to the level before, without a curve.")
	if len(d.Course) > 1 {
		better, worse := d.Nearest(), &d.Course[0]
		if better == worse {
			worse = &d.Course[1]
		}
		t.Notes = append(t.Notes, fmt.Sprintf("Nearer to what was seen is the %s shape (sum of squares %s; %s with the %s one). Beyond the breaks seen both are guesses.", better.Shape, Significant(float64(better.RSS), 4), Significant(float64(worse.RSS), 4), worse.Shape))
	}
	return t
}

func (d *Retention) gapTable() Table {
	rows := d.Gaps
	from := fmt.Sprintf("%g %% from", 100*d.level)
	t := Table{Name: "retention", Title: fmt.Sprintf("First attempt after a break, less the mean of the last %d before it", d.Before), Columns: []Column{
		Numbers("gap_days", "days", rows, func(g GapLine) float64 { return g.GapDays }, ThreeDigits),
		Words("arm", "trainees", rows, func(g GapLine) string { return ArmName(g.Arm) }),
		Counts("n", "n", rows, func(g GapLine) int { return g.N }),
		Numbers("loss", "loss", rows, func(g GapLine) Number { return g.Loss }, ThreeDigits),
		Numbers("se", "SE", rows, func(g GapLine) Number { return g.SE }, ThreeDigits),
		Numbers("lower", from, rows, func(g GapLine) Number { return g.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(g GapLine) Number { return g.Upper }, ThreeDigits),
		Words("scale", "", rows, func(g GapLine) string { return g.Scale }),
		Numbers("sd_between_trainees", "", rows, func(g GapLine) Number { return g.SD }, nil),
		Numbers("share_of_gain_kept", "gain kept", rows, func(g GapLine) Number { return g.Kept }, shareText),
		Numbers("share_of_gain_kept_lower", "", rows, func(g GapLine) Number { return g.KeptLower }, nil),
		Numbers("share_of_gain_kept_upper", "", rows, func(g GapLine) Number { return g.KeptUpper }, nil),
		Numbers("still_at_standard", "still passing", rows, func(g GapLine) Number { return g.Still }, shareText),
		Numbers("still_at_standard_lower", "", rows, func(g GapLine) Number { return g.StillLower }, nil),
		Numbers("still_at_standard_upper", "", rows, func(g GapLine) Number { return g.StillUpper }, nil),
		Counts("still_of", "of", rows, func(g GapLine) int { return g.StillOf }),
		Numbers("attempts_to_regain", "regained after", rows, func(g GapLine) Number { return g.Regained }, ThreeDigits),
		Numbers("attempts_to_regain_more_than", "or more than", rows, func(g GapLine) Number { return g.RegainedOver }, ThreeDigits),
		Counts("not_regained", "not yet", rows, func(g GapLine) int { return g.NotYet }),
		Numbers("savings", "savings", rows, func(g GapLine) Number { return g.Savings }, shareText),
		Numbers("savings_at_most", "or at most", rows, func(g GapLine) Number { return g.SavingsAtMost }, shareText),
	}}
	if !slices.ContainsFunc(rows, func(g GapLine) bool { return !math.IsNaN(float64(g.RegainedOver)) }) {
		t.Hide("attempts_to_regain_more_than", "savings_at_most")
	}
	if d.time {
		t.Notes = append(t.Notes, "Losses are differences of logarithms of the time: 0.10 is about 10 % slower.")
	}
	if !d.lower {
		t.Notes = append(t.Notes, "Higher is better here: a loss below 0 is worse than before the break.")
	}
	t.Notes = append(t.Notes,
		"Gain kept and still passing are two stories: how much of the gain the first attempt still shows, and how many of those who passed at the end before still pass.",
		"Regained after: attempts until one is at the level before again, which is relearning, not retention. Savings: by how much fewer they are than it took at first. Not yet: breaks after which that session did not bring it back; where there are such, more than and at most say all that is known.")
	if note := d.kindsNote(); note != "" {
		t.Notes = append(t.Notes, note)
	}
	for _, g := range d.Gaps {
		if g.Arm == "" && !math.IsNaN(float64(g.Lower)) {
			text := fmt.Sprintf("After %s the loss may be anything from %s to %s", study.Days(g.GapDays), ThreeDigits(float64(g.Lower)), ThreeDigits(float64(g.Upper)))
			if s := g.SecondAttempt; !math.IsNaN(float64(s.Lower)) {
				text += fmt.Sprintf("; at the second attempt, from %s to %s", ThreeDigits(float64(s.Lower)), ThreeDigits(float64(s.Upper)))
				if s.Lower <= 0 && s.Upper >= 0 && (g.Lower > 0 || g.Upper < 0) {
					text += ", which no longer tells a loss from chance and does not show that there is none"
				}
			}
			t.Notes = append(t.Notes, text+".")
		}
	}
	return t
}

// kindsNote says which breaks the days of a kind stand for; blank where they are all of one length.
func (d *Retention) kindsNote() string {
	var of []string
	for _, g := range d.Gaps {
		if g.Arm == "" && g.Shortest < g.Longest {
			of = append(of, fmt.Sprintf("%g to %s as %g", g.Shortest, study.Days(g.Longest), g.GapDays))
		}
	}
	if of == nil {
		return ""
	}
	return "Breaks at most a quarter longer than the shortest among them are one kind, named by the middle one: " + strings.Join(of, ", ") + "."
}

// shareText is a share as a percentage; a dash where not known.
func shareText(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return Percent(v)
}

// A laterRow is one attempt after one kind of break.
type laterRow struct {
	gap GapLine
	AttemptLoss
}

func (d *Retention) laterTable() Table {
	var rows []laterRow
	for _, g := range d.Gaps {
		rows = append(rows, laterRow{g, AttemptLoss{1, g.N, g.Loss, g.SE, g.Lower, g.Upper}})
		for _, l := range g.Later {
			rows = append(rows, laterRow{g, l})
		}
	}
	return Table{Name: "attempts-after", Title: "What is still lost at each attempt after the break", Columns: []Column{
		Numbers("gap_days", "days", rows, func(r laterRow) float64 { return r.gap.GapDays }, ThreeDigits),
		Words("arm", "trainees", rows, func(r laterRow) string { return ArmName(r.gap.Arm) }),
		Counts("attempt", "attempt", rows, func(r laterRow) int { return r.Attempt }),
		Counts("n", "n", rows, func(r laterRow) int { return r.N }),
		Numbers("loss", "loss", rows, func(r laterRow) Number { return r.Loss }, ThreeDigits),
		Numbers("se", "SE", rows, func(r laterRow) Number { return r.SE }, ThreeDigits),
		Numbers("lower", fmt.Sprintf("%g %% from", 100*d.level), rows, func(r laterRow) Number { return r.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(r laterRow) Number { return r.Upper }, ThreeDigits),
	}}
}

func (d *Retention) forgetTable() Table {
	rows := d.Forget
	from := fmt.Sprintf("%g %% from", 100*d.level)
	t := Table{Name: "forgetting", Title: "How the share of the gain that is kept falls with the days", Columns: []Column{
		Words("shape", "shape", rows, func(f ForgetLine) string { return f.Shape }),
		Numbers("rate", "rate", rows, func(f ForgetLine) Number { return f.Rate }, ThreeDigits),
		Numbers("rate_lower", "", rows, func(f ForgetLine) Number { return f.RateLower }, nil),
		Numbers("rate_upper", "", rows, func(f ForgetLine) Number { return f.RateUpper }, nil),
		Numbers("half_life_days", "half-life, days", rows, func(f ForgetLine) Number { return f.HalfLife }, ThreeDigits),
		Numbers("half_life_lower", from, rows, func(f ForgetLine) Number { return f.HalfLifeLower }, ThreeDigits),
		Numbers("half_life_upper", "to", rows, func(f ForgetLine) Number { return f.HalfLifeUpper }, ThreeDigits),
		Numbers("residual_ss", "sum of squares", rows, func(f ForgetLine) Number { return f.RSS }, nil),
		Numbers("refresher_days", "refresh, days", rows, func(f ForgetLine) Number { return f.Refresher.Days }, ThreeDigits),
		Numbers("refresher_lower", "at the latest", rows, func(f ForgetLine) Number { return f.Refresher.Lower }, ThreeDigits),
		Words("refresher_status", "status", rows, func(f ForgetLine) string { return f.Refresher.Status }),
	}}
	if r := d.Refresher; r.Status != retention.CannotBeTold {
		t.Notes = append(t.Notes, fmt.Sprintf("Refresh: the day from which fewer than %s of trainees are expected to meet the standard at their first attempt; at the latest: the lower end of its interval. It assumes no practice in between. ∞: later than ten times the longest break seen.", Percent(float64(r.Share))))
	}
	t.Notes = append(t.Notes, "Both shapes are guesses beyond the breaks seen, and a half-life beyond the longest of them is more so.", Caution)
	return t
}

func (d *Retention) calendarTable() Table {
	rows, head := d.Calendar, "mean"
	if d.time {
		head = "geometric mean"
	}
	return Table{Name: "calendar", Title: "Learning within sessions and loss between them", Columns: []Column{
		Counts("session", "session", rows, func(p CalendarPoint) int { return p.Session }),
		Numbers("day", "day", rows, func(p CalendarPoint) Number { return p.Day }, ThreeDigits),
		Counts("attempt", "attempt", rows, func(p CalendarPoint) int { return p.Attempt }),
		Counts("n", "n", rows, func(p CalendarPoint) int { return p.N }),
		Numbers("value", head, rows, func(p CalendarPoint) Number { return p.Value }, ThreeDigits),
		Numbers("lower", fmt.Sprintf("%g %% from", 100*d.level), rows, func(p CalendarPoint) Number { return p.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(p CalendarPoint) Number { return p.Upper }, ThreeDigits),
		Numbers("expected", "curve", rows, func(p CalendarPoint) Number { return p.Expected }, ThreeDigits),
	}}
}
