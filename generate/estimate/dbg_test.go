package estimate

import (
	"buckwright/generate/mesh/meshfile"
	"fmt"
	"os"
	"testing"
)

func TestDbg(t *testing.T) {
	f := os.Getenv("F")
	if f == "" {
		t.Skip()
	}
	s := Settings{Layer: .3, Width: .45, Nozzle: .4, Walls: 3, Top: 4, Bottom: 4, Infill: .15, Density: 1040,
		Speed: Speed{40, 60, 60, 40, 80, 30, 25, 150}, Acceleration: 1000}
	b, _ := os.ReadFile(f)
	m, err := meshfile.Read(f, b, meshfile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	st := newStack(m, s)
	for i := range st.layers {
		l := st.look(i)
		k := .3 * 1.04e-3
		fmt.Printf("L %d walls %.3f full %.3f top %.3f bridge %.3f sparse %.3f\n", i, l.walls*k, l.full*k, l.top*k, l.bridge*bridgeHeight(s)*1.04e-3, l.sparse*.15*k)
	}
}
