package solid

import (
	"math"
	"sort"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Vent is one hole in the buck: At on the pocket's surface, Land the height at
// which its bore from below begins.
type Vent struct {
	At   geom.Vec
	Land float64
}

// Floor is one connected flat place of a pocket: its grid points on the surface.
type Floor struct {
	Points []geom.Vec
	Box    geom.Box
}

const (
	surveyStep = 2.0  // mm between the plumb lines of the survey
	flatSlope  = 0.36 // tan 20 degrees: steeper is wall
	innerPitch = 50.0 // mm between vents inside a flat floor; common practice, no source
)

// survey drops plumb lines into the buck's pockets and keeps what they find:
// the flat floors. It returns the height of the deepest point met.
func (l *Layout) survey() float64 {
	g := newPlumb(l.Under(0), l.Mouth.Grow(l.Dims.Insert.Wall+surveyStep), surveyStep)
	l.Floors = g.floors()
	l.shallow = l.leansAt(g)
	return g.low
}

// leansAt reports that the surface that plumb lines met leans more than a wall, as a floor
// does, within reach of the rounding of the mouths.
func (l *Layout) leansAt(g *plumb) bool {
	under := l.Under(0)
	low := -(l.Dims.Insert.Rim + l.Dims.Pocket.MouthRadius + g.step)
	for i, z := range g.z {
		if !(z > low) {
			continue
		}
		if _, n, ok := sdf.Gradient(under, g.point(i).At(z)); !ok || math.Abs(n.Z) > l.wallLean() {
			return true
		}
	}
	return false
}

// plumb is a height field: z of the pocket's surface under each grid point,
// NaN where there is no pocket.
type plumb struct {
	min    geom.Vec2
	step   float64
	nx, ny int
	z      []float64
	low    float64
}

func newPlumb(s sdf.Solid, b geom.Box, step float64) *plumb {
	size := b.Size()
	g := &plumb{min: b.Min.XY(), step: step, nx: int(size.X/step) + 2, ny: int(size.Y/step) + 2, low: math.Inf(1)}
	g.z = make([]float64, g.nx*g.ny)
	for i := range g.z {
		g.z[i] = drop(s, g.point(i), 0)
		if g.z[i] < g.low {
			g.low = g.z[i]
		}
	}
	return g
}

func (g *plumb) point(i int) geom.Vec2 {
	return geom.Vec2{X: g.min.X + float64(i%g.nx)*g.step, Y: g.min.Y + float64(i/g.nx)*g.step}
}

// drop walks down from height z inside s until it meets the surface. The field
// never exceeds the distance, so no step can jump through.
func drop(s sdf.Solid, at geom.Vec2, z float64) float64 {
	if s.Dist(at.At(z)) >= 0 {
		return math.NaN()
	}
	for range 400 {
		d := -s.Dist(at.At(z))
		if d < 1e-4 {
			break
		}
		z -= d
	}
	return z
}

// floors groups the grid points whose neighbours on all four sides are at most
// flatSlope away in height.
func (g *plumb) floors() []Floor {
	flat := make([]bool, len(g.z))
	for i := range flat {
		flat[i] = g.isFlat(i)
	}
	var out []Floor
	for i := range flat {
		if flat[i] {
			out = append(out, g.flood(flat, i))
		}
	}
	return out
}

func (g *plumb) isFlat(i int) bool {
	x, y := i%g.nx, i/g.nx
	if x == 0 || y == 0 || x == g.nx-1 || y == g.ny-1 {
		return false
	}
	for _, j := range [4]int{i - 1, i + 1, i - g.nx, i + g.nx} {
		if !(math.Abs(g.z[i]-g.z[j]) <= flatSlope*g.step) {
			return false
		}
	}
	return true
}

// flood takes one connected floor out of flat. Floors at different levels do
// not join: a step is no slope.
func (g *plumb) flood(flat []bool, start int) Floor {
	f := Floor{Box: geom.EmptyBox()}
	stack := []int{start}
	flat[start] = false
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		p := g.point(i).At(g.z[i])
		f.Points = append(f.Points, p)
		f.Box = f.Box.Include(p)
		for _, j := range [4]int{i - 1, i + 1, i - g.nx, i + g.nx} {
			if flat[j] && math.Abs(g.z[i]-g.z[j]) <= flatSlope*g.step {
				flat[j] = false
				stack = append(stack, j)
			}
		}
	}
	sort.Slice(f.Points, func(i, j int) bool {
		a, b := f.Points[i], f.Points[j]
		if a.Y != b.Y {
			return a.Y < b.Y
		}
		return a.X < b.X
	})
	return f
}

// landUnder is the height below which a bore may be wide: the land under the
// lowest surface within the bore's reach, so that no bore breaks into a
// deeper pocket beside it.
func (l *Layout) landUnder(s sdf.Solid, p geom.Vec) float64 {
	low := p.Z
	reach := l.Dims.Buck.Bore/2 + 2
	for i := range 12 {
		a := float64(i) * math.Pi / 6
		at := p.XY().Add(geom.Vec2{X: reach * math.Cos(a), Y: reach * math.Sin(a)})
		if z := drop(s, at, 0); z < low {
			low = z
		}
	}
	return low - l.Dims.Buck.Land
}

// corner is the corner radius of the rounded rectangle that has the floor's box
// and the floor's area: half its width for a round one.
func (f Floor) corner() float64 {
	size := f.Box.Size()
	box := (size.X + surveyStep) * (size.Y + surveyStep)
	missing := max(0, box-float64(len(f.Points))*surveyStep*surveyStep)
	return math.Sqrt(missing / (4 - math.Pi))
}

// extreme is the floor's point farthest in a direction.
func (f Floor) extreme(dir geom.Vec2) geom.Vec {
	best := f.Points[0]
	for _, p := range f.Points {
		if p.XY().Dot(dir) > best.XY().Dot(dir)+1e-9 {
			best = p
		}
	}
	return best
}

// edge is the points of the floor that lack a neighbour.
func (f Floor) edge() []geom.Vec {
	has := map[[2]int]bool{}
	key := func(p geom.Vec) [2]int {
		return [2]int{int(math.Round(p.X / surveyStep * 4)), int(math.Round(p.Y / surveyStep * 4))}
	}
	for _, p := range f.Points {
		has[key(p)] = true
	}
	var out []geom.Vec
	for _, p := range f.Points {
		k := key(p)
		if !(has[[2]int{k[0] - 4, k[1]}] && has[[2]int{k[0] + 4, k[1]}] && has[[2]int{k[0], k[1] - 4}] && has[[2]int{k[0], k[1] + 4}]) {
			out = append(out, p)
		}
	}
	return out
}
