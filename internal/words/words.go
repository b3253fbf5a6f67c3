// Package words puts what the program says into a person's language. The program
// composes its texts in English, in one place each; a Language knows them again by the
// sentences of a catalogue and writes them, and the numbers in them, its own way.
package words

import (
	"maps"
	"regexp"
	"strings"
)

// Tags are the languages there are catalogues for, English first, as BCP 47 tags.
func Tags() []string { return []string{"en", "es", "fr"} }

// Language writes in one language. A nil one leaves English as it is.
type Language struct {
	tag    string
	say    func(string) string
	charts map[string]string
	signs  *Signs
}

// Signs are how numbers are written: the sign between thousands, from how many digits
// on it stands, and the one before decimals.
type Signs struct {
	Thousands string `json:"thousands"`
	Grouped   int    `json:"grouped"`
	Decimal   string `json:"decimal"`
}

// usual are the signs of the languages (Unicode CLDR); English is left as it is.
var usual = map[string]*Signs{"es": {".", 5, ","}, "fr": {"\u202f", 4, ","}}

// day is the short word for days (Unicode CLDR).
var day = map[string]string{"fr": "j"}

// New gives the language of a tag from pairs of sentences, of which later ones win, and
// the words of charts (chart.Options.Words). Countries may write numbers with other
// signs than is usual in their language; nil is the usual.
func New(tag string, pairs []Pair, charts map[string]string, signs *Signs) *Language {
	if signs == nil {
		signs = usual[tag]
	}
	l := &Language{tag: tag, charts: maps.Clone(charts), signs: signs}
	if signs != nil && charts != nil {
		l.charts["."] = signs.Decimal
	}
	l.say = Translator(pairs, l.value)
	return l
}

// Tag is the language as a BCP 47 tag.
func (l *Language) Tag() string {
	if l == nil {
		return "en"
	}
	return l.tag
}

// Say puts an English text of the program into the language.
func (l *Language) Say(text string) string {
	if l == nil {
		return text
	}
	return l.say(text)
}

// Charts are the words of charts; nil for English.
func (l *Language) Charts() map[string]string {
	if l == nil {
		return nil
	}
	return l.charts
}

var (
	amount  = regexp.MustCompile(`^[-+±]?\d+(?:\.\d+)?(?: ± \d+(?:\.\d+)?)?(?: ?(?:%|mm|in|g|kg|s|px|[µu]m|°[CF]|mm/h|in/h))?$`)
	elapsed = regexp.MustCompile(`^(?:\d+ (?:d|h|min|s) ?)+$`)
	digits  = regexp.MustCompile(`\d+(?:\.\d+)?`)
)

// value writes a number, with its unit, or a time in the way of the language, and leaves
// what else no sentence knows, such as names.
func (l *Language) value(v string) string {
	switch {
	case l == nil:
		return v
	case elapsed.MatchString(v) && day[l.tag] != "":
		return strings.Replace(v, " d", " "+day[l.tag], 1)
	case amount.MatchString(v) && l.signs != nil:
		return digits.ReplaceAllStringFunc(v, l.signs.number)
	}
	return v
}

func (s Signs) number(n string) string {
	whole, part, cut := strings.Cut(n, ".")
	group := len(whole) >= s.Grouped
	for at := len(whole) - 3; group && at > 0; at -= 3 {
		whole = whole[:at] + s.Thousands + whole[at:]
	}
	if cut {
		whole += s.Decimal + part
	}
	return whole
}
