package datasets

import "tyro/datasets/problem"

// What is wrong with the input, each thing with its place.
type (
	Problem  = problem.Problem
	Problems = problem.Problems
)
