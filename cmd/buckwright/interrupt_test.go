package main

import (
	"context"
	"errors"
	"testing"
)

// What has no end is waited for until the run is to end, and no longer.
func TestWaitFor(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	begun, never := make(chan bool), make(chan bool)
	go func() { <-begun; cancel() }()
	got, err := waitFor(ctx, func() (int, error) { close(begun); <-never; return 1, nil })
	if got != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("%d, %v", got, err)
	}
	mine := errors.New("mine")
	if got, err := waitFor(t.Context(), func() (int, error) { return 2, mine }); got != 2 || err != mine {
		t.Errorf("%d, %v, want what the work gives", got, err)
	}
}
