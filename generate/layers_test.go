package generate_test

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is the architecture. Anything not listed here is not allowed.
var mayImport = map[string]string{
	"generate/geom":          "",
	"generate/sdf":           "generate/geom",
	"generate/mesh":          "generate/geom generate/sdf",
	"generate/mesh/meshfile": "generate/geom generate/mesh",
	"generate/outline":       "generate/geom",
	"params":                 "",
	"templates":              "params",
	"generate/fit":           "generate/geom params",
	"generate/solid":         "generate/geom generate/sdf generate/fit",
	"generate/forming":       "generate/geom generate/mesh generate/fit",
	"generate/check":         "generate/geom generate/fit generate/mesh generate/forming params",
	"generate/estimate":      "generate/geom generate/mesh generate/fit",
	"generate/pattern":       "generate/geom generate/sdf generate/mesh generate/fit",
	"generate/export":        "generate/geom generate/mesh generate/check generate/pattern",
	"generate/picture":       "generate/geom generate/mesh",
	"generate/store":         "",
}

// tradeWords may not stand in the kernel, which knows points, fields and triangles.
var tradeWords = []string{"draft", "vent", "felt", "buck", "liner", "insert", "pocket", "lid", "sheet metal"}

// The files are opened here rather than asked of "go list" so that the test
// cache sees them: a cached pass would hide a new import.
func TestImportsFollowTheData(t *testing.T) {
	const module = "buckwright/"
	for pkg, list := range mayImport {
		files := sources(t, pkg)
		if len(files) == 0 {
			t.Errorf("%s: no Go files", pkg)
		}
		for _, file := range files {
			f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
			if err != nil {
				t.Fatal(err)
			}
			for _, imp := range f.Imports {
				path, _ := strconv.Unquote(imp.Path.Value)
				to, ours := strings.CutPrefix(path, module)
				if ours && !slices.Contains(strings.Fields(list), to) {
					t.Errorf("%s imports %s", file, to)
				}
			}
		}
	}
}

func TestKernelKnowsNoTradeWord(t *testing.T) {
	for _, pkg := range []string{"generate/geom", "generate/sdf", "generate/mesh"} {
		for _, file := range sources(t, pkg) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			words := strings.FieldsFunc(strings.ToLower(string(src)), func(r rune) bool { return r < 'a' || r > 'z' })
			for _, w := range tradeWords {
				if slices.Contains(words, w) {
					t.Errorf("%s says %q", file, w)
				}
			}
		}
	}
}

// sources lists a package's Go files, tests aside.
func sources(t *testing.T, pkg string) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join("..", pkg, "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	return slices.DeleteFunc(all, func(f string) bool { return strings.HasSuffix(f, "_test.go") })
}
