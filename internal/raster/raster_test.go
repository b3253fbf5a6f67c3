package raster_test

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"mudline/internal/raster"
)

// covered is the inked area of a picture in pixels.
func covered(pic *image.RGBA) float64 {
	sum := 0.0
	for i := 3; i < len(pic.Pix); i += 4 {
		sum += float64(pic.Pix[i]) / 255
	}
	return sum
}

func canvas() raster.Canvas { return raster.Canvas{Pic: image.NewRGBA(image.Rect(0, 0, 100, 100))} }

// Areas by plane geometry.
func TestAreas(t *testing.T) {
	c := canvas()
	c.Box(10.5, 10, 30, 20.25, color.Black)
	assert.InDelta(t, 19.5*10.25, covered(c.Pic), 0.5)

	for _, b := range []struct{ x0, y0, x1, y1 float64 }{{10.2, 10.3, 10.7, 10.8}, {10.5, 10.5, 11.5, 40}, {20, 20, 30, 30}, {9.9, 5.5, 40.1, 7.75}} {
		c = canvas()
		c.Box(b.x0, b.y0, b.x1, b.y1, color.NRGBA{A: 102})
		assert.InDelta(t, 0.4*(b.x1-b.x0)*(b.y1-b.y0), covered(c.Pic), 0.3, "%v, seen through", b)
	}
	c = canvas()
	c.Box(-5, -100, 5.5, 3, color.Black)
	assert.InDelta(t, 5.5*3, covered(c.Pic), 0.5, "beyond the picture")

	c = canvas()
	c.Stroke([]raster.Point{{X: 20, Y: 50}, {X: 80, Y: 50}}, 6, color.Black)
	assert.InDelta(t, 60*6+math.Pi*9, covered(c.Pic), 2.5, "round ends, drawn with nine sides")

	c = canvas()
	var over raster.Area
	over.Add(raster.Point{X: 10, Y: 10}, raster.Point{X: 30, Y: 10}, raster.Point{X: 30, Y: 30}, raster.Point{X: 10, Y: 30})
	over.Add(raster.Point{X: 20, Y: 30}, raster.Point{X: 40, Y: 30}, raster.Point{X: 40, Y: 10}, raster.Point{X: 20, Y: 10})
	c.Fill(over, color.Black)
	assert.InDelta(t, 30*20, covered(c.Pic), 0.5, "where outlines overlap they do not cancel")
}

func TestWhatIsNoNumberDrawsNothing(t *testing.T) {
	c := canvas()
	c.Box(math.NaN(), 0, 10, 10, color.Black)
	c.Box(0, 0, math.Inf(1), 10, color.Black)
	c.Fill(raster.Area{}, color.Black)
	assert.Zero(t, covered(c.Pic))
}

func TestDashes(t *testing.T) {
	total := 0.0
	got := raster.Dashes([]raster.Point{{}, {X: 7}, {X: 20}}, 5, 3)
	for _, piece := range got {
		for i := 1; i < len(piece); i++ {
			total += piece[i].X - piece[i-1].X
		}
	}
	// 0-5, 8-13, 16-20.
	assert.Len(t, got, 3)
	assert.InDelta(t, 14, total, 1e-9)
	// Two lengths in turn: 0-4, 5-7, 8-12, 13-15, 16-20.
	got = raster.Dashes([]raster.Point{{}, {X: 20}}, 4, 1, 2, 1)
	assert.Len(t, got, 5)
	assert.InDelta(t, 5, got[1][0].X, 1e-9)
	assert.InDelta(t, 7, got[1][1].X, 1e-9)
	assert.Len(t, raster.Dashes([]raster.Point{{}, {X: 20}}), 1, "no pattern, no gaps")
}

// The outlines of letters against the font library's own drawing of them: the
// same ink, holes left open.
func TestOutlineIsTheText(t *testing.T) {
	for _, l := range []raster.Letters{raster.Regular(30), raster.Bold(30)} {
		a, b := canvas(), canvas()
		l.Write(a.Pic, "80g", 10, 50, color.Black)
		outline := l.Outline("80g")
		for _, path := range outline.Outlines {
			for i := range path {
				path[i].X += 10
				path[i].Y += 50
			}
		}
		b.Fill(outline, color.Black)
		assert.InEpsilon(t, covered(a.Pic), covered(b.Pic), 0.02)
		worst := 0.0
		for i := 3; i < len(a.Pic.Pix); i += 4 {
			worst = math.Max(worst, math.Abs(float64(a.Pic.Pix[i])-float64(b.Pic.Pix[i])))
		}
		assert.Less(t, worst, 60.0)
	}
}

func TestSpread(t *testing.T) {
	assert.Equal(t, []float64{10, 50, 90}, raster.Spread([]float64{10, 50, 90}, 20, 0, 100), "what is apart stays")
	assert.InDeltaSlice(t, []float64{60, 40}, raster.Spread([]float64{51, 49}, 20, 0, 100), 0.02, "in their order, half the way each")
	assert.InDeltaSlice(t, []float64{100, 80, 60}, raster.Spread([]float64{99, 98, 97}, 20, 0, 100), 0.1, "within the ends")
	assert.InDeltaSlice(t, []float64{40, 60}, raster.Spread([]float64{50, 50}, 20, 0, 100), 0.02)
	assert.Empty(t, raster.Spread(nil, 20, 0, 100))
}
