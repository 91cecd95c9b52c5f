package params

import (
	"slices"
	"strings"
)

// nearest is the word that was probably meant: the one fewest edits away, at
// most a third of its length; "" when none is that near.
func nearest(word string, words []string) string {
	const longest = 64 // edits of longer words are not worth the time
	word = strings.ToLower(strings.ReplaceAll(word, "-", "_"))
	if len(word) > longest {
		return ""
	}
	best, bestEdits := "", 1<<30
	for _, w := range words {
		plain := strings.ReplaceAll(strings.ToLower(w), "-", "_")
		if d := edits(word, plain); d < bestEdits && 3*d <= max(len(word), len(plain)) {
			best, bestEdits = w, d
		}
	}
	return best
}

// alike is the key that another word for the same thing was probably meant for, or the
// first that has the word as a part, as corner_radius has radius; "" when there is none.
func alike(word string, keys []string) string {
	for _, same := range [][]string{
		{"length", "height", "size"}, {"radius", "diameter"}, {"dia", "diameter"}, {"thickness", "gauge"}, {"sphere", "ellipsoid"}, {"ball", "ellipsoid"}, {"rod", "cylinder"},
		{"polygon", "profile"}, {"stl", "mesh"}, {"weight", "mass"}, {"rotation", "turn"}, {"angle", "turn", "draft"}, {"position", "at"}, {"shrinkage", "shrink"}, {"temperature", "heater"},
	} {
		for i, w := range same {
			other := slices.Concat(same[:i], same[i+1:])
			k := slices.IndexFunc(other, func(o string) bool { return slices.Contains(keys, o) })
			if w == strings.ToLower(word) && k >= 0 {
				return other[k]
			}
		}
	}
	for _, key := range keys {
		if slices.Contains(strings.Split(key, "_"), strings.ToLower(word)) {
			return key
		}
	}
	return ""
}

// edits is the optimal string alignment distance: insertions, deletions,
// replacements and swaps of neighbours.
func edits(a, b string) int {
	older, prev, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, prev, row = prev, row, older
	}
	return prev[len(b)]
}
