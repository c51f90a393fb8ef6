package reports

import (
	"math"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
)

// Quota is the answer of the command quota for a study, or for a table of observed
// attempts: how many attempts to schedule, and what they bring and cost.
type Quota struct {
	Header
	Standard   Number          `json:"standard"` // null for a table of observed attempts
	Rule       string          `json:"rule"`     // blank for a table of observed attempts
	Definition string          `json:"definition"`
	Level      float64         `json:"level"`
	Groups     []quotaGroup    `json:"groups"`
	Rows       []shareRow      `json:"rows"`
	Statements []statement     `json:"statements"`
	Schedules  []schedule      `json:"schedules"`
	Costs      *costsStated    `json:"costs"` // null where none are stated
	Progress   []progressPoint `json:"progress"`
	Replicates int             `json:"replicates"`                // samples of whole trainees behind limits as observed
	Draws      int             `json:"cohort_curve_draws"`        // of the population's parameters; 0 without a curve
	Failed     int             `json:"failed_cohort_curve_draws"` // the most that any group has
	Caution    string          `json:"caution"`

	Answer *study.Quota `json:"-"`
}

// A quotaGroup is all trainees (arm blank), or an arm's.
type quotaGroup struct {
	Arm      string `json:"arm"`
	N        int    `json:"n"`
	Met      int    `json:"met"`
	LastSeen Number `json:"last_seen"`
}

// A shareRow is the attempts by which a share has met the rule, on one basis.
// Largest is the largest share for which that can be estimated. The log-log limits
// are those of Brookmeyer and Crowley, as in the command proficiency.
type shareRow struct {
	Arm   string `json:"arm"`
	Basis string `json:"basis"`
	quotaRow
	Largest     Number `json:"largest_share"`
	LogLogLower Number `json:"log_log_lower"`
	LogLogUpper Number `json:"log_log_upper"`
}

// A statement is that, with the confidence given, at least the share of such
// trainees have met the rule by the attempts; where no number of attempts supports
// it, claimed is the largest share that can be stated.
type statement struct {
	Arm            string  `json:"arm"`
	Basis          string  `json:"basis"`
	Share          float64 `json:"share"`
	Confidence     float64 `json:"confidence"`
	Attempts       Number  `json:"attempts"`
	Status         string  `json:"status"`
	Claimed        Number  `json:"claimed_share"`
	TraineesNeeded int     `json:"trainees_needed"` // 0 by the cohort's curve
}

// A costsStated repeats the costs as they were given.
type costsStated struct {
	Unit              string `json:"unit"`
	LabMinutes        Number `json:"lab_minutes"`
	ExaminerMinutes   Number `json:"examiner_minutes"`
	Consumables       Number `json:"consumables"`
	LabHourPrice      Number `json:"lab_hour_price"`
	ExaminerHourPrice Number `json:"examiner_hour_price"`
	PerTrainee        Number `json:"per_trainee"`
	PerAttempt        Number `json:"per_attempt"`
}

// A schedule is some attempts for some trainees, on one basis.
type schedule struct {
	Arm         string  `json:"arm"`
	Basis       string  `json:"basis"`
	Attempts    int     `json:"attempts"`
	Trainees    int     `json:"trainees"`
	Met         Limits  `json:"met"`           // share who have met the rule by then
	Used        Limits  `json:"attempts_used"` // mean, a trainee, when practice stops at the rule
	Stopping    spent   `json:"stopping_at_the_rule"`
	Everybody   spent   `json:"everybody_makes_all"`
	MoreForHalf Number  `json:"more_for_half"`      // attempts more until half of those not there are
	NeverMet    Number  `json:"not_met_at_the_end"` // share; null where some never met the rule and the estimate says nobody
	End         int     `json:"end"`                // last attempt known on this basis
	Fewer       *fewer  `json:"fewer"`
	Target      float64 `json:"target"` // share that the attempts were chosen for; 0 where they were given
	Seen        *seenBy `json:"seen"`   // null by the cohort's curve

	leads bool // the answer in words is about this basis
}

// A seenBy counts what was seen of a group's trainees by the attempts scheduled: they had
// met the rule, were last seen before without, or were seen then without.
type seenBy struct {
	Of      int `json:"of"`
	Met     int `json:"met"`
	Stopped int `json:"last_seen_before"`
	Without int `json:"seen_without"`
	Never   int `json:"never_met"` // by the last attempt seen of each
}

// spent is what all trainees use together; cost_per_proficient has the cost of all
// of them in the numerator.
type spent struct {
	LabHours      Limits `json:"lab_hours"`
	ExaminerHours Limits `json:"examiner_hours"`
	Consumables   Limits `json:"consumables"`
	Cost          Limits `json:"cost"`
	PerMet        Limits `json:"cost_per_proficient"`
}

// fewer is what fewer attempts change.
type fewer struct {
	Fewer             int    `json:"fewer"`
	Attempts          int    `json:"attempts"`
	FewerMet          Limits `json:"fewer_proficient"` // trainees
	NotMet            Limits `json:"not_proficient"`   // share
	Saved             Limits `json:"saved_stopping_at_the_rule"`
	SavedByEverybody  Number `json:"saved_everybody_makes_all"`
	HoursSaved        Limits `json:"lab_hours_saved_stopping_at_the_rule"`
	HoursSavedByDoing Number `json:"lab_hours_saved_everybody_makes_all"`
}

// A progressPoint is the share that has met the rule by an attempt. Practising
// counts the trainees seen beyond it who are not there.
type progressPoint struct {
	Arm        string `json:"arm"`
	Basis      string `json:"basis"`
	Attempt    int    `json:"attempt"`
	Share      Number `json:"share"`
	Lower      Number `json:"lower"`
	Upper      Number `json:"upper"`
	Practising Number `json:"practising"` // null by the cohort's curve
}

// NewQuota is the document of a study's quota.
func NewQuota(s *study.Study, a *study.Quota) *Quota {
	d := &Quota{
		Header: headerOf("quota", s), Standard: Number(a.Standard), Definition: proficiency.RuleMet, Level: a.Level, Groups: []quotaGroup{}, Rows: []shareRow{},
		Statements: []statement{}, Schedules: []schedule{}, Progress: []progressPoint{}, Caution: Caution, Answer: a,
	}
	d.With(a.Warnings)
	if a.Rule != nil {
		d.Rule = a.Rule.String()
	}
	if a.Asked.Costs != nil {
		d.Costs = newCostsStated(*a.Asked.Costs)
	}
	for _, g := range a.Groups {
		d.Groups = append(d.Groups, quotaGroup{Arm: g.Arm, N: len(g.Seen), Met: g.Met, LastSeen: Number(g.LastSeen)})
		for _, b := range g.Bases {
			d.add(g, b)
		}
	}
	return d
}

func newCostsStated(c practice.Costs) *costsStated {
	if c.Unit == "" {
		c.Unit = "units"
	}
	return &costsStated{
		Unit: c.Unit, LabMinutes: Number(c.LabMinutes), ExaminerMinutes: Number(c.ExaminerMinutes), Consumables: Number(c.Consumables),
		LabHourPrice: Number(c.LabHourPrice), ExaminerHourPrice: Number(c.ExaminerHourPrice), PerTrainee: Number(c.PerTrainee), PerAttempt: Number(c.PerAttempt()),
	}
}

// add lists what one basis says of a group.
func (d *Quota) add(g study.QuotaGroup, b study.QuotaBasis) {
	if b.Basis == proficiency.ByObservation {
		d.Replicates = len(b.Draws)
	} else {
		d.Draws, d.Failed = len(b.Draws), max(d.Failed, b.Progress.Failed())
	}
	for _, q := range b.Quotas {
		d.Rows = append(d.Rows, shareRow{
			Arm: g.Arm, Basis: b.Basis, quotaRow: newQuotaRow(q.Quota), Largest: Number(q.Largest), LogLogLower: Number(q.LogLogLower), LogLogUpper: Number(q.LogLogUpper),
		})
	}
	t := b.Statement
	d.Statements = append(d.Statements, statement{
		Arm: g.Arm, Basis: b.Basis, Share: t.Share, Confidence: t.Confidence, Attempts: Number(t.Attempts), Status: quotaStatus(t.Attempts),
		Claimed: Number(t.Claimed), TraineesNeeded: t.Needed,
	})
	for k, share := range b.Share {
		pt := progressPoint{
			Arm: g.Arm, Basis: b.Basis, Attempt: k + 1, Share: Number(share), Lower: Number(b.Lower[k]), Upper: Number(b.Upper[k]), Practising: Number(math.NaN()),
		}
		if b.Basis == proficiency.ByObservation {
			pt.Practising = Number(g.Practising(float64(k + 1)))
		}
		d.Progress = append(d.Progress, pt)
	}
	if b.Schedule != nil {
		d.Schedules = append(d.Schedules, d.newSchedule(g, b))
	}
}

func (d *Quota) newSchedule(g study.QuotaGroup, b study.QuotaBasis) schedule {
	s := b.Schedule
	out := schedule{
		Arm: g.Arm, Basis: b.Basis, Attempts: s.Attempts, Trainees: s.Trainees, Met: limitsOf(s.Met), Used: limitsOf(s.Used),
		Stopping: d.spentOf(s.Stopping), Everybody: d.spentOf(s.Everybody), MoreForHalf: Number(s.MoreForHalf), NeverMet: Number(s.NeverMet),
		End: len(b.Share), Target: s.Target, leads: s.Leads,
	}
	if b.Basis == proficiency.ByObservation {
		out.Seen = &seenBy{Of: len(g.Seen), Met: s.By.Met, Stopped: s.By.Stopped, Without: s.By.Without, Never: len(g.Seen) - g.Met}
	}
	if r := s.Fewer; r != nil {
		out.Fewer = &fewer{
			Fewer: r.Fewer, Attempts: r.Attempts, FewerMet: limitsOf(r.FewerMet), NotMet: limitsOf(r.NotMet), Saved: d.ifStated(r.Saved),
			SavedByEverybody: d.numberIfStated(r.SavedByEverybody), HoursSaved: d.ifStated(r.HoursSaved), HoursSavedByDoing: d.numberIfStated(r.HoursSavedByMaking),
		}
	}
	return out
}

func limitsOf(e proficiency.Estimate) Limits {
	return Limits{Estimate: Number(e.Value), Lower: Number(e.Lower), Upper: Number(e.Upper)}
}

// ifStated leaves out what costs would say where none are stated.
func (d *Quota) ifStated(e proficiency.Estimate) Limits {
	if d.Costs == nil {
		nan := Number(math.NaN())
		return Limits{nan, nan, nan}
	}
	return limitsOf(e)
}

func (d *Quota) numberIfStated(v float64) Number {
	return d.ifStated(proficiency.Estimate{Value: v}).Estimate
}

func (d *Quota) spentOf(s proficiency.Spent) spent {
	return spent{
		LabHours: d.ifStated(s.LabHours), ExaminerHours: d.ifStated(s.ExaminerHours), Consumables: d.ifStated(s.Consumables),
		Cost: d.ifStated(s.Cost), PerMet: d.ifStated(s.PerMet),
	}
}
