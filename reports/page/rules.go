package page

import (
	"context"
	"html/template"

	"tyro/reports"
	"tyro/reports/figure"
)

// compareRules sets the study's rule beside the usual ways to stop practice.
func (r *Report) compareRules(ctx context.Context) error {
	if r.Proficiency == nil || r.in.Rule == nil {
		return nil
	}
	d, err := reports.CompareRules(ctx, r.in, reports.RulesOptions{Usual: true})
	if err != nil {
		return err
	}
	d.Command = "quota-rules" // its file stands beside that of quota itself
	r.Rules = d
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
	if r.Rules == nil {
		return nil
	}
	s, err := inline(figure.FigureOfRules(r.Rules))
	p.Rules = &choosing{r.Rules.Sentences(), s, newHTMLTable(r.Rules.Table())}
	return err
}
