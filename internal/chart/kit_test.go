package chart

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
	"mudline/texture"
)

// element is an element of an SVG with its text.
type element struct {
	name  string
	attrs map[string]string
	words string
}

func (e element) number(t require.TestingT, key string) float64 {
	v, err := strconv.ParseFloat(e.attrs[key], 64)
	require.NoError(t, err, "%s of %v", key, e)
	return v
}

// elements reads an SVG; the test fails where it is no well-formed XML.
func elements(t require.TestingT, svg []byte) []element {
	var out []element
	var open []int
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		tok, err := d.Token()
		if err == io.EOF {
			require.Empty(t, open)
			return out
		}
		require.NoError(t, err)
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attrs: map[string]string{}}
			for _, a := range tok.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			out = append(out, e)
			open = append(open, len(out)-1)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].words += string(tok)
			}
		}
	}
}

func texts(list []element, words string) []element {
	var out []element
	for _, e := range list {
		if e.name == "text" && e.words == words {
			out = append(out, e)
		}
	}
	return out
}

var numbers = regexp.MustCompile(`-?[0-9.]+(e[-+]?[0-9]+)?`)

// The most bytes of a chart of a sound reading, and of one whose soils lie anywhere: the
// outline of such a cloud has many corners (66,375 were met once).
const soundBytes, oddBytes = 60_000, 100_000

// checkSVG is what holds for every chart of a sound reading.
func checkSVG(t require.TestingT, d *Drawing) []element {
	require.Less(t, len(d.SVG()), soundBytes)
	return checkOdd(t, d)
}

// checkOdd is what holds for every chart, whatever the reading.
func checkOdd(t require.TestingT, d *Drawing) []element {
	svg := d.SVG()
	list := elements(t, svg)
	require.Less(t, len(svg), oddBytes)
	require.Equal(t, "svg", list[0].name)
	assert.Equal(t, "img", list[0].attrs["role"])
	assert.Equal(t, []float64{0, 0, math.Round(d.Width*100) / 100, math.Round(d.Height*100) / 100}, floats(t, list[0].attrs["viewBox"]))
	ids := map[string]string{}
	for _, e := range list {
		assert.NotContains(t, e.attrs, "style", "a content policy would block it")
		assert.Contains(t, []string{"svg", "title", "desc", "path", "g", "text"}, e.name)
		if id, ok := e.attrs["id"]; ok {
			assert.NotContains(t, ids, id)
			ids[id] = e.words
		}
		for k, v := range e.attrs {
			assert.NotContains(t, v, "NaN", k)
			assert.NotContains(t, v, "Inf", k)
		}
		switch e.name {
		case "text":
			assert.True(t, inside(e.number(t, "x"), d.Width) && inside(e.number(t, "y"), d.Height), "%v leaves %v x %v", e, d.Width, d.Height)
		case "path":
			v := floats(t, strings.ReplaceAll(e.attrs["d"], "h0", ""))
			require.NotEmpty(t, v)
			require.Zero(t, len(v)%2)
			for i := 0; i < len(v); i += 2 {
				require.True(t, inside(v[i], d.Width) && inside(v[i+1], d.Height), "%g, %g leaves %v x %v", v[i], v[i+1], d.Width, d.Height)
			}
		}
	}
	for _, id := range strings.Fields(list[0].attrs["aria-labelledby"]) {
		assert.NotEmpty(t, ids[id], "the text alternative %q", id)
	}
	for _, m := range d.marks {
		if m.text != nil && m.text.turn == 0 {
			left, right := m.text.reach()
			assert.True(t, left > 0 && right < d.Width, "%q from %g to %g of %g", m.text.words, left, right, d.Width)
		}
	}
	return list
}

func inside(v, size float64) bool { return v >= -0.011 && v <= size+0.011 }

func floats(t require.TestingT, s string) []float64 {
	var out []float64
	for _, n := range numbers.FindAllString(s, -1) {
		v, err := strconv.ParseFloat(n, 64)
		require.NoError(t, err, s)
		out = append(out, v)
	}
	return out
}

// loam is a reading with something for every chart.
func loam() reading.Reading {
	rnd := rand.New(rand.NewPCG(1, 2))
	r := reading.Reading{Jar: "Plot 12", System: "usda", WaterDepthMM: reading.Ptr(130),
		Fractions: &reading.Fractions{Sand: reading.Estimate{Percent: 40, Low: 34, High: 47},
			Silt: reading.Estimate{Percent: 38, Low: 29, High: 46}, Clay: reading.Estimate{Percent: 22, Low: 15, High: 30}},
		ByThickness: &reading.Shares{Sand: reading.Ptr(31), Silt: reading.Ptr(37), Clay: reading.Ptr(32)},
		Class:       &reading.Class{System: "usda", Name: "loam", Probability: 0.7},
		Colours:     &reading.Colours{Sand: "#e1d59f", Silt: "#ceb57a", Clay: "#c8ad71"},
		Hand: &reading.Hand{Clay: &reading.Range{Value: 25, Low: 18, High: 33}, Joint: &reading.Joint{Fractions: reading.Fractions{
			Sand: reading.Estimate{Percent: 39}, Silt: reading.Estimate{Percent: 37}, Clay: reading.Estimate{Percent: 24}}}},
	}
	for range 200 {
		sand, clay := 40+4*rnd.NormFloat64(), 22+4*rnd.NormFloat64()
		r.Soils = append(r.Soils, [3]float64{sand, 100 - sand - clay, clay})
	}
	for i, s := range []float64{60, 7200, 172800} {
		h := &reading.Heights{DepositTop: &reading.Height{Value: 13 + 10*float64(i), SD: 0.5}, SandTop: &reading.Height{Value: 11, SD: 0.4}}
		r.Photos = append(r.Photos, reading.Photo{ElapsedS: s, HeightsMM: h})
	}
	r.Photos[2].HeightsMM.SiltTop = &reading.Height{Value: 24, SD: 1.5}
	for i := range 20 {
		v := 8 + float64(i)
		r.Expected = append(r.Expected, reading.Expected{ElapsedS: 10 * math.Pow(1.7, float64(i)),
			DepositTop: reading.Range{Value: v, Low: v - 1, High: v + 1}, SandTop: reading.Range{Value: 8.5, Low: 8, High: 9}, SiltTop: reading.Range{Value: 18, Low: 15, High: 21}})
	}
	for i, um := range []float64{1.5, 5, 20, 60, 300} {
		v := 18 + 15*float64(i)
		r.SizeCurve = append(r.SizeCurve, reading.SizePoint{SizeUM: um, Finer: v, Low: v - 5, High: v + 5})
	}
	return r
}

// charts are all charts of a reading.
func charts(r reading.Reading, o Options) map[string]*Drawing {
	out := map[string]*Drawing{"settling": Settling(r, o), "sizes": SizeCurve(r, o), "shares": Shares(r, o), "intervals": Intervals(r, o)}
	var soils []Soil
	if s, ok := SoilOf(r); ok {
		soils = append(soils, s)
	}
	for _, system := range texture.Systems() {
		out["triangle "+system.String()] = Triangle(soils, system, o)
	}
	out["stacked"] = Stacked(soils, o)
	for i := range 12 {
		if len(soils) > 0 {
			s := soils[0]
			s.Label = strconv.Itoa(i)
			soils = append(soils, s)
		}
	}
	o.Intervals = true
	out["triangle of many"] = Triangle(soils, texture.USDA, o)
	return out
}

func TestEveryChart(t *testing.T) {
	for _, width := range []float64{0, 320, 640} {
		for name, d := range charts(loam(), Options{ID: "a", Width: width}) {
			t.Run(name, func(t *testing.T) {
				checkSVG(t, d)
				assert.False(t, d.Empty)
			})
		}
	}
}
