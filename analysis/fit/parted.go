package fit

import (
	"fmt"

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
	turns, at := 0, 0
	for i := 1; i < len(s.Response); i++ {
		if s.Response[i] != s.Response[i-1] {
			turns, at = turns+1, i
		}
	}
	if turns != 1 {
		return
	}
	before, after := "fail", "pass"
	if s.Response[0] > 0 {
		before, after = after, before
	}
	f.warn(CodeParted, fmt.Sprintf("every %s came before every %s, which began with attempt %g: how steep such a curve is cannot be told, so a flat one stands in its place, and what it says of attempts to come is no projection", before, after, s.Attempt[at]))
}
