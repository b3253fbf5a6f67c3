package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"mudline/internal/words"
)

// Tree is a jar.yaml as a front end keeps it while it is being edited: keys and
// values as they are written, map[string]any, []any and string.
type Tree map[string]any

// ParseTree reads a jar.yaml that Parse accepts into a tree.
func ParseTree(file string, data []byte) (Tree, error) {
	if _, err := Parse(file, data); err != nil {
		return nil, err
	}
	data, err := plainText(file, data)
	if err != nil {
		return nil, err
	}
	doc, err := parser.ParseBytes(data, 0)
	if err != nil {
		return nil, syntaxError(file, err)
	}
	for _, d := range doc.Docs {
		if t, ok := branch(d.Body).(map[string]any); ok {
			return t, nil
		}
	}
	return Tree{}, nil
}

// branch is a node as plain values; nil where nothing is stated.
func branch(n ast.Node) any {
	n = bare(n)
	if n == nil || n.Type() == ast.NullType {
		return nil
	}
	if values, ok := entries(n); ok {
		out := map[string]any{}
		for _, v := range values {
			if b := branch(v.Value); b != nil {
				out[v.Key.GetToken().Value] = b
			}
		}
		return out
	}
	if list, ok := n.(*ast.SequenceNode); ok {
		out := []any{}
		for _, v := range list.Values {
			out = append(out, branch(v))
		}
		return out
	}
	if _, ok := n.(ast.ScalarNode); ok {
		return scalar(n)
	}
	return nil
}

// YAML writes the tree as a jar.yaml, and checks that Parse accepts it.
func (t Tree) YAML(file string) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("# What is known about this jar: see mudline new --help.\n")
	if err := writeBranch(&b, t, "", 0); err != nil {
		return nil, inFile(file, 0, words.Because("why", err))
	}
	if _, err := Parse(file, b.Bytes()); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// maxDepth is how deep the record goes: photos, a file, its lines.
const maxDepth = 4

func writeBranch(b *bytes.Buffer, m map[string]any, indent string, depth int) error {
	if depth > maxDepth {
		return errTooDeep
	}
	for _, k := range inOrder(m, depth) {
		name := k
		if !plainKey.MatchString(k) {
			name = quote(k)
		}
		switch v := m[k].(type) {
		case nil:
		case string:
			fmt.Fprintf(b, "%s%s: %s\n", indent, name, quote(v))
		case map[string]any:
			if len(v) == 0 {
				continue
			}
			fmt.Fprintf(b, "%s%s:\n", indent, name)
			if err := writeBranch(b, v, indent+"  ", depth+1); err != nil {
				return err
			}
		case []any:
			items := make([]string, 0, len(v))
			for _, x := range v {
				s, ok := x.(string)
				if !ok {
					return textOnly(k)
				}
				items = append(items, quote(s))
			}
			fmt.Fprintf(b, "%s%s: [%s]\n", indent, name, strings.Join(items, ", "))
		default:
			return noValue(k, v)
		}
	}
	return nil
}

// TreeFromJSON reads a tree from JSON.
func TreeFromJSON(data []byte) (Tree, error) {
	var t Tree
	if err := json.Unmarshal(data, &t); err != nil {
		return nil, &Mistake{err: words.Say("record.not-json", words.Because("why", err))}
	}
	return t, nil
}

// Record reads what the tree states, as Parse reads the file that YAML would write.
func (t Tree) Record(file string) (*Record, error) {
	n, err := t.node()
	if err != nil {
		return nil, inFile(file, 0, words.Because("why", err))
	}
	r := &Record{}
	if n.kind != nothing {
		if err := r.read(file, n); err != nil {
			return nil, err
		}
	}
	if err := r.sound(file); err != nil {
		return nil, err
	}
	return r, nil
}
