package look_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging/colour"
	"mudline/internal/look"
)

// WCAG 2.2: the ratio of black and white is 21 by its definition; #767676 is the
// lightest grey that reaches 4.5 on white, #777777 does not (WebAIM, from memory).
func TestContrastFormula(t *testing.T) {
	assert.InDelta(t, 21, look.Contrast("#000000", "#ffffff"), 1e-9)
	assert.InDelta(t, 1, look.Contrast("#123456", "#123456"), 1e-9)
	assert.InDelta(t, 4.54, look.Contrast("#767676", "#ffffff"), 0.005)
	assert.InDelta(t, 4.48, look.Contrast("#ffffff", "#777777"), 0.005)
	for _, bad := range []string{"", "red", "#12345", "#12345g", "#1234567", "#+12345"} {
		assert.Zero(t, look.Contrast(bad, "#ffffff"))
	}
}

func TestInkOnAnySoil(t *testing.T) {
	for v := 0; v < 1<<12; v++ {
		c := fmt.Sprintf("#%02x%02x%02x", v>>8*17, v>>4&15*17, v&15*17)
		assert.GreaterOrEqual(t, look.Contrast(c, look.InkOn(c)), 4.5, c)
	}
}

// grounds are a tone's colours on light and dark screens and on paper.
var grounds = map[string]func(look.Tone) string{
	"light": func(t look.Tone) string { return t.Light },
	"dark":  func(t look.Tone) string { return t.Dark },
	"print": func(t look.Tone) string { return t.Print },
}

// Success criteria 1.4.3 (text, 4.5) and 1.4.11 (what can be touched, and graphics, 3).
// The faint line is left out: all that it parts stands apart without it.
func TestContrastOfTones(t *testing.T) {
	text := map[string][]string{
		"ink":  {"paper", "card", "sunk", "water-tint", "warn-tint", "bad-tint", "good-tint"},
		"soft": {"paper", "card", "sunk"}, "water": {"paper", "card", "water-tint"}, "water-deep": {"water-tint"}, "on-water": {"water", "water-deep"},
		"warn": {"card", "warn-tint"}, "bad": {"card", "bad-tint"}, "good": {"card", "good-tint"},
	}
	graphic := map[string][]string{"edge": {"paper", "card"}, "focus": {"paper", "card"}, "cloud": {"card"}, "hand": {"card"}}
	for name, of := range grounds {
		for least, pairs := range map[float64]map[string][]string{4.5: text, 3: graphic} {
			for front, backs := range pairs {
				for _, back := range backs {
					assert.GreaterOrEqual(t, look.Contrast(of(look.ToneOf(front)), of(look.ToneOf(back))), least, "%s on %s, %s", front, back, name)
				}
			}
		}
	}
}

// A line stands out on any ground: it from its seam, and it or its seam from the ground.
func TestLinesStandOut(t *testing.T) {
	for _, l := range look.Lines() {
		assert.GreaterOrEqual(t, look.Contrast(l.Colour, look.Seam), 4.5, "%s in its seam, as a name on it", l.Name)
		for v := range 256 {
			ground := fmt.Sprintf("#%02[1]x%02[1]x%02[1]x", v)
			assert.GreaterOrEqual(t, max(look.Contrast(l.Colour, ground), look.Contrast(look.Seam, ground)), 2.1, "%s on %s", l.Name, ground)
		}
		for name, of := range grounds {
			for _, ground := range []string{"paper", "card", "sunk"} {
				assert.GreaterOrEqual(t, max(look.Contrast(l.Colour, of(look.ToneOf(ground))), look.Contrast(look.Seam, of(look.ToneOf(ground)))), 3.0, "%s on %s, %s", l.Name, ground, name)
			}
		}
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
func lab(t *testing.T, hex string, m matrix) [3]float64 {
	c, ok := look.RGBA(hex)
	require.True(t, ok, hex)
	in := [3]float64{colour.LightOf(c.R), colour.LightOf(c.G), colour.LightOf(c.B)}
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

func far(a, b [3]float64) float64 {
	return math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
}

// Red is yellow's lightness and no more to a protan eye, and blue and green are near
// to a tritan one: the matrices do what they are for.
func TestDeficienciesMixWhatTheyShould(t *testing.T) {
	for eye, m := range deficiencies {
		for _, row := range m {
			assert.InDelta(t, 1, row[0]+row[1]+row[2], 2e-6, "%s: grey stays grey", eye)
		}
	}
	mixes := func(eye, a, b string) {
		seen, blind := far(lab(t, a, deficiencies["none"]), lab(t, b, deficiencies["none"])), far(lab(t, a, deficiencies[eye]), lab(t, b, deficiencies[eye]))
		assert.Less(t, blind, seen/2, "%s: %s and %s", eye, a, b)
	}
	mixes("protan", "#c03030", "#606010")
	mixes("deutan", "#c04040", "#808020")
	mixes("tritan", "#2080c0", "#208090")
}

// Any two lines, and any two parts, stay apart for every eye: by 30 and 40 units of
// CIELAB, of which some 2 are just seen. A protan or deutan eye has one hue less, and six
// lines leave no more room. In grey the parts fall in steps of 15 of lightness or more,
// and lines differ by their dashes.
func TestLinesAndPartsStayApart(t *testing.T) {
	lines := look.Lines()
	lines = lines[:len(lines)-1] // the glass runs across the others
	parts := look.Parts()
	dashes := map[string]string{}
	for eye, m := range deficiencies {
		for i, a := range lines {
			for _, b := range lines[:i] {
				assert.GreaterOrEqual(t, far(lab(t, a.Colour, m), lab(t, b.Colour, m)), 30.0, "%s and %s, %s", a.Name, b.Name, eye)
			}
		}
		for i, a := range parts {
			for _, b := range parts[:i] {
				assert.GreaterOrEqual(t, far(lab(t, a.Colour, m), lab(t, b.Colour, m)), 40.0, "%s and %s, %s", a.Name, b.Name, eye)
				assert.NotEqual(t, a.Pattern, b.Pattern)
				assert.Greater(t, lab(t, b.Colour, deficiencies["none"])[0]-lab(t, a.Colour, deficiencies["none"])[0], 15.0, "%s is lighter than %s", b.Name, a.Name)
			}
		}
	}
	for _, l := range look.Lines() {
		key := fmt.Sprint(l.Dash)
		assert.Empty(t, dashes[key], "%s has dashes of its own", l.Name)
		dashes[key] = string(l.Name)
		assert.Zero(t, len(l.Dash)%2, l.Name)
	}
}

// The sheet says all of the table, for light, dark and paper, and only that.
func TestCSSHoldsTheTable(t *testing.T) {
	css := look.CSS()
	for _, tone := range look.Tones() {
		for _, c := range []string{tone.Light, tone.Dark, tone.Print} {
			assert.Contains(t, css, fmt.Sprintf("--%s:%s;", tone.Name, c))
		}
	}
	for _, l := range look.Lines() {
		assert.Regexp(t, `\.mark-line\.`+string(l.Name)+`[^{]*\{stroke:`+l.Colour, css)
		assert.Contains(t, css, ".sample."+string(l.Name)+"{")
	}
	for _, p := range look.Parts() {
		assert.Contains(t, css, ".part."+p.Name+"{background:url(")
		assert.Contains(t, css, p.Colour)
	}
	assert.Equal(t, strings.Count(css, "{"), strings.Count(css, "}"))
	assert.NotContains(t, css, "</style")
	assert.Less(t, len(css), 6000)
}
