package sdf

// Creased reports whether s may have sharp edges. It is false only of solids
// that are known to be smooth.
func Creased(s Solid) bool {
	switch t := s.(type) {
	case HalfSpace, Nothing, Everything:
		return false
	case complement:
		return Creased(t.s)
	case *moved:
		return Creased(t.s)
	case *blend:
		return Creased(t.a) || Creased(t.b)
	case *prism:
		return creased2(t.plan) || t.bends().sharp()
	case capsule, ellipsoid, ellipsoidPart:
		return false
	case Creaser:
		return t.Creased()
	}
	return true
}

// creased2 reports whether a plan may have corners that its curvature does not
// tell of: where it was grown, sides may have met.
func creased2(g planar) bool {
	switch t := g.(type) {
	case placed:
		return creased2(t.g)
	case shifted:
		return !t.convex2()
	}
	return false
}

// roundest2 reports that no sides of a shrinking plan meet before its roundest
// corner is gone.
func roundest2(g planar) bool {
	switch t := g.(type) {
	case placed:
		return roundest2(t.g)
	case rect, disc:
		return true
	}
	return false
}
