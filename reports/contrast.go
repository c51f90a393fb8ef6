package reports

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tyro/analysis/compare"
)

// A Contrast in machine output.
type Contrast struct {
	Measure        string  `json:"measure"`
	Arm            string  `json:"arm"`
	Reference      string  `json:"reference"`
	Basis          string  `json:"basis"` // what the numbers come from
	Kind           string  `json:"kind"`  // difference or ratio
	ArmTrainees    int     `json:"arm_trainees"`
	RefTrainees    int     `json:"reference_trainees"`
	ArmValue       Number  `json:"arm_value"`
	ReferenceValue Number  `json:"reference_value"`
	Estimate       Number  `json:"estimate"`
	Lower          Number  `json:"lower"`
	Upper          Number  `json:"upper"`
	Level          float64 `json:"level"`
	SE             Number  `json:"se"` // of a ratio's logarithm
	DF             Number  `json:"df"`
	P              Number  `json:"p"`
	PAdjusted      Number  `json:"p_adjusted"` // Holm
	PHochberg      Number  `json:"p_hochberg"`
	Margin         Number  `json:"margin"`
	Method         string  `json:"method"`
	Excludes       string  `json:"excludes"`
	Caution        string  `json:"caution"` // why interval and p are not to be relied on, or not given
	Replicates     int     `json:"replicates"`

	withheld bool
}

func contrastsOf(cs []compare.Contrast) []Contrast {
	out := []Contrast{}
	for _, c := range cs {
		kind := "difference"
		if c.Ratio {
			kind = "ratio"
		}
		out = append(out, Contrast{
			Measure: c.Measure, Arm: c.Arm, Reference: c.Reference, Basis: c.Basis, Kind: kind, ArmTrainees: c.ArmN, RefTrainees: c.RefN,
			ArmValue: Number(c.ArmValue), ReferenceValue: Number(c.RefValue), Estimate: Number(c.Estimate), Lower: Number(c.Lower), Upper: Number(c.Upper),
			Level: c.Level, SE: Number(c.SE), DF: Number(c.DF), P: Number(c.P), PAdjusted: Number(c.PAdjusted), PHochberg: Number(c.PHochberg),
			Margin: Number(c.Margin), Method: c.Method, Excludes: c.Excludes, Caution: c.Caution, Replicates: c.Replicates, withheld: c.Withheld,
		})
	}
	return out
}

// pair names both arms.
func (c Contrast) pair() string { return ArmName(c.Arm) + " against " + ArmName(c.Reference) }

// known reports whether there is an interval.
func (c Contrast) known() bool { return !math.IsNaN(float64(c.Lower)) && !math.IsNaN(float64(c.Upper)) }

// contrastTable lists contrasts, one a row. With one pair of arms their values have a
// column of the arm's name each, with more every row names both.
func contrastTable(name, title string, rows []Contrast, level float64) Table {
	one := true
	for _, c := range rows {
		one = one && c.Arm == rows[0].Arm && c.Reference == rows[0].Reference
	}
	armHead, refHead, armValue, refValue := "arm", "against", "its value", "other's"
	if one && len(rows) > 0 {
		armHead, refHead, armValue, refValue = "", "", ArmName(rows[0].Arm), ArmName(rows[0].Reference)
	}
	t := Table{Name: name, Title: title, Columns: []Column{
		Words("measure", "measure", rows, func(c Contrast) string { return c.Measure }),
		Words("arm", armHead, rows, func(c Contrast) string { return ArmName(c.Arm) }),
		Words("reference", refHead, rows, func(c Contrast) string { return ArmName(c.Reference) }),
		Words("basis", "", rows, func(c Contrast) string { return c.Basis }),
		Words("kind", "contrast", rows, func(c Contrast) string { return c.Kind }),
		Counts("arm_trainees", "", rows, func(c Contrast) int { return c.ArmTrainees }),
		Counts("reference_trainees", "", rows, func(c Contrast) int { return c.RefTrainees }),
		Numbers("arm_value", armValue, rows, func(c Contrast) Number { return c.ArmValue }, ThreeDigits),
		Numbers("reference_value", refValue, rows, func(c Contrast) Number { return c.ReferenceValue }, ThreeDigits),
		Numbers("estimate", "estimate", rows, func(c Contrast) Number { return c.Estimate }, ThreeDigits),
		Numbers("lower", fmt.Sprintf("%g %% from", 100*level), rows, func(c Contrast) Number { return c.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(c Contrast) Number { return c.Upper }, ThreeDigits),
		Numbers("level", "", rows, func(c Contrast) float64 { return c.Level }, nil),
		Numbers("se", "", rows, func(c Contrast) Number { return c.SE }, nil),
		Numbers("df", "", rows, func(c Contrast) Number { return c.DF }, nil),
		Numbers("p", "p", rows, func(c Contrast) Number { return c.P }, PValue),
		Numbers("p_adjusted", "p (Holm)", rows, func(c Contrast) Number { return c.PAdjusted }, PValue),
		Numbers("p_hochberg", "", rows, func(c Contrast) Number { return c.PHochberg }, PValue),
		Numbers("margin", "", rows, func(c Contrast) Number { return c.Margin }, ThreeDigits),
		Words("method", "", rows, func(c Contrast) string { return c.Method }),
		Words("excludes", "", rows, func(c Contrast) string { return c.Excludes }),
		Words("caution", "", rows, func(c Contrast) string { return c.Caution }),
		Counts("replicates", "", rows, func(c Contrast) int { return c.Replicates }),
	}}
	return t
}

// showWords shows a column of text that is otherwise for programs.
func (t *Table) showAs(key, head string) {
	for j := range t.Columns {
		if t.Columns[j].Key == key {
			t.Columns[j].Head = head
		}
	}
}

// leftOpen are notes that say what intervals rule out and leave open: one a contrast where
// they are few, otherwise once for all.
func leftOpen(cs []Contrast) []string {
	var out []string
	if len(cs) > fewContrasts {
		return leftOpenTogether(cs)
	}
	for _, c := range cs {
		if c.Excludes != "" {
			out = append(out, fmt.Sprintf("%s, %s: %s.", c.pair(), c.Measure, c.Excludes))
		}
	}
	return out
}

// cautions are notes that say of which rows interval and p are not to be relied on, or not
// given, and why: a reason once, with all its measures.
func cautions(cs []Contrast) []string {
	var reasons []string
	about, start := map[string][]string{}, map[string]string{}
	for _, c := range cs {
		if c.Caution == "" || !c.known() && !c.withheld {
			continue
		}
		if about[c.Caution] == nil {
			reasons = append(reasons, c.Caution)
			start[c.Caution] = "Not to be relied on as they stand"
		}
		if c.withheld {
			start[c.Caution] = "Given without interval and p"
		}
		if !slices.Contains(about[c.Caution], c.Measure) {
			about[c.Caution] = append(about[c.Caution], c.Measure)
		}
	}
	var out []string
	for _, r := range reasons {
		out = append(out, fmt.Sprintf("%s: %s. %s.", start[r], strings.Join(about[r], ", "), Capital(r)))
	}
	return out
}

// fewContrasts are spoken of one by one.
const fewContrasts = 3

// leftOpenTogether says it once for all.
func leftOpenTogether(cs []Contrast) []string {
	one := !slices.ContainsFunc(cs, func(c Contrast) bool { return c.pair() != cs[0].pair() })
	var open []string
	known := 0
	for _, c := range cs {
		none := 0.0
		if c.Kind == "ratio" {
			none = 1
		}
		if !c.known() || !math.IsNaN(float64(c.Margin)) {
			continue
		}
		if known++; float64(c.Lower) <= none && none <= float64(c.Upper) {
			name := c.Measure
			if !one {
				name += " (" + c.pair() + ")"
			}
			open = append(open, name)
		}
	}
	if known == 0 {
		return nil
	}
	out := []string{"What is not excluded: in every row, all values from the interval's lower to its upper end. Values outside are excluded."}
	if len(open) > 0 {
		out = append(out, fmt.Sprintf("Open in both directions, since the interval holds the value of no change (a ratio of 1, a difference of 0): %s. That does not show that the arms are alike.", strings.Join(open, ", ")))
	}
	return out
}

func ThreeDigits(v float64) string { return Significant(v, 3) }

// withEstimate are the contrasts with an estimate.
func withEstimate(cs []Contrast) []Contrast {
	return slices.DeleteFunc(slices.Clone(cs), func(c Contrast) bool { return math.IsNaN(float64(c.Estimate)) })
}
