package study

import (
	"fmt"
	"math"
	"strconv"

	"tyro/analysis/proficiency"
)

// GroupName is a group of trainees in words: an arm's, or all.
func GroupName(arm string) string {
	if arm == "" {
		return "all trainees"
	}
	return "arm " + arm
}

// BasisName is what a quota rests on, in words.
func BasisName(basis string) string {
	if basis == proficiency.ByCohort {
		return "by the cohort's curve"
	}
	return "as observed"
}

// PercentText is a share with at most one decimal: 62.5 %. It is 0 % for nobody and
// 100 % for everybody only.
func PercentText(v float64) string {
	const exact = 1e-9
	switch {
	case math.IsNaN(v):
		return "–"
	case v > exact && v < 0.0005:
		return "<0.1 %"
	case v >= 0.9995 && v < 1-exact:
		return ">99.9 %"
	}
	return strconv.FormatFloat(math.Round(1000*v)/10, 'f', -1, 64) + " %"
}

// NotMetText says how many were last seen without having met the rule.
func NotMetText(without, of int) string {
	return fmt.Sprintf("%d of %d had not met the rule by the last attempt seen of them", without, of)
}
