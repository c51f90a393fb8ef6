package resample

import (
	"errors"
	"testing"
)

// Work that breaks down on a goroutine is an error of Each, not the end of the program.
func TestEachCatchesPanics(t *testing.T) {
	for _, workers := range []int{1, 3} {
		err := Each(t.Context(), 10, Sampling{Workers: workers}, func() func(int) error {
			return func(i int) error {
				if i == 4 {
					panic("no such row")
				}
				return nil
			}
		})
		var p Panic
		if !errors.As(err, &p) || p.Value != "no such row" || len(p.Stack) == 0 {
			t.Errorf("%d workers: %v, want the panic as an error", workers, err)
		}
		err = Each(t.Context(), 10, Sampling{Workers: workers}, func() func(int) error { panic("no memory of its own") })
		if !errors.As(err, &p) || p.Value != "no memory of its own" {
			t.Errorf("%d workers, before any work: %v", workers, err)
		}
	}
}
