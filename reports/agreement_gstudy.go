package reports

import (
	"tyro/analysis/agreement"
	"tyro/analysis/study"
)

// gStudy is a generalizability study with its decision table.
type gStudy struct {
	Design     string      `json:"design"`
	Object     string      `json:"object"`
	Facets     []string    `json:"facets"` // in the order of the decisions' numbers
	Method     string      `json:"method"`
	Balanced   bool        `json:"balanced"`
	Components []component `json:"components"`
	Decisions  []decision  `json:"decision_table"`
	Target     float64     `json:"target"`
	Cheapest   *decision   `json:"cheapest"`          // absolute coefficient of at least the target
	Relative   *decision   `json:"cheapest_relative"` // relative coefficient of at least the target
	Costs      *costRates  `json:"costs"`
	Notes      []string    `json:"notes"`
}

// costRates are the prices behind the decision table.
type costRates struct {
	Performance float64 `json:"performance"`
	Rating      float64 `json:"rating"`
}

// decision is one way to measure and what it gives.
type decision struct {
	Numbers  []float64 `json:"numbers"`
	G        Number    `json:"g"`
	GLower   Number    `json:"g_lower"`
	GUpper   Number    `json:"g_upper"`
	Phi      Number    `json:"phi"`
	PhiLower Number    `json:"phi_lower"`
	PhiUpper Number    `json:"phi_upper"`
	SEMRel   Number    `json:"sem_relative"`
	SEMAbs   Number    `json:"sem_absolute"`
	SDCRel   Number    `json:"smallest_detectable_change_relative"`
	SDCAbs   Number    `json:"smallest_detectable_change_absolute"`
	Cost     Number    `json:"cost"`
}

func newDecision(d agreement.Decision) decision {
	return decision{
		Numbers: d.Numbers, G: Number(d.G), GLower: Number(d.GLower), GUpper: Number(d.GUpper), Phi: Number(d.Phi), PhiLower: Number(d.PhiLower), PhiUpper: Number(d.PhiUpper),
		SEMRel: Number(d.SEMRelative), SEMAbs: Number(d.SEMAbsolute), SDCRel: Number(d.ChangeRelative), SDCAbs: Number(d.ChangeAbsolute), Cost: Number(d.Cost),
	}
}

func newGStudy(m study.MeasuringStudy) *gStudy {
	g := &gStudy{
		Design: m.Design, Object: m.Object, Facets: m.Facets, Method: m.Method, Balanced: m.Balanced, Components: components(m.Components),
		Target: m.Table.Target, Notes: append([]string{}, m.Notes...),
	}
	if c := m.Costs; c != nil {
		g.Costs = &costRates{Performance: c.Performance, Rating: c.Rating}
	}
	for _, d := range m.Table.Rows {
		g.Decisions = append(g.Decisions, newDecision(d))
	}
	pick := func(d *agreement.Decision) *decision {
		if d == nil {
			return nil
		}
		out := newDecision(*d)
		return &out
	}
	g.Cheapest, g.Relative = pick(m.Table.Cheapest), pick(m.Table.Relative)
	return g
}
