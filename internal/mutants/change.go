package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
)

// change is a file with one place changed.
type change struct {
	path     string // of the file, absolute
	place    string // file and line
	from, to string
	source   []byte // the whole file, changed
}

func (c change) String() string { return fmt.Sprintf("%s: %s -> %s", c.place, c.from, c.to) }

// swaps are the operators that are put in an operator's place.
var swaps = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.LSS: token.GEQ, token.LEQ: token.LSS, token.GTR: token.LEQ, token.GEQ: token.GTR,
	token.EQL: token.NEQ, token.NEQ: token.EQL, token.LAND: token.LOR, token.LOR: token.LAND,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN,
	token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
}

// changes are all that can be made in the program files of a folder.
func changes(folder string) ([]change, error) {
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []change
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		list, err := inFile(name)
		if err != nil {
			return nil, err
		}
		out = append(out, list...)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no program file has a place to change")
	}
	return out, nil
}

// inFile are the changes of one file: an operator swapped, a factor of a decimal number.
func inFile(name string) ([]change, error) {
	source, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	path, err := filepath.Abs(name)
	if err != nil {
		return nil, err
	}
	files := token.NewFileSet()
	tree, err := parser.ParseFile(files, name, source, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	var out []change
	put := func(at token.Pos, from, to string) {
		p := files.Position(at)
		changed := bytes.Join([][]byte{source[:p.Offset], []byte(to), source[p.Offset+len(from):]}, nil)
		out = append(out, change{path, fmt.Sprintf("%s:%d", filepath.ToSlash(name), p.Line), from, to, changed})
	}
	ast.Inspect(tree, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			if to, ok := swaps[n.Op]; ok {
				put(n.OpPos, n.Op.String(), to.String())
			}
		case *ast.AssignStmt:
			if to, ok := swaps[n.Tok]; ok {
				put(n.TokPos, n.Tok.String(), to.String())
			}
		case *ast.IfStmt:
			put(n.Cond.Pos(), "", "false && ")
		case *ast.BasicLit:
			if n.Kind == token.FLOAT {
				put(n.Pos(), n.Value, "1.4*"+n.Value)
			}
		}
		return true
	})
	return out, nil
}
