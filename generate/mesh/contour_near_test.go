package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"buckwright/generate/geom"
)

// contourNear samples the mesh and fails the test where a point is further than
// tol from the surface by dist, an independent closed form.
func contourNear(t *testing.T, m *Mesh, tol float64, dist func(p geom.Vec) float64) {
	t.Helper()
	r := rand.New(rand.NewPCG(1, 2))
	var most, sum float64
	var at geom.Vec
	n := 0
	for i := range m.T {
		a, b, c := m.Corners(i)
		area := b.Sub(a).Cross(c.Sub(a)).Len() / 2
		for range 4 + min(2000, int(4*area)) {
			u, v := r.Float64(), r.Float64()
			if u+v > 1 {
				u, v = 1-u, 1-v
			}
			p := a.Add(b.Sub(a).Scale(u)).Add(c.Sub(a).Scale(v))
			d := math.Abs(dist(p))
			sum += d * d
			n++
			if d > most {
				most, at = d, p
			}
		}
	}
	t.Logf("mesh to surface: at most %.4f mm, rms %.4f, %d samples", most, math.Sqrt(sum/float64(n)), n)
	if !(most <= tol) {
		t.Errorf("mesh is %.4f mm off at %.3f, want at most %g", most, at, tol)
	}
}

// contourCovers fails the test where one of the points of the surface is further
// than tol from the mesh.
func contourCovers(t *testing.T, m *Mesh, name string, tol float64, points []geom.Vec) {
	t.Helper()
	bvh := NewBVH(m)
	var most float64
	var at geom.Vec
	for _, p := range points {
		if _, _, d := bvh.Nearest(p); d > most {
			most, at = d, p
		}
	}
	t.Logf("%s to mesh: at most %.4f mm", name, most)
	if !(most <= tol) || len(points) == 0 {
		t.Errorf("%s is %.4f mm off at %.3f, want at most %g", name, most, at, tol)
	}
}

// along lists points from a to b, both included.
func along(a, b geom.Vec, n int) []geom.Vec {
	var out []geom.Vec
	for i := range n + 1 {
		out = append(out, a.Lerp(b, float64(i)/float64(n)))
	}
	return out
}

// circle lists points of a level circle.
func circle(c geom.Vec, r float64, n int) []geom.Vec {
	var out []geom.Vec
	for i := range n {
		s, k := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out = append(out, c.Add(geom.V(r*k, r*s, 0)))
	}
	return out
}

// roundRect lists points of a level rectangle with rounded corners.
func roundRect(c geom.Vec, hx, hy, r float64, n int) []geom.Vec {
	var out []geom.Vec
	for _, s := range [2]float64{-1, 1} {
		out = append(out, along(c.Add(geom.V(r-hx, s*hy, 0)), c.Add(geom.V(hx-r, s*hy, 0)), n)...)
		out = append(out, along(c.Add(geom.V(s*hx, r-hy, 0)), c.Add(geom.V(s*hx, hy-r, 0)), n)...)
	}
	for i, p := range circle(geom.Vec{}, r, 4*n) {
		sx, sy := 1.0, 1.0
		if i >= n && i < 3*n {
			sx = -1
		}
		if i >= 2*n {
			sy = -1
		}
		out = append(out, c.Add(geom.V(sx*(hx-r), sy*(hy-r), 0)).Add(p))
	}
	return out
}

// rect2 is the distance to a rectangle with rounded corners, negative inside.
func rect2(x, y, hx, hy, r float64) float64 {
	u, v := math.Abs(x)-hx+r, math.Abs(y)-hy+r
	return math.Hypot(max(u, 0), max(v, 0)) + min(0, max(u, v)) - r
}

// rounded is the distance to a box of the given halves about c, all edges round.
func rounded(p, c, half geom.Vec, r float64) float64 {
	q := p.Sub(c).Abs().Sub(half)
	u, v, w := q.X+r, q.Y+r, q.Z+r
	return geom.V(max(u, 0), max(v, 0), max(w, 0)).Len() + min(0, max(u, v, w)) - r
}

// trayDist is the tray's field from its drawing: within 1/sqrt(2) of the distance
// near a right-angled edge, the distance elsewhere on and near the surface.
func trayDist(p geom.Vec) float64 {
	shell := max(rounded(p, geom.V(0, 0, 30), geom.V(100, 75, 30), 6), p.Z-50)
	shell = max(shell, -rounded(p, geom.V(0, 0, 38), geom.V(94, 69, 32), 4))
	for _, at := range trayBosses {
		const draft = 3 * math.Pi / 180
		side := rect2(p.X-at[0], p.Y-at[1], 22, 17, 5)*math.Cos(draft) + (p.Z-6)*math.Sin(draft)
		shell = min(shell, max(side, p.Z-30, 5-p.Z))
	}
	for _, at := range trayHoles {
		hole := math.Hypot(p.X-at[0], p.Y-at[1]) - 0.5
		shell = max(shell, -max(hole, p.Z-7))
	}
	return shell
}

func TestContourTray(t *testing.T) {
	m := contourSound(t, testTray(), 0.01)
	if s := m.Stats(); s.Components != 1 || s.Genus != 12 {
		t.Errorf("tray has %d components and genus %d, want 1 and 12", s.Components, s.Genus)
	}
	const tol = 0.01
	contourNear(t, m, tol, trayDist)
	contourCovers(t, m, "outer rim", tol, roundRect(geom.V(0, 0, 50), 100, 75, 6, 500))
	contourCovers(t, m, "inner rim", tol, roundRect(geom.V(0, 0, 50), 94, 69, 4, 500))
	inset := 24 * math.Tan(3*math.Pi/180)
	for _, at := range trayBosses {
		contourCovers(t, m, "boss top", tol, roundRect(geom.V(at[0], at[1], 30), 22-inset, 17-inset, 5-inset, 200))
		contourCovers(t, m, "boss foot", tol, roundRect(geom.V(at[0], at[1], 6), 22, 17, 5, 200))
	}
	for _, at := range trayHoles {
		contourCovers(t, m, "hole rim above", tol, circle(geom.V(at[0], at[1], 6), 0.5, 200))
		contourCovers(t, m, "hole rim below", tol, circle(geom.V(at[0], at[1], 0), 0.5, 200))
		contourCovers(t, m, "hole", tol, circle(geom.V(at[0], at[1], 3), 0.5, 200))
	}
	// The bottom inside the fillets, less the holes, lies at 0 and nothing but 0.
	flat := 188*138 - 12*math.Pi*0.25
	var level, tilted float64
	for i := range m.T {
		a, b, c := m.Corners(i)
		switch most, least := max(a.Z, b.Z, c.Z), min(a.Z, b.Z, c.Z); {
		case most == 0 && least == 0:
			level += b.Sub(a).Cross(c.Sub(a)).Len() / 2
		case most < 1e-3:
			tilted += b.Sub(a).Cross(c.Sub(a)).Len() / 2
		}
	}
	if strip := 652.0; !(level <= flat+0.5 && level >= flat-strip/2 && tilted <= strip/2) {
		t.Errorf("bottom: %.2f mm² level, %.2f nearly so, want %.2f level", level, tilted, flat)
	}
}

func TestContourBallIsNear(t *testing.T) {
	m := contourSound(t, testBall{geom.V(1, 2, 3), 10}, 0.01)
	contourNear(t, m, 0.01, func(p geom.Vec) float64 { return p.Dist(geom.V(1, 2, 3)) - 10 })
}

func TestContourRoundedBoxIsNear(t *testing.T) {
	half := geom.V(20, 15, 10)
	m := contourSound(t, testRound{half, 3}, 0.01)
	contourNear(t, m, 0.01, func(p geom.Vec) float64 { return rounded(p, geom.Vec{}, half, 3) })
	// Steiner: the box of centres, its faces, edges and corners grown by r.
	a, b, c, r := 34.0, 24.0, 14.0, 3.0
	contourVolume(t, m, a*b*c+2*r*(a*b+b*c+c*a)+math.Pi*r*r*(a+b+c)+4.0/3*math.Pi*r*r*r)
}

func TestContourTurnedBoxIsSharp(t *testing.T) {
	turn := geom.RotateX(0.7).Then(geom.RotateY(-0.4)).Then(geom.RotateZ(1.1)).Then(geom.Translate(geom.V(0.3, 0.1, -7)))
	half := geom.V(20, 15, 10)
	m := contourSound(t, testBlock(half, turn), 0.01)
	contourVolume(t, m, 8*half.X*half.Y*half.Z)
	back := turn.Inverse()
	contourNear(t, m, 0.01, func(p geom.Vec) float64 {
		q := back.Apply(p).Abs().Sub(half)
		return q.Max(geom.Vec{}).Len() + min(0, max(q.X, q.Y, q.Z))
	})
	for i := range 8 {
		for a := range 3 {
			if i>>a&1 == 0 {
				box := geom.BoxOf(half, half.Scale(-1))
				p, q := turn.Apply(box.Corner(i)), turn.Apply(box.Corner(i|1<<a))
				contourCovers(t, m, "edge", 0.001, along(p, q, 500))
			}
		}
	}
}
