package fit

import (
	"buckwright/generate/geom"
	"buckwright/params"
)

// screwRow is what one thread asks for, in mm.
type screwRow struct {
	nominal, tap, clearance  float64
	insertHole, insertLength float64
}

// screwOf gives the sizes of a metric coarse thread. tap: ISO 2306:1972, drills
// for use prior to tapping; clearance: ISO 273:1979, medium series; both from
// memory, confirm. Inserts set with heat differ from maker to maker: usual sizes,
// common practice, no source; the sheet of the insert at hand wins.
func screwOf(t params.Thread) screwRow {
	switch t {
	case params.M3:
		return screwRow{3, 2.5, 3.4, 4.0, 5.7}
	case params.M5:
		return screwRow{5, 4.2, 5.5, 6.4, 9.5}
	case params.M6:
		return screwRow{6, 5.0, 6.6, 8.0, 12.7}
	}
	return screwRow{4, 3.3, 4.5, 5.6, 8.1}
}

// Common practice, no source.
const (
	screwSpare   = 1.5 // mm of bore beyond the insert or thread, for chips and molten plastic
	tappedLength = 2.5 // threads in plastic bear over this many diameters
	insertBoss   = 2.0 // a boss is at least so many times an insert's hole
	tappedBoss   = 2.5 // or so many times a tapped thread
	screwCount   = 4
)

// screws sizes the bosses that hold the buck on the platen.
func (b *builder) screws() {
	s := b.k.Buck.Screws
	if s == nil {
		return
	}
	row, d := screwOf(s.Thread), &b.d.Buck.Screw
	d.Thread, d.Tapped, d.Count = string(s.Thread), s.Hold == params.HoldTapped, screwCount
	for _, p := range s.At {
		d.At = append(d.At, geom.Vec2{X: p[0], Y: p[1]})
	}
	hole, length, src := row.insertHole, row.insertLength, srcCP+": usual inserts set with heat; the insert's own sheet wins"
	formula := "hole of the insert - measured hole offset"
	d.Boss = insertBoss * hole
	if d.Tapped {
		hole, length, src = row.tap, tappedLength*row.nominal, "ISO 2306:1972, drills prior to tapping; from memory, confirm"
		formula, d.Boss = "thread - pitch, less the measured hole offset", tappedBoss*row.nominal
	}
	if s.Hole != nil {
		hole, src, d.Boss = *s.Hole, srcKit, max(d.Boss, insertBoss**s.Hole)
	}
	if s.Length != nil {
		length = *s.Length
	}
	d.Bore, d.Deep = hole-b.k.Printer.Hole, length+screwSpare
	b.add("screw.bore", "bores for "+d.Thread+" in the underside, as drawn for this printer", "buck", "mm", Fixed(d.Bore), formula, src)
	b.add("screw.depth", "depth of these bores", "buck", "mm", Fixed(d.Deep), "insert, or 2.5 thread diameters, + 1.5", srcCP)
	b.add("screw.boss", "solid round a bore", "buck", "mm", Fixed(d.Boss), "2 x insert's hole, or 2.5 thread diameters", srcCP)
	b.add("screw.clearance", "holes for the screws in the platen", "platen", "mm", Fixed(row.clearance), "medium series", "ISO 273:1979; from memory, confirm")
}
