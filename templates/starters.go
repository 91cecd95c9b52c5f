package templates

import (
	"bufio"
	"bytes"
	"fmt"
	"strings"

	"buckwright/params"
)

// Starter is a kit file to begin from.
type Starter struct {
	Name   string
	Title  string // one line
	Kit    []byte // the commented kit file
	Beside []File // files that the kit names, to lie in the same folder
}

// File is a file that goes with a starter kit.
type File struct {
	Name string
	Data []byte
}

// Starters lists the starter kits, the plainest first.
func Starters() ([]Starter, error) {
	list := []Starter{
		{Name: "tide-logger", Title: "a rounded box and a round lead, felt down to the skirt, lid with a catch"},
		{Name: "drift-buoy", Title: "a product that is there as a mesh, and a battery cell; lid with a band",
			Beside: []File{{Name: "drift-buoy.stl"}}},
		{Name: "depth-probe", Title: "a long thin instrument lying on its side, and its hub; buck screwed down, lid with a catch"},
		{Name: "spares", Title: "three small things, an outline and a turned body among them; lid with magnets"},
	}
	for i := range list {
		s := &list[i]
		var err error
		if s.Kit, err = files.ReadFile(s.Name + ".yaml"); err != nil {
			return nil, fmt.Errorf("templates: %w", err)
		}
		for j := range s.Beside {
			if s.Beside[j].Data, err = files.ReadFile(s.Beside[j].Name); err != nil {
				return nil, fmt.Errorf("templates: %w", err)
			}
		}
	}
	return list, nil
}

// FindStarter finds a starter kit by name; the error is a
// *params.UnknownRowError that lists what there is.
func FindStarter(name string) (Starter, error) {
	list, err := Starters()
	if err != nil {
		return Starter{}, err
	}
	names := make([]string, len(list))
	for i, s := range list {
		if s.Name == name {
			return s, nil
		}
		names[i] = s.Name
	}
	return Starter{}, params.NoRow("template", name, names)
}

// About is the comment that heads a table file: what its columns mean.
func About(kind string) (string, error) {
	for _, f := range tableFiles() {
		if f.kind != kind {
			continue
		}
		src, err := files.ReadFile(f.file)
		if err != nil {
			return "", fmt.Errorf("templates: %w", err)
		}
		return head(src), nil
	}
	return "", params.NoRow("table", kind, params.Kinds())
}

// head joins the comment lines that a file begins with.
func head(src []byte) string {
	var lines []string
	for s := bufio.NewScanner(bytes.NewReader(src)); s.Scan() && strings.HasPrefix(s.Text(), "#"); {
		lines = append(lines, strings.TrimSpace(strings.TrimPrefix(s.Text(), "#")))
	}
	return strings.Join(lines, "\n")
}
