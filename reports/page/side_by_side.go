package page

import (
	"cmp"
	"runtime"
	"sync"
)

// sideBySide calls work for 0..n−1, so many at a time, 0 for as many as there are processors,
// the first begun first. Work that breaks down does so for the caller.
func sideBySide(n, workers int, work func(i int)) {
	next := make(chan int)
	var all sync.WaitGroup
	var broken sync.Map
	for range min(n, cmp.Or(workers, runtime.GOMAXPROCS(0))) {
		all.Go(func() {
			for i := range next {
				func() {
					defer func() {
						if p := recover(); p != nil {
							broken.Store(i, p)
						}
					}()
					work(i)
				}()
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	all.Wait()
	for i := range n {
		if p, ok := broken.Load(i); ok {
			panic(p)
		}
	}
}
