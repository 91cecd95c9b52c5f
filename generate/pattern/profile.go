package pattern

import (
	"math"
	"slices"

	"buckwright/generate/geom"
)

// rung is one point of a profile: how far down the surface, how far in, its
// height and its slope from the horizontal.
type rung struct {
	Down  float64 // mm along the surface from the reference line
	In    float64 // mm inwards in plan
	Z     float64
	Slope geom.Angle
}

const (
	profileStep = 0.3  // mm, least step along a profile
	profileOff  = 0.02 // mm that a step may leave the surface by, before it is put back
	levelSlope  = 3 * math.Pi / 180
)

// profile follows a surface from a point on it down and inwards, in the
// upright plane through in, until it is level, rises again or is farther in
// than most. field is a signed distance, negative on the product's side. Slopes
// are those of chords: the surface is one of facets.
func profile(field func(geom.Vec) float64, from geom.Vec, in geom.Vec2, most float64) []rung {
	return smooth(follow(field, from, in, most))
}

// slopeChord is the length, in mm, over which a slope is taken.
const slopeChord = 2.0

func smooth(p []rung) []rung {
	out := slices.Clone(p)
	i, j := 0, 0
	for k := range p {
		for p[i].Down < p[k].Down-slopeChord/2 && i < k {
			i++
		}
		for j < len(p)-1 && p[j].Down < p[k].Down+slopeChord/2 {
			j++
		}
		a, b := max(min(i, k-1), 0), min(max(j, k+1), len(p)-1)
		if a < b && k < len(p)-1 {
			out[k].Slope = geom.Angle(math.Atan2(p[a].Z-p[b].Z, p[b].In-p[a].In))
		}
	}
	return out
}

func follow(field func(geom.Vec) float64, from geom.Vec, in geom.Vec2, most float64) []rung {
	const probe = 0.02 // mm, for the slope
	f := func(s, z float64) float64 { return field(from.XY().Add(in.Scale(s)).At(z)) }
	s, z, down, h := 0.0, from.Z, 0.0, 4.0
	heading := func(v float64) (ts, tz float64) {
		gs, gz := f(s+probe, z)-v, f(s, z+probe)-v
		l := math.Hypot(gs, gz)
		if l == 0 {
			return 0, -1
		}
		return -gz / l, gs / l
	}
	v := f(s, z)
	ts, tz := heading(v)
	out := []rung{{0, 0, z, geom.Angle(math.Atan2(-tz, ts))}}
	for range 400 {
		if slope := math.Atan2(-tz, ts); slope < levelSlope || s > most {
			return out
		}
		next := f(s+ts*h, z+tz*h)
		if math.Abs(next) > profileOff && h > profileStep {
			h = max(h/2, profileStep)
			continue
		}
		s0, z0 := s, z
		s, z = s+ts*h, z+tz*h
		us, uz := heading(next)
		s, z = s-uz*next, z+us*next // back onto the surface: the gradient is (uz, -us)
		ts, tz = us, uz
		down += math.Hypot(s-s0, z-z0)
		out = append(out, rung{down, s, z, geom.Angle(math.Atan2(-tz, ts))})
		h = min(2*h, 8)
	}
	return out
}

// atSlope is the place on a profile where the slope falls to psi, between its
// rungs; its last rung if it stays steeper.
func atSlope(p []rung, psi geom.Angle) rung {
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; b.Slope <= psi {
			t := 1.0
			if a.Slope > b.Slope {
				t = max(0, min(1, float64((a.Slope-psi)/(a.Slope-b.Slope))))
			}
			mix := func(x, y float64) float64 { return x + (y-x)*t }
			return rung{mix(a.Down, b.Down), mix(a.In, b.In), mix(a.Z, b.Z), psi}
		}
	}
	return p[len(p)-1]
}

// atHeight is the place on a profile at height z, between its rungs; its last
// rung if it stays above.
func atHeight(p []rung, z float64) rung {
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; b.Z <= z {
			t := max(0, min(1, (a.Z-z)/(a.Z-b.Z)))
			mix := func(x, y float64) float64 { return x + (y-x)*t }
			return rung{mix(a.Down, b.Down), mix(a.In, b.In), mix(a.Z, b.Z), geom.Angle(mix(float64(a.Slope), float64(b.Slope)))}
		}
	}
	return p[len(p)-1]
}

// levels reports whether a profile ends on a level floor.
func levels(p []rung) bool { return float64(p[len(p)-1].Slope) <= levelSlope }
