package mesh

// Joined keeps track of which of n things hang together (union-find, with the
// paths halved as they are walked).
type Joined []int32

// NewJoined is n things, each apart from the others.
func NewJoined(n int) Joined {
	j := make(Joined, n)
	for i := range j {
		j[i] = int32(i)
	}
	return j
}

// Root is the lowest thing that i hangs together with.
func (j Joined) Root(i int32) int32 {
	for j[i] != i {
		j[i] = j[j[i]]
		i = j[i]
	}
	return i
}

// Join joins a's things and b's, and reports whether they were apart.
func (j Joined) Join(a, b int32) bool {
	a, b = j.Root(a), j.Root(b)
	j[max(a, b)] = min(a, b)
	return a != b
}
