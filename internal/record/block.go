package record

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"mudline/internal/words"
	"mudline/texture/feel"
)

// ErrUnusual says that a jar.yaml is written in a way in which one block cannot
// be put in without touching the rest.
var ErrUnusual = errors.New("is written in an unusual way, so the hand test cannot be put in without touching the rest")

// WithHand gives the text of a jar.yaml with its hand block replaced, or added
// at its end, and every other byte as it was. file is used in messages only.
func WithHand(file string, data []byte, o feel.Observation) ([]byte, error) {
	before, err := Parse(file, data)
	if err != nil {
		return nil, err
	}
	o.RibbonsMM = slices.Clone(o.RibbonsMM)
	for i, mm := range o.RibbonsMM {
		o.RibbonsMM[i] = hundredths(mm)
	}
	lines := bytes.SplitAfter(data, []byte("\n"))
	indent := outermost(lines)
	from, to := handBlock(lines, indent)
	block := handText(o, indent)
	if from < to && loneKey.Match(lines[from]) { // keeps a comment behind the key
		_, block, _ = strings.Cut(block, "\n")
		from++
	}
	head, tail := bytes.Join(lines[:from], nil), bytes.Join(lines[to:], nil)
	if to == 0 {
		head, tail, block = data, nil, gap(data)+block
	}
	if bytes.Contains(data, []byte("\r\n")) {
		block = strings.ReplaceAll(block, "\n", "\r\n")
	}
	after := bytes.Join([][]byte{head, []byte(block), tail}, nil)
	// What is read back must be what was there, and the new answers.
	if before.Hand = &o; o.Empty() {
		before.Hand = nil
	}
	if got, err := Parse(file, after); err != nil || !reflect.DeepEqual(got, before) {
		return nil, &Mistake{File: file, err: words.Say("record.unusual", words.Name("file", file), words.Because("why", ErrUnusual), words.Lines("lines", handText(o, "")))}
	}
	return after, nil
}

var (
	handKey = regexp.MustCompile(`^(?:hand|"hand"|'hand')[ \t]*:(?:\s|$)`)
	loneKey = regexp.MustCompile(`^\s*[^\s:]+[ \t]*:[ \t]*(?:#.*)?\r?\n$`)
	comment = regexp.MustCompile(`^\s*(?:#.*)?\s*$`)
	marker  = regexp.MustCompile(`^(?:---|%)`)
)

// outermost is the indent of the record's own keys.
func outermost(lines [][]byte) string {
	for _, l := range lines {
		if !comment.Match(l) && !marker.Match(l) {
			return string(l[:len(l)-len(bytes.TrimLeft(l, " "))])
		}
	}
	return ""
}

// handBlock finds the lines of the hand block, without the comments that follow
// it; 0, 0 where there is none.
func handBlock(lines [][]byte, indent string) (from, to int) {
	for i, l := range lines {
		rest, ok := bytes.CutPrefix(l, []byte(indent))
		if !ok || !handKey.Match(rest) {
			continue
		}
		to = i + 1
		for j := to; j < len(lines); j++ {
			if comment.Match(lines[j]) {
				continue
			}
			rest, ok := bytes.CutPrefix(lines[j], []byte(indent))
			if !ok || !bytes.HasPrefix(rest, []byte(" ")) {
				break
			}
			to = j + 1
		}
		return i, to
	}
	return 0, 0
}

// gap is what goes between the end of a record and a block added to it.
func gap(data []byte) string {
	text := strings.ReplaceAll(string(data), "\r\n", "\n")
	switch {
	case text == "" || strings.HasSuffix(text, "\n\n"):
		return ""
	case strings.HasSuffix(text, "\n"):
		return "\n"
	}
	return "\n\n"
}

// handText writes a hand block.
func handText(o feel.Observation, indent string) string {
	var b strings.Builder
	b.WriteString(indent + "hand:\n")
	for _, q := range feel.Questions() {
		value := feel.Get(o, q.Key)
		if value == "" {
			continue
		}
		switch q.Kind {
		case feel.Lengths:
			value = "[" + strings.ReplaceAll(value, ",", " mm,") + " mm]"
		case feel.Text:
			value = quote(value)
		}
		fmt.Fprintf(&b, "%s  %s: %s\n", indent, q.Key, value)
	}
	return b.String()
}
