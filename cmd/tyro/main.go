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
	"os"
	"os/signal"
	"runtime/debug"
	"time"
)

func main() {
	if _, set := os.LookupEnv("GOGC"); !set {
		debug.SetGCPercent(memoryOver)
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

// memoryOver is how much memory, in percent of what is in use, may be taken before it is
// looked through for what is not: a registry's attempts stay in use to the end, and twice
// their size would be too much for small machines.
const memoryOver = 60

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
