package reports

import (
	"fmt"
	"strings"
)

// checklistItem is one thing a paper on reliability and agreement should say:
// filled where the data say it, blank where only the authors know.
type checklistItem struct {
	Number int    `json:"number"`
	Topic  string `json:"topic"`
	Asks   string `json:"asks"`
	Text   string `json:"text"` // blank: for the authors to write
}

// checklist follows the fifteen items of the Guidelines for Reporting
// Reliability and Agreement Studies (GRRAS): Kottner et al. (2011), Journal of
// Clinical Epidemiology 64, 96-106; wording ours.
func checklist(d *Agreement, replicates int) []checklistItem {
	return []checklistItem{
		{Number: 1, Topic: "title and abstract", Asks: "says that reliability or agreement was studied"},
		{Number: 2, Topic: "instrument", Asks: "names and describes the rating instrument"},
		{Number: 3, Topic: "subjects", Asks: "says which population the performances come from"},
		{Number: 4, Topic: "raters", Asks: "says which population the raters come from"},
		{Number: 5, Topic: "background", Asks: "says what is known already and why this was studied"},
		{Number: 6, Topic: "sample size", Asks: "how numbers of raters, performances and repeats were chosen", Text: filledCounts(d)},
		{Number: 7, Topic: "sampling", Asks: "how performances and raters were chosen"},
		{Number: 8, Topic: "rating process", Asks: "time between ratings, what raters knew, blinding"},
		{Number: 9, Topic: "independence", Asks: "whether ratings were made independently"},
		{Number: 10, Topic: "analysis", Asks: "the statistical methods", Text: filledMethods(d, replicates)},
		{Number: 11, Topic: "actual numbers", Asks: "raters, performances and ratings that were analysed", Text: filledActual(d)},
		{Number: 12, Topic: "sample", Asks: "characteristics of raters and performances"},
		{Number: 13, Topic: "estimates", Asks: "reliability and agreement with their uncertainty", Text: filledEstimates(d)},
		{Number: 14, Topic: "practical relevance", Asks: "what the results mean in practice"},
		{Number: 15, Topic: "detailed results", Asks: "where full results and data can be had", Text: fmt.Sprintf("machine-readable results with seed %d; data SHA-256 %s", d.Seed, d.DataSHA256)},
	}
}

func filledCounts(d *Agreement) string {
	if len(d.Items) == 0 {
		return ""
	}
	return fmt.Sprintf("achieved: %d subjects, %d raters; the reasons for these numbers: ", d.Items[0].NSubjects, d.Items[0].NRaters)
}

func filledActual(d *Agreement) string {
	var parts []string
	for _, it := range d.Items {
		parts = append(parts, fmt.Sprintf("%s: %d subjects, %d raters, %d of %d ratings missing", it.Item, it.NSubjects, it.NRaters, it.Missing, it.NSubjects*it.NRaters))
	}
	return strings.Join(parts, "; ")
}

func filledMethods(d *Agreement, replicates int) string {
	var names, methods []string
	seen := map[string]bool{}
	for _, it := range d.Items {
		for _, c := range it.Coefficients {
			if !seen[c.Name] {
				seen[c.Name] = true
				names = append(names, c.Name)
			}
			if m := "method " + c.IntervalMethod; c.IntervalMethod != "" && !seen[m] {
				seen[m] = true
				methods = append(methods, c.IntervalMethod)
			}
		}
	}
	return fmt.Sprintf("%s; intervals of %g %%: %s; %d bootstrap replicates, generator %s, seed %d; tyro %s", strings.Join(names, ", "), 100*d.level, strings.Join(methods, "; "), replicates, d.Generator, d.Seed, d.Version)
}

// filledEstimates gives the coefficients most papers print.
func filledEstimates(d *Agreement) string {
	var parts []string
	for _, it := range d.Items {
		for _, c := range it.Coefficients {
			switch c.Name {
			case "percent-agreement", "cohen-kappa", "fleiss-kappa", "gwet-ac1", "icc(a,1)", "icc(c,1)":
				if c.Estimate != c.Estimate {
					parts = append(parts, fmt.Sprintf("%s, %s: %s", it.Item, c.Name, c.Note))
					continue
				}
				parts = append(parts, fmt.Sprintf("%s, %s %s (%s to %s)", it.Item, c.Name, threePlaces(float64(c.Estimate)), threePlaces(float64(c.Lower)), threePlaces(float64(c.Upper))))
			}
		}
	}
	return strings.Join(parts, "; ")
}
