package reports

// A CohortEffect is a fixed effect on its parameter's scale.
type CohortEffect struct {
	Name      string `json:"name"`
	Arm       string `json:"arm"`
	Covariate string `json:"covariate"` // blank for a common value or an arm's
	Level     string `json:"level"`     // of a covariate with levels
	Scale     string `json:"scale"`
	Estimate  Number `json:"estimate"`
	SE        Number `json:"se"`
	Lower     Number `json:"lower"`
	Upper     Number `json:"upper"`
	Held      bool   `json:"held,omitempty"`
}

// A CohortFrom is the saved fit that trainees were projected from, with what it was made of.
type CohortFrom struct {
	File       string   `json:"file"`
	SHA256     string   `json:"sha256"` // of the file
	Study      string   `json:"study"`
	Task       string   `json:"task"`
	NTrainees  int      `json:"n_trainees"`
	NAttempts  int      `json:"n_attempts"`
	Arms       []string `json:"arms"`
	Seed       string   `json:"seed"`
	DataSHA256 string   `json:"data_sha256"`
	SameData   bool     `json:"same_data"` // made from the very data read here
}

// A CohortSpread is how much trainees differ in a parameter, on its scale.
type CohortSpread struct {
	Name  string `json:"name"`
	Scale string `json:"scale"`
	SD    Number `json:"sd"`
	Lower Number `json:"lower"`
	Upper Number `json:"upper"`
	Words string `json:"words"`
}

// A CohortCorrelation is one between trainees' deviations.
type CohortCorrelation struct {
	A     string `json:"a"`
	B     string `json:"b"`
	Value Number `json:"value"`
}

// A CohortStep is a rung of the ladder that was tried.
type CohortStep struct {
	Rung          string   `json:"rung"`
	Random        []string `json:"random"`
	Status        string   `json:"status"`
	LogLikelihood Number   `json:"log_likelihood"`
	Why           string   `json:"why"`
}

// A CohortCandidate is a family's standing in the choice.
type CohortCandidate struct {
	Family string `json:"family"`
	AIC    Number `json:"aic"`
	Rung   string `json:"rung"`
}

// CohortModel is one of several models tried by how well they foretell each trainee's later
// attempts from the first ones: the mean log density of a later attempt, and how far that is
// behind the best one's with its standard error.
type CohortModel struct {
	Model  string `json:"model"`
	Score  Number `json:"score"`
	Behind Number `json:"behind"`
	SE     Number `json:"se"`
	AIC    Number `json:"aic"`
	Weight Number `json:"weight"` // in projections
}

// CohortShares is the share of new trainees of an arm proficient by attempt,
// under one definition.
type CohortShares struct {
	Arm        string        `json:"arm"`
	Definition string        `json:"definition"`
	Rows       []CohortShare `json:"rows"`
}

// A CohortCalibration says how later halves of attempts fell in what the earlier
// halves predicted; tenths counts them by tenth of the predictive distribution,
// and the 5-95 % range is of the share inside over trainees.
type CohortCalibration struct {
	N        int     `json:"n"`
	Inside50 Number  `json:"inside_50"`
	Inside90 Number  `json:"inside_90"`
	Lower    Number  `json:"inside_90_trainees_p5"`
	Upper    Number  `json:"inside_90_trainees_p95"`
	Tenths   [10]int `json:"tenths"`
}

// A CohortBootstrap is a quantity with its interval from whole trainees drawn
// with replacement; kind is fixed, sd or residual.
type CohortBootstrap struct {
	Kind             string `json:"kind"`
	Name             string `json:"name"`
	Arm              string `json:"arm"`
	Covariate        string `json:"covariate"`
	Level            string `json:"level"`
	Estimate         Number `json:"estimate"`
	Lower            Number `json:"lower"`
	Upper            Number `json:"upper"`
	Replicates       int    `json:"replicates"`
	FailedReplicates int    `json:"failed_replicates"`
}

// A CohortShare is the share proficient by an attempt.
type CohortShare struct {
	Attempt Number `json:"attempt"`
	Share   Number `json:"share"`
	Lower   Number `json:"lower"`
	Upper   Number `json:"upper"`
}

// CohortNew is what is expected of a new trainee of an arm, before any attempt.
type CohortNew struct {
	Arm         string              `json:"arm"`
	Projection  []CohortForecast    `json:"projection"`
	Proficiency []CohortProficiency `json:"proficiency"`
}

// A CohortTrainee is one trainee's place in the cohort. The parameters are on
// their natural scale.
type CohortTrainee struct {
	Trainee     string              `json:"trainee"`
	Arm         string              `json:"arm"`
	N           int                 `json:"n"`
	NCensored   int                 `json:"n_censored"`
	Parameters  []CohortParameter   `json:"parameters"`
	ResidualSD  Number              `json:"residual_sd"`
	Projection  []CohortForecast    `json:"projection"`
	Proficiency []CohortProficiency `json:"proficiency"`
	Moves       []CohortMove        `json:"rule_met_as_attempts_arrived"` // the last is after all attempts, or where the rule was met
}

// A CohortCorrection says how ranges of later attempts are corrected by what the cohort's
// trainees did: inside is the share of their later attempts that fell inside the models' ranges
// of the level, each trainee foretold without that trainee; the shares are where the corrected
// ends lie in the models' predictions.
type CohortCorrection struct {
	Trainees   int    `json:"trainees"`
	Attempts   int    `json:"attempts"`
	Level      Number `json:"level"`
	Inside     Number `json:"inside"`
	LowerShare Number `json:"lower_share"`
	UpperShare Number `json:"upper_share"`
}

// A CohortParameter is a trainee's value; own_share is how much of it rests on
// the trainee's own attempts, 1 for all and 0 for none.
type CohortParameter struct {
	Name     string `json:"name"`
	Estimate Number `json:"estimate"`
	OwnShare Number `json:"own_share"`
}

// A CohortForecast is the predictive distribution of one attempt: its mean (of times the
// geometric one), median and ends, and the ends by the models alone, before any correction.
type CohortForecast struct {
	Attempt    Number `json:"attempt"`
	Expected   Number `json:"expected"`
	Median     Number `json:"median"`
	Lower      Number `json:"lower"`
	Upper      Number `json:"upper"`
	ModelLower Number `json:"model_lower"`
	ModelUpper Number `json:"model_upper"`
}

// CohortProficiency is a trainee's attempts to proficiency under a definition.
type CohortProficiency struct {
	Definition string `json:"definition"`
	Estimate   Number `json:"estimate"`
	Lower      Number `json:"lower"`
	Upper      Number `json:"upper"`
	NotReached Number `json:"not_reached"`
	Status     string `json:"status"`
}

// A CohortCovariate says how an attribute of trainees entered the fit: a number,
// centred, or levels, each against the first.
type CohortCovariate struct {
	Name      string   `json:"name"`
	Kind      string   `json:"kind"` // number or levels
	On        []string `json:"on"`
	Centre    Number   `json:"centre,omitempty"` // mean over trainees, for a number
	Reference string   `json:"reference,omitempty"`
	Levels    []string `json:"levels,omitempty"`
}

// A CohortMove is what was projected of a trainee after some attempts: the
// attempt at which the rule is met.
type CohortMove struct {
	AttemptsMade int    `json:"attempts_made"`
	Estimate     Number `json:"estimate"`
	Lower        Number `json:"lower"`
	Upper        Number `json:"upper"`
	NotReached   Number `json:"not_reached"`
	Status       string `json:"status"`
}
