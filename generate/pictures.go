package generate

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"sync"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// drawn is one picture: its file and how it is drawn.
type drawn struct {
	name string
	draw func(io.Writer) error
}

// writePictures stores every picture that the made parts allow and lists their
// files. They are drawn side by side and stored in order.
func (r *Result) writePictures(put Put) ([]string, error) {
	all := r.pictures()
	files := make([]bytes.Buffer, len(all))
	errs := make([]error, len(all))
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wait sync.WaitGroup
	for i := range all {
		free <- struct{}{}
		wait.Go(func() {
			defer func() { <-free }()
			errs[i] = all[i].draw(&files[i])
		})
	}
	wait.Wait()
	var names []string
	for i, p := range all {
		if errs[i] != nil {
			return nil, fmt.Errorf("%s: %w", p.name, errs[i])
		}
		err := put(p.name, func(w io.Writer) error { _, err := w.Write(files[i].Bytes()); return err })
		if err != nil {
			return nil, err
		}
		names = append(names, p.name)
	}
	return names, nil
}

func (r *Result) pictures() []drawn {
	out := append(r.kitPictures(), r.partPictures()...)
	out = append(append(out, r.mapPictures()...), r.linerPictures()...)
	for i := range r.items {
		out = append(out, r.sectionPictures(i)...)
	}
	return out
}

// made is a part's finished mesh; nil when it was not asked for.
func (r *Result) made(name string) *mesh.Mesh {
	for _, p := range r.Parts {
		if p.Name == name {
			return p.Mesh
		}
	}
	return nil
}

// packedItem is an item's mesh where it lies in its pocket.
func (r *Result) packedItem(i int) *mesh.Mesh {
	return r.items[i].mesh.Transform(r.items[i].pose(-r.Dims.Items[i].Depth))
}

// planMiddle is the middle of an item's plan.
func (r *Result) planMiddle(i int) geom.Vec2 { return r.Layout.Places[i].At }
