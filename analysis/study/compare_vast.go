package study

import "tyro/analysis/compare"

// vast is how many times an interval's lower end its upper end may be before a ratio of arms
// counts as untold. A rule of thumb, without a source: no two curricula that anybody would
// compare differ a thousandfold.
const vast = 1000

// cautionVast says of ratios whose interval holds a thousandfold and more that the attempts do
// not tell them.
func (w *comparing) cautionVast() {
	for _, cs := range [][]compare.Contrast{w.c.Contrasts, w.c.Sensitivity} {
		for k, c := range cs {
			if c.Ratio && c.Known() && c.Caution == "" && !(c.Upper <= vast*c.Lower) {
				cs[k].Caution = "the interval spans a thousandfold or more: these attempts do not tell how the arms differ in it"
			}
		}
	}
}
