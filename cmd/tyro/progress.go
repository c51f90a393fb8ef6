package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress shows how far work has come that takes a while, and how much time it has left: a
// bar on a terminal, and elsewhere, as in the log of a job, a line now and then.
func (a app) progress(what string) func(done, total int) {
	show := lines(a.errw, what, time.Now, time.Minute)
	if file, ok := a.errw.(*os.File); ok && term.IsTerminal(int(file.Fd())) {
		show = bar(file, what)
	}
	return func(done, total int) {
		if !*a.quiet { // known only once the flags are read
			show(done, total)
		}
	}
}

// bar shows a bar for work that takes over a second.
func bar(file *os.File, what string) func(done, total int) {
	started := time.Now()
	var bar *progressbar.ProgressBar
	return func(done, total int) {
		switch {
		case bar == nil && done < total && time.Since(started) > time.Second:
			bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(file), progressbar.OptionSetDescription(what), progressbar.OptionClearOnFinish(), progressbar.OptionThrottle(100*time.Millisecond))
		case bar != nil && bar.GetMax() != total:
			bar.ChangeMax(total)
		}
		if bar != nil {
			bar.Set(done)
		}
	}
}

// lines writes a line at most so often.
func lines(w io.Writer, what string, now func() time.Time, every time.Duration) func(done, total int) {
	var started, said time.Time // of the piece of work, which begins anew with another total
	first, of := 0, -1
	return func(done, total int) {
		t := now()
		if total != of || done < first {
			started, said, first, of = t, t, done, total
		}
		if t.Sub(said) < every || done >= total {
			return
		}
		said = t
		left := t.Sub(started).Minutes() / float64(done-first) * float64(total-done)
		fmt.Fprintf(w, "%s: %d of %d, about %.0f min left\n", what, done, total, max(1, left))
	}
}
