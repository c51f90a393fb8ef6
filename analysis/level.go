package analysis

import (
	"errors"
	"fmt"
)

// DefaultLevel is the level of intervals where none is named.
const DefaultLevel = 0.95

// ErrLevel is wrapped by every error about the level of an interval.
var ErrLevel = errors.New("the level of an interval")

// Level reads the level of an interval as every analysis does: 0 means
// [DefaultLevel]; a level that is not between 0 and 1 is an error.
func Level(level float64) (float64, error) {
	switch {
	case level == 0:
		return DefaultLevel, nil
	case level > 0 && level < 1:
		return level, nil
	}
	return 0, fmt.Errorf("%w must be between 0 and 1, such as 0.95; it is %v", ErrLevel, level)
}
