package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"syscall"

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
	tables, err := templates.Tables()
	if err != nil {
		return generate.Input{}, err
	}
	tables, err = kit.Resolve(tables)
	if err != nil {
		return generate.Input{}, err
	}
	return generate.Input{Kit: kit, Source: src, Tables: tables, Read: os.ReadFile}, nil
}

func kitSource(file string, in io.Reader) ([]byte, error) {
	if file == "-" {
		return readKit(in)
	}
	f, err := os.Open(file)
	if err != nil {
		return nil, badPath(err, "`buckwright new FILE --template NAME` writes a commented kit")
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
