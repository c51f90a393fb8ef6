package reports

import (
	"fmt"

	"tyro/analysis/study"
)

// Bounds is the answer of monitor --bound.
type Bounds struct {
	Header
	Level   float64     `json:"level"`
	Bounds  []BoundLine `json:"bounds"`
	Price   *PriceLine  `json:"price"` // null without failure rates
	Caution string      `json:"caution"`
}

// A BoundLine is what one trainee's passes say about the chance to pass.
type BoundLine struct {
	Trainee      string `json:"trainee"`
	Arm          string `json:"arm"`
	Attempts     int    `json:"attempts"`
	Passes       int    `json:"passes"`
	Lower        Number `json:"lower"` // however often one looks
	Upper        Number `json:"upper"`
	OneLookLower Number `json:"one_look_lower"`
	OneLookUpper Number `json:"one_look_upper"`
}

// A PriceLine is what looking at any time costs in attempts; 0 for not within 5,000.
type PriceLine struct {
	Chance       float64 `json:"chance"`
	Show         float64 `json:"show"`
	OneLook      int     `json:"one_look_attempts"`
	HoweverOften int     `json:"however_often_attempts"`
}

// NewBounds words the answer.
func NewBounds(s *study.Study, a *study.Bounds) *Bounds {
	d := &Bounds{Header: headerOf("monitor", s), Level: a.Level, Bounds: []BoundLine{}, Caution: Caution}
	for _, b := range a.Each {
		d.Bounds = append(d.Bounds, BoundLine{b.Trainee, b.Arm, b.Attempts, b.Passes, Number(b.Anytime.Lower), Number(b.Anytime.Upper), Number(b.OneLook.Lower), Number(b.OneLook.Upper)})
	}
	if a.Stated {
		d.Price = &PriceLine{a.Chance, a.Show, a.OneLook, a.HoweverOftenLook}
	}
	return d
}

// Tables are a row a trainee.
func (d *Bounds) Tables() []Table {
	rows := d.Bounds
	t := Table{Name: "bounds", Title: fmt.Sprintf("The chance to pass, averaged over the attempts so far, at %g %%", 100*d.Level), Columns: []Column{
		Words("trainee", "trainee", rows, func(b BoundLine) string { return b.Trainee }),
		Words("arm", "arm", rows, func(b BoundLine) string { return ArmName(b.Arm) }),
		Counts("attempts", "attempts", rows, func(b BoundLine) int { return b.Attempts }),
		Counts("passes", "passes", rows, func(b BoundLine) int { return b.Passes }),
		Numbers("lower", "at any time from", rows, func(b BoundLine) Number { return b.Lower }, ThreeDigits),
		Numbers("upper", "to", rows, func(b BoundLine) Number { return b.Upper }, ThreeDigits),
		Numbers("one_look_lower", "one look from", rows, func(b BoundLine) Number { return b.OneLookLower }, ThreeDigits),
		Numbers("one_look_upper", "to ", rows, func(b BoundLine) Number { return b.OneLookUpper }, ThreeDigits),
	}}
	t.Notes = append(t.Notes,
		"At any time: holds at every attempt at once, so that one may look as often as one likes and stop at will. One look: holds at an attempt chosen beforehand, and is missed more often when looked at again and again.",
		"The bounds are of the mean chance over all attempts so far. Where the chance only rises, the lower bound holds for the chance now.")
	if p := d.Price; p != nil {
		words := func(n int) string {
			if n == 0 {
				return "more than 5000"
			}
			return fmt.Sprint(n)
		}
		t.Notes = append(t.Notes, fmt.Sprintf("The price of looking at any time: to show a chance above %g, a trainee whose chance is %g throughout needs about %s attempts, and %s with one look at an attempt chosen beforehand.", p.Show, p.Chance, words(p.HoweverOften), words(p.OneLook)))
	}
	t.Notes = append(t.Notes, d.Caution)
	return []Table{t}
}
