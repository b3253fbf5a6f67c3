package page_test

import (
	"bytes"
	"encoding/json"
	"html"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/report"
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
	for i, c := range []struct {
		sample string
		photos int // the last ones; 0 for all
		names  int // how many classes stand over it at least
	}{{"plot-07-by-the-brook", 0, 1}, {"plot-12-old-orchard", 0, 1}, {"plot-23-below-the-terrace", 0, 2}, {"plot-07-by-the-brook", 1, 1}} {
		t.Run(c.sample+strings.Repeat(", one photo", c.photos), func(t *testing.T) {
			if i == 1 || i == 2 { // like the first
				long(t)
			}
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
			if i == 0 {
				s.sameTrust()
			}
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
	assert.Equal(s.t, asPage(part(reportTrust, 2)), shown.Trust)
	assert.Equal(s.t, part(reportTrust, 1) != "", shown.Firm)
	return shown.Names
}

// asPage is how far to trust a reading as the page words what the report says: the reason
// for a wide interval is a sentence of its own, and that no class is named stands above it.
func asPage(report string) string {
	text := strings.Replace(report, "No class is named, and a ", "A ", 1)
	if sentence, because, ok := strings.Cut(text, ", because "); ok {
		text = sentence + ". " + strings.ToUpper(because[:1]) + because[1:]
	}
	return text
}

// trusts are readings for each of the ways in which it is said how far to trust one, made of one
// that names a class.
var trusts = map[string]func(r *reading.Reading){
	"none":          func(r *reading.Reading) { r.Fractions, r.Class = nil, nil },
	"hands":         func(r *reading.Reading) { r.Hand = &reading.Hand{Verdict: "disagree"} },
	"no class":      func(r *reading.Reading) { r.Class = nil },
	"no class, far": func(r *reading.Reading) { r.Class, r.Fractions.Silt.High = nil, r.Fractions.Silt.Low+40 },
	"both":          func(r *reading.Reading) { r.Class.Probability = 0.95 },
	"class":         func(r *reading.Reading) { r.Class.Probability, r.Fractions.Silt.High = 0.95, r.Fractions.Silt.Low+40 },
	"likely":        func(r *reading.Reading) { r.Class.Probability = 0.75 },
	"guess":         func(r *reading.Reading) { twoClasses(r) },
	"guess, one photo": func(r *reading.Reading) {
		twoClasses(r)
		r.Warnings = []reading.Warning{{Code: reading.SinglePhoto}}
	},
	"several": func(r *reading.Reading) { r.Class.Probability, r.Class.Others = 0.2, nil },
	"several, one layer": func(r *reading.Reading) {
		r.Class.Probability, r.Class.Others = 0.2, nil
		r.Warnings = []reading.Warning{{Code: reading.OneLayer}}
	},
}

func twoClasses(r *reading.Reading) {
	r.Class.Probability, r.Class.Others = 0.45, []reading.OtherClass{{Name: "sandy loam", Probability: 0.4}}
}

// sameTrust holds what the page says of how far to trust each of those readings against
// what a report says.
func (s *story) sameTrust() {
	s.t.Helper()
	given := browsertest.Eval[string](s.Page, `import("/js/store.js").then(async (store) => JSON.stringify((await store.jars())[0].answer.reading))`)
	told := map[string]bool{}
	for name, change := range trusts {
		var r reading.Reading
		require.NoError(s.t, json.Unmarshal([]byte(given), &r))
		require.NotNil(s.t, r.Class)
		r.Hand, r.Warnings = nil, []reading.Warning{}
		change(&r)
		var b bytes.Buffer
		require.NoError(s.t, report.HTML(&b, report.ReportInput{Result: jar.Result{Reading: r}}))
		m := reportTrust.FindStringSubmatch(b.String())
		require.NotNil(s.t, m, name)
		data, err := json.Marshal(r)
		require.NoError(s.t, err)
		shown := browsertest.Eval[struct {
			Text string
			Firm bool
		}](s.Page, `import("/js/fractions.js").then((m) => m.trust(`+string(data)+`))`)
		assert.Equal(s.t, asPage(html.UnescapeString(m[2])), shown.Text, name)
		assert.Equal(s.t, m[1] != "", shown.Firm, name)
		told[shown.Text] = true
	}
	assert.GreaterOrEqual(s.t, len(told), 9, "each is said in its own way")
}
