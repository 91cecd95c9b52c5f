package meshfile

import (
	"encoding/binary"
	"encoding/json"
	"math"

	"buckwright/generate/geom"
)

// Bounds on what a scene may unfold to. Three bytes of it can name a node that takes
// twenty times as many, so that its text is kept short: 30 000 nodes fit.
const (
	glbSceneBytes = 8 << 20
	glbDepth      = 256
)

// glb is the part of a binary glTF 2.0 file that gives it shape (Khronos Group,
// glTF 2.0 Specification, 2021).
type glb struct {
	*reader
	glbScene
	bin  []byte
	seen []bool // nodes that stand in the scene already
}

// glbScene is the JSON part.
type glbScene struct {
	Scene  *int
	Scenes []struct{ Nodes []int }
	Nodes  []struct {
		Children    []int
		Mesh        *int
		Matrix      *[16]float64
		Translation *[3]float64
		Rotation    *[4]float64
		Scale       *[3]float64
	}
	Meshes []struct {
		Primitives []struct {
			Attributes map[string]int
			Indices    *int
			Mode       *int
			Extensions map[string]json.RawMessage
		}
	}
	Accessors []struct {
		BufferView    *int
		ByteOffset    int
		ComponentType int
		Count         int
		Type          string
		Sparse        json.RawMessage
	}
	BufferViews []struct {
		Buffer     int
		ByteOffset int
		ByteLength int
		ByteStride int
	}
	Buffers []struct{ URI *string }
}

func (r *reader) readGLB() error {
	g := &glb{reader: r}
	if err := g.chunks(); err != nil {
		return err
	}
	roots, err := g.roots()
	if err != nil {
		return err
	}
	g.seen = make([]bool, len(g.Nodes))
	for _, n := range roots {
		if err := g.node(n, geom.Identity(), 0); err != nil {
			return err
		}
	}
	return nil
}

// chunks takes the file apart: 12 bytes of head, then JSON, then BIN.
func (g *glb) chunks() error {
	const again = "export or copy it again"
	const jsonChunk, binChunk = 0x4E4F534A, 0x004E4942
	u32 := binary.LittleEndian.Uint32
	if len(g.src) < 20 {
		return g.fail(len(g.src), again, "the file ends inside its head")
	}
	if v := u32(g.src[4:]); v != 2 {
		return g.fail(4, "export glTF 2.0", "glTF version %d is not read", v)
	}
	for at := 12; at+8 <= len(g.src); {
		size, kind := uint64(u32(g.src[at:])), u32(g.src[at+4:])
		at += 8
		if size > uint64(len(g.src)-at) {
			return g.fail(len(g.src), again, "the file is cut short: a chunk says %d bytes, %d are left", size, len(g.src)-at)
		}
		data := g.src[at : at+int(size)]
		switch kind {
		case jsonChunk:
			if size > glbSceneBytes {
				return g.fail(at, "export this body alone, without textures and motion", "the scene takes %d MiB, and %d are read at most", size>>20, glbSceneBytes>>20)
			}
			if err := json.Unmarshal(data, &g.glbScene); err != nil {
				return g.fail(at, again, "the scene cannot be read: %v", err)
			}
		case binChunk:
			if g.bin == nil {
				g.bin = data
			}
		}
		at += int(size)
	}
	return nil
}

// roots are the top nodes of the scene shown first, or all that are no children
// if the file names no scene.
func (g *glb) roots() ([]int, error) {
	if len(g.Scenes) > 0 {
		i := 0
		if g.Scene != nil {
			i = *g.Scene
		}
		if i < 0 || i >= len(g.Scenes) {
			return nil, g.fail(-1, "", "scene %d of %d", i, len(g.Scenes))
		}
		return g.Scenes[i].Nodes, nil
	}
	child := make([]bool, len(g.Nodes))
	for _, n := range g.Nodes {
		for _, c := range n.Children {
			if c >= 0 && c < len(child) {
				child[c] = true
			}
		}
	}
	var out []int
	for i := range g.Nodes {
		if !child[i] {
			out = append(out, i)
		}
	}
	return out, nil
}

// node adds the triangles of a node and those below it.
func (g *glb) node(i int, a geom.Affine, depth int) error {
	if i < 0 || i >= len(g.Nodes) {
		return g.fail(-1, "", "node %d of %d", i, len(g.Nodes))
	}
	if depth > glbDepth {
		return g.fail(-1, "", "nodes are nested more than %d deep", glbDepth)
	}
	if g.seen[i] {
		return g.fail(-1, "", "node %d stands in the scene twice", i)
	}
	g.seen[i] = true
	n := g.Nodes[i]
	a = g.local(i).Then(a)
	if n.Mesh != nil {
		if *n.Mesh < 0 || *n.Mesh >= len(g.Meshes) {
			return g.fail(-1, "", "mesh %d of %d", *n.Mesh, len(g.Meshes))
		}
		for k := range g.Meshes[*n.Mesh].Primitives {
			if err := g.primitive(*n.Mesh, k, a); err != nil {
				return err
			}
		}
	}
	for _, c := range n.Children {
		if err := g.node(c, a, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// local is the node's own map: its matrix, or scale, then turn, then move.
func (g *glb) local(i int) geom.Affine {
	n := g.Nodes[i]
	a := geom.Identity()
	if m := n.Matrix; m != nil { // by columns
		for r := range 3 {
			for c := range 3 {
				a.M[3*r+c] = m[4*c+r]
			}
		}
		a.T = geom.V(m[12], m[13], m[14])
		return a
	}
	if s := n.Scale; s != nil {
		a = geom.ScaleAbout(geom.Vec{}, geom.V(s[0], s[1], s[2]))
	}
	if q := n.Rotation; q != nil {
		x, y, z, w := q[0], q[1], q[2], q[3]
		a = a.Then(geom.Affine{M: [9]float64{
			1 - 2*(y*y+z*z), 2 * (x*y - z*w), 2 * (x*z + y*w),
			2 * (x*y + z*w), 1 - 2*(x*x+z*z), 2 * (y*z - x*w),
			2 * (x*z - y*w), 2 * (y*z + x*w), 1 - 2*(x*x+y*y),
		}})
	}
	if t := n.Translation; t != nil {
		a = a.Then(geom.Translate(geom.V(t[0], t[1], t[2])))
	}
	return a
}

// primitive adds triangles, strips or fans; points and lines have no surface.
func (g *glb) primitive(mesh, k int, a geom.Affine) error {
	const triangles, strip, fan = 4, 5, 6
	p := g.Meshes[mesh].Primitives[k]
	mode := triangles
	if p.Mode != nil {
		mode = *p.Mode
	}
	if mode < triangles || mode > fan {
		return nil
	}
	if p.Extensions["KHR_draco_mesh_compression"] != nil {
		return g.fail(-1, "export it without mesh compression", "mesh %d is compressed", mesh)
	}
	at, ok := p.Attributes["POSITION"]
	if !ok {
		return nil
	}
	points, err := g.positions(at)
	if err != nil {
		return err
	}
	ids, err := g.indices(p.Indices, len(points))
	if err != nil {
		return err
	}
	each := 1 // corners a triangle takes
	if mode == triangles {
		each = 3
	}
	if err := g.room(len(ids)/each, len(g.mesh.V)+len(points)); err != nil {
		return err
	}
	base, mirror := int32(len(g.mesh.V)), a.Det() < 0
	for _, v := range points {
		g.mesh.V = append(g.mesh.V, a.Apply(v))
	}
	add := func(x, y, z int32, turn bool) {
		if turn != mirror {
			y, z = z, y
		}
		g.mesh.T = append(g.mesh.T, [3]int32{base + x, base + y, base + z})
	}
	switch mode {
	case triangles:
		for i := 2; i < len(ids); i += 3 {
			add(ids[i-2], ids[i-1], ids[i], false)
		}
	case strip:
		for i := 2; i < len(ids); i++ {
			add(ids[i-2], ids[i-1], ids[i], i%2 == 1)
		}
	case fan:
		for i := 2; i < len(ids); i++ {
			add(ids[0], ids[i-1], ids[i], false)
		}
	}
	return nil
}

const glbFloat = 5126

// positions reads an accessor of points.
func (g *glb) positions(at int) ([]geom.Vec, error) {
	data, stride, err := g.accessor(at, glbFloat, "VEC3", 12)
	if err != nil {
		return nil, err
	}
	out := make([]geom.Vec, g.Accessors[at].Count)
	for i := range out {
		p, ok := float32s(binary.LittleEndian, data[i*stride:])
		if !ok {
			return nil, g.fail(-1, "", "point %d of accessor %d is not a number", i, at)
		}
		out[i] = p
	}
	return out, nil
}

// indices reads an accessor of vertex numbers below n; nil means 0, 1, 2 ...
func (g *glb) indices(at *int, n int) ([]int32, error) {
	if at == nil {
		out := make([]int32, n)
		for i := range out {
			out[i] = int32(i)
		}
		return out, nil
	}
	if *at < 0 || *at >= len(g.Accessors) {
		return nil, g.fail(-1, "", "accessor %d of %d", *at, len(g.Accessors))
	}
	kind := g.Accessors[*at].ComponentType
	size := map[int]int{5121: 1, 5123: 2, 5125: 4}[kind]
	if size == 0 {
		return nil, g.fail(-1, "", "accessor %d: vertex numbers of type %d", *at, kind)
	}
	data, stride, err := g.accessor(*at, kind, "SCALAR", size)
	if err != nil {
		return nil, err
	}
	out := make([]int32, g.Accessors[*at].Count)
	for i := range out {
		var v uint32
		switch d := data[i*stride:]; size {
		case 1:
			v = uint32(d[0])
		case 2:
			v = uint32(binary.LittleEndian.Uint16(d))
		case 4:
			v = binary.LittleEndian.Uint32(d)
		}
		if uint64(v) >= uint64(n) {
			return nil, g.fail(-1, "", "accessor %d: vertex %d of %d", *at, v, n)
		}
		out[i] = int32(v)
	}
	return out, nil
}

// accessor is the bytes of an accessor and the step from one item to the next.
// All its items are sure to lie within the bytes.
func (g *glb) accessor(at, kind int, shape string, size int) ([]byte, int, error) {
	if at < 0 || at >= len(g.Accessors) {
		return nil, 0, g.fail(-1, "", "accessor %d of %d", at, len(g.Accessors))
	}
	a := g.Accessors[at]
	switch {
	case a.ComponentType != kind || a.Type != shape:
		return nil, 0, g.fail(-1, "export it without quantization", "accessor %d is %s of type %d", at, clip([]byte(a.Type)), a.ComponentType)
	case a.Sparse != nil || a.BufferView == nil:
		return nil, 0, g.fail(-1, "export it without sparse accessors", "accessor %d has no plain data", at)
	case *a.BufferView < 0 || *a.BufferView >= len(g.BufferViews):
		return nil, 0, g.fail(-1, "", "buffer view %d of %d", *a.BufferView, len(g.BufferViews))
	}
	v := g.BufferViews[*a.BufferView]
	if v.Buffer != 0 || len(g.Buffers) == 0 || g.Buffers[0].URI != nil {
		return nil, 0, g.fail(-1, "export it as one GLB file", "accessor %d lies in another file", at)
	}
	stride := size
	if v.ByteStride != 0 {
		stride = v.ByteStride
	}
	inside := func(x, most int) bool { return x >= 0 && x <= most }
	if !inside(v.ByteOffset, len(g.bin)) || !inside(v.ByteLength, len(g.bin)-v.ByteOffset) ||
		!inside(a.ByteOffset, v.ByteLength) || !inside(a.Count, math.MaxInt32) || !inside(stride-size, 252) {
		return nil, 0, g.fail(-1, "export or copy it again", "accessor %d reaches beyond the file", at)
	}
	data := g.bin[v.ByteOffset+a.ByteOffset : v.ByteOffset+v.ByteLength]
	if a.Count > 0 && (a.Count-1)*stride+size > len(data) {
		return nil, 0, g.fail(-1, "export or copy it again", "accessor %d reaches beyond the file", at)
	}
	return data, stride, nil
}
