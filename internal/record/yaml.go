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
// values outside their range are errors that name the key and its line. file
// is used in messages only.
func Parse(file string, data []byte) (*Record, error) {
	if len(data) > MaxBytes {
		return nil, words.Say("record.too-long", words.Name("file", file), words.Whole("bytes", len(data)), words.Whole("most", MaxBytes))
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
		if err := eachKey(doc.Body, words.Say("record.the-record"), topKeys(r)); err != nil {
			var wrong onLine
			errors.As(err, &wrong) // all that eachKey gives
			return nil, inFile(file, wrong.line, words.Because("why", err))
		}
	}
	if err := r.Check(); err != nil {
		return nil, inFile(file, 0, words.Because("why", err))
	}
	return r, nil
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
	read func(ast.Node) error
}

// topKeys is the schema of jar.yaml: every key and how its value is read.
func topKeys(r *Record) []key {
	keys := []key{
		{"name", text(func(s string) (err error) { r.Name = s; return nil })},
		{"water-depth", text(func(s string) (err error) { r.WaterDepthMM, r.Inches, err = ParseWaterDepth(s); return })},
		{"sheet-line", text(func(s string) (err error) { r.SheetLineMM, err = ParseSheetLine(s); return })},
		{"temp", text(func(s string) error {
			c, f, err := ParseTemp(s)
			r.TempC, r.Fahrenheit = &c, f
			return err
		})},
		{"shaken", text(func(s string) (err error) { r.Shaken, err = ParseMoment(s); return })},
		{"system", text(func(s string) (err error) { r.System, err = ParseSystem(s); return })},
		{"box", box(&r.Box)},
		{"hand", func(n ast.Node) error { return readHand(r, n) }},
		{"organic-matter", text(func(s string) error {
			v, err := ParseOrganicMatter(s)
			r.OrganicMatter = &v
			return err
		})},
		{"crop", text(func(s string) (err error) { r.Crop, err = ParseCrop(s); return })},
		{"rooting-depth", text(func(s string) (err error) { r.RootingDepthMM, err = ParseRootingDepth(s); return })},
		{"daily-use", text(func(s string) (err error) { r.DailyUseMM, err = ParseDailyUse(s); return })},
		{"photos", func(n ast.Node) error { return readPhotos(r, n) }},
	}
	for _, name := range PreparedKeys {
		keys = append(keys, key{name, text(func(s string) error { return r.SetPrepared(name, s) })})
	}
	return keys
}

func readPhotos(r *Record, n ast.Node) error {
	return eachEntry(n, words.WordOf("record-key", "photos"), func(file string, value ast.Node) (err error) {
		if value == nil {
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
		lines = append(lines, key{name, text(func(s string) (err error) { *p.Lines.Place(name), err = ParseLine(name, s); return })})
	}
	return []key{
		{"elapsed", text(func(s string) (err error) { p.Elapsed, p.ElapsedSD, err = ParseElapsed(s); return })},
		{"box", box(&p.Box)},
		{"lines", func(n ast.Node) error { return eachKey(n, words.WordOf("record-key", "lines"), lines) }},
	}
}

// readHand reads what the hands found. A block in which nothing is stated
// counts as none.
func readHand(r *Record, n ast.Node) error {
	var o feel.Observation
	var keys []key
	for _, name := range feel.Keys() {
		read := text(func(s string) error { return SetHand(&o, name, s) })
		if name == feel.Ribbons {
			read = func(n ast.Node) error {
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
func scalars(n ast.Node, want words.Message) ([]string, error) {
	nodes := []ast.Node{n}
	if list, ok := n.(*ast.SequenceNode); ok {
		nodes = list.Values
	}
	values := make([]string, 0, len(nodes))
	for _, v := range nodes {
		if _, ok := v.(ast.ScalarNode); !ok || v.Type() == ast.LiteralType || v.Type() == ast.NullType {
			return nil, words.Say("record.expected", words.Told("what", want))
		}
		values = append(values, scalar(v))
	}
	return values, nil
}

// text reads a plain value through set.
func text(set func(string) error) func(ast.Node) error {
	return func(n ast.Node) error {
		if _, ok := n.(ast.ScalarNode); !ok || n.Type() == ast.LiteralType {
			return words.Say("record.expected-value")
		}
		return set(scalar(n))
	}
}

// box reads [x0, y0, x1, y1].
func box(into **Box) func(ast.Node) error {
	return func(n ast.Node) error {
		if _, ok := n.(*ast.SequenceNode); !ok {
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
func eachKey(n ast.Node, what words.Message, keys []key) error {
	return eachEntry(n, what, func(name string, value ast.Node) error {
		names := make([]string, 0, len(keys))
		for _, k := range keys {
			if k.name == name {
				if value == nil {
					return nil
				}
				return k.read(value)
			}
			names = append(names, k.name)
		}
		said := words.Say("record.unknown-key", words.Told("what", what), words.Words("known", "", "record-key", names))
		if near := nearest(name, names); near != "" {
			return words.Then(said, words.Say("record.did-you-mean", words.Word("key", "record-key", near)))
		}
		return said
	})
}

// eachEntry calls read for each key of a mapping, and puts line and key before
// its error. A key left empty states nothing: its value is nil.
func eachEntry(n ast.Node, what words.Message, read func(string, ast.Node) error) error {
	values, ok := entries(n)
	if !ok {
		return onLine{lineOf(n), words.Say("record.expected-keys", words.Told("what", what))}
	}
	seen := map[string]bool{}
	for _, v := range values {
		name, line := v.Key.GetToken().Value, v.Key.GetToken().Position.Line
		if seen[name] {
			return onLine{line, words.Say("record.about", named("what", name), words.Told("why", words.Say("record.given-twice")))}
		}
		seen[name] = true
		value := plain(v.Value)
		if value != nil && value.Type() == ast.NullType {
			value = nil
		}
		if err := read(name, value); err != nil {
			var deeper onLine
			if errors.As(err, &deeper) {
				return err
			}
			return onLine{line, words.Say("record.about", named("what", name), words.Because("why", err))}
		}
	}
	return nil
}

// named names a key as it is written; one that a record has is a word of the catalogues.
func named(arg, key string) words.Arg {
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
	if line == 0 {
		return words.Say("record.in-file", words.Name("file", file), why)
	}
	return words.Say("record.in-line", words.Name("file", file), words.Whole("line", line), why)
}

// plain looks through tags and anchors.
func plain(n ast.Node) ast.Node {
	switch v := n.(type) {
	case *ast.AnchorNode:
		return plain(v.Value)
	case *ast.TagNode:
		return plain(v.Value)
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
