package advice

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mudline/internal/reading"
	"mudline/texture"
)

// Where statements come from.
const (
	practice   = "common practice"
	own        = "this reading"
	saxton     = "Saxton & Rawls 2006, table 1"
	fao56      = "FAO-56, Allen et al. 1998, eq. 82-83 and table 22"
	infiltrate = "Brouwer et al., FAO training manual 5; rates after Hillel 1982"
	osuMyths   = "Oregon State University Extension, The Oregonian 2018"
	osuJar     = "Oregon State University Extension, Jar Soil Test"
	minasny    = "summary of Minasny & McBratney 2018"
	umnCompost = "University of Minnesota Extension, compost in spring"
	osuTexture = "Oregon State University, forages: texture"
)

func say(topic, source, format string, a ...any) reading.Statement {
	text := fmt.Sprintf(format, a...)
	return reading.Statement{Topic: topic, Text: strings.ToUpper(text[:1]) + text[1:], Source: source}
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
func (g *ground) soil() string {
	if g.classes[0].Probability >= surely {
		return g.classes[0].Name
	}
	names := g.likely()
	switch n := len(names); n {
	case 1:
		return names[0]
	case 2, 3:
		return strings.Join(names[:n-1], ", ") + " or " + names[n-1]
	default:
		return "soil between " + names[0] + " and " + names[n-1]
	}
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

// amount writes millimetres as a person would measure them out.
func amount(mm float64) string { return fmt.Sprintf("%.0f", round(mm)) }

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
func every(days reading.Range) string {
	low, high := math.Max(1, math.Round(days.Low)), math.Max(1, math.Round(days.High))
	switch {
	case days.High < 0.7:
		return "more than once a day"
	case high == 1:
		return "every day"
	case low == high:
		return fmt.Sprintf("every %.0f days", low)
	case low == 1 && high == 2:
		return "every day or two"
	}
	return fmt.Sprintf("every %.0f to %.0f days", low, high)
}

// span writes the interval of a rate, whose high end may be open.
func span(low, high float64) string {
	if math.IsInf(high, 1) {
		return fmt.Sprintf("over %.0f mm", low)
	}
	return fmt.Sprintf("%.0f to %.0f mm", low, high)
}
