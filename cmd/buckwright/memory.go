package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// memoryAim is how much memory, in bytes, a run keeps to where what it needs at once
// leaves room for that: garbage is collected before more is taken.
const memoryAim = 500 << 20

// memoryGrowth is by how many percent of what is needed memory may grow before it is
// collected, below the aim. With Go's usual 100 a run collects 200 times, which makes
// it a twentieth slower.
const memoryGrowth = 300

// memoryMark is an object that nothing refers to: its finalizer runs after the next
// collection. With 16 bytes it is not packed together with other small objects, which
// could keep it alive.
type memoryMark struct{ _ [16]byte }

// keepSmall has memory collected as a run comes near memoryAim, and not much sooner.
// Where the user sets the Go runtime's own variables, it leaves everything to them.
func keepSmall() {
	if os.Getenv("GOMEMLIMIT") != "" || os.Getenv("GOGC") != "" {
		return
	}
	debug.SetMemoryLimit(memoryAim)
	debug.SetGCPercent(memoryGrowth)
	var collected func(*memoryMark)
	collected = func(*memoryMark) {
		live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(live)
		debug.SetMemoryLimit(memoryLimit(int64(live[0].Value.Uint64())))
		runtime.SetFinalizer(&memoryMark{}, collected)
	}
	runtime.SetFinalizer(&memoryMark{}, collected)
}

// memoryLimit is the limit for a run that needs live bytes at once. Where those come
// near the aim the limit is raised: the run would do nothing but collect.
func memoryLimit(live int64) int64 { return max(memoryAim, live/2*3) }
