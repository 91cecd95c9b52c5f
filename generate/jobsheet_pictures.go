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
			text := pictureText(base)
			out = append(out, export.Figure{Caption: text, Alt: "Picture: " + text + ". Its sizes are in the tables.", PNG: p.files[name]})
		}
	}
	return out
}

// wide makes figures as wide as the page.
func wide(all []export.Figure) []export.Figure {
	for i := range all {
		all[i].Wide = true
	}
	return all
}

// pictureText says what the picture of that name shows.
func pictureText(base string) string {
	switch base {
	case "exploded-kit":
		return "the case and what is in it, pulled apart"
	case "exploded-tooling":
		return "the tools, pulled apart"
	case "thickness":
		return "how thick the sheet is predicted to be, formed"
	case "part-insert":
		return "insert, as trimmed and in place"
	case "part-formed-insert":
		return "insert, as the sheet is predicted to form"
	case "contact-order":
		return "where the sheet is predicted to arrive first and last"
	}
	if item, ok := strings.CutPrefix(base, "liner-"); ok {
		return "how hard the felt presses on " + item
	}
	if part, ok := strings.CutPrefix(base, "part-"); ok {
		return strings.ReplaceAll(part, "-", " ") + ", as printed and in place"
	}
	cut, ok := strings.CutPrefix(base, "section-")
	if !ok {
		return strings.ReplaceAll(base, "-", " ")
	}
	for _, way := range []string{"along", "across"} {
		if item, ok := strings.CutSuffix(cut, "-"+way+"-packed"); ok {
			return item + " in its case, cut " + way + " its middle"
		}
		if item, ok := strings.CutSuffix(cut, "-"+way+"-tools"); ok {
			return item + ", its pocket and tools, cut " + way + " its middle"
		}
	}
	return cut
}
