package reports

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// Standings says what every trainee needs, for the person who decides.
type Standings struct {
	Header
	Rule     string     `json:"rule"`
	Trainees []standing `json:"trainees"`
	Caution  string     `json:"caution"`

	Answer []study.Standing `json:"-"`
	study  *study.Study
}

// A standing is one trainee's; see [study.Standing].
type standing struct {
	Trainee     string `json:"trainee"`
	Arm         string `json:"arm"`
	Place       string `json:"place"`
	Reason      string `json:"reason"`
	Attempts    int    `json:"attempts"`
	Passed      int    `json:"passed"`
	LastAttempt Number `json:"last_attempt"`
	LastDate    string `json:"last_date"`
	DaysSince   Number `json:"days_since"` // from the last date to the last one in the study
	Met         bool   `json:"met"`
	MetAttempt  Number `json:"met_attempt"`
	Since       int    `json:"attempts_since"`
	Kept        int    `json:"passed_since"`
	Relapse     Number `json:"relapse_attempt"`
	Definition  string `json:"more_definition"`
	More        Number `json:"more"`
	MoreLower   Number `json:"more_lower"`
	MoreUpper   Number `json:"more_upper"`
}

// NewStandings is the document of where everybody stands; nil where nothing is said.
func NewStandings(s *study.Study, a []study.Standing) *Standings {
	if len(a) == 0 {
		return nil
	}
	d := &Standings{Header: headerOf("standings", s), Rule: s.Question.Rule.String(), Caution: Caution, Answer: a, study: s}
	for _, t := range a {
		days := Number(t.Days)
		if t.Days < 0 {
			days = Number(math.NaN())
		}
		d.Trainees = append(d.Trainees, standing{
			Trainee: t.ID, Arm: t.Arm, Place: string(t.Place), Reason: string(t.Reason), Attempts: t.Attempts, Passed: t.Passed,
			LastAttempt: Number(t.Last), LastDate: t.LastDate, DaysSince: days, Met: t.Met, MetAttempt: Number(t.MetAt),
			Since: t.Since, Kept: t.Kept, Relapse: Number(t.Flag),
			Definition: t.More.Definition, More: Number(t.More.Middle), MoreLower: Number(t.More.Lower), MoreUpper: Number(t.More.Upper),
		})
	}
	return d
}

// PlaceWords is a place in words.
func PlaceWords(p study.Place) string {
	return map[study.Place]string{
		study.LookNow: "look now", study.Close: "close", study.NeedsMore: "needs more", study.Stopped: "stopped", study.HasMet: "met",
	}[p]
}

// MoreWords says how many attempts are still to go; blank where that is not asked, and
// why where it cannot be said.
func (d *Standings) MoreWords(t study.Standing) string {
	switch m := t.More; {
	case t.Met:
		return ""
	case m.Known() && m.Lower == m.Upper:
		return fmt.Sprintf("about %.0f", m.Lower)
	case m.Known():
		return fmt.Sprintf("%.0f to %.0f", m.Lower, m.Upper)
	case math.IsInf(m.Lower, 1):
		return fmt.Sprintf("not within %g in all", d.study.Question.Horizon)
	}
	return "too early to tell"
}

// ReasonWords says why a trainee stands there, in counts.
func (d *Standings) ReasonWords(t study.Standing) string {
	passed := fmt.Sprintf("passed %d of %d", t.Passed, t.Attempts)
	switch t.Reason {
	case study.BecauseRelapse:
		return fmt.Sprintf("met the rule at attempt %g, warning chart signalled at %g; since the rule %s", t.MetAt, t.Flag, sinceWords(t))
	case study.BecauseLapsed:
		return fmt.Sprintf("met the rule at attempt %g, but is falling away from it: since then %s", t.MetAt, sinceWords(t))
	case study.BecauseAway:
		return passed + "; the chance to pass is falling"
	case study.BecauseBeyond:
		return fmt.Sprintf("%s; not expected to meet the rule within %g attempts", passed, d.study.Question.Horizon)
	case study.BecauseLong:
		return passed + "; as many attempts as are planned, and not there"
	case study.BecauseGone:
		return fmt.Sprintf("%s; not seen for %d days, longer than any break so far", passed, t.Days)
	case study.BecauseOnePass:
		return passed + "; one more pass meets the rule"
	case study.BecauseMet:
		return fmt.Sprintf("met the rule at attempt %g; since then %s", t.MetAt, sinceWords(t))
	}
	return passed
}

// sinceWords counts passes after the rule was met.
func sinceWords(t study.Standing) string {
	if t.Since == 0 {
		return "no further attempt"
	}
	return fmt.Sprintf("passed %d of %d", t.Kept, t.Since)
}

// ActionWords suggests what to do next.
func (d *Standings) ActionWords(t study.Standing) string {
	switch t.Reason {
	case study.BecauseRelapse, study.BecauseLapsed:
		return "watch the next attempts; ask for the rule again if they fail"
	case study.BecauseAway:
		return "watch the next attempts and ask what changed"
	case study.BecauseBeyond:
		return "change how they practise before booking more attempts"
	case study.BecauseLong:
		return "talk it over; decide whether to book more attempts"
	case study.BecauseGone:
		return "ask whether they go on; book attempts, or note why not"
	case study.BecauseOnePass:
		return "book the next attempt soon"
	case study.BecauseMet:
		return "none asked for"
	case study.BecauseEarly:
		return "go on, and look again after more attempts"
	}
	if t.More.Definition == proficiency.MeanCrossing {
		return "book more attempts, and look again"
	}
	return fmt.Sprintf("book %.0f attempts, keep places for %.0f", math.Ceil(t.More.Middle), t.More.Upper)
}

// Tables lists where everybody stands.
func (d *Standings) Tables() []Table {
	rows := d.Trainees
	at := func(i int) study.Standing { // some rows may not be shown
		return d.Answer[slices.IndexFunc(d.Answer, func(t study.Standing) bool { return t.ID == rows[i].Trainee })]
	}
	index := make([]int, len(rows))
	for i := range index {
		index[i] = i
	}
	t := Table{Name: "standings", Title: "Who needs what", Columns: []Column{
		Words("trainee", "trainee", index, func(i int) string { return SeriesName(rows[i].Trainee) }),
		Words("arm", "arm", index, func(i int) string { return rows[i].Arm }),
		Words("place", "", index, func(i int) string { return rows[i].Place }),
		Words("place_words", "needs", index, func(i int) string { return PlaceWords(at(i).Place) }),
		Words("last_date", "last date", index, func(i int) string { return rows[i].LastDate }),
		Counts("attempts", "attempts", index, func(i int) int { return rows[i].Attempts }),
		Counts("passed", "passed", index, func(i int) int { return rows[i].Passed }),
		Numbers("met_attempt", "met at", index, func(i int) Number { return rows[i].MetAttempt }, Whole),
		Words("more_words", "still to go", index, func(i int) string { return d.MoreWords(at(i)) }),
		Numbers("more", "", index, func(i int) Number { return rows[i].More }, nil),
		Numbers("more_lower", "", index, func(i int) Number { return rows[i].MoreLower }, nil),
		Numbers("more_upper", "", index, func(i int) Number { return rows[i].MoreUpper }, nil),
		Words("reason", "", index, func(i int) string { return rows[i].Reason }),
		Words("reason_words", "why", index, func(i int) string { return d.ReasonWords(at(i)) }),
		Words("action", "suggested", index, func(i int) string { return d.ActionWords(at(i)) }),
	}}
	t.HideBlank("arm", "last_date")
	t.Notes = []string{StandingNote(), Caution}
	return []Table{t}
}

// StandingNote says what the places mean.
func StandingNote() string {
	return fmt.Sprintf("Look now: after the rule was met the warning chart signalled or none of the last %d attempts passed, the chance to pass falls, the rule is not expected to be met, or as many attempts were made as are planned. Close: one pass short of the rule, or expected there within %d attempts. Stopped: not there, and not seen for longer than any break after which a trainee of the study came back. Still to go: attempts, if practice goes on like this.", study.Lapse, study.Soon)
}
