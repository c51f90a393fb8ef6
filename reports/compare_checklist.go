package reports

import (
	"fmt"
	"strings"
)

// trialChecklist follows the items of the reporting extension for trials of simulation in
// training (Cheng et al., 2016, Advances in Simulation 1, 25) to the CONSORT statement, as
// far as a comparison of arms is concerned; wording ours. What only the authors know stays
// blank.
func trialChecklist(d *Comparison) []checklistItem {
	items := []checklistItem{
		{Topic: "title and abstract", Asks: "says that training by simulation was compared"},
		{Topic: "background", Asks: "why these curricula were compared, and whether simulation is studied or used"},
		{Topic: "design", Asks: "parallel or crossover, how many arms, in what proportion", Text: fmt.Sprintf("%d arms, every pair compared; trainees by arm: %s; the design: ", len(d.Followed), d.traineesByArm())},
		{Topic: "trainees", Asks: "who could take part, their experience before"},
		{Topic: "training", Asks: "what each arm practised: simulator, orientation, timing, feedback, group or alone", Text: "attempts by arm (lowest, middle, highest last attempt): " + d.attemptsByArm() + "; the rest: "},
		{Topic: "outcomes", Asks: "measures, when they were taken, evidence that they are valid", Text: "compared: " + strings.Join(d.measures(), ", ") + "; validity: "},
		{Topic: "sample size", Asks: "how the number of trainees was chosen"},
		{Topic: "allocation", Asks: "how trainees came to their arm, and who knew"},
		{Topic: "blinding", Asks: "who did not know the arm: trainees, teachers, examiners"},
		{Topic: "analysis", Asks: "unit of analysis, repeated measures, missing data, adjustments", Text: fmt.Sprintf("the trainee is the unit; repeated attempts by the %s (%s family); p adjusted by Holm over %d tests; tipping points for those not seen to the end; tyro %s, seed %d, generator %s", d.Basis, d.Family, d.Tests(), d.Version, d.Seed, d.Generator)},
		{Topic: "flow", Asks: "trainees assigned, who stopped and why", Text: d.flow() + "; reasons: "},
		{Topic: "baseline", Asks: "a table of what trainees were like before, by arm"},
		{Topic: "estimates", Asks: "every effect with its interval", Text: fmt.Sprintf("%d contrasts with intervals, in the table of contrasts", len(d.Contrasts))},
		{Topic: "harms", Asks: "unwanted effects, such as errors that come with speed", Text: strings.Join(d.Trades, "; ")},
		{Topic: "limits", Asks: "sources of bias, limits of simulation"},
		{Topic: "generalisation", Asks: "what follows for practice with patients"},
		{Topic: "registration, protocol, funding, interests", Asks: "where they can be found"},
		{Topic: "data", Asks: "where data and results can be had", Text: fmt.Sprintf("machine-readable results with seed %d; data SHA-256 %s", d.Seed, d.DataSHA256)},
	}
	for i := range items {
		items[i].Number = i + 1
	}
	return items
}

func (d *Comparison) traineesByArm() string {
	var parts []string
	for _, f := range d.Followed {
		parts = append(parts, fmt.Sprintf("%s %d", f.Arm, f.Trainees))
	}
	return strings.Join(parts, ", ")
}

func (d *Comparison) attemptsByArm() string {
	var parts []string
	for _, f := range d.Followed {
		parts = append(parts, fmt.Sprintf("%s %s, %s, %s", f.Arm, ThreeDigits(float64(f.First)), ThreeDigits(float64(f.Median)), ThreeDigits(float64(f.Last))))
	}
	return strings.Join(parts, "; ")
}

// measures lists each measure once.
func (d *Comparison) measures() []string {
	var out []string
	seen := map[string]bool{}
	for _, c := range d.Contrasts {
		if !seen[c.Measure] {
			seen[c.Measure] = true
			out = append(out, c.Measure)
		}
	}
	return out
}

func (d *Comparison) flow() string {
	var parts []string
	for _, f := range d.Followed {
		parts = append(parts, fmt.Sprintf("%s: %d trainees, %d without attempts, %d last seen before attempt %g (%d of them with the rule met)", f.Arm, f.Trainees, f.Unseen, f.StoppedMet+f.StoppedNotMet, d.Attempt, f.StoppedMet))
	}
	return strings.Join(parts, "; ")
}

// ChecklistTable says which items the data fill, and which are the authors'.
func (d *Comparison) ChecklistTable() Table {
	rows := d.Checklist
	return Table{Name: "trial-checklist", Title: "What a paper on this comparison should say", Columns: []Column{
		Counts("number", "no.", rows, func(c checklistItem) int { return c.Number }),
		Words("topic", "topic", rows, func(c checklistItem) string { return c.Topic }),
		Words("asks", "asks", rows, func(c checklistItem) string { return c.Asks }),
		Words("text", "from the data", rows, func(c checklistItem) string {
			if c.Text == "" {
				return "for the authors"
			}
			return c.Text
		}),
	}}
}
