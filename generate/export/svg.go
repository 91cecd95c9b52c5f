package export

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"buckwright/generate/geom"
	"buckwright/generate/pattern"
)

// drawingMargin is the white round a drawing, in mm.
const drawingMargin = 8.0

// WriteSVG writes a drawing at true size: one user unit is a millimetre. Each
// layer is a group with its name as id, so that a cutter can be given CUT alone.
// Arcs stay arcs. Source: W3C, Scalable Vector Graphics 1.1, 8.3.8 and 7.10.
func WriteSVG(w io.Writer, d pattern.Drawing) error {
	b := bufio.NewWriter(w)
	lo, hi := d.Bounds()
	lo, hi = lo.Sub(geom.Vec2{X: drawingMargin, Y: drawingMargin}), hi.Add(geom.Vec2{X: drawingMargin, Y: drawingMargin})
	size := hi.Sub(lo)
	fmt.Fprintf(b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %[1]s %[2]s\">\n", mm(size.X), mm(size.Y))
	fmt.Fprintf(b, "<title>%s</title>\n", escape(d.Title))
	to := func(p geom.Vec2) string { return mm(p.X-lo.X) + " " + mm(hi.Y-p.Y) }
	for _, layer := range pattern.Layers() {
		fmt.Fprintf(b, "<g id=\"%s\" fill=\"none\" %s>\n", layer, svgStyle(layer))
		for _, l := range d.Lines {
			if l.Layer == layer {
				fmt.Fprintf(b, "<path d=\"%s\"/>\n", svgPath(l, to))
			}
		}
		if layer == pattern.LayerNote {
			for _, t := range d.Texts {
				p := strings.Fields(to(t.At))
				fmt.Fprintf(b, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" font-family=\"sans-serif\" fill=\"#333\" stroke=\"none\">%s</text>\n",
					p[0], p[1], mm(t.Height), escape(t.Words))
			}
		}
		fmt.Fprintln(b, "</g>")
	}
	fmt.Fprintln(b, "</svg>")
	return b.Flush()
}

func svgStyle(l pattern.Layer) string {
	switch l {
	case pattern.LayerCut:
		return `stroke="#000" stroke-width="0.2"`
	case pattern.LayerMark:
		return `stroke="#888" stroke-width="0.2" stroke-dasharray="2.5 1.5"`
	}
	return `stroke="#666" stroke-width="0.2"`
}

// svgPath writes a line; y points down in the file, so left turns are sweep 0.
func svgPath(l pattern.Line, to func(geom.Vec2) string) string {
	var b strings.Builder
	n := len(l.Path.P)
	b.WriteString("M" + to(l.Path.P[0]))
	for i := range n {
		if l.Open && i == n-1 {
			break
		}
		end := to(l.Path.P[(i+1)%n])
		c, arc := l.Path.Arc(i)
		switch {
		case arc:
			large, sweep := 0, 0
			if math.Abs(c.Sweep) > math.Pi {
				large = 1
			}
			if c.Sweep < 0 {
				sweep = 1
			}
			fmt.Fprintf(&b, "A%s %[1]s 0 %d %d %s", mm(c.R), large, sweep, end)
		case l.Open || i < n-1:
			b.WriteString("L" + end)
		}
	}
	if !l.Open {
		b.WriteString("Z")
	}
	return b.String()
}

// mm writes a length to a tenth of a micrometre.
func mm(v float64) string {
	s := fmt.Sprintf("%.4f", v)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
