package reports

import (
	"math"

	"tyro/analysis/study"
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

// pairRow is two examiners on the subjects both rated.
type pairRow struct {
	A          string `json:"a"`
	B          string `json:"b"`
	Both       int    `json:"subjects"`
	Difference Number `json:"mean_difference"`
	Flips      Number `json:"flips"`
}

// flips is what disagreement does to pass/fail decisions.
type flips struct {
	Cut      Number      `json:"cut"` // null for categories
	Pass     string      `json:"pass"`
	Subjects int         `json:"n_subjects"`
	PairRate Coefficient `json:"pair_rate"`
	Split    Coefficient `json:"split"`
}

// differences are the limits of agreement of two raters.
type differences struct {
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

// repeat is one rater against the same rater on another occasion.
type repeat struct {
	Rater        string        `json:"rater"`
	From         string        `json:"from"`
	To           string        `json:"to"`
	N            int           `json:"n"`
	WithinSD     Number        `json:"within_subject_sd"`
	Coefficients []Coefficient `json:"coefficients"`
}

// ofRaters copies what is known of single raters and pairs of them.
func (out *ItemAgreement) ofRaters(a *study.ItemAgreement) {
	for _, s := range a.Severities {
		out.Raters = append(out.Raters, RaterRow{
			Rater: s.Name, Ratings: s.Ratings, Mean: Number(s.Mean), Severity: Number(s.Estimate), SE: Number(s.SE), Lower: Number(s.Lower), Upper: Number(s.Upper),
			Group: s.Group + 1, PassRate: Number(s.PassRate), Drift: Number(s.Drift), DriftLower: Number(s.DriftLower), DriftUpper: Number(s.DriftUpper),
		})
	}
	for _, p := range a.Pairs {
		out.Pairs = append(out.Pairs, pairRow{A: p.A, B: p.B, Both: p.Both, Difference: Number(p.Difference), Flips: Number(p.Flips)})
	}
	if f := a.Decisions; f != nil {
		out.Decisions = &flips{Cut: Number(f.Cut.At), Pass: f.Pass, Subjects: f.Subjects, PairRate: newCoefficient(f.PairRate), Split: newCoefficient(f.Split)}
		if f.ByCategory {
			out.Decisions.Cut = Number(math.NaN())
		}
	}
	if d := a.Differences; d != nil {
		out.Differences = newDifferences(*d)
	}
	for _, r := range a.Repeats {
		out.Repeats = append(out.Repeats, repeat{Rater: r.Rater, From: r.From, To: r.To, N: r.N, WithinSD: Number(r.WithinSD), Coefficients: coefficients(r.Coefficients)})
	}
}

func newDifferences(d study.PairDifferences) *differences {
	out := &differences{
		A: d.A, B: d.B, N: d.N, Mean: Number(d.Mean), SD: Number(d.SD),
		LowerLimit: Number(d.Lower[0]), LowerFrom: Number(d.Lower[1]), LowerTo: Number(d.Lower[2]),
		UpperLimit: Number(d.Upper[0]), UpperFrom: Number(d.Upper[1]), UpperTo: Number(d.Upper[2]),
		Slope: Number(d.Slope.Estimate), SlopeLower: Number(d.Slope.Lower), SlopeUpper: Number(d.Slope.Upper), SlopeP: Number(d.Slope.P),
		SpreadSlope: Number(d.SpreadSlope.Estimate), SpreadSlopeP: Number(d.SpreadSlope.P),
		Repeated: d.Repeated, Between: Number(math.NaN()), Within: Number(math.NaN()), Level: d.Level, Note: d.Note,
	}
	if d.Repeated {
		out.Between, out.Within = Number(d.Between), Number(d.Within)
	}
	return out
}
