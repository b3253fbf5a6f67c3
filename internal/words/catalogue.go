package words

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// text is a text in its forms; one is empty where all numbers have the same.
type text struct{ one, other string }

// UnmarshalJSON reads a text or its forms.
func (t *text) UnmarshalJSON(data []byte) error {
	if json.Unmarshal(data, &t.other) == nil {
		return nil
	}
	var forms map[string]string
	if err := json.Unmarshal(data, &forms); err != nil {
		return err
	}
	t.one, t.other = forms["one"], forms["other"]
	if t.other == "" {
		return fmt.Errorf("a text needs its form \"other\"")
	}
	return nil
}

// Tags are the languages there are catalogues for, English first, as BCP 47 tags. In a
// browser English alone is in the program; the page has the others.
func Tags() []string {
	entries, err := files.ReadDir("catalogue")
	if err != nil {
		panic(err) // embedded: cannot fail
	}
	tags := []string{"en"}
	for _, e := range entries {
		if tag := strings.TrimSuffix(e.Name(), ".json"); tag != "en" {
			tags = append(tags, tag)
		}
	}
	return tags
}

// File is the catalogue of a language as it stands, for the page.
func File(tag string) ([]byte, error) { return files.ReadFile("catalogue/" + tag + ".json") }

// notOnPages are areas of keys that only a terminal and the index of a batch say.
var notOnPages = []string{"command.", "table.", "times.", "index.", "batch.", "film.", "look."}

// ForPage is the catalogue of a language as the page is served it: without what is said
// nowhere in it, and for English, which the program in the page has, the page's own texts
// and the names of classes alone.
func ForPage(tag string) ([]byte, error) {
	data, err := File(tag)
	if err != nil {
		return nil, err
	}
	var all map[string]json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, fmt.Errorf("the catalogue of %s: %w", tag, err)
	}
	maps.DeleteFunc(all, func(key string, _ json.RawMessage) bool {
		if _, ok := all[key+"@"+string(Page)]; ok {
			return true // the page has its own wording
		}
		if strings.HasSuffix(key, "@"+string(Batch)) || slices.ContainsFunc(notOnPages, func(area string) bool { return strings.HasPrefix(key, area) }) {
			return true
		}
		return tag == Tags()[0] && strings.Contains(key, ".") && !strings.HasPrefix(key, "class.")
	})
	return json.Marshal(all)
}

// Find gives the language of a tag; nil for English. The error names the languages there
// are.
func Find(tag string) (*Language, error) {
	switch {
	case tag == "en":
		return nil, nil
	case !slices.Contains(Tags(), tag):
		return nil, Say("no-language", Name("given", tag), Names("known", "", Tags()))
	}
	data, err := File(tag)
	if err != nil {
		return nil, err
	}
	return New(tag, data, nil)
}

// New makes a language of a catalogue. Countries may write numbers with other signs than
// is usual in their language; nil is the usual.
func New(tag string, catalogue []byte, signs *Signs) (*Language, error) {
	l := &Language{tag: tag, signs: signs}
	if signs == nil {
		l.signs = usual[tag]
	}
	if err := json.Unmarshal(catalogue, &l.texts); err != nil {
		return nil, fmt.Errorf("the catalogue of %s: %w", tag, err)
	}
	return l, nil
}

var english = sync.OnceValue(func() *Language {
	data, err := File("en")
	if err != nil {
		panic(err) // embedded: cannot fail
	}
	l, err := New("en", data, nil)
	if err != nil {
		panic(err) // tested
	}
	return l
})

// slug is a word as a key has it: "silty clay loam" is "silty-clay-loam".
func slug(word string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToLower(r)
		}
		return '-'
	}, word)
}
