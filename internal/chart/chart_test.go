package chart

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"mudline/internal/look"
	"mudline/internal/raster"
	"mudline/internal/reading"
	"mudline/internal/words"
	"mudline/texture"
)

// The text alternatives state the numbers of the reading.
func TestAlternativesStateTheNumbers(t *testing.T) {
	all := charts(loam(), Options{})
	for name, want := range map[string][]string{
		"triangle usda": {"Plot 12", "sand 40 percent (34 to 47)", "silt 38 percent (29 to 46)", "clay 22 percent (15 to 30)", "loam", "clay by hand 18 to 33 percent", "clay 24 percent", "USDA"},
		"settling":      {"top of soil after 2 h: 23.0 ± 1.0 mm", "top of silt after 2 days: 24.0 ± 3.0 mm", "top of sand after 1 min: 11.0 ± 0.8 mm"},
		"shares":        {"By thickness: sand 31 percent, silt 37 percent, clay 32 percent", "sand 40 percent (34 to 47)"},
		"intervals":     {"sand 40 percent (34 to 47), silt 38 percent (29 to 46), clay 22 percent (15 to 30)"},
		"sizes":         {"20 µm: 48 percent (43 to 53)", "silt at 50 µm"},
	} {
		for _, w := range want {
			assert.Contains(t, all[name].Desc, w, name)
		}
	}
}

func TestIdsDifferByPrefix(t *testing.T) {
	a, b := Intervals(loam(), Options{ID: "a"}).SVG(), Intervals(loam(), Options{ID: "b"}).SVG()
	assert.Contains(t, string(a), `id="a-title"`)
	assert.NotContains(t, string(b), `"a-`)
}

func spanish(t *testing.T) *words.Language {
	l, err := words.Find("es")
	require.NoError(t, err)
	return l
}

func TestWordsAreTranslated(t *testing.T) {
	d := Triangle([]Soil{{Fractions: *loam().Fractions}}, texture.USDA, Options{Language: spanish(t)})
	list := elements(t, d.SVG())
	assert.Len(t, texts(list, "arcilla %"), 1)
	assert.NotEmpty(t, texts(list, "franco"))
	assert.Empty(t, texts(list, "clay %"))
}

// Most languages of Europe write a comma before decimals (ISO 80000-1, 7.3.2).
func TestDecimalsAreWrittenAsTheLanguageDoes(t *testing.T) {
	o := Options{Inches: true, Language: spanish(t)}
	d := Settling(loam(), o)
	assert.Contains(t, d.Desc, "2 h: 0,91 ± 0,04 pulgadas")
	assert.Len(t, texts(elements(t, d.SVG()), "0,5"), 1)
	assert.NotRegexp(t, `\d\.\d`, d.Desc+SizeCurve(loam(), o).Desc)
}

func TestInches(t *testing.T) {
	assert.Contains(t, Settling(loam(), Options{Inches: true}).Desc, "top of soil after 2 h: 0.91 ± 0.04 inches") // 23 mm
}

func TestWithoutDepthHeightsArePercent(t *testing.T) {
	r := loam()
	r.WaterDepthMM = nil
	r.Photos[0].HeightsMM, r.Photos[0].HeightsPercent = nil, &reading.Heights{DepositTop: &reading.Height{Value: 12, SD: 0.3}}
	assert.Contains(t, Settling(r, Options{}).Desc, "top of soil after 1 min: 12.0 ± 0.6 % of the water's depth")
}

// odd are names that break layouts and markup.
var odd = []string{"", "Plot 7", strings.Repeat("long name ", 20), strings.Repeat("W", 200), "<script>alert('x')</script>&\"", "شمال الحديقة", "\u202eturned", "🌱👩‍🌾 é́", "a\x00b\x1f\ufffe", "line\nbreak\ttab", "=1+1", "]]>"}

func oddReading(t *rapid.T) reading.Reading {
	name := func(label string) string { return rapid.SampledFrom(odd).Draw(t, label) }
	value := rapid.OneOf(rapid.Float64Range(0, 100), rapid.SampledFrom([]float64{0, 100, -5, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, 5e-324, 1e-9, 250}))
	v := func() float64 { return value.Draw(t, "v") }
	maybe := func() bool { return rapid.Bool().Draw(t, "maybe") }
	estimate := func(at float64) reading.Estimate { return reading.Estimate{Percent: at, Low: v(), High: v()} }
	span := func() reading.Range { return reading.Range{Value: v(), Low: v(), High: v()} }
	fractions := func() *reading.Fractions {
		a, b := v(), v()
		if a+b > 100 && maybe() {
			a, b = a/2, b/2
		}
		return &reading.Fractions{Sand: estimate(a), Silt: estimate(b), Clay: estimate(100 - a - b)}
	}
	height := func() *reading.Height {
		if maybe() {
			return nil
		}
		return &reading.Height{Value: v(), SD: v()}
	}
	heights := func() *reading.Heights {
		if maybe() {
			return nil
		}
		return &reading.Heights{DepositTop: height(), SandTop: height(), SiltTop: height()}
	}
	r := reading.Reading{Jar: name("jar"), Why: name("why"), System: rapid.SampledFrom([]string{"usda", "canadian", "international", "mars"}).Draw(t, "system")}
	if maybe() {
		r.WaterDepthMM = new(float64)
		*r.WaterDepthMM = v()
	}
	if maybe() {
		r.Fractions, r.Class = fractions(), &reading.Class{Name: name("class")}
		r.Hand = &reading.Hand{Joint: &reading.Joint{Fractions: *fractions()}}
		clay := span()
		r.Hand.Clay = &clay
		p := []*float64{nil, nil, nil, nil, nil}
		for i := range p {
			if maybe() {
				p[i] = new(float64)
				*p[i] = v()
			}
		}
		r.ByThickness = &reading.Shares{Sand: p[0], Silt: p[1], Clay: p[2], SandAndSilt: p[3], SiltAndClay: p[4]}
		r.Colours = &reading.Colours{Sand: name("colour"), Silt: "#ffffff", Clay: "#FFFFFF"}
	}
	times := rapid.OneOf(rapid.Float64Range(1, 1e6), value)
	for range rapid.IntRange(0, 4).Draw(t, "photos") {
		r.Photos = append(r.Photos, reading.Photo{File: name("file"), ElapsedS: times.Draw(t, "t"), HeightsMM: heights(), HeightsPercent: heights()})
	}
	for range rapid.IntRange(0, 4).Draw(t, "expected") {
		r.Expected = append(r.Expected, reading.Expected{ElapsedS: times.Draw(t, "t"), DepositTop: span(), SandTop: span(), SiltTop: span()})
	}
	for range rapid.IntRange(0, 5).Draw(t, "sizes") {
		r.SizeCurve = append(r.SizeCurve, reading.SizePoint{SizeUM: times.Draw(t, "um"), Finer: v(), Low: v(), High: v()})
	}
	if rapid.Bool().Draw(t, "grains") {
		r.GrainCurve = &reading.GrainCurve{FinestUM: times.Draw(t, "um"), CoarsestUM: times.Draw(t, "um")}
		for range rapid.IntRange(0, 5).Draw(t, "points") {
			r.GrainCurve.Points = append(r.GrainCurve.Points, reading.SizePoint{SizeUM: times.Draw(t, "um"), Finer: v(), Low: v(), High: v()})
		}
	}
	for range rapid.IntRange(0, 30).Draw(t, "soils") {
		a, b := v(), v()
		r.Soils = append(r.Soils, [3]float64{a, b, 100 - a - b})
	}
	return r
}

// Whatever the reading: well-formed, all within the drawing, nothing that is not
// a number, and words in place of what cannot be drawn.
func TestOddReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := oddReading(t)
		for name, d := range charts(r, Options{ID: "x", Width: rapid.SampledFrom([]float64{0, 320, 1200, math.NaN(), -4}).Draw(t, "width")}) {
			checkOdd(t, d)
			for _, bad := range []string{"NaN", "Inf"} {
				assert.NotContains(t, d.Desc, bad, name)
			}
		}
	})
}

func TestOddNamesInAPicture(t *testing.T) {
	for i, name := range odd {
		r := loam()
		r.Jar, r.Class.Name = name, name
		soil, _ := SoilOf(r)
		soil.Label = name
		d := Triangle([]Soil{soil, soil}, texture.USDA, Options{})
		checkSVG(t, d)
		assert.NotContains(t, string(d.SVG()), "<script", i)
		require.NoError(t, d.PNG(&bytes.Buffer{}, 0.5))
	}
}

func TestIntervalsThatMeanNothingAreLeftOut(t *testing.T) {
	r := loam()
	r.Fractions.Sand.Low, r.Fractions.Sand.High = -5, 250
	for _, d := range []*Drawing{Intervals(r, Options{}), Shares(r, Options{})} {
		assert.Contains(t, d.Desc, "sand 40 percent, silt")
		for _, e := range elements(t, d.SVG()) {
			assert.NotContains(t, e.words, "250")
			assert.NotContains(t, e.words, "-5")
		}
	}
}

func TestMarksThatAreNoNumbersAreLeftOut(t *testing.T) {
	d := newDrawing(Options{}, 10, "")
	n := len(d.marks)
	d.stroke(ink, 1, nil, segment(0, math.NaN(), 1, 1))
	d.area(ink, rectangle(0, 0, math.Inf(1), 1))
	d.write(text{at: Point{X: math.NaN()}, words: "a"}, ink)
	assert.Len(t, d.marks, n)
}

func TestEmptyReading(t *testing.T) {
	for name, d := range charts(reading.Reading{}, Options{}) {
		checkSVG(t, d)
		assert.True(t, d.Empty, name)
	}
}

func TestPNG(t *testing.T) {
	r := loam()
	r.Fractions.Sand.Percent, r.Fractions.Silt.Percent, r.Fractions.Clay.Percent = 100.0/3, 100.0/3, 100.0/3
	soil, _ := SoilOf(r)
	soil.HandClay, soil.Joint = nil, nil
	d := Triangle([]Soil{soil}, texture.USDA, Options{})
	var b bytes.Buffer
	require.NoError(t, d.PNG(&b, 2))
	pic, err := png.Decode(&b)
	require.NoError(t, err)
	assert.Equal(t, int(math.Round(2*d.Width)), pic.Bounds().Dx())
	assert.Equal(t, int(math.Round(2*d.Height)), pic.Bounds().Dy())
	at := func(x, y float64) string {
		red, green, blue, _ := pic.At(int(2*x), int(2*y)).RGBA()
		return fmt.Sprintf("#%02x%02x%02x", red>>8, green>>8, blue>>8)
	}
	// The symbol stands on the centroid: a ring of ink about a dot of the ground.
	side := d.Width - 2*marginX
	x, y := marginX+side/2, triangleTop+side*math.Sqrt(3)/2*2/3
	assert.Equal(t, look.ToneOf("card").Light, at(x, y))
	assert.Equal(t, look.ToneOf("ink").Light, at(x+4.2, y))
	assert.Equal(t, look.ToneOf("card").Light, at(2, 2))
	for _, scale := range []float64{0, -1, 11, math.NaN(), math.Inf(1)} {
		assert.ErrorContains(t, d.PNG(&b, scale), "the scale lies above 0 and up to 10")
	}
}

// The estimate of widths against the font of the PNG writer: never narrower, and
// not much wider.
func TestWidths(t *testing.T) {
	for _, words := range []string{"top of sand", "percent by weight; a bar holds the truth 9 times in 10", "WMwm", "iIl1|", "27 to 41"} {
		for _, c := range []struct{ got, want float64 }{
			{widthOf(words, 12), raster.Regular(12).Width(words)},
			{widthOf(words, 12*heavy), raster.Bold(12).Width(words)},
		} {
			assert.GreaterOrEqual(t, c.got, c.want, words)
			assert.LessOrEqual(t, c.got, 1.35*c.want, words)
		}
	}
}

func TestFit(t *testing.T) {
	assert.Equal(t, "short", fit("short", 10, 100))
	long := fit(strings.Repeat("word ", 40), 10, 100)
	assert.True(t, strings.HasSuffix(long, "…") && widthOf(long, 10) <= 100, long)
	farmer := "👩\u200d🌾"
	for width := 10.0; width < 90; width++ {
		rest := strings.ReplaceAll(fit(strings.Repeat(farmer, 4), 10, width), farmer, "")
		assert.Contains(t, []string{"", "…"}, rest, "a joined sign is cut as one")
		rest = strings.ReplaceAll(fit(strings.Repeat("e\u0301", 20), 10, width), "e\u0301", "")
		assert.Contains(t, []string{"", "…"}, rest, "an accent stays with its letter")
	}
	assert.Equal(t, "a b", clean(" a\n\x00b\u202e "))
}
