package picture

import (
	"image"
	"image/color"
	"math"
)

// Pattern is how the cut of a material is hatched, so that it is known without
// colour. Lines at 45 degrees for solids, another direction or distance for a
// neighbour, and thin sections filled: ISO 128-50:2001, 4.1 to 4.4.
type Pattern int

// The patterns.
const (
	Plain Pattern = iota
	Rising
	Falling
	RisingWide
	FallingWide
	Dotted
	Ringed
	Full
)

// Fill is a material in a section.
type Fill struct {
	Name    string // in the key; none there if empty
	Tone    color.RGBA
	Pattern Pattern
}

// inked is how much of the pixel is ink.
func (k Pattern) inked(x, y int) float64 {
	fx, fy := float64(x)+0.5, float64(y)+0.5
	switch k {
	case Rising:
		return lines(fx+fy, 11, 1.1)
	case Falling:
		return lines(fx-fy, 11, 1.1)
	case RisingWide:
		return lines(fx+fy, 18, 1.1)
	case FallingWide:
		return lines(fx-fy, 18, 1.1)
	case Dotted:
		return spots(fx, fy, 6, 1.0)
	case Ringed:
		return rings(fx, fy, 9, 2.6)
	}
	return 0
}

// lines are thick wide at every step of the distance from one of them, which is
// s over the root of two.
func lines(s, step, thick float64) float64 {
	d := math.Abs(offGrid(s, step)) / math.Sqrt2
	return cover(thick/2 - d)
}

// spots stand on a lattice whose every second row is shifted.
func spots(x, y, step, r float64) float64 { return cover(r - lattice(x, y, step)) }

func rings(x, y, step, r float64) float64 { return cover(0.6 - math.Abs(lattice(x, y, step)-r)) }

// lattice is the distance to the nearest point of the lattice.
func lattice(x, y, step float64) float64 {
	row := math.Floor(y/step + 0.5)
	if int(row)&1 != 0 {
		x += step / 2
	}
	dx, dy := offGrid(x, step), y-row*step
	return math.Sqrt(dx*dx + dy*dy)
}

// offGrid is how far s is from the nearest multiple of step.
func offGrid(s, step float64) float64 { return s - step*math.Floor(s/step+0.5) }

// cover is how much of a pixel lies inside an edge that runs d pixels beyond
// its middle.
func cover(d float64) float64 { return min(max(d+0.5, 0), 1) }

// hatch fills what the mask covers.
func (p *page) hatch(m *image.Alpha, f Fill) {
	lines := color.RGBA{70, 70, 70, 255}
	for y := m.Rect.Min.Y; y < m.Rect.Max.Y; y++ {
		row := m.Pix[(y-m.Rect.Min.Y)*m.Stride:]
		for x := m.Rect.Min.X; x < m.Rect.Max.X; x++ {
			a := row[x-m.Rect.Min.X]
			if a == 0 {
				continue
			}
			share := float64(a) / 255
			p.blend(x, y, f.Tone, share)
			if k := f.Pattern.inked(x, y); k > 0 {
				p.blend(x, y, lines, share*k)
			}
		}
	}
}
