package reports

import (
	"fmt"
	"slices"

	"tyro/analysis/study"
)

// Allocation tells of an allocation list what may be known to those who recruit: nothing
// from which an arm could be told.
type Allocation struct {
	Header
	Method string            `json:"method"`
	Arms   []string          `json:"arms"`
	Slots  int               `json:"slots"`
	Strata []AllocatedToHere `json:"strata"`
}

// AllocatedToHere counts the slots of a stratum, or the trainees dealt out.
type AllocatedToHere struct {
	Stratum string `json:"stratum"`
	Slots   int    `json:"slots"`
}

// NewAllocation describes a list. The seed stands in the key alone.
func NewAllocation(s *study.Study, method string, arms []string, strata []string) *Allocation {
	d := &Allocation{Header: headerOf("plan", s), Method: method, Arms: arms, Slots: len(strata), Strata: []AllocatedToHere{}}
	d.Seed, d.CommandLine, d.Flags = 0, "", map[string]any{}
	for _, name := range strata {
		k := slices.IndexFunc(d.Strata, func(x AllocatedToHere) bool { return x.Stratum == name })
		if k < 0 {
			k = len(d.Strata)
			d.Strata = append(d.Strata, AllocatedToHere{Stratum: name})
		}
		d.Strata[k].Slots++
	}
	return d
}

// Tables counts the slots.
func (d *Allocation) Tables() []Table {
	t := Table{Name: "allocation", Title: fmt.Sprintf("Allocation list: %d places by %s", d.Slots, d.Method), Columns: []Column{
		Words("stratum", "stratum", d.Strata, func(s AllocatedToHere) string { return s.Stratum }),
		Counts("slots", "places", d.Strata, func(s AllocatedToHere) int { return s.Slots }),
	}, Notes: []string{
		"The list has a code for every place and no arm. The arms stand in allocation-key.csv and, one place each, in the folder sealed; only their owner can read these. Give them, with the seed, to somebody who recruits nobody, and open a place only once its trainee is entered.",
	}}
	t.HideBlank("stratum")
	return []Table{t}
}
