package generate

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/mesh/meshfile"
	"buckwright/generate/outline"
	"buckwright/generate/sdf"
	"buckwright/params"
)

// drawnSolid raises the outline of a drawing. Every error is a *params.Problem.
func drawnSolid(k *params.Kit, p *params.Profile, key string, read func(string) ([]byte, error)) (sdf.Solid, error) {
	name, src, err := readNamed(k, p.File, key+".file", read)
	if err != nil {
		return nil, err
	}
	o, err := outline.Read(name, src, outline.Options{Unit: p.Unit, Layer: p.Layer})
	if err != nil {
		hint := "the drawing must hold one closed outline"
		var wrong *outline.Error
		if errors.As(err, &wrong) && wrong.Hint != "" {
			hint = wrong.Hint
		}
		return nil, k.Problem(key+".file", err.Error(), hint)
	}
	size := o.Size()
	if most := min(size.X, size.Y) / 2; p.CornerRadius > most {
		return nil, k.Problem(key+".corner_radius", fmt.Sprintf("%.4g mm is more than half the outline's smaller side, %.4g mm", p.CornerRadius, most), "make it smaller")
	}
	body, err := profileSolid(p, o.Points, o.Bulge)
	if err != nil {
		return nil, k.Problem(key+".file", path.Base(name)+": "+err.Error(), "mend the path where it crosses or touches itself; places are in mm from the drawing's origin, y up")
	}
	return body, nil
}

// readNamed reads a file that the kit names, from the kit's own folder. Its errors are
// *params.Problem.
func readNamed(k *params.Kit, file, key string, read func(string) ([]byte, error)) (name string, src []byte, err error) {
	name = k.Beside(file)
	if src, err = read(name); err != nil {
		hint := "name the file itself"
		if errors.Is(err, fs.ErrNotExist) {
			hint = "the path is taken from the kit file's folder"
		}
		return "", nil, k.Problem(key, err.Error(), hint)
	}
	return name, src, nil
}

// fromMesh reads the product's own body, mended and, where it has more triangles
// than it needs, thinned.
func (it *item) fromMesh(ctx context.Context, k *params.Kit, key string, read func(string) ([]byte, error), q Quality) error {
	f := it.kit.Shape.Mesh
	name, src, err := readNamed(k, f.File, key, read)
	if err != nil {
		return err
	}
	m, err := meshfile.Read(name, src, meshfile.Options{Unit: f.Unit, Up: string(f.Up)})
	if err != nil {
		hint := "export the body again as one closed mesh"
		var wrong *meshfile.Error
		if errors.As(err, &wrong) && wrong.Hint != "" {
			hint, wrong.Hint = wrong.Hint, "" // it goes into the problem's own hint
		}
		return k.Problem(key, err.Error(), hint)
	}
	if m, err = it.mend(path.Base(name), m); err != nil {
		return k.Problem(key, err.Error(), "export the product's solid, with its thickness, as one closed mesh")
	}
	b := m.Bounds()
	if size := b.Size(); max(size.X, size.Y, size.Z) > params.LargestItem {
		return k.Problem(key, fmt.Sprintf("%s: the body is %.4g x %.4g x %.4g mm, and an item is %g mm long at most", path.Base(name), size.X, size.Y, size.Z, params.LargestItem),
			"look for a part that lies far off the others, and at shape.mesh.unit")
	}
	if m, err = thinned(ctx, m, q); err != nil {
		return err
	}
	c := b.Center()
	it.mesh = m.Transform(geom.Translate(geom.V(-c.X, -c.Y, -b.Min.Z)))
	it.given = mesh.Field(it.mesh)
	it.box = it.mesh.Bounds()
	return nil
}
