package report

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"mudline/imaging"
	"mudline/internal/jar"
	"mudline/internal/reading"
)

// A line drawn on the cut and reduced photo must lie where the frame has it: half
// way up a straight jar is the row half way between floor and water.
func TestDrawingKeepsItsPlace(t *testing.T) {
	s := jar.Scene{File: "a.jpg", Picture: image.NewRGBA(image.Rect(0, 0, 900, 1600)), Scale: 1,
		Frame: imaging.Frame{Floor: imaging.Point{X: 500, Y: 1300}, Water: imaging.Point{X: 500, Y: 500}, HalfWidthFloor: 200, HalfWidthWater: 200}}
	p, err := encodePicture(s, pictureHeight)
	assert.NoError(t, err)
	// The cut: 1.75 and 1.42 half widths beside the axis, 0.14 below the floor and
	// 1.3 water depths above it.
	assert.InDelta(t, 500-1.75*200, p.box.Min.X, 1)
	assert.InDelta(t, 500+1.42*200, p.box.Max.X, 1)
	assert.InDelta(t, 1300-1.3*800, p.box.Min.Y, 1)
	assert.InDelta(t, 1300+0.14*800, p.box.Max.Y, 1)

	photo := reading.Photo{File: "a.jpg", ElapsedS: 60, HeightsPercent: &reading.Heights{DepositTop: &reading.Height{Value: 50, SD: 1}}}
	d := newDrawing(p, s, photo, reading.Reading{Photos: []reading.Photo{photo}}, Options{})
	k := drawHeight / float64(p.box.Dy())
	want := (900 - float64(p.box.Min.Y)) * k
	for _, l := range d.named() {
		if l.Name == "top of the soil" {
			assert.InDelta(t, want, l.FromY, 0.5)
			assert.Equal(t, "50.0 ± 2.0 %", l.Value)
			assert.Contains(t, l.Path, fmt.Sprintf(",%s ", tenth(want)))
			assert.Contains(t, d.Alt, "top of the soil at 50.0 ± 2.0 %")
			return
		}
	}
	t.Fatal("the line is not there")
}

// Labels never lie on each other, however close the lines are.
func TestLabelsAreApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{picture: picture{W: 400, H: drawHeight}}
		for i := range rapid.IntRange(1, 6).Draw(t, "lines") {
			d.Lines = append(d.Lines, drawnLine{Name: fmt.Sprint(i), FromY: rapid.Float64Range(0, drawHeight).Draw(t, "y")})
		}
		d.spread()
		for i, a := range d.Lines {
			assert.True(t, a.Y >= 19 && a.Y <= drawHeight-29, "%v is off the photo", a.Y)
			for _, b := range d.Lines[:i] {
				assert.GreaterOrEqual(t, math.Abs(a.Y-b.Y), labelApart-2.0)
			}
		}
	})
}

// A file keeps its name, also where a sentence begins with it.
func TestNamesOfPhotosStayAsTheyAre(t *testing.T) {
	for text, want := range map[string]string{
		"a.jpg: the photo is dim":         "a.jpg: the photo is dim.",
		"my jar.jpg: the photo is dim":    "my jar.jpg: the photo is dim.",
		"a.jpg was taken at noon":         "a.jpg was taken at noon.",
		"the photos show: nothing at all": "The photos show: nothing at all.",
		"e. g. nothing":                   "E. g. nothing.",
	} {
		assert.Equal(t, want, alone(text))
	}
}
