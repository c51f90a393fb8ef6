package datasets

import (
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
)

// The ways people write a duration: 1:30, 1:30.5, 0:01:30, 1m30s, 1'30".
var (
	clockTime = pattern.New(`^(?:(\d{1,2}):)?(\d{1,3}):(\d{2}(?:\.\d+)?)$`)
	unitTime  = pattern.New(`^(?:(\d+)\s*(?:m|min|'|′))?\s*(?:(\d+(?:\.\d+)?)\s*(?:s|sec|"|″|''))?$`)
)

// parseSeconds reads a time in seconds, or in one of the written forms, where
// the last part is always seconds.
func parseSeconds(s string, decimalComma bool) (float64, bool) {
	if v, ok := grid.ParseNumber(s, decimalComma); ok {
		return v, true
	}
	t := strings.Replace(s, ",", ".", 1)
	if m := clockTime.FindStringSubmatch(t); m != nil {
		return 3600*grid.Number(m[1]) + 60*grid.Number(m[2]) + grid.Number(m[3]), grid.Number(m[3]) < 60
	}
	if m := unitTime.FindStringSubmatch(t); m != nil && t != "" {
		return 60*grid.Number(m[1]) + grid.Number(m[2]), true
	}
	return 0, false
}
