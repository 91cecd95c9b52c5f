package generate

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"buckwright/generate/check"
	"buckwright/params"
)

// changes are the keys that a finding about a formed kit may give a number for.
var changes = map[string]func(*params.Kit, float64){
	"liner.compression":   func(k *params.Kit, v float64) { k.Liner.Compression = v / 100 },
	"pocket.draft":        func(k *params.Kit, v float64) { k.Pocket.Draft = v },
	"insert.margin":       func(k *params.Kit, v float64) { k.Insert.Margin = v },
	"lid_liner.thickness": func(k *params.Kit, v float64) { k.LidLiner.Thickness = v },
	"press.grip":          func(k *params.Kit, _ float64) { k.Press.Grip = params.GripNone },
}

// The forms that advice takes: a number for a key, a word for one, and a limit.
var (
	adviceNumber = regexp.MustCompile(`([a-z_]+\.[a-z_]+)(?: of (?:about )?([0-9.]+)[ °]|: none)`)
	adviceLimit  = regexp.MustCompile(`limits: {([a-z-]+): ([0-9.]+)}`)
)

// advisedBy is what a fix advises, by its key.
func advisedBy(t *testing.T, fix string) map[string]func(*params.Kit) {
	t.Helper()
	out := map[string]func(*params.Kit){}
	for _, m := range adviceNumber.FindAllStringSubmatch(fix, -1) {
		change := changes[m[1]]
		if change == nil {
			t.Fatalf("%q: nothing is known of %s", fix, m[1])
		}
		to, _ := strconv.ParseFloat(m[2], 64) // none where it is a word
		out[m[1]] = func(k *params.Kit) { change(k, to) }
	}
	for _, m := range adviceLimit.FindAllStringSubmatch(fix, -1) {
		to, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			t.Fatal(err)
		}
		out["limits"] = func(k *params.Kit) { k.Limits = map[string]float64{m[1]: to} }
	}
	return out
}

// findingsOf are those of a kit file with something changed in it first.
func findingsOf(t *testing.T, file string, change func(*params.Kit)) []check.Finding {
	t.Helper()
	in := jobOf(t, file, source(t, file))
	change(in.Kit)
	r, err := Preview(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r.Findings
}

// still is the finding about the same place, if there is one: sizes in its name
// may be others.
func still(all []check.Finding, f check.Finding) *check.Finding {
	of := func(f check.Finding) string { name, _, _ := strings.Cut(f.Where, " ("); return name }
	for _, again := range all {
		if again.ID == f.ID && of(again) == of(f) {
			return &again
		}
	}
	return nil
}

// What is advised, put into the kit, ends the finding when the sheet is formed
// and the liner mapped anew.
func TestFormedAdviceHolds(t *testing.T) {
	if testing.Short() {
		t.Skip("forms kits again and again")
	}
	tried := map[string]bool{}
	for _, name := range []string{"firm-and-loose", "steep-and-lean", "tight", "slack", "crossed-pair", "wide-wings", "pointed-cap"} {
		file := filepath.Join("../testdata/check/formed", name+".yaml")
		for _, f := range findingsOf(t, file, func(*params.Kit) {}) {
			switch f.ID {
			case "contact", "turned-over", "pull-easy", "pull-hard", "push-hard", "rests-high", "liner-pinch", "items-overlap", "pocket-shared", "part-bed", "pad-meets":
			default:
				continue
			}
			if strings.Contains(f.Fix, "may just do it") {
				continue // no promise
			}
			for key, change := range advisedBy(t, f.Fix) {
				tried[f.ID+" "+key] = true
				if again := still(findingsOf(t, file, change), f); again != nil {
					t.Errorf("%s: %s %s %s: %s; with the %s it is still %s, %s", name, f.ID, f.Where, f.Value, f.Fix, key, again.Value, again.LimitText)
				}
			}
		}
	}
	for _, advice := range []string{
		"contact pocket.draft", "contact limits", "turned-over pocket.draft", "pull-easy liner.compression", "pull-hard pocket.draft", "push-hard pocket.draft",
		"push-hard liner.compression", "items-overlap limits", "pocket-shared limits", "part-bed press.grip", "part-bed insert.margin", "pad-meets lid_liner.thickness",
	} {
		if !tried[advice] {
			t.Errorf("no kit is told %s", advice)
		}
	}
}

// Where two findings want a compression in opposite senses, each names the other;
// where no change helps, none is told.
func TestFormedAdviceTellsOfItsPrice(t *testing.T) {
	fix := map[string]string{}
	for _, f := range findingsOf(t, "../testdata/check/formed/firm-and-loose.yaml", func(*params.Kit) {}) {
		fix[f.ID+" "+f.Where] = f.Fix
	}
	for finding, want := range map[string]string{
		"liner-loose liner of logger, loose end, independent errors": "push-hard (the push on logger about 1",
		"push-hard push on logger until it is home":                  "sets off liner-loose (the loose end of logger about -",
		"contact walls of float":                                     "no liner.compression or pocket.draft does it alone",
	} {
		if !strings.Contains(fix[finding], want) {
			t.Errorf("%s says %q, want %q in it", finding, fix[finding], want)
		}
	}
}

func source(t *testing.T, file string) []byte {
	t.Helper()
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return src
}
