package batch

import (
	"context"
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/jar"
	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
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
	filter("plot 10")
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

// The page is in the language that is asked for, all of it.
func TestIndexInOtherLanguages(t *testing.T) {
	out := indexed(t)
	m, err := readManifest(filepath.Join(out, manifestName(whole)))
	require.NoError(t, err)
	for tag, wanted := range map[string][]string{
		"es": {`<html lang="es">`, "<h1>7 frascos de tierra</h1>", "5 leídos, 2 sin leer.", "2 de ellos piden otra mirada.", "Mira primero estos", "Todos los frascos", "Qué hacer: ", `data-name="Arena"`},
		"fr": {`<html lang="fr">`, "<h1>7 bocaux de terre</h1>", "5 lus, 2 non lus.", "À regarder d’abord", "Tous les bocaux", "Que faire\u00a0: ", `data-name="Sable"`},
	} {
		l, err := words.Find(tag)
		require.NoError(t, err)
		t1 := tables{lang: l, out: out, left: m.Left}
		for _, e := range m.Jars {
			t1.rows = append(t1.rows, readDone(filepath.Join(out, e.Folder)).Row)
		}
		var b strings.Builder
		require.NoError(t, t1.index(&b))
		for _, text := range wanted {
			assertHolds(t, b.String(), text)
		}
		for key, text := range texts(t) {
			if l.Text(key) != text {
				assert.False(t, strings.Contains(b.String(), ">"+text+"<"), "English in %s: %s", tag, text)
			}
		}
		p := browsertest.OpenFile(t, written(t, b.String()), browsertest.View{Width: 1280, Height: 900})
		assert.Empty(t, p.Faults())
		assert.Zero(t, p.Sideways())
		if dir := os.Getenv("MUDLINE_PICTURES"); dir != "" {
			require.NoError(t, os.WriteFile(filepath.Join(dir, "index-"+tag+".png"), p.Screenshot(), 0o644))
		}
	}
}

// texts are the page's own in English.
func texts(t *testing.T) map[string]string {
	data, err := words.File("en")
	require.NoError(t, err)
	var all map[string]any
	require.NoError(t, json.Unmarshal(data, &all))
	out := map[string]string{}
	for key, text := range all {
		if s, ok := text.(string); ok && strings.HasPrefix(key, "index.") {
			out[key] = s
		}
	}
	require.Greater(t, len(out), 20)
	return out
}

func written(t *testing.T, page string) string {
	name := filepath.Join(t.TempDir(), indexName)
	require.NoError(t, os.WriteFile(name, []byte(page), 0o644))
	return name
}

// A class below two thirds is not named alone, neither on the page nor in the
// table, and jars of one name are told apart by where they lie.
func TestUnlikelyClassIsNotNamedAlone(t *testing.T) {
	root := tree(t, map[string]string{"5a/plot 1/x_1min.jpg": "", "5b/plot 1/x_1min.jpg": ""})
	opt := options(filepath.Join(t.TempDir(), "out"))
	opt.Analyse = func(ctx context.Context, f []jar.File, r record.Record, o jar.Options) (*jar.Result, error) {
		res, err := made(ctx, f, r, o)
		res.Reading.Class = &reading.Class{System: "usda", Name: "clay", Probability: 0.45, Others: []reading.OtherClass{{Name: "silt loam", Probability: 0.3}, {Name: "silt", Probability: 0.1}}}
		res.Reading.Warnings = []reading.Warning{{Code: "odd_line"}, {Code: "floating"}, {Code: "odd_line"}}
		return res, err
	}
	assert.Equal(t, Summary{Jars: 2, Read: 2, Doubtful: 2}, run(t, root, opt))
	got := results(t, opt.Out)
	assertHolds(t, got[indexName], `<td role="cell" class="class" data-sort="Clay or silt loam">Clay or silt loam<br><span class="note">One of these, 75 in 100 together</span>`)
	assertHolds(t, got[indexName], "<bdi>5a/plot 1</bdi>")
	assertHolds(t, got[indexName], "clay 20 percent (15 to 25), clay or silt loam. 2 plot 1:") // the triangle in words
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(got[csvName], "\ufeff"))).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 3)
	cell := func(name string) string { return rows[1][slices.Index(rows[0], name)] }
	assert.Equal(t, "clay", cell("class"))
	assert.Equal(t, "clay or silt loam", cell("class_named"))
	assert.Equal(t, "odd_line floating", cell("warnings"), "each code once")
}

// No jar tells a hundredth of a percent.
func TestDigitsOfTheTable(t *testing.T) {
	assert.Equal(t, []string{"60.4", "0.899", "48.58", "0"}, []string{rounded(60.4084, 1), rounded(0.8985, 3), rounded(48.5767, 2), rounded(0.0004, 1)})
}

// A page of many doubtful jars opens with those that matter most.
func TestManyDoubtfulJars(t *testing.T) {
	t1 := tables{out: t.TempDir()}
	for i := range 40 {
		r := Row{ID: fmt.Sprintf("j%02d", i), Name: fmt.Sprintf("j%02d", i), Folder: "x", Status: StatusRead, Fractions: &reading.Fractions{}, Doubts: []words.Message{words.Say("look.single-photo")}}
		if i >= 35 {
			r.Doubts = append(r.Doubts, words.Say("look.odd-line"))
		}
		t1.rows = append(t1.rows, r)
	}
	var b strings.Builder
	require.NoError(t, t1.index(&b))
	open, folded, _ := strings.Cut(b.String(), "<details>")
	assert.Equal(t, mostOpen, strings.Count(open, "<li>"))
	for _, name := range []string{"j35", "j39", "j00", "j06"} {
		assertHolds(t, open, "<bdi>"+name+"</bdi>")
	}
	assertHolds(t, open, "40 of them need a second look")
	assertHolds(t, folded, "28 more, less doubtful")
	for i := range t1.rows[:20] {
		t1.rows[i].Status, t1.rows[i].Refused = StatusRefused, &reading.Refusal{Text: "no", Remedy: "yes"}
	}
	b.Reset()
	require.NoError(t, t1.index(&b))
	open, _, _ = strings.Cut(b.String(), "<details>")
	assert.Equal(t, 20, strings.Count(open, "<li>"), "what was not read is never folded away")
}
