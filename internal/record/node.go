package record

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"mudline/internal/words"
)

// node is a value of a record as it was written, in a jar.yaml or by a front end: what
// reads a record knows neither of YAML nor of trees.
type node struct {
	kind kind
	line int // in the file, from 1; 0 where there is none
	text string
	list []node
	keys []named
}

// named is a value under its name.
type named struct {
	name  string
	line  int
	value node
}

type kind int

const (
	nothing kind = iota // states nothing
	aText
	aList
	someKeys
	unfit // what no value of a record is
)

// nodeOf is what a node of YAML states.
func nodeOf(n ast.Node) node {
	if n == nil || n.Type() == ast.NullType {
		return node{}
	}
	out := node{kind: unfit, line: lineOf(n)}
	if values, ok := entries(n); ok {
		out.kind = someKeys
		for _, v := range values {
			key := v.Key.GetToken()
			out.keys = append(out.keys, named{key.Value, key.Position.Line, nodeOf(bare(v.Value))})
		}
		return out
	}
	switch v := n.(type) {
	case *ast.SequenceNode:
		out.kind = aList
		for _, item := range v.Values {
			out.list = append(out.list, nodeOf(item))
		}
	case ast.ScalarNode:
		if n.Type() != ast.LiteralType {
			out.kind, out.text = aText, scalar(n)
		}
	}
	return out
}

// node is what the tree states, its keys in the order of the table.
func (t Tree) node() (node, error) { return branchNode(t, 0) }

func branchNode(m map[string]any, depth int) (node, error) {
	if depth > maxDepth {
		return node{}, errTooDeep
	}
	out := node{kind: someKeys}
	for _, k := range inOrder(m, depth) {
		v, err := valueNode(k, m[k], depth)
		if err != nil {
			return node{}, err
		}
		if empty, isMap := m[k].(map[string]any); m[k] == nil || isMap && len(empty) == 0 {
			continue // not written
		}
		out.keys = append(out.keys, named{name: k, value: v})
	}
	if len(out.keys) == 0 {
		return node{}, nil
	}
	return out, nil
}

func valueNode(key string, v any, depth int) (node, error) {
	switch v := v.(type) {
	case nil:
		return node{}, nil
	case string:
		return node{kind: aText, text: oneLine(v)}, nil
	case map[string]any:
		return branchNode(v, depth+1)
	case []any:
		out := node{kind: aList}
		for _, x := range v {
			s, ok := x.(string)
			if !ok {
				return node{}, textOnly(key)
			}
			out.list = append(out.list, node{kind: aText, text: oneLine(s)})
		}
		return out, nil
	}
	return node{}, noValue(key, v)
}

// oneLine is a text as it comes back from a file.
func oneLine(s string) string {
	return strings.TrimSpace(strings.NewReplacer("\n", " ", "\r", " ", "\t", " ").Replace(s))
}

func textOnly(key string) error {
	return words.Say("record.about", words.Name("what", key), words.Told("why", words.Say("record.text-only")))
}

func noValue(key string, v any) error {
	return fmt.Errorf("%s: %T is neither text, list nor keys", key, v)
}

// inOrder are the keys of a tree: those a person knows first, others by name.
func inOrder(m map[string]any, depth int) []string {
	order := keyNames()
	return slices.SortedFunc(maps.Keys(m), func(a, c string) int {
		ia, ic := slices.Index(order, a), slices.Index(order, c)
		if depth > 0 || ia == ic {
			return strings.Compare(a, c)
		}
		if ia < 0 || ic >= 0 && ic < ia {
			return 1
		}
		return -1
	})
}
