package chart

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/internal/reading"
)

// filmed is a reading of n moments, a deposit that grows in red under green water.
func filmed(n int) (reading.Reading, []Front) {
	depth := 100.0
	r := reading.Reading{WaterDepthMM: &depth}
	var fronts []Front
	for i, t := 0, 30.0; i < n; i, t = i+1, t*2 {
		top := 10 + 2*float64(i)
		pic := image.NewRGBA(image.Rect(0, 0, 96, 120)) // 1.1 down to -0.1: a row to 1 % of the depth
		for k := range 96 * 120 {
			c := color.RGBA{30, 160, 30, 255}
			if float64(k/96) >= 110-top {
				c = color.RGBA{200, 30, 30, 255}
			}
			pic.SetRGBA(k%96, k/96, c)
		}
		fronts = append(fronts, Front{ElapsedS: t, Picture: pic, Top: 1.1, Bottom: -0.1})
		h := reading.Heights{DepositTop: &reading.Height{Value: top, SD: 0.3}, HazeTop: &reading.Height{Value: 90 - 5*float64(i), SD: 1}}
		r.Photos = append(r.Photos, reading.Photo{ElapsedS: t, HeightsMM: &h, HeightsPercent: &h})
	}
	return r, fronts
}

// TestFilmStandsWhereItsAxesSay: the edge between water and deposit in every strip is
// at the row and column that the axes give, in the SVG's picture and in the PNG.
func TestFilmStandsWhereItsAxesSay(t *testing.T) {
	r, fronts := filmed(10)
	d := Film(r, fronts, Options{Width: 560})
	require.False(t, d.Empty)
	assert.NotRegexp(t, `>[^<]*chart\.`, string(d.SVG()), "a key stands in place of its words")
	svg := elements(t, d.SVG())
	var box element
	for _, e := range svg {
		if e.name == "image" {
			box = e
		}
	}
	data, err := base64.StdEncoding.DecodeString(strings.TrimPrefix(box.attrs["href"], "data:image/jpeg;base64,"))
	require.NoError(t, err)
	pic, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	x, y, w, h := box.number(t, "x"), box.number(t, "y"), box.number(t, "width"), box.number(t, "height")
	level := func(words string) float64 { return texts(svg, words)[0].number(t, "y") - smallSize*0.36 }
	perMM := (level("0") - level("80")) / 80
	var out bytes.Buffer
	require.NoError(t, d.PNG(&out, 2))
	drawn, err := png.Decode(&out)
	require.NoError(t, err)
	for i, f := range fronts {
		at := x + w*(0.5+float64(i))/10
		_ = f
		edge := level("0") - perMM*(10+2*float64(i))
		red := func(p image.Image, px, py float64) bool {
			c := color.RGBAModel.Convert(p.At(int(px), int(py))).(color.RGBA)
			return c.R > 150 && c.G < 100
		}
		kx, ky := float64(pic.Bounds().Dx())/w, float64(pic.Bounds().Dy())/h
		col := (at - x) * kx
		assert.True(t, red(pic, col, (edge+5-y)*ky), "moment %d below its top", i)
		assert.False(t, red(pic, col, (edge-5-y)*ky), "moment %d above its top", i)
		assert.True(t, red(drawn, 2*at, 2*(edge+6)), "moment %d drawn", i)
	}
	for _, name := range []string{"top of soil", "clearing water"} {
		assert.Len(t, texts(svg, name), 1, name)
	}
}

// TestFilmOfTooFew: there is no picture of two moments, and of fronts that cannot be.
func TestFilmOfTooFew(t *testing.T) {
	r, fronts := filmed(5)
	assert.True(t, Film(r, fronts[:2], Options{}).Empty)
	for i := range fronts {
		fronts[i].Picture = nil
	}
	assert.True(t, Film(r, fronts, Options{}).Empty)
}
