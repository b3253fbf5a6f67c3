// Package report shows a reading to a person: as a table for the terminal, drawn on
// their own photos, and as a page. Wording is for a gardener first; what only the
// curious want is behind Options.Explain.
package report

import (
	"fmt"
	"math"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/record"
	"mudline/internal/words"
	"mudline/texture"
)

// Options say how a reading is shown.
type Options struct {
	// Explain adds the numbers behind the reading.
	Explain bool
	// Inches and Fahrenheit show lengths and temperatures in those units.
	Inches, Fahrenheit bool
	// Language is that of all that is shown; nil is English.
	Language *words.Language
	// Columns is how many letters a line may have; 0 is as many as tables come to.
	Columns int
}

// language writes in the person's units.
func (o Options) language() *words.Language {
	return o.Language.In(words.Setting{Surface: o.Language.Setting().Surface, Inches: o.Inches, Fahrenheit: o.Fahrenheit})
}

// say writes the text of a key.
func (o Options) say(key string, args ...words.Arg) string { return o.language().Text(key, args...) }

// tell writes a message.
func (o Options) tell(m words.Message) string { return o.language().Say(m) }

// sentence writes a message as a sentence of its own.
func (o Options) sentence(m words.Message) string {
	if m.Key != plain {
		return o.language().Sentence(m)
	}
	return alone(o.tell(m))
}

// plain is the key of a text from a reading that was written without messages.
const plain = "as-it-is"

// write writes one value.
func (o Options) write(v words.Value) string {
	return o.say("as-it-is", words.Arg{Name: "text", Value: v})
}

// whole and decimal write a number.
func (o Options) whole(v float64) string          { return o.language().Number(v, 0) }
func (o Options) decimal(v float64, n int) string { return o.language().Number(v, n) }
func (o Options) unit(key string, text string) string {
	return o.say("unit."+key, words.Name("v", text))
}

// part names sand, silt or clay.
func (o Options) part(key string) string { return o.language().Word("part", key) }

// class names a texture class in full.
func (o Options) class(name string) string { return o.language().Word("class", name) }

// elapsed writes a time since shaking.
func (o Options) elapsed(s float64) string { return o.write(words.Elapsed{Seconds: s}) }

// length writes a height: "24.2 mm" or "0.95 in".
func (o Options) length(mm float64) string { return o.write(words.Length{MM: mm, Decimals: 1}) }

// depth writes the water depth, in inches as finely as it was stated.
func (o Options) depth(mm float64) string {
	if o.Inches {
		return o.say("unit.inch", words.Figures("v", mm/record.MMPerInch, 4))
	}
	return o.write(words.Length{MM: mm})
}

func (o Options) temp(c float64) string { return o.write(words.Temperature{C: c}) }

// height writes a height with its spread of two standard deviations, which
// holds about 95 times in 100.
func (o Options) height(h *reading.Height, percent bool) string {
	give := func(k float64, decimals int) string {
		return o.decimal(h.Value*k, decimals) + " +- " + o.decimal(spread(h.SD*k, math.Pow10(-decimals)), decimals)
	}
	switch {
	case h == nil:
		return "-"
	case percent:
		return o.say("report.percent", words.Name("v", give(1, 1)))
	case o.Inches:
		return o.unit("inch", give(1/record.MMPerInch, 2))
	}
	return o.unit("mm", give(1, 1))
}

// spread is twice the standard deviation, never shown as nothing.
func spread(sd, least float64) float64 { return math.Max(2*sd, least) }

// source says where a photo's time comes from.
func (o Options) source(from string) string {
	switch from {
	case record.FromName:
		return o.say("report.from-name")
	case record.FromEXIF:
		return o.say("report.from-camera")
	}
	return o.say("report.from-you")
}

// chance is a probability the way people say it.
func chance(p float64) words.Message {
	n := int(math.Round(100 * p))
	switch {
	case n >= 100:
		return words.Say("report.chance-over")
	case n < 1:
		return words.Say("report.chance-under")
	}
	return words.Say("report.chance", words.Whole("v", n))
}

func (o Options) chance(p float64) string { return o.tell(chance(p)) }

// sure says how far the first class can be relied on.
func sure(p float64) words.Message {
	switch {
	case p >= 0.9:
		return words.Say("report.very-likely")
	case p >= reading.Enough:
		return words.Say("report.likely")
	}
	return words.Say("report.best-guess")
}

// Verdict names the class of a reading, or the few of which it is one, and says how
// sure that is: "loam or clay loam", "one of these, 92 in 100 together".
func Verdict(c reading.Class) (name, certainty words.Message) {
	names, together := c.Named()
	if len(names) == 1 {
		return words.WordOf("class", names[0]), words.Say("report.sure", words.Told("how", sure(c.Probability)), words.Told("chance", chance(c.Probability)))
	}
	return words.Say("as-it-is", words.Words("text", "or", "class", names)), words.Say("report.one-of-these", words.Told("chance", chance(together)))
}

// systemTitle names a system of classes.
func (o Options) systemTitle(name string) string {
	s, err := texture.ParseSystem(name)
	if err != nil {
		return name
	}
	return o.say("classes." + s.String())
}

// percent writes a percentage.
func (o Options) percent(v float64) string { return o.say("report.percent", words.Whole("v", v)) }

// one writes a percentage with a decimal, or that it was not told.
func (o Options) one(v *float64) string {
	if v == nil {
		return "-"
	}
	return o.say("report.percent", words.Decimal("v", *v, 1))
}

// share writes a percentage, or that it was not told.
func (o Options) share(v *float64) string {
	if v == nil {
		return "-"
	}
	return o.percent(*v)
}

// within writes an interval, and between a percentage with its interval.
func (o Options) within(low, high float64) string {
	return o.say("report.percent", words.Name("v", o.span(low, high)))
}

func (o Options) between(e reading.Estimate) string {
	return o.say("report.percent-span", words.Whole("v", e.Percent), words.Whole("low", e.Low), words.Whole("high", e.High))
}

func (o Options) span(low, high float64) string {
	return o.say("report.span", words.Whole("low", low), words.Whole("high", high))
}

// classList writes classes with their chances.
func (o Options) classList(classes []reading.OtherClass) string {
	parts := make([]string, len(classes))
	for i, c := range classes {
		parts[i] = o.class(c.Name) + " " + o.chance(c.Probability)
	}
	return strings.Join(parts, ", ")
}

// twoFigures writes a diameter that lies between 0.1 and a few hundred.
func (o Options) twoFigures(v float64) string {
	if v < 9.95 {
		return o.decimal(v, 1)
	}
	return o.whole(v)
}

// wrap breaks text into lines of at most width letters, each after indent. Spaces that
// no line breaks at stay.
func wrap(text, indent string, width int) string {
	var b strings.Builder
	line := indent
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		if len([]rune(line))+1+len([]rune(word)) > width && line != indent {
			b.WriteString(line + "\n")
			line = indent
		}
		if line != indent {
			line += " "
		}
		line += word
	}
	return b.String() + line + "\n"
}

// underlined is a title over a line as long.
func underlined(title, with string) string {
	return fmt.Sprintf("%s\n%s\n", title, strings.Repeat(with, len([]rune(title))))
}
