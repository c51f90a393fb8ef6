package page

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strings"

	"tyro/analysis/practice"
	"tyro/analysis/proficiency"
	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

//go:embed trainee.gohtml
var traineeText string

var traineeTemplate = template.Must(template.New("trainee").Parse(traineeText))

// A TraineePage is what one trainee reads: the own attempts and the goal, and nothing of
// anybody else.
type TraineePage struct {
	ID      string
	Task    string
	Goal    []string
	Now     []string
	Ahead   string
	Next    string
	Figure  template.HTML
	Words   string // what the picture shows
	Marks   string // what its marks mean
	Heads   []string
	History [][]string
	How     []string
	Caution string
	Made    string
	Slip    template.HTML // the code on the slip; blank where it would not hold the words
	Leads   string        // what the code on the slip does
}

// TraineePages are the pages of all trainees with attempts, in the study's order. Nil
// without a rule.
func (r *Report) TraineePages() ([]*TraineePage, error) {
	if r.Standings == nil {
		return nil, nil
	}
	var out []*TraineePage
	for _, s := range r.Standings.Answer {
		if r.study.Options.Request.Hides(s.ID, s.Arm) {
			continue
		}
		i := slices.IndexFunc(r.study.Trainees, func(t practice.Trainee) bool { return t.ID == s.ID })
		p, err := r.traineePage(r.study.Trainees[i], s)
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

func (r *Report) traineePage(t practice.Trainee, s study.Standing) (*TraineePage, error) {
	st := r.study
	p := &TraineePage{
		ID: reports.SeriesName(t.ID), Task: taskName(st), Caution: traineeCaution, Made: "tyro " + reports.Version,
		Goal:  []string{fmt.Sprintf("Your goal is %s.", ruleWords(st.Question.Rule)), fmt.Sprintf("A pass is an attempt %s.", passWords(st))},
		Now:   ownNow(s),
		Ahead: ownAhead(s, st.Question.Horizon),
		Next:  ownNext(s, st),
		Words: figure.OwnWords(st, t),
		Marks: ownMarks(t, st),
		How:   r.ownHow(s),
	}
	p.Heads, p.History = ownHistory(st, t)
	var err error
	p.Figure, err = inline(figure.OwnPlot(st, t, p.Words))
	return p, err
}

const traineeCaution = "This page is about practice on this task in the lab. It is no licence, no certificate, and it does not say that you are ready for patients. A person decides about that, under your programme's own rules and with licensed supervision."

// ownNow counts what was done so far.
func ownNow(s study.Standing) []string {
	counted := fmt.Sprintf("You have made %s", attempts(s.Attempts))
	switch {
	case s.Passed == 0:
		counted += ". None of them was a pass so far."
	case s.Attempts == 1:
		counted += ", and it was a pass."
	case s.Passed == s.Attempts:
		counted += ", and all of them were passes."
	case s.Passed == 1:
		counted += ". 1 of them was a pass."
	default:
		counted += fmt.Sprintf(". %d of them were passes.", s.Passed)
	}
	if !s.Met {
		return []string{counted, "You have not reached the goal yet."}
	}
	reached := fmt.Sprintf("You reached the goal at attempt %g", s.MetAt)
	if s.MetDate != "" {
		reached += ", on " + s.MetDate[:min(10, len(s.MetDate))]
	}
	if s.Since > 0 {
		reached += fmt.Sprintf(". Since then you passed %d of %d", s.Kept, s.Since)
	}
	return []string{counted, reached + "."}
}

// ownAhead says how many attempts lie ahead as a range, or that this cannot be said.
func ownAhead(s study.Standing, horizon float64) string {
	switch m := s.More; {
	case s.Met:
		return ""
	case s.Reason == study.BecauseOnePass:
		return "You are one pass away: if your next attempt is a pass, you reach the goal."
	case s.Reason == study.BecauseAway:
		return "Your last attempts have been drifting away from the goal, so no number can be given."
	case m.Known() && m.Definition == proficiency.MeanCrossing:
		return fmt.Sprintf("Your typical attempt reaches the level of a pass after %s if practice goes on like this.", moreAttempts(m))
	case m.Known():
		return reports.Capital(fmt.Sprintf("%s if practice goes on like this.", moreAttempts(m)))
	case math.IsInf(m.Lower, 1):
		return fmt.Sprintf("With practice as it has been, the goal is more than %.0f attempts away. Another way to practise may help more than more of the same.", math.Max(1, horizon-s.Last))
	}
	return "It is too early to say how many more attempts it takes."
}

func moreAttempts(m study.More) string {
	if m.Lower == m.Upper {
		return fmt.Sprintf("about %s more", attempts(int(m.Lower)))
	}
	return fmt.Sprintf("between %.0f and %.0f more attempts", m.Lower, m.Upper)
}

// ownNext is one next step.
func ownNext(s study.Standing, st *study.Study) string {
	who := "your instructor"
	switch s.Reason {
	case study.BecauseMet:
		return "Your next step: talk with " + who + " about what comes after this, and keep the skill warm."
	case study.BecauseRelapse, study.BecauseLapsed:
		return "Your next step: some of your attempts after the goal missed it. Ask " + who + " to watch a few attempts with you. This happens often and can be put right."
	case study.BecauseAway, study.BecauseBeyond, study.BecauseLong:
		return "Your next step: ask " + who + " to watch a few attempts with you and to change one thing at a time."
	case study.BecauseGone:
		return "Your next step: you have not practised for a while. Ask " + who + " when you can go on, and start with an easy attempt or two."
	case study.BecauseOnePass:
		return "Your next step: one calm attempt, like your last one."
	}
	if len(st.Task.AtMost) > 0 {
		return "Your next step: keep within the error limits first; the rest follows with practice."
	}
	return "Your next step: go on practising, and look at what your best attempts have in common."
}

// ownMarks says what the marks of the picture mean.
func ownMarks(t practice.Trainee, st *study.Study) string {
	text := "Filled: a pass. Open: not a pass."
	if t.Number(func(a practice.Attempt) bool { return a.Censored }) > 0 {
		text += " Triangle: time ran out."
	}
	if t.Number(func(a practice.Attempt) bool { return a.Outcome == practice.Failed }) > 0 {
		text += " Cross: a hard fail."
	}
	if st.Question.Standard.Set() && st.Task.Measure != practice.PassFail {
		text += " Dashed line: the level of a pass."
	}
	return text
}

// ownHistory lists every attempt.
func ownHistory(st *study.Study, t practice.Trainee) (heads []string, rows [][]string) {
	dated := slices.ContainsFunc(t.Attempts, func(a practice.Attempt) bool { return a.Date != "" })
	heads = []string{"attempt"}
	if dated {
		heads = append(heads, "date")
	}
	heads = append(heads, figure.Spoken(figure.ResponseLabel(st.Task)))
	for _, c := range st.Task.Counts {
		heads = append(heads, figure.Spoken(c))
	}
	heads = append(heads, "result")
	for _, a := range t.Attempts {
		row := []string{fmt.Sprintf("%g", a.Number)}
		if dated {
			row = append(row, dayText(a.Date))
		}
		row = append(row, reports.Significant(a.Response, 4))
		for k := range st.Task.Counts {
			v := math.NaN()
			if k < len(a.Errors) {
				v = a.Errors[k]
			}
			row = append(row, reports.Significant(v, 4))
		}
		rows = append(rows, append(row, resultWords(a, st.Question.Standard)))
	}
	return heads, rows
}

func resultWords(a practice.Attempt, s practice.Standard) string {
	switch {
	case a.Outcome == practice.Void:
		return "does not count"
	case a.Passes(s):
		return "pass"
	case a.Outcome == practice.Timeout:
		return "time ran out"
	case a.Outcome == practice.Failed:
		return "hard fail"
	case !a.Clean:
		return "too many errors"
	}
	return "not yet"
}

// ownHow says how the page was worked out.
func (r *Report) ownHow(s study.Standing) []string {
	out := []string{"Passes are counted from the list of your attempts above. Attempts that do not count, for a reason outside your hands, are left out."}
	if s.More.Known() {
		level := fmt.Sprintf("%g", 100*r.study.Options.Level)
		if s.More.Definition == proficiency.RuleMet {
			out = append(out, fmt.Sprintf("The range comes from a curve through your own attempts, together with how people learn this task as a group. In %s of 100 cases like yours the goal is expected to be reached inside it, if nothing about the practice changes. It is no promise, and no deadline.", level))
		} else {
			out = append(out, fmt.Sprintf("The range comes from a curve through your own attempts alone. In %s of 100 cases like yours it is expected to hold the attempt at which the curve reaches the level of a pass. It is no promise, and no deadline.", level))
		}
	}
	return append(out, r.standardLines()[0])
}

// slipText are the words that the slip's code holds where it leads to no address.
func (p *TraineePage) slipText() string {
	lines := append(append([]string{p.Task + ", " + p.ID}, p.Goal[0]), p.Now...)
	if p.Ahead != "" {
		lines = append(lines, p.Ahead)
	}
	return strings.Join(append(lines, "Practice in the lab only: no licence, no certificate."), "\n")
}

// Write writes the page. The address is where the page will be found, for the code on the
// slip; where it is blank the code holds the slip's words instead.
func (p *TraineePage) Write(w io.Writer, address string) error {
	code, leads := address, "The code leads to this page."
	if code == "" {
		code, leads = p.slipText(), "The code holds these words, to take along on a phone. No network is needed."
	}
	var err error
	if p.Slip, err = qrSVG(code); err != nil {
		p.Slip, leads = "", ""
	}
	p.Leads = leads
	var b strings.Builder
	if err := traineeTemplate.Execute(&b, p); err != nil {
		return err
	}
	_, err = io.WriteString(w, reports.PrintableBut(dressed(b.String()), "\n\t"))
	return err
}

// Style is what all pages look like.
func (*TraineePage) Style() template.CSS { return template.CSS(style + colourMark) }
