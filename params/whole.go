package params

import (
	"fmt"
	"math"

	"gopkg.in/yaml.v3"
)

// whole is a count within a range, ends included.
type whole struct {
	to     *int
	lo, hi int
}

func (v whole) read(r *reader, at string, n *yaml.Node) {
	x, ok := (number{nil, ratio, float64(v.lo), float64(v.hi)}).number(r, at, n)
	if !ok {
		return
	}
	if x != math.Trunc(x) {
		r.problem(n, at, fmt.Sprintf("%s is not a whole number; allowed: %d to %d", plain(x), v.lo, v.hi), r.help)
		return
	}
	*v.to = int(x)
	r.place(at, n)
}

func (v whole) schema() object { return object{"type": "integer", "minimum": v.lo, "maximum": v.hi} }

func (v whole) show() string { return fmt.Sprint(*v.to) }
