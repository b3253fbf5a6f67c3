package page

import (
	"context"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"html"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/browsertest"
	"mudline/internal/desk"
	"mudline/internal/record"
	"mudline/internal/words"
)

// pairsOf are the sentences of files of words, in their order.
func pairsOf(t *testing.T, names ...string) (out []words.Pair) {
	for _, name := range names {
		list, _, err := catalogue(site, "site/words/"+name)
		require.NoError(t, err)
		out = append(out, list...)
	}
	return out
}

// speech is what the page hands over with the wish for a report.
func speech(t *testing.T, l string) map[string]any {
	_, charts, err := catalogue(site, "site/words/"+l)
	require.NoError(t, err)
	files := []string{"said.en"}
	if l != "en" {
		files = append(files, l, "report."+l)
	}
	return map[string]any{"language": l, "said": pairsOf(t, files...), "words": charts}
}

// The page's translator and the program's are one: all that is said, and every
// sentence of the catalogue with its places filled in, comes out alike.
func TestBothTranslatorsAgree(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	list := everythingSaid(t)
	for _, s := range append(sentences(t), reportSentences(t)...) {
		for _, fill := range []string{"3", "sand", "Xx. Yy", "2 h: sand; silt", ""} {
			list = append(list, anyHole.ReplaceAllString(s, fill))
		}
	}
	require.Greater(t, len(list), 2000)
	p := wordsPage(t)
	for _, l := range []string{"es", "fr"} {
		said := speech(t, l)["said"].([]words.Pair)
		own := words.Translator(said, func(v string) string { return v })
		pairs, err := json.Marshal(said)
		require.NoError(t, err)
		texts, err := json.Marshal(list)
		require.NoError(t, err)
		there := browsertest.Eval[[]string](p, fmt.Sprintf(`(async () => {
			const { translator } = await import("/js/sentences.js");
			return %s.map(translator(%s));
		})()`, texts, pairs))
		for i, text := range list {
			assert.Equal(t, there[i], own(text), "%s: %s", l, text)
		}
		for _, n := range []string{"7.5", "999.5", "1147", "9999", "10000", "169661", "1234567.25"} {
			_, part, _ := strings.Cut(n, ".")
			there := browsertest.Eval[string](p, fmt.Sprintf("new Intl.NumberFormat(%q, { minimumFractionDigits: %d }).format(%s)", l, len(part), n))
			assert.Equal(t, there, words.New(l, nil, nil, nil).Say(n))
		}
	}
}

// reported are reports in a language of a sample jar read in many ways, by name.
func reported(t *testing.T, l string) map[string]string {
	d := desk.New(imaging.PureGo{})
	dir := filepath.Join("..", "..", "samples", "plot-23-below-the-terrace")
	text, err := os.ReadFile(filepath.Join(dir, record.FileName))
	require.NoError(t, err)
	tree, err := record.ParseTree(record.FileName, text)
	require.NoError(t, err)
	paths, err := filepath.Glob(filepath.Join(dir, "*.jpg"))
	require.NoError(t, err)
	var names []string
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		names = append(names, filepath.Base(path))
		_, err = d.Open(filepath.Base(path), data, nil, with(t, tree, nil))
		require.NoError(t, err)
	}
	out := map[string]string{}
	report := func(name string, inches bool) {
		request := speech(t, l)
		request["inches"], request["fahrenheit"] = inches, inches
		asked, err := json.Marshal(request)
		require.NoError(t, err)
		answer, err := d.Ask("report", asked)
		require.NoError(t, err)
		out[name] = answer.(map[string]string)["html"]
	}
	a, err := d.Read(context.Background(), with(t, tree, nil), names)
	require.NoError(t, err)
	require.NotNil(t, a.Reading)
	report("plain", false)
	if l == "en" { // the page's English differs in what it says of the command line alone
		own, err := d.Report()
		require.NoError(t, err)
		command := func(s string) bool { return strings.Contains(s, "--") }
		there, here := read(string(own)), read(out["plain"])
		require.Len(t, here, len(there))
		assert.True(t, slices.ContainsFunc(there, command))
		assert.False(t, slices.ContainsFunc(here, command))
		for i, s := range there {
			assert.True(t, s == here[i] || command(s), "%s\nbecame %s", s, here[i])
		}
	}
	report("inches", true)
	last := names[len(names)-1]
	hands := map[string]any{"hands": "practised", "ball": "firm", "failure": "deforms", "grit": "none", "smooth": "some", "sticky": "strong", "ribbons": []any{"80 mm", "95 mm"},
		"colour-moist": "dark brown", "smell": "sour", "stones-out": "yes", "kneaded": "no", "moistened": "yes"}
	for name, change := range map[string]record.Tree{
		"agree":         {"hand": hands, "crop": "tomato", "organic-matter": "4 %", "daily-use": "3.5 mm", "rooting-depth": "450 mm"},
		"disagree":      {"hand": map[string]any{"hands": "practised", "ball": "none", "grit": "strong", "smooth": "none", "sticky": "none", "ribbons": []any{"none"}}},
		"asked":         {"hand": map[string]any{"ball": "none", "ribbons": []any{"9 mm", "80 mm"}}},
		"canadian":      {"system": "canadian", "temp": nil},
		"international": {"system": "international"},
		"placed":        {"photos": map[string]any{last: map[string]any{"lines": map[string]any{"sand-top": "12 mm"}}}},
	} {
		a, err := d.Preview(with(t, tree, change))
		require.NoError(t, err)
		require.NotNil(t, a.Reading, "%s: %s %v", name, a.Mistake, a.Refused)
		report(name, false)
	}
	for name, of := range map[string][]string{"early": names[:1], "one": names[2:]} {
		a, err := d.Read(context.Background(), with(t, tree, record.Tree{"water-depth": nil, "temp": nil}), of)
		require.NoError(t, err)
		if a.Reading != nil {
			report(name, false)
		}
	}
	return out
}

var (
	unread  = regexp.MustCompile(`(?s)<style>.*?</style>|base64,[^"]*|<math.*?</math>`)
	visible = regexp.MustCompile(`>([^<]+)<|(?:aria-label|alt)="([^"]*)"`)
)

// read are the texts that a person reads or hears of a page.
func read(page string) (out []string) {
	for _, m := range visible.FindAllStringSubmatch(unread.ReplaceAllString(page, ""), -1) {
		if s := strings.TrimSpace(html.UnescapeString(m[1] + m[2])); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// Of a report in another language nothing stays English: every text that it shares
// with the English one is a number, a name, or the same in both by the catalogue.
func TestNothingOfAReportStaysEnglish(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	english := reported(t, "en")
	require.GreaterOrEqual(t, len(english), 9)
	names := regexp.MustCompile(`^(Plot 23.*|[\w]+\.jpg|dark brown|go|(\d+ (d|h|min|s) ?)+|[\d ±.,/()%-]*( ?(mm|cm|µm))?)$`)
	for _, l := range []string{"es", "fr"} {
		same := map[string]bool{}
		_, charts, err := catalogue(site, "site/words/"+l)
		require.NoError(t, err)
		for from, to := range charts {
			same[to] = same[to] || from == to
		}
		for _, p := range pairsOf(t, l, "report."+l) {
			same[strings.ToLower(p[1])] = same[strings.ToLower(p[1])] || strings.EqualFold(p[0], p[1])
		}
		for name, page := range reported(t, l) {
			known := map[string]bool{}
			for _, s := range read(english[name]) {
				known[s] = true
			}
			require.Greater(t, len(known), 200, name)
			assert.Contains(t, page, `<html lang="`+l+`">`)
			for _, s := range slices.Compact(slices.Sorted(slices.Values(read(page)))) {
				if known[s] && !same[s] && !same[strings.ToLower(strings.TrimSuffix(s, "."))] && !same[strings.ToLower(s)] && !names.MatchString(s) {
					t.Errorf("%s, %s: stays English: %s", l, name, s)
				}
				assert.NotRegexp(t, `\b0\.\d|\d\.\d{1,2}( |$)`, s, "%s, %s: a decimal point", l, name)
				assert.NotRegexp(t, `(^|\s)--[a-z]|%!|\{\d+\}`, s, "%s, %s", l, name)
			}
		}
	}
}

// refusals are the sentences of refusals that only a batch makes.
func refusals(t *testing.T) map[string]bool {
	found := map[string]bool{}
	names, err := filepath.Glob(filepath.Join("..", "batch", "*.go"))
	require.NoError(t, err)
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		if filepath.Base(name) == "remedy.go" {
			collect(file, found)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if x, ok := n.(*ast.CompositeLit); ok {
				if sel, ok := x.Type.(*ast.SelectorExpr); ok && sel.Sel.Name == "Refusal" {
					for _, e := range x.Elts {
						collect(e, found)
					}
				}
			}
			return true
		})
	}
	maps.DeleteFunc(found, func(s string, _ bool) bool { return strings.HasPrefix(s, `"photos`) }) // a part of the others
	return found
}

// asOption gives what a sentence of a batch is in a reading, and one that names a line
// for all lines.
var asOption = strings.NewReplacer(`"shaken: 2026-06-05 11:38"`, `--shaken "2026-06-05 11:38"`, `"photos: {{1}: {elapsed: 2h}}"`, "--elapsed {1}=2h", `"box: [x0, y0, x1, y1]"`, "--box x0,y0,x1,y1",
	":floor=", ":{2}=", ":sand-top=", ":{2}=", ":silt-top=", ":{2}=", ":deposit-top=", ":{2}=", "{1}:water=...px", "{1}:{2}=...px")

// The command line writes the same languages, with its own remedies in them.
func TestLanguagesOfTheCommandLine(t *testing.T) {
	l, err := Language("en")
	require.NoError(t, err)
	assert.Nil(t, l)
	_, err = Language("xx")
	assert.ErrorContains(t, err, "en, es, fr")
	own, batch := said(t, "said.en"), refusals(t)
	require.Greater(t, len(batch), 10)
	for _, tag := range []string{"es", "fr"} {
		l, err := Language(tag)
		require.NoError(t, err)
		assert.Equal(t, tag, l.Tag())
		assert.NotEmpty(t, l.Charts())
		list, _, err := catalogue(command, "command/"+tag)
		require.NoError(t, err)
		known := map[string]bool{}
		for _, p := range list {
			known[p[0]] = true
		}
		for s := range batch {
			assert.True(t, known[s], "%s lacks: %s", tag, s)
		}
		options := regexp.MustCompile(`--[a-z-]+( [A-Za-z{}\d]+:[a-z-]+=| \{1\}:\{2\}=|x0,y0,x1,y1)?`)
		for _, p := range list {
			assert.Equal(t, options.FindAllString(p[0], -1), options.FindAllString(p[1], -1), "%s: %s", tag, p[0])
			assert.ElementsMatch(t, anyHole.FindAllString(p[0], -1), anyHole.FindAllString(p[1], -1), "%s: %s", tag, p[0])
			assert.True(t, own[p[0]] != "" || own[asOption.Replace(p[0])] != "" || batch[p[0]], "no sentence of the program: %s", p[0])
		}
	}
}

// A report in each language fits phone and desk, and axe-core finds no barrier.
// MUDLINE_SHOTS=folder keeps pictures.
func TestReportsInEveryLanguageFit(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and nothing runs side by side in it; the plain run has it")
	}
	for _, l := range []string{"es", "fr"} {
		all := reported(t, l)
		for _, name := range []string{"agree", "inches"} {
			file := filepath.Join(t.TempDir(), name+".html")
			require.NoError(t, os.WriteFile(file, []byte(all[name]), 0o644))
			for _, width := range []int{320, 390, 1200} {
				p := browsertest.OpenFile(t, file, browsertest.View{Width: width, Height: 800})
				browsertest.Eval[any](p, "document.querySelectorAll('details').forEach((d) => { d.open = true; })")
				assert.Zero(t, p.Sideways(), "%s, %s at %d", l, name, width)
				assert.Empty(t, p.Barriers(), "%s, %s at %d", l, name, width)
				assert.Empty(t, p.Faults())
				if dir := os.Getenv("MUDLINE_SHOTS"); dir != "" {
					require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("report-%s-%s-%d.png", l, name, width)), p.Screenshot(), 0o644))
				}
			}
		}
	}
}

// The page puts inches and gallons beside as the report does.
func TestBothPutInchesBeside(t *testing.T) {
	var list []string
	advice := texts{}
	advice.advice(t)
	for text := range advice {
		if strings.Contains(text, " mm") || strings.Contains(text, "litres") {
			list = append(list, text)
		}
	}
	require.Greater(t, len(list), 50)
	texts, err := json.Marshal(list)
	require.NoError(t, err)
	p := wordsPage(t)
	for _, l := range words.Tags() {
		there := browsertest.Eval[[][2]string](p, fmt.Sprintf(`(async () => {
			const words = await import("/js/words.js"), { beside } = await import("/js/beside.js");
			words.settings.language = %q;
			await words.load();
			return %s.map(words.said).flatMap((text) => [text, text.replace("1000", "1\u202f000")]).map((text) => [text, beside(text)]);
		})()`, l, texts))
		changed, own := 0, words.New(l, nil, nil, nil)
		for _, said := range there {
			assert.Equal(t, said[1], own.Beside(said[0]), l)
			if said[0] != said[1] {
				changed++
			}
		}
		assert.Greater(t, changed, 20, l)
	}
}
