package texture

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func atLeast(a, b float64) bool { return a >= b-edge }
func below(a, b float64) bool   { return a < b-edge }
func above(a, b float64) bool   { return a > b+edge }
func atMost(a, b float64) bool  { return a <= b+edge }

// wording is one class definition in words, against which the fields are held; the
// rules of a system exclude each other.
type wording struct {
	name string
	in   func(sa, si, cl float64) bool
}

// usdaWording is that of the Soil Survey Manual 2017, ch. 3 (from memory), made
// exclusive by Benham, Ahrens & Nettleton.
var usdaWording = []wording{
	{"sand", func(sa, si, cl float64) bool { return above(sa, 85) && below(si+1.5*cl, 15) }},
	{"loamy sand", func(sa, si, cl float64) bool {
		return atLeast(sa, 70) && atMost(sa, 90) && atLeast(si+1.5*cl, 15) && below(si+2*cl, 30)
	}},
	{"sandy loam", func(sa, si, cl float64) bool {
		heavier := atLeast(cl, 7) && below(cl, 20) && above(sa, 52)
		lighter := below(cl, 7) && below(si, 50)
		return (heavier || lighter) && atLeast(si+2*cl, 30)
	}},
	{"loam", func(sa, si, cl float64) bool {
		return atLeast(cl, 7) && below(cl, 27) && atLeast(si, 28) && below(si, 50) && atMost(sa, 52)
	}},
	{"silt loam", func(_, si, cl float64) bool {
		return (atLeast(si, 50) && atLeast(cl, 12) && below(cl, 27)) ||
			(atLeast(si, 50) && below(si, 80) && below(cl, 12))
	}},
	{"silt", func(_, si, cl float64) bool { return atLeast(si, 80) && below(cl, 12) }},
	{"sandy clay loam", func(sa, si, cl float64) bool {
		return atLeast(cl, 20) && below(cl, 35) && below(si, 28) && above(sa, 45)
	}},
	{"clay loam", func(sa, _, cl float64) bool {
		return atLeast(cl, 27) && below(cl, 40) && above(sa, 20) && atMost(sa, 45)
	}},
	{"silty clay loam", func(sa, _, cl float64) bool {
		return atLeast(cl, 27) && below(cl, 40) && atMost(sa, 20)
	}},
	{"sandy clay", func(sa, _, cl float64) bool { return atLeast(cl, 35) && above(sa, 45) }},
	{"silty clay", func(_, si, cl float64) bool { return atLeast(cl, 40) && atLeast(si, 40) }},
	{"clay", func(sa, si, cl float64) bool { return atLeast(cl, 40) && atMost(sa, 45) && below(si, 40) }},
}

// englandWalesWording is that of Hodgson, Soil Survey Field Handbook (from memory).
var englandWalesWording = []wording{
	{"sand", func(_, si, cl float64) bool { return below(si+1.5*cl, 15) }},
	{"loamy sand", func(_, si, cl float64) bool { return atLeast(si+1.5*cl, 15) && below(si+2*cl, 30) }},
	{"sandy loam", func(sa, si, cl float64) bool { return atLeast(si+2*cl, 30) && below(cl, 18) && above(sa, 50) }},
	{"sandy silt loam", func(sa, _, cl float64) bool { return below(cl, 18) && above(sa, 20) && atMost(sa, 50) }},
	{"silt loam", func(sa, _, cl float64) bool { return below(cl, 18) && atMost(sa, 20) }},
	{"sandy clay loam", func(sa, _, cl float64) bool { return atLeast(cl, 18) && below(cl, 30) && above(sa, 50) }},
	{"clay loam", func(sa, si, cl float64) bool {
		return atLeast(cl, 18) && below(cl, 35) && above(sa, 20) && (below(cl, 30) && atMost(sa, 50) || atLeast(cl, 30) && atLeast(si, 20))
	}},
	{"silty clay loam", func(sa, _, cl float64) bool { return atLeast(cl, 18) && below(cl, 35) && atMost(sa, 20) }},
	{"sandy clay", func(sa, si, cl float64) bool {
		return atLeast(cl, 30) && below(cl, 35) && below(si, 20) || atLeast(cl, 35) && above(sa, 45)
	}},
	{"silty clay", func(_, si, cl float64) bool { return atLeast(cl, 35) && atLeast(si, 45) }},
	{"clay", func(sa, si, cl float64) bool { return atLeast(cl, 35) && atMost(sa, 45) && below(si, 45) }},
}

// internationalWording: clay cut at 15, 25 and 45 percent, silt at 45, sand at 85,
// 65 and 55 (from memory); sand itself has a sloping limit.
var internationalWording = []wording{
	{"sand", func(_, si, cl float64) bool { return below(si+3*cl, 15) }},
	{"loamy sand", func(sa, si, cl float64) bool { return above(sa, 85) && atLeast(si+3*cl, 15) }},
	{"sandy loam", func(sa, _, cl float64) bool { return below(cl, 15) && atMost(sa, 85) && above(sa, 65) }},
	{"loam", func(sa, si, cl float64) bool { return below(cl, 15) && atMost(sa, 65) && below(si, 45) }},
	{"silt loam", func(_, si, cl float64) bool { return below(cl, 15) && atLeast(si, 45) }},
	{"sandy clay loam", func(_, si, cl float64) bool { return atLeast(cl, 15) && below(cl, 25) && below(si, 20) }},
	{"clay loam", func(_, si, cl float64) bool {
		return atLeast(cl, 15) && below(cl, 25) && atLeast(si, 20) && below(si, 45)
	}},
	{"silty clay loam", func(_, si, cl float64) bool { return atLeast(cl, 15) && below(cl, 25) && atLeast(si, 45) }},
	{"sandy clay", func(sa, _, cl float64) bool { return atLeast(cl, 25) && below(cl, 45) && above(sa, 55) }},
	{"light clay", func(sa, si, cl float64) bool {
		return atLeast(cl, 25) && below(cl, 45) && atMost(sa, 55) && below(si, 45)
	}},
	{"silty clay", func(_, si, cl float64) bool { return atLeast(cl, 25) && below(cl, 45) && atLeast(si, 45) }},
	{"heavy clay", func(_, _, cl float64) bool { return atLeast(cl, 45) }},
}

// europeanWording is that of the soil map of the European Communities (1985, from
// memory): clay cut at 18, 35 and 60, sand at 65 and 15.
var europeanWording = []wording{
	{"coarse", func(sa, _, cl float64) bool { return below(cl, 18) && above(sa, 65) }},
	{"medium", func(sa, _, cl float64) bool {
		return below(cl, 35) && above(sa, 15) && (atLeast(cl, 18) || atMost(sa, 65))
	}},
	{"medium fine", func(sa, _, cl float64) bool { return below(cl, 35) && atMost(sa, 15) }},
	{"fine", func(_, _, cl float64) bool { return atLeast(cl, 35) && below(cl, 60) }},
	{"very fine", func(_, _, cl float64) bool { return atLeast(cl, 60) }},
}

// TestFieldsAreTheWording holds corners that were read against limits as they are
// put in words, on a grid of half a percent.
func TestFieldsAreTheWording(t *testing.T) {
	for s, rules := range map[System][]wording{EnglandWales: englandWalesWording, International: internationalWording, European: europeanWording} {
		grid(200, func(f Fractions) {
			name, err := ClassOf(f, s)
			require.NoError(t, err)
			require.Equal(t, byWording(rules, f), []string{name}, "%v: %v", s, f)
		})
	}
}

// TestGermanClassesByClayAndSilt: the lowest and highest clay and silt of each
// class as the mapping guide lists them (KA4 1994; from memory).
func TestGermanClassesByClayAndSilt(t *testing.T) {
	for name, r := range map[string][4]float64{
		"reiner Sand": {0, 5, 0, 10}, "schwach schluffiger Sand": {0, 5, 10, 25}, "schwach lehmiger Sand": {5, 8, 10, 25},
		"mittel lehmiger Sand": {8, 12, 10, 40}, "schwach toniger Sand": {5, 17, 0, 10}, "mittel schluffiger Sand": {0, 8, 25, 40},
		"stark schluffiger Sand": {0, 8, 40, 50}, "schluffig-lehmiger Sand": {8, 17, 40, 50}, "stark lehmiger Sand": {12, 17, 10, 40},
		"mittel toniger Sand": {17, 25, 0, 15}, "schwach sandiger Lehm": {17, 25, 40, 50}, "mittel sandiger Lehm": {17, 25, 30, 40},
		"stark sandiger Lehm": {17, 25, 15, 30}, "schwach toniger Lehm": {25, 35, 30, 50}, "sandig-toniger Lehm": {25, 45, 15, 30},
		"stark sandiger Ton": {25, 35, 0, 15}, "mittel sandiger Ton": {35, 45, 0, 15}, "reiner Schluff": {0, 8, 80, 100},
		"sandiger Schluff": {0, 8, 50, 80}, "schwach toniger Schluff": {8, 12, 65, 92}, "mittel toniger Schluff": {12, 17, 65, 88},
		"sandig-lehmiger Schluff": {8, 17, 50, 65}, "stark toniger Schluff": {17, 25, 65, 83}, "schluffiger Lehm": {17, 30, 50, 65},
		"mittel toniger Lehm": {35, 45, 30, 50}, "mittel schluffiger Ton": {30, 45, 50, 65}, "stark schluffiger Ton": {25, 35, 65, 75},
		"schwach sandiger Ton": {45, 65, 0, 15}, "lehmiger Ton": {45, 65, 15, 30}, "schwach schluffiger Ton": {45, 65, 30, 55},
		"reiner Ton": {65, 100, 0, 35},
	} {
		i := slices.IndexFunc(germanFields, func(f field) bool { return f.class == name })
		require.GreaterOrEqual(t, i, 0, name)
		f := germanFields[i].outline()
		assert.Equal(t, r, [4]float64{f.low.clay, f.top.clay, f.low.silt, f.top.silt}, name)
	}
}

// TestAustralianSilt: a silty loam has at least 25 % silt (Agriculture Victoria,
// Practical Note: Soil Texture), as have the other silty classes.
func TestAustralianSilt(t *testing.T) {
	grid(200, func(f Fractions) {
		name, err := ClassOf(f, Australian)
		require.NoError(t, err)
		require.Equal(t, atLeast(f.Silt, 25), strings.HasPrefix(name, "silt") || name == "clay" && f.Silt >= 25, "%v: %s", f, name)
	})
}
