package main

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/jar"
)

// No input is ever written over, nor a page of something else; what the program wrote
// itself is, and with --force anything.
func TestNothingForeignIsWrittenOver(t *testing.T) {
	dir := t.TempDir()
	photo, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jars", "open-11", "open-11_t007103s.jpg"))
	require.NoError(t, err)
	path := func(name string) string { return filepath.Join(dir, name) }
	put := func(name string, data []byte) { require.NoError(t, os.WriteFile(path(name), data, 0o644)) }
	put("a_2h.jpg", photo)
	put("b_2h.jpg", photo)
	put("jar.yaml", []byte("water-depth: 120 mm\n"))
	put("index.html", []byte("<!DOCTYPE html><title>my garden</title>"))
	put("README.md", []byte("# my garden"))
	for _, name := range []string{"own.pdf", "sheet.pdf"} {
		put(name, []byte("%PDF-1.4 a manual"))
	}
	put("own-2.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg">`))
	for name, args := range map[string][]string{
		"b_2h.jpg":   {"read", path("a_2h.jpg"), "--report", path("b_2h.jpg")},
		"jar.yaml":   {"times", "--calendar", path("jar.yaml")},
		"index.html": {"batch", dir, "--out", dir},
		"README.md":  {"sheet", "--out", path("README.md")},
		"own.pdf":    {"sheet", "--out", path("own.pdf")},
		"own-2.svg":  {"sheet", "--count", "3", "--out", path("own.svg")},
		"sheet.pdf":  {"new", dir, "--sheet"},
	} {
		before, err := os.ReadFile(path(name))
		require.NoError(t, err)
		status, _, errText := whole(t, args...)
		assert.Equal(t, statusInput, status, "%v", args)
		assert.Contains(t, errText, name+" is there already")
		after, err := os.ReadFile(path(name))
		require.NoError(t, err)
		assert.Equal(t, before, after, name)
	}
	assert.NoFileExists(t, path("own-1.svg"), "none of several is written where one may not be")
	for _, args := range [][]string{{"times", "--calendar", path("c.ics")}, {"times", "--calendar", path("c.ics")}, {"times", "--calendar", path("jar.yaml"), "--force"}} {
		status, _, errText := whole(t, args...)
		assert.Equal(t, statusOK, status, errText)
	}
}

// The pictures of a film are known to be wanted only once its photos are found.
func TestFilmPicturesGoOverNothingForeign(t *testing.T) {
	dir, out := t.TempDir(), t.TempDir()
	for i := range jar.FilmFrom {
		require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("img%02d.jpg", i)), nil, 0o644))
	}
	mine := filepath.Join(out, "settling.apng")
	require.NoError(t, os.WriteFile(mine, []byte("\x89PNG\r\n\x1a\nmine"), 0o644))
	args := []string{"read", dir, "--every", "10min", "--out", out}
	r := command(t, nil, args...)
	assert.Equal(t, statusInput, r.status)
	assert.Contains(t, r.err, "settling.apng is there already")
	r = command(t, nil, append(args, "--force")...)
	assert.NotContains(t, r.err, "is there already")
}

// What each command writes it knows again as its own.
func TestOwnFilesAreKnownAgain(t *testing.T) {
	dir, out := t.TempDir(), filepath.Join(t.TempDir(), "out")
	photo, err := os.ReadFile(filepath.Join("..", "..", "testdata", "jars", "open-11", "open-11_t007103s.jpg"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a_2h.jpg"), photo, 0o644))
	for _, format := range []string{"csv", "svg", "png"} {
		for range 2 {
			status, _, errText := whole(t, "read", dir, "--out", out, "--format", format, "--report", filepath.Join(out, "own.html"))
			require.Equal(t, statusOK, status, "%s: %s", format, errText)
		}
	}
	for range 2 {
		status, _, errText := whole(t, "batch", dir, "--out", filepath.Join(out, "all"))
		require.Equal(t, statusOK, status, errText)
	}
	// A PDF of many sheets has its mark far from its beginning.
	for name, count := range map[string]string{"s.pdf": "500", "s.svg": "3", "s.png": "3"} {
		for range 2 {
			status, _, errText := whole(t, "sheet", "--count", count, "--dpi", "50", "--out", filepath.Join(dir, name))
			require.Equal(t, statusOK, status, "%s: %s", name, errText)
		}
	}
}
