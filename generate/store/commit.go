package store

import (
	"errors"
	"io/fs"
	"path"
	"slices"
)

func (d *Dir) commit() error {
	if err := d.decide(); err != nil {
		return err
	}
	d.made, d.folders = nil, nil // they stay, even if finish fails
	return d.finish()
}

// decide does all that can fail, before anything moves, and ends with the one
// rename after which the new files count: from there on whoever opens the folder
// next finishes what is left to do.
func (d *Dir) decide() error {
	if err := d.here(); err != nil {
		return err
	}
	both := slices.Clone(d.old)
	for _, n := range d.files {
		if !slices.Contains(both, n) {
			both = append(both, n)
		}
	}
	// First the list, so that no file of ours is ever unlisted.
	if err := d.writeMarker(both); err != nil {
		return d.sysErr("write", markerName, err)
	}
	for _, n := range d.files {
		if err := d.prepare(n); err != nil {
			return err
		}
	}
	if err := d.root.MkdirAll(stageName, 0o755); err != nil { // a run may have no files
		return d.sysErr("create", stageName, err)
	}
	if err := d.writeList(stageName+"/"+markerName, d.files); err != nil {
		return d.sysErr("write", markerName, err)
	}
	if err := d.root.Rename(stageName, moveName); err != nil {
		return d.sysErr("write", markerName, err)
	}
	d.fresh = false // from here on the marker must stay
	d.sync(".")
	return nil
}

// finish moves the files of a decided run to their names, removes those of the run
// before that it did not write, and puts its list in place. There may be nothing
// to do, or a part of it only.
func (d *Dir) finish() error {
	const list = moveName + "/" + markerName
	files, err := readMarker(d.root, list)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return d.sysErr("clear", moveName, d.root.RemoveAll(moveName))
	case err != nil:
		return d.sysErr("open", list, err)
	}
	before, err := readMarker(d.root, markerName)
	if err != nil {
		return d.sysErr("open", markerName, err)
	}
	for _, n := range files {
		if _, err := d.root.Lstat(moveName + "/" + n); errors.Is(err, fs.ErrNotExist) {
			continue // moved before the crash
		}
		if err := d.mkdirs(path.Dir(n)); err != nil {
			return err
		}
		if err := d.root.Rename(moveName+"/"+n, n); err != nil {
			return d.sysErr("write", n, err)
		}
		d.sync(path.Dir(n))
	}
	for _, n := range before {
		if !slices.Contains(files, n) {
			d.remove(n)
		}
	}
	if err := d.root.Rename(list, markerName); err != nil {
		return d.sysErr("write", markerName, err)
	}
	d.sync(".")
	return d.sysErr("clear", moveName, d.root.RemoveAll(moveName))
}
