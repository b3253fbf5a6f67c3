package page_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// In every language each view fits a narrow phone with large text, and shows no key in place of
// its words. MUDLINE_SHOTS=folder keeps a picture of each.
func TestEveryLanguageFits(t *testing.T) {
	for l, code := range map[string]string{"es": "es-ES", "fr": "fr-FR"} {
		t.Run(l, func(t *testing.T) {
			if l != "fr" {
				long(t)
			}
			s := open(t, browsertest.View{Width: 320, Height: 640, Text: 2, Touch: true, Still: true, Language: code})
			require.NoError(t, json.Unmarshal(files(t)["words/"+l+".json"], &s.words))
			require.Equal(t, l, browsertest.Eval[string](s.Page, "document.documentElement.lang"))
			s.shown(l + "-home")
			s.openJar("plot-07-by-the-brook")
			s.shown(l + "-jar")
			id := browsertest.Eval[string](s.Page, "location.hash.split('/')[2]")
			s.read()
			browsertest.Eval[any](s.Page, "document.querySelectorAll('details').forEach((d) => { d.open = true; })")
			s.shown(l + "-result")
			photo := "/jar/" + id + "/photo/" + filepath.Base(photosOf(t, sample("plot-07-by-the-brook"))[0])
			for _, hash := range []string{"/new", "/help", "/settings", "/compare", "/jar/" + id + "/setup", "/jar/" + id + "/hands", photo} {
				browsertest.Eval[any](s.Page, "window.before = document.querySelector('#view h1'), null")
				s.Go(hash)
				s.at(strings.ReplaceAll(hash, ".", `\.`))
				s.Wait("the next view", "document.querySelector('#view h1') !== window.before")
				if hash == photo {
					s.Wait("the photo", "document.querySelector('.strip')")
				}
				s.shown(l + "-" + strings.ReplaceAll(strings.Trim(strings.Replace(hash, id, "", 1), "/"), "/", ""))
			}
			s.clean()
		})
	}
}

// shown looks at the view that is in sight.
func (s *story) shown(name string) {
	s.t.Helper()
	if dir := os.Getenv("MUDLINE_SHOTS"); dir != "" {
		require.NoError(s.t, os.WriteFile(filepath.Join(dir, name+".png"), s.Screenshot(), 0o644))
	}
	assert.Zero(s.t, s.Sideways(), "%s is too wide", name)
	text := browsertest.Eval[string](s.Page, "document.body.innerText")
	for key := range s.words {
		if strings.Contains(key, "-") && !strings.HasPrefix(key, "chart:") {
			assert.NotRegexp(s.t, `(^|\s)`+key+`(\s|$)`, text, name)
		}
	}
}
