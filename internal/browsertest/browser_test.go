package browsertest_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

func TestMain(m *testing.M) { os.Exit(browsertest.Run(m)) }

// bad is a page with each of the faults that are looked for.
const bad = `<!doctype html><html lang="en"><head><title>Bad</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'">
<style>p { color: #ccc; background: #fff; width: 900px } div { break-before: page }
@media (prefers-color-scheme: dark) { p { color: #000 } }</style></head>
<body><main><h1>Bad</h1><p>Pale text</p><img src="http://127.0.0.1:1/x.png" width="9" height="9"><div>Second sheet</div></main>
<script>console.error("said so"); throw new Error("thrown")</script></body></html>`

// A check that cannot fail says nothing: each must find its fault.
func TestFaultsAreFound(t *testing.T) {
	file := filepath.Join(t.TempDir(), "bad.html")
	require.NoError(t, os.WriteFile(file, []byte(bad), 0o644))
	p := browsertest.OpenFile(t, file, browsertest.View{Width: 400, Height: 600})
	assert.GreaterOrEqual(t, p.Sideways(), 500)
	assert.Len(t, p.Requests(), 2, "the page and the picture")
	faults := strings.Join(p.Faults(), "\n")
	for _, want := range []string{"said so", "Uncaught", "Content Security Policy"} {
		assert.Contains(t, faults, want)
	}
	barriers := strings.Join(p.Barriers(), "\n")
	assert.Contains(t, barriers, "color-contrast at p")
	assert.Contains(t, barriers, "image-alt at img")
	_, sheets := p.Print(browsertest.A4)
	assert.Equal(t, 2, sheets)

	dark := browsertest.OpenFile(t, file, browsertest.View{Width: 400, Height: 600, Dark: true, Text: 2})
	assert.NotContains(t, strings.Join(dark.Barriers(), "\n"), "color-contrast at p", "black on white in the dark style")
	assert.Equal(t, "32px", browsertest.Eval[string](dark, "getComputedStyle(document.documentElement).fontSize"))
}

// A control that moves away under the finger, as when something above it comes late, is
// pressed once more where it then is, and only once.
func TestWhatMovedAwayIsPressedAgain(t *testing.T) {
	file := filepath.Join(t.TempDir(), "moving.html")
	require.NoError(t, os.WriteFile(file, []byte(`<!doctype html><title>Moving</title><div id="above"></div><button>Save</button><script>
let saved = 0;
addEventListener("pointerdown", () => { above.style.height = "200px"; });
document.querySelector("button").addEventListener("click", () => { saved++; });
</script>`), 0o644))
	for name, view := range map[string]browsertest.View{"finger": {Width: 400, Height: 600, Touch: true}, "mouse": {Width: 400, Height: 600}} {
		t.Run(name, func(t *testing.T) {
			p := browsertest.OpenFile(t, file, view)
			p.Press("Save")
			assert.Equal(t, 1, browsertest.Eval[int](p, "saved"))
			assert.Equal(t, 1, p.Taps())
			p.Press("Save")
			assert.Equal(t, 2, browsertest.Eval[int](p, "saved"))
		})
	}
}
