package words

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Value is an argument of a message; its type says how a language writes it. The types
// are Text, Number, Length, Watering, Temperature, Elapsed, List, Message and Sentence.
type Value interface {
	write(l *Language) string
}

// Text is written as it stands: a name of a file or a jar, a key of jar.yaml, what a
// person wrote.
type Text string

// Number is a bare number with so many decimals; with Figures instead, so many figures.
type Number struct {
	Value    float64 `json:"number"`
	Decimals int     `json:"decimals,omitempty"`
	Figures  int     `json:"figures,omitempty"`
}

// Length is millimetres with their unit, or inches where a person wants these. Beside
// puts inches after millimetres: advice is measured out by hand.
type Length struct {
	MM       float64 `json:"mm"`
	Decimals int     `json:"decimals,omitempty"`
	// HighMM, where it is above MM, makes a range: "10 to 15 mm".
	HighMM float64 `json:"high_mm,omitempty"`
	Beside bool    `json:"beside,omitempty"`
}

// Watering is water given to a bed, in litres on a square metre, which stand a millimetre
// deep each. Where a person wants inches, US gallons on ten square feet stand beside.
type Watering struct {
	Litres float64 `json:"litres_per_m2"`
	// Low and High, where High is above zero, are what it may be.
	Low  float64 `json:"low,omitempty"`
	High float64 `json:"high,omitempty"`
}

// Temperature is degrees Celsius with their unit, or Fahrenheit where a person wants it.
type Temperature struct {
	C float64 `json:"celsius"`
}

// Elapsed is a time since shaking, written to two units: "2 h 4 min".
type Elapsed struct {
	Seconds float64 `json:"seconds"`
}

// List is several values: "a, b", "a, b and c" or "a, b or c", as Join is "", "and" or
// "or"; with "\n" each stands on a line of its own.
type List struct {
	Items []Value
	Join  string
}

// Sentence is a message written as a sentence of its own, see Language.Sentence.
type Sentence struct {
	Message Message `json:"sentence"`
}

// cause is an error that stands in a message: written as Of has it, and unwrapped.
type cause struct{ error }

// Name is a text that is written as it stands.
func Name(name, text string) Arg { return Arg{name, Text(text)} }

// Quoted is what a person or a file says, in quotation marks; what cannot be shown is
// spelt out.
func Quoted(name, text string) Arg { return Told(name, Quote(text)) }

// Quote is the message that Quoted puts into another.
func Quote(text string) Message {
	q := strconv.Quote(text)
	return Say("quoted", Name("text", q[1:len(q)-1]))
}

// Lines is a text of several lines, each written as it stands.
func Lines(name, text string) Arg { return Names(name, "\n", strings.Split(text, "\n")) }

// OneLine is a name as it is shown: a name that holds the end of a line must not pass for
// two lines.
func OneLine(text string) string { return ends.Replace(text) }

var ends = strings.NewReplacer("\n", `\n`, "\r", `\r`, "\t", `\t`)

// Whole is a number without decimals. The one named "n" chooses between the forms of a
// text: one thing, several things.
func Whole[T ~int | ~int64 | ~float64](name string, v T) Arg {
	return Arg{name, Number{Value: float64(v)}}
}

// Decimal is a number with decimals.
func Decimal(name string, v float64, decimals int) Arg {
	return Arg{name, Number{Value: v, Decimals: decimals}}
}

// Figures is a number of so many figures, as %.3g has it.
func Figures(name string, v float64, figures int) Arg {
	return Arg{name, Number{Value: v, Figures: figures}}
}

// MM is a length of so many decimals in millimetres.
func MM(name string, mm float64, decimals int) Arg {
	return Arg{name, Length{MM: mm, Decimals: decimals}}
}

// Beside is a length to measure out by hand: inches stand beside millimetres. With a high
// end above mm it is a range.
func Beside(name string, mm, highMM float64, decimals int) Arg {
	return Arg{name, Length{MM: mm, Decimals: decimals, HighMM: highMM, Beside: true}}
}

// C is a temperature in degrees Celsius.
func C(name string, c float64) Arg { return Arg{name, Temperature{c}} }

// After is a time since shaking.
func After(name string, t time.Duration) Arg { return Arg{name, Elapsed{t.Seconds()}} }

// Told is a message that stands in another; with nothing to say, nothing.
func Told(name string, m Message) Arg { return Arg{name, m} }

// Word is the text of a family of the catalogue: Word("line", "class", "loam") is the
// text "class.loam". A text that the family does not have is written as it stands.
func Word(name, family, word string) Arg { return Arg{name, WordOf(family, word)} }

// WordOf is the message that Word puts into another.
func WordOf(family, word string) Message {
	key := family + "." + slug(word)
	if _, ok := english().texts[key]; !ok {
		return Say("as-it-is", Name("text", word))
	}
	return Say(key)
}

// Because is an error in a message, which errors.Is and errors.As still find.
func Because(name string, err error) Arg { return Arg{name, cause{err}} }

// Names is a list of texts that are written as they stand; join as List has it.
func Names[S ~string](name, join string, texts []S) Arg {
	items := make([]Value, len(texts))
	for i, t := range texts {
		items[i] = Text(string(t))
	}
	return Arg{name, List{items, join}}
}

// Words is a list of texts of a family; join as List has it.
func Words[S ~string](name, join, family string, list []S) Arg {
	items := make([]Value, len(list))
	for i, t := range list {
		items[i] = WordOf(family, string(t))
	}
	return Arg{name, List{items, join}}
}

// All is a list of messages; join as List has it.
func All(name, join string, list []Message) Arg {
	items := make([]Value, len(list))
	for i, m := range list {
		items[i] = m
	}
	return Arg{name, List{items, join}}
}

type listJSON struct {
	Items []json.RawMessage `json:"list"`
	Join  string            `json:"join,omitempty"`
}

func encodeValue(v Value) (json.RawMessage, error) {
	switch x := v.(type) {
	case nil:
		return json.Marshal("")
	case Text:
		return json.Marshal(string(x))
	case cause:
		return json.Marshal(Of(x.error))
	case List:
		out := listJSON{Items: []json.RawMessage{}, Join: x.Join}
		for _, item := range x.Items {
			data, err := encodeValue(item)
			if err != nil {
				return nil, err
			}
			out.Items = append(out.Items, data)
		}
		return json.Marshal(out)
	}
	return json.Marshal(v)
}

// kinds tells a value by a key that its object must have.
var kinds map[string]func(json.RawMessage) (Value, error)

func init() { // for lists hold values again
	kinds = map[string]func(json.RawMessage) (Value, error){
		"key":           decoded[Message],
		"number":        decoded[Number],
		"mm":            decoded[Length],
		"litres_per_m2": decoded[Watering],
		"celsius":       decoded[Temperature],
		"seconds":       decoded[Elapsed],
		"list":          decodeList,
		"sentence":      decoded[Sentence],
	}
}

func decoded[T Value](data json.RawMessage) (Value, error) {
	var v T
	err := json.Unmarshal(data, &v)
	return v, err
}

func decodeValue(data json.RawMessage) (Value, error) {
	var text string
	if json.Unmarshal(data, &text) == nil {
		return Text(text), nil
	}
	var keys map[string]json.RawMessage
	if err := json.Unmarshal(data, &keys); err != nil {
		return nil, err
	}
	for kind, decode := range kinds {
		if _, ok := keys[kind]; ok {
			return decode(data)
		}
	}
	return nil, fmt.Errorf("an argument of no known kind: %s", data)
}

func decodeList(data json.RawMessage) (Value, error) {
	var in listJSON
	if err := json.Unmarshal(data, &in); err != nil {
		return nil, err
	}
	out := List{Join: in.Join}
	for _, item := range in.Items {
		v, err := decodeValue(item)
		if err != nil {
			return nil, err
		}
		out.Items = append(out.Items, v)
	}
	return out, nil
}

func sorted[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
