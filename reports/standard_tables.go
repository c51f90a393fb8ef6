package reports

import (
	"fmt"
	"math"
	"strconv"
)

// Tables lists the standard, what it was made of, and whom it decides about.
func (d *Standard) Tables() []Table {
	out := []Table{d.mainTable()}
	for _, t := range []*Table{d.AlternativesTable(), d.groupsTable(), d.roundsTable(), d.panelsTable(), d.compromiseTable(), d.statusTable()} {
		if t != nil {
			out = append(out, *t)
		}
	}
	return out
}

func (d *Standard) limitHeads() (string, string) { return fmt.Sprintf("%g %% from", 100*d.Level), "to" }

func (d *Standard) mainTable() Table {
	from, to := d.limitHeads()
	title := "Standard: " + d.Definition
	if d.Unit != "" {
		title += " (" + d.Unit + ")"
	}
	t := Table{Name: "standard", Title: title, Columns: []Column{
		{Key: "method", Head: "method"}, {Key: "estimate", Head: "standard"}, {Key: "se", Head: "SE"}, {Key: "lower", Head: from}, {Key: "upper", Head: to},
		{Key: "interval_method", Head: "interval by"}, {Key: "n", Head: "from", Show: Whole}, {Key: "false_pass"}, {Key: "false_fail"},
	}, Rows: [][]any{{d.Method, float64(d.Estimate), float64(d.SE), float64(d.Lower), float64(d.Upper), d.IntervalMethod, float64(d.N), float64(d.FalsePass), float64(d.FalseFail)}}}
	pass := "at or above"
	if d.Better == "lower" {
		pass = "at or below"
	}
	t.Notes = append(t.Notes, "A pass is a value "+pass+" the standard.")
	if e := d.Experts; e != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("Experts: %d, mean %s, SD %s, median %s%s; %s of them meet this standard themselves.", e.N, Significant(float64(e.Mean), 4), Significant(float64(e.SD), 3), Significant(float64(e.Median), 4), droppedText(e.Dropped), Percent(float64(e.Meeting))))
		if e.Runs != "" {
			t.Notes = append(t.Notes, "One value an expert: "+e.Runs+".")
		}
	}
	if d.Observed != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("False passes (not yet competent who pass): observed %s, by the normal curves %s. False fails (competent who fail): observed %s, by the normal curves %s.",
			OnePlace(d.Observed.FalsePass), OnePlace(d.Theoretical.FalsePass), OnePlace(d.Observed.FalseFail), OnePlace(d.Theoretical.FalseFail)))
	}
	if l := d.Line; l != nil && !math.IsNaN(float64(l.Slope)) {
		t.Notes = append(t.Notes, fmt.Sprintf("Line: %s + %s × rating, R² %s, residual SD %s. Bootstrap of trainees: SE %s, %g %% from %s to %s.", Significant(float64(l.Intercept), 4), Significant(float64(l.Slope), 4),
			Significant(float64(l.RSquared), 3), Significant(float64(l.ResidualSD), 3), Significant(float64(l.BootstrapSE), 3), 100*d.Level, Significant(float64(l.BootstrapLower), 4), Significant(float64(l.BootstrapUpper), 4)))
	}
	if l := d.Line; l != nil && l.GroupN > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("Rated %g: %d trainees, mean %s, median %s.", l.Borderline, l.GroupN, Significant(float64(l.GroupMean), 4), Significant(float64(l.GroupMedian), 4)))
	}
	if c := d.Classification; c != nil {
		t.Notes = append(t.Notes, c.sentences()...)
	}
	if d.Expected != nil {
		t.Notes = append(t.Notes, d.Expected.Sentences()...)
	}
	if s := d.InForce; s != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("In force: %s (%s)%s.", Significant(float64(s.Value), 4), s.Method, decidedText(*s)))
	}
	t.Notes = append(t.Notes, "A standard is a decision of named people. Write into the study file who decided, when, and on which data.")
	return t
}

// sentences say what a classification is worth.
func (c ClassificationOut) sentences() []string {
	shape := fmt.Sprintf("a beta distribution with four parameters, from %s to %s", Significant(float64(c.TrueLowest), 3), Significant(float64(c.TrueHighest), 3))
	if c.Parameters == 2 {
		shape = "a beta distribution with two parameters, over the whole range of scores"
	}
	return []string{
		fmt.Sprintf("One test each, reliability %s (%s), by Livingston and Lewis' method: %s of trainees get the result that their true score deserves; %s of all pass wrongly, %s fail wrongly. On a second test alike %s would get the same result, kappa %s.",
			Significant(c.Reliability, 3), c.Source, OnePlace(c.Accuracy), OnePlace(c.FalsePass), OnePlace(c.FalseFail), OnePlace(c.Consistency), Significant(float64(c.Kappa), 3)),
		fmt.Sprintf("True scores: %s; %s effective items, so that a trainee at the standard has a standard error of measurement of %s. Under this model %s pass, of the scores given %s.", shape, Significant(float64(c.EffectiveItems), 3), Significant(float64(c.Error), 3), OnePlace(c.PassShare), OnePlace(c.Passing)),
	}
}

func droppedText(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" (%d dropped)", n)
}

func decidedText(s InForce) string {
	out := ""
	if s.DecidedBy != "" {
		out += ", decided by " + s.DecidedBy
	}
	if s.DecidedOn != "" {
		out += " on " + s.DecidedOn
	}
	if s.Data != "" {
		out += ", from " + s.Data
	}
	return out
}

func OnePlace(share Number) string {
	v := float64(share)
	if math.IsNaN(v) {
		return "–"
	}
	return strconv.FormatFloat(100*v, 'f', 1, 64) + " %"
}

func (d *Standard) AlternativesTable() *Table {
	if len(d.Alternatives) == 0 {
		return nil
	}
	from, to := d.limitHeads()
	t := &Table{Name: "standard-alternatives", Title: "The same data, other rules", Columns: []Column{
		{Key: "rule", Head: "rule"}, {Key: "n", Head: "from"}, {Key: "estimate", Head: "standard"}, {Key: "se", Head: "SE"}, {Key: "lower", Head: from}, {Key: "upper", Head: to}, {Key: "note", Head: "note"},
	}}
	for _, a := range d.Alternatives {
		t.Rows = append(t.Rows, []any{a.Name, a.N, float64(a.Estimate), float64(a.SE), float64(a.Lower), float64(a.Upper), a.Note})
	}
	return t
}

func (d *Standard) groupsTable() *Table {
	if len(d.Groups) == 0 {
		return nil
	}
	t := &Table{Name: "standard-groups", Title: "The groups", Columns: []Column{{Key: "group", Head: "group"}, {Key: "n", Head: "trainees"}, {Key: "mean", Head: "mean"}, {Key: "sd", Head: "SD"}}}
	for _, g := range d.Groups {
		t.Rows = append(t.Rows, []any{g.Name, g.N, float64(g.Mean), float64(g.SD)})
	}
	return t
}

func (d *Standard) roundsTable() *Table {
	if len(d.Judges) == 0 {
		return nil
	}
	from, to := d.limitHeads()
	t := &Table{Name: "standard-rounds", Title: "Judges", Columns: []Column{
		{Key: "round", Head: "round"}, {Key: "judges", Head: "judges"}, {Key: "items", Head: "items"}, {Key: "estimate", Head: "standard, items"}, {Key: "percent", Head: "percent"},
		{Key: "sd", Head: "SD of judges"}, {Key: "se", Head: "SE"}, {Key: "lower", Head: from}, {Key: "upper", Head: to},
	}}
	byItem := d.Method == AngoffMethod
	if byItem {
		t.Columns = append(t.Columns, Column{Key: "se_items_random", Head: "SE, other items too"}, Column{Key: "variance_judge"}, Column{Key: "variance_item"}, Column{Key: "variance_residual"},
			Column{Key: "generalizability", Head: "generalizability", Show: fourPlaces})
	}
	for _, p := range d.Judges {
		round := p.Round
		if round == "" {
			round = "only"
		}
		t.Rows = append(t.Rows, []any{round, p.Judges, p.Items, float64(p.Estimate), float64(p.Percent), float64(p.SD), float64(p.SE), float64(p.Lower), float64(p.Upper)})
		if last := len(t.Rows) - 1; byItem {
			t.Rows[last] = append(t.Rows[last], float64(p.SEItemsRandom), float64(p.Judge), float64(p.Item), float64(p.Residual), float64(p.Generalizability))
		}
	}
	if !byItem {
		return t
	}
	t.Notes = []string{"SE: other judges, the same items. Generalizability: do judges agree on which items are hard (1 is fully)?"}
	return t
}

func (d *Standard) panelsTable() *Table {
	if len(d.Panels) == 0 {
		return nil
	}
	t := &Table{Name: "standard-panels", Title: "Standard error by number of judges, the same items", Columns: []Column{{Key: "judges", Head: "judges"}, {Key: "se", Head: "SE, items"}}}
	for _, p := range d.Panels {
		t.Rows = append(t.Rows, []any{p.Judges, float64(p.SE)})
	}
	return t
}

func (d *Standard) compromiseTable() *Table {
	c := d.Compromise
	if c == nil {
		return nil
	}
	t := &Table{Name: "standard-box", Title: fmt.Sprintf("What %d judges accept, on average", c.Judges), Columns: []Column{
		{Key: "min_cut", Head: "lowest standard"}, {Key: "max_cut", Head: "highest"}, {Key: "min_fail", Head: "fewest failing, %"}, {Key: "max_fail", Head: "most, %"},
		{Key: "fail_on_line", Head: "failing on the line, %"}, {Key: "fail_observed", Head: "observed, %"}, {Key: "first_whole", Head: "first whole standard"},
	}, Rows: [][]any{{float64(c.MinCut), float64(c.MaxCut), float64(c.MinFail), float64(c.MaxFail), float64(c.FailOnLine), float64(c.FailObserved), float64(c.FirstWhole)}}}
	t.Notes = []string{"The curve of failing is the percentage of trainees strictly worse than a standard, taken at multiples of the step and joined by straight lines."}
	return t
}

func (d *Standard) statusTable() *Table {
	s := d.StatusChange
	if s == nil {
		return nil
	}
	return &Table{Name: "standard-status", Title: "Trainees whose status depends on where the standard lies inside its interval", Columns: []Column{
		{Key: "trainees", Head: "trainees"}, {Key: "pass", Head: "pass at the standard"}, {Key: "pass_at_lower", Head: "at the lower limit"}, {Key: "pass_at_upper", Head: "at the upper limit"}, {Key: "differ", Head: "change status"},
	}, Rows: [][]any{{s.N, s.Pass, s.PassLower, s.PassUpper, s.Differ}}, Notes: []string{"Pass: " + s.Definition + ".", Caution}}
}
