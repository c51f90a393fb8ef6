package datasets

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
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

// readFile reads a data file; a missing one is a problem with its name.
func readFile(ctx context.Context, path string) ([]byte, error) {
	return readOpened(ctx, path, func() (fs.File, error) { return os.Open(path) })
}

// readWithin reads a file that a study file names, which must lie in the study's folder.
func readWithin(ctx context.Context, dir, name string) ([]byte, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	if !filepath.IsLocal(name) {
		return nil, Problem{File: StudyFile, Column: "file", Value: name, Err: problem.ErrRange, Expect: "a file in the study's folder: copy it there"}
	}
	data, err := readOpened(ctx, filepath.Join(dir, name), func() (fs.File, error) { return root.Open(name) })
	if err != nil && strings.Contains(err.Error(), "path escapes") {
		return nil, Problem{File: StudyFile, Column: "file", Value: name, Err: problem.ErrRange, Expect: "a file in the study's folder and no link out of it: copy the file there"}
	}
	return data, err
}

// readOpened reads an opened file, within the bounds of what is read of one.
func readOpened(ctx context.Context, path string, open func() (fs.File, error)) ([]byte, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if r, ok := ctx.Value(readsKey{}).(*Reads); ok {
		r.add(path)
	}
	data, err := readBounded(path, open)
	var place *fs.PathError
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, Problem{File: filepath.Base(path), Err: problem.ErrMissing, Expect: "a file at " + path}
	case errors.As(err, &place):
		return nil, fmt.Errorf("%s cannot be read: %w", path, place.Err)
	}
	return data, err
}

// unchanged refuses a file that was written while it was read, of which a part may be old or cut.
func unchanged(path string, f fs.File, before fs.FileInfo) error {
	after, err := f.Stat()
	if err == nil && before.Mode().IsRegular() && (after.Size() != before.Size() || !after.ModTime().Equal(before.ModTime())) {
		return Problem{File: filepath.Base(path), Err: problem.ErrFormat, Expect: "a file that nobody writes while it is read: run this again when it is complete"}
	}
	return err
}

// readBounded reads a plain file to its end.
func readBounded(path string, open func() (fs.File, error)) ([]byte, error) {
	f, err := open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, &fs.PathError{Op: "read", Path: path, Err: errors.New("it is a folder")}
	case info.Size() > grid.MostBytes:
		return nil, Problem{File: filepath.Base(path), Err: problem.ErrFormat, Expect: fmt.Sprintf("a file of at most %d million bytes, since all of it is held in memory and a broken file must not take the machine down; split it by trainees and name the parts under files in a study file, or keep the columns needed", grid.MostBytes>>20)}
	}
	data := make([]byte, 0, info.Size()+1)
	for {
		n, err := f.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		switch {
		case errors.Is(err, io.EOF):
			if err := unchanged(path, f, info); err != nil {
				return nil, err
			}
			return data, nil
		case err != nil:
			return nil, err
		case len(data) > grid.MostBytes:
			return nil, Problem{File: filepath.Base(path), Err: problem.ErrFormat, Expect: fmt.Sprintf("a file of at most %d million bytes", grid.MostBytes>>20)}
		case len(data) == cap(data):
			data = append(data, 0)[:len(data)]
		}
	}
}
