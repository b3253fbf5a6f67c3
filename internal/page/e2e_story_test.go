package page_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/browsertest"
	"mudline/internal/desk"
	"mudline/internal/reading"
)

// A jar from its setting up to the saved report, with what the page shows and
// keeps compared with what the command line reads.
func TestTheStoryOfAJar(t *testing.T) {
	for _, c := range []struct {
		name, sample string
		view         browsertest.View
		set          map[string]string
		down         string // when it was set down; empty for now
	}{
		{"phone", "plot-07-by-the-brook", phone, map[string]string{"name": "Plot 7, by the brook", "water-depth": "132 mm", "temp": "9 C"}, ""},
		{"desktop", "plot-12-old-orchard", desktop, map[string]string{"name": "Plot 12, old orchard", "water-depth": "5 1/2 in", "temp": "69 F"}, "2026-05-30T10:21:28"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.name != "phone" {
				long(t)
			}
			s := open(t, c.view)
			s.setUp(c.set, c.down)
			s.Choose("input[type=file][multiple]", photosOf(t, sample(c.sample))...)
			s.looked(3)
			s.read()
			assert.LessOrEqual(t, s.Taps()-s.optional, 12, "from the first visit to the first reading, without what nobody must answer")
			first := s.sameAsNative(c.sample, c.set["name"])
			s.shows(first)
			s.dragAndUndo(c.sample, c.set["name"])
			s.feel(c.sample, c.set["name"])
			s.compare(c.set["name"])
			s.keepAndReturn(c.sample, c.set["name"])
			s.clean()
		})
	}
}

// setUp walks through the questions of a new jar.
func (s *story) setUp(set map[string]string, down string) {
	s.t.Helper()
	s.press("home-new")
	s.at("/new")
	for _, step := range []string{"name", "", "water-depth", "temp"} {
		heading := map[string]string{"name": "setup-name", "": "setup-fill", "water-depth": "field-water-depth", "temp": "setup-temp"}[step]
		s.Wait("the question "+heading, fmt.Sprintf("document.querySelector('h1').innerText === %q", s.word(heading)))
		if step == "" {
			s.soilBeforeItIsFilled(set["water-depth"])
		} else {
			number, unit := set[step], ""
			if step != "name" {
				number, unit = number[:strings.LastIndex(number, " ")], number[strings.LastIndex(number, " ")+1:]
				s.Wait("the unit of the person's region", fmt.Sprintf("document.querySelector('.with-unit select')?.value === %q", unit))
			}
			s.Wait("the question", `document.querySelector(".field input")?.value === ""`)
			s.Type(".field input", number)
		}
		s.press("next")
	}
	s.Wait("the last question", fmt.Sprintf("document.querySelector('h1').innerText === %q", s.word("setup-shake")))
	if down == "" {
		s.press("set-down-now")
	} else {
		s.press("setup-earlier")
		s.Set("input[type=datetime-local]", down)
		s.press("setup-earlier-keep")
	}
	s.at("/jar/[^/]+")
	rec := s.jar().Record
	for k, v := range set {
		assert.Equal(s.t, v, rec[k])
	}
	if down == "" {
		assert.Regexp(s.t, `^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+]0[01]:00$`, rec["shaken"])
		s.Wait("the time to the first photo", `/^[0-9]+:[0-9]{2}$/.test(document.querySelector(".due .clock")?.innerText)`)
	} else {
		assert.Equal(s.t, down+"+01:00", rec["shaken"], "British summer time")
	}
}

// soilBeforeItIsFilled asks how much soil goes in, in the unit of the water's height, as it
// is typed.
func (s *story) soilBeforeItIsFilled(depth string) {
	s.t.Helper()
	before := s.Taps()
	defer func() { s.optional += s.Taps() - before }()
	number, unit := depth[:strings.LastIndex(depth, " ")], depth[strings.LastIndex(depth, " ")+1:]
	s.Wait("the share of the soil", fmt.Sprintf("document.querySelector('[role=status].strong').innerText === %q", s.word("setup-soil", "share", "1/5")))
	s.Type(".field input", number)
	want := map[string]string{"132 mm": "26 mm", "5 1/2 in": "1.1 in"}[depth]
	s.Wait("the soil for it", fmt.Sprintf("document.querySelector('[role=status].strong').innerText === %q && document.activeElement.matches('.field input')", s.word("setup-soil-of", "height", want)))
	s.Set(".with-unit select", map[string]string{"mm": "in", "in": "mm"}[unit])
	s.Wait("what is no such height, in its unit", "document.querySelector('[aria-invalid=true]')")
}

// sameAsNative compares the stored reading with the pipeline's own.
func (s *story) sameAsNative(sampleName, name string) reading.Reading {
	s.t.Helper()
	j := s.jar(name)
	require.NotEmpty(s.t, j.Answer.Reading)
	same(s.t, native(s.t, j.Record, sample(sampleName), j.Photos), string(j.Answer.Reading))
	var r reading.Reading
	require.NoError(s.t, json.Unmarshal(j.Answer.Reading, &r))
	require.NotNil(s.t, r.Fractions)
	return r
}

// shows compares what the result says with the reading.
func (s *story) shows(r reading.Reading) {
	s.t.Helper()
	s.settled()
	if r.Class != nil {
		assert.True(s.t, strings.HasPrefix(strings.ToLower(s.text(".verdict .soil")), r.Class.Name), s.text(".verdict .soil"))
	}
	for name, e := range map[string]reading.Estimate{"sand": r.Fractions.Sand, "silt": r.Fractions.Silt, "clay": r.Fractions.Clay} {
		got := strings.Join(strings.Fields(s.text(".bar."+name+" .bar-value")), " ")
		assert.Equal(s.t, fmt.Sprintf("%.0f %% %.0f to %.0f", math.Round(e.Percent), math.Round(e.Low), math.Round(e.High)), got, name)
	}
}

// placed waits until the stored reading is that of the lines as they stand, and
// gives it.
func (s *story) placed(name, stated string) string {
	s.t.Helper()
	s.Wait("the line is "+stated, fmt.Sprintf(`await import("/js/store.js").then(async (store) => {
		const desk = await import("/js/desk.js");
		const j = (await store.jars()).find((one) => one.record.name === %q);
		const lines = Object.values(j.record.photos || {}).map((p) => p.lines).filter(Boolean);
		const is = lines.length === 0 ? "not stated" : "stated";
		return is === %q && desk.fresh(j, (await store.photoNames(j.id)).map((n) => ({ name: n }))) && !document.querySelector(".strip.busy");
	})`, name, stated))
	return string(s.jar(name).Answer.Reading)
}

func (s *story) dragAndUndo(sampleName, name string) {
	s.t.Helper()
	before := string(s.jar(name).Answer.Reading)
	s.press("result-adjust")
	const handle = ".handle.deposit-top"
	s.Wait("the lines", fmt.Sprintf("document.querySelector(%q) && !document.querySelector('.strip.busy')", handle))
	shown := s.text(".strip")
	s.Drag(handle, 0, -24)
	dragged := s.placed(name, "stated")
	assert.NotEqual(s.t, shown, s.text(".strip"), "the numbers in sight follow the line")
	assert.Greater(s.t, browsertest.Eval[int](s.Page, "performance.getEntriesByName('preview').length"), 0, "they follow it while it moves")
	s.sameAsNative(sampleName, name)

	s.press("photo-undo")
	same(s.t, before, s.placed(name, "not stated"))
	s.Wait("the old numbers", fmt.Sprintf("document.querySelector('.strip').innerText === %q", shown))
	s.press("photo-redo")
	same(s.t, dragged, s.placed(name, "stated"))
	s.press("photo-undo")
	s.placed(name, "not stated")

	browsertest.Eval[any](s.Page, fmt.Sprintf("document.querySelector(%q).focus(), 0", handle))
	s.Keys(kb.ArrowUp + kb.ArrowUp + kb.ArrowUp + kb.Enter)
	assert.NotEqual(s.t, before, s.placed(name, "stated"), "by the keyboard")
	s.Keys("z", browsertest.Ctrl)
	same(s.t, before, s.placed(name, "not stated"))
	s.press("photo-done")
	s.at("/jar/[^/]+/result")
	s.settled()
}

// feel answers the hand test: the first answer of each choice, nothing else.
func (s *story) feel(sampleName, name string) {
	s.t.Helper()
	s.press("result-hands-do")
	s.at("/jar/[^/]+/hands")
	s.press("hands-begin")
	for asked := 0; ; asked++ {
		require.Less(s.t, asked, 30)
		s.Wait("a question or the end", fmt.Sprintf(`document.querySelector(".hands progress") || document.querySelector("h1").innerText === %q`, s.word("hands-end")))
		if !browsertest.Eval[bool](s.Page, `Boolean(document.querySelector(".hands progress"))`) {
			assert.Greater(s.t, asked, 3)
			break
		}
		at := fmt.Sprintf("document.querySelector('.hands progress')?.value === %d", asked)
		s.Wait("the next question", at)
		if browsertest.Eval[bool](s.Page, `Boolean(document.querySelector(".choice"))`) {
			s.PressOn(".choice")
		} else {
			s.press("hands-skip")
		}
		s.Wait("the answer is kept", "!("+at+")")
	}
	s.Wait("what the hands say", `document.querySelector(".hands-say, .questions-back")`)
	assert.NotNil(s.t, s.sameAsNative(sampleName, name).Hand)
	s.press("photo-done")
	s.at("/jar/[^/]+/result")
	s.settled()
}

// compare opens a second jar, reads it and sets both side by side.
func (s *story) compare(name string) {
	s.t.Helper()
	const second = "Plot 23, below the terrace (rendered)"
	s.openJar("plot-23-below-the-terrace")
	s.read()
	s.sameAsNative("plot-23-below-the-terrace", second)
	s.press("menu-compare")
	s.at("/compare")
	s.Wait("both jars", `document.querySelectorAll(".jar-table tbody tr").length === 2 && document.querySelector(".compared svg")`)
	table := s.text(".jar-table")
	assert.Contains(s.t, table, name)
	assert.Contains(s.t, table, second)
	_, csv := s.Download(func() { s.press("compare-csv") })
	assert.Contains(s.t, string(csv), second)
}

// keepAndReturn saves report and jar, removes the jar, and opens it from its
// file again.
func (s *story) keepAndReturn(sampleName, name string) {
	s.t.Helper()
	s.Go("/jar/" + s.jar(name).ID + "/result")
	s.settled()
	r := s.sameAsNative(sampleName, name)
	saved, report := s.Download(func() { s.press("result-report") })
	assert.Equal(s.t, ".html", filepath.Ext(saved))
	html := string(report)
	assert.Contains(s.t, html, name)
	assert.Contains(s.t, strings.ToLower(html), r.Class.Name)
	assert.Contains(s.t, html, "data:image/", "the photos are in it")
	assert.Contains(s.t, html, fmt.Sprintf("%.0f", math.Round(r.Fractions.Sand.Percent)))

	before := s.jar(name)
	_, file := s.Download(func() { s.press("result-file") })
	s.commandLineAgrees(file, string(before.Answer.Reading))

	s.Go("/")
	s.press("home-menu", "name", name)
	s.press("home-remove")
	s.press("remove")
	s.Wait("one jar", `document.querySelectorAll(".jar-card").length === 1`)
	require.Len(s.t, s.jars(), 1)

	again := filepath.Join(s.t.(*testing.T).TempDir(), "jar.zip")
	require.NoError(s.t, os.WriteFile(again, file, 0o644))
	s.Choose("input[accept*=zip]", again)
	s.at("/jar/[^/]+")
	s.looked(3)
	s.read()
	after := s.jar(name)
	assert.Equal(s.t, before.Record, after.Record)
	assert.NotEqual(s.t, before.ID, after.ID)
	same(s.t, string(before.Answer.Reading), string(after.Answer.Reading))
}

// commandLineAgrees unpacks a jar file and has the command line read the folder.
func (s *story) commandLineAgrees(file []byte, want string) {
	s.t.Helper()
	p, err := desk.ReadPack(file)
	require.NoError(s.t, err)
	same(s.t, want, string(p.Reading))
	dir := s.t.(*testing.T).TempDir()
	text, err := p.Record.YAML("jar.yaml")
	require.NoError(s.t, err)
	for _, f := range append(p.Photos, desk.NamedFile{Name: "jar.yaml", Data: text}) {
		require.NoError(s.t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
	}
	out, err := exec.Command("go", "run", "../../cmd/mudline", "read", dir, "--json").Output()
	require.NoError(s.t, err)
	same(s.t, want, string(out))
}
