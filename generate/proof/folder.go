package proof

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
)

// Folder is an output folder.
type Folder struct {
	Dir      string
	Kit      string       `json:"kit"`
	Parts    []PartRow    `json:"parts"`
	Fits     []FitRow     `json:"fits"`
	Findings []FindingRow `json:"findings"`
	Vents    []VentRow    `json:"vents"`
	Screws   []ScrewRow   `json:"screws"`
}

// PartRow is a part as kit.json lists it.
type PartRow struct {
	Name    string   `json:"name"`
	Files   []string `json:"files"`
	Printed bool     `json:"printed"`
	Quality string   `json:"quality"`
	Volume  float64  `json:"volume_mm3"`
	Mass    float64  `json:"mass_g"`
	Time    float64  `json:"time_s"`
	Bridge  float64  `json:"longest_bridge_mm"`
	Free    float64  `json:"free_edge_mm"`
	ToKit   Matrix   `json:"to_kit"`
	Bbox    struct {
		Min, Max [3]float64
	} `json:"bbox"`
}

// FitRow is a derived size.
type FitRow struct {
	ID                   string
	Nominal, Least, Most float64
}

// FindingRow is a finding.
type FindingRow struct{ ID, Severity, Where, Value string }

// VentRow is a vent, in the kit's frame.
type VentRow struct {
	At       [3]float64 `json:"at"`
	Diameter float64    `json:"diameter"`
	Drill    bool       `json:"drill"`
}

// ScrewRow is a screw in the buck's underside.
type ScrewRow struct {
	Thread     string     `json:"thread"`
	At         [2]float64 `json:"at"`
	FromMiddle [2]float64 `json:"from_middle"`
}

// Open reads kit.json of a folder.
func Open(dir string) (*Folder, error) {
	data, err := os.ReadFile(filepath.Join(dir, "kit.json"))
	if err != nil {
		return nil, err
	}
	f := &Folder{Dir: dir}
	if err := json.Unmarshal(data, f); err != nil {
		return nil, fmt.Errorf("kit.json: %w", err)
	}
	return f, nil
}

// Fit is the nominal of a row; it errs when there is none.
func (f *Folder) Fit(id string) (float64, error) {
	for _, r := range f.Fits {
		if r.ID == id {
			return r.Nominal, nil
		}
	}
	return 0, fmt.Errorf("kit.json has no fit %q", id)
}

// Part finds a part's row.
func (f *Folder) Part(name string) (PartRow, error) {
	for _, p := range f.Parts {
		if p.Name == name {
			return p, nil
		}
	}
	return PartRow{}, fmt.Errorf("kit.json has no part %q", name)
}

// Load reads a part's STL: as printed, and put into the kit's frame.
func (f *Folder) Load(name string) (printed, kit []Tri, err error) {
	row, err := f.Part(name)
	if err != nil {
		return nil, nil, err
	}
	if len(row.Files) == 0 {
		return nil, nil, fmt.Errorf("part %s has no file", name)
	}
	printed, err = ReadSTL(filepath.Join(f.Dir, filepath.FromSlash(row.Files[0])))
	if err != nil {
		return nil, nil, err
	}
	return printed, row.ToKit.Map(printed), nil
}

// ReadSTL reads a binary STL file: 80 bytes, a count, 50 bytes a facet. The
// normals in it are ignored. Source: the format as 3D Systems published it, 1989.
func ReadSTL(path string) ([]Tri, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	if len(data) < 84 {
		return nil, fmt.Errorf("%s: %d bytes are no binary STL", path, len(data))
	}
	n := int(binary.LittleEndian.Uint32(data[80:]))
	if len(data) != 84+50*n {
		return nil, fmt.Errorf("%s: %d bytes do not hold %d facets", path, len(data), n)
	}
	out := make([]Tri, n)
	for i := range out {
		at := data[84+50*i+12:]
		for v := range 3 {
			for k := range 3 {
				bits := binary.LittleEndian.Uint32(at[12*v+4*k:])
				out[i][v][k] = float64(math.Float32frombits(bits))
			}
		}
	}
	return out, nil
}

// WriteSTL writes a binary STL file.
func WriteSTL(path string, f []Tri) error {
	var b bytes.Buffer
	b.Write(make([]byte, 80))
	_ = binary.Write(&b, binary.LittleEndian, uint32(len(f)))
	for _, t := range f {
		row := [12]float32{}
		for v := range 3 {
			for k := range 3 {
				row[3+3*v+k] = float32(t[v][k])
			}
		}
		_ = binary.Write(&b, binary.LittleEndian, row)
		_ = binary.Write(&b, binary.LittleEndian, uint16(0))
	}
	return os.WriteFile(path, b.Bytes(), 0o666)
}
