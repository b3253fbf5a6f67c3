package main

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"mudline/internal/words"
)

// progress shows how far the reading is, on a terminal only.
type progress struct {
	out   io.Writer
	l     *words.Language
	bar   *progressbar.ProgressBar
	start time.Time
}

func newProgress(stderr io.Writer, l *words.Language) *progress {
	stderr = raw(stderr)
	if f, ok := stderr.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return &progress{out: stderr, l: l}
	}
	return &progress{}
}

// step is called as each photo is done.
func (p *progress) step(done, total int) {
	if p.out == nil {
		return
	}
	if p.bar == nil {
		p.start = time.Now()
		// 80 columns hold it all.
		p.bar = progressbar.NewOptions(total, progressbar.OptionSetWriter(p.out), progressbar.OptionSetWidth(24), progressbar.OptionShowCount(),
			progressbar.OptionSetPredictTime(false), progressbar.OptionSetElapsedTime(false), progressbar.OptionClearOnFinish())
	}
	p.bar.Describe(remaining(done, total, time.Since(p.start), p.l))
	// A progress bar that cannot be drawn is no reason to stop.
	_ = p.bar.Set(done)
}

// remaining says how long the rest takes at the speed so far, once that is known.
func remaining(done, total int, spent time.Duration, l *words.Language) string {
	const known = 5 * time.Second
	if done < 2 || spent < known {
		return l.Text("command.reading")
	}
	left := time.Duration(float64(spent) * float64(total-done) / float64(done))
	if left > 2*time.Minute {
		left = left.Round(time.Minute)
	}
	return l.Text("command.reading-left", words.After("time", max(left, time.Second)))
}

func (p *progress) finish() {
	if p.bar != nil {
		_ = p.bar.Finish()
	}
}
