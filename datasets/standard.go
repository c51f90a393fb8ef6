package datasets

import (
	"fmt"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
)

// A Standard is the level to reach, and how it came about: who decided, when, on
// which data, and how sure it is.
type Standard struct {
	Value     float64   `yaml:"value"`
	Interval  []float64 `yaml:"interval,flow,omitempty"` // lower and upper limit, where known
	Level     float64   `yaml:"level,omitempty"`         // of the interval; 0 means 0.95
	Method    string    `yaml:"method"`                  // in words
	DecidedBy string    `yaml:"decided_by"`
	DecidedOn string    `yaml:"decided_on"`
	Data      string    `yaml:"data"`
	DataHash  string    `yaml:"data_sha256,omitempty"`
	FalsePass *float64  `yaml:"false_pass,omitempty"` // shares expected, where the method gives them
	FalseFail *float64  `yaml:"false_fail,omitempty"`
	Computed  *Computed `yaml:"computed,omitempty"` // how it follows from the study's experts; nil where it does not
}

// Computed says how a standard follows from the experts' log, so that it can be
// computed again.
type Computed struct {
	Method     string  `yaml:"method"` // expert-mean, expert-median or expert-percentile
	SDs        float64 `yaml:"sds,omitempty"`
	Percentile float64 `yaml:"percentile,omitempty"`
	Trim       float64 `yaml:"trim,omitempty"`
	DropSDs    float64 `yaml:"drop_sds,omitempty"`
	DropMADs   float64 `yaml:"drop_mads,omitempty"`
	LogScale   bool    `yaml:"log_scale,omitempty"`
	Summary    string  `yaml:"summary,omitempty"` // of an expert's runs: mean, median, best or last
	SkipRuns   int     `yaml:"skip_runs,omitempty"`
}

// settle reports what is wrong beside numbers out of their ranges.
func (s *Standard) settle(bad func(column, value, expect string, kind error)) {
	if n := len(s.Interval); n > 0 && (n != 2 || !(s.Interval[0] <= s.Interval[1])) {
		bad("standard: interval", fmt.Sprint(s.Interval), "a lower and an upper limit, as [50, 60]", ErrRange)
	}
	c := s.Computed
	if c == nil {
		return
	}
	if !slices.Contains([]string{"expert-mean", "expert-median", "expert-percentile"}, c.Method) {
		bad("standard: computed: method", c.Method, "expert-mean, expert-median or expert-percentile", ErrUnknown)
	}
	if !slices.Contains([]string{"", "mean", "median", "best", "last"}, c.Summary) {
		bad("standard: computed: summary", c.Summary, "mean, median, best or last", ErrUnknown)
	}
}

// Block is the standard as the study file's standard: block.
func (s Standard) Block() (string, error) {
	text, err := yaml.Marshal(s)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	b.WriteString("standard:\n")
	for line := range strings.Lines(string(text)) {
		b.WriteString("  " + line)
	}
	return b.String(), nil
}
