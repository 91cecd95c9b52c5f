package forming

import (
	"math"
	"testing"

	"buckwright/generate/geom"
)

// facing are two upright sheets of one element that come from 1 mm on either
// side of x = 0 and go 1 mm beyond it. turned, their other sides face.
func facing(turned bool) (f *former, start []geom.Vec) {
	s := &sheet{}
	for _, x := range []float64{-1, 1} {
		first := int32(len(s.node))
		for _, p := range []geom.Vec2{{X: -3, Y: -3}, {X: 3, Y: -3}, {X: 0.3, Y: 3}} {
			s.addNode(p, geom.V(-x, p.X, p.Y))
			start = append(start, geom.V(x, p.X+0.1*x, p.Y))
		}
		if turned == (x < 0) {
			s.tri = append(s.tri, [3]int32{first, first + 1, first + 2})
		} else {
			s.tri = append(s.tri, [3]int32{first, first + 2, first + 1})
		}
	}
	return &former{set: Setup{Element: usualElement}, sheet: s}, start
}

// Two layers whose sides towards the tool face each other stick where they meet,
// half way; the outer sides have air between them.
func TestLayersMeetHalfWay(t *testing.T) {
	f, start := facing(false)
	if hits := f.web(start); hits == 0 {
		t.Fatal("the layers went through each other")
	}
	for n, p := range f.sheet.node {
		if st := f.sheet.state[n]; st.webbed && !(math.Abs(p.X) <= f.skin()) {
			t.Errorf("node %d sticks %.3f mm off the middle", n, p.X)
		}
	}
	f, start = facing(true)
	if hits := f.web(start); hits != 0 {
		t.Errorf("%d nodes stick on the air's side", hits)
	}
}

// A web stays closed: no later step takes a held node through another layer.
func TestAWebStaysClosed(t *testing.T) {
	f, start := facing(false)
	for range 5 {
		f.web(start)
		for n, st := range f.sheet.state {
			start[n] = f.sheet.node[n]
			if !st.held {
				f.sheet.node[n].X *= 2
			}
		}
	}
	for n, p := range f.sheet.node {
		if st := f.sheet.state[n]; st.webbed && !(math.Abs(p.X) <= f.skin()) {
			t.Errorf("node %d has left the web for x %.3f", n, p.X)
		}
	}
}
