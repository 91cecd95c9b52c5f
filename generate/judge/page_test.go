package judge

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// page writes an HTML file with this body.
func page(t *testing.T, head, body string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.html")
	text := `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>t</title>` + head + `</head><body><main><h1>t</h1>` + body + `</main></body></html>`
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestBrowserDecides: a good page has no problem, each bad one its own.
func TestBrowserDecides(t *testing.T) {
	for _, tt := range []struct{ name, head, body, problem string }{
		{"good", "", "<p>text</p>", ""},
		{"no alternative text", "", `<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">`, "image-alt"},
		{"pale", "", `<p style="color:#ccc;background:#fff">text</p>`, "color-contrast"},
		{"asks", "", `<img alt="x" src="other.png">`, "on the console"},
		{"blocked", `<meta http-equiv="Content-Security-Policy" content="img-src 'none'">`, `<img alt="x" src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">`, "on the console"},
		{"no picture", "", `<img alt="x" src="data:image/gif;base64,R0lG">`, "does not show"},
		{"wide", "", `<div style="width:900px">x</div>`, "too wide on phone"},
	} {
		got := Browser(t, page(t, tt.head, tt.body), t.TempDir()).Problem()
		if (got == "") != (tt.problem == "") || !strings.Contains(got, tt.problem) {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.problem)
		}
	}
}

func TestMarkupDecides(t *testing.T) {
	if got := Markup(t, page(t, "", "<p>text</p>")); len(got) != 0 {
		t.Errorf("a good page: %v", got)
	}
	for _, body := range []string{"<p><div>x</div></p>", `<p id="a">x</p><p id="a">y</p>`, `<p style="colour: red">x</p>`} {
		if got := Markup(t, page(t, "", body)); len(got) == 0 {
			t.Errorf("%s: no message", body)
		}
	}
}
