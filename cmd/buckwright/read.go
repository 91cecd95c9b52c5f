package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// mostProductBytes is the largest file of a body or a drawing that is read: the
// text STL of a million triangles is smaller. This program's own choice.
const mostProductBytes = 256 << 20

// readProduct reads a file that a kit names.
func readProduct(name string) ([]byte, error) {
	src, err := readPlain(name, mostProductBytes)
	if err == nil && len(src) > mostProductBytes {
		return nil, fmt.Errorf("%s holds more than %d MiB, the most that is read", name, mostProductBytes>>20)
	}
	return src, err
}

// readPlain reads a file, and no more of it than one byte over most. Kits come
// from strangers too: what could give bytes without end, or none for ever, is
// not opened.
func readPlain(name string, most int64) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.Unwrap(err)}
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder, not a file", name)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is a device or a pipe, not a file", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	src := bytes.NewBuffer(make([]byte, 0, min(info.Size(), most)+bytes.MinRead))
	_, err = src.ReadFrom(io.LimitReader(f, most+1))
	return src.Bytes(), err
}
