package outline

import (
	"math"

	"buckwright/generate/geom"
)

// entity draws one entity; what has no outline is passed over.
func (d *drawing) entity(e entity) *Error {
	if e.paper() {
		return nil
	}
	switch e.kind {
	case "LINE":
		v, err := e.needs(10, 20, 11, 21)
		if err != nil {
			return err
		}
		m := matrix{d.unit, 0, 0, d.unit, 0, 0}
		s := side{m.at(geom.Vec2{X: v[0], Y: v[1]}), m.at(geom.Vec2{X: v[2], Y: v[3]}), 0}
		return d.add(path{sides: []side{s}, line: e.line})
	case "ARC", "CIRCLE":
		return d.arc(e)
	case "ELLIPSE":
		return d.ellipse(e)
	case "LWPOLYLINE":
		v, err := e.vertices()
		if err != nil {
			return err
		}
		return d.vertices(e, v, e.flags()&1 != 0)
	case "SPLINE":
		return d.spline(e)
	case "TEXT", "MTEXT", "ATTDEF", "POINT", "DIMENSION", "LEADER", "HATCH", "IMAGE", "VIEWPORT", "TOLERANCE", "ACAD_PROXY_ENTITY", "SEQEND", "VERTEX":
		return nil
	case "INSERT":
		return fail(e.line, "explode it in the drawing program", "a block (INSERT) is not followed")
	}
	return fail(e.line, "draw the outline with lines, arcs and polylines", "an entity of kind %.20q is not followed", e.kind)
}

// plane maps the entity's own plane into mm. Entities seen from below have
// their x turned round (the arbitrary axis rule); others that are tilted are refused.
func (d *drawing) plane(e entity) (matrix, *Error) {
	var n [3]float64
	for i, c := range [3]int{210, 220, 230} {
		v, err := e.value(c, [3]float64{0, 0, 1}[i])
		if err != nil {
			return matrix{}, err
		}
		n[i] = v
	}
	if !(math.Hypot(n[0], n[1]) <= 1e-6*math.Abs(n[2])) {
		return matrix{}, fail(e.line, "draw the outline flat, seen from above", "the %s is tilted out of the plane", e.kind)
	}
	return matrix{math.Copysign(d.unit, n[2]), 0, 0, d.unit, 0, 0}, nil
}

// arc is an ARC or a CIRCLE.
func (d *drawing) arc(e entity) *Error {
	m, err := d.plane(e)
	if err != nil {
		return err
	}
	v, err := e.needs(10, 20, 40)
	if err != nil {
		return err
	}
	if !(v[2] > 0) {
		return fail(e.line, "export the drawing again", "the %s has no radius", e.kind)
	}
	t0, t1 := 0.0, 2*math.Pi
	if e.kind == "ARC" {
		a, err := e.needs(50, 51)
		if err != nil {
			return err
		}
		t0, t1 = span(a[0]*math.Pi/180, a[1]*math.Pi/180)
	}
	o := ellipse{m.at(geom.Vec2{X: v[0], Y: v[1]}), m.turn(geom.Vec2{X: v[2]}), m.turn(geom.Vec2{Y: v[2]})}
	return d.add(path{sides: o.sides(nil, t0, t1), closed: e.kind == "CIRCLE", line: e.line})
}

// span brings the angles of an arc to at most one turn, the second behind the first.
func span(a, b float64) (float64, float64) {
	w := math.Mod(b-a, 2*math.Pi)
	if w <= 0 {
		w += 2 * math.Pi
	}
	return a, a + w
}

func (d *drawing) ellipse(e entity) *Error {
	v, err := e.needs(10, 20, 11, 21, 40)
	if err != nil {
		return err
	}
	p, err := d.plane(e) // its points are the world's; only its sense turns with the plane
	if err != nil {
		return err
	}
	t0, err0 := e.value(41, 0)
	t1, err1 := e.value(42, 2*math.Pi)
	if err0 != nil || err1 != nil {
		return fail(e.line, "export the drawing again", "the ellipse's ends are no numbers")
	}
	closed := !(math.Abs(t1-t0) < 2*math.Pi-1e-9)
	t0, t1 = span(t0, t1)
	m := matrix{d.unit, 0, 0, d.unit, 0, 0}
	u := geom.Vec2{X: v[2], Y: v[3]}
	w := geom.Vec2{X: -u.Y, Y: u.X}.Scale(math.Copysign(v[4], p[0]))
	if !(u.Len() > 0 && v[4] > 0 && v[4] <= 1+1e-9) {
		return fail(e.line, "export the drawing again", "the ellipse has no size")
	}
	o := ellipse{m.at(geom.Vec2{X: v[0], Y: v[1]}), m.turn(u), m.turn(w)}
	return d.add(path{sides: o.sides(nil, t0, t1), closed: closed, line: e.line})
}

// corner is a vertex of a polyline and the bulge of the side that leaves it.
type corner struct {
	at    geom.Vec2
	bulge float64
}

// vertices are the corners of a LWPOLYLINE, whose groups repeat.
func (e entity) vertices() ([]corner, *Error) {
	var out []corner
	for _, g := range e.g {
		if g.code != 10 && g.code != 20 && g.code != 42 {
			continue
		}
		v, err := entity{g: []group{g}}.values(g.code)
		if err != nil {
			return nil, err
		}
		if g.code == 10 {
			out = append(out, corner{at: geom.Vec2{X: v[0]}})
			continue
		}
		if len(out) == 0 {
			return nil, fail(g.line, "export the drawing again", "a vertex begins without its x")
		}
		if last := &out[len(out)-1]; g.code == 20 {
			last.at.Y = v[0]
		} else {
			last.bulge = v[0]
		}
	}
	return out, nil
}

// polyline is the POLYLINE of R12 with its VERTEX entities.
func (d *drawing) polyline(e entity, list []entity) *Error {
	if e.paper() {
		return nil
	}
	flags := e.flags()
	if flags&(16|64) != 0 {
		return fail(e.line, "draw the outline with lines, arcs and polylines", "a mesh of polygons is no outline")
	}
	var out []corner
	for _, v := range list {
		if v.kind != "VERTEX" || v.flags()&16 != 0 { // 16: a control point of a fitted curve
			continue
		}
		at, err := v.needs(10, 20)
		if err != nil {
			return err
		}
		bulge, err := v.value(42, 0)
		if err != nil {
			return err
		}
		out = append(out, corner{geom.Vec2{X: at[0], Y: at[1]}, bulge})
	}
	return d.vertices(e, out, flags&1 != 0)
}

// vertices draws a polyline through its corners.
func (d *drawing) vertices(e entity, all []corner, closed bool) *Error {
	m, err := d.plane(e)
	if err != nil {
		return err
	}
	var sides []side
	for i, v := range all {
		if i == len(all)-1 && !closed {
			break
		}
		to := all[(i+1)%len(all)]
		if to.at != v.at {
			sides = append(sides, side{v.at, to.at, v.bulge}.mapped(m))
		}
	}
	return d.add(path{sides: sides, closed: closed, line: e.line})
}
