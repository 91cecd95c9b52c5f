package generate

import (
	"buckwright/generate/picture"
)

// packedEdge shows the lid on the neck, at the right.
func (c *cutting) packedEdge() *picture.Detail {
	d, base, lid := c.r.Dims, c.of("base"), c.of("lid")
	shoulder := d.Base.NeckTop - d.Base.Neck
	z := shoulder + 0.72*d.Base.Neck // above the catch
	b, l := base.AtHeight(z), lid.AtHeight(z)
	if len(b) < 2 || len(l) < 2 || l[len(l)-2] < b[len(b)-1] {
		return nil
	}
	out := c.offset()
	neckIn, neckOut, lidIn, lidOut := b[len(b)-2]-out, b[len(b)-1]+out, l[len(l)-2]-out, l[len(l)-1]+out
	wall := d.Lid.Wall + 2*out
	t := &picture.Detail{
		Caption: "lid on the neck",
		Window:  picture.Around(at(lidIn+wall-detailWide/2+1, shoulder+5.5), detailWide, detailHigh),
	}
	slip, neck := gap(at(neckOut, z), at(lidIn, z), "slip %.2f a side"), gap(at(neckIn, z-1.6), at(neckOut, z-1.6), "neck %.2f")
	on := spot(at(lidIn+wall/2, shoulder), "lid on the shoulder")
	switch groove, lug := neckOut-neckIn < 0.9*(d.Base.NeckWall+2*out), lidOut-lidIn > 1.5*wall; {
	case groove: // the plane runs down an air way of the neck
		t.Caption = "lid and neck in an air way"
		t.Notes = []picture.Note{
			gap(at(neckOut, z), at(lidIn, z), "air way %.2f"), gap(at(lidIn, z+1.6), at(lidOut, z+1.6), "lid %.2f"),
			gap(at(neckIn, z-1.6), at(neckOut, z-1.6), "neck behind it %.2f"),
		}
	case lug: // or through a lug, which has no wall to be told
		t.Caption = "lid on the neck, at a lug"
		t.Notes = []picture.Note{slip, neck, on}
	default:
		t.Notes = []picture.Note{slip, gap(at(lidIn, z+1.6), at(lidOut, z+1.6), "lid %.2f"), neck, on}
	}
	return t
}
