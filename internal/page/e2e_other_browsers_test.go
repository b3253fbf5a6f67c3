package page_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/testkit"
)

// Some browsers change what is read from a canvas, against tracking (Firefox with
// privacy.resistFingerprinting does). The program then decodes the photos itself,
// and reads what it reads without a browser.
func TestACanvasThatLiesIsNotBelieved(t *testing.T) {
	site := maps.Clone(files(t))
	site["worker.js"] = append([]byte(`{
		const own = OffscreenCanvasRenderingContext2D.prototype.getImageData;
		OffscreenCanvasRenderingContext2D.prototype.getImageData = function (...at) {
			const got = own.apply(this, at);
			for (let i = 0; i < got.data.length; i += 4) got.data[i] = Math.random() * 256;
			return got;
		};
	}
	`), site["worker.js"]...)
	s := openAt(t, serve(t, site), phone)
	dir := t.TempDir()
	for _, p := range photosOf(t, sample("plot-07-by-the-brook")) {
		data, err := os.ReadFile(p)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.Base(p)), testkit.Enlarged(t, data, 1500, 2000), 0o644))
	}
	id := browsertest.Eval[string](s.Page, `import("/js/store.js").then(async (store) => (await store.create({ name: "x", "water-depth": "132 mm", temp: "9 C" })).id)`)
	s.Go("/jar/" + id)
	s.Wait("the jar", `document.querySelector("h1")?.innerText === "x"`) // home has such a field too
	s.Choose("input[type=file][multiple]", photosOf(t, dir)...)
	s.looked(3)
	s.read()
	j := s.jar()
	same(t, native(t, j.Record, dir, j.Photos), string(j.Answer.Reading))
	s.clean()
}

// Where a private window keeps no blobs, as Safari's did, photos are kept as bytes.
func TestAWindowThatKeepsNoBlobs(t *testing.T) {
	const name = "plot-07-by-the-brook"
	s := open(t, phone)
	browsertest.Eval[any](s.Page, `(() => {
		for (const way of ["put", "add"]) {
			const own = IDBObjectStore.prototype[way];
			IDBObjectStore.prototype[way] = function (value, ...more) {
				if (Object.values(value).some((v) => v instanceof Blob)) throw new DOMException("no blobs here", "DataCloneError");
				return own.call(this, value, ...more);
			};
		}
		return null;
	})()`)
	s.openJar(name) // all photos at once, from a file
	again := filepath.Join(t.TempDir(), "brook_5h.jpg")
	data, err := os.ReadFile(photosOf(t, sample(name))[0])
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(again, data, 0o644))
	s.Choose("input[type=file][multiple]", again) // and one by one
	s.looked(4)
	kept := browsertest.Eval[[]int](s.Page, fmt.Sprintf(`import("/js/store.js").then(async (store) => (await store.photos(%q)).map((p) => p.blob.size))`, s.jar().ID))
	assert.Len(t, kept, 4)
	assert.Contains(t, kept, len(data))
	s.Wait("its small picture", `document.querySelectorAll(".photo-card img.thumb").length === 4`)
	s.clean()
}

// A browser that is too old says so, in the person's language, in place of a blank page.
func TestABrowserThatIsTooOld(t *testing.T) {
	s := open(t, browsertest.View{Width: 360, Height: 740, Language: "fr-FR"})
	var french map[string]any
	require.NoError(t, json.Unmarshal(files(t)["words/fr.json"], &french))
	browsertest.Eval[any](s.Page, "window.DecompressionStream = undefined, document.getElementById('view').replaceChildren(), null")
	browsertest.Eval[any](s.Page, string(files(t)["js/able.js"])+"; null")
	s.Wait("what is the matter", fmt.Sprintf("document.getElementById('view').innerText === %q", french["too-old"]))
	assert.True(t, browsertest.Eval[bool](s.Page, "document.documentElement.classList.contains('old')"), "the page is not begun")
}
