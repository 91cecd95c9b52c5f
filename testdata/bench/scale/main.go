// Scale measures how time and memory grow: with the tolerance of a mesh, with
// the number of items of a kit and with the triangles of a product. Run it at the
// module's root on a quiet machine; the numbers go to testdata/bench/scale-*.txt
// and gnuplot draws them:
//
//	go run ./testdata/bench/scale tolerance items product check
//	gnuplot testdata/bench/scale.gp
package main

import (
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
)

// row is one run of a program in a process of its own.
type row struct {
	x, seconds, megabytes float64
	note                  string
}

var series = map[string]func(dir string) ([]row, error){
	"tolerance": tolerances, "items": items, "product": products, "check": checks,
}

func main() {
	log.SetFlags(0)
	dir, err := os.MkdirTemp("", "bench")
	if err != nil {
		log.Fatal(err)
	}
	defer os.RemoveAll(dir)
	for _, build := range [][]string{
		{"go", "build", "-o", filepath.Join(dir, "buckwright"), "./cmd/buckwright"},
		{"go", "test", "-c", "-o", filepath.Join(dir, "mesh.test"), "./generate/mesh"},
	} {
		if out, err := exec.Command(build[0], build[1:]...).CombinedOutput(); err != nil {
			log.Fatalf("%v: %s", err, out)
		}
	}
	for _, name := range os.Args[1:] {
		run, known := series[name]
		if !known {
			log.Fatalf("%s: tolerance, items, product or check is expected", name)
		}
		rows, err := run(dir)
		if err != nil {
			log.Fatal(err)
		}
		if err := write(filepath.Join("testdata", "bench", "scale-"+name+".txt"), rows); err != nil {
			log.Fatal(err)
		}
	}
}

// measure runs a program: processor seconds and peak memory of it alone.
func measure(dir string, program string, args ...string) (row, error) {
	c := exec.Command(filepath.Join(dir, program), args...)
	c.Dir = dir
	out, err := c.CombinedOutput()
	if code := c.ProcessState.ExitCode(); code > 1 || code < 0 { // 1: done, a finding says stop
		return row{}, fmt.Errorf("%s %v: %v\n%s", program, args, err, out)
	}
	r := c.ProcessState.SysUsage().(*syscall.Rusage)
	s := func(t syscall.Timeval) float64 { return float64(t.Sec) + 1e-6*float64(t.Usec) }
	return row{seconds: s(r.Utime) + s(r.Stime), megabytes: float64(r.Maxrss) / 1024, note: string(out)}, nil
}

// write keeps the numbers and tells them.
func write(path string, rows []row) error {
	var b strings.Builder
	b.WriteString("# x, processor seconds, peak MB, what\n")
	for _, r := range rows {
		fmt.Fprintf(&b, "%g %.2f %.0f %s\n", r.x, r.seconds, r.megabytes, r.note)
	}
	fmt.Printf("%s\n%s", path, b.String())
	return os.WriteFile(path, []byte(b.String()), 0o666)
}

// tolerances meshes the reference tray ever closer.
func tolerances(dir string) (all []row, err error) {
	for _, tol := range []string{"0.1", "0.05", "0.025", "0.0125", "0.00625"} {
		r, err := measure(dir, "mesh.test", "-test.run", "^$", "-test.bench", "BenchmarkTrayTolerance/"+strings.ReplaceAll(tol, ".", "\\.")+"$", "-test.benchtime", "1x")
		if err != nil {
			return nil, err
		}
		for _, line := range strings.Split(r.note, "\n") {
			if f := strings.Fields(line); strings.HasPrefix(line, "Benchmark") {
				for i := 2; i+1 < len(f); i += 2 {
					if f[i+1] == "triangles" {
						r.note = f[i] + " triangles"
					}
				}
			}
		}
		fmt.Sscan(tol, &r.x)
		all = append(all, r)
	}
	return all, nil
}

// items makes whole kits of 1 to 12 equal blocks.
func items(dir string) (all []row, err error) {
	for _, n := range []int{1, 2, 4, 8, 12} {
		var b strings.Builder
		b.WriteString("kit: many\nclosure: {kind: none}\nformer: floor-24x24\nprinter: bed-500\nitems:\n")
		for i := range n {
			fmt.Fprintf(&b, "  - {name: block-%d, at: [%d, %d], depth: 9, mass: 8, shape: {box: {size: [26, 20, 12], corner_radius: 4, edge_radius: 2}}}\n", i, 55*(i%4), 48*(i/4))
		}
		r, err := kit(dir, fmt.Sprint("items-", n), b.String())
		if err != nil {
			return nil, err
		}
		r.x, r.note = float64(n), "items"
		all = append(all, r)
	}
	return all, nil
}

// products makes the buck of one body of ever more triangles, at quality draft.
func products(dir string) ([]row, error) {
	return lumps(dir, func(path, name string) (row, error) {
		return measure(dir, "buckwright", "make", path, "-o", filepath.Join(dir, name), "--quality", "draft", "--parts", "buck")
	})
}

// checks judges a kit of one body of ever more triangles.
func checks(dir string) ([]row, error) {
	return lumps(dir, func(path, _ string) (row, error) { return measure(dir, "buckwright", "check", path) })
}

// lumps runs something on kits of one body of ever more triangles.
func lumps(dir string, run func(path, name string) (row, error)) (all []row, err error) {
	for _, around := range []int{32, 100, 316, 1000} {
		name := fmt.Sprint("product-", around)
		n, err := lump(filepath.Join(dir, name+".stl"), around)
		if err != nil {
			return nil, err
		}
		path := filepath.Join(dir, name+".yaml")
		text := fmt.Sprintf("kit: lump\nitems:\n  - {name: lump, depth: 20, mass: 60, shape: {mesh: {file: %s.stl}}}\n", name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			return nil, err
		}
		r, err := run(path, name)
		if err != nil {
			return nil, err
		}
		r.x, r.note = float64(n), "triangles"
		all = append(all, r)
	}
	return all, nil
}

// kit makes a kit at draft quality.
func kit(dir, name, text string, args ...string) (row, error) {
	path := filepath.Join(dir, name+".yaml")
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		return row{}, err
	}
	return measure(dir, "buckwright", append([]string{"make", path, "-o", filepath.Join(dir, name), "--quality", "draft"}, args...)...)
}
