package reports

import (
	"fmt"

	"tyro/analysis/study"
)

// Comparison is the answer of the command compare.
type Comparison struct {
	Header
	Family    string     `json:"family"`
	Contrasts []Contrast `json:"contrasts"`

	arms  []string
	level float64
}

// A Contrast in machine output.
type Contrast struct {
	Measure        string  `json:"measure"`
	Arm            string  `json:"arm"`
	Reference      string  `json:"reference"`
	Kind           string  `json:"kind"` // difference or ratio
	ArmValue       Number  `json:"arm_value"`
	ReferenceValue Number  `json:"reference_value"`
	Estimate       Number  `json:"estimate"`
	Lower          Number  `json:"lower"`
	Upper          Number  `json:"upper"`
	Level          float64 `json:"level"`
	P              Number  `json:"p"`
	PAdjusted      Number  `json:"p_adjusted"`
	Method         string  `json:"method"`
	Excludes       string  `json:"excludes"`
	Replicates     int     `json:"replicates"`
	Failed         int     `json:"failed_replicates"`
}

// NewComparison words the answer about the arms.
func NewComparison(s *study.Study, a *study.Comparison) *Comparison {
	d := &Comparison{Header: headerOf("compare", s), Family: a.Family, Contrasts: []Contrast{}, arms: s.Arms, level: s.Options.Level}
	if len(a.Lead) > 0 {
		text := fmt.Sprintf("all trainees are compared on the %s curve, which has the lowest AICc summed over trainees", a.Family)
		for _, l := range a.Lead {
			text += fmt.Sprintf("; %s is higher by %s", l.Family, Significant(l.Higher, 3))
		}
		d.Warn("common-family", text)
	}
	d.With(a.Warnings)
	for _, c := range a.Contrasts {
		kind := "difference"
		if c.Ratio {
			kind = "ratio"
		}
		d.Contrasts = append(d.Contrasts, Contrast{
			Measure: c.Measure, Arm: c.Arm, Reference: c.Reference, Kind: kind, ArmValue: Number(c.ArmValue), ReferenceValue: Number(c.RefValue),
			Estimate: Number(c.Estimate), Lower: Number(c.Lower), Upper: Number(c.Upper), Level: c.Level, P: Number(c.P), PAdjusted: Number(c.PAdjusted),
			Method: c.Method, Excludes: c.Excludes, Replicates: c.Replicates,
		})
	}
	return d
}

// Tables lists a row a contrast.
func (d *Comparison) Tables() []Table {
	arms, rows := d.arms, d.Contrasts
	title, armHead, value := fmt.Sprintf("Arms against %s, %s curve for every trainee", arms[0], d.Family), "arm", "its value"
	if len(arms) == 2 {
		title, armHead, value = fmt.Sprintf("%s against %s, %s curve for every trainee", arms[1], arms[0], d.Family), "", arms[1]
	}
	t := Table{Name: "compare", Title: title, Columns: []Column{
		Words("measure", "measure", rows, func(c Contrast) string { return c.Measure }),
		Words("arm", armHead, rows, func(c Contrast) string { return c.Arm }),
		Words("reference", "", rows, func(c Contrast) string { return c.Reference }),
		Words("kind", "contrast", rows, func(c Contrast) string { return c.Kind }),
		Numbers("arm_value", value, rows, func(c Contrast) Number { return c.ArmValue }, ThreeDigits),
		Numbers("reference_value", arms[0], rows, func(c Contrast) Number { return c.ReferenceValue }, ThreeDigits),
		Numbers("estimate", "estimate", rows, func(c Contrast) Number { return c.Estimate }, ThreeDigits),
		Numbers("lower", fmt.Sprintf("%g %% from", 100*d.level), rows, func(c Contrast) Number { return c.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(c Contrast) Number { return c.Upper }, ThreeDigits),
		Numbers("p", "p", rows, func(c Contrast) Number { return c.P }, PValue),
		Numbers("p_adjusted", "p (Holm)", rows, func(c Contrast) Number { return c.PAdjusted }, PValue),
		Words("method", "", rows, func(c Contrast) string { return c.Method }),
		Words("excludes", "", rows, func(c Contrast) string { return c.Excludes }),
		Counts("replicates", "", rows, func(c Contrast) int { return c.Replicates }),
		Counts("failed_replicates", "", rows, func(c Contrast) int { return c.Failed }),
	}}
	t.Notes = []string{
		"The trainee is the unit: intervals from a bootstrap of whole trainees within arms, p from a permutation of arm labels. ∞: not reached within the horizon.",
		"A p above 0.05 is not evidence of no difference: read what the interval excludes.",
	}
	for _, c := range d.Contrasts {
		if c.Excludes != "" {
			t.Notes = append(t.Notes, fmt.Sprintf("%s: %s.", c.Measure, c.Excludes))
		}
	}
	return []Table{t}
}

func ThreeDigits(v float64) string { return Significant(v, 3) }
