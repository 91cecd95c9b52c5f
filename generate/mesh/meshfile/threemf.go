package meshfile

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"path"
	"strconv"
	"strings"

	"buckwright/generate/geom"
)

// Bounds on what a 3MF file may unfold to. A zip can name a thousand times its
// own size, and components can be nested so that each level doubles the body.
const (
	threeMFRatio = 200     // bytes unpacked for a byte of the file
	threeMFBytes = 1 << 30 // unpacked in all
	threeMFToken = 4 << 20 // bytes of one tag, comment or text
	threeMFRels  = 1 << 20 // bytes of the package's relationships
	threeMFUses  = 1 << 16 // objects placed; objects, items and components named
	threeMFDepth = 32      // of components in components
)

// threeMF is an open package. Objects are known by the part they stand in and
// their id there.
type threeMF struct {
	*reader
	files   map[string]*zip.File
	left    int64 // bytes that may still be unpacked
	objects map[threeMFID]*threeMFObject
	parsed  map[string]bool
	uses    int
	named   int // objects, items and components
	v, t    int // vertices and triangles of all objects, before they are placed
	items   []threeMFUse
}

type threeMFID struct{ part, id string }

type threeMFObject struct {
	kind  string
	v     []geom.Vec
	t     [][3]int32
	parts []threeMFUse
}

// threeMFUse places an object.
type threeMFUse struct {
	of threeMFID
	by geom.Affine
}

// read3MF puts together what the build section places (3MF Core Specification
// 1.3.0; parts in other files by the Production Extension).
func (r *reader) read3MF() error {
	z, err := zip.NewReader(bytes.NewReader(r.src), int64(len(r.src)))
	if err != nil {
		return r.fail(-1, "export or copy it again", "the zip container is damaged: %v", err)
	}
	p := &threeMF{
		reader: r, left: min(threeMFBytes, int64(len(r.src))*threeMFRatio),
		files: map[string]*zip.File{}, objects: map[threeMFID]*threeMFObject{}, parsed: map[string]bool{},
	}
	for _, f := range z.File {
		p.files[threeMFName(f.Name)] = f
	}
	root, err := p.root()
	if err != nil {
		return err
	}
	if err := p.parse(root, true); err != nil {
		return err
	}
	if len(p.items) == 0 {
		return r.fail(-1, "", "the file builds nothing: its build section is empty")
	}
	for _, u := range p.items {
		if err := p.place(u, geom.Identity(), 0); err != nil {
			return err
		}
	}
	return nil
}

// threeMFName is a part's name as a key: part names ignore case.
func threeMFName(s string) string { return strings.ToLower(path.Clean("/" + s)) }

// root is the part that the package's relationships call the 3-D model.
func (p *threeMF) root() (string, error) {
	const kind = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
	var rels struct {
		Relationship []struct {
			Type   string `xml:",attr"`
			Target string `xml:",attr"`
		}
	}
	if src, err := p.open("/_rels/.rels"); err == nil {
		src.token = threeMFRels
		if err := xml.NewDecoder(src).Decode(&rels); err != nil {
			return "", p.xmlError("/_rels/.rels", 0, err)
		}
	}
	for _, rel := range rels.Relationship {
		if rel.Type == kind {
			return threeMFName(rel.Target), nil
		}
	}
	if name := "/3d/3dmodel.model"; p.files[name] != nil {
		return name, nil
	}
	return "", p.fail(-1, "is it a 3MF file?", "the zip holds no 3-D model")
}

// open unpacks a part as it is read, no further than the file's budget.
func (p *threeMF) open(name string) (*budget, error) {
	f := p.files[name]
	if f == nil {
		return nil, p.fail(-1, "", "the part %q is missing", clip([]byte(name)))
	}
	src, err := f.Open()
	if err != nil {
		return nil, p.fail(-1, "", "the part %q cannot be unpacked: %v", clip([]byte(name)), err)
	}
	return &budget{src, &p.left, threeMFToken}, nil
}

var errBudget = errors.New("it unpacks to more than any such file needs")

// budget is a reader that stops when nothing is left, of the file or of what the
// reader of its XML takes in at once.
type budget struct {
	src   io.Reader
	left  *int64
	token int64 // bytes that may be read for the next token
}

func (b *budget) Read(buf []byte) (int, error) {
	left := min(*b.left, b.token)
	if left <= 0 {
		return 0, errBudget
	}
	n, err := b.src.Read(buf[:min(int64(len(buf)), left)])
	*b.left -= int64(n)
	b.token -= int64(n)
	return n, err
}

func (p *threeMF) xmlError(part string, line int, err error) error {
	var s *xml.SyntaxError
	if errors.As(err, &s) {
		line = s.Line
	}
	return &Error{Name: p.name, Offset: -1, Hint: "export or copy it again",
		Msg: "part " + part + " line " + strconv.Itoa(line) + ": " + err.Error()}
}

// parse reads one model part; only the root's unit and build section count.
func (p *threeMF) parse(part string, root bool) error {
	if p.parsed[part] {
		return nil
	}
	p.parsed[part] = true
	src, err := p.open(part)
	if err != nil {
		return err
	}
	d := xml.NewDecoder(src)
	var o *threeMFObject
	for {
		src.token = threeMFToken
		token, err := d.RawToken()
		if err == io.EOF {
			return nil
		}
		line, _ := d.InputPos()
		if err != nil {
			return p.xmlError(part, line, err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		a := threeMFAttrs{p, part, line, e.Attr, nil}
		switch e.Name.Local {
		case "model":
			if root {
				p.unit = a.unit()
			}
		case "object":
			a.count(&p.named, threeMFUses)
			o = &threeMFObject{kind: a.text("type")}
			p.objects[threeMFID{part, a.text("id")}] = o
		case "item":
			if root {
				p.items = append(p.items, a.use("objectid"))
			}
		case "vertex", "triangle", "component":
			if o == nil {
				return a.fail("<%s> stands in no object", e.Name.Local)
			}
			a.into(o, e.Name.Local)
		}
		if a.err != nil {
			return a.err
		}
	}
}

// place adds an object's triangles, moved by a.
func (p *threeMF) place(u threeMFUse, a geom.Affine, depth int) error {
	if depth > threeMFDepth {
		return p.fail(-1, "", "components are nested more than %d deep", threeMFDepth)
	}
	if p.uses++; p.uses > threeMFUses {
		return p.fail(-1, "", "more than %d objects are placed", threeMFUses)
	}
	if err := p.parse(u.of.part, false); err != nil {
		return err
	}
	o := p.objects[u.of]
	if o == nil {
		return p.fail(-1, "", "object %q is placed but not defined", clip([]byte(u.of.id)))
	}
	if o.kind == "support" || o.kind == "other" {
		return nil
	}
	a = u.by.Then(a)
	if err := p.room(len(o.t), len(p.mesh.V)+len(o.v)); err != nil {
		return err
	}
	base := int32(len(p.mesh.V))
	for _, v := range o.v {
		p.mesh.V = append(p.mesh.V, a.Apply(v))
	}
	for i, t := range o.t {
		if v := max(t[0], t[1], t[2]); int(v) >= len(o.v) {
			return p.fail(-1, "", "object %s, triangle %d has vertex %d, counted from 0; there are %d", clip([]byte(u.of.id)), i+1, v, len(o.v))
		}
		if a.Det() < 0 {
			t[1], t[2] = t[2], t[1]
		}
		p.mesh.T = append(p.mesh.T, [3]int32{base + t[0], base + t[1], base + t[2]})
	}
	for _, c := range o.parts {
		if err := p.place(c, a, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// threeMFAttrs reads the attributes of one element; the first mistake stays in err.
type threeMFAttrs struct {
	p    *threeMF
	part string
	line int
	list []xml.Attr
	err  error
}

func (a *threeMFAttrs) fail(msg string, args ...any) error {
	at := "part " + a.part + " line " + strconv.Itoa(a.line) + ": "
	err := a.p.fail(-1, "", at+msg, args...)
	if a.err == nil {
		a.err = err
	}
	return err
}

func (a *threeMFAttrs) text(name string) string {
	for _, x := range a.list {
		if x.Name.Local == name {
			return x.Value
		}
	}
	return ""
}

func (a *threeMFAttrs) number(name string) float64 {
	s := strings.TrimSpace(a.text(name))
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || v-v != 0 {
		a.fail("%s=%q is not a number", name, clip([]byte(s)))
	}
	return v + 0
}

func (a *threeMFAttrs) index(name string) int32 {
	s := strings.TrimSpace(a.text(name))
	v, err := strconv.ParseUint(s, 10, 31)
	if err != nil {
		a.fail("%s=%q is not the number of a vertex", name, clip([]byte(s)))
	}
	return int32(v)
}

// count refuses an element that is one too many of its kind.
func (a *threeMFAttrs) count(n *int, most int) {
	if *n++; *n > most {
		a.fail("more than %d elements like this one", most)
	}
}

// into adds a vertex, triangle or component to an object.
func (a *threeMFAttrs) into(o *threeMFObject, what string) {
	switch what {
	case "vertex":
		a.count(&a.p.v, mostTriangles)
		o.v = append(o.v, geom.V(a.number("x"), a.number("y"), a.number("z")))
	case "triangle":
		a.count(&a.p.t, mostTriangles)
		o.t = append(o.t, [3]int32{a.index("v1"), a.index("v2"), a.index("v3")})
	case "component":
		o.parts = append(o.parts, a.use("objectid"))
	}
}

// use reads a placed object: its id, its part and its transform.
func (a *threeMFAttrs) use(id string) threeMFUse {
	a.count(&a.p.named, threeMFUses)
	u := threeMFUse{threeMFID{a.part, a.text(id)}, geom.Identity()}
	if other := a.text("path"); other != "" {
		u.of.part = threeMFName(other)
	}
	s := a.text("transform")
	if s == "" {
		return u
	}
	f := strings.Fields(s)
	if len(f) != 12 {
		a.fail("a transform of %d numbers, want 12", len(f))
		return u
	}
	var m [12]float64
	for i := range m {
		v, err := strconv.ParseFloat(f[i], 64)
		if err != nil || v-v != 0 {
			a.fail("%q in a transform is not a number", clip([]byte(f[i])))
		}
		m[i] = v
	}
	for r := range 3 { // the file multiplies rows, x M, so its matrix is turned over
		for c := range 3 {
			u.by.M[3*r+c] = m[3*c+r]
		}
	}
	u.by.T = geom.V(m[9], m[10], m[11])
	return u
}

// unit is the model's unit in mm.
func (a *threeMFAttrs) unit() float64 {
	switch u := a.text("unit"); u {
	case "", "millimeter":
		return 1
	case "micron":
		return 0.001
	case "centimeter":
		return 10
	case "inch":
		return 25.4
	case "foot":
		return 304.8
	case "meter":
		return 1000
	default:
		a.fail("%q is no unit", clip([]byte(u)))
		return 0
	}
}
