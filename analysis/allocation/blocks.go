// Package allocation deals trainees out to arms by chance: in permuted blocks, within
// strata where these are stated, or by minimisation as trainees come.
//
// Whoever recruits must not be able to tell the next arm (Schulz and Grimes, 2002, Lancet
// 359, 614-618). A list is therefore made with a seed that is kept apart and is too large
// to be found by trying, since codes follow from it; block sizes are drawn, and every slot
// has a code that says nothing of its arm.
package allocation

import (
	"errors"
	"fmt"
	"slices"

	"tyro/analysis/resample"
)

// ErrAllocation is wrapped by every error about a list that cannot be made.
var ErrAllocation = errors.New("no allocation list can be made")

func refuse(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrAllocation, fmt.Sprintf(format, args...))
}

// Arms are the arms with the shares that they are to have, such as 1 and 2.
type Arms struct {
	Names  []string `json:"names"`
	Shares []int    `json:"shares"` // nil: equal
}

func (a Arms) share(k int) int {
	if a.Shares == nil {
		return 1
	}
	return a.Shares[k]
}

// round is the smallest block in which the arms have their shares.
func (a Arms) round() int {
	n := 0
	for k := range a.Names {
		n += a.share(k)
	}
	return n
}

// check refuses arms that nobody can be dealt out to.
func (a Arms) check() error {
	if len(a.Names) < 2 {
		return refuse("it needs two arms or more, and was given %d", len(a.Names))
	}
	if a.Shares != nil && len(a.Shares) != len(a.Names) {
		return refuse("%d shares for %d arms", len(a.Shares), len(a.Names))
	}
	for k, name := range a.Names {
		if name == "" || slices.Contains(a.Names[:k], name) {
			return refuse("arm %q is named twice, or has no name", name)
		}
		if a.share(k) < 1 || a.share(k) > 100 {
			return refuse("arm %s has a share of %d: expected 1 to 100", name, a.share(k))
		}
	}
	return nil
}

// A Slot is the place of a trainee to come.
type Slot struct {
	Number  int // from 1 within its stratum
	Stratum string
	Block   int // from 1 within its stratum
	Size    int // of the block
	Arm     string
	Code    string // says nothing of the arm
}

// MostSlots is the most a list may hold.
const MostSlots = 20_000

// Blocks makes a list of at least so many slots in each stratum, in permuted blocks: the
// size of each block is one of those given, each as likely, and within a block every order
// of the arms is as likely. The last block is whole, so that a list may be a little longer.
// One blank stratum is a list without strata.
func Blocks(seed uint64, arms Arms, sizes []int, strata []string, slots int) ([]Slot, error) {
	if err := arms.check(); err != nil {
		return nil, err
	}
	if len(sizes) == 0 || len(strata) == 0 || slots < 1 || slots*len(strata) > MostSlots {
		return nil, refuse("%d sizes of blocks, %d strata, %d slots each: expected one of each at least, and %d slots at most", len(sizes), len(strata), slots, MostSlots)
	}
	for _, n := range sizes {
		if n < 1 || n > 1000 || n%arms.round() != 0 {
			return nil, refuse("a block of %d: expected a multiple of %d, so that every block holds the arms in their shares", n, arms.round())
		}
	}
	var out []Slot
	for k, stratum := range strata {
		if slices.Contains(strata[:k], stratum) {
			return nil, refuse("stratum %q is named twice", stratum)
		}
		for number, block := 0, 1; number < slots; block++ {
			r := resample.Stream(seed, "allocation/blocks/"+stratum, block)
			n := sizes[r.IntN(len(sizes))]
			var deal []string
			for range n / arms.round() {
				for a, name := range arms.Names {
					for range arms.share(a) {
						deal = append(deal, name)
					}
				}
			}
			r.Shuffle(n, func(i, j int) { deal[i], deal[j] = deal[j], deal[i] })
			for _, arm := range deal {
				number++
				out = append(out, Slot{Number: number, Stratum: stratum, Block: block, Size: n, Arm: arm})
			}
		}
	}
	code(seed, len(out), func(i int, c string) { out[i].Code = c })
	return out, nil
}

// codeLetters leave out what is mistaken for something else on paper.
const codeLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"

// code gives every slot a code of its own, drawn at random.
func code(seed uint64, n int, give func(i int, code string)) {
	taken := map[string]bool{}
	for i := range n {
		r := resample.Stream(seed, "allocation/code", i)
		for {
			c := make([]byte, 7)
			for j := range c {
				c[j] = codeLetters[r.IntN(len(codeLetters))]
			}
			if !taken[string(c)] {
				taken[string(c)] = true
				give(i, string(c))
				break
			}
		}
	}
}
