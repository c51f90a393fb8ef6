package fit

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/stat/combin"

	"tyro/analysis"
	"tyro/models"
)

// CodeParted is the warning of a flat curve that stands in the place of one too steep to tell.
const CodeParted = "passes-parted"

// cautionParted tells a flat curve chosen for passes and fails that do not mix: where every
// fail came before every pass, or the other way about, the steeper a curve the better it fits,
// so none with a slope is found and the flat one is left (Albert and Anderson, 1984,
// Biometrika 71, 1-10, on complete separation).
func (f *Fit) cautionParted(s Series, specs []Spec) {
	if len(specs) < 2 || !models.IsPassFail(f.Noise) || f.Curve.Family.Name() != models.Constant().Name() || len(s.Response) == 0 {
		return
	}
	at, rising, parted := s.parts()
	if !parted {
		return
	}
	before, after := "fail", "pass"
	if !rising {
		before, after = after, before
	}
	f.warn(CodeParted, fmt.Sprintf("every %s came before every %s, which began with attempt %g: how steep such a curve is cannot be told, so a flat one stands in its place, which is no projection of attempts to come", before, after, s.Attempt[at]))
}

// rarely is the chance, were passes and fails dealt out at random, below which a step between
// them is taken for one.
const rarely = 0.05

// Parted reports whether the fit is a flat curve in the place of a step from fail to pass, or
// from pass to fail (rising false), that chance seldom makes, and between which two attempts
// it stands. Of n attempts with k passes one order in n over k has all passes last.
func (f Fit) Parted(s Series) (before, after float64, rising, ok bool) {
	if !slices.ContainsFunc(f.Warnings, func(w analysis.Warning) bool { return w.Code == CodeParted }) {
		return 0, 0, false, false
	}
	at, rising, ok := s.parts()
	if !ok || rarely*combin.GeneralizedBinomial(float64(len(s.Response)), float64(at)) < 1-1e-9 {
		return 0, 0, false, false
	}
	return s.Attempt[at-1], s.Attempt[at], rising, true
}

// parts is the position of the first attempt that is like all that follow it and unlike all
// that came before; false where passes and fails mix, or are all the same.
func (s Series) parts() (at int, rising, ok bool) {
	turns := 0
	for i := 1; i < len(s.Response); i++ {
		if s.Response[i] != s.Response[i-1] {
			turns, at = turns+1, i
		}
	}
	return at, len(s.Response) > 0 && s.Response[0] == 0, turns == 1
}
