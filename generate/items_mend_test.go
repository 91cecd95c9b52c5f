package generate

import (
	"math"
	"strings"
	"testing"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// crate is a closed box.
func crate(lo, hi geom.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	b := geom.Box{Min: lo, Max: hi}
	for i := range 8 {
		m.V = append(m.V, b.Corner(i))
	}
	m.T = [][3]int32{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}}
	return m
}

// with adds a body.
func with(m, o *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{V: append([]geom.Vec(nil), m.V...), T: append([][3]int32(nil), m.T...)}
	n := int32(len(m.V))
	out.V = append(out.V, o.V...)
	for _, t := range o.T {
		out.T = append(out.T, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return out
}

// What is wrong with a body is either mended and kept to be told, or refused with the place.
func TestMend(t *testing.T) {
	body := crate(geom.Vec{}, geom.V(60, 40, 20))
	open := &mesh.Mesh{V: body.V, T: body.T[2:]}
	turned := &mesh.Mesh{V: body.V, T: append([][3]int32{{0, 1, 2}, {1, 3, 2}}, body.T[2:]...)}
	frame := &mesh.Mesh{T: [][3]int32{{0, 1, 4}, {1, 5, 4}, {1, 2, 5}, {2, 6, 5}, {2, 3, 6}, {3, 7, 6}, {3, 0, 7}, {0, 4, 7}}}
	for _, in := range []float64{0, 5} {
		frame.V = append(frame.V, geom.V(in, in, 0), geom.V(60-in, in, 0), geom.V(60-in, 40-in, 0), geom.V(in, 40-in, 0))
	}
	heap := &mesh.Mesh{}
	for i := range int32(mesh.MostShells + 1) {
		x := float64(i%101) * 0.5
		y := float64(i/101) * 0.5
		heap.V = append(heap.V, geom.V(x, y, 0), geom.V(x+0.1, y, 0), geom.V(x, y+0.1, 1))
		heap.T = append(heap.T, [3]int32{3 * i, 3*i + 1, 3*i + 2})
	}
	for name, tt := range map[string]struct {
		m      *mesh.Mesh
		told   string // the end of what was mended, joined
		volume float64
		err    string
	}{
		"clean":    {body, "", 48000, ""},
		"open":     {open, "1 holes", 48000, ""},
		"turned":   {turned, "turned", 48000, ""},
		"doubled":  {with(body, body), "12 repeats", 48000, ""},
		"speck":    {with(body, crate(geom.V(70, 0, 0), geom.V(70.2, 0.2, 0.2))), "1 specks", 48000, ""},
		"second":   {with(body, crate(geom.V(70, 0, 0), geom.V(71, 1, 1))), "", 48001, ""},
		"inside":   {with(body, crate(geom.V(9, 9, 9), geom.V(11, 11, 11))), "1 inside", 48000, ""},
		"crossing": {with(body, crate(geom.V(50, 9, 9), geom.V(70, 11, 11))), "crossing", 48080, ""},
		"one wall": {&mesh.Mesh{V: body.V, T: body.T[:2]}, "", 0, "the triangles enclose no volume"},
		"dust":     {with(crate(geom.Vec{}, geom.V(0.6, 0.6, 0.6)), crate(geom.V(300, 300, 300), geom.V(300.6, 300.6, 300.6))), "", 0, "the triangles enclose no volume"},
		"frame":    {frame, "", 0, "more of the surface is missing than there is: 3900 mm² of 4800; the widest hole, about 48 mm across, is at (30.0, 20.0, 0.0)"},
		"two ends": {&mesh.Mesh{V: body.V, T: append(body.T[:2:2], body.T[2:4]...)}, "", 0, "the triangles enclose no volume"},
		"heap":     {heap, "", 0, "the triangles hang together in 10001 pieces, and 10000 are looked at at most; one corner is at (0.0, 0.0, 0.0)"},
	} {
		var it item
		got, err := it.mend("b.stl", tt.m)
		if tt.err != "" {
			if err == nil || !strings.HasPrefix(err.Error(), "b.stl: "+tt.err) {
				t.Errorf("%s: %v, want %s", name, err, tt.err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if v := got.Volume(); math.Abs(v-tt.volume) > 1e-6 {
			t.Errorf("%s: volume %v, want %v", name, v, tt.volume)
		}
		s := it.state
		for what, is := range map[string]bool{
			"1 holes": len(s.Holes) == 1, "turned": s.Turned, "12 repeats": s.Repeats == 12,
			"1 specks": s.Specks == 1, "1 inside": s.Inside == 1, "crossing": s.Crossing != nil,
		} {
			if is != (what == tt.told) {
				t.Errorf("%s: %s is %v in %+v", name, what, is, s)
			}
		}
	}
}

// FuzzMend: whatever triangles come, the result bounds a body, and its field is
// outside far off, or there is an error.
func FuzzMend(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("\x00\x00\x00\x09\x00\x00\x00\x09\x00\x00\x00\x09\x00\x01\x02\x00\x02\x03"))
	f.Fuzz(func(t *testing.T, src []byte) {
		const corners = 12
		m := &mesh.Mesh{}
		for i := 0; i+3 <= len(src) && len(m.V) < corners; i += 3 {
			m.V = append(m.V, geom.V(float64(src[i]), float64(src[i+1]), float64(src[i+2])).Scale(0.25))
		}
		if len(m.V) < corners {
			return
		}
		for i := 3 * corners; i+3 <= len(src) && len(m.T) < 60; i += 3 {
			m.T = append(m.T, [3]int32{int32(src[i]) % corners, int32(src[i+1]) % corners, int32(src[i+2]) % corners})
		}
		if len(m.T) == 0 {
			return
		}
		var it item
		got, err := it.mend("a", m)
		if err != nil {
			return
		}
		field := mesh.Field(got)
		b := got.Bounds()
		for i := range 8 {
			if d := field.Dist(b.Grow(1).Corner(i)); !(d >= 1) {
				t.Fatalf("%v outside the box the field is %g", b.Grow(1).Corner(i), d)
			}
		}
		if d := field.Dist(b.Center()); d-d != 0 {
			t.Fatalf("in the middle the field is %g", d)
		}
	})
}
