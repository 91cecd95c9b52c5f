package proof

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"buckwright/generate/judge"
	"buckwright/generate/mesh/meshfile"
)

// TestEveryShape: every shape that an item can have, as the kit file's example
// gives it, makes a whole kit whose parts are sound by our own gate, by CGAL and by
// admesh, and print as they lie. Of draft quality, to save time; where the
// outside programs are missing the kits are not made.
func TestEveryShape(t *testing.T) {
	if testing.Short() || os.Getenv(judge.Folder) == "" {
		t.Skip("makes seven whole kits; .ci/run does it")
	}
	buoy, err := filepath.Abs("../../templates/drift-buoy.stl")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range []struct {
		name, shape string
		depth, mass float64
	}{
		{"box", "box: {size: [90, 50, 27], corner_radius: 10, edge_radius: 4}", 19, 210},
		{"standing", "cylinder: {diameter: 46, height: 22}", 13, 60},
		{"lying", "cylinder: {diameter: 60, height: 120, along: x}", 40, 260},
		{"capsule", "capsule: {diameter: 18, length: 90, along: x}", 12, 40},
		{"ellipsoid", "ellipsoid: {size: [80, 50, 30]}", 19, 90},
		{"profile", "profile: {points: [[0, 0], [60, 0], [60, 25], [0, 40]], corner_radius: 5, height: 18}", 13, 60},
		{"revolve", "revolve: {points: [[0, 0], [20, 0], [14, 30], [0, 30]]}", 22, 60},
		{"mesh", "mesh: {file: " + buoy + ", unit: mm, up: z}", 22, 180},
	} {
		t.Run(s.name, func(t *testing.T) {
			kit := filepath.Join(t.TempDir(), s.name+".yaml")
			src := fmt.Sprintf("kit: %s\nitems:\n  - name: thing\n    shape: {%s}\n    depth: %g\n    mass: %g\n    notch: [front]\nliner: {wrap: pockets}\n", s.name, s.shape, s.depth, s.mass)
			if err := os.WriteFile(kit, []byte(src), 0o644); err != nil {
				t.Fatal(err)
			}
			judgeShape(t, run(t, kit, "--quality", "draft"))
		})
	}
}

func judgeShape(t *testing.T, m *made) {
	t.Helper()
	made := 0
	for _, p := range m.Parts {
		path := filepath.Join(m.Dir, filepath.FromSlash(p.Files[0]))
		src, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		own, err := meshfile.Read(path, src, meshfile.Options{Unit: 1})
		if err != nil {
			t.Fatal(err)
		}
		if err := own.Check(); err != nil {
			t.Errorf("%s: our own gate: %v", p.Name, err)
		}
		if problem := judge.CGAL(t, path).Problem(); problem != "" {
			t.Errorf("%s: CGAL: %s", p.Name, problem)
		}
		if problem := judge.Admesh(t, path).Problem(); problem != "" {
			t.Errorf("%s: admesh: %s", p.Name, problem)
		}
		if p.Printed {
			judgePrint(t, m, p.Name)
		}
		made++
	}
	if made < 5 {
		t.Errorf("only %d parts", made)
	}
}
