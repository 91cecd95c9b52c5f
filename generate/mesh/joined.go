package mesh

// joined keeps track of which of n things hang together (union-find, with the
// paths halved as they are walked).
type joined []int32

func newJoined(n int) joined {
	j := make(joined, n)
	for i := range j {
		j[i] = int32(i)
	}
	return j
}

// root is the lowest thing that i hangs together with.
func (j joined) root(i int32) int32 {
	for j[i] != i {
		j[i] = j[j[i]]
		i = j[i]
	}
	return i
}

// join joins a's things and b's, and reports whether they were apart.
func (j joined) join(a, b int32) bool {
	a, b = j.root(a), j.root(b)
	j[max(a, b)] = min(a, b)
	return a != b
}
