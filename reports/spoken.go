package reports

import (
	"regexp"
	"slices"
	"strings"
)

// Names of columns, measures and definitions are for programs, and stand so in CSV and
// JSON. Pages, figures and printed tables show words.
var spokenWords = []struct {
	name  *regexp.Regexp
	words string
}{
	{regexp.MustCompile(` \(rung: [^)]*\)`), ""},
	{regexp.MustCompile(`\brule-met-mean-within-(\d+)`), "mean attempts to the rule, counted up to $1"},
	{regexp.MustCompile(`\brule-met-share-by-(\d+)`), "share who met the rule by attempt $1"},
	{regexp.MustCompile(`\brule-met-median\b`), "median attempts to the rule"},
	{regexp.MustCompile(`\brule-met-hazard\b`), "pace of meeting the rule (hazard)"},
	{regexp.MustCompile(`\bmean-level-to-attempt-(\d+)`), "mean level up to attempt $1"},
	{regexp.MustCompile(`\blevel-at-attempt-(\d+)`), "level at attempt $1"},
	{regexp.MustCompile(`\bhard-fails-to-attempt-(\d+)`), "hard fails an attempt, up to $1"},
	{regexp.MustCompile(`\b([a-z][a-z0-9_ ]*)-to-attempt-(\d+)`), "$1 an attempt, up to $2"},
	{regexp.MustCompile(`\bstarting-level\b`), "starting level"},
	{regexp.MustCompile(`\bmean-crossing\b`), "curve meets the standard"},
	{regexp.MustCompile(`\bMean-crossing\b`), "Curve meets the standard"},
	{regexp.MustCompile(`\bpass-chance\b`), "one attempt passes with the chance asked for"},
	{regexp.MustCompile(`\bchart-signal\b`), "chart signals"},
	{regexp.MustCompile(`\bChart-signal\b`), "Chart signals"},
	{regexp.MustCompile(`\brule-met\b`), "rule met"},
	{regexp.MustCompile(`\bRule-met\b`), "Rule met"},
	{regexp.MustCompile(`\bbeyond-horizon\b`), "beyond the horizon"},
	{regexp.MustCompile(`\bmoving-away\b`), "moving away"},
	{regexp.MustCompile(`\btoo-early\b`), "too early to tell"},
	{regexp.MustCompile(`\balready-below\b`), "already below"},
	{regexp.MustCompile(`\bplateau-uncertain\b`), "plateau uncertain"},
	{regexp.MustCompile(`\bcohen-d\b`), "Cohen's d"},
	{regexp.MustCompile(`\bhedges-g\b`), "Hedges' g"},
	{regexp.MustCompile(`\bcliff-delta\b`), "Cliff's delta"},
	{regexp.MustCompile(`\bhodges-lehmann\b`), "Hodges-Lehmann shift"},
	{regexp.MustCompile(`\bkrippendorff-alpha\b`), "Krippendorff's alpha"},
	{regexp.MustCompile(`\bcronbach-alpha\b`), "Cronbach's alpha"},
	{regexp.MustCompile(`\bmcdonald-omega\b`), "McDonald's omega"},
	{regexp.MustCompile(`\bgwet-ac(\d)\b`), "Gwet's AC$1"},
	{regexp.MustCompile(`\b(Gwet's AC2)-`), "$1, "},
	{regexp.MustCompile(`\bbrennan-prediger\b`), "Brennan-Prediger kappa"},
	{regexp.MustCompile(`\b(Brennan-Prediger kappa)-`), "$1, "},
	{regexp.MustCompile(`\bfleiss-kappa\b`), "Fleiss' kappa"},
	{regexp.MustCompile(`\bconger-kappa\b`), "Conger's kappa"},
	{regexp.MustCompile(`\blight-kappa\b`), "Light's kappa"},
	{regexp.MustCompile(`\bcohen-kappa\b`), "Cohen's kappa"},
	{regexp.MustCompile(`\bscott-pi\b`), "Scott's pi"},
	{regexp.MustCompile(`\bkendall-w\b`), "Kendall's W"},
	{regexp.MustCompile(`\blin-ccc\b`), "Lin's concordance"},
	{regexp.MustCompile(`\bicc\(([ac1]),([1k])\)`), "ICC($1,$2)"},
}

// countName is a measure that has the name of a count in it.
var countName = regexp.MustCompile(`\b[a-z][a-z0-9_]*-to-attempt-\d+`)

// Spoken puts words in the place of names in a sentence.
func Spoken(text string) string {
	if !strings.ContainsAny(text, "-(_") {
		return text
	}
	text = countName.ReplaceAllStringFunc(text, func(s string) string { return strings.ReplaceAll(s, "_", " ") })
	for _, w := range spokenWords {
		text = w.name.ReplaceAllString(text, w.words)
	}
	return text
}

// named are the columns whose cells are names that we give; all others hold what the
// study calls its trainees, arms and examiners, and stay.
var named = []string{"measure", "definition", "method", "status", "coefficient", "check", "parameter", "family", "basis", "contrast", "component", "statistic", "reason", "topic", "item_words", "refresher_status"}

var bareName = regexp.MustCompile(`\b([a-z]+|[a-z]+[0-9]+)(?:[-_]([a-z]+|\d+))+\b`)

// hyphened stay as they are: words that English writes so.
var hyphened = regexp.MustCompile(`log-log|two-way|one-way|log-rank|product-limit|half-life|right-censored|pass-fail|non-inferiority|lag-1|pseudo-values`)

// SpokenCell puts words in the place of a name in a cell.
func SpokenCell(key, text string) string {
	if !slices.Contains(named, key) {
		return text
	}
	text = Spoken(text)
	return bareName.ReplaceAllStringFunc(text, func(s string) string {
		if hyphened.MatchString(s) {
			return s
		}
		return strings.NewReplacer("-", " ", "_", " ").Replace(s)
	})
}

// Spoken is the table as people see it, with words in the place of names: heads, which
// columns hold numbers, and cells by row.
func (t Table) Spoken() (heads []string, numeric []bool, rows [][]string) {
	heads, numeric, rows = t.Shown()
	k := 0
	for _, c := range t.Columns {
		if c.Head == "" {
			continue
		}
		if strings.TrimSpace(c.Head) == "" {
			heads[k] = "mark"
		}
		heads[k] = Spoken(heads[k])
		for _, row := range rows {
			row[k] = SpokenCell(c.Key, row[k])
		}
		k++
	}
	return heads, numeric, rows
}
