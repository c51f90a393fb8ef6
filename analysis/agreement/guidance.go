package agreement

import (
	"fmt"
	"math"
	"strings"
)

// A ReadingScale puts words to a coefficient. Such scales are conventions and
// disagree with each other, so the name and source go with every reading.
type ReadingScale struct {
	Name, Source string
	For          string // what it was made for
	Bands        []Band // from low to high
}

// A Band holds the values from From up to the next band.
type Band struct {
	From  float64
	Label string
}

// The reading scales.
var (
	KooLi = ReadingScale{"Koo and Li", "Koo and Li (2016), Journal of Chiropractic Medicine 15, 155-163", "icc", []Band{{math.Inf(-1), "poor"}, {0.5, "moderate"}, {0.75, "good"}, {0.9, "excellent"}}}

	Cicchetti = ReadingScale{"Cicchetti", "Cicchetti (1994), Psychological Assessment 6, 284-290", "icc and kappa", []Band{{math.Inf(-1), "poor"}, {0.4, "fair"}, {0.6, "good"}, {0.75, "excellent"}}}

	LandisKoch = ReadingScale{"Landis and Koch", "Landis and Koch (1977), Biometrics 33, 159-174, who called the bands arbitrary", "kappa", []Band{{math.Inf(-1), "poor"}, {0, "slight"}, {0.2, "fair"}, {0.4, "moderate"}, {0.6, "substantial"}, {0.8, "almost perfect"}}}
)

// A Reading is a coefficient in a scale's words, taken from its interval: from
// the word for the lower end to the word for the upper end.
type Reading struct {
	Coefficient   string
	Scale, Source string
	From, To      string
	Text          string
}

func (s ReadingScale) label(v float64) string {
	out := ""
	for _, b := range s.Bands {
		if v >= b.From {
			out = b.Label
		}
	}
	return out
}

// Read puts a coefficient's interval into the scale's words.
func (s ReadingScale) Read(c Coefficient) Reading {
	r := Reading{Coefficient: c.Name, Scale: s.Name, Source: s.Source}
	if math.IsNaN(c.Lower) || math.IsNaN(c.Upper) {
		r.Text = "not read: there is no interval, and a point alone would mislead"
		return r
	}
	r.From, r.To = s.label(c.Lower), s.label(c.Upper)
	r.Text = r.From
	if r.From != r.To {
		r.Text = r.From + " to " + r.To
	}
	return r
}

// Readings reads every coefficient that a scale was made for.
func Readings(cs []Coefficient) []Reading {
	var out []Reading
	for _, c := range cs {
		switch {
		case math.IsNaN(c.Estimate):
		case strings.HasPrefix(c.Name, "icc("):
			out = append(out, KooLi.Read(c), Cicchetti.Read(c))
		case strings.Contains(c.Name, "kappa"), c.Name == "scott-pi", strings.HasPrefix(c.Name, "gwet-"):
			out = append(out, LandisKoch.Read(c), Cicchetti.Read(c))
		}
	}
	return out
}

// paradox says why observed agreement and kappa part ways, blank where they do
// not. Feinstein and Cicchetti (1990), Journal of Clinical Epidemiology 43,
// 543-549: when one category takes most ratings, agreement expected by chance
// is high and kappa low, whatever the raters do.
func paradox(cs []Coefficient) string {
	at := map[string]float64{}
	for _, c := range cs {
		at[c.Name] = c.Estimate
	}
	kappa, name := at["cohen-kappa"], "Cohen's kappa"
	if _, two := at["cohen-kappa"]; !two {
		kappa, name = at["fleiss-kappa"], "Fleiss' kappa"
	}
	po, ac1 := at["percent-agreement"], at["gwet-ac1"]
	if !(ac1-kappa >= 0.2) || math.IsNaN(kappa) {
		return ""
	}
	expected := func(v float64) float64 { return 100 * (po - v) / (1 - v) }
	return fmt.Sprintf("raters agree on %.1f %% of pairs, yet %s is %.3f and AC1 %.3f: most ratings fall in few categories, so kappa expects %.0f %% agreement by chance alone and AC1 %.0f %%. "+
		"Read the agreement on each category and its prevalence; do not pick the largest coefficient", 100*po, name, kappa, ac1, expected(kappa), expected(ac1))
}
