package params

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Problem is one mistake in the kit file, placed where the user can see it.
type Problem struct {
	File string
	Pos  Pos    // zero: the value is not in the file
	Key  string // dotted: items[0].shape.box.size; "" for the file as a whole
	What string // the value read, and what is allowed
	Hint string // what to do about it
	line string // the line itself
}

// Problems are all the mistakes of one file, in the file's order.
type Problems []*Problem

func (ps Problems) Error() string {
	texts := make([]string, len(ps))
	for i, p := range ps {
		texts[i] = p.Error()
	}
	return strings.Join(texts, "\n")
}

// Unwrap lets errors.As find a *Problem.
func (ps Problems) Unwrap() []error {
	errs := make([]error, len(ps))
	for i, p := range ps {
		errs[i] = p
	}
	return errs
}

func (p *Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Pos != (Pos{}) {
		fmt.Fprintf(&b, ":%d:%d", p.Pos.Line, p.Pos.Col)
	}
	if p.Key != "" {
		b.WriteString(": " + p.Key)
	}
	b.WriteString(": " + p.What)
	if p.Pos != (Pos{}) {
		num := fmt.Sprint(p.Pos.Line)
		line, col := window(p.line, p.Pos.Col)
		fmt.Fprintf(&b, "\n  %s | %s\n  %s^", num, line, strings.Repeat(" ", len(num)+col+2))
	}
	if p.Hint != "" {
		b.WriteString("\n  hint: " + p.Hint)
	}
	return b.String()
}

// window cuts a long line down to what surrounds column col (from 1) and makes
// it safe for a terminal; it returns the column's place in what is left.
func window(line string, col int) (string, int) {
	const wide, before = 100, 60
	runes := []rune(line)
	start := 0
	if len(runes) > wide && col > before {
		start = min(col-before, len(runes)-wide)
	}
	end := min(len(runes), start+wide)
	cut := string(runes[start:end])
	col -= start
	if start > 0 {
		cut, col = "... "+cut, col+4
	}
	if end < len(runes) {
		cut += " ..."
	}
	return printable(cut), col
}

// printable replaces what would move the cursor or change the terminal.
func printable(s string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\t':
			return ' '
		case isControl(c), c == utf8.RuneError:
			return '?'
		}
		return c
	}, s)
}

// isControl reports whether c is a control character, or one that reorders or
// hides its neighbours on a screen.
func isControl(c rune) bool {
	switch {
	case c < 0x20, c >= 0x7f && c < 0xa0:
		return true
	case c >= 0x200b && c <= 0x200f, c >= 0x2028 && c <= 0x202e, c >= 0x2060 && c <= 0x206f, c == 0xfeff:
		return true
	}
	return false
}

// quote shows a value as the user typed it, shortened if it is long.
func quote(s string) string {
	const most = 40
	s = printable(s)
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "..."
	}
	return `"` + s + `"`
}
