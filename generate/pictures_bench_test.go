package generate

import (
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"
)

// BenchmarkPictures draws every picture of a made demo kit. BUCKWRIGHT_MADE is
// the folder that holds it: `buckwright make templates/tide-logger.yaml`. On a
// busy machine the processor time says more than the time on the wall: half of it
// is what two free processors take.
func BenchmarkPictures(b *testing.B) {
	made := os.Getenv("BUCKWRIGHT_MADE")
	if made == "" {
		b.Skip("BUCKWRIGHT_MADE is not set")
	}
	r := madeKit(b, filepath.Join("..", "templates", "tide-logger.yaml"), filepath.Join(made, "tide-logger"))
	b.ReportAllocs()
	before := processorTime(b)
	for b.Loop() {
		if _, err := r.draw().write(func(string, func(io.Writer) error) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((processorTime(b)-before).Seconds()/float64(b.N), "cpu-s/op")
}

// processorTime is what this process has taken so far.
func processorTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
