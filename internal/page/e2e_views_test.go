package page_test

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// small lists what can be pressed and is less than 44 CSS pixels high or wide
// (WCAG 2.5.5). Links within a text are of the text's size, and a small box with
// a label may be pressed on the label.
const small = `[...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=slider]")]
	.filter((e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && e.getClientRects().length > 0)
	.filter((e) => !(e.matches("a") && e.parentElement.matches("p, li, td, dd, small, .note") && e.parentElement.innerText.trim() !== e.innerText.trim()))
	.filter((e) => !e.closest("label") || e.closest("label").getBoundingClientRect().height < 43.5)
	.filter((e) => !e.matches(".skip"))
	.map((e) => [e, e.getBoundingClientRect()])
	.filter(([e, r]) => r.width < 43.5 || r.height < 43.5)
	.map(([e, r]) => e.outerHTML.slice(0, 90) + " " + Math.round(r.width) + "x" + Math.round(r.height))`

// moving lists what moves where reduced motion is asked for.
const moving = `!matchMedia("(prefers-reduced-motion: reduce)").matches ? [] : document.getAnimations()
	.filter((a) => a.playState === "running").map((a) => a.effect.target.outerHTML.slice(0, 90))`

// Every view, without a jar and with one, is free of barriers, fits, and can be
// hit by a finger. MUDLINE_PICTURES=folder keeps a picture of each.
func TestEveryViewIsOpenToAll(t *testing.T) {
	for name, v := range map[string]browsertest.View{
		"phone":   phone,
		"desktop": {Width: 1280, Height: 800, Dark: true, Still: true, Language: "en-US", Zone: "Europe/London"},
		"narrow":  {Width: 320, Height: 640, Text: 2, Touch: true, Dark: true, Language: "en-GB", Zone: "Europe/London"},
	} {
		t.Run(name, func(t *testing.T) {
			if name == "phone" { // the narrow one is harder
				long(t)
			}
			s := open(t, v)
			s.openToAll(name, "start")
			for _, hash := range []string{"/new", "/many", "/help", "/settings", "/compare"} {
				s.visit(hash)
				if hash == "/help" {
					s.Wait("on what readings were checked", "document.querySelector('.help-sure p + p')")
				}
				s.openToAll(name, hash)
			}
			s.openJar("plot-23-below-the-terrace")
			s.openToAll(name, "jar")
			id := browsertest.Eval[string](s.Page, "location.hash.split('/')[2]")
			s.read()
			s.openToAll(name, "result")
			s.visit("/jar/" + id + "/photo/" + filepath.Base(photosOf(t, sample("plot-23-below-the-terrace"))[0]))
			s.Wait("the lines", "document.querySelector('.handle') && !document.querySelector('.strip.busy')")
			s.openToAll(name, "photo")
			s.visit("/jar/" + id + "/hands")
			s.press("hands-begin")
			s.Wait("a question", "document.querySelector('.hands progress')")
			s.openToAll(name, "hands")
			s.visit("/jar/" + id + "/setup")
			s.openToAll(name, "setup")
			s.visit("/jar/" + id + "/sheet")
			s.openToAll(name, "sheet")
			for _, view := range []string{"watch", "film"} {
				s.visit("/jar/" + id + "/" + view)
				s.openToAll(name, view)
			}
			s.visit("/compare")
			s.openToAll(name, "compare")
			s.visit("/")
			s.openToAll(name, "jars")
			s.clean()
		})
	}
}

// visit opens a view and waits until the last one is gone.
func (s *story) visit(hash string) {
	s.t.Helper()
	browsertest.Eval[any](s.Page, "window.before = document.querySelector('#view h1'), null")
	s.Go(hash)
	s.Wait("view "+hash, "document.querySelector('#view h1') && document.querySelector('#view h1') !== window.before")
}

func (s *story) openToAll(size, view string) {
	s.t.Helper()
	at := size + ", " + view
	if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
		name := size + "-" + strings.ReplaceAll(strings.Trim(view, "/"), "/", "-") + ".png"
		require.NoError(s.t, os.WriteFile(filepath.Join(dir, name), s.Screenshot(), 0o644))
	}
	assert.LessOrEqual(s.t, s.Sideways(), 0, "%s is wider than its window", at)
	assert.Empty(s.t, browsertest.Eval[[]string](s.Page, small), "%s: too small to hit", at)
	assert.Empty(s.t, browsertest.Eval[[]string](s.Page, moving), "%s moves", at)
	for _, b := range s.Barriers() {
		assert.Fail(s.t, at+": "+b)
	}
}

// Once loaded, the page opens and reads a jar without a connection; a new
// version is offered, and the jars outlive it.
func TestWithoutAConnection(t *testing.T) {
	site := files(t)
	h := serve(t, site)
	s := openAt(t, h, phone)
	s.Wait("the page is kept", "(await navigator.serviceWorker.ready).active?.state === 'activated'")
	s.openJar("plot-07-by-the-brook")
	s.Offline(true)
	s.Reload()
	s.looked(3)
	s.read()
	before := string(s.jar().Answer.Reading)
	require.NotEmpty(t, before)
	s.Offline(false)

	changed := maps.Clone(site)
	changed["page.css"] = append(bytes.Clone(site["page.css"]), "\n/* new */\n"...)
	changed["sw.js"] = bytes.Replace(site["sw.js"], []byte(`const VERSION = "`), []byte(`const VERSION = "n`), 1)
	h.hold(changed)
	s.Reload()
	s.settled()
	browsertest.Eval[any](s.Page, "navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => null)")
	s.Wait("the new version is offered", fmt.Sprintf("document.body.innerText.includes(%q)", s.word("take-update")))
	browsertest.Eval[any](s.Page, "window.old = true, null")
	s.press("take-update")
	s.Wait("the page comes anew", "!window.old && document.querySelector('#view h1')")
	s.Wait("the new version", `(await (await fetch("page.css")).text()).includes("/* new */") && document.querySelector("#view h1")`)
	assert.Equal(t, before, string(s.jar().Answer.Reading), "the jar outlives it")
	s.Quiet()
}

// What cannot be used is said in words, and what is there stays.
func TestFaultsLoseNothing(t *testing.T) {
	s := open(t, phone)
	s.openJar("plot-07-by-the-brook")
	photo := photosOf(t, sample("plot-07-by-the-brook"))[0]
	whole, err := os.ReadFile(photo)
	require.NoError(t, err)
	dir := t.TempDir()
	for name, data := range map[string][]byte{"cut_3h.jpg": whole[:len(whole)/2], "text_4h.jpg": []byte("no picture at all"), "empty_5h.jpg": {}} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o644))
	}
	huge := filepath.Join(dir, "huge_6h.jpg") // 200 MB that take no room
	require.NoError(t, os.WriteFile(huge, whole, 0o644))
	require.NoError(t, os.Truncate(huge, 200<<20))

	for _, c := range []struct{ file, says string }{
		{"cut_3h.jpg", "incomplete"}, {"text_4h.jpg", "not a picture"}, {"empty_5h.jpg", "empty"}, {"huge_6h.jpg", "MB"},
	} {
		s.Choose("input[type=file][multiple]", filepath.Join(dir, c.file))
		s.Wait(c.file+": "+c.says, fmt.Sprintf("document.querySelector('#view').innerText.includes(%q)", c.says))
	}
	s.Reload()
	s.at("/jar/[^/]+")
	kept := s.jar()
	for _, f := range photosOf(t, sample("plot-07-by-the-brook")) {
		assert.Contains(t, kept.Photos, filepath.Base(f))
	}
	assert.NotContains(t, kept.Photos, "huge_6h.jpg")

	// The storage is full: it is said, and the jar as it was is still there.
	browsertest.Eval[any](s.Page, `(IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); }, null)`)
	again := filepath.Join(dir, "again_7h.jpg")
	require.NoError(t, os.WriteFile(again, whole, 0o644))
	s.Choose("input[type=file][multiple]", again)
	s.Wait("the storage is full", fmt.Sprintf("document.querySelector('#view').innerText.includes(%q)", s.word("full")))
	s.Reload()
	s.at("/jar/[^/]+")
	assert.Equal(t, kept.Photos, s.jar().Photos)
	s.Quiet()
}

// The worker that reads may be ended under the page, as when memory runs out:
// what was waiting is done by a new one.
func TestAWorkerThatEndsWhileReading(t *testing.T) {
	s := open(t, phone)
	s.openJar("plot-07-by-the-brook")
	s.press("jar-read")
	s.Wait("it reads", "document.querySelector('progress')")
	browsertest.Eval[any](s.Page, `import("/js/program.js").then((program) => { program.stop(); return null; })`)
	s.at("/jar/[^/]+/result")
	s.settled()
	s.sameAsNative("plot-07-by-the-brook", "Plot 7, by the brook (rendered)")
	s.clean()
}

// A tab that ends while it reads loses neither jar nor photos.
func TestATabThatEndsWhileReading(t *testing.T) {
	h := serve(t, files(t))
	s := openAt(t, h, phone)
	s.openJar("plot-07-by-the-brook")
	s.press("jar-read")
	s.Close()

	next := openAt(t, h, phone)
	j := next.jar()
	assert.Len(t, j.Photos, 3)
	next.Go("/jar/" + j.ID)
	next.at("/jar/[^/]+")
	next.looked(3)
	next.read()
	assert.NotEmpty(t, next.jar().Answer.Reading)
}
