package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Tables lists a row a coefficient first; further tables follow where the
// design has them.
func (d *Agreement) Tables() []Table {
	out := []Table{d.coefficientTable()}
	for _, make := range []func() Table{d.readingTable, d.componentTable, d.decisionTable, d.raterTable, d.pairTable, d.flipTable, d.differenceTable, d.repeatTable, d.modelTable, d.checklistTable} {
		if t := make(); len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// Extra are the long tables for files: every interval, every form of the
// intraclass correlation, the decision table row by row, abilities.
func (d *Agreement) Extra() []Table {
	var out []Table
	for _, make := range []func() Table{d.intervalTable, d.formTable, d.testTable, d.decisionRows, d.abilityTable} {
		if t := make(); len(t.Rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

// limitColumns head an interval of the document's level.
func (d *Agreement) limitColumns(show func(float64) string) []Column {
	return []Column{{Key: "lower", Head: fmt.Sprintf("%g %% from", 100*d.level), Show: show}, {Key: "upper", Head: "to", Show: show}}
}

func (d *Agreement) coefficientTable() Table {
	t := Table{Name: "agreement", Title: "Rater agreement", Columns: append(append([]Column{
		{Key: "item", Head: "item"}, {Key: "scale"}, {Key: "n_subjects"}, {Key: "n_raters"}, {Key: "missing"},
		{Key: "coefficient", Head: "coefficient"}, {Key: "estimate", Head: "estimate", Show: threePlaces}, {Key: "se"},
	}, d.limitColumns(threePlaces)...), Column{Key: "interval_method"}, Column{Key: "generalises_to", Head: "for other"}, Column{Key: "note", Head: "note"})}
	for _, it := range d.Items {
		for _, c := range it.Coefficients {
			t.Rows = append(t.Rows, []any{it.Item, it.Scale, it.NSubjects, it.NRaters, it.Missing, c.Name, float64(c.Estimate), float64(c.SE), float64(c.Lower), float64(c.Upper), c.IntervalMethod, c.GeneralisesTo, c.Note})
		}
	}
	for _, it := range d.Items {
		t.Notes = append(t.Notes, fmt.Sprintf("%s: %s scale, %d subjects, %d raters, %d ratings missing.", it.Item, it.Scale, it.NSubjects, it.NRaters, it.Missing))
	}
	t.Notes = append(t.Notes,
		"icc: 1 one-way, a two-way absolute agreement, c two-way consistency; (…,1) a single rating, (…,k) the mean of all raters. Pass or fail decisions need absolute agreement.",
		"Relative: raters' severity is set aside, for ranking; absolute: it counts as error, for pass or fail.",
		"For other subjects: the interval is for these raters; for other subjects and raters: for other raters like these as well.",
		"Judge a coefficient by its interval, not its point. Agreement between raters says nothing about whether they are right.",
	)
	return t
}

// perItem makes a table whose first column is the item.
func (d *Agreement) perItem(name, title string, columns []Column, rows func(it ItemAgreement) [][]any) Table {
	t := Table{Name: name, Title: title, Columns: append([]Column{{Key: "item", Head: "item"}}, columns...)}
	for _, it := range d.Items {
		for _, r := range rows(it) {
			t.Rows = append(t.Rows, append([]any{it.Item}, r...))
		}
	}
	return t
}

func (d *Agreement) readingTable() Table {
	t := d.perItem("agreement-readings", "What the intervals are called", []Column{{Key: "coefficient", Head: "coefficient"}, {Key: "reading", Head: "reading"}, {Key: "scale", Head: "in the words of"}, {Key: "source"}}, func(it ItemAgreement) [][]any {
		var rows [][]any
		for _, r := range it.Readings {
			rows = append(rows, []any{r.Coefficient, r.Text, r.Scale, r.Source})
		}
		return rows
	})
	t.Notes = []string{"Read from the interval's lower to its upper end. Such scales are conventions and disagree with each other."}
	for _, it := range d.Items {
		for _, r := range it.Readings {
			if !slices.Contains(t.Notes, r.Source+".") {
				t.Notes = append(t.Notes, r.Source+".")
			}
		}
	}
	return t
}

func (d *Agreement) componentTable() Table {
	t := d.perItem("agreement-components", "Where the differences between ratings come from", append(append([]Column{{Key: "component", Head: "source"}, {Key: "estimate", Head: "variance"}, {Key: "se", Head: "SE"}}, d.limitColumns(nil)...), Column{Key: "share", Head: "share", Show: Percent}, Column{Key: "untruncated"}, Column{Key: "method"}, Column{Key: "note", Head: "note"}), func(it ItemAgreement) [][]any {
		cs := it.VarianceComponents
		if it.Generalizability != nil {
			cs = it.Generalizability.Components
		}
		var rows [][]any
		for _, c := range cs {
			rows = append(rows, []any{c.Name, float64(c.Estimate), float64(c.SE), float64(c.Lower), float64(c.Upper), float64(c.Share), float64(c.Untruncated), c.Method, c.Note})
		}
		return rows
	})
	for _, it := range d.Items {
		if g := it.Generalizability; g != nil {
			t.Notes = append(t.Notes, fmt.Sprintf("%s: %s; %s.", it.Item, g.Design, g.Method))
			for _, n := range g.Notes {
				t.Notes = append(t.Notes, it.Item+": "+n+".")
			}
		}
	}
	return t
}

// decisionTable shows the absolute coefficient, raters across.
func (d *Agreement) decisionTable() Table {
	t := Table{Name: "agreement-decisions", Title: "How many raters and performances: absolute (phi) coefficient"}
	raters := 0
	for _, it := range d.Items {
		if g := it.Generalizability; g != nil {
			for _, r := range g.Decisions {
				raters = max(raters, int(r.Numbers[len(r.Numbers)-1]))
			}
		}
	}
	t.Columns = []Column{{Key: "item", Head: "item"}, {Key: "facet", Head: "measured by"}}
	for n := 1; n <= raters; n++ {
		t.Columns = append(t.Columns, Column{Key: fmt.Sprintf("raters_%d", n), Head: Count(n, "rater")})
	}
	for _, it := range d.Items {
		if it.Generalizability != nil {
			t.Rows = append(t.Rows, it.Generalizability.matrix(it.Item, raters)...)
			t.Notes = append(t.Notes, it.Generalizability.verdict(it.Item))
		}
	}
	t.Notes = append(t.Notes, "* reaches the target. Each trainee is measured by as many performances (or items) as stated, each rated by as many raters; the mean of all is the score.")
	return t
}

func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func (g *GStudy) matrix(item string, raters int) [][]any {
	var rows [][]any
	at := map[float64]int{}
	for _, d := range g.Decisions {
		first, r := 1.0, int(d.Numbers[len(d.Numbers)-1])
		label := "1 performance"
		if len(d.Numbers) > 1 {
			first = d.Numbers[0]
			label = Count(int(first), g.Facets[0])
		}
		i, ok := at[first]
		if !ok {
			i = len(rows)
			at[first] = i
			row := []any{item, label}
			for range raters {
				row = append(row, "")
			}
			rows = append(rows, row)
		}
		mark := " "
		if float64(d.Phi) >= g.Target {
			mark = "*"
		}
		rows[i][1+r] = fmt.Sprintf("%.2f%s", float64(d.Phi), mark)
	}
	return rows
}

// verdict says which way to the target is cheaper.
func (g *GStudy) verdict(item string) string {
	words := func(d *Decision) string {
		var parts []string
		for i, n := range d.Numbers {
			parts = append(parts, Count(int(n), g.Facets[i]))
		}
		s := strings.Join(parts, " by ")
		if !math.IsNaN(float64(d.Cost)) {
			s += fmt.Sprintf(" (cost %g a trainee)", float64(d.Cost))
		}
		return s
	}
	how := "the fewest ratings"
	if g.Costs != nil {
		how = "the lowest cost"
	}
	out := fmt.Sprintf("%s: for an absolute coefficient of %g ", item, g.Target)
	if g.Cheapest == nil {
		out += "none of the ways shown is enough"
	} else {
		out += fmt.Sprintf("%s: %s", how, words(g.Cheapest))
	}
	if g.Relative != nil {
		out += fmt.Sprintf("; for a relative one: %s", words(g.Relative))
	}
	return out + ". These are estimates: see the intervals of the components."
}

func (d *Agreement) decisionRows() Table {
	t := Table{Name: "agreement-decision-rows", Columns: []Column{{Key: "item"}, {Key: "others"}, {Key: "n_others"}, {Key: "n_raters"}, {Key: "g"}, {Key: "g_lower"}, {Key: "g_upper"}, {Key: "phi"}, {Key: "phi_lower"}, {Key: "phi_upper"}, {Key: "sem_relative"}, {Key: "sem_absolute"}, {Key: "smallest_detectable_change_absolute"}, {Key: "cost"}}}
	for _, it := range d.Items {
		if it.Generalizability == nil {
			continue
		}
		for _, r := range it.Generalizability.Decisions {
			others, n := "performance", 1.0
			if len(r.Numbers) > 1 {
				others, n = it.Generalizability.Facets[0], r.Numbers[0]
			}
			t.Rows = append(t.Rows, []any{it.Item, others, n, r.Numbers[len(r.Numbers)-1], float64(r.G), float64(r.GLower), float64(r.GUpper), float64(r.Phi), float64(r.PhiLower), float64(r.PhiUpper), float64(r.SEMRel), float64(r.SEMAbs), float64(r.SDCAbs), float64(r.Cost)})
		}
	}
	return t
}

func (d *Agreement) raterTable() Table {
	drift, passes := false, false
	for _, it := range d.Items {
		for _, r := range it.Raters {
			drift = drift || !math.IsNaN(float64(r.Drift))
			passes = passes || !math.IsNaN(float64(r.PassRate))
		}
	}
	columns := append([]Column{{Key: "rater", Head: "rater"}, {Key: "ratings", Head: "ratings"}, {Key: "mean", Head: "mean score"}, {Key: "severity", Head: "severity", Show: signed}, {Key: "se"}}, d.limitColumns(signed)...)
	columns = append(columns, Column{Key: "group"}, Column{Key: "pass_rate"}, Column{Key: "drift"}, Column{Key: "drift_lower"}, Column{Key: "drift_upper"})
	if passes {
		columns[8].Head, columns[8].Show = "passes", Percent
	}
	if drift {
		columns[9] = Column{Key: "drift", Head: "drift", Show: signed}
		columns[10] = Column{Key: "drift_lower", Head: "drift from", Show: signed}
		columns[11] = Column{Key: "drift_upper", Head: "to", Show: signed}
	}
	t := d.perItem("agreement-raters", "Severity of the raters", columns, func(it ItemAgreement) [][]any {
		var rows [][]any
		for _, r := range it.Raters {
			rows = append(rows, []any{r.Rater, r.Ratings, float64(r.Mean), float64(r.Severity), float64(r.SE), float64(r.Lower), float64(r.Upper), r.Group, float64(r.PassRate), float64(r.Drift), float64(r.DriftLower), float64(r.DriftUpper)})
		}
		return rows
	})
	t.Notes = []string{"Severity: how much lower than the panel's average this rater scores the same performances, in score units; above 0 is stricter. Of two categories: in shares of positive ratings."}
	if drift {
		t.Notes = append(t.Notes, "Drift: change of severity per day (or running number), relative to the panel; what all raters share cannot be told from a change of the performances.")
	}
	return t
}

// signed writes a number with its sign and four significant digits.
func signed(v float64) string {
	s := Significant(v, 3)
	if v > 0 {
		return "+" + s
	}
	return s
}

func (d *Agreement) pairTable() Table {
	return d.perItem("agreement-pairs", "Pairs of raters", []Column{{Key: "a", Head: "rater"}, {Key: "b", Head: "and"}, {Key: "subjects", Head: "subjects of both"}, {Key: "mean_difference", Head: "mean difference", Show: signed}, {Key: "flips", Head: "decisions that differ", Show: percentOrDash}}, func(it ItemAgreement) [][]any {
		var rows [][]any
		for _, p := range it.Pairs {
			rows = append(rows, []any{p.A, p.B, p.Both, float64(p.Difference), float64(p.Flips)})
		}
		return rows
	})
}

func percentOrDash(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return Percent(v)
}

func (d *Agreement) flipTable() Table {
	t := d.perItem("agreement-flips", "Pass or fail: decisions that change with the examiner", append([]Column{{Key: "pass", Head: "pass means"}, {Key: "n_subjects", Head: "subjects"}, {Key: "measure", Head: "measure"}, {Key: "share", Head: "share", Show: Percent}}, append(d.limitColumns(percentOrDash), Column{Key: "note", Head: "note"})...), func(it ItemAgreement) [][]any {
		if it.Decisions == nil {
			return nil
		}
		f := it.Decisions
		row := func(name string, c Coefficient) []any {
			return []any{f.Pass, f.Subjects, name, float64(c.Estimate), float64(c.Lower), float64(c.Upper), c.Note}
		}
		return [][]any{row("two raters decide differently", f.PairRate), row("the raters are not of one mind", f.Split)}
	})
	return t
}

func (d *Agreement) differenceTable() Table {
	t := d.perItem("agreement-differences", "Limits of agreement of two raters", append(append([]Column{{Key: "raters", Head: "raters"}, {Key: "n", Head: "subjects"}, {Key: "measure", Head: "measure"}, {Key: "estimate", Head: "estimate"}}, d.limitColumns(nil)...), Column{Key: "p", Head: "p", Show: PValue}), func(it ItemAgreement) [][]any {
		x := it.Differences
		if x == nil {
			return nil
		}
		who := x.A + " − " + x.B
		var mean Coefficient
		for _, c := range it.Coefficients {
			if c.Name == "mean-difference" {
				mean = c
			}
		}
		nan := math.NaN()
		return [][]any{
			{who, x.N, "mean difference", float64(x.Mean), float64(mean.Lower), float64(mean.Upper), nan},
			{who, x.N, "lower limit", float64(x.LowerLimit), float64(x.LowerFrom), float64(x.LowerTo), nan},
			{who, x.N, "upper limit", float64(x.UpperLimit), float64(x.UpperFrom), float64(x.UpperTo), nan},
			{who, x.N, "proportional bias (slope on the mean)", float64(x.Slope), float64(x.SlopeLower), float64(x.SlopeUpper), float64(x.SlopeP)},
			{who, x.N, "spread growing with the mean (slope)", float64(x.SpreadSlope), nan, nan, float64(x.SpreadSlopeP)},
		}
	})
	t.Notes = []string{"About 95 % of differences lie between the limits; whether that is near enough is for those who use the scores."}
	return t
}

func (d *Agreement) repeatTable() Table {
	return d.perItem("agreement-repeats", "The same rater on two occasions", append([]Column{{Key: "rater", Head: "rater"}, {Key: "from", Head: "first"}, {Key: "to", Head: "then"}, {Key: "n", Head: "subjects"}, {Key: "coefficient", Head: "coefficient"}, {Key: "estimate", Head: "estimate", Show: threePlaces}}, append(d.limitColumns(threePlaces), Column{Key: "note", Head: "note"})...), func(it ItemAgreement) [][]any {
		var rows [][]any
		for _, r := range it.Repeats {
			for _, c := range r.Coefficients {
				rows = append(rows, []any{r.Rater, r.From, r.To, r.N, c.Name, float64(c.Estimate), float64(c.Lower), float64(c.Upper), c.Note})
			}
			if !math.IsNaN(float64(r.WithinSD)) {
				rows = append(rows, []any{r.Rater, r.From, r.To, r.N, "within-subject SD", float64(r.WithinSD), math.NaN(), math.NaN(), ""})
			}
		}
		return rows
	})
}

func (d *Agreement) modelTable() Table {
	t := d.perItem("agreement-rating-model", "Many-facet rating model of ordinal scores, in logits", append(append([]Column{{Key: "facet", Head: "facet"}, {Key: "level", Head: "level"}, {Key: "ratings", Head: "ratings"}, {Key: "estimate", Head: "place", Show: signed}, {Key: "se", Head: "SE", Show: threePlaces}}, d.limitColumns(signed)...), Column{Key: "infit", Head: "infit", Show: TwoPlaces}, Column{Key: "outfit", Head: "outfit", Show: TwoPlaces}, Column{Key: "expected_score", Head: "expected score", Show: TwoPlaces}), func(it ItemAgreement) [][]any {
		m := it.RatingModel
		if m == nil {
			return nil
		}
		var rows [][]any
		add := func(facet string, ms []Measure) {
			for _, x := range ms {
				rows = append(rows, []any{facet, x.Name, x.Ratings, float64(x.Estimate), float64(x.SE), float64(x.Lower), float64(x.Upper), float64(x.Infit), float64(x.Outfit), float64(x.Expected)})
			}
		}
		add("rater severity", m.Raters)
		add("item difficulty", m.Items)
		add("threshold", m.Thresholds)
		nan := math.NaN()
		rows = append(rows, []any{m.Object + " ability", "standard deviation", 0, float64(m.AbilitySD), float64(m.AbilitySDSE), nan, nan, nan, nan, nan})
		return rows
	})
	t.Notes = []string{"Log odds of a category against the one below = ability − severity − difficulty − threshold; severities and difficulties sum to 0, above 0 is stricter or harder. Infit and outfit near 1: the ratings vary as the model says; well above 1: erratically, well below: too alike. Expected score: what the rater gives an average performance."}
	return t
}

func TwoPlaces(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	return fmt.Sprintf("%.2f", v)
}

func (d *Agreement) abilityTable() Table {
	t := d.perItem("agreement-abilities", "", []Column{{Key: "object"}, {Key: "name"}, {Key: "ratings"}, {Key: "ability"}, {Key: "se"}, {Key: "lower"}, {Key: "upper"}}, func(it ItemAgreement) [][]any {
		var rows [][]any
		if m := it.RatingModel; m != nil {
			for _, x := range m.Abilities {
				rows = append(rows, []any{m.Object, x.Name, x.Ratings, float64(x.Estimate), float64(x.SE), float64(x.Lower), float64(x.Upper)})
			}
		}
		return rows
	})
	return t
}

func (d *Agreement) checklistTable() Table {
	t := Table{Name: "agreement-checklist", Title: "What a paper on agreement should say", Columns: []Column{{Key: "number", Head: "no."}, {Key: "topic", Head: "topic"}, {Key: "asks", Head: "asks"}, {Key: "text"}, {Key: "state", Head: "state"}}}
	for _, c := range d.Checklist {
		state := "blank: for the authors"
		if c.Text != "" {
			state = "prefilled, see the files"
		}
		t.Rows = append(t.Rows, []any{c.Number, c.Topic, c.Asks, c.Text, state})
	}
	t.Notes = []string{"Topics follow Kottner et al. (2011), Journal of Clinical Epidemiology 64, 96-106; the prefilled text is in the JSON and CSV output."}
	return t
}

func (d *Agreement) intervalTable() Table {
	t := Table{Name: "agreement-intervals", Columns: []Column{{Key: "item"}, {Key: "coefficient"}, {Key: "method"}, {Key: "generalises_to"}, {Key: "se"}, {Key: "lower"}, {Key: "upper"}, {Key: "replicates"}, {Key: "failed_replicates"}, {Key: "note"}}}
	for _, it := range d.Items {
		for _, iv := range it.full {
			t.Rows = append(t.Rows, []any{it.Item, iv.coefficient, iv.Method, iv.GeneralisesTo, float64(iv.SE), float64(iv.Lower), float64(iv.Upper), iv.Replicates, iv.FailedReplicates, iv.Note})
		}
	}
	return t
}

func (d *Agreement) formTable() Table {
	return d.perItem("agreement-icc-forms", "", []Column{{Key: "mcgraw_wong"}, {Key: "shrout_fleiss"}, {Key: "model"}, {Key: "unit"}, {Key: "definition"}, {Key: "generalises_to"}, {Key: "assumes"}, {Key: "estimate"}, {Key: "lower"}, {Key: "upper"}, {Key: "f"}, {Key: "df1"}, {Key: "df2"}, {Key: "p"}}, func(it ItemAgreement) [][]any {
		var rows [][]any
		for _, f := range it.Forms {
			rows = append(rows, []any{f.McGrawWong, f.ShroutFleiss, f.Model, f.Unit, f.Definition, f.GeneralisesTo, f.Assumes, float64(f.Estimate), float64(f.Lower), float64(f.Upper), float64(f.F), float64(f.DF1), float64(f.DF2), float64(f.P)})
		}
		return rows
	})
}

func (d *Agreement) testTable() Table {
	return d.perItem("agreement-tests", "", []Column{{Key: "coefficient"}, {Key: "statistic"}, {Key: "value"}, {Key: "se"}, {Key: "df1"}, {Key: "df2"}, {Key: "p"}, {Key: "null"}, {Key: "source"}}, func(it ItemAgreement) [][]any {
		var rows [][]any
		for _, c := range it.Coefficients {
			if t := c.Test; t != nil {
				rows = append(rows, []any{c.Name, t.Statistic, float64(t.Value), float64(t.SE), float64(t.DF1), float64(t.DF2), float64(t.P), t.Null, t.Source})
			}
		}
		return rows
	})
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
