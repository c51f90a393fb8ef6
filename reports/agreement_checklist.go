package reports

import (
	"fmt"
	"strings"
)

// A ChecklistItem is one thing a paper on reliability and agreement should say:
// filled where the data say it, blank where only the authors know.
type ChecklistItem struct {
	Number int    `json:"number"`
	Topic  string `json:"topic"`
	Asks   string `json:"asks"`
	Text   string `json:"text"` // blank: for the authors to write
}

// checklist follows the fifteen items of the Guidelines for Reporting
// Reliability and Agreement Studies (GRRAS): Kottner et al. (2011), Journal of
// Clinical Epidemiology 64, 96-106; wording ours.
func checklist(in *Input, d *Agreement) []ChecklistItem {
	return []ChecklistItem{
		{1, "title and abstract", "says that reliability or agreement was studied", ""},
		{2, "instrument", "names and describes the rating instrument", ""},
		{3, "subjects", "says which population the performances come from", ""},
		{4, "raters", "says which population the raters come from", ""},
		{5, "background", "says what is known already and why this was studied", ""},
		{6, "sample size", "how numbers of raters, performances and repeats were chosen", filledCounts(d)},
		{7, "sampling", "how performances and raters were chosen", ""},
		{8, "rating process", "time between ratings, what raters knew, blinding", ""},
		{9, "independence", "whether ratings were made independently", ""},
		{10, "analysis", "the statistical methods", filledMethods(in, d)},
		{11, "actual numbers", "raters, performances and ratings that were analysed", filledActual(d)},
		{12, "sample", "characteristics of raters and performances", ""},
		{13, "estimates", "reliability and agreement with their uncertainty", filledEstimates(d)},
		{14, "practical relevance", "what the results mean in practice", ""},
		{15, "detailed results", "where full results and data can be had", fmt.Sprintf("machine-readable results with seed %d; data SHA-256 %s", d.Seed, d.DataSHA256)},
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

func filledMethods(in *Input, d *Agreement) string {
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
	return fmt.Sprintf("%s; intervals of %g %%: %s; %d bootstrap replicates, generator %s, seed %d; tyro %s", strings.Join(names, ", "), 100*d.level, strings.Join(methods, "; "), in.Plan().Count(), d.Generator, d.Seed, d.Version)
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
