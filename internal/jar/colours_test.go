package jar

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"mudline/imaging"
	"mudline/internal/reading"
	"mudline/layers"
)

// painted is a jar whose colours are known: bands from the floor, up to shares
// of the water depth, in a picture whose depth is 400 rows.
func painted(bands map[float64]color.RGBA, order ...float64) *shot {
	pic := image.NewRGBA(image.Rect(0, 0, 300, 500))
	for y := range 500 {
		h := (450 - float64(y)) / 400
		c := color.RGBA{250, 250, 250, 255}
		for i := len(order) - 1; i >= 0; i-- {
			if h < order[i] {
				c = bands[order[i]]
			}
		}
		for x := range 300 {
			pic.SetRGBA(x, y, c)
		}
	}
	pic.SetRGBA(150, 440, color.RGBA{255, 0, 0, 255}) // one stone counts for nothing
	s := &shot{}
	s.photo = &imaging.Photo{Picture: pic, Scale: 1}
	s.frame = imaging.Frame{Floor: imaging.Point{X: 150, Y: 450}, Water: imaging.Point{X: 150, Y: 50}, HalfWidthFloor: 80, HalfWidthWater: 80}
	return s
}

func TestColoursAreThoseOfTheLayers(t *testing.T) {
	sand, silt, clay, water := color.RGBA{200, 180, 140, 255}, color.RGBA{150, 120, 90, 255}, color.RGBA{110, 80, 60, 255}, color.RGBA{220, 215, 205, 255}
	bands := map[float64]color.RGBA{0.1: sand, 0.2: silt, 0.3: clay, 1: water}
	s := painted(bands, 0.1, 0.2, 0.3, 1)
	line := func(mm float64) *layers.Boundary { return &layers.Boundary{HeightMM: mm} }
	s.layers = layers.Reading{DepositTop: line(30), SandTop: line(10), SiltTop: line(20)}
	want := &reading.Colours{Sand: "#c8b48c", Silt: "#96785a", Clay: "#6e503c", Water: "#dcd7cd"}
	assert.Equal(t, want, coloursOf(s, 100))

	s.layers.SandTop, s.layers.SiltTop = nil, nil
	got := coloursOf(s, 100)
	require.NotNil(t, got)
	assert.Equal(t, want.Sand, got.Sand, "the bottom of a soil whose layers are not told apart")
	assert.Equal(t, want.Clay, got.Clay, "and its top")

	s.layers.DepositTop = nil
	assert.Nil(t, coloursOf(s, 100))
}

func TestColoursOutsideThePhotoAreLeftOut(t *testing.T) {
	s := painted(map[float64]color.RGBA{1: {1, 2, 3, 255}}, 1)
	s.frame.Floor.Y, s.frame.Water.Y = 1450, 1050
	s.layers = layers.Reading{DepositTop: &layers.Boundary{HeightMM: 30}}
	assert.Equal(t, &reading.Colours{}, coloursOf(s, 100))
}
