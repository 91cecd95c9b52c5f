package templates

import (
	"bytes"
	"os"
	"testing"
)

// The starter's body is the one that `go run ./testdata/gen` makes: go:embed
// cannot reach it there, so it stands here too.
func TestTheBuoyIsTheGeneratedBody(t *testing.T) {
	made, err := os.ReadFile("../testdata/mesh/drift-buoy.stl")
	if err != nil {
		t.Fatal(err)
	}
	shipped, err := os.ReadFile("drift-buoy.stl")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(made, shipped) {
		t.Error("templates/drift-buoy.stl differs: copy testdata/mesh/drift-buoy.stl over it")
	}
}
