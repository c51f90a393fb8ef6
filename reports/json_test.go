package reports

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"
)

type entry struct {
	A int    `json:"a"`
	B string `json:"b,omitempty"`
}

// odd has what documents have: an embedded head, lists of every kind, what is left out.
type odd struct {
	Header
	None    []entry           `json:"none"`
	Empty   []entry           `json:"empty"`
	Some    []entry           `json:"some"`
	Names   []string          `json:"names"`
	Nested  [][]Number        `json:"nested"`
	Bytes   []byte            `json:"bytes"`
	One     *entry            `json:"one"`
	Nobody  *entry            `json:"nobody"`
	Gone    []entry           `json:"gone,omitempty"`
	Zero    int               `json:"zero,omitempty"`
	Skipped int               `json:"-"`
	Named   int               // by its own name
	By      map[string]Number `json:"by"`
	hidden  int
}

func (odd) Tables() []Table { return nil }

// Entry by entry the text is that of the whole at once.
func TestJSONEntryByEntry(t *testing.T) {
	d := &odd{
		Empty: []entry{}, Some: []entry{{1, "a < b & c"}, {2, ""}}, Names: []string{"x", "y\n"}, Nested: [][]Number{{1, Number(math.NaN())}, nil, {}},
		Bytes: []byte("abc"), One: &entry{3, "z"}, By: map[string]Number{"b": 2, "a": Number(math.Inf(1))}, Named: 7, hidden: 1,
	}
	d.Header.Tool, d.Warnings = "tyro", []Warning{{"code", "text"}}
	for _, doc := range []Document{d, &odd{}} {
		var got, want bytes.Buffer
		if err := WriteJSON(&got, doc); err != nil {
			t.Fatal(err)
		}
		enc := json.NewEncoder(&want)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", "  ")
		if err := enc.Encode(doc); err != nil {
			t.Fatal(err)
		}
		if got.String() != want.String() {
			t.Errorf("entry by entry\n%s\nat once\n%s", got.String(), want.String())
		}
	}
}
