package generate

import (
	"io"

	"buckwright/generate/export"
	"buckwright/generate/pattern"
)

// writeFlats stores every flat and every piece of stock.
func (r *Result) writeFlats(put Put) ([]export.FlatJSON, []export.NestJSON, error) {
	var flats []export.FlatJSON
	for i := range r.Flats {
		f := &r.Flats[i]
		one := flatJSON(f)
		if f.Refused == "" {
			var err error
			if one.Files, err = writeDrawing(put, pattern.Draw(f), flatFormats()); err != nil {
				return nil, nil, err
			}
		}
		flats = append(flats, one)
	}
	var nests []export.NestJSON
	for _, n := range r.Nests {
		d := pattern.DrawSheet(n.Name, n.Flats[0].Flat.Material, n.Stock, n.Flats, n.Used, n.Take)
		files, err := writeDrawing(put, d, nestFormats())
		if err != nil {
			return nil, nil, err
		}
		one := export.NestJSON{Name: n.Name, Files: files, Material: n.Flats[0].Flat.Material.Title, Stock: [2]float64{n.Stock.X, n.Stock.Y}, Used: n.Used, Take: [2]float64{n.Take.X, n.Take.Y}}
		for _, l := range n.Flats {
			one.Flats = append(one.Flats, l.Flat.Name)
		}
		nests = append(nests, one)
	}
	return flats, nests, nil
}

type drawingFormat struct {
	ending string
	write  func(io.Writer, pattern.Drawing) error
}

// A whole piece of stock is for a machine: on paper it would be many pages.
func nestFormats() []drawingFormat {
	return []drawingFormat{{"dxf", export.WriteDXF}, {"svg", export.WriteSVG}}
}

func flatFormats() []drawingFormat {
	return append(nestFormats(), drawingFormat{"pdf", export.WritePDF})
}

func writeDrawing(put Put, d pattern.Drawing, as []drawingFormat) ([]string, error) {
	var files []string
	for _, a := range as {
		name := "flats/" + d.Title + "." + a.ending
		if err := put(name, func(w io.Writer) error { return a.write(w, d) }); err != nil {
			return nil, err
		}
		files = append(files, name)
	}
	return files, nil
}

func flatJSON(f *pattern.Flat) export.FlatJSON {
	out := export.FlatJSON{
		Name: f.Name, Title: f.Title, Material: f.Material.Title, Thickness: f.Material.Thickness, Count: f.Count,
		Cutter: f.Cutter, Kerf: f.Kerf, Area: f.Shape.Area(), Size: sizeOf(f),
		Template: f.Template, Notes: f.Notes, Refused: f.Refused,
	}
	if f.Strain != nil {
		out.Strain = &export.StrainJSON{Stretch: f.Strain.Stretch, Gather: f.Strain.Gather, Where: f.Strain.Where}
	}
	return out
}

// sizeOf is the size of what is cut; of the finished piece where it is refused.
func sizeOf(f *pattern.Flat) [2]float64 {
	shape := f.Cut.Outer
	if len(shape.P) == 0 {
		shape = f.Shape.Outer
	}
	if len(shape.P) == 0 {
		return [2]float64{}
	}
	lo, hi := shape.Bounds()
	return [2]float64{hi.X - lo.X, hi.Y - lo.Y}
}
