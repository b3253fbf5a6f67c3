package batch

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

// indexed makes the index page of jars of all kinds.
func indexed(t *testing.T) (out string) {
	list := map[string]string{"IMG_1.png": "no picture"}
	for i, name := range []string{"Plot 10", "plot 2", "Bed <b>bold</b> & =1", "🌱 حديقة", strings.Repeat("long name ", 20)} {
		list[fmt.Sprintf("%d/a_1min.jpg", i)] = fmt.Sprintf("photo %d", i)
		list[fmt.Sprintf("%d/jar.yaml", i)] = "name: \"" + name + "\"\n"
	}
	list["5/a_1min.jpg"], list["6/a_1min.jpg"] = "refuse", "panic"
	opt := options(filepath.Join(t.TempDir(), "out"))
	run(t, tree(t, list), opt)
	return opt.Out
}

func TestIndexInABrowser(t *testing.T) {
	file := filepath.Join(indexed(t), indexName)
	for _, v := range []browsertest.View{{Width: 390, Height: 844}, {Width: 1280, Height: 900}, {Width: 1280, Height: 900, Dark: true}, {Width: 390, Height: 844, Text: 2}} {
		t.Run(fmt.Sprint(v), func(t *testing.T) {
			p := browsertest.OpenFile(t, file, v)
			assert.Empty(t, p.Barriers(), "axe-core")
			assert.Zero(t, p.Sideways(), "nothing sticks out")
			assert.Len(t, p.Requests(), 1, "nothing but the file itself is asked for")
			assert.Empty(t, p.Faults())
			if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
				require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("index-%d-%v-%g.png", v.Width, v.Dark, v.Text)), p.Screenshot(), 0o644))
			}
		})
	}
}

func TestIndexSortsAndFilters(t *testing.T) {
	p := browsertest.OpenFile(t, filepath.Join(indexed(t), indexName), browsertest.View{Width: 1280, Height: 900})
	names := func() string {
		return browsertest.Eval[string](p, `[...document.querySelectorAll("tbody tr")].filter(r => !r.hidden).map(r => r.cells[1].dataset.sort.slice(0, 7)).join("|")`)
	}
	press := func(column int) {
		browsertest.Eval[bool](p, fmt.Sprintf(`(b => { b.focus(); b.click(); return document.activeElement === b })(document.querySelectorAll("thead th")[%d].querySelector("button"))`, column))
	}
	assert.True(t, strings.HasPrefix(names(), "6|5|"), "the fault and the refusal come first: %s", names())
	press(1)
	assert.Equal(t, "🌱 حدي|5|6|Bed <b>|long na|plot 2|Plot 10", strings.ReplaceAll(names(), "🌱 حديق", "🌱 حدي"), "by name, numbers as numbers")
	assert.Equal(t, "ascending", browsertest.Eval[string](p, `document.querySelectorAll("thead th")[1].getAttribute("aria-sort")`))
	press(1)
	assert.True(t, strings.HasPrefix(names(), "Plot 10|plot 2|"), names())
	press(3)
	sand := browsertest.Eval[string](p, `[...document.querySelectorAll("tbody tr")].map(r => r.cells[3].dataset.sort).join(" ")`)
	assert.Regexp(t, `^(\d+ ){5}\s*$`, sand+" ", "by sand, those without come last")
	filter := func(words string) {
		browsertest.Eval[bool](p, fmt.Sprintf(`(w => { w.value = %q; return w.dispatchEvent(new Event("input")) })(document.getElementById("words"))`, words))
	}
	filter("plot 1")
	assert.Equal(t, "Plot 10", names())
	assert.Equal(t, "1 of 7 jars shown.", browsertest.Eval[string](p, `document.getElementById("count").textContent`))
	filter("")
	browsertest.Eval[bool](p, `(o => { o.click(); return o.checked })(document.getElementById("only"))`)
	assert.Len(t, strings.Split(names(), "|"), 2)
	assert.Empty(t, p.Faults())
}

func TestIndexPrints(t *testing.T) {
	p := browsertest.OpenFile(t, filepath.Join(indexed(t), indexName), browsertest.View{Width: 1280, Height: 900})
	for _, paper := range []browsertest.Paper{browsertest.A4, browsertest.Letter} {
		_, sheets := p.Print(paper)
		assert.Equal(t, 2, sheets, paper.Name)
	}
}

// assertHolds does not print the page.
func assertHolds(t *testing.T, page, want string) {
	t.Helper()
	assert.True(t, strings.Contains(page, want), "the page holds %q", want)
}

func TestIndexEscapes(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(indexed(t), indexName))
	require.NoError(t, err)
	page := string(data)
	assertHolds(t, page, "Bed &lt;b&gt;bold&lt;/b&gt; &amp; =1")
	assertHolds(t, page, `"Bed%20-b-bold--b-%20&amp;%20=1/report.html"`)
	assertHolds(t, page, "IMG_1.png")
	assert.Less(t, strings.Index(page, "Look at these first"), strings.Index(page, "All jars</h2>"))
}

// Beyond a size the thumbnails stay files.
func TestIndexOfManyThumbnails(t *testing.T) {
	out := t.TempDir()
	var rows []Row
	size := pageBytes / 8
	for i := range 8 {
		r := Row{ID: fmt.Sprint(i), Name: fmt.Sprint(i), Folder: fmt.Sprintf("j %d", i), Status: StatusRead}
		require.NoError(t, os.Mkdir(filepath.Join(out, r.Folder), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(out, r.Folder, ThumbName), make([]byte, size), 0o644))
		rows = append(rows, r)
	}
	var b strings.Builder
	few := tables{out: out, rows: rows[:4]}
	require.NoError(t, few.index(&b))
	assert.Equal(t, 4, strings.Count(b.String(), "data:image/jpeg;base64,"))
	assert.Greater(t, b.Len(), 4*base64.StdEncoding.EncodedLen(size))
	b.Reset()
	all := tables{out: out, rows: rows}
	require.NoError(t, all.index(&b))
	assert.Less(t, b.Len(), 100_000)
	assert.Contains(t, b.String(), `src="j%207/thumb.read.jpg"`)
	assert.Contains(t, b.String(), "img-src &#39;self&#39; file:")
}
