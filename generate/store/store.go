// Package store writes a set of files into one output folder, all or nothing.
//
// Files are staged whole inside the folder and moved to their names together by
// Commit; until then, and after any failure, the folder holds what it held
// before. Only files that an earlier run wrote are ever replaced or removed,
// unless the caller forces it. No name leads outside the folder, not by ".."
// and not by a symbolic link.
//
// Not promised: a single step for all files. A crash in the middle of Commit
// leaves a mixture of old and new files, each of them whole; the next Open moves
// the others to their names before it does anything else.
package store

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// The names that belong to the store itself.
const (
	markerName = ".buckwright"      // says that the folder is ours; lists our files
	lockName   = ".buckwright.lock" // held by the running process
	stageName  = ".buckwright.new"  // files of a run that has not committed
	moveName   = ".buckwright.move" // files of a run that has, on their way to their names
)

// Dir is an output folder held by this process, from Open to Commit or Abandon.
type Dir struct {
	path    string
	root    *os.Root
	lock    *os.File
	force   bool
	made    []string      // folders that Open created, outermost first
	fresh   bool          // Open wrote the marker
	old     []string      // files of the last run, from the marker
	before  string        // what they were, as it was claimed; "" when it was not
	holds   string        // what those of this run are
	files   []string      // files of this run, in the order written
	folders []string      // folders made below the output folder, outermost first
	inputs  []fs.FileInfo // what this run is made from: neither replaced nor removed
}

// Protect names files, by any path, that this run neither replaces nor removes,
// forced or not: those that it was made from. What is not there needs no protection.
func (d *Dir) Protect(paths ...string) {
	for _, p := range paths {
		if info, err := os.Stat(p); err == nil {
			d.inputs = append(d.inputs, info)
		}
	}
}

// protected reports whether a file is one of those, by whatever name it is found.
func (d *Dir) protected(info fs.FileInfo) bool {
	return slices.ContainsFunc(d.inputs, func(k fs.FileInfo) bool { return os.SameFile(k, info) })
}

// Open takes hold of the folder dir, creating it if need be. A folder that
// exists must be empty or bear the marker of an earlier run; force accepts any
// folder, and still removes nothing that is not ours. Every error is a
// *UserError (the caller should name another folder) or a *SystemError.
func Open(dir string, force bool) (*Dir, error) {
	d := &Dir{path: dir, force: force}
	if err := d.make(); err != nil {
		return nil, err
	}
	if err := d.take(); err != nil {
		d.drop()
		return nil, err
	}
	return d, nil
}

// make creates the folder and remembers what it created.
func (d *Dir) make() error {
	info, err := os.Stat(d.path)
	switch {
	case err == nil && info.IsDir():
		return nil
	case err == nil:
		return &UserError{d.path, "is a file, not a folder", "name another folder with -o, or move the file away"}
	case !errors.Is(err, fs.ErrNotExist):
		return classify("open", d.path, err)
	}
	if _, err := os.Lstat(d.path); err == nil {
		return &UserError{d.path, "is a symbolic link that leads nowhere", "remove the link, or name another folder with -o"}
	}
	for p := filepath.Clean(d.path); ; p = filepath.Dir(p) {
		if _, err := os.Lstat(p); err == nil || p == filepath.Dir(p) {
			break
		}
		d.made = append(d.made, p)
	}
	slices.Reverse(d.made)
	for i, p := range d.made {
		if err := os.Mkdir(p, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			d.made = d.made[:i]
			d.unmake()
			return classify("create", p, err)
		}
	}
	return nil
}

// take locks the folder, reads the marker and clears what a killed run left.
func (d *Dir) take() error {
	var err error
	if d.root, err = os.OpenRoot(d.path); err != nil {
		return classify("open", d.path, err)
	}
	if err := d.accept(); err != nil { // before the lock: a foreign folder gets no file from us
		return err
	}
	if d.lock, err = acquire(d.root, d.path); err != nil {
		return err
	}
	if err := d.accept(); err != nil {
		return err
	}
	if err := d.finish(); err != nil { // what a run that was killed in Commit left to do
		return err
	}
	if d.old, err = readMarker(d.root, markerName); errors.Is(err, fs.ErrNotExist) {
		d.fresh = true
		err = d.writeMarker(nil)
	}
	if err != nil {
		return d.sysErr("open", markerName, err)
	}
	d.before = readHolds(d.root)
	if err := d.root.RemoveAll(stageName); err != nil {
		return d.sysErr("clear", stageName, err)
	}
	return nil
}

// accept refuses a folder with something in it that is not ours.
func (d *Dir) accept() error {
	if d.force {
		return nil
	}
	if _, err := readMarker(d.root, markerName); !errors.Is(err, fs.ErrNotExist) {
		return d.sysErr("open", markerName, err)
	}
	f, err := d.root.Open(".")
	if err != nil {
		return d.sysErr("open", ".", err)
	}
	defer f.Close()
	names, err := f.Readdirnames(-1)
	if err != nil {
		return d.sysErr("list", ".", err)
	}
	slices.Sort(names)
	for _, n := range names {
		if !reserved(n) { // a run that is just beginning, or was killed then
			return &UserError{d.path, "holds files that buckwright did not make (" + n + ")",
				"name an empty folder with -o, or give --force to write among them"}
		}
	}
	return nil
}

// Commit moves all files to their names, removes files of an earlier run that
// this one did not write, and releases the folder. It releases the folder after an
// error too; the error says which file could not be moved.
func (d *Dir) Commit() error {
	err := d.commit()
	d.Abandon() // after a good commit there is nothing left to take back
	return err
}

// here makes sure that the folder still stands where it was opened.
func (d *Dir) here() error {
	held, err := d.root.Stat(".")
	if err != nil {
		return classify("open", d.path, err)
	}
	if named, err := os.Stat(d.path); err != nil || !os.SameFile(held, named) {
		return &SystemError{"write", d.path, errMoved}
	}
	return nil
}

// prepare makes sure that a staged file is there and can get its name.
func (d *Dir) prepare(name string) error {
	if _, err := d.root.Lstat(stageName + "/" + name); err != nil {
		return &SystemError{"write", d.join(name), errMoved}
	}
	if err := d.mayWrite(name); err != nil { // it may have changed since it was staged
		return err
	}
	return d.mkdirs(path.Dir(name))
}

// mkdirs makes the folders on the way to a file and remembers the new ones.
func (d *Dir) mkdirs(dir string) error {
	if dir == "." {
		return nil
	}
	if err := d.mkdirs(path.Dir(dir)); err != nil {
		return err
	}
	err := d.root.Mkdir(dir, 0o755)
	switch {
	case err == nil:
		d.folders = append(d.folders, dir)
	case !errors.Is(err, fs.ErrExist):
		return d.sysErr("create", dir, err)
	}
	return nil
}

// remove deletes a file of an earlier run and the folders it leaves empty. What
// cannot be removed stays: it is whole and does no harm.
func (d *Dir) remove(name string) {
	if info, err := d.root.Lstat(name); err != nil || !info.Mode().IsRegular() || d.protected(info) {
		return
	}
	d.root.Remove(name)
	for p := path.Dir(name); p != "."; p = path.Dir(p) {
		if d.root.Remove(p) != nil { // not empty
			return
		}
	}
}

// Abandon throws away what was not committed and releases the folder. It may
// be called more than once, and after Commit.
func (d *Dir) Abandon() {
	if d.root == nil {
		return
	}
	d.root.RemoveAll(stageName)
	d.drop()
}

// drop undoes Open: folders and marker of a run that wrote nothing disappear.
func (d *Dir) drop() {
	if d.root != nil {
		for _, f := range slices.Backward(d.folders) {
			d.root.Remove(f) // fails, as it should, on one that is not empty
		}
		if d.fresh && d.lock != nil {
			d.root.Remove(markerName)
		}
		release(d.root, d.lock)
		d.root.Close()
		d.root = nil
	}
	d.unmake()
}

func (d *Dir) unmake() {
	for _, p := range slices.Backward(d.made) {
		os.Remove(p) // fails, as it should, on one that is not empty
	}
	d.made = nil
}

func (d *Dir) join(name string) string { return filepath.Join(d.path, filepath.FromSlash(name)) }

func (d *Dir) sysErr(op, name string, err error) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, fs.ErrNotExist) {
		if gone := d.here(); gone != nil {
			return gone
		}
	}
	return classify(op, d.join(name), err)
}

// reserved reports whether a name belongs to the store itself.
func reserved(name string) bool { return strings.HasPrefix(name, markerName) }
