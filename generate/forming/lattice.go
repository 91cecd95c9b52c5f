package forming

import (
	"math"

	"buckwright/generate/geom"
)

// lattice is the flat sheet as squares of the given side, halved so that their
// diagonals meet in stars: a mirror image or a quarter turn about the middle is
// the same mesh. Turned, it is cut to the frame's rectangle.
func lattice(set *Setup, side float64) *sheet {
	w, h := set.Area[0], set.Area[1]
	turned := set.Turn != 0
	if turned { // a turned rectangle lies within its diagonal
		w = math.Hypot(w, h) + 2*side
		h = w
	}
	nx, ny := evenCount(w, side), evenCount(h, side)
	s := &sheet{}
	cos, sin := set.Turn.Cos(), set.Turn.Sin()
	for j := 0; j <= ny; j++ {
		for i := 0; i <= nx; i++ {
			p := geom.Vec2{X: w * (float64(2*i-nx) / float64(2*nx)), Y: h * (float64(2*j-ny) / float64(2*ny))}
			if turned {
				p = geom.Vec2{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos}
			}
			p = p.Add(set.Center)
			s.addNode(p, p.At(set.Rim))
		}
	}
	at := func(i, j int) int32 { return int32(j*(nx+1) + i) }
	for j := range ny {
		for i := range nx {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if (i+j)%2 == 0 {
				s.tri = append(s.tri, [3]int32{a, b, c}, [3]int32{a, c, d})
			} else {
				s.tri = append(s.tri, [3]int32{a, b, d}, [3]int32{b, c, d})
			}
		}
	}
	s.link()
	if turned {
		frame := func(p geom.Vec2) float64 {
			q := p.Sub(set.Center)
			return max(math.Abs(q.X)-set.Area[0]/2, math.Abs(q.Y)-set.Area[1]/2)
		}
		s.cut(frame)
		s.keep(func(p geom.Vec2) bool { return frame(p) < 0 })
	}
	return s
}

func evenCount(length, side float64) int {
	return 2 * max(1, int(math.Ceil(length/(2*side)-1e-9)))
}

// keep drops the elements whose middle is not wanted, and the nodes left over.
func (s *sheet) keep(wanted func(geom.Vec2) bool) {
	old, to := *s, make([]int32, len(s.node))
	*s = sheet{}
	for _, v := range old.tri {
		mid := old.flat[v[0]].Add(old.flat[v[1]]).Add(old.flat[v[2]]).Scale(1.0 / 3)
		if !wanted(mid) {
			continue
		}
		for k, n := range v {
			if to[n] == 0 {
				to[n] = s.addNode(old.flat[n], old.node[n]) + 1
			}
			v[k] = to[n] - 1
		}
		s.tri = append(s.tri, v)
	}
	s.link()
}
