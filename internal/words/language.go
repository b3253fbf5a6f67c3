package words

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Surface is where a person reads: what can be done there has its own words. A text "do.x"
// has them under "do.x@page".
type Surface string

// Where a person reads. The command line is the usual.
const (
	CommandLine Surface = ""
	Page        Surface = "page"
	Batch       Surface = "batch"
)

// Setting is how a person wants to read.
type Setting struct {
	Surface            Surface
	Inches, Fahrenheit bool
}

// Language writes messages in one language. A nil one writes English in metric units for
// the command line.
type Language struct {
	tag   string
	texts map[string]text
	signs *Signs
	set   Setting
}

// In is the same language in another setting.
func (l *Language) In(set Setting) *Language {
	own := *l.orEnglish()
	own.set = set
	return &own
}

// Setting is how the language writes.
func (l *Language) Setting() Setting { return l.orEnglish().set }

func (l *Language) orEnglish() *Language {
	if l == nil {
		return english()
	}
	return l
}

// Tag is the language as a BCP 47 tag.
func (l *Language) Tag() string { return l.orEnglish().tag }

// Text writes the text of a key.
func (l *Language) Text(key string, args ...Arg) string { return l.Say(Message{key, args}) }

// Word writes a text of a family, as WordOf has it.
func (l *Language) Word(family, word string) string { return l.Say(WordOf(family, word)) }

// Sentence writes a message as a sentence of its own: a capital letter in front, unless a
// name stands there, and a full stop.
func (l *Language) Sentence(m Message) string {
	text := l.Say(m)
	if !l.orEnglish().named(m) {
		text = Capital(text)
	}
	return ended(text)
}

// named tells whether a message begins with a name of a file or a jar.
func (l *Language) named(m Message) bool {
	t, _ := l.find(m.Key)
	first := hole.FindStringIndex(t.form(l, m))
	if first == nil || first[0] != 0 {
		return false
	}
	switch v := m.Arg(strings.Trim(t.form(l, m)[:first[1]], "{}")).(type) {
	case Text:
		return m.Key != "as-it-is"
	case Message:
		return l.named(v)
	case Sentence:
		return l.named(v.Message)
	}
	return false
}

// Say writes a message. A key that no catalogue has is written as it is, with its
// arguments, so that a fault is seen and nothing is hidden.
func (l *Language) Say(m Message) string {
	l = l.orEnglish()
	if m.IsZero() {
		return ""
	}
	t, ok := l.find(m.Key)
	if !ok {
		return l.unknown(m)
	}
	return hole.ReplaceAllStringFunc(t.form(l, m), func(found string) string {
		v := m.Arg(strings.Trim(found, "{}"))
		if v == nil {
			return found
		}
		return v.write(l)
	})
}

var hole = regexp.MustCompile(`\{[a-zA-Z_]\w*\}`)

// find looks a key up for the surface, in the language and then in English.
func (l *Language) find(key string) (text, bool) {
	for _, in := range []*Language{l, english()} {
		for _, k := range []string{key + "@" + string(l.set.Surface), key} {
			if t, ok := in.texts[k]; ok {
				return t, true
			}
		}
	}
	return text{}, false
}

// Has says that the catalogues have a text of that key.
func (l *Language) Has(key string) bool {
	_, ok := l.orEnglish().find(key)
	return ok
}

func (l *Language) unknown(m Message) string {
	parts := []string{m.Key}
	for _, a := range m.Args {
		if a.Value != nil {
			parts = append(parts, a.Value.write(l))
		}
	}
	return strings.Join(parts, " ")
}

// form is the form of a text that fits the number of things, the argument "n".
func (t text) form(l *Language, m Message) string {
	n, ok := m.Arg("n").(Number)
	if !ok || t.one == "" || n.Value != math.Trunc(n.Value) || n.Value < 0 {
		return t.other
	}
	if n.Value == 1 || n.Value == 0 && l.zeroIsOne() {
		return t.one
	}
	return t.other
}

// zeroIsOne says that nothing is counted as one thing is (Unicode CLDR, plural rules). The
// tests hold it against golang.org/x/text, whose tables are too much for a page.
func (l *Language) zeroIsOne() bool { return l.tag == "fr" }

func (t Text) write(*Language) string       { return OneLine(string(t)) }
func (m Message) write(l *Language) string  { return l.Say(m) }
func (s Sentence) write(l *Language) string { return l.Sentence(s.Message) }
func (c cause) write(l *Language) string    { return l.Say(Of(c.error)) }

func (n Number) write(l *Language) string {
	if n.Figures > 0 {
		return l.signed(strconv.FormatFloat(round(n.Value, n.Figures), 'f', -1, 64))
	}
	return l.number(n.Value, n.Decimals)
}

// round keeps so many figures.
func round(v float64, figures int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', figures, 64), 64) // its own writing: cannot fail
	return r
}

func (t Temperature) write(l *Language) string {
	if l.set.Fahrenheit {
		return l.Text("unit.fahrenheit", Whole("v", math.Round(t.C*1.8+32)))
	}
	return l.Text("unit.celsius", Whole("v", math.Round(t.C)))
}

func (x List) write(l *Language) string {
	out := make([]string, len(x.Items))
	for i, item := range x.Items {
		out[i] = item.write(l)
	}
	if x.Join == "\n" {
		return strings.Join(out, "\n")
	}
	if n := len(out); n > 1 && x.Join != "" {
		return l.Text("list-"+x.Join, Name("list", strings.Join(out[:n-1], ", ")), Name("last", out[n-1]))
	}
	return strings.Join(out, ", ")
}

func (e Elapsed) write(l *Language) string {
	sign, s := "", math.Round(e.Seconds)
	if s < 0 {
		sign, s = "-", -s
	}
	for _, u := range []struct {
		below, size, small float64
		key, rest          string
	}{{3600, 60, 1, "min", "s"}, {86400, 3600, 60, "h", "min"}, {math.Inf(1), 86400, 3600, "d", "h"}} {
		if s < 100 && s != 60 {
			break
		}
		if s < u.below {
			return sign + l.twoUnits(s, u.size, u.key, u.small, u.rest)
		}
	}
	return sign + l.unit("s", s)
}

func (l *Language) twoUnits(s, size float64, key string, small float64, restKey string) string {
	per := size / small
	n := math.Round(s / small)
	whole, rest := math.Floor(n/per), math.Mod(n, per)
	if rest == 0 {
		return l.unit(key, whole)
	}
	return l.unit(key, whole) + " " + l.unit(restKey, rest)
}

func (l *Language) unit(key string, v float64) string { return l.Text("unit."+key, Whole("v", v)) }

// Capital makes the first letter of a text large, behind quotation marks too.
func Capital(s string) string {
	core := strings.TrimLeftFunc(s, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("¿¡«\"", r) })
	r, n := utf8.DecodeRuneInString(core)
	if n == 0 || !unicode.IsLower(r) {
		return s
	}
	return s[:len(s)-len(core)] + string(unicode.ToUpper(r)) + core[n:]
}

func ended(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?:") {
		return s
	}
	return s + "."
}
