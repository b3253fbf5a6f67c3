package page

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// speaking are the folders whose texts reach a person in the page: readings,
// warnings, refusals, questions and advice.
var speaking = []string{"imaging", "imaging/bare", "layers", "texture", "texture/feel", "texture/moisture", "internal/jar", "internal/advice", "internal/record", "internal/desk"}

var (
	verb  = regexp.MustCompile(`%(?:[-+#0]*[0-9]*(?:\.[0-9]+)?[sdfgqvwxt]|%)`)
	prose = regexp.MustCompile(`[a-z]{2,}[,;:]? [a-z0-9%{(]`)
)

// holed turns a format into a sentence of the catalogue: its verbs become {1},
// {2} and so on.
func holed(format string) string {
	n := 0
	return verb.ReplaceAllStringFunc(format, func(v string) string {
		if v == "%%" {
			return "%"
		}
		n++
		return fmt.Sprintf("{%d}", n)
	})
}

// sentences collects what the speaking folders may say: their string literals,
// joined where they are added up, that read like prose.
func sentences(t *testing.T) []string {
	found := map[string]bool{}
	for _, folder := range speaking {
		names, err := filepath.Glob(filepath.Join("..", "..", filepath.FromSlash(folder), "*.go"))
		require.NoError(t, err)
		require.NotEmpty(t, names, folder)
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			require.NoError(t, err)
			collect(file, found)
		}
	}
	var out []string
	for s := range found {
		out = append(out, s)
	}
	slices.Sort(out)
	return out
}

func collect(in ast.Node, found map[string]bool) {
	ast.Inspect(in, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.ImportSpec, *ast.Field:
			return false
		case *ast.CallExpr: // a fault of the program's own
			if id, ok := x.Fun.(*ast.Ident); ok && id.Name == "panic" {
				return false
			}
			if sel, ok := x.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "MustCompile" {
				return false
			}
		case *ast.BinaryExpr:
			if s, ok := joined(x); ok {
				keep(s, found)
				return false
			}
		case *ast.BasicLit:
			if s, ok := joined(x); ok {
				keep(s, found)
			}
		}
		return true
	})
}

// joined is the text of literals added up, with a verb for what is not literal,
// and whether there is any literal in it.
func joined(e ast.Expr) (string, bool) {
	switch x := e.(type) {
	case *ast.BasicLit:
		if x.Kind == token.STRING {
			s, err := strconv.Unquote(x.Value)
			return s, err == nil
		}
	case *ast.ParenExpr:
		return joined(x.X)
	case *ast.BinaryExpr:
		if x.Op != token.ADD {
			break
		}
		a, okA := joined(x.X)
		b, okB := joined(x.Y)
		return a + b, okA || okB
	}
	return "%v", false
}

func keep(s string, found map[string]bool) {
	if s = strings.TrimSpace(holed(s)); prose.MatchString(s) {
		found[s] = true
	}
}

// said reads the sentences of a language: pairs of English and translation.
func said(t *testing.T, language string) map[string]string {
	data, err := fs.ReadFile(site, "site/words/"+language+".json")
	require.NoError(t, err)
	var words struct {
		Said [][2]string `json:"said"`
	}
	require.NoError(t, json.Unmarshal(data, &words))
	out := map[string]string{}
	for _, p := range words.Said {
		out[p[0]] = p[1]
	}
	return out
}

// unsaid are literals that read like prose and that no person meets in the page.
var unsaid = []*regexp.Regexp{
	regexp.MustCompile(`^# What `), // the comments of a starter jar.yaml
	regexp.MustCompile(`^(cannot write|there already; |\{1\} is \{2\}$|\{1\} \{2\}; add these)`), // writing files: a page has none
	regexp.MustCompile(`^is written in an unusual way`),                                          // so, too, editing a jar.yaml
	regexp.MustCompile(`^(the strip |give the strip |the bow of|the time \(\{1)`),                // of strips, which the program cuts itself
	regexp.MustCompile(`^taken \{1\} s after`),                                                   // it sorts photos by time before
	regexp.MustCompile(`%T`),          // a record that only a fault of the page makes
	regexp.MustCompile(`^bytes % x$`), // a format; "bytes {1}" is in the catalogue
	regexp.MustCompile(`^(floc share|grain curve|grain density|hindered settling)$`),                                                                                                         // codes of causes
	regexp.MustCompile(`^(clay|organic matter) \{1\} % is (above|outside)|^sand \{1\} %, clay|^outside the soils that`),                                                                      // errors that advice keeps to itself
	regexp.MustCompile(`^(apple tree|berry bush|garden pea|(bell|sweet) pepper|(summer|winter) squash|(cool|warm)-season turf|(french|snap|string) bean|(field|grain|sweet) (corn|maize))$`), // read, not said
	regexp.MustCompile(`^photo \{1\}: \{2\}; \{3\}$`),                                                                                                                                        // a refusal as an error; a person is shown its parts
	regexp.MustCompile(`^per day$`),               // read, not said
	regexp.MustCompile(`^\{1\} \{2\} is outside`), // its two uses are in the catalogue
}

func unspoken(s string) bool {
	return slices.ContainsFunc(unsaid, func(r *regexp.Regexp) bool { return r.MatchString(s) })
}

var anyHole = regexp.MustCompile(`\{\d+\}`)

// Every sentence the program can say is in the catalogue of every language, with
// the same places to fill in; where the page has a wording of its own, with the
// places of that. MUDLINE_SENTENCES=file writes them out.
func TestEverySentenceIsTranslated(t *testing.T) {
	all := sentences(t)
	require.Greater(t, len(all), 100)
	if name := os.Getenv("MUDLINE_SENTENCES"); name != "" {
		text, err := json.MarshalIndent(all, "", "  ")
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(name, text, 0o644))
	}
	own := said(t, "said.en")
	for _, r := range unsaid {
		assert.True(t, slices.ContainsFunc(all, r.MatchString), "no sentence is like %s", r)
	}
	for _, l := range []string{"es", "fr"} {
		catalogue := said(t, l)
		for _, s := range all {
			if unspoken(s) {
				continue
			}
			text, ok := catalogue[s]
			if !assert.True(t, ok && text != "", "%s lacks: %s", l, s) {
				continue
			}
			model := s
			if own[s] != "" {
				model = own[s]
			}
			assert.ElementsMatch(t, anyHole.FindAllString(model, -1), anyHole.FindAllString(text, -1), "%s: %s", l, s)
		}
	}
}

// The words of charts are formats, filled in by order: a translation keeps it.
func TestChartFormatsKeepTheirOrder(t *testing.T) {
	for _, l := range []string{"es", "fr"} {
		data, err := fs.ReadFile(site, "site/words/"+l+".json")
		require.NoError(t, err)
		var words map[string]any
		require.NoError(t, json.Unmarshal(data, &words))
		n := 0
		for key, text := range words {
			if format, ok := strings.CutPrefix(key, "chart:"); ok {
				n++
				assert.Equal(t, verb.FindAllString(format, -1), verb.FindAllString(text.(string), -1), "%s: %s", l, format)
			}
		}
		assert.Greater(t, n, 50)
	}
}

// The page has no command line and no jar.yaml: no text of it speaks of them.
func TestThePageSpeaksOfNoCommandLine(t *testing.T) {
	foreign := regexp.MustCompile(`(^|[\s("])--?[a-z]|jar\.yaml|reading\.json|mudline [a-z]+ --`)
	own := said(t, "said.en")
	for _, s := range sentences(t) {
		if foreign.MatchString(s) && !unspoken(s) {
			assert.NotEmpty(t, own[s], "said.en lacks: %s", s)
		}
	}
	for _, l := range []string{"en", "said.en", "es", "fr"} {
		data, err := fs.ReadFile(site, "site/words/"+l+".json")
		require.NoError(t, err)
		var words map[string]any
		require.NoError(t, json.Unmarshal(data, &words))
		for key, v := range words {
			if text, ok := v.(string); ok {
				assert.NotRegexp(t, foreign, text, "%s: %s", l, key)
			}
		}
		for from, to := range said(t, l) {
			assert.NotRegexp(t, foreign, to, "%s: %s", l, from)
		}
	}
}
