package reading_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// code is a constant that holds a code.
type code struct{ name, value string }

// constants are the text constants of a file whose type, or whose name's beginning, is
// given.
func constants(t *testing.T, file, typeName, prefix string) (out []code) {
	parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	require.NoError(t, err)
	ast.Inspect(parsed, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if !ok || len(spec.Values) != 1 {
			return true
		}
		kind, _ := spec.Type.(*ast.Ident)
		if typed := kind != nil && kind.Name == typeName; typed != (typeName != "") || !strings.HasPrefix(spec.Names[0].Name, prefix) {
			return true
		}
		if lit, ok := spec.Values[0].(*ast.BasicLit); ok && lit.Kind == token.STRING {
			value, err := strconv.Unquote(lit.Value)
			require.NoError(t, err)
			out = append(out, code{spec.Names[0].Name, value})
		}
		return true
	})
	require.NotEmpty(t, out, file)
	return out
}

func values(list []code) (out []string) {
	for _, c := range list {
		out = append(out, c.value)
	}
	return out
}

// What packages imaging and layers call their refusals, doubts and notes is declared here
// too, under the same text, but for what never leaves them.
func TestCodesOfTheDomain(t *testing.T) {
	refusals := values(constants(t, "codes.go", "RefusalCode", ""))
	warnings := values(constants(t, "codes.go", "WarningCode", ""))
	own := domainCodes(t)
	assert.Subset(t, refusals, values(own["Code"]))
	assert.Subset(t, warnings, values(own["Doubt"]))
	assert.Subset(t, warnings, values(own["Note"]))
	assert.Subset(t, append(refusals, "bad_strip", "bad_line"), values(own["Refused"]), "package jar makes mistakes or faults of the last two")
}

// domainCodes are the constants of the packages that know nothing of this one, by how
// their names begin.
func domainCodes(t *testing.T) map[string][]code {
	out := map[string][]code{}
	for prefix, file := range map[string]string{"Code": "imaging/refusal.go", "Doubt": "imaging/quality.go", "Note": "layers/notes.go", "Refused": "layers/refuse.go"} {
		out[prefix] = constants(t, filepath.Join("..", "..", filepath.FromSlash(file)), "", prefix)
	}
	return out
}

// The schema and the help list the codes, all of them and no others.
func TestCodesAreDocumented(t *testing.T) {
	var schema struct {
		Defs map[string]struct {
			AnyOf []struct{ Enum []string }
		} `json:"$defs"`
	}
	require.NoError(t, json.Unmarshal(reading.Schema, &schema))
	for _, c := range []struct{ typeName, def, topic string }{
		{"RefusalCode", "refusal_code", "refusals"}, {"WarningCode", "warning_code", "warnings"},
	} {
		declared := values(constants(t, "codes.go", c.typeName, ""))
		assert.ElementsMatch(t, declared, schema.Defs[c.def].AnyOf[0].Enum, "schema.json: %s", c.def)
		guides, err := filepath.Glob(filepath.Join("..", "..", "cmd", "mudline", "help", "*", "topics", c.topic+".txt"))
		require.NoError(t, err)
		require.Len(t, guides, 3, "one for each language")
		for _, guide := range guides {
			text, err := os.ReadFile(guide)
			require.NoError(t, err)
			var told []string
			for _, line := range regexp.MustCompile(`(?m)^[a-z_]+(?:, [a-z_]+)*$`).FindAllString(string(text), -1) {
				told = append(told, strings.Split(line, ", ")...)
			}
			assert.ElementsMatch(t, declared, told, guide)
		}
	}
}

// No code is written out where it is used, and none is declared that nothing uses.
func TestCodesAreDeclaredOnce(t *testing.T) {
	declared := append(constants(t, "codes.go", "RefusalCode", ""), constants(t, "codes.go", "WarningCode", "")...)
	byValue, used := map[string]string{}, map[string]bool{}
	for _, c := range declared {
		assert.Empty(t, byValue[c.value], "%s and %s", byValue[c.value], c.name)
		byValue[c.value] = c.name
	}
	root := filepath.Join("..", "..")
	for _, list := range domainCodes(t) {
		for _, c := range list {
			used[byValue[c.value]] = true
		}
	}
	for _, top := range []string{"cmd", "internal"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(root, top), func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || filepath.Base(name) == "codes.go" {
				return err
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(parsed, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.SelectorExpr:
					if of, ok := n.X.(*ast.Ident); ok && of.Name == "reading" {
						used[n.Sel.Name] = true
					}
				case *ast.CallExpr:
					assertNoLiteral(t, name, n)
				case *ast.BinaryExpr:
					asks := of(n.X) == "Code" || of(n.Y) == "Code"
					assert.False(t, asks && (isText(n.X) || isText(n.Y)), "%s compares a code with a text", name)
				case *ast.BasicLit:
					text, _ := strconv.Unquote(n.Value)
					assert.False(t, n.Kind == token.STRING && strings.Contains(text, "_") && byValue[text] != "", "%s writes %s out", name, n.Value)
				}
				return true
			})
			return nil
		}))
	}
	for _, c := range declared {
		assert.True(t, used[c.name], "nothing uses %s", c.name)
	}
}

// assertNoLiteral asks that the calls which make refusals and warnings are given a
// declared code.
func assertNoLiteral(t *testing.T, file string, call *ast.CallExpr) {
	at, ok := map[string]int{"Refuse": 0, "refuse": 0, "Warn": 0, "WarnOf": 1}[of(call.Fun)]
	if ok && at < len(call.Args) {
		assert.False(t, isText(call.Args[at]), "%s gives %s a text for a code", file, of(call.Fun))
	}
}

// of is the name of what is called or asked for.
func of(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.SelectorExpr:
		return e.Sel.Name
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// isText says whether a text is written out.
func isText(e ast.Expr) bool {
	lit, ok := e.(*ast.BasicLit)
	return ok && lit.Kind == token.STRING && lit.Value != `""`
}
