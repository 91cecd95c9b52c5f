package fit

// trimBlade is the thickness of a trimming blade: 0.5 to 0.6 for the usual
// break-off and trapezoid ones; common practice, no source.
const trimBlade = 0.6

// trimGuide sets the height of the blade's seat over the table that the insert
// stands on with its bare rim, z = 0. The felt is not there yet, and the
// sheet's thickness lies above the table. A slicing program rounds the height
// to whole layers, half a layer either way.
func (b *builder) trimGuide() {
	seat := -b.d.Insert.Trim - trimBlade/2
	b.d.Trim = TrimDims{Seat: seat}
	b.add("trim.seat", "land of the trim guide above the table", "trim-guide", "mm", PlusMinus(seat, b.d.Print.Layer/2),
		"-trim - blade/2, to whole layers; blade 0.6 thick", srcCP)
}
