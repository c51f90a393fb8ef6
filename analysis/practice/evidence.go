package practice

// Evidence is what a standard can be set from when it does not come from experts'
// attempts: values of trainees with a judgement of each, or what judges said about
// the items of a test. Fields that the table does not hold are nil.
type Evidence struct {
	Values []float64 // one a trainee, in the unit of the measure; NaN where not known
	// Parts make up the values, [trainee][part]: items, of which a value is the sum, or
	// raters, of whom it is the mean.
	Parts          [][]float64
	PartsAreRaters bool

	Competent []bool    // of each trainee: judged competent, or not yet
	Ratings   []float64 // of each trainee; NaN where not rated

	Rounds  []JudgeRound   // in order; the last one counts
	Classes []JudgeClasses // one a judge
	Bounds  []JudgeBounds  // one a judge
}

// A JudgeRound is one round of judgements: the chance, from 0 to 1, that a
// borderline trainee gets an item right.
type JudgeRound struct {
	Name       string
	Judges     []string
	Judgements [][]float64 // [judge][item]
}

// JudgeClasses is how one judge sorted the items into classes: how many are in
// each, and the share of them that a borderline trainee gets right.
type JudgeClasses struct {
	Judge  string
	Items  []int
	Shares []float64
}

// JudgeBounds is what one judge accepts: the lowest and highest standard, and the
// lowest and highest percentage of trainees who fail.
type JudgeBounds struct{ LowestCut, HighestCut, LowestFail, HighestFail float64 }
