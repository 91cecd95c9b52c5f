package main

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
)

// lump writes a closed body with three lobes, 80 x 60 x 30 mm, in rings about z:
// around(around - 2) triangles as a binary STL. It returns their number.
func lump(path string, around int) (int, error) {
	tall := around / 2
	at := func(i, j int) [3]float32 {
		sp, cp := math.Sincos(math.Pi * (float64(j)/float64(tall) - 0.5))
		if j == 0 || j == tall {
			i, cp = 0, 0
		}
		st, ct := math.Sincos(2 * math.Pi * float64(i%around) / float64(around))
		r := 0.5 * (0.85 + 0.15*math.Cos(3*math.Atan2(st, ct))*cp)
		return [3]float32{float32(80 * r * cp * ct), float32(60 * r * cp * st), float32(30 * r * sp)}
	}
	var facets bytes.Buffer
	n := 0
	put := func(a, b, c [3]float32) {
		n++
		binary.Write(&facets, binary.LittleEndian, [4][3]float32{{}, a, b, c})
		facets.Write([]byte{0, 0})
	}
	for i := range around {
		for j := range tall {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if j > 0 {
				put(a, b, c)
			}
			if j < tall-1 {
				put(a, c, d)
			}
		}
	}
	head := make([]byte, 84)
	binary.LittleEndian.PutUint32(head[80:], uint32(n))
	return n, os.WriteFile(path, append(head, facets.Bytes()...), 0o666)
}
