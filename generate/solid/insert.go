package solid

import "buckwright/generate/sdf"

// Insert is the formed and trimmed sheet. It is never printed: the other parts
// are measured against it.
func Insert(l *Layout) sdf.Solid {
	product, underside := InsertSides(l)
	return sdf.Difference(product, underside)
}

// InsertSides are the bodies under the insert's product side and under its
// underside, both cut flat at the trim line: the insert is the first less the
// second, which lies within it.
func InsertSides(l *Layout) (product, underside sdf.Solid) {
	d := l.Dims
	t := d.Insert
	deep := l.Trim - 5
	outside := l.form(0, 0, l.Pocket(d.Pocket.Finished), d.Pocket.MouthRadius+t.Rim, t.RimRadius+t.Rim, deep)
	inside := l.form(-t.Rim, -t.Skirt, l.Under(0), d.Pocket.MouthRadius, t.RimRadius, deep-1)
	return sdf.Intersect(outside, above(l.Trim)), sdf.Intersect(inside, above(l.Trim))
}

// Nest is the printed bed that carries the insert's underside while felt is
// pressed in. It follows the finished insert, not the buck: the sheet has
// shrunk and would bind on the buck.
func Nest(l *Layout) sdf.Solid {
	d := l.Dims
	gap := d.Press.NestGap
	bottom := l.nestBottom()
	body := l.form(-d.Insert.Rim-gap, -d.Insert.Skirt-gap, l.Under(gap), d.Pocket.MouthRadius, d.Insert.RimRadius, bottom)
	foot := l.foot(-d.Insert.Skirt-gap, bottom)
	return sdf.Intersect(body, chamferBelow(foot, bottom, d.Base.Foot))
}

// nestBottom is the z of the nest's underside: clear of the trimmed edge, and
// at least 3 mm of bed under the deepest pocket.
func (l *Layout) nestBottom() float64 { return min(l.Trim-2, l.Deep-3.5) }
