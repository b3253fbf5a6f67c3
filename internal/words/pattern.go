package words

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

var holes = regexp.MustCompile(`\{(\d+)\}`)

// kind is what a hole of a pattern may be filled with.
type kind int

const (
	anything    kind = iota // as little as will do
	oneSentence             // so too, but no more than the end of a sentence
	number                  // a number before a unit
	rest                    // all that follows, or nothing
)

// pattern is a sentence with holes: parts[0], a hole, parts[1], a hole ...
type pattern struct {
	parts []string
	kinds []kind
	order []string // the names of the holes
	to    string
	open  bool // begins with a hole
	// weight is how many letters the sentence has beside its holes.
	weight int
}

var unit = regexp.MustCompile(`^(?: (?:mm|s|px|MB|C|F)\b| %| in\))`)

func compile(from, to string) pattern {
	p := pattern{to: to, open: strings.HasPrefix(from, "{"), weight: utf8.RuneCountInString(holes.ReplaceAllString(from, ""))}
	at := 0
	for _, m := range holes.FindAllStringSubmatchIndex(from, -1) {
		p.parts = append(p.parts, from[at:m[0]])
		p.order = append(p.order, from[m[2]:m[3]])
		at = m[1]
	}
	p.parts = append(p.parts, from[at:])
	for i := range p.order {
		before, next := p.parts[i], p.parts[i+1]
		k := anything
		switch {
		case next == "" && (strings.HasSuffix(before, ".") || strings.HasSuffix(before, ")")):
			k = rest
		case unit.MatchString(next):
			k = number
		case strings.HasPrefix(next, "."):
			k = oneSentence
		}
		p.kinds = append(p.kinds, k)
	}
	return p
}

// match gives what fills the holes of a pattern in a text; nil where it does not fit.
// The first letter may be large or small.
func (p pattern) match(text string) []string {
	first := p.parts[0]
	if r, n := utf8.DecodeRuneInString(first); n > 0 && unicode.IsLetter(r) {
		got, m := utf8.DecodeRuneInString(text)
		if m == 0 || unicode.ToLower(got) != unicode.ToLower(r) {
			return nil
		}
		text, first = text[m:], first[n:]
	}
	text, ok := strings.CutPrefix(text, first)
	if !ok {
		return nil
	}
	filled := make([]string, 0, len(p.kinds))
	if !p.fill(0, text, &filled) {
		return nil
	}
	return filled
}

// fill tries to fill the holes from the i-th on, and gives up what it filled where the
// rest does not fit.
func (p pattern) fill(i int, text string, filled *[]string) bool {
	if i == len(p.kinds) {
		return text == ""
	}
	next, last := p.parts[i+1], i == len(p.kinds)-1
	try := func(end int) bool {
		if !strings.HasPrefix(text[end:], next) {
			return false
		}
		*filled = append(*filled, text[:end])
		if p.fill(i+1, text[end+len(next):], filled) {
			return true
		}
		*filled = (*filled)[:len(*filled)-1]
		return false
	}
	if last && p.kinds[i] != number { // the end of the text is the end of the sentence
		end := len(text) - len(next)
		return end >= 0 && (end > 0 || p.kinds[i] == rest) && (p.kinds[i] != oneSentence || end <= sentenceEnd(text)) && try(end)
	}
	switch p.kinds[i] {
	case number, rest: // as much as will do
		end := len(text)
		if p.kinds[i] == number {
			end = len(text) - len(strings.TrimLeft(text, "-+0123456789.e"))
		}
		for ; end > 0; end-- {
			if utf8.RuneStart((text + " ")[end]) && try(end) {
				return true
			}
		}
		return p.kinds[i] == rest && try(0)
	}
	limit := len(text)
	if p.kinds[i] == oneSentence {
		limit = sentenceEnd(text)
	}
	for end := range text {
		if end > limit {
			break
		}
		if end > 0 && try(end) {
			return true
		}
	}
	return limit == len(text) && limit > 0 && try(limit)
}

var ending = regexp.MustCompile(`[.!?] \p{Lu}`)

// sentenceEnd is where the first sentence of a text ends and another begins.
func sentenceEnd(text string) int {
	if at := ending.FindStringIndex(text); at != nil {
		return at[0]
	}
	return len(text)
}
