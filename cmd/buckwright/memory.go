package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// memoryAim is the memory, in bytes, that a run keeps to by collecting what it no
// longer needs sooner, if what it does need leaves room for that.
const memoryAim = 500 << 20

// memoryGrowth is by how many percent of what is needed memory may grow, below the aim,
// before it is collected: with the usual 100 a run collects 200 times, which takes it a
// twentieth longer.
const memoryGrowth = 300

// memoryMark is garbage from the start: it is told when the next collection is over.
type memoryMark struct{ _ [16]byte }

// keepSmall has memory collected before a run takes more than memoryAim, and not much
// sooner. The environment variables of the Go runtime have the last word.
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

// memoryLimit is the limit for a run that needs so much: where that comes near to
// the aim, it is raised, or the run would do nothing but collect.
func memoryLimit(live int64) int64 { return max(memoryAim, live/2*3) }
