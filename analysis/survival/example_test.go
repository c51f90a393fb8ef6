package survival_test

import (
	"fmt"

	"tyro/analysis/survival"
)

// Of five trainees three met the rule, at attempts 4, 6 and 9; two were last
// seen without at 6 and 10. At 4 the estimate falls to 4/5, at 6 to 4/5 · 3/4 =
// 3/5, at 9, with two at risk, to 3/5 · 1/2 = 3/10.
func ExampleKaplanMeier() {
	c := survival.KaplanMeier([]survival.Observation{
		{Time: 4, Event: true}, {Time: 6, Event: true}, {Time: 6}, {Time: 9, Event: true}, {Time: 10},
	}, survival.LogLog, 0.95)
	for _, s := range c.Steps {
		fmt.Printf("attempt %g: at risk %d, met %d, survival %.2f\n", s.Time, s.AtRisk, s.Events, s.Survival)
	}
	fmt.Println("median:", c.Quantile(0.5).Estimate)
	fmt.Println("90 %:", c.Quantile(0.9).Estimate)
	// Output:
	// attempt 4: at risk 5, met 1, survival 0.80
	// attempt 6: at risk 4, met 1, survival 0.60
	// attempt 9: at risk 2, met 1, survival 0.30
	// attempt 10: at risk 1, met 0, survival 0.30
	// median: 9
	// 90 %: +Inf
}
