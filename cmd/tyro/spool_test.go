package main

import (
	"bytes"
	"strings"
	"testing"
)

// What is more than memory should hold comes out as it went in, and is told from other bytes.
func TestSpool(t *testing.T) {
	for _, n := range []int{0, 10, 1 << 16, spooled, spooled + 1, spooled + 3<<16} {
		text := strings.Repeat("0123456789abcde\n", n/16+1)[:n]
		var s spool
		for rest := text; rest != ""; {
			k := min(len(rest), 1<<20+7)
			if _, err := s.Write([]byte(rest[:k])); err != nil {
				t.Fatal(err)
			}
			rest = rest[k:]
		}
		var out bytes.Buffer
		if _, err := s.WriteTo(&out); err != nil || out.String() != text {
			t.Errorf("%d bytes come out as %d (%v)", n, out.Len(), err)
		}
		for other, want := range map[string]bool{text: true, text + "x": false} {
			if same, err := s.is(strings.NewReader(other)); err != nil || same != want {
				t.Errorf("%d bytes against %d: same %v (%v)", n, len(other), same, err)
			}
		}
		if n > 0 {
			if same, _ := s.is(strings.NewReader(text[:n-1] + "?")); same {
				t.Errorf("%d bytes with another last one are taken for the same", n)
			}
		}
		if (s.tail != nil) != (n > spooled) {
			t.Errorf("%d bytes: in a file %v", n, s.tail != nil)
		}
		s.discard()
	}
}
