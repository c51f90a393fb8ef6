package reports

import (
	"fmt"

	"tyro/models"
)

// A Forecast is how a curve fitted to the first attempts predicted the rest.
type Forecast struct {
	Family     string `json:"family"`
	Seen       int    `json:"seen"`
	Ahead      int    `json:"ahead"`
	RMSE       Number `json:"rmse"`
	Bias       Number `json:"bias"`
	InInterval Number `json:"share_in_interval"`
}

// A RatioTest is a likelihood ratio test of a curve against a smaller one.
type RatioTest struct {
	Larger     string `json:"larger"`
	Smaller    string `json:"smaller"`
	Deviance   Number `json:"deviance"`
	DF         int    `json:"df"`
	PChi       Number `json:"p_chi_square"`
	P          Number `json:"p"`
	Replicates int    `json:"replicates"`
}

// compareNotes says in words what the forecasts and the test found.
func (c Curve) compareNotes() []string {
	var notes []string
	scale := ""
	if addedOn(c.Noise) == models.AddedLog {
		scale = " on the scale of natural logarithms"
	}
	for _, f := range c.Forecast {
		notes = append(notes, fmt.Sprintf("From the first %d attempts the %s curve predicts the other %d with a root mean square error%s of %s (mean error %s); %s of them lie in its next-attempt band.",
			f.Seen, f.Family, f.Ahead, scale, Significant(float64(f.RMSE), 3), Significant(float64(f.Bias), 2), Percent(float64(f.InInterval))))
	}
	if t := c.RatioTest; t != nil {
		notes = append(notes, fmt.Sprintf("%s against %s: likelihood ratio test, χ²(%d) = %s, p %s from %d simulated series (p %s by the χ² distribution).",
			t.Larger, t.Smaller, t.DF, Significant(float64(t.Deviance), 4), pText(float64(t.P)), t.Replicates, pText(float64(t.PChi))))
	}
	return notes
}
