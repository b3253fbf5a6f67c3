package page_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/browsertest"
	"mudline/internal/jartest"
	"mudline/internal/reading"
)

// rendered is photo i of a rendered jar, as a phone writes it, with something done to it.
func rendered(t testing.TB, name string, i int, spoil func(pic *image.RGBA, f imaging.Frame) *image.RGBA) []byte {
	t.Helper()
	truth, err := jartest.ReadTruth(filepath.Join("..", "..", "testdata", "jars", name))
	require.NoError(t, err)
	p := truth.Photos[i]
	data, err := os.ReadFile(filepath.Join(truth.Dir, p.File))
	require.NoError(t, err)
	if spoil == nil {
		return data
	}
	photo, err := imaging.Open(imaging.PureGo{}, p.File, data)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, spoil(photo.Picture, p.Frame(truth.WaterHeightMM).Scaled(1/photo.Scale)), &jpeg.Options{Quality: 92}))
	return b.Bytes()
}

// holds puts a jar with photos into the browser and opens it.
func (s *story) holds(name string, photos map[string][]byte) (id string) {
	s.t.Helper()
	text, err := json.Marshal(photos) // bytes as base64
	require.NoError(s.t, err)
	id = browsertest.Eval[string](s.Page, fmt.Sprintf(`import("/js/store.js").then(async (store) => (await store.create({ name: %q, "water-depth": "130 mm" },
		Object.entries(%s).map(([name, text]) => ({ name, blob: new Blob([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], { type: "image/jpeg" }) })))).id)`, name, text))
	s.visit("/jar/" + id)
	s.looked(len(photos))
	return id
}

// refusedJar reads the jar in view, which is refused, and looks at that.
func (s *story) refusedJar(size, view string) {
	s.t.Helper()
	s.press("jar-read")
	s.Wait("it is refused", fmt.Sprintf("document.querySelector('.messages')?.innerText.includes(%q)", s.word("jar-refused")))
	s.openToAll(size, view)
}

// settledPhoto waits until the photo in view is drawn and nothing is being read.
func (s *story) settledPhoto() {
	s.t.Helper()
	s.Wait("the photo", `document.querySelector(".stage img") && !document.querySelector(".strip.busy") && document.querySelector(".handle")`)
	s.still()
}

// A jar that was refused for what was seen is read once a person has shown what the program
// does not see: by touch, by mouse and by keyboard.
func TestARefusedJarIsCuredOnThePage(t *testing.T) {
	t.Run("no jar is seen, by touch", func(t *testing.T) {
		s := open(t, phone)
		wall := rendered(t, "open-02", 0, jartest.WithoutJar)
		id := s.holds("Wall", map[string][]byte{"a_2h.jpg": wall})
		s.refusedJar("phone", "cure-refused")
		s.visit("/")
		s.Wait("home says so", fmt.Sprintf("document.querySelector('.jar-card')?.innerText.includes(%q)", s.word("jar-refused")))
		s.visit("/jar/" + id)
		s.press("cure-where")
		s.at("/jar/[^/]+/photo/.+")
		s.settledPhoto()
		for _, name := range []string{"floor", "water", "left", "right"} {
			assert.True(t, browsertest.Eval[bool](s.Page, fmt.Sprintf("Boolean(document.querySelector('.handle.%s'))", name)), name)
		}
		s.openToAll("phone", "cure-photo")
		before := s.stated("a_2h.jpg")
		require.Empty(t, before)
		s.Drag(".handle.floor", 0, 14)
		s.Wait("the floor is kept", `(await (await import("/js/store.js")).jars())[0].record.photos?.["a_2h.jpg"]?.lines?.floor`)
		s.settledPhoto()
		assert.Len(t, s.stated("a_2h.jpg"), 1)
		s.press("cure-stands")
		s.Wait("the top of the soil is asked for", fmt.Sprintf("document.querySelector('.asks')?.innerText.includes(%q)", s.word("cure-top")))
		assert.Len(t, s.stated("a_2h.jpg"), 4)
		s.press("photo-add-it")
		s.Wait("a reading", "!document.querySelector('.strip.busy') && !document.querySelector('.strip').hidden && document.querySelector('.handle.deposit-top')")
		assert.NotEmpty(t, s.jar().Answer.Reading)
		s.openToAll("phone", "cure-cured")
		s.press("photo-undo")
		s.Wait("it is refused again", fmt.Sprintf("document.querySelector('.asks')?.innerText.includes(%q)", s.word("cure-top")))

		// Beside two others it is left out, and can be shown where it stands all the same.
		s.visit("/")
		s.holds("Three", map[string][]byte{"a_1min.jpg": rendered(t, "open-02", 0, nil), "b_2h.jpg": rendered(t, "open-02", 1, jartest.WithoutJar), "c_2d.jpg": rendered(t, "open-02", 2, nil)})
		s.press("jar-read")
		s.at("/jar/[^/]+/result")
		s.settled()
		assert.Contains(t, s.text(".warnings"), "b_2h.jpg")
		s.openToAll("phone", "cure-left-out")
		s.press("cure-where")
		s.at("/jar/[^/]+/photo/b_2h.jpg")
		s.settledPhoto()
		s.openToAll("phone", "cure-left-out-photo")
		s.Drag(".handle.floor", 0, 6)
		s.Wait("the floor is kept", `(await (await import("/js/store.js")).jars()).find((j) => j.record.name === "Three").record.photos?.["b_2h.jpg"]?.lines?.floor`)
		s.settledPhoto()
		s.press("cure-stands")
		s.Wait("it is read with it", `(await (await import("/js/store.js")).jars()).find((j) => j.record.name === "Three").answer.reading?.photos.length === 3 || document.querySelector(".asks")?.innerText.includes("b_2h.jpg")`)
		s.clean()
	})
	t.Run("a box, by mouse and by keyboard; two jars", func(t *testing.T) {
		s := open(t, desktop)
		id := s.holds("Boxed", map[string][]byte{"a_2d.jpg": rendered(t, "open-08", 4, nil)})
		s.press("jar-read")
		s.at("/jar/[^/]+/result")
		s.settled()
		s.visit("/jar/" + id + "/photo/a_2d.jpg")
		s.settledPhoto()
		s.press("cure-box")
		s.Wait("the box", "document.querySelector('.handle.box-left')")
		s.openToAll("desktop", "cure-box")
		s.Wait("the focus is on it", "document.activeElement.matches('.handle.box-left')")
		s.Keys(kb.ArrowLeft+kb.ArrowLeft, browsertest.Shift)
		s.press("cure-box-look")
		s.Wait("the box is kept", `(await (await import("/js/store.js")).jars())[0].record.photos?.["a_2d.jpg"]?.box`)
		s.settledPhoto()
		first := s.box("a_2d.jpg")
		s.press("cure-box")
		s.Wait("the box", "document.querySelector('.handle.box-left')")
		s.Drag(".handle.box-top", 0, -10)
		s.press("cure-box-look")
		s.Wait("the box is another", fmt.Sprintf(`JSON.stringify((await (await import("/js/store.js")).jars())[0].record.photos["a_2d.jpg"].box) !== %q`, first))
		s.settledPhoto()
		var r reading.Reading
		require.NoError(t, json.Unmarshal(s.jar("Boxed").Answer.Reading, &r))
		require.NotNil(t, r.Photos[0].HeightsMM.DepositTop)
		assert.Contains(t, s.text(".line-list .deposit-top"), fmt.Sprintf("%.2f in", r.Photos[0].HeightsMM.DepositTop.Value/25.4), "one number everywhere")

		s.visit("/")
		s.holds("Two", map[string][]byte{"a_1min.jpg": rendered(t, "open-11", 0, nil), "b_2h.jpg": rendered(t, "open-05", 1, nil), "c_2d.jpg": rendered(t, "open-05", 2, nil)})
		s.refusedJar("desktop", "cure-two")
		s.press("cure-one")
		s.at("/jar/[^/]+/result")
		s.settled()
		assert.NotEmpty(t, s.jar("Two").Answer.Reading)
		s.clean()
	})
}

// stated are the lines that are stated of a photo of the one jar.
func (s *story) stated(file string) map[string]any {
	s.t.Helper()
	return browsertest.Eval[map[string]any](s.Page, fmt.Sprintf(`import("/js/store.js").then(async (store) => (await store.jars())[0].record.photos?.[%q]?.lines || {})`, file))
}

// box is the box round the jar in a photo of the jar changed last, as JSON.
func (s *story) box(file string) string {
	s.t.Helper()
	return strings.TrimSpace(browsertest.Eval[string](s.Page, fmt.Sprintf(`import("/js/store.js").then(async (store) => JSON.stringify((await store.jars())[0].record.photos?.[%q]?.box))`, file)))
}
