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

//go:embed report.gohtml
var reportText string

var reportTemplate = template.Must(template.New("report").Parse(reportText))

// A page is what the report's template shows.
type page struct {
	Title, Purpose, Decides string
	Level                   string
	Shown                   string // which part of the study; blank for all of it
	Facts                   []fact
	Scores                  *scorePart
	Standard                *standardPart
	Director                []string // sentences for the program director
	NoShare                 string   // why no share of trainees is given
	Contents                []entry
	Response                string
	Survival                template.HTML
	ArmTable                *htmlTable
	Schedule                *scheduling
	Forest                  template.HTML
	Groups                  *htmlTable
	Rules                   *choosing
	ArmCurves, Pace         []template.HTML
	PaceTitle               string
	Comparison              *comparing
	Retention               *keeping
	Multiples               []multiples
	Cohort, CohortMoves     []captioned
	CohortChecks            *htmlTable
	CohortCheckFigures      []captioned
	CohortTable             *htmlTable
	CurveTable, Proficiency *htmlTable
	Agreement, AllAgreement *htmlTable
	Examiners               []captioned // figures of the ratings
	Watching                *watching
	Needs                   *htmlTable // what each trainee needs
	NoNeeds                 string
	Methods                 []string
	Warnings                []string
	Provenance              []fact
	Caution                 string
}

// A captioned figure.
type captioned struct {
	Name  string
	SVG   template.HTML
	Title string
}

// headlines are the coefficients shown first; all others stand in the full table.
var headlines = []string{"percent-agreement", "fleiss-kappa", "gwet-ac1", "krippendorff-alpha", "icc(a,1)", "icc(c,1)", "standard-error-of-measurement"}

type fact struct{ Name, Value string }

type multiples struct {
	Arm   string
	Plots []onePlot
}

// onePlot is a trainee's.
type onePlot struct {
	Trainee string
	SVG     template.HTML
}

// An entry leads to a section of the page.
type entry struct{ ID, Title string }

// WriteHTML writes the report as one self-contained page.
func (r *Report) WriteHTML(w io.Writer) error {
	p := page{Title: r.title(), Purpose: r.study.Purpose, Decides: r.study.Decides, Caution: reports.Caution}
	p.Level = fmt.Sprintf("%g %%", 100*r.study.Options.Level)
	p.Facts, p.Shown = r.facts(), r.partShown()
	for _, fill := range []func(*page) error{r.fillScores, r.fillStandard, r.fillDirector, r.fillSchedule, r.fillRules, r.fillResearcher, r.fillWatching, r.fillNeeds} {
		if err := fill(&p); err != nil {
			return err
		}
	}
	p.Methods, p.Warnings, p.Provenance = r.methods(), r.allWarnings(), r.provenance()
	for i := range p.Methods {
		p.Methods[i] = reports.Spoken(p.Methods[i])
	}
	for i := range p.Warnings {
		p.Warnings[i] = reports.Spoken(p.Warnings[i])
	}
	p.Contents = p.contents()
	var b strings.Builder
	if err := reportTemplate.Execute(&b, p); err != nil {
		return err
	}
	_, err := io.WriteString(w, reports.PrintableBut(dressed(b.String()), "\n\t"))
	return err
}

//go:embed index.js
var script string

// Style is what all pages look like.
func (page) Style() template.CSS { return template.CSS(style + colourMark) }

// Script adds what needs one.
func (page) Script() template.JS { return template.JS(script) }

func (r *Report) title() string {
	if r.study.Title == "" {
		return "Practice of " + taskName(r.study)
	}
	return r.study.Title
}

// contents lists the sections that the page has, in their order.
func (p page) contents() []entry {
	var out []entry
	for _, s := range []struct {
		entry
		there bool
	}{
		{entry{"curves", "How did they learn?"}, len(p.ArmCurves) > 0},
		{entry{"scores", "What is the score made of?"}, p.Scores != nil},
		{entry{"standard", "What level is asked for?"}, p.Standard != nil},
		{entry{"attempts", "How many attempts until proficient?"}, true},
		{entry{"schedule", "How many to schedule, at what cost?"}, p.Schedule != nil},
		{entry{"rules", "Which rule?"}, p.Rules != nil},
		{entry{"comparison", "Which arm?"}, p.Comparison != nil},
		{entry{"retention", "What is kept after breaks?"}, p.Retention != nil},
		{entry{"examiners", "Do the examiners agree?"}, p.Agreement != nil},
		{entry{"watching", "Who is watched?"}, p.Watching != nil},
		{entry{"who-needs", "Who needs what?"}, true},
		{entry{"methods", "Methods and provenance"}, true},
	} {
		if s.there {
			out = append(out, s.entry)
		}
	}
	return out
}

// fillNeeds fills the table of what each trainee needs.
func (r *Report) fillNeeds(p *page) error {
	if r.Standings == nil {
		p.NoNeeds = r.noRule()
		return nil
	}
	p.Needs = newHTMLTable(r.Standings.Tables()[0])
	return nil
}

func (r *Report) facts() []fact {
	st := r.study
	if len(st.Trainees) == 0 {
		return nil
	}
	attempts := 0
	for _, t := range st.Trainees {
		attempts += len(t.Counted())
	}
	fs := []fact{
		{"trainees", fmt.Sprint(len(st.Trainees))},
		{"attempts counted", fmt.Sprint(attempts)},
		{"measure", fmt.Sprintf("%s, %s is better", figure.ResponseLabel(st.Task), st.Task.Better())},
	}
	if st.Task.Limit > 0 {
		fs = append(fs, fact{"time limit", withUnit(st.Task, st.Task.Limit)})
	}
	if s := st.Task.Standard; s != nil {
		fs = append(fs, fact{"standard", withUnit(st.Task, s.Value)})
	}
	if st.Task.Rule != nil {
		fs = append(fs, fact{"rule", st.Task.Rule.String()})
	}
	return fs
}

func withUnit(t practice.Task, v float64) string {
	return strings.TrimSpace(fmt.Sprintf("%g %s", v, t.Unit))
}

// fillDirector fills what a program director acts on.
func (r *Report) fillDirector(p *page) (err error) {
	d := r.Proficiency
	switch {
	case len(r.study.Trainees) == 0:
		p.NoShare = "There are no attempts, so no share of trainees is given."
	case d == nil:
		p.NoShare = "No standard is set, so no share of trainees is given."
	case len(d.Survival) == 0:
		p.NoShare = "No rule says when a trainee is proficient, so no share of trainees is given."
	}
	if d == nil {
		return nil
	}
	if len(d.Survival) > 0 {
		for _, a := range d.Survival {
			p.Director = append(p.Director, sentence(a, d))
		}
		draw := func(width float64) figure.Picture { return figure.Survival(r.shownArms(d.Answer.Survival), width, 270) }
		if p.Survival, err = picture(draw, 460); err != nil {
			return err
		}
		p.ArmTable = newHTMLTable(d.ArmTable())
	}
	if text := awaySentence(d); text != "" {
		p.Director = append(p.Director, text)
	}
	if g := d.GroupTable(); g.Len() > 0 {
		p.Groups = newHTMLTable(g)
	}
	p.Forest, err = picture(func(width float64) figure.Picture { return figure.Forest(d, proficiency.MeanCrossing, width) }, 460)
	return err
}

// shownArms are the arms that the report shows.
func (r *Report) shownArms(all []study.ArmSurvival) []study.ArmSurvival {
	return slices.DeleteFunc(slices.Clone(all), func(a study.ArmSurvival) bool { return !r.Proficiency.ShowsArm(a.Arm) })
}

func inline(s string, err error) (template.HTML, error) { return template.HTML(s), err }

// sentence says what an arm's curve means.
func sentence(a reports.ArmStep, d *reports.Proficiency) string {
	text := fmt.Sprintf("In arm %s, %d of %d trainees met the rule %q", reports.ArmName(a.Arm), a.Met, a.N, d.Rule)
	if math.IsInf(float64(a.Median.Estimate), 1) {
		return text + ". Fewer than half did within the attempts seen, so no median can be given."
	}
	return text + fmt.Sprintf("; half had met it by attempt %g.", float64(a.Median.Estimate))
}

// awaySentence names those whose fitted level moves away from the standard; blank
// without any.
func awaySentence(d *reports.Proficiency) string {
	var who []string
	a, n, met := d.Answer, 0, 0
	for _, t := range a.Trainees {
		if t.Answer(proficiency.MeanCrossing).Status == proficiency.MovingAway {
			n++
			if d.ShowsTrainee(t.ID) {
				who = append(who, t.ID)
			}
			if t.Rule != nil && t.Rule.Met {
				met++
			}
		}
	}
	if n == 0 {
		return ""
	}
	text := fmt.Sprintf("The fitted level of %d of %d trainees moves away from the standard", n, len(a.Trainees))
	switch {
	case len(who) == n:
		text += ": " + strings.Join(who, ", ")
	case len(who) > 0:
		text += ", among them " + strings.Join(who, ", ")
	}
	if a.Question.Rule == nil {
		return text + "."
	}
	return text + fmt.Sprintf("; %d of them had met the rule.", met)
}

// fillResearcher fills curves, comparison and agreement.
func (r *Report) fillResearcher(p *page) error {
	if r.Agreement != nil {
		all := r.Agreement.Tables()[0]
		p.AllAgreement, p.Agreement = newHTMLTable(all), newHTMLTable(all.Only("coefficient", headlines...))
		var err error
		if p.Examiners, err = each(func(width float64) []figure.Picture { return figure.Agreement(r.Agreement, width) }, 300); err != nil {
			return err
		}
	}
	if r.Curves == nil {
		return nil
	}
	st, curves := r.study, r.Curves.Answer
	frame := figure.ExtentOf(st)
	for k := range st.Arms {
		if !r.Curves.ShowsArm(st.Arms[k]) {
			continue
		}
		s, err := inline(figure.Arm(st, curves, k, frame, phoneWidth, 190).SVG())
		if err != nil {
			return err
		}
		p.ArmCurves = append(p.ArmCurves, s)
		m := multiples{Arm: reports.ArmName(st.Arms[k])}
		for _, i := range st.Members(st.Arms[k]) {
			if !r.Curves.ShowsTrainee(st.Trainees[i].ID) {
				continue
			}
			s, err := inline(figure.Trainee(st, st.Trainees[i], curves.Each[i], frame, 168, 118).SVG())
			if err != nil {
				return err
			}
			m.Plots = append(m.Plots, onePlot{reports.SeriesName(st.Trainees[i].ID), s})
		}
		p.Multiples = append(p.Multiples, m)
	}
	for _, pace := range figure.PaceAndErrors(st, 230, 170) {
		s, err := inline(pace.SVG())
		if err != nil {
			return err
		}
		p.Pace = append(p.Pace, s)
	}
	p.Response = figure.Spoken(figure.ResponseLabel(st.Task))
	p.PaceTitle = figure.CountsTitle(st.Task)
	tables := r.Curves.Tables()
	p.CurveTable = newHTMLTable(tables[len(tables)-1])
	if r.Proficiency != nil {
		p.Proficiency = newHTMLTable(r.Proficiency.Tables()[0])
	}
	var err error
	if r.Comparison != nil {
		if p.Comparison, err = newComparing(r.Comparison); err != nil {
			return err
		}
	}
	if r.Retention != nil {
		if p.Retention, err = newKeeping(r.Retention); err != nil {
			return err
		}
	}
	return r.fillCohort(p)
}

// fillCohort fills the curve of all trainees together.
func (r *Report) fillCohort(p *page) error {
	if r.Cohort == nil {
		return nil
	}
	p.CohortTable = newHTMLTable(r.Cohort.Tables()[0])
	var err error
	if p.Cohort, p.CohortMoves, err = pageFigures(r.Cohort); err != nil {
		return err
	}
	p.CohortChecks, p.CohortCheckFigures, err = pageChecks(r.Cohort)
	return err
}
