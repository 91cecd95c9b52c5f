package outline

import (
	"math"
	"strconv"
	"strings"

	"buckwright/generate/geom"
)

// scanner reads the little language of path data and transforms.
type scanner struct {
	s string
	i int
}

func (s *scanner) space() {
	for s.i < len(s.s) && strings.IndexByte(" \t\r\n\f,", s.s[s.i]) >= 0 {
		s.i++
	}
}

func (s *scanner) done() bool { s.space(); return s.i >= len(s.s) }

// number reads a number as SVG 1.1, 8.3.9 has it: no space is needed where a
// sign or a second point can only begin the next.
func (s *scanner) number() (float64, bool) {
	s.space()
	from := s.i
	digits := func() (n int) {
		for s.i < len(s.s) && s.s[s.i] >= '0' && s.s[s.i] <= '9' {
			s.i++
			n++
		}
		return n
	}
	sign := func() {
		if s.i < len(s.s) && (s.s[s.i] == '+' || s.s[s.i] == '-') {
			s.i++
		}
	}
	sign()
	n := digits()
	if s.i < len(s.s) && s.s[s.i] == '.' {
		s.i++
		n += digits()
	}
	if n == 0 {
		return 0, false
	}
	if s.i < len(s.s) && s.s[s.i]|0x20 == 'e' {
		before := s.i
		s.i++
		sign()
		if digits() == 0 {
			s.i = before
		}
	}
	v, err := strconv.ParseFloat(s.s[from:s.i], 64)
	return v, err == nil && math.Abs(v) < 1e12
}

// flag is one digit, 0 or 1, which need not be set apart.
func (s *scanner) flag() (bool, bool) {
	s.space()
	if s.i >= len(s.s) || s.s[s.i] != '0' && s.s[s.i] != '1' {
		return false, false
	}
	s.i++
	return s.s[s.i-1] == '1', true
}

// numbers reads a list of numbers and nothing else.
func numbers(text string) (out []float64, ok bool) {
	s := scanner{s: text}
	for !s.done() {
		v, ok := s.number()
		if !ok {
			return nil, false
		}
		out = append(out, v)
	}
	return out, true
}

// counts says how many numbers a command of path data takes.
func counts(c byte) (int, bool) {
	switch c | 0x20 {
	case 'm', 'l', 't':
		return 2, true
	case 'h', 'v':
		return 1, true
	case 's', 'q':
		return 4, true
	case 'c':
		return 6, true
	case 'a':
		return 7, true
	case 'z':
		return 0, true
	}
	return 0, false
}

// path draws path data.
func (p *pen) path(data string) *Error {
	s := &scanner{s: data}
	w := &writer{pen: p}
	var cmd byte
	for !s.done() {
		c := s.s[s.i]
		switch _, letter := counts(c); {
		case letter:
			cmd = c
			s.i++
		case cmd == 0 || cmd|0x20 == 'z':
			return p.unread(s)
		case cmd == 'M': // pairs that follow a move are lines
			cmd = 'L'
		case cmd == 'm':
			cmd = 'l'
		}
		if w.last == 0 && cmd|0x20 != 'm' {
			return fail(p.line, "export the drawing again", "path data does not begin with a move")
		}
		v, ok := arguments(s, cmd)
		if !ok {
			return p.unread(s)
		}
		if err := w.do(cmd, v); err != nil {
			return err
		}
		w.last = cmd | 0x20
	}
	return p.lift(false)
}

func (p *pen) unread(s *scanner) *Error {
	at := min(s.i, len(s.s))
	return fail(p.line, "export the drawing again", "path data cannot be read at %.20q", s.s[at:])
}

func arguments(s *scanner, cmd byte) (v [7]float64, ok bool) {
	n, _ := counts(cmd)
	for i := range n {
		if n == 7 && (i == 3 || i == 4) {
			on, ok := s.flag()
			if !ok {
				return v, false
			}
			if on {
				v[i] = 1
			}
			continue
		}
		if v[i], ok = s.number(); !ok {
			return v, false
		}
	}
	return v, true
}

// writer follows the commands of one path.
type writer struct {
	pen  *pen
	last byte      // command before this one, lower case
	ctrl geom.Vec2 // its last control point
}

func (w *writer) do(cmd byte, v [7]float64) *Error {
	p := w.pen
	var o geom.Vec2
	if cmd >= 'a' {
		o = p.now
	}
	pt := func(i int) geom.Vec2 { return geom.Vec2{X: v[i] + o.X, Y: v[i+1] + o.Y} }
	// mirrored is the control point that a smooth curve begins with.
	mirrored := func(after string) geom.Vec2 {
		if strings.IndexByte(after, w.last) >= 0 {
			return p.now.Scale(2).Sub(w.ctrl)
		}
		return p.now
	}
	switch cmd | 0x20 {
	case 'm':
		err := p.lift(false)
		p.moveTo(pt(0))
		return err
	case 'z':
		return p.lift(true)
	case 'l':
		p.lineTo(pt(0))
	case 'h':
		p.lineTo(geom.Vec2{X: v[0] + o.X, Y: p.now.Y})
	case 'v':
		p.lineTo(geom.Vec2{X: p.now.X, Y: v[0] + o.Y})
	case 'c':
		w.ctrl = pt(2)
		p.cubicTo(pt(0), pt(2), pt(4))
	case 's':
		first := mirrored("cs")
		w.ctrl = pt(0)
		p.cubicTo(first, pt(0), pt(2))
	case 'q':
		w.ctrl = pt(0)
		p.quadTo(pt(0), pt(2))
	case 't':
		w.ctrl = mirrored("qt")
		p.quadTo(w.ctrl, pt(0))
	case 'a':
		p.arcTo(v[0], v[1], v[2], v[3] == 1, v[4] == 1, pt(5))
	}
	return w.tooMany()
}

// tooMany stops a path that outgrows the drawing before it is done.
func (w *writer) tooMany() *Error {
	if len(w.pen.down) > mostSides {
		return fail(w.pen.line, "simplify the path in the drawing program", "the path has more than %d sides and curves", mostSides)
	}
	return nil
}

// parseTransform reads a list of transforms, SVG 1.1, 7.6.
func parseTransform(text string) (matrix, bool) {
	m := identity()
	for rest := strings.Trim(text, " \t\r\n,"); rest != ""; rest = strings.TrimLeft(rest, " \t\r\n,") {
		name, after, ok := strings.Cut(rest, "(")
		if !ok {
			return m, false
		}
		inside, tail, ok := strings.Cut(after, ")")
		if !ok {
			return m, false
		}
		v, ok := numbers(inside)
		if !ok {
			return m, false
		}
		one, ok := transform(strings.TrimSpace(name), v)
		if !ok {
			return m, false
		}
		m, rest = m.times(one), tail
	}
	return m, true
}

func transform(name string, v []float64) (matrix, bool) {
	rad := func(i int) float64 { return v[i] * math.Pi / 180 }
	switch n := len(v); {
	case name == "matrix" && n == 6:
		return matrix(v), true
	case name == "translate" && n == 1:
		return matrix{1, 0, 0, 1, v[0], 0}, true
	case name == "translate" && n == 2:
		return matrix{1, 0, 0, 1, v[0], v[1]}, true
	case name == "scale" && n == 1:
		return matrix{v[0], 0, 0, v[0], 0, 0}, true
	case name == "scale" && n == 2:
		return matrix{v[0], 0, 0, v[1], 0, 0}, true
	case name == "rotate" && (n == 1 || n == 3):
		s, c := math.Sincos(rad(0))
		turn := matrix{c, s, -s, c, 0, 0}
		if n == 3 {
			to, back := matrix{1, 0, 0, 1, v[1], v[2]}, matrix{1, 0, 0, 1, -v[1], -v[2]}
			return to.times(turn).times(back), true
		}
		return turn, true
	case name == "skewX" && n == 1:
		return matrix{1, 0, math.Tan(rad(0)), 1, 0, 0}, true
	case name == "skewY" && n == 1:
		return matrix{1, math.Tan(rad(0)), 0, 1, 0, 0}, true
	}
	return identity(), false
}
