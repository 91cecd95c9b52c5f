package estimate

import (
	"fmt"
	"os"
	"testing"
	"time"

	"buckwright/generate/mesh/meshfile"
)

func TestLook(t *testing.T) {
	s := Settings{Layer: .3, Width: .45, Nozzle: .4, Walls: 3, Top: 4, Bottom: 4, Infill: .15, Density: 1040,
		Speed: Speed{40, 60, 60, 40, 80, 30, 25, 150}, Acceleration: 1000}
	for _, f := range []string{"tide-logger/parts/base", "tide-logger/parts/buck", "tide-logger/parts/lid", "tide-logger/parts/press-nest", "tide-logger/parts/press-tool", "drift-buoy/parts/base", "drift-buoy/parts/buck", "drift-buoy/parts/lid", "drift-buoy/parts/press-tool"} {
		b, err := os.ReadFile("/tmp/made/" + f + ".stl")
		if err != nil {
			t.Fatal(err)
		}
		m, err := meshfile.Read(f+".stl", b, meshfile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		at := time.Now()
		p := Part(m, s)
		fmt.Printf("%s %.2f g, walls %.2f full %.2f sparse %.2f, %.0f s, bridge %.1f (%v)\n", f, p.Grams, p.Walls*1.04e-3, p.Full*1.04e-3, p.Sparse*1.04e-3, p.Seconds, p.Bridge, time.Since(at))
	}
}
