package picture

import (
	"image"
	"image/color"
	"image/png"
	"io"
)

// encode writes the file. Fast compression costs a third more bytes and takes a
// third of the time.
func encode(w io.Writer, img image.Image) error {
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	return e.Encode(w, img)
}

// encodeDrawing writes a page of few tones with a palette, at a third of the
// bytes. A page of too many is written as it is.
func encodeDrawing(w io.Writer, img *image.RGBA) error {
	if few, ok := reduced(img); ok {
		e := png.Encoder{CompressionLevel: png.DefaultCompression}
		return e.Encode(w, few)
	}
	return encode(w, img)
}

// reduced rounds an opaque picture to 32 levels a channel, which no eye sees in
// a line drawing, and gives it a palette; false when that takes over 256 colours.
func reduced(img *image.RGBA) (*image.Paletted, bool) {
	out := image.NewPaletted(img.Rect, nil)
	known := make([]uint16, 1<<15) // one more than the colour's index
	for i := range out.Pix {
		p := img.Pix[4*i : 4*i+3 : 4*i+3]
		key := uint(p[0])>>3<<10 | uint(p[1])>>3<<5 | uint(p[2])>>3
		if known[key] == 0 {
			if len(out.Palette) == 256 {
				return nil, false
			}
			out.Palette = append(out.Palette, color.RGBA{wide(p[0]), wide(p[1]), wide(p[2]), 255})
			known[key] = uint16(len(out.Palette))
		}
		out.Pix[i] = uint8(known[key] - 1)
	}
	return out, true
}

// wide spreads the five upper bits over eight: 0 stays black, 255 white.
func wide(v uint8) uint8 { return v&0xf8 | v>>5 }
