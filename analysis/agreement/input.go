package agreement

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"tyro/analysis"
)

// What is asked of the input. Functions that give an error, a coefficient or
// differences say there what is wrong ([Coefficient.Err], [Differences.Err]);
// those that give bare numbers panic on a ragged table or columns of different
// lengths, which [Ratings.Check] finds beforehand.

// ErrRatings is wrapped by every error about a table of ratings or counts that
// cannot be used.
var ErrRatings = errors.New("the ratings cannot be used")

// Check reports rows of different lengths and infinite ratings.
func (r Ratings) Check() error {
	for i, row := range r {
		if len(row) != len(r[0]) {
			return fmt.Errorf("%w: subject %d has %d places for ratings, the first has %d", ErrRatings, i+1, len(row), len(r[0]))
		}
		for j, v := range row {
			if math.IsInf(v, 0) {
				return fmt.Errorf("%w: subject %d, rater %d: a rating is infinite", ErrRatings, i+1, j+1)
			}
		}
	}
	return nil
}

// must panics on a table that cannot be used.
func (r Ratings) must() {
	if err := r.Check(); err != nil {
		panic("agreement: " + err.Error())
	}
}

// Scales lists the scales of measurement.
func Scales() []string { return []string{"nominal", "ordinal", "interval", "ratio"} }

func checkScale(scale string) error {
	if !slices.Contains(Scales(), scale) {
		return fmt.Errorf("scale %q: expected nominal, ordinal, interval or ratio", scale)
	}
	return nil
}

func (o Options) check() error {
	if _, err := analysis.Level(o.Level); err != nil {
		return err
	}
	for _, c := range o.Categories {
		if math.IsNaN(c) || math.IsInf(c, 0) {
			return fmt.Errorf("a category %v is no number", c)
		}
	}
	return checkWeights(o.Weights)
}

// checkWeights reports agreement weights that are none: a square table with 1 on
// the diagonal, from 0 to 1 elsewhere, the same both ways. Nil is fine.
func checkWeights(w [][]float64) error {
	for i, row := range w {
		if len(row) != len(w) {
			return fmt.Errorf("custom weights: row %d has %d numbers, expected %d, one for each category", i+1, len(row), len(w))
		}
		for j, v := range row {
			switch {
			case !(v >= 0 && v <= 1):
				return fmt.Errorf("custom weights: %v in row %d and column %d, expected a number from 0 to 1", v, i+1, j+1)
			case i == j && v != 1:
				return fmt.Errorf("custom weights: %v on the diagonal in row %d, expected 1", v, i+1)
			case j < i && v != w[j][i]:
				return fmt.Errorf("custom weights: %v in row %d and column %d, but %v the other way round", v, i+1, j+1, w[j][i])
			}
		}
	}
	return nil
}

// checkCounts reports a table of counts that is not square or has a cell that is
// no count. Expected counts need not be whole.
func checkCounts(counts [][]float64) error {
	for i, row := range counts {
		if len(row) != len(counts) {
			return fmt.Errorf("%w: row %d of the counts has %d columns, expected %d", ErrRatings, i+1, len(row), len(counts))
		}
		for j, v := range row {
			if !(v >= 0) || math.IsInf(v, 1) {
				return fmt.Errorf("%w: a count of %v in row %d and column %d", ErrRatings, v, i+1, j+1)
			}
		}
	}
	return nil
}

// checkColumns reports columns of different lengths.
func checkColumns(x, y int) error {
	if x != y {
		return fmt.Errorf("%w: one column has %d subjects, the other %d", ErrRatings, x, y)
	}
	return nil
}

// failed is a coefficient of input that cannot be used.
func failed(name string, err error) Coefficient {
	c := unknown(name, math.NaN(), err.Error())
	c.Err = err
	return c
}

// readable reads the level and checks the table.
func readable(r Ratings, level float64) (float64, error) {
	level, err := analysis.Level(level)
	if err != nil {
		return math.NaN(), err
	}
	return level, r.Check()
}

// usable checks everything that a function with options is given.
func usable(r Ratings, o Options) error {
	if err := o.check(); err != nil {
		return err
	}
	return r.Check()
}
