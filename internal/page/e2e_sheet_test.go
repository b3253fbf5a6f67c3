package page_test

import (
	"bytes"
	"image"
	"image/draw"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging/sheetmark"
	"mudline/internal/browsertest"
)

// The sheet that the page prints fills one sheet of paper, at its true size, and is
// found again in it.
func TestThePagePrintsTheSheet(t *testing.T) {
	s := open(t, browsertest.View{Width: 1280, Height: 800, Language: "en-GB", Zone: "Europe/London"})
	browsertest.Eval[bool](s.Page, `(async () => {
		const store = await import("/js/store.js");
		const jar = await store.create({ name: "plot 7" });
		location.hash = "#/jar/" + jar.id + "/sheet";
		return true;
	})()`)
	s.at("/jar/[^/]+/sheet")
	s.Wait("the sheet", "document.querySelector('img.sheet')?.naturalWidth > 0 && document.querySelector('link[href=\"sheet.css\"]')?.sheet")
	pdf, sheets := s.Print(browsertest.A4)
	assert.Equal(t, 1, sheets)
	s.clean()

	renderer := browsertest.Program(t, "pdftoppm", "poppler-utils")
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "sheet.pdf"), pdf, 0o600))
	out, err := exec.Command(renderer, "-r", "150", "-png", filepath.Join(dir, "sheet.pdf"), filepath.Join(dir, "page")).CombinedOutput()
	require.NoError(t, err, string(out))
	pages, err := filepath.Glob(filepath.Join(dir, "page*.png"))
	require.NoError(t, err)
	require.Len(t, pages, 1)
	data, err := os.ReadFile(pages[0])
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	pic := image.NewRGBA(img.Bounds())
	draw.Draw(pic, pic.Rect, img, image.Point{}, draw.Src)
	if folder := os.Getenv("MUDLINE_PICTURES"); folder != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, "sheet.printed.png"), data, 0o644))
	}
	found, _ := sheetmark.Find(pic, sheetmark.LensOf(40, pic.Rect.Dx(), pic.Rect.Dy()))
	require.Len(t, found, 1)
	assert.Len(t, found[0].Seen, sheetmark.Marks)
	name, ok := found[0].Name()
	assert.True(t, ok)
	assert.Equal(t, "plot 7", name)
	// Two marks far apart on paper: their distance, within 0.3 mm.
	a, b := found[0].Stand.Picture(sheetmark.Mark(0)), found[0].Stand.Picture(sheetmark.Mark(sheetmark.Marks-1))
	p, q := sheetmark.Mark(0), sheetmark.Mark(sheetmark.Marks-1)
	assert.InDelta(t, math.Hypot(p.X-q.X, p.Y-q.Y), math.Hypot(a.X-b.X, a.Y-b.Y)/150*25.4, 0.3)
}
