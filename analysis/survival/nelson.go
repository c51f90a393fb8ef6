package survival

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis"
)

// A HazardStep is the cumulative hazard from one distinct event time on.
type HazardStep struct {
	Time                     float64
	AtRisk, Events           int
	Hazard, SE, Lower, Upper float64
}

// NelsonAalen is the cumulative hazard Σ d/n at the times with events, with
// the Poisson-type standard error √Σ d/n² and limits symmetric on the log
// scale. Klein and Moeschberger (2003), section 4.2 and practical note to it. A
// level 0 means 0.95; a level outside of 0 to 1 or a time that is no number give no
// steps, as [KaplanMeier]'s Err says.
func NelsonAalen(obs []Observation, level float64) []HazardStep {
	level, err := analysis.Level(level)
	if err != nil {
		return nil
	}
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	hazard, variance := 0.0, 0.0
	var out []HazardStep
	for _, st := range KaplanMeier(obs, Linear, level).Steps {
		if st.Events == 0 {
			continue
		}
		n, d := float64(st.AtRisk), float64(st.Events)
		hazard += d / n
		variance += d / (n * n)
		se := math.Sqrt(variance)
		out = append(out, HazardStep{
			Time: st.Time, AtRisk: st.AtRisk, Events: st.Events, Hazard: hazard, SE: se,
			Lower: hazard * math.Exp(-z*se/hazard), Upper: hazard * math.Exp(z*se/hazard),
		})
	}
	return out
}
