package generate

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"buckwright/generate/export"
)

// TestChlorineIsCutWithAKnife: with a laser in the kit, no row of the cut list
// names a laser for what gives hydrogen chloride, and what is lasered has the
// laser's own cautions.
func TestChlorineIsCutWithAKnife(t *testing.T) {
	r := previewOf(t, "a.yaml", []byte(oneItem+"sheet: {material: pvc}\nlabel: {material: vinyl}\ncutter: {kind: laser, kerf: 0.2}\n"))
	const with = 4
	never := 0
	for i, row := range r.cutTable().Rows {
		if !r.Flats[i].Material.Chlorinated {
			continue
		}
		never++
		if row[with] != "knife, never a laser" {
			t.Errorf("%s, %s: with %q", row[0], row[2], row[with])
		}
	}
	if never < 3 {
		t.Errorf("%d flats hold chlorine; the sheet, the label and the pad should", never)
	}
	for _, f := range r.flatFacts() {
		if strings.HasPrefix(f.Name, "label") && f.Refused == "" {
			t.Error("the finding on the label is gone")
		}
	}
	cautions := func(r *Result) string {
		var all []string
		for _, c := range r.cutCautions() {
			all = append(all, c.Text, c.Defer)
		}
		return strings.Join(all, "\n")
	}
	const own = "never leave it alone while it runs"
	if got := cautions(r); !strings.Contains(got, own) || !strings.Contains(got, "extinguisher") || !strings.Contains(got, "eyewear") || !strings.Contains(got, "extraction") {
		t.Errorf("felt is lasered, and the cautions are %s", got)
	}
	if got := cautions(previewOf(t, "a.yaml", []byte(oneItem))); strings.Contains(got, own) {
		t.Error("a kit cut by knife has the laser's cautions")
	}
	const foul = "hydrogen cyanide"
	for kit, want := range map[string]bool{
		"sheet: {material: abs}\ncutter: laser\n": true, "sheet: {material: petg}\ncutter: laser\n": false,
		"sheet: {material: abs}\ncutter: {kind: laser, knife: [sheet]}\n": false,
	} {
		if got := strings.Contains(cautions(previewOf(t, "a.yaml", []byte(oneItem+kit))), foul); got != want {
			t.Errorf("%q: the caution on the sheet's smoke is there: %v, want %v", kit, got, want)
		}
	}
}

// TestTongueIsBentWithinItsStrain: the bend that the sheet asks for, as a
// cantilever's strain (1.5 t y/L², Roark), is what the filament bears often.
func TestTongueIsBentWithinItsStrain(t *testing.T) {
	for _, kit := range []string{"printer: {tolerance: 0.1}\n", "printer: {material: pla, tolerance: 0.05}\n", "printer: {material: abs, tolerance: 0.1}\nshell: {wall: 1.6}\n"} {
		r := previewOf(t, "a.yaml", []byte(oneItem+"closure: {kind: catch}\n"+kit))
		m := regexp.MustCompile(`tongue of the lid outwards by ([0-9.]+)`).FindStringSubmatch(strings.Join(r.printSteps()[0].Do, "\n"))
		if m == nil {
			t.Fatal("no tongue is bent")
		}
		y, err := strconv.ParseFloat(m[1], 64)
		l := r.Dims.Closure.TongueL
		if strain := 1.5 * r.Dims.Lid.Wall * y / (l * l); err != nil || !(strain <= r.row("catch.safe")) {
			t.Errorf("%s: bent by %g mm a tongue is strained by %.2f %%, and bears %.2f %%", kit, y, 100*strain, 100*r.row("catch.safe"))
		}
	}
}

// TestAssemblyCanBeDoneInItsOrder: the line is scribed while there is a flange to
// stand the band on, and the insert is washed, and the cement tried, before
// any is spread.
func TestAssemblyCanBeDoneInItsOrder(t *testing.T) {
	for _, kit := range []string{"liner: {wrap: pockets}\n", "liner: {wrap: skirt}\n"} {
		r := previewOf(t, "a.yaml", []byte(oneItem+kit))
		var lines []string
		var cautions []export.Caution
		for _, s := range r.assembleSection(pictures{}).Steps {
			lines = append(lines, s.Do...)
			for _, c := range s.Cautions {
				if strings.Contains(c.Defer, "cement") {
					cautions = append(cautions, c)
				}
			}
		}
		text := strings.Join(lines, "\n")
		last := -1
		for _, s := range []string{"scribe the line", "Cut the flange off", "Stand the insert on its rim", "cut along the scribed line", "Wash the insert", "Try the cement", "cement thinly"} {
			at := strings.Index(text, s)
			if at < last || at < 0 {
				t.Errorf("%s: %q comes at %d, after %d", kit, s, at, last)
			}
			last = at
		}
		if len(cautions) == 0 || cautions[0] != solventCaution(true) {
			t.Errorf("%s: the first tin of cement is opened without the whole caution", kit)
		}
	}
}

// TestBuyNamesWhatIsUsed: the cement holds all that it joins, and the trim
// step's screw, washer and blade are on the list.
func TestBuyNamesWhatIsUsed(t *testing.T) {
	r := previewOf(t, "a.yaml", []byte(oneItem+"printer: {material: petg}\nsheet: {material: abs}\n"))
	var all []string
	for _, row := range r.buyTable().Rows {
		all = append(all, row[0])
	}
	list := strings.Join(all, "\n")
	for _, s := range []string{"M4 screw", "washer", "trimming blade, 0.6", "felt, sponge, ABS sheet", "PETG prints"} {
		if !strings.Contains(list, s) {
			t.Errorf("no %q is bought: %s", s, list)
		}
	}
}

// TestNoPictureSaysThatTheSheetIsPrinted: the insert is formed and trimmed.
func TestNoPictureSaysThatTheSheetIsPrinted(t *testing.T) {
	for name, printed := range map[string]bool{"part-insert": false, "part-formed-insert": false, "part-base": true, "part-trim-guide": true} {
		if text := pictureText(name); strings.Contains(text, "printed") != printed {
			t.Errorf("%s is called %q", name, text)
		}
	}
}
