// Package shard cuts a long piece of work into parts that other processes or machines do.
//
// # Items
//
// Such work is a list of items, trainees or replicates, each of which depends on nothing but
// its position and the study. A run either does all of them; or does a shard and keeps what
// each item gave, in a part; or takes what all the parts hold in place of doing the work, and
// goes on as any run. Everything that is of the study as a whole is therefore computed in one
// place, at the end, and the answer is the same to the last byte however the work was cut.
//
// # Cut
//
// Shard i of n has the items i, i+n, i+2n, … counted from 1, so that items that lie together
// and are slow alike are spread over all shards. The count n is chosen beforehand and kept in
// every part; how many processes or tasks do the shards does not matter.
package shard

import (
	"fmt"
	"strconv"
	"strings"
)

// Most is the largest number of shards.
const Most = 1_000_000

// A Cut is one shard of several.
type Cut struct {
	Shard int `json:"shard"` // from 1
	Of    int `json:"of"`
}

// ParseCut reads a cut such as 3/8.
func ParseCut(text string) (Cut, error) {
	i, n, ok := strings.Cut(text, "/")
	shard, err1 := strconv.Atoi(strings.TrimSpace(i))
	of, err2 := strconv.Atoi(strings.TrimSpace(n))
	c := Cut{shard, of}
	if !ok || err1 != nil || err2 != nil || !c.sound() {
		return Cut{}, fmt.Errorf("shard %q: expected i/n, the i-th of n shards, such as 3/8, with n up to %d", text, Most)
	}
	return c, nil
}

func (c Cut) sound() bool { return c.Of >= 1 && c.Of <= Most && c.Shard >= 1 && c.Shard <= c.Of }

// String is the cut as ParseCut reads it.
func (c Cut) String() string { return fmt.Sprintf("%d/%d", c.Shard, c.Of) }

// FileName is the usual name of the part's file; names sort in the order of shards.
func (c Cut) FileName() string {
	return fmt.Sprintf("%0*d-of-%d%s", len(strconv.Itoa(c.Of)), c.Shard, c.Of, Extension)
}

// Extension is how names of parts end.
const Extension = ".part"

// Has reports whether the item at a position, from 0, is one of the shard's.
func (c Cut) Has(i int) bool { return i%c.Of == c.Shard-1 }

// Count is how many of n items the shard has.
func (c Cut) Count(n int) int { return max(0, (n-c.Shard+c.Of)/c.Of) }

// Items are the positions, from 0, of the shard's items among n, in order.
func (c Cut) Items(n int) []int {
	var out []int
	for i := c.Shard - 1; i < n; i += c.Of {
		out = append(out, i)
	}
	return out
}
