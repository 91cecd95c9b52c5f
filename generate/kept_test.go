package generate

import (
	"slices"
	"testing"
)

// A part that PartNames leaves out could not be asked for by name.
func TestEveryPartHasItsName(t *testing.T) {
	r := previewOf(t, "kit.yaml", []byte(gaugeKit+"press: {nest: yes}\n"))
	var planned []string
	for _, p := range r.Parts {
		planned = append(planned, p.Name)
	}
	if want := PartNames(); !slices.Equal(planned, want) {
		t.Errorf("parts are planned as %v, and PartNames has %v", planned, want)
	}
}
