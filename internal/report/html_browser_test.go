package report_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/report"
)

func TestMain(m *testing.M) { os.Exit(browsertest.Run(m)) }

// TestReportInBrowser opens reports from the disk in Chromium.
// MUDLINE_PICTURES=folder leaves screenshots and PDF files to look at.
func TestReportInBrowser(t *testing.T) {
	full := inputOf(t, "open-11")
	long := strings.Repeat("w", 200)
	refused := report.RefusedInput(long, &reading.Refusal{Code: reading.TooDark, Text: "a.jpg: the picture is too dark", Remedy: "take it again in daylight"}, nil, report.Options{})
	refused.Result.Scenes = []jar.Scene{{File: long + ".jpg", Picture: full.Result.Scenes[0].Picture}}
	full.Result.Reading.Photos[0].File, full.Result.Scenes[0].File = long+".jpg", long+".jpg"
	for _, c := range []struct {
		name   string
		in     report.ReportInput
		sheets map[browsertest.Paper]int
	}{
		{"full", full, map[browsertest.Paper]int{browsertest.A4: 8, browsertest.Letter: 8}},
		{"refused", refused, map[browsertest.Paper]int{browsertest.A4: 1, browsertest.Letter: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), "report ü #1.html")
			require.NoError(t, os.WriteFile(file, []byte(page(t, c.in)), 0o644))
			for _, v := range []struct {
				name string
				view browsertest.View
			}{
				{"desktop", browsertest.View{Width: 1280, Height: 800}},
				{"dark", browsertest.View{Width: 1280, Height: 800, Dark: true}},
				{"phone", browsertest.View{Width: 320, Height: 640}},
				{"dark-phone", browsertest.View{Width: 320, Height: 640, Dark: true}},
				{"large-text", browsertest.View{Width: 640, Height: 800, Text: 2}},
			} {
				p := browsertest.OpenFile(t, file, v.view)
				assert.Zero(t, p.Sideways(), "%s: the page scrolls sideways", v.name)
				keep(t, c.name+"-"+v.name+".png", p.Screenshot)
				if v.name == "desktop" {
					for paper, want := range c.sheets {
						pdf, sheets := p.Print(paper)
						t.Logf("%d sheets of %s", sheets, paper.Name)
						assert.LessOrEqual(t, sheets, want, "sheets of %s", paper.Name)
						keep(t, c.name+"-"+paper.Name+".pdf", func() []byte { return pdf })
						// The summary stands alone: it is the first sheet, and no more than that.
						browsertest.Eval[bool](p, `document.querySelectorAll(".appendix").forEach((e) => { e.hidden = true; }), true`)
						_, first := p.Print(paper)
						browsertest.Eval[bool](p, `document.querySelectorAll(".appendix").forEach((e) => { e.hidden = false; }), true`)
						assert.Equal(t, 1, first, "sheets of the summary on %s", paper.Name)
					}
				}
				assert.Empty(t, p.Barriers(), v.name)
				assert.Empty(t, p.Faults(), v.name)
				assert.Len(t, p.Requests(), 1, "%s: the page asks for itself alone", v.name)
			}
		})
	}
}

// keep leaves something to look at where MUDLINE_PICTURES names a folder.
func keep(t *testing.T, name string, data func() []byte) {
	t.Helper()
	if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data(), 0o644))
	}
}
