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
	"unicode"
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

// tradeWords may not stand in the kernel, which knows points, fields and triangles:
// not in a comment, and not as a part of a name.
var tradeWords = []string{
	"buck", "catch", "cement", "clamp", "draft", "felt", "filament", "foam", "former", "insert", "item", "kit", "lid", "liner", "mould", "mold",
	"neoprene", "nozzle", "plastic", "platen", "plug", "pocket", "press", "printer", "skirt", "sponge", "trim", "vacuum", "vent",
}

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
			for n, line := range strings.Split(string(src), "\n") {
				for _, w := range wordsOf(line) {
					if slices.Contains(tradeWords, w) || slices.Contains(tradeWords, strings.TrimSuffix(w, "s")) {
						t.Errorf("%s:%d says %q", file, n+1, w)
					}
				}
			}
		}
	}
	if got := strings.Join(wordsOf("// the feltFloor of BuckVents2, byHTTPLid"), " "); got != "the felt floor of buck vents by httplid" {
		t.Errorf("words: %s", got)
	}
}

// wordsOf are the words of a line, in lower case, those within names too.
func wordsOf(line string) []string {
	var b strings.Builder
	was := ' '
	for _, r := range line {
		switch {
		case !unicode.IsLetter(r):
			b.WriteRune(' ')
		case unicode.IsUpper(r) && unicode.IsLower(was):
			b.WriteRune(' ')
			b.WriteRune(r)
		default:
			b.WriteRune(r)
		}
		was = r
	}
	return strings.Fields(strings.ToLower(b.String()))
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
