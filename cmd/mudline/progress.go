package main

import (
	"io"
	"os"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progress shows how far the reading is, on a terminal only.
type progress struct {
	out io.Writer
	bar *progressbar.ProgressBar
}

func newProgress(stderr io.Writer) *progress {
	if f, ok := stderr.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return &progress{out: stderr}
	}
	return &progress{}
}

// step is called as each photo is done.
func (p *progress) step(done, total int) {
	if p.out == nil {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(p.out),
			progressbar.OptionSetDescription("reading"), progressbar.OptionClearOnFinish())
	}
	// A progress bar that cannot be drawn is no reason to stop.
	_ = p.bar.Set(done)
}

func (p *progress) finish() {
	if p.bar != nil {
		_ = p.bar.Finish()
	}
}
