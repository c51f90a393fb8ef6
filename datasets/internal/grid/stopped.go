package grid

import "context"

// rowsBetweenLooks is how many rows are read between two looks at the context: a few
// milliseconds of work.
const rowsBetweenLooks = 4096

// Stopped is the end of the context, looked at once in a while.
func Stopped(ctx context.Context, row int) error {
	if row%rowsBetweenLooks != 0 {
		return nil
	}
	return ctx.Err()
}
