package store

import (
	"bufio"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
)

type linkError = os.LinkError

// Write stages one file: f writes it whole, and Commit gives it its name. The
// name is a slash path inside the folder. Writing a name again replaces it.
// What f itself returns comes back as it is; a failed write is a *SystemError.
func (d *Dir) Write(name string, f func(io.Writer) error) error {
	if !valid(name) {
		return &UserError{name, "is no name for a file inside the output folder", "use a plain name without .., a leading slash or a line break"}
	}
	if err := d.mayWrite(name); err != nil {
		return err
	}
	staged := stageName + "/" + name
	if err := d.root.MkdirAll(path.Dir(staged), 0o755); err != nil {
		return d.sysErr("create", name, err)
	}
	out, err := d.root.OpenFile(staged, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return d.sysErr("create", name, err)
	}
	w := &watched{w: out}
	if err := fill(w, out, f); err != nil {
		d.root.Remove(staged)
		if w.err != nil {
			return d.sysErr("write", name, w.err)
		}
		return err
	}
	if !slices.Contains(d.files, name) {
		d.files = append(d.files, name)
	}
	return nil
}

// Read gives the content of a file of the last run. What is not ours is not
// there (fs.ErrNotExist).
func (d *Dir) Read(name string) ([]byte, error) {
	if !valid(name) || !slices.Contains(d.old, name) {
		return nil, fs.ErrNotExist
	}
	info, err := d.root.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fs.ErrNotExist
	case err != nil:
		return nil, d.sysErr("read", name, err)
	case info.IsDir():
		return nil, d.sysErr("read", name, syscall.EISDIR)
	case !info.Mode().IsRegular() || info.Size() > mostRead:
		return nil, &UserError{d.join(name), "is no file that buckwright wrote", "move it away, or name another folder with -o"}
	}
	src, err := d.root.ReadFile(name)
	return src, d.sysErr("read", name, err)
}

// mostRead is the largest file, in bytes, that is read back: several times the
// largest that is written. This program's own choice.
const mostRead = 256 << 20

// fill writes through a buffer, to the disk itself, and closes.
func fill(w *watched, out *os.File, f func(io.Writer) error) error {
	b := bufio.NewWriterSize(w, 1<<16)
	err := f(b)
	if err == nil {
		err = b.Flush()
	}
	if err == nil {
		err = w.keep(out.Sync())
	}
	if e := out.Close(); err == nil {
		err = w.keep(e)
	}
	return err
}

// watched keeps the first error of the file itself, to tell it from an error of
// the function that writes.
type watched struct {
	w   io.Writer
	err error
}

func (w *watched) Write(p []byte) (int, error) {
	n, err := w.w.Write(p)
	return n, w.keep(err)
}

func (w *watched) keep(err error) error {
	if w.err == nil {
		w.err = err
	}
	return err
}

// valid reports whether name stays inside the folder by its spelling alone and
// can stand in the marker.
func valid(name string) bool {
	return filepath.IsLocal(filepath.FromSlash(name)) && path.Clean(name) == name && name != "." &&
		!strings.ContainsAny(name, "\\\n\r\x00") && !reserved(name)
}

// mayWrite refuses to put a file over a folder, or over a file that no
// earlier run of ours wrote.
func (d *Dir) mayWrite(name string) error {
	info, err := d.root.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return d.sysErr("write", name, err)
	case info.IsDir():
		return &UserError{d.join(name), "is a folder where a file must go", "move it away, or name another folder with -o"}
	case d.protected(info):
		return &UserError{d.join(name), "is what this kit is made from", "name another folder with -o"}
	case !d.force && !slices.Contains(d.old, name):
		return &UserError{d.join(name), "was not made by buckwright", "move it away, or give --force to replace it"}
	}
	return nil
}

// sync makes the names in a folder last through a loss of power. Some file systems
// cannot; the files are whole all the same.
func (d *Dir) sync(dir string) {
	if f, err := d.root.Open(dir); err == nil {
		f.Sync()
		f.Close()
	}
}
