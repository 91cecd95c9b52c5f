package mesh

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"

	"buckwright/generate/geom"
	"buckwright/generate/sdf"
)

// Options says how a solid is turned into triangles.
type Options struct {
	Tol      float64            // mm, surface error aimed at
	MinCell  float64            // mm, least cell for the sake of shape; 0: chosen
	MaxCell  float64            // mm, largest cell; 0: chosen
	Bounds   geom.Box           // region that holds the solid; empty or zero: the solid's own
	Workers  int                // 0: one a processor
	Progress func(done float64) // called with 0 to 1, never by two goroutines at once
}

// Contour turns a solid into a closed triangle mesh that passes Check. The same
// solid and options give the same mesh, whatever the number of workers.
//
// The surface is found on an octree (Ju, Losasso, Schaefer, Warren 2002), with
// one vertex for each surface sheet of a cell (Schaefer, Ju, Warren 2007), and
// is cut into triangles that cannot cross (Ju & Udeshi 2006).
//
// Not promised: features that no cell of MinCell resolves, and solids that meet
// themselves in a point or an edge. The first come out blunt; the second are an
// error when no sound mesh is found.
func Contour(ctx context.Context, s sdf.Solid, o Options) (*Mesh, error) {
	if err := o.complete(s); err != nil {
		return nil, err
	}
	var err error
	for try := range 4 {
		var m *Mesh
		m, err = contourOnce(ctx, s, o, try)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err == nil {
			o.Progress(1)
			return m, nil
		}
		if errors.As(err, new(fineError)) {
			return nil, err
		}
		if try%2 == 1 {
			o.MinCell /= 2
		}
	}
	return nil, err
}

var errContourEmpty = errors.New("mesh: the solid has no surface")

// complete fills in what was left to choose.
func (o *Options) complete(s sdf.Solid) error {
	if !(o.Tol > 0) {
		return fmt.Errorf("mesh: tolerance %g is not above 0", o.Tol)
	}
	if o.Bounds == (geom.Box{}) || o.Bounds.Empty() {
		o.Bounds = s.Bounds()
	}
	if o.Bounds.Empty() {
		return errContourEmpty
	}
	size := o.Bounds.Size()
	if !size.Finite() {
		return errors.New("mesh: the solid has no finite bounds")
	}
	if o.MaxCell <= 0 {
		o.MaxCell = 8
		for o.MaxCell > max(size.X, size.Y, size.Z) && o.MaxCell > 0.25 {
			o.MaxCell /= 2
		}
	}
	if o.MinCell <= 0 {
		o.MinCell = 3 * o.Tol
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if o.Progress == nil {
		o.Progress = func(float64) {}
	}
	return nil
}

// grid lays the lattice. Its planes are shifted by odd amounts, so that faces of
// the solid seldom fall on them.
func (o *Options) grid(try int) (octGrid, int32) {
	levels := max(1, int(math.Round(math.Log2(o.MaxCell/o.MinCell))))
	g := octGrid{block: 2 << levels}
	g.h = math.Exp2(math.Round(math.Log2(o.MaxCell))) / float64(g.block)
	size := float64(g.block) * g.h
	shift := [3]float64{math.Sqrt2 - 1, math.Sqrt(3) - 1, math.Sqrt(5) - 2}
	axis := func(lo, hi, shift float64) (float64, int32) {
		pad := g.h * (2 + 0.5*math.Mod(shift*float64(try+1), 1) + 0.25)
		at := math.Round((lo-pad)/splitQuantum) * splitQuantum
		return at, int32(math.Ceil((hi + 2*g.h - at) / size))
	}
	b := o.Bounds
	g.origin.X, g.n[0] = axis(b.Min.X, b.Max.X, shift[0])
	g.origin.Y, g.n[1] = axis(b.Min.Y, b.Max.Y, shift[1])
	g.origin.Z, g.n[2] = axis(b.Min.Z, b.Max.Z, shift[2])
	return g, 2
}

// contourOnce is one attempt, on one lattice.
func contourOnce(ctx context.Context, s sdf.Solid, o Options, try int) (*Mesh, error) {
	grid, floor := o.grid(try)
	t := &octree{octGrid: grid, octRules: octRules{sag: 0.8 * o.Tol, tol: o.Tol / 2, floor: floor, blind: 1, soft: try == 0}}
	if err := t.build(ctx, s, o.Workers); err != nil {
		return nil, err
	}
	o.Progress(0.3)
	t.balance()
	r := &refiner{octree: t, limit: 0.8 * o.Tol, most: refineMost, workers: o.Workers}
	for {
		full, err := r.run(ctx)
		if err != nil {
			return nil, err
		}
		o.Progress(0.6)
		full.levels()
		m, tangled, err := contourThin(ctx, full, o, nil)
		if err == nil && len(tangled) > 0 && len(tangled) <= thinKeepMost {
			m, tangled, err = contourThin(ctx, full, o, tangled)
		}
		if err != nil || len(tangled) == 0 {
			return m, err
		}
		if !r.resolve(tangled) {
			return nil, m.Check()
		}
	}
}

// contourThin drops the triangles that are not needed, save about the points in keep.
// It also gives the corners of those that still cross others, and other places where the
// mesh is not sound.
func contourThin(ctx context.Context, s *splitter, o Options, keep []geom.Vec) (m *Mesh, tangled []geom.Vec, err error) {
	h := newThinner(s)
	h.keep(keep)
	if err := h.run(ctx, o.Workers, 0.9*o.Tol); err != nil {
		return nil, nil, err
	}
	o.Progress(0.9)
	h.endFlats()
	h.layNeedles(o.Tol)
	if m = h.mesh(); m.Check() != nil {
		if m, tangled = h.untangle(m, o.Tol); len(tangled) > 0 {
			return m, tangled, nil
		}
		if f, is := m.Check().(*Fault); is {
			return m, []geom.Vec{f.At}, nil
		}
	}
	return h.evened(m, s.round, o.Workers), nil, nil
}

// contourTrace traces the surface, splitting cells where it is tangled until
// each holds one plain sheet or is of the finest size.
func contourTrace(ctx context.Context, k *octSkeleton, workers int) error {
	for {
		if err := k.update(ctx, workers); err != nil {
			return err
		}
		tangled := k.tangled()
		if len(tangled) == 0 {
			return nil
		}
		for _, leaf := range tangled {
			k.tree.split(leaf)
		}
		k.tree.balance()
	}
}

// tangled lists the leaves, of those walked last and above the finest size, with
// several loops, or with a loop that crosses a face or a divided edge twice.
func (k *octSkeleton) tangled() []int32 {
	var out []int32
	for _, leaf := range k.fresh {
		first := k.loopAt[leaf]
		if first != octNone && k.tree.nodes[leaf].size > 1 && (k.crowded(int(first)) || k.knotted(first)) {
			out = append(out, leaf)
		}
	}
	return out
}

// knotted reports that a loop is too short for a polygon, or has a segment that
// shares its face with another.
func (k *octSkeleton) knotted(i int32) bool {
	l := &k.loops[i]
	if len(l.edges) < 3 {
		return true
	}
	for _, e := range l.edges {
		for _, g := range k.edges[e].seg {
			if g == octNone {
				continue
			}
			s := &k.segs[g]
			if s.vertex[0] != i && s.vertex[1] != i {
				continue
			}
			if k.faceAt[s.face] != g || s.next != octNone {
				return true
			}
		}
	}
	return false
}
