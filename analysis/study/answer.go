package study

import (
	"context"
	"sync"
)

// An answer is computed when it is first asked for, and kept. One that was cut short
// by its context is computed again when asked again.
type answer[T any] struct {
	mu    sync.Mutex
	known bool
	value T
	err   error
}

func (a *answer[T]) get(ctx context.Context, compute func() (T, error)) (T, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if !a.known {
		a.value, a.err = compute()
		a.known = ctx.Err() == nil
	}
	return a.value, a.err
}
