// Command tyro answers, from an attempt log, how many attempts until a trainee,
// a cohort or a curriculum is proficient, and how sure that is.
//
// Results go to standard output, talk and progress to standard error. The exit
// status is 0 when done, 1 when the data or a fit failed, 2 when the command
// line is wrong.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	status := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(status)
}
