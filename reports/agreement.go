package reports

import (
	"tyro/analysis/agreement"
	"tyro/analysis/study"
)

// Agreement is the answer of the command agreement. The keys of the first item
// stand at the top level too.
type Agreement struct {
	Header
	ItemAgreement
	Items     []ItemAgreement `json:"items"`
	Checklist []checklistItem `json:"reporting_checklist"`

	level float64
}

// ItemAgreement is one rated item's agreement.
type ItemAgreement struct {
	Item               string        `json:"item"`
	Scale              string        `json:"scale"`
	Categories         []string      `json:"categories,omitempty"`
	NSubjects          int           `json:"n_subjects"`
	NRaters            int           `json:"n_raters"`
	Missing            int           `json:"missing"`
	Coefficients       []Coefficient `json:"coefficients"`
	VarianceComponents []component   `json:"variance_components"`
	Forms              []iccForm     `json:"icc_forms,omitempty"`
	Readings           []reading     `json:"readings,omitempty"`
	Paradox            string        `json:"paradox,omitempty"`
	Generalizability   *gStudy       `json:"generalizability,omitempty"`
	Raters             []RaterRow    `json:"raters,omitempty"`
	Pairs              []pairRow     `json:"pairs,omitempty"`
	Decisions          *flips        `json:"decisions,omitempty"`
	Differences        *differences  `json:"differences,omitempty"`
	Repeats            []repeat      `json:"repeats,omitempty"`
	RatingModel        *ratingModel  `json:"rating_model,omitempty"`

	Answer *study.ItemAgreement `json:"-"`
}

// A Coefficient in machine output.
type Coefficient struct {
	Name           string          `json:"name"`
	Estimate       Number          `json:"estimate"`
	SE             Number          `json:"se"`
	Lower          Number          `json:"lower"`
	Upper          Number          `json:"upper"`
	Level          float64         `json:"level"`
	IntervalMethod string          `json:"interval_method"`
	GeneralisesTo  string          `json:"generalises_to"`
	Test           *testOutcome    `json:"test,omitempty"`
	OtherIntervals []otherInterval `json:"other_intervals,omitempty"`
	Note           string          `json:"note"`
}

// testOutcome is a test of a coefficient in machine output.
type testOutcome struct {
	Statistic string `json:"statistic"`
	Value     Number `json:"value"`
	SE        Number `json:"se"`
	DF1       Number `json:"df1"`
	DF2       Number `json:"df2"`
	P         Number `json:"p"`
	Null      string `json:"null"`
	Source    string `json:"source"`
}

// otherInterval is one besides the main one.
type otherInterval struct {
	Method           string `json:"method"`
	GeneralisesTo    string `json:"generalises_to"`
	SE               Number `json:"se"`
	Lower            Number `json:"lower"`
	Upper            Number `json:"upper"`
	Replicates       int    `json:"replicates"`
	FailedReplicates int    `json:"failed_replicates"`
	Note             string `json:"note"`
}

// component is a variance component with its share of the total.
type component struct {
	Name        string `json:"name"`
	Estimate    Number `json:"estimate"`
	SE          Number `json:"se"`
	Lower       Number `json:"lower"`
	Upper       Number `json:"upper"`
	Share       Number `json:"share"`
	Untruncated Number `json:"untruncated"`
	Method      string `json:"method"`
	Note        string `json:"note"`
}

// iccForm says an intraclass correlation in full.
type iccForm struct {
	McGrawWong    string `json:"mcgraw_wong"`
	ShroutFleiss  string `json:"shrout_fleiss"`
	Model         string `json:"model"`
	Unit          string `json:"unit"`
	Definition    string `json:"definition"`
	GeneralisesTo string `json:"generalises_to"`
	Assumes       string `json:"assumes"`
	Coefficient   string `json:"coefficient"`
	Estimate      Number `json:"estimate"`
	Lower         Number `json:"lower"`
	Upper         Number `json:"upper"`
	F             Number `json:"f"`
	DF1           Number `json:"df1"`
	DF2           Number `json:"df2"`
	P             Number `json:"p"`
}

// reading is a coefficient's interval in the words of a named scale.
type reading struct {
	Coefficient string `json:"coefficient"`
	Scale       string `json:"scale"`
	Source      string `json:"source"`
	Text        string `json:"text"`
}

// NewAgreement words an answer about the raters of a study.
func NewAgreement(s *study.Study, a *study.Agreement) *Agreement {
	d := &Agreement{Header: headerOf("agreement", s), Items: []ItemAgreement{}, level: s.Options.Level}
	for _, n := range s.ItemNotes {
		if n.Code != "read" {
			d.Warn(n.Code, n.Text)
		}
	}
	d.With(a.Warnings)
	for i := range a.Items {
		d.Items = append(d.Items, newItemAgreement(&a.Items[i]))
	}
	if len(d.Items) > 0 {
		d.ItemAgreement = d.Items[0]
	}
	d.Checklist = checklist(d, s.Sampling().Count())
	return d
}

func newItemAgreement(a *study.ItemAgreement) ItemAgreement {
	out := ItemAgreement{
		Item: a.Item.Name, Scale: a.Item.Scale, Categories: a.Item.Categories, NSubjects: a.Subjects, NRaters: a.Raters, Missing: a.Missing,
		Coefficients: coefficients(a.Coefficients), VarianceComponents: components(a.Components), Paradox: a.Paradox, Answer: a,
	}
	for _, f := range a.Forms {
		out.Forms = append(out.Forms, iccForm{
			McGrawWong: f.McGrawWong, ShroutFleiss: f.ShroutFleiss, Model: f.Model, Unit: f.Unit, Definition: f.Definition, GeneralisesTo: f.Over,
			Assumes: f.Assumes, Coefficient: f.Name, Estimate: Number(f.Estimate), Lower: Number(f.Lower), Upper: Number(f.Upper),
			F: Number(f.F), DF1: Number(f.DF1), DF2: Number(f.DF2), P: Number(f.P),
		})
	}
	for _, r := range a.Readings {
		out.Readings = append(out.Readings, reading{Coefficient: r.Coefficient, Scale: r.Scale, Source: r.Source, Text: r.Text})
	}
	if g := a.Generalizability; g != nil {
		out.Generalizability = newGStudy(*g)
	}
	out.ofRaters(a)
	if m := a.RatingModel; m != nil {
		out.RatingModel = newRatingModel(*m)
	}
	return out
}

func coefficients(cs []agreement.Coefficient) []Coefficient {
	out := []Coefficient{}
	for _, c := range cs {
		out = append(out, newCoefficient(c))
	}
	return out
}

func newCoefficient(c agreement.Coefficient) Coefficient {
	k := Coefficient{
		Name: c.Name, Estimate: Number(c.Estimate), SE: Number(c.SE), Lower: Number(c.Lower), Upper: Number(c.Upper), Level: c.Level,
		IntervalMethod: c.Method, GeneralisesTo: c.Over, Note: c.Note,
	}
	if t := c.Test; t != nil {
		k.Test = &testOutcome{
			Statistic: t.Statistic, Value: Number(t.Value), SE: Number(t.SE), DF1: Number(t.DF1), DF2: Number(t.DF2), P: Number(t.P), Null: t.Null, Source: t.Formula,
		}
	}
	for _, iv := range c.Others {
		k.OtherIntervals = append(k.OtherIntervals, otherInterval{
			Method: iv.Method, GeneralisesTo: iv.Over, SE: Number(iv.SE), Lower: Number(iv.Lower), Upper: Number(iv.Upper),
			Replicates: iv.Replicates, FailedReplicates: iv.Failed, Note: iv.Note,
		})
	}
	return k
}

func components(cs []agreement.Component) []component {
	out := []component{}
	for _, c := range cs {
		out = append(out, component{
			Name: c.Name, Estimate: Number(c.Estimate), SE: Number(c.SE), Lower: Number(c.Lower), Upper: Number(c.Upper),
			Share: Number(c.Share), Untruncated: Number(c.Untruncated), Method: c.Method, Note: c.Note,
		})
	}
	return out
}
