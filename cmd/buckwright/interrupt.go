package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// ends are the signals that end a run in good order: an interrupt, a request to
// end, a terminal that is closed, a reader of the output that has gone. A hang-up
// that the run was started to ignore (nohup) stays ignored.
func ends() []os.Signal {
	all := []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGPIPE}
	if !signal.Ignored(syscall.SIGHUP) {
		all = append(all, syscall.SIGHUP)
	}
	return all
}

// waitFor runs work, and waits for it no longer than until the run is to end: a pipe
// may never be written to, and the mending of a large mesh takes minutes. What is
// then still at work ends with the process.
func waitFor[T any](ctx context.Context, work func() (T, error)) (T, error) {
	type result struct {
		got T
		err error
	}
	done := make(chan result, 1)
	go func() {
		got, err := work()
		done <- result{got, err}
	}()
	select {
	case r := <-done:
		return r.got, r.err
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
