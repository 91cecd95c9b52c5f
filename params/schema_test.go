package params

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"
)

// schema compiles what `buckwright schema` prints with an independent validator,
// which also holds it to the meta-schema of draft 2020-12.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	src, err := json.Marshal(Schema())
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(src))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("kit.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("kit.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plainData reads YAML as an editor would, by way of JSON.
func plainData(t *testing.T, src []byte) (any, bool) {
	t.Helper()
	var data any
	if err := yaml.Unmarshal(src, &data); err != nil {
		return nil, false
	}
	js, err := json.Marshal(data)
	if err != nil {
		return nil, false // NaN, or a key that is a list
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(js))
	if err != nil {
		t.Fatal(err)
	}
	return doc, true
}

func TestSchemaAcceptsGoodKits(t *testing.T) {
	s := compiled(t)
	starters, err := filepath.Glob("../templates/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	starters = slices.DeleteFunc(starters, func(f string) bool { return !bytes.Contains(read(t, f), []byte("\nkit: ")) })
	if len(starters) < 2 {
		t.Fatalf("starter kits: %v", starters)
	}
	for _, file := range append(kits(t, "ok"), starters...) {
		data, ok := plainData(t, read(t, file))
		if !ok {
			t.Errorf("%s cannot be read as JSON", file)
			continue
		}
		if err := s.Validate(data); err != nil {
			t.Errorf("%s:\n%v", file, err)
		}
	}
}

// beyondSchema are bad kits that a schema cannot tell from good ones: what YAML
// has lost by then, the range of a number with a unit, sizes seen together,
// names on a list elsewhere.
var beyondSchema = []string{
	"octal", "hex", "underscore", "key-twice", "tag", "two-documents", "alias", "merge", "hidden-character",
	"out-of-range", "huge-number", "share-too-large", "wrong-unit", "unit-case",
	"name-twice", "name-device", "notch-twice", "corner-too-round", "edge-too-round", "capsule-too-short",
	"profile-crossing", "profile-repeat", "profile-spike", "profile-flat", "profile-nothing", "profile-both", "profile-bulge-count", "profile-round", "profile-unit", "profile-layer",
	"revolve-both-sides", "mesh-kind", "test-not-pressed", "layer-over-nozzle", "wall-under-nozzle", "platen-border", "vent-over-bore", "span-reversed",
}

func TestSchemaRefusesBadKits(t *testing.T) {
	s := compiled(t)
	refused := 0
	for _, file := range kits(t, "err") {
		data, ok := plainData(t, read(t, file))
		if !ok {
			continue
		}
		name := strings.TrimSuffix(filepath.Base(file), ".yaml")
		err := s.Validate(data)
		if beyond := slices.Contains(beyondSchema, name); err == nil && !beyond {
			t.Errorf("%s: accepted", name)
		}
		if err != nil {
			refused++
		}
	}
	if refused < 40 {
		t.Errorf("only %d bad kits refused", refused)
	}
}

// Each row must be explained, and each default must be read by its own row.
func TestEveryKeyIsExplained(t *testing.T) {
	keys := Keys()
	seen := map[string]bool{}
	for _, k := range keys {
		if k.Help == "" || seen[k.Key] {
			t.Errorf("%s: help %q, twice %v", k.Key, k.Help, seen[k.Key])
		}
		if k.Need && k.Default != "" {
			t.Errorf("%s must be given and has a default", k.Key)
		}
		seen[k.Key] = true
	}
	for _, key := range []string{"kit", "items[].shape.mesh.up", "items[].notch[].width", "former.platen.pitch", "liner.test.mass", "buck.vent.pin"} {
		if !seen[key] {
			t.Errorf("%s is not among the keys", key)
		}
	}
}
