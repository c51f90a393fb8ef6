package reports

import (
	"context"
	"fmt"

	"tyro/analysis/agreement"
)

// Agreement is the answer of the command agreement. The keys of the first item
// stand at the top level too.
type Agreement struct {
	Header
	ItemAgreement
	Items []ItemAgreement `json:"items"`
}

// ItemAgreement is one rated item's agreement.
type ItemAgreement struct {
	Item               string        `json:"item"`
	Scale              string        `json:"scale"`
	NSubjects          int           `json:"n_subjects"`
	NRaters            int           `json:"n_raters"`
	Missing            int           `json:"missing"`
	Coefficients       []Coefficient `json:"coefficients"`
	VarianceComponents []Component   `json:"variance_components"`
}

// A Coefficient in machine output.
type Coefficient struct {
	Name           string  `json:"name"`
	Estimate       Number  `json:"estimate"`
	SE             Number  `json:"se"`
	Lower          Number  `json:"lower"`
	Upper          Number  `json:"upper"`
	Level          float64 `json:"level"`
	IntervalMethod string  `json:"interval_method"`
	Note           string  `json:"note"`
}

// A Component is a variance component with its share of the total.
type Component struct {
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	Share    Number `json:"share"`
}

// RaterAgreement summarises every rated item of the study.
func RaterAgreement(ctx context.Context, in *Input) (*Agreement, error) {
	if in.Study.Ratings == nil {
		return nil, fmt.Errorf("the study has no ratings")
	}
	d := &Agreement{Header: newHeader("agreement", in), Items: []ItemAgreement{}}
	for _, note := range in.Study.Ratings.Notes {
		if note.Code != "read" {
			d.warn(note.Code, note.Text)
		}
	}
	o := agreement.Options{Level: in.Options.Level, Plan: in.plan()}
	o.Plan.Progress = in.Options.Progress
	for _, it := range in.Study.Ratings.Items {
		s, err := agreement.Summarise(ctx, it.Scores, it.Scale, o)
		if err != nil {
			return nil, err
		}
		a := ItemAgreement{
			Item: it.Name, Scale: it.Scale, NSubjects: s.Subjects, NRaters: s.Raters, Missing: s.Missing,
			Coefficients: []Coefficient{}, VarianceComponents: []Component{},
		}
		for _, c := range s.Coefficients {
			a.Coefficients = append(a.Coefficients, Coefficient{c.Name, Number(c.Estimate), Number(c.SE), Number(c.Lower), Number(c.Upper), c.Level, c.Method, c.Note})
			if c.Note != "" {
				d.warn("agreement-note", it.Name+", "+c.Name+": "+c.Note)
			}
		}
		for _, w := range s.Warnings {
			d.warn(w.Code, it.Name+": "+w.Text)
		}
		d.Items = append(d.Items, a)
	}
	if len(d.Items) > 0 {
		d.ItemAgreement = d.Items[0]
	}
	return d, nil
}

// Tables lists a row a coefficient.
func (d *Agreement) Tables() []Table {
	level := 95.0
	if len(d.Coefficients) > 0 {
		level = 100 * d.Coefficients[0].Level
	}
	t := Table{Name: "agreement", Title: "Rater agreement", Columns: []Column{
		{Key: "item", Head: "item"}, {Key: "scale", Head: "scale"}, {Key: "n_subjects", Head: "subjects"}, {Key: "n_raters", Head: "raters"}, {Key: "missing", Head: "missing"},
		{Key: "coefficient", Head: "coefficient"}, {Key: "estimate", Head: "estimate", Show: threePlaces}, {Key: "se"},
		{Key: "lower", Head: fmt.Sprintf("%g %% from", level), Show: threePlaces}, {Key: "upper", Head: "to", Show: threePlaces},
		{Key: "interval_method"}, {Key: "note", Head: "note"},
	}}
	for _, it := range d.Items {
		for _, c := range it.Coefficients {
			t.Rows = append(t.Rows, []any{it.Item, it.Scale, it.NSubjects, it.NRaters, it.Missing, c.Name, float64(c.Estimate), float64(c.SE), float64(c.Lower), float64(c.Upper), c.IntervalMethod, c.Note})
		}
	}
	t.Notes = []string{
		"icc: 1 one-way, a two-way absolute agreement, c two-way consistency; (…,1) a single rating, (…,k) the mean of all raters. Pass or fail decisions need absolute agreement.",
		"Judge a coefficient by its interval, not its point. Agreement between raters says nothing about whether they are right.",
	}
	return []Table{t}
}

func threePlaces(v float64) string {
	if v != v {
		return "–"
	}
	return fmt.Sprintf("%.3f", v)
}
