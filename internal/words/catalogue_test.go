package words_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/words"
)

var hole = regexp.MustCompile(`\{[a-zA-Z_]\w*\}`)

// catalogue gives the texts of a language, all forms of each.
func catalogue(t *testing.T, tag string) map[string][]string {
	data, err := words.File(tag)
	require.NoError(t, err)
	var raw map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(data, &raw))
	out := map[string][]string{}
	for key, value := range raw {
		var one string
		var forms map[string]string
		if json.Unmarshal(value, &one) == nil {
			out[key] = []string{one}
			continue
		}
		require.NoError(t, json.Unmarshal(value, &forms), "%s: %s", tag, key)
		for _, form := range slices.Sorted(maps.Keys(forms)) {
			assert.Contains(t, []string{"one", "other"}, form, "%s: %s", tag, key)
			out[key] = append(out[key], forms[form])
		}
	}
	return out
}

func holes(forms []string) []string {
	found := map[string]bool{}
	for _, f := range forms {
		for _, h := range hole.FindAllString(f, -1) {
			found[h] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// Every language has every text of English and no other, with all that is filled in.
func TestEveryLanguageHasEveryText(t *testing.T) {
	english := catalogue(t, "en")
	require.Greater(t, len(english), 500)
	for _, tag := range words.Tags() {
		own := catalogue(t, tag)
		for key, forms := range own {
			if _, ok := english[key]; assert.True(t, ok, "%s has a text that English has not: %s", tag, key) {
				assert.Equal(t, holes(english[key]), holes(forms), "%s: %s", tag, key)
			}
			for _, f := range forms {
				assert.NotEmpty(t, strings.TrimSpace(f), "%s: %s", tag, key)
			}
		}
		for key := range english {
			_, ok := own[key]
			assert.True(t, ok, "%s lacks a text: %s", tag, key)
		}
	}
}

// The files are sorted by key, so that two changes to one meet in few places.
func TestCataloguesAreSorted(t *testing.T) {
	line := regexp.MustCompile(`(?m)^  "([^"]+)": `)
	for _, tag := range words.Tags() {
		data, err := words.File(tag)
		require.NoError(t, err)
		var keys []string
		for _, m := range line.FindAllStringSubmatch(string(data), -1) {
			keys = append(keys, m[1])
		}
		assert.Len(t, keys, len(catalogue(t, tag)), tag)
		assert.True(t, slices.IsSorted(keys), tag)
	}
}

// French puts a narrow space before ; ! ? and a wide one before : (Imprimerie nationale);
// what stands between straight quotation marks is to be typed as it stands.
func TestFrenchSpacing(t *testing.T) {
	wrong := regexp.MustCompile(`(^|[^\x{202f}\x{a0};!?…]) ?[;!?]|[^\x{a0}/] ?:(\s|$)`)
	typed := regexp.MustCompile(`"[^"]*"`)
	for key, forms := range catalogue(t, "fr") {
		for _, f := range forms {
			if !strings.Contains(f, "://") {
				assert.NotRegexp(t, wrong, typed.ReplaceAllString(hole.ReplaceAllString(f, "x\u202f"), "x\u202f"), key)
			}
		}
	}
}

// made is a message that the program makes: where, and the names of its arguments; nil
// where they are not plain to see.
type made struct {
	at   string
	args []string
}

// makers are the functions of package words that begin with a key, and those of Language.
var makers = map[string]bool{"Say": true, "Text": true, "say": true}

// argument tells the name of an argument made in place.
func argument(e ast.Expr) string {
	call, ok := e.(*ast.CallExpr)
	if !ok {
		return ""
	}
	if len(call.Args) == 0 {
		return ""
	}
	return literal(call.Args[0])
}

func literal(e ast.Expr) string {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return ""
	}
	s, _ := strconv.Unquote(lit.Value) // of a parsed file: cannot fail
	return s
}

// messages collects what the program's Go files make, by key.
func messages(t *testing.T) (by map[string][]made, mentioned map[string]bool) {
	by, mentioned = map[string][]made{}, map[string]bool{}
	files := token.NewFileSet()
	err := filepath.WalkDir(filepath.Join("..", ".."), func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && slices.Contains([]string{"testdata", ".git", "node_modules", "built", "out", "dist"}, d.Name()) {
			return fs.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		file, err := parser.ParseFile(files, name, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok {
				mentioned[literal(lit)] = true
			}
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) == 0 {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if key := literal(call.Args[0]); ok && makers[sel.Sel.Name] && key != "" && strings.ContainsAny(key, ".-") && !strings.Contains(key, " ") {
				m := made{at: files.Position(call.Pos()).String()}
				for _, a := range call.Args[1:] {
					m.args = append(m.args, argument(a))
				}
				if call.Ellipsis.IsValid() {
					m.args = []string{""}
				}
				by[key] = append(by[key], m)
			}
			return true
		})
		return nil
	})
	require.NoError(t, err)
	return by, mentioned
}

// Every message that the program makes has its text, and is given all that the text
// fills in.
func TestEveryMessageHasItsText(t *testing.T) {
	english := catalogue(t, "en")
	by, _ := messages(t)
	require.NotEmpty(t, by)
	for key, all := range by {
		forms, ok := english[key]
		for _, m := range all {
			if !assert.True(t, ok, "%s: no catalogue has %q", m.at, key) || slices.Contains(m.args, "") {
				continue
			}
			for _, h := range holes(forms) {
				assert.Contains(t, m.args, strings.Trim(h, "{}"), "%s: %q is not given %s", m.at, key, h)
			}
		}
	}
}

// spoken collects what the page's files may use: whole keys, and the beginnings of keys
// that are put together.
func spoken(t *testing.T) (keys map[string]bool, begun []string) {
	keys = map[string]bool{}
	quoted, begins := regexp.MustCompile("[\"'`]([a-z][\\w.-]*)[\"'`]"), regexp.MustCompile("`([a-z][\\w.-]*[.-])\\$\\{|under\\(\"([^\"]+)\"")
	err := filepath.WalkDir(filepath.Join("..", "page", "site"), func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !slices.Contains([]string{".js", ".html"}, filepath.Ext(name)) {
			return err
		}
		data, err := os.ReadFile(name)
		for _, m := range quoted.FindAllStringSubmatch(string(data), -1) {
			keys[m[1]] = true
		}
		for _, m := range begins.FindAllStringSubmatch(string(data), -1) {
			begun = append(begun, m[1]+m[2])
		}
		return err
	})
	require.NoError(t, err)
	return keys, begun
}

// Nothing stands in the catalogues that nobody says: a text is called by its key, by the
// name of its family, or in a template of the report or a file of the page.
func TestEveryTextIsUsed(t *testing.T) {
	_, mentioned := messages(t)
	templates, err := filepath.Glob(filepath.Join("..", "*", "*", "*.html"))
	require.NoError(t, err)
	var html strings.Builder
	for _, name := range templates {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		html.Write(data)
	}
	inPage, begun := spoken(t)
	begun = append(begun, beginnings(mentioned)...)
	for key := range catalogue(t, "en") {
		base, _, _ := strings.Cut(key, "@")
		family, _, _ := strings.Cut(base, ".")
		used := mentioned[base] || family != base && mentioned[family] || strings.Contains(html.String(), `"`+base+`"`) ||
			inPage[base] || inPage[strings.TrimSuffix(base, "-one")] || slices.ContainsFunc(begun, func(b string) bool { return strings.HasPrefix(base, b) })
		assert.True(t, used, "nothing says %q", key)
	}
}

// beginnings are the literals that keys are put together from.
func beginnings(mentioned map[string]bool) []string {
	var out []string
	for m := range mentioned {
		if len(m) > 3 && strings.ContainsAny(m[len(m)-1:], ".-") && !strings.ContainsAny(m, " %") {
			out = append(out, m)
		}
	}
	return out
}
