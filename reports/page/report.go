// Package page makes the report of one study: a page that needs no other file, for the
// director, the researcher and the trainee, with every result beside it as files.
package page

import (
	"bytes"
	"context"
	"errors"
	"io"
	"slices"

	"tyro/analysis"
	"tyro/analysis/practice"
	"tyro/analysis/study"
	"tyro/reports"
)

// A Report is the whole job on one study.
type Report struct {
	study       *study.Study
	Check       *reports.Check
	Curves      *reports.Curves
	Cohort      *reports.Cohort      // nil with few trainees, or where they could not be fitted together
	Score       *reports.Score       // nil without a scoring rule
	Standard    *reports.Standard    // nil with neither a standard nor experts
	Proficiency *reports.Proficiency // nil without a standard
	Quota       *reports.Quota       // nil without a standard and a rule
	Ways        *reports.WaysToStop  // nil without a standard and a rule
	Agreement   *reports.Agreement   // nil without ratings
	Retention   *reports.Retention   // nil without breaks of known length
	Comparison  *reports.Comparison  // nil with fewer than two arms
	Watch       *Watch               // nil where the study states no failure rates to watch for
	Standings   *reports.Standings   // nil without a standard and a rule
	Budget      float64              // attempts that another rule may take on average; 0: those scheduled
	Missing     []analysis.Warning

	makers []func(*Report) // of the documents, from answers that stay
	whole  *Report         // of everybody, where this one shows a part; nil where it shows all
}

// make makes a document, and can make it again.
func (r *Report) make(document func(*Report)) {
	r.makers = append(r.makers, document)
	document(r)
}

// Part is the report as it is shown: of some trainees or an arm where that was asked for.
// Its documents are made anew, so that those of everybody stay.
func (r *Report) Part() *Report {
	if q := r.study.Options.Request; r.whole != nil || q.Only == nil && q.Arm == "" {
		return r
	}
	p := &Report{study: r.study, Budget: r.Budget, Missing: r.Missing, whole: r}
	for _, document := range r.makers {
		document(p)
	}
	for _, d := range p.documents() {
		reports.Narrow(d)
	}
	return p
}

// all is the report of everybody.
func (r *Report) all() *Report {
	if r.whole != nil {
		return r.whole
	}
	return r
}

// partShown says which part is shown; blank where it is everybody.
func (r *Report) partShown() string {
	h := r.Check.Head()
	if i := slices.IndexFunc(h.Warnings, func(w reports.Warning) bool { return w.Code == "part-shown" }); i >= 0 {
		return reports.Capital(h.Warnings[i].Text) + "."
	}
	return ""
}

// Run asks every question that the study has the data for, and says what it lacks for
// the others.
func Run(ctx context.Context, s *study.Study) (*Report, error) {
	r := &Report{study: s}
	r.make(func(r *Report) { r.Check = reports.NewCheck(s) })
	if len(s.Trainees) == 0 && len(s.Items) == 0 {
		return nil, errors.New("the study has neither attempts nor ratings")
	}
	questions := []func(context.Context) error{r.askRaters}
	if len(s.Trainees) > 0 {
		questions = []func(context.Context) error{
			r.curves, r.score, r.lookAtStandard, r.attempts, r.waysToStop, r.compare, r.kept, r.watch, r.fitCohort, r.quota, r.stand, r.askRaters,
		}
	}
	for _, ask := range questions {
		if err := ask(ctx); err != nil {
			return nil, err
		}
	}
	return r, nil
}

func (r *Report) curves(ctx context.Context) error {
	a, err := r.study.Curves(ctx, study.CurveQuestion{})
	if err == nil {
		r.make(func(r *Report) { r.Curves = reports.NewCurves(r.study, a) })
	}
	return err
}

// score asks what hangs on the scoring rule's weights.
func (r *Report) score(ctx context.Context) error {
	if r.study.Scores == nil {
		return nil
	}
	a, err := r.study.ScoresOf(ctx, *r.study.Scores)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		r.lack("no-scores", "nothing is said of the scoring rule's weights: "+err.Error())
	default:
		r.Score = reports.NewScore(r.study, a)
	}
	return nil
}

// attempts asks for attempts to proficiency.
func (r *Report) attempts(ctx context.Context) error {
	if r.study.Task.Standard == nil {
		r.lack("no-standard", "no standard is set, so nothing is said about proficiency")
		return nil
	}
	a, err := r.study.Proficiency(ctx)
	if err == nil {
		r.make(func(r *Report) { r.Proficiency = reports.NewProficiency(r.study, a) })
	}
	return err
}

func (r *Report) compare(ctx context.Context) error {
	if len(r.study.Arms) < 2 {
		r.lack("one-arm", "there is one arm, so nothing is compared")
		return nil
	}
	a, err := r.study.Compare(ctx, study.CompareOptions{})
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		r.lack("no-comparison", "the arms are not compared: "+err.Error())
	default:
		r.make(func(r *Report) { r.Comparison = reports.NewComparison(r.study, a) })
	}
	return nil
}

// kept asks what is kept after breaks, where the attempts' dates show any.
func (r *Report) kept(ctx context.Context) error {
	a, err := r.study.Retention(ctx, study.RetentionOptions{})
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err == nil {
		r.make(func(r *Report) { r.Retention = reports.NewRetention(r.study, a) })
	}
	return nil // most studies have no breaks of known length
}

// askRaters asks how far the examiners agree.
func (r *Report) askRaters(ctx context.Context) error {
	if len(r.study.Items) == 0 {
		r.lack("no-ratings", "there are no ratings, so nothing is said about the examiners")
		return nil
	}
	a, err := r.study.Agreement(ctx, study.AgreementQuestion{})
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		r.lack("no-agreement", "nothing is said about the examiners: "+err.Error())
	default:
		r.make(func(r *Report) { r.Agreement = reports.NewAgreement(r.study, a) })
	}
	return nil
}

// fitCohort fits all trainees together. A cohort that cannot be fitted is said, and
// takes nothing from the rest of the report.
func (r *Report) fitCohort(ctx context.Context) error {
	s := r.study
	if len(s.Trainees) < study.MinCohort {
		return nil
	}
	c, err := s.DescribeCohort(ctx, study.CohortOptions{Checks: cohortChecks(s), Own: true})
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err != nil:
		r.lack("no-cohort", "the trainees could not be fitted together: "+err.Error())
	default:
		r.make(func(r *Report) { r.Cohort = reports.NewCohort(s, c) })
	}
	return nil
}

// stand says where everybody stands, from the answers so far.
func (r *Report) stand(context.Context) error {
	if r.Proficiency == nil {
		return nil
	}
	k := study.Known{Proficiency: r.Proficiency.Answer}
	if r.Cohort != nil {
		k.Cohort = r.Cohort.Answer
	}
	if r.Watch != nil {
		k.Monitoring = r.Watch.Answer
	}
	if r.Quota != nil {
		k.Quota = r.Quota.Answer
	}
	standings := r.study.Standings(k)
	r.make(func(r *Report) { r.Standings = reports.NewStandings(r.study, standings) })
	return nil
}

// cohortChecks is how many cohorts are drawn to check the fit: none where that
// would take longer than the rest of the report.
func cohortChecks(s *study.Study) int {
	if s.Attempts(practice.Attempt.Measured) > 3000 {
		return 0
	}
	return 99
}

func (r *Report) lack(code, text string) {
	r.Missing = append(r.Missing, analysis.Warning{Code: code, Text: text})
}

// documents lists the parts that were run.
func (r *Report) documents() []reports.Document {
	out := []reports.Document{r.Check}
	if r.Curves != nil {
		out = append(out, r.Curves)
	}
	if r.Score != nil {
		out = append(out, r.Score)
	}
	if r.Standard != nil {
		out = append(out, r.Standard)
	}
	if r.Proficiency != nil {
		out = append(out, r.Proficiency)
	}
	if r.Quota != nil {
		out = append(out, r.Quota)
	}
	if r.Ways != nil {
		out = append(out, r.Ways)
	}
	if r.Cohort != nil {
		out = append(out, r.Cohort)
	}
	if r.Agreement != nil {
		out = append(out, r.Agreement)
	}
	if r.Comparison != nil {
		out = append(out, r.Comparison)
	}
	if r.Retention != nil {
		out = append(out, r.Retention)
	}
	if r.Watch != nil {
		out = append(out, r.Watch)
	}
	if r.Standings != nil {
		out = append(out, r.Standings)
	}
	return out
}

// FilesForOthers renders what of each part may be given to others; least is the smallest number
// of people shown, 0 for the study's own. A part of which nothing may is left out and named in
// the first value. Numbers of trainees are given once: two tables that count them differently
// would tell by how many.
func (r *Report) FilesForOthers(least int) (left []string, files map[string][]byte, err error) {
	files = map[string][]byte{}
	add := func(name string, write func(io.Writer) error) {
		var b bytes.Buffer
		err = errors.Join(err, write(&b))
		files[name] = b.Bytes()
	}
	for _, from := range r.documents() {
		d, refused := reports.NewForOthers(from, least)
		command := from.Head().Command
		if refused != nil {
			left = append(left, command+": "+refused.Error())
			continue
		}
		if shared, ok := d.(*reports.ForOthers); ok && command == "cohort" && r.Proficiency != nil {
			shared.People = nil
		}
		add(command+".json", func(w io.Writer) error { return reports.WriteJSON(w, d) })
		for _, t := range d.Tables() {
			add(command+"-"+t.Name+".csv", t.WriteCSV)
		}
	}
	return left, files, err
}

// Files renders the report: index.html, and each document as JSON and CSV. The files are
// made side by side, those that take longest first.
func (r *Report) Files() (map[string][]byte, error) {
	d := r.director()
	r = r.Part()
	type file struct {
		name  string
		write func(io.Writer) error
		b     bytes.Buffer
		err   error
	}
	made := []*file{
		{name: "index.html", write: r.WriteHTML}, {name: "director.html", write: d.writeHTML},
		{name: "director.pdf", write: func(w io.Writer) error { return d.writePDF(w, "A4") }},
		{name: "director-letter.pdf", write: func(w io.Writer) error { return d.writePDF(w, "Letter") }},
	}
	for _, d := range r.documents() {
		made = append(made, &file{name: d.Head().Command + ".json", write: func(w io.Writer) error { return reports.WriteJSON(w, d) }})
		for _, t := range d.Tables() {
			made = append(made, &file{name: t.Name + ".csv", write: t.WriteCSV})
		}
	}
	sideBySide(len(made), r.study.Options.Workers, func(i int) { made[i].err = made[i].write(&made[i].b) })
	var err error
	files := map[string][]byte{}
	for _, f := range made {
		err = errors.Join(err, f.err)
		files[f.name] = f.b.Bytes()
	}
	if err != nil {
		return nil, err
	}
	return files, nil
}
