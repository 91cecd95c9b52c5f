package store

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"syscall"
)

// UserError is a folder or a name that the user chose and that cannot be used.
type UserError struct{ Path, Problem, Hint string }

// Error says what is wrong, and on a second line what to do.
func (e *UserError) Error() string {
	return fmt.Sprintf("%s: %s\n  hint: %s", e.Path, e.Problem, e.Hint)
}

// SystemError is a refusal of the system: permissions, a full disk.
type SystemError struct {
	Op, Path string
	Err      error
}

// errMoved is what others did to the folder while it was held.
var errMoved = errors.New("it was moved or deleted meanwhile")

// Error says what could not be done and why, and where known what to do.
func (e *SystemError) Error() string {
	s := fmt.Sprintf("cannot %s %s: %v", e.Op, e.Path, cause(e.Err))
	if h := hint(e.Err); h != "" {
		s += "\n  hint: " + h
	}
	return s
}

func (e *SystemError) Unwrap() error { return e.Err }

// cause is the system's own words, without the path, which the message has already.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	if link := (*linkError)(nil); errors.As(err, &link) {
		return link.Err
	}
	return err
}

func hint(err error) string {
	switch {
	case errors.Is(err, errMoved):
		return "start again, and leave the folder alone until the run is over"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "the disk is full: free some space, or write to another disk"
	case errors.Is(err, syscall.EROFS):
		return "the disk is read-only: write to another one"
	case errors.Is(err, fs.ErrPermission):
		return "you may not write there: name another folder"
	}
	return ""
}

// classify makes a *UserError of what another name would cure, and a *SystemError of
// everything else.
func classify(op, path string, err error) error {
	if user := (*UserError)(nil); errors.As(err, &user) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return &UserError{path, "runs through a symbolic link that leads nowhere", "remove the link, or name another folder with -o"}
	case errors.Is(err, syscall.ENOTDIR):
		return &UserError{path, "runs through a file as if it were a folder", "name another folder with -o"}
	case errors.Is(err, syscall.EISDIR):
		return &UserError{path, "is a folder where a file must go", "move it away, or name another folder with -o"}
	case errors.Is(err, syscall.ELOOP):
		return &UserError{path, "is a symbolic link that leads to itself", "remove the link, or name another folder with -o"}
	case errors.Is(err, syscall.ENAMETOOLONG):
		return &UserError{path, "is too long a name", "name a shorter folder with -o"}
	case strings.Contains(err.Error(), "path escapes from parent"): // os.Root has no value for it
		return &UserError{path, "leads out of the folder by a symbolic link", "remove the link, or name another folder with -o"}
	}
	return &SystemError{op, path, err}
}
