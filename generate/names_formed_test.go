package generate

import (
	"strings"
	"testing"
)

// One force has one name: what the liner presses with is not called what it
// holds with, and what an upright wall would do is told as such.
func TestFormedForcesAreNamedApart(t *testing.T) {
	r := previewed(t, "../testdata/check/formed/gentle.yaml")
	for _, p := range r.Prediction() {
		if strings.Contains(p.Name, "grip") {
			t.Errorf("%q: a grip is a press, a hold or a pull", p.Name)
		}
	}
	for _, id := range []string{"force.grip.gauge", "contact.gauge"} {
		row, ok := r.Dims.Row(id)
		if !ok || strings.Contains(row.Title, "grip") || !strings.Contains(row.Title, "would") {
			t.Errorf("%s is called %q", id, row.Title)
		}
	}
}
