package check

import (
	"encoding/json"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"buckwright/generate/fit"
	"buckwright/params"
)

func TestEveryRuleIsDocumented(t *testing.T) {
	id := regexp.MustCompile(`^[a-z][a-z0-9-]*$`) // what the kit file takes as a rule's name
	var keys []string
	for _, k := range params.Keys() {
		keys = append(keys, k.Key)
	}
	seen := map[string]bool{}
	for _, r := range All() {
		if !id.MatchString(r.ID) || seen[r.ID] {
			t.Errorf("%q is no rule name, or used twice", r.ID)
		}
		seen[r.ID] = true
		if r.Title == "" || r.Limit == "" || r.Source == "" || r.Run == nil {
			t.Errorf("%s: no title, limit, source or body", r.ID)
		}
		if !slices.Contains(keys, r.Key) {
			t.Errorf("%s: the kit file has no key %q", r.ID, r.Key)
		}
	}
}

func TestCleanJobIsOnlyTold(t *testing.T) {
	got := Run(clean())
	if len(got) != 1 || got[0].ID != "drop" || Stops(got) {
		t.Errorf("clean job: %+v, want only the word on drops", got)
	}
}

func TestWorstComeFirst(t *testing.T) {
	j := clean()
	for _, tt := range ruleCases() {
		tt.trip(j)
	}
	got := Run(j)
	order := map[string]int{}
	for i, r := range All() {
		order[r.ID] = i
	}
	for i := 1; i < len(got); i++ {
		a, b := got[i-1], got[i]
		if a.Severity.rank() > b.Severity.rank() || a.Severity == b.Severity && order[a.ID] > order[b.ID] {
			t.Errorf("%s %s comes before %s %s", a.Severity, a.ID, b.Severity, b.ID)
		}
	}
	if !Stops(got) {
		t.Error("Stops = false of a job with everything wrong")
	}
	if again := Run(j); !reflect.DeepEqual(got, again) {
		t.Error("the same job gives other findings the second time")
	}
}

func TestRunLeavesTheJobAlone(t *testing.T) {
	j, want := clean(), clean()
	Run(j)
	if !reflect.DeepEqual(j, want) {
		t.Error("a rule changed the job")
	}
}

func TestNaNNeverPasses(t *testing.T) {
	if least(Warn, MM, "", math.NaN(), 1, "") == nil || most(Warn, MM, "", math.NaN(), 1, "") == nil {
		t.Error("a value that is not a number passed its limit")
	}
}

func TestValueAndLimitReadApart(t *testing.T) {
	for _, tt := range []struct {
		u           Unit
		v, limit    float64
		value, want string
	}{
		{MM, 2.999, 3, "2.999 mm", "3 mm"},
		{MM, 2.9, 3, "2.9 mm", "3 mm"},
		{Degree, 2.96, 3, "2.96°", "3°"},
		{Newton, 300.2, 300, "300.2 N", "300 N"},
		{Share, -0.0001, 0, "-0.01 %", "0 %"},
		{MM, 120, 100, "120 mm", "100 mm"},
		{MM2, math.Inf(1), 400, "no end of mm²", "400 mm²"},
	} {
		if v, l := tt.u.texts(tt.v, tt.limit); v != tt.value || l != tt.want {
			t.Errorf("%s.texts(%g, %g) = %q, %q, want %q, %q", tt.u, tt.v, tt.limit, v, l, tt.value, tt.want)
		}
	}
}

func TestUnknownLimits(t *testing.T) {
	k := &params.Kit{Limits: map[string]float64{"rib": 2, "ribs": 2, "laser": 1, "draft": 2}}
	if got, want := UnknownLimits(k), []string{"draft", "laser", "ribs"}; !slices.Equal(got, want) {
		t.Errorf("UnknownLimits = %v, want %v", got, want)
	}
}

func TestFindingAsJSON(t *testing.T) {
	out, err := json.Marshal(Run(clean())[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"id", "severity", "where", "value", "limit", "source", "fix"} {
		if !strings.Contains(string(out), `"`+key+`":`) {
			t.Errorf("no %s in %s", key, out)
		}
	}
}

// The strip's closed form: 80 kPa on a span of 6 mm, 1.2 mm thick, is 1 MPa.
func TestStrip(t *testing.T) {
	if got := strip(80, 6, 1.2); math.Abs(got-1) > 1e-12 {
		t.Errorf("strip = %g MPa, want 1", got)
	}
}

// Rules about what was predicted say nothing when nothing was.
func TestSilentWithoutAPrediction(t *testing.T) {
	j := clean()
	j.Forming, j.Heat, j.Run, j.Air, j.Maps = nil, nil, nil, nil, nil
	if got := Run(j); len(got) != 1 {
		t.Errorf("%+v, want only the word on drops", got)
	}
}

// ISTA 1A as three reprints give it: a row holds from its mass up.
func TestDropHeight(t *testing.T) {
	for _, tt := range []struct{ mass, want float64 }{{270, 760}, {9999, 760}, {10000, 610}, {19000, 460}, {28000, 310}, {45000, 200}} {
		if got, ok := dropHeight(tt.mass); !ok || got != tt.want {
			t.Errorf("dropHeight(%g g) = %g, %t, want %g", tt.mass, got, ok, tt.want)
		}
	}
	if _, ok := dropHeight(70e3); ok {
		t.Error("dropHeight(70 kg) is beyond the table")
	}
	j := clean()
	j.Kit.Liner.Thickness = 6
	if got := of("drop", Run(j))[0].Number; math.Abs(got-126.7) > 0.05 { // h/d at 6 mm from 760 mm
		t.Errorf("least shock on 6 mm = %.2f G, want 126.7", got)
	}
}

// Energy balance on felt with P0 93.3 kPa: 500 g on 7200 mm² land with 891.9 G on
// 6 mm from 760 mm (worked by hand). An open sponge without a stiff end is gone through.
func TestDropTellsTheHardestLanding(t *testing.T) {
	j := clean()
	j.Kit.Liner.Thickness = 6
	j.Dims.Liner = fit.Law{Felt: true, P: 93.3}
	j.Dims.Items = []fit.ItemDims{
		{Name: "logger", Mass: 500, PlugArea: 7200},
		{Name: "reel", Mass: 700, PlugArea: 7200},
		{Name: "paper"},
	}
	if name, shock := j.hardest(760); name != "logger" || math.Abs(shock-891.9) > .5 {
		t.Errorf("%s lands with %.1f G, want the logger with 891.9", name, shock)
	}
	if got, want := j.landing(760), "; logger, flat on this liner, about 890 G"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	j.Dims.Liner = fit.Law{Open: true, P: 3}
	if got, want := j.landing(760), "; logger goes through this liner"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	j.Dims.Items = j.Dims.Items[2:]
	if got := j.landing(760); got != "" {
		t.Errorf("%q of an item without a mass", got)
	}
}

// What the contact rule advises must do what it says, by its own formula
// tf c / sin(draft).
func TestMoreContactWouldDo(t *testing.T) {
	const height = 8.0
	j := clean()
	text := moreContact(j, height)
	number := func(key string) float64 {
		m := regexp.MustCompile(regexp.QuoteMeta(key) + ` of ([0-9.]+)`).FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("no %s in %q", key, text)
		}
		var v float64
		if err := json.Unmarshal([]byte(m[1]), &v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	band := func(tf, c, draft float64) float64 { return tf * c / math.Sin(draft*math.Pi/180) }
	for name, got := range map[string]float64{
		"draft":       band(2, 0.15, number("pocket.draft")),
		"compression": band(2, number("liner.compression")/100, 3),
		"thickness":   band(number("liner.thickness"), 0.15, 3),
	} {
		if !(got >= height && got < 1.1*height) {
			t.Errorf("the %s of %q gives a band of %.2f mm, want a little over %g", name, text, got, height)
		}
	}
}
