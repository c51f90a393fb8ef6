package paper

import (
	"fmt"
	"slices"
	"strings"

	"tyro/reports"
)

// A reference is an article that a method comes from.
type reference struct {
	key, mark     string // mark: how the text names it
	authors       []string
	year          int
	title         string
	journal       string
	volume, pages string
	of            func(p *Paper) bool // whether what was run rests on it, beside where the text names it
}

// text is the reference as a list has it.
func (r reference) text() string {
	return fmt.Sprintf("%s (%d). %s. %s %s, %s.", list(r.authors), r.year, r.title, r.journal, r.volume, strings.ReplaceAll(r.pages, "--", "–"))
}

// hasCoefficient reports whether a coefficient of agreement was computed whose name
// begins so.
func hasCoefficient(names ...string) func(p *Paper) bool {
	return func(p *Paper) bool {
		if p.Agreement == nil {
			return false
		}
		return slices.ContainsFunc(p.Agreement.Items, func(it reports.ItemAgreement) bool {
			return slices.ContainsFunc(it.Coefficients, func(c reports.Coefficient) bool {
				return slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(c.Name, n) })
			})
		})
	}
}

// references are what the methods can rest on.
func references() []reference {
	return []reference{
		{"hurvich1989", "Hurvich and Tsai, 1989", []string{"Hurvich, C. M.", "Tsai, C.-L."}, 1989, "Regression and time series model selection in small samples", "Biometrika", "76", "297--307", nil},
		{"kaplan1958", "Kaplan and Meier, 1958", []string{"Kaplan, E. L.", "Meier, P."}, 1958, "Nonparametric estimation from incomplete observations", "Journal of the American Statistical Association", "53", "457--481", nil},
		{"efron1987", "Efron, 1987", []string{"Efron, B."}, 1987, "Better bootstrap confidence intervals", "Journal of the American Statistical Association", "82", "171--185", nil},
		{"tierney1986", "Tierney and Kadane, 1986", []string{"Tierney, L.", "Kadane, J. B."}, 1986, "Accurate approximations for posterior moments and marginal densities", "Journal of the American Statistical Association", "81", "82--86", nil},
		{"yao2018", "Yao, Vehtari, Simpson and Gelman, 2018", []string{"Yao, Y.", "Vehtari, A.", "Simpson, D.", "Gelman, A."}, 2018, "Using stacking to average Bayesian predictive distributions", "Bayesian Analysis", "13", "917--1007", nil},
		{"lei2018", "Lei and others, 2018", []string{"Lei, J.", "G'Sell, M.", "Rinaldo, A.", "Tibshirani, R. J.", "Wasserman, L."}, 2018, "Distribution-free predictive inference for regression", "Journal of the American Statistical Association", "113", "1094--1111", nil},
		{"holm1979", "Holm, 1979", []string{"Holm, S."}, 1979, "A simple sequentially rejective multiple test procedure", "Scandinavian Journal of Statistics", "6", "65--70", nil},
		{"cohen1960", "Cohen, 1960", []string{"Cohen, J."}, 1960, "A coefficient of agreement for nominal scales", "Educational and Psychological Measurement", "20", "37--46", hasCoefficient("cohen-kappa")},
		{"cohen1968", "Cohen, 1968", []string{"Cohen, J."}, 1968, "Weighted kappa: nominal scale agreement with provision for scaled disagreement or partial credit", "Psychological Bulletin", "70", "213--220", hasCoefficient("weighted-kappa")},
		{"fleiss1971", "Fleiss, 1971", []string{"Fleiss, J. L."}, 1971, "Measuring nominal scale agreement among many raters", "Psychological Bulletin", "76", "378--382", hasCoefficient("fleiss-kappa")},
		{"gwet2008", "Gwet, 2008", []string{"Gwet, K. L."}, 2008, "Computing inter-rater reliability and its variance in the presence of high agreement", "British Journal of Mathematical and Statistical Psychology", "61", "29--48", hasCoefficient("gwet-")},
		{"shrout1979", "Shrout and Fleiss, 1979", []string{"Shrout, P. E.", "Fleiss, J. L."}, 1979, "Intraclass correlations: uses in assessing rater reliability", "Psychological Bulletin", "86", "420--428", hasCoefficient("icc(")},
		{"mcgraw1996", "McGraw and Wong, 1996", []string{"McGraw, K. O.", "Wong, S. P."}, 1996, "Forming inferences about some intraclass correlation coefficients", "Psychological Methods", "1", "30--46", hasCoefficient("icc(")},
		{"kottner2011", "Kottner and others, 2011", []string{"Kottner, J.", "Audigé, L.", "Brorson, S.", "Donner, A.", "Gajewski, B. J.", "Hróbjartsson, A.", "Roberts, C.", "Shoukri, M.", "Streiner, D. L."}, 2011, "Guidelines for Reporting Reliability and Agreement Studies (GRRAS) were proposed", "Journal of Clinical Epidemiology", "64", "96--106", func(p *Paper) bool { return p.Agreement != nil }},
	}
}

// cited are the references that a text names, or that what was run rests on.
func cited(text string, p *Paper) []reference {
	var out []reference
	for _, r := range references() {
		if strings.Contains(text, r.mark) || r.of != nil && r.of(p) {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b reference) int { return strings.Compare(a.key, b.key) })
	return out
}

// bibTeX is the list for TeX. Letters outside ASCII are as they are, in UTF-8.
func bibTeX(refs []reference) []byte {
	var b strings.Builder
	for _, r := range refs {
		fmt.Fprintf(&b, "@article{%s,\n  author = {%s},\n  title = {{%s}},\n  journal = {%s},\n  year = {%d},\n  volume = {%s},\n  pages = {%s}\n}\n\n",
			r.key, strings.Join(r.authors, " and "), r.title, r.journal, r.year, r.volume, r.pages)
	}
	return []byte(b.String())
}

// ris is the list for programs that keep references.
func ris(refs []reference) []byte {
	var b strings.Builder
	for _, r := range refs {
		first, last, _ := strings.Cut(r.pages, "--")
		line := func(tag, text string) { fmt.Fprintf(&b, "%s  - %s\r\n", tag, text) }
		line("TY", "JOUR")
		for _, a := range r.authors {
			line("AU", a)
		}
		line("PY", fmt.Sprint(r.year))
		line("TI", r.title)
		line("JO", r.journal)
		line("VL", r.volume)
		line("SP", first)
		line("EP", last)
		b.WriteString("ER  - \r\n\r\n")
	}
	return []byte(b.String())
}
