package advice

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// Where statements come from.
var (
	practice   = words.Say("source.common-practice")
	own        = words.Say("source.this-reading")
	saxton     = words.Say("source.saxton-rawls")
	fao56      = words.Say("source.fao-56")
	infiltrate = words.Say("source.infiltration")
	osuMyths   = words.Say("source.oregon-myths")
	osuJar     = words.Say("source.oregon-jar")
	osuTexture = words.Say("source.oregon-texture")
	minasny    = words.Say("source.minasny")
	umnCompost = words.Say("source.minnesota-compost")
	ciphe      = words.Say("source.ciphe")
	legionella = words.Then(words.Say("source.legionella"), ciphe)
	epa        = words.Say("source.lead")
	rb209      = words.Say("source.rb209")
	bands      = words.Say("source.spread")
	newYork    = words.Say("source.new-york")
)

func say(topic string, from, said words.Message) reading.Statement {
	return reading.Tell(topic, from, said)
}

// Properties of a soil that advice turns on.

// sandy: sand and loamy sand, the general group of the Soil Survey Manual 2017,
// ch. 3 (from memory).
func sandy(f texture.Fractions) bool {
	class, _ := texture.ClassOf(f, texture.USDA)
	return class == "sand" || class == "loamy sand"
}

// heavy: as much clay as a clay loam, 27 %, or more.
func heavy(f texture.Fractions) bool { return f.Clay >= 27 }

// sealing: half silt or more, which slakes and crusts under rain (common practice).
func sealing(f texture.Fractions) bool { return f.Silt >= 50 }

// surely is the share of the cloud from which a property is taken as given,
// hardly the share up to which it is left out of account.
const (
	surely = 0.8
	hardly = 0.1
)

// soil names the soil: its class where most of the cloud is of that class, else
// the classes that make up nine tenths of it, coarse to fine.
func (g *ground) soil() words.Arg {
	if g.classes[0].Probability >= surely {
		return words.Word("soil", "class", g.classes[0].Name)
	}
	names := g.likely()
	if n := len(names); n > 3 {
		return words.Told("soil", words.Say("advice.soil-between", words.Word("coarse", "class", names[0]), words.Word("fine", "class", names[n-1])))
	}
	return words.Words("soil", "or", "class", names)
}

// likely are the classes that make up nine tenths of the cloud, coarse to fine.
func (g *ground) likely() []string {
	var names []string
	sum := 0.0
	for _, c := range g.classes {
		if sum >= 0.9 {
			break
		}
		names = append(names, c.Name)
		sum += c.Probability
	}
	slices.SortFunc(names, func(a, b string) int { return slices.Index(g.order, a) - slices.Index(g.order, b) })
	return names
}

// round gives millimetres as a person would measure them out.
func round(mm float64) float64 {
	switch {
	case mm < 20:
		return math.Max(1, math.Round(mm))
	case mm < 100:
		return 5 * math.Round(mm/5)
	}
	return 10 * math.Round(mm/10)
}

// every writes how often, from an interval of days.
func every(days reading.Range) words.Message {
	low, high := math.Max(1, math.Round(days.Low)), math.Max(1, math.Round(days.High))
	switch {
	case days.High < 0.7:
		return words.Say("advice.more-than-daily")
	case high == 1:
		return words.Say("advice.daily")
	case low == high:
		return words.Say("advice.every-days", words.Whole("days", low))
	case low == 1 && high == 2:
		return words.Say("advice.day-or-two")
	}
	return words.Say("advice.every-days-range", words.Whole("low", low), words.Whole("high", high))
}

// span writes the interval of a rate, whose high end may be open.
func span(name string, low, high float64) words.Arg {
	if math.IsInf(high, 1) {
		return words.Told(name, words.Say("advice.over", words.Beside("rate", low, 0, 0)))
	}
	return words.Beside(name, low, high, 0)
}

// figures is a length of at most so many figures.
func figures(name string, mm float64, most int) words.Arg {
	short := strconv.FormatFloat(mm, 'g', most, 64)
	v, _ := strconv.ParseFloat(short, 64) // its own writing: cannot fail
	_, part, _ := strings.Cut(strconv.FormatFloat(v, 'f', -1, 64), ".")
	return words.Beside(name, v, 0, len(part))
}
