package feel

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"mudline/internal/words"
)

// MaxText is how many characters an answer in words may have.
const MaxText = 60

// word is the field in which an answer is kept.
type word struct {
	get func() string
	set func(string)
}

func in[T ~string](field *T) word {
	return word{func() string { return string(*field) }, func(s string) { *field = T(s) }}
}

// fields maps the keys of all questions but Ribbons to the fields of o.
func (o *Observation) fields() map[string]word {
	return map[string]word{
		"hands": in(&o.Hands), "stones-out": in(&o.StonesOut), "moistened": in(&o.Moistened), "kneaded": in(&o.Kneaded),
		"smell": in(&o.Smell), "colour-dry": in(&o.ColourDry), "colour-moist": in(&o.ColourMoist),
		"grit": in(&o.Grit), "smooth": in(&o.Smooth), "sticky": in(&o.Sticky), "ball": in(&o.Ball), "failure": in(&o.Failure),
	}
}

// Set writes the answer to the question of that key; an empty text takes it
// back. A choice is named by its value in any case, with a hyphen or a blank.
// Ribbons are lengths in mm separated by commas, or "none" for a ribbon that
// would not form. Errors list what is allowed.
func Set(o *Observation, key, text string) error {
	q, err := question(key)
	if err != nil {
		return err
	}
	text = strings.TrimSpace(text)
	if q.Kind == Lengths {
		mm, err := parseMM(text)
		if err == nil {
			o.RibbonsMM = mm
		}
		return err
	}
	if q.Kind == Choice {
		text, err = q.pick(text)
	} else {
		text, err = describe(text)
	}
	if err == nil {
		o.fields()[key].set(text)
	}
	return err
}

// Get is the answer to the question of that key as Set reads it; empty where
// nothing was said or the key is unknown.
func Get(o Observation, key string) string {
	if key == Ribbons {
		parts := make([]string, len(o.RibbonsMM))
		for i, mm := range o.RibbonsMM {
			parts[i] = strconv.FormatFloat(mm, 'f', -1, 64)
		}
		return strings.Join(parts, ", ")
	}
	if w, ok := o.fields()[key]; ok {
		return w.get()
	}
	return ""
}

// Keys lists the keys of all questions in their order.
func Keys() []string {
	var keys []string
	for _, q := range Questions() {
		keys = append(keys, q.Key)
	}
	return keys
}

// Empty says that nothing was observed.
func (o Observation) Empty() bool {
	return !slices.ContainsFunc(Keys(), func(k string) bool { return Get(o, k) != "" })
}

func question(key string) (Question, error) {
	for _, q := range Questions() {
		if q.Key == key {
			return q, nil
		}
	}
	return Question{}, words.Say("hand.no-key", words.Quoted("given", key), words.Names("known", "", Keys()))
}

// Values lists the answers of a choice.
func (q Question) Values() []string {
	values := make([]string, len(q.Choices))
	for i, c := range q.Choices {
		values[i] = c.Value
	}
	return values
}

// otherWords are other ways to write an answer.
var otherWords = map[string]string{"y": "yes", "true": "yes", "n": "no", "false": "no", "nil": "none", "nothing": "none",
	"petrol": "fuel", "gasoline": "fuel", "diesel": "fuel", "oil": "fuel", "solvent": "fuel", "rotten": "rotten egg"}

// pick gives the value of a choice that the text means.
func (q Question) pick(text string) (string, error) {
	if text == "" {
		return "", nil
	}
	value := strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == '-' || r == '_' || unicode.IsSpace(r) }), " ")
	if other, ok := otherWords[value]; ok {
		value = other
	}
	if value == "no" && !slices.Contains(q.Values(), "no") {
		value = "none"
	}
	if slices.Contains(q.Values(), value) {
		return value, nil
	}
	return "", words.Say("hand.no-answer", words.Quoted("given", text), words.Word("key", "record-key", q.Key), words.Names("known", "", q.Values()))
}

// parseMM reads lengths in mm separated by commas.
func parseMM(text string) ([]float64, error) {
	if text == "" {
		return nil, nil
	}
	var out []float64
	for part := range strings.SplitSeq(strings.ToLower(text), ",") {
		part = strings.TrimSpace(part)
		if part == "none" {
			part = "0"
		}
		mm, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(part, "mm")), 64)
		if err != nil || math.IsNaN(mm) || math.IsInf(mm, 0) || mm < 0 {
			return nil, words.Say("hand.no-length", words.Quoted("given", part))
		}
		out = append(out, mm)
	}
	return out, nil
}

// describe checks a colour: plain words, or a Munsell notation.
func describe(text string) (string, error) {
	if n := len([]rune(text)); n > MaxText {
		return "", words.Say("hand.too-long", words.Quoted("given", string([]rune(text)[:20])), words.Whole("characters", n), words.Whole("most", MaxText))
	}
	if strings.ContainsFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) {
		return "", words.Say("hand.not-shown", words.Quoted("given", text))
	}
	return munsell(text)
}
