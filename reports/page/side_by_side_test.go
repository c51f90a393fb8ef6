package page

import (
	"sync/atomic"
	"testing"
)

// Every piece is done once, whatever the number of workers, and a breakdown is the caller's to
// catch: the piece's own, after all others were done.
func TestSideBySide(t *testing.T) {
	for _, workers := range []int{0, 1, 3, 50} {
		for _, n := range []int{0, 1, 20} {
			done := make([]atomic.Int32, n)
			sideBySide(n, workers, func(i int) { done[i].Add(1) })
			for i := range done {
				if done[i].Load() != 1 {
					t.Errorf("%d workers: piece %d of %d was done %d times", workers, i, n, done[i].Load())
				}
			}
		}
		var others atomic.Int32
		func() {
			defer func() {
				if p := recover(); p != "no ink" || others.Load() != 9 {
					t.Errorf("%d workers: broke down with %v after %d others, want no ink after 9", workers, p, others.Load())
				}
			}()
			sideBySide(10, workers, func(i int) {
				if i == 4 {
					panic("no ink")
				}
				others.Add(1)
			})
		}()
	}
}
