package reports

import (
	"cmp"
	"fmt"

	"tyro/analysis/study"
)

// Tables lists the standard, what it was made of, and whom it decides about.
func (d *Standard) Tables() []Table {
	out := []Table{d.mainTable()}
	for _, t := range []Table{d.AlternativesTable(), d.groupsTable(), d.roundsTable(), d.panelsTable(), d.compromiseTable(), d.statusTable()} {
		if t.Len() > 0 {
			out = append(out, t)
		}
	}
	return out
}

func (d *Standard) limitHeads() (string, string) { return fmt.Sprintf("%g %% from", 100*d.Level), "to" }

func (d *Standard) mainTable() Table {
	from, to := d.limitHeads()
	title := "Standard: " + cmp.Or(d.Definition, "as the study file has it")
	if d.Unit != "" {
		title += " (" + d.Unit + ")"
	}
	rows := []*Standard{d}
	return Table{Name: "standard", Title: title, Notes: d.notes(), Columns: []Column{
		Words("method", "method", rows, func(d *Standard) string { return d.Method }),
		Numbers("estimate", "standard", rows, func(d *Standard) Number { return d.Estimate }, nil),
		Numbers("se", "SE", rows, func(d *Standard) Number { return d.SE }, nil),
		Numbers("lower", from, rows, func(d *Standard) Number { return d.Lower }, nil),
		Numbers("upper", to, rows, func(d *Standard) Number { return d.Upper }, nil),
		Words("interval_method", "interval by", rows, func(d *Standard) string { return d.IntervalMethod }),
		Numbers("n", "from", rows, func(d *Standard) Number { return d.N }, Whole),
		Numbers("false_pass", "", rows, func(d *Standard) Number { return d.FalsePass }, nil),
		Numbers("false_fail", "", rows, func(d *Standard) Number { return d.FalseFail }, nil),
		Words("definition", "", rows, func(d *Standard) string { return d.Definition }),
	}}
}

// AlternativesTable lists what other rules make of the same data; no rows where there
// are none.
func (d *Standard) AlternativesTable() Table {
	from, to := d.limitHeads()
	rows := d.Alternatives
	return Table{Name: "standard-alternatives", Title: "The same data, other rules", Columns: []Column{
		Words("rule", "rule", rows, func(a alternative) string { return a.Name }),
		Counts("n", "from", rows, func(a alternative) int { return a.N }),
		Numbers("estimate", "standard", rows, func(a alternative) Number { return a.Estimate }, nil),
		Numbers("se", "SE", rows, func(a alternative) Number { return a.SE }, nil),
		Numbers("lower", from, rows, func(a alternative) Number { return a.Lower }, nil),
		Numbers("upper", to, rows, func(a alternative) Number { return a.Upper }, nil),
		Words("note", "note", rows, func(a alternative) string { return a.Note }),
	}}
}

func (d *Standard) groupsTable() Table {
	rows := d.Groups
	return Table{Name: "standard-groups", Title: "The groups", Columns: []Column{
		Words("group", "group", rows, func(g contrastGroup) string { return g.Name }),
		Counts("n", "trainees", rows, func(g contrastGroup) int { return g.N }),
		Numbers("mean", "mean", rows, func(g contrastGroup) Number { return g.Mean }, nil),
		Numbers("sd", "SD", rows, func(g contrastGroup) Number { return g.SD }, nil),
	}}
}

func (d *Standard) roundsTable() Table {
	from, to := d.limitHeads()
	rows := d.Judges
	t := Table{Name: "standard-rounds", Title: "Judges", Columns: []Column{
		Words("round", "round", rows, func(p judgePanel) string { return cmp.Or(p.Round, "only") }),
		Counts("judges", "judges", rows, func(p judgePanel) int { return p.Judges }),
		Counts("items", "items", rows, func(p judgePanel) int { return p.Items }),
		Numbers("estimate", "standard, items", rows, func(p judgePanel) Number { return p.Estimate }, nil),
		Numbers("percent", "percent", rows, func(p judgePanel) Number { return p.Percent }, nil),
		Numbers("sd", "SD of judges", rows, func(p judgePanel) Number { return p.SD }, nil),
		Numbers("se", "SE", rows, func(p judgePanel) Number { return p.SE }, nil),
		Numbers("lower", from, rows, func(p judgePanel) Number { return p.Lower }, nil),
		Numbers("upper", to, rows, func(p judgePanel) Number { return p.Upper }, nil),
	}}
	if d.Method != study.Angoff { // only judgements item by item have components
		return t
	}
	t.Columns = append(t.Columns,
		Numbers("se_items_random", "SE, other items too", rows, func(p judgePanel) Number { return p.SEItemsRandom }, nil),
		Numbers("variance_judge", "", rows, func(p judgePanel) Number { return p.Judge }, nil),
		Numbers("variance_item", "", rows, func(p judgePanel) Number { return p.Item }, nil),
		Numbers("variance_residual", "", rows, func(p judgePanel) Number { return p.Residual }, nil),
		Numbers("generalizability", "generalizability", rows, func(p judgePanel) Number { return p.Generalizability }, fourPlaces),
	)
	t.Notes = []string{"SE: other judges, the same items. Generalizability: do judges agree on which items are hard (1 is fully)?"}
	return t
}

func (d *Standard) panelsTable() Table {
	rows := d.Panels
	return Table{Name: "standard-panels", Title: "Standard error by number of judges, the same items", Columns: []Column{
		Counts("judges", "judges", rows, func(p panelSize) int { return p.Judges }),
		Numbers("se", "SE, items", rows, func(p panelSize) Number { return p.SE }, nil),
	}}
}

func (d *Standard) compromiseTable() Table {
	var rows []compromise
	title := ""
	if c := d.Compromise; c != nil {
		rows, title = append(rows, *c), fmt.Sprintf("What %s, on average", accepting(c.Judges))
	}
	return Table{Name: "standard-box", Title: title, Columns: []Column{
		Numbers("min_cut", "lowest standard", rows, func(c compromise) Number { return c.MinCut }, nil),
		Numbers("max_cut", "highest", rows, func(c compromise) Number { return c.MaxCut }, nil),
		Numbers("min_fail", "fewest failing, %", rows, func(c compromise) Number { return c.MinFail }, nil),
		Numbers("max_fail", "most, %", rows, func(c compromise) Number { return c.MaxFail }, nil),
		Numbers("fail_on_line", "failing on the line, %", rows, func(c compromise) Number { return c.FailOnLine }, nil),
		Numbers("fail_observed", "observed, %", rows, func(c compromise) Number { return c.FailObserved }, nil),
		Numbers("first_whole", "first whole standard", rows, func(c compromise) Number { return c.FirstWhole }, nil),
	}, Notes: []string{"The curve of failing is the percentage of trainees strictly worse than a standard, taken at multiples of the step and joined by straight lines."}}
}

func accepting(judges int) string {
	if judges == 1 {
		return "1 judge accepts"
	}
	return fmt.Sprintf("%d judges accept", judges)
}

func (d *Standard) statusTable() Table {
	t := Table{Name: "standard-status", Title: "Trainees whose status depends on where the standard lies inside its interval"}
	var rows []statusChange
	if c := d.StatusChange; c != nil {
		rows, t.Notes = append(rows, *c), []string{"Pass: " + c.Definition + ".", Caution}
	}
	t.Columns = []Column{
		Counts("trainees", "trainees", rows, func(c statusChange) int { return c.N }),
		Counts("pass", "pass at the standard", rows, func(c statusChange) int { return c.Pass }),
		Counts("pass_at_lower", "at the lower limit", rows, func(c statusChange) int { return c.PassLower }),
		Counts("pass_at_upper", "at the upper limit", rows, func(c statusChange) int { return c.PassUpper }),
		Counts("differ", "change status", rows, func(c statusChange) int { return c.Differ }),
	}
	return t
}
