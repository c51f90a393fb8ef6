package resample

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"

	"tyro/analysis/shard"
)

// A Sampling says which replicates to draw. The zero value of a field means its
// default, so Sampling{Seed: 1} is ready to use.
type Sampling struct {
	Seed       uint64
	Replicates int                   // 0 means 2000
	Workers    int                   // 0 means all processors; never changes a number
	Progress   func(done, total int) // nil is silent; called from one goroutine at a time
	// Ledger is for work that is cut into shards, see [Items]; nil: all of it is done here.
	Ledger *shard.Ledger
}

// DefaultReplicates is used where a sampling does not say.
const DefaultReplicates = 2000

// Count is the number of replicates of the sampling.
func (p Sampling) Count() int {
	if p.Replicates > 0 {
		return p.Replicates
	}
	return DefaultReplicates
}

// Each calls work once for every index 0..n-1, on several goroutines. newWork
// is called once a goroutine, so that the work can own scratch memory. Results
// must go to places that belong to the index. An error, or the end of ctx,
// stops the rest; the error with the lowest index is returned. A panic in the work
// becomes a Panic error, since nobody else could catch it.
func Each(ctx context.Context, n int, p Sampling, newWork func() func(i int) error) error {
	workers := p.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = max(1, min(workers, n))
	var next, done atomic.Int64
	var mu sync.Mutex
	firstErr, firstAt := error(nil), n
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			var work func(i int) error
			if err := calmly(func() error { work = newWork(); return nil }); err != nil {
				mu.Lock()
				firstErr, firstAt = err, 0
				mu.Unlock()
				return
			}
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				err := calmly(func() error { return work(i) })
				mu.Lock()
				if err != nil && i < firstAt {
					firstErr, firstAt = err, i
				}
				stop := firstErr != nil
				if p.Progress != nil {
					p.Progress(int(done.Add(1)), n)
				}
				mu.Unlock()
				if stop {
					return
				}
			}
		})
	}
	wg.Wait()
	if firstErr != nil {
		return fmt.Errorf("item %d: %w", firstAt, firstErr)
	}
	return ctx.Err()
}

// A Panic is work of Each that broke down.
type Panic struct {
	Value any    // what it panicked with
	Stack []byte // where
}

// Error says what the work panicked with.
func (p Panic) Error() string { return fmt.Sprintf("the work broke down: %v", p.Value) }

// calmly turns a panic of the work into an error.
func calmly(work func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = Panic{p, debug.Stack()}
		}
	}()
	return work()
}

// Items does n pieces of work of a name and lists what they gave, as [Each] does; what one
// gives is a value of its own, not shared memory. With a ledger of one shard only the shard's
// pieces are done and kept there, and the error is [shard.ErrMade]; with one of all shards
// none is done.
func Items[T any](ctx context.Context, n int, p Sampling, name string, newWork func() func(i int) (T, error)) ([]T, error) {
	out := make([]T, n)
	if p.Ledger == nil {
		return out, Each(ctx, n, p, func() func(int) error {
			work := newWork()
			return func(i int) (err error) {
				out[i], err = work(i)
				return err
			}
		})
	}
	todo, err := p.Ledger.Begin(shard.Work{Name: name, Items: n, Record: shard.Layout[T]()})
	if err != nil {
		return nil, err
	}
	if p.Ledger.Whole() {
		return out, Each(ctx, n, Sampling{Workers: p.Workers}, func() func(int) error {
			return func(i int) (err error) {
				out[i], err = shard.Decode[T](p.Ledger.Take(i))
				return err
			}
		})
	}
	err = Each(ctx, len(todo), p, func() func(int) error {
		work := newWork()
		return func(k int) error {
			v, err := work(todo[k])
			if err != nil {
				return err
			}
			record, err := shard.Encode(v)
			p.Ledger.Put(k, record)
			return err
		}
	})
	return nil, cmp.Or(err, shard.ErrMade)
}

// Replicate draws every replicate of the sampling for the purpose. newDraw is
// called once a goroutine and returns the function that computes one replicate
// from its stream; the result must be a fresh value, not shared memory. Work with a
// ledger is cut as [Items] says.
func Replicate[T any](ctx context.Context, p Sampling, purpose string, newDraw func() func(*rand.Rand) T) ([]T, error) {
	return Items(ctx, p.Count(), p, purpose, func() func(int) (T, error) {
		draw := newDraw()
		return func(i int) (T, error) { return draw(Stream(p.Seed, purpose, i)), nil }
	})
}
