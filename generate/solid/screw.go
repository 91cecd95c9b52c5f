package solid

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	screwSkin = 3.0 // mm of solid between a screw's bore and a pocket or the skirt: print walls, common practice
	screwGrid = 2.0 // mm between the places that are looked at
)

// PlanScrews sets the screws that hold the buck on the platen: at the places
// that are given, else near the corners, where four find room. The error says
// which place has none, and why. The vents must be set before.
func (l *Layout) PlanScrews() error {
	s := l.Dims.Buck.Screw
	l.Screws = nil
	if s.Thread == "" {
		return nil
	}
	for i, at := range s.At {
		if why := l.noScrew(at); why != "" {
			return &NoRoomError{i, fmt.Sprintf("a screw at %.4g, %.4g %s", at.X, at.Y, why)}
		}
	}
	if l.Screws = s.At; len(s.At) == 0 {
		l.Screws = l.cornerScrews(s.Count)
	}
	if len(l.Screws) < 2 {
		return &NoRoomError{-1, fmt.Sprintf("the buck has no room for two bosses of %.3g mm between its pockets, vents and skirt", s.Boss)}
	}
	return nil
}

// NoRoomError is a screw that has no place: of those given, counted from 0, or
// -1 when none could be chosen.
type NoRoomError struct {
	Index int
	What  string
}

func (e *NoRoomError) Error() string { return e.What }

// cornerScrews picks the room farthest out towards each corner; two at least
// three bosses apart.
func (l *Layout) cornerScrews(n int) []geom.Vec2 {
	var room []geom.Vec2
	half := l.BuckFoot()
	nx, ny := int(half.X/screwGrid), int(half.Y/screwGrid)
	for j := -ny; j <= ny; j++ { // from the middle, so that a symmetric buck has symmetric screws
		for i := -nx; i <= nx; i++ {
			if at := l.Center.Add(geom.Vec2{X: float64(i), Y: float64(j)}.Scale(screwGrid)); l.noScrew(at) == "" {
				room = append(room, at)
			}
		}
	}
	var out []geom.Vec2
	for _, dir := range [4]geom.Vec2{{X: 1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}} {
		best, far := geom.Vec2{}, math.Inf(-1)
		for _, at := range room {
			// Equally far out counts as the one nearer the end, so that corners agree.
			d := at.Sub(l.Center).Dot(dir) + 1e-3*dir.X*(at.X-l.Center.X)
			if d > far && apart(at, out, 3*l.Dims.Buck.Screw.Boss) {
				best, far = at, d
			}
		}
		if len(out) < n && !math.IsInf(far, -1) {
			out = append(out, best)
		}
	}
	return out
}

func apart(p geom.Vec2, from []geom.Vec2, by float64) bool {
	for _, q := range from {
		if p.Sub(q).Len() < by {
			return false
		}
	}
	return true
}

// noScrew says why a boss cannot stand at a place, or nothing.
func (l *Layout) noScrew(at geom.Vec2) string {
	b := l.Dims.Buck
	s := b.Screw
	top := l.Bottom + s.Deep
	switch {
	case !(l.foot(-l.Dims.Insert.Skirt, top).Dist(at) <= -(s.Boss/2 + 1)):
		return "is too near the skirt"
	case !(l.Under(0).Dist(at.At(top)) >= s.Bore/2+screwSkin):
		return "is too near a pocket"
	}
	for _, v := range l.Vents {
		if v.At.XY().Sub(at).Len() < (s.Boss+b.Bore)/2+1 {
			return "meets a vent"
		}
	}
	_, across := l.channelLines()
	for _, x := range across {
		if math.Abs(at.X-l.Center.X-x) < (s.Boss+b.Channel)/2 {
			return "closes a channel that joins the others"
		}
	}
	return ""
}

// screwBosses are the blocks round the screws that no channel enters. They end
// between two channels, so that a channel is closed whole or not at all.
func (l *Layout) screwBosses() []sdf.Solid {
	b := l.Dims.Buck
	r, gap := b.Screw.Boss/2, b.ChannelGap
	var out []sdf.Solid
	for _, at := range l.Screws {
		y := at.Y - l.Center.Y
		lo, hi := (math.Floor((y-r)/gap-0.5)+0.5)*gap, (math.Ceil((y+r)/gap-0.5)+0.5)*gap
		out = append(out, box(geom.V(at.X, l.Center.Y+(lo+hi)/2, 0), r, (hi-lo)/2, l.Bottom-2, l.Bottom+b.ChannelH+b.Channel))
	}
	return out
}

// screwBores are the bores for the screws, from the underside: a chamfer that
// leads the insert in, the bore, and a roof at 45 degrees.
func (l *Layout) screwBores() []sdf.Solid {
	const lead = 0.5 // mm
	s := l.Dims.Buck.Screw
	r, top := s.Bore/2, l.Bottom+s.Deep
	var out []sdf.Solid
	for _, at := range l.Screws {
		out = append(out,
			sdf.Rod(at, r, l.Bottom-1, top-r),
			sdf.Cone(at.At(l.Bottom-1), at.At(l.Bottom+lead), r+lead+1, r),
			sdf.Cone(at.At(top-r), at.At(top-0.3), r, 0.3),
		)
	}
	return out
}
