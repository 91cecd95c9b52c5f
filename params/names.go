package params

import (
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// longestName leaves room for what is put before and after it in file names.
const longestName = 40

// nameText is a name from which file names are made.
func nameText(to *string) value {
	return text{to: to, ok: nameFault, pattern: `^[\p{L}\p{N}]([\p{L}\p{M}\p{N} ._-]*[\p{L}\p{M}\p{N}_])?$`, longest: longestName}
}

func nameFault(s string) complaint {
	const use = "letters, digits, -, _, . and single spaces are allowed"
	switch {
	case utf8.RuneCountInString(s) > longestName || len(s) > 3*longestName:
		return complaint{quote(s) + " is too long for a file name", "40 characters are allowed"}
	case reservedName(s):
		return complaint{quote(s) + " is a device on some computers and cannot be a file", "add a word to it"}
	case s == cleanName(s):
		return complaint{}
	}
	hint := use
	if clean := cleanName(s); clean != "" && !reservedName(clean) {
		hint = "write " + clean + "; " + use
	}
	return complaint{quote(s) + " cannot be part of a file name", hint}
}

// cleanName is the name itself if it is fit for a file, or else one like it.
func cleanName(s string) string {
	var b strings.Builder
	joined := true // what was written last joins two words already, or nothing was
	for _, c := range s {
		fit := fitForName(c)
		joint := !fit || c == ' ' || c == '.'
		if joint && joined {
			continue
		}
		if !fit {
			c = '-'
		}
		b.WriteRune(c)
		joined = joint || c == '-'
	}
	return strings.Trim(b.String(), "-. ")
}

func fitForName(c rune) bool {
	return c != utf8.RuneError && (unicode.IsLetter(c) || unicode.IsDigit(c) || unicode.IsMark(c) || strings.ContainsRune(" ._-", c))
}

// reservedName reports whether Windows keeps the name for a device, whatever
// follows its first dot ("Naming Files, Paths, and Namespaces").
func reservedName(s string) bool {
	base, _, _ := strings.Cut(strings.ToLower(s), ".")
	if len(base) == 4 && (base[:3] == "com" || base[:3] == "lpt") {
		return isDigit(base[3])
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul"}, base)
}

// rowName is the name of a row in a table; whether the row exists is known
// only when the kit meets its tables.
func rowName(to *string) value {
	return text{to: to, ok: rowNameFault, pattern: `^[A-Za-z0-9][A-Za-z0-9._-]*$`, longest: longestName}
}

func rowNameFault(s string) complaint {
	ok := len(s) <= longestName && strings.IndexFunc(s, func(c rune) bool {
		return !(c < utf8.RuneSelf && fitForName(c)) || c == ' '
	}) < 0 && !strings.ContainsAny(s[:1], "._-")
	if ok {
		return complaint{}
	}
	return complaint{quote(s) + " is not the name of a row", "`buckwright materials` lists the tables"}
}

// fileText is a path to a file of one of the kinds.
func fileText(to *string, kinds ...string) value {
	return text{to: to, longest: 1024, ok: func(s string) complaint { return fileFault(s, kinds) }}
}

func fileFault(s string, kinds []string) complaint {
	list := strings.Join(kinds, ", ")
	switch {
	case len(s) > 1024:
		return complaint{"the path is too long", "put the file beside the kit and write its name"}
	case strings.IndexFunc(s, isControl) >= 0 || strings.TrimSpace(s) != s || !utf8.ValidString(s):
		return complaint{quote(s) + " has characters or spaces that a path should not have", "write the path as it is, from the kit file's folder"}
	case strings.Contains(s, "://"):
		return complaint{quote(s) + " is an address, not a file", "copy the file beside the kit and write its name"}
	case !slices.Contains(kinds, strings.ToLower(path.Ext(s))):
		return complaint{quote(s) + " does not end in one of: " + list, "the ending says how the file is read"}
	}
	return complaint{}
}

// named is a section that may be given as the name of a table's row alone.
type named struct {
	name  *string
	table string
	section
}

func (v named) read(r *reader, at string, n *yaml.Node) {
	if n.Kind != yaml.ScalarNode {
		v.section.read(r, at, n)
		return
	}
	v.section.fill(r, at)
	rowName(v.name).read(r, at, n)
	r.place(join(at, "name"), n)
}

// layerText is the name of a layer in a drawing, as its program shows it.
func layerText(to *string) value {
	return text{to: to, longest: 255, ok: func(s string) complaint {
		if len(s) > 255 || s == "" || strings.IndexFunc(s, isControl) >= 0 || !utf8.ValidString(s) {
			return complaint{quote(s) + " is not the name of a layer", "write it as the drawing program shows it"}
		}
		return complaint{}
	}}
}
