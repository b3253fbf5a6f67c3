package words_test

import (
	"encoding/json"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"mudline/internal/words"
)

func find(t *testing.T, tag string) *words.Language {
	l, err := words.Find(tag)
	require.NoError(t, err)
	return l
}

// A message is the same after its way through JSON, whatever it holds.
func TestMessagesTravelAsJSON(t *testing.T) {
	inner := words.In("jar 1.jpg", words.Say("as-it-is", words.Name("text", "dark")))
	m := words.Say("x", words.Name("file", "a.jpg"), words.MM("h", 12.34, 1), words.C("temp", 20), words.After("t", 2*time.Hour),
		words.Whole("n", 3), words.Figures("f", 0.0123, 2), words.Told("why", inner), words.Names("all", "or", []string{"a", "b"}),
		words.Arg{Name: "s", Value: words.Sentence{Message: inner}}, words.Beside("deep", 25, 50, 0),
		words.Arg{Name: "bed", Value: words.Watering{Litres: 13, Low: 10, High: 17}})
	data, err := json.Marshal(m)
	require.NoError(t, err)
	var back words.Message
	require.NoError(t, json.Unmarshal(data, &back))
	again, err := json.Marshal(back)
	require.NoError(t, err)
	assert.JSONEq(t, string(data), string(again))
	for _, tag := range words.Tags() {
		l := find(t, tag)
		assert.Equal(t, l.Say(m.Arg("why").(words.Message)), l.Say(back.Arg("why").(words.Message)), tag)
		assert.Len(t, back.Args, len(m.Args))
	}
	assert.Error(t, json.Unmarshal([]byte(`{"key":"x","args":{"a":{"colour":"red"}}}`), &back))
}

func TestValuesInEachLanguage(t *testing.T) {
	for _, c := range []struct {
		value words.Value
		want  map[string]string
	}{
		{words.Length{MM: 24.16, Decimals: 1}, map[string]string{"en": "24.2 mm", "es": "24,2\u00a0mm", "fr": "24,2\u00a0mm"}},
		{words.Length{MM: 10, HighMM: 15}, map[string]string{"en": "10 to 15 mm", "es": "10 a 15\u00a0mm"}},
		{words.Elapsed{Seconds: 60}, map[string]string{"en": "1 min"}},
		{words.Elapsed{Seconds: 90}, map[string]string{"en": "90 s"}},
		{words.Elapsed{Seconds: 7440}, map[string]string{"en": "2 h 4 min", "fr": "2\u00a0h 4\u00a0min"}},
		{words.Elapsed{Seconds: 165600}, map[string]string{"en": "1 d 22 h", "fr": "1\u00a0j 22\u00a0h"}},
		{words.Temperature{C: 18}, map[string]string{"en": "18 °C", "fr": "18\u00a0°C"}},
		{words.Number{Value: 12345.6, Decimals: 1}, map[string]string{"en": "12345.6", "es": "12.345,6", "fr": "12\u202f345,6"}},
		{words.Number{Value: 0.01234, Figures: 2}, map[string]string{"en": "0.012", "es": "0,012"}},
		{words.List{Items: []words.Value{words.Text("a"), words.Text("b"), words.Text("c")}, Join: "or"}, map[string]string{"en": "a, b or c", "es": "a, b o c", "fr": "a, b ou c"}},
	} {
		for tag, want := range c.want {
			assert.Equal(t, want, find(t, tag).Text("as-it-is", words.Arg{Name: "text", Value: c.value}), "%s %v", tag, c.value)
		}
	}
	// An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
	inches := find(t, "en").In(words.Setting{Inches: true, Fahrenheit: true})
	for want, v := range map[string]words.Value{
		"1.00 in":                     words.Length{MM: 25.4, Decimals: 1},
		"0.98 in (25 mm)":             words.Length{MM: 25, Beside: true},
		"2.0 to 3.0 in (50 to 75 mm)": words.Length{MM: 50, HighMM: 75, Beside: true},
		"68 °F":                       words.Temperature{C: 20},
	} {
		assert.Equal(t, want, inches.Text("as-it-is", words.Arg{Name: "text", Value: v}))
	}
}

// Numbers are written as the Unicode CLDR has it, here by golang.org/x/text; between
// thousands French has had a narrow space since CLDR 34, which is newer than the library's.
func TestNumbersAsCLDRHasThem(t *testing.T) {
	for _, tag := range []string{"es", "fr"} {
		p := message.NewPrinter(language.Make(tag))
		for _, v := range []float64{0.5, 12.25, 999, 12345.5, 1234567} {
			want := strings.ReplaceAll(p.Sprint(number.Decimal(v, number.Scale(2))), "\u00a0", "\u202f")
			assert.Equal(t, want, find(t, tag).Number(v, 2), tag)
		}
	}
}

// What is sentence and what is not.
func TestSentences(t *testing.T) {
	say := func(s string) words.Message { return words.Say("as-it-is", words.Name("text", s)) }
	var l *words.Language
	assert.Equal(t, "It is dark. Wait.", l.Say(words.Sentences(say("it is dark"), words.Message{}, say("wait."))))
	assert.Equal(t, "it is dark; wait", l.Say(words.Then(words.Message{}, say("it is dark"), say("wait"))))
	assert.Equal(t, "img.jpg: it is dark.", l.Sentence(words.In("img.jpg", say("it is dark"))))
	assert.Equal(t, "jars holds no photos; wait.", l.Sentence(words.Then(words.Say("command.holds-no-photos", words.Name("folder", "jars")), say("wait"))))
}

// An error within a message is still found.
func TestErrorsAreFoundInMessages(t *testing.T) {
	m := words.Say("of-file", words.Name("file", "a"), words.Because("text", io.ErrUnexpectedEOF))
	var err error = m
	assert.ErrorIs(t, err, io.ErrUnexpectedEOF)
	assert.Equal(t, "a: unexpected EOF", err.Error())
	assert.Equal(t, m, words.Of(errors.Join(errors.New("x"), m)))
}

// Which form a number takes is as the Unicode CLDR has it, here by golang.org/x/text.
func TestFormsAsCLDRHasThem(t *testing.T) {
	for _, tag := range words.Tags() {
		l, err := words.New(tag, []byte(`{"things": {"one": "one", "other": "other"}}`), nil)
		require.NoError(t, err)
		for n := range 1001 {
			want := "other"
			if plural.Cardinal.MatchPlural(language.Make(tag), n, 0, 0, 0, 0) == plural.One {
				want = "one"
			}
			assert.Equal(t, want, l.Text("things", words.Whole("n", n)), "%s %d", tag, n)
		}
	}
}
