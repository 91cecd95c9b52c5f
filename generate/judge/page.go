package judge

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Page is what a browser and its checkers say of an HTML file.
type Page struct {
	Console    []string       // every message
	Requests   []string       // what it asks for beyond itself
	Violations []string       // axe-core's, on a desk's and on a phone's screen
	Checks     int            // of axe-core's that the page passes
	Overflow   []string       // screens it is too wide for
	Broken     []string       // pictures that do not show, by their alternative text
	Sheets     map[string]int // of paper, by format: a4, letter
}

// Browser opens a page in headless Chromium with axe-core. The prints a4.pdf
// and letter.pdf and the screens desk.png and phone.png go to dir.
func Browser(t testing.TB, path, dir string) Page {
	t.Helper()
	find(t, "node")
	find(t, "chromium")
	var p Page
	runJSON(t, &p, "page.mjs", path, dir)
	return p
}

// Problem says what is wrong with the page, or nothing.
func (p Page) Problem() string {
	switch {
	case len(p.Console) > 0:
		return "on the console: " + p.Console[0]
	case len(p.Requests) > 0:
		return "it asks for " + p.Requests[0]
	case len(p.Violations) > 0:
		return fmt.Sprintf("%d accessibility faults, first %s", len(p.Violations), p.Violations[0])
	case p.Checks == 0:
		return "axe-core checked nothing"
	case len(p.Overflow) > 0:
		return "too wide on " + p.Overflow[0]
	case len(p.Broken) > 0:
		return "a picture does not show: " + p.Broken[0]
	case p.Sheets["a4"] == 0 || p.Sheets["letter"] == 0:
		return "it does not print"
	}
	return ""
}

// Markup gives what the Nu Html Checker finds wrong in an HTML file, styles
// included. What it says about a page's own content policy is left out: it holds
// pictures in data: for forbidden where the policy names data:, and Browser sees
// whether pictures are shown. So is its guess at the language of a text.
func Markup(t testing.TB, path string) (messages []string) {
	t.Helper()
	jar := filepath.Join(os.Getenv(Folder), "node_modules/vnu-jar/build/dist/vnu.jar")
	if _, err := os.Stat(jar); err != nil {
		if os.Getenv(Folder) != "" {
			t.Fatal(err)
		}
		t.Skipf("the Nu Html Checker is not there; .ci/run installs it and sets %s", Folder)
	}
	c := exec.Command(find(t, "java"), "-jar", jar, "--format", "json", "--exit-zero-always", "--stdout", path)
	out, err := c.Output()
	if err != nil {
		t.Fatalf("the Nu Html Checker: %v", err)
	}
	var all struct {
		Messages []struct {
			Type, Message string
			LastLine      int
		}
	}
	if err := json.Unmarshal(out, &all); err != nil {
		t.Fatalf("the Nu Html Checker: %v in %q", err, out)
	}
	for _, m := range all.Messages {
		if strings.HasPrefix(m.Message, "Resource violates Content Security Policy") || strings.HasPrefix(m.Message, "This document appears to be written in") {
			continue
		}
		messages = append(messages, fmt.Sprintf("line %d: %s: %s", m.LastLine, m.Type, m.Message))
	}
	return messages
}
