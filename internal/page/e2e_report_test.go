package page_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
)

// What a report says of a reading in its first lines.
var (
	reportHead  = regexp.MustCompile(`(?s)<h2 id="result">(.*?)</h2>`)
	reportSure  = regexp.MustCompile(`(?s)<p class="sure">(.*?) <span`)
	reportTrust = regexp.MustCompile(`(?s)<p class="trust( firm)?"><strong>.*?</strong> (.*?)</p>`)
)

// verdict is the same of the result in view; buttons that explain a word are left out.
const verdict = `(() => {
	const box = document.querySelector(".verdict").cloneNode(true);
	box.querySelectorAll("button, [popover]").forEach((e) => e.remove());
	const several = [...box.querySelectorAll(".several strong")].map((e) => e.textContent);
	return { names: several.length ? several : [box.querySelector(".soil").textContent], sure: box.querySelector(".sure").textContent,
		trust: box.querySelector(".trust").textContent, firm: box.querySelector(".trust").matches(".firm") };
})()`

// The thresholds of both stand in two languages, Go and JavaScript: the page and
// the report that it saves must say the same of a reading, namely the classes over
// it, how sure they are, and how far to trust it.
func TestPageAndReportSayTheSame(t *testing.T) {
	for _, c := range []struct {
		sample string
		photos int // the last ones; 0 for all
		names  int // how many classes stand over it at least
	}{{"plot-07-by-the-brook", 0, 1}, {"plot-12-old-orchard", 0, 1}, {"plot-23-below-the-terrace", 0, 2}, {"plot-07-by-the-brook", 1, 1}} {
		t.Run(c.sample+strings.Repeat(", one photo", c.photos), func(t *testing.T) {
			s := open(t, desktop)
			s.openJar(c.sample)
			s.read()
			if c.photos > 0 {
				browsertest.Eval[any](s.Page, `import("/js/store.js").then(async (store) => {
					const [jar] = await store.jars();
					await store.edit(jar.id, (j) => { for (const k of ["temp", "water-depth"]) delete j.record[k]; });
					for (const p of jar.answer.reading.photos.slice(0, -1)) await store.removePhoto(jar.id, p.file);
				}).then(() => null)`)
				s.visit("/")
				s.visit("/jar/" + s.jar().ID + "/result")
				s.settled()
			}
			assert.GreaterOrEqual(t, len(s.sameInReport()), c.names)
			s.clean()
		})
	}
}

// sameInReport compares the result in view with the report saved of it, and gives
// the names over it.
func (s *story) sameInReport() []string {
	s.t.Helper()
	shown := browsertest.Eval[struct {
		Names       []string
		Sure, Trust string
		Firm        bool
	}](s.Page, verdict)
	_, data := s.Download(func() { s.press("result-report") })
	part := func(re *regexp.Regexp, n int) string {
		m := re.FindSubmatch(data)
		require.NotNil(s.t, m, re)
		return html.UnescapeString(string(m[n]))
	}
	names := shown.Names[0]
	if last := len(shown.Names) - 1; last > 0 {
		names = strings.Join(shown.Names[:last], ", ") + " or " + shown.Names[last]
	}
	assert.Equal(s.t, strings.ToLower(part(reportHead, 1)), strings.ToLower(names))
	assert.Equal(s.t, part(reportSure, 1), strings.NewReplacer(" (", ", ", ")", "").Replace(shown.Sure))
	// The report gives the reason for a wide interval within the sentence.
	trust, because, _ := strings.Cut(strings.TrimSuffix(part(reportTrust, 2), "."), ", because ")
	assert.True(s.t, strings.HasPrefix(shown.Trust, trust+"."), "%q and %q", shown.Trust, trust)
	assert.Contains(s.t, strings.ToLower(shown.Trust), because)
	assert.Equal(s.t, part(reportTrust, 1) != "", shown.Firm)
	return shown.Names
}
