package forming

// union joins numbers into sets.
type union []int32

func newUnion(n int) union {
	u := make(union, n)
	for i := range u {
		u[i] = int32(i)
	}
	return u
}

func (u union) root(i int32) int32 {
	for u[i] != i {
		u[i] = u[u[i]]
		i = u[i]
	}
	return i
}

// join keeps the lower root, so the result does not depend on the order.
func (u union) join(a, b int32) {
	a, b = u.root(a), u.root(b)
	u[max(a, b)] = min(a, b)
}
