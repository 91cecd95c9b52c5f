package proof

import (
	"math"
	"math/rand/v2"
	"testing"
)

// promised is the largest error of a part's surface by its quality, in mm: README,
// "What comes out".
var promised = map[string]float64{"draft": 0.1, "normal": 0.05, "fine": 0.02}

// flank is the outside of a part by its drawing: a level rim, a wall that leans
// out below it on a rectangle with rounded corners, and a rounded edge between
// them. All is drawn in the plane of the distance u in the plan to the rectangle
// and the height z: with a the height over the rim and b the distance from the
// wall, both taken from a line the radius within, the edge is a² + b² = radius².
// That is a circle where rim and wall are square to each other, and an ellipse, of
// a somewhat less radius at its middle, where the wall leans.
type flank struct {
	wall       Rounded // produced up to z = 0
	lean       float64 // degrees from upright
	inset, rim float64 // the wall is this far within, the rim this far below 0
	fillet     float64
}

func (f flank) dist(p Vec) float64 {
	sin, cos := math.Sincos(f.lean * deg)
	a := p[2] + f.rim + f.fillet
	b := f.wall.Dist(p)*cos + p[2]*sin + f.inset + f.fillet
	if a <= 0 || b <= 0 {
		return math.Max(a, b) - f.fillet
	}
	// To first order, which at errors of 0.05 on a radius of 2 is a micrometre:
	// the value over the length of its gradient; rim's and wall's have the cosine sin.
	h := math.Hypot(a, b)
	return (h - f.fillet) / math.Sqrt(1+2*sin*a*b/(h*h))
}

// places are on the surface: on the wall down to bottom, on the fillet and on
// the rim up to the width of a strip.
func (f flank) places(n int, bottom, strip float64) (out []Vec) {
	r := rand.New(rand.NewPCG(29, 31))
	sin, cos := math.Sincos(f.lean * deg)
	spot := func(a, b float64) (u, z float64) {
		z = a - f.rim - f.fillet
		return (b - f.inset - f.fillet - z*sin) / cos, z
	}
	u0, z0 := spot(f.fillet, 0)
	_, foot := spot(0, f.fillet)
	for range n {
		var u, z float64
		switch r.IntN(3) {
		case 0:
			z = bottom + r.Float64()*(foot-bottom)
			u = (-f.inset - z*sin) / cos
		case 1:
			s, c := math.Sincos(r.Float64() * math.Pi / 2)
			u, z = spot(f.fillet*s, f.fillet*c)
		default:
			u, z = u0-r.Float64()*strip, z0
		}
		out = append(out, f.wall.Spot(r, u, z))
	}
	return out
}

// formRadius is of the buck's rim into its wall: both kits' rim_radius.
const formRadius = 2.0

// skirtOf is the product side of the insert's skirt: both bundled kits have the
// same draft, corners and rim.
func skirtOf(t *testing.T, m *made) flank {
	t.Helper()
	return flank{wall: rimOutline(t, m), lean: demoSkirt}
}

// TestOutsideIsDrawn: the insert's product side and the buck's are, outside
// of the pockets, where the drawing has them, both ways: rim, edge and wall.
func TestOutsideIsDrawn(t *testing.T) {
	kits(t, func(t *testing.T, m *made) {
		skirt, form := skirtOf(t, m), skirtOf(t, m)
		skirt.fillet = formRadius + m.fit(t, "t_rim")
		form.inset, form.rim, form.fillet = m.fit(t, "t_skirt"), m.fit(t, "t_rim"), formRadius
		outsideDrawn(t, m, "insert", skirt)
		outsideDrawn(t, m, "buck", form)
	})
}

func outsideDrawn(t *testing.T, m *made, name string, f flank) {
	t.Helper()
	const strip, tall = 4, 12 // mm of the rim, less than there is to a mouth; mm of the wall, to over the channels
	b, bottom := m.body(t, name), math.Max(m.fit(t, "trim"), -f.rim-tall)
	part := b.Part(func(i int, t Tri) bool { return t.Normal()[2] > -0.5 })
	var s, back Spread
	for _, p := range Sample(part.Facets, 10*plenty, All) {
		if f.wall.Dist(p.At) < -f.inset-f.fillet-strip || p.At[2] < bottom {
			continue
		}
		if d := f.dist(p.At); d > -0.5*m.fit(t, "t_skirt") { // the insert's other side, a channel, a bore
			s.Add(d, p.At)
		}
	}
	within(t, name+"'s outside", s, 0, m.promised(t, name))
	for _, p := range f.places(5*plenty, bottom, strip-1) {
		back.Add(b.Tree.Nearest(p, math.Inf(1)).Dist, p)
	}
	within(t, "drawing to "+name+"'s outside", back, 0, m.promised(t, name))
}

// promised is the largest error that is allowed of a part.
func (m *made) promised(t *testing.T, part string) float64 {
	t.Helper()
	row, err := m.Part(part)
	if err != nil {
		t.Fatal(err)
	}
	by, known := promised[row.Quality]
	if !known {
		t.Fatalf("kit.json has the quality %q", row.Quality)
	}
	return by
}
