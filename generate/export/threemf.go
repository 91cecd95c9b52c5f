package export

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"encoding/xml"
	"fmt"
	"hash/crc32"
	"io"
	"strconv"

	"buckwright/generate/mesh"
)

// Model is what one 3MF file holds. Positions are baked into the meshes: every
// object is built once, where its vertices are.
type Model struct {
	Title       string // what the file is, for a person
	Application string // tool name and version
	Meta        []Meta // in the order written
	Objects     []Object
}

// Object is one body to print.
type Object struct {
	Name string
	Mesh *mesh.Mesh
	Meta []Meta
}

// Meta is one named fact, such as "layer". The writer puts the name into the
// tool's own namespace; what an XML name cannot hold becomes a hyphen.
type Meta struct{ Name, Value string }

// The parts of the package and their types are those of the 3MF Core
// Specification 1.3, chapter 2 and appendix C.
const (
	coreSpace  = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	ownSpace   = "urn:x-buckwright:kit:1"
	modelPath  = "3D/3dmodel.model"
	contentXML = xml.Header +
		`<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
		`<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>` +
		"</Types>\n"
	relsXML = xml.Header +
		`<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Id="rel0" Target="/` + modelPath + `" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>` +
		"</Relationships>\n"
)

// Write3MF writes a 3MF package, core specification only, unit millimetre.
// Each coordinate is printed in the fewest digits that read back as the same
// float32. It refuses what WriteSTL refuses before the first byte.
func Write3MF(w io.Writer, m Model) error {
	model, err := modelXML(m)
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	for _, f := range []struct {
		name string
		data []byte
	}{
		{"[Content_Types].xml", []byte(contentXML)},
		{"_rels/.rels", []byte(relsXML)},
		{modelPath, model},
	} {
		if err := addFile(z, f.name, f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

// addFile stores data deflated, with its sizes in front and the first time that
// the format can tell, so that equal models are equal files.
func addFile(z *zip.Writer, name string, data []byte) error {
	var packed bytes.Buffer
	fw, err := flate.NewWriter(&packed, flate.DefaultCompression)
	if err != nil {
		return err
	}
	if _, err := fw.Write(data); err != nil {
		return err
	}
	if err := fw.Close(); err != nil {
		return err
	}
	const firstOfJanuary1980 = 1<<5 | 1 // MS-DOS date
	out, err := z.CreateRaw(&zip.FileHeader{
		Name:               name,
		Method:             zip.Deflate,
		ModifiedDate:       firstOfJanuary1980, //lint:ignore SA1019 CreateRaw writes this one and not Modified
		CRC32:              crc32.ChecksumIEEE(data),
		CompressedSize64:   uint64(packed.Len()),
		UncompressedSize64: uint64(len(data)),
	})
	if err != nil {
		return err
	}
	_, err = out.Write(packed.Bytes())
	return err
}

func modelXML(m Model) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString(xml.Header)
	b.WriteString(`<model unit="millimeter" xml:lang="en" xmlns="` + coreSpace + `" xmlns:kit="` + ownSpace + `">` + "\n")
	writeMeta(&b, " ", "Title", m.Title)
	writeMeta(&b, " ", "Application", m.Application)
	for _, e := range m.facts() {
		writeMeta(&b, " ", "kit:"+e.Name, e.Value)
	}
	b.WriteString(" <resources>\n")
	for i, o := range m.Objects {
		if err := writeObject(&b, i+1, o); err != nil {
			return nil, err
		}
	}
	b.WriteString(" </resources>\n <build>\n")
	for i := range m.Objects {
		fmt.Fprintf(&b, "  <item objectid=\"%d\"/>\n", i+1)
	}
	b.WriteString(" </build>\n</model>\n")
	return b.Bytes(), nil
}

// facts is all metadata: the model's, then each object's as NAME.FACT. Each name
// once, as the format wants it. Core readers before edition 1.2 refuse a group
// of metadata inside an object.
func (m Model) facts() []Meta {
	var all []Meta
	seen := map[string]bool{}
	add := func(e Meta) {
		e.Name = xmlName(e.Name)
		if !seen[e.Name] {
			seen[e.Name] = true
			all = append(all, e)
		}
	}
	for _, e := range m.Meta {
		add(e)
	}
	for _, o := range m.Objects {
		for _, e := range o.Meta {
			add(Meta{o.Name + "." + e.Name, e.Value})
		}
	}
	return all
}

// xmlName turns s into the local part of a name by the rules of Namespaces in
// XML 1.0, or rather their ASCII share: the specification wants metadata names
// to be such.
func xmlName(s string) string {
	b := []byte(s)
	for i, c := range b {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
		if !letter && !(i > 0 && (c >= '0' && c <= '9' || c == '-' || c == '.')) {
			b[i] = '-'
		}
	}
	if len(b) == 0 || b[0] == '-' {
		return "x" + string(b)
	}
	return string(b)
}

func writeMeta(b *bytes.Buffer, indent, name, value string) {
	if value == "" {
		return
	}
	fmt.Fprintf(b, "%s<metadata name=\"%s\">%s</metadata>\n", indent, escape(name), escape(value))
}

func escape(s string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(s)) // a Buffer does not fail
	return b.String()
}

func writeObject(b *bytes.Buffer, id int, o Object) error {
	pts, err := points(o.Mesh)
	if err != nil {
		return fmt.Errorf("%s: cannot be written as 3MF: %w", o.Name, err)
	}
	fmt.Fprintf(b, "  <object id=\"%d\" type=\"model\" name=\"%s\">\n", id, escape(o.Name))
	b.WriteString("   <mesh>\n    <vertices>\n")
	line := make([]byte, 0, 96)
	for _, p := range pts {
		line = appendVertex(line[:0], p)
		b.Write(line)
	}
	b.WriteString("    </vertices>\n    <triangles>\n")
	for _, t := range o.Mesh.T {
		line = appendTriangle(line[:0], t)
		b.Write(line)
	}
	b.WriteString("    </triangles>\n   </mesh>\n  </object>\n")
	return nil
}

func appendVertex(line []byte, p point) []byte {
	line = append(line, `     <vertex x="`...)
	line = strconv.AppendFloat(line, float64(p[0]), 'f', -1, 32)
	line = append(line, `" y="`...)
	line = strconv.AppendFloat(line, float64(p[1]), 'f', -1, 32)
	line = append(line, `" z="`...)
	line = strconv.AppendFloat(line, float64(p[2]), 'f', -1, 32)
	return append(line, "\"/>\n"...)
}

func appendTriangle(line []byte, t [3]int32) []byte {
	line = append(line, `     <triangle v1="`...)
	line = strconv.AppendInt(line, int64(t[0]), 10)
	line = append(line, `" v2="`...)
	line = strconv.AppendInt(line, int64(t[1]), 10)
	line = append(line, `" v3="`...)
	line = strconv.AppendInt(line, int64(t[2]), 10)
	return append(line, "\"/>\n"...)
}
