package page_test

import (
	"encoding/json"
	"fmt"
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
			s.numbersOf(id)
			s.clean()
		})
	}
}

// numbersOf looks at what is stated of a jar: with a decimal comma, and no more decimals
// than a person reads off.
func (s *story) numbersOf(id string) {
	s.t.Helper()
	browsertest.Eval[any](s.Page, fmt.Sprintf(`import("/js/store.js").then((store) => store.edit(%q, (j) => { Object.assign(j.record, { "water-depth": "4.799 in", temp: "9.5 C" }); })).then(() => null)`, id))
	s.visit("/jar/" + id)
	s.Wait("what is stated", "document.querySelector('.facts-line p')")
	assert.Contains(s.t, s.text(".facts-line"), "122 mm · 9,5 °C")
	s.visit("/jar/" + id + "/setup")
	assert.Equal(s.t, []string{"4,8", "9,5"}, browsertest.Eval[[]string](s.Page, "[...document.querySelectorAll('.with-unit input')].slice(0, 2).map((e) => e.value)"))
	s.shown("stated")
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
