package datasets

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// Reads lists the files that were read under a context, so that nothing is written
// over one of them.
type Reads struct {
	mu    sync.Mutex
	paths []string
}

// Paths are the files, as absolute paths where that is known, in reading order.
func (r *Reads) Paths() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return append([]string(nil), r.paths...)
}

func (r *Reads) add(path string) {
	if whole, err := filepath.Abs(path); err == nil {
		path = whole
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.paths = append(r.paths, path)
}

type readsKey struct{}

// Recording is a context under which this package lists every file it reads.
func Recording(ctx context.Context) (context.Context, *Reads) {
	r := &Reads{}
	return context.WithValue(ctx, readsKey{}, r), r
}

// rowsBetweenLooks is how many rows are read between two looks at the context: a few
// milliseconds of work.
const rowsBetweenLooks = 4096

// stopped is the end of the context, looked at once in a while.
func stopped(ctx context.Context, row int) error {
	if row%rowsBetweenLooks != 0 {
		return nil
	}
	return ctx.Err()
}

// readFile reads a data file; a missing one is a problem with its name.
func readFile(ctx context.Context, path string) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if r, ok := ctx.Value(readsKey{}).(*Reads); ok {
		r.add(path)
	}
	data, err := os.ReadFile(path)
	var place *fs.PathError
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, Problem{File: filepath.Base(path), Err: ErrMissing, Expect: "a file at " + path}
	case errors.As(err, &place):
		return nil, fmt.Errorf("%s cannot be read: %w", path, place.Err)
	}
	return data, err
}
