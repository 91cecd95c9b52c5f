package main

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// namedKit is a small kit with these texts in it.
func namedKit(kit, item, title string) string {
	quoted := func(s string) string { b, _ := json.Marshal(s); return string(b) }
	return fmt.Sprintf(`kit: %s
items:
  - {name: %s, shape: {box: {size: [30, 20, 12]}}, depth: 8, mass: 20, notch: front}
sheet: {material: abs, gauge: 1.0}
materials: {sheet: {abs: {title: %s}}}
`, quoted(kit), quoted(item), quoted(title))
}

// deepFolder is where the tests stand: six folders below one that is watched.
func deepFolder(t *testing.T) (watched string) {
	t.Helper()
	watched = t.TempDir()
	here := filepath.Join(watched, "1", "2", "3", "4", "5", "6")
	if err := os.MkdirAll(here, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Chdir(here)
	return watched
}

// files lists all files and folders under root.
func files(t *testing.T, root string) (all []string) {
	t.Helper()
	err := filepath.WalkDir(root, func(p string, _ fs.DirEntry, err error) error {
		all = append(all, p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// TestBadNamesAreRefused: names that no file can have, or that lead elsewhere,
// are answered with their place and a hint, and nothing is written anywhere.
func TestBadNamesAreRefused(t *testing.T) {
	watched := deepFolder(t)
	bad := []string{
		"../../x", "..", ".", "/etc/x", "a/b", `a\b`, `C:\x`, `a"b`, "a'b", "a`b", "-o", "--force", "%s", "$HOME", "a;b", "a|b", "a*b", "a?b",
		"<script>alert(1)</script>", "CON", "nul.txt", " a", "a ", "a  b", "", "kit \U0001F9F0", "a\u202Eb", "a\u200Bb", "a\u0000b", "a\nb", "...",
		strings.Repeat("w", 300), strings.Repeat("\u05DE", 300),
	}
	for _, name := range bad {
		for what, kit := range map[string]string{"kit": namedKit(name, "a", "ABS"), "items[0].name": namedKit("a", name, "ABS")} {
			if err := os.WriteFile("k.yaml", []byte(kit), 0o644); err != nil {
				t.Fatal(err)
			}
			before := files(t, watched)
			code, out, errs := call(t, "make", "k.yaml", "--quality", "draft", "--parts", "base")
			if code != exitUsage || !strings.Contains(errs, "hint: ") || out != "" {
				t.Errorf("%s %.40q: exit %d, want %d; %s%s", what, name, code, exitUsage, out, errs)
			}
			if !strings.Contains(errs, what) && !strings.Contains(errs, "k.yaml:") {
				t.Errorf("%s %.40q: the message does not say where: %s", what, name, errs)
			}
			if after := files(t, watched); !slices.Equal(before, after) {
				t.Errorf("%s %.40q: files were made: %v", what, name, after)
			}
		}
	}
}

// TestAwkwardNamesAreKept: names in other scripts and titles that are markup
// are used as they are, in file names and on the page, and nothing is written
// outside the output folder.
func TestAwkwardNamesAreKept(t *testing.T) {
	watched := deepFolder(t)
	const name, item, title = "מד-גאות", "प्रोब 2", `</style><script>alert("1")</script>`
	if err := os.WriteFile("k.yaml", []byte(namedKit(name, item, title)), 0o644); err != nil {
		t.Fatal(err)
	}
	before := files(t, watched)
	if code, _, errs := call(t, "make", "k.yaml", "--quality", "draft", "--parts", "base"); code != exitOK {
		t.Fatalf("exit %d: %s", code, errs)
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(here, "out")
	for _, f := range files(t, watched) {
		if !slices.Contains(before, f) && f != out && !strings.HasPrefix(f, out+string(filepath.Separator)) {
			t.Errorf("%s was made outside the output folder", f)
		}
	}
	page, err := os.ReadFile(filepath.Join(out, name, "job-sheet.html"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"<bdi>" + name + "</bdi>", item, "&lt;script&gt;"} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the job sheet does not show %q", want)
		}
	}
	if strings.Contains(string(page), "<script") {
		t.Error("a title became a script")
	}
}
