package record

import (
	"errors"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"

	"mudline/internal/words"
	"mudline/texture/feel"
)

// MaxBytes is the largest jar.yaml that is read.
const MaxBytes = 256 << 10

// Parse reads a jar.yaml. Unknown keys, keys given twice, wrong units and
// values outside their range are each a *Mistake that names the key and its line. file
// is used in messages only.
func Parse(file string, data []byte) (*Record, error) {
	if len(data) > MaxBytes {
		return nil, &Mistake{File: file, err: words.Say("record.too-long", words.Name("file", file), words.Whole("bytes", len(data)), words.Whole("most", MaxBytes))}
	}
	data, err := plainText(file, data)
	if err != nil {
		return nil, err
	}
	if tooDeep(data) {
		return nil, inFile(file, 0, words.Told("why", errTooDeep))
	}
	tree, err := parser.ParseBytes(data, 0)
	if err != nil {
		return nil, syntaxError(file, err)
	}
	r := &Record{}
	for i, doc := range tree.Docs {
		if doc.Body == nil || doc.Body.Type() == ast.CommentType || doc.Body.Type() == ast.NullType {
			continue
		}
		if i > 0 {
			return nil, inFile(file, lineOf(doc.Body), words.Told("why", words.Say("record.second-document")))
		}
		if err := r.read(file, nodeOf(doc.Body)); err != nil {
			return nil, err
		}
	}
	if err := r.sound(file); err != nil {
		return nil, err
	}
	return r, nil
}

// read takes in what the outermost keys state.
func (r *Record) read(file string, n node) error {
	if err := eachKey(n, words.Say("record.the-record"), topKeys(r)); err != nil {
		var wrong onLine
		errors.As(err, &wrong) // all that eachKey gives
		return inFile(file, wrong.line, words.Because("why", err))
	}
	return nil
}

// sound says what cannot be of a record as a whole.
func (r *Record) sound(file string) error {
	if err := r.Check(); err != nil {
		return inFile(file, 0, words.Because("why", err))
	}
	return nil
}

var errTooDeep = words.Say("record.too-deep")

// maxNesting is more than a record needs, signs inside of texts included.
const maxNesting = 50

// tooDeep says whether brackets, or lists in lists on one line, lie deeper than
// maxNesting: the parser takes time that grows with the square of it.
func tooDeep(data []byte) bool {
	depth, marks := 0, 0
	var before byte
	for _, c := range data {
		switch {
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			depth = max(depth-1, 0)
		case c == ' ' && (before == '-' || before == '?' || before == ':'):
			marks++ // a list or a key begins
		case c != ' ' && c != '-' && c != '?' && c != ':':
			marks = 0
		}
		if before = c; depth > maxNesting || marks > maxNesting {
			return true
		}
	}
	return false
}

func syntaxError(file string, err error) error {
	var syntax *yaml.SyntaxError
	if errors.As(err, &syntax) && syntax.Token != nil {
		return inFile(file, syntax.Token.Position.Line, words.Told("why", words.Say("record.not-yaml", words.Name("why", syntax.Message))))
	}
	return inFile(file, 0, words.Told("why", words.Say("record.not-yaml", words.Because("why", err))))
}

// key is one key of a mapping with what its value means.
type key struct {
	name string
	read func(node) error
}

func readPhotos(r *Record, n node) error {
	return eachEntry(n, words.WordOf("record-key", "photos"), func(file string, value node) (err error) {
		if value.kind == nothing {
			return nil
		}
		r.Edit(file, func(p *Photo) {
			err = eachKey(value, words.Say("record.a-photo", words.Name("file", file)), photoKeys(p))
		})
		return err
	})
}

func photoKeys(p *Photo) []key {
	lines := make([]key, 0, len(LineNames))
	for _, name := range LineNames {
		lines = append(lines, key{string(name), text(func(s string) (err error) { *p.Lines.Place(name), err = ParseLine(name, s); return })})
	}
	return []key{
		{"elapsed", text(func(s string) (err error) { p.Elapsed, p.ElapsedSD, err = ParseElapsed(s); return })},
		{"box", box(&p.Box)},
		{"lines", func(n node) error { return eachKey(n, words.WordOf("record-key", "lines"), lines) }},
	}
}

// readHand reads what the hands found. A block in which nothing is stated
// counts as none.
func readHand(r *Record, n node) error {
	var o feel.Observation
	var keys []key
	for _, name := range feel.Keys() {
		read := text(func(s string) error { return SetHand(&o, name, s) })
		if name == feel.Ribbons {
			read = func(n node) error {
				lengths, err := scalars(n, words.Say("record.a-length"))
				if err != nil {
					return err
				}
				return SetHand(&o, name, lengths...)
			}
		}
		keys = append(keys, key{name, read})
	}
	if err := eachKey(n, words.WordOf("record-key", "hand"), keys); err != nil || o.Empty() {
		return err
	}
	r.Hand = &o
	return nil
}

// scalars reads a list of plain values, or a single one.
func scalars(n node, want words.Message) ([]string, error) {
	nodes := []node{n}
	if n.kind == aList {
		nodes = n.list
	}
	values := make([]string, 0, len(nodes))
	for _, v := range nodes {
		if v.kind != aText {
			return nil, words.Say("record.expected", words.Told("what", want))
		}
		values = append(values, v.text)
	}
	return values, nil
}

// text reads a plain value through set.
func text(set func(string) error) func(node) error {
	return func(n node) error {
		if n.kind != aText {
			return words.Say("record.expected-value")
		}
		return set(n.text)
	}
}

// box reads [x0, y0, x1, y1].
func box(into **Box) func(node) error {
	return func(n node) error {
		if n.kind != aList {
			return words.Say("record.expected", words.Told("what", words.Say("record.a-box")))
		}
		parts, err := scalars(n, words.Say("record.four-numbers"))
		if err != nil {
			return err
		}
		b, err := ParseBox(strings.Join(parts, ","))
		*into = b
		return err
	}
}

// scalar gives a value as it was written, so that "1e2" or "0x10" meet our own
// parsers and not YAML's.
func scalar(n ast.Node) string { return strings.TrimSpace(n.GetToken().Value) }

// eachKey reads a mapping whose keys are known.
func eachKey(n node, what words.Message, keys []key) error {
	return eachEntry(n, what, func(name string, value node) error {
		names := make([]string, 0, len(keys))
		for _, k := range keys {
			if k.name == name {
				if value.kind == nothing {
					return nil
				}
				return k.read(value)
			}
			names = append(names, k.name)
		}
		said := words.Say("record.unknown-key", words.Told("what", what), words.Names("known", "", names))
		if near := nearest(name, names); near != "" {
			return words.Then(said, words.Say("record.did-you-mean", words.Name("key", near)))
		}
		return said
	})
}

// eachEntry calls read for each key of a mapping, and puts line and key before
// its error. A key left empty states nothing.
func eachEntry(n node, what words.Message, read func(string, node) error) error {
	if n.kind != someKeys {
		return onLine{n.line, words.Say("record.expected-keys", words.Told("what", what))}
	}
	seen := map[string]bool{}
	for _, v := range n.keys {
		if seen[v.name] {
			return onLine{v.line, words.Say("record.about", keyArg("what", v.name), words.Told("why", words.Say("record.given-twice")))}
		}
		seen[v.name] = true
		if err := read(v.name, v.value); err != nil {
			var deeper onLine
			if errors.As(err, &deeper) {
				return err
			}
			return onLine{v.line, words.Say("record.about", keyArg("what", v.name), words.Because("why", err))}
		}
	}
	return nil
}

// keyArg names a key as it is written; one that a record has is a word of the catalogues.
func keyArg(arg, key string) words.Arg {
	if word := words.WordOf("record-key", key); word.String() == key {
		return words.Told(arg, word)
	}
	return words.Name(arg, key)
}

// onLine is what is wrong on one line of a record.
type onLine struct {
	line int
	error
}

// Unwrap gives what is wrong.
func (e onLine) Unwrap() error { return e.error }

// inFile says of which file an error is, and of which line where that is known; why is
// the argument of that name.
func inFile(file string, line int, why words.Arg) error {
	said := words.Say("record.in-file", words.Name("file", file), why)
	if line > 0 {
		said = words.Say("record.in-line", words.Name("file", file), words.Whole("line", line), why)
	}
	return &Mistake{File: file, Line: line, err: said}
}

// bare looks through tags and anchors.
func bare(n ast.Node) ast.Node {
	switch v := n.(type) {
	case *ast.AnchorNode:
		return bare(v.Value)
	case *ast.TagNode:
		return bare(v.Value)
	}
	return n
}

func entries(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch v := n.(type) {
	case *ast.MappingNode:
		return v.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{v}, true
	}
	return nil, false
}

func lineOf(n ast.Node) int {
	if t := n.GetToken(); t != nil && t.Position != nil {
		return t.Position.Line
	}
	return 1
}
