// Package templates holds what ships inside the program: the tables of
// materials and machines with their sources, and the starter kits.
package templates

import (
	"embed"
	"fmt"

	"buckwright/params"
)

//go:embed *.yaml *.stl
var files embed.FS

type tableFile struct{ kind, file string }

func tableFiles() []tableFile {
	return []tableFile{
		{"sheet", "sheets.yaml"},
		{"liner", "liners.yaml"},
		{"former", "formers.yaml"},
		{"printer", "printers.yaml"},
		{"print", "print-materials.yaml"},
	}
}

// Tables reads the tables that ship with the program. Each row says in its
// source what is published, what is common practice and what is from memory.
func Tables() (*params.Tables, error) {
	t := &params.Tables{}
	for _, f := range tableFiles() {
		src, err := files.ReadFile(f.file)
		if err != nil {
			return nil, fmt.Errorf("templates: %w", err)
		}
		if err := t.Read(f.kind, "templates/"+f.file, src); err != nil {
			return nil, err
		}
	}
	return t, nil
}
