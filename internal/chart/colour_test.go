package chart

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/reading"
)

func hexOf(r, g, b uint8) string { return fmt.Sprintf("#%02x%02x%02x", r, g, b) }

// grounds are the colours of each role on light and dark screens and on paper.
var grounds = map[string]func(role) string{
	"light": func(r role) string { return palette[r].light },
	"dark":  func(r role) string { return palette[r].dark },
	"print": func(r role) string { return palette[r].print },
}

// WCAG 2.2: the ratio of black and white is 21 by its definition; #767676 is the
// lightest grey that reaches 4.5 on white, #777777 does not (WebAIM, from memory).
func TestContrastFormula(t *testing.T) {
	assert.InDelta(t, 21, Contrast("#000000", "#ffffff"), 1e-9)
	assert.InDelta(t, 1, Contrast("#123456", "#123456"), 1e-9)
	assert.InDelta(t, 4.54, Contrast("#767676", "#ffffff"), 0.005)
	assert.InDelta(t, 4.48, Contrast("#ffffff", "#777777"), 0.005)
	for _, bad := range []string{"", "red", "#12345", "#12345g", "#1234567", "#+12345"} {
		assert.Zero(t, Contrast(bad, "#ffffff"))
	}
}

// Success criteria 1.4.3 (text, 4.5) and 1.4.11 (graphics, 3). The faint grid is
// left out: every value that it guides to is also written.
func TestContrastOfThePalette(t *testing.T) {
	for name, of := range grounds {
		for _, r := range []role{roleInk, roleSoft, roleQuiet} {
			assert.GreaterOrEqual(t, Contrast(of(r), of(roleCard)), 4.5, "%v on %s", r, name)
		}
		for _, r := range []role{roleEdge, roleCloud, roleHand, roleSandTop, roleSiltTop, roleTop} {
			assert.GreaterOrEqual(t, Contrast(of(r), of(roleCard)), 3.0, "%v on %s", r, name)
		}
	}
}

func TestInkOnAnySoil(t *testing.T) {
	for v := 0; v < 1<<12; v++ {
		c := hexOf(uint8(v>>8)*17, uint8(v>>4&15)*17, uint8(v&15)*17)
		assert.GreaterOrEqual(t, Contrast(c, InkOn(c)), 4.5, c)
	}
}

type matrix [3][3]float64

// deficiencies simulate full colour blindness in linear sRGB (G. M. Machado,
// M. M. Oliveira, L. A. F. Fernandes, IEEE Transactions on Visualization and
// Computer Graphics 15, 2009, 1291-1298, severity 1.0; the figures from memory,
// that grey stays grey is checked).
var deficiencies = map[string]matrix{
	"none":   {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protan": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritan": {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// lab is CIELAB (CIE 15) of a colour as seen with a deficiency.
func lab(hex string, m matrix) [3]float64 {
	c, _ := parseHex(hex)
	in := [3]float64{linear(c.R), linear(c.G), linear(c.B)}
	var rgb [3]float64
	for i := range rgb {
		for j := range in {
			rgb[i] += m[i][j] * in[j]
		}
		rgb[i] = math.Min(math.Max(rgb[i], 0), 1)
	}
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	x := f((0.4124*rgb[0] + 0.3576*rgb[1] + 0.1805*rgb[2]) / 0.9505)
	y := f(0.2126*rgb[0] + 0.7152*rgb[1] + 0.0722*rgb[2])
	z := f((0.0193*rgb[0] + 0.1192*rgb[1] + 0.9505*rgb[2]) / 1.089)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// Colours that stand together stay apart for every eye: 20 units of CIELAB, some
// ten just noticeable steps. Dashes and symbols differ besides.
func TestColourBlind(t *testing.T) {
	for eye, m := range deficiencies {
		for _, row := range m {
			assert.InDelta(t, 1, row[0]+row[1]+row[2], 2e-6, "%s: grey stays grey", eye)
		}
		for ground, of := range grounds {
			for _, pair := range [][2]role{{roleSandTop, roleSiltTop}, {roleSandTop, roleTop}, {roleSiltTop, roleTop}, {roleCloud, roleHand}} {
				a, b := lab(of(pair[0]), m), lab(of(pair[1]), m)
				far := math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
				assert.GreaterOrEqual(t, far, 20.0, "%v and %v, %s, %s", pair[0], pair[1], eye, ground)
			}
		}
	}
}

// Every class that the drawings use has its rules, and every role its variables.
func TestCSSCoversTheClasses(t *testing.T) {
	css := CSS()
	for _, d := range charts(loam(), Options{}) {
		for _, e := range elements(t, d.SVG()) {
			for _, class := range strings.Fields(e.attrs["class"]) {
				assert.Contains(t, css, "."+class+"{")
			}
		}
	}
	for r := roleCard; r < roles; r++ {
		for _, colour := range []string{palette[r].light, palette[r].dark, palette[r].print} {
			assert.Contains(t, css, fmt.Sprintf("--chart-%v:%s;", r, colour))
		}
	}
	assert.NotContains(t, css, "<")
}

func TestSoilColours(t *testing.T) {
	sand, silt, clay := Soils(&reading.Colours{Sand: "#e1d59f", Silt: "url(x)"})
	assert.Equal(t, []string{"#e1d59f", "#978068", "#7c3826"}, []string{sand, silt, clay})
}

// Layers of one colour are still told apart: a pattern each, and a line between.
func TestLayersOfOneColourDiffer(t *testing.T) {
	r := loam()
	r.Colours = &reading.Colours{Sand: "#808080", Silt: "#808080", Clay: "#808080"}
	seen := map[pattern]bool{}
	parts, ok := partsOf(r, Options{})
	assert.True(t, ok)
	for _, p := range parts {
		seen[p.pattern] = true
	}
	assert.Len(t, seen, 3)
	kinds := map[string]int{}
	for _, m := range Shares(r, Options{}).marks {
		switch {
		case m.dot > 0:
			kinds["dots"]++
		case m.line.own == InkOn("#808080") && len(m.paths) > 0:
			kinds[fmt.Sprintf("lines as long as the column: %v", m.paths[0][1].X-m.paths[0][0].X > 20)]++
		}
	}
	assert.Len(t, kinds, 3, "%v", kinds)
}
