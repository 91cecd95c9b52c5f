package forming

import "sync"

// each does work on every free region that does not rest, side by side: regions
// share no free node. It returns how many there were.
func (f *former) each(work func(*region)) int {
	busy := 0
	var wait sync.WaitGroup
	for _, r := range regions(f.sheet, f.set.Law, f.set.Gauge) {
		if r.state[r.node[0]].rests {
			continue
		}
		busy++
		r.side = f.set.Element
		wait.Go(func() { work(r) })
	}
	wait.Wait()
	return busy
}

// stiffen prepares a region's stiffness.
func (f *former) stiffen(r *region) {
	r.k = newStiffness(r, f.set.Law.Shear()*f.set.Gauge)
	r.pushing = r.push(r.x)
}
