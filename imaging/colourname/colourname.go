// Package colourname calls the colour of soil by plain words.
package colourname

import (
	"math"

	"mudline/internal/words"
)

// Of names a colour in CIELAB (D65) as one does of soil: a hue, greyish where it is weak,
// and how dark or light. The borders between hues are the middles between those of the
// pages of soil charts (7.5YR and 10YR, for one), from memory; the rest is common
// practice. Near a border another eye takes the other name.
func Of(lab [3]float64) words.Message {
	l := lab[0]
	chroma, hue := math.Hypot(lab[1], lab[2]), math.Atan2(lab[2], lab[1])*180/math.Pi
	weak, full := borders(l)
	if chroma < neutral {
		return plain(l)
	}
	if l < blackBelow && chroma < weak+2 {
		return words.WordOf("hue", "black")
	}
	kind := 2
	switch {
	case chroma < weak:
		kind = 0
	case chroma < full:
		kind = 1
	}
	name := hueAt(hue, kind, l)
	if name == yellow && l <= yellowTo {
		return words.WordOf("hue", name) // it is light by itself
	}
	return depth(l, words.WordOf("hue", name))
}

// Limits of CIELAB chroma and lightness.
const (
	neutral    = 3.0
	blackBelow = 14.5
)

// borders are the chromas up to which a colour is a grey with a tinge, and a greyish
// colour: dark ones need less.
func borders(l float64) (weak, full float64) {
	t := math.Max(0, math.Min(l, 60)-20)
	return 5.5 + 0.125*t, 11 + 0.17*t
}

// family is the name of a range of hue angles, that of its weak colours first.
type family struct {
	upTo  float64 // degrees
	words [3]string
}

var families = []family{
	{27, [3]string{"reddish-grey", "greyish-red", "red"}},
	{56, [3]string{"brownish-grey", "greyish-reddish-brown", "reddish-brown"}},
	{68, [3]string{"brownish-grey", "greyish-brown", "brown"}},
	{80, [3]string{"brownish-grey", "greyish-yellowish-brown", "yellowish-brown"}},
	{93, [3]string{"olive-grey", "greyish-olive-brown", "olive-brown"}},
	{115, [3]string{"olive-grey", "greyish-olive", "olive"}},
	{200, [3]string{"greenish-grey", "greyish-green", "green"}},
	{320, [3]string{"bluish-grey", "greyish-blue", "blue"}},
}

// Yellow is what olive brown is called where it is light, and brown of 10YR where very.
const (
	yellow               = "brownish-yellow"
	yellowFrom, paleFrom = 55.0, 70.0
	yellowTo             = 72.0
)

// A dark colour of one page has a hue angle nearer to red, by up to so many degrees.
const redderDark, darkFrom = 8.0, 32.0

func hueAt(deg float64, kind int, l float64) string {
	if deg < 0 {
		deg += 360
	}
	darker := redderDark * math.Max(0, math.Min((darkFrom-l)/10, 1))
	for _, f := range families {
		if deg >= f.upTo-darker {
			continue
		}
		switch name := f.words[kind]; {
		case l > yellowFrom && name == "olive-brown":
			return yellow
		case l > paleFrom && name == "yellowish-brown":
			return yellow
		default:
			return name
		}
	}
	return families[0].words[kind]
}

// plain names a grey.
func plain(l float64) words.Message {
	switch grey := words.WordOf("hue", "grey"); {
	case l < 18:
		return words.WordOf("hue", "black")
	case l > 90:
		return words.WordOf("hue", "white")
	case l < 45:
		return words.Say("colour.dark", words.Told("hue", grey))
	case l > 65:
		return words.Say("colour.light", words.Told("hue", grey))
	default:
		return grey
	}
}

// depth says how dark or light a hue is.
func depth(l float64, hue words.Message) words.Message {
	of := words.Told("hue", hue)
	switch {
	case l < 15:
		return words.Say("colour.very-dark", of)
	case l < 30:
		return words.Say("colour.dark", of)
	case l > 72:
		return words.Say("colour.very-light", of)
	case l > 50:
		return words.Say("colour.light", of)
	}
	return hue
}
