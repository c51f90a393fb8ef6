package proficiency

import (
	"bytes"
	"encoding/json"
	"fmt"

	"tyro/analysis"
	"tyro/analysis/cohort"
	"tyro/analysis/practice"
)

// Chances are what [Pool] learnt beside the measure, in a form that a file can hold: the
// chances to keep within error limits and not to fail hard. They name no trainee and hold
// no attempt.
type Chances struct {
	Clean KeptChance `json:"within_error_limits"`
	Sound KeptChance `json:"no_hard_fail"`
}

// A KeptChance is the chance of a yes: certain where Of is 0, a fit where there is one, and
// else the share Yes of Of.
type KeptChance struct {
	Yes      float64            `json:"yes"`
	Of       float64            `json:"of"`
	Fit      json.RawMessage    `json:"fit,omitempty"` // see [cohort.Cohort.Save]
	Warnings []analysis.Warning `json:"warnings,omitempty"`
}

// Chances are those that the pool has learnt.
func (p *Pooled) Chances() (Chances, error) {
	clean, err := p.clean.kept()
	if err != nil {
		return Chances{}, err
	}
	sound, err := p.sound.kept()
	return Chances{clean, sound}, err
}

func (c *pooledChance) kept() (KeptChance, error) {
	k := KeptChance{Yes: c.yes, Of: c.n, Warnings: c.warnings}
	if c.fit == nil {
		return k, nil
	}
	var b bytes.Buffer
	err := c.fit.Save(&b)
	k.Fit = b.Bytes()
	return k, err
}

// PoolKept is [Pool] with chances that were learnt before: nothing is fitted.
func PoolKept(measure Source, sessions bool, kept Chances, q Question) (*Pooled, error) {
	p, err := newPooled(measure, sessions, q)
	if err != nil {
		return nil, err
	}
	if p.clean, err = kept.Clean.pooled(); err != nil {
		return nil, fmt.Errorf("the chance to keep within error limits: %w", err)
	}
	if p.sound, err = kept.Sound.pooled(); err != nil {
		return nil, fmt.Errorf("the chance not to fail hard: %w", err)
	}
	return p, nil
}

func (k KeptChance) pooled() (pooledChance, error) {
	c := pooledChance{yes: k.Yes, n: k.Of, warnings: k.Warnings}
	if !(k.Of >= 0 && 0 <= k.Yes && k.Yes <= k.Of) {
		return c, fmt.Errorf("%v of %v attempts cannot be", k.Yes, k.Of)
	}
	if len(k.Fit) == 0 {
		return c, nil
	}
	var err error
	if c.fit, err = cohort.Load(bytes.NewReader(k.Fit)); err == nil {
		c.cohort = c.fit.Keep()
	}
	return c, err
}

// Unforeseen counts what trainees' attempts show that the pool takes to be impossible: errors
// beyond the limits, and hard fails, where none had been seen when it learnt.
func (p *Pooled) Unforeseen(trainees []practice.Trainee) (unclean, hardFails int) {
	for _, t := range trainees {
		if p.clean.n == 0 {
			unclean += noes(cleanSeries(t))
		}
		if p.sound.n == 0 {
			hardFails += noes(soundSeries(t))
		}
	}
	return unclean, hardFails
}

func noes(t cohort.Trainee) int {
	n := 0
	for _, y := range t.Response {
		if y == 0 {
			n++
		}
	}
	return n
}
