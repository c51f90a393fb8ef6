package shard

import (
	"errors"
	"fmt"
	"strings"
)

// A MissingError lists the shards of which there is no part.
type MissingError struct {
	Head
	Shards []int
}

func (e MissingError) Error() string {
	return fmt.Sprintf("%d of %d parts are missing: shards %s", len(e.Shards), e.Of, Spans(e.Shards))
}

// Join puts parts together: a ledger with the records of all items, and what they are of.
// Parts of another run or count, or that are there twice, are refused, each by name; where
// parts lack, the error is a MissingError.
func Join(parts []Part) (*Ledger, Head, error) {
	if len(parts) == 0 {
		return nil, Head{}, errors.New("there are no parts to join")
	}
	first := parts[0]
	by := make(map[int]string)
	var wrong []error
	for _, p := range parts {
		if why := p.Differs(first.Head); why != "" {
			wrong = append(wrong, fmt.Errorf("%s is a part of another run than %s: %s", p.Name, first.Name, why))
			continue
		}
		if other, twice := by[p.Shard]; twice {
			wrong = append(wrong, fmt.Errorf("%s and %s are both shard %s: name one of them", other, p.Name, p.Cut))
			continue
		}
		by[p.Shard] = p.Name
	}
	if err := errors.Join(wrong...); err != nil {
		return nil, first.Head, err
	}
	if missing := Missing(first.Of, func(i int) bool { return by[i] != "" }); len(missing) > 0 {
		return nil, first.Head, MissingError{first.Head, missing}
	}
	l := &Ledger{Work: first.Work, whole: true, items: make([][]byte, first.Work.Items)}
	for _, p := range parts {
		for k, i := range p.Cut.Items(p.Work.Items) {
			l.items[i] = p.records[k]
		}
	}
	return l, first.Head, nil
}

// Missing lists the shards of n that are not there.
func Missing(n int, there func(shard int) bool) []int {
	var out []int
	for i := 1; i <= n; i++ {
		if !there(i) {
			out = append(out, i)
		}
	}
	return out
}

// Spans lists shards in order as 1-3,7: as job arrays take them.
func Spans(shards []int) string {
	var out []string
	for a := 0; a < len(shards); {
		b := a
		for b+1 < len(shards) && shards[b+1] == shards[b]+1 {
			b++
		}
		if a == b {
			out = append(out, fmt.Sprint(shards[a]))
		} else {
			out = append(out, fmt.Sprintf("%d-%d", shards[a], shards[b]))
		}
		a = b + 1
	}
	return strings.Join(out, ",")
}
