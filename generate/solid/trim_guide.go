package solid

import (
	"fmt"
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

const (
	guideWide  = 84.0 // mm along the insert: a hand holds it down behind the blade
	guideLand  = 26.0 // mm, flat that the blade lies on
	guideDeck  = 42.0 // mm behind the land at least: the knife's handle, or a clamp
	guideStand = 1.2  // depth of the foot / height of the land: pushed, it slides before it tips unless friction passes 0.6
	handleHalf = 9.0  // mm, half a knife's handle, which hangs over the deck; common practice, no source
	deckLeast  = 3.0  // mm
	clampHole  = 3.3  // mm, thread of an M4 screw cut by itself; common practice, no source
	clampDeep  = 14.0 // mm
	guideMark  = 7.0  // mm, height of the digits
)

// TrimGuide is the fence that gauges the height of the trimming knife from the
// table. The insert stands on its rim, underside up; the guide stands beside it,
// its face against the skirt, and the blade lies flat on the land, held by a
// hand or by a screw and a washer. The land is half a blade below the trim line.
// The size of the skirt does not come into it: wherever the faces touch, the
// height is the table's.
//
// In the kit's frame the table is z = 0 and the guide hangs below it, where it
// is used, at the front.
func TrimGuide(l *Layout) sdf.Solid {
	touch := l.Half.Y + l.flare(0, -l.Dims.Trim.Seat)
	place := geom.Translate(geom.V(l.Center.X, l.Center.Y-touch, 0))
	return sdf.Move(l.guide(), geom.RotateX(180*geom.Degree).Then(place))
}

// guide is drawn as it stands on the table: the fence is y = 0, the land and
// then the deck lie behind it.
func (l *Layout) guide() sdf.Solid {
	seat := l.Dims.Trim.Seat
	deck := max(seat-handleHalf, min(deckLeast, seat))
	deep := max(guideLand+guideDeck, guideStand*seat)
	plan := sdf.Place2(sdf.Rect(guideWide/2, deep/2, 0), geom.Vec2{Y: deep / 2}, 0)
	body := sdf.Intersect(sdf.Prism(plan, 0, seat), chamferBelow(plan, 0, l.Dims.Base.Foot))
	clamp := geom.Vec2{Y: guideLand / 2}
	drawn := (clampHole - l.Dims.Print.Hole) / 2
	return sdf.Difference(body,
		sdf.Box(geom.V(-guideWide, guideLand, deck), geom.V(guideWide, deep+1, seat+1)),
		sdf.Rod(clamp, drawn, max(seat-clampDeep, deckLeast/2), seat+1),
		mark(fmt.Sprintf("%.1f", math.Abs(l.Trim)), guideMark, geom.Vec2{Y: guideLand + guideDeck*0.6}, 180*geom.Degree, deck),
	)
}
