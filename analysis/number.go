package analysis

import (
	"encoding/json"
	"math"
)

// A Number is a float64 that a JSON file can hold and give back: null where it is
// unknown, and the words "inf" and "-inf" for what has no end.
type Number float64

// MarshalJSON implements json.Marshaler.
func (n Number) MarshalJSON() ([]byte, error) {
	switch v := float64(n); {
	case math.IsNaN(v):
		return []byte("null"), nil
	case math.IsInf(v, 1):
		return []byte(`"inf"`), nil
	case math.IsInf(v, -1):
		return []byte(`"-inf"`), nil
	default:
		return json.Marshal(v)
	}
}

// UnmarshalJSON implements json.Unmarshaler.
func (n *Number) UnmarshalJSON(b []byte) error {
	switch string(b) {
	case "null":
		*n = Number(math.NaN())
	case `"inf"`:
		*n = Number(math.Inf(1))
	case `"-inf"`:
		*n = Number(math.Inf(-1))
	default:
		var v float64
		if err := json.Unmarshal(b, &v); err != nil {
			return err
		}
		*n = Number(v)
	}
	return nil
}
