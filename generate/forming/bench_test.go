package forming

import (
	"fmt"
	"math"
	"runtime"
	"testing"
	"time"

	"buckwright/generate/geom"
)

// desk is a block with two pockets about as large as those of the starter kits,
// in a frame of 9 x 12 in.
func desk() Setup {
	b := block{
		half: geom.Vec2{X: 109, Y: 60}, high: 32, draft: 5 * geom.Degree,
		pockets: []well{
			{geom.Vec2{X: -33}, geom.Vec2{X: 62, Y: 35}, 19},
			{geom.Vec2{X: 72}, geom.Vec2{X: 25, Y: 25}, 22},
		},
	}
	return b.shot(firm, 304.8, 228.6)
}

// BenchmarkForm is one shot of the desk former by the edge of an element. The
// cost grows no faster than the number of elements that the sheet is laid with, to
// the power 1.5: "order" is that power from the edge before. "end" is how many
// elements there are in the end, which grows less: where full vacuum bends the sheet
// closer than an element a coarse mesh is halved until it is as fine as a fine one.
// "peak-MB" is the most memory in use at once.
func BenchmarkForm(b *testing.B) {
	var last, cost, lastLaid, laid float64
	for _, e := range []float64{5, 2.5, 1.25} {
		s := desk()
		s.Element = e
		last, lastLaid, laid = cost, laid, float64(laidElements(b, s))
		b.Run(fmt.Sprintf("%gmm", e), func(b *testing.B) {
			var f *Formed
			b.ReportAllocs()
			peak := watchMemory()
			for b.Loop() {
				f = form(b, s)
			}
			cost = b.Elapsed().Seconds() / float64(b.N)
			b.ReportMetric(float64(peak())/(1<<20), "peak-MB")
			b.ReportMetric(laid, "elements")
			b.ReportMetric(float64(len(f.Element)), "end")
			if last > 0 {
				b.ReportMetric(math.Log(cost/last)/math.Log(laid/lastLaid), "order")
			}
		})
	}
}

// laidElements is how many elements a shot begins with.
func laidElements(t testing.TB, s Setup) int {
	t.Helper()
	if err := s.check(); err != nil {
		t.Fatal(err)
	}
	return len((&former{set: s, tool: newTool(&s)}).mesh().tri)
}

// watchMemory looks every millisecond at how much memory holds objects, and
// returns how to end that and hear the most, bytes.
func watchMemory() (most func() uint64) {
	runtime.GC()
	stop, peak := make(chan struct{}), make(chan uint64)
	go func() {
		var m runtime.MemStats
		var most uint64
		for tick := time.NewTicker(time.Millisecond); ; {
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse+m.StackInuse)
			select {
			case <-tick.C:
			case <-stop:
				tick.Stop()
				peak <- most
				return
			}
		}
	}()
	return func() uint64 { close(stop); return <-peak }
}

// BenchmarkReference is the machine's own speed: ten million square roots and
// sums, to read the other figures against.
func BenchmarkReference(b *testing.B) {
	sum := 0.0
	for b.Loop() {
		for i := range 10_000_000 {
			sum += math.Sqrt(float64(i) + sum)
		}
	}
	if math.IsNaN(sum) {
		b.Fatal("not a number")
	}
}
