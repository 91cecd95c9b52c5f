package generate

import (
	"io"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkPictures draws every picture of a made demo kit. BUCKWRIGHT_MADE is
// the folder that holds it: `buckwright make templates/tide-logger.yaml`.
func BenchmarkPictures(b *testing.B) {
	made := os.Getenv("BUCKWRIGHT_MADE")
	if made == "" {
		b.Skip("BUCKWRIGHT_MADE is not set")
	}
	r := madeKit(b, filepath.Join("..", "templates", "tide-logger.yaml"), filepath.Join(made, "tide-logger"))
	r.Maps = linersOf(r)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := r.writePictures(func(string, func(io.Writer) error) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}
