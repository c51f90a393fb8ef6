package page

import (
	"context"
	"html/template"

	"tyro/analysis/study"
	"tyro/reports"
	"tyro/reports/figure"
)

// waysToStop sets the rule beside the usual ways to stop practice.
func (r *Report) waysToStop(ctx context.Context) error {
	if r.Proficiency == nil || r.study.Question.Rule == nil {
		return nil
	}
	a, err := r.study.WaysToStop(ctx, study.WaysOptions{Usual: true})
	if err != nil {
		return err
	}
	r.make(func(r *Report) {
		r.Ways = reports.NewWaysToStop(r.study, a, "")
		r.Ways.Command = "quota-rules" // its file stands beside that of quota itself
	})
	return nil
}

// A choosing is what the section on rules shows.
type choosing struct {
	Sentences []string
	Figure    template.HTML
	Table     *htmlTable
}

// fillRules fills the section from which a rule is chosen.
func (r *Report) fillRules(p *page) error {
	if r.Ways == nil {
		return nil
	}
	s, err := picture(func(float64) figure.Picture { return figure.Ways(r.Ways, 3) }, 0)
	p.Rules = &choosing{r.Ways.Sentences(), s, newHTMLTable(r.Ways.Table())}
	return err
}
