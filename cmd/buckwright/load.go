package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"buckwright/generate"
	"buckwright/params"
	"buckwright/templates"
)

// loadKit reads a kit file, or standard input for "-", and resolves the names
// in it against the tables that ship with the program.
func loadKit(file string, in io.Reader) (generate.Input, error) {
	src, err := kitSource(file, in)
	if err != nil {
		return generate.Input{}, err
	}
	kit, err := params.Parse(file, src)
	if err != nil {
		return generate.Input{}, err
	}
	filed, err := usePrinterFile(kit)
	if err != nil {
		return generate.Input{}, err
	}
	tables, err := templates.Tables()
	if err != nil {
		return generate.Input{}, err
	}
	tables, err = kit.Resolve(tables)
	if err != nil {
		return generate.Input{}, err
	}
	return generate.Input{Kit: kit, Source: append(src, filed...), Tables: tables, Read: os.ReadFile}, nil
}

// usePrinterFile reads the printer file that a kit names and returns its bytes.
func usePrinterFile(kit *params.Kit) ([]byte, error) {
	name := kit.Printer.File
	if name == "" {
		return nil, nil
	}
	if !filepath.IsAbs(name) {
		name = filepath.Join(filepath.Dir(kit.File), name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, kit.Problem("printer.file", err.Error(), "`buckwright calibrate` writes a printer file; its name goes here, from the kit's folder")
	}
	defer f.Close()
	src, err := readKit(f)
	if err != nil {
		return nil, badPath(err, "name the printer file itself")
	}
	return src, kit.UsePrinter(name, src)
}

func kitSource(file string, in io.Reader) ([]byte, error) {
	if file == "-" {
		return readKit(in)
	}
	f, err := os.Open(file)
	if err != nil {
		hint := "`buckwright new FILE --template NAME` writes a commented kit"
		if _, beside := os.Stat(file + ".yaml"); beside == nil {
			hint = "did you mean " + file + ".yaml?"
		}
		return nil, badPath(err, hint)
	}
	defer f.Close()
	src, err := readKit(f)
	if err != nil {
		return nil, badPath(err, "name the kit file itself")
	}
	return src, nil
}

// readKit reads one byte more than a kit may have, so that Parse can refuse it.
func readKit(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, params.MostBytes+1))
}

// badPath tells a path that the user can mend from a refusal of the system.
func badPath(err error, hint string) error {
	for _, mistake := range []error{fs.ErrNotExist, syscall.ENOTDIR, syscall.EISDIR, syscall.ENAMETOOLONG, syscall.ELOOP} {
		if errors.Is(err, mistake) {
			return exitError{exitUsage, fmt.Errorf("%w\n  hint: %s", err, hint)}
		}
	}
	return exitError{exitFailed, err}
}

// oneKit is the argument of the commands that take a kit file.
func oneKit(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return usage(cmd.CommandPath()+" my-kit.yaml; `buckwright new` lists starter kits", "no kit file is named")
	}
	return usage("one kit at a time; a name with spaces goes in quotes", "%d files are named: %s", len(args), strings.Join(args, ", "))
}
