package geom

import "math"

// Box is an axis-aligned box; it is empty when any Min exceeds Max.
type Box struct{ Min, Max Vec }

// EmptyBox contains nothing; joining it to a box gives that box.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{Vec{inf, inf, inf}, Vec{-inf, -inf, -inf}}
}

// Everywhere is the box of all space.
func Everywhere() Box {
	inf := math.Inf(1)
	return Box{Vec{-inf, -inf, -inf}, Vec{inf, inf, inf}}
}

// BoxOf is the least box around the points.
func BoxOf(pts ...Vec) Box {
	b := EmptyBox()
	for _, p := range pts {
		b = b.Include(p)
	}
	return b
}

func (b Box) Include(p Vec) Box   { return Box{b.Min.Min(p), b.Max.Max(p)} }
func (b Box) Union(c Box) Box     { return Box{b.Min.Min(c.Min), b.Max.Max(c.Max)} }
func (b Box) Intersect(c Box) Box { return Box{b.Min.Max(c.Min), b.Max.Min(c.Max)} }
func (b Box) Size() Vec           { return b.Max.Sub(b.Min) }
func (b Box) Center() Vec         { return b.Min.Add(b.Max).Scale(0.5) }
func (b Box) Grow(r float64) Box  { d := Vec{r, r, r}; return Box{b.Min.Sub(d), b.Max.Add(d)} }
func (b Box) Move(d Vec) Box      { return Box{b.Min.Add(d), b.Max.Add(d)} }

// Corner is corner i of the box: bit 0 of i is x, bit 1 is y, bit 2 is z.
func (b Box) Corner(i int) Vec {
	p := b.Min
	if i&1 != 0 {
		p.X = b.Max.X
	}
	if i&2 != 0 {
		p.Y = b.Max.Y
	}
	if i&4 != 0 {
		p.Z = b.Max.Z
	}
	return p
}

// Empty reports whether the box contains no point.
func (b Box) Empty() bool {
	return !(b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y && b.Min.Z <= b.Max.Z)
}

// Contains reports whether p lies in the closed box.
func (b Box) Contains(p Vec) bool {
	return p.X >= b.Min.X && p.X <= b.Max.X && p.Y >= b.Min.Y && p.Y <= b.Max.Y && p.Z >= b.Min.Z && p.Z <= b.Max.Z
}

// Dist is the distance from p to the box, 0 inside.
func (b Box) Dist(p Vec) float64 {
	d := b.Min.Sub(p).Max(p.Sub(b.Max)).Max(Vec{})
	return d.Len()
}

// Ball is the closed ball of radius R about C.
type Ball struct {
	C Vec
	R float64
}

// Ball is the least ball around the box.
func (b Box) Ball() Ball { return Ball{b.Center(), b.Size().Len() / 2} }
