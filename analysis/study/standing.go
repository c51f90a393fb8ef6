package study

import (
	"math"
	"slices"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
)

// A Standing is where a trainee is on the way to meeting the rule, for the person who
// decides what comes next.
type Standing struct {
	ID, Arm  string
	Place    Place
	Reason   Reason
	Attempts int     // that count
	Passed   int     // of them
	Last     float64 // number of the last one
	LastDate string  // of the last attempt; blank where not given
	Days     int     // from then to the last date in the study; -1 where not known
	Met      bool    // the rule
	MetAt    float64 // NaN without
	MetDate  string
	Since    int // attempts after meeting the rule, and how many of them passed
	Kept     int
	Lapsed   bool    // none of the last [Lapse] attempts passed, all of them after the rule was met
	Flag     float64 // attempt at which the relapse chart signalled; NaN without
	More     More
}

// More is how many attempts are still to go: middle and limits, +Inf beyond the horizon,
// NaN where nothing can be said.
type More struct {
	Definition           string // rule-met, or mean-crossing where the rule is not projected
	Middle, Lower, Upper float64
}

// Known reports whether there is a range with an end.
func (m More) Known() bool { return m.Lower >= 0 && !math.IsInf(m.Upper, 1) && m.Upper >= m.Lower }

// A Place is what a trainee needs.
type Place string

// The places, the most urgent first.
const (
	LookNow   Place = "look-now"   // a person should look before more attempts are made
	Close     Place = "close"      // one pass short of the rule, or expected there within [Soon] attempts
	NeedsMore Place = "needs-more" // further attempts
	Stopped   Place = "stopped"    // no longer practising, without having met the rule
	HasMet    Place = "met"        // the rule is met
)

// Places lists them, the most urgent first.
func Places() []Place { return []Place{LookNow, Close, NeedsMore, Stopped, HasMet} }

// A Reason is why a trainee stands in a place.
type Reason string

// The reasons.
const (
	BecauseRelapse Reason = "relapse"      // the relapse chart signalled after the rule was met
	BecauseLapsed  Reason = "lapsed"       // the rule was met, but none of the last attempts passed, or the chance to pass falls
	BecauseAway    Reason = "moving-away"  // the chance to pass falls
	BecauseBeyond  Reason = "beyond"       // the rule is not expected to be met within the horizon
	BecauseLong    Reason = "past-plan"    // as many attempts as are scheduled, without having met it
	BecauseGone    Reason = "not-seen"     // not seen for longer than any break so far
	BecauseOnePass Reason = "one-pass"     // the next attempt, if it passes, meets the rule
	BecauseSoon    Reason = "soon"         // expected within a few attempts
	BecauseFar     Reason = "some-way"     // expected, further ahead
	BecauseEarly   Reason = "too-early"    // nothing can be said yet
	BecauseMet     Reason = "met-the-rule" // nothing is asked for
)

// Lapse is how many attempts without a pass, after the rule was met, call for a look (common
// practice, no source).
const Lapse = 5

// Soon is how many attempts ahead a trainee counts as close (common practice, no source).
const Soon = 5

// Known is what standings are read off: answers of the same study. All but Proficiency may
// be nil, and what they would say is then left out.
type Known struct {
	Proficiency *Proficiency
	Cohort      *Cohort     // projects when the rule is met
	Monitoring  *Monitoring // relapse flags
	Quota       *Quota      // attempts scheduled
}

// Standings says where everybody stands who has an attempt that counts. Nil without a
// rule.
func (s *Study) Standings(k Known) []Standing {
	if k.Proficiency == nil || s.Question.Rule == nil {
		return nil
	}
	end, longest := calendarOf(s.Trainees)
	var out []Standing
	for _, t := range k.Proficiency.Trainees {
		if len(t.Counted()) == 0 {
			continue
		}
		one := s.standing(t, k)
		one.Days = wholeDays(one.LastDate, end)
		one.Place, one.Reason = s.place(one, t, k, longest)
		out = append(out, one)
	}
	return out
}

// standing counts one trainee's attempts and reads the projection.
func (s *Study) standing(t TraineeProficiency, k Known) Standing {
	nan := math.NaN()
	one := Standing{ID: t.ID, Arm: t.Arm, Last: t.Last(), LastDate: lastDate(t.Attempts), Days: -1, MetAt: nan, Flag: nan, More: More{Middle: nan, Lower: nan, Upper: nan}}
	counted, passes := t.Counted(), t.Passes(s.Question.Standard)
	one.Attempts = len(counted)
	at := s.Question.Rule.FirstMet(passes)
	for i, p := range passes {
		if p {
			one.Passed++
		}
		if at > 0 && i >= at {
			one.Since++
			if p {
				one.Kept++
			}
		}
	}
	one.Lapsed = one.Since >= Lapse && !slices.Contains(passes[len(passes)-Lapse:], true)
	if at > 0 {
		one.Met, one.MetAt, one.MetDate = true, counted[at-1].Number, counted[at-1].Date
	} else {
		one.More = moreOf(t, k.Cohort, one.Last)
	}
	if k.Monitoring != nil {
		for _, w := range k.Monitoring.Watched {
			if w.ID == t.ID && w.Relapsed >= 0 {
				one.Flag = w.Attempts[w.Relapsed].Number
			}
		}
	}
	return one
}

// moreOf is how many attempts are still to go: until the rule is met by the cohort and
// the trainee's own attempts, else until the own curve meets the standard.
func moreOf(t TraineeProficiency, c *Cohort, last float64) More {
	ahead := func(definition string, status proficiency.Status, middle, lower, upper float64) More {
		left := func(v float64) float64 { return math.Max(1, v-last) } // NaN stays
		if status == proficiency.TooEarly {
			lower = math.NaN()
		}
		return More{definition, left(middle), left(lower), left(upper)}
	}
	if c != nil {
		if m := c.Member(t.ID); m != nil {
			for _, p := range m.Proficiency {
				if p.Definition == proficiency.RuleMet {
					return ahead(p.Definition, p.Status, p.Estimate, p.Lower, p.Upper)
				}
			}
		}
	}
	a := t.Answer(proficiency.MeanCrossing)
	if a.Status == proficiency.Reached || a.Definition == "" { // the own curve is there, and the rule is not projected
		return More{Definition: proficiency.RuleMet, Middle: math.NaN(), Lower: math.NaN(), Upper: math.NaN()}
	}
	return ahead(a.Definition, a.Status, a.Estimate, a.Lower, a.Upper)
}

// place settles what a trainee needs, and why.
func (s *Study) place(one Standing, t TraineeProficiency, k Known, longest int) (Place, Reason) {
	switch {
	case !math.IsNaN(one.Flag):
		return LookNow, BecauseRelapse
	case one.Met && (one.Lapsed || s.movesAway(t, k.Cohort)):
		return LookNow, BecauseLapsed
	case one.Met:
		return HasMet, BecauseMet
	case longest > 0 && one.Days > longest:
		return Stopped, BecauseGone
	case onePassShort(s.Question.Rule, t.Passes(s.Question.Standard)):
		return Close, BecauseOnePass
	case s.movesAway(t, k.Cohort):
		return LookNow, BecauseAway
	case math.IsInf(one.More.Lower, 1):
		return LookNow, BecauseBeyond
	case k.Quota.scheduledFor(one.Arm) > 0 && one.Attempts >= k.Quota.scheduledFor(one.Arm):
		return LookNow, BecauseLong
	case one.More.Known() && one.More.Definition == proficiency.RuleMet && one.More.Middle <= Soon:
		return Close, BecauseSoon
	case one.More.Known():
		return NeedsMore, BecauseFar
	}
	return NeedsMore, BecauseEarly
}

// movesAway reports whether the chance to pass falls, so that the rule is not projected.
func (s *Study) movesAway(t TraineeProficiency, c *Cohort) bool {
	if c != nil {
		if m := c.Member(t.ID); m != nil {
			for _, p := range m.Proficiency {
				if p.Definition == proficiency.RuleMet {
					return p.Status == proficiency.MovingAway
				}
			}
		}
	}
	return t.Answer(proficiency.MeanCrossing).Status == proficiency.MovingAway
}

// onePassShort reports whether the next attempt, if it passes, meets the rule.
func onePassShort(r practice.Rule, passes []bool) bool {
	next := append(append([]bool(nil), passes...), true)
	return r.FirstMet(next) == len(next)
}

// scheduledFor is the number of attempts that the answer in words schedules for an arm;
// 0 where nothing is scheduled.
func (q *Quota) scheduledFor(arm string) int {
	if q == nil {
		return 0
	}
	for _, g := range q.Groups {
		if len(q.Groups) > 1 && g.Arm != arm {
			continue
		}
		for _, b := range g.Bases {
			if b.Schedule != nil && b.Schedule.Leads {
				return b.Schedule.Attempts
			}
		}
	}
	return 0
}

// calendarOf is the last date in the study, and the longest break, in days, after which
// any trainee came back; 0 without one.
func calendarOf(ts []practice.Trainee) (end string, longest int) {
	for _, t := range ts {
		before := ""
		for _, a := range t.Attempts {
			if a.Date == "" {
				continue
			}
			if days := wholeDays(before, a.Date); days > longest {
				longest = days
			}
			before, end = a.Date, max(end, a.Date)
		}
	}
	return end, longest
}

func lastDate(as []practice.Attempt) string {
	last := ""
	for _, a := range as {
		last = max(last, a.Date)
	}
	return last
}

// wholeDays is the number of days from one date to another; -1 where one is not known.
func wholeDays(from, to string) int {
	days, err := daysBetween(from, to)
	if err != nil {
		return -1
	}
	return int(math.Round(days))
}
