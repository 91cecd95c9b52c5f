package export

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"buckwright/generate/pattern"
)

// WriteDXF writes a drawing as DXF of release 12 (AC1009), in mm: closed
// polylines with arcs as bulges, one layer for each use. Release 12 has no
// unit; a comment says mm. Letters outside ASCII are written as \U+XXXX.
// Source: Autodesk, DXF Reference, group codes of POLYLINE, VERTEX, TEXT.
func WriteDXF(w io.Writer, d pattern.Drawing) error {
	b := bufio.NewWriter(w)
	x := dxf{b}
	lo, hi := d.Bounds()
	x.put(999, "millimetres", 0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009", 9, "$DWGCODEPAGE", 3, "ANSI_1252",
		9, "$EXTMIN", 10, lo.X, 20, lo.Y, 30, 0.0, 9, "$EXTMAX", 10, hi.X, 20, hi.Y, 30, 0.0, 0, "ENDSEC")
	x.tables()
	x.put(0, "SECTION", 2, "ENTITIES")
	for _, l := range d.Lines {
		x.polyline(l)
	}
	for _, t := range d.Texts {
		x.put(0, "TEXT", 8, string(pattern.LayerNote), 10, t.At.X, 20, t.At.Y, 30, 0.0, 40, t.Height, 1, escapeDXF(t.Words), 7, "STANDARD")
	}
	x.put(0, "ENDSEC", 0, "EOF")
	return b.Flush()
}

// dxf writes groups: a code and its value, a line each. Errors stay in the
// writer and show when it is flushed.
type dxf struct{ w *bufio.Writer }

func (x dxf) put(groups ...any) {
	for i := 0; i < len(groups); i += 2 {
		switch v := groups[i+1].(type) {
		case float64:
			fmt.Fprintf(x.w, "%3d\n%.6f\n", groups[i], v+0)
		default:
			fmt.Fprintf(x.w, "%3d\n%v\n", groups[i], v)
		}
	}
}

// tables name the line types, the layers and the text style.
func (x dxf) tables() {
	x.put(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LTYPE", 70, 2,
		0, "LTYPE", 2, "CONTINUOUS", 70, 0, 3, "Solid line", 72, 65, 73, 0, 40, 0.0,
		0, "LTYPE", 2, "DASHED", 70, 0, 3, "Dashed", 72, 65, 73, 2, 40, 4.0, 49, 2.5, 49, -1.5, 0, "ENDTAB",
		0, "TABLE", 2, "LAYER", 70, 1+len(pattern.Layers()), 0, "LAYER", 2, "0", 70, 0, 62, 7, 6, "CONTINUOUS")
	for _, l := range pattern.Layers() {
		colour, line := 8, "CONTINUOUS" // grey: only what is cut is black
		switch l {
		case pattern.LayerCut:
			colour = 7
		case pattern.LayerMark:
			line = "DASHED"
		}
		x.put(0, "LAYER", 2, string(l), 70, 0, 62, colour, 6, line)
	}
	x.put(0, "ENDTAB", 0, "TABLE", 2, "STYLE", 70, 1,
		0, "STYLE", 2, "STANDARD", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 3.0, 3, "txt", 4, "", 0, "ENDTAB", 0, "ENDSEC")
}

func (x dxf) polyline(l pattern.Line) {
	closed := 1
	if l.Open {
		closed = 0
	}
	layer := string(l.Layer)
	x.put(0, "POLYLINE", 8, layer, 66, 1, 10, 0.0, 20, 0.0, 30, 0.0, 70, closed)
	for i, p := range l.Path.P {
		x.put(0, "VERTEX", 8, layer, 10, p.X, 20, p.Y, 30, 0.0)
		if l.Path.B != nil && l.Path.B[i] != 0 && !(l.Open && i == len(l.Path.P)-1) {
			fmt.Fprintf(x.w, " 42\n%.9f\n", l.Path.B[i])
		}
	}
	x.put(0, "SEQEND", 8, layer)
}

func escapeDXF(s string) string {
	var b strings.Builder
	for _, c := range s {
		switch {
		case c < ' ':
			b.WriteByte(' ')
		case c < 127:
			b.WriteRune(c)
		case c <= 0xFFFF:
			fmt.Fprintf(&b, `\U+%04X`, c)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}
