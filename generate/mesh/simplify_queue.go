package mesh

// simplifyQueue is a heap of vertices by rising cost, and by number where costs
// are equal.
type simplifyQueue struct {
	heap []int32
	at   []int32 // the place of each vertex in the heap, -1 if it is not there
	cost []float64
}

func newSimplifyQueue(n int) simplifyQueue {
	q := simplifyQueue{at: make([]int32, n), cost: make([]float64, n)}
	for i := range q.at {
		q.at[i] = -1
	}
	return q
}

// pop takes the first vertex off.
func (q *simplifyQueue) pop() (v int32, any bool) {
	if len(q.heap) == 0 {
		return -1, false
	}
	v = q.heap[0]
	q.put(v, 0, false)
	return v, true
}

// put queues v at a cost, or, unless wanted, takes it off.
func (q *simplifyQueue) put(v int32, cost float64, wanted bool) {
	i := q.at[v]
	q.cost[v] = cost
	switch {
	case wanted && i < 0:
		i = int32(len(q.heap))
		q.heap = append(q.heap, v)
		q.at[v] = i
	case !wanted && i >= 0:
		last := q.heap[len(q.heap)-1]
		q.heap[i], q.at[last], q.at[v] = last, i, -1
		q.heap = q.heap[:len(q.heap)-1]
		if last == v {
			return
		}
	case !wanted:
		return
	}
	q.settle(i)
}

// settle moves what stands at place i up or down to where it belongs.
func (q *simplifyQueue) settle(i int32) {
	for i > 0 && q.less(i, (i-1)/2) {
		q.swap(i, (i-1)/2)
		i = (i - 1) / 2
	}
	for n := int32(len(q.heap)); ; {
		k := 2*i + 1
		if k >= n {
			return
		}
		if k+1 < n && q.less(k+1, k) {
			k++
		}
		if !q.less(k, i) {
			return
		}
		q.swap(i, k)
		i = k
	}
}

func (q *simplifyQueue) less(i, j int32) bool {
	v, w := q.heap[i], q.heap[j]
	if q.cost[v] != q.cost[w] {
		return q.cost[v] < q.cost[w]
	}
	return v < w
}

func (q *simplifyQueue) swap(i, j int32) {
	q.heap[i], q.heap[j] = q.heap[j], q.heap[i]
	q.at[q.heap[i]], q.at[q.heap[j]] = i, j
}
