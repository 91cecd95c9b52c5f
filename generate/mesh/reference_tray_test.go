package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/proof"
)

// The tray's drawing, once more and by hand: faces are level regions, walls
// that stand on a rectangle with rounded corners, fillets and cylinders. Its
// true distance is the least of those to the faces, each cut off where the
// solid's edges are.

// trayRect is a rectangle with rounded corners about a centre.
type trayRect struct{ x, y, hx, hy, r float64 }

// dist is the distance in the plan, negative inside.
func (c trayRect) dist(p proof.Vec) float64 { return rect2(p[0]-c.x, p[1]-c.y, c.hx, c.hy, c.r) }

// inset has all its sides moved in by d; corners keep their centres.
func (c trayRect) inset(d float64) trayRect { return trayRect{c.x, c.y, c.hx - d, c.hy - d, c.r - d} }

// on is a place of the outline, uniform along it: the offset by d of it.
func (c trayRect) on(r *rand.Rand, z float64) proof.Vec {
	a, b := c.hx-c.r, c.hy-c.r
	turn := math.Pi / 2 * c.r
	s := r.Float64() * (2*a + 2*b + 2*turn) // half of the outline, mirrored
	x, y := 0.0, 0.0
	switch {
	case s < 2*a:
		x, y = s-a, c.hy
	case s < 2*a+2*b:
		x, y = c.hx, s-2*a-b
	default:
		sin, cos := math.Sincos((s - 2*a - 2*b) / c.r)
		x, y = c.r*cos, c.r*sin
		if x < 0 {
			x -= a
		} else {
			x += a
		}
		y += b
	}
	if r.IntN(2) == 0 {
		x, y = -x, -y
	}
	return proof.Vec{c.x + x, c.y + y, z}
}

// within is a place inside the outline that keep accepts.
func (c trayRect) within(r *rand.Rand, z float64, keep func(p proof.Vec) bool) proof.Vec {
	for {
		p := proof.Vec{c.x + c.hx*(2*r.Float64()-1), c.y + c.hy*(2*r.Float64()-1), z}
		if c.dist(p) <= 0 && keep(p) {
			return p
		}
	}
}

func (c trayRect) area() float64      { return 4*c.hx*c.hy - (4-math.Pi)*c.r*c.r }
func (c trayRect) perimeter() float64 { return 4*(c.hx+c.hy-2*c.r) + 2*math.Pi*c.r }

const (
	trayRim, trayFloor, trayTop = 50.0, 6.0, 30.0 // heights, mm
	trayBore                    = 0.5             // radius
)

var (
	trayOuter = trayRect{0, 0, 100, 75, 6}
	trayInner = trayRect{0, 0, 94, 69, 4}
	trayLean  = math.Tan(3 * math.Pi / 180)
)

func trayFeet() (all []trayRect) {
	for _, at := range trayBosses {
		all = append(all, trayRect{at[0], at[1], 22, 17, 5})
	}
	return all
}

// trayBottom is the flat within the fillet of a rounded wall, which has sharp corners.
func trayBottom(c trayRect) trayRect { return trayRect{0, 0, c.hx - c.r, c.hy - c.r, 0} }

// level is the distance to a level region, plan being the distance in its plan.
func level(plan, z float64) float64 { return math.Hypot(max(plan, 0), z) }

// segment is the distance in a plane from (u, v) to the segment from a to b.
func segment(u, v, au, av, bu, bv float64) float64 {
	du, dv := bu-au, bv-av
	t := min(1, max(0, ((u-au)*du+(v-av)*dv)/(du*du+dv*dv)))
	return math.Hypot(u-au-t*du, v-av-t*dv)
}

// bowl is the distance to the skin of a rounded box that stands at bottom, up to the rim.
func bowl(p proof.Vec, c trayRect, bottom float64) float64 {
	if p[2] > trayRim {
		return math.Hypot(c.dist(p), p[2]-trayRim)
	}
	const tall = 200 // half height: its own top is nowhere near
	box := proof.RoundedBox(proof.Vec{2 * c.hx, 2 * c.hy, 2 * tall}, c.r, c.r)
	return math.Abs(box(proof.Vec{p[0], p[1], p[2] - bottom}))
}

// trayExact is the distance to the tray's surface.
func trayExact(p proof.Vec) float64 {
	z := p[2]
	d := level(max(trayOuter.dist(p), -trayInner.dist(p)), z-trayRim)
	open := -1.0 // distance in the plan to where the floor is whole
	for _, at := range trayHoles {
		rho := math.Hypot(p[0]-at[0], p[1]-at[1])
		open = max(open, trayBore-rho)
		d = min(d, segment(rho, z, trayBore, 0, trayBore, trayFloor))
	}
	feet := open
	for _, c := range trayFeet() {
		plan := c.dist(p)
		feet = max(feet, -plan)
		in := (trayTop - trayFloor) * trayLean
		d = min(d, segment(plan, z, 0, trayFloor, -in, trayTop), level(plan+in, z-trayTop))
	}
	skin := func(c trayRect, bottom, open float64) float64 {
		if open > 0 && trayBottom(c).dist(p) < 0 { // the foot on the skin may lie where there is none
			return math.Hypot(open, z-bottom)
		}
		return bowl(p, c, bottom)
	}
	return min(d, skin(trayOuter, 0, open), skin(trayInner, trayFloor, feet))
}

// trayFace is a face of the tray to draw places from.
type trayFace struct {
	area float64
	at   func(r *rand.Rand) proof.Vec
}

// fillet draws places of the rounding between a wall and its bottom: quarter
// cylinders along the sides and, at the corners, eighths of balls.
func fillet(c trayRect, bottom float64) trayFace {
	flat := trayBottom(c)
	at := func(r *rand.Rand) proof.Vec {
		corner := 4*math.Pi*c.r*c.r/2 > r.Float64()*(4*math.Pi*c.r*c.r/2+flat.perimeter()*c.r*math.Pi/2)
		if corner {
			var n proof.Vec
			for n.Len() > 1 || n.Len() < 0.1 {
				n = proof.Vec{2*r.Float64() - 1, 2*r.Float64() - 1, -r.Float64()}
			}
			n = n.Unit().Mul(c.r)
			return n.Add(proof.Vec{math.Copysign(flat.hx, n[0]), math.Copysign(flat.hy, n[1]), bottom + c.r})
		}
		p := flat.on(r, 0)
		sin, cos := math.Sincos(r.Float64() * math.Pi / 2)
		z := bottom + c.r - c.r*sin
		if math.Abs(p[1]) >= flat.hy-1e-9 {
			return proof.Vec{p[0], p[1] + math.Copysign(c.r*cos, p[1]), z}
		}
		return proof.Vec{p[0] + math.Copysign(c.r*cos, p[0]), p[1], z}
	}
	return trayFace{2*math.Pi*c.r*c.r + flat.perimeter()*c.r*math.Pi/2, at}
}

// wall draws places of an upright wall.
func wall(c trayRect, z0, z1 float64) trayFace {
	return trayFace{c.perimeter() * (z1 - z0), func(r *rand.Rand) proof.Vec { return c.on(r, z0+(z1-z0)*r.Float64()) }}
}

func trayFaces() []trayFace {
	whole := func(p proof.Vec) bool {
		for _, at := range trayHoles {
			if math.Hypot(p[0]-at[0], p[1]-at[1]) < trayBore {
				return false
			}
		}
		return true
	}
	bare := func(p proof.Vec) bool {
		for _, c := range trayFeet() {
			if c.dist(p) < 0 {
				return false
			}
		}
		return whole(p)
	}
	below, floor := trayBottom(trayOuter), trayBottom(trayInner)
	faces := []trayFace{
		{trayOuter.area() - trayInner.area(), func(r *rand.Rand) proof.Vec {
			return trayOuter.within(r, trayRim, func(p proof.Vec) bool { return trayInner.dist(p) >= 0 })
		}},
		wall(trayOuter, 6, trayRim), fillet(trayOuter, 0),
		{below.area(), func(r *rand.Rand) proof.Vec { return below.within(r, 0, whole) }},
		wall(trayInner, trayFloor+4, trayRim), fillet(trayInner, trayFloor),
		{floor.area() - 4*trayFeet()[0].area(), func(r *rand.Rand) proof.Vec { return floor.within(r, trayFloor, bare) }},
	}
	for _, c := range trayFeet() {
		tall := trayTop - trayFloor
		top := c.inset(tall * trayLean)
		faces = append(faces, trayFace{c.perimeter() * tall, func(r *rand.Rand) proof.Vec {
			h := r.Float64() * tall
			return c.inset(h*trayLean).on(r, trayFloor+h)
		}}, trayFace{top.area(), func(r *rand.Rand) proof.Vec {
			return top.within(r, trayTop, func(proof.Vec) bool { return true })
		}})
	}
	return faces
}

// trayPlaces are spread over the tray's faces by area.
func trayPlaces() (out []proof.Vec) {
	faces, total := trayFaces(), 0.0
	for _, f := range faces {
		total += f.area
	}
	for _, f := range faces {
		out = append(out, plot(1+int(referencePoints*f.area/total), f.at)...)
	}
	return out
}

// trayEdge is a kind of named edge, or the hole walls, with its places.
type trayEdge struct {
	name   string
	places []proof.Vec
}

// trayEdges are the tray's named edges and its hole walls, each with places enough.
func trayEdges() []trayEdge {
	along := func(c trayRect, z float64) []proof.Vec {
		return plot(referenceEdge, func(r *rand.Rand) proof.Vec { return c.on(r, z) })
	}
	out := []trayEdge{
		{"outer rim", along(trayOuter, trayRim)}, {"inner rim", along(trayInner, trayRim)},
		{"boss feet", nil}, {"boss tops", nil}, {"hole rims", nil}, {"hole walls", nil},
	}
	add := func(kind int, p ...proof.Vec) { out[kind].places = append(out[kind].places, p...) }
	for _, c := range trayFeet() {
		add(2, along(c, trayFloor)...)
		add(3, along(c.inset((trayTop-trayFloor)*trayLean), trayTop)...)
	}
	for _, at := range trayHoles {
		hole := trayRect{at[0], at[1], trayBore, trayBore, trayBore}
		add(4, along(hole, trayFloor)...)
		add(4, along(hole, 0)...)
		add(5, plot(referenceEdge, wall(hole, 0, trayFloor).at)...)
	}
	return out
}

// TestTrayExact: the reference itself. Its places and edges are at distance 0,
// and a step off a face is at the step's distance.
func TestTrayExact(t *testing.T) {
	places := trayPlaces()
	for _, edge := range trayEdges() {
		places = append(places, edge.places...)
	}
	if most, at := worst(places, trayExact); !(most < 1e-9) {
		t.Errorf("a place of the tray is %g off it at %.3f", most, at)
	}
	for _, tt := range []struct {
		at   proof.Vec
		want float64
	}{
		{proof.Vec{100.3, 75.4 - 10, 20}, 0.3},                                            // off a wall
		{proof.Vec{97, 20, 50.2}, 0.2},                                                    // over the rim
		{proof.Vec{100.3, 20, 50.4}, 0.5},                                                 // off the rim's edge
		{proof.Vec{0, 0, 3}, 0.5},                                                         // on a hole's axis
		{proof.Vec{0.3, 0, 6.1}, math.Hypot(0.2, 0.1)},                                    // over a hole's rim
		{proof.Vec{-60, -35, 30.25}, 0.25},                                                // over a boss
		{proof.Vec{-60, -35, 6}, 6},                                                       // in a boss, its floor is not a face: the bottom is
		{proof.Vec{60 + 22 + 0.3, 35, 18}, (0.3 + 12*trayLean) * math.Cos(3*math.Pi/180)}, // off a boss's wall
	} {
		if got := trayExact(tt.at); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("trayExact(%v) = %.6f, want %.6f", tt.at, got, tt.want)
		}
	}
}

// TestReferenceTray: the mesh of the tray is within what is promised, both
// ways, on every named edge and hole wall, and is thrifty.
func TestReferenceTray(t *testing.T) {
	for _, q := range referenceQualities {
		t.Run(q.name, func(t *testing.T) {
			m := referenceMesh(t, testTray(), q.tol)
			if s := m.Stats(); s.Components != 1 || s.Genus != 12 || s.Euler != -22 {
				t.Errorf("%d components, genus %d, Euler number %d, want 1, 12, -22", s.Components, s.Genus, s.Euler)
			}
			if len(m.T) > q.trayTriangles {
				t.Errorf("%d triangles, want at most %d", len(m.T), q.trayTriangles)
			}
			f := facetsOf(m)
			judgeMesh(t, f, trayExact, q.promised)
			tree := proof.NewTree(f)
			judgeSolid(t, "surface", trayPlaces(), tree, q.promised)
			for _, edge := range trayEdges() {
				judgeSolid(t, edge.name, edge.places, tree, q.promised)
			}
		})
	}
}
