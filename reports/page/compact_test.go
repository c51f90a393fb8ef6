package page

import (
	"strings"
	"testing"
)

// Paths by hand: steps between places rounded to a tenth, no error carried along.
func TestCompact(t *testing.T) {
	for _, c := range []struct{ from, to string }{
		{"M1.04,2L4.06,6L4.06,9.97", "m1 2 3.1 4v4"},
		{"M0.5,0.5L0,0.5", "m.5 .5h-.5"},
		{"M10,10L13,13M10,13L13,10", "m10 10 3 3m-3 0 3-3"},
		{"M3,4h0M5,7h0", "m3 4h0m2 3h0"},
		// Steps of 0.04 are drawn where their places round to: 0, 0, .1, .1, .2.
		{"M0,0L0.04,0L0.08,0L0.12,0L0.16,0", "m0 0h.1h.1"},
		{"M12,10A2,2 0 1 1 8,10A2,2 0 1 1 12,10Z", "m12 10a2 2 0 1 1-4 0 2 2 0 1 1 4 0z"},
		{"M0,0L5,1L5,5ZM9,9L8,7", "m0 0 5 1v4zm9 9-1-2"},
		{"MNaN,3L+Inf,3M1,2L3,4", "m1 2 2 2"}, // what has no place is not drawn
	} {
		// A command that stays may be left out.
		if got := compact(c.from); strings.ReplaceAll(got, "h.1h.1", "h.1 .1") != strings.ReplaceAll(c.to, "h.1h.1", "h.1 .1") {
			t.Errorf("%s becomes %q, want %q", c.from, got, c.to)
		}
	}
}

// Styles that stand often get a name, once; others stay.
func TestNamed(t *testing.T) {
	often, seldom := ` style="fill:none;stroke:#000"`, ` style="font-size:8px"`
	html, css := named("<path" + strings.Repeat(often+"><path", commonStyle) + seldom + ">")
	if strings.Count(html, `class="pen0"`) != commonStyle || strings.Contains(html, often) || !strings.Contains(html, seldom) {
		t.Errorf("%s", html)
	}
	if css != ".pen0{fill:none;stroke:#000}\n" {
		t.Errorf("%q", css)
	}
}
