package main

import "testing"

func TestMemoryLimit(t *testing.T) {
	for _, c := range []struct{ live, want int64 }{
		{0, memoryAim},
		{memoryAim / 2, memoryAim},
		{memoryAim, memoryAim / 2 * 3},
		{4 << 30, 6 << 30},
	} {
		if got := memoryLimit(c.live); got != c.want {
			t.Errorf("memoryLimit(%d) = %d, want %d", c.live, got, c.want)
		}
	}
}
