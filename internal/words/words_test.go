package words

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	decimals "golang.org/x/text/number"
	"pgregory.net/rapid"
)

func TestSentencesAreKnownAgain(t *testing.T) {
	say := Translator([]Pair{
		{"sand", "arena"}, {"loam", "franco"}, {"{1} or {2}", "{1} o {2}"}, {"{1} mm", "{1} mm de {1}"},
		{"water {1} deep", "agua de {1}"}, {"Was it moist?", "¿estaba húmeda?"},
		{"the {1} is {2} mm high", "{2} mm mide la {1}"}, {"take care", "cuidado"}, {"old", "first"}, {"old", "last"},
		{"look at {1}. {2}", "mira {1}. {2}"},
	}, func(v string) string { return "<" + v + ">" })
	for text, want := range map[string]string{
		"":                                  "",
		"sand":                              "arena",
		"Sand":                              "Arena",
		"Sand or loam":                      "Arena o franco",
		"sand or stone":                     "<sand or stone>",
		"The sand is 24.2 mm high":          "<24.2> mm mide la arena",
		"a.jpg: take care":                  "<a.jpg>: cuidado",
		"Take care. The sand is 5 mm high.": "Cuidado. <5> mm mide la arena.",
		"sand, loam":                        "arena, franco",
		"sand, stone":                       "<sand, stone>",
		"was it moist?":                     "¿estaba húmeda?",
		"Was it moist?":                     "¿Estaba húmeda?",
		"water 5 mm deep":                   "agua de <5> mm de <5>",
		"old":                               "last",
		"look at loam. Was it moist?":       "mira franco. ¿estaba húmeda?",
		"  sand ":                           "  arena ",
	} {
		assert.Equal(t, want, say(text), text)
	}
}

// Whatever is filled in comes out again, whatever letters it is made of.
func TestNothingIsLost(t *testing.T) {
	say := Translator([]Pair{{"the jar {1} holds {2} of soil", "{2} en {1}"}}, func(v string) string { return v })
	rapid.Check(t, func(t *rapid.T) {
		name := strings.TrimSpace(rapid.StringMatching(`[\p{L}\d][\p{L}\d .:;%]{0,12}`).Draw(t, "name"))
		text := fmt.Sprintf("the jar %s holds a lot of soil", name)
		assert.Contains(t, say(text), name)
	})
}

// Against the numbers of golang.org/x/text, which has them from Unicode CLDR. It
// groups with other kinds of space, and does not know that in Spanish numbers of four
// digits stay together (CLDR: minimumGroupingDigits 2).
func TestNumbersAreWrittenAsTheLanguageDoes(t *testing.T) {
	for tag, l := range map[string]language.Tag{"es": language.Spanish, "fr": language.French} {
		own, p := New(tag, nil, nil, nil), message.NewPrinter(l)
		for _, v := range []float64{0.5, 24.2, 999, 1147, 2650, 12345, 169661, 1234567, 98765.5} {
			want := p.Sprint(decimals.Decimal(v, decimals.MaxFractionDigits(1)))
			got := own.Say(fmt.Sprint(int64(v)))
			if v != float64(int64(v)) {
				got = own.Say(fmt.Sprintf("%.1f", v))
			}
			if want = strings.ReplaceAll(want, "\u00a0", "\u202f"); tag == "es" && v < 10000 {
				want = strings.ReplaceAll(want, ".", "")
			}
			assert.Equal(t, want, got, "%s %v", tag, v)
		}
	}
	es, fr := New("es", nil, nil, nil), New("fr", nil, nil, nil)
	assert.Equal(t, "24,2 ± 0,5 mm", es.Say("24.2 ± 0.5 mm"))
	assert.Equal(t, "169\u202f661 ± 3", fr.Say("169661 ± 3"))
	assert.Equal(t, "2 j 1 h", fr.Say("2 d 1 h"))
	assert.Equal(t, "2 d 1 h", es.Say("2 d 1 h"))
	for _, name := range []string{"jar 1.2.jpg", "v1.5b", "ISO 11277", "-", "2026-06-05 11:38"} {
		assert.Equal(t, name, fr.Say(name))
	}
}

// In Mexico numbers are written as 12,345.5 (CLDR es-MX), in Spain as 12.345,5.
func TestACountrysOwnSigns(t *testing.T) {
	l := New("es", nil, map[string]string{"sand": "arena"}, &Signs{Thousands: ",", Grouped: 4, Decimal: "."})
	assert.Equal(t, "12,345.5 mm", l.Say("12345.5 mm"))
	assert.Equal(t, "1,147", l.Say("1147"))
	assert.Equal(t, map[string]string{"sand": "arena", ".": "."}, l.Charts())
	assert.Equal(t, ",", New("es", nil, map[string]string{}, nil).Charts()["."])
}

func TestEnglishStaysAsItIs(t *testing.T) {
	var l *Language
	assert.Equal(t, "en", l.Tag())
	assert.Equal(t, "2650.5 mm", l.Say("2650.5 mm"))
	assert.Nil(t, l.Charts())
	assert.Equal(t, "2650.5 mm", New("en", nil, nil, nil).Say("2650.5 mm"))
}

// A batch writes several reports at a time, and more texts than are kept.
func TestItIsSaidFromSeveralSides(t *testing.T) {
	l := New("es", []Pair{{"the sand is {1} mm high", "la arena mide {1} mm"}}, nil, nil)
	var all sync.WaitGroup
	for k := range 4 {
		all.Go(func() {
			for i := range remembered / 2 {
				n := 10*i + k
				if got := l.Say(fmt.Sprintf("the sand is %d.5 mm high", n%900)); !strings.HasSuffix(got, ",5 mm") {
					t.Error(got)
				}
				l.Say(fmt.Sprintf("name %d", n))
			}
		})
	}
	all.Wait()
}
