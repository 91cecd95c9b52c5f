package generate

import (
	"runtime"
	"sync"
)

// sideBySide does the jobs 0 to n-1, as many at a time as there are processors,
// started in order. It returns when all are done.
func sideBySide(n int, job func(i int)) {
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wait sync.WaitGroup
	for i := range n {
		free <- struct{}{}
		wait.Go(func() {
			defer func() { <-free }()
			job(i)
		})
	}
	wait.Wait()
}
