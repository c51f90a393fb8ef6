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
	ro := retention.Options{Before: o.Before, Lower: s.Task.Lower, Standard: std.Set(), Level: s.Options.Level, Sampling: s.Sampling()}
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
	for _, g := range gaps {
		if better := g.Slope.Upper < 0; s.Task.Lower && better || !s.Task.Lower && g.Slope.Lower > 0 {
			out.Warnings.Add("still-improving", fmt.Sprintf("before breaks of %g days trainees were still getting better, by %.2g an attempt: the mean of the last %d lies behind what the next attempt would have been without a break, by about %.2g, and the loss looks that much smaller than it is; --before 1 takes the last attempt alone",
				g.Days, math.Abs(g.Slope.Estimate), out.Before, math.Abs(g.Slope.Estimate)*float64(out.Before+1)/2))
		}
		if g.CappedFew > 0 {
			out.Warnings.Add("stopped-at-limit", fmt.Sprintf("after breaks of %g days %s stopped at the limit: the loss is at least what is shown", g.Days, counted(g.CappedFew, "first attempt was", "first attempts were")))
		}
	}
	return out, nil
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
					return nil, fmt.Errorf("trainee %s: attempt %g is of %s, before attempt %g of %s", t.ID, a.Number, a.Date, before.Number, before.Date)
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
		out.Warnings.Add("undated", counted(undated, "attempt has", "attempts have")+" no date and counts with the session before")
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
