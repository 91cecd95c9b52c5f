package export

import (
	"bytes"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image/png"
	"io"
	"strings"

	"buckwright/generate/check"
)

// JobSheet is the page that a maker works from, in the order it is read. It is
// text alone: whoever fills it in has done the sums and chosen the digits.
// What has no entries is left out of the page.
type JobSheet struct {
	Kit      string
	Lead     string   // one sentence: what the page is
	Made     []Fact   // by which program, from which inputs
	Blanks   []string // labels of lines to be filled in by hand
	About    Section
	Findings []check.Finding
	Frame    string // how places in findings are measured; "" when it need not be said
	Sections []Section
}

// Section is one chapter. ID is its anchor: lower-case letters and dashes,
// unique on the page.
type Section struct {
	ID, Title string
	Block
}

// Block is what a chapter or a step holds, in this order.
type Block struct {
	Lead     []string // paragraphs
	Facts    []Fact
	Cautions []Caution
	Figures  []Figure
	Tables   []Table
	Steps    []Step
	NewPage  bool // starts a sheet of paper of its own
}

// Fact is a value under its name: "trim height", "26.1 mm".
type Fact struct{ Name, Value string }

// Caution says what can hurt and who has the last word on it.
type Caution struct{ Text, Defer string }

// Step is one piece of work; each line of Do has a box to tick.
type Step struct {
	Title string
	Do    []string
	Block
}

// Table is rows under heads. The first column names the row.
type Table struct {
	Caption string
	Heads   []Head
	Rows    [][]string
	Notes   []string // under it, numbered from 1
	Dense   bool     // in smaller type, for tables that are looked up rather than read
}

// Head is the head of a column.
type Head struct {
	Text string
	Kind ColumnKind
}

// ColumnKind is how a column is set.
type ColumnKind string

// The kinds of column.
const (
	Words  ColumnKind = ""
	Number ColumnKind = "number"
	Blank  ColumnKind = "blank" // room to write in
	Tick   ColumnKind = "tick"  // a box to tick, named by its row
)

// Figure is one picture. Alt says what is on it to someone who does not see it.
type Figure struct {
	Caption, Alt string
	PNG          []byte
	Wide         bool // as wide as the page, to be read rather than looked at
}

//go:embed jobsheet.html.tmpl
var jobSheetPage string

// WriteJobSheet writes s as one HTML page that needs nothing but itself: no
// script, no file, no network. Every text is escaped where it stands. The same
// values give the same bytes. It fails on a picture that is no PNG.
func WriteJobSheet(w io.Writer, s JobSheet) error {
	page, err := template.New("job sheet").Funcs(template.FuncMap{
		"picture": pictureOf, "severity": severityOf, "counts": countsOf, "whole": whole, "limit": limitOf, "groups": groupsOf, "under": under, "inc": func(i int) int { return i + 1 },
	}).Parse(jobSheetPage)
	if err != nil {
		return fmt.Errorf("job sheet: %w", err)
	}
	var out bytes.Buffer
	if err := page.Execute(&out, s); err != nil {
		return fmt.Errorf("job sheet: %w", err)
	}
	_, err = w.Write(out.Bytes())
	return err
}

// embedded is a picture as a page holds it, with its size so that the text
// does not jump when it is shown.
type embedded struct {
	Src           template.URL
	Width, Height int
}

func pictureOf(f Figure) (embedded, error) {
	c, err := png.DecodeConfig(bytes.NewReader(f.PNG))
	if err != nil {
		return embedded{}, fmt.Errorf("picture %q: %w", f.Caption, err)
	}
	// The URL is of base64's alphabet only, whatever the picture holds.
	src := "data:image/png;base64," + base64.StdEncoding.EncodeToString(f.PNG)
	return embedded{template.URL(src), c.Width, c.Height}, nil
}

// severityOf is the word on the page for a finding's severity.
func severityOf(s check.Severity) string {
	switch s {
	case check.Stop:
		return "Stop"
	case check.Warn:
		return "Warning"
	}
	return "Note"
}

// group is what one rule found, all of one severity.
type group struct {
	check.Finding // the first, for what all have in common
	All           []check.Finding
}

// groupsOf joins neighbours of one rule and severity. Where several ask for
// the same work, only the last says it.
func groupsOf(all []check.Finding) (out []group) {
	for _, f := range all {
		last := len(out) - 1
		if last < 0 || out[last].ID != f.ID || out[last].Severity != f.Severity || out[last].Source != f.Source {
			out = append(out, group{f, []check.Finding{f}})
			continue
		}
		before := &out[last].All[len(out[last].All)-1]
		if before.Fix == f.Fix {
			before.Fix = ""
		}
		out[last].All = append(out[last].All, f)
	}
	return out
}

// whole reports whether a table is kept on one sheet of paper: a head without
// rows under it is no use, and so short a table leaves no large gap. Notes take room too.
func whole(t Table) bool { return len(t.Rows)+len(t.Notes) <= 18 }

// limitOf is how a finding's limit is said after its value; "" when there is none.
func limitOf(text string) string {
	switch {
	case text == "none":
		return ""
	case strings.HasPrefix(text, "at "): // at least, at most
		return "limit " + text
	}
	return text
}

// countsOf says how many findings there are of each severity.
func countsOf(all []check.Finding) string {
	var parts []string
	for _, s := range []check.Severity{check.Stop, check.Warn, check.Note} {
		n := 0
		for _, f := range all {
			if f.Severity == s {
				n++
			}
		}
		if n == 0 {
			continue
		}
		word := strings.ToLower(severityOf(s))
		if n > 1 {
			word += "s"
		}
		parts = append(parts, fmt.Sprintf("%d %s", n, word))
	}
	return strings.Join(parts, ", ")
}

// level is a block that knows its chapter.
type level struct {
	Block
	Prefix string // of the IDs of its steps
}

func under(id string, b Block) level { return level{b, id} }
