package generate

import (
	"bytes"
	"fmt"
	"io"
	"sync"
	"sync/atomic"

	"buckwright/generate/geom"
	"buckwright/generate/mesh"
)

// drawn is one picture: its file and how it is drawn.
type drawn struct {
	name string
	draw func(io.Writer) error
}

// gallery is every picture that the made parts allow, as it is being drawn.
type gallery struct {
	all     []drawn
	files   []bytes.Buffer
	errs    []error
	wait    sync.WaitGroup
	stopped atomic.Bool
}

// draw begins to draw the pictures, side by side.
func (r *Result) draw() *gallery {
	all := r.pictures()
	g := &gallery{all: all, files: make([]bytes.Buffer, len(all)), errs: make([]error, len(all))}
	g.wait.Go(func() {
		sideBySide(len(all), func(i int) {
			if !g.stopped.Load() {
				g.errs[i] = all[i].draw(&g.files[i])
			}
		})
	})
	return g
}

// stop leaves what is not drawn, and returns when nothing is being drawn.
func (g *gallery) stop() {
	g.stopped.Store(true)
	g.wait.Wait()
}

// write stores the pictures in order, once they are drawn, and lists their files.
func (g *gallery) write(put Put) ([]string, error) {
	g.wait.Wait()
	var names []string
	for i, p := range g.all {
		if g.errs[i] != nil {
			return nil, fmt.Errorf("%s: %w", p.name, g.errs[i])
		}
		err := put(p.name, func(w io.Writer) error { _, err := w.Write(g.files[i].Bytes()); return err })
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
