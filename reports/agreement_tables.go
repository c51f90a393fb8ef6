package reports

import (
	"fmt"
	"math"
	"slices"
)

// Tables lists a row a coefficient first; further tables follow where the
// design has them.
func (d *Agreement) Tables() []Table {
	return append([]Table{d.coefficientTable()}, withRows(d.readingTable(), d.componentTable(), d.decisionTable(), d.raterTable(), d.pairTable(),
		d.flipTable(), d.differenceTable(), d.repeatTable(), d.modelTable(), d.checklistTable())...)
}

// Extra are the long tables for files: every interval, every form of the
// intraclass correlation, the decision table row by row, abilities.
func (d *Agreement) Extra() []Table {
	return withRows(d.intervalTable(), d.formTable(), d.testTable(), d.decisionRows(), d.abilityTable())
}

func withRows(ts ...Table) []Table {
	return slices.DeleteFunc(ts, func(t Table) bool { return t.Len() == 0 })
}

// An itemRow is a row of a table whose first column is the rated item.
type itemRow[R any] struct {
	Item string
	Row  R
}

// itemRows collects the rows of every item.
func itemRows[R any](d *Agreement, of func(it ItemAgreement) []R) []itemRow[R] {
	var out []itemRow[R]
	for _, it := range d.Items {
		for _, r := range of(it) {
			out = append(out, itemRow[R]{it.Item, r})
		}
	}
	return out
}

// An itemTable gathers columns of rows that belong to items; the item stands first.
type itemTable[R any] struct {
	rows    []itemRow[R]
	columns []Column
}

// newItemTable begins with the item, shown under head; a blank head hides it.
func newItemTable[R any](d *Agreement, head string, of func(it ItemAgreement) []R) *itemTable[R] {
	t := &itemTable[R]{rows: itemRows(d, of)}
	t.columns = []Column{Words("item", head, t.rows, func(r itemRow[R]) string { return r.Item })}
	return t
}

func (t *itemTable[R]) words(key, head string, of func(R) string) {
	t.columns = append(t.columns, Words(key, head, t.rows, func(r itemRow[R]) string { return of(r.Row) }))
}

func (t *itemTable[R]) counts(key, head string, of func(R) int) {
	t.columns = append(t.columns, Counts(key, head, t.rows, func(r itemRow[R]) int { return of(r.Row) }))
}

func (t *itemTable[R]) numbers(key, head string, of func(R) Number, show func(float64) string) {
	t.columns = append(t.columns, Numbers(key, head, t.rows, func(r itemRow[R]) Number { return of(r.Row) }, show))
}

// limits are the columns of an interval of the document's level.
func (t *itemTable[R]) limits(d *Agreement, lower, upper func(R) Number, show func(float64) string) {
	t.numbers("lower", fmt.Sprintf("%g %% from", 100*d.level), lower, show)
	t.numbers("upper", "to", upper, show)
}

func (d *Agreement) coefficientTable() Table {
	type row struct {
		ItemAgreement
		Coefficient
	}
	t := newItemTable(d, "item", func(it ItemAgreement) []row {
		var rows []row
		for _, c := range it.Coefficients {
			rows = append(rows, row{it, c})
		}
		return rows
	})
	t.words("scale", "", func(r row) string { return r.Scale })
	t.counts("n_subjects", "", func(r row) int { return r.NSubjects })
	t.counts("n_raters", "", func(r row) int { return r.NRaters })
	t.counts("missing", "", func(r row) int { return r.Missing })
	t.words("coefficient", "coefficient", func(r row) string { return r.Name })
	t.numbers("estimate", "estimate", func(r row) Number { return r.Estimate }, threePlaces)
	t.numbers("se", "", func(r row) Number { return r.SE }, nil)
	t.limits(d, func(r row) Number { return r.Lower }, func(r row) Number { return r.Upper }, threePlaces)
	t.words("interval_method", "", func(r row) string { return r.IntervalMethod })
	t.words("generalises_to", "for other", func(r row) string { return r.GeneralisesTo })
	t.words("note", "note", func(r row) string { return r.Note })
	var notes []string
	for _, it := range d.Items {
		notes = append(notes, fmt.Sprintf("%s: %s scale, %d subjects, %d raters, %d ratings missing.", it.Item, it.Scale, it.NSubjects, it.NRaters, it.Missing))
	}
	notes = append(notes,
		"icc: 1 one-way, a two-way absolute agreement, c two-way consistency; (…,1) a single rating, (…,k) the mean of all raters. Pass or fail decisions need absolute agreement.",
		"Relative: raters' severity is set aside, for ranking; absolute: it counts as error, for pass or fail.",
		"For other subjects: the interval is for these raters; for other subjects and raters: for other raters like these as well.",
		"Judge a coefficient by its interval, not its point. Agreement between raters says nothing about whether they are right.",
	)
	return Table{Name: "agreement", Title: "Rater agreement", Columns: t.columns, Notes: notes}
}

func (d *Agreement) readingTable() Table {
	t := newItemTable(d, "item", func(it ItemAgreement) []reading { return it.Readings })
	t.words("coefficient", "coefficient", func(r reading) string { return r.Coefficient })
	t.words("reading", "reading", func(r reading) string { return r.Text })
	t.words("scale", "in the words of", func(r reading) string { return r.Scale })
	t.words("source", "", func(r reading) string { return r.Source })
	notes := []string{"Read from the interval's lower to its upper end. Such scales are conventions and disagree with each other."}
	for _, r := range t.rows {
		if source := r.Row.Source + "."; !slices.Contains(notes, source) {
			notes = append(notes, source)
		}
	}
	return Table{Name: "agreement-readings", Title: "What the intervals are called", Columns: t.columns, Notes: notes}
}

func (d *Agreement) componentTable() Table {
	t := newItemTable(d, "item", func(it ItemAgreement) []component {
		if it.Generalizability != nil {
			return it.Generalizability.Components
		}
		return it.VarianceComponents
	})
	t.words("component", "source", func(c component) string { return c.Name })
	t.numbers("estimate", "variance", func(c component) Number { return c.Estimate }, nil)
	t.numbers("se", "SE", func(c component) Number { return c.SE }, nil)
	t.limits(d, func(c component) Number { return c.Lower }, func(c component) Number { return c.Upper }, nil)
	t.numbers("share", "share", func(c component) Number { return c.Share }, Percent)
	t.numbers("untruncated", "", func(c component) Number { return c.Untruncated }, nil)
	t.words("method", "", func(c component) string { return c.Method })
	t.words("note", "note", func(c component) string { return c.Note })
	var notes []string
	for _, it := range d.Items {
		if g := it.Generalizability; g != nil {
			notes = append(notes, fmt.Sprintf("%s: %s; %s.", it.Item, g.Design, g.Method))
			for _, n := range g.Notes {
				notes = append(notes, it.Item+": "+n+".")
			}
		}
	}
	return Table{Name: "agreement-components", Title: "Where the differences between ratings come from", Columns: t.columns, Notes: notes}
}

func (d *Agreement) raterTable() Table {
	drift, passes := "", ""
	for _, it := range d.Items {
		for _, r := range it.Raters {
			if !math.IsNaN(float64(r.Drift)) {
				drift = "drift"
			}
			if !math.IsNaN(float64(r.PassRate)) {
				passes = "passes"
			}
		}
	}
	from, to := "", ""
	notes := []string{"Severity: how much lower than the panel's average this rater scores the same performances, in score units; above 0 is stricter. Of two categories: in shares of positive ratings."}
	if drift != "" {
		from, to = "drift from", "to"
		notes = append(notes, "Drift: change of severity per day (or running number), relative to the panel; what all raters share cannot be told from a change of the performances.")
	}
	t := newItemTable(d, "item", func(it ItemAgreement) []RaterRow { return it.Raters })
	t.words("rater", "rater", func(r RaterRow) string { return r.Rater })
	t.counts("ratings", "ratings", func(r RaterRow) int { return r.Ratings })
	t.numbers("mean", "mean score", func(r RaterRow) Number { return r.Mean }, nil)
	t.numbers("severity", "severity", func(r RaterRow) Number { return r.Severity }, signed)
	t.numbers("se", "", func(r RaterRow) Number { return r.SE }, nil)
	t.limits(d, func(r RaterRow) Number { return r.Lower }, func(r RaterRow) Number { return r.Upper }, signed)
	t.counts("group", "", func(r RaterRow) int { return r.Group })
	t.numbers("pass_rate", passes, func(r RaterRow) Number { return r.PassRate }, Percent)
	t.numbers("drift", drift, func(r RaterRow) Number { return r.Drift }, signed)
	t.numbers("drift_lower", from, func(r RaterRow) Number { return r.DriftLower }, signed)
	t.numbers("drift_upper", to, func(r RaterRow) Number { return r.DriftUpper }, signed)
	return Table{Name: "agreement-raters", Title: "Severity of the raters", Columns: t.columns, Notes: notes}
}

// signed writes a number with its sign and three significant digits.
func signed(v float64) string {
	s := Significant(v, 3)
	if v > 0 {
		return "+" + s
	}
	return s
}

func (d *Agreement) pairTable() Table {
	t := newItemTable(d, "item", func(it ItemAgreement) []pairRow { return it.Pairs })
	t.words("a", "rater", func(p pairRow) string { return p.A })
	t.words("b", "and", func(p pairRow) string { return p.B })
	t.counts("subjects", "subjects of both", func(p pairRow) int { return p.Both })
	t.numbers("mean_difference", "mean difference", func(p pairRow) Number { return p.Difference }, signed)
	t.numbers("flips", "decisions that differ", func(p pairRow) Number { return p.Flips }, percentOrDash)
	return Table{Name: "agreement-pairs", Title: "Pairs of raters", Columns: t.columns}
}

func percentOrDash(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return Percent(v)
}

func (d *Agreement) flipTable() Table {
	type row struct {
		flips
		Measure string
		Coefficient
	}
	t := newItemTable(d, "item", func(it ItemAgreement) []row {
		if it.Decisions == nil {
			return nil
		}
		f := *it.Decisions
		return []row{{f, "two raters decide differently", f.PairRate}, {f, "the raters are not of one mind", f.Split}}
	})
	t.words("pass", "pass means", func(r row) string { return r.Pass })
	t.counts("n_subjects", "subjects", func(r row) int { return r.Subjects })
	t.words("measure", "measure", func(r row) string { return r.Measure })
	t.numbers("share", "share", func(r row) Number { return r.Estimate }, Percent)
	t.limits(d, func(r row) Number { return r.Lower }, func(r row) Number { return r.Upper }, percentOrDash)
	t.words("note", "note", func(r row) string { return r.Note })
	return Table{Name: "agreement-flips", Title: "Pass or fail: decisions that change with the examiner", Columns: t.columns}
}

func (d *Agreement) differenceTable() Table {
	type row struct {
		Raters, Measure           string
		N                         int
		Estimate, Lower, Upper, P Number
	}
	nan := Number(math.NaN())
	t := newItemTable(d, "item", func(it ItemAgreement) []row {
		x := it.Differences
		if x == nil {
			return nil
		}
		mean := Coefficient{}
		for _, c := range it.Coefficients {
			if c.Name == "mean-difference" {
				mean = c
			}
		}
		rows := []row{
			{Measure: "mean difference", Estimate: x.Mean, Lower: mean.Lower, Upper: mean.Upper, P: nan},
			{Measure: "lower limit", Estimate: x.LowerLimit, Lower: x.LowerFrom, Upper: x.LowerTo, P: nan},
			{Measure: "upper limit", Estimate: x.UpperLimit, Lower: x.UpperFrom, Upper: x.UpperTo, P: nan},
			{Measure: "proportional bias (slope on the mean)", Estimate: x.Slope, Lower: x.SlopeLower, Upper: x.SlopeUpper, P: x.SlopeP},
			{Measure: "spread growing with the mean (slope)", Estimate: x.SpreadSlope, Lower: nan, Upper: nan, P: x.SpreadSlopeP},
		}
		for i := range rows {
			rows[i].Raters, rows[i].N = x.A+" − "+x.B, x.N
		}
		return rows
	})
	t.words("raters", "raters", func(r row) string { return r.Raters })
	t.counts("n", "subjects", func(r row) int { return r.N })
	t.words("measure", "measure", func(r row) string { return r.Measure })
	t.numbers("estimate", "estimate", func(r row) Number { return r.Estimate }, nil)
	t.limits(d, func(r row) Number { return r.Lower }, func(r row) Number { return r.Upper }, nil)
	t.numbers("p", "p", func(r row) Number { return r.P }, PValue)
	return Table{Name: "agreement-differences", Title: "Limits of agreement of two raters", Columns: t.columns,
		Notes: []string{"About 95 % of differences lie between the limits; whether that is near enough is for those who use the scores."}}
}

func (d *Agreement) repeatTable() Table {
	type row struct {
		repeat
		Coefficient
	}
	nan := Number(math.NaN())
	t := newItemTable(d, "item", func(it ItemAgreement) []row {
		var rows []row
		for _, r := range it.Repeats {
			for _, c := range r.Coefficients {
				rows = append(rows, row{r, c})
			}
			if !math.IsNaN(float64(r.WithinSD)) {
				rows = append(rows, row{r, Coefficient{Name: "within-subject SD", Estimate: r.WithinSD, Lower: nan, Upper: nan}})
			}
		}
		return rows
	})
	t.words("rater", "rater", func(r row) string { return r.Rater })
	t.words("from", "first", func(r row) string { return r.From })
	t.words("to", "then", func(r row) string { return r.To })
	t.counts("n", "subjects", func(r row) int { return r.N })
	t.words("coefficient", "coefficient", func(r row) string { return r.Name })
	t.numbers("estimate", "estimate", func(r row) Number { return r.Estimate }, threePlaces)
	t.limits(d, func(r row) Number { return r.Lower }, func(r row) Number { return r.Upper }, threePlaces)
	t.words("note", "note", func(r row) string { return r.Note })
	return Table{Name: "agreement-repeats", Title: "The same rater on two occasions", Columns: t.columns}
}

func (d *Agreement) modelTable() Table {
	type row struct {
		Facet string
		placed
	}
	nan := Number(math.NaN())
	t := newItemTable(d, "item", func(it ItemAgreement) []row {
		m := it.RatingModel
		if m == nil {
			return nil
		}
		var rows []row
		add := func(facet string, ps []placed) {
			for _, p := range ps {
				rows = append(rows, row{facet, p})
			}
		}
		add("rater severity", m.Raters)
		add("item difficulty", m.Items)
		add("threshold", m.Thresholds)
		add(m.Object+" ability", []placed{{Name: "standard deviation", Estimate: m.AbilitySD, SE: m.AbilitySDSE, Lower: nan, Upper: nan, Infit: nan, Outfit: nan, Expected: nan}})
		return rows
	})
	t.words("facet", "facet", func(r row) string { return r.Facet })
	t.words("level", "level", func(r row) string { return r.Name })
	t.counts("ratings", "ratings", func(r row) int { return r.Ratings })
	t.numbers("estimate", "place", func(r row) Number { return r.Estimate }, signed)
	t.numbers("se", "SE", func(r row) Number { return r.SE }, threePlaces)
	t.limits(d, func(r row) Number { return r.Lower }, func(r row) Number { return r.Upper }, signed)
	t.numbers("infit", "infit", func(r row) Number { return r.Infit }, TwoPlaces)
	t.numbers("outfit", "outfit", func(r row) Number { return r.Outfit }, TwoPlaces)
	t.numbers("expected_score", "expected score", func(r row) Number { return r.Expected }, TwoPlaces)
	return Table{Name: "agreement-rating-model", Title: "Many-facet rating model of ordinal scores, in logits", Columns: t.columns,
		Notes: []string{"Log odds of a category against the one below = ability − severity − difficulty − threshold; severities and difficulties sum to 0, above 0 is stricter or harder. Infit and outfit near 1: the ratings vary as the model says; well above 1: erratically, well below: too alike. Expected score: what the rater gives an average performance."}}
}

// TwoPlaces is a number with two decimals; a dash for an unknown one.
func TwoPlaces(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.2f", v)
}

func (d *Agreement) abilityTable() Table {
	type row struct {
		Object string
		placed
	}
	t := newItemTable(d, "", func(it ItemAgreement) []row {
		var rows []row
		if m := it.RatingModel; m != nil {
			for _, p := range m.Abilities {
				rows = append(rows, row{m.Object, p})
			}
		}
		return rows
	})
	t.words("object", "", func(r row) string { return r.Object })
	t.words("name", "", func(r row) string { return r.Name })
	t.counts("ratings", "", func(r row) int { return r.Ratings })
	t.numbers("ability", "", func(r row) Number { return r.Estimate }, nil)
	t.numbers("se", "", func(r row) Number { return r.SE }, nil)
	t.numbers("lower", "", func(r row) Number { return r.Lower }, nil)
	t.numbers("upper", "", func(r row) Number { return r.Upper }, nil)
	return Table{Name: "agreement-abilities", Columns: t.columns}
}

func (d *Agreement) checklistTable() Table {
	rows := d.Checklist
	return Table{Name: "agreement-checklist", Title: "What a paper on agreement should say", Columns: []Column{
		Counts("number", "no.", rows, func(c checklistItem) int { return c.Number }),
		Words("topic", "topic", rows, func(c checklistItem) string { return c.Topic }),
		Words("asks", "asks", rows, func(c checklistItem) string { return c.Asks }),
		Words("text", "", rows, func(c checklistItem) string { return c.Text }),
		Words("state", "state", rows, func(c checklistItem) string {
			if c.Text == "" {
				return "blank: for the authors"
			}
			return "prefilled, see the files"
		}),
	}, Notes: []string{"Topics follow Kottner et al. (2011), Journal of Clinical Epidemiology 64, 96-106; the prefilled text is in the JSON and CSV output."}}
}

func (d *Agreement) intervalTable() Table {
	type row struct {
		Coefficient string
		otherInterval
	}
	t := newItemTable(d, "", func(it ItemAgreement) []row {
		var rows []row
		for _, c := range it.Coefficients {
			for _, iv := range c.OtherIntervals {
				rows = append(rows, row{c.Name, iv})
			}
		}
		return rows
	})
	t.words("coefficient", "", func(r row) string { return r.Coefficient })
	t.words("method", "", func(r row) string { return r.Method })
	t.words("generalises_to", "", func(r row) string { return r.GeneralisesTo })
	t.numbers("se", "", func(r row) Number { return r.SE }, nil)
	t.numbers("lower", "", func(r row) Number { return r.Lower }, nil)
	t.numbers("upper", "", func(r row) Number { return r.Upper }, nil)
	t.counts("replicates", "", func(r row) int { return r.Replicates })
	t.counts("failed_replicates", "", func(r row) int { return r.FailedReplicates })
	t.words("note", "", func(r row) string { return r.Note })
	return Table{Name: "agreement-intervals", Columns: t.columns}
}

func (d *Agreement) formTable() Table {
	t := newItemTable(d, "item", func(it ItemAgreement) []iccForm { return it.Forms })
	t.words("mcgraw_wong", "", func(f iccForm) string { return f.McGrawWong })
	t.words("shrout_fleiss", "", func(f iccForm) string { return f.ShroutFleiss })
	t.words("model", "", func(f iccForm) string { return f.Model })
	t.words("unit", "", func(f iccForm) string { return f.Unit })
	t.words("definition", "", func(f iccForm) string { return f.Definition })
	t.words("generalises_to", "", func(f iccForm) string { return f.GeneralisesTo })
	t.words("assumes", "", func(f iccForm) string { return f.Assumes })
	t.numbers("estimate", "", func(f iccForm) Number { return f.Estimate }, nil)
	t.numbers("lower", "", func(f iccForm) Number { return f.Lower }, nil)
	t.numbers("upper", "", func(f iccForm) Number { return f.Upper }, nil)
	t.numbers("f", "", func(f iccForm) Number { return f.F }, nil)
	t.numbers("df1", "", func(f iccForm) Number { return f.DF1 }, nil)
	t.numbers("df2", "", func(f iccForm) Number { return f.DF2 }, nil)
	t.numbers("p", "", func(f iccForm) Number { return f.P }, nil)
	return Table{Name: "agreement-icc-forms", Columns: t.columns}
}

func (d *Agreement) testTable() Table {
	type row struct {
		Coefficient string
		testOutcome
	}
	t := newItemTable(d, "item", func(it ItemAgreement) []row {
		var rows []row
		for _, c := range it.Coefficients {
			if c.Test != nil {
				rows = append(rows, row{c.Name, *c.Test})
			}
		}
		return rows
	})
	t.words("coefficient", "", func(r row) string { return r.Coefficient })
	t.words("statistic", "", func(r row) string { return r.Statistic })
	t.numbers("value", "", func(r row) Number { return r.Value }, nil)
	t.numbers("se", "", func(r row) Number { return r.SE }, nil)
	t.numbers("df1", "", func(r row) Number { return r.DF1 }, nil)
	t.numbers("df2", "", func(r row) Number { return r.DF2 }, nil)
	t.numbers("p", "", func(r row) Number { return r.P }, nil)
	t.words("null", "", func(r row) string { return r.Null })
	t.words("source", "", func(r row) string { return r.Source })
	return Table{Name: "agreement-tests", Columns: t.columns}
}

func threePlaces(v float64) string {
	switch {
	case math.IsNaN(v):
		return "–"
	case math.IsInf(v, 0):
		return Significant(v, 3)
	}
	return fmt.Sprintf("%.3f", v)
}
