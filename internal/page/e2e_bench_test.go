package page_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mudline/imaging/enginetest"
	"mudline/internal/browsertest"
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

// BenchmarkFirstReading reads three 12-megapixel photos in Chromium, from the
// start of the program on.
func BenchmarkFirstReading(b *testing.B) {
	site := files(b)
	var names []string
	for _, p := range photosOf(b, sample("plot-07-by-the-brook")) {
		data, err := os.ReadFile(p)
		require.NoError(b, err)
		names = append(names, filepath.Base(p))
		site["big/"+filepath.Base(p)+".gz"] = enginetest.LargePhoto(b, data)
	}
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
