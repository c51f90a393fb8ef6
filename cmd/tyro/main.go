// Command tyro answers, from an attempt log, how many attempts until a trainee,
// a cohort or a curriculum is proficient, and how sure that is.
//
// Results go to standard output, talk and progress to standard error. The exit
// status is 0 when done, 1 when the data or a fit failed, 2 when the command
// line is wrong, 130 when interrupted.
package main

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/signal"
	"runtime/debug"
	"time"
)

func main() {
	if _, set := os.LookupEnv("GOGC"); !set {
		debug.SetGCPercent(usualPercent)
	}
	ctx, cancel := context.WithCancel(context.Background())
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt)
	go func() {
		<-signals
		cancel()
		waitOrLeave(signals)
	}()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}

// How much memory, in percent of what is in use, may be taken before it is looked through for
// what is not: much in most runs, which need little; little where a large file is read, since a
// registry's attempts stay in use to the end, and twice their size would be too much for small
// machines.
const (
	usualPercent = 200
	memoryOver   = 60
)

// spareFor takes less memory over for what is read from a large file, or a folder of such.
func spareFor(path string) {
	size := int64(0)
	add := func(info fs.FileInfo, err error) {
		if err == nil && info.Mode().IsRegular() { // what cannot be read is told by those who read it
			size += info.Size()
		}
	}
	add(os.Stat(path))
	entries, _ := os.ReadDir(path)
	for _, e := range entries {
		add(e.Info())
	}
	if size <= large {
		return
	}
	if before := debug.SetGCPercent(memoryOver); before < memoryOver {
		debug.SetGCPercent(before)
	}
}

// patience is how long an interrupted run may take to end by itself. What it was
// writing is put right by the next run.
const patience = 700 * time.Millisecond

// waitOrLeave ends the process at a second interrupt, or when the run takes too long
// to notice the first.
func waitOrLeave(signals <-chan os.Signal) {
	select {
	case <-signals:
	case <-time.After(patience):
	}
	fmt.Fprintln(os.Stderr, interruptedLine)
	os.Exit(exitInterrupted)
}
