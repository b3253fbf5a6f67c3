package page

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"image"
	"image/color"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/words"
)

// siteFiles are the files of the built site; without the program the tests that
// need it are skipped, or fail in CI.
func siteFiles(t *testing.T) map[string][]byte {
	t.Helper()
	files, err := Files()
	if err != nil && os.Getenv("CI") != "true" {
		t.Skip("make page: ", err)
	}
	require.NoError(t, err)
	return files
}

func get(h http.Handler, method, host, target string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, "http://"+host+"/", nil)
	r.URL.Path = target
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func handler() http.Handler {
	return Handler(map[string][]byte{"index.html": []byte("<p>hello"), "js/a.js": []byte("1"), "secret.txt": []byte("s"),
		programFile: bytes.Repeat([]byte("x"), 100)}, []string{"localhost", "127.0.0.1", "::1", "192.168.1.7"})
}

func TestOnlyTheSiteIsServed(t *testing.T) {
	h := handler()
	w := get(h, "GET", "localhost:8000", "/")
	assert.Equal(t, http.StatusOK, w.Code)
	assert.Equal(t, "<p>hello", w.Body.String())
	assert.Equal(t, "text/html; charset=utf-8", w.Header().Get("Content-Type"))
	assert.Equal(t, "text/javascript; charset=utf-8", get(h, "GET", "localhost", "/js/a.js").Header().Get("Content-Type"))
	for _, target := range []string{"/nothing", "/js", "/js/", "/../go.mod", "/js/../index.html", "//index.html", "/secret.txt", "/index.html/", "/%2e%2e/go.mod", "/js\\a.js"} {
		assert.Equal(t, http.StatusNotFound, get(h, "GET", "localhost", target).Code, target)
	}
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS"} {
		assert.Equal(t, http.StatusMethodNotAllowed, get(h, method, "localhost", "/").Code, method)
	}
	w = get(h, "HEAD", "localhost", "/")
	assert.Equal(t, http.StatusOK, w.Code)
	assert.Empty(t, w.Body.String())
}

// A name of another site that leads here by DNS rebinding is turned away.
func TestOtherNamesAreTurnedAway(t *testing.T) {
	h := handler()
	for _, host := range []string{"localhost", "LOCALHOST:1", "127.0.0.1:8080", "[::1]:8080", "192.168.1.7"} {
		assert.Equal(t, http.StatusOK, get(h, "GET", host, "/").Code, host)
	}
	for _, host := range []string{"evil.example", "evil.example:8080", "localhost.evil.example", "192.168.1.8", "127.0.0.1.nip.example", "[::2]:1"} {
		w := get(h, "GET", host, "/")
		assert.Equal(t, http.StatusMisdirectedRequest, w.Code, host)
		assert.NotContains(t, w.Body.String(), "hello", host)
	}
}

// The policy allows the site's own files and compiled code, nothing inline and
// nothing from elsewhere (CSP level 3).
func TestThePolicyIsStrict(t *testing.T) {
	got := get(handler(), "GET", "localhost", "/").Header().Get("Content-Security-Policy")
	assert.Contains(t, got, "default-src 'none'")
	assert.Contains(t, got, "script-src 'self' 'wasm-unsafe-eval'")
	for _, loose := range []string{"unsafe-inline", "'unsafe-eval'", "http:", "https:", "*"} {
		assert.NotContains(t, got, loose)
	}
	// The page states the same for hosts that send no headers; frame-ancestors
	// has no meaning in a page itself.
	files := siteFiles(t)
	meta := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]+)"`).FindSubmatch(files["index.html"])
	require.NotNil(t, meta)
	assert.Equal(t, strings.TrimSuffix(Policy, "; frame-ancestors 'none'"), string(meta[1]))
}

func TestNothingOfTheSiteComesFromElsewhere(t *testing.T) {
	inline := regexp.MustCompile(`\sstyle=|<style|\son[a-z]+=["']|javascript:`)
	outside := regexp.MustCompile(`(?:src|href|import|from|url)\s*[=(]?\s*["']?(?:https?:)?//`)
	for name, data := range siteFiles(t) {
		if name == loaderFile || path.Ext(name) == ".gz" || path.Ext(name) == ".png" {
			continue
		}
		assert.NotRegexp(t, outside, string(data), name)
		if path.Ext(name) == ".html" || path.Ext(name) == ".js" {
			assert.NotRegexp(t, inline, string(data), name)
		}
		assert.NotEmpty(t, types[path.Ext(name)], "%s is of a kind that is not served", name)
	}
}

// What goes over the wire, every file packed by gzip as a web server would: the page, and
// apart from it what is fetched only where it is needed.
func TestTheSiteIsSmall(t *testing.T) {
	const limit, later = 4_000_000, 300_000
	total, rare := 0, 0
	for name, data := range siteFiles(t) {
		if OnDemand(name) {
			continue
		}
		size := len(data)
		if path.Ext(name) != ".gz" && path.Ext(name) != ".png" {
			var b bytes.Buffer
			z := gzip.NewWriter(&b)
			_, err := z.Write(data)
			require.NoError(t, err)
			require.NoError(t, z.Close())
			size = b.Len()
		}
		if slices.Contains(Later, name) {
			rare += size
		} else {
			total += size
		}
	}
	t.Logf("%d bytes on the wire, and %d more for HEIC photos in a browser that cannot decode them", total, rare)
	assert.LessOrEqual(t, total, limit)
	assert.LessOrEqual(t, rare, later)
}

func TestTheServiceWorkerKnowsEveryFile(t *testing.T) {
	files := siteFiles(t)
	m := regexp.MustCompile(`const FILES = (\[.*\]);`).FindSubmatch(files[workerFile])
	require.NotNil(t, m)
	var listed []string
	require.NoError(t, json.Unmarshal(m[1], &listed))
	want := slices.DeleteFunc(slices.Sorted(maps.Keys(files)), func(n string) bool { return n == workerFile || OnDemand(n) || slices.Contains(Later, n) })
	assert.Equal(t, want, listed)
	m = regexp.MustCompile(`const LATER = (\[.*\]);`).FindSubmatch(files[workerFile])
	require.NotNil(t, m)
	require.NoError(t, json.Unmarshal(m[1], &listed))
	assert.Equal(t, Later, listed)
	version := regexp.MustCompile(`VERSION = "([0-9a-f]{16})"`)
	before := version.FindSubmatch(files[workerFile])
	require.NotNil(t, before)

	changed := maps.Clone(files)
	source, err := site.ReadFile("site/" + workerFile)
	require.NoError(t, err)
	changed[workerFile] = source
	changed["page.css"] = append(bytes.Clone(files["page.css"]), ' ')
	require.NoError(t, sealWorker(changed))
	assert.NotEqual(t, string(before[1]), string(version.FindSubmatch(changed[workerFile])[1]), "a changed file is a new version")
}

// Every key that the page's code asks for is in the catalogue.
func TestEveryWordAskedForIsThere(t *testing.T) {
	data, err := words.File("en")
	require.NoError(t, err)
	var english map[string]any
	require.NoError(t, json.Unmarshal(data, &english))
	asked := regexp.MustCompile(`\bt\("([^"]+)"|"(do\.[^"]+)"`) // the second by their keys, in remedy.js
	n := 0
	for name, text := range siteFiles(t) {
		if path.Ext(name) != ".js" {
			continue
		}
		for _, m := range asked.FindAllSubmatch(text, -1) {
			n++
			assert.Contains(t, english, string(m[1])+string(m[2]), name)
		}
	}
	assert.Greater(t, n, 50)
}

// The code is read back by another library's reader from a picture of the printed
// blocks.
func TestTheCodeCanBeScanned(t *testing.T) {
	const address = "http://192.168.178.23:54321/"
	text, err := Code(address)
	require.NoError(t, err)
	plain := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(text, "")
	lines := strings.Split(strings.TrimSuffix(plain, "\n"), "\n")
	const px = 4
	width := len([]rune(lines[0]))
	pic := image.NewGray(image.Rect(0, 0, width*px, 2*len(lines)*px))
	for y, line := range lines {
		require.Len(t, []rune(line), width)
		for x, r := range []rune(line) {
			for half, dark := range []bool{r == '█' || r == '▀', r == '█' || r == '▄'} {
				shade := color.Gray{255}
				if dark {
					shade = color.Gray{0}
				}
				for i := range px * px {
					pic.SetGray(x*px+i%px, (2*y+half)*px+i/px, shade)
				}
			}
		}
	}
	bmp, err := gozxing.NewBinaryBitmapFromImage(pic)
	require.NoError(t, err)
	got, err := qrcode.NewQRCodeReader().Decode(bmp, nil)
	require.NoError(t, err)
	assert.Equal(t, address, got.GetText())
}
