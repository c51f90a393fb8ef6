package fit_test

import (
	"fmt"

	"tyro/analysis/fit"
	"tyro/models"
)

// With the curve plateau + gain/n least squares is the straight line on x = 1/n. Here
// x is 1, 0.75, 0.5, 0.25 and the responses 40 + 100x plus residuals 1, −1, −1, 1,
// which are orthogonal to both terms: they leave plateau 40 and gain 100, and a
// residual variance of 4/2 = 2. The level at attempt 10 (x = 0.1) is 50, with
// standard error √(2·(1/4 + 0.525²/0.3125)) = 1.5047; Student's t with 2 degrees of
// freedom is 4.3027, so that the interval is 50 ± 6.47. Where the curve is a
// straight line the profile's interval is this one.
func ExampleFit_ProfileOf() {
	s := fit.Series{Attempt: []float64{1, 4. / 3, 2, 4}, Response: []float64{141, 114, 89, 66}}
	spec := fit.Spec{Family: models.Inverse(), Noise: models.Normal{}}
	f, err := fit.One(s, spec)
	if err != nil {
		fmt.Println(err)
		return
	}
	level, err := f.ProfileOf(s, spec, fit.LevelAt(10))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("plateau %.1f, gain %.1f\n", f.Curve.Plateau, f.Curve.Gain)
	fmt.Printf("level at attempt 10: %.1f (%.2f to %.2f)\n", level.Value, level.Lower, level.Upper)
	// Output:
	// plateau 40.0, gain 100.0
	// level at attempt 10: 50.0 (43.53 to 56.47)
}

// On the curve 40 + 140·n^(−1/2) the attempts 1, 4, 9, 16, 25 take 180, 110, 86⅔, 75
// and 68 s: a fit finds the curve again.
func ExampleOne() {
	s := fit.Series{Attempt: []float64{1, 4, 9, 16, 25}, Response: []float64{180, 110, 40 + 140./3, 75, 68}}
	f, err := fit.One(s, fit.Spec{Family: models.Power(), Noise: models.Normal{}})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range f.Params {
		fmt.Printf("%s %.3f\n", p.Name, p.Value)
	}
	_, err = fit.One(s, fit.Spec{Family: models.Power()})
	fmt.Println(err)
	// Output:
	// plateau 40.000
	// gain 140.000
	// rate 0.500
	// cannot fit: a spec needs a noise, such as models.Normal{}
}
