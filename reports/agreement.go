package reports

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/agreement"
	"tyro/datasets"
)

// Agreement is the answer of the command agreement. The keys of the first item
// stand at the top level too.
type Agreement struct {
	Header
	ItemAgreement
	Items     []ItemAgreement `json:"items"`
	Checklist []ChecklistItem `json:"reporting_checklist"`

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
	VarianceComponents []Component   `json:"variance_components"`
	Forms              []ICCForm     `json:"icc_forms,omitempty"`
	Readings           []Reading     `json:"readings,omitempty"`
	Paradox            string        `json:"paradox,omitempty"`
	Generalizability   *GStudy       `json:"generalizability,omitempty"`
	Raters             []RaterRow    `json:"raters,omitempty"`
	Pairs              []PairRow     `json:"pairs,omitempty"`
	Decisions          *Flips        `json:"decisions,omitempty"`
	Differences        *Differences  `json:"differences,omitempty"`
	Repeats            []Repeat      `json:"repeats,omitempty"`
	RatingModel        *RatingModel  `json:"rating_model,omitempty"`

	full   []Interval             // all intervals of all coefficients, for the file
	Points *agreement.Differences `json:"-"` // for the plot
	Pair   [2]string              `json:"-"`
}

// A Coefficient in machine output.
type Coefficient struct {
	Name           string     `json:"name"`
	Estimate       Number     `json:"estimate"`
	SE             Number     `json:"se"`
	Lower          Number     `json:"lower"`
	Upper          Number     `json:"upper"`
	Level          float64    `json:"level"`
	IntervalMethod string     `json:"interval_method"`
	GeneralisesTo  string     `json:"generalises_to"`
	Test           *Test      `json:"test,omitempty"`
	OtherIntervals []Interval `json:"other_intervals,omitempty"`
	Note           string     `json:"note"`
}

// A Test in machine output.
type Test struct {
	Statistic string `json:"statistic"`
	Value     Number `json:"value"`
	SE        Number `json:"se"`
	DF1       Number `json:"df1"`
	DF2       Number `json:"df2"`
	P         Number `json:"p"`
	Null      string `json:"null"`
	Source    string `json:"source"`
}

// An Interval besides the main one.
type Interval struct {
	Method           string `json:"method"`
	GeneralisesTo    string `json:"generalises_to"`
	SE               Number `json:"se"`
	Lower            Number `json:"lower"`
	Upper            Number `json:"upper"`
	Replicates       int    `json:"replicates"`
	FailedReplicates int    `json:"failed_replicates"`
	Note             string `json:"note"`

	coefficient string
}

// A Component is a variance component with its share of the total.
type Component struct {
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

// An ICCForm says an intraclass correlation in full.
type ICCForm struct {
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

// A Reading is a coefficient's interval in the words of a named scale.
type Reading struct {
	Coefficient string `json:"coefficient"`
	Scale       string `json:"scale"`
	Source      string `json:"source"`
	Text        string `json:"text"`
}

// AgreementOptions are the choices that only this command has; the zero value
// is ready to use.
type AgreementOptions struct {
	Cut         *float64    // scores at or above it pass
	LowerBetter bool        // scores at or below the cut pass, and a strict examiner scores high
	Weights     [][]float64 // custom agreement weights of the categories
	Costs       *Costs
	Target      float64 // of the decision tables; 0 means 0.8
	MostRaters  int     // of the decision tables; 0 means 6
	MostOthers  int     // performances or items at most; 0 means 12
}

// Costs of measuring one trainee.
type Costs struct {
	Performance float64 // of one more performance (or item): room, kit, staff
	Rating      float64 // of one rating of one performance
}

// allItems names the entry for the mean of several items on one scale.
const AllItems = "all items"

// RaterAgreement summarises every rated item of the study.
func RaterAgreement(ctx context.Context, in *Input) (*Agreement, error) {
	return RaterAgreementWith(ctx, in, AgreementOptions{})
}

// RaterAgreementWith is RaterAgreement with the command's own choices.
func RaterAgreementWith(ctx context.Context, in *Input, o AgreementOptions) (*Agreement, error) {
	if in.File.Ratings == nil {
		return nil, fmt.Errorf("the study has no ratings")
	}
	d := &Agreement{Header: newHeader("agreement", in), Items: []ItemAgreement{}, level: in.Options.Level}
	for _, note := range in.File.Ratings.Notes {
		if note.Code != "read" {
			d.Warn(note.Code, note.Text)
		}
	}
	w := &agreementWork{ctx: ctx, d: d, o: o, items: in.File.Ratings.Items}
	w.options = agreement.Options{Level: in.Options.Level, Plan: in.Plan()}
	w.options.Plan.Progress = in.Options.Progress
	if err := w.together(); err != nil {
		return nil, err
	}
	for _, it := range w.items {
		if err := w.item(it); err != nil {
			return nil, fmt.Errorf("item %s: %w", it.Name, err)
		}
	}
	if len(d.Items) > 0 {
		d.ItemAgreement = d.Items[0]
	}
	d.Checklist = checklist(in, d)
	return d, nil
}

// agreementWork carries what every part needs.
type agreementWork struct {
	ctx     context.Context
	d       *Agreement
	o       AgreementOptions
	options agreement.Options
	items   []datasets.RatedItem
}

// of sets the options for one item: its categories and which is the positive
// one.
func (w *agreementWork) of(it datasets.RatedItem) agreement.Options {
	o := w.options
	o.Weights = w.o.Weights
	for i := range it.Categories {
		o.Categories = append(o.Categories, float64(i))
	}
	o.LowerPositive = len(it.Categories) == 2 && positiveWord(it.Categories[0]) && !positiveWord(it.Categories[1])
	return o
}

func positiveWord(s string) bool {
	return slices.Contains([]string{"yes", "y", "pass", "passed", "positive", "present", "true", "done", "met", "competent", "satisfactory", "1"}, strings.ToLower(s))
}

// item summarises one item.
func (w *agreementWork) item(it datasets.RatedItem) error {
	o := w.of(it)
	s, err := agreement.Summarise(w.ctx, it.Scores, it.Scale, o)
	if err != nil {
		return err
	}
	a := w.fromSummary(it, s)
	if err := w.trainees(it, &a); err != nil {
		return err
	}
	if err := w.examiners(it, &a); err != nil {
		return err
	}
	if err := w.repeats(it, &a); err != nil {
		return err
	}
	if it.Scale == "ordinal" {
		w.ratingModel([]datasets.RatedItem{it}, &a)
	}
	w.d.Items = append(w.d.Items, a)
	return nil
}

// fromSummary turns an analysis into machine output.
func (w *agreementWork) fromSummary(it datasets.RatedItem, s agreement.Summary) ItemAgreement {
	a := ItemAgreement{
		Item: it.Name, Scale: it.Scale, Categories: it.Categories, NSubjects: s.Subjects, NRaters: s.Raters, Missing: s.Missing,
		Coefficients: []Coefficient{}, VarianceComponents: components(s.Components), Paradox: s.Paradox,
	}
	for _, c := range s.Coefficients {
		k := coefficient(c)
		k.Name = categoryNamed(k.Name, it.Categories)
		a.Coefficients = append(a.Coefficients, k)
		for _, iv := range k.OtherIntervals {
			iv.coefficient = k.Name
			a.full = append(a.full, iv)
		}
		if math.IsNaN(c.Estimate) {
			w.d.Warn("agreement-note", it.Name+", "+k.Name+": "+c.Note)
		}
	}
	for _, f := range s.Forms {
		a.Forms = append(a.Forms, ICCForm{f.McGrawWong, f.ShroutFleiss, f.Model, f.Unit, f.Definition, f.Over, f.Assumes, f.Name, Number(f.Estimate), Number(f.Lower), Number(f.Upper), Number(f.F), Number(f.DF1), Number(f.DF2), Number(f.P)})
	}
	for _, r := range agreement.Readings(s.Coefficients) {
		a.Readings = append(a.Readings, Reading{r.Coefficient, r.Scale, r.Source, r.Text})
	}
	for _, x := range s.Warnings {
		w.d.Warn(x.Code, it.Name+": "+x.Text)
	}
	if s.Paradox != "" {
		w.d.Warn("agreement-paradox", it.Name+": "+s.Paradox)
	}
	return a
}

// categoryNamed puts a category's word where the analysis has its code.
func categoryNamed(name string, words []string) string {
	var code int
	if n, _ := fmt.Sscanf(name, "specific-agreement(%d)", &code); n == 1 && code >= 0 && code < len(words) {
		return "specific-agreement(" + words[code] + ")"
	}
	return name
}

func coefficient(c agreement.Coefficient) Coefficient {
	k := Coefficient{
		Name: c.Name, Estimate: Number(c.Estimate), SE: Number(c.SE), Lower: Number(c.Lower), Upper: Number(c.Upper), Level: c.Level,
		IntervalMethod: c.Method, GeneralisesTo: c.Over, Note: c.Note,
	}
	if t := c.Test; t != nil {
		k.Test = &Test{t.Statistic, Number(t.Value), Number(t.SE), Number(t.DF1), Number(t.DF2), Number(t.P), t.Null, t.Formula}
	}
	for _, iv := range c.Others {
		k.OtherIntervals = append(k.OtherIntervals, Interval{Method: iv.Method, GeneralisesTo: iv.Over, SE: Number(iv.SE), Lower: Number(iv.Lower), Upper: Number(iv.Upper), Replicates: iv.Replicates, FailedReplicates: iv.Failed, Note: iv.Note})
	}
	return k
}

func components(cs []agreement.Component) []Component {
	out := []Component{}
	for _, c := range cs {
		out = append(out, Component{c.Name, Number(c.Estimate), Number(c.SE), Number(c.Lower), Number(c.Upper), Number(c.Share), Number(c.Untruncated), c.Method, c.Note})
	}
	return out
}
