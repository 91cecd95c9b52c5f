package store

import (
	"bufio"
	"io"
	"os"
	"path/filepath"
	"strings"
)

const markerHead = "This folder was made by buckwright. It replaces and removes the files listed here, and no others."

// holdsHead begins the marker's line that says what the folder holds. No file of ours
// can have such a name.
const holdsHead = markerName + " holds "

// Claim says in a few words what the files will be, as "the kit x". Unless it is forced,
// a folder that holds something else of ours is refused: committing would remove it.
// The error is a *UserError.
func (d *Dir) Claim(what string) error {
	if d.before != "" && d.before != what && !d.force {
		return &UserError{d.path, "holds " + d.before, "name another folder with -o, or give --force to have it replaced by " + what}
	}
	d.holds = strings.Map(func(c rune) rune {
		if c == '\n' || c == '\r' {
			return ' '
		}
		return c
	}, what)
	return nil
}

// readHolds is what the last run said the folder holds, "" when it did not.
func readHolds(root *os.Root) string {
	f, err := root.Open(markerName)
	if err != nil {
		return ""
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		if what, ok := strings.CutPrefix(s.Text(), holdsHead); ok {
			return what
		}
	}
	return ""
}

// readMarker lists the files of the last run. A file of that name which is not ours
// is a *UserError, forced or not: the name cannot be shared. A line that no run could
// have written is skipped: it must never lead to a removal.
func readMarker(root *os.Root, name string) ([]string, error) {
	info, err := root.Stat(name)
	if err != nil {
		return nil, err
	}
	other := &UserError{filepath.Join(root.Name(), name), "was not made by buckwright", "move it away, or name another folder with -o"}
	if !info.Mode().IsRegular() { // a pipe would never end
		return nil, other
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var files []string
	s := bufio.NewScanner(f)
	if s.Scan(); s.Text() != markerHead {
		return nil, other
	}
	for s.Scan() {
		if name := s.Text(); valid(name) {
			files = append(files, name)
		}
	}
	return files, s.Err()
}

// writeMarker replaces the marker whole.
func (d *Dir) writeMarker(files []string) error {
	const part = markerName + ".part"
	err := d.writeList(part, files)
	if err == nil {
		err = d.root.Rename(part, markerName)
	}
	if err != nil {
		d.root.Remove(part)
	}
	return err
}

func (d *Dir) writeList(name string, files []string) error {
	d.root.Remove(name) // a link that stands there is not written through
	out, err := d.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	return fill(&watched{w: out}, out, func(w io.Writer) error {
		head := []string{markerHead}
		if d.holds != "" {
			head = append(head, holdsHead+d.holds)
		}
		_, err := io.WriteString(w, strings.Join(append(head, files...), "\n")+"\n")
		return err
	})
}
