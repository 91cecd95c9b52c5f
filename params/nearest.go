package params

import "strings"

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
