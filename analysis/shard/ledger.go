package shard

import (
	"errors"
	"fmt"
)

// ErrMade ends a run that does one shard: its items are done, and the part is ready to be
// written.
var ErrMade = errors.New("the shard is done")

// A Ledger is what a run that is cut knows of the items of its work. A run has one such work:
// the first that asks for the ledger.
type Ledger struct {
	Work  Work
	cut   Cut      // of a run that does one shard
	items [][]byte // records, by position in the shard or among all
	whole bool     // the records of all items are there
	begun bool
}

// Work is the list of items that is cut.
type Work struct {
	Name   string `json:"name"`   // such as "trainees"
	Items  int    `json:"items"`  // of all shards
	Record string `json:"record"` // see Layout
}

// Making is the ledger of a run that does one shard.
func Making(c Cut) *Ledger { return &Ledger{cut: c} }

// Cut is the shard that the ledger is of.
func (l *Ledger) Cut() Cut { return l.cut }

// Begin says which work the ledger is for. It lists the positions of the items to do, nil
// where all records are there. Another work than that of the parts is an error, and so is a
// second one in a run.
func (l *Ledger) Begin(w Work) (todo []int, err error) {
	if l.begun {
		return nil, fmt.Errorf("a run has one piece of work that can be cut, and this one has another: %s beside %s", w.Name, l.Work.Name)
	}
	l.begun = true
	if l.whole {
		if w != l.Work {
			return nil, fmt.Errorf("the parts hold %d %s, and this run has %d %s", l.Work.Items, l.Work.Name, w.Items, w.Name)
		}
		return nil, nil
	}
	l.Work = w
	todo = l.cut.Items(w.Items)
	l.items = make([][]byte, len(todo))
	return todo, nil
}

// Whole reports whether the records of all items are there, so that none has to be done.
func (l *Ledger) Whole() bool { return l.whole }

// Begun reports whether any work asked for the ledger.
func (l *Ledger) Begun() bool { return l.begun }

// Put keeps what the k-th item of the shard gave. Different items may be put at the same time.
func (l *Ledger) Put(k int, record []byte) { l.items[k] = record }

// Take is what the item at a position gave, and forgets it: many records take much room.
// Different items may be taken at the same time.
func (l *Ledger) Take(i int) []byte {
	record := l.items[i]
	l.items[i] = nil
	return record
}
