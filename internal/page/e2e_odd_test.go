package page_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/page"
)

// Jars in odd states: each has a card of its own that says how it stands, and a
// view that shows a next step.
func TestJarsInOddStates(t *testing.T) {
	s := open(t, phone)
	photo, err := os.ReadFile(photosOf(t, sample("plot-07-by-the-brook"))[0])
	require.NoError(t, err)
	type odd struct {
		name       string
		daysAgo    float64 // since it was set down; 0 where that is not known
		photos     map[string][]byte
		home, next string // words
	}
	bad := []byte("no picture at all")
	jars := []odd{
		{"long ago, without photos", 90, nil, "jar-old", "jar-old-how"},
		{"unreadable only", 0, map[string][]byte{"a_2h.jpg": bad}, "home-bad-photo", "set-down-now"},
		{"unreadable only, set down", 1, map[string][]byte{"a_2h.jpg": bad}, "home-bad-photo", "jar-take"},
		{"twins", 0, map[string][]byte{"a_2h.jpg": photo, "b_2h.jpg": photo}, "jar-twins", "jar-twins-how"},
		{"twins, set down", 1, map[string][]byte{"a_2h.jpg": photo, "b_2h.jpg": photo}, "jar-twins", "jar-twins-how"},
		{"without a time", 1, map[string][]byte{"a.jpg": photo}, "", "photo-when"},
		{"in the future", -1, nil, "", "jar-choose"},
		{"half imported", 1, nil, "", "jar-take"}, // its record speaks of a photo that is not there
	}
	for _, j := range jars {
		photos, err := json.Marshal(j.photos) // bytes as base64
		require.NoError(t, err)
		browsertest.Eval[any](s.Page, fmt.Sprintf(`Promise.all([import("/js/store.js"), import("/js/plan.js")]).then(async ([store, plan]) => {
			const photos = Object.entries(%s || {}).map(([name, text]) => ({ name, blob: new Blob([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], { type: "image/jpeg" }) }));
			const record = { name: %q };
			if (record.name === "half imported") record.photos = { "gone_2h.jpg": { elapsed: "2h", lines: { floor: "900 px" } } };
			if (%g) record.shaken = plan.stamp(new Date(Date.now() - %g * 864e5));
			await store.create(record, photos);
			return null;
		})`, photos, j.name, j.daysAgo, j.daysAgo))
	}
	ids := map[string]string{}
	for _, j := range s.jars() {
		ids[j.Record["name"].(string)] = j.ID
	}
	for _, j := range jars { // its photos are looked at where the jar is opened
		s.visit("/jar/" + ids[j.name])
		s.Wait(j.name+" shows "+j.next, fmt.Sprintf("!document.querySelector('.line .spin') && document.querySelector('#view').innerText.includes(%q)", s.word(j.next)))
	}
	s.visit("/")
	for _, j := range jars {
		text := fmt.Sprintf("[...document.querySelectorAll('.jar-card')].find((c) => c.innerText.includes(%q + '\\n'))?.innerText", j.name)
		s.Wait(j.name+" is told", fmt.Sprintf("(%s)?.trim().split('\\n').length > 1 && !(%s).includes(%q)", text, text, s.word("home-looking")))
		got := browsertest.Eval[string](s.Page, text)
		assert.NotContains(t, got, s.word("home-fault"), j.name)
		if j.home != "" {
			assert.Contains(t, got, s.word(j.home, "n", len(j.photos)), j.name)
		}
	}
	if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "phone-odd.png"), s.Screenshot(), 0o644))
	}
	s.clean()
}

// What needs no program is there before it: the page for a first visit, and the jars and a
// jar's page for later ones.
func TestTheFirstViewNeedsNoProgram(t *testing.T) {
	site, arrive := files(t), make(chan struct{})
	h := serve(t, site)
	whole := page.Handler(site, []string{"127.0.0.1"})
	h.handler.Store(http.Handler(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, ".wasm.gz") {
			<-arrive
		}
		whole.ServeHTTP(w, r)
	})))
	let := sync.OnceFunc(func() { close(arrive) })
	t.Cleanup(let)
	s := openAt(t, h, phone)
	assert.Contains(t, s.text("#view"), s.word("home-hello"))
	id := browsertest.Eval[string](s.Page, `import("/js/store.js").then(async (store) => (await store.create({ name: "Early" })).id)`)
	s.Reload()
	s.Wait("the jar's card", `document.querySelector(".jar-card")?.innerText.includes("Early")`)
	s.visit("/jar/" + id)
	assert.Contains(t, s.text("#view h1"), "Early")
	assert.False(t, browsertest.Eval[bool](s.Page, `Boolean(document.querySelector(".due h2"))`), "what the program tells comes with it")
	let()
	s.Wait("what to do now", `document.querySelector(".due h2")`)
	s.clean()
}
