package page_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// A HEIC photo is read in a browser that cannot decode it, as the command line reads it. The
// decoder comes only then, and stays for use without a connection.
func TestHEICInABrowserThatCannot(t *testing.T) {
	s := open(t, phone)
	s.Wait("the page is kept", "(await navigator.serviceWorker.ready).active?.state === 'activated' && navigator.serviceWorker.controller")
	data, err := os.ReadFile(filepath.Join("..", "..", "imaging", "testdata", "jar.heic"))
	require.NoError(t, err)
	dir := t.TempDir()
	const name = "a_2h.heic"
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	kept := func() bool { return browsertest.Eval[bool](s.Page, `caches.match("heif.wasm.gz").then(Boolean)`) }
	s.holds("Other kinds", map[string][]byte{"b_2h.jpg": rendered(t, "open-05", 1, nil)})
	assert.False(t, kept(), "not for other photos")
	s.visit("/")
	s.holds("High efficiency", map[string][]byte{name: data})
	assert.True(t, kept(), "for use without a connection")
	assert.True(t, browsertest.Eval[bool](s.Page, `Boolean(document.querySelector(".photo-card img.thumb")?.naturalWidth)`), "its picture is shown")
	s.press("jar-read")
	s.at("/jar/[^/]+/result")
	s.settled()
	j := s.jar("High efficiency")
	require.NotEmpty(t, j.Answer.Reading)
	same(t, native(t, j.Record, dir, j.Photos), string(j.Answer.Reading))
	s.clean()
}
