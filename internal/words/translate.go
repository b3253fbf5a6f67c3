package words

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Pair is an English sentence and what to write in its place; {1}, {2} ... stand for
// what is filled in.
type Pair [2]string

// few letters, as in "{1} or {2}", fit much that they are not meant for: such a pattern
// is tried last, and only on what is no sentence.
const few = 4

// remembered is how many texts a translator keeps.
const remembered = 1 << 13

var (
	isNumber   = regexp.MustCompile(`^[-+.\d]+$`)
	separators = []*regexp.Regexp{regexp.MustCompile(`[.!?]( )\p{Lu}`), regexp.MustCompile(`(; )`), regexp.MustCompile(`(: )`)}
)

// translator puts texts into other words. The page does the same in its sentences.js;
// the two are tested to agree.
type translator struct {
	exact       map[string]string
	long, short []pattern
	value       func(string) string

	mu    sync.Mutex
	known map[string]*found
}

// found is how to write a text, and whether all of it is known.
type found struct {
	write func() string
	whole bool
}

// Translator gives a function that puts texts into other words by pairs, of which later
// ones win. What is filled in, and what several sentences or "file: sentence" are made
// of, is put into other words piece by piece; value writes what no pair knows, such as
// numbers and names. The function may be called from several goroutines.
func Translator(pairs []Pair, value func(string) string) func(string) string {
	t := &translator{exact: map[string]string{}, value: value, known: map[string]*found{}}
	last := map[string]string{}
	for _, p := range pairs {
		last[p[0]] = p[1]
	}
	for _, pair := range pairs {
		from := pair[0]
		to, ok := last[from]
		if !ok {
			continue
		}
		delete(last, from)
		if !holes.MatchString(from) {
			t.exact[lower(from)] = to
			continue
		}
		p := compile(from, to)
		if letters(holes.ReplaceAllString(from, "")) > few {
			t.long = append(t.long, p)
		} else {
			t.short = append(t.short, p)
		}
	}
	// What begins with letters is surer than what may begin with anything.
	for _, list := range [][]pattern{t.long, t.short} {
		slices.SortStableFunc(list, func(a, b pattern) int {
			if a.open != b.open {
				if b.open {
					return -1
				}
				return 1
			}
			return b.weight - a.weight
		})
	}
	return func(text string) string {
		t.mu.Lock()
		defer t.mu.Unlock()
		if len(t.known) > remembered {
			clear(t.known)
		}
		return t.sentence(text)
	}
}

func (t *translator) find(text string) *found {
	f, ok := t.known[text]
	if !ok {
		f = t.look(text)
		t.known[text] = f
	}
	return f
}

// look is nil for what no pair knows any part of.
func (t *translator) look(text string) *found {
	if to, ok := t.exact[lower(text)]; ok {
		return &found{func() string { return to }, true}
	}
	for _, how := range []func(string) *found{t.matchLong, t.unended, t.pieces, t.matchShort, t.list} {
		if f := how(text); f != nil {
			return f
		}
	}
	return nil
}

func (t *translator) put(text string) string {
	core := strings.TrimSpace(text)
	if core == "" {
		return text
	}
	at := strings.Index(text, core)
	put := ""
	if f := t.find(core); f != nil {
		put = f.write()
	} else {
		put = t.value(core)
	}
	return text[:at] + put + text[at+len(core):]
}

func (t *translator) sentence(text string) string {
	if r, _ := utf8.DecodeRuneInString(text); unicode.IsUpper(r) {
		return upper(t.put(text))
	}
	return t.put(text)
}

func (t *translator) matchLong(text string) *found {
	for i := range t.long {
		if filled := t.long[i].match(text); filled != nil {
			return t.filled(&t.long[i], filled)
		}
	}
	return nil
}

func (t *translator) matchShort(text string) *found {
	for _, s := range separators {
		if s.MatchString(text) {
			return nil
		}
	}
	for i := range t.short {
		filled := t.short[i].match(text)
		if filled != nil && (len(filled) == 1 || !slices.ContainsFunc(filled, func(v string) bool { return !isNumber.MatchString(v) && t.find(v) == nil })) {
			return t.filled(&t.short[i], filled)
		}
	}
	return nil
}

func (t *translator) filled(p *pattern, filled []string) *found {
	return &found{func() string {
		return holes.ReplaceAllStringFunc(p.to, func(hole string) string {
			if i := slices.Index(p.order, strings.Trim(hole, "{}")); i >= 0 {
				return t.put(filled[i])
			}
			return hole
		})
	}, true}
}

// unended is a phrase of the program that was made a sentence.
func (t *translator) unended(text string) *found {
	phrase, ok := strings.CutSuffix(text, ".")
	if !ok || separators[0].MatchString(text) {
		return nil
	}
	f := t.find(phrase)
	if f == nil {
		return nil
	}
	return &found{func() string { return f.write() + "." }, f.whole}
}

// pieces takes apart what was put together of several, where most of it is known.
func (t *translator) pieces(text string) *found {
	var best *found
	most := 0
	for _, s := range separators {
		for _, m := range s.FindAllStringSubmatchIndex(text, -1) {
			left, between, right := text[:m[2]], text[m[2]:m[3]], text[m[3]:]
			l, r := t.knownOf(left), t.knownOf(right)
			score := 10*r + l
			if l+r == 4 {
				score += 100
			}
			if score <= most {
				continue
			}
			if to, ok := t.exact[between]; ok {
				between = to
			}
			most, best = score, &found{func() string { return t.sentence(left) + between + t.sentence(right) }, l+r == 4}
		}
	}
	return best
}

func (t *translator) knownOf(text string) int {
	switch f := t.find(text); {
	case f == nil:
		return 0
	case f.whole:
		return 2
	}
	return 1
}

func (t *translator) list(text string) *found {
	parts := strings.Split(text, ", ")
	if len(parts) < 2 || slices.ContainsFunc(parts, func(p string) bool { return t.find(p) == nil }) {
		return nil
	}
	return &found{func() string {
		out := make([]string, len(parts))
		for i, p := range parts {
			out[i] = t.put(p)
		}
		return strings.Join(out, ", ")
	}, true}
}

func letters(s string) (n int) {
	for _, r := range s {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n
}

func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// upper makes the first letter of a text large, behind quotation marks too.
func upper(s string) string {
	core := strings.TrimLeftFunc(s, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("¿¡«", r) })
	r, n := utf8.DecodeRuneInString(core)
	if n == 0 || !unicode.IsLower(r) {
		return s
	}
	return s[:len(s)-len(core)] + string(unicode.ToUpper(r)) + core[n:]
}
