package generate

import (
	"math"

	"buckwright/generate/forming"
	"buckwright/generate/geom"
)

// elementSource is the handbook's estimate and why the simulation differs from it.
const elementSource = "geometric element, an evenly thick bubble that lays itself onto the wall of a round or long pan: Throne, Technology of Thermoforming, 1996, ch. 4, " +
	"from memory, confirm; a membrane's bubble is thinnest at its pole and comes down last, so the simulation leaves more on the upper wall and less below; corners and notches are left out"

// longPan is how many times longer than wide a pocket is taken for a trough; this program's own choice.
const longPan = 2.0

// handbook is each pocket's thickness by the handbook's closed forms, beside what the
// simulation has in the same places.
func (r *Result) handbook() []Predicted {
	var out []Predicted
	beside := func(name, where string, at *geom.Vec, simulated, estimate float64) {
		out = append(out,
			Predicted{Name: name + ", simulated", Where: where, At: at, Value: simulated, Unit: "mm", Source: membraneSource},
			Predicted{Name: name + ", handbook", Where: where, Value: estimate * r.Kit.Sheet.Gauge, Unit: "mm", Source: elementSource})
	}
	for i := range r.pockets {
		pan, floor, ok := r.pan(i)
		if !ok {
			continue
		}
		where := r.pocketName(i)
		beside("middle of the floor", where, &floor, r.Formed.ThicknessAt(floor), pan.Floor())
		wall, share := r.wallAt(i, floor.Z+pan.Depth/2), pan.Wall(pan.Depth/2)
		if wall > 0 && share > 0 { // not where the bubble meets the floor before
			beside("wall at half its depth", where, nil, wall, share)
		}
	}
	return out
}

// pan is what the handbook takes pocket i for, and the formed sheet in the middle
// of its floor. Pockets without a middle, or whose middle is not filled, have none.
func (r *Result) pan(i int) (pan forming.Pan, floor geom.Vec, ok bool) {
	middle, wide, long := narrowest(r.homes.largest(i))
	d := r.Dims
	// The outline is that of the pocket grown by the gauge, at the rim's product side.
	in := d.Pocket.Close/d.Pocket.Draft.Cos() + d.Insert.Rim*d.Pocket.Draft.Tan()
	pan = forming.Pan{Half: wide/2 - in, Draft: d.Pocket.Draft, Long: long > longPan*wide}
	f, best := r.Formed, math.Inf(1)
	rim := math.Inf(-1)
	for n, p := range f.Node {
		rim = max(rim, p.Z)
		if away := p.XY().Sub(middle).Len(); away < best && f.Gap[n] == 0 {
			best, floor = away, p
		}
	}
	pan.Depth = rim - floor.Z
	return pan, floor, r.homes.at(floor.XY()) == i && best < pan.Half/4 && pan.Depth > 0
}

// largest is the outline of most area that a pocket has.
func (o outlines) largest(pocket int) (loop []geom.Vec2) {
	most := 0.0
	for i, l := range o.loops {
		if a := loopArea(l); o.pocket[i] == pocket && a > most {
			most, loop = a, l
		}
	}
	return loop
}

// narrowest is the middle, width and length of the least wide rectangle about a
// loop, to a degree of its turn.
func narrowest(l []geom.Vec2) (middle geom.Vec2, wide, long float64) {
	wide = math.Inf(1)
	for a := range 180 {
		turn := geom.Angle(a) * geom.Degree
		x := geom.Vec2{X: turn.Cos(), Y: turn.Sin()}
		y := geom.Vec2{X: -x.Y, Y: x.X}
		x0, x1 := extent(project(l, x))
		y0, y1 := extent(project(l, y))
		if x1-x0 < wide {
			wide, long = x1-x0, y1-y0
			middle = x.Scale((x0 + x1) / 2).Add(y.Scale((y0 + y1) / 2))
		}
	}
	return middle, wide, long
}

// project gives how far along a direction the points lie.
func project(l []geom.Vec2, along geom.Vec2) []float64 {
	out := make([]float64, len(l))
	for i, p := range l {
		out[i] = p.X*along.X + p.Y*along.Y
	}
	return out
}

// wallAt is the mean thickness of a pocket's wall around a height, by area; 0 for none.
func (r *Result) wallAt(pocket int, z float64) float64 {
	const near = 1.5 // mm above and below: about an element
	f, area, volume := r.Formed, 0.0, 0.0
	for k, v := range f.Element {
		a, b, c := f.Node[v[0]], f.Node[v[1]], f.Node[v[2]]
		mid := a.Add(b).Add(c).Scale(1.0 / 3)
		normal := b.Sub(a).Cross(c.Sub(a))
		if math.Abs(mid.Z-z) < near && normal.Z < wallLean*normal.Len() && r.homes.at(mid.XY()) == pocket {
			area, volume = area+normal.Len(), volume+normal.Len()*f.Thickness[k]
		}
	}
	if area == 0 {
		return 0
	}
	return volume / area
}
