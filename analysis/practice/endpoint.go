package practice

// An Endpoint is a trainee of whom no more is known than one number, such as a score
// after training.
type Endpoint struct {
	Arm      string
	Value    float64   // NaN where not known
	Second   float64   // the number after a second period, by the other curriculum; NaN where there is none
	Baseline []float64 // numbers from before training, in the order of Practice.Baselines
	Prior    float64   // practice on a substitute before; NaN where not known
	Met      bool      // Value is the practice until the rule was met; otherwise the last seen without
	Cluster  string    // site or session group; blank where not known
}
