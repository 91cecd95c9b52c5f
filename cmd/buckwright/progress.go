package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"

	"golang.org/x/term"
)

// progress shows how far a run has come: on a terminal one line that is
// rewritten, elsewhere one plain line a stage. It may be called from several
// goroutines.
type progress struct {
	mu    sync.Mutex
	w     io.Writer
	live  bool // w is a terminal
	wide  int  // columns of the terminal
	stage string
	drawn bool // a live line stands on the screen
	done  float64
	over  bool // nothing more is told
}

func newProgress(w io.Writer) *progress {
	p := &progress{w: w, wide: 80}
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		p.live = os.Getenv("TERM") != "dumb"
		if wide, _, err := term.GetSize(int(f.Fd())); err == nil && wide > 0 {
			p.wide = wide
		}
	}
	return p
}

// report takes the stage and how much of the whole is done, 0 to 1. The share on the
// screen never goes down.
func (p *progress) report(stage string, done float64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.over {
		return
	}
	if done > p.done && done <= 1 {
		p.done = done
	}
	if p.live {
		p.draw(stage)
	} else if stage != p.stage {
		fmt.Fprintf(p.w, "%3.0f %%  %s\n", 100*p.done, stage)
	}
	p.stage = stage
}

const barCells = 24

func (p *progress) draw(stage string) {
	full := int(p.done * barCells)
	line := fmt.Sprintf("[%s%s] %3.0f %%  %s", strings.Repeat("#", full), strings.Repeat(".", barCells-full), 100*p.done, stage)
	if cells := []rune(line); len(cells) >= p.wide {
		line = string(cells[:max(p.wide-1, 0)])
	}
	fmt.Fprint(p.w, "\r\x1b[K"+line)
	p.drawn = true
}

// finish takes the live line off the screen, so that what follows starts clean, and
// tells no more: a run that was given up may still report.
func (p *progress) finish() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.over = true
	if p.drawn {
		fmt.Fprint(p.w, "\r\x1b[K")
		p.drawn = false
	}
}
