package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"

	"tyro/analysis/plan"
	"tyro/reports"
)

// isPlanFile reports whether a name given to --out is a plan's file, and not a folder.
func isPlanFile(name string) bool { return strings.HasSuffix(name, ".json") }

// openPlan reads a plan's file.
func openPlan(path string) (*plan.File, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("no plan at %s: %w", path, plainPathError(err))
	}
	file, err := plan.ReadFile(bytes.NewReader(text))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return file, nil
}

// plainPathError is what is wrong with a path, without the path again.
func plainPathError(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

func fileText(f *plan.File) ([]byte, error) {
	var b bytes.Buffer
	err := f.Write(&b)
	return b.Bytes(), err
}

// A planKeeper keeps a plan's studies in a file while they are simulated, so that an
// interrupted or killed run loses little.
type planKeeper struct {
	app  app
	path string // blank: nothing is kept
	last time.Time
	held int // studies there when the run began
}

// keptEvery is how often the file is written while studies are simulated.
const keptEvery = 20 * time.Second

// planKeeper gets ready to keep a plan in the file that --out names. Where the file is there
// already, its plan goes on; one of another plan is refused, and left as it is.
func (a app) planKeeper(out string, file **plan.File) (*planKeeper, error) {
	k := &planKeeper{app: a, last: time.Now()}
	if !isPlanFile(out) {
		return k, nil
	}
	k.path = out
	if _, err := os.Lstat(out); errors.Is(err, fs.ErrNotExist) {
		return k, k.write(*file) // what cannot be written is known before the work
	}
	old, err := openPlan(out)
	if err != nil {
		return nil, fmt.Errorf("%w; nothing is written over it: name another file", err)
	}
	if err := (*file).SameAs(old); err != nil {
		return nil, fmt.Errorf("%s holds another plan: %w; it stays as it is: name another file", out, err)
	}
	*file = old
	k.held = studies(old)
	return k, nil
}

// studies counts those of a plan.
func studies(f *plan.File) int {
	n := 0
	for _, c := range f.Cells {
		n += len(c.Outcomes)
	}
	return n
}

// now keeps what there is, when it is time.
func (k *planKeeper) now(f *plan.File) error {
	if k.path == "" || time.Since(k.last) < keptEvery {
		return nil
	}
	k.last = time.Now()
	return k.write(f)
}

// end keeps what there is, and says so.
func (k *planKeeper) end(f *plan.File) error {
	if k.path == "" {
		return nil
	}
	if err := k.write(f); err != nil {
		return err
	}
	fmt.Fprintf(k.app.talk(), "%s holds %d studies, %d of them new\n", reports.Printable(k.path), studies(f), studies(f)-k.held)
	return nil
}

// write puts the file into place whole, beside first.
func (k *planKeeper) write(f *plan.File) error {
	text, err := fileText(f)
	if err != nil {
		return err
	}
	return writeFile(context.WithoutCancel(k.app.ctx), k.path, text) // an interrupted run keeps its studies
}
