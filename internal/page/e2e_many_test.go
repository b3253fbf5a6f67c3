package page_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/desk"
)

// class is the photos of three jars as a class hands them in: two named with their times,
// and one photo that nothing tells.
func class(t *testing.T) []string {
	dir := t.TempDir()
	var files []string
	put := func(from, name string) {
		data, err := os.ReadFile(from)
		require.NoError(t, err)
		files = append(files, filepath.Join(dir, name))
		require.NoError(t, os.WriteFile(files[len(files)-1], data, 0o644))
	}
	brook, orchard := photosOf(t, sample("plot-07-by-the-brook")), photosOf(t, sample("plot-12-old-orchard"))
	for i, at := range []string{"2h", "49h", "91s"} {
		put(brook[i], "Brook_"+at+".jpg")
	}
	for i, at := range []string{"1min", "2h"} {
		put(orchard[i], "pond_"+at+".jpg")
	}
	put(orchard[2], "IMG_0431.jpg")
	put(orchard[2], "IMG_0431(1).jpg")
	return files
}

// Photos of many jars are sorted, put right and kept with what is the same for all; read
// one after the other, saved to one file, removed, and brought back from it.
func TestManyJarsAtOnce(t *testing.T) {
	s := open(t, desktop)
	for i, at := range []string{"1 minute", "2 hours", "2 days"} {
		s.Wait(fmt.Sprint("moment ", i, " of the plan"), fmt.Sprintf("document.querySelector('.three').innerText.includes(%q)", at))
	}
	s.press("sample-try")
	s.at("/jar/[^/]+")
	s.looked(3)
	s.visit("/")
	assert.Contains(t, s.text(".jar-card"), s.word("sample-rendered"))
	s.openToAll("desktop", "sample")
	s.press("sample-remove")
	s.Wait("no jar", "document.querySelector('.hello')")

	s.press("many-title")
	s.at("/many")
	s.openToAll("desktop", "many-choose")
	s.Choose("input[multiple][accept]", class(t)...)
	s.Wait("the jars", "document.querySelector('.sorted')")
	assert.Equal(t, "5 photos of 2 jars", s.text("h1"))
	assert.Contains(t, s.text(".out"), "IMG_0431.jpg")
	assert.Contains(t, s.text(".notice"), s.word("many-twin-of", "file", "IMG_0431.jpg"))
	s.Set(`[data-path="IMG_0431.jpg"] select`, "1")
	s.Wait("the photo is moved", "document.querySelector('h1').innerText === '6 photos of 2 jars' && !document.querySelector('.out')")
	s.Set(`li:not(.out) input[aria-label]`, "Brook, east")
	const depth = ".card.stack .with-unit input"
	s.Type(depth, "9999")
	s.Wait("a mistake that is told while it is typed", "document.activeElement.getAttribute('aria-invalid') === 'true'")
	s.Type(depth, "5 1/8")
	s.Wait("no mistake", "!document.querySelector('[aria-invalid]')")
	s.openToAll("desktop", "many-sorted")
	s.visit("/help")
	s.visit("/many") // nothing of it is lost
	assert.Equal(t, "Brook, east", browsertest.Eval[string](s.Page, "document.querySelector('li:not(.out) input').value"))
	s.press("many-keep")
	s.at("/?")
	s.Wait("two jars, each with its own photo", "document.querySelectorAll('.jar-card img.thumb').length === 2")
	for _, name := range []string{"Brook, east", "pond"} {
		j := s.jar(name)
		assert.Equal(t, "5 1/8 in", j.Record["water-depth"], name)
		assert.Len(t, j.Photos, 3)
	}
	s.stateTime("pond", "IMG_0431.jpg", "2d")
	s.visit("/settings")
	s.visit("/")
	s.press("several-read-all", "n", 2)
	s.Wait("both are read", fmt.Sprintf("document.querySelector('.messages').innerText.includes(%q)", s.word("several-read", "n", 2)))
	for _, name := range []string{"Brook, east", "pond"} {
		assert.NotEmpty(t, s.jar(name).Answer.Reading, name)
	}
	s.openToAll("desktop", "many-home")

	s.press("several-choose")
	s.press("several-all")
	s.openToAll("desktop", "many-chosen")
	_, file := s.Download(func() { s.press("several-save") })
	b, err := desk.OpenBundle(bytes.NewReader(file), int64(len(file)))
	require.NoError(t, err)
	assert.Equal(t, []string{"Brook, east", "pond"}, b.Folders)
	s.press("several-remove")
	s.PressOn("dialog .bad")
	s.Wait("no jar", "document.querySelector('.hello')")
	require.Empty(t, s.jars())

	again := filepath.Join(t.TempDir(), "jars.zip")
	require.NoError(t, os.WriteFile(again, file, 0o644))
	s.Choose("input[accept*=zip]", again)
	s.Wait("both jars again, with their photos", "document.querySelectorAll('.jar-card img.thumb').length === 2")
	require.Len(t, s.jars(), 2)

	// Photos that are there already are not added again; what a jar states stays.
	s.visit("/many")
	s.Choose("input[multiple][accept]", append(class(t)[3:5], photosOf(t, sample("plot-23-below-the-terrace"))[2])...)
	s.Wait("the jar that is there", fmt.Sprintf("document.querySelector('.sorted') && document.querySelector('#view').innerText.includes(%q)", s.word("many-goes-to", "name", "pond")))
	s.Type(".card.stack .with-unit input", "4")
	s.press("many-when-before")
	s.Type(".set-down .with-unit input", "1")
	s.press("many-keep")
	s.Wait("a third jar", "document.querySelectorAll('.jar-card').length === 3")
	assert.Len(t, s.jar("pond").Photos, 3)
	assert.Equal(t, "5 1/8 in", s.jar("pond").Record["water-depth"])
	assert.Equal(t, "4 in", s.jar("terrace").Record["water-depth"])
	assert.Equal(t, "2026-05-13T08:43:00+01:00", s.jar("terrace").Record["shaken"], "a minute before its photo, by its camera's clock")

	s.visit("/settings")
	assert.Contains(t, s.text("#view"), browsertest.Eval[string](s.Page, "location.host"), "the address that jars belong to")
	assert.Contains(t, s.text("#view"), s.word("save-bare"))
	s.Choose("input[accept*=zip]", again, jarFile(t, "plot-23-below-the-terrace"))
	s.Wait("what was here already", fmt.Sprintf("document.querySelector('.messages').innerText.includes(%q)", s.word("several-here", "n", 2)))
	require.Len(t, s.jars(), 4)
	s.clean()
}

// stateTime states when a photo was taken, as the view of its jar does.
func (s *story) stateTime(jar, file, elapsed string) {
	s.t.Helper()
	browsertest.Eval[any](s.Page, fmt.Sprintf(`import("/js/store.js").then((store) => store.edit(%q, (j) => { j.record.photos = { [%q]: { elapsed: %q } }; })).then(() => null)`, s.jar(jar).ID, file, elapsed))
}
