package page_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/testkit"
)

// firstReading reads a jar of three photos from a cold start of the program. It
// gives the seconds until the reading is there, how long a preview takes, and the
// longest the page itself was busy in one go, both in ms.
const firstReading = `(async () => {
	let longest = 0;
	new PerformanceObserver((list) => { for (const e of list.getEntries()) longest = Math.max(longest, e.duration); }).observe({ entryTypes: ["longtask"] });
	const program = await import("/js/program.js");
	program.stop();
	const record = { "water-depth": "132 mm", temp: "9 C" };
	const photos = [];
	for (const name of NAMES) photos.push([name, new Blob([await (await fetch("big/" + name + ".gz")).arrayBuffer()], { type: "image/jpeg" })]);
	const begin = performance.now();
	for (const [name, blob] of photos) await program.open(name, blob, record);
	const answer = await program.read(record, photos.map(([name]) => name));
	const seconds = (performance.now() - begin) / 1000;
	const previews = [];
	for (let i = 0; i < 11; i++) {
		const at = performance.now();
		await program.preview(record);
		previews.push(performance.now() - at);
	}
	await new Promise((r) => setTimeout(r, 200));
	return { seconds, previews, longest, read: Boolean(answer.reading) };
})()`

// large is the site with three 12-megapixel photos of a sample beside it, and their names.
func large(b *testing.B) (site map[string][]byte, names []string) {
	site = files(b)
	for _, p := range photosOf(b, sample("plot-07-by-the-brook")) {
		data, err := os.ReadFile(p)
		require.NoError(b, err)
		names = append(names, filepath.Base(p))
		site["big/"+filepath.Base(p)+".gz"] = testkit.LargePhoto(b, data)
	}
	return site, names
}

// BenchmarkFirstReading reads three 12-megapixel photos in Chromium, from the
// start of the program on.
func BenchmarkFirstReading(b *testing.B) {
	site, names := large(b)
	script := bytes.ReplaceAll([]byte(firstReading), []byte("NAMES"), fmt.Appendf(nil, "%q", names))
	script = bytes.ReplaceAll(script, []byte(`" "`), []byte(`", "`))
	var seconds, longest float64
	var previews []float64
	n := 0
	for b.Loop() {
		s := openAt(b, serve(b, site), phone)
		got := browsertest.Eval[struct {
			Seconds, Longest float64
			Previews         []float64
			Read             bool
		}](s.Page, string(script))
		require.True(b, got.Read)
		seconds, longest, n = seconds+got.Seconds, max(longest, got.Longest), n+1
		previews = append(previews, got.Previews...)
	}
	slices.Sort(previews)
	b.ReportMetric(seconds/float64(n), "s/first-reading")
	b.ReportMetric(previews[len(previews)/2], "ms/preview")
	b.ReportMetric(longest, "ms/longest-task")
}

// dragged opens the same photos as a jar, and gives the address of its last photo.
const dragged = `(async () => {
	const store = await import("/js/store.js"), desk = await import("/js/desk.js");
	const list = [];
	for (const name of NAMES) list.push({ name, blob: new Blob([await (await fetch("big/" + name + ".gz")).arrayBuffer()], { type: "image/jpeg" }) });
	const jar = await store.create({ name: "Large", "water-depth": "132 mm", temp: "9 C" }, list);
	const answer = await desk.read(jar, list);
	return "/jar/" + jar.id + "/photo/" + answer.lines.at(-1).file;
})()`

// BenchmarkDragging drags a line of such a photo to and fro with the finger: how
// long it takes from a move to everything drawn, in the middle and at most, and
// the longest task of the page.
func BenchmarkDragging(b *testing.B) {
	site, names := large(b)
	list, err := json.Marshal(names)
	require.NoError(b, err)
	s := openAt(b, serve(b, site), phone)
	s.Go(browsertest.Eval[string](s.Page, strings.ReplaceAll(dragged, "NAMES", string(list))))
	s.Wait("the lines", fmt.Sprintf("document.querySelector(%q) && !document.querySelector('.strip.busy')", topOfSoil))
	browsertest.Eval[any](s.Page, `(() => {
		window.longest = 0;
		new PerformanceObserver((list) => { for (const e of list.getEntries()) window.longest = Math.max(window.longest, e.duration); }).observe({ entryTypes: ["longtask"] });
		performance.clearMeasures();
		return null;
	})()`)
	by := -30.0
	for b.Loop() {
		s.Drag(topOfSoil, 0, by)
		s.still()
		s.Wait("the new reading", "!document.querySelector('.strip.busy')")
		by = -by
	}
	drawn := browsertest.Eval[[]float64](s.Page, `performance.getEntriesByName("preview-drawn").map((e) => e.duration)`)
	require.NotEmpty(b, drawn)
	slices.Sort(drawn)
	b.ReportMetric(drawn[len(drawn)/2], "ms/drawn")
	b.ReportMetric(drawn[len(drawn)-1], "ms/drawn-at-most")
	b.ReportMetric(browsertest.Eval[float64](s.Page, "window.longest"), "ms/longest-task")
}
