package picture

import (
	"cmp"
	"slices"
)

// spread moves labels apart along a line: each wants to be at want, in rising
// order, and needs need of room. The result keeps the order and is the nearest
// to what was wanted by least squares, within lo and hi if they fit there.
// Source: pool adjacent violators, Ayer et al., Ann. Math. Stat. 26, 1955.
func spread(want, need []float64, lo, hi float64) []float64 {
	n := len(want)
	at := make([]float64, n) // offset of each label from the first when packed
	for i := 1; i < n; i++ {
		at[i] = at[i-1] + (need[i-1]+need[i])/2
	}
	type block struct {
		sum  float64
		size int
	}
	var blocks []block
	for i := range n {
		blocks = append(blocks, block{want[i] - at[i], 1})
		for len(blocks) > 1 {
			a, b := blocks[len(blocks)-2], blocks[len(blocks)-1]
			if a.sum/float64(a.size) <= b.sum/float64(b.size) {
				break
			}
			blocks = append(blocks[:len(blocks)-2], block{a.sum + b.sum, a.size + b.size})
		}
	}
	out := make([]float64, 0, n)
	for _, b := range blocks {
		for range b.size {
			i := len(out)
			y := b.sum / float64(b.size)
			if most := hi - need[n-1]/2 - at[n-1]; y > most {
				y = most
			}
			if least := lo + need[0]/2; y < least {
				y = least
			}
			out = append(out, y+at[i])
		}
	}
	return out
}

// byY is a copy sorted by the height of each, equal ones in their own order.
func byY[T any](all []T, y func(T) float64) []T {
	out := slices.Clone(all)
	slices.SortStableFunc(out, func(a, b T) int { return cmp.Compare(y(a), y(b)) })
	return out
}
