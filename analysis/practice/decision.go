package practice

// A Decision is a standard as it was set: the level to reach, how sure it is, who
// decided it, when, and on which data.
type Decision struct {
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

	// Given says that the value was asked for in this run alone, such as on the command
	// line: the study file does not hold it, and nobody decided on it.
	Given bool `yaml:"-"`
}

// Computed says how a standard follows from the experts' attempts, so that it can
// be computed again.
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
