package page_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/browsertest"
	"mudline/internal/desk"
	"mudline/internal/jar"
	"mudline/internal/page"
	"mudline/internal/record"
)

// The sizes the page is looked at.
var (
	phone   = browsertest.View{Width: 360, Height: 740, Touch: true, Language: "en-GB", Zone: "Europe/London"}
	desktop = browsertest.View{Width: 1280, Height: 800, Language: "en-US", Zone: "Europe/London"}
)

// files is the built site; without the program a test is skipped, or fails in CI.
func files(t testing.TB) map[string][]byte {
	t.Helper()
	if testing.Short() {
		t.Skip("no browser in short runs")
	}
	out, err := page.Files()
	if err != nil && os.Getenv("CI") != "true" {
		t.Skip("make page: ", err)
	}
	require.NoError(t, err)
	return out
}

// host serves a site that can be exchanged for another while it runs.
type host struct {
	*httptest.Server
	handler atomic.Value
}

func serve(t testing.TB, site map[string][]byte) *host {
	h := &host{}
	h.hold(site)
	h.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { h.handler.Load().(http.Handler).ServeHTTP(w, r) }))
	t.Cleanup(h.Close)
	return h
}

func (h *host) hold(site map[string][]byte) {
	h.handler.Store(page.Handler(site, []string{"127.0.0.1"}))
}

// story is a page on its way through a jar, with the English words it shows.
type story struct {
	*browsertest.Page
	t     testing.TB
	host  *host
	words map[string]any
	// optional is how many taps went to what nobody must answer.
	optional int
}

// open opens the page at home; each has a server, and so a storage, of its own.
func open(t testing.TB, v browsertest.View) *story {
	t.Helper()
	return openAt(t, serve(t, files(t)), v)
}

func openAt(t testing.TB, h *host, v browsertest.View) *story {
	t.Helper()
	s := &story{Page: browsertest.Open(t, "about:blank", v), t: t, host: h}
	s.Visit(h.URL)
	require.NoError(t, json.Unmarshal(files(t)["words/en.json"], &s.words))
	s.Wait("the page", `document.querySelector("#view h1")`)
	return s
}

// word is the English text of a key, filled in with pairs of name and value.
func (s *story) word(key string, fill ...any) string {
	s.t.Helper()
	text, ok := s.words[key].(string)
	require.True(s.t, ok, "no word %s", key)
	for i := 0; i < len(fill); i += 2 {
		text = strings.ReplaceAll(text, fmt.Sprintf("{%s}", fill[i]), fmt.Sprint(fill[i+1]))
	}
	return text
}

// press presses what shows the text of a key.
func (s *story) press(key string, fill ...any) {
	s.t.Helper()
	s.Press(s.word(key, fill...))
}

// at waits for a view by the pattern of its address.
func (s *story) at(pattern string) {
	s.t.Helper()
	s.Wait("view "+pattern, fmt.Sprintf("/^#?%s$/.test(location.hash) && document.querySelector('#view h1')", strings.ReplaceAll(pattern, "/", `\/`)))
}

// text is what an element shows.
func (s *story) text(selector string) string {
	s.t.Helper()
	s.Wait(selector, fmt.Sprintf("document.querySelector(%q)", selector))
	return browsertest.Eval[string](s.Page, fmt.Sprintf("document.querySelector(%q).innerText", selector))
}

// clean says that the console is silent and that nothing was asked of anyone
// but the page's own server.
func (s *story) clean() {
	s.t.Helper()
	assert.Empty(s.t, s.Faults())
	own, err := url.Parse(s.host.URL)
	require.NoError(s.t, err)
	requests := s.Requests()
	require.NotEmpty(s.t, requests)
	for _, r := range requests {
		u, err := url.Parse(strings.TrimPrefix(r, "blob:"))
		require.NoError(s.t, err)
		assert.True(s.t, u.Host == own.Host || r == "about:blank", "%s is asked for", r)
	}
}

// stored is a jar as the browser keeps it.
type stored struct {
	ID     string
	Record record.Tree
	Answer struct {
		Reading json.RawMessage
		Refused json.RawMessage
		Lines   []desk.PhotoLines
	}
	Photos []string
}

// long is of tests in the browser that take half a minute and more each, and in part what
// others do in another place: make browser runs them too.
func long(t *testing.T) {
	t.Helper()
	if os.Getenv("MUDLINE_LONG") == "" {
		t.Skip("long: make browser has it")
	}
}

// jars are the jars in the browser, the one changed last first.
func (s *story) jars() []stored {
	s.t.Helper()
	return browsertest.Eval[[]stored](s.Page, `import("/js/store.js").then(async (store) => Promise.all((await store.jars())
		.map(async (j) => ({ id: j.id, record: j.record, answer: j.answer || {}, photos: await store.photoNames(j.id) }))))`)
}

// jar is the one jar there is, or that of a name.
func (s *story) jar(name ...string) stored {
	s.t.Helper()
	all := s.jars()
	for _, j := range all {
		if len(name) == 0 && len(all) == 1 || len(name) == 1 && j.Record["name"] == name[0] {
			return j
		}
	}
	require.Fail(s.t, "no such jar", "%v in %+v", name, all)
	return stored{}
}

// sample is the folder of a sample jar.
func sample(name string) string { return filepath.Join("..", "..", "samples", name) }

// photosOf are the photos of a folder.
func photosOf(t testing.TB, folder string) []string {
	names, err := filepath.Glob(filepath.Join(folder, "*.jpg"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	return names
}

// native is the reading that the command line's own pipeline makes of a record
// and photos.
func native(t testing.TB, tree record.Tree, folder string, names []string) string {
	t.Helper()
	rec, err := tree.Record(record.FileName)
	require.NoError(t, err)
	var photos []jar.File
	for _, n := range names {
		photos = append(photos, jar.File{Name: n, Data: func() ([]byte, error) { return os.ReadFile(filepath.Join(folder, n)) }})
	}
	res, err := jar.Analyse(context.Background(), photos, *rec, jar.Options{Engine: imaging.PureGo{}})
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, res.Reading.Encode(&b))
	return b.String()
}

// same compares two readings field by field, to the last digit that is written
// or the one beside it.
func same(t testing.TB, want, got string) {
	t.Helper()
	var w, g any
	require.NoError(t, json.Unmarshal([]byte(want), &w))
	require.NoError(t, json.Unmarshal([]byte(got), &g), got)
	for _, d := range differences("", w, g) {
		t.Errorf("the readings differ at %s", d)
	}
}

func differences(at string, want, got any) (out []string) {
	switch w := want.(type) {
	case map[string]any:
		g, _ := got.(map[string]any)
		keys := maps.Clone(w)
		maps.Copy(keys, g)
		for _, k := range slices.Sorted(maps.Keys(keys)) {
			out = append(out, differences(at+"."+k, w[k], g[k])...)
		}
	case []any:
		g, _ := got.([]any)
		if len(w) != len(g) {
			return []string{fmt.Sprintf("%s: %d things, not %d", at, len(g), len(w))}
		}
		for i := range w {
			out = append(out, differences(fmt.Sprintf("%s[%d]", at, i), w[i], g[i])...)
		}
	default:
		if want != got && !beside(want, got) {
			out = append(out, fmt.Sprintf("%s: %v, not %v", at, got, want))
		}
	}
	return out
}

// beside says that two numbers are the same but for the last digit written, of
// four or of one: assembly, which math.Exp is on some processors, may round
// otherwise than WebAssembly.
func beside(want, got any) bool {
	w, okW := want.(float64)
	g, okG := got.(float64)
	off := math.Abs(w - g)
	oneDecimal := func(v float64) bool { return math.Abs(v*10-math.Round(v*10)) < 1e-9 }
	return okW && okG && (off < 2.5e-4 || off < 0.11 && oneDecimal(w) && oneDecimal(g))
}

// jarFile writes a sample as the one file of a jar.
func jarFile(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(sample(name), record.FileName))
	require.NoError(t, err)
	tree, err := record.ParseTree(record.FileName, text)
	require.NoError(t, err)
	p := desk.Pack{Record: tree}
	for _, f := range photosOf(t, sample(name)) {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		p.Photos = append(p.Photos, desk.NamedFile{Name: filepath.Base(f), Data: data})
	}
	data, err := p.Write()
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), name+".zip")
	require.NoError(t, os.WriteFile(file, data, 0o644))
	return file
}

// openJar opens a sample from its file and waits until its photos were looked at.
func (s *story) openJar(name string) {
	s.t.Helper()
	s.Go("/")
	s.at("/?")
	s.Choose("input[accept*=zip]", jarFile(s.t, name))
	s.at("/jar/[^/]+")
	s.looked(3)
}

// looked waits until n photos of the jar in view are ready to be read.
func (s *story) looked(n int) {
	s.t.Helper()
	s.Wait(fmt.Sprintf("%d photos", n), fmt.Sprintf(`document.querySelectorAll(".line > li.taken").length === %d && !document.querySelector(".line .spin")`, n))
}

// read reads the jar in view and waits for the result.
func (s *story) read() {
	s.t.Helper()
	s.press("jar-read")
	s.at("/jar/[^/]+/result")
	s.settled()
}

// settled waits until the result in view is drawn to its end.
func (s *story) settled() {
	s.t.Helper()
	s.Wait("the result", `document.querySelector(".verdict") && document.querySelector(".result-keep") && document.querySelector(".figure.triangle svg")`)
	s.still()
}

// still waits until the page has kept its height for a while: what is drawn late
// would move what is about to be pressed.
func (s *story) still() {
	s.t.Helper()
	s.Wait("a page that stands still", `await new Promise((done) => {
		let height = 0, since = 0;
		const timer = setInterval(() => {
			const now = document.documentElement.scrollHeight;
			if (now !== height) { height = now; since = performance.now(); }
			if (performance.now() - since > 400) { clearInterval(timer); done(true); }
		}, 50);
	})`)
}
