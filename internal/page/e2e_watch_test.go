package page_test

import (
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// moments are those of the usual plan.
func moments(s *story) []float64 {
	return browsertest.Eval[[]float64](s.Page, `import("/js/watch/schedule.js").then((w) => w.moments(w.USUAL))`)
}

// The plan: some 40 photos in two days, even in the logarithm of the time, so that
// every doubling of the time has as many.
func TestThePlanOfWatching(t *testing.T) {
	s := open(t, phone)
	list := moments(s)
	require.Len(t, list, 40)
	assert.Equal(t, 20., list[0])
	assert.Equal(t, 2*86400., list[39])
	early := 0
	for i, at := range list {
		if at <= 600 {
			early++
		}
		if i > 0 {
			assert.InDelta(t, 1.2616, at/list[i-1], 0.03, "8640 to the 39th root, in whole seconds, at %g", at)
		}
	}
	assert.Equal(t, 15, early, "in the first ten minutes")

	type step struct {
		Index float64
		At    float64
	}
	next := func(since float64, taken string) *step {
		return browsertest.Eval[*step](s.Page, fmt.Sprintf(`import("/js/watch/schedule.js").then((w) => w.next([10, 20, 40, 1000], %g, %s) ?? null)`, since, taken))
	}
	assert.Equal(t, &step{0, 10}, next(0, "[]"))
	assert.Equal(t, &step{0, 10}, next(11.9, "[]"), "a little late")
	assert.Equal(t, &step{1, 20}, next(12.1, "[]"), "missed")
	assert.Equal(t, &step{1, 20}, next(10, "[0]"))
	assert.Equal(t, &step{3, 1000}, next(1040, "[0, 1, 2]"), "late by a twentieth")
	assert.Nil(t, next(1051, "[]"))

	type tally struct{ All, Kept, Missed float64 }
	assert.Equal(t, tally{4, 1, 2}, browsertest.Eval[tally](s.Page, `import("/js/watch/schedule.js").then((w) => w.tally([10, 20, 40, 1000], 500, [1]))`))
	assert.Equal(t, []float64{5, 8, 10, 12}, browsertest.Eval[[]float64](s.Page, `import("/js/watch/schedule.js").then((w) => w.moments({ first: 5, last: 5.5, count: 4 }).map((v, i) => (i < 1 ? v : v + 1)))`), "never two within two seconds")
	for n := 1; n < 60; n++ {
		thinned := browsertest.Eval[[]int](s.Page, fmt.Sprintf(`import("/js/watch/schedule.js").then((w) => w.thin([...Array(%d).keys()], 16))`, n))
		assert.LessOrEqual(t, len(thinned), 16)
		assert.Equal(t, n-1, thinned[len(thinned)-1])
		assert.Equal(t, 0, thinned[0])
	}
}

// watched makes a jar that is to be watched by a plan and opens the view.
func (s *story) watched(first, last, count int) {
	s.t.Helper()
	id := browsertest.Eval[string](s.Page, fmt.Sprintf(`import("/js/store.js").then(async (store) => {
		const jar = await store.create({ name: "Bean bed", "water-depth": "95.6 mm", temp: "14.8 C" });
		await store.edit(jar.id, (j) => { j.watch = { plan: { first: %d, last: %d, count: %d } }; });
		return jar.id;
	})`, first, last, count))
	s.Go("/jar/" + id + "/watch")
}

// sums are the check sums of the photos of the one jar there is, by name.
func (s *story) sums() map[string]string {
	return browsertest.Eval[map[string]string](s.Page, `import("/js/store.js").then(async (store) => {
		const [jar] = await store.jars(), out = {};
		for (const { name, blob } of await store.photos(jar.id)) {
			const sum = await crypto.subtle.digest("SHA-256", await blob.arrayBuffer());
			out[name] = [...new Uint8Array(sum)].map((b) => b.toString(16).padStart(2, "0")).join("");
		}
		return out;
	})`)
}

func (s *story) storedPhotos(n int) {
	s.t.Helper()
	s.Wait(fmt.Sprintf("%d photos are stored", n), fmt.Sprintf(`await import("/js/store.js").then(async (store) => (await store.photoNames((await store.jars())[0].id)).length >= %d)`, n))
}

// A jar is aimed at, shaken, set down and watched; the page is loaded anew in the
// middle and goes on. The camera shows the rendered film of testdata.
func TestThePhoneWatches(t *testing.T) {
	s := open(t, phone)
	s.MayUseCamera(s.host.URL, true)
	s.watched(3, 18, 4) // 3, 5, 10 and 18 s
	s.Wait("the jar is seen", fmt.Sprintf("document.querySelector('.verdict-now')?.innerText.includes(%q)", s.word("watch-see-good")))
	s.openToAll("phone", "watch-aim")
	s.press("watch-aimed")
	s.press("watch-shake-start")
	s.Wait("the ten minutes run", "/^9:5/.test(document.querySelector('.clock').innerText)")
	s.press("watch-down")
	s.press("watch-dark")
	s.Wait("the next moment on the black screen", fmt.Sprintf("document.querySelector('dialog.dark[open]').innerText.includes(%q)", strings.Split(s.word("watch-dark-next"), "{")[0]))
	assert.Equal(t, []float64{0, 0, 360, 740}, browsertest.Eval[[]float64](s.Page, "(({ x, y, width, height }) => [x, y, width, height])(document.querySelector('.dark-cover').getBoundingClientRect())"), "nothing else shows")
	s.openToAll("phone", "watch-dark")
	s.storedPhotos(3)
	before := s.sums()
	s.Reload()
	s.Wait("it goes on by itself", fmt.Sprintf("document.querySelector('.due')?.innerText.includes(%q)", s.word("watch-count", "n", 3, "all", 4)))
	s.openToAll("phone", "watch-on")
	s.Wait("the end", fmt.Sprintf("document.querySelector('.due h2')?.innerText === %q", s.word("watch-over")))

	after := s.sums()
	for name, sum := range before {
		assert.Equal(t, sum, after[name], "nothing that was stored is lost")
	}
	kept := map[string]bool{}
	for _, sum := range after {
		kept[sum] = true
	}
	assert.Len(t, kept, 4, "no frame is kept twice")
	var seconds []float64
	for _, name := range s.jar().Photos {
		var at float64
		_, err := fmt.Sscanf(name, "watch_t%fs.jpg", &at)
		require.NoError(t, err)
		seconds = append(seconds, at)
	}
	require.Len(t, seconds, 4)
	for i, want := range []float64{3, 5, 10, 18} {
		assert.InDelta(t, want, seconds[i], 2)
	}
	s.press("watch-to-jar")
	s.at("/jar/[^/]+")
	s.looked(4)
	s.clean()
}

// Where there is no camera, or no room, it is said why and what to do.
func TestWatchingThatCannotBe(t *testing.T) {
	s := open(t, phone)
	s.MayUseCamera(s.host.URL, false)
	s.watched(1, 4, 2)
	s.Wait("it may not", fmt.Sprintf("document.querySelector('.notice.bad')?.innerText.includes(%q)", s.word("watch-no-denied")))
	assert.Contains(t, s.text("#view"), s.word("watch-no-denied-how"))
	s.openToAll("phone", "watch-denied")
	browsertest.Eval[any](s.Page, `(Object.defineProperty(window, "isSecureContext", { value: false, configurable: true }), null)`)
	s.press("watch-again")
	s.Wait("the address is not secure", fmt.Sprintf("document.querySelector('.notice.bad')?.innerText.includes(%q)", s.word("watch-no-insecure")))
	browsertest.Eval[any](s.Page, `(Object.defineProperty(window, "isSecureContext", { value: true }), null)`)

	s.Quiet()
}

// What could be said so far is read from the photos that are there, and does not
// keep the next one from its moment.
func TestWatchingTellsWhatItSees(t *testing.T) {
	long(t)
	s := open(t, phone)
	s.MayUseCamera(s.host.URL, true)
	var films []string
	for _, n := range photosOf(t, filmFolder) {
		data, err := os.ReadFile(n)
		require.NoError(t, err)
		films = append(films, fmt.Sprintf("[%q, %q]", strings.Replace(filepath.Base(n), "film-01", "watch", 1), base64.StdEncoding.EncodeToString(data)))
	}
	const down, due = 200_000, 200_005 // set down so long ago; the next moment, in seconds
	id := browsertest.Eval[string](s.Page, fmt.Sprintf(`Promise.all([import("/js/store.js"), import("/js/plan.js")]).then(async ([store, plan]) => {
		const photos = [%s].map(([name, text]) => ({ name, blob: new Blob([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], { type: "image/jpeg" }) }));
		const jar = await store.create({ name: "Bean bed", "water-depth": "95.6 mm", temp: "14.8 C", shaken: plan.stamp(new Date(Date.now() - %d * 1000)) }, photos);
		await store.edit(jar.id, (j) => { j.watch = { plan: { first: %d, last: %d, count: 2 }, taken: [] }; });
		return jar.id;
	})`, strings.Join(films, ","), down, due, due+600))
	s.Go("/jar/" + id + "/watch")
	s.storedPhotos(len(films) + 1)
	assert.Regexp(t, fmt.Sprintf("watch_t%ds.jpg|watch_t%ds.jpg|watch_t%ds.jpg", due, due+1, due+2), strings.Join(s.jar().Photos, " "))
	s.Wait("the curve and what it says", "document.querySelector('.sofar .figure.settling:not([hidden]) svg') && document.querySelector('.sofar .strong')")
	s.openToAll("phone", "watch-sofar")
	assert.Empty(t, s.jar().Answer.Reading, "nothing of it is the jar's reading")
	s.clean()
}

// A phone that is full says so, and nothing that it has is lost.
func TestWatchingOnAFullPhone(t *testing.T) {
	s := open(t, phone)
	s.Wait("the page is kept", "(await navigator.serviceWorker.ready).active?.state === 'activated'")
	used := browsertest.Eval[float64](s.Page, "navigator.storage.estimate().then((e) => e.usage)")
	s.Room(s.host.URL, used+30_000) // enough for the jar, less than a photo
	s.MayUseCamera(s.host.URL, true)
	s.watched(1, 60, 2)
	s.press("watch-aimed")
	s.press("watch-down")
	s.Wait("the storage is full", fmt.Sprintf("document.querySelector('.messages').innerText.includes(%q)", s.word("full")))
	assert.Empty(t, s.jar().Photos)
	s.Quiet()
}
