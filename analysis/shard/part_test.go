package shard

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Of 10 items shard 2 of 4 has the 2nd, 6th and 10th; each item is in one shard alone.
func TestCuts(t *testing.T) {
	if got := (Cut{2, 4}).Items(10); !slices.Equal(got, []int{1, 5, 9}) {
		t.Errorf("shard 2/4 of 10 has %v", got)
	}
	for _, n := range []int{0, 1, 2, 7, 8, 9, 100} {
		for _, of := range []int{1, 2, 3, 8, 50} {
			seen := make([]int, n)
			for i := range of {
				c := Cut{i + 1, of}
				items := c.Items(n)
				for _, k := range items {
					seen[k]++
				}
				if len(items) != c.Count(n) {
					t.Errorf("shard %s of %d items has %d, counted %d", c, n, len(items), c.Count(n))
				}
			}
			if slices.ContainsFunc(seen, func(k int) bool { return k != 1 }) {
				t.Errorf("%d shards of %d items: done %v times", of, n, seen)
			}
		}
	}
	for text, want := range map[string]Cut{"3/8": {3, 8}, " 1 / 1 ": {1, 1}, "0/8": {}, "9/8": {}, "-1/8": {}, "1/0": {}, "1": {}, "": {}, "a/b": {}, "1/2/3": {}, "1/1000001": {}, "1.5/2": {}} {
		if got, err := ParseCut(text); got != want || (err == nil) != (want != Cut{}) {
			t.Errorf("%q is %v (%v), want %v", text, got, err, want)
		}
	}
	if a, b := (Cut{7, 12}).FileName(), (Cut{12, 12}).FileName(); a != "07-of-12.part" || b != "12-of-12.part" {
		t.Errorf("names %s and %s", a, b)
	}
	if got := Spans([]int{1, 2, 3, 7, 9, 10}); got != "1-3,7,9-10" {
		t.Errorf("spans %s", got)
	}
}

// part is a part of 10 items that are their own squares.
func part(t *testing.T, run Run, c Cut, items int) []byte {
	t.Helper()
	l := Making(c)
	todo, err := l.Begin(Work{Name: "squares", Items: items, Record: Layout[int]()})
	if err != nil {
		t.Fatal(err)
	}
	for k, i := range todo {
		l.Put(k, fmt.Append(nil, i*i))
	}
	var b bytes.Buffer
	if err := l.Write(&b, run); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func read(t *testing.T, name string, text []byte) Part {
	t.Helper()
	p, err := ReadPart(name, bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Any cut, in any order, joins to all items; a run takes one work alone, and the very one.
func TestJoin(t *testing.T) {
	run := Run{Tyro: "1", Words: []string{"squares", "--", "x"}, Seed: 3, Data: "abc"}
	for _, of := range []int{1, 3, 10, 17} {
		var parts []Part
		for i := range of {
			parts = append(parts, read(t, fmt.Sprint(i), part(t, run, Cut{i + 1, of}, 10)))
		}
		slices.Reverse(parts)
		l, head, err := Join(parts)
		if err != nil || head.Run.Differs(run) != "" {
			t.Fatal(err, head)
		}
		if _, err := l.Begin(Work{Name: "squares", Items: 11, Record: "int"}); err == nil {
			t.Error("parts of 10 items serve a run of 11")
		}
		if _, err := l.Begin(l.Work); err == nil {
			t.Error("one set of parts serves two works")
		}
		for i := range 10 {
			if v, err := Decode[int](l.Take(i)); err != nil || v != i*i {
				t.Errorf("%d shards: item %d is %v (%v)", of, i, v, err)
			}
		}
	}
}

// Parts that do not belong together are named, with the difference.
func TestJoinRefuses(t *testing.T) {
	run := Run{Tyro: "1", Words: []string{"squares", "--", "x"}, Seed: 3, Data: "abc"}
	other := func(change func(*Run)) Run {
		r := run
		change(&r)
		return r
	}
	first := read(t, "first", part(t, run, Cut{1, 3}, 10))
	for _, c := range []struct {
		text []byte
		says string
	}{
		{part(t, other(func(r *Run) { r.Seed = 4 }), Cut{2, 3}, 10), "seed: 4 against 3"},
		{part(t, other(func(r *Run) { r.Data = "abd" }), Cut{2, 3}, 10), "data: abd against abc"},
		{part(t, other(func(r *Run) { r.Tyro = "2" }), Cut{2, 3}, 10), "version of tyro: 2 against 1"},
		{part(t, other(func(r *Run) { r.Words = []string{"squares", "--level", "0.9", "--", "x"} }), Cut{2, 3}, 10), "command line: --level 0.9 against nothing more"},
		{part(t, run, Cut{2, 4}, 10), "number of shards: 4 against 3"},
		{part(t, run, Cut{2, 3}, 9), "work: "},
		{part(t, run, Cut{1, 3}, 10), "first and second are both shard 1/3"},
	} {
		_, _, err := Join([]Part{first, read(t, "second", c.text)})
		if err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "second") {
			t.Errorf("%v, want %q of the second", err, c.says)
		}
	}
	_, _, err := Join([]Part{first})
	var missing MissingError
	if !errors.As(err, &missing) || !slices.Equal(missing.Shards, []int{2, 3}) {
		t.Errorf("%v, want shards 2 and 3", err)
	}
	if _, _, err := Join(nil); err == nil {
		t.Error("no parts join")
	}
}

// A part in which any one byte is changed, or that is cut off or goes on, is no whole part.
func TestDamaged(t *testing.T) {
	whole := part(t, Run{Tyro: "1", Words: []string{"squares"}, Seed: 3}, Cut{1, 3}, 10)
	read(t, "whole", whole)
	for i := range whole {
		for _, flip := range []byte{1, 0x20, 0x80} {
			bad := slices.Clone(whole)
			bad[i] ^= flip
			if p, err := ReadPart("bad", bytes.NewReader(bad)); err == nil {
				t.Fatalf("byte %d changed, and read as %+v", i, p)
			}
		}
		if _, err := ReadPart("bad", bytes.NewReader(whole[:i])); err == nil {
			t.Fatalf("the first %d bytes of %d are read", i, len(whole))
		}
	}
	_, err := ReadPart("long", bytes.NewReader(append(slices.Clone(whole), '\n')))
	var damaged DamagedError
	if !errors.As(err, &damaged) || damaged.Head == nil || damaged.Head.Cut != (Cut{1, 3}) {
		t.Errorf("%v, want a damaged part that still says what it is", err)
	}
	huge := strings.Replace(string(whole), `"items":10`, `"items":9000000000000000000`, 1)
	if _, err := ReadPart("huge", strings.NewReader(huge)); err == nil {
		t.Error("a part of more items than it has is read")
	}
}
