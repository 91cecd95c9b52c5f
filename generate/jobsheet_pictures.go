package generate

import (
	"bytes"
	"io"
	"path"
	"strings"

	"buckwright/generate/export"
)

// pictures are the kit's pictures as they were written, in that order.
type pictures struct {
	names []string
	files map[string][]byte
}

// keep stores what put stores and remembers it.
func (p *pictures) keep(put Put) Put {
	p.files = map[string][]byte{}
	return func(name string, write func(io.Writer) error) error {
		return put(name, func(w io.Writer) error {
			var b bytes.Buffer
			if err := write(io.MultiWriter(w, &b)); err != nil {
				return err
			}
			p.names = append(p.names, name)
			p.files[name] = b.Bytes()
			return nil
		})
	}
}

// figures are the pictures whose names begin and end so.
func (p pictures) figures(begin, end string) (out []export.Figure) {
	for _, name := range p.names {
		base := strings.TrimSuffix(path.Base(name), ".png")
		if strings.HasPrefix(base, begin) && strings.HasSuffix(base, end) {
			out = append(out, export.Figure{Caption: name, Alt: pictureText(base), PNG: p.files[name]})
		}
	}
	return out
}

// pictureText says what a picture of that name shows.
func pictureText(base string) string { return strings.ReplaceAll(base, "-", " ") }
