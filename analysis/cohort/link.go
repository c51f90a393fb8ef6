package cohort

import (
	"math"

	"tyro/models"
)

// A link takes a curve value to the scale on which noise is added to it.
type link int

const (
	plain      link = iota // the value itself
	logarithm              // log m
	reciprocal             // −1/m
)

// linkOf is the link of a noise, what the noise is on the link's scale, and whether that is normal.
func linkOf(n models.Noise) (l link, added models.Noise, gauss bool) {
	on, added := models.AddedOn(n)
	_, gauss = models.NormalOn(n)
	return map[models.AdditiveScale]link{models.AddedAsIs: plain, models.AddedLog: logarithm, models.AddedSpeed: reciprocal}[on], added, gauss
}

func (l link) to(m float64) float64 {
	switch l {
	case logarithm:
		return models.Log(m)
	case reciprocal:
		return -1 / m
	}
	return m
}

// from undoes to; +Inf where a speed is 0 or less.
func (l link) from(x float64) float64 {
	switch l {
	case logarithm:
		return models.Exp(x)
	case reciprocal:
		if x < 0 {
			return -1 / x
		}
		return math.Inf(1)
	}
	return x
}

// slopes are the first derivative of the link at m, and the second and third
// over its square and cube.
func (l link) slopes(m float64) (first, second, third float64) {
	switch l {
	case logarithm:
		return 1 / m, -1, 2
	case reciprocal:
		return 1 / (m * m), -2 * m, 6 * m * m
	}
	return 1, 0, 0
}
