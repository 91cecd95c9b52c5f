package judge

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Print is how to slice: millimetres, shares from 0 to 1, g/cm³.
type Print struct {
	Bed     [3]float64
	Nozzle  float64
	Layer   float64
	Infill  float64
	Density float64
	Walls   int  // perimeters; the slicer's own default if 0
	Keep    bool // positions as in the file
	// Support, unless 0, lets the slicer build support under whatever is flatter
	// than so many degrees from the horizontal, bridges excepted. It measures
	// from layer to layer, so the corner of two walls counts as flatter than
	// either: to let corners of 45-degree walls pass, give 30.
	Support int
	Pattern string   // of infill with gaps; the slicer's own default if ""
	Options []string // further options of the slicer, as on its command line
}

// Paths are the slicer's options for how beads are laid: their width in mm, the
// full layers above and below, speeds in mm/s (outer walls, inner walls, full
// infill, top, infill, bridges, first layer, travel) and mm/s². Small perimeters
// go as fast as outer walls. Everything not named is the slicer's own default.
func Paths(width float64, skin int, speed [8]float64, acceleration float64) []string {
	var out []string
	add := func(v float64, names ...string) {
		for _, n := range names {
			out = append(out, "--"+n, fmt.Sprint(v))
		}
	}
	add(width, "extrusion-width", "first-layer-extrusion-width", "external-perimeter-extrusion-width", "perimeter-extrusion-width",
		"infill-extrusion-width", "solid-infill-extrusion-width", "top-infill-extrusion-width")
	add(float64(skin), "top-solid-layers", "bottom-solid-layers")
	add(speed[0], "external-perimeter-speed", "small-perimeter-speed", "gap-fill-speed")
	for i, n := range []string{"perimeter-speed", "solid-infill-speed", "top-solid-infill-speed", "infill-speed", "bridge-speed", "first-layer-speed", "travel-speed"} {
		add(speed[i+1], n)
	}
	add(acceleration, "default-acceleration", "machine-max-acceleration-extruding", "machine-max-acceleration-travel",
		"machine-max-acceleration-x", "machine-max-acceleration-y")
	// With the slicer's default flavour an acceleration over 1500 is not believed.
	return append(out, "--gcode-flavor", "marlin")
}

// Sliced is what the slicer made of a file.
type Sliced struct {
	Grams float64
	Time  time.Duration
	// Filament is the length fed, in mm, for each kind of path: "Perimeter",
	// "Overhang perimeter", "Bridge infill", "Support material" and so on.
	Filament map[string]float64
}

// Support is the filament, in mm, that went into support material.
func (s Sliced) Support() float64 {
	return s.Filament["Support material"] + s.Filament["Support material interface"]
}

// Total is all filament fed, in mm.
func (s Sliced) Total() (mm float64) {
	for _, kind := range slices.Sorted(maps.Keys(s.Filament)) { // sums are the same every time
		mm += s.Filament[kind]
	}
	return mm
}

// Slicer slices an STL or a 3MF with prusa-slicer.
func Slicer(t testing.TB, path string, p Print) Sliced {
	t.Helper()
	code := filepath.Join(t.TempDir(), "print.gcode")
	args := []string{"--export-gcode", "--output", code, "--loglevel", "0",
		"--bed-shape", fmt.Sprintf("0x0,%gx0,%gx%g,0x%g", p.Bed[0], p.Bed[0], p.Bed[1], p.Bed[1]),
		"--max-print-height", fmt.Sprint(p.Bed[2]),
		"--nozzle-diameter", fmt.Sprint(p.Nozzle),
		"--layer-height", fmt.Sprint(p.Layer), "--first-layer-height", fmt.Sprint(p.Layer),
		"--fill-density", fmt.Sprintf("%g%%", 100*p.Infill),
		"--filament-density", fmt.Sprint(p.Density),
		"--skirts", "0"}
	if p.Walls != 0 {
		args = append(args, "--perimeters", strconv.Itoa(p.Walls))
	}
	if p.Infill == 1 {
		p.Pattern = "rectilinear" // the default cannot be solid
	}
	if p.Pattern != "" {
		args = append(args, "--fill-pattern", p.Pattern)
	}
	if p.Support != 0 {
		args = append(args, "--support-material", "--support-material-threshold", strconv.Itoa(p.Support))
	}
	if p.Keep {
		args = append(args, "--dont-arrange")
	}
	args = append(args, p.Options...)
	run(t, "prusa-slicer", append(args, path)...)
	f, err := os.Open(code)
	if err != nil {
		t.Fatalf("%s: the slicer made no file", path)
	}
	defer f.Close()
	s, err := readGcode(f)
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	return s
}

// readGcode adds up the extruder's moves (absolute E, reset by G92) under the
// kind of path last named, and reads the slicer's own totals from the comments.
func readGcode(r io.Reader) (Sliced, error) {
	out := Sliced{Filament: map[string]float64{}}
	var e float64
	kind := ""
	in := bufio.NewScanner(r)
	in.Buffer(nil, 1<<20) // the settings at the end have long lines
	for in.Scan() {
		line := in.Text()
		switch {
		case strings.HasPrefix(line, ";TYPE:"):
			kind = strings.TrimPrefix(line, ";TYPE:")
		case strings.HasPrefix(line, "; filament used [g] = "):
			out.Grams, _ = strconv.ParseFloat(line[len("; filament used [g] = "):], 64)
		case strings.HasPrefix(line, "; estimated printing time (normal mode) = "):
			out.Time = duration(line[len("; estimated printing time (normal mode) = "):])
		case strings.HasPrefix(line, "G92 "):
			if v, ok := word(line, 'E'); ok {
				e = v
			}
		case strings.HasPrefix(line, "G1 "):
			if v, ok := word(line, 'E'); ok {
				out.Filament[kind] += v - e // pulling back and priming cancel
				e = v
			}
		}
	}
	if err := in.Err(); err != nil {
		return out, err
	}
	if !(out.Grams > 0) || out.Time <= 0 {
		return out, fmt.Errorf("the slicer told %g g and %v", out.Grams, out.Time)
	}
	return out, nil
}

// word is the number behind a letter in a line of G-code.
func word(line string, letter byte) (float64, bool) {
	line, _, _ = strings.Cut(line, ";")
	for _, f := range strings.Fields(line) {
		if f[0] == letter {
			v, err := strconv.ParseFloat(f[1:], 64)
			return v, err == nil
		}
	}
	return 0, false
}

// duration reads "1d 2h 3m 4s".
func duration(s string) (d time.Duration) {
	unit := map[string]time.Duration{"d": 24 * time.Hour, "h": time.Hour, "m": time.Minute, "s": time.Second}
	for _, m := range regexp.MustCompile(`(\d+)([dhms])`).FindAllStringSubmatch(s, -1) {
		n, _ := strconv.Atoi(m[1])
		d += time.Duration(n) * unit[m[2]]
	}
	return d
}
