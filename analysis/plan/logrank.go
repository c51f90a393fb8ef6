package plan

import (
	"context"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"tyro/analysis/compare"
	"tyro/analysis/study"
	"tyro/analysis/survival"
)

// A LogRank compares how fast two arms come to an event, such as meeting a rule, by the
// log-rank test. Hazards are constant and proportional, and everybody is followed for the
// same time.
type LogRank struct {
	HazardRatio float64 `json:"hazard_ratio"` // of the other arm over the reference; above 1: sooner
	Met         float64 `json:"met"`          // share of the reference arm that has the event by the end
}

type logRank struct {
	LogRank
	d Design
}

func (l *LogRank) ready(d Design) (question, error) {
	if !(l.HazardRatio > 0) || math.IsInf(l.HazardRatio, 0) || !(l.Met > 0 && l.Met < 1) {
		return nil, refuse("a hazard ratio of %v, and a share of %v with the event: expected a ratio above 0 and a share between 0 and 1", l.HazardRatio, l.Met)
	}
	return logRank{*l, d}, nil
}

// rate is the reference arm's hazard when everybody is followed for a time of 1.
func (l logRank) rate() float64 { return -math.Log1p(-l.Met) }

// study gives the p of the log-rank test, and beside it the hazard ratio with its interval
// by partial likelihood, as compare does.
func (l logRank) study(_ context.Context, r *rand.Rand) (Outcome, error) {
	draw := func(n int, rate float64) (obs []survival.Observation) {
		for range n {
			t := r.ExpFloat64() / rate
			obs = append(obs, survival.Observation{Time: math.Min(t, 1), Event: t < 1})
		}
		return obs
	}
	ref := draw(l.d.Trainees, l.rate())
	arm := draw(l.d.Other(), l.rate()*l.HazardRatio)
	t := survival.LogRank([][]survival.Observation{ref, arm})
	if t.Err != nil {
		return Outcome{}, t.Err
	}
	if math.IsNaN(t.P) {
		return failed(StageContrast, l.d.People()), nil
	}
	c := compare.HazardRatio(study.HazardMeasure, "reference", "arm", ref, arm, l.d.Level)
	return numbers(c.Estimate, c.Lower, c.Upper, t.P, true, l.d.People()), nil
}

func (l logRank) truth() float64 { return l.HazardRatio }

// events is the number of events expected.
func (l logRank) events() float64 {
	return float64(l.d.Trainees)*l.Met - float64(l.d.Other())*math.Expm1(-l.rate()*l.HazardRatio)
}

// formula is Schoenfeld's (1981, Biometrika 68, 316-319): the log hazard ratio over its
// standard error 1/√(events·shares of the arms).
func (l logRank) formula() *Formula {
	return &Formula{
		Power:  normalPower(math.Abs(math.Log(l.HazardRatio))*math.Sqrt(l.events()*l.shares()), l.d.Level),
		Width:  math.NaN(),
		Source: "Schoenfeld, 1981",
	}
}

// shares is the product of the arms' shares of the trainees.
func (l logRank) shares() float64 {
	n, m := float64(l.d.Trainees), float64(l.d.Other())
	return n * m / (n + m) / (n + m)
}

// Freedman is the power of a log-rank test by Freedman (1982, Statistics in Medicine 1,
// 121-129), which takes the ratio of those at risk to stay that of the arms: with m
// trainees of the other arm for each of the reference arm and a hazard ratio θ, the mean
// of the test is √events·√m·|θ − 1|/(1 + mθ).
func Freedman(d Design) float64 {
	q, err := d.ready()
	l, ok := q.(logRank)
	if err != nil || !ok {
		return math.NaN()
	}
	m := float64(l.d.Other()) / float64(l.d.Trainees)
	return normalPower(math.Sqrt(l.events()*m)*math.Abs(l.HazardRatio-1)/(1+m*l.HazardRatio), l.d.Level)
}

// normalPower is the chance that a normal number with this mean lies beyond the limits on
// either side.
func normalPower(mean, level float64) float64 {
	return distuv.UnitNormal.CDF(mean-zOf(level)) + distuv.UnitNormal.CDF(-mean-zOf(level))
}

func zOf(level float64) float64 { return distuv.UnitNormal.Quantile((1 + level) / 2) }
