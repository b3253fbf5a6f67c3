package page

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// spoken is a text in a language, and what in it no sentence of the catalogue
// knew.
type spoken struct {
	Text string   `json:"text"`
	Left []string `json:"left"`
}

// speak puts texts into a language by the page's own code, in a browser.
func speak(t *testing.T, p *browsertest.Page, language string, texts []string) []spoken {
	t.Helper()
	list, err := json.Marshal(texts)
	require.NoError(t, err)
	out := browsertest.Eval[[]spoken](p, fmt.Sprintf(`(async () => {
		const { translator } = await import("/js/sentences.js");
		const said = async (l) => (await (await fetch("/words/" + l + ".json")).json()).said;
		let left = [];
		const speak = translator([...await said("said.en"), ...await said(%q)], (v) => { left.push(v); return v; });
		return %s.map((text) => { left = []; return { text: speak(text), left }; });
	})()`, language, list))
	require.Len(t, out, len(texts))
	return out
}

// wordsPage is a blank page that the words and their code can be loaded into.
func wordsPage(t *testing.T) *browsertest.Page {
	files := map[string][]byte{"index.html": []byte("<!doctype html><title>Words</title>")}
	require.NoError(t, fs.WalkDir(site, "site", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && name != "site/index.html" {
			files[strings.TrimPrefix(name, "site/")], err = fs.ReadFile(site, name)
		}
		return err
	}))
	server := httptest.NewServer(Handler(files, []string{"127.0.0.1"}))
	t.Cleanup(server.Close)
	return browsertest.Open(t, server.URL, browsertest.View{Width: 400, Height: 600})
}

// A sentence is known again with its places filled in, whatever other sentences
// it may look like.
func TestSentencesAreKnownAgain(t *testing.T) {
	p := wordsPage(t)
	for _, l := range []string{"es", "fr"} {
		var from, to []string
		fill := func(s string) string {
			return anyHole.ReplaceAllStringFunc(s, func(h string) string { return "1" + strings.Trim(h, "{}") })
		}
		for s, text := range said(t, l) {
			// What has few letters beside its places fits much.
			if len(anyHole.ReplaceAllString(s, "")) > 12 {
				from, to = append(from, fill(s)), append(to, fill(text))
			}
		}
		require.Greater(t, len(from), 400)
		for i, s := range speak(t, p, l, from) {
			if !strings.HasSuffix(from[i], "11") { // a sentence may go on to be another
				assert.True(t, strings.EqualFold(to[i], s.Text), "%s: %s\nis     %s\nnot    %s", l, from[i], s.Text, to[i])
			}
		}
	}
}

// kept are the parts of a text that are the same in every language: numbers,
// moments, names of files, and what a person wrote (here, something with Xx).
var kept = regexp.MustCompile(`^([-+\d.,/\[\] x]+|[\d ./-]+(mm|cm|px|in|%|C|F)|-?\d+ (d|h|min|s)( \d+ (h|min|s))?|[\d]+(d|h)( \d+d)?|\d{4}-\d\d-\d\d.*|\d+[A-Z]+ \d+/\d+|` +
	`.*\.(jpg|png|gif|txt|heic|webp)|.*(?i:xx).*|GIF|JPEG|PNG|HEIC|IDAT|mm|px|C|s)$`)

// Nothing that readings, refusals, questions and advice say stays English, and
// nothing of it speaks of a command line, in any language.
func TestNothingStaysEnglish(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	texts := everythingSaid(t)
	require.Greater(t, len(texts), 300)
	p := wordsPage(t)
	for _, l := range []string{"es", "fr"} {
		left := map[string]string{} // with a text that holds it
		for i, s := range speak(t, p, l, texts) {
			assert.NotRegexp(t, `(^|\s)--[a-z]|jar\.yaml`, s.Text)
			for _, v := range s.Left {
				if !kept.MatchString(v) {
					left[v] = texts[i]
				}
			}
		}
		for v, text := range left {
			t.Errorf("%s: %q stays English in %q", l, v, text)
		}
	}
	for _, s := range speak(t, p, "said.en", texts) {
		assert.NotRegexp(t, `(^|\s)--[a-z]|jar\.yaml`, s.Text)
	}
}
