package page

import (
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"text/template/parse"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// reporting are the files whose texts reach a person in a report.
var reporting = []string{"html*.go", "words.go", "scene.go", "hand.go"}

// reportSentences collects what a report may say: what stands in its templates, and
// what its code composes.
func reportSentences(t *testing.T) []string {
	found := map[string]bool{}
	folder := filepath.Join("..", "report")
	for _, pattern := range reporting {
		names, err := filepath.Glob(filepath.Join(folder, pattern))
		require.NoError(t, err)
		require.NotEmpty(t, names, pattern)
		for _, name := range names {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			require.NoError(t, err)
			collect(file, found)
		}
	}
	for _, text := range templates(t) {
		eachCommand(text.Root, func(name string, first *parse.StringNode) {
			if s := strings.TrimSpace(holed(first.Text)); hasLetters.MatchString(s) {
				found[s] = true
			}
		})
	}
	return slices.Sorted(maps.Keys(found))
}

var hasLetters = regexp.MustCompile(`[A-Za-z]{2}`)

// templates are those of the report, all that are defined in them.
func templates(t *testing.T) map[string]*parse.Tree {
	names, err := filepath.Glob(filepath.Join("..", "report", "page", "*.html"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	all := map[string]*parse.Tree{}
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		tree := parse.New(filepath.Base(name))
		tree.Mode = parse.SkipFuncCheck
		_, err = tree.Parse(string(data), "{{", "}}", all)
		require.NoError(t, err)
	}
	return all
}

// eachCommand visits the commands of a template that begin with a text for a person.
func eachCommand(n parse.Node, visit func(name string, first *parse.StringNode)) {
	switch x := n.(type) {
	case *parse.ListNode:
		if x != nil {
			for _, child := range x.Nodes {
				eachCommand(child, visit)
			}
		}
	case *parse.ActionNode:
		eachCommand(x.Pipe, visit)
	case *parse.PipeNode:
		for _, c := range x.Cmds {
			eachCommand(c, visit)
		}
	case *parse.CommandNode:
		if name, ok := x.Args[0].(*parse.IdentifierNode); ok && len(x.Args) > 1 && slices.Contains([]string{"say", "tell", "fill", "printf"}, name.Ident) {
			if text, ok := x.Args[1].(*parse.StringNode); ok {
				visit(name.Ident, text)
			}
		}
		for _, a := range x.Args {
			eachCommand(a, visit)
		}
	case *parse.IfNode:
		eachCommand(x.List, visit)
		eachCommand(x.ElseList, visit)
	case *parse.WithNode:
		eachCommand(x.List, visit)
		eachCommand(x.ElseList, visit)
	case *parse.RangeNode:
		eachCommand(x.List, visit)
		eachCommand(x.ElseList, visit)
	}
}

// unwritten are texts in the report's files that no HTML report holds: they are drawn
// into annotated photos or printed in a terminal.
var unwritten = []*regexp.Regexp{
	regexp.MustCompile(`^(by thickness alone|corrected, by weight|after|sand \{1\}, silt \{2\}, clay \{3\}|.*see the reading)$`),
	regexp.MustCompile(`^(By hand|It may be this|What would settle it: )`),
	regexp.MustCompile(`^(<div class|the report of|default-src|; script-src)`),
}

// Every sentence of the report is in the catalogue of every language, with the same
// places to fill in.
func TestEverySentenceOfTheReportIsTranslated(t *testing.T) {
	all := reportSentences(t)
	require.Greater(t, len(all), 150)
	for _, r := range unwritten {
		assert.True(t, slices.ContainsFunc(all, r.MatchString), "no text is like %s", r)
	}
	for _, l := range []string{"es", "fr"} {
		catalogue := map[string]string{}
		for _, name := range []string{l, "report." + l} {
			for from, to := range said(t, name) {
				catalogue[strings.ToLower(from)] = to
			}
		}
		for _, s := range all {
			if slices.ContainsFunc(unwritten, func(r *regexp.Regexp) bool { return r.MatchString(s) }) {
				continue
			}
			text, ok := catalogue[strings.ToLower(s)]
			if assert.True(t, ok && text != "", "%s lacks: %s", l, s) {
				assert.ElementsMatch(t, anyHole.FindAllString(s, -1), anyHole.FindAllString(text, -1), "%s: %s", l, s)
			}
		}
	}
}
