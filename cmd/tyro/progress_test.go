package main

import (
	"strings"
	"testing"
	"time"
)

// By hand: 100 pieces, one every 30 seconds from the first on. A line every two minutes, at
// pieces 5, 9, …; after piece 5, 95 are left, which take 47.5 minutes.
func TestProgressLines(t *testing.T) {
	var b strings.Builder
	now := time.Unix(0, 0)
	show := lines(&b, "fits", func() time.Time { return now }, 2*time.Minute)
	for done := 1; done <= 100; done++ {
		show(done, 100)
		now = now.Add(30 * time.Second)
	}
	said := strings.Split(strings.TrimSpace(b.String()), "\n")
	if len(said) != 24 || said[0] != "fits: 5 of 100, about 48 min left" || said[23] != "fits: 97 of 100, about 2 min left" {
		t.Errorf("%d lines: %q", len(said), said)
	}
	b.Reset()
	for done := 1; done <= 3; done++ { // other work, and over within a minute
		show(done, 3)
		now = now.Add(time.Second)
	}
	if b.Len() > 0 {
		t.Errorf("says %q of quick work", b.String())
	}
}
