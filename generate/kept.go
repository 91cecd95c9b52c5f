package generate

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"

	"buckwright/generate/export"
	"buckwright/generate/geom"
	"buckwright/generate/mesh"
	"buckwright/generate/mesh/meshfile"
)

// hash is the hex SHA-256 over the kit file and every file it names, in order.
func (in Input) hash() (string, error) {
	sum := sha256.New()
	sum.Write(in.Source)
	for _, it := range in.Kit.Items {
		file := ""
		switch s := it.Shape; {
		case s.Mesh != nil:
			file = s.Mesh.File
		case s.Profile != nil:
			file = s.Profile.File
		}
		if file == "" {
			continue
		}
		src, err := in.Read(in.Kit.Beside(file))
		if err != nil {
			return "", err
		}
		sum.Write(src)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// StaleError says that a folder holds parts which would not fit those that are
// to be made beside them.
type StaleError struct {
	Parts []string // what would be lost
	Why   string
}

func (e *StaleError) Error() string {
	return fmt.Sprintf("holds parts that would not fit the new ones (%s): %s", strings.Join(e.Parts, ", "), e.Why)
}

// Kept reads the parts that stay when only in.Parts are made: those that an
// earlier run of this version made of the same inputs. read reads a file of the
// output folder by its slash path. The error is a *StaleError if the folder's
// parts were made of something else, or if its kit.json is damaged.
func Kept(in Input, version string, read func(name string) ([]byte, error)) ([]Part, error) {
	src, err := read("kit.json")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var before export.KitJSON
	if err := json.Unmarshal(src, &before); err != nil {
		return nil, &StaleError{[]string{"unknown"}, "its kit.json cannot be read"}
	}
	if !whole(before.Parts) {
		return nil, &StaleError{[]string{"unknown"}, "its kit.json tells of parts that there are not"}
	}
	var rows []export.PartJSON
	var names []string
	for _, row := range before.Parts {
		if row.Name != formedName && !slices.Contains(in.Parts, row.Name) { // the formed insert is drawn anew with the insert
			rows, names = append(rows, row), append(names, row.Name)
		}
	}
	inputs, err := in.hash()
	if len(rows) == 0 || err != nil { // Run reports a file that is missing
		return nil, nil
	}
	switch {
	case before.Inputs != inputs:
		return nil, &StaleError{names, "the kit or a file it names has changed"}
	case before.Tool.Version != version:
		return nil, &StaleError{names, "version " + before.Tool.Version + " made them"}
	}
	return loadParts(rows, read)
}

// loadParts reads parts back from their STL files, which hold their vertices
// exactly. What is no longer there is left out.
func loadParts(rows []export.PartJSON, read func(name string) ([]byte, error)) ([]Part, error) {
	var out []Part
	for _, row := range rows {
		if len(row.Files) == 0 {
			continue
		}
		src, err := read(row.Files[0])
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		p := Part{Name: row.Name, Reference: !row.Printed, Quality: Quality(row.Quality), ToKit: geom.AffineOfRows(row.ToKit)}
		p.Printed, err = meshfile.Read(row.Files[0], src, meshfile.Options{Unit: 1, Up: "z"})
		if err == nil {
			err = errors.Join(p.Printed.Check(), isTold(row, p.Printed))
		}
		if err != nil {
			return nil, &StaleError{[]string{row.Name}, fmt.Sprintf("%s is damaged: %v", row.Files[0], err)}
		}
		p.Mesh = p.Printed.Transform(p.ToKit)
		out = append(out, p)
	}
	return out, nil
}

// whole reports whether the rows are such as a run writes.
func whole(rows []export.PartJSON) bool {
	names, qualities := append(PartNames(), formedName), []Quality{Draft, Normal, Fine}
	return !slices.ContainsFunc(rows, func(row export.PartJSON) bool {
		return !slices.Contains(names, row.Name) || !slices.Contains(qualities, Quality(row.Quality))
	})
}

// isTold refuses a mesh that is not the one its row tells of: another part in its
// place, or the same in another size, fits nothing.
func isTold(row export.PartJSON, m *mesh.Mesh) error {
	const rounding = 1e-6 // of sums in another order, as a share
	near := func(a, b float64) bool { return math.Abs(a-b) <= rounding*max(1, math.Abs(b)) }
	box := export.Bbox(m.Bounds())
	same := len(m.T) == row.Triangles && near(m.Volume(), row.Volume) && near(m.Area(), row.Area)
	for k := range 3 {
		same = same && near(box.Min[k], row.Bbox.Min[k]) && near(box.Max[k], row.Bbox.Max[k])
	}
	if !same {
		return errors.New("it is not the part that kit.json tells of")
	}
	return nil
}

// kept finds a part that stays.
func (in Input) kept(name string) *Part {
	for i := range in.Before {
		if in.Before[i].Name == name {
			return &in.Before[i]
		}
	}
	return nil
}
