package reports

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strings"

	"tyro/analysis/fit"
	"tyro/analysis/proficiency"
	"tyro/analysis/resample"
	"tyro/models"
)

//go:embed report.gohtml
var reportText string

var reportTemplate = template.Must(template.New("report").Parse(reportText))

// A page is what the report's template shows.
type page struct {
	Title, Purpose, Decides string
	Level                   string
	Facts                   []fact
	Standard                *standardPart
	Director                []string // sentences for the program director
	Survival                template.HTML
	ArmTable                *htmlTable
	Schedule                *scheduling
	Forest                  template.HTML
	Groups                  *htmlTable
	Rules                   *choosing
	ArmCurves, Pace         []template.HTML
	PaceTitle               string
	Comparison              *htmlTable
	Multiples               []multiples
	Cohort, CohortMoves     []captioned
	CohortChecks            *htmlTable
	CohortCheckFigures      []captioned
	CohortTable             *htmlTable
	CurveTable, Proficiency *htmlTable
	Agreement, AllAgreement *htmlTable
	Examiners               []captioned // figures of the ratings
	Watching                *watching
	Trainees                []traineeCard
	Methods                 []string
	Warnings                []string
	Provenance              []fact
	Caution                 string
}

// A captioned figure.
type captioned struct {
	SVG   template.HTML
	Title string
}

// headlines are the coefficients shown first; all others stand in the full table.
var headlines = []string{"percent-agreement", "fleiss-kappa", "gwet-ac1", "krippendorff-alpha", "icc(a,1)", "icc(c,1)", "standard-error-of-measurement"}

type fact struct{ Name, Value string }

type multiples struct {
	Arm   string
	Plots []template.HTML
}

// A traineeCard is what a trainee reads: a range, its condition, no rank.
type traineeCard struct {
	ID, Now, Ahead, Rule string
	Basis                string
	Plot                 template.HTML
}

// An htmlTable is a Table with every cell as text.
type htmlTable struct {
	Title   string
	Heads   []string
	Numeric []bool
	Rows    [][]string
	Notes   []string
}

func newHTMLTable(t Table) *htmlTable {
	h := &htmlTable{Title: t.Title, Notes: t.Notes}
	cols := t.visible()
	for _, j := range cols {
		h.Heads = append(h.Heads, t.Columns[j].Head)
		h.Numeric = append(h.Numeric, t.numeric(j))
	}
	for _, r := range t.Rows {
		var row []string
		for _, j := range cols {
			row = append(row, t.Columns[j].shown(r[j]))
		}
		h.Rows = append(h.Rows, row)
	}
	return h
}

// WriteHTML writes the report as one self-contained page.
func (r *Report) WriteHTML(w io.Writer) error {
	p := page{Title: r.in.Study.Title, Purpose: r.in.Study.Purpose, Decides: r.in.Study.Decides, Caution: Caution}
	p.Level = fmt.Sprintf("%g %%", 100*r.in.Options.Level)
	p.Facts = r.facts()
	for _, fill := range []func(*page) error{r.fillStandard, r.fillDirector, r.fillSchedule, r.fillRules, r.fillResearcher, r.fillWatching, r.fillTrainees} {
		if err := fill(&p); err != nil {
			return err
		}
	}
	p.Methods, p.Warnings, p.Provenance = r.methods(), r.allWarnings(), r.provenance()
	var b strings.Builder
	if err := reportTemplate.Execute(&b, p); err != nil {
		return err
	}
	_, err := io.WriteString(w, printable(b.String(), "\n\t"))
	return err
}

func (r *Report) facts() []fact {
	in := r.in
	if len(in.Trainees) == 0 {
		return nil
	}
	attempts := 0
	for _, t := range in.Trainees {
		attempts += len(t.Counted)
	}
	fs := []fact{
		{"trainees", fmt.Sprint(len(in.Trainees))},
		{"attempts counted", fmt.Sprint(attempts)},
		{"measure", fmt.Sprintf("%s, %s is better", responseLabel(in), in.Task.Better)},
	}
	if in.Task.Limit > 0 {
		fs = append(fs, fact{"time limit", withUnit(in, in.Task.Limit)})
	}
	if s := in.Task.Standard; s != nil {
		fs = append(fs, fact{"standard", withUnit(in, s.Value)})
	}
	if in.Rule != nil {
		fs = append(fs, fact{"rule", in.Rule.String()})
	}
	return fs
}

func withUnit(in *Input, v float64) string {
	return strings.TrimSpace(fmt.Sprintf("%g %s", v, in.Task.Unit))
}

// fillDirector fills what a program director acts on.
func (r *Report) fillDirector(p *page) (err error) {
	d := r.Proficiency
	if d == nil {
		return nil
	}
	if len(d.Survival) > 0 {
		for _, a := range d.Survival {
			p.Director = append(p.Director, a.sentence(d))
		}
		if p.Survival, err = inline(survivalPlot(d.Survival, 460, 270)); err != nil {
			return err
		}
		p.ArmTable = newHTMLTable(d.armTable())
	}
	if g := d.groupTable(); len(g.Rows) > 0 {
		p.Groups = newHTMLTable(g)
	}
	p.Forest, err = inline(forestPlot(d, proficiency.MeanCrossing, 460))
	return err
}

func inline(s string, err error) (template.HTML, error) { return template.HTML(s), err }

// sentence says what an arm's curve means.
func (a ArmStep) sentence(d *Proficiency) string {
	if math.IsInf(float64(a.Median.Estimate), 1) {
		return fmt.Sprintf("In arm %s, %d of %d trainees met the rule %q. Fewer than half did within the attempts seen, so no median can be given.", armName(a.Arm), a.Met, a.N, d.Rule)
	}
	return fmt.Sprintf("In arm %s, %d of %d trainees met the rule %q; half had met it by attempt %g.", armName(a.Arm), a.Met, a.N, d.Rule, float64(a.Median.Estimate))
}

// fillResearcher fills curves, comparison and agreement.
func (r *Report) fillResearcher(p *page) error {
	if r.Agreement != nil {
		all := r.Agreement.Tables()[0]
		p.AllAgreement, p.Agreement = newHTMLTable(all), newHTMLTable(all.only("coefficient", headlines...))
		figures, err := r.Agreement.Figures()
		if err != nil {
			return err
		}
		for _, f := range figures {
			p.Examiners = append(p.Examiners, captioned{template.HTML(f.SVG), f.Title})
		}
	}
	if r.Curves == nil {
		return nil
	}
	in, fits := r.in, r.fits()
	frame := extentOf(in)
	for k := range in.arms() {
		s, err := inline(armPlot(in, fits, k, frame, 300, 230))
		if err != nil {
			return err
		}
		p.ArmCurves = append(p.ArmCurves, s)
		m := multiples{Arm: armName(in.arms()[k])}
		for _, i := range in.members(in.arms()[k]) {
			s, err := inline(traineePlot(in, in.Trainees[i], fits[i], k, frame, 168, 118))
			if err != nil {
				return err
			}
			m.Plots = append(m.Plots, s)
		}
		p.Multiples = append(p.Multiples, m)
	}
	pace, err := paceAndErrorsPlots(in, 230, 170)
	if err != nil {
		return err
	}
	for _, s := range pace {
		p.Pace = append(p.Pace, template.HTML(s))
	}
	p.PaceTitle = countsTitle(in)
	tables := r.Curves.Tables()
	p.CurveTable = newHTMLTable(tables[len(tables)-1])
	if r.Proficiency != nil {
		p.Proficiency = newHTMLTable(r.Proficiency.Tables()[0])
	}
	if r.Comparison != nil {
		p.Comparison = newHTMLTable(r.Comparison.Tables()[0])
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
	if p.Cohort, p.CohortMoves, err = r.Cohort.pageFigures(); err != nil {
		return err
	}
	p.CohortChecks, p.CohortCheckFigures, err = r.Cohort.pageChecks()
	return err
}

func (r *Report) fits() []fit.Fit {
	out := make([]fit.Fit, len(r.Curves.Curves))
	for i, c := range r.Curves.Curves {
		out[i] = c.fit
	}
	return out
}

// fillTrainees makes a card a trainee.
func (r *Report) fillTrainees(p *page) error {
	if r.Proficiency == nil {
		return nil
	}
	in := r.in
	answers := map[string]Result{}
	for _, a := range r.Proficiency.ofTrainees() {
		answers[a.Trainee+"\x00"+a.Definition] = a
	}
	for i, t := range in.Trainees {
		f := r.Proficiency.curves[i]
		card := traineeCard{ID: t.ID}
		a := answers[t.ID+"\x00"+proficiency.MeanCrossing]
		card.Now, card.Ahead, card.Basis = cardNow(in, t, f), cardAhead(in, a), cardBasis(in, f, a)
		if in.Rule != nil {
			card.Rule = cardRule(r.Proficiency.Observed[i])
			if r.Cohort != nil {
				card.Rule = strings.TrimSpace(card.Rule + " " + r.Cohort.cardAhead(t.ID))
			}
		}
		p.Trainees = append(p.Trainees, card)
	}
	return nil
}

func cardNow(in *Input, t Trainee, f fit.Fit) string {
	if !f.Status.Usable() {
		return fmt.Sprintf("%d attempts so far.", len(t.Counted))
	}
	level := f.Delta("", false, func(c models.Curve) float64 { return c.At(f.Last) })
	at := significant(f.Noise.Mean(level.Value), 2)
	return fmt.Sprintf("%d attempts so far. The fitted level at the last one is about %s; the standard is %s.",
		len(t.Counted), strings.TrimSpace(at+" "+in.Task.Unit), withUnit(in, in.Question.Standard))
}

// cardAhead says how many attempts lie ahead as a range, or that it is too
// early to tell.
func cardAhead(in *Input, a Result) string {
	lower, upper := float64(a.Lower), float64(a.Upper)
	switch {
	case a.Status == string(proficiency.TooEarly):
		return fmt.Sprintf("Too early to tell when the standard will be met: a projection needs at least %d usable attempts.", proficiency.MinAttempts)
	case math.IsNaN(lower) || math.IsNaN(upper) || math.IsInf(upper, 1):
		return fmt.Sprintf("Too early to tell: the attempts so far leave it open whether the fitted level meets the standard within %g attempts.", in.Question.Horizon)
	case a.Status == string(proficiency.Reached):
		return fmt.Sprintf("The fitted level first met the standard somewhere between attempts %g and %g.", lower, upper)
	}
	return fmt.Sprintf("If practice continues as so far, the fitted level meets the standard somewhere between attempts %g and %g.", lower, upper)
}

func cardBasis(in *Input, f fit.Fit, a Result) string {
	when := ""
	if s := in.Task.Standard; s != nil && s.DecidedOn != "" {
		when = ", standard decided on " + s.DecidedOn
	}
	return fmt.Sprintf("%s curve, %g %% range%s.", f.Curve.Family.Name(), 100*a.Level, when)
}

func cardRule(o Observed) string {
	if o.Met {
		return fmt.Sprintf("The rule %q was met at attempt %g.", o.Rule, float64(o.Attempt))
	}
	return fmt.Sprintf("The rule %q has not been met yet.", o.Rule)
}

// methods is the paragraph a paper needs.
func (r *Report) methods() []string {
	in := r.in
	if len(in.Trainees) == 0 {
		return nil
	}
	var families []string
	for _, s := range in.Specs {
		families = append(families, s.Family.Name())
	}
	reps := in.plan().Count()
	ms := []string{
		fmt.Sprintf("Learning curves (%s) were fitted to each trainee's attempts by maximum likelihood with %s noise; timeouts were right-censored at the limit, hard fails and void attempts left out. The family was the one with the lowest AICc.", strings.Join(families, ", "), in.Specs[0].Noise.Name()),
		fmt.Sprintf("Attempts to proficiency: mean-crossing is the first attempt at which the fitted curve meets the standard; pass-chance the first at which a single attempt passes with chance %g, error limits and hard fails included; rule-met the attempt by which the rule is met with chance one half, by exact recursion on those chances. Intervals are expanded percentiles of %d residual bootstrap series (parametric where attempts were censored), the family chosen anew in each; replicates that do not reach the standard count as beyond the horizon of %g attempts.", in.Question.Chance, reps, in.Question.Horizon),
	}
	if c := in.Question.Chart; c != nil && r.Proficiency != nil {
		ms = append(ms, fmt.Sprintf("chart-signal is the attempt by which a learning chart that tells failure rates of %g (acceptable) and %g (unacceptable) apart, limit %g, has signalled with chance one half, from the same chances and with the same interval.", c.Rates.Acceptable, c.Rates.Unacceptable, c.H))
	}
	if r.Comparison != nil {
		ms = append(ms, fmt.Sprintf("Arms were compared on the %s curve fitted to every trainee, with expanded percentile intervals from %d bootstrap samples of whole trainees within arms and p values from %d permutations of arm labels, adjusted by Holm's method.", r.Comparison.Family, reps, reps))
	}
	if r.Proficiency != nil && len(r.Proficiency.Survival) > 0 {
		ms = append(ms, "The observed rule was summarised by the product-limit estimate with log-log limits, those who had not met it being censored at their last attempt.")
	}
	if s := in.Task.Standard; s != nil && s.Method != "" {
		ms = append(ms, fmt.Sprintf("Standard: %s; method: %s; decided by: %s; on: %s; data: %s.", withUnit(in, s.Value), orBlank(s.Method), orBlank(s.DecidedBy), orBlank(s.DecidedOn), orBlank(s.Data)))
	}
	return ms
}

func orBlank(s string) string {
	if s == "" {
		return "not stated"
	}
	return s
}

func (r *Report) allWarnings() []string {
	var out []string
	seen := map[string]bool{}
	add := func(text string) {
		if !seen[text] {
			seen[text] = true
			out = append(out, capital(text)+".")
		}
	}
	for _, w := range r.Missing {
		add(w.Text)
	}
	for _, d := range r.documents() {
		for _, w := range d.Head().Warnings {
			add(w.Text)
		}
	}
	return out
}

func (r *Report) provenance() []fact {
	in := r.in
	failed, total := 0, 0
	if r.Proficiency != nil {
		for _, a := range r.Proficiency.ofTrainees() {
			failed += a.FailedReplicates
			total += a.Replicates
		}
	}
	fs := []fact{
		{"tyro", Version},
		{"seed", fmt.Sprint(in.Options.Seed)},
		{"generator", resample.Generator},
		{"replicates", fmt.Sprint(in.plan().Count())},
		{"failed replicates", fmt.Sprintf("%d of %d", failed, total)},
		{"data SHA-256", in.Study.SHA256},
	}
	if s := in.Task.Scoring; s != nil {
		fs = append(fs, fact{"scoring rule version", s.Version})
	}
	return fs
}
