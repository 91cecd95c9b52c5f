package export

import (
	"bytes"
	"fmt"
	"html"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"buckwright/generate/check"
	"buckwright/generate/judge"
)

// everything is a page that has one of each thing it can hold.
func everything(t *testing.T) JobSheet {
	t.Helper()
	var dot bytes.Buffer
	if err := png.Encode(&dot, image.NewGray(image.Rect(0, 0, 40, 30))); err != nil {
		t.Fatal(err)
	}
	block := Block{
		Lead: []string{"lead"}, Facts: []Fact{{"name", "value"}}, Cautions: []Caution{{"hot", "the maker"}},
		Figures: []Figure{{"caption", "alternative", dot.Bytes(), false}, {"caption", "alternative", dot.Bytes(), true}},
		Tables: []Table{{
			Caption: "table", Heads: []Head{{Text: "row"}, {"number", Number}, {"reading", Blank}, {"good", Tick}},
			Rows: [][]string{{"first", "1.00", "", ""}, {"second", "2.00", "", ""}}, Notes: []string{"note"}, Dense: true,
		}},
	}
	return JobSheet{
		Kit: "a kit", Lead: "what it is", Made: []Fact{{"made by", "a program"}}, Blanks: []string{"date"},
		About: Section{ID: "about", Title: "About", Block: block},
		Findings: []check.Finding{
			{ID: "one", Severity: check.Stop, Title: "title", Where: "here", Value: "1 mm", LimitText: "at most 0 mm", Source: "source", Fix: "do that", Key: "key"},
			{ID: "two", Severity: check.Warn, Title: "title", Where: "there", Value: "2 mm", LimitText: "none", Source: "source", Fix: "do that", Key: "key"},
			{ID: "two", Severity: check.Warn, Title: "title", Where: "elsewhere", Value: "3 mm", LimitText: "none", Source: "source", Fix: "do that", Key: "key"},
		},
		Sections: []Section{{ID: "work", Title: "Work", Block: Block{
			NewPage: true, Steps: []Step{{Title: "step", Do: []string{"this", "that"}, Block: block}},
		}}},
	}
}

func written(t *testing.T, s JobSheet) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJobSheet(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

var tag = regexp.MustCompile(`<[^>]*>`)

// tagNames is the page's structure: the elements without their attributes.
func tagNames(page string) string {
	var names []string
	for _, m := range tag.FindAllString(page, -1) {
		names = append(names, strings.FieldsFunc(m, func(c rune) bool { return c == ' ' || c == '<' || c == '>' })[0])
	}
	return strings.Join(names, " ")
}

// TestEveryTextIsEscaped puts markup in place of every text of the page: its
// structure must not change, and the text must be there to read.
func TestEveryTextIsEscaped(t *testing.T) {
	plain := tagNames(written(t, everything(t)))
	for _, evil := range []string{
		`</title></style><script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `'"--><svg onload=alert(1)>`,
		`{{.Kit}} ${x} </td></tr></table>`, "a & b < c > d", "\u202Eright to left \u2068", "\U0001F9F0 tools", strings.Repeat("w", 300),
	} {
		s := everything(t)
		n := replaceTexts(reflect.ValueOf(&s).Elem(), evil)
		page := written(t, s)
		if got := tagNames(page); got != plain {
			t.Errorf("%q changes the structure of the page:\n%s\n%s", evil, got, plain)
		}
		if strings.Contains(page, "ZgotmplZ") {
			t.Errorf("%q: a text was taken for code", evil)
		}
		// Some stand in the head and in attributes as well.
		if got := strings.Count(html.UnescapeString(page), evil); got < n {
			t.Errorf("%q stands %d times on the page, put in %d times", evil, got, n)
		}
	}
}

// replaceTexts puts s in place of every text that the page shows; anchors,
// severities, kinds of column and the keys of findings are no such texts.
func replaceTexts(v reflect.Value, s string) (n int) {
	switch v.Kind() {
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.Len() > 0 {
			v.SetString(s)
			n++
		}
	case reflect.Slice:
		if v.Type() == reflect.TypeFor[[]check.Finding]() { // said once for all that one rule found
			all := v.Interface().([]check.Finding)
			for i := range all {
				all[i].Where, all[i].Value = s, s
			}
			return 2 * len(all)
		}
		for i := range v.Len() {
			n += replaceTexts(v.Index(i), s)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).Name != "ID" {
				n += replaceTexts(v.Field(i), s)
			}
		}
	}
	return n
}

func TestJobSheetNeedsNothingButItself(t *testing.T) {
	page := written(t, everything(t))
	for _, bad := range []string{"<script", "<link", "<iframe", "@import", "url(", "http:", "https:", "javascript:", " on"} {
		for _, m := range tag.FindAllString(page, -1) {
			if strings.Contains(m, bad) {
				t.Errorf("%s in %s", bad, m)
			}
		}
	}
	if !strings.Contains(page, `content="default-src 'none'; style-src 'unsafe-inline'; img-src data:"`) {
		t.Error("no policy forbids script and network")
	}
	if again := written(t, everything(t)); again != page {
		t.Error("the same values give another page")
	}
	if n := strings.Count(page, `<input type="checkbox"`); n != 2+2*2 { // two to do, two tables of two rows
		t.Errorf("%d boxes to tick, want 6", n)
	}
	if !strings.Contains(page, `width="40" height="30"`) {
		t.Error("a picture has no size: the page jumps when it is shown")
	}
}

// TestFindingsOfOneRuleStandTogether: each with its place, what to do said once.
func TestFindingsOfOneRuleStandTogether(t *testing.T) {
	all := everything(t).Findings
	got := groupsOf(all)
	if len(got) != 2 || len(got[1].All) != 2 || got[1].All[0].Fix != "" || got[1].All[1].Fix == "" {
		t.Errorf("groups: %+v", got)
	}
	if all[1].Fix == "" {
		t.Error("grouping changed the findings")
	}
	if got, want := countsOf(all), "1 stop, 2 warnings"; got != want {
		t.Errorf("counts: %q, want %q", got, want)
	}
}

func TestNoFindingIsSaid(t *testing.T) {
	if page := written(t, JobSheet{Kit: "k"}); !strings.Contains(page, "No rule has anything to say") {
		t.Error("a kit without findings does not say so")
	}
}

func TestPictureMustBePNG(t *testing.T) {
	s := everything(t)
	s.About.Figures[0].PNG = []byte("GIF89a")
	if err := WriteJobSheet(&bytes.Buffer{}, s); err == nil || !strings.Contains(err.Error(), "caption") {
		t.Errorf("error %v does not name the picture", err)
	}
}

// TestJudgesAcceptJobSheet: the Nu Html Checker, axe-core and Chromium find
// nothing wrong, with usual and with awkward texts.
func TestJudgesAcceptJobSheet(t *testing.T) {
	awkward := everything(t)
	replaceTexts(reflect.ValueOf(&awkward).Elem(), `A word of "><b>'& and of `+strings.Repeat("tolerance", 33))
	awkward.Sections[0].Title = "another" // chapters have names of their own
	for name, s := range map[string]JobSheet{"usual": everything(t), "awkward": awkward} {
		path := filepath.Join(t.TempDir(), "page.html")
		if err := os.WriteFile(path, []byte(written(t, s)), 0o644); err != nil {
			t.Fatal(err)
		}
		if got := judge.Markup(t, path); len(got) > 0 {
			t.Errorf("%s: %s", name, strings.Join(got, "\n"))
		}
		if p := judge.Browser(t, path, t.TempDir()).Problem(); p != "" {
			t.Errorf("%s: %s", name, p)
		}
	}
}

func BenchmarkJobSheet(b *testing.B) {
	s := JobSheet{Kit: "k"}
	for i := range 20 {
		t := Table{Heads: []Head{{Text: "a"}, {Text: "b"}, {"c", Tick}}}
		for j := range 20 {
			t.Rows = append(t.Rows, []string{fmt.Sprint(i), fmt.Sprint(j), ""})
		}
		s.Sections = append(s.Sections, Section{ID: fmt.Sprint("s", i), Title: "t", Block: Block{Tables: []Table{t}}})
	}
	for b.Loop() {
		if err := WriteJobSheet(&bytes.Buffer{}, s); err != nil {
			b.Fatal(err)
		}
	}
}
