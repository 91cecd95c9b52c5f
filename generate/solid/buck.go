package solid

import (
	"math"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// channelTop is the flat of a channel's roof, in mm: a bridge that any printer spans.
const channelTop = 1.6

// Buck is the forming tool: a drafted block that wears the sheet, pierced by
// vents that are bored wide from below and joined by channels in its underside.
func Buck(l *Layout) sdf.Solid {
	d := l.Dims
	body := FormingFace(l)
	foot := l.foot(-d.Insert.Skirt, l.Bottom)
	body = sdf.Intersect(body, chamferBelow(foot, l.Bottom, d.Base.Foot))
	cutters := l.channels()
	if len(l.Screws) > 0 {
		cutters = append(l.screwBores(), sdf.Difference(sdf.Union(cutters...), l.screwBosses()...))
	}
	for _, v := range l.Vents {
		cutters = append(cutters, l.ventCut(v))
	}
	return sdf.Difference(body, cutters...)
}

// FormingFace is the block that the sheet meets: the buck before it is vented
// and its foot chamfered.
func FormingFace(l *Layout) sdf.Solid {
	d := l.Dims
	return l.form(-d.Insert.Rim, -d.Insert.Skirt, l.Under(0), d.Pocket.MouthRadius, d.Insert.RimRadius, l.Bottom)
}

// FormingFaceAt tells whether a point of the buck's surface is one that the sheet
// is pulled off: on the forming face, above the channels' mouths, and in no vent.
func FormingFaceAt(l *Layout) func(geom.Vec) bool {
	face := FormingFace(l)
	mouths := l.Bottom + l.Dims.Buck.ChannelH + l.Dims.Buck.Channel/2
	const near = 0.1 // mm: a mesh is nearer to its solid
	return func(p geom.Vec) bool { return p.Z > mouths && face.Dist(p) > -near }
}

// ventCut is the air's way from the pocket's surface to the channels: the hole
// through the land, a 45-degree roof that prints without support, the bore. A
// hole too small for the printer becomes a pilot dimple over a closed land, to
// be drilled.
func (l *Layout) ventCut(v Vent) sdf.Solid {
	b := l.Dims.Buck
	at, r, bore := v.At.XY(), b.VentDrawn/2, b.Bore/2
	roof := v.Land - (bore - r)
	under := sdf.Union(
		sdf.Rod(at, bore, l.Bottom-1, roof),
		sdf.Cone(at.At(roof), at.At(v.Land), bore, r),
	)
	if b.VentDrill {
		const dimple = 0.6 // mm deep: a drill point sits in it
		return sdf.Union(under, sdf.Cone(at.At(v.At.Z-dimple), at.At(v.At.Z+dimple), 0.1, 0.1+2*dimple))
	}
	return sdf.Union(under, sdf.Rod(at, r, v.Land-0.01, v.At.Z+2))
}

// channels are grooves in the underside, upright for ChannelH and then roofed
// at 45 degrees up to a narrow flat. Those along x run out through the skirt as mouths; two or more
// across join them.
func (l *Layout) channels() []sdf.Solid {
	b := l.Dims.Buck
	w := b.Channel / 2
	section, err := sdf.Polygon([]geom.Vec2{
		{X: -w, Y: -1}, {X: w, Y: -1}, {X: w, Y: b.ChannelH}, {X: channelTop / 2, Y: b.ChannelH + w - channelTop/2},
		{X: -channelTop / 2, Y: b.ChannelH + w - channelTop/2}, {X: -w, Y: b.ChannelH},
	}, nil)
	if err != nil {
		panic("solid: the channel's section: " + err.Error())
	}
	spread := (-l.Bottom)*l.Dims.Insert.Draft.Tan() + 10
	long, wide := l.Half.X+spread, l.Half.Y+spread
	// A prism along z becomes one along y, its section's y upright.
	alongY := sdf.Move(sdf.Prism(section, -wide, wide), geom.RotateX(90*geom.Degree))
	alongX := sdf.Move(sdf.Prism(section, -long, long), geom.RotateX(90*geom.Degree).Then(geom.RotateZ(90*geom.Degree)))
	var out []sdf.Solid
	put := func(s sdf.Solid, x, y float64) {
		out = append(out, sdf.Move(s, geom.Translate(geom.V(l.Center.X+x, l.Center.Y+y, l.Bottom))))
	}
	rows, across := l.channelLines()
	for _, y := range rows {
		put(alongX, 0, y)
	}
	for _, x := range across {
		put(alongY, x, 0)
	}
	return out
}

// channelLines are the middles of the channels from that of the plan: y of those along
// x, and x of those across. Beyond the last along x as much land is left as the printer
// makes in two lines, and so much that the channel leaves the foot's corners well across.
func (l *Layout) channelLines() (rows, across []float64) {
	const corner = 0.2 // of the corner's radius: there its arc has turned by 37 degrees
	d := l.Dims
	round := d.Insert.CornerRadius + l.flare(-d.Insert.Skirt, l.Bottom)
	land := max(2*d.Print.Width, corner*round)
	reach := l.BuckFoot().Y - d.Base.Foot - land - d.Buck.Channel/2
	n := max(0, int(math.Floor(reach/d.Buck.ChannelGap)))
	for k := -n; k <= n; k++ {
		rows = append(rows, float64(k)*d.Buck.ChannelGap)
	}
	return rows, []float64{-0.5 * l.Half.X, 0, 0.5 * l.Half.X}
}
