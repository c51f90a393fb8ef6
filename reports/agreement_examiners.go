package reports

import (
	"fmt"
	"math"
	"slices"

	"tyro/analysis/agreement"
	"tyro/datasets"
)

// A RaterRow is one examiner: severity is how much lower than the panel's
// average the same performances are scored; positive is stricter.
type RaterRow struct {
	Rater      string `json:"rater"`
	Ratings    int    `json:"ratings"`
	Mean       Number `json:"mean"`
	Severity   Number `json:"severity"`
	SE         Number `json:"se"`
	Lower      Number `json:"lower"`
	Upper      Number `json:"upper"`
	Group      int    `json:"group"`
	PassRate   Number `json:"pass_rate"`
	Drift      Number `json:"drift"` // change of severity per unit of time, relative to the panel
	DriftLower Number `json:"drift_lower"`
	DriftUpper Number `json:"drift_upper"`
}

// A PairRow is two examiners on the subjects both rated.
type PairRow struct {
	A          string `json:"a"`
	B          string `json:"b"`
	Both       int    `json:"subjects"`
	Difference Number `json:"mean_difference"`
	Flips      Number `json:"flips"`
}

// Flips is what disagreement does to pass/fail decisions.
type Flips struct {
	Cut      Number      `json:"cut"` // null for categories
	Pass     string      `json:"pass"`
	Subjects int         `json:"n_subjects"`
	PairRate Coefficient `json:"pair_rate"`
	Split    Coefficient `json:"split"`
}

// Differences are the limits of agreement of two raters.
type Differences struct {
	A            string  `json:"a"`
	B            string  `json:"b"`
	N            int     `json:"n"`
	Mean         Number  `json:"mean"`
	SD           Number  `json:"sd"`
	LowerLimit   Number  `json:"lower_limit"`
	LowerFrom    Number  `json:"lower_limit_from"`
	LowerTo      Number  `json:"lower_limit_to"`
	UpperLimit   Number  `json:"upper_limit"`
	UpperFrom    Number  `json:"upper_limit_from"`
	UpperTo      Number  `json:"upper_limit_to"`
	Slope        Number  `json:"proportional_bias"`
	SlopeLower   Number  `json:"proportional_bias_lower"`
	SlopeUpper   Number  `json:"proportional_bias_upper"`
	SlopeP       Number  `json:"proportional_bias_p"`
	SpreadSlope  Number  `json:"spread_slope"`
	SpreadSlopeP Number  `json:"spread_slope_p"`
	Repeated     bool    `json:"several_pairs_a_trainee"`
	Between      Number  `json:"variance_between_trainees"`
	Within       Number  `json:"variance_within_trainees"`
	Level        float64 `json:"level"`
	Note         string  `json:"note"`
}

// A Repeat is one rater against the same rater on another occasion.
type Repeat struct {
	Rater        string        `json:"rater"`
	From         string        `json:"from"`
	To           string        `json:"to"`
	N            int           `json:"n"`
	WithinSD     Number        `json:"within_subject_sd"`
	Coefficients []Coefficient `json:"coefficients"`
}

// examiners adds severities, pairs, decisions and limits of agreement.
func (w *agreementWork) examiners(it datasets.RatedItem, a *ItemAgreement) error {
	if a.NRaters < 2 || a.NSubjects < 2 {
		return nil
	}
	scores, cut, pass := w.graded(it)
	if scores == nil {
		return nil
	}
	var sev []agreement.Severity
	var err error
	if it.When != nil {
		sev, err = agreement.SeveritiesOverTime(scores, it.When, w.d.level)
	} else {
		sev, err = agreement.Severities(scores, w.d.level)
	}
	if err != nil {
		w.d.Warn("no-severity", it.Name+": "+err.Error())
		return nil
	}
	sign := 1.0
	if w.o.LowerBetter && it.Categories == nil {
		sign = -1
	}
	for _, s := range sev {
		row := RaterRow{Rater: it.Raters[s.Rater], Ratings: s.Ratings, Mean: Number(s.Mean), Severity: Number(sign * s.Estimate), SE: Number(s.SE), Group: s.Group + 1, PassRate: Number(math.NaN()), Drift: Number(sign * s.Drift)}
		row.Lower, row.Upper = ends(sign, s.Lower, s.Upper)
		row.DriftLower, row.DriftUpper = ends(sign, s.DriftLower, s.DriftUpper)
		if s.Group > 0 {
			w.d.Warn("unconnected-raters", it.Name+": not all raters share subjects, directly or through others; severities can be compared within a group only")
		}
		a.Raters = append(a.Raters, row)
	}
	apart := 0
	for _, p := range agreement.Pairs(scores, cut) {
		a.Pairs = append(a.Pairs, PairRow{it.Raters[p.A], it.Raters[p.B], p.Both, Number(p.Difference), Number(p.Flips)})
		if p.Both == 0 {
			apart++
		}
	}
	if apart > 0 {
		w.d.Warn("pairs-never-met", fmt.Sprintf("%s: %d of %d pairs of raters never rated the same subject", it.Name, apart, len(a.Pairs)))
	}
	if cut != nil {
		if err := w.decisions(it, scores, *cut, pass, a); err != nil {
			return err
		}
	}
	if it.Categories == nil && it.Scale != "nominal" {
		w.differences(it, a)
	}
	return nil
}

func ends(sign, lower, upper float64) (Number, Number) {
	if sign < 0 {
		return Number(-upper), Number(-lower)
	}
	return Number(lower), Number(upper)
}

// graded is the item as numbers that mean better or worse, with the cut between
// pass and fail: 1 for the positive one of two categories. nil where categories
// have no order.
func (w *agreementWork) graded(it datasets.RatedItem) (agreement.Ratings, *agreement.Cut, string) {
	cats := distinct(it.Scores)
	if it.Scale == "nominal" {
		words := it.Categories
		if len(words) == 0 && len(cats) == 2 {
			words = []string{fmt.Sprint(cats[0]), fmt.Sprint(cats[1])}
		}
		if len(words) != 2 {
			return nil, nil, ""
		}
		positive, word := 1.0, words[1]
		if it.Categories == nil {
			positive = cats[1]
		} else if w.of(it).LowerPositive {
			positive, word = 0, words[0]
		}
		out := make(agreement.Ratings, len(it.Scores))
		for i, row := range it.Scores {
			for _, v := range row {
				switch {
				case math.IsNaN(v):
				case v == positive:
					v = 1
				default:
					v = 0
				}
				out[i] = append(out[i], v)
			}
		}
		return out, &agreement.Cut{At: 0.5}, word
	}
	if w.o.Cut == nil || it.Categories != nil {
		return it.Scores, nil, ""
	}
	if len(cats) == 0 || *w.o.Cut < cats[0] || *w.o.Cut > cats[len(cats)-1] {
		w.d.Warn("cut-outside", fmt.Sprintf("%s: the cut %g lies outside its scores, so no decisions are made on it", it.Name, *w.o.Cut))
		return it.Scores, nil, ""
	}
	side := "at or above"
	if w.o.LowerBetter {
		side = "at or below"
	}
	return it.Scores, &agreement.Cut{At: *w.o.Cut, Lower: w.o.LowerBetter}, fmt.Sprintf("%s %g", side, *w.o.Cut)
}

func distinct(scores [][]float64) []float64 {
	var all []float64
	for _, row := range scores {
		for _, v := range row {
			if !math.IsNaN(v) {
				all = append(all, v)
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func (w *agreementWork) decisions(it datasets.RatedItem, scores agreement.Ratings, cut agreement.Cut, pass string, a *ItemAgreement) error {
	f, err := agreement.DecisionFlips(w.ctx, scores, cut, w.options)
	if err != nil {
		return err
	}
	a.Decisions = &Flips{Cut: Number(cut.At), Pass: pass, Subjects: f.Subjects, PairRate: coefficient(f.PairRate), Split: coefficient(f.Split)}
	if it.Scale == "nominal" {
		a.Decisions.Cut = Number(math.NaN())
	}
	for j := range a.Raters {
		a.Raters[j].PassRate = Number(f.PassRate[j])
	}
	return nil
}

// differences adds limits of agreement for two raters, with allowance for
// several performances of a trainee.
func (w *agreementWork) differences(it datasets.RatedItem, a *ItemAgreement) {
	if a.NRaters != 2 {
		return
	}
	x, y := make([]float64, len(it.Scores)), make([]float64, len(it.Scores))
	for i, row := range it.Scores {
		x[i], y[i] = row[0], row[1]
	}
	d := agreement.LimitsOfAgreement(x, y, w.d.level)
	if it.Trainees != nil {
		groups := make([]int, len(it.Trainees))
		for i, t := range it.Trainees {
			groups[i] = slices.Index(it.Trainees, t)
		}
		d = agreement.RepeatedLimits(x, y, groups, w.d.level)
	}
	if d.N < 2 {
		return
	}
	a.Differences = &Differences{
		A: it.Raters[0], B: it.Raters[1], N: d.N, Mean: Number(d.Mean), SD: Number(d.SD),
		LowerLimit: Number(d.Lower[0]), LowerFrom: Number(d.Lower[1]), LowerTo: Number(d.Lower[2]),
		UpperLimit: Number(d.Upper[0]), UpperFrom: Number(d.Upper[1]), UpperTo: Number(d.Upper[2]),
		Slope: Number(d.Slope.Estimate), SlopeLower: Number(d.Slope.Lower), SlopeUpper: Number(d.Slope.Upper), SlopeP: Number(d.Slope.P),
		SpreadSlope: Number(d.SpreadSlope.Estimate), SpreadSlopeP: Number(d.SpreadSlope.P),
		Repeated: d.Repeated, Between: Number(math.NaN()), Within: Number(math.NaN()), Level: d.Level, Note: d.Note,
	}
	if d.Repeated {
		a.Differences.Between, a.Differences.Within = Number(d.Between), Number(d.Within)
		limits := map[string][3]float64{"mean-difference": {d.Mean, d.MeanLower, d.MeanUpper}, "limits-of-agreement-lower": d.Lower, "limits-of-agreement-upper": d.Upper}
		for i, c := range a.Coefficients {
			if l, ok := limits[c.Name]; ok {
				k := &a.Coefficients[i]
				k.Estimate, k.Lower, k.Upper, k.SE, k.Note = Number(l[0]), Number(l[1]), Number(l[2]), Number(math.NaN()), "allows for several performances of a trainee"
			}
		}
	}
	a.Points, a.Pair = &d, [2]string{it.Raters[0], it.Raters[1]}
}

// repeats compares every rater with the same rater on another occasion.
func (w *agreementWork) repeats(it datasets.RatedItem, a *ItemAgreement) error {
	if len(it.Occasions) < 2 {
		return nil
	}
	w.d.Warn("first-occasion", it.Name+": the coefficients between raters use each rater's first rating of a subject")
	first := it.Rounds[0]
	for r := 1; r < len(it.Rounds); r++ {
		var all agreement.Ratings
		for j, rater := range it.Raters {
			var pairs agreement.Ratings
			for i := range first {
				if !math.IsNaN(first[i][j]) && !math.IsNaN(it.Rounds[r][i][j]) {
					pairs = append(pairs, []float64{first[i][j], it.Rounds[r][i][j]})
				}
			}
			if len(pairs) > 0 {
				if err := w.repeat(it, rater, r, pairs, a); err != nil {
					return err
				}
			}
			all = append(all, pairs...)
		}
		if len(it.Raters) > 1 && len(all) > 0 {
			if err := w.repeat(it, "all raters", r, all, a); err != nil {
				return err
			}
		}
	}
	return nil
}

func (w *agreementWork) repeat(it datasets.RatedItem, rater string, r int, pairs agreement.Ratings, a *ItemAgreement) error {
	s, err := agreement.Summarise(w.ctx, pairs, it.Scale, w.of(it))
	if err != nil {
		return err
	}
	out := Repeat{Rater: rater, From: it.Occasions[0], To: it.Occasions[r], N: len(pairs), WithinSD: Number(math.NaN()), Coefficients: []Coefficient{}}
	keep := []string{"percent-agreement", "cohen-kappa", "weighted-kappa-quadratic", "gwet-ac1"}
	if it.Scale != "nominal" {
		keep = append(keep, "icc(a,1)", "mean-difference", "limits-of-agreement-lower", "limits-of-agreement-upper")
		x, y := make([]float64, len(pairs)), make([]float64, len(pairs))
		for i, p := range pairs {
			x[i], y[i] = p[0], p[1]
		}
		out.WithinSD = Number(agreement.WithinSD(x, y))
	}
	for _, c := range s.Coefficients {
		if slices.Contains(keep, c.Name) {
			k := coefficient(c)
			if rater == "all raters" {
				k.Note = "all raters' pairs together, taken as independent"
			}
			out.Coefficients = append(out.Coefficients, k)
		}
	}
	a.Repeats = append(a.Repeats, out)
	return nil
}
