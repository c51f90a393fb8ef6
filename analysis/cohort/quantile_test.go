package cohort

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/models"
)

// A draw far out, with a weight of one in a thousand, moves a quantile as far as its weight does and no
// further: the others, alike on the logarithms, hold a share q/0.999 up to it. One noise for all, and
// as many as there are models in a blend.
func TestAFarDrawDoesNotBlurAQuantile(t *testing.T) {
	one, other := newFooting(models.Lognormal{}), newFooting(models.Lognormal{})
	for name, on := range map[string][3]*footing{"one noise": {one, one, one}, "of a blend": {one, other, one}} {
		for _, far := range []float64{20, 460} {
			s := stand{mu: []float64{4, 4, far}, sd: []float64{0.2, 0.2, 0.3}}
			for k, w := range []float64{0.5, 0.499, 0.001} {
				s.draws = append(s.draws, Draw{Weight: w, on: on[k]})
			}
			for k, got := range s.quantiles([]float64{0.05, 0.5, 0.95, 0.975}) {
				q := []float64{0.05, 0.5, 0.95, 0.975}[k]
				want := math.Exp(4 + 0.2*distuv.UnitNormal.Quantile(q/0.999))
				if math.Abs(got/want-1) > 1e-4 {
					t.Errorf("%s, a draw at %g: quantile %g is %g, want %g", name, far, q, got, want)
				}
			}
		}
	}
}
