package page

import (
	"fmt"
	"html/template"
	"strings"
	"sync"

	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// A director is the program director's page: five questions, each in a box, then the
// standard, one curve and the caution. The page and its print are made of the same words.
type director struct {
	Title    string
	Basis    string // who was studied, when
	Meaning  string // what proficient means on this page
	Boxes    []box  // the first four
	Who      who
	Standard []string
	Curve    *figure.SharesByAttempt // nil where there is nothing to draw
	png      func() ([]byte, error)  // of the curve, drawn once for all sheets
	Caution  string
	Decides  string
	Made     string
}

// A box answers one question: in a few words, then in sentences.
type box struct {
	Number   int
	Question string
	Answer   string
	Lines    []string
}

// who is the fifth box: what each trainee needs.
type who struct {
	Question string
	Counts   []placeCount
	Rows     []whoRow // those who need something, the most urgent first
	Met      string   // those who met the rule, in one sentence
	Note     string
	Nothing  string // why nothing can be said; blank where it can
}

type placeCount struct {
	Place string
	Words string
	N     int
}

// A whoRow is what one trainee needs.
type whoRow struct {
	Place                                    string // of the mark's colour
	Needs, Trainee, Last, More, Why, Suggest string
}

func (r *Report) director() *director {
	st := r.study
	d := &director{Title: r.title(), Basis: basisLine(st), Meaning: meaning(st), Caution: reports.Caution, Decides: st.Decides, Made: madeLine(st)}
	if text := r.partShown(); text != "" {
		d.Basis += " " + text
	}
	d.Boxes = []box{r.scheduleBox(), r.costBox(), r.sureBox(), r.ruleBox()}
	d.Who = r.whoBox()
	d.Standard = r.standardLines()
	for i := range d.Boxes {
		b := &d.Boxes[i]
		b.Answer = kept(b.Answer)
		for k := range b.Lines {
			b.Lines[k] = kept(b.Lines[k])
		}
	}
	for k := range d.Standard {
		d.Standard[k] = kept(d.Standard[k])
	}
	if r.Quota != nil {
		d.Curve = figure.NewSharesByAttempt(r.Quota)
		d.png = sync.OnceValues(func() ([]byte, error) { return d.Curve.PNG(300) })
	}
	return d
}

func taskName(st *study.Study) string {
	if st.Task.Name != "" {
		return st.Task.Name
	}
	return "the task"
}

// madeLine says what made the page.
func madeLine(st *study.Study) string {
	by := ""
	if version := reports.ScoredBy(st); version != "" {
		by = ", scoring rule " + version
	}
	return fmt.Sprintf("tyro %s, seed %d%s, data %.12s", reports.Version, st.Options.Seed, by, st.SHA256)
}

// basisLine says who was studied and when.
func basisLine(st *study.Study) string {
	if len(st.Trainees) == 0 {
		return "There are no attempts in this study."
	}
	attempts, first, last := 0, "", ""
	for _, t := range st.Trainees {
		attempts += len(t.Counted())
		for _, a := range t.Counted() {
			if a.Date == "" {
				continue
			}
			if first == "" || a.Date < first {
				first = a.Date
			}
			last = max(last, a.Date)
		}
	}
	text := fmt.Sprintf("%s, %s", reports.Count(len(st.Trainees), "trainee"), reports.Count(attempts, "attempt"))
	if first != "" {
		text += fmt.Sprintf(", from %.10s to %.10s", first, last)
	}
	return text + "."
}

// meaning says what proficient means, with everything a pass asks for.
func meaning(st *study.Study) string {
	if st.Question.Rule == nil || !st.Question.Standard.Set() && st.Task.Measure != practice.PassFail {
		return "The study states no rule with a standard, so nobody is called proficient on this page."
	}
	return fmt.Sprintf("On this page, proficient means one thing: met the rule “%s”. A pass is an attempt %s.", ruleWords(st.Question.Rule), passWords(st))
}

// noRule says why there is no answer.
func (r *Report) noRule() string {
	switch {
	case len(r.study.Trainees) == 0:
		return "There are no attempts in this study."
	case r.Proficiency == nil:
		return "No standard is set, so no attempt passes or fails. Set one in the study file, or with --standard."
	}
	return "No rule says when a trainee is proficient. Set one in the study file, or with --rule."
}

// whoBox says what each trainee needs.
func (r *Report) whoBox() who {
	w := who{Question: "Who needs what?"}
	if r.Standings == nil {
		w.Nothing = r.noRule()
		return w
	}
	d := r.Standings
	var met []string
	asked := r.study.Options.Request
	count := map[study.Place]int{}
	for _, p := range study.Places() {
		for _, t := range d.Answer {
			if t.Place != p {
				continue
			}
			count[p]++
			if asked.Hides(t.ID, t.Arm) {
				continue
			}
			if p == study.HasMet {
				met = append(met, fmt.Sprintf("%s (%g)", reports.SeriesName(t.ID), t.MetAt))
				continue
			}
			w.Rows = append(w.Rows, whoRow{
				Place: string(p), Needs: reports.PlaceWords(p), Trainee: reports.SeriesName(t.ID), Last: dayText(t.LastDate),
				More: orDash(d.MoreWords(t)), Why: d.ReasonWords(t), Suggest: d.ActionWords(t),
			})
		}
		w.Counts = append(w.Counts, placeCount{string(p), reports.PlaceWords(p), count[p]})
	}
	if len(met) > 0 {
		w.Met = "Met the rule, at the attempt in brackets: " + strings.Join(met, ", ") + "."
	}
	w.Note = reports.StandingNote()
	if asked.Only != nil || asked.Arm != "" {
		w.Note = "Counted are all trainees; listed are those asked for. " + w.Note
	}
	return w
}

func dayText(date string) string { return orDash(date[:min(len(date), 10)]) }

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// standardLines say what the standard is, who set it, and how many trainees hang on it.
func (r *Report) standardLines() []string {
	s := r.study.Task.Standard
	if s == nil {
		if r.Standard != nil {
			return story(r.Standard)
		}
		return []string{"No standard is set."}
	}
	out := []string{fmt.Sprintf("%s. Set by: %s. On: %s. How: %s.", reports.Capital(passWords(r.study)), orBlank(s.DecidedBy), orBlank(s.DecidedOn), orBlank(s.Method))}
	if s.Given {
		out[0] = fmt.Sprintf("%s. Given for this run; it is no decision of the study's.", reports.Capital(passWords(r.study)))
	}
	if d := r.Standard; d != nil && d.StatusChange != nil {
		c := d.StatusChange
		out = append(out, fmt.Sprintf("How sure it is: from %s to %s (%g %% range). Inside this range %d of %d trainees would change between passing and not.",
			amount(d, d.Lower), amount(d, d.Upper), 100*d.Level, c.Differ, c.N))
	}
	return out
}

// SVG lets a template show the curve.
func (d *director) SVG() (template.HTML, error) {
	if d.Curve == nil {
		return "", nil
	}
	return both(d.Curve.Picture(figure.SharesWidth), d.Curve.Picture(figure.SharesNarrow))
}
