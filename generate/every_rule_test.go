package generate

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"buckwright/generate/check"
)

// Each rule has a kit that trips it and one that it leaves in peace, or that it
// says less of, so that a limit that moves, or a rule that no kit can reach any
// more, is seen. Whether they do is seen where the kits are judged.
func TestEveryRuleIsTrippedAndPassed(t *testing.T) {
	trips, passes := kitOfRule(t, "# want: "), kitOfRule(t, "# want no: ")
	for _, r := range check.All() {
		if trips[r.ID] == "" {
			t.Errorf("%s: no kit trips it", r.ID)
		}
		if passes[r.ID] == "" {
			t.Errorf("%s: no kit just passes it", r.ID)
		}
		delete(trips, r.ID)
		delete(passes, r.ID)
	}
	for _, strangers := range []map[string]string{trips, passes} {
		for id, kit := range strangers {
			t.Errorf("%q, which %s names, is no rule", id, kit)
		}
	}
}

// kitOfRule gives a kit for each rule that a line starting with mark names last:
// `# want: warn web`, `# want no: web`, `# want no: stop web`.
func kitOfRule(t *testing.T, mark string) map[string]string {
	t.Helper()
	kit := map[string]string{}
	for _, dir := range []string{"", "formed/", "made/"} {
		files, err := filepath.Glob("../testdata/check/" + dir + "*.yaml")
		if err != nil || len(files) == 0 {
			t.Fatalf("no kits in %q: %v", dir, err)
		}
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(string(src), "\n") {
				if says, ok := strings.CutPrefix(line, mark); ok {
					kit[says[strings.LastIndex(says, " ")+1:]] = file
				}
			}
		}
	}
	return kit
}
