package fit

import (
	"math"
	"testing"
)

var tongue = Tongue{Width: 12, Thick: 2, Length: 16, Modulus: 2000, Friction: .3, Ramp: 1}

// Independent of the closed form: the beam's curvature M/(E I) is integrated
// twice from the root, and the force scaled until the end moves aside by y.
func TestTongueAgainstIntegratedBeam(t *testing.T) {
	const y, n = .5, 100000
	e, inertia := tongue.Modulus, tongue.Width*math.Pow(tongue.Thick, 3)/12
	slope, w, h := 0.0, 0.0, tongue.Length/n
	for i := range n {
		x := (float64(i) + .5) * h
		w += slope*h + (tongue.Length-x)/(e*inertia)*h*h/2
		slope += (tongue.Length - x) / (e * inertia) * h
	}
	force := y / w
	near(t, "force", tongue.Aside(y), force, 1e-4*force)
	strain := force * tongue.Length * tongue.Thick / 2 / (e * inertia)
	near(t, "strain", tongue.Strain(y), strain, 1e-4*strain)
}

// Without friction a flank at 45 degrees passes the force on as it is; energy
// balance of any ramp: force times way along is force times way aside.
func TestTongueAlongWithoutFriction(t *testing.T) {
	s := tongue
	for _, ramp := range []float64{.5, 1, 2} {
		s.Friction, s.Ramp = 0, ramp
		near(t, "along", s.Along(.5), s.Aside(.5)*ramp, 1e-9)
	}
}

func TestTongueLocks(t *testing.T) {
	s := tongue
	s.Friction = 1
	if !math.IsInf(s.Along(.5), 1) {
		t.Error("a flank at the friction angle's complement locks")
	}
	if !(tongue.Along(.5) > tongue.Aside(.5)) {
		t.Error("friction helps to hold")
	}
}
