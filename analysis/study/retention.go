package study

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"tyro/analysis/practice"
	"tyro/analysis/retention"
)

// RetentionOptions are the choices of [Study.Retention]; the zero value of a field means
// its default.
type RetentionOptions struct {
	Before int                // last attempts before a break whose mean is the level; 0 means 5
	Gaps   map[string]float64 // days before a session, by its name; nil: breaks are read from dates
	Share  float64            // of trainees still meeting the standard at a refresher; 0 means 0.8
}

// A Retention is what is kept after breaks.
type Retention struct {
	Groups   []RetentionGroup // all trainees, then each arm where there are several
	Log      bool             // losses are differences of logarithms
	Before   int
	Forget   []retention.Forgetting // nil where breaks are of one length
	NoForget string                 // why, in words
	Calendar []retention.Point
	Course   []retention.Course // one curve over the calendar, by shape of forgetting; nil where there is none
	Warnings Warnings
}

// A RetentionGroup is one group of trainees.
type RetentionGroup struct {
	Arm  string // "" for all
	Gaps []retention.Gap
}

// Retention says what is kept after breaks between sessions.
func (s *Study) Retention(ctx context.Context, o RetentionOptions) (*Retention, error) {
	out := &Retention{Before: o.Before}
	if out.Before == 0 {
		out.Before = retention.DefaultBefore
	}
	out.Log = s.Task.Measure == practice.Time
	trainees, err := s.sessions(o, out)
	if err != nil {
		return nil, err
	}
	std := s.Question.Standard
	ro := retention.Options{Before: o.Before, Lower: s.Task.Lower, Standard: std.Set() || s.Task.Measure == practice.PassFail, Level: s.Options.Level, Sampling: s.Sampling()}
	gaps, err := retention.Gaps(ctx, trainees, ro)
	if err != nil {
		return nil, err
	}
	out.Groups = append(out.Groups, RetentionGroup{"", gaps})
	if len(s.Arms) > 1 {
		for _, arm := range s.Arms {
			own := slices.DeleteFunc(slices.Clone(trainees), func(t retention.Trainee) bool { return t.Arm != arm })
			gaps, err := retention.Gaps(ctx, own, ro)
			switch {
			case errors.Is(err, retention.ErrRetention):
				out.Warnings.Add("arm-without-breaks", fmt.Sprintf("arm %s: %v", ArmName(arm), err))
			case err != nil:
				return nil, err
			default:
				out.Groups = append(out.Groups, RetentionGroup{arm, gaps})
			}
		}
	}
	standard := math.NaN()
	if std.Set() && !std.PassFail {
		if standard = std.Value; out.Log {
			standard = math.Log(standard)
		}
	}
	out.Forget, err = retention.Forget(ctx, trainees, ro, standard, o.Share)
	if errors.Is(err, retention.ErrRetention) {
		out.NoForget = strings.TrimPrefix(err.Error(), retention.ErrRetention.Error()+": ")
		out.Warnings.Add("no-forgetting-curve", out.NoForget)
	} else if err != nil {
		return nil, err
	}
	out.Calendar = retention.Calendar(trainees, s.Options.Level)
	out.Course, err = retention.Courses(ctx, trainees, ro)
	if errors.Is(err, retention.ErrRetention) {
		out.Warnings.Add("no-course", strings.TrimPrefix(err.Error(), retention.ErrRetention.Error()+": "))
	} else if err != nil {
		return nil, err
	}
	if s.Task.Measure == practice.PassFail {
		out.shares()
	}
	out.remarkCourse()
	for _, g := range gaps {
		if better := g.Slope.Upper < 0; s.Task.Lower && better || !s.Task.Lower && g.Slope.Lower > 0 {
			out.Warnings.Add("still-improving", fmt.Sprintf("before breaks of %s trainees were still getting better, by %.2g an attempt: the mean of the last %d lies behind what the next attempt would have been without a break, by about %.2g, and the loss looks that much smaller than it is; --before 1 takes the last attempt alone",
				Days(g.Days), math.Abs(g.Slope.Estimate), out.Before, math.Abs(g.Slope.Estimate)*float64(out.Before+1)/2))
		}
		if g.CappedFew > 0 {
			out.Warnings.Add("stopped-at-limit", fmt.Sprintf("after breaks of %s %s stopped at the limit: the loss is at least what is shown, and the share kept, the half-life and the day to refresh at most", Days(g.Days), counted(g.CappedFew, "first attempt was", "first attempts were")))
		}
		if g.FailedFew > 0 {
			out.Warnings.Add("failed-after-break", fmt.Sprintf("after breaks of %s %s: without a measure they are in no loss, which then holds for the others alone and looks smaller than it is; they count as not passing", Days(g.Days), counted(g.FailedFew, "first attempt was a hard fail", "first attempts were hard fails")))
		}
		if !g.GainKnown(s.Task.Lower) && g.Loss.N > 0 {
			out.Warnings.Add("no-gain", fmt.Sprintf("before breaks of %s trainees had not got better beyond chance since their first attempt, so that there is no gain of which a share could be kept", Days(g.Days)))
		}
		if g.Bounds {
			text := fmt.Sprintf("after %s of %s trainees did not come back to the level before in that session: on average it takes more than %.3g attempts", counted(g.NotYet, "break", "breaks"), Days(g.Days), g.Regained.Estimate)
			if !math.IsNaN(g.Savings.Estimate) {
				text += fmt.Sprintf(", and savings are at most %s", PercentText(g.Savings.Estimate))
			}
			out.Warnings.Add("not-regained", text)
		}
		if g.Trainees < len(trainees) {
			out.Warnings.Add("not-all-came-back", fmt.Sprintf("after breaks of %s %d of %d trainees were seen; if the others lost more, the loss is larger than it looks", Days(g.Days), g.Trainees, len(trainees)))
		}
		if g.Loss.N > 1 && g.Loss.SD == 0 {
			out.Warnings.Add("no-spread", fmt.Sprintf("after breaks of %s all trainees lost the same, so there is no spread to judge by and no interval", Days(g.Days)))
		}
	}
	return out, nil
}

// shares keeps the intervals of shares of passes within 0 and 1, and says where the curve does not.
func (r *Retention) shares() {
	beyond := false
	for i := range r.Calendar {
		p := &r.Calendar[i]
		p.Value.Lower, p.Value.Upper = math.Max(0, p.Value.Lower), math.Min(1, p.Value.Upper)
	}
	for _, c := range r.Course {
		beyond = beyond || slices.ContainsFunc(c.Expected, func(p retention.Point) bool { return p.Value.Estimate < 0 || p.Value.Estimate > 1 })
	}
	if beyond {
		r.Warnings.Add("curve-beyond-shares", "the curve over the calendar goes below 0 or above 1, where no share of passes can be: it takes passes and fails for measurements, so read it as a rough picture only")
	}
}

// remarkCourse says what the curve over the calendar leaves open.
func (r *Retention) remarkCourse() {
	if len(r.Course) == 0 {
		return
	}
	c := r.Course[0]
	if len(r.Course) == 1 {
		r.Warnings.Add("one-length", fmt.Sprintf("the curve over the calendar says what is kept after breaks of %s, and nothing of others", Days(c.Kept[0].Days)))
	}
	if math.IsNaN(c.Regained.Estimate) {
		r.Warnings.Add("regaining-unseen", "fewer than 3 trainees made two attempts or more after a break, so that the curve over the calendar cannot tell how fast what was lost comes back")
	}
	if c.Regained.Lower == 0 && c.Regained.Upper == 1 {
		r.Warnings.Add("regaining-unseen", "too little was lost to tell how fast it comes back: anything from nothing to all of it at each attempt remains possible")
	}
	if !c.PlateauShown {
		r.Warnings.Add("calendar-plateau-unseen", "the attempts do not show half of the gain that the curve over the calendar leads to, so its plateau is not given; what is kept is a share of what was learnt by the break")
	}
	if !c.Loses {
		k := c.Kept[len(c.Kept)-1]
		if math.IsNaN(k.Lower) {
			r.Warnings.Add("no-loss-told", fmt.Sprintf("along the curve over the calendar nothing is lost in breaks of %s however trainees are drawn anew: a curve that can only lose cannot say how sure that is; the table of breaks can", Days(k.Days)))
			return
		}
		r.Warnings.Add("no-loss-told", fmt.Sprintf("along the curve over the calendar no loss in breaks of %s is told from chance: %s or more of what was mastered is kept", Days(k.Days), PercentText(k.Lower)))
	}
}

// sessions cuts every trainee's attempts where the date changes, or where a session with
// a stated gap begins.
func (s *Study) sessions(o RetentionOptions, out *Retention) ([]retention.Trainee, error) {
	undated, breaks := 0, 0
	var trainees []retention.Trainee
	for _, t := range s.Trainees {
		r := retention.Trainee{ID: t.ID, Arm: t.Arm}
		var before practice.Attempt
		for k, a := range t.Counted() {
			gap, cut := math.NaN(), k == 0
			switch {
			case o.Gaps != nil:
				if k > 0 && a.Session != before.Session {
					cut = true
					if days, ok := o.Gaps[a.Session]; ok {
						gap = days
					}
				}
			case a.Date == "":
				undated++
			case k > 0 && before.Date != "":
				days, err := daysBetween(before.Date, a.Date)
				if err != nil {
					return nil, fmt.Errorf("trainee %s, attempt %g: %w", t.ID, a.Number, err)
				}
				if days < 0 {
					return nil, fmt.Errorf("trainee %s: attempt %g is of %s, before attempt %g of %s: correct the date or the attempt number, or leave the trainee out with --where", t.ID, a.Number, a.Date, before.Number, before.Date)
				}
				if days > 0 {
					gap, cut = days, true
				}
			}
			if cut {
				r.Sessions = append(r.Sessions, retention.Session{Gap: gap})
				if gap > 0 {
					breaks++
				}
			}
			now := &r.Sessions[len(r.Sessions)-1]
			now.Attempts = append(now.Attempts, s.kept(a, out.Log))
			before = a
		}
		if len(r.Sessions) > 0 {
			trainees = append(trainees, r)
		}
	}
	if o.Gaps != nil {
		for name := range o.Gaps {
			if s.attemptsIn(name) == 0 {
				return nil, fmt.Errorf("no attempt is in session %q, whose gap is given", name)
			}
		}
	}
	if breaks == 0 && undated > 0 {
		return nil, fmt.Errorf("no breaks are known: name the dates with --date, or the sessions with --session and --gap")
	}
	if undated > 0 && o.Gaps == nil {
		out.Warnings.Add("undated", counted(undated, "attempt has no date and counts", "attempts have no date and count")+" with the session before")
	}
	return trainees, nil
}

func (s *Study) attemptsIn(session string) int {
	return s.Attempts(func(a practice.Attempt) bool { return a.Session == session })
}

// kept is an attempt on the scale of comparison.
func (s *Study) kept(a practice.Attempt, log bool) retention.Attempt {
	v := math.NaN()
	if a.Measured() {
		if v = a.Response; log {
			v = math.Log(v)
		}
	}
	return retention.Attempt{Value: v, Passes: a.Passes(s.Question.Standard), Capped: a.Censored}
}

// Days are days in words: "1 day", "30 days".
func Days(n float64) string {
	if n == 1 {
		return "1 day"
	}
	return fmt.Sprintf("%g days", n)
}

// daysBetween counts calendar days.
func daysBetween(from, to string) (float64, error) {
	a, err := time.Parse(time.DateOnly, from[:min(len(from), 10)])
	if err != nil {
		return 0, err
	}
	b, err := time.Parse(time.DateOnly, to[:min(len(to), 10)])
	if err != nil {
		return 0, err
	}
	return b.Sub(a).Hours() / 24, nil
}
