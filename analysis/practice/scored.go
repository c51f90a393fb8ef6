package practice

// A ScoreSheet is every attempt at a task with its score under one version of a rule, and
// what the score is made of.
type ScoreSheet struct {
	Task, Version, Date string
	Starts, Stops       string // when the clock starts and stops, in words
	Lower               bool   // smaller scores are better
	Start, Floor, Cap   float64
	Experts             float64 // the experts' score, which counts as 100; 0 for none
	Attempts            []ScoredAttempt
	Without             map[string][]float64 // scores when one component counts for nothing, in the order of Attempts
	ExpertRuns          []ScoredAttempt      // of the experts' log
	Step                float64              // share by which Changes change a weight
	Changes             []WeightChange
}

// DefaultWeightStep is the share by which each weight of a rule is changed where none is asked
// for.
const DefaultWeightStep = 0.1

// A WeightChange is what becomes of the scores when one weight of a rule is another.
type WeightChange struct {
	Component        string
	From, To         float64   // weight; of bands a factor of all their points, from 1
	Attempts, Expert []float64 // scores in the order of Attempts and of ExpertRuns
}

// A ScoredAttempt is an attempt with its score; NaN where it has none.
type ScoredAttempt struct {
	Trainee, Arm string
	Number       float64
	Outcome      Outcome
	Score        float64
	Parts        []ScorePart
	Clean        bool // errors within the task's limits
}

// A ScorePart is what one component does to a score.
type ScorePart struct {
	Name  string
	Value float64 // as observed; NaN where not known
	Adds  float64 // to the score; negative takes from it
}
